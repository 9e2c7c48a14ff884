"""Names of sections that only the whole sheet shows: underlined ones, and codes in the head.

Both forms are common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_ROWS = "G  C  G  D\nG  C  D  G\n"
_WORDS = "My daddy laid the gravel with a shovel and a psalm\nHe had a road to nowhere\n"


def _underlined(name: str, rule: str = "-") -> str:
    return f"{name}\n{rule * len(name)}\n"


@each("rule", ["-", "=", "~"])
def test_underlined_lines_are_names(rule: str) -> None:
    """Where names of sections are underlined, other words that are so are names too."""
    heads = [
        _underlined(name, rule) for name in ("In", "Verse 1", "Chorus", "Turn (fiddle)", "Out")
    ]
    text = "Gravel\n\n" + "\n".join(
        f"{head}{_ROWS}{_WORDS * (1 <= at <= 2)}" for at, head in enumerate(heads)
    )
    names = [name.partition(" (")[0] for name in names_of_parts(text)]
    assert names == ["In", "Verse 1", "Chorus", "Turn", "Out"]


def test_a_title_over_a_rule_stays_a_title() -> None:
    """The first line of a sheet is its title, underlined or not."""
    text = _underlined("Gravel and Grace") + "\n"
    text += "\n".join(
        f"{_underlined(name)}{_ROWS}{_WORDS}" for name in ("Verse", "Chorus", "Bridge")
    )
    result = taken(text)
    assert result.chart.text("title") == "Gravel and Grace"
    assert names_of_parts(text) == ["Verse", "Chorus", "Bridge"]


_BARS = "G | C | D | G\nG | Em | A | D\n"
_CODED = f"Heel and Toe\nkey G\nI V1 C I V2 C C\n\nI (fiddle)\n{_BARS}\nV1\n{_BARS}{_WORDS}\n"


def test_codes_that_the_head_lists_are_names() -> None:
    """A letter that stands alone over lines of its own, and that a line of the head lists with the
    other names, is a name though it could be a chord; that line is the order."""
    text = f"{_CODED}C\n{_BARS}{_WORDS}\nV2\n{_BARS}{_WORDS}"
    assert "codes-as-names" in codes(taken(text))
    names = [name.partition(" (")[0] for name in names_of_parts(text)]
    assert names == ["I", "V1", "C", "I", "V2", "C", "C"]


def test_a_chord_alone_is_no_name() -> None:
    """Without such a line a letter alone over words is a chord."""
    text = "Moth Song\n\nVerse\nC\nMoth, come in\nG\nSit by me\n"
    assert names_of_parts(text) == ["Verse"]
    assert "codes-as-names" not in codes(taken(text))


@each(
    ("row", "again", "times"),
    [
        ("[Drop] G C D D", "[Drop]", 1),
        ("[Drop - 4x] G C D D", "[Drop - 4x]", 4),
        ("[Lift-off x2] | G | C |", "[Lift-off x2]", 2),
    ],
)
def test_names_in_brackets_before_chords(row: str, again: str, times: int) -> None:
    """Where known names stand so, any other is a name too, and asks for its section alone."""
    text = f"Gravel\nKey: G\n\n[Intro] G C\n[Verse - 2x] G D\n{row}\n[Verse]\n{again}\n"
    result = taken(text)
    name = again[1:].partition(" ")[0].strip("]")
    ours = [one for one in result.chart.sections if one.name == name]
    assert [one.times for one in ours] == [times, times]
    assert "section-by-place" in codes(result)


def test_chords_in_brackets_are_no_names() -> None:
    """A chord in brackets before chords, and words without a known name, stay."""
    for row in ("[G] C D", "[oh yes] G C D"):
        assert "section-by-place" not in codes(taken(f"Gravel\n\nVerse\nG C\nla la la\n{row}\n"))


def test_a_word_that_is_counted_on() -> None:
    """A word behind one number after another is a name, and its second has the music of the
    first."""
    sheet = (
        f"Kasten\n\n1. Gstanzl\n{_ROWS}Holla mento\nmolla rento\n\nJodler\nF  C\nholla di\n\n"
        "2. Gstanzl (leise)\nSolla kento\nrisa vento\n\nJodler\n"
    )
    assert names_of_parts(sheet) == ["1. Gstanzl", "Jodler", "2. Gstanzl", "Jodler"]
    first, _, second, _ = parts_of(taken(sheet).chart)
    assert (second.music, second.words) == (first.music, "sollakentorisavento")


@each("words", [("Waltz", "Polka"), ("Verse", "Verse")])
def test_other_words_behind_numbers(words: tuple[str, str]) -> None:
    """Different words, or names that everybody knows, are what they were."""
    first, second = words
    text = f"Set\n\n1. {first}\n| G | C |\n\n2. {second}\n| D | A |\n"
    assert "counted-name" not in codes(taken(text))
