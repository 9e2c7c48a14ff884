"""What is said to the reader of a mail in a head: it is left out, but for its settings."""

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import take_fact, take_facts_said, take_note
from chartkit.interchange.text.head_words.before_titles import is_page_number
from chartkit.interchange.text.head_words.beside_titles import is_chart_of, settings_behind
from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_labels import title_label
from chartkit.interchange.text.head_words.head_phrases import head_phrases
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.head_words.said_titles import (
    SaidTitle,
    name_behind,
    said_title,
    said_writer,
)
from chartkit.interchange.text.head_words.titles import (
    QUOTES,
    could_be_title,
    has_facts,
    is_addressed_to_reader,
    is_spelled_as_title,
    only_leads,
)
from chartkit.interchange.text.kinds.line_kinds import KnownLine, Roadmap
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.vocabulary.directions import (
    count_words,
    is_direction,
    is_greeting,
    is_talk,
    tells_who_plays,
)
from chartkit.interchange.text.vocabulary.farewells import CLOSES, takes_leave
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.wording import setting_text

_SUBJECT = re.compile(
    r"\s*(?:subject|betreff|objet|asunto|oggetto|assunto|onderwerp|ämne|emne|temat)\s*:", re.I
)


def take_over_title(sheet: Sheet, line: Line) -> None:
    """Takes a line above the title: what is said to the reader of a mail, or a note."""
    text = line.text.strip()
    if _SUBJECT.match(text) is not None:
        sheet.findings.leave_out("mail-subject", f'the subject of an email: "{text}"', line.place())
    elif is_greeting(text) or is_talk(text):
        take_from_letter(sheet, line)
    elif not is_addressed_to_reader(text) or not take_facts_said(sheet, line):
        take_note(sheet, line)


def take_from_letter(sheet: Sheet, line: Line) -> None:
    """Leaves out what is said to the reader of a mail, but for the settings in it and what says how
    the song is played, which becomes a note."""
    _take_writer_said(sheet, line)
    for said in _said_to_players(line.text.strip()):
        sheet.notes.append(setting_text(said))
        sheet.findings.guess("kept-as-note", f'"{said}" is kept as a note', line.place())
    if take_facts_said(sheet, line):
        return  # the finding has the whole line
    sheet.findings.leave_out(
        "letter",
        f'a greeting or note, not part of the song: "{line.text.strip()}"',
        line.place(),
    )


_SENTENCES = re.compile(r"(?<=[.!?;])\s+")
_LONGEST_LETTER, _TOO_FEW, _MOSTLY, _MAY_BE_SAID = 400, 2, 0.5, 0.5
"""So much of a sentence must be words of the trade, and so much must it sound as if said (ours)."""
_A_TIME = re.compile(r"\d[\d.:]")
_GREETED = re.compile(
    r"(?:hi|hiya|hey|hello|dear|yo|hallo|moin|liebe[rs]?|servus|salut|bonjour|hola|ciao|hoi|hej|hei)"
    r"(?:\s[\w’']+){0,3}\s*[,!:–-]+\s*",
    re.IGNORECASE,
)


_ASKED = re.compile(
    r"(?:please\s+|pls\s+|bitte\s+)?"
    r"(?:play|keep|start|come in|lay|hold|hit|sit|leave|count|strum|drop|build|"
    r"stay|take|spiel[et]?n?|haltet|fangt)\s",
    re.IGNORECASE,
)
"""How a sentence begins that tells somebody what to play; common practice, no source."""


def _said_to_players(text: str) -> list[str]:
    """The sentences of a letter that say how the song is played ("play this one with rods, and keep
    it quiet")."""
    sentences = _SENTENCES.split(text) if len(text) <= _LONGEST_LETTER else []
    bare = [_GREETED.sub("", one, count=1).strip() for one in sentences]
    return [one for one in bare if one and _says_how(one)]


def _says_how(text: str) -> bool:
    count = count_words(text)
    gives = head_facts(text).facts or facts_in_prose(text) or head_phrases(text).facts
    if gives or text.endswith(("?", ",")) or count.all <= _TOO_FEW or _A_TIME.search(text):
        return False
    trade = count.strong > 0 and count.share >= _MOSTLY
    trade = trade and (sounds_said(text) > _MAY_BE_SAID or _ASKED.match(text) is not None)
    return trade or is_direction(text) or tells_who_plays(text)


def with_title_said(
    sheet: Sheet, known: Sequence[KnownLine], titles: Sequence[int]
) -> Sequence[KnownLine]:
    """Takes a title that a sentence names where no line is one, with the settings beside it; the
    lines of the head without that sentence.  ``titles`` are the lines that could be titles."""
    texts = [one.line.text.strip() for one in known]
    named = {at: _said_in(text) for at, text in enumerate(texts)}
    said = {at: title for at, title in named.items() if title is not None}
    if not said or "title" in sheet.top or any(map(title_label, texts)):
        return known
    at = next((at for at, title in said.items() if title.called), min(said))
    others = [texts[i] for i in titles if i not in said]
    sure = said[at].called or said[at].title.isupper()
    if others and (not sure or any(map(_looks_like_a_title, others))):
        return known
    title, line = said[at].title.strip(QUOTES), known[at].line
    sheet.top["title"] = setting_text(title)
    sheet.findings.guess("title", f'the title is "{title}", from "{texts[at]}"', line.place())
    rest = f"{said[at].before} – {said[at].behind}"
    if writer := name_behind(said[at].behind):
        sheet.top.setdefault("writer", setting_text(writer))
    for fact in settings_behind(said[at].behind.strip(" (,;:–—-")).facts:
        take_fact(sheet, fact.name, fact.value, line)
    take_from_letter(sheet, replace(line, text=rest, columns=None))
    above = [one for one in known[:at] if _stays(one)]
    for one in known[:at]:
        if one.line.text.strip() and one not in above:
            take_over_title(sheet, one.line)
    return [*above, *known[at + 1 :]]


