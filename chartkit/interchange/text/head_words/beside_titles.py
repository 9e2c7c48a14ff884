"""What stands on the line of a title beside it: that it is somebody's chart, settings between signs
that come again, a remark in brackets, shouts.

Source of the words and signs: common practice, no source.
"""

import re

from chartkit.interchange.text.head_words.head_facts import (
    HeadFacts,
    bare_facts,
    fact_of_words,
    head_facts,
)
from chartkit.interchange.text.head_words.titles import QUOTES, is_spelled_as_title
from chartkit.interchange.text.vocabulary.directions import is_direction, is_talk
from chartkit.interchange.text.vocabulary.facts import Fact
from chartkit.interchange.text.vocabulary.key_words import key_of
from chartkit.interchange.text.vocabulary.manners import says_feel
from chartkit.interchange.wording import setting_text
from chartkit.theory.key import Key

_LONGEST = 160
_CHART_OF = re.compile(
    r"(?:(?:my|the|our|full|band|horn|chord|rhythm|lead|guitar|bass|piano|quick)\s+){0,2}"
    r"(?:(?:chart|lead ?sheet|chord ?sheet|cheat ?sheet|chords|lyrics|arrangement|akkorde|noten|"
    r"leadsheet|accords|grille|partition|acordes|partitura|cifra|accordi|spartito|akkoorden|partij|"
    r"ackord|noter|akkorder)\s+(?:for|to|of|für|zu|von|pour|de|à|para|per|di|voor|van|bij|till|til|av)|"
    r"(?:lead|chord) ?sheet\s*[:–—-]|chart\s*[:–—-])\s+"
    r"(?=(?-i:[^\W\d_a-z])|[\"“„«])",
    re.IGNORECASE,
)
"""How a line begins that says whose chart or chords the sheet has, before the title."""
_SHOUTS = re.compile(r"(?<=\S)\s+[!?]{2,}$")
_SEPARATORS = tuple(
    re.compile(pattern)
    for pattern in (
        r"\s+/{2,}\s*|\s*/{2,}\s+",
        r"\s+-{2,}\s+",
        r"\s+[–—]\s+",
        r"\s+-\s+",
        r"\s+\|{1,2}\s+",
        r"\s*[·•]\s*",
        r"\s+\*+\s+",
        r"\s+\\+\s+",
        r"\s+/\s+",
        r"\s*;\s+",
    )
)
"""Signs that part a title from its settings; one that comes twice on a line parts all of it."""
_FEWEST_PARTS = 3
_FEWEST_WORDS = 2
_KEY_FIRST = re.compile(r"(?P<key>[A-G][#b♯♭]?m?)(?:\s*[,;–—-])?\s+(?P<said>\S.*)")


def bare_title(text: str) -> str:
    """A title without shouts set apart behind it, and without the words that it is its chart."""
    text = _SHOUTS.sub("", text) if len(text) <= _LONGEST else text
    chart_of = _CHART_OF.match(text)
    rest = text[chart_of.end() :] if chart_of is not None else ""
    return rest if rest and _names_a_song(rest) else text


def is_chart_of(text: str) -> bool:
    """Whether a line begins by saying that the sheet is the chart of a song, which it names."""
    return len(text) <= _LONGEST and bare_title(text) != _SHOUTS.sub("", text)


def _names_a_song(text: str) -> bool:
    """Whether what stands behind "chart for" is spelled as a title or stands in quotes."""
    name = re.split(r"[(\[,]", text, maxsplit=1)[0].strip()
    return name[:1] in QUOTES or is_spelled_as_title(name) or name[:1].isupper()


def parted_by_signs(text: str) -> tuple[str, HeadFacts] | None:
    """The title before a sign that comes again between the settings behind it, and what these
    are; None for a line without such signs or settings."""
    if len(text) > _LONGEST:
        return None
    for sign in _SEPARATORS:
        parts = [part.strip() for part in sign.split(text)]
        if (
            len(parts) < _FEWEST_PARTS
            or not all(parts)
            or parts[0].count("(") > parts[0].count(")")
        ):
            continue
        head = head_facts(", ".join(parts[1:]))
        if head.facts and not head_facts(parts[0]).facts:
            return parts[0], head
    return None


