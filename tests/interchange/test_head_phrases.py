"""Lines of a head as people type them, and the settings that a musician reads in them.

Source of the lines: common practice, no source; the keys, meters and tempos are what the words say.
"""

from chartkit.chart.model import SettingRow
from tests.each import each
from tests.interchange.reading import taken

SHEET = """\
The Paper Lantern
{}

Verse 1
C            G
Down by the water, down by the sea
"""
HEADS = [
    ("IN G. MEDIUM.", {"key": "G major", "feel": "MEDIUM"}),
    ("Key: B♭ — Tempo: 88", {"key": "Bb major", "tempo": "88"}),
    ("Key - G   Tempo - 96", {"key": "G major", "tempo": "96"}),
    ("Key of D, no capo. Join in on the chorus!", {"key": "D major"}),
    ("in C, gentle four, c. 84", {"key": "C major", "tempo": "84", "feel": "gentle four"}),
    ("Em   104 bpm   4/4   straight 8s", {"key": "E minor", "tempo": "104", "meter": "4/4"}),
    ("F major. Slow waltz. 3/4.", {"key": "F major", "feel": "Slow waltz", "meter": "3/4"}),
    ("ré mineur, capo 2", {"key": "D minor", "capo": "2"}),
    ("Tono: La menor. Compás: 3/4.", {"key": "A minor", "meter": "3/4"}),
    ("4/4 Zeit, 120 BPM", {"meter": "4/4", "tempo": "120"}),
    ("♩=96 in F", {"key": "F major", "tempo": "96"}),
    ("moderato (♩ = 100) in B flat", {"key": "Bb major", "tempo": "100", "feel": "moderato"}),
    ("Fairly slow, in F sharp minor", {"key": "F# minor", "feel": "Fairly slow"}),
    ("Capo 3. Play in G. Sounds in Bb.", {"capo": "3", "key": "G major"}),
    ("In G but sounds in A with capo 2", {"capo": "2", "key": "G major"}),
    ("Tuning: half a step down", {"capo": "-1"}),
    ("Comp.: L. Vantongel     Tempo 92     Key Eb", {"writer": "L. Vantongel", "key": "Eb major"}),
    ("Words & music by P. Ashdown, 2019", {"writer": "P. Ashdown"}),
    ("(Gm)", {"key": "G minor"}),
]


def settings_of(sheet: str) -> dict[str, str]:
    """The settings above the song, by their names."""
    rows = taken(sheet).chart.top
    return {row.name: str(row.value) for row in rows if isinstance(row, SettingRow)}


@each(("line", "wanted"), HEADS, ids=[line for line, _ in HEADS])
def test_settings_between_other_words(line: str, wanted: dict[str, str]) -> None:
    """Each setting is taken wherever it stands in the line, and nothing of it is the writer."""
    given = settings_of(SHEET.format(line))
    assert {name: given.get(name) for name in wanted} == wanted
    assert given["title"] == "The Paper Lantern"
    assert "writer" in wanted or "writer" not in given


@each("line", ["senza capo", "no capo", "Capo: none", "sans capo"])
def test_no_capo_is_nobodys_name(line: str) -> None:
    """Words for no capo are neither a writer nor a note."""
    assert settings_of(SHEET.format(line)).keys() == {"title"}


@each(
    "above",
    ["TUE SESSION, tune 3", "37          PARISH SOCIAL SONG BOOK", "Set list - song 4 of 9"],
)
def test_a_running_head_is_not_the_title(above: str) -> None:
    """The place in a set or the page of a book above a title is a note."""
    given = settings_of(f"{above}\n{SHEET.format('Key of G')}")
    assert (given["title"], given["key"], given["note"]) == (
        "The Paper Lantern",
        "G major",
        " ".join(above.split()),
    )


def test_a_writer_and_a_year_behind_a_title() -> None:
    """A name with its year in parentheses is the writer; the year stays as a note."""
    given = settings_of("Tin Roof Season (Odile Marsh, 2021)\n\nVerse\nC   G\nTin roof\n")
    assert (given["title"], given["writer"], given["note"]) == (
        "Tin Roof Season",
        "Odile Marsh",
        "2021",
    )
