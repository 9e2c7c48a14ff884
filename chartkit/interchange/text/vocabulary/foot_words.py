"""Words of the lines below the last written-out section: halves and lines of sections, what begins
the rest of an order, and what such lines say of a section that is played again.

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re

_WHICH = (
    r"first|second|third|last|final|1st|2nd|3rd|1\.|2\.|3\.|erste[nrs]?|zweite[nrs]?|letzte[nrs]?|"
    r"premi(?:er|ère)s?|deuxième|seconde?|derni(?:er|ère)s?|1re|2e|2ème|primer[ao]?s?|segund[ao]s?|"
    r"últim[ao]s?|prim[ao]|second[ao]|ultim[aoei]|primeir[ao]s?|eerste|tweede|laatste|första|andra|"
    r"sista|første|anden|andre|siste|sidste"
)
_PART = (
    r"half|line|row|bit|part|phrase|bars?|hälfte|zeilen?|takte?|teil|moitié|ligne|phrase|partie|mitad|"
    r"línea|frase|verso|metà|riga|verso|metade|linha|helft|regel|zin|halva(?:n)?|rad(?:en)?|halvdel(?:en)?|"
    r"linje(?:n)?|lines|rows"
)
_THE = r"(?:(?:the|de[nrms]?|die|das|het|det|le|la|les|el|il|los|las|o|a)\s+|l['’])?"
_OF = (
    r"of(?:\s+(?:the|an?))?|von(?:\s+de[rm])?|vom|des|der|du|de(?:\s+(?:la|l['’]))?|del|della|dello|"
    r"dell['’]|do|da|van(?:\s+(?:de|het))?|av|af"
)
PART_OF = re.compile(
    r"(?:half(?:[\s-]+of)?(?:[\s-]+(?:an?|the))?[\s-]+|(?:1/2|½)\s*(?:an?\s+|of\s+)?|"
    r"(?:de[nrm]\s+)?halbe[nrsm]?\s+|(?:een\s+)?halve?\s+|halva\s+|halvt\s+|demi[\s-]+|"
    r"medi[oa]\s+|mezz[oa]\s+|mei[oa]\s+|pół\s+|"
    rf"{_THE}moitié (?:du|de la|de l['’])\s*|{_THE}(?:mitad|metà|metade|helft|hälfte) (?:{_OF})\s*|"
    rf"{_THE}(?:{_WHICH})\s+(?:(?:two|three|four|zwei|drei|vier|dos|deux|due|\d)\s+)?(?:{_PART})\s+"
    rf"(?:{_OF})\s*)(?P<name>[^,;()]{{1,30}})",
    re.IGNORECASE,
)
"""A part of a section that is played ("half a chorus", "letzte Zeile vom Refrain")."""
OF_A_LINE = re.compile(
    rf"{_THE}(?:{_WHICH})\s+(?:(?:two|three|four|zwei|drei|vier|dos|deux|due|\d)\s+)?(?:{_PART})(?!\w)",
    re.IGNORECASE,
)
"""How a remark begins that is said of one of a section's lines."""
REST_LABEL = re.compile(
    r"\s*(?:(?:the|der|le|el|il|de|o|den)\s+)?(?:rest|reste|resto|resten|remainder)"
    r"(?:\s+(?:(?:of|vom|von|der|des|du|de|del|della|do|da|van|av|af)\s+)?"
    r"(?:(?:the|dem|la|le|het|l['’])\s*)?(?:form|song|tune|lied(?:es|s)?|chanson|canción|canzone|"
    r"música|forme|forma|låten|sangen|nummer|vorm))?\s*[:=]\s*",
    re.IGNORECASE,
)
"""What begins the rest of an order ("Rest of form: …")."""
AS_SOLO = re.compile(
    r"\s+(?:as|for|als|comme|en|como|come|som|w)\s+(?:an?|une?|eine?n?|un[ao]?|um|een|ett)\s+solo",
    re.IGNORECASE,
)
"""Behind a section that somebody takes ("Tpt takes V1 as a solo")."""
LIKE_ANOTHER = re.compile(
    r"(?P<name>[^,;:()]{2,20}?)\s+(?:is|=|ist|est|es|è|é|är|er|uses?|goes like|like|wie|comme|como|"
    r"come|som|zoals|sama como)\s+"
    rf"(?:(?:just|only|nur|same as|igual que)\s+)?{_THE}(?P<other>[^,;:()]{{2,30}}?)",
    re.IGNORECASE,
)
"""A section that the sheet does not have, with the music of one ("Outro is the intro")."""
OVER_NEXT = re.compile(
    r"(?:over|across|on|über|auf|sur|sobre|su|sulla?|sopra|över|på|op|n[ao])\s+"
    rf"{_THE}(?P<name>[^,;:()]{{1,24}})",
    re.IGNORECASE,
)
"""The section over which a solo goes on ("then over bridge")."""
IN_A_KEY = re.compile(
    r"(?:in|back (?:in|to|down|up)|up to|down to|goes (?:up|down|in)|lifts?|up|down|hoch|rauf|"
    r"runter|höher|tiefer|un ton|un demi|medio tono|un tono|un tom|ett steg|en toon)\b",
    re.IGNORECASE,
)
"""How a remark on the key begins that stands right behind a name."""
HOW_PLAYED = re.compile(
    r"(?:all|everybody|everyone|super|very|really|still|so|as|full|big|loud|soft|quiet|a\s?cap+ella|"
    r"ganz|sehr|alle|tous|tutti|todos|todas|muy|bien|très|tout|toute|molto|piano|forte|heel|erg|"
    r"väldigt|mycket|alla|iedereen|muito|bem|leise|laut|suave|fuerte|doux|fort|at|for|from|over|after|before|"
    r"till?|until|while|im|am|auf|für|zum|als|au|aux|à|en|al|alla|in|op|i|på)\b",
    re.IGNORECASE,
)
"""How other remarks begin right behind a name, without a sign."""
BEHIND_ONE = re.compile(
    r"(?:(?:ok(?:ay)?|so|and|then)\s+)*(?:after|behind|nach|après|después de|tras|dopo|na|efter|"
    rf"etter|depois d[ao]|po)\s+{_THE}(?P<more>\S.*)",
    re.IGNORECASE,
)
"""What begins a clause that says behind which section the next is played."""
TO_FOLLOW = re.compile(
    r"(?:and\s+)?(?:we['’]?re (?:out|done)|that['’]?s (?:it|all|the end)|(?:and )?done|"
    r"same again|the rest|das war['’]?s|fertig|c['’]est tout|ya está|y ya|e basta|klaar|klart|"
    r"(?:go )?(?:a)?round again)",
    re.IGNORECASE,
)
"""Clauses that say nothing of a step."""
LAST_ONE = re.compile(
    rf"(?:(?:and|then|y|et|und|e|en|och|og)\s+)?{_THE}(?:very )?"
    r"(?:last|final|letzte[nrs]?|derni(?:er|ère)|últim[ao]|ultim[ao]|laatste|sista|siste|sidste)\s+(?=\S)",
    re.IGNORECASE,
)
"""Before the name of a section that is played once more at the end."""
AGAIN_FROM = re.compile(
    r"(?:(?:and|then)\s+)?(?:(?:same|go (?:a)?round|round|repeat|play|take it|it all|all|wieder|"
    r"nochmal|encore|otra vez|de nuevo|ancora|di nuovo|opnieuw|igen)\s+)*(?:again\s+)?"
    r"(?=(?:from|von|ab|de|du|depuis|desde|da|dal|dalla|van|vanaf|från|fra|do|da)\s)",
    re.IGNORECASE,
)
"""Before a section from which all is played again."""
ABOVE = re.compile(
    rf"{_THE}(?P<name>[^\W\d_]{{2,14}}(?: \d)?) (?:above|oben|ci-dessus|de arriba|sopra|acima|"
    r"hierboven|ovan|ovenfor)\s+\S",
    re.IGNORECASE,
)
"""How a sentence begins that is about a section above ("The bridge above is just voice")."""
COUNTS = {
    "two": 2, "three": 3, "four": 4, "2": 2, "3": 3, "4": 4, "zwei": 2, "drei": 3, "vier": 4,
    "deux": 2, "trois": 3, "quatre": 4, "dos": 2, "tres": 3, "cuatro": 4, "due": 2, "tre": 3,
    "duas": 2, "dois": 2, "três": 3, "twee": 2, "drie": 3, "två": 2, "to": 2,
}  # fmt: skip
_SCANDINAVIAN = r"(?:mer|sis?d?ste|flere|omkv[æe]d|refr[æe]ng|vers(?:er)?\b|strofer|soloer)"
"""What stands behind "to" where it is a count: in English it leads to a section."""
COUNTED = re.compile(
    rf"{_THE}(?P<count>(?!to\s(?!{_SCANDINAVIAN}))(?:{'|'.join(COUNTS)}))\s+(?:more\s+|last\s+|further\s+|mehr\s+|weitere\s+|"
    r"autres\s+|derniers\s+|más\s+|altr[ie]\s+|outros\s+|till\s+)?(?=[^\W\d_])",
    re.IGNORECASE,
)
"""A count before the name of sections ("two more choruses")."""
SAID_FOR = re.compile(
    r"(?P<said>[^,;:()]{2,40}?)\s+(?:for|für|pour|para|per|voor|för|till)\s+"
    rf"{_THE}(?:(?:{_WHICH})\s+)?(?P<name>[^,;:()]{{1,24}})",
    re.IGNORECASE,
)
"""What is said of a section before its name ("up 2 semitones for the last chorus")."""
FROM_TOP = re.compile(r"d\.? ?c\.?|da capo", re.IGNORECASE)
OF_ONESELF = re.compile(r"I\s+[a-z]")
"""What a singer says of himself, and no intro."""
