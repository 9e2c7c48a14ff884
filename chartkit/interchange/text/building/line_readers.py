"""Readers of lines: one for each kind of line, which adds it to the chart."""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, CueRow, MusicRow, Section
from chartkit.diagnostics import Span
from chartkit.interchange.text.building.chart_builder import NO_CHORDS, Sheet
from chartkit.interchange.text.building.chord_rows import (
    read_chords,
    read_chords_behind,
    read_chords_within,
)
from chartkit.interchange.text.building.cursor import Cursor
from chartkit.interchange.text.building.further_verses import read_words_alone
from chartkit.interchange.text.building.heading_remarks import (
    times_every_time,
    with_count_of_remarks,
    with_long_remark_apart,
    without_again,
)
from chartkit.interchange.text.building.played_again import other_section, play_again
from chartkit.interchange.text.building.section_end import end_section
from chartkit.interchange.text.building.song_settings import (
    take_fact,
    take_facts_said,
    take_feel,
    take_late_fact,
    take_legend,
    take_note,
)
from chartkit.interchange.text.building.unnamed_verses import (
    begins_a_verse,
    name_of_verse,
    report_name_of_verse,
)
from chartkit.interchange.text.kinds.line_kinds import (
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
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_form.steps import SAME
from chartkit.interchange.text.vocabulary.facts import meter_of
from chartkit.interchange.text.vocabulary.feel_words import labelled_feel
from chartkit.interchange.text.vocabulary.form_words import AS_BEFORE
from chartkit.interchange.text.vocabulary.reference_lines import remark_beside
from chartkit.interchange.text.vocabulary.references import number_meant, says_whose
from chartkit.interchange.text.vocabulary.rests import rest_of
from chartkit.interchange.text.vocabulary.section_names import (
    is_known_name,
    remark_in_name,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import (
    ANY_TIMES,
    ONCE_MORE,
    counts_rounds,
    times_of,
)
from chartkit.interchange.wording import counted, cue_text, one_line, section_name


def read_line(cursor: Cursor, one: KnownLine) -> None:
    """Adds a line to the chart for what it is, and moves behind it and what belongs to it."""
    if begins_a_verse(cursor, one):
        name = name_of_verse(cursor.sheet)
        open_section(cursor.sheet, Section(name, span=Span(one.line.number, one.line.number)))
        report_name_of_verse(cursor.sheet, name, one.line)
    _READERS[type(one.kind)](cursor, one)


def _pass(cursor: Cursor, one: KnownLine) -> None:
    """Passes a line of nothing, or of dots that stand for words nobody typed."""
    cursor.at += 1
    text = one.line.text.strip()
    if text and not text.strip(".… "):
        cursor.sheet.findings.leave_out(
            "words-to-come",
            f'"{text}" stands for words that are not in the sheet',
            one.line.place(),
        )


def _section(cursor: Cursor, one: KnownLine) -> None:
    """Opens a section, which may be an earlier one played again."""
    sheet, start = cursor.sheet, one.kind
    assert isinstance(start, SectionStart)
    if _repeats_nothing(sheet, start, one.line.text):
        _repeat_of_nothing(cursor, one)
        return
    cursor.at += 1
    every_time, start = times_every_time(start)
    counted = with_count_of_remarks(start)
    start = with_long_remark_apart(counted, one.line.text, cursor.said_otherwise)
    number, name = one.line.number, section_name(start.name)
    open_section(sheet, Section(name, times=start.times, span=Span(number, number)))
    if every_time:
        sheet.earlier.row_times[name.casefold()] = every_time
    sheet.chords_on_heading = start.with_chords
    meant = number_meant(f"as {start.like}", start.name) if start.like else ("", "")
    sheet.like = sheet.earlier.names.get(meant, start.like) if meant[1] else start.like
    sheet.opened_by = one_line(one.line.text) if _says_again(start, one.line.text) else ""
    if within := remark_in_name(start.name):
        sheet.like = sheet.like or _as_before(within)
        _take_other(sheet, within)
    for remark in _with_meter_apart(cursor, start.remarks, one.line):
        known = sheet.earlier.is_known(start.name) and not says_whose(remark)
        sheet.add_remark(cue_text(without_again(remark) if known else remark))
        sheet.like = sheet.like or _as_before(remark)
        _take_other(sheet, remark)
    if start.guessed:
        sheet.findings.guess(
            "form",
            f'"{one_line(one.line.text)}" is taken to say what is played here: {_played(start)}',
            one.line.place(),
        )


def _with_meter_apart(cursor: Cursor, remarks: Sequence[str], line: Line) -> list[str]:
    """What is said of a section beside its name, a meter taken out of it for this section alone
    ("Bridge (3/4)"); the song's own meter comes back with the next music."""
    sheet = cursor.sheet
    following = cursor.known[cursor.at : cursor.at + 1]
    if not any(isinstance(one.kind, Chords) for one in following):
        return list(remarks)
    before, sheet.meter_elsewhere = sheet.meter_elsewhere, None
    for at, remark in enumerate(remarks):
        first, _, rest = remark.partition(" ")
        if (meter := meter_of(first.strip(",;"))) is not None:
            if sheet.chord_rows:
                sheet.meter_elsewhere = before or sheet.bars.meter
            if meter != sheet.bars.meter or not sheet.chord_rows:
                take_late_fact(sheet, "meter", meter, line)
            return [*remarks[:at], *filter(None, (rest,)), *remarks[at + 1 :]]
    if before is not None and before != sheet.bars.meter:
        take_late_fact(sheet, "meter", before, line)
    return list(remarks)


def _as_before(remark: str) -> str:
    """That a section has the music before, if the first clause of a remark on it says so ("same,
    one chorus"); else nothing."""
    return SAME if AS_BEFORE.fullmatch(remark.partition(",")[0].strip()) else ""


def _repeats_nothing(sheet: Sheet, start: SectionStart, text: str) -> bool:
    """Whether a step asks for a section again that the sheet has not ("repeat chorus and fade")."""
    if not start.guessed or start.with_chords or _ASKS_AGAIN.match(text) is None:
        return False
    kinds = {key[0] for key in sheet.earlier.names} | {section_key(sheet.opened.name)[0]}
    return section_key(start.name)[0] not in kinds


def _repeat_of_nothing(cursor: Cursor, one: KnownLine) -> None:
    """Adds a line that asks for a section which the sheet has not as a cue, with all its steps."""
    sheet, line = cursor.sheet, one.line
    while cursor.at < len(cursor.known) and cursor.known[cursor.at].line.number == line.number:
        cursor.at += 1
    sheet.add(CueRow(cue_text(line.text.strip())))
    sheet.findings.guess(
        "form",
        f'"{one_line(line.text)}" names a section that is not in the sheet: written as a cue',
        line.place(),
    )


def _played(start: SectionStart) -> str:
    """A section's name, and how often it is played, as a finding says it."""
    return f'"{section_name(start.name)}"' + (f", {start.times} times" * (start.times > 1))


def _take_other(sheet: Sheet, remark: str) -> None:
    """Takes from a remark whose music the open section has, and how often."""
    other, times = other_section(remark)
    if other and not (sheet.earlier.is_known(other) or is_known_name(other)):
        other, times = "", 1
    if sheet.like in ("", SAME) and (meant := number_meant(remark, sheet.opened.name))[1]:
        other = sheet.earlier.names.get(meant, other)
    if not other and not sheet.like:
        other = sheet.earlier.named_in(remark, sheet.opened.name)
        counted = _COUNT_WITHIN.search(remark) if other else None
        times = times_of(counted[0]) if counted is not None else 1
    if other and sheet.like in ("", SAME):
        sheet.like = other
    if other and times > 1 and sheet.opened.times == 1:
        sheet.opened = replace(sheet.opened, times=times)


def _says_again(start: SectionStart, text: str) -> bool:
    """Whether a heading says that its section is played again, which the name does not."""
    if text == start.name:
        return False
    said = " ".join((start.name, *start.remarks)).casefold()
    words = (word.strip("[]():.,;–—->*") for word in text.casefold().split())
    more = " ".join(word for word in words if word and word not in said)
    return not start.with_chords and _ONCE_MORE.fullmatch(more) is not None


_COUNT_WITHIN = re.compile(rf"(?<!\w)(?:{ANY_TIMES})(?!\w)", re.IGNORECASE)
_ASKS_AGAIN = re.compile(
    r"\W{0,3}(?:repeat|rpt|wiederholen|répéter|repetir|ripetere)\b", re.IGNORECASE
)
_ONCE_MORE = re.compile(ONCE_MORE, re.IGNORECASE)


def open_section(sheet: Sheet, section: Section) -> None:
    """Ends the open section, which may be an earlier one played again, and opens another."""
    if not sheet.begun:
        play_again(sheet)
    end_section(sheet)
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
    above = cursor.sheet.given_to_all and not cursor.sheet.opened.name
    for fact in one.kind.facts:
        if _is_below_song(cursor) and fact.name not in cursor.sheet.top and fact.name != "meter":
            take_fact(cursor.sheet, fact.name, fact.value, one.line)
            cursor.sheet.findings.guess(
                "settings-below",
                f'"{one_line(one.line.text)}" below the song is taken for all of it',
                one.line.place(),
            )
        else:  # under chords that stand once for the whole song they are the song's
            take = take_fact if above and fact.name != "meter" else take_late_fact
            take(cursor.sheet, fact.name, fact.value, one.line)


def _is_below_song(cursor: Cursor) -> bool:
    """Whether the last music of the sheet stands above the next line."""
    return cursor.at > cursor.last_music


def _is_of_all(cursor: Cursor, one: KnownLine) -> bool:
    """Whether a count below the song and apart from its last section may be of all of it ("three
    times through")."""
    above = cursor.known[cursor.at - 2 : cursor.at - 1]
    apart = bool(above) and isinstance(above[0].kind, Blank) and _is_below_song(cursor)
    several = bool(cursor.sheet.earlier.sections)
    return apart and several and counts_rounds(one.line.text)


def _remark(cursor: Cursor, one: KnownLine) -> None:
    """A word to the players, or how often the section is played that it closes."""
    assert isinstance(one.kind, Remark)
    cursor.at += 1
    said = cue_text(one.kind.text.lstrip(" ,;") or one.kind.text)  # "(2x), drums alone"
    feel = "" if cursor.sheet.opened.name else labelled_feel(one.kind.text)
    if take_feel(cursor.sheet, feel, one.line):
        return
    if not _is_of_all(cursor, one) and cursor.sheet.play_section(
        one.kind.text, _ends_section(cursor)
    ):
        return
    if _is_below_song(cursor):
        take_facts_said(cursor.sheet, one.line, without_meter=True)
    if cursor.sheet.opened.name and not cursor.sheet.begun and one.kind.text != NO_CHORDS:
        cursor.sheet.add_remark(said)
        if AS_BEFORE.fullmatch(one.kind.text.strip("() ")):
            cursor.sheet.like = cursor.sheet.like or SAME
        _take_other(cursor.sheet, one.kind.text)
    else:
        cursor.sheet.add(CueRow(said))
    cursor.sheet.findings.guess(
        "remark",
        f'"{one_line(one.kind.text)}" beside words is taken as said to the players: it is a cue'
        if one.kind.beside_words
        else "a line to the players without chords above is written as a cue",
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
    if _is_below_song(cursor):
        take_facts_said(cursor.sheet, one.line, without_meter=True)
    take_note(cursor.sheet, one.line)


def _roadmap(cursor: Cursor, one: KnownLine) -> None:
    assert isinstance(one.kind, Roadmap)
    cursor.at += 1
    cursor.sheet.take_roadmap(one.kind.stops, one.line)


def _letter(cursor: Cursor, one: KnownLine) -> None:
    cursor.at += 1
    if _is_below_song(cursor) and take_facts_said(cursor.sheet, one.line, without_meter=True):
        return  # the finding has the whole line
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
