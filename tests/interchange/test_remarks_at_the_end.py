"""What is said to the band at the end of a sheet or of a line of words: it stays on the page and
is not sung.

Source of the words: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import body, codes, taken
from tests.interchange.typed_sheets import parts_of

_SONG = """Paper Rain
Key: G

Verse 1
G         C
The rain is on the window
D         G
The rain is on the door

Chorus
C        G
Let it in and let it out
D        G
Let it fall some more

Verse 2
The cat is in the kitchen
The cat is on the floor

Chorus
"""


@each(
    ("said", "kept"),
    [
        ("slow down at the end and hold the last G", True),
        ("everybody stomp on 2 and 4", True),
        ("End cold. No ritard please!", True),
        ("watch Dave for the cut-off", True),
        ("crowd claps to the end", True),
        ("Letzter Refrain ganz ohne Schlagzeug.", True),
        ("Le batteur arrête sur le dernier Sol", True),
        ("terminan en Em, con palmas", True),
        ("half time in the last four", True),
        ("choir hums the tune once more", True),
        ("Wiebke Sondermann", False),
        ("np, thx", False),
        ("shall we use the drums on that?", False),
        ("Cheers everyone, see you Friday", False),
        ("Load in at the back, 17:30", False),
        ("Love to all the band", False),
    ],
)
def test_a_remark_below_the_song(said: str, kept: bool) -> None:
    """How to play the end is a cue there; what is said to the reader of a letter is left out, with
    a finding."""
    result = taken(f"{_SONG}\n{said}\n")
    assert (f'"{said}"' in body(result.chart)) == kept
    assert bool({"remark", "roadmap"} & codes(result)) == kept
    assert ("letter" in codes(result)) != kept


def test_settings_in_a_remark_below_the_song() -> None:
    """They are taken there as from a letter."""
    chart = taken(_SONG.replace("Key: G\n", "") + "\n126 bpm, no ritard, everybody stops\n").chart
    assert chart.text("tempo") == "126"


@each(
    ("line", "term"),
    [
        ("Let it fall some more rit.", "rit."),
        ("Let it fall some more   poco rall. e dim.", "poco rall. e dim."),
        ("Let it fall some more     ritardando", "ritardando"),
        ("Let it fall some more in the dim.", "dim."),
        ("Let it fall some more crescendo", ""),
    ],
)
def test_a_term_behind_words(line: str, term: str) -> None:
    """A term cut short, or one far behind the words, is a cue above them."""
    result = taken(f"{_SONG}\nTag\nD         G\n{line}\n")
    tag = body(result.chart).rpartition("== Tag")[2]
    assert (f'"{term}"' in tag) == bool(term)
    assert line.replace(term, "").replace(" ", "") in tag.replace(" ", "").replace("/", "")


@each("said", ["DIALOGUE: music out", "LIGHTS: off, drums stop", "(drum fill, up to A)"])
def test_a_remark_between_sections_is_no_section(said: str) -> None:
    """What is said behind a colon, or of one chord in parentheses, names no section where no other
    line has the name."""
    head, chorus, verse = _SONG.partition("Verse 2\n")
    parts = parts_of(taken(f"{head}{said}\n\n{chorus}{verse}").chart)
    assert [part.name for part in parts] == ["Verse 1", "Chorus", "Verse 2", "Chorus"]
    assert said.strip("()") in " ".join(parts[1].cues)


@each(
    ("below", "cues"),
    [
        ("ps buy strings\npps Kofi needs a lift home", []),
        ("P.S. my aunt is coming, be nice", []),
        ("Notes:\n- white shirts please\n- parking behind the church", []),
        ("Hinweise\n• Parken hinter der Kirche", []),
        ("Notes\n- drums only in the last chorus", ["drums only in the last chorus"]),
    ],
)
def test_notes_below_the_song_are_not_sung(below: str, cues: list[str]) -> None:
    """Postscripts and lists of notes are left out with a finding; what they say of the music is a
    cue."""
    parts = parts_of(taken(f"{_SONG}\n\n{below}\n").chart)
    plain = parts_of(taken(_SONG).chart)
    assert [one.words for one in parts] == [one.words for one in plain]
    assert [cue for one in parts for cue in one.cues if cue not in plain[-1].cues] == cues


@each(
    "below",
    [
        "Chorus (no drums)\nset over 11 sharp, van leaves 11.45",
        "Chorus x2\nthats all!! bring a dark shirt\nm.",
        "Outro - same as intro\nRemember: tuner, strap, spare nine volt",
    ],
)
def test_talk_right_under_the_last_name_is_not_sung(below: str) -> None:
    """The words of a section that comes again are known; nothing is sung over an intro's music."""
    song = f"Rain\n\nIntro\nG C\n\n{_SONG.partition(chr(10) * 2)[2]}"
    parts = parts_of(taken(f"{song}\n{below}\n").chart)
    known = {one.words for one in parts_of(taken(song).chart)}
    assert {one.words for one in parts} <= known


def test_new_words_under_the_last_name_are_sung() -> None:
    """As the other lines of words are typed."""
    part = parts_of(taken(f"{_SONG}\nVerse 3\nThe moon is in the gutter\n").chart)[-1]
    assert part.words == "themoonisinthegutter"
