"""Counts within a row: beats that make bars, and chords to be played so often."""

from collections.abc import Sequence

from chartkit.chart.model import Meter
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.tokens import STRUCK, Token
from chartkit.interchange.text.vocabulary.times_played import times_of

_MOST_WRITTEN_OUT = 8
_MOST_FULL = 2
"""Signs count beats where every other bar at least has one; fewer part a row."""
_COUNTED_KINDS = {*STRUCK, "beat", "cue"}


def with_counted_bars(
    tokens: Sequence[Token], meter: Meter, findings: Findings, place: str
) -> Sequence[Token]:
    """The tokens with bar lines, where dots or slashes count all beats of whole bars that
    begin with a chord each ("C . . . D . . .") in a meter that the sheet gives; others as
    they are."""
    kinds = {token.kind for token in tokens}
    if "bar" in kinds or "beat" not in kinds or not kinds <= _COUNTED_KINDS:
        return tokens
    collected: list[Token] = []
    beats = 0
    for token in tokens:
        if beats % meter.beats == 0 and token.kind != "cue":
            if token.kind not in STRUCK:
                return tokens
            collected.append(Token("bar", token.column, "|", end=token.column))
        collected.append(token)
        beats += len(token.text) if token.kind == "beat" else token.kind in STRUCK
    held = sum(len(token.text) for token in tokens if token.kind == "beat")
    if beats % meter.beats or held * meter.beats * _MOST_FULL < beats:
        return tokens
    findings.guess(
        "bars-counted",
        f"dots or slashes count the beats: the row is read as bars of {meter}",
        place,
    )
    return [*collected, Token("bar", tokens[-1].end, "|", end=tokens[-1].end)]


def with_count_last(tokens: Sequence[Token]) -> Sequence[Token]:
    """The tokens, a count behind all music of the row and before what is said of it last."""
    if tokens[-1].kind != "cue" or all(token.kind != "times" for token in tokens):
        return tokens
    end = max((at for at, one in enumerate(tokens) if one.kind != "cue" and one.kind != "times"))
    tail = tokens[end + 1 :]
    counts = [one for one in tail if one.kind == "times"]
    said = [one for one in tail if one.kind == "cue"]
    return [*tokens[: end + 1], *said, *counts] if len(counts) == 1 else tokens


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
