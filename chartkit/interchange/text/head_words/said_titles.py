"""What a song is called, and who wrote it, where somebody says so in a sentence: "the tune is
called Cardboard Crown and it's in D minor", "te paso los acordes de CALLE SIN NOMBRE".

Words that mean "is called" lead to a title in any letters.  Behind other words that present a song
it must stand in quotes, in capitals, or be spelled as titles are.  Source of the words: common
practice in these languages, no source.
"""

import re
from typing import NamedTuple

from chartkit.interchange.person_names import PERSON
from chartkit.interchange.text.head_words.head_labels import writer_of
from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.writer_names import names_people

_LONGEST = 400
_MOST_WORDS = 9
_SHORTEST_IN_CAPITALS = 4


class SaidTitle(NamedTuple):
    """A title within a sentence: what stands before it, the title, what stands behind it, and
    whether the sentence names it by a word for "called"."""

    before: str
    title: str
    behind: str
    called: bool


_NAMED = re.compile(
    r"(?:(?:\b(?:is|its|be|one|songs?|tune|number|piece|waltz|reel|march|hymn|carol|ballad|thing|"
    r"thats?|it)|['’]s|[,:(–—-]|^)\s*(?:(?:also|just|provisionally)\s)?"
    r"(?:called|titled|entitled|named)|"
    r"\b(?:i|we)(?:['’](?:d|ll))?\s+(?:will\s+)?(?:call|named?|called)\s+(?:it|this(?:\s+one)?)|"
    r"\b(?:ich nenne|wir nennen) (?:es|sie|ihn|das)|\bje l['’]appelle|\b(?:lo|la) llamo|\b(?:lo|"
    r"la) chiamo|"
    r"\bik noem (?:het|hem)|\bjag kallar den|\bjeg kalder den|"
    r"\b(?:title|titel|titre|titolo|título|tytuł)(?=\s+[\"“„«])|"
    r"\b(?:title|name)(?:\s+of\s+(?:it|this|the\s+\w+))?\s*(?:is|['’]s)|"
    r"\b(?:heißt|heisst|nennt sich|mit (?:dem )?titel|namens|der titel ist)|"
    r"\b(?:s['’]appelle|s['’]intitule|intitulée?|(?:le|son) titre,? (?:est|c['’]est)|"
    r"du nom de)|"
    r"\b(?:se llama|llamad[ao]|titulad[ao]|se titula|(?:el|su) título es)|"
    r"\b(?:si chiama|si intitola|intitolat[ao]|(?:il|suo) titolo è)|"
    r"\b(?:se chama|chama-se|chamad[ao]|intitulad[ao]|o (?:título|nome) é)|"
    r"\b(?:heet|genaamd|getiteld|de titel is)|\b(?:heter|hedder|med titeln|titeln är|titlen er)|"
    r"\b(?:nazywa się|zatytułowan[aey]|pod tytułem|tytuł to)|"
    r"\b(?:jmenuje se|se jmenuje|s názvem)|\b(?:on nimeltään|nimi on))"
    r"\s*[:–—-]?\s+(?=\S)",
    re.IGNORECASE,
)
"""Words that mean that a title comes."""
_CHORDS = (
    r"(?:(?:guitar |the )?(?:chords?|chord sheet|words|lyrics|changes|chart|sheet|dots|lead ?sheet|"
    r"arrangement|akkorde|noten|text|ablauf|accords|paroles|grille|partition|acordes|letra|partitura|"
    r"cifra|accordi|testo|spartito|akkoorden|tekst|noter|ackord(?:en)?|akkorder(?:ne)?|akordy|"
    r"soinnut) (?:for|to|of|für|zu|zum|zur|von|pour|de|du|des|à|para|do|da|di|del|della|per|voor|"
    r"van|bij|till|til|av|do|k))"
)
_SONG = (
    r"(?:(?:first|last|second|next|closing|opening|new) (?:dance|one|song|tune|number)|opener|"
    r"closer|encore|entrance|processional|recessional|song|tune|number|hymn|one)"
)
_PRESENTED = re.compile(
    rf"(?:\b{_CHORDS}|\b{_SONG}(?:\s+(?!is\b)[\w’']+){{0,4}}\s*(?:is|will be|=|:)|"
    r"^(?:right|ok(?:ay)?|so|well|now|next|then|also|alright)(?:\s(?:then|now))?\s*[,:]|"
    r"\b(?:here(?:['’]?s| is| comes)|this (?:is|one['’]?s)|it['’]s|its|that['’]?s|"
    r"(?:we|you|i|they)(?:['’]re| are)? "
    r"(?:do|doing|play|playing|need|want|wanted|wants|have|got|start with|close with)|learn|try|"
    r"add|adding|working on|wants?)|"
    r"(?:^|[.!,]\s+)(?:anbei|angehängt|attached(?:\s*:| is)?|ci-joint|adjunto|in allegato|"
    r"bijgevoegd|bifogat|vedlagt)|"
    r"\b(?:hier (?:ist|sind|kommt)|das ist|wir (?:spielen|machen|nehmen|singen|üben)|"
    r"wünscht sich(?: das \w+)?|neu ist|neues lied:?)|"
    r"\b(?:voici|on (?:fait|joue|chante|rajoute|ajoute|prend)|c['’]est|voilà|le morceau est)|"
    r"\b(?:aquí (?:va|tienes|está|tenéis)|tocamos|hacemos|cantamos|vamos a (?:tocar|hacer|cantar)|"
    r"es|te (?:paso|mando|dejo)|os (?:paso|mando)|les (?:paso|mando))|"
    r"\b(?:ecco|facciamo|suoniamo|cantiamo|è|ti (?:mando|passo)|vi mando)|"
    r"\b(?:aqui (?:vai|está)|eis|vamos tocar|tocamos|segue)|"
    r"\b(?:hier is|dit is|we (?:spelen|doen|zingen))|\b(?:här (?:är|kommer)|det är|vi spelar)|"
    r"\b(?:her er|vi spiller|det er)|\b(?:oto|gramy|śpiewamy|to jest)|\b(?:tady je|hrajeme|to je)|"
    r"\b(?:tässä on|soitetaan))\s*[:–—-]?\s+(?=\S)",
    re.IGNORECASE,
)
"""Words that may lead to a title, and to many other things."""
_QUOTED = re.compile(r"[\"“”„«»‚‘'›‹]\s*(?P<title>[^\"“”„«»]{2,60}?)\s*[\"”“»«’'‘‹›](?![^\W\d_])")
_WORD = re.compile(r"[^\W_](?:[^\W_]|['’&./-](?=[^\W_]))*[’']?")
_CLAUSE_ENDS = re.compile(
    r"\s*[,.;:!?(|\"“”«»–—…]|\s+-{1,2}\s|\s*$|"
    r"\s+(?:and|und|et|y|e|en|och|og|i|a|but|aber|mais|pero|ma|maar|men|which|that|so|then|also)\s+"
    r"(?=(?:it|its|it['’]s|we|i|i['’]m|you|is|in|it['’]ll|they|then|please|es|er|sie|wir|ist|geht|steht|"
    r"c['’]est|on|il|elle|va|está|la|lo|se|è|si|gaat|staat|den|det|vi|går|jest|je)\b)|"
    r"\s+(?=(?:it['’]s|its|in the key|in key|capo|kapo|key|tempo|bpm|lol|haha|pls|please|btw)\b)|"
    r"\s+(?:until|till|unless|for now|bis|jusqu|hasta|finché|fino|tot)\b|"
    r"\s+in\s+(?=(?-i:[A-H][#b♯♭]?m?)\b(?!\s+[a-z]))",
    re.IGNORECASE,
)
"""Where what somebody says behind a title goes on."""
_FOR_THE_DAY = re.compile(
    r"\s+(?:for|für|pour|para|per|voor|till?)\s+(?:the\s+)?(?:tonight|tomorrow|today|[^\W\d_]*day|gig|"
    r"show|heute|morgen|[^\W\d_]+tag|[^\W\d_]+abend|ce soir|demain|[^\W\d_]+di|dimanche|hoy|mañana|"
    r"el [^\W\d_]+(?:es|ado|ingo)|stasera|domani|vanavond|morgen|[^\W\d_]+dag|ikväll)\b",
    re.IGNORECASE,
)
"""For which day a song is, right behind its title."""
_SMALL_WORDS = """
a an and at by for from in of on or the to with und der die das den dem im am von vom zu zur
de del la le les el los las un una du des et y i e o do da dos das em no na di il lo gli che
van het een og och på av til till w z na
"""
_WITHIN = frozenset(_SMALL_WORDS.split())
"""Small words within titles."""


