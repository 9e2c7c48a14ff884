"""Puts words under chords: cuts a line of words by columns.

People aim at the syllable and miss by a column: a chord above the second letter of a word is
meant for the word (common practice, no source); one further in cuts the word there, if both
halves can be syllables.
"""

import re
import unicodedata
from collections.abc import Container, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import accumulate, pairwise

from chartkit.chart.model import Bar, MusicRow, Segment, WordsRow
from chartkit.diagnostics import Span
from chartkit.interchange.text.lines import Line, line_of
from chartkit.interchange.text.rows.read_rows import ReadRow
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.tokens import STRUCK, WORDS_TOO, Kind, Played, Token
from chartkit.interchange.text.vocabulary.times_played import times_said

_NEAR = 1
_ONE_SOUND = (
    "ai",
    "au",
    "ay",
    "ea",
    "ee",
    "ei",
    "eu",
    "ey",
    "ie",
    "oa",
    "oe",
    "oi",
    "oo",
    "ou",
    "oy",
)
"""Pairs of vowels that are usually one syllable (common practice, no source)."""
_SILENT = re.compile(r"[b-df-hj-np-tv-z]{0,3}e(?:d|s)?", re.IGNORECASE)
"""How words may end in an e that is not sung, as in *tide*, *asked* and *leaves* (in English;
common practice)."""
_SUNG_ENDING = re.compile(r".*(?:[dt]ed|(?:[cgsxz]|ch|sh)es|[^aeiouy][lr]es?)", re.IGNORECASE)
"""Words whose last e is sung all the same, as in *wanted*, *roses* and *little*."""
_VOWELS = re.compile(r"(?:(?<!q)u|(?<=[^aeiou])y|[aeio])(?:[aeiou]|y(?![aeiou]))*")
_POSSESSIVE = re.compile(r"(?<![sxzc])(?<![cs]h)(?<!ge)(?<!ce)(?<!se)(?<!ze)['’]s\Z", re.IGNORECASE)
"""A genitive that adds no syllable to its word."""
_CONTRACTED = re.compile(r"['’][a-z]{1,3}\b.*")
"""Contracted endings, as in *you're*, that add no syllable."""
_RUNS = re.compile(r"[aeiouyæœøı]+")
_CLOSED = ("ght", "gh", "ck", "tch", "dg")
"""Consonants that belong to the syllable before."""
_ENDS_IN_LE = re.compile("le[sd]?")
_BEHIND_SILENT_E = re.compile(
    r"(?P<stem>\w*[^aeiou\W]e)(?:ly|ful|fully|less|ness|ment|body|things?|times?|where|wards?|how|"
    r"what|land|man|men|light|side|one|day|line|work|long)\b"
)
"""English words of which the first part ends in an e that is not sung, as *somebody*."""
_BEHIND_EVERY = re.compile(r"(?P<stem>ev(?=ery)|eve(?=ning))\w*")
_ALL_ONSETS = """
b c d f g h j k l m n p r s t v w x z bl br ch chr cl cr dr dw fl fr gl gn gr kn kr ph phr pl pr qu
rh sc sch scr sh shr sk sl sm sn sp sph spl spr squ st str sw th thr tr tw wh wr
"""
_ONSETS = frozenset(_ALL_ONSETS.split())
"""Runs of consonants that can begin a syllable."""
_VOWEL = re.compile(r"[aeiouyAEIOUY]")
_LONGEST_WORD = 60
_LONGEST_KEPT = 240
LAST_LATIN = 0x24F
"""The last of the Latin letters with marks (Unicode blocks)."""


def segments_of(line: Line, columns: Sequence[int]) -> tuple[Segment, ...]:
    """The words of a line cut at columns: one segment before the first and one for each."""
    places = columns if line.columns is None else map(line.index, columns)
    cut = _segments_at if len(line.text) <= _LONGEST_KEPT else _segments_at.__wrapped__
    return cut(line.text, tuple(places))


@lru_cache(maxsize=256)  # songs say their lines again
def _segments_at(text: str, places: tuple[int, ...]) -> tuple[Segment, ...]:
    """The words of a text cut at places."""
    segments = []
    start, last = 0, -1
    for place in places:
        if start == len(text):  # nothing is left for this chord
            segments.append(_NO_WORDS)
            continue
        last = max(_cut(text, place, last), last, 0)
        segments.append(_segment(text, start, last))
        start = last
    segments.append(_segment(text, start, len(text)))
    return tuple(segments)


