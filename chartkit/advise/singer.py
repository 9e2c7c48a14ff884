"""Keys for a singer: how a song's range sits in a voice, and how its chords then play.

The load of a sung note runs from 0 in the comfortable middle of the voice, quadratically
to 0.25 at the upper and 0.15 at the lower end of the comfortable range, then linearly to 1
at the ends of what can be sung at all; beyond, a key is impossible.  The idea is that of
tessiturogram studies (S. Thurmer 1988, I. Titze 2008); the numbers are ours.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.advise.option import options
from chartkit.advise.ranked import RankedOption
from chartkit.advise.ranking import in_order, option_price, played_option
from chartkit.advise.register import sung_weights
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song, moved_song
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.store import BoardStore, shared_boards
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.key import Key
from chartkit.theory.note import pitch_class_of
from chartkit.theory.pitch import PitchRange, parse_range, transposed_pitch


@dataclass(frozen=True, slots=True)
class SingerSettings:
    """The constants of the load (ours, unsourced)."""

    upper_load: float = 0.25
    lower_load: float = 0.15
    beyond_half_steps: int = 3
    """How far past the comfortable range a note can still be sung."""
    extreme: float = 0.3
    """What the hardest note counts beside the mean."""
    even_loads: float = 0.05
    """Loads no further apart than this are even, and the guitar decides."""


@dataclass(frozen=True, slots=True)
class Voice:
    """A voice: the range it sings in comfort, and the middle where it costs nothing.

    Both as MIDI numbers; ``middle`` may lie between two of them.
    """

    lowest: int
    highest: int
    middle: tuple[float, float]


def voice_of(comfort: PitchRange, middle: PitchRange | None = None) -> Voice:
    """The voice with that comfortable range; its middle is the inner half if not given.

    Raises ValueError, in plain words, where the middle reaches outside the range.
    """
    low, high = comfort.lowest.midi, comfort.highest.midi
    quarter = (high - low) / 4
    if middle is None:
        return Voice(low, high, (low + quarter, high - quarter))
    if middle.lowest.midi < low or middle.highest.midi > high:
        raise ValueError(
            f"the middle of the voice, {middle}, reaches outside its comfortable range, {comfort}"
        )
    return Voice(low, high, (middle.lowest.midi, middle.highest.midi))


ASSUMED_RANGE = parse_range("C4-C5")
"""What a song is taken to be sung in where nobody says: an octave.  Only its distance from the key
that sat well matters then."""

_SPARE = 2
"""Half steps to spare at each end where a song sat well (ours)."""


def voice_that_sat_well(sung: PitchRange, home: Key, well: Key) -> Voice:
    """The voice in which a song, sung in a range in its home key, sat well in another key.

    The range moves to that key by the nearest way and lies in comfort there, with a whole step to
    spare at each end.
    """
    up = pitch_class_of(well.tonic - home.tonic)
    up -= 12 * (up > _HALF_AN_OCTAVE)
    low, high = sung.lowest.midi + up - _SPARE, sung.highest.midi + up + _SPARE
    quarter = (high - low) / 4
    return Voice(low, high, (low + quarter, high - quarter))


_HALF_AN_OCTAVE = 6

VOICES_SOURCE = (
    "a rough guess from usual choral ranges (from memory); your singer's own --range is better"
)

VOICES: dict[str, PitchRange] = {
    "soprano": parse_range("C4-A5"),
    "mezzo-soprano": parse_range("A3-F5"),
    "alto": parse_range("F3-D5"),
    "tenor": parse_range("C3-A4"),
    "baritone": parse_range("A2-F4"),
    "bass": parse_range("E2-D4"),
}
"""Named voices to start from; ``VOICES_SOURCE`` says where they come from."""


@dataclass(frozen=True, slots=True)
class SungKey:
    """One key for a singer and a guitar.

    ``semitones`` is the move from the key the song is in, ``sung`` the range there.
    ``load`` is the voice's, without unit, None where the song cannot be sung; the margins
    are half steps from the range's ends to those of the comfortable voice, negative beyond
    it, and ``off_middle`` how far the middle of the range lies above the voice's.  ``best``
    is the guitar's best option; ``beaten_by`` the easiest key to sing of those that are at least
    as good for both and better for one, None where there is none.
    """

    key: Key
    semitones: int
    sung: PitchRange
    load: float | None
    margin_below: int
    margin_above: int
    off_middle: float
    best: RankedOption
    beaten_by: Key | None = None

    @property
    def unbeaten(self) -> bool:
        """Whether it can be sung and no other key is better for voice and guitar both."""
        return self.load is not None and self.beaten_by is None


def note_load(pitch: float, voice: Voice, settings: SingerSettings) -> float | None:
    """The load of singing a note (a MIDI number) for a second, 0 to 1; None out of reach."""
    low, high = voice.middle
    if low <= pitch <= high:
        return 0.0
    upper = pitch > high
    edge = voice.highest if upper else voice.lowest
    middle = high if upper else low
    load = settings.upper_load if upper else settings.lower_load
    past = pitch - edge if upper else edge - pitch
    if past <= 0:
        return load * ((pitch - middle) / (edge - middle)) ** 2
    if past > settings.beyond_half_steps:
        return None
    return load + (1 - load) * past / settings.beyond_half_steps


def range_load(sung: PitchRange, voice: Voice, settings: SingerSettings) -> float | None:
    """The load of a song of which only the range is known; None where it is impossible.

    The mean over the range's half steps, the middle half weighed three to one, and 0.3 of
    the hardest of them.
    """
    weighed = [(note_load(pitch, voice, settings), weight) for pitch, weight in sung_weights(sung)]
    loads = [(load, weight) for load, weight in weighed if load is not None]
    if len(loads) < len(weighed):
        return None
    mean = sum(load * weight for load, weight in loads) / sum(weight for _, weight in loads)
    return mean + settings.extreme * max(load for load, _ in loads)


def rank_keys(
    song: Song,
    sung: PitchRange,
    voice: Voice,
    *,
    instrument: Instrument = GUITAR,
    settings: AdviceSettings | None = None,
    singer: SingerSettings | None = None,
    boards: BoardStore | None = None,
) -> tuple[SungKey, ...]:
    """All twelve keys, the easiest to sing first, each with its best option for the guitar.

    ``sung`` is the song's range where it stands.  Each key is sung in the octave that suits
    the voice best, however far that is.  Among keys whose loads are even the guitar decides, and
    then the smaller move.  Raises ValueError for a song without chords.
    """
    singer = singer or SingerSettings()
    keys = []
    for up, best in enumerate(best_in_each_key(song, instrument, settings, boards)):
        moves = [
            _sung_key(song, sung, voice, singer, semitones, best)
            for semitones in _octaves(up, sung, voice)
        ]
        keys.append(min(moves, key=_order))
    return _marked(_ranked(keys, singer.even_loads))


def best_in_each_key(
    song: Song,
    instrument: Instrument,
    settings: AdviceSettings | None = None,
    boards: BoardStore | None = None,
) -> tuple[RankedOption, ...]:
    """The guitar's best option in each of the twelve keys, from the song's own upwards in half
    steps.  Raises ValueError for a song without chords."""
    if not song.held_chords:
        raise ValueError("there are no chords in this chart")
    settings, boards = settings or AdviceSettings(), boards or shared_boards()
    at_the_nut = tuple(
        played_option(moved_song(song, up), NO_CAPO, instrument, settings, None, boards)
        for up in range(12)
    )
    best = tuple(
        _best_position(song, up, at_the_nut, instrument, settings, boards) for up in range(12)
    )
    boards.save()
    return best


def _octaves(up: int, sung: PitchRange, voice: Voice) -> tuple[int, ...]:
    """The moves to one key in half steps: to the octave nearest the middle of the voice, and to the
    octaves above and below it. All others lie further from the middle.
    """
    wanted = (sum(voice.middle) - sung.lowest.midi - sung.highest.midi) / 2
    nearest = up + 12 * round((wanted - up) / 12)
    return nearest - 12, nearest, nearest + 12


def _best_position(
    song: Song,
    up: int,
    at_the_nut: Sequence[RankedOption],
    instrument: Instrument,
    settings: AdviceSettings,
    boards: BoardStore,
) -> RankedOption:
    """The best option for the song that many half steps up.

    Shapes are judged at the nut, so what each option scores is known from the twelve keys there
    and its price; only the winner is played through.
    """
    moved = moved_song(song, up)

    def placed(option: Capo) -> RankedOption:
        shapes = at_the_nut[(up - option.raised) % 12]
        price = option_price(option, moved, shapes.shape_keys, settings)
        return replace(shapes, option=option, price=price, score=shapes.score - price)

    best = in_order(placed(option) for option in options(settings))[0]
    return played_option(moved, best.option, instrument, settings, None, boards)


def _sung_key(
    song: Song,
    sung: PitchRange,
    voice: Voice,
    singer: SingerSettings,
    semitones: int,
    best: RankedOption,
) -> SungKey:
    key = best.sounding_keys[0]
    interval = key.tonic - song.keys[0].tonic
    there = PitchRange(
        transposed_pitch(sung.lowest, interval, semitones),
        transposed_pitch(sung.highest, interval, semitones),
    )
    low, high = there.lowest.midi, there.highest.midi
    return SungKey(
        key=key,
        semitones=semitones,
        sung=there,
        load=range_load(there, voice, singer),
        margin_below=low - voice.lowest,
        margin_above=voice.highest - high,
        off_middle=(low + high) / 2 - sum(voice.middle) / 2,
        best=best,
    )


def _order(key: SungKey) -> tuple[bool, float, int]:
    """Possible keys first, by load, the smaller move first among equals."""
    load = key.load
    if load is None:
        return True, abs(key.off_middle), abs(key.semitones)
    return False, round(load, 9), abs(key.semitones)


def _ranked(keys: Sequence[SungKey], even: float) -> list[SungKey]:
    """The keys by load; among those whose load equals the lightest, the guitar decides."""
    left = sorted(keys, key=_order)
    ranked: list[SungKey] = []
    while left:
        first = left[0].load
        group = [
            key
            for key in left
            if first is not None and key.load is not None and key.load <= first + even + 1e-9
        ]
        group = group or left
        if first is not None:
            group.sort(key=lambda key: (-round(key.best.score, 9), abs(key.semitones)))
        ranked += group
        left = [key for key in left if key not in group]
    return ranked


def _marked(keys: Sequence[SungKey]) -> tuple[SungKey, ...]:
    """The keys, each with the first key to sing that beats it for voice and guitar."""
    easiest_first = sorted(keys, key=_order)
    return tuple(
        replace(key, beaten_by=next((o.key for o in easiest_first if _beats(o, key)), None))
        for key in keys
    )


def _beats(one: SungKey, other: SungKey) -> bool:
    if one.load is None or other.load is None:
        return False
    as_good = one.load <= other.load and one.best.score >= other.best.score
    return as_good and (one.load < other.load or one.best.score > other.best.score)
