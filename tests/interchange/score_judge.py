"""An independent judge of what is read from a score.

It reads MusicXML with lxml and code of its own, works out where each chord and each syllable
stands, and compares that with the chart: chords as pitch classes at their place in the bar,
syllables in order and in their bar, repeats, endings, jumps, the count of bars.  It shares no
code with the reader it judges.

Sources: the MusicXML 4.0 schema for kinds and degrees (the tones of each kind are typed in here
again, from the schema's text); the rules for bars are those of common practice, no source: a
measure cut in two by a bar line is one bar, a first measure that is too short is a pick-up.

    python -m tests.interchange.score_judge FOLDER_OR_FILE...
"""

import re
import sys
import zipfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from io import BytesIO
from itertools import pairwise
from pathlib import Path

from lxml import etree

from chartkit.chart.model import TICKS_PER_BEAT, Bar, Chart, Meter, MusicRow, SettingRow, WordsRow

Q = Fraction
STEP = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
KINDS = {
    "major": "0 4 7",
    "minor": "0 3 7",
    "augmented": "0 4 8",
    "diminished": "0 3 6",
    "dominant": "0 4 7 10",
    "major-seventh": "0 4 7 11",
    "minor-seventh": "0 3 7 10",
    "diminished-seventh": "0 3 6 9",
    "augmented-seventh": "0 4 8 10",
    "half-diminished": "0 3 6 10",
    "major-minor": "0 3 7 11",
    "major-sixth": "0 4 7 9",
    "minor-sixth": "0 3 7 9",
    "dominant-ninth": "0 4 7 10 2",
    "major-ninth": "0 4 7 11 2",
    "minor-ninth": "0 3 7 10 2",
    "dominant-11th": "0 4 7 10 2 5",
    "major-11th": "0 4 7 11 2 5",
    "minor-11th": "0 3 7 10 2 5",
    "dominant-13th": "0 4 7 10 2 5 9",
    "major-13th": "0 4 7 11 2 5 9",
    "minor-13th": "0 3 7 10 2 5 9",
    "suspended-second": "0 2 7",
    "suspended-fourth": "0 5 7",
    "power": "0 7",
}
DEGREE = {1: 0, 2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 10, 8: 0, 9: 2, 10: 4, 11: 5, 12: 7, 13: 9}
"""Degrees of a dominant chord in half steps; the schema measures added degrees against it."""
TYPED_KINDS = {
    "": "major",
    **dict.fromkeys(("m", "mi", "min", "-"), "minor"),
    "7": "dominant",
    **dict.fromkeys(("maj7", "Maj7", "M7", "Δ7", "Δ"), "major-seventh"),
    **dict.fromkeys(("m7", "mi7", "min7", "-7"), "minor-seventh"),
    **dict.fromkeys(("m7b5", "m7(b5)", "ø", "ø7"), "half-diminished"),
    **dict.fromkeys(("dim7", "°7", "o7"), "diminished-seventh"),
    **dict.fromkeys(("dim", "°"), "diminished"),
    **dict.fromkeys(("aug", "+"), "augmented"),
    **dict.fromkeys(("sus4", "sus"), "suspended-fourth"),
    "sus2": "suspended-second",
    "6": "major-sixth",
    "m6": "minor-sixth",
    "9": "dominant-ninth",
    "m9": "minor-ninth",
    "maj9": "major-ninth",
}
"""How people type the kinds of plain chords; common practice, no source."""
TYPED = re.compile(r"([A-G])([b#♭♯]?)([^/\s]*)(?:/([A-G])([b#♭♯]?))?")
"""Words that may be a chord symbol and nothing else."""
ALTERED = {"": 0, "b": -1, "♭": -1, "#": 1, "♯": 1}

Chord = tuple[frozenset[int], int] | None
"""Pitch classes and the bass; None for N.C."""


@dataclass(eq=False)
class Struck:
    """A chord at its place in quarter notes; ``loose`` where a symbol's text may add tones, and
    ``typed`` the words that it is."""

    at: Fraction
    chord: Chord
    loose: bool = False
    spread: bool = False
    half: Fraction = Q(0)
    again: bool = False
    opens: bool = False
    typed: str = ""


