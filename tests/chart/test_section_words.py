"""What kind of section a name means."""

from collections import Counter, defaultdict

from chartkit.chart.section_languages import NAMES_BY_LANGUAGE, SLIPS
from chartkit.chart.section_words import KIND_OF, kind_of_section, kinds_by_name
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
        ("Kertosäkeistö", "chorus"),
        ("Väliosa", "bridge"),
        ("Förrefräng", "pre-chorus"),
        ("Mellemspil", "interlude"),
        ("Рефрен", "chorus"),
        ("Sprechteil", "spoken"),
        ("Chrous 2", "chorus"),
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


def test_a_name_means_one_kind() -> None:
    """No name stands twice in a language, and none means one thing in one and another in the
    next; a slip is nobody's word."""
    kinds: defaultdict[str, set[str]] = defaultdict(set)
    for table in (*NAMES_BY_LANGUAGE.values(), SLIPS):
        names = Counter(name.strip() for names in table.values() for name in names.split(","))
        assert [name for name, count in names.items() if count > 1 or name != name.casefold()] == []
        for name, kind in kinds_by_name(table).items():
            kinds[name].add(kind)
    assert {name: found for name, found in kinds.items() if len(found) > 1} == {}
    spelled = {name for table in NAMES_BY_LANGUAGE.values() for name in kinds_by_name(table)}
    assert not spelled & set(kinds_by_name(SLIPS))
    assert spelled < set(KIND_OF)
