"""A chart as JSON, checked by pydantic at the border."""

from functools import cache
from typing import Any

from pydantic import TypeAdapter

from chartkit.chart.model import Chart


@cache
def _adapter() -> TypeAdapter[Chart]:
    return TypeAdapter(Chart)


def chart_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a chart."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A chart",
        **_adapter().json_schema(mode="serialization"),
    }


def chart_json(chart: Chart) -> Any:
    """The chart as plain values, in the form of ``chart_schema``."""
    return _adapter().dump_python(chart, mode="json")
