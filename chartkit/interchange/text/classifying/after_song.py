"""Lines under the last section that do not belong to the song: a farewell and a name, a telephone
number, a copyright line, the foot of a page.

Source of the words: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from chartkit.chart.section_words import SUNG_KINDS
from chartkit.interchange.text.classifying.said_below import (
    CLOCK,
    FOOT,
    LONGEST,
    is_for_players_here,
    is_for_the_band,
    is_only_talk,
    plays,
)
from chartkit.interchange.text.classifying.sung_below import sung_below
from chartkit.interchange.text.kinds.line_kinds import (
    MUSIC,
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Letter,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Words,
)
from chartkit.interchange.text.rows.lyrics import VERSE
from chartkit.interchange.text.vocabulary.directions import (
    is_direction,
    is_greeting,
    is_talk,
    is_term,
    speaks_of_music,
    tells_who_plays,
)
from chartkit.interchange.text.vocabulary.farewells import is_label_of_notes
from chartkit.interchange.text.vocabulary.section_names import section_key

_FEWEST_SUNG = 2
_MOST_LINES, _MOST_WORDS = 6, 3
"""Farewells and names are few and short; a verse has longer lines (ours)."""


def without_end_matter(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, with those after the song set apart: as notes what is of a page's foot, as part
    of a letter the rest."""
    known = _without_last_talk(_without_asides(_without_words_below_order(known)))
    known = _without_talk_under_a_name(_without_notes_below(known))
    last = _last_of_music(known)
    below = _end_of_block(known, last) if last >= 0 else len(known)
    after = [at for at in range(below, len(known)) if not isinstance(known[at].kind, Blank)]
    if last < 0 or not after:
        return known
    known = list(known)
    words = [at for at in after if isinstance(known[at].kind, Words)]
    texts = [known[at].line.text.strip() for at in words]
    letter = bool(words) and _is_end_matter(known, last, words, texts)
    for at, text in zip(words, texts, strict=True):
        if is_term(text) or is_direction(text) or tells_who_plays(text):
            continue
        if FOOT.search(text) is not None and (letter or _is_apart(known, at)):
            known[at] = replace(known[at], kind=Note())
        elif letter and (speaks_of_music(text) or is_for_the_band(text)):
            known[at] = replace(known[at], kind=Remark(text))
        elif letter:
            known[at] = replace(known[at], kind=Letter())
    return known


