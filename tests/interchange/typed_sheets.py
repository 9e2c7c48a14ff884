"""Sheets as people type them, each with the chart that a musician would make of it.

``typed/*.txt`` hold sheets between ``@@@ name`` and ``@@>``, and behind that the chart in few
words: settings, ``[Section xN]``, rows of music in the chart language, ``:`` words, ``!`` cues;
``[Name]=`` is an earlier section again, words and all, ``[Name]=Other`` has the music of another.
``REFUSED`` stands for a sheet that holds no music.  All songs are invented.
"""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

from chartkit.chart.model import Chart, CueRow, MusicRow, Section, WordsRow
from chartkit.chart.playing_order import playing_order
from chartkit.diagnostics import Source
from chartkit.interchange.intake_result import IntakeResult, Refused
from chartkit.syntax.reader import read_chart
from tests.interchange.reading import taken, taken_once

FOLDER = Path(__file__).parent / "typed"
ROW, WORDS = "C        G        Am      F\n", "Every gate is open on the lane\n"
STANZA = (ROW + WORDS) * 2
"""A small stanza, chords over words."""
MILL_POND = """Mill Pond

Verse
G             C
Under the mill the water turns

Chorus
C             G
Turn around and turn again

"""
"""A small song with its names in full."""
_SETTINGS = ("title", "writer", "key", "capo", "meter", "tempo")
MOST_KEPT = 16_384
"""More than all sheets: of fewer, none would be kept from one test of all to the next."""
_UNCHECKED = "-"
_HEADING = re.compile(r"\[(?P<name>.*?)(?: x(?P<times>\d+))?\](?:(?P<again>=)(?P<like>.*))?")
_REMARK = re.compile(r"\s*\(([^()]*)\)\s*")


@dataclass(frozen=True)
class TypedSheet:
    """A sheet and what must come of it."""

    name: str
    text: str
    expected: str


@dataclass
class Part:
    """A section in few words: ``music`` as tokens, ``words`` as letters alone."""

    name: str
    times: int = 1
    music: list[str] = field(default_factory=list)
    played: list[str] = field(default_factory=list)
    """The bars as they are played, without bar lines, where there are any."""
    words: str = ""
    cues: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        times = f" x{self.times}" if self.times > 1 else ""
        return f"[{self.name}{times}] {' '.join(self.music)} : {self.words} ! {self.cues}"


@lru_cache(maxsize=16)
def sheets(pattern: str = "*") -> list[TypedSheet]:
    """Every sheet of the files whose names match."""
    return [one for path in sorted(FOLDER.glob(f"{pattern}.txt")) for one in read_sheets(path)]


def read_sheets(path: Path) -> list[TypedSheet]:
    """The sheets of one file."""
    typed = []
    for piece in path.read_text().split("@@@ ")[1:]:
        head, expected = piece.split("@@>\n")
        name, text = head.split("\n", 1)
        typed.append(TypedSheet(name, text, expected))
    return typed


@lru_cache(maxsize=MOST_KEPT)  # several tests ask for the same sheets
def differences(sheet: TypedSheet) -> list[str]:
    """In what the chart of a sheet differs from the one a musician would make."""
    try:
        result = taken_once(sheet.text)
    except Refused as reason:
        return [] if sheet.expected.strip() == "REFUSED" else [f"refused: {reason}"]
    if sheet.expected.strip() == "REFUSED":
        return ["should be refused"]
    settings, parts = expected_parts(sheet.expected)
    return [
        *_settings_apart(result, settings),
        *_parts_apart(parts_of(result.chart), parts),
        *places_apart(sheet.text, result.chart),
    ]


def _settings_apart(result: IntakeResult, settings: dict[str, str]) -> list[str]:
    apart = []
    for name in _SETTINGS:
        wanted, got = settings.get(name, ""), result.chart.text(name)  # type: ignore[arg-type]
        if name == "key":
            wanted, got = wanted.replace(" major", ""), got.replace(" major", "")
            got = re.sub(r" minor$", "m", got)
        if wanted != _UNCHECKED and wanted != got and not (name == "meter" and not wanted):
            apart.append(f"{name}: {got!r}, not {wanted!r}")
    return apart


def _parts_apart(got: list[Part], wanted: list[Part]) -> list[str]:
    apart = []
    for at in range(max(len(got), len(wanted))):
        ours = got[at] if at < len(got) else None
        theirs = wanted[at] if at < len(wanted) else None
        if ours is None or theirs is None or not _alike(ours, theirs):
            apart.append(f"{ours}\n     not {theirs}")
    return apart


def _alike(ours: Part, theirs: Part) -> bool:
    """Whether two sections are the same to a musician: repeats and endings may be written out, and
    so may "x2" of a section without words, with bars or without."""
    said = " ".join(map(plain_letters, ours.cues))
    return (
        _name(ours) == _name(theirs)
        and ours.words == theirs.words
        and (
            (ours.times, ours.music) == (theirs.times, theirs.music)
            or ours.played * ours.times == theirs.played * theirs.times != []
            or (not ours.words and _written_out(ours) == _written_out(theirs) != [])
        )
        and all(plain_letters(cue) in said for cue in theirs.cues)
    )


