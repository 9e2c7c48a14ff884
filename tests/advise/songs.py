"""Small invented songs for the tests of the adviser, and how to bring them to any key."""

from chartkit.advise.song import Song, moved_song, song_of
from chartkit.chart.model import Chart
from chartkit.diagnostics import Source, has_errors
from chartkit.syntax.reader import read_chart
from chartkit.theory.key import parse_key
from chartkit.theory.transposition import semitones_between

MAJOR_KEYS = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")
MINOR_KEYS = ("Cm", "C#m", "Dm", "Ebm", "Em", "Fm", "F#m", "Gm", "G#m", "Am", "Bbm", "Bm")

PROGRESSIONS = {
    "I-IV-V-vi": ("C", "| C | F | G | Am |"),
    "I-vi-IV-V": ("C", "| C | Am | F | G |"),
    "I-bVII-IV": ("C", "| C | Bb | F | C |"),
    "ii-V-I": ("C", "| Dm7 | G7 | Cmaj7 | Cmaj7 |"),
    "blues": (
        "C",
        "| C7 | F7 | C7 | C7 |\n| F7 | F7 | C7 | C7 |\n| G7 | F7 | C7 | G7 |",
    ),
    "i-iv-v-VI-VII": ("Am", "| Am | Dm | Em | F | G |"),
    "i-iv-V7": ("Am", "| Am | Dm | E7 | Am |"),
    "i-VII-VI-V": ("Am", "| Am | G | F | E |"),
    "i-VI-III-VII": ("Am", "| Am | F | C | G |"),
}
"""Progressions by name: the key they are written in and their bars."""


def chart_of(text: str) -> Chart:
    """The chart of a text that has no mistakes."""
    reading = read_chart(Source(text))
    assert not has_errors(reading.diagnostics), reading.diagnostics
    return reading.chart


def song(text: str) -> Song:
    """The song of a chart text."""
    return song_of(chart_of(text))


def progression(name: str, key: str) -> Song:
    """One of the progressions in that key."""
    home, bars = PROGRESSIONS[name]
    written = song(f"key: {home}\n{bars}")
    return moved_song(written, semitones_between(parse_key(home), parse_key(key)))
