"""Chords of which one belongs to each line of words ("Verse: G D Em C (one per line)"), or all of
which do ("once round per line").

Source of the ways to say it: common practice, no source.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import chain

from chartkit.chart.model import Bar, Cue, MusicRow, Row, Segment, WordsRow
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.quick_looks import has_any, in_small_letters
from chartkit.interchange.text.rows.lyrics import places_by_syllables, words_row
from chartkit.interchange.text.rows.read_rows import ReadRow

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

_TIMES_A_LINE = re.compile(
    r"(?<!\w)(?:(?P<twice>twice|two (?:times|rounds)|2\s?x|[x×]\s?2|zweimal|zwei mal|"
    r"deux fois|dos veces|due volte)|"
    r"once|(?:one|a|the) (?:time|round|turn|go|loop|cycle|pass)|1\s?x|rounds?|"
    r"(?:all|the (?:lot|whole \w+|row|four))(?: of (?:it|them))?|"
    r"einmal|(?:eine |je )?(?:runde|durchgang)|une fois|un tour|una (?:vez|vuelta|volta)|uma vez|"
    r"un giro|(?:één|een) keer|en (?:gång|gang)|ett varv)(?: (?:round|through|rum|durch))?"
    r" (?:per|pro|je|a|an|each|every|for (?:each|every)|on (?:each|every)|to (?:a|each|every)|"
    r"(?:für )?jede|par|à chaque|por|por cada|para cada|för varje|for hver)"
    r" (?:line|zeile|ligne|línea|linea|linha|verso|riga|regel|rad|linje)(?!\w)",
    re.IGNORECASE,
)
"""How a line says that its chords are played once or twice over each line of words."""


_LINES_OF_WORDS = (
    "line",
    "zeile",
    "lign",
    "líne",
    "linea",
    "linha",
    "verso",
    "rig",
    "regel",
    "rad",
    "linj",
)


def each_line_said_at(text: str) -> int:
    """Where a text begins to say that its chords are played over each line of words; its length
    where it does not."""
    if not has_any(in_small_letters(text), _LINES_OF_WORDS):
        return len(text)
    match = _TIMES_A_LINE.search(text)
    return match.start() if match is not None else len(text)


def says_of_each_line(text: str) -> bool:
    """Whether words say no more than that one chord, or all of them, belong to each line."""
    text = text.strip()
    return _ONE_A_LINE.fullmatch(text) is not None or _TIMES_A_LINE.fullmatch(text) is not None


def times_a_line(said: Iterable[str]) -> int:
    """How often chords are played over each line of words, as one of some remarks says; 0 where
    none says anything of that."""
    found = next(filter(None, map(_TIMES_A_LINE.search, said)), None)
    return 0 if found is None else 2 if found["twice"] else 1


def all_chords_each_line(
    music: Sequence[Row], words: Sequence[Row], said: Iterable[str] = ()
) -> list[Row] | None:
    """A row with all chords for each line of words, spread over it by syllables; None where no cue
    and nothing else that is said has them played over each, or they are more than one row."""
    rows = [row for row in music if isinstance(row, MusicRow)]
    if len(rows) != 1:
        return None
    cues = (cue.text for bar in rows[0].bars for cue in bar.cues)
    times = times_a_line(chain(cues, said))
    if not times:
        return None
    row = replace(rows[0], bars=tuple(replace(bar, cues=()) for bar in rows[0].bars))
    result: list[Row] = [one for one in music if not isinstance(one, MusicRow)]
    for line in words:
        if not isinstance(line, WordsRow):
            result.append(line)
            continue
        result += [row] * (times - 1)
        text = line.cells[0][0].text
        sung = words_row(Line(line.span.start, text), _spread(row, text))
        result += [row, replace(sung, verse=line.verse)]
    return result


def report_each_line(findings: Findings, row: MusicRow) -> None:
    """Reports once that the chords of a row are played over each line of words, as they say."""
    place = f"{row.span.start}:1"
    if all((one.code, one.place) != ("each-line", place) for one in findings.collected):
        findings.guess(
            "each-line",
            "the chords are said to be played over each line of words: they are written so, "
            "spread over its syllables",
            place,
        )


def _spread(row: MusicRow, text: str) -> ReadRow:
    """A row of music with places over a line of words, by syllables."""
    counts = [max(1, len(bar.strikes)) for bar in row.bars]
    places = iter(places_by_syllables(text, sum(counts)))
    return ReadRow(row, tuple(tuple(next(places) for _ in range(n)) for n in counts))


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
