"""What says on which chord a song ends ("end cold on G", "zum Schluss auf G", "kończymy na G"), in
the languages in which sheets are often written.  Source of the words: common practice, no source.
"""

import re
from dataclasses import dataclass

from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.sounds_said import may_be_said
from chartkit.theory.naming import LETTER_OF

PREPOSITIONS = (
    r"on|with|in|auf|mit|sur|avec|en|con|su|op|met|på|med|(?-i:em)|com|na|w|"
    r"(?-i:i)(?=\s+[A-H](?!\w))"
)
"""What stands between a word for the end and the chord; in a capital "Em" is a chord."""
_THEN = (
    r"and|und|et|och|og|then|dann|danach|puis|ensuite|luego|después|poi|dopo|daarna|dan|sen|"
    r"sedan|så|derefter|deretter|depois|potem|następnie|(?-i:y|e|en|i)"
)
_LEADS = rf"(?:{_THEN}|zum|am|im|we|all|wir|on|nous|si|se|vi|wij)"
_VERBS = (
    r"ends|finish(?:es)?|endet|enden|aufhören|fini[rt]|finissez|terminer|terminez|"
    r"acaba(?:r|mos)?|termina(?:r|mos|mo|re)?|cerrar|cerramos|cierra|finire|finisce|finiamo|"
    r"chiud(?:e|ere|i|iamo)|fecha(?:r|mos)?|encerra(?:r|mos)?|eindig(?:en|t)|afsluiten|slutar?|"
    r"avslutar?|slutter?|avslutter?|avslutte|slut(?:ter)? af|afslutte(?:r)?|kończymy|kończyć|"
    r"zakończyć|skończyć|končíme|leave it|let it (?:ring|hang)|leave it (?:ringing|hanging)|"
    r"stehen ?lassen|laisser sonner|dejar sonar|lasciare suonare|laten klinken"
)
"""Verbs that are said of the end alone."""
_NOUNS = (
    r"end|ending|schluss|ende|ausklang|abschluss|finale?|fine?|fim|cierre|remate|chiusura|slot|einde|"
    r"slutt?|avslutt?|afslut|afslutning|avslutning|koniec|zakończenie|konec|závěr"
)
_OTHER_VERBS = r"stops?|close|hold|land|out"
"""Verbs that are said of much else too."""
AT_THE_END = (
    r"at the (?:very )?end|zum (?:schlu(?:ss|ß)|abschluss)|am (?:ende|schluss)|à la fin|pour finir|"
    r"pour terminer|al final|para (?:terminar|acabar|cerrar|fechar)|no fim|no final|per (?:finire|"
    r"chiudere)|alla fine|om te eindigen|tot slot|till slut|til slutt?|na koniec|nakonec"
)
"""Words that begin what is said of the end of a song."""
_LAST_CHORD = (
    r"(?:(?:the|a)\s+)?(?:last|final|letzter?|dernier|último|ultimo|laatste|sista|siste|sidste|"
    r"ostatni)\s+(?:chord|hit|note|one|akkord|accord|acorde|accordo|akkoord|ackord)\s*"
    r"(?:is|:|=|ist|est|es|è|on)?\s*"
)
_CHORD = (
    r"(?:(?:Do|R[eé]|Mi|Fa|Sol|La|Si)[#b♯♭]?(?:\s?m(?:enor|ineur|inore)?)?7?(?![\w/])|"
    r"[A-H][^\s(),;]{0,9}(?:\s(?:major|minor|dur|moll|maj|min))?)"
)
_BETWEEN = rf"\s*(?:,|-+>|=+>|→|⇒|\s[-–—]\s|\s)\s*(?:(?:{_THEN})\s+)?"
_NEXT_CHORD = rf"{_BETWEEN}(?-i:[A-H])[^\s(),;]{{0,9}}"
_ENDS_ON = (
    rf"(?:(?P<lead>(?:{_LEADS}\s+)*)(?P<word>(?P<verb>{_VERBS})|(?P<noun>{_NOUNS})|{_OTHER_VERBS})"
    rf"[\s(:]+(?:it\s+|all\s+)?(?:(?P<how>[^\W\d_]+(?: [^\W\d_]+)?)\s+)?(?:{PREPOSITIONS})\s+|"
    rf"(?:(?:{_THEN})\s+)*(?P<phrase>{AT_THE_END})[\s:]+(?:(?:{PREPOSITIONS})\s+)?|"
    rf"{_LAST_CHORD})"
    r"(?:(?:an?|the|one|last|final|einem?|dem|un[ea]?|een|ett)\s+)*"
    r"(?P<kind>(?:(?:big|huge|long|short|held|open|low|high|loud|soft|quiet)\s+)*)"
    rf"(?P<chord>{_CHORD})"
)
_SAID = (
    r"(?:\s*[,;(]|\s+[-–—]|\s+(?:and|und|et|och|og|(?-i:y|e|en))(?=\s))\s*"
    r"(?P<said>[^\W\d][^()|]{1,60}?)\)?"
)
ENDS_ON = re.compile(rf"{_ENDS_ON}\)?", re.IGNORECASE)
"""The chord on which a song ends, and how ("end cold on G")."""
_AND_SAID = re.compile(rf"{_ENDS_ON}{_SAID}", re.IGNORECASE)
"""The same, and what is said of it."""
_AND_DIRECTION = re.compile(rf"{_ENDS_ON}\s+(?P<said>[^\W\d][^()|]{{1,60}})", re.IGNORECASE)
"""The same without a sign between, for words to the players alone ("end on G let ring")."""
_ON_SEVERAL = re.compile(
    rf"{_ENDS_ON}(?P<more>(?:{_NEXT_CHORD}){{1,5}})(?:{_SAID}|\)?)", re.IGNORECASE
)
"""The same on several chords ("finir sur F, C (ralentir)")."""
_CHORDS_APART = re.compile(rf"{_BETWEEN}(?=[A-H])")
_MODES = (
    (re.compile(r"\s(?:major|dur|maj)$", re.IGNORECASE), ""),
    (re.compile(r"\s(?:minor|moll|min)$", re.IGNORECASE), "m"),
)
_LONGEST = 100


