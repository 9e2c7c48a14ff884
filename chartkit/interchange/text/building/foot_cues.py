"""What is said below the whole song ("last chorus without drums", "bass only on the first V", "end
dry"): a cue of the section that it names, else of the last one that is played.

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import CueRow, MusicRow, Row, Section, WordsRow
from chartkit.interchange.text.song_form.cues_taken import without_cues
from chartkit.interchange.text.vocabulary.order_words import which_one
from chartkit.interchange.text.vocabulary.section_names import full_name_at, section_key

_WORD = re.compile(r"[^\W\d_][^\W\d_’'-]*(?:\s?\d{1,2}(?!\w))?")
_WHEN = re.compile(
    r"(?<!\w)(?:before|after|until|till?|into|to|vor|nach|bis|avant|après|jusqu\S*|antes|después|hasta|"
    r"prima|dopo|fino|voor|na|tot|före|efter|till?|før|etter|przed|po|před|"
    r"then|dann|danach|puis|ensuite|luego|después|poi|daarna|sedan|depois|potem|pak)(?:\s+\S+){0,2}$",
    re.IGNORECASE,
)
"""A section named behind these says when something is, and it may be any one's."""
_AT_THE_END = re.compile(
    r"\W*(?:(?:and|und|et|y|e|en|och|og)\s+)?(?:at the (?:very )?end|to (?:end|finish|close)|"
    r"finally|(?:ganz )?am ende|"
    r"zum (?:schluss|ende|abschluss)|à la (?:toute )?fin|pour finir|al (?:final|finale)|"
    r"para terminar|alla fine|"
    r"per finire|no fi(?:m|nal)|aan het eind|tot slot|till slut|til slutt?|på slutningen|"
    r"na koniec)\b",
    re.IGNORECASE,
)
"""How a line begins that speaks of the end of the song, whatever it names there."""
_LONGEST_ENDING, _SHORTEST_STEM = 4, 5
_WORDS_BEFORE, _MOST_NAMES = 3, 40
_LONGEST = 160


def with_cues_at_their_sections(
    sections: Sequence[Section], order_line: int
) -> tuple[Section, ...]:
    """The sections in the order in which they are played, cues below all music at the sections of
    which they are said; ``order_line`` is the line that gave the order, 0 where none did."""
    rows = [row for one in sections for row in one.rows]
    if not any(isinstance(row, CueRow) for row in rows):
        return tuple(sections)
    music = (row.span.start for row in rows if isinstance(row, (MusicRow, WordsRow)))
    foot = max(music, default=0)
    moved: dict[int, list[CueRow]] = defaultdict(list)
    gone: dict[int, list[Row]] = defaultdict(list)
    names: _Names | None = None
    for at, section in enumerate(sections):
        first = max(foot, section.span.start + 1) + 1
        for row in section.rows:
            if not isinstance(row, CueRow) or row.span.start < first:
                continue
            names = names or _Names([one.name for one in sections])
            target = names.named_in(row.text)
            if _AT_THE_END.match(row.text) is not None:
                target = len(sections) - 1
            if target is None:
                target = len(sections) - 1 if order_line > foot else at
            if target != at:
                moved[target].append(row)
                gone[at].append(row)
    if not moved:
        return tuple(sections)
    return tuple(
        replace(one, rows=(*without_cues(one.rows, gone[at]), *moved.get(at, ())))
        for at, one in enumerate(sections)
    )


class _Names:
    """The names of all sections that are played, and where each of them stands."""

    def __init__(self, names: Sequence[str]) -> None:
        self.whole: dict[str, list[int]] = defaultdict(list)
        self.keys: dict[tuple[str, str], list[int]] = defaultdict(list)
        self.kinds: dict[str, list[int]] = defaultdict(list)
        for at, name in enumerate(names):
            key = section_key(name)
            self.whole[name].append(at)
            self.keys[key].append(at)
            self.kinds[key[0]].append(at)
        self.few = [name for name in self.whole if name.strip()][:_MOST_NAMES]

    def named_in(self, text: str) -> int | None:
        """The place of the one section that a text names; None where it names none or several."""
        found: set[int] = set()
        text, behind = text[:_LONGEST], 0
        for match in _WORD.finditer(text):
            before = text[: match.start()].split()[-_WORDS_BEFORE:]
            places = self._called(text, match, before) if match.start() >= behind else []
            if places and _WHEN.search(" ".join(before)) is None:
                behind = max(match.end(), full_name_at(text, match.start()))
                called = text[match.start() : behind].split()
                found.add(_which_of((*before[-1:], *called), places))
        return found.pop() if len(found) == 1 else None

    def _called(self, text: str, match: re.Match[str], before: Sequence[str]) -> list[int]:
        """The places of the sections of which a word, or the words that begin there, is the
        name."""
        word = match[0]
        if len(word) == 1:
            counted = bool(before) and which_one(before[-1]) != 0
            begins = not before and text[match.end() :].lstrip()[:1].islower()
            return self.whole.get(word, []) if counted or begins else []
        end = full_name_at(text, match.start())
        key = section_key(text[match.start() : end] if end > match.start() else word)
        alike = self.keys.get(key, [])
        if not alike and end > match.start():
            alike = self.kinds.get(key[0], [])
        inflected = (name for name in self.few if _is_inflected(word, name))
        return alike or self.whole.get(next(inflected, ""), [])


def _which_of(words: Sequence[str], places: Sequence[int]) -> int:
    """Which of the places of some sections is meant by words before the name or in it: the first
    where they do not say."""
    which = next(filter(None, map(which_one, words)), 1)
    return places[-1] if which < 0 else places[min(which, len(places)) - 1]


def _is_inflected(word: str, name: str) -> bool:
    """Whether a word is another form of a name ("zwrotki", "refrängen")."""
    base, word = name.casefold().split()[0], word.casefold()
    stem = base[: max(_SHORTEST_STEM, len(base) - 2)]
    few = len(word) <= len(base) + _LONGEST_ENDING
    return len(base) >= _SHORTEST_STEM and few and word.startswith(stem)
