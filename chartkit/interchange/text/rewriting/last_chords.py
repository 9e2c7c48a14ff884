"""The chords on which a song ends: those behind a row that is played several times ("| Am | F | x4,
then Am", "Dm Bb F C 3 times, finish on Dm"), and those that stand alone ("last hit: Em9").

Source of the words, in the languages in which sheets are often written: common practice, no
source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import islice

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.song_form.ending_rows import ending_row
from chartkit.interchange.text.tokens import WORDS_TOO, IsChords
from chartkit.interchange.text.vocabulary.ends_on import song_end
from chartkit.interchange.text.vocabulary.order_words import LAST_CHORDS, is_of_last_chords
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.times_played import NAMED_TIMES, may_have_count, times_in
from chartkit.theory.naming import LETTER_OF

_LONGEST, _LONGEST_ENDING, _MOST_LINES = 200, 60, 2_000
_FEWEST, _MOST = 2, 16
_COUNT = re.compile(rf"(?<=[\s|)])[(\[]?\s*{NAMED_TIMES}\s*[)\]]?(?=[\s,;.:–—-])", re.IGNORECASE)
_THEN = (
    r"and|und|et|y|e|en|och|og|then|dann|danach|puis|ensuite|luego|después|poi|daarna|dan|sen|sedan|"
    r"depois"
)
_ONLY = r"just|only|nur|bara|alleen|solo|sólo|só|seulement|kun"
_ENDS = (
    r"(?:ends?|ending|finish(?:es)?|stop(?:s)?|close|schluss|ende|fin(?:ir)?|termina(?:r)?|"
    r"finire|eindigen|slut(?:a)?|slutt)\s+(?:on|with|auf|mit|sur|en|con|su|op|met|på|med|em)"
)
_HOLD = r"hold|let ring|halten|tenir|tenere|aanhouden"
_LAST = re.compile(
    rf"[\s,;.:–—-]+(?:(?:{_THEN})\s+)*(?:(?:{_ONLY})\s+)?"
    rf"(?:(?:{_ENDS})\s+|(?P<hold>{_HOLD})\s+)?(?:(?:an?|the|one|last|final|big|ein(?:en)?)\s+)*"
    r"(?P<chords>[A-H][^\s,;()|]{0,9}(?:(?:\s+[-–—])?\s+[A-H][^\s,;()|]{0,9}){0,3})(?![^\s,;()|.!])"
    r"(?:\s*\(?(?P<said>[^\W\d][^()|]{1,30}?)\)?)?[.!\s]*",
    re.IGNORECASE,
)
"""What follows a count: words that lead to the last chords, and these."""
_DASHES = re.compile(r"\s+[-–—]\s+")
_LABEL = re.compile(
    r"\s*(?:[^\W\d_][^:|=()]{0,24}(?:\([^()|]{2,40}\)\s?)?(?::|=|\s[-–—](?=\s)))?\s*"
)
_NO_LEAD = re.compile(r"[\s,;.:–—-]+(?=[A-H](?:[#b♯♭m\d/]|\b))")


_CLOSING = re.compile(
    r"\s*(?:[*•·–—-]+\s*)?(?:(?:the|der|le|el|il|het|o)\s+)?"
    rf"(?P<name>{LAST_CHORDS})"
    r"(?:\s*[:=]\s*|\s+(?:[-–—]\s*|(?:is|ist|est|es|è|är|er)\s+)?)(?:(?:an?|ein|un)\s+)?(?P<chords>"
    r"[A-H][^\s,;()|]{0,9}(?:\s+(?:major|minor|dur|moll))?(?:\s+[A-H][^\s,;()|]{0,9}){0,3})"
    r"\s*(?:(?:[,(]|(?<=\s)(?=(?:with|and|mit|und|avec|et|con|y|e|met|en|med|och)\s))\s*(?P<said>[^\W\d][^()|]{1,40}?)\)?)?[.!\s]*",
    re.IGNORECASE,
)
"""A line that names the last chords of a song and says no more but how they are played."""
_BY_SYLLABLE = re.compile(
    r"(?P<lead>.*\s(?:en|sur|in|em|su|na|no|i)\s)(?P<note>do|r[ée]|mi|fa|sol|la|si)"
    r"(?P<sign>[#b♯♭]?)(?P<mode>(?:\s?(?:m|min|menor|mineur|minore))?)[.!]*",
    re.IGNORECASE,
)
"""A note by its syllable at the end of a line, in the languages that call notes so."""
_MODES = ((" major", ""), (" dur", ""), (" minor", "m"), (" moll", "m"))


def with_last_chords(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, rows with a count and last chords behind it with the repeat and these chords as
    rows usually have them, and last chords alone as a section."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result: list[Line] = []
    music = False
    last = _last_row(lines, is_chords)
    for at, line in enumerate(lines):
        closing = _closing(line, is_chords) or _named_over_row(lines, at, is_chords)
        ends = music and at > last
        closing = closing or (_ending(lines, at, is_chords, findings) if ends else [])
        result += closing or [_with_end(_with_last(line, is_chords, findings), is_chords)]
        music = music or (0 < len(line.text) <= _LONGEST and is_chords(line.text))
    return result


def _named_over_row(lines: Sequence[Line], at: int, is_chords: IsChords) -> list[Line]:
    """The name of the last chords alone over these, in our own way, where it begins with a known
    name ("FINAL CHORD"); nothing for any other line."""
    text = lines[at].text.strip().strip(":")
    if not 0 < len(text) <= _LONGEST_ENDING or not is_of_last_chords(text):
        return []
    below = lines[at + 1].text if at + 1 < len(lines) else ""
    named = is_known_name(text.split()[0]) and 0 < len(below) <= _LONGEST and is_chords(below)
    return [replace(lines[at], text=f"== {text}", columns=None)] if named else []


def _ends_sheet(lines: Sequence[Line], at: int) -> bool:
    """Whether a line stands apart, with hardly anything below it, and no name."""
    texts = (line.text.strip() for line in islice(lines, at + 1, None))
    below = list(islice(filter(None, texts), _MOST_BELOW + 1))
    named = any(heading_of(text) is not None for text in below)
    apart = is_empty(lines, at - 1) and is_empty(lines, at + 1)
    return apart and len(below) <= _MOST_BELOW and not named


def _last_row(lines: Sequence[Line], is_chords: IsChords) -> int:
    """The last line that is a row of chords, above which no song ends; -1 where there is none."""
    places = range(len(lines) - 1, -1, -1)
    rows = (i for i in places if 0 < len(lines[i].text) <= _LONGEST and is_chords(lines[i].text))
    return next(rows, -1)


def _ending(lines: Sequence[Line], at: int, is_chords: IsChords, findings: Findings) -> list[Line]:
    """A line that says with a verb, or by a note's syllable, on which chord the song ends
    ("eindigen op Am", "Fin en Sol") as a section's name and its row; none for any other.  A verb
    that is said of much else too ("close on Dm9") counts on the last line, with a chord that is no
    word."""
    line = lines[at]
    text = line.text.strip() if 0 < len(line.text) <= _LONGEST_ENDING else ""
    spelled = _BY_SYLLABLE.fullmatch(text) if not is_chords("Sol") else None
    if spelled is not None:
        root = LETTER_OF[spelled["note"].casefold()]
        text = f"{spelled['lead']}{root}{spelled['sign']}{'m' * bool(spelled['mode'])}"
    end = song_end(text, is_chords) if not ending_row(text, is_chords) else None
    if end is None:
        return []
    if not (end.sure or spelled) and (end.chord in WORDS_TOO or not _ends_sheet(lines, at)):
        return []
    if end.named and spelled is None:  # a line of form, without what leads to it
        return [replace(line, text=end.bare, columns=None)] if end.bare != text else []
    said = f" ({end.said})" if end.said else ""
    findings.guess(
        "last-chords", f'"{line.text.strip()}": the song ends on {end.chord}', line.place()
    )
    return [replace(line, text=t, columns=None) for t in (f"== {end.name}{said}", end.chord)]


def _closing(line: Line, is_chords: IsChords) -> list[Line]:
    """A line of the last chords alone as a section's name and its row; none for any other."""
    match = _CLOSING.fullmatch(line.text) if 0 < len(line.text) <= _LONGEST else None
    if match is None:
        return []
    chords = match["chords"]
    for mode, sign in _MODES:
        chords = chords.replace(mode, sign)
    if not is_chords(chords):
        return []
    said = f" ({match['said'].strip()})" if match["said"] else ""
    texts = (f"== {match['name']}{said}", chords)
    return [replace(line, text=text, columns=None) for text in texts]


