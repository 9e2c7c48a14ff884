"""Section names: the words that musicians use for them, and the headings made of them.

Source of the names, in the languages in which sheets are often written, and of their short
forms: common practice, no source.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from chartkit.interchange.text.tokens import NARROW
from chartkit.interchange.wording import section_name

# ---- the vocabulary
_PLAYERS = (
    "guitar",
    "gtr",
    "bass",
    "piano",
    "keys",
    "organ",
    "drum",
    "drums",
    "sax",
    "harmonica",
    "fiddle",
    "intro",
    "verse",
    "chorus",
    "outro",
)
_PLAYED = ("solo", "riff", "break", "intro", "lick", "fill")
_NAMES_OF_KIND = {
    "intro": "intro, introduction, vorspiel, auftakt, forspill, förspel, inleiding, voorspel, "
    "introdução, introducción, introduzione, вступление, イントロ, 前奏",
    "verse": "verse, verses, vers, verso, versos, estrofa, estrofe, strophe, strofa, couplet, "
    "zwrotka, copla, куплет, aメロ, 主歌",
    "pre-chorus": "pre-chorus, pre chorus, prechorus, pre-refrain, pré-refrain, pré-refrão, "
    "pre-refrão, pre-estribillo, pre-refräng, pre-refrein, pre-ritornello, pre-coro, bメロ",
    "chorus": "chorus, choruses, refrain, refrein, refräng, refreng, refren, refrão, estribillo, "
    "coro, ritornello, kehrvers, omkvæd, припев, サビ, 副歌",
    "post-chorus": "post-chorus, post chorus, postchorus",
    "bridge": "bridge, middle 8, middle eight, middle, brücke, puente musical, puente, pont, "
    "ponte, stick, overgang",
    "solo": "solo, solos, soli",
    "break": "break, breakdown",
    "interlude": "interlude, zwischenspiel, mellomspill, mellanspel, mellemspil, tussenspel, "
    "interludio, interlúdio, interludium, überleitung, проигрыш, 間奏",
    "instrumental": "instrumental, instr",
    "outro": "outro, nachspiel, etterspill, efterspel, slotspel, naspel, アウトロ",
    "end": "ending, ends, end, schluss, slut, slutt, slot, ende, final, finale, fin, einde, "
    "koniec, sluta, slutar, endet, termina, finit, eindigt",
    "coda": "coda",
    "tag": "tag",
    "turnaround": "turnaround",
    "hook": "hook",
    "riff": "riff",
    "trio": "trio",
    "vamp": "vamp till cue, vamp until cue, vamp till ready, vamp",
    "spoken": "spoken, spoken word, gesprochen, sprechteil, hablado, recitado, parlé, rap",
}
_SHORT_NAMES_OF_KIND = {
    "intro": "int, intr",
    "verse": "v, vs, ver, str, zwr",
    "pre-chorus": "pc, pre, pre-ch, prech",
    "chorus": "c, ch, cho, chor, chrs, ref, refr",
    "post-chorus": "post, post-ch",
    "bridge": "b, br, brg, bridg, m8",
    "instrumental": "inst",
    "outro": "out, outr",
    "interlude": "interl",
}
_SUNG_OR_SAID = {
    "break",
    "end",
    "ends",
    "ending",
    "final",
    "fin",
    "hook",
    "middle",
    "pont",
    "stick",
    "tag",
    "verso",
    "slut",
    "rap",
    "spoken",
}
"""Names that a line of words may as well begin with."""


def _kinds(table: dict[str, str]) -> dict[str, str]:
    """Each name of a table with its kind."""
    return {name.strip(): kind for kind, names in table.items() for name in names.split(",")}


_KIND_OF = _kinds(_NAMES_OF_KIND) | {f"{who} {what}": what for who in _PLAYERS for what in _PLAYED}
_KIND_OF_SHORT = {name.rstrip("."): kind for name, kind in _kinds(_SHORT_NAMES_OF_KIND).items()}


def _any_of(names: dict[str, str] | tuple[str, ...]) -> str:
    """A pattern for any of some names, the longest first."""
    return "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))


# ---- how often a section is played
_TIMES_IN_WORDS = {
    "once": 1,
    "twice": 2,
    "bis": 2,
    "zweimal": 2,
    "dreimal": 3,
    "viermal": 4,
    "two times": 2,
    "three times": 3,
    "four times": 4,
    "five times": 5,
    "six times": 6,
    "eight times": 8,
    "dos veces": 2,
    "tres veces": 3,
    "deux fois": 2,
    "trois fois": 3,
    "due volte": 2,
    "tre volte": 3,
    "duas vezes": 2,
    "três vezes": 3,
    "twee keer": 2,
    "drie keer": 3,
    "två gånger": 2,
    "tre gånger": 3,
    "to ganger": 2,
    "tre ganger": 3,
    "to gange": 2,
    "dwa razy": 2,
    "trzy razy": 3,
    "zwei mal": 2,
    "drei mal": 3,
}
_ANY_WORD = _any_of(tuple(_TIMES_IN_WORDS))
_TIMES = (
    r"(?:(?:repeat|play|rep\.?|wdh\.?)\s*)?"
    r"(?:[x×]\s*{times}|{many}\s*(?:[x×](?![^\W\d_])|(?:times|mal|veces|fois|volte|vezes|keer|gånger|ganger|gange|razy)\b)"
    r"|{word})"
)
_ANY_TIMES = _TIMES.format(times=r"\d+", many=r"\d+", word=rf"(?:{_ANY_WORD})\b")
_NAMED_TIMES = _TIMES.format(
    times=r"(?P<times>\d{1,2})", many=r"(?P<many>\d{1,2})", word=rf"(?P<word>{_ANY_WORD})\b"
)
_TIMES_ALONE = re.compile(rf"[(\[]?\s*{_NAMED_TIMES}\s*[)\]]?[.!]?", re.IGNORECASE)
MOST_TIMES = 99

# ---- headings
_WHICH = (
    r"(?:(?:the\s+)?(?:last|final|first|second|third|fourth|double|half|halber|big|1st|2nd|3rd|[4-9]th|"
    r"letzter?|erste[rs]?|zweite[rs]?|dritte[rs]?|dernier|premier|deuxième|último|primer|segundo)\s)?"
)
_NUMBER = (
    r"(?:\s*[#.]?\s*(?:\d{1,5}(?![\dx×]|\s*(?:[x×]|times|mal|veces|fois|volte|vezes|keer|gånger|ganger|bars?|takte?|maten|compases|mesures|battute|takter)\b)[a-d]?|[IVX]{1,4}\b|[A-D]\b(?=\s*(?:$|[:.(\[,;)\]]|[-–—]\s))|"
    r"\b(?:one|two|three|four|five|six)\b(?!\s+(?:times|bars|more|last))))?"
)
_BASE = (
    r"(?:solo (?:de|di|da|du|do) [^\W\d_]{3,12}|"
    rf"(?:{_any_of(_KIND_OF)})(?![^\W\d_])|"
    r"(?:(?:primeira|segunda|terceira|primera|tercera|prima|seconda|terza|première|deuxième|"
    r"troisième|erster|zweiter|dritter|first|second|third|eerste|tweede)\s+(?:parte|partie|teil|"
    r"part|deel))|"
    r"(?:section|part|teil|parte?|partie)(?=\s+[A-D1-9]\b)|[A-D]\s(?:section|part|teil|parte))"
)
_FULL_NAME = rf"{_WHICH}{_BASE}{_NUMBER}"
_HEADING = re.compile(
    rf"(?P<name>{_FULL_NAME}"
    rf"(?:\s*\((?!\s*{_ANY_TIMES}\s*\))[^()]*[^\W\d][^()]*\))?)"
    rf"\s*(?:[(\[]?\s*{_NAMED_TIMES}\s*[)\]]?)?"
    r"\s*(?P<colon>[:.]?)",
    re.IGNORECASE,
)
_SAID_BEHIND_TIMES = re.compile(
    rf"(?P<heading>{_FULL_NAME}\s*(?:{_ANY_TIMES}|[(\[]\s*{_ANY_TIMES}\s*[)\]]))"
    r"\s*[(\[](?P<said>[^()\[\]|]{1,60})[)\]]",
    re.IGNORECASE,
)
"""A heading with its count and a remark in parentheses ("Chorus x2 (second time quiet)")."""
_BRACKETS_AND_REMARK = re.compile(
    r"[\[({<](?P<name>[^\[\](){}<>]{2,30})[\])}>]\s*[,;:–-]\s*(?P<said>[^|]{2,50})"
)
_CUT_SHORT = r"(?:VS?|CHO?|CHOR|BR|PC|PRE|POST|REF|INT|INST|OUT|SOLO)\s?\d?"
_ALONE = re.compile(
    rf"(?P<name>{_CUT_SHORT})(?:\s*[\[(](?P<said>[^()\[\]]{{1,40}})[\])]|"
    rf"\s*=\s*(?P<other>{_CUT_SHORT}))?"
)
"""Names cut short, in capital letters alone on a line, with a remark or the same as another."""
_A_CHORD = r"\(?[A-H][#b♯♭]?(?:maj|min|m|dim|sus|add|[#b♯♭]?\d{1,2}|\+|°|ø)*(?:/[A-H][#b♯♭]?)?\)?"
_ROW_OF_CHORDS = rf"{_A_CHORD}(?:[\s–-]+{_A_CHORD})+\s*(?:\(?(?:[x×]\s?\d+|\d+\s?[x×])\)?)?$"
_SHORT = re.compile(
    r"(?P<name>R|(?:Ch|Cho|V|Br|PC|Pre|Post|Int|Inst|Out|Ref|Str)\s?\d{0,2}|M8|"
    rf"[A-Z]\d?(?=\s*:\s*\|)|[CBIO]\d?(?=\s*:\s*{_ROW_OF_CHORDS}))"
    r"\.?\s*(?P<colon>[:)])(?!\S)",
    re.IGNORECASE,
)
_SHORT_WITH_NUMBER = re.compile(
    r"(?:v|vs|ch|cho|str|ref)\.?\s?\d{1,2}|ch|cho|br|pc|(?:ref|refr|str|ch|cho|br|outr|intr)\.",
    re.IGNORECASE,
)
"""Names cut short that stand alone on a line in any letters."""
_NUMBER_FIRST = re.compile(r"(\d{1,2})[.)]?\s*(?=[^\W\d])")
_NUMBER_ALONE = re.compile(r"\d{1,2}[.):]")
_AGAIN = re.compile(
    r"(?:repeat|rep\.|back to|wdh\.)\s+(?:the\s+)?(.+)|(.+?)\s+(?:again|repeat|wdh\.)",
    re.IGNORECASE,
)
_SAYS_AGAIN = re.compile(r"repeat|rep\.|back to|wdh|again", re.IGNORECASE)
_POINTED = re.compile(r"^\s*>{1,3}\s+(?=\S)")
_REMARK_IN_BRACKETS = re.compile(r"(?<=\w)\s*\[([^\[\]|]{1,40})\]$")
_COMMENTED = re.compile(r"(?P<heading>\S.*?)\s+(?://+|#+\s|<-+|←|;)\s*(?P<said>[^|]{1,50})")
"""A heading and a comment behind it."""
_EMPHASIS = re.compile(r"(?<![^\s(\[])[*_]{1,3}(?=[^\s*_])|(?<=[^\s*_])[*_]{1,3}(?![^\s)\].:,])")
"""Stars and low lines around what is emphasised."""
_DECORATION = " \t-–—=*#_~•"
_BRACKETED = re.compile(
    r"\[\s*([^\[\]]{1,60}?)\s*\]\s*(?:\(?[x×]\s*(\d{1,2})\)?)?\s*:?\s*(\([^()]{1,40}\))?"
)
_RULED = re.compile(r"==\s*([^=]{1,60}?)\s*(?:\(?[x×]\s*(\d{1,2})\)?)?\s*=*")
"""Our own way of marking a section, which may have any name."""
_OVER = re.compile(
    r"(?P<name>[^:|]{2,30}?)\s+(?P<remark>(?:over|on)\s+(?:the\s+)?[^:|]{2,30}\s(?:chords|changes))",
    re.IGNORECASE,
)
_DASH = re.compile(r"\s+[-–—]\s+")
_LIKE_A_CHORD = re.compile(r"\(?[A-H](?:[#b♯♭m\d/]|$|maj|min|sus|dim|aug|add)")
_MOST_WORDS_OF_A_REMARK = 4
_LONGEST_LINE = 120
_MOST_NAMES_KEPT = 16_384
"""A book of a megabyte has twelve thousand names, each looked at from several sides."""
_LONGEST_NAME = 6
"""What is longer is no heading, though a heading may begin it."""
_PLAIN_NAME = re.compile(
    rf"(?P<which>{_WHICH})(?P<base>{_BASE}|[^\W\d_]+(?:[- ][^\W\d_]+)*?\.?)\s*"
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
_ORDINAL = re.compile(r"([1-9])(?:st|nd|rd|th)", re.IGNORECASE)
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
}


@dataclass(frozen=True, slots=True)
class Heading:
    """A section's heading: ``rest_at`` is where more stands behind it on its line, ``remark``
    what is said to the players behind a dash."""

    name: str
    times: int = 1
    rest_at: int | None = None
    remark: str = ""


# ---- names by their meaning
@lru_cache(maxsize=_MOST_NAMES_KEPT)
def section_key(name: str) -> tuple[str, str]:
    """What a section's name means: its kind ("chorus" for "Refrain", "Ch." and "1st Chorus")
    and its number, empty where it has none."""
    bare = _REMARK.sub("", name).strip(" .:")
    if _NUMBER_ALONE.fullmatch(f"{bare}."):
        return "verse", bare
    parts = _PLAIN_NAME.fullmatch(bare)
    if parts is None:
        return bare.casefold(), ""
    base = " ".join(parts["base"].casefold().strip(".").split())
    kind = _KIND_OF.get(base) or _KIND_OF_SHORT.get(base) or base
    number = _number_of(parts["number"].strip(" #.").casefold()) or _ordinal_of(parts["which"])
    player, _, played = base.partition(" ")
    if player in _PLAYERS and played in _PLAYED:
        number = f"{player}{number}"
    return kind, number


def _number_of(text: str) -> str:
    return str(_COUNTING.get(text, text)) if text else ""


def _ordinal_of(which: str) -> str:
    word = which.strip().casefold()
    if word in _HALVES:
        return "half"
    figure = _ORDINAL.fullmatch(word)
    return figure[1] if figure is not None else str(_ORDINALS.get(word.rstrip("rs"), ""))


def remark_in_name(name: str) -> str:
    """What stands in parentheses behind a section's name; empty where nothing does."""
    match = _REMARK.search(name)
    return match[0].strip(" ()") if match is not None else ""


