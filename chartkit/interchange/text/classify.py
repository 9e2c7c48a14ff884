"""What each line of a sheet is, decided once from the line, its neighbours and the whole sheet."""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from chartkit.interchange.text.cues import marks_of
from chartkit.interchange.text.directions import (
    is_direction,
    is_greeting,
    is_talk,
    is_term,
    points_on,
    says_throughout,
    without_arrow,
)
from chartkit.interchange.text.facts import (
    TITLE_LABEL,
    facts_of,
    is_counted_rest,
    names_a_fact,
    says_again,
    without_parentheses,
)
from chartkit.interchange.text.form import KnownNames, Step, is_plan, steps_of
from chartkit.interchange.text.inline_chords import chords_within
from chartkit.interchange.text.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Letter,
    LineKind,
    Marks,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Settings,
    Shapes,
    Silence,
    Tablature,
    Words,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.lyrics import VERSE, without_tail
from chartkit.interchange.text.reference_lines import (
    is_for_the_players,
    is_tablature,
    is_told,
    legend_pairs,
    says_note,
)
from chartkit.interchange.text.roadmap import (
    Key,
    Stop,
    are_by_letters,
    label_end,
    playing_order,
    stops_of,
)
from chartkit.interchange.text.section_names import (
    Heading,
    full_name_at,
    heading_of,
    is_known_name,
    is_short_name,
    may_name_a_section,
    section_key,
)
from chartkit.interchange.text.tokens import STRUCK, TIMED, Token, Tokens, strikes
from chartkit.interchange.wording import section_name

_MAY_BEGIN_FORM = re.compile(
    r"\s*(?:[-–—*•>]+\s+)?[\[(<]?(?:\d{1,2}\s?[x×]\s*)?[^\W\d_][\w.’'-]*", re.IGNORECASE
)
_A_NAME = re.compile(r"[^\W\d_][^\W\d_’'-]{0,20}\.?(?:\s[^\W\d_]\w{0,20}\.?)?(?:\s+x+)?")
"""Who signs a letter, alone on the last line."""
_LABEL_OF_CHORDS = re.compile(r"(?:chords?|akkorde|accords|acordes)\s*:\s*", re.IGNORECASE)
_COUNTS = re.compile(r"\b\d{1,3}\s?(?:bars?|takte?|measures?|compases|mesures)\b", re.IGNORECASE)
_STARRED = re.compile(r"\*{1,3}\s*([^\s*](?:[^*]*[^\s*])?)\s*\*{1,3}")
_LIKE_A_CHORD = re.compile(r"(?<!\w)[A-H](?:[#b♯♭]|m(?![a-z])|\d|maj|/|[\s,]|$)")
_THEN_CHORDS = re.compile(
    r"\s*(?:[,:;]|\s[-–—]\s|\.(?=\s))\s*(?:(?:and\s+|und\s+|et\s+)?(?:then|dann|danach|puis|luego|poi|"
    r"daarna|sedan)\s*:?\s+)?|\s+(?:then|dann|danach|puis|luego|poi|daarna|sedan|on|auf)\s*:?\s+",
    re.IGNORECASE,
)
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
_AT_THE_MARGIN = re.compile(r"(?<=\S)\s{2,}(?:<[-=]+|←|⇐|/{2,}|#{1,3}\s)\s*(?=[^\W\d_])(\S.*)$")
_HINT = re.compile(r"(?:\.{2,}|…|\betc\.?)\s*$", re.IGNORECASE)
_MOST_WORDS_OF_A_REMARK = 3
_MOST_WORDS_OF_A_NAME = 4
_LONGEST = 160
_FEWEST_APART = 2
_FEWEST_OF_ITS_OWN = 3
"""So many chords are a section's own, and not how it ends."""
_FEWEST_WRITTEN = 2
_LONGEST_SHORT = 6
_MOST_WRITTEN = 60
"""Of so many sections an order can be given; more are a songbook's."""
Rows = list[tuple[Token, ...] | None]


def classify(lines: Sequence[Line], tokens: Tokens) -> list[KnownLine]:
    """What every line is.  A section's name with more behind it becomes two lines."""
    return _Classifier(lines, tokens).result()


