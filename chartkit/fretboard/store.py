"""Fretboards in use, and their voicings kept on disk between runs."""

from functools import cache
from pathlib import Path

from chartkit.disk_cache import DiskCache
from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.voicing_cache import VoicingCache, content_key
from chartkit.fretboard.weights import Weights


class BoardStore:
    """Hands out one fretboard for each instrument, capo and tuning.

    With a folder, a fretboard looks for voicings there before it searches, and ``save`` keeps what
    has been computed since.  ``voicing_cache.cache_folder()`` is the user's own folder.
    """

    def __init__(
        self,
        folder: Path | None = None,
        weights: Weights | None = None,
        hand: Hand | None = None,
    ) -> None:
        """``folder`` None keeps nothing on disk."""
        self._cache = None if folder is None else DiskCache(folder)
        self._weights = weights or Weights()
        self._hand = hand or Hand()
        self._boards: dict[tuple[Instrument, int, int], Fretboard] = {}

    def board(self, instrument: Instrument, capo: int = 0, down: int = 0) -> Fretboard:
        """The fretboard of the instrument with that capo, tuned down so many half steps."""
        place = (instrument, capo, down)
        board = self._boards.get(place)
        if board is None:
            nut = self.board(instrument) if capo or down else None
            kept = None if nut else self._kept(place)
            board = Fretboard(
                instrument,
                capo,
                down,
                weights=self._weights,
                hand=self._hand,
                nut=nut,
                recall=None if kept is None else kept.get,
            )
            self._boards[place] = board
        return board

    def save(self) -> None:
        """Keeps on disk what was computed since the last time."""
        for place, board in list(self._boards.items()):  # another thread may add one
            news = board.news()
            kept = self._kept(place) if news else None
            if kept is not None:
                kept.save(news)

    def _kept(self, place: tuple[Instrument, int, int]) -> VoicingCache | None:
        if self._cache is None:
            return None
        return VoicingCache(self._cache, content_key(place, self._weights, self._hand))


@cache
def shared_boards() -> BoardStore:
    """The fretboards of this run, with our own weights and nothing on disk."""
    return BoardStore()
