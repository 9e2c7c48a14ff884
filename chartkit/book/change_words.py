"""What to change between two songs, in words that can be followed in the dark.

Short sentences, one thing at a time, in the order of the hands: the guitar first, then the
strings, then the capo.  Numbers of frets, never "up one".
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.advise.set_steps import Step
from chartkit.advise.stage import Standing
from chartkit.book.set_list import Player
from chartkit.theory.capo import NO_CAPO, Capo

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
    dues = list[ToDo | None]()
    for step, close in zip(steps, straight, strict=True):
        if step is None:
            dues.append(None)
            continue
        guitar, capo = step.offer.guitar, step.offer.option
        before = standing[guitar]
        ready = helper and hand is not None and guitar != hand
        sentences = _guitar(player, hand, guitar)
        sentences += _ready(before, capo) if ready else _tuning(before, capo)
        sentences += [] if ready else _capo(before, capo)
        if close and sentences:
            sentences = ["No pause here.", *sentences]
        dues.append(ToDo(tuple(sentences), step.seconds))
        hand, standing[guitar] = guitar, Standing.of(step.offer.last)
    return tuple(dues)


def _guitar(player: Player, hand: int | None, guitar: int) -> list[str]:
    name = player.guitars[guitar].name
    if hand is None:
        return [f"Begin on {name}."] if len(player.guitars) > 1 else []
    if hand == guitar:
        return []
    return [f"Put down {player.guitars[hand].name}, take {name}."]


def _tuning(before: Standing, capo: Capo) -> list[str]:
    if before.tuned_down == capo.tuned_down:
        return []
    way = "down" if capo.tuned_down > before.tuned_down else "up"
    size = _steps(abs(capo.tuned_down - before.tuned_down))
    end = " to normal tuning"
    if capo.tuned_down:
        end = f", to {_steps(capo.tuned_down)} down" if before.tuned_down else ""
    if before.tuned_down and capo.tuned_down > before.tuned_down:
        way, size = "down", _ANOTHER.get(capo.tuned_down - before.tuned_down, f"another {size}")
    off = "Take the capo off. " if before.fret else ""
    return [f"{off}Tune every string {way} {size}{end}. Check the tuning."]


def _steps(number: int) -> str:
    return _STEPS.get(number, f"{number} half steps")


def _capo(before: Standing, capo: Capo) -> list[str]:
    if before.fret is None:
        return [f"Capo on fret {capo.place}."] if capo.fret else ["No capo."]
    now = NO_CAPO if before.tuned_down != capo.tuned_down else before.capo
    if now == replace(capo, tuned_down=0):
        return []
    if not capo.fret:
        return [f"Take the capo off (it is on {now.place})."]
    if not now.fret:
        return [f"Capo on fret {capo.place}."]
    return [f"Move the capo from {now.place} to {capo.place}."]


def _ready(before: Standing, capo: Capo) -> list[str]:
    """How a guitar comes that a helper had in hand: retuned, if it was, and with its capo."""
    tuned = f"tuned down {_steps(capo.tuned_down)}" if capo.tuned_down else "in normal tuning"
    parts = [
        tuned if before.tuned_down != capo.tuned_down else "",
        f"with the capo on {capo.place}" if capo.fret else "",
    ]
    state = ", ".join(filter(None, parts))
    return [f"It comes {state}."] if state else []


def setting_words(capo: Capo) -> str:
    """How a guitar stands, short: ``capo 3``, ``capo 2 (5-3)``, ``no capo``, ``down 1``."""
    parts = [
        f"down {capo.tuned_down}" if capo.tuned_down else "",
        replace(capo, tuned_down=0).brief if capo.fret else "",
    ]
    return ", ".join(filter(None, parts)) or "no capo"


def capos_words(capos: Sequence[Capo]) -> str:
    """How a guitar stands through a song: ``capo 2``, ``capo 2, then 4``, ``no capo, then 3``."""
    moves = (f", then {capo.place}" for capo in capos[1:])
    return setting_words(capos[0]) + "".join(moves)


def moves_words(capos: Sequence[Capo]) -> str:
    """Where the capo goes inside a song, as a sentence; empty where it stays."""
    if len(capos) < 2:
        return ""
    places = (f"goes to {capo.place}" if capo.fret else "comes off" for capo in capos[1:])
    return f"In the song the capo {', then '.join(places)}."


def time_words(seconds: float) -> str:
    """A stretch of time as a player says it: ``40 s``, ``2 min 10 s``."""
    minutes, rest = divmod(round(seconds), 60)
    if not minutes:
        return f"{rest} s"
    return f"{minutes} min {rest} s" if rest else f"{minutes} min"
