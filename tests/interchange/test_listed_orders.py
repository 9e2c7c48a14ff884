"""Orders of all sections on several lines, with a label or below a legend, and those in which a
section that stands nowhere else has the music of another.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import MILL_POND, names_of_parts, parts_of

_LEGEND = "Mill Pond\n\nIntro: Em D\nVerse: Em C G D\nChorus: G D Em C\n\n"
_SHORT = "Mill Pond\n\nV: G D Em C\nC: C G D D\nP: Am D\n\n"
_LETTERS = (
    "Pond Reel\n\nA\n| G | C | G | D |\n\nB\n| Em | C | G | D |\n\nTag\n| G | D | G | G |\n\n"
)


@each(
    ("sheet", "names"),
    [
        (
            f"{_LEGEND}Intro x2\nVerse\nChorus\nVerse (bass & kick only)\nSolo = verse chords\n"
            "Chorus x2\n",
            "Intro x2, Verse, Chorus, Verse, Solo, Chorus x2",
        ),
        (
            f"{_LEGEND}- Intro\n- Chorus\n- Verse\n- Chorus\n- end cold on G\n",
            "Intro, Chorus, Verse, Chorus, End",
        ),
        (
            f"{_SHORT}V P C\nV P C\nkey change, up a half step\nC C\n",
            "V, P, C, V, P, C, C, C",
        ),
        (
            "Teich\n\nIntro   | G | C |\nStrophe | G | D | Em | C |\nRefrain | C | G | D | D |\n\n"
            "Ablauf:\n1) Intro\n2) Strophe (nur Gitarre)\n3) Refrain\n4) Solo über Strophe\n"
            "5) Refrain 2x\n",
            "Intro, Strophe, Refrain, Solo, Refrain x2",
        ),
        (
            f"{_LETTERS}Form: AABA x2\nsolo over A\nthen B A + Tag\n",
            "A, A, B, A, A, A, B, A, Solo, B, A, Tag",
        ),
        (
            f"{MILL_POND}Order:\n\nVerse\nChorus\nSolo (over verse)\nVerse, just voice and bass\n"
            "Chorus x2\n",
            "Verse, Chorus, Solo, Verse, Chorus x2",
        ),
        (
            "Riverside\n\nHead\n| G7 | C7 | G7 | D7 |\n\nRoutine:\nHead x2\n"
            "Tpt solo x2 (over head)\nTrade 4s over head x2\nHead\n",
            "Head x2, Tpt solo x2, Trade 4s x2, Head",
        ),
        (
            "Étang\n\nCouplet : G D Em C\nRefrain : C G D D\n\n"
            "Structure : Couplet / Refrain / Couplet / Solo (sur le couplet) / Refrain x2\n",
            "Couplet, Refrain, Couplet, Solo, Refrain x2",
        ),
        (
            f"{_LEGEND}intro > verse > chorus > solo over verse > chorus > outro = intro\n",
            "Intro, Verse, Chorus, Solo, Chorus, outro",
        ),
        (
            f"{MILL_POND}verse, chorus, gtr solo (verse), verse, chorus\n",
            "Verse, Chorus, Gtr solo, Verse, Chorus",
        ),
    ],
)
def test_order_of_the_whole_song(sheet: str, names: str) -> None:
    """Each section is played where the list has it, and has its music there the first time."""
    assert ", ".join(names_of_parts(sheet)).casefold() == names.casefold()
    assert all(part.music for part in parts_of(taken(sheet).chart))


@each(
    ("sheet", "names"),
    [
        # blocks under their names are played where they stand; the list goes on behind them
        (
            "Pond\n\nVerse\n| G | C |\n\nChorus\n| C | D |\n\nVerse\nChorus\nChorus\n",
            "Verse, Chorus, Verse, Chorus, Chorus",
        ),
        # so does a list that brings a section with chords of its own
        (
            "Pond\n\nVerse: G C\nChorus: C D\n\nVerse\nChorus\nBridge: Am Em\nChorus\n",
            "Verse, Chorus, Verse, Chorus, Bridge, Chorus",
        ),
        (f"{_LETTERS}Rep from B\nhold last chord\n", "A, B, Tag, B, Tag"),
        (f"{_LETTERS}A\nA\nB\nOutro = Tag x2\n", "A, B, Tag, A, A, B, Outro x2"),
        (f"{MILL_POND}Chorus x2\nEND C\n", "Verse, Chorus, Chorus x2, END"),
    ],
)
def test_lists_that_go_on(sheet: str, names: str) -> None:
    """What a list names stands behind the sheet's last section."""
    assert ", ".join(names_of_parts(sheet)) == names


