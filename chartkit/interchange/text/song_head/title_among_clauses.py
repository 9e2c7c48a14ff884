"""A title that stands on one line with what is said and with settings ("the slow one. MILL POND.
its in G lads"): the title, the settings and the rest as lines of their own.

Only a clause in quotes or in capitals among others is surely the title; one that is spelled as a
title is it where it comes first and a setting stands behind it.  Source: common practice, no
source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import without_small_talk
from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_labels import TITLE_LABEL, title_label, writer_of
from chartkit.interchange.text.head_words.head_phrases import head_phrases
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.head_words.said_titles import name_behind, said_writer
from chartkit.interchange.text.head_words.titles import (
    OF_A_MAIL,
    QUOTES,
    could_be_title,
    is_spelled_as_title,
)
from chartkit.interchange.text.kinds.line_kinds import KnownLine, Note, Words
from chartkit.interchange.text.vocabulary.directions import is_greeting
from chartkit.interchange.text.vocabulary.facts import names_a_fact
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.wording import setting_text

_LONGEST = 160
_SENTENCE_ENDS = re.compile(r"(?<=[^\W\d_]{2}[.!?])\s+|(?<=[!?]{2})\s+|(?<=^[A-H]\.)\s+(?=\d)")
_PAUSE = re.compile(
    r"(?<=[^\W\d_]{2}[.!?])\s+|(?<=[!?]{2})\s+|(?<=\s[A-H]\.)\s+(?=\d)|,\s+|\s+[-–—]{1,3}\s+|"
    r"\s*[()]\s*|;\s+|\s+/\s+"
)
"""Where a clause of a head ends."""
_FAR_APART = re.compile(r"\s{2,}(?!\()|\||\t")
_QUOTED = re.compile(r"[\"“„«]\s*[^\"“”„«»]{2,60}?\s*[\"”“»]")
_FEWEST_CLAUSES, _SHORTEST_IN_CAPITALS = 2, 5
_BY = re.compile(
    r"(?<!\w)(?:by|von|par|por|de|di|door|av|af|przez)\s+(?-i:[^\W\d_a-z][^\W\d_]+\s+[^\W\d_a-z])",
    re.IGNORECASE,
)
"""What leads to the name of who wrote a song."""
_SHOUT = re.compile(r"[!?.]*!{2,}$|\.$")


class _Parted(NamedTuple):
    """What a line holds: some lines of a head, and what is said besides."""

    lines: tuple[str, ...]
    said: tuple[str, ...]


def with_title_apart(sheet: Sheet, known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines of a head, the first one that is said parted where its title stands among clauses,
    of which those that say something else become notes; and writers parted from the settings in
    the next sentence."""
    at = next((i for i, one in enumerate(known) if _may_hold_title(one)), -1)
    texts = [one.line.text.strip() for one in known]
    others = [text for i, text in enumerate(texts) if i != at and text]
    labelled = any(TITLE_LABEL.match(text) or title_label(text) for text in texts)
    result: list[KnownLine] = []
    for i, one in enumerate(known):
        parted = None
        if i == at and not labelled:
            alone = not any(could_be_title(text) for text in others if not OF_A_MAIL.match(text))
            parted = _parted(texts[at], alone)
        if parted is None:
            lines = _writer_apart(texts[i])
        else:
            lines = parted.lines
            sheet.notes += map(setting_text, without_small_talk(sheet, parted.said, one.line))
        result += [_as_line(one, text) for text in lines] if lines else [one]
    return result


def _as_line(one: KnownLine, text: str) -> KnownLine:
    return KnownLine(replace(one.line, text=text, columns=None), Words())


def _may_hold_title(one: KnownLine) -> bool:
    """Whether a line is the first of a head that is neither of the mail nor a greeting."""
    text = one.line.text.strip()
    if not text or OF_A_MAIL.match(text) or not isinstance(one.kind, Words | Note):
        return False
    return not (text.endswith(",") or (is_greeting(text) and not _PAUSE.search(text)))


