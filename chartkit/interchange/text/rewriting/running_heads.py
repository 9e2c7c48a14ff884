"""Leaves out what stands once more at the head or the foot of the pages of a song: its title or its
writer beside the number of a page, and the name of a section that goes on over the page.

What a sheet has above its song tells what may come again on its pages.  Source of the forms: common
practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.head_words.head_labels import writer_of
from chartkit.interchange.text.head_words.titles import OF_A_BOOK, could_be_title, has_facts
from chartkit.interchange.text.lines import Line, has_no_words, is_empty, letters_of, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.raw_text.song_lines import is_of_a_song
from chartkit.interchange.text.rewriting.page_heads import (
    PAGE,
    PAGE_NUMBER,
    is_of_a_page,
    name_that_goes_on,
    says_it_goes_on,
)
from chartkit.interchange.text.vocabulary.section_names import is_known_name
from chartkit.interchange.text.vocabulary.writer_names import names_people
from chartkit.interchange.wording import one_line

_GAP = re.compile(r"\s{3,}|\t\s*")
_NUMBER = r"[-–—(\[./]*\s*\d{1,3}(?:\s?(?:of|von|sur|de|di|van|av|z|/)\s?\d{1,3})?\s*[-–—)\].]*"
_MARK = re.compile(rf"\s*{_NUMBER}\s*")
_MARK_BEHIND = re.compile(
    rf"(?P<rest>.*?[^\s–—|•·/,:-])(?:\s*[|•·/,:–—-]+\s*|\s+)(?P<mark>{_NUMBER})"
)
_PAGE_BEHIND = re.compile(
    r"(?P<rest>.*?[^\s–—|•·/,:(\[-])(?:\s+|\s*[–—|•·/,:(\[-]+\s*)"
    rf"(?P<mark>{PAGE_NUMBER})[)\].]*",
    re.IGNORECASE,
)
_MARK_BEFORE = re.compile(
    rf"(?P<mark>{_NUMBER})(?:\s*[|•·/]\s*|\s*[–—-]+\s+|\s{{2,}})(?P<rest>[^\s–—|•·/,:-].*)"
)
_BETWEEN = re.compile(r"\s*[:,/|·•–—]\s*|\s+-+\s+")
_METER = re.compile(r"\(?\d{1,2}/\d{1,2}\)?")
_END = re.compile(
    r"[(\[–—-]+\s*(?:(?:the )?end|ende|fin|fim|einde|slut|slutt|koniec|loppu)\s*[)\]–—-]+",
    re.IGNORECASE,
)
"""How the last line of a copy says that no more comes."""
_REMARK = re.compile(r"[(\[][^()\[\]]*[)\]]")
_LONGEST, _LONGEST_NAME = 120, 60
_MOST_HEAD_LINES = 12
_MOST_PARTS = 4
_BESIDE = 2
_FEWEST_LETTERS = 3
_MOST_BLANKS = 3
_FURTHEST = 80
"""How many lines above its continuation a section begins at most (ours)."""
_MOST_LINES = 5_000
"""A longer text holds many songs, and no title is that of all its pages."""


@dataclass(frozen=True, slots=True)
class _Over:
    """What stands above a song: the letters of each text, and the words of each line."""

    names: frozenset[str]
    words: tuple[frozenset[str], ...]

    def has(self, text: str) -> bool:
        """Whether a text stands there too."""
        return letters_of(text) in self.names

    def has_part(self, text: str) -> bool:
        """Whether some words of one line there are a text, as a long title is cut short."""
        words = [letters_of(word) for word in text.split()]
        long = any(len(word) > _FEWEST_LETTERS for word in words)
        return long and any(set(words) <= line for line in self.words)


def without_running_heads(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines without the title and the like where they come again on a page, and without the
    names of sections that go on there; what is left out is reported."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    begins = _begin_of_song(lines)
    over = _names_over(lines[:begins])
    result = list(lines)
    last = max((at for at, line in enumerate(lines) if line.text.strip()), default=0)
    book = letters_of(_book_beside_page(text_at(lines, last)))
    gone = [
        at
        for at in range(begins, len(lines))
        if _is_running(lines, at, over)
        or _stands_there(lines, at, over)
        or _is_of_a_book(lines, at, book)
        or _goes_on(lines, at, begins)
        or _is_beside(lines, at, over)
    ]
    if (
        begins <= last < len(lines)
        and last not in gone
        and _END.fullmatch(lines[last].text.strip())
    ):
        gone.append(last)
    for at in [*_over_the_title(lines, begins), *gone]:
        findings.leave_out(
            "page-number",
            f'what stands once more on a page: "{one_line(lines[at].text)}"',
            lines[at].place(),
        )
        result[at] = replace(lines[at], text="", columns=None)
    return _with_first_number(_without_first_mark(result, begins, findings), begins)


def _begin_of_song(lines: Sequence[Line]) -> int:
    """The first line behind the first filled one that is a section's name or could be music."""
    filled = 0
    for at, line in enumerate(lines):
        if filled and (is_of_a_song(line.text) or filled == _MOST_HEAD_LINES):
            return at
        filled += bool(line.text.strip())
    return len(lines)


