"""What else of a title's line is of the song: words that are sung below it ("Mill Pond (Turn
Around)"), and the title behind or below who plays it ("The Long Barn Five - Mill Pond").

Source of the words: common practice, no source.
"""

import re

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.head_words.titles import DASH
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.vocabulary.writer_names import names_people

_FEWEST_WORDS, _LONGEST = 2, 80
_BAND = re.compile(
    r"(?:the|die|los|las|les|gli|i|de)\s.*(?<!\w)(?:band|trio|quartet|quintet|duo|five|four|three|six|"
    r"seven|boys|girls|brothers|sisters|singers|ramblers|players|orchestra|combo|ensemble|choir|"
    r"collective|crew|kapelle|jungs|buben|brüder|schwestern|hermanos|hermanas|frères|sœurs|"
    r"fratelli|sorelle|broers|zusjes)|"
    r".*\s(?:band|trio|quartet|quintet|duo|ensemble|combo|choir|orchestra)|"
    r".+\s(?:and|und|y|et|e|en|och|&)\s(?:the|his|her|die|los|les|il|de)\s.+",
    re.IGNORECASE,
)


def is_a_band(text: str) -> bool:
    """Whether a text is spelled as names of bands are ("Nell and the Geese")."""
    return len(text) <= _LONGEST and _BAND.fullmatch(text) is not None


def is_sung_below(sheet: Sheet, text: str) -> bool:
    """Whether at least two words stand one after another in a line of the song."""
    letters = letters_of(text)
    several = len(text) <= _LONGEST and len(text.split()) >= _FEWEST_WORDS
    return several and bool(letters) and any(letters in line for line in sheet.sung)


def band_and_title(sheet: Sheet, text: str) -> tuple[str, str] | None:
    """The band that stands before a title and a dash, and the title: the words behind the dash are
    sung and the others are not, or only the others name a band; None for any other line."""
    parts = DASH.split(text) if len(text) <= 2 * _LONGEST else []
    named = text.partition(": ")[0]
    if len(parts) == 1 and (is_a_band(named) or names_people(named)):
        parts = text.split(": ", maxsplit=1)
    if len(parts) != 2 or not all(part[:1].isupper() or part.islower() for part in parts):
        return None
    first, second = (is_sung_below(sheet, part) for part in parts)
    bands = [is_a_band(part) for part in parts]
    if second > first or (bands == [True, False] and not first):
        return parts[0], parts[1]
    return None


def is_over_its_title(sheet: Sheet, text: str, below: str) -> bool:
    """Whether a line names people or a band, and the title right below it is sung."""
    named = is_a_band(text) or names_people(text.title())
    plain = len(text) <= _LONGEST and named and not is_sung_below(sheet, text)
    return plain and is_sung_below(sheet, below)
