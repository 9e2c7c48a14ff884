"""What stands on a stage, and how long a guitarist takes to change it between two songs.

Rules, ours where no source is named:

- a guitar keeps its tuning and its capo until somebody changes them;
- before the show there is time: a guitar's first capo costs nothing.  Its tuning is what the
  player brings, and another one costs, before the first song too;
- a player changes only the guitar that is taken up next, right before its song;
- a song that the player sits out gives its length for the change;
- with a helper, guitars that were not in hand wait tuned and with their capo on.
"""

from dataclasses import dataclass, replace

from chartkit.fretboard.retuning import SongTuning
from chartkit.theory.capo import Capo


@dataclass(frozen=True, slots=True)
class StageCosts:
    """How long changes take, in seconds, and what a second of waiting is worth.

    The seconds are assumptions of ours, to be set by each band: moving a capo, tuning one
    string by a half step, listening to the tuning once more, putting one guitar down and
    taking another up.  ``score_a_second`` weighs a second of silence on stage against the
    adviser's score (ours, unsourced): half a minute weighs as much as one and a half songs on
    open shapes.  A second of tuning or of changing guitars weighs
    ``beyond_capo`` times as much: nobody takes another guitar for one song, and then the first one
    again, or tunes on stage, only to be spared a capo (common practice, no source).  Where a song
    goes straight into the next, any change costs ``straight_cost`` more, a penalty larger than any
    difference between two ways to play a song: nobody has a hand free there, so something is
    changed only where nothing else can be played.
    """

    capo_move_seconds: float = 6.0
    retune_seconds: float = 5.0
    check_seconds: float = 8.0
    swap_seconds: float = 15.0
    score_a_second: float = 0.03
    straight_cost: float = 30.0
    beyond_capo: float = 2.0
    helper: bool = False

    @property
    def weighed(self) -> "StageCosts":
        """A copy with the seconds of tuning and of changing guitars times ``beyond_capo``."""
        return replace(
            self,
            retune_seconds=self.retune_seconds * self.beyond_capo,
            check_seconds=self.check_seconds * self.beyond_capo,
            swap_seconds=self.swap_seconds * self.beyond_capo,
            beyond_capo=1.0,
        )


@dataclass(frozen=True, slots=True)
class GuitarSetup:
    """A guitar's tuning and capo: half steps that all strings are tuned down, the capo's fret, None
    before the show, and single strings tuned for a song.

    ``strings`` are those that a short capo lies over, empty for any other.
    """

    tuned_down: int = 0
    fret: int | None = None
    song_tuning: SongTuning | None = None
    strings: tuple[int, ...] = ()

    @property
    def capo(self) -> Capo:
        """The capo that is on it, its tuning aside."""
        return Capo(self.fret or 0, 0, self.strings)

    def has_capo_of(self, wanted: "GuitarSetup") -> bool:
        """Whether its capo is right already; before the show it always is."""
        return self.fret is None or (self.fret, self.strings) == (wanted.fret, wanted.strings)

    @classmethod
    def of(cls, capo: Capo, song_tuning: SongTuning | None = None) -> "GuitarSetup":
        """A guitar tuned, with its capo on."""
        return cls(capo.tuned_down, capo.fret, song_tuning, capo.strings)

    def half_steps(self, strings: int) -> tuple[int, ...]:
        """How far each string lies from the guitar's own tuning, bass side first."""
        steps = (0,) * strings if self.song_tuning is None else self.song_tuning.half_steps
        return tuple(step - self.tuned_down for step in steps)


@dataclass(frozen=True, slots=True)
class Rig:
    """One player's guitars: which one is in hand, the setup of each, and the time at rest.

    ``in_hand`` is None before the first song; ``rested_seconds`` is how long the songs last
    that the player has sat out since.
    """

    in_hand: int | None
    guitars: tuple[GuitarSetup, ...]
    rested_seconds: float = 0.0


def setup_seconds(now: GuitarSetup, wanted: GuitarSetup, strings: int, costs: StageCosts) -> float:
    """The seconds to set one guitar up for a song: move its capo, retune its strings."""
    seconds = 0.0
    if not now.has_capo_of(wanted):
        seconds += costs.capo_move_seconds
    if (now.tuned_down, now.song_tuning) != (wanted.tuned_down, wanted.song_tuning):
        here, there = now.half_steps(strings), wanted.half_steps(strings)
        steps = sum(abs(one - other) for one, other in zip(here, there, strict=True))
        seconds += steps * costs.retune_seconds + costs.check_seconds
    return seconds


def change_seconds(
    rig: Rig, guitar: int, wanted: GuitarSetup, strings: tuple[int, ...], costs: StageCosts
) -> float:
    """How many seconds everybody waits until the player is ready for a song.

    ``strings`` counts the strings of each guitar.  A helper sets up a guitar that is not in the
    player's hands, so only taking it takes time.
    """
    idle = guitar != rig.in_hand
    seconds = costs.swap_seconds if idle and rig.in_hand is not None else 0.0
    if not (idle and costs.helper):
        seconds += setup_seconds(rig.guitars[guitar], wanted, strings[guitar], costs)
    return max(0.0, seconds - rig.rested_seconds)


def change_cost(seconds: float, straight: bool, costs: StageCosts) -> float:
    """The score that a change of so many seconds costs."""
    flat = costs.straight_cost if straight and seconds else 0.0
    return seconds * costs.score_a_second + flat


def rig_after(rig: Rig, guitar: int, left: GuitarSetup, costs: StageCosts) -> Rig:
    """The player's guitars after a song; ``left`` is the setup of the one in hand at its end.

    If a helper sets up idle guitars, their setups do not matter, so all are alike.
    """
    setups = list(rig.guitars)
    setups[guitar] = left
    if costs.helper:
        setups = [setup if i == guitar else GuitarSetup() for i, setup in enumerate(setups)]
    return Rig(guitar, tuple(setups))
