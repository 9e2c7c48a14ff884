"""The measured but unplaced parts of a page: words, slots, bars, rows.

A slot is a place in a bar where something begins: a struck chord, a slash or a rest, with the words
sung from there.  ``needs`` of a bar holds, for every slot, which later slot has to stand how
far to its right; the number of slots stands for the end of the bar.
"""

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from chartkit.arrange.arrangement import Announcement, ArrangedStrike
from chartkit.chart.model import Bar, BarLine
from chartkit.chart.signs import Sign
from chartkit.diagnostics import Span
from chartkit.layout.frames import Piece
from chartkit.layout.labels import ChordLabel
from chartkit.layout.rhythm import Group, NoteValue


class Word(NamedTuple):
    """The words sung from one strike on. ``split`` says that the last word goes on at the next
    strike, ``held`` that no new syllable is sung.

    ``hang`` is how far opening quotes and the like stand out to the left of the strike, so that
    the first letter is under the chord; ``source`` is the place in the text it came from.
    """

    text: str
    pieces: tuple[Piece, ...]
    width: float
    split: bool = False
    held: bool = False
    hang: float = 0.0
    source: Span | None = None


class Slot(NamedTuple):
    """A place in a bar.

    ``share`` is where it would stand by its beat, from 0 to 1 of the bar.  ``labels`` has
    one chord name a line, or none where a ``sign`` stands: a slash, a muted stroke, a rest.
    ``onset`` counts ticks from the start of the bar.  A ``held`` slash
    is tied to what stands before it.  ``value`` is the note or rest it is, where that is drawn.
    """

    share: float
    labels: tuple[ChordLabel | None, ...] = ()
    words: tuple[Word | None, ...] = ()
    sign: Sign | None = None
    strike: ArrangedStrike | None = None
    onset: int = 0
    held: bool = False
    value: NoteValue | None = None

    @property
    def dotted(self) -> bool:
        """Whether a dot stands after it."""
        return self.value is not None and self.value.dotted

    def hang(self, verse: int) -> float:
        """How far the words of a verse stand out to the left here."""
        word = self.words[verse]
        return 0.0 if word is None else word.hang

    @property
    def words_begin(self) -> bool:
        """Whether anything is sung from here."""
        return any(word is not None for word in self.words)


NUMBER_GAP = 0.4
"""Room between a verse's number and its pick-up, in widths of the number."""

Needs = tuple[tuple[tuple[int, float], ...], ...]


class ThingsAbove(NamedTuple):
    """The things over the chords of a bar that make its row higher.

    ``signs`` say how chords are struck, ``tall`` is what reaches higher than a root, ``noted`` are
    cues, marks and endings.
    """

    signs: bool = False
    tuplet: bool = False
    beams: bool = False
    tall: bool = False
    noted: bool = False


class BarBox(NamedTuple):
    """A bar: its slots, the least room they need, its lines.

    ``width`` is the least width with the padding beside the bar lines.  A bar broken over
    two rows is ``broken`` at its end.  ``beat`` is the value of a beat as part of a whole note,
    ``duration`` that of the bar (of one, where it stands for several), ``groups`` are the beats
    that slots share.  ``tied`` says that its end is held into the next bar.  ``signature`` is
    the room that a time signature takes before the first slot; ``opens`` says that it is the
    song's first, whose meter the head of the page says as well.  ``lasts`` is how long what is
    printed as one bar lasts, two bars where a sign stands for two.
    """

    slots: tuple[Slot, ...]
    needs: Needs
    bar: Bar
    opening: BarLine
    closing: BarLine
    left_pad: float
    right_pad: float
    width: float
    broken: bool = False
    continued: bool = False
    beat: Fraction = Fraction(1, 4)
    tied: bool = False
    signature: float = 0.0
    duration: float = 1.0
    groups: tuple[Group, ...] = ()
    opens: bool = False
    lasts: float = 1.0
    over: ThingsAbove = ThingsAbove()

    @property
    def repeats_behind_signature(self) -> bool:
        """Whether a repeat opens this bar, so that at the start of a system its sign stands after
        the time signature (common practice, no source)."""
        return self.signature > 0 and self.opening.kind in ("repeat-start", "repeat-both")


class LineAlone(NamedTuple):
    """A printed line of words without music: its indent in points, its place in the text."""

    text: str
    indent: float
    source: Span | None = None


