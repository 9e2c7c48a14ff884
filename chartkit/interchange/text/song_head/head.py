"""Reads the head of a sheet: title, writer, facts and notes."""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import (
    take_fact,
    take_head_facts,
    take_note,
    take_writer,
)
from chartkit.interchange.text.head_words.beside_titles import settings_behind
from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_labels import writer_of
from chartkit.interchange.text.head_words.head_phrases import head_phrases
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.head_words.said_titles import name_behind
from chartkit.interchange.text.head_words.title_block import lines_over_title
from chartkit.interchange.text.head_words.titles import (
    OF_A_BOOK,
    OF_A_MAIL,
    PAGE_AT_THE_MARGIN,
    RUNNING_HEAD,
    could_be_title,
    has_facts,
    is_addressed_to_reader,
    is_introduced,
    is_spelled_as_title,
    only_leads,
    without_ornaments,
)
from chartkit.interchange.text.kinds.line_kinds import (
    SUNG,
    Chords,
    ChordsBehind,
    KnownLine,
    Remark,
    Roadmap,
    Words,
)
from chartkit.interchange.text.lines import Line, letters_of
from chartkit.interchange.text.raw_text.stamps import CHAT
from chartkit.interchange.text.song_head.behind_titles import QUOTED
from chartkit.interchange.text.song_head.head_end import has_key_behind
from chartkit.interchange.text.song_head.head_lines import AT_THE_LAST_MARGIN, read_head_line
from chartkit.interchange.text.song_head.plain_head_lines import plain_lines
from chartkit.interchange.text.song_head.said_to_reader import (
    take_from_letter,
    take_over_title,
    with_title_said,
    without_leave_above,
    without_page_number,
)
from chartkit.interchange.text.song_head.sung_titles import is_over_its_title
from chartkit.interchange.text.song_head.title_lines import settle_title
from chartkit.interchange.text.vocabulary.directions import (
    is_doubtful_greeting,
    is_greeting,
    is_talk,
)
from chartkit.interchange.text.vocabulary.facts import (
    facts_of,
    names_a_fact,
    without_parentheses,
)
from chartkit.interchange.text.vocabulary.farewells import is_answer
from chartkit.interchange.text.vocabulary.key_words import key_of
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.writer_names import names_people
from chartkit.interchange.wording import setting_text

_CALLED = re.compile(
    r"\b(?:this is|here(?:['’]s| is)|(?:one|song|tune|it) is|it['’]s|called|"
    r"call(?:ed)? (?:it|this(?: one)?)|"
    r"(?:chords|words|changes|sheet|akkorde|acordes|accords|accordi) "
    r"(?:for|to|of|für|zu|de|para|pour))\s+"
    r"(?P<title>[^\W\d_a-z][^\W_]*(?:[ ’'-][^\W_]+){0,6})(?=\s*(?:[,.!?;:(]|$))"
)
"""How somebody says what a song is called, without quotes."""
_LONGEST_HEAD = 200


def read_head(sheet: Sheet, known: Sequence[KnownLine], below: Sequence[KnownLine] = ()) -> None:
    """Takes the lines of the head; what is said to the reader of a mail is left out.  ``below`` are
    the lines of the song."""
    sheet.sung = sheet.sung or frozenset(map(letters_of, _words_of(below)))
    known = without_leave_above(sheet, _with_remarks_behind(plain_lines(sheet, known)))
    answered, known = _without_answer(known)
    texts = ["" if isinstance(one.kind, Roadmap) else one.line.text.strip() for one in known]
    titles = _titles_among(texts)
    if any(map(OF_A_MAIL.match, texts)):  # its subject is the title rather than a sentence in it
        titles = [at for at in titles if _begins_like_one(texts[at]) and texts[at][-1:] != ","]
    titles = titles or _behind_a_greeting(texts) or _talk_as_title(sheet, texts, below)
    rest = without_page_number(sheet, known, titles)
    rest = with_title_said(sheet, known, titles) if rest is known else rest
    if rest is not known:
        sheet.subject = sheet.subject or answered
        read_head(sheet, rest, below)
        return
    if (others := _without_line_over_title(sheet, known, texts, titles)) is not None:
        read_head(sheet, others, below)
        return
    if over := lines_over_title(texts):
        for at, one in enumerate(known[:over]):
            if one.line.text.strip() and not _take_by_kind(sheet, known, at):
                take_over_title(sheet, one.line)
        read_head(sheet, known[over:], below)
        return
    chat = sheet.findings.has(CHAT)
    title_at = (titles[-1] if chat else titles[0]) if titles else -1
    sheet.title_line = known[title_at].line.number if titles else 0
    letters: list[Line] = []
    for at, text in enumerate(texts):
        if not _take_by_kind(sheet, known, at):
            if _is_of_letter(text, at, title_at, chat):
                take_from_letter(sheet, known[at].line)
                letters.append(known[at].line)
            else:
                read_head_line(sheet, known[at].line)
    _take_title_from(sheet, letters)
    sheet.subject = sheet.subject or answered
    settle_title(sheet)


