"""A starter: a file on the desktop that opens the desk with a double click."""

import os
import shlex
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path, PurePath

from chartkit.files import Unusable, write_whole

SIGN = "Made by chartkit desk --make-starter"
"""A line of every starter: a file without it is somebody else's and is not replaced."""
_MAY_RUN = 0o755
_LONGEST_STARTER = 100_000
_NOT_IN_NAMES = '<>:"/\\|?*'
"""Letters that a file's name cannot have on one of the systems."""


@dataclass(frozen=True, slots=True)
class Platform:
    """The facts of a machine that a starter needs."""

    platform: str
    """``sys.platform``."""
    home: Path
    settings: Mapping[str, str]
    """The environment."""
    python: str
    """The program that runs chartkit."""

    @classmethod
    def this(cls) -> "Platform":
        """The machine that runs this.  Raises Unusable without a home."""
        try:
            home = Path.home()
        except RuntimeError:
            raise Unusable("there is no home folder to make a starter in") from None
        return cls(sys.platform, home, os.environ, sys.executable)


def make_starter(folder: Path, system: Platform) -> list[Path]:
    """Writes a starter that opens the desk over a folder; returns where it stands.

    A starter of before is written anew.  Raises Unusable if a file of that name is not one of
    ours, or if nothing can be written there.
    """
    place = folder.resolve()
    content = _content(place, _name(place), system)
    paths = starters(folder, system)
    for path in paths:
        _keep_what_is_not_ours(path)
    for path in paths:
        write_whole(path, content)
        _let_it_run(path)
    return paths


def starters(folder: Path, system: Platform) -> list[Path]:
    """Where the starters of a folder stand, or would stand."""
    suffix = {"win32": ".cmd", "darwin": ".command"}.get(system.platform, ".desktop")
    return [place / f"{_name(folder.resolve())}{suffix}" for place in _places(system)]


def offered(folder: Path) -> str:
    """A line that says how a starter is made; empty where there is one, or no place for it."""
    try:
        if any(path.exists() for path in starters(folder, Platform.this())):
            return ""
    except (OSError, Unusable):
        return ""
    return "A double click can open it another day: chartkit desk FOLDER --make-starter"


def _name(folder: PurePath) -> str:
    words = "".join(letter for letter in folder.name if letter not in _NOT_IN_NAMES)
    plain = "".join(letter for letter in words if letter.isprintable()).strip(" .")
    return f"{plain[:40]} - chartkit desk" if plain else "chartkit desk"


def _content(folder: PurePath, name: str, system: Platform) -> bytes:
    if any(ord(letter) < ord(" ") for letter in f"{folder}{system.python}"):
        raise Unusable("a folder with a line break or a tab in its name can have no starter")
    make = {"win32": windows_starter, "darwin": mac_starter}.get(system.platform, linux_starter)
    return make(system.python, str(folder), name).encode("utf-8", "surrogateescape")


def linux_starter(python: str, folder: str, name: str) -> str:
    """A desktop entry.  Source: the Desktop Entry Specification 1.5, "The Exec key" (arguments in
    double quotes, a percent sign doubled) and "Possible value types" (a backslash doubled)."""
    command = " ".join(_for_exec(word) for word in (python, "-m", "chartkit", "desk", folder))
    rows = [
        f"# {SIGN}",
        "[Desktop Entry]",
        "Type=Application",
        f"Name={_doubled(name)}",
        f"Comment={_doubled(f'Opens the desk over the charts in {folder}')}",
        f"Exec={command}",
        "Terminal=true",
        "Categories=AudioVideo;Audio;Music;",
    ]
    return "\n".join(rows) + "\n"


def _doubled(text: str) -> str:
    return text.replace("\\", "\\\\")


def _for_exec(argument: str) -> str:
    quoted = "".join(f"\\{letter}" if letter in '"`$\\' else letter for letter in argument)
    return _doubled(f'"{quoted}"'.replace("%", "%%"))


def mac_starter(python: str, folder: str, name: str) -> str:
    """A script that the Terminal of macOS opens with a double click."""
    command = shlex.join([python, "-m", "chartkit", "desk", folder])
    return f"#!/bin/sh\n# {SIGN}\nexec {command}\n"


def windows_starter(python: str, folder: str, name: str) -> str:
    """A batch file.  It says first that it is UTF-8, and stays open if the desk cannot start; a
    percent sign is doubled (from memory of cmd's own help)."""
    command = " ".join(
        '"' + word.replace("%", "%%") + '"' if word not in ("-m", "chartkit", "desk") else word
        for word in (python, "-m", "chartkit", "desk", folder)
    )
    rows = ["@echo off", f"rem {SIGN}", "chcp 65001 >nul", command, "if errorlevel 1 pause"]
    return "\r\n".join(rows) + "\r\n"


def _places(system: Platform) -> list[Path]:
    """The desktop, and on Linux the folder of programs too, since not every desktop there shows
    files; the home folder where there is neither."""
    places = [_desktop(system)]
    if system.platform not in ("win32", "darwin"):
        given = system.settings.get("XDG_DATA_HOME", "")
        data = Path(given) if given.startswith("/") else system.home / ".local" / "share"
        places.append(data / "applications")
    return [place for place in places if place.is_dir()] or [system.home]


def _desktop(system: Platform) -> Path:
    """Where the desktop's files are.  Sources: xdg-user-dirs' own manual for Linux, from memory;
    Windows may have moved it to another folder and says so in its registry."""
    usual = system.home / "Desktop"
    if sys.platform == "win32" and system.platform == "win32":
        import winreg

        key = r"Software\Microsoft\Windows\CurrentVersion\Explorer\User Shell Folders"
        try:
            with winreg.OpenKey(winreg.HKEY_CURRENT_USER, key) as opened:
                return Path(os.path.expandvars(str(winreg.QueryValueEx(opened, "Desktop")[0])))
        except OSError:
            return usual
    if system.platform in ("win32", "darwin"):
        return usual
    given = system.settings.get("XDG_CONFIG_HOME", "")
    settings = Path(given) if given.startswith("/") else system.home / ".config"
    try:
        rows = (settings / "user-dirs.dirs").read_text("utf-8", "replace")[:10_000].splitlines()
    except OSError:
        return usual
    named = [row.split("=", 1)[1].strip(' "') for row in rows if row.startswith("XDG_DESKTOP_DIR=")]
    return Path(named[-1].replace("$HOME", str(system.home))) if named else usual


def _keep_what_is_not_ours(path: Path) -> None:
    try:
        if not path.is_symlink() and not path.exists():
            return
        ours = path.is_file() and not path.is_symlink()
        with path.open("rb") as file:
            ours = ours and SIGN.encode() in file.read(_LONGEST_STARTER)
    except OSError:
        ours = False
    if not ours:
        raise Unusable(
            f"{path}: is there already and is no starter of chartkit's", "rename or move it first"
        )


def _let_it_run(path: Path) -> None:
    try:
        path.chmod(_MAY_RUN)
    except OSError as reason:
        raise Unusable(f"{path}: cannot be made a program: {reason.strerror}") from None
