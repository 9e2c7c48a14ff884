"""What stands above a song: facts, names, how it goes, in the words people use."""

from chartkit.chart.model import SettingName
from chartkit.interchange.intake_result import IntakeResult
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.typed_sheets import parts_of

_SONG = "\n\nVerse\nC   G\nMoth, moth\n"


def head(second: str) -> IntakeResult:
    """A sheet with a title and one more line above the song."""
    result = taken(f"Moth Song\n{second}{_SONG}")
    reads_back(result.chart)
    assert body(result.chart) == "== Verse\nC G\n: Moth, / moth"
    assert result.chart.text("title") == "Moth Song"
    return result


@each(
    ("line", "name", "value"),
    [
        ("Capo @ 4", "capo", "4"),
        ("Kapo 3", "capo", "3"),
        ("Kapodaster 3. Bund", "capo", "3"),
        ("Kapodaster: 2. Bund", "capo", "2"),
        ("Cejilla 2", "capo", "2"),
        ("Cejilla: 3", "capo", "3"),
        ("No capo", "capo", "None"),
        ("Key - Bb", "key", "Bb major"),
        ("in the key of Eb", "key", "Eb major"),
        ("Tonart: G-Dur / h-Moll", "key", "G major"),
        ("Tonart: h-Moll", "key", "B minor"),
        ("Tonart: B-Dur", "key", "Bb major"),
        ("Tono: Re menor", "key", "D minor"),
        ("Tono: Si bemol mayor", "key", "Bb major"),
        ("Tempo: 92-96", "tempo", "92"),
        ("Tempo: ♩ = 72", "tempo", "72"),
        ("Timing: 3/4", "meter", "3/4"),
        ("[Key: G] [Capo: 2]", "capo", "2"),
        ("[Key: G] [Capo: 2]", "key", "G major"),
        ("(key of Bb, about 120 bpm)", "tempo", "120"),
        ("Slow ballad", "feel", "Slow ballad"),
        ("Swing 8ths", "feel", "Swing 8ths"),
    ],
)
def test_a_fact_in_second_place_is_no_writer(line: str, name: str, value: str) -> None:
    """Settings in the trade's words of several languages are read as what they are."""
    result = head(line)
    assert str(result.chart.setting(name)) == value  # type: ignore[arg-type]
    assert result.chart.text("writer") == ""
    assert "writer" not in codes(result)


@each("line", ["# from the folder", "// watch Ida", "2nd version", "(the old one)"])
def test_comments_are_notes(line: str) -> None:
    """A comment, or a line with figures, is no name and stays a note."""
    result = head(line)
    assert result.chart.text("writer") == ""
    (note,) = [str(row.value) for row in result.chart.top if row.name == "note"]  # type: ignore[union-attr]
    assert line.strip("#/ ()") in note


@each(
    "line",
    [
        "Ada Pell",
        "Artist: Ada Pell",
        "Writers: Ada Pell",
        "Composer: Ada Pell",
        "Words & music: Ada Pell",
        "Text und Musik: Ada Pell",
        "Autora: Ada Pell",
        "von Ada Pell",
        "T+M: Ada Pell",
        "by Ada Pell",
        "// written by Ada Pell",
        "Moth Song - Ada Pell",
    ],
)
def test_a_writer_is_a_guess_without_the_words_before(line: str) -> None:
    """Whoever stands second is reported as a guess, and what says that it is a name goes."""
    result = head(line)
    assert result.chart.text("writer") == "Ada Pell"
    (finding,) = [f for f in result.findings if f.code == "writer"]
    assert (finding.certainty, finding.place) == ("guessed", "2:1")
    assert finding.message.startswith('the writer is "Ada Pell"')


def test_labels_tell_title_and_writer_in_any_order() -> None:
    """A label says what stands behind it, also before the title; a title that begins with "By"
    is one."""
    chart = taken(f"Artist: Ada Pell\nSong: Moth Song{_SONG}").chart
    assert (chart.text("title"), chart.text("writer")) == ("Moth Song", "Ada Pell")
    assert taken(f"By the River{_SONG}").chart.text("title") == "By the River"


def test_facts_at_the_right_margin() -> None:
    """A fact by its name behind a title or a name, far to the right, is read."""
    chart = taken(f"ORCHARD GATE            Key: E\nARTIST: ADA PELL        BPM: 74{_SONG}").chart
    settings = [str(chart.setting(name)) for name in ("title", "writer", "key", "tempo")]
    assert settings == ["ORCHARD GATE", "ADA PELL", "E major", "74"]


