"""Voicings on disk: the same answers, private files, and nothing that damage can break."""

import multiprocessing
import os
import stat
from pathlib import Path

import pytest

from chartkit.fretboard.instruments import GUITAR, UKULELE
from chartkit.fretboard.store import BoardStore
from chartkit.fretboard.voicing_cache import VoicingCache, cache_folder, content_key
from chartkit.fretboard.weights import Weights
from chartkit.syntax.symbol import read_symbol

NAMES = ("C", "F#m7", "Bb", "D/F#", "G13")


def filled(folder: Path, names: tuple[str, ...] = NAMES) -> dict[str, object]:
    """The voicings of some chords, found and kept in a folder."""
    store = BoardStore(folder)
    board = store.board(GUITAR)
    found = {name: board.voicings(read_symbol(name)) for name in names}
    store.save()
    return found


def kept_file(folder: Path) -> Path:
    """The one file in the folder."""
    (path,) = folder.glob("*.json")
    return path


def test_kept_voicings_are_the_found_ones(tmp_path: Path) -> None:
    """Voicings read back are equal to those written, to the last bit of every number."""
    folder = tmp_path / "kept" / "voicings"
    found = filled(folder)
    key = kept_file(folder).stem
    loaded = VoicingCache(folder, key).load()
    assert len(loaded) == len(NAMES)
    assert sorted(map(repr, loaded.values())) == sorted(map(repr, found.values()))


def test_kept_voicings_spare_the_search(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second run answers from the folder without searching."""
    folder = tmp_path / "kept" / "voicings"
    found = filled(folder)
    monkeypatch.setattr("chartkit.fretboard.search.window_patterns", None)
    assert filled(folder) == found


def test_files_are_the_users_own(tmp_path: Path) -> None:
    """Folders are made 0700 and files 0600, whatever the umask lets through."""
    before = os.umask(0)
    try:
        filled(tmp_path / "kept" / "voicings")
    finally:
        os.umask(before)
    for path, mode in (("kept", 0o700), ("kept/voicings", 0o700)):
        assert stat.S_IMODE((tmp_path / path).stat().st_mode) == mode
    assert stat.S_IMODE(kept_file(tmp_path / "kept" / "voicings").stat().st_mode) == 0o600


def test_a_folder_others_may_write_in_is_not_used(tmp_path: Path) -> None:
    """Where somebody else could plant a file nothing is read or written."""
    folder = tmp_path / "kept" / "voicings"
    folder.mkdir(parents=True)
    folder.chmod(0o777)
    filled(folder)
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize("harm", ["cut", "flip", "empty", "garbage", "forged", "folder"])
def test_damage_is_mended(tmp_path: Path, harm: str) -> None:
    """A cut, changed, empty or foreign file is taken for none and written anew."""
    folder = tmp_path / "kept" / "voicings"
    found = filled(folder)
    path = kept_file(folder)
    whole = path.read_bytes()
    harmed = {
        "cut": whole[: len(whole) // 2],
        "flip": whole.replace(b"1", b"2", 400),
        "empty": b"",
        "garbage": os.urandom(5000),
        "forged": whole.split(b"\n")[0] + b"\n[[1, 2], null]",
        "folder": b"",
    }[harm]
    path.write_bytes(harmed)
    if harm == "folder":
        path.unlink()
        path.mkdir()
    assert filled(folder) == found
    if harm != "folder":
        assert path.read_bytes() == whole


def test_well_signed_nonsense_is_not_believed(tmp_path: Path) -> None:
    """A file whose digest fits but whose content is no voicings is taken for none."""
    from hashlib import sha256

    cache = VoicingCache(tmp_path, "k")
    for body in (b"[]", b"{}", b"[[1,2]]", b"[[[[],[],0,false,0,null,null],[[1]]]]", b"null", b"9"):
        (tmp_path / "k.json").write_bytes(sha256(body).hexdigest().encode() + b"\n" + body)
        assert cache.load() == {}


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


def _fill(folder: str, names: tuple[str, ...]) -> None:
    for _ in range(5):
        filled(Path(folder), names)


def test_two_processes_at_once(tmp_path: Path) -> None:
    """Processes that write together leave a sound file and no litter."""
    folder = tmp_path / "kept" / "voicings"
    context = multiprocessing.get_context("spawn")
    parts = (("C", "F"), ("G", "Am"), ("D", "Em"))
    workers = [context.Process(target=_fill, args=(str(folder), part)) for part in parts]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join(60)
    assert [worker.exitcode for worker in workers] == [0, 0, 0]
    loaded = VoicingCache(folder, kept_file(folder).stem).load()
    assert 2 <= len(loaded) <= 6
    assert [path.suffix for path in folder.iterdir()] == [".json"]


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
    assert store.board(GUITAR).voicings(read_symbol("C"))
    store.save()


def test_an_unwritable_folder_is_no_error(tmp_path: Path) -> None:
    """Where nothing can be written the voicings are found all the same."""
    (tmp_path / "file").write_text("in the way")
    assert filled(tmp_path / "file" / "kept")
