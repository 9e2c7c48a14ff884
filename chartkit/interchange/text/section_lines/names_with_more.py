"""Lines that begin with a section's name and have more behind it: chords, words, a remark, or
what says which other section it is like."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property
from itertools import islice

from chartkit.chart.section_words import SUNG_KINDS
from chartkit.interchange.text.kinds.line_kinds import (
    Chords,
    ChordsWithin,
    KnownLine,
    LineKind,
    Remark,
    SectionStart,
    Silence,
    Tablature,
    Words,
)
from chartkit.interchange.text.kinds.sheet_lines import Row, SheetLines, is_music
from chartkit.interchange.text.kinds.unnamed_lines import aside_of, words_of
from chartkit.interchange.text.lines import Line, letters_of
from chartkit.interchange.text.names.headings import Heading
from chartkit.interchange.text.rows.inline_chords import chords_within
from chartkit.interchange.text.section_lines.form_lines import FormLines
from chartkit.interchange.text.section_lines.names_by_place import NamesByPlace
from chartkit.interchange.text.song_form.steps import KnownNames
from chartkit.interchange.text.tokens import WORDS_TOO
from chartkit.interchange.text.vocabulary.form_words import OVER_OR_LIKE, section_meant
from chartkit.interchange.text.vocabulary.reference_lines import is_tablature
from chartkit.interchange.text.vocabulary.references import says_whose, section_named_in
from chartkit.interchange.text.vocabulary.rests import is_counted_rest
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.singer_words import is_singer, is_unsung_name
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES

_CHORDS_AND_REMARK = re.compile(
    r"(?P<row>\s*[^\s,;()][^,;()]{0,40}?)(?:\s*[,;]\s*|\s+[-–—]\s+|\s*\()"
    r"(?P<said>[^\W\d_][^();:]{1,60}?)\)?[.!\s]*"
)
"""Chords, a sign, and what is said of them."""
_BARS_AND_REMARK = re.compile(
    rf"(?P<row>\s*\|.{{1,120}}\|(?:\s*[(\[]?{ANY_TIMES}[)\]]?)?)\s+(?P<said>[^\W\d_][^|]{{1,60}}?)\s*",
    re.IGNORECASE,
)
_FADES = frozenset({"outro", "end", "coda", "tag"})
_MOST_WORDS_BEHIND_CHORDS = 6
_HINT = re.compile(r"(?:\.{2,}|…|\betc\.?)\s*$", re.IGNORECASE)
_COUNT_WITHIN = re.compile(ANY_TIMES, re.IGNORECASE)
_MOST_WORDS_OF_A_REMARK, _MOST_WORDS_OF_A_NAME = 3, 2
_FEWEST_WITH_REMARKS = 2
MOST_WORDS_OVER_CHORDS = 8


_REMARK_AND_CHORD = re.compile(
    r"\s*(?P<said>[^\W\d][^()|]{2,50}?)\s*\((?P<row>[^()|]{1,30})\)[.!]?\s*"
)


class NamesWithMore:
    """Reads lines that begin with a heading; ``known`` are the lines before, ``names`` those of
    the sections so far."""

    def __init__(
        self,
        sheet: SheetLines,
        known: list[KnownLine],
        names: KnownNames,
        form: FormLines,
        places: NamesByPlace,
    ) -> None:
        self.sheet, self.known, self.names = sheet, known, names
        self.form, self.places = form, places

    def read(self, at: int, line: Line, heading: Heading) -> Iterator[KnownLine]:
        """The known lines of a line that begins with a heading and has more behind it."""
        assert heading.rest_at is not None
        start = len(line.text) - len(line.text.lstrip()) + heading.rest_at
        behind = line.text[start:].strip()
        rest = replace(line, text=" " * start + line.text[start:])
        row = self.sheet.tokens.row(rest)
        opened = SectionStart(heading.name, heading.times)
        over_letter = behind.split(" ")[0] in self.names.letters and self.form.steps(
            at, line, sure=True
        )
        if over_letter and over_letter[0].like:
            yield from self.form.played(at, line, over_letter)
        elif row is not None and is_music(row):
            yield KnownLine(line, replace(opened, with_chords=True))
            yield KnownLine(rest, Chords(row, behind_name=True))
        elif bars := self._bars_and_remark(rest) or self._chord_behind_remark(rest, heading.name):
            yield KnownLine(line, replace(opened, with_chords=True, remarks=(bars[1],)))
            yield KnownLine(rest, Chords(bars[0], behind_name=True))
        elif self._hints_at(heading.name, behind):
            yield KnownLine(line, replace(opened, guessed=True))
        elif remark := self._remark_behind(at, behind):
            yield KnownLine(line, replace(opened, remarks=(remark,), guessed=True))
        elif other := self._like_one_below(at, behind):
            yield KnownLine(line, replace(opened, like=other, guessed=True))
        elif self._has_chords_within(rest):
            yield KnownLine(line, opened)
            yield KnownLine(rest, self.kind_behind(rest))
        elif not is_tablature(behind) and (steps := self.form.steps(at, line)):
            yield from self.form.played(at, line, steps)
        elif other := self._refers_to(at, heading.name, behind):
            yield KnownLine(line, replace(opened, like=other, remarks=(behind,), guessed=True))
        elif ends := self._chords_and_remark(rest, heading.name):
            yield KnownLine(line, replace(opened, with_chords=True, remarks=(ends[1],)))
            yield KnownLine(rest, Chords(ends[0], behind_name=True))
        else:
            kind = Chords(row, True) if row is not None else self.kind_behind(rest)
            yield from self._with_rest(at, KnownLine(line, opened), KnownLine(rest, kind))

    def _with_rest(self, at: int, opened: KnownLine, rest: KnownLine) -> Iterator[KnownLine]:
        """A section's name and what stands behind it, which may be words under chords that stand
        above the name."""
        above = self.known[-1] if self.known else None
        if isinstance(rest.kind, Words) and above is not None and self._begins_under(at, above):
            self.known.insert(-1, opened)
        else:
            yield opened
        yield rest

    def _bars_and_remark(self, rest: Line) -> tuple[Row, str] | None:
        """The bars behind a name, and what is said behind the last bar line ("|: Am | D :| until
        she sings"); None for others."""
        match = _BARS_AND_REMARK.fullmatch(rest.text) if "|" in rest.text else None
        if match is None or self.sheet.is_chords(match["said"]):
            return None
        row = self.sheet.tokens.row(replace(rest, text=match["row"]))
        return (row, match["said"]) if row is not None and is_music(row) else None

    def _chords_and_remark(self, rest: Line, name: str) -> tuple[Row, str] | None:
        """The chords behind a name, and the few words that a sign sets apart from them ("End: A,
        laten klinken"); None for others.  A letter that could be a word is a chord only in an
        ending."""
        match = _CHORDS_AND_REMARK.fullmatch(rest.text)
        if match is None or len(match["said"].split()) > _MOST_WORDS_BEHIND_CHORDS:
            return None
        fades = section_key(name)[0] in _FADES
        if not fades and (match["row"].strip() in WORDS_TOO or match["said"][:1].isupper()):
            return None
        row = self.sheet.tokens.row(replace(rest, text=match["row"]))
        sure = self.sheet.is_chords(match["row"]) and not self.sheet.is_chords(match["said"])
        return (row, match["said"].strip()) if row is not None and sure else None

    def _chord_behind_remark(self, rest: Line, name: str) -> tuple[Row, str] | None:
        """The chords in parentheses behind what is said of an ending ("End: last chord ringing
        (G6)"), and that; None for any other section or text."""
        match = _REMARK_AND_CHORD.fullmatch(rest.text) if section_key(name)[0] in _FADES else None
        if match is None or self.sheet.is_chords(match["said"]):
            return None
        row = self.sheet.tokens.row(replace(rest, text=match["row"]))
        sure = row is not None and self.sheet.is_chords(match["row"])
        return (row, match["said"].strip()) if row is not None and sure else None

    def _refers_to(self, at: int, name: str, text: str) -> str:
        """The section above whose music one has by the words behind its name, where nothing stands
        under them; empty for others."""
        few = len(text.split()) <= MOST_WORDS_OVER_CHORDS and self.sheet.is_empty(at + 1)
        if not few or not (says_whose(text) or section_key(name)[0] not in SUNG_KINDS):
            return ""
        return section_named_in(text, self.places.names_above())

    def _like_one_below(self, at: int, text: str) -> str:
        """The section below whose music one has by the words behind its name; empty for others."""
        other = section_meant(text.strip(" ()."))
        if not self.sheet.names.is_full(other):
            return ""
        kind = section_key(other)[0]
        below = any(key[0] == kind and place > at for key, place in self.sheet.later.items())
        return other if below and kind not in self.names.kinds else ""

    def _has_chords_within(self, rest: Line) -> bool:
        """Whether a text is words to be sung with chords in parentheses among them."""
        words = words_of(rest, self.sheet.tokens)
        return isinstance(words, ChordsWithin) and len(words.tokens) > 1

    def _begins_under(self, at: int, above: KnownLine) -> bool:
        """Whether a line of a name and words stands under its row of chords, which has an empty
        line above it."""
        alone = self.sheet.is_empty(at - 2)
        return isinstance(above.kind, Chords) and not above.kind.behind_name and alone

    def kind_behind(self, rest: Line) -> LineKind:
        """What stands behind a name, if it is no row of chords."""
        text = rest.text.strip()
        if is_tablature(text):
            return Tablature()
        heading = self.sheet.names.heading_of(text)
        plain = heading is not None and heading.rest_at is None
        if heading is not None and plain and self.sheet.names.is_known(heading.name):
            return Remark(text)
        return (
            Silence()
            if is_counted_rest(text)
            else aside_of(text) or words_of(rest, self.sheet.tokens)
        )

    def _remark_behind(self, at: int, text: str) -> str:
        """What is said to the players behind a section's name and its colon; nothing where it
        may be words, chords or a step."""
        if is_tablature(text):
            return ""
        if text[:1] + text[-1:] in ("[]", "()"):
            return "" if chords_within(Line(0, f"so {text}"), self.sheet.tokens) else text[1:-1]
        over_row, empty = self.sheet.is_row(at + 1), self.sheet.is_empty(at + 1)
        steps = OVER_OR_LIKE.match(text) or _COUNT_WITHIN.search(text)
        most = _MOST_WORDS_OF_A_REMARK if steps else MOST_WORDS_OVER_CHORDS
        if self._names_singers(at, text):
            return text
        few = len(text.split()) <= most and (text[:1].islower() or text.isupper())
        said = over_row and not text.isupper()
        said = said or ((text.isupper() or not empty) and self._are_names_with_remarks(text))
        return text if few and said else ""

    def _are_names_with_remarks(self, like: str) -> bool:
        """Whether several names of the sheet have words behind a colon right over chords, where
        nothing is sung, in small letters or in capitals as the words that stand here: so these are
        said too."""
        alike = (one for one in self._over_rows if one.isupper() == like.isupper())
        return len([*islice(alike, _FEWEST_WITH_REMARKS)]) == _FEWEST_WITH_REMARKS

    @cached_property
    def _over_rows(self) -> list[str]:
        """What stands behind names and colons right over chords, in small letters or capitals."""
        over_rows = (
            self.sheet.lines[at].text.strip()[heading.rest_at :].strip()
            for at, heading in enumerate(self.sheet.headings)
            if heading is not None and heading.rest_at is not None
            if self.sheet.is_row(at + 1) and self.sheet.rows[at] is None
        )
        return [one for one in over_rows if one[:1].islower() or one.isupper()]

    def _names_singers(self, at: int, text: str) -> bool:
        """Whether a word or two behind a section's name say who sings the lines below."""
        words = text.split()
        if len(words) > _MOST_WORDS_OF_A_NAME or self.sheet.is_empty(at + 1):
            return False
        names = all(word.isalpha() and word.istitle() for word in words)
        return is_singer(text) or (names and is_unsung_name(text.casefold().split()))

    def _hints_at(self, name: str, text: str) -> bool:
        """Whether a text is the beginning of the words of an earlier section of that name."""
        letters = letters_of(_HINT.sub("", text))
        sung = self.sheet.first_words.get(section_key(name), "")
        return (
            bool(_HINT.search(text) or len(letters) > 5)
            and bool(letters)
            and (sung.startswith(letters) or sung == letters)
        )
