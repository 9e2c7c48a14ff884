"""A key alone on a line of the head, which could be a row of one chord: under the title, above it,
or between other lines of the head.

Nobody writes one chord between the lines of a head and leaves a line free before the song, unless
it is the key (common practice, no source).
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_labels import writer_of
from chartkit.interchange.text.head_words.titles import (
    could_be_title,
    has_facts,
    is_spelled_as_title,
)
from chartkit.interchange.text.kinds.line_kinds import (
    MUSIC,
    Blank,
    Chords,
    KnownLine,
    Letter,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Settings,
    Words,
)
from chartkit.interchange.text.tokens import STRUCK
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.facts import Fact, without_parentheses
from chartkit.interchange.text.vocabulary.farewells import takes_leave
from chartkit.interchange.text.vocabulary.key_words import key_of
from chartkit.interchange.text.vocabulary.order_words import AFTER_EACH
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.writer_names import names_people
from chartkit.theory.key import Key

_MOST_ABOVE, _MOST_OF_A_HEAD = 12, 6
"""A key stands among the first lines of a sheet, in a block of a few (ours)."""
_LONGEST = 40
_MAY_BE_SAID = 0.5
"""So much must a line under a key sound as if said to the players, to be none of the song."""


def with_lone_keys(known: list[KnownLine]) -> list[KnownLine]:
    """The lines of a sheet, a chord alone on a line of the head as the key of the song; under a
    farewell it is who takes leave ("cheers, D")."""
    first = next((at for at, one in enumerate(known) if isinstance(one.kind, MUSIC)), len(known))
    if first > _MOST_ABOVE or first == len(known) or not isinstance(known[first].kind, Chords):
        return known
    one = known[first]
    key = _key_alone(one)
    if key is None:
        return known
    start, end = _block_around(known, first)
    if (start, end) == (first, first + 1):
        end = _end_of_title_below(known, end)
    if end - start > _MOST_OF_A_HEAD or not _song_begins(known, end):
        return known
    if start < first and first == end - 1 and takes_leave(known[first - 1].line.text.strip()):
        signed = KnownLine(one.line, Letter())
        return [*known[:first], signed, *known[first + 1 :]]
    above = known[start:first]
    below = [below for below in known[first + 1 : end] if not isinstance(below.kind, Blank)]
    if not (_is_under_a_title(above, below) or _is_over_a_head(known[:first], above, below)):
        return known
    said = without_parentheses(one.line.text.strip())
    line = replace(one.line, text=f"Key: {said}", columns=None)
    keyed = KnownLine(line, Settings((Fact("key", key),)))
    return [*known[:first], keyed, *known[first + 1 :]]


def _key_alone(one: KnownLine) -> Key | None:
    """The key that a row of one chord names, whatever is said in parentheses behind it; None for
    any other line."""
    text = one.line.text.strip()
    if not isinstance(one.kind, Chords) or one.kind.behind_name or len(text) > _LONGEST:
        return None
    name = text.partition("(")[0]
    struck = sum(token.kind in STRUCK for token in one.kind.tokens)
    return key_of(name or without_parentheses(text)) if struck == 1 else None


def _block_around(known: Sequence[KnownLine], at: int) -> tuple[int, int]:
    """Where the block begins and ends that a line stands in."""
    start, end = at, at + 1
    while start and not isinstance(known[start - 1].kind, Blank):
        start -= 1
    while end < len(known) and not isinstance(known[end].kind, Blank):
        end += 1
    return start, end


def _end_of_title_below(known: Sequence[KnownLine], at: int) -> int:
    """Where the next block ends, if a section's name follows it; else the place itself."""
    while at < len(known) and isinstance(known[at].kind, Blank):
        at += 1
    _, end = _block_around(known, at) if at < len(known) else (at, at)
    rest = (one.kind for one in known[end:] if not isinstance(one.kind, Blank))
    return end if isinstance(next(rest, None), SectionStart) else at


def with_remarks_of_head(known: list[KnownLine]) -> list[KnownLine]:
    """The lines of a sheet, what a line of the head says of a place in the song ("fiddle break
    after 2nd chorus") as a note: no section begins above a free line, with nothing in it."""
    first = next((at for at, one in enumerate(known) if isinstance(one.kind, MUSIC)), 0)
    one = known[first] if known else None
    if not first or one is None or not isinstance(one.kind, SectionStart) or not one.kind.guessed:
        return known
    start, end = _block_around(known, first)
    placed = any(_OF_A_PLACE.match(remark) for remark in one.kind.remarks)
    placed = (
        placed and AFTER_EACH.search(one.line.text.strip(" ()")) is None
    )  # a refrain comes there
    if start == first or first != end - 1 or not placed:
        return known
    return [*known[:first], KnownLine(one.line, Note()), *known[first + 1 :]]


_OF_A_PLACE = re.compile(
    r"(?:after|before|between|behind|nach|vor|zwischen|après|avant|entre|después|antes|dopo|prima|"
    r"na|voor|efter|före|etter|før)\s+"
    r"(?!(?:each|every|all|jede|chaque|tous|toutes|cada|todas|todos|ogni|elke|ieder|varje|hver)\w*)",
    re.IGNORECASE,
)
"""How a remark names one place; that of a refrain after each verse is played there."""


def _song_begins(known: Sequence[KnownLine], at: int) -> bool:
    """Whether the next block begins with music, or is one more of the head above some."""
    rest = [one.kind for one in known[at:] if not isinstance(one.kind, Blank)]
    return bool(rest) and isinstance(rest[0], (*MUSIC, Settings, Roadmap, Remark))


def _is_under_a_title(above: Sequence[KnownLine], below: Sequence[KnownLine]) -> bool:
    """Whether a block has other lines above a chord, and below it none that could be sung."""
    return bool(above) and all(map(_is_of_head, below))


def _is_over_a_head(
    before: Sequence[KnownLine], above: Sequence[KnownLine], below: Sequence[KnownLine]
) -> bool:
    """Whether a chord begins a sheet, and below it stand settings, or the title and lines of a
    head."""
    if above or not below or any(isinstance(one.kind, Words) for one in before):
        return False
    titled = isinstance(below[0].kind, Words) and _is_a_title(below[0].line.text.strip())
    return all(map(_is_of_head, below[titled:]))


def _is_a_title(text: str) -> bool:
    spelled = is_spelled_as_title(text) or text.isupper()
    return spelled and text[-1:] not in ",;.:" and could_be_title(text)


def _is_of_head(one: KnownLine) -> bool:
    """Whether a line gives settings, names the writer, or is said to the players."""
    if isinstance(one.kind, Settings | Note | Remark | Roadmap | Letter):
        return True
    text = one.line.text.strip()
    if not isinstance(one.kind, Words):
        return False
    if has_facts(text) or writer_of(text) or names_people(text) or is_direction(text):
        return True
    return bool(head_facts(text).facts) or sounds_said(text) > _MAY_BE_SAID
