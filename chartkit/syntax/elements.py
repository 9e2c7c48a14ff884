"""What the grammar makes of one row: flat elements with their places in the row.

The transformer runs while Lark parses, so no tree is ever built.
"""

from dataclasses import dataclass
from typing import Any, NamedTuple

from lark import Token, Transformer

from chartkit.phrases import nearest


class Element(NamedTuple):
    """One thing in a music row: a bar line, a group of strikes, a slash, a hold, a mark ..."""

    kind: str
    start: int
    end: int
    value: Any = None


def lone_cue(elements: list[Element]) -> str | None:
    """The words of a row that is a cue and nothing else but a comment; None for other rows."""
    kept = [element for element in elements if element.kind != "comment"]
    if len(kept) == 1 and kept[0].kind == "cue":
        return " ".join(str(kept[0].value).split())
    return None


@dataclass(slots=True)
class StrikeText:
    """A part of a beat as written.

    ``kind`` is chord, new_bass, no_chord, slash (the chord before is struck again), hold (it
    goes on), silence, mute (a stroke on damped strings), or missing where a sign waits for a
    chord in vain.  ``symbol_at`` is where the
    chord itself starts, after any sign before it.
    """

    kind: str
    text: str
    start: int
    end: int
    pushed: bool = False
    stopped: bool = False
    ringing: bool = False
    optional: bool = False
    symbol_at: int = 0

    def __post_init__(self) -> None:
        self.symbol_at = self.start


UNSTRUCK = ("slash", "hold", "silence", "mute")
"""The kinds of parts that strike no new chord."""


def _place(token: Token) -> tuple[int, int]:
    return token.start_pos or 0, token.end_pos or 0


class ToElements(Transformer[Token, Any]):
    """Rows of every kind, as the reader wants them."""

    # ---- music
    def music(self, parts: list[Any]) -> list[Element]:
        read = [
            Element("comment", *_place(p), str(p)) if isinstance(p, Token) else p for p in parts
        ]
        return _with_whole_jumps(read)

    def bar_line(self, parts: list[Token]) -> Element:
        return Element("line", *_place(parts[0]), str(parts[0]))

    def rest(self, parts: list[Token]) -> Element:
        number = parts[0].split()[1:]
        return Element("rest", *_place(parts[0]), number[0] if number else "1")

    def meter(self, parts: list[Token]) -> Element:
        return Element("meter", *_place(parts[0]), str(parts[0]))

    def played(self, parts: list[Token]) -> Element:
        return Element("played", *_place(parts[0]), str(parts[0]))

    def simile(self, parts: list[Token]) -> Element:
        return Element("simile", *_place(parts[0]), len(parts[0]))

    def cue(self, parts: list[Token]) -> Element:
        return Element("cue", *_place(parts[0]), str(parts[0])[1:-1])

    def unclosed_cue(self, parts: list[Token]) -> Element:
        return Element("unclosed_cue", *_place(parts[0]), str(parts[0]))

    def unknown(self, parts: list[Token]) -> Element:
        return Element("unknown", *_place(parts[0]), str(parts[0]))

    def mark(self, parts: list[Token]) -> Element:
        start, end = _place(parts[0])[0], _place(parts[-1])[1]
        until = str(parts[1]).lower().split()[1] if len(parts) > 1 else ""
        return Element("mark", start, end, (str(parts[0]), until))

    def group(self, parts: list[Any]) -> Element:
        strikes = [part for part in parts if isinstance(part, StrikeText)]
        start, end = strikes[0].start, strikes[-1].end
        alone = strikes[0].kind if len(strikes) == 1 else ""
        kind = "beat" if alone == "slash" else alone if alone in UNSTRUCK else "group"
        return Element(kind, start, end, strikes)

    def slash(self, parts: list[Token]) -> StrikeText:
        return StrikeText("slash", "/", *_place(parts[0]))

    def hold(self, parts: list[Token]) -> StrikeText:
        return StrikeText("hold", "_", *_place(parts[0]))

    def silence(self, parts: list[Token]) -> StrikeText:
        return StrikeText("silence", "r", *_place(parts[0]))

    def mute(self, parts: list[Token]) -> StrikeText:
        return StrikeText("mute", "x", *_place(parts[0]))

    def strike(self, parts: list[Any]) -> StrikeText:
        return _with_articulation(parts)

    def optional(self, parts: list[Any]) -> StrikeText:
        strike = _with_articulation(parts)
        strike.optional = True
        return strike

    def chord(self, parts: list[Token]) -> StrikeText:
        return StrikeText("chord", str(parts[0]), *_place(parts[0]))

    def new_bass(self, parts: list[Token]) -> StrikeText:
        return StrikeText("new_bass", str(parts[0])[1:], *_place(parts[0]))

    def no_chord(self, parts: list[Token]) -> StrikeText:
        return StrikeText("no_chord" if parts[0] else "missing", "N.C.", *_place(parts[0]))

    def sounded(self, parts: list[StrikeText]) -> StrikeText:
        return parts[0]

    # ---- words
    def words(self, parts: list[Any]) -> tuple[Token, list[Any], Token | None]:
        comment = parts[-1] if isinstance(parts[-1], Token) and len(parts) > 1 else None
        return parts[0], parts[1 : -1 if comment is not None else None], comment

    def segment(self, parts: list[Token]) -> tuple[str, Token | None]:
        return "sung", parts[0] if parts else None

    def bar_place(self, parts: list[Token]) -> tuple[str, Token | None]:
        return "bar", parts[0]

    def strike_place(self, parts: list[Token]) -> tuple[str, Token | None]:
        return "strike", parts[0]

    # ---- settings and sections
    def setting(self, parts: list[Token]) -> list[Token]:
        return parts

    def section(self, parts: list[Any]) -> list[Any]:
        return parts

    def name(self, parts: list[Token]) -> tuple[str, list[Token]]:
        return "name", parts

    def same_as(self, parts: list[Token]) -> tuple[str, list[Token]]:
        return "same_as", parts[1:]


def _with_whole_jumps(elements: list[Element]) -> list[Element]:
    """The elements with a misspelled "al coda" after its mark in one, so that it is one slip."""
    whole: list[Element] = []
    for element in elements:
        al = whole[-1] if len(whole) > 1 and whole[-2].kind == "mark" else None
        if al is not None and al.kind == "unknown" and al.value.lower() == "al":
            word = element.value[0].text if element.kind == "group" else str(element.value)
            if nearest(word, _JUMP_ENDS):
                whole[-1] = al._replace(end=element.end, value=f"{al.value} {word}")
                continue
        whole.append(element)
    return whole


_JUMP_ENDS = ("fine", "coda")


def _with_articulation(parts: list[Any]) -> StrikeText:
    strike: StrikeText = next(part for part in parts if isinstance(part, StrikeText))
    for part in parts:
        if isinstance(part, Token):
            start, end = _place(part)
            strike.start, strike.end = min(strike.start, start), max(strike.end, end)
            strike.pushed = strike.pushed or part.type == "PUSH"
            strike.stopped = strike.stopped or part.type == "STOP"
            strike.ringing = strike.ringing or part.type == "RING"
    return strike
