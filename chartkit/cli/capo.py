"""``chartkit capo``: where the capo goes, and why."""

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.cli.capo_json import advice_json
from chartkit.cli.capo_options import (
    AsJson,
    Beside,
    Every,
    Guitars,
    Highest,
    Knows,
    Partial,
    Sheet,
    Studio,
    Thumb,
    TuneDown,
)
from chartkit.cli.capo_tables import print_advice, print_beside, print_spread
from chartkit.cli.first_guitar import first_capo, first_chart, first_part
from chartkit.cli.options import (
    InstrumentOption,
    KeyOption,
    OneFile,
    Replace,
    asked_instrument,
    view_for,
)
from chartkit.cli.reporting import Outcome, say, wrong_usage
from chartkit.files import Unusable, same_file, write_result
from chartkit.syntax.symbol import chord_or_none
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord
from chartkit.theory.pitch import PitchRange

if TYPE_CHECKING:
    from chartkit.advise.beside import BesideOption, Spread
    from chartkit.advise.part.propose import PartProposal
    from chartkit.advise.ranking import Advice
    from chartkit.advise.register import Moment
    from chartkit.advise.settings import AdviceSettings
    from chartkit.advise.substitutions import Substitution
    from chartkit.fretboard.instrument import Instrument


def capo(
    file: OneFile,
    key: KeyOption = None,
    studio: Studio = False,
    highest: Highest = 9,
    tune_down: TuneDown = 3,
    instrument: InstrumentOption = None,
    partial: Partial = False,
    beside: Beside = None,
    guitars: Guitars = None,
    sheet: Sheet = None,
    knows: Knows = None,
    thumb: Thumb = False,
    as_json: AsJson = False,
    every: Every = False,
    replace_file: Replace = False,
) -> None:
    """Ranks where the capo can go, from computed fingerings.

    Open strings that ring, and ring on across changes, count for a place; barres, hard shapes
    and a high capo count against it. The ranking is an index, not a measurement, so the
    measures are shown beside it. --beside and --guitars rank for further guitars.
    """
    from chartkit.advise.settings import AdviceSettings

    if beside is not None and guitars is not None:
        raise wrong_usage("give --beside or --guitars, not both")
    settings = AdviceSettings(
        highest_capo=highest,
        most_down=tune_down,
        place="studio" if studio else "live",
        knows=None if knows is None else _chords(knows),
    )
    outcome = Outcome()
    for source, chart in outcome.charts([file]):
        view = view_for(chart, None, key)
        with outcome.guarded():
            played_on = asked_instrument(chart, instrument)
            allowed = replace(settings, short_capos=_short_capos(chart, played_on, partial))
            question = _Question(chart, view, played_on, allowed, thumb)
            if sheet is not None and same_file(sheet, source.name):
                raise Unusable(f"{sheet} is the chart itself")
            _answer(question, beside, guitars, sheet, replace_file, as_json, every)
    outcome.finish()


def _short_capos(chart: Chart, instrument: "Instrument", partial: bool) -> tuple[Capo, ...]:
    """The chart's own short capo, and the usual ones where they are asked for.

    Ends the run where they are asked for on an instrument they are not made for.
    """
    from chartkit.advise.option import SHORT_CAPOS

    own = (chart.capo,) if chart.capo.strings else ()
    if not partial:
        return own
    if len(instrument.strings) != _GUITAR_STRINGS:
        raise wrong_usage(
            "--partial knows short capos for a guitar's six strings, and the "
            f"{instrument.name} has {len(instrument.strings)}",
            "a chart may name any: capo: 2 over strings 4-2",
        )
    return tuple(dict.fromkeys((*own, *SHORT_CAPOS)))


_GUITAR_STRINGS = 6


def _chords(names: str) -> tuple[Chord, ...]:
    return tuple(
        chord
        for name in names.replace(",", " ").split()
        if (chord := chord_or_none(name)) is not None
    )


class _Question:
    """A song, an instrument, and what the player allows."""

    def __init__(
        self,
        chart: Chart,
        view: View,
        instrument: "Instrument",
        settings: "AdviceSettings",
        thumb: bool,
    ) -> None:
        from chartkit.advise.requests import boards_on_disk, own_shapes
        from chartkit.advise.song import song_of
        from chartkit.arrange.rewrite import moved_chart

        self.chart = chart
        self.moved = moved_chart(chart, view)
        self.song = song_of(self.moved, settings.free_beats)
        self.instrument = instrument
        self.settings = settings
        self.own = own_shapes(chart, instrument)
        self.boards = boards_on_disk(thumb)

    @property
    def sung(self) -> PitchRange | None:
        """The sung range in the key asked for; None where the chart has none."""
        value = self.moved.setting("range")
        return value if isinstance(value, PitchRange) else None

    @property
    def title(self) -> str:
        """The song's title."""
        return self.chart.text("title") or "Untitled"