def _without_line_over_title(
    sheet: Sheet, known: Sequence[KnownLine], texts: Sequence[str], titles: Sequence[int]
) -> Sequence[KnownLine] | None:
    """The lines of a head without one over the title that could be it too: a running head, which
    becomes a note, or who plays the song; None where there is none."""
    if len(titles) < 2:
        return None
    at, line = titles[0], known[titles[0]].line
    if _is_a_running_head(line.text, texts[titles[1]]):
        take_note(sheet, line)
        return known[at + 1 :]
    if is_over_its_title(sheet, texts[at], texts[titles[1]]):
        take_writer(sheet, texts[at], texts[at], line)
        return [*known[:at], *known[at + 1 :]]
    return None


_MOST_LOOKED_AT = 400
"""So many lines of a song tell what is sung in it (ours)."""


def _words_of(below: Sequence[KnownLine]) -> list[str]:
    """The words of the first lines of the song, without chords among them."""
    return [
        one.line.text if isinstance(one.kind, Words) else one.kind.words.text
        for one in below[:_MOST_LOOKED_AT]
        if isinstance(one.kind, SUNG)
    ]


_SENTENCE = re.compile(r"[^\W\d_]{2}[.!?:]+\s+[^\W\d_]")
"""A sentence, or an address, with more behind it."""
_OF_A_SHEET = re.compile(
    r"(?:[^\W\d_]+\s+){0,3}(?:sheet|song|no|nr|number|page|blatt|lied|feuille|chanson|hoja|canción|"
    r"foglio|folha|blad|ark|strona)\.?\s*#?\d{1,3}",
    re.IGNORECASE,
)
"""The number of a sheet in a collection ("Campfire sheet 12")."""
_FEWEST_SAID, _MAY_BE_SAID = 4, -0.5
"""So many words in small letters above a title with settings are said to the reader, if they sound
so to these odds (ours)."""


def _titles_among(texts: Sequence[str]) -> list[int]:
    """The lines that could be titles, without a first one that is a sentence to the band over one
    in capitals, or in small letters sounds so, where the next has settings behind it ("moth song -
    key Am")."""
    titles = [at for at, text in enumerate(texts) if could_be_title(text)]
    if len(titles) < 2:
        return titles
    first, second = (texts[at] for at in titles[:2])
    sentence = _SENTENCE.search(first) or _OF_A_SHEET.fullmatch(first)
    said_first = sentence is not None and not first.isupper()
    if said_first and second.isupper() and not head_phrases(first).facts:
        return titles[1:]  # a sentence to the band over a title in capitals
    said = first.islower() and len(first.split()) >= _FEWEST_SAID
    if not said or head_phrases(first).facts or sounds_said(first) < _MAY_BE_SAID:
        return titles
    return titles[1:] if head_phrases(second).facts else titles


def _begins_like_one(text: str) -> bool:
    """Whether a line begins with a capital letter, whatever signs stand around it."""
    return without_ornaments(text)[:1].isupper()