def is_known_name(name: str) -> bool:
    """Whether a name is one that musicians use for a section, in full or cut short."""
    return section_key(name)[0] in _NAMES_OF_KIND


def is_short_name(name: str) -> bool:
    """Whether a name is cut short, as "Ch." is."""
    parts = _PLAIN_NAME.fullmatch(name.strip(" .:"))
    base = parts["base"].casefold().strip(".") if parts is not None else ""
    return base in _KIND_OF_SHORT and base not in _KIND_OF


_FIRST_WORDS = frozenset(
    word.split("-")[0].split()[0].rstrip(".") for word in (*_KIND_OF, *_KIND_OF_SHORT)
) | frozenset(
    [
        "primeira",
        "segunda",
        "terceira",
        "primera",
        "section",
        "part",
        "teil",
        "parte",
        "partie",
        "solo",
        "finish",
        "close",
    ]
)
_WORD = re.compile(r"[^\W\d_]+")
_FIRST_WORD = re.compile(r"[^\W\d_]+|\d(?:st|nd|rd|th)", re.IGNORECASE)
_BEFORE_NAMES = """
a b c d the last final first second third fourth double half halber big 1st 2nd 3rd 4th 5th 6th
7th 8th 9th letzte letzter erste erster erstes zweite zweiter zweites dritte dritter drittes
dernier premier deuxième último primer segundo
"""
_MAY_BEGIN_NAME = _FIRST_WORDS | frozenset(_BEFORE_NAMES.split())


