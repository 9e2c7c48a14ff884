"""Names of sections of several words, and names cut short, in several languages.

Source of the names: common practice, no source.
"""

from tests.each import each
from tests.interchange.typed_sheets import names_of_parts

_ROW = "G        C        G\n"
_WORDS = f"{_ROW}The bog it was brown\n{_ROW}And the lark had a hole\n"


@each(
    "name",
    [
        "Assolo di clarinetto",
        "Solo de guitarra",
        "Solo d'accordéon",
        "Solo dell'organo",
        "Intro de piano",
        "Sólo de violín",
        "Assolo di fisarmonica",
    ],
)
@each("form", ["* {} *", "{}:", "[{}]", "{}"])
def test_a_solo_with_its_instrument(name: str, form: str) -> None:
    """The instrument is part of the name, however the name is set off."""
    text = f"Moth\n\nVerse\n{_WORDS}\n{form.format(name)}\nG C G D\n\nVerse\n{_WORDS}"
    assert names_of_parts(text) == ["Verse", name, "Verse"]


@each(
    ("verse", "again"),
    [("1. vsz.", "2. vsz."), ("1. vsz", "2. vsz"), ("Vsz. 1", "Vsz. 2"), ("1. zwr", "2. zwr")],
)
@each("refrain", ["Refr.", "Ref.", "Refrén"])
def test_names_cut_short(verse: str, again: str, refrain: str) -> None:
    """Verses cut short behind or before their number, and an intro, a solo and an end in
    Hungarian."""
    text = (
        f"Moth\n\nElőjáték: G C\n\n{verse}\n{_WORDS}\n{refrain}\n{_WORDS}\n"
        f"{again}\n{_WORDS}\n{refrain}\n\nSzóló: G C\n\nVége: G\n"
    )
    names = [name.rstrip(".") for name in names_of_parts(text)]
    sung = [name.rstrip(".") for name in (verse, refrain, again, refrain)]
    assert names == ["Előjáték", *sung, "Szóló", "Vége"]