def _without_answer(known: Sequence[KnownLine]) -> tuple[Line | None, Sequence[KnownLine]]:
    """The first line where it is the subject of a mail that was answered or sent on ("Fwd: for
    Friday"), and the other lines; it is the title only where no other line is."""
    at = next((at for at, one in enumerate(known) if one.line.text.strip()), 0)
    if not known or not is_answer(known[at].line.text) or not isinstance(known[at].kind, Words):
        return None, known
    return known[at].line, [*known[:at], *known[at + 1 :]]


def _with_remarks_behind(known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines, what was set apart from the end of a line behind the rest of it: a title stands
    before what is said of it."""
    result = list(known)
    for at in range(1, len(result)):
        before, one = result[at - 1], result[at]
        of_one = before.line.number == one.line.number and before.line.where == one.line.where
        if of_one and isinstance(before.kind, Remark) and isinstance(one.kind, Words):
            result[at - 1 : at + 1] = one, before
    return result


def _behind_a_greeting(texts: Sequence[str]) -> list[int]:
    """The line that could be a title or a greeting, where another greets above it, or it stands
    alone over settings and writers, or is spelled as a title."""
    greetings = [at for at, text in enumerate(texts) if is_greeting(text)]
    rest = [text for at, text in enumerate(texts) if text and at not in greetings]
    alone = len(greetings) == 1 and all(has_facts(text) or writer_of(text) for text in rest)
    alone = alone or (len(greetings) == 1 and _has_capitals_of_a_title(texts[greetings[0]]))
    return [at for at in greetings[not alone :] if is_doubtful_greeting(texts[at])][:1]


def _talk_as_title(sheet: Sheet, texts: Sequence[str], below: Sequence[KnownLine]) -> list[int]:
    """The line that greets or thanks and is the title ("Hello Blanket", "Thanks for the Rain"): its
    last word is sung, somebody is greeted above it, or a setting stands right below."""
    greetings = [at for at, text in enumerate(texts) if is_greeting(text)]
    first_greeting = greetings[0] if greetings else len(texts)
    signed = sheet.findings.has("sign-off")
    for at, text in enumerate(texts):
        greets = at in greetings
        if not (greets or is_talk(text)) or not _is_like_a_title(text):
            continue
        under = texts[at + 1] if at + 1 < len(texts) and " " in text else ""
        named = _gives_settings(under) and not signed
        if named or (greets and at > first_greeting) or _is_sung(text.split()[-1], below):
            return [at]
    return []


def _gives_settings(text: str) -> bool:
    """Whether a line gives settings and says nothing else."""
    head = head_facts(text)
    return bool(facts_of(text)) or names_a_fact(text) or (bool(head.facts) and not head.rest)


def _is_like_a_title(text: str) -> bool:
    """Whether a few words without a sign between them begin with capital letters, but for short
    ones within."""
    words = re.sub(r"['’]|(?<=[^\W\d_]),(?= )", "", text).split()
    plain = 0 < len(words) <= _MOST_OF_A_TITLE and all(map(str.isalpha, words))
    return plain and all(
        word[0].isupper() or (at and len(word) <= _SHORT) for at, word in enumerate(words)
    )


def _is_sung(word: str, below: Sequence[KnownLine]) -> bool:
    """Whether a word of at least some letters is among the words of the song."""
    name = letters_of(word)
    lines = (one.line.text for one in below if isinstance(one.kind, Words))
    return len(name) > _SHORT and any(name in map(letters_of, line.split()) for line in lines)


_MOST_OF_A_TITLE, _SHORT = 6, 3


def _has_capitals_of_a_title(text: str) -> bool:
    """Whether most of some words are capitalised, as in a title ("Morning Will Find Us")."""
    words = text.split()
    capitals = sum(word[0].isupper() for word in words)
    return len(words) >= _FEWEST_OF_A_TITLE and capitals >= len(words) - 1


_FEWEST_OF_A_TITLE = 3


def _take_by_kind(sheet: Sheet, known: Sequence[KnownLine], at: int) -> bool:
    """Takes a line of the head whose kind says what it is: chords, a form, a remark."""
    one, text = known[at], known[at].line.text.strip()
    if isinstance(one.kind, Chords):
        _take_bare_key(sheet, one)
    elif isinstance(one.kind, ChordsBehind) and has_key_behind(known, at, at):
        key = replace(one.line, text=one.kind.tokens[0].text)
        _take_bare_key(sheet, replace(one, line=key))
        read_head_line(sheet, one.kind.words)
    elif isinstance(one.kind, Roadmap):
        sheet.take_roadmap(one.kind.stops, one.line)
    elif isinstance(one.kind, Remark) and text.startswith("[") and not has_facts(text):
        take_note(sheet, replace(one.line, text=one.kind.text))
    else:
        return False
    return True


def _is_of_letter(text: str, at: int, title_at: int, chat: bool) -> bool:
    """Whether a line of the head is said to the reader of a mail: before the title most is."""
    letter = is_greeting(text) or only_leads(text) or (is_talk(text) and not facts_of(text))
    letter = letter or (at < title_at and text[:1].islower() and _speaks_of_settings(text))
    letter = letter or (is_introduced(text) and _called(text) is not None)
    letter = letter or (chat and title_at < 0 and text.endswith("?"))
    said = at < title_at and (chat or is_addressed_to_reader(text)) and not has_facts(text)
    return bool(text) and ((letter and at != title_at) or said)


def _speaks_of_settings(text: str) -> bool:
    """Whether a sentence gives settings among other words."""
    return not facts_of(text) and bool(facts_in_prose(text))


_OF_A_SET = re.compile(
    r"set\s*(?:list\s*)?#?(?:\d{1,2}|one|two|three|four)"
    r"(?:\s*[,/:·–—-]?\s*(?:(?:no|nr|song|tune|#)\.?\s*)?#?\d{1,2})?[.:]?",
    re.I,
)
"""The place of a song in a set, and nothing else ("set 2, no. 4")."""


def _is_a_running_head(text: str, below: str) -> bool:
    """Whether a line over what could be the title as well is of the book or the choir, with the
    number of its page; over the writer's name it is the title."""
    plain = text.strip() if len(text) <= _LONGEST_HEAD else ""
    numbered = any(map(str.isdigit, plain)) or (below.isupper() and not plain.isupper())
    if _OF_A_SET.fullmatch(plain) or (numbered and OF_A_BOOK.fullmatch(plain)):
        return True
    if names_people(below) and not below.isupper():
        return False
    if len(text) <= _LONGEST_HEAD and RUNNING_HEAD.fullmatch(text) is not None:
        return True
    right = AT_THE_LAST_MARGIN.match(text)
    return right is not None and PAGE_AT_THE_MARGIN.fullmatch(text[right.end() :]) is not None


def _take_title_from(sheet: Sheet, letters: Sequence[Line]) -> None:
    """Takes a title in quotes out of what is said to the reader of a mail, where no line is one."""
    for line in letters if "title" not in sheet.top and sheet.subject is None else ():
        short = len(line.text) <= _LONGEST_HEAD
        quoted = QUOTED.search(line.text) or _called(line.text) if short else None
        if quoted is not None:
            sheet.top["title"] = setting_text(quoted[1])
            if writer := name_behind(line.text[quoted.end() :]):
                sheet.top.setdefault("writer", setting_text(writer))
            for fact in settings_behind(line.text[quoted.end() :].strip(" (,;:–—-")).facts:
                take_fact(sheet, fact.name, fact.value, line)
            sheet.findings.guess(
                "title", f'the title is "{quoted[1]}", from "{line.text.strip()}"', line.place()
            )
            return


def _called(text: str) -> re.Match[str] | None:
    """A title that somebody says in a sentence, spelled as titles are."""
    match = _CALLED.search(text)
    return match if match is not None and is_spelled_as_title(match["title"]) else None


def _take_bare_key(sheet: Sheet, one: KnownLine) -> None:
    """Takes a chord alone in the head as the key."""
    key = key_of(without_parentheses(one.line.text.strip()))
    if key is None:
        take_head_facts(sheet, one.line.text, one.line)
    else:
        take_fact(sheet, "key", key, one.line)
        sheet.findings.guess(
            "key", f"the chord alone in the heading is read as the key {key}", one.line.place()
        )
