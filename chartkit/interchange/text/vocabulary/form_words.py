"""The words and signs that lines of form are made of, in the languages in which sheets are often
written.  Source: common practice, no source."""

import re

from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.bar_words import BARS
from chartkit.interchange.text.vocabulary.ends_on import PREPOSITIONS

LONGEST_FORM = 160
"""The longest line of form, in characters."""
_NEXT = (
    r"and|then|but|und|dann|danach|aber|et|puis|ensuite|mais(?=\s+(?:sans|avec|plus|moins|en|le|la|"
    r"les|un|une|pas|cette|seulement|juste|tout)\b)|(?-i:y)|luego|después|pero|(?-i:e)|poi|ma|"
    r"en(?!\s+(?:(?-i:[A-H])(?:[#b♯♭m\d]|\W|$)|(?:la|el|los|las)\s))|"  # "fin en Sol"
    r"daarna|maar|sedan|och|og"  # in Portuguese "mais" is "more"
)
_NEXT_BEHIND_SIGN = (
    r"dan|sen|sedan|så|derefter|deretter|depois|potem|następnie|dopo|et puis|(?-i:i)|"
    r"zum (?=schluss|ende|abschluss)|am (?=ende|schluss)"
)
"""Words that lead to the next section behind a sign alone, since they are said of more."""
APART = re.compile(
    rf"\s*(?:-+>|=+>|→|⇒)\s*|\s*[,;:]\s*(?:(?:{_NEXT}|{_NEXT_BEHIND_SIGN})\s+)*|\s+/\s+|\s+[-–—+&=]+\s+|"
    rf"\s*\.{{2,}}\s*|\s*…\s*|[()\[\]]|\s+(?:{_NEXT})\s+|\.(?=\s(?!\d{{1,2}}(?:\s*[,;:(]|$))|$)",
    re.IGNORECASE,
)
LEADING_LABEL = re.compile(
    r"\s*(?:(?:and\s+|und\s+)?"
    r"(?:(?:(?:go |then )?back to|again from|from|repeat from|da capo,?)\s+the\s+"
    r"(?:top|beginning|start|head)(?=\s*[:,])|d\.\s?c\.(?=\s*:)|"
    r"(?:the\s+)?same again(?:\s+with)?|again with|now|then|next|"
    r"danach|dann|after that|puis|luego|"
    r"(?:and\s+)?(?:on|in)?to(?!\s+(?:the\s+)?(?:coda|fine|segno|end)\b))\s*:?|[-–—*•>]+)\s+(?:the\s+)?",
    re.IGNORECASE,
)
PLAYED_AGAIN = re.compile(
    r"(?:repeat|se rep[ie]te|si ripete|"
    r"rep\.?|rpt\.?|back to|wdh\.?|noch (?:mal|einmal)|nochmals|zurück zu[mr]?|repetir|"
    r"repete|repite|répéter|reprendre|reprise|retour au?|ripeti|ripetere|herhaal|herhalen|"
    r"terug naar|upprepa|tillbaka till|gentag|gjenta|powtórz|"
    r"volta(?:r)? (?:ao|à|a)|v(?:uelve|uelta|olver) al?|regres[ao]r? al?|"
    r"torna(?:re)? al(?:la)?|encore|otra vez|de novo|ancora|igen|again)\s+"
    r"(?:(?:the|el|la|le|il|o|a|het|de|den|das|die|du|des|de la|del|della|do|da)\s+)?",
    re.IGNORECASE,
)
_ON = r"(?:on|with|auf|mit|sur|avec|en|con|su|op|met|på|med|na|z)"
FINISH = re.compile(
    rf"^(\s*(?:and\s+|then\s+)?)(?:we\s+)?(?:finish|close)(?:es|s)?(?=\s+{_ON}\s+"
    r"(?:\S+\s+){0,3}[A-H](?:[#b♯♭m\d]\S{0,5})?[.!]*\s*$)|"
    r"^(\s*)(?:(?:and|so|then|oh|und|dann|et|puis|y|luego|e|poi|en|dan|och|og|i)\s+)*"
    r"(?:(?:it|we|this(?: one)?|the song|es|das(?: lied)?|wir|on|ça|il|elle|la canción|il brano|"
    r"we|het|den|det|vi|to)\s+"
    r"(?:all\s+)?)(?:ends?|finish(?:es)?|closes?|stops?|endet|enden|hört auf|hören auf|finit|"
    r"termine|termina(?:mos)?|"
    r"acaba(?:mos)?|finisce|finiamo|eindigt|eindigen|slutar|slutter|kończy się)"
    rf"(?=\s+{_ON}\s+(?:(?:an?|the|big|low|high|last|long|einem?|un|una|een|ett?)\s+){{0,3}}"
    r"(?-i:[A-H](?:is|es|[#b♯♭])?(?:m|maj|min|dim|sus|add|\d){0,3}(?:/[A-H][#b]?)?)(?:\s*[.!]*\s*$|\s*[,;(–—-]|\.\s|\s+and\s))|"
    r"(?<=[,;.])(\s*(?:and\s+|then\s+)?)(?:finish|out|close)(?=\s*[:=]\s*(?-i:[A-H]))",
    re.IGNORECASE,
)
"""How an ending is described without its name ("finish on a big E")."""
OF_FINISH = (
    *("finish", "close", "end", "stop", "hör", "finit", "termin", "acaba", "finisce", "finiamo"),
    *("eindig", "slut", "kończy", "out"),
)
"""One of these stands wherever ``FINISH`` fits."""
AGAIN_AS = re.compile(
    r"(?:(?:repeat|reprise)\s+)?(?:the\s+)?(?P<other>[^\W\d_][^,;:()|]{1,20}?)\s+"
    r"(?:(?:again|nochmals?|noch einmal|"
    r"encore|de nuevo|otra vez|di nuovo|de novo|opnieuw|igen|igjen)\s+)?"
    r"(?:as (?:an? |the )?|als |comme |como |come |som )"
    r"(?P<name>[^\W\d_][^,;:()|]{1,20})(?=$|[,;(])",
    re.IGNORECASE,
)
"""How a section is said to have the music of another ("intro again as outro")."""
BEFORE_OTHER_NAME = frozenset({"as", "als", "comme", "como", "come", "som"})
"""One of these stands between blanks wherever ``AGAIN_AS`` fits."""
AGAIN_CUT_SHORT = re.compile(
    r"(?:(?<!\w\s)|(?<=then\s)|(?<=and\s)|(?<=und\s)|(?<=dann\s))\b(rep|rpt|wdh)\.(?=\s)", re.I
)
"""What asks for a section again, cut short, before its name."""
TIMES_FIRST = re.compile(
    r"(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])(?=\s+(?!\d+ ?bars))|twice(?=\s)(?!\s+as\b)", re.IGNORECASE
)
_BARS_OF_A_CHORD = re.compile(
    r"(?!(?:8|12|16)[ -]?bar in\b)"
    rf"(?P<count>\d{{1,2}})\s?{BARS}\s+"
    r"(?:(?:of|on|in|auf|mit|de|di|van|op|av|på|en|sur|su)\s+)?(?P<chord>[A-H][^\s,;]{0,9})",
    re.IGNORECASE,
)
"""A chord held for some bars ("4 bars of G"); a "12 bar in E" is a blues."""
_MOST_BARS_OF_A_CHORD = 32
COUNT_FIRST = re.compile(r"(\d{1,2})\s*[x×]\s*", re.IGNORECASE)
BAR_COUNT = re.compile(rf"\b\d{{1,3}}[\s-]?{BARS}\b", re.IGNORECASE)
WORDS_FOR_CHORDS = r"chords|changes|grid|akkorde|acordes|accords|accordi|akkoorden|ackord|akkorder"
_LIKE_ANOTHER = re.compile(
    r"(?:(?:the\s+)?same(?:\s+(?:chords|changes|music|thing))?(?:\s+(?:as|like))?|"
    r"(?:(?:chords|changes|music|tune|melody|akordy|ackord|akkorder)\s+)?"
    r"(?:as|like|of|from|to|jako)(?:\s+in)?|"
    r"(?:(?:chords|changes)\s+)?same\s+(?:as|like)|akordy|"
    r"(?:(?:die\s+)?(?:gleichen?|selben) akkorde )?wie|gleich wie|"
    r"(?:(?:los\s+)?(?:mismos )?acordes )?(?:igual |como )?(?:que|a|como|ao|à)|"
    r"(?:l[oe]s |os |gli |de |die )?(?:mismos|mesmos|stessi|mêmes|gleichen|selben|zelfde) "
    r"(?:acordes|accordi|accords|akkorde|akkoorden) "
    r"(?:de|del|di|du|des|della|dello|do|da|que|wie|als|van|der)|"
    r"(?:(?:les\s+)?(?:mêmes )?accords )?(?:que|comme)|(?:stessi accordi )?(?:come|di)|"
    r"(?:samma ackord |samme akkorder )?som|(?:zelfde akkoorden )?als|"
    rf"(?:{WORDS_FOR_CHORDS}|akordy) "
    r"(?:of|from|as in|de(?: l['’])?|del|della|dell['’]|dello|des|du|do|da|von|vom|van|från|ur|av|"
    r"jak|wie|der|aus|uit|fra)|"
    r"mism[oa]s? que|samma som|samme som|zelfde als|over|on|auf|über|sobre|sur|sull?[aoe]?|"
    r"sull['’])(?:\s+|(?<=['’]))"
    r"(?:the\s+|de[nrm]?\s+|die\s+|el\s+|la\s+|le\s+|il\s+|o\s+|het\s+|l['’])?"
    r"(?P<other>.+?)(?:\s+(?:chords|changes|akkorde|acordes|accords))?|"
    r"(?P<own>.+?)\s+(?:chords|changes|akkorde|acordes|accords)",
    re.IGNORECASE,
)


