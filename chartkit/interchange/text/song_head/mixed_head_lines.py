"""Reads the lines of a head that hold settings beside other words."""

import re
from collections.abc import Sequence

from chartkit.interchange.capo_words import CAPO_NAME
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import (
    take_fact,
    take_feel,
    take_head_facts,
    take_tuning,
    take_writer_among,
    without_small_talk,
)
from chartkit.interchange.text.head_words.head_facts import bare_facts, fact_of_words, head_facts
from chartkit.interchange.text.head_words.titles import IN_BRACKETS_BEHIND, without_ornaments
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_head.title_lines import take_title
from chartkit.interchange.text.vocabulary.directions import is_talk
from chartkit.interchange.text.vocabulary.facts import Fact, facts_and_rest
from chartkit.interchange.text.vocabulary.feel_words import labelled_feel
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME
from chartkit.interchange.wording import setting_text

COMMENT = re.compile(r"\s*(?:#+|//+|;+)\s*")
"""How a line that is a comment begins."""
_OF_A_COPY = re.compile(
    r"\b(?:rev(?:ision|ised|\.)?|ver(?:sion|\.)?|v\.?\d|draft|copy|page|pg|updated|fassung|stand|"
    r"versión|versione|versie|utkast)\b|\d{1,2}[./-]\d{1,2}|(?:19|20)\d\d",
    re.IGNORECASE,
)
"""How a line says which copy of the sheet this is (common practice, no source)."""
FEWEST_FACTS = 2
"""On a line with so many facts what else is said tells how the song goes."""


def uncommented(text: str) -> str:
    """A line without the sign that makes it a comment."""
    sign = COMMENT.match(text)
    return text[sign.end() :] if sign is not None else text


def awaits_title(sheet: Sheet, line: Line) -> bool:
    """Whether another line below a line of the head is the title."""
    return "title" not in sheet.top and line.number < sheet.title_line


def _has_settings_far_behind(text: str) -> bool:
    """Whether nothing but settings stands wide apart behind the words of a line, which are none."""
    first, *tail = re.split(r"\s{2,}|\t", text.strip())
    head = head_facts(", ".join(tail))
    return bool(head.facts) and not head.rest and not facts_and_rest(first)[0]


def take_mixed_line(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a line that holds settings and other words; False for any other line."""
    bare = uncommented(line.text)
    if "title" not in sheet.top and _has_settings_far_behind(bare):
        return False
    mixed, head = facts_and_rest(bare), head_facts(bare)
    if len(head.facts) > len(mixed[0]) > 0 and not head.rest and "title" in sheet.top:
        return take_head_facts(sheet, bare, line)
    behind = IN_BRACKETS_BEHIND.fullmatch(bare) if "title" not in sheet.top else None
    if not _tells_much(mixed[0]) or (behind and head_facts(behind["inside"]).facts):
        return False
    _take_mixed(sheet, *mixed, uncommented(text), line)
    return True


def _take_mixed(
    sheet: Sheet, facts: Sequence[Fact], others: Sequence[str], text: str, line: Line
) -> None:
    """Takes a line of facts with more on it: a title before them, how the song goes behind."""
    for fact in facts:
        take_fact(sheet, fact.name, fact.value, line)
    bare_text = without_ornaments(text)
    if others and "title" not in sheet.top and is_talk(others[0]):
        sheet.findings.leave_out(
            "small-talk",
            f'"{others[0]}" tells the players nothing: it is no note',
            line.place(),
        )
        others = others[1:]  # "yep, G, capo 2"
    if (
        "title" not in sheet.top
        and not awaits_title(sheet, line)
        and bare_text.startswith(without_ornaments(" ".join(others[0].split())))
    ):
        take_title(sheet, without_ornaments(others[0]), line)
        others = others[1:]
    others = [part for part in others if not take_tuning(sheet, part, line)]
    others = [part for part in others if not take_feel(sheet, labelled_feel(part), line)]
    named = {fact.name for fact in facts}
    worded = {part: said for part in others if (said := fact_of_words(part)) is not None}
    bare = {part: fact for part, fact in worded.items() if fact.name not in named}
    bare |= bare_facts([part for part in others if part not in bare], [*facts, *bare.values()])
    for one in bare.values():
        take_fact(sheet, one.name, one.value, line)
    kept = [part for part in others if part not in bare and any(map(str.isalnum, part))]
    kept = without_small_talk(sheet, take_writer_among(sheet, kept, text, line), line)
    rest = setting_text(", ".join(kept))
    other = "feel" in sheet.top or len(facts) < FEWEST_FACTS or _OF_A_COPY.search(rest) is not None
    if "(" in rest or (rest and other):
        sheet.notes.append(rest)
    elif rest:
        sheet.top["feel"] = rest


def _tells_much(facts: Sequence[Fact]) -> bool:
    """Whether the facts on a line make it one of facts, whatever else is said there."""
    return len(facts) >= FEWEST_FACTS or any(fact.name == "capo" for fact in facts)


def are_settings(text: str) -> bool:
    """Whether a line above any title begins with a setting and gives nothing else ("in G, swung,
    about 132")."""
    first = _PART.split(text.strip(), maxsplit=1)[0]
    begins = _BEGINS_SETTINGS.match(text) is not None
    head = head_facts(text) if begins or bare_facts([first], []) else None
    if head is None or head.rest:
        return False
    return len(head.facts) >= FEWEST_FACTS or _KEY_ALONE.fullmatch(text.strip()) is not None


_PART = re.compile(r"\s*[,;|/]\s+|\s+[-–—]+\s+|\s{2,}")
_IT_IS = r"(?:(?:it|this(?: one)?|that|everything|all)(?:['’]?s| is) )?"
_KEY_ALONE = re.compile(rf"(?i:{_IT_IS})(?:[Ii]n|[Ee]n|em|i) [A-H][#b♯♭]?m?")
_BEGINS_SETTINGS = re.compile(rf"{_IT_IS}(?:in|en|i|{KEY_NAME}|{CAPO_NAME}|tempo)\b", re.IGNORECASE)
