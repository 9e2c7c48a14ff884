"""Sections that say less than was meant: a bare heading, verses cut short, one name for two."""

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from chartkit.chart.model import Chart, CueRow, MusicRow, Row, Section, WordsRow
from chartkit.chart.systems import words_stacks
from chartkit.syntax.report import Report

_LIKE = re.compile(r"\s\(?(?:same as|like|as|wie)\s", re.IGNORECASE)
"""What says in a name, in other words than "as", whose music a section has."""
_AROUND = " ()[].,:;-="
_NUMBERED = re.compile(r"(.*?)\s*(\d{1,3})")


@dataclass(frozen=True, slots=True)
class _Music:
    """The rows of music of a section, and how many there are up to the last one with words."""

    rows: tuple[MusicRow, ...] = ()
    sung: int = 0


def _music_of(rows: Sequence[Row]) -> _Music:
    music, sung = list[MusicRow](), 0
    for row in rows:
        if isinstance(row, MusicRow):
            music.append(row)
        elif isinstance(row, WordsRow):
            sung = len(music)
    return _Music(tuple(music), sung)


@dataclass(slots=True)
class _Earlier:
    """The sections so far, by their names without case: the names as written, the music of
    each, and which names stand for two sections with other music each."""

    names: dict[str, str] = field(default_factory=dict)
    music: dict[str, _Music] = field(default_factory=dict)
    twice: set[str] = field(default_factory=set)

    def add(self, section: Section) -> None:
        """Takes a section in.  One with nothing under it leaves those before it in place."""
        name = section.name.casefold()
        if section.same_as:
            music = self.music.get(section.same_as.casefold(), _Music())
        elif any(map(_is_played, section.rows)):
            music = _music_of(section.rows)
        else:
            return
        before = self.music.get(name, music)
        if before is not music and before.rows and music.rows and before.rows != music.rows:
            self.twice.add(name)
        self.names[name] = section.name
        self.music[name] = music


def check_sections(chart: Chart, length: int, report: Report) -> None:
    """Warns of headings with nothing under them, of verses with fewer rows of words than there
    are rows of music, and of music taken from one of two sections that share a name."""
    ends = [*(section.span.start for section in chart.sections[1:]), length]
    faults = sorted(one.span.start for one in report.found)
    earlier = _Earlier()
    for section, end in zip(chart.sections, ends, strict=True):
        start = section.span.start
        faulty = bisect_left(faults, start) < bisect_left(faults, max(start, end))
        if section.same_as:
            _check_shared(section, earlier.music.get(section.same_as.casefold(), _Music()), report)
            _check_name_shared(section, earlier, report)
        elif section.name and not faulty and not any(map(_is_played, section.rows)):
            _warn_bare(section, earlier.names, report)
        earlier.add(section)


def _is_played(row: Row) -> bool:
    return isinstance(row, MusicRow | WordsRow | CueRow)


def _warn_bare(section: Section, names: dict[str, str], report: Report) -> None:
    report.warn(
        "section-without-music", *section.span,
        f'there is neither music nor words under "{section.name}"',
        *_bare_hints(section, names),
    )  # fmt: skip


def _bare_hints(section: Section, names: dict[str, str]) -> Iterator[str]:
    times = f" x{section.times}" if section.times > 1 else ""
    own, whose = _said_like(section.name)
    if section.name.casefold() in names:
        fresh, played = _next_name(section.name, names), names[section.name.casefold()]
        yield f'to play it again: "== {fresh} as {played}{times}"'
    elif own and whose.casefold() in names:
        yield f'for the same music: "== {own} as {names[whose.casefold()]}{times}"'
    else:
        yield "write its bars under it; for the players alone put a cue there, in quotes"
        if names:
            last = next(reversed(names.values()))
            yield f'for the music of an earlier section: "== {section.name} as {last}{times}"'


def _said_like(name: str) -> tuple[str, str]:
    """The section's own name and the one it is said to be like; empty where that is not said."""
    found = _LIKE.search(name)
    if found is None:
        return "", ""
    return name[: found.start()].strip(_AROUND), name[found.end() :].strip(_AROUND)


def _next_name(name: str, names: dict[str, str]) -> str:
    """The name with the first number that no section has: Chorus 2, Verse 3."""
    numbered = _NUMBERED.fullmatch(name)
    stem, number = (numbered[1], int(numbered[2])) if numbered is not None else (name, 1)
    number += 1
    while f"{stem} {number}".strip().casefold() in names:
        number += 1
    return f"{stem} {number}".strip()


def _check_shared(section: Section, music: _Music, report: Report) -> None:
    """Warns where words end before those of the section whose music they have."""
    stacks = words_stacks(section.rows)
    wanted = music.sung or len(music.rows)
    if not stacks or len(stacks) >= wanted:
        return
    bars = music.rows[len(stacks)]
    empty = ":" if bars.free else f":{' |' * (len(bars.bars) + (bars.lines[0].kind != 'none'))}"
    report.warn(
        "words-end-early", *stacks[-1][-1].span,
        f'"{section.same_as}" has {wanted} rows to be sung, and this section has words for '
        f"{len(stacks)}",
        "write a row of words for each of them",
        f'where nothing is sung a row is left empty: "{empty}"',
    )  # fmt: skip


def _check_name_shared(section: Section, earlier: _Earlier, report: Report) -> None:
    name = section.same_as.casefold()
    if name in earlier.twice:
        report.warn(
            "name-of-two-sections", *section.span,
            f'two sections before this are called "{section.same_as}", with other music each; '
            "that of the later one is played",
            f'give each a name of its own, such as "{earlier.names[name]} 2", and write it after '
            '"as"',
        )  # fmt: skip
