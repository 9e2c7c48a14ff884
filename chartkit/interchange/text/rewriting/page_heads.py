"""Leaves out what stands at the head and the foot of every page of a sheet: numbers of pages, and
lines that come again with each page.

Source of the forms: common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.wording import one_line

_PAGE_WORD = (
    r"(?:page|seite|blatt|página|pagina|pág\.|pag\.|folha|hoja|blad|sida|sid|side|sivu|strona|"
    r"strana|sheet|ark|p\.|pg\.?|s\.|bl\.)"
)
PAGE_NUMBER = rf"{_PAGE_WORD}\s*\d{{1,3}}(?:\s*(?:/|of|von|de|di|van|av|z|sur)\s*\d{{1,3}})?"
"""The number of a page behind its word, as part of a pattern without case."""
PAGE = re.compile(
    rf"\s*[-–—=~*_(\[]*\s*(?:{PAGE_NUMBER}|(?P<sign>[-–—~=*])\s*\d{{1,3}}\s*(?P=sign)|/\d{{1,3}})"
    r"\s*[-–—=~*_)\]]*\s*",
    re.IGNORECASE,
)
"""The number of a page alone."""
_PAGE_AT_MARGIN = re.compile(rf"(?:\s{{3,}}|\t\s*){PAGE_NUMBER}\s*$", re.IGNORECASE)
_PARTS_OF_HEADER = re.compile(r"\s+[-–—|•·/]+\s+|\s*[|•·]\s*|\s{3,}|\t")
_MOST_PARTS = 4
_GOES_ON = (
    r"(?:concluded|conclusion|schluss|conclusión|conclusão|conclusione|cont(?:inued|['’]?d|\.)?|fortsetzung|forts\.|suite|continúa|continuación|cont\.|"
    r"continuação|continua|segue|vervolg|fortsättning|fortsettelse|jatkuu|c\.?d\.?|ciąg dalszy)"
)
_PLAIN = (
    r"continued|cont['’]?d\.?|cont\.|fortsetzung|forts\.|continuación|continuação|vervolg|"
    r"fortsättning|fortsettelse|turn over(?:leaf)?|please turn over|see over(?:leaf)?|"
    r"p\.?t\.?o\.?|turn (?:the )?page|bitte wenden|b\.w\.|v\.s\.|t\.s\.v\.p\.|z\.o\.z\."
)
_TURN = (
    r"over(?:leaf)?|more|(?:bitte )?wenden|tourne[rz](?: la page)?|vänd(?: blad)?|vend|verte|volta|"
    r"voltare|girare|omslaan|snu(?: arket)?|odwróć|voltar|volver"
)
"""How one line in parentheses or dashes says to turn the page."""
_CONTINUED = re.compile(
    rf"\s*(?:[-–—*.…]*\s*(?:{_PLAIN})(?:\s+(?:on|over|auf|en|na|p[åa])\b.{{0,30}})?[\s–—*.…-]*|"
    rf"[(\[]\s*(?:{_PLAIN}|{_GOES_ON}|{_TURN})"
    rf"(?:\s+(?:(?:on|auf|en|na|p[åa])\b.{{0,30}}|{PAGE_NUMBER}))?[)\]]|\s*[-–—]+\s*(?:{_TURN})\s*[-–—]+)\s*",
    re.IGNORECASE,
)
"""How a sheet says that it goes on over the page; "V.S." is "volti subito"."""
_TITLE_CONTINUED = re.compile(
    rf"(?P<title>.*[^\s(\[,:–—-])\s*[,:(\[–—-]+\s*{_GOES_ON}\s*[)\]]?\s*", re.IGNORECASE
)
_NAME_CONTINUED = re.compile(
    r"(?P<name>[^\W\d_].{0,40}?\S)\s+"
    r"(?:continued|concluded|cont[’']?d\.?|cont\.|fortsetzung|forts\.?|suite|continuación|continuação|vervolg|"
    r"fortsättning|forts|fortsettelse|c\.?d\.|jatkuu)[.:…]*|"
    rf"[(\[]?\s*{_GOES_ON}\s*[)\]]?\s*[:.,–—-]*\s+(?P<behind>[^\W\d_].{{0,40}})",
    re.IGNORECASE,
)
"""A name with the word that it goes on, without signs between them or in front."""
_GAP = re.compile(r"\s{3,}|\t")
_FIGURES = re.compile(r"\d{1,3}")
_LONGEST = 400
_LONGEST_HEAD = 100


def without_page_heads(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines without numbers of pages and without the lines that each page has at its head or
    its foot, which are reported.  A title over the song stays."""
    again = _on_every_page(lines, is_chords)
    first = next((at for at, line in enumerate(lines) if line.text.strip()), 0)
    result = []
    for at, line in enumerate(lines):
        text = line.text if len(line.text) <= _LONGEST else ""
        margin = _PAGE_AT_MARGIN.search(text) if text.rstrip()[-1:].isdecimal() else None
        whole = is_of_a_page(text)
        whole |= at > first and (at in again or _goes_on(text, lines[first]))
        if margin is not None and not whole and at != first:  # the head's reader takes the first
            findings.leave_out(
                "page-number", f'the number of a page: "{one_line(margin[0])}"', line.place()
            )
            line = replace(line, text=text[: margin.start()], columns=None)
        elif whole and text.strip():
            findings.leave_out(
                "page-number", f'the number of a page: "{one_line(text)}"', line.place()
            )
            line = replace(line, text="", columns=None)
        result.append(line)
    return result


