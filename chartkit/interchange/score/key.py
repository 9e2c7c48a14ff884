"""The key of a score: whether its signature agrees with the music, and major or minor where no
mode is named."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from chartkit.chart.model import Chart, MusicRow, Row, SettingRow
from chartkit.chart.walk import iter_music
from chartkit.interchange.taken import Findings
from chartkit.theory.key import MODES, Key
from chartkit.theory.key_estimate import correlation, enough_to_tell, profiled_key, share_outside
from chartkit.theory.note import pitch_class_of


def with_modes(chart: Chart, melody: Sequence[float], findings: Findings) -> Chart:
    """The chart, each major key in minor where its music fits the relative minor better.

    The chords of all places in one key count together, and the melody too where the song has
    one key only.  Each change is told as a guess.
    """
    sounding = _music_by_key(chart)
    heard = melody if len(sounding) == 1 else (0,) * 12
    minor = {
        key: relative
        for key, rows in sounding.items()
        if (relative := _minor(key, together(heard, sounding_weights(rows)), findings)) is not None
    }
    if not minor:
        return chart

    top = tuple(_meant(row, minor) if isinstance(row, SettingRow) else row for row in chart.top)
    return Chart(top, tuple(replace(s, rows=_meant_rows(s.rows, minor)) for s in chart.sections))


def _meant_rows(rows: tuple[Row, ...], minor: dict[Key, Key]) -> tuple[Row, ...]:
    return tuple(_meant(row, minor) if isinstance(row, SettingRow) else row for row in rows)


def _meant(row: SettingRow, minor: dict[Key, Key]) -> SettingRow:
    return (
        replace(row, value=minor.get(row.value, row.value)) if isinstance(row.value, Key) else row
    )


def _music_by_key(chart: Chart) -> dict[Key, list[MusicRow]]:
    key = chart.key
    found: dict[Key, list[MusicRow]] = {}
    for section in chart.sections:
        for row in section.rows:
            if isinstance(row, SettingRow) and isinstance(row.value, Key):
                key = row.value
            elif isinstance(row, MusicRow) and key is not None:
                found.setdefault(key, []).append(row)
    return found


def _minor(key: Key, weights: Sequence[float], findings: Findings) -> Key | None:
    """The minor key of the same signature, if the music fits it noticeably better."""
    if key.mode != "major" or not enough_to_tell(weights):
        return None
    relative = Key(key.signature - MODES["minor"], "minor")
    major_fit = correlation(weights, pitch_class_of(key.tonic), "major")
    minor_fit = correlation(weights, pitch_class_of(relative.tonic), "minor")
    if minor_fit - major_fit <= NOTICEABLE_FIT:
        return None
    findings.guess(
        "mode-guessed",
        f"the signature names no mode; the music fits {relative} better than {key} "
        f"(Krumhansl-Kessler profiles, {minor_fit:.2f} to {major_fit:.2f}), and that is written",
    )
    return relative


_NOTICEABLE_SHARE = 0.02
NOTICEABLE_FIT = 0.05
"""How much better another key must fit before anything is said; ours, no source."""


def chord_weights(chart: Chart) -> list[int]:
    """How long each pitch class sounds in the chords of a chart, in ticks; one tick in free
    time."""
    return sounding_weights(iter_music(chart.sections))


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
