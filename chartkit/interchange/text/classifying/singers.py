"""Who sings, before the lines that they sing: "he:" alone on a line, "She: I left my heart"; or
behind them: "We will!  (all)".

Such a label is said to the singers.  It becomes a remark above the words, and above their chords
where they have any.
"""

import re
from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import takewhile

from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    ChordsWithin,
    KnownLine,
    Remark,
    SectionStart,
    Words,
)
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.vocabulary.singer_words import is_doubtful_singer, is_singer

_LABEL = re.compile(
    r"\s*(?P<open>[(\[{*]{0,2})(?P<name>[^\W\d_](?:[^()\[\]{}*:|]{0,23}?[^()\[\]{}*:|\s])?)"
    r"\s*+(?P<close>[)\]}*]{0,2})\s*+(?P<colon>:?)\s*"
)
_PREFIX = re.compile(
    r"(?P<before>\s*)(?:(?P<name>[^\W\d_][\w’'.-]{0,15}(?:\s?[&+/]\s?[^\W\d_][\w’'.-]{0,15}|"
    r"\s[^\W\d_][\w’'.-]{0,12})?)\s?:|[(\[](?P<within>[^\W\d_][^()\[\]:|]{0,24})[)\]]:?)\s+(?=\S)"
)
_WORD = re.compile(r"[^\W\d_]+")
_FEWEST_KINDS, _FEWEST_TIMES = 2, 3
"""Names that nobody knows as singers' are labels where two of them stand three times (ours)."""
_LONGEST = 160
_BEGINS = (SectionStart, Chords)
_LABELS = (Words, Remark, SectionStart)
"""Kinds of lines that can be a label, or begin with one."""
_OVER_WORDS = (Words, Chords, ChordsWithin)
_MOSTLY = 0.5


@dataclass(frozen=True, slots=True)
class _Label:
    """A label at a line: who sings, whether signs set it off, and where it ends before words or
    begins behind them; 0 where it is alone."""

    who: str
    plain: bool
    end: int = 0
    behind: int = 0


