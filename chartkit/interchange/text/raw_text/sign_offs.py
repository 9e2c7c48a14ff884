"""Leaves out the end of a mail: who takes leave, a name, how to reach who has it, and what is said
to the reader right above.

Source of the words: common practice, no source.
"""

import re
from collections.abc import Sequence

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.text.raw_text.signed_blocks import (
    without_said_last,
    without_signed_block,
)
from chartkit.interchange.text.raw_text.song_lines import is_of_a_song
from chartkit.interchange.text.vocabulary.directions import is_talk
from chartkit.interchange.text.vocabulary.farewells import (
    CLOSES,
    ends_with_kisses,
    signs_plainly,
    takes_leave_of,
)
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.wording import one_line

_LONGEST = 160
_SAID = 60
_A_NAME = re.compile(r"[A-ZÄÖÜ]\w{0,20}\.?(?:\s[A-ZÄÖÜ]\w{0,20}\.?)?(?:\s+xx?)?")
_A_LONG_NAME = re.compile(
    r"(?:(?:miss|mrs?|ms|dr|prof|frau|herr|mme|mlle|m|sra?|srta|sig|sig\.?ra|dhr|mevr|fru|hr)\.?\s)?"
    r"(?-i:[A-ZÄÖÜ])\w{0,20}\.?(?:\s(?:(?:von|van|de|der|di|da)\s)?(?-i:[A-ZÄÖÜ])[\w’'-]{0,20}\.?){0,3}"
    r"(?:\s*[,(]\s*[^,()]{2,30}\)?)?",
    re.IGNORECASE,
)
"""A whole name under a farewell, also with what its owner is."""
_CONTACT = re.compile(
    r"(?=.*(?:\d[\d ()/.-]{4,}\d|@|www\.|https?:|\.(?:com|org|net|example)\b))[^|]{5,80}|"
    r"(?:(?:sent|gesendet|envoyé|enviado|inviato|verzonden|skickat|sendt) |von mein).{3,60}",
    re.IGNORECASE,
)
"""How people who write can be reached, or what they wrote on."""
_MOST_IN_SIGN_OFF = 2
_MOST_LINES_OF_SIGN_OFF = 7
_MOST_WORDS_OF_LEAVE = 3
_ENDS = (".", "!", "?", "…", ")")
_MOST_SAID_LAST = 3
"""The most sentences above a name in the last block of a mail (ours)."""


_LONGEST_INITIALS = 2
"""So few letters sign a mail rather than name a section."""


def without_sign_off(lines: Numbered, findings: Findings, of_a_mail: bool) -> Numbered:
    """The lines without what somebody says to the reader at the end, and without the name there."""
    kept = _without_leave(lines, findings, of_a_mail)
    if kept is lines:
        kept = without_signed_block(lines, findings, of_a_mail)
    if kept is lines:
        kept = _without_name_over_aside(lines, findings)
    return lines if kept is lines else without_said_last(kept, findings)


def _without_name_over_aside(lines: Numbered, findings: Findings) -> Numbered:
    """The lines without a name alone and what is said in parentheses to the reader below it, at
    the end of a text; the same lines where they end in another way."""
    filled = [i for i, (_, line) in enumerate(lines) if line.strip()][-2:]
    texts = [lines[at][1].strip() for at in filled]
    if len(texts) < 2 or texts[1][:1] + texts[1][-1:] != "()" or not is_talk(texts[1]):
        return lines
    if filled[1] - filled[0] < 2 or is_known_name(texts[0]) or not _is_signed(lines, filled[0]):
        return lines
    said = " / ".join(map(one_line, texts))
    findings.leave_out("sign-off", f'the end of an email: "{said}"', f"{lines[filled[0]][0]}:1")
    return lines[: filled[0]]


