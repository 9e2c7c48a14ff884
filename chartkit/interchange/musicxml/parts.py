"""Chooses the parts of a score for a chart: the one that is sung, the one with chords."""

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple
from xml.etree.ElementTree import Element

from chartkit.chart.marks import Mark
from chartkit.interchange.intake_result import Findings, Refused, SymbolReader
from chartkit.interchange.musicxml.xml import text_of
from chartkit.interchange.score.events import (
    NO_EDGE,
    Edge,
    Measure,
    Part,
    PlayerInstruction,
    StruckChord,
)
from chartkit.interchange.score.typed_chords import is_bare_letter, types_chords
from chartkit.interchange.wording import cue_text, one_line

_MOST_NAMED = 12

_FEWEST_TYPED = 2
"""The fewest chord symbols typed as words that make a part one of chords (ours)."""
_MOST_PARTS = 1000
"""Ours; an orchestra has fewer."""
_MOST_MEASURES = 20_000
"""Ours; more is not a score, and would take long to read."""


class RawPart(NamedTuple):
    """A part as it stands in the XML: its names and its measures."""

    id: str
    name: str
    measures: tuple[Element, ...]

    def called(self, wanted: str) -> bool:
        """Whether a name the user gave is this part's name or id, case aside."""
        return wanted.strip().casefold() in (self.name.casefold(), self.id.casefold())


def raw_parts(root: Element) -> tuple[RawPart, ...]:
    """The parts of a score, measures under parts or parts under measures.

    Raises Refused when there is none.
    """
    names = _part_names(root)
    if root.tag == "score-timewise":
        parts = _from_measures(root)
    else:
        parts = [(e.get("id", ""), tuple(e.iterfind("measure"))) for e in root.iterfind("part")]
    listed = tuple(
        RawPart(part_id, names.get(part_id, "") or part_id or f"part {i}", measures)
        for i, (part_id, measures) in enumerate(parts, 1)
    )
    if len(listed) > _MOST_PARTS:
        raise Refused(f"the score has more than {_MOST_PARTS:,} parts; an orchestra has fewer")
    if not any(part.measures for part in listed):
        raise Refused("the score has no measures")
    if max(len(part.measures) for part in listed) > _MOST_MEASURES:
        raise Refused(f"a part has more than {_MOST_MEASURES:,} measures; an opera has fewer")
    return tuple(part for part in listed if part.measures)


def _part_names(root: Element) -> dict[str, str]:
    names = {}
    for part in root.iterfind("part-list/score-part"):
        shown = part.find("part-name-display")
        name = "" if shown is None else one_line(" ".join(shown.itertext()))
        names[part.get("id", "")] = name or one_line(text_of(part, "part-name"))
    return names


def _from_measures(root: Element) -> list[tuple[str, tuple[Element, ...]]]:
    """Parts out of a score written measure by measure."""
    by_part: dict[str, list[Element]] = {}
    for measure in root.iterfind("measure"):
        for part in measure.iterfind("part"):
            for name, value in measure.items():
                part.set(name, value)
            by_part.setdefault(part.get("id", ""), []).append(part)
    return [(part_id, tuple(measures)) for part_id, measures in by_part.items()]


def attributes_in(parts: Sequence[RawPart]) -> list[Element]:
    """Every element of attributes in the measures of some parts."""
    measures = (measure for part in parts for measure in part.measures)
    return [one for measure in measures for one in measure.findall("attributes")]


def has_element(part: RawPart, tag: str) -> bool:
    """Whether an element of a name stands somewhere in a part."""
    return any(next(measure.iter(tag), None) is not None for measure in part.measures)


def _shows_chords(part: RawPart) -> bool:
    """Whether a part has a chord symbol that is printed."""
    return any(
        one.get("print-object") != "no"
        for measure in part.measures
        for one in measure.iter("harmony")
    )


def _types_chords(part: RawPart, read_symbol: SymbolReader) -> bool:
    """Whether words of a part are chord symbols: one that is more than a letter, and another."""
    words = (one for measure in part.measures for one in measure.iter("words"))
    texts = [cue_text(one.text or "") for one in words]
    symbols = [text for text in texts if types_chords(text, read_symbol)]
    letters = sum(is_bare_letter(text) for text in texts) if symbols else 0
    return len(symbols) + letters >= _FEWEST_TYPED


