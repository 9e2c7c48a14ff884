"""Where the head of a sheet ends and the song begins."""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.kinds.line_kinds import (
    MUSIC,
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Settings,
    Shapes,
    Words,
)
from chartkit.interchange.text.tokens import STRUCK
from chartkit.interchange.text.vocabulary.directions import (
    is_greeting,
    is_talk,
)
from chartkit.interchange.text.vocabulary.facts import (
    facts_of,
    named_settings,
    without_parentheses,
)
from chartkit.interchange.text.vocabulary.key_words import key_of
from chartkit.interchange.text.vocabulary.section_names import section_key

_MOST_HEADER_LINES = 6
_MOST_ABOVE = 24
"""So many more lines may stand above the first section (ours)."""


def head_end(known: Sequence[KnownLine]) -> int:
    """The line at which the song begins: the first heading, chords, or block of words."""
    filled = 0
    for i, one in enumerate(known):
        if isinstance(one.kind, SectionStart):
            return i
        if isinstance(one.kind, Chords) and not _is_bare_key(known, i, filled):
            return i
        if isinstance(one.kind, ChordsWithin) and _is_sung(known, i, filled):
            return i
        behind = isinstance(one.kind, ChordsBehind) and "  " in one.line.text
        behind = behind and not _has_settings_behind(one.line.text)
        if behind and not has_key_behind(known, i, filled):
            return i
        if not isinstance(one.kind, Blank) and not _tells_what_it_is(one):
            filled += 1
        if filled > _MOST_HEADER_LINES:
            return _first_section(known, i) or _first_blank(known)
    return _first_blank(known)


def _first_section(known: Sequence[KnownLine], at: int) -> int:
    """Where the song begins below much that stands above it, from a line on: with the name of its
    intro or its first verse, over which no chords stand; 0 where it does not."""
    for place in range(at, min(at + _MOST_ABOVE, len(known))):
        kind = known[place].kind
        if isinstance(kind, SectionStart):
            name, number = section_key(kind.name)
            return place if name == "intro" or (name == "verse" and number in ("", "1")) else 0
        if isinstance(kind, MUSIC):
            break
    return 0


_NEVER_FIRST = frozenset(
    ["outro", "end", "coda", "tag", "bridge", "interlude", "pre-chorus", "post-chorus", "break"]
)
"""Kinds of sections with which no song begins."""


