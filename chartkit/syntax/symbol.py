"""One chord symbol: text to chord.  Each distinct symbol is parsed once a process."""

import re
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from lark import Token, Transformer, UnexpectedInput

from chartkit.chart.marks import mark_from_paper, typed_names
from chartkit.syntax.changes import NATURAL, as_meant, in_usual_signs
from chartkit.syntax.foreign_names import from_german
from chartkit.syntax.grammar import chord_parser
from chartkit.syntax.quality_hints import in_signs, quality_hint
from chartkit.theory.alterations import ADDED, ALTERATIONS, SIGN_BEHIND
from chartkit.theory.chord import Chord
from chartkit.theory.note import NOTE_NAME, ascii_accidentals, parse_note
from chartkit.theory.quality import BOTH_SEVENTHS, BY_SPELLING, altered_quality

_LONGEST_SYMBOL = 40


@dataclass(frozen=True, slots=True)
class NotAChord:
    """Why a symbol is not a chord: a code, the faulty stretch, plain words and hints."""

    code: str
    start: int
    end: int
    message: str
    hints: tuple[str, ...] = ()


class _ToChord(Transformer[Token, Any]):
    """Builds the chord while the symbol is parsed."""

    def chord(self, parts: list[Any]) -> Chord | None:
        root, base, changes, bass = parse_note(parts[0]), "", (), None
        for part in parts[1:]:
            if isinstance(part, int):
                bass = part
            else:
                base, changes = part
        meant = as_meant(base, changes)
        return (
            None if meant is None else Chord(root, altered_quality(BY_SPELLING[base], meant), bass)
        )

    def quality(self, parts: list[Any]) -> tuple[str, tuple[str, ...]]:
        base = ""
        if isinstance(parts[0], Token):
            base = ascii_accidentals(parts.pop(0))
        return base, tuple(change for part in parts for change in part)

    def change(self, parts: list[str]) -> list[str]:
        return [part for part in parts if part != "/"]

    def bass(self, parts: list[Token]) -> int:
        return parse_note(parts[0])

    def alteration(self, parts: list[Token]) -> str:
        written = ascii_accidentals(parts[0])
        return ALTERATIONS.get(written) or SIGN_BEHIND[written]

    def major_seventh(self, parts: list[Token]) -> str:
        return BOTH_SEVENTHS

    def natural(self, parts: list[Token]) -> str:
        return NATURAL + str(parts[0]) if parts[0] in ("4", "6", "7") else str(parts[0])

    def added(self, parts: list[Token]) -> str:
        return "add" + ADDED[ascii_accidentals(parts[0][3:])]

    def suspended(self, parts: list[Token]) -> str:
        return "sus2" if parts[0].endswith("2") else "sus4"

    def left_out(self, parts: list[Token]) -> str:
        return "no" + parts[0].removeprefix("no").removeprefix("omit")


@cache
def _builder() -> _ToChord:
    return _ToChord()


@lru_cache(maxsize=8192)
def read_symbol(text: str) -> Chord | NotAChord:
    """The chord that a symbol such as ``F#m7b5/C`` names, or the reason why it names none."""
    if len(text) > _LONGEST_SYMBOL:
        return NotAChord("unknown-quality", 0, len(text), "this is too long to be a chord symbol")
    return _parsed(text) or _explained(text)


def _parsed(text: str) -> Chord | None:
    """The chord of a symbol; None if it names none, or may be one of two."""
    usual = in_usual_signs(text)
    try:
        return chord_parser(_builder()).parse(usual) if usual else None  # type: ignore[return-value]
    except UnexpectedInput:
        return None


_BEHIND_ROOT = re.compile(r"[A-G][#b♯♭𝄪𝄫]*(?P<letters>[a-z]{0,2})")


@cache
def _first_letters() -> frozenset[str]:
    """The one or two small letters that a quality may begin with."""
    changes = (*ALTERATIONS, *(f"add{degree}" for degree in ADDED), "sus", "no", "omit", "maj")
    firsts = {change[0] for change in changes}
    spelled = {spelling[:2] for spelling in (*BY_SPELLING, *changes)}
    spelled |= {one + first for one in BY_SPELLING if len(one) == 1 for first in firsts}
    starts = (re.match("[a-z]{0,2}", letters) for letters in spelled)
    return frozenset(start[0] for start in starts if start is not None)


def _begins_like_a_chord(text: str) -> bool:
    """Whether a text may be a symbol by its first letters: most words are none, and saying why
    takes longer than reading a chord."""
    begins = _BEHIND_ROOT.match(text)
    return begins is not None and begins["letters"] in _first_letters()


def chord_or_none(text: str) -> Chord | None:
    """The chord that a symbol names; None if it names none."""
    if not _begins_like_a_chord(text):
        return None
    chord = read_symbol(text)
    return chord if isinstance(chord, Chord) else None


