"""The keys for a singer, as a table on the terminal and as data."""

from typing import TYPE_CHECKING

from chartkit.cli.columns import in_columns, say_wrapped
from chartkit.cli.streams import show
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
_LEGEND = (
    "hard to sing decides, lower is better: 0 is all in the comfortable middle of the voice, 1 the "
    "very edge of what can be sung. If keys differ by 0.05 or less, easy to play decides, higher "
    "is better: the index of chartkit capo, for this song only. below, above: half steps between "
    "the song and the ends of the comfortable range, with a minus past them. beaten by: another "
    "key that is no harder to sing and no harder to play; a key with a dash there is worth a try."
)


def print_keys(keys: "tuple[SungKey, ...]", sung: PitchRange | None) -> None:
    """Prints the keys; ``sung`` is None where the song's range is not known."""
    if sung is None:
        say_wrapped("The chart names no range: keys are ranked by their distance from yours.")
    else:
        low, high = sung.lowest.printed(), sung.highest.printed()
        show(f"The song is sung from {low} to {high} where it stands.")
    show("")
    rows = [_HEAD, *(_row(key, sung is not None) for key in keys)]
    for line in in_columns(rows, frozenset({1, 3, 4, 5, 8})):
        show(line)
    show("")
    if all(key.load is None for key in keys):
        say_wrapped("The song's range is wider than this voice: no key fits it.")
    say_wrapped(_LEGEND)
    say_wrapped("If singing hurts or strains, stop; a teacher or doctor can help.")


def _row(key: "SungKey", with_range: bool) -> list[str]:
    beaten = "–" if key.beaten_by is None else key_words(key.beaten_by)
    return [
        key_words(key.key),
        f"{key.semitones:+d}",
        key.sung.printed() if with_range else "–",
        "too far" if key.load is None else f"{key.load:.2f}",
        f"{key.margin_below:+d}" if with_range else "–",
        f"{key.margin_above:+d}" if with_range else "–",
        key.best.option.brief,
        key_words(key.best.shape_keys[0]),
        f"{key.best.score:.2f}",
        "" if key.load is None else beaten,
    ]


def key_json(key: "SungKey") -> dict[str, object]:
    """One key as data."""
    return {
        "key": str(key.key),
        "semitones": key.semitones,
        "sung": str(key.sung),
        "load": key.load,
        "margin_below": key.margin_below,
        "margin_above": key.margin_above,
        "off_middle": key.off_middle,
        "unbeaten": key.unbeaten,
        "beaten_by": None if key.beaten_by is None else str(key.beaten_by),
        "capo": key.best.option.fret,
        "tuned_down": key.best.option.tuned_down,
        "shape_key": str(key.best.shape_keys[0]),
        "score": key.best.score,
    }