@each(
    ("sheet", "place", "said"),
    [
        (f"{_LEGEND}Intro\nVerse - band out\nChorus\nVerse\nChorus\n", 1, "band out"),
        (f"{_SHORT}V P C\nV P C\nkey change, up a half step\nC C\n", 6, "key change"),
        (f"{_SHORT}V P C\nV P C\nbreakdown, bass only\nC C\n", 6, "bass only"),
        (f"{_LETTERS}Form: A A B A Tag\nrit. last 2 bars\n", 4, "rit. last 2 bars"),
        (
            f"{_LEGEND}Order:\n1. Intro\n2. Verse, just voice and piano\n3. Chorus\n4. Verse\n",
            1,
            "just voice and piano",
        ),
    ],
)
def test_what_a_list_says_of_a_step(sheet: str, place: int, said: str) -> None:
    """What stands behind a name is said of that step; a line of its own is said of the next one,
    and at the end of the last."""
    assert said in " ".join(parts_of(taken(sheet).chart)[place].cues)


def test_a_section_without_music_in_a_list() -> None:
    """A section that a list names and of which nothing is known is told."""
    result = taken(f"{_SHORT}V P C\nV P C\nbreakdown, bass only\nC C\n")
    assert "section-empty" in {finding.code for finding in result.findings}


@each(
    ("sheet", "names"),
    [
        (
            "Teich\n\nZwrotka: Am F C G\nRefren: F G C Am\n\nKolejność:\nZwrotka\nRefren\nZwrotka\n"
            "Solo (akordy zwrotki)\nRefren x2\n",
            "Zwrotka, Refren, Zwrotka, Solo, Refren x2",
        ),
        (
            "Stagno\n\nIntro: Am F\nStrofa: Am F C G\nRitornello: F G C Am\n\n"
            "Scaletta: Intro, Strofa, Ritornello, Assolo (strofa), Ritornello x2\n",
            "Intro, Strofa, Ritornello, Assolo, Ritornello x2",
        ),
        (
            f"{_LEGEND}Intro, Verse 1, Chorus, Verse 2 (drums in, louder), Chorus, Outro = Intro\n",
            "Intro, Verse, Chorus, Verse 2, Chorus, Outro",
        ),
        (
            "Mill Pond\n\nVerse: C F G C\nChorus: F C G C\n\nV1, C, V2, C, C out\n",
            "Verse, Chorus, Verse 2, Chorus, Chorus",
        ),
        (
            f"{_LEGEND}Our way:\n- Intro\n- Chorus\n- Verse\n- Chorus\n- Outro = Intro, slower\n",
            "Intro, Chorus, Verse, Chorus, Outro",
        ),
        (
            "Pond\n\nVerse\n| G | C |\n\nChorus\n| C | D |\n\nBridge\n| Em | C |\n\nV C V C B C C\n"
            "last C half time\n",
            "Verse, Chorus, Verse, Chorus, Bridge, Chorus, Chorus",
        ),
        (
            f"{MILL_POND}Verse + Chorus\nVerse, Chorus, then Chorus (slower)\n",
            "Verse, Chorus, Verse, Chorus, Verse, Chorus, Chorus",
        ),
    ],
)
def test_orders_in_other_words(sheet: str, names: str) -> None:
    """Labels of other languages and of the sheet's own; another verse than the only one; lines of
    which none names all sections go on."""
    assert ", ".join(names_of_parts(sheet)).casefold() == names.casefold()


