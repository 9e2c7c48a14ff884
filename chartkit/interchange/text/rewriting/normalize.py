"""Rewrites rows of chords with unusual signs to the usual ones in the same columns:
repeats, brackets, remarks behind chords.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line, changed
from chartkit.interchange.text.names.headings import heading_of, name_before_more
from chartkit.interchange.text.quick_looks import has_any
from chartkit.interchange.text.rows.cues import marks_of
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.tokens import STRUCK, TIMED, WORDS_TOO
from chartkit.interchange.text.vocabulary.directions import is_direction, says_how
from chartkit.interchange.text.vocabulary.section_names import section_key

_SIGN = re.compile(r"(?<=\s)(?:<[-=]+|[-=]+>|[←→⇐]|/{2,}|!{2,}|#{1,3}|;)\s*(?=[^\W\d_])")
_REMARKS = re.compile(r"\s[<=←→⇐/!#;*-]")
_WIDE_APART = re.compile(r"(?<=\S)\s{2,}(?P<said>[^\W\d_]{3,}(?: [^\W_]+){0,5}[.!]?)\s*$")
_COUNT = re.compile(r"\s*[xX×]\s?\d")
_STARRED = re.compile(r"(?<=\s)\*([^\W\d_][^*]*)\*$")
_OTHER_PARENTHESES = str.maketrans("()|", "[]/")
_LONGEST_REMARKED = 400
_MOST_TRIED = 8


def remarks_behind(text: str) -> Iterator[tuple[str, str]]:
    """The ways to part a line into what may be chords and a remark in parentheses behind them,
    the longest remark first."""
    text = text.rstrip()
    if len(text) > _LONGEST_REMARKED or _REMARKS.search(text) is None:
        return
    collected = [(match.start(), text[match.end() :]) for match in _SIGN.finditer(text)]
    if (starred := _STARRED.search(text)) is not None:
        collected.append((starred.start(), starred[1]))
    for at, said in collected[:_MOST_TRIED]:
        if text[:at].strip():
            yield text[:at], f"({said.translate(_OTHER_PARENTHESES).strip()})"


_OPENS = re.compile(r"(?<!\S)[\[{/(]:(?=\s|[A-H(])")
_CLOSES = re.compile(r"(?<=[\s\w)]):[\]}/)](?=\s|[x×(\d]|$)")
_BRACKETS = str.maketrans("[]{}", "    ")
_PLAYED_AGAIN = re.compile(
    r"(\s*)\(([^()]+)\)(\s*\(?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\)?\s*)", re.IGNORECASE
)
_NAMED = re.compile(r"\s*[\[(<]([^\[\]()<>|]{2,40})[\])>]\s+(?=\S)")
_APART_TIMES = re.compile(r"(?<=[\s)\]])([xX×]) (\d{1,2})(?=\)?\s*$)")
_COUNT_CALLED = re.compile(r"(?<=[\s(\[])([x×]\s?\d{1,2}|\d{1,2}\s?[x×])!+", re.IGNORECASE)
"""A count with signs of a shout behind it ("x2!!")."""
_LETTER = re.compile(r"\s*\[([A-H])\d?\]\s*$")
_NAMED_BY_LETTER = re.compile(r"\s*\[[A-H]\d?\](?:\s*$|\s+\(?(?:[x×]\s?)?\d|\s+\([^\W\d]{3})")
_LETTER_AGAIN = re.compile(r"\s*\[[A-H]\d?\]\s*(?:\(?[x×]\s?\d{1,2}\)?)?\s*", re.IGNORECASE)
_CUT_SHORT_IN_BRACKETS = re.compile(r"\s*\[(?:V|R|I|O|(?i:VS|CH|BR|PC|PRE))\s?\d?\]\s*")
"""Where sections are named so, a C in brackets alone on its line is the chorus."""
_VERSE_LETTER = re.compile(
    r"\s*V\s?\d?(?:\s*:?|\s*:?\s*\|.*|\s*:\s+[A-H]\S{0,6}(?:\s+[A-H]\S{0,6})+)\s*"
)
_CHORUS_LETTER = re.compile(r"\s*C\s?\d?\s*:")
_CHORUS_ALONE = re.compile(r"\s*C\d?\s*")
_FIRST_LETTER = re.compile(r"\s*([CBIO]\d?)\s*:?\s*(\(?[x×]\s?\d{1,2}\)?)?\s*")
_BEGINS_WITH_CHORDS = re.compile(
    r"\s*\|:?\s*[A-H]|\s*[A-H]\S{0,6}\s+[A-H](?:[#b♯♭m\d/]\S{0,6})?(?:\s|$)"
)
_CALLED_CHORDS = re.compile(r"(?:\s+(?:chords?|akkorde|accords|acordes)\b)?\s*[:,–—-]?\s+", re.I)
_COUNT_APART = re.compile(r"\s{2,}(\d{1,2})$")
_ONE_TIME = re.compile(
    r"(\s*)((?:1st|2nd|3rd|4th|first|second|third|last|final) time(?: only)?)\s*:\s*(?=\S)",
    re.IGNORECASE,
)
_IN_PARENTHESES = re.compile(r"(\([^()]*\))")
_SPELLED = re.compile(
    r"(?<![^\s|(])(?P<root>[A-H]|Do|R[eé]|Mi|Fa|Sol|La|Si)[ -]"
    r"(?P<sign>flat|sharp|bémol|bemolle|bemol|dièse|diese|diesis|sostenido|sustenido)(?![^\W\d_])"
)
_SIGNS_IN_WORDS = ("flat", "sharp", "mol", "dies", "dièse", "stenido")
_STROKES = str.maketrans("¦│┃❘∣｜", "||||||")
_QUOTED = re.compile(r"[“”„«»\"]([^“”„«»\"|()]+)[“”„«»\"]")
_SIGNS = re.compile(r"[:\[\]{}()*<]")
_ENDS_A_ROW = frozenset("ABCDEFGHNDLMRST(|[xX%:/0123456789×-")
"""How the last of a row of chords can begin."""
_OF_MUSIC = {*TIMED, "bar", "simile", "times", "filler", "cue", "meter"}
_LONGEST_ROW = 400


def with_usual_signs(
    lines: Sequence[Line], tokens: TokenReader, named_by_letters: bool = False
) -> list[Line]:
    """The lines, those that are music in unusual signs with the usual ones.

    A letter alone in brackets names a section where the letters go on from A, B, ...; else it
    is a chord.
    """
    if named_by_letters:
        return _with_usual_signs_but(_NAMED_BY_LETTER.match, lines, tokens)
    letters = dict.fromkeys(m[1] for line in lines if (m := _LETTER.fullmatch(line.text)))
    cut_short = any(_CUT_SHORT_IN_BRACKETS.fullmatch(line.text) for line in lines)
    if _names_by_first_letters(lines):
        lines, cut_short = [_with_letter_in_brackets(line) for line in lines], True
    named = cut_short or "ABCDEFGH".startswith("".join(letters))
    if named:
        return _with_usual_signs_but(_LETTER_AGAIN.fullmatch, lines, tokens)
    return changed(lines, lambda line: _usual(line, tokens))


def _with_usual_signs_but(
    is_name: Callable[[str], object], lines: Sequence[Line], tokens: TokenReader
) -> list[Line]:
    """The lines with the usual signs, but for those that name a section by a letter."""
    return changed(lines, lambda line: line if is_name(line.text) else _usual(line, tokens))


def _names_by_first_letters(lines: Sequence[Line]) -> bool:
    """Whether sections are called by the first letters of their kinds: V or V1, and C with a
    colon, so that a C alone is the chorus."""
    short = [line.text if len(line.text) <= _LONGEST_ROW else "" for line in lines]
    if not any(map(_VERSE_LETTER.fullmatch, short)):
        return False
    return any(map(_CHORUS_LETTER.match, short)) or any(
        _CHORUS_ALONE.fullmatch(text) and not above.strip() and _BEGINS_WITH_CHORDS.match(below)
        for above, text, below in zip(["", *short], short, [*short[1:], ""], strict=False)
    )


def _with_letter_in_brackets(line: Line) -> Line:
    """A first letter alone on a line as a name in brackets."""
    match = _FIRST_LETTER.fullmatch(line.text)
    if match is None:
        return line
    return replace(line, text=f"[{match[1]}] {match[2] or ''}".rstrip(), columns=None)


def _usual(line: Line, tokens: TokenReader) -> Line:
    if len(line.text) > _LONGEST_ROW or not line.text.strip():
        return line
    if "!" in line.text and (count := _COUNT_CALLED.search(line.text)) is not None:
        text = line.text[: count.end(1)] + line.text[count.end() :]
        line = replace(line, text=text, columns=None)
    line = _with_plain_signs(_with_signs_for_words(line, tokens), tokens)
    if (remarked := _with_remark(line, tokens) or _with_time(line, tokens)) is not None:
        return remarked
    text = line.text
    if _SIGNS.search(text) is None and not (text[-1].isdigit() and _APART_TIMES.search(text)):
        return _with_colon(line, tokens)
    text = _APART_TIMES.sub(r" \1\2", text)
    if ":" in text and (repeated := _CLOSES.sub(":|", _OPENS.sub("|:", text))) != text:
        return replace(line, text=repeated) if _is_music(line, repeated, tokens) else line
    bare = _PLAYED_AGAIN.sub(r"\1 \2 \3", _without_brackets(line, text, tokens))
    if "*" in bare and tokens.row(line) is None:
        bare = bare.replace("*", " ")
    if bare != line.text and (_is_music(line, bare, tokens) or _names_music(line, bare, tokens)):
        return replace(line, text=bare)
    return _with_name(line, tokens) or _with_colon(line, tokens)


def _with_signs_for_words(line: Line, tokens: TokenReader) -> Line:
    """A row of chords whose flats and sharps are words ("B flat", "Si bémol") with signs for
    them, each chord in its column."""
    if not has_any(line.text, _SIGNS_IN_WORDS) or _SPELLED.search(line.text) is None:
        return line
    text = _SPELLED.sub(_with_sign, line.text)
    behind = " " * (text.find(":") + 1) + text[text.find(":") + 1 :]
    return replace(line, text=text) if _is_music(line, behind, tokens) else line


def _with_sign(match: re.Match[str]) -> str:
    sign = "b" if match["sign"][0].casefold() in "bf" else "#"
    return f"{match['root']}{sign}".ljust(len(match[0]))


def _with_plain_signs(line: Line, tokens: TokenReader) -> Line:
    """A row of chords with strokes of other kinds as bar lines, and with parentheses for quotes
    around what is said among the chords."""
    text = line.text
    if text.isascii() and '"' not in text:
        return line
    if _is_title_and_key(text):
        return line
    plain = _QUOTED.sub(lambda said: f"({said[1]})", text.translate(_STROKES))
    return replace(line, text=plain) if plain != text and _is_music(line, plain, tokens) else line


def _is_title_and_key(text: str) -> bool:
    """Whether a line begins with words in quotes and has one word besides, as a title with its key
    ("“Mill Pond” (Ina Quill) - Bb")."""
    quoted = _QUOTED.match(text.strip()) if "|" not in text else None
    rest = _IN_PARENTHESES.sub(" ", text.strip()[quoted.end() :]) if quoted is not None else ""
    return len([word for word in rest.split() if any(map(str.isalnum, word))]) == 1


def _with_remark(line: Line, tokens: TokenReader) -> Line | None:
    """A row of chords with the remark behind it in parentheses; None for any other line."""
    ways = [*remarks_behind(line.text)] if _REMARKS.search(line.text) is not None else []
    row, bar, said = line.text.rstrip().rpartition("|") if "|" in line.text else ("", "", "")
    worded = said.strip()[:1].isalpha() and _COUNT.match(said) is None
    if bar and worded and (marks_of(said) or is_direction(said)):
        ways.append((row + bar, f" ({said.strip()})"))
    may_be = "  " in line.text or not line.text.isascii()
    apart = _WIDE_APART.search(line.text) if may_be else None
    if apart is not None and says_how(apart["said"]):
        ways.append((line.text[: apart.start("said")], f"({apart['said'].strip()})"))
    for chords, remark in ways:
        said = line.text[len(chords) :].lstrip(" <-=>←→⇐/!#;")
        if _is_music(line, chords, tokens) and not (
            _is_music(line, remark.strip()[1:-1], tokens) or _is_music(line, said, tokens)
        ):
            return replace(line, text=chords + remark)
    return None


def _with_time(line: Line, tokens: TokenReader) -> Line | None:
    """A row of chords for one time through, which is said before a colon, with that in
    parentheses; None for any other line."""
    time = _ONE_TIME.match(line.text) if ":" in line.text else None
    if time is None or not _is_music(line, line.text[time.end() :], tokens):
        return None
    return replace(line, text=f"{time[1]}({time[2]}) {line.text[time.end() :]}", columns=None)


def _without_brackets(line: Line, text: str, tokens: TokenReader) -> str:
    """A text with blanks for its brackets, but for those within a remark in parentheses."""
    return "".join(
        part if _is_remark(line, part, tokens) else part.translate(_BRACKETS)
        for part in _IN_PARENTHESES.split(text)
    )


def _is_remark(line: Line, part: str, tokens: TokenReader) -> bool:
    inside = part[1:-1].translate(_BRACKETS)
    return part.startswith("(") and "[" in part and not _is_music(line, inside, tokens)


def _with_name(line: Line, tokens: TokenReader) -> Line | None:
    """A section's name in brackets and chords behind it, with a colon instead; None for any
    other line."""
    named = _NAMED.match(line.text)
    if named is None or heading_of(name := f" {named[1].strip()}:") is None:
        return None
    rest = _usual(replace(line, text=line.text[named.end() :], columns=None), tokens).text
    if not _is_music(line, rest, tokens):
        return None
    return replace(line, text=name.ljust(named.end()) + rest)


def _names_music(line: Line, text: str, tokens: TokenReader) -> bool:
    """Whether a text is a section's name with a colon and a row of chords behind it."""
    heading = heading_of(text)
    if heading is None or heading.rest_at is None:
        return False
    start = len(text) - len(text.lstrip()) + heading.rest_at
    return _is_music(line, text[start:], tokens)