@dataclass(eq=False)
class Bars:
    """A bar as the judge expects it, or as the chart has it."""

    label: str
    meter: tuple[int, int]
    length: Fraction
    chords: list[Struck] = field(default_factory=list)
    sung: dict[str, list[tuple[Fraction, str]]] = field(default_factory=dict)
    starts: bool = False
    ends: bool = False
    times: int = 0
    endings: tuple[int, ...] = ()
    marks: set[str] = field(default_factory=set)
    pickup: bool = False


# ---- the score, read anew


def document(data: bytes) -> etree._Element:
    """The root of a score, also out of an archive: the first score in it."""
    if data[:2] == b"PK":
        with zipfile.ZipFile(BytesIO(data)) as archive:
            names = [n for n in archive.namelist() if not n.startswith(("META-INF", "__"))]
            scores = [n for n in names if n.lower().endswith((".xml", ".musicxml"))]
            data = archive.read(scores[0])
    parser = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False)
    root = etree.fromstring(data, parser)
    for element in root.iter(etree.Element):
        element.tag = etree.QName(element).localname
    return root


def _int(text: str | None, default: int = 0) -> int:
    try:
        return round(float(text or ""))
    except ValueError:
        return default


def _chord(parts: list[etree._Element], shift: int) -> Chord | str:
    by = {e.tag: e for e in parts}
    kind = (by["kind"].text or "").strip() if "kind" in by else ""
    if kind == "none":
        return None
    root = by.get("root")
    step = "" if root is None else (root.findtext("root-step") or "").strip()
    if step not in STEP or kind not in KINDS:
        return "?"
    low = STEP[step] + _int(root.findtext("root-alter")) + shift  # type: ignore[union-attr]
    tones = {int(n) for n in KINDS[kind].split()}
    for degree in sorted(
        (e for e in parts if e.tag == "degree"),
        key=lambda e: {"subtract": 0, "alter": 1}.get(e.findtext("degree-type") or "", 2),
    ):
        number, alter = _int(degree.findtext("degree-value")), _int(degree.findtext("degree-alter"))
        if number not in DEGREE:
            return "?"
        own = {t for t in tones if _number(t) == (number - 1) % 7}
        if degree.findtext("degree-type") == "subtract":
            tones -= own
        elif degree.findtext("degree-type") == "alter":
            base = min(own) if own else DEGREE[number]
            tones = (tones - own) | {(base + alter) % 12}
        else:
            tones.add((DEGREE[number] + alter) % 12)
    bass = by.get("bass")
    over = low
    if bass is not None and (bass.findtext("bass-step") or "").strip() in STEP:
        over = STEP[(bass.findtext("bass-step") or "").strip()]
        over += _int(bass.findtext("bass-alter")) + shift
    elif 0 < (inversion := _int(by["inversion"].text) if "inversion" in by else 0) < len(tones):
        over = low + sorted(tones, key=_number)[inversion]
    return frozenset((low + t) % 12 for t in tones) | {over % 12}, over % 12


def _typed(said: str, shift: int) -> Chord | str:
    """The chord that words are, "?" for one of a kind unknown here, nothing for other words."""
    match = TYPED.fullmatch(said)
    if match is None or not (match[3] in TYPED_KINDS or re.search(r"\d", match[3])):
        return ""
    if match[3] not in TYPED_KINDS:
        return "?"
    low = STEP[match[1]] + ALTERED[match[2]] + shift
    over = STEP[match[4]] + ALTERED[match[5]] + shift if match[4] else low
    tones = {(low + int(tone)) % 12 for tone in KINDS[TYPED_KINDS[match[3]]].split()}
    return frozenset(tones) | {over % 12}, over % 12


def _number(tone: int) -> int:
    """The degree, 0 to 6, that a tone of a kind is."""
    return {0: 0, 2: 1, 3: 2, 4: 2, 5: 3, 6: 4, 7: 4, 8: 4, 9: 5, 10: 6, 11: 6, 1: 1}[tone]


