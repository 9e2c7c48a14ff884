"""What stands before a title: its number, its place in a show, a book or a course, its dance; and
the group that plays it, on a line above.

Source of the words: common practice in these languages, no source.
"""

import re

from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.vocabulary.farewells import is_weekday_in
from chartkit.interchange.text.vocabulary.manners import says_feel

_LONGEST = 120
_PLACE = (
    r"act|scene|akt|szene|acto|acte|atto|escena|scène|scena|lesson|lektion|leçon|lezione|lección|"
    r"les|unit|week|woche|semaine|semana|settimana|part|teil|set|set ?list|disc|page|seite|no|nr|"
    r"number|song|n[°º]|cue|track"
)
_SONG = (
    r"(?:(?:no|nr|number|song|tune|track|lied|chant|chanson|canto|canzone|canción|canção|cantiga|sang|"
    r"visa|vise|låt|liedje|pieśń|piosenka|píseň|nummer|numero|número|titel|titolo|titre)\.?\s*"
    r"(?:(?:no|nr|n)\.?\s*[°º]?\s*)?|n[°º]\s*)"
)
"""How a song is counted in a book or an evening."""
_OF_A_TITLE = r"(?:(?=(?-i:[^\W\d_a-z]))|(?=[\"“„«]))"
_PLACES = re.compile(
    r"(?:notiz|notes?|nota|memo|notitie|anteckning|notatka)\s*:\s*(?=(?-i:[^\W\d_a-z]))|"
    rf"(?:(?:(?:(?:{_PLACE})\.?\s*|#)(?:\d{{1,3}}[a-z]?|[IVX]{{1,4}}|one|two|three|four|five)|"
    r"(?:\d(?:st|nd|rd|th)|first|second|third|last)\s(?:set|half|act|scene))\b"
    rf"[.,:/;\s]*){{2,3}}\s*(?:[-–—:|]+\s*)?{_OF_A_TITLE}|"
    rf"(?:(?:{_PLACE})\.?\s*|#|{_SONG})\d{{1,3}}[a-z]?\s*[-–—:|,]+\s*{_OF_A_TITLE}",
    re.IGNORECASE,
)
_DANCE_WORDS = """
cueca zamba chacarera bolero rumba tango milonga cumbia huayno huaino joropo bachata merengue
ranchera corrido pasodoble jota sevillanas bulería fandango fado choro forró mazurka bourrée
gavotte gavotta schottische ländler reel jig hornpipe air strathspey polska schottis hambo
tarantella musette tonada guajira habanera vals valse walzer waltz polka marsch march marche
marcha hymn carol shanty lament ballade ballad balada
"""
_DANCES = frozenset(_DANCE_WORDS.split())
_LABEL = re.compile(r"(?P<dance>[^\W\d_]+(?:\s[^\W\d_]+)?)\s*:\s+(?=[^\W\d_a-z]|[\"“„«])")


_NUMBER_APART = re.compile(
    rf"\s*{_SONG}\d{{1,3}}[a-z]?(?:\s{{2,}}|\s(?=[\"“„«])){_OF_A_TITLE}", re.IGNORECASE
)
_NUMBERED = re.compile(
    rf"\s*{_SONG}\d{{1,3}}[a-z]?(?:\s*[:.)]\s*|\s+[-–—]\s+|\s(?=[\"“„«])){_OF_A_TITLE}",
    re.IGNORECASE,
)


_TONIGHT = (
    r"(?:tonight|this evening|today|tomorrow|heute(?: abend)?|morgen|ce soir|demain|esta noche|hoy|"
    r"mañana|stasera|domani|hoje|vanavond|ikväll|i kväll|i aften|i kveld|dziś|dnes)"
)
_PLACE_TONIGHT = re.compile(
    rf"\s*(?:{_SONG}|#\s?)?\d{{1,3}}(?:st|nd|rd|th|\.|er|[eè]me|e|º|ª|:a)?\s+{_TONIGHT}\s*"
    rf"(?:[-–—]{{1,3}}|:)\s+{_OF_A_TITLE}|"
    rf"\s*#\s?\d{{1,3}}(?:\s+[-–—]{{1,3}}\s+{_OF_A_TITLE}|\s+(?=[\"“„«]))",
    re.IGNORECASE,
)
"""Which song of an evening it is, before its title ("#3 tonight -- ")."""


