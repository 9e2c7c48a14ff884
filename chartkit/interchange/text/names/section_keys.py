"""The keys of sections that are played in another key than the song: what is said beside their
names ("Chorus (in D)", "Last Chorus - key change up to B") and what their chords show.

A key is written above a section only where its chords lie in it; a false one would tell a player
with a transposing instrument, and every count of degrees, what is not so.  Source of the words:
common practice, no source.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from chartkit.chart.model import CueRow, MusicRow, Row, Section, SettingRow
from chartkit.chart.walk import iter_chords
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME, key_of
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of

_KEY = (
    r"(?P<key>[A-H](?:is|es|[#b♯♭])?(?:[ -]?(?:m|min|minor|maj|major|dur|moll|mineur|majeur|menor|"
    r"mayor|minore|maggiore|flat|sharp)){0,2})(?![^\W_]|[/#])"
)
_SAID = re.compile(
    r"(?:^|(?<=[\s(,;:–—-]))(?:(?:up|down|change|changes|modulate|modulates|modulation|goes|rauf|hoch|"
    r"arriba|sobe|sale|upp|opp|monte|nach|vers)\b[^()]{0,30}?)?"
    rf"(?:(?i:in|en|em|i|to|into|nach|auf|key of|new key|key is|{KEY_NAME})\s*[:=]?\s+|"
    rf"(?:->|=>|→|➝|⇒|[:=])\s*){_KEY}"
)
"""A key that is said beside a section's name."""
_ENOUGH = 0.6
"""So much of a section's chords lies in its key (ours)."""
_ROOT_ALONE = 0.5
"""The weight of a chord of which only the root lies in the scale (ours)."""
_LONGEST = 80


def names_a_key(text: str) -> bool:
    """Whether a text says in which key something is played."""
    return _SAID.search(text[:_LONGEST]) is not None


def key_said_in(text: str) -> Key | None:
    """The key that a text names; None where it names none."""
    match = _SAID.search(text[:_LONGEST])
    return key_of(match["key"]) if match is not None else None


def lies_in(key: Key, chords: Sequence[Chord]) -> float:
    """The share of some chords that lies in a key's scale."""
    scale = {pitch_class_of(note) for note in key.scale}
    weights = (
        1.0 if one.pitch_classes <= scale else _ROOT_ALONE * (pitch_class_of(one.root) in scale)
        for one in chords
    )
    return sum(weights) / len(chords) if chords else 0.0


def is_plausible(key: Key, chords: Sequence[Chord]) -> bool:
    """Whether most of a section's chords lie in a key."""
    return lies_in(key, chords) >= _ENOUGH


def with_keys_said(
    sections: Sequence[Section], home: Key | None, findings: Findings
) -> list[Section]:
    """The sections; one that is said to be in another key has it above its music, and so has the
    next one whose chords lie better in the key of the song, ``home``."""
    result: list[Section] = []
    current = home
    for one in sections:
        chords = [*iter_chords([one])]
        given = _given(one)
        said = None if given is not None or not chords else _key_said(one, chords, current)
        if given is not None:
            current = given
        elif said is not None:
            one, current = _in_key(one, said), said
            findings.guess(
                "section-key",
                f'"{one.name}" is said to be in {said}, and its chords are',
                f"{one.span.start}:1",
            )
        elif chords and home is not None and current not in (None, home):
            assert current is not None
            if lies_in(home, chords) > lies_in(current, chords):
                one, current = _in_key(one, home), home
        result.append(one)
    return result


def _given(section: Section) -> Key | None:
    """The last key that a section has in a row of its own."""
    keys = [
        row.value
        for row in section.rows
        if isinstance(row, SettingRow) and row.name == "key" and isinstance(row.value, Key)
    ]
    return keys[-1] if keys else None


def _key_said(section: Section, chords: Sequence[Chord], current: Key | None) -> Key | None:
    """The key that is said beside a section's name, if it is another than before and the chords
    lie better in it."""
    for text in _texts(section):
        for match in _SAID.finditer(text[:_LONGEST]):
            key = _best(match["key"], chords)
            better = current is None or (
                key is not None and lies_in(key, chords) > lies_in(current, chords)
            )
            if key is not None and key != current and better and is_plausible(key, chords):
                return key
    return None


def _texts(section: Section) -> Iterator[str]:
    """What stands beside a section's name: its name, and the cues above its music."""
    yield section.name
    for row in section.rows:
        if not isinstance(row, CueRow):
            return
        yield row.text


def _best(name: str, chords: Sequence[Chord]) -> Key | None:
    """The key of a name; a letter alone may be that of a minor key, if the chords lie better in
    it."""
    key = key_of(name)
    alone = key is not None and len(name.rstrip("#b♯♭")) == 1
    keys: Iterable[Key] = [key, replace(key, mode="minor")] if alone and key is not None else []
    return max(keys, key=lambda one: lies_in(one, chords), default=key)


def _in_key(section: Section, key: Key) -> Section:
    """A section with a key above its music."""
    at = next(i for i, row in enumerate(section.rows) if isinstance(row, MusicRow))
    rows: list[Row] = [*section.rows]
    return replace(section, rows=(*rows[:at], SettingRow("key", key), *rows[at:]))