@dataclass
class Reader:
    """Walks through one part."""

    quarter: int = 1
    shift: int = 0
    meter: tuple[int, int] | None = None

    def measure(self, element: etree._Element, words: bool) -> tuple[Bars, dict[str, object]]:
        """A measure: what stands in it, and what is known of its form."""
        now, longest = Q(0), Q(0)
        bar = Bars(element.get("number") or "", (0, 0), Q(0))
        facts: dict[str, object] = {"implicit": element.get("implicit") == "yes"}
        pending: list[Struck] = []
        last = Q(0)
        for child in element:
            length = Q(_int(child.findtext("duration")), self.quarter)
            if child.tag == "attributes":
                self._attributes(child, facts)
            elif child.tag == "harmony":
                if child.get("print-object") == "no":
                    continue
                offset = child.find("offset")
                at = now + (Q(_int(offset.text), self.quarter) if offset is not None else 0)
                kind = child.find("kind")
                loose = kind is not None and bool(kind.get("text"))
                struck = Struck(at, _chord(list(child), self.shift), loose)  # type: ignore[arg-type]
                bar.chords.append(struck)
                if offset is None:
                    pending.append(struck)
            elif child.tag == "note":
                if child.find("grace") is not None:
                    length = Q(0)
                if child.find("chord") is None:
                    if child.find("grace") is None:
                        _spread(pending, length)
                        pending = []
                    last, now = now, now + length
                if words:
                    _lyrics(child, last, bar)
            elif child.tag in ("backup", "forward"):
                _spread(pending, length if child.tag == "forward" else Q(0))
                pending = []
                now += -length if child.tag == "backup" else length
            elif child.tag == "barline":
                _barline(child, bar, facts)
            elif child.tag == "direction":
                _direction(child, now, bar, facts, self.quarter)
                self._typed_chords(child, now, bar)
            longest = max(longest, now)
        bar.length = longest
        _spread(
            pending, (longest or Q(4 * self.meter[0], self.meter[1])) - now if self.meter else Q(0)
        )
        said: dict[object, Struck] = {}
        for struck in bar.chords:
            key = struck if struck.spread else (struck.at, struck.chord)
            if not struck.again:
                said.setdefault(key, struck)
        bar.chords = list(said.values())
        if self.meter:
            bar.meter = self.meter
        return bar, facts

    def _typed_chords(self, element: etree._Element, now: Fraction, bar: Bars) -> None:
        """Adds chords that are typed as words."""
        offset = element.find("offset")
        at = now + (Q(_int(offset.text), self.quarter) if offset is not None else 0)
        for words in element.iterfind("direction-type/words"):
            said = (words.text or "").strip()
            if chord := _typed(said, self.shift):
                bar.chords.append(Struck(at, chord, typed=said))  # type: ignore[arg-type]

    def _attributes(self, element: etree._Element, facts: dict[str, object]) -> None:
        self.quarter = _int(element.findtext("divisions"), self.quarter) or 1
        if element.find("transpose") is not None:
            self.shift = _int(element.findtext("transpose/chromatic"))
        beats, unit = element.findtext("time/beats"), element.findtext("time/beat-type")
        if beats and unit and _int(unit):
            self.meter = sum(int(n) for n in re.findall(r"\d+", beats)), _int(unit)
            facts["meter"] = self.meter
        if element.find("time/senza-misura") is not None:
            facts["free"] = True
        for style in element.iterfind("measure-style"):
            if style.find("measure-repeat") is not None:
                facts["simile"] = True


def _spread(pending: list[Struck], length: Fraction) -> None:
    """Chords at one place before one note share its length; where is worked out later."""
    same = [s for i, s in enumerate(pending) if s.at == pending[0].at and not _again(pending, i)]
    for struck in pending:
        struck.again = struck not in same and struck.at == pending[0].at
    if len(same) > 1:
        for i, struck in enumerate(same):
            struck.spread = True
            struck.half = length * i / len(same)
            struck.at = struck.at + Q(0)
        same[0].spread = False
        for struck in same[1:]:
            struck.half = length


def _again(pending: list[Struck], i: int) -> bool:
    """Whether a chord says what the one before it says, or what a first staff has said."""
    half = len(pending) // 2
    chords = [s.chord for s in pending]
    twice = len(pending) % 2 == 0 and chords[:half] == chords[half:]
    return (i > 0 and chords[i] == chords[i - 1]) or (twice and i >= half)


