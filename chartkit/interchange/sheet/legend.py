"""What a sheet tells of its chords and strings: shapes become the song's own, the rest notes."""

from chartkit.chart.model import GivenShape
from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.sheet.state import Sheet
from chartkit.interchange.sheet.told import legend_pairs
from chartkit.interchange.wording import setting_text
from chartkit.theory.shape_text import parse_shape

STRINGS = 6


def take_note(sheet: Sheet, line: Line) -> None:
    """Keeps a line as a note on the song."""
    text = setting_text(line.text.strip(" \t()"))
    sheet.notes.append(text)
    sheet.findings.guess("kept-as-note", f'"{text}" is kept as a note', line.place())


def take_legend(sheet: Sheet, line: Line) -> None:
    """Takes chords with their frets as shapes of the song's own; a line with what is no shape
    of a known chord, or with a second shape of one, is kept as a note."""
    shapes = [_shape(sheet, *pair) for pair in legend_pairs(line.text)]
    chords = [shape.chord for shape in (*sheet.shapes, *shapes) if shape is not None]
    if None in shapes or len(set(chords)) < len(chords):
        take_note(sheet, line)
        return
    sheet.shapes += [shape for shape in shapes if shape is not None]
    sheet.findings.guess(
        "shapes", "chords with frets behind them are taken as shapes of the song's own, counted "
        "from the capo", line.place(),
    )  # fmt: skip


def _shape(sheet: Sheet, symbol: str, frets: str) -> GivenShape | None:
    chord = sheet.tokens.symbol(symbol)
    try:
        found = parse_shape(frets.replace(" ", "-"))
    except ValueError:
        return None
    return GivenShape(chord, found) if chord is not None and len(found) == STRINGS else None
