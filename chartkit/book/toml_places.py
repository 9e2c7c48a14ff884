"""Where in a TOML text each key and each value stands, for messages that point at it.

Python's own reader checks the text and makes the values, but keeps no places.  This module walks a
sound text by the rules of TOML 1.0 (toml.io), and notes only places.

No library: tomlkit keeps the layout of a text, but gives no key's line and column.
"""

import re
import tomllib
from dataclasses import dataclass, field

from chartkit.diagnostics import Span

TomlPath = tuple[str | int, ...]

_SPACE = re.compile(r"[ \t]*")
_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'', re.DOTALL
)
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_SCALAR = re.compile(r"[^,\]}#\n]*")


@dataclass(frozen=True, slots=True)
class TomlPlace:
    """Where a key and its value stand; for a table both are its header."""

    key: Span
    value: Span


def toml_places(text: str) -> dict[TomlPath, TomlPlace]:
    """The place of every key, table and array entry of a sound TOML text, by its path.

    ``("players", 0, "reads")`` is the key ``reads`` in the first ``[[players]]`` table.
    """
    return _Walk(text).places()


@dataclass(slots=True)
class _Walk:
    text: str
    at: int = 0
    noted: dict[TomlPath, TomlPlace] = field(default_factory=dict)
    _counts: dict[TomlPath, int] = field(default_factory=dict)

    def places(self) -> dict[TomlPath, TomlPlace]:
        """Walks the whole text, statement by statement."""
        table: TomlPath = ()
        self._skip(_BLANK)
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
            self._skip(_BLANK)
        return self.noted

    def _skip(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:
            return ""
        self.at = match.end()
        return match[0]

    def _header(self) -> TomlPath:
        """The path of a ``[table]`` or of the next entry of an ``[[array of tables]]``."""
        start = self.at
        brackets = 2 if self.text.startswith("[[", start) else 1
        self.at += brackets
        path = self._in_last_tables(self._key())
        self.at += brackets
        if brackets == 2:
            count = self._counts.get(path, 0)
            self._counts[path] = count + 1
            path = (*path, count)
        span = Span(start, self.at)
        self.noted[path] = TomlPlace(span, span)
        self._note_above(path, span)
        return path

    def _note_above(self, path: TomlPath, span: Span) -> None:
        """A value that is not written out as a whole, such as a list of tables, has the place where
        it begins."""
        for length in range(1, len(path)):
            self.noted.setdefault(path[:length], TomlPlace(span, span))

    def _in_last_tables(self, names: TomlPath) -> TomlPath:
        """The names with the number of the last entry after each array of tables above."""
        path: TomlPath = ()
        for i, name in enumerate(names):
            path = (*path, name)
            if path in self._counts and i < len(names) - 1:
                path = (*path, self._counts[path] - 1)
        return path

    def _key(self) -> TomlPath:
        """A key, dotted or not, as its names."""
        names: list[str | int] = []
        while True:
            self._skip(_SPACE)
            if self.text[self.at : self.at + 1] in ("'", '"'):
                names.append(str(tomllib.loads(f"v = {self._skip(_STRING)}")["v"]))
            else:
                names.append(self._skip(_BARE_KEY))
            self._skip(_SPACE)
            if self.text[self.at : self.at + 1] != ".":
                return tuple(names)
            self.at += 1

    def _pair(self, table: TomlPath) -> None:
        start = self.at
        path = (*table, *self._key())
        key = Span(start, start + len(self.text[start : self.at].rstrip()))
        self.at += 1
        self._skip(_SPACE)
        self.noted[path] = TomlPlace(key, self._value(path))
        self._note_above(path, key)

    def _value(self, path: TomlPath) -> Span:
        """Steps over a value, noting the places inside it."""
        start = self.at
        first = self.text[start : start + 1]
        if first in ("'", '"'):
            self._skip(_STRING)
        elif first == "[":
            self._array(path)
        elif first == "{":
            self._inline_table(path)
        else:
            return Span(start, start + len(self._skip(_SCALAR).rstrip()))
        return Span(start, self.at)

    def _array(self, path: TomlPath) -> None:
        self.at += 1
        count = 0
        self._skip(_BLANK)
        while self.text[self.at : self.at + 1] not in ("]", ""):
            span = self._value((*path, count))
            self.noted[*path, count] = TomlPlace(span, span)
            count += 1
            self._skip(_BLANK)
            self._skip(re.compile(","))
            self._skip(_BLANK)
        self.at += 1

    def _inline_table(self, path: TomlPath) -> None:
        self.at += 1
        self._skip(_BLANK)
        while self.text[self.at : self.at + 1] not in ("}", ""):
            self._pair(path)
            self._skip(_BLANK)
            self._skip(re.compile(","))
            self._skip(_BLANK)
        self.at += 1
