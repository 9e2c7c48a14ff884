"""The notes of a part: the syllables sung on them, how they are played, and the pitches as they
sound."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.xml import note_of, text_of, whole_number
from chartkit.interchange.score.events import Melody, SungSyllable
from chartkit.interchange.score.words import IN_VOICE
from chartkit.interchange.wording import sung_text
from chartkit.theory.note import pitch_class_of
from chartkit.theory.pitch import Pitch, transposed_pitch

PICK_UP = "pick-up"
"""How our writer names lyrics that are sung before the first bar of a row."""
_NAMED_VERSE = re.compile(r"\s*(?:part\s*1\s*)?verse\s*(\d{1,2})\s*", re.IGNORECASE)
"""A verse's number in words; some programs number the verses of a part "part1verse2"."""
_REFRAIN = re.compile(
    r"\s*(?:part\s*1\s*)?(?:chorus|refrain|refrein|refräng|estribillo)\s*1?\s*", re.I
)
"""How some programs name the words of a refrain, which is no verse of its own."""
_SOFT = "\xad"
_OTHER_HYPHENS = f"\u2010\u2011{_SOFT}"
"""Hyphens that are part of a word, which goes on, and one that is only printed where it breaks
(Unicode Standard Annex 14)."""
_ONLY_HELD = " _-–—~"
"""What is typed on notes that only hold the syllable before."""
_HYPHENS = "-\u2010\u2011"
_OUR_VERSES = ("verse", f"verse {PICK_UP}")
"""How our writer names the lyrics of a verse that a chart numbers."""
_SOUNDS = {"laughing": "(laughing)", "humming": "(humming)"}


class _Lyric(NamedTuple):
    """The contents of a lyric: the text of its syllable, whether its word goes on, the type of its
    extender (empty for none), and whether it ends a line of words."""

    text: str
    goes_on: bool
    extend: str
    ends_line: bool


@dataclass(slots=True)
class LyricReader:
    """Follows the verses through a part.

    A verse is held from a syllable with an extender to its next syllable or to a rest.
    ``apart`` are voices that sing at the same time as another, so that their words are
    verses of their own; ``clashes`` gathers voices that turn out to overlap.  ``first`` are
    the place and the lyrics of the first note of a chord, ``rested`` the voices that have rested
    since they sang, ``known`` the verses by their names,
    ``plain`` lyrics by their syllabic and text.  In a score that is ``ours`` all that is
    written is sung.
    """

    apart: frozenset[str] = frozenset()
    held: dict[str, str] = field(default_factory=dict)
    clashes: set[str] = field(default_factory=set)
    singers: dict[str, str] = field(default_factory=dict)
    first: tuple[int, list[Element]] = (-1, [])
    rested: set[str] = field(default_factory=set)
    known: dict[str, str] = field(default_factory=dict)
    plain: dict[tuple[str | None, str | None] | None, _Lyric] = field(default_factory=dict)
    ours: bool = False

    def begin_measure(self) -> None:
        """Forgets the voices of the measure before."""
        self.singers.clear()
        self.first = -1, []

    def sing(
        self, lyrics: list[Element], joins: bool, voice: str, onset: int
    ) -> list[SungSyllable]:
        """The syllables of a note, and held ones for the verses that have none on it.

        ``joins`` says that the note sounds with the one before, which holds them already.
        """
        if not joins:
            self.first = onset, lyrics
        elif self.first[0] == onset:
            lyrics = [one for one in lyrics if not any(_alike(one, two) for two in self.first[1])]
        syllables: list[SungSyllable] = []
        taken: set[str] = set()
        for element in lyrics if self.ours or len(lyrics) < 2 else _once(lyrics):
            verse = self._verse(element, voice, taken)
            taken.add(verse)
            lyric = self._contents(element)
            if lyric.text or lyric.extend:
                one = _syllable(lyric, element.get("name"), verse, onset)
                syllables.append(one._replace(after_rest=True) if voice in self.rested else one)
            if self.held:
                self.held.pop(verse, None)
            if lyric.extend not in ("", "stop"):
                self.held[verse] = voice
        if not joins:
            self.rested.discard(voice)
        if self.held and not joins:
            syllables += [
                SungSyllable(onset, verse, "", held=True)
                for verse in self._held_by(voice)
                if verse not in taken
            ]
        return syllables

    def _contents(self, element: Element) -> _Lyric:
        """The contents of a lyric, looked up where it is a plain one that was read before."""
        plain = len(element) == 2 and element[0].tag == "syllabic" and element[1].tag == "text"
        spelling = (element[0].text, element[1].text) if plain else None
        known = self.plain.get(spelling)
        if known is None:
            known = _read_lyric(element)
            known = known if self.ours else _as_typed(known)
            if plain:
                self.plain[spelling] = known
        return known

    def rest(self, voice: str) -> None:
        """A rest ends every held syllable of its voice."""
        self.rested.add(voice)
        for verse in self._held_by(voice):
            del self.held[verse]

    def _held_by(self, voice: str) -> list[str]:
        return [verse for verse, holder in self.held.items() if holder == voice]

    def _verse(self, lyric: Element, voice: str, taken: set[str]) -> str:
        name = lyric.get("number") or lyric.get("name") or "1"
        verse = self.known.get(name)
        if verse is None:
            verse = "1" if _REFRAIN.fullmatch(name) else _number_in(name)
            verse = self.known[name] = verse.strip()[:20] or "1"
        if verse in taken:
            verse = f"{verse} {lyric.get('name') or ''}".strip()
            while verse in taken:
                verse += "+"
        if voice in self.apart:
            return f"{verse}{IN_VOICE}{voice}"
        first = self.singers.setdefault(verse, voice)
        if first != voice:
            self.clashes.add(max(first, voice))
        return verse


