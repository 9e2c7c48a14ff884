"""Chords that a sentence gives for the whole song among other words ("the loop one, Am F C G
throughout, one chord a line, 126 bpm"): a row of their own below what else it says.  The only
chords of a sheet whose sections have words alone are for the whole song whatever the words beside
them are ("(loop Dm Bb F C for everything)").

Source of the way: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import islice

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.head_words.head_labels import title_label
from chartkit.interchange.text.lines import Line, is_empty
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.rows.chord_a_line import each_line_said_at, says_of_each_line
from chartkit.interchange.text.rows.given_chords import kinds_given
from chartkit.interchange.text.tokens import WORDS_TOO, IsChords
from chartkit.interchange.text.vocabulary.bar_words import BARS
from chartkit.interchange.text.vocabulary.directions import says_throughout
from chartkit.interchange.text.vocabulary.ends_on import song_end
from chartkit.interchange.text.vocabulary.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    is_known_name,
    section_key,
)
from chartkit.interchange.wording import one_line

_LONGEST, _MOST_LINES = 240, 2_000
_APART = re.compile(r"\s*[,;.:]\s+|\s+[-–—]+\s+|\s*\(|\)\s*")
_LEADS = re.compile(
    r"(?:(?:it['’]?s|its|just|only|with|chords(?: are)?|immer|nur|mit|que des|siempre|sempre|"
    r"alleen|bara)\s+)+",
    re.IGNORECASE,
)
_BARS_EACH = re.compile(
    rf"(?:\w+|\d) {BARS} (?:each|per chord|"
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


# ---- the only chords of a sheet
def with_only_chords_above(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines; the only chords of a sheet whose named sections have words alone stand as a row
    above these, whatever words led to them."""
    only = _only_chords(lines, is_chords) if len(lines) <= _MOST_LINES else None
    return list(lines) if only is None else _with_chords_above(lines, only, findings)


_SIGNS = ' ,;.:()[]|–—-→>/=*"“”'
_LOOPS = frozenset({"loop", "vamp", "riff", "groove"})
"""Names of what is played over and over, which may be the whole song."""
_FOR = re.compile(r"(?:for|in|für|pour|para|per|voor|för|til|dla)\s+", re.IGNORECASE)
_FEW_WORDS = 6
_FIGURE = re.compile(r"\d")


@dataclass(frozen=True, slots=True)
class _OnlyChords:
    """The only line with chords, what it says before and behind them, the chords, and the first
    line that names a section."""

    at: int
    said: str
    row: str
    first: int


def _only_chords(lines: Sequence[Line], is_chords: IsChords) -> _OnlyChords | None:
    """The only chords of a sheet whose named sections have words alone, above or below all of
    these; None for any other sheet."""
    runs = ((i, _run_in(line.text, is_chords)) for i, line in enumerate(lines))
    every = list(islice(((i, run) for i, run in runs if run is not None), 2))
    if len(every) != 1:
        return None
    at, run = every[0]
    if any(i != at and _has_chords(line.text, is_chords) for i, line in enumerate(lines)):
        return None
    if _each_said(lines[at].text):
        return None  # read with how long each of them lasts
    named = [i for i, line in enumerate(lines) if i != at and _is_named(line.text)]
    over_words = [i for i in named if not is_empty(lines, i + 1) and i + 1 not in (*named, at)]
    if not over_words or not (at < named[0] or _stands_below(lines, at, named[-1])):
        return None
    text = lines[at].text
    before, behind = text[: run[0]].strip(_SIGNS), text[run[1] :].strip(_SIGNS)
    if at < named[0] and not before and not behind:
        return None  # a plain row above all names, which is read as it stands
    if song_end(text, is_chords) is not None:
        return None
    if _names_a_section(before) and not _listed_in(before):
        return None
    return _OnlyChords(at, ", ".join(filter(None, (before, behind))), text[slice(*run)], named[0])


