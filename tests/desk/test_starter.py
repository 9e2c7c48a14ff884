"""A file on the desktop that opens the desk with a double click."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from chartkit.desk.starter import (
    SIGN,
    Platform,
    linux_starter,
    mac_starter,
    make_starter,
    starters,
    windows_starter,
)
from chartkit.files import Unusable

ODD = "Tobias' & Maren's $HOME `songs` 100% \"late\" \\ Straße"
"""A folder's name with every letter that a starter must write in another way."""


def system(home: Path, platform: str, **settings: str) -> Platform:
    """A machine with a desktop."""
    (home / "Desktop").mkdir(parents=True, exist_ok=True)
    return Platform(platform, home, settings, sys.executable)


def started_by(entry: str) -> list[str]:
    """What a desktop entry runs, read as the Desktop Entry Specification says: first the escapes of
    a string, then the quotes of a command, then percent signs."""
    value = re.search(r"^Exec=(.*)$", entry, re.MULTILINE)[1]
    plain = value.replace("\\\\", "\\")
    quoted = re.findall(r'"((?:[^"\\]|\\.)*)"', plain)
    return [re.sub(r"\\(.)", r"\1", one).replace("%%", "%") for one in quoted]


def test_on_linux() -> None:
    """A desktop entry runs this Python's chartkit over the folder, whatever its name."""
    entry = linux_starter("/opt/my python/bin/python", f"/home/maren/{ODD}", "songs")
    assert entry.splitlines()[:2] == [f"# {SIGN}", "[Desktop Entry]"]
    assert started_by(entry) == [
        *("/opt/my python/bin/python", "-m", "chartkit", "desk", f"/home/maren/{ODD}")
    ]
    assert "Terminal=true" in entry.splitlines()
    assert all(re.fullmatch(r"[A-Z]\w+=.+", row) for row in entry.splitlines()[2:])


def test_on_macos(tmp_path: Path) -> None:
    """A shell script, which a shell reads as it is meant, runs the same."""
    folder, python = tmp_path / ODD, tmp_path / "my python"
    python.write_text('#!/bin/sh\nfor one in "$@"; do echo "$one"; done\n')
    python.chmod(0o755)
    script = tmp_path / "songs.command"
    script.write_text(mac_starter(str(python), str(folder), "songs"))
    script.chmod(0o755)
    said = subprocess.run([script], capture_output=True, text=True, check=True).stdout
    assert said.splitlines() == ["-m", "chartkit", "desk", str(folder)]
    assert shlex.split(script.read_text().splitlines()[-1])[0] == "exec"


def test_on_windows() -> None:
    """A batch file says that it is UTF-8, quotes both paths, doubles percent signs, and stays open
    where the desk cannot start."""
    folder = r"C:\Users\Maren & Tobias\100% Straße"
    rows = windows_starter(r"C:\my python\python.exe", folder, "songs").split("\r\n")
    assert rows == [
        "@echo off",
        f"rem {SIGN}",
        "chcp 65001 >nul",
        r'"C:\my python\python.exe" -m chartkit desk "C:\Users\Maren & Tobias\100%% Straße"',
        "if errorlevel 1 pause",
        "",
    ]


@pytest.mark.parametrize(
    ("platform", "suffix"), [("linux", ".desktop"), ("darwin", ".command"), ("win32", ".cmd")]
)
def test_put_on_the_desktop(tmp_path: Path, platform: str, suffix: str) -> None:
    """It stands on the desktop under the folder's name, may be run, and is written anew."""
    songs = tmp_path / "Songs of ours"
    machine = system(tmp_path, platform)
    for _ in range(2):
        made = make_starter(songs, machine)
        assert made == [tmp_path / "Desktop" / f"Songs of ours - chartkit desk{suffix}"]
        assert os.access(made[0], os.X_OK)
        assert str(songs) in made[0].read_text(encoding="utf-8")
    assert [one.name for one in (tmp_path / "Desktop").iterdir()] == [made[0].name]


def test_never_over_another_file(tmp_path: Path) -> None:
    """A file of that name that is not a starter of ours stays, and nothing else is written."""
    machine = system(tmp_path, "linux")
    (tmp_path / ".local/share/applications").mkdir(parents=True)
    desktop, programs = starters(tmp_path / "songs", machine)
    programs.write_text("my own")
    with pytest.raises(Unusable, match="is there already"):
        make_starter(tmp_path / "songs", machine)
    assert programs.read_text() == "my own"
    assert not desktop.exists()
    programs.unlink()
    elsewhere = tmp_path / "elsewhere"
    elsewhere.write_text(f"# {SIGN}\n")
    desktop.symlink_to(elsewhere)
    with pytest.raises(Unusable):
        make_starter(tmp_path / "songs", machine)
    assert elsewhere.read_text() == f"# {SIGN}\n"


def test_where_linux_keeps_its_desktop(tmp_path: Path) -> None:
    """A desktop of another name is found; without any, the home folder has the starter."""
    machine = system(tmp_path, "linux", XDG_CONFIG_HOME=str(tmp_path / "settings"))
    (tmp_path / "settings").mkdir()
    (tmp_path / "Schreibtisch").mkdir()
    named = 'XDG_MUSIC_DIR="$HOME/Musik"\nXDG_DESKTOP_DIR="$HOME/Schreibtisch"\n'
    (tmp_path / "settings" / "user-dirs.dirs").write_text(named)
    assert starters(tmp_path / "songs", machine)[0].parent == tmp_path / "Schreibtisch"
    bare = Platform("linux", tmp_path / "settings", {}, sys.executable)
    assert [one.parent for one in starters(tmp_path / "songs", bare)] == [tmp_path / "settings"]


def test_the_command_makes_it(tmp_path: Path) -> None:
    """``chartkit desk FOLDER --make-starter`` says where it stands, and ends."""
    (tmp_path / "Desktop").mkdir()
    (tmp_path / "songs").mkdir()
    done = subprocess.run(
        [sys.executable, "-m", "chartkit", "desk", str(tmp_path / "songs"), "--make-starter"],
        env={**os.environ, "HOME": str(tmp_path), "XDG_DATA_HOME": "", "XDG_CONFIG_HOME": ""},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    made = list((tmp_path / "Desktop").iterdir())
    assert [f"{one}: a double click opens the desk" for one in made] == done.stderr.splitlines()
    assert len(made) == 1
