"""A second guitarist's own part in the books of a night."""

from io import BytesIO
from pathlib import Path

from pypdf import PdfReader

from chartkit.advise.part.propose import propose_parts
from chartkit.advise.ranking import played_option
from chartkit.advise.register import part_of
from chartkit.advise.song import song_of
from chartkit.book.make_song import PartAsked, tonights_chart, tonights_look
from chartkit.book.night import planned_night
from chartkit.book.readings import player_requests
from chartkit.book.set_file import read_set
from chartkit.diagnostics import Source
from chartkit.fretboard.instruments import GUITAR
from chartkit.syntax.reader import read_chart
from tests.book.sets import chart, files_of, made_of, night_of, set_text

PLAYERS = """
[[players]]
name = "Ada"
reads = "both"
instrument = "guitar"

[[players]]
name = "Bo"
reads = "both"
instrument = "guitar"
part = true
"""
TEXTS = {"a.chart": chart("Ferry Lights", "Db"), "b.chart": chart("Salt Road", "E")}
SONGS = ['chart = "a.chart"', 'chart = "b.chart"']


def test_the_part_lies_beside_the_first_guitars_plan() -> None:
    """The second guitarist is asked for a part beside the capo that the plan gives the first,
    and nothing is planned for the part itself."""
    night = night_of(TEXTS, set_text(SONGS, PLAYERS))
    plan = planned_night(night)
    assert [one.player.name for one in plan.players] == ["Ada"]
    ada, bo = player_requests(night, plan)
    for place, request in enumerate(bo.requests):
        step = ada.plan.steps[place] if ada.plan is not None else None
        assert request is not None
        assert step is not None
        assert request.part == PartAsked(GUITAR, GUITAR, step.offer.option, "Bo")


def test_the_pages_are_the_part() -> None:
    """The part's pages say what it is and show its shapes; they are those of the part that is
    proposed for the song beside that capo."""
    made = made_of(TEXTS, set_text(SONGS, PLAYERS))
    bo = made.books[1]
    request = bo.part.requests[0]
    assert request is not None
    assert request.part is not None
    assert request.part.first_capo is not None
    assert request.look.diagrams
    song = read_chart(Source(TEXTS["a.chart"])).chart
    first = part_of(
        song_of(song), played_option(song_of(song), request.part.first_capo, GUITAR), GUITAR
    )
    proposal = propose_parts(song, first, GUITAR)[0]
    book = files_of(made)["bo.pdf"]
    text = PdfReader(BytesIO(book)).pages[1].extract_text()
    shown = " ".join(text.split())
    assert f"second guitar: {proposal.place}" in shown
    assert "sharing" not in shown
    assert not bo.songs[0].change


def test_a_written_part_keeps_its_capo_and_shows_its_grips() -> None:
    """A chart that is a guitar's part is planned where its grips lie, and its pages draw them; the
    same chart without ``part:`` is a song like any other."""
    song = chart("Ferry Lights", "Db").replace("\n\n", "\nshape: Db x4312x\n\n", 1)
    part = song.replace("\n", "\npart: second guitar: inner strings\n", 1)
    for text, capo, drawn in ((part, 0, True), (song, 1, False)):
        night = night_of({"a.chart": text}, set_text(SONGS[:1], PLAYERS.partition("\n\n")[0]))
        plan = planned_night(night)
        assert plan is not None
        request = player_requests(night, plan)[0].requests[0]
        assert request is not None
        assert request.capo is not None
        assert request.capo.raised == capo
        assert tonights_look(request, tonights_chart(request)[0]).diagrams == drawn


def test_where_the_first_guitarist_rests_the_part_is_free() -> None:
    """In a song that the first guitarist sits out there is nobody to keep clear of."""
    players = PLAYERS.replace('"guitar"\n\n', '"guitar"\nsits_out = [1]\n\n', 1)
    night = night_of(TEXTS, set_text(SONGS, players))
    request = player_requests(night, planned_night(night))[1].requests[0]
    assert request is not None
    assert request.part == PartAsked(GUITAR, player="Bo")


def test_a_part_is_played_on_its_players_own_guitar() -> None:
    """Where the chart names a tuning, the first guitarist retunes; the part's page shows grips of
    the player's own guitar and no other tuning, and its book says how to begin."""
    dropped = TEXTS["b.chart"].replace("key: E", "key: D\ninstrument: drop D")
    made = made_of({"b.chart": dropped}, set_text(['chart = "b.chart"'], PLAYERS))
    assert "to D" in made.books[0].songs[0].change
    ada, bo = (PdfReader(BytesIO(files_of(made)[f"{name}.pdf"])).pages for name in ("ada", "bo"))
    assert "Drop D" in ada[1].extract_text()
    assert "Drop D" not in bo[1].extract_text()
    assert "Guitar. Before the first song: No capo." in bo[0].extract_text()


def test_a_part_needs_somebody_beside() -> None:
    """A part without another guitarist, or beside nobody, is a mistake with its place."""
    alone = PLAYERS.replace('reads = "both"\ninstrument = "guitar"\n\n', 'reads = "words"\n\n', 1)
    for players in (alone, PLAYERS + 'beside = "nobody"\n'):
        reading = read_set(Source(set_text(SONGS, players), "s.toml"), Path("/nowhere"))
        assert [one.code for one in reading.diagnostics] == ["no-guitar"]
    other = PLAYERS.replace("part = true", 'beside = "Cy"')
    reading = read_set(Source(set_text(SONGS, other), "s.toml"), Path("/nowhere"))
    assert [one.code for one in reading.diagnostics] == ["unknown-player"]
