"""Tests of the messages about mistakes."""

import ast
from pathlib import Path

from chartkit import syntax
from chartkit.chart.model import WordsRow
from chartkit.diagnostics import Source, diagnostic_text
from chartkit.syntax.reader import read_chart
from chartkit.syntax.settings import _VALUE_READERS
from tests.each import each
from tests.syntax.mistakes import MISTAKES, Mistake


@each("mistake", MISTAKES, ids=lambda m: f"{m.code}: {m.text[:30]!r}")
def test_a_mistake_is_reported_once_in_its_place(mistake: Mistake) -> None:
    """Code, line, column and caret are right, the hint helps, and nothing else is reported."""
    source = Source(mistake.text)
    diagnostics = read_chart(source).diagnostics
    report = "\n".join(diagnostic_text(diagnostic, source) for diagnostic in diagnostics)
    assert [diagnostic.code for diagnostic in diagnostics] == [mistake.code], report
    (diagnostic,) = diagnostics
    assert source.place(diagnostic.span.start) == (mistake.line, mistake.column), report
    assert diagnostic.span.end - diagnostic.span.start == mistake.length, report
    assert mistake.hint in "\n".join(diagnostic.hints), report


@each("value", ["x", "X", "-9", "-12", "−12"])
def test_a_capo_that_nothing_likely_is_meant_by_has_no_hint(value: str) -> None:
    """A cross stands for a fret to be chosen, and no one means a high fret by a low tuning."""
    (diagnostic,) = read_chart(Source(f"capo: {value}\n| C |")).diagnostics
    assert diagnostic.code == "bad-capo" and diagnostic.hints == ()


def test_a_meters_lower_number_is_one_of_those_named() -> None:
    """The message names each that is accepted."""
    (diagnostic,) = read_chart(Source("meter: 4/3\n| C |")).diagnostics
    assert "the lower number is 1, 2, 4, 8, 16 or 32" in diagnostic.message
    for unit in (1, 2, 4, 8, 16, 32):
        assert not read_chart(Source(f"meter: 4/{unit}\n| C |")).diagnostics


FOLLOWED = [mistake for mistake in MISTAKES if mistake.followed is not None]


@each("mistake", FOLLOWED, ids=lambda m: f"{m.code}: {m.text[:30]!r}")
def test_following_a_hint_mends_the_mistake(mistake: Mistake) -> None:
    """What the hint quotes, typed where the mistake was, leaves a chart without mistakes."""
    typed, quoted = mistake.followed or ("", "")
    (again,) = read_chart(Source(mistake.text)).diagnostics
    assert quoted in "\n".join(again.hints)
    assert typed in mistake.text
    source = Source(mistake.text.replace(typed, quoted, 1))
    diagnostics = read_chart(source).diagnostics
    assert not diagnostics, "\n".join(
        diagnostic_text(diagnostic, source) for diagnostic in diagnostics
    )


def test_an_empty_row_as_hinted_completes_the_words() -> None:
    """The empty row quoted for words that end early, typed under them, mends the verse."""
    text = "== A\n| C |\n: | a |\n| F | G |\n: | b | c |\n== B as A\n: | d |\n"
    (diagnostic,) = read_chart(Source(text)).diagnostics
    assert '": | | |"' in " ".join(diagnostic.hints)
    assert not read_chart(Source(text + ": | | |\n")).diagnostics


def test_a_first_bar_line_typed_as_hinted_mends_music_and_words() -> None:
    """A forgotten first bar line is reported once, at the music, also where a verse shares it;
    typed there, the words begin with their pick-up."""
    text = "== A\n| C |\nF | G |\n: oh | a | b |\n== B as A\n: | c |\n: so | d | e |\n"
    source = Source(text)
    (diagnostic,) = read_chart(source).diagnostics
    assert diagnostic.code == "no-first-bar-line" and source.place(diagnostic.span.start)[0] == 3
    reading = read_chart(Source(text.replace("\nF |", "\n| F |")))
    assert not reading.diagnostics
    words = [row for row in reading.chart.sections[0].rows if isinstance(row, WordsRow)]
    assert [[s.text for s in cell] for cell in words[0].cells] == [["oh"], ["a"], ["b"]]


