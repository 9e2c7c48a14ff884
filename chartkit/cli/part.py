"""``chartkit part``: a second guitar's part beside the first."""

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import click

from chartkit.advise.cautions import IF_IT_HURTS
from chartkit.advise.part.first_rhythm import FirstHand
from chartkit.advise.part.registers import RegisterName
from chartkit.advise.part.rhythm import PartRhythm
from chartkit.chart.model import Chart
from chartkit.cli.capo_options import AsJson
from chartkit.cli.columns import in_columns, say_wrapped
from chartkit.cli.command import option
from chartkit.cli.first_guitar import first_capo, first_chart, first_part
from chartkit.cli.options import (
    InstrumentOption,
    KeyOption,
    OneFile,
    Replace,
    asked_instrument,
    sheet_option,
    view_for,
)
from chartkit.cli.reporting import Outcome, say
from chartkit.cli.streams import show, write_out
from chartkit.files import STANDARD_INPUT, Unusable, same_file, write_result
from chartkit.phrases import listed
from chartkit.syntax.write import chart_text
from chartkit.theory.chord_parts import letter_name
from chartkit.theory.shape_text import shape_text

if TYPE_CHECKING:
    from chartkit.advise.part.propose import PartProposal
    from chartkit.advise.register import Moment
    from chartkit.fretboard.instrument import Instrument

Beside = Annotated[
    str | None,
    option(
        "--beside",
        metavar="FRET|CHART",
        help="The first guitar's capo, or a chart of its part. Without it, the chart's own capo.",
    ),
]
Register = Annotated[
    RegisterName | None,
    option(
        "--register",
        help="Where on the neck the part lies; edges is one low string and the top strings. "
        "Without it, the best of high, middle and edges.",
    ),
]
Rhythm = Annotated[
    PartRhythm | None,
    option(
        "--rhythm",
        help="How much it plays: few strokes, many, or the chart's own rhythm. Without it, the "
        "opposite of the first guitar.",
    ),
]
First = Annotated[
    FirstHand | None,
    option(
        "--first",
        help="How the first guitar plays, if its chart does not show it.",
    ),
]
PartOutput = Annotated[
    str | None,
    option(
        "--output",
        "-o",
        metavar="CHART",
        help="Writes the first proposal as a chart; - is standard output.",
    ),
]
PartSheet = Annotated[
    Path | None, sheet_option("Also draws where first guitar, voice and part lie, bar by bar.")
]

_GRIPS_SHOWN = 6


def part(
    file: OneFile,
    beside: Beside = None,
    register: Register = None,
    rhythm: Rhythm = None,
    first: First = None,
    output: PartOutput = None,
    sheet: PartSheet = None,
    key: KeyOption = None,
    instrument: InstrumentOption = None,
    as_json: AsJson = False,
    replace_file: Replace = False,
) -> None:
    """Proposes a part for a second guitar.

    The part has chords of two to four strings in a register where nobody else plays, a rhythm that
    leaves room for the first guitar, and fills in the bars without words. It is a chart like any
    other: read it, change it, engrave it with --diagrams.
    """
    from chartkit.advise.part.propose import PartRequest

    outcome = Outcome()
    for source, chart in outcome.charts([file]):
        with outcome.guarded():
            _refuse(output, sheet, source.name)
            song = _Song(chart, key, asked_instrument(chart, instrument), beside)
            proposals = song.proposals(PartRequest(register, rhythm, first))
            if not proposals:
                raise Unusable(
                    f"{song.title}: no part fits there",
                    "try another --register, or a chart with chords",
                )
            _answer(song, proposals, output, as_json, replace_file)
            if sheet is not None:
                _draw(song, proposals[0], sheet, replace_file)
    outcome.finish()


class _Song:
    """The song, the instrument, and what the first guitar plays."""

    def __init__(
        self, chart: Chart, key: str | None, instrument: "Instrument", beside: str | None
    ) -> None:
        from chartkit.advise.requests import instrument_of
        from chartkit.advise.settings import AdviceSettings
        from chartkit.advise.song import song_of
        from chartkit.arrange.rewrite import moved_chart

        self.title = chart.text("title") or "Untitled"
        self.chart = moved_chart(chart, view_for(chart, None, key))
        self.instrument = instrument
        self.first_chart = None if beside is None else first_chart(beside)
        settings = AdviceSettings()
        theirs = self.first_chart
        if theirs is not None:
            self.capo = theirs.capo
            self.first: tuple[Moment, ...] = first_part(
                song_of(theirs), theirs, theirs.capo, instrument_of(theirs), settings
            )
        else:
            self.capo = chart.capo if beside is None else first_capo(beside)
            self.first = first_part(song_of(self.chart), chart, self.capo, instrument, settings)

    def proposals(self, request: Any) -> "tuple[PartProposal, ...]":
        """The parts, best first."""
        from chartkit.advise.part.propose import propose_parts

        return propose_parts(
            self.chart, self.first, self.instrument, request, None, self.first_chart
        )


