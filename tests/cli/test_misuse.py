"""Calls that make no sense: each is reported in plain words, with a hint, and ends with 2."""

import shlex
from pathlib import Path

import pytest
from click import Context, Option
from click.testing import CliRunner, Result

from chartkit.cli.main import COMMANDS, PROGRAM
from tests.charts import SMALL
from tests.each import each

FOREIGN = (
    "Invalid value",
    "Input should",
    "Value error",
    "Usage:",
    "Error:",
    "Missing option",
    "validation",
    "<str>",
    "No such",
    "Traceback",
)
"""Words that never stand in our messages."""


def options(name: str) -> list[Option]:
    """The options of a command that take a value."""
    command = PROGRAM.get_command(Context(PROGRAM), name)
    assert command is not None
    return [one for one in command.params if isinstance(one, Option) and not one.is_flag]


VALUED = [(c, max(one.opts, key=len)) for c in COMMANDS for one in options(c)]
"""Every option that takes a value, with its command."""
FLAGS = [
    ("check", "--json"),
    ("tidy", "--check"),
    ("engrave", "--dark"),
    ("capo", "--all"),
    ("book", "--per-song"),
    ("plan", "--no-cache"),
    ("singer", "--studio"),
]
JUNK = (
    "G##",
    "",
    " ",
    "nan",
    "inf",
    "-inf",
    "1e999",
    "9" * 5_000,
    "٣",
    "½",
    "\x1b[2J",
    "--",
    "x=y=z",
)
NUMBERS = [
    ("capo", "--highest"),
    ("capo", "--tune-down"),
    ("capo", "--guitars"),
    ("strings", "--capo"),
    ("strings", "--down"),
    ("strings", "--a4"),
    ("transpose", "--by"),
    ("transpose", "--capo"),
    ("engrave", "--capo"),
    ("engrave", "--second-capo"),
    ("engrave", "--size"),
    ("export", "--capo"),
    ("book", "--jobs"),
    ("plan", "--jobs"),
]


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a good chart."""
    (tmp_path / "a.chart").write_text(SMALL)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def call(*arguments: str) -> Result:
    """Runs the program with arguments."""
    return CliRunner().invoke(PROGRAM, list(arguments))


def refused(*arguments: str) -> str:
    """A call that makes no sense gets this message; it ends with 2 and writes nothing."""
    before = sorted(Path().iterdir())
    done = call(*arguments)
    assert done.exit_code == 2, done.output
    assert done.stdout == ""
    lines = done.stderr.splitlines()
    assert lines[0].startswith("chartkit: "), done.stderr
    assert not [words for words in FOREIGN if words in done.stderr], done.stderr
    assert sorted(Path().iterdir()) == before
    return done.stderr


@each(("command", "option"), VALUED)
def test_every_option_without_its_value(command: str, option: str) -> None:
    """An option at the call's end, and one given nothing, are reported by name with what would
    do."""
    for arguments, message_end in (
        ([option], "a value is missing"),
        ([option, ""], "nothing is given"),
    ):
        message, hint = told_of(option, refused(command, *arguments))
        assert message == f"chartkit: {option}: {message_end}"
        assert hint.startswith(f"  hint: {option} ")


def told_of(option: str, text: str) -> tuple[str, str]:
    """The message about an option and its hint, where others stand beside it."""
    lines = text.splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith(f"chartkit: {option}:"))
    return lines[at], lines[at + 1]


@each(("command", "option"), VALUED)
def test_every_option_misspelt(command: str, option: str) -> None:
    """A letter that is missing from an option's name does not hide which was meant."""
    wrong = option[:3] + option[4:] if len(option) > 5 else f"{option}y"
    text = refused(command, wrong, "1")
    assert f"{wrong} is not an option of" in text
    assert "hint: did you mean --" in text


@pytest.mark.parametrize(("command", "option"), VALUED)
def test_any_junk_as_a_value_is_met_in_our_words(command: str, option: str) -> None:
    """Whatever is given for an option, the run ends with an exit code of ours, and where it is
    refused the words are ours."""
    for junk in JUNK:
        done = call(command, "a.chart", option, junk)
        assert done.exit_code in (0, 1, 2), (junk, done.exception)
        assert not isinstance(done.exception, (ValueError, TypeError)), junk
        assert not [words for words in FOREIGN if words in done.stderr], done.stderr
        assert "\x1b" not in done.stderr


