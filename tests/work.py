"""How much work a call is, counted and not timed."""

import sys
from collections.abc import Callable
from types import FrameType


def steps(work: Callable[[], object]) -> int:
    """The lines of Python that a call goes through, each turn of a loop again; the same number at
    every run, whatever else the machine does.  It is called once before, to fill what is kept."""
    work()
    count = 0

    def trace(_frame: FrameType, _event: str, _given: object) -> object:
        nonlocal count
        count += 1
        return trace

    before = sys.gettrace()
    sys.settrace(trace)  # type: ignore[arg-type]
    try:
        work()
    finally:
        sys.settrace(before)
    return count
