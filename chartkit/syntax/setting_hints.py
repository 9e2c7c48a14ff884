"""Hints at what the value of a setting was probably meant to be."""

import re
from collections.abc import Callable, Iterator

from chartkit.chart.model import SettingName
from chartkit.syntax.foreign_names import key_from_syllables
from chartkit.syntax.symbol import chord_or_none, likely_meaning
from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN
from chartkit.theory.key import UnknownMode, parse_key
from chartkit.theory.naming import note_from_german
from chartkit.theory.pitch import parse_range
from chartkit.theory.shape_text import parse_shape, shape_text
from chartkit.typed_values import meant_choice

_GERMAN_KEY = re.compile(r"([A-Ha-h])(is|es|s)?(?:[\s-]*(dur|moll))?", re.IGNORECASE)
_NUMBERS = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_METERS = {
    "c": "4/4",
    "common": "4/4",
    "common time": "4/4",
    "cut": "2/2",
    "cut time": "2/2",
    "c|": "2/2",
    "¢": "2/2",
    "alla breve": "2/2",
    "waltz": "3/4",
}
"""Names and signs of meters (common practice, no source)."""


def value_hints(name: SettingName, text: str, reason: ValueError) -> tuple[str, ...]:
    """Hints for a value that the setting cannot have; none if nothing is likely."""
    reader = _HINTS.get(name)
    return tuple(reader(text, reason)) if reader is not None else ()


def key_hint(text: str) -> str:
    """A hint for a text that is not a key; empty if nothing is likely, or if it is one."""
    try:
        parse_key(text)
    except ValueError as reason:
        return next(_key(text, reason), "")
    return ""


def _key(text: str, reason: ValueError) -> Iterator[str]:
    if isinstance(reason, UnknownMode) and reason.suggestion:
        yield f'did you mean "{reason.suggestion}"?'
    elif german := german_key(text):
        yield f'"{text}" is written "{german}" here'
    elif _is_key(latin := key_from_syllables(text)):
        yield f'"{text}" is written "{latin}" here'
    elif (more := _KEY_AND_MORE.fullmatch(text)) is not None and _is_key(more[1]):
        capo = f', and "capo: {more[3]}" in a row of its own' if more[3] else ""
        yield f'write the key alone: "{more[1]}"{capo}'
    elif _is_key(capital := text[:1].upper() + text[1:]):
        minor = f', or "{capital}m" for the minor key' if len(text) == 1 else ""
        yield f'a key begins with a capital: "{capital}"{minor}'
    else:
        problem = likely_meaning(text.split()[0])
        yield from problem.hints if problem.code in _OF_ROOTS else ()
        if _MOVED.search(text):
            yield "write the new key by its name, such as A major"


_MOVED = re.compile(r"\b(?:up|down|step|tone|higher|lower)\b", re.IGNORECASE)
_OF_ROOTS = (
    "german-note-name",
    "syllable-note-name",
    "lowercase-root",
    "invisible-character",
)
"""The slips in chord symbols that are slips in keys as well."""
_KEY_AND_MORE = re.compile(
    r"([A-G][b#♭♯]?(?: ?(?:m|min|minor|maj|major))?)[\s,;/(]+(?:(capo)\D{0,9}(\d{1,2})\D*|.*)",
    re.IGNORECASE,
)


def _is_key(text: str) -> bool:
    try:
        return bool(text) and parse_key(text) is not None
    except ValueError:
        return False


def german_key(text: str) -> str:
    """The key that a German name such as Es-Dur or fis-Moll means; empty where it is none."""
    match = _GERMAN_KEY.fullmatch(text)
    if match is None or not (match[2] or match[3]):
        return ""
    letter, sign, mode = match[1].upper(), (match[2] or "").lower(), (match[3] or "").lower()
    small = match[1].islower() and not mode
    written = f"{note_from_german(letter, sign)} {'minor' if mode == 'moll' or small else 'major'}"
    return written if _is_key(written) else ""


def _tempo(text: str, reason: ValueError) -> Iterator[str]:
    numbers = _NUMBERS.findall(text)
    if len(numbers) == 1:
        whole = int(re.split("[.,]", numbers[0])[0][:6])
        if 10 <= whole <= 400:
            yield (
                f'write the number alone: "{whole}"'
                if numbers[0].isdecimal()
                else f'write a whole number: "{whole}"'
            )
    elif len(numbers) == 2 and numbers[0].isdecimal():
        yield f'write one number: "{numbers[0]}"'
    elif not numbers:
        yield f'words for the tempo are a feel: "feel: {text}"'


def _meter(text: str, reason: ValueError) -> Iterator[str]:
    meant = _METERS.get(text.lower(), "")
    apart = re.fullmatch(r"(\d{1,2})\s*[-:.|\\ ]\s*(\d{1,2})", text)
    feel = re.fullmatch(r"(\d{1,2}/\d{1,2})[\s,]+([^\d\W][\w ]*)", text)
    if apart is not None:
        meant = f"{apart[1]}/{apart[2]}"
    if feel is not None:
        yield f'write the meter alone, "{feel[1]}", and in a row of its own "feel: {feel[2]}"'
    elif meant:
        yield f'write it in numbers: "{meant}"'
    elif text in ("2", "3", "4"):
        yield f'a meter has two numbers: "{text}/4"'


