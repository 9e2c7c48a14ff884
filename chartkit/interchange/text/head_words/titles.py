"""Recognises titles, writers and manners of playing by their words.

Source of the words: common practice, no source.
"""

import re
import unicodedata

from chartkit.interchange.text.head_words.before_titles import is_page_number, place_before
from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_labels import (
    TITLE_LABEL,
    is_to_be_filled_in,
    title_label,
    writer_of,
)
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.lines import is_picture
from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.song_form.form import is_plan
from chartkit.interchange.text.vocabulary.directions import (
    is_greeting,
    is_plain_direction,
    is_talk,
)
from chartkit.interchange.text.vocabulary.facts import facts_of, named_settings, names_a_fact
from chartkit.interchange.text.vocabulary.farewells import MAIL_HEAD
from chartkit.interchange.text.vocabulary.feel_words import plain_feel
from chartkit.interchange.text.vocabulary.manners import says_feel
from chartkit.interchange.text.vocabulary.reference_lines import legend_pairs
from chartkit.interchange.text.vocabulary.times_played import count_in_words
from chartkit.interchange.text.vocabulary.tunings import tuning_of
from chartkit.interchange.text.vocabulary.writer_names import names_people

_OF_A_WEB_PAGE = re.compile(
    r".*(?:\d\s?(?:votes?|views?|ratings?|comments?|likes?|downloads?|hits)\b|"
    r"\s[>»›]\s.+\s[>»›]\s).*",
    re.IGNORECASE,
)
"""Counts of readers, and the way to a page, as web pages have them over a song."""
_LONGEST_OF_A_PAGE = 160
_KIND_OF_PAGE = re.compile(
    r"(?<=\S)\s+(?:(?:guitar\s)?chords?(?:\s(?:and|&)\slyrics)?|lyrics(?:\s(?:and|&)\schords?)?|"
    r"akkorde|accords|acordes|accordi)"
)
"""What a web page has behind a title, in small letters."""
_ORNAMENTS = frozenset(" \t-=*#_~•\ufe0f\u200d")
_PICTURES = ("Sk", "Mn")
SMALL_WORD = re.compile(r"\b(?!and|und|et|och|von|van|der|del?|di|da)[a-zäöüéèàñ]{3,}\b")
"""A word of a sentence, which stands in no list of names."""
_NO_NAME = re.compile(
    r"(?i:\b(?:chart|charts|numbers|arr(?:\.|anged)? for)\b)|[\d:=@%|<>\[\]{}#*/]|[.!?,;]$|^\("
)
_PARTICLES = re.compile(
    r"\b(?:van|von|de|der|den|di|da|del|della|la|le|du|des|ter|zu|af|av|feat|with|mit|avec|con|med|"
    r"arr|trad|words|music|lyrics)\b"
)
"""Small words within names."""
_MOST_WORDS_OF_A_NAME = 6


def without_ornaments(text: str) -> str:
    """A line without the rules, stars and small pictures at its ends."""
    first, last = 0, len(text)
    while first < last and _is_ornament(text[first]):
        first += 1
    while last > first and _is_ornament(text[last - 1]):
        last -= 1
    return text[first:last]


def _is_ornament(sign: str) -> bool:
    other = not sign.isascii() and unicodedata.category(sign) in _PICTURES
    return sign in _ORNAMENTS or other or is_picture(sign)


_SET_OFF = re.compile(
    r"(?:<{1,3}|>{1,3}|['‘‚‹「『《〈【])\s*(?P<title>[^<>'‘‹›「」『』《》〈〉【】]{2,80}?)\s*"
    r"(?:<{1,3}|>{1,3}|['’‘›」』》〉】])"
)
"""A title between signs that set it off; other quotes are read where titles are parted."""


_FILE = re.compile(r"(?<=\w)\.(?:docx?|txt|pdf|rtf|odt|pages|md)$", re.IGNORECASE)
"""What the name of a file ends with."""


