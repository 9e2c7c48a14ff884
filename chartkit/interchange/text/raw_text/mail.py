"""What belongs to a mail and not to the song in it: quoting, head lines, sign-off, signature."""

import re
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise, takewhile

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.head_words.head_labels import writer_of
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.text.raw_text.sign_offs import without_sign_off
from chartkit.interchange.text.raw_text.song_lines import is_of_a_song
from chartkit.interchange.text.tokens import Token
from chartkit.interchange.text.vocabulary.directions import is_greeting
from chartkit.interchange.text.vocabulary.farewells import (
    CLOSES,
    MAIL_HEAD,
    SUBJECTS,
    greets_dearly,
    is_answer,
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
_INITIAL = re.compile(r"\s*[-–—]?\s*[A-Z]\.?(?:\s+x{1,3})?\s*")
_MOST_IN_SIGNATURE = 8
_LONGEST = 160


def without_mail_text(lines: Numbered, findings: Findings, of_a_mail: bool = False) -> Numbered:
    """The lines with those of a mail's head emptied, but for the subject, and without a
    sign-off and a signature at the end; what is left out is reported."""
    lines = _without_last_quote(lines, findings)
    lines = _without_initial(lines, findings)
    gone = _heads(lines) | {i for i, (_, line) in enumerate(lines) if _is_said_by(line)}
    gone -= {i for i in gone if i and is_of_a_song(lines[i - 1][1][:_LONGEST])}  # sung there
    kept = [(n, "" if i in gone else line) for i, (n, line) in enumerate(lines)]
    if gone:
        said = " / ".join(one_line(lines[i][1]) for i in sorted(gone))
        findings.leave_out(
            "mail-head", f'lines of an email\'s head: "{said}"', f"{lines[min(gone)][0]}:1"
        )
    first = next((line.strip() for _, line in lines if line.strip()), "")
    greets = is_greeting(first) or greets_dearly(first) or is_answer(first)
    of_a_mail = of_a_mail or bool(gone) or greets
    return without_sign_off(_without_signature(kept, findings, of_a_mail), findings, of_a_mail)


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


def _without_initial(lines: Numbered, findings: Findings) -> Numbered:
    """The lines with a single letter emptied that signs what a greeting above the song begins, or
    stands under a farewell; it would otherwise be taken for a chord or for a section's name."""
    filled = [i for i, (_, line) in enumerate(lines) if line.strip()]
    first = filled[0] if filled else 0
    above = list(takewhile(lambda i: lines[i][1].strip(), range(first, len(lines))))
    texts = [lines[i][1] for i in above]
    if not 1 < len(texts) <= _MOST_IN_SIGNATURE or not _INITIAL.fullmatch(texts[-1]):
        return lines
    said = [text.strip()[:_LONGEST] for text in texts[:-1]]
    closes = CLOSES.fullmatch(said[-1]) is not None and (len(said) > 1 or said[-1][-1] == ",")
    greets = len(said) > 1 and is_greeting(said[0])
    if any(is_of_a_song(text) or writer_of(text) for text in said) or not (closes or greets):
        return lines
    signed = above[-1 - closes :]
    gone = " / ".join(one_line(lines[i][1]) for i in signed)
    number = lines[signed[0]][0]
    findings.leave_out("signature", f'the signature of a letter: "{gone}"', f"{number}:1")
    return [(n, "" if i in signed else line) for i, (n, line) in enumerate(lines)]


def _heads(lines: Numbered) -> set[int]:
    """Which lines are of a head: two or more together, the first subject of all kept."""
    names = [_header_name(line) for _, line in lines]
    for i in (i for i, (_, line) in enumerate(lines) if line[:3] == "A: "):
        if {*names[max(0, i - 1) : i], *names[i + 1 : i + 2]} & {"Da", "Oggetto"}:
            names[i] = "A"  # Italian for "To"; elsewhere it is a part of the song
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
