"""Sets apart what stands on one line by any sign that the sheet uses for it: chords behind words,
remarks behind chords, and whole lines of remarks.

Everybody has a sign of their own for it (a stroke, dots, a semicolon, an arrow, a star), so the
sign is not looked up: a sign that does the same on several lines is a habit of the sheet.  The
lines are written in the usual forms, which later steps read: chords behind a gap, remarks in
parentheses.
"""

import itertools
import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.section_names import may_name_a_section
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.wording import counted

_MOST_LINES, _LONGEST = 4_000, 240
"""A longer text is a book, not a single sheet, and a longer line no line of a song."""
_ROOT = r"(?:[A-Ha-h](?:is|es|s(?!us))?|(?i:do|r[eé]|mi|fa|sol|la|si))"
_CHORD = re.compile(
    rf"\(?{_ROOT}[#b♯♭]?(?:maj|min|dim|sus|add|aug|omit|no|[mM°ø△+-]|[#b♯♭]?\d){{0,5}}"
    rf"(?:/{_ROOT}[#b♯♭]?)?\)?",
)
"""A chord by its look, however the sheet names its notes; what it is, is decided later."""
_WORD = re.compile(r"[^\W\d_]{2,}")
_BEHIND = re.compile(
    r"(?P<sign>\|{1,2}|\.{3,}|(?<=\s)\.+|…+|;|[—–]|(?<=\s)(?:-{1,2}|[-=~]*[>→»]+|//+|\\\\|[/:*~=+•·]|_{2,})|"
    r"(?<=\s)[\[{<](?=[^\[\]{}<>]*[\]}>]\s*$))(?=\s|(?<=[\[{<.…|;]))\s*"
)
"""Signs that part a line, and an opening bracket before what ends it."""
_MAY_PART = re.compile(r"[|.…;—–=~>→»/\\:*+•·_\[{<-]")
"""With what these signs begin: most lines have none."""
_CLOSING = "]}> \t"
_LED = re.compile(
    r"\s{0,8}(?P<sign>[-=~]*[>→»]+|//+|¡(?!.*!)|[#!@%^+•·~*§※☞►▸]+|-{1,2}|–|—|;)\s{0,6}(?P<said>[^\W_].*)"
)
"""A line behind a sign."""
_SURELY_SUNG = -1.5
"""At these odds the words of a line are those of a song (ours)."""
_EMPHASISED = re.compile(r"\s*(?P<sign>[*_]{1,2})(?P<inside>[^\s*_|][^*_|]*[^\s*_|])(?P=sign)\s*")
_NAME = re.compile(r"\s*(?P<name>[^\W\d_][^:=|;]{0,30}?)\s?[:=]\s+")
_FEWEST, _FEWEST_LED, _MOSTLY = 3, 2, 0.75
_HEAD_WORDS = 3
"""So many words on average stand before chords; before remarks stand chords, and names are
shorter."""
_SAID = "⟪⟫"
"""Brackets around a remark for later steps; nobody types them."""
_MOST_CHORDS, _FEWEST_CHORDS = 12, 2
_BAR_SIGNS = ("|", "||", ":", "/")
"""Signs that belong to rows of chords."""


class _Parted(NamedTuple):
    """A line by a sign in it: what stands before, the sign, and what stands behind."""

    before: str
    sign: str
    behind: str


def with_parts_apart(lines: Numbered, findings: Findings) -> Numbered:
    """The lines, those that hold two things written in the usual forms; what a sign was taken for
    is reported."""
    if len(lines) > _MOST_LINES:
        return lines
    texts = _without_emphasis([text for _, text in lines])
    numbers = [number for number, _ in lines]
    for rewritten in (_with_chords_behind, _with_remarks_behind, _with_remarks_alone):
        texts = rewritten(texts, findings, numbers)
    return [(number, text) for (number, _), text in zip(lines, texts, strict=True)]


def chords_in(text: str) -> int:
    """How many chords a text is; 0 for any that is more than chords."""
    tokens = text.split()
    fits = len(tokens) <= _MOST_CHORDS and all(map(_CHORD.fullmatch, tokens))
    return len(tokens) if fits else 0


