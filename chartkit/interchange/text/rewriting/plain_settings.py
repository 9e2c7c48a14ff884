"""Lines of a setting in unusual signs or words, rewritten as settings usually stand: in brackets,
emphasised, as a sentence ("The key is G"), with its name behind.

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.capo_words import CAPO_NAME
from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_labels import TITLE_LABEL, title_label, writer_of
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.vocabulary.facts import facts_of
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME
from chartkit.interchange.text.vocabulary.section_names import is_known_name

_LONGEST = 80
_MOST_LINES = 2_000
_WRAPPED = re.compile(r"\s*(?:\[([^\[\]]+)\]|\{([^{}]+)\}|<([^<>]+)>|\|([^|]+)\|)\s*")
_EMPHASIS = re.compile(r"[*_]{1,3}")
_FENCE = re.compile(r"\s*(?:`{3,}|~{3,}|\"{3}|'{3})\w{0,8}\s*")
_NAME = rf"{KEY_NAME}|{CAPO_NAME}|tempo|speed|bpm|meter|metre|time(?: signature)?|takt"
_FEEL = re.compile(r"\s*(?:feel|style|groove)\s{2,}(?P<value>\S.{1,40})", re.IGNORECASE)
_CAPO_AND_SHAPES = re.compile(
    rf"\s*(?P<capo>(?:{CAPO_NAME})\s+(?:on\s+|at\s+|@\s*)?\d{{1,2}})\s+and\s+"
    r"(?P<play>play\S*\s+.{2,30})",
    re.IGNORECASE,
)
_SENTENCE = re.compile(
    rf"\s*[-–•*+>]{{0,2}}\s*(?:the\s+|our\s+|song\s+|die\s+|la\s+|el\s+)?(?P<name>{_NAME})\s*"
    r"(?:\s(?:is|are|ist|es|est|è|são)\s|['’]s\s|\?|/(?!\d)|[-=]*>|→|…|\.{2,}|;)\s*:?\s*(?P<value>\S.*)",
    re.IGNORECASE,
)
_NAMED = re.compile(r"\s*(?P<label>[^\W\d_][^=:|]{1,28}?)(?:\s*=\s*|\s{2,})(?P<value>[^=|]+)")
"""What may be a word that leads to a title or a writer, before an equals sign or a gap."""
_SOMEBODY = "Ida Marsh"
"""A name behind a word, to see what that word leads to."""
_KEYS_IN_TURN = re.compile(
    rf"\s*(?P<name>keys|tonarten|{KEY_NAME})\s*:\s*"
    r"(?P<value>[A-H](?:[#b♯♭]| flat| sharp|is|es|s)?\s?(?:m|min|minor|maj|major|moll|dur)?)"
    r"(?!\s?(?:m|min|minor|maj|major|moll|dur)\b)(?P<more>(?:\s*/|,?\s+(?=[^\W\d_]{2})).*?(?<!\w)(?-i:[A-H](?:[#b♯♭]|is|es)?m?)(?!\w).*)",
    re.IGNORECASE,
)
"""Several keys in turn ("Key: Bb for Dana, then G for Rob"): the first is the song's."""
_SMALL_KEY = re.compile(
    rf"\s*(?P<name>{KEY_NAME})\s*(?:[:=]|\s[-–—])\s*"
    r"(?P<value>[a-g](?:[#b♯♭])?(?:m|min)?(?:\s(?:minor|major))?)\s*",
    re.IGNORECASE,
)
"""A key in small letters, by its name in any."""
_NAME_BEHIND = re.compile(
    r"\s*(?P<value>[A-G](?:[#b♯♭]| flat| sharp)?\s?(?:m|min|minor|maj|major)?)\s+(?P<name>key)\s*",
)


