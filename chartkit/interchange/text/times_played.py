"""How often something is played: "x2", "twice", "zwei mal".

Source of the words, in the languages in which sheets are often written: common practice, no
source.
"""

import re

_TIMES_IN_WORDS = {
    "once": 1,
    "twice": 2,
    "bis": 2,
    "zweimal": 2,
    "dreimal": 3,
    "viermal": 4,
    "two times": 2,
    "three times": 3,
    "four times": 4,
    "five times": 5,
    "six times": 6,
    "eight times": 8,
    "dos veces": 2,
    "tres veces": 3,
    "deux fois": 2,
    "trois fois": 3,
    "due volte": 2,
    "tre volte": 3,
    "duas vezes": 2,
    "três vezes": 3,
    "twee keer": 2,
    "drie keer": 3,
    "två gånger": 2,
    "tre gånger": 3,
    "to ganger": 2,
    "tre ganger": 3,
    "to gange": 2,
    "dwa razy": 2,
    "trzy razy": 3,
    "zwei mal": 2,
    "drei mal": 3,
}
_ANY_WORD = "|".join(sorted(map(re.escape, _TIMES_IN_WORDS), key=len, reverse=True))
_TIMES = (
    r"(?:(?:repeat|play|rep\.?|wdh\.?)\s*)?"
    r"(?:[x×]\s*{times}|{many}\s*(?:[x×](?![^\W\d_])|(?:times|mal|veces|fois|volte|vezes|keer|gånger|ganger|gange|razy)\b)"
    r"|{word})"
)
ANY_TIMES = _TIMES.format(times=r"\d+", many=r"\d+", word=rf"(?:{_ANY_WORD})\b")
NAMED_TIMES = _TIMES.format(
    times=r"(?P<times>\d{1,2})", many=r"(?P<many>\d{1,2})", word=rf"(?P<word>{_ANY_WORD})\b"
)
_TIMES_ALONE = re.compile(rf"[(\[]?\s*{NAMED_TIMES}\s*[)\]]?[.!]?", re.IGNORECASE)
MOST_TIMES = 99
ONCE_MORE = (
    r"(?:(?:the )?same(?: (?:again|as before|as above|chords))?|again|once (?:more|again)|"
    r"one more time|"
    r"(?:as|like) (?:before|above)|repeat|rep\.?|rpt\.?|ditto|dito|idem|"
    r"noch ?mal|noch einmal|nochmals|wdh\.?|wiederholen|wie (?:oben|vorher|zuvor|gehabt)|gleich|"
    r"nogmaals|nog (?:een keer|eens)|opnieuw|weer|herhaal|herhalen|zelfde|hetzelfde|als boven|"
    r"encore(?: une fois)?|pareil|comme (?:avant|ci-dessus|au début)|"
    r"otra vez|de nuevo|una vez más|igual(?: que antes)?|se repite|repetir|repite|"
    r"di nuovo|ancora(?: una volta)?|ripeti|ripetere|come (?:sopra|prima)|uguale|"
    r"de novo|outra vez|mais uma vez|repete|como antes|"
    r"igen|en gång till|samma(?: igen)?|igjen|en gang til|samme(?: igjen)?|jeszcze raz)"
)
"""Words behind the name of a section that say it is played again."""
_LONGEST_LINE = 120


def times_of(text: str) -> int:
    """How often something is played by words that say no more ("x2", "twice"); 0 for others."""
    match = _TIMES_ALONE.fullmatch(text.strip()) if len(text) <= _LONGEST_LINE else None
    return times_in(match) if match is not None else 0


def times_in(match: re.Match[str]) -> int:
    """How often a section is played, as its heading says it."""
    if match["word"]:
        return _TIMES_IN_WORDS[match["word"].lower()]
    return times_from(match["times"] or match["many"])


def times_from(text: str | None) -> int:
    """How often something is played by a number typed for it; once where none was."""
    return max(1, min(MOST_TIMES, int(text))) if text else 1
