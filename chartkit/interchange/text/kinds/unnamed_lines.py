"""Lines that name no section: chords, words, settings, remarks, notes, by what stands on each."""

import re
from dataclasses import replace

from chartkit.interchange.text.kinds.line_kinds import (
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    LineKind,
    Marks,
    Note,
    Remark,
    Settings,
    Shapes,
    Silence,
    Tablature,
    Words,
)
from chartkit.interchange.text.kinds.sheet_lines import LONGEST, Row, SheetLines
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.rows.behind_words import without_tail
from chartkit.interchange.text.rows.cues import marks_of
from chartkit.interchange.text.rows.inline_chords import are_sung_with_chords, chords_within
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.song_form.form import is_plan, steps_of
from chartkit.interchange.text.tokens import strikes
from chartkit.interchange.text.vocabulary.directions import (
    begins_with_term,
    is_direction,
    is_spoken,
    is_term,
    says_throughout,
)
from chartkit.interchange.text.vocabulary.facts import (
    facts_of,
    names_a_fact,
    says_again,
    without_parentheses,
)
from chartkit.interchange.text.vocabulary.feel_words import labelled_feel
from chartkit.interchange.text.vocabulary.form_words import written_out
from chartkit.interchange.text.vocabulary.reference_lines import (
    is_about_the_song,
    is_for_the_players,
    is_tablature,
    legend_pairs,
    says_note,
)
from chartkit.interchange.text.vocabulary.rests import is_counted_rest

_LABEL_OF_CHORDS = re.compile(r"(?:chords?|akkorde|accords|acordes)\s*:\s*", re.IGNORECASE)
_BARS_EACH = re.compile(
    r"\s*[,;(]?\s*(?:\d{1,2}|an?|one|two|four|half an?|je|ein|zwei|un|une|deux|dos|due|een|"
    r"twee|två)\s+"
    r"(?:bars?|beats?|takte?|measures?|mesures?|compases?|compás|battut[ae]|maten|maat|takter)\s+"
    r"(?:each|per chord|a chord|apiece|pro akkord|jeweils|chacun|chaque|cada un[oa]?|ciascuno|elk|"
    r"var)\)?",
    re.IGNORECASE,
)
"""How long each chord of a row lasts."""
_CONNECTIVES = frozenset(["then", "and then", "und dann", "dann", "puis", "luego", "daarna", "poi"])
"""Words alone on a line that only lead from one section to the next."""
_DIALOGUE = re.compile(
    r"\((?:spoken|shouted|whispered|gesprochen|parlé|hablado|parlato)\)\s*[A-Z]{2,}[^:]{0,20}:.*"
)
"""What is spoken between the songs of a show, behind the name of a part."""
_STARRED = re.compile(r"\*{1,3}\s*([^\s*](?:[^*]*[^\s*])?)\s*\*{1,3}")
_LIKE_A_CHORD = re.compile(r"[A-H](?<!\w.)(?:[#b♯♭]|m(?![a-z])|\d|maj|/|[\s,]|$)")
_THEN_CHORDS = re.compile(
    r"\s*(?:[,:;]|\s[-–—]\s|\.(?=\s))\s*(?:(?:and\s+|und\s+|et\s+)?(?:then|dann|danach|puis|luego|poi|"
    r"daarna|sedan)\s*:?\s+)?|\s+(?:then|dann|danach|puis|luego|poi|daarna|sedan|on|auf)\s*:?\s+",
    re.IGNORECASE,
)
_IN_PARENTHESES_BEHIND = re.compile(r"(?<=\S)\s{2,}\(([^()|]{3,60})\)$")
_AT_THE_MARGIN = re.compile(r"(?<=\S)\s{2,}(?:<[-=]+|←|⇐|/{2,}|#{1,3}\s)\s*(?=[^\W\d_])(\S.*)$")


_JUMP = re.compile(
    r"(?<!\w)(?:D\.\s?[SC]\.|DS al|DC al|D\.?[SC]\.? to)(?!\w)|"
    r"\b(?:dal segno|da capo al|al coda|al fine)\b"
)
"""A jump said in a sentence."""


def kind_of(sheet: SheetLines, line: Line, row: Row | None) -> LineKind:
    """The kind of a line that names no section; ``row`` are its chords if it is a row of them."""
    text = line.text.strip()
    if is_plan(text) and not sheet.is_chords(text.partition(":")[2]):
        return Note()
    if is_counted_rest(text):
        return Silence()
    if row is not None:
        return Chords(row)
    if is_tablature(line.text):
        return Tablature()
    if (bars := written_out(text, sheet.is_chords)) != text:
        held = sheet.tokens.row(replace(line, text=bars, columns=None))
        return Chords(held) if held is not None else Words()
    chorded = len(text) <= LONGEST and _LIKE_A_CHORD.search(text) is not None
    chords = (_throughout(sheet, text) or _said_before_chords(sheet, text)) if chorded else None
    if are_sung_with_chords(line, sheet.tokens):
        return words_of(line, sheet.tokens)
    return chords or aside_of(text) or words_of(line, sheet.tokens)


