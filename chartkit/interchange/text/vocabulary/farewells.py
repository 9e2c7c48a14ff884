"""How people begin and end what they write around a song.

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re

from chartkit.chart.section_words import PLAYERS

SUBJECTS = "Subject|Betreff|Objet|Asunto|Oggetto|Assunto|Onderwerp|Ämne|Emne|Temat|Předmět|Aihe"
"""What stands before the subject of a mail in the head that programs write."""
MAIL_HEAD = (
    rf"{SUBJECTS}|From|To|Cc|Bcc|Date|Sent|Reply-To|Von|An|Datum|Gesendet|De|À|Envoyé|Para|Fecha|"
    r"Enviado|Inviato|Da|Data|Van|Aan|Verzonden|Från|Till|Skickat|Fra|Til|Sendt|Wysłano|Komu|Odesláno|"
    r"Lähettäjä|Vastaanottaja"
)
"""What stands before a colon in the lines of that head."""
CLOSES = re.compile(
    r"(?i:(?:all the |with )?(?:best|love|cheers)|(?:many )?thanks|thank you|thx|ta|best wishes|"
    r"(?:kind |warm |best )?regards|yours(?: truly)?|see you|see ya|take care|later|x{1,3}|"
    r"(?:viele |liebe |beste )?grüße|gruß|lg|vg|bis (?:bald|dann|morgen)|"
    r"saludos|(?:un )?abrazos?|besos|abraços?|beijos|até (?:logo|já|amanhã)|"
    r"à bientôt|bises|bisous|amitiés|cordialement|à plus|"
    r"groet(?:en|jes)?|(?:vriendelijke|hartelijke) groet(?:en)?|liefs|doei|"
    r"(?:un )?(?:caro )?saluto|saluti|(?:un )?abbraccio|baci|a presto|"
    r"(?:vänliga |bästa )?hälsningar|mvh|kram|(?:vennlig |beste )?hilsen|kærlig hilsen|knus|"
    r"herzlich(?:st|e grüße)?|(?:mit )?(?:herzlichen|freundlichen|besten|lieben) grüßen|"
    r"(?:schöne|herzliche) grüße|alles (?:liebe|gute)|gruss|grüsse|ciao|tschüss|"
    r"gr|laters|peace(?: out)?|over and out|(?:big|bear|many) hugs|yours in haste|toodle-?oo|"
    r"catch you later|good luck|best of luck|break a leg|"
    r"all best|as ever|sincerely|warmly|hugs|until then|(?:con )?cariño|un beso|"
    r"hasta (?:luego|pronto|mañana)|tchau|tot (?:dan|snel|gauw)|hej då|vi ses|ha det(?: bra)?|"
    r"(?:venlig|med vennlig) hilsen|amicalement|bien à (?:toi|vous)|à très vite|"
    r"pozdrawiam|pozdrowienia|terveisin|na shledanou)"
    r"(?:(?P<named>\s*,\s*[A-ZÄÖÜ]\w{1,20}(?:\s[A-ZÄÖÜ]\w{0,20})?)|(?P<comma>\s*,)|\s*[.!]*)"
)
"""How writers of mails take leave; common practice, no source."""
_LONGEST = 80
_NAME = r"(?-i:[A-ZÀ-Ž])[^\W\d_]*(?:[\s-][^\W\d_]+){0,2}\s*[.!x]*"
_DAYS = (
    r"(?:(?:mon|tues|wednes|thurs|fri|satur|sun)day|tomorrow(?:['’]s)?|tonight(?:['’]s)?|montag|"
    r"dienstag|mittwoch|donnerstag|freitag|samstag|sonntag|morgen|heute|lundi|mardi|mercredi|jeudi|"
    r"vendredi|samedi|dimanche|lunes|martes|miércoles|jueves|viernes|sábado|domingo|lunedì|martedì|"
    r"mercoledì|giovedì|venerdì|sabato|domenica|maandag|dinsdag|woensdag|donderdag|vrijdag|zaterdag|"
    r"zondag|måndag|tisdag|onsdag|torsdag|fredag|lördag|söndag|mandag|tirsdag|lørdag|søndag|"
    r"poniedziałek|wtorek|środa|czwartek|piątek|sobota|niedziela)"
)
_WEEKDAY = re.compile(rf"\b{_DAYS}\b", re.IGNORECASE)
_UNTIL_THEN = (
    rf"(?:{_DAYS}|then|soon|later|there|all|both|bald|dann|nachher|demain|bientôt|(?:el )?{_DAYS}|"
    r"pronto|luego|presto|gauw|straks|snart|zobaczenia)"
)
_LEAVES = (
    r"bye for now|bye now|bye (?:all|both)|so long for now|"
    rf"(?:see|catch) (?:you|ya|u)(?: all| both)? (?:on |at the |next )?"
    rf"(?:{_UNTIL_THEN}|gig|rehearsal|show|week)|(?:un)?till? {_UNTIL_THEN}|"
    rf"(?:bis|tot|à|hasta|a|até|vi ses(?: på)?|ses(?: på)?|do) {_UNTIL_THEN}"
)
"""How somebody takes leave until another day."""
_KISSES = r"x{1,3}|(?:xo)+x?|(?:lots of |much |all my )?love|kisses|hugs(?: and kisses)?"
_FAREWELL = re.compile(
    rf"(?:{_KISSES}|cheers|thanks|thank you|thx|best|all the best|best wishes|regards|kind regards|"
    r"(?:speak|talk) (?:soon|later)|love to (?:all|everyone|you all)|"
    rf"{_LEAVES}|bless|bye|ta|yours|later|peace|"
    r"(?:liebe |viele |beste )?grüße|(?:lieben |besten )?gruß|lg|vg|"
    r"mfg|ciao|tschüss|à bientôt|bises|bisous|amitiés|un abrazo|abrazos|saludos|besos|"
    r"abraço|abraços|beijos|saluti|un abbraccio|baci|a presto|groetjes?|groeten?|liefs|kusjes?|"
    r"hälsningar|kram|mvh|hilsen|klem|knus|pozdrawiam|pozdrowienia|buziaki)"
    r"(?P<sign>\s*[,!.–—-]+\s*|\s+)(?:your\s+)?"
    rf"{_NAME}",
    re.IGNORECASE,
)
"""How a mail ends: a farewell and a name."""
_YOURS = re.compile(
    r"(?:yours?|eure?|dein[e]?|ihre?|ton|ta|votre|tuy[oa]|vuestr[oa]|tu[oa]?|vostr[oa]|je|jouw|jullie|"
    r"din|ditt|er[ae]?)\s+(?-i:[A-ZÀ-Ž])[^\W\d_]+\s*[.!x]*",
    re.IGNORECASE,
)
"""A name that is the reader's own ("Eure Wiebke"), as a mail is signed."""
_PLAINLY = re.compile(
    rf"(?:x{{2,3}}|(?:xo)+x?|lg|vg|mfg|mvh)\s*,?\s*{_NAME}|(?:{_KISSES}|cheers|regards|besos|bises|"
    rf"baci|kram|liefs|beijos)\s*,\s*{_NAME}|(?:{_LEAVES})\s*[,!]+\s*{_NAME}",
    re.IGNORECASE,
)
_BEHIND = re.compile(
    r"\S.{6,110}[.!?…)]\s+(?:(?:ta|thx|thanks|thank you|cheers|best|love|regards|lg|vg|gruß|grüße|"
    r"gruss|bises|merci|danke|saludos|gracias|abrazo|saluti|grazie|groet(?:jes)?|gr|hilsen|"
    r"hälsningar|kram|mvh|xx?x?)[\s.,!]+|[-–—/]\s*)?(?-i:[A-ZÀ-Ž][^\W\d_]{0,15}\.?)(?:\s+x{1,3})?",
    re.IGNORECASE,
)
"""A sentence with a farewell and a name behind it, or a name alone."""
_TO_BE_REACHED = re.compile(
    r"\b(?:(?:ring|call|phone|text|e-?mail|message|msg|ping|dm|whatsapp) (?:me|us)\b"
    r"(?=\s*[.!?,]|\s+(?:if|before|on|at)\b|.*[.!?]$)|"
    r"any (?:problems?|probs|questions?|trouble|doubts?|issues?)\b|"
    r"(?:just )?(?:shout|holler)\s*[.!]|"
    r"(?:drop|give) (?:me|us) a (?:line|ring|call|shout|bell|text)|let (?:me|us) know|"
    r"ruft? (?:mich )?an\b|anrufen|meldet euch|melde dich|bei (?:fragen|problemen)|schreibt? mir|"
    r"sagt? bescheid|appelle[zr]?[- ]moi|en cas de (?:doute|problème|question)|"
    r"si (?:problème|question)|"
    r"écri(?:s|vez)[- ]moi|dites[- ]moi|ll[aá]m(?:a|e|ad)me|me llam(?:as|áis|an)|"
    r"si hay (?:dudas?|problemas?)|cualquier (?:cosa|duda|problema)|avis(?:a|ad|en)me|"
    r"chiam(?:a|ate)mi|per (?:dubbi|problemi|domande)|fatemi sapere|fammi sapere|scriv(?:i|ete)mi|"
    r"bel (?:me|mij|even)\b|laat (?:me |het |iets )?weten|bij vragen|hör av (?:er|dig)|"
    r"ring (?:mig|meg)\b|sig til\b|si fra\b|ved spørsmål|vid frågor|daj(?:cie)? znać|dzwoń(?:cie)?|"
    r"qualquer (?:coisa|dúvida)|me liga\b|liga[- ]me)",
    re.IGNORECASE,
)
"""How somebody below a song says that the reader may ask."""
_DEARLY = re.compile(
    r"(?:my |mein[e]? |mi |ma |mon |mia |mio |min )?(?:darlings?|dearest|sweethearts?|love|mate|"
    r"lieb(?:e[rs]?|ste[rs]?)|querid[oa]s?|ch(?:er|ère)s?|car[oiae]|carissim[oiae]|kære|kjære|kär[ae]|"
    r"lieve|liebling|schatz|drog[ia]|milý|milá|estimad[oa]s?|prezad[oa]s?)"
    r"\s+(?-i:[A-ZÀ-Ž])[\w’'-]*(?:\s[\w’'&-]+){0,3}\s*[,!:].*",
    re.IGNORECASE,
)
"""How a mail to somebody dear begins ("Darling Otto, the new opener")."""
ANSWER = re.compile(
    r"\s*(?:(?:re|fwd?|aw|wg|tr|rv|sv|vb|antw|doorst|odp)\s*:\s*)+(?=\S)", re.IGNORECASE
)
"""What a program for mails sets before the subject of one that is answered or sent on."""


