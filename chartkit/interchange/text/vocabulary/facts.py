"""What a sheet says in figures and by name: capo, key, meter, tempo, repeats."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from chartkit.chart.model import Meter, SettingName, SettingValue
from chartkit.interchange.capo_words import CAPO_NAME, capo_of_words, short_capo_of_words
from chartkit.interchange.text.quick_looks import has_any, kept
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME, key_of
from chartkit.interchange.wording import NAMED_TEXTS
from chartkit.theory.pitch import parse_range

_FRACTION = re.compile(r"\(?(\d{1,2})/(\d{1,2})\)?")
_UNITS = (1, 2, 4, 8, 16, 32)
_MOST_BEATS = 32
_AGAIN = re.compile(
    r"\(?(?:repeat|rpt\.?|wdh\.?|bis)?\s*(?:[x×]\s?\d{1,2}|\d{1,2}\s?(?:[x×]|times|mal|veces|fois))\)?|"
    r"\(?(?:repeat|rpt\.?|wdh\.?|bis|twice|three times|zweimal)\)?",
    re.IGNORECASE,
)
_DIGIT = re.compile(r"\d")
_LONGEST_REMARK = 40
MOST_PIECES = 6


def meter_of(text: str) -> Meter | None:
    """The meter that a text such as ``3/4`` or ``(3/4)`` is; None for any other."""
    match = _FRACTION.fullmatch(text)
    if match is None:
        return None
    count, unit = int(match[1]), int(match[2])
    return Meter(count, unit) if unit in _UNITS and 0 < count <= _MOST_BEATS else None


def says_again(text: str) -> bool:
    """Whether a line says no more than how often what stands before it is played."""
    return len(text) <= _LONGEST_REMARK and _AGAIN.fullmatch(text.strip()) is not None


_APART = re.compile(r"\s{3,}")
_NAMES: tuple[SettingName, ...] = (*NAMED_TEXTS, "range", "language")
_NAMED = re.compile(rf"({'|'.join(_NAMES)})\s*:\s*(.+)", re.IGNORECASE)
_TAG = re.compile(r"[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")
_OF_A_GUITAR = re.compile(r"(?:first|second|third|lead|rhythm) guitar\b", re.IGNORECASE)
"""Whose part it may be: "Part: B" names a section."""
_LONGEST = 400


def named_settings(text: str) -> dict[SettingName, SettingValue]:
    """The settings on a line that holds nothing else, several of them wide apart; else none."""
    if ":" not in text or len(text) > _LONGEST:
        return {}
    collected: dict[SettingName, SettingValue] = {}
    for part in _APART.split(text.strip()):
        named = _NAMED.fullmatch(part)
        if named is None:
            return {}
        name = _NAMES[_NAMES.index(named[1].lower())]
        value = _value(name, named[2].strip())
        if value is None:
            return {}
        collected[name] = value
    return collected


def _value(name: SettingName, text: str) -> SettingValue | None:
    """What is named; None for what is not a range, a language or a part."""
    if name == "range":
        try:
            return parse_range(text)
        except ValueError:
            return None
    if name == "part" and _OF_A_GUITAR.match(text) is None:
        return None
    return None if name == "language" and _TAG.fullmatch(text) is None else text


LONGEST_LINE = 120
"""What is longer is no line of facts."""
_WORDS_OF_FACTS = (
    *("key", "ton", "tom", "toon", "sävellaji", "capo", "kapo", "ceji", "ceju", "pesta"),
    *("sound", "tune", "tuni", "shape", "ohne", "sin", "step", "standard", "semi", "lower"),
)
"""A figure or one of these words stands in every fact; most lines have none."""
_WORD_OF_A_FACT = re.compile(
    "|".join(_WORDS_OF_FACTS).replace("|ton|", r"|(?<!\bs)ton|\bston(?!es?\b)|")
)
"""The same without "stone", which is sung."""
_OF_A_MODE = re.compile(r"ian\b")
_FACTS_APART = re.compile(
    r"\s*(?:,(?!\d{3})|[;|•·\[\]])\s*|(?<=\b[A-G])\s+(?=[CcKk]apo\b)|"
    r"(?<=\b[A-G][#b♯♭m])\s+(?=[CcKk]apo\b)|\s{3,}|\t|\s+(?:/{1,2}|[–—-])\s+|\s*(?:[-=]>|→)\s*"
)
_NAMES_ONE = re.compile(
    rf"[\s(\[]*(?P<name>(?:original\s+)?(?:{KEY_NAME}|{CAPO_NAME}|"
    r"tempo|speed|andamento|velocidad|velocità|bpm|metronom[eo]?|tim(?:e|ing)|met(?:er|re)|takt|compás))\b\s*(?P<sign>[:=@]|[–—-](?=\s))?",
    re.IGNORECASE,
)
_BEHIND_NAME = re.compile("[:=@–—-]")
"""The signs that ``_NAMES_ONE`` knows."""
_FAR_BEHIND_LABEL = re.compile(
    r"(\w:|^(?:key|tempo|capo|time|meter|metre|bpm|tonart|takt|taktart|kapo|tom|tono|ton|tonalité|"
    r"tonalità|compás|compasso|mesure|maat|toonsoort|tonart|tempo|cejilla))\s{2,}(?=\S)",
    re.IGNORECASE,
)
"""Blanks that a tab leaves between a setting's name and its value."""
FactName = Literal["capo", "key", "meter", "tempo", "shapes", "pace"]


