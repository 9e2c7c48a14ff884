"""Recognises how a sheet names its notes and keys: letters, the German H and B, or do re mi.

Source of the names: common practice; in German B natural is H and B is B flat, in Romance
languages notes are sung syllables.
"""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from chartkit.interchange.text.quick_looks import BeginsWithWord
from chartkit.interchange.text.tokens import WORDS_TOO
from chartkit.theory.naming import LETTER_OF, note_from_german
from chartkit.theory.note import parse_note, pitch_class_of

_SYLLABLE = re.compile(r"(DO|RE|RÉ|MI|FA|SOL|LA|SI|Do|Re|Ré|Mi|Fa|Sol|La|Si)(.*)")
_SMALL_SYLLABLE = re.compile(r"(do|re|ré|mi|fa|sol|la|si)((?:[#b♭♯]|m|-|7|maj|sus|dim|\d|\+|/).*)?")
_SYLLABLE_WITHIN = re.compile(
    r"\((DO|RE|RÉ|MI|FA|SOL|LA|SI|[Dd]o|[Rr][eé]|[Mm]i|[Ff]a|[Ss]ol|[Ll]a|[Ss]i)"
    r"(?:[#b♭♯]|m|-|maj|sus|dim|\d|\+){0,4}(?:/[^\s()]{1,5})?\)"
)
_GERMAN = re.compile(r"(?:H|[A-H]is|[DG]es|[AE]s(?!us))(?:mi?|is|7|maj|sus|dim|/|$|\d|#|-)")
_GERMAN_WITHIN = re.compile(  # the letter first, to be looked for quickly
    r"[A-H](?<!\S.)(?:(?<=H)|is|(?<=[DG])es|(?<=[AE])s(?!us))(?:m|is|7|maj|sus|dim|/|(?!\S)|\d|#|-)"
)
_GERMAN_BASS = re.compile(r"[A-H](?<!\S.)[^\s/]{0,6}/(?:H|[A-H]is|[DG]es|[AE]s)(?!\S)")
_GERMAN_ROOT = re.compile(r"([A-H])(is|(?<=[CDFGHB])es|(?<=[AE])s(?!us))?")
_ENDINGS_OF_WORDS = frozenset({"ma", "mas", "o"})
"""What makes a word of a syllable ("Rema", "Solo"), though letters may have it as a quality."""
_MAJOR_SEVENTH = re.compile(r"7\+")
"""How a major seventh is typed beside syllables (common practice, no source)."""
_QUALITY = r"(?:[#b♭♯]?(?:mi?|-|maj|min|dim|sus|add|\d|\+|°)*\d*(?:/\S+)?)"

Small = Literal["", "capitals", "minor"]
"""The meaning of small letters at the start of chords: capitals typed lazily, or minor chords."""
_SMALL_ROOT = re.compile(r"[a-h](?:is|es|s(?!us)|[#b♭♯])?")
_SMALL = re.compile(
    rf"{_SMALL_ROOT.pattern}(?:m|min|maj|dim|sus|add|\d|\+|°|[#b]\d){{0,4}}(?:/[A-Ha-h](?:is|es|s|[#b])?)?"
)
_MINOR = re.compile(r"[A-H](?:is|es|[#b])?m(?!aj).*")
_SMALL_MINOR = re.compile(r"[a-h](?:is|es|[#b])?m[67]?")
"""A minor chord in a small letter with its m, which is nothing else in a row of several."""
_CAPITAL = re.compile(rf"[A-H](?:is|es|s(?!us))?{_QUALITY}")
_BEGINS_GERMAN = BeginsWithWord(
    r"\s*[\[(]?(?:\d\.?\s*)?(?:strophe|vorspiel|nachspiel|zwischenspiel|kehrvers|schluss|überleitung|"
    r"tonart|kapodaster|kapo|ablauf|toneart|forspill|mellomspill|refreng|omkvæd|zwrotka|refren|"
    r"refräng|omkväde|förspel|mellanspel|efterspel|säkeistö|kertosäe|sloka|kehrreim|worte|"
    r"(?:text|worte|wort) (?:und|u\.|&|\+) (?:musik|weise|melodie)|musik und text|"
    r"3/4-takt|4/4-takt)\b",
)
_GERMAN_MODE = re.compile(r"(?<!\w)[A-H](?:is|es|s)?[- ]?(?:dur|moll)(?!\w)", re.IGNORECASE)
"""Words of sheets in languages in which B may be B flat."""
_LONGEST_HEAD = 80
_TRIAD = re.compile(r"(?P<root>[A-H][#b]?)(?P<minor>m(?!aj)i?)?(?:\d|maj\d?|sus\d?|/[A-H][#b]?)*")
_DIATONIC = {(0, False), (2, True), (4, True), (5, False), (7, False), (9, True)}
"""The triads of a major key but for the diminished one."""
_B = 11
_NO_CHORDS = "|-–/%."
"""What stands between chords."""
_NAME_BEFORE = re.compile(r"^\s*[^\W\d_][^\W_]{0,14}(?:\s\w{1,10})?\s?[:=]\s+")
"""A section's name before its chords."""
_NAME_BEFORE_LIST = re.compile(r"^\s*[^\W\d_]{3,12},?\s+(?=[a-h][#bm7]{0,3},\s)")
"""A section's name before chords in small letters with commas between them."""
_REMARK_BEHIND = re.compile(r"\s+\([^()|]*[^\W\d_]{3}[^()|]*\)\s*$")
"""What is said behind a row of chords."""
_LONGEST_ROW = 200
_FEWEST_SMALL = 2
_SMALL_GERMAN = re.compile(r"h(?:7|m)?|[cdfg]is(?:7|m)?")
"""Small letters that are written only by people who call B natural H."""
_SHORTEST_NAME, _FEWEST_BEHIND = 2, 3
_LAST_BEHIND = frozenset("abcdefghx(0123456789")
_TIMES = re.compile(r"\(?(?:[x×]\d{1,2}|\d{1,2}[x×])\)?")
_GAP, _DASH = "  ", " - "
_ENDS_TAIL = frozenset("abcdefghsABCDEFGHm7)")
_IN_TAIL = re.compile(r"[A-Ha-h](?:is|es|s)?[#b]?m?\d?")


