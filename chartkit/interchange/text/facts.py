"""What a sheet says in figures and by name: capo, key, meter, tempo, rests, repeats."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from chartkit.chart.model import LONGEST_REST, Meter, SettingName, SettingValue
from chartkit.interchange.capo_words import capo_of_words, short_capo_of_words
from chartkit.interchange.text.directions import says_feel
from chartkit.interchange.text.note_names import key_of
from chartkit.theory.key import Key
from chartkit.theory.pitch import parse_range

_FRACTION = re.compile(r"\(?(\d{1,2})/(\d{1,2})\)?")
_UNITS = (1, 2, 4, 8, 16, 32)
_MOST_BEATS = 32
_BARS = r"(?:bars?|measures?|takte?|compases|mesures?)['’]?"
_SILENT = r"(?:rests?|tacet|pause)"
_REST = re.compile(
    rf"(?P<before>\d{{1,3}})[ -]?(?:{_BARS} )?(?:of )?{_SILENT}"
    rf"|(?:{_SILENT} ?:? ?(?:for )?[x×]? ?(?P<after>\d{{1,3}})(?: ?{_BARS})?)|rest",
    re.IGNORECASE,
)
_AGAIN = re.compile(
    r"\(?(?:repeat|rpt\.?|wdh\.?|bis)?\s*(?:[x×]\s?\d{1,2}|\d{1,2}\s?(?:[x×]|times|mal|veces|fois))\)?|"
    r"\(?(?:repeat|rpt\.?|wdh\.?|bis|twice|three times|zweimal)\)?",
    re.IGNORECASE,
)
_BEGINS_REST = frozenset("rtp0123456789")
_DIGIT = re.compile(r"\d")
_LONGEST_REMARK = 40
_MOST_PIECES = 6


def meter_of(text: str) -> Meter | None:
    """The meter that a text such as ``3/4`` or ``(3/4)`` is; None for any other."""
    match = _FRACTION.fullmatch(text)
    if match is None:
        return None
    count, unit = int(match[1]), int(match[2])
    return Meter(count, unit) if unit in _UNITS and 0 < count <= _MOST_BEATS else None


def rest_of(text: str) -> int:
    """For how many bars a text such as ``rest 4`` asks for silence; 0 where it is no rest.

    ``tacet`` without a number is no chord, not a rest.
    """
    if len(text) > _LONGEST_REMARK or text.lstrip(" (")[:1].lower() not in _BEGINS_REST:
        return 0
    plain = " ".join(text.replace("(", " ").replace(")", " ").split())
    match = _REST.fullmatch(plain)
    if match is None:
        return 0
    bars = int(match["before"] or match["after"] or 1)
    return bars if bars <= LONGEST_REST else 0


def is_counted_rest(text: str) -> bool:
    """Whether a line says for how many bars there is silence, as no words of a song do."""
    return _DIGIT.search(text) is not None and rest_of(text) > 0


def says_again(text: str) -> bool:
    """Whether a line says no more than how often what stands before it is played."""
    return len(text) <= _LONGEST_REMARK and _AGAIN.fullmatch(text.strip()) is not None


def rest_among(pieces: Sequence[str]) -> tuple[int, int] | None:
    """Which pieces of a bar are its rest, first and last, where nothing else but a meter
    and remarks in parentheses stands in the bar; None where it is no bar of rest."""
    plain = [
        i for i, piece in enumerate(pieces) if not piece.startswith("(") and not meter_of(piece)
    ]
    if not plain:
        return next(((i, i) for i, piece in enumerate(pieces) if rest_of(piece)), None)
    first, last = plain[0], plain[-1]
    if last - first > _MOST_PIECES:
        return None
    for end in (last + 1, last):  # the number may stand in parentheses
        if end < len(pieces) and rest_of(" ".join(pieces[first : end + 1])):
            return first, end
    return None


_APART = re.compile(r"\s{3,}")
_NAMED = re.compile(r"(feel|instrument|range|language)\s*:\s*(.+)", re.IGNORECASE)
_TAG = re.compile(r"[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")
_NAMES: dict[str, SettingName] = {
    "feel": "feel",
    "instrument": "instrument",
    "range": "range",
    "language": "language",
}
_LONGEST = 400


def named_settings(text: str) -> dict[SettingName, SettingValue]:
    """The settings on a line that holds nothing else, several of them wide apart; else none."""
    if ":" not in text or len(text) > _LONGEST:
        return {}
    collected: dict[SettingName, SettingValue] = {}
    for part in _APART.split(text.strip()):
        named = _NAMED.fullmatch(part)
        value = None if named is None else _value(named[1].lower(), named[2].strip())
        if named is None or value is None:
            return {}
        collected[_NAMES[named[1].lower()]] = value
    return collected


def _value(name: str, text: str) -> SettingValue | None:
    """What is named; None for a range or a language that is none."""
    if name == "range":
        try:
            return parse_range(text)
        except ValueError:
            return None
    return None if name == "language" and _TAG.fullmatch(text) is None else text


_LONGEST_LINE = 120
"""What is longer is no line of facts."""
_WORDS_OF_FACTS = (
    *("key", "ton", "tom", "toon", "capo", "kapo", "sound", "tune", "tuni", "shape", "ohne", "sin"),
    *("step", "standard", "semi", "lower"),
)
"""A figure or one of these words stands in every fact; most lines have none."""
_OF_A_MODE = re.compile(r"ian\b")
_FACTS_APART = re.compile(
    r"\s*(?:,(?!\d{3})|[;|•·\[\]])\s*|(?<=\b[A-G])\s+(?=[CcKk]apo\b)|"
    r"(?<=\b[A-G][#b♯♭m])\s+(?=[CcKk]apo\b)|\s{3,}|\t|\s+[/–—-]\s+|\s*(?:[-=]>|→)\s*"
)
_NAMES_ONE = re.compile(
    r"[\s(\[]*(?P<name>(?:original\s+)?(?:key|tonart|tonalité|ton|tonalidade?|tonalità|toonsoort|sävellaji|toneart|tonacja|tonalitet|tono|tom|[ck]apo(?:daster)?|"
    r"cejilla|tempo|speed|andamento|velocidad|velocità|bpm|metronom[eo]?|tim(?:e|ing)|met(?:er|re)|takt|compás))\b\s*(?P<sign>[:=@]|[–—-](?=\s))?",
    re.IGNORECASE,
)
_FAR_BEHIND_LABEL = re.compile(
    r"(?<=\w:)\s{2,}(?=\S)|(?<=^key)\s{2,}(?=\S)|(?<=^tempo)\s{2,}(?=\S)|(?<=^capo)\s{2,}(?=\S)",
    re.IGNORECASE,
)
"""Blanks that a tab leaves between a setting's name and its value."""
TITLE_LABEL = re.compile(r"\s*title\s*(?::|\sis\s)\s*(?=\S)", re.IGNORECASE)
"""What stands before a title that could be something else, in our own texts too."""
FactName = Literal["capo", "key", "meter", "tempo", "shapes"]


