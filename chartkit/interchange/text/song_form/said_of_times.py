"""Lines that say how one of the times of a section is played ("last B ritard"), or how often each
section is ("each part twice")."""

from collections.abc import Iterable, Sequence

from chartkit.interchange.text.song_form.roadmap import names_in
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.order_words import (
    COUNT_OF_ALL,
    may_say_time_behind,
    time_behind,
    which_time,
)
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.times_played import AGAIN_FIRST, times_of

LONGEST_SAID = 240
"""The longest sentence that is looked at, in letters."""
MOST_WORDS_OF_NAMES = 12


def count_of_all(text: str) -> int:
    """How often each section is played by a line that says it once for all ("each part twice"); 0
    for any other line."""
    match = COUNT_OF_ALL.fullmatch(text.strip(" .!()")) if len(text) <= LONGEST_SAID else None
    return times_of(match["times"].strip()) if match is not None else 0


def said_of_one(text: str, written: Sequence[str], sure: bool = False) -> int | None:
    """The one of the sections of a name of which a line says how that time is played ("last B
    ritard", "B first time claps only"), by its place among the ``written``, or the nearest if it
    is not written so often; None for any other line.  ``sure`` says that nobody sings it."""
    text = text.strip(" .!()") if len(text) <= LONGEST_SAID else ""
    words = text.split()
    keys = [section_key(one) for one in written]
    named = which_time(text)
    if named is None and not may_say_time_behind(text):
        return None
    if is_called_so(text, written):
        return None  # "1st Chorus, organ only": it is that section
    for end in range(min(len(words) - 1, MOST_WORDS_OF_NAMES), 0, -1):
        if named is not None:
            which, words = named[0], named[1].split()
            name, said = " ".join(words[:end]), " ".join(words[end:])
        else:
            name = " ".join(words[:end])
            behind = time_behind(text[len(name) :])
            which, said = behind if behind is not None else (0, "")
        stops = names_in(name.strip(" ,:;-–—"), keys, written) if said else ()
        said = said.strip(" ,:;-–—")
        if AGAIN_FIRST.match(said) is not None:
            return None  # "2nd Chorus again, louder": it is played once more
        counted = named is None or sure or name.endswith(":") or is_direction(said)
        if which and len(stops) == 1 and said and counted:
            places = [at for at, key in enumerate(keys) if key == stops[0].key]
            places = places or [at for at, key in enumerate(keys) if key[0] == stops[0].key[0]]
            return places[-1] if which < 0 else places[min(which, len(places)) - 1]
    return None


def is_called_so(text: str, names: Iterable[str]) -> bool:
    """Whether a text begins with one of some names that count their sections ("1st Chorus")."""
    named = which_time(text)
    if named is None or named[0] < 0:
        return False
    begun = (one for one in names if text.casefold().startswith(one.casefold()))
    return any(which_time(f"{one} again") is not None for one in begun)
