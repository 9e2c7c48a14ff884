"""How much work a call is, counted and not timed."""

import sys
from collections.abc import Callable
from types import FrameType


def steps(work: Callable[[], object]) -> int:
    """The number of the interpreter's instructions that a call goes through; the same at every
    run, whatever else the machine does.  It is called once before, to fill what is kept."""
    work()
    count = 0

    def trace(frame: FrameType, event: str, _: object) -> object:
        nonlocal count
        if event == "call":
            frame.f_trace_opcodes, frame.f_trace_lines = True, False
        count += event == "opcode"
        return trace

    before = sys.gettrace()
    sys.settrace(trace)  # type: ignore[arg-type]
    try:
        work()
    finally:
        sys.settrace(before)
    return count
