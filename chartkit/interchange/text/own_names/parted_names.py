"""Names of sections that a sign of the sheet's own parts from what stands behind them on the line.

A sheet has its own way to write "Verse 1 >> Am - F" or "INTRO -- drums only".  Where several known
names stand so, any other that stands so is a name too.  Source of the signs: common practice, no
source.
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.names.sheet_names import COMMON_NAMES, SheetNames, asides_in
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.facts import facts_of, names_a_fact
from chartkit.interchange.text.vocabulary.form_words import OVER_OR_LIKE, WORDS_FOR_CHORDS
from chartkit.interchange.text.vocabulary.section_names import full_name_at, is_known_name
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, count_among, times_of

_PARTED = re.compile(
    r"\s*(?P<open>[\[(<*_]{0,2})"
    r"(?P<name>[^\W\d_][^\W\d_'’.]{1,15}(?:[ -][^\W\d_]{2,12}){0,2}(?:\s?\d{1,2})?|[VvCcBb]\d)"
    r"(?P<close>[\])>*_]{0,2})(?P<said>\s*\([^()|]{1,40}\))?"
    r"(?P<sign>\s+[-–—]{1,3}\s+|\s*(?:>{1,3}|[-=]+>|»|→|⇒|::|~)\s*|\s*[:=]\s+|\s{2,}(?=\|))"
    r"(?P<rest>\S.{0,200})"
)
_MAY_PART = re.compile(r"[-–—=>»→⇒:~|]")
"""With what the sign begins."""
_BRACKETED = re.compile(
    rf"\s*\[(?P<name>[^\[\]|]{{1,24}})\](?P<times>\s+(?:{ANY_TIMES}))?[\s,:–-]+"
    rf"(?!(?:{ANY_TIMES}))(?P<rest>[^\W_][^\[\]|]{{2,60}})"
)
_SAID_AT_END = re.compile(r"\s*\([^()|]{2,60}\)\s*\Z")
_MARKED = re.compile(r"(?P<row>.+?)\s+(?:;|//+|#+|←|<-+|!!)\s*(?P<said>[^\W\d].{2,80}|\d.{3,80})")
"""Chords, a sign, and what is said of them."""
_COUNT = re.compile(rf"\s*[(\[]?(?:{ANY_TIMES})[)\]]?\s*\Z", re.IGNORECASE)
_COUNT_AND_REMARK = re.compile(
    rf"\s*(?:[(\[]?(?P<times>{ANY_TIMES})[)\]]?)?(?P<said>(?:[\s,;(–-]+[^|]{{0,80}})?)",
    re.IGNORECASE,
)
_USUAL_SIGNS = frozenset({":", "=", "-", "–", "—", ""})
"""Signs that other readers know behind a known name."""
_FEWEST = 2
_MOST_BLANKS = 3
"""A remark of more words no other reader takes."""
_LONGEST = 240
_MOST_LINES = 2_000


@dataclass(frozen=True, slots=True)
class _Parted:
    at: int
    name: str
    said: str
    sign: str
    rest: str
    start: int
    known: bool
    row: str
    """The chords behind the sign, without what stands behind them; empty for words."""
    times: int
    """How often the row is played by a count behind it."""
    remark: str
    """What is said to the players, behind the row or in place of one."""

    @property
    def needs_it(self) -> bool:
        """Whether no other reader takes a known name and the rest apart."""
        tail = bool(self.row and self.remark)
        return self.sign not in _USUAL_SIGNS or tail


def with_names_apart(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> tuple[list[Line], SheetNames]:
    """The lines, those with a name before a sign of the sheet's own as the name and what stands
    behind it, each on a line of its own; and the names of the sections, those found so with
    them."""
    if len(lines) > _MOST_LINES:
        return list(lines), COMMON_NAMES
    parted = list(_parted(lines, is_chords))
    known = Counter(one.sign for one in parted if one.known)
    taken = {one.at: one for one in parted if known[one.sign] >= _FEWEST}
    squared = _squared(lines, is_chords)
    result: list[Line] = []
    own = list(dict.fromkeys(one["name"] for one in squared.values()))
    _report_squared(own, squared, lines, findings)
    for at, line in enumerate(lines):
        one = taken.get(at)
        if one is not None and _is_named(one, lines, taken, is_chords):
            result += _apart(one, line)
            if not one.known:
                own.append(one.name)
                findings.guess(
                    "section-by-place",
                    f'"{one.name}" is taken as the name of a section: it stands before the '
                    f'sign "{one.sign or "|"}" as the other names do',
                    line.place(),
                )
        elif at in squared:
            result += _apart_from_brackets(squared[at], line)
        elif one is None and (again := _other_behind_brackets(line.text)) is not None:
            result.append(replace(line, text=f"{again['name']}: {again['rest']}", columns=None))
        elif (said := _said_behind_brackets(at, lines, is_chords)) is not None:
            result += _said_apart(said, line)
        else:
            result.append(line)
    texts = [line.text.strip() for line in lines]
    return result, SheetNames(asides=asides_in(texts)).with_own(own)


def _parted(lines: Sequence[Line], is_chords: IsChords) -> Iterator[_Parted]:
    """The lines with a name, a sign and more."""
    for at, line in enumerate(lines):
        may = 0 < len(line.text) <= _LONGEST and _MAY_PART.search(line.text) is not None
        match = _PARTED.fullmatch(line.text) if may else None
        if match is None or is_chords(match["name"]) or label_end(line.text):
            continue
        if bool(match["open"]) != bool(match["close"]):
            continue  # "(solo: Marcia)" is all in brackets
        name, rest = match["name"], match["rest"].rstrip()
        row, times, remark = row_and_more(rest, is_chords)
        yield _Parted(
            at=at,
            name=name,
            said=(match["said"] or "").strip(),
            sign=match["open"] + match["close"] + match["sign"].strip(),
            rest=rest,
            start=match.start("rest"),
            known=full_name_at(name, 0) == len(name) or is_known_name(name),
            row=row,
            times=times,
            remark=remark,
        )


_SILENT_BARS = re.compile(r"\|(?:\s*(?:N\.?C\.?|%)\s*\|)+", re.IGNORECASE)
"""Bars in which nothing is played, or what was played before."""


def row_and_more(text: str, is_chords: IsChords) -> tuple[str, int, str]:
    """The row of chords with which a text begins, how often it is played, and the words behind it.
    If the text begins with no row of chords, all of it is words."""
    if text.startswith("|") and text.count("|") > 1:
        end = text.rindex("|") + 1
        end += text[end:].startswith((":", "|"))
        counted = _COUNT_AND_REMARK.fullmatch(text[end:])
        bars = is_chords(text[:end]) or _SILENT_BARS.fullmatch(text[:end])
        if bars and counted is not None:
            row, times = text[:end], times_of(counted["times"] or "")
            if times > 1 and row.rstrip("|").endswith(":"):
                row, times = f"{row} x{times}", 0  # of the repeat, not of the section
            return row, times, counted["said"].strip(" ()")
    marked = _MARKED.fullmatch(text)
    if marked is not None and is_chords(marked["row"]):
        return marked["row"], 0, marked["said"].strip()
    bare = _SAID_AT_END.sub("", text)
    if is_chords(text) or is_chords(bare) or is_chords(_COUNT.sub("", bare)):
        return text, 0, ""
    return "", 0, text.strip("() ")


def _is_named(
    one: _Parted, lines: Sequence[Line], taken: dict[int, _Parted], is_chords: IsChords
) -> bool:
    """Whether a name stands as the other names before this sign do, and needs to be set apart."""
    if one.known:
        return one.needs_it or _has_loud_remark(one, lines, is_chords)
    text = lines[one.at].text
    if facts_of(text) or names_a_fact(text) or full_name_at(one.name, 0) > 0:
        return False
    others = [other for other in taken.values() if other.known and other.sign == one.sign]
    if one.name.isupper() != all(other.name.isupper() for other in others) and not one.row:
        return False
    if min(other.at for other in others) > one.at and not one.row:
        return False  # above the first name there is the head
    above = is_empty(lines, one.at - 1) or one.at - 1 in taken
    if not above:
        return False
    below = text_at(lines, one.at + 1)
    return bool(one.row) or is_chords(below)


def _has_loud_remark(one: _Parted, lines: Sequence[Line], is_chords: IsChords) -> bool:
    """Whether a remark with capitals or of many words stands behind a dash over a row of chords."""
    below = text_at(lines, one.at + 1)
    unusual = one.rest[0].isupper() or one.rest.count(" ") > _MOST_BLANKS
    loud = one.sign in ("-", "–", "—") and unusual and not one.row
    return loud and is_chords(below) and not _speaks_of_another(one.rest)


def _speaks_of_another(text: str) -> bool:
    """Whether words name another section, such as one whose music is played."""
    return full_name_at(text, 0) > 0 or OVER_OR_LIKE.match(text) is not None


def _apart(one: _Parted, line: Line) -> Iterator[Line]:
    """The name, what is said of it, and the chords behind it, on a line each."""
    if not one.row and _speaks_of_another(one.rest):
        yield replace(line, text=f"{one.name}: {one.rest}", columns=None)
        return
    count, remark = (0, one.remark) if one.times > 1 else count_among(one.remark)
    times = f" x{count}" if count > 1 else ""
    of_row = f" x{one.times}" if one.times > 1 else ""  # it counts wherever the name comes again
    name = one.name if one.known else f"[{one.name}]"
    said = one.said
    if remark and not said and heading_of(f"({remark})") is not None:
        said, remark = f"({remark})", ""  # alone on a line it would name a section
    yield replace(line, text=f"{name}{times} {said}".rstrip(), columns=None)
    if remark:
        yield replace(line, text=f"({remark})", columns=None)
    if one.row:
        yield replace(line, text=" " * one.start + one.row + of_row)


def _times(text: str | None) -> str:
    """A count as it stands behind a name."""
    times = times_of(text or "")
    return f" x{times}" if times > 1 else ""


_SQUARED = re.compile(
    rf"\s*\[(?P<name>[^\W\d_][^\[\]|]{{0,23}}?)(?:\s*[-–—,:(]?\s*(?P<times>{ANY_TIMES})\)?)?\]"
    r"(?P<rest>.{0,160})",
    re.IGNORECASE,
)


def _squared(lines: Sequence[Line], is_chords: IsChords) -> dict[int, re.Match[str]]:
    """The lines with a name in square brackets that nobody else uses, before a row of chords where
    a known name stands so ("[Intro] A E", "[Drop - 4x] D E"), and with such a name alone."""
    matches = {
        at: match
        for at, line in enumerate(lines)
        if line.text.lstrip()[:1] == "["
        and len(line.text) <= _LONGEST
        and (match := _SQUARED.fullmatch(line.text)) is not None
        and not is_chords(match["name"])
    }
    rows = {
        at for at, match in matches.items() if row_and_more(match["rest"].strip(), is_chords)[0]
    }
    known = {at for at, match in matches.items() if full_name_at(match["name"], 0)}
    if not rows & known:
        return {}
    own = {matches[at]["name"].casefold() for at in rows - known}
    return {
        at: match
        for at, match in matches.items()
        if match["name"].casefold() in own and (at in rows or not match["rest"].strip())
    }


def _report_squared(
    own: Sequence[str],
    squared: Mapping[int, re.Match[str]],
    lines: Sequence[Line],
    findings: Findings,
) -> None:
    for name in own:
        at = next(at for at, match in squared.items() if match["name"] == name)
        findings.guess(
            "section-by-place",
            f'"{name}" is taken as the name of a section: it stands in brackets before chords, '
            "as the other names do",
            lines[at].place(),
        )


def _said_apart(match: re.Match[str], line: Line) -> Iterator[Line]:
    """A name in square brackets with its count, and what is said behind it, on a line each."""
    count, rest = (0, match["rest"]) if match["times"] else count_among(match["rest"])
    times = f" x{count}" if count > 1 else _times(match["times"])
    yield replace(line, text=f"[{match['name']}]{times}", columns=None)
    yield replace(line, text=f"({rest.strip()})", columns=None)


def _apart_from_brackets(match: re.Match[str], line: Line) -> Iterator[Line]:
    """A name in square brackets, and the chords behind it, on a line each."""
    yield replace(line, text=f"[{match['name']}]{_times(match['times'])}", columns=None)
    if match["rest"].strip():
        yield replace(line, text=" " * match.start("rest") + match["rest"])


def _other_behind_brackets(text: str) -> re.Match[str] | None:
    """A name in square brackets with another section behind it whose chords it has ("[Solo] chorus
    chords"); None for any other line."""
    match = _BRACKETED.fullmatch(text) if 0 < len(text) <= _LONGEST and "[" in text else None
    end = full_name_at(match["rest"], 0) if match is not None and not match["times"] else 0
    if match is None or not end or _SAYS_CHORDS.fullmatch(match["rest"], end) is None:
        return None
    return match if full_name_at(match["name"], 0) == len(match["name"]) else None


_SAYS_CHORDS = re.compile(rf"\s*(?:{WORDS_FOR_CHORDS})[.!]?\s*", re.IGNORECASE)


def _said_behind_brackets(
    at: int, lines: Sequence[Line], is_chords: IsChords
) -> re.Match[str] | None:
    """A name in square brackets with what is said to the players behind it, over a row of chords;
    None for any other line."""
    text = lines[at].text
    match = _BRACKETED.fullmatch(text) if 0 < len(text) <= _LONGEST and "[" in text else None
    below = text_at(lines, at + 1)
    if match is None or not is_chords(below) or is_chords(match["rest"]):
        return None
    return None if full_name_at(match["rest"], 0) or _COUNT.fullmatch(match["rest"]) else match