@dataclass(frozen=True, slots=True)
class Pace:
    """How many notes of a length, as part of a whole note, a minute has."""

    count: int
    note: Fraction


ABOUT = (
    r"(?:like|maybe|say|c\.|cc?a\.?|circa|cirka|zirka|around|about|roughly|more or less|"
    r"approx(?:imately|\.)?|etwa|ungefähr|rund|(?:so )?um(?: die)?|environ|autour de|"
    r"à peu près|vers|unos|sobre|alrededor de|a eso de|más o menos|aprox(?:imadamente|\.)?|"
    r"cerca de|por volta de|mais ou menos|uns|ongeveer|rond(?: de)?|omstreeks|runt|ungefär|"
    r"mer eller mindre|omkring|rundt|około|gdzieś|asi|noin|all['’]incirca|intorno a[il]?|"
    r"sui|più o meno)"
)
"""How a tempo is said to be no exact one, before it; common practice, no source."""
_NOTES = {
    Fraction(
        3, 4
    ): "dotted half, dotted half note, dotted minim, punktierte halbe, blanche pointée, "
    "blanca con puntillo, mínima pontuada",
    Fraction(1, 2): "half, half note, half notes, minim, halbe, blanche, blanca, mínima, 𝅗𝅥",
    Fraction(3, 8): "dotted quarter, dotted quarter note, dotted crotchet, punktierte viertel, "
    "noire pointée, negra con puntillo",
    Fraction(1, 8): "eighth, eighth note, quaver, achtel, croche, corchea, ♪",
}
_NOTE_OF = {name.strip(): note for note, names in _NOTES.items() for name in names.split(",")}
"""Notes that may be counted in a tempo, other than quarters; common practice, no source."""
_PACE = re.compile(
    rf"(?P<note>{'|'.join(sorted(_NOTE_OF, key=len, reverse=True))})"
    rf"(?:\s*=\s*(?:{ABOUT}\s*)?|\s+(?:{ABOUT}|at)\s+)"
    r"(?P<count>\d{2,3})",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Fact:
    """A setting that a line of the heading gives.

    ``more`` says that the line has other words too, ``shapes`` that its key is that of the shapes
    under a capo, ``sounds`` that the line calls its key the sounding one.
    """

    name: FactName
    value: SettingValue | Pace
    more: bool = False
    sounds: bool = False


_KEY = re.compile(
    r"(?:in\s+)?(?:the\s+)?(?:(?:original|her|his|my|our|your|their|sounding|concert|"
    r"actual|real|vocal|[^\W\d_]{2,15}['’]s)\s+)?"
    rf"(?:{KEY_NAME})(?:\s+(?:for|für|de|di|von|voor|pour)\s+(?-i:[A-ZÀ-Ž])[^\W\d_]+(?=\s*[:=]))?"
    r"(?:\s+(?:signature|sig\.?)|\s+\(?(?:concert|sounding)(?: pitch)?\)?(?=\s*[:=]))?"
    r"\s*(?:of\s+|de\s+|di\s+|:\s*|=\s*|\s)\s*(\S+(?:\s+\S+){0,2})",
    re.IGNORECASE,
)
_SHAPES_BEHIND = re.compile(r"\(([A-G][#b♯♭]?m?)(?: shapes)?\)")
"""The key of the shapes behind a capo ("Capo 4 (G)")."""
_KEY_SOUNDS = re.compile(
    r"(?:(?:so |so it |it |which )?(?:sounds|sounding|comes out|ends up)(?: in)?|klingt in|"
    r"klinkt in|klinger i|låter i|sonne en|suena en|soa em|suona in|klingend|concert(?: pitch)?)"
    r"\s*[:=]?\s+(\S+(?: \S+)?)",
    re.IGNORECASE,
)
SHAPES = re.compile(
    r"(?:key:?\s*(?:of\s+)?)?(?P<before>[A-H][^\s-]*(?: \w+)?)[ -](?:shapes|griffen?)|"
    r"(?:shapes?(?: in| of|:)?|chords (?:are )?(?:in|of|from)|griffe (?:in|von)|"
    r"(?:posizioni|posiciones|positions|formas|formes|figuras) (?:di|de|en|em|in)) "
    r"(?P<behind>(?:[A-H]|La|Si|Do|R[eé]|Mi|Fa|Sol)\S*(?: \w+)?)",
    re.IGNORECASE,
)
PLAYED = re.compile(
    r"(?:(?:we\s+)?play(?:ed|ing)?(?: it)?(?: in)?|(?:se )?toca(?:r|do)? e[nm]|gespielt in|"
    r"jou(?:er|é) en|spelen in|spelas i|spilles i|suona(?:re|ta) in) "
    r"(?P<behind>(?:[A-H]|La|Si|Do|R[eé]|Mi|Fa|Sol)\S*(?: m\w+)?)(?: shapes)?",
    re.IGNORECASE,
)
"""How the key of the shapes is said (common practice, no source)."""
_IN_A_MODE = re.compile(
    r"[A-G][#b♯♭]? (?:ionian|dorian|phrygian|lydian|mixolydian|aeolian|locrian)", re.IGNORECASE
)
_METER = re.compile(
    r"(?:(?:tim(?:e|ing)|met(?:er|re)|takt|compás|mesure|maat|taktart|compasso)"
    r"(?:\s+signature)?\s*[:=]?\s*)?(?:(\d{1,2}/\d{1,2})(?:[ -]?(?:time|takt|maat|zeit|feel))?|"
    r"(?P<dashed>\d{1,2}[-–][248])[ -](?:time|takt|maat|zeit|feel))",
    re.IGNORECASE,
)
_OR_SO = (
    r"(?:or so|or thereabouts|ish|roughly|environ|à peu près|más o menos|mais ou menos|"
    r"aprox(?:imadamente|\.)?|ungefähr|etwa|circa|ca\.?|ongeveer|ungefär|cirka|più o meno)"
)
"""How a tempo is said to be no exact one, behind it; common practice, no source."""
_TEMPO = re.compile(
    r"(?:tempo|speed|andamento|velocidad|velocità|bpm|metronom[eo]?|mm|m\.m\.|click|"
    r"(?<!\w)(?:q|quarter(?: note)?|crotchet|viertel|noire|negra|semínima|kwart)(?=\s?=)|"
    rf"♩\s?[.·]?|~(?=\s*\d)|{ABOUT}(?=\s+\d))"
    rf"\s*[:=]?\s*(?:♩\s?=\s?)?(?:{ABOUT}\s*|~\s*)?(?P<named>\d{{2,3}})"
    rf"(?P<more>\s?[-–]\s?\d{{2,3}})?(?:\s?-?ish)?(?:\s*b\.?p\.?m\.?)?(?:\s+{_OR_SO})?|"
    rf"(?:(?:at|à|a|bei|op|på)\s+)?(?:{ABOUT}\s*|~\s*)?(?P<counted>\d{{2,3}})(?:\s?-?ish)?\s*"
    r"(?:b\.?p\.?m\.?|p\.?p\.?m\.?|beats (?:per|a) minute|(?:schläge|schl\.) (?:pro|in der) minute|"
    r"(?:à la noire|a la negra|alla semiminima|to the (?:crotchet|quarter)))|"
    rf"(?:at|à|a|bei|op|på)\s+{ABOUT}\s+(?P<about>\d{{2,3}})|"
    rf"(?:(?:at|à|a|bei|op|på)\s+)?(?P<so>\d{{2,3}})\s+{_OR_SO}",
    re.IGNORECASE,
)
_TEMPO_MOVED = re.compile(
    r"(?:[^\W\d_]+\s+){0,3}?(?:(?:the|le|el|das|il|o|het)\s+)?(?:tempo|speed)\s+"
    r"(?:[^\W\d_]+\s+){0,3}?(?:to|at|auf|bei|a|à|till|til|op|naar|na|do|now)\s+"
    r"(?P<named>\d{2,3})(?:\s?bpm)?|"
    r"(?:[^\W\d_’']+\s+){0,3}?(?:slow|speed|bring|take|push|pull|drop|bump|nudge|crank)(?:ed|ing)?\s+"
    r"(?:(?:it|this|that|things|everything|the tempo)\s+)?(?:(?:all the way|a bit|right|back)\s+)?"
    r"(?:(?:up|down)\s+)?to\s+(?:about\s+)?(?P<moved>\d{2,3})(?:\s?bpm)?"
    r"(?:\s+(?:now|please|tonight|again|this time))?",
    re.IGNORECASE,
)
"""How a sentence says to which tempo a song is moved."""
SLOWEST, FASTEST = 40, 260
"""What a number in a sentence may be as a tempo (ours)."""
_DASH = re.compile(r"[-–]")
_METERS = {
    Meter(3, 4): "in three, im dreier, dreivierteltakt, dreiertakt, driekwartsmaat, "
    "trefjärdedelstakt, tretakt, "
    "three-four, three-four time, three four time, trois temps, à trois temps, tre quarti, "
    "tres por cuatro, três por quatro, 3 por 4",
    Meter(4, 4): "viervierteltakt, vierkwartsmaat, four-four, four-four time, four four time, "
    "common time, quatre temps, à quatre temps, quattro quarti, cuatro por cuatro, "
    "quatro por quatro, 4 por 4",
    Meter(2, 4): "zweivierteltakt, due quarti, dos por cuatro, dois por quatro, 2 por 4",
    Meter(6, 8): "sechsachteltakt, zesachtstemaat, six-eight, six-eight time, six eight time, "
    "sei ottavi, seis por ocho, seis por oito, 6 por 8",
    Meter(2, 2): "cut time, alla breve",
}
_METER_WORDS = {name: meter for meter, names in _METERS.items() for name in names.split(", ")}
"""Meters spelled out."""


def facts_of(text: str) -> tuple[Fact, ...]:
    """The settings on a line of the heading; none unless all of the line is settings."""
    result, rest = facts_and_rest(text)
    return () if rest else result


@kept
def facts_and_rest(text: str) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    """The settings on a line, and what else is said between them."""
    if len(text) > LONGEST_LINE or not _may_say_one(text):
        return (), (text,) if text.strip() else ()
    return facts_among_words(text)


def facts_among_words(text: str) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    """The same by the patterns of all facts."""
    text = _FAR_BEHIND_LABEL.sub(r"\1 ", text)
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
    if _DIGIT.search(text) is not None:
        return True
    if has_any(lowered, _WORDS_OF_FACTS) and _WORD_OF_A_FACT.search(lowered) is not None:
        return True
    return "ian" in lowered and _OF_A_MODE.search(lowered) is not None


def names_a_fact(text: str) -> bool:
    """Whether a line begins with a setting by its name and a sign, whatever stands behind."""
    signed = len(text) <= LONGEST_LINE and _BEHIND_NAME.search(text) is not None
    named = _NAMES_ONE.match(text) if signed else None
    result, rest = facts_and_rest(text) if named is not None and named["sign"] else ((), ())
    return bool(result) and not (rest and text.strip(" ([").startswith(rest[0]))


def _parted(text: str) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    collected: list[Fact] = []
    rest: list[str] = []
    bare = text.strip().removesuffix(".") if not text.endswith("m.") else text.strip()
    parts = [part.strip() for part in _FACTS_APART.split(bare) if part.strip()]
    for part in parts:
        shapes = SHAPES.fullmatch(part) or (PLAYED.fullmatch(part) if len(parts) > 1 else None)
        fact = shapes_key(shapes) if shapes is not None else fact_of(part)
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


def shapes_key(match: re.Match[str]) -> Fact | None:
    """The key of the shapes that a match of SHAPES or PLAYED names; None where it is no key."""
    said = match.groupdict()
    key = key_of(said.get("before") or said["behind"] or "")
    return Fact("shapes", key) if key is not None else None


_NAME_AND_IS = re.compile(  # "key is E"
    r"(?i)^((?:the |die |el |il |la )?(?:key|tempo|capo|time|meter|bpm|tonart|tono|tonalité))"
    r"\s+(?:is|ist|es|est|è)\s+(?=\S)"
)


def fact_of(text: str) -> Fact | None:
    """The setting that a text is, by its name or its form; None for any other text."""
    text = _NAME_AND_IS.sub(r"\1 ", text)
    if (capo := capo_of_words(text)) is not None:
        return Fact("capo", capo)
    if (short := short_capo_of_words(text)) is not None:
        return Fact("capo", short)
    if (key := _KEY.fullmatch(text) or _KEY_SOUNDS.fullmatch(text)) is not None:
        value = key_of(key[1][0].upper() + key[1][1:] if text.islower() else key[1])
        sounds = key.re is _KEY_SOUNDS
        return Fact("key", value, sounds=sounds) if value is not None else None
    if _IN_A_MODE.fullmatch(text) is not None and (modal := key_of(text)) is not None:
        return Fact("key", modal)
    if (spelled := _METER_WORDS.get(text.casefold())) is not None:
        return Fact("meter", spelled)
    if (written := _METER.fullmatch(text)) is not None:
        meter = meter_of(written[1] or _DASH.sub("/", written["dashed"]))
        return Fact("meter", meter) if meter is not None else None
    if (pace := _PACE.fullmatch(text)) is not None:
        return Fact("pace", Pace(int(pace["count"]), _NOTE_OF[pace["note"].casefold()]))
    if (tempo := _TEMPO.fullmatch(text)) is not None:
        beats = int(next(filter(None, tempo.group("named", "counted", "about", "so"))))
        return Fact("tempo", beats, bool(tempo["more"])) if 10 <= beats <= 400 else None
    if (moved := _TEMPO_MOVED.fullmatch(text)) is not None:
        beats = int(moved["named"] or moved["moved"])
        return Fact("tempo", beats) if SLOWEST <= beats <= FASTEST else None
    return None


def without_parentheses(text: str) -> str:
    """What stands between one pair of parentheses around the whole text; else the text."""
    inside = text[1:-1]
    plain = text.startswith("(") and text.endswith(")") and not set(inside) & set("()")
    return inside.strip() if plain else text
