"""Recognises words to the players: who plays, how loud, how fast, how often, and talk about the
rehearsal.

A line is a direction when nearly all of its words are of this kind, or when it can be nothing
else (an arrow before it, a time of day in it).  Source of the words: common practice in the
languages in which sheets are often written, no source.
"""

import re
from dataclasses import dataclass

from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.vocabulary.farewells import (
    is_postscript,
    is_to_all,
    is_weekday_in,
    says_no_more,
    takes_leave,
)
from chartkit.interchange.text.vocabulary.manners import MANNER
from chartkit.interchange.text.vocabulary.sung_words import is_unsung


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_PLAYERS = _words("""
akkordeon ziehharmonika mundharmonika flöte trompete posaune saxofon saxophon kontrabass streicher
chor solist acordeón acordeon violín violin flauta trompeta saxofón armónica palmas accordéon violon
flûte trompette choeur chœur cuivres cordes fisarmonica violino tromba archi fiati accordeon viool
fluit trompet koor mondharmonica dragspel fiol flöjt trumpet kör munspel trekkspill fele kor
akordeon skrzypce trąbka flet chór wszyscy banjo washboard tuba hats hi-hat
guitar guitars gtr gtrs git bass drum drums drummer perc percussion piano pno key keys keyboard
synth organ sax saxes saxophone horn horns brass strings fiddle violin viola harp harmonica
accordion flute clarinet clarinets trumpet tpt trombone vocal vocals vox voice voices bgv bgvs
harmony harmonies choir band everybody everyone tutti acoustic electric uke ukulele banjo
mandolin cello click loop gitarre gitarren schlagzeug klavier orgel geige stimme stimmen bläser
alle alleine guitarra guitarras batería bajo teclado voz voces guitare batterie basse clavier
voix chitarra batteria basso voce gitaar bas zang gitarr trummor gitara perkusja riff lead leads
rhythm
""")
_COUNTED = _words("""
bar bars measure measures beat beats takt takte zeile zeilen ligne línea linha riga regel
raden linje wiederholen wiederholung repetir répéter ripetere herhalen upprepa compases
mesure mesures maten takter times twice
thrice mal veces fois volte keer gånger ganger repeat repeats repeated rpt wdh bis segno coda fine
""")
_SMALL_WORDS = _words("""
halten
compás time volta once rep again last first second third fourth next 1st 2nd 3rd 4th half double
only same until till cue ready chorus verse bridge intro outro refrain section part ending
a an the in on with without w w/ wo and & + of to for from at by no not just very then before
after straight into end ends line lines word words now here all each every up down out off mit
ohne und auf der die das von im am bei nur dann con sin y en el la los las de del avec sans et
sur le les du senza e di il met zonder op het med uten utan och og på as like or but add adds
play plays playing comes come start starts enters enter goes go back top over more less bit
little full whole long short key change half step steps chords chord changes music one two three
four five six seven eight twelve sixteen x low high lower higher through throughout still both
together let werden wird spielen ganz sehr etwas finish feeling feel nice long final stay loud
más menos muy poco todo todos todas sola última vez cada segunda primera otra
plus moins très tout tous toutes seul seule dernière deuxième première
mehr weniger noch beim letzten letzte letztes letzter jeder jede jedes zweiten ersten alle nochmal
più meno molto ultima seconda prima tutto mais muito pouco só
meer minder heel alleen laatste iedereen allemaal mer mindre bara sista gången alla siste gang kun
immer sempre steeds coraz getting gets growing becoming
""")
_STRONG = _PLAYERS | MANNER | _COUNTED
_KNOWN = _STRONG | _SMALL_WORDS
_OF_THE_FORM = re.compile(
    r"\b(?:verses?|choruse?s?|bridge|intro|outro|solos?|refrains?|strophen?|couplets?|estrofas?|"
    r"estribillos?|versos?|strof[ae]|ritornell[oi]|coupletten|refreinen|refräng(?:en)?|head|tag|coda|"
    r"(?-i:[A-D]\d))\b",
    re.IGNORECASE,
)
_WHO_PLAYS = re.compile(
    r"\b(?:sung|sings?|vocals?|voices?|instrumental|band|piano|sax|organ|guitars?|gtr|bass|drums?|"
    r"fiddle|violin|trumpet|horns?|flute|harmonica|accordion|banjo|mandolin|gesungen|gesang|klavier|"
    r"gitarre|geige|chanté|guitare|voix|cantad[ao]s?|guitarra|voz|cantat[ae]|chitarra|gezongen|zang|"
    r"sjungs|sång|gitarr)\b",
    re.IGNORECASE,
)
_FEWEST_WORDS_SAID = 5
_OF_OLD = {
    "cresc.",
    "decresc.",
    "dim.",
    "rit.",
    "ritard.",
    "rall.",
    "accel.",
    "rubato",
    "tacet",
    "crescendo",
    "diminuendo",
    "ritardando",
    "rallentando",
    "accelerando",
    "tutti",
}
"""Terms of the trade that are no words of a song even where a line of words could stand."""
_SPOKEN = re.compile(
    r"\(?(?:spoken|gesprochen|parlé|hablado|parlato|gesproken|talat|talas)\)?\s*[:)–-]|cue\s*:|"
    r"(?:repeat|vamp|loop|hold|play)\s+(?:until|till|as needed|ad lib)\b|"
    r"(?:wiederholen|spielen),? bis\b|répéter jusqu|repetir hasta|ripetere fino",
    re.IGNORECASE,
)
_BEGINS_TERM = re.compile(
    r"(?:poco\s+|molto\s+)?(?:rit|ritard|rall|cresc|decresc|dim|accel|ritardando|rallentando)\.(?=\s)|"
    r"(?:last|final)\s+[A-G](?:[#b♯♭m\d]\S{0,4})?,\s|shave and a haircut\b",
    re.IGNORECASE,
)
"""Terms cut short, and the one rhythm with which bands end a tune that is called by its words."""
_MOST_WORDS_OF_A_TERM = 6
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?|\d+(?:st|nd|rd|th)?|[&+]")
_ARROW = re.compile(r"\s*(?:-+>|=+>|→|⇒|»+|<-+|←)\s*")
_MOST_WORDS = 8
_FEWEST_WORDS_OF_TALK = 3
_LONGEST = 160

