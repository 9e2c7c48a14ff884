"""MIDI files hold what a guitarist plays: read back by music21, held against the chart.

The expected events are worked out here from the playing order and the voicings, not from the
program's own performance.
"""

from collections import defaultdict
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import mido
import pytest
from music21 import midi as midi21

from chartkit.advise.ranking import played_option
from chartkit.advise.requests import instrument_of, own_shapes
from chartkit.advise.song import song_of
from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View
from chartkit.chart.model import TICKS_PER_BEAT, Chart
from chartkit.chart.playing_order import playing_order
from chartkit.interchange.midi.performance import Performance, performance
from chartkit.interchange.midi.write import Listening, MidiTrack, midi_bytes
from chartkit.theory.capo import Capo
from tests.charts import chart_of
from tests.each import each

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.chart"))
QUIET = Listening(count_in=False, click=False)
LONGEST_STRUM = 0.2
"""Quarter notes that six strings one after the other may take at any tempo of the examples."""


def sounding_chart(path: Path) -> Chart:
    """An example's sounding chords."""
    return moved_chart(chart_of(path.read_text()), View())


def file_of(chart: Chart, listening: Listening = QUIET) -> bytes:
    """The chart alone as a MIDI file."""
    return midi_bytes("Song", [MidiTrack("guitar", performance(chart))], listening)


def notes_by_music21(content: bytes, channel: int = 1) -> list[tuple[float, float, int]]:
    """Start and length in quarter notes and pitch of each note of a channel, by music21."""
    file = midi21.MidiFile()
    file.readstr(content)
    notes = []
    for track in file.tracks:
        at, sounding = 0, dict[int, int]()
        for event in track.events:
            if event.type == "DeltaTime":
                at += event.time
            elif event.channel != channel:
                continue
            elif event.isNoteOn():
                sounding[event.pitch] = at
            elif event.isNoteOff():
                start = sounding.pop(event.pitch)
                per = file.ticksPerQuarterNote
                notes.append((start / per, (at - start) / per, event.pitch))
    return sorted(notes)


def chord_changes(chart: Chart) -> list[tuple[Fraction, frozenset[int]]]:
    """When each chord of the song is struck first, in quarter notes, and its pitches.

    Only chords on their own beats: pushed ones are looked at apart.
    """
    song = song_of(chart)
    played = played_option(
        song, chart.capo, instrument_of(chart), None, own_shapes(chart, instrument_of(chart))
    )
    by_chord = defaultdict(set)
    for held, voicing in zip(song.held_chords, played.voicings, strict=True):
        if voicing is not None:
            by_chord[held.chord].add(frozenset(p for p in voicing.pitches if p is not None))
    changes, at = [], Fraction(0)
    for bar in playing_order(chart).bars:
        beat = 4 * bar.meter.beat
        for place, strike in enumerate(bar.strikes):
            after = strike.onset * beat / TICKS_PER_BEAT if bar.length else Fraction(4 * place)
            if strike.chord is not None and not strike.pushed:
                changes.append((at + after, by_chord[strike.chord]))
        at += bar.length * beat / TICKS_PER_BEAT if bar.length else 4 * max(1, len(bar.strikes))
    return changes  # type: ignore[return-value]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_each_chord_sounds_as_it_is_fingered(path: Path) -> None:
    """At each chord of the playing order, all strings of its voicing and no others start there,
    one after the other within a strum (music21 reads the file)."""
    chart = sounding_chart(path)
    notes = notes_by_music21(file_of(chart))
    for start, voicings in chord_changes(chart):
        struck = frozenset(
            pitch for at, _, pitch in notes if float(start) - 0.003 <= at <= start + LONGEST_STRUM
        )
        assert struck in voicings


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_strings_ring_until_they_are_struck_again(path: Path) -> None:
    """No more notes sound at once than the guitar has strings, and no pitch is struck while it
    sounds already."""
    notes = notes_by_music21(file_of(sounding_chart(path)))
    assert notes
    events = sorted(
        [(start, 1, pitch) for start, _, pitch in notes]
        + [(start + length, 0, pitch) for start, length, pitch in notes]
    )
    sounding: set[int] = set()
    for _, starts, pitch in events:
        if starts:
            assert pitch not in sounding
            sounding.add(pitch)
        else:
            sounding.remove(pitch)
        assert len(sounding) <= 6
    assert not sounding


