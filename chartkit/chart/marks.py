"""The one table of marks: how each is typed, where it stands, how it is printed and said.

Text, page, words for singers and MusicXML all follow it.  A mark in words takes its kind and its
row here; a drawn sign its outline in ``layout/outlines.py`` too, and one that MusicXML has an
element or an attribute for a row in ``interchange/musicxml/mark_elements.py``.

Names and meanings are common practice, no source.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Literal

from chartkit.diagnostics import Span

MarkKind = Literal["segno", "coda", "to-coda", "fine", "D.C.", "D.S.", "fermata"]
MarkPlace = Literal["start", "beat", "end"]
"""Where a mark stands: at the start of its bar, over a beat, or at the end of its bar."""
Until = Literal["", "fine", "coda"]


@dataclass(frozen=True, slots=True)
class MarkSign:
    """The facts of a kind of mark.

    ``typed`` are its names after "@", the usual one first, case aside.  ``printed`` are its
    words; where it is ``drawn``, pages have its sign instead.  ``spoken`` is how it is read to a
    singer.  ``leads_back`` is true of a jump, which can say where it ends ("al Fine"), and
    ``holds_time`` of a mark under which everybody waits.
    """

    kind: MarkKind
    typed: tuple[str, ...]
    place: MarkPlace
    printed: str
    spoken: str
    drawn: bool = False
    leads_back: bool = False
    holds_time: bool = False


MARKS: dict[MarkKind, MarkSign] = {
    sign.kind: sign
    for sign in (
        MarkSign(
            kind="segno",
            typed=("segno", "sign"),
            place="start",
            printed="Segno",
            spoken="the sign",
            drawn=True,
        ),
        MarkSign(
            kind="coda",
            typed=("coda",),
            place="start",
            printed="Coda sign",
            spoken="the coda",
            drawn=True,
        ),
        MarkSign(
            kind="to-coda",
            typed=("to-coda", "tocoda"),
            place="end",
            printed="To Coda",
            spoken="to the coda",
        ),
        MarkSign(
            kind="fine",
            typed=("fine",),
            place="end",
            printed="Fine",
            spoken="the end",
        ),
        MarkSign(
            kind="D.C.",
            typed=("D.C.", "dc", "d.c"),
            place="end",
            printed="D.C.",
            spoken="from the top",
            leads_back=True,
        ),
        MarkSign(
            kind="D.S.",
            typed=("D.S.", "ds", "d.s"),
            place="end",
            printed="D.S.",
            spoken="from the sign",
            leads_back=True,
        ),
        MarkSign(
            kind="fermata",
            typed=("fermata", "pause", "hold"),
            place="beat",
            printed="Fermata",
            spoken="hold",
            drawn=True,
            holds_time=True,
        ),
    )
}
"""Every mark, in the order in which they are listed to the user."""

_UNTIL_PRINTED: dict[Until, str] = {"": "", "fine": " al Fine", "coda": " al Coda"}
_UNTIL_SAID: dict[Until, str] = {"": "", "fine": ", to the end sign", "coda": ", then the coda"}


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark.  ``until`` is where a D.C. or D.S. leads: fine, coda or nowhere.

    For a mark over a beat ``onset`` is where that beat begins, in ticks from the start of the
    bar; in free time it is the number of the strike, from 0.  It is 0 for all other marks.
    """

    kind: MarkKind
    until: Until = ""
    onset: int = 0
    span: Span = field(default=Span(0, 0), compare=False, repr=False)

    @property
    def place(self) -> MarkPlace:
        """Where it stands."""
        return MARKS[self.kind].place

    @property
    def opens_bar(self) -> bool:
        """Whether it stands at the start of its bar."""
        return self.place == "start"

    @property
    def holds_time(self) -> bool:
        """Whether everybody waits under it."""
        return MARKS[self.kind].holds_time


def ordered_marks(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Marks in the order in which they stand in their bar, each once."""
    return tuple(sorted(dict.fromkeys(marks), key=lambda m: (_PLACES.index(m.place), m.onset)))


_PLACES: tuple[MarkPlace, ...] = ("start", "beat", "end")


def typed_mark(mark: Mark) -> str:
    """The mark as it is written in a chart: ``@D.S. al Coda``."""
    return f"@{MARKS[mark.kind].typed[0]}{_UNTIL_PRINTED[mark.until]}"


def printed_mark(mark: Mark) -> str:
    """Its words on a page, in a text or in a score: ``To Coda``, ``D.C. al Fine``."""
    return MARKS[mark.kind].printed + _UNTIL_PRINTED[mark.until]


def spoken_mark(mark: Mark) -> str:
    """How it is read aloud to a singer: "from the top, then the coda"."""
    return MARKS[mark.kind].spoken + _UNTIL_SAID[mark.until]


def kind_of_typed_mark(name: str) -> MarkKind | None:
    """The kind that a name after "@" means, ignoring case; None for any other word."""
    return next((kind for typed, kind in _typed_kinds() if typed == name.lower()), None)


def _typed_kinds() -> Iterator[tuple[str, MarkKind]]:
    """Every name after "@" in small letters, with the kind that it means."""
    return ((name.lower(), kind) for kind, sign in MARKS.items() for name in sign.typed)


def kind_of_printed_mark(words: str) -> MarkKind | None:
    """The kind with these printed words, ignoring case; None for any others."""
    return next((k for k, sign in MARKS.items() if sign.printed.lower() == words.lower()), None)


def mark_from_paper(words: str) -> str:
    """The mark as it is written in a chart that words on paper mean: ``D.S. al Coda``, ``dc``,
    ``to coda``; empty for any others."""
    name, al, end = words.partition(" al ")
    bare = _letters(name)
    kind = next((kind for typed, kind in _typed_kinds() if _letters(typed) == bare), None)
    until: Until | None = "" if not al else _UNTILS.get(end.strip(" .").lower())
    if kind is None or until is None or (al and not MARKS[kind].leads_back):
        return ""
    return typed_mark(Mark(kind, until))


def _letters(name: str) -> str:
    return "".join(filter(str.isalpha, name)).lower()


_UNTILS: dict[str, Until] = {"fine": "fine", "fin": "fine", "coda": "coda"}


def typed_names() -> tuple[str, ...]:
    """Every mark as it is typed; jumps also with their destination."""
    untils: tuple[Until, ...] = ("", "fine", "coda")
    return tuple(
        typed_mark(Mark(kind, until))
        for kind, sign in MARKS.items()
        for until in untils[: 3 if sign.leads_back else 1]
    )
