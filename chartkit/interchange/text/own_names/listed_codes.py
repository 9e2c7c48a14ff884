"""Letters and other codes as names of sections where no empty line sets them off: a line of form
lists them ("Form: V C V C B C"), and each stands alone on a line over chords, or before them.

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty, text_at
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES
from chartkit.interchange.wording import counted

_MOST_LINES, _LONGEST, _LONGEST_ORDER = 2_000, 80, 160
_CODE = re.compile(r"[A-Za-z][A-Za-z]{0,2}\d{0,2}")
_COUNT = re.compile(r"\(?(?:[x×]\d{1,2}|\d{1,2}[x×])\)?")
_BETWEEN = re.compile(r"(?:[\s,;>/|·→–—-]|\b(?:then|dann|puis|luego|poi|dan|sedan)\b)+")
_ALONE = re.compile(
    rf"\s*(?P<code>[A-Za-z]{{1,3}}\d{{0,2}})\s*[:.]?\s*"
    rf"(?P<times>\(?(?:{ANY_TIMES})\)?)?\s*(?P<more>\([^()|]{{2,40}}\))?\s*",
    re.IGNORECASE,
)
_BEFORE_CHORDS = re.compile(r"\s*(?P<code>[A-Za-z]{1,3}\d{0,2})\s*[:=]\s*(?=\S)")
_FEWEST_STEPS, _FEWEST_CODES, _MOST_STEPS = 4, 2, 40


def with_listed_codes(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines; where a line of form with a label lists codes of which some could be chords, and
    all stand alone over chords or before them, those alone are names in square brackets."""
    order = _order_among(lines) if len(lines) <= _MOST_LINES else None
    if order is None:
        return list(lines)
    at, steps = order
    codes = {code for code, _ in steps}
    alone = dict(_places_alone(lines, codes, is_chords))
    names = {match["code"] for match in alone.values()}
    before = {
        match["code"]
        for line in lines
        if 0 < len(line.text) <= _LONGEST and (match := _BEFORE_CHORDS.match(line.text)) is not None
    }
    if not any(map(is_chords, names)) or not codes <= names | before:
        return list(lines)
    result = list(lines)
    for place, match in alone.items():
        more = " ".join(filter(None, (match["more"], match["times"])))
        result[place] = replace(
            lines[place], text=f"== {match['code']} {more}".rstrip(), columns=None
        )
    listed = ", ".join(f"{code} {times}".rstrip() for code, times in steps)
    result[at] = replace(lines[at], text=f"Form: {listed}", columns=None)
    findings.guess(
        "codes-as-names",
        f'"{lines[at].text.strip()}" lists {counted(len(codes), "section")} by their codes: a '
        "letter alone above chords is a name here, no chord",
        lines[at].place(),
    )
    return result


def _order_among(lines: Sequence[Line]) -> tuple[int, list[tuple[str, str]]] | None:
    """The first line of form that lists codes alone, and its steps; None where there is none."""
    for at, line in enumerate(lines):
        end = label_end(line.text.strip()) if 0 < len(line.text) <= _LONGEST_ORDER else 0
        steps = _steps(line.text.strip()[end:]) if end else []
        codes = {code for code, _ in steps}
        if _FEWEST_STEPS <= len(steps) <= _MOST_STEPS and _FEWEST_CODES <= len(codes) < len(steps):
            return at, steps
    return None


def _steps(text: str) -> list[tuple[str, str]]:
    """The codes that a text lists, each with its count; none where it says anything else."""
    steps: list[tuple[str, str]] = []
    for part in _BETWEEN.split(text.strip(" .!")):
        if steps and _COUNT.fullmatch(part):
            steps[-1] = (steps[-1][0], f"x{part.strip('()xX×')}")
        elif _CODE.fullmatch(part):
            steps.append((part, ""))
        else:
            return []
    return steps


def _places_alone(
    lines: Sequence[Line], codes: set[str], is_chords: IsChords
) -> Iterator[tuple[int, re.Match[str]]]:
    """The lines of a code alone: over a row of chords, and for one that could be no chord over
    anything, or asked for again with nothing of its own below."""
    for at, line in enumerate(lines):
        match = _ALONE.fullmatch(line.text) if 0 < len(line.text) <= _LONGEST else None
        if match is None or match["code"] not in codes:
            continue
        below = text_at(lines, at + 1)
        over = is_chords(below) and not _is_one_of(codes, below)
        if over or not is_chords(match["code"]) or _is_again(lines, at, codes):
            yield at, match


def _is_again(lines: Sequence[Line], at: int, codes: set[str]) -> bool:
    """Whether nothing stands below a code but another one."""
    return is_empty(lines, at + 1) or _is_one_of(codes, text_at(lines, at + 1)[:_LONGEST])


def _is_one_of(codes: set[str], text: str) -> bool:
    """Whether a line is one of the codes and no more than a count and a remark."""
    match = _ALONE.fullmatch(text)
    return match is not None and match["code"] in codes
