"""Lines that begin with the name of a section above exactly as it is typed there, and say how it is
played now ("cho w handclaps", "Chr, tight trio"); and such names counted on ("Patter 2 - free").

Where sections stand without empty lines between them, such a line stands right under sung words.
Source of the forms: common practice, no source.
"""

import re
from collections.abc import Iterator

from chartkit.interchange.text.kinds.line_kinds import SectionStart
from chartkit.interchange.text.kinds.sheet_lines import LONGEST, SheetLines
from chartkit.interchange.text.lines import text_at
from chartkit.interchange.text.quick_looks import first_word
from chartkit.interchange.text.section_lines.names_again import NamesAbove, is_under_chords
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.vocabulary.form_words import OVER_OR_LIKE
from chartkit.interchange.text.vocabulary.order_words import which_time
from chartkit.interchange.text.vocabulary.section_names import (
    is_known_name,
    is_short_name,
    section_key,
)
from chartkit.interchange.text.vocabulary.sounds_said import begins_lines, sounds_said
from chartkit.interchange.text.vocabulary.times_played import (
    ANY_TIMES,
    ONCE_MORE,
    UNTIL,
    count_among,
    times_of,
)

_MOST_WORDS_OF_A_NAME, _MOST_WORDS_SAID = 4, 12
_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)?")
_BEHIND = re.compile(
    rf"\.?(?P<colon>\s?:)?(?:\s*[(\[]?\s*(?P<times>{ANY_TIMES})\s*!*[)\]]?(?!\w))?[.!]*"
    rf"(?:\s*[,–-]?\s*(?P<again>{ONCE_MORE})(?!\w))?"
    r"(?:\s*(?P<sign>[,;(\[+&=]|\s[–—-]+\s|[–—])\s*|\s+|$)(?P<said>.*)",
    re.IGNORECASE,
)
"""What may stand behind a name: a count, "again", a sign and what is said."""
_COUNT = re.compile(ANY_TIMES, re.IGNORECASE)
_UNTIL = re.compile(UNTIL, re.IGNORECASE)
_NUMBERS = ("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_COUNTED = re.compile(
    rf"(?P<base>.*?[^\W\d_]\.?)\s?(?P<number>\d{{1,2}}|(?:{'|'.join(_NUMBERS[1:])}))", re.IGNORECASE
)
_COUNTED_FIRST = re.compile(r"(?P<number>\d{1,2})(?:[.ªº°]|st|nd|rd|th)?\s(?P<base>[^\W\d_].*)")
_SUNG, _SAID = -1.5, 1.0
"""At these odds what stands behind a name is sung, or said (ours)."""


def section_begun(
    sheet: SheetLines, above: NamesAbove, at: int, text: str, begun: SectionStart | None
) -> SectionStart | None:
    """The section that a line begins by the name of one above; None for any other line.  ``begun``
    is what ``begun_as_above`` makes of it."""
    return (
        _equal_to_one_above(sheet, above, at, text)
        or begun
        or _told_under_name(sheet, above, at, text)
    )


def is_own_name_told(sheet: SheetLines, begun: SectionStart) -> bool:
    """Whether a section that begins as one above has a name that nobody else uses, and what is said
    of it names no other one."""
    told = bool(begun.remarks) and not is_known_name(begun.name)
    return told and not any(map(sheet.names.may_name, begun.remarks))


def begun_as_above(sheet: SheetLines, above: NamesAbove, at: int, text: str) -> SectionStart | None:
    """The section that a line begins with, which is asked for again or counted on, with how often
    and what is said of it; None for any other line, and where words stand under chords."""
    if len(text) > LONGEST or sheet.is_row(at) or is_under_chords(sheet, at) or not above.look():
        return None
    if text[:1].isalpha() and first_word(text) not in above.words:
        return None  # a quick look
    for end in _ends_of_names(text):
        typed = text[:end]
        name = above.typed.get(typed.casefold(), "")
        counted = not name and _is_counted_on(typed, above) and not _counts_times(text, end)
        if len(typed) < 2 or not (counted or name.strip(" .:") == typed):
            continue
        match = _BEHIND.fullmatch(text, end)
        if match is None or (match["said"] and sheet.is_chords(match["said"])):
            return None
        times, said = max(1, times_of(match["times"] or "")), _plain(match["said"])
        if not _is_asked_for(sheet, at, typed, match, said):
            return None
        return SectionStart(name or typed, times, "", (said,) if said else (), guessed=True)
    return None


_EQUALS = re.compile(
    r"(?P<name>[^\W\d_][\w .’'-]{0,20}?)\s*(?:=+\s*|:\s*(?P<like>[^\W\d_]+)\s+)(?=[^\W_])"
)


