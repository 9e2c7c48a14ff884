"""How a song is played tonight: the key and the capos."""

from dataclasses import dataclass
from typing import Literal

from chartkit.theory.capo import Capo
from chartkit.theory.key import Key, parse_key

LineName = Literal["shape", "second", "sounding", "number", "count"]
"""A line of chord names: shapes, a second guitar's shapes, what sounds, scale degrees; or the
numbers of bars on a road map."""


@dataclass(frozen=True, slots=True)
class View:
    """How a song is played.

    ``capo`` overrides the chart's own.  ``key`` and ``by`` (half steps) move the song; at most one
    of them is given.  ``second_capo`` adds a line of shapes for a second guitar.
    """

    capo: Capo | None = None
    key: Key | None = None
    by: int | None = None
    second_capo: Capo | None = None


def target_key(text: str, current: Key) -> Key:
    """The key a player asks for; a bare tonic keeps the song's own mode.

    Raises ValueError if it is not a key, or in a mode the song is not in.
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
