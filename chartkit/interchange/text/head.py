"""The head of a sheet: title, writer, facts and notes, up to where the song begins."""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from chartkit.fretboard.instruments import KNOWN
from chartkit.interchange.text.chart_builder import Sheet
from chartkit.interchange.text.directions import (
    is_direction,
    is_greeting,
    is_talk,
    says_feel,
    says_style,
)
from chartkit.interchange.text.facts import (
    TITLE_LABEL,
    Fact,
    bare_facts,
    facts_and_rest,
    facts_in_prose,
    facts_of,
    head_facts,
    named_settings,
    names_a_fact,
    without_parentheses,
)
from chartkit.interchange.text.head_phrases import head_phrases
from chartkit.interchange.text.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
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
from chartkit.interchange.text.note_names import key_of
from chartkit.interchange.text.reference_lines import is_for_the_players, legend_pairs, says_note
from chartkit.interchange.text.song_settings import (
    take_fact,
    take_head_facts,
    take_legend,
    take_note,
    take_tuned_down,
)
from chartkit.interchange.text.stamps import CHAT
from chartkit.interchange.text.title_block import lines_over_title
from chartkit.interchange.text.title_lines import (
    settle_title,
    take_title,
    take_writer,
    without_title,
)
from chartkit.interchange.text.titles import (
    IN_BRACKETS_BEHIND,
    OF_A_MAIL,
    PAGE_AT_THE_MARGIN,
    QUOTES,
    RUNNING_HEAD,
    could_be_a_name,
    could_be_title,
    has_facts,
    is_said,
    without_ornaments,
    writer_of,
)
from chartkit.interchange.wording import setting_text

COMMENT = re.compile(r"\s*(?:#+|//+|;+)\s*")
"""How a line that is a comment begins."""
_REMARKED = re.compile(r"\s*(?://|;)")
"""How a comment begins that is no title, as one behind "#" may be."""
_PAIR = re.compile(r"\s*[^\W\d_]{3,12}\s?:")
_PAIRS_APART = re.compile(
    r"(?:\s{2,}|\s+[|•·]\s+)(?=[^\W\d_]{3,12}\s?:\s?\S)|"
    r"\s*[/,;–—-]?\s+(?=(?:key|tempo|capo|bpm|time|meter|tuning|artist|tonart|takt)\s?:\s?\S)",
    re.IGNORECASE,
)


def _uncommented(text: str) -> str:
    """A line without the sign that makes it a comment."""
    sign = COMMENT.match(text)
    return text[sign.end() :] if sign is not None else text


_OUR_REMARK = re.compile(
    r"\((?P<down>guitar tuned down: )?shapes in (?P<shapes>.{1,20}) over sounding chords\)|"
    r"(?:bold|light): .{1,60}(?:shapes|sounds|sounding).*"
)
"""What our own texts and pages say of their lines of chords."""
_AT_THE_MARGIN = re.compile(r"\s*(?P<left>\S+(?: {1,2}\S+){0,15}?)(?: {3,}|\t\s*)(?=\S)")
_TUNING = re.compile(
    r"(?:guitar\s+)?(?:tuning|tuned(?: to)?|stimmung|accordage|afinación|afinação|accordatura|"
    r"stemming)\s*:?\s+(?P<name>[^\d]{3,20}?)[.!]?",
    re.IGNORECASE,
)
_AT_THE_LAST_MARGIN = re.compile(r"\s*(?P<left>\S.*\S)(?: {3,}|\t\s*)(?=\S)")
_MOST_HEADER_LINES = 6
_MOST_WORDS_BESIDE = 6
"""Beside one setting; a line with more words tells something else."""
_LONGEST_KEY = 12
_FEWEST_FACTS = 2
"""On a line with so many facts what else is said tells how the song goes."""


def head_end(known: Sequence[KnownLine]) -> int:
    """The line at which the song begins: the first heading, chords, or block of words."""
    filled = 0
    for i, one in enumerate(known):
        if isinstance(one.kind, SectionStart):
            return i
        if isinstance(one.kind, Chords) and not _is_bare_key(known, i, filled):
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
    return alone and isinstance(below, Blank | SectionStart)


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


_LEADERS = re.compile(r"(\s*[^\W\d_]{3,12})\s?\.{3,}\s*(?=\S)")
"""Dots that lead from a setting's name to its value."""


def _without_leaders(one: KnownLine) -> KnownLine:
    """A setting with a colon for the dots behind its name."""
    match = _LEADERS.match(one.line.text) if "..." in one.line.text else None
    if match is None:
        return one
    text = f"{match[1]}: {one.line.text[match.end() :]}"
    return replace(one, line=replace(one.line, text=text, columns=None))


