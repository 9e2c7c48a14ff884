"""``chartkit singer``: which key suits a voice, and where the capo goes in it."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import click

from chartkit.arrange.view import View
from chartkit.cli.capo_options import AsJson, Studio
from chartkit.cli.columns import in_columns, say_wrapped
from chartkit.cli.command import option
from chartkit.cli.options import InstrumentOption, OneFile, asked_instrument, key_text
from chartkit.cli.reporting import Outcome, wrong_usage
from chartkit.cli.singer_night import singer_night
from chartkit.cli.streams import show
from chartkit.files import Unusable
from chartkit.theory.key import parse_key
from chartkit.theory.naming import key_words
from chartkit.theory.pitch import PitchRange, parse_range
from chartkit.typed_values import one_of

if TYPE_CHECKING:
    from chartkit.advise.singer import SungKey, Voice


def _voice_name(text: str) -> str:
    from chartkit.advise.singer import VOICES

    return str(one_of(tuple(VOICES))(text.strip()))


Range = Annotated[
    PitchRange | None,
    option(
        "--range",
        metavar="LOW-HIGH",
        read=parse_range,
        help="The singer's comfortable range, such as A3-E5.",
    ),
]
Middle = Annotated[
    PitchRange | None,
    option(
        "--middle",
        metavar="LOW-HIGH",
        read=parse_range,
        help="Where the voice is at ease; without it, the inner half of the range.",
    ),
]
VoiceName = Annotated[
    str | None,
    option(
        "--voice",
        metavar="NAME",
        read=_voice_name,
        help="A usual voice instead: soprano, mezzo-soprano, alto, tenor, baritone or bass.",
    ),
]


SatWell = Annotated[
    str | None,
    option(
        "--sat-well",
        metavar="KEY",
        read=key_text,
        help="A key in which this song sat well for the singer, instead of a range.",
    ),
]

WriteKeys = Annotated[
    bool,
    option("--write", help="For a set: puts the new keys into the set file."),
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
    key that suited the singer. The load is an index: 0 is the comfortable middle of the voice
    throughout. Between nearly equal loads the guitar decides. An asterisk marks keys that no other
    key beats for both the voice and the guitar. A set file asks about every song at once. If
    singing hurts or strains, stop; a teacher or doctor can help.
    """
    from chartkit.advise.requests import boards_on_disk
    from chartkit.advise.settings import AdviceSettings
    from chartkit.advise.singer import (
        ASSUMED_RANGE,
        VOICES,
        VOICES_SOURCE,
        rank_keys,
        voice_that_sat_well,
    )
    from chartkit.advise.song import song_of
    from chartkit.arrange.rewrite import moved_chart

    if file.endswith(".toml"):
        if any(value is not None for value in (comfort, middle, voice, sat_well, instrument)):
            raise wrong_usage(
                "a set file says itself who sings", 'write range = "A3-E5" for the singer there'
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
            written = chart.setting("range")
            if not isinstance(written, PitchRange) and sat_well is None:
                raise Unusable(_NO_RANGE.format(name=source.name))
            sung = written if isinstance(written, PitchRange) else ASSUMED_RANGE
            song = song_of(moved_chart(chart, View()))
            if not song.stretches:
                raise Unusable(f"{source.name}: there are no chords in this chart")
            there = able or voice_that_sat_well(sung, song.keys[0], parse_key(sat_well or ""))
            keys = rank_keys(
                song,
                sung,
                there,
                asked_instrument(chart, instrument),
                AdviceSettings(place="studio" if studio else "live"),
                None,
                boards_on_disk(),
            )
            if as_json:
                click.echo(json.dumps([_json(key) for key in keys], indent=2))
            else:
                if voice is not None:
                    show(f"{voice} {low_high}: {VOICES_SOURCE}\n")
                _print(keys, sung if isinstance(written, PitchRange) else None)
    outcome.finish()


def _voice(comfort: PitchRange, middle: PitchRange | None) -> "Voice":
    from chartkit.advise.singer import voice_of

    try:
        return voice_of(comfort, middle)
    except ValueError as reason:
        raise wrong_usage(f"--middle: {reason}") from None


def _comfort(
    given: PitchRange | None, voice: str | None, sat_well: str | None, voices: dict[str, PitchRange]
) -> PitchRange | None:
    """The voice's range; None where a key that suited it is given instead.

    Ends the run when it is given twice or not at all.
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
    "{name}: the chart does not say how low and high it is sung; add a row like range: Ab3-F5, "
    "or name a key that sat well: --sat-well A"
)


def _print(keys: "tuple[SungKey, ...]", sung: PitchRange | None) -> None:
    """The keys as a table; ``sung`` is None where the song's range is not known."""
    if sung is None:
        say_wrapped("The chart names no range: what counts is how far a key lies from yours.")
        show("")
    else:
        show(f"The song is sung from {sung.lowest} to {sung.highest} where it stands.\n")
    head = ["", "key", "moved", "sung", "load", "room below", "above", "capo", "shapes", "index"]
    rows = [head]
    for key in keys:
        rows.append(
            [
                "*" if key.unbeaten else "",
                key_words(key.key),
                f"{key.semitones:+d}",
                "–" if sung is None else str(key.sung),
                "too far" if key.load is None else f"{key.load:.2f}",
                "–" if sung is None else f"{key.margin_below:+d}",
                "–" if sung is None else f"{key.margin_above:+d}",
                str(key.best.option),
                f"{key_words(key.best.shape_keys[0])}",
                f"{key.best.score:.2f}",
            ]
        )
    for line in in_columns(rows, frozenset({2, 4, 5, 6, 9})):
        show(line)
    show("")
    if all(key.load is None for key in keys):
        say_wrapped("The song's range is wider than this voice: no key fits it.")
    say_wrapped(
        "load: 0 is all in the comfortable middle, 1 at the very edge; room: half steps left to "
        "the ends of the comfortable range; * no other key is better for voice and guitar both."
    )
    say_wrapped("Strain is not to be sung through: a teacher or doctor helps.")


def _json(key: "SungKey") -> dict[str, object]:
    return {
        "key": str(key.key),
        "semitones": key.semitones,
        "sung": str(key.sung),
        "load": key.load,
        "margin_below": key.margin_below,
        "margin_above": key.margin_above,
        "off_middle": key.off_middle,
        "unbeaten": key.unbeaten,
        "capo": key.best.option.fret,
        "tuned_down": key.best.option.tuned_down,
        "shape_key": str(key.best.shape_keys[0]),
        "score": key.best.score,
    }