class _Classifier:
    """Looks at each line by itself, then at what its neighbours say of it."""

    def __init__(self, lines: Sequence[Line], tokens: Tokens) -> None:
        self.tokens = tokens
        self.lines, self.rows = _closed_up(list(lines), [tokens.row(line) for line in lines])
        lines = self.lines
        self.headings = [heading_of(line.text.strip()) if line.text else None for line in lines]
        self.names = KnownNames()
        self.plain_names = KnownNames()
        self.known: list[KnownLine] = []

    @cached_property
    def later(self) -> dict[tuple[str, str], int]:
        """The last line that begins with a section's name, for each meaning."""
        return {section_key(name): at for at, name in self._names_first()}

    def _names_first(self) -> Iterator[tuple[int, str]]:
        """The lines that begin with a section's full name, each with that name."""
        for at, line in enumerate(self.lines):
            start = len(line.text) - len(line.text.lstrip(" ([<"))
            short = len(line.text) <= _LONGEST and may_name_a_section(line.text)
            end = full_name_at(line.text, start) if short else start
            if end > start:
                yield at, line.text[start:end]

    def result(self) -> list[KnownLine]:
        """What every line is."""
        for at, line in enumerate(self.lines):
            bare, remark = _without_margin(line)
            if remark is not None and self.rows[at] is None and self.headings[at] is None:
                above = bool(self.known) and isinstance(self.known[-1].kind, Chords)
                self.known.insert(len(self.known) - above, remark)
                line = bare
            self.known += self._read(at, line)
        self._name_the_last_chord()
        return self._with_neighbours()

    def _name_the_last_chord(self) -> None:
        """Makes a chord alone right under the name of an earlier section, as the last line, an
        ending: that section is played again, and then this."""
        filled = [at for at, one in enumerate(self.known) if not isinstance(one.kind, Blank)]
        *_, above, last = [-1, -1, *filled]
        kind = self.known[last].kind if last >= 0 else None
        start = self.known[above].kind if above >= 0 else None
        if not (isinstance(kind, Chords) and isinstance(start, SectionStart)) or start.with_chords:
            return
        key = section_key(start.name)
        earlier = any(
            isinstance(one.kind, SectionStart) and section_key(one.kind.name) == key
            for one in self.known[:above]
        )
        struck = [token for token in kind.tokens if token.kind in STRUCK]
        if earlier and len(struck) == 1 and not kind.behind_name:
            end = SectionStart("End", guessed=True, with_chords=True)
            self.known.insert(last, KnownLine(self.known[last].line, end))

    # ---- by itself
    def _read(self, at: int, line: Line) -> Iterator[KnownLine]:
        text, row = line.text.strip(), self.rows[at]
        plain = _without_pictures(line)
        heading = self.headings[at]
        if line is not self.lines[at] or plain is not line:
            heading = heading_of(plain.text.strip()) if text else None
        if not text or (row is None and not _says_something(text)):
            yield KnownLine(line, Blank())
        elif TITLE_LABEL.match(text) and not self._has_begun():
            yield KnownLine(line, Words())
        elif at in self.numbered:
            yield from self._numbered(at, line)
        elif stops := self._roadmap(at, text):
            yield KnownLine(line, Roadmap(stops))
        elif heading is not None:
            yield from self._heading(at, plain, heading)
            self._learn(text, heading)
        elif (steps := self._steps(at, plain)) and self._are_played(at, steps):
            yield from self._form(plain, steps)
        elif (start := self._named_for_player(at, text)) is not None:
            yield KnownLine(line, start)
        elif named := self._named_by_colon(at, line):
            yield from named
        elif self._is_short_alone(at, text):
            yield KnownLine(line, SectionStart(text.rstrip(".:"), guessed=True))
            self.names.add(text.rstrip(".:"))
        else:
            yield KnownLine(line, self._kind(at, line, text, bool(steps)))

    @cached_property
    def numbered(self) -> frozenset[int]:
        """The lines of words that begin the verses of a song by their numbers, with sections of
        other names between them; none where the numbers do not count on."""
        matches = {
            at: int(match[1])
            for at, line in enumerate(self.lines)
            if self.headings[at] is None
            and (match := VERSE.match(line.text)) is not None
            and line.text[match.end() :].strip()
            and self._begins_block(at)
        }
        parted = any(
            any(one is not None for one in self.headings[before:after])
            for before, after in pairwise(matches)
        )
        on = [*matches.values()] == [*range(1, len(matches) + 1)]
        return frozenset(matches) if parted and on and len(matches) > 1 else frozenset()

    def _begins_block(self, at: int) -> bool:
        """Whether nothing but its chords stands right above a line."""
        above = at - 1 if at and self.rows[at - 1] is not None else at
        return above == 0 or not self.lines[above - 1].text.strip()

    def _numbered(self, at: int, line: Line) -> Iterator[KnownLine]:
        """The start of a verse by its number, above its chords; and its words."""
        match = VERSE.match(line.text)
        assert match is not None
        start = KnownLine(line, SectionStart(f"{match[1]}."))
        words = replace(line, text=" " * match.end() + line.text[match.end() :])
        self._learn_verse(match[1])
        row = self.tokens.row(words)
        if row is not None:
            yield start
            yield KnownLine(words, Chords(row))
            return
        if self.known and isinstance(self.known[-1].kind, Chords):
            self.known.insert(-1, start)
        else:
            yield start
        yield KnownLine(words, self._words(words))

    def _learn_verse(self, number: str) -> None:
        self.names.add(f"{number}.")
        self.plain_names.add(f"{number}.")

    def _roadmap(self, at: int, text: str) -> tuple[Stop, ...]:
        """The order of the whole song that a line gives; nothing for any other line."""
        keys = self.written
        if not _FEWEST_WRITTEN <= len(keys) <= _MOST_WRITTEN or len(text) > _LONGEST:
            return ()
        start = label_end(text)
        if not start and not self._may_be_roadmap(at):
            return ()
        stops = stops_of(text[start:], keys)
        return stops if stops and playing_order(stops, keys) is not None else ()

    def _may_be_roadmap(self, at: int) -> bool:
        """Whether a line without a label stands where the order of a song may: above its first
        section or below its last, and not under chords."""
        if at and self.lines[at - 1].text.strip() and self.rows[at - 1] is None:
            return False
        named = [i for i, heading in enumerate(self.headings) if heading is not None]
        outside = at < named[0] or named[-1] < at
        by_letters = are_by_letters(self.written) and not _is_filled(self.lines[at + 1 : at + 2])
        return outside and (self.rows[at] is None or by_letters)

    @cached_property
    def written(self) -> tuple[Key, ...]:
        """What the names of all sections mean that have something under them; none where one is
        named again without anything."""
        keys: list[Key] = []
        for at, heading in enumerate(self.headings):
            if heading is None:
                continue
            under = (i for i in range(at + 1, len(self.lines)) if self.lines[i].text.strip())
            below = next(under, None)
            if heading.rest_at is None and (below is None or self.headings[below] is not None):
                return ()
            keys.append(section_key(heading.name))
        return tuple(keys)

    def _has_begun(self) -> bool:
        """Whether the song has begun above the next line."""
        return any(isinstance(one.kind, SectionStart | Chords) for one in self.known)

    def _learn(self, text: str, heading: Heading) -> None:
        """Keeps the name of a heading for the lines below."""
        if len(heading.name) == 1 and heading.name.isupper():
            self.names.letters.add(heading.name)
        if not is_known_name(heading.name):
            return
        if not text.startswith("("):
            self.plain_names.add(heading.name)
        if not (text.startswith("(") and heading.times > 1):
            self.names.add(heading.name)

    def _kind(self, at: int, line: Line, text: str, plan: bool) -> LineKind:
        """The kind of a line that names no section."""
        row = self.rows[at]
        if plan or (is_plan(text) and not self._is_chords(text.partition(":")[2])):
            return Note()
        if is_counted_rest(text):
            return Silence()
        if row is not None:
            return Chords(row)
        if is_tablature(line.text):
            return Tablature()
        return (
            self._throughout(text)
            or self._said_before_chords(text)
            or _aside_of(text)
            or self._words(line)
        )

    def _said_before_chords(self, text: str) -> Chords | None:
        """A row of chords behind a direction ("drums 4 bars, then D G A D"); None for any other
        line."""
        if len(text) > _LONGEST or _LIKE_A_CHORD.search(text) is None or is_told(text):
            return None
        for match in _THEN_CHORDS.finditer(text):
            said, chords = text[: match.start()].strip(" ,:;"), text[match.end() :]
            if said and is_direction(said) and self._is_chords(chords) and " " in chords.strip():
                row = self.tokens.row(Line(0, f"({said}) {chords}"))
                return Chords(row, behind_name=True) if row is not None else None
        return None

    def _throughout(self, text: str) -> Chords | None:
        """A row of chords with words that say it is for the whole song; None for any other."""
        if len(text) > _LONGEST or _LIKE_A_CHORD.search(text) is None:
            return None
        said = says_throughout(text)
        if said is None:
            return None
        chords = f"{text[: said.start()]} {text[said.end() :]}".strip(" ():,;-–—")
        chords = _LABEL_OF_CHORDS.sub("", chords)
        if not self._is_chords(chords):
            return None
        row = self.tokens.row(Line(0, f"{chords} ({said[0].strip()})"))
        return Chords(row) if row is not None else None

    def _words(self, line: Line) -> LineKind:
        """Words, or words and chords on one line."""
        within = chords_within(line, self.tokens)
        if within is not None and within[1][0].column < len(within[0].text):
            return ChordsWithin(within[0], tuple(within[1]))
        behind = without_tail(line, self.tokens)
        if behind[1] and strikes(behind[1]):
            return ChordsBehind(behind[0], tuple(behind[1]))
        return Words()

    # ---- headings and steps of the form
    def _named_for_player(self, at: int, text: str) -> SectionStart | None:
        """A section's name and who plays it behind a dash, alone right above a row of chords."""
        name, _, remark = text.partition(" - ")
        above = at == 0 or not self.lines[at - 1].text.strip()
        below = at + 1 < len(self.rows) and self.rows[at + 1] is not None
        few = 0 < len(remark.split()) <= _MOST_WORDS_OF_A_REMARK
        if above and below and few and name and full_name_at(name, 0) == len(name):
            return SectionStart(name, 1, "", (remark,), guessed=True)
        return None

    def _is_short_alone(self, at: int, text: str) -> bool:
        """Whether a line is a name cut short that stands apart, right above its chords."""
        if not 1 < len(text) <= _LONGEST_SHORT or not is_short_name(text):
            return False
        above = at == 0 or not self.lines[at - 1].text.strip()
        return above and at + 1 < len(self.rows) and self.rows[at + 1] is not None

    def _named_by_colon(self, at: int, line: Line) -> tuple[KnownLine, ...]:
        """A section of any name before a colon and its chords ("Kick off: D G A D"), where no
        words stand under these; nothing for any other line."""
        match = _ANY_NAME.fullmatch(line.text) if len(line.text) <= _LONGEST else None
        if match is None or is_told(line.text) or _NO_SECTION.search(match["name"]):
            return ()
        row = self.tokens.row(replace(line, text=" " * match.start("row") + match["row"]))
        below = self.lines[at + 1].text.strip() if at + 1 < len(self.lines) else ""
        if row is None or not self._is_music(row) or (below and self.rows[at + 1] is None):
            return ()
        if sum(token.kind in STRUCK for token in row) < 2:
            return ()
        start = SectionStart(match["name"].strip(), guessed=True, with_chords=True)
        return KnownLine(line, start), KnownLine(line, Chords(row, behind_name=True))

    def _heading(self, at: int, line: Line, heading: Heading) -> Iterator[KnownLine]:
        """A heading, with what stands behind it on its line."""
        if heading.rest_at is not None:
            yield from self._with_rest(at, line, heading)
            return
        inner = line.text.strip().removeprefix("[").removesuffix("]")
        if line.text.lstrip().startswith("[") and self._is_said(inner):
            yield KnownLine(line, Remark(inner))
            return
        if self._repeats_unnamed(at, line.text.strip(), heading):
            yield KnownLine(line, Remark(line.text.strip(" ()")))
            return
        more = "(" in line.text + heading.name or heading.remark or self._says_more(heading.name)
        steps = self._steps(at, line, sure=True) if more else ()
        named = not self._says_more(heading.name)
        counted = steps and steps[0].times > heading.times
        if len(steps) == 1 and (steps[0].like or steps[0].row or counted or not named):
            yield from self._form(line, steps)
            return
        remarks = (heading.remark,) if heading.remark else ()
        yield KnownLine(line, SectionStart(heading.name, heading.times, "", remarks))

    def _is_said(self, text: str) -> bool:
        """Whether words in square brackets name no section but tell the players something."""
        if is_known_name(text) or full_name_at(text, 0) or any(map(str.isdigit, text[:1])):
            return False
        return is_direction(text) or len(text.split()) > _MOST_WORDS_OF_A_NAME

    def _says_more(self, name: str) -> bool:
        """Whether a name in brackets is a section's with more behind it."""
        return not is_known_name(name) and full_name_at(name, 0) > 0

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
        row = self.tokens.row(rest)
        opened = SectionStart(heading.name, heading.times)
        if row is not None and self._is_music(row):
            yield KnownLine(line, replace(opened, with_chords=True))
            yield KnownLine(rest, Chords(row, behind_name=True))
        elif self._hints_at(heading.name, behind):
            yield KnownLine(line, replace(opened, guessed=True))
        elif remark := self._remark_behind(at, behind):
            yield KnownLine(line, replace(opened, remarks=(remark,), guessed=True))
        elif not is_tablature(behind) and (steps := self._steps(at, line)):
            yield from self._form(line, steps)
        else:
            kind = Chords(row, True) if row is not None else self._rest(rest)
            above = self.known[-1] if self.known else None
            if isinstance(kind, Words) and above is not None and self._begins_under(at, above):
                self.known.insert(-1, KnownLine(line, opened))  # its chords stand above its name
            else:
                yield KnownLine(line, opened)
            yield KnownLine(rest, kind)

    def _begins_under(self, at: int, above: KnownLine) -> bool:
        """Whether a line with a name and words stands under its chords, and these apart."""
        alone = at < 2 or not self.lines[at - 2].text.strip()
        return isinstance(above.kind, Chords) and not above.kind.behind_name and alone

    def _rest(self, rest: Line) -> LineKind:
        text = rest.text.strip()
        if is_tablature(text):
            return Tablature()
        heading = heading_of(text)
        if heading is not None and heading.rest_at is None and is_known_name(heading.name):
            return Remark(text)
        return Silence() if is_counted_rest(text) else _aside_of(text) or self._words(rest)

    def _remark_behind(self, at: int, text: str) -> str:
        """What is said to the players behind a section's name and its colon; nothing where it
        may be words, chords or a step."""
        if is_tablature(text):
            return ""
        if text[:1] + text[-1:] in ("[]", "()"):
            return "" if chords_within(Line(0, f"so {text}"), self.tokens) else text[1:-1]
        below = self.rows[at + 1 : at + 2]
        few = len(text.split()) <= _MOST_WORDS_OF_A_REMARK and text[:1].islower()
        return text if few and below not in ([], [None]) else ""

    def _steps(self, at: int, line: Line, sure: bool = False) -> tuple[Step, ...]:
        """The steps of the form that a line names."""
        text = line.text
        row = self.rows[at]
        if row is not None and not sure and self._is_music(row):
            return ()
        if len(text) > _LONGEST or not may_name_a_section(text):
            return ()
        if _MAY_BEGIN_FORM.match(text) is None:
            return ()
        steps = steps_of(text, self._is_chords, sure, self.names)
        under = at > 0 and self.rows[at - 1] is not None
        sure_sign = _COUNTS.search(text) or any(
            one.row or one.like or one.times > 1 for one in steps
        )
        if under and not sure and not sure_sign:
            return ()
        return steps

    def _are_played(self, at: int, steps: Sequence[Step]) -> bool:
        """Whether steps are played here: a list of sections that come below is a plan."""
        if len(steps) < 2 or any(one.row or one.like for one in steps):
            return True
        return all(self.later.get(section_key(one.name), -1) <= at for one in steps)

    def _form(self, line: Line, steps: Sequence[Step]) -> Iterator[KnownLine]:
        """The sections that a line of form names; a remark on one of them is no step."""
        first = steps[0]
        played = len(first.row.split()) >= _FEWEST_OF_ITS_OWN
        said_of = first.remarks and not (first.like or played or first.times > 1)
        if said_of and len(steps) == 1 and _OF_THE_LAST.match(line.text.strip(" ([")):
            yield KnownLine(line, Remark(line.text.strip(" ()[]")))
            return
        for step in steps:
            self.names.add(step.name)
            row = self._row_of(step, line)
            yield KnownLine(
                line,
                SectionStart(step.name, step.times, step.like, step.remarks, True, row is not None),
            )
            if row is not None:
                yield KnownLine(line, Chords(row, behind_name=True))

    def _row_of(self, step: Step, line: Line) -> tuple[Token, ...] | None:
        return self.tokens.row(Line(line.number, step.row, where=line.where)) if step.row else None

    def _hints_at(self, name: str, text: str) -> bool:
        """Whether a text is the beginning of the words of an earlier section of that name."""
        letters = _letters(_HINT.sub("", text))
        sung = self.first_words.get(section_key(name), "")
        return (
            bool(_HINT.search(text) or len(letters) > 5)
            and bool(letters)
            and (sung.startswith(letters) or sung == letters)
        )

    @cached_property
    def first_words(self) -> dict[tuple[str, str], str]:
        """The letters of the first line of words under each plain heading."""
        collected: dict[tuple[str, str], str] = {}
        key: tuple[str, str] | None = None
        for at, heading in enumerate(self.headings):
            if heading is not None and heading.rest_at is None:
                key = section_key(heading.name)
            elif key is not None and self.rows[at] is None and heading is None:
                letters = _letters(self.lines[at].text)
                if letters and key not in collected:
                    collected[key] = letters
        return collected

    def _is_chords(self, text: str) -> bool:
        row = self.tokens.row(Line(0, text))
        return row is not None and self._is_music(row) and any(t.kind in STRUCK for t in row)

    def _is_music(self, row: Sequence[Token]) -> bool:
        """Whether nothing among the tokens of a row is a word."""
        return all(
            one.kind in (*TIMED, "bar", "simile", "times", "filler", "meter", "rest", "cue")
            for one in row
        )

    # ---- by its neighbours
    def _with_neighbours(self) -> list[KnownLine]:
        """The lines, with what is said to the band set apart from words."""
        alone = [self._is_alone(at) for at in range(len(self.known))]
        first, last = self._music_at()
        for at, one in enumerate(self.known):
            if isinstance(one.kind, Words):
                kind = self._said(at, one, alone[at], at < first, at > last)
                self.known[at] = replace(one, kind=kind)
        return self.known

    def _music_at(self) -> tuple[int, int]:
        """The first and the last line of music."""
        music = [
            at
            for at, one in enumerate(self.known)
            if isinstance(one.kind, Chords | ChordsWithin | ChordsBehind | SectionStart)
        ]
        if not any(isinstance(self.known[at].kind, Chords) for at in music):
            return music[0] if music else len(self.known), len(self.known)
        return music[0], music[-1]

    def _said(self, at: int, one: KnownLine, alone: bool, before: bool, after: bool) -> LineKind:
        """What a line of words is by what stands around it."""
        text = one.line.text.strip()
        if before:
            return one.kind
        if points_on(text):
            return Remark(without_arrow(text))
        if self._under_chords(at):
            return Remark(text) if is_term(text) and self._words_below(at) else one.kind
        if is_term(text) or (alone and is_direction(text)):
            return Remark(without_arrow(text))
        apart = at == 0 or isinstance(self.known[at - 1].kind, Blank | Letter | Roadmap | Note)
        if after and apart and (is_talk(text) or is_greeting(text)):
            return Letter()
        if after and apart and self._follows_a_step(at):
            return Remark(text)
        below_letter = at > 0 and isinstance(self.known[at - 1].kind, Letter)
        if after and below_letter and _A_NAME.fullmatch(text):
            return Letter()
        return one.kind

    def _follows_a_step(self, at: int) -> bool:
        """Whether the last section above is a step of the form, so that no words are due."""
        above = (self.known[i].kind for i in range(at - 1, -1, -1))
        start = next((kind for kind in above if isinstance(kind, SectionStart)), None)
        return start is not None and start.guessed

    def _under_chords(self, at: int) -> bool:
        return at > 0 and isinstance(self.known[at - 1].kind, Chords)

    def _words_below(self, at: int) -> bool:
        return at + 1 < len(self.known) and self.known[at + 1].can_be_sung

    def _is_alone(self, at: int) -> bool:
        """Whether no other line of words without chords stands beside a line."""
        above = self.known[at - 1] if at else None
        below = self.known[at + 1] if at + 1 < len(self.known) else None
        sung_above = above is not None and isinstance(above.kind, Words)
        return not (sung_above and not self._under_chords(at - 1)) and not (
            below is not None and isinstance(below.kind, Words)
        )


