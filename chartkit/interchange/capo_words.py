"""The capo, or the tuning down, that a few words name ("Capo 3", "tuned down a half step")."""

from chartkit.interchange.compiled_later import CompiledLater
from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN, Capo, parse_capo

CAPO_NAME = r"[ck]apo(?:dast(?:er|ra?|re|ér)|tasto|traste)?|cejilla|cejuela|pesta[nñ]a"
"""What the capo is called in the languages in which sheets are often written."""
_COUNTED_IN_WORDS = (
    "one first ersten premier première primer primero primera prima primo eerste första første",
    "two second zweiten deuxième seconde segundo segunda secondo seconda tweede andra andet andre "
    "drugim",
    "three third dritten troisième tercer tercero tercera terzo terza terceiro derde tredje "
    "trzecim",
    "four fourth vierten quatrième cuarto cuarta quarto quarta vierde fjärde fjerde czwartym",
    "five fifth fünften cinquième quinto quinta vijfde femte piątym",
    "six sixth sechsten sixième sexto sesto zesde sjätte sjette",
    "seven seventh siebten septième séptimo settimo sétimo zevende sjunde syvende",
    "eight",
)
_COUNTED = {
    word: count for count, words in enumerate(_COUNTED_IN_WORDS, 1) for word in words.split()
}
_FRET = (
    r"frets?|bund|bünden|bånd(?:et)?|band(?:et)?|traste|casa|case|tasto|tast|próg|progu|progiem|"
    r"vak(?:je)?|pražec|pražci|position|posizione|posición|posição|pozycj[ai]|nauha"
)
"""What a fret is called."""
_THE = r"the|el|la|le|il|de|het|den|det|dem|der|o|a"
_GUITAR = (
    r"(?:(?:(?:(?:acoustic|electric|rhythm|lead|nylon|steel)\s+)?guitars?|gtrs?\.?|git(?:arren?)?\.?|"
    r"guitares?|guitarras?|chitarra)\s*[:,–-]?\s+)?"
)
_CAPO_BEHIND = CompiledLater(r"\(?(\d{1,2})(?:st|nd|rd|th)?(?:\s+fret)?\s+capo\)?")
_CAPO = CompiledLater(
    rf"\(?{_GUITAR}"
    r"(?:(?:use|put|with|needs?|set|place|mit|avec|con|met)\s+(?:an?\s+|the\s+|your\s+)?)?"
    rf"(?:{CAPO_NAME}|cap(?=\.|\s?\d)|cp(?=\.?\s?\d))\.?\s*"
    rf"(?:(?:at|on|in|im|am|en|na|w|op|på|i|au|à|sul|al)\b|[@:=])?\s*(?:(?:{_THE})\s+)?"
    rf"(?:(?:{_FRET})\s*)?(?:#\s?|nr\.?\s?|no\.?\s)?"
    rf"(\d{{1,2}}|none|no|[ivx]{{1,4}}\b|(?:{'|'.join(_COUNTED)})\b)"
    r"(?:st|nd|rd|th|do|da|ro|ra|to|ta|er|re|de|te|ste|\.|º|°|ª|:a|:e|e|ème|a|o)?\s*"
    rf"(?:{_FRET})?\)?"
    r"(?:,?\s+(?:please|pls|plz|everybody|everyone|all|bitte|alle|por favor|graag))?!*"
    r"(?P<more>\s*\([^()]*\)|\s*=\s*[A-H][#b♯♭]?m?)?"
)
_NO_CAPO = CompiledLater(
    r"\(?(?:no capo|capo off|without (?:a )?capo|"
    r"(?:ohne|kein(?:en)?|bez|uden|utan|uten|ingen|zonder|geen|sans|pas de|senza|nessun|sem|sin) "
    rf"(?:{CAPO_NAME})|(?:sin|nada de) cejilla|(?:{CAPO_NAME}):? (?:none|off|no))\)?"
)
_ROMAN = {"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8, "ix": 9}
_DOWN = {
    "a half step": 1,
    "half a step": 1,
    "1/2 step": 1,
    "a whole step": 2,
    "a step and a half": 3,
    "two whole steps": 4,
}
_TUNED_DOWN = CompiledLater(
    r"(?:(?:guitars? )?tuned? down|tuning:? down|down) "
    rf"(?P<how>{'|'.join(_DOWN)}|(?P<steps>\d) half steps?)"
)
_ONE_LOWER = CompiledLater(
    r"(?:(?:all )?(?:guitars? )?(?:tuned? |tuning:? ?)?(?:a |1 )?(?:half(?: a)?|1/2|½)[- ]?step "
    r"(?:down|lower|flat)(?: \(e ?(?:b|♭|flat))?"
    r"|(?:guitars? )?(?:tuned? |tuning:? ?)(?:down )?(?:to |in )?e ?(?:b|♭|flat)"
    r"|e ?(?:b|♭|flat)(?: standard)? tuning"
    r"|(?:gitarren? )?(?:alles )?(?:einen? )?(?:halbton|halben ton) tiefer(?: gestimmt| stimmen)?"
    r"|(?:accordé )?(?:un )?(?:demi|1/2)[- ]ton (?:plus bas|en dessous)"
    r"|(?:afinad[oa] )?(?:un )?(?:medio tono|semitono|meio tom) (?:abajo|más bajo|abaixo)"
    r"|(?:een )?(?:halve toon|1/2 toon) (?:lager|omlaag)(?: gestemd)?)"
)
_TWO_LOWER = CompiledLater(
    r"(?:guitars? )?(?:tuned? |tuning:? ?)?(?:a |1 )?(?:whole|full)[- ]?step (?:down|lower)"
    r"|(?:tuned? (?:to )?)?d standard(?: tuning)?"
    r"|(?:einen )?ganzton tiefer(?: gestimmt)?|un tono (?:abajo|plus bas)|(?:een )?hele toon lager"
)
"""How it is said that all strings are a half or a whole step lower; common practice, no source."""


def capo_of_words(text: str) -> int | None:
    """The fret that words which are all about the capo name; below zero for a guitar tuned down,
    0 for no capo.  None for other words and for a fret out of reach."""
    if _NO_CAPO.fullmatch(text) is not None:
        return 0
    if (capo := _CAPO.fullmatch(text) or _CAPO_BEHIND.fullmatch(text)) is not None:
        said = capo[1].lower()
        fret = int(said) if said.isdecimal() else (_ROMAN | _COUNTED).get(said, 0)
        return fret if fret <= HIGHEST_CAPO else None
    if (down := _TUNED_DOWN.fullmatch(text)) is not None:
        steps = int(down["steps"] or _DOWN.get(down["how"].lower(), 0))
        return -steps if 0 < steps <= MOST_TUNED_DOWN else None
    for lower, steps in ((_ONE_LOWER, 1), (_TWO_LOWER, 2)):
        if lower.fullmatch(text.strip(" ()")) is not None:
            return -steps
    return None


_SHORT_CAPO = CompiledLater(r"\(?capo\.?\s+(?P<capo>[^()]{1,40})\)?")


def short_capo_of_words(text: str) -> Capo | None:
    """The capo over some strings that words are all about ("Capo 2 over strings 5 to 3"); None for
    any other words."""
    if (said := _SHORT_CAPO.fullmatch(text.strip())) is None:
        return None
    try:
        capo = parse_capo(said["capo"].strip())
    except ValueError:
        return None
    return capo if capo.strings else None


def capo_in_words(text: str) -> int:
    """The capo that words are all about; 0 for any other words."""
    return capo_of_words(text.strip()) or 0