@dataclass(frozen=True, slots=True)
class Fact:
    """A setting that a line of the heading gives, and whether its words say ``more``; the key of
    the ``shapes`` is none of its own, and a key that ``sounds`` is said to do so."""

    name: FactName
    value: SettingValue
    more: bool = False
    sounds: bool = False


_KEY = re.compile(
    r"(?:in\s+)?(?:the\s+)?(?:original\s+)?(?:key|tonart|tonalité|ton|tonalidade?|tonalità|toonsoort|sävellaji|toneart|tonacja|tonalitet|tono|tom)"
    r"\s*(?:of\s+|de\s+|di\s+|:\s*|=\s*|\s)\s*(\S+(?:\s+\S+){0,2})",
    re.IGNORECASE,
)
_SHAPES_BEHIND = re.compile(r"\(([A-G][#b♯♭]?m?)(?: shapes)?\)")
"""The key of the shapes behind a capo ("Capo 4 (G)")."""
_KEY_SOUNDS = re.compile(r"(?:sounds|sounding)(?: in)?\s+(\S+(?: \S+)?)", re.IGNORECASE)
_SHAPES = re.compile(
    r"(?:key:?\s*(?:of\s+)?)?(?P<before>[A-H][^\s-]*(?: \w+)?)[ -]shapes|"
    r"(?:shapes?(?: in| of|:)?|chords (?:are )?(?:in|of|from)) (?P<behind>[A-H]\S*(?: \w+)?)",
    re.IGNORECASE,
)
_PLAYED = re.compile(
    r"(?:(?:we\s+)?play(?:ed|ing)?(?: it)?(?: in)?|(?:se )?toca(?:r|do)? e[nm]|gespielt in|"
    r"jou(?:er|é) en|spelen in|spelas i|suona(?:re|ta) in) "
    r"(?P<behind>(?:[A-H]|La|Si|Do|R[eé]|Mi|Fa|Sol)\S*(?: m\w+)?)(?: shapes)?",
    re.IGNORECASE,
)
"""How the key of the shapes is said (common practice, no source)."""
_IN_A_MODE = re.compile(
    r"[A-G][#b♯♭]? (?:ionian|dorian|phrygian|lydian|mixolydian|aeolian|locrian)", re.IGNORECASE
)
_METER = re.compile(
    r"(?:(?:tim(?:e|ing)|met(?:er|re)|takt|compás|mesure|maat|taktart|compasso)"
    r"(?:\s+signature)?\s*:?\s*)?(\d{1,2}/\d{1,2})(?:[ -]?(?:time|takt|maat|zeit|feel))?",
    re.IGNORECASE,
)
_TEMPO = re.compile(
    r"(?:tempo|speed|andamento|velocidad|velocità|bpm|metronom[eo]?|mm|m\.m\.|"
    r"(?<!\w)(?:q|quarter(?: note)?|crotchet|viertel|noire|negra|semínima|kwart)(?=\s?=)|"
    r"♩\s?[.·]?|~(?=\s*\d)|(?:c\.|ca\.?|circa|around|about|roughly)(?=\s+\d))"
    r"\s*[:=]?\s*(?:♩\s?=\s?)?(?:ca\.?\s*|about\s+|around\s+|~\s*)?(\d{2,3})"
    r"(?P<more>\s?[-–]\s?\d{2,3})?(?:\s?ish)?(?:\s*b\.?p\.?m\.?)?|"
    r"(?:about\s+|around\s+|ca\.?\s*|circa\s+|~\s*)?(\d{2,3})\s*b\.?p\.?m\.?",
    re.IGNORECASE,
)


