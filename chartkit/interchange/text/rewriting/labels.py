"""Names of sections that stand before their rows of chords on the same line.

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line, is_empty
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.vocabulary.reference_lines import is_about_the_song
from chartkit.interchange.text.vocabulary.section_names import full_name_at, is_known_name
from chartkit.interchange.text.vocabulary.times_played import ONCE_MORE, times_of

_LABEL = re.compile(
    r"(?P<name>[^\W\d_][^\W\d_’'-]{0,15}(?:[ -][^\W\d_]{2,12}){0,2}(?: ?\d)?)[.!]?"
    r"(?:\s*(?P<said>\([^()|]{2,60}\))\s?:\s+|(?P<sign>\s{2,}|\s*[:=–-]\s+|\s+(?=\|)))(?=\S)"
)
"""A name, with what is said of it in parentheses before its colon, and a sign."""
_REST = re.compile(
    r"\s*[:=]?\s*(?P<times>\(?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×]|twice)\)?)?\s*"
    rf"(?:{ONCE_MORE})?\s*(?P<said>\([^\W\d][^()|]{{1,40}}\))?\s*",
    re.IGNORECASE,
)
_LETTER = re.compile(r"[A-H][1-4]?")
_ALPHABET = list("ABCDEFGH")
_FEWEST_IN_CAPITALS = 4
_FEWEST_LETTERS = 2
_LONGEST = 400
_LABELS = frozenset({"i", "in", "o", "c", "b", "v", "s"})
_SMALL_LETTERS = frozenset({"b", "c"})
"""Labels that may be chords, where these are typed in small letters."""
_SAYS_CHORDS = re.compile(rf"\s+(?:{WORDS_FOR_CHORDS})\Z", re.IGNORECASE)
"""What is said behind a section's name whose chords follow."""
_SAID_AT_END = re.compile(r"\s*\([^()|]{2,60}\)\s*\Z")


