"""Who sings, before the lines that they sing: "he:" alone on a line, "She: I left my heart"; or
behind them: "We will!  (all)".

Such a label is said to the singers.  It becomes a remark above the words, and above their chords
where they have any.
"""

import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import takewhile

from chartkit.interchange.text.kinds.line_kinds import (
    SUNG,
    Blank,
    Chords,
    ChordsWithin,
    KnownLine,
    Remark,
    SectionStart,
    Words,
)
from chartkit.interchange.text.lines import Line, letters_of
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.singer_words import (
    is_doubtful_singer,
    is_singer,
    is_unsung_name,
)
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said

_LABEL = re.compile(
    r"\s*(?P<open>[(\[{*]{0,2})(?P<name>[^\W\d_](?:[^()\[\]{}*:|]{0,23}?[^()\[\]{}*:|\s])?)"
    r"\s*+(?P<close>[)\]}*]{0,2})\s*+(?P<colon>:?)\s*"
)
_ONE = r"[^\W\d_][\w’'.-]{0,15}"
_PREFIX = re.compile(
    rf"\s*(?:(?P<name>(?:\d(?:\.|[^\W\d_]{{1,2}})\s)?{_ONE}(?:(?:\s?[&+/]\s?|\s){_ONE}){{0,2}}(?:\s\d)?)"
    r"(?P<said>\s?\([^()|]{2,20}\))?(?P<sign>\s?:|\s[>→]|\s-{1,2}|\s[–—])|"
    r"[(\[](?P<within>[^\W\d_][^()\[\]:|]{0,24})[)\]]:?)\s+(?=\S)"
)
"""A label before words: who sings, how, and a colon, an arrow or a dash; or who, between signs."""
_LETTERS = re.compile(r"[A-Z](?:\s?[&+/]\s?[A-Z])*")
"""Initials of those who sing, alone or together."""
_CHORDISH = re.compile(r"[A-H](?:[#b♯♭]|m|is|es|\d|$).*")
_SUNG = -2.5
"""At these odds the words behind a label are surely sung (ours: nothing said sounds so)."""
_CAPITAL_FIRST = re.compile(r"\W*[^\W\d_a-zß-ÿ]")
_MOST_ONCE, _MOST_STACKED = 3, 8
_WORD = re.compile(r"[^\W\d_]+")
_FEWEST_KINDS, _FEWEST_TIMES = 2, 3
"""Names that nobody knows as singers' are labels where two of them stand three times (ours)."""
_LONGEST = 160
_BEGINS = (SectionStart, Chords)
_LABELS = (Words, ChordsWithin, Remark, SectionStart)
"""Kinds of lines that can be a label, or begin with one."""
_OVER_WORDS = (Words, Chords, ChordsWithin)
_MOSTLY, _NEARLY_ALL = 0.5, 0.8


@dataclass(frozen=True, slots=True)
class _Label:
    """A label at a line: who sings, whether signs set it off, and where it ends before words or
    begins behind them; 0 where it is alone.  ``how`` is said of it, ``rest`` are the words behind
    it; ``loose`` it may as well begin a line of words, ``manner`` it says how these are sung."""

    who: str
    plain: bool
    end: int = 0
    behind: int = 0
    how: str = ""
    rest: str = ""
    loose: bool = False
    manner: bool = False