def _cut(text: str, at: int, last: int) -> int:
    """The place to cut nearest to an index: within the word where it has a syllable there;
    else before it, or behind it where the ``last`` chord has it already."""
    if at >= len(text) or at <= 0:
        return max(0, min(at, len(text)))
    if text[at].isspace() or text[at - 1].isspace():
        return at
    low, high = max(0, at - _LONGEST_WORD), min(len(text), at + _LONGEST_WORD)
    start = max(low, text.rfind(" ", low, at) + 1)
    if at - start <= _NEAR and start > last:
        return start
    for near in (at, at - 1, at + 1):
        if text[near - 1 : near] == "-":
            return near
    end = text.find(" ", at, high)
    end = high if end < 0 else end
    inside = _syllable_near(text[start:end], at - start) if at - start > _NEAR else 0
    if at == end - 1 and not text[at].isalnum() and text[end:].strip():
        return end  # behind the word's last letter: for the next one
    if inside:
        return start + inside
    before = at == end - 1 and 0 <= last < start <= last + _NEAR and text[last].isspace()
    return start if start > last and not before else end  # the chord in the gap has the word


@lru_cache(maxsize=4_096)  # songs have few words, and say them again
def _syllable_near(word: str, at: int) -> int:
    """The start of the syllable nearest to a place in a word; 0 if that is the word's beginning, or
    unknown."""
    if not word.isascii():
        plain = "".join(unicodedata.normalize("NFD", letter)[0] for letter in word)
        if not any(map(str.isascii, filter(str.isalpha, plain))):
            return at if _parts(word[:at], word[at:]) else 0
        word = plain
    begins = [b for b in _syllables_of(word) if _parts(word[:b], word[b:])]
    return min([0, *begins], key=lambda begin: (abs(begin - at), begin))


def _syllables_of(word: str) -> list[int]:
    """Where the second and further syllables of a word begin, about: before the longest run of
    consonants that can begin one (common practice for English and its neighbours, no source).

    A dictionary for hyphenation knows less than half of the places that singers know.
    """
    word = _CONTRACTED.sub("", word.lower())
    compound = _BEHIND_SILENT_E.match(word) or _BEHIND_EVERY.match(word)
    if compound is not None:  # the e before it is not sung
        start = compound.end("stem")
        before = _plain_syllables(compound["stem"].removesuffix("e"))
        return [*before, start, *(start + at for at in _plain_syllables(word[start:]))]
    return _plain_syllables(word)


def _plain_syllables(word: str) -> list[int]:
    begins = []
    for before, after in pairwise(_VOWELS.finditer(word)):
        cluster = word[before.end() : after.start()]
        closed = _closes(cluster, word[after.start() :])
        rest = cluster[len(closed) :]
        if len(rest) > 1 and _ENDS_IN_LE.fullmatch(word, after.start() - 1):
            onset = rest[-2:]
        else:
            onset = next((rest[i:] for i in range(len(rest)) if rest[i:] in _ONSETS), "")
        begins.append(after.start() - len(onset))
    return begins


def _closes(cluster: str, after: str) -> str:
    """The consonants that belong to the syllable before them, of those between two vowels."""
    if (cluster == "ng" and after.startswith("ing")) or (cluster == "w" and after.startswith("er")):
        return cluster
    if cluster == "ght":
        return "gh"
    return next((end for end in _CLOSED if cluster.startswith(end)), "")


def _parts(before: str, after: str) -> bool:
    """Whether a word can be sung in these two parts: each has a vowel, no pair of vowels that
    sounds as one is torn, and the second is more than a letter or an e that is not sung."""
    torn = f"{before[-1:]}{after[:1]}".lower() in _ONE_SOUND
    end = _POSSESSIVE.sub("", after.strip(".,;:!?…\"”’'"))  # "love's" has one syllable
    silent = _SILENT.fullmatch(end) is not None and not _SUNG_ENDING.fullmatch(before + end)
    silent = silent or (len(end) == 1 and end.isascii())
    return not torn and not silent and _sings(before) and _sings(after)


def _sings(part: str) -> bool:
    """Whether a part of a word can be a syllable: it has a vowel, or is in a script where we cannot
    know."""
    if part.isascii():
        return _VOWEL.search(part) is not None
    letters = unicodedata.normalize("NFD", part.lower())
    return any(c in "aeiouyæœøı" or (c.isalpha() and ord(c) > LAST_LATIN) for c in letters)


