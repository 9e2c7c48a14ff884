"""Reads sentences that say in what order sections are played: "A twice, B, then a solo on A, B
again, and end on D".

Each clause is a section or several, all of them, those from one to the end, a solo over one, or
the chord on which the song ends; what it says more is a count or a remark.  A sentence with any
other clause is no order.  ``order_words.py`` has the words.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.song_form.clauses import clauses_in
from chartkit.interchange.text.song_form.said_of_times import LONGEST_SAID
from chartkit.interchange.text.song_form.sentence_reader import SentenceReader
from chartkit.interchange.text.song_form.steps import SaidOrder
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.order_words import (
    AFTER_EACH,
    LEADS_BACK,
    LEADS_ON,
    SAYS_ORDER,
    endings_from,
)

_MOST_CLAUSES, _MOST_STEPS = 16, 60
_FEWEST_STEPS = 2
_PARTED = re.compile(r"(?:.*?\s[-–—+&>/|·•]+\s){2}")
_FEWEST_SIGNS = 2
"""So many signs part the names of a list of three."""


def said_order(
    text: str,
    written: Sequence[tuple[str, int]],
    is_chords: IsChords,
    ordered: bool = False,
    above: int = 0,
) -> SaidOrder | None:
    """The order that a sentence says; None for any other text.

    ``written`` are the names of the sections on the sheet, each with how often it is played there,
    of which so many stand ``above`` the sentence.  ``ordered`` says that a label before the text
    calls it an order.
    """
    if not 0 < len(text) <= LONGEST_SAID:
        return None
    back = LEADS_BACK.search(text) is not None
    says = any(one.search(text) is not None for one in (SAYS_ORDER, AFTER_EACH))
    says = says or ordered or back
    if not says and text.count(",") < _FEWEST_SIGNS and _PARTED.search(text) is None:
        return None
    reader = SentenceReader(written, is_chords)
    reader.text, reader.ordered = text, ordered
    clauses = clauses_in(text.strip(" .!()"))
    if ordered:
        clauses = [part for clause in clauses for part in reader.around_solo(clause)]
    reader.whole = range(above or len(written))
    if not 0 < len(clauses) <= _MOST_CLAUSES or not all(map(reader.read, clauses)):
        return None
    if len(clauses) < _FEWEST_STEPS and not (back or reader.begins_again):
        return None
    known = sum(one.at >= 0 or bool(one.like) for one in reader.steps)
    if not known or not _FEWEST_STEPS <= len(reader.steps) <= _MOST_STEPS:
        return None
    first, *others = reader.steps
    goes_on = reader.begins_again or LEADS_ON.match(text) is not None
    goes_on |= reader.asks_again and first.at > 0  # "Chorus 2x, then verse 1 once more"
    said = ", ".join(filter(None, (reader.of_all, first.remark)))
    order = SaidOrder((replace(first, remark=said), *others), goes_on)
    return order if says or names_all(order, [name for name, _ in written]) else None


def names_all(order: SaidOrder, names: Sequence[str]) -> bool:
    """Whether an order is that of the whole song, whose sections have these names; those that end
    it may go without saying."""
    return any(map(order.is_whole, {len(names), endings_from(names)}))