def _with_colon(line: Line, tokens: TokenReader) -> Line:
    """A section's name and chords on one line, with a colon between them."""
    last = line.text.rpartition(" ")[2]
    may_be = last[:1] in _ENDS_A_ROW or tokens.naming.small
    end = name_before_more(line.text) if may_be else 0
    end = _before_letter(line.text, end) if end else 0
    called = _CALLED_CHORDS.match(line.text, end) if end else None
    if called is None:
        return line
    rest = line.text[called.end() :]
    sure = any(word not in WORDS_TOO and not word.isdigit() for word in rest.split())
    if not sure or not _is_music(line, rest, tokens):
        return line
    name = _without_bar_count(line.text[:end], rest)
    return replace(line, text=f"{name}:".ljust(called.end()) + rest)


def _before_letter(text: str, end: int) -> int:
    """Where a name ends without a letter that may as well be the first chord: far behind the name,
    or behind a name that no letter counts ("Outro C – G – C")."""
    named = _LETTER_LAST.match(text[:end])
    if named is None or heading_of(named["name"].strip()) is None:
        return end
    apart = len(named["gap"]) > 1 or "\t" in named["gap"]
    return named.end("name") if apart or section_key(named["name"])[0] in _NO_LETTER else end


_LETTER_LAST = re.compile(r"(?P<name>\s*\S.*\S)(?P<gap>\s+)[A-D]$")
_NO_LETTER = frozenset(["intro", "outro", "end", "coda", "tag", "interlude", "break", "turnaround"])


def _without_bar_count(name: str, row: str) -> str:
    """A section's name without the figure that counts the bars beside it, as tables have it."""
    count = _COUNT_APART.search(name)
    bars = sum(map(bool, map(str.strip, row.split("|"))))
    return name[: count.start()] if count is not None and int(count[1]) == bars else name


def _is_music(line: Line, text: str, tokens: TokenReader) -> bool:
    """Whether a text is a row of chords and nothing among them is a word."""
    row = tokens.row(replace(line, text=text, columns=None))
    return row is not None and (
        any(token.kind in STRUCK for token in row) and all(t.kind in _OF_MUSIC for t in row)
    )
