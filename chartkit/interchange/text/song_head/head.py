"""The head of a sheet: title, writer, facts and notes, up to where the song begins."""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import (
    take_fact,
    take_head_facts,
    take_note,
)
from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_labels import TITLE_LABEL
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.head_words.title_block import lines_over_title
from chartkit.interchange.text.head_words.titles import (
    PAGE_AT_THE_MARGIN,
    RUNNING_HEAD,
    could_be_title,
    has_facts,
    is_addressed_to_reader,
    is_introduced,
    is_spelled_as_title,
)
from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Settings,
    Shapes,
    Words,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.raw_text.stamps import CHAT
from chartkit.interchange.text.song_head.head_lines import AT_THE_LAST_MARGIN, read_head_line
from chartkit.interchange.text.song_head.mixed_head_lines import FEWEST_FACTS
from chartkit.interchange.text.song_head.said_to_reader import (
    take_from_letter,
    take_over_title,
    with_title_said,
)
from chartkit.interchange.text.song_head.title_lines import (
    QUOTED,
    settle_title,
)
from chartkit.interchange.text.vocabulary.directions import (
    is_doubtful_greeting,
    is_greeting,
    is_talk,
)
from chartkit.interchange.text.vocabulary.facts import (
    facts_of,
    named_settings,
    names_a_fact,
    without_parentheses,
)
from chartkit.interchange.text.vocabulary.farewells import is_answer
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME, PLAIN_KEY_NAME
from chartkit.interchange.text.vocabulary.note_names import key_of
from chartkit.interchange.wording import setting_text

_PAIR = re.compile(r"\s*[^\W\d_]{3,12}\s?:")
_PAIRS_APART = re.compile(
    r"(?:\s{2,}|\s+[|•·]\s+)(?=[^\W\d_]{3,12}\s?:\s?\S)|"
    rf"\s*[/,;–—-]?\s+(?=(?:{PLAIN_KEY_NAME}|tempo|capo|bpm|time|meter|tuning|artist|takt)\s?:\s?\S)",
    re.IGNORECASE,
)

_CALLED = re.compile(
    r"\b(?:this is|here(?:['’]s| is)|(?:one|song|tune|it) is|it['’]s|called|"
    r"call(?:ed)? (?:it|this(?: one)?)|"
    r"(?:chords|words|changes|sheet|akkorde|acordes|accords|accordi) "
    r"(?:for|to|of|für|zu|de|para|pour))\s+"
    r"(?P<title>[^\W\d_a-z][^\W_]*(?:[ ’'-][^\W_]+){0,6})(?=\s*(?:[,.!?;:(]|$))"
)
"""How somebody says what a song is called, without quotes."""
_LONGEST_HEAD = 200
_MOST_HEADER_LINES = 6


def head_end(known: Sequence[KnownLine]) -> int:
    """The line at which the song begins: the first heading, chords, or block of words."""
    filled = 0
    for i, one in enumerate(known):
        if isinstance(one.kind, SectionStart):
            return i
        if isinstance(one.kind, Chords) and not _is_bare_key(known, i, filled):
            return i
        if isinstance(one.kind, ChordsWithin) and _is_sung(known, i, filled):
            return i
        behind = isinstance(one.kind, ChordsBehind) and "  " in one.line.text
        behind = behind and not _has_settings_behind(one.line.text)
        if behind and not _has_key_behind(known, i, filled):
            return i
        if not isinstance(one.kind, Blank) and not _tells_what_it_is(one):
            filled += 1
        if filled > _MOST_HEADER_LINES:
            break
    return _first_blank(known)


def _is_sung(known: Sequence[KnownLine], at: int, filled: int) -> bool:
    """Whether a line of words with chords in parentheses among them is sung: one chord behind a
    title or another line of a head is its key."""
    kind = known[at].kind
    if not isinstance(kind, ChordsWithin) or facts_of(known[at].line.text):
        return False
    if len(kind.tokens) > 1:
        return True
    below = known[at + 1].kind if at + 1 < len(known) else None
    first = kind.tokens[0].column == 0
    return (filled > 0 or first) and isinstance(below, ChordsWithin)


