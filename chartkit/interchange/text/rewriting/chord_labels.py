"""Removes the word "Chords" before a row of chords below a section's name, and the word "Words"
before the words under a row of chords.

Source of the form: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.quick_looks import BeginsWithWord, has_any, in_small_letters
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import says_throughout
from chartkit.interchange.text.vocabulary.form_words import (
    AS_BEFORE,
    WORDS_FOR_CHORDS,
    section_meant,
)
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of
from chartkit.interchange.text.vocabulary.writer_names import names_people

_LABEL = re.compile(
    rf"\s*(?:{WORDS_FOR_CHORDS}|akordy|soinnut|chds?|akk|harmon(?:y|ies|ie|ia|ía))\.?"
    r"(?:\s*[:=]\s*|\s+[-–—]\s+)(?=\S)",
    re.IGNORECASE,
)
_COUNT_BEHIND = re.compile(
    r"\s*[(\[]?\s*(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×]|twice)\s*[)\]]?\s*$", re.I
)
_LONGEST = 200
_LONGEST_NAME = 40
_NAME = re.compile(r"[^\W\d_][\w'’.]*(?:[ -][\w'’.]+){0,3}\s*:?")
_FEWEST = 2


_SIGNS_OF_LABELS = re.compile("[:=–—-]")
_LABEL_OF_WORDS = BeginsWithWord(
    r"\s*(?:the\s+)?(?:words|lyrics|lyric|text|liedtext|paroles|letra|testo|texto|teksten|tekst|tekstit|sanat|"
    r"słowa|slova|ord|låttext)\s*(?::|=|\s[-–—]\s)\s*",
)


_CHORDS_OF = (
    r"(?:(?:the|these|those|always|just|only|same|all|die|immer|gleichen?|selben?|dieselben|les|mêmes|"
    r"toujours|los|las|siempre|mismos|os|sempre|mesmos|gli|stessi|de|zelfde|samma|alltid|"
    r"one|two|three|four|five|six|\d|zwei|drei|vier|deux|trois|quatre|dos|tres|cuatro|quattro|fyra)\s+)*"
    rf"(?:(?:{WORDS_FOR_CHORDS}|changes|progression)\b[\s,]*)?"
)
_EACH_LINE = re.compile(
    rf"\s*{_CHORDS_OF}(?:(?:for|over|on|in|under|per|to|für|über|in|pour|sur|para|en|per|su|voor|op|"
    r"för|på|till)\s+)?(?:(?:each|every|all(?:\s+the)?|jede[rn]?|allen?|chaque|toutes\s+les|cada|"
    r"todas\s+las|ogni|tutte\s+le|elke|alle|varje|alla)\s+)"
    r"(?:lines?|zeilen?|lignes?|líneas?|linhas?|righe|riga|regels?|rader|rad)\b(?P<more>[^:]*?)"
    r"(?:\s*:|\s+(?:goes|is|are|geht|ist|sind|es|son|est|sont|è|sono|is|är))\s+(?=[A-H])",
    re.IGNORECASE,
)
"""How a line says that the chords behind it are those of each line of words."""
_LINES_OF_WORDS = ("line", "zeile", "ligne", "línea", "linha", "righe", "riga", "regel", "rad")
_LABEL_THROUGHOUT = re.compile(
    rf"\s*{_CHORDS_OF}(?P<said>[^:]{{3,40}}?)\s*:\s+(?=[A-H])", re.IGNORECASE
)


_COUNTED_NAME = re.compile(
    rf"\s*(?P<name>[^\W\d_][^\W\d_’'-]{{1,15}}(?:[ -][^\W\d_]{{2,12}}){{0,2}})\s*"
    rf"(?:\((?P<said>{ANY_TIMES})\)|\s(?P<times>{ANY_TIMES}))\s*:\s+(?=[A-H|(])",
    re.IGNORECASE,
)
"""A name and how often, before chords ("Dance (two times): Dm A7")."""


def _with_words_behind(line: Line, is_chords: IsChords) -> Line:
    """A line of chords behind words that say they are for each line, for the whole song, or played
    so often, with these behind the chords, where rows have them."""
    if len(line.text) > _LONGEST or " " not in line.text.strip():
        return line
    for written in (_of_each_line, _throughout, _counted):
        if text := written(line.text, is_chords):
            return replace(line, text=text, columns=None)
    return line


def _of_each_line(text: str, is_chords: IsChords) -> str:
    may = has_any(in_small_letters(text), _LINES_OF_WORDS)
    label = _EACH_LINE.match(text) if may else None
    chords = text[label.end() :].strip() if label is not None else ""
    return f"{chords} (once per line)" if chords and is_chords(chords) else ""


def _throughout(text: str, is_chords: IsChords) -> str:
    label = _LABEL_THROUGHOUT.match(text) if ":" in text else None
    said = says_throughout(label["said"]) if label is not None else None
    if label is None or said is None or not is_chords(chords := text[label.end() :].strip()):
        return ""
    others = f"{label['said'][: said.start()]}{label['said'][said.end() :]}".strip(" ,")
    return "" if others else f"{chords} {said[0].strip()}"


def _counted(text: str, is_chords: IsChords) -> str:
    label = _COUNTED_NAME.match(text) if ":" in text[:_LONGEST_NAME] else None
    times = times_of(label["said"] or label["times"]) if label is not None else 1
    if label is None or times < 2 or is_known_name(label["name"]):
        return ""
    name, row = f"{label['name']}:".ljust(label.end()), text[label.end() :].rstrip()
    return f"{name}{row}  (x{times})" if is_chords(row) else ""


def without_labels(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines without the words that call others chords or words, below names of sections and
    below rows of chords, and with what others say of chords behind these."""
    lines = [_with_words_behind(line, is_chords) for line in lines]
    lines = without_chord_labels(lines, is_chords)
    begin = next((at for at, line in enumerate(lines) if is_chords(line.text)), len(lines))
    labelled = {
        at: match.end()
        for at in range(begin + 1, len(lines))
        if _SIGNS_OF_LABELS.search(text := lines[at].text[:_LONGEST_NAME]) is not None
        if (match := _LABEL_OF_WORDS.match(text)) is not None
    }
    under = {at for at in labelled if is_chords(lines[at - 1].text)}
    under |= {at for at in labelled if under and heading_of(lines[at - 1].text) is not None}
    result: list[Line] = []
    for at, line in enumerate(lines):
        if at not in under or names_people(line.text[labelled[at] :].strip()):
            result.append(line)
        elif line.text[labelled[at] :].strip():
            result.append(_without_label(line, labelled[at], lines[at - 1].text))
    return result


