"""Lines that name a section: headings, names with more behind them, and steps of the form."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.text.kinds.line_kinds import Chords, KnownLine, Note, Remark, SectionStart
from chartkit.interchange.text.kinds.sheet_lines import LONGEST, SheetLines, verse_number
from chartkit.interchange.text.kinds.unnamed_lines import words_of
from chartkit.interchange.text.lines import Line, without_pictures
from chartkit.interchange.text.names.headings import Heading
from chartkit.interchange.text.names.unknown_names import is_also_a_name, of_two_names
from chartkit.interchange.text.quick_looks import BeginsWithWord
from chartkit.interchange.text.rows.inline_chords import are_sung_with_chords
from chartkit.interchange.text.section_lines.begun_as_above import (
    begun_as_above,
    is_own_name_told,
    section_begun,
)
from chartkit.interchange.text.section_lines.form_lines import FormLines
from chartkit.interchange.text.section_lines.named_parts import (
    is_fill,
    named_part,
    section_with_lent_music,
    unsung_section,
)
from chartkit.interchange.text.section_lines.names_again import (
    NamesAbove,
    is_under_chords,
    one_again,
    several_again,
)
from chartkit.interchange.text.section_lines.names_by_place import NamesByPlace
from chartkit.interchange.text.section_lines.names_with_more import (
    MOST_WORDS_OVER_CHORDS,
    NamesWithMore,
)
from chartkit.interchange.text.song_form.steps import KnownNames, Step
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.facts import facts_of
from chartkit.interchange.text.vocabulary.reference_lines import is_tablature
from chartkit.interchange.text.vocabulary.references import says_whose, section_named_in
from chartkit.interchange.text.vocabulary.section_names import (
    IN_KEY,
    is_plainest_name,
    is_short_name,
    section_key,
)
from chartkit.interchange.wording import section_name

_OF_VERSES = BeginsWithWord(
    r"(?:all |other |the )*"
    r"(?:verses|stanzas|strophen|couplets|estrofas|versos|strofe|verser|strofen)\s+"
    r"(?:\d{1,2}|two|three|four)(?:\s*(?:,|&|\+|-|–|and|und|to|bis|et|y|e|en|og|och)\s*(?:\d{1,2}|three|"
    r"four|five|six)){1,5}\s*[:,–-]?\s*(?:are\s+|go\s+|is\s+)?(?:on |to |with |over )?(?:the\s+)?"
    r"(?:same|like|as|gleiche?n?|wie|mêmes?|comme|mism[oa]s?|como|stess[ei]|come|zelfde|als|samma|som)\b"
    r".{0,40}",
)
"""What is said of several verses together."""
_SQUARED_AND_MORE = re.compile(r"\s*\[\s*(?P<name>[^\[\]|]{1,40}?)\s*\]\s*[:,;–—-]?\s*(?=[^\W_])")
_LETTER_NAME = re.compile(r"[A-Z]|[A-H]\d")
_IN_KEY = re.compile(IN_KEY, re.IGNORECASE)
_MOST_WORDS_OF_A_NAME = 4
_PLAYED_AS_TYPED = frozenset({"riff", "lick"})
"""What tablature shows and is no section by itself."""


class NamedLines:
    """Reads lines that name sections; keeps the names and the lines known so far."""

    def __init__(self, sheet: SheetLines, known: list[KnownLine]) -> None:
        self.sheet, self.known = sheet, known
        self.names = KnownNames(all=sheet.names)
        self.plain_names = KnownNames()
        self.form = FormLines(sheet, self.names)
        self.places = NamesByPlace(sheet, known, self.names)
        self.above = NamesAbove(known)
        self.more = NamesWithMore(sheet, known, self.names, self.form, self.places)

    def read(self, at: int, line: Line) -> list[KnownLine]:
        """The known lines for a line that names a section; nothing for others."""
        text = line.text.strip()
        if not text:
            return []
        plain = without_pictures(line)
        bare = plain.text.strip()
        verses = len(text) <= LONGEST and _OF_VERSES.fullmatch(text) is not None
        if verses or self.form.names_kind_of_song(at):
            return [KnownLine(line, Note())]
        heading = self.sheet.headings[at]
        if line is not self.sheet.lines[at] or plain is not line:
            heading = self.sheet.names.heading_of(bare)
        if self._says_whose_under_name(at, text):
            return [KnownLine(line, Remark(text.strip("()")))]
        if at in self.sheet.numbered:
            return list(self._numbered(at, line))
        if self._names_tablature(at, text) or self._says_it_is_spoken(at, text):
            return [KnownLine(line, Remark(text.rstrip(": ")))]
        if again := self._again(at, plain):
            return again
        if (part := named_part(self.sheet, self.known, self.names, at)) is not None:
            return self._opened(line, part)
        whole = heading is not None and heading.rest_at is None
        begun = None if whole else begun_as_above(self.sheet, self.above, at, bare)
        if begun is not None and is_own_name_told(self.sheet, begun):
            return self._opened(line, begun)
        if heading is not None:
            return self._by_heading(at, line, heading)
        if are_sung_with_chords(line, self.sheet.tokens):
            return []
        if (own := self._own_in_brackets(line)) is not None:
            return [KnownLine(line, own)]
        if read := self._by_steps(at, line):
            return read
        return self._opened(line, section_begun(self.sheet, self.above, at, bare, begun))

    def _opened(self, line: Line, start: SectionStart | None) -> list[KnownLine]:
        """A line that a section starts with, whose name is kept; nothing where none does."""
        if start is not None:
            self.names.add(start.name)
        return [KnownLine(line, start)] if start is not None else []

    def _by_heading(self, at: int, line: Line, heading: Heading) -> list[KnownLine]:
        """What a line is that begins with a heading: that section, or what the head says, or a
        remark."""
        text = line.text.strip()
        if self._is_of_the_head(at, heading):
            return [KnownLine(line, Note())]
        fill = self.names.kinds and is_fill(self.sheet, at, heading)
        told = self._is_told(at, text, heading) or self.form.tells_how_it_ends(at, heading)
        if fill or told:
            return [KnownLine(line, Remark(heading.name if fill else text.strip("()*#~=- ")))]
        result = list(self._heading(at, without_pictures(line), heading))
        self._learn(text, heading)
        return result

    def _by_steps(self, at: int, line: Line) -> list[KnownLine]:
        """What a line is that names steps of the form: these, a remark or a note; or a section
        that only its place shows.  Nothing for other lines."""
        text, plain = line.text.strip(), without_pictures(line)
        if lent := section_with_lent_music(self.sheet, self.known, self.names, at):
            return self._opened(line, lent)
        steps = self.form.steps(at, plain)
        if not steps:
            read = self.places.read(at, line, plain.text.strip()) or self._squared(at, plain)
            solo = unsung_section(self.sheet, self.known, self.names, at) if not read else None
            return [KnownLine(line, solo)] if solo is not None else read
        if self.form.are_sung(at, self.known, steps):
            return []
        if self.form.are_remarks(text, steps) or self.form.is_sentence(text, steps):
            return [KnownLine(line, Remark(text))]
        if self._stands_under_name(at, text, steps):
            return [KnownLine(line, Remark(text.strip("()")))]
        if self._speaks_of_a_chord(text, steps) or self.form.end_within(at, steps):
            return [KnownLine(line, Remark(text.strip("()")))]
        if self.form.are_played(at, steps):
            return list(self.form.played(at, plain, steps))
        named = self.places.read(at, line, plain.text.strip()) or self._squared(at, plain)
        return named or [KnownLine(line, Note())]

    def _squared(self, at: int, line: Line) -> list[KnownLine]:
        """A known name in square brackets with words behind it that are no step of the form
        ("[Verse 2] add shaker"); nothing for any other line."""
        match = _squared_and_more(line.text)
        heading = self.sheet.names.heading_of(match["name"]) if match is not None else None
        if match is None or heading is None or heading.rest_at is not None:
            return []
        if not self.sheet.names.is_known(heading.name):
            return []
        remarks = (heading.remark,) if heading.remark else ()
        start = SectionStart(heading.name, heading.times, "", remarks)
        rest = replace(line, text=" " * match.end() + line.text[match.end() :])
        said = rest.text.strip()
        alone = self.sheet.is_empty(at + 1) and section_key(heading.name)[0] in self.names.kinds
        self._learn(match["name"], heading)
        below = [line.text.strip() for line in self.sheet.lines[at + 1 : at + 2]]
        few = len(said.split()) <= MOST_WORDS_OVER_CHORDS and said[0].islower()
        if few and (alone or any(text[:1].isupper() for text in below)):
            return [KnownLine(line, replace(start, remarks=(*remarks, said), guessed=True))]
        return [KnownLine(line, start), KnownLine(rest, self.more.kind_behind(rest))]

    def _own_in_brackets(self, line: Line) -> SectionStart | None:
        """A section of any name in square brackets, with what is said behind it in small letters,
        in a sheet whose names all stand so ("[STOP] drums fill two bars"); None for others."""
        match = _squared_and_more(line.text)
        said = line.text[match.end() :].strip() if match is not None else ""
        if match is None or not said[0].islower():
            return None
        goes_on = self._goes_on(match["name"])
        if not (self.sheet.has_squared_names or (goes_on and self._stands_squared(match["name"]))):
            return None
        known = self.sheet.names.is_known(match["name"]) or self.sheet.is_chords(match["name"])
        bare = (known and not goes_on) or self.sheet.tokens.row(line) is not None
        return None if bare else SectionStart(match["name"], 1, "", (said,), guessed=True)

    def _names_tablature(self, at: int, text: str) -> bool:
        """Whether a line says what the tablature right below it is ("riff in the intro:")."""
        below = self.sheet.lines[at + 1].text if at + 1 < len(self.sheet.lines) else ""
        if "|" not in below:
            return False
        first, *more = [word.strip(",:()") for word in text.split()]
        where = any(map(self.sheet.names.is_known, more))
        return section_key(first)[0] in _PLAYED_AS_TYPED and where and is_tablature(below)

    def _says_it_is_spoken(self, at: int, text: str) -> bool:
        """Whether a line right under a bare name says that its words are spoken, and more ("spoken,
        over the same chords")."""
        above = self.sheet.headings[at - 1] if at else None
        if above is None or above.rest_at is not None:
            return False
        word, _, more = text.partition(",")
        return bool(more.strip()) and section_key(word)[0] == "spoken"

    def _goes_on(self, letter: str) -> bool:
        """Whether a letter follows on those that name the sections above ("C" after "A", "B")."""
        above = {name[0] for name in self.names.letters}
        return len(letter) == 1 and letter > "A" and chr(ord(letter) - 1) in above

    def _stands_squared(self, letter: str) -> bool:
        """Whether the letter before this one stands alone on a line, in square brackets."""
        before = f"[{chr(ord(letter) - 1)}]"
        return any(line.text.strip() == before for line in self.sheet.lines)

    def _again(self, at: int, line: Line) -> list[KnownLine]:
        """Earlier sections that a line asks for by short names, or by several at once."""
        row = self.sheet.rows[at]
        if row is not None and all(token.kind == "chord" for token in row):
            return []
        if is_under_chords(self.sheet, at):
            return []  # it is sung: no line of that kind stands there
        if not self.above.look():
            return []
        text = line.text.strip()
        again = one_again(self.sheet, self.names, self.above, at, text)
        starts = (again,) if again else several_again(self.sheet, self.names, self.above, at, text)
        return [KnownLine(line, start) for start in starts]

    def _says_whose_under_name(self, at: int, text: str) -> bool:
        """Whether a line in parentheses right under a name says whose music its section has."""
        above = self.sheet.headings[at - 1] if at else None
        inside = text.startswith("(") and text.endswith(")") and text.count("(") == 1
        inside = inside and not (at and self.sheet.lines[at - 1].text.lstrip().startswith("("))
        if not inside or above is None or above.rest_at is not None or not says_whose(text):
            return False
        return section_named_in(text, self.places.names_above()[1:]) != ""

    def _is_of_the_head(self, at: int, heading: Heading) -> bool:
        """Whether a label cut short stands right under a setting, before any name and any chords,
        as what a head says ("ref: the demo")."""
        begun = bool(self.names.kinds) or any(isinstance(one.kind, Chords) for one in self.known)
        if begun or heading.rest_at is None or not is_short_name(heading.name) or not at:
            return False
        rest = replace(self.sheet.lines[at], text=self.sheet.lines[at].text[heading.rest_at :])
        return self.sheet.tokens.row(rest) is None and bool(facts_of(self.sheet.lines[at - 1].text))

    def _is_told(self, at: int, text: str, heading: Heading) -> bool:
        """Whether a line in parentheses that begins with a section's name and a colon stands right
        under another name: it says who plays there ("(solo: Marcia)"); or one that names no
        section of the sheet stands there alone ("(big finish)"), or says how that one is played
        ("(build up)")."""
        whole = text[:1] + text[-1:] == "()" and text.count("(") == 1
        above = self.sheet.headings[at - 1] if at else None
        named = above is not None and above.rest_at is None
        plain = not (at and self.sheet.lines[at - 1].text.lstrip().startswith("("))
        new = section_key(heading.name)[0] not in self.names.kinds and self.sheet.is_empty(at + 1)
        new = (new and plain) or (named and self._says_how_it_is_played(heading.name))
        return whole and named and (":" in text or "," in text or new)

    def _says_how_it_is_played(self, name: str) -> bool:
        """Whether a name is a direction as well, and no section above is called so."""
        self.above.look()
        return is_direction(name) and name.casefold() not in self.above.by_text

    def _stands_under_name(self, at: int, text: str, steps: Sequence[Step]) -> bool:
        """Whether a line in parentheses stands between a section's name and its chords, or alone
        under the name and names no section of the sheet ("(final hit on C)")."""
        above = self.sheet.headings[at - 1] if at else None
        known = any(section_key(one.name)[0] in self.names.kinds for one in steps)
        alone = self.sheet.is_empty(at + 1) and not known
        plain = above is not None and above.rest_at is None and (self.sheet.is_row(at + 1) or alone)
        return plain and text.startswith("(") and text.endswith(")") and text.count("(") == 1

    def _speaks_of_a_chord(self, text: str, steps: Sequence[Step]) -> bool:
        """Whether a line in parentheses that could be a step of a name that the sheet does not
        have names one chord within a sentence ("(drum fill, up to A)")."""
        whole = text[:1] + text[-1:] == "()" and text.count("(") == 1
        if not whole or len(steps) != 1 or len(steps[0].row.split()) != 1:
            return False
        new = section_key(steps[0].name)[0] not in self.names.kinds
        return new and not self.sheet.names.is_known(steps[0].name)

    def _numbered(self, at: int, line: Line) -> Iterator[KnownLine]:
        """The start of a verse by its number, above its chords; and its words."""
        match = verse_number(line.text)
        assert match is not None
        start = KnownLine(line, SectionStart(f"{match[1]}."))
        words = replace(line, text=" " * match.end() + line.text[match.end() :])
        self._learn_verse(match[1])
        row = self.sheet.tokens.row(words)
        if row is not None:
            yield start
            yield KnownLine(words, Chords(row))
            return
        if self.known and isinstance(self.known[-1].kind, Chords):
            self.known.insert(-1, start)
        else:
            yield start
        yield KnownLine(words, words_of(words, self.sheet.tokens))

    def _learn_verse(self, number: str) -> None:
        self.names.add(f"{number}.")
        self.plain_names.add(f"{number}.")

    def _heading(self, at: int, line: Line, heading: Heading) -> Iterator[KnownLine]:
        """A heading, with what stands behind it on its line."""
        if heading.rest_at is not None:
            yield from self.more.read(at, line, heading)
            return
        if heading == Heading(line.text) and is_plainest_name(line.text):
            yield KnownLine(line, SectionStart(heading.name))
            return
        inner = line.text.strip().removeprefix("[").removesuffix("]")
        squared = line.text.strip().startswith("[") and "]" not in inner
        squared = squared and not self.sheet.names.is_known(heading.name)
        own = self.sheet.has_squared_names and self.sheet.is_row(at + 1)
        own = own and (inner.casefold() in self.sheet.counted_in_squares or is_also_a_name(inner))
        own = own or inner.casefold() in self.above.typed
        if squared and not own and (self._is_said(inner) or inner in self.sheet.names.asides):
            yield KnownLine(line, Remark(inner))
            return
        if self._repeats_unnamed(at, line.text.strip(), heading):
            yield KnownLine(line, Remark(line.text.strip(" ()")))
            return
        in_key = _IN_KEY.search(heading.name) is not None
        more = (
            (not in_key and "(" in line.text + heading.name)
            or heading.remark
            or self._says_more(heading.name)
        )
        steps = self.form.steps(at, line, sure=True) if more else ()
        named = in_key or not self._says_more(heading.name)
        counted = steps and steps[0].times > heading.times
        if len(steps) == 1 and self._says_key(at, steps[0]):
            remarks = (*steps[0].remarks, steps[0].row)
            yield KnownLine(line, SectionStart(steps[0].name, steps[0].times, "", remarks))
            return
        if len(steps) == 1 and (steps[0].like or steps[0].row or counted or not named):
            yield from self.form.played(at, line, steps)
            return
        remarks = (heading.remark,) if heading.remark else ()
        yield KnownLine(line, SectionStart(heading.name, heading.times, "", remarks))

    def _says_key(self, at: int, step: Step) -> bool:
        """Whether the one chord beside a name is the key of the rows below ("Last chorus (C)")."""
        return len(step.row.split()) == 1 and self.sheet.is_row(at + 1)

    def _learn(self, text: str, heading: Heading) -> None:
        """Keeps the name of a heading for the lines below."""
        bare = heading.name.partition(" (")[0]
        if _LETTER_NAME.fullmatch(bare):
            self.names.letters.add(bare)
        self.names.called[heading.name] = None
        if not self.sheet.names.is_known(heading.name):
            return
        if not text.startswith("("):
            self.plain_names.add(heading.name)
        if not (text.startswith("(") and heading.times > 1):
            self.names.add(heading.name)

    def _is_said(self, text: str) -> bool:
        """Whether words in square brackets name no section but tell the players something."""
        names = self.sheet.names
        if names.is_known(text) or names.end_at(text) or any(map(str.isdigit, text[:1])):
            return False
        return is_direction(text) or len(text.split()) > _MOST_WORDS_OF_A_NAME

    def _says_more(self, name: str) -> bool:
        """Whether a name in brackets is a section's with more behind it."""
        known = self.sheet.names.is_known(name) or of_two_names(name) is not None
        return not known and self.sheet.names.end_at(name) > 0

    def _repeats_unnamed(self, at: int, text: str, heading: Heading) -> bool:
        """Whether a line in parentheses asks to repeat a section, and no section has that name."""
        called = section_key(heading.name)[0] in self.plain_names.kinds
        again = heading.times > 1 or section_name(text.strip("() ")) != heading.name
        again = again and not (heading.times == 1 and self.sheet.stands_over_chords(at))
        return text.startswith("(") and text.endswith(")") and again and not called


def _squared_and_more(text: str) -> re.Match[str] | None:
    """What stands in square brackets before other words; None where nothing does."""
    short = "[" in text and len(text) <= LONGEST
    return _SQUARED_AND_MORE.match(text) if short else None
