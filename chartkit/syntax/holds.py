"""Messages for holds without a space beside them: C_, _F, __, _!."""

import re

from chartkit.syntax.symbol import NotAChord, chord_or_none

_PIECES = re.compile(r"_|[^_]+")
_SLASHES = re.compile(r"/+(?:[A-G][#b♯♭]?)?")


def hold_without_space(text: str) -> NotAChord | None:
    """Why a word with an underscore is not a hold, and what was meant; None if it contains neither
    a hold nor a chord."""
    pieces = _PIECES.findall(text)
    if "_" not in pieces:
        return None
    if text.strip("_") == "":
        return _not_alone(text, *_not_single(text))
    if text[-1] in "!~<>" and text.strip("_!~<>") == "":
        return _not_alone(
            text,
            f'a hold is not struck, so "{text[-1]}" does not go with it',
            f'the chord struck again: "C{text[-1]}"'
            if text[-1] in "!~"
            else 'a chord struck early, before its beat: "<C"',
        )
    if all(piece == "_" or _SLASHES.fullmatch(piece) or chord_or_none(piece) for piece in pieces):
        return _not_alone(
            text,
            f'the hold in "{text}" does not stand alone',
            f'held for a beat: "{" ".join(pieces)}"; for a part of a beat: "{",".join(pieces)}"',
        )
    return None


def _not_single(text: str) -> tuple[str, str]:
    if len(text) > 1:
        return f'"{text}" is not a hold', (
            'a hold is a single "_": "_ _" for two beats, "_,_" for two parts of one'
        )
    return "a held beat cannot be pushed, stopped or left to ring", (
        'it stands alone, between blanks or commas: "C _ / /", "C,_,/"'
    )


def _not_alone(text: str, message: str, hint: str) -> NotAChord:
    return NotAChord("hold-not-alone", 0, len(text), message, (hint,))
