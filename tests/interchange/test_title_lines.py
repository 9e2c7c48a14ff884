"""What stands on a title's line and under it, beside the title: settings between signs, remarks in
brackets, whose chart it is, several writers, a capo that is only asked for.

Source of these ways to write a head: common practice, no source.
"""

from chartkit.syntax.write import chart_text
from tests.each import each
from tests.interchange.reading import codes, taken

_SONG = """
Verse
Dm        C
The rain is on the window
Bb        A
The rain is on the door
"""


@each(
    ("line", "title", "settings"),
    [
        ("PAPER MOON RIVER // horns // 124 bpm // Dm", "PAPER MOON RIVER", "D minor, , 124"),
        (
            "Gravel Waltz -- horns -- Dm -- 3/4 -- dotted half = 58",
            "Gravel Waltz",
            "D minor, 3/4, 174",
        ),
        ("LAMPE AUS PAPIER – D-Moll – Viertel = 96 – leise", "LAMPE AUS PAPIER", "D minor, , 96"),
        ("Luna de sal | Rem | 4 por 4 | unos 118", "Luna de sal", "D minor, 4/4, 118"),
        ("Rain Machine · Dm · 88 · 6/8 · late at night", "Rain Machine", "D minor, 6/8, 88"),
        ("Rain Machine * Dm * 120 * straight 8s", "Rain Machine", "D minor, , 120"),
        ("Chart for Salt & Gravel (Dm, the brass will thank me)", "Salt & Gravel", "D minor, , "),
        ("Zwei Stühle (Duett, d-Moll)", "Zwei Stühle", "D minor, , "),
        (
            "Arrangement of Lucky Penny Lane (Dm to start, you'll see)",
            "Lucky Penny Lane",
            "D minor, , ",
        ),
        ("Akkorde für Regen am Fenster (d-Moll)", "Regen am Fenster", "D minor, , "),
        ("Lead sheet: Rain On The Roof (in Dm)", "Rain On The Roof", "D minor, , "),
        ("TUESDAY HOP (house band opener)", "TUESDAY HOP", ", , "),
        ("Grannens båt (publikens favorit)", "Grannens båt", ", , "),
        ("velvet otter !!", "velvet otter", ", , "),
        ("Au secours !", "Au secours !", ", , "),
        ("Walk On (By the River)", "Walk On (By the River)", ", , "),
        ("Puffin Set (jigs)", "Puffin Set (jigs)", ", , "),
        ("Charts of the World", "Charts of the World", ", , "),
    ],
)
def test_a_title_without_what_stands_beside_it(line: str, title: str, settings: str) -> None:
    """Settings and remarks on the title's line are no part of the title, and nothing is lost."""
    result = taken(f"{line}\n{_SONG}")
    chart = result.chart
    assert chart.text("title") == title
    assert f"{chart.text('key')}, {chart.text('meter')}, {chart.text('tempo')}" == settings
    kept = chart_text(chart) + " ".join(one.message for one in result.findings)
    assert all(word.strip("()") in kept for word in line.split() if len(word) > 5)


@each(
    ("lines", "writers"),
    [
        ("Words: Ada Tolliver, tune: Piet Vane", "Ada Tolliver, Piet Vane"),
        ("(paroles : Odile Ferrand, musique : Luc Vasseur)", "Odile Ferrand, Luc Vasseur"),
        ("letra de Zélia Moura e música de Tito Prado", "Zélia Moura, Tito Prado"),
        ("Text: Maj Lind\nMusik: Olle Brandt", "Maj Lind, Olle Brandt"),
        ("Text: Maj Lind\nMusik: Maj Lind", "Maj Lind"),
        ("Words: M. Gilfoyle\nTune: Ottermere", "M. Gilfoyle"),
        ("Words by Ada Tolliver\nArtist: The Slow Lorries", "Ada Tolliver"),
    ],
)
def test_every_writer(lines: str, writers: str) -> None:
    """Who wrote words and who wrote music are both writers; the name of a hymn's tune and who
    plays the song are not."""
    assert taken(f"Rain Song\n{lines}\n{_SONG}").chart.text("writer") == writers


@each(
    ("line", "settings"),
    [
        ("Feel: straight rock, 140 bpm", ", 140"),
        ("Groove: half-time shuffle, 76", ", 76"),
        ("à 168 environ", ", 168"),
        ("a unos 104", ", 104"),
        ("geen capo, ongeveer 120", ", 120"),
        ("spelas i Dm, ungefär 92", ", 92"),
        ("4-4, Dm, 118 or thereabouts", "4/4, 118"),
        ("6/8, dotted quarter about 92", "6/8, 92"),
        ("3-4 time", "3/4, "),
        ("tretakt", "3/4, "),
        ("tres por cuatro, 96 más o menos", "3/4, 96"),
    ],
)
def test_tempo_and_meter_in_words(line: str, settings: str) -> None:
    """A tempo that is no exact one, and a meter said as people say it, are settings."""
    chart = taken(f"Rain Song\n{line}\n{_SONG}").chart
    assert f"{chart.text('meter')}, {chart.text('tempo')}" == settings