def _pairs_apart(one: KnownLine) -> list[KnownLine]:
    """A line of several settings by their names as a line for each; any other as it is."""
    pairs = _PAIRS_APART.split(one.line.text) if ":" in one.line.text else []
    labelled = TITLE_LABEL.match(one.line.text) is not None
    labelled = labelled and not ("  " in one.line.text and any(map(names_a_fact, pairs)))
    if labelled or len(pairs) < _FEWEST_FACTS or not all(map(_PAIR.match, pairs)):
        return [one]
    return [KnownLine(replace(one.line, text=pair, columns=None), Words()) for pair in pairs]


def read_head(sheet: Sheet, known: Sequence[KnownLine]) -> None:
    """Takes the lines of the head; what is said to the reader of a mail is left out."""
    plain = map(_without_leaders, map(_unemphasised, known))
    known = [pair for one in plain for pair in _pairs_apart(one)]
    texts = [one.line.text.strip() for one in known]
    titles = [at for at, text in enumerate(texts) if could_be_title(text)]
    if len(titles) > 1 and _is_a_running_head(known[titles[0]].line.text):
        take_note(sheet, known[titles[0]].line)
        read_head(sheet, known[titles[0] + 1 :])
        return
    if over := lines_over_title(texts):
        for one in known[:over]:
            if one.line.text.strip():
                take_note(sheet, one.line)
        read_head(sheet, known[over:])
        return
    chat = sheet.findings.has(CHAT)
    title_at = (titles[-1] if chat else titles[0]) if titles else -1
    for at, (one, text) in enumerate(zip(known, texts, strict=True)):
        letter = at != title_at and (is_greeting(text) or (is_talk(text) and not facts_of(text)))
        if isinstance(one.kind, Chords):
            _take_bare_key(sheet, one)
        elif isinstance(one.kind, ChordsBehind) and _has_key_behind(known, at, at):
            _take_bare_key(
                sheet, replace(one, line=replace(one.line, text=one.kind.tokens[0].text))
            )
            read_head_line(sheet, one.kind.words)
        elif isinstance(one.kind, Roadmap):
            sheet.take_roadmap(one.kind.stops, one.line)
        elif isinstance(one.kind, Remark) and text.startswith("[") and not has_facts(text):
            take_note(sheet, replace(one.line, text=one.kind.text))
        elif text and (
            letter or (at < title_at and (chat or is_said(text)) and not has_facts(text))
        ):
            _take_from_letter(sheet, one.line)
        else:
            read_head_line(sheet, one.line)
    settle_title(sheet)


def _is_a_running_head(text: str) -> bool:
    """Whether a line over the title is of the book or the choir, with the number of its page."""
    if RUNNING_HEAD.fullmatch(text) is not None:
        return True
    right = _AT_THE_LAST_MARGIN.match(text)
    return right is not None and PAGE_AT_THE_MARGIN.fullmatch(text[right.end() :]) is not None


_SAID = {
    "capo": "capo is",
    "key": "key is",
    "meter": "meter is",
    "tempo": "tempo is",
    "shapes": "key of the shapes is",
}
"""How a setting in a letter is named in a finding."""


def _take_from_letter(sheet: Sheet, line: Line) -> None:
    """Leaves out what is said to the reader of a mail, but for the settings in it."""
    text = line.text.strip()
    for fact in facts_in_prose(text):
        if fact.name not in sheet.top:
            take_fact(sheet, fact.name, fact.value, line)
            sheet.findings.guess(
                "head-settings", f'the {_SAID[fact.name]} read out of "{text}"', line.place()
            )
    sheet.findings.leave_out(
        "letter", f'a greeting or note, not part of the song: "{text}"', line.place()
    )


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


def read_head_line(sheet: Sheet, line: Line) -> None:
    """Takes one line of the head."""
    text = setting_text(without_ornaments(line.text))
    if text and not any(take(sheet, text, line) for take in _TAKERS):
        _take_name(sheet, text, line)


def _take_labelled_title(sheet: Sheet, text: str, line: Line) -> bool:
    label = TITLE_LABEL.match(line.text)
    if label is None or "title" in sheet.top:
        return False
    title, _, more = line.text[label.end() :].partition(". ")
    if head_facts(more.rstrip(".")).facts:
        read_head_line(sheet, replace(line, text=more.rstrip("."), columns=None))
    else:
        title = line.text[label.end() :]
    sheet.top["title"] = setting_text(title)
    return True


