"""How a song is to feel, where words beside its tempo say so.

Programs write "Easy swing" and the metronome mark beside it as two directions, and many songs have
such words at their start and no number.  Common practice, no source.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.intake_result import SymbolReader
from chartkit.interchange.score.events import Measure
from chartkit.interchange.score.heard_tempos import changes_tempo
from chartkit.interchange.score.typed_chords import types_chords

_NAMES_FEEL = re.compile(
    r"(?!(?:de)?cresc|dim\b|dimin)(?=.*[^\W\d_]{3})[^\W\d_(].{2,60}(?<!:)", re.IGNORECASE
)
"""Words that may name it: what stands in parentheses or before a colon is said to someone or of
something, and other words say how loud to play."""

_MANNERS = (
    r"(?:(?:very|not too|slow(?:ly)?|medium|med\.?|moderate(?:ly)?|fast|easy|bright|light|hard|"
    r"lazy|gentle|driving|steady|straight|up[- ]?tempo|jazz|gospel|country|latin|folk|soft|molto|"
    r"poco|with an?)[\s-]+)*"
)
_STYLES = (
    r"(?:swing|shuffle|straight|waltz|ballad|bossa(?: nova)?|samba|rock|reggae|ska|funk|blues|"
    r"march|polka|tango|rumba|latin|folk|jazz|country|gospel|soul|pop|up[- ]?tempo|two[- ]beat)"
    r"(?:\s+(?:feel|tempo|style|groove|beat|time|ballad|waltz|rock|8ths|eighths|16ths|sixteenths))*"
)
_PACES = (
    r"(?:slow|slowly|moderately|moderate|moderato|medium|lively|brightly|fast|freely|gently|largo|"
    r"lento|adagio|andante|andantino|allegro|allegretto|vivace|presto|rubato|tempo di \w+)"
    r"(?:\s+(?:slow|fast|tempo|con \w+|moto|cantabile|espressivo))*"
    r"(?:,? (?:with|and|ma non) [\w ]{3,30})?"
)
_AT_THE_START = CompiledLater(rf"{_MANNERS}(?:{_STYLES}|{_PACES})")
"""What words at the start of a song say of all of it, with no tempo beside them."""


def with_feel_beside_tempo(
    measures: Sequence[Measure], read_symbol: SymbolReader
) -> tuple[Measure, ...]:
    """Takes one text beside a tempo for the feel from there on; returns the measures. The first
    measure needs no tempo if its words are a style or a pace."""
    measures = (*map(_with_own_feel, map(_as_shown, measures[:1])), *measures[1:])
    return tuple(
        _with_feel(measure, read_symbol)
        if measure.tempo is not None and measure.instructions and not measure.feel
        else measure
        for measure in measures
    )


PLAYED_FEELS = ("swing", "swing sixteenths")
"""The feels that only playback knows."""
_SWINGS = re.compile("swing|swung|shuffle|straight", re.IGNORECASE)


def _as_shown(first: Measure) -> Measure:
    """The first measure without a feel of playback that its words say more exactly."""
    is_said = any(_SWINGS.search(one.text) for one in first.instructions)
    return first._replace(feel="") if is_said and first.feel in PLAYED_FEELS else first


def _with_own_feel(first: Measure) -> Measure:
    """The first measure with its words as its feel, where it has no tempo and they say one."""
    begins = [one for one in first.instructions if not one.onset]
    said = [one for one in begins if _AT_THE_START.fullmatch(one.text)]
    if first.tempo is not None or first.feel or len(said) != 1:
        return first
    others = tuple(one for one in first.instructions if one not in said)
    return first._replace(feel=said[0].text, instructions=others)


def _with_feel(measure: Measure, read_symbol: SymbolReader) -> Measure:
    said = dict.fromkeys(
        one.text
        for one in measure.instructions
        if not one.onset and _NAMES_FEEL.fullmatch(one.text)
    )
    text = next(iter(said), "")
    feel = without_tempo(text, measure.tempo or 0.0)
    if len(said) != 1 or not feel or changes_tempo(text) or types_chords(text, read_symbol):
        return measure
    others = tuple(one for one in measure.instructions if one.onset or one.text != text)
    return measure._replace(feel=feel, instructions=others)


def without_tempo(text: str, tempo: float) -> str:
    """Words without the number of the tempo beside them, whose note is one of a font that nobody
    knows ("Ballad = 68"); empty where the number is another."""
    said = _NUMBER_BEHIND.fullmatch(text)
    if said is None:
        return text
    return said["words"] if tempo / int(said["number"]) in _UNITS else ""


_NUMBER_BEHIND = re.compile(
    r"(?P<words>.*?[^\s(])[\s(]*=\s*(?:ca?\.?\s*|circa\s*)?(?P<number>[1-9]\d{1,2})\s*\)?",
    re.IGNORECASE,
)
_UNITS = (1.0, 2.0, 0.5, 1.5, 0.75, 3.0, 4.0)
"""Quarter notes in the notes that tempos count."""
