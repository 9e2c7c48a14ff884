"""The note at the end of a section on a folded page that is not followed by the next one on the
page.

``1st time to Verse 2 · 2nd to Bridge`` stands at the right under the last row, so that nobody plays
on into the wrong section (common practice, no source).
"""

from collections.abc import Sequence
from itertools import groupby

from chartkit.arrange.arrangement import ArrangedBar
from chartkit.chart.numbered_names import has_number, name_of_all, name_without_number
from chartkit.layout.after_jump import after_jump
from chartkit.layout.fit import Fitter
from chartkit.layout.folds import FormEntry, ordinal
from chartkit.layout.place import PlacedSystem
from chartkit.layout.song_form import SongForm
from chartkit.layout.style import Style

_BETWEEN = " · "
_TWICE = 2
_DOWN, _TALLER = 10.6, 5.5
"""How far under a row the line stands, and how much of that the row is made taller by, in points at
scale 1; the gap above the next section holds the rest."""
_DESCENT = 0.22
"""How far letters reach under their baseline, in sizes of the type."""
_LONGEST_NAME = 36
"""How many letters a name has at most; of longer ones the beginning stands."""
_WIDEST, _LEAST_SIZE, _LEADING = 0.78, 0.85, 1.2
"""The largest part of a line that it takes, so that it keeps off numbers in the gutter, and how
much smaller a longer one may be set; one that is longer still stands in lines so many sizes
apart."""


def next_section_notes(form: SongForm) -> tuple[str, ...]:
    """For each printed section the words at its end.

    Empty where the page may be read on, and on a page that is not folded.  Where the section ends
    in a jump, what is played after that.
    """
    jumping = {entry.printed for entry in form.entries if entry.jump}
    return tuple(
        after_jump(form, printed) if printed in jumping else _words(form, printed) * form.is_folded
        for printed in range(len(form.sections))
    )


def _words(form: SongForm, printed: int) -> str:
    """Each time through a section and where it leads; times that lead to one place together."""
    entries, last = form.entries, len(form.sections) - 1
    at = [i for i, entry in enumerate(entries) if entry.printed == printed]
    after = [entries[i + 1] if i + 1 < len(entries) else None for i in at]
    times = [entries[i].times for i in at]
    even = len(set(times)) == 1
    if even and _reads_on([entry.printed if entry else None for entry in after], printed, last):
        return _in_a_row(form, entries[at[-1]], after) if times[0] == 1 else ""
    places = [_place(form, entries[i], entry) for i, entry in zip(at, after, strict=True)]
    if even and len(set(places)) == 1:
        return f"then {places[0]}"
    counts = [0 if even else count for count in times]
    names = _names([entries[i] for i in at])
    said = [
        (_by_name if names else _time)([which for which, _, _ in group], place, count)
        for (place, count), group in groupby(
            zip(names or map(ordinal, range(1, len(at) + 1)), places, counts, strict=True),
            key=lambda one: one[1:],
        )
    ]
    return "from " * bool(names) + _BETWEEN.join(said)


def _names(entries: Sequence[FormEntry]) -> list[str]:
    """The names by which the times through a section are known where their count would mislead:
    where words have the number of a verse that another time comes before, or sections of two
    kinds share the bars.  Empty where the times are counted."""
    names = [_short(entry.name) for entry in entries]
    kinds = {name_without_number(entry.name) for entry in entries}
    counted = all(entry.number in ("", str(n)) for n, entry in enumerate(entries, 1))
    unclear = len(set(names)) < len(names) or not all(names)
    return [] if unclear or (counted and len(kinds) == 1) else names


def _in_a_row(form: SongForm, entry: FormEntry, after: Sequence[FormEntry | None]) -> str:
    """How often a section is played before the next one on the page; no sign says to go back to its
    start.  Empty where it is played once, or comes again later."""
    *before, following = after
    if not before or any(one is None or one.printed != entry.printed for one in before):
        return ""
    often = _often(len(after))
    return often if following is None else f"{often}, then {_place(form, entry, following)}"


def _reads_on(after: Sequence[int | None], printed: int, last: int) -> bool:
    """Whether reading on down the page gives the order of the song: each time the next bars on the
    page follow, or the same bars again and then the next."""
    *before, final = after
    alike = all(one == final for one in before) or all(one == printed for one in before)
    return alike and (final == printed + 1 or (final is None and printed == last))


