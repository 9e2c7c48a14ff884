"""One test over many small cases."""

import functools
import inspect
import os
import traceback
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import pytest

Test = Callable[..., None]
SHOWN = 80
"""Letters of a case's name in a report."""
ONLY = "CHARTKIT_CASE"
"""Words in the names of the cases to run, where somebody looks into a few."""


def each(
    names: str | Sequence[str],
    cases: Iterable[Any],
    ids: Callable[[Any], object] | Sequence[str] | None = None,
) -> Callable[[Test], Test]:
    """Runs a test for every case, as ``pytest.mark.parametrize`` does, but as one: pytest takes
    about 4 ms of processor time for a test, more than most of these cases need.

    Every case runs, whatever fails before it.  The report names each case that failed, its line
    and its reason; the first failure's own report stands above.  Fixtures are made once for all
    cases, so a case must leave nothing behind that another can find.  ``CHARTKIT_CASE=WORDS`` runs
    only cases with the words in their name.
    """
    fields = [one.strip() for one in names.split(",")] if isinstance(names, str) else list(names)
    rows = [tuple(case) if len(fields) > 1 else (case,) for case in cases]
    assert rows, "a test without cases claims nothing"
    assert all(len(row) == len(fields) for row in rows), fields

    named = [(_name(at, row, ids), row) for at, row in enumerate(rows)]
    only = os.environ.get(ONLY, "")

    def over_all(test: Test) -> Test:
        @functools.wraps(test)
        def run(**fixtures: Any) -> None:
            faults: list[tuple[str, BaseException]] = []
            for name, row in named:
                if only not in name:
                    continue
                try:
                    test(**fixtures, **dict(zip(fields, row, strict=True)))
                except (Exception, pytest.fail.Exception) as fault:
                    faults.append((name, fault))
            if faults:
                listed = "\n".join(f"{name}: {_reason(fault, place)}" for name, fault in faults)
                text = f"{len(faults)} of {len(rows)} cases fail\n{listed}"
                raise AssertionError(text) from faults[0][1]

        place = inspect.getsourcefile(inspect.unwrap(test))
        taken = inspect.signature(test).parameters
        assert set(fields) <= set(taken), fields
        kept = [one for name, one in taken.items() if name not in fields]
        run.__signature__ = inspect.Signature(kept)  # type: ignore[attr-defined]
        return run

    return over_all


def _name(at: int, row: tuple[Any, ...], ids: Any) -> str:
    """What a case is called: its id if there is one, else its values."""
    if ids is None:
        name = ", ".join(map(repr, row))
    elif callable(ids):
        name = "-".join(str(ids(value)) for value in row)
    else:
        name = str(ids[at])
    return f"[{name if len(name) <= SHOWN else name[:SHOWN] + '…'}]"


def _reason(fault: BaseException, place: str | None) -> str:
    """A failure in short: the last line of the test's file that it went through, its kind, its
    words."""
    frames = traceback.extract_tb(fault.__traceback__)
    lines = [f"line {one.lineno}, " for one in frames if one.filename == place]
    return f"{''.join(lines[-1:])}{type(fault).__name__}: {fault}"
