"""Words of one strike as they are read out: a word split into syllables there is whole."""

import re

_SPLIT_INSIDE = re.compile(r"(?<=\w)- (?!(?:und|oder|sowie|och|eller)\b)(?=\w)", re.IGNORECASE)
"""A hyphen before these words stands for the rest of a word that is said once ("Vor- und
Nachteile").  English has none of them here: "thous- and" and "sail- or" are split words.
Source: common practice, no source."""


def whole_words(text: str) -> str:
    """The text with words split inside it joined: "har- bour" is harbour.

    Without notes a hyphen only helps where a chord changes, so pages, texts and the road map all
    print such a word whole.
    """
    return _SPLIT_INSIDE.sub("", text) if "- " in text else text