def _lyrics(note: etree._Element, at: Fraction, bar: Bars) -> None:
    for lyric in note.iterfind("lyric"):
        text = "".join(
            " " if e.tag == "elision" else (e.text or "")
            for e in lyric
            if e.tag in ("text", "elision")
        )
        if text.strip():
            number = lyric.get("number") or lyric.get("name") or "1"
            bar.sung.setdefault(number, []).append((at, text))


def _barline(element: etree._Element, bar: Bars, facts: dict[str, object]) -> None:
    repeat, ending = element.find("repeat"), element.find("ending")
    if repeat is not None and repeat.get("direction") == "forward":
        if element.get("location", "right") == "right":
            facts["starts next"] = True
        else:
            bar.starts = True
    if repeat is not None and repeat.get("direction") == "backward":
        if element.get("location") == "left":
            facts["ends before"] = True
        else:
            bar.ends, bar.times = True, _int(repeat.get("times"))
    if ending is not None and ending.get("type") == "start":
        bar.endings = _numbers(ending)
    style = element.findtext("bar-style") or ""
    if style in ("light-light", "light-heavy") and element.get("location", "right") == "right":
        facts["double"] = True


def _numbers(ending: etree._Element) -> tuple[int, ...]:
    """The times of an ending, by its number or else its text."""
    for said in (ending.get("number"), ending.text):
        if numbers := tuple(int(n) for n in re.findall(r"\d", said or "")):
            return numbers
    return (1,)


_JUMPS = (
    (r"d\.?\s*c\.?(?:\s*al.*)?|da\s*capo.*", "D.C."),
    (r"d\.?\s*s\.?(?:\s*al.*)?|dal\s*segno.*", "D.S."),
    (r"(?:\d\s?x\s+)?fine\.?", "fine"),
    (r"to\s*coda.*", "to-coda"),
)


def _direction(
    element: etree._Element, at: Fraction, bar: Bars, facts: dict[str, object], quarter: int
) -> None:
    for kind in element.iterfind("direction-type"):
        for child in kind:
            if child.tag in ("segno", "coda"):
                bar.marks.add(child.tag)
            if child.tag == "rehearsal":
                facts["section"] = True
            if child.tag == "words":
                said = " ".join((child.text or "").split())
                for pattern, name in _JUMPS:
                    if re.fullmatch(pattern, said, re.IGNORECASE):
                        bar.marks.add(name)
                if re.fullmatch(r"n\.?\s?c\.?|tacet|no chord", said, re.IGNORECASE):
                    bar.chords.append(Struck(at, None))
                facts.setdefault("words", []).append((at, said))  # type: ignore[union-attr,attr-defined]


def expected(root: etree._Element) -> list[Bars]:
    """The bars of a score as a musician would count them."""
    if root.tag == "score-timewise":
        ids = list(dict.fromkeys(p.get("id") for p in root.iter("part")))
        parts = [
            [p for m in root.iterfind("measure") for p in m.iterfind("part") if p.get("id") == i]
            for i in ids
        ]
    else:
        parts = [list(p.iterfind("measure")) for p in root.iterfind("part")]
    parts = [p for p in parts if p]
    sung = [p for p in parts if any(m.find(".//lyric") is not None for m in p)]
    chorded = [p for p in parts if any(m.find("harmony") is not None for m in p)]
    both = [p for p in sung if any(p is c for c in chorded)]
    main = (both or sung or chorded or parts)[0]
    source = main if any(main is c for c in chorded) or not chorded else chorded[0]
    reader, other = Reader(), Reader()
    measures = [reader.measure(m, True) for m in main]
    if source is not main:
        for (bar, _), m in zip(measures, source, strict=False):
            bar.chords = other.measure(m, False)[0].chords
    for part in chorded:
        if part is not source:
            _take_more([bar for bar, _ in measures], part)
    _without_letters([bar for bar, _ in measures])
    _without_meter(measures)
    return _joined(measures)


def _without_letters(bars: list[Bars]) -> None:
    """Drops letters alone that are typed where no other chord is: they may mean anything."""
    if not any(len(s.typed) > 1 for bar in bars for s in bar.chords):
        for bar in bars:
            bar.chords = [s for s in bar.chords if len(s.typed) != 1]


