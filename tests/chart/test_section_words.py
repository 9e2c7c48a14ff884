"""What kind of section a name means."""

from chartkit.chart.section_words import kind_of_section
from tests.each import each


@each(
    ("name", "kind"),
    [
        ("Chorus", "chorus"),
        ("Last Chorus (softly)", "chorus"),
        ("Kertosäe 2", "chorus"),
        ("REFREIN", "chorus"),
        ("Pre-Chorus 1", "pre-chorus"),
        ("Pre chorus", "pre-chorus"),
        ("Middle 8", "bridge"),
        ("Puente", "bridge"),
        ("Säkeistö 1", "verse"),
        ("Guitar solo", "solo"),
        ("The Lift", ""),
        ("", ""),
        # A chorus at the end is one (common practice, no source).
        ("Final Chorus", "chorus"),
        ("Final Refrain", "chorus"),
        ("Outro Chorus", "chorus"),
        ("Outro-Chorus", "chorus"),
        ("Chorus/Outro", "chorus"),
        ("Refrain final", "chorus"),
        ("Schlussrefrain", "chorus"),
        ("Slutrefräng", "chorus"),
        ("Intro Verse", "verse"),
        ("Outro solo", "solo"),
        ("Outro", "outro"),
        ("Big finish", "end"),
    ],
)
def test_names_of_many_languages(name: str, kind: str) -> None:
    """A name means its kind, whatever number, remark or adjective stands beside it."""
    assert kind_of_section(name) == kind
