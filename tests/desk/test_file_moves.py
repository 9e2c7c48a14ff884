"""A file of the folder gets another name, or is deleted and taken back."""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from chartkit.desk.file_moves import deleted_file, deleted_names, renamed_file, taken_back
from chartkit.desk.folder import FileChanged, Folder
from chartkit.desk.requests import FileRequest, RenameRequest
from chartkit.files import Unusable
from tests.desk.conftest import SONG, Served

SET = '# ours\nname = "Friday"\n\n[[songs]]\nchart = "one.chart"  # opens\n\n'
SET += '[[players]]\nname = "Ada"\nsits_out = ["one.chart", 1]  # hers\n'


@pytest.fixture
def folder(tmp_path: Path) -> Folder:
    """A folder with a song, another one, and a set that names the first."""
    for name, text in (("one.chart", SONG), ("two.chart", "| C |\n"), ("night.toml", SET)):
        (tmp_path / name).write_text(text, encoding="utf-8")
    return Folder(tmp_path)


def test_a_song_is_renamed_in_its_sets_too(folder: Folder) -> None:
    """The file has its new name, and so have the songs of sets that name it and those that players
    sit out, comments kept; no other file is written over, and none that has changed meanwhile is
    moved."""
    version = folder.read("one.chart").version
    for to in ("two.chart", "../out.chart", "one.toml"):
        with pytest.raises(Unusable):
            renamed_file(folder, RenameRequest(name="one.chart", to=to, version=version))
    with pytest.raises(FileChanged):
        renamed_file(folder, RenameRequest(name="one.chart", to="three.chart", version="other"))
    assert folder.read("one.chart").text == SONG and folder.read("night.toml").text == SET
    renamed = renamed_file(
        folder, RenameRequest(name="one.chart", to="three.chart", version=version)
    )
    assert renamed == {"sets": ["night.toml"]}
    assert folder.read("three.chart").text == SONG
    assert folder.read("night.toml").text == SET.replace("one", "three")


def test_deleted_songs_are_kept_one_by_one(folder: Folder) -> None:
    """A deleted song is out of the folder's list and comes back as it was; a second one of its
    name does not push out the first, and neither is put over a song that has come meanwhile."""
    for text in (SONG, "| D |\n"):
        folder.path("one.chart").write_text(text, encoding="utf-8")
        version = folder.read("one.chart").version
        assert deleted_file(folder, FileRequest(name="one.chart", version=version)) == {
            "sets": ["night.toml"]
        }
    assert [one.name for one in folder.entries()] == ["night.toml", "two.chart"]
    assert set(deleted_names(folder)) == {"one.chart", "one (2).chart"}
    taken_back(folder, FileRequest(name="one.chart"))
    assert folder.read("one.chart").text == SONG
    folder.path("one (2).chart").write_text("| E |\n", encoding="utf-8")
    with pytest.raises(Unusable, match="already"):
        taken_back(folder, FileRequest(name="one (2).chart"))
    with pytest.raises(Unusable):
        taken_back(folder, FileRequest(name="../two.chart"))


def test_a_song_is_renamed_deleted_and_taken_back_at_the_desk(page: Any, served: Served) -> None:
    """The door beside the file's name offers the name that the title gives; what is deleted is
    found under the list of songs."""
    served.path("lantern-road.chart").rename(served.path("scan-12.chart"))
    page.goto(f"http://{served.host}/#scan-12.chart")
    page.reload()
    page.click("text=rename, delete")
    expect(page.locator("#new-name")).to_have_value("lantern-road")
    page.keyboard.press("Enter")
    expect(page.locator("#state")).to_contain_text("lantern-road.chart")
    assert not served.path("scan-12.chart").exists()
    page.click("text=rename, delete")
    page.click("text=Delete it")
    expect(page.locator("#songs")).to_be_visible()
    assert not served.path("lantern-road.chart").exists()
    page.click("text=Deleted songs")
    page.click("text=take back lantern-road.chart")
    expect(page.locator("#title")).to_have_text("Lantern Road")
    assert served.path("lantern-road.chart").read_text(encoding="utf-8") == SONG
