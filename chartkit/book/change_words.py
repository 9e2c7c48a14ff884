"""Sentences that tell a player what to change between two songs: guitar, tuning, capo.

They are read on a dark stage, so they are short, name one thing at a time, in the order in which
it is done, and give the numbers of frets, never "up one".
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.advise.set_steps import SetStep, SetSteps, SongSetup
from chartkit.advise.stage import GuitarSetup
from chartkit.book.set_list import Player
from chartkit.fretboard.instrument import Instrument
from chartkit.phrases import listed
from chartkit.theory.capo import NO_CAPO, Capo, step_words
from chartkit.theory.note import accidentals_of, parse_note, typographic_name

_HALF_STEP, _OCTAVE = 7, 12
"""A chromatic half step, and the way between two names of one note, in fifths."""
_NONE, _WITHOUT = "no capo", "No capo."
_ANOTHER = {1: "another half step", 2: "another whole step", 3: "another step and a half"}
"""The words for strings that go further down: their final tuning is said as well."""


@dataclass(frozen=True, slots=True)
class ToDo:
    """A player's changes before a song: sentences (none if nothing changes) and seconds."""

    sentences: tuple[str, ...]
    seconds: float

    @property
    def is_work(self) -> bool:
        """Whether a hand has something to do; that there is no capo only says how it begins."""
        return any(sentence != _WITHOUT for sentence in self.sentences)


def to_do(
    player: Player, steps: SetSteps, straight: Sequence[bool], helper: bool = False
) -> tuple[ToDo | None, ...]:
    """The player's changes before each song; None if the song is sat out.

    ``straight`` says of each song whether the one before runs straight into it.
    """
    setups = [GuitarSetup(guitar.tuned_down) for guitar in player.guitars]
    hand: int | None = None
    plays = [capo for step in steps if step is not None for capo in step.offer.setup.capos]
    capoless = not player.highest_capo and not any(capo.fret for capo in plays)
    dues = list[ToDo | None]()
    for step, close in zip(steps, straight, strict=True):
        if step is None:
            dues.append(None)
            continue
        guitar, wanted = step.offer.guitar, step.offer.before
        before, instrument = setups[guitar], player.guitars[guitar].instrument
        ready = helper and hand is not None and guitar != hand
        sentences = _guitar(player, hand, guitar)
        sentences += _ready(before, wanted) if ready else _tuning(before, wanted, instrument)
        sentences += [] if ready or capoless else _capo(before, wanted)
        if close and sentences:
            sentences = ["No pause here.", *sentences]
        dues.append(ToDo(tuple(sentences), step.seconds))
        hand, setups[guitar] = guitar, step.offer.after
    return tuple(dues)


def set_up_words(player: Player, capo: Capo | None) -> str:
    """The words for setting up before the first song, for a player without a plan: the chart
    decides the capo."""
    if player.part is not None:
        return _WITHOUT
    if capo is None or not player.guitars or not player.takes_capo:
        return ""
    before, wanted = GuitarSetup(player.guitars[0].tuned_down), GuitarSetup.of(capo)
    sentences = _tuning(before, wanted, player.guitars[0].instrument)
    sentences += _capo(before, wanted) if capo.fret or player.highest_capo else []
    return " ".join(sentences)


def _guitar(player: Player, hand: int | None, guitar: int) -> list[str]:
    name = player.guitars[guitar].name
    if hand is None:
        return [f"Begin on {name}."] if len(player.guitars) > 1 else []
    if hand == guitar:
        return []
    return [f"Put down {player.guitars[hand].name}, take {name}."]


def _tuning(before: GuitarSetup, wanted: GuitarSetup, instrument: Instrument) -> list[str]:
    off = "Take the capo off. " if before.fret else ""
    if before.song_tuning != wanted.song_tuning:
        return [f"{off}{_single_strings(before, wanted, instrument)} Check the tuning."]
    if before.tuned_down == wanted.tuned_down:
        return []
    way = "down" if wanted.tuned_down > before.tuned_down else "up"
    size = step_words(abs(wanted.tuned_down - before.tuned_down))
    end = " to normal tuning"
    if wanted.tuned_down:
        end = f", to {step_words(wanted.tuned_down)} down" if before.tuned_down else ""
    if before.tuned_down and wanted.tuned_down > before.tuned_down:
        size = _ANOTHER.get(wanted.tuned_down - before.tuned_down, f"another {size}")
    return [f"{off}Tune every string {way} {size}{end}. Check the tuning."]


def _single_strings(before: GuitarSetup, wanted: GuitarSetup, instrument: Instrument) -> str:
    """Instructions for single strings, which players count from the treble side."""
    count = len(instrument.strings)
    here, there = before.half_steps(count), wanted.half_steps(count)
    notes = [string.pitch.note for string in instrument.strings]
    if wanted.song_tuning is not None:
        notes = [parse_note(note) for note in wanted.song_tuning.notes]
    names = [typographic_name(_lowered(note, wanted.tuned_down)) for note in notes]
    sentences = []
    for change in sorted({new - old for old, new in zip(here, there, strict=True)} - {0}):
        strings = [i for i in range(count) if there[i] - here[i] == change]
        numbers = listed([str(count - i) for i in strings])
        way = f"{'up' if change > 0 else 'down'} {step_words(abs(change))}"
        back = "" if any(there[i] + wanted.tuned_down for i in strings) else "back "
        ends = [names[i] for i in strings]
        end = f", {back}to {listed(ends if len(set(ends)) > 1 else ends[:1])}"
        sentences.append(f"Tune string{'s' * (len(strings) > 1)} {numbers} {way}{end}.")
    return " ".join(sentences)


