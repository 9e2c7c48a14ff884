"""A whole song with its form, drawn from a random source."""

from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random

from tests.interchange.made_scores.song import Bar, Note, Placed, Q, Song, Symbol, beat_of, full
from tests.interchange.made_scores.tunes import (
    Manner,
    Phrase,
    harmonise,
    phrase_of,
    values_of,
)

_TITLES = ("Low Harbour", "Salt and Cedar", "The Ninth Lamp", "Long Way to Ferrin", "Ebb",
           "Wren Hill", "Paper Moons of Tarn", "Nachtlicht am Wehr", "Río de pan",
           "Where the Gate Was")  # fmt: skip
_PEOPLE = ("Orla Fennwick", "T. Maribel Ost", "Jonas Quarrie", "Ines Valdehoja", "Bram Tollen")
_SAID = ("softly", "all sing", "ad lib.", "a tempo", "rit.", "guitar tacet", "2nd time only",
         "with brushes", "band in", "harmony voices", "build", "molto rall.")  # fmt: skip
_METERS = {
    (4, 4): 50, (3, 4): 16, (2, 4): 6, (6, 8): 10, (2, 2): 8, (12, 8): 3, (9, 8): 1, (5, 4): 2,
    (7, 8): 1, (3, 2): 1,
}  # fmt: skip


@dataclass
class Builder:
    """A song as it grows.

    ``waiting`` is the upbeat of a repeated part for later verses, ``naming`` how sections are
    named, ``moved`` the bar from which on it is in another key.
    """

    song: Song
    manner: Manner
    chance: Random
    waiting: tuple[list[Note], list[int]] | None = None
    naming: str = "names"
    moved: int = 0

    @property
    def bars(self) -> list[Bar]:
        return self.song.bars

    def section(
        self,
        name: str,
        phrases: list[int],
        verses: list[int],
        led_by: list[int] | None = None,
        upbeats: bool = True,
    ) -> list[Bar]:
        """Adds phrases of so many bars each; the upbeat to the first is sung here in the verses
        ``led_by``, and by the others before the part comes again."""
        first = len(self.bars)
        for i, count in enumerate(phrases):
            phrase = phrase_of(count, verses, upbeats, self.manner, self.chance)
            harmonise(phrase.bars, self.manner, self.chance)
            self._lead(phrase, verses if i or led_by is None else led_by)
            self.bars.extend(phrase.bars)
        self.bars[first].section = name
        self.bars[first].opens = True
        return self.bars[first:]

    def _lead(self, phrase: Phrase, verses: list[int]) -> None:
        """Puts the upbeat of a phrase into the bar before, or into a pick-up."""
        if not phrase.upbeat:
            return
        later = [v for note in phrase.upbeat for v in note.sung if v not in verses]
        if later:
            self.waiting = phrase.upbeat, sorted(set(later))
        if not self.bars:
            pickup = Bar(self.manner.upbeat, self.manner.meter, pickup=True)
            pickup.notes = _kept(phrase.upbeat, verses, self.manner.upbeat)
            self.bars.append(pickup)
            return
        _put_at_end(self.bars[-1], _kept(phrase.upbeat, verses, self.bars[-1].length))

    def lead_again(self) -> None:
        """Puts the upbeat for later verses into the last bar."""
        if self.waiting:
            notes, verses = self.waiting
            _put_at_end(self.bars[-1], _kept(notes, verses, self.bars[-1].length))
            self.waiting = None

    def instrumental(self, name: str, count: int, chords: bool = True) -> list[Bar]:
        """Adds bars in which nothing is sung."""
        bars = [Bar(full(self.manner.meter), self.manner.meter, silent=True) for _ in range(count)]
        for bar in bars:
            bar.notes = [Note(Q(0), bar.length, None)]
        if chords:
            harmonise(bars, self.manner, self.chance)
        bars[0].section, bars[0].opens, bars[0].phrase = name, True, True
        for at in range(4, count, 4):
            bars[at].middle = True
        self.bars.extend(bars)
        return bars


def _kept(notes: list[Note], verses: list[int], end: Fraction) -> list[Note]:
    """An upbeat that ends with a bar, with the syllables of some verses."""
    return [
        replace(note, at=note.at + end, sung={v: s for v, s in note.sung.items() if v in verses})
        for note in notes
    ]


def _put_at_end(bar: Bar, notes: list[Note]) -> None:
    start = notes[0].at
    kept = [note for note in bar.notes if note.at + note.length <= start]
    cut = [note for note in bar.notes if note.at < start < note.at + note.length]
    for note in cut:  # a long rest
        kept.append(replace(note, length=start - note.at))
    bar.notes = [*kept, *notes]


