"""Chord symbols: their tones, and the ways in which files write them.

Source of the tones: the kinds and degrees of the MusicXML 4.0 schema; of the texts: common
practice, no source.
"""

from dataclasses import dataclass
from random import Random

from tests.interchange.made_scores.song import Symbol

LETTERS = "FCGDAEB"


def name_of(place: int) -> tuple[str, int]:
    """The letter of a place on the line of fifths, and its sharps (flats are negative)."""
    return LETTERS[(place + 1) % 7], (place + 1) // 7


def printed_name(place: int) -> str:
    """A place as it is typed: "Bb"."""
    letter, alter = name_of(place)
    return letter + ("#" * alter if alter > 0 else "b" * -alter)


Degree = tuple[int, int, str]


@dataclass(frozen=True)
class Quality:
    """The half steps of a quality over its root; each way is a kind with its degrees; the texts
    are those that people print."""

    tones: str
    ways: tuple[tuple[str, tuple[Degree, ...]], ...]
    texts: tuple[str, ...]


def _plain(tones: str, kind: str, *texts: str) -> Quality:
    return Quality(tones, ((kind, ()),), texts)


QUALITIES: dict[str, Quality] = {
    "": _plain("0 4 7", "major", ""),
    "m": _plain("0 3 7", "minor", "m", "mi", "min", "-"),
    "7": Quality("0 4 7 10", (("dominant", ()), ("major", ((7, 0, "add"),))), ("7",)),
    "maj7": Quality(
        "0 4 7 11",
        (("major-seventh", ()), ("major", ((7, 1, "add"),))),
        ("maj7", "Maj7", "M7", "ma7", "△7"),
    ),
    "m7": Quality(
        "0 3 7 10",
        (("minor-seventh", ()), ("minor", ((7, 0, "add"),))),
        ("m7", "mi7", "min7", "-7"),
    ),
    "dim": _plain("0 3 6", "diminished", "dim", "°", "o"),
    "dim7": _plain("0 3 6 9", "diminished-seventh", "dim7", "°7", "o7"),
    "aug": _plain("0 4 8", "augmented", "+", "aug"),
    "6": _plain("0 4 7 9", "major-sixth", "6"),
    "m6": _plain("0 3 7 9", "minor-sixth", "m6", "mi6", "-6"),
    "9": Quality("0 4 7 10 2", (("dominant-ninth", ()), ("dominant", ((9, 0, "add"),))), ("9",)),
    "m9": _plain("0 3 7 10 2", "minor-ninth", "m9", "mi9", "-9"),
    "maj9": _plain("0 4 7 11 2", "major-ninth", "maj9", "Maj9", "M9"),
    "sus4": Quality(
        "0 5 7",
        (("suspended-fourth", ()), ("major", ((3, 0, "subtract"), (4, 0, "add")))),
        ("sus4", "sus"),
    ),
    "sus2": _plain("0 2 7", "suspended-second", "sus2"),
    "5": _plain("0 7", "power", "5"),
    "mmaj7": Quality(
        "0 3 7 11",
        (("major-minor", ()), ("minor", ((7, 1, "add"),))),
        ("m(maj7)", "mMaj7", "mi(Ma7)"),
    ),
    "m7b5": Quality(
        "0 3 6 10",
        (("half-diminished", ()), ("minor-seventh", ((5, -1, "alter"),))),
        ("m7b5", "ø7", "ø", "m7(b5)", "mi7(♭5)"),
    ),
    "add9": Quality(
        "0 2 4 7",
        (("major", ((9, 0, "add"),)), ("major", ((2, 0, "add"),))),
        ("add9", "(add9)", "add2"),
    ),
    "6/9": Quality(
        "0 2 4 7 9",
        (("major-sixth", ((9, 0, "add"),)), ("major", ((6, 0, "add"), (9, 0, "add")))),
        ("6/9", "69", "6(9)"),
    ),
    "7sus4": Quality(
        "0 5 7 10",
        (
            ("suspended-fourth", ((7, 0, "add"),)),
            ("dominant", ((3, 0, "subtract"), (4, 0, "add"))),
        ),
        ("7sus4", "7sus", "7(sus4)"),
    ),
    "7b9": Quality("0 1 4 7 10", (("dominant", ((9, -1, "add"),)),), ("7b9", "7(b9)", "7(♭9)")),
    "7#9": Quality("0 3 4 7 10", (("dominant", ((9, 1, "add"),)),), ("7#9", "7(#9)", "7(♯9)")),
    "7#5": Quality(
        "0 4 8 10",
        (("augmented-seventh", ()), ("dominant", ((5, 1, "alter"),))),
        ("7#5", "+7", "aug7", "7(#5)"),
    ),
    "7b5": Quality("0 4 6 10", (("dominant", ((5, -1, "alter"),)),), ("7b5", "7(b5)")),
    "7#11": Quality("0 4 6 7 10", (("dominant", ((11, 1, "add"),)),), ("7#11", "7(#11)")),
    "13": _plain("0 2 4 5 7 9 10", "dominant-13th", "13"),
    "maj7#11": Quality(
        "0 4 6 7 11", (("major-seventh", ((11, 1, "add"),)),), ("maj7#11", "maj7(#11)")
    ),
    "7b9b13": Quality(
        "0 1 4 7 8 10",
        (("dominant", ((9, -1, "add"), (13, -1, "add"))),),
        ("7(b9,b13)", "7(♭9♭13)", "7b9b13"),
    ),
}
TYPEABLE = ("", "m", "7", "maj7", "m7", "6", "dim", "sus4", "9", "m6")
"""Qualities that people type over a staff as plain words."""


