"""Words to the players: navigation marks, no chord, names of sections, or words to be kept."""

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from chartkit.chart.marks import Mark
from chartkit.chart.section_words import KIND_OF, PLAYERS, USUAL_NAMES
from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.marks_in_words import mark_and_words, mark_of
from chartkit.interchange.wording import section_name

_INSIDE = re.compile(r"[(\[]([^()\[\]]+)[)\]]")
NO_CHORD = CompiledLater(r"(?:n\.?\s?c\.?|no\s+chord|tacet)")
_SILENT_WITH_MORE = CompiledLater(
    r"n\.\s?c\.?\s*(?:\((?P<in>[^()]{2,40})\)|[,;:–-]\s*(?P<said>.{2,40}))"
)
"""N.C. with a remark behind it."""
_KINDS = (
    *("intro", "verse", "pre-chorus", "chorus", "post-chorus", "bridge"),
    *("interlude", "instrumental", "outro"),
)
ALSO_SAID = frozenset(
    (
        *("opening", "special", "stick", "bro", "pont", "punte", "brug", "híd", "transition"),
        *("burden", "coro", "sortie", "salida", "saída", "entrada", "entrée", "uscita"),
        *("overgang", "final", "middle"),
    )
)
"""Names of sections that also say something else to players or singers."""
_NAMES = "|".join(
    sorted(
        re.escape(name)
        for name, kind in KIND_OF.items()
        if kind in _KINDS and name not in ALSO_SAID
    )
)
_SECTION = CompiledLater(
    rf"(?P<name>(?:(?:1st|2nd|3rd|[4-9]th|first|second|third|fourth|last|final)\s+"
    r"(?!ending|coda|end))?"
    rf"(?:{USUAL_NAMES}|{_NAMES}|head(?:\s+(?:in|out))?|(?:{'|'.join(PLAYERS)})\s+solo)"
    r"(?:\s*\d{1,2}(?:\s*(?:[,&+/-]|and)\s*\d{1,2}){0,4}|"
    r"\s+(?:i{1,3}|iv|vi{0,3}|one|two|three|four|five|six))?|"
    r"(?:part|section|teil|parte|partie)\s+[a-h]\d?|[a-h]\d?[\s-](?:section|part|teil))[.:]?"
    r"(?P<said>\s*\([^()]{1,40}\)|\s+(?:x\s?\d{1,2}|\d{1,2}\s?x)|\s+[-–—]\s+.{1,40})?|"
    r"𝄌\s*coda[.:]?|coda\s*𝄌"
)
"""A section's name, which one it is, and a count or a remark after it."""
_TYPED_CODA = re.compile(
    r"[⊕⨁⌖]|(?<=coda )[OØ0]$|(?<=to )[ØΦ]$|(?<=al )[ØΦ]$|^[ØΦ](?=$|\s*coda$)", re.IGNORECASE
)
_TYPED_SEGNO = re.compile(r"^[$§]$|(?<=d\.s\.)\s*\$|(?<=segno)\s*[$§]", re.IGNORECASE)
_STANDS_IN = re.compile("[⊕⨁⌖0OØΦ$§]", re.IGNORECASE)
"""Signs that stand in for those of a coda and a segno, which few fonts have; common practice, no
source."""

_BETWEEN = re.compile(r"\s*[/&+]\s*|\s+(?:and|und|et|y|e)\s+", re.IGNORECASE)
_LONGEST_NAMES = 60

_IN_WORDS = {"𝄓": "caesura", "𝄏": "two bars again"}
"""What signs say that no font of ours has."""


@dataclass(slots=True)
class Direction:
    """The meaning of one direction. ``tempo`` is in quarter notes a minute; ``named`` is a section
    that its words name; ``no_chord`` says that they are an N.C.; ``signs`` are how loud to play and
    the like, in words; ``feel`` is how playback swings; ``heard`` says that nothing but a sound
    gives the tempo, and ``staff`` over which of several staves it stands."""

    marks: list[Mark] = field(default_factory=list)
    section: str = ""
    named: str = ""
    tempo: float | None = None
    heard: bool = False
    staff: str = ""
    words: list[str] = field(default_factory=list)
    no_chord: bool = False
    signs: list[str] = field(default_factory=list)
    feel: str = ""


class _Meaning(NamedTuple):
    """What words mean; ``words`` is what stays said to the players."""

    mark: Mark | None = None
    named: str = ""
    words: str = ""
    no_chord: bool = False


def add_instruction(text: str, direction: Direction) -> None:
    """Adds what words mean: a mark, an N.C., a section, or words to the players.

    What is said beside a mark ("4x Fine") or a name ("Chorus (x2)") stays as words to the players.
    """
    if not text:
        return
    meaning = _meaning(text)
    if meaning.mark is not None:
        direction.marks.append(meaning.mark)
    direction.named = meaning.named or direction.named
    direction.no_chord |= meaning.no_chord
    if meaning.words:
        direction.words.append(meaning.words)


def says_more_than_words(text: str) -> bool:
    """Whether a text is a mark, an N.C. or the name of a section, whatever is said beside it."""
    meaning = _meaning(text)
    return meaning.mark is not None or bool(meaning.named) or meaning.no_chord


def names_section(text: str) -> str:
    """The name of the section that words are, and nothing else; empty for any other words."""
    meaning = _meaning(text)
    return "" if meaning.words else meaning.named


def name_and_remark(text: str) -> tuple[str, str]:
    """The name of a section without what is said beside it, and that: "Chorus (2x)"."""
    meaning = _meaning(text)
    return (meaning.named, meaning.words) if meaning.named and meaning.words else (text, "")


@lru_cache(maxsize=1024)
def _meaning(text: str) -> _Meaning:
    """What words mean; songs say the same ones again and again."""
    if _STANDS_IN.search(text):
        text = _TYPED_SEGNO.sub("𝄋", _TYPED_CODA.sub("𝄌", text))
    for sign, words in _IN_WORDS.items():
        text = text.replace(sign, words)
    inside = _INSIDE.fullmatch(text)
    if inside is not None:
        plain = _plain_meaning(inside[1])
        if plain is not None:
            return plain
    meaning = _plain_meaning(text)
    if meaning is None and (beside := mark_and_words(text)) is not None:
        return _Meaning(beside.mark, words=beside.words)
    return meaning or _Meaning(words=text)


def _plain_meaning(text: str) -> _Meaning | None:
    """What words mean that are an N.C., a mark or the name of a section; None for others."""
    if (silent := _SILENT_WITH_MORE.fullmatch(text)) is not None:
        return _Meaning(no_chord=True, words=(silent["in"] or silent["said"]).strip())
    if NO_CHORD.fullmatch(text):
        return _Meaning(no_chord=True, words=text if "tacet" in text.casefold() else "")
    if (mark := mark_of(text)) is not None:
        return _Meaning(mark)
    section = _SECTION.fullmatch(text)
    if section is None:
        return _Meaning(named=section_name(text.strip(".: "))) if _names_several(text) else None
    name = section_name((section["name"] or text).strip(".:𝄌 "))
    return _Meaning(named=name, words=(section["said"] or "").strip(" ()-–—"))


def _names_several(text: str) -> bool:
    """Whether words are the names of several sections that are one here ("Interlude / Solo")."""
    if len(text) > _LONGEST_NAMES or _BETWEEN.search(text) is None:
        return False
    parts = [_SECTION.fullmatch(part) for part in _BETWEEN.split(text.strip(".: "))]
    return all(part is not None and part["name"] and not part["said"] for part in parts)
