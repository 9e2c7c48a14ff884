"""Chord symbols that are typed in a score as words to the players.

Words are chords if the reader of symbols reads all of them and they are more than a letter, or if
letters stand among such words.  Letters in the order of the alphabet, each at the start of a
measure, name parts of the song.  Common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from chartkit.interchange.intake_result import Findings, SymbolReader
from chartkit.interchange.score.events import Measure, PlayerInstruction, StruckChord
from chartkit.interchange.score.typed_beside import with_chords_apart
from chartkit.interchange.score.typed_names import as_the_part_types
from chartkit.theory.chord import Chord, moved_chord

_APART = re.compile(
    r"(?:\s*[|,;→>]\s*|\s+[-–—/]\s+|(?<=[\w)])[-–—](?=[A-H])|\s+)(?![^()\[\]]*[)\]])"
)
"""What parts chords that are typed one after another, outside parentheses."""
_ALTERED = re.compile(r"[(\[]([^()\[\]]*)[)\]]")
_BETWEEN_DEGREES = re.compile(r"\s*[,;/&+]\s*|\s+")
_WORDS = ("go", "do", "ed", "ad")
"""Words that a reader of symbols takes for chords: Do would be D diminished."""
_BARE = re.compile(r"[A-H][1-3]?['’]?")
_UNREAD = re.compile(
    r"[(\[]?[A-H](?:[#b♯♭]+|(?=[^\w\s,.:;!?'’])|(?=\d)|(?=(?:m|maj|min|sus|add)\d{0,2}\s?[(\[]))"
    r"(?:m|maj|min|sus|dim|add|aug|alt|\s?[(\[][^()\[\]]{1,24}[)\]]|[^a-z\s,:;!?]){1,12}",
    re.IGNORECASE,
)
"""What looks like a chord symbol, whoever may be able to read it."""
_ROOT = re.compile(r"[A-G]")
_BEGINS_LIKE_CHORDS = re.compile(
    r"[\W_]*(?:[A-Ha-g](?![a-z])|[a-g][bm]|[A-H][abdeijmnos]|(?i:sol|la|si|mi|re|ré|do|fa))"
)
_HAS_LIKE_A_CHORD = re.compile(r"(?<![^\W_])(?:[a-g][bm#♭♯\d]|[A-H](?:[abdeijmnos]|[^\sa-z]))")
"""A root and what may stand after one: most words need not be looked at any further."""
_INSIDE = re.compile(r"[(\[]\s*(.+?)\s*[)\]]")
_AT_ROOTS = re.compile(r"(?<=[^/(])(?=[A-G](?:maj|min|dim|aug|sus|add|(?![a-z]{3})))")
_SMALL = re.compile(r"[a-g][#b♯♭]?(?:m|min)?(?:6|7|9)?(?<![a-g])")
"""A chord in small letters that is not a word: it has something after its root."""
_H = re.compile(r"(?:^|(?<=/))H")
_BESIDE = "chord-beside-symbol"
_SAID = (_BESIDE, "alternate-chord", "stacked-chord")
"""Findings that say already of some words that they are a chord."""
_LONGEST = 40
_FEWEST_BOXED = 2
"""This many names of sections that are chords, and more than a letter, are chords (ours)."""
_FEWEST_LETTERS = 3
"""This many bare letters without any other chord are chords (ours)."""


class _Symbol(NamedTuple):
    chord: Chord
    optional: bool


_Symbols = dict[str, tuple[_Symbol, ...]]
"""The chords that each text is; none for one that is words."""


def with_typed_chords(
    measures: Sequence[Measure], interval: int, read_symbol: SymbolReader, findings: Findings
) -> tuple[Measure, ...]:
    """Strikes chords that are typed as words at their places; returns the measures.

    ``interval`` brings the part to sounding pitch.
    """
    measures = _with_boxed_chords(measures, read_symbol)
    read_symbol = as_the_part_types(measures, read_symbol)
    measures = [
        _with_whole_symbols(
            with_chords_apart(measure, lambda text: bool(_symbols(text, read_symbol, 0))),
            read_symbol,
        )
        if measure.instructions
        else measure
        for measure in measures
    ]
    measures = _with_bars_apart(measures, read_symbol)
    measures = _with_sung_chords(measures, interval, read_symbol, findings)
    texts = [instruction.text for measure in measures for instruction in measure.instructions]
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


def _with_boxed_chords(measures: Sequence[Measure], read_symbol: SymbolReader) -> Sequence[Measure]:
    """The measures with names of sections that are chords, typed as rehearsal marks or in boxes, as
    words: all of them are chords, and not all of them letters, in a part without other symbols.
    One that is more than a letter is enough where the letters do not count sections."""
    named = list(dict.fromkeys(measure.section for measure in measures if measure.section))
    chords = all(_symbols(name, read_symbol, 0) for name in named)
    letters = "".join(name for name in named if _BARE.fullmatch(name))
    more = len(named) - len(letters)
    counts = "ABCDEFGH".startswith(letters) or len(letters) < _FEWEST_BOXED
    has_symbols = any(one.chord for measure in measures for one in measure.struck)
    if has_symbols or not chords or more < _FEWEST_BOXED - (not counts):
        return measures
    return [
        measure._replace(
            section="",
            instructions=(PlayerInstruction(0, measure.section), *measure.instructions),
        )
        if measure.section
        else measure
        for measure in measures
    ]


def _with_bars_apart(measures: list[Measure], read_symbol: SymbolReader) -> list[Measure]:
    """The measures with a row of bars that is typed over the first of them ("C | Am | F | G7")
    over each, where nothing else is typed or struck in them."""
    made = list(measures)
    for at, measure in enumerate(measures):
        if len(measure.instructions) != 1 or "|" not in measure.instructions[0].text:
            continue
        bars = [bar.strip() for bar in measure.instructions[0].text.split("|") if bar.strip()]
        under = measures[at : at + len(bars)]
        alone = not any(one.struck for one in under) and not any(
            one.instructions for one in under[1:]
        )
        if not (len(under) == len(bars) > 1 and alone):
            continue
        if all(_symbols(bar, read_symbol, 0) for bar in bars):
            made[at : at + len(bars)] = [
                one._replace(instructions=(PlayerInstruction(0, bar),))
                for one, bar in zip(under, bars, strict=True)
            ]
    return made


def _with_sung_chords(
    measures: list[Measure], interval: int, read_symbol: SymbolReader, findings: Findings
) -> list[Measure]:
    """The measures with a verse that is a row of chord symbols, in a part that has no others,
    struck where its syllables stand."""
    if any(one.chord for measure in measures for one in measure.struck):
        return measures
    verses: dict[str, set[str]] = {}
    for one in (one for measure in measures for one in measure.sung if one.text):
        verses.setdefault(one.verse, set()).add(one.text)
    for verse, texts in verses.items():
        symbols = {text: _symbols(text, read_symbol, interval) for text in texts}
        plain = any(_BARE.fullmatch(text) is None for text in texts)
        if len(texts) < _FEWEST_LETTERS or not plain or not all(symbols.values()):
            continue
        findings.guess("sung-chords", f'the words of verse "{verse}" are all chords, and are taken')
        others = [name for name in verses if name != verse]
        only = others[0] if len(others) == 1 else ""
        return [_with_struck_verse(measure, verse, only, symbols) for measure in measures]
    return measures


def _with_struck_verse(measure: Measure, verse: str, only: str, symbols: _Symbols) -> Measure:
    """The measure with the syllables of a verse struck as chords.  An ``only`` verse that is left
    is the first."""
    words = [one for one in measure.sung if one.verse != verse]
    chords = [
        StruckChord(one.onset, symbol.chord, optional=symbol.optional)
        for one in measure.sung
        if one.verse == verse and one.text
        for symbol in symbols[one.text][:1]
    ]
    return measure._replace(
        sung=tuple(one._replace(verse="1") if one.verse == only else one for one in words),
        struck=tuple(sorted((*measure.struck, *chords), key=lambda one: one.onset)),
    )


def types_chords(text: str, read_symbol: SymbolReader) -> bool:
    """Whether words are chord symbols and more than a letter."""
    return _BARE.fullmatch(text) is None and bool(_symbols(text, read_symbol, 0))


def is_bare_letter(text: str) -> bool:
    """Whether words are a letter that may be a chord or the name of a part of the song."""
    return _BARE.fullmatch(text) is not None


def report_typed_chords(
    measures: Sequence[Measure], read_symbol: SymbolReader, findings: Findings
) -> None:
    """Reports which words to the players look like chords and stay words."""
    reported = {one.message.split('"')[1] for one in findings.collected if one.code in _SAID}
    for measure in measures:
        for instruction in measure.instructions:
            if instruction.text in reported:
                continue
            if (
                _BARE.fullmatch(instruction.text)
                or _UNREAD.fullmatch(instruction.text)
                or _names_a_chord(instruction.text, read_symbol)
            ):
                findings.guess(
                    "chord-among-words",
                    f'the words "{instruction.text}" may be a chord: kept as a cue',
                    f"measure {measure.number}",
                )


def _names_a_chord(text: str, read_symbol: SymbolReader) -> bool:
    """Whether a chord that is more than a letter stands somewhere among words."""
    if _HAS_LIKE_A_CHORD.search(text) is None:
        return False
    parts = _APART.split(text[:_LONGEST])
    plain = {one for part in parts for one in (part, part.strip("()[].:*")) if one}
    return any(types_chords(part, read_symbol) for part in plain)


def _with_whole_symbols(measure: Measure, read_symbol: SymbolReader) -> Measure:
    """The measure with symbols that were typed in pieces, the kind raised after its root, as one
    text."""
    if len(measure.instructions) < 2:
        return measure
    whole: list[PlayerInstruction] = []
    for instruction in measure.instructions:
        before = whole[-1] if whole else None
        if before is not None and before.onset == instruction.onset:
            text = before.text + instruction.text
            if (
                _ROOT.match(before.text)
                and read_symbol(text)
                and not _symbols(instruction.text, read_symbol, 0)
            ):
                whole[-1] = instruction._replace(text=text)
                continue
        whole.append(instruction)
    return (
        measure
        if len(whole) == len(measure.instructions)
        else measure._replace(instructions=tuple(whole))
    )


def _with_commas(altered: re.Match[str]) -> str:
    """Altered degrees in the way in which charts part them."""
    return f"({_BETWEEN_DEGREES.sub(',', altered[1].strip())})"


def _read(part: str, read_symbol: SymbolReader) -> Chord | None:
    """One chord; a small letter that has a sign after it is a root too, and H is B."""
    if part.lower() in _WORDS and read_symbol("Sol") is None:  # not by do re mi
        return None
    chord = read_symbol(part)
    if chord is None and "(" in part.replace("[", "("):
        part = _ALTERED.sub(_with_commas, part)
        chord = read_symbol(part)
    if chord is None and _SMALL.fullmatch(part):
        chord = read_symbol(part[0].upper() + part[1:])
    if chord is None and "H" in part:
        chord = read_symbol(_H.sub("B", part))
    return chord


def _symbols(text: str, read_symbol: SymbolReader, interval: int) -> tuple[_Symbol, ...]:
    """The chords that words are, one after another; none where any of them is no chord."""
    if len(text) > _LONGEST or _BEGINS_LIKE_CHORDS.match(text) is None:
        return ()
    inside = _INSIDE.fullmatch(text)
    parts = [part for part in _APART.split(inside[1] if inside else text) if part]
    parts = [part.strip(".:*!?") for part in parts]
    first = _read(parts[0], read_symbol)
    if first is None and len(parts) == 1:
        parts = _squeezed(parts[0], read_symbol)
        first = _read(parts[0], read_symbol)
    if first is None:
        return ()
    read = [first, *(_read(part, read_symbol) for part in parts[1:])]
    if None in read:
        read = [read_symbol("".join(parts))]
    return tuple(
        _Symbol(moved_chord(chord, interval), inside is not None)
        for chord in read
        if chord is not None
    )


def _squeezed(text: str, read_symbol: SymbolReader) -> list[str]:
    """The chords of a text without blanks between them ("Dm7G7"), all of them more than a letter
    but the last; the text where it is none."""
    parts = _AT_ROOTS.split(text)
    plain = all(_BARE.fullmatch(part) is None for part in parts[:-1])
    whole = len(parts) > 1 and plain and all(read_symbol(part) for part in parts)
    return parts if whole else [text]


def _name_sections(measures: Sequence[Measure], letters: Sequence[str]) -> bool:
    """Whether bare letters name parts of the song: each stands once, at the start of a measure,
    in the order of the alphabet."""
    firsts = {
        instruction.text
        for m in measures
        for instruction in m.instructions
        if instruction.onset == 0
    }
    order = list(dict.fromkeys(text[0] for text in letters))
    in_order = order == [chr(ord("A") + i) for i in range(len(order))]
    once = len(set(letters)) == len(letters) > 1
    return in_order and once and set(letters) <= firsts


def _with_section(measure: Measure, letters: Sequence[str], findings: Findings) -> Measure:
    named = [instruction for instruction in measure.instructions if instruction.text in letters]
    if not named:
        return measure
    findings.guess(
        "section-by-words",
        f'the words "{named[0].text}" begin a section',
        f"measure {measure.number}",
    )
    others = tuple(instruction for instruction in measure.instructions if instruction not in named)
    return measure._replace(section=measure.section or named[0].text, instructions=others)


def _struck(measure: Measure, symbols: _Symbols, findings: Findings) -> Measure:
    """The measure with its words that are chords struck, each once at a place, where several share
    the time; beside a chord symbol they stay words."""
    if not any(symbols[instruction.text] for instruction in measure.instructions):
        return measure
    struck = list(measure.struck)
    there = {one.onset: one.chord for one in measure.struck}
    place = f"measure {measure.number}"
    typed = dict.fromkeys(one for one in measure.instructions if symbols[one.text])
    at = Counter(one.onset for one in typed for _ in symbols[one.text])
    kept = [one for one in measure.instructions if one not in typed]
    for instruction in typed:
        chords = symbols[instruction.text]
        if instruction.onset not in there:
            over = _length_over(measure, instruction.onset) if at[instruction.onset] > 1 else 0
            struck += [
                StruckChord(instruction.onset, one.chord, optional=one.optional, over=over)
                for one in chords
            ]
            findings.guess(
                "typed-chord", f'the words "{instruction.text}" are taken as a chord symbol', place
            )
        elif [one.chord for one in chords] != [there[instruction.onset]]:
            kept.append(instruction)
            findings.guess(
                _BESIDE,
                f'"{instruction.text}" is typed beside another chord symbol: it stays a cue',
                place,
            )
    ordered = tuple(sorted(struck, key=lambda one: one.onset))
    rests = 0 if ordered else measure.rests
    words = tuple(sorted(kept, key=lambda one: one.onset))
    return measure._replace(instructions=words, struck=ordered, rests=rests)


def _length_over(measure: Measure, onset: int) -> int:
    """The time from a place to the next chord or words, or to the end of the measure."""
    onsets = [
        *(one.onset for one in measure.struck),
        *(instruction.onset for instruction in measure.instructions),
    ]
    later = [at for at in onsets if at > onset]
    return min(later, default=max(measure.length, onset)) - onset