def number_before(text: str) -> int:
    """Where the number of a song ends that stands before its title, which a gap, quotes or the
    evening set apart ("Nr. 14    "Tin Roses"", "#3 tonight - Mill Pond"); 0 where none does."""
    if len(text) > _LONGEST:
        return 0
    match = _NUMBER_APART.match(text) or _PLACE_TONIGHT.match(text)
    return match.end() if match is not None else 0


def is_numbered_title(text: str) -> bool:
    """Whether a line is a title behind the number of its song in words ("Lied 7: De kok")."""
    return len(text) <= _LONGEST and _NUMBERED.match(text) is not None


def place_before(text: str) -> int:
    """Where what says a song's place in a show or a book ends before its title; 0 where none
    does."""
    match = _PLACES.match(text) if len(text) <= _LONGEST else None
    return match.end() if match is not None else 0


def dance_before(text: str) -> str:
    """The dance or the kind of song that a line has before its title and a colon ("Vals: LA
    BAJADA"); empty for any other line."""
    match = _LABEL.match(text) if len(text) <= _LONGEST and ":" in text else None
    dance = match["dance"] if match is not None else ""
    return dance if dance.casefold() in _DANCES or (dance and says_feel(dance)) else ""


_SONG_OF_A_KIND = re.compile(
    r"(?:[^\W\d_]*(?:lied|lieder|tanz|song|kanon|vise|visa|sang|laulu)|canon|round|carol|hymn|shanty|lullaby|"
    r"canción|canto|ronda|villancico|chanson|comptine|berceuse|canzone|filastrocca|canção|cantiga|"
    r"liedje|piosenka|kolęda)\b(?:\s+(?:for|für|para|pour|per|voor|til|för|dla|zum|zur|aus|"
    r"from|de|del|di|da|of|mit|with|con|avec|in|i|på)\s+.+)?",
    re.IGNORECASE,
)


def is_song_of_a_kind(text: str) -> bool:
    """Whether a line says what kind of song it is and for whom ("Bewegungslied für die Kleinen",
    "Round for three voices"), and names nobody."""
    return len(text) <= _LONGEST and _SONG_OF_A_KIND.fullmatch(text) is not None


def without_dance(text: str) -> str:
    """A title without the dance before it."""
    return text.partition(":")[2].strip() if dance_before(text) else text


_PAGE = re.compile(
    r"[^\w]*(?:(?:page|seite|página|pagina|sida|side|strona|p|s)\.?\s*)?\d{1,4}(?:\s*/\s*\d{1,4})?"
    r"[^\w]*",
    re.IGNORECASE,
)


def is_page_number(text: str) -> bool:
    """Whether a line is nothing but the number of a page."""
    return len(text) <= _LONGEST and _PAGE.fullmatch(text) is not None


_GROUPS = (
    "club|choir|class|group|ensemble|orchestra|society|school|workshop|church|parish|camp|circle|"
    "singers|year \\d+|grade \\d+|"
    "chor|schule|klasse|gruppe|kreis|singkreis|gemeinde|pfarrei|lager|verein|"
    "chorale|école|atelier|groupe|classe|paroisse|coro|escuela|clase|grupo|taller|parroquia|"
    "campamento|scuola|gruppo|parrocchia|corso|escola|turma|oficina|koor|klas|groep|kamp|kör|skola|"
    "rehearsal|practice|probe|répétition|ensayo|prova|repetitie|próba|gig|konzert|concert|concierto|"
    "concerto|hochzeit|wedding|mariage|boda|bröllop|bruiloft|matrimonio|ślub|"
    "grupp|klass|kor|skole|szkoła|chór|grupa|klasa|sbor|škola|kuoro|koulu"
)
_GROUP = re.compile(rf"(?<!\w)(?:[^\W\d_]*(?:{_GROUPS}))(?!\w)", re.IGNORECASE)
_MORE = re.compile(r"\s[-–—/|·•]\s|[,:(]|\d")


@kept
def names_a_group(text: str) -> bool:
    """Whether a line names a group that plays or learns, with its day, its year or its place
    ("Uke Club - Tuesday lunch")."""
    if len(text) > _LONGEST or _GROUP.search(text) is None:
        return False
    return _MORE.search(text) is not None or is_weekday_in(text)


def may_name_a_group(text: str) -> bool:
    """Whether a line has a word for a group that plays or learns."""
    return len(text) <= _LONGEST and _GROUP.search(text) is not None
