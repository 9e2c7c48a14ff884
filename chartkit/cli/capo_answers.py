"""A question to the adviser, its answers, and how they are shown."""

import json
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.cli.capo_json import answers_json
from chartkit.cli.capo_tables import print_advice, print_beside, print_spread
from chartkit.cli.first_guitar import first_capo, first_chart, first_part
from chartkit.cli.reporting import say
from chartkit.files import Unusable, write_result
from chartkit.theory.pitch import PitchRange

if TYPE_CHECKING:
    from chartkit.advise.beside import BesideOption, GuitarPositions
    from chartkit.advise.part.propose import PartProposal
    from chartkit.advise.ranking import Advice
    from chartkit.advise.register import Moment
    from chartkit.advise.settings import AdviceSettings
    from chartkit.advise.substitutions import Substitution
    from chartkit.fretboard.instrument import Instrument
    from chartkit.sheets.advice import Answer


class Question:
    """A song, an instrument, and what the player allows."""

    def __init__(
        self,
        chart: Chart,
        view: View,
        instrument: "Instrument",
        settings: "AdviceSettings",
        thumb: bool,
    ) -> None:
        """``thumb`` says whether the thumb may reach over the neck.

        Raises Unusable for a chart without chords.
        """
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
        if not self.song.held_chords:
            raise Unusable(f"{self.title}: there are no chords in this chart")

    @property
    def sung(self) -> PitchRange | None:
        """The sung range in the key asked for; None where the chart has none."""
        value = self.moved.setting("range")
        return value if isinstance(value, PitchRange) else None

    @property
    def title(self) -> str:
        """The song's title."""
        return self.chart.text("title") or "Untitled"


@dataclass(frozen=True, slots=True)
class Answers:
    """The adviser's answers about a song.

    ``offers`` are substitutions, where one guitar was asked about.  ``first`` is what the first
    guitar sounds, ``second`` the places of another beside it and ``parts`` its parts of few
    strings; ``spread`` the places of several.  Each is empty if it was not asked for.
    """

    advice: "Advice"
    offers: "tuple[Substitution, ...]" = ()
    first: "tuple[Moment, ...] | None" = None
    second: "tuple[BesideOption, ...]" = ()
    parts: "tuple[PartProposal, ...]" = ()
    spread: "tuple[GuitarPositions, ...] | None" = None


@dataclass(frozen=True, slots=True)
class Output:
    """The wanted output: as JSON, with every option, drawn on a sheet."""

    as_json: bool = False
    every: bool = False
    sheet: Path | None = None
    replace_file: bool = False


def answers_to(question: Question, beside: str | None, guitars: int | None) -> Answers:
    """The answers for one guitar, for a second beside another, or for several."""
    from chartkit.advise.ranking import rank_song
    from chartkit.advise.substitutions import substitutions_for

    song, instrument, settings = question.song, question.instrument, question.settings
    advice = rank_song(song, instrument, settings, question.own, question.boards)
    if beside is not None:
        return _answers_beside(question, advice, beside)
    if guitars is not None:
        from chartkit.advise.beside import spread_guitars

        spread = spread_guitars(song, guitars, instrument, settings, None, question.boards)
        return Answers(advice, spread=spread)
    return Answers(advice, substitutions_for(advice, settings, question.boards))


def _answers_beside(question: Question, advice: "Advice", beside: str) -> Answers:
    from chartkit.advise.beside import rank_beside
    from chartkit.advise.part.propose import propose_parts

    first = _first_part(question, beside)
    second = rank_beside(
        question.song,
        first,
        sung=question.sung,
        instrument=question.instrument,
        settings=question.settings,
        weights=None,
        own=question.own,
        boards=question.boards,
    )
    parts = propose_parts(question.moved, first, question.instrument)
    return Answers(advice, first=first, second=second, parts=parts)


def _first_part(question: Question, beside: str) -> "tuple[Moment, ...]":
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


def show_answers(question: Question, answers: Answers, output: Output) -> None:
    """Prints the answers, and draws them if a sheet is asked for."""
    if output.as_json:
        click.echo(json.dumps(answers_json(answers), indent=2, ensure_ascii=True))
    elif answers.second:
        with_voice = question.sung is not None
        print_beside(question.title, answers.second, answers.parts, with_voice, output.every)
    elif answers.spread is not None:
        print_spread(question.title, answers.spread)
    else:
        place, every = question.settings.place, output.every
        print_advice(question.title, answers.advice, place, every, answers.offers)
    if output.sheet is not None:
        _draw(question, answers, output.sheet, output.replace_file)


def _draw(question: Question, answers: Answers, sheet: Path, replace_file: bool) -> None:
    from chartkit.pdf.fonts import Fonts
    from chartkit.pdf.write import pdf_bytes
    from chartkit.sheets.advice import advice_sheet
    from chartkit.sheets.registers import register_rows

    rows = register_rows(
        answers.advice, question.sung, answers.first, answers.second, answers.spread or ()
    )
    document = advice_sheet(question.title, answers.advice, _on_paper(answers), rows, Fonts())
    write_result(sheet, pdf_bytes(document), replace_file)
    say(f"{sheet}: the options drawn")


def _on_paper(answers: Answers) -> "Answer":
    """The sheet's message in a sentence, and the options that it draws."""
    from chartkit.sheets.advice import Answer, first_options

    if answers.second:
        best = answers.second[0].played.option
        sentence = f"Beside the first guitar, {best} is best, for its room and its shapes."
        reasons = (replace(option.played, reason=option.reason) for option in answers.second)
        return Answer("A second guitar", sentence, tuple(enumerate(reasons, 1)))
    if answers.spread:
        widest = answers.spread[0]
        sentence = f"At these places the guitars overlap least (apart: {widest.apart:.2f} of 1)."
        return Answer("Guitars over the neck", sentence, tuple(enumerate(widest.guitars, 1)))
    return Answer("Where the capo goes", answers.advice.verdict, first_options(answers.advice))
