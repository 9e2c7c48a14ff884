"""A second guitar beside the first, as the desk shows it: places with room, parts of its own.

All of it comes from ``chartkit.advise``: what ``chartkit capo --beside`` and ``chartkit part`` say.
"""

from chartkit.advise.beside import BesideOption, rank_beside
from chartkit.advise.part.propose import PartProposal, propose_parts
from chartkit.advise.ranking import played_option
from chartkit.advise.reasons import shape_key_name
from chartkit.advise.register import part_of, register_of
from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes
from chartkit.advise.song import song_of
from chartkit.arrange.rewrite import moved_chart
from chartkit.desk.pages import Facts, song_of_text, view_of
from chartkit.desk.requests import PageRequest
from chartkit.diagnostics import has_errors
from chartkit.files import Unusable
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Page
from chartkit.layout.metrics import Typesetter
from chartkit.layout.style import style_for
from chartkit.pdf.fonts import Fonts
from chartkit.sheets.registers import RegisterRow, register_picture, register_row
from chartkit.svg.write import page_svg
from chartkit.syntax.write import chart_text
from chartkit.theory.pitch import PitchRange

_WORDS = {"low": "low", "middle": "middle", "high": "high", "edges": "low and high"}
"""Registers of a part in words."""
_MOST_PLACES = 6
"""How many places beside the first guitar are offered."""


def second_guitar(request: PageRequest) -> Facts:
    """Places for a second guitar's capo beside the first one's, and parts as charts.

    Raises Unusable for a chart without chords, with mistakes, or that is a part itself.
    """
    read = song_of_text(request.text)
    if has_errors(read.reading.diagnostics):
        raise Unusable("the chart has mistakes", "correct them first")
    if read.chart.text("part"):
        raise Unusable("this chart is one guitar's part", "open the song itself for another part")
    view = view_of(request, read.chart)
    chart, instrument = moved_chart(read.chart, view), instrument_of(read.chart)
    song, capo = song_of(chart), read.chart.capo if view.capo is None else view.capo
    if not song.held_chords:
        raise Unusable("there are no chords in this chart")
    own, boards, sung = own_shapes(read.chart, instrument), boards_on_disk(), chart.setting("range")
    first = part_of(song, played_option(song, capo, instrument, None, own, boards), instrument)
    voice = sung if isinstance(sung, PitchRange) else None
    beside = rank_beside(song, first, sung=voice, instrument=instrument, own=own, boards=boards)
    boards.save()
    # The first guitar's own place has no room for another.
    places = [place for place in beside if place.playable and place.played.option != capo]
    parts = propose_parts(chart, first, instrument)
    chosen = next((place for place in places if place.played.option == view.second_capo), None)
    second = chosen or next(iter(places), None)
    rows = [
        *_voice_row(voice),
        *register_row(f"first guitar, {capo}", register_of(first)),
        *(register_row(f"beside it, {second.played.option}", second.register) if second else ()),
        *(row for part in parts for row in _part_row(part)),
    ]
    return {
        "first": str(capo),
        "places": [_place(place) for place in places[:_MOST_PLACES]],
        "parts": [_part(part) for part in parts],
        "picture": _picture(rows),
    }


def _voice_row(voice: PitchRange | None) -> list[RegisterRow]:
    if voice is None:
        return []
    low, high = voice.lowest.midi, voice.highest.midi
    return [RegisterRow(f"voice {voice.printed()}", low, (low + high) / 2, high)]


def _part_row(part: PartProposal) -> list[RegisterRow]:
    return register_row(f"part, {_WORDS[part.register]}", register_of(part.moments))


def _picture(rows: list[RegisterRow]) -> str:
    """Who sounds where, as an ``svg`` element."""
    fonts, style = Fonts(), style_for("a4")
    items, height = register_picture(tuple(rows), Fitter(Typesetter(fonts)), style)
    page = Page(style.line_width, height, tuple(items))
    return page_svg(page, fonts, "Who sounds where")


def _place(option: BesideOption) -> Facts:
    played = option.played
    return {
        "capo": played.option.raised,
        "name": str(played.option),
        "shapes": shape_key_name(played),
        "reason": option.reason,
    }


def _part(part: PartProposal) -> Facts:
    return {
        "register": _WORDS[part.register],
        "reason": part.reason,
        "sections": [f"{name}: {reason}" for name, reason in part.section_reasons],
        "text": chart_text(part.chart),
    }
