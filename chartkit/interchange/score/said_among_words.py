"""What is said to players or singers, typed among the words to be sung: "(x2)", "(All:)", "D.C.".

A word in brackets may be sung by others, "(ooh)", so only what says how the song goes on, how
often, or who sings, is taken out.  Common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.marks import Mark
from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.instructions import names_section
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.marks_in_words import mark_and_words, mark_of
from chartkit.interchange.score.events import Measure, PlayerInstruction, SungSyllable

_MAY_BE = re.compile(r"[(\[]|[dD]\.|\d\s?[xX×]|[xX×]\s?\d")
"""What is in all that may be said; most words need not be looked at any further."""
_INSIDE = re.compile(r"\s*(?:\((?P<round>[^()]{1,40})\)|\[(?P<square>[^\[\]]{1,40})\]):?\s*")
_COUNT = CompiledLater(
    r"(?:(?:play|sing|repeat)\s+)?(?:[x×]\s?\d{1,2}|\d{1,2}\s?(?:[x×]|times))\.?"
)
_JUMP = CompiledLater(r"d\.\s?[cs]\..{0,40}")
_LEADS_ON = CompiledLater(
    r"(?:(?:go|back|on)\s+)?(?:to|zu|zur|zum|au|al|a)\s+(?:the\s+)?(?P<to>.+)"
)
_SAID = CompiledLater(
    r"(?:repeat|repeats|bis|ter|spoken|gesprochen|parlé|hablado|recitato|whisper(?:ed)?|"
    r"shout(?:ed)?|claps?|clapping|rit\.?|ritard\.?|rall\.?|tacet|a\s+cappella|ad\s+lib\.?|"
    r"last\s+time|(?:1st|2nd|3rd|first|second)\s+time(?:\s+only)?|both\s+times)"
)
_WHO = CompiledLater(
    r"(?:all|everybody|everyone|both|tutti|alle|tous|todos|tutte|solo|soli|girls|boys|men|women|"
    r"ladies|gents|leader|choir|group|band|audience|kids|children|backing|high|low)"
    r"(?:\s+(?:voices|singers|sing|only))?"
)
"""Who sings, where a colon or square brackets say that it is no echo."""


def without_said_words(measures: Sequence[Measure], findings: Findings) -> tuple[Measure, ...]:
    """The measures with what is said among their words in the place of these: marks, or words to
    the players."""
    return tuple(
        _parted(measure, findings)
        if _MAY_BE.search(" ".join([one.text for one in measure.sung]))
        else measure
        for measure in measures
    )


def _parted(measure: Measure, findings: Findings) -> Measure:
    said = [one for one in measure.sung if _MAY_BE.search(one.text) and _is_said(one)]
    if not said:
        return measure
    marks, words = list(measure.marks), list(measure.instructions)
    for onset, text in dict.fromkeys((one.onset, _bare(one.text)) for one in said):
        mark, rest = _meaning(text)
        if mark is not None and all(mark.kind != other.kind for other in marks):
            marks.append(replace(mark, onset=onset) if mark.place == "beat" else mark)
        if rest:
            words.append(PlayerInstruction(onset, rest))
        findings.guess(
            "said-among-words",
            f'"{text}" among the words to be sung is said to the players',
            f"measure {measure.number}",
        )
    return measure._replace(
        sung=tuple(one for one in measure.sung if one not in said),
        marks=tuple(marks),
        instructions=tuple(sorted(words, key=lambda one: one.onset)),
    )


def _meaning(text: str) -> tuple[Mark | None, str]:
    """The mark that a text is, and the words that it is otherwise."""
    if (mark := mark_of(text)) is not None:
        return mark, ""
    beside = mark_and_words(text)
    return (None, text) if beside is None else (beside.mark, beside.words)


def _is_said(one: SungSyllable) -> bool:
    inside = _INSIDE.fullmatch(one.text)
    text = _bare(one.text)
    if inside is None:
        return _COUNT.fullmatch(text) is not None or _JUMP.fullmatch(text) is not None
    if names_section(text):
        return False
    if _COUNT.fullmatch(text) or _SAID.fullmatch(text):
        return True
    if _meaning(text)[0] is not None:
        return not text.islower() or bool(inside["square"])  # "(fine)" may be an echo
    leads = _LEADS_ON.fullmatch(text)
    if leads is not None and names_section(leads["to"]):
        return True
    sure = inside["square"] or one.text.rstrip(" )").endswith(":")
    return bool(sure) and _WHO.fullmatch(text) is not None


def _bare(text: str) -> str:
    """A text without the brackets around it and the colon behind it."""
    inside = _INSIDE.fullmatch(text)
    plain = text if inside is None else inside["round"] or inside["square"]
    return plain.strip(" :")
