"""What stands at the top of a chart and of a score: creators, language, own shapes, capo."""

from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.theory.capo import Capo
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.schema import schema_errors

HEAD = """title: best
writer: words Ada Vale, music Ivo Crane
key: G major
meter: 4/4
tempo: 97
feel: half-time shuffle
range: A3-E5
capo: {capo}
instrument: guitar
language: pt-BR
note: second time quiet
shape: F xx3211
shape: C#m7b5 x-4-5-4-5-x

| G | D |
"""
CREATORS = """<score-partwise><identification>{}</identification><part-list><score-part id="P1">
<part-name>V</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes>
<divisions>1</divisions></attributes><harmony><root><root-step>C</root-step></root><kind>major</kind>
</harmony><note><rest/><duration>4</duration></note></measure></part></score-partwise>"""


def settings(chart: Chart) -> list[str]:
    """The rows at the top, in any order."""
    return sorted(map(str, chart.top))


@each("capo", ["2", "-1", "best"])
def test_every_setting_comes_back(capo: str) -> None:
    """Nothing at the top of a chart is lost through MusicXML, which stays valid."""
    chart = chart_of(HEAD.format(capo=capo))
    document = musicxml_bytes(chart)
    assert schema_errors(document) == []
    back = taken(document).chart
    reads_back(back)
    assert settings(back) == sorted(str(row) for row in chart.top if hasattr(row, "value"))


def test_the_writer_is_where_other_programs_look() -> None:
    """The writer is a creator of type composer, one of the names that MusicXML recommends."""
    document = musicxml_bytes(chart_of("writer: Ivo Crane\n\n| C |\n"))
    assert b'<creator type="composer">Ivo Crane</creator>' in document


def test_creators_are_reported_and_none_is_lost() -> None:
    """Composer and lyricist are the writers and reported as such; an arranger becomes a note."""
    named = "".join(
        f'<creator type="{kind}">{name}</creator>'
        for kind, name in (("composer", "Ivo"), ("Lyricist", "Ada"), ("arranger", "Juna"))
    )
    result = taken(CREATORS.format(named))
    assert result.chart.text("writer") == "Ivo, Ada"
    assert result.chart.notes() == ("arranger: Juna",)
    messages = [f.message for f in result.findings if f.code in ("writer", "kept-as-note")]
    assert messages == [
        "Ivo is a writer (composer)",
        "Ada is a writer (lyricist)",
        "Juna (arranger) is kept as a note",
    ]


def test_of_two_titles_the_printed_one_is_taken() -> None:
    """Work and movement may have a title each: the page tells which is the song's, and the other
    is reported."""
    both = (
        "<work><work-title>Songs of the Quay</work-title></work>"
        "<movement-title>Harbour Lamp</movement-title><identification>"
    )
    plain = CREATORS.format("").replace("<identification>", both)
    credit = "<credit><credit-words> Harbour  Lamp </credit-words></credit><part-list>"
    for score, title, other in (
        (plain, "Songs of the Quay", "Harbour Lamp"),
        (plain.replace("<part-list>", credit), "Harbour Lamp", "Songs of the Quay"),
    ):
        result = taken(score)
        assert result.chart.text("title") == title
        (second,) = [f for f in result.findings if f.code == "second-title"]
        assert second.message == f'a second title, "{other}"'


def test_the_capo_that_is_asked_for_is_written() -> None:
    """A chart moved to another capo says so, and what sounds stays."""
    chart = chart_of("key: G\ncapo: 2\n\n| G |\n")
    moved = rewritten_chart(chart, View(capo=Capo(4)), as_shapes=False)
    assert (moved.capo.raised, moved.sections) == (4, chart.sections)
    assert b"<capo>4</capo>" in musicxml_bytes(moved)


WORDS = "<direction><direction-type><words>{}</words></direction-type></direction>"