def _is_bare_key(known: Sequence[KnownLine], at: int, filled: int) -> bool:
    """Whether a row of chords is one chord under the title, right above a section's heading."""
    kind = known[at].kind
    alone = isinstance(kind, Chords) and len(kind.tokens) == 1 and not kind.behind_name
    rest = (one.kind for one in known[at + 1 : at + 4] if not isinstance(one.kind, Blank))
    above_heading = isinstance(next(rest, None), SectionStart)
    head = head_facts(known[at].line.text)
    key = key_of(without_parentheses(known[at].line.text.strip()))
    counted = any(fact.name in ("tempo", "meter") for fact in head.facts)
    if filled > 0 and counted and not head.rest:
        return True
    return alone and above_heading and filled > 0 and key is not None


def _has_key_behind(known: Sequence[KnownLine], at: int, filled: int) -> bool:
    """Whether the one chord behind words is the key at the margin of a head's last line, or in
    parentheses behind a title."""
    kind = known[at].kind
    below = known[at + 1].kind if at + 1 < len(known) else None
    alone = isinstance(kind, ChordsBehind) and len(kind.tokens) == 1
    under_title = not filled and known[at].line.text.rstrip().endswith(")")
    return alone and (under_title or isinstance(below, Blank | SectionStart))


def _has_settings_behind(text: str) -> bool:
    """Whether far behind a title there stand a key and a meter or a tempo, and nothing else."""
    tail = re.split(r"\s{2,}|\t", text.strip())[1:]
    head = head_facts(", ".join(tail))
    counted = any(fact.name in ("tempo", "meter") for fact in head.facts)
    return counted and len(head.facts) > 1 and not head.rest


def _tells_what_it_is(one: KnownLine) -> bool:
    """Whether a line is plainly one of a head: facts, settings, shapes, a remark, talk."""
    if isinstance(one.kind, Settings | Shapes | Remark | Note | Roadmap):
        return True
    text = one.line.text.strip()
    return bool(named_settings(text)) or is_greeting(text) or is_talk(text)


def _first_blank(known: Sequence[KnownLine]) -> int:
    """Where the first block ends: a title and what goes with it, before words alone."""
    begun = False
    for i, one in enumerate(known):
        if not isinstance(one.kind, Blank):
            begun = True
        elif begun:
            return i if i <= _MOST_HEADER_LINES else 0
    return 0


def _unemphasised(one: KnownLine) -> KnownLine:
    """A line without the double stars around what is emphasised in it."""
    if "**" not in one.line.text:
        return one
    return replace(one, line=replace(one.line, text=one.line.text.replace("**", ""), columns=None))


_TALK_BEFORE = re.compile(
    r"\s*(?:(?:ok(?:ay)?|so|right|alright|yes|yep|sure|well|cool|wait|hang on|one sec|sorry|hm+|oh|"
    r"and|gut|klar|also|moment|warte|bon|alors|attends|vale|bueno|espera|a ver|allora|aspetta|dus|"
    r"nou|wacht|vänta|czekaj)[\s,.!:–-]+){1,3}(?:it['’]?s\s+)?"
    rf"(?=(?:in|capo|tempo|kapo|en|{KEY_NAME})\b)",
    re.IGNORECASE,
)


def _without_talk(one: KnownLine) -> KnownLine:
    """A line of settings without the word of talk that begins it ("ok in G, about 132")."""
    match = _TALK_BEFORE.match(one.line.text) if len(one.line.text) <= _LONGEST_HEAD else None
    if match is None or not facts_in_prose(one.line.text):
        return one
    return replace(one, line=replace(one.line, text=one.line.text[match.end() :], columns=None))


_LEADERS = re.compile(r"(\s*[^\W\d_]{3,12})\s?\.{3,}\s*(?=\S)")
"""Dots that lead from a setting's name to its value."""


def _without_leaders(one: KnownLine) -> KnownLine:
    """A setting with a colon for the dots behind its name."""
    match = _LEADERS.match(one.line.text) if "..." in one.line.text else None
    if match is None and " ... " in one.line.text:
        first, *more = one.line.text.split(" ... ")
        head = head_facts(", ".join(more))
        if head.facts and not head.rest:
            text = "   ".join([first, *more])
            return replace(one, line=replace(one.line, text=text, columns=None))
    if match is None:
        return one
    text = f"{match[1]}: {one.line.text[match.end() :]}"
    return replace(one, line=replace(one.line, text=text, columns=None))


