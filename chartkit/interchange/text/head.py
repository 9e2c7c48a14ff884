"""The head of a sheet: title, writer, facts and notes, up to where the song begins."""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from chartkit.chart.model import GivenShape, Meter, SettingRow, SettingValue
from chartkit.interchange.text.chart_builder import Sheet
from chartkit.interchange.text.directions import is_direction, is_greeting, is_talk
from chartkit.interchange.text.facts import (
    TITLE_LABEL,
    Fact,
    FactName,
    facts_and_rest,
    facts_in_prose,
    facts_of,
    head_facts,
    meter_of,
    named_settings,
    names_a_fact,
    without_parentheses,
)
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
from chartkit.interchange.text.stamps import CHAT
from chartkit.interchange.text.titles import (
    DASH,
    IN_BRACKETS_BEHIND,
    NUMBER_BEFORE,
    OF_A_MAIL,
    QUOTES,
    could_be_a_name,
    could_be_title,
    has_facts,
    is_said,
    says_feel,
    title_of,
    without_ornaments,
    writer_of,
)
from chartkit.interchange.wording import setting_text
from chartkit.theory.capo import MOST_TUNED_DOWN, Capo
from chartkit.theory.key import Key, parse_key
from chartkit.theory.note import pitch_class_of
from chartkit.theory.shape_text import parse_shape

COMMENT = re.compile(r"\s*(?:#+|//+|;+)\s*")
"""How a line that is a comment begins."""
_REMARKED = re.compile(r"\s*(?://|;)")
"""How a comment begins that is no title, as one behind "#" may be."""
_PAIR = re.compile(r"\s*[^\W\d_]{3,12}\s?:")
_PAIRS_APART = re.compile(
    r"(?:\s{2,}|\s+[|•·]\s+)(?=[^\W\d_]{3,12}\s?:\s?\S)|"
    r"\s*[/,;]?\s+(?=(?:key|tempo|capo|bpm|time|meter|tuning|artist|tonart|takt)\s?:\s?\S)",
    re.IGNORECASE,
)


STRINGS = 6


def _uncommented(text: str) -> str:
    """A line without the sign that makes it a comment."""
    sign = COMMENT.match(text)
    return text[sign.end() :] if sign is not None else text


def take_note(sheet: Sheet, line: Line) -> None:
    """Keeps a line as a note on the song."""
    text = setting_text(without_parentheses(line.text.strip()))
    sheet.notes.append(text)
    sheet.findings.guess("kept-as-note", f'"{text}" is kept as a note', line.place())


def take_legend(sheet: Sheet, line: Line) -> None:
    """Takes chords with their frets as shapes of the song's own; a line with what is no shape
    of a known chord, or with a second shape of one, is kept as a note."""
    shapes = [_shape(sheet, *pair) for pair in legend_pairs(line.text)]
    chords = [shape.chord for shape in (*sheet.shapes, *shapes) if shape is not None]
    if None in shapes or len(set(chords)) < len(chords):
        take_note(sheet, line)
        return
    sheet.shapes += [shape for shape in shapes if shape is not None]
    sheet.findings.guess(
        "shapes",
        "chords with frets behind them are taken as shapes of the song's own, counted "
        "from the capo",
        line.place(),
    )


def _shape(sheet: Sheet, symbol: str, frets: str) -> GivenShape | None:
    chord = sheet.tokens.symbol(symbol)
    try:
        result = parse_shape(frets.replace(" ", "-"))
    except ValueError:
        return None
    return GivenShape(chord, result) if chord is not None and len(result) == STRINGS else None


