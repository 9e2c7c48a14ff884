"""Removes the word "Chords" before a row of chords below a section's name.

Source of the form: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.form_words import (
    AS_BEFORE,
    WORDS_FOR_CHORDS,
    section_meant,
)

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