def with_singers_apart(known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines, with remarks for the labels of those who sing."""
    labels = _labels(known)
    if not labels:
        return list(known)
    result: list[KnownLine] = []
    for at, one in enumerate(known):
        label = labels.get(at)
        if label is None:
            result.append(one)
            continue
        remark = replace(one, kind=Remark(label.who, who_sings=True))
        if not (label.end or label.behind):
            result.append(remark)
            continue
        above = bool(result) and isinstance(result[-1].kind, Chords)
        result.insert(len(result) - above, remark)
        text = " " * label.end + one.line.text[label.end : label.behind or None].rstrip()
        result.append(replace(one, line=replace(one.line, text=text)))
    return result


def _labels(known: Sequence[KnownLine]) -> dict[int, _Label]:
    """The labels, by the places of their lines."""
    found = dict(_candidates(known))
    known_ones = {at: label for at, label in found.items() if is_singer(label.who)}
    sure = {at: label for at, label in known_ones.items() if not _is_doubtful(label)}
    kinds = {label.who.casefold() for label in known_ones.values()}
    if sure and len(kinds) >= _FEWEST_KINDS:
        sure = known_ones
    alone = {label.who.casefold() for label in found.values() if not label.end}
    people = alone | _names_in(known)
    if any(label.end for label in sure.values()):  # they trade lines with somebody
        times = Counter(label.who.casefold() for label in found.values())
        people |= {name for name, count in times.items() if count > 1}
    found = {
        at: label for at, label in found.items() if not label.plain and _is_named(label, people)
    }
    names = Counter(label.who.casefold() for label in found.values())
    named = len(names) >= _FEWEST_KINDS and names.total() >= _FEWEST_TIMES
    if named and max(names.values()) > 1:
        sure |= found
    return _labels_behind(known) | sure


_BEHIND = re.compile(r"(?<=\S)(?P<gap>\s+)[(\[](?P<who>[^\W\d_][^()\[\]:|]{0,24})[)\]]\s*$")
_FEWEST_BEHIND = 3
_WIDE = 2


def _labels_behind(known: Sequence[KnownLine]) -> dict[int, _Label]:
    """The labels in signs behind words, by the places of their lines: far behind them, of several
    singers, or behind several lines.  What the words say right before is an echo."""
    found: dict[int, _Label] = {}
    lines: set[str] = set()
    wide = False
    for at, one in enumerate(known):
        text = one.line.text
        may = isinstance(one.kind, Words) and text.rstrip().endswith((")", "]"))
        match = _BEHIND.search(text) if may and len(text) <= _LONGEST else None
        if match is None or not is_singer(match["who"]) or _is_echo(text, match):
            continue
        found[at] = _Label(match["who"].strip(), plain=False, behind=match.start())
        lines.add(letters_of(text))
        wide = wide or len(match["gap"]) >= _WIDE
    kinds = {label.who.casefold() for label in found.values() if not _is_doubtful(label)}
    sure = bool(kinds) and (wide or len(kinds) > 1 or len(lines) >= _FEWEST_BEHIND)
    return found if sure else {}


def _is_echo(text: str, label: re.Match[str]) -> bool:
    """Whether the last of what a label says is the word right before it."""
    before = _WORD.findall(text[: label.start()].casefold())
    return not before or before[-1] == _WORD.findall(label["who"].casefold())[-1]


def _is_named(label: _Label, named: Collection[str]) -> bool:
    """Whether the sheet has the name of a label elsewhere: words may begin in the same way
    ("Wanted: one fiddle", "Found: seven fiddles")."""
    return is_singer(label.who) or label.who.casefold() in named


def _names_in(known: Sequence[KnownLine]) -> frozenset[str]:
    """The words of the head and of what is said behind the names of sections."""
    head = takewhile(lambda one: not isinstance(one.kind, _BEGINS), known)
    texts = [one.line.text for one in head]
    for one in known:
        if isinstance(one.kind, SectionStart):
            texts += (*one.kind.remarks, one.kind.name)
    return frozenset(word.casefold() for text in texts for word in _WORD.findall(text))


def _candidates(known: Sequence[KnownLine]) -> Iterator[tuple[int, _Label]]:
    """The lines that could be or begin with a label, behind the first section or chords."""
    begun = False
    words = [one.line.text for one in known if isinstance(one.kind, Words)]
    shouted = sum(map(str.isupper, words)) > _MOSTLY * len(words)
    for at, one in enumerate(known):
        begun = begun or isinstance(one.kind, _BEGINS)
        if not begun or not isinstance(one.kind, _LABELS) or len(one.line.text) > _LONGEST:
            continue
        label = _label_alone(known, at, shouted) or _label_before(one)
        if label is not None:
            yield at, label


def _label_alone(known: Sequence[KnownLine], at: int, shouted: bool) -> _Label | None:
    """The label that a line is, with something to sing below it; capitals set it off unless the
    whole song is in capitals."""
    one = known[at]
    below = known[at + 1].kind if at + 1 < len(known) else Blank()
    if not isinstance(below, _OVER_WORDS):
        return None
    above = known[at - 1].kind if at else Blank()
    match = _LABEL.fullmatch(one.line.text)
    if match is None:
        return None
    within = isinstance(above, SectionStart) and not above.with_chords
    within = within or not isinstance(above, (Blank, SectionStart))
    if isinstance(one.kind, SectionStart) and (not within or one.kind.with_chords):
        return None
    if isinstance(above, Chords):
        return None  # sung, or a cue that stands behind chords
    who = match["name"].strip()
    plain = not (match["colon"] or match["open"] or (who.isupper() and not shouted))
    name = is_singer(who) or _is_name(who, fewest=2 + plain)
    return _Label(who, plain or isinstance(one.kind, SectionStart)) if name else None


def _label_before(one: KnownLine) -> _Label | None:
    """The label before the words of a line."""
    match = _PREFIX.match(one.line.text) if isinstance(one.kind, Words) else None
    if match is None:
        return None
    who = (match["name"] or match["within"]).strip()
    known = is_singer(who)
    if match["within"] is not None and not known:
        return None
    return _Label(who, plain=False, end=match.end()) if known or _is_name(who) else None


def _is_doubtful(label: _Label) -> bool:
    """Whether a label alone on a sheet may be something else."""
    return label.plain or is_doubtful_singer(label.who)


def _is_name(who: str, fewest: int = 3) -> bool:
    """Whether a word of at least so many letters could be somebody's name, or a part in a play."""
    return who[:1].isupper() and len(who.split()) == 1 and len(who) >= fewest and who.isalpha()
