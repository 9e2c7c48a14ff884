"""What stands at the top of a chart and of a score: creators, language, own shapes, capo."""

import pytest

from chartkit.arrange.rewrite import rewritten
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.interchange.musicxml.write import musicxml_bytes
from tests.charts import chart_of
from tests.interchange.reading import reads_back, taken
from tests.interchange.schema import schema_errors

HEAD = """title: best
writer: words Ada Vale, music Ivo Crane
key: G major
meter: 4/4
tempo: 97
feel: half-time shuffle
range: A3-E5
capo: {capo}
instrument: guitar
language: pt-BR
note: second time quiet
shape: F xx3211
shape: C#m7b5 x-4-5-4-5-x

| G | D |
"""
CREATORS = """<score-partwise><identification>{}</identification><part-list><score-part id="P1">
<part-name>V</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes>
<divisions>1</divisions></attributes><harmony><root><root-step>C</root-step></root><kind>major</kind>
</harmony><note><rest/><duration>4</duration></note></measure></part></score-partwise>"""


def settings(chart: Chart) -> list[str]:
    """The rows at the top, in any order."""
    return sorted(map(str, chart.top))


@pytest.mark.parametrize("capo", ["2", "-1", "best"])
def test_every_setting_comes_back(capo: str) -> None:
    """Nothing at the top of a chart is lost through MusicXML, which stays valid."""
    chart = chart_of(HEAD.format(capo=capo))
    document = musicxml_bytes(chart)
    assert schema_errors(document) == []
    back = taken(document).chart
    reads_back(back)
    assert settings(back) == sorted(str(row) for row in chart.top if hasattr(row, "value"))


def test_the_writer_is_where_other_programs_look() -> None:
    """The writer is a creator of type composer, one of the names that MusicXML recommends."""
    document = musicxml_bytes(chart_of("writer: Ivo Crane\n\n| C |\n"))
    assert b'<creator type="composer">Ivo Crane</creator>' in document


def test_creators_are_told_and_none_is_lost() -> None:
    """Composer and lyricist are the writers and told as such; an arranger becomes a note."""
    named = "".join(
        f'<creator type="{kind}">{name}</creator>'
        for kind, name in (("composer", "Ivo"), ("Lyricist", "Ada"), ("arranger", "Juna"))
    )
    found = taken(CREATORS.format(named))
    assert found.chart.text("writer") == "Ivo, Ada"
    assert found.chart.notes() == ("arranger: Juna",)
    told = [f.message for f in found.findings if f.code in ("writer", "kept-as-note")]
    assert told == [
        "Ivo is a writer (composer)", "Ada is a writer (lyricist)",
        "Juna (arranger) is kept as a note",
    ]  # fmt: skip


def test_the_capo_that_is_asked_for_is_written() -> None:
    """A chart moved to another capo says so, and what sounds stays."""
    chart = chart_of("key: G\ncapo: 2\n\n| G |\n")
    moved = rewritten(chart, View(capo=4), as_shapes=False)
    assert (moved.capo, moved.sections) == (4, chart.sections)
    assert b"<capo>4</capo>" in musicxml_bytes(moved)
