"""Hints at how to write a bar whose beats do not add up, with every part as it was typed."""

from itertools import accumulate, pairwise

from chartkit.chart.signs import as_typed
from chartkit.syntax.elements import Element, StrikeText

SPLITS = (1, 2, 3, 4, 6)
"""Into how many equal parts a beat may be split; the last is the most."""
_GOING_ON = ("/", "_")
_SILENT = ("r", "x")


def way_to_write(slots: list[Element], written: bool, beats: int) -> str:
    """A hint for a bar with too few or too many beats, or chords that cannot share its beats
    equally."""
    groups = [_parts(slot) for slot in slots]
    if all(len(group) == 1 and group[0] in _GOING_ON for group in groups):
        if groups[0] == ["_"]:
            return f"write one hold or slash for each beat: {' '.join('_' + '/' * (beats - 1))}"
        return f"write one slash for each beat: {' '.join('/' * beats)}"
    if not written:
        return _with_slashes(groups, beats)
    typed = [",".join(group) for group in groups]
    if len(typed) < beats:
        # After a rest or a muted stroke a slash would strike the chord again.
        filler = "r" if groups[-1][-1] in _SILENT else "/"
        return _example([*typed, *[filler] * (beats - len(typed))])
    return _without_slashes(typed, len(typed) - beats)


def _example(typed: list[str]) -> str:
    return f"give each beat a chord or a slash, for example: {' '.join(typed)}"


def _without_slashes(typed: list[str], extra: int) -> str:
    """A hint for a bar that has ``extra`` beats more than its meter."""
    slashes = [i for i, text in enumerate(typed) if text == "/" and i]
    if len(slashes) < extra:
        return (
            f"take out {extra} beat{'s' if extra > 1 else ''}, "
            'or let some share a beat, with a comma: "C,F"'
        )
    left_out = slashes[-extra:]
    kept = (text for i, text in enumerate(typed) if i not in left_out)
    return f"take out {extra} slash{'es' if extra > 1 else ''}: {' '.join(kept)}"


def _with_slashes(groups: list[list[str]], beats: int) -> str:
    """A hint for chords without any beat written yet."""
    shared = groups if len(groups) <= beats else _shared_out(groups, beats)
    if not shared:
        return _MORE_BARS
    if len(groups) > beats:
        extra = len(groups) - beats
        shown = " ".join(",".join(group) for group in shared)
        return (
            f"take out {extra} chord{'s' if extra > 1 else ''}, "
            f"or let some share a beat, for example: {shown}"
        )
    shares = [beats // len(shared) + (i < beats % len(shared)) for i in range(len(shared))]
    padded = zip(shared, shares, strict=True)
    return _example(
        [text for group, share in padded for text in (",".join(group), *"/" * (share - 1))]
    )


_MORE_BARS = "spread these chords over more bars"


def way_to_spread(crowded: Element, slots: list[Element], beats: int) -> str:
    """A hint for a beat that cannot be split so: spread it over more beats, if there is room."""
    groups = [_parts(slot) for slot in slots]
    others = [group for slot, group in zip(slots, groups, strict=True) if slot is not crowded]
    room = beats - len([group for group in others if group != ["/"]])
    spread = _shared_out([_parts(crowded)], room) if room > 0 else []
    if not spread or any(len(group) not in SPLITS for group in others):
        return _MORE_BARS if len(slots) == 1 else "take some of its parts out, or to another beat"
    kept: list[list[str]] = []
    for slot, group in zip(slots, groups, strict=True):
        kept += spread if slot is crowded else [group] if group != ["/"] else []
    kept += [["/"]] * (beats - len(kept))
    return _example([",".join(group) for group in kept])


def _shared_out(groups: list[list[str]], beats: int) -> list[list[str]]:
    """The parts of the groups on at most that many beats; empty if they do not fit."""
    parts = [part for group in groups for part in group]
    sizes = _sizes(len(parts), min(beats, len(parts)))
    ways = [_cut(parts, sizes), _cut(parts, sizes[::-1])]
    return next((way for way in ways if not _pushes_on_struck(way)), ways[0])


def _cut(parts: list[str], sizes: list[int]) -> list[list[str]]:
    return [parts[start:end] for start, end in pairwise(accumulate(sizes, initial=0))]


def _pushes_on_struck(beats: list[list[str]]) -> bool:
    """Whether a chord is pushed into a beat that is split, where something else is struck."""
    return any(len(one) > 1 and other[0].startswith("<") for one, other in pairwise(beats))


def _sizes(parts: int, beats: int) -> list[int]:
    """How many parts each beat gets, as evenly as splits allow; empty where none do."""
    sizes: list[int] = []
    for left in range(beats, 0, -1):
        even = -(-parts // left)
        fit = [n for n in SPLITS if even <= n and _can_share(parts - n, left - 1)]
        if not fit:
            return []
        sizes.append(fit[0])
        parts -= fit[0]
    return sizes


def _can_share(parts: int, beats: int) -> bool:
    """Whether that many beats can be split into that many parts in all.  One part less than the
    most would take a beat of five."""
    return beats <= parts <= beats * SPLITS[-1] and parts != beats * SPLITS[-1] - 1


def _parts(slot: Element) -> list[str]:
    return [_typed(part) for part in slot.value]


def _typed(part: StrikeText) -> str:
    return as_typed(f"/{part.text}" if part.kind == "new_bass" else part.text, part)
