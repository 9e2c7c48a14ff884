"""Figures of taking lead sheets in: a score against its bare XML parse, a text and its growth."""

import gc
import random
import re
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from xml.etree import ElementTree

import music21
from defusedxml.ElementTree import fromstring

from chartkit.cli.main import COLLECTOR
from chartkit.interchange.intake_result import Findings, Refused
from chartkit.interchange.musicxml.read import read_musicxml
from chartkit.interchange.musicxml.xml import LARGEST_SCORE_BYTES, MOST_ELEMENTS
from chartkit.interchange.text.read import read_sheet
from chartkit.syntax.symbol import chord_or_none
from tests.benchmarks.measure import as_installed
from tests.interchange.pages import SONG, draw_song, pages
from tests.interchange.typed_sheets import sheets

_NOTE = """
      <harmony><root><root-step>{step}</root-step></root>
        <kind text="m7">minor-seventh</kind></harmony>
      <note default-x="{n}.5"><pitch><step>G</step><octave>4</octave></pitch><duration>4</duration>
        <voice>1</voice><type>half</type><stem>up</stem>
        <lyric number="1"><syllabic>begin</syllabic><text>lan</text></lyric>
        <lyric number="2"><syllabic>single</syllabic><text>tide</text></lyric></note>
      <note><pitch><step>A</step><octave>4</octave></pitch><duration>4</duration>
        <voice>1</voice><type>half</type><stem>up</stem>
        <lyric number="1"><syllabic>end</syllabic><text>tern</text></lyric></note>"""
_VERSE = "Verse {n}\nC       G/B     Am7     F\nOh, the low tide pulls the lanterns home\n\n"


def score(measures: int) -> bytes:
    """A lead sheet of so many measures; 400 are 300 kB."""
    body = "".join(
        f'<measure number="{n}">{_NOTE.format(n=n, step="CDEFGAB"[n % 7])}</measure>'
        for n in range(1, measures + 1)
    )
    return (
        (
            '<?xml version="1.0"?><score-partwise><part-list><score-part id="P1"><part-name>Voice'
            f'</part-name></score-part></part-list><part id="P1">{body}</part></score-partwise>'
        )
        .replace(
            '<measure number="1">',
            '<measure number="1"><attributes><divisions>2</divisions>'
            "<key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>"
            "</attributes>",
        )
        .encode()
    )


_SAID = (
    *("softly", "then", "louder", "all", "guitars", "rest", "drums", "bass", "fade", "build"),
    *("slower", "hold", "back"),
)


