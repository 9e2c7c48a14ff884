"""Announces a move of the capo in the silence before it, so that nobody reads of it too late."""

from collections.abc import Iterator
from dataclasses import replace

from chartkit.arrange.arrangement import ArrangedBar, ArrangedSection, ArrangedSystem
from chartkit.chart.model import TICKS_PER_BEAT, Cue
from chartkit.chart.signs import SILENCE, SLASH, plain_slashes, written_signs


def with_capo_notices(sections: tuple[ArrangedSection, ...]) -> tuple[ArrangedSection, ...]:
    """The sections with a cue where the row before a move of the capo falls silent.

    A row that is played several times has none, since the capo moves after the last time alone.
    """
    noticed = [list(section.systems) for section in sections]
    before: tuple[int, int] | None = None
    for number, section in enumerate(sections):
        for row, system in enumerate(section.systems):
            move = next((one.text for one in system.above if one.kind == "capo"), "")
            if move and before is not None:
                at, last = before
                noticed[at][last] = _noticed(noticed[at][last], _words(move))
            if system.bars:
                once = section.times == 1 and not section.same_as
                before = (number, row) if once else None
    return tuple(
        replace(section, systems=tuple(systems))
        for section, systems in zip(sections, noticed, strict=True)
    )


def _words(move: str) -> str:
    """What a player does: the announcement over the row after it, without its shapes."""
    where = move.partition(":")[0].partition(" ")[2]
    return f"capo {where}" if where == "off" else f"capo to {where}"


def _noticed(system: ArrangedSystem, words: str) -> ArrangedSystem:
    """The row with the words where the silence at its end begins, if it ends in one."""
    silence = next(iter(reversed(list(_silence_at_end(system.bars)))), None)
    if silence is None:
        return system
    number, onset = silence
    bars = list(system.bars)
    bar = bars[number].bar
    cues = tuple(sorted((*bar.cues, Cue(words, onset)), key=lambda cue: cue.onset))
    bars[number] = replace(bars[number], bar=replace(bar, cues=cues))
    return replace(system, bars=tuple(bars))


def _silence_at_end(bars: tuple[ArrangedBar, ...]) -> Iterator[tuple[int, int]]:
    """The number of each bar in which the silence at the end of a row lasts, the last bar first,
    and where in the bar, in ticks, it begins."""
    for number in range(len(bars) - 1, -1, -1):
        arranged = bars[number]
        if arranged.bar.simile or arranged.tied:
            return
        begins = 0 if arranged.bar.rest else _silent_from(arranged)
        if begins < arranged.bar.length or arranged.bar.rest:
            yield number, begins
        if begins:
            return


def _silent_from(arranged: ArrangedBar) -> int:
    """Where the silence at the end of a bar begins, in ticks; its length if there is none.  A chord
    that is stopped short is silent from the next beat on."""
    bar = arranged.bar
    plain = plain_slashes(bar) if bar.beats_written else ()
    signs = {**dict.fromkeys(plain, SLASH), **written_signs(bar)}
    played = [onset + 1 for onset, sign in signs.items() if sign != SILENCE]
    silent = [onset for onset, sign in signs.items() if sign == SILENCE]
    for strike in arranged.strikes:
        if any(strike.names):
            played.append(strike.onset + (TICKS_PER_BEAT if strike.stopped else 1))
        else:
            silent.append(strike.onset)
        silent += [strike.onset + TICKS_PER_BEAT] * strike.stopped
    return min((onset for onset in silent if onset >= max(played, default=0)), default=bar.length)
