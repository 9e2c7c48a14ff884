"""What stands in parentheses beside words, or on a line of its own: said to the players or sung.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import Part, parts_of, plain_letters

_SONG = """The Ferryman's Bell

Verse 1
G               D
Ring me over, ring me home{behind}
C               G
Ring me where the herons roam{last}

Chorus
C            G
Low, low, low on the water{chorus}
D            G
Slow, slow, slow with the tide

Verse 2
Rope me to the willow tree
Rope the willow down to me
"""


def _parts(behind: str = "", last: str = "", chorus: str = "") -> list[Part]:
    return parts_of(taken(_SONG.format(behind=behind, last=last, chorus=chorus)).chart)


@each(
    "said",
    [
        "drums out",
        "hold",
        "Nell only",
        "snare roll up",
        "horns stab",
        "cut on my hand",
        "everybody stop, freeze",
        "tutti, very broad",
        "unaccompanied",
        "nur Bass",
        "accordéon seul",
    ],
)
def test_what_is_said_behind_words(said: str) -> None:
    """It is a cue, and nobody sings it."""
    verse, *_ = _parts(last=f" ({said})")
    assert verse.words.endswith("heronsroam")
    assert said in verse.cues


@each(
    "answer",
    [
        "ring me home",
        "ring, ring, ring me home",
        "home, home, home",
        "ooh, ooh",
        "all the way home",
        "oh yeah",
        "where the herons, where the herons roam",
    ],
)
def test_what_a_choir_answers_behind_words(answer: str) -> None:
    """It is sung."""
    verse, *_ = _parts(last=f" ({answer})")
    assert verse.words.endswith(plain_letters(answer))
    assert verse.cues == []


def test_what_is_said_amid_words() -> None:
    """Words stand before and behind it."""
    verse, *_ = parts_of(
        taken(
            _SONG.format(behind="", last="", chorus="").replace("over,", "over (dead stop)")
        ).chart
    )
    assert "dead stop" in verse.cues
    assert verse.words.startswith("ringmeoverringmehome")


def test_what_is_said_behind_words_with_chords_among_them() -> None:
    """The chords stay where they are."""
    text = (
        "(G)Ring me over, (D)ring me home\n(C)Ring me where the (G)herons roam (bass enters)\n"
        "(G)Rope me to the (D)willow tree\n(C)Rope the willow (G)down to me\n"
    )
    (verse,) = parts_of(taken(text).chart)
    assert verse.music == ["G", "D", "C", "G", "G", "D", "C", "G"]
    assert verse.cues == ["bass enters"]
    assert "bass" not in verse.words


def test_an_answer_on_a_line_of_its_own_needs_no_chords() -> None:
    """A second verse with an answer between its lines has the music of the first."""
    text = _SONG.format(behind="", last="", chorus="").replace(
        "willow tree\n", "willow tree\n(rope me to the willow tree)\n"
    )
    verse, _, second = parts_of(taken(text).chart)
    assert second.music == verse.music
    assert second.words.startswith("ropemetothewillowtree" * 2)


def test_one_short_line_more_in_a_second_verse() -> None:
    """The verse has the music of the first, and the sheet's reader is asked to check."""
    text = (
        "The Toll\n\nVerse 1\nC            G\nEvery lantern on the lane went out\n"
        "Am           F\nEvery sleeper turned himself about\n"
        "C            G\nSomebody was knocking at the gate\n\n"
        "Verse 2\nNobody had money for the toll\nNobody had anything at all\n"
        "Wait a while\nEverybody waited by the wall\n"
    )
    result = taken(text)
    first, second = parts_of(result.chart)
    assert second.music == first.music
    assert "waitawhile" in second.words
    assert "one-line-more" in codes(result)


def test_a_remark_between_a_row_and_its_words() -> None:
    """The words stand under their chords, and the next verse has the music."""
    text = _SONG.format(behind="", last="", chorus="").replace(
        "C               G\n", "C               G\nmuch softer here\n", 1
    )
    verse, _, second = parts_of(taken(text).chart)
    assert verse.cues == ["much softer here"]
    assert second.music == verse.music


def test_chords_among_words_stay_where_an_outro_stands_below() -> None:
    """A name alone and an outro below the last verse are no list of chords for the whole song."""
    text = (
        "Verse 1\n(Am)Ring me over, (E7)ring me home\n(F)Ring me where the (E7)herons roam\n\n"
        "Chorus\n(F)Low on the water, (C)low on the sand\n(G)Ring in the other (Am)hand\n\n"
        "Chorus\n\nOutro: Am F E7\n"
    )
    verse, chorus, again, outro = parts_of(taken(text).chart)
    assert (verse.music, outro.music) == (["Am", "E7", "F", "E7"], ["Am", "F", "E7"])
    assert again.words == chorus.words != ""