def _names_over(head: Sequence[Line]) -> _Over:
    texts = [text for line in head for text in _parts(line.text)]
    texts += filter(None, map(writer_of, texts))
    texts += [_REMARK.sub("", text) for text in texts if "(" in text]
    parted = (_parted(line.text) for line in head)
    texts += [text for one in parted if one is not None for text in one[0]]
    names = frozenset(map(letters_of, texts))
    return _Over(
        frozenset(name for name in names if len(name) >= _FEWEST_LETTERS),
        tuple(frozenset(map(letters_of, text.split())) for text in texts),
    )


def _parts(text: str) -> Iterator[str]:
    """A line of the head, and its parts far apart without the number of a page."""
    if not 0 < len(text) <= _LONGEST:
        return
    yield text.strip()
    yield from (part for part in _GAP.split(text) if part.strip() and not _is_mark(part))


def _is_mark(text: str) -> bool:
    return PAGE.fullmatch(text) is not None or _MARK.fullmatch(text) is not None


def _parted(text: str) -> tuple[list[str], bool] | None:
    """What stands beside the number of a page, and whether the number is far apart from it or has
    its word; None for a line without such a number."""
    text = text.strip()
    if len(text) > _LONGEST or not any(map(str.isdecimal, text)):
        return None
    parts = [part.strip() for part in _GAP.split(text) if part.strip()]
    rest = [part for part in parts if not _is_mark(part)]
    if rest and len(parts) - len(rest) == 1 and len(parts) <= _MOST_PARTS:
        return rest, True
    last = _MARK_BEHIND.fullmatch(parts[-1]) if 1 < len(rest) <= _MOST_PARTS else None
    if last is not None:
        return [*parts[:-1], last["rest"]], True
    for pattern in (_PAGE_BEHIND, _MARK_BEHIND, _MARK_BEFORE):
        match = pattern.fullmatch(text)
        if match is not None:
            far = PAGE.fullmatch(match["mark"]) is not None
            return [match["rest"].strip()], far
    return None


def _stands_there(lines: Sequence[Line], at: int, over: _Over) -> bool:
    """Whether all parts of a line, far apart, stand above the song too."""
    parts = [_REMARK.sub("", part) for part in _GAP.split(lines[at].text.strip())]
    return 1 < len(parts) <= _MOST_PARTS and all(map(over.has, parts)) and _is_alone(lines, at)


def _is_of_a_book(lines: Sequence[Line], at: int, book: str) -> bool:
    """Whether a line apart from all others has the number of a page behind what is no name of a
    section: the name of a book, with rules around it or a comma within, or, by the letters of
    ``book``, as at the sheet's end."""
    text = lines[at].text.strip()
    if not _is_alone(lines, at) or len(text) > _LONGEST:
        return False
    ruled = all(text_at(lines, by).strip() and has_no_words(lines, by) for by in (at - 1, at + 1))
    parts = _GAP.split(text)
    pages = [_PAGE_BEHIND.fullmatch(part) for part in parts]
    named = [page for page in pages if page is not None and heading_of(page["rest"]) is None]
    commas = len(parts) == 1 and any("," in page[0][page.end("rest") :] for page in named)
    of_the_last = bool(book) and letters_of(_book_beside_page(text)) == book
    return of_the_last or (bool(named) and (ruled or commas))


