"""Lines of tablature: strings with frets on them, which are no words and no chords."""

import re

_STRING = re.compile(r"(?:[eEADGBbd][#b]?\d?)?\s*[|:‖]?(?P<frets>[-|:‖0-9hpbrx/\\~()svt^*=. ]+)")
_BESIDE = re.compile(r"(?<=[-|])\s+(?:[<(*#]|//|[x×]\s?\d|\d\s?[x×]|[^\W\d_]{2}).*$")
"""What is said to the players behind a string."""
_FEWEST_DASHES = 4
_LONGEST = 400


def is_tablature(text: str) -> bool:
    """Whether a line is a string of tablature: dashes, frets and bar lines, and hardly else."""
    body = text.strip()[:_LONGEST]
    if body.count("-") < _FEWEST_DASHES:
        return False
    beside = _BESIDE.search(body)
    body = body[: beside.start()] if beside is not None else body
    found = _STRING.fullmatch(body)
    if found is None:
        return False
    frets = found["frets"]
    dashes = frets.count("-")
    return dashes * 2 >= len(frets) - frets.count(" ") and ("|" in body or body[:1].isalpha())


def remark_beside(text: str) -> str:
    """What is said behind a line of tablature; empty where nothing is."""
    found = _BESIDE.search(text.strip()[:_LONGEST])
    return found[0].strip(" <->()*#/") if found is not None else ""
