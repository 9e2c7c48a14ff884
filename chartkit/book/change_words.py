"""What to change between two songs, in words that can be followed in the dark.

Short sentences, one thing at a time, in the order of the hands: the guitar first, then the
strings, then the capo.  Numbers of frets, never "up one".
"""

from collections.abc import Sequence
from dataclasses import dataclass

from chartkit.advise.option import Option
from chartkit.advise.set_steps import Step
from chartkit.advise.stage import Standing
from chartkit.book.set_list import Player

_STEPS = {1: "a half step", 2: "a whole step", 3: "a step and a half"}
_ANOTHER = {1: "another half step", 2: "another whole step", 3: "another step and a half"}
"""How far the strings go down that are down already: where they end is said as well."""


@dataclass(frozen=True, slots=True)
class ToDo:
    """What a player does before a song: sentences, none where nothing changes, and seconds."""

    sentences: tuple[str, ...]
    seconds: float


def to_do(
    player: Player, steps: Sequence[Step | None], straight: Sequence[bool], helper: bool = False
) -> tuple[ToDo | None, ...]:
    """What the player does before each song; None where the song is sat out.

    ``straight`` says of each song whether the one before runs straight into it.
    """
    standing = [Standing(guitar.tuned_down) for guitar in player.guitars]
    hand: int | None = None
    found = list[ToDo | None]()
    for step, close in zip(steps, straight, strict=True):
        if step is None:
            found.append(None)
            continue
        guitar, option, _ = step.offer
        before = standing[guitar]
        ready = helper and hand is not None and guitar != hand
        told = _guitar(player, hand, guitar)
        told += _ready(before, option) if ready else _tuning(before, option)
        told += [] if ready else _capo(before, option)
        if close and told:
            told = ["No pause here.", *told]
        found.append(ToDo(tuple(told), step.seconds))
        hand, standing[guitar] = guitar, Standing.of(option)
    return tuple(found)


def _guitar(player: Player, hand: int | None, guitar: int) -> list[str]:
    name = player.guitars[guitar].name
    if hand is None:
        return [f"Begin on {name}."] if len(player.guitars) > 1 else []
    if hand == guitar:
        return []
    return [f"Put down {player.guitars[hand].name}, take {name}."]


def _tuning(before: Standing, option: Option) -> list[str]:
    if before.down == option.down:
        return []
    way = "down" if option.down > before.down else "up"
    size = _steps(abs(option.down - before.down))
    end = " to standing pitch"
    if option.down:
        end = f", to {_steps(option.down)} down" if before.down else ""
    if before.down and option.down > before.down:
        way, size = "down", _ANOTHER.get(option.down - before.down, f"another {size}")
    off = "Take the capo off. " if before.capo else ""
    return [f"{off}Tune every string {way} {size}{end}. Check the tuning."]


def _steps(number: int) -> str:
    return _STEPS.get(number, f"{number} half steps")


def _capo(before: Standing, option: Option) -> list[str]:
    if before.capo is None:
        return [f"Capo on fret {option.capo}."] if option.capo else ["No capo."]
    now = 0 if before.down != option.down else before.capo
    if now == option.capo:
        return []
    if not option.capo:
        return [f"Take the capo off (it is on {now})."]
    return [f"Capo on fret {option.capo}." if not now
            else f"Move the capo from {now} to {option.capo}."]  # fmt: skip


def _ready(before: Standing, option: Option) -> list[str]:
    """How a guitar comes that a helper had in hand: retuned, if it was, and with its capo."""
    tuned = f"tuned down {_steps(option.down)}" if option.down else "tuned to standing pitch"
    parts = [
        tuned if before.down != option.down else "",
        f"with the capo on {option.capo}" if option.capo else "",
    ]
    told = ", ".join(filter(None, parts))
    return [f"It comes {told}."] if told else []


def setting_words(option: Option) -> str:
    """How a guitar stands, short: ``capo 3``, ``no capo``, ``down 1``."""
    parts = [
        f"down {option.down}" if option.down else "",
        f"capo {option.capo}" if option.capo else "",
    ]
    return ", ".join(filter(None, parts)) or "no capo"


def time_words(seconds: float) -> str:
    """A stretch of time as a player says it: ``40 s``, ``2 min 10 s``."""
    minutes, rest = divmod(round(seconds), 60)
    if not minutes:
        return f"{rest} s"
    return f"{minutes} min {rest} s" if rest else f"{minutes} min"