@each(("command", "option"), NUMBERS)
def test_numbers_that_are_none(command: str, option: str) -> None:
    """What is no number of ordinary size, or one in other digits, is refused by its option."""
    for junk in ("", "nan", "inf", "-inf", "1e999", "9" * 5_000, "-9999", "٣", "1_0", "0x1", "²"):
        assert f"chartkit: {option}: " in refused(command, "a.chart", option, junk)


@each(("command", "option"), FLAGS)
def test_flags_take_no_value(command: str, option: str) -> None:
    """A value given to a switch is reported."""
    assert refused(command, f"{option}=1").startswith(f"chartkit: {option}: takes no value")


REPORTED = [
    ("check", "check: FILES is missing"),
    ("capo", "capo: FILE is missing"),
    ("plan", "plan: SET is missing"),
    ("export a.chart", "export: --to is missing"),
    ("capo a.chart b.chart", 'capo: "b.chart" is one argument too many'),
    ("schema all", 'schema: "all" is one argument too many'),
    ("check ''", "FILES: nothing is given"),
    ("chekc a.chart", '"chekc" is not a command hint: did you mean chartkit check?'),
    ("CHECK a.chart", "hint: did you mean chartkit check?"),
    ("quux", "hint: chartkit --help lists them"),
    ("print a.chart", '"print" is not a command hint: did you mean chartkit engrave?'),
    ("import a.txt", "hint: did you mean chartkit intake?"),
    ("version", "hint: did you mean chartkit --version?"),
    ("song.chart", "hint: a command comes first: chartkit engrave song.chart"),
    ("night.toml", "hint: for the books of a set: chartkit book night.toml -o books/"),
    ("engrave a.chart --transpose B", "hint: did you mean --key?"),
    ("capo a.chart --max 5", "hint: did you mean --highest?"),
    ("transpose a.chart -2", "hint: half steps: --by -2"),
    ("transpose a.chart --key B -o b.chart", "hint: it prints its result: chartkit transpose"),
    ("tidy a.chart -o b.chart", "hint: tidy changes the chart's own file"),
    ("engrave a.chart --capo none", 'hint: without a capo: "0"'),
    ("export a.chart --to midi --capo III", 'hint: write the fret alone: "3"'),
    ("engrave a.chart --key b", 'hint: a key begins with a capital: "B"'),
    ("engrave a.chart --key +2", "hint: --key KEY: The key to play in"),
    ("engrave a.chart --show lyrics", 'did you mean "words"?'),
    ("export a.chart --to pdf", "chartkit engrave writes PDFs"),
    ("export a.chart --to xml", 'did you mean "musicxml"?'),
    ("singer a.chart --voice mezzo", 'did you mean "mezzo-soprano"?'),
    ("singer a.chart --range E5-A3", 'hint: write "A3-E5"'),
    ("--verion", "--verion is not an option of chartkit hint: did you mean --version?"),
    ("engrave -capo 3", "-capo is not an option of chartkit engrave hint: did you mean --capo?"),
    ("check -x", "hint: chartkit check --help lists them"),
    ("--json check a.chart", "hint: options come after the command's name"),
    ("engrave a.chart --capo two", '--capo: "two" is not a fret'),
    ("engrave a.chart --capo 12", "--capo: capo 12 is out of reach: give a fret up to 11"),
    ("engrave a.chart --capo 1+2", '--capo: "1+2" is not a fret'),
    ("engrave a.chart --key H", 'hint: H is B natural: write "B"'),
    ("engrave a.chart --key 'C blue'", '"blue" is not a mode'),
    ("engrave a.chart --show shape", 'did you mean "shapes"?'),
    (
        "engrave a.chart --paper a3",
        '--paper: "a3" is not one of a4, letter, tablet, phone or phone-side',
    ),
    ("engrave a.chart --size large", '--size: "large" is not a number'),
    ("engrave a.chart --size 1,2", '"1,2" is not a number; write 1.2'),
    ("engrave a.chart --size -1", "sizes go from 0.5 to 3"),
    ("engrave a.chart --size 4", "4 is out of reach: sizes go from 0.5 to 3"),
    ("engrave a.chart --reads C", "--reads: "),
    ("engrave a.chart --font none.ttf", "--font: there is no file none.ttf"),
    ("engrave a.chart --minor x", '--minor: "x" is not one of m, mi, - or small'),
    ("engrave a.chart --major Maj7", '--major: "Maj7" is not one of maj, ma, MA, M or △'),
    (
        "capo a.chart --highest twelve",
        '--highest: "twelve" is not a whole number in digits: write one',
    ),
    ("capo a.chart --highest 1.5", '"1.5" is not a whole number'),
    ("capo a.chart --highest -1", "-1 is out of reach: it goes from 0 to 11"),
    ("capo a.chart --guitars 9", "9 is out of reach: it goes from 2 to 4"),
    ("capo a.chart --beside two", '--beside: "two" is not a fret'),
    ("capo a.chart --instrument kazoo", '--instrument: "kazoo" is not an instrument with strings'),
    ("capo a.chart --beside 1 --guitars 2", "give --beside or --guitars, not both"),
    ("singer a.chart", "describe the voice"),
    ("singer a.chart --voice altoo", '"altoo" is not one of soprano'),
    ("singer a.chart --voice altoo", 'did you mean "alto"?'),
    ("singer a.chart --range A3", '--range: "A3" is not a range, such as Ab3-F5'),
    ("singer a.chart --range E5-A3", "the lowest note comes first"),
    ("singer a.chart --range A3-E5 --voice alto", "give --range or --voice, not both"),
    ("singer a.chart --range A3-E5 --middle A2-E5", "--middle: the middle of the voice"),
    ("strings --a4 300", "300 is out of reach: A4 lies between 400 and 480 Hz"),
    ("transpose a.chart --by 25", "25 is out of reach: it goes from -24 to 24"),
    ("transpose a.chart --by up", '--by: "up" is not a whole number'),
    ("book a.toml -o out --set-key One", '"One" has no key: write "One=Bb"'),
    ("book a.toml -o out --set-key =C", '"=C" names no song: write "harbour=C"'),
    ("book a.toml -o out --shift One=", '"One=" has no half steps: write "One=-2"'),
    ("book a.toml -o out --shift One=up", '--shift: "up" is not a whole number'),
    ("plan a.toml --order shuffled", '--order: "shuffled" is not one of set or free'),
]