def _take_more(bars: list[Bars], part: list[etree._Element]) -> None:
    """Adds the chords of a further part where none stands and another chord is sounding; none at
    all of a part that has another chord at the place of one."""
    reader = Reader()
    others = [reader.measure(m, False)[0] for m in part]
    for bar, other in zip(bars, others, strict=False):
        mine = {s.at: s.chord for s in bar.chords if not s.spread}
        if any(mine.get(s.at, s.chord) != s.chord for s in other.chords if not s.spread):
            return
    sounding: object = "nothing"
    for bar, other in zip(bars, others, strict=False):
        places = {s.at for s in bar.chords}
        more = [s for s in other.chords if s.at not in places]
        kept: list[Struck] = []
        for struck in sorted([*bar.chords, *more], key=lambda s: s.at):
            if struck.at in places or struck.chord != sounding:
                kept.append(struck)
            sounding = struck.chord
        bar.chords = kept


def _without_meter(measures: list[tuple[Bars, dict[str, object]]]) -> None:
    if all(bar.meter == (0, 0) for bar, _ in measures):
        common = Counter(bar.length for bar, _ in measures[1:] or measures).most_common(1)[0][0]
        for bar, _ in measures:
            bar.meter = (int(common), 4) if common.denominator == 1 else (int(common * 2), 8)
    given = next((bar.meter for bar, _ in measures if bar.meter != (0, 0)), (4, 4))
    for bar, _ in measures:
        if bar.meter == (0, 0):
            bar.meter = given


def _full(bar: Bars) -> Fraction:
    return Q(4 * bar.meter[0], bar.meter[1])


def _joined(measures: list[tuple[Bars, dict[str, object]]]) -> list[Bars]:
    joined: list[Bars] = []
    for (one, before_next), (two, facts) in pairwise(measures):
        one.ends = one.ends or bool(facts.get("ends before"))
        two.starts = two.starts or bool(before_next.get("starts next"))
    for bar, facts in measures:
        full = _full(bar)
        if not bar.length or facts.get("simile"):
            bar.length = full
        before = joined[-1] if joined else None
        if before is not None and not before.pickup and before.length < _full(before):
            fits = before.length + bar.length == _full(before) and before.meter == bar.meter
            apart = before.ends or bar.starts or bar.endings or "meter" in facts
            if fits and not (apart and bar.chords):
                for struck in bar.chords:
                    before.chords.append(
                        Struck(
                            struck.at + before.length,
                            struck.chord,
                            struck.loose,
                            struck.spread,
                            struck.half,
                        )
                    )
                for verse, sung in bar.sung.items():
                    mine = before.sung.setdefault(verse, [])
                    mine += [(at + before.length, text) for at, text in sung]
                before.length = _full(before)
                before.marks |= bar.marks
                before.ends |= bar.ends
                before.starts |= False
                if bar.starts and apart:
                    facts["carried"] = True
                continue
        if not joined and bar.length < full and len(measures) > 1 and not bar.starts:
            bar.pickup = True
        joined.append(bar)
    return joined


# ---- the chart, laid flat


