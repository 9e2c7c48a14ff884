"""Which words stand under which music, and which section plays another again.

A system is one row of music with the words under it, or a stanza of words alone.

- In a section of its own music, words rows belong to the music row above them.  Before the first
  music row, and after a row that parts them from it (blank, cue, setting), a words row without bar
  lines stands alone: its music is not known.
- In a section that is the *same as* another, words rows go under the other's music rows in order; a
  numbered row that follows a lower number with nothing between stacks under the same music.
- A bare heading with the name of an earlier section plays that section again, words and all.
- With a key or a meter of its own, such a section is moved (``moved_sections.py``): it then has
  music of its own here.
- What a heading of shared music says itself, a cue or a setting, stands in place of the cues and of
  that setting above the first row it shares.  What a bare heading says holds for that time alone.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from chartkit.chart.copies import copied_row, kept_marks
from chartkit.chart.model import (
    BlankRow,
    Chart,
    CommentRow,
    CueRow,
    MusicRow,
    Row,
    Section,
    SettingRow,
    WordsRow,
)

_PASSING = ("tempo", "feel", "capo")
"""Settings under a bare heading that change how a section is played, not what."""
_UNDER_BARE = (*_PASSING, "key", "meter")
"""The settings that may stand under a bare heading."""


@dataclass(frozen=True, slots=True)
class System:
    """A music row, the rows that announce something above it, and the words under it.

    ``music`` is None for a stanza of words alone, one row to a line, and for cues and changes
    after the last music row of a section.
    """

    music: MusicRow | None
    words: tuple[WordsRow, ...] = ()
    above: tuple[CueRow | SettingRow, ...] = ()


# ---- sections that name others
def is_bare(section: Section) -> bool:
    """Whether a heading has no music and no words of its own, so that an earlier section of its
    name is played again.  A cue and settings that may change inside a song may stand under it."""
    return (
        bool(section.name)
        and not section.same_as
        and not any(
            isinstance(row, MusicRow | WordsRow)
            or (isinstance(row, SettingRow) and row.name not in _UNDER_BARE)
            for row in section.rows
        )
    )


def is_moved(section: Section) -> bool:
    """Whether a heading that names an earlier section has a key or a meter under it."""
    return (bool(section.same_as) or is_bare(section)) and any(
        isinstance(row, SettingRow) and row.name in ("key", "meter") for row in section.rows
    )


def shared_sections(chart: Chart) -> tuple[int | None, ...]:
    """For each section the one whose music it has, None for music of its own: the last section
    before it with the name after "as" or, for a bare heading, with its own name, ignoring case."""
    return tuple(
        None if section.as_typed is not None else source
        for section, source in zip(chart.sections, _named_sections(chart), strict=True)
    )


def sections_again(chart: Chart) -> tuple[int | None, ...]:
    """For each section the one that it plays again, words and all, moved or not; None for any
    other."""
    return tuple(
        source if is_bare(section.as_typed or section) else None
        for section, source in zip(chart.sections, _named_sections(chart), strict=True)
    )


def _named_sections(chart: Chart) -> Iterator[int | None]:
    """For each section the earlier one that its heading names.  One that is moved under its own
    name is so for that time alone: later headings name the section before it."""
    last: dict[str, int] = {}
    for index, section in enumerate(chart.sections):
        typed = section.as_typed or section
        bare = is_bare(typed)
        named = typed.name if bare else typed.same_as
        yield last.get(named.casefold()) if named else None
        if section.as_typed is None or not bare:
            last[section.name.casefold()] = index


def music_sections(chart: Chart) -> tuple[int | None, ...]:
    """For each section the one whose rows hold its music: itself, or the one it leads back to.

    None for a section "as" one that is not there.
    """
    resolved: list[int | None] = []
    for index, (section, source) in enumerate(
        zip(chart.sections, shared_sections(chart), strict=True)
    ):
        own = None if section.same_as else index
        resolved.append(own if source is None else resolved[source])
    return tuple(resolved)


def plays_again(chart: Chart) -> tuple[str, ...]:
    """For each section the name of the earlier one it has its music from, empty for its own."""
    return tuple(
        section.same_as or ("" if source is None else chart.sections[source].name)
        for section, source in zip(chart.sections, shared_sections(chart), strict=True)
    )


def music_rows(chart: Chart, index: int) -> tuple[Row, ...]:
    """The rows that hold the music of a section, another section's when it shares them."""
    written_in = music_sections(chart)[index]
    return () if written_in is None else chart.sections[written_in].rows


