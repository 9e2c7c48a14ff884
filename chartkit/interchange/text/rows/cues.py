"""Texts among chords that are not played: remarks, marks, words that are not a known chord."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from chartkit.chart.marks import Mark, ordered_marks
from chartkit.chart.model import TICKS_PER_BEAT, Bar, Cue
from chartkit.interchange.instructions import Direction, add_instruction
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.marks_in_words import may_be_mark
from chartkit.interchange.text.tokens import PICK_UP, TIMED, Token
from chartkit.interchange.wording import cue_text

_LONGEST_MARK = 30
_QUOTES = '“”„«»"'
_AROUND = frozenset({"()", "[]", "{}"})
_CODA_SIGN = "coda sign"
"""The words for the coda sign, since "Coda" alone is the section."""


@dataclass(slots=True)
class Asides:
    """The cues and marks of a bar, gathered token by token; ``place`` is where its row
    stands."""

    findings: Findings
    place: str
    cues: list[Cue] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)

    def take(self, token: Token, onset: int, over: int = 0) -> None:
        """Takes a token that is not struck: a mark where its words are one, else a cue.

        ``onset`` is what it stands before, ``over`` the beat that a mark over one belongs to.
        """
        if token.kind in ("filler", "hold"):
            return
        if marks := _marks_of(token):
            self.marks += (replace(m, onset=over) if m.place == "beat" else m for m in marks)
            return
        if text := cue_text(_without_signs(token.text)):
            self.cues.append(Cue(text, onset))
            if token.kind in ("word", "meter"):
                self.findings.guess(
                    "no-chord-known",
                    f'"{text}" among chords is not a chord that is known here: written as a cue',
                    self.place,
                )

    def ordered_marks(self) -> tuple[Mark, ...]:
        """The marks, in the order in which they stand in the bar."""
        return ordered_marks(self.marks)


def _is_around(text: str) -> bool:
    """Whether the first sign of a text is a bracket that its last sign closes."""
    if text[:1] + text[-1:] not in _AROUND:
        return False
    depth = 0
    for sign in text[:-1]:
        depth += (sign in "([{") - (sign in ")]}")
        if depth == 0:
            return False
    return depth == 1


def _without_signs(text: str) -> str:
    """A text without parentheses, brackets and quotes around the whole of it, and without a quote
    that has no other."""
    while _is_around(text):
        text = text[1:-1].strip()
    text = text.removeprefix("(").removesuffix(")") if text.startswith("(") else text
    quotes = [at for at, sign in enumerate(text) if sign in _QUOTES]
    around = quotes == [0, len(text) - 1] and len(text) > 1
    return text.strip(_QUOTES) if around or len(quotes) == 1 else text


def with_asides(
    bar: Bar, tokens: Sequence[Token], slots: Sequence[int], end: int, asides: Asides
) -> Bar:
    """The bar with the cues and marks that stand among its chords.

    ``slots`` are the places of the tokens that take up time, ``end`` is the tick of what stands
    behind them all.
    """
    starts = (
        [*range(0, bar.length, TICKS_PER_BEAT)]
        if bar.beats_written
        else [strike.onset for strike in bar.strikes]
    )
    starts.append(0 if bar.rest else end)
    meters = [at for at, token in enumerate(tokens) if token.kind == "meter"]
    skipped = meters[:1] if bar.meter is not None else []
    if bar.pickup:
        skipped += [at for at, token in enumerate(tokens) if token.text == PICK_UP][:1]
    for at, token in enumerate(tokens):
        if token.kind not in (*TIMED, "simile", "rest") and at not in skipped:
            passed = sum(slot < at for slot in slots)
            slot_starts = starts[:-1] or [0]
            over = slot_starts[min(max(passed, 1), len(slot_starts)) - 1]
            asides.take(token, starts[min(passed, len(starts) - 1)], over)
    return replace(bar, cues=tuple(asides.cues), marks=asides.ordered_marks())


def _marks_of(token: Token) -> tuple[Mark, ...]:
    return marks_of(token.text) if token.kind in ("cue", "word") else ()


def marks_of(text: str) -> tuple[Mark, ...]:
    """The marks that some words are, such as "D.C. al Fine"; none for any others."""
    if len(text) > _LONGEST_MARK:
        return ()
    words = text.strip("() ")
    if words.lower() == _CODA_SIGN:
        return (Mark("coda"),)
    if words.isascii() and words != "$" and not may_be_mark(words):
        return ()
    said = Direction()
    add_instruction(words, said)
    return () if said.words else tuple(said.marks)
