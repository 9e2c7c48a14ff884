"""The notes of a written measure: a slash for each beat and chord, carrying the words.

A chart knows no melody, so chords stand over slash notes without pitch, as in the rhythm
notation of lead sheets.  Time is counted in divisions.
"""

from dataclasses import dataclass, field
from fractions import Fraction
from xml.etree.ElementTree import Element, SubElement

from chartkit.chart.model import TICKS_PER_BEAT, Bar, Meter, Segment, Strike
from chartkit.interchange.musicxml.chord_diagrams import frame_element
from chartkit.interchange.musicxml.kinds import kind_and_changes
from chartkit.interchange.score.events import StrumSign
from chartkit.interchange.score.outgoing import VerseLine
from chartkit.theory.chord import Chord
from chartkit.theory.note import accidentals_of, letter_of
from chartkit.theory.shape_text import Frets


def child(parent: Element, tag: str, text: object = None, /, **attributes: str) -> Element:
    """A new child element; underscores in attribute names stand for hyphens."""
    plain = {name.replace("_", "-"): value for name, value in attributes.items()}
    element = SubElement(parent, tag, plain)
    if text is not None:
        element.text = str(text)
    return element


def harmony_element(strike: Strike, frets: Frets | None = None) -> Element:
    """The harmony of a strike, with the diagram of the shape it is fingered in, if one is given.

    An optional chord is of type "alternate"; a new bass under the chord before hides its
    root and kind.  N.C. is the kind "none", with a root that is not shown, as MusicXML 4.0
    asks.
    """
    harmony = Element("harmony")
    if strike.optional:
        harmony.set("type", "alternate")
    if strike.chord is None:
        child(child(harmony, "root"), "root-step", "C", text="")
        child(harmony, "kind", "none", text="N.C.")
    else:
        _write_chord(harmony, strike.chord, strike.bass_only)
    if frets is not None:
        harmony.append(frame_element(frets))
    return harmony


def _write_chord(harmony: Element, chord: Chord, bass_only: bool) -> None:
    hidden = {"text": ""} if bass_only else {}
    _write_note(child(harmony, "root"), "root", chord.root, hidden)
    kind, changes = kind_and_changes(chord.quality.degrees)
    child(harmony, "kind", kind, text="" if bass_only else chord.quality.text)
    if chord.bass is not None:
        _write_note(child(harmony, "bass"), "bass", chord.bass, {})
    for change in changes:
        degree = child(harmony, "degree")
        degree.set("print-object", "no")
        child(degree, "degree-value", change.value)
        child(degree, "degree-alter", change.alter)
        child(degree, "degree-type", change.type)


def _write_note(parent: Element, name: str, note: int, attributes: dict[str, str]) -> None:
    SubElement(parent, f"{name}-step", attributes).text = letter_of(note)
    if signs := accidentals_of(note):
        child(parent, f"{name}-alter", signs)


DIVISIONS = 192
"""To a quarter note: every tick of every meter, and half of it, is a whole number."""

_TYPES = ("whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th")


def tick_divisions(meter: Meter) -> int:
    """The divisions of one tick."""
    beat = DIVISIONS * 4 // meter.unit * (3 if meter.compound else 1)
    return beat // TICKS_PER_BEAT


@dataclass(slots=True)
class Slash:
    """A note of the measure: where it begins and ends, what is struck and sung with it.

    ``sign`` says whether it is a rest or a muted stroke; ``played`` is false where it only carries
    words that are sung before the first bar.
    """

    start: int
    end: int = 0
    strike: Strike | None = None
    tied_from: bool = False
    tied_to: bool = False
    sign: StrumSign = "slash"
    played: bool = True
    sung: list[tuple[VerseLine, Segment]] = field(default_factory=list)


def slashes_of(
    bar: Bar, length: int, meter: Meter, pushed_next: Strike | None, first_pushed: bool
) -> list[Slash]:
    """The notes of a bar that lasts so many divisions.

    A pushed chord begins within the beat before and is tied over; ``pushed_next`` is the
    next bar's when it is pushed, and ``first_pushed`` says that this bar's first chord was
    struck in the bar before.
    """
    tick = tick_divisions(meter)
    beats = range(0, length, TICKS_PER_BEAT * tick)
    begins: dict[int, Slash] = {
        at: Slash(at) for at in (*beats, *(again * tick for again in bar.slashes))
    }
    begins |= {at * tick: Slash(at * tick, sign="silence") for at in bar.silences}
    begins |= {at * tick: Slash(at * tick, sign="mute") for at in bar.mutes}
    last = 0
    for i, strike in enumerate(bar.strikes):
        at = strike.onset * tick
        if i == 0 and first_pushed:
            begins.setdefault(at, Slash(at)).tied_to = True
            continue
        if strike.pushed and at > 0:
            begins.setdefault(at, Slash(at)).tied_to = True
            at = _early(at, max(last, _last_sign(bar, at, tick)), meter)
            begins.setdefault(at, Slash(at)).tied_from = True
        begins.setdefault(at, Slash(at)).strike = strike
        last = at
    if pushed_next is not None:
        at = _early(length, max(last, _last_sign(bar, length, tick)), meter)
        begins.setdefault(at, Slash(at)).strike = pushed_next
        begins[at].tied_from = True
    return _tied([begins[at] for at in sorted(begins)], length, {at * tick for at in bar.holds})


