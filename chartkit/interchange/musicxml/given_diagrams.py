"""Chord diagrams of a score from elsewhere: they become the player's own shapes.

Source: MusicXML 4.0, ``frame``: strings are counted from the treble side, a string without a note
is muted.  Programs count frets from the nut or from the first fret that is shown; the one in which
the frets sound their chord is meant (common practice, no source).
"""

from collections.abc import Iterator, Sequence
from xml.etree.ElementTree import Element

from chartkit.chart.model import GivenShape, SettingRow
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.musicxml.xml import text_of, whole_number
from chartkit.phrases import counted, listed
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord
from chartkit.theory.shape_text import Frets

_STRINGS = 6
_HIGHEST_FRET = 24


class GivenDiagrams:
    """The diagrams of a part, the first for each chord."""

    def __init__(self) -> None:
        self._frames: dict[Chord, Element] = {}
        self._others = 0

    def take(self, frame: Element, chord: Chord | None) -> None:
        """Adds the diagram under a symbol of a chord."""
        if chord is None:
            return
        first = self._frames.setdefault(chord, frame)
        if first is not frame and set(_ways(first)) != set(_ways(frame)):
            self._others += 1

    def shapes(self, findings: Findings) -> tuple[GivenShape, ...]:
        """The shapes of the chords; what is no shape of its chord on a guitar is reported."""
        if self._others:
            findings.leave_out(
                "chord-diagram",
                f"{counted(self._others, 'further diagram')} of chords that have another one",
            )
        shapes: list[GivenShape] = []
        unplayed: list[str] = []
        for chord, frame in self._frames.items():
            frets = _frets_of(frame, chord)
            if frets is not None:
                shapes.append(GivenShape(chord, frets))
            else:
                unplayed.append(str(chord))
        if unplayed:
            findings.leave_out(
                "chord-diagram",
                f"diagrams that are no shape of their chord on a guitar: {listed(unplayed)}",
            )
        return tuple(shapes)


def shape_rows(
    shapes: Sequence[GivenShape], capo: int | Capo, findings: Findings
) -> tuple[SettingRow, ...]:
    """The settings of some shapes; none under a capo, where nobody says of which chord they are."""
    if shapes and capo:
        findings.leave_out("chord-diagram", f"{counted(len(shapes), 'chord diagram')} under a capo")
        return ()
    return tuple(SettingRow("shape", shape) for shape in shapes)


def _frets_of(frame: Element, chord: Chord) -> Frets | None:
    """The frets of a diagram, bass string first; None where they do not sound the chord."""
    # Fretboards are loaded only for scores that have diagrams.
    from chartkit.fretboard.instruments import GUITAR
    from chartkit.fretboard.player_shape import shape_problems

    fitting = (frets for frets in _ways(frame) if not shape_problems(GUITAR, chord, frets))
    return next(fitting, None)


def _ways(frame: Element) -> Iterator[Frets]:
    """The frets as they are numbered, and counted from the first that is shown."""
    if whole_number(text_of(frame, "frame-strings") or str(_STRINGS)) != _STRINGS:
        return
    frets: dict[int, int] = {}
    barres: dict[int, tuple[int, int]] = {}
    for note in frame.iterfind("frame-note"):
        string, fret = whole_number(note.findtext("string")), whole_number(note.findtext("fret"))
        if not (1 <= string <= _STRINGS and 0 <= fret <= _HIGHEST_FRET):
            return
        frets[string] = fret
        barre = note.find("barre")
        if barre is not None:
            other, _ = barres.get(fret, (string, string))
            barres[fret] = min(other, string), max(other, string)
    for fret, (low, high) in barres.items():
        for string in range(low, high + 1):
            frets.setdefault(string, fret)
    shown = max(1, whole_number(frame.findtext("first-fret")))
    strings = range(_STRINGS, 0, -1)
    for added in dict.fromkeys((0, shown - 1)):
        yield tuple(frets[s] + added * (frets[s] > 0) if s in frets else None for s in strings)
