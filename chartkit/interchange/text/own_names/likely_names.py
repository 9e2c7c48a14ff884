"""Names of sections that nobody else uses, by evidence: a line that stands as the sheet's other
headings stand, in the same signs and letters, is one too.

Each kind of evidence has a weight and a reason; the sum decides.  What is found is rewritten in
square brackets, in which a section may have any name.
"""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, letters_of
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.names.sheet_names import SheetNames
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import (
    count_words,
    is_direction,
    is_talk,
    is_term,
)
from chartkit.interchange.text.vocabulary.facts import facts_of, names_a_fact
from chartkit.interchange.text.vocabulary.farewells import is_label_of_notes
from chartkit.interchange.text.vocabulary.form_words import LONGEST_FORM
from chartkit.interchange.text.vocabulary.references import says_whose
from chartkit.interchange.text.vocabulary.section_names import is_known_name, may_name_a_section
from chartkit.interchange.text.vocabulary.times_played import (
    ANY_TIMES,
    ONCE_MORE,
    begins_with_plain_words,
    times_of,
)

_FORM = re.compile(
    r"(?P<before>[-–—=*#~_•>+(\[<{\"“ ]{0,8})"
    r"(?P<name>[^\W\d_][^\W\d_'’]+(?:['’]s(?=\s))?(?:[ -](?!x\s?\d)[^\W\d_]+){0,3}?(?:\s?\d{1,2})?)"
    rf"(?P<times>\s*[(\[]?(?:{ANY_TIMES})[)\]]?)?"
    r"(?P<after>[-–—=*#~_•<)\]>}\"”. ]{0,8}:?[*_]{0,3})"
    rf"(?P<later>\s*[(\[]?(?:{ANY_TIMES})[)\]]?)?"
    r"(?:\s*\((?P<said>[^()|]{2,80})\))?",
    re.IGNORECASE,
)
"""A line that could be a name of any kind: signs, the name, a count, and what is said of it."""
_WORD = re.compile(r"[^\W\d_]+")
_ASKED_FOR = re.compile(rf"\s+{ONCE_MORE}\Z", re.IGNORECASE)
"""Words behind a name that ask for its section again."""
_LONGEST = 100
_LONGEST_MORE = 40
"""What is said of a section behind its name; more stands on a line of its own."""
_APART = re.compile(r"[,;/+>|–—→()=&]|-+>?|\b(?:then|and|und|dann|et|puis|y|e|en|och|og)\b")
_COUNTED = re.compile(rf"(?<!\s)\s*+(?:{ANY_TIMES})\s*$|^\s*\d{{1,2}}\s?[x×]\s*", re.IGNORECASE)
_MOST_LINES = 2_000
_FEWEST = 2
"""So many lines make a habit."""
_LITTLE_DOUBT = 0.3
_LIKELY = 3.5
"""At this sum of weights a line is a name (ours; the known sheets with invented names decide)."""


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A line that could name a section: its name, and how it stands in the sheet."""

    at: int
    name: str
    signs: str
    """The signs around the name, without those that only rule a line longer."""
    letters: str
    """Capitals, a first capital ("title"), or small."""
    known: bool
    apart: bool
    """Whether nothing stands right above."""
    under_row: bool
    below: str
    """What stands right below: chords, words, or nothing."""
    more: str
    """The count and the remark behind the name."""

    @property
    def bare(self) -> str:
        """The name without its number, in small letters."""
        return self.name.rstrip("0123456789 ").casefold()


def with_likely_names(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings, names: SheetNames
) -> tuple[list[Line], SheetNames]:
    """The lines, those that name a section by all evidence in square brackets; and the names with
    those found so."""
    if len(lines) > _MOST_LINES:
        return list(lines), names
    return _Evidence(lines, is_chords, names).with_names(findings)


class _Evidence:
    """The habits of a sheet, and what they say of its lines."""

    def __init__(self, lines: Sequence[Line], is_chords: IsChords, names: SheetNames) -> None:
        self.lines, self.names = lines, names
        self.is_chords = is_chords
        self.texts = [line.text.strip() for line in lines]

    def with_names(self, findings: Findings) -> tuple[list[Line], SheetNames]:
        """The lines, with brackets around the names that the evidence finds, and all names."""
        found = {one.at: one for one in self.candidates if not one.known and self._is_name(one)}
        names = {one.bare for one in found.values()} | self.names.own
        for one in self.candidates:
            if not one.known and one.bare in names and self._stands_alone(one):
                found[one.at] = one
        result = list(self.lines)
        longer: list[tuple[int, Line]] = []
        for at, one in sorted(found.items()):
            line = self.lines[at]
            more = one.more if len(one.more) <= _LONGEST_MORE else ""
            result[at] = replace(line, text=f"[{one.name}]{more}", columns=None)
            if not more and one.more:
                longer.append((at, replace(line, text=one.more.strip(), columns=None)))
            findings.guess(
                "section-by-place",
                f'"{line.text.strip()}" is taken as the name of a section: it stands as the '
                "other names do",
                line.place(),
            )
        for at, said in reversed(longer):
            result.insert(at + 1, said)
        return result, self.names.with_own(one.name for one in found.values())

    def _row(self, at: int) -> bool:
        return 0 <= at < len(self.texts) and bool(self.texts[at]) and self._is_row[at]

    @cached_property
    def _is_row(self) -> list[bool]:
        return [bool(text) and self.is_chords(text) for text in self.texts]

    @cached_property
    def _set_off(self) -> bool:
        """Whether an empty line stands below the known names too, over what they name."""
        places = [
            at
            for at, text in enumerate(self.texts)
            if may_name_a_section(text) and (named := heading_of(text)) and named.rest_at is None
        ]
        under = [at for at in places if not self._empty(at + 1) or self._row(at + 2)]
        return len(under) >= _FEWEST and all(map(self._empty, (at + 1 for at in under)))

    def _empty(self, at: int) -> bool:
        return not 0 <= at < len(self.texts) or not self.texts[at]

    @cached_property
    def candidates(self) -> list[_Candidate]:
        """The lines that could name a section, those of known names among them."""
        matches = (
            (at, _FORM.fullmatch(text))
            for at, text in enumerate(self.texts)
            if text
            and len(text) <= _LONGEST
            and text[-1] not in ",;!?"
            and not begins_with_plain_words(text)
            and not is_label_of_notes(text)
        )
        found = [(at, match) for at, match in matches if match is not None]
        return [self._candidate(at, match) for at, match in found if not self._row(at)]

    def _candidate(self, at: int, match: re.Match[str]) -> _Candidate:
        name = match["name"].strip()
        heading = heading_of(name) if may_name_a_section(name) else None
        times = match["times"] or match["later"] or ""
        under = at + 1 + (self._set_off and self._empty(at + 1))
        below = "nothing" if self._empty(at + 1) else "words"
        below = "chords" if self._row(under) else below
        return _Candidate(
            at=at,
            name=name,
            signs=_habit(match["before"], match["after"]),
            letters=_letters(name),
            known=(heading is not None and heading.rest_at is None) or self.names.is_full(name),
            apart=self._empty(at - 1),
            under_row=self._row(at - 1),
            below=below,
            more=_more(times, match["said"] or ""),
        )

    @cached_property
    def known(self) -> list[_Candidate]:
        """The headings of known names."""
        return [one for one in self.candidates if one.known]

    @cached_property
    def begun(self) -> int:
        """The line at which the song begins: its first known name or row of chords."""
        rows = (at for at, row in enumerate(self._is_row) if row)
        return min((*(one.at for one in self.known), next(rows, len(self.lines))), default=0)

    @cached_property
    def signs(self) -> Counter[str]:
        """How many known names stand in which signs."""
        return Counter(one.signs for one in self.known)

    @cached_property
    def with_chords(self) -> Counter[str]:
        """How many lines stand over chords, by their names without numbers."""
        return Counter(one.bare for one in self.candidates if one.below == "chords")

    @cached_property
    def numbers(self) -> dict[str, set[str]]:
        """The numbers behind each name that stands apart."""
        numbers: dict[str, set[str]] = {}
        for one in self.candidates:
            if one.apart and one.name[-1].isdecimal() and not one.under_row:
                numbers.setdefault(one.bare, set()).add(one.name)
        return numbers

    @cached_property
    def listed(self) -> frozenset[str]:
        """What stands among known names in lines of form ("V1 - Lift - V2", "Form: V Lift C")."""
        texts = (text for text in self.texts if text and len(text) <= LONGEST_FORM)
        return frozenset(name for text in texts for name in _listed_in(text))

    @cached_property
    def again(self) -> Counter[str]:
        """How many lines apart are a name alone with nothing below."""
        alone = (one for one in self.candidates if one.apart and one.below == "nothing")
        return Counter(_ASKED_FOR.sub("", one.bare) for one in alone)

    @cached_property
    def spoken_of(self) -> frozenset[str]:
        """The words of short lines alone that say whose music is played, but for the first."""
        alone = (
            text
            for at, text in enumerate(self.texts)
            if 0 < len(text) <= _LONGEST and self._empty(at - 1) and self._empty(at + 1)
        )
        whose = (text for text in alone if says_whose(text))
        return frozenset(word.casefold() for text in whose for word in _WORD.findall(text)[1:])

    def _share(self, fits: Sequence[bool]) -> float:
        return sum(fits) / len(fits) if len(fits) >= _FEWEST else 0.0

    def _is_name(self, one: _Candidate) -> bool:
        """Whether the evidence for a name outweighs what is against it."""
        total = sum(self._for(one)) - sum(self._against(one))
        return total >= _LIKELY

    def _for(self, one: _Candidate) -> list[float]:
        """The weights of what says that a line is a name."""
        known = self.known
        return [
            # the sheet puts such signs around its names, and around nothing that is sung
            2.5 * bool(one.signs and self.signs[one.signs] >= _FEWEST),
            # all its names are in capitals, as this is
            2.0
            * (
                one.letters == "capitals"
                and self._share([k.letters == one.letters for k in known]) > 0.9
            ),
            # it counts on ("Lantern 1", "Lantern 2"), which words alone on a line never do
            3.0 * (len(self.numbers.get(one.bare, ())) >= _FEWEST),
            # it stands over chords here and alone elsewhere, as a section that comes again
            3.0 * bool(self.with_chords[one.bare] and self.again[one.bare]),
            # a line of form names it beside the others
            3.0 * (one.bare in self.listed),
            # a line alone speaks of it and of more ("Washboard over Hoolie")
            2.5 * (one.below == "chords" and one.bare in self.spoken_of),
            # its place is that of the other names: apart, or over the same kind of line
            1.0 * (one.apart and self._share([k.apart for k in known]) > 0.9),
            1.0 * (one.below == "chords"),
            0.5 * any(k.below == one.below and k.signs == one.signs for k in known),
            # every row of the sheet is bars under a line apart, so that the lines name them
            4.0 * self._over_bars_alone(one),
            # it is the first word that is sung below it, in capitals
            4.0 * (one in self.first_words),
            # names are short
            0.5 * (one.name.count(" ") < 2),
            1.0 * one.signs.endswith(":"),
        ]

    def _against(self, one: _Candidate) -> list[float]:
        """The weights of what says that a line is no name."""
        known = self.known
        letters = {k.letters for k in known}
        said = is_direction(one.name) or is_term(one.name) or is_talk(one.name)
        doubt = _LITTLE_DOUBT if self._over_bars_alone(one) else 1.0
        facts = bool(facts_of(self.texts[one.at])) or names_a_fact(self.texts[one.at])
        return [
            # it stands where words are sung
            4.0 * one.under_row,
            # words of the trade tell the players something
            4.0 * said * doubt,
            2.0 * (count_words(one.name).strong > 0) * doubt,
            5.0 * facts,
            # the title and the writer stand above the song
            4.0 * (one.at < self.begun and not (one.at and len(self.first_words) >= _FEWEST)),
            # the other names have an empty line above
            2.0 * (not one.apart and self._share([k.apart for k in known]) > 0.9),
            # the other names have signs
            1.5 * bool(known and not self.signs[one.signs]),
            # the other names have other letters
            2.0 * bool(known and one.letters not in letters),
            # the name of a section is seldom a whole line of words
            1.0 * (one.name.count(" ") > 1),
            # a section of nothing
            1.5
            * (
                one.below == "nothing"
                and not self.with_chords[one.bare]
                and one not in self.first_words
            ),
        ]

    def _over_bars_alone(self, one: _Candidate) -> bool:
        """Whether a line that could be a name stands apart over bars in a sheet of bars alone."""
        plain = one.apart and one.below == "chords" and one.letters != "small"
        return plain and self.only_bars and one.name.count(" ") < _FEWEST

    @cached_property
    def only_bars(self) -> bool:
        """Whether all rows are bars, with nothing sung under them and a line apart over each
        block."""
        rows = [at for at, row in enumerate(self._is_row) if row]
        barred = len(rows) > 1 and all("|" in self.texts[at] for at in rows)
        sung = any(
            not self._empty(at + 1)
            and not self._row(at + 1)
            and not self.texts[at + 1][0].islower()  # "castanets from the third time"
            for at in rows
        )
        tops = [at for at in rows if not self._row(at - 1)]
        return barred and not sung and not any(self._empty(at - 1) for at in tops)

    @cached_property
    def first_words(self) -> list[_Candidate]:
        """The lines apart in capitals that are the first words sung below them."""
        capitals = (one for one in self.candidates if one.apart and one.letters == "capitals")
        return [one for one in capitals if not one.known and self._begins_words(one)]

    def _begins_words(self, one: _Candidate) -> bool:
        """Whether the words under the row of chords below a line begin with its own."""
        row = one.at + 2 if self._empty(one.at + 1) else one.at + 1
        if not self._row(row) or self._empty(row + 1):
            return False
        return letters_of(self.texts[row + 1]).startswith(letters_of(one.name))

    def _stands_alone(self, one: _Candidate) -> bool:
        """Whether a name that was found stands on a line apart, or alone under another."""
        return not one.under_row and (one.apart or one.below != "words") and one.at >= self.begun


def _listed_in(text: str) -> Iterator[str]:
    """The names in small letters, without numbers and counts, that a line of form lists and that
    nobody else uses; none in any other line."""
    start = label_end(text)
    pieces = _APART.split(text[start:])
    if not start and len(pieces) <= _FEWEST:
        return
    parts = [_COUNTED.sub("", piece.strip()).strip(" .") for piece in pieces]
    parts = [part for part in parts if part]
    own = [part for part in parts if not _is_usual(part)]
    if not start and (len(parts) - len(own) < _FEWEST or len(own) > len(parts) // 2):
        return
    for part in own:
        yield part.rstrip("0123456789 ").casefold()
        yield from (word.casefold() for word in part.split() if start and not _is_usual(word))


def _is_usual(text: str) -> bool:
    """Whether a text is the name of a section that musicians use, in full or cut short."""
    heading = heading_of(text)
    alone = heading is not None and heading.rest_at is None
    return alone or is_known_name(text) or len(text.rstrip("0123456789 ")) < _FEWEST


def _more(count: str, said: str) -> str:
    """A count and a remark as they stand behind a name in brackets."""
    first, *behind = said.split(",")
    *before, last = said.split(",")
    if not count and times_of(last.strip()):
        count, said = last.strip(), ",".join(before)
    elif not count and times_of(first.strip()):
        count, said = first.strip(), ",".join(behind)
    times = times_of(count.strip(" ()[]"))
    return f"{f' x{times}' if times > 1 else ''}{f' ({said.strip()})' if said.strip() else ''}"


def _habit(before: str, after: str) -> str:
    """The signs around a name, each run of them once."""
    return re.sub(r"(.)\1+", r"\1", f"{before.strip()}{after.strip()}".replace(" ", ""))


def _letters(name: str) -> str:
    words = "".join(filter(str.isalpha, name))
    if words.isupper():
        return "capitals"
    return "title" if words[:1].isupper() else "small"
