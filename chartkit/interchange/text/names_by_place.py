"""Names of sections that only their place shows: over chords, before a colon, or by other words.

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from chartkit.interchange.text.directions import count_words, is_direction
from chartkit.interchange.text.facts import names_a_fact
from chartkit.interchange.text.form_words import AS_BEFORE, OVER_OR_LIKE, section_meant
from chartkit.interchange.text.line_kinds import (
    Chords,
    KnownLine,
    LineKind,
    Note,
    Remark,
    SectionStart,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.reference_lines import is_about_the_song
from chartkit.interchange.text.references import (
    name_and_other,
    place_and_name,
    says_whose,
    section_named_in,
)
from chartkit.interchange.text.roadmap import label_end
from chartkit.interchange.text.section_names import SUNG_OR_SAID, is_short_name, section_key
from chartkit.interchange.text.settled_sections import says_how_much_higher
from chartkit.interchange.text.sheet_lines import (
    LONGEST,
    SheetLines,
    is_music,
    letters_of,
)
from chartkit.interchange.text.steps import KnownNames
from chartkit.interchange.text.times_played import ANY_TIMES, ONCE_MORE, UNTIL, times_of
from chartkit.interchange.text.tokens import STRUCK

_ANY_NAME = re.compile(r"\s*(?P<name>[^\W\d_][^\W_]*(?:[ -][^\W_]+){0,2})\s*:\s+(?P<row>[A-H|(].*)")
_NO_SECTION = re.compile(
    r"\b(?:time|chords?|akkorde|acordes|accords|key|capo|last|first|end|or|like|walk|run|play|"
    r"note|use|uses|used|alt|alternative|shapes?|turn|mal|then|change|changes|pattern)\b",
    re.IGNORECASE,
)
"""Words before a colon that say something of the chords behind it."""
_OF_THE_END = re.compile(r"(?:the )?(?:last|final|end)(?: (?:time|line|bars?))?", re.IGNORECASE)
_CHORDS_AS = re.compile(
    r"\s*,?\s+(?:with\s+)?chords\s+(?=(?:same\s+)?(?:as|like)\s)", re.IGNORECASE
)
_AFTER = re.compile(
    r"after\s+(?:the\s+)?[^,.]{1,20}?,?\s+(?:then\s+)?(?:play|repeat|go back to|back to|do)\s+"
    r"(?:the\s+)?"
    r"(?P<name>[^\W\d_][^,.]{0,20}?)(?:\s+(?:again|once more))?"
    r"(?:,?\s+(?:and\s+|then\s+)*(?:(?:go\s+)?(?:on\s+)?to|into|jump to)\s+"
    r"(?:the\s+)?[^,.]{1,20})?\.?",
    re.IGNORECASE,
)
_EQUAL = re.compile(
    r"(?P<name>(?:\d(?:st|nd|rd|th)\s)?[^\W\d_][^\W_]*(?:[ -][^\W_]+){0,3})\s*=\s*"
    r"(?P<other>[^\W_][^=:|]{0,25})"
)
_THE_LAST = re.compile(r"(?:the\s+)?(?:last|final|letzter?|dernier|último) ", re.IGNORECASE)
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
_NAME_AND_LIKE = re.compile(
    r"(?P<name>[^\W\d_][^\W\d_]*(?:[ -][^\W\d_]+){0,2})\s*(?:\((?P<said>[^()]{4,60})\)|"
    r"(?:\s*[:=–—]\s*|\s+-+\s+)(?P<behind>.{4,60}))[.]?"
)
_JUMP_TO = re.compile(
    r"(?:[^\W\d_]+ ){0,2}D\.?\s?[SC]\.?\s+to\s+(?:the\s+)?"
    r"(?P<name>[A-H]\d?(?!\w)|[^\W\d_]{3,}(?: \d)?)",
    re.IGNORECASE,
)
_FOR_ANOTHER = re.compile(
    r"(?:play|use|take|do)\s+(?:the\s+)?(?P<other>[^\W\d_][^,.]{1,16}?)\s+(?:chords|changes)\s+"
    r"(?:for|in|under|as|over)\s+(?:the\s+)?(?P<name>[^\W\d_][^,.]{1,20}?)\.?",
    re.IGNORECASE,
)
_SAME_AS = re.compile(
    r"(?P<name>[^,.:()]{3,20}?)\s+(?:is\s+|goes\s+|has\s+)?(?:the\s+)?(?:chords\s+)?(?:same\s+)?"
    r"(?:as|like)\s+(?:the\s+)?(?P<other>[^\W_][^,.:()]{1,16}?)\.?",
    re.IGNORECASE,
)
_NUMBER_LIKE = re.compile(
    r"(?P<name>\d{1,2}|[IVX]{1,4})[.):]*\s+(?:again|nochmals?|encore|igen|"
    r"(?:(?:chords\s+)?(?:same\s+)?(?:as|like)|wie|comme|como|come|als|som)\s+(?P<other>\d{1,2}|[IVX]{1,4})"
    r"[.):]*)",
)
_LONGEST_NUMBERED = 40
_FIRST = frozenset(["first", "1st", "one", "the first", "no 1"])
_HINT = re.compile(r"(?:\.{2,}|…|\betc\.?)\s*$", re.IGNORECASE)
_MOST_WORDS_OF_A_REMARK = 3
_MOST_WORDS_SAID_OF_A_NAME = 6
_MOST_WORDS_THAT_REFER = 8
_MOST_LINES_ABOVE = 300
_FEW_WORDS = 3
_PLAYED_OVER = frozenset({"solo", "instrumental", "break"})
_LONGEST_SHORT = 6
_MOSTLY = 0.7
_MOST_BELOW = 6
"""So many empty lines below are the end of a sheet."""
_MOST_LINES = 2_000
"""A longer text is a book of songs, in which many refrains begin with the same words."""
_FEWEST_LETTERS = 6
_COUNT_BEHIND = re.compile(rf"(?<!\s)\s*[(\[]?\s?{ANY_TIMES}\s?[)\]]?\s*$", re.IGNORECASE)

_AGAIN = re.compile(ONCE_MORE, re.IGNORECASE)
_UNTIL = re.compile(rf"\s+(?P<said>{UNTIL}.{{2,60}})", re.IGNORECASE)
_MORE_BEHIND = re.compile(
    rf"\s*[(\[]?(?P<times>{ANY_TIMES})?[)\]]?(?:\s*[,;:(–—-]\s*(?P<said>[^|]*[^\W\d_][^|]*|.{{2,40}}))?",
    re.IGNORECASE,
)
"""A count behind an earlier name, and what is said behind that."""

_Reader = Callable[[int, str], LineKind | None]


class NamesByPlace:
    """Reads lines that name a section in an unusual way; keeps some of their names."""

    def __init__(self, sheet: SheetLines, known: list[KnownLine], names: KnownNames) -> None:
        self.sheet, self.known, self.names = sheet, known, names

    def read(self, at: int, line: Line, bare: str) -> list[KnownLine]:
        """What a line becomes, by the first way that fits; nothing for others.

        ``bare`` is its text without pictures.
        """
        text = line.text.strip()
        if self.sheet.is_row(at) and ":" not in text:
            return []
        if self.sheet.is_row(at - 1) and self.sheet.headings[at - 1] is None:
            return self._under_chords(at, line)
        first = (
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
        if (kind := self._first(at, text, first)) is not None:
            return [KnownLine(line, kind)]
        if named := self._by_colon(at, line):
            return list(named)
        kind = self._first(at, text, (self._over_chords, self._by_first_words))
        kind = kind or self._short_alone(at, bare)
        last = (self._equal_to_another, self._played_after, self._about_the_last)
        kind = kind or self._first(at, text, last)
        return [KnownLine(line, kind)] if kind is not None else []

    def _under_chords(self, at: int, line: Line) -> list[KnownLine]:
        """What a line becomes that stands where words do; nothing for most."""
        text = line.text.strip()
        kind = self._first(at, text, (self._singers, self._with_commas, self._equal_to_another))
        if kind is not None:
            return [KnownLine(line, kind)]
        return list(self._by_colon(at, line))

    def _first(self, at: int, text: str, readers: Sequence[_Reader]) -> LineKind | None:
        """What the first reader makes of a line that knows it."""
        for reader in readers:
            if (kind := reader(at, text)) is not None:
                return kind
        return None

    def _learned(self, start: SectionStart) -> SectionStart:
        """The start of a section, whose name later lines may use."""
        self.names.add(start.name)
        return start

    def _for_player(self, at: int, text: str) -> SectionStart | None:
        """A section's name and who plays it behind a dash, alone right above a row of chords."""
        name, _, remark = text.partition(" - ")
        few = 0 < len(remark.split()) <= _MOST_WORDS_OF_A_REMARK
        if few and self.sheet.stands_over_chords(at) and name and self.sheet.names.is_full(name):
            return SectionStart(name, 1, "", (remark,), guessed=True)
        return None

    def _with_commas(self, at: int, text: str) -> SectionStart | None:
        """A section's name and, behind commas, who plays it, over its chords ("v1, me"), or whose
        music it has ("v3, no drums, chords as v1"); an earlier name cut short alone."""
        under = self.sheet.is_row(at - 1) and self.sheet.headings[at - 1] is None
        if len(text) > LONGEST or self.sheet.is_row(at):
            return None
        chords_as = "chords" in text.casefold() and _CHORDS_AS.search(text) is not None
        if under and not chords_as and "," not in text:
            return None
        name, *said = [part.strip(" .") for part in _CHORDS_AS.sub(r", ", text).split(",")]
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

    def _over_chords(self, at: int, text: str) -> SectionStart | None:
        """A section's full name with something said of it, alone right above a row of chords."""
        end = self.sheet.names.end_at(text)
        name, said = text[:end].strip(), text[end:].strip(" ,;:.–—-")
        few = 0 < len(said.split()) <= _MOST_WORDS_SAID_OF_A_NAME
        if not end or not few or not self.sheet.stands_over_chords(at):
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
        counted = _COUNT_BEHIND.search(text)
        bare = text[: counted.start()] if counted is not None else text
        letters = letters_of(_HINT.sub("", bare))
        times = times_of(counted[0]) if counted is not None else 1
        sung = (words for key, words in sheet.first_words.items() if key[0] == "chorus")
        if len(letters) < _FEWEST_LETTERS or not any(one.startswith(letters) for one in sung):
            return None
        names = [one.kind.name for one in self.known if isinstance(one.kind, SectionStart)]
        for name in reversed(names[:-1]):
            key = section_key(name)
            begins = key[0] == "chorus" and sheet.first_words.get(key, "").startswith(letters)
            if begins and name != names[-1]:
                return SectionStart(name, max(1, times), guessed=True)
        return None

    def _equal_to_another(self, at: int, text: str) -> SectionStart | None:
        """A section of any name that has the music of an earlier one ("Dance break = refrain")."""
        match = _EQUAL.fullmatch(text) if "=" in text and len(text) <= LONGEST else None
        if match is None or self.sheet.is_chords(match["name"]):
            return None
        other = match["other"].strip()
        known = section_key(other)[0] in self.names.kinds and self.sheet.names.is_full(other)
        if not known:
            return None
        return self._learned(SectionStart(match["name"], like=other, guessed=True))

    def _played_after(self, at: int, text: str) -> SectionStart | None:
        """An earlier section that a sentence asks for again ("After B play A again and go to the
        coda")."""
        match = _AFTER.fullmatch(text) if len(text) <= LONGEST else None
        name = match["name"].strip() if match is not None else ""
        known = name in self.names.letters or section_key(name) in self.names.keys
        return SectionStart(name, remarks=(text,), guessed=True) if name and known else None

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

    def _like_another(self, at: int, text: str) -> SectionStart | None:
        """A section of any name that has the music of one above ("Fiddle: as the verse", "Dance
        break (chords of the chorus)"), alone with nothing under it; None for any other line."""
        match = _NAME_AND_LIKE.fullmatch(text) if len(text) <= LONGEST else None
        if match is None or not self.sheet.is_empty(at - 1):
            return None
        if text[0].islower() and not self._in_small_letters():
            return None
        said = (match["said"] or match["behind"]).strip()
        other = section_meant(said)
        if not other or not (self.sheet.names.is_full(other) or is_short_name(other)):
            return self._refers(at, match["name"], said)
        if section_key(other)[0] not in self.names.kinds or is_about_the_song(text):
            return self._refers(at, match["name"], said)
        return SectionStart(match["name"], 1, other, guessed=True)

    def _in_small_letters(self) -> bool:
        """Whether the names of all sections above are typed without a capital letter."""
        names = self.names_above()
        return bool(names) and not any(name[0].isupper() for name in names if name)

    def _refers(self, at: int, name: str, said: str) -> SectionStart | None:
        """A section of any name alone on its line, of which words say whose music it has."""
        few = len(said.split()) <= _MOST_WORDS_THAT_REFER and self.sheet.is_empty(at + 1)
        begins, other = place_and_name(said, self.names_above()) if few else (0, "")
        plain = begins == 0 or self.sheet.names.may_name(name)
        plain = plain or len(said.split()) <= _FEW_WORDS
        if not other or not (plain or says_whose(said)) or names_a_fact(said):
            return None
        counted = _COUNT_BEHIND.search(said)
        times = times_of(counted[0]) if counted is not None else 1
        own = section_key(name)[0] in self.names.kinds
        return None if own else SectionStart(name, max(1, times), other, (said,), guessed=True)

    def _in_a_sentence(self, at: int, text: str) -> SectionStart | None:
        """A section alone on its line that has the music of one above by a few words behind its
        name ("Solo d'accordéon sur le couplet"); None for any other line."""
        short = len(text) <= LONGEST and len(text.split()) <= _MOST_WORDS_THAT_REFER
        if not short or not (self.sheet.is_empty(at - 1) and self.sheet.is_empty(at + 1)):
            return None
        name, other, more = name_and_other(text, self.names_above())
        if not other:
            return self._over_something(text)
        if section_key(name)[0] in self.names.kinds:
            return None
        return SectionStart(name, 1, other, (more,) if more else (), guessed=True)

    def _over_something(self, text: str) -> SectionStart | None:
        """A solo whose name stands alone on a line with what it is played over ("Piano solo over
        AAB"), which nothing is called; None for any other line."""
        end = self.sheet.names.end_at(text)
        said = text[end:].strip()
        solo = bool(said) and section_key(text[:end])[0] in _PLAYED_OVER
        if not solo or not OVER_OR_LIKE.match(said):
            return None
        return SectionStart(text[:end].strip(), 1, "", (said,), guessed=True)

    def _once_more(self, at: int, text: str) -> SectionStart | None:
        """An earlier section by its very name, alone on its line, with what is said of it ("Parte B
        de novo", "Omkvæd x3, meget langsomt"); None for any other line."""
        alone = self.sheet.is_empty(at - 1) and self.sheet.is_empty(at + 1)
        if not alone or len(text.split()) > _MOST_WORDS_THAT_REFER + 2 or len(text) > LONGEST:
            return None
        low, names = text.casefold(), self.names_above()
        name = next((o for o in names if o and low.startswith(o.casefold())), "")
        behind = text[len(name) :]
        if not name or behind[:1].isalnum() or (len(name) == 1 and name not in self.names.letters):
            return None
        if _AGAIN.fullmatch(behind.strip(" ,–-()")):
            return SectionStart(name, guessed=True)
        if until := _UNTIL.match(behind):
            return SectionStart(name, 1, "", (until["said"],), guessed=True)
        more = _MORE_BEHIND.fullmatch(behind)
        if more is None or not (more["times"] or len(name) == 1):
            return None
        times = times_of(more["times"] or "")
        said = (more["said"].strip(" ()"),) if more["said"] else ()
        return SectionStart(name, max(1, times), "", said, guessed=True)

    def names_above(self) -> list[str]:
        """The names of the last sections above, the nearest first."""
        lately = self.known[: -_MOST_LINES_ABOVE - 1 : -1]
        return [one.kind.name for one in lately if isinstance(one.kind, SectionStart)]

    def _same_chords(self, at: int, text: str) -> Remark | None:
        """A line right under a name that says its chords are those of before, or of a section above
        that it names."""
        named = at > 0 and self.sheet.headings[at - 1] is not None
        if not named or len(text) > LONGEST:
            return None
        alone = self.sheet.is_empty(at + 1) and len(text.split()) <= _MOST_WORDS_THAT_REFER
        whose = alone and says_whose(text) and section_named_in(text, self.names_above()[1:])
        return Remark(text) if whose or AS_BEFORE.fullmatch(text.strip(" .:")) else None

    def _chords_for_another(self, at: int, text: str) -> SectionStart | None:
        """A section that has the chords of an earlier one by a sentence ("Play the verse chords for
        the solo"); None for any other line."""
        match = _FOR_ANOTHER.fullmatch(text) if len(text) <= LONGEST else None
        if match is None or section_key(match["other"])[0] not in self.names.kinds:
            return None
        plain = all(self.sheet.names.is_full(match[part]) for part in ("name", "other"))
        return SectionStart(match["name"], 1, match["other"], guessed=True) if plain else None

    def _same_as_first(self, at: int, text: str) -> SectionStart | None:
        """A section that is said to be as an earlier one ("2nd verse same as first"), apart."""
        match = _SAME_AS.fullmatch(text) if len(text) <= LONGEST else None
        name = match["name"] if match is not None else ""
        if match is None or not self.sheet.names.is_full(name) or not self.sheet.is_empty(at - 1):
            return None
        kind = section_key(name)[0]
        other = match["other"].casefold()
        like = f"{kind} 1" if other in _FIRST else other if self.sheet.names.end_at(other) else ""
        known = bool(like) and section_key(like)[0] in self.names.kinds
        return SectionStart(name, 1, like, guessed=True) if known else None

    def _over_a_name(self, at: int, text: str) -> Remark | Note | None:
        """What is said to the players with a colon, apart, right above a section's name ("All
        together now:")."""
        below = self.sheet.headings[at + 1 : at + 2]
        said = text.endswith(":") and self.sheet.is_empty(at - 1) and below not in ([], [None])
        if not said or not self.names.kinds:
            return None
        return Note() if label_end(f"{text} ") else Remark(text)

    def _numbered_again(self, at: int, text: str) -> SectionStart | None:
        """A verse of which only the number is typed that is like an earlier one ("2) like 1)"), or
        once more that one ("I. again"); None for any other line."""
        match = _NUMBER_LIKE.fullmatch(text) if len(text) <= _LONGEST_NUMBERED else None
        if match is None or not self.sheet.is_empty(at - 1):
            return None
        names = [
            one.kind.name.strip(".") for one in self.known if isinstance(one.kind, SectionStart)
        ]
        meant = match["other"] or match["name"]
        if meant not in names:
            return None
        like = meant if match["other"] else ""
        return SectionStart(
            match["name"], 1, f"{like}." if like.isdecimal() else like, guessed=True
        )

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

    def _by_colon(self, at: int, line: Line) -> tuple[KnownLine, ...]:
        """A section of any name before a colon and its chords ("Kick off: D G A D"), where no
        words stand under these; nothing for any other line."""
        match = _ANY_NAME.fullmatch(line.text) if len(line.text) <= LONGEST else None
        if match is None or is_about_the_song(line.text):
            return ()
        empty = self.sheet.is_empty(at - 1) and self.sheet.is_empty(at + 1)
        barred = match["row"].startswith("|") and _OF_THE_END.fullmatch(match["name"]) is not None
        if _NO_SECTION.search(match["name"]) and not (barred and empty):
            return ()
        row = self.sheet.tokens.row(replace(line, text=" " * match.start("row") + match["row"]))
        below = self.sheet.lines[at + 1].text.strip() if at + 1 < len(self.sheet.lines) else ""
        if row is None or not is_music(row) or (below and self.sheet.rows[at + 1] is None):
            return ()
        last = not any(one.text for one in self.sheet.lines[at + 1 : at + _MOST_BELOW])
        if sum(token.kind in STRUCK for token in row) < 2 - last:
            return ()
        start = SectionStart(match["name"].strip(), guessed=True, with_chords=True)
        return KnownLine(line, start), KnownLine(line, Chords(row, behind_name=True))


def _says_who_or_how(text: str) -> bool:
    """Whether most of some words say who plays and how."""
    return count_words(text).share > _MOSTLY
