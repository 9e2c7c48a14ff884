"""The way through a song for somebody who only sings: its sections in the order in which they are
sung, with the words of each phrase.

``sung_order.py`` says which bars and lines come; here their words become text: a section sung again
has its words, no pick-up stands twice, and a word split over two phrases stays whole.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from chartkit.arrange.arrangement import ArrangedSection, Arrangement, WordsLine
from chartkit.layout.numbered_names import name_without_number
from chartkit.layout.sung_again import run_together
from chartkit.layout.sung_order import Phrase, SungSection, sung_line, sung_sections
from chartkit.theory.naming import key_words


class SectionWords(NamedTuple):
    """A section in the chart and as it is sung, and the words of each phrase, time by time."""

    section: ArrangedSection
    sung: SungSection
    said: list[list[str]]


def words_in_sung_order(arrangement: Arrangement) -> list[SectionWords]:
    """The sections in the order they are sung; a key is said where it changes."""
    sections = _with_new_keys(_with_words_again(arrangement.sections), _key_at_first(arrangement))
    sung = sung_sections(sections)
    said = [
        [_said_in(sections[visit.section], phrase) for phrase in phrases]
        for visit in sung
        for phrases in visit.times
    ]
    pickups = [
        [_pickup_of(sections[visit.section], phrase) for phrase in phrases]
        for visit in sung
        for phrases in visit.times
    ]
    times = iter(_with_whole_words(_without_double_pickups(said, pickups)))
    return [
        SectionWords(sections[visit.section], visit, [next(times) for _ in visit.times])
        for visit in sung
    ]


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


def _said_in(section: ArrangedSection, phrase: Phrase) -> str:
    sung = sung_line(section, phrase)
    return line_text(*sung) if sung else ""


def _pickup_of(section: ArrangedSection, phrase: Phrase) -> str:
    """What a phrase begins with before its first bar."""
    sung = sung_line(section, phrase)
    return sung[0].pickup.text if sung and sung[1][0] == 0 else ""


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
        before = sung.get(section.again.casefold())
        alike = name_without_number(section.name) == name_without_number(section.again)
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
    """What is sung in some bars of a line of words, or in all, split words joined; with the first
    bar also what comes before it."""
    sung = range(len(line.bars)) if bars is None else bars
    before = (line.pickup,) if not sung or sung[0] == 0 else ()
    text, splits = run_together((*before, *(one for at in sung for one in line.bars[at])))
    return text + "-" * splits