_SYLLABLES = {
    "Do": "C",
    "Re": "D",
    "Ré": "D",
    "Mi": "E",
    "Fa": "F",
    "Sol": "G",
    "La": "A",
    "Si": "B",
}
_PARTS = re.compile(rf"({NOTE_NAME.pattern})(.*?)(?:/([^/]*))?", re.DOTALL)


def _explained(text: str) -> NotAChord:
    """The part of a symbol that the table does not know, and what may have been meant."""
    spoken = _syllable(text)
    if spoken is not None:
        return spoken
    if _MARK_WORDS.fullmatch(text):
        return likely_meaning(text)
    meant = _german(text) or _backslash(text)
    if meant is not None:
        return meant
    match = _PARTS.fullmatch(text)
    if match is None or _has_invisible(text):
        return likely_meaning(text)
    root, quality, bass = match.groups()
    start = len(root)
    apart = _typed_together(text)
    if apart:
        return NotAChord(
            "chords-typed-together",
            0,
            len(text),
            f'"{text}" looks like {len(apart)} chords',
            (f'put a blank between them: "{" ".join(apart)}"',),
        )
    if bass is not None:
        wrong = _change_for_bass(text, bass, start) or _wrong_bass(text, bass)
        if wrong is not None:
            return wrong
        if not NOTE_NAME.fullmatch(bass):
            quality = text[start:]
    return _in_words(text) or NotAChord(
        "unknown-quality",
        start,
        start + max(1, len(quality)),
        f'"{quality}" is not a chord quality',
        _beats_hint(text) or _accent_hint(text) or _quality_hint(quality),
    )


def _change_for_bass(text: str, bass: str, start: int) -> NotAChord | None:
    """What is wrong with figures after a slash that change a quality; None if none are meant."""
    hints = _quality_hint(text[start:]) if any(map(str.isdecimal, bass)) else ()
    message = f'"{text[start:]}" is not a chord quality'
    return NotAChord("unknown-quality", start, len(text), message, hints) if hints else None


def _quality_hint(quality: str) -> tuple[str, ...]:
    """The hint for a quality by itself: a root has no part in it."""
    return quality_hint(quality, lambda meant: _parsed(f"C{meant}") is not None)


def _in_words(text: str) -> NotAChord | None:
    """The reason why a symbol of which parts are spelled out, such as Bflat7, is not read."""
    signs = in_signs(text)
    if signs == text or chord_or_none(signs) is None:
        return None
    hint = f'write it in signs: "{signs}"'
    return NotAChord("chord-in-words", 0, len(text), "this chord is written in words", (hint,))


_DRAWN_OUT = re.compile(r"([A-G].*?)(?:([-.=*]{2,})|\*([1-9]?))")


def _beats_hint(text: str) -> tuple[str, ...]:
    """How a chord is written that is typed with a sign for each further beat, or with a number
    of beats: Eb---, Eb*2."""
    match = _DRAWN_OUT.fullmatch(text)
    if match is None or not isinstance(read_symbol(match[1]), Chord):
        return ()
    more = len(match[2][:_MOST_SLASHES]) if match[2] else int(match[3] or 2) - 1
    slashes = " /" * min(max(more, 1), _MOST_SLASHES)
    return (f'a beat on which the chord goes on is a slash: "{match[1]}{slashes}"',)


_ACCENTED = re.compile(r"[\^'´`]*([A-G].*?)[.^'´`]*")


def _accent_hint(text: str) -> tuple[str, ...]:
    """How a chord is written that is typed with a dot or an accent beside it: G., ^G."""
    match = _ACCENTED.fullmatch(text)
    if match is None or match[1] == text or not isinstance(read_symbol(match[1]), Chord):
        return ()
    chord = match[1]
    if text == f"{chord}^":
        return (f'a major seventh is "{chord}maj7", a chord stopped short "{chord}!"',)
    return (f'a chord stopped short is "{chord}!", a pushed one "<{chord}"; an accent is a cue',)


_MOST_SLASHES = 7


def _wrong_bass(text: str, bass: str) -> NotAChord | None:
    """What is wrong after the last slash; None if the part before it is not a chord."""
    before = text.rpartition("/")[0]
    over = read_symbol(before) if before else None
    if not isinstance(over, Chord):
        return None
    offset = min(len(before) + 1, len(text) - 1)
    if over.bass is not None:
        return NotAChord(
            "two-basses",
            offset - 1,
            len(text),
            "a chord has one bass, and this has two",
            ("take one of them out",),
        )
    return NotAChord(
        "unknown-bass",
        offset,
        max(offset + 1, len(text)),
        f'"{bass}" is not a bass note' if bass else "there is no bass note after this slash",
        _bass_hint(bass),
    )


