"""Voicings kept on disk between runs.

One file for each fretboard, named by a digest of everything its voicings follow from: the
instrument, the capo, the tuning, the weights, the hand, and the program text of this room.
A file is a line with the digest of what follows, then JSON.  Whatever is not exactly that
is taken for empty and written anew.  Files are written aside and renamed, so two processes
never read half a file; they are the user's own (0700 and 0600).
"""

import json
from collections.abc import Mapping
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from chartkit.fretboard.tones import Tones
from chartkit.fretboard.voicing import Voicing
from chartkit.private_folder import keep, kept, user_cache

MOST_CHORDS = 2000
"""How many chords one file holds; past that it starts afresh."""

_FOLDER = "chartkit/voicings"


def cache_folder() -> Path | None:
    """Where voicings are kept; None with no home."""
    return user_cache(_FOLDER)


@cache
def _program_digest() -> str:
    """A digest of this room's program text, so that a changed search is a new cache."""
    found = sha256()
    for path in sorted(Path(__file__).parent.glob("*.py")):
        found.update(path.read_bytes())
    return found.hexdigest()


def content_key(*parts: object) -> str:
    """The name of the file for a fretboard made from these values."""
    return sha256(repr((_program_digest(), *parts)).encode()).hexdigest()[:32]


class VoicingCache:
    """The voicings of one fretboard on disk.

    Nothing here raises for a file that cannot be read or written: without a cache the
    voicings are worked out again.
    """

    def __init__(self, folder: Path, key: str) -> None:
        """``folder`` is made when it is first written to."""
        self._path = folder / f"{key}.json"

    def load(self) -> dict[Tones, tuple[Voicing, ...]]:
        """Every chord kept so far; empty when there is no sound file."""
        try:
            return {
                _tones(entry[0]): tuple(_voicing(values) for values in entry[1])
                for entry in json.loads(kept(self._path) or b"[]")
            }
        except (ValueError, TypeError, LookupError):
            return {}

    def save(self, found: Mapping[Tones, tuple[Voicing, ...]]) -> None:
        """Keeps these chords beside those that another process has kept meanwhile."""
        merged = {**self.load(), **found}
        if len(merged) > MOST_CHORDS:
            merged = dict(found)
        entries = [
            [_tones_values(tones), [_voicing_values(voicing) for voicing in voicings]]
            for tones, voicings in merged.items()
        ]
        keep(self._path, json.dumps(entries, separators=(",", ":")).encode())


def _tones_values(tones: Tones) -> list[Any]:
    return [
        sorted(tones.required), tones.optional, tones.bass, tones.foreign_bass, tones.root,
        tones.third, tones.fifth, tones.tensions,
    ]  # fmt: skip


def _tones(values: list[Any]) -> Tones:
    required, optional, bass, foreign, root, third, fifth, tensions = values
    pairs = tuple((int(tone), float(penalty)) for tone, penalty in optional)
    weights = tuple((int(tone), int(weight)) for tone, weight in tensions)
    return Tones(frozenset(required), pairs, bass, foreign, root, third, fifth, weights)


def _voicing_values(voicing: Voicing) -> list[Any]:
    sparse = [[i, value] for i, value in enumerate(voicing.features) if value]
    return [
        voicing.frets, voicing.fingers, voicing.barre, voicing.pitches, voicing.cost,
        voicing.effort, len(voicing.features), sparse,
    ]  # fmt: skip


def _voicing(values: list[Any]) -> Voicing:
    frets, fingers, barre, pitches, cost, effort, count, sparse = values
    features = [0.0] * count
    for i, value in sparse:
        features[i] = value
    return Voicing(
        tuple(frets),
        tuple(fingers),
        None if barre is None else (barre[0], barre[1], barre[2]),
        tuple(pitches),
        cost,
        effort,
        tuple(features),
    )