_POSTSCRIPT = re.compile(r"\W*(?:P\.?\s?P?\.?\s?S\b\.?|p\.\s?s\.|ps\b)\s*[:,.–—-]?\s+\S")


def is_postscript(text: str) -> bool:
    """Whether a line begins as what is added below a letter."""
    return _POSTSCRIPT.match(text) is not None


def takes_leave(text: str) -> bool:
    """Whether a line is a farewell with a name, as at the end of a mail."""
    return len(text) <= _LONGEST and _FAREWELL.fullmatch(text) is not None


def takes_leave_of(text: str) -> bool:
    """Whether the last line of a mail takes leave with a name, or with the reader's own."""
    return takes_leave(text) or (len(text) <= _LONGEST and _YOURS.fullmatch(text) is not None)


def signs_plainly(text: str) -> bool:
    """Whether a line takes leave as nothing that is sung does: kisses or a farewell in letters,
    or a farewell before a comma, and a name."""
    return len(text) <= _LONGEST and _PLAINLY.fullmatch(text) is not None


_KISSED = re.compile(r"\S.{6,80}\s(?:x{2,3}|(?:xo){1,3}x?)[.!]*", re.IGNORECASE)


def ends_with_kisses(text: str) -> bool:
    """Whether kisses stand behind what a line says to somebody ("see you at the side door xx")."""
    kissed = len(text) <= _LONGEST and _KISSED.fullmatch(text) is not None
    return kissed and len(text.split()) > _FEWEST_BEFORE_KISSES


