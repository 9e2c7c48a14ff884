"""Solos over a section that the sheet has: "Solo (flauta) na Parte 1", "Solo Sax über die Strophe",
"Fiddle over verse x2".

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re

from chartkit.chart.section_words import PLAYERS, SOLO_IN_ONE_WORD
from chartkit.interchange.text.quick_looks import words_in
from chartkit.interchange.text.song_form.steps import KnownNames, Step
from chartkit.interchange.text.vocabulary.bar_words import BARS
from chartkit.interchange.text.vocabulary.directions import names_player
from chartkit.interchange.text.vocabulary.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.sung_words import is_said_aloud
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of

_OVER = (
    r"over|över|über|sobre|sopra|su|sul(?:l[aoe])?|sugli|na|nad|przez|em cima d[aeo]|through|across"
)
_LIKE = (
    r"zoals|gleich wie|wie|som|like|(?:the )?same as|as|als|comme|como|come|jak(?: w)?|"
    r"igual (?:que|a)|no|nella|en"
)
_ON = r"on|auf|op|em|sur|på|in"
"""What stands between a player and a section as well as between a player and a place."""
_ARTICLE = (
    r"(?:(?:the|(?-i:an?|os?|as?)|one|de[nrm]?|het|die|das|les?|la|el|il|lo|los|las|gli)\s+|l['’])?"
)
_CHORDS_OF = rf"(?:(?:{WORDS_FOR_CHORDS}|akordy)\s+(?:[^\W\d_]{{2,5}}(?:\s+|['’])){{1,2}})?"
_WHICH = (
    rf"{_ARTICLE}{_CHORDS_OF}(?P<other>[^\W\d_][^,;:()|]{{0,24}}?)(?:\s+(?:{WORDS_FOR_CHORDS}))?"
    rf"(?:\s*[,(]?\s*(?P<times>{ANY_TIMES})\)?)?(?:\s*[,(]\s*(?P<said>[^()]{{2,60}})\)?)?[.!]?"
)
PLAYER_OVER = re.compile(
    rf"(?P<who>[^\W\d_][\w .&+/'’-]{{1,40}}?)\s+(?:(?:{_OVER}|(?P<on>{_ON}))\s+|sull['’]){_WHICH}",
    re.IGNORECASE,
)
_IN_FIGURES = r"(?:\d{1,2}\s?[x×]|[x×]\s?\d{1,2})"
_WHAT = (
    rf"{SOLO_IN_ONE_WORD.replace('?P<player>', '')}|solos?|sólos?|soli|assol[oi]|solówk[ai]|soolo|"
    r"szóló|improvisation|impro|requinto"
)
_SOLO = re.compile(
    rf"(?:(?P<who>[^\W\d_][\w'’]{{1,14}})[\s-]+)?(?P<what>{_WHAT})"
    r"(?P<by>(?:\s+[^\W\d_][\w'’]{0,14}){0,3})(?:\s*[(\[](?P<inside>[^()\[\]]{2,40})[)\]])?"
    rf"(?:(?:\s*[,:=–-])?\s+(?:(?:{_OVER}|{_LIKE}|{_ON})\s+|sull['’]|(?P<first>{_IN_FIGURES})\s+)|"
    rf"\s*[:=]\s*){_WHICH}",
    re.IGNORECASE,
)
_PLAYER_AND_BARS = re.compile(
    rf"(?P<who>[^\W\d_][\w .&+/'’-]{{1,30}}?)\s+(?P<bars>\d{{1,2}}[ -]?{BARS})\s*"
    r"\((?P<other>[^\W\d_][^()|]{0,24})\)",
    re.IGNORECASE,
)
"""Who plays how many bars, and of which section ("Clarinet 16 bars (Verse 1)")."""
_OF_WHOM = re.compile(r"\s+(?:(?:de|di|da|do|del|della|du|af|av|van|na)\s|d['’])", re.IGNORECASE)
_GOES_ON = re.compile(
    r"(?:and|then|und|dann|et|puis|y|luego|poi|en|dan|daarna|och|sedan|og|så|potem)\s+"
    r"(?:(?:the|der|die|das|le|la|el|il|het|de)\s+)?[^\W\d_]",
    re.IGNORECASE,
)
_AMONG_PLAYERS_IN_WORDS = "and und et y e en och og the lead pedal steel slide tin"
_AMONG_PLAYERS = frozenset(_AMONG_PLAYERS_IN_WORDS.split())
_SOLO_WORDS = frozenset(["solo", "solos", "sólo", "assolo"])
"""Behind a player's name cut short ("Clar. solo over verse")."""
_BETWEEN_IN_WORDS = """
over över über sobre sopra su sul sulla sullo sulle sugli sull na nad przez em through across on auf
op sur på in
"""
BETWEEN_PLAYER_AND_SECTION = frozenset(_BETWEEN_IN_WORDS.split())
"""One of these words stands between the two wherever ``PLAYER_OVER`` fits."""
_LONGEST = 120


