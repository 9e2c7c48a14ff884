"""A chart as JSON, checked by pydantic at the border."""

from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

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


def chart_from_json(data: bytes) -> Chart:
    """The chart that JSON in the form of ``chart_schema`` holds.

    Raises ValueError, in one line, for JSON that does not have that form.
    """
    try:
        return _adapter().validate_json(data)
    except ValidationError as reason:
        first = reason.errors()[0]
        place = ".".join(str(part) for part in first["loc"][:6])
        raise ValueError(f"{place or 'the whole'}: {first['msg'][:80].lower()}") from None
    except RecursionError:
        raise ValueError("it is nested too deep") from None


def chart_json(chart: Chart) -> Any:
    """The chart as plain values, in the form of ``chart_schema``."""
    return _adapter().dump_python(chart, mode="json")