SONG = "title: Small\nkey: C\nmeter: 4/4\ntempo: 120\n\n== V\n{bars}\n"


def small(bars: str) -> Performance:
    """A small song played."""
    return performance(chart_of(SONG.format(bars=bars)))


def strokes(bars: str) -> list[tuple[float, float, str]]:
    """When each stroke starts and how long its longest string sounds, and which way it goes."""
    by_start: dict[Fraction, list[tuple[Fraction, str]]] = defaultdict(list)
    for note in small(bars).notes:
        by_start[note.start].append((note.end - note.start, note.stroke))
    return [
        (float(start), float(max(length for length, _ in strings)), strings[0][1])
        for start, strings in sorted(by_start.items())
    ]


RHYTHMS = [
    ("| C |", [(0, 4, "down")]),
    ("| C / / / |", [(0, 1, "down"), (1, 1, "down"), (2, 1, "down"), (3, 1, "down")]),
    ("| C F |", [(0, 2, "down"), (2, 2, "down")]),
    ("| C,/ / _ r |", [(0, 0.5, "down"), (0.5, 0.5, "up"), (1, 2, "down")]),
    ("| C! r r r |", [(0, 0.25, "down")]),
    ("| C x / / |", [(0, 1, "down"), (1, 0.0625, "muted"), (2, 1, "down"), (3, 1, "down")]),
    ("| C | <F |", [(0, 3.5, "down"), (3.5, 4.5, "up")]),
    ("| C | N.C. |", [(0, 4, "down")]),
    (
        "| C / F / | % |",
        [
            (0, 1, "down"),
            (1, 1, "down"),
            (2, 1, "down"),
            (3, 1, "down"),
            (4, 1, "down"),
            (5, 1, "down"),
            (6, 1, "down"),
            (7, 1, "down"),
        ],
    ),
    ("|: C :| F |", [(0, 4, "down"), (4, 4, "down"), (8, 4, "down")]),
    ("| rest 2 | C |", [(8, 4, "down")]),
    ("| C | _ / / / |", [(0, 5, "down"), (5, 1, "down"), (6, 1, "down"), (7, 1, "down")]),
]


@each(("bars", "expected"), RHYTHMS)
def test_rhythm(bars: str, expected: list[tuple[float, float, str]]) -> None:
    """Slashes are struck again, holds ring on, rests and N.C. silence the strings, stops are
    short, muted strokes shorter, pushes half a beat early, repeats played out."""
    assert strokes(bars) == expected


def test_down_and_up() -> None:
    """A stroke on the beat goes from the bass string up, one between beats the other way."""
    notes = [note for note in small("| C,/ / / / |").notes if note.start < 1]
    down = [note.string for note in notes if note.start == 0]
    up = [note.string for note in notes if note.start > 0]
    assert down == sorted(down)
    assert up == sorted(up, reverse=True)


def test_the_capo_raises_what_sounds_and_not_the_song() -> None:
    """With the capo elsewhere the same chords sound in other voicings."""
    chart = chart_of(SONG.format(bars="| G | C | D | G |"))
    low, high = performance(chart, Capo()), performance(chart, Capo(7))
    assert {n.pitch % 12 for n in low.notes} == {n.pitch % 12 for n in high.notes}
    assert min(n.pitch for n in high.notes) > min(n.pitch for n in low.notes)


def test_tempo_and_meter_have_their_map() -> None:
    """Changes of tempo and meter come at their bars; in 6/8 a beat is a dotted quarter."""
    chart = chart_of(
        "key: C\ntempo: 90\n\n== A\n| C | 3/4 F |\n\n== B\nmeter: 6/8\ntempo: 80\n| C |\n"
    )
    track = mido.MidiFile(file=BytesIO(file_of(chart))).tracks[0]
    at, events = 0, []
    for message in track:
        at += message.time
        if message.type == "time_signature":
            events.append((at / 480, f"{message.numerator}/{message.denominator}"))
        if message.type == "set_tempo":
            events.append((at / 480, str(round(mido.tempo2bpm(message.tempo)))))
    assert events == [(0, "4/4"), (0, "90"), (4, "3/4"), (7, "6/8"), (7, "120")]