@kept
def said_title(text: str) -> SaidTitle | None:
    """The title that a sentence names; None where it names none."""
    if len(text) > _LONGEST:
        return None
    for match in _NAMED.finditer(text):
        end = _end_of_title(text, match.end(), any_letters=True)
        if end:
            return _said(text, match.end(), end, called=True)
    for match in _PRESENTED.finditer(text):
        end = _end_of_title(text, match.end(), any_letters=False)
        if end:
            return _said(text, match.end(), end, called=False)
    return _title_in_a_key(text)


_IN_A_KEY = re.compile(
    r"(?:(?:ok(?:ay)?|so|right|hey|hi|well|now|and|also|btw|reminder|remember|fyi|folks|all|guys)"
    r"[\s,:!–-]+){0,3}(?:(?:the )?(?:song|tune) )?(?P<title>[^\W\d_][^,.;:!?()\"“”]{2,40}?)\s*"
    r"(?:['’]s|\s(?:is|are|goes|stays|will be|ist|geht|bleibt|est|va|es|è|está|gaat|är|går|er))\s+"
    r"(?:(?:now|still|back|down|up|always|again|jetzt|ahora|maintenant|adesso|nu)\s+)?(?:in|en|em|i)\s+"
    r"(?=(?-i:[A-H])[#b♯♭]?m?(?![\w'’])|"
    r"(?-i:[a-h])[#b]?m?(?:\s*[,.;:!(]|\s*$|\s+(?:now|major|minor)\b))",
    re.IGNORECASE,
)
"""How a line begins that says in which key a song is, by its title."""
_ASKED_IN_A_KEY = re.compile(
    r"(?P<title>[^\W\d_a-z][^,.;:!?()\"“”]{2,40}?)\s+in\s+"
    r"(?=[A-H][#b♯♭]?m?\s+(?:please|pls|again|this time|tonight)\b)"
)
_OTHER_SUBJECTS = """
it this that he she we they you i these everything all one key song tune version recording original
mine guitar bass piano keys band verse verses chorus bridge intro outro solo last first second third
ending end tag coda refrain capo what which there here es das dies ce ça esto eso questo dit det
"""
_NO_SUBJECT = frozenset(_OTHER_SUBJECTS.split())
_MOST_SUBJECT = 6