def with_singers_apart(known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines, with remarks for the labels of those who sing."""
    labels = _labels(known)
    if not labels:
        return list(known)
    said: dict[int, list[KnownLine]] = {}
    for at, label in labels.items():
        who = f"{label.who}{label.how}"
        own = (
            replace(known[at].line, text=who, columns=None)
            if label.end or label.behind
            else known[at].line
        )
        remark = KnownLine(own, Remark(who, who_sings=True))
        said.setdefault(_row_of(known, at) if label.end or label.behind else at, []).append(remark)
    result: list[KnownLine] = []
    for at, one in enumerate(known):
        result += said.get(at, ())
        if at not in labels:
            result.append(one)
        elif labels[at].end or labels[at].behind:
            result.append(_without_label(one, labels[at]))
    return result


def _row_of(known: Sequence[KnownLine], at: int) -> int:
    """The place of the row of chords over a line of words, also where several rows stand over as
    many lines; its own place where no row stands there."""
    first, top = at, max(0, at - _MOST_STACKED)
    while first > top and isinstance(known[first - 1].kind, Words):
        first -= 1
    rows, top = first, max(0, first - _MOST_STACKED)
    while rows > top and isinstance(known[rows - 1].kind, Chords):
        rows -= 1
    if first - rows > 1:
        return min(rows + at - first, first - 1)
    return rows if at == first else at


def _without_label(one: KnownLine, label: _Label) -> KnownLine:
    """The words of a line without the label, in their places."""
    if isinstance(one.kind, ChordsWithin):
        return replace(one, kind=replace(one.kind, words=_cut(one.kind.words, label)))
    kind = Words() if isinstance(one.kind, Remark) else one.kind
    return KnownLine(_cut(one.line, label), kind)


def _cut(line: Line, label: _Label) -> Line:
    text = " " * label.end + line.text[label.end : label.behind or None].rstrip()
    return replace(line, text=text)


def _labels(known: Sequence[KnownLine]) -> dict[int, _Label]:
    """The labels, by the places of their lines."""
    every = dict(_candidates(known))
    found = {at: label for at, label in every.items() if not label.loose}
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
    before = {
        at: label
        for at, label in every.items()
        if at not in sure and (label.end or _is_over_row(known, at))
    }
    sure |= {at: one for at, one in before.items() if one.manner or _answers(at, one, sure)}
    return _labels_behind(known) | _initials(before) | _unsung_names(known, before) | sure


def _is_over_row(known: Sequence[KnownLine], at: int) -> bool:
    """Whether a line that names no section stands right over a row of chords."""
    over = at + 1 < len(known) and isinstance(known[at + 1].kind, Chords)
    return over and not isinstance(known[at].kind, SectionStart)


def _answers(at: int, label: _Label, sure: Mapping[int, _Label]) -> bool:
    """Whether the words behind a label begin a line, and somebody else sings the one beside it."""
    beside = (sure.get(at + step) for step in (-2, -1, 1, 2))
    return bool(_CAPITAL_FIRST.match(label.rest)) and any(one and one.end for one in beside)


def _initials(labels: Mapping[int, _Label]) -> dict[int, _Label]:
    """The labels of initials, where several of them stand in a sheet and not all are chords."""
    found = {at: one for at, one in labels.items() if _LETTERS.fullmatch(one.who)}
    kinds = {one.who for one in found.values()}
    chords = all(_CHORDISH.fullmatch(one) for one in kinds)
    return found if len(kinds) >= _FEWEST_KINDS and not chords else {}


def _unsung_names(known: Sequence[KnownLine], labels: Mapping[int, _Label]) -> dict[int, _Label]:
    """The labels of words that nobody sings in this sheet or in others, as names are, before words
    that begin a line ("Kim: I met her"), or alone over a row; "Wanted: one fiddle" is sung.  None
    where many different ones stand once each, as in a list that is sung."""
    if not labels:
        return {}
    lines = [
        labels[at].rest if at in labels else one.line.text.strip()
        for at, one in enumerate(known)
        if isinstance(one.kind, SUNG)
    ]
    sung = {word for line in lines for word in _WORD.findall(line.casefold())}
    capitals = sum(line[:1].isupper() for line in lines) > _NEARLY_ALL * len(lines)
    found = {
        at: label
        for at, label in labels.items()
        if (_CAPITAL_FIRST.match(label.rest) or not label.end)
        and (capitals or not label.who.islower())
        and not _LETTERS.fullmatch(label.who)
        and is_unsung_name(words := _WORD.findall(label.who.casefold()))
        and words[-1] not in sung
    }
    often = Counter(label.who.casefold() for label in found.values())
    return {} if len(often) > _MOST_ONCE and max(often.values()) == 1 else found


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
    name = is_singer(who) or _is_name(who, fewest=2 + plain) or _are_names(who, small=False)
    return _Label(who, plain or isinstance(one.kind, SectionStart)) if name else None


def _label_before(one: KnownLine) -> _Label | None:
    """The label before the words of a line."""
    kind = one.kind
    text = kind.words.text if isinstance(kind, ChordsWithin) else one.line.text
    match = _PREFIX.match(text) if isinstance(kind, Words | ChordsWithin | Remark) else None
    if match is None:
        return None
    who, rest = (match["name"] or match["within"]).strip(), text[match.end() :]
    if isinstance(kind, Remark) and (kind.in_parentheses or sounds_said(rest) > _SUNG):
        return None
    colon = match["sign"] is not None and match["sign"].strip() == ":"
    known = is_singer(who) and (colon or match["within"] is not None or rest[:1].isupper())
    manner = isinstance(kind, ChordsWithin) and match["sign"] is None and is_direction(who)
    loose = not (manner or known or (colon and _is_name(who)))
    if loose and not (colon and _LETTERS.fullmatch(who)) and not _are_names(who, small=colon):
        return None
    return _Label(
        who, False, match.end(), how=match["said"] or "", rest=rest, loose=loose, manner=manner
    )


def _is_doubtful(label: _Label) -> bool:
    """Whether a label alone on a sheet may be something else."""
    return label.plain or is_doubtful_singer(label.who)


def _are_names(who: str, small: bool) -> bool:
    """Whether all words of a label are spelled as names and say nothing else that a sheet says; one
    in ``small`` letters may be a name too."""
    words = [word for word in re.split(r"[\s&+/]+", who) if word]
    spelled = all(word[0].isupper() and len(word) > 1 and word.isalpha() for word in words)
    spelled = spelled or (small and who.islower() and who.isalpha() and len(who) > 1)
    other = is_known_name(who) or is_direction(who) or _CHORDISH.fullmatch(who)
    return spelled and not other


def _is_name(who: str, fewest: int = 3) -> bool:
    """Whether a word of at least so many letters could be somebody's name, or a part in a play."""
    return who[:1].isupper() and len(who.split()) == 1 and len(who) >= fewest and who.isalpha()
