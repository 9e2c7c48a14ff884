"""A text with chords above its words to a chart.

Lines are told apart by their content: rows of chords, headings, facts, words.  Where no bar
lines were typed none are invented: such rows are in free time.
"""

from dataclasses import replace

from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, CueRow, Meter, MusicRow, Section
from chartkit.interchange.sheet.again import other_section, play_again
from chartkit.interchange.sheet.asides import marks_of
from chartkit.interchange.sheet.bars import BarReader
from chartkit.interchange.sheet.capo_key import settle_key
from chartkit.interchange.sheet.chord_rows import (
    read_chords,
    read_chords_behind,
    read_chords_within,
)
from chartkit.interchange.sheet.chords_told import tell_chords_among_words
from chartkit.interchange.sheet.counts import is_counted_rest, rest_of, says_again
from chartkit.interchange.sheet.cursor import Cursor
from chartkit.interchange.sheet.doubled import doubled_capo
from chartkit.interchange.sheet.facts import facts_of, names_a_fact
from chartkit.interchange.sheet.head import (
    head_end,
    read_head_line,
    settle_title,
    take_late_fact,
    without_parentheses,
)
from chartkit.interchange.sheet.headings import Heading, heading_of
from chartkit.interchange.sheet.leftovers import decoded_lines
from chartkit.interchange.sheet.legend import take_legend, take_note
from chartkit.interchange.sheet.letter import without_letter
from chartkit.interchange.sheet.lines import Line, line_of
from chartkit.interchange.sheet.mail import closed_up, unquoted
from chartkit.interchange.sheet.names import naming_of
from chartkit.interchange.sheet.pick_up import counts_three
from chartkit.interchange.sheet.rehearsal import with_letters_told
from chartkit.interchange.sheet.side_by_side import one_after_another
from chartkit.interchange.sheet.state import Sheet
from chartkit.interchange.sheet.tablature import is_tablature, remark_beside
from chartkit.interchange.sheet.token import Token, strikes
from chartkit.interchange.sheet.tokens import Tokens
from chartkit.interchange.sheet.told import is_for_the_players, legend_pairs, says_note
from chartkit.interchange.sheet.under import without_tail
from chartkit.interchange.sheet.usual_signs import with_usual_signs
from chartkit.interchange.sheet.within import chords_within
from chartkit.interchange.sheet.words_alone import read_words_alone
from chartkit.interchange.taken import Findings, Refused, SymbolReader, Taken
from chartkit.interchange.wording import counted, cue_text


def read_sheet(
    text: str, read_symbol: SymbolReader, findings: Findings, format_name: str = "text",
    subject: str = "",
) -> Taken:  # fmt: skip
    """The chart of a text; the ``subject`` of a mail is a title to it.  Raises Refused where it
    has neither chords nor words."""
    bare = unquoted(decoded_lines(text, findings), findings)
    raw = without_letter(bare, findings, of_a_mail=format_name == "mail")
    lines = one_after_another([line_of(number, line) for number, line in raw], findings)
    above = Line(0, subject, where="the mail's subject") if subject else None
    return read_lines(lines, read_symbol, findings, format_name, above)


