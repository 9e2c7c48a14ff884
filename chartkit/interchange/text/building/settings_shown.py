"""The capo and the meter where nothing names them: the chords, or words of the head, show them."""

import re
from collections.abc import Sequence

from chartkit.chart.model import Meter
from chartkit.interchange.text.building.capo import doubled_capo
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.cursor import Cursor
from chartkit.interchange.text.kinds.line_kinds import Chords
from chartkit.interchange.text.rows.beats import counts_three, fits_three
from chartkit.interchange.text.rows.counted_tokens import beats_counted
from chartkit.interchange.text.tokens import Token
from chartkit.interchange.text.vocabulary.facts import facts_of, without_parentheses

_LONGEST_LOOKED_AT = 120
_FEW_WORDS = 4
_WALTZ_BEATS = 3
_NO_WALTZ = (
    r"(?:not|no|never|kein|nicht|pas|non|não|geen|inte|ikke|nie)\s+(?:an?\s+|une?\s+|en\s+)?"
)
_WALTZ = re.compile(
    r"(?<!\w)(?P<no>" + _NO_WALTZ + r")?(?:(?:slow|jazz|country)?(?:waltz(?:es)?|walzer(?:takt)?|"
    r"valses?|valsette|vals(?:en|takt)?|valzer|wals(?:je|tempo)?|valsas?|walc|walczyk|valssi)|"
    r"(?:3|three|drei|trois|tres|tre|três|drie)\s(?:beats?|counts?|schläge|temps|tiempos|tempi|tempos|"
    r"tellen|slag)(?:\s(?:in|to|per|an?|pro|im|par|por|a|i)\s(?:(?:the|every|each|la|le|il|de)\s)?"
    r"(?:bars?|measure|takt|mesure|compás|battuta|compasso|maat))?|"
    r"(?:count(?:ed)?|counts?)\s(?:in|of|it in)\s(?:3|three)|dreiertakt|ternair?e)(?!\w)",
    re.IGNORECASE,
)
"""How a head says that the song has three beats in a bar; common practice, no source."""


def find_capo(cursor: Cursor) -> None:
    """Takes the capo from rows of shapes over what sounds where no heading names one."""
    sheet = cursor.sheet
    capo = 0 if "capo" in sheet.top else doubled_capo(cursor.known)
    if capo:
        sheet.top["capo"] = capo
        sheet.findings.guess(
            "shapes-over-sounding",
            f"each row of chords stands twice, {capo} half steps "
            f"apart: they are read as shapes at capo {capo} over what sounds",
        )


def _says_three(text: str) -> bool:
    """Whether words of a head say that the song is a waltz, or has three beats in a bar."""
    said = _WALTZ.search(text[:_LONGEST_LOOKED_AT])
    return said is not None and not said["no"]


def _beats_shown(sheet: Sheet, rows: Sequence[Sequence[Token]]) -> int:
    """How many beats signs behind chords count in each bar of a sheet; 0 where they count none."""
    sheet.bars.dashes_are_beats = beats_counted(rows, dashes=True) > 0
    beats = beats_counted(rows, dashes=sheet.bars.dashes_are_beats)
    sheet.bars.beats_are_counted = sheet.bars.beats_are_counted or beats > 0
    return beats


def find_meter(cursor: Cursor) -> None:
    """Takes the meter from bars of three places each, from signs that count three beats, or from a
    head that says that the song is a waltz, where nothing in the sheet gives one."""
    sheet = cursor.sheet
    rows = [one.kind.tokens for one in cursor.known if isinstance(one.kind, Chords)]
    beats = _beats_shown(sheet, rows)
    if "meter" in sheet.top:
        return
    texts = (one.line.text.strip() for one in cursor.known[: cursor.at])
    letter = [text for text in texts if len(text.split()) > _FEW_WORDS and text[-1] in ".!?:"]
    waltz = any(map(_says_three, (str(sheet.top.get("feel", "")), *sheet.notes, *letter)))
    waltz = waltz and fits_three(rows)
    if not waltz and beats != _WALTZ_BEATS and not counts_three(rows):
        return
    facts = (fact for one in cursor.known for fact in facts_of(without_parentheses(one.line.text)))
    if any(fact.name == "meter" for fact in facts):
        return
    sheet.top["meter"] = sheet.bars.meter = Meter(3, 4)
    why = "the song is said to be a waltz" if waltz else "all bars have three places"
    sheet.findings.guess("meter", f"no meter is given, and {why}: read in 3/4")
