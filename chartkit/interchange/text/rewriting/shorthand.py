"""Writes out rows of chords in shorthand before the lines are classified: how often a row is
played in words, slashes for bar lines, bars that are like others, and whose chords a row has.

Source of the words, in the languages in which sheets are often written: common practice, no
source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.quick_looks import has_any, in_small_letters
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import full_name_at
from chartkit.interchange.text.vocabulary.times_played import count_in_words

_LONGEST, _MOST_LINES = 200, 2_000


def with_shorthand_written_out(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, rows of chords in shorthand as sheets usually have them, in their columns."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    lines = [_with_bars_of_similes(line, is_chords, findings) for line in lines]
    lines = [_held(_with_bars_each(line, is_chords, findings), is_chords) for line in lines]
    result = [_with_plain_name(_with_plain_count(line, is_chords), is_chords) for line in lines]
    result = _with_bar_lines(result, is_chords, findings)
    return list(_with_like_bars(result, findings))


# ---- how often a row is played
_COUNT_BEFORE = re.compile(
    r"\s*[(\[]?\s*(?:[x×]\s?(?P<x>\d{1,2})|(?P<many>\d{1,2})\s?[x×])\s*[)\]]?\s*:?\s+(?=[A-H(|])",
    re.IGNORECASE,
)


def _with_plain_count(line: Line, is_chords: IsChords) -> Line:
    """A row of chords with words that say how often it is played as a plain count behind it."""
    text = line.text
    if len(text) > _LONGEST or not text.strip():
        return line
    first = text.lstrip()[:1]
    if first.isdigit() or first in "xX×([":
        before = _COUNT_BEFORE.match(text)
        if before is not None and line.columns is None and is_chords(text[before.end() :]):
            times = before["x"] or before["many"]
            return replace(line, text=" " * before.end() + f"{text[before.end() :]}  x{times}")
    if text[-1] == "|" or (behind := count_in_words(text)) is None:
        return line
    start, times = behind
    if not is_chords(_row_in(text[:start])):
        return line
    return replace(line, text=text[:start] + f"x{times}".ljust(len(text) - start))


def _row_in(text: str) -> str:
    """What may be a row of chords in a text: all but a section's name with a colon before it."""
    heading = heading_of(text) if ":" in text else None
    if heading is None or heading.rest_at is None:
        return text
    return text[len(text) - len(text.lstrip()) + heading.rest_at :]


_EACH = re.compile(
    r"(?<!\s)\s*+[,;(–-]?\s*+(?:(?P<count>\d{1,2}|an?|one|two|four|je|je ein|je zwei|ein|"
    r"zwei|un|une|deux|dos|due|een|twee|en|två)\s+(?:bars?|takte?|measures?|mesures?|compases?|compás|battut[ae]|maten|maat|"
    r"takter)\s+(?:each|per chord|a chord|apiece|pro akkord|jeweils|chacun|chaque|cada un[oa]?|"
    r"ciascuno|elk|var)\)?|je\s+(?P<je>\d{1,2}|ein|zwei)\s+takte?\)?)",
    re.IGNORECASE,
)
"""How many bars each chord of a row lasts."""
_BEGIN_BARS = ("bar", "takt", "meas", "mesu", "comp", "battut", "maten", "maat")
"""In these begins every word for bars in it, in small letters."""
_IN_WORDS = {"two": 2, "four": 4, "zwei": 2, "deux": 2, "dos": 2, "due": 2, "twee": 2, "två": 2}
_MOST_BARS_EACH = 8