def spoken_score(measures: int) -> bytes:
    """A lead sheet with other words to the players in every measure; 340 are 300 kB."""

    def said(bar: re.Match[str]) -> str:
        number, count = int(bar[1]), len(_SAID)
        words = " ".join(_SAID[number // step % count] for step in (1, count, count**2))
        direction = f"<direction-type><words>{words}</words></direction-type>"
        return f'{bar[0]}<direction placement="above">{direction}</direction>'

    return re.sub(r'<measure number="(\d+)">', said, score(measures).decode()).encode()


def long_lead_sheet() -> bytes:
    """A lead sheet of music21's corpus, as a notation program wrote it, with its measures
    repeated until it has 300 kB."""
    path = Path(music21.__file__).parent / "corpus" / "leadSheet" / "berlinAlexandersRagtime.mxl"
    with zipfile.ZipFile(path) as archive:
        text = archive.read("berlinAlexandersRagtime.xml").decode()
    measures = re.findall(r"<measure .*?</measure>", text, re.DOTALL)
    more = "".join(measures[1:-1]) * 3
    return text.replace(measures[-1], more + measures[-1]).encode()


def _least(work: Callable[[], object], runs: int = 9) -> float:
    """The least processor time of several runs: other programs do not count."""
    work()
    times = []
    for _ in range(runs):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def _imports() -> float:
    """Milliseconds that importing the reader of scores adds to the package's own start."""
    code = (
        "import time, chartkit.syntax.symbol, chartkit.chart.systems, dataclasses\n"
        "from xml.etree import ElementTree\n"
        "start = time.process_time()\nimport chartkit.interchange.musicxml.read\n"
        "print((time.process_time() - start) * 1000)"
    )
    call = [sys.executable, "-c", code]
    runs = (
        subprocess.run(call, check=True, capture_output=True, text=True, env=as_installed())
        for _ in range(9)
    )
    return min(float(done.stdout) for done in runs)


_WORST = {
    "as many notes as may be": lambda: _measure(b"<note/>"),
    "as many chords as may be": lambda: _measure(
        b"<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>"
    ),
    "2 MB of chords in one line of text": lambda: b"C " * 999_000,
    "a PDF of 40 crowded pages": lambda: pages(*[lambda canvas: draw_song(canvas, SONG * 10)] * 40),
}
"""The costliest files that we know of, read or refused."""


_SUNG = (
    *(
        "the",
        "lantern",
        "river",
        "stone",
        "evening",
        "hollow",
        "summer",
        "never",
        "silver",
        "water",
    ),
    *(
        "over",
        "under",
        "home",
        "again",
        "letter",
        "harbour",
        "winter",
        "garden",
        "broken",
        "golden",
    ),
)
_PLAYED = ("C", "G", "Am", "F", "Dm", "Em", "G7", "D7", "C/E", "Bb", "F#m7", "Gsus4")


def _songs() -> Iterator[str]:
    """Songs without end, whose lines and rows all differ."""
    chance = random.Random(7)
    while True:
        song = ""
        for name in ("Verse 1", "Chorus", "Verse 2", "Bridge"):
            song += f"{name}\n"
            for _ in range(4):
                row = "".join(chance.choice(_PLAYED).ljust(chance.randint(8, 12)) for _ in "123")
                song += f"{row.rstrip()}\n{' '.join(chance.choices(_SUNG, k=7)).capitalize()}\n"
            song += "\n"
        yield song


def _book(parts: Iterator[str], size: int) -> str:
    """So many parts, one after another, as have a size."""
    book = "Big Song\n"
    while len(book) < size:
        book += f"\n{next(parts)}"
    return book


_HOSTILE: tuple[Callable[[int], str], ...] = (
    lambda size: "C " * (size // 4) + "\n" + "a" * (size // 2),
    lambda size: "-" * size,
    lambda size: "Verse" + " " * size + "x",
    lambda size: "(" * size,
    lambda size: "C " + "(" * size,
    lambda size: "[" * size,
    lambda size: "&" * size,
    lambda size: "<b " * (size // 3),
    lambda size: "C=20 " * (size // 5),
    lambda size: "320003 " * (size // 7),
    lambda size: "low (C) [G]" * (size // 11),
)
"""Texts in which a search could run on."""


def _try(text: str) -> None:
    with suppress(Refused):
        read_sheet(text, chord_or_none, Findings())


def _measure(element: bytes) -> bytes:
    """A score of one measure that is full of one element, as large as may be."""
    head = (
        b'<score-partwise><part-list><score-part id="P1"><part-name>Voice</part-name></score-part>'
        b'</part-list><part id="P1"><measure number="1">'
    )
    each = element.count(b"<") - element.count(b"</")
    count = min((LARGEST_SCORE_BYTES - 300) // len(element), (MOST_ELEMENTS - 30) // each)
    return head + element * count + b"</measure></part></score-partwise>"


def _peak_row(name: str, data: bytes) -> tuple[str, float, str]:
    """The largest memory of a process that reads a file, or refuses it, which the row then says;
    the interpreter included."""
    code = (
        "import sys\n"
        "from chartkit.interchange.read_lead_sheet import read_lead_sheet\n"
        "from chartkit.interchange.intake_result import Refused\n"
        "from chartkit.syntax.symbol import chord_or_none\n"
        "said = ''\n"
        "try: read_lead_sheet(open(sys.argv[1], 'rb').read(), chord_or_none)\n"
        "except Refused: said = ' (refused)'\n"
        "status = open('/proc/self/status').read()\n"
        "print(int(status.split('VmHWM:')[1].split()[0]) / 1024, said)"
    )
    with tempfile.NamedTemporaryFile() as file:
        file.write(data)
        file.flush()
        call = [sys.executable, "-c", code, file.name]
        done = subprocess.run(call, check=True, capture_output=True, text=True)
    peak, _, said = done.stdout.strip().partition(" ")
    return f"intake: memory, {name}{said}, MB", float(peak), "≤ 400"


def intake_rows() -> list[tuple[str, float, str]]:
    """The figures, each with what is wanted.  Garbage is looked for as the program does."""
    before = gc.get_threshold()
    gc.set_threshold(*COLLECTOR)
    try:
        return _rows()
    finally:
        gc.set_threshold(*before)


def _rows() -> list[tuple[str, float, str]]:
    sheet = long_lead_sheet()
    ours = _least(lambda: read_musicxml(sheet, chord_or_none))
    safe = _least(lambda: fromstring(sheet))
    bare = _least(lambda: ElementTree.fromstring(sheet))
    dense = score(400)
    crowded = _least(lambda: read_musicxml(dense, chord_or_none))
    spoken = spoken_score(340)
    talked = _least(lambda: read_musicxml(spoken, chord_or_none))

    def text_seconds(size: int) -> float:
        text = "".join(_VERSE.format(n=n) for n in range(size // len(_VERSE) + 1))[:size]
        return _least(lambda: read_sheet(text, chord_or_none, Findings()), 3)

    def book_seconds(parts: Iterator[str]) -> float:
        """A book that is read for the first time, when nothing of it is kept."""
        book = _book(parts, 1_000_000)
        _try(_VERSE)
        start = time.process_time()
        read_sheet(book, chord_or_none, Findings())
        return time.process_time() - start

    def hostile_seconds(size: int) -> float:
        return max(_least(lambda made=made: _try(made(size)), 1) for made in _HOSTILE)  # type: ignore[misc]

    million = text_seconds(1_000_000)
    return [
        (f"intake: {len(sheet) // 1000} kB of MusicXML / its safe XML parse", ours / safe, "≤ 3"),
        ("intake: the same / a parse in C without checks", ours / bare, ""),
        (
            f"intake: {len(dense) // 1000} kB without layout, chords in every bar / its safe parse",
            crowded / _least(lambda: fromstring(dense)),
            "≤ 3",
        ),
        (
            f"intake: {len(spoken) // 1000} kB with words to the players in every bar / its parse",
            talked / _least(lambda: fromstring(spoken)),
            "≤ 3",
        ),
        ("intake: importing the reader of scores, ms of processor time", _imports(), "≤ 30"),
        ("intake: 1 MB of text, s", million, "≤ 2"),
        ("intake: growth, 1 MB / 500 kB of text", million / text_seconds(500_000), "≤ 2.1"),
        ("intake: 1 MB of songs whose lines all differ, s", book_seconds(_songs()), "≤ 2"),
        (
            "intake: 1 MB of typed sheets, one after another, s",
            book_seconds(one.text for one in sheets("fresh_*")),
            "≤ 2",
        ),
        (
            "intake: 300 kB of one hostile line, the slowest, s",
            hostile_seconds(300_000),
            "≤ 2",
        ),
        *(_peak_row(name, made()) for name, made in _WORST.items()),
    ]