# ---- systems
def all_systems(chart: Chart) -> tuple[tuple[System, ...], ...]:
    """The systems of every section. A section that shares music has its own words; one that is
    played again is unchanged."""
    systems: list[tuple[System, ...]] = []
    written: list[tuple[System, ...]] = []
    where_written = music_sections(chart)
    kept_in = kept_marks(chart, where_written)
    origins = zip(chart.sections, shared_sections(chart), where_written, kept_in, strict=True)
    for section, source, written_in, kept in origins:
        if source is not None and not section.same_as:
            own = written[source]
        elif section.same_as:
            own = _shared_systems(
                section, () if written_in is None else chart.sections[written_in].rows
            )
        else:
            systems.append(tuple(_own_systems(section.rows)))
            written.append(systems[-1])
            continue
        systems.append(_announced(section, tuple(_copied(system, kept) for system in own)))
        written.append(systems[-1] if section.same_as else own)
    return tuple(systems)


def placed_systems(chart: Chart) -> tuple[tuple[tuple[int, int, System], ...], ...]:
    """For each section its systems with music, each as ``(section, row, system)``: the numbers of
    the section and the row, counting rows of every kind, that hold the music as it is written.  A
    section without music has no systems."""
    written = [
        [index for index, row in enumerate(section.rows) if isinstance(row, MusicRow)]
        for section in chart.sections
    ]
    placed = []
    for systems, written_in in zip(all_systems(chart), music_sections(chart), strict=True):
        played = [system for system in systems if system.music is not None]
        rows = [] if written_in is None else written[written_in]
        placed.append(
            tuple((written_in or 0, row, system) for row, system in zip(rows, played, strict=False))
        )
    return tuple(placed)


def _copied(system: System, kept: tuple[str, ...]) -> System:
    """The system as it stands in a copy, with those kinds of marks alone."""
    if system.music is None:
        return system
    return replace(system, music=copied_row(system.music, kept))


def section_systems(chart: Chart, index: int) -> tuple[System, ...]:
    """The systems of one section."""
    return all_systems(chart)[index]


def rows_of(systems: Iterable[System]) -> tuple[Row, ...]:
    """The rows of a section that has these systems for its own."""
    rows: list[Row] = []
    for system in systems:
        rows += system.above
        rows += () if system.music is None else (system.music,)
        rows += (*system.words, BlankRow())
    return tuple(rows)


def stands_alone(row: WordsRow, parted: bool) -> bool:
    """Whether a row of words has no music: it has no bar lines, and something ``parted`` it from
    the music above it, or there is none."""
    return parted and len(row.cells) == 1


def _own_systems(rows: tuple[Row, ...]) -> Iterator[System]:
    """The systems of a section with music of its own, in order."""
    open_system: System | None = None
    above: list[CueRow | SettingRow] = []
    parted = True
    for row in rows:
        if isinstance(row, MusicRow) or (isinstance(row, WordsRow) and stands_alone(row, parted)):
            if open_system is not None:
                yield open_system
            music = row if isinstance(row, MusicRow) else None
            words = (row,) if isinstance(row, WordsRow) else ()
            open_system, above, parted = System(music, words, tuple(above)), [], False
        elif isinstance(row, WordsRow) and open_system is not None:
            open_system = replace(open_system, words=(*open_system.words, row))
        elif isinstance(row, CueRow | SettingRow):
            above.append(row)
        parted = parted or not isinstance(row, MusicRow | WordsRow | CommentRow)
    if open_system is not None:
        yield open_system
    if above:
        yield System(None, (), tuple(above))


def _shared_systems(section: Section, music: tuple[Row, ...]) -> tuple[System, ...]:
    """The systems of a section with the music of another and words of its own."""
    shared = [system for system in _own_systems(music) if system.music is not None]
    stacks = words_stacks(section.rows)
    return tuple(
        System(system.music, stacks[i] if i < len(stacks) else (), system.above)
        for i, system in enumerate(shared)
    )


def _announced(section: Section, systems: tuple[System, ...]) -> tuple[System, ...]:
    """The systems with what the section itself announces above the first of them, in place of what
    the music it shares says there of the same kind."""
    own = tuple(
        row
        for row in section.rows
        if isinstance(row, CueRow) or (isinstance(row, SettingRow) and row.name in _PASSING)
    )
    if not own:
        return systems
    if not systems:
        return (System(None, (), own),)
    first, *others = systems
    said = {_kind(row) for row in own}
    kept = (row for row in first.above if _kind(row) not in said)
    return (replace(first, above=(*own, *kept)), *others)


def _kind(row: CueRow | SettingRow) -> str:
    return "cue" if isinstance(row, CueRow) else row.name


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