@each(
    ("line", "setting", "value"),
    [
        ("Key: F -> G (last chorus)", "key", "F major"),
        ("Key: F -> G", "key", "F major"),
        ("Tempo: 92-96", "tempo", "92"),
    ],
)
def test_what_more_a_fact_says_is_a_note(line: str, setting: SettingName, value: str) -> None:
    """The first value holds; the whole line stays as a note, and is no row of chords."""
    result = head(line)
    assert str(result.chart.setting(setting)) == value
    assert line in [str(row.value) for row in result.chart.top if row.name == "note"]  # type: ignore[union-attr]


@each(
    ("line", "chords", "capo", "key", "written"),
    [
        ("Capo 3 (Shapes in G, sounds in Bb)", "G C", 3, "G major", "shapes"),
        ("Capo 2, key of G shapes", "G D", 2, "G major", "shapes"),
        ("Key of D, capo 2nd fret, play C", "C F", 2, "C major", "shapes"),
        ("Key of D, capo 2nd fret, play C", "D A", 2, "D major", "sounding"),
        ("Original key: F# minor, we play it in Em, capo 2", "Em C", 2, "E minor", "shapes"),
    ],
)
def test_the_key_of_the_shapes(line: str, chords: str, capo: int, key: str, written: str) -> None:
    """Where the key of the shapes is said, the chart's key is that of its chords: of the shapes,
    or of what sounds where the chords lie there."""
    chart = taken(f"Moth Song\n{line}\n\nVerse\n{'  '.join(chords.split())}\nMoth, moth\n").chart
    assert (chart.capo.raised, str(chart.key), chart.setting("chords")) == (capo, key, written)


