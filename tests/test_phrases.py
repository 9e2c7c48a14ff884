"""What sentences of messages share."""

import re
from pathlib import Path

from chartkit.phrases import nearest


def test_the_nearest_name_is_given_as_it_is_spelt() -> None:
    """Capitals count neither in the word nor in the names; nothing like it is the empty text."""
    names = ("MusicXML", "midi", "Ana Lúcia")
    assert nearest("musicxm", names) == "MusicXML"
    assert nearest("MIDDI", names) == "midi"
    assert nearest("ana lucia", names) == "Ana Lúcia"
    assert nearest("drum", names) == ""
    assert nearest("", names) == ""
    assert nearest("xml", names) == "MusicXML"
    assert nearest("chorus", ("chorus one, loud", "chorus two, soft")) == ""
    assert nearest("midi", ()) == ""


def test_a_word_of_any_length_is_compared() -> None:
    """A word of a million letters is cut before it is compared."""
    assert nearest("midi" * 250_000, ("midi",)) == ""


def test_names_are_compared_in_one_place() -> None:
    """No other module compares names by likeness itself."""
    room = Path(__file__).parents[1] / "chartkit"
    comparing = [
        path.name
        for path in room.rglob("*.py")
        if re.search(r"\bdifflib\b", path.read_text(encoding="utf-8"))
    ]
    assert comparing == ["phrases.py"], comparing
