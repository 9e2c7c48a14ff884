"""What stands before a title or a writer's name in a head: "Title:", "Words & music by".

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re

from chartkit.interchange.text.vocabulary.writer_names import names_people, undated

_TITLE_WORDS = (
    r"(?:(?:song|working|arbeits)\s?-?\s?)?(?:title|titel)|titre(?: provisoire)?|"
    r"título(?: provis(?:ional|ório))?|titolo(?: provvisorio)?|tittel|tytuł|název|cím"
)
_SONG_WORDS = (
    r"song(?: name)?|track(?: name)?|lied|canción|canção|chanson|canzone|brano|"
    r"låt|sang|piosenka|liedje"
)
_DAY = r"(?:song|hymn|carol|tune|number|opener|closer|lied)\s+(?:for|of|für)\s+[^:\d]{3,25}"
TITLE_LABEL = re.compile(rf"\s*(?:(?:{_TITLE_WORDS})\s*:|title\sis\s)\s*(?=\S)", re.IGNORECASE)
"""What stands before a title that could be something else, in our own texts too."""
_ANY_TITLE_LABEL = re.compile(
    rf"(?:{_TITLE_WORDS}|{_SONG_WORDS})\s*:\s*|{_DAY}:\s+(?=\S)", re.IGNORECASE
)
"""What says that a title comes, also for which day it is."""
_TO_BE_FILLED_IN = "___"

_ROLES = """
words lyrics lyric text texts music melody writer wr wrt songwriter author artist composer band
composed written writers songwriters authors composers lyricist lyricists
worte wort weise musik melodie satz interpret komponist komponiert dichter texter dichtung
paroles parole texte musique mélodie auteur auteure auteurs compositeur compositrice interprète
letra letras música musica melodía melodia autor autora autores autori autore compositor compositora
compositores composição composición composizione intérprete
testo parole musiche compositore compositrice paroliere
tekst woord woorden muziek melodie schrijver componist
ord text musik melodi kompositör komponist författare tekstforfatter forfatter låtskrivare toner
tone komposisjon musikk sävel sanat säveltäjä słowa sł muzyka muz autorzy slova hudba
glazba szöveg zene
"""
_ROLE = "|".join(sorted(set(map(re.escape, _ROLES.split())), key=len, reverse=True))
_SHORT_ROLE = r"(?:säv|san|sov|txt|mel|let|m[uú]s|komp|comp)\."
_ANY_ROLE = rf"{_ROLE}|song|tune|säv|san|sov|txt|mel|let|m[uú]s|komp|comp"
"""What one of several did, in full or cut short ("mel. og tekst")."""
_JOIN = r"\s*(?:[&+/,-]|(?<![^\W\d_])(?:and|und|u\.|y|et|och|og|o|en|e|i|ja|a)(?![^\W\d_]))\s*"
_BY = r"(?:by|von|de|du|di|da|do|par|por|av|af|van|door|przez|od)"
_NAME_BEHIND_DASH = r"\s+[-–—]\s+(?=(?-i:[^\W\d_a-z]))"
_WRITER = re.compile(
    # several who share the work: "words & tune", "T+M"
    rf"(?:the\s+)?(?:(?:(?:{_ANY_ROLE})\.?(?:{_JOIN}(?:{_ANY_ROLE})\.?){{1,3}}|"
    rf"[tmwl]\.?\s*[&+/u]\s*[tmwl]\.?)(?:\s+{_BY}\s*:?\s+|\s*:\s*|{_NAME_BEHIND_DASH})|"
    r"[tmwl]\.\s*(?:[&+/u]|e|et|i|y|og|och|und|and)\s*[tmwl]\.\s+(?=\S)|"
    # one
    rf"(?:{_ROLE}|comp\.?|komp\.?)(?:\s+{_BY}\s*:?\s+|\s*:\s*))"
    rf"|(?:{_ROLE})(?:{_JOIN}(?:{_ROLE})){{0,2}}\s+(?=©|\(c\))"
    r"|(?:sł|muz)\.(?:\s*[i&+/]\s*(?:sł|muz)\.)?\s*:?\s+"
    rf"|(?:{_ROLE}|{_SHORT_ROLE})\.?{_JOIN}(?:{_ROLE}|{_SHORT_ROLE})\.?\s+"
    r"(?=(?-i:[A-ZÀ-Ý])[^\W\d_]+\s)"
    r"|(?:(?:written|made|penned|set down|composed)\s+)?by(?:\s*:\s*|\s+)"
    r"|(?:von|par|por|av|af|przez|door)(?:\s*:\s*|\s+)"
    r"|(?:di|de|do|da|van|od)\s*:\s*(?=(?-i:[^\W\d_a-z])[^\W\d_]+\s)"
    r"|(?-i:[Dd]i|[Dd]e|[Dd]u|[Vv]an)\s+(?=(?-i:[A-ZÀ-Ý])[^\W\d_]+(?:\s(?-i:[A-ZÀ-Ý])[^\W\d_]+){1,2}$)",
    re.IGNORECASE,
)
_BEFORE_A_NAME = re.compile(
    r"(?-i:(?:di|de|du|van|le|gan|od|von)\s+)|[tmwl]\.?\s*[&+/]\s*[tmwl]\.?\s+|"
    rf"(?:{_ROLE})\.?{_JOIN}(?:{_ROLE}|song|tune)\.?\s+|"
    rf"(?:song|tune)(?:\s+by)?{_JOIN}(?:{_ROLE})\s+|(?:comp|komp|txt|mus|mel)\.\s+|"
    r"[tmwl]\.?\s*:\s+",
    re.IGNORECASE,
)
"""What leads to a writer where nothing but a name of at least two words stands behind it: "di G.
Sartorelli", "t/m Joop Veldkamp", "words and tune Isla Marsh"."""
_ROLE_AND_NAME = re.compile(
    rf"(?:{_ROLE}|{_SHORT_ROLE}|tune)\.?\s+(?=(?-i:[^\W\d_a-z]))", re.IGNORECASE
)
"""What one person did, before the name, in parentheses or small letters ("(words Ike Tamsin)")."""
_COPYRIGHT = re.compile(r"(?:©|\(c\))\s*(?:(?:19|20)\d\d\s*,?\s*)?", re.IGNORECASE)
_PERFORMING = frozenset(["artist", "band", "interpret", "interprète", "intérprete", "intérprete"])
"""Who plays a song, beside whom somebody else may have written it."""
_ONE_ROLE = re.compile(
    rf"(?:^|(?P<gap>\s*[,;/|.]\s*|\s+(?:[-–—&+]|and|und|och|og|et|y|e|en|i)\s+|\s+))"
    rf"(?P<role>{_ROLE}|{_SHORT_ROLE}|tune|[tmwl](?=\.?\s*:))\.?(?:\s+{_BY}\s*:?\s+|\s*:\s*|"
    r"\s+[-–—]\s+)(?=(?-i:[^\W\d_a-z])|trad\b)",
    re.IGNORECASE,
)
"""One of several who are named with what each did: "Words: …, tune: …"."""
_PLAIN_ROLE = re.compile(
    rf"(?:^|\s*[,;/|]\s*|\s+(?:[-–—&+]|and|und|y|e|et)\s+)(?P<role>{_ROLE}|{_SHORT_ROLE})\.?\s+"
    r"(?=(?-i:[^\W\d_a-z]))",
    re.IGNORECASE,
)
"""The same with nothing but a blank between them: "music M. Falk, words T. Aherne"."""
_NOBODY = re.compile(
    r"(?:me|us|my|our|mir|uns|moi|nous|mí|nosotros|ear|heart|request)\b|the\s+(?-i:[a-z])", re.I
)
"""What stands behind "by" and is no name."""
_LONGEST = 200