def _tied(notes: list[Slash], length: int, held: set[int]) -> list[Slash]:
    """Notes in order with their ends, tied to the one before where something is held."""
    for note, following in zip(notes, [*notes[1:], Slash(length)], strict=True):
        note.end = following.start
        if following.start in held:
            note.tied_from = following.tied_to = True
    if 0 in held:
        notes[0].tied_to = True
    return notes


def _last_sign(bar: Bar, before: int, tick: int) -> int:
    """The place of the last rest, muted stroke or slash inside a beat before another; 0 where
    there is none."""
    signs = (*bar.silences, *bar.mutes, *bar.slashes)
    return max((at * tick for at in signs if at * tick < before), default=0)


def _early(at: int, last: int, meter: Meter) -> int:
    """Half a beat before a place, a quarter of one where the beat is a half note, or half way from
    what is struck before where that is nearer."""
    share = 2 if meter.unit > 2 else 4
    early = TICKS_PER_BEAT // share * tick_divisions(meter)
    return max(at - early, (at + last) // 2) if last > at - early - 1 else at - early


def share_words(
    notes: list[Slash], lines: tuple[VerseLine, ...], bar: Bar, first_pushed: bool
) -> None:
    """Hangs the words on the notes: each segment on the note its chord is struck with."""
    held_start = not bar.strikes or bar.strikes[0].onset > 0
    struck = [note for note in notes if note.strike in bar.strikes and note.strike is not None]
    struck = struck[: len(bar.strikes) - first_pushed]
    places = [notes[0]] * (held_start or first_pushed) + struck
    for line in lines:
        for note, segment in zip(places, line.cell, strict=False):
            if segment != Segment():
                note.sung.append((line, segment))
        if line.after != Segment():
            _split_last(notes).sung.append((line, line.after))


def _split_last(notes: list[Slash]) -> Slash:
    """The last note if it carries only words from the next row, else a second half of it."""
    last = notes[-1]
    if (
        last.strike is None
        and last.sign != "mute"
        and not last.tied_from
        and last is not notes[0]
        and (all(segment == line.after for line, segment in last.sung))
    ):
        return last
    middle = (last.start + last.end) // 2
    if last.sign == "slash":
        after = Slash(
            start=middle, end=last.end, strike=None, tied_from=last.tied_from, tied_to=True
        )
        last.tied_from = True
    else:
        after = Slash(middle, last.end, sign="silence")
    last.end = middle
    notes.append(after)
    return after


def rest_element(duration: int) -> Element:
    """A rest of a whole measure that lasts so many divisions."""
    element = Element("note")
    child(element, "rest", measure="yes")
    child(element, "duration", duration)
    child(element, "voice", 1)
    return element


def note_element(note: Slash) -> Element:
    """The slash, muted stroke or rest as a ``note``, without its words."""
    element = Element("note")
    if note.sign == "silence":
        child(element, "rest")
        child(element, "duration", note.end - note.start)
        child(element, "voice", 1)
        _write_type(element, Fraction(note.end - note.start, DIVISIONS * 4))
        return element
    unpitched = child(element, "unpitched")
    child(unpitched, "display-step", "B")
    child(unpitched, "display-octave", 4)
    child(element, "duration", note.end - note.start)
    for wanted, kind in ((note.tied_to, "stop"), (note.tied_from, "start")):
        if wanted:
            child(element, "tie", type=kind)
    child(element, "voice", 1)
    _write_type(element, Fraction(note.end - note.start, DIVISIONS * 4))
    child(element, "stem", "none")
    if note.played:
        child(element, "notehead", "x" if note.sign == "mute" else "slash")
    _write_notations(element, note)
    return element


def _write_type(element: Element, whole: Fraction) -> None:
    """The note type of a part of a whole note; none where no plain or dotted one fits."""
    for dots, share in ((0, Fraction(1)), (1, Fraction(3, 2)), (0, Fraction(2, 3))):
        size = whole / share
        if (
            size.numerator == 1
            and (size.denominator).bit_count() == 1
            and (size.denominator.bit_length() <= len(_TYPES))
        ):
            child(element, "type", _TYPES[size.denominator.bit_length() - 1])
            for _ in range(dots):
                child(element, "dot")
            if share == Fraction(2, 3):
                modification = child(element, "time-modification")
                child(modification, "actual-notes", 3)
                child(modification, "normal-notes", 2)
            return


def _write_notations(element: Element, note: Slash) -> None:
    strike = note.strike
    ringing = strike is not None and strike.ringing
    stopped = strike is not None and strike.stopped
    if not (note.tied_from or note.tied_to or ringing or stopped):
        return
    notations = child(element, "notations")
    for wanted, kind in ((note.tied_to, "stop"), (note.tied_from, "start"), (ringing, "let-ring")):
        if wanted:
            child(notations, "tied", type=kind)
    if stopped:
        child(child(notations, "articulations"), "staccato")
