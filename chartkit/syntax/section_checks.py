"""Checks of sections: bare headings, verses cut short, one name for two sections."""

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from chartkit.chart.model import Chart, CueRow, MusicRow, Row, Section, WordsRow
from chartkit.chart.systems import is_bare, music_sections, words_stacks
from chartkit.phrases import nearest
from chartkit.syntax.report import Report
from chartkit.syntax.shared_music import said_like

_AGAIN = re.compile(r"\s*\(?(?:again|once more|repeat(?:ed)?)\)?$", re.IGNORECASE)
"""Words after a name that ask for the section again."""


@dataclass(frozen=True, slots=True)
class _Music:
    """The rows of music of a section, how many there are up to the last one with words, and
    whether it has words alone."""

    rows: tuple[MusicRow, ...] = ()
    sung: int = 0
    words_alone: bool = False


def _music_of(rows: Sequence[Row]) -> _Music:
    music, sung = list[MusicRow](), 0
    for row in rows:
        if isinstance(row, MusicRow):
            music.append(row)
        elif isinstance(row, WordsRow):
            sung = len(music)
    words_alone = not music and any(isinstance(row, WordsRow) for row in rows)
    return _Music(tuple(music), sung, words_alone)


@dataclass(slots=True)
class _Earlier:
    """The sections so far, by their names without case: the names as written, the music of
    each, and which names stand for two sections with other music each."""

    names: dict[str, str] = field(default_factory=dict)
    music: dict[str, _Music] = field(default_factory=dict)
    twice: set[str] = field(default_factory=set)

    def add(self, section: Section) -> None:
        """Adds a section. One with nothing under it, or only a cue, that plays an earlier one of
        its name again does not replace that."""
        name = section.name.casefold()
        if is_bare(section) and name in self.music:
            return
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


_MOST_BARS_AGAIN = 60_000
"""How many bars the sections that come again may have in all: as many as a file may hold (ours)."""


def is_too_long(chart: Chart, report: Report) -> bool:
    """Whether sections that come again make the song too long to be worked with, which is then
    reported at the heading where it gets too long."""
    bars = [
        sum(len(row.bars) for row in section.rows if isinstance(row, MusicRow))
        for section in chart.sections
    ]
    total = 0
    for number, home in enumerate(music_sections(chart)):
        total += 0 if home in (None, number) else bars[home or 0]
        if total > _MOST_BARS_AGAIN:
            report.add(
                "song-too-long",
                *chart.sections[number].span,
                f"up to here, sections come again for {total:,} bars, too many to read",
                "take headings out, or write a section that comes again several times once, "
                'with "x2" after its name',
            )
            return True
    return False


def check_sections(chart: Chart, length: int, report: Report) -> None:
    """Warns of headings with nothing under them, of verses with fewer rows of words than there
    are rows of music, and of music taken from one of two sections that share a name."""
    ends = [*(section.span.start for section in chart.sections[1:]), length]
    faults = sorted(diagnostic.span.start for diagnostic in report.diagnostics)
    earlier = _Earlier()
    for section, end in zip(chart.sections, ends, strict=True):
        start = section.span.start
        faulty = bisect_left(faults, start) < bisect_left(faults, max(start, end))
        if section.same_as:
            _check_shared(section, earlier.music.get(section.same_as.casefold(), _Music()), report)
            _check_name_shared(section, earlier, report)
        elif section.name and not faulty and not any(map(_is_played, section.rows)):
            played_again = is_bare(section) and section.name.casefold() in earlier.names
            if not played_again:
                _warn_bare(section, earlier.names, report)
        earlier.add(section)


def _is_played(row: Row) -> bool:
    return isinstance(row, MusicRow | WordsRow | CueRow)


def _warn_bare(section: Section, names: dict[str, str], report: Report) -> None:
    report.warn(
        "section-without-music",
        *section.span,
        f'there is neither music nor words under "{section.name}"',
        *_bare_hints(section, names),
    )


def _bare_hints(section: Section, names: dict[str, str]) -> Iterator[str]:
    times = f" x{section.times}" if section.times > 1 else ""
    own, whose = said_like(section.name)
    again = _AGAIN.sub("", section.name)
    if again != section.name and again.casefold() in names:
        yield f'to play it again write its own name: "== {names[again.casefold()]}{times}"'
    elif meant := _misspelled(section.name, names.values()):
        yield f'to play it again write its own name: "== {meant}{times}"'
    elif own and whose.casefold() in names:
        yield f'for the same music: "== {own} as {names[whose.casefold()]}{times}"'
    else:
        yield "write its bars under it, or a remark to the players as a cue, in quotes"
        last = next((name for name in reversed(names.values()) if name), "")
        if last:
            yield f'for the music of an earlier section: "== {section.name} as {last}{times}"'


def _misspelled(name: str, names: Iterable[str]) -> str:
    """The earlier name that a heading was most likely meant to have; empty if there is none.  One
    with another number or letter is another section's."""
    known = [one for one in names if one][-_MOST_COMPARED:]
    alike = [
        one for one in known if _TELLING.findall(one.lower()) == _TELLING.findall(name.lower())
    ]
    folded = {_SIGNS.sub("", one).casefold(): one for one in known}
    return folded.get(_SIGNS.sub("", name).casefold(), "") or nearest(name, alike, _ALIKE)


_TELLING = re.compile(r"\d+|\b[^\W\d_]\b")
"""Numbers and single letters, which tell sections of one kind apart."""
_SIGNS = re.compile(r"[\W_]+")
_ALIKE = 0.8
"""How like a name another must be to be a slip of the pen: two letters in six changed (ours)."""
_MOST_COMPARED = 100


def _check_shared(section: Section, music: _Music, report: Report) -> None:
    """Warns where words end before those of the section whose music they have."""
    if music.words_alone or (not music.rows and words_stacks(section.rows)):
        report.add(
            "nothing-to-share",
            *section.span,
            f'"{section.same_as}" has no music for this section to share',
            f'to sing its words again, write its name alone: "== {section.same_as}"',
            'words alone need no "as": take it out, and the name after it',
        )
        return
    stacks = words_stacks(section.rows)
    wanted = music.sung or len(music.rows)
    if not stacks or len(stacks) >= wanted:
        return
    bars = music.rows[len(stacks)]
    empty = ":" if bars.free else f":{' |' * (len(bars.bars) + (bars.lines[0].kind != 'none'))}"
    report.warn(
        "words-end-early",
        *stacks[-1][-1].span,
        f'"{section.same_as}" has {wanted} rows with words, and this section has words for '
        f"{len(stacks)}",
        "write a row of words for each of them",
        f'where nothing is sung a row is left empty: "{empty}"',
    )


def _check_name_shared(section: Section, earlier: _Earlier, report: Report) -> None:
    name = section.same_as.casefold()
    if name in earlier.twice:
        report.warn(
            "name-of-two-sections",
            *section.span,
            f'two sections before this are called "{section.same_as}", with different music; '
            "the later one is used",
            f'give each a name of its own, such as "{earlier.names[name]} 2", and write it after '
            '"as"',
        )
