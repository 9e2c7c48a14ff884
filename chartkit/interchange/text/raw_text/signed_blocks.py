"""Leaves out what somebody says to the reader in the last lines of a sheet, above a name: "Any
problems ring me. Ta / Phil".

What such lines say of how to play stays for the readers of the song.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.text.raw_text.song_lines import is_of_a_song
from chartkit.interchange.text.vocabulary.directions import (
    count_words,
    is_direction,
    is_talk,
    is_term,
    speaks_of_music,
    tells_who_plays,
)
from chartkit.interchange.text.vocabulary.farewells import (
    CLOSES,
    asks_to_be_reached,
    signs_behind,
    takes_leave_of,
)
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.wording import one_line

_LONGEST = 160
_SIGNATURE = re.compile(
    r"(?:[-–—/~]+\s?)?[A-ZÀ-ÖØ-Þ][\w’'-]{0,20}\.?(?:\s(?:&\s)?[A-ZÀ-ÖØ-Þ]\w{0,20}\.?)?(?:\s*[xX]{1,3})?"
)
"""A name alone, as letters are signed."""
_CONTACT = re.compile(
    r"(?:(?:tel|phone|mobile?|mob|handy|móvil|cell|[mtp])\b\.?:?)?[\s+(]*\d[\d\s()/.-]{5,}|\S+@\S+",
    re.IGNORECASE,
)
"""A telephone number or an address alone on a line."""
_ENDS = (".", "!", "?", "…", ":)", ":-)", ";)", ":D")
_MOST_LINES = 4
"""Who says more below a song than this says it about the song (ours)."""
_MOSTLY = 0.6
_WORD = re.compile(r"[^\W\d_]+")
_SENTENCES = re.compile(r"(?<=[.!?])\s+")


def without_signed_block(lines: Numbered, findings: Findings, of_a_mail: bool) -> Numbered:
    """The lines without a name, how to reach who has it, and what is said to the reader above it,
    at the end of a text; the same lines where they end in another way."""
    first, last = _last_block(lines)
    end = last
    while end > first and _CONTACT.fullmatch(lines[end - 1][1].strip()):
        end -= 1
    if first == 0 or end == first or last - first > _MOST_LINES:
        return lines
    texts = [line.strip() for _, line in lines[first:end]]
    if any(is_of_a_song(text[:_LONGEST]) for text in texts):
        return lines
    signed = _signature(texts)
    said = texts[: len(texts) - signed]
    kisses = texts[-1].endswith((" x", " xx", " xxx"))
    reached = end < last or kisses or any(map(asks_to_be_reached, said))
    sure = reached or signed > 1 or any(map(is_talk, said))
    sentence = of_a_mail and any(text.endswith(_ENDS) for text in said)
    sure = sure or (signed > 0 and not said and _are_to_be_reached(lines[:first]))
    if not signed or not (sure or sentence):
        return _without_signed_line(lines, findings, of_a_mail)
    gone = [
        at for at in range(first, last) if at >= end - signed or not _is_for_the_band(lines[at][1])
    ]
    return _without(lines, gone, findings)


def without_said_last(lines: Numbered, findings: Findings) -> Numbered:
    """The lines without the last block above a name that was left out, if all of it is said to the
    reader; the same lines where it is not."""
    first, last = _last_block(lines)
    texts = [line.strip() for _, line in lines[first:last]]
    if first == 0 or not texts or len(texts) > _MOST_LINES:
        return lines
    plain = not any(is_of_a_song(text[:_LONGEST]) or _is_for_the_band(text) for text in texts)
    talk = any(is_talk(text) or asks_to_be_reached(text) for text in texts)
    sentence = len(texts) == 1 and texts[0].endswith(_ENDS) and len(texts[0].split()) > 1
    if not plain or not (talk or sentence):
        return lines
    return _without(lines, range(first, last), findings)


def _are_to_be_reached(lines: Numbered) -> bool:
    """Whether the last block says that the reader may ring or write, and nothing of how to play."""
    first, last = _last_block(lines)
    texts = [line.strip() for _, line in lines[first:last]]
    asks = any(map(asks_to_be_reached, texts)) and len(texts) <= _MOST_LINES
    return asks and not any(is_of_a_song(one[:_LONGEST]) or _is_for_the_band(one) for one in texts)


def _without_signed_line(lines: Numbered, findings: Findings, of_a_mail: bool) -> Numbered:
    """The lines without the last one, if it stands apart and is a sentence with a farewell and a
    name behind it ("Ring me if it's not clear. Ta, Phil")."""
    first, last = _last_block(lines)
    text = lines[first][1].strip() if last - first == 1 else ""
    if first == 0 or not signs_behind(text) or _is_for_the_band(text):
        return lines
    if not (of_a_mail or is_talk(text) or asks_to_be_reached(text)):
        return lines
    return _without(lines, [first], findings)


def _last_block(lines: Numbered) -> tuple[int, int]:
    """Where the last lines without a blank one between them begin, and where they end."""
    last = len(lines)
    while last and not lines[last - 1][1].strip():
        last -= 1
    first = last
    while first and lines[first - 1][1].strip():
        first -= 1
    return first, last


def _signature(texts: Sequence[str]) -> int:
    """How many of the last lines are a farewell and a name, or a name alone; 0 where none is."""
    last = texts[-1]
    if takes_leave_of(last):
        return 1
    if _SIGNATURE.fullmatch(last) is None or _is_for_the_band(last):
        return 0
    closes = len(texts) > 1 and CLOSES.fullmatch(texts[-2]) is not None
    return 1 + closes


def _is_for_the_band(text: str) -> bool:
    """Whether a sentence of a line says how to play, mostly in words of the trade."""
    return any(map(_says_how, _SENTENCES.split(text.strip()[:_LONGEST])))


def _says_how(text: str) -> bool:
    count = count_words(text)
    trade = count.strong > 0 and count.share >= _MOSTLY
    played = is_direction(text) or is_term(text) or tells_who_plays(text)
    named = any(len(word) > 2 and is_known_name(word) for word in _WORD.findall(text))
    return trade or played or speaks_of_music(text) or (named and not is_talk(text))


def _without(lines: Numbered, gone: Sequence[int], findings: Findings) -> Numbered:
    """The lines, some of them emptied and reported as the end of a mail."""
    said = " / ".join(one_line(lines[at][1]) for at in gone)
    findings.leave_out("sign-off", f'the end of an email: "{said}"', f"{lines[gone[0]][0]}:1")
    emptied = {*gone}
    return [(n, "" if at in emptied else line) for at, (n, line) in enumerate(lines)]