def constants(node: ast.AST) -> list[str]:
    """The strings a code argument can be: one, or either side of a choice."""
    if isinstance(node, ast.Constant):
        return [node.value]  # type: ignore[list-item]
    if isinstance(node, ast.IfExp):
        return constants(node.body) + constants(node.orelse)
    if isinstance(node, ast.JoinedStr):
        return [f"bad-{name}" for name in _VALUE_READERS]
    return []


def codes_in(path: Path) -> set[str]:
    """Every code that a file of the reader can raise."""
    codes: list[str] = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            spread = any(isinstance(argument, ast.Starred) for argument in node.args)
            if name in ("add", "warn", "NotAChord") and (spread or len(node.args) >= 4):
                codes += constants(node.args[0])
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Dict):
            for value in node.value.values:
                if isinstance(value, ast.Tuple) and len(value.elts) == 3:
                    codes += constants(value.elts[0])
    return set(codes)


def test_every_code_is_in_the_table() -> None:
    """No code can be raised that the table does not show, and the table shows no other."""
    folder = Path(syntax.__file__).parent
    raised = {code for path in folder.glob("*.py") for code in codes_in(path)}
    assert len(raised) > 40
    assert raised == {mistake.code for mistake in MISTAKES}


def test_all_mistakes_are_reported_in_one_run() -> None:
    """A file with many mistakes gets them all, in the order of the text."""
    text = (
        "key: H\ntempo: fast\n\n== Verse\n| C | Gfoo | D E F |\n: | a | b |\n"
        "== Verse 2 as Vers\n| am | (C |\n"
    )
    source = Source(text)
    diagnostics = [(d.code, source.place(d.span.start)[0]) for d in read_chart(source).diagnostics]
    assert diagnostics == [
        ("bad-key", 1),
        ("bad-tempo", 2),
        ("unknown-quality", 5),
        ("beats-unclear", 5),
        ("too-few-bars", 6),
        ("unknown-section", 7),
        ("lowercase-root", 8),
        ("unclosed-parenthesis", 8),
    ]


def test_the_rest_of_a_faulty_chart_is_read() -> None:
    """Bars around a mistake keep their chords and their beats."""
    reading = read_chart(Source("| C | Gfoo | F / / C |\n: | one | two | three / four |"))
    music, words = reading.chart.sections[0].rows
    bars = music.bars  # type: ignore[union-attr]
    assert [str(s.chord) for bar in bars for s in bar.strikes] == ["C", "None", "F", "C"]
    assert [s.text for s in words.cells[3]] == ["three", "four"]  # type: ignore[union-attr]


@each("mistake", MISTAKES, ids=lambda m: f"{m.code}: {m.text[:30]!r}")
def test_messages_are_plain_words(mistake: Mistake) -> None:
    """A message is a phrase of some words, without a full stop, and names no code."""
    (diagnostic,) = read_chart(Source(mistake.text)).diagnostics
    message = diagnostic.message
    assert not message[:1].isspace() and len(message.split()) >= 3
    assert not message.endswith(".") and diagnostic.code not in message


def test_a_diagnostic_is_shown_with_line_caret_and_hint() -> None:
    """The picture in the terminal: place, message, the line, a caret under the fault, a hint."""
    source = Source("title: Lantern Road\n| Db | Gmaj77 |", "lantern-road.chart")
    (diagnostic,) = read_chart(source).diagnostics
    assert diagnostic_text(diagnostic, source).splitlines() == [
        'lantern-road.chart:2:9: error[unknown-quality]: "maj77" is not a chord quality',
        "  2 | | Db | Gmaj77 |",
        "    |         ^^^^^",
        '  hint: did you mean "maj7"?',
    ]
