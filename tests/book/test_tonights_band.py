"""A night that some of the band cannot come to."""

from pathlib import Path

import pytest

from chartkit.book.set_file import SetReading, read_set
from chartkit.book.tonights_band import UnknownPlayer
from chartkit.diagnostics import Source
from chartkit.theory.capo import Capo
from tests.book.sets import set_text

BAND = """
[[players]]
name = "Ada"
reads = "words"

[[players]]
name = "Bo"
instrument = "guitar"

[[players]]
name = "Cy"
instrument = "guitar"
beside = "Bo"

[[players]]
name = "Di"
instrument = "guitar"
part = true
beside = "Bo"
sits_out = [2]
"""
SONGS = ('chart = "a.chart"\ncapo = { Bo = 2, Cy = 4 }', 'chart = "b.chart"\ncapo = 1')


def tonight(*without: str) -> SetReading:
    """The set as it is read without those players."""
    return read_set(Source(set_text(SONGS, BAND)), Path("/nowhere"), without)


def test_without_nobody_the_band_is_the_files() -> None:
    """Nothing is said, and everybody plays as the file has it."""
    reading = tonight()
    assert reading.set_list is not None
    assert reading.said == ()
    assert [one.name for one in reading.set_list.players] == ["Ada", "Bo", "Cy", "Di"]


def test_a_part_goes_to_the_next_guitarist() -> None:
    """Without the guitarist whom two keep clear of, one of them leads and the other plays the part
    beside that one, and the capos given to the missing one are left out."""
    reading = tonight("bo")
    assert reading.set_list is not None
    band = {one.name: one for one in reading.set_list.players}
    assert list(band) == ["Ada", "Cy", "Di"]
    assert (band["Cy"].beside, band["Di"].beside) == ("", "Cy")
    assert band["Di"].part is not None
    assert reading.said == ("Di plays a part beside Cy tonight",)
    assert [one.capos.get("Cy") for one in reading.set_list.songs] == [Capo(4), Capo(1)]
    assert not any("Bo" in one.capos for one in reading.set_list.songs)


def test_without_another_guitarist_a_part_becomes_full_chords() -> None:
    """The player of the part is the only guitarist then, and still sits out what was sat out; only
    guitarists are named as missing."""
    reading = tonight("Bo", "Cy", "Ada")
    assert reading.set_list is not None
    (alone,) = reading.set_list.players
    assert (alone.name, alone.part, alone.beside, alone.look.show) == ("Di", None, "", "both")
    assert len(alone.guitars) == 1
    assert alone.sits_out == ("2",)
    assert alone.sits_out_spans[0].start == set_text(SONGS, BAND).index("2]")
    assert reading.said == ("Di plays full chords tonight, since Bo and Cy are not there",)


UKULELE = '\n[[players]]\nname = "Petra"\ninstrument = "ukulele"\n'


def test_a_part_is_played_beside_a_guitar_before_a_ukulele() -> None:
    """A ukulele first in the file does not draw the part to it, and when no guitarist can come the
    player of the part plays full chords: a ukulele alone leaves a band thin (common practice, no
    source).  A part beside a ukulele that the file names stays beside it."""
    own = BAND.replace('part = true\nbeside = "Bo"', "part = true")

    def di(band: str, *without: str) -> tuple[bool, str, tuple[str, ...]]:
        reading = read_set(Source(set_text(SONGS, band)), Path("/nowhere"), without)
        assert reading.set_list is not None
        one = reading.set_list.players[-1]
        return one.part is not None, one.beside, reading.said

    assert di(UKULELE + own) == (True, "Bo", ())
    assert di(UKULELE + own, "Bo") == (True, "Cy", ("Di plays a part beside Cy tonight",))
    full = "Di plays full chords tonight, since Bo and Cy are not there"
    assert di(UKULELE + own, "Bo", "Cy") == (False, "", (full,))
    named = own.replace("part = true", 'part = true\nbeside = "Petra"')
    assert di(UKULELE + named, "Bo", "Cy") == (True, "Petra", ())
    alone = BAND[BAND.index('\n[[players]]\nname = "Di"') :].replace('beside = "Bo"\n', "")
    songs = ('chart = "a.chart"', 'chart = "b.chart"')
    reading = read_set(Source(set_text(songs, UKULELE + alone)), Path("/nowhere"))
    assert reading.set_list is not None and reading.set_list.players[-1].beside == "Petra"


@pytest.mark.parametrize(
    ("names", "message", "hint"),
    [
        (["Boo"], 'nobody in the set is called "Boo"', 'did you mean "Bo"?'),
        (["Zebedee"], "nobody in the set", "the players are Ada, Bo, Cy and Di"),
        (["Ada", "Bo", "Cy", "Di"], "nobody is left to play", "leave out fewer players"),
    ],
)
def test_names_that_help_nobody(names: list[str], message: str, hint: str) -> None:
    """An unknown name and an empty stage are refused with a way out."""
    with pytest.raises(UnknownPlayer, match=message) as refused:
        tonight(*names)
    assert refused.value.hint == hint


def test_a_part_beside_nobody_has_one_mistake_with_one_way_out() -> None:
    """With the other guitarists taken out of the file, one message says what to take out."""
    only = (
        BAND[: BAND.index('\n[[players]]\nname = "Bo"')]
        + BAND[BAND.index('\n[[players]]\nname = "Di"') :]
    )
    reading = read_set(Source(set_text(['chart = "a.chart"'], only)), Path("/nowhere"))
    (mistake,) = reading.diagnostics
    assert mistake.message == "Di has nobody to play a part beside"
    assert mistake.hints[0].startswith("take out part and beside, and Di plays full chords; ")
