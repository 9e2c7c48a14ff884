"""Sections and their order that somebody tells in sentences: "After that there is a bridge: Am Em.
So: verse, chorus, verse, chorus, bridge, chorus. In the last chorus we slow down."

A sentence that leads to a section's name and several chords behind it becomes that name before its
row, and a sentence of names alone becomes a line of form; the other sentences of such a line stand
on lines of their own.  Source of the words: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.raw_text.set_apart import as_said
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import full_name_at, may_name_a_section
from chartkit.interchange.text.vocabulary.times_played import times_of
from chartkit.interchange.wording import one_line

_SENTENCE = re.compile(r"(?<=[^\s.])[.!?;]+\s+(?=[^\W_])")
_IS = re.compile(
    r"\s*(?:,?\s*(?:which|that|und|der|die|das|que|qui|che|som|och|and)\s+)?"
    r"(?:(?-i:is|are|goes|ist|sind|geht|est|sont|va|fait|es|son|è|é|fa|sono|är|er|går|gaat)\b"
    r"(?:\s+(?:like|just|only|simply|so|nur|einfach|comme ça|así|così|zo))?\s*:?|:)\s+",
    re.IGNORECASE,
)
"""What stands between a section's name and its chords."""
_ITEM = re.compile(
    r"(?:(?:and|then|und|dann|et|puis|y|luego|e|poi|en|dan|och|sedan|the|a|an|der|die|das|le|la|el|il|"
    r"de|another|again|finally)\s+)*",
    re.IGNORECASE,
)
_BETWEEN = re.compile(
    r"\s*(?:,|;|->|→|\s[-–]\s|(?<!\w)(?:then|dann|puis|luego|poi|dan|sedan|and|und|et|y|e|en|och)(?!\w))"
    r"\s*"
)
_COUNT = re.compile(r"[\s(]*(?P<times>[^(),.]{1,16}?)\)?")
_FEWEST_STEPS, _FEWEST_CHORDS = 4, 2
_FEWEST_LED, _MOST_LED, _MOST_COUNT = 2, 8, 4
_LONGEST, _MOST_LINES = 500, 2_000


def with_sections_told(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those that tell sections or their order in sentences as lines of names, chords,
    orders and remarks."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result: list[Line] = []
    for line in lines:
        texts = _told(line.text, is_chords) if _may_tell(line.text) else []
        if not texts:
            result.append(line)
            continue
        findings.guess(
            "in-sentences",
            f'"{one_line(line.text)}" is read as {"; ".join(map(one_line, texts))}',
            line.place(),
        )
        result += [replace(line, text=text, columns=None) for text in texts]
    return result


def _may_tell(text: str) -> bool:
    return 0 < len(text) <= _LONGEST and " " in text and may_name_a_section(text)


def _told(text: str, is_chords: IsChords) -> list[str]:
    """The lines that a line of sentences stands for; none for any other line."""
    sentences = [one.strip() for one in _SENTENCE.split(text) if one.strip()]
    rows = [_row_told(one, is_chords) for one in sentences]
    orders = [_order_told(one) for one in sentences]
    if not any(rows) and not any(orders):
        return []
    result = []
    for at, sentence in enumerate(sentences):
        given = [rows[at]] if rows[at] else orders[at]
        under = at > 0 and bool(rows[at - 1]) and full_name_at(sentence, 0) == 0
        result += given or [as_said(sentence) if under else sentence]
    return result


def _row_told(text: str, is_chords: IsChords) -> str:
    """A section's name before its chords, for a sentence that leads to them; empty for others."""
    for at, end in _names_in(text):
        sign = _IS.match(text, end)
        led = text[:at].split()
        if sign is None or len(led) > _MOST_LED:
            continue
        if sign[0].strip() == ":" and (len(led) < _FEWEST_LED or led[-1][-1] in ",;:"):
            continue
        tokens = list(re.finditer(r"\S+", text[sign.end() :]))
        count = 0
        while count < len(tokens) and is_chords(tokens[count][0].strip(",;.!")):
            count += 1
        if count < _FEWEST_CHORDS:
            continue
        behind = sign.end() + tokens[count - 1].end()
        row, rest = text[sign.end() : behind].strip(" ,;.!"), text[behind:].strip(" ,;.!")
        times, said = _times_and_rest(rest)
        remark = f" ({said.strip('()')})" if said else ""
        return f"{text[at:end].strip()}: {row}" + (f" x{times}" if times > 1 else "") + remark
    return ""


def _names_in(text: str) -> Iterator[tuple[int, int]]:
    """Where names of sections begin and end in a text, none within another."""
    passed = 0
    for word in re.finditer(r"[^\W\d_]+", text):
        end = full_name_at(text, word.start()) if word.start() >= passed else 0
        if end > word.start():
            passed = end
            yield word.start(), end


def _times_and_rest(text: str) -> tuple[int, str]:
    """How often something is played by the first words of a text, and the rest."""
    words = text.split()
    for size in range(min(_MOST_COUNT, len(words)), 0, -1):
        if times := times_of(" ".join(words[:size]).strip(" ,;()")):
            return times, " ".join(words[size:]).strip(" ,;")
    return 1, text


def _order_told(text: str) -> list[str]:
    """A line of form for a sentence of names alone, behind what leads to them; none for others."""
    if "|" in text or ":" in text[label_end(text) - 1 : label_end(text)]:
        return []
    first = next(_names_in(text), None)
    if first is None or first[0] == 0 or len(text[: first[0]].split()) > _MOST_LED:
        return []
    items = [one.strip(" .!") for one in _BETWEEN.split(text[first[0] :])]
    steps = [_ITEM.sub("", one, count=1) for one in items if one]
    if len(steps) < _FEWEST_STEPS or not all(map(_is_step, steps)):
        return []
    return [f"Form: {', '.join(steps)}"]


def _is_step(text: str) -> bool:
    """Whether a text is the name of a section, with how often it is played or no more."""
    end = full_name_at(text, 0)
    if end == 0 or end == len(text):
        return end > 0
    count = _COUNT.fullmatch(text, end)
    return count is not None and times_of(count["times"].strip()) > 0
