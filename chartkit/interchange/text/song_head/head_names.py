"""Takes a line of the head that gives no setting: the title, then the writer, then how the song
goes, then notes."""

import re
from dataclasses import dataclass, replace

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import (
    FOR_SOMEBODY,
    add_writer,
    take_fact,
    take_feel,
    take_head_facts,
    take_writer,
    take_writer_among,
)
from chartkit.interchange.text.head_words.before_titles import is_song_of_a_kind
from chartkit.interchange.text.head_words.beside_titles import settings_behind
from chartkit.interchange.text.head_words.head_labels import writer_of, writes
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.head_words.said_titles import said_writer
from chartkit.interchange.text.head_words.titles import (
    OF_A_COPY,
    could_be_a_name,
    is_addressed_to_reader,
    without_ornaments,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_head.behind_titles import surnames
from chartkit.interchange.text.song_head.mixed_head_lines import (
    COMMENT,
    are_settings,
    awaits_title,
    uncommented,
)
from chartkit.interchange.text.song_head.title_lines import take_title, without_title
from chartkit.interchange.text.vocabulary.directions import (
    is_direction,
    is_of_the_stage,
    is_plain_direction,
    speaks_to_players,
)
from chartkit.interchange.text.vocabulary.facts import without_parentheses
from chartkit.interchange.text.vocabulary.feel_words import feel_and_more, plain_feel
from chartkit.interchange.text.vocabulary.key_words import key_of
from chartkit.interchange.text.vocabulary.writer_names import (
    names_and_remark,
    names_people,
    undated,
)
from chartkit.interchange.wording import setting_text
from chartkit.theory.note import pitch_class_of

_CLAUSE = re.compile(r"[,;]\s+")
_REMARKED = re.compile(r"\s*(?://|;)")
"""How a comment begins that is no title, as one behind "#" may be."""


@dataclass(frozen=True, slots=True)
class _Said:
    """A line of the head that gives no setting; ``bare`` is its text without a comment's sign and
    without parentheses around it."""

    text: str
    bare: str
    line: Line
    is_comment: bool
    """Whether it is a comment below the title."""


def take_name(sheet: Sheet, text: str, line: Line) -> None:
    """Takes a line that is no fact: the title, then the writer, then how it goes, then notes."""
    titled = "title" in sheet.top
    raw = without_parentheses(without_ornaments(line.text))
    raw = raw if titled else raw.rstrip(" .!")
    if (titled or are_settings(raw)) and take_head_facts(sheet, raw, line):
        return
    bare = without_parentheses(uncommented(text).strip())
    if (titled or sheet.subject is not None) and take_settings_first(sheet, bare, line):
        return
    said = _Said(text, bare, line, titled and COMMENT.match(line.text) is not None)
    if titled and _take_writer_behind_comma(sheet, said):
        return
    readers = (_take_named_writer, _take_title, _take_feel, _take_likely_writer)
    if not any(reader(sheet, said) for reader in readers):
        _take_note(sheet, said)


_KEY_FIRST = re.compile(
    r"(?P<key>[A-H][#b♯♭]?m?)\s*(?:,|–|—|-|:|;)?\s+(?P<more>(?:but|or|unless|if|though|aber|oder|mais|ou|"
    r"pero|o|for|für|pour|para|per|voor)\s.+)|"
    r"(?P<first>[A-H][#b♯♭]?m?)[.,;!]\s+(?P<said>(?![A-H](?:[#b♯♭\dm]|maj|sus|dim)*(?![\w-]))\S.*)"
)
"""How a sentence begins with the key ("Dm but pitch it where you like")."""
_FEWEST_SETTINGS = 2


def take_settings_first(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes two settings or more with which a sentence begins, or a key with the root of the first
    chord; what is said behind them is a note."""
    run = settings_behind(text)
    if len({fact.name for fact in run.facts}) >= _FEWEST_SETTINGS and run.rest:
        take_head_facts(sheet, text.removesuffix(run.rest[0]), line, replace(run, rest=()))
        read_more = run.rest[0]
    else:
        match = _KEY_FIRST.fullmatch(text) if "key" not in sheet.top else None
        key = key_of(match["key"] or match["first"]) if match is not None else None
        if match is None or key is None or pitch_class_of(key.tonic) != sheet.first_root:
            return False
        take_fact(sheet, "key", key, line)
        read_more = match["more"] or match["said"]
    sheet.notes.append(setting_text(read_more))
    return True


def _take_writer_behind_comma(sheet: Sheet, said: _Said) -> bool:
    """Takes a writer who stands last on a line with commas, and what stands before as a line of
    its own."""
    *before, last = _CLAUSE.split(said.bare)
    named = writer_of(last) or (said.bare[:1].islower() and names_people(last))
    if not before or writer_of(said.bare) or not named:
        return False
    others = list(take_writer_among(sheet, (*before, last), said.text, said.line))
    if len(others) > len(before):
        return False
    left = ", ".join(others)
    take_name(sheet, left, replace(said.line, text=left))
    return True


def _take_named_writer(sheet: Sheet, said: _Said) -> bool:
    """Takes the writer whom words such as "by" or a label name; below a title, one more."""
    by = writer_of(said.bare) or said_writer(said.bare)
    if not by:
        return False
    titled, labelled = "title" in sheet.top, ":" in said.bare[: -len(by)]
    if _lacks_writer(sheet) and (titled or labelled):
        sheet.notes += [sheet.likely_writer] * ("writer" in sheet.top)
        take_writer(sheet, by, said.bare, said.line)
        return True
    if titled and writes(said.bare):
        add_writer(sheet, by, said.bare, said.line)
        return True
    return False


def _take_title(sheet: Sheet, said: _Said) -> bool:
    """Takes the first line that is no comment as the title."""
    if (
        "title" in sheet.top
        or awaits_title(sheet, said.line)
        or _REMARKED.match(said.line.text) is not None
        or is_plain_direction(said.text)
    ):
        return False
    take_title(sheet, said.text, said.line)
    return True


def _take_feel(sheet: Sheet, said: _Said) -> bool:
    """Takes how the song goes."""
    text = without_parentheses(said.text)
    plays = is_direction(text) and OF_A_COPY.fullmatch(text) is None
    plays = plays and not speaks_to_players(text)
    feel = plain_feel(text) or feel_and_more(text) or text * plays
    return not said.is_comment and take_feel(sheet, feel, said.line)


def _take_likely_writer(sheet: Sheet, said: _Said) -> bool:
    """Takes the writer whose name stands alone: in parentheses, by surnames, or any likely one."""
    if "writer" in sheet.top or awaits_title(sheet, said.line):
        return False
    text, bare = said.text, said.bare
    if "title" in sheet.top and names_people(bare) and bare != text:
        take_writer(sheet, bare, text, said.line)
    elif writers := surnames(text):
        take_writer(sheet, writers, text, said.line)
    elif not said.is_comment and _is_likely_a_name(sheet, text):
        take_writer(sheet, without_title(sheet, text), text, said.line)
        sheet.likely_writer = str(sheet.top["writer"])
    else:
        return False
    return True


def _take_note(sheet: Sheet, said: _Said) -> None:
    """Takes a line as a note, and the settings that a sentence of it names."""
    for fact in facts_in_prose(said.text) if is_addressed_to_reader(said.text) else ():
        take_fact(sheet, fact.name, fact.value, said.line)
    sheet.notes.append(without_parentheses(said.text))


def _lacks_writer(sheet: Sheet) -> bool:
    """Whether no writer is known, or only a line that could be a name was taken for one."""
    return sheet.top.get("writer", sheet.likely_writer) == sheet.likely_writer


def _is_likely_a_name(sheet: Sheet, text: str) -> bool:
    """Whether a line could be the writer's name: one in small letters only is none where the
    title has capitals, and whom a song is for did not write it."""
    if FOR_SOMEBODY.match(text) or is_song_of_a_kind(text) or is_of_the_stage(text):
        return False
    title = sheet.top.get("title")
    cased = isinstance(title, str) and not title.islower()
    small = text.islower() or (text[:1].islower() and not names_and_remark(text)[0])
    return names_people(text) or (could_be_a_name(undated(text)) and not (cased and small))
