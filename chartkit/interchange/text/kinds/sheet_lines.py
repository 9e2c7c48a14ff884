"""The lines of a sheet, each with its own kind (a row of chords, a heading), and facts from all of
them, such as the verses that begin with numbers."""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise

from chartkit.interchange.text.lines import Line, is_empty, letters_of, text_at
from chartkit.interchange.text.names.headings import Heading, heading_of
from chartkit.interchange.text.names.sheet_names import COMMON_NAMES, SheetNames
from chartkit.interchange.text.names.unknown_names import with_unknown_names
from chartkit.interchange.text.rows.lyrics import VERSE
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.tokens import STRUCK, TIMED, Token
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.facts import facts_of
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES

Row = tuple[Token, ...]
_SECOND = 2
_ROMAN_NUMBER = re.compile(r"\s*(?P<roman>I{1,3}|IV|VI{0,3}|IX|X)[.)]\s+(?=[^\W\d_]{2})")
_ROMAN = ("", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X")
LONGEST = 160
"""A longer line names no section and gives no order of them."""
_SQUARED = re.compile(r"\s*\[\s*([^\[\]|]{2,30}?)\s*\](?=\s*\S)")
_COUNTED_SQUARE = re.compile(
    rf"\s*\[\s*([^\[\]|]{{2,30}}?)\s*\]\s*\(?(?:{ANY_TIMES})\)?(?:\W.*)?", re.IGNORECASE
)
_SIGNS_OF_MORE = re.compile(r"[()\[\]:=–—|,;-]")
"""Signs with which more than chords may stand in a row, or a name before them."""
_FEWEST_SQUARED = 3
_FEWEST_APART = 2


class SheetLines:
    """The lines, the rows of chords that some are, and the headings."""

    def __init__(
        self, lines: Sequence[Line], tokens: TokenReader, names: SheetNames = COMMON_NAMES
    ) -> None:
        self.tokens = tokens
        self.lines, self.rows = _closed_up(list(lines), [tokens.row(line) for line in lines])
        headings = with_unknown_names(
            self.lines,
            [row is not None for row in self.rows],
            [heading_of(line.text.strip()) if line.text else None for line in self.lines],
        )
        self.names = names.with_own(
            one.name
            for one in headings
            if one is not None and not (is_known_name(one.name) or is_direction(one.name))
        )
        self.headings = [self._by_own_name(at, one) for at, one in enumerate(headings)]

    def _by_own_name(self, at: int, heading: Heading | None) -> Heading | None:
        """A heading by one of the sheet's own names where a line stands as headings do, else the
        one that is known."""
        text = self.lines[at].text.strip()
        if not self.names.own or len(text) > LONGEST or (at and self.rows[at - 1] is not None):
            return heading
        if heading is not None and self.names.is_known(heading.name):
            return heading
        own = self.names.heading_of(text) if self.names.has_own(text) else None
        if own is None:
            return heading
        if heading is not None or own.rest_at is not None or own.times != 1:
            return own
        return own if self._is_bound(at - 1) or self._is_bound(at + 1) else heading

    def _is_bound(self, at: int) -> bool:
        """Whether a line is empty or names a section and says no more."""
        if self.is_empty(at):
            return True
        text = self.lines[at].text.strip()
        heading = self.names.heading_of(text) if len(text) <= LONGEST else None
        return heading is not None and heading.rest_at is None

    def is_empty(self, at: int) -> bool:
        """Whether nothing stands at a place: an empty line, or the end of the sheet."""
        return is_empty(self.lines, at)

    def is_row(self, at: int) -> bool:
        """Whether a row of chords stands at a place."""
        return 0 <= at < len(self.rows) and self.rows[at] is not None

    def is_bare_row(self, at: int) -> bool:
        """Whether a line is chords and blanks alone, so that it names no section and nothing is
        said on it."""
        row = self.rows[at]
        if row is None or self.headings[at] is not None or at in self.numbered:
            return False
        bare = _SIGNS_OF_MORE.search(self.lines[at].text) is None
        return bare and all(token.kind == "chord" for token in row)

    def stands_over_chords(self, at: int) -> bool:
        """Whether a line stands apart, right above a row of chords, as a section's name does."""
        above = self.is_empty(at - 1)
        return above and at + 1 < len(self.rows) and self.rows[at + 1] is not None

    def is_chords(self, text: str) -> bool:
        """Whether a text is chords and nothing else."""
        row = self.tokens.row(Line(0, text))
        return row is not None and is_music(row) and any(t.kind in STRUCK for t in row)

    @cached_property
    def is_closed(self) -> bool:
        """Whether no empty line stands between the rows of chords of a sheet with several."""
        rows = [at for at, row in enumerate(self.rows) if row is not None]
        return len(rows) > 1 and not any(map(self.is_empty, range(rows[0], rows[-1])))

    @cached_property
    def has_squared_names(self) -> bool:
        """Whether all names of sections, and several, stand in square brackets."""
        named = [
            self.lines[at].text.lstrip().startswith("[")
            for at, one in enumerate(self.headings)
            if one is not None and self.names.is_known(one.name)
        ]
        named += [
            True
            for line, one in zip(self.lines, self.headings, strict=True)
            if one is None and (match := _SQUARED.match(line.text[:LONGEST])) is not None
            if self.names.is_known(match[1])
        ]
        return len(named) >= _FEWEST_SQUARED and all(named)

    @cached_property
    def counted_in_squares(self) -> frozenset[str]:
        """What stands in square brackets before a count, in small letters ("[Drop] x2")."""
        found = (_COUNTED_SQUARE.fullmatch(line.text[:LONGEST]) for line in self.lines)
        return frozenset(match[1].casefold() for match in found if match is not None)

    @cached_property
    def later(self) -> dict[tuple[str, str], int]:
        """The last line that begins with a section's name, for each meaning."""
        return {section_key(name): at for at, name in self._names_first()}

    @cached_property
    def last_of_song(self) -> int:
        """The last line that is a section's name or a row of chords; -1 where there is none."""
        places = range(len(self.lines) - 1, -1, -1)
        named = (i for i in places if self.headings[i] is not None or self.rows[i] is not None)
        return next(named, -1)

    def _names_first(self) -> Iterator[tuple[int, str]]:
        """The lines that begin with a section's full name, each with that name."""
        for at, line in enumerate(self.lines):
            start = len(line.text) - len(line.text.lstrip(" ([<"))
            short = len(line.text) <= LONGEST
            end = self.names.end_at(line.text, start) if short else start
            if end > start:
                yield at, line.text[start:end]

    @cached_property
    def first_words(self) -> dict[tuple[str, str], str]:
        """The letters of the first line of words under each plain heading."""
        collected: dict[tuple[str, str], str] = {}
        key: tuple[str, str] | None = None
        for at, heading in enumerate(self.headings):
            behind = self.lines[at].text.strip() if heading is not None else ""
            remarked = behind.endswith(")") and "(" in behind
            if heading is not None and (heading.rest_at is None or remarked):
                key = section_key(heading.name)
            elif heading is not None:
                key = None
            elif key is not None and self.rows[at] is None:
                letters = letters_of(self.lines[at].text)
                if letters and key not in collected:
                    collected[key] = letters
        return collected

    @cached_property
    def numbered(self) -> frozenset[int]:
        """The lines of words that begin the verses of a song by their numbers, with sections of
        other names between them; none where the numbers do not count on."""
        matches = {
            at: number
            for at, line in enumerate(self.lines)
            if self.headings[at] is None
            and (number := _verse_number(line.text))
            and (self._begins_block(at) or self._hangs_out(at))
        }
        if (title := self._numbered_title(matches)) is not None:
            del matches[title]
        if all(map(self._has_own_name, matches)):
            return frozenset()
        called = {
            at: int(match[1])
            for at, one in enumerate(self.headings)
            if one is not None and (match := VERSE.fullmatch(one.name)) is not None
        }
        counted = dict(sorted((called | matches).items()))
        parted = bool(called) or any(
            any(one is not None for one in self.headings[before:after])
            for before, after in pairwise(counted)
        )
        parted = parted or self._has_all_music_above(min(matches), max(matches))
        parted = parted or all(map(self._has_rows_of_its_own, matches))
        numbers = [*counted.values()]
        first = numbers[0]
        on = numbers == [*range(first, first + len(numbers))] and first < _SECOND + 1
        if first == _SECOND and on:  # the first verse has no number
            start = next(iter(counted))
            parted = any(one is not None for one in self.headings[:start])
            parted = parted and any(row is not None for row in self.rows[:start])
            parted = parted and not self._is_first_under_name(start)
            parted = parted or self._has_all_music_above(start)
            return frozenset(matches) if parted else frozenset()
        return frozenset(matches) if parted and on and len(numbers) > 1 else frozenset()

    def _numbered_title(self, matches: Mapping[int, int]) -> int | None:
        """The first filled line where it is the title with its number in a book, as the numbers
        below show, or nothing right above and below it; None where it is not."""
        first, *others = matches or (0,)
        if first not in matches or any(line.text.strip() for line in self.lines[:first]):
            return None
        begins_again = bool(others) and matches[others[0]] == 1
        alone = self.is_empty(first + 1) and not self.is_empty(first)
        return first if begins_again or alone or matches[first] > _SECOND else None

    def _has_all_music_above(self, at: int, last: int = -1) -> bool:
        """Whether bars that stand above a line, under no section's name or one of verses, are all
        the music of the lines from there to the ``last`` block."""
        end = next((i for i in range(last, len(self.lines)) if self.is_empty(i)), len(self.lines))
        rows = [i for i, row in enumerate(self.rows) if row is not None]
        above = [i for i in rows if i < at]
        named = [one for one in self.headings[: end if last >= 0 else None] if one is not None]
        barred = all("|" in self.lines[i].text for i in above)
        between = any(at <= i < end for i in rows) if last >= 0 else rows != above
        plain = all(section_key(one.name) == ("verse", "") for one in named)
        return bool(above) and not between and plain and barred

    def _has_rows_of_its_own(self, at: int) -> bool:
        """Whether chords stand over a line and over one more of its block."""
        end = next((i for i in range(at, len(self.lines)) if self.is_empty(i)), at)
        below = sum(row is not None for row in self.rows[at:end])
        return at > 0 and self.rows[at - 1] is not None and below > 0

    def _is_first_under_name(self, at: int) -> bool:
        """Whether only chords stand between a line and the name of a section above it."""
        above = at - 1
        while above >= 0 and (self.rows[above] is not None or not self.lines[above].text.strip()):
            above -= 1
        return above >= 0 and self.headings[above] is not None

    def _has_own_name(self, at: int) -> bool:
        """Whether the chords right above a line stand right under a section's name, which is the
        name of the line's verse."""
        above = at - 1
        while above >= 0 and self.rows[above] is not None:
            above -= 1
        return 0 <= above < at - 1 and self.headings[above] is not None

    def _begins_block(self, at: int) -> bool:
        """Whether nothing but its chords stands right above a line."""
        above = at - 1 if at and self.rows[at - 1] is not None else at
        return above == 0 or self._ends_section(above - 1)

    def _hangs_out(self, at: int) -> bool:
        """Whether a line begins at the margin, and those right above and below it further in."""
        around = (text_at(self.lines, at - 1), text_at(self.lines, at + 1))
        inside = all(one.strip() and one[0] == " " for one in around)
        return inside and self.lines[at].text[0] != " "

    def _ends_section(self, at: int) -> bool:
        """Whether a line is empty, or a name alone of a section that is played again."""
        heading = self.headings[at]
        alone = heading is not None and heading.rest_at is None
        return not self.lines[at].text.strip() or alone


def verse_number(text: str) -> re.Match[str] | None:
    """The number of a verse before its words, in figures or as a Roman number."""
    return VERSE.match(text) or _ROMAN_NUMBER.match(text)


_IS_CALLED = re.compile(
    r"(?:verse|stanza|strophe|couplet|estrofa|strofa|strofe|vers|chorus|refrain|teil)(?=\s*(?:$|[(:,]|[-–—]\s))",
    re.IGNORECASE,
)
"""The name of a section behind its number ("1. Strophe - Vroni singt")."""


def _verse_number(text: str) -> int:
    """The number of the verse whose words a line begins; 0 for others."""
    match = verse_number(text) if text else None
    words = text[match.end() :].strip() if match is not None else ""
    if match is None or not words or _IS_CALLED.match(words) is not None:
        return 0
    return int(match[1]) if match[1].isdecimal() else _ROMAN.index(match[1])


def is_music(row: Sequence[Token]) -> bool:
    """Whether nothing among the tokens of a row is a word."""
    return all(
        one.kind in (*TIMED, "bar", "simile", "times", "filler", "meter", "rest", "cue")
        for one in row
    )


def _closed_up(lines: list[Line], rows: list[Row | None]) -> tuple[list[Line], list[Row | None]]:
    """The lines, and what rows of chords they are, without the empty ones between chords and
    words, where every row of chords stands apart from its words; others as they are."""
    under = [i for i, row in enumerate(rows[:-2], 1) if row is not None]
    apart = [i for i in under if not lines[i].text and _is_sung(lines[i + 1].text, rows[i + 1])]
    if len(apart) < _FEWEST_APART or len(apart) < len(under):
        return lines, rows
    gone = frozenset(apart)
    kept = [i for i in range(len(lines)) if i not in gone]
    return [lines[i] for i in kept], [rows[i] for i in kept]


def _is_sung(text: str, row: Row | None) -> bool:
    """Whether a line can only be words: no chords, heading, setting, or remark."""
    plain = text.strip()
    others = row is not None or plain.startswith("(") or heading_of(plain) or facts_of(plain)
    return bool(plain) and not others


def begins_at_margin(text: str, above: Sequence[Token]) -> bool:
    """Whether a line begins where a row of bars does, and is not set out under them."""
    indent = len(text) - len(text.lstrip())
    first = above[0]
    return first.kind == "bar" and indent <= first.column and "  " not in text.strip()


def ends_a_sentence(text: str) -> bool:
    """Whether a text ends with a full stop, and not with dots that leave it open."""
    return text.endswith(".") and not text.endswith("..")
