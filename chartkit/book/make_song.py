"""One song as one player reads it: pages drawn and ready to be bound.

One call is one piece of work for a worker: plain values in, plain values out.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

from chartkit.advise.moving_capo import with_moving_capo
from chartkit.advise.part.propose import PartRequest, propose_parts
from chartkit.advise.ranking import played_option
from chartkit.advise.register import Moment, part_of
from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes
from chartkit.advise.song import song_of
from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.kept_shapes import with_shapes_kept
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View
from chartkit.book.read_song import tonight_view
from chartkit.chart.model import Chart, SettingRow
from chartkit.compile import best_capo, drawn_for_book, look_with_grips
from chartkit.diagnostics import Source
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR, KNOWN
from chartkit.pdf.draw import DrawnPage
from chartkit.syntax.reader import read_chart
from chartkit.theory.capo import NO_CAPO, Capo

_CHARTS_AT_HAND = 8
"""The parsed charts that a worker keeps: the players of one song come one after the other."""


@dataclass(frozen=True, slots=True)
class PartAsked:
    """A part beside a guitarist: the instruments of both, and where the first one's capo sits.

    ``first`` is None if that guitarist rests in the song; ``first_capo`` is None for the chart's
    own.  ``player`` is the name of who plays the part.
    """

    instrument: Instrument
    first: Instrument | None = None
    first_capo: Capo | None = None
    player: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PagesRequest:
    """A song's text, tonight's key and capo, and how its player's pages look.

    ``capo`` None is the chart's own.  ``instrument`` is what the player has in hand, None if that
    is not a guitar.  ``notes`` stand under the title after the chart's.  ``says_no_capo`` has
    the head say that there is no capo, where there is none.  ``part`` asks for a second guitar's
    part instead of the song's chords.
    """

    text: str
    key: str | None = None
    shift: int = 0
    capo: Capo | None = NO_CAPO
    instrument: Instrument | None = None
    look: PageLook = PageLook()
    notes: tuple[str, ...] = ()
    says_no_capo: bool = False
    part: PartAsked | None = None


@dataclass(frozen=True, slots=True)
class SongPages:
    """A song's pages for one player.

    ``summary`` is its capo and keys in one phrase, ``first`` the first chord as this player
    reads it, ``capos`` where the capo sits at first and after each move inside it.  ``missing`` are
    characters that no font can draw.
    """

    title: str
    writer: str
    language: str
    summary: str
    first: str
    capos: tuple[Capo, ...]
    pages: tuple[DrawnPage, ...]
    missing: str = ""


def tonights_chart(request: PagesRequest) -> tuple[Chart, View]:
    """The chart of a request, and its player's view tonight."""
    chart = _chart_of(request.text)
    view = tonight_view(chart, request.key, request.shift)
    if request.part is not None:
        chart, view = _part(chart, view, request.part), View(capo=NO_CAPO)
    else:
        view = replace(view, capo=request.capo)
    if request.instrument is not None:
        view = with_shapes_kept(chart, view)
        chart = _played_on(chart, request.instrument)
    elif request.part is None:
        chart = _for_no_guitar(chart)
    if view.capo is None and chart.wants_best_capo:
        view = replace(view, capo=best_capo(chart, view))
    return chart, view


def tonights_look(request: PagesRequest, chart: Chart) -> PageLook:
    """The look of a request's pages: a guitarist who reads a part sees its grips."""
    if request.part is not None or request.instrument is None:
        return request.look
    return look_with_grips(chart, request.look)


def make_pages(request: PagesRequest) -> SongPages:
    """The song's pages.  The chart must be free of mistakes."""
    chart, view = tonights_chart(request)
    look = tonights_look(request, chart)
    shown, document, pages = drawn_for_book(chart, view, request.notes, look, request.says_no_capo)
    return SongPages(
        title=document.title,
        writer=document.author,
        language=document.language,
        summary=document.subject,
        first=first_chord(shown),
        capos=(shown.capo, *shown.capo_moves),
        pages=pages,
        missing="".join(sorted(document.missing)),
    )


def _part(chart: Chart, view: View, asked: PartAsked) -> Chart:
    """The part that is proposed first, or the sounding song if there is none.

    It is played on the player's own instrument: a tuning that the chart names is the first
    guitar's.
    """
    moved = moved_chart(chart, view)
    first: tuple[Moment, ...] = ()
    if asked.first is not None:
        first = _first_part(chart, moved, asked.first, asked.first_capo)
    own = _played_on(moved, asked.instrument)
    proposals = propose_parts(own, first, asked.instrument, PartRequest(player=asked.player))
    return proposals[0].chart if proposals else own


_OF_GUITARS = ("instrument", "shape")
"""Settings that concern one instrument and its player."""


def _played_on(chart: Chart, instrument: Instrument) -> Chart:
    """The chart for an instrument. If it is not the chart's own, the chart names it and leaves out
    its shapes, which belong to its own instrument."""
    if instrument_of(chart).open_pitches == instrument.open_pitches:
        return chart
    top = [
        row for row in chart.top if not (isinstance(row, SettingRow) and row.name in _OF_GUITARS)
    ]
    if instrument != GUITAR:
        named = any(instrument.name == known.name for known in KNOWN)
        top.append(SettingRow("instrument", instrument.name if named else instrument.tuning))
    return replace(chart, top=tuple(top))


def _for_no_guitar(chart: Chart) -> Chart:
    """The chart for a player who has no guitar, to whom the guitar's tuning says nothing."""
    top = (
        row for row in chart.top if not (isinstance(row, SettingRow) and row.name in _OF_GUITARS)
    )
    return replace(chart, top=tuple(top))


def _first_part(
    chart: Chart, moved: Chart, instrument: Instrument, capo: Capo | None
) -> tuple[Moment, ...]:
    """What the first guitarist plays at a capo, or, for None, at the chart's own."""
    own, song, boards = own_shapes(chart, instrument), song_of(moved), boards_on_disk()
    if capo is None:
        moving = with_moving_capo(chart, song, instrument, None, own, boards)
        if moving is not None:
            return moving.part(song, instrument)
        capo = chart.capo
    played = played_option(song, capo, instrument, None, own, boards)
    return part_of(song, played, instrument)


@lru_cache(maxsize=_CHARTS_AT_HAND)
def _chart_of(text: str) -> Chart:
    return read_chart(Source(text)).chart


def first_chord(arrangement: Arrangement) -> str:
    """The first chord on the first line of chords, as printed; empty where there is none."""
    names = (strike.names[0] for strike in arrangement.strikes() if strike.names)
    return next((name.plain() for name in names if name is not None), "")
