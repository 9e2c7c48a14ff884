"""A night played from one book: what its pages tell a guitarist to do leads to the plan.

The reader here knows only the text of the PDF: the heading of each song, and at its foot what comes
next and what to change.
"""

import re
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from chartkit.book.books import TUNED_BACK, MadeNight, made_night, sheet_rows
from chartkit.book.cache import book_cache_folder, work_cache
from chartkit.book.night import ChartText, planned_night, read_night
from chartkit.book.set_file import read_set
from chartkit.book.set_list import Player
from chartkit.book.workshop import Workshop
from chartkit.diagnostics import Source
from chartkit.theory.capo import Capo
from tests.book.sets import chart, files_of, made_of, set_text

EXAMPLES = Path(__file__).parents[2] / "examples"
DOWN = {"a half step": 1, "a whole step": 2, "a step and a half": 3}


@pytest.fixture(scope="module")
def friday() -> MadeNight:
    """The example night, made."""
    source = Source((EXAMPLES / "friday.toml").read_text(), "friday.toml")
    set_list = read_set(source, EXAMPLES).set_list
    assert set_list is not None
    texts = [ChartText(song.chart.read_text()) for song in set_list.songs]
    workshop = Workshop(work_cache(book_cache_folder()))
    night = read_night(set_list, source, texts, workshop, with_plan=True)
    return made_night(night, planned_night(night), workshop)


def pages_of(made: MadeNight, player: str) -> list[str]:
    """The text of each page of a player's book, lines joined."""
    book = files_of(made)[f"{player.casefold()}.pdf"]
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(book)).pages]


def said_at_songs(pages: list[str]) -> Iterator[tuple[int, str, str]]:
    """For each song in the book: its number, its heading, and what the foot before it said."""
    last, foot = 0, ""
    for page in pages[1:]:
        number = re.search(r"song (\d+)", page)
        if number is None:
            continue
        if int(number[1]) != last:
            last = int(number[1])
            yield last, page, foot
        after = re.search(r"(?:next[:,]|INTERVAL, then) .*", page)
        foot = after[0] if after else ""


def changed(state: dict[str, list[int]], hand: str, said: str) -> str:
    """Does to the guitars what is said, and returns the one in hand."""
    taken = re.search(r"take ([\w ]+)\.", said)
    hand = taken[1] if taken else hand
    capo, down = state[hand]
    if "Take the capo off" in said or "No capo." in said:
        capo = 0
    moved = re.search(r"Capo on fret (\d+)|capo from \d+ to (\d+)", said)
    if moved:
        capo = int(moved[1] or moved[2])
    end = r"(?:, to ([\w ]+) down|( to normal tuning)|)"
    tuned = re.search(r"Tune every string (?:down|up) [\w ]+?" + end + r"\.", said)
    if tuned:
        first = re.search(r"Tune every string down (a[\w ]+?)\.", said)
        down = DOWN[tuned[1]] if tuned[1] else 0 if tuned[2] else DOWN[first[1]] if first else down
        capo = capo if moved else 0
    state[hand] = [capo, down]
    return hand


def heading_says(page: str) -> list[Capo]:
    """The capo or the tuning that the heading of a song shows, and where the capo goes inside
    it."""
    down = re.search(r"Tuned down (a half step|a whole step|a step and a half)", page)
    capo = re.search(r"No capo|[Cc]apo (\d+)", page)
    places = [int(capo[1]) if capo and capo[1] else 0]
    moves = re.search(r"(?:[Cc]apo \d+|No capo)((?:, then (?:\d+|off))+)", page)
    if moves:
        places += [int(one) if one != "off" else 0 for one in re.findall(r"\d+|off", moves[1])]
    return [Capo(fret, DOWN[down[1]] if down else 0) for fret in places]


def planned(made: MadeNight, player: Player) -> dict[int, tuple[str, list[Capo]]]:
    """For each song a guitarist plays, by its place: the guitar, and how it stands from the start
    to the end."""
    assert made.plan is not None
    one = next(plan for plan in made.plan.players if plan.player.name == player.name)
    return {
        place: (player.guitars[step.offer.guitar].name, list(step.offer.setup.capos))
        for place, step in enumerate(one.steps, 1)
        if step is not None
    }


def play_from_book(made: MadeNight, name: str) -> None:
    """Plays a night by a guitarist's book: the heading of each song shows how the plan has the
    guitar, and doing what the feet say between the songs leads there."""
    player = next(one for one in made.night.set_list.players if one.name == name)
    plan = planned(made, player)
    state = {guitar.name: [0, guitar.tuned_down] for guitar in player.guitars}
    hand = ""
    songs = list(said_at_songs(pages_of(made, name)))
    assert [number for number, _, _ in songs] == list(plan)
    for number, page, said in songs:
        guitar, capos = plan[number]
        assert heading_says(page) == capos
        if not hand:
            # Before the first song the heading alone says how the guitar stands.
            hand = guitar
            state[hand] = [capos[0].fret, capos[0].tuned_down]
        stated = re.search(r"capo from (\d+)|it is on (\d+)", said)
        if stated:
            assert state[hand][0] == int(stated[1] or stated[2])
        hand = changed(state, hand, said)
        assert hand == guitar
        assert state[hand] == [capos[0].fret, capos[0].tuned_down]
        state[hand][0] = capos[-1].fret
        if len(player.guitars) > 1:
            assert f"on {guitar}" in page