def _without_label(line: Line, end: int, above: str) -> Line:
    """A line of words without the label before them: under chords that begin behind the label the
    words keep their columns."""
    if above[:end].strip():
        return replace(line, text=line.text[end:], columns=None)
    return replace(line, text=" " * end + line.text[end:])


def without_chord_labels(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, those of chords behind a word for them without it, below names of sections; and
    what such a word says of another section's chords in parentheses ("Chords: same as verse 1").

    A line right above such a line is a name too, where others are.  One such line over the whole
    song is a list of its chords and stays.
    """
    labelled = {
        at: match.end()
        for at, line in enumerate(lines)
        if ":" in line.text[:20] or " - " in line.text[:20] or "=" in line.text[:20]
        if len(line.text) <= _LONGEST and (match := _LABEL.match(line.text)) is not None
    }
    named = {at for at in labelled if at and heading_of(lines[at - 1].text) is not None}
    if len(named) < _FEWEST and len(named) < len(labelled):
        return list(lines)
    result = list(lines)
    habit = len(named) >= _FEWEST
    for at in labelled if habit else named:
        name = text_at(lines, at - 1).strip()
        apart = at > 1 and not lines[at - 2].text.strip() and len(name) <= _LONGEST_NAME
        if habit and apart and at not in named and _NAME.fullmatch(name) is not None:
            result[at - 1] = replace(lines[at - 1], text=f"== {name.rstrip(':')}", columns=None)
        rest = lines[at].text[labelled[at] :].strip()
        bare = _COUNT_BEHIND.sub("", rest)
        if is_chords(bare) or is_chords(bare.strip("()[]")):
            result[at] = replace(lines[at], text=rest, columns=None)
        elif section_meant(bare.strip(" .()")) or AS_BEFORE.fullmatch(bare.strip(" .()")):
            result[at] = replace(lines[at], text=f"({rest.strip('()')})", columns=None)
    return result