_METERS = {
    Meter(3, 4): "dreivierteltakt driekwartsmaat trefjärdedelstakt three-four three-four\xa0time",
    Meter(4, 4): "viervierteltakt vierkwartsmaat four-four four-four\xa0time common\xa0time",
    Meter(6, 8): "sechsachteltakt zesachtstemaat six-eight six-eight\xa0time",
    Meter(2, 2): "cut\xa0time alla\xa0breve",
}
_METER_WORDS = {
    word.replace("\xa0", " "): meter
    for meter, words in _METERS.items()
    for word in words.split(" ")
}
"""Meters spelled out."""


def facts_of(text: str) -> tuple[Fact, ...]:
    """The settings on a line of the heading; none unless all of the line is settings."""
    result, rest = facts_and_rest(text)
    return () if rest else result


def facts_and_rest(text: str) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    """The settings on a line, and what else is said between them."""
    if len(text) > _LONGEST_LINE or not _may_say_one(text):
        return (), (text,) if text.strip() else ()
    text = _FAR_BEHIND_LABEL.sub(" ", text)
    named = _NAMES_ONE.match(text)
    if named is not None and named["sign"] in ("-", "–", "—"):
        text = f"{named['name']}: {text[named.end() :].strip()}"
    result, rest = _parted(text)
    if "(" in text:
        inside = _parted(text.replace("(", ", ").replace(")", ","))
        result, rest = inside if len(inside[0]) > len(result) else (result, rest)
    return result, rest


def _may_say_one(text: str) -> bool:
    """Whether there may be a fact in a text: a quick look."""
    lowered = text.lower()
    if any(map(lowered.__contains__, _WORDS_OF_FACTS)) or _DIGIT.search(text) is not None:
        return True
    return "ian" in lowered and _OF_A_MODE.search(lowered) is not None


def names_a_fact(text: str) -> bool:
    """Whether a line begins with a setting by its name and a sign, whatever stands behind."""
    named = _NAMES_ONE.match(text) if len(text) <= _LONGEST_LINE else None
    if named is None or not named["sign"]:
        return False
    result, rest = facts_and_rest(text)
    return bool(result) and not (rest and text.strip(" ([").startswith(rest[0]))


