"""Names of earlier sections cut short in the sheet's own way ("Rit." under a "Ritornello", "Brdg"
under a "Bridge"), alone where a section's name stands: written out.

Source of the ways to cut a word short: common practice, no source.
"""

import re
import unicodedata
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.names.name_shapes import is_slip
from chartkit.interchange.text.names.unknown_names import meant_by_slip
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.ends_on import song_end
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    is_known_name,
    is_plainest_name,
    may_name_a_section,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES

_SHORT = re.compile(
    r"(?P<before>[-–—=*#~\[(<]{0,3}\s?)(?P<short>[^\W\d_]{1,9})(?P<dot>\.?)(?P<number>\s?\d{1,2}(?![x×\d]))?"
    rf"(?P<count>\s*[,:–-]?\s*[(\[]?(?:{ANY_TIMES})[)\]]?)?"
    r"(?P<said>\s*\([^()|]{2,60}\))?(?P<after>\s?[-–—=*#~\])>:.]{0,3})",
    re.IGNORECASE,
)
"""A word cut short alone on its line, with a number, a count and a remark."""
_LONGEST = 80
_MOST_LINES = 2_000
_FEWEST_SKIPPED = 3
"""A word cut short by leaving letters out has at least so many."""
_FEWEST_OF_A_SLIP = 5
"""So many letters has a word in which a slip still shows what is meant (ours)."""
_MISTYPED = re.compile(r"(?P<word>[^\W\d_]{5,14})(?P<rest>(?:\s?\d{1,2})?\s?[:.]?)")
_CUT_AND_COUNT = re.compile(rf"[^\W\d_]{{2,9}}(?:\.|\s+\(?(?:{ANY_TIMES}))", re.IGNORECASE)
_LETTER = re.compile(r"[^\W\d_]\.?\s?[2-9][.:]?")
"""A letter and the number of a verse."""
_CUT = re.compile(r"(?P<word>[^\W\d_]{2,9})\.")
_BRACKETED = re.compile(r"\[(?P<word>[^\W\d_]{4,})\]")
_PLAIN_WORD = re.compile(r"[^\W\d_]{3,}")