# ---- songs


def song_of(chance: Random) -> Song:
    """A song; the same random source gives the same one."""
    meter = chance.choices(list(_METERS), list(_METERS.values()))[0]
    minor = chance.random() < 0.35
    fifths = chance.choice((-4, -3, -2, -2, -1, -1, -1, 0, 0, 0, 1, 1, 1, 2, 2, 3, 4))
    writers = chance.sample(_PEOPLE, 2)
    song = Song(
        title=chance.choice(_TITLES),
        composer=writers[0],
        lyricist=writers[chance.random() < 0.5],
        tempo=chance.randrange(60, 180),
        fifths=fifths,
        minor=minor,
        home=chance.random() < 0.93,
        meter=meter,
        language=chance.choices(("en", "de", "es", "it", "fr", "ru", "pl"), (20, 4, 4, 2, 2, 1, 1))[
            0
        ],
        feel=chance.choice(("", "", "Slowly", "Medium swing", "Moderato", "With a lilt")),
    )
    builder = Builder(song, _manner(song, chance), chance)
    builder.naming = chance.choice(("names", "names", "none", "letters"))
    forms = [_plain, _strophes, _repeated, _endings, _to_coda, _from_the_top, _vamp]
    chance.choices(forms, (4, 3, 2, 3, 3, 2, 1))[0](builder)
    _finish(builder)
    return song


def _manner(song: Song, chance: Random) -> Manner:
    beat = beat_of(song.meter)
    upbeats = [Q(0), Q(0), Q(1), Q(1, 2), Q(3, 2)]
    if beat == Q(3, 2):
        upbeats = [Q(0), Q(1, 2), Q(1, 2), Q(3, 2)]
    elif song.meter == (2, 4):
        upbeats = [Q(0), Q(1), Q(1, 2)]
    capitals = chance.random() < 0.6
    rests = chance.random() < 0.6
    signs = chance.choice(((".",), (",", "."), ("",), ("", ",", "!"), (".", "?", ";")))
    return Manner(
        meter=song.meter,
        upbeat=chance.choice(upbeats),
        language=song.language,
        capitals=capitals,
        signs=signs,
        tonic=song.fifths + 3 * song.minor,
        minor=song.minor,
        rich=chance.choice((0, 0.2, 0.8)),
        busy=chance.choice((0.1, 0.3, 0.6)),
        melisma=chance.choice((0, 0.05, 0.15)),
        rests=rests,
        pushes=chance.choice((0, 0, 0, 0.15)),
        again=chance.choice((0, 0, 0.2)),
        odd=chance.choice((0, 0, 0, 0, 0.1)),
    )


def _lengths(builder: Builder, count: int) -> list[int]:
    """The bars of some phrases: four each, or odd ones where two signs show where they begin."""
    manner, chance = builder.manner, builder.chance
    told = manner.capitals + manner.rests + all(manner.signs) >= 2
    if told and chance.random() < 0.2:
        odd = chance.choice((3, 5, 6, 2, 8))
        return [odd] * (count if odd > 2 else 2 * count)
    return [4] * count


def _intro(builder: Builder) -> None:
    if builder.chance.random() < 0.35:
        chords = builder.chance.random() < 0.85
        builder.instrumental(_named(builder, "Intro"), builder.chance.choice((2, 4, 4, 8)), chords)


def _named(builder: Builder, name: str) -> str:
    """A section's name: most songs name all, some none."""
    if builder.naming in ("none", "names"):
        return name if builder.naming == "names" else ""
    used = len({bar.section for bar in builder.bars if bar.section})
    return "ABCDEFGH"[used]


def _plain(builder: Builder) -> None:
    """Sections one after another."""
    _intro(builder)
    chance = builder.chance
    verse = [1] if chance.random() < 0.85 else []
    names = chance.choice(
        (("Verse", "Chorus"), ("Verse 1", "Chorus", "Verse 2", "Chorus"),
         ("Verse", "Pre-Chorus", "Chorus", "Bridge", "Chorus"), ("Verse", "Refrain", "Bridge"),
         ("Strophe", "Refrain", "Bridge"), ("Verse 1", "Interlude", "Verse 2", "Tag"),
         ("Verse", "Solo", "Chorus 2"))
    )  # fmt: skip
    before = _lengths(builder, chance.choice((2, 2, 4)))
    for i, name in enumerate(names):
        if name == "Bridge" and chance.random() < 0.3:
            _change_meter(builder)
        if i and i == len(names) - 1 and chance.random() < 0.15:
            _change_key(builder)
        if name in ("Solo", "Interlude"):
            builder.instrumental(_named(builder, name), chance.choice((4, 8)))
        else:
            builder.section(_named(builder, name), before if verse else [4, 4], verse)
        builder.bars[-1].double = chance.random() < 0.6
    if chance.random() < 0.2:
        builder.instrumental(_named(builder, "Outro"), 4)


