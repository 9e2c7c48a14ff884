"""Lines of settings in a head as they usually stand: without talk, dots and dashes, one each."""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.capo_words import CAPO_NAME
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.head_words.before_titles import number_before
from chartkit.interchange.text.head_words.head_facts import head_facts
from chartkit.interchange.text.head_words.head_labels import (
    TITLE_LABEL,
    title_label,
)
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.head_words.titles import QUOTES, could_be_title
from chartkit.interchange.text.kinds.line_kinds import (
    KnownLine,
    Words,
)
from chartkit.interchange.text.song_head.joined_writers import with_writers_joined
from chartkit.interchange.text.song_head.mixed_head_lines import FEWEST_FACTS
from chartkit.interchange.text.song_head.title_among_clauses import with_title_apart
from chartkit.interchange.text.vocabulary.facts import (
    facts_of,
    names_a_fact,
    without_parentheses,
)
from chartkit.interchange.text.vocabulary.key_words import KEY_NAME, PLAIN_KEY_NAME
from chartkit.interchange.text.vocabulary.tunings import tuning_of
from chartkit.interchange.wording import setting_text

_PAIR = re.compile(r"\s*[^\W\d_]{3,12}\s?:")
_PAIRS_APART = re.compile(
    r"(?:\s{2,}|\s+[|•·]\s+)(?=[^\W\d_]{3,12}\s?:\s?\S)|"
    rf"\s*[/,;–—-]?\s+(?=(?:{PLAIN_KEY_NAME}|{CAPO_NAME}|tempo|bpm|time|meter|tuning|artist|takt)\s?:\s?\S)",
    re.IGNORECASE,
)
_LONGEST_HEAD = 200


