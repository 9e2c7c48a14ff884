"""What is known of the sections only when all were read: a refrain after each verse, a last line
that is repeated, the music of a section below."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from chartkit.chart.model import CueRow, MusicRow, Row, Section, SettingRow, WordsRow
from chartkit.interchange.taken import Findings
from chartkit.interchange.text.section_names import section_key
from chartkit.interchange.text.times_played import ANY_TIMES, times_of

_AFTER_EACH = re.compile(
    r"\b(?:after|follows|nach|après|después de|depois de|dopo|na|efter|etter|po)\s+"
    r"(?:every|each|all|jede[rmn]?|allen|chaque|tous les|cada|todas las|todos os|ogni|elke?|"
    r"iedere?|varje|hvert?|każdej)\s+(?:the\s+)?(?:verses?|stanzas?|stroph(?:en?)?|couplets?|estrofas?|"
    r"versos?|strofa|strofe|vers|zwrotce)\b",
    re.IGNORECASE,
)
_LAST_LINE = re.compile(
    r"(?:(?:repeat|rep\.?|rpt\.?|double|wiederhole|wdh\.?|répéter|bisser|repetir|repete|repite|ripeti|"
    r"herhaal|upprepa)\s+)?(?:the\s+|die\s+|la\s+|a\s+|l['’]|de\s+)?"
    r"(?:last line|final line|letzte zeile|dernière ligne|última línea|ultima linea|última linha|"
    r"ultima riga|laatste regel|laatste zin|sista raden|siste linje|ostatni wers)\s*,?\s*"
    rf"(?:again|repeated|repeat|wiederholen|nochmals?|wdh\.?|bis|(?P<times>{ANY_TIMES})|"
    r"repetir|herhalen|igen)?",
    re.IGNORECASE,
)
_SAYS_TWICE = re.compile(
    r"rep|rpt|double|wieder|wdh|bis|again|nochmal|herha|upprepa|igen|ripeti|[x×]|\d|twice|mal|veces|"
    r"fois|volte|vezes|keer",
    re.IGNORECASE,
)
_MOST_TIMES = 8
_MOST_SECTIONS = 2_000


def settled(
    sections: Sequence[Section], like_later: Mapping[int, str], findings: Findings
) -> list[Section]:
    """The sections with what others below say of them."""
    if len(sections) > _MOST_SECTIONS:
        return list(sections)
    result = [
        _with_music_below(one, like_later[one.span.start], sections[at + 1 :])
        if one.span.start in like_later and one.name
        else one
        for at, one in enumerate(sections)
    ]
    result = [
        _with_last_line_again(one, result[:at], result[at + 1 :], findings)
        for at, one in enumerate(result)
    ]
    return _with_refrain_after_verses(result, findings)


def _music(section: Section) -> list[Row]:
    return [row for row in section.rows if isinstance(row, MusicRow | SettingRow)]


def _has_music(section: Section) -> bool:
    return any(isinstance(row, MusicRow) for row in section.rows)


def _with_music_below(one: Section, like: str, below: Sequence[Section]) -> Section:
    """A section with the music of one below that it is said to be like."""
    key = section_key(like)
    others = [other for other in below if _has_music(other)]
    named = [other for other in others if section_key(other.name) == key]
    named += [other for other in others if section_key(other.name)[0] == key[0]]
    return replace(one, rows=(*one.rows, *_music(named[0]))) if named else one


def _cues(section: Section) -> list[CueRow]:
    return [row for row in section.rows if isinstance(row, CueRow)]


def _with_last_line_again(
    one: Section, above: Sequence[Section], below: Sequence[Section], findings: Findings
) -> Section:
    """A section that is an earlier one, with its last line once more, where its heading says so
    and no later one is played like it."""
    said = next((cue for cue in _cues(one) if _LAST_LINE.fullmatch(cue.text.strip(" ()."))), None)
    if said is None or _SAYS_TWICE.search(said.text) is None or one.same_as:
        return one
    name = one.name.casefold()
    home = next((o for o in reversed(above) if o.name.casefold() == name and _has_music(o)), None)
    own = one if _has_music(one) else home
    if one.times > 1 or own is None or any(later.name.casefold() == name for later in below):
        return one
    rows = [row for row in own.rows if not isinstance(row, CueRow)]
    last = max(at for at, row in enumerate(rows) if isinstance(row, MusicRow))
    line = rows[last:]
    if last == 0 or any(not isinstance(row, MusicRow | WordsRow) for row in line):
        return one
    findings.guess(
        "last-line-again",
        f'"{said.text}": the last line of "{one.name}" is written out once more',
        f"{one.span.start}:1",
    )
    kept = [row for row in one.rows if isinstance(row, CueRow) and row is not said]
    return replace(one, rows=(*kept, *rows, *line * (_lines(said.text) - 1)))


def _follows_verses(section: Section) -> bool:
    said = (section.name, *(cue.text for cue in _cues(section)))
    return any(_AFTER_EACH.search(text) for text in said)


def _lines(text: str) -> int:
    """How often a last line is played by what is said of it."""
    match = _LAST_LINE.fullmatch(text.strip(" ()."))
    counted = times_of(match["times"]) if match is not None and match["times"] else 2
    return min(max(counted, 2), _MOST_TIMES)


def _with_refrain_after_verses(sections: Sequence[Section], findings: Findings) -> list[Section]:
    """The sections with the refrain after each further verse, where its heading says so and its
    name is not typed there."""
    at = next((i for i, one in enumerate(sections) if _follows_verses(one)), None)
    if at is None or not sections[at].name:
        return list(sections)
    refrain = sections[at]
    key = section_key(refrain.name)
    later = sections[at + 1 :]
    if any(section_key(one.name) == key for one in later) or key[0] == "verse":
        return list(sections)
    result = list(sections[: at + 1])
    for one in later:
        result.append(one)
        if section_key(one.name)[0] == "verse":
            result.append(Section(refrain.name, times=refrain.times, span=refrain.span))
    if len(result) > len(sections):
        findings.guess(
            "refrain-after-verses",
            f'"{refrain.name}" is written after each further verse, as its heading says',
            f"{refrain.span.start}:1",
        )
    return result