_NEXT_ROOT = re.compile(r"(?<![/(])(?=[A-G])")


def _typed_together(text: str) -> list[str]:
    """The chords in a symbol that are typed without a blank between them; none if it holds no such
    chords."""
    pieces = [piece for piece in _NEXT_ROOT.split(text) if piece]
    sound = len(pieces) > 1 and all(isinstance(read_symbol(typed), Chord) for typed in pieces)
    return pieces if sound else []


def _syllable(text: str) -> NotAChord | None:
    """The error for a root named by its syllable, as in Sol7 or lam; None if there is none."""
    for syllable, letter in _SYLLABLES.items():
        if text[: len(syllable)].capitalize() == syllable:
            meant = letter + text[len(syllable) :]
            if isinstance(read_symbol(meant), Chord):
                return NotAChord(
                    "syllable-note-name",
                    0,
                    len(text),
                    f'"{text}" names its root by a syllable',
                    (f'write the root as a letter: "{meant}"',),
                )
    return None


def _german(text: str) -> NotAChord | None:
    """The error for German note names, as in Fism or D/Fis; None if there are none."""
    meant = from_german(text)
    if not meant or not isinstance(read_symbol(meant), Chord):
        return None
    hint = f'write "{meant}"'
    if "H" in text.upper():
        hint = f'H is B natural: write "{meant}" (and Bb for the German B)'
    return NotAChord("german-note-name", 0, len(text), f'"{text}" has a German note name', (hint,))


def _backslash(text: str) -> NotAChord | None:
    """The error for a backslash before the bass, as in C\\G; None if there is none."""
    meant = text.replace("\\", "/")
    if meant == text or not isinstance(read_symbol(meant), Chord):
        return None
    offset = text.index("\\")
    message = "a backslash stands before the bass note"
    return NotAChord(
        "bass-after-backslash",
        offset,
        offset + 1,
        message,
        (f'a bass note follows a slash: "{meant}"',),
    )


def _has_invisible(text: str) -> bool:
    return any(unicodedata.category(character) == "Cf" for character in text)


def _bass_hint(bass: str) -> tuple[str, ...]:
    capital = bass[:1].upper() + bass[1:]
    if NOTE_NAME.fullmatch(capital):
        return (f'bass notes are capitals: "/{capital}"',)
    if re.fullmatch("[A-G]x", bass):
        return (f'write a double sharp with two signs: "/{bass[0]}##"',)
    return ("a bass is a note from A to G, with # or b: C/E, Db/Ab",)


_MARK_WORDS = re.compile(
    r"(?:d\.?s\.?|d\.?c\.?)(?: al (?:fine|coda))?|fine|fin|segno|coda|to[- ]?coda", re.IGNORECASE
)
_LOOSE_ENDS = re.compile(
    r"\(?(?:[-+]?[b#♭♯]?\d+|sus[24]?|add\d+|no\d|maj\d*|min\d*|m\d*|dim\d?|aug)\)?"
)


def _misplaced(text: str) -> NotAChord | None:
    """A mark without its sign, or the end of a chord that was typed apart; else None."""
    whole = (0, len(text))
    if _MARK_WORDS.fullmatch(text):
        meant = mark_from_paper(text)
        return NotAChord(
            "mark-without-sign",
            *whole,
            f'"{text}" looks like a mark, and marks begin with "@"',
            (f'write "{meant}"' if meant else f"the marks are {' '.join(typed_names())}",),
        )
    if _LOOSE_ENDS.fullmatch(text):
        return NotAChord(
            "chord-typed-apart",
            *whole,
            f'"{text}" looks like the end of a chord',
            (f'a chord is written without blanks: "A7b9", "Cmaj7"; join "{text}" to its root',),
        )
    return None


def likely_meaning(text: str) -> NotAChord:
    """The mistake in a word that is no chord symbol, with hints for what was probably meant."""
    whole = (0, len(text))
    misplaced = _misplaced(text)
    if misplaced is not None:
        return misplaced
    first, rest = text[:1], text[1:]
    german = _german(text)
    if german is not None:
        return german
    spoken = _syllable(text)
    if spoken is not None:
        return spoken
    if _has_invisible(text):
        return NotAChord(
            "invisible-character",
            *whole,
            "there is an invisible character here",
            ("delete the word and type it again",),
        )
    if first and first in "abcdefg" and isinstance(read_symbol(first.upper() + rest), Chord):
        minor = "" if rest else f', or "{first.upper()}m" for a minor chord'
        return NotAChord(
            "lowercase-root",
            *whole,
            f'"{text}" starts with a small letter',
            (f'roots are capitals: "{first.upper()}{rest}"{minor}',),
        )
    message = f'"{text}" is not a chord, a mark or a bar line'
    return NotAChord("not-a-chord", *whole, message, _accent_hint(text))
