"""Settings in the words of a head: "in E minor, medium", "Blues in A", "E, 140", and in sentences.

Source of the words: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.song_form.form import is_plan
from chartkit.interchange.text.vocabulary.facts import (
    ABOUT,
    LONGEST_LINE,
    MOST_PIECES,
    PLAYED,
    SHAPES,
    Fact,
    fact_of,
    meter_of,
    shapes_key,
)
from chartkit.interchange.text.vocabulary.feel_words import labelled_feel
from chartkit.interchange.text.vocabulary.key_words import key_of
from chartkit.interchange.text.vocabulary.manners import says_feel
from chartkit.interchange.text.vocabulary.tunings import tuning_of
from chartkit.theory.key import Key

_PARTS_OF_A_HEAD = re.compile(
    r"\s*(?:,(?!\d{3})|[;|•·()\[\]])\s*|\s/{1,2}\s|\s+[–—-]\s+|\s{2,}|"
    r"(?<=\b[A-G])\s+(?=[CcKk]apo\b)|(?<=\b[A-G][#b♯♭m])\s+(?=[CcKk]apo\b)"
)
_OF_BEFORE = re.compile(
    r"(?:was|were|originally|original|orig\.?|used to|not|instead|record(?:ing|ed)?|last time|"
    r"früher|statt|antes|avant|or|oder|ou|eller)\b",
    re.IGNORECASE,
)
"""How words begin that are about a key in which the song is not played tonight, or that say how
it may be played too ("or capo 2 for A")."""
_TRANSPOSED = """
harp harps harmonica harmonicas mundharmonika mundharp harmo armónica armonica mondharmonica munspel
gaita gaita-de-boca harmonijka banjo mandolin mandolins mandoline ukulele uke whistle whistles flute
flutes horn horns sax saxes saxophone clarinet clarinets trumpet trumpets trombone pipes bagpipes
fiddle cornet klarinette trompete klarinet trumpet trompette clarinette cuivres bläser clarinete
"""
_OF_ANOTHER = frozenset(_TRANSPOSED.split())
"""Instruments that have a key or a capo of their own, which are not the song's (common practice, no
source)."""
_MODE = (
    r"(?:major|minor|maj|min|dur|moll|mineur|majeur|menor|mayor|minore|maggiore|maior|"
    r"mol|durowa|molowa|durová|mollová|duuri|molli)"
)
_IN_KEY = re.compile(
    r"(?:(?P<manner>[^\W\d][^\d]{0,30}?)\s+)?(?:in|en|em|i)\s+(?P<key>[A-Ha-hLSFRMD]\S{0,6}"
    rf"(?:[ -](?:flat|sharp))?(?:[ -]{_MODE})?)",
    re.IGNORECASE,
)
_INSTEAD = re.compile(
    r"(?:now|tonight|we(?:['’]re| are)(?: now)?|jetzt|heute|maintenant|ahora|adesso)\s+"
    r"(?:in\s+|en\s+)?(?P<now>[A-G][#b♯♭]?m?)[!.]*|"
    r"(?:(?:now|we do it|we play it)\s+)?(?:in\s+)?(?P<key>[A-G][#b♯♭]?m?)\s+"
    r"(?:(?:now|tonight|this time|today|heute|jetzt|ce soir|ahora|hoy)|"
    r"(?:now\s+)?\(?(?:instead of|rather than|not|was|statt|nicht|pas|au lieu de|en vez de|no|non|"
    r"niet|invece di|inte)\s+(?:in\s+)?[A-G][#b♯♭]?m?\)?"
    r"(?:\s+(?:tonight|now|this time|heute|any ?more))?)"
    r"[!.]*",
)
"""How a key is said that is another than it was ("G instead of A tonight", "G now")."""
_TONIC = (
    r"(?:[A-H](?:[#b♯♭]|iss?|ess?|ss?)?|(?:Do|R[eé]|Mi|Fa|Sol|La|Si)[#b♯♭]?)"
    r"(?:[ -](?:flat|sharp|bémol|dièse|bemol|sostenido|bemolle|diesis))?"
)
_BEHIND_IN = re.compile(rf"(?:in|en|em|i)\s+(?P<key>{_TONIC}(?:m|[ -]?{_MODE})?)", re.IGNORECASE)
_KEY_WITH_MODE = re.compile(rf"{_TONIC}[ -]{_MODE}", re.IGNORECASE)
_BARE_KEY = re.compile(
    r"(?:[A-H](?:[#b♯♭]|[ -](?:flat|sharp))?(?:\s?(?:m|min|minor|maj|major)|"
    r"\s(?:ionian|dorian|phrygian|lydian|mixolydian|aeolian|locrian))?|(?:Do|R[eé]|Mi|Fa|Sol|La|Si)[#b♯♭]?"
    r"(?:m|\s(?:m|majeur|mineur|mayor|menor|maggiore|minore|maior))?)"
)
_SMALL_LETTER = re.compile(r"[a-g][#b]?")
_SMALL_MINOR = re.compile(r"[a-g][#b]?m")
_GERMAN_KEY = re.compile(
    r"[A-Ha-h](?:iss?|ess?|ss?|[#b♯♭])?[- ](?:[Dd]ur|[Mm]oll|[Dd]uuri|[Mm]olli)"
)
_MANNER_TEMPO = re.compile(r"(?P<manner>[^\W\d][^\d/]{0,30}?)[\s,]+(?P<tempo>\d{2,3})")
_MANNER_METER = re.compile(r"(?P<manner>[^\W\d][^\d/]{0,30}?)\s+(?P<meter>\d{1,2}/\d{1,2})")
OF_A_PAPER = re.compile(
    r"(?:pages?|p\.|sheet|seite|s\.|blatt|rev\.?|revised|version|v\.|draft|date|stand)\s*\d", re.I
)
_BARE_TEMPO = re.compile(
    rf"(?:q\s?=\s?|♩\s?=?\s?|ca\.?\s?|(?:{ABOUT}|so)\s|~\s?)?(\d{{2,3}})\s?(?:ish)?"
)
_DASHED_METER = re.compile(r"(\d{1,2})[-–]([248])")
_SLOWEST, _FASTEST = 40, 260
_FEWEST_SETTINGS = 2
"""A bare key or tempo counts where a line holds so many settings."""


_SAY_NOTHING = """
a an the we i it it's it’s this one one's one’s that's that’s is in on at with and here now so just
do play plays played sing sings sung song singt spielen machen singen hem spelen den spelar spiller
la le joue jouons fait faisons tocamos hacemos facciamo suoniamo on lo das die den vi
wir ich es ist im mit und hier nous avec et aquí con y si
tonight heute but or which that aber mais pero key tempo time takt mesure misura compás meter
"""
_BLANK_WORDS = frozenset(_SAY_NOTHING.split())
"""Words that say nothing beside a setting."""


@dataclass(frozen=True, slots=True)
class HeadFacts:
    """What a few words of a head give: settings, how the song goes, and what else is said."""

    facts: tuple[Fact, ...]
    manner: tuple[str, ...]
    rest: tuple[str, ...]


@kept
def head_facts(text: str) -> HeadFacts:
    """The settings in words such as "in E minor, medium", "Blues in A" or "E, 140".

    A bare key or tempo counts only beside another setting.
    """
    if len(text) > LONGEST_LINE or is_plan(text):
        return HeadFacts((), (), (text,))  # in a line of form a C is a chorus
    facts: list[Fact] = []
    manner: list[str] = []
    rest: list[str] = []
    for part in _parts_of(text):
        given, how = _given_by(part)
        facts += given
        manner += [how] if how else []
        rest += [] if given or how else [part]
    taken = _bare_among(rest, facts)
    facts += [fact for _, fact in taken]
    rest = [part for part in rest if part not in dict(taken)]
    manner += filter(says_feel, rest)
    return HeadFacts(tuple(facts), tuple(manner), tuple(one for one in rest if not says_feel(one)))


def _parts_of(text: str) -> list[str]:
    """What commas, dashes, brackets and wide gaps part on a line."""
    parts = (part.strip() for part in _PARTS_OF_A_HEAD.split(text) if part)
    return [part.lstrip("-–— ") or part for part in parts if part]


def _given_by(part: str) -> tuple[list[Fact], str]:
    """The settings that a part of a line names, and how the song goes, as said beside them."""
    if tuning_of(part):  # "drop D" names no key
        return [], ""
    if labelled := labelled_feel(part):
        return [], labelled
    named, how = _fact_in_words(part)
    if named is not None:
        return [named], how
    return _facts_word_by_word(part) or ([], "")


def _bare_among(parts: Sequence[str], given: Sequence[Fact]) -> list[tuple[str, Fact]]:
    """The parts that are a key, a tempo or a meter which nothing names, each with it; none where
    the line holds no other setting, and no word on how the song goes."""
    bare = [(part, fact) for part in parts if (fact := _bare_fact(part, small=True)) is not None]
    paced = any(fact.name == "tempo" for _, fact in bare) or any(map(says_feel, parts))
    if len(bare) + len(given) < _FEWEST_SETTINGS and not (len(parts) > 1 and paced):
        return []
    names = {fact.name for fact in given}
    return [(part, fact) for part, fact in bare if fact.name not in names]


def key_and_tempo(text: str) -> tuple[Fact, ...]:
    """The settings of a line that is a key and a tempo and nothing else ("Am, 92"), which could
    be a row of chords; none for any other line."""
    if not any(map(str.isdigit, text)):
        return ()
    head = head_facts(text)
    names = {fact.name for fact in head.facts}
    return head.facts if {"key", "tempo"} <= names and not (head.rest or head.manner) else ()


def _facts_word_by_word(part: str) -> tuple[list[Fact], str] | None:
    """The settings in words that are a bare key, a meter, a tempo and a manner of playing in any
    order ("Fm up swing 208", "fast!! G"), and the manner; None where other words stand there, or
    but one of these."""
    words = re.sub(r"(?i)(?<=\d)\s?b\.?p\.?m\.?(?!\w)", "", part).split()
    if not 1 < len(words) <= MOST_PIECES:
        return None
    facts: list[Fact] = []
    manner: list[str] = []
    for word in words:
        meter = meter_of(word)
        fact = Fact("meter", meter) if meter is not None else _bare_fact(word)
        if fact is not None and fact.name not in {one.name for one in facts}:
            facts.append(fact)
        elif says_feel(word):
            manner.append(word)
        else:
            return None
    article = words[0] == "A" and len(facts) == 1  # "A waltz" names no key
    return (facts, " ".join(manner)) if facts and not article else None


def columns_of(text: str) -> tuple[HeadFacts, int]:
    """What parts of a line give that stand wide apart, and how many these are."""
    columns = [part for part in _FAR_APART.split(text.strip()) if part.strip()]
    return head_facts(", ".join(columns)), len(columns)


_FAR_APART = re.compile(r"\s{2,}|\t")


def fact_of_words(text: str) -> Fact | None:
    """The setting that a few words are, whatever stands around them: by its name, or a key behind
    "in"; None for other words and for a key alone."""
    shapes = SHAPES.fullmatch(text)
    fact = shapes_key(shapes) if shapes is not None else fact_of(text)
    if fact is not None:
        return fact
    keyed = _BEHIND_IN.fullmatch(text)
    key = _key_behind_in(keyed["key"], text) if keyed is not None else None
    if key is None and _KEY_WITH_MODE.fullmatch(text) is not None:
        key = key_of(text)
    return Fact("key", key) if key is not None else None


def _key_behind_in(name: str, text: str) -> Key | None:
    """The key that is named behind "in"; a small letter is one where nothing has capitals."""
    small = text.islower() and not name.startswith("i")
    return key_of(name[0].upper() + name[1:] if small else name)


def is_of_before(text: str) -> bool:
    """Whether words begin to speak of a key in which the song is not played tonight."""
    return _OF_BEFORE.match(text) is not None


def is_of_another(text: str) -> bool:
    """Whether words before a key or a capo end with the instrument whose it is ("harp in D")."""
    words = text.casefold().split()
    return bool(words) and words[-1].strip(".:") in _OF_ANOTHER


def _fact_in_words(part: str) -> tuple[Fact | None, str]:
    """A setting and the manner of playing that stands beside it."""
    shapes = SHAPES.fullmatch(part) or PLAYED.fullmatch(part)
    if shapes is not None and (fact := shapes_key(shapes)) is not None:
        return fact, ""
    if (fact := fact_of(part)) is not None:
        return fact, ""
    if _OF_BEFORE.match(part) is not None:
        return None, ""
    if (instead := _INSTEAD.fullmatch(part)) is not None:
        key = key_of(instead["now"] or instead["key"])
        return (Fact("key", key), "") if key is not None else (None, "")
    if (keyed := _IN_KEY.fullmatch(part)) is not None:
        key = key_of(keyed["key"]) if not is_of_another(keyed["manner"] or "") else None
        return (Fact("key", key), telling(keyed["manner"] or "")) if key is not None else (None, "")
    if OF_A_PAPER.match(part) is not None:
        return None, ""
    if (metered := _MANNER_METER.fullmatch(part)) is not None:
        meter = meter_of(metered["meter"])
        manner = telling(metered["manner"])
        return (Fact("meter", meter), manner) if meter is not None else (None, "")
    paced = _MANNER_TEMPO.fullmatch(part)
    if paced is not None and says_feel(paced["manner"]):
        tempo = int(paced["tempo"])
        return (Fact("tempo", tempo), paced["manner"]) if _is_pace(tempo) else (None, "")
    return None, ""


def telling(text: str) -> str:
    """Words that are left beside a setting, unless none of them says anything."""
    return "" if all(word.casefold() in _BLANK_WORDS for word in text.split()) else text


def _is_pace(beats: int) -> bool:
    return _SLOWEST <= beats <= _FASTEST


def bare_facts(parts: Sequence[str], beside: Sequence[Fact]) -> dict[str, Fact]:
    """Which parts of a line are a key or a tempo that nothing names; they count beside other
    settings, of which they are none."""
    names = {fact.name for fact in beside}
    facts = {part: fact for part in parts if (fact := _bare_fact(part)) is not None}
    return {part: fact for part, fact in facts.items() if fact.name not in names}


def _bare_fact(part: str, small: bool = False) -> Fact | None:
    """A key, a tempo or a meter with a dash ("4-4") that nothing names; a ``small`` letter may be a
    key too."""
    letter = small and _SMALL_LETTER.fullmatch(part) is not None
    if letter or (part.islower() and _SMALL_MINOR.fullmatch(part) is not None):
        part = part.capitalize()
    german = _GERMAN_KEY.fullmatch(part) is not None
    if (german or _BARE_KEY.fullmatch(part)) and (key := key_of(part)) is not None:
        return Fact("key", key)
    dashed = _DASHED_METER.fullmatch(part)
    if dashed is not None and (meter := meter_of(f"{dashed[1]}/{dashed[2]}")) is not None:
        return Fact("meter", meter)
    tempo = _BARE_TEMPO.fullmatch(part)
    if tempo is not None and _is_pace(int(tempo[1])):
        return Fact("tempo", int(tempo[1]))
    return None