_ASKED = re.compile(
    r"(?:(?<![^\s,;|(–—-])|(?<=[¿]))(?:(?:maybe|or|perhaps|vielleicht|oder|evtl\.?|peut-être|ou|quizás?|o|forse|"
    r"misschien|of|kanske|eller|måske|kanskje)\s+)?"
    r"(?P<what>(?:[ck]apo(?:daster|tasto|traste|dastre)?|cejilla)\b[^?\d,;|()]{0,20}\d{1,2}[^?\d,;|()]{0,12})\?+",
    re.IGNORECASE,
)
"""A capo that somebody asks for and does not say."""


def _without_question(sheet: Sheet, one: KnownLine) -> KnownLine:
    """A line of the head without the capo that it asks for: with a note and a finding, and no
    setting, as nobody has said where the capo sits."""
    text = one.line.text
    asked = _ASKED.search(text) if "?" in text and len(text) <= _LONGEST_HEAD else None
    if asked is None:
        return one
    sheet.notes.append(setting_text(without_parentheses(text.strip())))
    sheet.findings.guess(
        "capo-asked", f'"{asked["what"].strip()}" is a question: no capo is set', one.line.place()
    )
    left = f"{text[: asked.start()]} {text[asked.end() :]}"
    left = left if facts_of(left.strip(" ,;|()¿")) else text[: asked.start()]
    return replace(one, line=replace(one.line, text=left.rstrip(" ,;|(¿"), columns=None))


_DASHED = re.compile(
    rf"(?P<before>^\s*|\s{{2,}})(?P<name>title|titel|titre|artist|writer|{PLAIN_KEY_NAME}|time|meter|takt|"
    r"tempo|bpm|capo|kapo|feel)\s+[-–—]\s+(?=\S)",
    re.IGNORECASE,
)
"""A setting's name with a dash where others have a colon."""


def _with_colons(one: KnownLine) -> KnownLine:
    """A line of settings with a colon behind each name where it has a dash."""
    text = one.line.text
    if len(text) > _LONGEST_HEAD or _DASHED.match(text) is None:
        return one
    text = _DASHED.sub(r"\g<before>\g<name>: ", text)
    return replace(one, line=replace(one.line, text=text, columns=None))


def _pairs_apart(one: KnownLine) -> list[KnownLine]:
    """A line of several settings by their names as a line for each; any other as it is."""
    pairs = _PAIRS_APART.split(one.line.text) if ":" in one.line.text else []
    labelled = TITLE_LABEL.match(one.line.text) is not None
    labelled = labelled and not ("  " in one.line.text and any(map(names_a_fact, pairs)))
    if labelled or len(pairs) < FEWEST_FACTS or not all(map(_PAIR.match, pairs)):
        return [one]
    return [KnownLine(replace(one.line, text=pair, columns=None), Words()) for pair in pairs]


def read_head(sheet: Sheet, known: Sequence[KnownLine]) -> None:
    """Takes the lines of the head; what is said to the reader of a mail is left out."""
    plain = map(_with_colons, map(_without_leaders, map(_without_talk, map(_unemphasised, known))))
    said = [_without_question(sheet, one) for one in plain]
    known = _with_remarks_behind([pair for one in said for pair in _pairs_apart(one)])
    answered, known = _without_answer(known)
    texts = [one.line.text.strip() for one in known]
    titles = [at for at, text in enumerate(texts) if could_be_title(text)]
    titles = titles or _behind_a_greeting(texts)
    if (rest := with_title_said(sheet, known, titles)) is not known:
        sheet.subject = sheet.subject or answered
        read_head(sheet, rest)
        return
    if len(titles) > 1 and _is_a_running_head(known[titles[0]].line.text):
        take_note(sheet, known[titles[0]].line)
        read_head(sheet, known[titles[0] + 1 :])
        return
    if over := lines_over_title(texts):
        for one in known[:over]:
            if one.line.text.strip():
                take_over_title(sheet, one.line)
        read_head(sheet, known[over:])
        return
    chat = sheet.findings.has(CHAT)
    title_at = (titles[-1] if chat else titles[0]) if titles else -1
    letters: list[Line] = []
    for at, text in enumerate(texts):
        if not _take_by_kind(sheet, known, at):
            if _is_of_letter(text, at, title_at, chat):
                take_from_letter(sheet, known[at].line)
                letters.append(known[at].line)
            else:
                read_head_line(sheet, known[at].line)
    _take_title_from(sheet, letters)
    sheet.subject = sheet.subject or answered
    settle_title(sheet)