def _with_name_as_title(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, a name alone on the first line as words where no song begins with such a section
    and none of its kind stands below: the song is called so ("Outro" over "Key of G")."""
    filled = (at for at, one in enumerate(known) if not isinstance(one.kind, Blank))
    first = next(filled, len(known))
    start = known[first].kind if first < len(known) else None
    if not isinstance(start, SectionStart) or start != SectionStart(start.name):
        return known
    kind = section_key(start.name)[0]
    rest = [one.kind for one in known[first + 1 :]]
    others = [section_key(one.name)[0] for one in rest if isinstance(one, SectionStart)]
    below = next((one for one in rest if not isinstance(one, Blank | Settings | Note)), None)
    if kind not in _NEVER_FIRST or kind in others or not isinstance(below, SectionStart):
        return known
    return [*known[:first], replace(known[first], kind=Words()), *known[first + 1 :]]


def with_settings_first(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, with settings that stand between the first chords and the first name of a section
    above these chords, where no words stand there: they are those of the song.  A name that is
    the title is no section."""
    known = _with_name_as_title(known)
    first = next((at for at, one in enumerate(known) if isinstance(one.kind, MUSIC)), len(known))
    if first == len(known) or not isinstance(known[first].kind, Chords):
        return known
    rest = range(first, len(known))
    start = next((at for at in rest if isinstance(known[at].kind, SectionStart)), first)
    between = known[first:start]
    if any(isinstance(one.kind, Words | ChordsWithin | ChordsBehind) for one in between):
        return known
    settings = [one for one in between if _is_of_settings(one)]
    if not settings:
        return known
    others = [one for one in between if not _is_of_settings(one)]
    return [*known[:first], *settings, *others, *known[start:]]


def _is_of_settings(one: KnownLine) -> bool:
    """Whether a line among chords names settings and nothing else ("tempo: slow")."""
    if not isinstance(one.kind, Remark | Note) or ":" not in one.line.text:
        return isinstance(one.kind, Settings)
    head = head_facts(one.line.text)
    return bool(head.facts or head.manner) and not head.rest


def _is_sung(known: Sequence[KnownLine], at: int, filled: int) -> bool:
    """Whether a line of words with chords in parentheses among them is sung: one chord behind a
    title or another line of a head is its key."""
    kind = known[at].kind
    if not isinstance(kind, ChordsWithin) or facts_of(known[at].line.text):
        return False
    if len(kind.tokens) > 1:
        return True
    below = known[at + 1].kind if at + 1 < len(known) else None
    first = kind.tokens[0].column == 0
    return (filled > 0 or first) and isinstance(below, ChordsWithin)


def _is_bare_key(known: Sequence[KnownLine], at: int, filled: int) -> bool:
    """Whether a row of chords is one chord under the title, right above a section's heading,
    or with other lines of the head between."""
    kind = known[at].kind
    alone = isinstance(kind, Chords) and _is_one_chord(kind, known[at].line.text)
    rest = (one.kind for one in known[at + 1 : at + 4] if not isinstance(one.kind, Blank))
    above_heading = isinstance(next(rest, None), SectionStart) or _is_line_of_head(known, at)
    head = head_facts(known[at].line.text)
    key = key_of(without_parentheses(known[at].line.text.strip()))
    counted = any(fact.name in ("tempo", "meter") for fact in head.facts)
    if filled > 0 and counted and not head.rest:
        return True
    return alone and above_heading and filled > 0 and key is not None


def _is_one_chord(row: Chords, text: str) -> bool:
    """Whether a row is one chord, alone or with a capo in parentheses behind it."""
    if len(row.tokens) == 1:
        return not row.behind_name
    struck = sum(token.kind in STRUCK for token in row.tokens)
    capo = any(fact.name == "capo" for fact in facts_of(text))
    return struck == 1 and capo and text.rstrip().endswith(")") and not row.behind_name


def _is_line_of_head(known: Sequence[KnownLine], at: int) -> bool:
    """Whether a line at the margin right under another one stands in a block without other chords
    that is followed by a section's name."""
    above = at > 0 and not isinstance(known[at - 1].kind, Blank)
    if not above or known[at].line.text[:1].isspace():
        return False
    end = at + 1
    while end < min(len(known), at + _MOST_HEADER_LINES) and not isinstance(
        known[end].kind, (Blank, *MUSIC)
    ):
        end += 1
    below = (one.kind for one in known[end : end + 3] if not isinstance(one.kind, Blank))
    blank = end < len(known) and isinstance(known[end].kind, Blank)
    return blank and isinstance(next(below, None), SectionStart)


def has_key_behind(known: Sequence[KnownLine], at: int, filled: int) -> bool:
    """Whether the one chord behind words is the key at the margin of a head's last line, or in
    parentheses behind a title."""
    kind = known[at].kind
    below = known[at + 1].kind if at + 1 < len(known) else None
    alone = isinstance(kind, ChordsBehind) and len(kind.tokens) == 1
    under_title = not filled and known[at].line.text.rstrip().endswith(")")
    return alone and (under_title or isinstance(below, Blank | SectionStart))


def _has_settings_behind(text: str) -> bool:
    """Whether far behind a title there stand a key and a meter or a tempo, and nothing else."""
    tail = re.split(r"\s{2,}|\t", text.strip())[1:]
    head = head_facts(", ".join(tail))
    counted = any(fact.name in ("tempo", "meter") for fact in head.facts)
    return counted and len(head.facts) > 1 and not head.rest


def _tells_what_it_is(one: KnownLine) -> bool:
    """Whether a line is plainly one of a head: facts, settings, shapes, a remark, talk."""
    if isinstance(one.kind, Settings | Shapes | Remark | Note | Roadmap):
        return True
    text = one.line.text.strip()
    return bool(named_settings(text)) or is_greeting(text) or is_talk(text)


def _first_blank(known: Sequence[KnownLine]) -> int:
    """Where the first block ends: a title and what goes with it, before words alone."""
    begun = False
    for i, one in enumerate(known):
        if not isinstance(one.kind, Blank):
            begun = True
        elif begun:
            return i if i <= _MOST_HEADER_LINES else 0
    return 0
