"""``chartkit capo``: where the capo goes, and why."""

from dataclasses import replace
from typing import TYPE_CHECKING

from chartkit.chart.model import Chart
from chartkit.cli.capo_answers import Output, Question, answers_to, show_answers
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
from chartkit.cli.options import (
    InstrumentOption,
    KeyOption,
    OneFile,
    Replace,
    asked_instrument,
    view_for,
)
from chartkit.cli.reporting import Outcome, wrong_usage
from chartkit.files import Unusable, same_file
from chartkit.syntax.symbol import chord_or_none
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord

if TYPE_CHECKING:
    from chartkit.advise.settings import AdviceSettings
    from chartkit.fretboard.instrument import Instrument


def capo(
    file: OneFile,
    key: KeyOption = None,
    studio: Studio = False,
    highest: Highest = None,
    tune_down: TuneDown = None,
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

    A place ranks higher if open strings ring there, also from chord to chord, and lower for
    barres, hard shapes and a high capo. The score is an index, not a measurement, so the measures
    are shown beside it. --beside and --guitars rank places for more than one guitar.
    """
    if beside is not None and guitars is not None:
        raise wrong_usage("give --beside or --guitars, not both")
    alone = beside is None and guitars is None
    outcome = Outcome()
    for source, chart in outcome.charts([file]):
        view = view_for(chart, None, key)
        with outcome.guarded():
            played_on = asked_instrument(chart, instrument)
            top = highest if played_on.has_capo or highest is not None or not alone else 0
            settings = _settings(alone, studio, top, tune_down, knows)
            allowed = replace(settings, short_capos=_short_capos(chart, played_on, partial))
            question = Question(chart, view, played_on, allowed, thumb)
            if sheet is not None and same_file(sheet, source.name):
                raise Unusable(f"{sheet} is the chart itself")
            answers = answers_to(question, beside, guitars)
            show_answers(question, answers, Output(as_json, every, sheet, replace_file))
    outcome.finish()


def _settings(
    alone: bool, studio: bool, highest: int | None, tune_down: int | None, knows: str | None
) -> "AdviceSettings":
    """The adviser's settings; one guitar alone is shown more places than one of several."""
    from chartkit.advise.settings import (
        LISTED_DOWN,
        LISTED_HIGHEST,
        USUAL_HIGHEST_CAPO,
        USUALLY_DOWN,
        AdviceSettings,
        Venue,
    )

    place: Venue = "studio" if studio else "live"
    top, down = LISTED_HIGHEST, LISTED_DOWN
    if not alone:
        top, down = USUAL_HIGHEST_CAPO, USUALLY_DOWN[place]
    return AdviceSettings(
        highest_capo=top if highest is None else highest,
        most_down=down if tune_down is None else tune_down,
        place=place,
        knows=None if knows is None else _chords(knows),
    )


def _short_capos(chart: Chart, instrument: "Instrument", partial: bool) -> tuple[Capo, ...]:
    """The chart's own short capo, and the usual ones if they are asked for.

    Ends the run if they are asked for on an instrument they are not made for.
    """
    from chartkit.advise.option import SHORT_CAPOS

    own = (chart.capo,) if chart.capo.strings else ()
    if not partial:
        return own
    if len(instrument.strings) != _GUITAR_STRINGS:
        raise wrong_usage(
            "--partial ranks short capos for six strings, and the "
            f"{instrument.name} has {len(instrument.strings)}",
            "a chart can name any short capo: capo: 2 over strings 4-2",
        )
    return tuple(dict.fromkeys((*own, *SHORT_CAPOS)))


_GUITAR_STRINGS = 6


def _chords(names: str) -> tuple[Chord, ...]:
    return tuple(
        chord
        for name in names.replace(",", " ").split()
        if (chord := chord_or_none(name)) is not None
    )
