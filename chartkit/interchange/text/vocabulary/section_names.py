"""Section names: the words that musicians use for them, and what they mean.

Source of the names, in the languages in which sheets are often written, and of their short
forms: common practice, no source.
"""

import re
from functools import lru_cache
from itertools import pairwise

from chartkit.chart.section_words import (
    KIND_OF,
    KINDS,
    PLAYED,
    PLAYERS,
    SHORT_NAMES_OF_KIND,
    SOLO_IN_ONE_WORD,
    kinds_by_name,
)
from chartkit.interchange.text.quick_looks import has_any, kept, same_word, words_in, words_written
from chartkit.interchange.text.vocabulary.bar_words import BARS

# ---- kinds of sections
_SUNG_OR_SAID_IN_WORDS = """
opening button sting stanza stanze copla stev break end ends ending final fin head hook tema
thema theme middle pont bro entrada entrée stick tag verso slut rap spoken
"""
SUNG_OR_SAID = frozenset(_SUNG_OR_SAID_IN_WORDS.split())
"""Names that a line of words may as well begin with."""
_KIND_OF_SHORT = {
    name.rstrip("."): kind for name, kind in kinds_by_name(SHORT_NAMES_OF_KIND).items()
}


def _any_of(names: dict[str, str] | tuple[str, ...]) -> str:
    """A pattern for any of some names, the longest first."""
    return "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))


CUT_SHORT = _any_of(tuple(name for name in _KIND_OF_SHORT if len(name) > 1))
"""A pattern for any name cut short that is no letter alone."""


# ---- full names
_COUNTED = r"\d{1,2}(?:er|re|ère|ème|eme|ième|nde?|e|a|ª|º|°|:a|:e|de|ste)"
"""A number that counts as its language writes it ("2e couplet", "1ª estrofa")."""
_WHICH = (
    rf"(?:(?:{_COUNTED})\s|"
    r"(?:the\s+)?(?:all(?:\sthe)?|alle|tous\sles|todas\slas|todos\sos|tutte\sle|last|final|first|second|third|fourth|double|half|halber|big|1st|2nd|3rd|[4-9]th|"
    r"quiet|soft|loud|slow|short|long|extra|extended|a cappella|acapella|gang|spoken|rap|acoustic|"
    r"instrumental|eerste|tweede|derde|vierde|laatste|första|andra|tredje|fjärde|sista|første|andre|"
    r"anden|siste|prim[ao]|second[ao]|terz[ao]|primeir[ao]|segund[ao]|terceir[ao]|troisième|"
    r"pierwsz[aey]|drug[aie]|trzeci[ae]?|první|druhá|třetí|ensimmäinen|toinen|kolmas|"
    r"letzte[rs]?|erste[rs]?|zweite[rs]?|dritte[rs]?|derni(?:er|ère)|premier|deuxième|últim[oa]|ultim[oa]|"
    r"primer|segundo|laatste|sista|siste|ostatni[ae]?|poslední)\s)?"
)
_AND_ONE_MORE = (
    r"\s*(?:[&+,/–-]|(?:and|und|y|e|et|och|og|en|i|to|bis)\b)\s*[2-9](?!\s*[\w×/]|[.)]\s*\w)"
)
"""The number of one more section with the same music behind a name ("Verse 1 & 2")."""
_OF_A_COUNT = (
    r"[\dx×]|\s*(?:[x×]|times|tms|mal|veces|fois|volte|vezes|keer|gånger|ggr|ganger|gange|maal|"
    rf"razy|kertaa|{BARS})\b"
)
"""What stands behind a number that counts times or bars."""
_NUMBER = (
    rf"(?:\s*+[#.]?\s*+(?:[1-8]{_AND_ONE_MORE}|\d{{1,5}}(?!{_OF_A_COUNT})"
    r"(?!(?:st|nd|rd|th)\s+(?:time|go|round)\b)[a-d]?|"
    r"(?!x\s*\d|i\s+(?-i:[A-H])(?:[#b♯♭m]|\b))[IVX]{1,4}\b|"
    r"(?<!\bend )(?<!\bfin )(?<!\bfinal )(?<!\bschluss )(?<!\bende )(?<!\bslut )(?<!\bslot )"
    r"(?<!\bfim )(?<!\bkoniec )(?<!\bslutt )(?<!\bcierre )"
    r"[A-D]\b(?=\s*(?:$|[:.(\[,;)\]]|[-–—]\s|(?:again|nochmals?|noch|encore|otra|de (?:nuevo|novo)|"
    r"di nuovo|ancora|opnieuw|nog|igen|igjen|once more|twice|jako|jeszcze)\b))|"
    r"(?:(?<=part\s)|(?<=teil\s)|(?<=parte\s)|(?<=partie\s)|(?<=section\s))"
    r"[A-D]\b(?=\s*[(\[]?(?:[x×]\s?\d|\d\s?[x×]))|"
    r"\b(?:one|two|three|four|five|six)\b(?!\s+(?:times|bars|more|last))|\bfinale?\b))?"
)
_UNNAMED_SOLO = SOLO_IN_ONE_WORD.replace("?P<player>", "")
_BASE = (
    r"(?:(?:solo|sólo|assolo|intro|riff) (?:(?:del?|di|da|du|do|della|de la|do|na) |d['’]|dell['’])"
    r"[^\W\d_]{3,12}|"
    rf"(?:{_any_of(KIND_OF)})(?![^\W\d_])|{_UNNAMED_SOLO}|"
    r"(?:(?:primeira|segunda|terceira|primera|tercera|prima|seconda|terza|première|deuxième|"
    r"troisième|erster|zweiter|dritter|first|second|third|eerste|tweede)\s+(?:parte|partie|teil|"
    r"part|deel))|"
    r"(?:section|part|teil|parte?|partie)(?=\s+[A-D1-9]\b)|"
    r"(?:(?:rehearsal )?letter|buchstabe|lettre|letra|lettera|bokstav)\s+(?-i:[A-Z])\b|"
    r"[A-D][\s-](?:section|part|teil|parte))"
)
IN_KEY = (
    r"(?:\s+(?:in|i|en|em)\s+(?:(?-i:[A-H])(?:is|es|[#b♯♭])?m?|(?-i:Do|R[ée]|Mi|Fa|Sol|La|Si)m?)"
    r"(?=\s*(?:$|[:(,])))"
)
"""The key in which a section is played, behind its name."""