@dataclass(frozen=True)
class RowBox:
    """A row of bars.

    ``pickups`` has what each verse sings before the first bar line, ``numbers`` its number.  A
    row that is part of a longer one was ``cut``: the number of bars in the fullest of its
    parts, else 0.  For each verse ``split_before`` says that the row before it ends within a
    word, ``held_after`` that the next one begins with its last syllable held.  ``goes_on`` says
    that it is a later part of a row of the writer's, ``in_ending`` that a numbered ending goes on
    from the row before it.  ``number`` is that of its first bar, 0 where it is not counted.
    ``alone`` are printed lines of words without music; such a row has no bars.  ``restacked`` says
    that its bars are those of the row before it, for verses that found no room there.
    ``number_column`` is how far from the first bar line the numbers of all verses of the song end,
    but for a gap.
    """

    bars: tuple[BarBox, ...]
    pickups: tuple[Word | None, ...]
    verses: int
    above: tuple[Announcement, ...]
    free: bool = False
    cut: int = 0
    numbers: tuple[Word | None, ...] = ()
    split_before: tuple[bool, ...] = ()
    held_after: tuple[bool, ...] = ()
    goes_on: bool = False
    in_ending: bool = False
    number: int = 0
    alone: tuple[LineAlone, ...] = ()
    restacked: bool = False
    number_column: float = 0.0

    @cached_property
    def before_numbers(self) -> float:
        """The room between the verses' numbers and where words begin: the widest pick-up."""
        pickup = self.widest_pickup
        return pickup + (NUMBER_GAP * self.widest_number if pickup else 0.0)

    @cached_property
    def widest_pickup(self) -> float:
        """The width of the widest pick-up."""
        return max((word.width for word in self.pickups if word is not None), default=0.0)

    @cached_property
    def widest_number(self) -> float:
        """The width of the verses' numbers."""
        return max((word.width for word in self.numbers if word is not None), default=0.0)

    @cached_property
    def widths(self) -> tuple[float, ...]:
        """The least widths of the bars."""
        return tuple([bar.width for bar in self.bars])

    @cached_property
    def least_width(self) -> float:
        """The room that the bars take together at least."""
        return sum(self.widths)

    @cached_property
    def widest_bar(self) -> float:
        """The least width of the widest bar."""
        return max(self.widths, default=0.0)

    @cached_property
    def lengths(self) -> tuple[float, ...]:
        """How long each bar lasts: rows that have this in common can share a grid."""
        return tuple([bar.lasts for bar in self.bars])

    @cached_property
    def over(self) -> ThingsAbove:
        """The things over the chords of any of its bars."""
        return ThingsAbove(*map(any, zip(*(bar.over for bar in self.bars), strict=True)))

    @cached_property
    def sounds_as_fingered(self) -> bool:
        """Whether it has chord names, and each is the same on every line, as where the capo of the
        song is off: one line of them is enough."""
        strikes = (slot.strike for bar in self.bars for slot in bar.slots)
        named = [one.names for one in strikes if one is not None and any(one.names)]
        return bool(named) and all(len(set(names)) == 1 for names in named)

    @cached_property
    def has_ties(self) -> bool:
        """Whether anything in it is tied."""
        return any(bar.tied or any(slot.held for slot in bar.slots) for bar in self.bars)

    @cached_property
    def goes_on_in_words(self) -> bool:
        """Whether it is a later part of a row in free time and has no chord."""
        slots = (slot for bar in self.bars for slot in bar.slots)
        return self.free and self.goes_on and not any(any(slot.labels) for slot in slots)

    @cached_property
    def pickup_width(self) -> float:
        """The room the widest pick-up takes, and the widest number before it."""
        if not any(self.pickups) and not any(self.numbers):
            return 0.0
        return self.before_numbers + self.widest_number + self.hang

    @property
    def hang(self) -> float:
        """How far opening quotes reach back into what stands before them in free time."""
        before = any((*self.pickups, *self.numbers))
        if not (self.free and before and self.bars and self.bars[0].slots):
            return 0.0
        first = self.bars[0].slots[0].words
        return max((word.hang for word in first if word is not None), default=0.0)

    def words_of(self, verse: int) -> list[Word]:
        """The words of a verse in order, the pick-up left out."""
        return [
            word
            for box in self.bars
            for slot in box.slots
            if verse < len(slot.words) and (word := slot.words[verse]) is not None
        ]


@dataclass(frozen=True, slots=True)
class SectionBox:
    """A section: its heading and its rows.

    ``same_as`` names the earlier section whose music it has.  Where that is ``left_out``, it has no
    rows but its ``words``, one text for each verse of each row, and what is ``said`` of it alone:
    its cues, and its key where that is another than before.
    """

    name: str
    times: int
    rows: tuple[RowBox, ...]
    same_as: str = ""
    left_out: bool = False
    words: tuple[str, ...] = ()
    said: tuple[Announcement, ...] = ()
    source: Span | None = None


class SpacedRow(NamedTuple):
    """A row with room given to each bar: where the first bar line stands, and the widths."""

    row: RowBox
    indent: float
    widths: tuple[float, ...]


def tight_positions(slots: tuple[Slot, ...], needs: Needs) -> tuple[list[float], float]:
    """The leftmost places of the slots, and where the bar's content then ends."""
    places = [0.0] * (len(slots) + 1)
    for i, wants in enumerate(needs):
        here = places[i]
        for later, room in wants:
            if here + room > places[later]:
                places[later] = here + room
        if here > places[i + 1]:
            places[i + 1] = here
    return places[:-1], places[-1]