def _answer(
    question: _Question,
    beside: str | None,
    guitars: int | None,
    sheet: Path | None,
    replace_file: bool,
    as_json: bool,
    every: bool,
) -> None:
    from chartkit.advise.ranking import rank_song
    from chartkit.advise.substitutions import substitutions_for

    if not question.song.stretches:
        raise Unusable(f"{question.title}: there are no chords in this chart")
    advice = rank_song(
        question.song, question.instrument, question.settings, question.own, question.boards
    )
    first: tuple[Moment, ...] | None = None
    second: tuple[BesideOption, ...] = ()
    spread: tuple[Spread, ...] = ()
    if beside is not None:
        first, second = _beside(question, beside)
    elif guitars is not None:
        spread = _spread(question, guitars)
    offers: tuple[Substitution, ...] = ()
    if beside is None and guitars is None:
        offers = substitutions_for(advice, question.settings, question.boards)
    if as_json:
        parts = _parts(question, first) if second else ()
        answer = advice_json(advice, second, parts, spread, offers)
        click.echo(json.dumps(answer, indent=2, ensure_ascii=True))
    elif second:
        parts = _parts(question, first)
        print_beside(question.title, second, parts, question.sung is not None, every)
    elif guitars is not None:
        print_spread(question.title, spread)
    else:
        print_advice(question.title, advice, question.settings.place, every, offers)
    if sheet is not None:
        _draw(question, advice, first, second, spread, sheet, replace_file)


def _spread(question: _Question, guitars: int) -> "tuple[Spread, ...]":
    from chartkit.advise.beside import spread_guitars

    return spread_guitars(
        question.song, guitars, question.instrument, question.settings, None, question.boards
    )


def _beside(
    question: _Question, beside: str
) -> "tuple[tuple[Moment, ...] | None, tuple[BesideOption, ...]]":
    from chartkit.advise.beside import rank_beside

    first = _first_part(question, beside)
    if first is None:
        return None, ()
    return first, rank_beside(
        question.song,
        first,
        question.sung,
        question.instrument,
        question.settings,
        None,
        question.own,
        question.boards,
    )


def _first_part(question: _Question, beside: str) -> "tuple[Moment, ...] | None":
    """What the first guitar plays: this song with its capo, or its own chart."""
    from chartkit.advise.requests import instrument_of
    from chartkit.advise.song import song_of

    chart = first_chart(beside)
    if chart is not None:
        song, instrument = song_of(chart), instrument_of(chart)
        return first_part(song, chart, chart.capo, instrument, question.settings)
    return first_part(
        question.song, question.chart, first_capo(beside), question.instrument, question.settings
    )


def _parts(question: _Question, first: "tuple[Moment, ...] | None") -> "tuple[PartProposal, ...]":
    """Parts of few strings beside the first guitar, which keep clearer than full chords."""
    from chartkit.advise.part.propose import propose_parts

    return propose_parts(question.moved, first or (), question.instrument)


def _draw(
    question: _Question,
    advice: "Advice",
    first: "tuple[Moment, ...] | None",
    second: "tuple[BesideOption, ...]",
    spread: "tuple[Spread, ...]",
    sheet: Path,
    replace_file: bool,
) -> None:
    from chartkit.pdf.fonts import Fonts
    from chartkit.pdf.write import pdf_bytes
    from chartkit.sheets.advice import Answer, advice_sheet, first_options
    from chartkit.sheets.registers import RegisterRow, register_rows

    rows: tuple[RegisterRow, ...] = register_rows(advice, question.sung, first, second, spread)
    answer = Answer("Where the capo goes", advice.verdict, first_options(advice))
    if second:
        sentence = f"Beside the first guitar {second[0].played.option} has most room to itself."
        answer = Answer(
            "A second guitar",
            sentence,
            tuple((n, replace(o.played, reason=o.reason)) for n, o in enumerate(second, 1)),
        )
    elif spread:
        sentence = f"These places keep clear of one another best ({spread[0].apart:.2f} of 1)."
        answer = Answer("Guitars over the neck", sentence, tuple(enumerate(spread[0].guitars, 1)))
    document = advice_sheet(question.title, advice, answer, rows, Fonts())
    write_result(sheet, pdf_bytes(document), replace_file)
    say(f"{sheet}: the options drawn")
