"""From a text with chords above its words to a chart.

Every line is classified once (``line_kinds.py``) and then read by its kind. If no bar lines were
typed none are invented, unless signs behind chords count all beats of bars:
other rows are in free time.
"""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import Section
from chartkit.interchange.intake_result import (
    Findings,
    IntakeResult,
    Refused,
    SourceKind,
    SymbolReader,
)
from chartkit.interchange.text.building.capo import settle_key
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.cursor import Cursor
from chartkit.interchange.text.building.line_readers import open_section, read_line
from chartkit.interchange.text.building.loose_chords import (
    report_chords_among_words,
    report_loose_chords,
    report_slips,
)
from chartkit.interchange.text.building.no_music import is_of_a_song, why_nothing_is_read
from chartkit.interchange.text.building.settings_shown import find_capo, find_meter
from chartkit.interchange.text.building.song_settings import settle_pace
from chartkit.interchange.text.building.whole_chart import has_music, whole_chart
from chartkit.interchange.text.classifying.asides import report_answers
from chartkit.interchange.text.classifying.beside_words import with_remarks_apart
from chartkit.interchange.text.classifying.chord_list import (
    are_given_first,
    without_list_names,
    words_begin,
)
from chartkit.interchange.text.classifying.classify import classify
from chartkit.interchange.text.classifying.lone_lines import report_doubtful_words
from chartkit.interchange.text.classifying.singers import with_singers_apart
from chartkit.interchange.text.kinds.line_kinds import (
    Chords,
    ChordsWithin,
    KnownLine,
)
from chartkit.interchange.text.lines import Line, line_of
from chartkit.interchange.text.names.sheet_names import SheetNames
from chartkit.interchange.text.own_names.likely_names import with_likely_names
from chartkit.interchange.text.own_names.listed_codes import with_listed_codes
from chartkit.interchange.text.own_names.names_before_rows import with_colons_before_rows
from chartkit.interchange.text.own_names.names_by_rule import (
    with_codes_as_names,
    with_counted_names,
    with_underlined_names,
)
from chartkit.interchange.text.own_names.names_of_people import with_names_of_people
from chartkit.interchange.text.own_names.names_over_rows import with_names_over_rows
from chartkit.interchange.text.own_names.parted_names import with_names_apart
from chartkit.interchange.text.own_names.unnamed_blocks import with_names_of_blocks
from chartkit.interchange.text.own_names.weighed_names import WeighedNames
from chartkit.interchange.text.raw_text.chords_before_words import with_chords_over_words
from chartkit.interchange.text.raw_text.decode import decoded_lines, with_line_ends
from chartkit.interchange.text.raw_text.mail import unquoted, without_mail_text
from chartkit.interchange.text.raw_text.scanned import as_printed, without_specks
from chartkit.interchange.text.raw_text.set_apart import with_parts_apart
from chartkit.interchange.text.raw_text.spacing import closed_up, with_wide_tails
from chartkit.interchange.text.raw_text.stamps import without_stamps
from chartkit.interchange.text.raw_text.web_page import without_page_controls
from chartkit.interchange.text.rewriting.bar_ranges import with_bar_ranges
from chartkit.interchange.text.rewriting.bars_in_words import without_bars_in_words
from chartkit.interchange.text.rewriting.cells import with_cells_written_out
from chartkit.interchange.text.rewriting.chord_labels import without_labels
from chartkit.interchange.text.rewriting.chords_below import with_chords_first
from chartkit.interchange.text.rewriting.chords_throughout import (
    with_chords_throughout,
    with_only_chords_above,
)
from chartkit.interchange.text.rewriting.chords_under_words import with_chords_above
from chartkit.interchange.text.rewriting.columns import one_after_another
from chartkit.interchange.text.rewriting.copy_notes import without_copy_notes
from chartkit.interchange.text.rewriting.counted_bars import with_counted_bars
from chartkit.interchange.text.rewriting.cut_short import with_names_written_out
from chartkit.interchange.text.rewriting.degrees import with_chords_for_degrees
from chartkit.interchange.text.rewriting.endings import with_numbered_endings
from chartkit.interchange.text.rewriting.endings_above import with_endings_above
from chartkit.interchange.text.rewriting.last_chords import with_last_chords
from chartkit.interchange.text.rewriting.layouts import unfolded
from chartkit.interchange.text.rewriting.legend_of_names import with_names_of_legend
from chartkit.interchange.text.rewriting.lettered_parts import (
    with_forms_of_parts,
    with_lettered_parts,
    with_letters_among_initials,
    with_letters_explained,
    with_names_for_letters,
)
from chartkit.interchange.text.rewriting.normalize import with_usual_signs
from chartkit.interchange.text.rewriting.odd_rows import rows_within, with_usual_rows
from chartkit.interchange.text.rewriting.orders_in_letters import with_orders_apart
from chartkit.interchange.text.rewriting.plain_headings import with_plain_headings
from chartkit.interchange.text.rewriting.plain_settings import with_plain_settings
from chartkit.interchange.text.rewriting.players_before_rows import with_players_apart
from chartkit.interchange.text.rewriting.rehearsal_letters import with_named_letters
from chartkit.interchange.text.rewriting.remarks_behind import with_remarks_behind_rows
from chartkit.interchange.text.rewriting.running_heads import without_running_heads
from chartkit.interchange.text.rewriting.sections_in_sentences import with_sections_told
from chartkit.interchange.text.rewriting.set_lists import without_set_list
from chartkit.interchange.text.rewriting.shorthand import with_shorthand_written_out
from chartkit.interchange.text.rewriting.signs_before_names import with_names_for_signs
from chartkit.interchange.text.rewriting.songs_in_sentences import with_songs_said
from chartkit.interchange.text.rewriting.spelled_chords import with_chords_spelled
from chartkit.interchange.text.rewriting.spelled_notes import with_plain_note_names
from chartkit.interchange.text.rewriting.stacked_verses import with_stacks_apart
from chartkit.interchange.text.rewriting.tables import with_rows_of_tables
from chartkit.interchange.text.rewriting.verse_numbers import with_plain_verse_numbers
from chartkit.interchange.text.rewriting.words_in_syllables import with_words_whole
from chartkit.interchange.text.rows.bars import BarReader
from chartkit.interchange.text.rows.inline_chords import (
    without_squared_chords,
)
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.section_lines.medleys import with_next_tunes
from chartkit.interchange.text.song_form.listed_form import without_numbers_of_steps
from chartkit.interchange.text.song_head.head import read_head
from chartkit.interchange.text.song_head.head_end import head_end, with_settings_first
from chartkit.interchange.text.song_head.lone_keys import with_lone_keys, with_remarks_of_head
from chartkit.interchange.text.song_head.title_below import with_title_first
from chartkit.interchange.text.tokens import IsChords, roots_of
from chartkit.interchange.text.vocabulary.note_names import (
    SheetNoteNames,
    has_chords_behind,
    has_chords_within,
    naming_of,
)
from chartkit.interchange.text.vocabulary.people_named import people_named
from chartkit.interchange.wording import counted


