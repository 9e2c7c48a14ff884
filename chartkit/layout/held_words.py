"""Which words of a sung line a fermata holds, so that its sign stands over them."""

from collections.abc import Iterator, Sequence

from chartkit.arrange.arrangement import ArrangedSection, WordsLine
from chartkit.chart.marks import Mark
from chartkit.chart.model import Bar, Segment
from chartkit.layout.metrics import runs_from_right
from chartkit.layout.sung_again import run_together
from chartkit.layout.sung_order import Phrase, sung_line
from chartkit.layout.sung_words import said_in


def held_words(section: ArrangedSection, phrase: Phrase, said: str) -> tuple[int, ...]:
    """The places, from 0, of the words of a phrase that are held, in the text that is printed of
    it.  A held bar without words counts for the word before it; the last word stands for one whose
    place is not plain, as in words that run from right to left."""
    printed = said.split()
    if not printed:
        return ()
    from_right = runs_from_right(said)
    last = 0 if from_right else len(printed) - 1
    moved = _moved(said_in(section, phrase).split(), printed)
    places = set()
    for place in _held_in(section, phrase):
        known = moved is not None and not from_right
        places.add(min(max(place + moved, 0), last) if known and moved is not None else last)
    return tuple(sorted(places))


def _held_in(section: ArrangedSection, phrase: Phrase) -> Iterator[int]:
    """The places of the held words in the text of all runs of a phrase, -1 before the first."""
    before = ""
    for number, run in enumerate(phrase.runs):
        sung = sung_line(section, run)
        first = len(before.split()) - before.endswith("-")
        for at in run.bars:
            bar = section.systems[run.system].bars[at].bar
            for mark in bar.marks:
                if mark.holds_time:
                    yield first + (_place(sung, at, bar, mark) if sung else -1)
        before = said_in(section, phrase._replace(further=phrase.further[:number]))


def _place(sung: tuple[WordsLine, tuple[int, ...]], at: int, bar: Bar, mark: Mark) -> int:
    """The place of the word held by a mark in one run's text; -1 before its first word."""
    line, bars = sung
    before = [line.pickup] if bars[0] == 0 else []
    before += [segment for other in bars if other < at for segment in line.bars[other]]
    here = line.bars[at]
    struck = _struck_under(bar, mark)
    before += here[:struck]
    begins = struck < len(here) and bool(here[struck].text)
    return _word_count(before, goes_on=begins) if begins else _word_count(before, goes_on=False) - 1


def _struck_under(bar: Bar, mark: Mark) -> int:
    """Under which of the bar's places for words the mark stands: one for each chord, and one before
    them where the bar begins without a chord.  In free time the mark tells the number itself."""
    onsets = [strike.onset for strike in bar.strikes]
    if len(onsets) > 1 and not any(onsets):
        return mark.onset
    started = sum(onset <= mark.onset for onset in onsets)
    goes_on = bool(onsets) and onsets[0] > 0
    return max(0, started - 1 + goes_on)


def _word_count(segments: Sequence[Segment], goes_on: bool) -> int:
    """How many words segments have; where the last is split and ``goes_on``, without that one."""
    text, splits = run_together(segments)
    return len(text.split()) - (splits and goes_on)


def _moved(words: list[str], printed: list[str]) -> int | None:
    """How many words further on the words of a phrase stand in what is printed of it: a pick-up may
    come before them, and words at either end may have gone to other lines.  None where they are not
    found."""
    ways: list[int] = [*range(len(printed)), -1]
    for by in ways:
        own, shown = words[max(0, -by) :], printed[max(0, by) :]
        count = min(len(own), len(shown))
        alike = own[: count - 1] == shown[: count - 1]
        if count and alike and shown[count - 1].startswith(own[count - 1].rstrip("-")):
            return by
    return None