def with_plain_settings(lines: Sequence[Line]) -> list[Line]:
    """The lines, those that are a setting in unusual signs with the usual ones, and without the
    signs between which programs show a text letter for letter."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    return _with_bare_title([_plain(line) for line in lines])


_IN_BRACKETS = re.compile(r"\s*\[(?P<title>[^\W\d_][^\[\]|]{2,58})\]\s*")


def _with_bare_title(lines: list[Line]) -> list[Line]:
    """The lines, a first one in square brackets that names no section, right above settings, as a
    title without them ("[PLASTIC ORCHARD]" over "bpm 118 / F#m")."""
    filled = [at for at, line in enumerate(lines) if line.text.strip()][:2]
    if len(filled) < 2 or filled[1] != filled[0] + 1:
        return lines
    first, below = (lines[at].text for at in filled)
    title = _IN_BRACKETS.fullmatch(first) if len(first) <= _LONGEST else None
    named = title is not None and heading_of(title["title"]) is not None
    head = head_facts(below)
    if title is None or named or is_known_name(title["title"]) or not head.facts or head.rest:
        return lines
    at = filled[0]
    return [*lines[:at], replace(lines[at], text=title["title"], columns=None), *lines[at + 1 :]]


_FAR_BEFORE_DASH = re.compile(r"(?P<title>\S.*?\S)\s{2,}[-–—]\s+(?P<said>\S.*)")


def _plain(line: Line) -> Line:
    text = line.text
    if not text or len(text) > _LONGEST:
        return line
    if _FENCE.fullmatch(text) is not None:
        return replace(line, text="", columns=None)
    if (feel := _FEEL.fullmatch(text)) is not None:
        return replace(line, text=f"feel: {feel['value'].strip()}", columns=None)
    if (played := _CAPO_AND_SHAPES.fullmatch(text)) is not None:
        return replace(line, text=f"{played['capo']}, {played['play']}", columns=None)
    far = _FAR_BEFORE_DASH.fullmatch(text) if "  " in text else None
    if far is not None and facts_of(far["said"]):  # "EVENING AT THE WELL  - key F"
        return replace(line, text=f"{far['title']} - {far['said']}", columns=None)
    if first := _first_of_keys(text):
        return replace(line, text=first, columns=None)
    if named := _named_plainly(text):
        return replace(line, text=named, columns=None)
    for plain in (_unwrapped(text), _said_plainly(text)):
        if plain and facts_of(plain):
            return replace(line, text=plain, columns=None)
    return line


def _named_plainly(text: str) -> str:
    """A title behind its label and an equals sign or a gap, or a writer or a setting behind an
    equals sign, with a colon; empty for any other line."""
    match = _NAMED.fullmatch(text) if "=" in text or "  " in text else None
    if match is None or "  " in match["value"].strip():
        return ""
    named, plain = (f"{match['label']}: {one}" for one in (_SOMEBODY, match["value"].strip()))
    if "=" not in text:
        return plain if TITLE_LABEL.match(named) else ""
    writer = title_label(named) or writer_of(named) == _SOMEBODY
    return plain if writer or (facts_of(plain) and not facts_of(text)) else ""


def _unwrapped(text: str) -> str:
    """A line without brackets around it and without signs of emphasis; empty where it has none."""
    wrapped = _WRAPPED.fullmatch(text)
    if wrapped is not None:
        return next(inner for inner in wrapped.groups() if inner).strip()
    bare = _EMPHASIS.sub("", text).strip() if "*" in text or "_" in text else ""
    return bare if bare != text.strip() else ""


def _first_of_keys(text: str) -> str:
    """Several keys in turn with the first as the key and the others behind it in parentheses; empty
    for other lines, and where the line is read as a setting without that."""
    match = _KEYS_IN_TURN.fullmatch(text) if ":" in text and not facts_of(text) else None
    if match is None:
        return ""
    name = match["name"].rstrip("s") if match["name"].casefold() == "keys" else match["name"]
    return f"{name}: {match['value'].strip()} ({match['more'].strip(' ,;/')})"


def _said_plainly(text: str) -> str:
    """A setting said as a sentence, in small letters, or with its name behind it, with its name and
    a colon."""
    if (small := _SMALL_KEY.fullmatch(text)) is not None:
        return f"{small['name'].lower()}: {small['value'][0].upper()}{small['value'][1:]}"
    match = _SENTENCE.fullmatch(text) or _NAME_BEHIND.fullmatch(text)
    return f"{match['name']}: {match['value'].strip()}" if match is not None else ""
