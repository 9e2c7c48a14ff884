"""Finds the block of a head that has the title, if something else is named above it.

A handout names its circle, a lesson its class and a score its act in a block of their own over the
song's title.  Source: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence

from chartkit.interchange.text.head_words.before_titles import (
    is_numbered_title,
    may_name_a_group,
    names_a_group,
)
from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_labels import TITLE_LABEL, title_label, writer_of
from chartkit.interchange.text.head_words.titles import (
    QUOTES,
    could_be_title,
    title_of,
    without_ornaments,
)
from chartkit.interchange.text.vocabulary.facts import facts_of
from chartkit.interchange.text.vocabulary.farewells import is_weekday_in
from chartkit.interchange.text.vocabulary.writer_names import names_people

_A_PERSON = re.compile(r"[^\W\d_a-z][^\W\d_.’'-]*\.?(?:\s[^\W\d_a-z][^\W\d_.]*\.?){1,2}")
_QUOTED = re.compile(r"[\"“„«‹'‘].{2,60}[\"”“»›'’]")
_SAYS_MORE = re.compile(
    r"(?:for|from|as|a|an|with|by|arr|collected|gathered|noted|sung|heard|traditional|trad|after|in|"
    r"gesammelt|aufgezeichnet|recueillie?|recogida|raccolta|words|music|version|live|für|von|aus|pour|de|para|voor|till|från)"
    r"\b",
    re.IGNORECASE,
)
"""How lines begin that say something of the song named above them."""
_OF_A_PLACE = re.compile(
    r"\d|[,:«»]|\s[-–—]\s|\b(?:act|scene|lesson|book|circle|choir|chor)\b", re.I
)
"""Signs and words of a line that names a book, a lesson or a place in a show."""


def lines_over_title(texts: Sequence[str]) -> int:
    """How many lines of a head, by their texts, stand over the block with the title; 0 where the
    first block has it."""
    texts = [without_ornaments(text) for text in texts]
    if over := _over_group(texts) or _over_the_only_quoted(texts):
        return over
    labelled = next((at for at, text in enumerate(texts) if title_label(text)), 0)
    if any(map(could_be_title, texts[:labelled])):
        return labelled
    blocks = list(_blocks(texts))
    named = [(start, block) for start, block in blocks if any(map(could_be_title, block))]
    if len(named) < 2:
        return _over_quoted(texts)
    (_, first), (start, second) = named[0], named[1]
    title = next(filter(could_be_title, second))
    if any(map(_says_of_the_song, first)) or title is not second[0]:
        return 0
    if any(TITLE_LABEL.match(text) for text in first) or _QUOTED.fullmatch(first[0].strip()):
        return 0
    if TITLE_LABEL.match(title) or title_of(title) != title or _QUOTED.fullmatch(title):
        return start
    if ":" in title:
        return 0
    above = " ".join(first)
    person = _A_PERSON.fullmatch(title) is not None and not title.isupper()
    if first[0][:1].islower() and not title[:1].islower() and len(first) == 1:
        return start
    low = title[:1].islower() and not above.islower()
    if low or _SAYS_MORE.match(title) or (person and _OF_A_PLACE.search(above) is None):
        return 0
    return start


_GAP = re.compile(r"\s{2,}")
_FOR_A_GROUP = re.compile(
    r"\S\s+[-–—]+\s+(?:for|für|pour|para|per|voor|till|til|dla)\s", re.IGNORECASE
)
"""How a title has behind it for whom the copy is."""
_QUOTED_FIRST = re.compile(r"[\"“„«][^\"“”„«»]{2,60}[\"”“»]\s*(?:$|[(\[,–—-])")
_OF_A_COURSE = re.compile(
    r"\b(?:lessons?|lektion|leçon|lección|lezione|les|week|woche|unit|tunes|songs|lieder|chansons|canciones|"
    r"canzoni|beginners|anfänger|débutants|principiantes|workshop|kurs|course)\b",
    re.IGNORECASE,
)
"""How a line over a title in quotes speaks of the course or the collection."""
_DATE = re.compile(r"\b\d{1,2}[./-]\d{1,2}\b")


def _over_group(texts: Sequence[str]) -> int:
    """How many lines stand over the title where the first names a group that plays, with its day
    or the like, or says where the song is from, or where only the second is in capitals or
    quotes; 0 elsewhere."""
    filled = [at for at, text in enumerate(texts) if text][:2]
    if len(filled) < 2:
        return 0
    first, second = (texts[at] for at in filled)
    if not could_be_title(second) or writer_of(second) or _says_of_the_song(first):
        return 0
    settings = bool(facts_of(_GAP.split(second)[0]))
    if settings or _FOR_A_GROUP.search(first) is not None:
        return 0
    if is_numbered_title(second) and not is_numbered_title(first) and filled[1] == filled[0] + 1:
        return filled[1]  # "The Loose Ropes" over "Song 7: The Cook"
    if first[:1].islower() and _SAYS_MORE.match(first) and not second[:1].islower():
        return filled[1]  # "from Gwen, Tuesday practice" over the title
    plain = second.isupper() or _QUOTED.fullmatch(second) is not None
    set_off = plain and not first.isupper() and may_name_a_group(first)
    set_off |= _QUOTED_FIRST.match(second) is not None and _OF_A_COURSE.search(first) is not None
    day = is_weekday_in(first) or _DATE.search(first) is not None
    apart = names_a_group(first) and (plain or day or not names_people(second))
    return filled[1] if set_off or apart else 0


def _blocks(texts: Sequence[str]) -> Iterator[tuple[int, list[str]]]:
    """The lines between blanks, each with the place of its first."""
    start, block = 0, list[str]()
    for at, text in enumerate((*texts, "")):
        if text:
            start = start if block else at
            block.append(text)
        elif block:
            yield start, block
            block = []


def _says_of_the_song(text: str) -> bool:
    """Whether a line is a setting or the writer of a song."""
    return bool(facts_of(text) or head_facts(text).facts or writer_of(text))


def _over_the_only_quoted(texts: Sequence[str]) -> int:
    """How many lines stand over the only one that is all in quotes, where it is in another block
    than the first and none above it names a song; 0 elsewhere."""
    quoted = [at for at, text in enumerate(texts) if _QUOTED.fullmatch(text)]
    at = quoted[0] if len(quoted) == 1 else 0
    above = texts[:at]
    if not at or not could_be_title(texts[at]) or "" not in "\n".join(above).strip().split("\n"):
        return 0
    own = any(_says_of_the_song(text) or title_label(text) for text in above)
    set_off = any(text.isupper() or any(sign in text for sign in QUOTES.strip()) for text in above)
    return 0 if own or set_off else at


def _over_quoted(texts: Sequence[str]) -> int:
    """1 where the first line has a title in quotes alone right below it."""
    if len(texts) < 2 or not _QUOTED.fullmatch(texts[1]) or not could_be_title(texts[0]):
        return 0
    own = any(sign in texts[0] for sign in QUOTES.strip())
    return 0 if own or _says_of_the_song(texts[0]) else 1
