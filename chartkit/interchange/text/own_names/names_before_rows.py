"""Names of sections right before their chords, with nothing between them, that are no known names
as they stand: a word before a known one ("rif intro Em G A C x4 bass joins"), or a slip ("intor Em
G A C").  They get a colon, as others have it; so do names with what is said of them before the
chords ("Gtr intro alone  E A E B7").
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.section_words import PLAYERS
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.names.unknown_names import meant_by_slip
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.bar_words import BARS
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction, names_player
from chartkit.interchange.text.vocabulary.form_words import may_lead
from chartkit.interchange.text.vocabulary.reference_lines import is_about_the_song
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    is_known_name,
    section_key,
)
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES

_NAME_AND_ROW = re.compile(
    r"\s*(?P<name>[^\W\d_]{2,12}(?:[ -][^\W\d_]{2,12}){0,2}?(?:\s\d)?)(?P<gap>\s+)(?=\|?:?\s*[A-H])"
)
_ASKING_IN_WORDS = """
play repeat same over then and to like the a an before after no into back with from or in on use do
my your our
"""
_ASKING = frozenset(_ASKING_IN_WORDS.split())
"""Words before a section's name that speak of one elsewhere."""
_BARS_FIRST = re.compile(
    rf"(?P<bars>\d{{1,2}}[ -]?{BARS})\s+(?:(?:of|de|di|von|van)\s+)?"
    r"(?P<name>[^\W\d_]+(?: [^\W\d_]+)?)\s*:\s+",
    re.IGNORECASE,
)
_MOST_ABOVE = 400
"""So many lines above are looked at for a name; a song has fewer."""
_COUNT_BEHIND = re.compile(rf"\s*[(\[]?(?:{ANY_TIMES})[)\]]?$", re.IGNORECASE)
_FEWEST_CHORDS, _FEWEST_SMALL = 3, 2
_TIMES_BEHIND = re.compile(rf"\s*[(\[]?(?:{ANY_TIMES})[)\]]?[.!]?$", re.IGNORECASE)
_LONGEST = 120
_MOST_LINES = 2_000


