"""Leaves out the controls and counters of a web page from which a text was copied.

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.wording import one_line

_LONGEST, _MOST_PARTS = 200, 12
_PARTS = re.compile(r"\s*[|·•»›/]\s*|\s{2,}|\t|(?<=[a-z])\.\s+")
_OBJECT = (
    r"(?:\s(?:this|the|your|a|diese[ns]?|cette|esta|questa|deze))?"
    r"(?:\s(?:page|song|sheet|chords?|lyrics|text|pdf|version|link|seite|lied|canción|canção|pagina|"
    r"página|chanson|brano))?"
)
_VERBS = (
    r"print|share|save|edit|copy|download|favourites?|favorites?|rate|like|"
    r"report(?: an? (?:error|mistake))?|(?:e-mail|email)(?: (?:this )?to (?:a )?friend)?|"
    r"send to (?:a )?friend|follow(?: us)?|subscribe|log in|login|log out|logout|sign in|signin|"
    r"sign up|signup|register|back to top|add to (?:favou?rites|playlist|list|my \w+)|font size|"
    r"auto-scroll|autoscroll|"
    r"drucken|teilen|speichern|herunterladen|merken|anmelden|nach oben|"
    r"imprimir|compartir|guardar|descargar|favoritos|compartilhar|baixar|salvar|"
    r"imprimer|partager|télécharger|enregistrer|favoris|haut de page|"
    r"stampa|condividi|scarica|salva|preferiti|afdrukken|delen|opslaan|skriv ut|dela|spara|"
    r"udskriv|del|gem"
)
_COUNTED = (
    r"views?|votes?|ratings?|comments?|likes?|downloads?|hits|shares?|stars?|aufrufe|kommentare?|"
    r"vistas|comentarios?|votos?|visualizações|comentários?|vues?|commentaires?|avis|"
    r"visualizzazioni|commenti|voti|reacties|weergaven|visningar|kommentarer|visninger"
)
_A_COUNT = rf"(?:\d[\d.,]*\s?[km]?\s(?:{_COUNTED})|(?:{_COUNTED})(?:\s?\(\d+\)|\s?:\s?\d+))"
_WHEN = (
    r"(?:last\s)?(?:updated?|edited|modified|uploaded|posted)(?:\s(?:on|by|:))?\s.{2,40}|"
    r"(?:zuletzt\s)?(?:aktualisiert|geändert)(?:\sam)?\s.{2,30}|"
    r"(?:última actualización|mis à jour|ultimo aggiornamento|senast ändrad).{2,30}"
)
_CONTROL = re.compile(rf"(?:{_VERBS}){_OBJECT}|{_A_COUNT}|{_WHEN}", re.IGNORECASE)
_SURE = re.compile(
    rf"{_A_COUNT}|{_WHEN}|(?:print|share|download|drucken|imprimir|imprimer|stampa)\s(?:this|the|"
    r"diese|esta|cette|questa)\s\w+|add to (?:favou?rites|playlist)|report an? (?:error|mistake)",
    re.IGNORECASE,
)
"""What no song sings, also alone on a line."""


def without_page_controls(lines: Numbered, findings: Findings) -> Numbered:
    """The lines, those emptied that hold nothing but controls and counters of a web page, with a
    finding at each."""
    kept: Numbered = []
    for number, line in lines:
        if _is_of_controls(line):
            findings.leave_out(
                "web-page", f'controls of a web page: "{one_line(line)}"', f"{number}:1"
            )
            line = ""
        kept.append((number, line))
    return kept


_FIRST = frozenset(
    form
    for word, may_lack in re.findall(r"([^\W\d_]+)(\??)", f"{_VERBS}|{_COUNTED}|{_WHEN}")
    for form in (word, word[:-1] if may_lack else word)
)
"""Words with which such a line begins, out of the patterns, and more; a quick look."""
_WORD = re.compile(r"[^\W\d_]+|\d")


def _is_of_controls(line: str) -> bool:
    first = _WORD.search(line, 0, _LONGEST)
    if first is None or not (first[0].isdigit() or first[0].casefold() in _FIRST):
        return False
    text = line.strip().strip("|·•»›[]. ")
    if not 4 < len(text) <= _LONGEST or not (" " in text or "|" in text):
        return False
    parts = [part.strip(" .[]") for part in _PARTS.split(text, maxsplit=_MOST_PARTS)]
    if len(parts) == 1:
        return _SURE.fullmatch(text) is not None
    return all(map(_CONTROL.fullmatch, filter(None, parts)))
