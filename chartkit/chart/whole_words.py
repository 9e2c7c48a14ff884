"""Words of one strike as they are read out: a word split into syllables there is whole."""

import re

_SPLIT_INSIDE = re.compile(r"(?<=\w)- (?=\w)")


def whole_words(text: str) -> str:
    """The text with words split inside it joined: "har- bour" is harbour.

    Without notes a hyphen only helps where a chord changes, so pages, texts and the road map all
    print such a word whole.
    """
    return _SPLIT_INSIDE.sub("", text)
