"""Set files: what they may say, and how mistakes in them are reported."""

import tomllib
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from chartkit.book.set_file import read_set
from chartkit.book.set_list import SetList
from chartkit.book.set_rules import file_stem, pitch_of
from chartkit.book.toml_places import toml_places
from chartkit.diagnostics import Source, diagnostic_text
from chartkit.theory.capo import Capo
from tests.each import each

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "friday.toml"
GUITARIST = '[[players]]\nname = "Bo"\nreads = "both"\ninstrument = "guitar"\n'
SONG = '[[songs]]\nchart = "a.chart"\n'
TOP = 'name = "Night"\n'

MISTAKES = [
    ("not-toml", 'name = "Night\n', 1, "these quotes are not closed", "at the end"),
    ("not-toml", TOP + "players = [\n", 2, "", ""),
    ("missing", GUITARIST + SONG, 1, 'the set has no "name"', 'name = "Friday"'),
    ("missing", TOP + GUITARIST, 1, 'the set has no "songs"', "[[songs]]"),
    ("missing", TOP + '[[players]]\nreads = "both"\n' + SONG, 2, 'player 1 has no "name"', ""),
    ("unknown-setting", TOP + GUITARIST + "papper = 1\n" + SONG, 6, '"papper"', 'mean "paper"?'),
    ("unknown-setting", TOP + GUITARIST + "capo = 3\n" + SONG, 6, '"capo"', "under [[songs]]"),
    ("unknown-setting", TOP + GUITARIST + "capos = 3\n" + SONG, 6, '"capos"', "under [stage]"),
    (
        "bad-value",
        TOP + '[[players]]\nname = "Bo"\nreads = "tabs"\n' + SONG,
        4,
        'reads cannot be "tabs"',
        '"words"',
    ),
    ("bad-value", TOP + GUITARIST + "highest_capo = 14\n" + SONG, 6, "is 14, out of reach", "11"),
    ("bad-value", TOP + GUITARIST + 'highest_capo = "2"\n' + SONG, 6, "whole number", "quotes"),
    ("bad-value", TOP + "songs = []\n" + GUITARIST, 2, "songs is empty", ""),
    ("bad-value", TOP + GUITARIST + SONG + "capo = { Bo = 20 }\n", 8, "is 20", "at most 11"),
    ("bad-value", TOP + GUITARIST + SONG + "note = 7\n", 8, "note takes text", ""),
    ("bad-value", TOP + GUITARIST + SONG + 'straight_into_next = "yes"\n', 8, "true or false", ""),
    (
        "interval-without-pause",
        TOP + GUITARIST + SONG + "straight_into_next = true\ninterval_after = true\n",
        9,
        "the interval stands between the two",
        "leave out",
    ),
    (
        "no-instrument",
        TOP + '[[players]]\nname = "Bo"\nreads = "shapes"\n' + SONG,
        4,
        "Bo reads shapes but has no instrument",
        'reads = "sounding"',
    ),
    (
        "no-instrument",
        TOP + '[[players]]\nname = "Cy"\nreads = "transposed"\n' + SONG,
        4,
        "begins with its note",
        "B flat trumpet",
    ),
    (
        "no-instrument",
        TOP + '[[players]]\nname = "Cy"\nreads = "transposed"\ninstrument = "D trumpet"\n' + SONG,
        5,
        '"D trumpet" is not in a pitch that parts are for: B flat, E flat',
        "B flat trumpet",
    ),
    (
        "no-instrument",
        TOP + '[[players]]\nname = "Cy"\nreads = "transposed"\ninstrument = "E flt alto"\n' + SONG,
        5,
        '"E flt alto" is not in a pitch',
        'did you mean "E flat alto"?',
    ),
    ("bad-instrument", TOP + GUITARIST.replace('"guitar"', '"kazoo"') + SONG, 5, "kazoo", ""),
    (
        "bad-instrument",
        TOP
        + GUITARIST
        + 'guitars = [\n { name = "x" },\n { name = "y", tuning = "E2" },\n]\n'
        + SONG,
        8,
        "3 to 12 strings",
        "",
    ),
    (
        "name-taken",
        TOP + GUITARIST + GUITARIST.replace("Bo", "bo!") + SONG,
        7,
        "would share the file bo.pdf",
        "another name",
    ),
    ("name-taken", TOP + GUITARIST.replace("Bo", "Set Sheet") + SONG, 3, "set sheet", ""),
    (
        "outside-folder",
        TOP + GUITARIST + SONG.replace("a.chart", "../a.chart"),
        7,
        "outside the folder",
        "beside the set file",
    ),
    ("outside-folder", TOP + GUITARIST + SONG.replace("a.chart", "/etc/a.chart"), 7, "outside", ""),
    ("bad-key", TOP + GUITARIST + SONG + 'key = "Es-Dur"\n', 8, '"Es-Dur" is not', "Eb major"),
    ("bad-value", TOP + GUITARIST + SONG + 'capo = "none"\n', 8, "whole number", "capo = 0"),
    ("bad-value", TOP + GUITARIST + SONG + 'capo = "fret 3"\n', 8, "whole number", "capo = 3"),
    ("bad-value", TOP + GUITARIST + SONG + 'capo = "best"\n', 8, "whole number", "the plan finds"),
    ("unknown-setting", TOP + GUITARIST + SONG + "transpose = 2\n", 8, '"transpose"', '"shift"'),
    (
        "unknown-setting",
        TOP + '[[players]]\nname = "Cy"\nplays = "guitar"\nreads = "sounding"\n' + SONG,
        4,
        '"plays"',
        '"instrument"',
    ),
    ("unknown-setting", 'venue = "Loft"\n' + TOP + GUITARIST + SONG, 1, '"venue"', '"place"'),
    ("bad-value", TOP + GUITARIST + SONG + "key = 3\n", 8, "key takes text", 'key = "B"'),
    ("bad-key", TOP + GUITARIST + SONG + 'key = "H"\n', 8, '"H" is not a key', 'write "B"'),
    (
        "bad-value",
        TOP + GUITARIST + SONG + 'shift = "up 2"\n',
        8,
        "a whole number",
        "-2 for one down",
    ),
    ("bad-value", TOP + GUITARIST + 'size = "big"\n' + SONG, 6, "size", ""),
    ("unknown-setting", TOP + GUITARIST + "zise = 1\n" + SONG, 6, "not a setting", '"size"'),
    (
        "bad-value",
        TOP + '[stage]\nretune_seconds = "5s"\n' + GUITARIST + SONG,
        3,
        "takes a number",
        "without quotes: 5",
    ),
    ("name-taken", TOP + GUITARIST + GUITARIST + SONG, 7, 'two players are called "Bo"', ""),
    (
        "unknown-player",
        TOP + GUITARIST + SONG + "capo = { Bob = 2 }\n",
        8,
        '"Bob" is not a player',
        "Bo",
    ),
]