def _tail_of(line: str) -> tuple[str, ...]:
    """The short tokens behind a gap, or several behind a dash, at the end of a line of words, as
    chords stand there; none where others do."""
    words, gap, tail = line.rstrip().partition(_GAP)
    fewest = 1
    if not gap:
        words, gap, tail = line.rpartition(_DASH)
        fewest = 2
    tokens = tail.split()
    if not words.strip() or not gap or not fewest <= len(tokens) < _MOST_TOKENS:
        return ()
    return tuple(tokens) if all(map(_IN_TAIL.fullmatch, tokens)) else ()


_FEWEST_TAILS = 3
_FIRST = frozenset("ABCDEFGHabcdefgh(*|-/")
"""How tokens begin in rows that may tell what small letters are."""
_MOST_TOKENS, _LONGEST_TOKEN = 16, 10


@dataclass(frozen=True, slots=True)
class SheetNoteNames:
    """The way notes are named; ``small`` tells what small letters are, if anything."""

    kind: Literal["letters", "german", "syllables"] = "letters"
    small: Small = ""

    def letters(self, symbol: str) -> str | None:
        """The symbol with its root and bass as capital letters; None for what is none here."""
        if self.small and self.kind != "syllables" and _SMALL.fullmatch(symbol):
            symbol = self._capital(symbol)
        return self._letters(symbol)

    def _capital(self, symbol: str) -> str:
        root, slash, bass = symbol.partition("/")
        match = _SMALL_ROOT.match(root)
        assert match is not None
        quality = root[match.end() :]
        minor = "m" if self.small == "minor" and not quality.startswith(("m", "d", "s")) else ""
        return match[0].capitalize() + minor + quality + slash + bass.capitalize()

    def _letters(self, symbol: str) -> str | None:
        if self.kind == "letters":
            return symbol
        if self.kind == "syllables" and self.small and _SMALL_SYLLABLE.fullmatch(symbol):
            symbol = symbol[0].upper() + symbol[1:]
        root, slash, bass = symbol.partition("/")
        if self.kind == "german":
            return _from_german(root) + (slash and slash + _from_german(bass))
        match = _SYLLABLE.fullmatch(root)
        if match is None or match[2] in _ENDINGS_OF_WORDS:
            return None
        low = _SYLLABLE.fullmatch(bass)
        bass = bass if low is None else LETTER_OF[low[1].lower()] + low[2]
        quality = _MAJOR_SEVENTH.sub("maj7", match[2])
        return LETTER_OF[match[1].lower()] + quality + slash + bass


def _from_german(symbol: str) -> str:
    match = _GERMAN_ROOT.match(symbol)
    if match is None:
        return symbol
    letter, sign, rest = match[1], match[2] or "", symbol[match.end() :]
    if letter == "B" and not sign and rest.startswith(("b", "♭", "#", "♯")):
        return symbol
    return note_from_german(letter, sign) + rest


def has_chords_behind(lines: Sequence[str]) -> bool:
    """Whether several lines of words have chords behind them, after a gap."""
    return sum(map(has_chords_at_end, lines)) >= _FEWEST_TAILS


_SUNG = re.compile(r"(?!sus|dim|aug|maj|min|add)[^\W\d_A-Z]{3}")
"""Letters that no chord symbol has."""


