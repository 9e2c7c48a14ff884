"""Takes a line of the head that gives no setting: the title, then the writer, then how the song
goes, then notes."""

import re
from dataclasses import replace

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import (
    add_writer,
    take_fact,
    take_head_facts,
    take_writer,
    take_writer_among,
)
from chartkit.interchange.text.head_words.head_facts import facts_in_prose
from chartkit.interchange.text.head_words.head_labels import writer_of, writes
from chartkit.interchange.text.head_words.titles import (
    could_be_a_name,
    is_addressed_to_reader,
    without_ornaments,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_head.mixed_head_lines import COMMENT, are_settings, uncommented
from chartkit.interchange.text.song_head.title_lines import surnames, take_title, without_title
from chartkit.interchange.text.vocabulary.directions import is_direction, says_feel
from chartkit.interchange.text.vocabulary.facts import without_parentheses
from chartkit.interchange.text.vocabulary.writer_names import (
    names_and_remark,
    names_people,
    undated,
)

_REMARKED = re.compile(r"\s*(?://|;)")
"""How a comment begins that is no title, as one behind "#" may be."""


def take_name(sheet: Sheet, text: str, line: Line) -> None:
    """Takes a line that is no fact: the title, then the writer, then how it goes, then notes."""
    raw = without_parentheses(without_ornaments(line.text))
    if ("title" in sheet.top or are_settings(raw)) and take_head_facts(sheet, raw, line):
        return
    comment = COMMENT.match(line.text) is not None and "title" in sheet.top
    bare = without_parentheses(uncommented(text).strip())
    *before, last = bare.split(", ")
    named = writer_of(last) or (bare[:1].islower() and names_people(last))
    if "title" in sheet.top and before and not writer_of(bare) and named:
        others = list(take_writer_among(sheet, (*before, last), text, line))
        if len(others) <= len(before):
            take_name(sheet, ", ".join(others), replace(line, text=", ".join(others)))
            return
    by = writer_of(bare)
    labelled = by and ":" in bare[: -len(by)]
    if _lacks_writer(sheet) and by and ("title" in sheet.top or labelled):
        sheet.notes += [sheet.likely_writer] * ("writer" in sheet.top)
        take_writer(sheet, by, bare, line)
    elif by and writes(bare) and "title" in sheet.top:
        add_writer(sheet, by, bare, line)
    elif "title" not in sheet.top and not _REMARKED.match(line.text):
        take_title(sheet, text, line)
    elif "feel" not in sheet.top and not comment and (says_feel(text) or is_direction(text)):
        sheet.top["feel"] = without_parentheses(text)
        sheet.findings.guess("feel", f'"{text}" is taken as how the song goes', line.place())
    elif "writer" not in sheet.top and "title" in sheet.top and names_people(bare) and bare != text:
        take_writer(sheet, bare, text, line)
    elif "writer" not in sheet.top and (writers := surnames(text)):
        take_writer(sheet, writers, text, line)
    elif "writer" not in sheet.top and not comment and _is_likely_a_name(sheet, text):
        take_writer(sheet, without_title(sheet, text), text, line)
        sheet.likely_writer = str(sheet.top["writer"])
    else:
        for fact in facts_in_prose(text) if is_addressed_to_reader(text) else ():
            take_fact(sheet, fact.name, fact.value, line)
        sheet.notes.append(without_parentheses(text))


def _lacks_writer(sheet: Sheet) -> bool:
    """Whether no writer is known, or only a line that could be a name was taken for one."""
    return sheet.top.get("writer", sheet.likely_writer) == sheet.likely_writer


_FOR_SOMEBODY = re.compile(r"(?:for|für|pour|para|per|voor|til|för|dla)\s+\S", re.IGNORECASE)


def _is_likely_a_name(sheet: Sheet, text: str) -> bool:
    """Whether a line could be the writer's name: one in small letters only is none where the
    title has capitals, and whom a song is for did not write it."""
    if _FOR_SOMEBODY.match(text):
        return False
    title = sheet.top.get("title")
    cased = isinstance(title, str) and not title.islower()
    small = text.islower() or (text[:1].islower() and not names_and_remark(text)[0])
    return names_people(text) or (could_be_a_name(undated(text)) and not (cased and small))