@each(
    ("code", "text", "line", "message", "hint"),
    MISTAKES,
    ids=[f"{mistake[0]}-{number}" for number, mistake in enumerate(MISTAKES)],
)
def test_mistakes_are_reported_at_their_place(
    code: str, text: str, line: int, message: str, hint: str
) -> None:
    """Each mistake has its code, the line it stands on, plain words, and a hint if any helps."""
    source = Source(text, "night.toml")
    reading = read_set(source, Path("/nowhere"))
    assert reading.set_list is None
    (diagnostic,) = reading.diagnostics
    assert diagnostic.code == code
    assert source.place(diagnostic.span.start)[0] == line
    assert message in diagnostic.message
    assert hint in " ".join(diagnostic.hints)
    assert diagnostic_text(diagnostic, source).startswith(f"night.toml:{line}:")


def test_every_mistake_comes_out_in_one_run() -> None:
    """Mistakes of several players and songs are all reported at once."""
    text = TOP + '[[players]]\nreads = "tabs"\ncolour = 1\n[[songs]]\nkey = 3\n'
    codes = [one.code for one in read_set(Source(text), Path("/nowhere")).diagnostics]
    assert sorted(codes) == ["bad-value", "bad-value", "missing", "missing", "unknown-setting"]


def test_one_wrong_setting_hides_no_mistake_beside_it() -> None:
    """A tuning that is none is reported beside a paper that is none, of one player, and a wrong
    reading asks for no instrument."""
    bo = GUITARIST.replace('"guitar"', '"kazoo"') + 'paper = "ipad"\n'
    al = '[[players]]\nname = "Al"\nreads = "shape"\n'
    text = TOP + bo + al + SONG + 'key = "H"\nshift = 40\n'
    codes = [one.code for one in read_set(Source(text), Path("/nowhere")).diagnostics]
    assert codes == ["bad-instrument", "bad-value", "bad-value", "bad-key", "bad-value"]