def _without_pictures(line: Line) -> Line:
    """A line with blanks for the small pictures that phones put among letters."""
    if line.text.isascii():
        return line
    return replace(
        line, text="".join(" " if unicodedata.category(c) == "So" else c for c in line.text)
    )


def is_plainly_words(text: str) -> bool:
    """Whether a line under a row of chords is words by itself, and nothing else that a line of a
    sheet can be."""
    text = text.strip()
    says_other = (
        heading_of(text) is not None
        or is_counted_rest(text)
        or is_tablature(text)
        or _aside_of(text) is not None
        or is_term(text)
        or _AT_THE_MARGIN.search(text) is not None
        or is_plan(text)
        or bool(steps_of(text, lambda _: False))
    )
    return not says_other


def _aside_of(text: str) -> LineKind | None:
    """The kind of a line that is neither chords nor words; None for words."""
    if (starred := _STARRED.fullmatch(text)) is not None:
        return _aside_of(starred[1]) or Remark(starred[1])
    if facts := facts_of(without_parentheses(text)):
        return Settings(facts)
    if (inside := without_parentheses(text)) != text:
        return Remark(inside, in_parentheses=not says_again(text))
    if says_note(text) or says_again(text) or not any(map(str.isalpha, text)):
        return Remark(text)
    if marks := marks_of(text):
        return Marks(marks)
    if legend_pairs(text):
        return Shapes()
    return Note() if is_for_the_players(text) or names_a_fact(text) else None


