"""Numbers of endings above the bars that they open; how they are typed is common practice, no
source."""

from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken

ROW = "|: G    | Em   | C    | D7     :| G     |"


def _read(section: str) -> str:
    return body(taken(f"Moth\nKey: G\n\nIntro\n{section}\n\nVerse\nG\nStay\n").chart)


@each(
    "numbers",
    [
        "                          1.          2.",
        "                       1.________ 2.____",
        "                      |1.---     |2.---",
        "                       ┌1.──────┐┌2.────",
        "                       [1]        [2]",
        "                        1st        2nd",
        "                     1st time / 2nd time",
        "                        1. Mal     2. Mal",
        "                       1ª vez     2ª vez",
        "                      Ending 1    Ending 2",
        "                       (1)        (2)",
        "                         1         2",
    ],
)
def test_numbers_open_the_bars_below_them(numbers: str) -> None:
    """The first ending opens at the bar under its number, the second behind the repeat sign; a
    finding says so."""
    sheet = f"Moth\nKey: G\n\nIntro\n{numbers}\n{ROW}\n"
    result = taken(sheet)
    assert body(result.chart) == "== Intro\n|: G | Em | C |1. D7 :|2. G |"
    assert "endings-above" in codes(result)
    reads_back(result.chart)


def test_numbers_beside_the_name() -> None:
    """Numbers on the line of the name open endings too, and the name stays."""
    read = _read(f"A PART                    1.          2.\n{ROW}")
    assert "== A PART\n|: G | Em | C |1. D7 :|2. G |\n" in read


def test_an_ending_of_several_times() -> None:
    """One number may stand for several times, and the ending may be longer than a bar."""
    read = _read("              1.-3.           4.______\n" + ROW.replace("G     |", "G | G |"))
    assert "|: G | Em |1.2.3. C | D7 :|4. G | G |" in read


def test_the_second_ending_on_the_next_row() -> None:
    """Its number stands over the first bar of that row."""
    read = _read("                 1.__________\n|: G | Em  | C | D | D7 :|\n2.____\n| G  | G   |")
    assert "|: G | Em | C |1. D | D7 :|\n|2. G | G |" in read


def test_brackets_over_bars_without_repeat_signs() -> None:
    """The repeat begins with the rows of bars and ends before the second ending."""
    read = _read("| G    | Em   |\n           1.____ 2.____\n| C    | G   | D7   | G  |")
    assert "|: G | Em |\n| C |1. G :|2. D7 | G |" in read


def test_words_stay_under_their_bars() -> None:
    """The numbers move no word."""
    read = _read(
        "                         1.______ 2.____\n"
        "|: G       | Em         | D7     :| G    |\n"
        "   light a   lantern for   me       home"
    )
    assert "|: G | Em |1. D7 :|2. G |\n: | light a | lantern for | me | home |" in read


@each(
    "numbers",
    [
        " 1       2      3      4         5",  # bars counted
        "  1 2 3 4 1 2 3 4",  # beats
        "  1       2",  # fingers, or the first two bars
        "   1.     2.",  # the first of a repeat is not an ending
        "                                         2",  # a page
        "                          1",
        "  2.                      1.",
    ],
)
def test_other_numbers_open_no_endings(numbers: str) -> None:
    """Counts of bars and beats, fingerings and numbers of pages stay a cue beside the row."""
    read = _read(f"{numbers}\n{ROW}")
    assert "|: G | Em | C | D7 :| G |" in read
    assert " ".join(numbers.split()) in read


def test_numbers_that_are_not_clear_are_reported() -> None:
    """Two numbers over one bar of a repeat open nothing, and a finding says so."""
    result = taken(f"Moth\nKey: G\n\nIntro\n           1.  2.\n{ROW}\n")
    assert "|: G | Em | C | D7 :| G |" in body(result.chart)
    assert "endings-above" in codes(result)


def test_a_remark_behind_the_numbers_stays() -> None:
    """What is said in parentheses behind them is a cue."""
    read = _read(f"                          1.          2. (rit.)\n{ROW}")
    assert "|: G | Em | C |1. D7 :|2. G |" in read
    assert '"rit."' in read
