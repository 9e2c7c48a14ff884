"""What is said below the whole song is a cue of the section that it names, else of the last one."""

from tests.each import each
from tests.interchange.reading import reads_back, taken
from tests.interchange.typed_sheets import parts_of

_PARTS = (
    "Intro: C G Am F\n\nVerse: C G Am F\n\nChorus: F G C Am\n\nBridge: Dm G Dm G\n\n"
    "Form: Intro, Verse, Chorus, Verse, Chorus, Bridge, Chorus\n"
)
_INTRO, _VERSE, _CHORUS, _SECOND_CHORUS, _BRIDGE, _LAST = 0, 1, 2, 4, 5, 6


def _cues(text: str) -> list[str]:
    return [" ".join(part.cues) for part in parts_of(taken(text).chart)]


@each(
    ("said", "at"),
    [
        ("drums out for the first half of the bridge", _BRIDGE),
        ("Nora, please come in on the cello at the bridge.", _BRIDGE),
        ("last chorus without drums", _LAST),
        ("On the last chorus the choir hums", _LAST),
        ("clap along in the second chorus", _SECOND_CHORUS),
        ("shaker in from verse on, quiet", _VERSE),
        ("all stop before the bridge", _LAST),
        ("hard stop at the end", _LAST),
        ("bass out in the verse, back in the chorus", _LAST),
        ("stop on F, crash, go home", _LAST),
    ],
)
def test_below_an_order(said: str, at: int) -> None:
    """It goes to the one section it names; without a name, or with several, to the last one that
    is played; a section that only says when something is stays out of it."""
    cues = _cues(f"{_PARTS}\n{said}\n")
    assert len(cues) == _LAST + 1
    assert cues[at] == said


@each(
    ("names", "said", "at"),
    [
        ("Strophe Refrain Zwischenspiel", "Letzter Refrain ganz ohne Bass", 5),
        ("Strophe Refrain Zwischenspiel", "im Zwischenspiel nur Geige und Bass", 4),
        ("Couplet Refrain Pont", "la batterie sort au pont", 4),
        ("Estrofa Estribillo Puente", "en el último estribillo solo palmas", 5),
        ("Vers Refräng Brygga", "sista refrängen utan trummor och bas", 5),
        ("Zwrotka Refren Mostek", "ostatni refren bez perkusji", 5),
        ("V Lantern Mosh", "bass only on the first V", 0),
        ("V Lantern Mosh", "everybody quiet on the last Lantern", 5),
    ],
)
def test_in_other_words(names: str, said: str, at: int) -> None:
    """In other languages, inflected, by letters, and by names of the sheet's own."""
    verse, chorus, bridge = names.split()
    played = f"{verse}, {chorus}, {verse}, {chorus}, {bridge}, {chorus}"
    rows = f"{verse}: C G Am F\n\n{chorus}: F G C Am\n\n{bridge}: Dm G Dm G\n"
    cues = _cues(f"{rows}\nForm: {played}\n\n{said}\n")
    assert cues[at] == said


def test_without_an_order() -> None:
    """Below sections that are written out it goes to the one it names, and else stays."""
    song = "Verse\nC G Am F\n\nBridge\nDm G Dm G\n\nChorus\nF G C Am\n"
    assert _cues(f"{song}\nno drums in the bridge\n") == ["", "no drums in the bridge", ""]
    assert _cues(f"{song}\nno drums, everybody claps\n") == ["", "", "no drums, everybody claps"]


def test_words_alone_stay_apart_where_the_cue_above_them_moves() -> None:
    """What parted them from the music stands at a later section: the chart still reads back."""
    chart = taken(
        'Hoi zäme\n\nhier das neue Stück. Es heisst "Laternengasse" und steht in B-Dur.\n\n'
        "Intro: B F B F\nStrophe: B Es B F\n         B Es F B\n"
        "Refrain: Es B F B\n         Es B C7 F\n\n         Es B C7 F\n\n"
        "Ablauf: Intro, Strophe, Refrain, Strophe, Refrain, Refrain\n\n"
        "Beim letzten Refrain Schlagzeug weg in den ersten vier Takten!\n\n"
        "Probe ist am Donnerstag um halb acht im Schulhaus, bitte pünktlich.\nGruess, Beat\n"
    ).chart
    assert len(chart.sections) == 6
    reads_back(chart)
