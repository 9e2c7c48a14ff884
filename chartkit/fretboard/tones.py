"""The tones that a voicing of a chord must sound, those it may sound, and the bass."""

from dataclasses import dataclass, replace
from functools import lru_cache

from chartkit.theory.chord import Chord
from chartkit.theory.note import pitch_class_of
from chartkit.theory.quality import DEGREE_PLACES, Quality

OMISSION_PENALTIES = {"3": 0.0, "11": 0.0, "9": 0.5}
"""How much a missing omissible degree is missed, 1 for the others (common practice)."""

_ROOT_OF_FLAT_NINE = 0.5
"""How much the root of a flat nine over another bass is missed: players use the diminished chord of
its other tones (common practice, no source)."""


_NINTHS = {1, 2, 3}
"""Half steps from the root to a flat, a natural and a sharp ninth, octaves aside."""


@dataclass(frozen=True, slots=True)
class Tones:
    """The pitch classes of a chord as the search needs them.

    ``required`` must sound; ``optional`` holds those that may be left out with their
    penalty; ``bass`` must be the lowest; ``foreign_bass`` says the bass is no chord tone
    and sounds nowhere else.  ``third`` and ``fifth`` are None where the chord has none.
    ``tensions`` belong above the third, each with how much it is out of place below it.
    """

    required: frozenset[int]
    optional: tuple[tuple[int, float], ...]
    bass: int
    foreign_bass: bool
    root: int
    third: int | None
    fifth: int | None
    tensions: tuple[tuple[int, int], ...] = ()

    @property
    def allowed(self) -> frozenset[int]:
        """Every pitch class that may sound above the bass."""
        return self.required | {tone for tone, _ in self.optional}

    @property
    def thin(self) -> bool:
        """Whether this is a fifth chord, which players sound on three strings, or one note."""
        return len(self.required) <= 2 and not self.optional and not self.foreign_bass

    @property
    def is_ninth(self) -> bool:
        """Whether this has a third, a seventh, and a ninth of any kind."""
        above = {(tone - self.root) % 12 for tone, _ in self.tensions}
        sevenths = {(self.root + 10) % 12, (self.root + 11) % 12}
        return bool(above & _NINTHS) and bool(sevenths & self.allowed)

    @property
    def fewest_strings(self) -> int:
        """The fewest strings that sound it: three for a fifth chord, one for a single note."""
        return (1 if len(self.required) == 1 else 3) if self.thin else 4

    def without_root(self) -> "Tones":
        """A copy with the root left to another player, for instruments with few strings.

        Common practice on small instruments, no source; a bass that is the root goes too.
        """
        bass = min(self.required - {self.root}, default=self.bass)
        return replace(
            self,
            required=self.required - {self.root},
            optional=tuple(sorted({*self.optional, (self.root, 1.0)})),
            bass=bass if self.bass == self.root else self.bass,
        )

    def moved(self, semitones: int) -> "Tones":
        """A copy moved up by so many half steps."""

        def up(tone: int) -> int:
            return (tone + semitones) % 12

        return replace(
            self,
            required=frozenset(map(up, self.required)),
            optional=tuple(sorted((up(tone), penalty) for tone, penalty in self.optional)),
            bass=up(self.bass),
            root=up(self.root),
            third=None if self.third is None else up(self.third),
            fifth=None if self.fifth is None else up(self.fifth),
            tensions=tuple(sorted((up(tone), weight) for tone, weight in self.tensions)),
        )


def sounded_degrees(quality: Quality) -> tuple[str, ...]:
    """The degrees that players sound together.

    The natural eleventh lies a minor ninth over the major third, so one of the two is left out if
    the table allows it: the eleventh of a thirteenth chord, the third of an eleventh (common
    practice, no source).
    """
    if not {"3", "11"} <= set(quality.degrees):
        return quality.degrees
    silent = next((degree for degree in ("11", "3") if degree in quality.omissible), None)
    return tuple(degree for degree in quality.degrees if degree != silent)


@lru_cache(maxsize=4096)
def tones_of(chord: Chord) -> Tones:
    """The tones for a voicing of the chord, from the table of qualities."""
    quality = chord.quality

    def sounding(degree: str) -> int:
        return pitch_class_of(chord.root + DEGREE_PLACES[degree])

    tones = {degree: sounding(degree) for degree in sounded_degrees(quality)}
    bass = pitch_class_of(chord.root if chord.bass is None else chord.bass)
    optional = {
        tone: OMISSION_PENALTIES.get(degree, 1.0)
        for degree, tone in tones.items()
        if degree in quality.omissible and tone != bass
    }
    if bass != tones.get("1") and tones.keys() == {"1", "3", "5", "b7", "b9"}:
        optional[tones["1"]] = _ROOT_OF_FLAT_NINE
    required = frozenset(tones.values()).difference(optional)
    thirds = [tones[degree] for degree in ("3", "b3") if degree in tones]
    fifths = [tones[degree] for degree in ("5", "b5", "#5") if degree in tones]
    return Tones(
        required=required,
        optional=tuple(sorted(optional.items())),
        bass=bass,
        foreign_bass=bass not in tones.values(),
        root=pitch_class_of(chord.root),
        third=thirds[0] if thirds else None,
        fifth=fifths[0] if fifths else None,
        tensions=_tensions(tones) if thirds else (),
    )


_TENSIONS = ("b9", "9", "#9", "11", "#11", "b13", "13")
_SHARP_NINTH_BELOW = 4
"""How many times worse a sharp ninth below the third is: it turns the chord minor (ours)."""


def _tensions(tones: dict[str, int]) -> tuple[tuple[int, int], ...]:
    """The chord's ninths, elevenths and thirteenths, each with its weight below the third."""
    weights = {tones[degree]: 1 for degree in _TENSIONS if degree in tones}
    if "#9" in tones:
        weights[tones["#9"]] = _SHARP_NINTH_BELOW
    return tuple(sorted(weights.items()))
