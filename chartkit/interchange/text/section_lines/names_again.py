"""Lines that ask for earlier sections again: by their own short name ("R. 2x, fade"), or several
at once ("[pre] [CHORUS]", "Verse + Chorus").

Source of the forms: common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Sequence

from chartkit.interchange.text.kinds.line_kinds import KnownLine, SectionStart
from chartkit.interchange.text.kinds.sheet_lines import LONGEST, SheetLines
from chartkit.interchange.text.quick_looks import words_in
from chartkit.interchange.text.song_form.steps import KnownNames
from chartkit.interchange.text.vocabulary.directions import count_words
from chartkit.interchange.text.vocabulary.key_words import says_how_much_higher
from chartkit.interchange.text.vocabulary.section_names import is_short_name, section_key
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, ONCE_MORE, times_of

_LONGEST_SHORT = 5
_MOST_WORDS_SAID = 4
_MOSTLY = 0.5
"""At least this share of what is said behind a count is of the trade (ours)."""
_AGAIN = re.compile(
    r"[\[(]?(?P<name>[^\W\d_]{1,5})\.?[\])]?\s*+:?(?:\s*+,)?"
    rf"(?:\s*+[(\[]?\s*+(?P<times>{ANY_TIMES})\s*+[)\]]?)?(?:\s*+(?P<again>{ONCE_MORE}))?"
    r"(?:\s*+[,;:(–—-]\s*+(?P<said>[^\W\d][^()|]{1,40})\)?)?[.!]?",
    re.IGNORECASE,
)
"""A short name, how often, and what is said behind a sign."""


class NamesAbove:
    """The names of the sections above a line, as they are typed there.

    ``known`` are the lines so far, each of which is looked at once or twice however long the sheet
    is.
    """

    def __init__(self, known: Sequence[KnownLine]) -> None:
        self.known = known
        self._looked_at = 0
        self.by_text: dict[str, str] = {}
        self.short: set[str] = set()
        self.by_key: dict[tuple[str, str], str] = {}
        self.of_kind: dict[str, set[str]] = {}
        self.times = Counter[tuple[str, str]]()
        """How often a section of each meaning begins."""
        self.typed: dict[str, str] = {}
        """The names without what stands in parentheses behind them, by their small letters."""
        self.words: set[str] = set()
        """The words of these names."""

    def look(self) -> bool:
        """Takes the names of new lines; whether there are any names."""
        if self._looked_at == len(self.known):
            return bool(self.by_text)
        begin = max(0, self._looked_at - 2)
        for number, one in enumerate(self.known[begin:], begin):
            kind = one.kind
            if isinstance(kind, SectionStart):
                key = section_key(kind.name)
                bare = kind.name.strip(".:").casefold()
                self.by_text[bare] = kind.name
                plain = kind.name.partition(" (")[0].strip(" .:")
                self.typed.setdefault(plain.casefold(), plain)
                self.words |= words_in(plain)
                if len(bare) <= _LONGEST_SHORT:
                    self.short.add(bare)
                self.by_key[key] = kind.name
                self.times[key] += number >= self._looked_at
                self.of_kind.setdefault(key[0], set()).add(kind.name)
        self._looked_at = len(self.known)
        return bool(self.by_text)


def one_again(
    sheet: SheetLines, known: KnownNames, names: NamesAbove, at: int, text: str
) -> SectionStart | None:
    """The earlier section that a line asks for again, by its short name, behind what leads to it,
    or above chords of its own; None for any other line.  ``names`` are the sections above."""
    again = _short_name_again(sheet, names, at, text)
    again = again or _led_to_again(sheet, known, names, at, text)
    return again or _again_over_chords(sheet, known, names, at, text)


def _short_name_again(
    sheet: SheetLines, names: NamesAbove, at: int, text: str
) -> SectionStart | None:
    """The earlier section that a line asks for by the short name over it, with how often and what
    is said of it; None for any other line.  ``names`` are the sections above."""
    if not _may_begin_with_one(text, names):
        return None
    match = _AGAIN.fullmatch(text) if len(text) <= LONGEST else None
    if match is None or sheet.is_row(at) or is_under_chords(sheet, at):
        return None
    name = names.by_text.get(match["name"].casefold())
    chord = not match["again"] and sheet.is_chords(match["name"])
    if name is None or chord or not _is_short(name):
        return None
    said = (match["said"] or "").strip()
    if not (match["again"] and text.endswith(")")) and not _is_said(said):
        return None
    times = max(1, times_of(match["times"] or ""))
    return SectionStart(name, times, "", (said,) if said else (), guessed=True)


def _is_said(text: str) -> bool:
    """Whether what stands behind a name is few words, mostly of the trade, or nothing."""
    few = len(text.split()) <= _MOST_WORDS_SAID
    return few and (not text or count_words(text).share >= _MOSTLY)


def _may_begin_with_one(text: str, names: NamesAbove) -> bool:
    """Whether the first letters of a text are the name of a section above; a quick look."""
    if not names.short:
        return False
    begin = text.lstrip("[(")[:_LONGEST_SHORT].casefold()
    return any(begin[:end] in names.short for end in range(1, len(begin) + 1))


def _is_short(name: str) -> bool:
    bare = name.strip(".:")
    return len(bare) == 1 or (len(bare) <= _LONGEST_SHORT and is_short_name(bare))


def is_under_chords(sheet: SheetLines, at: int) -> bool:
    """Whether a line stands where the words of a row of chords do."""
    return sheet.is_row(at - 1) and sheet.headings[at - 1] is None


_WORDS_BETWEEN = (
    *("and", "then", "und", "dann", "et", "puis", "y", "luego", "e", "poi"),
    *("en", "dan", "och", "sedan", "og", "så"),
)
_NEXT = f"(?:{'|'.join(_WORDS_BETWEEN)})"
_SIGNS = re.compile(
    rf"\s*(?:[,;+&/>→]|-+>|=+>|\s[-–—]\s|(?<=\])\s*(?=\[))\s*(?:{_NEXT}\s+)*|\s+(?:{_NEXT}\s+)+",
    re.IGNORECASE,
)
"""What stands between two names on one line."""
_ONE_OF_SEVERAL = re.compile(
    r"[\[(]?\s*+(?:(?P<first>\d{1,2})\s?[x×]\s+)?"
    r"(?P<name>[^\W_](?:[^()\[\]]{0,49}?[^()\[\]\s])?)\s*+\.?\s*+[\])]?\s*+:?"
    rf"(?:\s*+[(\[]?\s*+(?P<times>{ANY_TIMES})\s*+[)\]]?)?(?:\s*+\((?P<said>[^()|]{{1,40}})\))?"
    r"[.!]?",
    re.IGNORECASE,
)
_AGAIN_BEHIND = re.compile(rf"\s+(?:{ONCE_MORE})$", re.IGNORECASE)
_MOST_NAMES = 12


def several_again(
    sheet: SheetLines, known: KnownNames, names: NamesAbove, at: int, text: str
) -> tuple[SectionStart, ...]:
    """The sections that a line asks for again, two or more with a sign between them; none for any
    other line.  ``names`` are the sections above; the line has nothing under it."""
    if len(text) > LONGEST or not _may_part(text) or is_under_chords(sheet, at):
        return ()
    if _SIGNS.search(text) is None or not _ends_there(sheet, at) or sheet.is_chords(text):
        return ()
    pieces = [piece.strip() for piece in _SIGNS.split(text.strip("-–—=*#• "))]
    if not 1 < len(pieces) <= _MOST_NAMES or not all(pieces):
        return ()
    starts: list[SectionStart] = []
    for piece in pieces:
        if (start := _one_again(sheet, known, names, at, piece)) is None:
            return ()
        starts.append(start)
    return tuple(starts)


_SIGNS_THAT_PART = re.compile(r"[,;+&/>→=–—\]-]")
_WORDS_THAT_PART = frozenset(_WORDS_BETWEEN)
"""Of these signs and words, one stands wherever ``_SIGNS`` matches."""


def _may_part(text: str) -> bool:
    """Whether a text may have a sign between two names; a quick look."""
    if _SIGNS_THAT_PART.search(text) is not None:
        return True
    return not _WORDS_THAT_PART.isdisjoint(text.casefold().split())


def _ends_there(sheet: SheetLines, at: int) -> bool:
    """Whether nothing stands right under a line but the name of another section."""
    if sheet.is_empty(at + 1):
        return True
    if sheet.is_row(at + 1):
        return False
    if sheet.headings[at + 1] is not None:
        return True
    below = sheet.lines[at + 1].text.strip()[:LONGEST]
    first = _SIGNS.split(below, maxsplit=1)[0] if _may_part(below) else below
    first = first.strip("[]() ")
    return first != below and sheet.names.is_full(first)


def _one_again(
    sheet: SheetLines, known: KnownNames, names: NamesAbove, at: int, piece: str
) -> SectionStart | None:
    """The earlier section that one of several names means; None where it means none."""
    match = _ONE_OF_SEVERAL.fullmatch(piece)
    if match is None:
        return None
    words = match["name"].split()
    for end in range(len(words), 0, -1):
        name = _meant(sheet, known, names, " ".join(words[:end]).rstrip("."))
        more = _AGAIN_BEHIND.sub("", f" {' '.join(words[end:])}").strip()
        if name and (not more or says_how_much_higher(more)):
            break
    else:
        return None
    key = section_key(name)
    if key not in names.by_key and sheet.later.get(key, -1) > at:
        return None  # it is written below: the line is a plan
    times = max(int(match["first"] or 1), times_of(match["times"] or ""), 1)
    said = f"{more} ({match['said'].strip()})" if more and match["said"] else more or match["said"]
    return SectionStart(name, times, "", (said,) if said else (), guessed=True)


def _meant(sheet: SheetLines, known: KnownNames, names: NamesAbove, typed: str) -> str:
    """The name of the earlier section that a name means; itself where only its kind stands above,
    empty where that does not."""
    key = section_key(typed)
    if called := names.by_text.get(typed.casefold()) or names.by_key.get(key):
        return called
    usual = len(typed) > 1 and (sheet.names.is_full(typed) or sheet.names.is_known(typed))
    if not usual or key[0] not in known.kinds:
        return ""
    alike = names.of_kind.get(key[0], set())
    return next(iter(alike)) if len(alike) == 1 and not key[1] else typed


_LEADS_TO = ("to", "into", "zum", "zur", "au", "à", "al", "a", "alla", "ao", "naar", "till", "til")
_LED_TO = re.compile(
    rf"\(?(?:{_NEXT}\s+|(?:{_NEXT}\s+)?(?:{'|'.join(_LEADS_TO)})\s+)"
    r"(?:(?:the|la|le|el|het|de|den)\s+)?(?P<name>[^\W\d_][^,;:()|]{2,24}?)"
    rf"(?:\s*[,(]?\s*(?P<times>{ANY_TIMES})\)?)?[.!]?\)?",
    re.IGNORECASE,
)
_FIRST_OF_LED_TO = frozenset((*_WORDS_BETWEEN, *_LEADS_TO))


def _led_to_again(
    sheet: SheetLines, known: KnownNames, names: NamesAbove, at: int, text: str
) -> SectionStart | None:
    """The earlier section that a line leads to and says no more ("au refrain", "al estribillo"),
    under which no words stand; None for any other line."""
    if text.strip("(").partition(" ")[0].casefold() not in _FIRST_OF_LED_TO:
        return None
    match = _LED_TO.fullmatch(text)
    if match is None or is_under_chords(sheet, at) or not _ends_there(sheet, at):
        return None
    if not (sheet.names.is_full(match["name"]) or match["name"].casefold() in names.by_text):
        return None
    name = _meant(sheet, known, names, match["name"])
    times = max(1, times_of(match["times"] or ""))
    return SectionStart(name, times, guessed=True) if name else None


_SAID_AND_AGAIN = re.compile(
    r"(?P<said>[^\W\d_].{2,60}?)\s*[,;:–—-]\s+(?:(?:and|then|und|dann|et|puis|y|luego|e|poi)\s+)?"
    rf"(?P<name>[^\W\d_][^,;:()|]{{1,20}}?)\s+(?:{ONCE_MORE})[.!:]?",
    re.IGNORECASE,
)


def _again_over_chords(
    sheet: SheetLines, known: KnownNames, names: NamesAbove, at: int, text: str
) -> SectionStart | None:
    """The earlier section that a line above chords of its own asks for again behind what else it
    says ("After verse 3: key change to C, refrain again"); None for any other line."""
    if len(text) > LONGEST or not sheet.stands_over_chords(at):
        return None
    match = _SAID_AND_AGAIN.fullmatch(text)
    if match is None or sheet.names.end_at(text) or sheet.is_chords(match["said"]):
        return None
    name = _meant(sheet, known, names, match["name"].strip())
    return SectionStart(name, 1, "", (match["said"].strip(),), guessed=True) if name else None
