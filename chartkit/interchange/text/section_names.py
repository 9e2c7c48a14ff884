"""Section names.

They are told by the words that musicians use for them, in the languages in which
sheets are often written (common practice, no source), or by square brackets.
"""

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from chartkit.interchange.text.tokens import NARROW
from chartkit.interchange.wording import section_name

_PLAYERS = (
    "guitar",
    "gtr",
    "bass",
    "piano",
    "keys",
    "organ",
    "drum",
    "sax",
    "harmonica",
    "fiddle",
    "intro",
    "verse",
    "chorus",
    "outro",
)
_PLAYED = ("solo", "riff", "break", "intro", "lick", "fill")
_NAMES = (
    "intro",
    "introduction",
    "verse",
    "vers",
    "chorus",
    "pre-chorus",
    "pre chorus",
    "prechorus",
    "post-chorus",
    "refrain",
    "bridge",
    "middle 8",
    "middle eight",
    "middle",
    "solo",
    "break",
    "interlude",
    "instrumental",
    "instr",
    "tag",
    "outro",
    "coda",
    "ending",
    "end",
    "vamp",
    "turnaround",
    "hook",
    "riff",
    "verses",
    "choruses",
    "vamp till cue",
    "vamp until cue",
    "vamp till ready",
    *(f"{who} {what}" for who in _PLAYERS for what in _PLAYED),
    "strophe",
    "zwischenspiel",
    "vorspiel",
    "nachspiel",
    "schluss",
    "brücke",
    "estribillo",
    "estrofa",
    "coro",
    "puente",
    "verso",
    "refrão",
    "ponte",
    "couplet",
    "pont",
    "ritornello",
    "strofa",
    "puente musical",
    "final",
    "überleitung",
    "auftakt",
    "refrein",
    "refräng",
    "stick",
    "refren",
    "zwrotka",
    "куплет",
    "припев",
    "вступление",
    "проигрыш",
    "aメロ",
    "bメロ",
    "サビ",
    "イントロ",
    "間奏",
    "アウトロ",
    "主歌",
    "副歌",
    "前奏",
)
_WHICH = r"(?:(?:last|final|first|second|third|double|half|big|letzter?|dernier|último) )?"
_TIMES = r"(?:repeat\s*)?(?:[x×]\s*{times}|{many}\s*(?:[x×]|times\b)|{word})"
_TIMES_IN_WORDS = {"twice": 2, "two times": 2, "three times": 3, "zweimal": 2, "dreimal": 3}
_ANY_WORD = "|".join(_TIMES_IN_WORDS)
_ANY_TIMES = _TIMES.format(times=r"\d+", many=r"\d+", word=rf"(?:{_ANY_WORD})\b")
_NAMED_TIMES = _TIMES.format(
    times=r"(?P<times>\d{1,2})", many=r"(?P<many>\d{1,2})", word=rf"(?P<word>{_ANY_WORD})\b"
)
_HEADING = re.compile(
    rf"(?P<name>{_WHICH}(?:{'|'.join(sorted(map(re.escape, _NAMES), key=len, reverse=True))}|"
    r"(?:section|part|teil|parte?|partie)(?=\s+[A-D1-9]\b)|[A-D]\s(?:section|part|teil|parte))"
    r"(?:\s*[#.]?\s*(?:\d{1,2}(?![\dx×]|\s*(?:[x×]|times)\b)[a-d]?|[IVX]{1,4}\b|[A-D]\b|"
    r"\b(?:one|two|three|four|five|six)\b))?"
    rf"(?:\s*\((?!\s*{_ANY_TIMES}\s*\))[^()]*[^\W\d][^()]*\))?)"
    rf"\s*(?:[(\[]?\s*{_NAMED_TIMES}\s*[)\]]?)?"
    r"\s*(?P<colon>[:.]?)",
    re.IGNORECASE,
)
_CUT_SHORT = r"(?:V|CH|BR|PC|REF|INT|INST|OUT|SOLO)\s?\d?"
_ALONE = re.compile(
    rf"(?P<name>{_CUT_SHORT})(?:\s*[\[(](?P<said>[^()\[\]]{{1,40}})[\])]|\s*=\s*(?P<other>{_CUT_SHORT}))?"
)
"""Names cut short, in capital letters alone on a line, with a remark or the same as another."""
_TIMES_BEHIND = re.compile(rf"\(?\s*{_NAMED_TIMES}\s*\)?", re.IGNORECASE)
_SHORT = re.compile(
    r"(?P<name>R|Ref|(?:Ch|V|Br|PC|Pre|Int|Inst)\s?\d{0,2})\.?\s*(?P<colon>[:)])(?!\S)",
    re.IGNORECASE,
)
_NUMBER_FIRST = re.compile(r"(\d{1,2})[.)]?\s*(?=[^\W\d])")
_NUMBER_ALONE = re.compile(r"\d{1,2}[.):]")
_AGAIN = re.compile(
    r"(?:repeat|rep\.|back to|wdh\.)\s+(?:the\s+)?(.+)|(.+?)\s+(?:again|repeat|wdh\.)",
    re.IGNORECASE,
)
_SAYS_AGAIN = re.compile(r"repeat|rep\.|back to|wdh|again", re.IGNORECASE)
_POINTED = re.compile(r"^\s*>{1,3}\s+(?=\S)")
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
_WORDS_TOO = {"break", "end", "ending", "final", "hook", "middle", "pont", "stick", "tag", "verso"}
"""Names that a line of words with a dash may as well begin with."""
_MOST_TIMES = 99
_LONGEST_LINE = 120
"""What is longer is no heading, though a heading may begin it."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A section's heading: ``rest_at`` is where more stands behind it on its line, ``remark``
    what is said to the players behind a dash."""

    name: str
    times: int = 1
    rest_at: int | None = None
    remark: str = ""


