"""Joins writers' names with the words that lead to them, where a head has them on two lines, side
by side, or at both ends of the title's line.

Source of the forms, as printed songs have them: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.head_words.head_labels import leads_to_a_writer, writer_of
from chartkit.interchange.text.head_words.titles import could_be_title
from chartkit.interchange.text.kinds.line_kinds import KnownLine, Words
from chartkit.interchange.text.vocabulary.writer_names import names_people, undated

_GAP = re.compile(r"\s{3,}|\t\s*")
_BY = re.compile(r"(?:by|von|de|par|por|di|door|van|av|af)\s+(?=(?-i:[^\W\d_a-z]))", re.IGNORECASE)
_AROUND_A_TITLE = 3
_LONGEST = 200


def with_writers_joined(known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines of a head, a writer's name on the line of the words that lead to it, and the title
    between two writers on a line of its own."""
    result: list[KnownLine] = []
    for one in known:
        text = one.line.text.strip()
        joined = _joined(result[-1].line.text.rstrip(), text) if result and text else ""
        if joined:
            result[-1] = _as_words(result[-1], joined)
        else:
            result.append(one)
    first = next((at for at, one in enumerate(result) if one.line.text.strip()), 0)
    apart = _title_between(result[first].line.text) if result else None
    if apart is not None:
        result[first : first + 1] = [_as_words(result[first], text) for text in apart]
    return result


def _as_words(one: KnownLine, text: str) -> KnownLine:
    return KnownLine(replace(one.line, text=text, columns=None), Words())


def _joined(above: str, text: str) -> str:
    """Two lines as one, where the first ends before the names on the second; empty for others."""
    if not above or len(above) > _LONGEST or len(text) > _LONGEST:
        return ""
    leads, names = _GAP.split(above.strip()), _GAP.split(text)
    if len(leads) > 1 and len(leads) == len(names) and all(map(leads_to_a_writer, leads)):
        whole = [f"{lead} {name}" for lead, name in zip(leads, names, strict=True)]
        return "   ".join(whole) if all(map(names_people, names)) else ""
    by = _BY.match(text)
    name = text[by.end() :] if by is not None else text
    led = leads_to_a_writer(leads[-1] if by is None else f"{leads[-1]} {by[0]}")
    return f"{above} {text}" if led and names_people(undated(name)) else ""


def _title_between(text: str) -> tuple[str, str] | None:
    """The title that stands between two writers on a line, and these; None for any other line."""
    parts = _GAP.split(text.strip()) if len(text) <= _LONGEST else []
    if len(parts) != _AROUND_A_TITLE or not could_be_title(parts[1]):
        return None
    around = (parts[0], parts[2])
    if not all(writer_of(one) or (names_people(one) and not one.isupper()) for one in around):
        return None
    named = names_people(parts[1]) and not parts[1].isupper()
    return None if named else (parts[1], ", ".join(around))
