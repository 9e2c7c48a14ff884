"""The tokens of a chord row: what stands between blanks, and what is struck in it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from chartkit.theory.chord import Chord
from chartkit.theory.note import pitch_class_of

Kind = Literal[
    "chord", "bass", "none", "bar", "beat", "hold", "simile", "rest", "meter", "times", "cue",
    "word", "filler",
]  # fmt: skip
"""What a token is.  A hold is signs alone that share a beat, or a lone ``_``, which may be a
mere filler; where no meter can stand a meter is a word."""
STRUCK: tuple[Kind, ...] = ("chord", "bass", "none")
TIMED: tuple[Kind, ...] = (*STRUCK, "beat", "hold")
"""The kinds that take up time beside others in a bar."""
PICK_UP = "(pick-up)"
"""How our own texts say that what stands before the first bar line is no whole bar."""
Sign = Literal["", "/", "_", "r", "x"]


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