def with_labels(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, those with a section's name before a row of chords with that in brackets on a
    line of its own; the same name alone on a later line is one again."""
    lines = _with_bare_letters(lines, is_chords)
    labels = _labels(lines, is_chords)
    named = [at for at in labels if heading_of(lines[at].text) is None]
    names = list(dict.fromkeys(match["name"] for match in labels.values()))
    letters = [name for name in names if _LETTER.fullmatch(name)]
    small = [name for name in names if name in _SMALL_LETTERS]
    goes_on = _go_on_from_a(letters, names) or _is_no_chord(letters, names, labels, lines)
    goes_on = goes_on or _stand_before_bar_lines(labels, lines)
    if len(names) < 2 or (letters and not goes_on):
        return list(lines)
    if small and not {"i", "v", "o"} & {*names}:
        return list(lines)
    bracketed = any(_LETTER.fullmatch(labels[at]["name"]) for at in named)
    result: list[Line] = []
    ordered = any(_order_of(line.text, names, is_chords) for line in lines)
    for at, line in enumerate(lines):
        if at in named or (at in labels and bracketed):
            result += _named_apart(line, labels[at])
        elif ordered and (order := _order_of(line.text, names)) is not None:
            again = order[len(names) :] if order[: len(names)] == names else []
            if order == names and at > max(labels) and not is_empty(lines, at + 1):
                again = order  # more steps follow, so it is no list of what stands above
            if again:
                result += [replace(line, text=f"[{name}]", columns=None) for name in again]
            else:
                whole = {*order} == {*names}
                texts = [f"Form: {' '.join(order)}"] if whole else [f"[{name}]" for name in order]
                result += [replace(line, text=text, columns=None) for text in texts]
        else:
            result.append(_named_again(line, names))
    return result


def _named_apart(line: Line, label: re.Match[str]) -> list[Line]:
    """A row with its name before it: the name as a heading, with what is said of it, and the row;
    or the name with a colon before the row, where everybody knows it."""
    name, start = _SAYS_CHORDS.sub("", label["name"]), label.end()
    said = label["said"] or ""
    if full_name_at(name, 0) == len(name):
        text = f"{name}{said and ' '}{said}:".ljust(start) + line.text[start:]
        return [replace(line, text=text)]
    sign = ":" if is_direction(name) else ""  # "HORNS" alone would be said to the band
    times = times_of(said)
    more = f"x{times}" if times > 1 else said
    heading = f"== {name} {more}" if said else f"[{name}]{sign}"
    row = replace(line, text=" " * start + line.text[start:])
    return [replace(line, text=heading, columns=None), row]


_BETWEEN_SIGNS = re.compile(r"[\[(](?P<name>[A-H]\d?)[\])][:.]?\s+(?=\S)")


def _with_bare_letters(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, rows behind a letter in brackets ("[A]  | Cm | Ab |") with the letter and a colon,
    where these letters go on from A."""
    rows = {
        at: match
        for at, line in enumerate(lines)
        if line.text[:1] in ("[", "(") and len(line.text) <= _LONGEST
        if (match := _BETWEEN_SIGNS.match(line.text)) and is_chords(line.text[match.end() :])
    }
    letters = list(dict.fromkeys(match["name"] for match in rows.values()))
    if len(letters) < _FEWEST_LETTERS or not _go_on_from_a(letters, letters):
        return list(lines)
    return [
        replace(
            line, text=f"{rows[at]['name']}:".ljust(rows[at].end()) + line.text[rows[at].end() :]
        )
        if at in rows
        else line
        for at, line in enumerate(lines)
    ]


def _order_of(
    text: str, names: Sequence[str], is_chords: IsChords = lambda _: False
) -> list[str] | None:
    """The names of sections that a line is made of, one after another, which are no row of
    chords; None for any other line."""
    pieces = re.split(r"[\s,–—>-]+", text.strip()) if len(text) <= _LONGEST else []
    if len(pieces) < 2 or not all(piece in names for piece in pieces):
        return None
    return None if is_chords(" ".join(pieces)) else pieces


_LETTERS_ALONE = re.compile(r"(?:[A-H]\d?(?:[\s,>/–-]+|$))+")
_OF_A_LETTER = re.compile(
    r"\W*(?:(?:part|section|teil|parte|partie|del|deel|część)\s+(?P<behind>[A-H]\d?)|"
    r"(?P<before>[A-H]\d?)(?:[- ](?:part|section|teil|parte|partie|del|deel))?)(?!\w).{0,40}",
    re.IGNORECASE,
)


def _orders_letters(text: str, lines: Sequence[Line]) -> bool:
    """Whether a text gives the order of sections that are called by letters ("Ablauf: A B A" below
    "Teil A" and "Teil B"), which are no chords there."""
    start = label_end(text)
    if not start or _LETTERS_ALONE.fullmatch(text[start:].strip(" .")) is None:
        return False
    wanted = {*re.findall(r"[A-H]\d?", text[start:])}
    heads = (_OF_A_LETTER.fullmatch(one.text) for one in lines if len(one.text) <= _LONGEST)
    named = {(one["behind"] or one["before"]).upper() for one in heads if one is not None}
    return wanted <= named


def _labels(lines: Sequence[Line], is_chords: IsChords) -> dict[int, re.Match[str]]:
    """The lines with a name before a row of chords.  A name that nobody knows counts right
    under or above one that is known, as in a list of a song's sections."""
    matches = {
        at: match
        for at, line in enumerate(lines)
        if len(line.text) <= _LONGEST
        and not _orders_letters(line.text, lines)
        and (match := _LABEL.match(line.text)) is not None
        and (not is_chords(match["name"]) or (_is_lettered(match) and not _is_chord_first(match)))
        and is_chords(_SAID_AT_END.sub("", line.text[match.end() :]))
    }
    loose = {at for at, match in matches.items() if _stands_loose(match)}
    if len(loose) < len(matches):  # "C    F" is two chords, but in a list of sections
        loose = {at for at in loose if not {at - 1, at + 1} & matches.keys()}
        matches = {at: match for at, match in matches.items() if at not in loose}
    known = {at for at, match in matches.items() if _may_be_label(match["name"])}
    if known:
        known |= {
            at
            for at, match in matches.items()
            if match["name"].isupper() and len(match["name"]) >= _FEWEST_IN_CAPITALS
        }
    for order in (sorted(matches), sorted(matches, reverse=True)):
        before = -1
        for at in order:
            beside = before in known and _goes_on_between(
                lines, min(before, at), max(before, at), is_chords
            )
            if beside and not is_about_the_song(lines[at].text):
                known.add(at)
            before = at
    return {at: match for at, match in matches.items() if at in known}


def _goes_on_between(lines: Sequence[Line], start: int, end: int, is_chords: IsChords) -> bool:
    """Whether nothing but indented rows of chords stands between two lines."""
    return all(
        line.text[:1] == " " and len(line.text) <= _LONGEST and is_chords(line.text)
        for line in lines[start + 1 : end]
    )


def _is_chord_first(match: re.Match[str]) -> bool:
    """Whether a letter with a figure and nothing but blanks before more chords is a chord itself,
    and counts no part ("A7      Dm")."""
    return match["name"][-1] in "5679" and _stands_loose(match)


def _stands_loose(match: re.Match[str]) -> bool:
    """Whether nothing but blanks stand between a letter and the chords behind it."""
    bare = not (match["said"] or (match["sign"] or "").strip())
    return (
        bare and _LETTER.fullmatch(match["name"]) is not None and match.string[match.end()] != "|"
    )


def _is_lettered(match: re.Match[str]) -> bool:
    """Whether a name that could be a chord is rather a letter for a section: no dash joins it to
    the chords behind it."""
    sign = (match["sign"] or "").strip()
    return _LETTER.fullmatch(match["name"]) is not None and sign not in ("-", "–")


def _may_be_label(name: str) -> bool:
    return _LETTER.fullmatch(name) is not None or name.casefold() in _LABELS or is_known_name(name)


def _go_on_from_a(letters: Sequence[str], names: Sequence[str]) -> bool:
    """Whether letters name sections: from A on, or beside other names cut short."""
    firsts = list(dict.fromkeys(one[0] for one in letters))
    if len(letters) > 1 and firsts == _ALPHABET[: len(letters)]:
        return True
    if len(letters) < len(names):
        return not {"A", "D", "E", "F", "G", "H"} & {name[0] for name in letters}
    return firsts == _ALPHABET[: len(firsts)]


def _is_no_chord(
    letters: Sequence[str],
    names: Sequence[str],
    labels: Mapping[int, re.Match[str]],
    lines: Sequence[Line],
) -> bool:
    """Whether the one letter A beside other names before bars is no chord: a bar line stands
    behind each of these names, and no row has that chord."""
    if [*letters] != ["A"] or len(names) < 2:
        return False
    barred = all(one.string[one.end() : one.end() + 1] == "|" for one in labels.values())
    rows = (
        line.text[labels[at].end() :] if at in labels else line.text
        for at, line in enumerate(lines)
        if "|" in line.text
    )
    return barred and not any(_CHORD_ON_A.search(row[:_LONGEST]) for row in rows)


def _stand_before_bar_lines(labels: Mapping[int, re.Match[str]], lines: Sequence[Line]) -> bool:
    """Whether each name stands before a bar line and every other row of bars begins with one, so
    that no letter before one is a chord; a name that is no letter is among them."""
    if all(_LETTER.fullmatch(one["name"]) for one in labels.values()):
        return False
    barred = all(one.string[one.end() : one.end() + 1] == "|" for one in labels.values())
    others = [line.text for at, line in enumerate(lines) if "|" in line.text and at not in labels]
    begun = sum(text.lstrip().startswith("|") for text in others)
    return barred and begun >= _FEWEST_BEGUN and all(map(_begins_with_a_bar_line, others))


_FEWEST_BEGUN = 2
_OTHER_NAME = re.compile(r"\s*[^\W\d_]{2}[^|]*\|")


def _begins_with_a_bar_line(text: str) -> bool:
    """Whether a row of bars begins with a bar line, alone or behind a name of more letters."""
    return text.lstrip().startswith("|") or _OTHER_NAME.match(text) is not None


_CHORD_ON_A = re.compile(r"(?<![^\W_])A(?![#b♯♭\w])|(?<![^\W_])A[m\d]")
_LAST = (
    r"(?:the\s+|die\s+|das\s+)?(?:last|final|letzte[rs]?|dernier|dernière|última?o?|ultim[ao]|laatste|sista|"
    r"siste)"
)
_LAST_BEHIND = re.compile(rf"\s+[(\[]?(?P<said>{_LAST}(?:\s+(?:time|one|mal|fois))?)\s*", re.I)
_ONE_AGAIN = re.compile(
    rf"(?:(?:then|and|dann|und|puis|et|luego|poi)\s+)?(?:(?P<last>{_LAST})\s+|"
    r"(?:back to|again|repeat|zurück zu|noch ?mal|wieder|retour à?|encore)\s+)"
    rf"(?P<name>[^\W\d_]\w{{0,15}})(?:\s+(?:{ONCE_MORE}))?[.!]?",
    re.IGNORECASE,
)
"""An order between rows of bars to play one of their sections again ("then last A")."""


def _said_again(text: str, names: Sequence[str]) -> str:
    """A name in brackets with what is said of it, for an order to play it again; empty for any
    other line."""
    order = _ONE_AGAIN.fullmatch(text) if len(text) <= _LONGEST else None
    if order is not None and order["name"] in names:
        return f"[{order['name']}]" + (f" ({order['last']})" if order["last"] else "")
    name = next((one for one in names if text.startswith(f"{one} ")), None)
    last = _LAST_BEHIND.match(text, len(name)) if name is not None else None
    if last is not None and text[last.end() :].strip(" .!)]") in ("", name):
        return f"[{name}] ({last['said']})"
    return ""


def _named_again(line: Line, names: Sequence[str]) -> Line:
    """A line of one of the names alone as a name in brackets."""
    text = line.text.strip()
    if said := _said_again(text, names):
        return replace(line, text=said, columns=None)
    name = next((one for one in names if text == one or text.startswith(f"{one} ")), None)
    rest = _REST.fullmatch(text[len(name) :]) if name is not None else None
    if rest is None:
        return line
    times = times_of(rest["times"] or "")
    more = f"x{times} " * (times > 1) + (rest["said"] or "")
    return replace(line, text=f"[{name}] {more}".rstrip(), columns=None)