@each("line", ["A   twice, trumpet solo", "A  x2, sax solo", "A   2x, Trompetensolo"])
def test_who_plays_a_solo_over_a_step(line: str) -> None:
    """In a list of steps a solo behind a name and its count is said of that step."""
    sheet = f"Moth\n\nA | Am | F | C | G |\nB | Dm | G | C | E7 |\n\nOrder:\nA   x2\nB\n{line}\nB\n"
    parts = parts_of(taken(sheet).chart)
    assert [(part.name, part.times) for part in parts] == [("A", 2), ("B", 1)] * 2
    assert parts[2].cues == [line.partition(", ")[2]]


def test_the_end_behind_a_step_of_a_table() -> None:
    """It is a step of its own behind that one."""
    sheet = (
        "Moth\n\nA | Am | F |\nB | Dm | G |\n\nA   x2\nB\nA   2x, clarinet solo\nB   end on Am\n"
    )
    parts = parts_of(taken(sheet).chart)
    assert [part.name for part in parts] == ["A", "B", "A", "B", "End"]
    assert parts[-1].music == ["Am"]


_ON_ONE_LINE = "Room\n\nA:  Dbmaj7  Bbm9\nB:  Gbmaj7  Ebm9\nC:  Dbmaj9  Db6/9\n\n"


@each(
    ("sheet", "names", "cue"),
    [
        (
            f"{_ON_ONE_LINE}1) A  piano alone, out of time\n2) A  with bass\n3) B\n4) A\n"
            "5) B  voice only bars 1-2\n6) C\n\nMarguerite wants it slower than last week.\n",
            "A, A, B, A, B, C",
            "piano alone, out of time",
        ),
        (
            f"{MILL_POND}1. Verse  piano alone, out of time\n2. Chorus\n3. Verse - bass comes in\n"
            "4. Chorus x2\n",
            "Verse, Chorus, Verse, Chorus x2",
            "piano alone, out of time",
        ),
    ],
)
def test_a_numbered_list_is_an_order(sheet: str, names: str, cue: str) -> None:
    """A list whose numbers count on from one is the order of the song without a label too; what
    stands behind a gap is said of its step."""
    assert ", ".join(names_of_parts(sheet)) == names
    assert cue in parts_of(taken(sheet).chart)[0].cues


@each(
    ("order", "cue"),
    [
        ("Verse, chorus twice, and out on the verse getting faster.", "getting faster"),
        ("Verse, chorus twice, end on the verse, slower", "slower"),
        ("Verse, chorus twice, Schluss mit verse, immer schneller", "immer schneller"),
    ],
)
def test_an_order_that_ends_on_a_section(order: str, cue: str) -> None:
    """A song may end on one of its sections."""
    parts = parts_of(taken(f"{MILL_POND}{order}\n").chart)
    assert [part.name.casefold() for part in parts] == ["verse", "chorus", "verse"]
    assert parts[-1].cues == [cue]


@each(
    ("label", "verse", "refrain"),
    [
        ("Ordem da música", "Estrofe", "Refrão"),
        ("Orden de la canción", "Estrofa", "Coro"),
        ("Ablauf des Liedes", "Strophe", "Refrain"),
        ("Scaletta del brano", "Strofa", "Ritornello"),
        ("Kolejność utworu", "Zwrotka", "Refren"),
        ("Order of the song", "Verse", "Chorus"),
    ],
)
@each("item", [" {at}) ", "{at}. ", "- ", ""])
def test_an_order_of_the_song_above_it(label: str, verse: str, refrain: str, item: str) -> None:
    """A label may say of what it is the order; the title above the list stays the title."""
    steps = [f"{verse} 1", refrain, f"{verse} 2", f"{refrain} x3", "Coda"]
    listed = "".join(f"{item.format(at=at)}{step}\n" for at, step in enumerate(steps, 1))
    music = ("| C | G |", "| F | C |", "| Am | G |", "| C | C |")
    names = (f"{verse} 1", refrain, f"{verse} 2", "Coda")
    parts = "".join(f"\n{one}\n{row}\n" for one, row in zip(names, music, strict=True))
    sheet = f"LAMPA - swing, 140 bpm, in C\n\n{label}:\n{listed}{parts}"
    assert names_of_parts(sheet) == steps
    assert taken(sheet).chart.text("title") == "LAMPA"
