"""Where the capo sits: told by staff details, or by words over the first music."""

from collections.abc import Iterable
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.events import Part
from chartkit.interchange.sheet.facts import facts_of
from chartkit.interchange.taken import Findings
from chartkit.interchange.wording import one_line


def capo_in_words(text: str) -> int:
    """The capo that words are all about, such as "Capo 3"; 0 for any other words."""
    found = facts_of(text)
    fret = found[0].value if len(found) == 1 and found[0].name == "capo" else 0
    return fret if isinstance(fret, int) else 0


def capo_of_score(root: Element, parts: Iterable[Part], findings: Findings) -> int:
    """The capo of the first part that has one in its staff details, else the first in words.

    Words are a guess: they do not say whether the chords under them are shapes, and here they
    are what sounds, as everywhere in a score.
    """
    told = tuple(parts)
    sure = next((part.capo for part in told if part.capo), 0)
    if sure:
        for said in dict.fromkeys(part.capo_words for part in told if part.capo_words):
            if capo_in_words(said) != sure:
                findings.leave_out("other-capo", f'the words "{said[:40]}": the staff says {sure}')
        return sure
    words = [part.capo_words for part in told]
    words += [one_line(credit.text) for credit in root.iterfind("credit/credit-words")]
    for said in words:
        if capo := capo_in_words(said):
            findings.guess(
                "capo-by-words",
                f'the words "{said[:40]}" are taken as the capo, and the chords as what sounds',
            )
            return capo
    return 0
