"""The layout's choices for a song, to lay it out again in the same way.

A page that is redrawn while somebody types keeps its size and form, and no other ones are tried.
"""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Choices:
    """The type's scale, whether the form is folded, whether the paper is landscape, in how many
    columns the systems stand, the numbers of the sections that are not folded with others, and
    whether the same music is cut into the same rows wherever it comes."""

    size: float = 1.0
    folded: bool = False
    landscape: bool = False
    columns: Literal[1, 2] = 1
    apart: tuple[int, ...] = ()
    cut_alike: bool = True