@pytest.mark.parametrize("name", ["Tobias", "Isolde"])
def test_a_guitarist_who_reads_only_the_book_plays_the_plan(friday: MadeNight, name: str) -> None:
    """On the example night a guitarist with nothing but the book does what the plan says."""
    play_from_book(friday, name)


MOVING = """\
title: Two Places
key: G
tempo: 96
{capo}

== Verse
| G | C | D | rest |

== Last Verse
key: Bb
capo: 3
| Bb | Eb | F | Bb! |
"""
TWO_GUITARS = """
[[players]]
name = "Tobias"
reads = "both"
instrument = "guitar"

[[players]]
name = "Isolde"
reads = "both"
instrument = "guitar"
"""


@pytest.fixture(scope="module")
def moving() -> MadeNight:
    """A night with songs whose charts move the capo, between songs that do not."""
    texts = {
        "still.chart": chart("Harbour Wall", "D"),
        "moving.chart": MOVING.format(capo="capo: 0"),
        "back.chart": MOVING.format(capo="capo: 5").replace("Two Places", "And Back"),
        "flat.chart": chart("Under the Eave", "Eb"),
    }
    order = ("still", "moving", "back", "still", "moving", "flat", "back")
    return made_of(texts, set_text([f'chart = "{name}.chart"' for name in order], TWO_GUITARS))


@pytest.mark.parametrize("name", ["Tobias", "Isolde"])
def test_a_capo_moved_inside_a_song_is_known_to_the_next(moving: MadeNight, name: str) -> None:
    """Where a chart moves the capo, the foot of the song counts from where it ended."""
    play_from_book(moving, name)


def test_charts_that_move_the_capo_are_played_so(moving: MadeNight) -> None:
    """The first guitarist moves the capo as the chart says; the one who keeps clear may stay in
    one place; the set sheet shows each guitarist's moves."""
    assert moving.plan is not None
    tobias, isolde = moving.plan.players
    steps = [step.offer.setup.capos for step in tobias.steps if step is not None]
    assert [capos for capos in steps if len(capos) > 1] == [
        (Capo(), Capo(3)),
        (Capo(5), Capo(3)),
        (Capo(), Capo(3)),
        (Capo(5), Capo(3)),
    ]
    assert "beside" in isolde.reasons
    sheet = PdfReader(BytesIO(files_of(moving)["set-sheet.pdf"])).pages[0]
    text = " ".join(sheet.extract_text().split())
    both = [*tobias.steps, *isolde.steps]
    for words, capos in (
        ("no capo, then 3", (Capo(), Capo(3))),
        ("capo 5, then 3", (Capo(5), Capo(3))),
    ):
        assert text.count(words) == sum(
            s is not None and s.offer.setup.capos == capos for s in both
        )


def test_a_player_whose_capo_is_not_welcome_so_high_stays_in_one_place() -> None:
    """Moves beyond ``highest_capo`` are not planned; one capo is, for the whole song."""
    texts = {"moving.chart": MOVING.format(capo="capo: 0")}
    players = TWO_GUITARS.partition('[[players]]\nname = "Isolde"')[0] + "highest_capo = 2\n"
    made = made_of(texts, set_text(['chart = "moving.chart"'], players))
    assert made.plan is not None
    (step,) = made.plan.players[0].steps
    assert step is not None
    assert not step.offer.moves
    assert step.offer.option.fret <= 2
    (page,) = [page for page in pages_of(made, "Tobias") if "song 1" in page]
    assert ", then 3" not in page


DROPPED = """\
title: Crow on the Millstone
key: D
instrument: drop D
tempo: 90
shape: D 000232

== Verse
| D | G | A | D |
"""


def tuned_as_said(said: str, strings: list[str]) -> None:
    """Tunes single strings, counted from the treble side, as a book says."""
    for numbers, notes in re.findall(
        r"Tune strings? ([\d, and]+) [\w ]+, (?:back )?to ([^.]+)\.", said
    ):
        for number, note in zip(
            re.findall(r"\d", numbers), re.findall(r"[A-G]", notes), strict=True
        ):
            strings[6 - int(number)] = note


