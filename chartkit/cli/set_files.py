"""A set file and its charts, read and written for the commands that work on a whole set."""

from collections.abc import Callable
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import TYPE_CHECKING

import click

from chartkit.cli.reporting import end_with, say, say_unusable, wrong_usage
from chartkit.cli.set_workshop import workshop_for
from chartkit.diagnostics import Diagnostic, Source, diagnostic_text
from chartkit.files import STANDARD_INPUT, Unusable, read_source, write_whole

if TYPE_CHECKING:
    from chartkit.book.night import ChartText
    from chartkit.book.set_list import SetList


def open_set(path: Path, without: list[str] | None = None) -> "tuple[SetList, Source]":
    """Reads a set file.  Its mistakes are shown and end the run.

    It is played ``without`` some players tonight; what others play instead is said.
    """
    from chartkit.book.set_file import read_set
    from chartkit.book.tonights_band import UnknownPlayer

    if path.suffix == ".chart":
        raise wrong_usage(
            f"SET: {path} is a chart, not a set file", "a set file names charts, in TOML"
        )
    try:
        source = read_source(str(path))
    except Unusable as reason:
        say_unusable(reason)
        raise click.exceptions.Exit(1) from None
    try:
        reading = read_set(source, path.parent, without or [])
    except UnknownPlayer as reason:
        end_with((f"--without: {one}", one.hint) for one in (reason, *reason.others))
    for sentence in reading.said:
        say(sentence)
    if reading.set_list is not None:
        return reading.set_list, source
    wrong = () if reading.named is None else _chart_messages(reading.named, source)
    for diagnostic in sorted(
        (*reading.diagnostics, *wrong), key=lambda mistake: mistake.span.start
    ):
        say(diagnostic_text(diagnostic, source))
    raise click.exceptions.Exit(1)


def _chart_messages(named: "SetList", source: Source) -> tuple[Diagnostic, ...]:
    """Charts that cannot be read and sat-out songs that are not in the set, for a set file with
    mistakes; mistakes in charts are left out."""
    from chartkit.book.night import read_night, unread_charts

    texts = chart_texts(named)
    unread = unread_charts(texts, named)
    if unread or not any(player.sits_out for player in named.players):
        return unread
    with workshop_for(1, 0, no_cache=True) as workshop:
        return read_night(named, source, texts, workshop, with_plan=False).wrong


def chart_texts(set_list: "SetList") -> "list[ChartText]":
    """The text of each song's chart, or why it cannot be read."""
    from chartkit.book.night import ChartText

    texts = []
    for song in set_list.songs:
        try:
            texts.append(ChartText(_chart_text(song.chart)))
        except Unusable as reason:
            texts.append(ChartText(None, str(reason), reason.hint))
    return texts


def _chart_text(path: Path) -> str:
    """The text of a chart.  It must be a file, since a pipe may never end.  Raises Unusable."""
    try:
        mode = path.stat().st_mode
        if not (S_ISREG(mode) or S_ISDIR(mode)):
            raise Unusable(f"{path}: cannot be read: it is not a file")
    except (OSError, ValueError):
        pass  # opening it reports the reason
    name = str(path)
    return read_source(f"./{name}" if name == STANDARD_INPUT else name).text


def write_set_file(path: Path, before: str, edited: Callable[[], str], what: str) -> None:
    """Writes the edited text of a set file and says ``what`` is in it now.

    Ends the run if its layout cannot be edited in place, or the file cannot be written.
    """
    from chartkit.book.write_set import NotWritable

    try:
        text = edited()
        if text == before:
            say(f"{path}: unchanged")
            return
        write_whole(path, text.encode())
    except NotWritable as reason:
        say(f"{path}: not written: {reason}")
        raise click.exceptions.Exit(1) from None
    except Unusable as reason:
        say_unusable(reason)
        raise click.exceptions.Exit(1) from None
    say(f"{path}: written, with {what}")
