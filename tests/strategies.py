"""Hypothesis strategies shared by the tests: notes, chords, keys, bars, whole charts.

Charts are drawn so that they can be written down: every value is one the reader could have
made, which is what print-then-parse needs.

Strategies are made once (``cache``): checking a new one takes hypothesis longer than a draw.
"""

from collections.abc import Hashable
from dataclasses import replace
from functools import cache
from typing import TypeVar

from hypothesis import strategies as st

from chartkit.chart.marks import Mark, ordered_marks
from chartkit.chart.model import (
    TICKS_PER_BEAT,
    Bar,
    BarLine,
    BarLineKind,
    BlankRow,
    Chart,
    CommentRow,
    Cue,
    CueRow,
    Meter,
    MusicRow,
    Row,
    Section,
    Segment,
    SettingRow,
    Strike,
    TopRow,
    WordsRow,
)
from chartkit.theory.alterations import ADDED, ALTERATIONS
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord
from chartkit.theory.key import MODES, Key
from chartkit.theory.pitch import Pitch, PitchRange
from chartkit.theory.quality import TABLE, Quality, altered_quality

ALL_KEYS = tuple(
    Key(tonic, mode) for mode, offset in MODES.items() for tonic in range(-7 - offset, 8 - offset)
)
"""The 15 keys of every mode."""

MAJOR_AND_MINOR = tuple(key for key in ALL_KEYS if key.mode in ("major", "minor"))

CHANGES = tuple(
    dict.fromkeys(
        (
            *ALTERATIONS.values(),
            *(f"add{degree}" for degree in ADDED.values()),
            "maj7",
            "sus2",
            "sus4",
            "no3",
            "no5",
            "no7",
            "no9",
            "no11",
        )
    )
)
"""Every change that a chord symbol can ask of its quality."""


BOOLEANS = st.booleans()
Value = TypeVar("Value", bound=Hashable)


@cache
def integers(lowest: int, highest: int) -> st.SearchStrategy[int]:
    """Whole numbers between two, both among them."""
    return st.integers(lowest, highest)


@cache
def one_of(*values: Value) -> st.SearchStrategy[Value]:
    """One of some values; what stands there twice comes twice as often."""
    return st.sampled_from(values)


@cache
def notes() -> st.SearchStrategy[int]:
    """Places of notes with at most a double accidental."""
    return integers(-15, 19)


@cache
def printed_notes() -> st.SearchStrategy[int]:
    """Places of notes with at most one accidental, F flat to B sharp."""
    return integers(-8, 12)


@cache
def keys() -> st.SearchStrategy[Key]:
    """Keys of every mode with at most seven signs."""
    return st.sampled_from(ALL_KEYS)


@cache
def table_qualities() -> st.SearchStrategy[Quality]:
    """The qualities of the table."""
    return st.sampled_from([row.quality for row in TABLE])


@cache
def qualities() -> st.SearchStrategy[Quality]:
    """Qualities of the table, mostly bare, some with one to three changes."""
    changed = st.builds(
        lambda base, changes: altered_quality(base, tuple(changes)),
        table_qualities(),
        st.lists(st.sampled_from(CHANGES), min_size=1, max_size=3, unique=True),
    )
    return table_qualities() | changed


@cache
def chords() -> st.SearchStrategy[Chord]:
    """Chords whose root and bass have at most one accidental."""
    return st.builds(Chord, printed_notes(), qualities(), st.none() | printed_notes())


@cache
def meters() -> st.SearchStrategy[Meter]:
    """Meters that songs are written in."""
    written = ((2, 4), (3, 4), (4, 4), (5, 4), (6, 4), (2, 2), (6, 8), (9, 8), (12, 8), (7, 8))
    return st.sampled_from([Meter(*numbers) for numbers in written])


@cache
def comments() -> st.SearchStrategy[str]:
    """Comments, most of them empty."""
    return st.just("") | one_of("softly", "twice as loud", "see # 2", 'say "when"')


_WORDS = (
    "low",
    "tide",
    "o'er",
    "don't",
    "(home)",
    "x2",
    "Ab",
    "a/b",
    "|",
    "#1",
    "\\",
    "—",
    "né",
    "half-light",
    "“far”",
    "1.",
    ":",
    "100%",
    "@night",
    "as",
    "gone?",
)


@cache
def cue_texts() -> st.SearchStrategy[str]:
    """What stands between quotes."""
    return one_of("half time", "gtr. 2 in", "a | b", "ritard. # slow", "x", "hush / now")


@cache
def some_words(most: int) -> st.SearchStrategy[list[str]]:
    """Some words, or none."""
    return st.lists(one_of(*_WORDS), max_size=most)


