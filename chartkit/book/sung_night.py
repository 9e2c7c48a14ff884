"""A singer's night: every song of a set in the key that suits the voice, considering the guitar."""

from collections.abc import Sequence
from dataclasses import dataclass

from chartkit.advise.requests import boards_on_disk
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.singer import SungKey, Voice, rank_keys, voice_of, voice_that_sat_well
from chartkit.advise.song import song_of
from chartkit.arrange.rewrite import moved_chart
from chartkit.book.night import Night, song_number
from chartkit.book.read_song import tonight_view
from chartkit.book.set_list import Player, SetList
from chartkit.book.workshop import Progress, no_progress
from chartkit.chart.model import Chart
from chartkit.diagnostics import Source
from chartkit.fretboard.instruments import GUITAR
from chartkit.syntax.reader import read_chart
from chartkit.theory.key import Key, parse_key
from chartkit.theory.naming import short_key
from chartkit.theory.pitch import PitchRange

NO_RANGE = "no range in its chart"
EVEN_LOAD = 0.05
"""Loads closer than this count as equal: a song is moved only for more (ours)."""


@dataclass(frozen=True, slots=True)
class SungSong:
    """A song for a singer: its key, the best key, and the reason for moving it.

    ``now`` and ``best`` are None where the chart names no sung range.  ``verdict`` is a phrase;
    ``move`` says whether the song should go to ``best``, ``half_steps`` how much higher than now
    the voice sings it there.
    """

    number: int
    title: str
    key: Key
    now: SungKey | None
    best: SungKey | None
    verdict: str
    move: bool

    @property
    def half_steps(self) -> int:
        """The way from where the voice sings the song now; 0 where it is not moved."""
        if self.best is None or not self.move:
            return 0
        return self.best.semitones - (self.now.semitones if self.now is not None else 0)


class NoSinger(Exception):
    """A set in which nobody's voice is known: the reason in plain words, and a hint."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


def singer_of(set_list: SetList) -> Player:
    """The first player whose voice the set file knows.  Raises NoSinger."""
    for player in set_list.players:
        if player.sung_range is not None or player.sat_well:
            return player
    raise NoSinger(
        "no player in this set has a sung range",
        'give the singer one: range = "A3-E5", or sat_well = { "Lantern Road" = "B" }',
    )


def sung_night(
    night: Night, singer: Player, progress: Progress = no_progress
) -> tuple[SungSong, ...]:
    """Every song that can be used, in the order of the set.  ``progress`` is called as a
    workshop's is.

    Raises UnknownSong for a song that sat well and is not in the set, and NoSinger where the songs
    that sat well name no range.
    """
    charts = {
        number: _tonight(night, number)
        for number, facts in enumerate(night.facts)
        if not facts.broken
    }
    settled = _settled(night, singer)
    voice = _voice(charts, singer, settled)
    guitar = next((p.guitars[0].instrument for p in night.set_list.players if p.guitars), GUITAR)
    settings = AdviceSettings(place=night.set_list.stage.place)
    sung = []
    for done, (number, chart) in enumerate(charts.items()):
        progress("trying keys", done, len(charts))
        song = song_of(chart)
        low_high = chart.setting("range")
        title, key = night.facts[number].title, night.facts[number].key
        if key is None or not song.held_chords:
            continue
        if not isinstance(low_high, PitchRange):
            sung.append(_without_range(number, title, key))
            continue
        boards = boards_on_disk()
        keys = rank_keys(song, low_high, voice, instrument=guitar, settings=settings, boards=boards)
        verdict = _verdict(_in_key(keys, key))
        sung.append(_judged(number, title, key, keys, settled.get(number), verdict))
    return tuple(sung)


def _without_range(number: int, title: str, key: Key) -> SungSong:
    return SungSong(
        number=number, title=title, key=key, now=None, best=None, verdict=NO_RANGE, move=False
    )


def keys_to_write(songs: Sequence[SungSong]) -> dict[int, str]:
    """The new key of each song that should move, by its number from 0."""
    return {
        song.number: str(song.best.key) for song in songs if song.move and song.best is not None
    }


def _tonight(night: Night, number: int) -> Chart:
    """The song's sounding chart in tonight's key."""
    chart = read_chart(Source(night.texts[number].text or "")).chart
    entry = night.set_list.songs[number]
    return moved_chart(chart, tonight_view(chart, entry.key, entry.shift))


def _settled(night: Night, singer: Player) -> dict[int, Key]:
    """The songs of which the singer has said in which key they sat well, by number."""
    settled = {}
    for name, key in singer.sat_well:
        number = song_number(name, night.facts, night.set_list)
        mode = night.facts[number].key
        settled[number] = parse_key(key) if mode is None else _in_mode(key, mode)
    return settled


def _in_mode(text: str, like: Key) -> Key:
    try:
        return parse_key(f"{text.strip()} {like.mode}")
    except ValueError:
        return parse_key(text)


def _voice(charts: dict[int, Chart], singer: Player, settled: dict[int, Key]) -> Voice:
    """The singer's own range, else the middle of what the songs that sat well ask for."""
    if singer.sung_range is not None:
        return voice_of(singer.sung_range)
    voices = [
        voice_that_sat_well(low_high, song_of(charts[number]).keys[0], key)
        for number, key in settled.items()
        if number in charts
        and isinstance(low_high := charts[number].setting("range"), PitchRange)
        and song_of(charts[number]).keys
    ]
    if not voices:
        raise NoSinger(
            f"none of the songs that sat well for {singer.name} has a range in its chart",
            "add a row such as range: Ab3-F5 to one of them",
        )
    low = round(sum(voice.lowest for voice in voices) / len(voices))
    high = round(sum(voice.highest for voice in voices) / len(voices))
    quarter = (high - low) / 4
    return Voice(low, high, (low + quarter, high - quarter))