def charted(chart: Chart) -> list[Bars]:
    """The bars of a chart one by one."""
    bars_written: list[Bars] = []
    meter = chart.meter
    carry: Bars | None = None
    for section in chart.sections:
        music: list[Bars] = []
        row_bars: list[tuple[Bars, list[Fraction]]] = []
        for row in section.rows:
            if isinstance(row, SettingRow) and isinstance(row.value, Meter):
                meter = row.value
            elif isinstance(row, MusicRow):
                row_bars = []
                for i, bar in enumerate(row.bars):
                    meter = bar.meter or meter
                    flat = _flat(bar, meter, row.free)
                    if row.lines:
                        before, after = row.lines[i], row.lines[i + 1]
                        flat[0].starts = before.kind in ("repeat-start", "repeat-both")
                        flat[0].endings = before.endings
                        flat[-1].ends = after.kind in ("repeat-end", "repeat-both")
                        flat[-1].times = after.times
                        if i == 0 and before.kind in ("repeat-end", "repeat-both") and bars_written:
                            bars_written[-1].ends = True
                    for struck in flat[0].chords[: not i]:
                        struck.opens = not struck.at and not struck.half
                    starts = [s.at for s in flat[0].chords]
                    if not starts or starts[0] > 0:
                        starts = [Q(0), *starts]
                    row_bars.append((flat[0], starts))
                    music += flat
                    bars_written += flat
            elif isinstance(row, WordsRow):
                verse = str(row.verse or 1)
                cells = row.cells
                if not row_bars:
                    continue
                first = bars_written.index(row_bars[0][0]) if row_bars else 0
                pickup_cell = len(cells) > len(row_bars) or (
                    not row_bars[0][0].pickup and len(cells) >= 1
                )
                if pickup_cell:
                    text = " ".join(s.text for s in cells[0] if s.text)
                    if text:
                        to = bars_written[first - 1] if first else (carry or row_bars[0][0])
                        key = "before" if not first else verse
                        if first:
                            to.sung.setdefault(verse, []).append((to.length, text))
                        else:
                            to.sung.setdefault(verse, []).insert(0, (Q(-1), text))
                        del key
                    cells = cells[1:]
                for (flat_bar, at), cell in zip(row_bars, cells, strict=False):
                    for start, segment in zip(at, cell, strict=False):
                        if segment.text:
                            flat_bar.sung.setdefault(verse, []).append((start, segment.text))
    return bars_written


def _flat(bar: Bar, meter: Meter, free: bool) -> list[Bars]:
    beat = Q(4 * (3 if meter.compound else 1), meter.unit)
    length = Q(bar.length, TICKS_PER_BEAT) * beat / bar.lasts
    flat = Bars("", (meter.count, meter.unit), length, pickup=bar.pickup)
    for i, strike in enumerate(bar.strikes):
        at = Q(i) if free else Q(strike.onset, TICKS_PER_BEAT) * beat
        chord = strike.chord
        tones: Chord = None
        if chord is not None:
            bass = _pitch_class(chord.root if chord.bass is None else chord.bass)
            tones = frozenset(chord.pitch_classes) | {bass}, bass
        flat.chords.append(Struck(at, tones, half=beat if strike.pushed else Q(0)))
    flat.marks = {mark.kind for mark in bar.marks}
    more = [Bars("", flat.meter, length) for _ in range(bar.lasts - 1)]
    return [flat, *more]


def _pitch_class(fifths: int) -> int:
    return 7 * fifths % 12


# ---- the comparison


def faults(data: bytes, chart: Chart) -> Iterator[str]:
    """What differs between a score and its chart, each fault after its class."""
    want, have = expected(document(data)), charted(chart)
    lead: dict[str, list[tuple[Fraction, str]]] = {}
    if want and want[0].pickup and not want[0].chords:
        lead = want[0].sung
        if not (have and have[0].pickup):
            want = want[1:]
    if not any(bar.chords for bar in want):
        for bar in have:
            bar.chords = []
    yield from compare_bars(want, have)
    yield from compare_chords(want, have)
    yield from _compare_words(want, have, lead)


def compare_bars(want: list[Bars], have: list[Bars]) -> Iterator[str]:
    """What differs in the count of bars, repeats, endings and marks."""
    if len(want) != len(have):
        yield f"bars: {len(want)} wanted, {len(have)} written"
    for i, (one, other) in enumerate(zip(want, have, strict=False)):
        if one.starts and not other.starts and i:
            yield f"repeat: no start at bar {one.label}"
        if one.ends != other.ends:
            yield f"repeat: end at bar {one.label}: {one.ends} wanted"
        if one.endings != other.endings:
            yield f"ending: {one.endings} at bar {one.label}, {other.endings} written"
    for name in ("segno", "coda", "to-coda", "fine", "D.C.", "D.S."):
        count = sum(name in bar.marks for bar in want), sum(name in bar.marks for bar in have)
        if count[1] < count[0] and not (name == "coda" and any("to-coda" in b.marks for b in have)):
            yield f"mark: {name} {count[0]} times, {count[1]} written"


