"""Sections of any name before a colon and their chords ("Kick off: D G A D, twice").

Source of the forms: common practice, no source.
"""

import re
from dataclasses import replace

from chartkit.interchange.text.kinds.line_kinds import Chords, KnownLine, SectionStart
from chartkit.interchange.text.kinds.sheet_lines import LONGEST, SheetLines, is_music
from chartkit.interchange.text.lines import Line, text_at
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.tokens import STRUCK
from chartkit.interchange.text.vocabulary.directions import names_player
from chartkit.interchange.text.vocabulary.reference_lines import is_about_the_song
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of

_ANY_NAME = re.compile(
    r"\s*(?P<name>[^\W\d_][^\W_]*(?:(?:[ -]|\.[ -]?)[^\W_]+){0,2}\.?)"
    r"(?P<sign>\s*:\s+|\s+[-–—]\s+)(?P<row>[A-H|(].*)"
)
_COUNT_AND_MORE = re.compile(
    rf"(?P<row>[^,;]*?[^\s,;(\[])(?:(?:\s*[,;]\s*|\s+)[(\[]?(?P<times>{ANY_TIMES})[)\]]?)?"
    r"(?:\s*[,;(]\s*(?P<said>[^\W\d][^|,;]{1,40}?)\)?)?[.!]?",
    re.IGNORECASE,
)
"""Chords, how often they are played, and what is said of them."""
_FAR_BEHIND = re.compile(r"\s{3,}(?P<said>[^\W\d_A-H][^\W\d_][^|()]{1,40})$")
"""A word or a few far behind a row of chords, said of it."""
_NO_SECTION = re.compile(
    r"\b(?:time|chords?|akkorde|acordes|accords|key|capo|last|first|end|or|like|walk|run|play|"
    r"note|use|uses|used|alt|alternative|shapes?|turn|mal|then|change|changes|pattern)\b",
    re.IGNORECASE,
)
"""Words before a colon that say something of the chords behind it."""
_OF_THE_END = re.compile(r"(?:the )?(?:last|final|end)(?: (?:time|line|bars?))?", re.IGNORECASE)
_LAST = frozenset({"last", "final", "the last", "at the end", "zum schluss", "letzte", "último"})
"""Names of the last chords where nothing stands below them."""
_MOST_BELOW = 6
"""So many empty lines below are the end of a sheet."""


def name_and_chords(sheet: SheetLines, at: int, line: Line) -> tuple[KnownLine, ...]:
    """A section of any name before a colon and its chords ("Kick off: D G A D"), where no
    words stand under these; nothing for any other line."""
    match = _ANY_NAME.fullmatch(line.text) if len(line.text) <= LONGEST else None
    if match is None or is_about_the_song(line.text) or label_end(line.text):
        return ()
    empty = sheet.is_empty(at - 1) and sheet.is_empty(at + 1)
    barred = match["row"].startswith("|") and _OF_THE_END.fullmatch(match["name"]) is not None
    turned = match["name"].casefold() == "turn"  # the last bars of the verse, once more
    last = not any(one.text.strip() for one in sheet.lines[at + 1 : at + _MOST_BELOW])
    ends = last and match["name"].casefold() in _LAST
    if _NO_SECTION.search(match["name"]) and not (ends or ((barred or turned) and empty)):
        return ()
    if match["sign"].strip() != ":" and not names_player(match["name"]):
        return ()
    played, said = _played_and_said(sheet, match["row"])
    row = sheet.tokens.row(replace(line, text=" " * match.start("row") + played))
    if row is None or not is_music(row) or _has_words_below(sheet, at):
        return ()
    if sum(token.kind in STRUCK for token in row) < 2 - last:
        return ()
    remarks = (said,) if said else ()
    start = SectionStart(match["name"].strip(), remarks=remarks, guessed=True, with_chords=True)
    return KnownLine(line, start), KnownLine(line, Chords(row, behind_name=True))


def _played_and_said(sheet: SheetLines, text: str) -> tuple[str, str]:
    """The chords behind a name with a plain sign for how often they are played, and what is said
    of them."""
    behind = _FAR_BEHIND.search(text)
    if behind is not None:
        return text[: behind.start()], behind["said"]
    match = _COUNT_AND_MORE.fullmatch(text)
    if match is None or not sheet.is_chords(match["row"]):
        return text, ""
    times = f" x{times_of(match['times'])}" if match["times"] else ""
    return match["row"] + times, match["said"] or ""


def _has_words_below(sheet: SheetLines, at: int) -> bool:
    """Whether what stands right below a line can only be words: no chords, also behind a name
    of their own."""
    below = text_at(sheet.lines, at + 1)
    if not below.strip() or sheet.rows[at + 1] is not None:
        return False
    if sheet.headings[at + 1] is not None or sheet.names.end_at(below.strip()):
        return False
    match = _ANY_NAME.fullmatch(below) if len(below) <= LONGEST else None
    row = sheet.tokens.row(Line(0, match["row"])) if match is not None else None
    return row is None or not is_music(row)