@pytest.mark.parametrize(
    ("tuning", "notes"),
    [("drop D", "DADGBE"), ("DADGAD", "DADGAD"), ("C2 G2 D3 G3 B3 D4", "CGDGBD")],
)
def test_a_tuning_of_the_chart_is_said_before_and_after(tuning: str, notes: str) -> None:
    """Where a chart names another tuning of the guitar, the plan, the set sheet and the book have
    the strings tuned for that song, and tuned back for the next."""
    texts = {
        "still.chart": chart("Harbour Wall", "D"),
        "crow.chart": DROPPED.replace("drop D", tuning),
    }
    order = ("still", "crow", "still", "crow")
    players = TWO_GUITARS.partition('[[players]]\nname = "Isolde"')[0] + "diagrams = true\n"
    made = made_of(texts, set_text([f'chart = "{name}.chart"' for name in order], players))
    assert made.plan is not None
    assert made.plan.players[0].changes.retunes == 3
    strings = list("EADGBE")
    for number, page, said in said_at_songs(pages_of(made, "Tobias")):
        tuned_as_said(said, strings)
        assert "".join(strings) == (notes if number % 2 == 0 else "EADGBE")
        assert (" ".join(notes) in page) == (number % 2 == 0)
    assert "Check the tuning." in said
    cells = [row.cells[0] for row in sheet_rows(made)]
    shown = [cell.setting for cell in cells if cell is not None]
    name = tuning if tuning in ("drop D", "DADGAD") else " ".join(notes)
    assert [name in setting for setting in shown] == [False, True, False, True]
    below = [cell.guitar for cell in cells if cell is not None]
    assert [TUNED_BACK in words for words in below] == [False, False, True, False]


def test_a_guitar_that_has_the_tuning_is_taken_up() -> None:
    """A player who brings a guitar in the chart's tuning retunes none."""
    texts = {"still.chart": chart("Harbour Wall", "D"), "crow.chart": DROPPED}
    guitars = 'guitars = [{ name = "cedar" }, { name = "crow guitar", tuning = "drop D" }]\n'
    players = TWO_GUITARS.partition("instrument")[0] + 'instrument = "guitar"\n' + guitars
    order = ("still", "crow", "still")
    made = made_of(texts, set_text([f'chart = "{name}.chart"' for name in order], players))
    assert made.plan is not None
    (tobias,) = made.plan.players
    assert tobias.changes.retunes == 0
    assert [step.offer.guitar for step in tobias.steps if step is not None][1] == 1


def test_whoever_stays_in_their_tuning_reads_no_other() -> None:
    """A guitarist who plays the song in their own tuning reads nothing of the chart's, nor the
    shapes that it gives for that."""
    texts = {"crow.chart": DROPPED}
    players = '[[players]]\nname = "Tobias"\ninstrument = "ukulele"\ndiagrams = true\n'
    made = made_of(texts, set_text(['chart = "crow.chart"'], players))
    (page,) = [page for page in pages_of(made, "Tobias") if "song 1" in page]
    assert "D A D G B E" not in page
    assert "Ukulele" in page


@pytest.mark.parametrize("reads", ["sounding", "words", "road-map", "numbers"])
def test_whoever_has_no_guitar_reads_no_tuning(reads: str) -> None:
    """A pianist, a singer and a drummer read nothing of the guitar's tuning."""
    players = f'[[players]]\nname = "Wendel"\nreads = "{reads}"\n'
    made = made_of({"crow.chart": DROPPED}, set_text(['chart = "crow.chart"'], players))
    (page,) = [page for page in pages_of(made, "Wendel") if "song 1" in page]
    assert "Crow on the Millstone" in page and "drop" not in page.lower()


def test_nobody_retunes_a_whole_guitar_on_stage_unasked() -> None:
    """Live, a guitar is tuned down for songs only where the set file says so; one that comes tuned
    down stays so; in the studio there is time."""
    keys = ("Eb", "Ab", "Db", "Eb")
    texts = {f"{n}.chart": chart(f"Song {n}", key) for n, key in enumerate(keys)}
    songs = [f'chart = "{name}"' for name in texts]

    def downs(players: str, stage: str = "") -> set[int]:
        made = made_of(texts, set_text(songs, players, stage))
        assert made.plan is not None
        steps = (step for plan in made.plan.players for step in plan.steps)
        return {step.offer.option.tuned_down for step in steps if step is not None}

    one = '[[players]]\nname = "Bo"\ninstrument = "guitar"\n'
    assert downs(one) == {0}
    assert downs(TWO_GUITARS) == {0}
    assert downs(f'{one}guitars = [{{ name = "blue", tuned_down = 1 }}]\n') == {1}
    assert 1 in downs(f"{one}tune_down = 1\nhighest_capo = 0\n")
    assert downs(f"{one}highest_capo = 0\n", 'stage = { place = "studio" }') - {0}


def test_a_night_on_a_guitar_that_comes_tuned_down_can_be_played_from_the_book() -> None:
    """The front says how the guitar comes, every heading has tuning and capo, and a capo that only
    brings the strings back to pitch leaves one line of chords under the key that sounds."""
    keys = ("G", "Bb", "Db", "E")
    texts = {f"{n}.chart": chart(f"Song {n}", key) for n, key in enumerate(keys)}
    players = (
        '[[players]]\nname = "Bo"\nreads = "both"\ninstrument = "guitar"\n'
        'guitars = [{ name = "blue", tuned_down = 1 }]\n'
    )
    made = made_of(texts, set_text([f'chart = "{name}"' for name in texts], players))
    play_from_book(made, "Bo")
    front, first, *_ = pages_of(made, "Bo")
    assert "Guitar, tuned down a half step. Before the first song: Capo on fret 1." in front
    assert "Tuned down a half step, capo 1" in first and "Key of G major" in first
    assert "what sounds" not in first