_HEADS = (
    ("Paper Boats\nkey G, slow, 72", "Paper Boats", "G", "72", "", ""),
    ("Paper Boats (G, slow waltz, 3/4)", "Paper Boats", "G", "", "3/4", ""),
    ("Paper Boats\nG major / 4/4 / 120 bpm", "Paper Boats", "G", "120", "4/4", ""),
    ("Paper Boats in G\n~ 96", "Paper Boats", "G", "96", "", ""),
    (
        "PAPER BOATS\nby Tilda Roe\nKey: G  |  Tempo: 88  |  Capo: 2",
        "PAPER BOATS",
        "G",
        "88",
        "",
        "2",
    ),
    ("Paper Boats - Tilda Roe\ncapo 2 (play G)", "Paper Boats", "G", "", "", "2"),
    ("Paper Boats\n(capo on 3rd fret)", "Paper Boats", "", "", "", "3"),
    ("Paper Boats, capo 3", "Paper Boats", "", "", "", "3"),
    ("Paper Boats / G / 132 / straight 8ths", "Paper Boats", "G", "132", "", ""),
    ("Paper Boats | G | 132", "Paper Boats", "G", "132", "", ""),
    ("Song: Paper Boats\nTonart: G-Dur, Tempo: ca. 100", "Paper Boats", "G", "100", "", ""),
    ("Paper Boats\nTonart G, 3/4-Takt, langsam", "Paper Boats", "G", "", "3/4", ""),
    ("Paper Boats\nEn sol mayor, compás 6/8", "Paper Boats", "G", "", "6/8", ""),
    ("Paper Boats\nTono: Sol\nCejilla: 2", "Paper Boats", "G", "", "", "2"),
    ("Paper Boats\nton: Sol, capo 2e case", "Paper Boats", "G", "", "", "2"),
    ("Paper Boats\nen Sol, tempo 92", "Paper Boats", "G", "92", "", ""),
    ("Paper Boats\ntoonsoort G, capo 2, rustig", "Paper Boats", "G", "", "", "2"),
    ("Paper Boats\ntonart: G, tempo: 120, capo band 2", "Paper Boats", "G", "120", "", "2"),
    ("Paper Boats\nTom: G\nBPM: 120", "Paper Boats", "G", "120", "", ""),
    ("Paper Boats\nTonalità: Sol maggiore, 4/4, lento", "Paper Boats", "G", "", "4/4", ""),
    ("1. Paper Boats (T. Roe)\nG", "Paper Boats", "G", "", "", ""),
    ("Paper Boats\nmedium rock, 118 bpm, key of G", "Paper Boats", "G", "118", "", ""),
    ("Paper Boats\nkey of G (capo 2 = A)", "Paper Boats", "G", "", "", "2"),
    ("Paper Boats\nplay in G, capo 2, sounds in A", "Paper Boats", "G", "", "", "2"),
    ("Paper Boats\n4/4, quarter = 96", "Paper Boats", "", "96", "4/4", ""),
    ("Paper Boats\nq=96, key: G", "Paper Boats", "G", "96", "", ""),
    ("Paper Boats\n96 bpm / 6/8 / G", "Paper Boats", "G", "96", "6/8", ""),
    ("Paper Boats\nhalf step down, key G", "Paper Boats", "G", "", "", "-1"),
    ("Paper Boats\nTune down 1/2 step\nKey of G", "Paper Boats", "G", "", "", "-1"),
    ("Paper Boats\nEb tuning\nG shapes", "Paper Boats", "G", "", "", "-1"),
    ("Paper Boats (for Sunday)\nG, 4/4", "Paper Boats", "G", "", "4/4", ""),
    ("Paper Boats -- draft 3\nG 92", "Paper Boats", "G", "92", "", ""),
    ("PAPER BOATS          G          92", "PAPER BOATS", "G", "92", "", ""),
    (
        "Title: Paper Boats   Artist: The Low Ceilings   Key: G   Tempo: 92",
        "Paper Boats",
        "G",
        "92",
        "",
        "",
    ),
    ("Paper Boats\nThe Low Ceilings\nG  4/4  92", "Paper Boats", "G", "92", "4/4", ""),
    ("Paper Boats\nno capo, key G", "Paper Boats", "G", "", "", ""),
    ("Paper Boats\nStandard tuning, capo 1st fret", "Paper Boats", "", "", "", "1"),
    ("Paper Boats\nG, moderately fast", "Paper Boats", "G", "", "", ""),
    ("Paper Boats\nA waltz for Tilda", "Paper Boats", "", "", "3/4", ""),
    ("Paper Boats\nTempo: slow\nKey: G", "Paper Boats", "G", "", "", ""),
    ("Paper Boats\nkey g minor", "Paper Boats", "Gm", "", "", ""),
    ("Paper Boats\nG dorian", "Paper Boats", "G dorian", "", "", ""),
    ("Paper Boats\nG mixolydian, 104", "Paper Boats", "G mixolydian", "104", "", ""),
    ("Paper Boats\nSlow waltz", "Paper Boats", "", "", "3/4", ""),
    ("Paper Boats\nKey of G (or put a capo on 2 for A)", "Paper Boats", "G", "", "", ""),
    ("Paper Boats\nthis one's in G, around 92 bpm, no capo", "Paper Boats", "G", "92", "", ""),
    ("Paper Boats\nen sol, 92 à la noire", "Paper Boats", "G", "92", "", ""),
    ("PAPER BOATS (G) 92", "PAPER BOATS", "G", "92", "", ""),
    ("Paper Boats\ntoonsoort: G mineur", "Paper Boats", "Gm", "", "", ""),
    ("Paper Boats\ntom: G menor", "Paper Boats", "Gm", "", "", ""),
    ("ok here goes\nPaper Boats\nkey G", "Paper Boats", "G", "", "", ""),
    ("First dance - Paper Boats\nkey G", "Paper Boats", "G", "", "", ""),
    ("Paper Boats\nArr. for Sunday\nkey G", "Paper Boats", "G", "", "", ""),
    ("new one - Paper Boats, in G", "Paper Boats", "G", "", "", ""),
    ("Paper Boats\nkey: G (we did it in A last time)", "Paper Boats", "G", "", "", ""),
)
"""Heads as people type them: title, key, tempo, meter, and the fret of the capo."""


@each(("typed", "title", "key", "tempo", "meter", "capo"), _HEADS)
def test_heads_of_many_hands(
    typed: str, title: str, key: str, tempo: str, meter: str, capo: str
) -> None:
    """Key, tempo, meter and capo are read in whatever order and words they stand."""
    chart = taken(f"{typed}\n\nVerse\nG     D\nDown the hill\nEm     C\nthrough clover\n").chart
    read = [chart.text(name) for name in ("title", "key", "tempo", "meter", "capo")]
    read[1] = read[1].replace(" major", "").replace(" minor", "m")
    assert read == [title, key, tempo, meter, capo]


@each(
    ("typed", "tuning"),
    [
        ("Tuning: drop D", "drop D"),
        ("Tuning: Drop-D", "drop D"),
        ("tuned to open G", "open G"),
        ("Stimmung: DADGAD", "DADGAD"),
        ("Tuning: standard", ""),
        ("Tuning: something odd", ""),
    ],
)
def test_a_tuning_by_its_name_is_the_instrument(typed: str, tuning: str) -> None:
    """A tuning that the program knows sets the instrument; another one stays a note."""
    chart = taken(f"Moth Song\n{typed}{_SONG}").chart
    assert chart.text("instrument") == tuning