def full_name_pattern(base: str) -> str:
    """A pattern for a name with the words and the number around it, by one for the bare name."""
    return rf"{_WHICH}{base}{_NUMBER}"


FULL_NAME = full_name_pattern(_BASE)
_MOST_NAMES_KEPT = 16_384
"""A book of a megabyte has twelve thousand names, each looked at from several sides."""
_PLAIN_NAME = re.compile(
    rf"(?P<which>{_WHICH})(?P<base>{_BASE}|[^\W\d_]+(?:[- ][^\W\d_]+)*?\.?)\s*+"
    rf"(?P<number>{_NUMBER})",
    re.IGNORECASE,
)
_REMARK = re.compile(r"\s*\([^()]*\)\s*$")
_COUNTING = {
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "i": 1,
    "ii": 2,
    "iii": 3,
    "iv": 4,
    "v": 5,
    "vi": 6,
}
_SOLO_IN_ONE_WORD = re.compile(SOLO_IN_ONE_WORD, re.IGNORECASE)
_FIRST_OF_TWO = re.compile(r"[1-8](?=\W)")
_FINAL = ("final", "finale")
"""What stands behind a name for its last time."""
_ROMAN = {"II": "2", "III": "3", "IV": "4", "VI": "6", "VII": "7", "VIII": "8"}
"""Roman numbers that are no short names of sections, as I and V are."""
_NUMBER_FIRST = re.compile(r"(\d{1,2})[.)]?\s+(?=[^\W\d_])")
POSSESSIVE = r"(?:[^\W\d_]{2,16}(?:['’][sS]|[sS]['’])\s+)"
"""Who sings a section, before its name ("Shantyman's verse")."""
_SOMEBODYS = re.compile(rf"(?:the\s+)?(?P<who>{POSSESSIVE})(?=[^\W\d_]{{4}})", re.IGNORECASE)
_ONLY_A_NUMBER = re.compile(r"\d{1,2}")
_ORDINAL = re.compile(r"(\d{1,2})[^\W\d]{0,4}[°:]?[ae]?", re.IGNORECASE)
_HALVES = frozenset({"half", "halber", "halve", "demi"})
_ORDINALS = {
    "first": 1,
    "second": 2,
    "third": 3,
    "fourth": 4,
    "erste": 1,
    "zweite": 2,
    "dritte": 3,
    "premier": 1,
    "deuxième": 2,
    "primer": 1,
    "segundo": 2,
    **dict.fromkeys(["eerste", "första", "første", "prima", "primo", "primeira", "primeiro"], 1),
    **dict.fromkeys(["tweede", "andra", "andre", "anden", "seconda", "secondo", "segunda"], 2),
    **dict.fromkeys(["derde", "tredje", "terza", "terzo", "terceira", "terceiro", "troisième"], 3),
    **dict.fromkeys(["vierde", "fjärde"], 4),
    **dict.fromkeys(["pierwsza", "první", "ensimmäinen"], 1),
    **dict.fromkeys(["druga", "druhá", "toinen"], 2),
    **dict.fromkeys(["trzecia", "třetí", "kolmas"], 3),
}