def _parted(text: str) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    collected: list[Fact] = []
    rest: list[str] = []
    bare = text.strip().removesuffix(".") if not text.endswith("m.") else text.strip()
    parts = [part.strip() for part in _FACTS_APART.split(bare) if part.strip()]
    for part in parts:
        shapes = _SHAPES.fullmatch(part) or (_PLAYED.fullmatch(part) if len(parts) > 1 else None)
        fact = _shapes_key(shapes) if shapes is not None else _fact(part)
        if fact is not None:
            collected.append(fact)
            behind = _SHAPES_BEHIND.search(part) if _is_a_fret(fact) else None
            if behind is not None and (key := key_of(behind[1])) is not None:
                collected.append(Fact("shapes", key))
        elif shapes is None:
            rest.append(part)
    return tuple(collected), tuple(rest)


def _is_a_fret(fact: Fact) -> bool:
    """Whether a setting is a capo on a fret, and no lower tuning."""
    return fact.name == "capo" and (not isinstance(fact.value, int) or fact.value > 0)


def _shapes_key(match: re.Match[str]) -> Fact | None:
    said = match.groupdict()
    key = key_of(said.get("before") or said["behind"] or "")
    return Fact("shapes", key) if key is not None else None


def _fact(text: str) -> Fact | None:
    if (capo := capo_of_words(text)) is not None:
        return Fact("capo", capo)
    if (short := short_capo_of_words(text)) is not None:
        return Fact("capo", short)
    if (key := _KEY.fullmatch(text) or _KEY_SOUNDS.fullmatch(text)) is not None:
        value = key_of(key[1])
        sounds = key.re is _KEY_SOUNDS
        return Fact("key", value, sounds=sounds) if value is not None else None
    if _IN_A_MODE.fullmatch(text) is not None and (modal := key_of(text)) is not None:
        return Fact("key", modal)
    if (spelled := _METER_WORDS.get(text.casefold())) is not None:
        return Fact("meter", spelled)
    if (written := _METER.fullmatch(text)) is not None:
        meter = meter_of(written[1])
        return Fact("meter", meter) if meter is not None else None
    if (tempo := _TEMPO.fullmatch(text)) is not None:
        beats = int(tempo[1] or tempo[3])
        return Fact("tempo", beats, bool(tempo["more"])) if 10 <= beats <= 400 else None
    return None


_IN_PROSE = re.compile(
    r"\b[ck]apo(?:daster)?\s*(?:is\s+)?(?:on|at|im|in|au|en|op|på|:|=)?\s*(?:the\s+)?(?P<capo>\d{1,2})(?!\d)|"
    r"\b(?P<shapes>[A-Ga-g][#b♯♭]?m?)[ -]shapes?\b|"
    r"\b(?P<tempo>\d{2,3})\s?b\.?p\.?m\b|"
    r"\b[Tt]empo\s*(?:ca\.?|about|around|etwa|is|:|=)?\s*(?P<beats>\d{2,3})(?![\d%])|"
    r"\b(?:around|about|roughly|at|etwa|ca\.|circa|um die|so um|autour de|environ|sobre|unos|"
    r"rond(?: de)?|runt|cirka)\s+(?P<about>\d{2,3})(?![\d:.]\d|\w|\s*%)|"
    r"\b(?:[Ii]n|[Ee]n|[Ee]m|[Ii]|[Kk]ey(?: of| is)?|[Tt]onart|[Tt]on[oi]?|[Tt]om)\s+"
    r"(?P<key>(?:[A-H][#b♯♭]?m?|"
    r"[a-h](?=\s+(?:minor|major|moll|dur)\b)|La|Si|Do|Ré|Re|Mi|Fa|Sol)(?!\w)"
    r"(?:[ -](?:flat|sharp|bémol|dièse|bemol|sostenido|bemolle|diesis))?"
    r"(?:[ -](?:major|minor|dur|moll|majeur|mineur|mayor|menor|maggiore|minore))?)"
    r"(?=\s*[,.;!?)]|\s*$|"
    r"\s+(?:around|about|roughly|at|etwa|ca|circa|capo|with|mit|but|for|maybe|please|and)\b)"
)
"""Settings within a sentence."""


