"""``chartkit plan``: every guitarist's capo over the whole night."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import click

from chartkit.cli.command import option
from chartkit.cli.options import Replace, sheet_option
from chartkit.cli.reporting import say, say_unusable, wrong_usage
from chartkit.cli.set_files import chart_texts, open_set, write_set_file
from chartkit.cli.set_options import (
    Cluster,
    Jobs,
    NoCache,
    RunningOrder,
    SetFile,
    SetKey,
    Shift,
    Without,
)
from chartkit.cli.set_tonight import ChangesTonight, read_tonight
from chartkit.cli.set_workshop import workshop_for
from chartkit.cli.streams import show
from chartkit.diagnostics import Source
from chartkit.files import Unusable, write_result

if TYPE_CHECKING:
    from chartkit.book.night import Night
    from chartkit.book.night_plan import NightPlan
    from chartkit.book.set_list import SetList
    from chartkit.book.workshop import Workshop

Order = Literal["set", "free"]
"""The order of the songs: the set file's, or a free one."""

OrderOption = Annotated[
    Order,
    option(
        "--order",
        help="The set file's order, or a free one in which songs lie best and changes take "
        "least time: the first and the last song stay, and neighbours differ in key and tempo.",
    ),
]
Sheet = Annotated[Path | None, sheet_option("Also draws the plan on a page.")]

Write = Annotated[
    bool,
    option(
        "--write",
        help="Writes the order, tonight's keys and the capos into the set file; its comments stay.",
    ),
]


def plan(
    set_file: SetFile,
    order: OrderOption = "set",
    sheet: Sheet = None,
    write: Write = False,
    set_key: SetKey = None,
    shift: Shift = None,
    running_order: RunningOrder = None,
    without: Without = None,
    jobs: Jobs = None,
    cluster: Cluster = None,
    no_cache: NoCache = False,
    replace_file: Replace = False,
) -> None:
    """Plans every guitarist's capo over a whole set.

    Weighs how well each song lies under each capo against the time that moving capos,
    retuning and changing guitars takes, and finds the best plan. Capos given in the
    set file are kept. With --write, order, keys and capos go into the set file.
    """
    from chartkit.book.plan_sheet import plan_sheet

    if running_order and (write or order == "free"):
        raise _only_tonight("--running-order", "--write" if write else "--order free")
    if without and write:
        raise _only_tonight("--without", "--write")
    set_list, source = _set_with_guitarists(set_file, without)
    texts = chart_texts(set_list)
    changes = ChangesTonight(set_key, shift, running_order)
    with workshop_for(jobs, len(texts), no_cache=no_cache, cluster=cluster) as workshop:
        night = read_tonight(set_list, source, texts, workshop, changes, with_plan=True)
        planned = _planned(night, order, workshop)
    _show(night, planned, order)
    if sheet is not None:
        _write_sheet(sheet, plan_sheet(night, planned), replace_file)
    if write:
        _write_set(set_file, source, set_list, night, planned)
    if night.failed:
        raise click.exceptions.Exit(1)


_STAYS = (
    "The order stays as it is. In each other one that was tried, songs lie worse, changes take "
    "longer, or songs in the same key or at nearly the same tempo follow each other."
)


def _show(night: "Night", plan: "NightPlan", asked: Order) -> None:
    """Says what there is to say of the songs, prints the plan, and explains a free order that is
    the file's."""
    from chartkit.book.plan_text import plan_lines, reordered_lines

    for message in (*night.messages, *reordered_lines(night, plan)):
        say(message)
    for line in plan_lines(night, plan):
        show(line)
    if asked == "free" and plan.order == tuple(range(len(plan.order))):
        say(_STAYS)


def _planned(night: "Night", order: Order, workshop: "Workshop") -> "NightPlan":
    """The plan; ends the run where the set is too long for a free order."""
    from chartkit.book.night import planned_night

    try:
        return planned_night(night, order == "free", workshop.progress)
    except ValueError as reason:
        raise wrong_usage(str(reason)) from None


def _only_tonight(one: str, other: str) -> click.exceptions.Exit:
    """What is wrong with another option beside one for tonight; raise the result."""
    return wrong_usage(f"{one} is for tonight alone and cannot be joined with {other}", "take one")


def _set_with_guitarists(path: Path, without: list[str] | None) -> "tuple[SetList, Source]":
    """The set, if there is somebody to plan for."""
    set_list, source = open_set(path, without)
    if not any(player.guitars for player in set_list.players):
        raise wrong_usage(
            "nobody in this set reads shapes, so there is nothing to plan",
            'a guitarist is a player with reads = "both", or "shapes"',
        )
    return set_list, source


def _write_set(
    path: Path, source: Source, written: "SetList", night: "Night", plan: "NightPlan"
) -> None:
    """Puts the plan into the set file, or says why not."""
    from chartkit.book.write_set import planned_text

    if night.failed:
        say(f"{path}: not written, since songs have mistakes")
        return
    write_set_file(
        path,
        source.text,
        lambda: planned_text(source, path.parent, written, night, plan),
        "the order, keys and capos of this plan",
    )


def _write_sheet(path: Path, content: bytes, replace_file: bool) -> None:
    try:
        write_result(path, content, replace_file)
    except Unusable as reason:
        say_unusable(reason)
        raise click.exceptions.Exit(1) from None
