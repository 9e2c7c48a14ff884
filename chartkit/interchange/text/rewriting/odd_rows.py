"""Rows of chords typed in odd ways, rewritten as rows usually stand: qualities apart from their
roots, fingerings under the chords, words behind the last repeat sign, a whole chorus in one line.

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, is_empty
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, times_of

_ROOT = r"[A-H](?:is|es|[#b♯♭])?"
_QUALITY = (
    r"(?:maj|min|dim|aug|sus|add|dom|major|minor|Maj|Min|MAJ|MIN|Δ|ø|°)\.?[24679]?(?:1[13])?|"
    r"(?:m|M)?[679](?![^\W])|sus[24]|add9"
)
_APART = re.compile(rf"(?<![^\s(|])(?P<root>{_ROOT}) (?P<quality>{_QUALITY})(?=$|[\s|)])")
_FRETS = re.compile(r"[xX0-9]{6}|[xX0-9]{1,2}(?:-[xX0-9]{1,2}){5}")
_ROOT_FIRST = re.compile(rf"\(?{_ROOT}(?![^\W\d_]{{3}})")
_NEAR = 2
"""The chords of fingerings stand right above them or above the words between."""
_BEHIND_REPEAT = re.compile(
    r"(?P<row>\s*\|.*?:\|{1,2}|.*?\|.*:\|{1,2})\s+(?P<said>(?=[^|]*[^\W\d_]{3})[^|(]{3,60})"
)
_BEHIND_BARS = re.compile(
    r"(?P<row>\s*\|[^()]*\|)\s{2,}(?P<said>(?=[^|]*[^\W\d_]{3})[^\s|(][^|(]{2,60})"
)
"""Bars, a gap, and words."""
_WORDS_AND_BARS = re.compile(
    r"\s*(?P<words>(?:[^\W\d_][\w,.!?'’-]*[ ]){2,20}[^\W\d_][\w,.!?'’-]*)\s{2,40}"
    r"(?P<row>\|[^()]*\|)\s*"
)
_STROKE_BEFORE = re.compile(r"(?<!\S)/(?=[A-H][^\s/]*(?!\S)|\s*$|\s+(?:[x×(]|\d))")
"""A stroke before the chords of a bar, or behind the last one."""
_STROKE_BEHIND = re.compile(r"(?<=\S)/(?!\S)")
_FEWEST_STROKES = 3
_COUNT = re.compile(r"\s*\(?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\)?\s*$", re.IGNORECASE)
_STROKE = re.compile(r"\s+/{1,2}\s+")
_COUNTS_BARS = re.compile(
    r"(?<![^\W_])(?:8|12|16|24|32|eight|twelve|sixteen|zwölf)[ -]?(?:bars?|takte?[rn]?|mesures|"
    r"compases|battute|compassos|takter)\b|\bblues\b",
    re.IGNORECASE,
)
_BARS_IN_A_LINE = 4
_LENGTHS = frozenset({8, 12, 16, 24, 32})
"""Bars of a whole chorus."""
_FEWEST = 2
_LONGEST, _MOST_LINES = 240, 2_000


_SLIPPED = re.compile(r"[a-g](?:m|7|m7|#)?")
"""A chord in a small letter."""
_SMALL = re.compile(r"(?<!\S)[a-g](?=(?:m|7|m7|#)?(?!\S))")
_NARROW = re.compile(r"\S \S")
"""Chords as near to each other as words."""
_PIECES_APART = re.compile(r"\s{2,}|\s*[()|:;]\s*|\s[-–—/~>=]{1,3}\s|\s*\.{3,80}\s*|\t")
_LIKE_A_CHORD = re.compile(
    r"(?:[A-H](?:is|es|s)?|(?:DO|RE|RÉ|MI|FA|SOL|LA|SI|Do|Re|Ré|Dó|Mi|Fa|Fá|Sol|La|Lá|Si))"
    r"[#b♯♭]?(?:maj|min|m|M|dim|sus|add|aug|[2-9]|1[13]|\+|°|ø|-)*(?:/\S{1,4})?"
)


_SHORT_CHORD = (
    r"(?:(?:[A-Ha-h](?:is|es)?|(?:[Dd]o|[Rr][eé]|[Mm]i|[Ff]a|[Ss]ol|[Ll]a|[Ss]i))"
    r"[#b]?(?:m|maj|min|dim|sus|add|[2-9])*)"
)
_AMONG_WORDS = re.compile(rf"\(({_SHORT_CHORD})\)")
"""What may be a chord in parentheses, in small letters too."""
_TOUCHING = re.compile(rf"\({_SHORT_CHORD}\)[^\W\d_]|[^\W\d_]\({_SHORT_CHORD}\)")


def rows_within(texts: Sequence[str]) -> list[str]:
    """The rows of chords within lines that hold more: in brackets, in cells, behind signs; they
    tell how a sheet names its notes."""
    rows: list[str] = []
    for text in texts if len(texts) <= _MOST_LINES else ():
        pieces = _PIECES_APART.split(text.strip()) if len(text) <= _LONGEST else []
        for piece in pieces if len(pieces) > 1 else ():
            tokens = piece.split()
            if len(tokens) > 1 and all(map(_LIKE_A_CHORD.fullmatch, tokens)):
                rows.append(piece)
        if "(" in text and len(pieces) > 1 and (within := _AMONG_WORDS.findall(text)):
            rows += [" ".join(within)] if _touch_words(text) else []
        if "  " in text and len(pieces) > 1:
            alone = [one for one in pieces if one and _LIKE_A_CHORD.fullmatch(one)]
            rows += [" ".join(alone)] if len(alone) > 1 else []
    return rows


def _touch_words(text: str) -> bool:
    """Whether all that stands in parentheses in a line may be chords, and most of it touches the
    words of the line."""
    signs = text.count("(")
    chords = _AMONG_WORDS.findall(text)
    return len(chords) == signs > 1 and len(_TOUCHING.findall(text)) * 2 >= signs


def is_row_in_brackets(text: str) -> bool:
    """Whether a text is nothing but what may be chords, in parentheses."""
    tokens = text[1:-1].split() if text[:1] + text[-1:] == "()" else []
    return bool(tokens) and all(map(_LIKE_A_CHORD.fullmatch, tokens))


def with_usual_rows(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, rows of chords typed in odd ways as they usually stand."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    counts_bars = any(_COUNTS_BARS.search(line.text[:_LONGEST]) for line in lines)
    result: list[Line] = []
    for at, line in enumerate(lines):
        if is_empty(lines, at - 1):
            line = _with_place_as_name(line, is_chords)
        line = _with_cue_between(_with_lines_for_brackets(line, is_chords), is_chords)
        text = line.text if len(line.text) <= _LONGEST else ""
        if not any(map(str.isalnum, text)):
            result.append(line)
        elif _are_frets(text):
            at, shapes = _shapes(text, [one.text for one in result])
            result.insert(at, replace(line, text=shapes, columns=None))
        elif counts_bars and (rows := _rows_of_chorus(text, is_chords)):
            findings.guess(
                "chorus-in-one-line",
                f"strokes part {len(rows)} lines of {_BARS_IN_A_LINE} bars, one chord in each",
                line.place(),
            )
            result += [replace(line, text=row, columns=None) for row in rows]
        elif rows := rows_by_strokes(text, is_chords):
            findings.guess(
                "lines-by-strokes",
                f"strokes part {len(rows)} lines of chords: each is a row of its own",
                line.place(),
            )
            result += [replace(line, text=row, columns=None) for row in rows]
        else:
            line = _with_capitals(_with_roots_joined(line, is_chords), is_chords)
            line = _with_bars_for_strokes(line, is_chords)
            result += _bars_and_words(_with_words_apart(line, is_chords), is_chords)
    return result


_BETWEEN_BARS = re.compile(
    r"\|(?P<gap>\s*)\(?(?P<said>[^\W\d_]{2}[^|:()]{0,30}?)\)?:(?P<behind>\s+)\|(?=[\s:]*[A-H%(/N])"
)


def _with_cue_between(line: Line, is_chords: IsChords) -> Line:
    """A row of bars with words and a colon between two bar lines as one said at the next bar ("| C
    | lift: | E |"): they lead to what stands behind them, and fill no bar."""
    text = line.text
    if ":" not in text or text.count("|") <= _FEWEST or len(text) > _LONGEST:
        return line
    written = _BETWEEN_BARS.sub(
        lambda one: f"|{one['gap']}({one['said']}){one['behind']} ".ljust(len(one[0])), text
    )
    said = (one["said"] for one in _BETWEEN_BARS.finditer(text))
    if written == text or any(map(is_chords, said)) or not is_chords(written[written.index("|") :]):
        return line
    return replace(line, text=written)


_PLACE_BEHIND = re.compile(
    r"(?P<row>\S(?:.*?\S)?)(?:\s*+[,–—-])?\s++\(?(?:"
    r"(?P<start>to (?:start|begin|open|kick off)(?: with)?|"
    r"(?:for|as) (?:the |an )?intro|zum anfang|zu beginn|pour commencer|para empezar|para começar|"
    r"per iniziare|per cominciare|om te beginnen)|"
    r"to (?:end|finish|close)(?: with)?|(?:for|as) the (?:end|ending|outro)|zum schluss|"
    r"pour finir|para terminar|para acabar|per finire|om te eindigen)\)?[.!:]?\s*",
    re.IGNORECASE,
)
"""Chords with the place in the song where they are played behind them."""


def _with_place_as_name(line: Line, is_chords: IsChords) -> Line:
    """A row of chords that stands apart with its place behind it ("C F C G7 to start") as the
    intro or the outro; any other line as it is."""
    match = _PLACE_BEHIND.fullmatch(line.text) if len(line.text) <= _LONGEST else None
    if match is None or " " not in match["row"] or not is_chords(match["row"]):
        return line
    name = "Intro" if match["start"] else "Outro"
    return replace(line, text=f"{name}: {match['row']}", columns=None)


def _bars_and_words(line: Line, is_chords: IsChords) -> list[Line]:
    """A line of words with bars far behind them ("We scratched the sand    | Am | G |") as the
    bars above the words; any other line as it is."""
    text = line.text if len(line.text) <= _LONGEST and line.text.rstrip().endswith("|") else ""
    match = _WORDS_AND_BARS.fullmatch(text)
    if match is None or heading_of(match["words"]) is not None or not is_chords(match["row"]):
        return [line]
    if any(is_chords(one) and len(one) > 1 for one in match["words"].split()):
        return [line]
    parts = (match["row"].strip(), match["words"])
    return [replace(line, text=part, columns=None) for part in parts]


def _with_roots_joined(line: Line, is_chords: IsChords) -> Line:
    """A row of chords in which each quality stands right behind its root ("E aug"), every chord
    where it was; any other line as it is."""
    if len(line.text) > _LONGEST or _APART.search(line.text) is None or is_chords(line.text):
        return line
    joined = _APART.sub(lambda match: f"{match['root']}{_plain(match['quality'])}", line.text)
    if not is_chords(joined):
        return line
    return replace(
        line,
        text=_APART.sub(
            lambda match: f"{match['root']}{_plain(match['quality'])}".ljust(len(match[0])),
            line.text,
        ).rstrip(),
    )


def _with_capitals(line: Line, is_chords: IsChords) -> Line:
    """A row of chords set far apart with a capital letter for each that slipped into a small one
    ("C        g"); any other line as it is."""
    chords = line.text.split() if 0 < len(line.text) <= _LONGEST and "  " in line.text else []
    small = [one for one in chords if _SLIPPED.fullmatch(one)]
    if not 0 < len(small) < len(chords) or _NARROW.search(line.text.strip()) is not None:
        return line
    if not all(_LIKE_A_CHORD.fullmatch(one) for one in chords if one not in small):
        return line
    text = _SMALL.sub(lambda match: match[0].upper(), line.text)
    return replace(line, text=text) if is_chords(text) and not is_chords(line.text) else line


def _with_bars_for_strokes(line: Line, is_chords: IsChords) -> Line:
    """A row with a stroke right before the chords of each bar, first of all before its first one
    ("/Em /C /G /D /"), or right behind each ("Em/ C/ G/"), with bar lines for the strokes; any
    other line as it is."""
    text = line.text if len(line.text) <= _LONGEST and "|" not in line.text else ""
    first = _STROKE_BEFORE.search(text)
    name, row = (text[: first.start()], text[first.start() :]) if first else ("", text)
    if "/" not in row or "/" in name or any(map(_LIKE_A_CHORD.fullmatch, name.split())):
        return line
    barred = _STROKE_BEFORE.sub("|", row) if first else _STROKE_BEHIND.sub("|", row)
    plain = barred.count("|") >= _FEWEST_STROKES and is_chords(_COUNT.sub("", barred))
    return replace(line, text=name + barred) if plain else line


def _plain(quality: str) -> str:
    """A quality as chords have it behind their root."""
    for long, short in (("minor", "m"), ("major", ""), ("dom", "")):
        quality = re.sub(rf"^{long}\.?", short, quality)
    return quality.replace(".", "")


def _are_frets(text: str) -> bool:
    """Whether a line is nothing but fingerings, fret by fret."""
    frets = text.split()
    return all(map(_FRETS.fullmatch, frets)) and any("x" in one.lower() for one in frets)


def _shapes(text: str, above: Sequence[str]) -> tuple[int, str]:
    """Fingerings, each with its chord in the row over them, and where they stand: over that row,
    so that words follow its chords.  Where no row has as many, they are a remark in parentheses.
    """
    frets = text.split()
    for at in range(len(above) - 1, max(-1, len(above) - 1 - _NEAR), -1):
        row = above[at].replace("|", " ").split()
        if len(row) == len(frets) and all(map(_ROOT_FIRST.match, row)):
            pairs = dict(zip(row, frets, strict=True))
            return at, "  ".join(f"{chord}: {fret}" for chord, fret in pairs.items())
    return len(above), f"({text.strip()})"


def _with_words_apart(line: Line, is_chords: IsChords) -> Line:
    """A row of bars with what is said behind its last repeat sign, or behind its last bar line and
    a gap, in parentheses."""
    if len(line.text) > _LONGEST or "|" not in line.text or line.text.rstrip().endswith("|"):
        return line
    match = _BEHIND_REPEAT.fullmatch(line.text) if ":|" in line.text else None
    match = match or _BEHIND_BARS.fullmatch(line.text)
    if match is None or is_chords(match["said"]) or not is_chords(match["row"]):
        return line
    return replace(line, text=f"{match['row']} ({match['said'].strip()})")


_IN_BRACKETS = re.compile(
    r"(?P<name>[^\[\]|]{0,24}?)(?P<bars>(?:\[[^\[\]]*\|[^\[\]]*\]\s*)+)(?P<said>[^\[\]|]{0,40})"
)
"""Bars with a square bracket for the first and the last line of each row."""
_ENDING_NUMBER = re.compile(r"\|\s*(\d(?:[,-]\d)?)[.)]\s*(?=[A-H%])")


def _with_lines_for_brackets(line: Line, is_chords: IsChords) -> Line:
    """A row of bars in square brackets with bar lines for these, and with the numbers of its
    endings right behind bar lines; any other line as it is."""
    short = "[" in line.text and "|" in line.text and len(line.text) <= _LONGEST
    match = _IN_BRACKETS.fullmatch(line.text) if short else None
    if match is None:
        return line
    bars = re.sub(r"(:?)\s*\]\s*\[\s*(?!:)", r" \1|", match["bars"])
    bars = re.sub(r":\s*\]\s*\[\s*:", " :|:", bars)
    bars = re.sub(r"\[(\s*:)?", lambda one: "|:" if one[1] else "|", bars)
    bars = re.sub(r"(:\s*)?\]", lambda one: ":|" if one[1] else "|", bars)
    if not is_chords(_ENDING_NUMBER.sub("| ", bars)):
        return line
    bars = _ENDING_NUMBER.sub(r"|\1. ", bars)
    return replace(line, text=f"{match['name']}{bars}{match['said']}", columns=None)


def _rows_of_chorus(text: str, is_chords: IsChords) -> list[str]:
    """The rows of a whole chorus that is typed in one line with strokes between its lines of four
    bars, one chord in each; none for any other line."""
    parts = [part.split() for part in _STROKE.split(text.strip(" /"))]
    bars = sum(map(len, parts))
    even = len(parts) >= _FEWEST and all(len(part) == _BARS_IN_A_LINE for part in parts)
    if (
        not even
        or bars not in _LENGTHS
        or "|" in text
        or not all(is_chords(" ".join(one)) for one in parts)
    ):
        return []
    return [f"| {' | '.join(part)} |" for part in parts]


_NAMED_ROW = re.compile(r"(?P<name>\s*[^\W\d_][^:=|/()]{0,24}[:=]\s*)(?P<row>[^:|]*[^:|\s])\s*")
_COUNT_BEHIND = re.compile(rf"\s+[(\[]?\s*(?P<count>{ANY_TIMES})\s*[)\]]?$", re.IGNORECASE)
_FILLER = re.compile(r"(?<!\S)[^\w\s(]+(?!\S)")
"""A dot, a dash or another sign for a beat among chords."""
_FEWEST_IN_A_LINE = 3
"""So many chords between two strokes are a line of a song, no bar (ours)."""
_MOST_TIMES = 4


def rows_by_strokes(text: str, is_chords: IsChords) -> list[str]:
    """The rows of chords that are typed in one line with strokes between them, the first behind
    the section's name ("Chorus: F G C Am / F G E7 Am"); none for any other line."""
    match = _NAMED_ROW.fullmatch(text) if " / " in text else None
    count = _COUNT_BEHIND.search(match["row"]) if match is not None else None
    if match is None:
        return []
    row = match["row"][: count.start()] if count is not None else match["row"]
    times = max(1, times_of(count["count"])) if count is not None else 1
    cells = [" ".join(cell.split()) for cell in _STROKE.split(row)]
    lines = len(cells) > 1 and all(len(cell.split()) >= _FEWEST_IN_A_LINE for cell in cells)
    lines = lines and not any(_FILLER.search(cell) for cell in cells)
    if not lines or times > _MOST_TIMES or not all(map(is_chords, cells)):
        return []
    first, *others = cells * times
    indent = " " * len(match["name"])
    return [f"{match['name']}{first}", *(f"{indent}{cell}" for cell in others)]