def _change_meter(builder: Builder) -> None:
    meter = builder.manner.meter
    new = {(4, 4): (3, 4), (3, 4): (4, 4), (6, 8): (9, 8)}.get(meter)
    if new and builder.manner.upbeat <= 1:
        builder.manner.meter = new


def _change_key(builder: Builder) -> None:
    if not -4 <= builder.song.fifths <= 3:
        return
    last = builder.bars[-1]
    tonic = Symbol(builder.manner.tonic, "m" if builder.song.minor else "")
    if last.chords and last.chords[-1].at.denominator == 1:
        last.chords = [*(c for c in last.chords[:-1] if c.symbol != tonic)]
        last.chords.append(Placed(last.length - beat_of(last.meter), tonic))
    builder.manner.tonic += 2
    builder.moved = len(builder.bars)


def _strophes(builder: Builder) -> None:
    """One strophe under which all verses stand; it is played from its pick-up again."""
    chance = builder.chance
    verses = list(range(1, chance.choice((1, 2, 3, 3, 4)) + 1))
    builder.section("", _lengths(builder, chance.choice((2, 4, 4))), verses)
    last = builder.bars[-1]
    goes_on = chance.random() < 0.25
    if builder.bars[0].pickup and not goes_on and chance.random() < 0.8:
        _shorten(last, builder.manner.upbeat)
    if chance.random() < 0.4:
        last.ends = True
        last.times = len(verses) if len(verses) > 2 else 0
    if goes_on:
        last.cut = last.ends
        builder.section(_named(builder, "Refrain"), [4, 4], [1])


def _shorten(bar: Bar, upbeat: Fraction) -> None:
    """Takes from a last bar what the pick-up holds."""
    bar.length -= upbeat
    bar.notes = [note for note in bar.notes if note.at + note.length <= bar.length]
    end = bar.notes[-1].at + bar.notes[-1].length if bar.notes else Q(0)
    if end < bar.length:
        bar.notes.append(Note(end, bar.length - end, None))
    bar.chords = [one for one in bar.chords if one.at < bar.length]


def _repeated(builder: Builder) -> None:
    """A verse in repeats, then a chorus."""
    _intro(builder)
    chance = builder.chance
    verses = [1, 2] if chance.random() < 0.7 else [1, 2, 3]
    bars = builder.section(_named(builder, "Verse"), _lengths(builder, 2), verses, upbeats=False)
    bars[0].starts, bars[-1].ends = True, True
    bars[-1].times = len(verses) if len(verses) > 2 else 0
    chorus = builder.section(_named(builder, "Chorus"), _lengths(builder, 2), [1])
    if chance.random() < 0.4:
        chorus[0].starts, chorus[-1].ends = True, True
        chorus[-1].times = chance.choice((0, 0, 3, 4))


def _endings(builder: Builder) -> None:
    """A verse with endings, then a bridge."""
    _intro(builder)
    chance = builder.chance
    count = chance.choice((2, 2, 2, 3))
    verses = list(range(1, count + 1))
    opening = bool(builder.bars) or chance.random() < 0.5
    bars = builder.section(_named(builder, "Verse"), [4, 4], verses, led_by=[1])
    bars[0].starts = opening
    alike = count == 3 and chance.random() < 0.5
    shape = [(1, 2), (3,)] if alike else [(n,) for n in verses]
    size = chance.choice((1, 2, 2, 4))
    for numbers in shape:
        ending = builder.section("", [size], list(numbers), upbeats=False)
        ending[0].endings, ending[-1].closes = numbers, True
        ending[0].phrase = size > 2
        if numbers is not shape[-1]:
            ending[-1].ends = True
            builder.lead_again() if numbers is shape[0] else None
    builder.section(_named(builder, "Bridge"), [4, 4], [1])


def _to_coda(builder: Builder) -> None:
    """From the sign to a coda."""
    _intro(builder)
    chance = builder.chance
    verse = builder.section(_named(builder, "Verse"), _lengths(builder, 2), [1, 2])
    chorus = builder.section(_named(builder, "Chorus"), [4, 4], [1])
    back = chance.choice(("D.S.", "D.S.", "D.C."))
    if back == "D.S.":
        verse[0].marks.append("segno")
    chance.choice((chorus, verse))[-1].marks.append("to-coda")
    bridge = builder.section(_named(builder, "Bridge"), [4], [1])
    bridge[-1].marks.append(back)
    bridge[-1].until = "coda" if chance.random() < 0.9 else ""
    bridge[-1].double = True
    coda = builder.section(chance.choice(("", "Coda")), [chance.choice((2, 4))], [1], upbeats=False)
    coda[0].marks.append("coda")