def key_said_first(inside: str) -> tuple[Key, str] | None:
    """The key that stands first in brackets behind a title, and the words behind it ("Bb, the
    brass will thank me"); None where no key does."""
    match = _KEY_FIRST.fullmatch(inside) if len(inside) <= _LONGEST else None
    if match is not None and match[0][: match.start("said")].strip() == "A":
        return None  # an article
    key = key_of(match["key"]) if match is not None else None
    return (key, setting_text(match["said"])) if match is not None and key is not None else None


def key_with_its_mode(inside: str) -> tuple[Fact, str] | None:
    """The key with its mode that brackets behind a title hold, alone or beside a comma, and what
    else they hold ("Duett, Es-Dur"); None where they name no key."""
    parts = [part.strip() for part in inside.split(",")]
    facts = [fact_of_words(part) for part in parts]
    keys = [fact for fact in facts if fact is not None and fact.name == "key"]
    if len(keys) != 1:
        return None
    others = (part for part, fact in zip(parts, facts, strict=True) if fact is not keys[0])
    return keys[0], setting_text(", ".join(others))


def is_remark_behind(title: str, inside: str) -> bool:
    """Whether what stands in brackets is said of the song and is not of its title: some words in
    small letters behind a title with capitals."""
    words = inside.split()
    small = len(words) >= _FEWEST_WORDS and not any(word[0].isupper() for word in words)
    return small and title.strip(QUOTES)[:1].isupper()


_PIECE = re.compile(r"\s*(?:,(?!\d)|[;!]|\.(?=\s|$)|\s[–—-]\s)\s*")


def settings_behind(text: str) -> HeadFacts:
    """The settings that begin what stands behind a title in quotes ("C. I sing first" has a key),
    piece by piece up to the first that is none; the rest are the words from there on."""
    facts: list[Fact] = []
    manner: list[str] = []
    if len(text) > _LONGEST:
        return HeadFacts((), (), (text,))
    start = 0
    for sign in [*_PIECE.finditer(text), None]:
        piece = text[start : sign.start() if sign is not None else len(text)].strip()
        head = head_facts(piece)
        bare = bare_facts([piece], facts)
        if piece and bare:
            facts += bare.values()
        elif head.facts and not head.rest:
            facts += head.facts
            manner += head.manner
        elif piece and says_feel(piece):
            manner.append(piece)
        elif piece:
            break
        start = sign.end() if sign is not None else len(text)
    rest = text[start:].strip()
    return HeadFacts(tuple(facts), tuple(manner), (rest,) if rest else ())


_OCCASION = re.compile(
    r"(?:for|für|pour|para|voor|per|till?)\s+(?:the\s+)?(?:[^\W\d_]+day|tonight|tomorrow|"
    r"tomorrow['’]s gig|the gig|heute|morgen|heute abend|[^\W\d_]+tag|[^\W\d_]+abend|mittwoch|"
    r"ce soir|demain|[^\W\d_]+di|dimanche|hoy|mañana|lunes|martes|miércoles|jueves|viernes|sábado|"
    r"domingo|amanhã|stasera|domani|[^\W\d_]+dì|sabato|domenica|vanavond|[^\W\d_]+dag|i kväll|"
    r"ikväll|imorgon|i morgen|i aften)\s*(?:[:,]|[–—-])\s*(?=\S)",
    re.IGNORECASE,
)
"""How the subject of a mail says for which day a song is, before its title."""


def without_occasion(subject: str) -> str:
    """The subject of a mail without the day for which the song is."""
    return _OCCASION.sub("", subject, count=1) if len(subject) <= _LONGEST else subject


_WHICH_ONE = re.compile(
    r"(?:it['’]?s |still |just )?(?:the|that|our|my|your|an?|another)\s(?:[\w’'-]+\s){0,2}"
    r"(?:one|song|tune|number|version)\b(?!\s+(?:of|for)\s+the\b)|(?:the )?(?:old|new) one\b|"
    r"(?:das|der|die|le|la|el|il|de|het)\s(?:[\w’'-]+\s)?(?:lied|stück|chanson|morceau|canción|tema|"
    r"canzone|pezzo|liedje|nummer|låten)\b|.*\b(?:lol|haha+|hihi|jaja+|sorry)\b",
    re.IGNORECASE,
)
"""How a band says which song it is; common practice, no source."""


def is_about_tonight(inside: str) -> bool:
    """Whether what stands in brackets behind a title says how or when the song is played."""
    manner = says_feel(inside) or is_direction(inside)
    manner = manner or (len(inside) <= _LONGEST and _WHICH_ONE.match(inside) is not None)
    return manner or is_talk(f"{inside}.")