def _without_leave(lines: Numbered, findings: Findings, of_a_mail: bool) -> Numbered:
    """The lines up to where the writer takes leave: a line that does so, and a name at the end.

    In what shows no sign of a mail it must stand apart, end in a comma, and have a name under it.
    """
    filled = [i for i, (_, line) in enumerate(lines) if line.strip()]
    last = lines[filled[-1]][1].strip(" .:!()[]") if filled else ""
    named = len(last) > _LONGEST_INITIALS and is_known_name(last)
    if of_a_mail and filled and not named and _is_signed(lines, filled[-1]):
        number, line = lines[filled[-1]]
        findings.leave_out("sign-off", f'the end of an email: "{one_line(line)}"', f"{number}:1")
        return _without_leave(lines[: filled[-1]], findings, of_a_mail=True)
    at = _closing_block(lines, filled, of_a_mail)
    kissed = bool(filled) and ends_with_kisses(lines[filled[-1]][1].strip())
    if at is None and kissed and not is_of_a_song(lines[filled[-1]][1].strip()):
        at = filled[-1]
    if at is None:
        at = _long_sign_off(lines, filled, of_a_mail)
    if at is not None:
        said = " / ".join(one_line(line) for _, line in lines[at:] if line.strip())
        findings.leave_out("sign-off", f'the end of an email: "{said}"', f"{lines[at][0]}:1")
        return lines[:at]
    for at in reversed(filled[-_MOST_IN_SIGN_OFF:]):
        number, line = lines[at]
        under = [text.strip() for _, text in lines[at + 1 :] if text.strip()]
        closing = CLOSES.fullmatch(line.strip()) if len(line) <= _SAID else None
        if closing is None or not all(map(_A_NAME.fullmatch, under)):
            continue
        apart = at > 0 and not lines[at - 1][1].strip()
        above = next((text for _, text in reversed(lines[:at]) if text.strip()), "")
        apart = apart or is_talk(above)
        sure = (apart or closing["named"]) if of_a_mail else apart and closing["comma"] and under
        if sure and (apart or not is_of_a_song(above[:_LONGEST])):
            said = " / ".join([one_line(line), *under])
            findings.leave_out("sign-off", f'the end of an email: "{said}"', f"{number}:1")
            return lines[:at]
    return lines


def _closing_block(lines: Numbered, filled: Sequence[int], of_a_mail: bool) -> int | None:
    """Where the last block of a text begins whose last line takes leave with a name ("Your
    Moll", "xx Lou"), and whose others are sentences said to the reader; None for any other."""
    last = filled[-1] if filled else -1
    text = lines[last][1].strip() if filled else ""
    signed = takes_leave_of(text) if of_a_mail else signs_plainly(text)
    if not signed or is_of_a_song(text[:_LONGEST]):
        return None
    first = last
    while first > 0 and lines[first - 1][1].strip():
        first -= 1
    said = [line.strip() for _, line in lines[first:last]]
    sentences = all(one.endswith(_ENDS) and not is_of_a_song(one[:_LONGEST]) for one in said)
    plain = of_a_mail or not said
    return first if first > 0 and plain and sentences and len(said) <= _MOST_SAID_LAST else None


def _long_sign_off(lines: Numbered, filled: Sequence[int], of_a_mail: bool) -> int | None:
    """Where the end of a mail begins that goes on after the writer took leave: a name, how to
    reach who has it, and the like; None where no line there takes leave.  In what shows no sign of
    a mail it must take leave in several words and a comma ("Kind regards,")."""
    for at in reversed(filled[-_MOST_LINES_OF_SIGN_OFF:]):
        text = lines[at][1].strip()
        under = [line.strip() for _, line in lines[at + 1 :] if line.strip()]
        if is_of_a_song(text[:_LONGEST]):
            return None
        apart = at == 0 or not lines[at - 1][1].strip()
        closes = len(text) <= _SAID and CLOSES.fullmatch(text) is not None
        if not of_a_mail and not (closes and " " in text and text.endswith(",")):
            continue
        short = len(text.split()) <= _MOST_WORDS_OF_LEAVE and len(under) == 1
        if not (apart and under) or not (closes or short or text.endswith(",")):
            continue
        name = _A_NAME.fullmatch(under[0]) is not None
        name = name or (closes and _A_LONG_NAME.fullmatch(under[0]) is not None)
        plain = all(_CONTACT.fullmatch(one) or _A_NAME.fullmatch(one) for one in under[1:])
        if name and (plain or closes):
            return at
    return None


def _is_signed(lines: Numbered, at: int) -> bool:
    """Whether the last line of a mail is a name that stands apart, of which no song is sung."""
    text = lines[at][1].strip()
    if at == 0 or lines[at - 1][1].strip() or _A_NAME.fullmatch(text) is None:
        return False
    return text.endswith(".") or not is_of_a_song(text)
