"""The adviser's answers as tables on the terminal."""

from itertools import pairwise
from typing import TYPE_CHECKING

from chartkit.advise.cautions import IF_IT_HURTS, TUNED_DOWN
from chartkit.cli.columns import in_columns, say_wrapped
from chartkit.cli.streams import show
from chartkit.fretboard.grip_library import tuning_note
from chartkit.theory.chord_parts import letter_name
from chartkit.theory.naming import key_words

if TYPE_CHECKING:
    from chartkit.advise.beside import BesideOption, GuitarPositions
    from chartkit.advise.difficulty import Difficulty
    from chartkit.advise.part.propose import PartProposal
    from chartkit.advise.ranked import RankedOption
    from chartkit.advise.ranking import Advice
    from chartkit.advise.substitutions import Substitution

_SHOWN = 6
"""How many options a table shows; the one without a capo is always among them, and the first short
capo if any were asked for."""


def _option_row(rank: str, option: "RankedOption") -> list[str]:
    m = option.measures
    strings = len(option.voicings[0].frets) if option.voicings[0] is not None else 6
    return [
        rank,
        option.option.brief,
        key_words(option.shape_keys[0]),
        f"{m.open_share:.0%}",
        f"{m.ring * strings:.1f}",
        f"{m.kept * strings:.1f}",
        f"{m.barres:.0%}",
        f"{m.effort:.1f}",
        f"{option.price:.2f}",
        f"{option.score:.2f}",
        _shapes(option),
    ]


_HEAD = [
    "",
    "capo",
    "shapes",
    "open",
    "ringing",
    "ring on",
    "barres",
    "effort",
    "price",
    "overall",
    "played as",
]
_LEGEND = (
    "overall: the score of the shapes minus the price; the highest is best. If two places up to "
    "fret {fret} are within {within} of each other, the one with fewer barres comes first. Compare "
    "it only within one song. price: what the capo or the lower tuning costs; more in songs on "
    "closed grips, and for shapes that players rarely choose with a capo. Silent strings, "
    "unusual shapes, fingers that stay, the movement of the hand and an open home chord count too. "
    "open, barres: share of time on open shapes, on barres over three strings or more; ringing: "
    "open strings sounding on average; ring on: open strings that go on sounding across a change; "
    "effort: of the fretting hand, lower is better."
)


_LEFT_OUT = "…: places in between are left out; --all lists them."
_NO_CAPO = "A {instrument} is rarely played with a capo; --highest 7 ranks places with one."
_SHORT_CAPOS = (
    "(5-3) and the like: a short capo over those strings; the others sound from the nut, and no "
    "string is fretted behind it."
)


def _shapes(option: "RankedOption") -> str:
    names = [
        f"{letter_name(use.shape).plain()} {use.voicing if use.voicing is not None else '?'}"
        for use in sorted(option.shapes, key=lambda use: -use.share)
    ]
    shown = ", ".join(dict.fromkeys(names[:5]))
    return shown + (f" … ({len(names)})" if len(names) > 5 else "")


def _shown_options(advice: "Advice", every: bool) -> "list[tuple[int, RankedOption]]":
    ranked = list(enumerate(advice.options, 1))
    if every:
        return ranked
    short = next((option for _, option in ranked if option.option.strings), None)
    return [(n, o) for n, o in ranked if n <= _SHOWN or o in (advice.no_capo, short)]


def _with_gaps(rows: list[list[str]]) -> list[list[str]]:
    """The rows, with one of dots where places between two of them are left out."""
    spaced = rows[:2]
    for before, row in pairwise(rows[1:]):
        if int(row[0]) > int(before[0]) + 1:
            spaced.append(["…", *[""] * (len(row) - 1)])
        spaced.append(row)
    return spaced


def print_advice(
    title: str, advice: "Advice", place: str, every: bool, offers: "tuple[Substitution, ...]"
) -> None:
    """Prints the options in a table, the reasons, the verdict, and substitutions to try."""
    from chartkit.advise.ranking import BARRES_COUNT_UP_TO, FEWER_BARRES_WITHIN

    shown = _shown_options(advice, every)
    keys = ", ".join(key_words(key) for key in advice.song.keys)
    show(f"{title}, sounding in {keys}; {advice.instrument.name}, {place}\n")
    rows = [_HEAD, *(_option_row(str(n), option) for n, option in shown)]
    for line in in_columns(_with_gaps(rows), frozenset({0, 3, 4, 5, 6, 7, 8, 9})):
        show(line)
    show("")
    say_wrapped(_LEGEND.format(within=FEWER_BARRES_WITHIN, fret=BARRES_COUNT_UP_TO))
    if shown[-1][0] > len(shown):
        say_wrapped(_LEFT_OUT)
    if any(option.option.strings for _, option in shown):
        say_wrapped(_SHORT_CAPOS)
    if not (advice.instrument.has_capo or any(placed.option.fret for placed in advice.options)):
        say_wrapped(_NO_CAPO.format(instrument=advice.instrument.name))
    note = tuning_note(advice.instrument)
    if note:
        say_wrapped(note)
    show("")
    said = [(n, o) for n, o in shown if o.reason not in advice.verdict]
    for n, option in said:
        say_wrapped(f"{n:2d}  {option.reason}", "    ")
    show("")
    say_wrapped(advice.verdict)
    for offer in offers:
        say_wrapped(f"Worth a try: {offer.text}")
    if advice.difficulty is not None:
        say_wrapped(_difficulty(advice.difficulty, advice.knows is None))
    _caution(any(option.option.tuned_down for _, option in shown))


