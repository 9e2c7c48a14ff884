"""Repeat signs typed into a row of words, as they stand in the music above it."""

import re

from lark import Token

from chartkit.syntax.report import Report

_OPENS, _CLOSES = re.compile(r":(?:\s|$)"), re.compile(r"(?:^|\s):$")
"""A colon that is no part of a word, at the start or the end of what is sung in a bar."""


def words_without_repeat_colon(
    token: Token, before: Token | None, after: Token | None, report: Report
) -> Token | None:
    """The words of a bar without a colon that makes a repeat sign of the bar line beside them.

    None where nothing is left.  A colon at a word, or with a space before the bar line, is sung.
    ``before`` is the bar line before them, if one stands there, ``after`` what follows.
    """
    text, start = str(token), token.start_pos or 0
    if before is not None and before.end_pos == start and _OPENS.match(text):
        _warn(start - 1, "|:", report)
        text = " " + text[1:]
    if after == "|" and after.start_pos == token.end_pos and _CLOSES.search(text):
        _warn(start + len(text) - 1, ":|", report)
        text = text[:-1] + " "
    return Token.new_borrow_pos(token.type, text, token) if text.strip() else None


def _warn(offset: int, sign: str, report: Report) -> None:
    report.warn(
        "repeat-sign-in-words",
        offset,
        offset + len(sign),
        f'"{sign}" belongs to the music above, and is not sung',
        'words have a plain "|"; a colon that is sung stands apart from it: ": |"',
    )
