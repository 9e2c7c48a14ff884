"""Divides measures into rows: where a row begins, and which words are sung before it."""

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from chartkit.chart.marks import MarkKind
from chartkit.interchange.score.capital_lines import begins_with_capital, capitals_begin_lines
from chartkit.interchange.score.events import SungSyllable
from chartkit.interchange.score.odd_starts import fitting_starts, last_bars
from chartkit.interchange.score.phrases import phrase_starts
from chartkit.interchange.score.systems import Systems, systems_fit
from chartkit.interchange.score.timed import RowOfMeasures, Timed
from chartkit.interchange.score.upbeats import move_upbeats
from chartkit.interchange.score.words import sung_in

_LONGEST_ROW = 8
_COST_OF_LENGTH = (30, 30, 6, 8, 0, 8, 7, 12, 3)
"""The cost of a row by its number of bars. Phrases have four bars or eight (common practice, no
source), and one bar alone is not a row; the other costs are ours."""
_COST_OF_BARE_START = 10
_COST_OF_LATE_START = 3
"""The cost of a row that begins without a chord, or with one after its first beat (ours)."""
_COST_OF_PARTED_ENDINGS = 5
_LONGEST_SHORT_ENDING = 2
"""The most bars of an ending that gets no row of its own (ours)."""
_COST_OF_CUT_ENDING = 8
_COST_OF_OUTER_BAR = 9
_COST_ACROSS_REPEAT = 18
_COST_ACROSS_DOUBLE_LINE = 7
_USUAL_ROW = 4
_SHORT_ROW = 2
_COST_OF_SHORT_FIRST_ROW = 2.5
"""The cost of a section that begins with a row of two bars, besides: more than a comma behind it
says for that (ours)."""
_COST_OF_EARLY_ODD_ROW = 0.001
"""For each bar that comes after a row of an odd length: such rows stand at the end."""
_GAIN_OF_LINE = 1.5
_GAIN_OF_CAPITALS = 5.0
"""What a row gains that begins with a line of words: little where a sentence ends, more where each
line of the song has its capital (ours)."""
_COST_INSIDE_LINE = 9.0
"""The cost of a row that begins inside such a line, but not with its fifth bar (ours)."""
_COST_ACROSS_LINE = 4.5
"""The cost of a row that goes on where such a line begins: less than that of two rows of two bars
(ours)."""
_COST_OF_TWO_PHRASES = 5
"""The cost of a row of eight bars that is not one phrase, besides (ours)."""
_GAIN_OF_SIGN = 1.5
_COST_ACROSS_SIGN = 0.75
"""What a row gains that begins with a sign of a phrase, and the cost of one that goes on across it,
for each unit of ``phrases.py`` (ours)."""
_GAIN_OF_SYSTEM = 1.0


def rows_of(timed: Sequence[Timed], systems: Systems) -> list[RowOfMeasures]:
    """The rows of a score; its ``systems`` are rows if they say so, or may be and fit the
    phrases."""
    bars, before = _with_words_before(timed)
    capitals = capitals_begin_lines(bars, before)
    places = _places(bars, before, capitals, systems)
    places = _with_later_endings(bars, places)
    if not any(one.chord for now in bars for one in now.measure.struck):
        places = [place._replace(begin=min(place.begin, 0.0)) for place in places]
    for i in _inside_endings(bars):
        places[i] = places[i]._replace(begin=places[i].begin + _COST_OF_CUT_ENDING)
    starts = _row_starts(places)
    rows = [
        RowOfMeasures(bars[start:end], before.get(start, {}))
        for start, end in pairwise((*starts, len(bars)))
    ]
    pickup = _pickup_of(timed)
    for row, following in pairwise(rows):
        move_upbeats(row, following, capitals, pickup)
    return rows


def _pickup_of(timed: Sequence[Timed]) -> int:
    """The length of the upbeat with which a song begins, in units; 0 where it has none."""
    first = timed[0]
    if first.sung_before or first.pickup:
        return first.measure.length
    begins = first.measure.first_note
    return first.full - begins if first.upbeat and begins is not None else 0