def _without_words_below_order(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, words below an order of the whole song that stands under all of it as part of a
    letter, or as remarks."""
    order = next((at for at, one in enumerate(known) if isinstance(one.kind, Roadmap)), 0)
    below = [at for at in range(order + 1, len(known)) if isinstance(known[at].kind, Words)]
    others = any(isinstance(one.kind, MUSIC) for one in known[order + 1 :])
    if not order or others or not 0 < len(below) <= _MOST_LINES:
        return known
    if below[0] == order + 1 or not _every_block_has_a_name(known[:order]):
        return known
    result = list(known)
    for at in below:
        text = known[at].line.text.strip()
        said = plays(text) or is_for_the_band(text)
        result[at] = replace(known[at], kind=Remark(text) if said else Letter())
    return result


def _last_of_music(known: Sequence[KnownLine]) -> int:
    """The last line that is of the music or names a section; -1 where none is."""
    backwards = range(len(known) - 1, -1, -1)
    return next((at for at in backwards if isinstance(known[at].kind, MUSIC)), -1)


def _without_last_talk(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, the last ones as part of a letter where they are talk in a sheet of a song without
    words: "see you at 5, load in is round the back"."""
    end = len(known)
    while end and isinstance(known[end - 1].kind, (Blank, Letter, Words, Remark)):
        text = known[end - 1].line.text.strip()
        if not isinstance(known[end - 1].kind, (Blank, Letter)) and not is_only_talk(text):
            break
        end -= 1
    music = [at for at, one in enumerate(known[:end]) if isinstance(one.kind, MUSIC)]
    song = known[music[0] : end] if music else ()
    if end == len(known) or not music or any(isinstance(one.kind, Words) for one in song):
        return known
    talk = [
        replace(one, kind=Letter()) if isinstance(one.kind, (Words, Remark)) else one
        for one in known[end:]
    ]
    return [*known[:end], *talk]


_POSTSCRIPT = re.compile(r"p{1,3}\.?\s?s\.?(?=[\s:,-])\W*\S", re.IGNORECASE)


def _without_notes_below(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, postscripts below the song and what stands under a label for notes as parts of a
    letter; what they say of the music as remarks."""
    last = _last_of_music(known)
    result = list(known)
    labelled = False
    for at in range(last + 1, len(known)) if last >= 0 else ():
        text = known[at].line.text.strip()
        if not isinstance(known[at].kind, (Words, Remark)) or len(text) > LONGEST:
            continue
        label = is_label_of_notes(text) and isinstance(known[at - 1].kind, Blank)
        if label or _POSTSCRIPT.match(text) is not None:
            labelled = labelled or label
            result[at] = replace(known[at], kind=Letter())
        elif labelled:
            bare = text.lstrip("•*-–— ")
            result[at] = replace(known[at], kind=Remark(bare) if plays(bare) else Letter())
    return result


def _without_asides(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, those in parentheses below all music as part of a letter where they are talk
    ("(sorry for the typos)")."""
    last = _last_of_music(known)
    return [
        replace(one, kind=Letter())
        if at > last >= 0 and isinstance(one.kind, Remark) and is_only_talk(one.line.text.strip())
        else one
        for at, one in enumerate(known)
    ]


_MOST_UNDER_A_NAME = 3
_WITH_CAPITALS = 0.9


def _without_talk_under_a_name(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, those right under the last name as parts of a letter or remarks where an earlier
    section has that name, so that its words are known, and these are no new ones: nothing is sung
    there, or they begin in small letters as no other line of words does, or name a time of day."""
    last = _last_of_music(known)
    start = known[last].kind if last >= 0 else None
    below = [at for at in range(last + 1, len(known)) if not isinstance(known[at].kind, Blank)]
    under = [at for at in below if isinstance(known[at].kind, Words)]
    if under[:1] != [last + 1] or under != below:
        return known
    if not isinstance(start, SectionStart) or start.with_chords:
        return known
    kind = section_key(start.name)[0]
    sung = _words_of_name(known[:last], section_key(start.name))
    sung = [] if sung is None and start.like and kind not in SUNG_KINDS else sung
    if sung is None or len(under) > _MOST_UNDER_A_NAME:
        return known
    words = [one.line.text.strip() for one in known[:last] if isinstance(one.kind, Words)][1:]
    capitals = sum(text[:1].isupper() for text in words) >= _WITH_CAPITALS * len(words) > 0
    texts = [known[at].line.text.strip() for at in under]
    small = capitals and all(text[:1].islower() for text in texts)
    again = any(text[:12].casefold() == one[:12].casefold() for text in texts for one in sung)
    played = not sung and kind not in SUNG_KINDS
    told = any(map(CLOCK.search, texts)) or all(map(is_only_talk, texts))
    if again or not (small or played or told):
        return known
    result = list(known)
    for at, text in zip(under, texts, strict=True):
        said = is_for_players_here(text)
        result[at] = replace(known[at], kind=Remark(text) if said else Letter())
    return result


def _words_of_name(known: Sequence[KnownLine], key: tuple[str, str]) -> list[str] | None:
    """The lines of words under the last section of a name that has some; None where no section has
    the name."""
    found: list[str] | None = None
    own: list[str] = []
    named = False
    for one in known:
        if isinstance(one.kind, SectionStart):
            own, named = [], section_key(one.kind.name) == key
            found = [] if named and found is None else found
        elif named and isinstance(one.kind, Words):
            own.append(one.line.text.strip())
            found = own
    return found


def _end_of_block(known: Sequence[KnownLine], last: int) -> int:
    """The end of the words that the last name asks for, or right under the last row of chords, if
    one line of words stands apart below; else the line behind the last one of music."""
    at = last + 1
    if names_words_below(known, last):
        at += next(i for i, one in enumerate(known[at:]) if isinstance(one.kind, Words))
        sung = (
            isinstance(one.kind, Words) or _is_beside_words(known, i) for i, one in enumerate(known)
        )
        ends = (i for i, one in enumerate(sung) if i >= at and not one)
        return next(ends, len(known))
    if not isinstance(known[last].kind, Chords):
        return at
    while at < len(known) and isinstance(known[at].kind, Words):
        at += 1
    behind = [one for one in known[at:] if isinstance(one.kind, Words)]
    alone = len(behind) == 1 and VERSE.match(behind[0].line.text) is None
    return at if alone and isinstance(known[at].kind, Blank) else last + 1


def names_words_below(known: Sequence[KnownLine], last: int) -> bool:
    """Whether the last line of the music is the name of a verse or the like that no section above
    has, with words below it, which are then sung and no part of a letter."""
    start = known[last].kind
    if not isinstance(start, SectionStart) or start.with_chords:
        return False
    if _is_a_step_of_the_form(known, last):
        return False
    key = section_key(start.name)
    above = (one.kind for one in known[:last] if isinstance(one.kind, SectionStart))
    fresh = key[0] in SUNG_KINDS and all(section_key(one.name) != key for one in above)
    below = [
        known[at]
        for at in range(last + 1, len(known))
        if not isinstance(known[at].kind, Blank) and not _is_beside_words(known, at)
    ]
    words = [*takewhile(lambda one: isinstance(one.kind, Words), below)]
    texts = [one.line.text.strip() for one in words]
    return fresh and not all(map(_is_no_line_of_a_verse, texts))


def _is_beside_words(known: Sequence[KnownLine], at: int) -> bool:
    """Whether a remark stood on one line with the words below it."""
    if not isinstance(known[at].kind, Remark) or at + 1 >= len(known):
        return False
    below = known[at + 1]
    return isinstance(below.kind, Words) and below.line.number == known[at].line.number


def _is_end_matter(
    known: Sequence[KnownLine], last: int, words: Sequence[int], texts: Sequence[str]
) -> bool:
    """Whether the words under the last section, behind a blank line, are not of the song: where
    each block of the song has its name over it and this one has none, or where they are short."""
    if _is_a_step_of_the_form(known, last) or names_words_below(known, last):
        return len(words) <= _MOST_LINES and all(map(_is_no_line_of_a_verse, texts))
    apart = any(isinstance(known[at].kind, Blank) for at in range(last + 1, words[0]))
    under = not apart and isinstance(known[last].kind, SectionStart)
    if not apart or under or len(words) > _MOST_LINES:
        return False
    if _every_block_has_a_name(known[: words[0] - 1]) or _sings_under_chords(known[: words[0]]):
        return not sung_below(known, last)
    return _ends_with_a_bare_name(known, last) and all(map(_is_no_line_of_a_verse, texts))


def _is_a_step_of_the_form(known: Sequence[KnownLine], last: int) -> bool:
    """Whether the last chords, or the last name, stand in a line that gives the order of the
    song, as its last step of several."""
    number = known[last].line.number
    if isinstance(known[last].kind, SectionStart):
        steps = [one for one in known[:last] if one.line.number == number]
        return any(isinstance(one.kind, SectionStart) for one in steps)
    return isinstance(known[last].kind, Chords) and any(
        isinstance(one.kind, SectionStart) and one.kind.guessed and one.line.number == number
        for one in known
    )


def _sings_under_chords(known: Sequence[KnownLine]) -> bool:
    """Whether the song has lines of words, and each stands right under its chords."""
    sung = [at for at, one in enumerate(known) if isinstance(one.kind, Words)]
    begun = next((at for at, one in enumerate(known) if isinstance(one.kind, Chords)), len(known))
    sung = [at for at in sung if at > begun]
    within = any(isinstance(one.kind, (ChordsWithin, ChordsBehind)) for one in known)
    under = all(isinstance(known[at - 1].kind, Chords) for at in sung)
    return len(sung) >= _FEWEST_SUNG and under and not within


def _every_block_has_a_name(known: Sequence[KnownLine]) -> bool:
    """Whether each block of lines from the first section on begins with a section's name."""
    starts = [at for at, one in enumerate(known) if isinstance(one.kind, SectionStart)]
    if not starts:
        return False
    firsts = (
        known[at].kind
        for at in range(starts[0], len(known))
        if not isinstance(known[at].kind, Blank) and isinstance(known[at - 1].kind, Blank)
    )
    return not any(isinstance(kind, (Chords, ChordsWithin, ChordsBehind, Words)) for kind in firsts)


def _is_no_line_of_a_verse(text: str) -> bool:
    short = len(text.split()) <= _MOST_WORDS
    return short or is_talk(text) or is_greeting(text) or FOOT.search(text) is not None


def _ends_with_a_bare_name(known: Sequence[KnownLine], last: int) -> bool:
    """Whether the last section is the name of an earlier one, with a blank line under it where
    the sections above have their lines right under their names."""
    start = known[last].kind
    if not isinstance(start, SectionStart) or start.with_chords:
        return False
    below = known[last + 1 : last + 2]
    if not below or not isinstance(below[0].kind, Blank):
        return False
    starts = [at for at in range(last) if isinstance(known[at].kind, SectionStart)]
    names = {
        section_key(kind.name) for at in starts if isinstance(kind := known[at].kind, SectionStart)
    }
    apart = any(_opens_after_a_blank(known, at) for at in starts)
    return section_key(start.name) in names and not apart


def _opens_after_a_blank(known: Sequence[KnownLine], at: int) -> bool:
    """Whether a section's own lines stand under its name with a blank line between."""
    rest = known[at + 1 :]
    filled = next((i for i, one in enumerate(rest) if not isinstance(one.kind, Blank)), 0)
    return filled > 0 and not isinstance(rest[filled].kind, SectionStart)


def _is_apart(known: Sequence[KnownLine], at: int) -> bool:
    """Whether a blank line, or another line of a foot, stands above a line."""
    return isinstance(known[at - 1].kind, Blank | Note | Letter)
