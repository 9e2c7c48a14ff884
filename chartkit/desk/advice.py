"""The adviser's answers about a song for the desk: places on the neck, keys, shapes.

They come from ``chartkit.advise``; this module only turns them into plain values.
"""

import re
from functools import lru_cache

from chartkit.advise.good_places import is_good
from chartkit.advise.option import SHORT_CAPOS
from chartkit.advise.ranked import RankedOption
from chartkit.advise.ranking import Advice, played_option, rank_song
from chartkit.advise.reasons import reason_for, shape_key_name
from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.singer import VOICES, SungKey, best_in_each_key, rank_keys, voice_of
from chartkit.advise.song import Song, song_of
from chartkit.arrange.key_areas import sounding_key
from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.desk.diagrams import diagram_svg
from chartkit.desk.pages import Facts, capo_id, song_of_text, view_of
from chartkit.desk.requests import GripsRequest, KeysRequest, NeckRequest, PageRequest
from chartkit.files import Unusable
from chartkit.fretboard.instrument import Instrument, under_capo
from chartkit.fretboard.voicing import Voicing
from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN, NO_CAPO, Capo, parse_capo
from chartkit.theory.chord import Chord
from chartkit.theory.naming import key_words
from chartkit.theory.note import typographic_name
from chartkit.theory.pitch import PitchRange, parse_range
from chartkit.theory.shape_text import Frets, shape_text

_MOST_OFFERED = 8
"""How many other ways to play a chord are offered."""

_GUITAR_STRINGS = 6
"""The number of strings for which the usual short capos are made."""

_MOST_DOWN = 5
"""How many half steps down the lowest key shown lies, by the nearest way."""

_SHAPES_FIRST = re.compile(r"^[^,]*? shapes,? ")
"""How a reason begins that names the shapes, as the heading over it does."""

OwnShapePairs = tuple[tuple[Chord, Frets], ...]


# ---- the neck
def neck(request: NeckRequest) -> Facts:
    """Every place for a capo, with its shapes' key, its measures and the reason for its rank.

    ``open`` is the share of time on open shapes, ``barres`` on barres, both 0 to 1; ``rank`` the
    place in the order of ``chartkit capo``, from 1, None past what that looks at.  A chart's own
    short capo stands for its fret and names the ``strings_covered``; other short ones that are
    asked for, or in place just now, stand ``beside`` the whole ones.  A guitar's part has no
    places: its grips are for the capo that it names.
    """
    chart = song_of_text(request.text).chart
    song = song_of(moved_chart(chart, view_of(request, chart)))
    if not song.held_chords or chart.text("part"):
        return {"places": [], "verdict": "", "best": None}
    instrument = instrument_of(chart)
    own = tuple(own_shapes(chart, instrument).items())
    short = chart.capo if not chart.wants_best_capo and chart.capo.strings else None
    advice, places = _ranked(song, instrument, own, short, _short_capos(request, instrument, short))
    best = advice.best
    ranks = {option.option: rank for rank, option in enumerate(advice.options, 1)}
    return {
        "places": [
            _place(place, best) | {"rank": ranks.get(place.option), "beside": beside}
            for place, beside in places
        ],
        "verdict": advice.verdict,
        "best": None if best is None else capo_id(best.option),
        "strings": len(instrument.strings),
        "has_short_capos": len(instrument.strings) == _GUITAR_STRINGS,
    }


def _short_capos(
    request: NeckRequest, instrument: Instrument, own: Capo | None
) -> tuple[Capo, ...]:
    """The short capos to consider besides the chart's own."""
    usual = (
        SHORT_CAPOS if len(instrument.strings) == _GUITAR_STRINGS and request.short_capos else ()
    )
    there = (parse_capo(request.capo),) if isinstance(request.capo, str) else ()
    return tuple(capo for capo in dict.fromkeys((*usual, *there)) if capo != own)


@lru_cache(maxsize=16)
def _ranked(
    song: Song,
    instrument: Instrument,
    own: OwnShapePairs,
    short: Capo | None,
    besides: tuple[Capo, ...],
) -> tuple[Advice, tuple[tuple[RankedOption, bool], ...]]:
    """The options that ``chartkit capo`` ranks and the places beyond them, each with whether it
    stands beside the whole capo at its fret. The chart's own short capo replaces the whole one at
    its fret."""
    shorts = besides if short is None else (short, *besides)
    settings = AdviceSettings(short_capos=shorts)
    boards = boards_on_disk()
    advice = rank_song(song, instrument, settings, dict(own), boards)
    ranked = {option.option: option for option in advice.options}
    whole = [Capo.from_number(n) for n in range(-MOST_TUNED_DOWN, HIGHEST_CAPO + 1)]
    on_neck = [short if short and short.raised == place.raised else place for place in whole]
    # With short capos in the list, the whole one that the chart's own hides is there, too.
    hidden = [place for place in whole if besides and place not in on_neck]
    places = []
    for capo in (*on_neck, *hidden, *besides):
        place = ranked.get(capo)
        if place is None:
            place = played_option(song, capo, instrument, settings, dict(own), boards)
        places.append((place, capo not in on_neck))
    boards.save()
    return advice, tuple(places)


def _place(option: RankedOption, best: RankedOption | None) -> Facts:
    measures, reason = option.measures, option.reason
    if not reason and best is not None:
        reason = reason_for(option, best, AdviceSettings())
    name = str(option.option)
    return {
        "id": capo_id(option.option),
        "capo": option.option.raised,
        "name": name,
        "heading": f"{name[0].upper()}{name[1:]}, {shape_key_name(option)} shapes",
        "strings_covered": list(option.option.strings),
        "shapes": shape_key_name(option),
        "open": measures.open_share,
        "barres": measures.barres,
        "good": is_good(option),
        "reason": reason,
        "because": _SHAPES_FIRST.sub("", reason),
    }


