"""What a harmony is read with, and what comes of it."""

from typing import NamedTuple
from xml.etree.ElementTree import Element

from chartkit.interchange.taken import Findings, SymbolReader
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key

Parts = dict[str, list[Element]]
"""The children of one chord's harmony by their names."""


class ReadHarmony(NamedTuple):
    """A chord, None for N.C., and a cue for what its symbol says beyond it."""

    chord: Chord | None
    cue: str = ""


class HarmonyContext(NamedTuple):
    """What a harmony is read with.

    ``interval`` brings a transposing part to sounding pitch; ``key`` is the written key, for
    numerals; ``read_symbol`` reads the text of a kind.
    """

    interval: int
    key: Key
    read_symbol: SymbolReader
    findings: Findings
    place: str