def section_meant(text: str) -> str:
    """The section whose music another has by some words ("same as the verse", "verse chords");
    empty for any other words."""
    match = _LIKE_ANOTHER.fullmatch(text)
    return (match["other"] or match["own"] or "").strip() if match is not None else ""


ARTICLE = re.compile(
    r"(?:an?|one|another|ein(?:e[nrms]?)?|une?|una|uno|een|en|ett)\s+(?:(?:long|short|big|little|quick|slow|"
    r"quiet|loud|last|lange[nrs]?|kurze[nrs]?)\s+)?(?=[^\W\d_]{4})",
    re.IGNORECASE,
)
THE = re.compile(
    r"(?:the|der|die|das|den|el|la|los|las|le|les|l['’]|il|het|de|det)(?:\s+|(?<=['’]))"
    r"(?=[^\W\d_]{2})",
    re.IGNORECASE,
)
"""A definite article that is nothing else in a line of form."""
PLAYED_ONCE_MORE = re.compile(
    r"(?:sung|played|all|both|gesungen|gespielt|chantée?s?|cantad[ao]s?|cantat[aei]|gezongen)?\s*"
    r"(?:(?:all )?over again|again|once (?:more|again)|one more time|nochmals?|noch (?:ein)?mal|"
    r"encore(?: une fois)?|otra vez|de nuevo|"
    r"una vez más|di nuovo|ancora(?: una volta)?|de novo|outra vez|nog (?:een keer|eens)|opnieuw|"
    r"igen|en gång till|"
    r"igjen|en gang til|jeszcze raz|rpt|rep|wdh)[.!]*",
    re.IGNORECASE,
)
"""What is said of a step that is played again, and says no more than that."""
ONCE_MORE_BEFORE = re.compile(
    r"(?:again|once (?:more|again)|one more time|nochmals?|noch ?(?:ein)?mal|encore|otra vez|"
    r"de nuevo|di nuovo|ancora|de novo|opnieuw|igen|igjen|jeszcze raz)\s+(?!\d+\s?[x×])(?=\S)"
    r"(?!(?:for|until|till|to|and|as|in|on|over|plus|moins|più|meno)\s|une fois|"
    r"una volta|einmal|mal\b)",
    re.IGNORECASE,
)
"""The same before a remark ("again 8va")."""
AS_BEFORE = re.compile(
    r"(?:the\s+)?(?:same|again|ditto|idem|gleich|dito|igual|pareil|uguale)"
    r"(?:\s+(?:chords|changes|again|thing|music|as (?:before|above)))?|as (?:before|above)|"
    r"(?:die )?(?:gleichen?|selben?) akkorde|(?:les )?mêmes accords|(?:los )?mismos acordes|"
    r"(?:gli )?stessi accordi|(?:os )?mesmos acordes|(?:de)?zelfde akkoorden|samma ackord|"
    r"samme akkorder|(?:la |a )?(?:misma|mesma|stessa) (?:música|musica)|même musique|"
    r"gleiche musik|samma musik|zelfde muziek|same (?:music|tune)",
    re.IGNORECASE,
)
LEADS_TO_CHORDS = re.compile(
    rf"(?:(?P<said>.{{0,40}}?)\s)?"
    rf"(?P<on>(?:{PREPOSITIONS}|over|across|über|sobre|vamp|stop on|to)\s+"
    r"(?:(?-i:an?|the|last|einem?|un|une|een)\s+(?:[^\W\d_]{3,10}\s+)?)?)",
    re.IGNORECASE,
)
OVER_OR_LIKE = re.compile(
    r"(?:(?:chords|changes|akordy|accords|acordes)\s+(?:of|from|as|like|de|du|jako)|over|über|sobre|sur|sull?[aoe]?|same|as|like|wie|som|als|come|comme)\b",
    re.IGNORECASE,
)
CHORDS_OF = re.compile(
    rf"(?:{WORDS_FOR_CHORDS}|riff|progression|music|pattern|groove|figure|lick|vamp)\b",
    re.IGNORECASE,
)
ONCE_AGAIN = re.compile(
    r"again|once more|nochmals?|noch einmal|encore|otra vez|de nuevo|di nuovo|de novo|opnieuw|igen|"
    r"igjen|bis",
    re.IGNORECASE,
)
"""What is said behind the section whose music another has ("Outro: intro again")."""
OVER_ANOTHER = re.compile(
    r"\bover (?:the )?(?P<other>(?:verse|chorus|bridge|intro)(?: \d)?)\b", re.IGNORECASE
)
_ROUNDS_IN_WORDS = (
    "one 1 ein eine un une una uno een en ett um uma jeden jedna",
    "two 2 zwei deux dos due twee två to dois duas dwie dvě",
    "three 3 drei trois tres tre drie três trzy tři",
)
_COUNTS_OF_ROUNDS = {
    word: count for count, words in enumerate(_ROUNDS_IN_WORDS, 1) for word in words.split()
}
ROUNDS = re.compile(
    rf"(?P<count>{'|'.join(_COUNTS_OF_ROUNDS)})\s+(?:[x×]\s+)?(?P<name>[^\W\d_]{{4,12}})\b",
    re.IGNORECASE,
)
"""How many rounds of a section a solo goes over ("one verse")."""