@each(("words", "capo"), [("Capo 3", 3), ("(Capo III)", 3), ("guitar tuned down a half step", -1)])
def test_words_about_the_capo_are_taken(words: str, capo: int) -> None:
    """Words before the first chord, or at the head of the page, say where the capo sits; that is
    a guess, the chords are what sounds, and the words are no cue as well."""
    over = CREATORS.replace("<harmony>", WORDS.format(words) + "<harmony>").format("")
    credit = f"<credit><credit-words>{words}</credit-words></credit><part-list>"
    for score in (over, CREATORS.format("").replace("<part-list>", credit)):
        result = taken(score)
        assert result.chart.capo.raised == capo
        assert not result.chart.written_as_shapes
        assert "capo-by-words" in codes(result)
        assert (body(result.chart), result.chart.text("title")) == ("| C |", "")


def test_a_capo_in_the_staff_or_amid_the_song_is_not_overruled() -> None:
    """Staff details say it for sure; words after the first chord are a cue."""
    sure = "<staff-details><capo>2</capo></staff-details></attributes>" + WORDS.format("Capo 3")
    result = taken(CREATORS.format("").replace("</attributes>", sure))
    assert (result.chart.capo.raised, "capo-by-words" in codes(result)) == (2, False)
    assert "other-capo" in codes(result)
    late = taken(CREATORS.format("").replace("<note>", WORDS.format("Capo 3") + "<note>"))
    assert (late.chart.capo.raised, body(late.chart)) == (0, '| "Capo 3" C |')


def _head(chart: Chart) -> tuple[object, ...]:
    return chart.text("title"), chart.text("writer"), list(chart.notes())


@each(
    ("creators", "writer", "notes"),
    [
        ({"composer": "Words and Music by Ada Vale"}, "Ada Vale", []),
        ({"composer": "Words and Music\nby Ada Vale"}, "Ada Vale", []),
        ({"composer": "Music: Ada Vale\nWords: Tom Reed"}, "Ada Vale, Tom Reed", []),
        ({"composer": "Ada Vale\nArr. Tom Reed"}, "Ada Vale", ["arranger: Tom Reed"]),
        ({"composer": "Ada Vale", "arranger": "arr. T. Reed"}, "Ada Vale", ["arranger: T. Reed"]),
        ({"composer": "Ada Vale\n(1791-1861)"}, "Ada Vale (1791-1861)", []),
        ({"composer": "A. Vale", "poet": "Edition by T. Reed"}, "A. Vale", ["editor: T. Reed"]),
        ({"composer": "Composer"}, "", []),
        ({"music": "Ada Vale", "words": "Tom Reed"}, "Ada Vale, Tom Reed", []),
    ],
)
def test_what_the_texts_of_creators_say(
    creators: dict[str, str], writer: str, notes: list[str]
) -> None:
    """A text says who did what, on one line or several; what programs put in is nobody."""
    named = "".join(f'<creator type="{k}">{name}</creator>' for k, name in creators.items())
    assert _head(taken(CREATORS.format(named).encode()).chart) == ("", writer, notes)


_CREDIT = '<credit page="1">{}<credit-words font-size="{}">{}</credit-words></credit>'


@each(
    ("head", "title"),
    [
        ("<work><work-title>Title</work-title></work>", ""),
        (
            "<work><work-title>Untitled score</work-title></work>"
            "<movement-title>Rope</movement-title>",
            "Rope",
        ),
        ("<movement-title>low_water.mxl</movement-title>", "low_water"),
        (_CREDIT.format("", 12, "Ada Vale") + _CREDIT.format("", 24, "Rope"), "Rope"),
        (
            _CREDIT.format("<credit-type>title</credit-type>", 12, "Rope")
            + _CREDIT.format("", 24, "Tidewater Five"),
            "Rope",
        ),
    ],
)
def test_titles_that_are_none(head: str, title: str) -> None:
    """What programs put in is no title; of the texts on a page it is the largest, or the one that
    is said to be it."""
    chart = taken(CREATORS.replace("<identification>{}</identification>", head).encode()).chart
    assert chart.text("title") == title


@each("text", ["Title", "Untitled", "song.xml", "Words and Music by Ada Vale", "Composer"])
def test_our_own_heads_are_taken_as_they_stand(text: str) -> None:
    """A title or a writer that would be none elsewhere comes back."""
    chart = chart_of(f"title: {text}\nwriter: {text}\n\n| C |\n")
    assert _head(taken(musicxml_bytes(chart)).chart) == (text, text, [])