def may_name_a_section(text: str) -> bool:
    """Whether any word of a text is one with which a section's name begins; a quick look."""
    return not _FIRST_WORDS.isdisjoint(_WORD.findall(text.casefold()))


def times_of(text: str) -> int:
    """How often something is played by words that say no more ("x2", "twice"); 0 for others."""
    match = _TIMES_ALONE.fullmatch(text.strip()) if len(text) <= _LONGEST_LINE else None
    return _times_in(match) if match is not None else 0


def full_name_at(text: str, start: int) -> int:
    """Where a section's full name ends that begins at a place of a text; the place itself where
    none does."""
    match = _FULL_NAME_ONLY.match(text, start)
    return match.end() if match is not None else start


_FULL_NAME_ONLY = re.compile(_FULL_NAME, re.IGNORECASE)


def name_before_more(text: str) -> int:
    """Where a section's name ends with which a line begins and after which more stands; 0 for
    any other line."""
    if len(text) > _LONGEST_LINE:
        return 0
    start = len(text) - len(text.lstrip())
    first = _FIRST_WORD.match(text, start)
    if first is None or first[0].casefold() not in _MAY_BEGIN_NAME:
        return 0
    match = _HEADING.match(text, start)
    more = (
        match is not None
        and match["colon"] == ""
        and match["times"] == match["many"] == match["word"]
    )
    return match.end("name") if match is not None and more and match.end() < len(text) else 0


