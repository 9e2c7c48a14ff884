"""The signs of coda and segno beside a section's name, or alone above its chords: "𝄌 Coda", "𝄋
Verse", "[segno]".

Source of the forms: common practice of printed and copied parts, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line, has_no_words, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key

_CODA, _SEGNO = "𝄌⊕⨁", "𝄋§"
_BEFORE = re.compile(
    rf"\s*[(\[]?(?P<sign>[{_CODA}{_SEGNO}]|Ø(?=\W{{1,3}}coda))[)\]]?\s*(?P<name>[^\W\d_].{{0,60}})",
    re.IGNORECASE,
)
_BEHIND = re.compile(
    rf"\s*(?P<name>[^\W\d_].{{0,60}}?)\s*[(\[]?(?P<sign>[{_CODA}{_SEGNO}])[)\]]?\s*:?\s*"
)
_ALONE = re.compile(
    rf"\s*[(\[]?(?:(?P<coda>[{_CODA}])|[{_SEGNO}]|segno)[)\]]?\s*:?\s*", re.IGNORECASE
)
_LONGEST = 80


def with_names_for_signs(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, names of sections without the sign of a coda or a segno beside them, and such a
    sign before the chords below; a coda's sign alone above chords, apart from other lines, is its
    name where no line names one."""
    result: list[Line] = []
    coda = any(_is_coda(line.text) for line in lines if len(line.text) <= _LONGEST)
    sign, shifted = "", False
    for at, line in enumerate(lines):
        text = line.text if len(line.text) <= _LONGEST else ""
        if sign or shifted:
            shifted = bool(sign) or bool(text.strip())
            line = (
                replace(line, text=f"{sign or ' '} {line.text}", columns=None) if shifted else line
            )
            result.append(line)
            sign = ""
            continue
        signed = not text.isascii() or "segno" in text.lower()
        alone = _ALONE.fullmatch(text) if signed else None
        match = _BEFORE.fullmatch(text) or _BEHIND.fullmatch(text) if not text.isascii() else None
        marked = alone is not None or match is not None
        below = marked and is_chords(text_at(lines, at + 1))
        if (
            alone is not None
            and below
            and alone["coda"]
            and has_no_words(lines, at - 1)
            and not coda
        ):
            result.append(replace(line, text="Coda", columns=None))
        elif alone is not None and below:
            sign = "𝄌" if alone["coda"] else "𝄋"
        elif match is not None and _is_name(match["name"]):
            result.append(replace(line, text=match["name"].rstrip(), columns=None))
            target = match["sign"] in _SEGNO or not _is_coda(match["name"])
            sign = ("𝄋" if match["sign"] in _SEGNO else "𝄌") if below and target else ""
        else:
            result.append(line)
    return result


def _is_coda(text: str) -> bool:
    heading = heading_of(text) if "oda" in text.casefold() else None
    return heading is not None and section_key(heading.name)[0] == "coda"


def _is_name(text: str) -> bool:
    """Whether a text is a section's name, alone or with a remark behind it."""
    heading = heading_of(text.strip())
    return heading is not None and is_known_name(heading.name)
