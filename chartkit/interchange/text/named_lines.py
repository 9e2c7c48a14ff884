"""Lines that name a section: headings, names with more behind them, and steps of the form."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.text.directions import count_words, is_direction
from chartkit.interchange.text.facts import is_counted_rest
from chartkit.interchange.text.form import steps_of
from chartkit.interchange.text.form_words import LIKE_ANOTHER, OVER_OR_LIKE, PLAYED_AGAIN
from chartkit.interchange.text.headings import Heading, heading_of
from chartkit.interchange.text.inline_chords import chords_within
from chartkit.interchange.text.line_kinds import (
    Chords,
    ChordsWithin,
    KnownLine,
    LineKind,
    Note,
    Remark,
    SectionStart,
    Silence,
    Tablature,
    Words,
)
from chartkit.interchange.text.lines import Line, is_picture
from chartkit.interchange.text.reference_lines import is_about_the_song, is_tablature
from chartkit.interchange.text.section_names import (
    IN_KEY,
    SUNG_OR_SAID,
    full_name_at,
    is_known_name,
    is_short_name,
    may_name_a_section,
    section_key,
)
from chartkit.interchange.text.sheet_lines import (
    LONGEST,
    Row,
    SheetLines,
    is_music,
    letters_of,
    verse_number,
)
from chartkit.interchange.text.steps import KnownNames, Step
from chartkit.interchange.text.times_played import ANY_TIMES, times_of
from chartkit.interchange.text.tokens import STRUCK
from chartkit.interchange.text.unknown_names import of_two_names
from chartkit.interchange.text.unnamed_lines import aside_of, words_of
from chartkit.interchange.wording import section_name

_MAY_BEGIN_FORM = re.compile(
    r"\s*(?:[-–—*•>]+\s+)?[\[(<]?(?:\d{1,2}\s?[x×]\s*)?[^\W\d_][\w.’'-]*", re.IGNORECASE
)
_COUNTS = re.compile(r"\b\d{1,3}\s?(?:bars?|takte?|measures?|compases|mesures)\b", re.IGNORECASE)
_ANY_NAME = re.compile(r"\s*(?P<name>[^\W\d_][^\W_]*(?:[ -][^\W_]+){0,2})\s*:\s+(?P<row>[A-H|(].*)")
_NO_SECTION = re.compile(
    r"\b(?:time|chords?|akkorde|acordes|accords|key|capo|last|first|end|or|like|walk|run|play|"
    r"note|use|uses|used|alt|alternative|shapes?|turn|mal|then|change|changes|pattern)\b",
    re.IGNORECASE,
)
"""Words before a colon that say something of the chords behind it."""
_OF_THE_LAST = re.compile(
    r"\s*(?:the\s+)?(?:last|final|letzter?|dernier|último|1st|2nd|second) ", re.IGNORECASE
)
"""How a remark on a section begins that is no section of its own ("Last chorus: slow down")."""
_OF_VERSES = re.compile(
    r"(?:all |other |the )*"
    r"(?:verses|stanzas|strophen|couplets|estrofas|versos|strofe|verser|strofen)\s+"
    r"(?:\d{1,2}|two|three|four)(?:\s*(?:,|&|\+|-|–|and|und|to|bis|et|y|e|en|og|och)\s*(?:\d{1,2}|three|"
    r"four|five|six)){1,5}\s*[:,–-]?\s*(?:are\s+|go\s+|is\s+)?(?:on |to |with |over )?(?:the\s+)?"
    r"(?:same|like|as|gleiche?n?|wie|mêmes?|comme|mism[oa]s?|como|stess[ei]|come|zelfde|als|samma|som)\b"
    r".{0,40}",
    re.IGNORECASE,
)
"""What is said of several verses together."""
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
    r"(?P<name>[^\W\d_][^\W_]*(?:[ -][^\W_]+){0,3})\s*=\s*(?P<other>[^\W\d_][^=:|]{0,25})"
)
_THE_LAST = re.compile(r"(?:the\s+)?(?:last|final|letzter?|dernier|último) ", re.IGNORECASE)
_ENDS_ON = re.compile(
    r"(?:(?:we|all)\s+)?(?:stops?|ends?|hold|finish|close|aufhören|endet|finir|termina)\s+"
    r"(?:on|with|auf|mit|sur|en|em|su)\s+",
    re.IGNORECASE,
)
_LETTER_NAME = re.compile(r"[A-Z]|[A-H]\d")
_IN_KEY = re.compile(IN_KEY, re.IGNORECASE)
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
    r"(?P<name>[^\W\d_a-z][^\W\d_]*(?:[ -][^\W\d_]+){0,2})\s*(?:\((?P<said>[^()]{4,60})\)|"
    r"\s*[:=–—]\s*(?P<behind>.{4,60}))[.]?"
)
_JUMP_TO = re.compile(
    r"(?:[^\W\d_]+ ){0,2}D\.?\s?[SC]\.?\s+to\s+(?:the\s+)?"
    r"(?P<name>[A-H]\d?(?!\w)|[^\W\d_]{3,}(?: \d)?)",
    re.IGNORECASE,
)
_HINT = re.compile(r"(?:\.{2,}|…|\betc\.?)\s*$", re.IGNORECASE)
_MOST_WORDS_OF_A_REMARK = 3
_MOST_WORDS_OVER_CHORDS = 8
_MOST_WORDS_SAID_OF_A_NAME = 6
_MOST_WORDS_OF_A_NAME = 4
_FEWEST_OF_ITS_OWN = 3
"""At least this many chords are a section's own music, not its ending."""
_LONGEST_SHORT = 6
_MOSTLY = 0.7
_MOST_BELOW = 6
"""So many empty lines below are the end of a sheet."""
_MOST_LINES = 2_000
"""A longer text is a book of songs, in which many refrains begin with the same words."""
_FEWEST_LETTERS = 6
_COUNT_WITHIN = re.compile(ANY_TIMES, re.IGNORECASE)
_COUNT_BEHIND = re.compile(rf"(?<!\s)\s*[(\[]?\s?{ANY_TIMES}\s?[)\]]?\s*$", re.IGNORECASE)


