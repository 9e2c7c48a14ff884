"""Lines below the last written-out section that say in any words what is played next.

Source of the wordings: common practice, no source.
"""

from chartkit.chart.model import CueRow, Section
from tests.each import each
from tests.interchange.reading import taken

_SUNG = """Key: G

Intro
D A Bm G

Verse 1
G          C
Fold me a tower of yesterday's news

Chorus
C           G
Shine on, paper light

Verse 2
Ships made of receipts go by in the hall

Bridge
Am         D
And if the oil runs dry

"""
_STANZAS = """Strophe 1
Am         G
Im Garten der Tante da stand ein Klavier

Refrain
C           G
Kirschbaumzeit, bleib noch ein Jahr

Bridge
Em         C
Und fällt auch die Blüte ins Gras

"""
_COPLAS = """Estrofa 1
Am         G
Hay una ventana pintada de azul

Estribillo
F           C
Ábreme, ábreme

Puente
Dm         Am
Si cierras la noche

"""
_WRITTEN = {_SUNG: 5, _STANZAS: 3, _COPLAS: 3}


def _behind(sheet: str, foot: str) -> list[Section]:
    """The sections that a foot adds behind those that are written out."""
    sections = taken(f"{sheet}{foot}\n").chart.sections
    return list(sections[_WRITTEN[sheet] :])


def _cues(section: Section) -> str:
    return ", ".join(row.text for row in section.rows if isinstance(row, CueRow))