@cache
@st.composite
def segments(draw: st.DrawFn) -> Segment:
    """Words between two dividers: held, empty, or some words, split or not."""
    if draw(integers(0, 9)) == 0:
        return Segment(held=True)
    text = " ".join(draw(some_words(3)))
    return Segment(text, bool(text) and draw(BOOLEANS))


@cache
@st.composite
def strikes(draw: st.DrawFn, onset: int = 0, length: int = 0) -> Strike:
    """A strike with its manner of playing, a chord or N.C."""
    return Strike(
        draw(chords()) if draw(integers(0, 9)) else None,
        onset,
        length,
        False,
        draw(BOOLEANS),
        draw(BOOLEANS),
        draw(BOOLEANS),
        draw(BOOLEANS),
    )


@cache
@st.composite
def marks(draw: st.DrawFn) -> Mark:
    """A navigation mark."""
    kind = draw(one_of("segno", "coda", "to-coda", "fine", "D.C.", "D.S."))
    until = draw(one_of("", "fine", "coda")) if kind in ("D.C.", "D.S.") else ""
    return Mark(kind, until)  # type: ignore[arg-type]


def with_fermata(draw: st.DrawFn, bar: Bar) -> Bar:
    """A bar, sometimes with a fermata over one of its beats."""
    if draw(integers(0, 9)):
        return bar
    if bar.beats_written:
        places = list(range(0, bar.length, TICKS_PER_BEAT))
    else:
        places = [strike.onset for strike in bar.strikes] or [0]
    fermata = Mark("fermata", onset=draw(one_of(*places)))
    return replace(bar, marks=ordered_marks((*bar.marks, fermata)))


@cache
def beat_parts(rhythm: bool, fine: bool) -> st.SearchStrategy[list[str]]:
    """The parts of a beat: chords, with ``rhythm`` other signs too, with ``fine`` up to six."""
    signs = one_of(*("CCCC//__rx" if rhythm else "C"))
    beat = st.lists(signs, max_size=3)
    if fine:
        beat |= st.lists(signs, min_size=4, max_size=4) | st.lists(signs, min_size=6, max_size=6)
    return beat


@cache
@st.composite
def bars(
    draw: st.DrawFn,
    meter: Meter,
    bars_before: int = 0,
    pickup: bool = False,
    rhythm: bool = True,
    fine: bool = False,
) -> Bar:
    """A bar the meter allows: chords in equal shares, chords on written beats, a simile; with
    ``rhythm`` also rests, and beats shared by chords, slashes, holds, rests and muted strokes, with
    ``fine`` by four or six of them too."""
    beats = meter.beats
    ending: tuple[Mark, ...] = (draw(marks()),) if draw(BOOLEANS) else ()
    if not pickup and draw(integers(0, 9)) < min(bars_before, 2):
        simile = draw(integers(1, min(bars_before, 2)))
        return Bar((), beats * TICKS_PER_BEAT * simile, False, simile, marks=ending)
    if rhythm and not pickup and draw(integers(0, 19)) == 0:
        rest = draw(integers(1, 9))
        cues: tuple[Cue, ...] = (Cue(draw(cue_texts())),) if draw(BOOLEANS) else ()
        return Bar((), beats * TICKS_PER_BEAT * rest, cues=cues, marks=ending, rest=rest)
    shares = [n for n in range(1, beats + 1) if beats % n == 0]
    if not pickup and draw(BOOLEANS):
        count = draw(one_of(*shares))
        share = beats // count * TICKS_PER_BEAT
        struck = tuple(draw(strikes(i * share, share)) for i in range(count))
        cues = tuple(
            Cue(draw(cue_texts()), i * share) for i in range(count) if draw(integers(0, 9)) == 0
        )
        return Bar(struck, beats * TICKS_PER_BEAT, False, 0, False, cues, ending)
    written = draw(integers(1, beats - 1)) if pickup else beats
    return _bar_with_beats(draw, written, pickup, ending, beat_parts(rhythm, fine))


