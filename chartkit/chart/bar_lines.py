"""How bar lines are typed, in charts and in texts alike."""

from chartkit.chart.model import BarLine, BarLineKind

BAR_SIGNS: dict[BarLineKind, str] = {
    "single": "|",
    "double": "||",
    "repeat-start": "|:",
    "repeat-end": ":|",
    "repeat-both": ":|:",
}
"""The sign of each kind of bar line; "none" has no sign."""


def typed_bar_line(text: str) -> BarLine:
    """The bar line that a text is, with the endings it begins: ``:|2.`` is a repeat's end."""
    sign = text.rstrip("0123456789.")
    endings = tuple(int(number) for number in text[len(sign) :].split(".") if number)
    kinds: dict[tuple[bool, bool], BarLineKind] = {
        (True, True): "repeat-both",
        (True, False): "repeat-end",
        (False, True): "repeat-start",
        (False, False): "double" if "||" in sign else "single",
    }
    return BarLine(kinds[sign.startswith(":"), sign.endswith(":")], endings)


def bar_line_text(line: BarLine) -> str:
    """The bar line as it is typed, without its times: ``:|2.``"""
    return BAR_SIGNS.get(line.kind, "") + endings_text(line)


def endings_text(line: BarLine) -> str:
    """The numbers of the ending that begins at a bar line, as they are typed: ``1.3.``"""
    return "".join(f"{number}." for number in line.endings)