def facts_in_prose(text: str) -> tuple[Fact, ...]:
    """The capo, key and tempo that sentences name in passing ("we take it in Am, 88 bpm")."""
    facts: list[Fact] = []
    about: list[int] = []
    for match in _IN_PROSE.finditer(text[:_LONGEST]):
        if match["capo"]:
            facts.append(Fact("capo", int(match["capo"])))
        elif match["shapes"]:
            shapes = key_of(match["shapes"][0].upper() + match["shapes"][1:])
            facts += [Fact("shapes", shapes)] if shapes is not None else []
        elif beats := match["tempo"] or match["beats"]:
            facts.append(Fact("tempo", int(beats)))
        elif match["about"]:
            about.append(int(match["about"]))
        elif (key := key_of(match["key"][0].upper() + match["key"][1:])) is not None:
            facts.append(Fact("key", key))
    named = {fact.name for fact in facts}
    if "key" in named and "tempo" not in named:  # "in D around 76"
        facts += [Fact("tempo", beats) for beats in about if _is_pace(beats)][:1]
    return tuple(facts)


_PARTS_OF_A_HEAD = re.compile(
    r"\s*(?:,(?!\d{3})|[;|•·()\[\]])\s*|\s/\s|\s+[–—-]\s+|\s{2,}|"
    r"(?<=\b[A-G])\s+(?=[CcKk]apo\b)|(?<=\b[A-G][#b♯♭m])\s+(?=[CcKk]apo\b)"
)
_OF_BEFORE = re.compile(
    r"(?:was|were|originally|original|orig\.?|used to|not|instead|record(?:ing|ed)?|last time|"
    r"früher|statt|antes|avant)\b",
    re.IGNORECASE,
)
"""How words begin that are about a key in which the song is not played tonight."""
_IN_KEY = re.compile(
    r"(?:(?P<manner>[^\W\d][^\d]{0,30}?)\s+)?(?:in|en|em|i)\s+(?P<key>[A-Ha-hLSFRMD]\S{0,6}"
    r"(?:[ -](?:major|minor|maj|min|dur|moll|mineur|majeur|menor|mayor|minore|maggiore))?)",
    re.IGNORECASE,
)
_MODE = (
    r"(?:major|minor|maj|min|dur|moll|mineur|majeur|menor|mayor|minore|maggiore|maior|mol|durowa)"
)
_TONIC = (
    r"(?:[A-H](?:[#b♯♭]|is|es|s)?|(?:Do|R[eé]|Mi|Fa|Sol|La|Si)[#b♯♭]?)"
    r"(?:[ -](?:flat|sharp|bémol|dièse|bemol|sostenido|bemolle|diesis))?"
)
_BEHIND_IN = re.compile(rf"(?:in|en|em|i)\s+(?P<key>{_TONIC}(?:m|[ -]?{_MODE})?)", re.IGNORECASE)
_KEY_WITH_MODE = re.compile(rf"{_TONIC}[ -]{_MODE}", re.IGNORECASE)
_BARE_KEY = re.compile(
    r"(?:[A-H][#b♯♭]?(?:\s?(?:m|min|minor|maj|major)|\s(?:ionian|dorian|phrygian|lydian|"
    r"mixolydian|aeolian|locrian))?|(?:Do|R[eé]|Mi|Fa|Sol|La|Si)[#b♯♭]?"
    r"(?:m|\s(?:m|majeur|mineur|mayor|menor|maggiore|minore|maior))?)"
)
_GERMAN_KEY = re.compile(r"[A-Ha-h](?:is|es|s)?[- ](?:[Dd]ur|[Mm]oll)")
_MANNER_TEMPO = re.compile(r"(?P<manner>[^\W\d][^\d/]{0,30}?)[\s,]+(?P<tempo>\d{2,3})")
_MANNER_METER = re.compile(r"(?P<manner>[^\W\d][^\d/]{0,30}?)\s+(?P<meter>\d{1,2}/\d{1,2})")
_BARE_TEMPO = re.compile(
    r"(?:q\s?=\s?|♩\s?=?\s?|ca\.?\s?|circa\s|about\s|around\s|roughly\s|~\s?)?(\d{2,3})\s?(?:ish)?"
)
_SLOWEST, _FASTEST = 40, 260


@dataclass(frozen=True, slots=True)
class HeadFacts:
    """What a few words of a head give: settings, how the song goes, and what else is said."""

    facts: tuple[Fact, ...]
    manner: tuple[str, ...]
    rest: tuple[str, ...]