def _said_before_chords(sheet: SheetLines, text: str) -> Chords | None:
    """A row of chords behind a direction ("drums 4 bars, then D G A D"); None for any other
    line."""
    if is_about_the_song(text):
        return None
    for match in _THEN_CHORDS.finditer(text):
        said, chords = text[: match.end()].strip(" ,:;.-–—"), text[match.end() :]
        if said and is_direction(said) and sheet.is_chords(chords) and " " in chords.strip():
            row = sheet.tokens.row(Line(0, f"({said}) {chords}"))
            return Chords(row, behind_name=True) if row is not None else None
    return None


def _throughout(sheet: SheetLines, text: str) -> Chords | None:
    """A row of chords with words that say it is for the whole song; None for any other."""
    said = says_throughout(text)
    if said is None:
        return None
    chords = f"{text[: said.start()]} {text[said.end() :]}"
    each = _BARS_EACH.search(chords)
    if each is not None:
        chords = f"{chords[: each.start()]} {chords[each.end() :]}"
    chords = chords.strip(" ():,;-–—.!")
    chords = _LABEL_OF_CHORDS.sub("", chords)
    if not sheet.is_chords(chords):
        return None
    row = sheet.tokens.row(
        Line(0, f"{chords} ({said[0].strip()}{each[0].rstrip(' )') if each else ''})")
    )
    return Chords(row) if row is not None else None


def words_of(line: Line, tokens: TokenReader) -> LineKind:
    """Words, or words and chords on one line."""
    within = chords_within(line, tokens)
    if within is not None and within[1][0].column < len(within[0].text):
        return ChordsWithin(within[0], tuple(within[1]))
    if within is not None and len(within[1]) > 1:
        return ChordsBehind(within[0], tuple(within[1]))
    behind = without_tail(line, tokens)
    if behind[1] and strikes(behind[1]):
        return ChordsBehind(behind[0], tuple(behind[1]))
    return Words()


def is_plainly_words(text: str) -> bool:
    """Whether a line under a row of chords is words by itself, and nothing else that a line of a
    sheet can be."""
    text = text.strip()
    says_other = (
        heading_of(text) is not None
        or is_counted_rest(text)
        or is_tablature(text)
        or aside_of(text) is not None
        or is_term(text)
        or _AT_THE_MARGIN.search(text) is not None
        or is_plan(text)
        or bool(steps_of(text, lambda _: False))
    )
    return not says_other


@kept
def aside_of(text: str) -> LineKind | None:
    """The kind of a line that is neither chords nor words; None for words."""
    if text[:1] == "*" and (starred := _STARRED.fullmatch(text)) is not None:
        return aside_of(starred[1]) or Remark(starred[1])
    if facts := facts_of(without_parentheses(text)):
        return Settings(facts)
    dialogue = text.startswith("(") and _DIALOGUE.fullmatch(text) is not None
    if dialogue or is_spoken(text) or ("." in text and begins_with_term(text)):
        return Remark(text)
    if (inside := without_parentheses(text)) != text:
        return Remark(inside, in_parentheses=not says_again(text))
    if text.casefold().strip(" .:") in _CONNECTIVES:
        return Remark(text)
    if labelled_feel(text) or says_note(text) or says_again(text):
        return Remark(text)
    if not any(map(str.isalpha, text)):
        return Remark(text)
    if marks := marks_of(text):
        return Marks(marks)
    if legend_pairs(text):
        return Shapes()
    jumps = ("D" in text or "al" in text) and len(text) <= LONGEST
    if jumps and _JUMP.search(text) is not None:
        return Remark(text)
    return Note() if is_for_the_players(text) or names_a_fact(text) else None


def _said_behind(text: str) -> re.Match[str] | None:
    """What is said to the players in parentheses, wide apart behind the words of a line."""
    match = _IN_PARENTHESES_BEHIND.search(text) if text.endswith(")") else None
    if match is None or not is_direction(match[1]) or says_again(match[1]) or marks_of(match[1]):
        return None
    return match


def _behind_a_sign(text: str) -> re.Match[str] | None:
    """What is said at the right margin behind a sign."""
    signed = "<" in text or "//" in text or "#" in text or "←" in text or "⇐" in text
    return _AT_THE_MARGIN.search(text) if signed else None


def without_margin(line: Line) -> tuple[Line, KnownLine | None]:
    """A line without a remark typed at its right margin behind a sign, and that remark."""
    short = len(line.text) <= LONGEST
    wide = short and "  " in line.text
    match = (_behind_a_sign(line.text) or _said_behind(line.text)) if wide else None
    if match is None or is_tablature(line.text):
        return line, None
    remark = replace(line, text=" " * match.start(1) + match[1])
    return replace(line, text=line.text[: match.start()]), KnownLine(remark, Remark(match[1]))
