"""What of a made-up song must be in its chart, and what differs."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from chartkit.chart.model import Chart, Meter, MusicRow, SettingRow, WordsRow
from chartkit.interchange.intake_result import IntakeResult
from chartkit.syntax.write import chart_text
from chartkit.theory.key import Key
from tests.interchange.made_scores.song import Bar, Note, Q, Song, full
from tests.interchange.made_scores.style import Style
from tests.interchange.made_scores.symbols import tones_of
from tests.interchange.made_scores.write_score import RIGHTS
from tests.interchange.reading import reads_back
from tests.interchange.score_judge import (
    Bars,
    Struck,
    charted,
    compare_bars,
    compare_chords,
    row_faults,
)

_NEAR = Q(1, 8)


def expected_bars(song: Song) -> list[Bars]:
    """The bars of a song as a chart has them."""
    wanted = []
    for i, bar in enumerate(song.bars):
        one = Bars(str(i), bar.meter, bar.length, pickup=bar.pickup)
        one.chords = [
            Struck(c.at, None if c.symbol is None else tones_of(c.symbol)) for c in bar.chords
        ]
        one.starts, one.ends, one.times = bar.starts, bar.ends, bar.times
        one.endings, one.marks = bar.endings, set(bar.marks)
        wanted.append(one)
    return wanted


def faults(song: Song, style: Style, result: IntakeResult) -> Iterator[str]:
    """What differs between a song and the chart that was read, each fault after its class."""
    chart = result.chart
    want, have = expected_bars(song), charted(chart)
    lead = bool(want[0].pickup) and not (have and have[0].pickup)
    shift = int(lead)
    yield from compare_bars(want[shift:], have)
    yield from compare_chords(want[shift:], have)
    for one, other in zip(want[shift:], have, strict=False):
        if one.ends and one.times != other.times and one.times:
            yield f"times: {one.times} at bar {one.label}, {other.times} written"
    yield from _words(song, chart, shift)
    yield from _rows(song.bars[shift:], chart)
    yield from _upbeats(song.bars, chart, shift)
    yield from _head(song, style, chart)
    yield from _form(song, chart)
    yield from _told(song, style, result)
    try:
        reads_back(chart)
    except AssertionError as reason:
        yield f"check: {str(reason).splitlines()[0][:120]}"


# ---- words


@dataclass
class _Sung:
    """The letters of a verse, each with its bar and the times between which it is sung; ``words``
    are its words."""

    letters: list[tuple[str, int, Fraction, Fraction]] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    open: bool = False

    def add(self, text: str, goes_on: bool, bar: int, start: Fraction, end: Fraction) -> None:
        """Adds what is sung at a place; a word ``goes_on`` behind it."""
        self.letters += [(letter, bar, start, end) for letter in text if letter.isalnum()]
        pieces = text.split()
        if pieces and self.open and self.words:
            self.words[-1] += pieces.pop(0)
        self.words += pieces
        self.open = goes_on if text.strip() else self.open


def _wanted_words(song: Song, shift: int) -> dict[int, _Sung]:
    sung: dict[int, _Sung] = {verse: _Sung() for verse in song.verses}
    for i, bar in enumerate(song.bars):
        for note in bar.notes:
            for verse, one in note.sung.items():
                text = f"{one.text} {one.second}" if one.second else one.text
                sung[verse].add(text, one.goes_on, i - shift, note.at, note.at)
    return sung


def _written_words(chart: Chart) -> dict[int, _Sung]:
    """The words of each verse; those before a row belong to the bar before it."""
    sung: dict[int, _Sung] = {}
    first = 0
    spans: list[tuple[int, list[Fraction]]] = []
    meter, total = chart.meter, 0
    for row in (row for section in chart.sections for row in section.rows):
        if isinstance(row, SettingRow) and isinstance(row.value, Meter):
            meter = row.value
        elif isinstance(row, MusicRow):
            first, spans = total, []
            for bar in row.bars:
                meter = bar.meter or meter
                beat = meter.beat * 4 / 12
                starts = sorted({s.onset * beat for s in bar.strikes} | {Q(0)})
                end = max(full((meter.count, meter.unit)), bar.length * beat / bar.lasts)
                early = {s.onset * beat for s in bar.strikes if s.pushed}
                starts = [at - beat * 6 if at in early else at for at in starts]
                spans.append((total, [*starts, end]))
                total += bar.lasts
        elif isinstance(row, WordsRow) and spans:
            _add_row(sung.setdefault(row.verse or 1, _Sung()), row, first, spans)
    return sung


def _add_row(
    sung: _Sung, row: WordsRow, first: int, spans: list[tuple[int, list[Fraction]]]
) -> None:
    cells = row.cells
    if len(cells) > len(spans):
        for one in cells[0]:
            sung.add(one.text, one.split, first - 1, Q(0), Q(99))
        cells = cells[1:]
    for (bar, starts), cell in zip(spans, cells, strict=False):
        for k, one in enumerate(cell):
            end = starts[k + 1] if k + 1 < len(cell) and k + 1 < len(starts) else Q(99)
            start = starts[k] if k < len(starts) else Q(0)
            sung.add(one.text, one.split, bar, start, end)


def _words(song: Song, chart: Chart, shift: int) -> Iterator[str]:
    want, have = _wanted_words(song, shift), _written_words(chart)
    if sorted(want) != sorted(have):
        yield f"verses: {sorted(want)} wanted, {sorted(have)} written"
    for verse, one in want.items():
        other = have.get(verse, _Sung())
        mine, theirs = ("".join(x[0] for x in s.letters) for s in (one, other))
        if mine != theirs:
            at = next((k for k, (x, y) in enumerate(zip(mine, theirs)) if x != y), 0)  # noqa: B905
            at = max(0, at - 8)
            yield f"words: verse {verse}: ...{mine[at : at + 24]} | ...{theirs[at : at + 24]}"
            continue
        moved = [
            (x, y)
            for x, y in zip(one.letters, other.letters, strict=True)
            if not _there(x, y, song)
        ]
        if moved:
            x, y = moved[0]
            yield (
                f"words moved: verse {verse}: {x[0]!r} of bar {x[1]} at {x[2]} written in bar "
                f"{y[1]} from {y[2]} to {y[3]}, {len(moved)} letters"
            )
        differ = [(x, y) for x, y in zip(one.words, other.words, strict=False) if x != y]
        if differ or len(one.words) != len(other.words):
            yield f"word bounds: verse {verse}: {differ[:2]}"


def _there(
    want: tuple[str, int, Fraction, Fraction], have: tuple[str, int, Fraction, Fraction], song: Song
) -> bool:
    """Whether a letter stands under the chord with which it is sung."""
    _, bar, at, _ = want
    _, written, start, end = have
    if written == bar:
        return start - _NEAR <= at < end + _NEAR
    return written == bar + 1 and start < 0 and at >= full(song.meter) - Q(1, 2)


# ---- rows, head, form


def _rows(bars: list[Bar], chart: Chart) -> Iterator[str]:
    at = 0
    for row in (row for section in chart.sections for row in section.rows):
        if not isinstance(row, MusicRow):
            continue
        if at < len(bars):
            first = bars[at]
            if not (first.phrase or first.opens or first.middle):
                yield f"row begins in a phrase: bar {at}"
        at += sum(bar.lasts for bar in row.bars)
    yield from (f"row: {fault}" for fault in row_faults(chart))


def _upbeats(bars: list[Bar], chart: Chart, shift: int) -> Iterator[str]:
    """Upbeats that stand at the end of the row before their phrase, though the song begins with one
    or a rest or a sign is before them, and no chord is struck with them or after them."""
    at, row_at = shift, -1
    for row in (row for section in chart.sections for row in section.rows):
        if isinstance(row, MusicRow):
            row_at, lined, count = at, bool(row.lines), len(row.bars)
            pickup = bool(row.bars and row.bars[0].pickup)
            at += sum(bar.lasts for bar in row.bars)
        elif isinstance(row, WordsRow) and 0 < row_at < len(bars) and lined and not pickup:
            before = bars[row_at - 1]
            verse = row.verse or 1
            led = [note for note in before.notes if note.upbeat and verse in note.sung]
            goes_on = any(verse in note.sung or note.holds for note in bars[row_at].notes)
            if not (led and goes_on and bars[row_at].phrase) or before.ends:
                continue
            if any(chord.at >= led[0].at for chord in before.chords):
                continue
            if not (bars[0].pickup or _shows(bars, row_at - 1, led[0], verse)):
                continue
            cell = row.cells[0] if len(row.cells) > count else ()
            want = _plain("".join(note.sung[verse].text + note.sung[verse].second for note in led))
            if want not in _plain("".join(one.text for one in cell)):
                yield f"upbeat: {want!r} is not before bar {row_at - shift}"


def _shows(bars: list[Bar], at: int, led: Note, verse: int) -> bool:
    """Whether a rest or a sign is before an upbeat."""
    earlier = [note for bar in bars[max(0, at - 1) : at] for note in bar.notes]
    earlier += [note for note in bars[at].notes if note.at < led.at]
    said = next((note.sung[verse].text for note in reversed(earlier) if verse in note.sung), "a")
    return not said[-1].isalnum() or (bool(earlier) and earlier[-1].step is None)


def _head(song: Song, style: Style, chart: Chart) -> Iterator[str]:
    if chart.text("title") != song.title:
        yield f"title: {chart.text('title')!r}"
    writers = ", ".join(dict.fromkeys((song.composer, song.lyricist)))
    if chart.text("writer") != writers:
        yield f"writer: {chart.text('writer')!r}"
    tempo = chart.setting("tempo")
    if style.metronome != "none" and tempo != song.tempo:
        yield f"tempo: {song.tempo} wanted, {tempo} written"
    rows = [row for section in chart.sections for row in section.rows]
    tempos = [r.value for r in rows if isinstance(r, SettingRow) and r.name == "tempo"]
    new = [bar.tempo for bar in song.bars if bar.tempo]
    if style.metronome != "none" and tempos != new:
        yield f"tempo: {new} wanted later, {tempos} written"
    yield from _keys(song, style, chart)
    meter = chart.meter
    bars = song.bars
    metered = [bar.meter for bar in bars if not bar.pickup]
    changes = [one for k, one in enumerate(metered) if not k or one != metered[k - 1]]
    written = [(meter.count, meter.unit), *_later_meters(chart)]
    if written != changes:
        yield f"meter: {changes} wanted, {written} written"


def _later_meters(chart: Chart) -> Iterator[tuple[int, int]]:
    last = chart.meter
    for row in (row for section in chart.sections for row in section.rows):
        rows = [row.value] if isinstance(row, SettingRow) and isinstance(row.value, Meter) else []
        if isinstance(row, MusicRow):
            rows = [bar.meter for bar in row.bars if bar.meter]
        for meter in rows:
            if meter != last:
                yield meter.count, meter.unit
            last = meter


def _keys(song: Song, style: Style, chart: Chart) -> Iterator[str]:
    """The keys in order; without the tonic at the end a key whose mode nobody says may be
    either."""
    changes = [song.fifths, *(bar.key for bar in song.bars if bar.key is not None)]
    rows = [row for section in chart.sections for row in section.rows]
    later = [r.value for r in rows if isinstance(r, SettingRow) and isinstance(r.value, Key)]
    keys = [chart.key, *later]
    mode = "minor" if song.minor else "major"
    known = song.home or (style.mode == "right")
    have = [(key.signature, key.mode if known else mode) if key else None for key in keys]
    want = [(fifths, mode) for fifths in changes]
    if have != want:
        yield f"key: {want} wanted, {have} written"


def _form(song: Song, chart: Chart) -> Iterator[str]:
    names = [bar.section for bar in song.bars if bar.section]
    written = [section.name for section in chart.sections if section.name]
    if any("coda" in bar.marks for bar in song.bars):
        names, written = ([n for n in one if n.casefold() != "coda"] for one in (names, written))
    if [_plain(n) for n in names] != [_plain(n) for n in written]:
        yield f"sections: {names} wanted, {written} written"
    rows = [row for section in chart.sections for row in section.rows if isinstance(row, MusicRow)]
    marks = [mark for row in rows for bar in row.bars for mark in bar.marks]
    until = [(mark.kind, mark.until) for mark in marks if mark.until]
    every = {mark for bar in song.bars for mark in bar.marks}
    end = "coda" if "to-coda" in every else "fine" if "fine" in every else ""
    jumps = [(m, b.until or end) for b in song.bars for m in b.marks if m in ("D.C.", "D.S.")]
    wanted = [jump for jump in jumps if jump[1]]
    if until != wanted:
        yield f"jump: {wanted} wanted, {until} written"
    fermatas = sum(mark.kind == "fermata" for mark in marks)
    if fermatas != sum(bar.fermata is not None for bar in song.bars):
        yield f"fermata: {fermatas} written"


def _told(song: Song, style: Style, result: IntakeResult) -> Iterator[str]:
    """What is neither in the chart nor in the findings."""
    messages = " ".join(f"{one.message} {one.source}" for one in result.findings)
    kept = _plain(f"{chart_text(result.chart)} {messages}")
    said = [text for bar in song.bars for _, text in bar.said]
    said += [song.feel] if song.feel else []
    said += [RIGHTS] if style.rights else []
    said += ["mf"] if style.noise and len(song.bars) > 1 else []
    for text in said:
        if _plain(text) not in kept:
            yield f"lost: {text!r}"


def _plain(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter.isalnum())
