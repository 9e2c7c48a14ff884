"""Chords that a sheet types once, before the words of the sections that are played with them."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from chartkit.chart.model import BarLine, Cue, CueRow, MusicRow, Row, Section, WordsRow
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.vocabulary.directions import says_throughout
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key

OF_SEVERAL = re.compile(
    r"(?:verses|choruses|refrains|strophen|couplets|coplas|estrofas|strofe|coupletten|verser|zwrotki|"
    r"(?:all|every|each|alle|jede|toutes|tous|chaque|todas|todos|cada|tutte|tutti|ogni|elke|alla|"
    r"wszystkie) [^\W\d_]{4,})\b",
    re.IGNORECASE,
)
"""Names of chords that several sections have."""
_ALL = re.compile(
    r"(?<!\w)(?:all|every|each|the|die|alle|jede|toutes?|tous|les|chaque|todas?|todos|las|los|os|as|cada|"
    r"tutt[ei]|le|gli|ogni|elke|varje|hver|alla|wszystkie|both)\s+|"
    r"^(?:sections|parts|songs?)$",
    re.IGNORECASE,
)
_AND = re.compile(r"\s*(?:[,&+/]|\b(?:and|und|et|y|e|en|och|og|ja)\b)\s*", re.IGNORECASE)
_EVERYTHING = re.compile(
    r"(?:the )?(?:all|throughout|(?:whole|entire) (?:song|thing|tune)|everything|changes|"
    r"all the way(?: through)?|(?:12|twelve)[- ]bars?(?: blues)?|durchgehend|ganzes lied|alles|"
    r"tout|toute la chanson|todo|toda la canción|tutto|sempre|hele lied|hela låten)",
    re.IGNORECASE,
)
_FOR_ALL = re.compile(
    r"(?:(?:the|our|same|all)\s+)*(?:changes|progression|chords|form|twelve|12|akkorde|accords|acordes|"
    r"accordi|akkoorden|ackord|akkorder|blues)\b.{0,30}?"
    r"\b(?:all (?:the way|along|through)|through(?:out)?|every (?:verse|time)|each (?:verse|time)|"
    r"for (?:all|every|everything|the whole)|the same|whole (?:song|thing|tune)|always|immer|"
    r"durchgehend|toujours|siempre|sempre|altijd|hela|hele)\b.{0,30}|"
    r"(?:the\s+)?(?:changes|progression)\s*(?:\(.{1,40}\))?\s*:?",
    re.IGNORECASE,
)
"""How a line above chords says that they are those of every section."""
_LONGEST = 120
_PLURALS = ("s", "n", "e", "i", "es", "en", "er", "ten", "nen")


def kinds_given(name: str) -> tuple[str, ...]:
    """The kinds of sections that chords under a name are for: of each that the name lists ("All
    verses and solos"), or an empty kind for the whole song."""
    if not name or _EVERYTHING.fullmatch(name.strip(" :.")) is not None:
        return ("",)
    parts = [_bare(part) for part in _AND.split(name)]
    kinds = [kind_meant(part) for part in parts if part]
    if len(parts) > 1 and "" not in kinds and len(kinds) == len(parts):
        return tuple(dict.fromkeys(kinds))
    bare = _bare(name)
    return (kind_meant(bare) or section_key(name)[0],) if bare else ("",)


def says_for_all(text: str) -> bool:
    """Whether a line above chords says that they are for every section ("The changes:")."""
    return len(text) <= _LONGEST and _FOR_ALL.fullmatch(text.strip()) is not None


def _bare(name: str) -> str:
    """A name without the words that say that it means all of its kind."""
    return _ALL.sub("", _ALL.sub("", name).strip()).strip()


def kind_meant(name: str) -> str:
    """The kind of sections that a name means, also in the plural; empty for no known name."""
    forms = [name, *(name.removesuffix(end) for end in _PLURALS if name.casefold().endswith(end))]
    forms += [name[:-1] + "a", name[:-1] + "o"] if name[-1:] in ("e", "i") else []
    known = (form for form in forms if is_known_name(form))
    return next((section_key(form)[0] for form in known), "")


def is_for_all(section: Section, first: bool) -> bool:
    """Whether the chords of a section are said to be for the whole song, beside its row where it
    has no name, or by the name of the ``first`` section."""
    if section.name:
        said = (row.text for row in section.rows if isinstance(row, CueRow))
        return first and says_for_all(" ".join([section.name, *said]))
    return any(
        says_throughout(cue.text) is not None
        for row in section.rows
        if isinstance(row, MusicRow)
        for bar in row.bars
        for cue in bar.cues
    )


def without_given(
    sections: Sequence[Section], used: Mapping[int, int], given: Iterable[int]
) -> tuple[Section, ...]:
    """The sections without those whose chords stand over the words of later ones; ``used`` has
    their places, each with the first of these.  One that another needs by its name stays, and one
    with words of its own.

    One of the ``given`` that no words came for stands behind the first with the chords that were
    listed before it: "Verses" and "Chorus" over the words of a verse are a verse and a chorus.
    """
    needed = {one.same_as.casefold() for one in sections}
    needed |= {one.name.casefold() for one in sections if not one.rows}
    needed -= {
        one.name.casefold()
        for at, one in enumerate(sections)
        if at not in used and any(isinstance(row, MusicRow) for row in one.rows)
    }
    order = [
        at
        for at, one in enumerate(sections)
        if at not in used
        or (one.name and one.name.casefold() in needed)
        or any(isinstance(row, WordsRow) for row in one.rows)
    ]
    names = Counter(one.name.casefold() for one in sections)
    behind, first = -1, min(used.values(), default=0)
    for at in sorted({one for one in given if one < first}):
        alone = at not in used and names[sections[at].name.casefold()] == 1
        if alone and at in order and behind in order:
            order.remove(at)
            order.insert(order.index(behind) + 1, at)
        behind = used.get(at, at if alone and behind >= 0 else behind)
    return tuple(sections[at] for at in order)


_MOST_WRITTEN_OUT = 8


def played_often(music: Sequence[Row], times: int, findings: Findings) -> list[Row]:
    """Rows of given chords as often as the count behind them says: bars in a repeat, chords
    without bars written out, and where both fail the count as a cue.

    The words of a section are sung once over all of this, so the section is not repeated.
    """
    rows = [row for row in music if isinstance(row, MusicRow)]
    if times < 2 or len(rows) != 1:
        return list(music)
    (row,) = rows
    at = list(music).index(row)
    if not row.free and all(line == BarLine() for line in row.lines):
        lines = (BarLine("repeat-start"), *row.lines[1:-1], BarLine("repeat-end", times=times))
        written: list[Row] = [replace(row, lines=lines)]
    elif row.free and times <= _MOST_WRITTEN_OUT:
        written = [row] * times
        findings.guess(
            "chords-again",
            "chords with a count behind their row are written out",
            f"{row.span.start}:1",
        )
    else:
        last = row.bars[-1]
        cue = Cue(f"{times} times")
        written = [replace(row, bars=(*row.bars[:-1], replace(last, cues=(cue, *last.cues))))]
    return [*music[:at], *written, *music[at + 1 :]]