def read_lines(
    lines: list[Line], read_symbol: SymbolReader, findings: Findings, format_name: str,
    subject: Line | None = None,
) -> Taken:  # fmt: skip
    """The chart of lines that know their columns.  Raises Refused as ``read_sheet`` does."""
    naming = naming_of([line.text for line in lines])
    if naming.kind != "letters":
        how = {"german": "H is B natural and B is B flat", "syllables": "do is C"}[naming.kind]
        findings.guess("note-names", f"the notes are named so that {how}")
    if naming.small:
        how = {"minor": "a is A minor", "capitals": "am is Am"}[naming.small]
        findings.guess("small-letters", f"chords typed in small letters are read so that {how}")
    sheet = Sheet(findings, Tokens(read_symbol, naming), BarReader(findings), subject=subject)
    lines, lettered = with_letters_told(lines, sheet.tokens, findings)
    lines = with_usual_signs(lines, sheet.tokens, lettered)
    kinds = [sheet.tokens.row(line) for line in lines]
    tell_chords_among_words(sheet, lines, kinds)
    _read(Cursor(sheet, *closed_up(lines, kinds)))
    settle_key(sheet)
    chart = sheet.chart()
    if not chart.sections:
        raise Refused("the text has neither chords nor words")
    findings.sure(
        "read", f"{counted(sheet.chord_rows, 'row')} of chords, "
        f"{counted(sheet.words_lines, 'line')} of words",
    )  # fmt: skip
    return Taken(chart, tuple(findings.found), format_name)


_MOST_WORDS_OF_A_REMARK = 3


def _read(cursor: Cursor) -> None:
    """Reads all lines, one after another."""
    sheet = cursor.sheet
    cursor.at = head_end(cursor.lines, cursor.kinds, sheet.tokens)
    for line in cursor.lines[: cursor.at]:
        read_head_line(sheet, line)
    settle_title(sheet)
    _find_capo(cursor)
    _find_meter(cursor)
    while cursor.at < len(cursor.lines):
        _line(cursor)
    _open(sheet, Section(""))


def _find_capo(cursor: Cursor) -> None:
    """Takes the capo from rows of shapes over what sounds where no heading names one."""
    sheet = cursor.sheet
    told = "capo" in sheet.top
    capo = 0 if told else doubled_capo(cursor.lines, cursor.kinds)
    if capo:
        sheet.top["capo"] = capo
        sheet.findings.guess(
            "shapes-over-sounding", f"each row of chords stands twice, {capo} half steps "
            f"apart: they are read as shapes at capo {capo} over what sounds",
        )  # fmt: skip


def _find_meter(cursor: Cursor) -> None:
    """Takes the meter from bars of three places each where nothing in the sheet gives one."""
    sheet = cursor.sheet
    rows = [tokens for tokens in cursor.kinds if tokens is not None]
    if "meter" in sheet.top or not counts_three(rows):
        return
    facts = (fact for line in cursor.lines for fact in facts_of(without_parentheses(line.text)))
    if any(fact.name == "meter" for fact in facts):
        return
    sheet.top["meter"] = sheet.bars.meter = Meter(3, 4)
    sheet.findings.guess("meter", "no meter is given, and all bars have three places: read in 3/4")


def _line(cursor: Cursor) -> None:
    """Reads the next line, with what belongs to it."""
    line, tokens, sheet = cursor.line, cursor.kinds[cursor.at], cursor.sheet
    text = line.text.strip()
    if tokens is None and not any(map(str.isalnum, text)):
        cursor.at += 1
    elif (heading := heading_of(text)) is not None:
        _heading(cursor, heading, line)
    elif is_counted_rest(text):
        _rest(cursor, text, line)
    elif tokens is not None:
        read_chords(cursor, line, tokens)
    elif is_tablature(line.text):
        _tablature(cursor, line)
    elif _aside(sheet, text, line):
        cursor.at += 1
    elif (within := chords_within(line, sheet.tokens)) is not None and not _behind(*within):
        read_chords_within(cursor, *within)
    elif (behind := without_tail(line, sheet.tokens))[1] and strikes(behind[1]):
        read_chords_behind(cursor, *behind)
    else:
        read_words_alone(cursor, line)


def _behind(words: Line, tokens: list[Token]) -> bool:
    """Whether chords stand behind all words of a line, not among them."""
    return tokens[0].column >= len(words.text)