@each(
    ("line", "capo"),
    [
        ("Capo 2?", ""),
        ("(Capo 3? not sure, try it)", ""),
        ("¿cejilla 2?", ""),
        ("in Dm, 92 bpm, kapo 5? (fråga Olle)", ""),
        ("Kapo im 2. Bund?", ""),
        ("Capo 2, ok?", "2"),
    ],
)
def test_a_capo_that_is_asked_for(line: str, capo: str) -> None:
    """A question sets no capo: the line is kept as a note, with a finding."""
    result = taken(f"Rain Song\n{line}\n{_SONG}")
    assert result.chart.text("capo") == capo
    assert ("capo-asked" in codes(result)) == (not capo)


@each(
    ("line", "name", "value"),
    [
        ("Titre = Sodium", "title", "Sodium"),
        ("Title=Rain on Tin", "title", "Rain on Tin"),
        ("Autora = Inés Robledo", "writer", "Inés Robledo"),
        ("Compás = 3/4", "meter", "3/4"),
        ("Titolo   Sotto il gelsomino", "title", "Sotto il gelsomino"),
        ("RAIN SONG          Jo Marsh", "writer", "Jo Marsh"),
        ("Rain Song\tHal Tunney", "writer", "Hal Tunney"),
        ("Song   for the rain", "title", "Song for the rain"),
        ("THE  OLD  RAIN  SONG", "title", "THE OLD RAIN SONG"),
    ],
)
def test_settings_behind_other_signs(line: str, name: str, value: str) -> None:
    """A title, a writer or a setting stands behind an equals sign or a gap."""
    assert taken(f"{line}\n\n{_SONG}").chart.text(name) == value  # type: ignore[arg-type]


@each(
    ("head", "title"),
    [
        ("Morning Will Find Us\nWords & music: Tess Holm\nKey: G", "Morning Will Find Us"),
        ("Evening Over Brackwater\nslow, for the choir", "Evening Over Brackwater"),
        ("Dear Old Lamp\nKey: G", "Dear Old Lamp"),
        ("Morning all\n\nRain Song\nKey: G", "Rain Song"),
        ("Dear band members\n\nRain Song\nKey: G", "Rain Song"),
    ],
)
def test_a_title_that_begins_as_a_greeting(head: str, title: str) -> None:
    """Capitals, or nothing but settings and writers below, make it a title."""
    assert taken(f"{head}\n\n{_SONG}").chart.text("title") == title


@each(
    "said",
    ["so um 92", "um 92", "a eso de 92", "vers 92", "więcej", "ungefär 92", "mais ou menos 92"],
)
def test_a_tempo_that_is_no_exact_one(said: str) -> None:
    """Words for "about" stand before a tempo in every language."""
    tempo = taken(f"Rain Song\nTempo {said}\n\n{_SONG}").chart.text("tempo")
    assert tempo == ("92" if "92" in said else "")


@each(
    ("line", "title", "writer"),
    [
        ('"TWO-LANE RAIN"   (D. Okoro-Platt)', "TWO-LANE RAIN", "D. Okoro-Platt"),
        ("Chuva de Domingo  (Zeca do Cais)", "Chuva de Domingo", "Zeca do Cais"),
        ('HYMN TUNE "OLD RAIN"', 'HYMN TUNE "OLD RAIN"', ""),
        ('"Old Rain"', "Old Rain", ""),
    ],
)
def test_names_far_behind_a_title_and_quotes_around_a_part(
    line: str, title: str, writer: str
) -> None:
    """A name in parentheses behind a gap is the writer's; quotes around the whole title go."""
    chart = taken(f"{line}\nKey: G\n\n{_SONG}").chart
    assert (chart.text("title"), chart.text("writer")) == (title, writer)


@each(
    ("head", "title", "writer"),
    [
        ("from Gwen, Monday practice\nOld Rain      waltz  3/4   in Dm", "Old Rain", ""),
        ("for the harvest supper\nOLD RAIN\nKey: Dm", "OLD RAIN", ""),
        ('"Old Rain"  / Corin Vale\nKey: Dm', "Old Rain", "Corin Vale"),
        ("OLD RAIN  *key Dm*  *bpm 96*", "OLD RAIN", ""),
        ("Old Rain\nMel. og tekst: Corin Vale", "Old Rain", "Corin Vale"),
        ("Old Rain\nTxt. + mus.: Corin Vale", "Old Rain", "Corin Vale"),
        ("old rain by Corin V", "old rain", "Corin V"),
        ("Walking by Plan B. Old Rain", "Walking by Plan B. Old Rain", ""),
    ],
)
def test_who_wrote_and_where_a_song_is_from(head: str, title: str, writer: str) -> None:
    """A writer behind a stroke, a label cut short or "by"; the line above that says where the song
    is from is no title; settings between stars are none either."""
    chart = taken(f"{head}\n\n{_SONG}").chart
    assert (chart.text("title"), chart.text("writer")) == (title, writer)


@each(
    ("line", "title", "writer"),
    [
        ("Rain Song - by Ned Farlow", "Rain Song", "Ned Farlow"),
        ("Rain Song – by Ned Farlow", "Rain Song", "Ned Farlow"),
        ("Chanson de pluie, par Odile Marchand", "Chanson de pluie", "Odile Marchand"),
        ("Regenlied, von Uwe Brandl", "Regenlied", "Uwe Brandl"),
        ("Road by the River", "Road by the River", ""),
        ("Casa de María", "Casa de María", ""),
    ],
)
def test_a_writer_behind_a_title_and_a_sign(line: str, title: str, writer: str) -> None:
    """The sign between them belongs to neither."""
    chart = taken(f"{line}\n\n{_SONG}").chart
    assert (chart.text("title"), chart.text("writer")) == (title, writer)