_SIGN_BEFORE_END = re.compile(r"\s*(?:\.{2,}|…|[,;.]|\s[-–—])\s+(?=[^\W\d_]{2})")
_FEWEST_CHORDS = 2
_MOST_BELOW = 3
"""So many lines a farewell below the song may have (ours)."""


def _with_end(line: Line, is_chords: IsChords) -> Line:
    """A row of chords with the chord behind it on which it ends ("Final: Dm E, terminar em Am") as
    the last of the row, and what leads to it in parentheses; any other line as it is."""
    text = line.text
    if not 0 < len(text) <= _LONGEST or "|" in text:
        return line
    label = _LABEL.match(text)
    start = label.end() if label is not None else 0
    sign = _SIGN_BEFORE_END.search(text, start)
    row = text[start : sign.start()] if sign is not None else ""
    words = row.split()
    named = bool(words) and not is_chords(words[0]) and is_known_name(words[0])
    chords = " ".join(words[named:])
    if sign is None or len(words) - named < _FEWEST_CHORDS or not is_chords(chords):
        return line
    said = text[sign.end() :].strip()
    end = song_end(said, is_chords)
    if end is None or " " in end.chord or end.chord not in said:
        return line
    lead = said[: said.rfind(end.chord)].strip(" :")
    behind = said[said.rfind(end.chord) + len(end.chord) :].strip(" ,;()-–—.!")
    more = f" ({behind})" if behind else ""
    return replace(line, text=f"{text[: sign.start()]}  ({lead}) {end.chord}{more}", columns=None)