def _bar_with_beats(
    draw: st.DrawFn,
    beats: int,
    pickup: bool,
    ending: tuple[Mark, ...],
    beat_parts: st.SearchStrategy[list[str]],
) -> Bar:
    """A bar whose beats are written: each a slash, or some chords and signs.

    Only a chord that sounds, struck before in the bar, is held; inside a beat also silence,
    whose part it makes longer.
    """
    struck: list[Strike] = []
    holds: list[int] = []
    slashes: list[int] = []
    silences: list[int] = []
    mutes: list[int] = []
    sounds = False
    places = [draw(beat_parts) for _ in range(beats)]
    if pickup or all(place == ["C"] for place in places):
        places[-1] = ["/"]
    if pickup and beats == 1:
        places = [["/"]]
    for beat, place in enumerate(places):
        parts = place or ["/"]
        share = TICKS_PER_BEAT // len(parts)
        for i, part in enumerate(parts):
            onset = beat * TICKS_PER_BEAT + i * share
            if part == "C":
                struck.append(draw(strikes(onset, share)))
                sounds = _sounds(struck[-1])
                continue
            if struck:
                struck[-1] = replace(struck[-1], length=onset + share - struck[-1].onset)
            if part in "rx":
                (silences if part == "r" else mutes).append(onset)
                sounds = False
            elif part == "_" and struck and (i > 0 or sounds):
                holds.append(onset)
            elif len(parts) > 1:
                slashes.append(onset)
                sounds = bool(struck) and struck[-1].chord is not None
    return Bar(
        tuple(struck),
        beats * TICKS_PER_BEAT,
        True,
        0,
        pickup,
        (),
        ending,
        holds=tuple(holds),
        slashes=tuple(slashes),
        silences=tuple(silences),
        mutes=tuple(mutes),
    )


def _sounds(strike: Strike) -> bool:
    return strike.chord is not None and (strike.ringing or not strike.stopped)


_ENDS_REPEAT = ("repeat-end", "repeat-both")


@cache
@st.composite
def music_rows(
    draw: st.DrawFn,
    meter: Meter,
    bars_before: int,
    first: bool,
    rhythm: bool = True,
    fine: bool = False,
    times: bool = False,
) -> MusicRow:
    """A row of bars with all kinds of bar lines, or one in free time; with ``times`` its repeats
    say how often they are played."""
    if draw(integers(0, 9)) == 0:
        struck = tuple(draw(strikes()) for _ in range(draw(integers(1, 3))))
        return MusicRow((Bar(struck),), (), draw(comments()))
    drawn: list[Bar] = []
    lines: list[BarLine] = []
    if first and meter.beats > 1 and draw(integers(0, 4)) == 0:
        drawn.append(draw(bars(meter, 0, True, rhythm, fine)))
        lines.append(BarLine("none"))
    for _ in range(draw(integers(1, 4))):
        before = bars_before + sum(bar.lasts for bar in drawn)
        kinds = ["single"] * 6 + ["double", "repeat-start"]
        kinds += ["repeat-end", "repeat-both"] if drawn else []
        kind = draw(one_of(*kinds))
        endings = draw(one_of(*[()] * 6, (1,), (2,), (1, 3)))
        said = draw(one_of(3, 12)) if times and kind in _ENDS_REPEAT else 0
        lines.append(BarLine(kind, endings, said))  # type: ignore[arg-type]
        change = draw(one_of(*[None] * 9, Meter(2, 4), Meter(7, 8))) if rhythm else None
        meter = change or meter
        bar = replace(draw(bars(meter, before, False, rhythm, fine)), meter=change)
        drawn.append(with_fermata(draw, bar))
    ends: list[BarLineKind] = ["single", "double", "repeat-end"]
    last = draw(one_of(*ends))
    lines.append(BarLine(last, (), 4 if times and last == "repeat-end" else 0))
    return MusicRow(tuple(drawn), tuple(lines), draw(comments()))


def words_row(draw: st.DrawFn, music: MusicRow) -> WordsRow:
    """Words that fit a row of music."""
    verse = draw(verse_numbers())
    upbeat = music.free or music.lines[0].kind != "none"
    first: tuple[tuple[Segment, ...], ...] = ((draw(segments()),),) if upbeat else ()
    cells = []
    for bar in music.bars:
        starts_late = not bar.strikes or (not music.free and bar.strikes[0].onset > 0)
        places = len(bar.strikes) + starts_late
        cells.append(tuple(draw(segments()) for _ in range(draw(integers(1, places)))))
    if music.free:
        # Fewer words than chords have no pick-up: they begin at the first chord.
        full = tuple(draw(segments()) for _ in music.bars[0].strikes)
        if draw(BOOLEANS):
            return WordsRow((first[0], full), verse, draw(comments()))
        return WordsRow(((Segment(),), cells[0]), verse, draw(comments()))
    return WordsRow((*first, *cells), verse, draw(comments()))


@cache
def short_capos() -> st.SearchStrategy[Capo]:
    """Capos over some neighbouring strings."""
    runs = [tuple(range(first, last + 1)) for first in range(1, 7) for last in range(first, 7)]
    return st.builds(Capo, integers(1, 11), st.just(0), st.sampled_from(runs))


@cache
def capos(lowest: int, highest: int) -> st.SearchStrategy[int | Capo]:
    """Capos as numbers, or over some strings."""
    return integers(lowest, highest) | short_capos()


