"""The head of a chart as a text for a mail, in words that the reader of texts takes back."""

import re

from chartkit.arrange.arrangement import (
    Arrangement,
)
from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View
from chartkit.chart.model import (
    Chart,
    GivenShape,
)
from chartkit.interchange.text.building.song_settings import STRINGS
from chartkit.interchange.text.head_words.titles import (
    DASH,
    IN_BRACKETS_BEHIND,
    NUMBER_BEFORE,
    QUOTES,
    could_be_title,
    is_addressed_to_reader,
    title_of,
)
from chartkit.interchange.text.kinds.unnamed_lines import is_plainly_words
from chartkit.interchange.text.vocabulary.facts import named_settings
from chartkit.interchange.text.vocabulary.reference_lines import legend_pairs
from chartkit.interchange.wording import NAMED_TEXTS, counted
from chartkit.theory.chord import Chord
from chartkit.theory.naming import PLAIN, key_words
from chartkit.theory.shape_text import shape_text

_LIKE_A_CHORD = re.compile(r"[(<|/]*(?:[A-Ha-h](?![^\W\d_]{3})|N\.?C|[|/%&+x\d])")
_A_LINE = 4
"""Shapes written on a line."""


def head_lines(song: Arrangement, chart: Chart, view: View) -> list[str]:
    """The lines of the head, in words that the reader of texts takes back."""
    lines = [song.title if _is_plain_title(song.title) else f"Title: {song.title}"]
    if song.writer:
        lines.append(f"by {song.writer}")
    lines += ["   ".join(facts) for facts in (_facts(song, chart), _named(chart, view)) if facts]
    if song.uses_capo and len(song.chord_lines) == 2:
        below = "guitar tuned down: " if song.capo.tuned_down else ""
        lines.append(f"({below}shapes in {key_words(song.keys.shape, PLAIN)} over sounding chords)")
    legends = list(map(str, _written_shapes(chart)))
    lines += [", ".join(legends[i : i + _A_LINE]) for i in range(0, len(legends), _A_LINE)]
    lines += [f"({text})" for text in chart.notes() if text]
    return lines


def _is_plain_title(title: str) -> bool:
    """Whether a title alone on the first line of a text is read as that title."""
    like = [_LIKE_A_CHORD.match(word) is not None for word in title.split()]
    like_chords = not like or like[-1] or all(like[:2])
    parted = NUMBER_BEFORE.match(title) or IN_BRACKETS_BEHIND.fullmatch(title)
    other = parted or DASH.search(title) or title_of(title) != title or "  " in title
    plain = title.strip(QUOTES + " \t-=*#_~") == title and not is_addressed_to_reader(title)
    return (
        plain and not (like_chords or other) and could_be_title(title) and is_plainly_words(title)
    )


def settings_lost_in_text(chart: Chart) -> tuple[str, ...]:
    """What of the head no words of a text tell, so that it is not taken back."""
    written = _written_shapes(chart)
    lost = [f"the shape {shape}" for shape in _shapes(chart) if shape not in written]
    lost += [
        f"the {name} {chart.text(name)}"
        for name in NAMED_TEXTS
        if chart.text(name) and not _named_setting(name, chart.text(name))
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
        facts.append(f"Capo {song.capo.place}")
    elif song.uses_capo and not song.capo.tuned_down:
        facts.append("No capo")
    return facts


def _named(chart: Chart, view: View) -> list[str]:
    """Settings by their names; the range in the key of the view."""
    written = [_named_setting(name, chart.text(name)) for name in NAMED_TEXTS]
    if chart.setting("range") is not None:
        written.append(_named_setting("range", rewritten_chart(chart, view, False).text("range")))
    written.append(_named_setting("language", chart.text("language")))
    return list(filter(None, written))


def _named_setting(name: str, value: str) -> str:
    """A setting by its name; empty where it would not be taken back."""
    written = f"{name.capitalize()}: {' '.join(value.split())}"
    return written if list(map(str, named_settings(written).values())) == [value] else ""


def _shapes(chart: Chart) -> list[GivenShape]:
    return [row.value for row in chart.shapes() if isinstance(row.value, GivenShape)]


def _written_shapes(chart: Chart) -> list[GivenShape]:
    """The shapes that are taken back from a line of them: one for each chord."""
    first: dict[Chord, GivenShape] = {}
    for shape in _shapes(chart):
        pair = (str(shape.chord), shape_text(shape.frets))
        if len(shape.frets) == STRINGS and legend_pairs(str(shape)) == [pair]:
            first.setdefault(shape.chord, shape)
    return list(first.values())