def paces_of(text: str) -> list[float]:
    """Quarter notes a minute in each played bar."""
    bars = performance(chart_of(text)).bars
    return [float(bar.tempo * 4 * bar.meter.beat) for bar in bars]


def test_notes_keep_their_length_where_the_meter_changes() -> None:
    """Without a new tempo an eighth stays an eighth, whatever the beat is (common practice, no
    source)."""
    meters = "| C | 5/4 F | 7/8 C | 9/8 G | 4/4 C |"
    assert paces_of(f"key: C\nmeter: 7/8\ntempo: 144\n\n== A\n{meters}\n") == [72] * 5
    assert paces_of("key: C\n\n== A\n| C |\n\n== B\nmeter: 6/8\n| C |\n") == [100, 100]
    again = "key: C\n\n== A\n| C |\n\n== B\ntempo: 80\nmeter: 6/8\n| C |\n"
    assert paces_of(again) == [100, 120]


def test_a_section_comes_again_at_its_tempo() -> None:
    """What a repeated heading says of the tempo holds for that time; what comes after goes on at
    the tempo before it on the page (common practice, no source)."""
    song = "key: C\ntempo: 196\n\n== A\n| C |\n\n== B\ntempo: 98\n| F |\n\n"
    assert paces_of(f"{song}== A\n\n== C\n| G |\n") == [196, 98, 196, 196]
    assert paces_of(f"{song}== A\ntempo: 60\n\n== A\n") == [196, 98, 60, 196]


def test_sections_are_markers() -> None:
    """Each section has a marker with its name where it begins, after the count-in."""
    chart = chart_of("key: C\n\n== Verse\n|: C :|\n\n== Refräng x2\n| F |\n\n== Verse\n")
    content = midi_bytes("Song", [MidiTrack("guitar", performance(chart))])
    at, markers = 0, []
    for message in mido.MidiFile(file=BytesIO(content), charset="utf-8").tracks[0]:
        at += message.time
        if message.type == "marker":
            markers.append((at / 480, message.text))
    assert markers == [(4, "Verse"), (12, "Refräng"), (20, "Verse")]


@each(
    ("bars", "seconds"),
    [
        ("| C @fermata | F |", [1.5, 2.5]),
        ("| C F @fermata | G |", [1.5, 2.5]),
        ("| C / @fermata F / | G |", [0.5, 1.5]),
        ("| @fermata C F | G |", [0.5, 1.5]),
        ("| C | % @fermata | G |", [3.5, 4.5]),
        ("| C | F @fermata |", [3.5, 4.5]),
        ("| @fermata N.C. C / / @fermata | G |", [0.0, 1.0, 2.0, 3.0]),
        ("| C | F |", []),
    ],
)
def test_a_fermata_is_held(bars: str, seconds: list[float]) -> None:
    """The last beat of what stands under a fermata takes twice its time, for every track; the
    quarter notes of the file stay where they are."""
    chart = chart_of(SONG.format(bars=bars))
    file = mido.MidiFile(file=BytesIO(file_of(chart)))
    at, slow, tempo = 0.0, [], 500_000
    changes = []
    for message in file.tracks[0]:
        at += message.time / 480 * tempo / 1_000_000
        if message.type == "set_tempo":
            if message.tempo != tempo:
                changes.append(round(at, 3))
            tempo = message.tempo
            slow.append(tempo)
    assert set(slow) == ({500_000, 1_000_000} if seconds else {500_000})
    assert changes == seconds
    plain = chart_of(SONG.format(bars=bars.replace(" @fermata", "").replace("@fermata ", "")))
    longer = file.length - mido.MidiFile(file=BytesIO(file_of(plain))).length
    assert longer == pytest.approx(0.5 * len(seconds) / 2, abs=0.01)
    assert small(bars).notes == performance(plain).notes


