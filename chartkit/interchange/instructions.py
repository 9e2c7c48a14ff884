"""Words to the players: navigation marks, no chord, names of sections, or words to be kept.

Source of the words that lead through a piece ("D.S. al Coda", "To Coda", "Fine"): common
practice, no source.
"""

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from chartkit.chart.marks import Mark, MarkKind, Until, kind_of_printed_mark
from chartkit.chart.section_words import KIND_OF, PLAYERS, USUAL_NAMES
from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.wording import section_name

_UNTIL: dict[str, Until] = {"fine": "fine", "cod": "coda", "𝄌": "coda"}
_JUMP = CompiledLater(
    r"(?P<kind>d\.?\s?c\b\.?|d\.?\s?s\b\.?|d\.?\s?[cs]\.?(?=al)|da\s?capo|dal\s?segno|"
    r"dal\s?(?=[𝄋%§]))[\s.,𝄋%§]*"
    r"(?:(?:alla|al?|to|until|till)[\s.]*(?:the\s+)?"
    r"(?P<until>fine|(?:the\s+)?(?:coda|cod\.)\s*𝄌?|𝄌))?"
    r"[.\s]*"
)
_NAMED_MARKS: tuple[tuple[CompiledLater, MarkKind], ...] = (
    (
        CompiledLater(r"(?:al|(?:go\s+)?to)\s*(?:the\s+)?(?:coda[.\s]*𝄌?|𝄌)[.\s]*"),
        "to-coda",
    ),
    (CompiledLater(r"(?:il\s+|the\s+)?fine[.\s]*"), "fine"),
    (CompiledLater(r"(?:al\s+)?segno[.\s]*𝄋?|𝄋(?:\s*segno[.\s]*)?"), "segno"),
    (CompiledLater(r"𝄌"), "coda"),
)
_PART_OF_MARK = re.compile(r"d[.\s]{0,2}[cs]|dal|capo|segno|cod|fine|fermata|[𝄋𝄌]", re.IGNORECASE)
"""What is in every mark that is worded otherwise than on our pages, so that other words need not be
compared with all of them."""
_INSIDE = re.compile(r"[(\[]([^()\[\]]+)[)\]]")
_LONGEST_WITH_MARK = 80
_BESIDE_A_MARK = CompiledLater(
    r"(?P<before>(?:\d{1,2}\s?x|\d{1,2}\s+times|last(?:\s+time|\s+x)?|(?:1st|2nd|3rd)(?:\s+time)?|"
    r"after\s+[\w\s]{1,20}?),?\s+)?(?P<mark>.+?)"
    r"(?P<behind>\s*\([^()]{1,40}\)|,?\s+(?:\d{1,2}\s?x|\d{1,2}\s+times|(?:on\s+)?(?:the\s+)?"
    r"(?:last|1st|2nd|3rd|second|third)\s+(?:time|x)|senza\s+rep\w*\.?|con\s+rep\w*\.?|"
    r"no\s+rep(?:eats?|\.)?|with\s+rep(?:eats?|\.)?))?"
)
"""What may be said about a mark beside it: how often, which time, with repeats or without."""
_AND_MORE = CompiledLater(r"\s*(?:(?:and|then|al|to)\s|[,&(–-]).{2,40}")
_NUMBERED_CODA = CompiledLater(r"(?P<mark>.{0,30}?(?:coda|𝄌))\s*(?P<number>[1-9]|i{1,3})\.?")
NO_CHORD = CompiledLater(r"(?:n\.?\s?c\.?|no\s+chord|tacet)")
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
_TYPED_SEGNO = re.compile(r"^\$$|(?<=d\.s\.)\s*\$|(?<=segno)\s*\$", re.IGNORECASE)
_STANDS_IN = re.compile("[⊕⨁⌖0OØΦ$]", re.IGNORECASE)
"""Signs that stand in for those of a coda and a segno, which few fonts have; common practice, no
source."""


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


@lru_cache(maxsize=1024)
def _meaning(text: str) -> _Meaning:
    """What words mean; songs say the same ones again and again."""
    if _STANDS_IN.search(text):
        text = _TYPED_SEGNO.sub("𝄋", _TYPED_CODA.sub("𝄌", text))
    inside = _INSIDE.fullmatch(text)
    if inside is not None:
        plain = _plain_meaning(inside[1])
        if plain is not None:
            return plain
    meaning = _plain_meaning(text)
    if meaning is None and _PART_OF_MARK.search(text):
        meaning = _one_of_codas(text) or _with_mark(text) or _jump_and_more(text)
    return meaning or _Meaning(words=text)


def _plain_meaning(text: str) -> _Meaning | None:
    """What words mean that are an N.C., a mark or the name of a section; None for others."""
    if NO_CHORD.fullmatch(text):
        return _Meaning(no_chord=True, words=text if "tacet" in text.casefold() else "")
    if (mark := mark_of(text)) is not None:
        return _Meaning(mark)
    section = _SECTION.fullmatch(text)
    if section is None:
        return None
    name = section_name((section["name"] or text).strip(".:𝄌 "))
    return _Meaning(named=name, words=(section["said"] or "").strip(" ()-–—"))


def mark_of(text: str) -> Mark | None:
    """The mark that words are, and nothing else."""
    if (printed := kind_of_printed_mark(text.rstrip(". "))) is not None:
        return Mark(printed)
    if _PART_OF_MARK.search(text) is None:
        return None
    if (jump := _JUMP.fullmatch(text)) is not None:
        kind: MarkKind = "D.C." if "c" in jump["kind"].lower() else "D.S."
        until = (jump["until"] or "").lower()
        return Mark(kind, next((end for name, end in _UNTIL.items() if name in until), ""))
    named = next((kind for pattern, kind in _NAMED_MARKS if pattern.fullmatch(text)), None)
    return None if named is None else Mark(named)


def _jump_and_more(text: str) -> _Meaning | None:
    """A jump and where it leads in other words ("D.S. and fade"), or what is said behind it ("D.C.
    al Fine w/o repeats"): these stay words."""
    jump = _JUMP.match(text)
    if jump is None:
        return None
    more = text[jump.end() :]
    leads = jump["until"] and len(text) <= _LONGEST_WITH_MARK
    whole = not (jump[0][-1:].isalnum() and more[:1].isalnum())
    if not (leads and whole) and _AND_MORE.fullmatch(more) is None:
        return None
    return _Meaning(mark_of(jump[0]), words=more.strip(" ,&()-–"))


def _one_of_codas(text: str) -> _Meaning | None:
    """A mark that leads to one of several codas, whose number stays as words."""
    numbered = _NUMBERED_CODA.fullmatch(text)
    mark = None if numbered is None else mark_of(numbered["mark"])
    if numbered is None or mark is None:
        return None
    return _Meaning(mark, words=f"Coda {numbered['number']}")


def _with_mark(text: str) -> _Meaning | None:
    """A mark and the words said about it."""
    parts = _BESIDE_A_MARK.fullmatch(text) if len(text) <= _LONGEST_WITH_MARK else None
    if parts is None or not (parts["before"] or parts["behind"]):
        return None
    mark = mark_of(parts["mark"])
    words = " ".join(filter(None, (parts["before"], parts["behind"]))).strip(" ,()")
    return None if mark is None else _Meaning(mark, words=words)