def plain_lines(sheet: Sheet, known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines of a head with a setting each, by its name and a colon; the capo that somebody
    asks for is reported."""
    collected: list[KnownLine] = []
    bare = [_without_number(sheet, one) for one in known]
    for one in _with_usual_labels(with_writers_joined(with_title_apart(sheet, bare))):
        one = _unemphasised(one)
        plain = _with_colons(_without_leaders(_without_talk(one)))
        collected += _pairs_apart(_without_question(sheet, plain))
    return collected


def _without_number(sheet: Sheet, one: KnownLine) -> KnownLine:
    """A title without the number of its song, set apart before it, which becomes a note."""
    end = number_before(one.line.text) if isinstance(one.kind, Words) else 0
    if not end:
        return one
    sheet.notes.append(setting_text(one.line.text[:end]))
    return replace(one, line=replace(one.line, text=one.line.text[end:], columns=None))


_OWN_TITLE = re.compile(
    r"\s*(?P<label>name(?: of (?:the )?(?:song|tune))?|tune|nom|nombre|naam)\s*:\s+"
    r"(?=[^\W_]|[\"“„«])",
    re.IGNORECASE,
)
"""Labels of a title where no usual one stands; a tune may be the one that words are sung to."""
_OWN_KEY = re.compile(
    r"\s*in\s*[:=]\s*(?=[A-H][#b♯♭]?(?:\s?(?:m|minor|major))?\s*$)", re.IGNORECASE
)


_WORD_FOR_SONG = re.compile(
    r"\W*(?:the\s|das\s|la\s)?(?:song|songs?text|lyrics?|title|lied|liedtext|titel|chanson|titre|canción|letra|"
    r"canzone|titolo|canção|liedje|låt|sång|sang|vise|piosenka)\s*[:.–—=*_~-]*\s*",
    re.IGNORECASE,
)


def _under_a_word_for_song(texts: Sequence[str]) -> int:
    """The line that stands under a word for "song" alone on a line, which has other lines above it
    or a sign behind it, and could be the title; -1 where there is none."""
    for at, text in enumerate(texts[:-1]):
        if len(text) <= _LONGEST_LABEL and _WORD_FOR_SONG.fullmatch(text) is not None:
            signed = not text.rstrip()[-1:].isalnum()
            below = next((i for i in (at + 1, at + 2) if "".join(texts[i : i + 1]).strip()), -1)
            if (signed or at > 1) and below > 0 and could_be_title(texts[below].strip()):
                return below
    return -1


_LONGEST_LABEL = 24


def _with_usual_labels(known: Sequence[KnownLine]) -> list[KnownLine]:
    """The lines, a key and a title with their usual labels: the first line that is called a name
    or a tune is the title where no other line above could be and none is called so."""
    texts = [one.line.text for one in known]
    titled = any(TITLE_LABEL.match(text) or title_label(text.strip()) for text in texts)
    result: list[KnownLine] = []
    labelled = _under_a_word_for_song(texts) if not titled else -1
    for at, (one, text) in enumerate(zip(known, texts, strict=True)):
        if at == labelled:
            text = f"Title: {text.strip(QUOTES)}"
        label = _OWN_TITLE.match(text) if not titled and len(text) <= _LONGEST_HEAD else None
        key = _OWN_KEY.match(text) if len(text) <= _LONGEST_HEAD else None
        if label is not None and not tuning_of(text[label.end() :]):
            titled = True
            text = f"Title: {text[label.end() :]}"
        elif key is not None:
            text = f"Key: {text[key.end() :]}"
        titled = titled or could_be_title(text.strip())
        line = one.line if text == one.line.text else replace(one.line, text=text, columns=None)
        result.append(one if line is one.line else KnownLine(line, Words()))
    return result


_BOLD = re.compile(
    r"(?<![^\s(])(?P<sign>[*_])(?=[^\s*_])(?P<said>[^*_]{2,60})(?<=\S)(?P=sign)(?![^\s).,;:!?])"
)


_SET_OFF = re.compile(
    r"\s*(?P<sign>[*=~#]{1,5})\s*(?P<said>[^\s*=~#](?:[^*=~#]{0,80}[^\s*=~#])?)\s*(?P=sign)\s+"
    r"(?P<more>\S.*)"
)
"""What begins a line between two of the same signs, and more ("* MILL POND *  - Fm, 112")."""


def _unemphasised(one: KnownLine) -> KnownLine:
    """A line without the stars around what is emphasised in it; those around all of it stay."""
    set_off = _SET_OFF.fullmatch(one.line.text[:_LONGEST_HEAD])
    text = f"{set_off['said']}  {set_off['more']}" if set_off is not None else one.line.text
    text = text.replace("**", "")
    if ("*" in text or "_" in text) and _BOLD.fullmatch(text.strip()) is None:
        text = _BOLD.sub(r"\g<said>", text)
    if text == one.line.text:
        return one
    return replace(one, line=replace(one.line, text=text, columns=None))


_TALK_BEFORE = re.compile(
    r"\s*(?:(?:ok(?:ay)?|so|right|alright|yes|yep|sure|well|cool|wait|hang on|one sec|sorry|hm+|oh|"
    r"and|gut|klar|also|moment|warte|bon|alors|attends|vale|bueno|espera|a ver|allora|aspetta|dus|"
    r"nou|wacht|vänta|czekaj)[\s,.!:–-]+){1,3}(?:it['’]?s\s+)?"
    rf"(?=(?:in|tempo|en|{CAPO_NAME}|{KEY_NAME})\b)",
    re.IGNORECASE,
)


def _without_talk(one: KnownLine) -> KnownLine:
    """A line of settings without the word of talk that begins it ("ok in G, about 132")."""
    match = _TALK_BEFORE.match(one.line.text) if len(one.line.text) <= _LONGEST_HEAD else None
    if match is None or not facts_in_prose(one.line.text):
        return one
    return replace(one, line=replace(one.line, text=one.line.text[match.end() :], columns=None))


_LEADERS = re.compile(r"(\s*[^\W\d_]{3,12})\s?\.{3,}\s*(?=\S)")
"""Dots that lead from a setting's name to its value."""


def _without_leaders(one: KnownLine) -> KnownLine:
    """A setting with a colon for the dots behind its name."""
    match = _LEADERS.match(one.line.text) if "..." in one.line.text else None
    if match is None and " ... " in one.line.text:
        first, *more = one.line.text.split(" ... ")
        head = head_facts(", ".join(more))
        if head.facts and not head.rest:
            text = "   ".join([first, *more])
            return replace(one, line=replace(one.line, text=text, columns=None))
    if match is None:
        return one
    text = f"{match[1]}: {one.line.text[match.end() :]}"
    return replace(one, line=replace(one.line, text=text, columns=None))


_ASKED = re.compile(
    r"(?:(?<![^\s,;|(–—-])|(?<=[¿]))(?:(?:maybe|or|perhaps|vielleicht|oder|evtl\.?|peut-être|ou|quizás?|o|forse|"
    r"misschien|of|kanske|eller|måske|kanskje)\s+)?"
    rf"(?P<what>(?:{CAPO_NAME})\b[^?\d,;|()]{{0,20}}\d{{1,2}}[^?\d,;|()]{{0,12}})\?+",
    re.IGNORECASE,
)
"""A capo that somebody asks for and does not say."""


def _without_question(sheet: Sheet, one: KnownLine) -> KnownLine:
    """A line of the head without the capo that it asks for: with a note and a finding, and no
    setting, as nobody has said where the capo sits."""
    text = one.line.text
    asked = _ASKED.search(text) if "?" in text and len(text) <= _LONGEST_HEAD else None
    if asked is None:
        return one
    sheet.notes.append(setting_text(without_parentheses(text.strip())))
    sheet.findings.guess(
        "capo-asked", f'"{asked["what"].strip()}" is a question: no capo is set', one.line.place()
    )
    left = f"{text[: asked.start()]} {text[asked.end() :]}"
    left = left if facts_of(left.strip(" ,;|()¿")) else text[: asked.start()]
    return replace(one, line=replace(one.line, text=left.rstrip(" ,;|(¿"), columns=None))


_DASHED = re.compile(
    rf"(?P<before>^\s*|\s{{2,}})(?P<name>title|titel|titre|artist|writer|{PLAIN_KEY_NAME}|time|meter|takt|"
    rf"tempo|bpm|{CAPO_NAME}|feel)\s+(?:-{{1,3}}|[–—])\s+(?=\S)",
    re.IGNORECASE,
)
"""A setting's name with a dash where others have a colon."""


def _with_colons(one: KnownLine) -> KnownLine:
    """A line of settings with a colon behind each name where it has a dash."""
    text = one.line.text
    if len(text) > _LONGEST_HEAD or _DASHED.match(text) is None:
        return one
    text = _DASHED.sub(r"\g<before>\g<name>: ", text)
    return replace(one, line=replace(one.line, text=text, columns=None))


def _pairs_apart(one: KnownLine) -> list[KnownLine]:
    """A line of several settings by their names as a line for each; any other as it is."""
    pairs = _PAIRS_APART.split(one.line.text) if ":" in one.line.text else []
    labelled = TITLE_LABEL.match(one.line.text) is not None
    labelled = labelled and not ("  " in one.line.text and any(map(names_a_fact, pairs)))
    if labelled or len(pairs) < FEWEST_FACTS or not all(map(_PAIR.match, pairs)):
        return [one]
    return [KnownLine(replace(one.line, text=pair, columns=None), Words()) for pair in pairs]
