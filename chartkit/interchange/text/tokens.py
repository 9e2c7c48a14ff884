"""A row of chords, recognised by its content: what each of its tokens is.

What people type between chords (common practice, no source): bar lines, slashes and dots for
beats, ``%`` for the bar again, ``N.C.``, ``x2``, remarks in parentheses, dashes and arrows
from chord to chord.  What shares a beat is joined by commas, ``/`` the chord struck again,
``_`` a hold, ``r`` a rest and ``x`` a muted stroke among it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from chartkit.theory.chord import Chord
from chartkit.theory.note import pitch_class_of

Kind = Literal[
    "chord",
    "bass",
    "none",
    "bar",
    "beat",
    "hold",
    "simile",
    "rest",
    "meter",
    "times",
    "cue",
    "word",
    "filler",
]
"""What a token is.  A hold is signs alone that share a beat, or a lone ``_``, which may be a
mere filler; where no meter can stand a meter is a word."""
STRUCK: tuple[Kind, ...] = ("chord", "bass", "none")
TIMED: tuple[Kind, ...] = (*STRUCK, "beat", "hold")
"""The kinds that take up time beside others in a bar."""
PICK_UP = "(pick-up)"
"""How our own texts say that what stands before the first bar line is no whole bar."""
IsChords = Callable[[str], bool]
"""Whether a text is a row of chords and nothing else."""
Sign = Literal["", "/", "_", "r", "x"]

NARROW = {0xFF01 + i: 0x21 + i for i in range(94)}
"""Full-width letters and signs to plain ones (Unicode, Halfwidth and Fullwidth Forms)."""
WORDS_TOO = {
    "A",
    "Am",
    "Add",
    "Do",
    "Go",
    "Bo",
    "Co",
    "Ao",
    "Fo",
    "Eo",
    "Dim",
    "Aug",
    "Em",
    "Ema",
    "Emi",
}
"""Chord symbols that are words as well (in English, as exclamations, or as names)."""


@dataclass(frozen=True, slots=True)
class Played:
    """One struck chord of a token: ``bass`` alone for ``/E``; neither for N.C.

    With a ``sign`` it is no chord: ``/`` is the chord before struck again, ``_`` held, ``r`` a
    rest, ``x`` a muted stroke.
    """

    chord: Chord | None = None
    bass: int | None = None
    pushed: bool = False
    stopped: bool = False
    ringing: bool = False
    optional: bool = False
    sign: Sign = ""


SLASH, HOLD = Played(sign="/"), Played(sign="_")


@dataclass(frozen=True, slots=True)
class Token:
    """A token of a chord row: what it is, where it stands, what is played (several parts
    where they share a beat), and its text."""

    kind: Kind
    column: int
    text: str
    played: tuple[Played, ...] = ()
    end: int = 0

    @property
    def struck(self) -> tuple[Played, ...]:
        """The chords in it, without the signs among them."""
        played = self.played
        if len(played) == 1:
            return () if played[0].sign else played
        return tuple(one for one in played if not one.sign)

    @property
    def letter(self) -> bool:
        """Whether it is a lone ``r`` or ``x``, which are signs between bar lines only."""
        return self.text in ("r", "x") and self.kind == "hold"

    @property
    def may_fill(self) -> bool:
        """Whether it is a lone ``_``, which may be a mere filler."""
        return self.played == (HOLD,)


def strikes(tokens: Sequence[Token]) -> bool:
    """Whether something is struck among the tokens."""
    return any(token.struck for token in tokens)


def roots_of(tokens: Sequence[Token]) -> list[int | None]:
    """The pitch classes of the roots in a row, None for N.C."""
    played = [one for token in tokens for one in token.struck]
    notes = [one.bass if one.chord is None else one.chord.root for one in played]
    return [None if note is None else pitch_class_of(note) for note in notes]


def is_music(result: Sequence[Token], words: int, chords: int, sure: int) -> bool:
    """Whether tokens are a row of music, by how many of them are words, chords, and
    chords that could be no words."""
    bars = any(token.kind == "bar" for token in result)
    words += 0 if bars else sum(token.kind == "meter" for token in result)
    if not chords and (words or not bars or not _goes_on(result)):
        return False
    if words and (not sure or words * 2 > chords):
        return False
    sung = not sure and chords > 1 and not bars and result[0].text in ("Do", "Go", "Am", "A")
    return not (sung and any(token.text in ("Do", "Go") for token in result))


def _goes_on(result: Sequence[Token]) -> bool:
    """Whether there is music between bar lines though no chord is: similes, beats, rests, or
    beats held.

    A line of words may have a ``_`` or the word "rest" between bar lines too, but not in
    every bar, nor two holds on end.
    """
    kinds = [token.kind for token in result]
    pairs = set(pairwise(kinds))
    if "simile" in kinds or "beat" in kinds:
        return True
    if any(token.kind == "hold" and not token.may_fill for token in result):
        return True
    opened = kinds[0] == "bar" and set(kinds) <= {"bar", "hold", "rest", "meter", "cue"}
    return opened and ("bar", "bar") not in pairs and ("rest" in kinds or ("hold", "hold") in pairs)


def at_commas(text: str) -> list[str]:
    """The text parted at commas outside parentheses."""
    parts, depth = [""], 0
    for character in text:
        depth += (character == "(") - (character == ")")
        if character == "," and depth == 0:
            parts.append("")
        else:
            parts[-1] += character
    return parts
