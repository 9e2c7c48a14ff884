"""From syllables to the words under a bar: the verses, and one segment for each chord."""

from collections.abc import Iterable, Mapping, Sequence

from chartkit.chart.model import Segment
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure, SungSyllable

_MOST_VERSES = 1000
IN_VOICE = ", voice "
"""Stands in the name of a verse between its number and a voice whose words are kept apart."""

Cell = tuple[Segment, ...]
EMPTY: Cell = (Segment(),)


def verse_numbers(measures: Iterable[Measure]) -> dict[str, int]:
    """The number of each verse: its own where it has one, else the next that is free."""
    names = sorted({s.verse for m in measures for s in m.sung}, key=_verse_order)
    own = {name: int(name) for name in names if name.isdecimal() and 0 < int(name) < _MOST_VERSES}
    last = max(own.values(), default=0)
    for name in names:
        if name not in own:
            last += 1
            own[name] = last
    return {name: own[name] for name in names}


def without_doubled_voices(
    measures: tuple[Measure, ...], findings: Findings
) -> tuple[Measure, ...]:
    """The measures without the words of voices that only sing along: in each measure the same
    words as another voice's, or none."""
    names = {one.verse for measure in measures for one in measure.sung if IN_VOICE in one.verse}
    if not names:
        return measures
    sung = [_words_in(measure) for measure in measures]
    doubled = {
        name
        for name in names
        if all(
            words[name] == words.get(name.partition(IN_VOICE)[0]) for words in sung if name in words
        )
    }
    if doubled:
        findings.sure("voices-alike", "voices that sing the same words: these are written once")
    return tuple(
        measure._replace(sung=tuple(one for one in measure.sung if one.verse not in doubled))
        for measure in measures
    )


def report_voices(verses: Mapping[str, int], findings: Findings) -> None:
    """Reports which verses are the words of a voice that sings other words at the same time."""
    for name, number in verses.items():
        if IN_VOICE in name:
            findings.guess(
                "voice-as-verse",
                f"the words of another voice, sung at the same time, are written as verse {number}",
            )


def _words_in(measure: Measure) -> dict[str, list[tuple[str, bool]]]:
    """The syllables of each verse in a measure, wherever they stand in it."""
    words: dict[str, list[tuple[str, bool]]] = {}
    for one in measure.sung:
        if not one.held:
            words.setdefault(one.verse, []).append((one.text, one.goes_on))
    return words


def _verse_order(name: str) -> tuple[int, int, str]:
    digits = name if name.isdecimal() else name.partition(",")[0].partition(" ")[0]
    plain = digits.isdecimal() and len(digits) < 6
    return (not plain, int(digits) if plain else 0, name)


def cell_of(sung: Sequence[SungSyllable], starts: Sequence[int]) -> Cell:
    """The words of one verse in a bar; ``starts`` is where each segment begins, in units."""
    if not sung:
        return EMPTY
    if len(starts) == 1 and sung[0].onset >= starts[0]:
        return (_segment(sung),)
    ends = [*starts[1:], None]
    segments = [
        _segment([s for s in sung if start <= s.onset and (end is None or s.onset < end)])
        for start, end in zip(starts, ends, strict=True)
    ]
    while len(segments) > 1 and segments[-1] == Segment():
        segments.pop()
    return tuple(segments)


def _segment(sung: Sequence[SungSyllable]) -> Segment:
    if len(sung) == 1:
        alone = sung[0]
        return Segment(held=True) if alone.held else Segment(alone.text.strip(), alone.goes_on)
    words = [one for one in sung if not one.held]
    if not words:
        return Segment(held=bool(sung))
    last = words[-1]
    before = [one.text if one.goes_on else f"{one.text} " for one in words[:-1]]
    return Segment(f"{''.join(before)}{last.text}".strip(), last.goes_on)


def sung_in(measure: Measure) -> dict[str, tuple[SungSyllable, ...]]:
    """The syllables of a measure, each verse's by themselves."""
    if len({sung.verse for sung in measure.sung}) == 1:
        return {measure.sung[0].verse: measure.sung}
    by_verse: dict[str, list[SungSyllable]] = {}
    for sung in measure.sung:
        by_verse.setdefault(sung.verse, []).append(sung)
    return {verse: tuple(syllables) for verse, syllables in by_verse.items()}
