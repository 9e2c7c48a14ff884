"""``chartkit capo``: where the capo goes, and why."""

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from chartkit.arrange.arrange import key_name
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.cli.columns import in_columns
from chartkit.cli.files import Unusable, read_source, write_whole
from chartkit.cli.options import InstrumentOption, KeyOption, asked_instrument, view_for
from chartkit.cli.options import fret as fret_option
from chartkit.cli.telling import Outcome, say, wrong_usage
from chartkit.syntax.reader import read_chart
from chartkit.theory.pitch import PitchRange

if TYPE_CHECKING:
    from chartkit.advise.beside import BesideOption, Spread
    from chartkit.advise.ranking import Advice, RankedOption
    from chartkit.advise.register import Moment
    from chartkit.advise.settings import AdviceSettings
    from chartkit.fretboard.instrument import Instrument

_SHOWN = 6
"""How many options the table shows; the one without a capo is always among them."""

OneFile = Annotated[
    str,
    typer.Argument(metavar="FILE", help="The chart; - is standard input.", show_default=False),
]
Studio = Annotated[
    bool,
    typer.Option(
        "--studio/--live",
        help="In the studio there is time to tune the guitar down; live, with one guitar, not.",
    ),
]
Highest = Annotated[
    int, typer.Option("--highest", min=0, max=11, help="The highest fret welcome for the capo.")
]
TuneDown = Annotated[
    int,
    typer.Option(
        "--tune-down", min=0, max=5, help="How many half steps the guitar may be tuned down."
    ),
]
Beside = Annotated[
    str | None,
    typer.Option(
        "--beside", metavar="FRET|CHART", show_default=False,
        help="Ranks for a second guitar: the first guitar's capo, or a chart of its part.",
    ),
]  # fmt: skip
Guitars = Annotated[
    int | None,
    typer.Option(
        "--guitars", min=2, max=4, show_default=False,
        help="Spreads so many guitars over the neck.",
    ),
]  # fmt: skip
Sheet = Annotated[
    Path | None,
    typer.Option(
        "--sheet", metavar="PDF", show_default=False, help="Draws the options on a page as well."
    ),
]  # fmt: skip
AsJson = Annotated[bool, typer.Option("--json", help="Print everything as JSON.")]
Every = Annotated[bool, typer.Option("--all", help="Show every option, not only the first few.")]


def capo(
    file: OneFile,
    key: KeyOption = None,
    studio: Studio = False,
    highest: Highest = 9,
    tune_down: TuneDown = 3,
    instrument: InstrumentOption = None,
    beside: Beside = None,
    guitars: Guitars = None,
    sheet: Sheet = None,
    as_json: AsJson = False,
    every: Every = False,
) -> None:
    """Ranks where the capo can go, from computed fingerings.

    Open strings that ring, and ring on across changes, speak for a place; barres, hard shapes
    and a high capo against it. The ranking is an index, not a measurement: the measures are
    shown beside it. With --beside or --guitars, ranks for a second guitar or several.
    """
    from chartkit.advise.settings import AdviceSettings

    if beside is not None and guitars is not None:
        raise wrong_usage("give --beside or --guitars, not both")
    settings = AdviceSettings(
        highest_capo=highest, most_down=tune_down, place="studio" if studio else "live"
    )
    outcome = Outcome()
    for source, chart in outcome.charts([file]):
        view = view_for(chart, None, key)
        with outcome.guarded():
            question = _Question(chart, view, asked_instrument(chart, instrument), settings)
            if sheet is not None and _same(sheet, source.name):
                raise Unusable(f"{sheet} is the chart itself")
            _answer(question, beside, guitars, sheet, as_json, every, outcome)
    outcome.finish()


def _same(sheet: Path, name: str) -> bool:
    return sheet.resolve() == Path(name).resolve()


class _Question:
    """A song, an instrument, and what the player allows."""

    def __init__(
        self, chart: Chart, view: View, instrument: "Instrument", settings: "AdviceSettings"
    ) -> None:
        from chartkit.advise.requests import boards_on_disk, own_shapes
        from chartkit.advise.song import song_of
        from chartkit.compile import moved_chart

        self.chart = chart
        self.moved = moved_chart(chart, view)
        self.song = song_of(self.moved, settings.free_beats)
        self.instrument = instrument
        self.settings = settings
        self.own = own_shapes(chart)
        self.boards = boards_on_disk()

    @property
    def sung(self) -> PitchRange | None:
        """The sung range in the key asked for, where the chart tells it."""
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
    as_json: bool,
    every: bool,
    outcome: Outcome,
) -> None:
    from chartkit.advise.ranking import rank_song

    if not question.song.stretches:
        raise Unusable(f"{question.title}: there are no chords in this chart")
    advice = rank_song(
        question.song, question.instrument, question.settings, question.own, question.boards
    )
    first, second, spread = None, (), ()  # type: ignore[var-annotated]
    if beside is not None:
        first, second = _beside(question, advice, beside, outcome)
    elif guitars is not None:
        spread = _spread(question, guitars)
    if as_json:
        typer.echo(json.dumps(_json(advice, second, spread), indent=2, ensure_ascii=True))
    elif second:
        _print_beside(question, second, every)
    elif guitars is not None:
        _print_spread(question, spread)
    else:
        _print_advice(question, advice, every)
    if sheet is not None:
        _draw(question, advice, first, second, spread, sheet)


