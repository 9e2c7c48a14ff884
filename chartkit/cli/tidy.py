"""``chartkit tidy``: charts rewritten in canonical columns."""

from pathlib import Path
from typing import Annotated

from chartkit.cli.command import option
from chartkit.cli.options import Files
from chartkit.cli.reporting import Outcome, say
from chartkit.cli.streams import write_out
from chartkit.files import STANDARD_INPUT, write_whole
from chartkit.syntax.write import chart_text

CheckOnly = Annotated[
    bool, option("--check", help="Only reports which charts are not tidy; changes nothing.")
]


def tidy(files: Files, check: CheckOnly = False) -> None:
    """Rewrites charts with bars and words lined up in columns.

    Music and comments stay; chord names get their canonical spelling. A chart with mistakes
    stays as it is. Standard input goes to standard output.
    """
    outcome = Outcome()
    for source, chart in outcome.charts(files, need_key=False):
        text = chart_text(chart)
        from_input = source.name == "standard input" and STANDARD_INPUT in files
        if check:
            if text != source.text:
                say(f"{source.name}: not tidy; chartkit tidy {source.name} lines it up")
                outcome.failed = True
        elif from_input:
            write_out(text)
        elif text != source.text:
            with outcome.guarded():
                write_whole(Path(source.name), text.encode())
                say(f"{source.name}: tidied")
    outcome.finish()
