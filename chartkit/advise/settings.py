"""The numbers behind the advice, each with its source.

The weights make an index, not a measurement: ours, unsourced, set so that the usual keys of open
shapes win where players would choose them.  The price of a capo's fret matters most: halving it
changes more winners than halving any other of these.
"""

from dataclasses import dataclass
from typing import Literal

from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord

Venue = Literal["live", "studio"]

USUAL_HIGHEST_CAPO = 7
"""The usual highest capo of one guitar of several: past it few guitars play in tune, and little
neck is left (common practice, no source)."""

LISTED_HIGHEST, LISTED_DOWN = 9, 3
"""The highest capo and the most half steps down that are listed for a guitar alone: its player sees
all places with their prices (ours)."""

USUALLY_DOWN: dict[Venue, int] = {"live": 0, "studio": 2}
"""How many half steps one guitar of several is usually tuned down: on stage none, since nobody
retunes a whole guitar between songs without a plan (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class ScoreWeights:
    """How the measures add up to the score; a positive weight is good, a negative one bad.

    ``oddness`` is set so high that an unusual shape cannot buy an open string cheaply, ``mutes`` so
    that a gap among the strings costs about what a barre does, and ``barres`` so that a minor key
    of barres at the nut (B minor shapes) does not pass open A minor shapes two frets higher.
    ``home_closed`` is what it costs when the chord of the tonic, to which a song comes home, is not
    an open shape: so a plain F in C may be easy, and a song in E stays in E.  ``second_shapes`` is
    what each chord costs that is played in more than one shape: a player keeps one unless the other
    is worth remembering.
    """

    open_share: float = 0.6
    ring: float = 0.8
    kept: float = 1.0
    held: float = 0.5
    barres: float = -0.7
    mutes: float = -1.0
    effort: float = -0.17
    movement: float = -0.3
    oddness: float = -1.8
    unplayable: float = -6.0
    home_closed: float = -0.7
    second_shapes: float = -0.06


@dataclass(frozen=True, slots=True)
class MovementCosts:
    """The cost of the fingers of a new shape (ours, unsourced).

    ``placed`` for a finger that was free, ``moved`` and ``moved_per_mm`` for one that goes
    elsewhere, ``hand_per_mm`` for the hand's way along the neck.
    """

    placed: float = 0.25
    moved: float = 0.12
    moved_per_mm: float = 0.005
    hand_per_mm: float = 0.010


@dataclass(frozen=True, slots=True)
class CapoPrices:
    """The cost of a capo or another tuning (ours, unsourced).

    Any capo costs ``any_capo``, since none needs no thought, and then ``per_fret`` and
    ``high`` x (frets past ``high_from``)².  Tuning down costs ``live_down`` and
    ``live_per_half_step`` on stage with one guitar.  Where there is time it costs less, but there
    too every part of the song has to be played with that guitar: ``studio_down``,
    ``studio_per_half_step`` and ``studio_steeper`` x (half steps past the first)².  Past two half
    steps the strings are floppy, which costs ``floppy`` a half step anywhere (common practice).
    ``closed`` is what any capo or tuning costs besides where the harmony lies on closed grips,
    times how far it does (``harmony.lies_anywhere``), ``unusual_key`` where it leads to shapes
    of a key that nobody puts a capo on for (``harmony.OPEN_KEYS``).  ``half_step_to_e`` is what
    tuning down a half step costs less where it leads to E shapes.
    """

    any_capo: float = 0.38
    per_fret: float = 0.2
    high: float = 0.02
    high_from: int = 5
    live_down: float = 1.9
    live_per_half_step: float = 0.5
    studio_down: float = 1.4
    studio_per_half_step: float = 0.2
    studio_steeper: float = 0.1
    floppy: float = 0.6
    floppy_from: int = 2
    closed: float = 3.0
    unusual_key: float = 1.2
    half_step_to_e: float = 0.4

    def capo(self, fret: int) -> float:
        """The price of a capo at that fret."""
        any_capo = self.any_capo if fret else 0.0
        return any_capo + self.per_fret * fret + self.high * max(0, fret - self.high_from) ** 2

    def tuning_down(self, half_steps: int, place: Venue) -> float:
        """The price of tuning all strings down by so many half steps."""
        if not half_steps:
            return 0.0
        floppy = self.floppy * max(0, half_steps - self.floppy_from)
        if place == "live":
            return self.live_down + self.live_per_half_step * half_steps + floppy
        steeper = self.studio_steeper * (half_steps - 1) ** 2
        return self.studio_down + self.studio_per_half_step * half_steps + steeper + floppy


@dataclass(frozen=True, slots=True)
class AdviceSettings:
    """The limits that the player sets, and the numbers of the score.

    ``highest_capo`` is the highest fret wanted, ``most_down`` the half steps the guitar may be
    tuned down, ``capo_when_down`` whether both together are considered. ``short_capos`` are
    considered as well. ``candidates`` voicings of each chord within ``cost_margin`` of the cheapest
    compete.
    """

    highest_capo: int = LISTED_HIGHEST
    most_down: int = LISTED_DOWN
    capo_when_down: bool = False
    short_capos: tuple[Capo, ...] = ()
    place: Venue = "live"
    score: ScoreWeights = ScoreWeights()
    movement: MovementCosts = MovementCosts()
    prices: CapoPrices = CapoPrices()
    candidates: int = 8
    cost_margin: float = 3.0
    knows: tuple[Chord, ...] | None = None
    """The chords the player knows, for the difficulty; None is a beginner's twenty."""
    free_beats: int = 4
    """The assumed beats of a chord in free time."""
