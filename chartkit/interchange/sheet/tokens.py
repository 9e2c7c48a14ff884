"""A row of chords, told by its content: what each of its tokens is.

What people type between chords (common practice, no source): bar lines, slashes and dots for
beats, ``%`` for the bar again, ``N.C.``, ``x2``, remarks in parentheses, dashes and arrows
from chord to chord.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.sheet.names import Naming
from chartkit.interchange.sheet.tablature import is_tablature
from chartkit.interchange.taken import SymbolReader
from chartkit.theory.chord import Chord
from chartkit.theory.note import NOTE_NAME, parse_note, pitch_class_of

Kind = Literal["chord", "bass", "none", "bar", "beat", "simile", "times", "cue", "word", "filler"]

_TOKEN = re.compile(
    r"<?\([^()|\s]+(?:\([^()|\s]*\)[^()|\s]*)+\)[!~,]*"  # (Bb7(b9)), parentheses in parentheses
    r"|<?\([^()|]*\)[!~,]*"  # (C7) or a remark
    r"|:?\|\|?:?(?:\d{1,2}\.)*"  # a bar line
    r"|[^\s|(]+(?:\([^()\s|]*\)[^\s|()]*)*|\S"  # a chord or a word
)
_BAR = re.compile(r":?\|\|?:?(?:\d{1,2}\.)*")
_NO_CHORD = re.compile(r"\(?n\.?\s?c\.?\)?|\(?tacet\)?", re.IGNORECASE)
_TIMES = re.compile(r"\(?(?:[x×]\s?(\d{1,2})|(\d{1,2})\s?[x×])\)?", re.IGNORECASE)
_JOINTS = re.compile(r"\s*(?:-+>|=+>|→|>+|–|—|-)\s*")
_APART = re.compile(r"(?:[^\s()→>–—-]|-(?=\d))+")
_LASTING = re.compile(r"([^()*\s]+)(\(\d{1,2}\)|\*\d{1,2})")
NARROW = {0xFF01 + i: 0x21 + i for i in range(94)}
"""Full-width letters and signs to plain ones (Unicode, Halfwidth and Fullwidth Forms)."""
_FILLER = re.compile(r"[-–—>=→_~*:;,….]+")
_CHORDISH = re.compile(r"[A-GH][^\s]{0,40}")
_NEW_BASS = re.compile(rf"/({NOTE_NAME.pattern})")
_LONGEST_TOKEN = 120
WORDS_TOO = {"A", "Am", "Add", "Do", "Go", "Bo", "Co", "Ao", "Fo", "Eo", "Dim", "Aug", "Em"}
"""Chord symbols that are words as well (in English, or as exclamations)."""


@dataclass(frozen=True, slots=True)
class Played:
    """One struck chord of a token: ``bass`` alone for ``/E``; neither for N.C."""

    chord: Chord | None = None
    bass: int | None = None
    pushed: bool = False
    stopped: bool = False
    ringing: bool = False
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Token:
    """A token of a chord row: what it is, where it stands, what is struck (several chords
    where they share a beat), and its text."""

    kind: Kind
    column: int
    text: str
    played: tuple[Played, ...] = ()
    end: int = 0


class Tokens:
    """Reads chord rows; ``naming`` is how the sheet names its notes."""

    def __init__(self, read_symbol: SymbolReader, naming: Naming) -> None:
        self.naming = naming
        self.read_symbol = lru_cache(maxsize=8192)(read_symbol)
        self.read = lru_cache(maxsize=8192)(self._read)

    def row(self, line: Line) -> tuple[Token, ...] | None:
        """The tokens of a line that is a row of chords; None for any other."""
        if is_tablature(line.text):
            return None
        pieces = line.text.split()
        small = sum(piece[0].islower() for piece in pieces)
        if small > 3 and small * 2 > len(pieces):
            return None  # no chord begins with a small letter
        found: list[Token] = []
        words = chords = sure = 0
        for match in _TOKEN.finditer(line.text):
            for kind, text, at, played in self._parts(match[0], match.start()):
                found.append(
                    Token(kind, line.column(at), text, played, line.column(at + len(text)))
                )
                words += kind == "word"
                chords += kind in ("chord", "bass", "none")
                sure += kind in ("chord", "bass", "none") and text not in WORDS_TOO
            if words > 3 and words > chords:
                return None
        bars = any(token.kind == "bar" for token in found)
        beats = any(token.kind in ("simile", "beat") for token in found)
        if not chords and not (bars and beats and not words):
            return None
        if words and (not sure or words * 2 > chords):
            return None
        if not sure and chords > 1 and not bars and found[0].text in ("Do", "Go", "Am", "A"):
            return None if any(token.text in ("Do", "Go") for token in found) else tuple(found)
        return tuple(found)

    def _parts(self, text: str, start: int) -> list[tuple[Kind, str, int, tuple[Played, ...]]]:
        """A token, or the chords of several that dashes or arrows join, or that stand in
        parentheses together; or a chord and how long it lasts, as a remark."""
        text = text if text.isascii() else text.translate(NARROW)
        kind, played = self.read(text)
        if kind == "cue" and (together := self._together(text, start)):
            return together
        if kind == "word" and (lasting := _LASTING.fullmatch(text)) is not None:
            own_kind, own = self.read(lasting[1])
            if own_kind == "chord":
                beats = f"({lasting[2].strip('()*')})"
                return [("chord", lasting[1], start, own), ("cue", beats, start, ())]
        if kind != "word" or len(text) > _LONGEST_TOKEN or not _JOINTS.search(text):
            return [(kind, text, start, played)]
        found: list[tuple[Kind, str, int, tuple[Played, ...]]] = []
        at = 0
        for piece in _JOINTS.split(text):
            if not piece:
                continue
            at = text.index(piece, at)
            own_kind, own_played = self.read(piece)
            if own_kind not in ("chord", "bass", "none"):
                return [(kind, text, start, played)]
            found.append((own_kind, piece, start + at, own_played))
            at += len(piece)
        return found or [(kind, text, start, played)]

    def _together(
        self, text: str, start: int
    ) -> list[tuple[Kind, str, int, tuple[Played, ...]]] | None:
        """The chords within one pair of parentheses, all optional; None where others stand
        among them."""
        inside = text[1:-1]
        found: list[tuple[Kind, str, int, tuple[Played, ...]]] = []
        for match in _APART.finditer(inside):
            kind, played = self.read(match[0])
            if kind not in ("chord", "bass", "none"):
                return None
            optional = tuple(replace(one, optional=True) for one in played)
            found.append((kind, match[0], start + 1 + match.start(), optional))
        return found

    def _read(self, text: str) -> tuple[Kind, tuple[Played, ...]]:
        """What a token is, and what is struck."""
        if len(text) > _LONGEST_TOKEN:
            return "word", ()
        if _BAR.fullmatch(text):
            return "bar", ()
        if text in ("/", ".", "\\"):
            return "beat", ()
        if re.fullmatch(r"/{2,8}", text):
            return "beat", ()
        if text in ("%", "%%", "./.", "-/-", "𝄎"):
            return "simile", ()
        if _NO_CHORD.fullmatch(text.rstrip("!~,*")):
            return "none", (_played(text, None, optional=text.startswith("(")),)
        if _TIMES.fullmatch(text):
            return "times", ()
        played = self._chords(text)
        if played is not None:
            return ("bass" if played[0].chord is None else "chord"), played
        if _FILLER.fullmatch(text):
            return "filler", ()
        return ("cue" if text.startswith("(") and text.endswith(")") else "word"), ()

    def _chords(self, text: str) -> tuple[Played, ...] | None:
        """The chords of a token: one, or several parted by commas that share a beat."""
        whole = self._chord(text)
        if whole is not None:
            return (whole,)
        if "," not in text.strip(","):
            return None
        parts = [self._chord(part) for part in _at_commas(text)]
        return None if None in parts else tuple(part for part in parts if part is not None)

    def _chord(self, text: str) -> Played | None:
        bare = text.lstrip("<").rstrip("!~,*;.'´`")
        optional = bare.startswith("(") and bare.endswith(")")
        if optional:
            bare = bare[1:-1].strip().rstrip("!~")
        if _NO_CHORD.fullmatch(bare):
            return _played(text, None, None, optional)
        bass = _NEW_BASS.fullmatch(bare)
        if bass is not None:
            return _played(text, None, parse_note(bass[1]), optional)
        chord = self.symbol(bare)
        return None if chord is None else _played(text, chord, None, optional)

    def symbol(self, text: str) -> Chord | None:
        """The chord of a bare symbol, as the sheet names notes."""
        plain = self.naming.letters(text)
        if plain is None or _CHORDISH.fullmatch(plain) is None:
            return None
        return self.read_symbol(plain)


def _played(
    text: str, chord: Chord | None, bass: int | None = None, optional: bool = False
) -> Played:
    """What is struck, with the manner that the signs around it tell."""
    tail = text[len(text.rstrip("!~,*;.)")) :]
    return Played(chord, bass, text.startswith("<"), "!" in tail, "~" in tail, optional)


def _at_commas(text: str) -> list[str]:
    """The text parted at commas outside parentheses."""
    parts, depth = [""], 0
    for character in text:
        depth += (character == "(") - (character == ")")
        if character == "," and depth == 0:
            parts.append("")
        else:
            parts[-1] += character
    return parts


def strikes(tokens: Sequence[Token]) -> bool:
    """Whether something is struck among the tokens."""
    return any(token.played for token in tokens)


def roots_of(tokens: Sequence[Token]) -> list[int | None]:
    """The pitch classes of the roots in a row, None for N.C."""
    played = [one for token in tokens for one in token.played]
    notes = [one.bass if one.chord is None else one.chord.root for one in played]
    return [None if note is None else pitch_class_of(note) for note in notes]