def words_in(text: str) -> int:
    """How many words a text has; 0 for a row of chords or the name of a section."""
    words = _WORD.findall(text)
    if all(map(_CHORD.fullmatch, text.split())) or len(words) < 2:
        return 0
    return 0 if may_name_a_section(text) and heading_of(text.strip()) is not None else len(words)


def _kind_of(sign: str) -> str:
    """A sign however often it is repeated."""
    return sign[0] if sign[0] in ".…" else sign


def as_said(text: str) -> str:
    """A line of a remark that later steps take for nothing else."""
    return f"{_SAID[0]}{text}{_SAID[1]}"


def said_by_sign(text: str) -> str:
    """The remark of a line that ``as_said`` wrote; empty for any other line."""
    return text[1:-1] if text[:1] + text[-1:] == _SAID else ""


def _signs_in(text: str, start: int = 0) -> Iterator[re.Match[str]]:
    """The signs that may part a line, from a place on."""
    return _BEHIND.finditer(text, start) if _MAY_PART.search(text, start) else iter(())


# ---- chords behind words
def _with_chords_behind(texts: list[str], findings: Findings, numbers: Sequence[int]) -> list[str]:
    """Words and the chords behind them with a gap between."""
    parted = {
        at: found
        for at, text in enumerate(texts)
        if len(text) <= _LONGEST and (found := _chords_behind(text)) is not None
    }
    result = list(texts)
    for sign, places in _by_sign(parted).items():
        if len(places) < _FEWEST or not _stand_together(places):
            continue
        words = sum(words_in(parted[at].before) for at in places)
        others = sum(_is_parted(text, sign) for i, text in enumerate(texts) if i not in parted)
        few = others * _MOSTLY > len(places) * (1 - _MOSTLY)
        if few or words < _HEAD_WORDS * len(places):
            continue
        findings.guess(
            "chords-behind-a-sign",
            f'{counted(len(places), "line")} of words with chords behind "{sign}"',
            f"{numbers[places[0]]}:1",
        )
        for at in places:
            result[at] = f"{parted[at].before}    {parted[at].behind}"
    return result


def _chords_behind(text: str) -> _Parted | None:
    """A line of words with chords behind the first sign behind which nothing else stands."""
    for match in _signs_in(text):
        behind = text[match.end() :].rstrip(_CLOSING)
        before = text[: match.start()].rstrip()
        if before and chords_in(behind) and words_in(before):
            return _Parted(before, _kind_of(match["sign"]), behind)
    return None


def _is_parted(text: str, sign: str) -> bool:
    """Whether such a sign stands between words and other words."""
    if len(text) > _LONGEST:
        return False
    return any(
        _kind_of(match["sign"]) == sign
        and words_in(text[: match.start()])
        and text[match.end() :].strip()
        for match in _signs_in(text)
    )


def _by_sign(parted: dict[int, _Parted]) -> dict[str, list[int]]:
    """The lines for each sign, in order."""
    places: dict[str, list[int]] = defaultdict(list)
    for at, one in parted.items():
        places[one.sign].append(at)
    return places


def _stand_together(places: Sequence[int]) -> bool:
    """Whether some lines follow one another, as lines of a verse do."""
    return any(after - before == 1 for before, after in itertools.pairwise(places))


# ---- remarks behind chords
def _with_remarks_behind(texts: list[str], findings: Findings, numbers: Sequence[int]) -> list[str]:
    """Rows of chords with what is said behind them in parentheses."""
    parted = {
        at: found
        for at, text in enumerate(texts)
        if len(text) <= _LONGEST and (found := _remark_behind(text)) is not None
    }
    result = list(texts)
    for sign, places in _by_sign(parted).items():
        if len(places) < _FEWEST_LED:
            continue
        _report_remarks(findings, sign, places, numbers)
        for at in places:
            result[at] = f"{parted[at].before} ({_bare(parted[at].behind)})"
    return result


