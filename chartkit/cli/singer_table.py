"""The keys for a singer, as a table on the terminal and as data."""

from typing import TYPE_CHECKING

from chartkit.cli.columns import in_columns, say_wrapped
from chartkit.cli.streams import show
from chartkit.theory.key import Key
from chartkit.theory.naming import key_words
from chartkit.theory.pitch import PitchRange

if TYPE_CHECKING:
    from chartkit.advise.singer import SungKey

_HEAD = [
    "key",
    "moved",
    "sung",
    "hard to sing",
    "below",
    "above",
    "capo",
    "shapes",
    "easy to play",
    "beaten by",
]
_RIGHT = frozenset({"moved", "hard to sing", "below", "above", "easy to play"})
_OF_RANGE = frozenset({"sung", "below", "above"})
"""The columns that need the song's range."""

_DECIDES = (
    "hard to sing: this column decides, and lower is better. 0 is all in the comfortable middle of "
    "the voice, 1 the very edge of what can be sung."
)
_GUESSED = (
    "hard to sing: this column decides, and lower is better. It is a guess from the distance "
    "alone, as for a song of one octave that leaves the voice a whole step to spare at each end."
)
_EASY = (
    "easy to play: decides between keys that are 0.05 or less apart; higher is better. It is the "
    "score of chartkit capo, for this song only."
)
_BELOW_ABOVE = (
    "below, above: half steps between the song and the ends of the comfortable range, with a minus "
    "past them."
)
_BEATEN = (
    "beaten by: another key that is no harder to sing and no harder to play; a key with a dash "
    "there is worth a try."
)


def print_keys(
    keys: "tuple[SungKey, ...]", sung: PitchRange | None, well: Key | None = None
) -> None:
    """Prints the keys; ``sung`` is None where the song's range is not known, but only the key in
    which it sat well."""
    if sung is None:
        near = "one that sat well" if well is None else key_words(well)
        say_wrapped(
            f"The chart names no range, so keys are ranked by their distance from {near}. Add a "
            "row like range: Ab3-F5, and the notes themselves decide."
        )
    else:
        low, high = sung.lowest.printed(), sung.highest.printed()
        show(f"In the key of the chart, the song is sung from {low} to {high}.")
    show("")
    shown = [name for name in _HEAD if sung is not None or name not in _OF_RANGE]
    cells = [dict(zip(_HEAD, _row(key), strict=True)) for key in keys]
    rows = [shown, *([row[name] for name in shown] for row in cells)]
    right = frozenset(number for number, name in enumerate(shown) if name in _RIGHT)
    for line in in_columns(rows, right):
        show(line)
    show("")
    if all(key.load is None for key in keys):
        say_wrapped("The song's range is wider than this voice: no key fits it.")
    known = (_DECIDES, _EASY, _BELOW_ABOVE, _BEATEN)
    say_wrapped(" ".join(known if sung is not None else (_GUESSED, _EASY, _BEATEN)))
    say_wrapped("If singing hurts or strains, stop; a teacher or doctor can help.")


def _row(key: "SungKey") -> list[str]:
    beaten = "–" if key.beaten_by is None else key_words(key.beaten_by)
    return [
        key_words(key.key),
        f"{key.semitones:+d}",
        key.sung.printed(),
        "too far" if key.load is None else f"{key.load:.2f}",
        f"{key.margin_below:+d}",
        f"{key.margin_above:+d}",
        key.best.option.brief,
        key_words(key.best.shape_keys[0]),
        f"{key.best.score:.2f}",
        "" if key.load is None else beaten,
    ]


def key_json(key: "SungKey", with_range: bool) -> dict[str, object]:
    """One key as data; what needs the song's range is None if that is not known."""
    return {
        "key": str(key.key),
        "semitones": key.semitones,
        "sung": str(key.sung) if with_range else None,
        "load": key.load,
        "margin_below": key.margin_below if with_range else None,
        "margin_above": key.margin_above if with_range else None,
        "off_middle": key.off_middle,
        "unbeaten": key.unbeaten,
        "beaten_by": None if key.beaten_by is None else str(key.beaten_by),
        "capo": key.best.option.fret,
        "tuned_down": key.best.option.tuned_down,
        "shape_key": str(key.best.shape_keys[0]),
        "score": key.best.score,
    }
