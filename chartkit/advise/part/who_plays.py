"""Where a chart says that others play alone, so that a second guitar is silent there.

``just guitar``, ``just Dan and piano``, ``piano and voice only`` and ``a cappella`` leave a second
guitar out, from the cue to the next one that brings the band in, or to the end of the section
(common practice, no source).
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from chartkit.advise.part.chord_occurrences import bar_starts
from chartkit.advise.register import Moment
from chartkit.chart.model import (
    Bar,
    BlankRow,
    Chart,
    CueRow,
    MusicRow,
    Row,
    Section,
    Segment,
    SettingRow,
    WordsRow,
)
from chartkit.chart.systems import System, all_systems, music_sections, placed_systems

SILENT = "silent here"
"""The cue to the player of the part."""

_LONGEST = 120
"""A cue of more letters is a text, and not read (ours)."""
_ONLY = frozenset({"just", "only"})
_AFTER = frozenset({"only", "alone", "solo"})
_WITH = frozenset({"and", "with", "plus"})
_BESIDE = frozenset(
    {"the", "a", "an", "one", "my", "your", "acoustic", "electric", "first", "lead", "upright"}
)
_NAMES_OF_PLAYERS = (
    "me us guitar gtr piano keys keyboard organ accordion bass drums drum kit percussion cajon "
    "shaker claps voice voices vocal vocals singer singers choir ukulele uke mandolin banjo fiddle "
    "violin cello sax saxophone trumpet flute clarinet harmonica whistle"
)
_PLAYERS = frozenset(_NAMES_OF_PLAYERS.split())
_UNACCOMPANIED = ("a cappella", "a capella", "acappella", "acapella", "unaccompanied")
_NAME = "Name"
"""What stands for each name of a player in a cue; no word in small letters is equal to it."""
Mine = frozenset[str]
"""Words in small letters that mean one player in a cue."""
NOBODY: Mine = frozenset()
FIRST_GUITAR: Mine = frozenset({"guitar", "gtr", "acoustic", "electric", "me", "us", _NAME})
"""Words for the first guitar; a name could be that player's."""
_ALL = frozenset({"band", "all", "everyone", "everybody", "tutti", "full", "guitars"})


def others_alone(cue: str) -> bool:
    """Whether a cue says that others play alone: ``quiet, just guitar``, ``me and one guitar
    only``.  A solo over the band (``guitar solo``) is none, nor are ``both guitars``."""
    if len(cue) > _LONGEST:
        return False
    clauses = [_WORD.findall(clause) for clause in re.split("[,;:.()]", cue)]
    return any(_is_alone(_with_names_marked(words)) for words in clauses if words)


_WORD = re.compile(r"[^\W_]+|[&+]")


_JOINING = _WITH | {"&", "+"}
"""What joins players; no name stands out where every word of a cue is capitalised."""


def _with_names_marked(words: Sequence[str]) -> list[str]:
    """The words in small letters, signs for "and" as words.  A capitalised word that is no
    instrument is a player's name where it is joined to others: ``just Dan and piano``."""
    small = ["and" if word in "&+" else word.casefold() for word in words]
    joined = [
        bool(_JOINING.intersection([*words[max(0, i - 1) : i], *words[i + 1 : i + 2]]))
        for i in range(len(words))
    ]
    known = _PLAYERS | _WITH | _BESIDE | _ONLY | _AFTER
    return [
        _NAME if word.istitle() and is_joined and plain not in known else plain
        for word, plain, is_joined in zip(words, small, joined, strict=True)
    ]


def _is_alone(words: Sequence[str]) -> bool:
    if any(name in " ".join(words) for name in _UNACCOMPANIED):
        return True
    for i, word in enumerate(words):
        if word in _ONLY and _are_players(words[i + 1 :]):
            return "not" not in words[:i]
    after = words[-1] in _AFTER and _are_players(words[:-1])
    return after and (words[-1] != "solo" or "and" in words)


def _are_players(words: Sequence[str]) -> bool:
    """Whether the words name players and nothing else: ``me and one guitar``."""
    known = _PLAYERS | _WITH | _BESIDE | {_NAME}
    return bool(_PLAYERS.intersection(words)) and known.issuperset(words)


def brings_in(cue: str) -> bool:
    """Whether a cue has the whole band play again: ``band back in``, ``all in``."""
    words = set(re.findall(r"[^\W_]+", cue[:_LONGEST].casefold()))
    return bool(words & _ALL) and not others_alone(cue)


@dataclass(frozen=True, slots=True)
class Silences:
    """A chart with rests where a second guitar is silent.

    ``sections`` are those, by number, that are silent throughout, with the cue that says so.
    """

    chart: Chart
    sections: dict[int, str]