def _lowered(note: int, half_steps: int) -> int:
    """The note so many half steps lower by its simplest name, a flat one of two: D is D flat, F is
    E."""
    if not half_steps:
        return note
    names = [note - _HALF_STEP * half_steps + _OCTAVE * k for k in range(half_steps + 1)]
    return min(names, key=lambda name: (abs(accidentals_of(name)), name))


def _capo(before: GuitarSetup, wanted: GuitarSetup) -> list[str]:
    if before.fret is None:
        return [_put_on(wanted.capo)] if wanted.fret else [_WITHOUT]
    tuned = (before.tuned_down, before.song_tuning) != (wanted.tuned_down, wanted.song_tuning)
    now = NO_CAPO if tuned else before.capo
    if now == wanted.capo:
        return []
    if not wanted.fret:
        return [_take_off(now)]
    if not now.fret:
        return [_put_on(wanted.capo)]
    if now.strings == wanted.strings:
        short = "short " if now.strings else ""
        return [f"Move the {short}capo from {now.fret} to {wanted.fret}."]
    if len(now.strings) == len(wanted.strings):
        return [f"Move the short capo to {wanted.capo.place} (it is on {now.place})."]
    return [_take_off(now), _put_on(wanted.capo)]


def _put_on(capo: Capo) -> str:
    return f"{'Short capo' if capo.strings else 'Capo'} on fret {capo.place}."


def _take_off(capo: Capo) -> str:
    return f"Take the {'short ' if capo.strings else ''}capo off (it is on {capo.fret})."


def _ready(before: GuitarSetup, wanted: GuitarSetup) -> list[str]:
    """The state of a guitar that a helper prepared: retuned, if it was, and with its capo."""
    tuned = [
        f"in {wanted.song_tuning.name}" if wanted.song_tuning is not None else "",
        f"tuned down {step_words(wanted.tuned_down)}" if wanted.tuned_down else "",
    ]
    words = ", ".join(filter(None, tuned)) or "in normal tuning"
    changed = (before.tuned_down, before.song_tuning) != (wanted.tuned_down, wanted.song_tuning)
    parts = [
        words if changed else "",
        f"with the {'short ' if wanted.strings else ''}capo on {wanted.capo.place}"
        if wanted.fret
        else "",
    ]
    state = ", ".join(filter(None, parts))
    return [f"It comes {state}."] if state else []


def setting_words(capo: Capo) -> str:
    """The state of a guitar, in short: ``capo 3``, ``capo 2 (5-3)``, ``no capo``, ``down 1``."""
    parts = [
        f"down {capo.tuned_down}" if capo.tuned_down else "",
        replace(capo, tuned_down=0).brief if capo.fret else "",
    ]
    return ", ".join(filter(None, parts)) or _NONE


def night_setting(steps: SetSteps, step: SetStep) -> str:
    """The state of a guitar through a song of a night.

    A guitar that is tuned down is said to have no capo if it has one in another song of the night:
    ``down 1, no capo``.
    """
    way, guitar = step.offer.setup, step.offer.guitar
    same = (
        later.offer.setup.capos
        for later in steps
        if later is not None and later.offer.guitar == guitar
    )
    return song_setup_words(way, any(capo.fret for capos in same for capo in capos))


def song_setup_words(way: SongSetup, capo_carried: bool = False) -> str:
    """The state of a guitar through a song: ``capo 2``, ``no capo, then 3``, ``drop D, capo 2``.

    ``capo_carried`` says that its player has a capo for it, so that none is worth a word:
    ``down 1, no capo``.
    """
    first = setting_words(way.capos[0])
    if way.song_tuning is not None:
        first = way.song_tuning.name + (f", {first}" if first != _NONE else "")
    if capo_carried and not way.capos[0].fret and first != _NONE:
        first += f", {_NONE}"
    moves = (f", then {capo.place}" for capo in way.capos[1:])
    return first + "".join(moves)


def moves_words(way: SongSetup) -> str:
    """Where the capo goes inside a song, as a sentence; empty where it stays."""
    if len(way.capos) < 2:
        return ""
    places = (f"goes to {capo.place}" if capo.fret else "comes off" for capo in way.capos[1:])
    return f"In the song the capo {', then '.join(places)}."


def time_words(seconds: float) -> str:
    """A stretch of time as a player says it: ``40 s``, ``2 min 10 s``."""
    minutes, rest = divmod(round(seconds), 60)
    if not minutes:
        return f"{rest} s"
    return f"{minutes} min {rest} s" if rest else f"{minutes} min"
