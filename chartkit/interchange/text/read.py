"""A text with chords above its words to a chart.

Every line is classified once (``line_kinds.py``) and then read for what it is.  Where no bar
lines were typed none are invented: such rows are in free time.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, CueRow, Meter, MusicRow, Section
from chartkit.diagnostics import Span
from chartkit.interchange.taken import Findings, Refused, SymbolReader, Taken
from chartkit.interchange.text.bars import BarReader
from chartkit.interchange.text.beats import counts_three
from chartkit.interchange.text.capo import doubled_capo, settle_key
from chartkit.interchange.text.chart_builder import NO_CHORDS, Sheet
from chartkit.interchange.text.chord_rows import (
    read_chords,
    read_chords_behind,
    read_chords_within,
)
from chartkit.interchange.text.classify import classify
from chartkit.interchange.text.columns import one_after_another
from chartkit.interchange.text.cursor import Cursor
from chartkit.interchange.text.decode import decoded_lines
from chartkit.interchange.text.endings import with_numbered_endings
from chartkit.interchange.text.facts import facts_of, rest_of, without_parentheses
from chartkit.interchange.text.further_verses import other_section, play_again, read_words_alone
from chartkit.interchange.text.head import (
    head_end,
    read_head,
    take_late_fact,
    take_legend,
    take_note,
)
from chartkit.interchange.text.inline_chords import chords_in_cues, squared_chords
from chartkit.interchange.text.layouts import unfolded
from chartkit.interchange.text.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Letter,
    LineKind,
    Marks,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Settings,
    Shapes,
    Silence,
    Tablature,
    Words,
)
from chartkit.interchange.text.lines import Line, line_of
from chartkit.interchange.text.mail import unquoted, without_letter
from chartkit.interchange.text.normalize import with_named_letters, with_usual_signs
from chartkit.interchange.text.note_names import naming_of
from chartkit.interchange.text.reference_lines import remark_beside
from chartkit.interchange.text.stamps import without_stamps
from chartkit.interchange.text.tokens import WORDS_TOO, Tokens, roots_of
from chartkit.interchange.wording import counted, cue_text, one_line, section_name

_LONGEST_NUMBERS = 120


def read_sheet(
    text: str,
    read_symbol: SymbolReader,
    findings: Findings,
    format_name: str = "text",
    subject: str = "",
) -> Taken:
    """The chart of a text; the ``subject`` of a mail is a title to it.  Raises Refused where it
    holds no music."""
    bare = unquoted(without_stamps(decoded_lines(text, findings), findings), findings)
    raw = without_letter(bare, findings, of_a_mail=format_name == "mail")
    lines = one_after_another([line_of(number, line) for number, line in raw], findings)
    above = Line(0, subject, where="the mail's subject") if subject else None
    result = read_lines(lines, read_symbol, findings, format_name, above)
    sources = dict(enumerate(text.split("\n"), 1))
    return replace(result, findings=findings.with_sources(sources))


def read_lines(
    lines: list[Line],
    read_symbol: SymbolReader,
    findings: Findings,
    format_name: str,
    subject: Line | None = None,
) -> Taken:
    """The chart of lines that know their columns.  Raises Refused as ``read_sheet`` does."""
    findings.numbers = {line.where: line.number for line in lines if line.where}
    sources = {line.number: line.text for line in lines if line.where}
    naming = naming_of([line.text for line in lines])
    if naming.kind != "letters":
        how = {"german": "H is B natural and B is B flat", "syllables": "do is C"}[naming.kind]
        findings.guess("note-names", f"the notes are named so that {how}")
    if naming.small:
        how = {"minor": "a is A minor", "capitals": "am is Am"}[naming.small]
        findings.guess("small-letters", f"chords typed in small letters are read so that {how}")
    sheet = Sheet(findings, Tokens(read_symbol, naming), BarReader(findings), subject=subject)
    lines = with_numbered_endings(unfolded(lines, sheet.tokens.is_chords, findings))
    lines, lettered = with_named_letters(lines, sheet.tokens, findings)
    known = classify(with_usual_signs(lines, sheet.tokens, lettered), sheet.tokens)
    _report_chords_among_words(sheet, known)
    _report_loose_chords(sheet, known)
    _read(Cursor(sheet, known))
    settle_key(sheet)
    chart = sheet.chart()
    if not sheet.has_music:
        raise Refused(_nothing_to_read(findings, [line.text for line in lines]))
    findings.sure(
        "read",
        f"{counted(sheet.chord_rows, 'row')} of chords, "
        f"{counted(sheet.words_lines, 'line')} of words",
    )
    return Taken(chart, findings.with_sources(sources), format_name)


_NUMBERS = re.compile(
    r"(?:[^\W\d_]+\s*:)?[\s|]*[b#♭♯]?[1-7]m?7?(?:[\s|–-]+[b#♭♯]?[1-7]m?7?){2,}[\s|]*"
)
"""A row of degrees of the scale, as players in studios write them."""


def _nothing_to_read(findings: Findings, texts: Sequence[str]) -> str:
    """Why a text makes no chart."""
    reason = "the text holds no chords that can be read, so there is no music in it"
    if any(_NUMBERS.fullmatch(text.strip()) for text in texts if len(text) < _LONGEST_NUMBERS):
        return f"{reason}; numbers instead of chord names are not read: type the chords themselves"
    squared = next((one for one in findings.found if one.code == "chords-in-brackets"), None)
    return reason if squared is None else f"{reason}; {squared.message}"


def _read(cursor: Cursor) -> None:
    """Reads all lines, one after another."""
    sheet = cursor.sheet
    roots = (
        root
        for one in cursor.known
        if isinstance(one.kind, Chords)
        for root in roots_of(one.kind.tokens)
        if root is not None
    )
    sheet.first_root = next(roots, None)
    sheet.given_to_all = _are_given_first(cursor.known)
    cursor.at = head_end(cursor.known)
    read_head(sheet, cursor.known[: cursor.at])
    _find_capo(cursor)
    _find_meter(cursor)
    while cursor.at < len(cursor.known):
        one = cursor.known[cursor.at]
        sheet.line_number = one.line.number
        _READERS[type(one.kind)](cursor, one)
    _open(sheet, Section(""))


def _are_given_first(known: Sequence[KnownLine]) -> bool:
    """Whether all bars of a sheet stand above its first heading and words under the others."""
    kinds = [one.kind for one in known]
    music = [at for at, kind in enumerate(kinds) if isinstance(kind, Chords)]
    within = any(isinstance(kind, ChordsWithin | ChordsBehind) for kind in kinds)
    starts = [at for at, kind in enumerate(kinds) if isinstance(kind, SectionStart)]
    if not music or not starts or music[-1] > starts[0] or within:
        return False
    return any(isinstance(kind, Words) for kind in kinds[starts[0] :])


def _find_capo(cursor: Cursor) -> None:
    """Takes the capo from rows of shapes over what sounds where no heading names one."""
    sheet = cursor.sheet
    capo = 0 if "capo" in sheet.top else doubled_capo(cursor.known)
    if capo:
        sheet.top["capo"] = capo
        sheet.findings.guess(
            "shapes-over-sounding",
            f"each row of chords stands twice, {capo} half steps "
            f"apart: they are read as shapes at capo {capo} over what sounds",
        )


def _find_meter(cursor: Cursor) -> None:
    """Takes the meter from bars of three places each where nothing in the sheet gives one."""
    sheet = cursor.sheet
    rows = [one.kind.tokens for one in cursor.known if isinstance(one.kind, Chords)]
    if "meter" in sheet.top or not counts_three(rows):
        return
    facts = (fact for one in cursor.known for fact in facts_of(without_parentheses(one.line.text)))
    if any(fact.name == "meter" for fact in facts):
        return
    sheet.top["meter"] = sheet.bars.meter = Meter(3, 4)
    sheet.findings.guess("meter", "no meter is given, and all bars have three places: read in 3/4")


# ---- chords that stay where they are
def _report_chords_among_words(sheet: Sheet, known: Sequence[KnownLine]) -> None:
    """Reports chords that stay among the words or in remarks, once of each kind."""
    squared = [
        (one.line, names)
        for one in known
        if not isinstance(one.kind, Chords | SectionStart)
        and (names := squared_chords(one.line.text, sheet.tokens))
    ]
    if squared:
        text, count = _named(squared)
        sheet.findings.guess(
            "chords-in-brackets",
            f"{counted(count, 'chord')} in square brackets among words are "
            f"kept as words: set them above the words, or in ( ): {text}",
            squared[0][0].place(),
        )
    cues = [
        (one.line, names)
        for one in known
        if isinstance(one.kind, Chords) and (names := chords_in_cues(one.kind.tokens, sheet.tokens))
    ]
    if cues:
        text, count = _named(cues)
        sheet.findings.guess(
            "chords-in-remarks",
            f"{counted(count, 'chord')} named in remarks among chords stay in them: {text}",
            cues[0][0].place(),
        )


def _named(result: list[tuple[Line, list[str]]]) -> tuple[str, int]:
    """The names of chords, each once, and how many they are."""
    every = [name for _, names in result for name in names]
    return ", ".join(dict.fromkeys(every)), len(every)


def _report_loose_chords(sheet: Sheet, known: Sequence[KnownLine]) -> None:
    """Reports what looks like chords typed in front of their words on one line."""
    loose = [
        (one.line, names)
        for one in known
        if isinstance(one.kind, Words)
        and _LOOSE.search(one.line.text) is not None
        and len(names := _loose_chords(one.line.text, sheet.tokens)) > 1
    ]
    if loose:
        text, count = _named(loose)
        sheet.findings.guess(
            "chords-among-words",
            f"{counted(count, 'word')} among the words may be chords ({text}): they are kept as "
            "words; type chords above their words, or in ( )",
            loose[0][0].place(),
        )


_LOOSE = re.compile(
    r"(?<!\S)[A-G](?:[#b♯♭]|m|maj|sus|\d)*\s(?:.*\s)?[A-G](?:[#b♯♭]|m|maj|sus|\d)*(?!\S)"
)


def _loose_chords(text: str, tokens: Tokens) -> list[str]:
    names = [word.strip(",.;") for word in text.split()]
    sure = any(name not in WORDS_TOO and tokens.symbol(name) for name in names)
    return [name for name in names if sure and name[:1].isupper() and tokens.symbol(name)]


# ---- one reader for each kind of line
def _pass(cursor: Cursor, one: KnownLine) -> None:
    cursor.at += 1


def _section(cursor: Cursor, one: KnownLine) -> None:
    """Opens a section, which may be an earlier one played again."""
    sheet, start = cursor.sheet, one.kind
    assert isinstance(start, SectionStart)
    cursor.at += 1
    number = one.line.number
    _open(sheet, Section(section_name(start.name), times=start.times, span=Span(number, number)))
    sheet.chords_on_heading = start.with_chords
    sheet.like = start.like
    for remark in start.remarks:
        sheet.add_remark(cue_text(remark))
        sheet.like = sheet.like or other_section(remark)
    if start.guessed:
        sheet.findings.guess(
            "form",
            f'"{one_line(one.line.text)}" is taken as part of the running order',
            one.line.place(),
        )


def _open(sheet: Sheet, section: Section) -> None:
    """Ends the open section, which may be an earlier one played again, and opens another."""
    if not sheet.begun:
        play_again(sheet)
    sheet.open(section)


def _chords(cursor: Cursor, one: KnownLine) -> None:
    assert isinstance(one.kind, Chords)
    read_chords(cursor, one.line, one.kind)


def _chords_within(cursor: Cursor, one: KnownLine) -> None:
    assert isinstance(one.kind, ChordsWithin)
    read_chords_within(cursor, one.kind.words, list(one.kind.tokens))


def _chords_behind(cursor: Cursor, one: KnownLine) -> None:
    assert isinstance(one.kind, ChordsBehind)
    read_chords_behind(cursor, one.kind.words, list(one.kind.tokens))


def _words(cursor: Cursor, one: KnownLine) -> None:
    if any(map(str.isalnum, one.line.text)):
        read_words_alone(cursor, one.line)
    else:
        cursor.at += 1


def _silence(cursor: Cursor, one: KnownLine) -> None:
    """Bars of rest."""
    sheet, text = cursor.sheet, one.line.text.strip()
    length = sheet.bars.meter.beats * TICKS_PER_BEAT
    bars = rest_of(text)
    sheet.add_music(MusicRow((Bar((), length * bars, rest=bars),), (BarLine(), BarLine())))
    sheet.bars.first_in_section = False
    sheet.bars.silence = "rest"
    sheet.bars.bars_before += bars
    cursor.at += 1
    sheet.findings.guess(
        "rest", f'"{text}" is written as {counted(bars, "bar")} of rest', one.line.place()
    )


def _tablature(cursor: Cursor, one: KnownLine) -> None:
    """Lines of tablature one under the other, which are left out."""
    at = cursor.at
    while cursor.at < len(cursor.known) and isinstance(cursor.known[cursor.at].kind, Tablature):
        cursor.at += 1
    remarks = filter(None, (remark_beside(o.line.text) for o in cursor.known[at : cursor.at]))
    beside = "".join(f', beside them "{remark}"' for remark in remarks)
    cursor.sheet.findings.leave_out(
        "tablature", f"{counted(cursor.at - at, 'line')} of tablature{beside}", one.line.place()
    )


def _settings(cursor: Cursor, one: KnownLine) -> None:
    assert isinstance(one.kind, Settings)
    cursor.at += 1
    for fact in one.kind.facts:
        take_late_fact(cursor.sheet, fact.name, fact.value, one.line)


def _remark(cursor: Cursor, one: KnownLine) -> None:
    """A word to the players, or how often the section is played that it closes."""
    assert isinstance(one.kind, Remark)
    cursor.at += 1
    if cursor.sheet.play_section(one.kind.text, _ends_section(cursor)):
        return
    if cursor.sheet.opened.name and not cursor.sheet.begun and one.kind.text != NO_CHORDS:
        cursor.sheet.add_remark(cue_text(one.kind.text))
    else:
        cursor.sheet.add(CueRow(cue_text(one.kind.text)))
    cursor.sheet.findings.guess(
        "remark",
        "a line to the players without chords above is written as a cue",
        one.line.place(),
    )


def _ends_section(cursor: Cursor) -> bool:
    """Whether the open section ends before the next line."""
    rest = cursor.known[cursor.at : cursor.at + 3]
    following = next((one.kind for one in rest if not isinstance(one.kind, Blank)), None)
    return following is None or isinstance(following, SectionStart)


def _marks(cursor: Cursor, one: KnownLine) -> None:
    assert isinstance(one.kind, Marks)
    cursor.at += 1
    cursor.sheet.mark_last(one.kind.marks, one.line.text)


def _shapes(cursor: Cursor, one: KnownLine) -> None:
    cursor.at += 1
    take_legend(cursor.sheet, one.line)


def _note(cursor: Cursor, one: KnownLine) -> None:
    cursor.at += 1
    take_note(cursor.sheet, one.line)


def _roadmap(cursor: Cursor, one: KnownLine) -> None:
    assert isinstance(one.kind, Roadmap)
    cursor.at += 1
    cursor.sheet.take_roadmap(one.kind.stops, one.line)


def _letter(cursor: Cursor, one: KnownLine) -> None:
    cursor.at += 1
    cursor.sheet.findings.leave_out(
        "letter",
        f'a greeting or note, not part of the song: "{one_line(one.line.text)}"',
        one.line.place(),
    )


_READERS: dict[type[LineKind], Callable[[Cursor, KnownLine], None]] = {
    Blank: _pass,
    SectionStart: _section,
    Chords: _chords,
    ChordsWithin: _chords_within,
    ChordsBehind: _chords_behind,
    Words: _words,
    Silence: _silence,
    Tablature: _tablature,
    Settings: _settings,
    Remark: _remark,
    Marks: _marks,
    Shapes: _shapes,
    Note: _note,
    Roadmap: _roadmap,
    Letter: _letter,
}
