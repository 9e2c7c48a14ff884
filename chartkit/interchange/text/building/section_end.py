"""The end of a section: chords that stand once for several sections, and how often it is played."""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import BlankRow, CueRow, MusicRow, Row, Section, SettingRow, WordsRow
from chartkit.chart.section_words import SUNG_KINDS
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.earlier_sections import is_words_alone
from chartkit.interchange.text.rows.chord_a_line import (
    all_chords_each_line,
    one_chord_a_line,
    report_each_line,
)
from chartkit.interchange.text.rows.counted_rows import (
    times_by_endings,
    times_of_row,
    written_out_counts,
)
from chartkit.interchange.text.rows.given_chords import (
    OF_SEVERAL,
    is_for_all,
    kinds_given,
    played_often,
)
from chartkit.interchange.text.song_form.steps import SAME
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.sung_words import says_unsung


def end_section(sheet: Sheet) -> None:
    """Ends the open section, if there is anything to it: it is an earlier one from here on."""
    sheet.settle()
    if not (sheet.opened.name or sheet.rows):
        return
    _take_given(sheet)
    name = sheet.opened.name.casefold()
    often = sheet.earlier.row_times.get(name, 1)
    _take_counts(sheet)
    if sheet.opened_by:
        sheet.findings.guess(
            "heading-again",
            f'"{sheet.opened_by}" stands over lines of its own: only its name is used',
            f"{sheet.opened_on}:1",
        )
    if _take_words_of_same(sheet):
        sheet.earlier.row_times[name] = often  # its own count is that of this once
    section = replace(sheet.opened, rows=tuple(sheet.rows))
    if sheet.like not in ("", SAME) and not sheet.begun and not section.same_as:
        sheet.like_later[section.span.start] = sheet.like
    at = sheet.earlier.add(section, tuple(sheet.lines_under), sheet.heading_rows)
    _note_given(sheet, at, section)


def _take_words_of_same(sheet: Sheet) -> bool:
    """Makes the open section the earlier one of its name, words and all, where nothing stands under
    its heading and the chords on that line are those of the earlier one, typed once more;
    whether it does."""
    name, home = sheet.opened.name, sheet.earlier.home.get(sheet.opened.name.casefold())
    if (
        not (sheet.chords_on_heading and sheet.rows)
        or home is None
        or section_key(name)[0] not in SUNG_KINDS
    ):
        return False
    other = sheet.earlier.sections[home]
    own = [row for row in sheet.rows if not isinstance(row, MusicRow | CueRow)]
    sung = any(isinstance(row, WordsRow) for row in other.rows)
    said = [row.text for row in sheet.rows if isinstance(row, CueRow)]
    if own or not sung or _played(sheet.rows) != _played(other.rows) or any(map(says_unsung, said)):
        return False
    sheet.rows = [row for row in sheet.rows if isinstance(row, CueRow)]
    sheet.lines_under = []
    sheet.findings.guess(
        "section-again",
        f'"{name}" has its chords again and no words under it: it is repeated with its words',
        f"{sheet.opened_on}:1",
    )
    return True


def _played(rows: Sequence[Row]) -> list[tuple[tuple[str, int], ...]]:
    """The chords of some rows with their beats, bar by bar."""
    bars = [bar for row in rows if isinstance(row, MusicRow) for bar in row.bars]
    return [tuple((str(one.chord), one.onset) for one in bar.strikes) for bar in bars]


def _note_given(sheet: Sheet, at: int, section: Section) -> None:
    """Notes a section of chords alone that stands for later ones with words alone."""
    first = len(sheet.earlier.names) < 2
    everywhere = is_for_all(section, first) or (sheet.given_to_all and not section.name)
    listed = 0 < sheet.opened_on < sheet.words_from or sheet.opened_on in sheet.listed_below
    listed |= OF_SEVERAL.match(section.name) is not None or (everywhere and bool(section.name))
    if listed:
        sheet.listed.add(at)
    given = (sheet.chords_on_heading or everywhere or listed) and sheet.lines_under
    if given and not any(isinstance(row, WordsRow) for row in section.rows):
        kinds = ("",) if everywhere else kinds_given(section.name)
        sheet.given |= dict.fromkeys(kinds, at)


