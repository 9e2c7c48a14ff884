"""Signs that people write between chords on paper, and that mean something else here or nothing:
reported once a row, and read as they were meant.

What they mean is common practice, no source.
"""

import re

from chartkit.chart.marks import mark_from_paper
from chartkit.syntax.report import Report
from chartkit.syntax.symbol import chord_or_none

_CUE = re.compile(r'"[^"]*"')
_LISTED = re.compile(r"(?<=[^\s|,;])(?:;|,(?=\s))")
"""A comma or semicolon after a chord, with a blank after the comma."""
_BETWEEN = re.compile(r"\s+(?:[-–—>→]|->|=>)\s+")
_METER = re.compile(r"(?<![^\s|])\(\s*(\d{1,2}/\d{1,2})\s*\)")
_PARENTHESIS = re.compile(r"\(([A-Za-z.][A-Za-z. ]{2,20})\)")
_TIMES = re.compile(
    r"(?<=:\|)(\s*)\(?(?:(?:[x×]\s+|\*\s*|[x×](?=\d{1,2}\.))(?P<behind>\d{1,2})(?![\d/]|\.\d)\.?"
    r"|(?P<before>\d{1,2})(?:\s*times|\s+[x×])(?!\w)|(?P<word>twice|thrice)(?!\w))\)?",
    re.IGNORECASE,
)
"""How often a repeat is played, in any manner but that of the language."""
_MARK_APART = re.compile(r"@\s+([^\W\d][^\s|()]{0,20})")
_ANY = re.compile(r"[;,(>→–—]|\s-\s|:\||\./|\bbar|\bdal?\s|@\s", re.IGNORECASE)
"""Without one of these a row has none of the signs."""
_SPELLED_OUT = re.compile(
    r"(?<![^\s|])@?(dal\s+segno|da\s+capo)(?:\s+(al\s+(?:fine|coda)))?(?![^\s|])", re.IGNORECASE
)
_SIMILE = re.compile(r"(?<!\S)\.(//?)\.(?!\S)")
"""The sign for a bar, or two bars, played again, as it is typed from paper."""
_RESTS = re.compile(r"(?<!\S)(\d{1,3})\s*bars?\s*(?:of\s+)?rest(?!\S)", re.IGNORECASE)
_FEWEST_COMMAS = 2
"""So many commas with a blank after them part chords; a single one may be a slip in a beat."""


def read_as_meant(music: str, report: Report) -> str:
    """The row, without its comment, as it was meant; places stay as typed."""
    if _ANY.search(music) is None:
        return music
    hidden = _CUE.sub(lambda cue: "." * len(cue[0]), music)
    music, hidden = _marks_apart(music, hidden, report)
    music, hidden = _spelled_out(music, hidden, report)
    if "|" not in hidden:
        return _row_of_chords(music, hidden, report)
    for signs in (_listed, _meters, _marks, _times, _similes, _rests):
        music, hidden = signs(music, hidden, report)
    return music


def _replaced(music: str, match: re.Match[str], meant: str) -> str:
    return f"{music[: match.start()]}{meant.ljust(len(match[0]))}{music[match.end() :]}"


def _row_of_chords(music: str, hidden: str, report: Report) -> str:
    """A row without bar lines whose chords are parted by dashes or arrows."""
    chords = _BETWEEN.split(hidden.strip())
    if len(chords) < 3 or not all(map(chord_or_none, chords)):
        return music
    first = next(_BETWEEN.finditer(hidden))
    report.add(
        "signs-between-chords",
        *first.span(),
        "only bar lines stand between chords",
        f'write the bars: "| {" | ".join(chords)} |"',
    )
    return _BETWEEN.sub(lambda match: " " * len(match[0]), music)


def _listed(music: str, hidden: str, report: Report) -> tuple[str, str]:
    """Reports commas or semicolons between the chords of a bar, and replaces them by blanks."""
    separators = list(_LISTED.finditer(hidden))
    if not separators or (hidden.count(";") == 0 and len(separators) < _FEWEST_COMMAS):
        return music, hidden
    places = {match.start() for match in separators}
    meant = " ".join("".join(c for i, c in enumerate(music) if i not in places).split())
    report.add(
        "signs-between-chords",
        *separators[0].span(),
        "the chords of a bar have no comma or semicolon between them",
        f'write blanks instead: "{meant}"',
    )
    for match in separators:
        music, hidden = _replaced(music, match, ""), _replaced(hidden, match, "")
    return music, hidden