def _place(form: SongForm, entry: FormEntry, following: FormEntry | None) -> str:
    """Where a section leads: the name of the next one, with its key and meter if they differ and
    are not printed there; empty at the end of the song."""
    if following is None:
        return ""
    others = [following.key] if following.key else []
    before, after = _bars(form, entry), _bars(form, following)
    if before and after and not after[0].bar.meter and before[-1].meter != after[0].meter:
        others.append(str(after[0].meter))
    name = _short(following.name)
    return f"{name} ({', '.join(others)})" if others else name


def _short(name: str) -> str:
    """A name, or of a very long one what comes before its remark in parentheses or its
    beginning: in a line of several it would leave type too small to read."""
    if len(name) <= _LONGEST_NAME:
        return name
    before = name.partition(" (")[0].strip()
    if 0 < len(before) <= _LONGEST_NAME:
        return before
    return f"{name[:_LONGEST_NAME].rstrip()}…"


def _bars(form: SongForm, entry: FormEntry) -> list[ArrangedBar]:
    """The bars in time of the section that an entry is printed as."""
    systems = form.sections[entry.printed].systems
    return [bar for system in systems if system.bar_lines for bar in system.bars]


def _time(ordinals: Sequence[str], place: str, count: int) -> str:
    """``1st time to Bridge``; with how often it is played where that is more than once and not
    the same each time."""
    listed = ", ".join(ordinals) + " time" * (ordinals[0] == ordinal(1))
    if count > 1:
        return f"{listed} play {_often(count)}, then {place or 'end'}"
    return f"{listed} {f'to {place}' if place else 'end'}"


def _by_name(names: Sequence[str], place: str, count: int) -> str:
    """``Solo 1 to Bridge``, the same with the names of the times; numbered ones joined, as
    ``Verse 1–3``."""
    kinds = groupby(names, key=lambda name: (name_without_number(name), has_number(name)))
    alike = ((numbered, list(group)) for (_, numbered), group in kinds)
    listed = ", ".join(
        name_of_all(group) if numbered and len(group) > 1 else ", ".join(group)
        for numbered, group in alike
    )
    if count > 1:
        return f"{listed}, played {_often(count)}, to {place or 'the end'}"
    return f"{listed} to {place or 'the end'}"


def _often(count: int) -> str:
    return "twice" if count == _TWICE else f"{count} times"


def with_next_section_note(
    systems: tuple[PlacedSystem, ...], words: str, fitter: Fitter, style: Style
) -> tuple[PlacedSystem, ...]:
    """Puts the words at the right under the last system of a section; returns the systems."""
    if not words or not systems:
        return systems
    *before, last = systems
    room, texts = _WIDEST * style.line_width, [words]
    if fitter.fitting_size(words, "italic", style.words, room) < _LEAST_SIZE * style.words:
        texts = _in_lines(words, fitter, style.words, room)
    sizes = [fitter.fitting_size(text, "italic", style.words, room) for text in texts]
    under = [last.height + style.pt(_DOWN) + n * _LEADING * style.words for n in range(len(texts))]
    lines = [
        fitter.text(
            text,
            style.line_width - fitter.width(text, "italic", size),
            y,
            "italic",
            size,
            role="follows",
        )
        for text, size, y in zip(texts, sizes, under, strict=True)
    ]
    taller = last._replace(
        items=(*last.items, *lines),
        height=under[-1] - style.pt(_DOWN - _TALLER),
        hangs=style.pt(_DOWN - _TALLER) + sizes[-1] * _DESCENT,
    )
    return (*before, taller)


def _in_lines(words: str, fitter: Fitter, size: float, room: float) -> list[str]:
    """The words in lines that are broken between times through, as few as fit the room."""
    lines: list[str] = []
    for part in words.split(_BETWEEN):
        longer = f"{lines[-1]}{_BETWEEN}{part}" if lines else part
        if lines and fitter.width(longer + _BETWEEN, "italic", size) <= room:
            lines[-1] = longer
        else:
            lines[-1:] = [f"{lines[-1]}{_BETWEEN.rstrip()}", part] if lines else [part]
    return lines