def _written_out(part: Part) -> list[str]:
    """The music of a section in free time as often as it is played; none where it has bars."""
    return [] if part.played else part.music * part.times


def _name(part: Part) -> str:
    """A section's name as letters; a number alone is a verse's."""
    letters = plain_letters(part.name)
    return f"verse{letters}" if letters.isdecimal() else letters


@lru_cache(maxsize=MOST_KEPT)  # a sheet is typed in many ways
def expected_parts(text: str) -> tuple[dict[str, str], list[Part]]:
    """The settings and the sections of an expected chart."""
    settings: dict[str, str] = {}
    parts: list[Part] = []
    rows: list[str] = []

    def close() -> None:
        if rows:
            read = _read(rows, settings.get("meter", "4/4"))
            parts[-1].music, parts[-1].played = read.music, read.played
        rows.clear()

    for line in text.splitlines():
        if (heading := _HEADING.fullmatch(line)) is not None:
            close()
            parts.append(_part(heading, parts))
        elif not parts and ": " in line:
            name, _, value = line.partition(": ")
            settings[name] = value
        elif line.startswith(": "):
            parts[-1].words += plain_letters(line)
        elif line.startswith("! "):
            parts[-1].cues.append(line[2:])
        elif line.strip():
            rows.append(line)
    close()
    return settings, parts


def _part(heading: re.Match[str], parts: list[Part]) -> Part:
    """A section, with what it has of an earlier one."""
    times = int(heading["times"] or 1)
    like = plain_letters(heading["like"] or heading["name"])
    earlier = next((one for one in reversed(parts) if plain_letters(one.name) == like), None)
    part = Part(heading["name"], times)
    if heading["again"] and earlier is not None:
        part.music, part.played = list(earlier.music), list(earlier.played)
        part.words = "" if heading["like"] else earlier.words
    assert earlier is not None or not heading["again"], heading[0]
    return part


def _read(rows: list[str], meter: str) -> Part:
    """The music of rows in the chart language."""
    reading = read_chart(Source(f"meter: {meter}\n== One\n" + "\n".join(rows) + "\n"))
    return parts_of(reading.chart)[0]


def parts_of(chart: Chart) -> list[Part]:
    """The sections of a chart in few words, each with the music and words it shares."""
    parts: list[Part] = []
    for at, section in enumerate(chart.sections):
        remark = _REMARK.search(section.name)
        part = Part(_REMARK.sub(" ", section.name).strip(), section.times)
        part.cues += [remark[1]] if remark else []
        own = _own(section)
        shared = section.same_as or ("" if own.music or own.words else section.name)
        named = [i for i in range(at) if chart.sections[i].name.casefold() == shared.casefold()]
        like = parts[named[-1]] if shared and named else None
        part.music = own.music or (list(like.music) if like else [])
        part.played = own.played or (list(like.played) if like else [])
        part.words = own.words or (like.words if like and not section.same_as else "")
        part.cues += own.cues
        parts.append(part)
    return parts


def _own(section: Section) -> Part:
    """What stands under a section's own heading."""
    part = Part("", played=_played(section))
    for row in section.rows:
        if isinstance(row, MusicRow):
            part.music += _tokens(row)
            part.cues += [cue.text for bar in row.bars for cue in bar.cues]
        elif isinstance(row, CueRow):
            part.cues.append(row.text)
        elif isinstance(row, WordsRow):
            part.words += plain_letters(" ".join(one.text for cell in row.cells for one in cell))
    return part


def _played(section: Section) -> list[str]:
    """The bars of a section once through, repeats and endings unrolled; none in free time."""
    rows = [row for row in section.rows if isinstance(row, MusicRow)]
    if not rows or not all(row.lines for row in rows):
        return []
    alone = replace(section, times=1, same_as="", rows=tuple(rows))
    return [
        " ".join(_struck(str(strike.chord or "N.C."), strike.onset) for strike in bar.strikes)
        for bar in playing_order(Chart((), (alone,))).bars
    ]


def _tokens(row: MusicRow) -> list[str]:
    """A row of music as tokens: chords, and bar lines where it has any."""
    tokens = []
    for at, bar in enumerate(row.bars):
        line = row.lines[at] if row.lines else None
        if line is not None and (line.kind.startswith("repeat") or line.endings):
            tokens.append(f"{line.kind}{line.endings or ''}{getattr(line, 'times', '')}")
        tokens += ["|"] * bool(row.lines) + ["%"] * bar.simile + ["rest"] * bool(bar.rest)
        tokens += [_struck(str(strike.chord or "N.C."), strike.onset) for strike in bar.strikes]
    if row.lines and row.lines[-1].kind.startswith("repeat"):
        tokens.append(f"{row.lines[-1].kind}{getattr(row.lines[-1], 'times', '')}")
    return tokens