@each(
    ("sheet", "foot", "steps"),
    [
        (
            _SUNG,
            "Then we do the chorus again, very quiet, just voice and piano.\n"
            "After that one more chorus with the full band.",
            [
                ("Chorus", "very quiet, just voice and piano"),
                ("Chorus", "with the full band"),
            ],
        ),
        (
            _SUNG,
            "Same again from Verse 2: Verse 2, Chorus, Bridge.\n"
            "Then Chorus one last time and we're out.",
            [("Verse 2", ""), ("Chorus", ""), ("Bridge", ""), ("Chorus", "")],
        ),
        (
            _SUNG,
            "Go round again from Verse 2 to the end of the Bridge.",
            [("Verse 2", ""), ("Bridge", "")],
        ),
        (
            _SUNG,
            "Rest: Ch, Solo on verse 1, V1 (whispered), Ch",
            [("Chorus", ""), ("Solo", ""), ("Verse 1", "whispered"), ("Chorus", "")],
        ),
        (
            _SUNG,
            "Chorus, then half a chorus (last line) to finish",
            [("Chorus", ""), ("Chorus", "half a chorus, last line")],
        ),
        (
            _SUNG,
            "half a chorus (stop at the end)",
            [("Chorus", "half a chorus, stop at the end")],
        ),
        (
            _SUNG,
            "Straight back into the chorus, no gap, x2.\nOutro is the intro played once",
            [("Chorus", "no gap"), ("Outro", "")],
        ),
        (
            _SUNG,
            "ok after the bridge its chorus chorus and then verse 1 again super soft to end",
            [("Chorus", ""), ("Chorus", ""), ("Verse 1", "super soft to end")],
        ),
        (
            _SUNG,
            "Chorus, then back to the top for V1 and Ch, nice and easy.",
            [("Chorus", ""), ("Verse 1", ""), ("Chorus", "nice and easy")],
        ),
        (
            _SUNG,
            "Sax solo over chorus, then over bridge",
            [("Sax solo", ""), ("Sax solo", "")],
        ),
        (
            _SUNG,
            "Bridge again, only cajon + voice, then [Chorus] twice",
            [("Bridge", "only cajon + voice"), ("Chorus", "")],
        ),
        (
            _SUNG,
            "We repeat Verse 1 + Chorus, then Bridge and two more choruses, no outro, cold end.",
            [("Verse 1", ""), ("Chorus", ""), ("Bridge", ""), ("Chorus", "no outro, cold end")],
        ),
        (
            _SUNG,
            "(1/2 chorus, piano only)\nthen up 2 semitones for the last chorus, x2",
            [("Chorus", "piano only"), ("Chorus", "up 2 semitones")],
        ),
        (
            _SUNG,
            "From the top: Intro, Verse 1 and Chorus, then stop cold",
            [("Intro", ""), ("Verse 1", ""), ("Chorus", "stop cold")],
        ),
        (_SUNG, "Ch > V1 > Ch > Ch", [("Chorus", ""), ("Verse 1", ""), *[("Chorus", "")] * 2]),
        (
            _STANZAS,
            "Refrain, dann von vorn: Strophe 1, Refrain",
            [("Refrain", ""), ("Strophe 1", ""), ("Refrain", "")],
        ),
        (
            _STANZAS,
            "Nach der Bridge wieder Refrain, dann nochmal Strophe 1 leise und Refrain mit allen.",
            [("Refrain", ""), ("Strophe 1", "leise"), ("Refrain", "mit allen")],
        ),
        (
            _STANZAS,
            "Refrain ohne Bass\nhalber Refrain (nur 2. Zeile), langsamer werden",
            [("Refrain", "ohne Bass"), ("Refrain", "nur 2. Zeile, langsamer werden")],
        ),
        (
            _COPLAS,
            "Después otra vez el estribillo, muy suave, solo voz y guitarra.\n"
            "Y el último estribillo con toda la banda.",
            [
                ("Estribillo", "muy suave, solo voz y guitarra"),
                ("Estribillo", "con toda la banda"),
            ],
        ),
        (
            _COPLAS,
            "Puente otra vez, hablado\nMedio estribillo (primera línea) y corte",
            [("Puente", "hablado"), ("Estribillo", "Medio estribillo, primera línea, corte")],
        ),
        (
            _COPLAS,
            "Volver a Estrofa 1 (sin batería) - Estribillo - Estribillo",
            [("Estrofa 1", "sin batería"), ("Estribillo", ""), ("Estribillo", "")],
        ),
    ],
)
def test_steps_in_any_words(sheet: str, foot: str, steps: list[tuple[str, str]]) -> None:
    """Each clause of a foot is a section that is played next, or is said of the one before, in the
    words as they are typed; none of it is sung."""
    behind = _behind(sheet, foot)
    assert [one.name for one in behind] == [name for name, _ in steps]
    assert [said in _cues(one) for one, (_, said) in zip(behind, steps, strict=True)] == [
        True for _ in steps
    ]


def test_what_stands_before_a_step_is_said_of_it() -> None:
    """A line above a section that is asked for says how that is played ("Step it up to Bm")."""
    (verse,) = _behind(_SUNG, "Step it up to Bm\nVerse 1, quiet")
    assert verse.name == "Verse 1"
    assert "Step it up to Bm" in _cues(verse)


def test_a_chord_may_be_the_name_of_a_section() -> None:
    """What a song finishes with is a section where one has that name, else a chord."""
    tune = "A:\n| D | G |\n\nB:\n| G | A |\n\nC:\n| Em | A |\n\n"
    names = [
        one.name for one in taken(f"{tune}After C we go A, B and finish with C.\n").chart.sections
    ]
    assert names == ["A", "B", "C", "A", "B", "C"]


def test_words_that_begin_like_names_are_sung() -> None:
    """A line of words whose first word could be short for a section's name stays sung."""
    sheet = f"{_SUNG}Verse 3\nI stopped for to read it, I stopped for to rest\n"
    last = taken(sheet).chart.sections[-1]
    assert last.name == "Verse 3"
    assert not _cues(last)


def test_questions_ask_for_no_section() -> None:
    """A question to the band below a song is no order."""
    behind = _behind(_SUNG, "also is the bridge the one with the Dm?")
    assert not [one for one in behind if one.name in ("Bridge", "also")]
