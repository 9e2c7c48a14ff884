"""The steps that a line of form names, and the names that it may use."""

import re
from dataclasses import dataclass, field

from chartkit.interchange.text.names.sheet_names import COMMON_NAMES, SheetNames
from chartkit.interchange.text.vocabulary.references import inflected
from chartkit.interchange.text.vocabulary.section_names import section_key

_INITIAL = re.compile(r"[A-Z]\d")
SAME = "same"
"""The value of ``like`` for a step with its own earlier music."""


@dataclass(slots=True)
class KnownNames:
    """What the names of the sections so far mean: kinds with numbers, and kinds."""

    keys: set[tuple[str, str]] = field(default_factory=set)
    kinds: set[str] = field(default_factory=set)
    letters: set[str] = field(default_factory=set)
    """Names that are a letter each, as people call the parts of a tune."""
    all: SheetNames = COMMON_NAMES
    """What a section may be called in the sheet, also further below."""

    called: dict[str, None] = field(default_factory=dict)
    """The names of the sections so far as they are typed."""

    def add(self, name: str) -> None:
        """Adds a name."""
        key = section_key(name)
        self.keys.add(key)
        self.kinds.add(key[0])
        self.called[name] = None

    def meant_by(self, text: str) -> str:
        """The section so far that a text means by its name, also in another form of it
        ("zwrotce 1", "versen"); empty for any other text."""
        if (len(self.letters) > 1 and text in self.letters) or text in self.called:
            return text
        typed = next((one for one in self.called if one.casefold() == text.casefold()), "")
        if typed:
            return typed
        if self.all.is_known(text) and section_key(text)[0] in self.kinds:
            return text
        if _INITIAL.fullmatch(text) is not None:
            begun = [one for one in self.called if one[0] == text[0] and one[-1] == text[1]]
            return begun[0] if len(begun) == 1 else ""  # "V1" for a "Vocal 1"
        word, _, number = text.partition(" ")
        if number and not number.isdecimal():
            return ""
        names = [name for name in self.called if not number or section_key(name)[1] == number]
        name = inflected(word.casefold(), names)
        return name if number else name.rstrip(" 0123456789")


@dataclass(frozen=True, slots=True)
class Step:
    """A section that a line of form names.

    ``at`` is where it stands in the line.  ``like`` is the section whose music it has, or
    "same" for its own earlier music.  ``row`` is a row of chords with remarks in parentheses,
    empty where none were typed; ``remarks`` are said of the whole section.
    """

    name: str
    at: int
    times: int
    like: str
    row: str
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SaidStep:
    """A step of an order: the section at a place among those on the sheet, or one that is not
    there, by its ``name``, with the music of another or a row of chords."""

    at: int = -1
    name: str = ""
    times: int = 1
    like: str = ""
    row: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class SaidOrder:
    """The steps that a sentence names; ``goes_on`` says that they come behind what the sheet
    has."""

    steps: tuple[SaidStep, ...]
    goes_on: bool

    def is_whole(self, count: int) -> bool:
        """Whether it begins with the first of so many sections and names all, some again."""
        named = [one.at for one in self.steps if one.at >= 0]
        whole = {*named} == {*range(count)} and len(named) > count
        return whole and not self.goes_on and self.steps[0].at == 0