def test_words_are_lyric_events() -> None:
    """Each held of words stands at its chord, the second verse the second time round."""
    chart = chart_of(SONG.format(bars="|: C F | G :|\n1: | low / tide | pulls |\n2: | far | _ |"))
    track = mido.MidiFile(file=BytesIO(file_of(chart))).tracks[1]
    at, words = 0, []
    for message in track:
        at += message.time
        if message.type == "lyrics":
            words.append((at / 480, message.text.strip()))
    assert words == [(0, "low"), (2, "tide"), (4, "pulls"), (8, "far")]


def test_words_of_an_ending_are_those_of_its_time() -> None:
    """The second ending, come to once, has the words of the second verse; where notation wrote them
    into the first, those are sung."""
    bars = "|: C |1. F :|2. G |\n"
    own = "1: | low | tide | |\n2: | high | | water |"
    first = "1: | low | tide | water |\n2: | high | | |"
    for words in (own, first):
        chart = chart_of(SONG.format(bars=bars + words))
        track = mido.MidiFile(file=BytesIO(file_of(chart))).tracks[1]
        sung = [message.text.strip() for message in track if message.type == "lyrics"]
        assert sung == ["low", "tide", "high", "water"]


def test_count_in_and_click_can_be_left_out() -> None:
    """The count-in shifts the song by a bar; without both no percussion sounds."""
    chart = chart_of(SONG.format(bars="| C | F |"))
    counted = file_of(chart, Listening(count_in=True, click=False))
    assert notes_by_music21(counted)[0][0] == 4
    assert len(notes_by_music21(counted, 10)) == 4
    assert len(notes_by_music21(file_of(chart, Listening()), 10)) == 12
    assert notes_by_music21(file_of(chart), 10) == []


def test_each_guitar_has_its_channel() -> None:
    """Two guitars sound on two channels, neither of them percussion's."""
    one = performance(chart_of(SONG.format(bars="| C |")))
    content = midi_bytes("Two", [MidiTrack("first", one), MidiTrack("second", one)], QUIET)
    assert notes_by_music21(content, 1) == notes_by_music21(content, 2) != []


def test_every_bar_is_played() -> None:
    """The song lasts as long as its bars, whatever the usual tempo is."""
    chart = sounding_chart(EXAMPLES[0])
    played = performance(chart)
    assert len(played.bars) == len(playing_order(chart).bars)
    assert all(bar.tempo for bar in played.bars)


def test_a_capo_that_moves_is_heard() -> None:
    """Where the capo moves inside the song, a chord gets another shape from there."""
    chart = chart_of("key: A\n\n== Low\n| A |\n\n== High\ncapo: 5\n| A | E |\n")
    played = performance(chart)
    pitches = [
        sorted(note.pitch for note in played.notes if note.start == start) for start in (0, 4)
    ]
    assert pitches[0] != pitches[1]
    still = performance(chart, Capo())
    assert sorted(n.pitch for n in still.notes if n.start == 4) == pitches[0]


def test_what_is_too_long_is_cut_at_a_bar_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a song with more strokes than are ever played out the last whole bar is the end."""
    chart = chart_of("key: C\n\n|: C / / / | F / / / :| x9\n")
    assert not performance(chart).cut_short
    monkeypatch.setattr("chartkit.interchange.midi.performance._MOST_STROKES", 21)
    played = performance(chart)
    assert played.cut_short and len(played.bars) == 5 and played.end == 20


@each(
    ("feel", "starts"),
    [
        ("medium swing", ["0", "2/3", "1", "5/3", "3", "10/3", "11/3"]),
        ("straight, no swing", ["0", "1/2", "1", "3/2", "3", "10/3", "11/3"]),
        ("16th shuffle", ["0", "1/2", "1", "3/2", "3", "10/3", "11/3"]),
    ],
)
def test_swung_eighths_are_late_and_triplets_stay(feel: str, starts: list[str]) -> None:
    """The off-beat of a swung beat, and a push to it, comes with the triplet's last third."""
    chart = chart_of(f"key: C\nfeel: {feel}\n\n== A\n| C,/ / <F G,/,/ |\n")
    assert [str(at) for at in sorted({note.start for note in performance(chart).notes})] == starts
