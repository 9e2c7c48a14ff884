"""Who wrote a song, where the page only prints the name under the title.

Common practice, no source.
"""

import re
from fractions import Fraction
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.xml import number, text_of
from chartkit.interchange.person_names import is_spelled_as_names
from chartkit.interchange.wording import setting_text

_FARTHEST = 350
"""How far under the title a writer's name stands at most, in tenths of a staff space (ours)."""
_NO_NAMES = re.compile(
    r"\b(?:waltz|blues|ballad|lead|sheet|edition|theme|march|hymn|carol|reel|jig|polka|rag|tango|"
    r"bossa|samba|swing|rock|jazz|band|choir|trio|quartet|ensemble|voices?|vocals?|piano|guitar|bass|"
    r"drums?|melody|score|music|lyrics?|words|traditional|trad|anonymous|unknown|composer|lyricist|"
    r"arranger|arrangement|title|subtitle|slow(?:ly)?|medium|fast|moderato|bright|rehearsal|draft|"
    r"copy|church|school|publishing|records)\b",
    re.IGNORECASE,
)
"""Words of subtitles, headings and companies that stand in no name."""
_YEAR = re.compile(r"\s*,?\s*\(?(?:19|20)\d\d\)?\s*$")
_LONGEST = 80


def names_under_title(root: Element, title: str) -> tuple[str, ...]:
    """The names of people that stand alone at the right or in the middle under the title of the
    first page, and at the left beside such a name; each once, from the left to the right."""
    found: list[tuple[str, str]] = []
    top: Element | None = None
    width = number(root.findtext("defaults/page-layout/page-width"))
    for credit in root.iterfind("credit"):
        words = credit.find("credit-words")
        if words is None or credit.get("page", "1") != "1":
            continue
        if setting_text(words.text or "") == title:
            top = words
        elif not text_of(credit, "credit-type") and _is_under(words, top):
            lines = [setting_text(line) for line in (words.text or "").splitlines()]
            names = [_YEAR.sub("", line) for line in lines if line]
            if names and all(map(_is_name, names)):
                found += [(_side(words, width), name) for name in names]
    sides = {side for side, _ in found}
    taken = found if "right" in sides else [one for one in found if one[0] != "left"]
    ordered = sorted(taken, key=lambda one: ("left", "center", "right").index(one[0]))
    return tuple(dict.fromkeys(name for _, name in ordered))


def _is_name(text: str) -> bool:
    return len(text) <= _LONGEST and is_spelled_as_names(text) and _NO_NAMES.search(text) is None


def _side(words: Element, width: Fraction | int) -> str:
    """Where on a page of some width a text stands: by its alignment, else by where it begins."""
    side = words.get("justify") or words.get("halign") or ""
    if side in ("right", "center"):
        return side
    return "right" if width and number(words.get("default-x")) > width / 2 else "left"


def _is_under(words: Element, top: Element | None) -> bool:
    """Whether a text stands close under the title; where no heights are given, behind it."""
    if top is None:
        return False
    heights = words.get("default-y"), top.get("default-y")
    if None in heights:
        return True
    return 0 <= number(heights[1]) - number(heights[0]) <= _FARTHEST