def _spread(question: _Question, guitars: int) -> "tuple[Spread, ...]":
    from chartkit.advise.beside import spread_guitars

    return spread_guitars(
        question.song, guitars, question.instrument, question.settings, None, question.boards
    )


def _beside(
    question: _Question, advice: "Advice", beside: str, outcome: Outcome
) -> "tuple[tuple[Moment, ...] | None, tuple[BesideOption, ...]]":
    from chartkit.advise.beside import rank_beside

    first = _first_part(question, beside, outcome)
    if first is None:
        return None, ()
    return first, rank_beside(
        question.song, first, question.sung, question.instrument, question.settings,
        None, question.own, question.boards,
    )  # fmt: skip


def _first_part(question: _Question, beside: str, outcome: Outcome) -> "tuple[Moment, ...] | None":
    """What the first guitar sounds: this song with its capo, or a chart of its own."""
    from chartkit.advise.option import Option
    from chartkit.advise.ranking import played_option
    from chartkit.advise.register import part_of
    from chartkit.advise.requests import instrument_of, own_shapes
    from chartkit.advise.song import song_of

    song, instrument, own = question.song, question.instrument, question.own
    if Path(beside).suffix == ".chart" or Path(beside).exists():
        source = read_source(beside)
        reading = read_chart(source)
        if any(d.severity == "error" for d in reading.diagnostics):
            raise Unusable(f"{beside}: this chart has mistakes; chartkit check tells them")
        chart = reading.chart
        number, song = chart.capo, song_of(chart)
        instrument, own = instrument_of(chart), own_shapes(chart)
    else:
        number = fret_option(beside)
    del outcome
    option = Option(max(0, number), max(0, -number))
    played = played_option(song, option, instrument, question.settings, own, question.boards)
    return part_of(song, played, instrument)


# ---- on the terminal


def _option_row(rank: str, option: "RankedOption") -> list[str]:
    m = option.measures
    strings = len(option.voicings[0].frets) if option.voicings[0] is not None else 6
    return [
        rank,
        str(option.option),
        f"{key_name(option.shape_keys[0])} shapes",
        f"{m.open_share:.0%}",
        f"{m.ring * strings:.1f}",
        f"{m.kept * strings:.1f}",
        f"{m.barres:.0%}",
        f"{m.effort:.1f}",
        f"{option.score:.2f}",
        _shapes(option),
    ]


_HEAD = ["", "capo", "shapes", "open", "ring", "kept", "barres", "effort", "index", "played as"]
_LEGEND = (
    "open: share of time on open shapes; ring: strings ringing open on average; kept: open strings "
    "that\nring on across a change; effort: of the fretting hand; index: all together, for this "
    "song only."
)


def _shapes(option: "RankedOption") -> str:
    names = [
        f"{use.shape} {use.voicing}" if use.voicing is not None else f"{use.shape} ?"
        for use in sorted(option.shapes, key=lambda use: -use.share)
    ]
    shown = ", ".join(dict.fromkeys(names[:5]))
    return shown + (f" … ({len(names)})" if len(names) > 5 else "")


def _shown_options(advice: "Advice", every: bool) -> "list[tuple[int, RankedOption]]":
    ranked = list(enumerate(advice.options, 1))
    if every:
        return ranked
    return [(n, o) for n, o in ranked if n <= _SHOWN or o == advice.no_capo]


def _print_advice(question: _Question, advice: "Advice", every: bool) -> None:
    shown = _shown_options(advice, every)
    keys = ", ".join(key_name(key) for key in question.song.keys)
    place = question.settings.place
    typer.echo(f"{question.title}, sounding in {keys}; {advice.instrument.name}, {place}\n")
    rows = [_HEAD, *(_option_row(str(n), option) for n, option in shown)]
    for line in in_columns(rows, frozenset({0, 3, 4, 5, 6, 7, 8})):
        typer.echo(line)
    typer.echo(f"\n{_LEGEND}\n")
    for n, option in shown:
        typer.echo(f"{n:2d}  {option.reason}")
    typer.echo(f"\n{advice.verdict}")
    if advice.difficulty is not None:
        typer.echo(_difficulty(advice))
    if any(option.option.down for _, option in shown):
        typer.echo(
            "Tuned down, strings buzz more and past two half steps get floppy; a qualified "
            "repairer decides about the neck."
        )


