"""``chartkit singer``: the keys that suit a voice, each with its capo."""

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import click

from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.cli.capo_options import AsJson, Studio
from chartkit.cli.command import option
from chartkit.cli.options import InstrumentOption, OneFile, as_setting, asked_instrument, key_text
from chartkit.cli.reporting import Outcome, wrong_usage
from chartkit.cli.singer_night import singer_night
from chartkit.cli.singer_table import key_json, print_keys
from chartkit.cli.streams import show
from chartkit.files import Unusable
from chartkit.theory.key import parse_key
from chartkit.theory.pitch import PitchRange, parse_range
from chartkit.typed_values import one_of

if TYPE_CHECKING:
    from chartkit.advise.singer import SungKey, Voice
    from chartkit.fretboard.instrument import Instrument


def _voice_name(text: str) -> str:
    from chartkit.advise.singer import VOICES

    return str(one_of(tuple(VOICES))(text.strip()))


Range = Annotated[
    PitchRange | None,
    option(
        "--range",
        metavar="LOW-HIGH",
        read=as_setting("range", parse_range),
        help="The singer's comfortable range, such as A3-E5.",
    ),
]
Middle = Annotated[
    PitchRange | None,
    option(
        "--middle",
        metavar="LOW-HIGH",
        read=as_setting("range", parse_range),
        help="The notes that the voice sings most easily. Without it, the inner half of the range.",
    ),
]
VoiceName = Annotated[
    str | None,
    option(
        "--voice",
        metavar="NAME",
        read=_voice_name,
        help="A type of voice instead: soprano, mezzo-soprano, alto, tenor, baritone or bass.",
    ),
]


def _major_or_minor(text: str) -> str:
    """The text of a key, which a tonic alone is too.  Raises ValueError for anything else."""
    plain = key_text(text)
    as_setting("key", parse_key)(plain)
    return plain


SatWell = Annotated[
    str | None,
    option(
        "--sat-well",
        metavar="KEY",
        read=_major_or_minor,
        help="A key in which this song sat well for the singer, instead of a range.",
    ),
]

WriteKeys = Annotated[
    bool,
    option("--write", help="For a set file: writes the new keys into it."),
]


def singer(
    file: OneFile,
    comfort: Range = None,
    middle: Middle = None,
    voice: VoiceName = None,
    sat_well: SatWell = None,
    studio: Studio = False,
    instrument: InstrumentOption = None,
    write: WriteKeys = False,
    as_json: AsJson = False,
) -> None:
    """Ranks keys for a singer, each with its best capo.

    The chart's own range says how low and how high the song goes; without one, --sat-well names a
    key that suited the singer. The easiest key to sing comes first; among keys that are nearly as
    easy, the guitar decides. With a set file (its name ends in .toml) in place of the chart, every
    song is ranked for the singer of the set. If singing hurts or strains, stop; a teacher or
    doctor can help.
    """
    from chartkit.advise.singer import VOICES

    if file.endswith(".toml"):
        if any(value is not None for value in (comfort, middle, voice, sat_well, instrument)):
            raise wrong_usage(
                "a set file already says who sings", 'write range = "A3-E5" for the singer there'
            )
        singer_night(Path(file), as_json, write)
        return
    if write:
        raise wrong_usage("--write goes with a set file, which holds tonight's keys")
    low_high = _comfort(comfort, voice, sat_well, VOICES)
    able = None if low_high is None else _voice(low_high, middle)
    outcome = Outcome()
    for source, chart in outcome.charts([file]):
        with outcome.guarded():
            question = _Question(source.name, chart, able, sat_well)
            keys = _keys(question, asked_instrument(chart, instrument), studio)
            _answer(question, keys, voice, as_json)
    outcome.finish()


class _Question:
    """A song, its sung range, and the voice."""

    def __init__(self, name: str, chart: Chart, able: "Voice | None", sat_well: str | None) -> None:
        """Raises Unusable for a chart without chords, or without a range if one is needed."""
        from chartkit.advise.singer import ASSUMED_RANGE, voice_that_sat_well
        from chartkit.advise.song import song_of
        from chartkit.arrange.rewrite import moved_chart

        written = chart.setting("range")
        self.sung = written if isinstance(written, PitchRange) else None
        if self.sung is None and sat_well is None:
            raise Unusable(_NO_RANGE.format(name=name))
        self.song = song_of(moved_chart(chart, View()))
        if not self.song.held_chords:
            raise Unusable(f"{name}: there are no chords in this chart")
        self.taken_range = self.sung or ASSUMED_RANGE
        home = self.song.keys[0]
        self.well = None if sat_well is None else replace(home, tonic=parse_key(sat_well).tonic)
        self.voice = able or voice_that_sat_well(self.taken_range, home, self.well or home)


def _keys(question: _Question, instrument: "Instrument", studio: bool) -> "tuple[SungKey, ...]":
    from chartkit.advise.requests import boards_on_disk
    from chartkit.advise.settings import AdviceSettings
    from chartkit.advise.singer import rank_keys

    return rank_keys(
        question.song,
        question.taken_range,
        question.voice,
        instrument=instrument,
        settings=AdviceSettings(place="studio" if studio else "live"),
        singer=None,
        boards=boards_on_disk(),
    )


def _answer(
    question: _Question, keys: "tuple[SungKey, ...]", voice: str | None, as_json: bool
) -> None:
    from chartkit.advise.singer import VOICES, VOICES_SOURCE

    if as_json:
        click.echo(json.dumps([key_json(key, question.sung is not None) for key in keys], indent=2))
        return
    if voice is not None:
        show(f"{voice} {VOICES[voice].printed()}: {VOICES_SOURCE}\n")
    print_keys(keys, question.sung, question.well)


def _voice(comfort: PitchRange, middle: PitchRange | None) -> "Voice":
    from chartkit.advise.singer import voice_of

    try:
        return voice_of(comfort, middle)
    except ValueError as reason:
        raise wrong_usage(f"--middle: {reason}") from None


def _comfort(
    given: PitchRange | None, voice: str | None, sat_well: str | None, voices: dict[str, PitchRange]
) -> PitchRange | None:
    """The voice's range; None if a key that suited it is given instead.

    Ends the run if it is given twice or not at all.
    """
    named = {"--range": given, "--voice": voice, "--sat-well": sat_well}
    said = [option for option, value in named.items() if value is not None]
    if len(said) > 1:
        raise wrong_usage(f"give {said[0]} or {said[1]}, not both")
    if voice is not None:
        return voices[voice]
    if not said:
        raise wrong_usage(
            "describe the voice: --range A3-E5, --voice alto, or a key that suited it: --sat-well A"
        )
    return given


_NO_RANGE = (
    "{name}: the chart does not say how low and how high the song goes; add a row like "
    "range: Ab3-F5, or name a key that sat well: --sat-well A"
)
