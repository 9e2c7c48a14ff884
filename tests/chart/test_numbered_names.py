"""Names of sections with numbers, joined where their music is printed once."""

import pytest

from chartkit.arrange.page_look import PageLook
from chartkit.chart.numbered_names import number_of
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Text
from chartkit.layout.song_form import folded_form, full_form
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.each import each
from tests.layout.geometry import texts

FOLDED = PageLook(form="folded")


@pytest.mark.parametrize(
    ("names", "printed"),
    [
        ("Verse 1|Verse 2|Verse 3", "Verse 1–3"),
        ("Verse|Verse 2", "Verse 1, 2"),
        ("1. Strophe|2. Strophe", "1., 2. Strophe"),
        ("Strophe|2. Strophe", "1., 2. Strophe"),
        ("1. Strophe|2. Strophe|3. Strophe", "1.–3. Strophe"),
        ("1st Verse|2nd Verse|3rd Verse", "1st–3rd Verse"),
        ("Verse the 1st|Verse the 2nd", "Verse the 1st, 2nd"),
        ("1er couplet|2ème couplet", "1er, 2ème couplet"),
        ("1ª Estrofa|2ª Estrofa", "1ª, 2ª Estrofa"),
        ("1:a versen|2:a versen", "1:a, 2:a versen"),
    ],
)
def test_numbers_of_any_kind_are_joined(names: str, printed: str) -> None:
    """Sections that differ by their numbers alone have one name at the bars, in which no number
    stands twice, and each has its name in the form line (ordinals of the languages: common
    practice, no source)."""
    rows = "| C | F |\n: | word{} | home |\n"
    text = "".join(
        f"\n== {name}\n{rows.format(n)}" for n, name in enumerate(names.split("|"), start=1)
    )
    document = laid_out(arranged(f"key: C\n{text}", look=FOLDED), FOLDED, Fonts())
    assert " ".join(texts(document, "heading")) == printed
    full = full_form(arranged(f"key: C\n{text}").sections)
    entries = [entry.name for entry in folded_form(full).entries]
    assert all(number_of(name) == str(n) for n, name in enumerate(entries, start=1))


def test_a_long_name_leaves_the_note_of_the_next_section_large_enough() -> None:
    """Where a section leads, a name of a line's length stands without its remark."""
    long = "Bridge (half time feel, drums out, bass only on the second half, then voices)"
    rows = "| C | F |\n: | la | home |\n"
    names = ("Chorus", "Verse", "Chorus", long, "Chorus")
    text = "".join(f"\n== {name}\n{rows}" for name in names)
    document = laid_out(arranged(f"key: C\n{text}", look=FOLDED), FOLDED, Fonts())
    items = [i for page in document.pages for i in page.items if isinstance(i, Text)]
    notes = [i for i in items if i.role == "follows"]
    assert "2nd to Bridge" in notes[0].plain and "half" not in notes[0].plain
    usual = max(piece.size for note in notes for piece in note.pieces)
    assert min(piece.size for note in notes for piece in note.pieces) == usual > 8


@each(
    "names, printed, form",
    [
        (["Chorus", "Chorus 2"], "Chorus 1, 2", ["Chorus 1", "Chorus 2"]),
        (["Chorus", "Chorus 2", "Chorus 3"], "Chorus 1–3", ["Chorus 1", "Chorus 2", "Chorus 3"]),
        (["Refrain", "2. Refrain"], "1., 2. Refrain", ["1. Refrain", "2. Refrain"]),
        (["Chorus", "Chorus"], "Chorus", ["Chorus", "Chorus"]),
        (["Chorus", "Chorus", "Chorus 3"], "Chorus, Chorus 3", ["Chorus", "Chorus", "Chorus 3"]),
    ],
)
def test_typed_numbers_of_a_repeated_section_stay(
    names: list[str], printed: str, form: list[str]
) -> None:
    """A band that plays from pages in full calls for "Chorus 2": a folded page has that name too.
    Where two of a kind are without numbers, all stay as they are typed."""
    first, *others = names
    text = f"title: A\nkey: C\n\n== {first}\n| C | F |\n: | la | la |\n"
    text += "".join(f"\n== Bridge\n| G | C |\n\n== {name} as {first}\n" for name in others)
    arrangement = arranged(text)
    entries = folded_form(full_form(arrangement.sections)).entries
    assert [entry.name for entry in entries if entry.name != "Bridge"] == form
    heading = " ".join(texts(laid_out(arrangement, FOLDED, Fonts()), "heading"))
    assert heading.removesuffix(" Bridge") == printed


def test_numbered_times_that_lead_to_one_place_are_joined() -> None:
    """What follows bars that verses and a solo share: the verses are named as their label is."""
    verse = "| C | F |\n: | one | two |\n"
    text = f"key: C\n\n== Verse 1\n{verse}\n== Chorus\n| F | G |\n: | la | la |\n"
    text += "".join(f"\n== Verse {i} as Verse 1\n: | {i} | la |\n\n== Chorus\n" for i in (2, 3))
    document = laid_out(arranged(f"{text}\n== Solo as Verse 1\n\n== End\n| C |\n"), FOLDED, Fonts())
    assert texts(document, "follows")[0] == "from Verse 1–3 to Chorus · Solo to End"