def title_label(text: str) -> int:
    """Where the words end that say that a title comes; 0 where a text begins with none."""
    match = _ANY_TITLE_LABEL.match(text)
    return match.end() if match is not None and text[match.end() :].strip() else 0


def is_to_be_filled_in(text: str) -> bool:
    """Whether a line has a place to write on, as forms have."""
    return _TO_BE_FILLED_IN in text


def writer_of(text: str) -> str:
    """The name behind words such as "by" or "Artist:", and the names of a line that says who wrote
    words and music apart; empty where none begin the line."""
    if len(text) > _LONGEST:
        return ""
    inside = text[:1] + text[-1:] == "()" and text.count("(") == 1
    text = text[1:-1].strip() if inside else text
    if several := _each_with_a_role(text):
        return ", ".join(several)
    match = _WRITER.match(text)
    name = text[match.end() :].lstrip("-–— ").strip() if match is not None else ""
    bare = _BEFORE_A_NAME.match(text) if not name else None
    if not name and bare is None and (inside or text[:1].islower()):
        bare = _ROLE_AND_NAME.match(text)
    behind = text[bare.end() :].strip() if bare is not None else ""
    if names_people(undated(_COPYRIGHT.sub("", behind))):
        name = behind
    name = _COPYRIGHT.sub("", name)
    return "" if _NOBODY.match(name) else name