def _with_bars_each(line: Line, is_chords: IsChords, findings: Findings) -> Line:
    """A row of chords that last so many bars each as a row of bars."""
    text = line.text
    short = len(text) <= _LONGEST and "|" not in text
    each = _EACH.search(text) if short and has_any(in_small_letters(text), _BEGIN_BARS) else None
    if each is None:
        return line
    said = (each["count"] or each["je"]).split()[-1].casefold()
    count = int(said) if said.isdecimal() else _IN_WORDS.get(said, 1)
    label = _LABEL_OF_CHORDS.match(text)
    start = label.end() if label is not None else len(text) - len(_row_in(text))
    words = list(re.finditer(r"\S+", text[start : each.start()]))
    fits = 0
    while fits < len(words) and is_chords(words[fits][0].strip(",")):
        fits += 1
    if fits < 2 or not 0 < count <= _MOST_BARS_EACH:
        return line
    findings.guess(
        "bars-each",
        f'"{each[0].strip(" ,;()")}": each chord of the row lasts so long',
        line.place(),
    )
    chords = [word[0].strip(",") for word in words[:fits]]
    bars = " | ".join(chord for chord in chords for _ in range(count))
    rest = text[start + words[fits - 1].end() : each.start()] + text[each.end() :]
    return replace(line, text=f"{text[:start]}| {bars} |{rest}", columns=None)


_HELD = re.compile(
    r"(?P<before>.{0,30}:\s*|\s*)(?P<chord>[A-H][^\s|()]{0,9})\s*"
    r"(?P<said>\((?P<count>\d{1,2})\s*(?:bars?|takte?|measures?|mesures?|compases|compassos|"
    r"battute|maten|takter)\b[^()|]{0,40}\))\s*",
    re.IGNORECASE,
)
"""One chord and how many bars it lasts ("Em7 (8 bars, drums only)")."""
_HELD_EACH = re.compile(
    r"\s*(?P<chord>[A-H][^\s|(),]{0,9})[\s,:–-]*\(?(?P<count>\d{1,2})\s*(?:bars?|takte?|measures?|"
    r"mesures?|compases|compás|compassos?|battut[ae]|maten|maat|takter|takt)\b\)?[\s,;–-]*",
    re.IGNORECASE,
)
"""One of several chords and how many bars it lasts ("E (4 bars) A (4 bars)")."""
_SAID_OF_HELD = re.compile(
    r"\s+(?:\((?P<inside>(?!\d{1,2}\s*[^\W\d_]+\))[^()|]{3,80})\)|[-–—]\s+(?P<dashed>[^\W\d_][^()|]{3,80}))$"
)
"""What is said behind such chords."""
_MOST_BARS_HELD, _MOST_HELD = 32, 16


def _all_held(line: Line, is_chords: IsChords) -> Line | None:
    """Several chords, each with the number of its bars behind it, as a row of bars; None for any
    other line."""
    row = _row_in(line.text).rstrip()
    start = len(line.text.rstrip()) - len(row)
    behind = _SAID_OF_HELD.search(row)
    said = (behind["inside"] or behind["dashed"]) if behind is not None else ""
    row = row[: behind.start()] if behind is not None else row
    chords: list[str] = []
    at = 0
    while at < len(row) and len(chords) <= _MOST_BARS_HELD * 2:
        match = _HELD_EACH.match(row, at)
        if match is None or not is_chords(match["chord"]):
            return None
        if not 0 < int(match["count"]) <= _MOST_HELD:
            return None
        chords += [match["chord"]] * int(match["count"])
        at = match.end()
    if len({*chords}) < 2 or at < len(row):
        return None
    remark = f" ({said})" if said else ""
    return replace(line, text=f"{line.text[:start]}| {' | '.join(chords)} |{remark}", columns=None)


def _held(line: Line, is_chords: IsChords) -> Line:
    """A chord with the number of its bars behind it as a row of bars, with what is said of them;
    several of them as one row."""
    short = len(line.text) <= _LONGEST and "|" not in line.text
    if short and any(map(str.isdecimal, line.text)):
        small = in_small_letters(line.text)
        if has_any(small, _BEGIN_BARS) and (row := _all_held(line, is_chords)) is not None:
            return row
    match = _HELD.fullmatch(line.text) if "(" in line.text and len(line.text) <= _LONGEST else None
    count = int(match["count"]) if match is not None else 0
    if match is None or not 1 < count <= _MOST_BARS_HELD or not is_chords(match["chord"]):
        return line
    bars = " | ".join([match["chord"]] * count)
    return replace(line, text=f"{match['before']}| {bars} | {match['said']}", columns=None)


