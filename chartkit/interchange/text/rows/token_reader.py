"""Reads chord rows token by token, as the sheet names its notes."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from chartkit.interchange.intake_result import SymbolReader
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.counted_tokens import has_counts, may_be_count
from chartkit.interchange.text.rows.mistyped import is_change, slips_of
from chartkit.interchange.text.tokens import (
    NARROW,
    STRUCK,
    WORDS_TOO,
    Kind,
    Played,
    Sign,
    Token,
    at_commas,
    is_music,
)
from chartkit.interchange.text.vocabulary.facts import meter_of
from chartkit.interchange.text.vocabulary.farewells import begins_with_hour
from chartkit.interchange.text.vocabulary.note_names import SheetNoteNames
from chartkit.interchange.text.vocabulary.reference_lines import is_about_the_song, is_tablature
from chartkit.interchange.text.vocabulary.rests import rest_among
from chartkit.theory.chord import Chord
from chartkit.theory.note import NOTE_NAME, parse_note

_SIGNS_BEFORE = r"(?:[/_rx],){0,8}"
_SIGNS_BEHIND = r"[!~]*(?:,[/_rx](?=[,\s|]|$)){0,8},*"
_TOKEN = re.compile(
    # (Bb7(b9)), parentheses in parentheses
    rf"{_SIGNS_BEFORE}<?\([^()|\s]+(?:\([^()|\s]*\)[^()|\s]*)+\){_SIGNS_BEHIND}"
    rf"|{_SIGNS_BEFORE}<?\([^()|]*\){_SIGNS_BEHIND}"  # (C7) or a remark
    r"|:?\|\|?:?(?:\d{1,2}\.)*"  # a bar line
    r"|(?:[^\s|(:]|:(?!\|))+(?:\([^()\s|]*\)[^\s|():]*)*|\S"  # a chord or a word
)
_PLAIN_TOKEN = re.compile(r"\S+")
"""A token of a line that has none of the signs by which others are parted."""
_BAR = re.compile(r":?\|\|?:?(?:\d{1,2}\.)*")
_NO_CHORD = re.compile(r"\(?n\.?\s?c\.?\)?|\(?tacet\)?", re.IGNORECASE)
_TIMES = re.compile(r"\(?(?:[x×]\s?(\d{1,2})|(\d{1,2})\s?[x×])\)?", re.IGNORECASE)
_STRANGE = re.compile(r"\(?[A-H][#b♯♭]?[^\s|]{0,8}\d[^\s|]{0,6}")
"""A text with a figure that begins as a chord does is no word, though no chord is known that is
written so."""
_MOST_STRANGE = 2
"""At most so many of them stand in a row beside each chord (ours)."""
_MOST_WORDS = 3
"""At most so many words stand in a row with fewer chords (ours)."""
_COUNT = re.compile(r"\d{1,2}")
"""A figure among chords is no word: it counts bars or beats."""
_JOINTS = re.compile(r"\s*(?:-+>|=+>|→|>+|–|—|-)\s*")
_APART = re.compile(r"(?:[^\s()→>–—-]|-(?=\d))+")
_RESOLVING = re.compile(r"([A-H][#b♭♯]?)(?:sus)?4-3")
"""A fourth held back before the third: ``D4-3`` (common practice, no source)."""
_LASTING = re.compile(r"([^()*\s]+)(\(\d{1,2}\)|\*\d{1,2})")
_HELD = re.compile(r"([^()\s]+)(\([^()\W\d][^()]*\))")
"""A chord and a remark on it without a blank: ``G(hold)``."""
_FILLER = re.compile(r"[-–—>=→_~*:;,….]+")
_CHORDISH = re.compile(r"[A-GH][^\s]{0,40}")
_TRIANGLE = re.compile(r"(?<=[A-Ha-h#b♯♭])\^(?=(?:7|9|11|13)\b)")
"""The triangle of a major seventh as a keyboard has it (common practice, no source)."""
_NEW_BASS = re.compile(rf"/({NOTE_NAME.pattern})")
_SIGNS: dict[str, Sign] = {"/": "/", "_": "_", "r": "r", "x": "x"}
_RESTING = ("rest", "tacet", "pause")
_SHORTEST_SLIP = 2
_CHORDS = ("chord", "bass")
_BEHIND_A_WORD = ".,;:!?"
_LONGEST_TOKEN, _LONGEST_KEPT = 120, 400
"""The longest row whose tokens are kept, since rows are often read again."""


Part = tuple[Kind, str, int, tuple[Played, ...]]
"""A token while it is being read: its kind, its text, its start in the line, what is played."""


@dataclass(slots=True)
class _Counts:
    """How many tokens of a row are words, strange texts that could be chords, chords, and chords
    that are no words too."""

    words: int = 0
    strange: int = 0
    chords: int = 0
    sure: int = 0

    def add(self, token: Token) -> None:
        """Counts a token."""
        if token.kind in STRUCK:
            self.chords += 1
            self.sure += token.text not in WORDS_TOO
        elif token.kind == "word":
            strange = _STRANGE.fullmatch(token.text) is not None
            self.strange += strange
            self.words += not strange and _COUNT.fullmatch(token.text) is None


class TokenReader:
    """Reads chord rows; ``naming`` is how the sheet names its notes, ``behind`` whether it has
    chords behind its words, ``within`` whether it has them in parentheses among its words,
    ``people`` whom it names, that are no chords."""

    def __init__(
        self,
        read_symbol: SymbolReader,
        naming: SheetNoteNames,
        behind: bool = False,
        within: bool = False,
        people: frozenset[str] = frozenset(),
    ) -> None:
        self.naming, self.behind, self.within = naming, behind, within
        self.people = people
        self.read_symbol = lru_cache(maxsize=8192)(read_symbol)
        self.read = lru_cache(maxsize=8192)(self._read)
        self.may_strike = lru_cache(maxsize=8192)(self._may_strike)
        self._row = lru_cache(maxsize=2048)(self._row_of)
        self._is_chords = lru_cache(maxsize=2048)(self._has_chords_alone)

    def row(self, line: Line) -> tuple[Token, ...] | None:
        """The tokens of a line that is a row of chords; None for any other."""
        text = line.text
        tokens = self._row(text) if len(text) <= _LONGEST_KEPT else self._row_of(text)
        if tokens is None or line.columns is None:
            return tokens
        return tuple(
            replace(
                token,
                column=line.column(token.column),
                end=line.column(token.end),
            )
            for token in tokens
        )

    def is_chords(self, text: str) -> bool:
        """Whether a text is a row with chords and without a word."""
        return len(text) <= _LONGEST_KEPT and self._is_chords(text)

    def _has_chords_alone(self, text: str) -> bool:
        kinds = {token.kind for token in self._row(text) or ()}
        return not kinds.isdisjoint(_CHORDS) and "word" not in kinds

    def _row_of(self, text: str) -> tuple[Token, ...] | None:
        """The tokens of a text that is a row of chords, with their places in it as columns."""
        pieces = _pieces_of(text)
        if not self._may_be_row(text, pieces) or is_tablature(text) or begins_with_hour(text):
            return None
        counts = _Counts()
        tokens: list[Token] = []
        for token in self._tokens_of(text):
            tokens.append(token)
            counts.add(token)
            if counts.words > _MOST_WORDS and counts.words > counts.chords:
                return None
        if self.within and counts.words and _are_within(tokens):
            return None
        if counts.strange > _MOST_STRANGE * counts.chords:
            counts.words += counts.strange
        if counts.words and self.naming.small and _small_among(pieces):
            return None
        music = is_music(tokens, counts.words, counts.chords, counts.sure)
        return tuple(tokens) if music and not is_about_the_song(text) else None

    def _may_be_row(self, text: str, pieces: Sequence[str]) -> bool:
        """Whether a text may be a row by a quick look: a piece of it may be a chord, and not most
        of them begin with small letters, as no chord does."""
        barred = "|" in text
        if not (barred or "(" in text) and not any(map(self.may_strike, pieces)):
            return False
        small = _small_among(pieces)
        if barred:
            small -= sum(piece in _SIGNS and piece.isalpha() for piece in pieces)
        return small <= _MOST_WORDS or small * 2 <= len(pieces) or bool(self.naming.small)

    def _tokens_of(self, text: str) -> Iterator[Token]:
        """The tokens of a text; a lone "r" or "x" is a word where no bar lines stand."""
        barred = "|" in text
        for kind, part, at, played in self._parts_of_line(text):
            token = Token(kind, at, part, played, at + len(part))
            yield replace(token, kind="word", played=()) if token.letter and not barred else token

    def _may_strike(self, piece: str) -> bool:
        """Whether a piece between blanks may hold a chord; what is letters and figures is read
        whole."""
        plain = piece.isascii() and piece.rstrip(_BEHIND_A_WORD).isalnum()
        return not plain or self.read(piece)[0] in STRUCK

    def _parts_of_line(self, line: str) -> Iterator[Part]:
        """The tokens of a line in order, a rest of several words as one."""
        rests = _rests_in(line)
        passed = 0
        plain = not ("(" in line or "|" in line or ":" in line)
        counted = "(" in line and has_counts(line)
        for match in (_PLAIN_TOKEN if plain else _TOKEN).finditer(line):
            at = match.start()
            if at in rests:
                passed = rests[at]
                yield "rest", line[at:passed], at, ()
            elif at >= passed:
                yield from self._parts(match[0], at, counted and may_be_count(match[0]))

    def _parts(self, text: str, start: int, counted: bool) -> list[Part]:
        """A token, or the chords of several that dashes or arrows join, or that stand in
        parentheses together; or a chord and how long it lasts, as a remark."""
        text = text if text.isascii() else text.translate(NARROW)
        if counted and (lasting := self._with_remark(text, start)):
            return lasting
        kind, played = self.read(text)
        if kind == "cue" and (together := self._together(text, start)):
            return together
        parts: list[Part] | None = None
        if kind == "word" and not text.rstrip(_BEHIND_A_WORD).isalnum():
            parts = self._with_remark(text, start) or self._joined(text, start)
        return parts or [(kind, text, start, played)]

    def _with_remark(self, text: str, start: int) -> list[Part] | None:
        """A chord with its resolution, with a remark on it, or with how long it lasts; None for
        any other text."""
        if (late := _RESOLVING.fullmatch(text)) is not None:
            held, free = f"{late[1]}sus4", late[1]
            last = start + len(text) - 1
            return [
                ("chord", held, start, self.read(held)[1]),
                ("chord", free, last, self.read(free)[1]),
            ]
        if (said := _HELD.fullmatch(text)) is not None:
            own_kind, own = self.read(said[1])
            if own_kind == "chord" and not is_change(said[2]):
                return [("chord", said[1], start, own), ("cue", said[2], start + said.end(1), ())]
        if (lasting := _LASTING.fullmatch(text)) is not None:
            own_kind, own = self.read(lasting[1])
            if own_kind == "chord":
                beats = f"({lasting[2].strip('()*')})"
                return [("chord", lasting[1], start, own), ("cue", beats, start, ())]
        return None

    def _joined(self, text: str, start: int) -> list[Part] | None:
        """The chords that dashes or arrows join; None for any other text."""
        if len(text) > _LONGEST_TOKEN or not _JOINTS.search(text):
            return None
        collected: list[Part] = []
        at = 0
        for piece in _JOINTS.split(text):
            if not piece:
                continue
            at = text.index(piece, at)
            own_kind, own_played = self.read(piece)
            if own_kind not in STRUCK:
                return None
            collected.append((own_kind, piece, start + at, own_played))
            at += len(piece)
        return collected

    def _together(self, text: str, start: int) -> list[Part] | None:
        """The chords within one pair of parentheses, all optional; None where others stand
        among them."""
        inside = text[1:-1]
        collected: list[Part] = []
        for match in _APART.finditer(inside):
            kind, played = self.read(match[0])
            if kind not in STRUCK:
                return None
            optional = tuple(replace(one, optional=True) for one in played)
            collected.append((kind, match[0], start + 1 + match.start(), optional))
        return collected

    def _read(self, text: str) -> tuple[Kind, tuple[Played, ...]]:
        """What a token is, and what is struck."""
        if len(text) > _LONGEST_TOKEN or text.isdecimal():
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
        if meter_of(text) is not None:
            return "meter", ()
        if (played := self._shared_beat(text)) is not None:
            return _kind_of(played), played
        if _FILLER.fullmatch(text):
            return "filler", ()
        return ("cue" if text.startswith("(") and text.endswith(")") else "word"), ()

    def _shared_beat(self, text: str) -> tuple[Played, ...] | None:
        """What is played in a token: a chord, or what commas part, which shares a beat."""
        bare = text.rstrip(",")
        whole = Played(sign=_SIGNS[bare]) if bare in _SIGNS else self._chord(text)
        if whole is not None:
            return (whole,)
        if "," not in bare:
            return None
        parts = [
            Played(sign=_SIGNS[part]) if part in _SIGNS else self._chord(part)
            for part in at_commas(bare)
        ]
        return None if None in parts else tuple(part for part in parts if part is not None)

    def _chord(self, text: str) -> Played | None:
        bare = text.lstrip("<").rstrip("!~,*;.…'´`^")
        optional = bare.startswith("(") and bare.endswith(")")
        if optional:
            bare = bare[1:-1].strip().rstrip("!~")
        if bare.rstrip(":") in self.people:
            return None
        if _NO_CHORD.fullmatch(bare):
            return _played(text, None, None, optional)
        bass = _NEW_BASS.fullmatch(bare)
        if bass is not None:
            return _played(text, None, parse_note(bass[1]), optional)
        chord = self.symbol(bare)
        if chord is None and (meant := self.without_slip(bare)):
            chord = self.symbol(meant)
        return None if chord is None else _played(text, chord, None, optional)

    def without_slip(self, symbol: str) -> str:
        """The chord that was meant by a symbol with a slip of the finger in it; empty for any
        other text."""
        if not symbol[:1].isupper() or len(symbol) < _SHORTEST_SLIP:
            return ""
        return next((one for one in slips_of(symbol) if self.symbol(one) is not None), "")

    def symbol(self, text: str) -> Chord | None:
        """The chord of a bare symbol, as the sheet names notes."""
        if "^" in text:
            text = _TRIANGLE.sub("maj", text)
        plain = self.naming.letters(text)
        if plain is None or _CHORDISH.fullmatch(plain) is None:
            return None
        return self.read_symbol(plain)


def _are_within(tokens: Sequence[Token]) -> bool:
    """Whether several chords stand in parentheses among other tokens, as they do among words."""
    return sum(token.kind in STRUCK and token.text[:1] == "(" for token in tokens) > 1


def _pieces_of(text: str) -> list[str]:
    """What blanks part in a text; behind chords not what is said in parentheses."""
    pieces = text.split()
    if _small_among(pieces) > _MOST_WORDS and pieces[-1][-1] == ")" and pieces[0][0] != "(":
        return text.partition("(")[0].split()
    return pieces


def _small_among(pieces: Sequence[str]) -> int:
    """How many pieces begin with a small letter."""
    return sum([piece[0].islower() for piece in pieces])


def _rests_in(line: str) -> dict[int, int]:
    """Where the rests that stand alone in their bars begin in a line, and where they end."""
    if "|" not in line or not any(sign in line.lower() for sign in _RESTING):
        return {}
    rests: dict[int, int] = {}
    cell: list[re.Match[str]] = []
    for match in (*_TOKEN.finditer(line), None):
        if match is not None and not _BAR.fullmatch(match[0]):
            cell.append(match)
            continue
        result = rest_among([piece[0] for piece in cell])
        if result is not None:
            rests[cell[result[0]].start()] = cell[result[1]].end()
        cell = []
    return rests


def _kind_of(played: Sequence[Played]) -> Kind:
    """The kind of a token by what is played in it."""
    struck = [one for one in played if not one.sign]
    if not struck:
        return "hold"
    return "bass" if struck[0].chord is None else "chord"


def _played(
    text: str, chord: Chord | None, bass: int | None = None, optional: bool = False
) -> Played:
    """What is struck, with the manner that the signs around it tell."""
    tail = text[len(text.rstrip("!~,*;.)")) :]
    return Played(
        chord=chord,
        bass=bass,
        pushed=text.startswith("<"),
        stopped="!" in tail,
        ringing="~" in tail,
        optional=optional,
    )
