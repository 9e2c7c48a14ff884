"""To whom a line below a song speaks: to the players, or to the reader of the sheet.

Source of the words: common practice, no source.
"""

import re

from chartkit.interchange.text.vocabulary.crowd import is_of_the_crowd
from chartkit.interchange.text.vocabulary.directions import (
    count_words,
    is_direction,
    is_greeting,
    is_talk,
    is_term,
    names_player,
    speaks_of_music,
    tells_who_plays,
)
from chartkit.interchange.text.vocabulary.farewells import CLOSES
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said

FOOT = re.compile(
    r"©|\(c\)\s|\bcopyright\b|\ball rights reserved\b|\balle rechte\b|\btous droits\b|"
    r"\btodos los derechos\b|\S@[^\s@]+\.\w|\bwww\.|https?:|"
    r"^\W*(?:(?:page|p\.|pg\.?|seite|s\.|blatt|pág\.?|página|pagina|sida|side)\W*)?\d{1,3}"
    r"(?:\s*(?:/|of|von|de|van|av)\s*\d{1,3})?\W*$|"
    r"^\W*(?:(?:tel|phone|mobile?|mob|handy|móvil|cell|[mtp])\b\.?:?[\s+(]*)?\d"
    r"[\d\s()/.-]{5,}+\W*$",
    re.IGNORECASE,
)
"""Copyright, addresses, the number of a page, a telephone number."""
_HOURS = (
    r"(?:eins|zwei|drei|vier|fünf|sechs|sieben|acht|neun|zehn|elf|zwölf|zeven|negen|"
    r"tien|twaalf|ocho|nueve|diez|siete|otto|nove|dieci|sette|sju|åtta|nio)"
)
CLOCK = re.compile(
    r"\d[:.]\d\d|\d\s?(?:[ap]\.?m|uhr|h)\b|\bo['’]clock\b|\b(?:\w+ uhr|heures)\b|"
    rf"\b(?:um|a las|alle|om|klockan)\s+(?:halb\s+|half\s+)?{_HOURS}\b(?!\s+(?:takt|mal))|"
    r"\bat (?:half past |about )?(?:five|six|seven|eight|nine|ten|noon)[.!]*$",
    re.IGNORECASE,
)
"""An hour of the day, in figures or in words."""
_SIGN = re.compile(
    r"\b(?:cut-?off|(?:my|his|her|the|for an?) (?:nod|cue|sign|signal|wave|count)|watch (?:me|for)|"
    r"auf (?:mein|sein|ihr|das) zeichen|abschlag|mon signe|mi señal|mio cenno|mijn teken|"
    r"mitt tecken|mit tegn)\b",
    re.IGNORECASE,
)
"""How somebody is named on whose sign the band waits."""
_NAMES_ALONE = re.compile(r"(?:[A-ZÀ-ÖØ-Þ][^\W\d_]*\.?[\s,&+]*){1,4}x*")
"""Who signs, each word with a capital letter."""
_MOST_LOUD_NAMES = 2
_SOUNDS_SAID = 0.9
"""From these odds on a line below the song that is no talk is said to the players (ours)."""
_MOST_OF_A_REMARK, LONGEST = 0.6, 120
_FEW = 4
"""In so few words one of the trade tells that they are for the band (ours)."""


def plays(text: str) -> bool:
    """Whether a line says something of how the song is played."""
    return speaks_of_music(text) or is_direction(text) or tells_who_plays(text)


def is_only_talk(text: str) -> bool:
    """Whether a line is said to the reader, and says nothing of how to play."""
    played = plays(text) or is_term(text)
    return is_talk(text) and not played and count_words(text).strong == 0


def is_for_the_band(text: str) -> bool:
    """Whether a line below the song says how to play it, mostly in words of the trade, or for
    whose sign to wait."""
    if len(text) > LONGEST or is_greeting(text) or _begins_to_close(text) or CLOCK.search(text):
        return False
    player, colon, _ = text.partition(":")
    if colon and player.split() and names_player(player.split()[-1]):
        return True
    count = count_words(text)
    few = count.all <= _FEW and not is_talk(text)
    trade = count.strong > 0 and (few or count.share >= _MOST_OF_A_REMARK)
    if trade or is_of_the_crowd(text) or _SIGN.search(text) is not None:
        return True
    talk = is_talk(text) or "?" in text or _NAMES_ALONE.fullmatch(text) is not None
    return not talk and sounds_said(text) >= _SOUNDS_SAID


def _begins_to_close(text: str) -> bool:
    """Whether a line begins with words of leave ("Love to all of you"), and not with a word that
    only begins like them."""
    match = CLOSES.match(text)
    end = len(match[0].rstrip()) if match is not None else 0
    return match is not None and not text[end : end + 1].isalnum()


def _is_of_the_day(text: str) -> bool:
    """Whether a line right under the last name speaks to the reader of the day, its hours and
    places, or takes leave; any other there is for the players."""
    leaves = is_greeting(text) or _begins_to_close(text) or "?" in text
    timed = CLOCK.search(text) is not None or FOOT.search(text) is not None
    signs = _NAMES_ALONE.fullmatch(text) is not None
    loud = text.isupper() and len(text.split()) > _MOST_LOUD_NAMES  # "BLACKOUT ON LAST HIT"
    return is_talk(text) or leaves or timed or (signs and not loud)


def is_for_players_here(text: str) -> bool:
    """Whether a line right under a name is for the players: it speaks of the music, or not of the
    day."""
    return plays(text) or is_for_the_band(text) or not _is_of_the_day(text)