def solo_over(text: str, known: KnownNames) -> Step | None:
    """The step of a solo that a text says is played over a section above; None for any other
    text."""
    match = _SOLO.fullmatch(text.strip()) if len(text) <= _LONGEST else None
    other = known.meant_by(match["other"].strip()) if match is not None else ""
    if match is None or (match["said"] and _names_more(match["said"])):
        return None
    if not other or (match["who"] and not _plays(match["who"])):
        return None
    by = match["by"]
    name = f"{match['who'] or ''} {match['what']}".strip()
    if _OF_WHOM.match(by) is not None or names_player(by.strip()):
        name, by = f"{name}{by}", ""
    times = max(1, *(times_of(match[one] or "") for one in ("first", "times")))
    said = tuple(one.strip() for one in (by, match["inside"], match["said"]) if one)
    return Step(name, text.find(name), times, other, "", said)


def _names_more(said: str) -> bool:
    """Whether more steps follow in what is said behind a solo."""
    return _GOES_ON.match(said) is not None or not _SOLO_WORDS.isdisjoint(words_in(said))


def _plays(who: str) -> bool:
    low = who.casefold()
    return low.removesuffix("s") in PLAYERS or names_player(who) or who.istitle()


def player_over(text: str, known: KnownNames) -> Step | None:
    """The step of somebody who plays over a section that is known ("Fiddle over verse x2"); None
    for any other line."""
    if BETWEEN_PLAYER_AND_SECTION.isdisjoint(words_in(text)):
        return None
    match = PLAYER_OVER.fullmatch(text.strip())
    if match is None or is_said_aloud(text):
        return None
    who = [one for one in re.split(r"[\s&+/,]+", match["who"].casefold()) if one]
    solo = any(one in _SOLO_WORDS for one in who)
    others = [one for one in who if one not in _AMONG_PLAYERS and one not in _SOLO_WORDS]
    plays = bool(others) and all(
        one.removesuffix("s") in PLAYERS or names_player(one) or (solo and one.endswith("."))
        for one in others
    )
    if match["said"] and _names_more(match["said"]):
        return None
    other = known.meant_by(match["other"].strip())
    if section_key(match["who"].strip())[0] in ("solo", "break"):
        plays = True
    if plays and other in known.letters:
        return _step_over(match, other)
    kind = section_key(other)[0]
    if not plays or match["on"] or kind not in known.kinds or not known.all.is_known(other):
        return None
    return _step_over(match, other)


def player_and_bars(text: str, known: KnownNames) -> Step | None:
    """The step of somebody who plays so many bars of a section that is known ("Clarinet 16 bars
    (Verse 1)"); None for any other line."""
    match = _PLAYER_AND_BARS.fullmatch(text.strip()) if text[:1].isalpha() and "(" in text else None
    other = known.meant_by(match["other"].strip()) if match is not None else ""
    if match is None or not other or not names_player(match["who"]):
        return None
    return Step(match["who"], 0, 1, other, "", (match["bars"],))


def _step_over(match: re.Match[str], other: str) -> Step:
    """The step of somebody who plays over another section, with how often and what is said."""
    said = match["said"] or ""
    times = max(1, times_of(match["times"] or ""))
    return Step(match["who"].strip(), 0, times, other, "", (said,) if said else ())
