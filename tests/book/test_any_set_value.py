"""Every setting of a set file with every kind of value."""

from pathlib import Path

from chartkit.book.set_file import read_set
from chartkit.book.set_mistakes import _MODELS
from chartkit.diagnostics import Source
from tests.each import each

GOOD = {
    "": {"name": '"Night"'},
    "stage": {},
    "pages": {},
    "players": {"name": '"Ada"', "reads": '"both"', "instrument": '"guitar"'},
    "guitars": {"name": '"One"'},
    "songs": {"chart": '"a.chart"'},
}
"""The least that each table says."""
VALUES = [
    '"text"',
    '""',
    '" "',
    "1",
    "-1",
    "99999",
    "1" + "0" * 30,
    "1.5",
    "1e400",
    "nan",
    "-inf",
    "true",
    "2026-11-27",
    "2026-11-27T10:00:00",
    "10:00:00",
    "[]",
    "[1]",
    '["a"]',
    "[[1]]",
    "[{}]",
    "{}",
    "{a = 1}",
    '{a = "x"}',
    '{"" = 1}',
    '"\\u0000"',
    '"' + "x" * 2000 + '"',
    "{a = nan}",
    "[true]",
    "[1.5]",
    "2026-13-45",
    "0000-01-01",
]
FOREIGN = (
    "Input",
    "Value error",
    "should",
    "valid ",
    "True",
    'nan"',
    "{'",
    "['",
    "datetime",
    "dictionary",
    "float",
    "integer",
    "tuple",
)
"""Words of the library that checks, and values as Python prints them."""
SETTINGS = [(table, name) for table, model in _MODELS.items() for name in model.model_fields]


def set_text(table: str, name: str, value: str) -> str:
    """A set that says one thing oddly."""
    said = {one: dict(rows) for one, rows in GOOD.items()}
    said[table][name] = value
    rows = {one: "\n".join(f"{k} = {v}" for k, v in values.items()) for one, values in said.items()}
    guitars = f"guitars = [{{ {rows['guitars'].replace(chr(10), ', ')} }}]"
    parts = [rows[""]]
    parts += [f"[stage]\n{rows['stage']}"] * ((table, name) != ("", "stage"))
    parts += [f"[pages]\n{rows['pages']}"] * ((table, name) != ("", "pages"))
    parts += [f"[[players]]\n{rows['players']}"] * ((table, name) != ("", "players"))
    parts += [guitars] * (table == "guitars")
    parts += [f"[[songs]]\n{rows['songs']}"] * ((table, name) != ("", "songs"))
    return "\n".join(parts) + "\n"


@each(("table", "name"), SETTINGS)
def test_any_value_is_taken_or_reported_in_our_words(table: str, name: str) -> None:
    """Whatever stands in a setting's place, the set is read or each mistake is reported in plain
    words with a hint."""
    for value in VALUES:
        reading = read_set(Source(set_text(table, name, value), "s.toml"), Path("/tmp"))
        assert reading.set_list is not None or reading.diagnostics
        for one in reading.diagnostics:
            assert one.hints and all(one.hints), (value, one.message)
            text = " ".join((one.message, *one.hints))
            assert not [words for words in FOREIGN if words in text], (value, text)
            assert len(text) < 300


def test_a_choice_with_a_slip_is_offered() -> None:
    """A choice that is nearly one of those there are is taken for a slip of the hand."""
    reading = read_set(Source(set_text("players", "reads", '"shape"'), "s.toml"), Path("/tmp"))
    assert reading.diagnostics[0].hints[0].startswith('did you mean "shapes"? the choices are')
