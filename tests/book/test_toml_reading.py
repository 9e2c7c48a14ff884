"""Set files that are no sound TOML: every mistake is reported in plain words, the rest still
read."""

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.book.set_file import read_set
from chartkit.book.toml_reading import read_toml
from chartkit.diagnostics import Source, diagnostic_text
from tests.each import each

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "friday.toml"

MISTAKES = [
    ("a = Friday Night # x", (1, 5), "this text stands without quotes", 'write "Friday Night"'),
    ("a = “Friday”", (1, 5), "these are curly quotes", "straight ones"),
    ("a = Yes", (1, 5), "Yes is not a value", "true or false, in small letters"),
    ("a = ", (1, 4), "a value is missing here", "put text in quotes"),
    ("b = 1\na = 'x", (2, 5), "these quotes are not closed", "at the end of the text"),
    ('a = "x\nb = 1', (1, 5), "these quotes are not closed", "at the end of the text"),
    ('a = """x\ny', (1, 5), "these quotes are not closed", "at the end of the text"),
    ("a = 2026-13-45", (1, 9), "left over after the value", "a date is written 2026-11-27"),
    ("a = 2026-02-30", (1, 5), "there is no such day", "2026-11-27"),
    ('a = "x" "y"', (1, 9), "left over after the value", "one setting on each line"),
    ('a = "x",', (1, 8), "left over after the value", "take the comma out"),
    ("Friday at the loft", (1, 8), "a setting is written name = value", "such as [[songs]]"),
    ('a: "x"', (1, 2), 'a ":" stands here', 'write "="'),
    ("a b = 1", (1, 3), "a setting is written name = value", "stands in quotes"),
    (
        "capo = { Élodie = 1 }",
        (1, 10),
        "a name cannot be written like this",
        "accents stands in quotes",
    ),
    ("prénom = 1", (1, 3), "a name cannot be written like this", "accents stands in quotes"),
    ("= 1", (1, 1), "this is not a setting", "name = value"),
    ("[[a]", (1, 4), "the brackets of this header are not closed", "[[songs]]"),
    ("a = 1\na = 2", (2, 1), "a is set twice", "above the first [[players]]"),
    ("[a]\n[a]", (2, 1), "a is set twice", "take one of them out"),
    ("[[players]]\n[players]", (2, 1), "one pair of brackets", "write [[players]]"),
    (
        "[players] # us\na = 1\n[[players]]\nb = 1\n[[players]]\n",
        (1, 1),
        "two brackets",
        "write [[players]] before",
    ),
    ("[[a]]\n[songs]\nc = 1\n\n[[songs]]\n", (2, 1), "each of the songs", "write [[songs]]"),
    ("a = {b = 1, b = 2}", (1, 1), "a is set twice", ""),
    ('a = "x\\y"', (1, 7), "a backslash means something special", "joined by /"),
    ('a = "\x07"', (1, 6), "this character cannot be printed", "take it out"),
    ('a = [\n "x",\n "y"\nb = 1', (1, 5), "the [ that opens here is not closed", "ends with ]"),
    ("a = {b = 1\n}", (1, 5), "the { that opens here is not closed", "on the same line"),
    ("a = [1 2]", (1, 8), "a comma is missing here", "separate the entries"),
    ("a = " + "[" * 9000, (1, 1), "nested too deep", ""),
    ("a = " + "1" * 9000, (1, 5), "a number in this text is too long", ""),
]


@each(("text", "place", "message", "hint"), MISTAKES)
def test_each_mistake_is_reported_once_in_plain_words(
    text: str, place: tuple[int, int], message: str, hint: str
) -> None:
    """Each mistake against TOML is one message at its place, in words without the parser's."""
    source = Source(text)
    (diagnostic,) = read_toml(source).diagnostics
    assert source.place(diagnostic.span.start) == place
    assert message in diagnostic.message
    assert hint in " ".join(diagnostic.hints)


def test_what_can_be_read_is_read() -> None:
    """Several mistakes come out in one run, and the settings between them have their values."""
    text = "a = No\nb = 1\nc = [\n 1\nd = 2\n[[e]\nf = 3\n[[g]]\nh = “x”\ni = 4\n"
    reading = read_toml(Source(text))
    lines = [Source(text).place(one.span.start)[0] for one in reading.diagnostics]
    assert lines == [1, 3, 6, 9]
    assert reading.values == {"b": 1, "d": 2, "g": [{"i": 4}]}
    assert len(reading.text) == len(text)


def test_mistakes_of_all_kinds_come_out_together() -> None:
    """A set with a line that cannot be read, a bad value and a broken rule tells all three, and
    nothing that only follows from them."""
    text = (
        'name = Friday\n[[players]]\nname = "Bo"\nreads = "both"\ninstrument = guitar\n'
        '[[players]]\nname = "Cy"\nreads = "tabs"\n[[songs]]\nchart = "../a.chart"\n'
        "capo = { Cy = 3 }\n"
    )
    codes = [one.code for one in read_set(Source(text), Path("/nowhere")).diagnostics]
    assert codes == ["not-toml", "not-toml", "bad-value", "outside-folder"]


_signs = st.sampled_from('"[]{}=,\n\\# \u201cé\x00.-')


@settings(deadline=None, max_examples=150)
@given(st.lists(st.tuples(st.integers(0, 1500), st.booleans(), _signs), min_size=1, max_size=3))
def test_a_garbled_set_is_reported_and_never_fails(changes: list[tuple[int, bool, str]]) -> None:
    """Whatever character is lost from a set file or typed into it, reading ends with a set or
    with mistakes that stand inside the text and can be shown."""
    text = EXAMPLE.read_text(encoding="utf-8")
    for at, lost, sign in changes:
        text = text[:at] + ("" if lost else sign) + text[at + lost :]
    source = Source(text)
    reading = read_set(source, EXAMPLE.parent)
    assert (reading.set_list is None) == bool(reading.diagnostics)
    for one in reading.diagnostics:
        assert 0 <= one.span.start <= len(text)
        assert diagnostic_text(one, source).count("\n") >= 2
