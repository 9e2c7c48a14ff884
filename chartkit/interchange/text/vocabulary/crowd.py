"""Recognises what the people in front of the stage do or shout: a cue for the band, and no words
of the song.

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re

from chartkit.interchange.text.quick_looks import kept, words_in

_PEOPLE = (
    *("crowd", "audience", "public", "congregation", "punters", "publikum", "saal", "salle"),
    *("foule", "público", "publico", "gente", "pubblico", "folla", "publiek", "zaal", "publiken"),
    *("publike", "salen", "publikummet"),
)
_CROWD = (
    r"(?:(?:the|whole|our|all|das|der|ganze[rs]?|le|la|tout le|toute la|el|todo el|toda la|il|"
    r"tutto il|tutta la|o|het|hele|heel het|de|hela|det)\s+){0,2}"
    rf"(?:{'|'.join(_PEOPLE)}|dance ?floor)"
)
_NAMED = frozenset((*_PEOPLE, "dance", "dancefloor"))
"""One of these words stands wherever the crowd is named, with no letter right before or behind
it."""
_DOES = (
    r"(?:claps?|clapping|stomps?|stamps?|shouts?|yells?|cheers?|whistles?|hums?|sings?|singing|joins?|"
    r"answers?|waves?|jumps?|klatscht|singt|ruft|stampft|pfeift|summt|antwortet|tape|frappe|chante|"
    r"crie|siffle|répond|aplaude|palmea|canta|grita|silba|responde|batte|urla|fischia|risponde|klapt|"
    r"zingt|roept|stampt|fluit|klappar|sjunger|ropar|stampar|visslar|klapper|synger|råber|roper|"
    r"tramper|bate|assobia|alone|only|allein|seul|solo|sola|sozinho|alleen|ensam|alene)"
)
_OF_THE_CROWD = re.compile(
    rf"{_CROWD}\s*(?::|[–—-]\s|,?\s+(?:[^\W\d_]+\s+)?{_DOES}(?![^\W\d_])).*", re.IGNORECASE
)
_NO_ARTICLE = re.compile(
    r"(?:crowd|audience|congregation|publikum|público|pubblico|publiek|publiken)\b", re.I
)
_LONGEST, _FEW_WORDS = 80, 4


@kept
def is_of_the_crowd(text: str) -> bool:
    """Whether a line begins with the crowd and says what it does or shouts ("crowd claps",
    "audience: HEY")."""
    if len(text) > _LONGEST or _NAMED.isdisjoint(words_in(text)):
        return False
    return _OF_THE_CROWD.fullmatch(text.strip(" ().!")) is not None


@kept
def is_shorthand_of_the_crowd(text: str) -> bool:
    """Whether it says so in few words without an article, as words that are sung do not."""
    if _NAMED.isdisjoint(words_in(text)):
        return False
    bare = text.strip(" ().!")
    short = len(bare.split()) <= _FEW_WORDS and _NO_ARTICLE.match(bare) is not None
    return short and is_of_the_crowd(text)


def ways_of_the_crowd(text: str) -> int:
    """In how many of these ways a line is the crowd's."""
    if _NAMED.isdisjoint(words_in(text)):
        return 0
    return is_of_the_crowd(text) + is_shorthand_of_the_crowd(text)


_OF_HANDS_IN_WORDS = """
clap claps stamp stamps stomp stomps snap snaps click clicks thump thumps slap slaps knock knocks
tap taps klatsch klatschen stampf stampfen patsch schnipp schnipsen schnips klopf klopfen tape
tapez frappe frappez clac palma palmas palmada palmadas pisotón pisotones zapatazo chasquido
battito battiti battimani pestone pestoni schiocco klap klappen stampen knip knippen tik klapp
klappa stampa tramp knäpp klask knips trykk palminhas bate batida klaśnij tupnij tup
"""
_OF_HANDS = frozenset(_OF_HANDS_IN_WORDS.split())
_BETWEEN_MOVES = frozenset(["and", "und", "et", "y", "e", "i", "en", "och", "og", "x2", "x3", "x4"])
_LONGEST_MOVES = 60


@kept
def is_of_hands_and_feet(text: str) -> bool:
    """Whether a few words say only what hands and feet do ("stamp, stamp", "clap clap
    stomp"), which nobody sings."""
    if len(text) > _LONGEST_MOVES:
        return False
    words = [word.strip(".,;:!-–").casefold() for word in text.split()]
    moves = [word for word in words if word and word not in _BETWEEN_MOVES]
    return bool(moves) and all(move in _OF_HANDS for move in moves)
