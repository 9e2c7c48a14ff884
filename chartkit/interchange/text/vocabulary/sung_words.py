"""Words and signs by which a line shows that it is sung."""

import re

from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES

HELD = re.compile(r"(?<!\S)_+(?!\S)|[^\W\d_]-(?: {2,}|$)| - (?=\S+ - )")
"""A syllable that is held, or split from the next."""
VOCALS = re.compile(
    r"(?:(?:o+h*|a+h*|u+h*|e+h|h?e+y|na+h?|la+|da|doo|dum|ba|sha|whoa|woah?|yeah|hm+|mm+|oo+|ooh+|"
    r"hej|ay|oi|li|lei|tra|fa|hoo|ho|ha)[\s,!.…–-]*)+",
    re.IGNORECASE,
)
"""Syllables that are only sung."""
SINGER = re.compile(
    r"\b(?:i|i'm|me|my|mine|you|your|she|he|her|his|love|ich|du|mein|dein|je|tu|mon|ton|yo|mi|"
    r"io|mio|jag|min|ik|jij|mijn)\b",
    re.IGNORECASE,
)
"""Words of somebody who sings, in the languages in which sheets are often written; no source."""
_UNSUNG = re.compile(
    r"(?:only |just |nur |seulement |solo )?"
    r"(?:instrument(?:al(?:ly|e|mente)?|aal)|instr(?:um)?|inst)(?: only)?|"
    r"(?:no|without|w/o) (?:singing|vocals?|vox|voices?|words|lyrics|talk(?:ing)?|speech)|"
    r"ohne (?:gesang|text|worte)|"
    r"sans (?:chant|voix|paroles)|sin (?:voz|letra|cantar|canto)|senza (?:voce|canto|parole)|"
    r"zonder (?:zang|tekst)|utan (?:sång|text)|ute?n sang|uden sang|sem (?:voz|letra)|"
    r"bez (?:śpiewu|zpěvu)",
    re.IGNORECASE,
)


_ONE_OF_THE_TIMES = re.compile(
    r"\d|\b(?:first|second|third|last|erste|zweite|letzte|première|deuxième|dernière|primera|segunda|"
    r"última|prima|seconda|ultima|eerste|tweede|laatste|första|andra|sista)",
    re.IGNORECASE,
)
"""How a remark speaks of one of the times."""


_WITH_VOICES = re.compile(
    r"\b(?:hum\w*|la[- ]la\w*|ooh?s?|aah?s?|scat\w*|whistle\w*|voices?|vocals?|sing\w*|summ\w*)\b",
    re.IGNORECASE,
)
"""How a remark speaks of voices that go on without words ("hum, no words")."""


def says_unsung(text: str) -> bool:
    """Whether what is said of a section begins with words for its being played without singing
    ("instrumental, 2nd time louder"), or has them behind a comma where it speaks of no single time
    ("piano alone, no words")."""
    first, *others = text.split(",")
    whole = _ONE_OF_THE_TIMES.search(text) is None and _WITH_VOICES.search(first) is None
    return is_unsung(first) or (whole and any(map(is_unsung, others)))


_OF_THE_WHOLE = re.compile(
    r"(?:(?:then|and|we)\s+)*(?:play|do|repeat|run|take|go\sthrough|sing)\s+(?:through\s+)?(?:the\s+)?"
    r"(?:whole|entire|full)\s+(?:thing|song|tune|form|lot|piece|sequence|progression)\b.*|"
    rf"(?:(?:das\s)?ganze|alles|tout(?:\sle\smorceau)?|todo(?:\sel\stema)?|tutto(?:\sil\sbrano)?|"
    rf"everything|the\swhole\s(?:thing|song|tune|form|lot))\s+(?:{ANY_TIMES})(?!\w).{{0,60}}",
    re.IGNORECASE,
)
"""How somebody says how often all of a song or a tune is played."""
_LONGEST_OF_THE_WHOLE = 120


def is_unsung(text: str) -> bool:
    """Whether a text says no more than that something is played without singing, or how often the
    whole song is played."""
    plain = text.strip(" .!()")
    whole = len(plain) <= _LONGEST_OF_THE_WHOLE and _OF_THE_WHOLE.fullmatch(plain) is not None
    return whole or _UNSUNG.fullmatch(plain) is not None


_SAID_ALOUD = re.compile(
    r"\s*(?:[(\[]\s*)?(?:half[- ]?|all )?(?:spoken|talked|talking(?: part)?|recited|narrated|"
    r"gesprochen|geredet|parlé|récité|hablado|recitado|falado|parlato|recitato|gesproken|talat|talt|tales|"
    r"mówione|mluvené)"
    r"(?!\s+(?:chorus|verse|intro|outro|bridge|refrain|break|part|section|word))(?!\w)",
    re.IGNORECASE,
)


def is_said_aloud(text: str) -> bool:
    """Whether a remark begins by saying that words are spoken and not sung ("spoken over the
    vamp")."""
    return _SAID_ALOUD.match(text) is not None
