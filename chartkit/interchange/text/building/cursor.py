"""The reader's position in a sheet: the lines, their kinds, the next one, the chart so far."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.heading_remarks import names_said_otherwise
from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Letter,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Settings,
    Shapes,
    Words,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.lyrics import VERSE
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said

_WITH_CHORDS = (ChordsWithin, ChordsBehind)
_MUSIC = (SectionStart, Chords, *_WITH_CHORDS)
_CLOSES = (Note, Settings, Shapes)
"""Kinds of lines that stand apart below the words of a section and are none of it."""
_INSTRUMENTAL = frozenset({"intro", "solo", "instrumental", "interlude", "riff", "turnaround"})


def _has_chords_first(one: KnownLine) -> bool:
    """Whether a line of words begins with a chord in parentheses."""
    return isinstance(one.kind, ChordsWithin) and one.kind.tokens[0].column == 0


def _stands_apart(known: Sequence[KnownLine], at: int) -> bool:
    """Whether a line is the plain name of a section, with a blank line below it and chords or words
    below that."""
    start = known[at].kind
    plain = isinstance(start, SectionStart) and not (start.guessed or start.remarks)
    played = isinstance(known[at + 2].kind, (Chords, Words, *_WITH_CHORDS))
    return plain and played and isinstance(known[at + 1].kind, Blank)


@dataclass(slots=True)
class Cursor:
    """The lines of a sheet and the place ``at`` which the next is read."""

    sheet: Sheet
    known: list[KnownLine]
    at: int = 0
    last_music: int = field(init=False)
    """Where the last section, chords or words with chords begin."""
    said_otherwise: frozenset[str] = field(init=False)
    """The names of sections that come again with another remark."""
    name_apart: int = field(init=False)
    """The first plain name of a section with a blank line between it and what is played there; the
    number of lines where none stands so."""

    def __post_init__(self) -> None:
        places = range(len(self.known) - 1, -1, -1)
        self.said_otherwise = names_said_otherwise(self.known)
        apart = (at for at in range(len(self.known) - 2) if _stands_apart(self.known, at))
        self.name_apart = next(apart, len(self.known))
        self.last_music = next((at for at in places if isinstance(self.known[at].kind, _MUSIC)), -1)

    @property
    def line(self) -> Line:
        """The line to be read next."""
        return self.known[self.at].line

    @property
    def stanza_begins(self) -> bool:
        """Whether the line before the next is blank; not at the start of the sheet."""
        return self.at > 0 and isinstance(self.known[self.at - 1].kind, Blank)

    def words_under(self, rows_are_numbered: bool) -> list[Line]:
        """Takes the line of words right under a row of chords; several where they are numbered.

        A number makes a line words even where all of it could be chords, unless the row of
        chords has a number itself.
        """
        under: list[Line] = []
        while self.at < len(self.known):
            one = self.known[self.at]
            numbered = VERSE.match(one.line.text) is not None
            numbered = numbered and not isinstance(one.kind, SectionStart)
            if not (one.can_be_sung or (numbered and not rows_are_numbered)):
                break
            if _has_chords_first(one) or (isinstance(one.kind, Remark) and self._is_instrumental):
                break
            if under and not (numbered and VERSE.match(under[-1].text)):
                break
            under.append(one.line)
            self.at += 1
        return under

    @property
    def _is_instrumental(self) -> bool:
        """Whether the open section is one that is played and not sung."""
        return section_key(self.sheet.opened.name)[0] in _INSTRUMENTAL

    def words_from_here(self, most: int) -> list[Line]:
        """The lines of words from here on, without chords and numbers, up to so many."""
        collected: list[Line] = []
        for at, one in enumerate(self.known[self.at : self.at + most], self.at):
            plain = one.can_be_sung and not isinstance(one.kind, _WITH_CHORDS)
            if not plain or VERSE.match(one.line.text) or (collected and self._is_said_last(at)):
                break
            collected.append(one.line)
        return collected

    def _is_said_last(self, at: int) -> bool:
        """Whether a line in parentheses is said, by its words, and no words stand below it."""
        one, below = self.known[at], self.known[at + 1 : at + 2]
        if not isinstance(one.kind, Remark) or (below and below[0].can_be_sung):
            return False
        text = one.line.text.strip(" ()")
        return sounds_said(text) > 0 or is_direction(text)

    def block(self, whole_section: bool) -> tuple[int, list[str], list[tuple[int, KnownLine]]]:
        """The lines of words from here to a blank line, or to the next heading: where they
        end, their texts, and the remarks among them, each with the count of the texts above it; no
        texts where something else stands there.
        """
        texts, remarks = list[str](), list[tuple[int, KnownLine]]()
        at = self.at
        while at < len(self.known):
            one = self.known[at]
            blank = isinstance(one.kind, Blank)
            if isinstance(one.kind, SectionStart | Letter) or (blank and not whole_section):
                break
            text = one.line.text.strip()
            if texts and VERSE.match(text):
                break  # the next verse
            if texts and isinstance(one.kind, Remark) and not one.kind.in_parentheses:
                remarks.append((len(texts), one))
            elif not blank and (not one.can_be_sung or isinstance(one.kind, Remark)):
                apart = isinstance(self.known[at - 1].kind, Blank) and isinstance(one.kind, _CLOSES)
                closes = apart or isinstance(one.kind, Roadmap)
                return at, texts if closes or self._is_said_from(at) else [], remarks
            elif not blank:
                number = VERSE.match(text) if not texts else None
                texts.append(text[number.end() :] if number else text)
            at += 1
        return at, texts, remarks

    def _is_said_from(self, at: int) -> bool:
        """Whether nothing but remarks in parentheses stands from a line to the section's end."""
        for one in self.known[at:]:
            if isinstance(one.kind, SectionStart | Letter):
                break
            if not isinstance(one.kind, Blank | Remark):
                return False
        return True
