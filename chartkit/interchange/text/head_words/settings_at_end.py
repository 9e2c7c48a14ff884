"""Settings that a title's line ends with, whatever parts them from it ("Mill Pond in G at 96",
"mill pond, g, 96", "Mill Pond .... G"), and a key that begins it ("G - Mill Pond").

A bare key or number is no setting alone: "Plan B" and "Room 96" are titles.
"""

import re
from typing import NamedTuple

from chartkit.interchange.text.head_words.head_facts import (
    HeadFacts,
    bare_facts,
    fact_of_words,
    head_facts,
)
from chartkit.interchange.text.vocabulary.facts import Fact
from chartkit.interchange.text.vocabulary.key_words import key_of
from chartkit.interchange.text.vocabulary.manners import says_feel
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of

_LONGEST = 120
_MOST_WORDS = 6
"""Words of the longest setting ("capo on the 3rd fret")."""
_SIGNS = " ,;|/·•~=—–-()[]<>.:→"
_APART = re.compile(r"[,;:|/·•~=—–()\[\]<>→]$|^[(\[<=~]|^-+$|\.{3,}")
"""That a sign parts a word from the one before it."""
_LEADERS = re.compile(r"(?<=\S)\s*(?:\.{3,}|_{3,})\s*(?=\S)")
_SMALL_KEY = re.compile(r"[a-g][#b]?m?")
_FEWEST = 2
_LEAD = frozenset(["in", "at", "key", "of", "the", "and", "with", "tempo", "@", "to"])
"""Words that lead to a setting and end no title."""


class Ended(NamedTuple):
    """A title and the settings that stand behind it on its line."""

    title: str
    head: HeadFacts


def settings_at_end(text: str, first_root: int | None, others: int = 0) -> Ended | None:
    """The title of a line that ends with settings: two or more, or a key behind a sign; None for
    any other line.  A key that nothing names must have the root of the song's first chord.
    ``others`` counts the settings that stand elsewhere on the line."""
    if len(text) > _LONGEST or not text.strip():
        return None
    words = _LEADERS.sub(" ... ", text).split()
    facts: list[Fact] = []
    manner: list[str] = []
    parted = False
    at = len(words)
    while at > 1 and words[at - 1].strip(f"{_SIGNS}!").casefold() in _SAYS_NOTHING:
        at -= 1
    while at > 1:
        if not words[at - 1].strip(_SIGNS):
            parted, at = True, at - 1
            continue
        start, found = _unit_before(words, at, facts, text.islower(), first_root)
        if found is None:
            break
        facts += [found] if isinstance(found, Fact) else []
        manner += [found] if isinstance(found, str) else []
        at = start
        parted = _is_apart(words, at)
    title = " ".join(words[:at]).rstrip(_SIGNS if parted else " ")
    names = {fact.name for fact in facts}
    alone = names == {"key"} and not manner
    if alone and words[at].casefold() in _IN:
        whole, title = title, _without_sentence(title)
        alone = title != whole and _has_root(facts[0], first_root)
    else:
        title = _without_sentence(title)
        alone = alone and parted
    if not title.strip(_SIGNS) or not (len(names) + others * parted >= _FEWEST or alone):
        return None
    title, said = _without_key_before(title)
    if title.split()[-1].casefold() in _LEAD or title.count("(") != title.count(")"):
        return None
    return Ended(title, HeadFacts(tuple(reversed(facts)), tuple(reversed(manner)), said))


def _without_key_before(title: str) -> tuple[str, tuple[str, ...]]:
    """A title, and what is said behind it of another key than tonight's."""
    before = _OF_BEFORE.search(title)
    return (title, ()) if before is None else (title[: before.start()], (before["said"],))


