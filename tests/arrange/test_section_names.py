"""Names of sections: one for the whole band."""

from chartkit.arrange.page_look import PageLook
from chartkit.layout.engrave import laid_out
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.each import each
from tests.layout.geometry import texts


def song(*names: str) -> str:
    """A song with sections of these names, all of their own words and chords."""
    return "key: C\n\n" + "".join(
        f"== {name}\n| {chord} | G |\n: | la | {chord} |\n\n"
        for name, chord in zip(names, "CDEFGAB", strict=False)
    )


@each(
    ("names", "printed"),
    [
        (("Chorus", "Verse", "Chorus 2"), ["Chorus 1", "Verse", "Chorus 2"]),
        (("Strophe", "2. Strophe", "3. Strophe"), ["1. Strophe", "2. Strophe", "3. Strophe"]),
        (("Chorus", "Chorus", "Chorus 2"), ["Chorus", "Chorus", "Chorus 2"]),
        (("Chorus 2", "Chorus"), ["Chorus 2", "Chorus"]),
        (("Chorus", "Chorus 1"), ["Chorus", "Chorus 1"]),
        (("A", "B", "A2"), ["A", "B", "A2"]),
        (("1", "2"), ["1", "2"]),
        (("Chorus", "Last Chorus"), ["Chorus", "Last Chorus"]),
    ],
)
def test_a_first_one_has_its_number(names: tuple[str, ...], printed: list[str]) -> None:
    """It has one if all others of its kind have; letters of a rehearsal stay as they are."""
    assert [section.name for section in arranged(song(*names)).sections] == printed


@each(
    "look",
    [
        PageLook(form="full"),
        PageLook(form="folded"),
        PageLook(form="words"),
        PageLook(show="words"),
        PageLook(show="road-map"),
    ],
)
def test_every_page_has_the_same_names(look: PageLook) -> None:
    """A chorus called for by its name is found by everybody; the section that plays it again still
    does."""
    text = song("Chorus", "Verse") + "== Chorus 2 as Chorus\n: | lo | lo |\n"
    page = laid_out(arranged(text, look=look), look, Fonts())
    names = ", ".join(texts(page, "heading")).replace("  music of Chorus 1", "")
    folded = ("Chorus 1, 2, Verse", "Chorus, 1, 2, Verse")
    assert names in (folded if look.form == "folded" else ("Chorus 1, Verse, Chorus 2",))
    order = " ".join(texts(page, "form"))
    assert look.show == "words" or ("Chorus 1 (2)" in order and "Chorus 2 (2)" in order)
