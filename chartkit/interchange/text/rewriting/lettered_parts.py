"""Names of parts that are a letter and could be chords ("B" between "A2" and "A3").

Source of the names: common practice of tunes and standards, no source.
"""

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, stands_over, text_at
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import names_player
from chartkit.interchange.text.vocabulary.order_words import LEADS_ON
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    is_known_name,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of

_PART = re.compile(
    r"[\s=#\[]*(?P<name>[A-H]\d?)(?P<end>\s*[.:\]]?)(?P<said>\s*\([^()|]*[^\W\d_]{2}[^()|]*\))?\s*"
)
_PART_DASHED = re.compile(
    r"(?P<name>[A-H]\d?)(?P<end>)\s*(?:,|\s[-–—])\s+(?P<said>[^\W\d_A-Z][^()|]{2,40}?)\s*"
)
"""A letter and what is said of it behind a dash or a comma."""
_BEFORE_BARS = re.compile(r"(?P<name>[A-H]\d?)[.:]?\s+\|")
_LONGEST = 80
_MOST_LINES = 2_000
_FEWEST, _LONGEST_INITIAL = 2, 6
_MOST_WORDS_TO_NAME = 3
"""So many words stand up to a section's name at most ("piano solo over A")."""


def with_lettered_parts(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those of a letter alone over bars, and alone for that part again, written in our
    own way, where parts of a letter and a figure ("A1"), or "A" and "B", stand on the sheet."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    parts = _letters_alone(lines)
    beside = [match["name"] for line in lines if (match := _BEFORE_BARS.match(line.text))]
    over_bars = {at for at in parts if _is_over_bars(lines, at, is_chords)}
    apart = {at for at in parts if at and (stands_over(lines, at) or (beside and at in over_bars))}
    names = [*beside, *(parts[at]["name"] for at in apart)]
    in_turn = {parts[at]["name"] for at in apart & over_bars} >= {"A", "B"}
    numbered = len({name for name in names if name[1:].isdecimal()}) >= _FEWEST
    if not (in_turn or numbered):
        return list(lines)
    result, headings = list(lines), apart & over_bars
    named: set[str] = set()
    for at, match in parts.items():
        again = match["name"] in named and (
            _is_alone(lines, at) if numbered else _is_of_a_form(lines, at, named, is_chords)
        )
        if len(match["name"]) > 1 or not (again or at in headings):
            continue
        named.add(match["name"])
        if not (again or numbered):
            continue  # such names are found by what the whole sheet shows
        text = f"== {match['name']}{_in_parentheses(match['said'])}"
        result[at] = replace(lines[at], text=text, columns=None)
        findings.guess(
            "section-by-place",
            f'"{match["name"]}" is taken as the name of a section: it stands as such names do',
            lines[at].place(),
        )
    return result


def _letters_alone(lines: Sequence[Line]) -> dict[int, re.Match[str]]:
    """The lines of a letter alone, or with what is said of it, by their places."""
    short = ((at, line.text) for at, line in enumerate(lines) if 0 < len(line.text) <= _LONGEST)
    found = ((at, _PART.fullmatch(text) or _PART_DASHED.fullmatch(text)) for at, text in short)
    return {at: match for at, match in found if match is not None}


def _in_parentheses(said: str | None) -> str:
    """A remark behind a letter in parentheses; nothing for none."""
    bare = (said or "").strip(" ()")
    return f" ({bare})" if bare else ""


_EXPLAINED = re.compile(
    r"(?<!\w)(?P<letter>[A-H])\s?(?:=|\(|:|\s[-–—]\s|\sis\s|\sfor\s)\s*(?:the\s+)?"
    r"(?P<name>[^\W\d_]{3,12}(?:[- ][^\W\d_]{3,12})?)"
)
_LETTER_ALONE = re.compile(
    r"\s*(?P<name>[A-H])(?P<times>\s*(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×]))?\s*"
    r"(?P<said>[,(–—-].{0,80}|same|again)?\s*"
)


_INITIALS = re.compile(r"(?:[VR]|Vs|VS|vs|Ch|CH|ch|Cho|Pre|PRE|pre|Rf|v)\.?\s?\d?[.:]?")
"""Names of sections cut to a letter or two, none of which is a chord."""
_LETTER_OVER = re.compile(r"(?P<name>[A-H])[.:]?")
_LETTER_AND_SAID = re.compile(
    rf"(?P<name>[A-H])[.:]?\s+(?:\(?(?P<times>{ANY_TIMES})\)?\s*[,;:–-]?\s*)?\(?(?P<said>[^()|]{{0,40}}?)\)?"
)


def with_letters_among_initials(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, a letter alone over chords as the name of a section where the other names of the
    sheet are initials too ("V1", "Ch", then "B"), and lines that ask for it again."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    texts = [line.text.strip() for line in lines]
    initials = {
        text for text in texts if len(text) <= _LONGEST_INITIAL and _INITIALS.fullmatch(text)
    }
    if len(initials) < _FEWEST:
        return list(lines)
    result, named = list(lines), set[str]()
    for at, text in enumerate(texts):
        alone = _LETTER_OVER.fullmatch(text)
        below = texts[at + 1] if at + 1 < len(texts) else ""
        over = len(below.split()) > 1 and is_chords(below)
        under = at > 0 and bool(texts[at - 1]) and is_chords(texts[at - 1])
        if alone is not None and stands_over(lines, at) and over:
            named.add(alone["name"])
            result[at] = replace(lines[at], text=f"== {alone['name']}", columns=None)
            findings.guess(
                "letter-as-name",
                f'"{alone["name"]}" alone over chords names a section, as the other initials do',
                lines[at].place(),
            )
            continue
        again = _LETTER_AND_SAID.fullmatch(f"{text} ") if len(text) <= _LONGEST else None
        if again is None or again["name"] not in named or under or over:
            continue
        said = again["said"].strip()
        if said[:1].isupper() or (said and is_chords(said)):
            continue
        times = f" x{times_of(again['times'])}" if again["times"] else ""
        remark = f" ({said})" if said else ""
        result[at] = replace(lines[at], text=f"== {again['name']}{times}{remark}", columns=None)
    return result


def with_letters_explained(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those of a letter that the sheet explains ("C (chorus)", "B = bridge") as names of
    sections in our own way, where nothing or chords stand right below: over words it is a chord."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    meant = _letters_meant(lines, is_chords)
    result = list(lines)
    for at, line in enumerate(lines if meant else ()):
        match = _LETTER_ALONE.fullmatch(line.text) if 0 < len(line.text) <= _LONGEST else None
        below = text_at(lines, at + 1)
        if match is None and "=" in line.text and is_chords(below):
            here = _EXPLAINED.fullmatch(line.text.strip())
            if here is not None and here["letter"] in meant:
                result[at] = replace(line, text=f"== {here['letter']}", columns=None)
        if match is None or match["name"] not in meant:
            continue
        if below.strip() and not is_chords(below) and not (match["times"] or match["said"]):
            continue
        times, said = (match["times"] or "").strip(), (match["said"] or "").strip(" ,()–—-")
        said = f"({said})" if said and said not in ("same", "again") else ""
        text = " ".join(filter(None, (f"== {match['name']}", times, said)))
        result[at] = replace(line, text=text, columns=None)
        findings.guess(
            "section-by-place",
            f'"{match["name"]}" is the name of a section, as the sheet explains',
            line.place(),
        )
    return result


def _letters_meant(lines: Sequence[Line], is_chords: IsChords) -> set[str]:
    """The letters that a sheet explains as names of sections, and, beside such, others with a
    remark over chords."""
    meant = {
        match["letter"]
        for line in lines
        if 0 < len(line.text) <= _LONGEST
        for match in _EXPLAINED.finditer(line.text)
        if match["name"][0].upper() == match["letter"] and is_known_name(match["name"].casefold())
    }
    if meant:
        meant |= {
            match["name"]
            for at, line in enumerate(lines)
            if "(" in line.text[:4] and (match := _PART.fullmatch(line.text[:_LONGEST]))
            if match["said"] and _is_over_bars(lines, at, is_chords)
        }
    return meant


_FORM = re.compile(r"(?:[\s,–—+&-]|\b(?:and|then|und|dann|et|y|e|en|och|og)\b)+")
_OVER = re.compile(
    r"(?:[^,;]{1,40}[,;]\s*)?(?:over|on|über|sobre|sur|på|su|op)\s+(?:the\s+)?", re.IGNORECASE
)
"""What stands before the parts that somebody plays over, also who does ("piano, over A and B")."""
_MOST_PARTS = 16


def letters_in(text: str) -> tuple[str, ...]:
    """The parts called by letters that a text lists and nothing else ("over A A B A", "AABA");
    none for any other text."""
    text = _OVER.sub("", text.strip(" ()."), count=1)
    if not 1 < len(text) <= _LONGEST or not text[0].isupper():
        return ()
    parts = _FORM.split(text)
    if len(parts) == 1 and text.isalpha():
        parts = list(text)
    lettered = all(_LETTER.fullmatch(part) for part in parts)
    return tuple(parts) if lettered and 1 < len(parts) <= _MOST_PARTS else ()


_LETTER = re.compile(r"[A-H]\d?")


def with_forms_of_parts(lines: Sequence[Line]) -> list[Line]:
    """The lines, the order of parts by their letters behind the name of a solo as what it is played
    over ("SOLOS A A B A"), and a part with how often it is played in our own way ("B x2 (quiet)"),
    where each of these parts is named on the sheet."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    named = {
        match["name"]
        for line in lines
        if 0 < len(line.text) <= _LONGEST and (match := _PART.fullmatch(line.text)) is not None
    }
    if len(named) < _FEWEST:
        return list(lines)
    counted = {at: one for at, line in enumerate(lines) if (one := _counted_part(line, named))}
    return [
        replace(line, text=counted[at], columns=None)
        if at in counted and {at - 1, at + 1} & counted.keys()
        else _with_form(line, named)
        for at, line in enumerate(lines)
    ]


_COUNTED = re.compile(
    r"\s*(?P<name>[A-H]\d?)\s*:?\s+\(?(?:[x×]\s?(?P<times>\d{1,2})|(?P<first>\d{1,2})\s?[x×])\)?"
    r"(?P<said>\s*\([^()|]*[^\W\d_]{2}[^()|]*\))?\s*",
    re.IGNORECASE,
)


def _counted_part(line: Line, named: set[str]) -> str:
    """A line of a part's letter and a count in our own way; empty for any other line."""
    match = _COUNTED.fullmatch(line.text) if 0 < len(line.text) <= _LONGEST else None
    if match is None or match["name"] not in named:
        return ""
    return f"== {match['name']} x{match['times'] or match['first']}{match['said'] or ''}"


_PLAYER_BEHIND = re.compile(r"\s+(?P<who>[^\W\d_]{3,14})(?=\s)")
"""Who plays a solo, behind its name ("Solo trumpet over A B")."""


def _with_form(line: Line, named: set[str]) -> Line:
    start = line.text.find(" ") + 1 if 0 < len(line.text) <= _LONGEST else 0
    end = full_name_at(line.text, 0) if 0 < len(line.text) <= _LONGEST else 0
    end = end or (full_name_at(line.text, start) if start else 0)  # "sax solo on A and B"
    player = _PLAYER_BEHIND.match(line.text, end) if end else None
    if player is not None and names_player(player["who"]):
        end = player.end()
    name = line.text[:end].strip()
    if not name or _SOLOS.isdisjoint(section_key(word)[0] for word in name.split()[-2:]):
        return line
    said = line.text[end:].strip(" :=-–—")
    letters = letters_in(said)
    then = any(map(LEADS_ON.match, re.split(r"[,;]", said)[1:]))  # another section comes next
    if then or not letters or not {*letters} <= named:
        return line
    bare = said.strip(" ().")
    over = bare if _OVER.match(bare) is not None else f"over {' '.join(letters)}"
    return replace(line, text=f"== {name} ({over})", columns=None)


_SOLOS = frozenset({"solo", "instrumental", "break", "trading", "head"})


def _is_alone(lines: Sequence[Line], at: int) -> bool:
    """Whether a line has nothing right above it and nothing right below."""
    around = (*lines[max(0, at - 1) : at], *lines[at + 1 : at + 2])
    return not any(line.text.strip() for line in around)


def _is_of_a_form(
    lines: Sequence[Line], at: int, named: Collection[str], is_chords: IsChords
) -> bool:
    """Whether a letter stands between lines that name sections, or nothing, above and below."""
    around = (text_at(lines, at - 1), text_at(lines, at + 1))
    return all(_names_a_step(text, named, is_chords) for text in around)


def _names_a_step(text: str, named: Collection[str], is_chords: IsChords) -> bool:
    """Whether a line names a section near its beginning, or holds nothing."""
    text = text.strip()
    letter = _LETTER_ALONE.fullmatch(text) if len(text) <= _LONGEST else None
    if not text or text in named or (letter is not None and letter["name"] in named):
        return True
    if len(text) > _LONGEST or is_chords(text):
        return False
    words = text.replace(":", " ").split()[:_MOST_WORDS_TO_NAME]
    return any(full_name_at(" ".join(words[at:]), 0) for at in range(len(words)))


def _is_over_bars(lines: Sequence[Line], at: int, is_chords: IsChords) -> bool:
    """Whether a row of bars or of several chords stands right below a line."""
    below = lines[at + 1].text if at + 1 < len(lines) else ""
    return below.lstrip().startswith("|") or (is_chords(below) and len(below.split()) > 1)


_BESIDE_NAME = re.compile(
    r"\s*(?P<name>[^\W\d_][^()\[\]|:]{1,24}?)\s*[(\[]\s*(?P<letter>[A-H])\s*[)\]]\s*:?\s*"
)
"""A name and its letter in brackets ("VERSE (A)")."""
_ASKS = re.compile(
    r"\s*(?P<name>[^\W\d_][^()\[\]|:=]{1,24}?)\s*(?:[:=]\s*|\s+[–-]\s+|\s+|(?=[(\[]))"
    r"[(\[]?(?P<letters>[A-H](?:[\s,–+-]*[A-H])*)[)\]]?(?:\s*\((?P<said>[^()|]{2,60})\))?[.!]?\s*"
)
"""A name and the letters of what is played there ("SOLO: A (open)")."""


def with_names_for_letters(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, where letters in brackets stand beside the names of sections, from A on: the names
    without them, and for a name with letters behind it alone ("SOLO: A") the sections they mean."""
    short = [line.text if 0 < len(line.text) <= _LONGEST else "" for line in lines[:_MOST_LINES]]
    beside: dict[int, re.Match[str]] = {}
    meant: dict[str, str] = {}
    for at, text in enumerate(short):
        match = _BESIDE_NAME.fullmatch(text) if "(" in text or "[" in text else None
        if match is None or match["letter"] in meant or not _names(match["name"]):
            continue
        if lines[at + 1 : at + 2] and lines[at + 1].text.strip():
            beside[at] = match
            meant[match["letter"]] = match["name"].strip()
    if len(meant) < _FEWEST or [*meant] != list("ABCDEFGH")[: len(meant)]:
        return list(lines)
    findings.guess(
        "letters-beside-names",
        "letters in brackets stand for sections: "
        + ", ".join(f"{letter} for {name}" for letter, name in meant.items()),
        lines[min(beside)].place(),
    )
    result: list[Line] = []
    for at, line in enumerate(lines):
        headings, asked = _asked(short[at], meant) if at < len(short) else ([], "")
        if at in beside:
            result.append(replace(line, text=beside[at]["name"], columns=None))
        elif headings and not _is_over_bars(lines, at, is_chords):
            findings.guess("section-again", f'"{line.text.strip()}" is {asked}', line.place())
            result += [replace(line, text=text, columns=None) for text in headings]
        else:
            result.append(line)
    return result


def _asked(text: str, meant: Mapping[str, str]) -> tuple[list[str], str]:
    """A name with letters behind it as headings in our own way, and what it is in words; empty for
    any other line."""
    match = _ASKS.fullmatch(text)
    letters = [one for one in match["letters"] if one.isalpha()] if match is not None else []
    if match is None or not {*letters} <= meant.keys() or not _names(match["name"]):
        return [], ""
    name, others = match["name"].strip(), [meant[one] for one in letters]
    said = f" ({match['said']})" if match["said"] else ""
    headings = [f"== {name} (over {other})" for other in others]
    return [headings[0] + said, *headings[1:]], f"{name} over {', '.join(others)}"


def _names(name: str) -> bool:
    return full_name_at(name.strip(), 0) == len(name.strip())
