"""Removes what encodings leave behind in a text copied from a mail or a web page: quoted-
printable codes, references to characters, tags."""

import quopri
import re
from html import unescape

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.wording import counted

Numbered = list[tuple[int, str]]
"""Lines of a text, each with its number from 1."""

_CODED = re.compile(r"=20$|=3D|=(?:C[23]|E2)=[89AB][0-9A-F]", re.MULTILINE)
"""Codes of quoted-printable (RFC 2045, 6.7) that could hardly be typed among chords: a blank at
a line's end, the equals sign, and letters of UTF-8."""
_STRAY = re.compile(r"\x1b\[[0-9;]{0,12}[A-Za-z]|[\x00-\x08\x0e-\x1f\x7f]")
"""Control characters that are no white space, and how colours are set in a terminal
(ECMA-48, 8.3.117; from memory)."""
_MOST_REPORTED = 20
_REFERENCE = re.compile(r"&(?:#\d{1,7}|#[xX][0-9A-Fa-f]{1,6}|[A-Za-z][A-Za-z0-9]{1,30});")
_LINE_ENDS = re.compile(r"[\u2028\u2029\x85]|(?<!\n)[\f\v](?!\n)")
"""Line ends of word processors and of pages (Unicode Standard, 5.8), where no line ends anyway."""
_WIDEST_GAP = 300
"""More blanks than any line has between its words or before them (ours)."""
_WIDE_GAP = re.compile(rf"(?<![^\S\n])[^\S\n]{{{_WIDEST_GAP},}}")
_TAB = 8
_TAG = re.compile(r"</?(?:br|p|div|span|b|i|u|em|strong|pre|font|tt)(?:\s[^<>]{0,200})?/?>")


def with_line_ends(text: str) -> str:
    """A text whose lines all end in a newline, as those do that a word processor parts."""
    return text if text.isascii() and not _has_breaks(text) else _LINE_ENDS.sub("\n", text)


def _has_breaks(text: str) -> bool:
    return "\f" in text or "\v" in text


def decoded_lines(text: str, findings: Findings) -> Numbered:
    """The lines of a text without what encodings left behind in it, which is reported."""
    text = _WIDE_GAP.sub(_narrower, text)
    lines = list(enumerate(text.split("\n"), 1))
    if _STRAY.search(text):
        lines = _without_strays(lines, findings)
    if _CODED.search(text):
        lines = _decoded(lines)
        findings.guess(
            "mail-codes",
            "the codes of an email in the text (such as =20) are decoded",
        )
    if "&" in text or "<" in text:
        lines = _plain(lines, findings)
    return lines


def _narrower(gap: re.Match[str]) -> str:
    """A gap as wide as a line can have: tools compare each blank of it with all behind it."""
    return gap[0][: _WIDEST_GAP // (_TAB if "\t" in gap[0] else 1)]


def _without_strays(lines: Numbered, findings: Findings) -> Numbered:
    """The lines without control characters, each reported up to some number."""
    reported = 0
    collected: Numbered = []
    for number, line in lines:
        for match in _STRAY.finditer(line):
            reported += 1
            if reported <= _MOST_REPORTED:
                more = f" with {match[0][1:]}" if len(match[0]) > 1 else ""
                findings.leave_out(
                    "control-character",
                    f"a control character (U+{ord(match[0][0]):04X}){more}",
                    f"{number}:{match.start() + 1}",
                )
        collected.append((number, _STRAY.sub("", line)))
    if reported > _MOST_REPORTED:
        findings.leave_out(
            "control-character", f"{reported - _MOST_REPORTED} control characters more"
        )
    return collected


def _decoded(lines: Numbered) -> Numbered:
    """The lines with their codes read; one that ends in "=" goes on in the next."""
    collected: Numbered = []
    open_line = False
    for number, raw in lines:
        whole = collected.pop() if open_line else (number, "")
        open_line = raw.endswith("=")
        collected.append((whole[0], whole[1] + (raw[:-1] if open_line else raw)))
    return [(number, _read(line)) for number, line in collected]


def _read(line: str) -> str:
    if "=" not in line:
        return line
    octets = quopri.decodestring(line.encode())
    try:
        return octets.decode()
    except UnicodeDecodeError:
        return octets.decode("windows-1252", "replace")


def _plain(lines: Numbered, findings: Findings) -> Numbered:
    """The lines with references to characters read, twice where one hides another, and
    without tags."""
    collected: Numbered = []
    changed = 0
    for number, line in lines:
        plain = line
        for _ in range(2 * ("&" in line or "<" in line)):
            plain = _REFERENCE.sub(lambda m: unescape(m[0]).replace("\n", " "), plain)
            plain = _TAG.sub("", plain)
        changed += plain != line
        collected.append((number, plain))
    if changed:
        findings.guess(
            "page-codes",
            f"codes of a web page in {counted(changed, 'line')} (such as &amp;) are decoded",
        )
    return collected