def _judged(
    number: int,
    title: str,
    key: Key,
    keys: Sequence[SungKey],
    settled: Key | None,
    verdict: str,
) -> SungSong:
    """A song with its key for tonight: the one in which it sat well, else the best for the voice,
    or its own key if that gains too little."""
    now, best = _in_key(keys, key), keys[0]
    if settled is not None:
        best = next((sung_key for sung_key in keys if sung_key.key.tonic == settled.tonic), best)
        verdict, move = f"sat well in {short_key(best.key)}", key.tonic != best.key.tonic
    elif best.load is None:
        verdict, move = "wider than this voice", False
    else:
        move = now is None or now.load is None or now.load - best.load > EVEN_LOAD
        verdict = verdict if move or now is None else _staying(now)
    stays = settled is None and not move and best.load is not None
    return SungSong(
        number=number,
        title=title,
        key=key,
        now=now,
        best=now if stays else best,
        verdict=verdict,
        move=move,
    )


def _in_key(keys: Sequence[SungKey], key: Key) -> SungKey | None:
    return next((sung_key for sung_key in keys if sung_key.key.tonic == key.tonic), None)


def _verdict(now: SungKey | None) -> str:
    """How a song in its key lies for the voice, in the octave that suits the voice best."""
    if now is None:
        return ""
    beyond = max(-now.margin_above, -now.margin_below)
    way = "high" if -now.margin_above >= -now.margin_below else "low"
    if beyond > 0:
        words = f"{beyond if now.semitones else _half_steps(beyond)} too {way}"
    else:
        words = f"a little {'high' if now.off_middle > 0 else 'low'}"
    if not now.semitones:
        return words
    octaves = abs(now.semitones) // 12
    size = "octave" if octaves == 1 else f"{octaves} octaves"
    return f"{words}, {size} {'up' if now.semitones > 0 else 'down'}"


def _staying(now: SungKey) -> str:
    """How a song lies that no other key suits better: fine, or how many half steps it goes beyond
    the voice."""
    above, below = max(0, -now.margin_above), max(0, -now.margin_below)
    if not above + below:
        return "fine where it is"
    end = "too wide" if above and below else "too high" if above else "too low"
    return f"{above + below} {end}; no better key"


def _half_steps(count: int) -> str:
    return f"{count} half step{'s' * (count != 1)}"
