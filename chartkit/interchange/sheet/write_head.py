"""The head of a text for a mail: title, writer, facts, own shapes, notes."""

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.rewrite import rewritten
from chartkit.arrange.view import View
from chartkit.chart.model import Chart, GivenShape
from chartkit.interchange.sheet.legend import STRINGS
from chartkit.interchange.sheet.named_settings import named_settings
from chartkit.interchange.sheet.told import legend_pairs
from chartkit.interchange.wording import counted
from chartkit.theory.capo import NO_CAPO
from chartkit.theory.chord import Chord
from chartkit.theory.naming import PLAIN, key_words
from chartkit.theory.shape_text import shape_text

_A_LINE = 4
"""Shapes told on a line."""


def head_lines(song: Arrangement, chart: Chart, view: View) -> list[str]:
    """The lines of the head, in words that the reader of texts takes back."""
    lines = [song.title]
    if song.writer:
        lines.append(f"by {song.writer}")
    lines += ["   ".join(facts) for facts in (_facts(song, chart), _named(chart, view)) if facts]
    if song.capo != NO_CAPO and len(song.lines) == 2:
        below = "guitar tuned down: " if song.capo.tuned_down else ""
        lines.append(f"({below}shapes in {key_words(song.keys.shape, PLAIN)} over sounding chords)")
    legends = list(map(str, _told_shapes(chart)))
    lines += [", ".join(legends[i : i + _A_LINE]) for i in range(0, len(legends), _A_LINE)]
    lines += [f"({text})" for text in song.notes if text]
    return lines


def unsaid_in_text(chart: Chart) -> tuple[str, ...]:
    """What of the head no words of a text tell, so that it is not taken back."""
    told = _told_shapes(chart)
    lost = [f"the shape {shape}" for shape in _shapes(chart) if shape not in told]
    lost += [
        f"the {name} {chart.text(name)}"
        for name in ("feel", "instrument")
        if chart.text(name) and not _told(name, chart.text(name))
    ]
    if chart.wants_best_capo:
        lost.append("that the program chooses the capo")
    return tuple(lost)


def _facts(song: Arrangement, chart: Chart) -> list[str]:
    facts = [f"Key: {key_words(song.keys.sounding, PLAIN)}"] if chart.key else []
    facts.append(f"{song.meter}")
    if song.tempo is not None:
        facts.append(f"Tempo {song.tempo}")
    if song.capo.tuned_down:
        facts.append(f"Tuned down {counted(song.capo.tuned_down, 'half step')}")
    if song.capo.fret:
        facts.append(f"Capo {song.capo.fret}")
    return facts


def _named(chart: Chart, view: View) -> list[str]:
    """Settings by their names; the range in the key of the view."""
    told = [_told(name, chart.text(name)) for name in ("feel", "instrument")]
    if chart.setting("range") is not None:
        told.append(_told("range", rewritten(chart, view, False).text("range")))
    told.append(_told("language", chart.text("language")))
    return list(filter(None, told))


def _told(name: str, value: str) -> str:
    """A setting by its name; empty where it would not be taken back."""
    told = f"{name.capitalize()}: {' '.join(value.split())}"
    return told if list(map(str, named_settings(told).values())) == [value] else ""


def _shapes(chart: Chart) -> list[GivenShape]:
    return [row.value for row in chart.shapes() if isinstance(row.value, GivenShape)]


def _told_shapes(chart: Chart) -> list[GivenShape]:
    """The shapes that are taken back from a line of them: one for each chord."""
    first: dict[Chord, GivenShape] = {}
    for shape in _shapes(chart):
        pair = (str(shape.chord), shape_text(shape.frets))
        if len(shape.frets) == STRINGS and legend_pairs(str(shape)) == [pair]:
            first.setdefault(shape.chord, shape)
    return list(first.values())
