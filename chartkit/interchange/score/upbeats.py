"""Moves upbeats from the end of a row to the row whose phrase they begin."""

from collections.abc import Sequence

from chartkit.chart.marks import MARKS
from chartkit.interchange.score.capital_lines import begins_with_capital
from chartkit.interchange.score.events import Measure, SungSyllable
from chartkit.interchange.score.timed import RowOfMeasures, Timed
from chartkit.interchange.score.words import sung_in

_PAUSES = (".", "!", "?", ";", ":", ",", "—", "–")
_CLOSING = "\"'’”»)"
"""Signs that stand behind a pause."""
_ENDING = ("”", "»", ")", '"')
"""Those of them that end a line by themselves."""


def move_upbeats(row: RowOfMeasures, following: RowOfMeasures, capitals: bool, pickup: int) -> None:
    """Moves what is sung after the end of a line from a row's last measure to the next row, as its
    upbeat; ``capitals`` say where a line begins, ``pickup`` is the length of the song's own."""
    last = row.measures[-1].measure
    if not last.sung or (row.measures[-1].upbeat and any(one.chord for one in last.struck)):
        return  # what is sung over the chord of an upbeat stays under it
    back = last.right.repeat or any(MARKS[mark.kind].leads_back for mark in last.marks)
    if back and not any(one.leads for one in last.sung):
        return  # it leads to where the band goes back to as well
    verses = sung_in(last)
    stays = {
        verse: _staying_here(row, following, sung, capitals, pickup)
        for verse, sung in verses.items()
    }
    moved = [verses[verse][stay].onset for verse, stay in stays.items() if verses[verse][stay:]]
    kept: list[SungSyllable] = []
    for verse, sung in verses.items():
        stay = stays[verse]
        if moved and stay == len(sung):
            goes_on = _goes_on(following, verse, sung)
            stay = _staying_with(row.measures[-1], sung, moved[0], goes_on)
        kept += sung[:stay]
        if sung[stay:]:
            following.before[verse] = (*sung[stay:], *following.before.get(verse, ()))
    if len(kept) < len(last.sung):
        row.measures[-1] = row.measures[-1]._replace(measure=last._replace(sung=tuple(kept)))


def _goes_on(following: RowOfMeasures, verse: str, sung: Sequence[SungSyllable]) -> bool:
    """Whether a verse is sung in the first bar of a row, or goes on with a word later in it."""
    bars = following.measures if sung[-1].goes_on else following.measures[:1]
    return any(one.verse == verse for now in bars for one in now.measure.sung)


def _staying_here(
    row: RowOfMeasures,
    following: RowOfMeasures,
    sung: tuple[SungSyllable, ...],
    capitals: bool,
    pickup: int,
) -> int:
    """How many of the syllables that are ``sung`` of a verse in the last measure of a row belong to
    that row."""
    verse = sung[0].verse
    before = [one for now in row.measures[:-1] for one in now.measure.sung if one.verse == verse]
    goes_on = [one for one in following.measures[0].measure.sung if one.verse == verse]
    stay = len(sung)
    if _may_lead(row, row.measures[-1].measure, capitals):
        begins = not before and verse not in row.before
        stay = _staying(row.measures[-1], before, sung, begins and bool(goes_on), capitals)
    line_ends = any(one.ends_line for one in sung)
    line_begins = capitals and any(map(begins_with_capital, goes_on[:1]))
    if line_ends or line_begins or not _goes_on(following, verse, sung):
        return stay
    return min(stay, _upbeat_in(row.measures[-1], before, sung, pickup))


def _may_lead(row: RowOfMeasures, last: Measure, capitals: bool) -> bool:
    """Whether anything that is sung in the last measure of a row may belong to the next: a line of
    words ended, a rest is before it, or a verse has nothing in the first half of the measure."""
    if capitals and any(map(begins_with_capital, last.sung)):
        return True
    if any(one.ends_line or one.leads for timed in row.measures for one in timed.measure.sung):
        return True
    if any(one.text[-1:] in _PAUSES or one.after_rest for one in last.sung):
        return True
    half = row.measures[-1].full
    early = {one.verse for one in last.sung if one.onset * 2 < half}
    return any(one.verse not in early for one in last.sung)