# ---- headings
@lru_cache(maxsize=256)
def heading_of(text: str) -> Heading | None:
    """The heading that a line is, or begins with; None for any other line."""
    short = text.strip() if len(text) <= _LONGEST_LINE else ""
    if (commented := _COMMENTED.fullmatch(short)) is not None:
        named = heading_of(commented["heading"])
        if named is not None and named.rest_at is None and not named.remark:
            return replace(named, remark=commented["said"])
    if "*" in short or "_" in short:
        text = short = _EMPHASIS.sub("", short)
    if (heading := _between_signs(short) or _number_alone(short)) is not None:
        return heading
    if len(text) > _LONGEST_LINE:
        text = text[:_LONGEST_LINE] + "…"
    text = text if text.isascii() else text.translate(NARROW)
    plain = _REMARK_IN_BRACKETS.sub(r" (\1)", _POINTED.sub("", text).strip(_DECORATION))
    wrapped = plain[:1] + plain[-1:] in ("[]", "()", "<>", "{}")
    bare = plain[1:-1].strip() if wrapped else plain
    for read in _WHOLE_LINE:
        if (heading := read(plain if read is _cut_short else bare)) is not None:
            return heading
    at = text.find(plain[:_LONGEST_NAME])
    return _short_with_colon(bare, at) or _named(bare, None if wrapped else at)


