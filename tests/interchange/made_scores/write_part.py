"""A part of a song as measures of XML: the sung one, and those that go with it."""

from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import accumulate, cycle, pairwise, takewhile
from xml.sax.saxutils import escape

from tests.interchange.made_scores.directions import after_notes, before_notes
from tests.interchange.made_scores.song import Bar, Note, Placed, Q, Song, Syllable, beat_of, full
from tests.interchange.made_scores.style import Style
from tests.interchange.made_scores.symbols import TYPEABLE, moved
from tests.interchange.made_scores.tunes import values_of
from tests.interchange.made_scores.write_bits import (
    harmony,
    left_line,
    lyric,
    pitch,
    right_line,
    type_of,
    typed_symbol,
    units,
)


@dataclass
class PartWriter:
    """Writes one part.  ``role`` is "voice", "piano", "second", "drums" or "chords"; ``symbols``
    says that the chord symbols stand in it, ``form`` that repeats and signs do."""

    song: Song
    style: Style
    role: str
    symbols: bool
    form: bool
    first_verses: set[int] = field(default_factory=set)
    open_ending: tuple[int, ...] = ()
    count: int = 0
    noted: int = 0

    def measures(self) -> list[tuple[str, str]]:
        """The attributes and the content of each measure."""
        written: list[tuple[str, str]] = []
        number = 0
        bars = self.song.bars
        for i, bar in enumerate(bars):
            name, implicit = str(number + 1), ""
            if bar.pickup:
                name, implicit = self.style.pickup_number, ' implicit="yes"'
                number += self.style.pickup_number == "1"
            else:
                number += 1
            parts = self._parts(i)
            for k, (start, end) in enumerate(parts):
                tag = name if not k else f"X{i}"
                extra = implicit if not k else ' implicit="yes"'
                body = self._measure(i, start, end)
                written.append((f'number="{tag}"{extra}', body))
        return written

    def _parts(self, i: int) -> list[tuple[Fraction, Fraction]]:
        """The pieces of a bar that are measures of their own: two, where a line of the page ends
        before an upbeat."""
        bars, bar = self.song.bars, self.song.bars[i]
        after = bars[i + 1] if i + 1 < len(bars) else None
        upbeat = [note for note in bar.notes if note.upbeat and note.sung]
        plain = after and after.phrase and not (bar.closes or bar.pickup or bar.marks)
        if not ((self.style.split_bars or bar.cut) and plain and upbeat and not after.endings):
            return [(Q(0), bar.length)]
        cut = upbeat[0].at
        late = any(c.at > cut or (bar.ends and c.at == cut) for c in bar.chords)
        if late or bar.length != full(bar.meter):
            return [(Q(0), bar.length)]
        return [(Q(0), cut), (cut, bar.length)]

    # ---- a measure

    def _measure(self, i: int, start: Fraction, end: Fraction) -> str:
        bars, bar, style = self.song.bars, self.song.bars[i], self.style
        opens, closes = not start, end == bar.length
        out = []
        if opens:
            out += [self._print(i), self._attributes(i)]
            forward = bar.starts and (style.first_forward or i > 0) and style.forward_left
            if self.form:
                out += [left_line(bar, forward, style), before_notes(self.song, i, style)]
            self.open_ending = bar.endings or self.open_ending
        out.append(self._content(bar, start, end))
        if self.form and bar.ends and len(self._parts(i)) > 1:  # the repeat ends before an upbeat
            out += [after_notes(bar, style), self._right(i)] if opens else []
        elif closes and self.form:
            out += [after_notes(bar, style), self._right(i)]
        if bar.closes or (self.open_ending and i + 1 < len(bars) and bars[i + 1].section):
            self.open_ending = ()
        return "".join(out)

    def _right(self, i: int) -> str:
        bars, style = self.song.bars, self.style
        last = i == len(bars) - 1
        line = right_line(bars[i], self.open_ending, last, style)
        if not last and bars[i + 1].starts and not style.forward_left:
            inner = '<repeat direction="forward"/></barline>'
            if line:
                return line.replace("</barline>", "") + "</barline>" + _forward_right(inner)
            return _forward_right(inner)
        return line

    def _print(self, i: int) -> str:
        breaks, bar = self.style.breaks, self.song.bars[i]
        if self.style.systems:
            ends = accumulate(cycle(self.style.systems))
            new = i in takewhile(lambda end: end <= i, ends)
            return '<print new-system="yes"/>' if new else ""
        new = {
            "phrases": bar.phrase,
            "thirds": i % 3 == 0,
            "fours": i % 4 == 0,
            "none": False,
        }[breaks]
        return '<print new-system="yes"/>' if new and i else ""

    def _attributes(self, i: int) -> str:
        style, bar = self.style, self.song.bars[i]
        before = self.song.bars[i - 1] if i else None
        inner = f"<divisions>{style.divisions}</divisions>" if not i else ""
        if i == 4 and style.new_divisions:
            self.style = style = replace(style, divisions=2 * style.divisions)
            inner = f"<divisions>{style.divisions}</divisions>"
        again = style.repeated_attributes and i % 8 == 0
        keys = [one.key for one in self.song.bars[: i + 1] if one.key is not None]
        if not i or bar.key is not None or again:
            inner += self._key(keys[-1] if keys else self.song.fifths)
        if not i or bar.meter != before.meter or again:
            inner += _time(bar.meter, style) if style.meter_given else ""
        if not i:
            inner += self._clefs()
            if self._interval:
                _, steps, half = self.style.transposed
                moved = f"<diatonic>{steps}</diatonic><chromatic>{half}</chromatic>"
                inner += f"<transpose>{moved}</transpose>"
        inner += self._rests_ahead(i)
        return f"<attributes>{inner}</attributes>" if inner else ""

    def _key(self, fifths: int) -> str:
        if self.style.mode == "absent":
            return ""
        if self.style.mode == "zero":
            fifths = 0
        mode = {"right": "minor" if self.song.minor else "major", "major": "major", "zero": "major"}
        said = mode.get(self.style.mode)
        written = fifths + self._interval
        return f"<key><fifths>{written}</fifths>{f'<mode>{said}</mode>' if said else ''}</key>"

    @property
    def _interval(self) -> int:
        return self.style.transposed[0] if self.role == "voice" else 0

    @property
    def _staves(self) -> int:
        return 2 if self.role == "piano" or self._grand else 1

    @property
    def _grand(self) -> bool:
        return self.role == "voice" and self.style.layout == "grand staff"

    def _clefs(self) -> str:
        if self.role == "drums":
            return "<clef><sign>percussion</sign></clef>"
        if self._staves == 2:
            return (
                '<staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef>'
                '<clef number="2"><sign>F</sign><line>4</line></clef>'
            )
        return "<clef><sign>G</sign><line>2</line></clef>"

    def _rests_ahead(self, i: int) -> str:
        """How many bars of rest begin, where the part has nothing in them."""
        bars = self.song.bars
        shows = self.symbols and any(b.chords for b in bars)
        if not self.style.multi_rests or self.role != "voice" or self._grand:
            return ""
        if (i and bars[i - 1].silent) or not bars[i].silent:
            return ""
        sounds = (k for k in range(i, len(bars)) if any(n.step is not None for n in bars[k].notes))
        run = next(sounds, len(bars)) - i
        quiet = not any(b.chords or b.marks or b.ends for b in bars[i : i + run])
        if run < 2 or (shows and not quiet) or any(b.ends for b in bars[i : i + run]):
            return ""
        return f"<measure-style><multiple-rest>{run}</multiple-rest></measure-style>"

    # ---- what stands in it

    def _content(self, bar: Bar, start: Fraction, end: Fraction) -> str:
        chords = [c for c in bar.chords if start <= c.at < end] if self.symbols else []
        if self.role == "voice":
            return self._voice(bar, chords, start, end)
        if self.role == "second":
            notes = [n for n in bar.notes if start <= n.at < end]
            sings = self.style.accompaniment_verse or self.style.layout == "choir"
            return self._line(notes, chords, start, "1", "", sings, octave=-1)
        return self._accompaniment(bar, chords, start, end)

    def _voice(self, bar: Bar, chords: list[Placed], start: Fraction, end: Fraction) -> str:
        style = self.style
        notes = [n for n in bar.notes if start <= n.at < end]
        staff = "<staff>1</staff>" if self._grand else ""
        with_staff2 = self._grand and style.symbols_at == "other"
        mine = [] if with_staff2 else chords
        quiet = all(note.step is None for note in notes)
        even = ((end - start) / beat_of(bar.meter)).denominator == 1
        if bar.silent and style.slashes and mine and quiet and even:
            beat = beat_of(bar.meter)
            count = int((end - start) / beat)
            notes = [Note(start + beat * i, beat, self.song.fifths) for i in range(count)]
            text = self._line(notes, mine, start, "1", staff, sings=False, head="slash")
        else:
            text = self._line(notes, mine, start, "1", staff, sings=True)
        length = units(end - start, style)
        if style.voices and any(2 in n.sung for n in notes):
            text += f"<backup><duration>{length}</duration></backup>"
            text += self._line(notes, [], start, "2", staff, sings=True, verses=(2,))
        if style.layout == "lead in two voices" and style.lower_words and not bar.silent:
            high = self._line(self._held(bar, [], start, end, 1), mine, start, "1", staff, False)
            high += f"<backup><duration>{length}</duration></backup>"
            text = high + self._line(notes, [], start, "2", staff, sings=True)
        elif style.layout == "lead in two voices" and not bar.silent:
            text += f"<backup><duration>{length}</duration></backup>"
            low = self._held(bar, [], start, end, octave=0)
            text += self._line(low, [], start, "2", staff, sings=False, octave=-1)
        if self._grand:
            text += f"<backup><duration>{length}</duration></backup>"
            low = self._held(bar, chords, start, end, octave=-1)
            more = chords if with_staff2 else []
            text += self._line(low, more, start, "5", "<staff>2</staff>", sings=False, octave=-1)
        return text

    def _held(
        self, bar: Bar, chords: list[Placed], start: Fraction, end: Fraction, octave: int
    ) -> list[Note]:
        """Long notes under a bar, a new one with each chord."""
        cuts = sorted({start, end, *(c.at for c in chords)})
        notes: list[Note] = []
        for one, two in pairwise(cuts):
            at = one
            for k, value in enumerate(values_of(two - one)):
                notes.append(Note(at, value, self.song.fifths, octave, tied_from=k > 0))
                if k:
                    notes[-2].tied = True
                at += value
        return notes

    def _accompaniment(self, bar: Bar, chords: list[Placed], start: Fraction, end: Fraction) -> str:
        style = self.style
        if self.role == "drums":
            notes = [Note(start, end - start, None)]
            return self._line(notes, [], start, "1", "", sings=False)
        if self.role == "chords":
            beat = beat_of(bar.meter)
            count = (end - start) / beat
            if count.denominator != 1:
                return self._line([Note(start, end - start, None)], chords, start, "1", "", False)
            notes = [Note(start + beat * i, beat, self.song.fifths) for i in range(int(count))]
            return self._line(notes, chords, start, "1", "", False, head="slash")
        placed = [c for c in bar.chords if start <= c.at < end]
        high = self._held(bar, placed, start, end, octave=0)
        low = self._held(bar, [], start, end, octave=-1)
        text = self._line(high, chords, start, "1", "<staff>1</staff>", sings=False)
        if style.hidden_copies and not chords:
            hidden = "".join(harmony(c.symbol, style) for c in placed[:1])
            text = hidden.replace("<harmony>", '<harmony print-object="no">') + text
        text += f"<backup><duration>{units(end - start, style)}</duration></backup>"
        return text + self._line(low, [], start, "5", "<staff>2</staff>", sings=False, octave=-2)

    # ---- notes with what hangs on them

    def _line(
        self,
        notes: list[Note],
        chords: list[Placed],
        start: Fraction,
        voice: str,
        staff: str,
        sings: bool,
        octave: int = 0,
        head: str = "",
        verses: tuple[int, ...] = (),
    ) -> str:
        """Notes in order with chord symbols among them."""
        before: dict[int, str] = {}
        behind = ""
        for k, placed in enumerate(chords):
            at, offset = self._where(placed, chords, notes, start)
            if at is None:
                behind += self._by_backup(placed, notes)
            else:
                before[at] = before.get(at, "") + self._symbol(placed, offset, staff, k)
        out = []
        for k, note in enumerate(notes):
            out.append(before.get(k, ""))
            out.append(self._note(note, voice, staff, sings, octave, head, verses))
        return "".join(out) + behind

    def _where(
        self, placed: Placed, chords: list[Placed], notes: list[Note], start: Fraction
    ) -> tuple[int | None, int]:
        """Before which note a symbol is written and with which offset; None for one that is
        reached by going back."""
        under = max((k for k, n in enumerate(notes) if n.at <= placed.at), default=0)
        late = placed.at - notes[under].at
        placing = self.style.placing
        if placing == "all first":
            return 0, units(placed.at - notes[0].at, self.style)
        if not late:
            return under, 0
        if placing == "bare" and self._shares(chords, notes[under]):
            return under, 0
        if placing == "backup" and notes[0].at == start:
            return None, 0
        if placing == "split" and under + 1 < len(notes):
            return under + 1, units(placed.at - notes[under + 1].at, self.style)
        return under, units(late, self.style)

    def _shares(self, chords: list[Placed], note: Note) -> bool:
        """Whether the chords over a note share it evenly, on beats: then no offset is needed."""
        mine = [c.at for c in chords if note.at <= c.at < note.at + note.length]
        share = note.length / len(mine)
        even = mine == [note.at + share * i for i in range(len(mine))]
        return even and (share / beat_of(self.song.meter)).denominator == 1

    def _by_backup(self, placed: Placed, notes: list[Note]) -> str:
        end = notes[-1].at + notes[-1].length
        back = units(end - placed.at, self.style)
        return (
            f"<backup><duration>{back}</duration></backup>{self._symbol(placed, 0, '', 0)}"
            f"<forward><duration>{back}</duration></forward>"
        )

    def _symbol(self, placed: Placed, offset: int, staff: str, index: int) -> str:
        symbol = None if placed.symbol is None else moved(placed.symbol, self._interval)
        if self.style.typed and symbol and all_typeable(self.song):
            return typed_symbol(symbol, offset)
        self.count += 1
        return harmony(symbol, self.style, offset, staff, self.count)

    def _note(
        self,
        note: Note,
        voice: str,
        staff: str,
        sings: bool,
        octave: int,
        head: str,
        verses: tuple[int, ...],
    ) -> str:
        style = self.style
        length = f"<duration>{units(note.length, style, note.at)}</duration>"
        if note.step is None and style.forwards and voice == "1":
            return f"<forward>{length}</forward>"
        if note.step is None:
            whole = ' measure="yes"' if style.whole_rests and not note.at else ""
            alone = whole if note.length == full(self.song.meter) else ""
            kind = "" if alone else type_of(note)
            return f"<note><rest{alone}/>{length}<voice>{voice}</voice>{kind}{staff}</note>"
        sound = pitch(note.step + self._interval, note.octave + octave)
        ties = '<tie type="stop"/>' * note.tied_from + '<tie type="start"/>' * note.tied
        notations = '<tied type="stop"/>' * note.tied_from + '<tied type="start"/>' * note.tied
        if self._has_fermata(note) and sings and verses != (2,):
            notations += '<fermata type="upright"/>'
        notations += self._noise(note)
        grace = ""
        if style.graces and sings and note.at == 1 and not note.tied_from:
            grace = f"<note><grace/>{sound}<voice>{voice}</voice><type>eighth</type>{staff}</note>"
        shape = f"<notehead>{head}</notehead>" if head else ""
        lyrics = self._lyrics(note, voice, verses) if sings else ""
        hung = f"<notations>{notations}</notations>" if notations else ""
        return (
            f"{grace}<note>{sound}{length}{ties}<voice>{voice}</voice>{type_of(note)}{shape}{staff}"
            f"{hung}{lyrics}</note>"
        )

    def _noise(self, note: Note) -> str:
        """Signs that mean nothing for a chart."""
        self.noted += 1
        if not self.style.noise or self.noted % 5:
            return ""
        return (
            '<slur type="start" number="1"/>'
            "<technical><fingering>2</fingering></technical><articulations><accent/></articulations>"
        )

    def _has_fermata(self, note: Note) -> bool:
        return any(
            bar.fermata == note.at and any(note is one for one in bar.notes)
            for bar in self.song.bars
            if bar.fermata is not None
        )

    def _lyrics(self, note: Note, voice: str, verses: tuple[int, ...]) -> str:
        style = self.style
        if note.holds and style.extends in ("typed", "dashes") and self.first_verses:
            text = self._held_text(note)
            return text if voice == "1" else ""
        if note.holds:
            return ""
        if style.voices:
            verses = verses or (1,)
        text = ""
        for verse, syllable in sorted(note.sung.items()):
            if not verses or verse in verses:
                text += lyric(verse, style, self._syllable(syllable, verse, note))
        return text

    def _held_text(self, note: Note) -> str:
        """What is typed under a note that only holds the syllable before it."""
        every = [n for bar in self.song.bars for n in bar.notes]
        at = next(k for k, one in enumerate(every) if one is note)
        sung = next((n.sung for n in reversed(every[:at]) if n.sung), {})
        if 1 not in sung:
            return ""
        goes_on = sung[1].goes_on
        typed = "-" if goes_on else "_" if self.style.extends == "typed" else "–"
        inner = f"<syllabic>{'middle' if goes_on else 'single'}</syllabic><text>{typed}</text>"
        return lyric(1, self.style, inner)

    def _syllable(self, syllable: Syllable, verse: int, note: Note) -> str:
        style, said = self.style, syllable.text
        if style.stanza_numbers and verse not in self.first_verses and len(self.song.verses) > 1:
            said = f"{verse}. {said}"
        self.first_verses.add(verse)
        ahead, behind = syllable.again, syllable.goes_on
        kind = {(0, 0): "single", (0, 1): "begin", (1, 1): "middle", (1, 0): "end"}[ahead, behind]
        syllabic = f"<syllabic>{kind}</syllabic>" if style.syllabics else ""
        if (not style.syllabics or style.padded) and behind:
            said += "-"
        elif style.padded:
            said = f"{said} " if self.count % 2 else f"\u00a0{said}"
        inner = f"{syllabic}<text>{escape(said)}</text>"
        if syllable.second:
            sign = f"<elision>{style.elision}</elision>" if style.elision else "<elision/>"
            inner += f"{sign}<syllabic>single</syllabic><text>{syllable.second}</text>"
        if not behind and self._is_held(note) and style.extends in ("bare", "type", "stop"):
            inner += "<extend/>" if style.extends == "bare" else '<extend type="start"/>'
        return inner

    def _is_held(self, note: Note) -> bool:
        """Whether the notes after one have no syllable of their own."""
        every = [n for bar in self.song.bars for n in bar.notes]
        at = next((k for k, n in enumerate(every) if n is note), len(every))
        return at + 1 < len(every) and every[at + 1].holds


def _forward_right(inner: str) -> str:
    return f'<barline location="right">{inner}'


def _time(meter: tuple[int, int], style: Style) -> str:
    sign = {(4, 4): ' symbol="common"', (2, 2): ' symbol="cut"'}.get(meter, "")
    count, unit = meter
    return (
        f"<time{sign if style.common_sign else ''}><beats>{count}</beats>"
        f"<beat-type>{unit}</beat-type></time>"
    )


def all_typeable(song: Song) -> bool:
    """Whether every chord of a song can be typed as plain words."""
    chords = [c.symbol for bar in song.bars for c in bar.chords]
    return all(one is not None and one.quality in TYPEABLE for one in chords)
