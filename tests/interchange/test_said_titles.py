"""Titles, writers and settings that somebody says in a sentence of a mail or a chat."""

from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.head_words.said_titles import said_title
from tests.each import each
from tests.interchange.reading import codes, taken

_SONG = "verse: G C D G\nchorus: C G D G\n"


@each(
    ("head", "settings"),
    [
        (
            "hey lads heres the words to Tin Whistle Road, we do it in G around 96",
            ("Tin Whistle Road", "", "G major", "96", ""),
        ),
        (
            "Hola chicos! el tema se llama perro de plata y va en Sol, cejilla en el 2",
            ("perro de plata", "", "G major", "", "2"),
        ),
        (
            "Salut les amis,\nvoici la grille de Tante Lucie, en La mineur, vers 120",
            ("Tante Lucie", "", "A minor", "120", ""),
        ),
        (
            "Moin, das neue Lied heißt Kalter Kaffee, geht in G-Dur, so um die 88. "
            "Geschrieben von Jonte Petersen.",
            ("Kalter Kaffee", "Jonte Petersen", "G major", "88", ""),
        ),
        (
            "Ciao, la nuova si chiama Via dei mille passi, siamo in Re, capo al 2",
            ("Via dei mille passi", "", "D major", "", "2"),
        ),
        (
            "hej, låten heter Gröna vägen och går i D, runt 104",
            ("Gröna vägen", "", "D major", "104", ""),
        ),
        (
            "oi a nova chama-se Noite de Sal, em Lá menor, uns 100 bpm",
            ("Noite de Sal", "", "A minor", "100", ""),
        ),
        (
            "Subject: new one for Thursday\n\nHi,\n\nIt's called \"Salt Road\" and it's one of "
            "Ida Marsh's. It's in G, about 120.",
            ("Salt Road", "Ida Marsh", "G major", "120", ""),
        ),
        (
            'Hi all,\nfor Saturday we play "Salt Road" by Ida Marsh, key of G, capo 2.',
            ("Salt Road", "Ida Marsh", "G major", "", "2"),
        ),
        (
            "Bonjour\nPour lundi : « Salt Road » (paroles A. Kerbrat, musique I. Marsh), en Sol.",
            ("Salt Road", "A. Kerbrat, I. Marsh", "G major", "", ""),
        ),
        (
            'hola, la canción nueva es "Salt Road", la escribió Inés Robledo. Está en Sol.',
            ("Salt Road", "Inés Robledo", "G major", "", ""),
        ),
        (
            "hiya, first dance for Saturday is SALT ROAD and they want it in G (sorry)\n72 bpm",
            ("SALT ROAD", "", "G major", "72", ""),
        ),
        (
            "ok so the tune is called Salt Road and its in D minor, quite slow, like 70.",
            ("Salt Road", "", "D minor", "70", ""),
        ),
        (
            "Pete 18:02: did you get the chords for Salt Road?\nPete 18:03: ok wait. key of G\n"
            "Pete 18:04: about 90 bpm",
            ("Salt Road", "", "G major", "90", ""),
        ),
    ],
)
def test_a_sentence_names_the_song(head: str, settings: tuple[str, ...]) -> None:
    """The title is what a sentence names, with the settings and the writer beside it."""
    result = taken(f"{head}\n\n{_SONG}")
    names = ("title", "writer", "key", "tempo", "capo")
    assert tuple(result.chart.text(name) for name in names) == settings  # type: ignore[arg-type]
    assert "title" in codes(result)


@each(
    ("head", "title"),
    [
        ("It's Friday Night\nNed Oakley\nG, 120", "It's Friday Night"),
        ("This Is Where We Live\nKey G", "This Is Where We Live"),
        ("The One Called Grace\nNed Oakley", "The One Called Grace"),
        ("Called Home\nby Ned Oakley", "Called Home"),
        ("SALT ROAD\n(it's called Boats by everybody)\nKey G", "SALT ROAD"),
        ("Hi all, here are the chords for Friday Morning Mass:\n\nSalt Road\nKey G", "Salt Road"),
    ],
)
def test_a_title_of_its_own_line_stays(head: str, title: str) -> None:
    """A line that is a title stays the title, whatever a sentence beside it names."""
    assert taken(f"{head}\n\n{_SONG}").chart.text("title") == title


@each(
    "text",
    [
        "we play it on Friday Night again",
        "I called Pete about it yesterday",
        "this is the last chorus again",
        "can we do the LAST CHORUS twice",
        "we have a gig on Saturday",
        "here is the Bridge again",
        "it is called for by the priest",
        "it's in A, about 120",
    ],
)
def test_sentences_that_name_no_song(text: str) -> None:
    """Days, people and sections are no titles, nor what is only called for."""
    assert said_title(text) is None


@each(
    ("text", "facts"),
    [
        ("We sing it in D, 72 at the metronome, in 6/8.", "key D major, tempo 72, meter 6/8"),
        ("Wir spielen es in D-Dur, Tempo 66, im 3/4-Takt.", "key D major, tempo 66, meter 3/4"),
        ("We play it in D, tempo more or less 104.", "key D major, tempo 104"),
        ("Tonality G, very simple, tempo 120.", "key G major, tempo 120"),
        ("key of g, about 90", "key G major, tempo 90"),
        ("unos 95, en Re menor, cejilla en el traste 3", "key D minor, capo 3, tempo 95"),
        ("mettez le capo à la case 4", "capo 4"),
        ("be there in a minute", ""),
        ("see you at 70 Main Street", ""),
        ("I am in A big hurry", ""),
        ("we did it in E last time", ""),
        ("the show is on 6/8 at 7", ""),
    ],
)
def test_settings_in_passing(text: str, facts: str) -> None:
    """Sentences give the key, the capo, the meter and the tempo, and nothing that only looks so."""
    assert ", ".join(f"{fact.name} {fact.value}" for fact in facts_in_prose(text)) == facts