_BEFORE_A_BAR = re.compile(r"(?<=\S)(\s*)\s(?=\S)")


def _with_bars_of_similes(line: Line, is_chords: IsChords, findings: Findings) -> Line:
    """A row of chords with "%" among them and no bar lines as a row of bars, one for each."""
    text = line.text
    if "%" not in text or len(text) > _LONGEST or "|" in text or "/" in text:
        return line
    row = _row_in(text).rstrip()
    start = len(text.rstrip()) - len(row)
    behind = _BEHIND_SIMILES.search(row)
    tail = behind[0] if behind is not None and not is_chords(behind[0].strip()) else ""
    row = row[: len(row) - len(tail)]
    cells = row.split()
    if len(cells) < 2 or cells[0] == "%" or not all(one == "%" or is_chords(one) for one in cells):
        return line
    bars = _with_line_before(_BEFORE_A_BAR.sub(r"\1|", row)) + " |"
    if not is_chords(bars):
        return line
    findings.guess(
        "bars-by-similes",
        'a "%" stands among chords without bar lines: each chord and each % is read as a bar',
        line.place(),
    )
    return replace(line, text=text[:start] + bars + tail)


_BEHIND_SIMILES = re.compile(
    r"\s+(?:\(?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\)?\s*)?(?:\([^()%]*\)|(?<=\s{2})(?-i:[a-z])[^()%]*)?$",
    re.IGNORECASE,
)
"""A count and what is said behind a row."""
_LABEL_OF_CHORDS = re.compile(
    r"\s*(?:chords?|akkorde|accords|acordes|accordi|akkoorden)\s*:\s*", re.IGNORECASE
)


# ---- whose chords a row has
_OF_A_SECTION = re.compile(
    r"\s*(?:the\s+|die\s+|les\s+|los\s+)?(?:chords?|changes|akkorde|accords|acordes|accordi|akkoorden|ackord)\s*"
    r"(?:(?:over|for|in|of|to|under|für|im|zum|zur|in der|du|de la|pour le|para el|para la|del|"
    r"de|do|da|voor het|van het|till)\s+)?(?:the\s+|den\s+|die\s+|das\s+)?[(\[]?"
    r"(?P<name>[^\W\d_][^:()\[\]|]{2,24})[)\]]?\s*[:=]\s*",
    re.IGNORECASE,
)
_SAID_OF_CHORDS = ("chord", "changes", "akkord", "accord", "acord", "ackord")
_CHORDS_BEHIND_NAME = re.compile(
    r"\s*(?:over\s+the\s+|for\s+the\s+|in\s+the\s+|the\s+|im\s+|der\s+|die\s+)?"
    r"(?P<name>[^\W\d_][^:()\[\]|=]{2,24}?)(?:\s+(?:chords|changes|akkorde)\s*[:=]\s*|"
    r"(?:\s+(?:is|are|goes|geht|hat|has|sind|ist)|(?:['’]s))\s*:?\s+|\s+=\s*)"
    r"(?=\(?[A-H|])",
    re.IGNORECASE,
)
_GOES_SO = re.compile(r"=|['’]s|\s(?:is|are|goes|geht|hat|has|sind|ist)[\s:]", re.IGNORECASE)
"""What stands between a name and its chords where no word for chords does."""
_THEN = re.compile(
    r"[\s,;.]+(?:and\s+)?(?:then|next|dann|danach|puis|luego)[\s,;:.]*$", re.IGNORECASE
)


def _with_plain_name(line: Line, is_chords: IsChords) -> Line:
    """A row of chords behind words that say whose they are, with the section's plain name before
    it ("Chords over chorus: A D", "verse is Em C then")."""
    text = line.text
    if len(text) > _LONGEST or (":" not in text and " " not in text):
        return line
    chords = has_any(in_small_letters(text), _SAID_OF_CHORDS)
    named = _OF_A_SECTION.match(text) if chords else None
    if named is None and (chords or _GOES_SO.search(text) is not None):
        named = _CHORDS_BEHIND_NAME.match(text)
    if named is None:
        return line
    name = named["name"].strip()
    if full_name_at(name, 0) != len(name):
        return line
    row = _THEN.sub("", text[named.end() :])
    if not row.strip() or not is_chords(row) or len(row.strip()) < 2:
        return line
    return replace(line, text=f"{name}:".ljust(named.end()) + row)


