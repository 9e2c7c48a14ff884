"""Every option of a page can be said for a player or for all, and reaches the player's pages."""

from pathlib import Path

from chartkit.arrange.page_look import PAGE_OPTIONS, PageLook, PageOption
from chartkit.book.set_file import SetReading, read_set
from chartkit.book.set_list import SetList
from chartkit.book.set_model import SAID_BY_READS, SET_PAGE_OPTIONS
from chartkit.diagnostics import Source
from tests.each import each

SAMPLES = {"size": ('"0.9-1.1"', "0.9-1.1"), "font": ('"own.ttf"', "own.ttf")}
"""How options that are no choice and no switch are written in a set file, and typed."""


def reading(pages: str = "", player: str = "") -> SetReading:
    """A set of one player with page options for all and for the player."""
    text = (
        f'name = "Night"\n[pages]\n{pages}\n'
        f'[[players]]\nname = "Ada"\nreads = "sounding"\n{player}\n'
        '[[songs]]\nchart = "a.chart"\n'
    )
    return read_set(Source(text, "s.toml"), Path("/nights"))


def look(pages: str = "", player: str = "") -> PageLook:
    """The look of the player's pages."""
    read = reading(pages, player)
    assert isinstance(read.set_list, SetList), read.diagnostics
    return read.set_list.players[0].look


def another(option: PageOption) -> tuple[str, object]:
    """A value that is not the usual one, as a set file writes it, and what it means."""
    if option.choices:
        value = next(one for one in option.choices if one != option.default)
        return f'"{value}"', value
    if option.read is None:
        return str(not option.default).lower(), not option.default
    written, typed = SAMPLES[option.name]
    value = option.read(typed)
    return written, Path("/nights") / value if isinstance(value, Path) else value


@each("option", SET_PAGE_OPTIONS, ids=lambda option: option.name)
def test_each_option_can_be_said_for_all_and_for_a_player(option: PageOption) -> None:
    """An option in [pages] holds for a player who says nothing; the player's own comes first."""
    written, value = another(option)
    line = f"{option.name} = {written}"
    assert getattr(look(pages=line), option.name) == value
    assert getattr(look(player=line), option.name) == value
    assert getattr(look(), option.name) == option.default
    if option.choices:
        usual = f'{option.name} = "{option.default}"'
        assert getattr(look(pages=line, player=usual), option.name) == option.default


def test_no_option_is_forgotten() -> None:
    """Whatever engrave can do for a page a set file can say, by ``reads`` or by its own name."""
    said = {one.name for one in SET_PAGE_OPTIONS} | set(SAID_BY_READS)
    assert said == {one.name for one in PAGE_OPTIONS}


def test_a_size_of_ones_own_beats_large_print_for_all() -> None:
    """Size and large print exclude each other: the player's own word counts."""
    assert not look(pages="large = true", player="size = 1.1").large
    assert look(pages="size = 1.1", player="large = true").size is None


def test_wrong_values_are_explained() -> None:
    """A size out of reach is said with its place and what would do."""
    (wrong,) = reading(player='size = "9"').diagnostics
    assert wrong.code == "bad-value"
    assert "out of reach" in wrong.message
    (both,) = reading(player="size = 1.1\nlarge = true").diagnostics
    assert "not both" in both.message