def _remark_behind(text: str) -> _Parted | None:
    """A row of chords, with a name before it or not, and words behind a sign."""
    name = _NAME.match(text) if ":" in text or "=" in text else None
    start = name.end() if name is not None else 0
    for match in _signs_in(text, start):
        before, behind = text[start : match.start()], text[match.end() :].rstrip(_CLOSING)
        music = chords_in(before) >= (1 if name is not None else _FEWEST_CHORDS)
        if match["sign"] not in _BAR_SIGNS and music and _is_talk(behind):
            return _Parted(text[: match.start()].rstrip(), _kind_of(match["sign"]), behind)
    return None


def _is_talk(text: str) -> bool:
    """Whether a text is words that do not begin with a chord."""
    first = text.split(maxsplit=1)[:1]
    return _WORD.search(text) is not None and not all(map(_CHORD.fullmatch, first))


# ---- lines of remarks
def _with_remarks_alone(texts: list[str], findings: Findings, numbers: Sequence[int]) -> list[str]:
    """Lines behind a sign right under chords or a name as remarks; those of a sign that begins
    other lines too stay as they are."""
    led = {
        at: _Parted("", match["sign"], match["said"].strip())
        for at, text in enumerate(texts)
        if len(text) <= _LONGEST and (match := _LED.fullmatch(text)) is not None
    }
    result = list(texts)
    for sign, places in _by_sign(led).items():
        said = [at for at in places if _is_said(led[at].behind)]
        under = [at for at in said if at and _is_music_or_name(texts[at - 1])]
        if len(under) < _FEWEST_LED or len(under) < _MOSTLY * len(places):
            continue
        alone = all(_is_last_of_pair(texts, at) for at in said)
        if alone and _are_surely_sung([led[at].behind for at in said]):
            for at in said:  # marks of those who enter in a round, and the like
                start = texts[at].index(led[at].behind)
                result[at] = " " * start + texts[at][start:]
            continue
        _report_remarks(findings, sign, said, numbers)
        for at in said:
            result[at] = f"{_SAID[0]}{_bare(led[at].behind)}{_SAID[1]}"
    return result


# ---- what comes again in signs
def _without_emphasis(texts: list[str]) -> list[str]:
    """The lines, without stars or low lines around words that come again and do not sound as if
    said to anybody: a refrain in another type."""
    inside = [
        match["inside"]
        if len(text) <= _LONGEST and (match := _EMPHASISED.fullmatch(text)) is not None
        else ""
        for text in texts
    ]
    times = Counter(inside)
    sung = {one for one in times if one and times[one] > 1 and _may_be_sung(one)}
    return [
        text.replace(text.strip(), f" {one}") if one in sung else text
        for text, one in zip(texts, inside, strict=True)
    ]


def _may_be_sung(text: str) -> bool:
    several = len(_WORD.findall(text)) > 1
    return several and _is_said(text) and not (is_direction(text) or sounds_said(text) > 0)


def _is_said(text: str) -> bool:
    """Whether a line may be a remark: words, and no name of a section."""
    return _WORD.search(text) is not None and not chords_in(text) and heading_of(text) is None


def _is_last_of_pair(texts: Sequence[str], at: int) -> bool:
    """Whether nothing stands right below a line but the next row of chords."""
    below = texts[at + 1] if at + 1 < len(texts) else ""
    return not below.strip() or chords_in(below) > 0


def _are_surely_sung(texts: Sequence[str]) -> bool:
    """Whether lines sound as if sung, taken together, and none is a direction."""
    odds = sum(map(sounds_said, texts)) / len(texts)
    return odds <= _SURELY_SUNG and not any(map(is_direction, texts))


def _is_music_or_name(text: str) -> bool:
    """Whether a line is chords alone, or the name of a section."""
    bare = re.sub(r"[|>%,–-]", " ", text[:_LONGEST])
    return chords_in(bare) > 0 or (bool(text.strip()) and heading_of(text.strip()) is not None)


def _bare(said: str) -> str:
    """A remark without brackets, which would end the ones put around it."""
    return said.strip().translate({ord(sign): None for sign in "()"})


def _report_remarks(
    findings: Findings, sign: str, places: Iterable[int], numbers: Sequence[int]
) -> None:
    for at in places:
        findings.guess(
            "remark-by-sign",
            f'what stands behind "{sign}" is said to the players',
            f"{numbers[at]}:1",
        )