def test_a_wrong_setting_has_no_other_mistake_follow_from_it() -> None:
    """A misspelt instrument, or guitars that cannot be, make nobody a player without strings."""
    for line in ('instrumnt = "guitar"', "guitars = 7", 'instrument = 7\nreads = "transposed"'):
        text = TOP + f'[[players]]\nname = "Bo"\n{line}\n' + SONG
        (diagnostic,) = read_set(Source(text), Path("/nowhere")).diagnostics
        assert diagnostic.code in ("unknown-setting", "bad-value")


def test_a_wish_for_chords_is_answered_with_what_shows_them() -> None:
    """For chords the hint is both, shapes or sounding; other slips get all that may stand there."""
    for written, hint in (
        ("chords", 'for chords write "both", "shapes" or "sounding"'),
        ("shape", 'did you mean "shapes"? the choices are "both", "shapes",'),
    ):
        text = TOP + f'[[players]]\nname = "Bo"\nreads = "{written}"\n' + SONG
        (diagnostic,) = read_set(Source(text), Path("/nowhere")).diagnostics
        assert hint in diagnostic.hints[0] and '"transposed"' in diagnostic.hints[0]


def test_a_link_out_of_the_folder_counts_as_outside(tmp_path: Path) -> None:
    """A chart that is a link to somewhere else is refused; one that stays inside is not."""
    folder = tmp_path / "set"
    (folder / "deep").mkdir(parents=True)
    (tmp_path / "away.chart").write_text("")
    (folder / "a.chart").symlink_to(tmp_path / "away.chart")
    reading = read_set(Source(TOP + GUITARIST + SONG), folder)
    assert [one.code for one in reading.diagnostics] == ["outside-folder"]
    inside = SONG.replace("a.chart", "deep/../deep/b.chart")
    assert read_set(Source(TOP + GUITARIST + inside), folder).set_list is not None


def example() -> SetList:
    """The example set."""
    source = Source(EXAMPLE.read_text(encoding="utf-8"), "friday.toml")
    set_read = read_set(source, EXAMPLE.parent).set_list
    assert set_read is not None
    return set_read


def test_the_example_is_read_as_it_is_written() -> None:
    """The example has its seven readers, thirteen songs, guitars and choices by hand."""
    friday = example()
    assert [player.look.show for player in friday.players] == [
        "words",
        "both",
        "both",
        "sounding",
        "sounding",
        "sounding",
        "road-map",
    ]
    assert len(friday.songs) == 13
    assert all(song.chart.exists() for song in friday.songs)
    tobias = friday.players[1]
    assert [guitar.tuned_down for guitar in tobias.guitars] == [0, 1]
    assert friday.players[4].look.reads == "B flat"
    assert friday.songs[8].capos == {"Tobias": Capo(tuned_down=1)}
    assert friday.songs[4].straight_into_next
    assert friday.stage.costs.swap_seconds == 20
    assert friday.date == "27 November 2026"


