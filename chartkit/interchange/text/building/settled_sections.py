"""Completes sections when all have been read: a last line that is repeated, the music of a section
below, a section in another key."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from chartkit.chart.model import Bar, CueRow, MusicRow, Row, Section, SettingRow, WordsRow
from chartkit.chart.walk import iter_chords
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.building.key_changes import row_moved, with_key_changes
from chartkit.interchange.text.building.last_lines import written_as_last_lines
from chartkit.interchange.text.building.played_after_each import with_sections_after_each
from chartkit.interchange.text.names.section_keys import is_plausible, with_keys_said
from chartkit.interchange.text.vocabulary.key_words import HIGHER, HOW_FAR, says_how_much_higher
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of
from chartkit.theory.chord import Chord
from chartkit.theory.key import MOST_SIGNS, Key

_LAST_LINE = re.compile(
    r"(?:(?:(?:the\s+)?same(?:\s+as\s+(?:before|above))?|as\s+(?:before|above)|again|wie\s+(?:oben|vorher)|"
    r"gleich|idem|igual|lo mismo|come prima|comme avant|pareil|zelfde|samma)"
    r"(?:\s*[,;:–-]\s*|\s+)(?:(?:but|and|aber|und|mais|pero|ma|e|y|et|maar|men)\s+)?)?"
    r"(?:(?:sing|play|singen|chanter|cantar|cantare|zing|sjung)\s+)?(?:(?:repeat|rep\.?|rpt\.?|double|wiederhole|wdh\.?|répéter|bisser|repetir|repete|repite|ripeti|"
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
    sections: Sequence[Section],
    like_later: Mapping[int, str],
    findings: Findings,
    key: Key | None = None,
) -> list[Section]:
    """The sections, with the music and the number of times that other sections give them; ``key``
    is that of the song."""
    if len(sections) > _MOST_SECTIONS:
        return list(sections)
    result = [
        _with_music_below(one, like_later[one.span.start], sections[at + 1 :])
        if one.span.start in like_later and one.name
        else one
        for at, one in enumerate(sections)
    ]
    if any(one.code == "stacked-verses" for one in findings.collected):
        result = _with_music_once(result)
    result = [
        written_as_last_lines(one, result[:at], result[at + 1 :], findings)
        for at, one in enumerate(result)
    ]
    result = [
        _with_last_line_again(one, result[:at], result[at + 1 :], findings)
        for at, one in enumerate(result)
    ]
    result = _with_changes_of_next(result)
    raised = [
        _raised(one, result[:at], result[at + 1 :], findings, key) for at, one in enumerate(result)
    ]
    result = with_keys_said(with_key_changes(raised, key, findings), key, findings)
    return with_sections_after_each(_in_order_of_list(result, findings), findings)


def _with_music_once(sections: Sequence[Section]) -> list[Section]:
    """The sections, those whose music was read from the same lines as an earlier one's as that
    one's music with words of their own."""
    homes: dict[tuple[tuple[int, tuple[Bar, ...]], ...], str] = {}
    result: list[Section] = []
    for one in sections:
        music = [row for row in one.rows if isinstance(row, MusicRow)]
        places = tuple((row.span.start, row.bars) for row in music)
        home = homes.setdefault(places, one.name) if all(at for at, _ in places) else one.name
        words = sum(isinstance(row, WordsRow) for row in one.rows)
        if music and home and home.casefold() != one.name.casefold() and words == len(music):
            rows = tuple(row for row in one.rows if not isinstance(row, MusicRow))
            one = replace(one, same_as=home, rows=rows)
        result.append(one)
    return result


def _with_changes_of_next(sections: Sequence[Section]) -> list[Section]:
    """The sections, a remark that it goes up a tone with the next one where it stands apart under
    a bare name, and the next is of that kind and has its chords written out."""
    result = list(sections)
    for at in range(len(result) - 1):
        one, below = result[at], result[at + 1]
        alike = section_key(one.name)[0] == section_key(below.name)[0]
        if not alike or _has_music(one) or not _has_music(below):
            continue
        apart = [
            cue
            for cue in _cues(one)
            if says_how_much_higher(cue.text) and cue.span.start > one.span.start + 1
        ]
        if apart:
            rows = tuple(row for row in one.rows if row not in apart)
            result[at] = replace(one, rows=rows)
            result[at + 1] = replace(below, rows=(*apart, *below.rows))
    return result


# ---- a list of names below a list of chords
_FEWEST_LISTED = 4


def _in_order_of_list(sections: Sequence[Section], findings: Findings) -> list[Section]:
    """The sections in the order of the names alone below them, where each was given its chords
    once before, in a list, and the names begin with the first of these."""
    given = next((at for at, one in enumerate(sections) if not _has_music(one)), len(sections))
    named = [one.name.casefold() for one in sections[:given]]
    listed = sections[given:]
    words = any(isinstance(row, WordsRow) for one in sections for row in one.rows)
    names = [one.name.casefold() for one in listed]
    plain = all(not _has_music(one) and not one.same_as for one in listed)
    plain = plain and len({one.span.start for one in listed}) > 1  # a sentence names steps
    fits = len(listed) >= _FEWEST_LISTED and names[:1] == named[:1] and {*names} == {*named}
    if words or not plain or not fits or len({*named}) != given or "" in named:
        return list(sections)
    findings.guess(
        "list-of-names",
        "the names below the chords are read as the order of the sections",
        f"{listed[0].span.start}:1",
    )
    result: list[Section] = []
    for one in listed:
        home = sections[named.index(one.name.casefold())]
        first = all(other.name.casefold() != one.name.casefold() for other in result)
        if first:
            times = one.times if one.times > 1 else home.times
            one = replace(home, times=times, rows=(*_cues(one), *home.rows))
        result.append(one)
    return result