def _from_the_top(builder: Builder) -> None:
    """From the top, or the sign, to the end sign."""
    _intro(builder)
    chance = builder.chance
    first = builder.section(_named(builder, "A"), _lengths(builder, 2), [1])
    first[-1].marks.append("fine")
    first[-1].double = True
    second = builder.section(_named(builder, "B"), [4, 4], [1])
    if chance.random() < 0.3:
        first[0].marks.append("segno")
        second[-1].marks.append("D.S.")
    else:
        second[-1].marks.append("D.C.")
    second[-1].until = "fine" if chance.random() < 0.9 else ""


def _vamp(builder: Builder) -> None:
    """A vamp that is played several times, then the song."""
    bars = builder.instrumental(_named(builder, "Intro"), 2)
    bars[0].starts, bars[-1].ends, bars[-1].times = True, True, builder.chance.choice((0, 3, 4))
    builder.section(_named(builder, "Verse"), _lengths(builder, 2), [1], upbeats=False)
    builder.section(_named(builder, "Chorus"), _lengths(builder, 2), [1])


# ---- what is done at the end


def _finish(builder: Builder) -> None:
    song, chance, bars = builder.song, builder.chance, builder.bars
    _end_at_home(builder)
    for i, bar in enumerate(bars):
        before = bars[i - 1] if i else None
        leads = {"D.C.", "D.S.", "fine"} & set(before.marks if before else ())
        bar.opens = bar.opens or not i or before.pickup or before.ends or before.double
        bar.opens = bar.opens or bool(leads or bar.starts or bar.endings or before.closes)
        bar.opens = bar.opens or bool({"segno", "coda"} & set(bar.marks))
    if chance.random() < 0.06:
        _quiet_bar(bars, chance)
    for _ in range(chance.choice((0, 0, 1, 2))):
        chance.choice(bars[1:]).said.append((Q(0), chance.choice(_SAID)))
    if chance.random() < 0.15:
        last = next((n for n in reversed(bars[-1].notes) if n.step is not None), None)
        bars[-1].fermata = last.at if last else None
    if chance.random() < 0.05:
        bar = chance.choice(bars)
        sounding = [note for note in bar.notes if note.step is not None]
        bar.fermata = sounding[-1].at if sounding else None
    sections = [bar for bar in bars[4:] if bar.section and bar.opens]
    if sections and chance.random() < 0.06:
        chance.choice(sections).tempo = song.tempo + chance.choice((-20, 24, 40))
    if bars[0].pickup and chance.random() < 0.08 and not bars[1].starts:
        _filled_pickup(bars[0])
    if builder.moved:
        bars[builder.moved].key = song.fifths + 2


def _end_at_home(builder: Builder) -> None:
    """Ends the song on its tonic, at its "Fine" too, or away from it."""
    song, manner = builder.song, builder.manner
    ends = [bar for bar in builder.bars if "fine" in bar.marks] or [builder.bars[-1]]
    for bar in {id(b): b for b in (*ends, builder.bars[-1])}.values():
        tonic = manner.tonic if bar is builder.bars[-1] else song.fifths + 3 * song.minor
        home = Symbol(tonic, "m" if song.minor else "")
        away = Symbol(tonic + 1, "7")
        last = home if song.home else away
        at = bar.chords[-1].at if bar.chords else Q(0)
        at = at if not at or at.denominator == 1 else Q(0)
        bar.chords = [one for one in bar.chords if one.at < at and one.symbol != last]
        bar.chords.append(Placed(at, last))


def _filled_pickup(bar: Bar) -> None:
    """Makes a pick-up a full bar that begins with rests."""
    late = full(bar.meter) - bar.length
    rests = [
        Note(late - sum(values_of(late)[: i + 1], Q(0)), one, None)
        for i, one in enumerate(values_of(late))
    ]
    bar.notes = [*rests[::-1], *(replace(note, at=note.at + late) for note in bar.notes)]
    bar.length, bar.pickup, bar.opens = full(bar.meter), False, True
    bar.fermata = None if bar.fermata is None else bar.fermata + late


def _quiet_bar(bars: list[Bar], chance: Random) -> None:
    """A bar in which the band is silent."""
    at = chance.randrange(1, len(bars) - 1)
    if bars[at + 1].chords and not bars[at + 1].chords[0].at and not bars[at].endings:
        bars[at].chords = [Placed(Q(0), None)]