def _book_beside_page(text: str) -> str:
    """What could be a title, and is no name of a section, far beside the number of a page; empty
    for any other line."""
    parts = _GAP.split(text.strip()) if len(text) <= _LONGEST else []
    names = [part for part in parts if not _is_mark(part)]
    if len(parts) != _BESIDE or len(names) != 1 or heading_of(names[0]) is not None:
        return ""
    return names[0] if could_be_title(names[0]) else ""


def _is_running(lines: Sequence[Line], at: int, over: _Over) -> bool:
    """Whether a line is something that stands above the song beside the number of a page."""
    parted = _parted(lines[at].text)
    if parted is None or (_is_under_music(lines, at) and not is_of_a_page(lines[at].text)):
        return False
    rest, is_far = parted
    rest = [name_that_goes_on(text) or text for text in rest]
    if any(map(is_known_name, rest)) or not any(map(str.isalpha, "".join(rest))):
        return False
    apart = is_far or _is_alone(lines, at)
    if apart and any(map(over.has, rest)):
        return True
    pieces = [piece for text in rest for piece in _BETWEEN.split(text)]
    apart = is_far or (apart and len(pieces) > 1)
    return apart and all(over.has_part(text) or says_it_goes_on(text) for text in pieces)


def _is_under_music(lines: Sequence[Line], at: int) -> bool:
    """Whether a line stands right under what could be chords: it is sung."""
    above = text_at(lines, at - 1)
    return any(map(str.isalpha, above)) and is_of_a_song(above) and heading_of(above) is None


def _is_alone(lines: Sequence[Line], at: int) -> bool:
    """Whether no words stand right above a line, and none but a section's name right below."""
    return has_no_words(lines, at - 1) and _is_over_a_name(lines, at)


def _is_over_a_name(lines: Sequence[Line], at: int) -> bool:
    return has_no_words(lines, at + 1) or heading_of(text_at(lines, at + 1)) is not None


def _is_beside(lines: Sequence[Line], at: int, over: _Over) -> bool:
    """Whether a line is a text of the head alone at the end or the begin of a page, as the number
    of a page right above or below shows."""
    text = lines[at].text.strip()
    if not _FEWEST_LETTERS < len(text) <= _LONGEST_NAME or not over.has(text):
        return False
    if is_known_name(text):
        return False
    above, below = _next(lines, at, -1), _next(lines, at, 1)
    if _is_page_line(lines, above, over):
        return _is_over_a_name(lines, at) or at - above == 1
    return _is_page_line(lines, below, over) and has_no_words(lines, at - 1)


def _is_page_line(lines: Sequence[Line], at: int, over: _Over) -> bool:
    text = text_at(lines, at)
    return bool(text.strip()) and (is_of_a_page(text) or _is_running(lines, at, over))


def _next(lines: Sequence[Line], at: int, step: int) -> int:
    """The next filled line above or below, with no more than a few blanks between."""
    other = at + step
    while is_empty(lines, other) and abs(other - at) <= _MOST_BLANKS:
        other += step
    return other


def _goes_on(lines: Sequence[Line], at: int, begins: int) -> bool:
    """Whether a line has the name of the section above, and says that it goes on."""
    name = name_that_goes_on(lines[at].text)
    if not name:
        return False
    for above in range(at - 1, max(begins - 2, at - _FURTHEST), -1):
        text = text_at(lines, above)
        if letters_of(_REMARK.sub("", text)) == letters_of(name):
            return True
        heading = heading_of(text) if text.strip() else None
        if heading is not None:
            return letters_of(_REMARK.sub("", heading.name)) == letters_of(name)
    return False


