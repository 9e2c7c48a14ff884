"""What is said of one section by the name of another ("harmonia da Parte A", "over the head, then
trade fours"): the music that a section without its own has, whatever the other words are.

Source of the words that say when, not what: common practice, no source.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.text.vocabulary.bar_words import BARS
from chartkit.interchange.text.vocabulary.directions import count_words
from chartkit.interchange.text.vocabulary.section_names import (
    SUNG_OR_SAID,
    full_name_at,
    is_known_name,
    may_name_a_section,
    section_key,
)

_LONGEST = 120
_BEGINNING = re.compile(
    r"(?:the\s+)?(?:beginning|start|top)\b|(?:am\s+)?anfang\b|(?:au\s+)?début\b|"
    r"(?:el\s+|al\s+)?principio\b|(?:all['’])?inizio\b|(?:no\s+)?começo\b|(?:het\s+)?begin\b|"
    r"(?:i\s+)?början\b",
    re.IGNORECASE,
)
"""The first section, as words speak of it behind "like" and its kin."""
_SOME_BARS = re.compile(
    r"(?:last|first|letzte[ns]?|ersten?|dernières?|premières?|últim[oa]s|primer[oa]s|ultime|prime|"
    r"laatste|eerste|sista|första)\s+(?:\d{1,2}|two|four|eight|zwei|vier|acht)\s+"
    rf"{BARS}\b",
    re.IGNORECASE,
)
"""A few bars of a section are not its music."""
_LETTERED = re.compile(
    r"([A-H]\d?)(?:[- ](?:section|part|teil|parte?|partie|deel|del)\b)|"
    r"(?:section|part|teil|parte?|partie|deel|del|letter)\s+([A-H]\d?)(?!\w)",
    re.IGNORECASE,
)
"""A section that is called by a letter, as words speak of it."""
_MOST_NAMES = 200
_MOST_WORDS_OF_A_NAME = 3
_LONGEST_SMALL_WORD = 4
_BASE = re.compile(r"[^\W\d_]{4,}")
_LONGEST_ENDING, _SHORTEST_STEM = 3, 4
"""A form of a name differs from it by a few letters at its end (ours)."""
_WORD = re.compile(r"[^\W_]+(?:['’](?=[^\W\d_]))?")
_WHEN_IN_WORDS = """
after before into until till unlike without no not than instead towards toward leading leads bis
nach vor ohne zum zur statt après avant jusque jusqu sans vers después antes hasta sin hacia
depois até sem para dopo fino senza verso tot na voor zonder naar efter före innan till utan før
til uten uden po przed bez then to dann puis luego poi daarna sedan
"""
_WHEN = frozenset(_WHEN_IN_WORDS.split())
"""Words before a section's name that say when, and not whose music."""
_BETWEEN_IN_WORDS = """
the a an this that each every last first final second next and der die das den dem des letzten
ersten el la los las lo al del le les l d du de un une o os as à il lo gli i un uno una het een
den det
"""
_BETWEEN = frozenset(_BETWEEN_IN_WORDS.split())
"""Words that may stand between such a word and the name."""
_WHOSE_IN_WORDS = """
kao ako ca jako same like as over on cima encima nad på sul sulla sullo sugli akordach reprise
reprendre chords changes harmony melody music tune form pattern progression uses repeat gleich
gleiche gleichen wie über akkorde harmonie harmonien harmonia harmonía armonia acordes accords
accordi akkoorden ackord akkorder akordy como igual sobre comme même mêmes sur come stesso stessa
stessi sopra sui zelfde als over op som samma samme över jak jako base
"""
_WHOSE = frozenset(_WHOSE_IN_WORDS.split())
"""Words that say whose music is played."""
_PLAYS_IN_WORDS = """
play plays playing spelar spiller spielt spielen joue jouent toca tocan tocam suona suonano speelt
spelen soittaa gra grają hraje takes nimmt prend
"""
_PLAYS = frozenset(_PLAYS_IN_WORDS.split())
"""Verbs behind a player: "the fiddle plays the verse"."""


def section_named_in(text: str, names: Sequence[str]) -> str:
    """The first of some earlier sections that a text names; empty where it names none, or only
    says when something is played ("after the bridge")."""
    if not names or len(text) > _LONGEST or _SOME_BARS.search(text) is not None:
        return ""
    return place_and_name(text, names)[1]


def place_and_name(text: str, names: Sequence[str]) -> tuple[int, str]:
    """Where a text names one of some earlier sections first, and which; an empty name for none."""
    words = [(match.start(), match[0].casefold().strip("'’")) for match in _WORD.finditer(text)]
    for at, (start, word) in enumerate(words):
        name = _name_at(text, start, names)
        if not name and _says_whose(words, at):
            first = names[-1] if _BEGINNING.match(text, start) else ""
            name = first or inflected(word, names)
        if name and not (word in SUNG_OR_SAID and not _says_whose(words, at)):
            return (start, "") if _says_when(words, at) else (start, name)
    return 0, ""