_FEWEST_BEFORE_KISSES = 3


def signs_behind(text: str) -> bool:
    """Whether a name stands behind a sentence, alone or with a farewell ("Ring me. Ta, Phil")."""
    return len(text) <= _LONGEST * 2 and _BEHIND.fullmatch(text) is not None


def asks_to_be_reached(text: str) -> bool:
    """Whether a line says that the reader may ring, write or ask."""
    return len(text) <= _LONGEST * 2 and _TO_BE_REACHED.search(text) is not None


def greets_dearly(text: str) -> bool:
    """Whether the first line of a text begins with somebody dear and a comma, as mails do."""
    return len(text) <= _LONGEST * 2 and _DEARLY.fullmatch(text) is not None


def is_answer(text: str) -> bool:
    """Whether a line begins as the subject of a mail that is answered or sent on."""
    return ANSWER.match(text) is not None


def is_weekday_in(text: str) -> bool:
    """Whether a text has the name of a day, or a word such as "tonight"."""
    return _WEEKDAY.search(text) is not None


_LABEL_OF_NOTES = re.compile(
    r"(?:(?:other|band|stage|gig|general)\s+)?(?:notes?|remarks?|reminders?|logistics|info|to ?do|"
    r"bring|"
    r"notizen|hinweise?|bemerkungen|remarques|infos|notas|recordatorios?|avisos?|promemoria|"
    r"opmerkingen|anmärkningar|noter|p\.?s\.?)\s*[:.]?",
    re.IGNORECASE,
)
_LONGEST_LABEL = 40


