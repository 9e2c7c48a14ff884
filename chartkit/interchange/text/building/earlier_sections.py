"""The sections of a sheet that were read so far, and which of them a name means."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from chartkit.chart.model import Row, Section, WordsRow
from chartkit.chart.section_words import PLAYERS, SUNG_KINDS
from chartkit.interchange.text.song_form.steps import SAME
from chartkit.interchange.text.vocabulary.references import (
    says_no_chords,
    says_whose,
    section_named_in,
)
from chartkit.interchange.text.vocabulary.section_names import remark_in_name, section_key
from chartkit.interchange.text.vocabulary.times_played import rounds_in

_COUNTS_BARS = re.compile(
    r"(?<!\d)(?<!same )(?<!gleichen )(?<!mêmes )\d{1,3}"
    r"(?!\d|\s*(?:chorus|refrain|round|times?\b|durchg|tours?\b|vueltas?\b|giri\b))",
    re.IGNORECASE,
)
_MOST_LOOKED_AT = 60
"""So many of the last sections can be named by what is said of another (ours)."""
_OVER_A_VERSE = frozenset({"solo", "instrumental"})
"""Kinds of sections that are played over the verse where nothing is said."""
_KEEP_TIME = frozenset(
    ["drum", "drums", "bass", "percussion", "band", "vocal", "intro", "chorus", "outro"]
)
"""Whose break has no tune, or another: what is played there is not known."""


@dataclass(slots=True)
class EarlierSections:
    """Sections in the order in which they were read.

    ``lines_of`` has, for each section, how many lines of words were typed under each of its rows
    of music.  ``home`` has, for each name, the section that holds the music of the last one called
    so.  ``names`` has the last name of each meaning, ``by_key`` and ``by_kind`` the last section
    with music of its own.  ``row_times`` has how often sections are played whose row of chords
    says so, or a remark that it is so every time, ``times_by_endings`` those whose endings say
    so, by their names.  ``last_verse`` is the name of the last verse, ``verses`` their highest
    number.
    """

    sections: list[Section] = field(default_factory=list)
    lines_of: list[tuple[int, ...]] = field(default_factory=list)
    home: dict[str, int | None] = field(default_factory=dict)
    names: dict[tuple[str, str], str] = field(default_factory=dict)
    by_key: dict[tuple[str, str], int] = field(default_factory=dict)
    by_kind: dict[str, int] = field(default_factory=dict)
    row_times: dict[str, int] = field(default_factory=dict)
    times_by_endings: dict[str, int] = field(default_factory=dict)
    last_verse: str = ""
    verses: int = 0

    def add(self, section: Section, lines_under: tuple[int, ...], heading_rows: int) -> int:
        """Adds a section, of whose rows the first ones belong to its heading; its place."""
        at = len(self.sections)
        self.sections.append(section)
        self.lines_of.append(lines_under)
        name, same = section.name.casefold(), section.same_as.casefold()
        if same or section.rows[heading_rows:] or name not in self.home:
            self.home[name] = self.home.get(same) if same else at
        key = section_key(section.name)
        if key[0] == "verse":
            self.last_verse = section.name
            self.verses = max(self.verses, int(key[1]) if key[1].isdecimal() else 0)
        alone = same and key == section_key(section.same_as)  # an instrumental chorus
        if section.name and not alone:
            self.names[key] = section.name
        if lines_under:
            self.by_key[key] = self.by_kind[key[0]] = self.by_kind[""] = at
            for part in section.name.split("/") if "/" in section.name else ():
                self.by_key.setdefault(section_key(part.strip()), at)
                self.by_kind.setdefault(section_key(part.strip())[0], at)
        return at

    def rows_of(self, name: str) -> tuple[Row, ...]:
        """The rows of the section that holds the music of the last one of a name."""
        home = self.home.get(name.casefold())
        return self.sections[home].rows if home is not None else ()

    def name_like(self, name: str) -> str | None:
        """The name itself if a section has it, else the last name that means the same."""
        if name.casefold() in self.home:
            return name
        kind, number = section_key(name)
        first = self.names.get((kind, "")) if number == "1" else None
        return self.names.get((kind, number), first)

    def with_music_of(self, own: str, like: str, remarks: Sequence[str]) -> int | None:
        """The number of the section whose music the section called ``own`` has: of the one that it
        is said to be ``like``, or that its remarks name.  None if no section has that name, or a
        later one has taken it."""
        name = own if like in ("", SAME) else like
        if not name:
            return None
        home = self.home.get(name.casefold())
        if home is not None and self.lines_of[home] and self._stands(home):
            return home
        key = section_key(name)
        first = self.by_key.get((key[0], "")) if key[1] == "1" else None
        for result in (self.by_key.get(key), first, self.by_kind.get(key[0])):
            if result is not None and self._stands(result):
                return result
        if (alike := self._called_alike(name)) is not None:
            return alike
        if key[0] == "verse" and key[1] not in ("", "1") and not like:
            # the first verse has no name, or a roman number
            return self.by_key.get(("", ""), self.by_key.get(("i", "")))
        if like == SAME:
            return self.by_kind.get("", self._last_with_music())
        if like or not _is_over_a_verse(key) or _COUNTS_BARS.search(" ".join((name, *remarks))):
            return None  # bars that are counted are bars of its own
        if any(map(says_no_chords, (remark_in_name(name), key[1], *remarks))):
            return None
        return self.by_kind.get("verse", self.by_kind.get("chorus"))

    def _called_alike(self, name: str) -> int | None:
        """The last section with music whose name of several words ends with the same known one
        ("Staff verse" after "Pupils' verse"); None where there is none."""
        *who, last = name.casefold().split() or [""]
        if not who or section_key(last)[0] not in SUNG_KINDS:
            return None
        lately = range(
            len(self.sections) - 1, max(-1, len(self.sections) - 1 - _MOST_LOOKED_AT), -1
        )
        alike = (at for at in lately if self.sections[at].name.casefold().split()[-1:] == [last])
        return next((at for at in alike if self.lines_of[at] and self._stands(at)), None)

    def _last_with_music(self) -> int | None:
        """The last section so far with music of its own, which "same changes" mean."""
        lately = range(
            len(self.sections) - 1, max(-1, len(self.sections) - 1 - _MOST_LOOKED_AT), -1
        )
        return next((at for at in lately if self.lines_of[at] and self._stands(at)), None)

    def _stands(self, at: int) -> bool:
        """Whether the name of a section still stands for it."""
        return self.home.get(self.sections[at].name.casefold()) == at

    def is_known(self, name: str) -> bool:
        """Whether a name is that of a section so far, or of its kind."""
        return name.casefold() in self.home or section_key(name)[0] in self.by_kind

    def named_in(self, text: str, own: str) -> str:
        """The name of the earlier section whose music the section called ``own`` has, if ``text``,
        what is said of it, names another one.  Empty if it names none, or an earlier one of the
        same kind."""
        kind = section_key(own)[0]
        if rounds_in(text):
            return ""  # "2 choruses" are rounds of the song
        if not own or (
            self.name_like(own) is not None and (kind in SUNG_KINDS or not says_whose(text))
        ):
            return ""
        lately = self.sections[: -_MOST_LOOKED_AT - 1 : -1]
        names = [one.name for one in lately if one.name and self._has_music(one)]
        return section_named_in(text, names)

    def _has_music(self, section: Section) -> bool:
        home = self.home.get(section.name.casefold())
        return home is not None and bool(self.lines_of[home])

    def has_words_apart(self, at: int) -> bool:
        """Whether a section's words stand under its music without places."""
        words = [row for row in self.sections[at].rows if isinstance(row, WordsRow)]
        return bool(words) and all(map(is_words_alone, words)) and not any(self.lines_of[at])


def is_words_alone(row: Row) -> bool:
    """Whether a row is words without music."""
    return isinstance(row, WordsRow) and len(row.cells) == 1


def _is_over_a_verse(key: tuple[str, str]) -> bool:
    """Whether a section is played over the verse where nothing is said: a solo, or the break of
    one player of a tune ("Fiddle break")."""
    kind, who = key
    by_one = kind == "break" and who.casefold() in PLAYERS and who.casefold() not in _KEEP_TIME
    return kind in _OVER_A_VERSE or by_one