@each("behind", ["(in G, 6/8)", "[in G, 6/8]", "(6/8, G, slow)", "6/8  G"])
def test_a_title_keeps_no_half_of_a_bracket(behind: str) -> None:
    """Settings in brackets behind a title are taken whole."""
    chart = taken(f"Harbour Song {behind}\n\nVerse\nG     D\nDown the hill\n").chart
    assert [chart.text(name) for name in ("title", "meter")] == ["Harbour Song", "6/8"]


@each(
    ("typed", "title", "writer"),
    [
        (
            "Our Monday group!! copy freely\n\nTitle - Moth Song\nby Ada Quill",
            "Moth Song",
            "Ada Quill",
        ),
        ("my notes\nsong: moth song", "moth song", ""),
        ("song 4 - the moth song", "the moth song", ""),
        ("Song for Sunday: Moth Song", "Moth Song", ""),
        ("Home > Songs > M > Moth Song\n(14 votes)\n\nMoth Song chords", "Moth Song", ""),
        ("Moth Song\nmusic & words Ada Quill", "Moth Song", "Ada Quill"),
        ("Moth Song\n(Quill/Marsh)", "Moth Song", "Quill/Marsh"),
        ("Three Chords", "Three Chords", ""),
    ],
)
def test_the_title_among_what_stands_over_it(typed: str, title: str, writer: str) -> None:
    """A line that says that it is the title is it, whatever a group, a book or a web page has
    above it; the kind of a page behind a title is no part of it."""
    chart = taken(f"{typed}\n\nVerse\nG     D\nDown the hill\n").chart
    assert [chart.text(name) for name in ("title", "writer")] == [title, writer]


def test_a_capo_within_a_letter_is_taken() -> None:
    """A sentence to the band may begin with the capo."""
    letter = "Hello dears,\nSorry this is late, it rained. Capo 2 for the guitars, please.\n\n"
    chart = taken(f"{letter}MOTH SONG\n\nVerse\nG     D\nDown the hill\n").chart
    assert chart.text("capo") == "2"


@each(
    "line",
    [
        "Words & Music: Ruth Addle",
        "Music & lyrics – Ruth Addle",
        "Worte und Weise: Ruth Addle",
        "Composição: Ruth Addle",
        "(parole e musica di Ruth Addle)",
        "Tekst og melodi: Ruth Addle",
        "T+M: Ruth Addle",
        "(M+T: Ruth Addle)",
        "words & tune - Ruth Addle",
        "Text och musik av Ruth Addle",
        "Text o musik: Ruth Addle",
        "T./M.: Ruth Addle",
        "säv. ja san. Ruth Addle",
        "sanat ja sävel: Ruth Addle",
        "(letra y música Ruth Addle)",
        "(Ruth Addle)  key of C, about 132",
        "Ruth Addle, one drop, 74 bpm",
        "74 bpm, one drop, Ruth Addle",
        "Ruth Addle - for the Tuesday choir",
        "Ruth Addle, voor groep 5",
        "Ruth Addle (my copy)",
        "© 2021 Ruth Addle",
        "by Ruth Addle, for my sister",
        "as I have it from myself, Ruth Addle",
    ],
)
def test_who_wrote_the_song(line: str) -> None:
    """Any words for who wrote words, music or both, joined in any way."""
    result = taken(f"The Moth\n{line}\n\nVerse 1\nC   G\nMoth, moth\n")
    assert result.chart.text("title") == "The Moth"
    assert result.chart.text("writer") == "Ruth Addle"


@each(
    "name",
    [
        "R. Addle",
        "R. A. Addle",
        "A. Addle",
        "J.-P. Addle",
        "Lars-Gunnar Addle",
        "Ruth van den Addle",
        "Ruth O'Addle",
        "Ruth Addle / Tom Ann Pell",
        "R. Addle & T. Pell",
        "Ruth de Sá e Tomé Prado",
    ],
)
def test_how_names_are_spelled(name: str) -> None:
    """Initials, hyphens, small words within a surname and several names are one writer's line,
    whatever settings stand behind."""
    for line in (name, f"({name})", f"{name}, 74 bpm", f"({name}) key of C"):
        chart = taken(f"The Moth\n{line}\n\nVerse 1\nC   G\nMoth, moth\n").chart
        assert chart.text("writer") == name, line


