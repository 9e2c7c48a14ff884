"""``chartkit book``: a whole set, a book for every player."""

import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

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
from chartkit.cli.streams import BROKEN_OFF
from chartkit.cli.telling import say, wrong_usage

if TYPE_CHECKING:
    from chartkit.book.books import BookOptions, MadeNight

Folder = Annotated[
    Path,
    typer.Option(
        "--output", "-o", metavar="FOLDER", show_default=False,
        help="Where the books go; the folder is made if need be.",
    ),
]  # fmt: skip
PerSong = Annotated[
    bool, typer.Option("--per-song", help="Also a PDF of each song, in a folder for each player.")
]
LeaveOut = Annotated[
    bool,
    typer.Option(
        "--leave-out-broken",
        help="Leaves out songs whose charts have mistakes, instead of marking their place.",
    ),
]


def book(
    set_file: SetFile,
    output: Folder,
    per_song: PerSong = False,
    leave_out_broken: LeaveOut = False,
    set_key: SetKey = None,
    shift: Shift = None,
    jobs: Jobs = None,
    no_cache: NoCache = False,
) -> None:
    """Makes a book for every player of a set, and a set sheet for the stage floor.

    Everybody's pages agree on tonight's keys and show what that player reads. Songs made
    before are taken from the cache. Files are written aside and moved into place at the end.
    """
    from chartkit.book.books import BookOptions, made_night
    from chartkit.book.night import planned_night
    from chartkit.book.workshop import WorkersLost

    if output.exists() and not output.is_dir():
        raise wrong_usage(f"{output} is not a folder")
    started = time.monotonic()
    set_list, source = open_set(set_file)
    texts = chart_texts(set_list)
    planned = set_list.stage.capos == "plan" and any(p.guitars for p in set_list.players)
    try:
        with workshop_for(jobs, len(texts) * len(set_list.players), no_cache) as workshop:
            night = tonight(set_list, source, texts, workshop, set_key or [], shift or [], planned)
            plan = planned_night(night) if planned else None
            made = made_night(night, plan, workshop)
    except WorkersLost as reason:
        say(f"chartkit: {reason}; nothing has been written")
        raise typer.Exit(1) from None
    except KeyboardInterrupt:
        say("chartkit: broken off; nothing has been written")
        raise typer.Exit(BROKEN_OFF) from None
    for message in (*night.messages, *made.messages):
        say(message)
    _write(made, output, BookOptions(per_song, leave_out_broken), started)
    if night.failed or made.failed:
        raise typer.Exit(1)


def _write(made: "MadeNight", output: Path, options: "BookOptions", started: float) -> None:
    """Writes every file aside, then moves them all into place."""
    from chartkit.book.books import files
    from chartkit.book.staging import Staging

    try:
        with Staging(output) as staging:
            for name, content in files(made, options):
                staging.add(name, content)
            staging.commit()
    except OSError as reason:
        words = (reason.strerror or "unknown reason").lower()
        say(f"chartkit: {output}: cannot be written: {words}")
        raise typer.Exit(1) from None
    for path in staging.changed:
        say(f"{path}")
    broken = sum(one.broken for one in made.night.facts)
    told = f"{len(staging.changed)} files written, {len(staging.unchanged)} as they were"
    if broken:
        told += f"; {broken} of {len(made.order)} songs have mistakes"
    say(f"{told}; {time.monotonic() - started:.1f} s")
