"""Whether the key signature agrees with the music, and what would agree better."""

from collections.abc import Iterable, Sequence

from chartkit.chart.model import Chart, MusicRow
from chartkit.interchange.taken import Findings
from chartkit.theory.key import Key
from chartkit.theory.key_estimate import correlation, enough_to_tell, profiled_key, share_outside
from chartkit.theory.note import pitch_class_of

_NOTICEABLE_SHARE = 0.02
NOTICEABLE_FIT = 0.05
"""How much better another key must fit before anything is said; ours, no source."""


def chord_weights(chart: Chart) -> list[int]:
    """How long each pitch class sounds in the chords of a chart, in ticks; one tick in free
    time."""
    rows = (row for section in chart.sections for row in section.rows if isinstance(row, MusicRow))
    return sounding_weights(rows)


def sounding_weights(rows: Iterable[MusicRow]) -> list[int]:
    """The same of some rows."""
    weights = [0] * 12
    for strike in (strike for row in rows for bar in row.bars for strike in bar.strikes):
        if strike.chord is not None:
            for pitch_class in strike.chord.pitch_classes:
                weights[pitch_class] += strike.length or 1
    return weights


def tell_key(
    declared: Key | None, melody: Sequence[float], chords: Sequence[float], findings: Findings
) -> None:
    """Notes a key that fits the music better than the declared one, which is kept.

    Melody and chords count alike.  Something is said only when the better key has another
    signature and leaves noticeably less of the music outside its scale.
    """
    weights = together(melody, chords)
    if not enough_to_tell(weights):
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
        and fit - own > NOTICEABLE_FIT
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


def together(melody: Sequence[float], chords: Sequence[float]) -> list[float]:
    """The weights of both as shares of their own sum, added."""
    sums = sum(melody) or 1, sum(chords) or 1
    return [m / sums[0] + c / sums[1] for m, c in zip(melody, chords, strict=True)]