def read_sheet(
    text: str,
    read_symbol: SymbolReader,
    findings: Findings,
    format_name: SourceKind = "text",
    subject: str = "",
) -> IntakeResult:
    """The chart of a text; the ``subject`` of a mail serves as its title. Raises Refused if it
    holds no music."""
    text = with_line_ends(text)
    typed = without_specks(decoded_lines(text, findings), findings)
    typed = without_page_controls(as_printed(typed, findings), findings)
    typed = with_cells_written_out(typed, findings)
    typed = closed_up(without_stamps(with_wide_tails(typed), findings))
    parted = with_chords_over_words(with_parts_apart(typed, findings), findings)
    bare = unquoted(parted, findings)
    of_a_mail = format_name == "mail" or bare is not parted
    raw = without_mail_text(bare, findings, of_a_mail)
    lines = without_pages([line_of(number, line) for number, line in raw], findings)
    lines = one_after_another(lines, findings)
    above = Line(0, subject, where="the email's subject") if subject else None
    result = read_lines(lines, read_symbol, findings, format_name, above)
    sources = dict(enumerate(text.split("\n"), 1))
    return replace(result, findings=findings.with_sources(sources), source_text=text)


def read_lines(
    lines: list[Line],
    read_symbol: SymbolReader,
    findings: Findings,
    format_name: SourceKind,
    subject: Line | None = None,
) -> IntakeResult:
    """The chart of lines that know their columns.  Raises Refused as ``read_sheet`` does."""
    findings.know_places({line.number: line.where for line in lines if line.where})
    sources = {line.number: line.text for line in lines if line.where}
    lines = with_chords_spelled(with_plain_note_names(lines), findings)
    texts = [line.text for line in lines]
    naming = naming_of([*texts, *rows_within(texts)])
    _report_naming(naming, findings)
    tokens = _token_reader(read_symbol, naming, texts)
    sheet = Sheet(findings, tokens, BarReader(findings), subject=subject)
    lines, sheet.listed_below = with_chords_first(lines, tokens.is_chords, findings)
    lines, sheet.words_from = without_list_names(
        without_squared_chords(lines, sheet.tokens, findings), sheet.tokens.is_chords, findings
    )
    lines = _as_usual(lines, sheet.tokens, findings)
    known = with_singers_apart(_kinds_of(lines, sheet.tokens, findings))
    known = with_title_first(with_settings_first(with_remarks_apart(known, findings)))
    report_doubtful_words(known, findings)
    report_answers(known, findings)
    report_chords_among_words(sheet, known)
    report_slips(sheet, known)
    _read(Cursor(sheet, known))
    report_loose_chords(sheet, known)
    settle_key(sheet)
    settle_pace(sheet)
    chart = whole_chart(sheet)
    if not has_music(sheet) or not any(map(is_of_a_song, known)):
        raise Refused(why_nothing_is_read(tokens, texts))
    findings.sure(
        "read",
        f"{counted(sheet.chord_rows, 'row')} of chords, "
        f"{counted(sheet.words_lines, 'line')} of words",
    )
    return IntakeResult(chart, findings.with_sources(sources), format_name)