class NamedLines:
    """Reads lines that name sections; keeps the names and the lines known so far."""

    def __init__(self, sheet: SheetLines, known: list[KnownLine]) -> None:
        self.sheet, self.known = sheet, known
        self.names = KnownNames()
        self.plain_names = KnownNames()

    def read(self, at: int, line: Line) -> list[KnownLine]:
        """The known lines for a line that names a section; nothing for others."""
        text, plain = line.text.strip(), _without_pictures(line)
        if len(text) <= LONGEST and _OF_VERSES.fullmatch(text) is not None:
            return [KnownLine(line, Note())]
        heading = self.sheet.headings[at]
        if line is not self.sheet.lines[at] or plain is not line:
            heading = heading_of(plain.text.strip())
        if at in self.sheet.numbered:
            return list(self._numbered(at, line))
        if heading is not None:
            result = list(self._heading(at, plain, heading))
            self._learn(text, heading)
            return result
        steps = self._steps(at, plain)
        if self._are_told(text, steps):
            return [KnownLine(line, Remark(text))]
        if steps and self._are_played(at, steps):
            return list(self._form(at, plain, steps))
        if (start := self._named_for_player(at, text)) is not None:
            return [KnownLine(line, start)]
        if (start := self._jumped_to(at, text)) is not None:
            return [KnownLine(line, start)]
        if (singers := self._singers(at, text)) is not None:
            return [KnownLine(line, singers)]
        if (start := self._like_another(at, text)) is not None:
            return [KnownLine(line, start)]
        if (start := self._named_with_commas(at, text)) is not None:
            self.names.add(start.name)
            return [KnownLine(line, start)]
        if named := self._named_by_colon(at, line):
            return list(named)
        if (start := self._named_over_chords(at, text)) is not None:
            self.names.add(start.name)
            return [KnownLine(line, start)]
        if (start := self._called_by_first_words(at, text)) is not None:
            return [KnownLine(line, start)]
        bare = plain.text.strip()
        if self._is_short_alone(at, bare):
            self.names.add(bare.rstrip(".:"))
            return [KnownLine(line, SectionStart(bare.rstrip(".:"), guessed=True))]
        if (start := self._equal_to_another(text)) is not None:
            self.names.add(start.name)
            return [KnownLine(line, start)]
        if (again := self._played_after(text)) is not None:
            return [KnownLine(line, again)]
        if self._is_about_the_last(at, text):
            return [KnownLine(line, Remark(text))]
        return [KnownLine(line, Note())] if steps else []

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
            yield from self._with_rest(at, line, heading)
            return
        inner = line.text.strip().removeprefix("[").removesuffix("]")
        if line.text.strip().startswith("[") and "]" not in inner and self._is_said(inner):
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
        steps = self._steps(at, line, sure=True) if more else ()
        named = in_key or not self._says_more(heading.name)
        counted = steps and steps[0].times > heading.times
        if len(steps) == 1 and self._says_key(at, steps[0]):
            remarks = (*steps[0].remarks, steps[0].row)
            yield KnownLine(line, SectionStart(steps[0].name, steps[0].times, "", remarks))
            return
        if len(steps) == 1 and (steps[0].like or steps[0].row or counted or not named):
            yield from self._form(at, line, steps)
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
        if not is_known_name(heading.name):
            return
        if not text.startswith("("):
            self.plain_names.add(heading.name)
        if not (text.startswith("(") and heading.times > 1):
            self.names.add(heading.name)

    def _is_said(self, text: str) -> bool:
        """Whether words in square brackets name no section but tell the players something."""
        if is_known_name(text) or full_name_at(text, 0) or any(map(str.isdigit, text[:1])):
            return False
        return is_direction(text) or len(text.split()) > _MOST_WORDS_OF_A_NAME

    def _says_more(self, name: str) -> bool:
        """Whether a name in brackets is a section's with more behind it."""
        known = is_known_name(name) or of_two_names(name) is not None
        return not known and full_name_at(name, 0) > 0

    def _repeats_unnamed(self, at: int, text: str, heading: Heading) -> bool:
        """Whether a line in parentheses asks for the repeat of a section that nothing is called."""
        key = section_key(heading.name)
        called = key[0] in self.plain_names.kinds
        again = heading.times > 1 or section_name(text.strip("() ")) != heading.name
        return text.startswith("(") and text.endswith(")") and again and not called

    def _with_rest(self, at: int, line: Line, heading: Heading) -> Iterator[KnownLine]:
        assert heading.rest_at is not None
        start = len(line.text) - len(line.text.lstrip()) + heading.rest_at
        behind = line.text[start:].strip()
        rest = replace(line, text=" " * start + line.text[start:])
        row = self.sheet.tokens.row(rest)
        opened = SectionStart(heading.name, heading.times)
        over_letter = behind.split(" ")[0] in self.names.letters and self._steps(
            at, line, sure=True
        )
        if over_letter and over_letter[0].like:
            yield from self._form(at, line, over_letter)
        elif row is not None and is_music(row):
            yield KnownLine(line, replace(opened, with_chords=True))
            yield KnownLine(rest, Chords(row, behind_name=True))
        elif self._hints_at(heading.name, behind):
            yield KnownLine(line, replace(opened, guessed=True))
        elif remark := self._remark_behind(at, behind):
            yield KnownLine(line, replace(opened, remarks=(remark,), guessed=True))
        elif other := self._like_one_below(at, behind):
            yield KnownLine(line, replace(opened, like=other, guessed=True))
        elif self._has_chords_within(rest):
            yield KnownLine(line, opened)
            yield KnownLine(rest, self._rest(rest))
        elif not is_tablature(behind) and (steps := self._steps(at, line)):
            yield from self._form(at, line, steps)
        else:
            kind = Chords(row, True) if row is not None else self._rest(rest)
            above = self.known[-1] if self.known else None
            if isinstance(kind, Words) and above is not None and self._begins_under(at, above):
                self.known.insert(-1, KnownLine(line, opened))  # its chords stand above its name
            else:
                yield KnownLine(line, opened)
            yield KnownLine(rest, kind)

    def _like_one_below(self, at: int, text: str) -> str:
        """The section below whose music one has by the words behind its name; empty for others."""
        match = LIKE_ANOTHER.fullmatch(text.strip(" ()."))
        other = (match["other"] or match["own"] or "").strip() if match is not None else ""
        if not other or full_name_at(other, 0) != len(other):
            return ""
        kind = section_key(other)[0]
        below = any(key[0] == kind and place > at for key, place in self.sheet.later.items())
        return other if below and kind not in self.names.kinds else ""

    def _has_chords_within(self, rest: Line) -> bool:
        """Whether a text is words to be sung with chords in parentheses among them."""
        words = words_of(rest, self.sheet.tokens)
        return isinstance(words, ChordsWithin) and len(words.tokens) > 1

    def _begins_under(self, at: int, above: KnownLine) -> bool:
        """Whether a line with a name and words stands under its chords, and these apart."""
        alone = at < 2 or not self.sheet.lines[at - 2].text.strip()
        return isinstance(above.kind, Chords) and not above.kind.behind_name and alone

    def _rest(self, rest: Line) -> LineKind:
        text = rest.text.strip()
        if is_tablature(text):
            return Tablature()
        heading = heading_of(text)
        if heading is not None and heading.rest_at is None and is_known_name(heading.name):
            return Remark(text)
        return (
            Silence()
            if is_counted_rest(text)
            else aside_of(text) or words_of(rest, self.sheet.tokens)
        )

    def _remark_behind(self, at: int, text: str) -> str:
        """What is said to the players behind a section's name and its colon; nothing where it
        may be words, chords or a step."""
        if is_tablature(text):
            return ""
        if text[:1] + text[-1:] in ("[]", "()"):
            return "" if chords_within(Line(0, f"so {text}"), self.sheet.tokens) else text[1:-1]
        below = self.sheet.rows[at + 1 : at + 2]
        steps = OVER_OR_LIKE.match(text) or _COUNT_WITHIN.search(text)
        most = _MOST_WORDS_OF_A_REMARK if steps else _MOST_WORDS_OVER_CHORDS
        few = len(text.split()) <= most and text[:1].islower()
        return text if few and below not in ([], [None]) else ""

    def _hints_at(self, name: str, text: str) -> bool:
        """Whether a text is the beginning of the words of an earlier section of that name."""
        letters = letters_of(_HINT.sub("", text))
        sung = self.sheet.first_words.get(section_key(name), "")
        return (
            bool(_HINT.search(text) or len(letters) > 5)
            and bool(letters)
            and (sung.startswith(letters) or sung == letters)
        )

    def _steps(self, at: int, line: Line, sure: bool = False) -> tuple[Step, ...]:
        """The steps of the form that a line names."""
        text = line.text
        row = self.sheet.rows[at]
        if row is not None and not sure and is_music(row):
            return ()
        if len(text) > LONGEST or not (may_name_a_section(text) or self._asks_for_letter(text)):
            return ()
        if _MAY_BEGIN_FORM.match(text) is None:
            return ()
        steps = steps_of(text, self.sheet.is_chords, sure, self.names)
        under = at > 0 and self.sheet.rows[at - 1] is not None
        sure_sign = _COUNTS.search(text) or any(
            one.row or one.like or one.times > 1 for one in steps
        )
        if under and not sure and not sure_sign:
            return ()
        return steps

    def _asks_for_letter(self, text: str) -> bool:
        """Whether a text asks for a section again that is called by a letter ("Back to B")."""
        again = PLAYED_AGAIN.match(text.strip()) if self.names.letters else None
        return again is not None and text.strip()[again.end() :][:1].isupper()

    def _are_told(self, text: str, steps: Sequence[Step]) -> bool:
        """Whether sentences speak of steps of which one is not in the sheet ("Solos on AABA. Out
        head, then intro as ending."): they are told to the players."""
        if len(steps) < 2 or ". " not in text or not text.endswith("."):
            return False
        bare = (one for one in steps if not (one.row or one.like))
        return any(section_key(one.name)[0] not in self.names.kinds for one in bare)

    def _are_played(self, at: int, steps: Sequence[Step]) -> bool:
        """Whether steps are played here: a list of sections that come below is a plan."""
        if len(steps) < 2 or any(one.row or one.like for one in steps):
            return True
        steps = self._without_next(at, steps)
        return all(self.sheet.later.get(section_key(one.name), -1) <= at for one in steps)

    def _without_next(self, at: int, steps: Sequence[Step]) -> Sequence[Step]:
        """The steps without a last one that is the section right below ("…, then Coda")."""
        lines = self.sheet.lines
        below = next((i for i in range(at + 1, len(lines)) if lines[i].text.strip()), None)
        following = self.sheet.headings[below] if below is not None else None
        if len(steps) < 2 or following is None or self.sheet.is_row(at + 1):
            return steps
        return steps[:-1] if section_key(following.name) == section_key(steps[-1].name) else steps

    def _form(self, at: int, line: Line, steps: Sequence[Step]) -> Iterator[KnownLine]:
        """The sections that a line of form names; a remark on one of them is no step."""
        first = steps[0]
        if self._leads_to_last(at, line, steps):
            start = SectionStart(steps[-1].name, remarks=(line.text.strip(" :"),), guessed=True)
            self.names.add(start.name)
            yield KnownLine(line, start)
            return
        played = len(first.row.split()) >= _FEWEST_OF_ITS_OWN
        said_of = first.remarks and not (first.like or played or first.times > 1)
        said_of = said_of and not self._stands_over_chords(at)
        if said_of and len(steps) == 1 and _OF_THE_LAST.match(line.text.strip(" ([")):
            yield KnownLine(line, Remark(line.text.strip(" ()[]")))
            return
        for step in self._without_next(at, steps):
            self.names.add(step.name)
            if _LETTER_NAME.fullmatch(step.name):
                self.names.letters.add(step.name)
            row = self._row_of(step, line)
            yield KnownLine(
                line,
                SectionStart(step.name, step.times, step.like, step.remarks, True, row is not None),
            )
            if row is not None:
                yield KnownLine(line, Chords(row, behind_name=True))

    def _leads_to_last(self, at: int, line: Line, steps: Sequence[Step]) -> bool:
        """Whether a line names sections that are not in the sheet and then, with a colon, the one
        whose chords stand below ("Head - solos - head, then tag:")."""
        if len(steps) < 2 or not line.text.rstrip().endswith(":") or not self.sheet.is_row(at + 1):
            return False
        plain = not any(one.row or one.like for one in steps)
        return plain and not any(section_key(one.name)[0] in self.names.kinds for one in steps[:-1])

    def _row_of(self, step: Step, line: Line) -> Row | None:
        return (
            self.sheet.tokens.row(Line(line.number, step.row, where=line.where))
            if step.row
            else None
        )

    def _named_for_player(self, at: int, text: str) -> SectionStart | None:
        """A section's name and who plays it behind a dash, alone right above a row of chords."""
        name, _, remark = text.partition(" - ")
        few = 0 < len(remark.split()) <= _MOST_WORDS_OF_A_REMARK
        if few and self._stands_over_chords(at) and name and full_name_at(name, 0) == len(name):
            return SectionStart(name, 1, "", (remark,), guessed=True)
        return None

    def _named_with_commas(self, at: int, text: str) -> SectionStart | None:
        """A section's name and, behind commas, who plays it, over its chords ("v1, me"), or whose
        music it has ("v3, no drums, chords as v1"); an earlier name cut short alone."""
        if len(text) > LONGEST or self.sheet.is_row(at):
            return None
        name, *said = [part.strip(" .") for part in _CHORDS_AS.sub(r", ", text).split(",")]
        short = len(name) > 1 and is_short_name(name)
        if not name or not (short or full_name_at(name, 0) == len(name)):
            return None
        under = self.sheet.is_row(at - 1) and self.sheet.headings[at - 1] is None
        if under and not (said and all(map(_says_who_or_how, said))):
            return None
        if not said:
            again = short and section_key(name) in self.names.keys
            return SectionStart(name, guessed=True) if again else None
        remarks, like = [], ""
        for part in said:
            other = self._other_in(part)
            like = like or other
            remarks += [] if other else [part]
        few = sum(len(one.split()) for one in remarks) <= _MOST_WORDS_SAID_OF_A_NAME
        plain = all(remarks) and few and not any(map(may_name_a_section, remarks))
        if not plain or not (like or self.sheet.is_row(at + 1)):
            return None
        return SectionStart(name, 1, like, tuple(remarks), guessed=True)

    def _other_in(self, text: str) -> str:
        """The earlier section whose music words say is played; empty for any other words."""
        match = LIKE_ANOTHER.fullmatch(text)
        other = (match["other"] or match["own"] or "").strip() if match is not None else ""
        known = bool(other) and section_key(other)[0] in self.names.kinds
        return other if known or other in self.names.letters else ""

    def _named_over_chords(self, at: int, text: str) -> SectionStart | None:
        """A section's full name with something said of it, alone right above a row of chords."""
        end = full_name_at(text, 0)
        name, said = text[:end].strip(), text[end:].strip(" ,;:.–—-")
        few = 0 < len(said.split()) <= _MOST_WORDS_SAID_OF_A_NAME
        if not end or not few or not self._stands_over_chords(at):
            return None
        sung = name.lower() in SUNG_OR_SAID or (text[0].islower() and text[-1] != ":")
        if sung or self.sheet.rows[at] is not None or may_name_a_section(said):
            return None
        return SectionStart(name, 1, "", (said,), guessed=True)

    def _called_by_first_words(self, at: int, text: str) -> SectionStart | None:
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

    def _equal_to_another(self, text: str) -> SectionStart | None:
        """A section of any name that has the music of an earlier one ("Dance break = refrain")."""
        match = _EQUAL.fullmatch(text) if "=" in text and len(text) <= LONGEST else None
        if match is None or self.sheet.is_chords(match["name"]):
            return None
        other = match["other"].strip()
        known = section_key(other)[0] in self.names.kinds and full_name_at(other, 0) == len(other)
        return SectionStart(match["name"], like=other, guessed=True) if known else None

    def _played_after(self, text: str) -> SectionStart | None:
        """An earlier section that a sentence asks for again ("After B play A again and go to the
        coda")."""
        match = _AFTER.fullmatch(text) if len(text) <= LONGEST else None
        name = match["name"].strip() if match is not None else ""
        known = name in self.names.letters or section_key(name) in self.names.keys
        return SectionStart(name, remarks=(text,), guessed=True) if name and known else None

    def _is_about_the_last(self, at: int, text: str) -> bool:
        """Whether a line says how the last of some sections is played ("last chorus stop on F")."""
        last = _THE_LAST.match(text) if len(text) <= LONGEST else None
        end = full_name_at(text, 0) if last is not None else 0
        said = text[end:].strip(" ,:;-–—")
        if not end or not said or section_key(text[:end])[0] not in self.names.kinds:
            return False
        if len(said.split()) > _MOST_WORDS_SAID_OF_A_NAME or self._stands_over_chords(at):
            return False
        ends = _ENDS_ON.match(said)
        chord = ends is not None and self.sheet.is_chords(said[ends.end() :])
        return chord or is_direction(said)

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
        said = LIKE_ANOTHER.fullmatch((match["said"] or match["behind"]).strip())
        other = (said["other"] or said["own"] or "").strip() if said is not None else ""
        if not other or full_name_at(other, 0) != len(other):
            return None
        if section_key(other)[0] not in self.names.kinds or is_about_the_song(text):
            return None
        return SectionStart(match["name"], 1, other, guessed=True)

    def _is_short_alone(self, at: int, text: str) -> bool:
        """Whether a line is a name cut short that stands apart, right above its chords; a longer
        one needs no empty line above it."""
        if not 1 < len(text) <= _LONGEST_SHORT or not is_short_name(text):
            return False
        closed_up = len(text.strip(".:")) > 2 and self.sheet.is_row(at + 1)
        return self._stands_over_chords(at) or (closed_up and not self.sheet.is_row(at - 1))

    def _stands_over_chords(self, at: int) -> bool:
        """Whether a line stands apart, right above a row of chords, as a section's name does."""
        above = at == 0 or not self.sheet.lines[at - 1].text.strip()
        return above and at + 1 < len(self.sheet.rows) and self.sheet.rows[at + 1] is not None

    def _named_by_colon(self, at: int, line: Line) -> tuple[KnownLine, ...]:
        """A section of any name before a colon and its chords ("Kick off: D G A D"), where no
        words stand under these; nothing for any other line."""
        match = _ANY_NAME.fullmatch(line.text) if len(line.text) <= LONGEST else None
        if match is None or is_about_the_song(line.text) or _NO_SECTION.search(match["name"]):
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


def _without_pictures(line: Line) -> Line:
    """A line with blanks for the small pictures that phones put among letters."""
    if line.text.isascii():
        return line
    text = "".join(" " if is_picture(c) else c for c in line.text)
    return line if text == line.text else replace(line, text=text)
