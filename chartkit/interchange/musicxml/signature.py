"""Whether the key signature agrees with the music, and what would agree better."""

from collections.abc import Sequence

from chartkit.chart.model import Chart, MusicRow, Strike
from chartkit.interchange.taken import Findings
from chartkit.theory.key import Key
from chartkit.theory.key_estimate import correlation, profiled_key, share_outside
from chartkit.theory.note import pitch_class_of

_FEWEST_PITCH_CLASSES = 5
"""With fewer, many keys fit; ours, no source."""
_NOTICEABLE_SHARE = 0.02
_NOTICEABLE_FIT = 0.05
"""How much better another key must fit before anything is said; ours, no source."""


def chord_weights(chart: Chart) -> list[int]:
    """How long each pitch class sounds in the chords of a chart, in ticks; one tick in free
    time."""
    weights = [0] * 12
    for strike in _strikes(chart):
        if strike.chord is not None:
            for pitch_class in strike.chord.pitch_classes:
                weights[pitch_class] += strike.length or 1
    return weights


def _strikes(chart: Chart) -> list[Strike]:
    return [
        strike
        for section in chart.sections
        for row in section.rows
        if isinstance(row, MusicRow)
        for bar in row.bars
        for strike in bar.strikes
    ]


def tell_key(
    declared: Key | None, melody: Sequence[float], chords: Sequence[float], findings: Findings
) -> None:
    """Notes a key that fits the music better than the declared one, which is kept.

    Melody and chords count alike.  Something is said only when the better key has another
    signature and leaves noticeably less of the music outside its scale.
    """
    weights = _together(melody, chords)
    if sum(weight > 0 for weight in weights) < _FEWEST_PITCH_CLASSES:
        return
    better, fit = profiled_key(weights)
    if declared is None:
        findings.guess("no-key", f"no key is given; the music fits {better} best "
                       "(Krumhansl-Kessler profiles)")  # fmt: skip
        return
    own = correlation(weights, pitch_class_of(declared.tonic), _kind(declared))
    gain = share_outside(weights, declared) - share_outside(weights, better)
    if (
        better.signature != declared.signature
        and gain > _NOTICEABLE_SHARE
        and fit - own > _NOTICEABLE_FIT
    ):
        findings.guess(
            "key-doubtful",
            f"the signature says {declared}, and that is kept; the music fits {better} better "
            f"(Krumhansl-Kessler profiles, {fit:.2f} to {own:.2f}): if so, write "
            f'"key: {better}"',
        )


def _kind(key: Key) -> str:
    return "minor" if "b3" in _third(key) else "major"


def _third(key: Key) -> str:
    third = (pitch_class_of(key.scale[2]) - pitch_class_of(key.tonic)) % 12
    return "b3" if third == 3 else "3"


def _together(melody: Sequence[float], chords: Sequence[float]) -> list[float]:
    """Both as shares of their own sum, added."""
    sums = sum(melody) or 1, sum(chords) or 1
    return [m / sums[0] + c / sums[1] for m, c in zip(melody, chords, strict=True)]