def is_label_of_notes(text: str) -> bool:
    """Whether a line is a label under which somebody writes to the band ("Notes:", "Logistics")."""
    return len(text) <= _LONGEST_LABEL and _LABEL_OF_NOTES.fullmatch(text.strip()) is not None


_TO_ALL = re.compile(
    r"(?:to|for|an|für|à|pour|a|para|per|aan|voor|till?|do)\s+(?:all|alle|tou(?:s|tes)|todos|todas|tutt[ie]|iedereen|"
    r"alla|everyone|everybody)\s+(?:(?:of|the|les|los|las|i|gli|le|die|de|os|as|our)\s+)*"
    r"(?-i:[a-zà-ÿ])[^\W\d_]*(?:[\s,&+]+(?:[^\W\d_]|’|')+){0,6}\s*[,:.!]?",
    re.IGNORECASE,
)
"""To whom a letter goes; a title has more capitals ("To All the Girls")."""
_PLAYERS_OF_ALL = """
tenors tenor altos alto basses sopranos soprano singers members players musicians hands concerned
bands choirs guests sections readers colleagues choristers band choir tenöre bässe
soprane sänger musiker mitglieder ténors basses chanteurs musiciens membres tenores bajos cantantes
músicos miembros tenori bassi cantanti musicisti membri tenoren bassen zangers muzikanten leden
tenorer basar sångare musiker
"""
_ALL_OF_THEM = frozenset((*_PLAYERS_OF_ALL.split(), *PLAYERS))


def is_to_all(text: str) -> bool:
    """Whether a line says to whom a letter goes, all those who play or sing ("To all tenors")."""
    match = _TO_ALL.fullmatch(text) if len(text) <= _LONGEST * 2 else None
    plain = match[0].casefold().strip(" .!") if match is not None else ""
    return plain[-1:] in (",", ":") or not _ALL_OF_THEM.isdisjoint(plain.replace(",", " ").split())


_NO_MORE = re.compile(
    r"that['’]?s (?:it|all|everything|the lot) (?:for (?:now|today|tonight)|folks|from me)|"
    r"(?:that|das) (?:is|wäre) (?:it|all|alles) (?:for now|fürs erste)|das (?:war['’]?s|"
    r"wär['’]?s) (?:für heute|fürs erste)|"
    r"c['’]est tout pour (?:l['’]instant|ce soir)|eso es todo por (?:ahora|hoy)|"
    r"è tutto per (?:ora|oggi)|"
    r"dat (?:is|was) het voor (?:nu|vandaag)|det var allt för (?:nu|idag)",
    re.IGNORECASE,
)


def says_no_more(text: str) -> bool:
    """Whether a line says that the writer has said all ("that's it for now")."""
    return len(text) <= _LONGEST * 2 and _NO_MORE.search(text) is not None


_HOUR = re.compile(
    r"\s*\d{1,2}(?:[:.]\d\d\s?(?:[AP]M|[ap]m|[ap]\.m\.)|\s?(?:AM|PM|[ap]\.m\.))(?![\w#/])"
)


def begins_with_hour(text: str) -> bool:
    """Whether a text begins with a time of day ("10 AM"), in which no chord stands."""
    return _HOUR.match(text) is not None
