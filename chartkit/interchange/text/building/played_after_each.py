"""A section that is played after each of a kind, where its heading or a line that stands apart says
so: "Refrain (after each verse)", "Intro (and after each chorus)".

Source of the words: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.chart.model import CueRow, Section, WordsRow
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.rows.given_chords import kind_meant
from chartkit.interchange.text.vocabulary.section_names import section_key

_AFTER_EACH = re.compile(
    r"\b(?:after|follows|nach|après|después de|depois de|dopo|na|efter|etter|po)\s+"
    r"(?:every|each|all|jede[rmn]?|allen|chaque|tous les|toutes les|cada|todas las|"
    r"todos os|todos los|ogni|elke?|iedere?|varje|hvert?|hver|każdej|każdym)\s+"
    r"(?:of\s+)?(?:the\s+)?(?:"
    r"(?P<verse>verses?|stanzas?|stroph(?:en?)?|couplets?|estrofas?|"
    r"versos?|strofa|strofe|vers|zwrotce)|(?P<other>[^\W\d_]{3,20}))\b",
    re.IGNORECASE,
)
_AFTER_EACH_ONE = re.compile(
    r"(?:after|nach|après|después de|depois de|dopo|na|efter|etter|po)\s+"
    r"(?:each|every|jede[rmn]?|chaque|chacun|chacune|cada|ogni|elke?|ieder|varje|hvert?|hver|każdej)"
    r"(?:\s+(?:one|un[oa]?))?",
    re.IGNORECASE,
)
"""The same, said without the word for a verse ("Chorus after each")."""


def _written_elsewhere(sections: Sequence[Section], at: int) -> int | None:
    """The place of the refrain itself where a line above or below all sections only says when it
    comes ("(chorus after each verse)"); None where that line is its heading."""
    key, others = section_key(sections[at].name), range(len(sections))
    bare = [*sections[at].rows] == _cues(sections[at])
    if at not in (0, len(sections) - 1) or not bare:
        return None
    return next((i for i in others if i != at and section_key(sections[i].name) == key), None)


_LAST_TWICE = re.compile(
    r"\blast\b.{0,20}\b(?:twice|x\s?2|2x|double)|\bam ende (?:zweimal|2x)|"
    r"\bletzte\w*\b.{0,20}(?:zweimal|2x)|\bdernière?\b.{0,20}(?:deux fois|bis)|"
    r"\bla última\b.{0,20}(?:dos veces|bis)|"
    r"\bultim[oa]\b.{0,20}(?:due volte|bis)|\blaatste\b.{0,20}(?:twee keer|2x)",
    re.IGNORECASE,
)
"""How a remark says that the last refrain is played twice."""


def _kind_followed(section: Section) -> str:
    """The kind of the sections each of which a section follows, as its heading says; empty where
    it says nothing of them."""
    for text in (section.name, *(cue.text for cue in _cues(section))):
        for match in _AFTER_EACH.finditer(text):
            kind = "verse" if match["verse"] else kind_meant(match["other"])
            if kind:
                return kind
    alone = any(_AFTER_EACH_ONE.fullmatch(cue.text.strip(" .:()")) for cue in _cues(section))
    return "verse" if alone and section_key(section.name)[0] != "verse" else ""


def with_sections_after_each(sections: Sequence[Section], findings: Findings) -> list[Section]:
    """The sections with the refrain after each further verse, or another section after each of its
    kind, where its heading says so and its name is not typed there."""
    at = next((i for i, one in enumerate(sections) if _kind_followed(one)), None)
    kind = _kind_followed(sections[at]) if at is not None else ""
    twice = False
    if at is not None and (other := _written_elsewhere(sections, at)) is not None:
        twice = any(_LAST_TWICE.search(cue.text) for cue in _cues(sections[at]))
        sections = [*sections[:at], *sections[at + 1 :]]
        at = other - (other > at)
    if at is None or not sections[at].name:
        return list(sections)
    if kind == "verse":
        sections, at = _with_verses_apart(sections, at)
    key = section_key(sections[at].name)
    later = sections[at + 1 :]
    if any(section_key(one.name) == key for one in later) or key[0] == kind:
        return list(sections)
    again = Section(sections[at].name, times=sections[at].times, span=sections[at].span)
    result = [*_behind_each_above(sections[:at], sections[at], again, kind)]
    for one in later:
        result.append(one)
        if section_key(one.name)[0] == kind:
            result.append(again)
    if twice and section_key(result[-1].name) == key:
        result[-1] = replace(result[-1], times=2)
    if len(result) > len(sections):
        findings.guess(
            "refrain-after-verses",
            f'"{again.name}" is written after each further {kind}, as its heading says',
            f"{again.span.start}:1",
        )
    return result


def _behind_each_above(
    above: Sequence[Section], refrain: Section, again: Section, kind: str
) -> Iterator[Section]:
    """The sections above a refrain and the refrain; behind the first of a kind and then ``again``
    behind each other, where several of that kind stand above it one after another."""
    followed = [at for at, one in enumerate(above) if section_key(one.name)[0] == kind]
    together = len(followed) > 1 and followed[-1] == len(above) - 1
    if not together or followed != [*range(followed[0], len(above))]:
        yield from (*above, refrain)
        return
    for at, one in enumerate(above):
        yield one
        if at in followed:
            yield refrain if at == followed[0] else again


def _with_verses_apart(sections: Sequence[Section], at: int) -> tuple[list[Section], int]:
    """The sections, verses that stand under one music as sections of their own, where they are
    right above the refrain or anywhere below it; and the place of the refrain behind the first of
    them."""
    above = _verses_apart(sections[at - 1]) if at else []
    below = [part for one in sections[at + 1 :] for part in _verses_apart(one) or (one,)]
    if not above:
        return [*sections[: at + 1], *below], at
    return [*sections[: at - 1], above[0], sections[at], *above[1:], *below], at


def _cues(section: Section) -> list[CueRow]:
    return [row for row in section.rows if isinstance(row, CueRow)]


def _verses_apart(section: Section) -> list[Section]:
    """The verses of a section whose words are numbered under the same music, each as a section;
    none where they are not."""
    words = [row for row in section.rows if isinstance(row, WordsRow)]
    numbers = sorted({row.verse for row in words if row.verse is not None})
    if len(numbers) < 2 or any(row.verse is None for row in words):
        return []
    if section_key(section.name)[0] != "verse" or section.times > 1:
        return []
    result: list[Section] = []
    for number in numbers:
        own = [
            replace(row, verse=None) if isinstance(row, WordsRow) else row
            for row in section.rows
            if not isinstance(row, WordsRow) or row.verse == number
        ]
        result.append(replace(section, name=f"Verse {number}", rows=tuple(own)))
    return result