def _with_words_before(
    timed: Sequence[Timed],
) -> tuple[list[Timed], dict[int, dict[str, tuple[SungSyllable, ...]]]]:
    """The bars, and by the number of a bar the words that are sung before it."""
    bars: list[Timed] = []
    before: dict[int, dict[str, tuple[SungSyllable, ...]]] = {}
    for now in timed:
        if not now.sung_before:
            bars.append(now)
        elif now.measure.sung:
            before[len(bars)] = sung_in(now.measure)
    return bars, before


# ---- where rows begin


class _Place(NamedTuple):
    """A place before a bar: whether a row must or may begin there, the cost of that, and the cost
    of going on across it; ``length`` is what the bar adds to its row, ``alone`` what it adds to a
    row that it begins, where that is more, and ``begins_line`` says that a line of words does."""

    must: bool = True
    may: bool = True
    begin: float = 0.0
    across: float = 0.0
    length: int = 0
    alone: int = 0
    begins_line: bool = False


def _places(
    bars: Sequence[Timed],
    before: Mapping[int, Mapping[str, tuple[SungSyllable, ...]]],
    capitals: bool,
    systems: Systems,
) -> list[_Place]:
    """The places before all bars, by the phrases or by the systems."""
    if systems == "are rows":
        return [_place(bars, i, i in before, by_systems=True) for i in range(len(bars))]
    begins, signs = phrase_starts(bars, before) if not capitals else (_with_capitals(bars), {})
    places = [_place(bars, i, i in before, by_systems=False) for i in range(len(bars))]
    musts = [i for i, place in enumerate(places) if place.must]
    begins = frozenset(fitting_starts(begins, musts, [place.length for place in places]))
    broken = [i for i, now in enumerate(bars) if now.measure.new_row]
    paused = {i + 1 for i, now in enumerate(bars) if _has(now, "fermata")}
    shown = paused if begins else paused | signs.keys()
    if systems and systems_fit(broken, begins, musts, shown, len(bars)):
        return _places(bars, before, capitals, "are rows")
    alone = last_bars(musts, len(bars))
    signs = {i: signs[i] for i in signs.keys() - alone}
    alone = {i for i in alone if not places[i].across}  # no sign stands between
    held = () if capitals else [i for i in begins if not bars[i].measure.struck]
    places = _by_lines(places, begins, held) if begins else places
    places = _by_signs(places, signs, begins)
    for i in alone:
        places[i] = places[i]._replace(begin=places[i].begin + _GAIN_OF_LINE)
    return places


def _place(bars: Sequence[Timed], at: int, sung_before: bool, by_systems: bool) -> _Place:
    now, measure = bars[at], bars[at].measure
    length = 0 if now.pickup else 1
    if not at:
        return _Place(length=length)
    last = bars[at - 1]
    must = bool(measure.section or measure.feel or measure.key or measure.capo is not None)
    must = must or measure.tempo is not None or sung_before or last.upbeat
    must = must or measure.free or last.measure.free
    must = must or any(one.leads for one in last.measure.sung)
    if by_systems:
        begins = must or measure.new_row
        return _Place(must=begins, may=begins)
    begin = float(_cost_of_start(now)) - _GAIN_OF_SYSTEM * measure.new_row
    if last.measure.sung and _ends_line(last):
        begin -= _GAIN_OF_LINE
    right = last.measure.right
    if not (measure.marks or last.measure.marks or measure.left or right or right.closes):
        return _Place(must, may=True, begin=begin, across=0.0, length=length)
    later_ending = bool(measure.left.endings) and measure.left.endings[0] != 1
    begin += _COST_OF_PARTED_ENDINGS * later_ending
    return _Place(
        must, may=True, begin=begin, across=_cost_across(last, now, later_ending), length=length
    )