def name_and_other(text: str, names: Sequence[str]) -> tuple[str, str, str]:
    """The name with which a line begins, the section whose music it has by the words behind that
    ("Sanfona em cima da Parte B"), and what else is said; empty for any other line."""
    if not names or len(text) > _LONGEST or not says_whose(text):
        return "", "", ""
    start, other = place_and_name(text, names)
    leading = text[:start].split()
    first = next((i for i, word in enumerate(leading) if i and _leads(word)), 0)
    whose = first and says_whose(" ".join(leading[first:]))
    said = count_words(" ".join(leading[:first]))
    plain = said.known == said.strong or is_known_name(" ".join(leading[:first]))
    whose = whose and plain  # no section is called "All" or "Then"
    if (
        not other
        or not whose
        or first > _MOST_WORDS_OF_A_NAME
        or not (text[0].isupper() or is_known_name(" ".join(leading[:first])))
    ):
        return "", "", ""
    comma = re.search(r"[,;(]|\s[-–—]\s", text[start:])
    if comma is None and len(text[start:].split()) > _MOST_WORDS_OF_A_NAME:
        return "", "", ""
    more = text[start + comma.end() :].strip(" ().") if comma is not None else ""
    return " ".join(leading[:first]), other, more


def _leads(word: str) -> bool:
    """Whether a word may stand between a name and that of another section."""
    return word.casefold() in _WHOSE or (word.islower() and len(word) <= _LONGEST_SMALL_WORD)


_NUMBER_BEHIND = re.compile(
    r"(?:the|la|el|le|il|lo|a|o|à|al|ao|die|der|das|de|het|den|det|l['’])?\s*"
    r"(?P<number>\d{1,2}\s?(?:[.ªºa-z°]{0,3})|[^\W\d_]{3,10})",
    re.IGNORECASE,
)
_LITTLE = frozenset(["que", "a", "the", "of", "de", "da", "do", "della", "del", "des", "du", "von"])


def number_meant(text: str, own: str) -> tuple[str, str]:
    """The kind and the number of the section of its own kind that words name by a number alone
    ("como a 1ª" of a third verse, "same as the first"); empty for any other words."""
    words, own = text.strip(" ().").split(), own.partition("(")[0]
    first = next((at for at, word in enumerate(words) if word.casefold() in _WHOSE), None)
    base = next((word for word in reversed(own.split()) if word.isalpha() and len(word) > 1), "")
    if first is None or not base or len(words) > _MOST_WORDS_OF_A_NAME + 2:
        return "", ""
    while first + 1 < len(words) and words[first + 1].casefold() in _WHOSE | _LITTLE:
        first += 1
    match = _NUMBER_BEHIND.fullmatch(" ".join(words[first + 1 :]))
    if match is None:
        return "", ""
    said = match["number"].strip()
    keys = (section_key(text) for text in (f"{said} {base}", f"{base} {said}"))
    kind = section_key(own)[0]
    return next((key for key in keys if key[1] and key[0] == kind), ("", ""))


def says_whose(text: str) -> bool:
    """Whether a text has a word that says whose music is played."""
    return any(word.casefold() in _WHOSE for word in _WORD.findall(text))


def _name_at(text: str, start: int, names: Sequence[str]) -> str:
    """The earlier section whose name stands at a place of a text."""
    if (letter := _LETTERED.match(text, start)) and (letter[1] or letter[2]) in names:
        return letter[1] or letter[2]
    here = text[start:].casefold()
    names = [*dict.fromkeys(names[:_MOST_NAMES])]
    bare = {one.casefold().rstrip("0123456789 "): one for one in reversed(names)}
    whole = {one.casefold(): one for one in names}
    for forms in (whole, bare):  # "Lantern" for "Lantern 1"
        for one in sorted(forms, key=len, reverse=True):
            if len(one) > 1 and here.startswith(one) and not here[len(one) :][:1].isalnum():
                return forms[one]
    end = full_name_at(text, start) if may_name_a_section(text[start:]) else start
    called = text[start:end].strip()
    key = section_key(called) if called else ("", "")
    alike = [name for name in names if section_key(name)[0] == key[0]] if called else []
    if not alike or not is_known_name(called):
        return ""
    numbered = [name for name in alike if section_key(name)[1] == key[1]]
    return numbered[0] if numbered else alike[0]


def inflected(word: str, names: Sequence[str]) -> str:
    """The earlier section of which a word is another form ("introt", "zwrotki")."""
    if word in _WHOSE:
        return ""  # "chords" is no form of "chorus"
    for name in names[:_MOST_NAMES]:
        base = _BASE.match(name.casefold())
        if base is None or len(word) > len(base[0]) + _LONGEST_ENDING:
            continue
        stem = base[0][: max(_SHORTEST_STEM, len(base[0]) - 2)]
        if word.startswith(stem):
            return name
    return ""


def _says_when(words: Sequence[tuple[int, str]], at: int) -> bool:
    """Whether the word before a name, but for articles, says when."""
    before = [word for _, word in words[:at]]
    while before and before[-1] in _BETWEEN:
        before.pop()
    return bool(before) and before[-1] in _WHEN