# ---- keys
def keys(request: KeysRequest) -> Facts:
    """Every key, from five half steps down to six up, with the best capo there, and for a voice
    how it would be sung.

    Without a voice or a sung range ``semitones`` is the nearest way.  Raises Unusable for an
    unknown voice.
    """
    chart = song_of_text(request.text).chart
    here = sounding_key(chart)
    song, sung = song_of(moved_chart(chart, View())), chart.setting("range")
    facts: Facts = {
        "here": key_words(here),
        "voices": {name: str(comfort) for name, comfort in VOICES.items()},
        "sung": str(sung) if isinstance(sung, PitchRange) else None,
        "keys": [],
    }
    if not song.held_chords:
        return facts
    instrument = instrument_of(chart)
    if not request.voice or not isinstance(sung, PitchRange):
        rows = [_key(best, up) for up, best in enumerate(_bare_keys(song, instrument))]
    else:
        ranked = _sung_keys(song, sung, _comfort(request.voice), instrument)
        rows = [_sung_key(key) for key in sorted(ranked, key=lambda key: key.semitones % 12)]
    down = -_MOST_DOWN
    return facts | {"keys": [*rows[down:], *rows[:down]]}


@lru_cache(maxsize=16)
def _sung_keys(
    song: Song, sung: PitchRange, comfort: PitchRange, instrument: Instrument
) -> tuple[SungKey, ...]:
    return rank_keys(song, sung, voice_of(comfort), instrument=instrument, boards=boards_on_disk())


def _comfort(text: str) -> PitchRange:
    named = VOICES.get(text.strip().lower())
    if named is not None:
        return named
    try:
        return parse_range(text)
    except ValueError as reason:
        raise Unusable(str(reason), "such as A3-E5, or alto") from None


@lru_cache(maxsize=16)
def _bare_keys(song: Song, instrument: Instrument) -> tuple[RankedOption, ...]:
    return best_in_each_key(song, instrument, boards=boards_on_disk())


def _key(best: RankedOption, up: int) -> Facts:
    """A key ``up`` half steps above the song's own, by the nearest way, and its best capo."""
    key = best.sounding_keys[0]
    return {
        "key": str(key),
        "name": key_words(key),
        "semitones": up if up < 12 - _MOST_DOWN else up - 12,
        "capo": capo_id(best.option),
        "place": str(best.option),
        "shapes": shape_key_name(best),
    }


def _sung_key(key: SungKey) -> Facts:
    return _key(key.best, 0) | {
        "semitones": key.semitones,
        "sung": str(key.sung),
        "load": key.load,
        "below": key.margin_below,
        "above": key.margin_above,
        "unbeaten": key.unbeaten,
    }


# ---- shapes
def shapes(request: PageRequest) -> Facts:
    """The shapes that a player fingers in the song, each with its diagram, and the player's own
    shapes that are not among them, as a chart writes them."""
    chart = song_of_text(request.text).chart
    played = _played(request, chart)
    own = own_shapes(chart, instrument_of(chart))
    seen: dict[tuple[Chord, Frets], float] = {}
    drawn: dict[tuple[Chord, Frets], Voicing] = {}
    for use in played.shapes:
        if use.voicing is not None:
            shape = use.shape, use.voicing.frets
            seen[shape] = seen.get(shape, 0.0) + use.share
            drawn[shape] = use.voicing
    return {
        "shapes": [
            _diagram(chord, drawn[chord, frets]) | {"share": share, "own": own.get(chord) == frets}
            for (chord, frets), share in seen.items()
        ],
        "unused": [
            f"{chord} {shape_text(frets)}"
            for chord, frets in own.items()
            if all(chord != played for played, _ in seen)
        ],
    }


def grips(request: GripsRequest) -> Facts:
    """Other ways to play a shape there, the next best first.  Raises Unusable."""
    chart = song_of_text(request.text).chart
    played = _played(request, chart)
    used = [use for use in played.shapes if str(use.shape) == request.chord]
    if not used:
        raise Unusable(f"{request.chord}: this shape is not in the song")
    chord, capo = used[0].shape, played.option
    boards = boards_on_disk()
    board = boards.board(under_capo(instrument_of(chart), capo), capo.fret, capo.tuned_down)
    voicings = board.voicings(chord)[:_MOST_OFFERED]
    boards.save()
    return {"grips": [_diagram(chord, voicing) for voicing in voicings]}


def _played(request: PageRequest, chart: Chart) -> RankedOption:
    view = view_of(request, chart)
    capo = chart.capo if view.capo is None else view.capo
    song, instrument = song_of(moved_chart(chart, view)), instrument_of(chart)
    if not song.held_chords:
        raise Unusable("there are no chords in this chart")
    boards = boards_on_disk()
    played = played_option(
        song, capo or NO_CAPO, instrument, None, own_shapes(chart, instrument), boards
    )
    boards.save()
    return played


def _diagram(chord: Chord, voicing: Voicing) -> Facts:
    bass = "" if chord.bass is None else f"/{typographic_name(chord.bass)}"
    return {
        "chord": str(chord),
        "name": f"{typographic_name(chord.root)}{chord.quality.text}{bass}",
        "frets": str(voicing),
        "diagram": diagram_svg(chord, voicing),
        "barre": voicing.barre is not None,
        "open": voicing.in_open_position,
    }