def title_of(text: str) -> str:
    """A title without the word that says it is one, without signs around it, and without the kind
    of its web page."""
    text = _FILE.sub("", text[title_label(text) :])
    text = set_off["title"] if (set_off := _SET_OFF.fullmatch(text.strip())) is not None else text
    kind = None if text.islower() else _KIND_OF_PAGE.search(text)
    return text[: kind.start()] if kind is not None and kind.end() == len(text) else text


def could_be_a_name(text: str) -> bool:
    """Whether a line could be the name of the song's writer."""
    counted = count_in_words(text) is not None  # "Play each tune twice"
    sentence = "," in text and SMALL_WORD.search(text) is not None
    short = len(text.split()) <= _MOST_WORDS_OF_A_NAME
    plain = text.replace(" the ", " ")
    spoken = not text.islower() and SMALL_WORD.search(_PARTICLES.sub("", plain)) is not None
    return short and not (counted or sentence or spoken or _NO_NAME.search(text))


OF_A_MAIL = re.compile(rf"({MAIL_HEAD})\s*:\s*")
DASH = re.compile(r"\s+(?:-{1,3}|[–—])\s+")
NUMBER_BEFORE = re.compile(
    r"(?:[Ss]ong|[Tt]une|[Tt]rack|[Nn]umber|[Nn]ummer|[Tt]itel)\s?#?\d{1,2}\s*(?:[.):]|\s[-–—])\s*(?=\S)|"
    r"#\d{1,3}\s+(?=[\"“„«A-Z])|[1-9]\.\d{1,2}\.?\s+(?=[\"“„«A-Z])|\d{1,3}\s+(?=[\"“„«])|"
    r"#?\s?\d{1,3}\s*(?:[.)]|\s[-–—]|:)\s+(?=\S)|0\d[ _-]+(?=[A-Z])|"
    r"(?i:(?:the\s+)?(?:new|next|last|first|second|third|opening|closing)\s"
    r"(?:one|song|tune|number|dance|hymn)|next up|up next|first up|opener|closer|encore|"
    r"offertory|communion|recessional)"
    r"(?:\s*[:–—]\s*|\s+-+\s+)(?=\S)|"
    r"(?:[Nn]o|[Nn]r|NO|NR|[Nn][°º])\.?\s*\d{1,4}\s*(?:[.):–—-]\s*|\s)(?=[^\W\d_a-z]|[\"“„«])"
)
IN_BRACKETS_BEHIND = re.compile(r"(?P<title>.*\S)\s*[(\[](?P<inside>[^()\[\]]+)[)\]]\s*")
PAGE_AT_THE_MARGIN = re.compile(
    r"(?:[^\d]{0,30}\s)?(?:page|p|seite|s|blatt|bl|pág|página|pagina|sida|sheet|handout|no|nr)\.?"
    r"\s*\d{1,3}(?:\s*(?:/|of|von|de|di|van|av|z|sur)\s*\d{1,3})?\s*",
    re.IGNORECASE,
)
"""The number of a page or a sheet at the right margin of a line."""
OF_A_BOOK = re.compile(
    r"set\s*(?:list\s*)?\d{1,2}\b.{0,20}|v(?:er)?(?:sion)?\.?\s?\d{1,2}\b.{0,20}|"
    r".{0,30}\b(?:[^\W\d_]*book|songs|hymnal|[^\W\d_]*buch|mappe|folder|cancionero|cahier|recueil|"
    r"libro|canzoniere|bundel|sångbok|sangbog)\b(?:\s*\d{1,2})?(?:(?:\s*[,/·–-]\s*|\s+(?=[nps#]))"
    r"(?:no\.?|nr\.?|#|p\.|page|pg\.?|s\.|seite|pág\.?|pagina|sida)?\s*\d{1,3})?",
    re.IGNORECASE,
)
"""The set, the book or the copy that is named far behind a title."""
OF_A_COPY = re.compile(
    r"(?:(?:my|our|your|for|the|rhythm|chord|lead|master|guitar|bass|piano|band|words|lyrics?|"
    r"rehearsal|gig|stage|new|old|final|last|mein|meine|unser|für|notre|pour|nuestra|para|nostra|"
    r"per)\b.{0,40}?\s)?"
    r"(?:(?:chart|copy|sheet|version|arrangement|demo|draft|part|take|edit|cheat ?sheet|"
    r"lead ?sheet|blatt|fassung|copie|copia|versión|versione|kopie)s?\b.{0,40}|"
    r"v(?:er)?\.?\s?\d.*)|"
    r"(?:my|our|your|for|as|mein|meine|unser|für|notre|pour|nuestra|para|nostra|per)\s.{2,40}|"
    r"(?:guitar\s)?chords?\s(?:and|&)\slyrics|lyrics\s(?:and|&)\schords?|"
    r"(?:rev|version|draft|take|v)\.?\s?\d.*",
    re.IGNORECASE,
)
"""How a line says behind a title which copy of the song it is; common practice, no source."""
RUNNING_HEAD = re.compile(
    r"set\s+(?:one|two|three|four|\d|i{1,3})\b\s*[/,:–—-].{0,60}|"
    r"\s*\d{1,4}\s{3,}\S.*|.*\b(?:no|nr|number|song)\.?\s*\d{1,3} (?:in|of|on) (?:the|our) "
    r"(?:set|list|evening|night|programme|program)\W*|"
    r".*[,–—-]\s*(?:tune|song|number|no\.?|nr\.?|track|titel|lied|chanson|canción)\s*\d{1,3}"
    r"(?:\s*(?:of|von|/|de)\s*\d{1,3})?\s*",
    re.IGNORECASE,
)
"""A line over the title with the page of the book, or the song's place in a set."""
OF_A_SHOW = re.compile(
    r"(?:.{0,30}[,–-]\s*)?(?:from|out of|aus|de|da|uit|från)\s+"
    r"(?:the|our|my|dem|der|la|el|o|het)?\s*"
    r"(?:show|musical|opera|operetta|play|film|movie|panto(?:mime)?|revue|album|suite|cycle|stück)"
    r"\b.*",
    re.IGNORECASE,
)
"""How a line says of which show or album a song is."""
QUOTES = '"“”„«» '
_GOES_ON = re.compile(r"[.!?]{2,}\s+[^\W\d_]|[!?]\s+[a-zäöüéèàñ]")
"""A sentence that ends with another behind it, as in "Found it!! was in the car"."""
_LONGEST_LITTLE_WORD = 3
LONGEST_OF_A_SHOW = 120
_MOST_WORDS_OF_A_TITLE, _MOST_WORDS_IN_CAPITALS = 8, 14


