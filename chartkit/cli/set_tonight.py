"""A set as it is played tonight: songs moved, left out or in another order."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

from chartkit.cli.reporting import end_with, say
from chartkit.cli.set_options import SongMove
from chartkit.diagnostics import Source

if TYPE_CHECKING:
    from chartkit.book.night import ChartText, Night
    from chartkit.book.set_list import SetList
    from chartkit.book.workshop import Workshop


@dataclass(frozen=True, slots=True)
class ChangesTonight:
    """What is other than in the set file tonight: songs in other ``keys``, songs moved by half
    steps (``shifts``), and the songs that are played, in their ``order``; None for all of them as
    the file has them."""

    keys: list[SongMove] | None = None
    shifts: list[SongMove] | None = None
    order: tuple[str, ...] | None = None


NO_CHANGES_TONIGHT = ChangesTonight()


def read_tonight(
    set_list: "SetList",
    source: Source,
    texts: "list[ChartText]",
    workshop: "Workshop",
    changes: ChangesTonight = NO_CHANGES_TONIGHT,
    *,
    with_plan: bool | None = None,
) -> "Night":
    """The set as it is played tonight, read; ``with_plan`` plans its capos, None where the set has
    any to plan.

    Ends the run when a song that is moved, ordered or sat out is not in it.
    """
    from chartkit.book.night import moved_night, order_of, read_night

    with_plan = set_list.is_planned if with_plan is None else with_plan
    night = before = read_night(set_list, source, texts, workshop, with_plan=with_plan)
    wrong = list[tuple[str, str]]()
    wanted = _by_song("--set-key", changes.keys or [], night, wrong)
    by_steps = _by_song("--shift", changes.shifts or [], night, wrong)
    steps = {number: int(value) for number, value in by_steps.items()}
    _check_keys(wanted, night, wrong)
    numbers, unknown = order_of(night, changes.order or ())
    wrong += ((f"--running-order: {reason}", reason.hint) for reason in unknown)
    if wrong:
        end_with(wrong)
    if wanted or steps:
        night = moved_night(night, source, wanted, steps, workshop, with_plan=with_plan)
    if night.wrong:
        for message in night.messages:
            say(message)
        raise click.exceptions.Exit(1)
    if changes.order is None:
        return night
    return _in_order(night, numbers, before if with_plan else None, {*wanted, *steps})


def _in_order(
    night: "Night", numbers: tuple[int, ...], before: "Night | None", moved: set[int]
) -> "Night":
    """The night in tonight's running order, planned as ``before`` any song was moved, where capos
    are planned at all."""
    from chartkit.book.night import in_running_order, left_out_lines, planned_in_order

    if before is not None:
        ordered = planned_in_order(night, numbers, before, moved)
    else:
        ordered = in_running_order(night, numbers)
    for message in left_out_lines(night, numbers):
        say(message)
    return ordered


def _by_song(
    option: str, moves: list[SongMove], known: "Night", wrong: list[tuple[str, str]]
) -> dict[int, str]:
    """The value an option gives for each song, by the song's number from 0; adds what is wrong."""
    from chartkit.book.night import UnknownSong, song_number

    values = dict[int, str]()
    for name, value in moves:
        try:
            number = song_number(name, known.facts, known.set_list)
        except UnknownSong as reason:
            wrong.append((f"{option}: {reason}", reason.hint))
            continue
        if number in values:
            title = known.facts[number].title
            wrong.append((f"{option}: song {number + 1}, {title}, is moved twice", ""))
        values[number] = value
    return values


def _check_keys(keys: dict[int, str], known: "Night", wrong: list[tuple[str, str]]) -> None:
    """Adds what is wrong with keys that songs cannot be moved to."""
    from chartkit.arrange.view import target_key

    for number, text in keys.items():
        key, title = known.facts[number].key, known.facts[number].title
        try:
            target_key(text, key) if key is not None else None
        except ValueError as reason:
            wrong.append((f"--set-key: {title}: {reason}", ""))
