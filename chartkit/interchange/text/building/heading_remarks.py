"""What is said beside a section's name: how often it is played, and whose music it has."""

import re
from collections.abc import Collection, Sequence
from dataclasses import replace

from chartkit.interchange.text.kinds.line_kinds import Blank, KnownLine, Letter, SectionStart
from chartkit.interchange.text.vocabulary.section_names import remark_in_name
from chartkit.interchange.text.vocabulary.times_played import count_among, count_every_time


def with_count_of_remarks(start: SectionStart) -> SectionStart:
    """The start of a section, with the count that one of its remarks begins or ends with, where
    nothing else says how often it is played."""
    within = remark_in_name(start.name)
    if not (within or start.remarks):
        return start
    for said in (within, *start.remarks):
        times, rest = count_among(said)
        if times < 2 or start.times > 1:
            continue
        if said == within:
            return replace(start, name=start.name.replace(within, rest), times=times)
        remarks = tuple(rest if one == said else one for one in start.remarks)
        return replace(start, times=times, remarks=remarks)
    return start


_AGAIN_FIRST = re.compile(
    r"(?:again|noch ?mals?|encore|otra vez|de nuevo|di nuovo|opnieuw|weer|igen|igjen)"
    r"(?:\s*[,;–-]+\s*|\s+)(?=\S)(?!(?:plus|moins)\s)",
    re.IGNORECASE,
)
"""Words at the head of a remark that say the section is played again; "encore plus vite" says how
fast.  Common practice, no source."""


def without_again(remark: str) -> str:
    """What is said of a section, without the words before it that it is played again."""
    match = _AGAIN_FIRST.match(remark)
    return remark[match.end() :] if match is not None else remark


def times_every_time(start: SectionStart) -> tuple[int, SectionStart]:
    """How often a section is played wherever its name stands, by what is said beside the name, and
    its start without that; 0 and the start where nothing says so."""
    for said in filter(None, (remark_in_name(start.name), *start.remarks)):
        if times := count_every_time(said):
            name = start.name.replace(f"({said})", "").strip()
            remarks = tuple(one for one in start.remarks if one != said)
            return times, replace(start, name=name, times=times, remarks=remarks)
    return 0, start


_LONGEST_IN_NAME = 24
"""A longer remark in parentheses is a cue below the name, which lines of form print (ours)."""


def names_said_otherwise(known: Sequence[KnownLine]) -> frozenset[str]:
    """The names, in small letters, of sections that are asked for again with another remark than
    they have where they are written: none of these remarks is said of all of them."""
    said: dict[str, set[str]] = {}
    again: set[str] = set()
    for at, one in enumerate(known):
        if not isinstance(one.kind, SectionStart):
            continue
        name = _bare(one.kind.name)
        remark = remark_in_name(one.kind.name) or ", ".join(one.kind.remarks)
        below = known[at + 1].kind if at + 1 < len(known) else Blank()
        if remark and name in said and isinstance(below, (Blank, SectionStart, Letter)):
            again.add(name)
        said.setdefault(name, set()).update([remark.casefold()] if remark else [])
    return frozenset(name for name in again if len(said[name]) > 1)


def _bare(name: str) -> str:
    return name.partition(" (")[0].casefold()


def with_long_remark_apart(
    start: SectionStart, text: str, otherwise: Collection[str] = ()
) -> SectionStart:
    """The start of a section, whose name is without a remark behind it that is long, says whose
    music it has ("(same as one)"), or is not said of it when it comes again, as of the names
    ``otherwise``; ``text`` is the line, which has the words as they were typed."""
    within = remark_in_name(start.name)
    lends = "as" in within.casefold().split()
    other = bool(within) and _bare(start.name) in otherwise
    if len(within) <= _LONGEST_IN_NAME and not lends and not other:
        return start
    name = (
        start.name[: start.name.rindex(f"({within}")].strip() if f"({within}" in start.name else ""
    )
    at = text.casefold().find(within.casefold())
    typed = text[at : at + len(within)] if lends and at >= 0 else within
    return replace(start, name=name, remarks=(typed, *start.remarks)) if name else start
