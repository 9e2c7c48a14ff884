"""How often a section is played, by its rows: counts behind rows of chords, and numbered
endings."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from chartkit.chart.model import BarLine, Cue, MusicRow, Row, Section, Strike, WordsRow
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.vocabulary.times_played import times_of

_MOST_WRITTEN_OUT = 8


def times_of_row(
    section: Section, rows: Sequence[Row], counted: Mapping[str, int], findings: Findings
) -> tuple[int, list[Row]]:
    """How often a section is played by the "x4" behind its only row of music (0 where nothing says
    so), and its rows without that count.

    ``counted`` has the counts behind rows with bar lines, by their places.
    """
    result = list(rows)
    music = [at for at, row in enumerate(rows) if isinstance(row, MusicRow)]
    row = rows[music[0]] if len(music) == 1 else None
    if not section.name or section.times > 1 or not isinstance(row, MusicRow):
        return 0, result
    place = f"{row.span.start}:1"
    sung = sum(isinstance(one, WordsRow) for one in rows[music[0] :])
    if played := counted.get(place, 0):
        if _goes_round_under(sung, played):
            return 0, result
        result[music[0]] = replace(row, lines=(BarLine(), *row.lines[1:-1], BarLine()))
        return played, result
    times, cues = _count_in_cues(row.bars[-1].cues)
    if not row.free or not times:
        return 0, result
    if _goes_round_under(sung, times) and len(row.bars) == 1:
        result[music[0]] = _written_out(row, times, cues, findings)
        return 0, result
    bars = (*row.bars[:-1], replace(row.bars[-1], cues=cues))
    result[music[0]] = replace(row, bars=bars)
    findings.take_back("times-as-cue", place)
    return times, result


def _goes_round_under(sung: int, times: int) -> bool:
    """Whether chords with a count go round that often while their words are sung once: as many
    lines of words fall to each time.  Common practice, no source."""
    return 1 < times <= _MOST_WRITTEN_OUT and sung >= times and sung % times == 0


def _count_in_cues(cues: Sequence[Cue]) -> tuple[int, tuple[Cue, ...]]:
    """The count that one of the cues begins with, and the cues without it; 0 where none does, or
    several do."""
    counted = [(at, *_times_and_rest(cue.text)) for at, cue in enumerate(cues)]
    counts = [(at, times, rest) for at, times, rest in counted if times]
    if len(counts) != 1:
        return 0, tuple(cues)
    at, times, rest = counts[0]
    kept = (replace(cues[at], text=rest),) if rest else ()
    return times, (*cues[:at], *kept, *cues[at + 1 :])


def _times_and_rest(text: str) -> tuple[int, str]:
    """How often something is played by a cue that begins with it, and what else it says."""
    first, comma, rest = text.partition(",")
    return (times_of(first), rest.strip()) if comma else (times_of(text), "")


def times_by_endings(section: Section, rows: Sequence[Row]) -> int:
    """The number of a section's last numbered ending where its heading counts as many times; else
    0."""
    lines = (one for row in rows if isinstance(row, MusicRow) for one in row.lines)
    last = max((max(one.endings) for one in lines if one.endings), default=0)
    return last if last > 1 and section.times == last else 0


def written_out_counts(rows: Sequence[Row], findings: Findings) -> list[Row]:
    """The rows of a section; if several are music, those of chords without bars and words are
    written as often as an "x4" behind each says."""
    result = list(rows)
    music = [at for at, row in enumerate(rows) if isinstance(row, MusicRow)]
    if len(music) < 2:
        return result
    for at in music:
        row = rows[at]
        under = rows[at + 1] if at + 1 < len(rows) else None
        if not isinstance(row, MusicRow) or not row.free or isinstance(under, WordsRow):
            continue
        *before, last = row.bars
        cue = next((one for one in last.cues if times_of(one.text) > 1), None)
        count = times_of(cue.text) if cue is not None else 0
        if before or not 1 < count <= _MOST_WRITTEN_OUT or len(last.strikes) < 2:
            continue
        kept = tuple(one for one in last.cues if one is not cue)
        result[at] = _written_out(row, count, kept, findings)
    return result


def _written_out(row: MusicRow, count: int, cues: tuple[Cue, ...], findings: Findings) -> MusicRow:
    """A row of one bar without bar lines, its chords as often as its count says."""
    bar = row.bars[0]
    place = f"{row.span.start}:1"
    findings.take_back("times-as-cue", place)
    findings.guess("chords-again", "chords with a count behind their row are written out", place)
    return replace(row, bars=(replace(bar, strikes=_struck_again(bar.strikes, count), cues=cues),))


def _struck_again(strikes: Sequence[Strike], count: int) -> tuple[Strike, ...]:
    """Strikes in turn ``count`` times; a bass alone at their start stands under the last chord
    before."""
    result = list(strikes)
    before = next((one.chord for one in reversed(strikes) if one.chord is not None), None)
    for strike in (one for _ in range(count - 1) for one in strikes):
        if strike.bass_only and strike.chord is not None and before is not None:
            strike = replace(strike, chord=replace(before, bass=strike.chord.bass))
        before = strike.chord or before
        result.append(strike)
    return tuple(result)
