"""Lines in parentheses among words: echoes are sung, and what is done meanwhile is not."""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.classifying.lone_lines import sections_of
from chartkit.interchange.text.kinds.line_kinds import (
    MUSIC,
    SUNG,
    Chords,
    KnownLine,
    Remark,
    SectionStart,
    Words,
)
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.vocabulary.section_names import section_key


def is_echo(text: str, above: str) -> bool:
    """Whether a line in parentheses says again what the line above it ends with."""
    words = [letters_of(word) for word in text.split()]
    sung = [letters_of(word) for word in above.split()]
    return bool(words) and sung[-len(words) :] == words


def asides_without_place(known: Sequence[KnownLine]) -> frozenset[int]:
    """The places of lines in parentheses below words, in sections that without them have as many
    lines of words as the first section of their kind has places for."""
    places: dict[str, int] = {}
    found: set[int] = set()
    for section in sections_of(known):
        start = known[section[0] - 1].kind if section and section[0] else None
        kind = section_key(start.name)[0] if isinstance(start, SectionStart) else ""
        plain = sum(isinstance(known[at].kind, SUNG) for at in section)
        asides = [at for at in section if _is_aside(known[at])]
        under = sum(isinstance(known[at - 1].kind, Chords) for at in asides)
        if kind and places.get(kind) == plain:
            found.update(at for at in asides if isinstance(known[at - 1].kind, Words))
        places.setdefault(kind, plain + under)
    return frozenset(found)


def report_answers(known: Sequence[KnownLine], findings: Findings) -> None:
    """Reports lines in parentheses that are kept as sung, though they stand once in the sheet and
    are no echo."""
    times = Counter(one.line.text.strip() for one in known)
    begun = False
    for above, one in pairwise(known):
        begun = begun or isinstance(above.kind, MUSIC)
        if not begun:
            continue  # nothing is sung in the head
        text = one.line.text.strip()
        if not isinstance(one.kind, Words) or not isinstance(above.kind, Words):
            continue
        if text[:1] + text[-1:] != "()" or times[text] > 1 or is_echo(text, above.line.text):
            continue
        findings.guess(
            "maybe-a-remark",
            f'"{text}" may be said to the players: it is kept as sung',
            one.line.place(),
        )


def _is_aside(one: KnownLine) -> bool:
    return isinstance(one.kind, Remark) and one.kind.in_parentheses
