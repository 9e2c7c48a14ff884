"""The values of settings: what each name may hold and what it means."""

import re
from collections.abc import Callable

from chartkit.chart.model import (
    BEST_CAPO,
    SETTING_NAMES,
    GivenShape,
    Meter,
    SettingName,
    SettingValue,
)
from chartkit.phrases import listed, nearest
from chartkit.syntax.symbol import NotAChord, read_symbol
from chartkit.theory.capo import parse_capo
from chartkit.theory.key import parse_key
from chartkit.theory.pitch import parse_range
from chartkit.theory.shape_text import parse_shape

BODY_NAMES: tuple[SettingName, ...] = ("key", "meter", "tempo", "feel", "capo")
"""The settings that may change inside the song."""

_METER = re.compile(r"(\d{1,2})\s*/\s*(\d{1,2})")
_MOST_BEATS = 32
_UNITS = (1, 2, 4, 8, 16, 32)
"""The notes that a beat can be, from whole notes to thirty-seconds."""


def _meter(text: str) -> Meter:
    match = _METER.fullmatch(text)
    if match is None:
        raise ValueError(f'"{text}" is not a meter: write one like 4/4 or 6/8')
    count, unit = int(match[1]), int(match[2])
    if unit not in _UNITS:
        units = listed(map(str, _UNITS), "or")
        raise ValueError(f'"{text}" is not a meter: the lower number is {units}')
    if not 0 < count <= _MOST_BEATS:
        raise ValueError(f'"{text}" is not a meter: the upper number is from 1 to {_MOST_BEATS}')
    return Meter(count, unit)


def _tempo(text: str) -> int:
    if not text.isdecimal() or not 10 <= int(text[:6]) <= 400:
        raise ValueError(
            f'"{text}" is not a tempo: give the beats per minute, a whole number from 10 to 400'
        )
    return int(text)


def _capo(text: str) -> SettingValue:
    return BEST_CAPO if text.lower() == BEST_CAPO else parse_capo(text).setting


def _shape(text: str) -> GivenShape:
    symbol, _, frets = text.partition(" ")
    chord = read_symbol(symbol)
    if isinstance(chord, NotAChord) or not frets:
        raise ValueError(f'"{text}" is not a shape: write the chord and its frets, G 320003')
    return GivenShape(chord, parse_shape(frets))


def _chords(text: str) -> str:
    if text.lower() not in ("sounding", "shapes"):
        raise ValueError(f'chords are "sounding" or "shapes", not "{text}"')
    return text.lower()


def _language(text: str) -> str:
    if re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", text) is None:
        raise ValueError(f'"{text}" is not a language tag such as en, de or pt-BR')
    return text


_VALUE_READERS: dict[SettingName, Callable[[str], SettingValue]] = {
    "key": parse_key,
    "meter": _meter,
    "tempo": _tempo,
    "range": parse_range,
    "capo": _capo,
    "shape": _shape,
    "chords": _chords,
    "language": _language,
}


def setting_value(name: SettingName, text: str) -> SettingValue:
    """The value of a setting from its text. Raises ValueError in plain words."""
    return _VALUE_READERS.get(name, str)(text)


def nearest_name(name: str) -> str | None:
    """The setting that another word means, or whose name is closest to a misspelt one; or None."""
    if (meant := _OTHER_NAMES.get(name.lower())) is not None:
        return meant
    close = nearest(name, SETTING_NAMES, 0.55)
    return next((known for known in SETTING_NAMES if known == close), None)


_OTHER_NAMES: dict[str, SettingName] = {
    "time": "meter",
    "time signature": "meter",
    "signature": "meter",
    "bpm": "tempo",
    "speed": "tempo",
    "composer": "writer",
    "author": "writer",
    "artist": "writer",
    "by": "writer",
    "style": "feel",
    "groove": "feel",
    "name": "title",
    "song": "title",
    "vocal range": "range",
    "voice": "range",
    "modulate": "key",
    "modulation": "key",
    "key change": "key",
    "tuning": "instrument",
    "genre": "feel",
    "rhythm": "feel",
    "words by": "writer",
    "music by": "writer",
    "written by": "writer",
    "lyrics by": "writer",
    "remark": "note",
    "comment": "note",
    "fingering": "shape",
    "grip": "shape",
}
"""Other names for settings (common practice, no source)."""