@each(("line", "message_end"), REPORTED)
def test_what_is_reported(line: str, message_end: str) -> None:
    """Each misuse is reported by the option's name, what was given, and what would do."""
    assert message_end in " ".join(refused(*shlex.split(line)).split())


def test_all_that_is_wrong_in_a_call_is_reported_at_once() -> None:
    """Four wrong values make four messages, each with its hint."""
    text = refused(
        *("engrave", "a.chart", "--capo", "two", "--show", "al", "--size", "big", "--paper", "x")
    )
    assert text.count("chartkit: --") == text.count("  hint: ") == 4


def test_choices_are_taken_in_any_capitals() -> None:
    """Capitals do not matter where no two choices differ by them alone."""
    assert call("engrave", "a.chart", "--paper", "A4", "--show", "Both").exit_code == 0
    assert "M" in refused("engrave", "a.chart", "--major", "mA")


def test_a_minus_may_be_typed_as_the_sign() -> None:
    """The minus sign of typesetting is a minus."""
    assert call("transpose", "a.chart", "--by", "−2").exit_code == 0


def test_help_is_a_word_too() -> None:
    """``chartkit help capo`` and ``chartkit capo help`` print what ``--help`` prints."""
    for line, same in (("help", "--help"), ("help capo", "capo --help"), ("capo help", "capo -h")):
        asked, usual = (CliRunner().invoke(PROGRAM, call.split()) for call in (line, same))
        assert (asked.exit_code, asked.stdout) == (0, usual.stdout), line