def _take_our_remark(sheet: Sheet, text: str, line: Line) -> bool:
    ours = _OUR_REMARK.fullmatch(text)
    if ours is None:
        return False
    sheet.over_sounding |= bool(ours["shapes"])
    take_tuned_down(sheet, ours["shapes"] if ours["down"] else "", line)
    return True


def _take_named_settings(sheet: Sheet, text: str, line: Line) -> bool:
    named = named_settings(line.text)
    if not named or named.keys() & sheet.top.keys():
        return False
    sheet.top.update(named)
    return True


def _take_phrases(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes settings among other words, where they are more than the line's whole parts give."""
    bare = without_ornaments(_uncommented(line.text)).strip()
    if "title" not in sheet.top or facts_of(without_parentheses(bare)):
        return False
    phrases, plain = head_phrases(bare), head_facts(bare)
    said = sum(len(part.split()) for part in phrases.rest)
    names = {fact.name for fact in phrases.facts}
    known = {fact.name for fact in (*plain.facts, *facts_and_rest(bare)[0])}
    if not names - known or (said > _MOST_WORDS_BESIDE and len(names) < _FEWEST_FACTS):
        return False
    return take_head_facts(sheet, bare, line, phrases)


_IN_PARENTHESES = re.compile(r"\(([^()]*)\)?")


def _take_facts(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a line of settings alone; what is said more than their values is kept as a note."""
    bare = _uncommented(line.text).strip()
    facts = facts_of(without_parentheses(bare))
    for fact in facts:
        take_fact(sheet, fact.name, fact.value, line)
    behind = _IN_PARENTHESES.findall(bare.lstrip("("))
    settings = all(facts_of(inside) or key_of(inside) is not None for inside in behind)
    if facts and (not settings or any(fact.more for fact in facts)):
        sheet.notes.append(text)
    return bool(facts)


def _take_fact_with_more(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a setting by its name with other words behind it, which are kept as a note."""
    facts, rest = facts_and_rest(line.text) if names_a_fact(line.text) else ((), ())
    if facts and len(head_facts(line.text).facts) > len(facts):
        return take_head_facts(sheet, line.text, line)
    if len(facts) != 1:
        return False
    take_fact(sheet, facts[0].name, facts[0].value, line)
    if not take_head_facts(sheet, ", ".join(rest), line):
        sheet.notes.append(text)
    return True


def _take_margin(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes settings at the right margin of a line, and what stands at its left."""
    before = _before_the_margin(line)
    if before is None:
        return False
    right = line.text[line.text.index(before) + len(before) :]
    for fact in (*facts_and_rest(line.text)[0], *head_facts(right).facts):
        take_fact(sheet, fact.name, fact.value, line)
    if "title" in sheet.top and "feel" not in sheet.top and says_style(before):
        sheet.top["feel"] = setting_text(before)
    elif len(before) <= _LONGEST_KEY and (key := key_of(without_parentheses(before))) is not None:
        take_fact(sheet, "key", key, line)
    else:
        read_head_line(sheet, replace(line, text=before))
    return True


def _take_mixed_line(sheet: Sheet, text: str, line: Line) -> bool:
    bare = _uncommented(line.text)
    mixed, head = facts_and_rest(bare), head_facts(bare)
    if len(head.facts) > len(mixed[0]) > 0 and not head.rest and "title" in sheet.top:
        return take_head_facts(sheet, bare, line)
    behind = IN_BRACKETS_BEHIND.fullmatch(bare) if "title" not in sheet.top else None
    if not _tells_much(mixed[0]) or (behind and head_facts(behind["inside"]).facts):
        return False
    _take_mixed(sheet, *mixed, _uncommented(text), line)
    return True


def _take_line_of_mail(sheet: Sheet, text: str, line: Line) -> bool:
    letter = OF_A_MAIL.match(text)
    if letter is not None:
        _take_of_mail(sheet, letter[1].lower(), text[letter.end() :], line)
    return letter is not None


def _take_shapes_or_note(sheet: Sheet, text: str, line: Line) -> bool:
    if legend_pairs(text):
        take_legend(sheet, line)
        return True
    if (tuning := _tuning_of(text)) and "instrument" not in sheet.top:
        sheet.top["instrument"] = tuning
        sheet.findings.guess("tuning", f'"{text}" is read as the guitar\'s tuning', line.place())
        return True
    if is_for_the_players(text) or says_note(text):
        take_note(sheet, line)
        return True
    return False


def _tuning_of(text: str) -> str:
    """The name of a tuning that a line gives after its label, as the language writes it; empty for
    the standard one and for one of no name."""
    label = _TUNING.fullmatch(text)
    if label is None:
        return ""
    name = " ".join(re.split(r"[\s-]+", label["name"].casefold().replace("tuning", ""))).strip()
    return next((one.name for one in KNOWN[1:] if one.name.casefold() == name), "")


def _take_said(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a sentence in a mail as a note, and leaves out the title said once more."""
    if sheet.subject is not None and is_said(text):
        sheet.notes.append(text)
        return True
    return text.strip(QUOTES) == sheet.top.get("title")


_TAKERS: tuple[Callable[[Sheet, str, Line], bool], ...] = (
    _take_labelled_title,
    _take_our_remark,
    _take_named_settings,
    _take_phrases,
    _take_facts,
    _take_fact_with_more,
    _take_margin,
    _take_mixed_line,
    _take_line_of_mail,
    _take_shapes_or_note,
    _take_said,
)
"""What a line of the head can be, in the order in which it is tried; each tells whether it took
the line."""


def _take_name(sheet: Sheet, text: str, line: Line) -> None:
    """Takes a line that is no fact: the title, then the writer, then how it goes, then notes."""
    raw = without_parentheses(without_ornaments(line.text))
    if "title" in sheet.top and take_head_facts(sheet, raw, line):
        return
    comment = COMMENT.match(line.text) is not None and "title" in sheet.top
    bare = without_parentheses(_uncommented(text).strip())
    by = writer_of(bare)
    labelled = by and ":" in bare[: -len(by)]
    if "writer" not in sheet.top and by and ("title" in sheet.top or labelled):
        take_writer(sheet, by, bare, line)
    elif "title" not in sheet.top and not _REMARKED.match(line.text):
        take_title(sheet, text, line)
    elif "feel" not in sheet.top and not comment and (says_feel(text) or is_direction(text)):
        sheet.top["feel"] = without_parentheses(text)
        sheet.findings.guess("feel", f'"{text}" is taken as how the song goes', line.place())
    elif "writer" not in sheet.top and not comment and could_be_a_name(text):
        take_writer(sheet, without_title(sheet, text), text, line)
    else:
        for fact in facts_in_prose(text) if is_said(text) else ():
            take_fact(sheet, fact.name, fact.value, line)
        sheet.notes.append(without_parentheses(text))


def _before_the_margin(line: Line) -> str | None:
    """What stands at the left of a line with facts by their names at its right margin; None for
    any other line."""
    if "  " not in line.text and "\t" not in line.text:
        return None
    for gap in (_AT_THE_MARGIN, _AT_THE_LAST_MARGIN):
        left = gap.match(line.text)
        if left is None or facts_of(left["left"]):
            return None
        right = line.text[left.end() :]
        named = facts_of(right) and names_a_fact(right)
        head = head_facts(right)
        plain = [fact.name for fact in head.facts] not in ([], ["key"])
        if named or (plain and not head.rest):
            return left["left"]
    return None


def _take_mixed(
    sheet: Sheet, facts: Sequence[Fact], others: Sequence[str], text: str, line: Line
) -> None:
    """Takes a line of facts with more on it: a title before them, how the song goes behind."""
    for fact in facts:
        take_fact(sheet, fact.name, fact.value, line)
    if "title" not in sheet.top and text.startswith(others[0]):
        take_title(sheet, others[0], line)
        others = others[1:]
    bare = bare_facts(others, facts)
    for fact in bare.values():
        take_fact(sheet, fact.name, fact.value, line)
    said = setting_text(", ".join(part for part in others if part not in bare))
    if "(" in text:
        sheet.notes.append(text)
    elif "feel" in sheet.top or len(facts) < _FEWEST_FACTS:
        sheet.notes.append(said)
    elif said:
        sheet.top["feel"] = said


def _tells_much(facts: Sequence[Fact]) -> bool:
    """Whether the facts on a line make it one of facts, whatever else is said there."""
    return len(facts) >= _FEWEST_FACTS or any(fact.name == "capo" for fact in facts)


def _take_of_mail(sheet: Sheet, name: str, text: str, line: Line) -> None:
    """A line of a mail's own head: its subject may name the song, the rest is a note."""
    if name in ("subject", "betreff") and text.strip() and sheet.subject is None:
        sheet.subject = replace(line, text=text)
    else:
        sheet.notes.append(setting_text(line.text))
