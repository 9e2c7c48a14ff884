"""A text with chords above its words to a chart.

Lines are told apart by their content: rows of chords, headings, facts, words.  Where no bar
lines were typed none are invented: such rows are in free time.
"""

from dataclasses import replace

from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, CueRow, Meter, MusicRow, Section
from chartkit.interchange.taken import Findings, Refused, SymbolReader, Taken
from chartkit.interchange.text.bars import BarReader
from chartkit.interchange.text.beats import counts_three
from chartkit.interchange.text.capo import doubled_capo, settle_key
from chartkit.interchange.text.chart_builder import Sheet
from chartkit.interchange.text.columns import one_after_another
from chartkit.interchange.text.cues import marks_of
from chartkit.interchange.text.cursor import Cursor
from chartkit.interchange.text.decode import decoded_lines
from chartkit.interchange.text.facts import (
    facts_of,
    is_counted_rest,
    names_a_fact,
    rest_of,
    says_again,
)
from chartkit.interchange.text.further_verses import other_section, play_again, read_words_alone
from chartkit.interchange.text.head import (
    head_end,
    read_head_line,
    settle_title,
    take_late_fact,
    take_legend,
    take_note,
    without_parentheses,
)
from chartkit.interchange.text.inline_chords import chords_within, tell_chords_among_words
from chartkit.interchange.text.lines import Line, line_of
from chartkit.interchange.text.lyrics import VERSE, without_tail, words_row
from chartkit.interchange.text.mail import closed_up, unquoted, without_letter
from chartkit.interchange.text.normalize import with_letters_told, with_usual_signs
from chartkit.interchange.text.note_names import naming_of
from chartkit.interchange.text.reference_lines import (
    is_for_the_players,
    is_tablature,
    legend_pairs,
    remark_beside,
    says_note,
)
from chartkit.interchange.text.section_names import Heading, heading_of
from chartkit.interchange.text.tokens import Token, Tokens, roots_of, strikes
from chartkit.interchange.wording import counted, cue_text


def read_chords(cursor: Cursor, line: Line, tokens: tuple[Token, ...]) -> None:
    """A row of chords with the words under it."""
    sheet = cursor.sheet
    if cursor.stanza_begins:
        sheet.begin_stanza()
    if _shapes_above(cursor, tokens):
        cursor.at += 1
        line, tokens = cursor.line, cursor.kinds[cursor.at] or tokens
    sheet.chord_rows += 1
    cursor.at += 1
    under = cursor.words_under(VERSE.match(line.text) is not None)
    if len(under) == 1 and (numbered := _numbered(line, under[0])) is not None:
        tokens, under = tokens[1:], [numbered]
    tails: list[Token] = []
    barred = any(token.kind == "bar" for token in tokens)
    if len(under) == 1:
        words, tails = without_tail(
            under[0],
            sheet.tokens,
            tokens[-1].end,
            {token.column for token in tokens if token.struck} if barred else (),
        )
        under = [words]
    read = sheet.bars.row((*tokens, *tails), line.place())
    sheet.add_music(read.music)
    for words in under:
        sheet.add(words_row(words, read))
    if under:
        sheet.add_line()
        sheet.words_lines += len(under) - 1


def _numbered(chords: Line, words: Line) -> Line | None:
    """The words with the number of their verse where it stands before the chords above; None
    where there is none, or the words begin too far left for it."""
    number = VERSE.match(chords.text)
    if number is None or words.text[: number.end()].strip() or VERSE.match(words.text):
        return None
    return replace(words, text=number[0] + words.text[number.end() :])


def read_chords_behind(cursor: Cursor, words: Line, tokens: list[Token]) -> None:
    """Words with their chords behind them: the chords are struck after the words."""
    _read_one_line(cursor, words, tokens)
    cursor.sheet.findings.guess(
        "chords-behind-words",
        "chords typed behind a line of words are struck after it",
        words.place(),
    )


def read_chords_within(cursor: Cursor, words: Line, tokens: list[Token]) -> None:
    """Words with chords in parentheses among them: each is struck where it stands."""
    if cursor.stanza_begins:
        cursor.sheet.begin_stanza()
    _read_one_line(cursor, words, tokens)


def _read_one_line(cursor: Cursor, words: Line, tokens: list[Token]) -> None:
    """Chords and words that were typed on one line."""
    sheet = cursor.sheet
    sheet.chord_rows += 1
    cursor.at += 1
    read = sheet.bars.row(tokens, words.place())
    sheet.add_music(read.music)
    sheet.add(words_row(words, read))
    sheet.add_line()


def _shapes_above(cursor: Cursor, tokens: tuple[Token, ...]) -> bool:
    """Whether the next line holds the sounding chords of these shapes, so that these can
    go: the capo says so.  An N.C. or a remark among the shapes alone goes along."""
    sheet, at = cursor.sheet, cursor.at + 1
    below = cursor.kinds[at] if at < len(cursor.lines) else None
    capo = sheet.top.get("capo")
    if below is None or not isinstance(capo, int):
        return False
    shapes, sounding = roots_of(tokens), roots_of(below)
    raised = [None if root is None else (root + capo) % 12 for root in shapes]
    silent = [token for token in tokens if token.kind == "none"] if None not in sounding else []
    if silent:
        raised = [root for root in raised if root is not None]
    if not raised or raised != sounding:
        return False
    said = {token.text for token in below}
    remarks = [t for t in tokens if t.kind in ("cue", "word") and t.text not in said]
    both = sorted((*below, *silent, *remarks), key=lambda token: token.column)
    cursor.kinds[at] = tuple(both)
    if sheet.top.get("chords") != "sounding":
        sheet.top["chords"] = "sounding"
        sheet.findings.take_back("chords-are-shapes")
    return True


def read_sheet(
    text: str,
    read_symbol: SymbolReader,
    findings: Findings,
    format_name: str = "text",
    subject: str = "",
) -> Taken:
    """The chart of a text; the ``subject`` of a mail is a title to it.  Raises Refused where it
    has neither chords nor words."""
    bare = unquoted(decoded_lines(text, findings), findings)
    raw = without_letter(bare, findings, of_a_mail=format_name == "mail")
    lines = one_after_another([line_of(number, line) for number, line in raw], findings)
    above = Line(0, subject, where="the mail's subject") if subject else None
    return read_lines(lines, read_symbol, findings, format_name, above)


def read_lines(
    lines: list[Line],
    read_symbol: SymbolReader,
    findings: Findings,
    format_name: str,
    subject: Line | None = None,
) -> Taken:
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
        "read",
        f"{counted(sheet.chord_rows, 'row')} of chords, "
        f"{counted(sheet.words_lines, 'line')} of words",
    )
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
            "shapes-over-sounding",
            f"each row of chords stands twice, {capo} half steps "
            f"apart: they are read as shapes at capo {capo} over what sounds",
        )


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
        "remark",
        "a line to the players without chords above is written as a cue",
        line.place(),
    )


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
        sheet.findings.guess(
            "remark", f'"{remark}" behind a section\'s name is written as a cue', line.place()
        )
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
