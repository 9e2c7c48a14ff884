"""A hint for a chord never changes its tones: spellings of several trades and countries against
the tones that are meant by them."""

import re
from collections.abc import Iterator

from chartkit.syntax.symbol import NotAChord, read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.quality import BY_SPELLING
from tests.each import each

MEANT = {
    "1 3 5 b7 b9": "C7/9- C9- C7(9-) C7(-9) C7(9b) C7/b9 C79- C7(b9)",
    "1 3 5 b7 #9": "C7/9+ C7(9+) C7(9#) C79+ C7(+9) C9#",
    "1 3 5 b7 #11": "C7/11+ C7(11+) C7(11#) C11+ C7(4+) C7/4#",
    "1 3 5 b7 b13": "C7/13- C7(13-) C7(13b) C13- C7(6-)",
    "1 3 #5 b7": "C7/5+ C7(5+) C7(5#) C75+",
    "1 3 b5 b7": "C7/5- C7(5-) C7(5b) C75-",
    "1 3 #5": "C5+ C5# C(5+) C(5#)",
    "1 3 b5": "C(5-) C5- C5b",
    "1 b3 b5": "Cm(5-) Cm5- Cm5b",
    "1 b3 b5 b7": "Cm7(5-) Cm7/5- Cm75- Ch7 Ch Chalfdim C-7(5-) Cm7/b5",
    "1 b3 b5 b7 9": "Ch9 Cm7(5-/9) Cm9(5-)",
    "1 3 5 b7 b9 b13": "C7(b9/b13) C7(9-/13-) C7/9-/13- C7(9-,13-) C7(13-)(9-)",
    "1 3 5 b7 9 13": "C7(9/13) C9(13) C7/9/13",
    "1 3 5 b7 9 #11": "C7(9/11+) C9(11+) C7/9/11+",
    "1 3 5 7": "C7M C7maj C7Maj C7ma C7(M) C^7 C(7M)",
    "1 3 5 7 9": "C7M(9) C7M/9 C7M9 C^9 C9(maj7) C9(7M) C9M C9maj",
    "1 3 5 7 #11": "C7M(11+) C7M/11+ C7M#11 C^7(#11)",
    "1 3 5 6 7": "C7M(6) C7M/6 Cmaj7(6) C6(maj7)",
    "1 3 5 6 7 9": "C7M(6/9) Cmaj7(6,9)",
    "1 3 5 6 b7": "C7(6) C7/6",
    "1 3 #5 7": "CaugM7 Caugmaj7 C+△7 C+M7 C7M(5+) Cmaj7/5+",
    "1 b3 5 7": "Cm(7M) Cm7M Cm(7+) Cm7+ C-^7 Cm7maj",
    "1 b3 5 7 9": "Cm9(maj7) Cm9(M7) Cm9M7 Cm9(7M) Cm(maj7)(9)",
    "1 b3 5 7 9 11": "Cm11(maj7) Cm11M7",
    "1 b3 5 7 9 11 13": "Cm13(maj7)",
    "1 3 5 7 9 11 13": "C13(maj7)",
    "1 11 5 7 9": "C9sus4(maj7)",
    "1 b3 b5 7 9": "Cø9(maj7) Cm9b5(maj7)",
    "1 3 5 b7 7": "C7(maj7) C7maj7 C7M7 C7(7M) Cmaj7(b7)",
    "1 b3 5 b7 7": "Cm7(maj7) Cm7maj7",
    "1 3 5 b7 7 9": "C7(9,maj7) C7/9(maj7)",
    "1 11 5": "C(4) C4 Csus",
    "1 9 5 3": "C(2) C2 C(9) C/9 CMadd9 CMadd2 Cmaj(add9)",
    "1 11 5 b7": "C7(4) C7/4 C4/7 C4(7) Csus4(7) Csus4/7 Csus(7) C7/sus4",
    "1 11 5 b7 9": "C7(4/9) C7/4/9 C4/7/9 C4(7/9) Csus4(7/9) C7(9/4)",
    "1 9 5 b7": "Csus2(7)",
    "1 b3 5 b7 11": "Cm7(4) Cm7/4 Cm7/11",
    "1 b3 b5 bb7": "Cdim(7) C°(7)",
    "1 b3 5 b7": "C\u20117 C\u20107 C‒7",
    "1 b3 5 6": "Cmadd6 Cm(6)",
    "1 3 5 6 9": "C(6/9) C(6,9) C6/9",
    "1 b3 5 6 9": "Cm(6/9) Cm(6,9)",
}
"""Tones, and spellings that mean them: common practice in fake books and in the songbooks of
Brazil, Italy, Spain and France, no source; minor chords with a major seventh and more as in
music21 (``CHORD_TYPES``)."""

