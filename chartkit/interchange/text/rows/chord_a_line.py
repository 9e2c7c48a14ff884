"""Chords of which one belongs to each line of words ("Verse: G D Em C (one per line)").

Source of the ways to say it: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import Bar, Cue, MusicRow, Row, Segment, WordsRow

_ONE_A_LINE = re.compile(
    r"\A\s*(?:(?:one|1)(?: chords?)? (?:to|per|for|each|a|on)(?: (?:a|each|every))? ?line|"
    r"(?:one|a) (?:chord )?(?:each|every) line|(?:chord )?(?:per|each|every) line|"
    r"(?:ein(?:er|en)?|1)(?: akkord)? (?:pro|je|für jede) zeile|(?:je|pro) zeile ein(?:er|en)?|"
    r"un (?:accord )?(?:par|à chaque) ligne|"
    r"uno? (?:acorde )?(?:por|para cada) (?:línea|linha|verso)|"
    r"(?:één|een) (?:akkoord )?per regel|ett (?:ackord )?per rad|"
    r"(?:jeden|1) na (?:linijkę|wers))\s*(?:[,;]\s*|\Z)",
    re.IGNORECASE,
)


def one_chord_a_line(music: Sequence[Row], words: Sequence[Row]) -> list[Row] | None:
    """A row of music for each line of words, in turn; None where nothing says so, or where they
    are not as many chords as lines."""
    rows = [row for row in music if isinstance(row, MusicRow)]
    if len(rows) != 1 or not rows[0].free or len(rows[0].bars) != 1:
        return None
    bar, lines = rows[0].bars[0], [row for row in words if isinstance(row, WordsRow)]
    more = [_ONE_A_LINE.sub("", cue.text, count=1) for cue in bar.cues]
    said = any(text != cue.text for text, cue in zip(more, bar.cues, strict=True))
    if not said or len(bar.strikes) != len(lines):
        return None
    others = tuple(
        replace(cue, text=text) for text, cue in zip(more, bar.cues, strict=True) if text
    )
    result: list[Row] = [row for row in music if row is not rows[0]]
    for at, (strike, line) in enumerate(zip(bar.strikes, lines, strict=True)):
        cues: tuple[Cue, ...] = others if at == 0 else ()
        result.append(replace(rows[0], bars=(Bar((replace(strike, onset=0),), cues=cues),)))
        result.append(replace(line, cells=((Segment(),), line.cells[0])))
    return result