# ---- a section in another key
_ONE_OF_THEM = re.compile(
    r"\d(?:st|nd|rd|th|\.|e|de|ª|º)|\b(?:second|last|final|third|time|zweite[ns]?|letzte[ns]?|mal|"
    r"dernière|seconde|última|segunda|seconda|ultima|tweede|laatste|andra|sista|siste)\b",
    re.IGNORECASE,
)
"""How a remark speaks of one of the times that a section is played."""
_TONE, _FLAT_SECOND, _SHARP_PRIME = 2, -5, 7
"""Intervals on the line of fifths: a whole tone, and a semitone by the next letter or the same."""


def _raised(
    one: Section,
    above: Sequence[Section],
    below: Sequence[Section],
    findings: Findings,
    key: Key | None,
) -> Section:
    """An earlier section with nothing under its name but that it goes up a tone, with its key and
    its chords written out there; any other as it is, and one that is played like it later."""
    said = next((cue.text for cue in _cues(one) if HIGHER.search(cue.text)), "")
    how = HOW_FAR.search(said)
    name = one.name.casefold()
    if how is None or _has_music(one) or one.same_as:
        return one
    if one.times > 1 and _ONE_OF_THEM.search(said) is not None:
        return one  # only one of the times is higher
    home = next((o for o in reversed(above) if o.name.casefold() == name and _has_music(o)), None)
    kind = section_key(one.name)[0]
    alike = (o for o in reversed(above) if section_key(o.name)[0] == kind and _has_music(o))
    home = home or next(alike, None)
    if home is None or any(later.name.casefold() == name for later in below):
        return one
    roots = [chord.root for chord in _chords(home)]
    by = _TONE if how["half"] is None else _FLAT_SECOND
    if how["half"] is not None and roots and sum(roots) / len(roots) < 0:
        by = _SHARP_PRIME
    interval = "a whole tone" if by == _TONE else "a semitone"
    findings.guess(
        "section-raised",
        f'"{said}": the chords of "{one.name}" are written out {interval} higher',
        f"{one.span.start}:1",
    )
    own = [row for row in home.rows if not isinstance(row, CueRow)]
    rows = [row_moved(row, by) if isinstance(row, MusicRow) else row for row in own]
    return replace(one, rows=(*one.rows, *_key_up(key, by, rows), *rows))


def _key_up(key: Key | None, by: int, rows: Sequence[Row]) -> list[Row]:
    """The key in which a raised section is, if that of the song is known, the chords of its
    ``rows`` lie in it, and it is a usual one."""
    moved = None if key is None else replace(key, tonic=key.tonic + by)
    if moved is None or abs(moved.signature) > MOST_SIGNS:
        return []
    chords = [*iter_chords([Section("", rows=tuple(rows))])]
    return [SettingRow("key", moved)] if is_plausible(moved, chords) else []


def _chords(section: Section) -> list[Chord]:
    rows = [row for row in section.rows if isinstance(row, MusicRow)]
    strikes = (strike for row in rows for bar in row.bars for strike in bar.strikes)
    return [strike.chord for strike in strikes if strike.chord is not None]


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
    rows = _without_cues_around(own.rows)
    last = max(at for at, row in enumerate(rows) if isinstance(row, MusicRow))
    line = rows[last:]
    if last == 0 or any(not isinstance(row, MusicRow | WordsRow) for row in line):
        return one
    findings.guess(
        "last-line-again",
        f'"{said.text}": the last line of "{one.name}" is written out once more',
        f"{one.span.start}:1",
    )
    counted = re.search(r"twice|\d|zweimal|bis\b", said.text) is not None  # as it is written then
    kept = [row for row in _cues(one) if (counted or row is not said) and row not in rows]
    return replace(one, rows=(*kept, *rows, *line * (_lines(said.text) - 1)))


def _without_cues_around(rows: Sequence[Row]) -> list[Row]:
    """The rows without cues, but for those that part words from the music above them: these words
    have no places under its chords."""
    kept: list[Row] = []
    for at, row in enumerate(rows):
        if not isinstance(row, CueRow) or _parts(kept, rows[at:]):
            kept.append(row)
    return kept


def _parts(above: Sequence[Row], rows: Sequence[Row]) -> bool:
    """Whether the first of some rows, a cue, stands between music and words."""
    below = next((one for one in rows if not isinstance(one, CueRow)), None)
    music = bool(above) and isinstance(above[-1], MusicRow | CueRow)
    return music and isinstance(below, WordsRow)


def _lines(text: str) -> int:
    """How often a remark says that the last line is played."""
    match = _LAST_LINE.fullmatch(text.strip(" ()."))
    counted = times_of(match["times"]) if match is not None and match["times"] else 2
    return min(max(counted, 2), _MOST_TIMES)