EITHER = {
    "C6-9": {"1 3 5 6 9", "1 3 5 6 b9"},
    "C6−9": {"1 3 5 6 9", "1 3 5 6 b9"},
    "Cm6-9": {"1 b3 5 6 9", "1 b3 5 6 b9"},
    "C7(maj9)": {"1 3 5 b7 9", "1 3 5 7 9"},
    "C7+M": {"1 3 5 7", "1 3 #5 7"},
}
"""Spellings that may mean one of two."""


def tones_of(symbol: str) -> frozenset[str]:
    """The tones of a symbol; fails if it is not one."""
    chord = read_symbol(symbol)
    assert isinstance(chord, Chord), (symbol, chord)
    return frozenset(chord.quality.degrees)


def hinted(refusal: NotAChord) -> Iterator[str]:
    """The qualities that the hints quote."""
    for hint in refusal.hints:
        yield from re.findall(r'"([^"]*)"', hint)


@each("degrees", MEANT)
def test_a_spelling_is_read_or_hinted_at_with_its_tones(degrees: str) -> None:
    """Each is read with the tones meant, or refused with a hint that has them."""
    for symbol in MEANT[degrees].split():
        read = read_symbol(symbol)
        if isinstance(read, Chord):
            assert set(read.quality.degrees) == set(degrees.split()), symbol
        else:
            qualities = list(hinted(read))
            assert qualities, symbol
            for quality in qualities:
                assert tones_of("C" + quality) == set(degrees.split()), (symbol, quality)


@each("symbol", EITHER)
def test_a_spelling_with_two_meanings_is_refused_with_both(symbol: str) -> None:
    """What is not sure is not read: the hint names either chord."""
    refusal = read_symbol(symbol)
    assert isinstance(refusal, NotAChord)
    meant = {frozenset(tones.split()) for tones in EITHER[symbol]}
    assert {tones_of("C" + quality) for quality in hinted(refusal)} == meant


@each("symbol", ["C7-", "C7(7)", "C/4", "Cmadd7", "C6(7)", "C7(b8)", "C11-"])
def test_what_is_not_sure_has_no_hint_of_a_quality(symbol: str) -> None:
    """No chord is named where none is surely meant."""
    refusal = read_symbol(symbol)
    assert isinstance(refusal, NotAChord)
    assert not any("did you mean" in hint for hint in refusal.hints)


def _figures(text: str) -> list[str]:
    return re.findall(r"\d", re.sub(r"(\d)\1+", r"\1", text))


def slips(spelling: str) -> Iterator[str]:
    """A spelling with one sign too few, twice, or in the place of the next."""
    for i, sign in enumerate(spelling):
        yield spelling[:i] + spelling[i + 1 :]
        yield spelling[:i] + sign + spelling[i:]
        yield spelling[:i] + spelling[i + 1 : i + 2] + sign + spelling[i + 2 :]


def test_a_hint_for_a_slip_keeps_figures_and_the_third() -> None:
    """For every spelling of the table with a slip in it, a hint has the figures that were typed,
    and a chord that is plainly minor or major stays so."""
    for spelling in BY_SPELLING:
        for slip in slips(spelling):
            refusal = read_symbol(f"C{slip}")
            if isinstance(refusal, Chord) or refusal.code != "unknown-quality":
                continue
            for hint in refusal.hints:
                if not hint.startswith("did you mean"):
                    continue
                (meant,) = re.findall(r'"([^"]*)"', hint)
                tones = tones_of("C" + meant)
                if tones == frozenset(BY_SPELLING[spelling].degrees):
                    continue
                if re.match(r"M(?![iIMm])|[△Δ∆]", slip):
                    assert "b3" not in tones, (slip, meant)
                if re.match(r"m(?=add|\d)|mi(?!t)|Mi|MI", slip):
                    assert "b3" in tones, (slip, meant)
                assert set(_figures(slip)) <= set(_figures(meant)), (slip, meant)