def _refuse(output: str | None, sheet: Path | None, source: str) -> None:
    """Raises Unusable for a result that would replace the song."""
    for name in (output, sheet):
        if name is not None and name != STANDARD_INPUT and same_file(name, source):
            raise Unusable(f"{name} is the chart itself", "name another file")


def _answer(
    song: _Song,
    proposals: "tuple[PartProposal, ...]",
    output: str | None,
    as_json: bool,
    replace_file: bool,
) -> None:
    text = chart_text(proposals[0].chart)
    if output == STANDARD_INPUT:
        write_out(text)
        return
    if as_json:
        answer = [_json(proposal) for proposal in proposals]
        click.echo(json.dumps({"title": song.title, "parts": answer}, indent=2))
    else:
        _print(song, proposals)
    if output is not None:
        write_result(Path(output), text.encode(), replace_file)
        say(f"{output}: the first part as a chart")


def _json(proposal: "PartProposal") -> dict[str, object]:
    return {
        "register": proposal.register,
        "reason": proposal.reason,
        "sections": [{"section": name, "reason": why} for name, why in proposal.section_reasons],
        **{name: round(value, 4) for name, value in asdict(proposal.measures).items()},
        "cost": round(proposal.cost, 6),
        "exact": proposal.exact,
        "grips": [
            {
                "chord": str(chord),
                "frets": shape_text(grip.frets),
                "fingers": list(grip.fingers),
                "pitches": list(grip.pitches),
            }
            for chord, grip in proposal.grips.items()
        ],
        "chart": chart_text(proposal.chart),
    }


def _print(song: _Song, proposals: "tuple[PartProposal, ...]") -> None:
    show(f"{song.title}: a second guitar beside the first ({song.capo})\n")
    _print_measures(proposals)
    show("")
    for n, proposal in enumerate(proposals, 1):
        grips = f"{_first_grips(proposal)}{_shared_grips(proposal)}"
        say_wrapped(f"{n}  {proposal.reason}: {grips}", "   ")
    show("")
    _print_sections(proposals[0])
    show("")
    say_wrapped(
        "The proposal with the lowest cost comes first. The room shared with the first guitar "
        "counts most, then unisons, the voice and the movement of the hand. shared: how much of "
        "the first guitar's room the part fills, 0 to 1; unisons: notes of the part that the first "
        "guitar plays too; voice: how much of the singer's range it fills; above: half steps from "
        "the middle of the first guitar up to the middle of the part; step: half steps the top "
        "note moves at a change; strings: how many sound on average."
    )
    say_wrapped(IF_IT_HURTS)


def _print_measures(proposals: "tuple[PartProposal, ...]") -> None:
    """A table with a row for each proposal."""
    rows = [["", "where", "shared", "unisons", "voice", "above", "step", "strings"]]
    for n, proposal in enumerate(proposals, 1):
        measures = proposal.measures
        rows.append(
            [
                str(n),
                proposal.register,
                f"{measures.overlap:.2f}",
                f"{measures.unisons:.2f}",
                f"{measures.voice:.2f}",
                f"{measures.half_steps_above:+.1f}",
                f"{measures.top_step:.1f}",
                f"{measures.strings:.1f}",
            ]
        )
    for line in in_columns(rows, frozenset({0, 2, 3, 4, 5, 6, 7})):
        show(line)


def _first_grips(proposal: "PartProposal") -> str:
    """The first grips of a proposal as text."""
    grips = list(proposal.grips.items())
    texts = [f"{letter_name(chord).plain()} {shape_text(grip.frets)}" for chord, grip in grips]
    return ", ".join(texts[:_GRIPS_SHOWN]) + ", …" * (len(texts) > _GRIPS_SHOWN)


def _shared_grips(proposal: "PartProposal") -> str:
    """Which chords have one grip, so that the part alone does not tell them apart; empty for
    none."""
    names: dict[tuple[int | None, ...], list[str]] = {}
    for chord, grip in proposal.grips.items():
        names.setdefault(tuple(grip.frets), []).append(letter_name(chord).plain())
    shared = [listed(chords) for chords in names.values() if len(chords) > 1]
    if not shared:
        return ""
    return f"; one grip for {', one for '.join(shared)}, which the first guitar tells apart"


def _print_sections(proposal: "PartProposal") -> None:
    """What the part does in each section, and why."""
    from chartkit.advise.part.rhythm import A_GUESS

    for section, why in proposal.section_reasons:
        say_wrapped(f"{section}: {why}.", "   ")
    if any(A_GUESS in why for _, why in proposal.section_reasons):
        say_wrapped(
            "This is a guess, because the chart has no rhythm; --first says how the first guitar "
            "plays."
        )


def _draw(song: _Song, proposal: "PartProposal", sheet: Path, replace_file: bool) -> None:
    from chartkit.pdf.fonts import Fonts
    from chartkit.pdf.write import pdf_bytes
    from chartkit.sheets.part_sheet import part_sheet

    document = part_sheet(song.title, song.chart, song.first, proposal, Fonts())
    write_result(sheet, pdf_bytes(document), replace_file)
    say(f"{sheet}: who plays where, bar by bar")