def has_chords_at_end(line: str) -> bool:
    """Whether a line of words has chords behind them, after a gap, that are hardly words."""
    if _GAP not in line or line[-1:] not in _ENDS_TAIL or _SUNG.search(line) is None:
        return False
    tail = _tail_of(line)
    return bool(tail) and tail[0] not in WORDS_TOO


def has_chords_within(lines: Sequence[str]) -> bool:
    """Whether several lines have chords in parentheses among words that can be nothing else."""
    return sum(map(_has_chord_within, lines)) >= _FEWEST_WITHIN


def _has_chord_within(line: str) -> bool:
    names = _WITHIN.findall(line[:_LONGEST_WITHIN]) if "(" in line else []
    syllables = {*_SYLLABLE_WITHIN.findall(line[:_LONGEST_WITHIN])} if "(" in line else {""}
    sure = any(name not in WORDS_TOO for name in names) or len(syllables) > 1
    rest = _SYLLABLE_WITHIN.sub(" ", _WITHIN.sub(" ", line[:_LONGEST_WITHIN])) if sure else ""
    return sure and _A_WORD.search(rest) is not None


_FEWEST_WITHIN, _LONGEST_WITHIN = 3, 400
_WITHIN = re.compile(r"\(([A-H][#b♯♭]?(?:maj|min|m|dim|sus|add|\d{1,2}){0,3}(?:/[A-H][#b♯♭]?)?)\)")
_A_WORD = re.compile(r"[^\W\d_]{2}")


def naming_of(lines: list[str]) -> SheetNoteNames:
    """The naming that a sheet's rows of short tokens use.

    Syllables where rows are made of them, German where a row of chords has an H or a Fis,
    letters otherwise.
    """
    signs = _Signs()
    counted = Counter(lines)
    for line, times in counted.items():
        signs.add(line, times)
    if signs.syllables > 1:
        return SheetNoteNames("syllables")
    if signs.small_syllables > _FEWEST_SMALL:
        return SheetNoteNames("syllables", "capitals")
    small, german = _small_in(signs.rows), bool(signs.german)
    if small and not german:
        german = any(
            _SMALL_GERMAN.fullmatch(token.strip("()*,|-")) for row in signs.rows for token in row
        )
    if not german and any(map(_says_german, counted)):
        german = _b_is_flat(signs.rows)
    return SheetNoteNames("german" if german else "letters", small)


@dataclass(slots=True)
class _Signs:
    """Signs of how notes are named, counted over the lines; ``rows`` are rows of short tokens."""

    syllables: int = 0
    small_syllables: int = 0
    german: int = 0
    rows: Counter[tuple[str, ...]] = field(default_factory=Counter)

    def add(self, whole: str, times: int) -> None:
        """Counts the signs in a line that stands so often in the sheet."""
        if "(" in whole:
            self._add_within(whole[:_LONGEST_WITHIN], times)
        line = _NAME_BEFORE.sub("", whole) if ":" in whole or "=" in whole else whole
        if ", " in line and len(line) <= _LONGEST_ROW:
            line = _NAME_BEFORE_LIST.sub("", line)
        behind = line[-1:] in _ENDS_TAIL and (_GAP in line or _DASH in line)
        if behind and (tail := _tail_of(line)):
            self.rows[tail] += times
            self.german += times * _has_german(tail)
        remarked = "(" in line and len(line) <= _LONGEST_ROW and line.lstrip()[:1] != "("
        tokens = (_REMARK_BEHIND.sub("", line) if remarked else line).split()
        if "|" in line or " - " in line or " – " in line:
            tokens = [token for token in tokens if token not in _NO_CHORDS]
        if not tokens or len(tokens) > _MOST_TOKENS or max(map(len, tokens)) > _LONGEST_TOKEN:
            return
        if (named := _behind_a_name(tokens)) is not None:
            self.rows[named] += times
            return
        self._add_tokens(line, tokens, times)

    def _add_within(self, line: str, times: int) -> None:
        """Counts a line of words with several different syllables of notes in parentheses."""
        roots = [match[1] for match in _SYLLABLE_WITHIN.finditer(line)]
        if len({root.casefold() for root in roots}) > 1:
            small = all(map(str.islower, roots))
            self.small_syllables += times * small
            self.syllables += times * (not small)

    def _add_tokens(self, line: str, tokens: list[str], times: int) -> None:
        first = tokens[0].strip("(),")
        if _SYLLABLE.fullmatch(first):
            self.syllables += times * _all_syllables(tokens)
        elif _SMALL_SYLLABLE.fullmatch(first):
            titled = [token.strip("(),").title() for token in tokens]
            self.small_syllables += times * _all_syllables(titled)
        if "/" in line and _GERMAN_BASS.search(line) is not None:
            self.german += times * _has_german(tokens, low=True)
        if _GERMAN_WITHIN.search(line) is not None:
            self.german += times * _has_german(tokens)
        if tokens[0][0] in _FIRST and tokens[-1][0] in _FIRST:
            self.rows[tuple(tokens)] += times


