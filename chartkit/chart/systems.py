"""Which words stand under which music.

A system is one row of music with the words under it.  In a section of its own music, words
rows belong to the music row above them.  In a section that is the *same as* another, words
rows go under the other's music rows in order; a numbered row that follows a lower number
with nothing between stacks under the same music.
"""

from dataclasses import dataclass, replace

from chartkit.chart.copies import copied_row, kept_marks
from chartkit.chart.model import (
    Chart,
    CommentRow,
    CueRow,
    MusicRow,
    Row,
    SettingRow,
    WordsRow,
)


@dataclass(frozen=True, slots=True)
class System:
    """A music row, the rows that announce something above it, and the words under it.

    ``music`` is None for cues and changes after the last music row of a section.
    """

    music: MusicRow | None
    words: tuple[WordsRow, ...] = ()
    above: tuple[CueRow | SettingRow, ...] = ()


def section_index(chart: Chart, name: str, before: int) -> int | None:
    """Where the last section of that name stands among the first ``before``, case aside."""
    for index in range(before - 1, -1, -1):
        if chart.sections[index].name.casefold() == name.casefold():
            return index
    return None


def sources(chart: Chart) -> tuple[int | None, ...]:
    """For each section the one it names as its music's, None where it names none: the last of
    that name before it, case aside."""
    last: dict[str, int] = {}
    found = []
    for index, section in enumerate(chart.sections):
        found.append(last.get(section.same_as.casefold()) if section.same_as else None)
        last[section.name.casefold()] = index
    return tuple(found)


def all_systems(chart: Chart) -> tuple[tuple[System, ...], ...]:
    """The systems of every section, as ``section_systems`` gives them one by one."""
    homes: list[int | None] = []
    for index, source in enumerate(sources(chart)):
        shared = None if source is None else homes[source]
        homes.append(shared if chart.sections[index].same_as else index)
    return tuple(_systems(chart, index, home) for index, home in enumerate(homes))


def music_home(chart: Chart, index: int) -> int | None:
    """The section whose rows hold the music of a section: itself, or the one it shares it with;
    None where that is missing."""
    found: int | None = index
    while found is not None and chart.sections[found].same_as:
        found = section_index(chart, chart.sections[found].same_as, found)
    return found


def music_rows(chart: Chart, index: int) -> tuple[Row, ...]:
    """The rows that hold the music of a section, another section's when it shares them."""
    home = music_home(chart, index)
    return () if home is None else chart.sections[home].rows


def _own_systems(rows: tuple[Row, ...]) -> list[System]:
    found: list[tuple[MusicRow | None, list[WordsRow], tuple[CueRow | SettingRow, ...]]] = []
    above: list[CueRow | SettingRow] = []
    for row in rows:
        if isinstance(row, MusicRow):
            found.append((row, [], tuple(above)))
            above = []
        elif isinstance(row, WordsRow) and found:
            found[-1][1].append(row)
        elif isinstance(row, CueRow | SettingRow):
            above.append(row)
    if above:
        found.append((None, [], tuple(above)))
    return [System(music, tuple(words), announced) for music, words, announced in found]


def words_stacks(rows: tuple[Row, ...]) -> list[tuple[WordsRow, ...]]:
    """The words rows of a section without music, gathered into stacks."""
    stacks: list[tuple[WordsRow, ...]] = []
    below: WordsRow | None = None
    for row in rows:
        if isinstance(row, CommentRow):
            continue
        if not isinstance(row, WordsRow):
            below = None
        elif _stacks_under(below, row):
            stacks[-1] = (*stacks[-1], row)
            below = row
        else:
            stacks.append((row,))
            below = row
    return stacks


def _stacks_under(above: WordsRow | None, row: WordsRow) -> bool:
    return (
        above is not None
        and above.verse is not None
        and row.verse is not None
        and row.verse > above.verse
    )


def section_systems(chart: Chart, index: int) -> tuple[System, ...]:
    """The systems of a section, those of a shared section with this one's words."""
    return _systems(chart, index, music_home(chart, index))


def _systems(chart: Chart, index: int, home: int | None) -> tuple[System, ...]:
    section = chart.sections[index]
    if not section.same_as:
        return tuple(_own_systems(section.rows))
    if home is None:
        return ()
    kept = kept_marks(chart, home, index)
    shared = [
        replace(system, music=copied_row(system.music, kept))
        for system in _own_systems(chart.sections[home].rows)
        if system.music is not None
    ]
    own = _own_systems(tuple(r for r in section.rows if isinstance(r, CueRow)))
    stacks = words_stacks(section.rows)
    systems = [
        System(system.music, stacks[i] if i < len(stacks) else (), system.above)
        for i, system in enumerate(shared)
    ]
    if own and systems:
        first = systems[0]
        systems[0] = System(first.music, first.words, (*own[0].above, *first.above))
    return tuple(systems)
