"""The style sheet that pages of SVG need: their faces and inks."""

from collections.abc import Callable

from chartkit.layout.faces import DARK_PAPER, FILES, KERNED, LIGHT_INK
from chartkit.layout.frames import FontName

_RULES = """\
.sheet{--paper:#fff;--ink:#000;background:var(--paper);display:block}
.sheet path,.sheet text{fill:var(--ink)}
.sheet .bare{fill:var(--paper)}
.sheet .line{fill:none;stroke:var(--ink)}
.sheet text{white-space:pre;font-variant-ligatures:none;text-rendering:geometricPrecision}
.sheet text{direction:ltr;unicode-bidi:bidi-override}
.sheet tspan[stroke-width]{stroke:var(--ink)}
.sheet .bare tspan[stroke-width]{stroke:var(--paper)}
"""


def page_style(font_address: Callable[[FontName], str]) -> str:
    """The rules for pages; ``font_address`` says where the file of each face is found.

    A page is drawn dark inside an element of class ``dark``.
    """
    return "".join((*(_face(font, font_address(font)) for font in FILES), _RULES, _dark()))


def _face(font: FontName, address: str) -> str:
    kerning = "normal" if font in KERNED else "none"
    return (
        f'@font-face{{font-family:"chart-{font}";src:url("{address}");font-display:block}}\n'
        f'.sheet .{font}{{font-family:"chart-{font}",serif;font-kerning:{kerning}}}\n'
    )


def _dark() -> str:
    levels = [round(grey * 255) for grey in (DARK_PAPER, LIGHT_INK)]
    dark, light = (f"rgb({level},{level},{level})" for level in levels)
    return f".dark .sheet{{--paper:{dark};--ink:{light}}}\n"