@dataclass(frozen=True, slots=True)
class SongEnd:
    """How a song ends by some words: what they call its end ("End" where they do not), the chord
    or a row of chords, and what is said of it.  ``named`` says that they begin with a section's
    name, once without what leads to it, as ``bare`` has them; ``sure`` says that they are said of
    nothing else."""

    name: str
    chord: str
    said: str
    named: bool
    bare: str
    sure: bool


def song_end(text: str, is_chords: IsChords) -> SongEnd | None:
    """How a song ends by a text that says on which chord; None for any other text."""
    text = text.strip(" .!")
    if not text or len(text) > _LONGEST:
        return None
    match = ENDS_ON.fullmatch(text) or _AND_SAID.fullmatch(text) or _with_direction(text)
    several = _ON_SEVERAL.fullmatch(text)
    row = _row(several, is_chords) if several is not None else ""
    match = several if row else match
    chord = row or (_row(match, is_chords) if match is not None else "")
    if match is None or not chord:
        return None
    how = " ".join(filter(None, (match["how"], (match["kind"] or "").strip())))
    said = ", ".join(filter(None, (how, match.groupdict().get("said"))))
    word = match["noun"] or (match["phrase"] or "").rpartition(" ")[2]
    name = word if word and is_known_name(word) and match["verb"] is None else "End"
    bare = text[match.end("lead") :] if match["lead"] else text
    sure = bool(match["verb"] or match["phrase"] or match["noun"])
    named = bool(match["noun"]) and is_known_name(match["noun"])
    return SongEnd(name, chord, said, named, bare, sure)


def _with_direction(text: str) -> re.Match[str] | None:
    """The chord on which a song ends, with words to the players right behind it."""
    match = _AND_DIRECTION.fullmatch(text)
    return match if match is not None and may_be_said(match["said"]) else None


_BY_SYLLABLE = re.compile(
    r"(?P<note>Do|R[eé]|Mi|Fa|Sol|La|Si)(?P<sign>[#b♯♭]?)\s?(?P<mode>m(?:enor|ineur|inore)?)?(?P<more>7?)",
    re.IGNORECASE,
)


def by_letter(chord: str, is_chords: IsChords) -> str:
    """A chord that is named by a note's syllable ("fin sur Do") by its letter, where the sheet has
    letters: "Do" is no D with a small o there; any other as it is."""
    match = _BY_SYLLABLE.fullmatch(chord) if not is_chords("Sol") else None
    if match is None:
        return chord
    letter = LETTER_OF[match["note"].casefold()]
    return f"{letter}{match['sign']}{'m' * bool(match['mode'])}{match['more']}"


def _row(match: re.Match[str], is_chords: IsChords) -> str:
    """The chords that a match names, as a row; empty where one of them is none."""
    first = by_letter(match["chord"].rstrip(".!"), is_chords)
    for mode, sign in _MODES:
        first = mode.sub(sign, first)
    more = _CHORDS_APART.split(match.groupdict().get("more") or "")
    chords = [first, *(one.rstrip(".!") for one in more if one)]
    return " ".join(chords) if all(map(is_chords, chords)) else ""
