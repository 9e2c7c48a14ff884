"""Writers whose names the page of a score prints without saying what they did.

Programs put "Composer" in the field for the writer where nobody fills it in.  Common practice, no
source.
"""

from xml.sax.saxutils import escape

from chartkit.chart.model import SettingRow
from chartkit.interchange.intake_result import IntakeResult
from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.scores import score

_PLACEHOLDER = '<creator type="composer">Composer</creator>'
_RIGHT, _MIDDLE, _LEFT = 'justify="right"', 'justify="center"', 'justify="left"'


def _read(*texts: tuple[str, str], creator: str = _PLACEHOLDER) -> IntakeResult:
    """A score with texts on its page, each with its attributes; its title stands
    above them."""
    said = "".join(
        f'<credit page="1"><credit-words {where}>{escape(text)}</credit-words></credit>'
        for text, where in texts
    )
    head = (
        "<work><work-title>Salt Road</work-title></work>"
        f"<identification>{creator}</identification>"
        '<credit page="1"><credit-words default-y="1600" justify="center">Salt Road</credit-words>'
        f"</credit>{said}"
    )
    return taken(score("time=4/4 <C> n16\n<F> n16", head=head))


def _writer(*texts: tuple[str, str], creator: str = _PLACEHOLDER) -> object:
    chart = _read(*texts, creator=creator).chart
    return next(
        (row.value for row in chart.top if isinstance(row, SettingRow) and row.name == "writer"),
        None,
    )


NAMES = (
    *("Orla Fennimark", "O. Fennimark", "Pim Aldergrove & Nat Sorrelby", "T. M. Ost"),
    *("Ines van der Hoyd", "ORLA FENNIMARK", "Ines Vale-Hoja", "Pim Alder / Nat Sorrel"),
    *("Pim Alder, Nat Sorrel", "Åse Ødegård", "Liam O’Tarn", "Pim Alder and Nat Sorrel"),
)


@each("name", NAMES)
def test_a_name_at_the_right_is_the_writers(name: str) -> None:
    """A person's name at the right under the title is that of the writer, and a guess."""
    assert _writer((name, f'{_RIGHT} default-y="1500"')) == name
    assert "writer-on-the-page" in codes(_read((name, _RIGHT)))


PLACES = {
    "in the middle": ([("Orla Fennimark", f'{_MIDDLE} default-y="1520"')], "Orla Fennimark"),
    "with the year": ([("Orla Fennimark, 1998", _RIGHT)], "Orla Fennimark"),
    "on two lines": ([("Orla Fennimark\nPim Alder", _RIGHT)], "Orla Fennimark, Pim Alder"),
    "at the left and at the right": (
        [("Pim Alder", _RIGHT), ("Orla Fennimark", _LEFT)],
        "Orla Fennimark, Pim Alder",
    ),
    "at the left alone": ([("Orla Fennimark", _LEFT)], None),
    "at the foot of the page": ([("Orla Fennimark", f'{_RIGHT} default-y="60"')], None),
    "over the title": ([("Orla Fennimark", f'{_RIGHT} default-y="1700"')], None),
    "an instruction": ([("Medium Swing", _RIGHT)], None),
    "a subtitle": ([("Second Version", _MIDDLE)], None),
    "a sentence": ([("for the band at the Tarn", _MIDDLE)], None),
    "one word": ([("Vocals", _RIGHT)], None),
    "rights": ([("© 1998 Orla Fennimark", _RIGHT)], None),
}


@each("name", sorted(PLACES))
def test_where_a_writer_stands(name: str) -> None:
    """Other texts are no writers, and stay reported."""
    texts, wanted = PLACES[name]
    assert _writer(*texts) == wanted
    assert wanted or "text-on-the-page" in codes(_read(*texts))


def test_a_writer_who_is_named_needs_no_guess() -> None:
    """A name in the field for the writer is the writer's, whoever else stands on the page."""
    creator = '<creator type="composer">Ada Vale</creator>'
    assert _writer(("Orla Fennimark", _RIGHT), creator=creator) == "Ada Vale"


def test_who_arranged_the_song_did_not_write_it() -> None:
    """The name of somebody in another role is not that of the writer."""
    creator = _PLACEHOLDER + '<creator type="arranger">Orla Fennimark</creator>'
    assert _writer(("Orla Fennimark", _RIGHT), creator=creator) is None
