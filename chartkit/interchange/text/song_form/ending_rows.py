"""Lines that end a song on several chords ("Finish on A -> E -> A, softly", "Out: A Am E"), or
on one with a name of the end before it ("Loppu Em (pitkä)").

Source of the forms: common practice, no source.
"""

import re

from chartkit.interchange.text.quick_looks import BeginsWithWord
from chartkit.interchange.text.song_form.steps import Step
from chartkit.interchange.text.tokens import WORDS_TOO, IsChords
from chartkit.interchange.text.vocabulary.ends_on import PREPOSITIONS

_WORDS = (
    r"(?P<name>finish|out|end|ending|outro|finale|final|fine|fin|schluss|ende|ausklang|slot|slut|slutt|"
    r"cierre|remate|chiusura|koniec|konec|závěr|loppu|lopetus|fim|einde|"
    r"(?:final|last|end) chords?|schlussakkorde|schlussakkord|slotakkoord|slutackord)"
)
_BEGINS = BeginsWithWord(
    rf"\s*(?:[*•·–—-]+\s+)?(?:(?:and|then|und|dann|et|puis|y|luego|e|poi|en|dan|och|og)\s+)?{_WORDS}"
    rf"(?:(?P<sign>\s*(?:[:=]|\s[-–—])\s*)|\s+)(?P<on>(?:{PREPOSITIONS})\s+)?(?=\(?[A-H])",
)
_CHORD = re.compile(r"[A-H][^\s,;()→>]*")
_BETWEEN = re.compile(
    r"\s*(?:-+>|=+>|→|⇒|[-–—]|,|;)\s*(?:(?:and|then|und|dann|et|puis|y|e|en|och|og)\s+)?|"
    r"\s+(?:and|then|und|dann|et|puis|y|e|en|och|og)\s+|\s+"
)
_SAID = re.compile(r"(?:\s*[,;(–—-]\s*|\s+)(?P<said>[^\W\d][^|]{1,60}?)\)?[.!]*\s*")
_MORE = re.compile(r"\d|\b(?:ends?|last|times?|twice)\b", re.IGNORECASE)
"""Counts and other endings, which other readers know."""
_VERBS = frozenset(["finish", "out"])
"""What is said of one chord alone is read elsewhere."""
_LONGEST, _FEWEST = 100, 2


def ending_row(text: str, is_chords: IsChords) -> tuple[Step, ...]:
    """The step of a line that names the chords on which a song ends; none for any other line."""
    match = _BEGINS.match(text) if len(text) <= _LONGEST else None
    if match is None:
        return ()
    chords: list[str] = []
    at = match.end()
    end = at
    while (chord := _CHORD.match(text, at)) is not None and is_chords(chord[0].rstrip(".!")):
        chords.append(chord[0].rstrip(".!"))
        end = chord.end()
        between = _BETWEEN.match(text, end)
        if between is None:
            break
        at = between.end()
    rest = text[end:].strip(" .!")
    said = _SAID.fullmatch(text[end:]) if rest else None
    apart = bool(match["sign"]) or text[end:].lstrip()[:1] in ("(", ",")
    named = match["on"] is None and match["name"].casefold() not in _VERBS
    alone = bool(chords) and named and (apart or chords[0] not in WORDS_TOO)
    sure = len(chords) >= _FEWEST or alone
    if not sure or (rest and said is None) or (said and _MORE.search(said["said"])):
        return ()
    remarks = (f" ({said['said'].strip()})",) if said is not None else ("",)
    return (Step(match["name"], match.start("name"), 1, "", " ".join(chords) + remarks[0], ()),)
