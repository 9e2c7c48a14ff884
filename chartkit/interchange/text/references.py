"""What is said of one section by the name of another ("harmonia da Parte A", "over the head, then
trade fours"): the music that a section without its own has, whatever the other words are.

Source of the words that say when, not what: common practice, no source.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.text.section_names import (
    SUNG_OR_SAID,
    full_name_at,
    is_known_name,
    may_name_a_section,
    section_key,
)

_LONGEST = 120
_MOST_NAMES = 200
_WORD = re.compile(r"[^\W_]+(?:['’](?=[^\W\d_]))?")
_WHEN_IN_WORDS = """
after before into until till unlike without no not than instead towards toward leading leads bis
nach vor ohne zum zur statt après avant jusque jusqu sans vers después antes hasta sin hacia
depois até sem para dopo fino senza verso tot na voor zonder naar efter före innan till utan før
til uten uden po przed do bez then to dann puis luego poi daarna sedan
"""
_WHEN = frozenset(_WHEN_IN_WORDS.split())
"""Words before a section's name that say when, and not whose music."""
_BETWEEN_IN_WORDS = """
the a an this that each every last first final second next and der die das den dem des letzten
ersten el la los las lo al del le les l d du de un une o os as à il lo gli i un uno una het een
den det
"""
_BETWEEN = frozenset(_BETWEEN_IN_WORDS.split())
"""Words that may stand between such a word and the name."""
_WHOSE_IN_WORDS = """
same like as over on chords changes harmony melody music tune form pattern progression uses repeat
gleich gleiche gleichen wie über akkorde harmonie harmonien harmonia harmonía armonia acordes
accords accordi akkoorden ackord akkorder akordy como igual sobre comme même mêmes sur come stesso
stessa stessi sopra sui zelfde als over op som samma samme över jak jako base
"""
_WHOSE = frozenset(_WHOSE_IN_WORDS.split())
"""Words that say whose music is played."""


def section_named_in(text: str, names: Sequence[str]) -> str:
    """The first of some earlier sections that a text names; empty where it names none, or only
    says when something is played ("after the bridge")."""
    if not names or len(text) > _LONGEST:
        return ""
    words = [(match.start(), match[0].casefold().strip("'’")) for match in _WORD.finditer(text)]
    for at, (start, word) in enumerate(words):
        name = _name_at(text, start, names)
        if name and not (word in SUNG_OR_SAID and not _says_whose(words, at)):
            return "" if _says_when(words, at) else name
    return ""


def says_whose(text: str) -> bool:
    """Whether a text has a word that says whose music is played."""
    return any(word.casefold() in _WHOSE for word in _WORD.findall(text))


def _name_at(text: str, start: int, names: Sequence[str]) -> str:
    """The earlier section whose name stands at a place of a text."""
    here = text[start:].casefold()
    for name in sorted({*names[:_MOST_NAMES]}, key=len, reverse=True):
        whole = name.casefold()
        if len(whole) > 1 and here.startswith(whole) and not here[len(whole) :][:1].isalnum():
            return name
    end = full_name_at(text, start) if may_name_a_section(text[start:]) else start
    called = text[start:end].strip()
    key = section_key(called) if called else ("", "")
    alike = [name for name in names if section_key(name)[0] == key[0]] if called else []
    if not alike or not is_known_name(called):
        return ""
    numbered = [name for name in alike if section_key(name)[1] == key[1]]
    return numbered[0] if numbered else alike[0]


def _says_when(words: Sequence[tuple[int, str]], at: int) -> bool:
    """Whether the word before a name, but for articles, says when."""
    before = [word for _, word in words[:at]]
    while before and before[-1] in _BETWEEN:
        before.pop()
    return bool(before) and before[-1] in _WHEN


def _says_whose(words: Sequence[tuple[int, str]], at: int) -> bool:
    return any(word in _WHOSE for place, (_, word) in enumerate(words) if place != at)
