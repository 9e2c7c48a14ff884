"""Counts within a row: beats that make bars, and chords to be played so often."""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import chain

from chartkit.chart.model import Meter
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.tokens import STRUCK, Token
from chartkit.interchange.text.vocabulary.times_played import times_of

_MOST_WRITTEN_OUT = 8
_MOST_FULL = 2
"""Signs count beats where every other bar at least has one; fewer part a row."""
_LENGTHS = (4, 3)
"""How many beats the bars of a song mostly have (common practice, no source)."""
_NEARLY_ALL = 0.8
"""So many of the rows with signs count whole bars, where signs count beats at all (ours)."""
_BEHIND_CHORDS = re.compile(
    r"(?<!\S)[A-H](?:[^\s()|]*\((?:[1238]|1[0246])\)|[#b♯♭]?(?:m(?!a)[^\s()|]*)?\(4\))"
)
_COUNT_OR_TONE = re.compile(r"[^()]+\([46]\)")
_DASHES, _IN_LINES = frozenset("-–—"), frozenset(".-–—_…")


def has_counts(text: str) -> bool:
    """Whether figures in parentheses behind the chords of a row count beats or bars: one at least
    is no tone of a chord, "C(2) G7(4)"."""
    return _BEHIND_CHORDS.search(text) is not None


def may_be_count(text: str) -> bool:
    """Whether a text ends with a figure that counts, where others do, and else is a tone: a
    fourth, C7(4), or a sixth."""
    return _COUNT_OR_TONE.fullmatch(text) is not None


def with_counted_bars(
    tokens: Sequence[Token], meter: Meter, dashes: bool, findings: Findings, place: str
) -> Sequence[Token]:
    """The tokens with bar lines, where dots or slashes count all beats of whole bars that begin
    with a chord each ("C . . . D . . .") in a meter that the sheet gives or shows, and so do
    dashes where it shows that they count; others as they are."""
    barred = _in_bars_of(meter.beats, tokens, dashes)
    if not barred:
        return tokens
    findings.guess(
        "bars-counted",
        f"the signs behind chords count the beats: the row is read as bars of {meter}",
        place,
    )
    return barred


def beats_counted(rows: Sequence[Sequence[Token]], dashes: bool) -> int:
    """How many beats a bar has, where nearly all rows with signs between chords and without bar
    lines count the beats of whole bars, and one chord at least is held for a whole bar; 0 where
    they do not, since signs may part chords as well.  The signs are lone dashes, or dots and
    slashes."""
    plain = [tokens for tokens in rows if all(token.kind != "bar" for token in tokens)]
    longest = max((_longest_held(tokens, dashes) for tokens in plain), default=0)
    if longest not in _LENGTHS or any(map(_parts_chords, chain.from_iterable(plain))):
        return 0
    signed = [tokens for tokens in plain if any(_counts(token, dashes) for token in tokens)]
    fitting = sum(bool(_in_bars_of(longest, tokens, dashes)) for tokens in signed)
    return longest if fitting >= _NEARLY_ALL * len(signed) else 0


def _parts_chords(token: Token) -> bool:
    """Whether a token is a line of dots or dashes from chord to chord."""
    text = token.text
    return token.kind == "filler" and len(text) > 1 and text[0] in _IN_LINES and len({*text}) == 1


def _counts(token: Token, dashes: bool) -> bool:
    """Whether a sign could count a beat: a dot, a slash, or a lone dash where these count."""
    return token.kind == "beat" or (dashes and token.kind == "filler" and token.text in _DASHES)


def _longest_held(tokens: Sequence[Token], dashes: bool) -> int:
    """The most beats that one chord of a row is held by signs behind it."""
    longest = held = 0
    for token in tokens:
        if token.kind in STRUCK:
            held = 1
        elif _counts(token, dashes):
            held += len(token.text)
        longest = max(longest, held)
    return longest


def _in_bars_of(length: int, tokens: Sequence[Token], dashes: bool) -> list[Token]:
    """The tokens with bar lines before each bar of so many beats; none where signs do not count
    whole bars that begin with a chord each."""
    collected: list[Token] = []
    beats = held = 0
    for token in tokens:
        counts = _counts(token, dashes)
        if not counts and token.kind not in (*STRUCK, "cue"):
            return []
        if beats % length == 0 and token.kind != "cue":
            if counts:
                return []
            collected.append(Token("bar", token.column, "|", end=token.column))
        collected.append(replace(token, kind="beat") if counts else token)
        held += len(token.text) if counts else 0
        beats += len(token.text) if counts else token.kind in STRUCK
    if not held or beats % length or held * length * _MOST_FULL < beats:
        return []
    return [*collected, Token("bar", tokens[-1].end, "|", end=tokens[-1].end)]


def with_count_last(tokens: Sequence[Token]) -> Sequence[Token]:
    """The tokens, a count behind all music of the row at its last bar line if that ends a repeat,
    else behind what is said of the row."""
    if tokens[-1].kind not in _BEHIND or all(token.kind != "times" for token in tokens):
        return tokens
    end = max((at for at, one in enumerate(tokens) if one.kind not in _BEHIND), default=-1)
    tail = tokens[end + 1 :]
    counts = [one for one in tail if one.kind == "times"]
    said = [one for one in tail if one.kind == "cue"]
    if len(counts) != 1 or not said or end < 0:
        return tokens
    of_a_repeat = tokens[end].kind == "bar" and ":" in tokens[end].text
    ordered = [*counts, *said] if of_a_repeat else [*said, *counts]
    return [*tokens[: end + 1], *ordered]


_BEHIND = ("cue", "times")


def with_counts_written_out(
    tokens: Sequence[Token], findings: Findings, place: str
) -> Sequence[Token]:
    """The tokens with several chords before an "x3" inside their row repeated that often."""
    if not any(token.kind == "times" for token in tokens[:-1]):
        return tokens
    last = max((at for at, token in enumerate(tokens) if token.kind in STRUCK), default=0)
    collected: list[Token] = []
    start = 0
    for at, token in enumerate(tokens):
        again = collected[start:] if token.kind == "times" and at < last else []
        if sum(one.kind in STRUCK for one in again) > 1:
            collected += again * (min(times_of(token.text), _MOST_WRITTEN_OUT) - 1)
            start = len(collected)
        else:
            collected.append(token)
    if start:
        findings.guess(
            "chords-again", "chords with a count within their row are written out", place
        )
    return collected