_OF_A_SHOW = re.compile(
    r"\(?(?:[^\W\d_]+ ){0,2}(?:from|out of|aus|de|du|da|dal|dalla|uit|från|z)\s+"
    r"(?:(?:the|our|a|dem|der|la|le|el|de|het)\s+)?"
    r"(?:show|musical|play|operetta|opera|film|movie|pantomime|panto|album|revue|pageant|stück|pièce|"
    r"spectacle|obra|espectáculo|spettacolo|voorstelling|föreställningen|spektaklu)\b",
    re.IGNORECASE,
)
_SHARE_OF_CAPITALS = 0.6


def is_of_a_show(text: str) -> bool:
    """Whether a line says from which show or album a song is."""
    return _OF_A_SHOW.match(text) is not None


def is_spelled_as_title(text: str) -> bool:
    """Whether most of the longer words of a line begin with a capital letter, as titles do."""
    words = [word for word in re.findall(r"[^\W\d_]+", text) if len(word) > 2]
    capitals = sum(word[0].isupper() for word in words)
    return len(words) > 1 and capitals >= _SHARE_OF_CAPITALS * len(words) and not is_greeting(text)


@kept
def could_be_title(text: str) -> bool:
    """Whether a line of a head could be the title, and is neither said nor a fact."""
    if not any(map(str.isalpha, text)) or text.startswith(("(", "[", "//", ";", "> ")):
        return False
    if only_leads(text) or _says_only_which_copy(text) or is_plan(text):
        return False
    if (
        _OF_NOBODY.fullmatch(text)
        or is_to_be_filled_in(text)
        or is_of_a_web_page(text)
        or is_page_number(text)
    ):
        return False
    text = text[place_before(text) :]
    if TITLE_LABEL.match(text):
        return True
    show = len(text) <= LONGEST_OF_A_SHOW and OF_A_SHOW.fullmatch(text) is not None
    if show or is_plain_direction(text):
        return False
    first = DASH.split(" ".join(text.split()), maxsplit=1)[
        0
    ]  # "FOUNDRY BELL - rehearsal version 3"
    talk = is_talk(first if len(first.split()) <= _MOST_WORDS_OF_A_NAME else text)
    talk = talk and not _has_capitals_throughout(text)
    other = (
        (is_greeting(text) and not (_is_shouted(text) or _has_settings_behind(text)))
        or talk
        or bool(writer_of(text) or plain_feel(text))
    )
    head = head_facts(text)
    others = [part for part in head.rest if not tuning_of(part)]
    settings = bool(head.facts) and not others and all(map(says_feel, head.manner))
    other = other or is_of_a_show(text) or is_introduced(text)
    other = other or (
        text[:1].islower() and bool(facts_in_prose(text)) and not _has_settings_behind(text)
    )
    said = is_addressed_to_reader(text) and not (
        text.endswith(("?", "!")) and is_spelled_as_title(text)
    )
    return not (other or settings or said or has_facts(text) or OF_A_MAIL.match(text))