def _segment(line: str, start: int, end: int) -> Segment:
    """The words between two places of a line, and whether they break off within a word."""
    words = " ".join(line[start:end].split())
    if not words:
        return _NO_WORDS
    if not words.strip("_"):
        return Segment(held=True)
    words = words.rstrip("_").rstrip() if words.endswith("__") else words
    inside = end < len(line) and not line[end].isspace() and not line[end - 1].isspace()
    inside = inside and unicodedata.east_asian_width(line[end]) != "W"  # no blanks there
    hyphen = words.endswith("-") and words[-2:-1].isalnum()
    if hyphen:
        words = words.rstrip("-").rstrip()
    return Segment(words, hyphen or inside)


_NO_WORDS = Segment()
VERSE = re.compile(r"\s*(\d{1,2})[.)](?:\s+(?=\S)|\s*$)")
"""The number of a verse before its words."""
_TAIL = re.compile(r"\s\(([^()]+)\)\s*$")
_TIMES = re.compile(
    r"\s{2,}(\(?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\)?|\[(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\])$",
    re.IGNORECASE,
)
_LONGEST_TIMES = 12
_COUNT_IN_SIGNS = re.compile(r"(?<=\S)\s+[(\[]([^()\[\]]{2,30})[)\]]\s*$")
_LONGEST_COUNT, _FEWEST_TIMES = 40, 2
_ENDS_TIMES = frozenset("xX×)]")
_GAP = 2
_WIDE_GAP = 4
"""Behind so many blanks "A" and "Am" are chords, not words."""
_MOST_BEHIND = 8

Cells = tuple[tuple[Segment, ...], ...]


def words_row(line: Line, read: ReadRow) -> WordsRow:
    """The words under a row that was read."""
    verse = VERSE.match(line.text)
    if verse is not None:
        blank = " " * verse.end() + line.text[verse.end() :]
        line = replace(line, text=blank)
    number = int(verse[1]) if verse is not None else None
    cells = _free_cells(line, read) if read.music.free else _barred_cells(line, read)
    return WordsRow(cells, number, span=Span(line.number, line.number))


def _free_cells(line: Line, read: ReadRow) -> Cells:
    pieces = segments_of(line, read.columns[0])
    return (pieces[:1], pieces[1:])


def _barred_cells(line: Line, read: ReadRow) -> Cells:
    """A cell for the pick-up where the row begins with a bar line, then one a bar."""
    if "|" in line.text:  # some type the bar lines among the words too
        line = replace(line, text=line.text.replace("|", " "))
    flat = [column for columns in read.columns for column in columns]
    opened = read.music.lines[0].kind != "none"
    pieces = segments_of(line, flat if opened else flat[1:])
    cells: list[tuple[Segment, ...]] = [pieces[:1]] if opened else []
    at = 1 if opened else 0
    for columns in read.columns:
        cells.append(_trimmed(pieces[at : at + len(columns)]))
        at += len(columns)
    return tuple(cells)


def _trimmed(cell: tuple[Segment, ...]) -> tuple[Segment, ...]:
    while len(cell) > 1 and cell[-1] == Segment():
        cell = cell[:-1]
    return cell or (Segment(),)


def places_by_syllables(words: str, count: int) -> tuple[int, ...]:
    """The columns of so many chords spread over a line of words, each before a word where there
    are words enough."""
    pieces = list(re.finditer(r"\S+", words))
    before = [0, *accumulate(syllable_count(piece[0]) for piece in pieces)]
    total = before.pop()
    places: list[int] = []
    at = -1
    for number in range(count):
        free = range(at + 1, max(at + 2, len(pieces) - (count - number - 1)))
        wanted = number * total / count
        at = min(free, key=lambda i: abs(before[i] - wanted) if i < len(before) else total + i)
        places.append(pieces[at].start() if at < len(pieces) else len(words))
    return tuple(places)


def syllable_count(word: str) -> int:
    """How many syllables a word has, about: runs of vowels, or signs of another script."""
    letters = unicodedata.normalize("NFD", word.lower())
    return len(_RUNS.findall(letters)) or max(1, sum(ord(c) > LAST_LATIN for c in word))


def at_end_of(music: MusicRow) -> ReadRow:
    """The row as if its last chord stood where a line of words begins."""
    places = [max(1, len(bar.strikes) + _held(bar, music.free)) for bar in music.bars]
    return ReadRow(music, tuple((0,) * count for count in places))


def _held(bar: Bar, free: bool) -> bool:
    return not free and bool(bar.strikes) and bar.strikes[0].onset > 0


