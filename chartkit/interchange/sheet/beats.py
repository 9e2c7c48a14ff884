"""Tokens between two bar lines to beats: a group of chords for each, empty where one goes on."""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import TICKS_PER_BEAT, Bar, Strike
from chartkit.interchange.sheet.tokens import Played, Token

Group = tuple[Played, ...]


def slots_of(tokens: Sequence[Token]) -> list[Token]:
    """The tokens that take a beat or strike a chord; ``///`` takes three."""
    found: list[Token] = []
    for token in tokens:
        if token.kind in ("chord", "bass", "none"):
            found.append(token)
        elif token.kind == "beat":
            found += [token] * len(token.text)
    return found


def joined_by_commas(slots: list[Token], beats: int) -> list[Token]:
    """The slots with chords that end in a comma joined to the next, as one beat, where that
    gives the beats of the bar."""
    found: list[Token] = []
    for token in slots:
        before = found[-1] if found else None
        if before is not None and before.text.endswith(",") and token.kind != "beat":
            found[-1] = replace(before, text=token.text, played=before.played + token.played)
        else:
            found.append(token)
    return found if len(found) == beats else slots


def shared(chords: list[Group], beats: int) -> list[Group]:
    """Groups of chords, one for each beat, empty where a chord goes on."""
    flat = [one for group in chords for one in group]
    if len(flat) > beats:
        size, more = divmod(len(flat), beats)
        sizes = [size + (i < more) for i in range(beats)]
        starts = [sum(sizes[:i]) for i in range(beats)]
        return [tuple(flat[a : a + n]) for a, n in zip(starts, sizes, strict=True)]
    size, more = divmod(beats, len(flat))
    return [
        group for i, one in enumerate(flat) for group in ((one,), *[()] * (size + (i < more) - 1))
    ]


def on_beats(groups: Sequence[Group], written: bool = True, pickup: bool = False) -> Bar:
    """A bar of groups, one for each beat, with empty strikes to be filled in."""
    onsets = [
        i * TICKS_PER_BEAT + k * TICKS_PER_BEAT // len(group)
        for i, group in enumerate(groups)
        for k in range(len(group))
    ]
    length = len(groups) * TICKS_PER_BEAT
    strikes = tuple(
        Strike(None, at, following - at)
        for at, following in zip(onsets, [*onsets[1:], length], strict=False)
    )
    return Bar(strikes, length, written, 0, pickup)