def _difficulty(advice: "Advice") -> str:
    found = advice.difficulty
    assert found is not None
    rate = f"{found.changes_per_beat:.2f} changes a beat"
    if found.changes_per_minute is not None:
        rate = f"{found.changes_per_minute:.0f} changes a minute"
    return f"The song has {found.distinct_shapes} different shapes and {rate}."


def _print_beside(question: _Question, second: "tuple[BesideOption, ...]", every: bool) -> None:
    typer.echo(f"{question.title}: a second guitar beside the first\n")
    rows = [["", "capo", "shapes", "room", "overlap", "unisons", "voice", "above", "open", ""]]
    for n, option in enumerate(second, 1):
        if n > _SHOWN and not every:
            break
        rows.append([
            str(n), str(option.played.option), f"{key_name(option.played.shape_keys[0])} shapes",
            f"{option.complement:.2f}", f"{option.meeting.overlap:.2f}",
            f"{option.meeting.unisons:.2f}", f"{option.voice:.2f}",
            f"{option.meeting.half_steps_above:+.1f}",
            f"{option.played.measures.open_share:.0%}", "" if option.playable else "hard to play",
        ])  # fmt: skip
    for line in in_columns(rows, frozenset({0, 3, 4, 5, 6, 7, 8})):
        typer.echo(line)
    typer.echo(
        "\nroom: how much of the register it has to itself, 1 is all; above: half steps its "
        "middle lies\nover the first guitar's."
    )
    if question.sung is None:
        typer.echo("The chart names no range, so the voice was left out: add range: Ab3-F5.")


def _print_spread(question: _Question, spread: "tuple[Spread, ...]") -> None:
    typer.echo(f"{question.title}: guitars spread over the neck\n")
    if not spread:
        typer.echo("There are not so many positions that play well.")
    for n, found in enumerate(spread[:_SHOWN], 1):
        told = " + ".join(
            f"{option.option} ({key_name(option.shape_keys[0])} shapes)" for option in found.guitars
        )
        typer.echo(f"{n}  {told}; {found.apart:.2f} apart")


def _json(
    advice: "Advice", second: "tuple[BesideOption, ...]", spread: "tuple[Spread, ...]"
) -> dict[str, object]:
    found: dict[str, object] = {
        "instrument": advice.instrument.name,
        "verdict": advice.verdict,
        "good": advice.good,
        "options": [_option_json(option) for option in advice.options],
    }
    if second:
        found["beside"] = [
            {
                **_option_json(option.played), "complement": option.complement,
                "voice": option.voice, "playable": option.playable, **asdict(option.meeting),
            }
            for option in second
        ]  # fmt: skip
    if spread:
        found["spread"] = [
            {"capos": [o.option.capo for o in s.guitars], "apart": s.apart} for s in spread
        ]
    return found


def _option_json(option: "RankedOption") -> dict[str, object]:
    return {
        "capo": option.option.capo,
        "tuned_down": option.option.down,
        "shape_key": str(option.shape_keys[0]),
        "sounding_key": str(option.sounding_keys[0]),
        "score": option.score,
        "price": option.price,
        **asdict(option.measures),
        "shapes": [
            {
                "shape": str(use.shape), "sounding": str(use.sounding), "share": use.share,
                "frets": None if use.voicing is None else str(use.voicing),
                "fingers": None if use.voicing is None else list(use.voicing.fingers),
            }
            for use in option.shapes
        ],
        "reason": option.reason,
    }  # fmt: skip


def _draw(
    question: _Question,
    advice: "Advice",
    first: "tuple[Moment, ...] | None",
    second: "tuple[BesideOption, ...]",
    spread: "tuple[Spread, ...]",
    sheet: Path,
) -> None:
    from chartkit.pdf.fonts import FontMetrics
    from chartkit.pdf.write import pdf_bytes
    from chartkit.sheets.advice import advice_sheet
    from chartkit.sheets.registers import RegisterRow, register_rows

    rows: tuple[RegisterRow, ...] = register_rows(advice, question.sung, first, second, spread)
    document = advice_sheet(question.title, advice, rows, FontMetrics())
    write_whole(sheet, pdf_bytes(document))
    say(f"{sheet}: the options drawn")