def _parted(text: str, alone: bool) -> _Parted | None:
    """The title, the settings and what else is said, by a line that has a title among its clauses;
    None for any other line.  ``alone`` says that no other line could be the title."""
    if len(text) > _LONGEST or _FAR_APART.search(text) is not None:
        return None  # what gaps and strokes part is read where settings stand wide apart
    clauses = [one.strip(" .,") for one in _PAUSE.split(text) if one and one.strip(" .,!")]
    if len(clauses) < _FEWEST_CLAUSES:
        return None
    quoted = [i for i, one in enumerate(clauses) if _QUOTED.fullmatch(one)]
    at = quoted[0] if quoted else -1
    sentence = _says_who_wrote_it(text)
    if at < 0 and not sentence and (within := _quoted_within(clauses)):
        at, clauses = within
    if at < 0:
        at = next((i for i, one in enumerate(clauses) if _is_in_capitals(one, clauses)), -1)
    if at < 0 and alone and _SENTENCE_ENDS.search(text) and _is_title_before(clauses):
        at = 0
    if at < 0:
        return None
    others = [*clauses[:at], *clauses[at + 1 :]]
    head = head_facts(", ".join(others))
    settings = [one for one in others if one not in head.rest or _gives_a_setting(one)]
    if not head.facts and not any(map(_gives_a_setting, settings)):
        return None
    title = _SHOUT.sub("", clauses[at]).strip(QUOTES)
    bare = [_without_words_behind(one) for one in settings]
    said = [one for one in others if one not in settings]
    writers = [one for one in said if writer_of(one)]
    said = [one for one in said if one not in writers] + [words for _, words in bare if words]
    lines = (f"Title: {title}", ", ".join(one for one, _ in bare), *writers)
    return _Parted(lines, tuple(said))


def _says_who_wrote_it(text: str) -> bool:
    """Whether a sentence names the song in quotes and who wrote it, which is read as a whole."""
    quoted = _QUOTED.search(text)
    return quoted is not None and bool(said_writer(text) or name_behind(text[quoted.end() :]))


def _without_words_behind(clause: str) -> tuple[str, str]:
    """A clause that gives a setting, and the words behind that say something else."""
    found = head_phrases(clause)
    words = found.rest[-1] if found.facts and found.rest else ""
    if not words or not clause.endswith(words) or words == clause:
        return clause, ""
    return clause[: -len(words)].rstrip(), words


def _quoted_within(clauses: Sequence[str]) -> tuple[int, list[str]] | None:
    """The place of the only title in quotes that stands within a clause, and the clauses with that
    one parted; None where there is none."""
    found = [(i, one) for i, text in enumerate(clauses) for one in _QUOTED.finditer(text)]
    if len(found) != 1 or not is_spelled_as_title(found[0][1][0].strip(QUOTES)):
        return None
    (at, match), text = found[0], clauses[found[0][0]]
    before, behind = text[: match.start()].strip(), text[match.end() :].strip()
    parts = [one for one in (before, match[0], behind) if one]
    return at + bool(before), [*clauses[:at], *parts, *clauses[at + 1 :]]


def _is_in_capitals(clause: str, clauses: Sequence[str]) -> bool:
    """Whether a clause stands in capitals among others that do not."""
    bare = _SHOUT.sub("", clause)
    letters = sum(map(str.isalpha, bare))
    if not bare.isupper() or letters < _SHORTEST_IN_CAPITALS or not _has_small_words(clauses):
        return False
    named = is_known_name(bare) or _gives_a_setting(bare)
    return could_be_title(bare) and not named and len({*bare.split()}) == len(bare.split())


def _has_small_words(clauses: Sequence[str]) -> bool:
    return any(word.islower() for one in clauses for word in one.split())


def _is_title_before(clauses: Sequence[str]) -> bool:
    """Whether the first of some clauses is spelled as a title and the next gives a setting."""
    first = _SHOUT.sub("", clauses[0])
    spelled = is_spelled_as_title(first) or first.isupper()
    plain = spelled and could_be_title(first) and not _gives_a_setting(first)
    return plain and _gives_a_setting(clauses[1])


def _gives_a_setting(clause: str) -> bool:
    found = head_phrases(clause).facts or facts_in_prose(clause) or head_facts(clause).facts
    return bool(found) or names_a_fact(clause)


def _writer_apart(text: str) -> tuple[str, ...]:
    """Who wrote a song and the settings in the next sentence, as two lines; nothing for any other
    line."""
    if len(text) > _LONGEST or not (writer_of(text) or _BY.search(text)):
        return ()
    end = _SENTENCE_ENDS.search(text)
    head = head_phrases(text[end.end() :]) if end is not None else None
    if end is None or head is None or head.rest or not head.facts:
        return ()
    return text[: end.start()].rstrip("."), text[end.end() :]
