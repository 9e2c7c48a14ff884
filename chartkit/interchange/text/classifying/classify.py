"""Classifies each line of a sheet once, by the line, its neighbours and the whole sheet."""

import re
from collections.abc import Sequence

from chartkit.interchange.text.classifying.chord_list import without_chords_used
from chartkit.interchange.text.classifying.neighbours import with_neighbours
from chartkit.interchange.text.head_words.head_facts import head_facts, key_and_tempo
from chartkit.interchange.text.head_words.head_labels import TITLE_LABEL
from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    LineKind,
    Remark,
    SectionStart,
    Settings,
    Words,
)
from chartkit.interchange.text.kinds.sheet_lines import Row, SheetLines
from chartkit.interchange.text.kinds.unnamed_lines import aside_of, kind_of, without_margin
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.sheet_names import COMMON_NAMES, SheetNames
from chartkit.interchange.text.raw_text.set_apart import said_by_sign
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.section_lines.medleys import Tunes
from chartkit.interchange.text.section_lines.named_lines import NamedLines
from chartkit.interchange.text.section_lines.order_lines import with_roadmaps
from chartkit.interchange.text.section_lines.sheet_blocks import with_added
from chartkit.interchange.text.vocabulary.facts import Fact, without_parentheses
from chartkit.interchange.text.vocabulary.sung_words import is_said_aloud

_BEGINS = (SectionStart, Chords)
_ITS_OWN = (Chords, ChordsWithin, ChordsBehind)
"""Kinds of which each line has a value of its own: rows differ, and others know their line."""
_MUSIC = (Chords, ChordsWithin)
_FIRST = (*_BEGINS, ChordsWithin)
_COUNTED = re.compile(r"\d{1,2}\.")


def classify(
    lines: Sequence[Line], tokens: TokenReader, names: SheetNames = COMMON_NAMES
) -> list[KnownLine]:
    """The kind of every line. A section's name with more behind it becomes two lines.

    ``names`` are those of the sheet's sections, as far as they were found before.
    """
    return _Classifier(lines, tokens, names).result()


class _Classifier:
    """Classifies each line by itself, then by its neighbours."""

    def __init__(self, lines: Sequence[Line], tokens: TokenReader, names: SheetNames) -> None:
        self.sheet = SheetLines(lines, tokens, names)
        self.known: list[KnownLine] = []
        self.named = NamedLines(self.sheet, self.known)
        self.tunes = Tunes(self.sheet, self.known)
        self._looked_at, self._begun = 0, False
        self._kinds: dict[tuple[str, bool], LineKind] = {}

    def result(self) -> list[KnownLine]:
        """What every line is."""
        sheet = self.sheet
        for at, line in enumerate(sheet.lines):
            bare, remark = without_margin(line)
            if remark is not None and sheet.rows[at] is None and sheet.headings[at] is None:
                line = bare
            else:
                remark = None
            self._take(self.tunes.with_names(self._read(at, line)), remark)
        known = without_chords_used(self._with_first_verse())
        ordered, added = with_roadmaps(known, sheet.lines, sheet.tokens.row, sheet.is_chords)
        return with_added(with_neighbours(ordered), added)

    def _take(self, read: Sequence[KnownLine], remark: KnownLine | None) -> None:
        """Takes what a line is, and what is said at its margin: of the section that starts there,
        or of the row above."""
        if remark is not None and read and isinstance(read[0].kind, SectionStart):
            self.known += [read[0], remark, *read[1:]]
            return
        if remark is not None:
            above = bool(self.known) and isinstance(self.known[-1].kind, Chords)
            self.known.insert(len(self.known) - above, remark)
        self.known += read

    def _with_first_verse(self) -> list[KnownLine]:
        """The lines; where verses are counted from two on, the song without a name begins with the
        first."""
        known = self.known
        names = [one.kind.name for one in known if isinstance(one.kind, SectionStart)]
        counted = [name for name in names if _COUNTED.fullmatch(name)]
        first = next((at for at, one in enumerate(known) if isinstance(one.kind, _FIRST)), None)
        if first is None or counted[:1] != ["2."] or not isinstance(known[first].kind, _MUSIC):
            return known
        return [*known[:first], KnownLine(known[first].line, SectionStart("1.")), *known[first:]]

    def _read(self, at: int, line: Line) -> list[KnownLine]:
        """What a line is by itself; a section's name with more behind it becomes two lines."""
        text, row = line.text.strip(), self.sheet.rows[at]
        if not text or (row is None and not _says_something(text)):
            return [KnownLine(line, Blank())]
        if row is not None and self._has_begun() and self.sheet.is_bare_row(at):
            return [KnownLine(line, Chords(row))]
        if not self._has_begun() and TITLE_LABEL.match(text):
            return [KnownLine(line, Words())]
        if said := said_by_sign(text):
            return [KnownLine(line, aside_of(said) or Remark(said))]
        aloud = is_said_aloud(text) and not self.sheet.is_empty(at - 1)
        if aloud and (inside := without_parentheses(text)) != text:
            return [KnownLine(line, Remark(inside))]
        facts = () if self._has_begun() else _settings_of_a_head(text, row is not None)
        if facts:
            return [KnownLine(line, Settings(facts))]
        if tune := self.tunes.read(at, line):
            return tune
        return self.named.read(at, line) or [KnownLine(line, self._unnamed(line, row))]

    def _unnamed(self, line: Line, row: Row | None) -> LineKind:
        """The kind of a line that names no section, as the same text was read before."""
        text = (line.text, row is None)
        kind = self._kinds.get(text) if line.columns is None else None
        if kind is None:
            kind = kind_of(self.sheet, line, row)
            if line.columns is None and not isinstance(kind, _ITS_OWN):
                self._kinds[text] = kind
        return kind

    def _has_begun(self) -> bool:
        """Whether the song has begun above the next line."""
        if not self._begun:
            new = self.known[self._looked_at :]
            self._looked_at = len(self.known)
            self._begun = any(isinstance(one.kind, _BEGINS) for one in new)
        return self._begun


def _settings_of_a_head(text: str, like_chords: bool) -> tuple[Fact, ...]:
    """The settings of a line above the song that says nothing else: a key and a tempo that could
    be a row of chords, or settings in parentheses ("(C, 4/4)")."""
    if like_chords:
        return key_and_tempo(text)
    inside = without_parentheses(text)
    if inside == text:
        return ()
    head = head_facts(inside)
    return head.facts if len(head.facts) > 1 and not head.rest and not head.manner else ()


def _says_something(text: str) -> bool:
    return "_" in text or any(map(str.isalnum, text))
