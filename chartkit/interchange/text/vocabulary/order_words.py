"""The words of which sentences are made that say in what order the sections of a song are played.

Source of the words, in the languages in which sheets are often written: common practice, no
source.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.text.quick_looks import words_in
from chartkit.interchange.text.vocabulary.section_names import section_key

_THEN = (
    r"then|next|now|after (?:that|which)|afterwards|finally|lastly|dann|danach|anschließend|puis|"
    r"ensuite|après|luego|después|poi|dopo|daarna|dan|sen|sedan|derefter|deretter|depois|então|potem"
)
_AND = r"and|und|et|en(?!\s+(?:la|el|los|las)\s)|och|og|(?-i:y|e|i)"
CLAUSES_APART = re.compile(
    rf"\s*(?:[,;!]\s+|(?<!solo):\s+|(?<!^\d)(?<![,;(]\s\d)(?<!\brep)(?<!\brpt)(?<!\bwdh)(?<!\bstr)(?<!\bref)\.\s+|->|→|⇒|\s[-–—+&>/|·•]+\s)\s*|"
    rf"\s+\(?(?=(?:(?:{_AND})\s+)?(?:{_THEN})\s)|"
    rf"\s+(?:{_AND})\s+",
    re.IGNORECASE,
)
"""What stands between two steps of an order; a full stop behind a figure that begins a step makes
it an ordinal ("1. zweimal"), one behind "rep." cuts a word short."""
SAYS_ORDER = re.compile(
    rf"(?<!\w)(?:{_THEN}|twice|once|times|again|rep|rpt|end|ends|finish|stop|out|through|round|repeat|"
    r"\d\s?[x×]|[x×]\s?\d|zweimal|dreimal|mal|nochmals?|schluss|ende|deux fois|fois|encore|fin|"
    r"dos veces|veces|otra vez|final|volte|ancora|fine|keer|slot|gånger|igen|slut|vezes|fim)(?!\w)",
    re.IGNORECASE,
)
"""A word that orders have and mere lists of names have not."""
_LEADS = (
    r"so|ok(?:ay)?|well|we|you|just|first(?: of all)?|it['’]?s|it is|that['’]s|it goes|goes|go|"
    r"start(?:s|ing)?(?: (?:with|on|at|from))?|begin(?:s|ning)?(?: with)?|play(?:ed|s)?|sing|sung|"
    r"do|straight|into|to|in the end|at the end|zuerst|erst|als erstes|zum schlu(?:ss|ß)|"
    r"am (?:ende|schluss)|noch|wir spielen|d['’]abord|on joue|à la fin|pour finir|primero|tocamos|"
    r"al final|para terminar|prima|suoniamo|infine|alla fine|eerst|we spelen|tot slot|först|"
    r"vi spelar|till slut|til slutt|primeiro|no fim|para acabar|por fim|ending(?: with)?|"
    r"over to|(?:go(?:ing)? |take (?:it|us) )?(?:out|end(?:s|ing)?|finish(?:es)?|close|stop|"
    r"schluss|ende|endet|fin(?:ir|it)?|termina(?:r|mos)?|acaba(?:r|mos)?|finire|chiudere|eindigen|sluta(?:r)?|"
    r"slutt(?:e)?) (?:on|with|over|auf|mit|sur|avec|en|con|su|op|met|på|med|em|com)"
)
LEAD = re.compile(
    rf"\A(?:{_LEADS}|{_THEN}|{_AND})(?!\w)[\s,:]*|"
    r"\A(?:letter|section|part|buchstabe|teil|letra|lettre|lettera|parte|partie|deel|del)\s+"
    r"(?=(?-i:[A-H])\d?(?!\w))|"
    r"\A(?:the|an|one|another|den|die|das|der|dem|eine?[nr]?|la|le|les|une?|el|los|las|una?|il|lo|"
    r"het|de|een|os|as|(?-i:a|o))\s+(?=\S)",
    re.IGNORECASE,
)
"""What leads to a step at the start of a text and says nothing of it."""
LEADS_ON = re.compile(rf"\s*(?:(?:{_AND})\s+)?(?:{_THEN})(?!\w)", re.IGNORECASE)
"""How a sentence begins that goes on behind what the sheet has."""
LEAD_AGAIN = re.compile(
    r"(?:(?:the )?same|gleiche[rs]?|(?:der|die|das)selbe|même|mism[oa]|stess[oa]|zelfde|samm[ae]|"
    r"mesm[oa]|repeat|re?pt\.?|rep\.?|wdh\.?|back (?:in)?to|return to|again|once more|one more|"
    r"zurück zu[mr]?|wieder|noch ?(?:ein)?mal|"
    r"nochmals|retour (?:au?|à)|encore(?: une fois)?|reprise d[ue]|"
    r"(?:on |nous )?repren(?:d|ds|dre|ez|ons)|riprend(?:e|ere|iamo)|repite|"
    r"repetimos|retoma(?:r|mos)?|herhaal|upprepa|gjenta|wiederhol(?:en|t)|"
    r"v(?:uelve|olver|olvemos) a(?:l)?|otra vez|repetir|"
    r"torna a(?:l)?|ancora|terug naar|nog (?:een keer|eens)|tillbaka till|igen|volta (?:ao|à)|"
    r"de novo)\s+(?=\S)",
    re.IGNORECASE,
)
"""What leads to a step that is played again."""
TAIL = re.compile(
    r"\s+(?:to (?:finish|end|close|start|begin|go out)(?: (?:with|off))?|(?:as|for) (?:the |an )?"
    r"(?:last|end|ending|outro|finish)|at the end|zum (?:schluss|ende|abschluss)|"
    r"(?<!\bhead )(?:and )?out|als schluss|pour (?:finir|terminer)|à la fin|"
    r"para (?:terminar|acabar|cerrar)|al final|"
    r"per (?:finire|chiudere)|alla fine|tot slot|om te eindigen|till slut|til slutt)$",
    re.IGNORECASE,
)
TAIL_AGAIN = re.compile(
    r"\s+(?:again|once (?:more|again)|one (?:more|last) time|one more|nochmals?|noch ?(?:ein)?mal|"
    r"wieder|encore(?: une fois)?|de nouveau|otra vez|una vez más|de nuevo|ancora(?: una volta)?|"
    r"di nuovo|nog een keer|opnieuw|igen|en gång till|igjen|de novo|mais uma vez)$",
    re.IGNORECASE,
)
LEADS_BACK = re.compile(
    r"(?:go |going )?(?:right |all the way )?back to (?:the )?(?:very )?(?:top|start|beginning)|"
    r"(?:play |do |take |run |repeat )?(?:it |that |this |everything |the (?:whole|entire) "
    r"(?:thing|song|lot) )?(?:all )?(?:once more |again )?(?:right |all )?"
    r"from (?:the )?(?:very )?(?:top|start|beginning)(?: again| once more| one more time)?|"
    r"(?:wieder )?zurück (?:zum|an den) anfang|"
    r"(?:alles |das ganze )?(?:nochmal |noch ?(?:ein)?mal |wieder )(?:alles |das ganze )?"
    r"von (?:vorn|vorne|oben|anfang)|"
    r"retour au début|(?:on )?reprend(?:re|s)? (?:tout )?(?:au|du|depuis le) début|"
    r"(?:volver|vuelve|vuelta|otra vez|de vuelta) al (?:principio|inicio|comienzo)|"
    r"(?:todo )?(?:otra vez|de nuevo) desde el (?:principio|inicio|comienzo)|"
    r"(?:torna(?:re)?|ritorno|di nuovo) (?:all['’]inizio|da capo)|"
    r"(?:tutto )?(?:di nuovo|ancora) dall['’]inizio|terug naar het begin|"
    r"(?:alles )?(?:nog een keer|nog eens|opnieuw) (?:van voren af aan|vanaf het begin)|"
    r"(?:allt )?(?:igen )?från början(?: igen)?|"
    r"tillbaka till början|volta(?:r)? ao (?:início|começo|princípio)|"
    r"(?:tudo )?(?:de novo|outra vez) (?:do|desde o) (?:início|começo|princípio)",
    re.IGNORECASE,
)
"""What leads back to the top of the song."""
ALL = re.compile(
    r"(?:all of (?:it|that|this)|everything|(?:the )?head|(?:the )?top|top to bottom|"
    r"(?:the|(?:the )?(?:whole|entire|full)) (?:thing|song|form|tune|lot)|"
    r"(?:it )?(?:all )?(?:right )?from (?:the )?(?:top|start|beginning)|"
    r"das ganze|(?:das )?ganze (?:lied|stück)|(?:alles )?von (?:vorn|vorne|oben|anfang)|"
    r"le tout|toute la chanson|(?:tout )?(?:depuis|du) (?:le )?début|"
    r"toda la canción|(?:todo )?desde el principio|(?:tutto )?da(?:ll['’]inizio| capo)|d\.? ?c\.?|"
    r"het geheel|alles van voren af aan|hela låten|(?:allt )?från början|"
    r"(?:tudo )?do (?:início|começo|princípio)|(?P<weak>all|alles|tout|todo|tutto|allt|tudo|alt))"
    r"(?:\s+(?:as (?:written|is|above)|as it stands|wie (?:oben|notiert|es steht)))?",
    re.IGNORECASE,
)
"""All sections as they stand on the sheet.  What is ``weak`` means the players too."""
RANGE = re.compile(
    r"(?:(?:again )?from|von|ab|de|du|depuis|desde|da(?:l|lla)?|van|vanaf|från|fra|do|da)\s+"
    r"(?:(?:the|der|dem|la|le|el|il|het|de|a|o)\s+)?(?P<first>[^,;]{1,24}?)"
    r"(?:\s+(?:on(?:wards?)?|an)|"
    r"\s+(?:through\s+|right\s+|straight\s+)?(?:to|till?|until|bis(?:\s+zu[mr])?|jusqu['’](?:à|au?)|"
    r"à|hasta|a(?:l|lla)?|fino a(?:l|lla)?|tot(?:\s+aan)?|till|til|até)\s+"
    r"(?:(?:the|der|dem|den|la|le|el|il|het|de|o|a)\s+)?"
    r"(?:(?:end|ende|fin|final|fine|slut|slutet|einde|fim)\s+(?:of|vom|von|der|des|du|de|del|della|van|av|"
    r"do|da)\s+(?:(?:the|der|dem|la|le|el|het)\s+)?)?(?P<last>[^,;]{1,24}))?",
    re.IGNORECASE,
)
"""Sections from one to another, or to the end."""
THE_END = re.compile(
    r"(?:very )?(?:end|bottom|finish|close|schluss|ende|fin|final|fine|slot|einde|slut|slutet|"
    r"slutten|fim)",
    re.IGNORECASE,
)
VERSES = re.compile(
    r"(?:(?:both|all(?: the| of the)?|the|(?:two|three|four)|beide|alle|toutes les|tous les|"
    r"les (?:deux|trois)|todas las|las (?:dos|tres)|tutte le|alla|båda)\s+)+"
    r"(?P<kind>verses|strophen|couplets|strophes|estrofas|versos|strofe|coupletten|strofen|verser|"
    r"verserna)",
    re.IGNORECASE,
)
WITH_REFRAIN = re.compile(
    r"(?P<verses>.{4,30}?)\s+(?:each\s+)?(?:with|mit|avec|con|met|med|com)\s+"
    r"(?:(?:the|an?|dem|den|le|la|el|il|het|o)\s+)?(?P<refrain>[^,;]{2,20}?)\s+"
    r"(?:(?:after|behind|nach|après|tras|después de|dopo|na|efter|etter|depois de)\s+"
    r"(?:each|every|jede[rm]|chaque|chacun|cada|ogni|elke|ieder|varje|hver)"
    r"(?:\s+(?:one|una?|uno|other))?|"
    r"in ?between|dazwischen|jeweils danach)",
    re.IGNORECASE,
)
"""Verses with a refrain behind each."""
AFTER_EACH = re.compile(
    r"(?P<refrain>[^,;]{2,30}?)\s+(?:comes?\s+|goes\s+|kommt\s+)?"
    r"(?:after|behind|nach|après|tras|después de|dopo|na|efter|etter|depois de)\s+"
    r"(?:each|every|all|jede[rnm]?|chaque|tous les|cada|ogni|elke?|ieder|varje|hver)\s+"
    r"(?:verses?|stanzas?|stroph(?:en?)?|couplets?|estrofas?|versos?|strof[ae]|vers)",
    re.IGNORECASE,
)
"""The same, said of the refrain."""
SOLOS = (
    r"(?:solos?|sólo|assolo)\s+(?:(?:de|di|da|do|del|du|van|af|av)\s+(?:l[ao]\s+)?|d['’])[^\W\d_]{3,12}|"
    r"assol[oi]|(?:[^\W\d_]{3,14})?solos?|soli|breaks?|instrumental|improvisation|impro|"
    r"trad(?:e|es|ing)\s+(?:[248]s|twos|fours|eights)"
)
OVER = (
    r"on|over|through|across|auf|über|sur|sobre|en|su|sul(?:l[aoe]|l['’])?|sui|sopra|op|over|över|på|"
    r"em|n[ao]s?|em cima d[eoa]|"
    r"with the chords of|to|in"
)
SOLO = re.compile(
    rf"(?:(?P<who>[^\W\d_][\w'’. -]{{0,24}}?)[\s-]+)?(?P<what>{SOLOS})"
    rf"(?:[\s,:=(]+(?:once |twice )?(?:(?:{OVER})\s+)?"
    r"(?:(?:the|(?-i:an?|os?|as?)|one|den|der|die|das|dem|eine?[rn]?|la|le|les|el|il|lo|het|de|een)"
    r"\s+)?(?:(?:chords|changes|akkorde|accords|acordes|accordi)\s+(?:of|from|der|du|de|del|da)\s+"
    r"(?:the\s+|la\s+)?)?"
    r"(?P<over>[^()]{1,30}?)(?:\s+(?:chords|changes|form))?\)?(?:\s+(?:chords|changes|form))?)?",
    re.IGNORECASE,
)
"""A solo, who plays it, and over which sections."""
TAKES = re.compile(
    r"(?P<who>[^\W\d_][\w'’. -]{0,24}?)\s+(?:takes?|plays?|has|gets?|spielt|joue|toca|"
    r"suona|speelt|spelar|spiller)\s+"
    r"(?:(?:an?|one|the|einen?|eine|un[ea]?|een|en|ett)\s+)?(?P<over>[^()]{1,30}?)"
    r"(?:\s+(?:alone|solo|instrumental))?",
    re.IGNORECASE,
)
"""Somebody who plays a section."""
ENDS = re.compile(
    r"(?:and )?(?:out|ends?|the end|finish|done|that['’]s it|schluss|ende|aus|fin|fine|fim|"
    r"slut|slot|einde)",
    re.IGNORECASE,
)
SAID_BEHIND = re.compile(
    r"(?:with(?:out)?|only|just|no|nur|mit|ohne|avec|sans|con|sin|senza|met|zonder|med|utan|com|sem|"
    r"but|played|sung|spoken|hummed|instrumental)\s",
    re.IGNORECASE,
)
"""How a remark begins that stands behind a name."""
_EACH = (
    r"all(?: of)?(?: the)?|each(?: of the)?|every|alle|jede[rs]?|tous les|toutes les|chaque|cada|"
    r"todas las|todos los|todas as|tutte le|ogni|elke?|ieder|alla|varje|hver|alle"
)
_PARTS = (
    r"sections?|parts?|bits?|teile?|abschnitte?|parties?|partes?|parti|secci(?:ón|ones)|sezion[ei]|"
    r"deel|delen|delar(?:na)?|del|seções|seção"
)
_PLAYED = (
    r"(?:is|are|wird|werden|est|sont|se|è|sono|wordt|worden|spelas|spilles)?\s*"
    r"(?:to be\s+)?(?:repeated|played|done|gespielt|joué(?:e?s)?|toca[n]?|suonat[aeio]|gespeeld)?"
)
COUNT_OF_ALL = re.compile(
    rf"(?:(?:please\s+)?(?:we\s+)?(?:play|sing|do|repeat)\s+)?(?:{_EACH})\s+(?:{_PARTS})\s*[:=,–-]?\s*"
    rf"{_PLAYED}\s*[(]?(?P<times>[^()]{{2,16}}?)[)]?(?:\s+each)?"
    r"(?:\s*,?\s*(?:unless|except|if not|außer|sauf|salvo|tranne|behalve)\b[^()]{0,40})?",
    re.IGNORECASE,
)
"""How often all sections are played, said once for all of them."""
_WHICH = {
    "first": 1, "1st": 1, "erste": 1, "ersten": 1, "erster": 1, "erstes": 1, "première": 1,
    "premier": 1, "1er": 1, "1ère": 1, "primera": 1, "primer": 1, "primero": 1, "primeira": 1,
    "primeiro": 1, "prima": 1, "primo": 1, "eerste": 1, "första": 1, "første": 1,
    "second": 2, "2nd": 2, "zweite": 2, "zweiten": 2, "zweiter": 2, "zweites": 2, "deuxième": 2,
    "seconde": 2, "2e": 2, "2ème": 2, "segunda": 2, "segundo": 2, "seconda": 2, "secondo": 2,
    "tweede": 2, "andra": 2, "anden": 2, "andre": 2,
    "third": 3, "3rd": 3, "dritte": 3, "dritten": 3, "dritter": 3, "drittes": 3, "troisième": 3,
    "2ª": 2, "2º": 2, "2a": 2, "3ª": 3, "3º": 3, "3a": 3,
    "3e": 3, "3ème": 3, "tercera": 3, "tercer": 3, "tercero": 3, "terceira": 3, "terceiro": 3,
    "terza": 3, "terzo": 3, "derde": 3, "tredje": 3,
    "fourth": 4, "4th": 4, "vierte": 4, "quatrième": 4, "cuarta": 4, "quarta": 4, "vierde": 4,
    "fjärde": 4, "fjerde": 4, "fifth": 5, "5th": 5, "fünfte": 5, "cinquième": 5, "quinta": 5,
    "last": -1, "final": -1, "letzte": -1, "letzten": -1, "letzter": -1, "letztes": -1,
    "dernier": -1, "dernière": -1, "derniere": -1, "último": -1, "última": -1, "ultimo": -1,
    "ultima": -1, "laatste": -1, "sista": -1, "siste": -1, "sidste": -1, "ostatni": -1,
    "ostatnia": -1, "ostatnim": -1, "poslední": -1, "posledním": -1, "viimeinen": -1,
    "viimeisessä": -1, "pierwszy": 1, "pierwsza": 1, "první": 1, "drugi": 2, "druga": 2,
    "druhý": 2, "druhá": 2, "trzeci": 3, "trzecia": 3, "třetí": 3,
}  # fmt: skip
_ARTICLE = r"(?:the|der|die|das|den|dem|le|la|el|il|l['’]|o|a|de|het|den|det)"
WHICH_TIME = re.compile(
    rf"(?:(?:in|on|im|beim|am|au|en|nell['’]|na|no|i|på|op|bij|bei|v|w)\s+)?(?:{_ARTICLE}\s+)?"
    rf"(?P<which>{'|'.join(sorted(_WHICH, key=len, reverse=True))})\s+(?P<rest>.{{3,90}})",
    re.IGNORECASE,
)
"""What is said of one of the sections of a name ("last B ritard", "in the 2nd chorus no drums")."""
_TIME = re.compile(
    rf"\s*[,:(–—-]?\s*(?:(?:the|das|la|le|de|il|a)\s+)?"
    rf"(?P<which>{'|'.join(sorted(_WHICH, key=len, reverse=True))})\s+"
    r"(?:time|times|x|go|round|pass|mal|fois|vez|volta|keer|gången|gang|raz)\b\s*[:,)–—-]?\s*(?=\S)",
    re.IGNORECASE,
)


def which_one(word: str) -> int:
    """Which of the sections of a name a word means: 1 the first, -1 the last; 0 for any other
    word."""
    return _WHICH.get(word.casefold().strip(".,;:()"), 0)


def which_time(text: str) -> tuple[int, str] | None:
    """Which of the sections of a name the first words of a text speak of (-1 is the last), and the
    rest; None for a text that begins with anything else."""
    match = WHICH_TIME.fullmatch(text)
    return (_WHICH[match["which"].casefold()], match["rest"]) if match is not None else None


def time_behind(text: str) -> tuple[int, str] | None:
    """The same, where words for the time stand behind the name ("first time: claps only")."""
    match = _TIME.match(text)
    return (_WHICH[match["which"].casefold()], text[match.end() :]) if match is not None else None


_TIMES_IN_WORDS = "time times x go round pass mal fois vez volta keer gången gang raz"
_TIMES = frozenset(_TIMES_IN_WORDS.split())


def may_say_time_behind(text: str) -> bool:
    """Whether one of the words that ``time_behind`` needs stands in a text; a quick look."""
    return not _TIMES.isdisjoint(words_in(text))


LAST_CHORDS = (
    r"(?:last|final|end|ending|closing)\s+(?:hit|chord|stab|note|button|sting|crash|bar)s?|"
    r"(?:schluss|end)akkord|letzter akkord|dernier accord|accord (?:final|de fin)|"
    r"último acorde|acorde final|ultimo accordo|accordo finale|slotakkoord|laatste akkoord|"
    r"slutackord(?:et)?|sista ackord(?:et)?|slutakkord|siste akkord"
)
"""What the last chords of a song are called, as alternatives of a pattern."""
_LAST_CHORDS = re.compile(LAST_CHORDS, re.IGNORECASE)


def is_of_last_chords(name: str) -> bool:
    """Whether a section's name says that it is the last chords of the song."""
    return _LAST_CHORDS.fullmatch(name.strip()) is not None


_ENDINGS = frozenset(["end", "outro", "coda", "tag"])


def endings_from(names: Sequence[str]) -> int:
    """The place of the first of the last sections that end a song, by their names; the count of all
    where the last does not."""
    at = len(names)
    while at > 1 and _ends_song(names[at - 1]):
        at -= 1
    return at


def _ends_song(name: str) -> bool:
    return section_key(name)[0] in _ENDINGS or is_of_last_chords(name)