_PLAINEST = re.compile(r"([^\W\d_]+)(?: (\d{1,5}))?")


def is_plainest_name(text: str) -> bool:
    """Whether a text is a section's full name of one word, alone or with a number; a quick look at
    what most headings are."""
    match = _PLAINEST.fullmatch(text)
    return match is not None and match[1].casefold() in KIND_OF


# ---- names by their meaning
@lru_cache(maxsize=_MOST_NAMES_KEPT)
def section_key(name: str) -> tuple[str, str]:
    """What a section's name means: its kind ("chorus" for "Refrain", "Ch." and "1st Chorus")
    and its number, empty where it has none."""
    if (plain := _PLAINEST.fullmatch(name)) and (kind := KIND_OF.get(plain[1].casefold())):
        whole = plain[0].casefold()  # "Middle 8" is no eighth one
        return (KIND_OF[whole], "") if whole in KIND_OF else (kind, plain[2] or "")
    if plain is not None and plain[2] is None and name not in _ROMAN:
        word = name.casefold()
        if "solo" not in word:
            return _KIND_OF_SHORT.get(word, word), ""
    return key_of_words(name)


def key_of_words(name: str) -> tuple[str, str]:
    """The same for a name of whatever words and signs."""
    bare = _REMARK.sub("", " ".join(name.split())).strip(" .:")
    bare = bare.removesuffix(")") if bare[:1].isdecimal() else bare
    if _ONLY_A_NUMBER.fullmatch(bare):
        return "verse", bare
    if bare in _ROMAN:
        return "verse", _ROMAN[bare]
    if (first := _NUMBER_FIRST.match(bare)) is not None:
        kind, number = section_key(bare[first.end() :])
        counted = kind in KINDS or (kind.isalpha() and len(kind) > 2)
        return (kind, first[1]) if counted and not number else (bare.casefold(), "")
    if (who := _SOMEBODYS.match(bare)) is not None:
        kind, number = section_key(bare[who.end() :])
        return (
            (kind, f"{who['who'].casefold()}{number}") if kind in KINDS else (bare.casefold(), "")
        )
    parts = _PLAIN_NAME.fullmatch(bare)
    if parts is None:
        return bare.casefold(), ""
    base = " ".join(parts["base"].casefold().strip(".").split())
    kind = KIND_OF.get(base) or _KIND_OF_SHORT.get(base) or base
    number = _number_of(parts["number"].strip(" #.").casefold()) or _ordinal_of(parts["which"])
    if kind not in KINDS and (solo := _SOLO_IN_ONE_WORD.fullmatch(base)) is not None:
        return "solo", f"{solo['player']}{number}"
    player, _, played = base.partition(" ")
    if player in PLAYERS and played in PLAYED:
        number = f"{player}{number}"
    return kind, number


