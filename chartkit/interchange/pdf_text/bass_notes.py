"""Bass notes that are set with blanks around their stroke on a page: "C / E".

A stroke alone is a bar line or a beat in rows of chords; here it is part of a chord only where
every row of chords says so.  Common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line

_NOTE = r"[A-H][b#♭♯]?"
_STROKE = re.compile(r" ?/ ?(?=[A-H])")
_CHORD = rf"{_NOTE}[^\s/|]{{0,12}}"
_APART = re.compile(rf"{_CHORD}(?: ?/ {_NOTE}| /{_NOTE})")
_CHORDS = re.compile(rf"(?:{_CHORD}(?: ?/ ?{_NOTE})?(?:\s{{2,}}|$))+")
_MUSIC = re.compile(rf"(?:(?:{_CHORD}|/\S{{0,3}}|[|:]{{1,3}})(?:\s+|$))+")
_LONGEST = 400


def with_bass_notes_joined(lines: Sequence[Line]) -> list[Line]:
    """Removes the blanks before bass notes in rows of chords; returns the lines. They stay as they
    are if a row with strokes set apart has other chords too, each far from the next."""
    stroked = [line for line in lines if " / " in f" {line.text} " and _is_music(line.text)]
    apart = [line for line in lines if _has_apart(line.text)]
    clear = any(len(re.split(r"\s{2,}", line.text.strip())) > 1 for line in apart)
    if not clear or any(_CHORDS.fullmatch(line.text.strip()) is None for line in stroked):
        return list(lines)
    return [_joined(line) if line in apart else line for line in lines]


def _is_music(text: str) -> bool:
    return len(text) <= _LONGEST and _MUSIC.fullmatch(text.strip()) is not None


def _has_apart(text: str) -> bool:
    text = text.strip()
    if "/" not in text or len(text) > _LONGEST or _CHORDS.fullmatch(text) is None:
        return False
    return any(_APART.fullmatch(cell) for cell in re.split(r"\s{2,}", text))


def _joined(line: Line) -> Line:
    """The line without the blanks at its strokes, each letter in its place."""
    gone = {
        at
        for stroke in _STROKE.finditer(line.text)
        for at in range(*stroke.span())
        if line.text[at] == " "
    }
    text = "".join(letter for at, letter in enumerate(line.text) if at not in gone)
    columns = line.columns
    if columns is not None:
        columns = tuple(column for at, column in enumerate(columns) if at not in gone)
    return replace(line, text=text, columns=columns)
