"""A new key that is said between two sections ("Key change to A"): the next one begins in it.

Source of the words that say so: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import Bar, CueRow, MusicRow, Row, Section, SettingRow
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.names.section_keys import key_said_in
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME
from chartkit.theory.chord import moved_chord
from chartkit.theory.key import MOST_SIGNS, Key

_CHANGES = re.compile(
    rf"\b(?:keys|key-?change|modul\w*|tonart\w*|tonalit\w*|tonalidad\w*|{KEY_NAME})\b",
    re.IGNORECASE,
)


def with_key_changes(
    sections: Sequence[Section], key: Key | None, findings: Findings
) -> list[Section]:
    """The sections; where a remark that names a new key ends one, it stands over the next, whose
    chords, and those of later ones that are only named, are written out in that key."""
    result = list(sections)
    current: Key | None = None
    for at, one in enumerate(sections):
        one = result[at]
        if current is not None and key is not None:
            one = result[at] = _in_new_key(one, sections[:at], key, current, findings)
        said = _said_at_end(one)
        new = key_said_in(said[-1].text) if said and key is not None else None
        if new is None or key is None or at + 1 == len(sections):
            continue
        current = replace(new, mode=key.mode) if new.mode == "major" else new
        result[at] = replace(one, rows=tuple(row for row in one.rows if row not in said))
        below = result[at + 1]
        result[at + 1] = replace(below, rows=(*said, *below.rows))
    return result


def _said_at_end(section: Section) -> list[CueRow]:
    """The remark of a new key that ends a section with music; nothing for others."""
    last = section.rows[-1] if section.rows else None
    if not isinstance(last, CueRow) or _CHANGES.search(last.text) is None:
        return []
    return [last] if any(isinstance(row, MusicRow) for row in section.rows) else []


def _in_new_key(
    one: Section, above: Sequence[Section], old: Key, new: Key, findings: Findings
) -> Section:
    """A section that is only named with the music of the earlier one of its name in a new key."""
    if any(isinstance(row, MusicRow) for row in one.rows):
        return one
    name = (one.same_as or one.name).casefold()
    home = next(
        (
            other
            for other in reversed(above)
            if other.name.casefold() == name
            and any(isinstance(row, MusicRow) for row in other.rows)
        ),
        None,
    )
    if home is None or abs(new.signature) > MOST_SIGNS:
        return one
    findings.guess(
        "section-in-new-key",
        f'the chords of "{one.name}" are written out in {new}',
        f"{one.span.start}:1",
    )
    by = new.tonic - old.tonic
    own: list[Row] = [row for row in home.rows if not isinstance(row, CueRow)]
    if one.same_as:
        own = [row for row in own if isinstance(row, MusicRow | SettingRow)]
    rows = [row_moved(row, by) if isinstance(row, MusicRow) else row for row in own]
    return replace(one, same_as="", rows=(*one.rows, SettingRow("key", new), *rows))


def row_moved(row: MusicRow, by: int) -> MusicRow:
    """A row with its chords moved along the line of fifths."""
    return replace(row, bars=tuple(_bar_moved(bar, by) for bar in row.bars))


def _bar_moved(bar: Bar, by: int) -> Bar:
    return replace(
        bar,
        strikes=tuple(
            replace(one, chord=moved_chord(one.chord, by)) if one.chord is not None else one
            for one in bar.strikes
        ),
    )