@each(
    "line",
    [
        "Slow waltz - words by Ruth Addle",
        "Valse - paroles et musique : Ruth Addle",
        "Polka – Text und Musik: Ruth Addle",
        "we wrote it for the harbour fair - Ruth Addle",
    ],
)
def test_writer_behind_a_dash(line: str) -> None:
    """A name behind a dash below the title is the writer's, where words say so or the rest of the
    line is no name (common practice, no source)."""
    chart = taken(f"The Moth\n{line}\n\nVerse 1\nC   G\nMoth, moth\n").chart
    assert (chart.text("title"), chart.text("writer")) == ("The Moth", "Ruth Addle")


@each("line", ["Slow Waltz, 74 bpm", "Medium Swing - key of C", "my copy for Saturday", "Drop D"])
def test_what_names_nobody(line: str) -> None:
    """How a song goes and whose copy it is name no writer, whatever letters begin the words."""
    for text in (f"The Moth\n{line}", f"The Moth - {line}"):
        assert taken(f"{text}\n\nVerse 1\nC   G\nMoth, moth\n").chart.text("writer") == ""


@each("label", ["Title", "Working title", "Track", "Song", "Titre", "Título", "Song name"])
def test_labels_of_titles(label: str) -> None:
    """A title with what says that it is one."""
    result = taken(f"{label}: The Moth\nKey: C\n\nVerse 1\nC   G\nMoth, moth\n")
    assert result.chart.text("title") == "The Moth"


@each("title", ["Morning At The Well", "Evening Ferry", "Dear Old Lamp"])
def test_a_title_that_begins_as_a_greeting_does(title: str) -> None:
    """Alone over settings it is the title, for nothing else could be."""
    assert taken(f"{title}\n\nKey: C\n\nVerse 1\nC   G\nMoth, moth\n").chart.text("title") == title


@each("line", ["(instrumental, medium, 2/4)", "Instrumental, medium, 2/4", "(instrumental; 2/4)"])
def test_a_tune_that_is_said_to_be_instrumental(line: str) -> None:
    """Under the title, with no chords before a section's name, it is no section of its own."""
    chart = taken(f"The Moth\n{line}\n\nA part\n| Dm | Gm |\n\nB part\n| F | C7 |\n").chart
    assert [one.name for one in chart.sections] == ["A part", "B part"]
    assert chart.text("meter") == "2/4"


def test_a_remark_far_behind_a_title() -> None:
    """What stands in parentheses at the right of the title's line says how the song goes."""
    song = "INTRO\nA   A   D   A\n\nVERSE 1\nA   D\nMoth, moth\n"
    text = f"THE MOTH        (one chord = one bar)\n\n{song}"
    chart = taken(text).chart
    assert (chart.text("title"), chart.text("writer")) == ("THE MOTH", "")


@each("page", ["Blatt 17", "page 3 of 9", "Seite 3"])
def test_a_page_head_over_an_underlined_title(page: str) -> None:
    """The name of a folder at the head of a page is no title, and a title is no section where its
    rule is of another sign than those of sections (common practice, no source)."""
    verses = "".join(f"{n}. Strophe\n----------\nC   G\nMotte, Motte {n}\n\n" for n in (1, 2, 3))
    text = f"Liedermappe Lampenfreunde          {page}\n\nDie Motte\n=========\n\n{verses}"
    chart = taken(text).chart
    assert chart.text("title") == "Die Motte"
    assert [one.name for one in chart.sections] == ["1. Strophe", "2. Strophe", "3. Strophe"]


def test_settings_in_two_columns_with_tabs() -> None:
    """A tab between a setting's name and its value is a blank."""
    chart = taken("KITE\nKey\tDb\nTime\t3/4\nTempo\t66\n\nIntro\t| Db | Gb |\n").chart
    settings = [chart.text(name) for name in ("key", "meter", "tempo", "writer")]
    assert settings == ["Db major", "3/4", "66", ""]


@each(
    "below",
    [
        "Am\nNo drums on this one, just the hand percussion.",
        "Am\nLead vox: Bea, harmonies: Joe & me",
        "Am\nAs discussed\nstart quiet",
    ],
)
def test_a_chord_alone_under_the_title_is_the_key(below: str) -> None:
    """A chord alone right under the title is the key, also where more of the head stands below
    it; words under a row of chords without a head are sung."""
    song = "VERSE\n| Am | F | C | G |\nSalt on the table and glass on the floor\n"
    chart = taken(f"Carry the Fire\n{below}\n\n{song}").chart
    assert (str(chart.key), [one.name for one in chart.sections]) == ("A minor", ["VERSE"])
    sung = parts_of(taken("Carry the Fire\n\nAm\nSalt on the table\n\nVERSE\nF C\n").chart)
    assert sung[0].words == "saltonthetable"