def _has_settings_behind(text: str) -> bool:
    """Whether settings and nothing else stand behind words and a dash ("moth song - key Am")."""
    parts = DASH.split(text, maxsplit=1)
    behind = head_facts(parts[1]) if len(parts) > 1 and parts[0].strip() else None
    return behind is not None and bool(behind.facts) and not behind.rest


def is_of_a_web_page(text: str) -> bool:
    """Whether a line counts readers or shows the way to a page, as web pages do over a song."""
    return len(text) <= _LONGEST_OF_A_PAGE and _OF_A_WEB_PAGE.fullmatch(text) is not None


_ONLY_LEADS = re.compile(
    r"(?:(?:and|so|ok(?:ay)?|right)[,\s]+)?(?:it['’]?s|this is|here(?:['’]?s| is| are| it is)|"
    r"(?-i:here)|das ist(?: es)?|hier ist(?: es)?|c['’]est|voici|voilà|aquí (?:está|va)|"
    r"ecco|eccola|hier is(?: het)?|see (?:below|attached)|siehe unten|voir ci-dessous|ver abajo)"
    r"\s*[:,.!…-]*",
    re.IGNORECASE,
)
"""A line that does no more than lead to what comes below."""


_OF_NOBODY = re.compile(
    r"\(?(?:trad(?:itional|itionell|itionnel|icional|izionale|itioneel|itioneell)?|volkslied|volksweise|"
    r"folk ?song|anon(?:ymous|ym)?)\b\.?[\s,;:/–-]*(?:(?:arr|set|words?|text|bearb|satz|adapt|coll|"
    r"collected|new|as sung|from|aus)\b.*)?\)?",
    re.IGNORECASE,
)
"""How a line says that nobody knows who wrote a song, and who set it."""
_NEW_ONE = re.compile(
    r"\W*(?:(?:the|a|our)\s+)?(?:brand\s)?(?:new|next|latest|updated|final|another)"
    r"(?:\s(?:one|song|tune|number|version|chart|sheet|chords))?\s*[!.:…*]+|"
    r"\W*(?:(?:ok(?:ay)?|so|here['’]?s|now|the|a|our|really|this is)[\s,]+)*"
    r"(?:(?:brand|new|next|latest|updated|final|last|corrected|definitive|revised|second|third)\s+){1,3}"
    r"(?:version|copy|draft)\s*[!.:…*]*",
    re.IGNORECASE,
)