def with_silences(chart: Chart, player: str = "") -> Silences:
    """The chart with bars of rest wherever a cue says that others play alone.  ``player`` is the
    name of who plays the second guitar, where it is known.

    A section that shares the music of another and differs from it in that gets rows of its own.
    """
    every = all_systems(chart)
    mine = frozenset(player.casefold().split())
    flags = [_silent(systems, mine) for systems in every]
    if not any(map(any, flags)):
        return Silences(chart, {})
    homes = music_sections(chart)
    sections, throughout = list[Section](), dict[int, str]()
    parted = set[int | None]()
    for index, (section, systems, silent) in enumerate(
        zip(chart.sections, every, flags, strict=True)
    ):
        home = homes[index]
        played = [
            flag for system, flag in zip(systems, silent, strict=True) if system.music is not None
        ]
        if played and all(played):
            throughout[index] = next(filter(others_alone, _cues(systems)))
        if home not in (None, index) and (home in parted or silent != flags[home or 0]):
            parted.add(home)
            section = replace(section, same_as="", rows=_written_out(systems))
        if any(row for row in section.rows if isinstance(row, MusicRow)):
            section = replace(section, rows=_rested(section.rows, mine))
        sections.append(section)
    return Silences(replace(chart, sections=tuple(sections)), throughout)


def _cues(systems: Sequence[System]) -> list[str]:
    return [row.text for system in systems for row in system.above if isinstance(row, CueRow)]


def _silent(systems: Sequence[System], mine: Mine = NOBODY) -> list[bool]:
    """Of each system whether a player is silent in it."""
    flags, silent = [], False
    for system in systems:
        for row in system.above:
            silent = _after(row, silent, mine)
        flags.append(silent)
    return flags


def _after(row: Row, silent: bool, mine: Mine = NOBODY) -> bool:
    """Whether a player is silent after a row, if he is before; ``mine`` are words for him."""
    if not isinstance(row, CueRow):
        return silent
    if others_alone(row.text):
        words = _WORD.findall(row.text)
        return mine.isdisjoint([*_with_names_marked(words), *map(str.casefold, words)])
    return silent and not brings_in(row.text)


def heard(moments: Sequence[Moment], chart: Chart, mine: Mine = NOBODY) -> tuple[Moment, ...]:
    """A player's moments without the bars in which a cue of the chart has others play alone; in
    beats from the start, as ``bar_starts`` counts them.  ``mine`` are words for the player."""
    rows = {
        (section, home, row)
        for section, placed in enumerate(placed_systems(chart))
        for (home, row, _), silent in zip(
            placed, _silent([system for _, _, system in placed], mine), strict=True
        )
        if silent
    }
    kept = list(moments)
    for bar, after in pairwise(bar_starts(chart) if rows else ()):
        if bar.row_place in rows:
            kept = [
                part for part_before in kept for part in _outside(part_before, bar.beat, after.beat)
            ]
    return tuple(kept)


def _outside(moment: Moment, start: float, end: float) -> list[Moment]:
    """What is left of a moment outside a period."""
    if moment.end <= start or moment.start >= end:
        return [moment]
    before = [replace(moment, end=start)] if moment.start < start else []
    return [*before, replace(moment, start=end)] if moment.end > end else before


def _written_out(systems: Sequence[System]) -> tuple[Row, ...]:
    """The rows of a section that has music of its own from now on."""
    rows: list[Row] = []
    for system in systems:
        rows += [BlankRow()] if rows else []
        rows += [*system.above, *([system.music] if system.music else []), *system.words]
    return (*rows, BlankRow())


def _rested(rows: Sequence[Row], mine: Mine) -> tuple[Row, ...]:
    """The rows with rests in place of what a second guitar does not play, and a cue that says so
    under the writer's."""
    silent, made = False, list[Row]()
    for row in rows:
        now = _after(row, silent, mine)
        made.append(row)
        if now and not silent:
            made.append(CueRow(SILENT))
        silent = now
        if silent and isinstance(row, MusicRow):
            made[-1] = replace(row, bars=tuple(map(_rest, row.bars)))
        elif silent and isinstance(row, WordsRow):
            made[-1] = replace(row, cells=tuple(map(_unparted, row.cells)))
        elif silent and isinstance(row, SettingRow) and row.name == "capo":
            made.pop()
    return tuple(made)


def _rest(bar: Bar) -> Bar:
    """The bar as a rest, its meter, cues and marks kept; a bar in free time has no chord."""
    if not bar.length:
        strikes = tuple(replace(strike, chord=None) for strike in bar.strikes[:1])
        return replace(bar, strikes=strikes)
    return Bar(
        length=bar.length,
        pickup=bar.pickup,
        cues=bar.cues,
        marks=bar.marks,
        rest=bar.lasts,
        meter=bar.meter,
        span=bar.span,
    )


def _unparted(cell: tuple[Segment, ...]) -> tuple[Segment, ...]:
    """The words of a bar in one piece: there are no chords to stand under."""
    if len(cell) < 2:
        return cell
    text = "".join(
        f"{segment.text}{'' if segment.split else ' '}" for segment in cell if segment.text
    ).strip()
    return (replace(cell[0], text=text, split=cell[-1].split, held=False),)