def _with_later_endings(bars: Sequence[Timed], places: Sequence[_Place]) -> list[_Place]:
    """The places where later endings that are short stand after the first ending of the same
    phrase and make its row no longer, unless they begin a row.  The last of them does where only
    one bar is left between it and the end of its section, which stands beside it."""
    put = list(places)
    for ending in _short_later_endings(bars):
        for i in ending:
            put[i] = put[i]._replace(length=0, alone=ending.stop - i)
        after = ending.stop
        lone = after < len(bars) and (after + 1 == len(bars) or places[after + 1].must)
        right = bars[after - 1].measure.right
        if lone and not (right.repeat or _goes_elsewhere(bars[after - 1], bars[after])):
            first = put[ending.start]
            saved = _COST_OF_PARTED_ENDINGS + places[after].across
            put[ending.start] = first._replace(begin=first.begin - saved)
    return put


def _short_later_endings(bars: Sequence[Timed]) -> list[range]:
    """The bars of each later ending that is short.  One whose end is not marked is as long as the
    one before."""
    behind: list[range] = []
    begin: int | None = None
    for i, now in enumerate(bars):
        endings = now.measure.left.endings
        if not endings:
            continue
        before = 0 if begin is None else i - begin
        length = _marked_length(bars, i) or before
        if endings[0] != 1 and before and 0 < length <= _LONGEST_SHORT_ENDING:
            behind.append(range(i, min(i + length, len(bars))))
        begin = i
    return behind


def _inside_endings(bars: Sequence[Timed]) -> list[int]:
    """The bars inside endings that have a mark at their end, but for the first bar of each."""
    return [
        inside
        for i, now in enumerate(bars)
        if now.measure.left.endings
        for inside in range(i + 1, i + _marked_length(bars, i))
    ]


def _marked_length(bars: Sequence[Timed], begin: int) -> int:
    """How many bars an ending has by the mark at its end; 0 where there is none before the next
    ending or section."""
    for i in range(begin, len(bars)):
        measure = bars[i].measure
        if i > begin and (measure.left.endings or measure.section):
            return 0
        if measure.right.closes:
            return i + 1 - begin
    return 0


def _cost_across(last: Timed, now: Timed, later_ending: bool) -> float:
    """The cost of a row that goes on from one bar to the next: much across a repeat, where a
    jump leads away, or where a last ending ends, whose bracket is drawn to the end of its row or
    to a double line; but nothing into a later ending."""
    right, left = last.measure.right, now.measure.left
    ends_openly = right.closes and not (right.repeat or right.double or left.endings)
    if left.repeat or (right.repeat and not later_ending) or _goes_elsewhere(last, now):
        return _COST_ACROSS_REPEAT
    if ends_openly:
        return _COST_ACROSS_REPEAT
    if (right.double and not later_ending) or _has(last, "fine"):
        return _COST_ACROSS_DOUBLE_LINE
    return 0


def _goes_elsewhere(last: Timed, now: Timed) -> bool:
    """Whether a jump leads away after one bar, or a coda begins with the next."""
    return _has(last, "D.C.", "D.S.") or _has(now, "coda")


def _has(timed: Timed, *kinds: MarkKind) -> bool:
    return any(mark.kind in kinds for mark in timed.measure.marks)


def _cost_of_start(now: Timed) -> int:
    struck = now.measure.struck
    if now.rests or now.measure.free:
        return 0
    if not struck:
        return _COST_OF_BARE_START
    return _COST_OF_LATE_START * (struck[0].onset > 0 and not struck[0].pushed)


def _ends_line(last: Timed) -> bool:
    """Whether a line of words ends in a bar: it says so, or its last word ends a sentence."""
    for final in reversed(last.measure.sung):
        if final.text:
            return final.ends_line or final.text[-1] in ".!?;"
    return False


def _by_lines(
    places: Sequence[_Place], begins: frozenset[int], held: Sequence[int]
) -> list[_Place]:
    """The places where it is known with which bars lines of words begin: rows begin with them, or
    with the fifth bar of a long one, and hardly go on across them; but they need not begin where a
    chord is ``held`` from the line before."""
    weighed, line = list(places[:1]), 0
    ends = sorted((*begins, len(places)))
    for i, place in enumerate(places[1:], 1):
        line = i if place.must else line
        if i in begins:
            line = i
            if i not in held:
                place = place._replace(
                    begin=place.begin - _GAIN_OF_CAPITALS,
                    across=place.across + _COST_ACROSS_LINE,
                    begins_line=True,
                )
            weighed.append(place)
            continue
        end = ends[bisect_right(ends, i)]
        is_fifth = (i - line) % _USUAL_ROW == 0 and end - i > 1
        more = 0.0 if is_fifth else _COST_INSIDE_LINE
        weighed.append(place._replace(begin=place.begin + more))
    return weighed