def _between_signs(text: str) -> Heading | None:
    """A name in square brackets, or behind our own "==": it may be any."""
    match = _BRACKETED.fullmatch(text) or _RULED.fullmatch(text)
    if match is None:
        return None
    remark = match[3] if match.re is _BRACKETED else None
    if remark is None and match[2] is None and (inner := _inner(match[1])) is not None:
        return inner
    return Heading(section_name(f"{match[1]} {remark or ''}"), _times(match[2]))


def _number_alone(text: str) -> Heading | None:
    return Heading(text.strip(":")) if _NUMBER_ALONE.fullmatch(text) else None


def _cut_short(text: str) -> Heading | None:
    """A name cut short alone on its line."""
    match = _ALONE.fullmatch(text)
    if match is not None:
        remark = match["said"] or (f"same as {match['other']}" if match["other"] else "")
        return Heading(section_name(match["name"]), remark=remark)
    return Heading(section_name(text)) if _SHORT_WITH_NUMBER.fullmatch(text) else None


def _over_another(text: str) -> Heading | None:
    """A name and whose chords are played ("Solo over the verse chords")."""
    match = _OVER.fullmatch(text) if text.endswith(("chords", "changes")) else None
    if match is None or _HEADING.fullmatch(match["name"]) is None:
        return None
    return Heading(section_name(match["name"]), remark=match["remark"])