_OUR_REMARK = re.compile(
    r"\((?P<down>guitar tuned down: )?shapes in (?P<shapes>.{1,20}) over sounding chords\)|"
    r"(?:bold|light): .{1,60}(?:shapes|sounds|sounding).*"
)
"""What our own texts and pages say of their lines of chords."""
_REPLY = re.compile(r"(?:\s*(?:re|fw|fwd|aw|wg)\s*:)+\s*", re.IGNORECASE)
_VERSION = re.compile(
    r"(?P<title>.*\S)\s+[-–—]\s+(?P<said>[^-–—]*\b(?:version|demo|live|arrangement|arr\.|draft|fassung)\b.*)",
    re.IGNORECASE,
)
_A_PERSON = re.compile(
    r"(?!.*\b(?:[Vv]ersion|[Dd]emo|[Ll]ive|[Rr]eprise|[Tt]ake|[Pp]art|[Ss]ong|[Mm]ix|[Kk]ey|The)\b)"
    r"[^\W\d_a-z][^\W\d_]+(?:\s[^\W\d_a-z][^\W\d_’'-]+){1,2}"
)
_KEY_BEHIND = re.compile(r"(?P<title>.*\S)\s+in\s+(?P<key>[A-G][#b♯♭]?(?:m| minor| major)?)")
_QUOTED_TITLE = re.compile(r"[\"“„«]([^\"”“„«»]{2,60})[\"”“»]")
_PRESENTS = re.compile(
    r"\b(?:this is|here(?:'s| is)|it(?:'|’)?s|called|new one|das ist|voici|esta es|questa è|"
    r"dit is)\b",
    re.IGNORECASE,
)
_FAR_APART = re.compile(r"\s{2,}|\t|\s+[/|]\s+")
_BARE_KEY_BEHIND = re.compile(
    r"(?P<title>.*\S)(?:\s*\(|\s{2,}|\s*,\s*|\s+[-–—]\s+)"
    r"(?P<key>[A-G][#b♯♭]?(?:m| minor| major)?)\)?"
)
_METER_BEHIND = re.compile(
    r"(?P<title>.*[^\s,])(?:\s*[,(]\s*|\s+[-–—]\s+|\s+)(?P<meter>\d{1,2}/\d{1,2})\)?"
)
_AT_THE_MARGIN = re.compile(r"\s*(?P<left>\S+(?: {1,2}\S+){0,15}?)(?: {3,}|\t\s*)(?=\S)")
_MOST_HEADER_LINES = 6
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
    return alone and above_heading and filled > 0 and key_of(known[at].line.text) is not None


def _has_key_behind(known: Sequence[KnownLine], at: int, filled: int) -> bool:
    """Whether the one chord behind words is the key at the margin of a head's last line, or in
    parentheses behind a title."""
    kind = known[at].kind
    below = known[at + 1].kind if at + 1 < len(known) else None
    alone = isinstance(kind, ChordsBehind) and len(kind.tokens) == 1
    apart = filled > 0 or known[at].line.text.rstrip().endswith(")")
    return alone and apart and isinstance(below, Blank | SectionStart)


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


def _pairs_apart(one: KnownLine) -> list[KnownLine]:
    """A line of several settings by their names as a line for each; any other as it is."""
    pairs = _PAIRS_APART.split(one.line.text) if ":" in one.line.text else []
    labelled = TITLE_LABEL.match(one.line.text) is not None
    if labelled or len(pairs) < _FEWEST_FACTS or not all(map(_PAIR.match, pairs)):
        return [one]
    return [KnownLine(replace(one.line, text=pair, columns=None), Words()) for pair in pairs]


def read_head(sheet: Sheet, known: Sequence[KnownLine]) -> None:
    """Takes the lines of the head; what is said to the reader of a mail is left out."""
    known = [pair for one in map(_unemphasised, known) for pair in _pairs_apart(one)]
    texts = [one.line.text.strip() for one in known]
    titles = [at for at, text in enumerate(texts) if could_be_title(text)]
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


def _take_from_letter(sheet: Sheet, line: Line) -> None:
    """Leaves out what is said to the reader of a mail, but for the settings in it."""
    text = line.text.strip()
    for fact in facts_in_prose(text):
        if fact.name not in sheet.top:
            take_fact(sheet, fact.name, fact.value, line)
            sheet.findings.guess(
                "head-settings", f'the {fact.name} is read out of "{text}"', line.place()
            )
    sheet.findings.leave_out(
        "letter", f'a greeting or note, not part of the song: "{text}"', line.place()
    )