def _title_in_a_key(text: str) -> SaidTitle | None:
    """The title at the start of a line that says in which key the song is ("ok so mill pond is in D
    now"); None for any other line."""
    match = _IN_A_KEY.match(text) or _ASKED_IN_A_KEY.match(text)
    if match is None:
        return None
    title = match["title"].strip()
    words = title.casefold().replace("’", "'").split()
    several = len(words) > 1 or title[:1].isupper()
    if not several or len(words) > _MOST_SUBJECT or _NO_SUBJECT.intersection(words):
        return None
    return SaidTitle(text[: match.start("title")], title, text[match.end("title") :].strip(), False)


def _said(text: str, start: int, end: int, called: bool) -> SaidTitle:
    title = text[start:end]
    if (quoted := _QUOTED.match(title)) is not None:
        title = quoted["title"]
    return SaidTitle(text[:start].strip(), title.strip(), text[end:].strip(), called)


def _end_of_title(text: str, start: int, any_letters: bool) -> int:
    """Where a title ends that begins at a place; 0 where none begins there."""
    if (quoted := _QUOTED.match(text, start)) is not None:
        return quoted.end()
    ends = _CLAUSE_ENDS.search(text, start)
    clause = ends.start() if ends is not None else len(text)
    words = list(_WORD.finditer(text, start, clause))
    if not words or words[0].start() > start:
        return 0
    capitals = _run(words, all_capitals=True)
    if capitals and not text[:start].isupper() and _are_capitals(text[start:capitals]):
        return capitals
    spelled = _run(words, all_capitals=False)
    whole = spelled == words[-1].end()
    several = " " in text[start:spelled]
    occasion = bool(spelled) and _FOR_THE_DAY.match(text, spelled) is not None
    if spelled and (several or occasion or (whole and any_letters)):
        known = is_known_name(text[start:spelled]) or is_direction(text[start:spelled])
        return 0 if known and not any_letters else spelled
    if any_letters and len(words) <= _MOST_WORDS and _begins_a_name(words[0][0]):
        return words[-1].end()
    return 0


