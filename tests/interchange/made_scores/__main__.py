"""Reads made-up lead sheets and prints the shares by class of fault.

python -m tests.interchange.made_scores SEED COUNT    prints the shares, and each fault
... --show NUMBER                                     prints one score and its chart
"""

import sys
from collections import Counter
from dataclasses import replace
from random import Random

from chartkit.interchange.intake_result import IntakeResult
from chartkit.syntax.write import chart_text
from tests.interchange.made_scores.compose import song_of
from tests.interchange.made_scores.song import Song
from tests.interchange.made_scores.style import Style, style_of
from tests.interchange.made_scores.truth import faults
from tests.interchange.made_scores.write_score import score_bytes
from tests.interchange.reading import taken

_LOST = ("words", "verses", "words moved", "word bounds")
_FORM = ("repeat", "ending", "mark", "jump", "times")
SHARES: dict[str, tuple[str, ...]] = {
    "read": ("refused",),
    "every chord right and at its place": ("refused", "chord", "chords", "place", "bars"),
    "no syllable lost or moved": ("refused", *_LOST),
    "repeats, endings, jumps": ("refused", *_FORM),
    "key and mode": ("refused", "key"),
    "rows begin with phrases": ("refused", "row", "row begins in a phrase", "upbeat"),
    "nothing lost in silence": ("refused", "lost", "fermata"),
}
"""What is asked of a score, and the classes of fault that speak against it."""


def made(seed: str) -> tuple[Song, Style, bytes]:
    """A song, its style and its file; the same seed gives the same ones."""
    chance = Random(seed)
    song = song_of(chance)
    style = style_of(song, chance)
    return song, style, score_bytes(song, style)


def faults_of(seed: str) -> list[str]:
    """The faults of a score as it is read today."""
    song, style, data = made(seed)
    try:
        result: IntakeResult = taken(data)
    except Exception as reason:
        return [f"refused: {type(reason).__name__} {str(reason)[:100]}"]
    return list(faults(song, style, result))


def main(seed: str, count: int) -> None:
    """Prints each fault, then the shares."""
    classes: Counter[str] = Counter()
    kept = dict.fromkeys(SHARES, 0)
    right = 0
    for number in range(count):
        wrong = faults_of(f"{seed}:{number}")
        kinds = {one.partition(":")[0] for one in wrong}
        classes.update(kinds)
        right += not wrong
        for name, against in SHARES.items():
            kept[name] += not kinds & set(against)
        for one in wrong[:3]:
            print(f"{seed}:{number}: {one}")
    print(f"{count} scores, {right} wholly right ({right / count:.1%})")
    for name, share in kept.items():
        print(f"  {name}: {share} ({share / count:.1%})")
    print(f"  scores with a fault, by class: {dict(classes.most_common())}")


def show(seed: str) -> None:
    """Prints a score, its style, its chart and its faults."""
    song, style, data = made(seed)
    if "--xml" in sys.argv:
        plain = score_bytes(song, replace(style, packed="", encoding="utf-8"))
        print(plain.decode().replace("<note", "\n<note").replace("<harmony", "\n<harmony"))
    print(style)
    result = taken(data)
    print(chart_text(result.chart))
    for finding in result.findings:
        print(finding.certainty, finding.code, finding.place, finding.message)
    for one in faults(song, style, result):
        print("-", one)


if __name__ == "__main__":
    if "--show" in sys.argv:
        show(f"{sys.argv[1]}:{sys.argv[sys.argv.index('--show') + 1]}")
    else:
        main(sys.argv[1], int(sys.argv[2]))
