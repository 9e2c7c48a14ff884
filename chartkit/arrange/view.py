"""What a player wants to see: the key tonight, the capo, and which lines to read."""

from dataclasses import dataclass
from typing import Literal

from chartkit.theory.capo import Capo
from chartkit.theory.key import Key, parse_key
from chartkit.theory.naming import PLAIN, Naming

Show = Literal["both", "shapes", "sounding", "numbers", "words"]
Line = Literal["shape", "second", "sounding", "number"]
"""A line of chord names: shapes, a second guitar's shapes, what sounds, scale degrees."""
Kind = Literal["shapes", "sounding"]

READERS = {"B flat": 2, "E flat": 9, "F": 7, "A": 3}
"""Transposing instruments by their pitch, and how many half steps above what sounds they
read: B flat clarinet and trumpet a major second, E flat alto saxophone a major sixth, F horn a
fifth, A clarinet a minor third (theory handbooks).  Octaves do not matter for chord names."""


@dataclass(frozen=True, slots=True)
class View:
    """One player's view.

    ``capo`` overrides the chart's own.  ``key`` and ``by`` (half steps) move the song; at most one
    of them is given.  ``reads`` is one of ``READERS``: sounding chords are then written for that
    player.
    ``second_capo`` adds a line of shapes for a second guitar.  ``upper`` and ``strong`` say
    which kind of line stands on top and which is set large and bold.
    """

    capo: Capo | None = None
    key: Key | None = None
    by: int | None = None
    show: Show = "both"
    reads: str | None = None
    second_capo: Capo | None = None
    upper: Kind = "shapes"
    strong: Kind = "shapes"
    naming: Naming = PLAIN


def target_key(text: str, current: Key) -> Key:
    """The key a player asks for; a bare tonic keeps the song's own mode.

    Raises ValueError for what is no key, or a mode the song is not in.
    """
    try:
        wanted = parse_key(f"{text.strip()} {current.mode}")
    except ValueError:
        wanted = parse_key(text)
        if wanted.mode != current.mode:
            raise ValueError(
                f"the song is in {current}: moving it cannot make it {wanted.mode}; "
                f"name the tonic alone"
            ) from None
    return wanted


def reader_named(text: str) -> str:
    """The transposing instrument of that pitch: ``Bb``, ``B flat``, ``E♭`` ...

    Raises ValueError for any other.
    """
    plain = " ".join(text.replace("♭", " flat").split()).casefold()
    for name in READERS:
        letter = name[0].casefold()
        short = letter + "b" if "flat" in name else letter
        if plain in (name.casefold(), short, f"in {name.casefold()}", f"in {short}"):
            return name
    raise ValueError(f'"{text}" is not the pitch of a transposing instrument: {", ".join(READERS)}')