def _take_counts(sheet: Sheet) -> None:
    """Takes how often the open section is played from its only row or its endings."""
    music = (row for row in sheet.rows if isinstance(row, MusicRow))
    if not any(row.lines or row.bars[-1].cues for row in music):
        return  # nothing in it counts
    name = sheet.opened.name.casefold()
    sheet.rows = written_out_counts(sheet.rows, sheet.findings)
    times, sheet.rows = times_of_row(sheet.opened, sheet.rows, sheet.bars.counted, sheet.findings)
    if times:
        sheet.opened = replace(sheet.opened, times=times)
        sheet.earlier.row_times[name] = times
    if (last := times_by_endings(sheet.opened, sheet.rows)) > 0:
        sheet.opened = replace(sheet.opened, times=1)
        sheet.earlier.times_by_endings[name] = last
        sheet.findings.guess(
            "times-by-endings",
            f'"{sheet.opened.name}" has an ending for each time that its heading counts',
            f"{sheet.opened_on}:1",
        )


def _take_given(sheet: Sheet) -> None:
    """Puts chords that were given for sections of a kind above words alone."""
    if sheet.lines_under or sheet.opened.same_as or not any(map(is_words_alone, sheet.rows)):
        return
    given = sheet.given.get(section_key(sheet.opened.name)[0], sheet.given.get(""))
    if given is None:
        _take_lent(sheet)
        return
    rows = sheet.earlier.sections[given].rows
    once = [row for row in rows if isinstance(row, MusicRow | CueRow | SettingRow)]
    music = played_often(once, sheet.earlier.sections[given].times, sheet.findings)
    heading, own = sheet.rows[: sheet.heading_rows], sheet.rows[sheet.heading_rows :]
    placed = one_chord_a_line(music, own)
    if placed is None:
        said = () if sheet.earlier.sections[given].name else sheet.notes
        placed = all_chords_each_line(once, own, said)
        if placed is not None:
            report_each_line(sheet.findings, next(r for r in once if isinstance(r, MusicRow)))
    if placed is not None:
        sheet.rows = [*heading, *placed]
        sheet.lines_under = [
            isinstance(below, WordsRow)
            for row, below in zip(placed, [*placed[1:], None], strict=True)
            if isinstance(row, MusicRow)
        ]
    else:
        _put_above_words(sheet, music)
    for row in own:
        sheet.findings.take_back("words-without-chords", f"{row.span.start}:1")
    sheet.used.setdefault(given, len(sheet.earlier.sections))
    name = sheet.earlier.sections[given].name
    sheet.findings.guess(
        "chords-given-before",
        f'the words of "{sheet.opened.name}" stand under chords that were typed before'
        + (f', for "{name}"' if name else ""),
        f"{sheet.opened_on or sheet.line_number}:1",
    )


def _take_lent(sheet: Sheet) -> None:
    """Puts the music above words alone that their heading says is another section's."""
    lent = sheet.earlier_like_opened()
    if lent is None or not (sheet.like or sheet.earlier.has_words_apart(lent)):
        return
    lender = sheet.earlier.sections[lent]
    music = [row for row in lender.rows if isinstance(row, MusicRow | SettingRow)]
    for row in sheet.rows[sheet.heading_rows :]:
        sheet.findings.take_back("words-without-chords", f"{row.span.start}:1")
    _put_above_words(sheet, music)
    take_times_of(sheet, lender)
    sheet.findings.guess(
        "words-without-places",
        f'"{sheet.opened.name}" has the music of "{lender.name}", but other lines: '
        "under which chord each word falls is not known, so they are written without",
        f"{sheet.opened_on}:1",
    )


def take_times_of(sheet: Sheet, other: Section) -> None:
    """Copies how often a section is played from the ``other`` one that the open section is
    said to be like, if that one is played or of its kind and the sheet gives no number."""
    kind = section_key(other.name)[0]
    alike = kind not in SUNG_KINDS or kind == section_key(sheet.opened.name)[0]
    if sheet.opened.times == 1 and alike and sheet.like not in ("", SAME):
        sheet.opened = replace(sheet.opened, times=other.times)


def _put_above_words(sheet: Sheet, music: Sequence[Row]) -> None:
    """Puts rows of music between the heading and words alone."""
    heading, own = sheet.rows[: sheet.heading_rows], sheet.rows[sheet.heading_rows :]
    sheet.rows = [*heading, *music, BlankRow(), *own]
    sheet.lines_under = [0] * sum(isinstance(row, MusicRow) for row in music)