def is_of_a_page(text: str) -> bool:
    """Whether a line is the number of a page and, parted by signs, what the sheet is called."""
    if _FIGURES.search(text) is None:
        return False
    if PAGE.fullmatch(text) is not None:
        return True
    apart = _GAP.split(text.strip())
    if len(apart) > 1 and all(PAGE.fullmatch(one) or says_it_goes_on(one) for one in apart):
        return True
    parts = [part.strip() for part in _PARTS_OF_HEADER.split(text.strip(" -–—|•·")) if part.strip()]
    pages = sum(PAGE.fullmatch(part) is not None for part in parts)
    return pages == 1 and 1 < len(parts) <= _MOST_PARTS and "   " not in text and "\t" not in text


def _goes_on(text: str, first: Line) -> bool:
    """Whether a line says that the sheet goes on over the page, or has its first line once more
    with such words ("THE WELL, continued")."""
    if not text.strip() or len(text) > _LONGEST_HEAD:
        return False
    titled = _TITLE_CONTINUED.fullmatch(text)
    again = titled is not None and _letters(titled["title"]) in ("", _letters(first.text))
    return again or says_it_goes_on(text)


def says_it_goes_on(text: str) -> bool:
    """Whether a line says nothing but that the sheet goes on over the page ("please turn over")."""
    return len(text) <= _LONGEST_HEAD and _CONTINUED.fullmatch(text) is not None


def name_that_goes_on(text: str) -> str:
    """What a line says to go on over the page ("REFRAIN (continued)"); empty for any other line."""
    if len(text) > _LONGEST_HEAD:
        return ""
    match = _TITLE_CONTINUED.fullmatch(text)
    if match is not None:
        return match["title"].strip()
    plain = _NAME_CONTINUED.fullmatch(text.strip())
    return (plain["name"] or plain["behind"]).strip(" :)]") if plain is not None else ""


def _letters(text: str) -> str:
    return "".join(filter(str.isalpha, text.casefold()))


def _on_every_page(lines: Sequence[Line], is_chords: IsChords) -> frozenset[int]:
    """The lines apart from others that stand several times in the sheet and differ by the number
    of a page alone; the first, over the song, is one of them."""
    heads = {
        at: text
        for at, line in enumerate(lines)
        if len(line.text) <= _LONGEST_HEAD and (text := _numbered_head(line.text, is_chords))
    }
    times = Counter(heads.values())
    numbers: dict[str, set[str]] = {}
    for at, text in heads.items():
        numbers.setdefault(text, set()).add(" ".join(_FIGURES.findall(lines[at].text)))
    return frozenset(
        at
        for at, text in heads.items()
        if times[text] > 1 and len(numbers[text]) == times[text] and _is_apart(lines, at)
    )


def _numbered_head(text: str, is_chords: IsChords) -> str:
    """A line with a sign for its figures, if it has the number of a page behind or before words,
    and is neither a section's name nor a row of chords."""
    if _FIGURES.search(text) is None:
        return ""
    margin = _PAGE_AT_MARGIN.search(text)
    parts = [part.strip() for part in _PARTS_OF_HEADER.split(text.strip()) if part.strip()]
    numbered = margin is not None or any(map(PAGE.fullmatch, parts))
    numbered = numbered or (len(parts) > 1 and (parts[0].isdecimal() or parts[-1].isdecimal()))
    words = [part for part in parts if not part.isdecimal()]
    if not numbered or any(is_known_name(part) or is_chords(part) for part in words):
        return ""
    return _FIGURES.sub("#", " ".join(text.split()).casefold())


def _is_apart(lines: Sequence[Line], at: int) -> bool:
    """Whether no line stands right above one, or none right below."""
    return is_empty(lines, at - 1) or is_empty(lines, at + 1)