def head_facts(text: str) -> HeadFacts:
    """The settings in words such as "in E minor, medium", "Blues in A" or "E, 140".

    A bare key or tempo counts only beside another setting.
    """
    facts: list[Fact] = []
    manner: list[str] = []
    rest: list[str] = []
    if len(text) > _LONGEST_LINE:
        return HeadFacts((), (), (text,))
    parts = [part.strip() for part in _PARTS_OF_A_HEAD.split(text) if part and part.strip()]
    parts = [part.lstrip("-–— ") or part for part in parts]
    for part in parts:
        named, how = _fact_in_words(part)
        several = _facts_word_by_word(part) if named is None else None
        if several is not None:
            facts += several[0]
            manner += [several[1]] if several[1] else []
            continue
        facts += [named] if named is not None else []
        manner += [how] if how else []
        if named is None:
            rest.append(part)
    bare = [(part, _bare_fact(part)) for part in rest]
    if sum(fact is not None for _, fact in bare) + len(facts) > 1 or (
        len(bare) > 1
        and any(
            (fact is not None and fact.name == "tempo") or says_feel(part) for part, fact in bare
        )
    ):
        names = {fact.name for fact in facts}
        taken = [part for part, fact in bare if fact is not None and fact.name not in names]
        facts += [fact for part, fact in bare if part in taken and fact is not None]
        rest = [part for part in rest if part not in taken]
    manner += filter(says_feel, rest)
    rest = [part for part in rest if not says_feel(part)]
    return HeadFacts(tuple(facts), tuple(manner), tuple(rest))


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
    if not 1 < len(words) <= _MOST_PIECES:
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


def fact_of_words(text: str) -> Fact | None:
    """The setting that a few words are, whatever stands around them: by its name, or a key behind
    "in"; None for other words and for a key alone."""
    shapes = _SHAPES.fullmatch(text)
    fact = _shapes_key(shapes) if shapes is not None else _fact(text)
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


def _fact_in_words(part: str) -> tuple[Fact | None, str]:
    """A setting and the manner of playing that stands beside it."""
    shapes = _SHAPES.fullmatch(part) or _PLAYED.fullmatch(part)
    if shapes is not None and (fact := _shapes_key(shapes)) is not None:
        return fact, ""
    if (fact := _fact(part)) is not None:
        return fact, ""
    if _OF_BEFORE.match(part) is not None:
        return None, ""
    if (keyed := _IN_KEY.fullmatch(part)) is not None:
        key = key_of(keyed["key"])
        return (Fact("key", key), keyed["manner"] or "") if key is not None else (None, "")
    if (metered := _MANNER_METER.fullmatch(part)) is not None:
        meter = meter_of(metered["meter"])
        return (Fact("meter", meter), metered["manner"]) if meter is not None else (None, "")
    paced = _MANNER_TEMPO.fullmatch(part)
    if paced is not None and says_feel(paced["manner"]):
        tempo = int(paced["tempo"])
        return (Fact("tempo", tempo), paced["manner"]) if _is_pace(tempo) else (None, "")
    return None, ""


def _is_pace(beats: int) -> bool:
    return _SLOWEST <= beats <= _FASTEST


def bare_facts(parts: Sequence[str], beside: Sequence[Fact]) -> dict[str, Fact]:
    """Which parts of a line are a key or a tempo that nothing names; they count beside other
    settings, of which they are none."""
    names = {fact.name for fact in beside}
    facts = {part: fact for part in parts if (fact := _bare_fact(part)) is not None}
    return {part: fact for part, fact in facts.items() if fact.name not in names}


def _bare_fact(part: str) -> Fact | None:
    """A key or a tempo that nothing names."""
    german = _GERMAN_KEY.fullmatch(part) is not None
    if (german or _BARE_KEY.fullmatch(part)) and (key := key_of(part)) is not None:
        return Fact("key", key)
    tempo = _BARE_TEMPO.fullmatch(part)
    if tempo is not None and _is_pace(int(tempo[1])):
        return Fact("tempo", int(tempo[1]))
    return None


def without_parentheses(text: str) -> str:
    """What stands between one pair of parentheses around the whole text; else the text."""
    inside = text[1:-1]
    plain = text.startswith("(") and text.endswith(")") and not set(inside) & set("()")
    return inside.strip() if plain else text