def _struck(chord: str, onset: int) -> str:
    return f"{chord}@{onset}" if onset else chord


def plain_letters(text: str) -> str:
    """The letters and figures of a text, without case."""
    plain = unicodedata.normalize("NFC", text).casefold()
    return "".join(c for c in plain if c.isalnum())


# ---- where the words stand
_LISTED, _FEW = 0.5, 2
_CHORD = re.compile(r"\(?[A-Ha-h][#b♯♭]?[^\s|]*")


def places_apart(text: str, chart: Chart) -> list[str]:
    """Chords over another word than in the sheet, by the columns of its lines.

    Only plain pairs are compared: a row of as many chords as the chart has there, and the line of
    words right under it, without tails of its own.  A chord over the first two letters of a word
    is the word's, one over its last letter may be the next one's.
    """
    lines = [line.expandtabs(8) for line in text.split("\n")]
    apart = []
    for section in chart.sections:
        for music, words in pairwise(section.rows):
            if isinstance(music, MusicRow) and isinstance(words, WordsRow) and music.free:
                apart += _pair_apart(lines, music, words)
    return apart


def _pair_apart(lines: Sequence[str], music: MusicRow, words: WordsRow) -> list[str]:
    above, under = music.span.start, words.span.start
    if not (0 < above < under <= len(lines)) or any(map(str.strip, lines[above : under - 1])):
        return []
    chords, sung = lines[above - 1], lines[under - 1]
    columns = [match.start() for match in re.finditer(r"\S+", chords)]
    plain = all(_CHORD.fullmatch(token) for token in chords.split())
    segments = [segment for cell in words.cells for segment in cell]
    same = plain_letters(sung) == plain_letters("".join(segment.text for segment in segments))
    listed = "  " not in chords.strip() and len(chords.strip()) < _LISTED * len(sung.strip())
    if listed and len(columns) > _FEW:
        return []  # chords one blank apart over long words name no places
    if not plain or not same or len(columns) != len(segments) - 1 or "_" in sung:
        return []
    apart = []
    at = len(plain_letters(segments[0].text))
    for before, column, segment in zip([-1, *columns], columns, segments[1:], strict=False):
        if at not in _allowed(sung, column, before):
            apart.append(f"{chords!r} over {sung!r}: the chord in column {column + 1}")
        at += len(plain_letters(segment.text))
    return apart


def _allowed(sung: str, column: int, before: int) -> set[int]:
    """Before how many letters of a line a chord in a column may be struck; ``before`` is the
    column of the chord before, which may have the word already."""
    words = [*re.finditer(r"\S+", sung)]
    at = next((i for i, word in enumerate(words) if word.end() > column), len(words))
    starts = [len(plain_letters(sung[: word.start()])) for word in words] + [
        len(plain_letters(sung))
    ]
    allowed = {starts[at]}
    if at < len(words) and column - words[at].start() > 1:
        allowed |= set(range(starts[at], starts[at + 1]))
    if at < len(words) and (column >= words[at].end() - 1 or before >= words[at].start()):
        allowed.add(starts[at + 1])
    return allowed


def silent(sheet: TypedSheet) -> list[str]:
    """The sections that differ from the expected ones without a guess or anything left out at
    their lines or at the line before."""
    try:
        result = taken_once(sheet.text)
    except Refused:
        return []
    _, wanted = expected_parts(sheet.expected)
    got = parts_of(result.chart)
    lines = {one.line for one in result.findings if one.certainty != "sure" and one.line}
    starts = [section.span.start for section in result.chart.sections] + [10_000]
    quiet = []
    for at, (ours, theirs) in enumerate(zip(got, wanted, strict=False)):
        within = range(max(1, starts[at] - 1), starts[at + 1] + 1)
        if not _alike(ours, theirs) and not lines & {*within}:
            quiet.append(f"{ours}\n     not {theirs}")
    return quiet


def report(
    pattern: str = "sheets_*", half: int | None = None, verbose: bool = False
) -> tuple[int, int]:
    """How many sheets are wholly right, of how many; ``half`` 0 is tuned on, 1 kept apart."""
    every = [one for at, one in enumerate(sheets(pattern)) if half is None or at % 2 == half]
    right = 0
    for sheet in every:
        apart = differences(sheet)
        right += not apart
        if apart and verbose:
            print(f"--- {sheet.name}")
            for one in apart:
                print("  ", one)
    return right, len(every)


def names_of_parts(text: str) -> list[str]:
    """The sections that a text becomes, each with how often it is played where that is more than
    once: "Chorus x2"."""
    return [
        f"{part.name} x{part.times}" if part.times > 1 else part.name
        for part in parts_of(taken(text).chart)
    ]


if __name__ == "__main__":
    import sys

    print(report(half=0, verbose="-v" in sys.argv), report(half=1), report("more_*", verbose=True))