_THROUGHOUT = re.compile(
    r"(?:(?:the )?same )?(?:for )?(?:throughout|all (?:the way )?through|all the way|"
    r"(?:all|every|each) (?:the )?verses?|"
    r"(?:the )?(?:whole|entire) (?:song|time|way|thing|tune)(?: thr(?:ough|u))?|all the way thru|"
    r"all (?:the )?thr(?:ough|u)|"
    r"durchgehend|(?:die )?ganze zeit|das ganze lied|tout du long|toute la chanson|todo el tema|"
    r"toda la canción|todo el tiempo|sempre|hele (?:nummer|lied))",
    re.IGNORECASE,
)
_CLOCK = re.compile(
    r"\b\d{1,2}(?:[:.]\d{2})?\s?(?:am|pm|a\.m\.|p\.m\.|uhr|h)\b|\bat\s+\d{1,2}(?:[:.]\d{2})?\b(?!\s*(?:bars|bpm))",
    re.IGNORECASE,
)
_TALK = re.compile(
    r"\b(?:see you|see ya|see u|let me know|let us know|lemme know|please|pls|thanks|thank you|thx|"
    r"cheers|soundcheck|sound check|load[- ]?in|rehearsal|rehearse|band practice|set ?list|"
    r"dress code|can you|could you|can we|could we|will you|does anyone|anyone know|who can|"
    r"i['’]ll (?:bring|send|mail)|bring (?:the|your|a|some)|don['’]t forget to bring|"
    r"typos?|typed (?:this )?(?:on|in)|sorry for (?:the|any)|excuse (?:the|my)|"
    r"what do you think|what you think|talk soon|more soon|chords below|chords are below|"
    r"sent from|here (?:is|are|it is|you go|comes)|here['’]s|attached|as promised|"
    r"hier (?:ist|sind|der|die|das|kommt)|anbei|bitte|danke|bis (?:bald|morgen|dann|samstag|"
    r"freitag|sonntag|donnerstag|mittwoch|dienstag|montag)|probe|meldet euch|sagt bescheid|"
    r"les mando|te mando|os mando|aquí (?:va|está)|gracias|nos vemos|ensayo|por favor|"
    r"voici|merci|à (?:demain|lundi|mardi|mercredi|jeudi|vendredi|samedi|dimanche)|"
    r"répét(?:ition)?|s['’]il (?:te|vous) plaît|"
    r"ecco|grazie|ci vediamo|prova alle|alstublieft|bedankt|tot morgen|repetitie|tack|vi ses)\b",
    re.IGNORECASE,
)
"""What people write around a song in a mail."""
_TALK_ALONE = _words("""
thx thanks ty cheers sure ok okay cool great nice perfect merci gracias danke bedankt tack grazie
obrigado dzięki top super
""")
"""Whole lines of talk."""
_CHAT = _words("pls plz thx thks np lol haha hahaha kk yep nope")
"""Words of short lines that people only type to each other."""
_GREETING = re.compile(
    r"(?:(?:ok(?:ay)?|right|so|alright)[\s,]+)?here (?:goes|we go|it is|you go)\b[.!:]*|"
    r"(?:hi|hello|hey|hiya|dear|morning|good morning|good evening|hallo|liebe[rs]?|servus|moin|"
    r"guten (?:tag|abend|morgen)|bonjour|salut|bonsoir|hola|buenas|buenos días|ciao|ciao a tutti|"
    r"hej|hei|hoi|beste|cześć|olá|oi|yo|evening|afternoon|greetings|folks|gents|ladies|guys|lads|"
    r"gang|team|friends|brothers|sisters|everyone|howdy)"
    r"(?:[\s,]+(?!.*\b(?:is|was|are)\b|[^,:!.]*\b(?:has|have|of|on|in|after|before|by|with|over|under)\b)"
    r"[^\W\d_][\w’']*){0,3}\s*(?:[,!:.–—-].*|there|all)?|"
    r"(?:all|everybody|band|chaps|peeps|people|y['’]all|you all|musicians|players|choir|deps|alle|"
    r"ihr lieben|leute|tous|todos|tutti|allen|alla|wszyscy)\s*[,:]",
    re.IGNORECASE,
)
_DOUBTFUL = re.compile(
    r"(?:morning|evening|afternoon|dear|brothers|sisters|friends|team|gang|lads|ladies|folks)\s+\w",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class WordCount:
    """How many words of a text are of a kind: all, known in directions, sure signs of one."""

    all: int
    known: int
    strong: int

    @property
    def share(self) -> float:
        """The known ones as a share of all, 0 where there are none."""
        return self.known / self.all if self.all else 0.0


@kept
def count_words(text: str) -> WordCount:
    """Counts the words of a text that belong to directions; numbers are known, not strong."""
    words = [word.casefold() for word in _WORD.findall(text)]
    known = sum(word in _KNOWN or word[0].isdigit() for word in words)
    strong = sum(word in _STRONG for word in words)
    return WordCount(len(words), known, strong)


@kept
def names_player(text: str) -> bool:
    """Whether a name is that of an instrument or of who plays it: ``Guitarra``, ``Horns``."""
    return text.casefold() in _PLAYERS


def speaks_to_players(text: str) -> bool:
    """Whether words say more to the players than how the song goes: they name an instrument or a
    part of the song ("no bass till the chorus")."""
    text = text[:_LONGEST]
    players = any(word.casefold() in _PLAYERS for word in _WORD.findall(text))
    return players or _OF_THE_FORM.search(text) is not None


def is_direction(text: str) -> bool:
    """Whether a line that stands by itself says only how the band is to play."""
    if len(text) > _LONGEST:
        return False
    if points_on(text) or is_unsung(text):
        return True
    count = count_words(text)
    return 0 < count.all <= _MOST_WORDS and count.known == count.all and count.strong > 0


def is_plain_direction(text: str) -> bool:
    """Whether a line of several words in small letters says how the band plays ("unison
    throughout"), and is no title."""
    return text.islower() and " " in text and is_direction(text)


_AD_LIB = re.compile(
    r"(?:repeat|vamp|loop|play|wiederholen|répéter|repetir)?\s*(?:ad[ -]?lib(?:itum)?\.?|"
    r"(?:till?|until) (?:ready|cue|fade|done)|(?:and|to) fade|x?\d{1,2} or more|"
    r"as (?:long|often) as \w+)",
    re.IGNORECASE,
)


_OF_MUSIC = _words("""
bar bars line lines verse verses chorus choruses bridge intro outro coda tag solo time times last
repeat play sing end ending key beat beats capo fade ring twice takt takte zeile zeilen strophe
refrain mal letzte letzten wiederholen mesure mesures couplet fois dernière dernier compases última
estribillo estrofa veces
""")
_FEWEST_OF_MUSIC = 3


def speaks_of_music(text: str) -> bool:
    """Whether a sentence speaks of how the song is played, and not to the reader of a letter
    ("Last time play the last four bars three times")."""
    words = [word.casefold() for word in _WORD.findall(text)]
    return (
        sum(word in _OF_MUSIC for word in words) >= _FEWEST_OF_MUSIC and _CLOCK.search(text) is None
    )


def says_how(text: str) -> bool:
    """Whether words behind a row of chords say how or how long it is played."""
    plain = text.strip(" .!")
    return is_direction(plain) or _AD_LIB.fullmatch(plain) is not None


def points_on(text: str) -> bool:
    """Whether an arrow before a line says that it is a direction."""
    return _ARROW.match(text) is not None and any(map(str.isalpha, text))


def tells_who_plays(text: str) -> bool:
    """Whether a sentence says who sings or plays which sections ("Piano takes the first verse")."""
    said = len(text) <= _LONGEST and len(text.split()) >= _FEWEST_WORDS_SAID
    return said and bool(_OF_THE_FORM.search(text) and _WHO_PLAYS.search(text))


def says_throughout(text: str) -> re.Match[str] | None:
    """Where a line says that its chords are for the whole song."""
    return _THROUGHOUT.search(text)


@kept
def is_term(text: str) -> bool:
    """Whether a line is a term of the trade ("cresc.", "rit. . . .") that nobody sings."""
    words = [word.casefold() for word in text.split() if word.strip(".…-–_")]
    if begins_with_term(text):
        return True
    return 0 < len(words) <= 3 and all(
        word in _OF_OLD or f"{word.strip('.,')}." in _OF_OLD for word in words
    )


def begins_with_term(text: str) -> bool:
    """Whether a short line begins with a term cut short ("rit. to the end"), as no words do."""
    return len(text.split()) <= _MOST_WORDS_OF_A_TERM and _BEGINS_TERM.match(text) is not None


def is_spoken(text: str) -> bool:
    """Whether a line says of itself that it is spoken, or the cue for the band."""
    return len(text) <= _LONGEST and _SPOKEN.match(text) is not None


def is_greeting(text: str) -> bool:
    """Whether a line greets the band, whatever pictures stand behind."""
    if len(text) > _LONGEST:
        return False
    bare = text.strip()
    while bare and not (bare[-1].isascii() or bare[-1].isalnum()):
        bare = bare[:-1].rstrip()
    return is_to_all(bare) or _GREETING.fullmatch(bare) is not None


def is_doubtful_greeting(text: str) -> bool:
    """Whether a greeting could as well be a title ("Morning Mercy"): it begins with a word of the
    day or of people, and no sign stands in it."""
    return all(c.isalpha() or c in " '’" for c in text.strip()) and (
        _DOUBTFUL.match(text.strip()) is not None
    )


def is_talk(text: str) -> bool:
    """Whether a line is said to the reader of a mail: it thanks, asks, or names a day or an
    hour as letters do."""
    text = text.strip()[:_LONGEST]
    if len(words := _WORD.findall(text.casefold())) == 1:
        return words[0] in _TALK_ALONE | _CHAT
    if len(words) <= _FEWEST_WORDS_OF_TALK and _CHAT & {*words}:
        return True
    if takes_leave(text) or is_postscript(text) or says_no_more(text):
        return True
    if len(text.split()) < _FEWEST_WORDS_OF_TALK and not text.endswith((".", "!", "?", ":", ",")):
        return False
    if _TALK.search(text) is not None or _CLOCK.search(text) is not None:
        return True
    return is_weekday_in(text) and text.rstrip().endswith((".", "!", "?", ":", ","))


def without_arrow(text: str) -> str:
    """The text of a direction without the arrow before it."""
    return _ARROW.sub("", text, count=1) if _ARROW.match(text) else text


_OF_THE_STAGE = re.compile(
    r"(?:enter|exit|exeunt|curtain|lights?|blackout|spotlight|auftritt|abgang|vorhang|licht|"
    r"entrent?|sort(?:ent)?|rideau|noir|entran?|salen?|telón|oscuro|esc(?:e|ono)|sipario|buio|"
    r"opkomst|doek|inträde|ridå|wchodzi|kurtyna)(?!\w)"
)
_MOST_WORDS_ON_STAGE = 8


def is_of_the_stage(text: str) -> bool:
    """Whether a line in capitals tells what happens on the stage ("ENTER BISHOP, BELL RINGS")."""
    shouted = text.isupper() and 1 < len(text.split()) <= _MOST_WORDS_ON_STAGE
    return shouted and _OF_THE_STAGE.match(text.casefold()) is not None