def _run_in(text: str, is_chords: IsChords) -> tuple[int, int] | None:
    """Where the first two or more chords one after another begin and end in a text."""
    if len(text) > _LONGEST:
        return None
    start, end, count, sure = 0, 0, 0, False
    for piece in re.finditer(r"\S+", text):
        bare = piece[0].strip(_SIGNS)
        if bare and is_chords(bare):
            lead = piece.start() + piece[0].find(bare)
            start, end = (start if count else lead), lead + len(bare)
            count, sure = count + 1, sure or bare not in WORDS_TOO
        elif bare:
            if count > 1 and sure:
                break
            count, sure = 0, False
    return (start, end) if count > 1 and sure else None


_EVERY_LINE = re.compile(
    r"\b(?:each|every|per|a|jede[rn]?|pro|chaque|par|cada|por|ogni|elke|varje|hver)\s+"
    r"(?:line|zeile|ligne|línea|verso|linha|riga|regel|rad|linje)s?\b",
    re.IGNORECASE,
)
_BRACKETED = re.compile(r"[(\[]([A-H][^()\[\]\s]{0,7})[)\]]")


def _has_chords(text: str, is_chords: IsChords) -> bool:
    """Whether a line is a row, or has a chord in brackets among its words."""
    if not 0 < len(text.strip()) <= _LONGEST:
        return False
    return is_chords(text.strip()) or any(map(is_chords, _BRACKETED.findall(text)))


def _each_said(text: str) -> bool:
    """Whether a line says over which lines each chord goes or how long it lasts."""
    said = each_line_said_at(text) < len(text) or _EVERY_LINE.search(text) is not None
    return said or _BARS_EACH.search(text) is not None


def _is_named(text: str) -> bool:
    """Whether a line is the name of a section and nothing else."""
    heading = heading_of(text) if text.strip() else None
    return heading is not None and heading.rest_at is None and is_known_name(heading.name)


def _stands_below(lines: Sequence[Line], at: int, last: int) -> bool:
    """Whether a line stands apart below the last named section and its words."""
    apart = is_empty(lines, at - 1) or lines[at].text.strip().startswith("(")
    return at > last + 1 and apart and all(is_empty(lines, i) for i in range(at + 1, at + 3))


def _names_a_section(before: str) -> bool:
    """Whether words before chords name a section, whose these are."""
    words = before.split()
    named = bool(words) and (full_name_at(before, 0) > 0 or is_known_name(words[0].strip(_SIGNS)))
    return named and section_key(words[0].strip(_SIGNS))[0] not in _LOOPS


def _listed_in(said: str) -> str:
    """The several sections that a clause of what is said lists, for which the chords are ("Am G
    throughout, verse and chorus"); empty where none does."""
    clauses = (_FOR.sub("", one.strip(_SIGNS)) for one in _APART.split(said))
    return next((one for one in clauses if one and len(kinds_given(one)) > 1), "")


def _with_chords_above(lines: Sequence[Line], only: _OnlyChords, findings: Findings) -> list[Line]:
    """The lines with the only chords as a row right above the first name of a section.  A few words
    beside them that give no figure are in the finding; more words stand as a line of their own."""
    line, listed = lines[only.at], _listed_in(only.said)
    findings.guess(
        "chords-throughout",
        f'"{one_line(line.text)}" has the only chords of the sheet, taken for '
        + (f'"{listed}"' if listed else "all sections"),
        line.place(),
    )
    few = len(only.said.split()) <= _FEW_WORDS and _FIGURE.search(only.said) is None
    said = says_throughout(only.said) if few else None
    throughout = f" ({said[0].strip()})" if said is not None else ""
    above = [*([] if few else [only.said]), *([f"== {listed}"] if listed else [])]
    texts = (*above, f"{only.row}{throughout}", "")
    rest = [*lines[: only.at], *lines[only.at + 1 :]]
    first = only.first - (only.at < only.first)
    written = [replace(line, text=text, columns=None) for text in texts]
    return [*rest[:first], *written, *rest[first:]]