def _equal_to_one_above(
    sheet: SheetLines, above: NamesAbove, at: int, text: str
) -> SectionStart | None:
    """A section of any name that has the music of one above by a sign between them, with what is
    said behind that ("bri = cho but just oohs"); None for any other line."""
    signed = ("=" in text or ":" in text) and len(text) <= LONGEST
    match = _EQUALS.match(text) if signed else None
    like = match["like"] or "as" if match is not None else ""
    if (
        match is None
        or OVER_OR_LIKE.fullmatch(like) is None
        or label_end(text)
        or is_under_chords(sheet, at)
        or not above.look()
    ):
        return None
    behind = text[match.end() :]
    for end in _ends_of_names(behind):
        other = above.typed.get(behind[:end].casefold(), "")
        if other and other.casefold() != match["name"].casefold():
            times, said = count_among(behind[end:].strip(" ,;:.()"))
            remarks = (said.strip(" ,;:"),) if said.strip(" ,;:") else ()
            return SectionStart(match["name"], max(1, times), other, remarks, guessed=True)
    return None


_NAME_AND_TOLD = re.compile(
    r"(?P<name>[^\W\d_][\w’'-]{1,15}(?: [^\W\d_][\w’'-]{1,12}){0,2})\s*"
    r"\((?P<said>[^()|]{3,60})\)\s*[.!]?"
)


def _told_under_name(
    sheet: SheetLines, above: NamesAbove, at: int, text: str
) -> SectionStart | None:
    """A section of any name that only a remark in parentheses tells of, between the name of one
    that is asked for again and the next name ("Skank (drums + bass, Desmond toasts)"); None for any
    other line."""
    match = _NAME_AND_TOLD.fullmatch(text) if text.endswith(")") and len(text) <= LONGEST else None
    if match is None or not sheet.is_closed or not above.look() or not above.known:
        return None
    over, last = text_at(sheet.lines, at + 1).strip(), above.known[-1].kind
    ends = not over or any(over[:end].casefold() in above.typed for end in _ends_of_names(over))
    asked = isinstance(last, SectionStart) and above.times[section_key(last.name)] > 1
    said = match["said"].strip()
    if not (ends and asked) or sounds_said(said) <= 0 or sheet.is_chords(said):
        return None
    return SectionStart(match["name"], 1, "", (said,), guessed=True)


def _plain(said: str) -> str:
    """What is said, without the sign that closes it, and nothing where it only says again."""
    closed = said.count(")") > said.count("(") or said.count("]") > said.count("[")
    said = re.sub(r"[)\]](?=[^)\]]*$)", "", said, count=1) if closed else said
    return said.strip().rstrip(":,;").strip()


def _ends_of_names(text: str) -> Iterator[int]:
    """Where names could end with which a text begins, the longest first."""
    words: list[int] = []
    for match in _WORD.finditer(text):
        if len(words) == _MOST_WORDS_OF_A_NAME or "," in text[: match.start()]:
            break
        words.append(match.end())
    yield from reversed(words)


def _is_counted_on(typed: str, above: NamesAbove) -> bool:
    """Whether a name is one above with another number."""
    match = _COUNTED.fullmatch(typed) or _COUNTED_FIRST.fullmatch(typed)
    if match is None:
        return False
    base = match["base"].strip(" .").casefold()
    return len(base) > 1 and any(
        form in above.typed for form in (base, *_forms(base, _number(match["number"]) - 1))
    )


def _counts_times(text: str, end: int) -> bool:
    """Whether the word that ends there begins how often something is played ("2 fois")."""
    count = _COUNT.match(text, text.rfind(" ", 0, end) + 1)
    return count is not None and count.end() > end


def _number(typed: str) -> int:
    return int(typed) if typed.isdecimal() else _NUMBERS.index(typed.casefold())


def _forms(base: str, number: int) -> Iterator[str]:
    """The ways to type a name with a number."""
    word = _NUMBERS[number] if 0 < number < len(_NUMBERS) else str(number)
    yield from (f"{base} {number}", f"{base}{number}", f"{base} {word}")
    yield from (f"{number}. {base}", f"{number} {base}")


def _is_asked_for(sheet: SheetLines, at: int, name: str, match: re.Match[str], said: str) -> bool:
    """Whether what stands behind a name is said to the players: not under a name alone, where its
    first words are due, and nothing that is rather sung."""
    own = not is_known_name(name) and not begins_lines(name.split()[0].casefold())
    short = is_short_name(name) or own
    named = sheet.headings[at - 1] if at else None
    if named is not None and named.rest_at is None and not short:
        return False
    if not said or match["times"] or match["again"] or which_time(said):
        return True
    if len(said.split()) > _MOST_WORDS_SAID:
        return False
    if match["colon"]:
        bound = _SUNG if said[0].islower() else 0.0
        return _UNTIL.match(said) is not None or sounds_said(said) > bound
    sign = (match["sign"] or "").strip()
    if sign:
        known = short or section_key(name)[0] in _KINDS_TOLD
        return sign in "([" or sounds_said(said) > (_SUNG if known else 0.0)
    return sounds_said(said) > (_SUNG if is_short_name(name) else _SAID)


_KINDS_TOLD = frozenset({"verse", "chorus", "intro", "outro", "bridge", "pre-chorus", "solo"})