@cache
@st.composite
def setting_rows(draw: st.DrawFn) -> tuple[TopRow, ...]:
    """The rows at the top of a chart, each name at most once."""
    low, high = draw(pitches()), draw(pitches())
    if low.midi > high.midi:
        low, high = high, low
    values = {
        "title": one_of("Lantern Road", "No. 9 # rain", "Ten: to the dozen"),
        "writer": st.just("The Tidewater Five"),
        "key": keys(),
        "meter": meters(),
        "tempo": integers(10, 400),
        "feel": one_of("swing", "slow 12"),
        "range": st.just(PitchRange(low, high)),
        "capo": capos(-5, 11),
        "chords": one_of("sounding", "shapes"),
        "note": one_of("second verse soft", "watch the #4"),
    }
    names = draw(st.lists(st.sampled_from(sorted(values)), unique=True))
    rows: list[TopRow] = [
        SettingRow(name, draw(values[name]), draw(comments()))  # type: ignore[arg-type]
        for name in names
    ]
    if draw(BOOLEANS):
        rows.append(CommentRow("from the notebook"))
    return tuple(rows)


@cache
def stanzas() -> st.SearchStrategy[list[list[str]]]:
    """A few lines of words."""
    return st.lists(some_words(5), min_size=1, max_size=3)


@cache
def verse_numbers() -> st.SearchStrategy[int | None]:
    """The number of a verse, or none."""
    return st.none() | integers(1, 9)


@cache
def pitches() -> st.SearchStrategy[Pitch]:
    """Notes that are sung."""
    return st.builds(Pitch, printed_notes(), integers(2, 6))


@cache
@st.composite
def words_alone(draw: st.DrawFn) -> tuple[Row, ...]:
    """A stanza of words without music, and the blank row that parts it from what comes before."""
    texts = draw(stanzas())
    verse = draw(verse_numbers())
    lines = [WordsRow(((Segment(" ".join(text)),),), verse, draw(comments())) for text in texts]
    return (BlankRow(), *lines)


@cache
@st.composite
def charts(
    draw: st.DrawFn,
    rhythm: bool = False,
    fine: bool = False,
    alone: bool = False,
    times: bool = False,
    moves: bool = False,
) -> Chart:
    """Whole charts: settings, then sections of music with words, cues and changes.

    With ``rhythm`` they have rests, holds, split beats and meters inside rows as well, and with
    ``fine`` beats in four or six parts too; with ``alone`` words without music and sections
    that are played again, with ``times`` repeats that say how often they are played, and with
    ``moves`` a capo that moves.
    """
    top = draw(setting_rows())
    meter = next(
        (r.value for r in top if isinstance(r, SettingRow) and isinstance(r.value, Meter)),
        Meter(4, 4),
    )
    sections: list[Section] = []
    bars_before = 0
    for number in range(draw(integers(1, 3))):
        rows: list[Row] = []
        for _ in range(draw(integers(1, 3))):
            extra = draw(integers(0, 9))
            if extra == 0:
                rows.append(CueRow(draw(cue_texts()), draw(comments())))
            elif extra == 1:
                rows.append(SettingRow("key", draw(keys()), draw(comments())))
            elif extra == 2:
                rows.append(CommentRow("here it turns"))
            elif extra == 3:
                meter = draw(meters())
                rows.append(SettingRow("meter", meter, draw(comments())))
            elif extra == 4 and moves:
                rows.append(SettingRow("capo", draw(capos(0, 7)), draw(comments())))
            first = not any(isinstance(row, MusicRow) for row in rows)
            music = draw(music_rows(meter, bars_before, first, rhythm, fine, times))
            bars_before += 0 if music.free else sum(b.lasts for b in music.bars)
            meter = next((b.meter for b in reversed(music.bars) if b.meter), meter)
            rows.append(music)
            rows += [words_row(draw, music) for _ in range(draw(integers(0, 2)))]
            if alone and draw(integers(0, 3)) == 0:
                rows += draw(words_alone())
            if draw(BOOLEANS):
                rows.append(BlankRow())
        name = draw(one_of("Verse", "Chorus", "Bridge on the hill")) + f" {number + 1}"
        sections.append(Section(name, tuple(rows), draw(integers(1, 3)), "", draw(comments())))
        if alone and draw(integers(0, 3)) == 0:
            earlier = draw(st.sampled_from(sections)).name
            own: tuple[Row, ...] = (CueRow(draw(cue_texts())),) if draw(BOOLEANS) else ()
            sections.append(Section(earlier, own, draw(integers(1, 3)), "", draw(comments())))
    last = sections[-1]
    if last.rows and isinstance(last.rows[-1], BlankRow):
        sections[-1] = replace(last, rows=last.rows[:-1])
    return Chart(top, tuple(sections))
