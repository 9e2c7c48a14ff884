"""Words that lead through a piece, in the ways in which people type them over a score.

Each wording stands in a bar; what it means is common practice, no source.
"""

from time import process_time

from chartkit.interchange.instructions import Direction, add_instruction
from chartkit.interchange.wording import cue_text
from tests.each import each

JUMPS = {
    "@D.S. al coda": (
        *("D.S. then Coda", "D.S. and Coda", "D.S. & Coda", "D.S., then to Coda", "D.S. y Coda"),
        *("D.S. + Coda", "D.S. → Coda", "D.S. -> 𝄌", "D.S. – Coda", "D.S. bis Coda", "DS/Coda"),
        *(
            "To sign, then coda",
            "Go to segno, al coda",
            "Back to the 𝄋 and Coda",
            "\ue045 al \ue048",
        ),
    ),
    "@D.C. al coda": (
        *("D.C. e poi la Coda", "Da Capo - al Coda", "From the top to Coda", "D.C. und Coda"),
        *("Back to top, then Coda", "D.C. à la Coda"),
    ),
    "@D.C. al fine": (
        *("D.C. bis Fine", "D.C. hasta Fine", "D.C. ao Fim", "D.C. al Fin", "D.C. then Fine"),
        *("Repeat from beginning to Fine", "\ue046 al Fine"),
    ),
    "@D.S. al fine": ("D.S. e Fine", "D.S. ad Fine"),
    "@to-coda": (
        *("to Coda -", "→ Coda", "-> Coda", "=> 𝄌", "To Coda →", "zur Coda", "a la Coda"),
        *("Jump to Coda", "to Coda…", "To \ue049"),
    ),
    "@fine": ("Fine -", "(Fine)"),
    "@segno": ("§", "$", "\ue04a", "\uf025"),
    "@fermata": ("𝄐", "𝄑", "\ue4c0", "\ue4c6", "\uf055", "fermate", "(Fermata)"),
}
WITH_WORDS = {
    "D.S. 2x al Coda": ("@D.S. al coda", "2x"),
    "D.S. (twice) al Coda": ("@D.S. al coda", "twice"),
    "D.S.S. al Coda": ("@D.S. al coda", "D.S.S."),
    "D.C. senza rep. al Fine": ("@D.C. al fine", "senza rep."),
    "D.C. (no repeats) al Fine": ("@D.C. al fine", "no repeats"),
    "D.C. al Segno e poi la Coda": ("@D.C. al coda", "al Segno"),
    "On cue: D.S. al Coda": ("@D.S. al coda", "On cue"),
    "Solos, then D.S. al Coda": ("@D.S. al coda", "Solos, then"),
    "D.S. al Coda (no repeats)": ("@D.S. al coda", "no repeats"),
    "D.S. for solos": ("@D.S.", "for solos"),
    "D.S. no Coda": ("@D.S.", "no Coda"),
    "D.S. (skip coda)": ("@D.S.", "skip coda"),
    "D.C. al Segno": ("@D.C.", "al Segno"),
    "On D.S. to Coda": ("@to-coda", "On D.S."),
    "To Coda on cue": ("@to-coda", "on cue"),
    "2nd x to Coda": ("@to-coda", "2nd x"),
    "2nd x Fine": ("@fine", "2nd x"),
    "Last x: Fine": ("@fine", "Last x"),
    "Fine after D.C.": ("@fine", "after D.C."),
    "rit. \ue4c0": ("@fermata", "rit."),
}
WORDS = (
    *("You'll be fine", "Everything is fine", "fine tune", "not to coda", "rit. to Coda"),
    *("Stop", "Start softly", "To the top", "Beginning", "signs", "Coda section soft"),
)


def _read(text: str) -> tuple[list[str], list[str]]:
    direction = Direction()
    add_instruction(cue_text(text), direction)
    marks = (f"@{mark.kind}{f' al {mark.until}' * bool(mark.until)}" for mark in direction.marks)
    return list(marks), direction.words


@each("wanted, text", [(wanted, text) for wanted, texts in JUMPS.items() for text in texts])
def test_words_that_are_a_mark(wanted: str, text: str) -> None:
    """Words that lead through a piece are the mark, and no words are left over."""
    assert _read(text) == ([wanted], [])


@each("text", sorted(WITH_WORDS))
def test_words_beside_a_mark(text: str) -> None:
    """What is said beside a mark stays words to the players."""
    mark, words = WITH_WORDS[text]
    assert _read(text) == ([mark], [words])


@each("sign, words", [("𝄓", "caesura"), ("\ue4d2", "caesura"), ("\ue501", "two bars again")])
def test_signs_that_are_said_in_words(sign: str, words: str) -> None:
    """Signs that pages do not draw are words to the players."""
    assert _read(sign) == ([], [words])


@each("text", WORDS)
def test_words_that_are_no_mark(text: str) -> None:
    """Words that only hold the name of a mark stay words."""
    assert _read(text) == ([], [text])


@each("part", ["ala", "-->", "to the ", "al ", "e poi ", "after ", "go to ", "(", "2x "])
def test_long_words_take_no_time(part: str) -> None:
    """Words that almost are a mark are compared with all of them in bounded time."""
    before = process_time()
    for text in (f"D.S. {part * 120}x", f"{part * 25}D.C. {part * 25}Coda x"):
        _read(text)
    assert process_time() - before < 1