def wanted_parts(
    parts: tuple[RawPart, ...], name: str | None, read_symbol: SymbolReader, findings: Findings
) -> tuple[RawPart, RawPart]:
    """The part whose words and form are taken, and the one whose chords are, be they symbols or,
    where none is printed, typed as words.

    Without a name: the first that has both, unless another has far more words or lines of them,
    else the first that is sung and the first that has chords, else the first.  Raises Refused when
    no part has the name.
    """
    sung = [part for part in parts if has_element(part, "lyric")]
    chorded = [part for part in parts if _shows_chords(part)]
    chorded = chorded or [part for part in parts if _types_chords(part, read_symbol)]
    chorded = chorded or [part for part in parts if has_element(part, "harmony")]
    both = [part for part in sung if part in chorded]
    if name is not None:
        main = _by_name(parts, name)
    else:
        main = _with_most_words(both, sung) or next(iter(both or sung or chorded), parts[0])
    chords = main if main in chorded or not chorded else chorded[0]
    _tell_choice(parts, main, chords, findings)
    return main, chords


_FAR_MORE = 1.6
"""How many times the words of another part are so many that it is the one with the song (ours)."""


def _with_most_words(both: list[RawPart], sung: list[RawPart]) -> RawPart | None:
    """The part with the most words, where the first that has chords too has far fewer, or fewer
    lines of them."""
    if not both or len(sung) == 1:
        return None
    numbers = [
        [one.get("number") for measure in part.measures for one in measure.iter("lyric")]
        for part in sung
    ]
    most = max(range(len(sung)), key=lambda at: len(numbers[at]))
    first = numbers[sung.index(both[0])]
    more_lines = len(set(numbers[most])) > len(set(first))
    far_more = len(numbers[most]) > _FAR_MORE * len(first)
    return sung[most] if far_more or more_lines else None


def _by_name(parts: tuple[RawPart, ...], name: str) -> RawPart:
    match = next((part for part in parts if part.called(name)), None)
    if match is None:
        named = ", ".join(f'"{part.name}"' for part in parts[:_MOST_NAMED])
        more = f" and {len(parts) - _MOST_NAMED} more" if len(parts) > _MOST_NAMED else ""
        raise Refused(f'there is no part "{one_line(name)[:60]}"; the parts are {named}{more}')
    return match


def _tell_choice(
    parts: tuple[RawPart, ...], main: RawPart, chords: RawPart, findings: Findings
) -> None:
    if len(parts) > 1:
        findings.sure("part", f'the part "{main.name}" is taken, one of {len(parts)}')
    if chords is not main:
        findings.guess("chords-of-part", f'the chords are those of the part "{chords.name}"')


_BEHIND = re.compile(
    r"\b(?:back(?:ing|ground|up)?|b\.?g?\.?v(?:ox|s)?\.?|harmony|harmonies|echo|descant)\b",
    re.IGNORECASE,
)
"""Names of parts that sing behind another; common practice, no source."""


def other_singers(parts: Sequence[RawPart], main: RawPart) -> list[tuple[RawPart, bool]]:
    """The other parts that are sung, each with whether it is one of a singer who has words in some
    measure in which the part whose words are taken has none."""
    others = [part for part in parts if part is not main and has_element(part, "lyric")]
    sung = [_is_sung(measure) for measure in main.measures] if others else []
    return [(part, _BEHIND.search(part.name) is None and _sings_in(part, sung)) for part in others]


def _sings_in(part: RawPart, sung: Sequence[bool]) -> bool:
    """Whether a part has words in some measure that is not ``sung``."""
    pairs = zip(part.measures, sung, strict=False)
    return any(not there and _is_sung(one) for one, there in pairs)


def _is_sung(measure: Element) -> bool:
    return next(measure.iter("lyric"), None) is not None


def merged_measures(main: Part, chords: Part, top: Part) -> tuple[Measure, ...]:
    """The measures of the main part with the chords of another, and with what scores often
    say in their top part only: sections, marks, tempo.  Words to the players come from all three.
    """
    measures = main.measures
    if chords is not main:
        measures = _with(measures, chords.measures, _take_chords)
    if top is not main:
        measures = _with(measures, top.measures, _take_form)
    return measures