def _number_of(text: str) -> str:
    """The number of a name, the first where it has two; empty for the last time."""
    first = _FIRST_OF_TWO.match(text)
    text = first[0] if first is not None else text
    return "" if text in _FINAL else str(_COUNTING.get(text, text))


def ordinal_at(text: str, at: int) -> tuple[int, str]:
    """Where an ordinal ends that stands at a place of a text ("2nd", "the first", "2."), and its
    number; the place and an empty number where none does."""
    match = _ORDINAL_ALONE.match(text, at)
    number = _ordinal_of(match["word"].rstrip(".")) if match is not None else ""
    return (match.end(), number) if match is not None and number else (at, "")


_ORDINAL_ALONE = re.compile(
    r"(?:(?:the|der|die|das|den|la|le|el|il|lo|o|a|het|de)\s+)?"
    r"(?P<word>\d{1,2}(?:st|nd|rd|th|er|re|ère|ème|e|ª|º|°|:a|:e|\.)|[^\W\d_]{4,12})(?!\w)",
    re.IGNORECASE,
)


def _ordinal_of(which: str) -> str:
    word = which.strip().casefold()
    if word in _HALVES:
        return "half"
    figure = _ORDINAL.fullmatch(word)
    return figure[1] if figure is not None else str(_ORDINALS.get(word.rstrip("rs"), ""))


def remark_in_name(name: str) -> str:
    """What stands in parentheses behind a section's name; empty where nothing does."""
    match = _REMARK.search(name) if "(" in name else None
    return match[0].strip(" ()") if match is not None else ""


def is_known_name(name: str) -> bool:
    """Whether a name is one that musicians use for a section, in full or cut short."""
    return section_key(name)[0] in KINDS


@kept
def is_short_name(name: str) -> bool:
    """Whether a name is cut short, as "Ch." is."""
    bare = name.strip(" .:")
    if not _may_begin_name(_FIRST_WORD.match(bare)):
        return False
    parts = _PLAIN_NAME.fullmatch(bare)
    base = parts["base"].casefold().strip(".") if parts is not None else ""
    return base in _KIND_OF_SHORT and base not in KIND_OF


_FIRST_OF_OTHERS = frozenset(
    [
        "primeira",
        "segunda",
        "terceira",
        "primera",
        "section",
        "rehearsal",
        "letter",
        "buchstabe",
        "lettre",
        "letra",
        "lettera",
        "bokstav",
        "part",
        "teil",
        "parte",
        "partie",
        "solo",
        "finish",
        "close",
    ]
)
_FIRST_WORDS = _FIRST_OF_OTHERS | frozenset(
    word.split("-")[0].split()[0].rstrip(".") for word in (*KIND_OF, *_KIND_OF_SHORT)
)
_WORD = re.compile(r"[^\W\d_]+")
_BEFORE_NAMES = """
the last final first second third fourth double half halber big 1st 2nd 3rd 4th 5th 6th
7th 8th 9th letzte letzter erste erster erstes zweite zweiter zweites dritte dritter drittes
eerste tweede derde vierde laatste första andra tredje fjärde sista første andre anden siste prima
primo seconda secondo terza terzo primeira primeiro segunda terceira terceiro troisième pierwsza
druga trzecia první druhá třetí ensimmäinen toinen kolmas
dernier premier deuxième último primer segundo quiet soft loud slow short long extra extended
acapella gang spoken rap acoustic instrumental letztes dernière última ultimo ultima laatste sista
siste ostatni ostatnia ostatnie poslední pierwszy pierwsze drugi druge trzeci trzecie
"""


def _looks_of_names() -> tuple[frozenset[str], dict[str, frozenset[str]]]:
    """The names of one word, and for those of several the second words by the first."""
    words = [_WORD.findall(name) for name in (*KIND_OF, *_KIND_OF_SHORT)]
    alone = {one[0] for one in words if len(one) == 1}
    pairs: dict[str, frozenset[str]] = {}
    for first, second, *_ in (one for one in words if len(one) > 1 and one[0] not in alone):
        pairs[first] = pairs.get(first, frozenset()) | {second}
    return (frozenset(alone) | _FIRST_OF_OTHERS) - _OF_LETTERS, pairs