def _token_reader(
    read_symbol: SymbolReader, naming: SheetNoteNames, texts: Sequence[str]
) -> TokenReader:
    """The reader of rows, with what the texts of all lines show of them."""
    behind, within = has_chords_behind(texts), has_chords_within(texts)
    return TokenReader(read_symbol, naming, behind, within, people_named(texts))


def without_pages(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines without notes on the copy and without what each page has at its head or foot."""
    return without_running_heads(without_copy_notes(lines, findings), findings)


def _as_usual(lines: list[Line], tokens: TokenReader, findings: Findings) -> list[Line]:
    """The lines without other songs and labels, names and settings as they usually stand."""
    lines = with_bar_ranges(lines, tokens.is_chords, findings)
    lines = without_bars_in_words(lines, tokens.is_chords)
    lines = with_names_for_signs(lines, tokens.is_chords)
    lines = with_players_apart(lines, tokens.is_chords, findings)
    lines = with_plain_verse_numbers(lines, tokens.is_chords)
    lines = with_endings_above(lines, tokens.is_chords, findings)
    lines = with_chords_above(lines, tokens.is_chords, findings)
    lines = with_words_whole(lines, tokens.is_chords)
    lines = with_stacks_apart(lines, tokens.is_chords, findings)
    lines = with_songs_said(lines, tokens.is_chords, findings)
    lines = without_set_list(lines, tokens.is_chords, findings)
    lines = with_only_chords_above(lines, tokens.is_chords, findings)
    lines = with_sections_told(lines, tokens.is_chords, findings)
    lines = with_next_tunes(without_labels(lines, tokens.is_chords), tokens)
    lines = with_orders_apart(lines)
    lines = with_chords_throughout(lines, tokens.is_chords, findings)
    lines = with_names_of_legend(lines, tokens, findings)
    lines = with_underlined_names(lines, tokens.is_chords, findings)
    lines = with_codes_as_names(lines, tokens.is_chords, findings)
    lines = with_listed_codes(lines, tokens.is_chords, findings)
    lines = with_names_over_rows(lines, tokens.is_chords, findings)
    lines = with_counted_names(lines, tokens.is_chords, findings)
    lines = with_names_of_blocks(lines, tokens, findings)
    lines = with_names_for_letters(with_plain_settings(lines), tokens.is_chords, findings)
    lines = with_letters_explained(lines, tokens.is_chords, findings)
    lines = with_forms_of_parts(lines)
    return without_numbers_of_steps(lines, findings)


def _kinds_of(lines: list[Line], tokens: TokenReader, findings: Findings) -> list[KnownLine]:
    """What each line is; once more with the names of sections that only the evidence of the whole
    sheet shows, where it shows any."""
    noted = list(findings.collected)
    known = _kinds_by_readers(lines, tokens, findings)
    if any(line.where for line in lines):
        return known  # what speaks for a name was learnt from typed lines, not from pages
    weighed = WeighedNames(lines, known, tokens.is_chords)
    if weighed.found:
        findings.collected = noted
        known = _kinds_by_readers(weighed.written(findings), tokens, findings)
    weighed.report_doubted(findings)
    return known


def _kinds_by_readers(
    lines: list[Line], tokens: TokenReader, findings: Findings
) -> list[KnownLine]:
    """What each line is by the readers of lines, one after another."""
    lines = with_last_chords(lines, tokens.is_chords, findings)
    lines, names = _with_names(lines, tokens.is_chords, findings)
    lines = with_chords_for_degrees(lines, tokens.is_chords, findings)
    lines = with_shorthand_written_out(lines, tokens.is_chords, findings)
    lines = with_numbered_endings(unfolded(lines, tokens.is_chords, findings))
    lines, lettered = with_named_letters(lines, tokens, findings)
    return classify(with_usual_signs(lines, tokens, lettered), tokens, names)


def _with_names(
    lines: list[Line], is_chords: IsChords, findings: Findings
) -> tuple[list[Line], SheetNames]:
    """The lines, names of sections among them as they usually stand; and the names found."""
    lines = with_names_of_people(lines, is_chords, findings)
    lines = with_colons_before_rows(lines, is_chords, findings)
    lines = with_counted_bars(lines, is_chords, findings)
    lines = with_remarks_behind_rows(lines, is_chords, findings)
    lines = with_usual_rows(lines, is_chords, findings)
    lines = with_rows_of_tables(lines, is_chords, findings)
    lines = with_lettered_parts(lines, is_chords, findings)
    lines = with_letters_among_initials(lines, is_chords, findings)
    lines, names = with_names_apart(lines, is_chords, findings)
    lines, names = with_likely_names(lines, is_chords, findings, names)
    lines = with_names_written_out(lines, is_chords, findings)
    return with_plain_headings(lines, is_chords, findings), names


def _report_naming(naming: SheetNoteNames, findings: Findings) -> None:
    """Reports how the sheet names its notes, if not by capital letters."""
    if naming.kind != "letters":
        how = {"german": "H is B natural and B is B flat", "syllables": "do is C"}[naming.kind]
        findings.guess("note-names", f"the notes are named so that {how}")
    if naming.small:
        how = {"minor": "a is A minor", "capitals": "am is Am"}[naming.small]
        findings.guess("small-letters", f"chords typed in small letters are read so that {how}")


def _read(cursor: Cursor) -> None:
    """Reads all lines, one after another."""
    sheet = cursor.sheet
    cursor.known = with_lone_keys(with_remarks_of_head(cursor.known))
    roots = (
        root
        for one in cursor.known
        if isinstance(one.kind, Chords | ChordsWithin)
        for root in roots_of(one.kind.tokens)
        if root is not None
    )
    sheet.first_root = next(roots, None)
    sheet.given_to_all = are_given_first(cursor.known)
    sheet.words_from = sheet.words_from or words_begin(cursor.known)
    cursor.at = head_end(cursor.known)
    read_head(sheet, cursor.known[: cursor.at], cursor.known[cursor.at :])
    find_capo(cursor)
    find_meter(cursor)
    while cursor.at < len(cursor.known):
        one = cursor.known[cursor.at]
        sheet.line_number = one.line.number
        read_line(cursor, one)
    open_section(sheet, Section(""))