def _by_signs(
    places: Sequence[_Place], weights: Mapping[int, float], sure: frozenset[int]
) -> list[_Place]:
    """The places where signs of phrases are too few to be ``sure``: rows rather begin with them."""
    return [
        place._replace(
            begin=place.begin - _GAIN_OF_SIGN * weights[i],
            across=place.across + _COST_ACROSS_SIGN * weights[i],
        )
        if i in weights and i not in sure
        else place
        for i, place in enumerate(places)
    ]


def _with_capitals(bars: Sequence[Timed]) -> frozenset[int]:
    """The bars with whose first word or upbeat a capital stands, in most verses."""
    sung = [sung_in(now.measure) for now in bars]
    return frozenset(
        i for i in range(1, len(bars)) if _begins_line(bars[i - 1], sung[i - 1], bars[i], sung[i])
    )


_Sung = Mapping[str, Sequence[SungSyllable]]
"""The syllables of each verse."""


def _begins_line(last: Timed, late: _Sung, now: Timed, here: _Sung) -> bool:
    """Whether a word with a capital is the first of a bar or its upbeat, in half of the verses that
    are sung there; ``late`` is what is sung in the bar before."""
    capitals = 0
    for verse in here:
        first = next((one for one in here[verse] if one.text), None)
        upbeat = (one for one in late.get(verse, ()) if one.onset * 2 >= last.full)
        capitals += any(map(begins_with_capital, upbeat)) or (
            first is not None and first.onset * 2 < now.full and begins_with_capital(first)
        )
    return bool(capitals) and 2 * capitals >= len(here)


def _row_starts(places: Sequence[_Place]) -> list[int]:
    """The bars at which rows begin, at the least cost for all rows together."""
    total = len(places)
    best = [0.0]
    begins = [0]
    for end in range(1, total + 1):
        least, begin = float("inf"), end - 1
        odd = _COST_OF_EARLY_ODD_ROW * (total - end)
        goes_on = end + 1 < total and not (places[end].must or places[end + 1].must)
        short_first = _COST_OF_SHORT_FIRST_ROW * goes_on
        bars, across, line_inside = 0, 0.0, False
        for start in range(end - 1, -1, -1):
            must, may, cost, cost_across, length, alone, begins_line = places[start]
            count = bars + (alone if alone > length else length)
            bars += length
            if bars > _LONGEST_ROW:
                break
            if may and count <= _LONGEST_ROW:
                cost += best[start] + across
                if count == _LONGEST_ROW and line_inside:
                    cost += _COST_OF_TWO_PHRASES
                if count != _USUAL_ROW:
                    if must and count == _SHORT_ROW:
                        cost += short_first
                    outer = count == 1 and (end == total or not start)
                    cost += odd + (_COST_OF_OUTER_BAR if outer else _COST_OF_LENGTH[count])
                if cost <= least:
                    least, begin = cost, start
            if must:
                break
            across += cost_across
            line_inside |= begins_line
        best.append(least)
        begins.append(begin)
    starts: list[int] = []
    at = len(places)
    while at:
        at = begins[at]
        starts.append(at)
    return starts[::-1]


def sections_of(rows: Sequence[RowOfMeasures]) -> Iterator[tuple[str, list[RowOfMeasures]]]:
    """The rows gathered under the sections they belong to, with their names."""
    opened: list[RowOfMeasures] = []
    name = ""
    for row in rows:
        section = row.measures[0].measure.section
        if section and opened:
            yield name, opened
            opened = []
        name = section or name
        opened.append(row)
    if opened:
        yield name, opened