_OF_LETTERS = frozenset({"letter", "buchstabe", "lettre", "letra", "lettera", "bokstav"})
_BY_LETTER = re.compile(rf"(?i:{'|'.join(sorted(_OF_LETTERS))})\s+[A-Z]\b")
"""A name by its letter ("letter B"); these words alone are sung."""
_ALONE, _PAIRS = _looks_of_names()


@kept
def may_name_a_section(text: str) -> bool:
    """Whether the words of a text could name a section; a quick look."""
    lowered = text.casefold()
    words = _WORD.findall(lowered)
    if not _ALONE.isdisjoint(words):
        return True
    if not _OF_LETTERS.isdisjoint(words) and _BY_LETTER.search(text) is not None:
        return True
    if "solo" in lowered and any(word.endswith("solo") for word in words):
        return True
    if _PAIRS.keys().isdisjoint(words):
        return False
    return any(second in _PAIRS.get(first, ()) for first, second in pairwise(words))


def full_name_at(text: str, start: int) -> int:
    """Where a section's full name ends that begins at a place of a text; the place itself where
    none does."""
    if not may_begin_full_name(text, start):
        return start
    behind = text[start:]
    if is_plainest_name(behind):
        return len(text)
    match = _FULL_NAME_ONLY.match(text, start) if may_have_full_name(behind) else None
    return match.end() if match is not None else start


_OF_BARE_NAMES = frozenset(word for word in words_written(_BASE) if len(word) > 1)
_WITHIN_WORDS = ("solo", "section", "part", "teil", "deel")
"""What ``_BASE`` takes also where a letter stands right before or behind it."""


@kept
def may_have_full_name(text: str) -> bool:
    """Whether a text has a word of a bare name, as ``_BASE`` has in each of its forms, or the part
    of one; a quick look."""
    return not _OF_BARE_NAMES.isdisjoint(words_in(text)) or has_any(same_word(text), _WITHIN_WORDS)


def may_begin_full_name(text: str, start: int) -> bool:
    """Whether the word at a place of a text may be the first of a section's name; a quick look."""
    first = _FIRST_WORD.match(text, start)
    if first is not None and first.end() - start == 1:  # as a chord may be
        return _BEHIND_LETTER.match(text, start + 1) is not None
    return _may_begin_name(first) or _begins_with_solo(text, start)


def _begins_with_solo(text: str, start: int) -> bool:
    """Whether a solo and who plays it stand in one word at a place of a text."""
    near = text[start : start + _LONGEST_SOLO].casefold()
    return "solo" in near and _SOLO_IN_ONE_WORD.match(near) is not None


def _may_begin_name(first: re.Match[str] | None) -> bool:
    """Whether a first word may be that of a section's name, in full or cut short."""
    return first is not None and (
        first["counted"] is not None or first[0].casefold() in _MAY_BEGIN_NAME
    )


_LONGEST_SOLO = 24
_FIRST_WORD = re.compile(
    rf"[^\W\d_]+|\d(?:st|nd|rd|th)|(?P<counted>{_COUNTED}(?=\s))", re.IGNORECASE
)
_BEHIND_LETTER = re.compile(r"[\s-]+[^\W\d_]{3}")
"""The word behind a letter with which a name begins ("A section")."""
_ORDINALS_OF_PARTS = """
9th primeira segunda terceira primera tercera prima seconda terza première deuxième troisième eerste
tweede
"""
_MAY_BEGIN_NAME = frozenset(
    form.casefold()
    for word in (*_FIRST_WORDS, *_BEFORE_NAMES.split(), *_ORDINALS_OF_PARTS.split())
    for form in (word, word.upper())  # in capitals some letters are others: "kıta", "KITA"
)
_FULL_NAME_ONLY = re.compile(FULL_NAME, re.IGNORECASE)