def with_names_written_out(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those that are an earlier section's name cut short with the whole name."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    lines = _with_refrain(lines, is_chords)
    result, names = list(lines), dict[str, str]()
    begun = {_first_word(line.text) for line in lines if len(line.text) <= _LONGEST}
    for at, line in enumerate(lines):
        text = line.text.strip()
        if not 1 < len(text) <= _LONGEST:
            continue
        if (meant := _without_slip(lines, at, is_chords, begun)) != text:
            result[at] = line = replace(line, text=meant, columns=None)
            findings.guess("name-mistyped", f'"{text}" is read as the name "{meant}"', line.place())
            text = meant
        counts = _LETTER.fullmatch(text) is not None and at > 0 and is_empty(lines, at - 1)
        alone = counts or _stands_alone(lines, at)
        whole = _written_out(text, names, is_chords) if alone else ""
        whole = whole or ("" if alone else _own_again(lines, at, names, is_chords))
        if whole:
            result[at] = replace(line, text=whole, columns=None)
            findings.guess(
                "name-cut-short", f'"{text}" is read as the name "{whole}"', line.place()
            )
        names.update(_name_in(text, names, _below(lines, at, is_chords)))
    return result


_OWN_AGAIN = re.compile(
    rf"(?P<short>[^\W\d_]{{2,9}}\.)(?P<count>\s*[,:–-]?\s*[(\[]?(?:{ANY_TIMES})[)\]]?)?"
    r"(?:\s*[,;:(–-]?\s*(?P<said>[^\W\d_][^()|]{1,50}?)\)?)?[.!]?",
    re.IGNORECASE,
)
_IN_ITALIAN = re.compile(r"\W*(?:strof[ae]|str\.|tonalità|accordi)(?!\w)", re.IGNORECASE)
_REFRAIN_IN_ITALIAN = re.compile(r"\[?(Rit\.|RIT\.)\]?\s?:?")
"""What is a direction in sheets of other languages."""


def _with_refrain(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, a "Rit." over chords in an Italian sheet as the name of its refrain."""
    texts = [line.text.strip() for line in lines]
    if not any(text[:3].casefold() == "rit" for text in texts):
        return list(lines)
    italian = any(_IN_ITALIAN.match(text[:_LONGEST]) for text in texts)
    return [
        replace(line, text=f"[{match[1]}]", columns=None)
        if italian
        and (match := _REFRAIN_IN_ITALIAN.fullmatch(texts[at])) is not None
        and _below(lines, at, is_chords)
        and not is_empty(lines, at - 1)
        else line
        for at, line in enumerate(lines)
    ]


def _own_again(
    lines: Sequence[Line], at: int, names: Mapping[str, str], is_chords: IsChords
) -> str:
    """A line that begins with a name cut short as it stands over chords above, full stop and all
    ("Refr. som förut, mycket svagt"), as that name with the count and the remark; empty for any
    other line, and for one right under chords or over some."""
    match = _OWN_AGAIN.fullmatch(lines[at].text.strip())
    own = names.get(_plain(match["short"][:-1]), "") if match is not None else ""
    if match is None or f"{own.rstrip('.')}." != match["short"]:
        return ""
    above = text_at(lines, at - 1)
    under = 0 < len(above.strip()) <= _LONGEST and is_chords(above)
    if under or _below(lines, at, is_chords) or is_chords(match["said"] or ""):
        return ""
    if not match["count"] and not match["said"]:
        return f"== {match['short']} =="  # even if it is a word to the band
    if match["said"] and song_end(match["said"], is_chords) is not None:  # steps of the form
        return f"{match['short'][:-1]}{match['count'] or ''} {match['said']}"
    said = f" ({match['said'].strip()})" if match["said"] else ""
    return f"[{match['short']}]{match['count'] or ''}{said}"


def _first_word(text: str) -> str:
    word = _PLAIN_WORD.search(text)
    return word[0].casefold() if word is not None else ""


def _without_slip(
    lines: Sequence[Line], at: int, is_chords: IsChords, begun: Collection[str]
) -> str:
    """A line, a name over chords that many mistype ("Vrese 1") as it is meant where other lines
    have it so (``begun`` has the first words of all lines)."""
    text = lines[at].text.strip()
    match = _MISTYPED.fullmatch(text) if at and is_empty(lines, at - 1) else None
    meant = meant_by_slip(match["word"]) if match is not None else ""
    if (
        match is None
        or not meant
        or meant not in begun
        or is_known_name(match["word"])
        or not _below(lines, at, is_chords)
    ):
        return text
    return (meant.upper() if match["word"].isupper() else meant.capitalize()) + match["rest"]


def _below(lines: Sequence[Line], at: int, is_chords: IsChords) -> bool:
    """Whether a row of chords stands right below a line."""
    below = text_at(lines, at + 1)
    return 0 < len(below) <= _LONGEST and is_chords(below)


def _stands_alone(lines: Sequence[Line], at: int) -> bool:
    """Whether nothing stands right above a line, and right below it nothing or a name."""
    below = text_at(lines, at + 1).strip()
    named = 0 < len(below) <= _LONGEST and is_plainest_name(below)
    if not named and 0 < len(below) <= _LONGEST and _CUT_AND_COUNT.match(lines[at].text.strip()):
        named = full_name_at(below, 0) > 0
    return at > 0 and is_empty(lines, at - 1) and (not below or named)


def _name_in(text: str, names: Mapping[str, str], over_chords: bool) -> Iterator[tuple[str, str]]:
    """The first word of the name that a heading has, in plain letters, with that word; that of one
    cut short over chords too."""
    if over_chords and (own := _CUT.fullmatch(text.strip("[]"))) is not None:
        yield _plain(own["word"]), own["word"] + "."
    if not (text.startswith("[") or may_name_a_section(text)):
        return
    heading = heading_of(text)
    if heading is not None and (own := _BRACKETED.match(text)) is not None:
        yield _plain(own["word"]), own["word"]
        return
    word = _PLAIN_WORD.match(heading.name) if heading is not None else None
    if heading is None or word is None or not is_known_name(heading.name):
        return
    if not any(_is_short_for(_plain(word[0]), whole) for whole in names):
        yield _plain(word[0]), word[0]


def _written_out(text: str, names: dict[str, str], is_chords: IsChords) -> str:
    """A line with the one earlier name that its word may be short for; empty for others."""
    match = _SHORT.fullmatch(text)
    if match is None or not names:
        return ""
    short, number = match["short"], (match["number"] or "").strip()
    plain = _plain(short)
    if is_chords(f"{short}{number}") or is_chords(short) or (len(short) == 1 and not number):
        return ""
    if plain in names:
        own = names[plain].endswith(".") and (match["count"] or match["said"])
        return f"[{names[plain]}]{match['count'] or ''}{match['said'] or ''}" if own else ""
    meant = [whole for key, whole in names.items() if _is_meant(plain, key)]
    kinds = {section_key(whole)[0] for whole in meant}
    if len(kinds) != 1:
        return ""
    if len(short) > 1 and short[0].isupper() < meant[-1][0].isupper():
        return ""
    known = heading_of(text)
    if known is not None and is_known_name(known.name) and section_key(known.name)[0] in kinds:
        return ""  # it is read as that without any help
    behind = f" {number}" * bool(number)
    return f"{meant[-1]}{behind}{match['count'] or ''}{match['said'] or ''}"


def _is_meant(word: str, whole: str) -> bool:
    """Whether a word in plain letters is another cut short, or that one with a slip."""
    slip = min(len(word), len(whole)) >= _FEWEST_OF_A_SLIP and is_slip(word, whole)
    return _is_short_for(word, whole) or (slip and word != whole)


def _is_short_for(short: str, whole: str) -> bool:
    """Whether a word in plain letters is another cut short: its beginning, or some of its letters
    in order from the first one on."""
    if len(short) >= len(whole):
        return False
    if whole.startswith(short):
        return True
    if len(short) < _FEWEST_SKIPPED or short[0] != whole[0]:
        return False
    letters = iter(whole)
    return all(letter in letters for letter in short)


def _plain(text: str) -> str:
    """A word in small letters without accents."""
    parted = unicodedata.normalize("NFD", text.casefold())
    return "".join(one for one in parted if not unicodedata.combining(one))