def _caution(tuned_down: bool) -> None:
    if tuned_down:
        say_wrapped(TUNED_DOWN)
    say_wrapped(IF_IT_HURTS)


def _difficulty(difficulty: "Difficulty", beginner: bool) -> str:
    from chartkit.advise.difficulty import DIFFICULTY_SCALE

    rate = f"{difficulty.changes_per_beat:.2f} changes a beat"
    if difficulty.changes_per_minute is not None:
        rate = f"{difficulty.changes_per_minute:.0f} changes a minute"
    shapes, unknown = difficulty.distinct_shapes, difficulty.unknown_shapes
    known = "a beginner's twenty" if beginner else "those the player knows"
    beyond = f" ({unknown} beyond {known})" if unknown else ""
    practise = ", ".join(
        f"{letter_name(exercise.shape).plain()}"
        f"{'' if exercise.voicing is None else f' {exercise.voicing}'} ({exercise.why})"
        for exercise in difficulty.practise
    )
    return (
        f"Difficulty {difficulty.index:.1f} ({DIFFICULTY_SCALE}): "
        f"{shapes} different shape{'s' if shapes > 1 else ''}{beyond}, "
        f"{difficulty.kinds} kind{'s' if difficulty.kinds > 1 else ''} of chord, {rate}."
        + (f" To practise first: {practise}." if practise else "")
    )


def print_beside(
    title: str,
    second: "tuple[BesideOption, ...]",
    parts: "tuple[PartProposal, ...]",
    with_voice: bool,
    every: bool,
) -> None:
    """Prints the options of a second guitar, its best part of few strings before full chords."""
    show(f"{title}: a second guitar beside the first\n")
    listed = second if every else second[:_SHOWN]
    part = parts[0] if parts and part_room(parts[0]) > second[0].complement else None
    rows = [_BESIDE_HEAD]
    rows += [] if part is None else [_part_row(part, with_voice)]
    rows += (_beside_row(n, option, with_voice) for n, option in enumerate(listed, 1))
    for line in in_columns(rows, frozenset({0, 3, 4, 5, 6, 7, 8})):
        show(line)
    show("")
    if part is not None:
        say_wrapped(
            f" *  A part of its own, {part.place}: {part.measures.overlap:.0%} of it lies where "
            f"the first guitar plays, against {second[0].comparison.overlap:.0%} of the best full "
            "chords. chartkit part writes it.",
            "    ",
        )
    for n, option in enumerate(listed, 1):
        say_wrapped(f"{n:2d}  {option.reason}", "    ")
    show("")
    say_wrapped(_BESIDE_LEGEND)
    if not with_voice:
        say_wrapped(
            "The chart names no range, so the voice was left out: add a row like range: Ab3-F5."
        )
    _caution(any(option.played.option.tuned_down for option in listed))


_BESIDE_HEAD = ["", "capo", "shapes", "room", "overlap", "unisons", "voice", "above", "open", ""]
_BESIDE_LEGEND = (
    "room: the share of the register that the second guitar has to itself, 1 is all of it; this "
    "decides, minus a price for the capo and for hard shapes. overlap: the share that both fill; "
    "unisons: its notes that the first guitar plays too; voice: how much of the singer's range it "
    "fills; above: half steps from the first guitar's middle up to its own; open: share of time on "
    "open shapes."
)


def _beside_row(number: int, option: "BesideOption", with_voice: bool) -> list[str]:
    return [
        str(number),
        option.played.option.brief,
        f"{key_words(option.played.shape_keys[0])} shapes",
        f"{option.complement:.2f}",
        f"{option.comparison.overlap:.2f}",
        f"{option.comparison.unisons:.2f}",
        f"{option.voice:.2f}" if with_voice else "–",
        f"{option.comparison.half_steps_above:+.1f}",
        f"{option.played.measures.open_share:.0%}",
        "" if option.playable else "hard to play",
    ]


def part_room(part: "PartProposal") -> float:
    """How well a part of few strings complements the first guitar and the voice, on the scale that
    full chords have (``ComplementWeights.complement``)."""
    from chartkit.advise.beside import ComplementWeights

    m = part.measures
    return ComplementWeights().complement(m.overlap, m.unisons, m.voice)


def _part_row(part: "PartProposal", with_voice: bool) -> list[str]:
    m = part.measures
    return [
        "*",
        "no capo",
        "part of its own",
        f"{part_room(part):.2f}",
        f"{m.overlap:.2f}",
        f"{m.unisons:.2f}",
        f"{m.voice:.2f}" if with_voice else "–",
        f"{m.half_steps_above:+.1f}",
        "–",
        "",
    ]


def print_spread(title: str, spread: "tuple[GuitarPositions, ...]") -> None:
    """Prints positions for several guitars."""
    show(f"{title}: guitars spread over the neck\n")
    if not spread:
        show("There are not that many positions that play well.")
    for n, positions in enumerate(spread[:_SHOWN], 1):
        places = " + ".join(
            f"{option.option} ({key_words(option.shape_keys[0])} shapes)"
            for option in positions.guitars
        )
        say_wrapped(f"{n}  {places}; {positions.apart:.2f} apart", "   ")
    if spread:
        show("")
        say_wrapped(
            "apart: how far their registers keep clear of one another, 1 is completely; places "
            "that are hard to play rank lower."
        )