def _take_bare_key(sheet: Sheet, one: KnownLine) -> None:
    """Takes a chord alone in the head as the key."""
    key = key_of(one.line.text)
    if key is not None:
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
    _take_tuned_down(sheet, ours["shapes"] if ours["down"] else "", line)
    return True


def _take_named_settings(sheet: Sheet, text: str, line: Line) -> bool:
    named = named_settings(line.text)
    if not named or named.keys() & sheet.top.keys():
        return False
    sheet.top.update(named)
    return True


def _take_facts(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a line of settings alone; what is said more than their values is kept as a note."""
    bare = _uncommented(line.text).strip()
    facts = facts_of(without_parentheses(bare))
    for fact in facts:
        take_fact(sheet, fact.name, fact.value, line)
    if facts and ("(" in bare.lstrip("(") or any(fact.more for fact in facts)):
        sheet.notes.append(text)
    return bool(facts)


def _take_fact_with_more(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a setting by its name with other words behind it, which are kept as a note."""
    facts = facts_and_rest(line.text)[0] if names_a_fact(line.text) else ()
    if len(facts) != 1:
        return False
    take_fact(sheet, facts[0].name, facts[0].value, line)
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
    read_head_line(sheet, replace(line, text=before))
    return True


def _take_mixed_line(sheet: Sheet, text: str, line: Line) -> bool:
    bare = _uncommented(line.text)
    mixed, head = facts_and_rest(bare), head_facts(bare)
    if len(head.facts) > len(mixed[0]) > 0 and not head.rest and "title" in sheet.top:
        return _take_head_facts(sheet, bare, line)
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
    if is_for_the_players(text) or says_note(text):
        take_note(sheet, line)
        return True
    return False


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
    if "title" in sheet.top and _take_head_facts(sheet, raw, line):
        return
    comment = COMMENT.match(line.text) is not None and "title" in sheet.top
    bare = without_parentheses(_uncommented(text).strip())
    by = writer_of(bare)
    labelled = by and ":" in bare[: -len(by)]
    if "writer" not in sheet.top and by and ("title" in sheet.top or labelled):
        _take_writer(sheet, by, bare, line)
    elif "title" not in sheet.top and not _REMARKED.match(line.text):
        _take_title(sheet, text, line)
    elif "feel" not in sheet.top and not comment and (says_feel(text) or is_direction(text)):
        sheet.top["feel"] = without_parentheses(text)
        sheet.findings.guess("feel", f'"{text}" is taken as how the song goes', line.place())
    elif "writer" not in sheet.top and not comment and could_be_a_name(text):
        _take_writer(sheet, _without_title(sheet, text), text, line)
    else:
        sheet.notes.append(without_parentheses(text))


def _take_writer(sheet: Sheet, name: str, text: str, line: Line) -> None:
    sheet.top["writer"] = name
    said = "" if name == text else f', from the line "{text}"'
    sheet.findings.guess("writer", f'the writer is "{name}"{said}', line.place())


def _before_the_margin(line: Line) -> str | None:
    """What stands at the left of a line with facts by their names at its right margin; None for
    any other line."""
    left = _AT_THE_MARGIN.match(line.text) if "  " in line.text or "\t" in line.text else None
    right = line.text[left.end() :] if left is not None else ""
    if left is None or facts_of(left["left"]):
        return None
    named = facts_of(right) and names_a_fact(right)
    head = head_facts(right)
    plain = [fact.name for fact in head.facts] not in ([], ["key"])
    return left["left"] if named or (plain and not head.rest) else None


def _take_tuned_down(sheet: Sheet, shapes: str, line: Line) -> None:
    """How far the guitar is tuned down, by the keys of its shapes and of what sounds, where
    nothing says it otherwise."""
    key = sheet.top.get("key")
    try:
        steps = pitch_class_of(parse_key(shapes).tonic) if shapes else 0
    except ValueError:
        return
    if shapes and isinstance(key, Key):
        lower = (steps - pitch_class_of(key.tonic)) % 12
        if 0 < lower <= MOST_TUNED_DOWN:
            take_fact(sheet, "capo", -lower, line)


def _take_mixed(
    sheet: Sheet, facts: Sequence[Fact], others: Sequence[str], text: str, line: Line
) -> None:
    """Takes a line of facts with more on it: a title before them, how the song goes behind."""
    for fact in facts:
        take_fact(sheet, fact.name, fact.value, line)
    if "title" not in sheet.top and text.startswith(others[0]):
        _take_title(sheet, others[0], line)
        others = others[1:]
    said = setting_text(", ".join(others))
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


def settle_title(sheet: Sheet) -> None:
    """Takes the subject of a mail as the title where the text in it has none; else it is left
    out."""
    subject = sheet.subject
    text = _REPLY.sub("", subject.text).strip() if subject is not None else ""
    if subject is None or not text or text.strip(QUOTES) == sheet.top.get("title"):
        return
    if "title" not in sheet.top:
        _take_title(sheet, text, subject)
    else:
        sheet.findings.leave_out(
            "mail-subject", f'the subject of the mail: "{text}"', subject.place()
        )


def _key_behind(sheet: Sheet, title: str) -> str:
    """The title without "in G" behind it, where the song's first chord has that root."""
    if (metered := _METER_BEHIND.fullmatch(title)) is not None:
        meter = meter_of(metered["meter"])
        if meter is not None:
            sheet.top.setdefault("meter", meter)
            sheet.bars.meter = meter
            title = metered["title"]
    match = _KEY_BEHIND.fullmatch(title) or _BARE_KEY_BEHIND.fullmatch(title)
    key = key_of(match["key"]) if match is not None else None
    if match is None or key is None or sheet.first_root != pitch_class_of(key.tonic):
        return title
    sheet.top.setdefault("key", key)
    return match["title"]


def _take_around_quotes(sheet: Sheet, text: str, line: Line) -> str:
    """The title in quotes at one end of a line, or in what is said to the band; what stands
    around it is kept as a note, and its settings are taken."""
    quoted = _QUOTED_TITLE.search(text)
    around = f"{text[: quoted.start()]} {text[quoted.end() :]}".strip() if quoted else ""
    if quoted is None or not any(map(str.isalpha, around)) or DASH.match(f" {around}"):
        return text
    if quoted.start() and quoted.end() < len(text) and not _PRESENTS.search(around):
        return text
    if by := writer_of(around):
        sheet.top.setdefault("writer", by)
        return quoted[1]
    if _A_PERSON.fullmatch(around.strip(" -–—()")):
        return text
    if not _take_head_facts(sheet, around.strip(" -–—,.!"), line):
        for fact in facts_in_prose(around):
            take_fact(sheet, fact.name, fact.value, line)
        sheet.notes.append(setting_text(around))
    return quoted[1]


def _take_tail(sheet: Sheet, text: str, line: Line) -> str:
    """Takes the settings far behind a title ("LATE FERRY    med. swing  q=144"); what stands
    before them."""
    raw = without_ornaments(line.text)
    parts = [part for part in _FAR_APART.split(raw) if part.strip()]
    tail = ", ".join(parts[1:])
    if not tail or parts[0].count("(") != parts[0].count(")"):
        return text
    if setting_text(raw) != text or not _take_head_facts(sheet, tail, line):
        return text
    return setting_text(parts[0])


def _take_title(sheet: Sheet, text: str, line: Line) -> None:
    """Takes a line as the title: without a number before it, and without the settings and the
    writer behind it."""
    text = _take_around_quotes(sheet, _take_tail(sheet, text, line), line)
    bare = NUMBER_BEFORE.sub("", text)
    while (behind := IN_BRACKETS_BEHIND.fullmatch(bare)) is not None:
        if says_feel(behind["inside"]) or is_direction(behind["inside"]):
            sheet.notes.append(setting_text(behind["inside"]))
        elif not _take_head_facts(sheet, behind["inside"], line):
            break
        bare = behind["title"]
    if (said := _VERSION.fullmatch(bare)) is not None:
        sheet.notes.append(setting_text(said["said"]))
        bare = said["title"]
    by = IN_BRACKETS_BEHIND.fullmatch(bare)
    if by is not None and _A_PERSON.fullmatch(by["inside"]) and "writer" not in sheet.top:
        _take_writer(sheet, by["inside"], text, line)
        bare = by["title"]
    parts = DASH.split(bare, maxsplit=1)
    title = _key_behind(sheet, title_of(parts[0]).strip(QUOTES) or bare)
    sheet.top["title"] = title
    behind_dash = parts[1] if len(parts) > 1 else ""
    if behind_dash and not _take_head_facts(sheet, behind_dash, line) and "writer" not in sheet.top:
        _take_writer(sheet, writer_of(behind_dash) or behind_dash, behind_dash, line)
    of = "" if title == text else f', of "{text}"'
    sheet.findings.guess("title", f'the title is "{title}"{of}', line.place())


def _take_head_facts(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes words of a head that give settings; whether they do."""
    head = head_facts(text)
    if not head.facts:
        return False
    for fact in head.facts:
        take_fact(sheet, fact.name, fact.value, line)
    manner = [*head.manner, *filter(says_feel, head.rest)]
    if manner and "feel" not in sheet.top:
        sheet.top["feel"] = setting_text(", ".join(manner))
    others = [part for part in head.rest if not says_feel(part)]
    if others:
        sheet.notes.append(setting_text(", ".join(others)))
    sheet.findings.guess("head-settings", f'"{text}" is read as settings', line.place())
    return True


def _without_title(sheet: Sheet, text: str) -> str:
    """What stands behind the song's title where a line says it once more; else the line."""
    parts = DASH.split(text, maxsplit=1)
    again = len(parts) > 1 and parts[0].strip(QUOTES) == sheet.top.get("title")
    return parts[1] if again and parts[1] else text


def take_fact(sheet: Sheet, name: FactName, value: SettingValue, line: Line) -> None:
    """Takes a setting of the whole song; the first of a name holds."""
    if name == "shapes":
        sheet.shapes_key = value if isinstance(value, Key) else None
        return
    raised = value.raised if isinstance(value, Capo) else value
    if name == "capo" and isinstance(raised, int) and sheet.capo is None:
        sheet.capo = raised
    if name in sheet.top or (name == "capo" and not value):
        return
    sheet.top[name] = value
    if isinstance(value, Meter):
        sheet.bars.meter = value
    if name == "capo":
        sheet.top["chords"] = "shapes"
        sheet.findings.guess(
            "chords-are-shapes",
            f"with capo {raised} in the heading the chords are taken as shapes",
            line.place(),
        )


def take_late_fact(sheet: Sheet, name: FactName, value: SettingValue, line: Line) -> None:
    """Takes a setting after the song has begun: a change from here on.

    Before the first chords it is the song's own where the heading gives none.
    """
    begun = sheet.chord_rows or sheet.bars.bars_before
    if name == "capo" or name == "shapes":
        if begun and name == "capo" and isinstance(value, int) and value >= 0:
            _move_capo(sheet, value, line)
        elif begun:
            take_note(sheet, line)
        else:
            take_fact(sheet, name, value, line)
    elif not begun and sheet.top.get(name, value) == value:
        take_fact(sheet, name, value, line)
    else:
        sheet.add(SettingRow(name, value))
        if isinstance(value, Meter):
            sheet.bars.meter = value


def _move_capo(sheet: Sheet, fret: int, line: Line) -> None:
    """Moves the capo from here on.  Where none was named before, the chords are taken as shapes."""
    if "capo" not in sheet.top:
        sheet.top["capo"] = 0
        if not sheet.over_sounding:
            sheet.top["chords"] = "shapes"
            sheet.findings.guess(
                "chords-are-shapes",
                f"with capo {fret} in the song the chords are taken as shapes",
                line.place(),
            )
    sheet.capo = fret
    sheet.add(SettingRow("capo", fret))
