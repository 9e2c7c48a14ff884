"""Keeps Lark's parse tables between runs: computing them takes longer than reading a song.

They are kept in the user's own cache under a digest of everything they depend on: the grammar, the
spellings filled into it, and the versions of Lark and Python.  They are JSON rather than pickles: a
damaged file can be wrong, but it cannot run code. Tables that differ from what was kept in any way
are computed again.
"""

import json
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import lark
from lark import Lark, Token, Transformer
from lark.grammar import Rule
from lark.lexer import TerminalDef

from chartkit.disk_cache import DiskCache, digest_of
from chartkit.private_folder import user_cache_folder

_FOLDER = "chartkit/grammars"
_NOT_KEPT = frozenset({"transformer", "edit_terminals"})
"""Options that Lark is given anew each time: functions of ours."""


def parser_from_tables(
    transformer: Transformer[Token, Any], build: Callable[[], Lark], *follows_from: object
) -> Lark:
    """The parser that ``build`` makes, from kept tables if there are any.

    ``follows_from`` is everything the tables depend on besides Lark itself.
    """
    folder = user_cache_folder(_FOLDER)
    if folder is None:
        return build()
    kept = _cache(folder)
    key = digest_of(lark.__version__, sys.version_info[:2], *follows_from)
    parser = _restored(kept.get(key), transformer)
    if parser is None:
        parser = build()
        kept.put({key: _tables(parser)})
    return parser


@cache
def _cache(folder: Path) -> DiskCache:
    return DiskCache(folder)


def _tables(parser: Lark) -> bytes:
    data, memo = parser.memo_serialize([TerminalDef, Rule])
    data["options"] = {k: v for k, v in data["options"].items() if k not in _NOT_KEPT}
    return json.dumps([data, memo], separators=(",", ":")).encode()


def _restored(tables: bytes | None, transformer: Transformer[Token, Any]) -> Lark | None:
    if tables is None:
        return None
    try:
        data, memo = json.loads(tables, object_pairs_hook=_with_numbers)
        return Lark._load_from_dict(data, memo, transformer=transformer)  # type: ignore[no-untyped-call, no-any-return]
    except Exception:  # whatever another version of Lark makes of them
        return None


def _with_numbers(pairs: list[tuple[str, Any]]) -> dict[str | int, Any]:
    """A dict whose keys are numbers again, where JSON made them text."""
    return {int(key) if key.isdecimal() else key: value for key, value in pairs}
