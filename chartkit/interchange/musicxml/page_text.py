"""Text on a score's pages outside its music: further verses, remarks, rights.

Many lead sheets print their later verses as a block of text under the music.  Such a block becomes
sections of words alone; what else the page says is reported.  Our own writer carries sections of
words alone in fields of their own, each with the number of sections of music before it.
"""

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple
from xml.etree.ElementTree import Element

from chartkit.chart.model import MOST_TIMES, BlankRow, Chart, Section, Segment, WordsRow
from chartkit.chart.systems import System, all_systems
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.musicxml.page_writers import names_people
from chartkit.interchange.musicxml.xml import text_of
from chartkit.interchange.wording import cue_text, one_line, section_name, sung_text

WORDS_FIELD = "words alone"
"""The name of the field that carries a section of words alone."""
_MOST_TEXTS = 40
_FEWEST_LINES = 3
_FEWEST_WORDS = 9
"""Lines and words of a block that is a verse and no remark; ours."""
_NUMBERED = re.compile(r"(?:verse\s*)?(\d{1,2})\s*[.):]\s*", re.IGNORECASE)
_RIGHTS = re.compile(r"©|\(c\)|copyright|rights\s+reserved|permission|www\.|http", re.IGNORECASE)
_ROW = re.compile(r"(\d{0,3}): (.*)")
_HEAD = re.compile(r"(\d{1,6}) (\d{1,4}) (.*)")
_PLACEHOLDERS = ("unknown", "title", "subtitle", "composer", "arranger", "lyricist", "untitled")
"""Texts that programs print for an empty field; letters alone."""
_KNOWN_TYPES = ("title", "page number")
_WHO = ("composer", "lyricist", "poet", "arranger")
_SHORTEST_NAME = 4
"""Letters of a name that is known again among other words ("Music by Ada Vale"); ours."""


class PlacedWords(NamedTuple):
    """A section of words alone that stands after so many sections of music."""

    after: int
    section: Section


def with_words_alone(
    music: Sequence[Section], placed: Sequence[PlacedWords]
) -> tuple[Section, ...]:
    """Sections of music with those of words alone where they belong."""
    every: list[Section] = []
    for number in range(len(music) + 1):
        every += music[max(0, number - 1) : number]
        every += [one.section for one in placed if min(one.after, len(music)) == number]
    return tuple(every)


# ---- fields of our own


def words_fields(chart: Chart) -> Iterator[str]:
    """The text of a field for each section of words alone, or of nothing: after how many sections
    of music it stands, how often it is sung, its name, then a line for each row."""
    after = 0
    for section, systems in zip(chart.sections, all_systems(chart), strict=True):
        if any(system.music is not None for system in systems):
            after += 1
        else:
            stanzas = (_stanza_lines(system) for system in systems if system.words)
            lines = [line for stanza in stanzas for line in ("", *stanza)]
            if lines or section.name:
                yield "\n".join((f"{after} {section.times} {section.name}", *lines[1:]))


def _stanza_lines(system: System) -> list[str]:
    return [f"{row.verse or ''}: {row.cells[0][0].text}" for row in system.words]


def carried_words(root: Element) -> list[PlacedWords]:
    """The sections of words alone that our own writer put into fields."""
    placed = []
    for field in root.iterfind("identification/miscellaneous/miscellaneous-field"):
        if field.get("name") == WORDS_FIELD:
            first, *lines = (field.text or "").split("\n")
            head = _HEAD.fullmatch(first)
            read = [_ROW.fullmatch(line) for line in lines]
            rows = [_words_row(row[2], row[1]) if row is not None else BlankRow() for row in read]
            if head is not None and (any(read) or not lines):
                times = max(1, min(MOST_TIMES, int(head[2])))
                section = Section(section_name(head[3]), tuple(rows), times)
                placed.append(PlacedWords(int(head[1]), section))
    return placed


def _words_row(text: str, verse: str = "") -> WordsRow:
    return WordsRow(((Segment(sung_text(text)),),), int(verse) if verse else None)


# ---- text on the pages of others


def words_on_the_page(
    root: Element, known: Sequence[str], people: Sequence[str], findings: Findings
) -> list[Section]:
    """The blocks of text that are verses, as sections; ``known`` is what the chart says already,
    ``people`` are those of its names that belong to people."""
    verses: list[Section] = []
    said = {*map(_letters, known), *_PLACEHOLDERS}
    for kind, text in _texts(root):
        plain = _letters(text)
        if kind in _KNOWN_TYPES or text.strip().isdecimal() or not plain:
            continue
        names = people if kind in _WHO or names_people(text) else ()
        if any(plain in one for one in said) or (names and _is_named(text, names)):
            continue
        said.add(plain)
        if _is_verse(text):
            verses += _stanzas(text)
            findings.guess(
                "words-on-the-page", f'the text "{_short(text)}" is kept as words without music'
            )
        else:
            findings.leave_out("text-on-the-page", f'the page says "{_short(text)}"')
    return verses


def _is_named(text: str, names: Sequence[str]) -> bool:
    """Whether each line of a text has one of the names that are known."""
    known = [one for one in map(_letters, names) if len(one) >= _SHORTEST_NAME]
    lines = filter(None, map(_letters, text.splitlines()))
    return all(any(one in line for one in known) for line in lines)


def _texts(root: Element) -> Iterator[tuple[str, str]]:
    """The kind and the text of each credit, and the notice of rights."""
    credits_and_rights = [*root.iterfind("credit"), *root.iterfind("identification/rights")]
    for element in credits_and_rights[:_MOST_TEXTS]:
        if element.tag == "rights":
            yield "rights", element.text or ""
        else:
            runs = [words.text or "" for words in element.iterfind("credit-words")]
            yield text_of(element, "credit-type").lower(), _joined(runs)


def _joined(runs: Sequence[str]) -> str:
    """Runs of one text: one that neither ends nor begins with a blank begins a line."""
    text = ""
    for run in runs:
        apart = bool(text) and not text[-1:].isspace() and not run[:1].isspace()
        text += "\n" * apart + run
    return text


def _letters(text: str) -> str:
    return "".join(letter for letter in text.lower() if letter.isalnum())


def _short(text: str) -> str:
    line = cue_text(text)
    return line if len(line) <= 60 else f"{line[:59].strip()}…"


def _is_verse(text: str) -> bool:
    """Whether a text is a verse: some lines, some words, and no notice of rights."""
    lines = [line for line in text.splitlines() if line.strip()]
    words = len(text.split())
    many = len(lines) >= _FEWEST_LINES or (bool(lines) and _NUMBERED.match(lines[0].strip()))
    return bool(many) and words >= _FEWEST_WORDS and _RIGHTS.search(text) is None


def _stanzas(text: str) -> Iterator[Section]:
    """A section for each stanza: they are parted by blank lines and by numbers."""
    lines: list[str] = []
    for line in (*map(one_line, text.splitlines()), ""):
        if lines and (not line or _NUMBERED.match(line)):
            yield _stanza(lines)
            lines = []
        if line:
            lines.append(line)


def _stanza(lines: list[str]) -> Section:
    number = _NUMBERED.match(lines[0])
    name = f"Verse {number[1]}" if number is not None else "Words"
    first = lines[0][number.end() :] if number is not None else lines[0]
    texts = [line for line in (first, *lines[1:]) if line]
    return Section(name, tuple(_words_row(line) for line in texts))