def _said_behind_brackets(text: str) -> Heading | None:
    """A name in brackets and, behind a comma, what is said of it ("{Chorus}, only voices")."""
    match = _BRACKETS_AND_REMARK.fullmatch(text)
    heading = _named(match["name"], None) if match is not None else None
    if match is None or heading is None or _LIKE_A_CHORD.match(match["said"]):
        return None
    return replace(heading, remark=match["said"].strip())


def _said_behind_times(text: str) -> Heading | None:
    """A heading with its count and, in parentheses, what is said of it."""
    match = _SAID_BEHIND_TIMES.fullmatch(text) if text.endswith((")", "]")) else None
    heading = _named(match["heading"], None) if match is not None else None
    if match is None or heading is None or _LIKE_A_CHORD.match(match["said"]):
        return None
    return replace(heading, remark=match["said"].strip())


_WHOLE_LINE: tuple[Callable[[str], Heading | None], ...] = (
    _cut_short,
    _over_another,
    _said_behind_times,
    _said_behind_brackets,
)


def _short_with_colon(text: str, at: int) -> Heading | None:
    """A name cut short before a colon; ``at`` is where the text begins in its line."""
    match = None if _heading_at_start(text) else _SHORT.match(text)
    if match is None:
        return None
    rest = at + match.end() if match.end() < len(text) else None
    return Heading(section_name(match["name"]), 1, rest)


@lru_cache(maxsize=16)
def _heading_at_start(text: str) -> re.Match[str] | None:
    return _HEADING.match(text)


def _named(text: str, at: int | None) -> Heading | None:
    """A heading by a full name; ``at`` is where the text begins in its line, None where more
    cannot stand behind the name."""
    match = _heading_at_start(text)
    if match is None:
        return _with_more(text)
    name, times = section_name(match["name"]), _times_in(match)
    times = 2 if times == 1 and name.casefold().startswith("double ") else times
    if match.end() == len(text):
        return Heading(name, times)
    if match["colon"] == ":":
        if times == 1 and (played := times_of(text[match.end() :])):
            return Heading(name, played)
        if at is not None:
            return Heading(name, times, at + match.end())
    heading = _remark_behind(text)
    if heading is None or text[0].islower() or match["name"].lower() in _SUNG_OR_SAID:
        return None
    return replace(heading, name=name, times=times)


def _inner(text: str) -> Heading | None:
    """The heading within brackets where more than a name stands there: how often it is played,
    or a remark behind a dash."""
    remarked = _remark_behind(text, any_case=True)
    match = _HEADING.fullmatch(remarked.name if remarked is not None else text)
    if match is None:
        return None
    remark = remarked.remark if remarked else ""
    return Heading(section_name(match["name"]), _times_in(match), None, remark)


def _remark_behind(text: str, any_case: bool = False) -> Heading | None:
    """A heading with a remark behind a dash, parted there, its name not yet read; None where
    what stands behind is long, has chords, or begins with a capital letter."""
    name, *more = _DASH.split(text.strip(), maxsplit=1)
    remark = more[0] if more else ""
    words = remark.split()
    if not 0 < len(words) <= _MOST_WORDS_OF_A_REMARK or any(map(_LIKE_A_CHORD.match, words)):
        return None
    if not any_case and (not remark[0].islower() or _HEADING.fullmatch(name) is None):
        return None
    return Heading(name, remark=remark)


def _with_more(text: str) -> Heading | None:
    """A heading after its number ("1. Strophe"), or one with words that play it again."""
    number = _NUMBER_FIRST.match(text)
    if number is None and _SAYS_AGAIN.search(text) is None:
        return None
    again = _AGAIN.fullmatch(text)
    inner = text[number.end() :] if number else (again[1] or again[2]) if again else ""
    match = _HEADING.fullmatch(inner.strip("() ")) if inner else None
    if match is None:
        return None
    name = section_name(f"{number[1]}. {match['name']}" if number else match["name"])
    return Heading(name, _times_in(match))


def _times_in(match: re.Match[str]) -> int:
    """How often a section is played, as its heading says it."""
    if match["word"]:
        return _TIMES_IN_WORDS[match["word"].lower()]
    return _times(match["times"] or match["many"])


def _times(text: str | None) -> int:
    return max(1, min(MOST_TIMES, int(text))) if text else 1
