"""Lines in parentheses among words: echoes are sung, what is done meanwhile is not.

That echoes say the end of a line again is common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of, plain_letters

_FIRST = "Bean Song\n\nVerse 1\nC           F\nJump little bean, jump up high\nG           C\n"
_FIRST += "Touch the clouds up in the sky\n"
_CHORUS = (
    "\nChorus\nF           C\nBeans in a row on the wall\nG           C\nNobody counts them all\n"
)


@each("move", ["(touch the floor)", "(auf den Boden setzen)", "(Sentados)", "(guguda)"])
def test_what_is_done_meanwhile_is_a_remark(move: str) -> None:
    """A verse that has the lines of the first without it needs no place for it."""
    text = f"{_FIRST}(hop on the spot)\n{_CHORUS}\nVerse 2\nTurn little bean, turn around\n"
    parts = parts_of(taken(f"{text}Put your hands upon the ground\n{move}\n\nChorus\n").chart)
    assert parts[0].cues == ["hop on the spot"]
    assert parts[2].words == plain_letters(
        "Turn little bean turn around Put your hands upon the ground"
    )
    assert parts[2].cues == [move.strip("()")]


def test_a_move_between_two_lines() -> None:
    """The verse has the music of the first all the same."""
    text = f"{_FIRST}\nVerse 2\nTurn little bean, turn around\n(wave your arms about)\n"
    parts = parts_of(taken(f"{text}Put your hands upon the ground\n").chart)
    assert parts[1].music == parts[0].music
    assert parts[1].cues == ["wave your arms about"]


def test_echoes_are_sung() -> None:
    """What a line in parentheses says again of the line above is sung, with chords and without."""
    text = (
        "Echo\n\nVerse 1\nG             C\nWho is that up on the hill\n(up on the hill)\n"
        "G             D\nStanding there so very still\n(very still)\n\nVerse 2\n"
        "Who is that down in the well\n(in the well)\nRinging on a silver bell\n(silver bell)\n"
    )
    parts = parts_of(taken(text).chart)
    assert not parts[0].cues and not parts[1].cues
    assert parts[0].words.endswith("stillverystill") and parts[1].words.endswith("bellsilverbell")


def test_an_answer_that_stands_once_is_reported() -> None:
    """Where it is kept as sung, a finding stands at its line."""
    text = f"{_FIRST}\nBridge\nWhere did all the beans go then\n(nobody knows where they are)\n"
    result = taken(text)
    assert "nobodyknows" in parts_of(result.chart)[1].words
    assert "maybe-a-remark" in [one.code for one in result.findings if one.line == 11]
