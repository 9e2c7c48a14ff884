"""The way through a song for somebody who only sings: its sections in the order in which they are
sung, with the words of each phrase.

``sung_order.py`` says which bars and lines come; here their words become text: a section sung again
has its words, no pick-up stands twice, a pick-up begins the line that it leads to, a line goes on
through an ending in a later row, and a word split over two phrases stays whole.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from chartkit.arrange.arrangement import ArrangedSection, Arrangement, WordsLine
from chartkit.chart.model import Segment
from chartkit.chart.numbered_names import name_without_number
from chartkit.layout.sung_again import run_together
from chartkit.layout.sung_order import (
    Phrase,
    SungSection,
    sung_line,
    sung_sections,
    turns_in,
)
from chartkit.theory.naming import key_words


class SectionWords(NamedTuple):
    """A section in the chart and as it is sung, and the words of each phrase, time by time.

    ``is_numbered`` says that several verses are sung to its rows, here or where it comes again.
    """

    section: ArrangedSection
    sung: SungSection
    said: list[list[str]]
    is_numbered: bool = False


def words_in_sung_order(arrangement: Arrangement) -> list[SectionWords]:
    """The sections in the order they are sung; a key is said where it changes."""
    sections = _with_new_keys(_with_words_again(arrangement.sections), _key_at_first(arrangement))
    sung = [_with_long_lines(visit, sections) for visit in sung_sections(sections)]
    phrases = [(sections[v.section], phrases) for v in sung for phrases in v.times]
    said = [[said_in(section, one) for one in every] for section, every in phrases]
    pickups = [[_pickup_of(section, one) for one in every] for section, every in phrases]
    ends = [[_last_bar(section, one) for one in every] for section, every in phrases]
    said = _without_double_pickups(said, pickups)
    times = iter(_with_whole_words(_with_pickups_below(said, pickups, ends)))
    turns, numbered = turns_in(sections), _numbered_turns(sung, sections)
    return [
        SectionWords(
            sections[visit.section],
            visit,
            [next(times) for _ in visit.times],
            turns[visit.section] in numbered,
        )
        for visit in sung
    ]


def _numbered_turns(sung: Sequence[SungSection], sections: Sequence[ArrangedSection]) -> set[int]:
    """The sections, as ``turns_in`` names them, in which several of the lines under a row are
    sung."""
    turns = turns_in(sections)
    lines: dict[int, set[int]] = {}
    for visit in sung:
        systems = sections[visit.section].systems
        lines.setdefault(turns[visit.section], set()).update(
            phrase.line
            for phrases in visit.times
            for phrase in phrases
            if len(systems[phrase.system].words) > 1
        )
    return {turn for turn, own in lines.items() if len(own) > 1}


# ---- where a line ends
_SENTENCE_ENDS = tuple(".!?")


def _with_long_lines(visit: SungSection, sections: Sequence[ArrangedSection]) -> SungSection:
    """The section with a line that leaves its row for an ending or a coda in a later one whole: a
    singer's line does not end where the player's row is left."""
    section = sections[visit.section]
    times = []
    for phrases in visit.times:
        kept: list[Phrase] = []
        for phrase in phrases:
            if kept and _goes_on(section, kept[-1], phrase):
                kept[-1] = kept[-1]._replace(further=(*kept[-1].further, phrase))
            else:
                kept.append(phrase)
        times.append(kept)
    return replace(visit, times=times)


def _goes_on(section: ArrangedSection, phrase: Phrase, following: Phrase) -> bool:
    """Whether a line goes on in the next phrase: the way leaves its row before the end, for a later
    row over which nothing is said, and the words so far end no sentence."""
    run = phrase.runs[-1]
    system, later = section.systems[run.system], section.systems[following.system]
    leaves = run.bars[-1] + 1 < len(system.bars) and following.system > run.system
    texts = said_in(section, run), said_in(section, following)
    return leaves and all(texts) and not later.above and not texts[0].endswith(_SENTENCE_ENDS)


_PICKUP_WORDS = 3
"""The most words after a mark of punctuation in the last bar of a line that are taken as the
pick-up of the next (ours)."""
_PUNCTUATED = 2 / 3
"""From this share of lines on that end with punctuation, pick-ups aside, a song marks its lines by
it (ours)."""
_ENDED = re.compile(r"[,;:.!?…—–]['’”\"»)]*$")
_PICKUP = re.compile(r"[,;:.!?…—–]['’”\"»)]* (?P<pickup>[^,;:.!?…—–]+)$")


def _with_pickups_below(
    said: list[list[str]], pickups: list[list[str]], ends: list[list[str]]
) -> list[list[str]]:
    """The phrases, each beginning with its pick-up where that is typed in the bar before it.

    In the last bar of a row stand the end of a line and the first words of the next one: "hat; and
    it's" is sung as two.  So a few words after a mark of punctuation there move on, in a song that
    ends its lines with such marks, if a small letter goes on after them or a capital begins them
    (ours).
    """
    flat, last = [one for every in said for one in every], [one for every in ends for one in every]
    before = [one for every in pickups for one in every]
    matches = [_PICKUP.search(end) for end in last]
    ended = sum(
        bool(_ENDED.search(text) or match) for text, match in zip(flat, matches, strict=True)
    )
    if ended >= _PUNCTUATED * sum(map(bool, flat)):
        for i, (match, following) in enumerate(zip(matches, flat[1:], strict=False)):
            pickup = match["pickup"] if match else ""
            if not pickup or not following or before[i + 1] or not flat[i].endswith(pickup):
                continue
            begins = pickup[0].isupper() or following[0].islower()
            if begins and len(pickup.split()) <= _PICKUP_WORDS:
                flat[i] = flat[i][: -len(pickup)].rstrip()
                space = "" if pickup.endswith("-") else " "
                flat[i + 1] = f"{pickup.removesuffix('-')}{space}{following}"
    parts = iter(flat)
    return [[next(parts) for _ in every] for every in said]


def _without_double_pickups(said: list[list[str]], pickups: list[list[str]]) -> list[list[str]]:
    """The phrases, none ending in the very words that the next one begins with before its first
    bar: an ending before a repeat often has the pick-up that stands at the start as well."""
    kept: list[list[str]] = []
    following = ""
    for phrases, before in zip(reversed(said), reversed(pickups), strict=True):
        own: list[str] = []
        for text, pickup in zip(reversed(phrases), reversed(before), strict=True):
            double = following and (text == following or text.endswith(f" {following}"))
            own.insert(0, text[: -len(following)].rstrip() if double else text)
            following = pickup if text else following
        kept.insert(0, own)
    return kept


def _with_whole_words(times: list[list[str]]) -> list[list[str]]:
    """The phrases of each time, a word that is split over two of them whole in the first, even
    where a jump or bars without words lead to the other."""
    phrases = [phrase for own in times for phrase in own]
    whole = list(phrases)
    sung = [i for i, phrase in enumerate(phrases) if phrase]
    for i, following in pairwise(sung):
        rest, _, others = phrases[following].partition(" ")
        if phrases[i].endswith("-") and rest[:1].islower():
            whole[i] = f"{whole[i][:-1]}{rest}"
            whole[following] = others
    parts = iter(whole)
    return [[next(parts) for _ in own] for own in times]


def said_in(section: ArrangedSection, phrase: Phrase) -> str:
    """The words of a phrase, a word split between its runs whole."""
    text = ""
    for run in phrase.runs:
        sung = sung_line(section, run)
        own = line_text(*sung) if sung else ""
        joined = text[:-1] + own if text.endswith("-") and own[:1].islower() else f"{text} {own}"
        text = joined.strip()
    return text


def _last_bar(section: ArrangedSection, phrase: Phrase) -> str:
    """What is sung in the last bar of a phrase that has words."""
    sung = sung_line(section, phrase.runs[-1])
    if sung is None:
        return ""
    line, bars = sung
    texts = (line_text(replace(line, pickup=Segment()), (at,)) for at in reversed(bars))
    return next(filter(None, texts), "")


def _pickup_of(section: ArrangedSection, phrase: Phrase) -> str:
    """What a phrase begins with before its first full bar."""
    sung = sung_line(section, phrase)
    if sung is None or sung[1][0] != 0:
        return ""
    is_struck = section.systems[phrase.system].bars[0].bar.pickup
    return line_text(sung[0], (0,)) if is_struck else sung[0].pickup.text


def _key_at_first(arrangement: Arrangement) -> str:
    keys = arrangement.keys
    return key_words(keys.sounding, arrangement.naming) if arrangement.key_given else ""


def _with_new_keys(sections: Sequence[ArrangedSection], key: str) -> list[ArrangedSection]:
    """The sections, with no key announced that holds already."""
    result = []
    for section in sections:
        systems = []
        for system in section.systems:
            said = []
            for one in system.above:
                if one.kind != "key" or one.text != key:
                    said.append(one)
                key = one.text if one.kind == "key" else key
            systems.append(replace(system, above=tuple(said)))
        result.append(replace(section, systems=tuple(systems)))
    return result


def _with_words_again(sections: Sequence[ArrangedSection]) -> list[ArrangedSection]:
    """The sections as they are sung: one with the music of an earlier one of its kind and no
    words of its own (a chorus after a chorus) is sung with the other's words."""
    sung: dict[str, ArrangedSection] = {}
    result = []
    for section in sections:
        before = sung.get(section.same_as.casefold())
        alike = name_without_number(section.name) == name_without_number(section.same_as)
        if before is not None and alike and not has_words(section):
            pairs = zip(section.systems, before.systems, strict=False)
            systems = tuple(replace(own, words=other.words) for own, other in pairs)
            section = replace(section, systems=systems)
        sung[section.name.casefold()] = section
        result.append(section)
    return result


def has_words(section: ArrangedSection) -> bool:
    """Whether anything is sung in a section."""
    return any(line_text(line) for system in section.systems for line in system.words)


def line_text(line: WordsLine, bars: Sequence[int] | None = None) -> str:
    """The text sung in some bars of a line of words, or in all, with split words joined; with the
    first bar also what comes before it."""
    sung = range(len(line.bars)) if bars is None else bars
    before = (line.pickup,) if not sung or sung[0] == 0 else ()
    text, splits = run_together((*before, *(one for at in sung for one in line.bars[at])))
    return text + "-" * splits
