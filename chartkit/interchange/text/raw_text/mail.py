"""What belongs to a mail and not to the song in it: quoting, head lines, sign-off, signature."""

import re
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.text.tokens import Token
from chartkit.interchange.text.vocabulary.directions import is_greeting, is_talk
from chartkit.interchange.text.vocabulary.farewells import (
    CLOSES,
    MAIL_HEAD,
    SUBJECTS,
    greets_dearly,
    is_answer,
    signs_plainly,
    takes_leave_of,
)
from chartkit.interchange.wording import one_line

_OF_A_HEAD = re.compile(rf"\s*({MAIL_HEAD})\s*:(?=\s|$)")
_SAID_BY = re.compile(
    r"\s*(?:-{2,}.{3,40}(?i:message|nachricht|mensaje).{0,20}-{2,}|"
    r"(?:On|Am|Le|El)\b.{6,120}\b(?:wrote|schrieb.{0,60}|a écrit|escribió)\s?:|"
    r"Sent from my .{1,30}|Von meinem .{1,30} gesendet\.?)\s*"
)
_SIGNATURE = re.compile(r"\s*-- ?")
"""RFC 3676, 4.3: two dashes and a blank begin a signature; many programs drop the blank."""
_MOST_IN_SIGNATURE = 8
_LIKE_MUSIC = re.compile(
    r"[|:(\[]*(?:[A-H][#b♭♯\dmsaugdi+()/A-G]{0,8}[*:|)\],.]*|[|/%:x-]\S{0,8}|N\.?C\.?)"
)
_LONGEST = 160
_SAID = 60


_A_NAME = re.compile(r"[A-ZÄÖÜ]\w{0,20}\.?(?:\s[A-ZÄÖÜ]\w{0,20}\.?)?(?:\s+xx?)?")
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


def without_mail_text(lines: Numbered, findings: Findings, of_a_mail: bool = False) -> Numbered:
    """The lines with those of a mail's head emptied, but for the subject, and without a
    sign-off and a signature at the end; what is left out is reported."""
    lines = _without_last_quote(lines, findings)
    gone = _heads(lines) | {i for i, (_, line) in enumerate(lines) if _is_said_by(line)}
    kept = [(n, "" if i in gone else line) for i, (n, line) in enumerate(lines)]
    if gone:
        said = " / ".join(one_line(lines[i][1]) for i in sorted(gone))
        findings.leave_out(
            "mail-head", f'lines of an email\'s head: "{said}"', f"{lines[min(gone)][0]}:1"
        )
    first = next((line.strip() for _, line in lines if line.strip()), "")
    greets = is_greeting(first) or greets_dearly(first) or is_answer(first)
    of_a_mail = of_a_mail or bool(gone) or greets
    return _without_sign_off(_without_signature(kept, findings, of_a_mail), findings, of_a_mail)


def _without_last_quote(lines: Numbered, findings: Findings) -> Numbered:
    """The lines without an older mail at the end: who wrote it, and nothing but quoted lines."""
    filled = [i for i, (_, line) in enumerate(lines) if line.strip()]
    first = len(filled)
    while first and lines[filled[first - 1]][1].startswith(">"):
        first -= 1
    if not 0 < first < len(filled) or not _is_said_by(lines[filled[first - 1]][1]):
        return lines
    at = filled[first - 1]
    said = " / ".join(one_line(lines[i][1]) for i in filled[first:])
    findings.leave_out("quoted-mail", f'an older email below: "{said}"', f"{lines[at][0]}:1")
    return lines[: at + 1]


def _without_sign_off(lines: Numbered, findings: Findings, of_a_mail: bool) -> Numbered:
    """The lines up to where the writer takes leave: a line that does so, and a name at the end.

    In what shows no sign of a mail it must stand apart, end in a comma, and have a name under it.
    """
    filled = [i for i, (_, line) in enumerate(lines) if line.strip()]
    if of_a_mail and filled and _is_signed(lines, filled[-1]):
        number, line = lines[filled[-1]]
        findings.leave_out("sign-off", f'the end of an email: "{one_line(line)}"', f"{number}:1")
        return _without_sign_off(lines[: filled[-1]], findings, of_a_mail=True)
    at = _closing_block(lines, filled, of_a_mail)
    if at is None and of_a_mail:
        at = _long_sign_off(lines, filled)
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


