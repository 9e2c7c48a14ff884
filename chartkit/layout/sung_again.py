"""What is sung and said in a section, for places where its music is not printed again."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from chartkit.arrange.arrangement import Announcement, ArrangedSection, ArrangedSystem, WordsLine
from chartkit.chart.model import Segment
from chartkit.chart.whole_words import whole_words
from chartkit.layout.metrics import runs_from_right
from chartkit.layout.tempo import tempo_words


def sung_again(section: ArrangedSection) -> tuple[str, ...]:
    """The words of a section, verse after verse, a text for each row of music."""
    last = len(section.systems) - 1
    rows = [_sung_text(system, i < last) for i, system in enumerate(section.systems)]
    if not any(system.bars for system in section.systems):
        return tuple(text for system in section.systems for text in stanza_texts(system))
    most = max(map(len, rows), default=0)
    texts = (row[verse] for verse in range(most) for row in rows if verse < len(row))
    return tuple(filter(None, texts))


def stanza_texts(system: ArrangedSystem) -> list[str]:
    """The lines of words without music, with their numbers where they have any."""
    return [
        f"{line.verse}. {line.pickup.text}" if line.verse is not None else line.pickup.text
        for line in system.words
    ]


def line_numbers(words: tuple[WordsLine, ...]) -> list[str]:
    """The numbers before lines of words: the number a line is known by, or in a stack the number it
    was typed with. A stack typed without numbers is numbered in its order."""
    known = [line.number for line in words]
    if len(words) < 2:
        return known
    typed = [line.verse for line in words]
    if not any(known) and not any(typed):
        return [str(number) for number in range(1, len(words) + 1)]
    return [
        number or ("" if verse is None else str(verse))
        for number, verse in zip(known, typed, strict=True)
    ]


def _sung_text(system: ArrangedSystem, goes_on: bool) -> list[str]:
    """The words under a system, verse by verse, split words joined again; a hyphen ends those
    that go on in the next system."""
    texts = []
    for line in system.words:
        text, splits = run_together((line.pickup, *(s for bar in line.bars for s in bar)))
        text += "-" * (goes_on and splits)
        numbered = text and len(system.words) > 1 and line.verse is not None
        texts.append(f"{line.verse}. {text}" if numbered else text)
    return texts


def run_together(segments: Iterable[Segment]) -> tuple[str, bool]:
    """The words of segments as one text, split ones joined, and whether the last is split.  Words
    that run from right to left begin at the right end."""
    sung = [segment for segment in segments if segment.text]
    from_right = runs_from_right("".join(segment.text for segment in sung))
    said, between = "", ""
    for segment in sung:
        parts = (said, between, segment.text)
        said = "".join(reversed(parts) if from_right else parts)
        between = "" if segment.split else " "
    return whole_words(said).strip(), bool(sung) and not between


def announcements_of(section: ArrangedSection) -> tuple[Announcement, ...]:
    """The announcements above the rows of a section: its cues, its key and the like."""
    return tuple(one for system in section.systems for one in system.above)


def new_announcements(
    section: ArrangedSection, before: Sequence[Announcement]
) -> tuple[Announcement, ...]:
    """The announcements of a section that the one with its music does not have, and its key."""
    known = {(one.kind, one.text) for one in before}
    return tuple(
        replace(one, text=said_of(one, system)) if one.kind == "tempo" else one
        for system in section.systems
        for one in system.above
        if one.kind == "key" or (one.kind, one.text) not in known
    )


def said_above(system: ArrangedSystem) -> list[str]:
    """What stands above a row, where only words are printed: all that changes in one text, then
    a text for each cue."""
    changes = [said_of(one, system) for one in system.above if one.kind != "cue"]
    cues = [one.text for one in system.above if one.kind == "cue"]
    return [*filter(None, (" · ".join(changes),)), *cues]


def said_of(one: Announcement, system: ArrangedSystem) -> str:
    """The words of an announcement; a tempo names the note that is the beat of the row's meter."""
    if one.kind != "tempo":
        return one.text
    return tempo_words(one.text, system.bars[0].meter.beat if system.bars else Fraction(1, 4))
