"""Lines of tablature: strings with frets on them, which are no words and no chords."""

_SIGNS = set("-|:0123456789hpbrx/\\~()svt^*= ")
_FEWEST_DASHES = 3


def is_tablature(text: str) -> bool:
    """Whether a line is a string of tablature: dashes, frets and bar lines, and hardly else."""
    body = text.strip().lstrip("eEADGBb")
    return body.count("-") > _FEWEST_DASHES and "|" in body and set(body) <= _SIGNS
