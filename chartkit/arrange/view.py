"""What a player wants to see: the key tonight, the capo, and which lines to read."""

from dataclasses import dataclass
from typing import Literal

from chartkit.theory.key import Key, parse_key

Show = Literal["both", "shapes", "sounding", "numbers", "words"]
Line = Literal["shape", "sounding", "number", "transposed"]


@dataclass(frozen=True, slots=True)
class View:
    """One player's view.

    ``capo`` overrides the chart's own; negative is the guitar tuned down that many half
    steps.  ``key`` and ``by`` (half steps) move the song; at most one of them is given.
    ``reads_up`` is how many half steps above what sounds the player's part is written, 0 to
    11: 2 for an instrument in B flat.
    """

    capo: int | None = None
    key: Key | None = None
    by: int | None = None
    show: Show = "both"
    reads_up: int = 0


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