def _behind_a_name(tokens: Sequence[str]) -> tuple[str, ...] | None:
    """The chords in small letters behind a name without a colon ("riff e e7 a7 e x2"); None for
    any other row."""
    if tokens[-1][0] not in _LAST_BEHIND or len(tokens) <= _FEWEST_BEHIND:
        return None
    first, chord = tokens[0], _SMALL.fullmatch(tokens[0]) or _CAPITAL.fullmatch(tokens[0])
    if len(first) < _SHORTEST_NAME or not first.isalpha() or chord is not None:
        return None  # "Em c g d"
    chords = tuple(token for token in tokens[1:] if _TIMES.fullmatch(token) is None)
    if len(chords) < _FEWEST_BEHIND or not all(map(_SMALL.fullmatch, chords)):
        return None
    return chords


def _says_german(line: str) -> bool:
    """Whether the words of a line are of a language in which B may be B flat."""
    if len(line) >= _LONGEST_ROW:
        return False
    lower = line.lower()
    named = ("dur" in lower or "moll" in lower) and _GERMAN_MODE.search(line) is not None
    short = len(line) < _LONGEST_HEAD
    return named or (short and _BEGINS_GERMAN.match(line) is not None)


def _b_is_flat(rows: Counter[tuple[str, ...]]) -> bool:
    """Whether there is an H, or the chords on B lie better in one key with all others if B is B
    flat."""
    triads: Counter[tuple[int, bool]] = Counter()
    for row, times in rows.items():
        chords = [
            _TRIAD.fullmatch(token.strip("()|*,")) for token in row if token not in _NO_CHORDS
        ]
        if any(chord is None for chord in chords):
            continue
        for chord in filter(None, chords):
            if chord["root"] == "Bb":
                return False
            if chord["root"][0] == "H":
                return True
            root = pitch_class_of(parse_note(chord["root"]))
            triads[root, chord["minor"] is not None] += times
    natural = sum(count for (root, _), count in triads.items() if root == _B)
    lowered = {(_B - 1 if root == _B else root, minor): n for (root, minor), n in triads.items()}
    return natural > 0 and _most_in_a_key(lowered) > _most_in_a_key(triads)


def _most_in_a_key(triads: Mapping[tuple[int, bool], int]) -> int:
    """How many triads lie in the major key in which most do."""
    return max(
        sum(n for (root, minor), n in triads.items() if ((root - tonic) % 12, minor) in _DIATONIC)
        for tonic in range(12)
    )


def _small_in(rows: Counter[tuple[str, ...]]) -> Small:
    """What small letters are in a sheet: minor chords where they stand among capital ones in
    several rows and no minor chord has its m, capitals where all rows have small ones alone."""
    mixed = small = capital = minors = spelled = 0
    for row, times in rows.items():
        chords = [bare for token in row if (bare := token.strip("()*,|-"))]
        if not all(token[0] in "ABCDEFGHabcdefgh" for token in chords):
            continue
        low = sum(_SMALL.fullmatch(token) is not None for token in chords)
        high = sum(_CAPITAL.fullmatch(token) is not None for token in chords)
        if low + high < max(2, len(chords)):
            continue
        explicit = len(chords) > 1 and all(map(_SMALL_MINOR.fullmatch, chords))
        spelled += times * explicit
        minors += explicit + sum(_MINOR.fullmatch(token) is not None for token in chords)
        if high:  # "C d em": who types an m means no minor chord without it
            minors += sum(_SMALL_MINOR.fullmatch(token) is not None for token in chords)
        mixed += times * (low > 0 and high > 0)
        small += times * (high == 0)
        capital += times * (low == 0)
    if mixed + spelled >= _FEWEST_SMALL and mixed:
        return "capitals" if minors else "minor"
    return "capitals" if small >= _FEWEST_SMALL and not capital + mixed else ""


def _all_syllables(tokens: list[str]) -> bool:
    tokens = [bare for token in tokens if (bare := token.strip("(),"))]
    match = [_SYLLABLE.fullmatch(token) for token in tokens]
    fits = all(m is not None and re.fullmatch(_QUALITY, m[2]) for m in match)
    return fits and len({token.upper() for token in tokens}) > 1


def _has_german(tokens: Sequence[str], low: bool = False) -> bool:
    chords = sum(
        re.fullmatch(rf"[A-H](?:is|es|s(?!us))?{_QUALITY}", token) is not None for token in tokens
    )
    named = low or any(_GERMAN.match(token) for token in tokens)
    return chords * 2 > len(tokens) and named