def name_before_more(text: str) -> int:
    """Where a section's name ends with which a line begins and after which more stands; 0 for
    any other line."""
    if len(text) > _LONGEST_LINE:
        return 0
    start = len(text) - len(text.lstrip())
    found = _HEADING.match(text, start)
    more = (
        found is not None
        and found["colon"] == ""
        and found["times"] == found["many"] == found["word"]
    )
    return found.end("name") if found is not None and more and found.end() < len(text) else 0


@lru_cache(maxsize=256)
def heading_of(text: str) -> Heading | None:
    """The heading that a line is, or begins with; None for any other line."""
    short = text.strip() if len(text) <= _LONGEST_LINE else ""
    bracketed = _BRACKETED.fullmatch(short) or _RULED.fullmatch(short)
    if bracketed is not None:
        remark = bracketed[3] if bracketed.re is _BRACKETED else None
        if remark is None and bracketed[2] is None and (inner := _inner(bracketed[1])) is not None:
            return inner
        return Heading(section_name(f"{bracketed[1]} {remark or ''}"), _times(bracketed[2]))
    if len(text) > _LONGEST_LINE:
        text = text[:_LONGEST_LINE] + "…"
    if _NUMBER_ALONE.fullmatch(short):
        return Heading(short.strip(":"))
    text = text if text.isascii() else text.translate(NARROW)
    plain = _POINTED.sub("", text).strip(_DECORATION)
    if (alone := _ALONE.fullmatch(plain)) is not None:
        said = alone["said"] or (f"same as {alone['other']}" if alone["other"] else "")
        return Heading(section_name(alone["name"]), remark=said)
    bare = plain[1:-1].strip() if plain[:1] + plain[-1:] in ("[]", "()", "<>", "{}") else plain
    over = _OVER.fullmatch(bare) if bare.endswith(("chords", "changes")) else None
    if over is not None and _HEADING.fullmatch(over["name"]):
        return Heading(section_name(over["name"]), remark=over["remark"])
    found = _HEADING.match(bare) or _SHORT.match(bare)
    if found is None:
        return _with_more(bare)
    if found.re is _SHORT:
        at = text.index(plain) + found.end() if found.end() < len(bare) else None
        return Heading(section_name(found["name"]), 1, at)
    times = _times_of(found)
    if found.end() == len(bare):
        return Heading(section_name(found["name"]), times)
    behind = _TIMES_BEHIND.fullmatch(bare[found.end() :].strip()) if times == 1 else None
    if found["colon"] == ":" and behind is not None:
        return Heading(section_name(found["name"]), _times_of(behind))
    if found["colon"] == ":" and bare is plain:
        return Heading(section_name(found["name"]), times, text.index(plain) + found.end())
    behind_dash = _remark_behind(bare)
    if behind_dash is None or bare[0].islower() or found["name"].lower() in _WORDS_TOO:
        return None
    return replace(behind_dash, name=section_name(found["name"]), times=times)


def _inner(text: str) -> Heading | None:
    """The heading within brackets where more than a name stands there: how often it is played,
    or a remark behind a dash."""
    said = _remark_behind(text, any_case=True)
    found = _HEADING.fullmatch(said.name if said is not None else text)
    if found is None:
        return None
    times = _times_of(found)
    return Heading(section_name(found["name"]), times, None, said.remark if said else "")


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
    found = _HEADING.fullmatch(inner.strip("() ")) if inner else None
    if found is None:
        return None
    name = section_name(f"{number[1]}. {found['name']}" if number else found["name"])
    return Heading(name, _times_of(found))


def _times_of(found: re.Match[str]) -> int:
    """How often a section is played, as its heading says it."""
    if found["word"]:
        return _TIMES_IN_WORDS[found["word"].lower()]
    return _times(found["times"] or found["many"])


def _times(text: str | None) -> int:
    return max(1, min(_MOST_TIMES, int(text))) if text else 1