_OF_NOBODY = re.compile(
    r"(?:trad(?:itional|itionell|itionnel|icional|izionale|itioneel)?|volkslied|volksweise|"
    r"folk ?song|anon(?:ymous|ym)?)\.?(?:\s*\([^()]{2,30}\))?"
    r"(?:[\s,;:/–-]+(?:arr(?:\.|anged|angement|angiert|angée?|anjo)?|(?:ton)?satz|bearb(?:\.|eitung|"
    r"eitet)?|adapt(?:\.|ed|ée?)?|harm(?:\.|oni[sz]ed)?|set|setting)\s*:?\s*"
    r"(?:(?:by|von|par|por|di|av|af|door)\s+)?(?P<by>[^\W\d_][^:;()\d]{2,50}))?",
    re.IGNORECASE,
)
"""How a line says that nobody knows who wrote a song, and who set it."""
_FOR_WHOM = re.compile(
    r"(?:for|für|pour|para|per|voor|för|none)\b|the\s+(?-i:[a-z])", re.IGNORECASE
)


def of_nobody(text: str) -> str:
    """What stands for the writer where nobody knows who wrote a song, with who set it ("Trad., arr.
    Orla Fenwick"); empty for any other text."""
    text = text[1:-1].strip() if text[:1] + text[-1:] == "()" else text
    match = _OF_NOBODY.fullmatch(text) if len(text) <= _LONGEST else None
    return text if match is not None and not _FOR_WHOM.match(match["by"] or "") else ""


_BY_LETTERS = re.compile(r"[tmwl]\.?(?:\s*[&+/u]\s*[tmwl]\.?)?\s*:\s+\S", re.IGNORECASE)


def names_a_writer_by_letters(text: str) -> bool:
    """Whether a line has a letter for words or music before the writer ("T: Lene Marck / M: Jo
    Held")."""
    return _BY_LETTERS.match(text) is not None and bool(writer_of(text))


_SOMEBODY = "N. Nobody"


def leads_to_a_writer(text: str) -> bool:
    """Whether a text ends before the writer's name that it leads to ("words and music by")."""
    whole = f"{text.rstrip()} {_SOMEBODY}"
    return bool(text.strip()) and not writer_of(text) and writer_of(whole) == _SOMEBODY


def writes(text: str) -> bool:
    """Whether a line names somebody with a part in writing the song, as a second line may do for
    the music beside the words."""
    roles = [*_ONE_ROLE.finditer(text)] if len(text) <= _LONGEST else []
    return bool(roles) and roles[0].start() == 0 and roles[0]["role"].casefold() not in _PERFORMING


def _each_with_a_role(text: str) -> list[str]:
    """The names of a line that says for each of several people what they did; empty for any other
    line, also where a hymn's tune goes by a name of one word."""
    if by_role := _names_by_role(_ONE_ROLE, text):
        named = [(role.lower(), name.strip(" ,;/|.")) for role, name in by_role]
        names = [name for _, name in named]
        if not all(names) or any(role == "tune" and " " not in name for role, name in named):
            return []
        return list(dict.fromkeys(one for name in names for one in re.split(r",\s+", name)))
    names = [name for _, name in _names_by_role(_PLAIN_ROLE, text)]
    return list(dict.fromkeys(names)) if all(map(names_people, names)) else []


def _names_by_role(pattern: re.Pattern[str], text: str) -> list[tuple[str, str]]:
    """What stands behind each of several roles in a line that begins with one; empty for any other
    line."""
    roles = [*pattern.finditer(text)] if pattern.match(text) is not None else []
    if len(roles) < _FEWEST_ROLES:
        return []
    ends = [role.start() for role in roles[1:]] + [len(text)]
    return [
        (role["role"], text[role.end() : end].strip())
        for role, end in zip(roles, ends, strict=True)
    ]


_FEWEST_ROLES = 2
