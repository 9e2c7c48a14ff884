"""The Lark parsers, built from the grammar files when first needed."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any, Literal

from lark import Lark, Token, Transformer, UnexpectedInput
from lark.exceptions import UnexpectedToken
from lark.lexer import PatternRE, TerminalDef

from chartkit.assets import grammar_text
from chartkit.syntax.tables import parser_from_tables
from chartkit.theory.alterations import ADDED, ALTERATIONS, SIGN_BEHIND
from chartkit.theory.quality import BY_SPELLING

_GRAMMARS = {"music.lark": ["music"], "rows.lark": ["setting", "section", "words"]}
"""Each grammar and its start rules, one a kind of row."""


@cache
def _parser_of(transformer: Transformer[Token, Any], grammar: str) -> Lark:
    text, start = grammar_text(grammar), _GRAMMARS[grammar]

    def build() -> Lark:
        return Lark(text, parser="lalr", start=start, transformer=transformer)

    return parser_from_tables(transformer, build, text, start)


def row_parser(transformer: Transformer[Token, Any], kind: str) -> Lark:
    """The parser of single rows of a kind; pass the kind as ``start``.

    Music has a grammar to itself: after a mistake Lark tries every terminal, and those of
    words run to the end of the row, which would make many mistakes cost the square of their
    number.
    """
    return _parser_of(transformer, "music.lark" if kind == "music" else "rows.lark")


@cache
def chord_parser(transformer: Transformer[Token, Any]) -> Lark:
    """The parser of one chord symbol, its spellings filled in from the table of qualities."""
    text, spellings = grammar_text("chord.lark"), _spelling_patterns()

    def fill(terminal: TerminalDef) -> None:
        if terminal.name in spellings:
            terminal.pattern = PatternRE(spellings[terminal.name], terminal.pattern.flags)

    def build() -> Lark:
        return Lark(
            text, parser="lalr", start="chord", transformer=transformer, edit_terminals=fill
        )

    return parser_from_tables(transformer, build, text, spellings)


Kind = Literal["unclosed", "no-chord", "out-of-place"]


@dataclass(frozen=True, slots=True)
class UnexpectedText:
    """A stretch of a row that does not fit its grammar.

    ``kind`` is "unclosed" for a parenthesis that is never closed, "no-chord" for a sign that
    waits for a chord and gets none, "out-of-place" for anything else.
    """

    kind: Kind
    start: int
    end: int


_LUMP = re.compile(r'[^\s|"(),!~<>%@/:]+|.', re.DOTALL)


class _Mender:
    """Lets the parser go on after a mistake.

    A sign that waits for a chord gets an empty one, an open parenthesis is closed, and anything
    else is skipped, so that one row can report several mistakes.
    """

    def __init__(self, text: str, report: Callable[[UnexpectedText], None]) -> None:
        self.text = text
        self.report = report
        self.last_at = -1
        self.closed_early = 0

    def __call__(self, error: UnexpectedInput) -> bool:
        """Mends one mistake; False when the row cannot be read on."""
        parser = error.interactive_parser
        offset = self._place(error)
        waits_for = parser.choices()  # type: ignore[no-untyped-call]
        lump = _LUMP.match(self.text, offset)
        word = lump is not None and (len(lump[0]) > 1 or lump[0].isalnum() or lump[0] == "_")
        if "NO_CHORD" in waits_for and "BAR_LINE" not in waits_for:
            self._missing_chord(parser, offset, lump if word else None)
        elif "RPAR" in waits_for and self._is_open(parser.parser_state.value_stack):
            self._tell("unclosed", self._opened_at(parser.parser_state.value_stack, offset), offset)
            self._feed(parser, "RPAR", offset)
            self.closed_early += 1
        elif lump is None:
            return False
        else:
            self._step_over(parser, lump)
        return True

    def _place(self, error: UnexpectedInput) -> int:
        """Where the mistake stands.

        Lark reads the faulty token with the terminals of every kind of row, so only its start is
        useful.
        """
        if isinstance(error, UnexpectedToken):
            if error.token.type == "$END":
                return len(self.text)
            return error.token.start_pos or 0
        return error.pos_in_stream or 0

    def _tell(self, kind: Kind, start: int, end: int) -> None:
        if self.last_at != end or kind == "out-of-place":
            self.report(UnexpectedText(kind, start, start + len(self.text[start:end].rstrip())))
        self.last_at = end

    def _missing_chord(self, parser: Any, offset: int, word: re.Match[str] | None) -> None:
        stack = parser.parser_state.value_stack
        opened = self._opened_at(stack, offset)
        if word is not None and opened < offset and self.text[opened - 1 : opened].strip(" |,<("):
            self._tell("unclosed", opened, word.end())
            self._feed(parser, "NO_CHORD", word.end())
            self._feed(parser, "RPAR", word.end())
            return
        if word is not None:
            self._tell("out-of-place", offset, word.end())
            offset = word.end()
        else:
            sign = stack[-1]
            start = sign.start_pos if isinstance(sign, Token) and sign.start_pos else 0
            self._tell("no-chord", start, offset)
        self._feed(parser, "NO_CHORD", offset)

    def _step_over(self, parser: Any, lump: re.Match[str]) -> None:
        if lump[0] == ")" and self.closed_early:
            self.closed_early -= 1
        else:
            self._tell("out-of-place", *lump.span())
        self._go_on_at(parser, lump.end())

    def _is_open(self, stack: list[Any]) -> bool:
        """Whether a parenthesis was opened: tables list its end also where none was."""
        return any(isinstance(v, Token) and v.type == "LPAR" for v in stack)

    def _opened_at(self, stack: list[Any], offset: int) -> int:
        opened = (v.start_pos for v in reversed(stack) if isinstance(v, Token) and v.type == "LPAR")
        return next(opened, offset) or 0

    def _feed(self, parser: Any, terminal: str, offset: int) -> None:
        parser.feed_token(Token(terminal, "", start_pos=offset, end_pos=offset))
        self._go_on_at(parser, offset)

    def _go_on_at(self, parser: Any, offset: int) -> None:
        parser.lexer_thread.state.line_ctr.char_pos = offset


def parse_row(
    parser: Lark, kind: str, text: str, misfit: Callable[[UnexpectedText], None]
) -> Any | None:
    """The transformer's result for a row; callers must not change it.

    Each stretch that does not fit is passed to ``misfit``, and reading goes on after it. None if
    the row breaks off in the middle of something.
    """
    parse = _kept_parse if len(text) <= _LONGEST_KEPT else _parse
    parsed, misfits = parse(parser, kind, text)
    for one in misfits:
        misfit(one)
    return parsed


_MOST_KEPT = 1024
"""How many rows are kept parsed: an editor reads a text again after every keystroke, and all but
one of its rows are unchanged."""
_LONGEST_KEPT = 300
"""The longest row that is kept."""


def _parse(parser: Lark, kind: str, text: str) -> tuple[Any | None, tuple[UnexpectedText, ...]]:
    misfits: list[UnexpectedText] = []
    try:
        parsed = parser.parse(text, start=kind, on_error=_Mender(text, misfits.append))
    except UnexpectedInput:
        parsed = None
    return parsed, tuple(misfits)


_kept_parse = lru_cache(maxsize=_MOST_KEPT)(_parse)


_Tree = dict[str, "_Tree"]
_END = ""


def _alternatives(spellings: list[str]) -> str:
    """A pattern that matches the longest of the spellings.

    It branches letter by letter: compiled, it is a third of what a plain list costs.
    """
    tree: _Tree = {}
    for spelling in filter(None, spellings):
        node = tree
        for character in spelling:
            node = node.setdefault(character, {})
        node[_END] = {}
    return _pattern(tree, "")


def _pattern(node: _Tree, before: str) -> str:
    """The pattern of what may follow ``before``; its end comes last, so the longest wins."""
    branches = [
        _letter(character) + _pattern(rest, before + character)
        for character, rest in node.items()
        if character != _END
    ]
    if _END in node:
        # "7+" is an augmented seventh, but "7+9" is a seventh with a sharp ninth, and the
        # "sus" of "maj7sus2" is not the one of "maj7sus"; "7M7" has both sevenths, and the
        # "ma" of "madd9" is a minor chord.
        branches.append(_unlike_longer(before))
    return branches[0] if len(branches) == 1 else f"(?:{'|'.join(branches)})"


def _unlike_longer(spelling: str) -> str:
    """What must not follow a spelling, since it would belong to another quality."""
    if spelling.endswith(("+", "-", "sus", "Sus", "SUS")):
        return r"(?!\d)"
    if _SEVENTH_MAJOR.search(spelling):
        return r"(?![\djJ])"
    return r"(?!dd)" if spelling.lower().endswith("ma") else ""


_SEVENTH_MAJOR = re.compile(r"7[MmAaJj]+$")
"""A seventh with its "maj" behind."""


def _letter(character: str) -> str:
    return {"b": "[b♭]", "#": "[#♯]"}.get(character, re.escape(character))


def _spelling_patterns() -> dict[str, str]:
    """The spellings of the quality table, by the terminal that leaves room for them."""
    return {
        "BASE": _alternatives(list(BY_SPELLING)),
        "ALTERATION": _alternatives([a for a in ALTERATIONS if not a.isdigit()]),
        "ALTERED": rf"(?:{_alternatives(list(SIGN_BEHIND))})(?!\d)",
        "ADDED": f"[aA]dd{_alternatives(list(ADDED))}",
    }
