"""Sections that say less than was meant: a bare heading, verses cut short, one name for two."""

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence

from chartkit.chart.model import Chart, CueRow, MusicRow, Row, Section, WordsRow
from chartkit.chart.systems import music_rows, words_stacks
from chartkit.syntax.report import Report

_LIKE = re.compile(r"(.+?)\W*\b(?:same as|like|as|wie)\s+(.+?)\W*", re.IGNORECASE)
"""A name that says whose music a section has, in other words than "as"."""
_NUMBERED = re.compile(r"(.*?)\s*(\d{1,3})")


def check_sections(chart: Chart, length: int, report: Report) -> None:
    """Warns of headings with nothing under them, of verses with fewer rows of words than there
    are rows of music, and of music taken from one of two sections that share a name."""
    ends = [*(section.span.start for section in chart.sections[1:]), length]
    faults = sorted(one.span.start for one in report.found)
    for number, (section, end) in enumerate(zip(chart.sections, ends, strict=True)):
        start = section.span.start
        faulty = bisect_left(faults, start) < bisect_left(faults, max(start, end))
        if section.same_as:
            _check_shared(chart, number, report)
            _check_name_shared(chart, number, report)
        elif section.name and not faulty and not any(map(_is_played, section.rows)):
            _warn_bare(section, chart.sections[:number], report)


def _is_played(row: Row) -> bool:
    return isinstance(row, MusicRow | WordsRow | CueRow)


def _warn_bare(section: Section, earlier: Sequence[Section], report: Report) -> None:
    full = (one for one in earlier if one.same_as or any(map(_is_played, one.rows)))
    names = {one.name.casefold(): one.name for one in full if one.name}
    report.warn(
        "section-without-music", *section.span,
        f'there is neither music nor words under "{section.name}"',
        *_bare_hints(section, names),
    )  # fmt: skip


def _bare_hints(section: Section, names: dict[str, str]) -> Iterator[str]:
    times = f" x{section.times}" if section.times > 1 else ""
    like = _LIKE.fullmatch(section.name)
    if section.name.casefold() in names:
        fresh, played = _next_name(section.name, names), names[section.name.casefold()]
        yield f'to play it again: "== {fresh} as {played}{times}"'
    elif like is not None and like[2].casefold() in names:
        yield f'for the same music: "== {like[1]} as {names[like[2].casefold()]}{times}"'
    else:
        yield "write its bars under it; for the players alone put a cue there, in quotes"
        if names:
            *_, last = names.values()
            yield f'for the music of an earlier section: "== {section.name} as {last}{times}"'


def _next_name(name: str, names: dict[str, str]) -> str:
    """The name with the first number that no section has: Chorus 2, Verse 3."""
    numbered = _NUMBERED.fullmatch(name)
    stem, number = (numbered[1], int(numbered[2])) if numbered is not None else (name, 1)
    number += 1
    while f"{stem} {number}".strip().casefold() in names:
        number += 1
    return f"{stem} {number}".strip()


def _check_shared(chart: Chart, number: int, report: Report) -> None:
    """Warns where words end before those of the section whose music they have."""
    section = chart.sections[number]
    rows = music_rows(chart, number)
    music = [row for row in rows if isinstance(row, MusicRow)]
    stacks = words_stacks(section.rows)
    wanted = _rows_sung(rows) or len(music)
    if not stacks or len(stacks) >= wanted:
        return
    bars = music[len(stacks)]
    empty = ":" if bars.free else f":{' |' * (len(bars.bars) + (bars.lines[0].kind != 'none'))}"
    report.warn(
        "words-end-early", *stacks[-1][-1].span,
        f'"{section.same_as}" has {wanted} rows to be sung, and this section has words for '
        f"{len(stacks)}",
        "write a row of words for each of them",
        f'where nothing is sung a row is left empty: "{empty}"',
    )  # fmt: skip


def _rows_sung(rows: Sequence[Row]) -> int:
    """How many rows of music there are up to the last one with words."""
    music = sung = 0
    for row in rows:
        if isinstance(row, MusicRow):
            music += 1
        elif isinstance(row, WordsRow):
            sung = music
    return sung


def _check_name_shared(chart: Chart, number: int, report: Report) -> None:
    section = chart.sections[number]
    named = [one for one in chart.sections[:number]
             if one.name.casefold() == section.same_as.casefold()]  # fmt: skip
    music = {tuple(row for row in one.rows if isinstance(row, MusicRow)) for one in named}
    if len(music - {()}) > 1:
        report.warn(
            "name-of-two-sections", *section.span,
            f'two sections before this are called "{section.same_as}", with other music each; '
            "that of the later one is played",
            f'give each a name of its own, such as "{named[0].name} 2", and write it after "as"',
        )  # fmt: skip
