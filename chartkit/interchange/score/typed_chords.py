"""Chord symbols that a score types as words to the players.

Words are chords where the reader of symbols reads all of them and they are more than a letter, or
where letters stand among such.  Letters in the order of the alphabet, each at the start of a
measure, name parts of the song.  Common practice, no source.
"""

import re
from collections.abc import Sequence
from typing import NamedTuple

from chartkit.interchange.score.events import Measure, Said, Struck
from chartkit.interchange.taken import Findings, SymbolReader
from chartkit.theory.chord import Chord, moved_chord

_APART = re.compile(r"\s*[|,;→]\s*|\s+[-–—/]\s+|\s+")
_WORDS = ("go", "do", "ed", "ad")
"""Words that a reader of symbols takes for chords: Do would be D diminished."""
_BARE = re.compile(r"[A-G][1-3]?['’]?")
_LONGEST = 40
_FEWEST_LETTERS = 3
"""So many bare letters, with no other chord in sight, are chords; ours."""


class _Symbol(NamedTuple):
    chord: Chord
    optional: bool


_Symbols = dict[str, tuple[_Symbol, ...]]
"""The chords that each text is; none for one that is words."""


def with_typed_chords(
    measures: Sequence[Measure], interval: int, read_symbol: SymbolReader, findings: Findings
) -> tuple[Measure, ...]:
    """The measures with chords that are typed as words struck where they stand.

    ``interval`` brings the part to sounding pitch.
    """
    texts = [said.text for measure in measures for said in measure.said]
    symbols = {text: _symbols(text, read_symbol, interval) for text in dict.fromkeys(texts)}
    if not any(symbols.values()):
        return tuple(measures)
    letters = [text for text in texts if symbols[text] and _BARE.fullmatch(text)]
    if _name_sections(measures, letters):
        measures = [_with_section(measure, letters, findings) for measure in measures]
        symbols.update((letter, ()) for letter in letters)
        letters = []
    plain = any(chords and not _BARE.fullmatch(text) for text, chords in symbols.items())
    has_symbols = any(one.chord for measure in measures for one in measure.struck)
    if not plain and (has_symbols or len(letters) < _FEWEST_LETTERS):
        return tuple(measures)
    return tuple(_struck(measure, symbols, findings) for measure in measures)


def types_chords(text: str, read_symbol: SymbolReader) -> bool:
    """Whether words are chord symbols and more than a letter."""
    return _BARE.fullmatch(text) is None and bool(_symbols(text, read_symbol, 0))


def report_typed_chords(
    measures: Sequence[Measure], read_symbol: SymbolReader, findings: Findings
) -> None:
    """Reports which words to the players look like chords and stay words."""
    for measure in measures:
        for said in measure.said:
            if types_chords(said.text, read_symbol):
                findings.guess(
                    "chord-among-words",
                    f'the words "{said.text}" may be a chord: kept as a cue',
                    f"measure {measure.number}",
                )


def _symbols(text: str, read_symbol: SymbolReader, interval: int) -> tuple[_Symbol, ...]:
    """The chords that words are, one after another; none where any of them is no chord."""
    if len(text) > _LONGEST or not re.search(r"[A-G]", text):
        return ()
    inside = re.fullmatch(r"[(\[]\s*(.+?)\s*[)\]]", text)
    parts = [part.strip(".:") for part in _APART.split(inside[1] if inside else text) if part]
    read = [None if part.lower() in _WORDS else read_symbol(part) for part in parts]
    if None in read:
        read = [read_symbol("".join(parts))] if len(parts) == 2 and read[0] is not None else []
    return tuple(
        _Symbol(moved_chord(chord, interval), inside is not None)
        for chord in read
        if chord is not None
    )


def _name_sections(measures: Sequence[Measure], letters: Sequence[str]) -> bool:
    """Whether bare letters name parts of the song: each stands once, at the start of a measure,
    in the order of the alphabet."""
    firsts = {said.text for m in measures for said in m.said if said.onset == 0}
    order = list(dict.fromkeys(text[0] for text in letters))
    in_order = order == [chr(ord("A") + i) for i in range(len(order))]
    once = len(set(letters)) == len(letters) > 1
    return in_order and once and set(letters) <= firsts


def _with_section(measure: Measure, letters: Sequence[str], findings: Findings) -> Measure:
    named = [said for said in measure.said if said.text in letters]
    if not named:
        return measure
    findings.guess(
        "section-by-words",
        f'the words "{named[0].text}" begin a section',
        f"measure {measure.number}",
    )
    others = tuple(said for said in measure.said if said not in named)
    return measure._replace(section=measure.section or named[0].text, said=others)


def _struck(measure: Measure, symbols: _Symbols, findings: Findings) -> Measure:
    """The measure with its words that are chords struck; beside a chord symbol they stay words."""
    if not any(symbols[said.text] for said in measure.said):
        return measure
    kept: list[Said] = []
    struck = list(measure.struck)
    there = {one.onset: one.chord for one in measure.struck}
    place = f"measure {measure.number}"
    for said in measure.said:
        chords = symbols[said.text]
        if not chords:
            kept.append(said)
        elif said.onset not in there:
            over = _length_over(measure, said.onset) if len(chords) > 1 else 0
            struck += [
                Struck(said.onset, one.chord, optional=one.optional, over=over) for one in chords
            ]
            findings.guess(
                "typed-chord", f'the words "{said.text}" are taken as a chord symbol', place
            )
        elif [one.chord for one in chords] != [there[said.onset]]:
            kept.append(said)
            findings.guess(
                "chord-beside-symbol",
                f'"{said.text}" is typed beside another chord symbol: it stays a cue',
                place,
            )
    ordered = tuple(sorted(struck, key=lambda one: one.onset))
    return measure._replace(said=tuple(kept), struck=ordered)


def _length_over(measure: Measure, onset: int) -> int:
    """The time from a place to the next chord or words, or to the end of the measure."""
    onsets = [*(one.onset for one in measure.struck), *(said.onset for said in measure.said)]
    later = [at for at in onsets if at > onset]
    return min(later, default=max(measure.length, onset)) - onset
