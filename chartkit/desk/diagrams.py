"""One chord diagram as SVG, drawn as it stands on a page."""

from functools import cache, lru_cache

from chartkit.fretboard.voicing import Voicing
from chartkit.layout.diagram import DiagramSetter, NamedShape
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Page
from chartkit.layout.metrics import Typesetter
from chartkit.layout.style import style_for
from chartkit.pdf.fonts import Fonts
from chartkit.svg.write import page_svg
from chartkit.theory.chord import Chord
from chartkit.theory.chord_parts import letter_name

_WIDTH = 54.0
"""Points; a diagram's cell on a page, less the room to the next one."""


@cache
def _setter() -> DiagramSetter:
    return DiagramSetter(Fitter(Typesetter(Fonts())), style_for("a4"))


@lru_cache(maxsize=2000)
def diagram_svg(chord: Chord, voicing: Voicing) -> str:
    """The diagram of a shape with its name, as an ``svg`` element."""
    shape = NamedShape(letter_name(chord), voicing)
    height = _setter().rows((shape,))[0].height
    page = Page(_WIDTH, height, tuple(_setter().diagram(shape)))
    return page_svg(page, Fonts(), f"{chord} {voicing}")
