"""How much a line sounds as if said to the players, by its words alone.

``said_words.txt`` has a weight for each word, for how words begin, for some words at the start of a
line, for signs and lengths, and for a chord that is named among words: the logarithm of the odds
that a line which has it is said and not sung.  Source: our own invented sheets and lines, from
which ``tests/interchange/said_table.py`` learns it.
"""

import re
from functools import lru_cache
from pathlib import Path

from chartkit.interchange.text.learnt_weights import weights_in
from chartkit.interchange.text.quick_looks import MOST_LINES_KEPT
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.section_names import is_known_name

_TABLE = Path(__file__).with_name("said_words.txt")
_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)*|\d+")
TO_SOMEBODY = re.compile(r"[^\W\d_]+(?: [^\W\d_]+)?:\s+(?=\S)")
"""How a line begins that names a player and says what to do ("horns: long notes")."""
_NUMBER = re.compile(r"^\d{1,2}[.)]\s+")
"""The number of a verse."""
_PLAIN_WORDS = re.compile(r"(?:(?![A-Z](?!\w))[^\W\d_'’]+(?:['’][^\W\d_]+)?(?:\s+|$)){2,}")
_AROUND = "()[]{}*-–—>→ \t"
_LONGEST, _MOST_WORDS, _LONGEST_WORD = 160, 24, 14
_LONG = 9
_MOST_WORDS_KEPT = 8_192
_STEM = 4
"""So many letters of a longer word tell what its other forms tell too ("Trommeln", "Trommler")."""
_BEGINS_LATE = re.compile(r" [A-HLMRS]")
"""The blank and the capital letter with which both patterns below begin."""
_CHORD_NAMED = re.compile(
    r"(?<=[a-zà-öø-ž]{2} |[a-zà-öø-ž][,:] )"
    r"(?:[A-H](?:[#b♯♭]|is|es)?(?:m|min|maj)?\d{0,2}(?:sus\d|dim|add9)?|"
    r"(?:Do|R[eé]|Mi|Fa|Sol|La|Si)(?:[mM#b])?7?)(?=$|[\s,.;:!)])"
)
"""A chord in capitals behind a word in small letters ("end on Em", "fin sur Ré")."""
_CHORD_SHOUTED = re.compile(
    r"(?<=[A-ZÀ-ÖØ-Þ]{2} )(?:[B-H][#b]?|[A-H](?:m7?|7|5|b|#))(?=$|[\s,.;:!)])"
)
"""A chord among words in capitals; "A" is a word there."""
_SMALL_LETTERS = re.compile(r"[a-zà-öø-ž]{2}")
SUREST = 5.0
"""No line is surer than this."""
_SIGNS = {
    "<,>": ",",
    "<->": " - ",
    "</>": "/",
    "<&>": "&",
    "<?>": "?",
    '<">': '"',
}


FEWEST_TO_TELL, SHORT = 3, 1.5
"""What lines of fewer words lose (ours): those the table has learnt from are seldom sung."""


def features_of(text: str) -> set[str]:
    """What the table may have weights for, in a line: its words, how they begin, the first one, its
    signs, its length, and whether it names a chord."""
    bare = text.strip(_AROUND)[:_LONGEST].replace("’", "'")
    plain = bare.casefold()
    if plain[:1].isdecimal():
        plain = _NUMBER.sub("", plain, count=1)
    words = _WORD.findall(plain)[:_MOST_WORDS]
    found = set[str]().union(*map(_forms_of, words))
    if words:
        found.add(f"^{words[0][:_LONGEST_WORD]}")
    found.add(f"<{min(len(words), _LONG)}>")
    for name, sign in _SIGNS.items():
        if sign in plain:
            found.add(name)
    if plain.endswith((".", "!")) and not plain.endswith(".."):
        found.add(f"<{plain[-1]}>")
    if ":" in plain and TO_SOMEBODY.match(plain) is not None:
        found.add("<:>")
    if _names_a_chord(bare):
        found.add("<chord>")
    return found


@lru_cache(maxsize=_MOST_WORDS_KEPT)
def _forms_of(word: str) -> tuple[str, ...]:
    """The forms under which the table may have a word, and how it begins."""
    form = "0" if word.isdecimal() else word[:_LONGEST_WORD]
    return (form, f"{word[:_STEM]}~") if len(word) > _STEM else (form,)


def _names_a_chord(text: str) -> bool:
    """Whether a line of words names a chord."""
    if _BEGINS_LATE.search(text) is None:
        return False
    named = _CHORD_NAMED if _SMALL_LETTERS.search(text) is not None else _CHORD_SHOUTED
    return named.search(text) is not None


def is_listed(word: str) -> bool:
    """Whether the table knows a word in small letters: it was sung or said somewhere."""
    weights = weights_in(_TABLE)
    return word in weights or f"^{word}" in weights


def sung_weight(word: str) -> float:
    """How much a word in small letters speaks for a line that is sung, anywhere or as the first
    one; 0 for a word that the table has not."""
    weights = weights_in(_TABLE)
    return max(-weights.get(word, 0.0), -weights.get(f"^{word}", 0.0), 0.0)


def begins_lines(word: str) -> bool:
    """Whether the table knows a word in small letters as the first one of a line."""
    return f"^{word}" in weights_in(_TABLE)


@lru_cache(maxsize=MOST_LINES_KEPT)  # each line is asked for from several sides
def sounds_said(text: str) -> float:
    """The logarithm of the odds that a line is said and not sung, as far as its words tell: 0 for
    even odds, no more than 5 either way.  One or two words tell less: "hold on" is sung as
    often."""
    weights = weights_in(_TABLE)
    known = sorted([one for one in features_of(text) if one in weights])  # one order, one sum
    total = weights[""] + sum([weights[one] for one in known])
    total -= SHORT * (len(text.split()) < FEWEST_TO_TELL)
    return max(-SUREST, min(SUREST, total))


def may_be_said(text: str) -> bool:
    """Whether words beside what is surely said, such as the name of a section that is asked for
    again, are said too: they are words to the players, or words without signs, figures, single
    capital letters and names of sections, which sound at least as much said as sung."""
    if is_direction(text):
        return True
    plain = _PLAIN_WORDS.fullmatch(text) is not None and not any(map(is_known_name, text.split()))
    return plain and sounds_said(text) >= 0.0