_A_COPY = re.compile(r"(?:[^\W\d_]+\s){1,2}(?:chart|copy|sheet|part)")


def _says_only_which_copy(text: str) -> bool:
    """Whether a line says that a song is new, or which copy of it this is ("NEW!!")."""
    return _NEW_ONE.fullmatch(text) is not None or _A_COPY.fullmatch(text) is not None


def only_leads(text: str) -> bool:
    """Whether a line does no more than lead to what comes below ("Here it is:"), or greets in a
    mail that is quoted."""
    return _ONLY_LEADS.fullmatch(text) is not None or (
        text.startswith("> ") and is_greeting(text.lstrip("> "))
    )


_INTRODUCED = re.compile(
    r"(?:[a-z]+,? ){0,5}(?:this is|here(?:['’]?s| is| comes)|(?:one|song) is)\b"
)
"""How a sentence in small letters begins that says what the song is called."""


def is_introduced(text: str) -> bool:
    """Whether a sentence in small letters says what the song is called."""
    return _INTRODUCED.match(text) is not None and not text.islower()


def _is_shouted(text: str) -> bool:
    """Whether a line is some words in capitals without a sign, as nobody greets ("MORNING ON THE
    HILL")."""
    return text.isupper() and text.count(" ") > 1 and text[-1].isalnum() and "," not in text


def _has_capitals_throughout(text: str) -> bool:
    """Whether every longer word of a line begins with a capital letter, as in a title; of two such
    words, also every shorter one but for small words within ("Bring the Boats In")."""
    every = re.findall(r"[^\W\d_]+", text)
    words = [word for word in every if len(word) > _LONGEST_LITTLE_WORD]
    capitals = bool(words) and all(word[0].isupper() for word in words)
    others = [word for word in every if word not in _WITHIN_TITLES]
    plain = text[-1:].isalnum() and len(others) > 2 and all(word[0].isupper() for word in others)
    return capitals and (len(words) > 2 or (len(words) > 1 and plain))


_WITHIN_TITLES = frozenset(
    ["a", "an", "and", "at", "by", "for", "from", "in", "of", "on", "or", "the", "to", "with"]
)
"""Words that titles have in small letters."""


def has_facts(text: str) -> bool:
    """Whether a line gives settings, by their names or as words of a head."""
    return bool(facts_of(text) or names_a_fact(text) or named_settings(text) or legend_pairs(text))


def is_addressed_to_reader(text: str) -> bool:
    """Whether a line above the song in a mail is rather said to its reader than a title."""
    if text.endswith("!") and text.isupper():
        return False
    goes_on = _GOES_ON.search(text) is not None or text.endswith((" -", " –", " —"))
    return text.endswith(tuple(".?!:,;")) or goes_on or _is_long(text)


_AT_A_MARGIN = re.compile(r"\s{3,}|\t")


def _is_long(text: str) -> bool:
    """Whether a line has more words than titles have; one in capitals may have some more."""
    most = _MOST_WORDS_IN_CAPITALS if text.isupper() else _MOST_WORDS_OF_A_TITLE
    behind = IN_BRACKETS_BEHIND.fullmatch(text) if len(text) <= _LONGEST_OF_A_PAGE else None
    said = behind["title"] if behind is not None else text
    title, *writers = DASH.split(said, maxsplit=1)
    apart = writers and (names_people(writers[0]) or OF_A_COPY.fullmatch(writers[0].strip()))
    said = title if apart else said
    return len(_AT_A_MARGIN.split(said.strip(), maxsplit=1)[0].split()) > most
