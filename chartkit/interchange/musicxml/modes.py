"""Major or minor, where key signatures name no mode."""

from collections.abc import Sequence
from dataclasses import replace
from xml.etree.ElementTree import Element

from chartkit.chart.model import Chart, MusicRow, Row, SettingRow
from chartkit.interchange.musicxml.elements import text_of
from chartkit.interchange.musicxml.signature import NOTICEABLE_FIT, sounding_weights, together
from chartkit.interchange.taken import Findings
from chartkit.theory.key import MODES, Key
from chartkit.theory.key_estimate import correlation, enough_to_tell
from chartkit.theory.note import pitch_class_of


def names_no_mode(root: Element) -> bool:
    """Whether the score has key signatures and none of them names its mode."""
    keys = list(root.iter("key"))
    return bool(keys) and not any(text_of(key, "mode") for key in keys)


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