def _run(words: list[re.Match[str]], all_capitals: bool) -> int:
    """Where the words end that are spelled as a title's, from the first on; 0 where it is not."""
    end = 0
    for word in words:
        capital = word[0].isupper() if all_capitals else not word[0][0].islower()
        if capital:
            end = word.end()
        elif not end or all_capitals or word[0] not in _WITHIN:
            break
    return end


def _are_capitals(text: str) -> bool:
    """Whether a text in capitals is long enough for a title, and no name of a section."""
    letters = sum(map(str.isalpha, text))
    several = " " in text
    return letters >= _SHORTEST_IN_CAPITALS and (several or not is_known_name(text))


_OTHERWISE = "for by on off me you us him her them that this what when if because"
_NO_NAME = frozenset(_OTHERWISE.split())


def _begins_a_name(word: str) -> bool:
    return word.casefold() not in _NO_NAME


_BY = r"(?:by|von|par|por|de|da|di|door|av|af|przez)"
_WRITTEN = re.compile(
    r"\b(?:(?:written|composed|penned|wrote|made up|put together|worked out|geschrieben|"
    r"komponiert|écrite?|composée?|escrit[ao]|compuest[ao]|compost[ao]|scritt[ao]|geschreven|gecomponeerd|skriven|skrevet|napisan[ay])"
    r"(?:\s(?:[\w’']+|[&+])){0,4}?|(?:a|another|new) (?:song|tune|one))"
    rf"\s+{_BY}\s+(?P<by>(?-i:{PERSON}))|"
    rf"\b(?:one|song|tune|another)\s+of\s+(?P<of>(?-i:{PERSON}))['’]s?(?![^\W\d_])|"
    r"\b(?:ein (?:lied|stück) von|une? (?:chanson|morceau) de|una canción de|una canzone di|"
    rf"een liedje van|en (?:låt|sang) av|piosenka)\s+(?P<von>(?-i:{PERSON}))|"
    r"\b(?:escribió|compuso|escreveu|compôs|ha scritto|ha composto|a écrit|a composé|schrieb|skrev|"
    rf"schreef|napisała?|složila?|wrote)\s+(?P<past>(?-i:{PERSON}))|"
    rf"(?P<who>(?-i:{PERSON}))\s+(?:wrote|composed|penned|made up) (?:it|this)\b",
    re.IGNORECASE,
)
"""How a sentence says who wrote the song."""


_BEHIND = re.compile(
    rf"\s*[,–—-]?\s*(?:(?:by|von|par|por|de|di|van|av|af|od)\s+(?P<by>(?-i:{PERSON}))|"
    r"\((?P<inside>[^()]{4,80})\))",
    re.IGNORECASE,
)
"""Who wrote a song, right behind its title."""


def name_behind(text: str) -> str:
    """Who wrote the song by what stands right behind the title that a sentence names; empty where
    it names nobody."""
    match = _BEHIND.match(text) if len(text) <= _LONGEST else None
    if match is None:
        return ""
    name = match["by"] or writer_of(match["inside"])
    return name if match["by"] is None or names_people(name) else ""


def said_writer(text: str) -> str:
    """Who wrote the song by what a sentence says; empty where it does not say so."""
    match = _WRITTEN.search(text) if len(text) <= _LONGEST else None
    name = next(filter(None, match.groups()), "") if match is not None else ""
    return name if names_people(name) else ""
