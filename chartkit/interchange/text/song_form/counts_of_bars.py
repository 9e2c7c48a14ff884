"""An order of sections with how many bars each of them has: "Intro 4, V 8, Ch 8, V 8, Ch 16, out".

Such a count is compared with the bars of its section as it is written: twice as many are the
section twice.  Source of the form, as bands write it: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.song_form.roadmap import Stop
from chartkit.interchange.text.tokens import TIMED, Token
from chartkit.interchange.text.vocabulary.times_played import times_of

_BARS = (
    r"bars?|takte?n?|mesures?|compases|compassos|battute|maten|takter|takty|taktów|measures?|bar"
)
_ITEM = re.compile(
    rf"(?P<name>[^\W\d_][^\d()]*?\d?)(?:\s+|\s*[(:=]\s*)(?P<count>\d{{1,2}})(?:\s?(?P<bars>{_BARS}))?\)?",
    re.IGNORECASE,
)
_BETWEEN = re.compile(r"\s*(?:[,;/>|·•→⇒]|\s[-–—]+>?\s)\s*")
_LONGEST = 200
_FEWEST_COUNTED, _FEWEST_BARS = 3, 4
_HALF = 0.5


def without_counts_of_bars(text: str) -> tuple[str, tuple[int, ...]]:
    """An order without the count of bars behind each name, and these counts, 0 where an item has
    none; the text and no counts where it has other numbers, or few."""
    items = _BETWEEN.split(text.strip().rstrip(".")) if len(text) <= _LONGEST else []
    if len(items) < _FEWEST_COUNTED:
        return text, ()
    matches = [_ITEM.fullmatch(item.strip()) for item in items]
    counted = [match for match in matches if match is not None]
    worded = any(match["bars"] for match in counted)
    likely = all(match["bars"] or int(match["count"]) >= _FEWEST_BARS for match in counted)
    few = len(counted) < max(_FEWEST_COUNTED, _HALF * len(items))
    if few or not (worded or likely):
        return text, ()
    pairs = zip(items, matches, strict=True)
    names = [item if match is None else match["name"] for item, match in pairs]
    counts = tuple(0 if match is None else int(match["count"]) for match in matches)
    return ", ".join(names), counts


def played_for(stop: Stop, bars: int, written: int) -> Stop:
    """A stop of an order that is so many bars long, where its section is written with another
    count of bars: played several times, or with the count as a remark; 0 for an unknown count."""
    if not bars or bars == written:
        return stop
    if written and bars % written == 0:
        return replace(stop, times=bars // written)
    return replace(stop, remark=", ".join(filter(None, [f"{bars} bars", stop.remark])))


def bars_written(rows: Sequence[Sequence[Token]]) -> int:
    """How many bars rows of chords have, as often as their repeats play them; 0 where a row has no
    bar lines."""
    return sum(map(_bars_of, rows)) if all(map(_bars_of, rows)) else 0


def _bars_of(row: Sequence[Token]) -> int:
    bars, filled = 0, False
    for token in row:
        if token.kind == "bar":
            bars, filled = bars + filled, False
        filled = filled or token.kind in (*TIMED, "simile")
    barred = any(token.kind == "bar" for token in row)
    repeated = any(token.kind == "bar" and token.text.startswith(":") for token in row)
    times = next((times_of(token.text.strip("()")) for token in row if token.kind == "times"), 1)
    return (bars + filled) * max(times, 1 + repeated) if barred else 0
