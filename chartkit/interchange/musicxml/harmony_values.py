"""The values of reading a ``harmony``: its context and the chord that it makes."""

from typing import NamedTuple
from xml.etree.ElementTree import Element

from chartkit.interchange.intake_result import Findings, SymbolReader
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key

Parts = dict[str, list[Element]]
"""The children of one chord's harmony by their names."""


class ReadHarmony(NamedTuple):
    """A chord, None for N.C., and a cue for what its symbol says beyond it.

    ``bass_only`` says that root and kind are hidden.
    """

    chord: Chord | None
    cue: str = ""
    bass_only: bool = False


class HarmonyContext(NamedTuple):
    """The context in which a harmony is read.

    ``interval`` brings a transposing part to sounding pitch; ``key`` is the written key, for
    numerals; ``read_symbol`` reads the text of a kind; ``before`` is the sounding chord before.
    """

    interval: int
    key: Key
    read_symbol: SymbolReader
    findings: Findings
    place: str
    before: Chord | None = None
