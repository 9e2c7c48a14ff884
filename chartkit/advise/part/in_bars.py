"""Writes a rhythm figure into a bar: its chords are struck where the figure strikes."""

from dataclasses import dataclass, replace

from chartkit.advise.part.figures import Figure
from chartkit.chart.model import TICKS_PER_BEAT, Bar, Strike


@dataclass(frozen=True, slots=True)
class RhythmicBar:
    """A bar with its rhythm; ``begins_silent`` where the first chord now enters after a rest,
    so that the words on the bar's first beat stand before it."""

    bar: Bar
    begins_silent: bool = False


def keeps_its_rhythm(bar: Bar) -> bool:
    """Whether a bar is left as it is: simile signs, rests, N.C., hits that the band plays
    together (rests and stops inside the bar, chords written between the beats), odd places in
    time."""
    return (
        not bar.length
        or bool(bar.simile or bar.rest or bar.pickup)
        or not bar.strikes
        or bool(bar.silences or bar.mutes)
        or any(strike.chord is None or strike.stopped for strike in bar.strikes)
        or any(strike.onset % TICKS_PER_BEAT for strike in bar.strikes)
    )


def with_figure(bar: Bar, figure: Figure) -> RhythmicBar:
    """The bar with its chords struck as the figure strikes.

    A chord without a stroke of the figure in its time is struck where it begins, so that every
    change is heard.
    """
    if keeps_its_rhythm(bar):
        return RhythmicBar(bar)
    strikes, struck = _struck(bar, figure)
    signs = _signs(struck, bar.length, figure)
    whole = _with_lengths(strikes, bar.length)
    only_changes = len(struck) == len(whole)
    if (
        only_changes
        and not (figure.short or bar.beats_written)
        and whole == _silent_rings(bar.strikes)
    ):
        ringing = figure.name == "let ring" and len(whole) == 1
        return RhythmicBar(replace(bar, strikes=(replace(whole[0], ringing=ringing), *whole[1:])))
    bar = replace(
        bar,
        strikes=whole,
        beats_written=True,
        holds=signs["hold"],
        slashes=signs["slash"],
        silences=signs["rest"],
        mutes=(),
    )
    silent = bool(whole) and whole[0].onset > 0
    return RhythmicBar(bar, silent)


def _struck(bar: Bar, figure: Figure) -> tuple[list[Strike], dict[int, Strike | None]]:
    """The strikes of the chords, and every place that the figure strikes: with a chord, or None
    where it strikes the last one again."""
    strikes: list[Strike] = []
    struck: dict[int, Strike | None] = {}
    for strike in bar.strikes:
        end = strike.onset + strike.length
        onsets = [onset for onset in figure.onsets if strike.onset <= onset < end] or [strike.onset]
        moved = onsets[0] != strike.onset
        strikes.append(
            replace(strike, onset=onsets[0], pushed=strike.pushed and not moved, ringing=False)
        )
        struck |= dict.fromkeys(onsets, None)
    struck |= {strike.onset: strike for strike in strikes}
    if bar.strikes[0].onset and 0 in figure.onsets:
        struck.setdefault(0, None)
    return strikes, struck


def _silent_rings(strikes: tuple[Strike, ...]) -> tuple[Strike, ...]:
    return tuple(replace(strike, ringing=False) for strike in strikes)


def _with_lengths(strikes: list[Strike], length: int) -> tuple[Strike, ...]:
    ends = [*(strike.onset for strike in strikes[1:]), length]
    return tuple(
        replace(strike, length=end - strike.onset)
        for strike, end in zip(strikes, ends, strict=True)
    )


def _signs(
    struck: dict[int, Strike | None], length: int, figure: Figure
) -> dict[str, tuple[int, ...]]:
    """Holds, slashes inside beats, and rests, by their onsets, so that every beat is written.

    There is silence before the bar's first stroke, and after a short one from the next beat or part
    of a beat.
    """
    signs: dict[str, list[int]] = {"hold": [], "slash": [], "rest": []}
    sounding = False
    for beat in range(0, length, TICKS_PER_BEAT):
        inside = [onset for onset in struck if beat < onset < beat + TICKS_PER_BEAT]
        parts = range(beat, beat + TICKS_PER_BEAT, figure.split if inside else TICKS_PER_BEAT)
        for onset in parts:
            if onset in struck:
                sounding = not figure.short
                if struck[onset] is None and inside:
                    signs["slash"].append(onset)
            else:
                signs["hold" if sounding else "rest"].append(onset)
    return {name: tuple(onsets) for name, onsets in signs.items()}