def _alike(one: Element, two: Element) -> bool:
    """Whether lyrics under two notes of a chord are the same syllable of one verse."""
    return one.get("number") == two.get("number") and _read_lyric(one) == _read_lyric(two)


def _once(lyrics: list[Element]) -> list[Element]:
    """Lyrics of a note without a syllable that is written twice with one number."""
    if len({lyric.get("number") for lyric in lyrics}) == len(lyrics):
        return lyrics
    written: dict[str, Element] = {}
    for lyric in lyrics:
        written.setdefault(lyric.get("number") or "", lyric)
    return [
        one
        for one in lyrics
        if (number := one.get("number")) is None
        or written[number] is one
        or not _alike(one, written[number])
    ]


def _number_in(name: str) -> str:
    """The number in the name of a verse, else the name."""
    if name.isdecimal():
        return name if len(name) == 1 else name.lstrip("0") or "0"
    number = _NAMED_VERSE.fullmatch(name)
    return name if number is None else number[1]


def _without_dashes(lyric: _Lyric) -> _Lyric:
    """The lyric without what is typed before a syllable that goes on a word, or alone under a note
    that only holds the one before."""
    if not lyric.text.strip(_ONLY_HELD):
        return lyric._replace(text="", extend=lyric.extend or "start")
    return lyric._replace(text=lyric.text.lstrip(_HYPHENS))


def _as_typed(lyric: _Lyric) -> _Lyric:
    """The lyric with the hyphens and lines that are typed where its elements should say them."""
    text, goes_on, extend, _ = lyric
    if text[-1:] in _OTHER_HYPHENS and text.strip(_OTHER_HYPHENS):
        soft = text[-1] == _SOFT
        text, goes_on = text.rstrip(_OTHER_HYPHENS) + ("" if soft else "-"), True
    elif text[-1:] == "-" and text.strip("-"):
        text, goes_on = text.rstrip("- "), True
    if text[-1:] == "_":
        text, extend = text.rstrip("_ "), extend or "start"
    if text is not lyric.text:
        lyric = lyric._replace(text=text, goes_on=goes_on, extend=extend)
    return _without_dashes(lyric) if text and text[0] in _ONLY_HELD else lyric


