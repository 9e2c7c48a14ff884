"""Settings anywhere in a line of the head, between words of any other kind.

"Key of D, no capo. Join in on the chorus!" and "moderato (c. 100) in B flat" hold settings that no
list of whole lines could foresee.  A line is cut where a pause stands, and in each part every run
of words is tried as a setting, the longest first.
"""

import re
from collections.abc import Iterator

from chartkit.interchange.capo_words import CAPO_NAME
from chartkit.interchange.text.head_words.head_facts import (
    OF_A_PAPER,
    HeadFacts,
    bare_facts,
    fact_of_words,
    is_of_another,
    is_of_before,
    telling,
)
from chartkit.interchange.text.vocabulary.facts import Fact
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME
from chartkit.interchange.text.vocabulary.manners import says_style

_LONGEST = 120
_MOST_WORDS = 6
"""Words of the longest setting ("key: F sharp minor", "capo on the 3rd fret")."""
_CUT_SHORT = re.compile(
    r"\b(?:no|nr|ca|c|rev|p|orig|arr|comp|feat|trad|med|approx|st|mm|op|mr|mrs|dr)\.\s+|"
    r"(?<=\S\s)(?<!in )(?<!In )(?<!IN )(?<!of )(?<!OF )(?<!ey )\b[A-Z]\.\s+(?=[A-Z][a-z])",
    re.IGNORECASE,
)
"""Points that end no sentence: of words cut short, and of first names."""
_LABEL_AND_DASH = re.compile(
    rf"\b({KEY_NAME}|{CAPO_NAME}|tempo|bpm|time|meter|metre|takt)\s+[-–—=]\s+", re.IGNORECASE
)
_OTHER_BEATS = frozenset(["dotted", "half", "eighth", "punktierte", "halbe", "achtel", "pointée"])
_A_CHORD = re.compile(r"[A-H][#b♯♭]?(?:m|maj|7|sus|\d){0,3},?")
_HELD = "\x00"
_PAUSE = re.compile(
    r"\s*(?:,(?!\d{3})|[;|•·()\[\]!])\s*|\s/{1,2}\s|\s*[–—]\s*|\s+-+\s+|\.\s+|\s{2,}|\t"
)


def head_phrases(text: str) -> HeadFacts:
    """The settings in a line, the manner of playing, and the parts that say something else."""
    facts: list[Fact] = []
    manner: list[str] = []
    rest: list[str] = []
    for part in _parts(text):
        settings, others = _in_part(part)
        facts += settings
        others = telling(others) if settings else others
        if others and says_style(others):
            manner.append(others)
        elif others:
            rest.append(others if settings else part)
    bare = bare_facts(rest, facts) if facts or manner else {}
    facts += bare.values()
    rest = [part for part in rest if part not in bare]
    return HeadFacts(tuple(_with_shapes(facts)), tuple(manner), tuple(rest))


def _parts(text: str) -> Iterator[str]:
    if len(text) > _LONGEST:
        return
    text = _LABEL_AND_DASH.sub(r"\1: ", text)
    held = _CUT_SHORT.sub(lambda match: match[0].rstrip() + _HELD, text)
    for part in _PAUSE.split(held):
        plain = part.replace(_HELD, " ").strip(" .:")
        if plain:
            yield plain


def _in_part(part: str) -> tuple[list[Fact], str]:
    """The settings among the words of a part, and its other words."""
    if OF_A_PAPER.match(part) is not None or is_of_before(part):
        return [], part
    words = part.split()
    facts: list[Fact] = []
    others: list[str] = []
    at = 0
    while at < len(words):
        fact, end = None, at
        if not others or not is_of_before(others[-1]):
            fact, end = _longest_from(words, at)
        if fact is not None and fact.name == "tempo" and _OTHER_BEATS.intersection(others):
            fact = None  # the language's tempo counts quarters
        if fact is not None and fact.name in ("key", "capo") and is_of_another(" ".join(others)):
            fact = None  # "harp in D", "banjo capo 5"
        if fact is not None and fact.name == "shapes" and others and _A_CHORD.fullmatch(others[-1]):
            fact = None  # "Am F C G shapes" names no key
        if fact is None:
            others.append(words[at])
            at += 1
        else:
            facts.append(fact)
            at = end
    return facts, " ".join(others)


def _longest_from(words: list[str], at: int) -> tuple[Fact | None, int]:
    """The setting in the most words from one on, and the place behind them."""
    for end in range(min(len(words), at + _MOST_WORDS), at, -1):
        fact = fact_of_words(" ".join(words[at:end]).strip(" :;,"))
        of_another = fact is not None and fact.name == "capo" and words[end : end + 1]
        if of_another and words[end][:1].isdigit():
            continue  # "guitar 1 capo 2": the first number is the guitar's
        if fact is not None:
            return fact, end
    return None, at


def _with_shapes(facts: list[Fact]) -> list[Fact]:
    """The settings, the key of the shapes as such where another key is said to sound."""
    keys = [fact for fact in facts if fact.name == "key"]
    sounding = next((fact for fact in keys if fact.sounds), None)
    if sounding is None:
        return facts
    return [
        Fact("shapes", fact.value) if fact.name == "key" and fact is not sounding else fact
        for fact in facts
    ]