def tones_of(symbol: Symbol) -> tuple[frozenset[int], int]:
    """The pitch classes of a chord, the bass among them, and the bass."""
    root = 7 * symbol.root % 12
    bass = root if symbol.bass is None else 7 * symbol.bass % 12
    tones = {(root + int(tone)) % 12 for tone in QUALITIES[symbol.quality].tones.split()}
    return frozenset(tones | {bass}), bass


def moved(symbol: Symbol, fifths: int) -> Symbol:
    """The symbol moved along the line of fifths."""
    bass = None if symbol.bass is None else symbol.bass + fifths
    return Symbol(symbol.root + fifths, symbol.quality, bass)


_MAJOR = (
    (0, "", 5), (1, "", 4), (-1, "", 4), (3, "m", 4), (2, "m", 2), (4, "m", 1), (1, "7", 3),
    (2, "m7", 2), (3, "m7", 1), (-1, "maj7", 1), (0, "maj7", 1), (2, "7", 1), (-2, "", 1),
    (5, "m7b5", 0.4), (0, "6", 0.5), (0, "add9", 0.5), (1, "sus4", 0.5), (1, "7sus4", 0.5),
    (1, "9", 0.4), (3, "7", 0.5), (-1, "m6", 0.3), (1, "7b9", 0.3), (7, "dim7", 0.3),
    (0, "6/9", 0.3), (1, "13", 0.2), (-1, "maj7#11", 0.2), (0, "aug", 0.2), (0, "sus2", 0.3),
    (3, "7b9", 0.2), (1, "7#5", 0.2), (2, "m9", 0.3), (0, "maj9", 0.3), (1, "7#11", 0.1),
)  # fmt: skip
"""Chords of a major key: the root over the tonic, the quality, how often (ours)."""
_MINOR = (
    (0, "m", 5), (-1, "m", 4), (-4, "", 3), (-3, "", 3), (-2, "", 3), (1, "7", 4), (1, "m", 1),
    (0, "m7", 1), (2, "m7b5", 1), (-1, "m7", 1), (-4, "maj7", 0.6), (0, "m6", 0.4), (1, "7b9", 0.6),
    (-3, "7", 0.3), (5, "dim7", 0.3), (0, "mmaj7", 0.3), (-1, "m6", 0.3), (1, "7#9", 0.2),
    (1, "7sus4", 0.3), (0, "m9", 0.3), (1, "7b9b13", 0.2), (2, "7b5", 0.1), (5, "dim", 0.2),
    (0, "5", 0.2),
)  # fmt: skip
"""Chords of a minor key, in the same way."""


def chord_in(tonic: int, minor: bool, rich: float, chance: Random) -> Symbol:
    """A chord of a key; ``rich`` is how often it may be more than a triad or a seventh."""
    table = _MINOR if minor else _MAJOR
    plain = [one for one in table if one[1] in ("", "m", "7", "m7", "maj7")]
    rows = table if chance.random() < rich else plain
    above, quality, _ = chance.choices(rows, [one[2] for one in rows])[0]
    root = tonic + above
    bass = None
    if chance.random() < 0.12 and quality in ("", "m", "7", "m7", "maj7"):
        third = 4 if quality in ("", "7", "maj7") else -3
        bass = root + chance.choice((third, 1, -2 if quality != "" else 2))
    return Symbol(root, quality, bass)
