"""Lines about chords and strings that are not music: chords used, tunings, legends of shapes,
tablature.

Source of the words: common practice, no source.
"""

import re

from chartkit.interchange.text.quick_looks import kept
from chartkit.interchange.text.vocabulary.facts import names_a_fact

_FOR_THE_PLAYERS = re.compile(
    r"\(?(?:tuning|tuned|strumming|strum|picking|pattern|difficulty|level|album|year|style|groove|"
    r"feel|range|vocal range|instrument|guitar|stimmung|zupfmuster|schlagmuster|afinación|"
    r"accordage|tune|melody|melodie|mélodie|melodía|melodia|wijs|mel\.|"
    r"(?:all |the |used |main )?chords?(?: used| needed| list| shapes| in (?:this|the) "
    r"song)?(?: here)?|shapes|(?:verwendete |benutzte )?akkorde|accords(?: utilisés)?|"
    r"acordes(?: usados)?|accordi)"
    r"\s*[:=]\s*[^\s|][^|]*",
    re.IGNORECASE,
)
"""What stands above a song and is neither its title nor a name (common practice, no source)."""
_COUNT_IN = re.compile(
    r"\(?\s*(?:(?:count|counted)[ -]?(?:in|off)?\s*[:=]\s*\S.*|count[ -]?(?:in|off)\b.*|"
    r"(?:\d{1,2}|one|two|ein|zwei|un|deux|dos|due|en|två)\s+"
    r"(?:bars?|takte?|measures?|mesures?|compás|compases|battut[ae]|maat|maten|takter?|beats?)"
    r"(?:\s+of)?\s+(?:count[ -]?(?:in|off)|einzählen|vorzählen|de décompte|aftellen|"
    r"inräkning)\b.*|"
    r"(?:einzähler|vorzähler|anzähler|einzählen|vorzählen|décompte|cuenta|conteo|contagem|"
    r"conteggio|aftellen|aftikken|inräkning)\b\s*[:=]?\s*[\d(].*)\s*",
    re.IGNORECASE,
)
"""How a song is counted in."""
_FOOTNOTE = re.compile(r"\S{0,8}\*{1,3}\)?\s*(?:=|:)\s*\S.*|\*{1,3}\)?\s+\w.*")
"""What a star at a chord means."""
_FRETS = r"(?:[xX]|\d{1,2})(?:[- ]?(?:[xX]|\d{1,2})){5}"
_SHAPE = re.compile(
    rf"\s*(?P<chord>[A-H][^\s:=()]{{0,20}})\s*[:=]?\s*[(\[]?(?P<frets>{_FRETS})[)\]]?"
    r"(?:\s*[,;|]|(?=\s)|$)"
)
_HAS_FRETS = re.compile(r"[xX\d](?:[- ]?[xX\d]){5}")
_NOTE = re.compile(r"(?:notes?|n\.?b\.?|hinweis|nota)\s*:|(?:NB|N\.B\.)\s+\w", re.IGNORECASE)
_BEGINS_COUNT_IN = frozenset("(0123456789otedcuaviz")
_LONGEST = 200


@kept
def is_about_the_song(text: str) -> bool:
    """Whether a line tells something to the players that is no music, though it may name
    chords or notes."""
    return is_for_the_players(text) or names_a_fact(text) or bool(legend_pairs(text))


def says_note(text: str) -> bool:
    """Whether a line says of itself that it is a note."""
    return _NOTE.match(text) is not None


def is_for_the_players(text: str) -> bool:
    """Whether a line says a tuning, the chords used, a manner of picking and the like."""
    plain = text.strip() if len(text) <= _LONGEST else ""
    if "*" in plain and _FOOTNOTE.fullmatch(plain) is not None:
        return True
    if plain[:1].lower() in _BEGINS_COUNT_IN and _COUNT_IN.fullmatch(plain) is not None:
        return True
    return (":" in plain or "=" in plain) and _FOR_THE_PLAYERS.fullmatch(plain) is not None


def legend_pairs(text: str) -> list[tuple[str, str]]:
    """The chords and frets of a line that is nothing but these; none for any other line."""
    text = text.strip()
    if len(text) > _LONGEST or _HAS_FRETS.search(text) is None:
        return []
    collected: list[tuple[str, str]] = []
    at = 0
    while at < len(text):
        match = _SHAPE.match(text, at)
        if match is None:
            return []
        collected.append((match["chord"], match["frets"]))
        at = match.end()
    return collected


_STRING = re.compile(r"(?:[eEADGBbd][#b]?\d?)?\s*[|:‖]?(?P<frets>[-|:‖0-9hpbrx/\\~()svt^*=. ]+)")
_BESIDE = re.compile(r"(?<=[-|])\s+(?:[<(*#]|//|[x×]\s?\d|\d\s?[x×]|[^\W\d_]{2}).*$")
"""What is said to the players behind a string."""
_FEWEST_DASHES = 4
_LONGEST_STRING = 400


def is_tablature(text: str) -> bool:
    """Whether a line is a string of tablature: dashes, frets and bar lines, and hardly else."""
    if text.count("-") < _FEWEST_DASHES:
        return False
    body = text.strip()[:_LONGEST_STRING]
    beside = _BESIDE.search(body)
    body = body[: beside.start()] if beside is not None else body
    match = _STRING.fullmatch(body) if body.count("-") >= _FEWEST_DASHES else None
    if match is None:
        return False
    frets = match["frets"]
    dashes = frets.count("-")
    return dashes * 2 >= len(frets) - frets.count(" ") and ("|" in body or body[:1].isalpha())


def remark_beside(text: str) -> str:
    """What is said behind a line of tablature; empty where nothing is."""
    match = _BESIDE.search(text.strip()[:_LONGEST_STRING])
    return match[0].strip(" <->()*#/") if match is not None else ""