def _read_lyric(lyric: Element) -> _Lyric:
    """The contents of a lyric.

    Syllables elided on one note belong to one word where the first of them goes on, and to
    two words otherwise.
    """
    text, goes_on, extend, ends_line = "", False, "", False
    for child in lyric:
        match child.tag:
            case "text":
                said = child.text or ""
                text += said if said.isalnum() else sung_text(said)
            case "syllabic":
                goes_on = (child.text or "").strip() in ("begin", "middle")
            case "elision":
                text += "" if goes_on or not text else " "
                goes_on = False
            case "extend":
                extend = child.get("type") or "start"
            case "end-line":
                ends_line = True
            case "laughing" | "humming":
                text += _SOUNDS[child.tag]
    if " " in text:
        text = " ".join(text.split())
    return _Lyric(text, goes_on, extend, ends_line)


def _syllable(lyric: _Lyric, name: str | None, verse: str, onset: int) -> SungSyllable:
    """The syllable of a lyric, or its place alone where it only holds the one before."""
    sung = SungSyllable(onset, verse, lyric.text, lyric.goes_on, not lyric.text)
    name = "" if name is None else name.strip()
    if not (name or lyric.ends_line):
        return sung
    named = name in _OUR_VERSES or _NAMED_VERSE.fullmatch(name) is not None
    leads = name.lower().endswith(PICK_UP)
    return sung._replace(named=named, leads=leads, ends_line=lyric.ends_line)


def articulations_of(note: Element) -> Iterator[str]:
    """``tied`` for a note tied to the next; for a slash also ``stopped`` (staccato) and
    ``ringing`` (tied to nothing)."""
    if any(tie.get("type") == "start" for tie in note.iterfind("tie")):
        yield "tied"
    if text_of(note, "notehead") == "slash":
        if note.find("notations/articulations/staccato") is not None:
            yield "stopped"
        if any(tied.get("type") == "let-ring" for tied in note.iterfind("notations/tied")):
            yield "ringing"


_OCTAVES = range(10)


@dataclass(slots=True)
class _Heard:
    """A pitch as it sounds (None for what is no note), for how many units it is heard, and
    whether it is sung."""

    pitch: Pitch | None
    units: int = 0
    sung: bool = False


@dataclass(slots=True)
class Pitches:
    """Gathers notes.  A part has few pitches, so each is worked out once."""

    known: dict[tuple[str | int | None, ...], _Heard] = field(default_factory=dict)

    def add(self, written: Element, units: int, sung: bool, interval: int, semitones: int) -> None:
        """Adds a ``pitch`` element that lasts so many units, moved to where it sounds."""
        step, alter, octave = _texts(written)
        key = (step, alter, octave, interval, semitones)
        heard = self.known.get(key)
        if heard is None:
            heard = self.known[key] = _Heard(_sounding(step, alter, octave, interval, semitones))
        heard.units += units
        heard.sung = heard.sung or sung

    def melody(self) -> Melody:
        """The notes gathered; the range is that of the sung notes if there are any."""
        weights = [0] * 12
        every, sung = [], []
        for heard in self.known.values():
            if heard.pitch is None:
                continue
            weights[pitch_class_of(heard.pitch.note)] += heard.units
            if heard.pitch.octave in _OCTAVES:
                every.append(heard.pitch)
                sung += [heard.pitch] if heard.sung else []
        pitches = sung or every
        return Melody(
            tuple(weights),
            min(pitches, key=lambda pitch: pitch.midi, default=None),
            max(pitches, key=lambda pitch: pitch.midi, default=None),
            bool(sung),
        )


def _texts(written: Element) -> tuple[str, str | None, str | None]:
    step, alter, octave = "", None, None
    for child in written:
        if child.tag == "step":
            step = (child.text or "").strip()
        elif child.tag == "alter":
            alter = child.text
        elif child.tag == "octave":
            octave = child.text
    return step, alter, octave


def _sounding(
    step: str, alter: str | None, octave: str | None, interval: int, semitones: int
) -> Pitch | None:
    """The sounding pitch; None for what is no note."""
    note, height = note_of(step, alter), whole_number(octave, -1)
    if note is None or height not in _OCTAVES:
        return None
    return transposed_pitch(Pitch(note, height), interval, semitones)
