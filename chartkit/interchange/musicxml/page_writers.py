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

WRITER_TYPES = ("composer", "lyricist", "poet", "writer")
"""Types of people who write a song, of creators and of credits."""
_LONGEST = 120
_WORK = r"(?:words|lyrics?|text|music|tune|melody|song|written|composed)"
_BY = re.compile(
    rf"\(?{_WORK}(?:\s*(?:and|&|\+|/|,)\s*{_WORK})*\s*(?:by\b|[:\-–])\s*:?\s*(?P<name>.+?)\)?",
    re.IGNORECASE,
)
_ARRANGED = re.compile(
    r"\(?(?:arr(?:anged|angement|\.)?|adapted|harmoni[sz]ed)[.:]?\s+(?:by\b|:)?\s*(?P<name>.+?)\)?",
    re.IGNORECASE,
)
_PLACEHOLDERS = ("composer", "lyricist", "arranger", "poet", "unknown", "traditional")


def writers_on_the_page(root: Element) -> tuple[str, ...]:
    """The names of the writers that texts on the page give, each once."""
    names = (name for is_writer, name in _people(root) if is_writer)
    return tuple(dict.fromkeys(names))


def arrangers_on_the_page(root: Element) -> tuple[str, ...]:
    """The names of those who arranged the song, as texts on the page give them, each once."""
    names = (name for is_writer, name in _people(root) if not is_writer)
    return tuple(dict.fromkeys(names))


def names_people(text: str) -> bool:
    """Whether a text says who wrote or arranged the song."""
    return len(text) <= _LONGEST and bool(_BY.fullmatch(text) or _ARRANGED.fullmatch(text))


def _people(root: Element) -> Iterator[tuple[bool, str]]:
    """Whether a text on the page names a writer, and the name."""
    for credit in root.iterfind("credit"):
        kind = text_of(credit, "credit-type").lower()
        for words in credit.iterfind("credit-words"):
            for line in (words.text or "").splitlines():
                text = setting_text(line)
                if not 0 < len(text) <= _LONGEST:
                    continue
                by, arranged = _BY.fullmatch(text), _ARRANGED.fullmatch(text)
                if by is not None:
                    yield True, by["name"].strip()
                elif arranged is not None:
                    yield False, arranged["name"].strip()
                elif kind in WRITER_TYPES and text.lower() not in _PLACEHOLDERS:
                    yield True, text
