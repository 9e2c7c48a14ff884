"""Names of sections of several words, names cut short and set off, and titles that are set off.

Source of the names: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

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


@each("name", ["Brass out", "Brass intro", "String break", "Gong out", "Everybody in"])
def test_an_underlined_name_is_no_remark(name: str) -> None:
    """What is underlined as the names of other sections are is a name, also in words that could be
    said to the band."""
    known = "".join(f"{one}\n-----\n{_WORDS}\n" for one in ("Verse", "Chorus", "Verse"))
    text = f"Moth\n\n{known}{name}\n{'-' * len(name)}\nG C G D\n"
    assert names_of_parts(text) == ["Verse", "Chorus", "Verse", name]


@each(
    "line",
    ["Dub (Am Dm) x4", "Dub: Am Dm x4", "Dub: Am Dm x4, bass and drums", "Dub (Am Dm) 4x, bass"],
)
def test_a_dub(line: str) -> None:
    """A dub is a section, with its chords and its count behind the name."""
    text = f"Moth\n\nVerse 1 (Am Dm)\nMoth, moth\n\n{line}\n\nVerse 2 (Am Dm)\nStay, stay\n"
    parts = parts_of(taken(text).chart)
    assert [(part.name, part.times) for part in parts] == [
        ("Verse 1", 1),
        ("Dub", 4),
        ("Verse 2", 1),
    ]
    assert parts[1].music == ["Am", "Dm"]


@each(
    "title",
    [
        *("<< {} >>", "< {} >", "<{}>", ">> {} <<", "'{}'", "‘{}’", "‹{}›", "「{}」", "『{}』"),
        *("《{}》", "« {} »", '"{}"', "“{}”", "„{}“"),
    ],
)
def test_a_title_that_is_set_off(title: str) -> None:
    """Signs around a title are no part of it."""
    text = f"{title.format('Moth Girl')}\n\nVerse\n{_WORDS}"
    assert taken(text).chart.text("title") == "Moth Girl"
