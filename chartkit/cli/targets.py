"""Where a command writes the file it makes of each chart."""

import os
from pathlib import Path

from chartkit.cli.reporting import wrong_usage
from chartkit.files import STANDARD_INPUT, place_of


def source_name(name: str) -> str:
    """The name of a chart in messages."""
    return "standard input" if name == STANDARD_INPUT else name


def chart_places(files: list[str]) -> dict[object, str]:
    """The places of the charts themselves, which must not be overwritten."""
    return {place_of(name): name for name in files if name != STANDARD_INPUT}


def targets(
    files: list[str], output: str | None, suffix: str, what: str, one_by_one: str
) -> dict[str, Path | None]:
    """Where each chart's file goes, by the chart's name in messages; None is standard output.

    ``suffix`` ends the files' names, ``what`` is what they are called ("a PDF"), and
    ``one_by_one`` what to do where two would get one name.  Ends the run where the call makes
    no sense.
    """
    if output == STANDARD_INPUT:
        if len(files) > 1:
            raise wrong_usage("--output: - takes one chart only", "several need a folder: -o out/")
        return {source_name(files[0]): None}
    places: dict[str, Path | None] = {}
    charts = chart_places(files)
    folder = output is not None and (output.endswith("/") or os.path.isdir(output))  # noqa: PTH112
    if len(files) > 1 and output is not None and not folder:
        if os.path.lexists(output):
            raise wrong_usage(
                f"--output: {output} is not a folder", "several charts need one: -o out/"
            )
        raise wrong_usage(
            f"--output: there is no folder {output}, and several charts need one",
            f"end it with / and it is made: -o {output}/",
        )
    used: dict[Path, str] = {}
    for name in files:
        target = _target(name, output, folder, suffix)
        if target in used and used[target] != name:
            raise wrong_usage(f"{used[target]} and {name} would both become {target}", one_by_one)
        if (chart := charts.get(place_of(target))) is not None:
            made_from = "the chart it is made from" if chart == name else f"the chart {chart}"
            raise wrong_usage(
                f"{target} would overwrite {made_from}",
                f"name {what}: -o {target if target.suffix == suffix else f'song{suffix}'}",
            )
        used[target] = name
        places[source_name(name)] = target
    return places


def _target(name: str, output: str | None, folder: bool, suffix: str) -> Path:
    given = Path("chart" if name == STANDARD_INPUT else name)
    stem = given.with_suffix(suffix) if given.name else Path(f"chart{suffix}")
    if output is None:
        return stem
    return Path(output) / stem.name if folder else Path(output)