def compare_chords(want: list[Bars], have: list[Bars]) -> Iterator[str]:
    """What differs in the chords: their count, the first wrong one, and their places."""
    starts = {i for i, bar in enumerate(want) for s in bar.chords if s.at < Q(1, 8)}
    placed = _silent_once(
        _named_once([(i, s) for i, bar in enumerate(have) for s in bar.chords], starts)
    )
    asked = _silent_once([(i, s) for i, bar in enumerate(want) for s in _unspread(bar)])
    for chords in (placed, asked):  # what is silent before the first chord is no chord
        while chords and chords[0][1].chord is None:
            chords.pop(0)
    if not asked:
        return
    if len(placed) != len(asked):
        yield f"chords: {len(asked)} wanted, {len(placed)} written"
    for (i, one), (k, other) in zip(asked, placed, strict=False):
        if one.chord == "?":
            continue
        if not _same(one, other):
            yield f"chord: bar {want[i].label}: {_name(one.chord)} wanted, {_name(other.chord)}"
            return
        start, beat = _time(want, i) + one.at, other.half
        written = _time(have, k) + other.at
        near = abs(start - written) < Q(1, 8) or (beat and written - beat < start < written)
        same_bar = (i == k and abs(one.at - other.at) < Q(1, 8)) or (
            beat and k - i in (0, 1) and near
        )
        if not same_bar:
            yield (
                f"place: bar {want[i].label} (bar {i}) at {one.at}: written in bar {k} at "
                f"{other.at}{' pushed' if beat else ''}"
            )


def _named_once(chords: list[tuple[int, Struck]], starts: set[int]) -> list[tuple[int, Struck]]:
    """The chords without those that a row names again at its beginning; ``starts`` are the bars
    at whose start the score has a chord."""
    return [
        one
        for before, one in pairwise([(0, None), *chords])
        if before[1] is None
        or not one[1].opens
        or one[0] in starts
        or before[1].chord != one[1].chord
    ]


def _silent_once(chords: list[tuple[int, Struck]]) -> list[tuple[int, Struck]]:
    """The chords without an N.C. that a bar begins with after N.C.: nothing changes there."""
    return [
        one
        for before, one in pairwise([(0, None), *chords])
        if before[1] is None or one[1].at or one[1].chord or before[1].chord
    ]


def _time(bars: list[Bars], index: int) -> Fraction:
    return Q(index) * 1000 if index >= len(bars) else sum((b.length for b in bars[:index]), Q(0))


def _same(one: Struck, other: Struck) -> bool:
    if one.chord is None or other.chord is None:
        return one.chord == other.chord
    same_bass = one.chord[1] == other.chord[1]
    if one.loose:
        return same_bass and bool(one.chord[0] & other.chord[0])
    return one.chord == other.chord


def _name(chord: Chord) -> str:
    return "N.C." if chord is None else f"{sorted(chord[0])} over {chord[1]}"


def _unspread(bar: Bars) -> list[Struck]:
    """The chords of a bar in order, those over one note on the beats of its length."""
    beat = Q(12, bar.meter[1]) if _compound(bar.meter) else Q(4, bar.meter[1])
    unspread: list[Struck] = []
    groups: list[list[Struck]] = []
    for struck in sorted(bar.chords, key=lambda s: s.at):
        if struck.spread and groups and groups[-1][0].at == struck.at:
            groups[-1].append(struck)
        else:
            groups.append([struck])
    for group in groups:
        if len(group) == 1:
            unspread.append(group[0])
            continue
        length = group[-1].half
        for struck, at in zip(group, _shares(group[0].at, length, beat, len(group)), strict=True):
            unspread.append(Struck(at, struck.chord, struck.loose))
    return unspread


def _compound(meter: tuple[int, int]) -> bool:
    return meter[1] >= 8 and meter[0] % 3 == 0 and meter[0] > 3


def _shares(start: Fraction, length: Fraction, beat: Fraction, count: int) -> list[Fraction]:
    """Where chords begin that share a note: on its beats, the first of them longer."""
    beats = length / beat
    if beats.denominator != 1 or beats < count:
        while beats.denominator != 1 or beats < count:
            beat, beats = beat / 2, beats * 2
            if beat < Q(1, 64):
                return [start + length * i / count for i in range(count)]
    whole, over = divmod(int(beats), count)
    at, places = start, []
    for i in range(count):
        places.append(at)
        at += beat * (whole + (i < over))
    return places


