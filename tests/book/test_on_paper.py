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

from chartkit.book.books import BookOptions, MadeNight, files, made_night
from chartkit.book.cache import work_cache
from chartkit.book.night import ChartText, planned_night, read_night
from chartkit.book.set_file import read_set
from chartkit.book.set_list import Player
from chartkit.book.workshop import Workshop
from chartkit.diagnostics import Source
from chartkit.theory.capo import Capo

EXAMPLES = Path(__file__).parents[2] / "examples"
DOWN = {"a half step": 1, "a whole step": 2, "a step and a half": 3}


@pytest.fixture(scope="module")
def friday() -> MadeNight:
    """The example night, made."""
    source = Source((EXAMPLES / "friday.toml").read_text(), "friday.toml")
    set_list = read_set(source, EXAMPLES).set_list
    assert set_list is not None
    texts = [ChartText(song.chart.read_text()) for song in set_list.songs]
    workshop = Workshop(work_cache(None))
    night = read_night(set_list, source, texts, workshop, True)
    return made_night(night, planned_night(night), workshop)


def pages_of(made: MadeNight, player: str) -> list[str]:
    """The text of each page of a player's book, lines joined."""
    book = dict(files(made, BookOptions()))[f"{player.casefold()}.pdf"]
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
        after = re.search(r"next: .*", page)
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
    end = r"(?:, to ([\w ]+) down|( to standing pitch)|)"
    tuned = re.search(r"Tune every string (?:down|up) [\w ]+?" + end + r"\.", said)
    if tuned:
        first = re.search(r"Tune every string down (a[\w ]+?)\.", said)
        down = DOWN[tuned[1]] if tuned[1] else 0 if tuned[2] else DOWN[first[1]] if first else down
        capo = capo if moved else 0
    state[hand] = [capo, down]
    return hand


def heading_says(page: str) -> Capo:
    """The capo or the tuning that the heading of a song shows."""
    down = re.search(r"Tuned down (a half step|a whole step|a step and a half)", page)
    capo = re.search(r"Capo (\d+)", page)
    return Capo(int(capo[1]) if capo else 0, DOWN[down[1]] if down else 0)


def planned(made: MadeNight, player: Player) -> dict[int, tuple[str, Capo]]:
    """For each song a guitarist plays, by its place: the guitar and how it stands."""
    assert made.plan is not None
    one = next(plan for plan in made.plan.players if plan.player.name == player.name)
    return {
        place: (player.guitars[step.offer.guitar].name, step.offer.option)
        for place, step in enumerate(one.steps, 1)
        if step is not None
    }


@pytest.mark.parametrize("name", ["Tobias", "Isolde"])
def test_a_guitarist_who_reads_only_the_book_plays_the_plan(friday: MadeNight, name: str) -> None:
    """The heading of each song shows how the plan has the guitar, and doing what the feet say
    between the songs leads there."""
    player = next(one for one in friday.night.set_list.players if one.name == name)
    plan = planned(friday, player)
    state = {guitar.name: [0, guitar.tuned_down] for guitar in player.guitars}
    hand = ""
    songs = list(said_at_songs(pages_of(friday, name)))
    assert [number for number, _, _ in songs] == list(plan)
    for number, page, said in songs:
        guitar, option = plan[number]
        assert heading_says(page) == option
        if not hand:
            # Before the first song the heading alone says how the guitar stands.
            hand = guitar
            state[hand] = [option.fret, option.tuned_down]
        hand = changed(state, hand, said)
        assert hand == guitar
        assert state[hand] == [option.fret, option.tuned_down]
        if len(player.guitars) > 1:
            assert f"on {guitar}" in page