def rounds_of(word: str) -> int:
    """The number that a word before a section's name stands for."""
    return _COUNTS_OF_ROUNDS[word.casefold()]


_ABOUT = """
words lyrics text letra paroles testo chords changes akkorde acordes accords accordi akkoorden
ackord akkorder akordy
"""
ABOUT_WORDS = frozenset(_ABOUT.split())
"""What is said of a heading to name what stands behind it."""
_LEADING_WORDS = frozenset({"on", "auf", "sur", "på", "en", "su", "op", "in", "na", "w"})
IN_A_KEY = frozenset({"in", "en"})
"""What stands before a key as well."""
VERBS_OF_ENDING = frozenset({"ends", "sluta", "slutar", "endet", "termina", "finit", "eindigt"})

AGAIN_BEFORE = re.compile(r"^(?:again|once more|nochmals?|encore|de nuevo|igen)\s+", re.I)
TAGGED = re.compile(r"(?:the|last|it|on|out|that|this|line)\b", re.IGNORECASE)
"""What is tagged ("tag the last line")."""
ONLY = re.compile(
    r"^(?:but\s+|aber\s+|mais\s+|pero\s+|ma\s+|maar\s+|men\s+)?"
    r"(?:only|just|nur|seulement|solo|sólo|só|soltanto|alleen|maar|bara|kun)\s+",
    re.IGNORECASE,
)
UNTIL_WHEN = re.compile(
    r"(?:un)?till?\b|bis\b|jusqu|hasta\b|finch[ée]\b|fino\b|até\b|tot\b|tills\b|til\b|aż\b",
    re.IGNORECASE,
)
"""How words begin that say how long a chord goes on."""
STAYS = re.compile(
    r"vamp|loop|jam|stay|sit|hold|ride|keep|groove|hit|strike|strum|bleib(?:en|t)?|rester|reste|quedarse|restare|blijf|"
    r"stanna|bliv",
    re.IGNORECASE,
)
"""What a band does on a chord, before the chord."""


def may_lead(word: str) -> bool:
    """Whether a word may lead to the chord on which something ends ("on"); in a capital "Em" is a
    chord."""
    return word.casefold() in _LEADING_WORDS or word == "em"


def written_out(text: str, reads_as_chords: IsChords) -> str:
    """A chord held for some bars ("4 bars of G") as a row of bars; any other text as it is."""
    match = _BARS_OF_A_CHORD.fullmatch(text) if len(text) <= LONGEST_FORM else None
    count = int(match["count"]) if match is not None else 0
    if (
        match is None
        or not 0 < count <= _MOST_BARS_OF_A_CHORD
        or not reads_as_chords(match["chord"])
    ):
        return text
    return "| " + f"{match['chord']} | " * count
