"""A progress bar with the time left, on terminals only."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TextIO


@contextmanager
def progress_bar(stream: TextIO) -> Iterator[Callable[[str, int, int], None]]:
    """A function that takes a label, how many pieces are done and how many there are, 0 where
    nobody knows.  It is silent without a terminal."""
    if not stream.isatty():
        yield lambda doing, done, total: None
        return
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    columns = (
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeRemainingColumn(),
    )
    with Progress(*columns, console=Console(file=stream), transient=True) as bar:
        task = bar.add_task("", total=None)
        yield lambda doing, done, total: bar.update(
            task, description=doing, completed=done, total=total or None
        )
