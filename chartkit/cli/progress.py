"""A progress bar with the time left, where somebody is looking."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TextIO


@contextmanager
def progress_bar(stream: TextIO) -> Iterator[Callable[[int, int], None]]:
    """Something to tell how many pieces are done of how many; silent where nobody watches."""
    if not stream.isatty():
        yield lambda done, total: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TimeRemainingColumn

    columns = (BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(file=stream), transient=True) as bar:
        task = bar.add_task("", total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)