def _with_last(line: Line, is_chords: IsChords, findings: Findings) -> Line:
    text = line.text
    if not 0 < len(text) <= _LONGEST or ":|" in text or not may_have_count(text):
        return line
    label = _LABEL.match(text)
    start = label.end() if label is not None else 0
    for count in _COUNT.finditer(text):
        last = _LAST.fullmatch(text, count.end())
        row = text[start : count.start()]
        times = times_in(count)
        if last is None or not _FEWEST <= times <= _MOST or not is_chords(row):
            continue
        if _NO_LEAD.match(text, count.end()) or not is_chords(last["chords"]):
            continue
        findings.guess(
            "last-chords",
            f'"{text[count.start() :].strip()}": the row is played {times} times, and then '
            f"{last['chords']}",
            line.place(),
        )
        said = ", ".join(filter(None, (last["hold"], last["said"])))
        remark = f" ({said})" if said else ""
        played = _written(row.strip(), times, _DASHES.sub(" ", last["chords"]))
        return replace(line, text=f"{text[:start]}{played}{remark}", columns=None)
    return line


def _written(row: str, times: int, last: str) -> str:
    """A row that is played so many times, and chords behind it."""
    if "|" not in row:
        return "  ".join([row] * times + [last])
    bars = row.strip("| ")
    return f"|: {bars} :| x{times} | {' | '.join(last.split())} |"
