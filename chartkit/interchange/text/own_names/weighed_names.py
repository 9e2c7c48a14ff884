"""Names of sections that no reader knew, found by weighing all evidence: the lines are read once
more with these names written in our own way, in which a section may have any name.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from string import ascii_uppercase

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.head_words.head_labels import names_a_writer_by_letters
from chartkit.interchange.text.head_words.titles import could_be_title
from chartkit.interchange.text.kinds.line_kinds import (
    Chords,
    KnownLine,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Settings,
    Shapes,
    Tablature,
    Words,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.name_shapes import KNOWN, NameShape
from chartkit.interchange.text.own_names.name_evidence import NameEvidence, is_of_form
from chartkit.interchange.text.own_names.parted_names import row_and_more
from chartkit.interchange.text.own_names.singers_within import (
    is_singer_alone,
    labels_within,
    says_who_sings,
)
from chartkit.interchange.text.rewriting.degree_rows import degree_row
from chartkit.interchange.text.rewriting.endings import with_numbered_endings
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import names_player
from chartkit.interchange.text.vocabulary.farewells import is_label_of_notes
from chartkit.interchange.text.vocabulary.order_words import which_time
from chartkit.interchange.text.vocabulary.section_names import SUNG_OR_SAID
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.sung_words import is_said_aloud
from chartkit.interchange.text.vocabulary.times_played import (
    count_among,
    may_have_count,
    times_of,
)
from chartkit.interchange.wording import one_line

_MOST_LINES = 2_000
_LIKELY = 0.0
"""At these odds (their logarithm) a line is a name that no reader knew (ours)."""
_LIKELY_BESIDES = 2.0
"""The same for what could as well be a chord, or words without a sign between them (ours)."""
_LONGEST_REMARK = 40
"""What is said of a section behind its name; more stands on a line of its own."""
_OUR_SIGN, _FEWEST_RULED = "==", 2
"""Where this many lines begin with our own sign for a section, names have it: what stands in
parentheses is said to the players, as our own text writes cues."""
_DOUBTED = -1.5
"""At these odds, about one in five, a line that is not taken for a name is reported (ours)."""
_SURELY_SUNG = -1.0
"""At these odds the words of a line are those of a song (ours)."""
_SURELY_SAID = 1.0
"""At these odds they are said to the players (ours)."""
_FEWEST_TOPS, _MOST_WORDS_OF_A_NAME = 3, 2
"""Of more lines that stand apart than these one more may be a name of so many words (ours)."""
_FEWEST_SINGERS = 2
"""So many singers named alone on lines of a sheet are no sections (ours)."""
_BRACKETS = "()[]{}<>\"'"
_IN_WORDS = re.compile(r"\([^()]*[^\W\d_]{3}[^()]*\)")
"""A remark in parentheses."""
_A_LETTERED_PART = re.compile(r"[A-H][1-4]")
"""What could be a chord and is a part by its letter and number ("A2")."""
_LABEL_BELOW = re.compile(r"[^\W\d_][^\W_ ]{0,11}\s?\d?:\s+\S")
_WIDE_GAP = re.compile(r"(?<=\S) {3,}(?=\S)")
_GOES_ON = frozenset(
    ["on", "at", "with", "the", "in", "if", "as", "when", "after", "before", "for", "to"]
)
"""Words behind another with which a sentence goes on."""
_NO_NAMES = (SectionStart, Roadmap, Settings, Tablature, Shapes)
"""What is no name, or one already."""


class WeighedNames:
    """Which lines the evidence takes for names: ``found`` those that are likely names, each at its
    place, ``doubted`` the places of those that could as well be."""

    def __init__(
        self, lines: Sequence[Line], known: Sequence[KnownLine], is_chords: IsChords
    ) -> None:
        """``known`` is what the readers made of the lines."""
        self.lines, self.is_chords = lines, is_chords
        self.found: dict[int, NameShape] = {}
        self.doubted: list[int] = []
        self._rows = {one.line.number for one in known if isinstance(one.kind, Chords)}
        filled = [bool(line.text.strip()) for line in lines]
        if len(lines) > _MOST_LINES or not any(map(all, pairwise(filled))):
            return  # an empty line below each line sets nothing apart
        self._rows = {line.number for line in lines if _is_numbers(line, self._rows)}
        evidence = NameEvidence([line.text for line in lines], is_chords)
        settled = _settled(known) | _endings(lines) | self._rows | labels_within(lines, evidence)
        ruled = sum(line.text.startswith(_OUR_SIGN) for line in lines) >= _FEWEST_RULED
        singers = {one.name.casefold() for one in evidence.shapes if one and is_singer_alone(one)}
        for at, shape in enumerate(evidence.shapes):
            if shape is None or lines[at].number in settled or is_of_form(lines[at].text):
                continue
            text = lines[at].text.strip()
            if is_label_of_notes(text) or names_a_writer_by_letters(text) or self._is_title(at):
                continue
            if len(singers) >= _FEWEST_SINGERS and shape.name.casefold() in singers:
                continue
            if _is_row(evidence, at, is_chords) or _is_words(evidence, at, is_chords):
                continue
            aloud = is_said_aloud(lines[at].text) and at > 0 and filled[at - 1]
            if shape.around == "()" and (
                ruled or aloud or (at and lines[at - 1].number in settled)
            ):
                continue  # said of the section whose name stands above
            odds = evidence.odds(at)
            if odds >= _DOUBTED and (self._is_sung(at, shape) or self._is_said(at, shape)):
                continue
            if odds >= _bound(shape, evidence.rows[at]):
                self.found[at] = shape
            elif odds >= _DOUBTED and not self._is_sentence(shape):
                self.doubted.append(at)
        self._without_lone_chords()
        self._take_the_only_other(evidence, known)

    def _take_the_only_other(self, evidence: NameEvidence, known: Sequence[KnownLine]) -> None:
        """Takes a doubted line of a word or two over chords as a name where every other line that
        stands apart in the song starts a section ("B-sec" among "V1", "Cho." and "V2")."""
        starts = {one.line.number for one in known if isinstance(one.kind, SectionStart)}
        others = [at for at in sorted(evidence.tops) if self.lines[at].number not in starts]
        at = others[0] if others else -1
        shape = evidence.shapes[at] if at in self.doubted else None
        if shape is None or len(evidence.tops) <= _FEWEST_TOPS or shape.rest:
            return
        if not all(self.lines[i].text.strip().startswith(shape.name) for i in others):
            return
        below = at + 1 < len(self.lines) and evidence.rows[at + 1]
        if below and len(shape.name.split()) <= _MOST_WORDS_OF_A_NAME:
            self.found[at] = shape
            self.doubted.remove(at)

    def _is_title(self, at: int) -> bool:
        """Whether a line is the only one above the song that could be its title: a label or a
        setting stands right below it, no chords and no words ("GLASSHOUSE" over "I: C G Am")."""
        below = self.lines[at + 1].text.strip() if at + 1 < len(self.lines) else ""
        begun = any(line.number in self._rows for line in self.lines[: at + 1])
        label = _LABEL_BELOW.match(below) is not None
        if begun or not label or not could_be_title(self.lines[at].text.strip()):
            return False
        return not any(could_be_title(line.text.strip()) for line in self.lines[:at])

    def _is_sung(self, at: int, shape: NameShape) -> bool:
        """Whether words that are hardly said to anybody follow on a name, beside other words ("End
        of the road and home again")."""
        text = self.lines[at].text
        beside = self.lines[at - 1].text.strip() if at else ""
        plain = shape.likeness not in KNOWN and not (shape.rest or shape.is_numbered)
        if plain and _begin_alike(beside, text.strip()):
            return True  # "Moon over me", "Moon over you"
        if shape.sign != "word" or not shape.rest:
            return False
        return bool(beside) and sounds_said(text) <= _SURELY_SUNG

    def _is_said(self, at: int, shape: NameShape) -> bool:
        """Whether what stands behind a name and a colon is said to the players, nothing stands
        under it, and no other line names it ("DIALOGUE: music out"); or a sentence of more words
        goes on from a word that is also a name."""
        rest = shape.rest.strip()
        if shape.sign == "word" and shape.name.casefold() in SUNG_OR_SAID:
            below = self.lines[at + 1].text.strip() if at + 1 < len(self.lines) else ""
            goes_on = rest.split(" ")[0].casefold() in _GOES_ON and not may_have_count(rest)
            return goes_on and not below  # "Button on the last note"
        if shape.sign != ":" or not rest or shape.likeness in KNOWN or times_of(rest):
            return False
        within = at > 0 and bool(self.lines[at - 1].text.strip())
        if within and names_player(shape.name) and not any(map(self.is_chords, rest.split())):
            return True  # "Drums: nothing before the second one" between words
        alone = at + 1 >= len(self.lines) or not self.lines[at + 1].text.strip()
        words = rest.split()
        if not alone or any(map(self.is_chords, words)) or sounds_said(rest) < _SURELY_SAID:
            return False
        name = shape.name.casefold()
        return sum(name in line.text.casefold() for line in self.lines) == 1

    def _is_sentence(self, shape: NameShape) -> bool:
        """Whether more words follow on a letter or half a name ("I could read your mind")."""
        begins = shape.sign == "word" and shape.likeness not in KNOWN
        return begins and " " in shape.rest and not self.is_chords(shape.rest)

    def _without_lone_chords(self) -> None:
        """Leaves letters and chords alone on their lines as chords, unless the letters go on as A,
        B, C do."""
        letters = sorted({one.name for one in self.found.values() if len(one.name) == 1})
        if len(letters) > 1 and letters == list(ascii_uppercase[: len(letters)]):
            return
        for at, shape in list(self.found.items()):
            text = self.lines[at].text.strip().strip(_BRACKETS)
            alone = not shape.rest and self.is_chords(text)
            if len(shape.name) == 1 and (alone or (shape.sign == "=" and "*" in text)):
                del self.found[at]  # "C* = softly" explains a star beside chords
            elif alone and _A_LETTERED_PART.fullmatch(shape.name) is None:
                del self.found[at]  # "G7" above words

    def written(self, findings: Findings) -> list[Line]:
        """The lines, those that are likely names in our own way, with a finding for each."""
        result: list[Line] = []
        for at, line in enumerate(self.lines):
            if (shape := self.found.get(at)) is None:
                result.append(line)
                continue
            result += _written(line, shape, self.is_chords)
            findings.guess(
                "section-by-place",
                f'"{shape.name}" is taken as the name of a section: it stands as such names do',
                line.place(),
            )
        return result

    def report_doubted(self, findings: Findings) -> None:
        """Reports the lines that could as well be names, where nothing else is reported of
        them."""
        reported = {one.line for one in findings.collected if one.certainty != "sure"}
        for line in (self.lines[at] for at in self.doubted):
            if line.number not in reported:
                findings.guess(
                    "perhaps-a-section",
                    f'"{one_line(line.text)}" could name a section, and is not taken for a name: '
                    "if it is one, type == before it in the chart",
                    line.place(),
                )


def _begin_alike(one: str, other: str) -> bool:
    """Whether two lines of several words begin with the same one, as lines of a song do."""
    first, second = one.casefold().split(), other.casefold().split()
    several = min(len(first), len(second)) > 1
    return several and first[0] == second[0] and first[0].isalpha()


def _is_words(evidence: NameEvidence, at: int, is_chords: IsChords) -> bool:
    """Whether a line is words under a row of chords, or says who sings in the block it is in."""
    return _is_under_chords(evidence, at) or says_who_sings(evidence, at, is_chords)


def _settled(known: Sequence[KnownLine]) -> set[int]:
    """The lines that are no names by what the readers made of them and of those around them."""
    settled = {one.line.number for one in known if isinstance(one.kind, _NO_NAMES)}
    return settled | _over_tablature(known) | _said_above(known)


def _is_numbers(line: Line, rows: Collection[int]) -> bool:
    """Whether a line that was read as a row of chords is one of numbers alone."""
    row = degree_row(line.text) if line.number in rows else None
    return row is not None and not line.text[: row.start].strip()


def _is_under_chords(evidence: NameEvidence, at: int) -> bool:
    """Whether a line stands right under a row of chords, as words do: any line where the row has no
    bars, else one with gaps, as words have that are set below their bars."""
    if not at or not evidence.rows[at - 1]:
        return False
    return "|" not in evidence.texts[at - 1] or len(_WIDE_GAP.findall(evidence.texts[at])) > 1


def _bound(shape: NameShape, row: bool) -> float:
    """The odds at which a line is a name; infinite where it says something of the last section."""
    if shape.sign == ":" and which_time(shape.name):
        return float("inf")
    besides = shape.sign == "word" or (row and not shape.rest)
    return _LIKELY_BESIDES if besides else _LIKELY


def _endings(lines: Sequence[Line]) -> set[int]:
    """The lines of bars for one time through ("last ending | A |")."""
    numbered = zip(lines, with_numbered_endings(lines), strict=True)
    return {line.number for line, ending in numbered if line is not ending}


def _over_tablature(known: Sequence[KnownLine]) -> set[int]:
    """The remarks right above tablature, which say what that is."""
    above = (one for one, below in pairwise(known) if isinstance(below.kind, Tablature))
    return {one.line.number for one in above if isinstance(one.kind, Remark)}


def _said_above(known: Sequence[KnownLine]) -> set[int]:
    """The lines that say something of the song above its first section and its first chords, and
    the one right over that section's name: as a name it would have nothing below it."""
    begun = (at for at, one in enumerate(known) if isinstance(one.kind, SectionStart | Chords))
    first = next(begun, len(known))
    said = {one.line.number for one in known[:first] if isinstance(one.kind, Note)}
    named = 0 < first < len(known) and isinstance(known[first].kind, SectionStart)
    if named and isinstance(known[first - 1].kind, Words):
        said.add(known[first - 1].line.number)
    return said


def _is_row(evidence: NameEvidence, at: int, is_chords: IsChords) -> bool:
    """Whether a line is a row of more than one chord, or one of several that have one each."""
    shape = evidence.shapes[at]
    if shape is None or not is_chords(shape.name):
        return False
    text = evidence.texts[at].strip()
    if shape.rest and len(shape.name) > 1 and " " not in text and is_chords(text):
        return True  # one chord with alterations in parentheses
    if shape.rest:
        rest = _IN_WORDS.sub("", shape.rest)
        return any(is_chords(one.strip(_BRACKETS)) for one in rest.split())
    around = range(max(0, at - 1), min(len(evidence.rows), at + 2))
    return any(evidence.rows[i] and " " not in evidence.texts[i] for i in around if i != at)


def _written(line: Line, shape: NameShape, is_chords: IsChords) -> Iterator[Line]:
    """A name in our own way, with what is said of it, and the chords behind it on a line each."""
    row, times, said = row_and_more(shape.rest, is_chords) if shape.rest else ("", 0, "")
    if not row and not times:
        times, said = _count_and_remark(shape.rest)
    counted = f" x{times}" if times > 1 else ""
    behind = bool(said) and len(said) <= _LONGEST_REMARK and not row
    heading = f"== {shape.name.rstrip(':')}{f' ({said})' if behind else ''}{counted}"
    yield replace(line, text=heading, columns=None)
    if said and not behind:
        yield replace(line, text=f"({said})", columns=None)
    if row:
        start = len(line.text) - len(line.text.lstrip()) + shape.start
        yield replace(line, text=" " * start + row, columns=None)


def _count_and_remark(text: str) -> tuple[int, str]:
    """How often a section is played by what stands behind its name, and what else is said."""
    bare = " ".join(_without_brackets(text))
    if times := times_of(bare):
        return times, ""
    return count_among(bare)


def _without_brackets(text: str) -> Iterable[str]:
    """The words of a remark without brackets around it and signs before it."""
    return text.replace("(", " ").replace(")", " ").strip("[]<>-–—=:,; ").split()
