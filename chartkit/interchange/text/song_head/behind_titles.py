"""Takes what stands behind a title on its line: settings, a page, a writer, the key."""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import (
    take_fact,
    take_feel,
    take_head_facts,
    take_writer,
)
from chartkit.interchange.text.head_words.beside_titles import (
    parted_by_signs,
)
from chartkit.interchange.text.head_words.head_facts import (
    HeadFacts,
    bare_facts,
    fact_of_words,
    head_facts,
)
from chartkit.interchange.text.head_words.head_labels import writer_of
from chartkit.interchange.text.head_words.titles import (
    DASH,
    IN_BRACKETS_BEHIND,
    OF_A_BOOK,
    OF_A_COPY,
    PAGE_AT_THE_MARGIN,
    without_ornaments,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.vocabulary.directions import is_talk, names_player
from chartkit.interchange.text.vocabulary.facts import Fact, facts_of, meter_of
from chartkit.interchange.text.vocabulary.farewells import is_weekday_in
from chartkit.interchange.text.vocabulary.feel_words import plain_feel
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME, key_of
from chartkit.interchange.text.vocabulary.manners import says_feel
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.writer_names import (
    names_people,
    undated,
)
from chartkit.interchange.wording import setting_text
from chartkit.theory.note import pitch_class_of

_A_PERSON = re.compile(
    r"(?!.*\b(?:[Vv]ersion|[Dd]emo|[Ll]ive|[Rr]eprise|[Tt]ake|[Pp]art|[Ss]ong|[Mm]ix|[Kk]ey|The)\b)"
    r"(?!.*\b(?i:in|on|my|the|of|to|and|for|me|you|your|our|we|is|it|all|not|no)\b)"
    r"[^\W\d_a-z](?:[^\W\d_]+|\.)(?:\s[^\W\d_a-z][^\W\d_’'-]+){1,2}"
)
QUOTED = re.compile(r"[\"“„«»]([^\"”“„«»]{2,60})[\"”“»«]")
"""What stands in quotes and may be a title."""
_KEY = (
    r"(?P<key>[A-G][#b♯♭]?(?:m| minor| major)?|"
    r"(?:Do|R[ée]|Mi|Fa|Sol|La|Si)(?:[#b♯♭]|\s(?:bemol|bémol|bemolle|sostenido|dièse|diesis))?"
    r"(?:m|\s(?:mayor|menor|majeur|mineur|maior|maggiore|minore))?)"
)
_KEY_BEHIND = re.compile(rf"(?P<title>.*\S)\s+(?:in|en|em|i)\s+{_KEY}")
_NAMED_KEY_BEHIND = re.compile(
    rf"(?P<title>.*?\S)\s+(?:(?:in|en|em|i)\s+(?:the\s+)?)?(?:{KEY_NAME})\s*:?\s*(?:of\s+)?{_KEY}",
    re.IGNORECASE,
)
"""A key behind the word for it ("CHALK in key D")."""
_OF_A_COPY = re.compile(rf"(?=.*\d)(?:{OF_A_COPY.pattern})", re.IGNORECASE)
_OTHER_THAN_TITLES = (PAGE_AT_THE_MARGIN, OF_A_BOOK, _OF_A_COPY)
"""The page, the book and the numbered copy that a line may name far behind its title."""
_FEWEST_PARTS = 3
"""So many parts has a line with a book, a title and more (ours)."""
_LONGEST_TITLE = 160
"""A longer line is not a title with settings behind it (ours)."""
_A_KEY = re.compile(r"\(?[A-G][#b♯♭]?(?:m|min|maj)?\)?,?")
_NAMES = re.compile(
    r"\(((?:[^\W\d_a-z]\.?\s*)*[^\W\d_a-z][^\W\d_]+(?:\s*[/&,]\s*(?:[^\W\d_a-z]\.?\s*)*"
    r"[^\W\d_a-z][^\W\d_]+)+)\)"
)
"""Surnames of several writers in parentheses."""
_FAR_APART = re.compile(r"\s{2,}|\t|\s+[/|]\s+(?![^()]*\))")
_TEMPO_BEHIND = re.compile(
    r"(?P<title>.*\S)\s+[@~]\s?(?P<tempo>[4-9]\d|1\d\d|2[0-3]\d)(?:\s?bpm)?", re.IGNORECASE
)
_BARE_KEY_BEHIND = re.compile(
    rf"(?P<title>.*\S)(?:\s*[(\[]|\s{{2,}}|\s*,\s*|\s+[-–—]\s+){_KEY}[)\]]?"
)
_METER_BEHIND = re.compile(
    r"(?P<title>.*[^\s,])(?:\s*[,(]\s*|\s+[-–—]\s+|\s+)(?P<meter>\d{1,2}/\d{1,2})\)?"
)


def is_a_person(text: str) -> bool:
    """Whether a text can only be the name of a person ("T. Oxley")."""
    return _A_PERSON.fullmatch(text) is not None


def surnames(text: str) -> str:
    """The surnames of several writers alone in parentheses; empty for any other text."""
    match = _NAMES.fullmatch(text) if len(text) <= _LONGEST_TITLE else None
    names = [one.strip() for one in re.split("[/&,]", match[1])] if match is not None else []
    again = len({*names}) < len(names)  # "(Mud, Mud, Mud)" is of the title
    if match is None or again or any(map(says_feel, names)):
        return ""
    return match[1]


def take_tail(sheet: Sheet, text: str, line: Line) -> str:
    """Takes the settings far behind a title ("LATE FERRY    med. swing  q=144"); what stands
    before them."""
    raw = without_ornaments(line.text)
    if setting_text(raw) != text:
        return text
    if (parted := parted_by_signs(raw)) is not None and _take_parted(sheet, *parted, line):
        return setting_text(parted[0])
    parts = [part for part in _FAR_APART.split(raw) if part.strip()]
    parts = _without_book_before(sheet, parts)
    if len(parts) == 2 and "writer" not in sheet.top and _is_a_surname(raw, parts[1]):
        take_writer(sheet, parts[1], line.text.strip(), line)
        return setting_text(parts[0])
    tail = ", ".join(parts[1:])
    if tail and any(one.fullmatch(tail) for one in _OTHER_THAN_TITLES):
        sheet.notes.append(setting_text(tail))
        return setting_text(parts[0])
    if tail and not (parts := _without_writer_and_key(sheet, parts, line))[1:]:
        return setting_text(parts[0])
    tail = ", ".join(map(without_ornaments, parts[1:]))
    if len(parts) > 2 and _take_key_column(sheet, parts[1], parts[2:], line):
        return setting_text(parts[0])
    far = bool(tail) and parts[0].count("(") == parts[0].count(")")
    keyed = IN_BRACKETS_BEHIND.fullmatch(parts[0]) if far else None
    if keyed is not None and head_facts(tail).facts == () and head_facts(keyed["inside"]).facts:
        sheet.notes.append(setting_text(tail))  # "MR. PARSNIP (C major)   start note G"
        return setting_text(parts[0])
    if far and take_head_facts(sheet, tail, line):
        return setting_text(parts[0])
    if far and len(parts) > 1 and tail[:1] + tail[-1:] == "()" and not is_a_person(tail[1:-1]):
        if writer_of(tail):
            return text
        _take_in_parentheses(sheet, tail, line)
        return setting_text(parts[0])
    title, tail = _parted_before_settings(raw)
    if tail and (
        take_head_facts(sheet, tail, line) or take_feel(sheet, plain_feel(tail.strip()), line)
    ):
        return setting_text(title)
    return text


_AT_THE_MARGIN = re.compile(r"\S {4,}[^\W\d_a-z][^\W\d_A-Z]{3,}$|\S\t+[^\W\d_a-z][^\W\d_A-Z]{3,}$")


def _is_a_surname(raw: str, name: str) -> bool:
    """Whether one word at the right margin, behind a title, is a name and nothing of a sheet."""
    if _AT_THE_MARGIN.search(raw) is None or says_feel(name) or names_player(name):
        return False
    other = is_known_name(name) or is_weekday_in(name) or OF_A_COPY.fullmatch(name)
    return not other and not facts_of(name) and not is_talk(f"{name}.")


def _take_in_parentheses(sheet: Sheet, tail: str, line: Line) -> None:
    """Takes what stands in parentheses far behind a title: the key, how the song goes, or a
    note."""
    key = key_of(tail[1:-1]) if _A_KEY.fullmatch(tail) else None
    if key is not None and sheet.first_root == pitch_class_of(key.tonic):
        take_fact(sheet, "key", key, line)
    elif not take_feel(sheet, plain_feel(tail[1:-1]), line):
        sheet.notes.append(setting_text(tail[1:-1]))


def _take_key_column(sheet: Sheet, name: str, more: Sequence[str], line: Line) -> bool:
    """Takes a key alone in the column behind a title, with the root of the first chord, and what
    stands in further ones ("WALNUT RAG     G     bright 2"); whether it is one."""
    key = key_of(name.strip("(),")) if _A_KEY.fullmatch(name) else None
    if key is None or "key" in sheet.top or sheet.first_root != pitch_class_of(key.tonic):
        return False
    take_fact(sheet, "key", key, line)
    bare = bare_facts(more, [Fact("key", key)])
    for fact in bare.values():
        take_fact(sheet, fact.name, fact.value, line)
    tail = ", ".join(part for part in more if part not in bare)
    if not tail:
        return True
    if not take_head_facts(sheet, tail, line) and not take_feel(sheet, plain_feel(tail), line):
        sheet.notes.append(setting_text(tail))
    return True


def _without_book_before(sheet: Sheet, parts: list[str]) -> list[str]:
    """The parts of a title's line without a first one that names the book or the page ("BOOK NO.
    44    THE HAT-CHECK GIRL    KEY C"), which is a note."""
    if len(parts) < _FEWEST_PARTS or not any(one.fullmatch(parts[0]) for one in _OTHER_THAN_TITLES):
        return parts
    sheet.notes.append(setting_text(parts[0]))
    return parts[1:]


def _take_parted(sheet: Sheet, title: str, head: HeadFacts, line: Line) -> bool:
    """Takes the settings between signs behind a title."""
    behind = setting_text(without_ornaments(line.text))[len(setting_text(title)) :]
    named = next((part for part in head.rest if is_a_person(part)), "")
    if named and "writer" not in sheet.top:
        take_writer(sheet, named, line.text.strip(), line)
        head = replace(head, rest=tuple(part for part in head.rest if part != named))
    return take_head_facts(sheet, behind, line, head)


def _without_writer_and_key(sheet: Sheet, parts: list[str], line: Line) -> list[str]:
    """The parts of a title's line without its last ones that are names in parentheses, and a key
    beside a tempo or a meter; both are taken."""
    while len(parts) > 1:
        names = _NAMES.fullmatch(parts[-1])
        if _A_KEY.fullmatch(parts[-1]) and {"tempo", "meter"} & sheet.top.keys():
            key = key_of(parts[-1].strip("(),"))
            if key is not None:
                sheet.top.setdefault("key", key)
        elif names is not None and "writer" not in sheet.top:
            take_writer(sheet, names[1], parts[-1], line)
        elif "writer" not in sheet.top and (writer := writer_of(parts[-1])):
            take_writer(sheet, writer, parts[-1], line)
        elif "writer" not in sheet.top and names_people(undated(parts[-1].strip("()"))):
            take_writer(sheet, undated(parts[-1].strip("()")), parts[-1], line)
        else:
            break
        parts = parts[:-1]
    return parts


def _parted_before_settings(text: str) -> tuple[str, str]:
    """A title, and what stands behind it where that is nothing but settings: behind a comma, or
    a key with a tempo or a meter behind a blank; nothing behind it elsewhere."""
    text = text.strip().rstrip(".")
    if len(text) > _LONGEST_TITLE:
        return text, ""
    for at in (i for i, sign in enumerate(text) if sign == ","):
        head = head_facts(text[at + 1 :])
        inside = sum(map(text[:at].count, "([")) > sum(map(text[:at].count, ")]"))
        if (
            not inside
            and text[:1].isupper()
            and text[at + 1 :].islower()
            and plain_feel(text[at + 1 :].strip())
        ):
            return text[:at], text[at + 1 :]
        if head.facts and not head.rest and not inside:
            return text[:at], text[at + 1 :]
    words = [] if DASH.search(text) or QUOTED.search(text) else text.split()
    for at in (at for at, word in enumerate(words) if at and _A_KEY.fullmatch(word)):
        tail = " ".join(words[at:])
        head = head_facts(tail)
        names = {fact.name for fact in head.facts}
        whole = tail.count("(") == tail.count(")") and tail.count("[") == tail.count("]")
        if whole and not head.rest and "key" in names and len(names) > 1:
            return " ".join(words[:at]), tail
    return text, ""


_MOST_WORDS_BEHIND = 5
"""A capo or a tempo takes no more words (ours)."""


def _without_capo(sheet: Sheet, title: str, line: Line) -> str:
    """A title without the capo or the tempo that its last words are ("PENNY RAIN capo 3")."""
    words = title.split()
    for count in range(min(_MOST_WORDS_BEHIND, len(words) - 1), 0, -1):
        fact = fact_of_words(" ".join(words[-count:]))
        if fact is not None and fact.name in ("capo", "tempo"):
            take_fact(sheet, fact.name, fact.value, line)
            return " ".join(words[:-count])
    return title


def key_behind(sheet: Sheet, title: str, line: Line) -> str:
    """The title without "in key G", a capo or a tempo behind it, or without "in G" where the song's
    first chord has that root."""
    title = _without_capo(sheet, title, line)
    if (metered := _METER_BEHIND.fullmatch(title)) is not None:
        meter = meter_of(metered["meter"])
        if meter is not None:
            sheet.top.setdefault("meter", meter)
            sheet.bars.meter = meter
            title = metered["title"]
    if (timed := _TEMPO_BEHIND.fullmatch(title)) is not None:
        sheet.top.setdefault("tempo", int(timed["tempo"]))
        title = timed["title"]
    named = _NAMED_KEY_BEHIND.fullmatch(title) if "key" not in sheet.top else None
    match = named or _KEY_BEHIND.fullmatch(title) or _BARE_KEY_BEHIND.fullmatch(title)
    key = key_of(match["key"]) if match is not None else None
    if match is None or key is None:
        return title
    if named is None and sheet.first_root != pitch_class_of(key.tonic):
        return title
    sheet.top.setdefault("key", key)
    return match["title"]
