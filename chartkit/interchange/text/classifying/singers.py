"""Who sings, before the lines that they sing: "he:" alone on a line, "She: I left my heart".

Such a label is said to the singers.  It becomes a remark above the words, and above their chords
where they have any.  Source of the words: common practice, no source.
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

_WORDS = """
he she him her both all together everybody everyone unison duet solo boy boys girl girls man men
woman women mother father son daughter sister brother children kids captain crew shantyman sailors
priest people congregation cantor leader caller response call lead group gang backing choir
chorus audience crowd
er sie ihn beide alle zusammen gemeinsam frau frauen mann männer herr dame chor vorsänger solist
solistin kinder
elle lui eux elles ensemble tous toutes homme hommes femme femmes soliste chœur choeur foule
él ella ellos ellas juntos juntas ambos todos todas hombre hombres mujer mujeres solista coro
lei entrambi insieme tutti uomo uomini donna donne
ele ela eles juntos homem mulher
hij zij beiden beide samen allen allemaal vrouw man koor iedereen
han hon hun båda bägge begge tillsammans sammen alla kvinna kvinne kör kor
on ona oba oboje wszyscy razem všichni spolu
"""
_SINGERS = frozenset(_WORDS.split())
_DOUBTFUL_WORDS = "solo on chorus call lead man response coro chor kor kör lui"
_DOUBTFUL = frozenset(_DOUBTFUL_WORDS.split())
"""Words that name a section or begin a line of words as well: they count beside another label."""
_SPEAKERS = "me you us ich du wir moi toi nous yo tú io tu ik jij jag eu"
_SPOKEN_TO = frozenset(_SPEAKERS.split())
_SMALL = "the die der das le la les el los las il lo gli i o os as de het"
_ARTICLES = frozenset(_SMALL.split())
_PAIR = "two dos dois duas deux due twee två to dwoje"
_TWO = frozenset(_PAIR.split())
_JOINT = re.compile(r"\s*(?:[&+/,]|(?<!\w)(?:and|und|et|y|e|en|och|og|then|dann|puis)(?!\w))\s*")
_LABEL = re.compile(
    r"\s*(?P<open>[(\[{*]{0,2})(?P<name>[^\W\d_][^()\[\]{}*:|]{0,24}?)\s*(?P<close>[)\]}*]{0,2})\s*"
    r"(?P<colon>:?)\s*"
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
    """A label at a line: who sings, whether signs set it off, and where it ends on a line with
    words; 0 where it is alone."""

    who: str
    plain: bool
    end: int = 0


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
        if not label.end:
            result.append(remark)
            continue
        above = bool(result) and isinstance(result[-1].kind, Chords)
        result.insert(len(result) - above, remark)
        text = " " * label.end + one.line.text[label.end :]
        result.append(replace(one, line=replace(one.line, text=text)))
    return result


def _labels(known: Sequence[KnownLine]) -> dict[int, _Label]:
    """The labels, by the places of their lines."""
    found = dict(_candidates(known))
    known_ones = {at: label for at, label in found.items() if _is_singer(label.who)}
    sure = {at: label for at, label in known_ones.items() if not _is_doubtful(label)}
    kinds = {label.who.casefold() for label in known_ones.values()}
    if sure and len(kinds) >= _FEWEST_KINDS:
        sure = known_ones
    alone = {label.who.casefold() for label in found.values() if not label.end}
    people = alone | _names_in(known)
    found = {
        at: label for at, label in found.items() if not label.plain and _is_named(label, people)
    }
    names = Counter(label.who.casefold() for label in found.values())
    named = len(names) >= _FEWEST_KINDS and names.total() >= _FEWEST_TIMES
    if named and max(names.values()) > 1:
        sure |= found
    return sure


def _is_named(label: _Label, named: Collection[str]) -> bool:
    """Whether the sheet has the name of a label elsewhere: words may begin in the same way
    ("Wanted: one fiddle", "Found: seven fiddles")."""
    return _is_singer(label.who) or label.who.casefold() in named


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
    name = _is_singer(who) or _is_name(who)
    return _Label(who, plain or isinstance(one.kind, SectionStart)) if name else None


def _label_before(one: KnownLine) -> _Label | None:
    """The label before the words of a line."""
    match = _PREFIX.match(one.line.text) if isinstance(one.kind, Words) else None
    if match is None:
        return None
    who = (match["name"] or match["within"]).strip()
    known = _is_singer(who)
    if match["within"] is not None and not known:
        return None
    return _Label(who, plain=False, end=match.end()) if known or _is_name(who) else None


def _is_singer(who: str) -> bool:
    """Whether words say who sings: known ones, also several and with an article."""
    parts = [part.split() for part in _JOINT.split(who.casefold()) if part.strip()]
    return bool(parts) and all(
        0 < len(bare := [word for word in part if word not in _ARTICLES] or part) <= _MOST_OF_ONE
        and all(word.strip(".") in _SINGERS | _SPOKEN_TO | _TWO for word in bare)
        for part in parts
    )


_MOST_OF_ONE = 2


def _is_doubtful(label: _Label) -> bool:
    """Whether a label alone on a sheet may be something else."""
    words = set(label.who.casefold().split())
    return label.plain or words <= _DOUBTFUL | _SPOKEN_TO | _TWO


def _is_name(who: str) -> bool:
    """Whether a word could be somebody's name, or a part in a play."""
    return who[:1].isupper() and len(who.split()) == 1 and len(who) > 2 and who.isalpha()