def _compare_words(
    want: list[Bars], have: list[Bars], lead: dict[str, list[tuple[Fraction, str]]]
) -> Iterator[str]:
    verses = sorted({v for bar in want for v in bar.sung} | set(lead))
    mine = sorted({v for bar in have for v in bar.sung}, key=lambda v: (len(v), v))
    for verse, other in zip(verses, mine, strict=False):
        asked = [(-1, text) for _, text in lead.get(verse, ())]
        asked += [(i, text) for i, bar in enumerate(want) for _, text in bar.sung.get(verse, ())]
        written = [
            (i if at >= 0 else -1, text)
            for i, bar in enumerate(have)
            for at, text in bar.sung.get(other, ())
        ]
        one = [(i, letter) for i, text in asked for letter in _letters(text)]
        two = [(i, letter) for i, text in written for letter in _letters(text)]
        a, b = "".join(x[1] for x in one), "".join(x[1] for x in two)
        moved = [(x[0], y[0]) for x, y in zip(one, two, strict=False) if x[0] != y[0]]
        if a != b:
            pairs = enumerate(zip(a, b, strict=False))
            at = max(0, next((i for i, (x, y) in pairs if x != y), min(len(a), len(b))) - 8)
            yield f"words: verse {verse}: ...{a[at : at + 20]} | ...{b[at : at + 20]}"
        elif moved:
            yield f"words moved: verse {verse}: bar {moved[0][0]} to {moved[0][1]}, {len(moved)}"
    if len(verses) != len(mine):
        yield f"verses: {verses} wanted, {mine} written"


def _letters(text: str) -> str:
    plain = re.sub(r"^\s*[(\[]?\d{1,2}\s*[.):\]]+\s*", "", text)
    return "".join(c for c in plain if c.isalnum())


# ---- over many files


def main(paths: list[str]) -> None:
    """Prints the faults of every score among some files and folders, and how many have none."""
    from tests.interchange.reading import reads_back, taken

    files = [f for p in map(Path, paths) for f in (sorted(p.rglob("*")) if p.is_dir() else [p])]
    files = [f for f in files if f.suffix in (".xml", ".mxl", ".musicxml")]
    classes: Counter[str] = Counter()
    right = refused = 0
    for file in files:
        data = file.read_bytes()
        try:
            chart = taken(data).chart
        except Exception as reason:
            refused += 1
            print(f"{file.name}: refused: {type(reason).__name__} {str(reason)[:100]}")
            continue
        wrong = list(faults(data, chart))
        wrong += [f"row: {fault}" for fault in row_faults(chart)]
        try:
            reads_back(chart)
        except AssertionError as reason:
            wrong.append(f"refused by check: {str(reason).splitlines()[0][:120]}")
        right += not wrong
        for kind in {w.partition(":")[0] for w in wrong}:
            classes[kind] += 1
        for fault in wrong[:4]:
            print(f"{file.name}: {fault}")
    print(f"{len(files)} files, {refused} refused, {right} wholly right; {dict(classes)}")


def row_faults(chart: Chart) -> Iterator[str]:
    """Rows that a musician would not write: one that begins with a repeat sign of a bar or bare
    slashes, or one bar alone in the middle of a section."""
    bars = [
        bar for s in chart.sections for r in s.rows if isinstance(r, MusicRow) for bar in r.bars
    ]
    if not any(strike.chord for bar in bars for strike in bar.strikes):
        return
    for section in chart.sections:
        rows = [row for row in section.rows if isinstance(row, MusicRow) and row.lines]
        for i, row in enumerate(rows):
            first = row.bars[0]
            before = rows[i - 1].lines[-1].kind if i else "single"
            if "repeat" in before or "repeat" in row.lines[0].kind or before == "double":
                continue
            if first.simile and i:
                yield "begins with %"
            elif not first.strikes and not first.rest and not first.simile and i:
                yield "begins with slashes"
            if len(row.bars) == 1 and 0 < i < len(rows) - 1:
                yield "one bar in mid-song"


if __name__ == "__main__":
    main(sys.argv[1:])
