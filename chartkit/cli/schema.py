"""``chartkit schema``: the JSON Schema of a chart."""

import json

import click


def schema() -> None:
    """Prints the JSON Schema of a chart."""
    from chartkit.interchange.chart_json import chart_schema

    click.echo(json.dumps(chart_schema(), indent=2, ensure_ascii=True))
