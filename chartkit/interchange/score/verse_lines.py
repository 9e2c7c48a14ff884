"""Lines of words that are no verse of their own, whatever their numbers say.

A program numbers lines by their height on the page: a refrain may stand on the second or the third
line, where no other verse is sung.  Common practice, no source.
"""

from collections.abc import Sequence

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure
from chartkit.interchange.score.words import sung_in
from chartkit.phrases import listed


def with_plain_lines(
    measures: tuple[Measure, ...], verses: dict[str, int], findings: Findings
) -> tuple[tuple[Measure, ...], dict[str, int]]:
    """The measures with the lines that are sung where no other is on the first one, and the number
    of each verse.  A line that says which verse it is stays as it is."""
    if len(verses) < 2:
        return measures, verses
    together = _stacked(measures)
    named = {one.verse for measure in measures for one in measure.sung if one.named}
    alone = [verse for verse in verses if verse not in together and verse not in named]
    others = sorted((one for one in verses if one not in alone), key=verses.__getitem__)
    first = others[0] if others else min(alone, key=verses.__getitem__)
    moved = [verse for verse in alone if verse != first]
    if not moved:
        return measures, verses
    numbers = {verse: verses[verse] for verse in verses if verse not in moved}
    if verses[first] > 1 and len(moved) == 1 and verses[moved[0]] == 1:
        numbers = {verse: number - 1 for verse, number in numbers.items()}  # a refrain on line 1
    findings.guess(
        "plain-lines",
        f"lyrics {listed(sorted(verses[verse] for verse in moved))} stand where no others do: "
        "they are written without a number",
    )
    return tuple(_on_line(measure, set(moved), first) for measure in measures), numbers


def _stacked(measures: Sequence[Measure]) -> set[str]:
    """The lines that are sung at the time of another in some measure."""
    together: set[str] = set()
    for measure in measures:
        spans = [
            (words[0].onset, words[-1].onset, verse)
            for verse, sung in sung_in(measure).items()
            if (words := [one for one in sung if one.text])
        ]
        latest, holder = -1, ""
        for start, end, verse in sorted(spans):
            if start <= latest:
                together |= {verse, holder}
            latest, holder = max((latest, holder), (end, verse))
    return together


def _on_line(measure: Measure, moved: set[str], first: str) -> Measure:
    if not any(one.verse in moved for one in measure.sung):
        return measure
    sung = tuple(one._replace(verse=first) if one.verse in moved else one for one in measure.sung)
    return measure._replace(sung=sung)