def sung_on(row: WordsRow, text: str) -> WordsRow:
    """The row with more words after its last ones."""
    *cells, last = row.cells
    *segments, end = last
    joined = Segment(f"{end.text}{'' if end.split else ' '}{text}".strip())
    return replace(row, cells=(*cells, (*segments, joined)))


def without_tail(
    line: Line, tokens_of: TokenReader, row_end: int = 0, columns: Container[int] = ()
) -> tuple[Line, list[Token]]:
    """A line of words without what stands behind them, and that: chords, in parentheses or
    after a gap, or how often the line is sung.

    ``row_end`` is the column in which the row of chords above ends: what stands under it and
    has no parentheses is words.
    """
    ends = line.text[-1:]
    counted = ends in _ENDS_TIMES or ends.isdecimal()
    times = _TIMES.search(line.text, max(0, len(line.text) - _LONGEST_TIMES)) if counted else None
    if (
        times is not None
        and (line.column(times.start(1)) >= row_end or times[1].startswith("("))
        and line.text.strip() != times[1]
        and line.column(times.start(1)) not in columns
    ):
        return _before(line, times.start()), [_token("times", line, times.start(1), times[1])]
    if row_end and (said := _count_in_signs(line, columns)) is not None:
        return said
    match = _TAIL.search(line.text) if line.text.rstrip().endswith(")") else None
    if match is None:
        return _without_chords_behind(line, tokens_of, row_end)
    inside = line_of(line.number, " " * match.start(1) + match[1])
    tokens = [token for token in tokens_of.row(inside) or () if token.kind != "filler"]
    if not tokens or any(token.kind not in STRUCK for token in tokens):
        return line, []
    if len(tokens) == 1:  # several in parentheses are one group, not chords that may be left out
        tokens = [_optional(tokens[0])]
    return _before(line, match.start()), tokens


def _count_in_signs(line: Line, columns: Container[int]) -> tuple[Line, list[Token]] | None:
    """A line of words without how often it is sung, in parentheses or brackets right behind its
    words and under no chord, and that; None where nothing says so."""
    if not line.text.rstrip().endswith((")", "]")):
        return None
    match = _COUNT_IN_SIGNS.search(line.text, max(0, len(line.text) - _LONGEST_COUNT))
    times = times_said(match[1]) if match is not None else 0
    if match is None or times < _FEWEST_TIMES or line.column(match.start(1) - 1) in columns:
        return None
    return _before(line, match.start()), [_token("times", line, match.start(1), f"x{times}")]


_DASH = re.compile(r"(?<=[^\W_])[,.!?]?( [-–—])(?= +[A-Ha-h][^-–—]{0,40}$)")
"""A dash between words and the chords behind them."""
_LONGEST_BEHIND = 60


def _optional(token: Token) -> Token:
    return replace(token, played=tuple(replace(one, optional=True) for one in token.played))


def _without_chords_behind(
    line: Line, tokens_of: TokenReader, row_end: int
) -> tuple[Line, list[Token]]:
    """A line of words without the chords that stand behind it after a gap or a dash, and these."""
    text = line.text.rstrip()
    parted = " - " in text or " – " in text or " — " in text
    dashed = _DASH.search(text, max(0, len(text) - _LONGEST_BEHIND)) if parted else None
    if "  " not in text and dashed is None:
        return line, []
    at = len(text)
    collected: list[Token] = []
    while len(collected) < _MOST_BEHIND:
        start = text.rfind(" ", 0, at) + 1
        word = text[start:at]
        kind, played = tokens_of.read(word)
        if not word or kind not in STRUCK:
            break
        collected.insert(0, _token(kind, line, start, word, played))
        at = len(text[:start].rstrip())
        if not at:
            return line, []
    if collected and collected[0].column < row_end:
        return line, []
    gap = line.index(collected[0].column) - at if collected else 0
    doubtful = len(collected) == 1 and collected[0].text in WORDS_TOO and not tokens_of.behind
    if not collected or (doubtful and gap < _WIDE_GAP):
        return line, []
    if dashed is not None and at == dashed.end(1):
        return _before(line, dashed.start()), collected
    if gap < _GAP:
        return line, []
    return _before(line, at), collected


def _before(line: Line, at: int) -> Line:
    columns = None if line.columns is None else line.columns[: at + 1]
    return replace(line, text=line.text[:at], columns=columns)


def _token(kind: Kind, line: Line, at: int, text: str, played: tuple[Played, ...] = ()) -> Token:
    return Token(kind, line.column(at), text, played, line.column(at + len(text)))
