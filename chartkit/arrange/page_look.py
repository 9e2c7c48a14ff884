"""What a player's pages look like: one value, and the one table of its options.

Every option of a page is one field of ``PageLook``: its type, its default and its help stand
together.  ``PAGE_OPTIONS`` lists them for the command line, set files and the desk.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any, Literal, NamedTuple, get_args, get_type_hints

from chartkit.phrases import listed
from chartkit.theory.naming import (
    HalfDiminishedStyle,
    MajorSeventhStyle,
    MinorStyle,
    Naming,
    NoteStyle,
)
from chartkit.typed_values import decimal_number, file_path, one_of

Show = Literal["both", "shapes", "sounding", "numbers", "words", "road-map"]
Kind = Literal["shapes", "sounding"]
PaperName = Literal["a4", "letter", "tablet", "phone", "phone-side"]
SCREENS: tuple[PaperName, ...] = ("tablet", "phone", "phone-side")
"""Papers that are no paper: pages of a screen, which nobody binds or prints."""
PHONES: tuple[PaperName, ...] = ("phone", "phone-side")
"""A phone upright and on its side."""
Form = Literal["auto", "full", "folded", "words", "line"]
"""How sections that come again are printed: in full; folded, verses under one set of bars and a
repeated chorus once; their words alone, those of the earlier section where one has none and is of
the same kind (a verse after a verse); one line that names them, unless they have words of their
own; or, with "auto", folded where that helps."""

Columns = Literal["auto", "one"]
"""In how many columns rows stand: one, or, with "auto", two on landscape paper if that saves a
page."""

TRANSPOSING_INSTRUMENTS = {"B flat": 2, "E flat": 9, "F": 7, "A": 3}
"""Transposing instruments by their pitch, and how many half steps above what sounds they
read: B flat clarinet and trumpet a major second, E flat alto saxophone a major sixth, F horn a
fifth, A clarinet a minor third (theory handbooks).  Octaves do not matter for chord names."""


class Sizes(NamedTuple):
    """The least and the largest scale of the type; equal where one is given."""

    least: float
    largest: float


LARGE = Sizes(1.57, 2.2)
"""The sizes of large print: words of 18 points and more, as large print for readers has (American
Printing House for the Blind, from memory), chord names of 23.5, whose capitals are 6 mm high.  That
is 10 minutes of arc at two metres, twice what normal sight can just tell apart (5 minutes, the
letters of Snellen's chart)."""


def reader_named(text: str) -> str:
    """The transposing instrument of that pitch: ``Bb``, ``B flat``, ``E♭`` ...

    Raises ValueError for any other.
    """
    plain = " ".join(text.replace("♭", " flat").split()).casefold()
    for name in TRANSPOSING_INSTRUMENTS:
        letter = name[0].casefold()
        short = letter + "b" if "flat" in name else letter
        if plain in (name.casefold(), short, f"in {name.casefold()}", f"in {short}"):
            return name
    pitches = ", ".join(TRANSPOSING_INSTRUMENTS)
    raise ValueError(f'"{text}" is not the pitch of a transposing instrument: {pitches}')


def parse_sizes(text: str) -> Sizes:
    """One scale, or the least and the largest one: ``1.2`` or ``0.9-1.3``.  Raises ValueError."""
    low, dash, high = text.replace("–", "-").partition("-")
    least = decimal_number(low) if low or not dash else 0.0
    sizes = Sizes(least, decimal_number(high) if dash and low else least)
    if not 0.5 <= sizes.least <= sizes.largest <= 3:
        swapped = ", the smaller one first" if sizes.least > sizes.largest else ""
        raise ValueError(f"{text} is out of reach: sizes go from 0.5 to 3{swapped}")
    return sizes


@dataclass(frozen=True, slots=True, kw_only=True)
class PageOption:
    """One option of a page, for the command line, set files and the desk.

    ``name`` is the field of ``PageLook``.  ``choices`` are the values allowed, empty where
    ``read`` decides, which makes a value of text and raises ValueError; a switch has neither.
    ``placeholder`` is what a help text shows for the value.
    """

    name: str
    help: str
    default: Any
    choices: tuple[str, ...] = ()
    read: Callable[[str], Any] | None = None
    placeholder: str = ""


def _option(
    default: Any, text: str, placeholder: str = "", read: Callable[[str], Any] | None = None
) -> Any:
    """A field of ``PageLook`` that is offered as an option, with its help."""
    return field(default=default, metadata={"help": text, "placeholder": placeholder, "read": read})


@dataclass(frozen=True, slots=True, kw_only=True)
class PageLook:
    """The look of a player's pages.

    ``reads`` is one of ``TRANSPOSING_INSTRUMENTS``: sounding chords are then written for that
    player.
    ``upper`` and ``strong`` say which kind of line stands on top and which is large and bold.
    ``font`` is a TrueType file for characters that ours lack.
    """

    show: Show = _option(
        "both",
        "What to print: shapes over sounding chords, one of the two, scale degrees as numbers, the "
        "words alone, or a road map of counted bars, hits and jumps, without chords.",
    )
    reads: str | None = _option(
        None,
        f"Writes the sounding chords for an instrument in {listed(TRANSPOSING_INSTRUMENTS, 'or')}.",
        "PITCH",
        reader_named,
    )
    upper: Kind = _option("shapes", "Which line of chords is printed on top.")
    strong: Kind = _option("shapes", "Which line is large and bold.")
    notes: NoteStyle = _option(
        "letters", "Note names: letters, German ones (H, B, Es, Fis), or syllables (Do Re Mi)."
    )
    minor: MinorStyle = _option(
        "m", "How minor chords are written; small is a small letter for the root."
    )
    major: MajorSeventhStyle = _option("maj", "How the major seventh is written, before the 7.")
    half_diminished: HalfDiminishedStyle = _option(
        "m7(b5)", "How the half-diminished chord is written: m7 with a flat fifth, or by its sign."
    )
    paper: PaperName = _option(
        "a4", "The paper size; tablet is a 3:4 screen, phone a narrow one, phone-side a low one."
    )
    size: Sizes | None = _option(
        None,
        "Scales all type: 1 is the usual size on that paper, 1.2 a fifth larger, 0.9-1.3 the best "
        "size between the two. Without it, the best size from 0.85 to 1.25 (1.57 on a road map) "
        "that adds no page.",
        "SCALE",
        parse_sizes,
    )
    large: bool = _option(False, "Large print: chords that can be read at two metres.")
    dark: bool = _option(False, "Light on dark, for a screen on a dark stage.")
    form: Form = _option(
        "auto",
        "How repeated sections are printed: full; folded, with verses under one set of bars and a "
        "repeated chorus once; words, only their words; line, only a line with their names. auto "
        "folds where that saves a page or avoids small type on a single page.",
    )
    columns: Columns = _option(
        "auto",
        "One column of rows or, with auto, two on landscape paper if that saves a page.",
    )
    bar_numbers: bool = _option(True, "Prints the bar number at the start of each row.")
    diagrams: bool = _option(
        False, "Draws chord diagrams: under the title or, if there are many, after the song."
    )
    font: Path | None = _option(
        None,
        "A TrueType font for letters that chartkit's own fonts do not have. Ours cover Latin, "
        "Greek and Cyrillic.",
        "FILE",
        file_path,
    )

    @property
    def naming(self) -> Naming:
        """How chord names are written."""
        return Naming(self.notes, self.minor, self.major, self.half_diminished)

    @property
    def sizes(self) -> Sizes | None:
        """The limits of the type's scale; None leaves the choice to the layout."""
        return self.size or (LARGE if self.large else None)


def _page_options() -> tuple[PageOption, ...]:
    types = get_type_hints(PageLook)
    options = []
    for look_field in fields(PageLook):
        choices = get_args(types[look_field.name]) if look_field.metadata["read"] is None else ()
        options.append(
            PageOption(
                name=look_field.name,
                help=look_field.metadata["help"],
                default=look_field.default,
                choices=choices,
                read=one_of(choices) if choices else look_field.metadata["read"],
                placeholder=look_field.metadata["placeholder"] or "|".join(choices),
            )
        )
    return tuple(options)


PAGE_OPTIONS = _page_options()
"""Every option of a page, in the order in which help texts list them."""


def conflicts(look: PageLook, second_capo: bool = False) -> Iterator[tuple[str, str]]:
    """Options that have no effect beside others, each with a hint.

    Options stand as ``--name`` in the words.  ``second_capo`` says that a line of shapes for a
    second guitar is asked for.
    """
    if second_capo and look.show in ("numbers", "sounding"):
        yield (
            f"--second-capo adds a line of shapes, and --show {look.show} prints none",
            "--show both or --show shapes goes with it",
        )
    if look.reads is not None and look.show in ("numbers", "shapes"):
        yield (
            f"--reads is about sounding chords, and --show {look.show} prints none",
            "--show both or --show sounding goes with it",
        )
    if look.large and look.size is not None:
        yield "give --large or --size, not both", ""