def with_colons_before_rows(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those that begin with such a name and at least three chords with a colon behind
    the name."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result: list[Line] = []
    for at, typed in enumerate(lines):
        line = _with_capitals(typed, is_chords)
        result.append(line)
        if line is not typed:
            read = f'"{typed.text.strip()}" is read as "{line.text.strip()}"'
            findings.guess("small-letters", read, line.place())
        remarked = _with_remark_before(line, is_chords) or _with_remark_behind(line, is_chords)
        parted = [remarked] if remarked is not None else _with_bars_behind(line, is_chords)
        if parted:
            result[-1:] = parted
            read = " ".join(one.text.strip() for one in parted)
            findings.guess(
                "remark-before-chords", f'"{line.text.strip()}" is read as "{read}"', line.place()
            )
            continue
        match = _NAME_AND_ROW.match(line.text) if 0 < len(line.text) <= _LONGEST else None
        if match is None or is_chords(text_at(lines, at - 1)):
            continue
        chords = _chords_at(line.text[match.end() :], is_chords)
        named = chords >= _FEWEST_CHORDS and _names_a_section(match["name"])
        if not (named or (chords > 1 and _stands_apart(lines, at, match["name"], is_chords))):
            continue
        end = match.end("name")
        text = f"{line.text[:end]}:{line.text[end:]}"
        result[-1] = replace(line, text=text, columns=None)
        findings.guess(
            "section-by-place",
            f'"{match["name"]}" is taken as the name of a section: it stands before chords',
            line.place(),
        )
    return result


_PLAYED_ALONE = frozenset(
    ["intro", "outro", "end", "coda", "tag", "solo", "interlude", "instrumental", "break", "vamp"]
)
"""Kinds of sections that have chords alone."""
_WORDS_BEFORE = re.compile(
    r"(?P<words>[^\W\d_][^\W\d_.'’-]*(?:\s(?:[-–—]\s)?[^\W\d_.][^\W\d_.'’-]*){1,6}?)"
    r"(?P<gap>\s*[,:]?\s+)(?=[A-H])"
)


def _with_remark_before(line: Line, is_chords: IsChords) -> Line | None:
    """A line whose first word or two name a section without words, with what is said of it before
    its chords in parentheses behind the name; None for any other line."""
    text = line.text.strip() if 0 < len(line.text) <= _LONGEST else ""
    match = _WORDS_BEFORE.match(text) if not text.islower() and " " in text else None
    if match is None or is_known_name(match["words"]):
        return None
    words = match["words"].split()
    at = next((i for i, word in enumerate(words[:2]) if _is_played_alone(word)), -1)
    chords = _chords_at(text[match.end() :], is_chords)
    least = _FEWEST_CHORDS - ("  " in match["gap"] or "," in match["gap"])
    said = [word for word in words[at + 1 :] if word[0].isalpha()]
    asks = not _ASKING.isdisjoint(word.casefold() for word in words[: at + 1])
    if at < 0 or asks or not said or chords < least or any(map(is_chords, said)):
        return None
    played = _plays(words[0]) if at else _is_remark(" ".join(said))
    if may_lead(said[-1]) or not played:
        return None  # "End on C G C" is read as it stands, "End of the road  G  D" is sung
    name = " ".join(words[: at + 1])
    behind = text[match.end() :]
    return replace(line, text=f"{name} ({' '.join(said)}): {behind}", columns=None)


_REMARK_BEHIND = re.compile(
    r"(?P<name>[^\W\d_]{2,12}(?:[ -][^\W\d_]{2,12}){0,2}(?:\s\d)?)(?:\s+[-–—]\s+|\s*,\s+)"
    r"(?P<said>[^\W\d_][^:|()]{1,58}):\s+(?P<row>\|?:?\s*[A-H].*)"
)
_OF_CHORDS_IN_WORDS = """
key keys capo chord chords time tuning alt alternative use uses last first end then walk run shape
shapes note change changes pattern strum strumming picking form order and or with from
"""
_NO_NAME = frozenset(_OF_CHORDS_IN_WORDS.split())
"""Words before a sign that say something of the chords behind a colon."""


def _with_remark_behind(line: Line, is_chords: IsChords) -> Line | None:
    """A line of a name that nobody else uses, what is said of it behind a dash or a comma, a colon
    and its chords ("Drop - half time, no bass: Fm7 Bb7 x8"), with what is said in parentheses;
    None for any other line."""
    text = line.text.strip() if 0 < len(line.text) <= _LONGEST and ":" in line.text else ""
    match = _REMARK_BEHIND.fullmatch(text) if text else None
    if match is None or is_chords(match["name"]) or is_about_the_song(text) or label_end(text):
        return None
    words = match["name"].casefold().replace("-", " ").split()
    if heading_of(match["name"]) is not None or not _NO_NAME.isdisjoint(words):
        return None
    bare = _TIMES_BEHIND.sub("", match["row"])
    if not is_chords(bare) or is_chords(match["said"]) or _chords_at(bare, is_chords) < 2:
        return None
    text = f"{match['name']} ({match['said'].strip()}): {match['row']}"
    return replace(line, text=text, columns=None)


_NAME_AND_SMALL_LETTERS = re.compile(
    r"\s*(?P<name>[^\W\d_][^:|()\s]{1,16}(?: [^:|()\s]{1,12}){0,2})(?:\s*:\s*|\s+[-–—]\s+)"
    r"(?=[a-g][#b]?(?:m|\s))"
)
_SMALL_CHORD = re.compile(r"[a-g][#b]?(?:m|maj|min|sus|dim|aug|add|[2-79])*(?:/[a-g][#b]?)?")


def _with_capitals(line: Line, is_chords: IsChords) -> Line:
    """A line of a known name and chords in small letters, one of them more than a letter, with
    capitals ("intro: am f c g"); any other line as it is."""
    text = line.text if 0 < len(line.text) <= _LONGEST else ""
    match = _NAME_AND_SMALL_LETTERS.match(text)
    if match is None or not is_known_name(match["name"]):
        return line
    row = text[match.end() :]
    words = [
        word for word in _COUNT_BEHIND.sub("", row).split() if word not in ("|", "/", "-", "%")
    ]
    plain = all(_SMALL_CHORD.fullmatch(word) for word in words)
    if not plain or len(words) < _FEWEST_SMALL or all(len(word) == 1 for word in words):
        return line
    capitals = re.sub(r"(?<!\S)[a-g]|(?<=/)[a-g]", lambda one: one[0].upper(), row)
    if not is_chords(_COUNT_BEHIND.sub("", capitals).strip()):
        return line
    return replace(line, text=text[: match.end()] + capitals, columns=None)


def _with_bars_behind(line: Line, is_chords: IsChords) -> list[Line]:
    """A line that counts the bars of what somebody plays, before its chords, as a name in our own
    way and its row ("8 bars piano: | Am7 | D9 |"); nothing for any other line."""
    text = line.text.strip() if 0 < len(line.text) <= _LONGEST else ""
    match = _BARS_FIRST.match(text) if text[:1].isdecimal() else None
    row = text[match.end() :] if match is not None else ""
    if match is None or not is_chords(_COUNT_BEHIND.sub("", row)):
        return []
    words = match["name"].split()
    if not (all(map(_plays, words)) or _is_played_alone(words[-1])):
        return []
    name = match["name"][:1].upper() + match["name"][1:]
    texts = (f"== {name} ({match['bars']})", " " * line.text.find(row) + row)
    return [replace(line, text=one, columns=None) for one in texts]


def _plays(word: str) -> bool:
    low = word.casefold().strip(".")
    return names_player(word) or low.removesuffix("s") in PLAYERS


def _is_remark(said: str) -> bool:
    """Whether some words before chords have one of the trade and do not sound as if sung."""
    return count_words(said).known > 0 and sounds_said(said) >= 0


def _is_played_alone(word: str) -> bool:
    return is_known_name(word) and section_key(word)[0] in _PLAYED_ALONE


def _names_a_section(text: str) -> bool:
    """Whether words end with the full name of a section, or with one that has a slip, and are no
    name that is known as it stands."""
    if (known := heading_of(text)) is not None and known.rest_at is None:
        return False
    *before, last = re.sub(r"\s\d$", "", text).replace("-", " ").split()
    if not _ASKING.isdisjoint(word.casefold() for word in before):
        return False
    if meant_by_slip(last.capitalize()):
        return True
    return bool(before) and full_name_at(last, 0) == len(last)


def _stands_apart(lines: Sequence[Line], at: int, name: str, is_chords: IsChords) -> bool:
    """Whether a line of one word of any kind, with a capital letter, and chords stands below a
    known name, with nothing right above or below it ("LINK Em C (x2)")."""
    if not name.isalpha() or not name[0].isupper() or is_chords(name) or is_direction(name):
        return False
    if text_at(lines, at - 1).strip() or text_at(lines, at + 1).strip() or is_known_name(name):
        return False
    behind = _COUNT_BEHIND.sub("", lines[at].text.strip()[len(name) :])
    if name.casefold() in _ASKING or not is_chords(behind.strip()):
        return False
    above = (heading_of(line.text.strip()) for line in lines[max(0, at - _MOST_ABOVE) : at])
    return any(one is not None and one.rest_at is None for one in above)


def _chords_at(text: str, is_chords: IsChords) -> int:
    """How many chords a text begins with."""
    count = 0
    for word in text.replace("|", " ").split():
        if not is_chords(word.strip(",;")):
            break
        count += 1
    return count
