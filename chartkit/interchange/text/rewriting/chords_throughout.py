"""Chords that a sentence gives for the whole song among other words ("the loop one, Am F C G
throughout, one chord a line, 126 bpm"): a row of their own below what else it says.

Source of the way: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.head_words.head_labels import title_label
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.chord_a_line import says_of_each_line
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import says_throughout
from chartkit.interchange.text.vocabulary.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.wording import one_line

_LONGEST, _MOST_LINES = 240, 2_000
_APART = re.compile(r"\s*[,;.:]\s+|\s+[-–—]+\s+|\s*\(|\)\s*")
_LEADS = re.compile(
    r"(?:(?:it['’]?s|its|just|only|with|chords(?: are)?|immer|nur|mit|que des|siempre|sempre|"
    r"alleen|bara)\s+)+",
    re.IGNORECASE,
)
_BARS_EACH = re.compile(
    r"(?:\w+|\d) (?:bars?|takte?|mesures?|compases|battute|maten|takter) (?:each|per chord|"
    r"a chord|jeweils|chacun|cada uno|"
    r"ciascuno|elk|var)",
    re.IGNORECASE,
)
_LABEL = re.compile(
    rf"\W*(?:(?:the|all|same)\s+)*(?:{WORDS_FOR_CHORDS}|progression|loop|grid)(?:\s+(?:are|is))?\W*",
    re.IGNORECASE,
)
"""What stands before a row of chords alone, which is read as it stands."""
_MOST_CHORDS = 12


def with_chords_throughout(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, a sentence that gives the chords of the whole song as what else it says, and a row
    of these chords below."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result: list[Line] = []
    for line in lines:
        parted = _parted(line.text, is_chords) if len(line.text) <= _LONGEST else None
        if parted is None:
            result.append(line)
            continue
        rest, row = parted
        result += [replace(line, text=rest, columns=None), replace(line, text=row, columns=None)]
        findings.guess(
            "chords-throughout",
            f'"{one_line(line.text)}" gives the chords of the whole song: "{row}"',
            line.place(),
        )
    return result


def _parted(text: str, is_chords: IsChords) -> tuple[str, str] | None:
    """What else a sentence says, and the row of chords that it gives for the whole song; None where
    it gives none, or says nothing else."""
    if says_throughout(text) is None or title_label(text.strip()):
        return None
    parts = [part for part in _APART.split(text) if part.strip()]
    told = [(at, said) for at, one in enumerate(parts) if (said := says_throughout(one))]
    if len(told) != 1 or any(is_known_name(one.strip()) for one in parts):
        return None
    at, said = told[0]
    bare = f"{parts[at][: said.start()]} {parts[at][said.end() :]}".strip()
    lead = _LEADS.match(bare)
    chords = bare[lead.end() :] if lead is not None else bare
    gone = {at} if not chords or _are_chords(chords, is_chords) else set()
    if not _are_chords(chords, is_chords):
        beside = (i for i in (at + 1, at - 1) if 0 <= i < len(parts))
        place = next((i for i in beside if _are_chords(parts[i], is_chords)), -1)
        if place < 0:
            return None
        chords, gone = parts[place], gone | {place}
    each = [one for one in parts if says_of_each_line(one) or _BARS_EACH.fullmatch(one.strip())]
    rest = [one for i, one in enumerate(parts) if i not in gone and one not in each]
    if not rest or _LABEL.fullmatch(" ".join(rest)) is not None:
        return None
    return ", ".join(rest), f"{chords} {' '.join(f'({one.strip()})' for one in (*each, said[0]))}"


def _are_chords(text: str, is_chords: IsChords) -> bool:
    return 1 < len(text.split()) <= _MOST_CHORDS and is_chords(text.strip())