def _staying(
    last: Timed,
    earlier: Sequence[SungSyllable],
    sung: tuple[SungSyllable, ...],
    begins_here: bool,
    capitals: bool,
) -> int:
    """How many of a verse's syllables in the last measure belong to its row.

    Those after the end of a line do not, nor does a verse that only begins in the second
    half of the measure and goes on in the next row, as ``begins_here`` says it does.
    """
    leading = next((i for i, one in enumerate(sung) if one.leads), None)
    if leading is not None:
        return leading
    if any(one.ends_line for one in earlier):
        return 0
    ends = next((i for i, one in enumerate(sung, 1) if one.ends_line), 0)
    if ends:
        return ends
    for i, one in enumerate(sung, 1):
        if _begins_phrase(one, sung[i : i + 1], last.full, capitals):
            return i
    late = sung[0].onset * 2 >= last.full and not sung[0].held
    return 0 if begins_here and late and not last.measure.free else len(sung)


def _upbeat_in(
    last: Timed, earlier: Sequence[SungSyllable], sung: tuple[SungSyllable, ...], pickup: int
) -> int:
    """How many of a verse's syllables come before an upbeat at the end of a bar: one as long as the
    song's ``pickup``, else what is sung after a rest, else after a pause that a sign shows."""
    own = next((i for i, one in enumerate(sung) if one.onset == last.full - pickup), None)
    if own is not None and any(one.after_rest and 2 * one.onset >= last.full for one in sung[:own]):
        own = None  # what begins after the rest is one phrase
    if own is not None and _may_begin(last, earlier, sung, own):
        return own
    after_pause = len(sung)
    for i in reversed(range(len(sung))):
        if not _may_begin(last, earlier, sung, i):
            continue
        if sung[i].after_rest:
            return i
        said = _text_before(earlier, sung, i)
        if after_pause == len(sung) and (
            said.rstrip(_CLOSING)[-1:] in _PAUSES or said[-1:] in _ENDING
        ):
            after_pause = i
    return after_pause


def _may_begin(
    last: Timed, earlier: Sequence[SungSyllable], sung: tuple[SungSyllable, ...], at: int
) -> bool:
    """Whether an upbeat may begin with a syllable: in the second half of the bar, with a word, and
    with no chord struck from there on."""
    one = sung[at]
    before = next((s for s in (*reversed(sung[:at]), *reversed(earlier)) if s.text), None)
    inside = before is not None and before.goes_on
    late = one.onset * 2 >= last.full and not (inside or one.held or last.measure.free)
    return late and not any(struck.onset >= one.onset for struck in last.measure.struck)


def _text_before(earlier: Sequence[SungSyllable], sung: tuple[SungSyllable, ...], at: int) -> str:
    return next((s.text for s in (*reversed(sung[:at]), *reversed(earlier)) if s.text), "")


def _staying_with(last: Timed, sung: tuple[SungSyllable, ...], onset: int, goes_on: bool) -> int:
    """How many syllables of a verse come before an upbeat that another verse has."""
    at = next((i for i, one in enumerate(sung) if one.onset >= onset), len(sung))
    if at < len(sung) and goes_on and _may_begin(last, (), sung, at):
        return at
    return len(sung)


def _begins_phrase(
    one: SungSyllable, following: Sequence[SungSyllable], full: int, capitals: bool
) -> bool:
    """Whether the next syllable begins a line: with a capital, in the second half of the bar,
    after a sign or where ``capitals`` alone say so."""
    if not following or one.goes_on or following[0].onset * 2 < full:
        return False
    after_pause = bool(one.text) and one.text[-1:] in _PAUSES
    return (after_pause or capitals) and begins_with_capital(following[0])