def _meters(music: str, hidden: str, report: Report) -> tuple[str, str]:
    """Reports time signatures in parentheses, and writes them without."""
    for match in list(_METER.finditer(hidden)):
        report.add(
            "meter-typed-on",
            *match.span(),
            "a time signature has no parentheses",
            f'write it first in its bar: "{match[1]}"',
        )
        music, hidden = _replaced(music, match, match[1]), _replaced(hidden, match, match[1])
    return music, hidden


def _marks(music: str, hidden: str, report: Report) -> tuple[str, str]:
    """Reports marks in parentheses, (D.S.) or (to coda), and takes them out."""
    for match in list(_PARENTHESIS.finditer(hidden)):
        mark = mark_from_paper(match[1])
        if mark:
            report.add(
                "mark-without-sign",
                *match.span(),
                "a mark has no parentheses, and begins with @",
                f'write "{mark}"',
            )
            music, hidden = _replaced(music, match, ""), _replaced(hidden, match, "")
    return music, hidden


def _marks_apart(music: str, hidden: str, report: Report) -> tuple[str, str]:
    """Reports a mark with a blank after its sign, ``@ fermata``, and joins the two."""
    for match in list(_MARK_APART.finditer(hidden)):
        mark = mark_from_paper(match[1])
        if mark:
            report.add(
                "mark-without-sign",
                *match.span(),
                f'"{match[0]}" has a blank after its sign',
                f'write "{mark}"',
            )
            music, hidden = _replaced(music, match, mark), _replaced(hidden, match, mark)
    return music, hidden


def _spelled_out(music: str, hidden: str, report: Report) -> tuple[str, str]:
    """Reports D.S. and D.C. in full, "Dal Segno al Coda", and abbreviates them."""
    for match in list(_SPELLED_OUT.finditer(hidden)):
        sign = "@D.S." if "segno" in match[1].lower() else "@D.C."
        meant = " ".join([sign, *(match[2] or "").lower().split()])
        report.add(
            "mark-without-sign",
            *match.span(),
            f'"{match[0]}" is a mark, and marks are short here',
            f'write "{meant}"',
        )
        music, hidden = _replaced(music, match, meant), _replaced(hidden, match, meant)
    return music, hidden


def _times(music: str, hidden: str, report: Report) -> tuple[str, str]:
    """Reports how often a repeat is played in words, ``:| 3 times``, or otherwise, ``:| *3``, and
    writes ``x3``."""
    for match in list(_TIMES.finditer(hidden)):
        word = (match["word"] or "").lower()
        times = match["behind"] or match["before"] or {"twice": "2", "thrice": "3"}[word]
        report.add(
            "times-without-repeat",
            match.start() + len(match[1]),
            match.end(),
            "how often a repeat is played is typed in another way",
            f'write "x{times}"',
        )
        meant = f"{match[1]}x{times}"
        music, hidden = _replaced(music, match, meant), _replaced(hidden, match, meant)
    return music, hidden


def _similes(music: str, hidden: str, report: Report) -> tuple[str, str]:
    """Reports simile signs typed as ``./.``, and writes ``%``."""
    for match in list(_SIMILE.finditer(hidden)):
        meant = "%" * len(match[1])
        report.add(
            "simile-from-paper",
            *match.span(),
            f'the sign "{match[0]}" is typed in another way',
            f'write "{meant}"',
        )
        music, hidden = _replaced(music, match, meant), _replaced(hidden, match, meant)
    return music, hidden


def _rests(music: str, hidden: str, report: Report) -> tuple[str, str]:
    """Reports bars of rest in words, ``4 bars rest``, and writes ``rest 4``."""
    for match in list(_RESTS.finditer(hidden)):
        meant = f"rest {match[1]}"
        report.add(
            "bad-rest",
            *match.span(),
            "the number of bars comes after its rest",
            f'write "{meant}"',
        )
        music, hidden = _replaced(music, match, meant), _replaced(hidden, match, meant)
    return music, hidden