def _stays(one: KnownLine) -> bool:
    """Whether a line above a sentence with the title says more than that: settings, an order."""
    return isinstance(one.kind, Roadmap) or bool(head_facts(one.line.text).facts)


def _said_in(text: str) -> SaidTitle | None:
    """The title that a line of a head names in a sentence, and is not itself."""
    said = said_title(text)
    if said is None or text.isupper() or is_chart_of(text):
        return None
    small = said.before.split()[-1:] and said.before.split()[-1][0].islower()
    if said.called:  # a title such as "The One Called Grace" has a capital there
        return said if small and not is_spelled_as_title(said.before) else None
    return None if is_spelled_as_title(text) else said


def _looks_like_a_title(text: str) -> bool:
    """Whether a line is spelled as titles are, and hardly said to anybody."""
    return is_spelled_as_title(text) or text.isupper() or text[:1] in QUOTES


def _take_writer_said(sheet: Sheet, line: Line) -> None:
    """Takes who wrote the song by a sentence that says so."""
    writer = said_writer(line.text)
    if writer and "writer" not in sheet.top:
        sheet.top["writer"] = setting_text(writer)
        sheet.findings.guess(
            "writer", f'the writer is "{writer}", from "{line.text.strip()}"', line.place()
        )


def without_page_number(
    sheet: Sheet, known: Sequence[KnownLine], titles: Sequence[int]
) -> Sequence[KnownLine]:
    """The lines of a head without the number of a page above the title."""
    first = min(titles, default=0)
    pages = [at for at, one in enumerate(known[:first]) if is_page_number(one.line.text.strip())]
    for at in pages:
        line = known[at].line
        sheet.findings.leave_out(
            "page-number", f'the number of a page: "{line.text.strip()}"', line.place()
        )
    return [one for at, one in enumerate(known) if at not in pages] if pages else known


_SIGNED = re.compile(r"[A-ZÀ-ÖØ-Þ][\w’'-]{0,20}\.?(?:\s[A-ZÀ-ÖØ-Þ]\w{0,20}\.?)?(?:\s+[xX]{1,3})?")
_FEW = 4
"""A letter says more than so many words (ours)."""
_CONTACT = re.compile(r"\d[\d ()/.-]{5,}\d|\S@\S")
_KISSES = re.compile(r"\S+\s+x{1,3}")


def without_leave_above(sheet: Sheet, known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines of a head without the farewell and the name of a letter above the song; what is
    left out is reported."""
    texts = [one.line.text.strip() for one in known]
    gone: list[int] = []
    for at in range(len(texts)):
        if _is_of_leave(texts, at, at - 1 in gone):
            gone.append(at)
    for at in gone:
        line = known[at].line
        sheet.findings.leave_out("sign-off", f'the end of an email: "{texts[at]}"', line.place())
    return [one for at, one in enumerate(known) if at not in gone] if gone else [*known]


def _is_of_leave(texts: Sequence[str], at: int, below_leave: bool) -> bool:
    """Whether a line of a head is a farewell, the name below one or below what a letter says, or
    how to reach who has it."""
    text, above = texts[at], texts[at - 1] if at else ""
    if not any(texts[:at]) and any(map(has_facts, texts[at + 1 : at + 2])):
        return False  # "Thank You, Lanterns" over its key
    if takes_leave(text) or (CLOSES.fullmatch(text) and _is_signed_below(texts, at)):
        return True
    if below_leave and text and _reaches(texts[at:]):
        return True
    if _SIGNED.fullmatch(text) is None:
        return False
    if below_leave or _KISSES.fullmatch(text) is not None:
        return True
    if not above:
        alone = " " not in text and not any(texts[at + 1 : at + 2])
        return alone and _has_title(texts[at + 1 :]) and _is_below_a_letter(texts[:at])
    return is_talk(above) and not any(texts[at + 1 :]) and _has_title(texts[: at - 1])


def _reaches(texts: Sequence[str]) -> bool:
    """Whether a line before the next blank one is a telephone number or an address."""
    block = itertools.takewhile(bool, texts)
    return any(_CONTACT.search(text) is not None for text in block)


def _has_title(texts: Sequence[str]) -> bool:
    return any(map(could_be_title, texts))


def _is_below_a_letter(texts: Sequence[str]) -> bool:
    """Whether the last words above a blank line are said to the reader of a letter that greets."""
    last = next((text for text in reversed(texts) if text), "")
    said = is_talk(last) or (only_leads(last) or is_addressed_to_reader(last))
    return said and any(map(is_greeting, texts))


def _is_signed_below(texts: Sequence[str], at: int) -> bool:
    """Whether a name stands right below a farewell, and a sentence or a greeting above it."""
    below = texts[at + 1] if at + 1 < len(texts) else ""
    said = [text for text in texts[:at] if is_greeting(text) or is_talk(text)]
    much = len(said) > 1 or any(len(text.split()) > _FEW for text in said)
    return much and _SIGNED.fullmatch(below) is not None