def test_a_guitar_without_a_tuning_has_the_players() -> None:
    """Of several guitars those that say nothing are tuned as the player's instrument."""
    guitars = 'guitars = [{ name = "one" }, { name = "two", tuning = "DADGAD" }]\n'
    for own, name in (("", "guitar"), ('tuning = "drop D"\n', "drop D")):
        set_read = read_set(
            Source(TOP + GUITARIST + own + guitars + SONG), Path("/nowhere")
        ).set_list
        assert set_read is not None
        assert [one.instrument.name for one in set_read.players[0].guitars] == [name, "DADGAD"]


def test_one_capo_is_for_everybody_who_reads_shapes() -> None:
    """A bare capo pins all readers of shapes, and nobody else."""
    text = TOP + GUITARIST + '[[players]]\nname = "Al"\nreads = "words"\n' + SONG + "capo = 3\n"
    set_read = read_set(Source(text), Path("/nowhere")).set_list
    assert set_read is not None
    assert set_read.songs[0].capos == {"Bo": Capo(3)}


@each(
    ("instrument", "pitch"),
    [
        ("B flat trumpet", "B flat"),
        ("Bb clarinet", "B flat"),
        ("B♭ cornet", "B flat"),
        ("E flat alto", "E flat"),
        ("F horn", "F"),
        ("A clarinet", "A"),
        ("C flute", None),
        ("e-flat horn", "E flat"),
    ],
)
def test_an_instruments_pitch_is_in_its_name(instrument: str, pitch: str | None) -> None:
    """The note that an instrument's name begins with is the pitch it stands in."""
    assert pitch_of(instrument) == pitch


def test_names_of_files() -> None:
    """File names keep letters of any alphabet and lose what file systems stumble over."""
    assert file_stem("Ines Ó Calloway / Jr.") == "ines-ó-calloway-jr"
    assert file_stem("../..") == "untitled"
    assert [file_stem(name) for name in ("CON", "nul", "Com¹", "Lpt9", "Conny")] == [
        "con-pages",
        "nul-pages",
        "com1-pages",
        "lpt9-pages",
        "conny",
    ]
    assert file_stem("CON: a?b*c") == "con-a-b-c"


def test_places_of_all_kinds_of_toml() -> None:
    """Keys and values are found behind comments, in strings, arrays and tables of all kinds."""
    text = (
        "a = \"x # [y]\" # no\n[t.u]\n\"k.e\" = '''\nq = 1\n'''\nl = [ # c\n 1,\n"
        " {m = 2, n.o = [3]},\n]\n"
        '[[w]]\nv = 1\n[[w]]\nv = """ \\"\\"\\" """\n[w.z]\ny = 2020-01-02\n'
    )
    places = toml_places(text)

    def value(*path: str | int) -> str:
        span = places[path].value
        return text[span.start : span.end]

    assert value("a") == '"x # [y]"'
    assert value("t", "u", "k.e") == "'''\nq = 1\n'''"
    assert value("t", "u", "l", 1, "n", "o", 0) == "3"
    assert value("w", 1, "v") == '""" \\"\\"\\" """'
    assert value("w", 1, "z", "y") == "2020-01-02"


_plain = st.integers(-9, 9) | st.booleans() | st.sampled_from(['"s"', "'l'", '"# ]"', "1.5"])


@given(st.lists(st.tuples(st.sampled_from("abcd"), st.lists(_plain, max_size=3)), max_size=6))
def test_every_value_has_a_place(tables: list[tuple[str, list[object]]]) -> None:
    """In any sound text each value that Python's reader finds has a place that spells it."""
    text = "".join(
        f"[[{name}]]\nv = [{', '.join(str(one).lower() for one in values)}] # end\n"
        for name, values in tables
    )
    places = toml_places(text)
    for name, entries in tomllib.loads(text).items():
        for i, entry in enumerate(entries):
            for j, value in enumerate(entry["v"]):
                span = places[name, i, "v", j].value
                assert tomllib.loads(f"v = {text[span.start : span.end]}")["v"] == value
