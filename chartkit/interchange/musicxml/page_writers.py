"""Who wrote a song, where only the texts on a score's page say it.

Many programs keep the names that they print beside the music as mere texts, some of them with the
type "composer" (MusicXML 4.0, ``credit-type``).  What stands before a name ("Words and music by"):
common practice, no source.
"""

import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.xml import text_of
from chartkit.interchange.wording import setting_text

WRITER_TYPES = (
    *("composer", "lyricist", "poet", "writer", "author", "songwriter"),
    *("music", "words", "lyrics", "text"),
)
"""Types of people who write a song, of creators and of credits; the last ones, what they wrote."""
_LONGEST = 120
_WORK = (
    r"(?:words|lyrics?|text|music|tune|melody|song|written|composed|worte|musik|melodie|weise|"
    r"tekst|muziek|paroles|musique|letra|música|testo|parole|musica)"
)
_AND = r"\s*(?:and|&|\+|/|,|und|u\.|et|y|e|en)\s*"
_BY = re.compile(
    rf"\(?(?:{_WORK}(?:{_AND}{_WORK})*\s*(?:(?:by|von)\b|[:\-–])|"
    rf"(?-i:[TMWL])(?:{_AND}(?-i:[TMWL]))?\s*:)\s*:?\s*(?P<name>.+?)\)?",
    re.IGNORECASE,
)
_NEXT = re.compile(
    rf"\s*[/;,|•·]\s*(?=(?:{_WORK}|(?-i:[TMWL]))\s*(?:(?:by|von)\b|:))", re.IGNORECASE
)
"""What parts several people on one line: "Text: Ada Vale, Musik: Tom Reed"."""
_ARRANGED = re.compile(
    r"\(?(?:arr(?:anged|angement|\.)?|adapted|harmoni[sz]ed)[.:]?\s+(?:by\b|:)?\s*(?P<name>.+?)\)?",
    re.IGNORECASE,
)
_EDITED = re.compile(
    r"\(?(?:edition|edited|transcribed|transcription|engraved|typeset)[.:]?\s+(?:by\b|:)?\s*"
    r"(?P<name>.+?)\)?",
    re.IGNORECASE,
)
_PLACEHOLDERS = ("composer", "lyricist", "arranger", "poet", "unknown", "traditional")
_EMPTY = ("composer", "lyricist", "arranger", "poet", "composer / arranger", "composer name")
"""Texts that programs put in where nobody is named."""


def _parts(text: str) -> list[str]:
    """The lines of a text, each person who is named with what they did on a line of their own."""
    return [part for line in text.splitlines() for part in _NEXT.split(line)]


def people_in(kind: str, text: str) -> list[tuple[str, str]]:
    """The people that the text of a creator of some kind names, each with the kind that the text
    says, or this one: "Words by Ada Vale", "arr. Tom Reed", on one line or several."""
    people: list[tuple[str, str]] = []
    for line in _whole_lines(text):
        roles = ((_BY, "composer"), (_ARRANGED, "arranger"), (_EDITED, "editor"))
        said = next(((m, role) for form, role in roles if (m := form.fullmatch(line))), None)
        if said is not None:
            role = kind if kind in WRITER_TYPES and said[1] == "composer" else said[1]
            people.append((role, said[0]["name"].strip()))
        elif line.lower() not in _EMPTY:
            people.append((kind, line))
    return people


def _whole_lines(text: str) -> list[str]:
    """The lines of a text; one that begins with a small letter or in parentheses, or follows an
    open end, goes on with the line before."""
    lines: list[str] = []
    for line in filter(None, map(setting_text, _parts(text))):
        goes_on = lines and (line[0].islower() or line[0] == "(" or lines[-1].endswith(_OPEN_ENDS))
        if goes_on and _ARRANGED.fullmatch(line) is None:
            lines[-1] = f"{lines[-1]} {line}"
        else:
            lines.append(line)
    return lines


_OPEN_ENDS = (",", "&", "+", ":", " and", " by", "-")


def writers_on_the_page(root: Element) -> tuple[str, ...]:
    """The names of the writers that texts on the page give, each once."""
    names = (name for is_writer, name in _people(root) if is_writer)
    return tuple(dict.fromkeys(names))


def arrangers_on_the_page(root: Element) -> tuple[str, ...]:
    """The names of those who arranged the song, as texts on the page give them, each once."""
    names = (name for is_writer, name in _people(root) if not is_writer)
    return tuple(dict.fromkeys(names))


def names_people(text: str) -> bool:
    """Whether each line of a text says who wrote or arranged the song."""
    lines = [line for line in text.splitlines() if line.strip()]
    said = (_BY.fullmatch(line.strip()) or _ARRANGED.fullmatch(line.strip()) for line in lines)
    return len(text) <= _LONGEST and bool(lines) and all(said)


def _people(root: Element) -> Iterator[tuple[bool, str]]:
    """Whether a text on the page names a writer, and the name."""
    for credit in root.iterfind("credit"):
        kind = text_of(credit, "credit-type").lower()
        for words in credit.iterfind("credit-words"):
            for said in _parts(words.text or ""):
                text = setting_text(said)
                if not 0 < len(text) <= _LONGEST:
                    continue
                by, arranged = _BY.fullmatch(text), _ARRANGED.fullmatch(text)
                if by is not None:
                    yield True, by["name"].strip()
                elif arranged is not None:
                    yield False, arranged["name"].strip()
                elif kind in WRITER_TYPES and text.lower() not in _PLACEHOLDERS:
                    yield True, text