# ---- slashes for bar lines
_SLASH = re.compile(r"(?:(?<=\s)|^)/{1,2}(?=\s|$)")
_LETTER = re.compile(r"\s*(?:\[[A-H]\]|\([A-H]\)|[A-H][.:]?)\s*")


def _with_bar_lines(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, rows of chords with bar lines for the slashes that part their bars, where no
    row has other bar lines or slashes that count beats."""
    slashed = {at: row for at, line in enumerate(lines) if (row := _slashed(line.text, is_chords))}
    lettered = any(len(line.text) < 8 and _LETTER.fullmatch(line.text) for line in lines)
    if not slashed or lettered or any(_counts_beats(lines[at].text) for at in slashed):
        return list(lines)
    others = [at for at, line in enumerate(lines) if at not in slashed and _is_row(line, is_chords)]
    if any("|" in lines[at].text for at in others) or len(others) > len(slashed):
        return list(lines)
    if not any(_has_bars(lines[at].text) for at in slashed):
        return list(lines)
    findings.guess(
        "slashes-as-bar-lines",
        "slashes part the bars of all rows: they are read as bar lines",
        lines[min(slashed)].place(),
    )
    return [
        replace(line, text=slashed[at]) if at in slashed else line for at, line in enumerate(lines)
    ]


def _slashed(text: str, is_chords: IsChords) -> str:
    """A row of chords parted by slashes with bar lines instead; empty for any other text."""
    if len(text) > _LONGEST or " /" not in f" {text}" or not _SLASH.search(text):
        return ""
    row = _row_in(text)
    start = len(text) - len(row)
    row, count = (bare := _without_count(row)), row[len(bare) :]
    cells = [cell.strip() for cell in _SLASH.split(row)]
    inner = cells[not cells[0] : len(cells) - (not cells[-1])]
    if not inner or "|" in text:
        return ""
    if not all(inner) or len(inner) < 2:
        return text if inner[1:] and is_chords(row) else ""
    plain = _SLASH.sub(lambda slash: "|".ljust(len(slash[0])), row)
    plain = plain if cells[0] == "" else _with_line_before(plain)
    closed = plain if cells[-1] == "" else f"{plain} |"
    return text[:start] + closed + count if is_chords(_SILENT.sub("C", closed)) else ""


def _with_line_before(row: str) -> str:
    """A row with a bar line before its first chord, in a blank where there is one."""
    start = len(row) - len(row.lstrip())
    return f"{row[: start - 1]}|{row[start:]}" if start > 0 else f"|{row}"


def _counts_beats(text: str) -> bool:
    """Whether slashes or dots of a row follow one another, so that each is a beat."""
    return re.search(r"(?<=\s)(?:[/.]\s+[/.]|///+)(?=\s|$)", text) is not None


def _has_bars(text: str) -> bool:
    """Whether slashes part bars and not mere chords: one stands first, or several chords stand
    between two."""
    cells = [cell.split() for cell in _SLASH.split(_without_count(_row_in(text)))]
    whole = any(cell in (["%"], ["N.C."], ["NC"]) for cell in cells)
    return not cells[0] or whole or any(len(cell) > 1 for cell in cells)


_SILENT = re.compile(r"N\.?\s?C\.?", re.IGNORECASE)
_SAID = r"(?:[\s,;]*\((?=[^()]*[a-z]{3})[^()|]+\))?\s*$"
_COUNT = re.compile(r"(?:\s*\(?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\)?)?" + _SAID, re.IGNORECASE)


def _without_count(row: str) -> str:
    return _COUNT.sub("", row)


def _is_row(line: Line, is_chords: IsChords) -> bool:
    return len(line.text) <= _LONGEST and bool(line.text.strip()) and is_chords(_row_in(line.text))


# ---- bars that are like others
_BARS = (
    r"(?:bars?|mm?\.|measures?|takte?|mesures?|compases|compassos|battute|misure|maten|"
    r"takter(?:na)?)"
)
_RANGE = r"(?P<{0}>\d{{1,3}})\s*(?:[-–—]|to|bis|a|à|t/m|till)\s*(?P<{1}>\d{{1,3}})"
_LIKE_BARS = re.compile(
    rf"\s*[(\[]?\s*(?P<word>{_BARS})?\s*{_RANGE.format('first', 'last')}\s*[:.,]?\s*"
    rf"(?:(?:are\s+|is\s+|sind\s+|ist\s+)?(?:the\s+)?(?:same|like|as|wie|gleich|comme|como|igual|iguales|come|als|som|"
    rf"zelfde|samma|idem|ditto|=)\s*(?:as|like|wie|que|a|à|als|som)?)\s+(?:in\s+)?"
    rf"(?:{_BARS}\s*)?{_RANGE.format('from', 'to')}\s*[.!]?\s*[)\]]?\s*",
    re.IGNORECASE,
)
_COUNTED_BARS = re.compile(
    rf"\s*(?:{_BARS}\s*)?\d{{1,3}}\s*[-–—]\s*\d{{1,3}}\s*[:.)]?\s+(?=\|)", re.IGNORECASE
)
_SIGNS_OF_REPEATS = re.compile(r"\|:|:\||\|\d|%%")
_MOST_BARS = 64


def _with_like_bars(lines: Sequence[Line], findings: Findings) -> Iterator[Line]:
    """The lines, those that say that some bars are like earlier ones with these bars, and rows of
    bars without the numbers of the bars before them."""
    if not any(_LIKE_BARS.fullmatch(line.text) for line in lines if _begins_with_figure(line.text)):
        yield from lines
        return
    whole: list[str] = []
    own: list[str] = []
    for line in lines:
        like = _LIKE_BARS.fullmatch(line.text) if len(line.text) <= _LONGEST else None
        if like is not None:
            bars = _bars_like(like, own) or _bars_like(like, whole)
            yield _written_bars(line, bars, findings)
            whole, own = [*whole, *bars], [*own, *bars]
            continue
        numbered = _COUNTED_BARS.match(line.text) if "|" in line.text else None
        if numbered is not None:
            line = replace(line, text=" " * numbered.end() + line.text[numbered.end() :])
        elif "|" not in line.text and heading_of(line.text.strip()) is not None:
            own = []
        if "|" in line.text:
            bars = [bar for bar in line.text[line.text.find("|") :].split("|") if bar.strip()]
            bars = ["?"] * _MOST_BARS if _SIGNS_OF_REPEATS.search(line.text) else bars
            whole, own = [*whole, *bars], [*own, *bars]
        yield line


def _begins_with_figure(text: str) -> bool:
    return len(text) <= _LONGEST and any(map(str.isdigit, text[:16]))


def _bars_like(like: re.Match[str], bars: Sequence[str]) -> list[str]:
    """The bars that a line means by their numbers, counted in ``bars``; none where the numbers do
    not fit there."""
    first, last, start, end = (int(like[name]) for name in ("first", "last", "from", "to"))
    if first != len(bars) + 1 or last - first != end - start or not 0 < start <= end < first:
        return []
    meant = [bar.strip() for bar in bars[start - 1 : end]]
    return meant if "?" not in meant and meant[0] not in ("%", "") else []


def _written_bars(line: Line, bars: Sequence[str], findings: Findings) -> Line:
    if not bars:
        return replace(line, text=f"({line.text.strip(' ()[]')})", columns=None)
    findings.guess(
        "bars-like-others",
        f'"{line.text.strip()}": these bars are written out',
        line.place(),
    )
    return replace(line, text=f"| {' | '.join(bars)} |", columns=None)
