"""Voicings on disk: the same answers, private files, and nothing that damage can break."""

from pathlib import Path

import pytest

from chartkit.disk_cache import DiskCache, digest_of
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instruments import GUITAR, UKULELE
from chartkit.fretboard.store import BoardStore
from chartkit.fretboard.tones import tones_of
from chartkit.fretboard.voicing import Voicing
from chartkit.fretboard.voicing_cache import VoicingCache, cache_folder, content_key, tones_values
from chartkit.fretboard.weights import Weights
from chartkit.syntax.symbol import chord_or_none

NAMES = ("C", "F#m7", "Bb", "D/F#", "G13")


def filled(folder: Path, names: tuple[str, ...] = NAMES) -> dict[str, tuple[Voicing, ...]]:
    """The voicings of some chords, found and kept in a folder."""
    store = BoardStore(folder)
    board = store.board(GUITAR)
    grips = {name: board.voicings(chord_or_none(name)) for name in names}
    store.save()
    return grips


def test_kept_voicings_are_those_worked_out(tmp_path: Path) -> None:
    """Voicings read back are equal to those written, to the last bit of every number."""
    folder = tmp_path / "kept" / "voicings"
    grips = filled(folder)
    kept = VoicingCache(DiskCache(folder), content_key((GUITAR, 0, 0), Weights(), Hand()))
    for name in NAMES:
        assert repr(kept.get(tones_of(chord_or_none(name)))) == repr(grips[name])


def test_kept_voicings_spare_the_search(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second run answers from the folder without searching."""
    folder = tmp_path / "kept" / "voicings"
    grips = filled(folder)
    monkeypatch.setattr("chartkit.fretboard.search.window_patterns", None)
    assert filled(folder) == grips


def test_well_signed_nonsense_is_not_believed(tmp_path: Path) -> None:
    """An entry that is whole but no voicings is taken for none."""
    disk, tones = DiskCache(tmp_path / "kept" / "voicings"), tones_of(chord_or_none("C"))
    cache = VoicingCache(disk, "k")
    cache.save({tones: ()})
    assert cache.get(tones) == ()
    for body in (b"{", b"[[1,2]]", b"null", b"9", b"[7]", b"[null]"):
        disk.put({digest_of("k", tones_values(tones)): body})
        assert cache.get(tones) is None


def test_the_key_follows_the_content() -> None:
    """Another instrument, capo, tuning or weight is another file."""
    weights = Weights()
    keys = {
        content_key((GUITAR, 0, 0), weights),
        content_key((GUITAR, 1, 0), weights),
        content_key((GUITAR, 0, 1), weights),
        content_key((UKULELE, 0, 0), weights),
        content_key((GUITAR, 0, 0), Weights(strain=3.0)),
    }
    assert len(keys) == 5
    assert content_key((GUITAR, 0, 0), Weights()) in keys


def test_where_the_cache_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """XDG_CACHE_HOME leads, then HOME; a relative path counts for nothing, no home for none."""
    monkeypatch.setenv("XDG_CACHE_HOME", "/somewhere/kept")
    assert cache_folder() == Path("/somewhere/kept/chartkit/voicings")
    monkeypatch.setenv("XDG_CACHE_HOME", "relative")
    monkeypatch.setenv("HOME", "/home/player")
    assert cache_folder() == Path("/home/player/.cache/chartkit/voicings")
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.delenv("HOME")
    assert cache_folder() is None
    store = BoardStore(cache_folder())
    assert store.board(GUITAR).voicings(chord_or_none("C"))
    store.save()


def test_an_unwritable_folder_is_no_error(tmp_path: Path) -> None:
    """Where nothing can be written the voicings are found all the same."""
    (tmp_path / "file").write_text("in the way")
    assert filled(tmp_path / "file" / "kept")