_SAYS_NOTHING = frozenset(["tonight", "now", "today", "please", "again", "heute", "bitte", "jetzt"])
"""Words behind settings that say nothing more."""
_IN = frozenset(["in", "en", "em", "i"])
_TALK_BEFORE = re.compile(
    r"(?:(?:ok(?:ay)?|so|right|well|now|and|also)[\s,]+){1,3}(?=\S)|"
    r"(?:(?:today|tonight)[,:]?\s+)?(?:this (?:one['’]?s|is)|here(?:['’]?s| is| comes)|it['’]?s|"
    r"we(?:['’]re)? (?:do|play|sing|doing|playing)|doing|playing|das ist|hier ist|c['’]est|voici|"
    r"esta es|questa è|dit is)\s+(?=\S)",
    re.IGNORECASE,
)
_OF_BEFORE = re.compile(
    r"(?<=\S)[,;]\s+(?P<said>(?:orig(?:\.|inal|inally)?|was|were|used to be|recorded)\s.{1,30})$",
    re.IGNORECASE,
)
"""What is said of another key than tonight's, behind a title."""
_VERB_BEHIND = re.compile(
    r"(?:[,\s]+we(?:['’]re| are| do it| play it)|"
    r"\s+(?:is|are|goes|stays|ist|geht|bleibt|va|es|è|gaat|går|er)(?:\s+(?:now|still|back))?|['’]s)$",
    re.IGNORECASE,
)


def _without_sentence(title: str) -> str:
    """A title without the words of a sentence around it ("so Mill Pond's" in G, "here's Mill Pond",
    96)."""
    bare = _VERB_BEHIND.sub("", title)
    return _TALK_BEFORE.sub("", bare, count=1) if _TALK_BEFORE.match(bare) else bare


def _has_root(fact: Fact, first_root: int | None) -> bool:
    return isinstance(fact.value, Key) and pitch_class_of(fact.value.tonic) == first_root


def _is_apart(words: list[str], at: int) -> bool:
    """Whether a sign stands before the word at a place."""
    return at > 0 and bool(_APART.search(words[at - 1]) or _APART.match(words[at]))


def _unit_before(
    words: list[str], end: int, facts: list[Fact], small: bool, first_root: int | None
) -> tuple[int, Fact | str | None]:
    """The longest setting, or manner of playing behind a sign, that ends at a place, and where it
    begins; None where none ends there."""
    names = {fact.name for fact in facts}
    for start in range(max(1, end - _MOST_WORDS), end):
        piece = " ".join(words[start:end]).strip(_SIGNS)
        fact = fact_of_words(piece) or _bare(piece, facts, small, first_root)
        if fact is not None and fact.name not in names:
            return start, fact
        if fact is None and says_feel(piece) and _is_apart(words, start):
            return start, piece
    return end, None


def _bare(piece: str, facts: list[Fact], small: bool, first_root: int | None) -> Fact | None:
    """The key or the tempo that a piece is with nothing that names it."""
    if small and _SMALL_KEY.fullmatch(piece):
        piece = piece.capitalize()
    piece = piece.removeprefix("at ")
    fact = bare_facts([piece], facts).get(piece)
    if fact is None or not isinstance(fact.value, Key):
        return fact
    return fact if _has_root(fact, first_root) else None


_KEY_BEFORE = re.compile(
    r"(?:[(\[]\s*(?P<inside>[A-G][#b♯♭]?m?)\s*[)\]]\s*|"
    r"(?P<key>[A-G][#b♯♭]?m?(?: (?:major|minor))?)(?:\s*[:|]\s+|\s+[-–—]+\s+))"
    r"(?P<title>[^\W\d_].*)"
)


def key_before(text: str, first_root: int | None) -> tuple[Key, str] | None:
    """The key that begins a title's line before a sign, and the title ("G - Mill Pond"); None where
    none does, or where it has not the root of the song's first chord."""
    match = _KEY_BEFORE.fullmatch(text) if len(text) <= _LONGEST else None
    key = key_of(match["inside"] or match["key"]) if match is not None else None
    if match is None or key is None or pitch_class_of(key.tonic) != first_root:
        return None
    return key, match["title"]


_PAUSE = re.compile(r"\s*[,;]\s+")


def settings_behind_comma(text: str) -> tuple[str, str] | None:
    """The title of a line that has settings behind its first comma and says more behind these
    ("mill pond, G, 66, keys lead it off"), and what stands behind it; None for any other line."""
    parts = _PAUSE.split(text, maxsplit=1) if len(text) <= _LONGEST else []
    if len(parts) < _FEWEST or not parts[0].strip() or "(" in parts[0]:
        return None
    head = head_facts(parts[1])
    first = _PAUSE.split(parts[1], maxsplit=1)[0]
    named = {fact.name for fact in head.facts}
    begins = fact_of_words(first) is not None or bool(bare_facts([first], []))
    return (parts[0], parts[1]) if begins and len(named) >= _FEWEST else None
