"""``chartkit plan``: every guitarist's capo over the whole night."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from chartkit.cli.options import Replace
from chartkit.cli.reporting import say, say_unusable, wrong_usage
from chartkit.cli.set_input import (
    Jobs,
    NoCache,
    SetFile,
    SetKey,
    Shift,
    chart_texts,
    open_set,
    tonight,
    workshop_for,
)
from chartkit.cli.streams import show
from chartkit.files import Unusable, write_result
from chartkit.typed_values import any_of, file_path

Order = Literal["set", "free"]
"""Whose order of the songs: the set file's, or a free one."""

OrderOption = Annotated[
    Order,
    typer.Option(
        "--order",
        metavar=any_of(Order),
        help="The set file's order, or a free one: first and last song stay, neighbours "
        "differ in key and tempo, changes are fewest.",
    ),
]
Sheet = Annotated[
    Path | None,
    typer.Option(
        "--sheet",
        metavar="PDF",
        show_default=False,
        parser=file_path,
        help="Draws the plan on a page as well.",
    ),
]


def plan(
    set_file: SetFile,
    order: OrderOption = "set",
    sheet: Sheet = None,
    set_key: SetKey = None,
    shift: Shift = None,
    jobs: Jobs = None,
    no_cache: NoCache = False,
    replace_file: Replace = False,
) -> None:
    """Plans every guitarist's capo over a whole set.

    Weighs how well each song lies under each capo against the time that moving capos,
    retuning and changing guitars takes, and finds the best plan. Capos given in the
    set file are kept.
    """
    from chartkit.book.night import planned_night
    from chartkit.book.plan_sheet import plan_sheet
    from chartkit.book.plan_text import plan_lines

    set_list, source = open_set(set_file)
    if not any(player.guitars for player in set_list.players):
        raise wrong_usage(
            "nobody in this set reads shapes, so there is nothing to plan",
            'a guitarist is a player with reads = "both", or "shapes"',
        )
    texts = chart_texts(set_list)
    with workshop_for(jobs, len(texts), no_cache) as workshop:
        night = tonight(
            set_list, source, texts, workshop, set_key or [], shift or [], with_plan=True
        )
    for message in night.messages:
        say(message)
    try:
        planned = planned_night(night, order == "free")
    except ValueError as reason:
        raise wrong_usage(str(reason)) from None
    for line in plan_lines(night, planned):
        show(line)
    if sheet is not None:
        _write_sheet(sheet, plan_sheet(night, planned), replace_file)
    if night.failed:
        raise typer.Exit(1)


def _write_sheet(path: Path, content: bytes, replace_file: bool) -> None:
    try:
        write_result(path, content, replace_file)
    except Unusable as reason:
        say_unusable(reason)
        raise typer.Exit(1) from None
