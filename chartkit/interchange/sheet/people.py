"""Whose song it is and how it goes: names, and what is set before them.

Source of the words: common practice, no source.
"""

import re

_TITLE = re.compile(
    r"(?:title|titel|titre|título|titolo|song|lied|canción|chanson)\s*:\s*", re.IGNORECASE
)
_WRITER = re.compile(
    r"(?:(?:artist|composer|band|interpret|lyrics|music|words|text|musik|worte|autora?|autor(?:es)|"
    r"letra|música|compositora?|paroles|musique)"
    r"(?:\s*(?:&|and|und|y|et|\+)\s*(?:music|lyrics|musik|text|música|letra|musique))?"
    r"|t\s*[+&]\s*m)(?:\s+(?:by|von|de|par)\s*:?\s*|\s*:\s*)"
    r"|(?:written\s+)?by(?:\s*:\s*|\s+)|(?:von|par|por)(?:\s*:\s*|\s+)",
    re.IGNORECASE,
)
COMMENT = re.compile(r"\s*(?:#+|//+|;+)\s*")
"""How a line that is a comment begins."""
_FEEL = re.compile(
    r"\(?(?:(?:very|slow|slowly|fast|medium|mid|quick|easy|up-?tempo|mid-?tempo|tempo|straight|half-?time|"
    r"double-?time|ballad|swing|swung|shuffle|waltz|latin|bossa|samba|reggae|rock|polka|march|rubato|"
    r"freely|gently|lively|driving|groove|feel|8ths|8s|16ths|eighths|with|a|and)[\s,/-]*){1,5}\)?",
    re.IGNORECASE,
)
_NO_NAME = re.compile(r"[\d:=@%|<>\[\]{}#*/]|[.!?,;]$|^\(")
_MOST_WORDS_OF_A_NAME = 6


def title_of(text: str) -> str:
    """A title without the word that says it is one."""
    return _TITLE.sub("", text, count=1) if _TITLE.match(text) else text


def writer_of(text: str) -> str:
    """The name behind words such as "by" or "Artist:"; empty where none begin the line."""
    found = _WRITER.match(text)
    return text[found.end() :].strip() if found is not None else ""


def says_feel(text: str) -> bool:
    """Whether a line says no more than how the song goes, as "Slow ballad" does."""
    return _FEEL.fullmatch(text) is not None


def could_be_a_name(text: str) -> bool:
    """Whether a line could be the name of whoever wrote the song."""
    return len(text.split()) <= _MOST_WORDS_OF_A_NAME and _NO_NAME.search(text) is None
