"""Reads a TOML text and reports every mistake in plain words.

Python's own reader stops at the first mistake and says what its parser expected.  Here the
lines of a setting that cannot be read are blanked and the reading goes on, so that the next
mistake is found too; everything after keeps its place.
"""

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from chartkit.book.toml_headers import (
    HEADER,
    line_start,
    single_header,
    table_lines,
    too_few_brackets,
)
from chartkit.diagnostics import Diagnostic, Source, Span

_MOST_MISTAKES = 20
"""After this many mistakes the rest are likely to follow from them."""

_AT = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)
_FRESH = re.compile(HEADER.pattern + r"|\s*[\w.\"'-]+\s*[=:]")
"""How a line begins that is a header or a setting of its own."""
_GOES_ON = re.compile(r"=.*[\[{]|\"{3}|'{3}")
"""How a line looks that may begin a setting of several lines."""
_TRIPLE = re.compile(r"\"{3}|'{3}")
_QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'|#.*')


@dataclass(frozen=True, slots=True)
class TomlReading:
    """The values of what could be read, the text with the rest blanked, and the mistakes."""

    values: dict[str, Any]
    text: str
    diagnostics: tuple[Diagnostic, ...]


@dataclass(frozen=True, slots=True)
class _TomlError:
    """A mistake as reported by Python's reader: its message, its place, the lines to leave out."""

    reason: str
    at: int
    first_line: int
    last_line: int


def read_toml(source: Source) -> TomlReading:
    """The values of a TOML text, as far as it can be read, with every mistake in it."""
    text, diagnostics = source.text, list[Diagnostic]()
    while len(diagnostics) < _MOST_MISTAKES:
        try:
            return TomlReading(tomllib.loads(text), text, tuple(diagnostics))
        except tomllib.TOMLDecodeError as reason:
            error = _located(str(reason), text)
        except RecursionError:
            diagnostics.append(_mistake("lists in this text are nested too deep", 0))
            break
        except ValueError:
            long = re.search(r"\d{1000,}", text)
            diagnostics.append(
                _mistake("a number in this text is too long", long.start() if long else 0)
            )
            break
        single = single_header(error.reason, error.first_line, text)
        diagnostics.append(
            _in_words(error, text) if single is None else too_few_brackets(single, text)
        )
        text = _blanked(
            text,
            *(
                table_lines(single, text)
                if single is not None
                else (error.first_line, error.last_line)
            ),
        )
    return TomlReading({}, "", tuple(diagnostics))


def _mistake(message: str, offset: int, *hints: str, end: int = 0) -> Diagnostic:
    return Diagnostic("not-toml", "error", Span(offset, max(end, offset + 1)), message, hints)


# ---- where
def _located(reason: str, text: str) -> _TomlError:
    """The mistake's offset, and the lines, from 0, of the setting that it stands in.

    A header that cannot be read takes its whole table with it, which would otherwise be added
    to the one before.
    """
    match = _AT.fullmatch(reason)
    lines = text.split("\n")
    if match is not None and match[2]:
        line = int(match[2]) - 1
        offset = line_start(text, line) + int(match[3]) - 1
    else:
        offset = len(text.rstrip())
        line = text.count("\n", 0, offset)
    first = line
    while first and not (
        (first == line or _GOES_ON.search(lines[first])) and _readable("\n".join(lines[:first]))
    ):
        first -= 1
    ends = HEADER if HEADER.match(lines[first]) else _FRESH
    last = first
    if ends is HEADER or not _closed(lines[first]):
        while last + 1 < len(lines) and not ends.match(lines[last + 1]):
            last += 1
    if _TRIPLE.search(lines[first]) and "nterminated" in reason:
        last = len(lines) - 1
    return _TomlError(match[1] if match is not None else reason, offset, first, last)


def _readable(text: str) -> bool:
    try:
        tomllib.loads(text)
    except (ValueError, RecursionError):
        return False
    return True


def _closed(line: str) -> bool:
    """Whether no list or table goes on in the lines after this one."""
    bare = _QUOTED.sub("", line)
    return bare.count("[") <= bare.count("]") and bare.count("{") <= bare.count("}")


def _blanked(text: str, first: int, last: int) -> str:
    lines = text.split("\n")
    lines[first : last + 1] = [" " * len(line) for line in lines[first : last + 1]]
    return "\n".join(lines)


# ---- in plain words
def _in_words(error: _TomlError, text: str) -> Diagnostic:
    for beginning, words in _WORDS.items():
        if error.reason.startswith(beginning):
            return words(error, text)
    return _mistake(error.reason[:1].lower() + error.reason[1:], error.at, _QUOTES)


_QUOTES = 'put text in quotes, as in name = "Friday", and a list between [ and ]'
_NAMES = 'a name with spaces or accents stands in quotes: { "Ana Lúcia" = 2 }'
_A_LINE = 'a line is a setting, as in name = "Friday", a header such as [[songs]], or a # comment'
_WORD = re.compile(r"[^\s,\]}#=]+")


