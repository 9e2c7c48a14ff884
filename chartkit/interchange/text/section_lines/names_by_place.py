"""Names of sections that only their place shows: over chords, before a colon, or by other words.

Source of the forms: common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from chartkit.chart.section_words import SUNG_KINDS
from chartkit.interchange.text.kinds.line_kinds import (
    Chords,
    KnownLine,
    LineKind,
    Note,
    Remark,
    SectionStart,
)
from chartkit.interchange.text.kinds.sheet_lines import (
    LONGEST,
    SheetLines,
)
from chartkit.interchange.text.lines import Line, letters_of
from chartkit.interchange.text.quick_looks import BeginsWithWord, kept
from chartkit.interchange.text.section_lines.names_before_chords import name_and_chords
from chartkit.interchange.text.section_lines.names_by_reference import (
    COUNT_BEHIND,
    NamesByReference,
)
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.song_form.steps import KnownNames
from chartkit.interchange.text.vocabulary.directions import (
    count_words,
    is_direction,
    names_player,
)
from chartkit.interchange.text.vocabulary.ends_on import song_end
from chartkit.interchange.text.vocabulary.form_words import section_meant
from chartkit.interchange.text.vocabulary.key_words import says_how_much_higher
from chartkit.interchange.text.vocabulary.section_names import (
    SUNG_OR_SAID,
    is_short_name,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import times_of

_CHORDS_AS = re.compile(
    r"\s*,?\s+(?:with\s+)?chords\s+(?=(?:same\s+)?(?:as|like)\s)", re.IGNORECASE
)
_THE_LAST = BeginsWithWord(r"(?:the\s+)?(?:last|final|letzter|letzte|dernier|último) ")
_ENDS_ON = re.compile(
    r"(?:(?:we|all)\s+)?(?:stops?|ends?|hold|finish|close|aufhören|endet|finir|termina)\s+"
    r"(?:on|with|auf|mit|sur|en|em|su)\s+",
    re.IGNORECASE,
)
_VOICES_IN_WORDS = """
all both boys girls men women ladies gents everyone everybody tutti choir chorus solo soloist
company cast group leader sopranos soprano altos alto tenors tenor basses bass kids children
alle jungen mädchen männer frauen chor tous filles garçons todos todas niños niñas tutte uomini
donne allemaal jongens meisjes alla flickor pojkar wszyscy
"""
_VOICES = frozenset(_VOICES_IN_WORDS.split())
_NAMES_OF_SINGERS = re.compile(r"[^\W\d_][^\W_.’' -]*(?:(?:[ ,&+/.’'-]| and )+[^\W_]+){0,4}")
_LONGEST_IN_CAPITALS = 2
_WORD = re.compile(r"[^\W\d_]+")
_JUMP_TO = re.compile(
    r"(?:[^\W\d_]+ ){0,2}D\.?\s?[SC]\.?\s+to\s+(?:the\s+)?"
    r"(?P<name>[A-H]\d?(?!\w)|[^\W\d_]{3,}(?: \d)?)",
    re.IGNORECASE,
)
_HINT = re.compile(r"(?:\.{2,}|…|\betc\.?)\s*$", re.IGNORECASE)
_MOST_WORDS_OF_A_REMARK, _MOST_WORDS_SHOUTED = 3, 8
_MOST_WORDS_SAID_OF_A_NAME, _MOST_WORDS_OVER_CHORDS = 6, 14
_PARTED = re.compile(r"\s*(?:[,;:(]|\s[-–—])")
"""A sign between a name and what is said at length."""
_LONGEST_SHORT = 6
_MOSTLY = 0.7
_MOST_LINES = 2_000
"""A longer text is a book of songs, in which many refrains begin with the same words."""
_FEWEST_LETTERS = 6
_MOST_WORDS_OF_A_KIND, _FEWEST_OF_A_KIND = 3, 2


_LETTER_AND_REMARK = re.compile(r"[A-Z]\s?\([^()|]*[^\W\d_]{2}[^()|]*\)")


_Reader = Callable[[int, str], LineKind | None]
_SIGNS_OF_NAMES = re.compile("[:,=]")
"""What parts a name from what is said of it, where words stand."""
_SIGNS_BEHIND_NAMES = re.compile("[:,=–—-]")
"""The same, or a dash before chords."""


class NamesByPlace(NamesByReference):
    """Reads lines that name a section in an unusual way; keeps some of their names."""

    def __init__(self, sheet: SheetLines, known: list[KnownLine], names: KnownNames) -> None:
        super().__init__(sheet, known, names)
        self._of_lines_apart: tuple[_Reader, ...] = (
            self._for_player,
            self._jumped_to,
            self._singers,
            self._like_another,
            self._in_a_sentence,
            self._once_more,
            self._same_chords,
            self._chords_for_another,
            self._same_as_first,
            self._over_a_name,
            self._numbered_again,
            self._with_commas,
        )
        self._of_lines_within: tuple[_Reader, ...] = (
            self._singers,
            self._in_a_sentence,
            self._chords_for_another,
            self._with_commas,
        )
        """Those of them that know lines right under other lines than names."""
        self._of_any_lines: tuple[_Reader, ...] = (
            self._equal_to_another,
            self._played_after,
            self._about_the_last,
            self._played_alone,
            self._known_to_somebody,
        )

    def _begins_something(self, at: int) -> bool:
        """Whether a line has nothing right above it, or the name of a section."""
        if self.sheet.is_empty(at - 1) or self.sheet.headings[at - 1] is not None:
            return True
        return bool(self.known) and isinstance(self.known[-1].kind, SectionStart)

    def read(self, at: int, line: Line, bare: str) -> list[KnownLine]:
        """What a line becomes, by the first way that fits; nothing for others.

        ``bare`` is its text without pictures.
        """
        text = line.text.strip()
        if self.sheet.is_row(at) and ":" not in text and not names_player(text.split(" - ")[0]):
            again = self._once_more(at, text) if _LETTER_AND_REMARK.fullmatch(text) else None
            return [KnownLine(line, again)] if again is not None else []
        if at and label_end(self.sheet.lines[at - 1].text):
            over = self._over_something(text)  # what is played after the order of sections
            return [KnownLine(line, over)] if over is not None else []
        if self.sheet.is_row(at - 1) and self.sheet.headings[at - 1] is None:
            return self._under_chords(at, line)
        apart = self._begins_something(at)
        first = self._of_lines_apart if apart else self._of_lines_within
        if (kind := self._first(at, text, first)) is not None:
            return list(self._with_end(line, kind))
        if named := name_and_chords(self.sheet, at, line):
            return list(named)
        kind = self._first(at, text, (self._over_chords, self._of_a_kind, self._by_first_words))
        kind = kind or self._short_alone(at, bare)
        kind = kind or self._first(at, text, self._of_any_lines)
        return [KnownLine(line, kind)] if kind is not None else []

    def _under_chords(self, at: int, line: Line) -> list[KnownLine]:
        """What a line becomes that stands where words do; nothing for most."""
        text = line.text.strip()
        if not self.sheet.is_row(at + 1) and _SIGNS_OF_NAMES.search(text) is None:
            return []
        if _SIGNS_BEHIND_NAMES.search(text) is None:
            kind: LineKind | None = self._of_a_kind(at, text)
            return [KnownLine(line, kind)] if kind is not None else []
        readers = (self._singers, self._with_commas, self._equal_to_another, self._of_a_kind)
        kind = self._first(at, text, readers)
        if kind is not None:
            return [KnownLine(line, kind)]
        return list(name_and_chords(self.sheet, at, line))

    def _first(self, at: int, text: str, readers: Sequence[_Reader]) -> LineKind | None:
        """What the first reader makes of a line that knows it."""
        for reader in readers:
            if (kind := reader(at, text)) is not None:
                return kind
        return None

    def _with_end(self, line: Line, kind: LineKind) -> Iterator[KnownLine]:
        """A line, with the chord on which the song ends as a section of its own where what is said
        of another is no more than that ("Adorno 2 veces, cierre en G")."""
        said = kind.remarks[0] if isinstance(kind, SectionStart) and kind.remarks else ""
        end = song_end(said, self.sheet.is_chords) if said else None
        row = self.sheet.tokens.row(Line(line.number, end.chord, where=line.where)) if end else None
        if end is None or row is None or not end.sure or not isinstance(kind, SectionStart):
            yield KnownLine(line, kind)
            return
        yield KnownLine(line, replace(kind, remarks=kind.remarks[1:]))
        said_of_end = (end.said,) if end.said else ()
        start = SectionStart(end.name, 1, "", said_of_end, guessed=True, with_chords=True)
        yield KnownLine(line, start)
        yield KnownLine(line, Chords(row, behind_name=True))

    def _for_player(self, at: int, text: str) -> SectionStart | None:
        """A section's name and who plays it behind a dash, alone right above a row of chords."""
        name, _, remark = text.partition(" - ")
        most = _MOST_WORDS_SHOUTED if remark.isupper() else _MOST_WORDS_OF_A_REMARK
        few = 0 < len(remark.split()) <= most
        if few and self.sheet.stands_over_chords(at) and name and self.sheet.names.is_full(name):
            return SectionStart(name, 1, "", (remark,), guessed=True)
        return None

    def _with_commas(self, at: int, text: str) -> SectionStart | None:
        """A section's name and, behind commas, who plays it, over its chords ("v1, me"), or whose
        music it has ("v3, no drums, chords as v1"); an earlier name cut short alone."""
        under = self.sheet.is_row(at - 1) and self.sheet.headings[at - 1] is None
        if len(text) > LONGEST or self.sheet.is_row(at):
            return None
        name, *said = _parted_by_commas(text)
        if under and not said:
            return None
        short = len(name) > 1 and is_short_name(name)
        if not name or not (short or self.sheet.names.is_full(name)):
            return None
        if under and not (said and all(map(_says_who_or_how, said))):
            return None
        if not said:
            again = short and section_key(name) in self.names.keys
            return self._learned(SectionStart(name, guessed=True)) if again else None
        remarks, like = [], ""
        for part in said:
            other = self._other_in(part)
            like = like or other
            remarks += [] if other else [part]
        few = sum(len(one.split()) for one in remarks) <= _MOST_WORDS_SAID_OF_A_NAME
        plain = all(remarks) and few and not any(map(self.sheet.names.may_name, remarks))
        if not plain or not (like or self.sheet.is_row(at + 1)):
            return None
        return self._learned(SectionStart(name, 1, like, tuple(remarks), guessed=True))

    def _other_in(self, text: str) -> str:
        """The earlier section whose music words say is played; empty for any other words."""
        other = section_meant(text)
        known = bool(other) and section_key(other)[0] in self.names.kinds
        return other if known or other in self.names.letters else ""

    def _of_a_kind(self, at: int, text: str) -> SectionStart | None:
        """A section by a word and the kind that it is of, right above its chords ("Stop chorus"),
        where the sheet has the same words elsewhere; None for any other line."""
        words = text.rstrip(":").split()
        if not 1 < len(words) <= _MOST_WORDS_OF_A_KIND or not self.sheet.is_row(at + 1):
            return None
        name = " ".join(words)
        kind = section_key(words[-1])[0]
        plain = kind in SUNG_KINDS and self.sheet.names.is_full(words[-1]) and words[0].isalpha()
        if not plain or self._begun_with.get(name.casefold(), 0) < _FEWEST_OF_A_KIND:
            return None
        return self._learned(SectionStart(name, guessed=True))

    @cached_property
    def _begun_with(self) -> Counter[str]:
        """How many lines begin with the same two or three words."""
        texts = (line.text for line in self.sheet.lines[:_MOST_LINES] if len(line.text) <= LONGEST)
        words = (text.replace(":", " ").casefold().split() for text in texts)
        return Counter(" ".join(one[:n]) for one in words for n in (2, 3) if len(one) >= n)

    def _over_chords(self, at: int, text: str) -> SectionStart | None:
        """A section's full name with something said of it, alone right above a row of chords."""
        end = self.sheet.names.end_at(text)
        name, said = text[:end].strip(), text[end:].strip(" ,;:.–—-")
        few = 0 < len(said.split()) <= _MOST_WORDS_OVER_CHORDS
        far = text[end : end + 2] == "  " and self.sheet.is_row(at + 1)  # "2nd Chorus  Slowly"
        if not end or not few or not (far or self.sheet.stands_over_chords(at)):
            return None
        if len(said.split()) > _MOST_WORDS_SAID_OF_A_NAME and not _PARTED.match(text, end):
            return None
        sung = name.lower() in SUNG_OR_SAID or (text[0].islower() and text[-1] != ":")
        if sung or self.sheet.rows[at] is not None or self.sheet.names.may_name(said):
            return None
        return self._learned(SectionStart(name, 1, "", (said,), guessed=True))

    def _by_first_words(self, at: int, text: str) -> SectionStart | None:
        """An earlier refrain that is called by its first words, alone between empty lines."""
        sheet = self.sheet
        short = len(text) <= LONGEST and 1 < len(text.split()) <= _MOST_WORDS_SAID_OF_A_NAME
        short = short and len(sheet.lines) <= _MOST_LINES
        if not short or not (sheet.is_empty(at - 1) and sheet.is_empty(at + 1)):
            return None
        if is_direction(text):
            return None
        counted = COUNT_BEHIND.search(text)
        bare = text[: counted.start()] if counted is not None else text
        letters = letters_of(_HINT.sub("", bare))
        times = times_of(counted[0]) if counted is not None else 1
        sung = (words for key, words in sheet.first_words.items() if key[0] == "chorus")
        if len(letters) < _FEWEST_LETTERS or not any(one.startswith(letters) for one in sung):
            return None
        if not any(letters_of(one.text).startswith(letters) for one in sheet.lines[:at]):
            return None  # these are the first words themselves
        names = [one.kind.name for one in self.known if isinstance(one.kind, SectionStart)]
        for name in reversed(names[:-1]):
            key = section_key(name)
            begins = key[0] == "chorus" and sheet.first_words.get(key, "").startswith(letters)
            if begins and name != names[-1]:
                return SectionStart(name, max(1, times), guessed=True)
        return None

    def _about_the_last(self, at: int, text: str) -> Remark | SectionStart | None:
        """What a line says of the last of some sections ("last chorus stop on F"), which it names
        where this one goes up a tone; None for any other line."""
        last = _THE_LAST.match(text) if len(text) <= LONGEST else None
        end = self.sheet.names.end_at(text) if last is not None else 0
        said = text[end:].strip(" ,:;-–—")
        if not end or not said or section_key(text[:end])[0] not in self.names.kinds:
            return None
        if len(said.split()) > _MOST_WORDS_SAID_OF_A_NAME or self.sheet.stands_over_chords(at):
            return None
        if says_how_much_higher(said):
            return self._learned(SectionStart(text[:end], remarks=(said,), guessed=True))
        ends = _ENDS_ON.match(said)
        chord = ends is not None and self.sheet.is_chords(said[ends.end() :])
        return Remark(text) if chord or is_direction(said) else None

    def _jumped_to(self, at: int, text: str) -> SectionStart | None:
        """The section to which a sentence jumps back ("Then D.S. to B, and al Coda"); None for
        any other line."""
        match = _JUMP_TO.match(text) if len(text) <= LONGEST else None
        if match is None or not self.sheet.is_empty(at - 1):
            return None
        name = match["name"]
        known = name in self.names.letters or section_key(name)[0] in self.names.kinds
        return SectionStart(name, 1, "", (text.rstrip("."),), guessed=True) if known else None

    def _singers(self, at: int, text: str) -> Remark | None:
        """Who sings the lines below, by a name with a colon inside a section ("BOYS:"); None for
        any other line."""
        if not text.endswith(":") or self.sheet.is_empty(at - 1) or self.sheet.is_empty(at + 1):
            return None
        names = text[:-1].strip()
        voices = all(word.casefold() in _VOICES for word in _WORD.findall(names))
        capitals = names.isupper() and len(names) > _LONGEST_IN_CAPITALS
        if not (capitals or voices) or _NAMES_OF_SINGERS.fullmatch(names) is None:
            return None
        return Remark(names)

    def _over_a_name(self, at: int, text: str) -> Remark | Note | None:
        """What is said to the players with a colon, apart, right above a section's name ("All
        together now:")."""
        below = self.sheet.headings[at + 1 : at + 2]
        said = text.endswith(":") and self.sheet.is_empty(at - 1) and below not in ([], [None])
        if not said or not self.names.kinds:
            return None
        return Note() if label_end(f"{text} ") else Remark(text)

    def _short_alone(self, at: int, text: str) -> SectionStart | None:
        """A name cut short that stands apart, right above its chords; a longer one needs no empty
        line above it."""
        if not 1 < len(text) <= _LONGEST_SHORT or not is_short_name(text):
            return None
        closed_up = len(text.strip(".:")) > 2 and self.sheet.is_row(at + 1)
        apart = closed_up and not self.sheet.is_row(at - 1)
        if not (apart or self.sheet.stands_over_chords(at)):
            return None
        return self._learned(SectionStart(text.rstrip(".:"), guessed=True))


@kept
def _parted_by_commas(text: str) -> tuple[str, ...]:
    """The parts of a line between commas; "chords" before "as" parts it too."""
    if "chords" in text.casefold():
        text = _CHORDS_AS.sub(r", ", text)
    return tuple(part.strip(" .") for part in text.split(","))


@kept
def _says_who_or_how(text: str) -> bool:
    """Whether most of some words say who plays and how."""
    return count_words(text).share > _MOSTLY