_TITLES = "<movement-title>{}</movement-title><identification>"
_CENTRED = '<credit><credit-words font-size="24" justify="center">{}</credit-words></credit>'


@each(
    ("given", "printed", "title", "code"),
    [
        ("draft_3-LAST.mscz", "Tin Boat", "Tin Boat", "second-title"),
        ("boat.xml", "Tin Boat", "Tin Boat", "second-title"),
        (r"C:\Songs\new\tin boat.xml", "", "tin boat", "title-of-file"),
        ("/home/ada/tin boat.musicxml", "", "tin boat", "title-of-file"),
        ("boat7.musx", "", "boat7.musx", "title-of-file"),
        ("boat.xml", "", "boat", "title-of-file"),
        ("Mr. Boat", "Quay Songs", "Mr. Boat", ""),
        ("Up/Down", "", "Up/Down", ""),
        ("~ Tin Boat ~", "", "~ Tin Boat ~", ""),
        ("B.o.B", "Quay Songs", "B.o.B", ""),
        ("boat.fm", "boat.fm", "boat.fm", ""),
    ],
)
def test_the_name_of_a_file_is_hardly_a_title(
    given: str, printed: str, title: str, code: str
) -> None:
    """What the page prints is the title, if the score gives only the name of a file; that is told
    where nothing else is known, and its folder left out."""
    made = CREATORS.format("").replace("<identification>", _TITLES.format(given))
    if printed:
        made = made.replace("<part-list>", _CENTRED.format(printed) + "<part-list>")
    result = taken(made)
    assert result.chart.text("title") == title
    assert codes(result) & {"second-title", "title-of-file"} == set(filter(None, [code]))


def test_writers_on_several_lines_are_not_said_again() -> None:
    """A text whose lines all name writers that the chart has is left out of nothing."""
    said = "<credit><credit-words>Music: Ada Vale\nWords: Ivo Crane</credit-words></credit>"
    result = taken(CREATORS.format("").replace("<part-list>", said + "<part-list>"))
    assert result.chart.text("writer") == "Ada Vale, Ivo Crane"
    assert "text-on-the-page" not in codes(result)


@each(
    ("named", "writer"),
    [
        ("Text: Ada Vale, Musik: Ivo Crane", "Ada Vale, Ivo Crane"),
        ("T: Ada Vale / M: Ivo Crane", "Ada Vale, Ivo Crane"),
        ("T+M: Ada Vale", "Ada Vale"),
        ("Paroles et musique : Ada Vale", "Ada Vale"),
        ("Letra: Ada Vale; Música: Ivo Crane", "Ada Vale, Ivo Crane"),
        ("Worte und Weise von Ada Vale", "Ada Vale"),
        ("T. M. Vale", "T. M. Vale"),
        ("Textile Choir", "Textile Choir"),
    ],
)
def test_writers_named_by_what_they_wrote(named: str, writer: str) -> None:
    """What stands before a name is no part of it, in several languages and on one line."""
    read = taken(CREATORS.format(f'<creator type="composer">{named}</creator>'))
    assert read.chart.text("writer") == writer


def test_a_title_in_two_typefaces() -> None:
    """Runs of one text on the page are one title; another text of the credit is none."""
    runs = "<credit-words>Harbour</credit-words><credit-words> Lamp</credit-words>"
    more = "<credit-words>a song</credit-words>"
    page = f"<credit><credit-type>title</credit-type>{runs}{more}</credit><part-list>"
    assert taken(CREATORS.format("").replace("<part-list>", page)).chart.text("title") == (
        "Harbour Lamp"
    )


@each(("typed", "tempo"), [("Tempo: 96", 96), ("♩ = 72", 72), ("96 miles", None), ("No. 96", None)])
def test_a_tempo_that_only_the_page_gives(typed: str, tempo: int | None) -> None:
    """A tempo among the texts of the page is taken where no measure has one."""
    page = f"<credit><credit-words>{typed}</credit-words></credit><part-list>"
    read = taken(CREATORS.format("").replace("<part-list>", page))
    assert read.chart.setting("tempo") == tempo
    assert ("tempo-on-the-page" in codes(read)) == (tempo is not None)