def _says_whose(words: Sequence[tuple[int, str]], at: int) -> bool:
    return any(word in _WHOSE for place, (_, word) in enumerate(words) if place != at) or any(
        word in _PLAYS for _, word in words[:at]
    )


_CHORDS = (
    r"(?:chords?|changes|akkorde|accords|acordes|accordi|akkoorden|ackord(?:en)?|akkorder|akordy)"
)
_NOT_KNOWN = (
    r"(?:(?:nobody|no one|no-one) (?:knows|remembers|has|wrote|can remember)|"
    r"(?:don['’]?t|do not|didn['’]?t|can['’]?t|haven['’]?t|never) "
    r"(?:know|remember|have|get|got|recall|learnt?|wrote)|(?:i|we)['’]ve no|no idea of|forgot|"
    r"niemand (?:weiß|kennt|hat)|(?:kenne?n?|weiß) (?:ich|wir|keiner|niemand)|"
    r"(?:personne|on) ne (?:sait|connaît|se souvient)|nadie (?:sabe|recuerda|conoce)|"
    r"no (?:sé|sabemos|tengo)|nessuno (?:sa|ricorda|conosce)|ninguém (?:sabe|lembra)|"
    r"niemand (?:weet|kent)|ingen (?:vet|kan|minns|kender|husker)|nikt nie (?:zna|pamięta))"
)
_ARE_UNKNOWN = (
    r"(?:unknown|missing|lost|forgotten|to come|to follow|tbc|tba|not known|never written|yet to|"
    r"weiß (?:keiner|niemand)|fehlen|unbekannt|folgen|inconnus|manquent|oubliés|desconocidos|"
    r"faltan|sconosciuti|mancano|ontbreken|onbekend|saknas|okända|mangler|ukendte|nieznane)"
)
_NONE_YET = (
    rf"(?:no|keine|pas d['’]|sin|senza|geen|inga|ingen|brak) ?{_CHORDS} "
    r"(?:yet|known|bekannt|encore|todavía|aún|ancora|än|ennå)"
)
_UNKNOWN = re.compile(
    rf"{_NOT_KNOWN}\W+(?:\w+\W+){{0,4}}{_CHORDS}|"
    rf"{_CHORDS}\W+(?:\w+\W+){{0,2}}{_ARE_UNKNOWN}|{_NONE_YET}",
    re.IGNORECASE,
)
_LONGEST_UNKNOWN = 160


def says_chords_unknown(text: str) -> bool:
    """Whether a remark says that nobody knows the chords of a section, so that it has none of
    another's."""
    return len(text) <= _LONGEST_UNKNOWN and _UNKNOWN.search(text) is not None


_FREE = (
    r"(?:totally |completely |all |ganz |total )?"
    r"(?:free(?:ly)?(?: (?:form|time|jam|improv\w*|for all))?|free[- ]for[- ]all|frei(?:e \w+)?|"
    r"libre|liber[oa]|livre|vrij|fritt|fri|swobodnie)"
)
_NO_CHANGES = (
    r"(?:no|without|keine|ohne|sans|pas d['’]|sin|senza|sem|geen|zonder|inga|utan|ingen|uten|uden|"
    rf"bez) ?(?:{_CHORDS}|key|form|harmony|tonart|tonalité|tonalidad|tonalità|toonsoort)"
)
_OF_BEATS = (
    r"(?:drum(?:s|mer)?|perc(?:ussion|\.)?|claps?|hand ?claps|clapping|stomps?|congas?|bongos|"
    r"djembe|"
    r"caj[oó]n|washboard|spoons|bones|tambourine|shakers?|beatbox|feet|schlagzeug|trommeln?|klatschen|"
    r"batterie|percussions|tambours?|batería|percusi[oó]n|palmas|batteria|percussioni|mani|bateria|"
    r"percussão|slagwerk|trommels?|klappen|trummor|slagverk|klapp|trommer|slagtøj|perkusja|bębny)"
)
_ONLY_BEATS = (
    rf"(?:only |just |nur |solo |sólo |só |alleen |bara |kun |tylko )?{_OF_BEATS}"
    rf"(?:(?: ?(?:[,+&/]|and|und|et|y|e|en|och|og|i) ?){_OF_BEATS})*"
    r"(?: (?:only|alone|solo|allein|nur|seule?s?|sol[oa]s?|só|alleen|ensamt?|alene))?"
)
_NONE_THERE = re.compile(
    rf"(?:{_FREE}|{_ONLY_BEATS})(?=\s*(?:$|[,;.:(–-]))|.{{0,40}}\b{_NO_CHANGES}\b", re.IGNORECASE
)


def says_no_chords(text: str) -> bool:
    """Whether a remark says that a section has no chords of its own or of others: it is free, or
    only drums and hands are heard ("free, drums cue the end", "drums only, 8 bars")."""
    return _NONE_THERE.match(text.strip(" ()")) is not None
