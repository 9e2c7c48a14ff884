"""Where the reader of a sheet stands: the lines, what they are, the next one, the chart so far."""

from dataclasses import dataclass
from functools import lru_cache

from chartkit.interchange.text.chart_builder import Sheet
from chartkit.interchange.text.cues import marks_of
from chartkit.interchange.text.facts import facts_of, is_counted_rest, says_again
from chartkit.interchange.text.head import without_parentheses
from chartkit.interchange.text.inline_chords import chords_within
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.lyrics import VERSE
from chartkit.interchange.text.reference_lines import is_tablature, is_told, says_note
from chartkit.interchange.text.section_names import heading_of
from chartkit.interchange.text.tokens import Token

Kinds = list[tuple[Token, ...] | None]


def _has_its_own_chords(line: Line, sheet: Sheet) -> bool:
    """Whether a line of words begins with a chord in parentheses."""
    if not line.text.lstrip().startswith("("):
        return False
    within = chords_within(line, sheet.tokens)
    return within is not None and within[1][0].column == 0


@lru_cache(maxsize=256)
def _can_be_sung(text: str) -> bool:
    """Whether a line can be words, by what it says; each is asked for several times."""
    return (
        bool(text)
        and heading_of(text) is None
        and (text[0].isalnum() or any(map(str.isalnum, text)) or "_" in text)
        and not says_again(text)
        and not is_counted_rest(text)
        and not is_told(text)
        and not says_note(text)
        and not is_tablature(text)
        and not facts_of(text)
        and not marks_of(text)
    )


@dataclass(slots=True)
class Cursor:
    """The lines of a sheet and the place ``at`` which the next is read; ``kinds`` has the
    tokens of each line, None where it is no row of chords."""

    sheet: Sheet
    lines: list[Line]
    kinds: Kinds
    at: int = 0

    @property
    def line(self) -> Line:
        """The line to be read next."""
        return self.lines[self.at]

    @property
    def stanza_begins(self) -> bool:
        """Whether the line before the next is blank; not at the start of the sheet."""
        return self.at > 0 and not self.lines[self.at - 1].text.strip()

    def is_words(self, at: int) -> bool:
        """Whether a line can stand under chords as words."""
        return self.kinds[at] is None and _can_be_sung(self.lines[at].text.strip())

    def words_under(self, rows_are_numbered: bool) -> list[Line]:
        """Takes the line of words right under a row of chords; several where they are numbered.

        A number makes a line words even where all of it could be chords, unless the row of
        chords has a number itself.
        """
        found: list[Line] = []
        while self.at < len(self.lines):
            line = self.line
            numbered = VERSE.match(line.text) is not None
            told = numbered and not rows_are_numbered
            if not (self.is_words(self.at) or told):
                break
            if _has_its_own_chords(line, self.sheet):
                break
            if found and not (numbered and VERSE.match(found[-1].text)):
                break
            found.append(line)
            self.at += 1
        return found

    def block(self, whole_section: bool) -> tuple[int, list[str]]:
        """The lines of words from here to a blank line, or to the next heading: where they
        end, and their texts; no texts where something else stands among them."""
        found: list[str] = []
        at = self.at
        while at < len(self.lines):
            text = self.lines[at].text.strip()
            if heading_of(text) is not None or (not text and not whole_section):
                break
            if found and VERSE.match(text):
                break  # the next verse
            if text and (not self.is_words(at) or without_parentheses(text) != text):
                return at, []
            if text:
                number = VERSE.match(text) if not found else None
                found.append(text[number.end() :] if number else text)
            at += 1
        return at, found
