"""What is said to the players behind a row of chords without any brackets, set in parentheses, so
that its words do not cost the row its chords and its chords are not played.

Source of the words with which such remarks begin: common practice in the languages in which sheets
are often written, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.quick_looks import has_any
from chartkit.interchange.text.rows.chord_a_line import each_line_said_at
from chartkit.interchange.text.tokens import WORDS_TOO, IsChords
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction, says_how
from chartkit.interchange.text.vocabulary.ends_on import song_end
from chartkit.interchange.text.vocabulary.section_names import full_name_at, is_known_name
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of

_LONGEST, _MOST_LINES = 160, 2_000
_LABEL = re.compile(r"\s*(?:[^\W\d_][^:|/()\[\]]{0,24}?\s?:(?=\s)|(?=\S))")
_PIECE = re.compile(r"\([^()|]*\)[^\s|]*|\S+")
_BETWEEN = re.compile(rf"[-–—/.,>→=+&%~]+|N\.?\s?C\.?|\(?(?:{ANY_TIMES})\)?[,;.]?", re.IGNORECASE)
"""What stands between chords: beats, dashes, counts."""
_COUNT = re.compile(rf"\s*\(?(?:{ANY_TIMES})\)?(?!\w)", re.IGNORECASE)
_SIGNED_TIMES = r"(?<!\w)(?:[x×]\s?[2-9]|[2-9]\s?[x×])(?!\w)"
_COUNT_LAST = re.compile(rf"(?<!\S)\(?(?:{ANY_TIMES})\)?$", re.IGNORECASE)
_BARS_AND_MORE = re.compile(
    r"(?P<row>.*\|[\]:]?)(?:\s*[(\[]?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])[)\]]?(?!\w))?"
    r"(?:\s+(?P<sign>[-=~]*[>→»]+|[<←«]+[-=~]*|[*^•·†‡]+)(?=\s))?[\s,;–—]+(?P<said>[^|()\[\]]+)"
)
"""A row of bars, its count, and what stands behind."""
_WORD = re.compile(r"[^\W\d_]{2}")
_LIKE_A_CHORD = re.compile(r"\(?[A-H][#b♯♭]?(?:\S*\d|m(?:aj)?\b|\S*/[A-H])|\(?[A-H][#b♯♭]?[!~.,]*$")
_ORDINAL = (
    r"(?:the\s+|le\s+|la\s+|das\s+|beim\s+|de\s+|den\s+)?(?:last|final|first|second|third|fourth|every|each|"
    r"\d(?:st|nd|rd|th)|letzte[ns]?|erste[ns]?|zweite[ns]?|derni[eè]re|premi[eè]re|deuxi[eè]me|"
    r"[uú]ltima|primera|segunda|ultima|prima|seconda|laatste|sista|siste)"
)
_OPENS = re.compile(
    rf"{_ORDINAL}\s+(?:time|x|go|round|pass|chorus|verse|chord|mal|fois|vez|volta|keer|gången|gang)\b|"
    r"(?:and\s+|und\s+|et\s+|y\s+|e\s+|en\s+|och\s+)?(?:(?:then\s+)?(?:ends?|ending|finish|stop|hold|fade|"
    r"repeat|let|keep|vamp|back|straight|slow|into)|enden?|aufhören|halten|wiederholen|finir|répéter|"
    r"terminar|acabar|finire|ripetere|eindigen|herhalen|sluta)\b",
    re.IGNORECASE,
)
"""How a remark begins that may name chords."""
_ACCIDENTAL = re.compile(
    r"(?:flat|sharp|natural|b[eé]mol(?:le)?|di[eè]se|sostenido|sustenido|diesis|minor|major|mineur|"
    r"majeur|menor|mayor|maior|minore|maggiore|moll|dur|mol|kruis)\b",
    re.IGNORECASE,
)
_ENDS_ON = re.compile(
    rf"(?:{_ORDINAL}\s+time,?\s+)?(?:then\s+|and\s+)?(?:end|ends|ending|finish|stop)\s+(?:(?:on|with)\s+)?"
    r"(?:the\s+|an?\s+)?[A-H][^\s]{0,8}",
    re.IGNORECASE,
)
"""What is read as a row and its last chord."""
_FEWEST, _FEWEST_BARE = 2, 3
"""So many chords stand before a remark behind a gap or a sign, and so many before one that a single
blank sets apart (ours)."""
_FEWEST_WORDS = 2
_SIGNS_AROUND = " ,;–—"
_SIGN_BEFORE = re.compile(r"\s+(?:[-=~]*[>→»]+|[<←«]+[-=~]*|[*^•·†‡]+)(?=\s)")
"""An arrow, or a sign that refers to what it stands behind."""
_EMPHASIS = "*_~"


@dataclass(frozen=True, slots=True)
class _Behind:
    """A row of chords and the remark behind it."""

    row: str
    said: str


def with_remarks_behind_rows(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, what is said behind rows of chords in parentheses."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    return [_with_remark(line, is_chords, findings) for line in lines]


def _with_remark(line: Line, is_chords: IsChords, findings: Findings) -> Line:
    text = line.text
    if not 0 < len(text) <= _LONGEST:
        return line
    jump = _jump_apart(text, is_chords) or _said_behind_last_bar(text, is_chords)
    if jump:
        return replace(line, text=jump, columns=None)
    if "|" in text:
        line = _with_count_first(_with_round_brackets(line, is_chords), is_chords)
        text = line.text
    behind = _behind_bars(text, is_chords) if "|" in text else _behind(text, is_chords)
    if behind is None:
        return line
    findings.guess(
        "remark-behind-chords",
        f'"{behind.said}" behind a row of chords is taken as said to the players',
        line.place(text.rfind(behind.said)),
    )
    said = re.sub(r"\s*[()\[\]]\s*", _bracket, behind.said).strip()
    return replace(line, text=f"{behind.row}  ({said})")


_JUMP_BEHIND = re.compile(
    r"(?P<row>.*?\S)\s+(?P<jump>(?:d\.?\s?[sc]\.?|dal segno|da capo)\s+(?:al|to)\s+"
    r"(?:the\s+)?(?:\d\.?\s+)?(?:coda|fine|segno|end)\b[.!]?)\s*\|{0,2}\s*",
    re.IGNORECASE,
)
_JUMP_AS_BAR = re.compile(
    r"(?P<row>.*\|)\s*(?P<jump>fine|to\s+coda|al\s+coda|d\.?\s?[sc]\.?)\s*\|{1,2}\s*", re.IGNORECASE
)
"""A jump behind chords, or where a bar would be."""


def _jump_apart(text: str, is_chords: IsChords) -> str:
    """A row of chords with the jump behind it in parentheses; empty for any other line."""
    small = text.casefold()
    if not any(word in small for word in ("coda", "fine", "segno", "d.", " ds ", " dc ")):
        return ""
    match = _JUMP_BEHIND.fullmatch(text) or _JUMP_AS_BAR.fullmatch(text)
    label = _LABEL.match(text)
    start = _after_name(text) or (label.end() if label is not None else 0)
    if match is None or not start < match.end("row") or "(" in match["row"][-1:]:
        return ""
    if not is_chords(match["row"][start:].strip()):
        return ""
    return f"{match['row'].rstrip()}  ({match['jump'].strip()})"


_OPEN_BAR = re.compile(
    r"(?P<row>[^|]*\|.*\|\s*[A-H%][^\s|]*(?: [A-H%/][^\s|]*)*)\s{2,}"
    r"(?P<said>[a-zäöüéèñ][^|()]{2,60})"
)


def _said_behind_last_bar(text: str, is_chords: IsChords) -> str:
    """A row whose last bar has no bar line behind it, with what is said of it in small letters in
    parentheses; empty for any other line."""
    match = _OPEN_BAR.fullmatch(text) if text.count("|") > 1 else None
    if match is None or not says_how(match["said"]) or is_chords(match["said"]):
        return ""
    label = _LABEL.match(text)
    start = _after_name(text) or (label.end() if label is not None else 0)
    return f"{match['row']}  ({match['said'].strip()})" if is_chords(match["row"][start:]) else ""


_WORDS_WITHIN = r"[^\[\]|()]*[^\W\d_]{2}[^\[\]|()]*"
_SQUARED = re.compile(rf"\(\[({_WORDS_WITHIN})\]\)|\[({_WORDS_WITHIN})\]")
"""Words in square brackets."""


def _with_round_brackets(line: Line, is_chords: IsChords) -> Line:
    """A row of bars with what is said in square brackets in parentheses; any other line as it
    is."""
    if "[" not in line.text or not is_chords(_SQUARED.sub(" ", line.text).strip()):
        return line
    return replace(line, text=_SQUARED.sub(lambda one: _in_round(one, is_chords), line.text))


def _in_round(match: re.Match[str], is_chords: IsChords) -> str:
    """Words in square brackets in parentheses; chords there as they are."""
    said = match[1] or match[2]
    behind_bars = "|" in match.string[: match.start()]
    return f"({said})" if behind_bars and not is_chords(said) else match[0]


_BARS_COUNTED = re.compile(r"(?P<row>.*\|[:|\]]*)\s*(?P<tail>[^|]*[^|\s][^|]*)")
_COUNT_AND_SAID = re.compile(
    rf"[(\[]?(?P<first>{_SIGNED_TIMES})[)\]]?\s*[,;–-]?\s*(?P<behind>\S.*)|"
    rf"(?P<before>\S.*?)\s*[,;–-]?\s*[(\[]?(?P<last>{_SIGNED_TIMES})[)\]]?|"
    rf"[(\[]?(?P<spelled>{ANY_TIMES})[)\]]?\s*[,;–-]\s*(?P<more>\S.*)",
    re.IGNORECASE,
)


def _with_count_first(line: Line, is_chords: IsChords) -> Line:
    """A row of bars with a count and a remark behind it, in either order ("| G | A |  x3  full
    band", "| G | twice, quiet"), with the remark in parentheses behind the count; any other line
    as it is."""
    bars = _BARS_COUNTED.fullmatch(line.text)
    tail = _COUNT_AND_SAID.fullmatch(bars["tail"].strip()) if bars is not None else None
    if bars is None or tail is None:
        return line
    said = (tail["behind"] or tail["before"] or tail["more"]).strip(" ()[]")
    bars_hold = any(map(is_chords, re.split(r"[\s|:]+", bars["row"])))
    if not bars_hold or not _WORD.search(said) or any(map(is_chords, (said, *said.split()))):
        return line
    count = tail["first"] or tail["last"] or f"x{times_of(tail['spelled'])}"
    return replace(line, text=f"{bars['row']}  {count} ({said})")


def _bracket(match: re.Match[str]) -> str:
    """Nothing for a bracket within a chord, a blank for any other."""
    return " " if match[0] != match[0].strip() else ""


def _behind(text: str, is_chords: IsChords) -> _Behind | None:
    """The row of chords at the beginning of a line, and the remark behind it; None where there is
    no such remark."""
    label = _LABEL.match(text)
    start = _after_name(text) or (label.end() if label is not None else 0)
    each = each_line_said_at(text)
    row = text[:each].rstrip(f"{_SIGNS_AROUND}-")
    if each < len(text) and is_chords(row[start:]):
        return _Behind(row, text[each:].strip(_SIGNS_AROUND))
    chords, sure, end = 0, False, start
    counted = False
    for match in _PIECE.finditer(text, start):
        piece = match[0]
        bare = piece.strip(",;")
        if is_chords(bare):
            if counted:
                return None  # "A twice, B twice, then C": parts in their order
            chords, sure = chords + 1, sure or bare not in WORDS_TOO
        elif not chords or not (_BETWEEN.fullmatch(piece) or _is_aside(piece)):
            break
        counted = counted or (_COUNT_LAST.fullmatch(bare) is not None and bare.isalpha())
        end = match.end()
    else:
        return None
    if chords == 0 or ((count := _COUNT.match(text, end)) is not None and not sure):
        return None
    end = count.end() if count is not None else end
    said_from, end = _behind_sign(text, end)
    said = text[said_from:].strip(_SIGNS_AROUND)
    if len(said) > 2 and said[0] == said[-1] and said[0] in _EMPHASIS:
        said = said.strip(said[0]).strip()
    if not _is_remark(text[:end], text[end:], said, chords if sure else 0, is_chords):
        return None
    return _Behind(text[:end].rstrip(_SIGNS_AROUND), said)


def _behind_sign(text: str, end: int) -> tuple[int, int]:
    """Where a remark begins behind a row, and where the row ends, without a sign between them that
    nobody plays ("<-")."""
    row = text[:end].rstrip()
    last = row.rfind(" ")
    if last > 0 and _SIGN_BEFORE.match(f"{row} ", len(row[:last].rstrip())):
        return end, len(row[:last].rstrip())  # an arrow that is a sign of rows too
    sign = _SIGN_BEFORE.match(text, len(row))
    return (sign.end(), len(row)) if sign is not None else (end, end)


def _behind_bars(text: str, is_chords: IsChords) -> _Behind | None:
    """The row of bars at the beginning of a line, and the remark behind its last bar line; None
    where there is no such remark."""
    match = _BARS_AND_MORE.fullmatch(text)
    if match is None:
        return None
    said = match["said"].strip(_SIGNS_AROUND)
    words = said.split()
    label = _LABEL.match(text)
    start = _after_name(text) or (label.end() if label is not None else 0)
    if len(words) < _FEWEST_WORDS or _WORD.search(words[0]) is None or "_" in words:
        return None  # a low line holds a syllable
    if words[0].istitle() and not (match["sign"] or count_words(said).strong):
        return None  # a capital begins a line of words, or names a section
    if full_name_at(said, 0) or _LIKE_A_CHORD.match(words[0]) or _ends_on(said, is_chords):
        return None
    if is_chords(said) or not is_chords(text[start : match.end("row")]):
        return None
    row = text[: match.start("sign" if match["sign"] else "said")].rstrip(_SIGNS_AROUND)
    if name := _after_name(text):
        row = f"{text[:name].rstrip()}: {row[name:]}"  # so that nobody counts the words behind
    return _Behind(row, said)


def _after_name(text: str) -> int:
    """Where more begins behind the name of a section and blanks alone ("OUTRO E5 G5"); 0 where no
    name stands first."""
    if not text.strip():
        return 0
    indent = len(text) - len(text.lstrip())
    first = text.split(maxsplit=1)[0]
    known = first[-1] != ":" and is_known_name(first)
    end = full_name_at(text, indent) or (indent + len(first) if known else 0)
    apart = ":" not in text[:end] and text[end : end + 1] == " "
    return len(text) - len(text[end:].lstrip()) if apart else 0


def _is_aside(piece: str) -> bool:
    return piece.startswith("(") and piece.endswith(")")


def _ends_on(said: str, is_chords: IsChords) -> bool:
    """Whether what stands behind a row is its last chord ("end on D", "terminar em Am")."""
    return _ENDS_ON.fullmatch(said) is not None or song_end(said, is_chords) is not None


def _is_remark(row: str, rest: str, said: str, chords: int, is_chords: IsChords) -> bool:
    """Whether what stands behind some sure chords is said to the players."""
    words = said.split()
    if not words or (_WORD.search(words[0]) is None and not words[0][0].isdigit()):
        return False
    if _LIKE_A_CHORD.match(words[0]) is not None or _ACCIDENTAL.match(said) is not None:
        return False  # a chord with a slip of the finger, or spelled out
    opens = _OPENS.match(said) is not None
    if _ends_on(said, is_chords) or (full_name_at(said, 0) and not opens):
        return False  # a last chord, or the next section
    apart = rest.startswith("  ") or row.endswith((",", ";")) or rest.lstrip()[:1] in ",;–—"
    signed = _SIGN_BEFORE.match(rest) is not None
    apart = apart or signed or _COUNT_LAST.search(row) is not None
    bare_name = _after_name(row) > 0
    has_name = has_any(row, ":") or bare_name
    if bare_name and words[0][0].isdigit():
        return False  # the next column of a table
    least = _FEWEST if apart or has_name else _FEWEST_BARE
    least = 1 if bare_name and rest.startswith("  ") else least
    if chords < least or (words[0].istitle() and not (signed or count_words(said).strong)):
        return False  # a capital begins a line of words
    if opens:
        return len(words) > 1 or is_direction(words[0].strip(".!"))
    named = sum(is_chords(one.strip(",;.")) and one not in WORDS_TOO for one in words)
    return len(words) - named >= _FEWEST_WORDS and named * 2 <= len(words)
