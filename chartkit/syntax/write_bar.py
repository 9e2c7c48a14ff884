"""Writes a bar as text: its chords and signs, beat by beat, in pieces that words can stand
under."""

from chartkit.chart.marks import typed_mark
from chartkit.chart.model import TICKS_PER_BEAT, Bar, Strike
from chartkit.chart.signs import SLASH, as_typed, written_signs


def _slots(bar: Bar, free: bool) -> list[tuple[int, tuple[Strike, ...], str]]:
    """The written places of a bar: beats where they are written, else strikes.

    Each with its onset, its strikes and its text.
    """
    if not bar.beats_written or free:
        return [(i if free else s.onset, (s,), _strike(s)) for i, s in enumerate(bar.strikes)]
    parts = written_signs(bar) | {strike.onset: _strike(strike) for strike in bar.strikes}
    slots = []
    for beat in range(0, bar.length, TICKS_PER_BEAT):
        here = range(beat, beat + TICKS_PER_BEAT)
        struck = tuple(strike for strike in bar.strikes if strike.onset in here)
        text = ",".join(parts[onset] for onset in here if onset in parts)
        slots.append((beat, struck, text or SLASH))
    return slots


def groups_of(bar: Bar, free: bool) -> list[str]:
    """The text of a bar in pieces, each of which begins with a strike (except a held start)."""
    groups: list[str] = []
    waiting = [] if bar.meter is None else [str(bar.meter)]
    waiting += (typed_mark(mark) for mark in bar.marks if mark.place == "start")
    cues = list(bar.cues)
    over_beats = [mark for mark in bar.marks if mark.place == "beat"]
    for onset, strikes, text in _slots(bar, free):
        while cues and cues[0].onset <= onset:
            waiting.append(f'"{cues.pop(0).text}"')
        here = [typed_mark(mark) for mark in over_beats if mark.onset == onset]
        text = " ".join([text, *here])
        if not strikes and groups:
            groups[-1] = " ".join([groups[-1], *waiting, text])
        else:
            groups.append(" ".join([*waiting, text]))
        waiting = []
    if bar.rest:
        waiting += (f'"{cue.text}"' for cue in cues)
        cues = []
    if bar.simile or bar.rest:
        sign = "%" * bar.simile or ("rest" if bar.rest == 1 else f"rest {bar.rest}")
        groups.append(" ".join([*waiting, sign, *map(typed_mark, over_beats)]))
        waiting = []
    ending = [typed_mark(mark) for mark in bar.marks if mark.place == "end"]
    tail = [*waiting, *(f'"{cue.text}"' for cue in cues), *ending]
    if tail:
        groups[-1:] = [" ".join([*groups[-1:], *tail])]
    return groups


def places_of(bar: Bar, free: bool) -> list[int]:
    """How many places for words each group has: one for each strike in it, and one for a
    held start."""
    places: list[int] = []
    for onset, strikes, _ in _slots(bar, free):
        if not places:
            held = not strikes or (not free and strikes[0].onset > onset)
            places.append(len(strikes) + held)
        elif strikes:
            places.append(len(strikes))
    return places or [1]


def _strike(strike: Strike) -> str:
    if strike.chord is None:
        name = "N.C."
    elif strike.bass_only:
        name = "/" + str(strike.chord).rpartition("/")[2]
    else:
        name = str(strike.chord)
    return as_typed(name, strike)
