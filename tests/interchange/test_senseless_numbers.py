"""Numbers in a score that no music has are reported as they stand there."""

from tests.each import each
from tests.interchange.reading import body, taken

SCORE = """<score-partwise><part-list><score-part id="P1"><part-name>V</part-name></score-part>
</part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions>{}</attributes>
<harmony>{}<kind>major</kind>{}</harmony><note><rest/><duration>4</duration></note></measure></part>
</score-partwise>"""
C = "<root><root-step>C</root-step></root>"


def read_measure(time: str = "", root: str = C, bass: str = "") -> tuple[str, list[str]]:
    """The music, and what is guessed or left out of a score with these parts."""
    result = taken(SCORE.format(time, root, bass))
    messages = [f.message for f in result.findings if f.code in ("odd-meter", "odd-alteration")]
    return body(result.chart), messages


@each(
    ("time", "said"),
    [
        ("<beats>999999999</beats><beat-type>4</beat-type>", "999999999/4"),
        ("<beats>3+1234</beats><beat-type>8</beat-type>", "3+1234/8"),
        (
            "<beats>2</beats><beat-type>4</beat-type><beats>90</beats><beat-type>8</beat-type>",
            "2/4 + 90/8",
        ),
        ("<beats>4</beats><beat-type>5</beat-type>", "4/5"),
    ],
)
def test_an_odd_meter_is_reported_as_it_stands(time: str, said: str) -> None:
    """A meter that no chart can have is left out in its own figures."""
    assert read_measure(f"<time>{time}</time>") == ("| C |", [f"a meter of {said}"])


@each(("alter", "chord"), [("999999999", "C##"), ("0.5", "C"), ("-1.5", "Cbb"), ("much", "C")])
def test_an_odd_alteration_is_reported(alter: str, chord: str) -> None:
    """A root or a bass altered by a fraction, by more than two half steps or by no number is a
    guess, with what stood there."""
    message = f'altered by "{alter}" half steps is read as {chord}'
    root = f"<root><root-step>C</root-step><root-alter>{alter}</root-alter></root>"
    music, messages = read_measure(root=root)
    assert (music, messages) == (f"| {chord} |", [f"a root C {message}"])
    bass = f"<bass><bass-step>C</bass-step><bass-alter>{alter}</bass-alter></bass>"
    assert read_measure(bass=bass)[1] == [f"a bass C {message}"]


@each("alter", ["1", "-2", " 0 ", "1.0"])
def test_a_plain_alteration_is_not_reported(alter: str) -> None:
    """Flats and sharps, single and double, are no guess."""
    root = f"<root><root-step>C</root-step><root-alter>{alter}</root-alter></root>"
    assert read_measure(root=root)[1] == []