def _without_margin(line: Line) -> tuple[Line, KnownLine | None]:
    """A line without a remark typed at its right margin behind a sign, and that remark."""
    match = _AT_THE_MARGIN.search(line.text) if len(line.text) <= _LONGEST else None
    if match is None or is_tablature(line.text):
        return line, None
    remark = replace(line, text=match[1])
    return replace(line, text=line.text[: match.start()]), KnownLine(remark, Remark(match[1]))


def _is_filled(lines: Sequence[Line]) -> bool:
    return any(line.text.strip() for line in lines)


def _says_something(text: str) -> bool:
    return "_" in text or any(map(str.isalnum, text))


def _letters(text: str) -> str:
    return "".join(c for c in text.casefold() if c.isalnum())


def _closed_up(lines: list[Line], rows: Rows) -> tuple[list[Line], Rows]:
    """The lines, and what rows of chords they are, without the empty ones between chords and
    words, where every row of chords stands apart from its words; others as they are."""
    under = [i for i, row in enumerate(rows[:-2], 1) if row is not None]
    apart = [i for i in under if not lines[i].text and _is_sung(lines[i + 1].text, rows[i + 1])]
    if len(apart) < _FEWEST_APART or len(apart) < len(under):
        return lines, rows
    gone = frozenset(apart)
    kept = [i for i in range(len(lines)) if i not in gone]
    return [lines[i] for i in kept], [rows[i] for i in kept]


def _is_sung(text: str, row: tuple[Token, ...] | None) -> bool:
    """Whether a line can only be words: no chords, heading, setting, or remark."""
    plain = text.strip()
    others = row is not None or plain.startswith("(") or heading_of(plain) or facts_of(plain)
    return bool(plain) and not others
