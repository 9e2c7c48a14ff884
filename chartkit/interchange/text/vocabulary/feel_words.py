"""How a song goes, behind a label: "Tempo: slow", "Style: campfire, not too fast".

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re

from chartkit.interchange.text.quick_looks import BeginsWithWord
from chartkit.interchange.text.vocabulary.manners import says_feel

_LABEL = BeginsWithWord(
    r"\s*(?:feeling|feel|style|groove|vibe|mood|tempo|speed|pace|stil|stilrichtung|stile|estilo|"
    r"ritmo|rythme|rytm|rhythmus|gefühl|geschwindigkeit|velocidad|velocità|vitesse|andamento|stijl|"
    r"snelheid|hastighet)(?:\s*[:=]\s*|\s+is\s+)(?=[^\W\d_(])",
)
_BARE_LABEL = re.compile(r"\s*(?:tempo|speed|feel)\s+(?=[^\W\d_])", re.IGNORECASE)
_ASKED = re.compile(
    r",?\s+(?:please|pls|plz|bitte|por favor|s['’]il (?:te|vous) plaît|per favore|graag)[.!]*$",
    re.IGNORECASE,
)
_LONGEST, _MOST_WORDS = 60, 6
"""What is longer behind a label is more than how a song goes (ours)."""


def labelled_feel(text: str) -> str:
    """How a song goes, by a line that says it behind a label; empty for any other line, also where
    figures stand in it, as those are a tempo or a meter."""
    label = _LABEL.match(text) if len(text) <= _LONGEST else None
    value = text[label.end() :].strip(" .") if label is not None else ""
    plain = 0 < len(value.split()) <= _MOST_WORDS and ":" not in value and "=" not in value
    return value if plain and not any(map(str.isdigit, value)) else ""


def plain_feel(text: str) -> str:
    """How a song goes, by words for it with or without a label before them, and without the word
    that asks for it ("Slow, please"); empty where they say something else."""
    text = _ASKED.sub("", text) if len(text) <= _LONGEST else text
    if value := labelled_feel(text):
        return value
    bare = _BARE_LABEL.match(text)
    if bare is not None and says_feel(text[bare.end() :]):
        return text[bare.end() :].strip()
    return text.strip() if says_feel(text) else ""


def feel_and_more(text: str) -> str:
    """How a song goes, by a line below its title that begins with words for it and goes on behind a
    comma in small letters ("ruhig, nicht hetzen"); empty for any other line."""
    first, *more = text.split(",") if len(text) <= _LONGEST else ("",)
    few = len(text.split()) <= _MOST_WORDS and not any(map(str.isdigit, text))
    small = more and all(part.strip() and part.islower() for part in more)
    return text.strip() if few and small and says_feel(first.strip()) else ""
