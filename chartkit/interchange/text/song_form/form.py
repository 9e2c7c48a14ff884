"""Lines of form: which sections come next, how often, with which chords, played how.

"Chorus 2x, soft", "Rep V1, end: A7 Bb7 A7 (stop!)" and "END on C -> G (ritard)" are steps through
the song and never words.  A line is cut into clauses; each is a section's name, a number of times,
chords, another section whose music is played, or a direction.  Words of a song that begin with a
section's name ("Bridge is burning, end is near") have too many words that are none of these.
"""

import re
from collections.abc import Iterator

from chartkit.interchange.text.quick_looks import has_any, same_word, words_in
from chartkit.interchange.text.song_form.solos import player_and_bars, player_over, solo_over
from chartkit.interchange.text.song_form.step_reader import StepReader
from chartkit.interchange.text.song_form.steps import KnownNames, Step
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.form_words import (
    AGAIN_AS,
    AGAIN_CUT_SHORT,
    APART,
    BEFORE_OTHER_NAME,
    FINISH,
    LEADING_LABEL,
    LONGEST_FORM,
    OF_FINISH,
)
from chartkit.interchange.text.vocabulary.section_names import section_key

_OF_THE_FORM = re.compile(
    r"\s*(?:song\s+)?(?:form|order|structure|arrangement|routine|ablauf|aufbau|estructura|structure|"
    r"struttura|volgorde|roadmap|road map|forma|forme|vorm|orden|ordre|ordine|ordning|reihenfolge|"
    r"estrutura|sequence)(?:\s*(?::|=|\s[-–—])\s*\S|"
    r"\s+(?=(?:[A-H]\d?[\s,]+){2}[A-H]\b)).*",
    re.IGNORECASE,
)
_PARTS_A_LABEL = re.compile("[:=–—-]")


def is_plan(text: str) -> bool:
    """Whether a line gives the form of the whole song by its name ("Form: A A B A")."""
    parted = _PARTS_A_LABEL.search(text) is not None
    return parted and len(text) <= LONGEST_FORM and _OF_THE_FORM.fullmatch(text) is not None


def steps_of(
    text: str,
    reads_as_chords: IsChords,
    sure: bool = False,
    known: KnownNames | None = None,
) -> tuple[Step, ...]:
    """The steps that a line of form names; none for any other line.

    ``reads_as_chords`` says whether a text is a row of chords.  ``sure`` is for what cannot be
    words, such as a text in brackets.  ``known`` are the names of sections above.
    """
    if len(text) > LONGEST_FORM or not any(map(str.isalpha, text)):
        return ()
    if has_any(same_word(text), OF_FINISH):
        ends = FINISH.match(text)
        sure = sure or (ends is not None and ends[2] is not None)
        text = FINISH.sub(_end_named, AGAIN_CUT_SHORT.sub(r"\1 ", text))
    elif "." in text:
        text = AGAIN_CUT_SHORT.sub(r"\1 ", text)
    known = known or KnownNames()
    if (step := player_over(text, known) or player_and_bars(text, known)) is not None:
        return (step,)
    text = _with_lent_music(text, known)
    start = _label_end(text)
    reader = StepReader(text, reads_as_chords, known)
    reader.labelled = bool(text[:start].strip())
    for at, clause, sign in _clauses(text, start):
        reader.read(at, clause, sign)
        if not reader.steps and not reader.said_before:
            break
    steps = reader.result(sure)
    if not any(one.like or one.row for one in steps) and len(steps) < 2:
        solo = solo_over(text, known)
        return (solo,) if solo is not None else steps
    return steps


def _end_named(match: re.Match[str]) -> str:
    """What says that the song ends, as the name of its end."""
    return f"{match[1] or match[2] or match[3] or ''}End"


def _with_lent_music(text: str, known: KnownNames) -> str:
    """A text that begins with "intro again as outro" as "outro = intro", and so one with "outro as
    intro" where the intro is known."""
    match = AGAIN_AS.match(text) if not BEFORE_OTHER_NAME.isdisjoint(words_in(text)) else None
    if match is None:
        return text
    name, other = match["name"].strip(), match["other"].strip()
    if not all(map(known.all.is_full, (name, other))):
        return text
    if section_key(other)[0] not in known.kinds and section_key(name)[0] in known.kinds:
        name, other = other, name
    return f"{name} = {other}{text[match.end() :]}"


def _label_end(text: str) -> int:
    match = LEADING_LABEL.match(text)
    return match.end() if match is not None else len(text) - len(text.lstrip())


def _clauses(text: str, start: int) -> Iterator[tuple[int, str, str]]:
    """The clauses of a line, each with its place and the sign before it."""
    sign, at = "", start
    for match in (*APART.finditer(text, start), None):
        end = match.start() if match is not None else len(text)
        clause = text[at:end]
        if clause.strip():
            yield at + len(clause) - len(clause.lstrip()), clause.strip(), sign
        if match is not None:
            sign, at = match[0].strip()[:2].strip() or sign, match.end()