def _aside(sheet: Sheet, text: str, line: Line) -> bool:
    """Whether a line that is no row of chords is no words either; if so, takes it."""
    if facts := facts_of(without_parentheses(text)):
        for fact in facts:
            take_late_fact(sheet, fact.name, fact.value, line)
    elif (remark := without_parentheses(text)) != text or _is_remark(text):
        _remark(sheet, remark, line)
    elif marks := marks_of(text):
        sheet.mark_last(marks)
    elif legend_pairs(text):
        take_legend(sheet, line)
    elif is_for_the_players(text) or names_a_fact(text):
        take_note(sheet, line)
    else:
        return False
    return True


def _is_remark(text: str) -> bool:
    """Whether a line says that it is a note, or is figures alone, as a count is."""
    return says_note(text) or says_again(text) or not any(map(str.isalpha, text))


def _remark(sheet: Sheet, text: str, line: Line) -> None:
    """A line in parentheses with no chords above: a word to the players."""
    sheet.add(CueRow(cue_text(text)))
    sheet.findings.guess(
        "remark", "a line to the players without chords above is written as a cue",
        line.place(),
    )  # fmt: skip


def _rest(cursor: Cursor, text: str, line: Line) -> None:
    """A line that says for how many bars there is silence: bars of rest."""
    sheet = cursor.sheet
    length = sheet.bars.meter.beats * TICKS_PER_BEAT
    bars = rest_of(text)
    sheet.add_music(MusicRow((Bar((), length * bars, rest=bars),), (BarLine(), BarLine())))
    sheet.bars.first_in_section = False
    sheet.bars.silence = "rest"
    sheet.bars.bars_before += bars
    cursor.at += 1
    sheet.findings.guess(
        "rest", f'"{text}" is written as {counted(bars, "bar")} of rest', line.place()
    )


def _tablature(cursor: Cursor, line: Line) -> None:
    """Lines of tablature one under the other, which are left out."""
    at = cursor.at
    while cursor.at < len(cursor.lines) and is_tablature(cursor.line.text):
        cursor.at += 1
    said = [remark_beside(one.text) for one in cursor.lines[at : cursor.at]]
    beside = "".join(f', beside them "{remark}"' for remark in said if remark)
    cursor.sheet.findings.leave_out(
        "tablature", f"{counted(cursor.at - at, 'line')} of tablature{beside}", line.place()
    )


def _heading(cursor: Cursor, heading: Heading, line: Line) -> None:
    sheet = cursor.sheet
    _open(sheet, Section(heading.name, times=heading.times))
    if heading.remark:
        sheet.add_remark(cue_text(heading.remark))
        sheet.like = other_section(heading.remark)
    if heading.rest_at is None:
        cursor.at += 1
        return
    at = len(line.text) - len(line.text.lstrip()) + heading.rest_at
    if remark := _remark_behind(cursor, line.text[at:].strip()):
        sheet.add_remark(cue_text(remark))
        sheet.like = other_section(remark)
        cursor.at += 1
        sheet.findings.guess("remark", f'"{remark}" behind a section\'s name is written as a cue',
                             line.place())  # fmt: skip
        return
    kept = replace(line, text=" " * at + line.text[at:])
    cursor.lines[cursor.at] = kept
    cursor.kinds[cursor.at] = sheet.tokens.row(kept)


def _remark_behind(cursor: Cursor, text: str) -> str:
    """What is said to the players behind a section's name and its colon; nothing where it may
    be words or chords."""
    if text[:1] + text[-1:] in ("[]", "()"):
        return "" if chords_within(Line(0, f"so {text}"), cursor.sheet.tokens) else text[1:-1]
    if other_section(text):
        return text
    below = cursor.kinds[cursor.at + 1 : cursor.at + 2]
    few = len(text.split()) <= _MOST_WORDS_OF_A_REMARK and text[:1].islower()
    return text if few and below not in ([], [None]) else ""


def _open(sheet: Sheet, section: Section) -> None:
    """Ends the open section, which may be an earlier one played again, and opens another."""
    if not sheet.begun:
        play_again(sheet)
    sheet.open(section)
