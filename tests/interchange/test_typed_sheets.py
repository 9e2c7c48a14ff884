"""Sheets as people type them become the charts that musicians would make of them."""

import re

from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.chart.model import WordsRow
from chartkit.diagnostics import Source
from chartkit.incoming import Refused, incoming_chart
from chartkit.syntax.reader import read_chart
from chartkit.syntax.symbol import chord_or_none
from chartkit.syntax.write import chart_text
from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import TypedSheet, differences, sheets, silent

_SAID_OTHERWISE = """
compasso maat metre
about akkorde around artist back bund capo capotraste casa cejilla chords circa coda compás deux
double drei dreimal drie duas due dur dwa fine flat fois form four fret gange ganger gånger half
kapo kapodaster keer maggiore majeur major mayor menor mesure metronome mineur minor minore moll
page part play razy repeat rest same segno shapes sharp sounding sounds tacet takt tempo then three
speed andamento herhalen goes none bémol
time times title tonacja tonalidad tonalidade tonalitet tonalità tonalité tonart toneart tono
toonsoort traste tres trois trzy três twee twice veces vezes viermal volte zwei
"""
SAID_OTHERWISE = frozenset(_SAID_OTHERWISE.split())
"""Words of which the chart has the meaning: a setting, a repeat."""

EVERY = sheets("sheets_*")
_TUNED_ON, _KEPT_APART = [*EVERY[::2], *sheets("more_*"), *sheets("fresh_*")], EVERY[1::2]
_KNOWN_SHARE = 0.88
"""How many of the sheets that the reader was never tuned on are wholly right, at least."""


@each("sheet", _TUNED_ON, ids=lambda one: one.name)
def test_sheet(sheet: TypedSheet) -> None:
    """Sections, chords, words, repeats and the head are those of the expected chart."""
    assert not differences(sheet)


def test_sheets_kept_apart() -> None:
    """Most of the sheets on which nothing was tuned are wholly right too."""
    right = sum(not differences(sheet) for sheet in _KEPT_APART)
    assert right >= _KNOWN_SHARE * len(_KEPT_APART)


def test_sheets_of_another_hand() -> None:
    """Nine in ten of ninety sheets that were typed by people who never saw the reader are wholly
    right, after what the reader did not know was mended by its kind."""
    every = sheets("first_sight_*")
    assert sum(not differences(sheet) for sheet in every) >= 0.9 * len(every)


def test_no_sheet_is_wrong_in_silence() -> None:
    """Where a section is not the one that a musician would write, a finding stands at its
    lines."""
    assert [quiet for sheet in sheets() if differences(sheet) for quiet in silent(sheet)] == []


@each(
    ("above", "words", "parts"),
    [
        ("  C", "lighthouse", ("", "lighthouse")),
        ("     C", "lighthouse", ("light", "house")),
        ("        C", "the lanterns", ("the lan", "terns")),
        ("   C", "singing", ("sing", "ing")),
        ("    C", "low tide", ("low", "tide")),
        (" C", "harbour", ("", "harbour")),
    ],
)
def test_a_chord_goes_to_the_nearest_syllable(
    above: str, words: str, parts: tuple[str, str]
) -> None:
    """A word is cut where a syllable begins; else the chord stands before the word."""
    chart = taken(f"Verse\n{above}\n{words}\n").chart
    (row,) = (row for row in chart.sections[0].rows if isinstance(row, WordsRow))
    assert tuple(one.text for cell in row.cells for one in cell) == parts


_LINES = st.lists(st.integers(0, 10_000), min_size=3, max_size=60)
_WORD = re.compile(r"[^\W\d_]{4,}")


def _mutated(picks: list[int]) -> str:
    """A sheet of lines from all sheets, shuffled: some in other order, some twice."""
    lines = [line for one in sheets() for line in one.text.splitlines()]
    return "C  G\nthe first of the lines\n" + "\n".join(lines[at % len(lines)] for at in picks)


@settings(max_examples=40, deadline=None)
@given(_LINES)
def test_the_law_holds_for_shuffled_sheets(picks: list[int]) -> None:
    """Every word of the source is in the chart, its comments or the findings; no line that begins
    with a section's name and counts it is sung; the chart checks and is tidy."""
    text = _mutated(picks)
    try:
        incoming = incoming_chart(text.encode(), comments=True)
    except Refused:
        return
    said = " ".join(one.message + " " + one.source for one in incoming.findings)
    kept = _plain(incoming.text + said)
    lost = {word for word in _WORD.findall(text) if _plain(word) not in kept}
    assert {word for word in lost if not _is_chord_or_sign(word)} == set()
    rows = [row for row in incoming.text.splitlines() if re.match(r"\s*\d*:", row)]
    for row in rows:
        assert not _COUNTED_SECTION.match(_plain_row(row)), row
    reading = read_chart(Source(incoming.text))
    assert not [one for one in reading.diagnostics if one.severity == "error"]
    assert chart_text(reading.chart) == incoming.text


_COUNTED_SECTION = re.compile(
    r"(?:verse|chorus|intro|outro|solo|refrain|strophe|bridge|tag)\s*\d?\s*"
    r"(?:\(?(?:x\s?\d|\d\s?x)\b|\d+ bars).*",
    re.IGNORECASE,
)


def _plain(text: str) -> str:
    return "".join(c for c in text.casefold() if c.isalpha())


def _plain_row(row: str) -> str:
    return re.sub(r"\s*[/|]\s*", " ", re.sub(r"^\s*\d*:[\s|/]*", "", row))


def _is_chord_or_sign(word: str) -> bool:
    """Whether a word may have become a chord, a setting, a repeat or a mark."""
    sung = _SUNG_CHORD.fullmatch(word) is not None
    return sung or chord_or_none(word) is not None or word.casefold() in SAID_OTHERWISE


_SUNG_CHORD = re.compile(r"(?:do|r[eé]|mi|fa|sol|la|si)[b#]?m?", re.IGNORECASE)
"""A chord by its syllable, which becomes one by its letter."""


_PARTED = """
asked leaves loved gates you're love's time's lan-tern's high-er draw-er no-bo-dy
some-bo-dy some-thing lone-ly care-ful
home-ward light-house lit-tle cat-tle whis-tle wan-ted ro-ses watch-es flow-ers sing-ing
Ha-fen Was-ser Lich-ter por-que nie-bla can-ción
"""


@each(
    "parted",
    _PARTED.split(),
)
def test_words_are_cut_at_syllables_that_are_sung(parted: str) -> None:
    """A chord over any letter of a word cuts it at one of its syllables or nowhere.

    Source of the syllables: common practice of singers, from memory."""
    word = parted.replace("-", "")
    syllables = {len(parted[:at].replace("-", "")) for at, c in enumerate(parted) if c == "-"}
    for column in range(len(word)):
        chart = taken(f"Verse\n{' ' * column}C\n{word} on\n").chart
        (row,) = (row for row in chart.sections[0].rows if isinstance(row, WordsRow))
        first = next(iter(row.cells))[0].text
        assert len(first) in {0, *syllables, len(word)}, (first, column)