def _long_sign_off(lines: Numbered, filled: Sequence[int]) -> int | None:
    """Where the end of a mail begins that goes on after the writer took leave: a name, how to
    reach who has it, and the like; None where no line there takes leave."""
    for at in reversed(filled[-_MOST_LINES_OF_SIGN_OFF:]):
        text = lines[at][1].strip()
        under = [line.strip() for _, line in lines[at + 1 :] if line.strip()]
        if is_of_a_song(text[:_LONGEST]):
            return None
        apart = at == 0 or not lines[at - 1][1].strip()
        closes = len(text) <= _SAID and CLOSES.fullmatch(text) is not None
        short = len(text.split()) <= _MOST_WORDS_OF_LEAVE and len(under) == 1
        if not (apart and under) or not (closes or short or text.endswith(",")):
            continue
        name = _A_NAME.fullmatch(under[0]) is not None
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


def _heads(lines: Numbered) -> set[int]:
    """Which lines are of a head: two or more together, the first subject of all kept."""
    names = [_header_name(line) for _, line in lines]
    heads = {
        i
        for i, name in enumerate(names)
        if name and (names[i - 1 : i] not in ([], [""]) or names[i + 1 : i + 2] not in ([], [""]))
    }
    first = min((i for i in heads if names[i] in SUBJECTS.split("|")), default=-1)
    return heads - {first}


def _header_name(line: str) -> str:
    match = _OF_A_HEAD.match(line) if ":" in line[:20] else None
    return match[1] if match else ""


def is_of_a_head(line: str) -> bool:
    """Whether a line could be one of a mail's head, or says who wrote it when."""
    return bool(_header_name(line)) or _is_said_by(line)


def _is_said_by(line: str) -> bool:
    return len(line) <= _LONGEST and _SAID_BY.fullmatch(line) is not None


def _without_signature(lines: Numbered, findings: Findings, of_a_mail: bool) -> Numbered:
    """The lines up to a signature: few lines to the end with neither heading nor chords."""
    filled = 0
    for at in range(len(lines) - 1, -1, -1):
        number, line = lines[at]
        if _SIGNATURE.fullmatch(line) and (line.endswith(" ") or of_a_mail):
            if not filled:
                return lines[:at]
            said = " / ".join(one_line(text) for _, text in lines[at + 1 :] if text.strip())
            findings.leave_out("signature", f'the signature of an email: "{said}"', f"{number}:1")
            return lines[:at]
        filled += bool(line.strip())
        if filled > _MOST_IN_SIGNATURE or is_of_a_song(line[:_LONGEST]):
            break
    return lines


def is_of_a_song(line: str) -> bool:
    """Whether a line is a section's name or could be a row of chords."""
    words = line.split()
    return bool(words) and (
        heading_of(line) is not None or all(_LIKE_MUSIC.fullmatch(word) for word in words)
    )


_QUOTE = re.compile(r"(?:> ?)+")
_FEWEST_QUOTED = 3

Kinds = list[tuple[Token, ...] | None]


def unquoted(lines: Numbered, findings: Findings) -> Numbered:
    """The lines of a quoted mail without its signs, everything in its column; others as they
    are.  What is said around a song that is quoted itself is left out and reported."""
    filled = sum(bool(line.strip()) for _, line in lines)
    quoted = sum(line.startswith(">") for _, line in lines)
    if not quoted or quoted < min(filled, _FEWEST_QUOTED):
        return lines
    levels = [_level(line) for _, line in lines]
    if quoted < filled and not any(above and below for above, below in pairwise(levels)):
        return lines  # a quoted mail has several lines together: these are remarks
    bare = [
        (
            number,
            _QUOTE.sub(lambda signs: " " * len(signs[0]), line, count=1)
            if line.startswith(">")
            else line,
        )
        for number, line in lines
    ]
    return _without_answers(bare, levels, findings)


def _level(line: str) -> int:
    match = _QUOTE.match(line)
    return match[0].count(">") if match is not None else 0


def _without_answers(lines: Numbered, levels: Sequence[int], findings: Findings) -> Numbered:
    """The lines without those at a lower level of quoting than the song's."""
    music = Counter(
        level for (_, line), level in zip(lines, levels, strict=True) if is_of_a_song(line)
    )
    song = max(music, key=lambda level: (music[level], level), default=0)
    kept: Numbered = []
    gone: Numbered = []
    for (number, line), level in zip(lines, levels, strict=True):
        lower = level < song and line.strip() and not is_of_a_head(line)
        if not lower and line.strip():
            _tell_answers(gone, findings)
        if lower:
            gone.append((number, line))
        kept.append((number, "" if lower else line))
    _tell_answers(gone, findings)
    return kept


def _tell_answers(gone: Numbered, findings: Findings) -> None:
    if gone:
        said = " / ".join(one_line(line) for _, line in gone)
        findings.leave_out(
            "around-the-quote", f'remarks around the quoted song: "{said}"', f"{gone[0][0]}:1"
        )
        gone.clear()