def _over_the_title(lines: Sequence[Line], begins: int) -> list[int]:
    """The first line where it names a book beside the number of its page, and the title stands
    apart below it."""
    filled = [at for at in range(begins) if lines[at].text.strip()][:2]
    parted = _parted(lines[filled[0]].text) if len(filled) > 1 else None
    if parted is None or len(parted[0]) != 1 or not is_empty(lines, filled[0] + 1):
        return []
    text = lines[filled[1]].text.strip()
    titled = could_be_title(text) and (text.isupper() or not names_people(text))
    return filled[:1] if titled and parted[1] and could_be_title(parted[0][0]) else []


def _is_a_setting(mark: str, behind_settings: bool) -> bool:
    """Whether a number far behind a title is a meter, or behind settings a tempo."""
    return _METER.fullmatch(mark) is not None or (behind_settings and mark.isdecimal())


def _without_first_mark(lines: list[Line], begins: int, findings: Findings) -> list[Line]:
    """The lines, the first without the number of a page behind it, if it is the title."""
    filled = [at for at in range(begins) if lines[at].text.strip()][:2]
    text = lines[filled[0]].text.rstrip() if filled else ""
    end = _end_before_page(text)
    worded = _PAGE_BEHIND.fullmatch(text) is not None if end else False
    apart = len(filled) > 1 and is_empty(lines, filled[0] + 1)
    if not end or (worded and apart and could_be_title(text_at(lines, filled[1]).strip())):
        return lines  # without a number, or of a book or a group
    line = lines[filled[0]]
    mark = one_line(text[end:])
    findings.leave_out("page-number", f'the number of a page: "{mark}"', line.place(end))
    lines[filled[0]] = replace(line, text=text[:end], columns=None)
    return lines


def _end_before_page(text: str) -> int:
    """Where a title ends that has the number of a page behind it; 0 for any other line."""
    page = _PAGE_BEHIND.fullmatch(text) if len(text) <= _LONGEST else None
    if page is not None:
        return page.end("rest")
    gap = [one for one in _GAP.finditer(text) if one.start()] if _parted(text) else []
    mark = text[gap[-1].end() :] if gap else ""
    numbered = _MARK.fullmatch(mark) is not None and not _is_a_setting(mark, len(gap) > 1)
    return gap[-1].start() if mark and numbered else 0


_NUMBER_FAR_BEFORE = re.compile(
    r"\s*(?P<number>(?:(?:no|nr|n[°º]|num|núm|song|lied|sång|sang|chant|canto|canción|tune|number|nummer|"
    r"numéro|número|numero|piosenka)\.?\s{0,2})?\(?#?\d{1,3}[a-z]?\s?[.):]?)(?:\s{2,}|\t\s*)"
    r"(?=[^\W\d_]|[\"“„«])",
    re.IGNORECASE,
)


def _with_first_number(lines: list[Line], begins: int) -> list[Line]:
    """The lines, the first with one blank between the song's number and its title."""
    at = next((at for at in range(begins) if lines[at].text.strip()), None)
    text = lines[at].text if at is not None else ""
    match = _NUMBER_FAR_BEFORE.match(text) if len(text) <= _LONGEST else None
    if at is None or match is None:
        return lines
    if not _is_the_title(lines, at, begins, text[match.end() :]):
        return lines
    number = match["number"].strip("() ")
    number = number if number[-1] in ".):" or number[:1].isalpha() else f"{number}."
    lines[at] = replace(lines[at], text=f"{number} {text[match.end() :]}", columns=None)
    return lines


def _is_the_title(lines: Sequence[Line], at: int, begins: int, text: str) -> bool:
    """Whether a text behind a number could be the title and names no book, and the next line over
    the song is none that stands apart below it."""
    title = _GAP.split(text)[0].strip()
    below = next((by for by in range(at + 1, begins) if lines[by].text.strip()), None)
    under = lines[below].text.strip() if below is not None else ""
    apart = below is not None and is_empty(lines, below - 1) and is_empty(lines, below + 1)
    other = apart and could_be_title(under) and not names_people(under)
    other = other or OF_A_BOOK.fullmatch(title) is not None
    return could_be_title(title) and not other and not has_facts(title)