def _range(text: str, reason: ValueError) -> Iterator[str]:
    low, _, high = "-".join(re.split(r"\s*[-–—]\s*|\s+", text, maxsplit=1)).partition("-")
    if _is_range(f"{high}-{low}"):
        yield f'write "{high}-{low}"'
    elif _is_range(f"{low}-{high}"):
        yield f'write "{low}-{high}"'
    else:
        yield "each note has its octave, and C4 is middle C: A3-E5"


def _language(text: str, reason: ValueError) -> Iterator[str]:
    tag = _LANGUAGES.get(text.lower(), "")
    if tag:
        yield f'write "{tag}"'


_LANGUAGES = {
    "english": "en",
    "german": "de",
    "deutsch": "de",
    "french": "fr",
    "français": "fr",
    "spanish": "es",
    "español": "es",
    "italian": "it",
    "italiano": "it",
    "portuguese": "pt",
    "português": "pt",
    "dutch": "nl",
    "nederlands": "nl",
    "swedish": "sv",
    "svenska": "sv",
    "polish": "pl",
    "polski": "pl",
    "irish": "ga",
    "gaeilge": "ga",
    "welsh": "cy",
    "cymraeg": "cy",
}
"""The tags of some languages (BCP 47, from memory)."""


def _chords(text: str, reason: ValueError) -> Iterator[str]:
    meant = meant_choice(text, ("sounding", "shapes"))
    if meant:
        yield f'did you mean "{meant}"?'


def _shape(text: str, reason: ValueError) -> Iterator[str]:
    plain = re.sub(r"\s*,\s*", "-", text).replace("=", " ").replace(":", " ")
    match = re.fullmatch(r"([A-G]\S*)\s+(\S+)|(\S+)\s+([A-G]\S*)", " ".join(plain.split()))
    if match is None:
        return
    chord, frets = (match[1], match[2]) if match[1] else (match[4], match[3])
    try:
        written = shape_text(parse_shape(frets))
    except ValueError:
        return
    if chord_or_none(chord) is not None:
        yield f'write "{chord} {written}"'


def _is_range(text: str) -> bool:
    try:
        return parse_range(text) is not None
    except ValueError:
        return False


_EITHER = re.compile(r"\d\s*(?:or|/|,)\s*\d")
_ROMAN_FRETS = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI")
_FRET_WORDS = (
    "one first",
    "two second",
    "three third",
    "four fourth",
    "five fifth",
    "six sixth",
    "seven seventh",
    "eight eighth",
    "nine ninth",
    "ten tenth",
    "eleven eleventh",
)
_MINUSES = ("-", "−", "–")
_LOWER = re.compile(r"\b(?:down|lower(?:ed)?|below|flat)\b", re.IGNORECASE)


def _number_said(text: str) -> int:
    """The fret or the half steps that words or a Roman numeral name; 0 if they name none."""
    words = text.lower().replace(" fret", "").split()
    # A lone x stands for "not known yet" more often than for the tenth fret.
    if text.upper() in _ROMAN_FRETS and text.upper() != "X":
        return _ROMAN_FRETS.index(text.upper()) + 1
    if "whole" in words:
        return 2
    if "half" in words or "semitone" in words:
        return 1
    return next((i for i, said in enumerate(_FRET_WORDS, 1) if {*said.split()} & {*words}), 0)


def _capo(text: str, reason: ValueError) -> Iterator[str]:
    if text.lower() in ("none", "no", "no capo", "off", "open", "without"):
        yield 'without a capo: "0"'
    text = text.replace("1/2", "half").replace("½", "half")
    numbers = re.findall(r"\d+", text)
    if _EITHER.search(text):
        yield f'write one of them: "{numbers[0]}"'
        return
    if len(numbers) in (2, 3) and not text.startswith("-"):
        strings = "-".join(numbers[1:])
        yield f'over some strings: "{numbers[0]} over string{"s" * (len(numbers) > 2)} {strings}"'
    said = int(numbers[0][:3]) if len(numbers) == 1 else 0 if numbers else _number_said(text)
    if _LOWER.search(text):
        if 0 < said <= MOST_TUNED_DOWN:
            yield f'a lower tuning has a minus: "-{said}"'
    elif 0 < said <= HIGHEST_CAPO and text != str(said) and text[:1] not in _MINUSES:
        yield f'write the fret alone: "{said}"'


_HINTS: dict[SettingName, Callable[[str, ValueError], Iterator[str]]] = {
    "key": _key,
    "tempo": _tempo,
    "meter": _meter,
    "capo": _capo,
    "range": _range,
    "language": _language,
    "chords": _chords,
    "shape": _shape,
}
