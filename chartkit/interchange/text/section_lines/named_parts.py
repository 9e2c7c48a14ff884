"""Sections whose names say that they are a part of the song ("Drum bit", "Dance break 32 bars,
strings only"), alone between other sections or over their own chords."""

import re
from collections.abc import Sequence

from chartkit.interchange.text.kinds.line_kinds import Chords, KnownLine, SectionStart, Words
from chartkit.interchange.text.kinds.sheet_lines import SheetLines
from chartkit.interchange.text.names.headings import Heading
from chartkit.interchange.text.song_form.lent_music import with_lent_music
from chartkit.interchange.text.song_form.steps import KnownNames
from chartkit.interchange.text.vocabulary.directions import count_words
from chartkit.interchange.text.vocabulary.form_words import BAR_COUNT, OVER_OR_LIKE
from chartkit.interchange.text.vocabulary.part_words import part_named
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key
from chartkit.interchange.text.vocabulary.times_played import count_among, times_of

_SIGNS = " \t,;:.!–—-()[]"
_MOST_BLANKS = 4
"""So many lines below are looked at; more empty ones are the end of a song."""

_MOST_LOOKED_AT = 400
"""In so many lines above the section right above is looked for; a song has fewer."""
_UNSUNG = frozenset({"solo", "interlude", "instrumental"})
"""Kinds of sections that only the band plays."""
_WITHIN_SECTIONS = frozenset({"fill", "lick"})
"""Kinds of what is played between lines of words."""
_PARTED = re.compile(r"\s*(?:[,;(:]|[-–—]\s)\s*(?=\S)")
_IN_PARENTHESES = re.compile(r"\s*[(\[]([^()\[\]]+)[)\]]")
_MOST_WORDS, _MOST_WORDS_BARE = 6, 2


def named_part(
    sheet: SheetLines, known: Sequence[KnownLine], names: KnownNames, at: int
) -> SectionStart | None:
    """The part of the song that a line names; None for any other line.  ``known`` are the lines
    above, ``names`` those of the sections above."""
    may = bool(names.kinds) and not _is_under_chords(known)
    match = part_named(sheet.lines[at].text.strip()) if may else None
    if match is None:
        return None
    strong = count_words(match["name"]).strong > 0 or BAR_COUNT.search(match["more"]) is not None
    if not _stands_apart(sheet, known, at, strong):
        return None
    name = match["name"] + (match["number"] or "")
    if is_known_name(name) or sheet.is_chords(name) or sheet.names.is_full(name):
        return None
    row = _IN_PARENTHESES.match(match["more"])
    if row is not None and sheet.is_chords(row[1]):
        return None  # its own chords
    said = match["more"].strip(_SIGNS)
    said += ")" * (said.count("(") - said.count(")"))
    times, said = (times_of(said), "") if times_of(said) else count_among(said)
    if OVER_OR_LIKE.match(said) or any(map(sheet.is_chords, said.split(",")[:1])):
        return None  # whose music it has, or its own
    return SectionStart(name, max(1, times), "", (said,) if said else (), guessed=True)


def unsung_section(
    sheet: SheetLines, known: Sequence[KnownLine], names: KnownNames, at: int
) -> SectionStart | None:
    """The section that only the band plays that a line names with a few words of any kind behind it
    ("Guitar solo, Ed"); None for any other line."""
    if not names.kinds or _is_under_chords(known):
        return None
    text = sheet.lines[at].text.strip()
    end = sheet.names.end_at(text)
    name, more = text[:end].strip(), text[end:]
    if not more or section_key(name)[0] not in _UNSUNG:
        return None
    said = more.strip(_SIGNS)
    most = _MOST_WORDS if _PARTED.match(more) else _MOST_WORDS_BARE
    if not 0 < len(said.split()) <= most or sheet.names.may_name(said) or sheet.is_chords(said):
        return None
    if not _stands_apart(sheet, known, at, strong=True) or sheet.is_row(at):
        return None
    times, said = count_among(said)
    return SectionStart(name, max(1, times), "", (said,) if said else (), guessed=True)


def is_fill(sheet: SheetLines, at: int, heading: Heading) -> bool:
    """Whether a heading is what somebody plays within a section ("gtr fill"): it stands right under
    other lines, and no chords stand below it."""
    fill = heading.rest_at is None and section_key(heading.name)[0] in _WITHIN_SECTIONS
    return fill and not sheet.is_empty(at - 1) and not sheet.is_row(at + 1)


def section_with_lent_music(
    sheet: SheetLines, known: Sequence[KnownLine], names: KnownNames, at: int
) -> SectionStart | None:
    """The section of any name, in a run of names or apart, that a line says has the music of one
    above ("Dialogue over verse chords (pp)"); None for any other line."""
    if not names.kinds or _is_under_chords(known) or sheet.rows[at] is not None:
        return None
    step = with_lent_music(sheet.lines[at].text, names)
    if step is None or sheet.is_row(at + 1):
        return None
    below = sheet.lines[at + 1].text.strip() if at + 1 < len(sheet.lines) else ""
    in_turn = below.startswith(tuple(names.called)) and _is_asked_again(known)
    if not (in_turn or _stands_apart(sheet, known, at, strong=True)):
        return None
    return SectionStart(step.name, step.times, step.like, step.remarks, guessed=True)


def _stands_apart(sheet: SheetLines, known: Sequence[KnownLine], at: int, strong: bool) -> bool:
    """Whether a line stands where a section begins, and no words stand under it; ``strong`` says
    that its words are of the trade, so that it may stand right under others."""
    above = known[-1].kind if known else None
    if _is_under_chords(known) or not _has_no_words_below(sheet, at):
        return False
    if sheet.is_empty(at - 1) or not isinstance(above, SectionStart | Words):
        return True
    if isinstance(above, Words):  # the last ones of the section above
        return strong
    return _is_asked_again(known) or part_named(above.name) is not None  # else it may be sung


def _is_asked_again(known: Sequence[KnownLine]) -> bool:
    """Whether the line above asks for a section of before, or says how or how often it is
    played."""
    above = known[-1].kind if known else None
    if not isinstance(above, SectionStart):
        return False
    lately = known[-_MOST_LOOKED_AT - 1 : -1]
    names = (one.kind.name for one in lately if isinstance(one.kind, SectionStart))
    said = bool(above.remarks) or "(" in above.name
    return said or above.times > 1 or above.name in names


def _is_under_chords(known: Sequence[KnownLine]) -> bool:
    """Whether the last known line is a row of chords, under which words stand."""
    above = known[-1].kind if known else None
    return isinstance(above, Chords) and not above.behind_name


def _has_no_words_below(sheet: SheetLines, at: int) -> bool:
    """Whether a row of chords, another section or nothing stands below a line."""
    lines = sheet.lines[at + 1 : at + 1 + _MOST_BLANKS]
    below = next((i for i, line in enumerate(lines, at + 1) if line.text.strip()), None)
    if below is None:
        return True
    text = sheet.lines[below].text.strip()
    return (
        sheet.is_row(below)
        or sheet.headings[below] is not None
        or sheet.names.end_at(text) > 0
        or part_named(text) is not None
    )
