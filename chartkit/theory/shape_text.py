"""Shapes as text: ``x32010``, and ``x-10-12-12-11-x`` where a fret has two digits."""

import re

Frets = tuple[int | None, ...]
"""A fret for each string from the bass side, counted from the capo; None is muted."""

_BARE = re.compile(r"[xX\d]+")
_HYPHENED = re.compile(r"(?:[xX]|\d{1,2})(?:-(?:[xX]|\d{1,2}))+")


def shape_text(frets: Frets) -> str:
    """The shape from the bass side: a digit a string, x for muted, hyphens past fret 9."""
    words = ["x" if fret is None else str(fret) for fret in frets]
    return ("-" if any(len(word) > 1 for word in words) else "").join(words)


def parse_shape(text: str) -> Frets:
    """The frets of a shape such as ``320003`` or ``x-10-12-12-11-x``.

    Raises ValueError in plain words for anything else.
    """
    text = text.strip()
    if _HYPHENED.fullmatch(text):
        words = text.split("-")
    elif _BARE.fullmatch(text):
        words = list(text)
    else:
        raise ValueError(
            f'"{text}" is not a shape: write a fret for each string from the bass side, '
            "x for a muted one, such as x32010 or x-10-12-12-11-x"
        )
    return tuple(None if word in "xX" else int(word) for word in words)