def _without_answer(known: Sequence[KnownLine]) -> tuple[Line | None, Sequence[KnownLine]]:
    """The first line where it is the subject of a mail that was answered or sent on ("Fwd: for
    Friday"), and the other lines; it is the title only where no other line is."""
    at = next((at for at, one in enumerate(known) if one.line.text.strip()), 0)
    if not known or not is_answer(known[at].line.text) or not isinstance(known[at].kind, Words):
        return None, known
    return known[at].line, [*known[:at], *known[at + 1 :]]


def _with_remarks_behind(known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines, what was set apart from the end of a line behind the rest of it: a title stands
    before what is said of it."""
    result = list(known)
    for at in range(1, len(result)):
        before, one = result[at - 1], result[at]
        of_one = before.line.number == one.line.number and before.line.where == one.line.where
        if of_one and isinstance(before.kind, Remark) and isinstance(one.kind, Words):
            result[at - 1 : at + 1] = one, before
    return result


def _behind_a_greeting(texts: Sequence[str]) -> list[int]:
    """The line that could be a title or a greeting, where another greets above it, or it stands
    alone over settings and nothing else is in the head."""
    greetings = [at for at, text in enumerate(texts) if is_greeting(text)]
    rest = [text for at, text in enumerate(texts) if text and at not in greetings]
    alone = len(greetings) == 1 and all(map(has_facts, rest))
    return [at for at in greetings[not alone :] if is_doubtful_greeting(texts[at])][:1]


def _take_by_kind(sheet: Sheet, known: Sequence[KnownLine], at: int) -> bool:
    """Takes a line of the head whose kind says what it is: chords, a form, a remark."""
    one, text = known[at], known[at].line.text.strip()
    if isinstance(one.kind, Chords):
        _take_bare_key(sheet, one)
    elif isinstance(one.kind, ChordsBehind) and _has_key_behind(known, at, at):
        key = replace(one.line, text=one.kind.tokens[0].text)
        _take_bare_key(sheet, replace(one, line=key))
        read_head_line(sheet, one.kind.words)
    elif isinstance(one.kind, Roadmap):
        sheet.take_roadmap(one.kind.stops, one.line)
    elif isinstance(one.kind, Remark) and text.startswith("[") and not has_facts(text):
        take_note(sheet, replace(one.line, text=one.kind.text))
    else:
        return False
    return True


def _is_of_letter(text: str, at: int, title_at: int, chat: bool) -> bool:
    """Whether a line of the head is said to the reader of a mail: before the title most is."""
    letter = is_greeting(text) or (is_talk(text) and not facts_of(text))
    letter = letter or (is_introduced(text) and _called(text) is not None)
    letter = letter or (chat and title_at < 0 and text.endswith("?"))
    said = at < title_at and (chat or is_addressed_to_reader(text)) and not has_facts(text)
    return bool(text) and ((letter and at != title_at) or said)


def _is_a_running_head(text: str) -> bool:
    """Whether a line over the title is of the book or the choir, with the number of its page."""
    if len(text) <= _LONGEST_HEAD and RUNNING_HEAD.fullmatch(text) is not None:
        return True
    right = AT_THE_LAST_MARGIN.match(text)
    return right is not None and PAGE_AT_THE_MARGIN.fullmatch(text[right.end() :]) is not None


def _take_title_from(sheet: Sheet, letters: Sequence[Line]) -> None:
    """Takes a title in quotes out of what is said to the reader of a mail, where no line is one."""
    for line in letters if "title" not in sheet.top and sheet.subject is None else ():
        short = len(line.text) <= _LONGEST_HEAD
        quoted = QUOTED.search(line.text) or _called(line.text) if short else None
        if quoted is not None:
            sheet.top["title"] = setting_text(quoted[1])
            sheet.findings.guess(
                "title", f'the title is "{quoted[1]}", from "{line.text.strip()}"', line.place()
            )
            return


def _called(text: str) -> re.Match[str] | None:
    """A title that somebody says in a sentence, spelled as titles are."""
    match = _CALLED.search(text)
    return match if match is not None and is_spelled_as_title(match["title"]) else None


def _take_bare_key(sheet: Sheet, one: KnownLine) -> None:
    """Takes a chord alone in the head as the key."""
    key = key_of(without_parentheses(one.line.text.strip()))
    if key is None:
        take_head_facts(sheet, one.line.text, one.line)
    else:
        take_fact(sheet, "key", key, one.line)
        sheet.findings.guess(
            "key", f"the chord alone in the heading is read as the key {key}", one.line.place()
        )
