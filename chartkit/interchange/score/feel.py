"""How a song is to feel, where words beside its tempo say so.

Programs write "Easy swing" and the metronome mark beside it as two directions.  Common practice, no
source.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.intake_result import SymbolReader
from chartkit.interchange.score.events import Measure
from chartkit.interchange.score.heard_tempos import changes_tempo
from chartkit.interchange.score.typed_chords import types_chords

_NAMES_FEEL = re.compile(
    r"(?!(?:de)?cresc|dim\b|dimin)(?=.*[^\W\d_]{3})[^\W\d_(].{2,60}(?<!:)", re.IGNORECASE
)
"""Words that may name it: what stands in parentheses or before a colon is said to someone or of
something, and other words say how loud to play."""


def with_feel_beside_tempo(
    measures: Sequence[Measure], read_symbol: SymbolReader
) -> tuple[Measure, ...]:
    """The measures, each that begins with a tempo and one text in the feel of that text."""
    return tuple(
        _with_feel(measure, read_symbol)
        if measure.tempo is not None and measure.instructions and not measure.feel
        else measure
        for measure in measures
    )


def _with_feel(measure: Measure, read_symbol: SymbolReader) -> Measure:
    said = dict.fromkeys(
        one.text
        for one in measure.instructions
        if not one.onset and _NAMES_FEEL.fullmatch(one.text)
    )
    text = next(iter(said), "")
    if len(said) != 1 or changes_tempo(text) or types_chords(text, read_symbol):
        return measure
    others = tuple(one for one in measure.instructions if one.onset or one.text != text)
    return measure._replace(feel=text, instructions=others)
