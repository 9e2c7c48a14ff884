"""Sections asked for again with anything said of them, under names typed without accents or cut
short.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_SUNG = "Kettle\n\n{0} 1\nG   D\nHolla mento\n\n{1}\nC   G\nrisa vento\n\n{0} 2\nmolla rento\n\n"


@each(
    ("verse", "refrain", "lines", "cues"),
    [
        ("couplet", "refrein", ["refrein zacht", "refrein vol gas"], ["zacht", "vol gas"]),
        ("Estrofa", "Coro", ["Coro a capela", "Coro con palmas"], ["a capela", "con palmas"]),
        ("verso", "refrao", ["refrao 2x", "refrao todo mundo"], ["", "todo mundo"]),
        ("Vers", "Refrang", ["Refrang", "Refrang med stampande fot"], ["", "med stampande fot"]),
        ("Verse", "Chorus", ["Chorus", "Chorus like we mean it"], ["", "like we mean it"]),
        ("Zwrotka", "Refren", ["Refren", "Refren na całego"], ["", "na całego"]),
    ],
)
def test_anything_said_of_a_section_among_names(
    verse: str, refrain: str, lines: list[str], cues: list[str]
) -> None:
    """What stands behind an earlier name, under one that is asked for again, is said of it and
    never sung."""
    parts = parts_of(taken(_SUNG.format(verse, refrain) + "\n".join(lines) + "\n").chart)
    assert [one.name for one in parts[3:]] == [refrain, refrain]
    assert [", ".join(one.cues) for one in parts[3:]] == cues
    assert {one.words for one in parts[3:]} == {parts[1].words}


def test_words_that_begin_with_the_name_of_a_section() -> None:
    """The words of a verse may begin with the name of a section."""
    sheet = _SUNG.format("Verse", "Bridge") + "Verse 3\nBridge is burning in the rain\n"
    assert parts_of(taken(sheet).chart)[-1].words == "bridgeisburningintherain"


def test_a_section_again_by_its_name_without_its_remark() -> None:
    """The remark behind a name is no part of it."""
    sheet = f"Moth\n\nintro (sanfona) x2: Dm C\n\n{_SUNG.format('verso', 'refrao')[8:]}"
    parts = parts_of(taken(f"{sheet}refrao\nintro de novo, 1x so\nrefrao\n").chart)
    assert (parts[5].name, parts[5].music, parts[5].cues[-1]) == ("intro", ["Dm", "C"], "1x so")


@each(
    ("verse", "refrain", "short", "again"),
    [
        ("couplet", "refrein", "c2", "refr."),
        ("Strofa", "Ritornello", "s2", "Rit."),
        ("Strophe", "Refrain", "S2", "Ref."),
        ("zwrotka", "refren", "z2", "ref."),
    ],
)
def test_names_cut_short_right_over_other_names(
    verse: str, refrain: str, short: str, again: str
) -> None:
    """A letter with a number is the section of the sheet that begins with it; a name cut short may
    have another name right below."""
    sheet = _SUNG.format(verse, refrain).replace(f"{verse} 2", short)
    sheet += f"{again}\nBridge\nF   C\nsolla kento\n\n{again} x2\nfinale: C\n"
    names = [f"{verse} 1", refrain, f"{verse} 2", refrain, "Bridge", f"{refrain} x2", "finale"]
    assert [one.casefold() for one in names_of_parts(sheet)] == [one.casefold() for one in names]