def _bad_value(error: _TomlError, text: str) -> Diagnostic:
    word = _WORD.match(text, error.at)
    if word is None:
        return _mistake("a value is missing here", error.at, _QUOTES)
    shown, offset, end = word[0], *word.span()
    if shown[0] in "“”„‟‘’‚«»":
        return _mistake("these are curly quotes", offset, 'type straight ones: "', end=end)
    if shown.casefold() in ("true", "false", "yes", "no", "on", "off"):
        return _mistake(
            f"{shown} is not a value", offset, "write true or false, in small letters", end=end
        )
    if _FRESH.match(text, offset):
        return _open(error, text)
    whole = text[offset:].partition("\n")[0].partition("#")[0].rstrip(" ,]}")
    return _mistake(
        "this text stands without quotes", offset, f'write "{whole}"', end=offset + len(whole)
    )


def _open_quotes(error: _TomlError, text: str) -> Diagnostic:
    start = line_start(text, error.first_line)
    line = text[start : error.at]
    bare = _QUOTED.sub(lambda quoted: " " * len(quoted[0]), line)
    triple = _TRIPLE.search(line)
    places = [bare.find(mark) for mark in "\"'" if mark in bare]
    offset = start + (triple.start() if triple else max(places, default=len(line)))
    return _mistake(
        "these quotes are not closed", offset, 'put a " at the end of the text', end=error.at
    )


def _open(error: _TomlError, text: str) -> Diagnostic:
    """A list or table that is not closed, or lacks a comma where the mistake was found."""
    start = line_start(text, error.first_line)
    row = text.rfind("\n", 0, error.at) + 1
    fresh = _FRESH.match(text, row) is not None and not text[row : error.at].strip()
    ended = not text[error.at :].strip() or text[error.at] == "\n"
    if fresh or ended:
        bare = _QUOTED.sub(lambda quoted: " " * len(quoted[0]), text[start : error.at])
        offset = start + max(0, *(bare.find(mark) for mark in "[{" if mark in bare), 0)
        return _mistake(
            f"the {text[offset]} that opens here is not closed",
            offset,
            "a list ends with ], a pair of braces with } on the same line",
        )
    return _mistake(
        "a comma is missing here, or the end of the list",
        error.at,
        "separate the entries of a list with commas",
    )


def _no_equals(error: _TomlError, text: str) -> Diagnostic:
    sign = text[error.at : error.at + 1]
    if sign == ":":
        return _mistake('a ":" stands here', error.at, 'write "=" between a setting and its value')
    if sign and not sign.isascii():
        return _odd_name(error, text)
    row = text[text.rfind("\n", 0, error.at) + 1 :].partition("\n")[0]
    hint = _NAMES if "=" in row else _A_LINE
    return _mistake("a setting is written name = value", error.at, hint)


def _odd_name(error: _TomlError, text: str) -> Diagnostic:
    return _mistake("a name cannot be written like this", error.at, _NAMES)


def _left_over(error: _TomlError, text: str) -> Diagnostic:
    rest = text[error.at :].partition("\n")[0].rstrip()
    line = text[text.rfind("\n", 0, error.at) + 1 : error.at]
    hint = "write one setting on each line; a comment begins with #"
    if rest == ",":
        hint = "take the comma out"
    elif re.search(r"=\s*[\d-]+$", line):
        hint = "a date is written 2026-11-27, and any other text in quotes"
    return _mistake("this is left over after the value", error.at, hint, end=error.at + len(rest))


_MANY = ("players", "songs")
"""The tables of which there may be several, with names in two pairs of brackets."""


def _set_twice(error: _TomlError, text: str) -> Diagnostic:
    start = text.rfind("\n", 0, error.at) + 1
    line = text[start : error.at]
    name = re.sub(r"[\[\]\s]", "", line.partition("=")[0])
    if name in _MANY and text[start:].partition("\n")[0].strip() == f"[{name}]":
        return _mistake(
            f"[{name}] has one pair of brackets",
            start + len(line) - len(line.lstrip()),
            f"write [[{name}]], with two: there are several",
            end=start + len(line),
        )
    return _mistake(
        f"{name} is set twice",
        start + len(line) - len(line.lstrip()),
        "take one of them out; settings of the whole set go above the first [[players]]",
        end=start + len(line),
    )


def _backslash(error: _TomlError, text: str) -> Diagnostic:
    return _mistake(
        "a backslash means something special here",
        text.rfind("\\", 0, error.at),
        "folders are joined by /, as in blues/one.chart",
    )


def _plain(message: str, hint: str) -> Callable[[_TomlError, str], Diagnostic]:
    return lambda error, text: _mistake(message, error.at, hint)


_OPENHEADER = _plain(
    "the brackets of this header are not closed", "write [stage], [[players]] or [[songs]]"
)
_WORDS: dict[str, Callable[[_TomlError, str], Diagnostic]] = {
    "Invalid value": _bad_value,
    "Illegal character '\\n'": _open_quotes,
    "Unterminated string": _open_quotes,
    'Expected "\'"': _open_quotes,
    "Unclosed": _open,
    "Expected '=' after": _no_equals,
    "Invalid initial character": _odd_name,
    "Expected newline": _left_over,
    "Expected ']": _OPENHEADER,
    "Cannot": _set_twice,
    "Duplicate inline": _set_twice,
    "Invalid statement": _plain("this is not a setting", "a setting is written name = value"),
    "Invalid date": _plain("there is no such day or time", "a date is written 2026-11-27"),
    "Unescaped": _backslash,
    "Found invalid character": _plain("this character cannot stand here", _QUOTES),
    "Illegal character": _plain("this character cannot be printed", "take it out"),
}
"""What the messages of Python's tomllib mean, by how they begin."""
