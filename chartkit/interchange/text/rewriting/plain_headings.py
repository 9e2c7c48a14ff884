"""Lines of a section's name in unusual signs, rewritten as such names usually stand: signs of any
kind around the name, numbers and counts in other forms, words that lead to the name.

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty, is_picture, text_at
from chartkit.interchange.text.names.headings import Heading, heading_of
from chartkit.interchange.text.rows.given_chords import OF_SEVERAL
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.vocabulary.section_names import (
    SUNG_OR_SAID,
    full_name_at,
    is_known_name,
    may_name_a_section,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of

_LONGEST = 80
_MOST_LINES = 2_000
_MOST_PEELED = 4
_SIGNS = frozenset("-–—=*#_~•|/\\+>→⇒➤▶►◆■●▪·.…<«»\"“”„'‘’`^:;,! \t[](){}")
_ARROWS = ("->", "=>", "→", "⇒", "➤", "▶", "►", ">>")
_PAIRS = {"[": "]", "(": ")", "<": ">", "{": "}"}
_NUMBERED = re.compile(
    r"(?P<name>[^\W\d_][^\d]{0,24}?)"
    r"(?:\s*(?P<sign>[-–_:.#(])\s*|[ .]+(?:no|nr|num|number|núm|n)\b[.°º]?\s*|\s+n[°º]\s*|\s*№\s*)"
    r"0?(?P<number>[1-9]\d?)(?(sign)\)?)(?P<rest>[:.]?|\s+\S.{0,30})",
    re.IGNORECASE,
)
"""A name and its number with a sign between them ("Verse-1", "Verse no. 1", "Verse (1)")."""
_VERSES_ALONE = frozenset("(:")
"""Signs behind which a number counts verses; behind other names it may say how often."""
_COUNTED = re.compile(
    r"(?P<name>[^\W\d_].{1,30}?)\s*(?:[*]\s*(?P<star>\d{1,2})|<\s*(?P<angled>[^<>]{2,12})\s*>|"
    r"[(,–-]\s*(?P<double>doubled?)\s*\)?)",
    re.IGNORECASE,
)
_COUNT_BEFORE = re.compile(
    r"(?P<count>[x×]\s?\d{1,2}|\d{1,2}\s?[x×]?|twice|two|three|four)\s*[:,–-]?\s+"
    r"(?:the\s+)?(?P<name>[^\W\d_].{1,30})",
    re.IGNORECASE,
)
_IN_WORDS = {"twice": 2, "two": 2, "three": 3, "four": 4}
_PLURAL = re.compile(r"(?:e?s|ar|er|en)\Z", re.IGNORECASE)
_LEADING = re.compile(
    r"(?:(?:and\s+|then\s+|now\s+|und\s+|dann\s+)?"
    r"(?:(?:go|goes|jump|skip|straight|right|move)\s+(?:back\s+|on\s+)?(?:in)?to|sing|play|do|take|"
    r"zum|zur|zu|weiter zu[mr]?|gehe zu[mr]?|aller au|vers le|va al|ir al?|ir para o|vai ao|naar|"
    r"till|til)\s+)?(?:(?:the|el|la|le|il|o|a|het|de|den|das|die)\s+)?"
    r"(?:(?:whole|full|entire|complete|ganze[rns]?|tout le|todo el|toda la|hele|hela)\s+)?"
    r"(?P<name>[^\W\d_][^,;:|()]{1,24}?)"
    r"(?:\s+(?:again|etc\.?|usw\.?|and so on|nochmals?|noch einmal))?[.!]*",
    re.IGNORECASE,
)
_RULED = re.compile(
    r"(?P<rule>[-–—=*#~_]{1,4})\s*(?P<name>[^\W\d_][^|:]{1,30}?)\s*(?P=rule)\s+(?P<more>\S.*)"
)
_COUNT_BEHIND = re.compile(
    r"(?P<name>.{2,30}?)\s*[(\[]?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])[)\]]?", re.I
)
_SHOUTED_COUNT = re.compile(
    rf"(?P<name>[^\W\d_][^|:,]{{1,28}}?)(?:\s*[-–—:,]\s*|\s+)(?P<count>{ANY_TIMES})\s*!+\s+(?P<said>\S.{{2,50}})",
    re.IGNORECASE,
)
"""A count called out before a remark ("Chorus - twice! 2nd time loud")."""
_PLAYED_THERE = re.compile(
    r"(?P<name>[^\W\d_][^|:()]{1,24}?)\s*:\s*(?P<said>[^\W\d_][^|:()]{2,24}?)\s*\((?P<row>[^()|]{3,40})\)"
    r"(?P<tail>[^()|]{0,40})"
)
_NAME_AND_REMARK = re.compile(
    r"\((?P<name>[^\W\d_][^|:(),]{1,24}?)\s*[,;–-]\s*(?P<said>[^\W\d_][^|()]{2,40})\)"
    r"(?P<more>\s*(?:\(?[x×]\s?\d{1,2}\)?)?)",
    re.IGNORECASE,
)
_ALONE_IN_PARENTHESES = re.compile(r"\(([^()|]{2,24})\)(?:\s*\(?[x×]\s?\d{1,2}\)?)?")
_CHORDS_OF_ALL = re.compile(
    rf"(?P<name>[^\W\d_][^|:(),]{{1,20}}?)\s+(?:{WORDS_FOR_CHORDS})\s*[,(]\s*(?P<said>[^|:()]{{3,30}})\)?\s*:",
    re.IGNORECASE,
)
"""Chords of a kind of sections, with what is said of them ("Verse grid, all verses:")."""
_FEWEST_NAMES = 2
_TWO_NAMES = re.compile(r"([^\W\d_][^|/]{1,20}?)\s*/\s*([^\W\d_][^|/]{1,20})")
_SAID_BEHIND = re.compile(r"\s*\([^()]{1,50}\)\s*$")
_REPEATED = re.compile(
    r"(?P<name>[^\W\d_][^,;:|()]{1,24}?)\s*(?:[(\[]\s*(?:repeat(?:ed)?|rep\.?|rpt\.?|wdh\.?|"
    r"wiederholen)\s*[)\]]|\s[-–—:]\s*(?:repeat(?:ed)?|rep\.?|rpt\.?|wdh\.?)|:\s*repeat(?:ed)?)",
    re.IGNORECASE,
)


def with_plain_headings(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those that are a section's name in unusual signs with the usual ones."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    return _Headings(_with_bars_counted(lines), is_chords, findings).result()


_BARS = re.compile(r"(?P<name>[^()|]{2,30}?)\s*\((?P<bars>\d{1,2})\)(?P<more>.{0,50})")


def _with_bars_counted(lines: Sequence[Line]) -> list[Line]:
    """The lines; numbers in parentheses behind names of sections as counts of bars ("Verse (8)"),
    where all of them are even and one is too high for the number of a verse."""
    counted = {at: one for at, line in enumerate(lines) if (one := _BARS.fullmatch(line.text))}
    counted = {at: one for at, one in counted.items() if _is_name(one["name"].strip())}
    bars = [int(one["bars"]) for one in counted.values()]
    if not bars or max(bars) < _FEWEST_BARS or any(count % 2 or count < 2 for count in bars):
        return list(lines)
    result = list(lines)
    for at, one in counted.items():
        text = f"{one['name']} ({one['bars']} bars){one['more']}"
        result[at] = replace(lines[at], text=text, columns=None)
    return result


_FEWEST_BARS = 8
"""Songs with so many verses are rare, sections of so many bars are not (ours)."""


class _Headings:
    """Looks at lines that may name a section, beside their neighbours and the names above."""

    def __init__(self, lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> None:
        self.lines, self.is_chords, self.findings = lines, is_chords, findings
        self.kinds: set[str] = set()
        self.named_at = -1
        """The last line that names a section."""

    def result(self) -> list[Line]:
        """All lines."""
        return [self._read(at, line) for at, line in enumerate(self.lines)]

    def _read(self, at: int, line: Line) -> Line:
        text = line.text.strip()
        if not text or len(text) > _LONGEST or not may_name_a_section(text):
            return line
        if (counted := _SHOUTED_COUNT.fullmatch(text)) is not None and _is_name(counted["name"]):
            text = f"{counted['name']} {counted['count']}, {counted['said']}"
            line = replace(line, text=text, columns=None)
        if (given := _CHORDS_OF_ALL.fullmatch(text)) is not None and _is_name(given["name"]):
            said = given["said"].strip()
            text = f"{said}:" if OF_SEVERAL.match(said) else f"{given['name']} ({said}):"
            line = replace(line, text=text, columns=None)
        if played := self._with_chords_first(text) or self._remarked(text):
            line, text = replace(line, text=played, columns=None), played
        known = heading_of(text)
        if ruled := self._before_more(text):
            line = replace(line, text=ruled, columns=None)
            text = ruled
            known = heading_of(text)
        core, signs = _peeled(text)
        plain = self._two_names(at, core) or self._repeated(at, core) or _usual(core, known)
        plain = plain or self._bare(at, core, signs, known) or self._led_to(at, core, known)
        if plain:
            line = replace(line, text=plain, columns=None)
        heading = heading_of(line.text.strip())
        if heading is not None and (heading.rest_at is not None or is_known_name(heading.name)):
            self.kinds.add(section_key(heading.name)[0])
            self.named_at = at
        return line

    def _with_chords_first(self, text: str) -> str:
        """A name, what is played there in a word, and its chords in parentheses ("bridge:
        instrumental (F D) x2"), the word in parentheses; empty for any other line."""
        match = _PLAYED_THERE.fullmatch(text) if "(" in text else None
        if match is None or not _is_name(match["name"]) or not self.is_chords(match["row"]):
            return ""
        return f"{match['name']} ({match['said'].strip()}): {match['row']}{match['tail'].rstrip()}"

    def _remarked(self, text: str) -> str:
        """A name and a remark or a count in one pair of parentheses, where other names stand in
        them alone ("(verse 2, same chords)", "(chorus x2)"), the name without them; empty for any
        other line."""
        match = _NAME_AND_REMARK.fullmatch(text) if text[:1] == "(" else None
        counted = _COUNT_BEHIND.fullmatch(text[1:-1]) if text[:1] + text[-1:] == "()" else None
        if counted is not None and self.in_parentheses and _is_name(counted["name"].strip()):
            return text[1:-1]
        if match is None or not self.in_parentheses or not _is_name(match["name"].strip()):
            return ""
        return f"{match['name'].strip()} ({match['said'].strip()}){match['more']}"

    @cached_property
    def in_parentheses(self) -> bool:
        """Whether names stand alone in parentheses on their lines."""
        alone = (
            _ALONE_IN_PARENTHESES.fullmatch(line.text.strip()[:_LONGEST]) for line in self.lines
        )
        return sum(one is not None and _is_name(one[1].strip()) for one in alone) >= _FEWEST_NAMES

    def _before_more(self, text: str) -> str:
        """A name between rules with more behind it ("-- Solo -- G D x2"), without the rules;
        empty for any other line."""
        match = _RULED.fullmatch(text) if text[0] in "-–—=*#~_" else None
        counted = _COUNT_BEHIND.fullmatch(match["name"]) if match is not None else None
        if match is None or not _is_name(counted["name"] if counted else match["name"]):
            return ""
        more = match["more"].lstrip(":,; ")
        return f"{match['name']}{':' if self.is_chords(more) else ''} {more}"

    def _two_names(self, at: int, core: str) -> str:
        """Two names with a stroke between them above chords, as one in brackets; empty for any
        other line."""
        match = _TWO_NAMES.fullmatch(core)
        below = text_at(self.lines, at + 1)[:_LONGEST]
        if match is None or not (_is_name(match[1]) and _is_name(match[2])):
            return ""
        return f"[{core}]" if below and self._begins_row(below) else ""

    def _begins_row(self, text: str) -> bool:
        """Whether a line is chords, perhaps with a remark in parentheses behind them."""
        return self.is_chords(text) or self.is_chords(_SAID_BEHIND.sub("", text))

    def _bare(self, at: int, core: str, signs: str, known: Heading | None) -> str:
        """A name without the signs around it, where nobody reads it with them."""
        if not signs or _is_plain(known):
            return ""
        heading = heading_of(core)
        if not _is_plain(heading) or heading is None or self._is_pointer(at, heading, signs):
            return ""
        sung = heading.name.casefold() in SUNG_OR_SAID or len(heading.name) == 1
        return "" if (sung and self._under_chords(at)) or self.is_chords(core) else core

    def _led_to(self, at: int, core: str, known: Heading | None) -> str:
        """The name of an earlier section behind words that lead to it, alone on its line."""
        match = None if _is_plain(known) else _LEADING.fullmatch(core)
        name = match["name"] if match is not None else ""
        if not name or name == core or full_name_at(name, 0) != len(name):
            return ""
        seen = section_key(name)[0] in self.kinds
        if not seen or self._under_chords(at) or self._is_pointer(at, Heading(name), _ARROWS[0]):
            return ""
        if not self._stands_alone(at):
            return ""
        self.findings.guess(
            "section-named-in-words",
            f'"{core}" is read as the section {name} once more',
            self.lines[at].place(),
        )
        return name

    def _repeated(self, at: int, core: str) -> str:
        """The name of a section that is said to be repeated where none of its kind stands above,
        so that it is played twice."""
        match = _REPEATED.fullmatch(core)
        name = match["name"].strip() if match is not None else ""
        if not name or full_name_at(name, 0) != len(name) or section_key(name)[0] in self.kinds:
            return ""
        below = self._below(at)
        if not below or heading_of(below.strip()) is not None:
            return ""
        self.findings.guess(
            "repeat-as-twice",
            f'"{core}" is read as twice: no {name} stands above it',
            self.lines[at].place(),
        )
        return f"{name} x2"

    def _is_pointer(self, at: int, heading: Heading, signs: str) -> bool:
        """Whether a name behind an arrow says only what comes next: its heading stands below, over
        lines of its own."""
        if not _is_arrow(signs) or (below := self._place_below(at)) is None:
            return False
        core, more = _peeled(self.lines[below].text.strip()[:_LONGEST])
        called = heading_of(core)
        if (
            called is None
            or _is_arrow(more)
            or section_key(called.name) != section_key(heading.name)
        ):
            return False
        under = text_at(self.lines, below + 1).strip()
        return under != "" and not _is_plain(heading_of(under[:_LONGEST]))

    def _place_below(self, at: int) -> int | None:
        """Where the next line stands that is not empty."""
        following = range(at + 1, len(self.lines))
        return next((i for i in following if self.lines[i].text.strip()), None)

    def _below(self, at: int) -> str:
        """The next line that is not empty."""
        place = self._place_below(at)
        return self.lines[place].text[:_LONGEST] if place is not None else ""

    def _under_chords(self, at: int) -> bool:
        above = text_at(self.lines, at - 1)
        short = bool(above.strip()) and len(above) <= _LONGEST and "|" not in above
        return short and self.is_chords(above)

    def _stands_alone(self, at: int) -> bool:
        """Whether no line of words stands right above, or none right below."""
        apart = is_empty(self.lines, at - 1) or is_empty(self.lines, at + 1)
        return apart or self.named_at == at - 1


def _is_arrow(signs: str) -> bool:
    return any(map(signs.startswith, _ARROWS))


def _peeled(text: str) -> tuple[str, str]:
    """A text without signs and brackets around it, and the signs before it."""
    core = text
    for _ in range(_MOST_PEELED):
        before = core
        core = core.strip(" \t")
        first = next((i for i, sign in enumerate(core) if not _is_sign(sign)), len(core))
        last = len(core) - next((i for i, c in enumerate(reversed(core)) if not _is_sign(c)), 0)
        opened = [i for i in range(first) if core[i] in _PAIRS]
        inner = core[first:last]
        if opened and core[last : last + 1] == _PAIRS[core[opened[-1]]]:
            core = inner
        else:
            tail = core[last:]
            closes = tail[:1] if tail[:1] in _PAIRS.values() and _lacks(inner, tail[:1]) else ""
            opens = core[first - 1] if first and core[first - 1] in _PAIRS else ""
            core = (opens if _lacks_close(inner, opens) else "") + inner + closes
        if core == before:
            break
    at = text.find(core)
    around = core != text and at >= 0
    return (core, text[: max(at, 0)].strip() or "-") if around and core else (text, "")


def _is_sign(sign: str) -> bool:
    return sign in _SIGNS or is_picture(sign)


def _lacks(inner: str, close: str) -> bool:
    """Whether a closing bracket is wanted by an opening one within a text."""
    opening = next(sign for sign, other in _PAIRS.items() if other == close)
    return inner.count(opening) > inner.count(close)


def _lacks_close(inner: str, opens: str) -> bool:
    return bool(opens) and inner.count(_PAIRS[opens]) > inner.count(opens)


def _is_plain(heading: Heading | None) -> bool:
    """Whether a line is read as the name of a section that musicians use, and no more."""
    return heading is not None and heading.rest_at is None and is_known_name(heading.name)


def _usual(core: str, known: Heading | None) -> str:
    """A name with its number or its count as they usually stand; empty for any other text."""
    if numbered := _with_number(core, known):
        return numbered
    if known is not None and known.times > 1:
        return ""
    match = _COUNTED.fullmatch(core)
    if match is not None and _is_name(match["name"].rstrip()):
        times = int(match["star"] or 0) or times_of(match["angled"] or "") or 2 * bool(match[4])
        return f"{match['name'].rstrip()} x{times}" if times > 1 else ""
    match = _COUNT_BEFORE.fullmatch(core)
    if match is None:
        return ""
    count = match["count"].casefold()
    times = _IN_WORDS.get(count) or int(re.sub(r"\D", "", count))
    name = match["name"]
    if _is_name(name) and not count.isdecimal():
        return f"{name} x{times}"
    one = _PLURAL.sub("", name)
    plural = one != name and _is_name(one) and section_key(name)[0] == section_key(one)[0]
    return f"{one} x{times}" if plural and 1 < times < 10 else ""


def _with_number(core: str, known: Heading | None) -> str:
    match = _NUMBERED.fullmatch(core)
    if match is None or not _is_name(match["name"]):
        return ""
    kind, number = section_key(match["name"])
    if number or (match["sign"] in _VERSES_ALONE and kind != "verse"):
        return ""
    if _is_plain(known) and known is not None and section_key(known.name)[1]:
        return ""
    rest = match["rest"].strip()
    if rest and rest not in (":", "."):
        return f"{match['name']} {match['number']} {rest}" if times_of(rest) else ""
    return f"{match['name']} {match['number']}{rest}"


def _is_name(text: str) -> bool:
    """Whether a text is the full name of a section, without anything else."""
    return full_name_at(text, 0) == len(text)
