"""The Lark parsers, built from the grammar files when first needed."""

import re
from collections.abc import Callable
from functools import cache
from typing import Any

from lark import Lark, Token, Transformer, UnexpectedInput
from lark.exceptions import UnexpectedToken
from lark.lexer import PatternRE, TerminalDef

from chartkit.assets import grammar_text
from chartkit.theory.quality import ADDED, ALTERATIONS, BY_SPELLING

ROW_KINDS = ("setting", "section", "words", "music")


@cache
def row_parser(transformer: Transformer[Token, Any]) -> Lark:
    """The parser of single rows; pass the row's kind as ``start``."""
    return Lark(
        grammar_text("chart.lark"), parser="lalr", start=list(ROW_KINDS), transformer=transformer
    )


@cache
def chord_parser(transformer: Transformer[Token, Any]) -> Lark:
    """The parser of one chord symbol, its spellings filled in from the table of qualities."""
    return Lark(
        grammar_text("chord.lark"),
        parser="lalr",
        start="chord",
        transformer=transformer,
        edit_terminals=_fill_from_table,
    )


def parse_row(
    parser: Lark, kind: str, text: str, unexpected: Callable[[Token], None]
) -> Any | None:
    """What the transformer makes of a row.

    Each token that does not fit is passed to ``unexpected`` and skipped, so one row can tell
    of several mistakes.  None when the row breaks off in the middle of something.
    """

    def skip(error: UnexpectedInput) -> bool:
        if isinstance(error, UnexpectedToken):
            unexpected(error.token)
        else:
            place = error.pos_in_stream or 0
            unexpected(Token("UNKNOWN", text[place], start_pos=place, end_pos=place + 1))
        return True

    try:
        return parser.parse(text, start=kind, on_error=skip)
    except UnexpectedInput:
        return None


def _alternatives(spellings: list[str]) -> str:
    """A pattern that matches the longest of the spellings."""
    longest_first = sorted(filter(None, spellings), key=lambda s: (-len(s), s))
    return "|".join(map(_one_spelling, longest_first))


def _one_spelling(spelling: str) -> str:
    pattern = re.escape(spelling).replace("b", "[b♭]").replace(r"\#", "[#♯]")
    # "7+" is an augmented seventh, but "7+9" is a seventh with a sharp ninth, and the "sus" of
    # "maj7sus2" is not the one of "maj7sus".
    return pattern + r"(?!\d)" if spelling.endswith(("+", "-", "sus", "Sus", "SUS")) else pattern


def _fill_from_table(terminal: TerminalDef) -> None:
    patterns = {
        "BASE": _alternatives(list(BY_SPELLING)),
        "ALTERATION": _alternatives([a for a in ALTERATIONS if not a.isdigit()]),
        "ADDED": f"[aA]dd(?:{_alternatives(list(ADDED))})",
    }
    if terminal.name in patterns:
        terminal.pattern = PatternRE(patterns[terminal.name], terminal.pattern.flags)