def _with(
    measures: tuple[Measure, ...],
    others: tuple[Measure, ...],
    take: Callable[[Measure, Measure], Measure],
) -> tuple[Measure, ...]:
    paired = [take(one, other) for one, other in zip(measures, others, strict=False)]
    rest = [take(Measure(other.number, other.length), other) for other in others[len(measures) :]]
    return (*paired, *measures[len(others) :], *rest)


def _take_chords(one: Measure, other: Measure) -> Measure:
    return one._replace(
        struck=(*other.struck, *_silences(one, other)) if one.struck else other.struck,
        section=_name_of_both(one.section, other.section),
        marks=_marks_of_both(one, other),
        length=max(one.length, other.length),
        slashes=other.slashes,
        capo=other.capo if other.capo is not None else one.capo,
        simile=one.simile or other.simile,
        rests=other.rests,
        left=_both_edges(one.left, other.left),
        right=_both_edges(one.right, other.right),
        instructions=_said(one, other),
    )


def _silences(one: Measure, other: Measure) -> list[StruckChord]:
    """Each N.C. that is typed over a measure whose chords another part has, where that has none;
    "tacet" is said to who sings."""
    there = {struck.onset for struck in other.struck}
    there |= {said.onset for said in one.instructions if "tacet" in said.text.casefold()}
    return [struck for struck in one.struck if not (struck.chord or struck.onset in there)]


def parts_with_other_chords(
    parts: tuple[RawPart, ...], chords: RawPart, read_symbol: SymbolReader
) -> Iterator[RawPart]:
    """The parts that have chord symbols in some measure which the part whose chords are taken has
    not, or type them as words: a piano may have those of the bars in which nobody sings.  So do
    parts that have those at places which stand one after another over a long note."""
    others = [part for part in parts if part is not chords]
    known = [_symbols_in(measure) for measure in chords.measures] if others else []
    stacked = [_stacks_symbols(measure) for measure in chords.measures] if others else []
    for part in others:
        found = map(_symbols_in, part.measures)
        if any(
            not symbols <= there or (stacks and len(symbols) > 1)
            for symbols, there, stacks in zip(found, known, stacked, strict=False)
        ) or _types_chords(part, read_symbol):
            yield part


def _stacks_symbols(measure: Element) -> bool:
    """Whether chord symbols stand one after another before one note."""
    return any(one.tag == two.tag == "harmony" for one, two in pairwise(measure))


def _symbols_in(measure: Element) -> set[tuple[str, ...]]:
    """The chord symbols of a measure as they are written."""
    return {tuple(child.itertext()) for child in measure if child.tag == "harmony"}


def _take_form(one: Measure, other: Measure) -> Measure:
    return one._replace(
        section=_name_of_both(one.section, other.section),
        marks=_marks_of_both(one, other),
        tempo=one.tempo if one.tempo is not None else other.tempo,
        heard=one.heard or other.heard,
        capo=one.capo if one.capo is not None else other.capo,
        feel=one.feel or other.feel,
        left=_both_edges(one.left, other.left),
        right=_both_edges(one.right, other.right),
        instructions=_said(one, other),
    )


def _name_of_both(one: str, other: str) -> str:
    """The name of a section by two parts: a letter over one may stand beside words over another."""
    known = one.casefold().split()
    if not one or not other or all(word in known for word in other.casefold().split()):
        return one or other
    return other if one.casefold() in other.casefold().split() else f"{other} {one}"


def _marks_of_both(one: Measure, other: Measure) -> tuple[Mark, ...]:
    """The marks of a measure in two parts, each kind as the first part has it."""
    kinds = {mark.kind for mark in one.marks}
    return (*one.marks, *(mark for mark in other.marks if mark.kind not in kinds))


def _both_edges(one: Edge, other: Edge) -> Edge:
    """What the bar lines of two parts say at one place."""
    if other == NO_EDGE or one == other:
        return one
    return Edge(
        one.repeat or other.repeat,
        max(one.times, other.times),
        one.endings or other.endings,
        one.double or other.double,
        one.closes or other.closes,
    )


def _said(one: Measure, other: Measure) -> tuple[PlayerInstruction, ...]:
    """The words of two parts, each text once in a measure."""
    texts = {said.text for said in one.instructions}
    more = tuple(said for said in other.instructions if said.text not in texts)
    return (
        tuple(sorted((*one.instructions, *more), key=lambda said: said.onset))
        if more
        else one.instructions
    )
