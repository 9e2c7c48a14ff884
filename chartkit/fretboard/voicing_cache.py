"""Voicings kept on disk between runs, each chord's by itself.

The key of an entry covers everything that its voicings depend on: the instrument, the weights, the
hand, this package's source, and the tones.  An entry is JSON.
"""

import json
from collections.abc import Mapping
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from chartkit.disk_cache import DiskCache, digest_of
from chartkit.fretboard.tones import Tones
from chartkit.fretboard.voicing import Voicing
from chartkit.private_folder import user_cache_folder

_FOLDER = "chartkit/voicings"


def cache_folder() -> Path | None:
    """The folder for voicings; None without a home folder."""
    return user_cache_folder(_FOLDER)


@cache
def _program_digest() -> str:
    """A digest of this room's program text, so that a changed search is a new cache."""
    digest = sha256()
    for path in sorted(Path(__file__).parent.glob("*.py")):
        digest.update(path.read_bytes())
    return digest.hexdigest()


def content_key(*parts: object) -> str:
    """The beginning of the keys of a fretboard made from these values."""
    return digest_of(_program_digest(), *parts)


class VoicingCache:
    """The voicings of one fretboard on disk; only those asked for are read."""

    def __init__(self, cache: DiskCache, fretboard_key: str) -> None:
        """``fretboard_key`` is that of ``content_key``."""
        self._cache = cache
        self._fretboard_key = fretboard_key

    def get(self, tones: Tones) -> tuple[Voicing, ...] | None:
        """The voicings kept for a chord; None if there are none that can be read."""
        body = self._cache.get(self._key(tones))
        try:
            return None if body is None else tuple(map(_voicing, json.loads(body)))
        except (ValueError, TypeError, LookupError):
            return None

    def save(self, voicings_of: Mapping[Tones, tuple[Voicing, ...]]) -> None:
        """Keeps these chords beside what is kept already."""
        self._cache.put(
            {
                self._key(tones): json.dumps(
                    [_voicing_values(voicing) for voicing in voicings], separators=(",", ":")
                ).encode()
                for tones, voicings in voicings_of.items()
            }
        )

    def _key(self, tones: Tones) -> str:
        return digest_of(self._fretboard_key, tones_values(tones))


def tones_values(tones: Tones) -> list[Any]:
    """The values on which a chord's voicings depend, always in the same order."""
    return [
        sorted(tones.required),
        tones.optional,
        tones.bass,
        tones.foreign_bass,
        tones.root,
        tones.third,
        tones.fifth,
        tones.tensions,
    ]


def _voicing_values(voicing: Voicing) -> list[Any]:
    sparse = [[i, value] for i, value in enumerate(voicing.features) if value]
    return [
        voicing.frets,
        voicing.fingers,
        voicing.barre,
        voicing.pitches,
        voicing.cost,
        voicing.effort,
        len(voicing.features),
        sparse,
    ]


def _voicing(values: list[Any]) -> Voicing:
    frets, fingers, barre, pitches, cost, effort, count, sparse = values
    features = [0.0] * count
    for i, value in sparse:
        features[i] = value
    return Voicing(
        frets=tuple(frets),
        fingers=tuple(fingers),
        barre=None if barre is None else (barre[0], barre[1], barre[2]),
        pitches=tuple(pitches),
        cost=cost,
        effort=effort,
        features=tuple(features),
    )
