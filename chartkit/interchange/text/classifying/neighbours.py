"""Classifies lines of words by the lines around them: words to be sung, remarks to the band, or
remarks to the reader of a mail."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from chartkit.interchange.text.classifying.after_song import (
    names_words_below,
    without_end_matter,
)
from chartkit.interchange.text.classifying.said_below import is_for_the_band
from chartkit.interchange.text.classifying.said_evidence import SaidEvidence
from chartkit.interchange.text.classifying.said_under_names import without_talk_under_names
from chartkit.interchange.text.classifying.sung_below import sung_below
from chartkit.interchange.text.classifying.sung_or_said import SungOrSaid
from chartkit.interchange.text.classifying.tail_evidence import SAID, TailEvidence, tail_below
from chartkit.interchange.text.kinds.line_kinds import (
    MUSIC,
    Blank,
    Chords,
    KnownLine,
    Letter,
    LineKind,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Words,
)
from chartkit.interchange.text.tokens import STRUCK, WORDS_TOO
from chartkit.interchange.text.vocabulary.directions import (
    begins_with_term,
    is_direction,
    is_greeting,
    is_talk,
    is_term,
    points_on,
    tells_who_plays,
    without_arrow,
)
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.sounds_said import sung_weight

_A_NAME = re.compile(r"[^\W\d_][^\W\d_’'-]{0,20}\.?(?:\s[^\W\d_]\w{0,20}\.?)?(?:\s+x+)?")
"""Who signs a letter, alone on the last line."""
_APART = (Blank, Letter, Roadmap, Note)
_FEWEST_WITH_WORDS = 2
_FEWEST_WORDS = 3
"""Fewer words in capitals between a row and its words are shouted to the players (ours)."""


def with_neighbours(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, with what is said to the band set apart from words."""
    known = _with_paragraphs_said(_with_sung_letters(_with_named_ending(known)))
    known = without_end_matter(without_talk_under_names(known))
    return _with_remarks_above_names(_Neighbours(known).result())


_SENTENCES = re.compile(r"[a-zà-öø-ž]{2}[.!?]\s+[A-ZÀ-ÖØ-Þ][a-zà-öø-ž]")
"""The end of a sentence and the beginning of the next on one line."""


def _with_paragraphs_said(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, a block of sentences between sections as remarks, where every other block of the
    song has its name or its chords ("At this point Sid tells the story. Keep / going round
    quietly."): words are no sentences that end within a line."""
    result = list(known)
    begun = next((at for at, one in enumerate(known) if isinstance(one.kind, MUSIC)), len(known))
    blocks = [block for block in _blocks(known, begun) if isinstance(known[block[0]].kind, Words)]
    if len(blocks) != 1:
        return known
    texts = [known[at].line.text.strip() for at in blocks[0]]
    plain = all(isinstance(known[at].kind, Words) for at in blocks[0])
    others = (one.line.text for at, one in enumerate(known) if at > begun and at not in blocks[0])
    said = any(map(_SENTENCES.search, texts)) and texts[-1][-1:] in ".!?"
    if not plain or not said or any(map(_SENTENCES.search, others)):
        return known
    for at in blocks[0]:
        result[at] = replace(known[at], kind=Remark(known[at].line.text.strip()))
    return result


def _blocks(known: Sequence[KnownLine], start: int) -> Iterator[list[int]]:
    """The places of the lines between blank ones, from one on."""
    block: list[int] = []
    for at in range(start, len(known) + 1):
        if at < len(known) and not isinstance(known[at].kind, Blank):
            block.append(at)
        elif block:
            yield block
            block = []


def _with_remarks_above_names(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, with each remark that stands right above a section's name, apart from the section
    before, as the first of the section that it is about ("(in tempo)" over "Refrain")."""
    for at in range(1, len(known) - 1):
        above, one, below = (known[at + step].kind for step in (-1, 0, 1))
        if (
            isinstance(above, Blank)
            and isinstance(one, Remark)
            and isinstance(below, SectionStart)
            and one.in_parentheses
        ):
            known[at], known[at + 1] = known[at + 1], known[at]
    return known


def _with_named_ending(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, with a chord alone right under the name of an earlier section, as the last
    line, named as an ending: that section is played again, and then this."""
    filled = [at for at, one in enumerate(known) if not isinstance(one.kind, Blank)]
    if len(filled) < 2:
        return known
    above, last = filled[-2:]
    start, kind = known[above].kind, known[last].kind
    if not (isinstance(kind, Chords) and isinstance(start, SectionStart)) or start.with_chords:
        return known
    key = section_key(start.name)
    earlier = any(
        isinstance(one.kind, SectionStart) and section_key(one.kind.name) == key
        for one in known[:above]
    )
    struck = [token for token in kind.tokens if token.kind in STRUCK]
    if not earlier or len(struck) != 1 or kind.behind_name:
        return known
    end = SectionStart("End", guessed=True, with_chords=True)
    return [*known[:last], KnownLine(known[last].line, end), *known[last:]]


def _with_sung_letters(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, with a word such as "A" alone between two rows of chords as words: it is what
    is sung to the first, where words stand under chords."""
    if not any(isinstance(one.kind, Words) for one in known):
        return known
    known = [
        replace(one, kind=Words())
        if at > 0 and _is_one_chord(one) and _is_sung_letter(known[at - 1 : at + 3])
        else one
        for at, one in enumerate(known)
    ]
    return _with_sung_rows(known)


def _with_sung_rows(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, with those as words that could be chords with a word among them ("Ab Ab gone"),
    where they stand under chords and all other rows of chords have words under them."""
    doubtful = {at for at in range(1, len(known)) if _could_be_sung(known, at)}
    if not doubtful:
        return known
    apart = {place for at in doubtful for place in (at - 1, at)}
    others = [
        isinstance(below.kind, Words)
        for at, (one, below) in enumerate(pairwise(known))
        if isinstance(one.kind, Chords) and at not in apart
    ]
    if len(others) < _FEWEST_WITH_WORDS or not all(others):
        return known
    return [replace(one, kind=Words()) if at in doubtful else one for at, one in enumerate(known)]


def _could_be_sung(known: Sequence[KnownLine], at: int) -> bool:
    """Whether a row under plain chords, with no words below it, has a word in small letters among
    chords that stand as close together as words."""
    above, one = known[at - 1].kind, known[at].kind
    if not isinstance(above, Chords) or not isinstance(one, Chords) or one.behind_name:
        return False
    if not any(token.kind == "word" and token.text[:1].islower() for token in one.tokens):
        return False
    plain = all(token.kind in STRUCK for token in above.tokens)
    close = "  " not in known[at].line.text.strip() and "|" not in known[at].line.text
    below = known[at + 1].kind if at + 1 < len(known) else Blank()
    said = any(is_direction(token.text) for token in one.tokens if token.kind == "word")
    return plain and close and not said and not isinstance(below, Words)


def _is_one_chord(one: KnownLine) -> bool:
    return isinstance(one.kind, Chords) and len(one.kind.tokens) == 1


def _is_sung_letter(block: Sequence[KnownLine]) -> bool:
    """Whether the second of four lines is a word that could be a chord, under and above rows of
    several chords without bars, of which the second has words under it."""
    if len(block) < 4 or not all(isinstance(one.kind, Chords) for one in block[:3]):
        return False
    above, letter, below = (one.kind.tokens for one in block[:3] if isinstance(one.kind, Chords))
    if len(letter) != 1 or letter[0].text not in WORDS_TOO:
        return False
    plain = all(token.kind in STRUCK for token in (*above, *below))
    return plain and len(above) > 1 and isinstance(block[3].kind, Words)


class _Neighbours:
    """Looks at each line of words beside the lines above and below."""

    def __init__(self, known: list[KnownLine]) -> None:
        self.known = known

    def result(self) -> list[KnownLine]:
        """The lines, with what is said to the band set apart from words."""
        alone = [
            isinstance(one.kind, Words) and self._is_alone(at) for at, one in enumerate(self.known)
        ]
        first, last = self._music_at()
        evidence = SaidEvidence(list(self.known))
        said = evidence if evidence.shows_habits else SungOrSaid(self.known)
        for at, one in enumerate(self.known):
            if isinstance(one.kind, Words):
                weighed: LineKind = said.kind_of(at) if at > first else one.kind
                if not (isinstance(weighed, Remark) and self._under_chords(at)):
                    kind = self._said(at, one, alone[at], at < first, at > last)
                    weighed = weighed if kind is one.kind else kind
                kind = weighed
                if kind is not one.kind:
                    self.known[at] = replace(one, kind=kind)
            elif isinstance(one.kind, Remark) and one.kind.in_parentheses:
                self.known[at] = replace(one, kind=self._aside(at, one.kind, said))
        return self.known

    def _aside(self, at: int, aside: Remark, said: SaidEvidence | SungOrSaid) -> LineKind:
        """What a line in parentheses is: words where it is sung, as the answer of a choir to the
        words above it is; a remark that is never sung between words and under chords."""
        tail = tail_below(self.known, at)
        if tail is None:
            under = self._under_chords(at) and isinstance(said.kind_of(at), Remark)
            return replace(aside, in_parentheses=False) if under else aside
        if self._tails.odds(tail) <= SAID:
            return Words()
        between = not self._under_chords(at - 1) and self._words_below(at)
        return replace(aside, in_parentheses=False) if between else aside

    @cached_property
    def _tails(self) -> TailEvidence:
        return TailEvidence([*self.known])

    def _music_at(self) -> tuple[int, int]:
        """The first and the last line of music."""
        music = [at for at, one in enumerate(self.known) if isinstance(one.kind, MUSIC)]
        if not any(isinstance(self.known[at].kind, Chords) for at in music):
            return music[0] if music else len(self.known), len(self.known)
        return music[0], music[-1]

    def _said(self, at: int, one: KnownLine, alone: bool, before: bool, after: bool) -> LineKind:
        """The kind of a line of words, by the lines around it."""
        text = one.line.text.strip()
        if before:
            return one.kind
        if points_on(text):
            return Remark(without_arrow(text))
        if after and is_talk(text) and self._ends_a_list(at):
            return Letter()
        if self._under_chords(at):
            said = is_term(text) or self._is_shouted(at, text)
            said = begins_with_term(text) or (said and self._words_below(at))
            return Remark(text) if said else one.kind
        if is_term(text) or (alone and is_direction(text)):
            return Remark(without_arrow(text))
        apart = at == 0 or isinstance(self.known[at - 1].kind, _APART)
        if after and apart and (is_talk(text) or is_greeting(text)):
            return Remark(text) if is_for_the_band(text) else Letter()
        below = at + 1 == len(self.known) or isinstance(self.known[at + 1].kind, Blank)
        if alone and apart and below and tells_who_plays(text):
            return Remark(text.rstrip(":"))
        below_letter = at > 0 and isinstance(self.known[at - 1].kind, Letter)
        below_said = self._ends_with_a_step and self._is_below_what_is_said(at)
        if after and (below_letter or below_said) and _A_NAME.fullmatch(text):
            return Letter()
        if after and self._ends_with_a_step and (apart or below_said):
            return one.kind if at in self._sung_below else Remark(text)
        return one.kind

    def _is_shouted(self, at: int, text: str) -> bool:
        """Whether a line under chords is a word or two in capitals that nobody sings, above words
        in small letters ("WHISPER")."""
        words = text.casefold().split()
        if not text.isupper() or len(words) >= _FEWEST_WORDS or at + 1 >= len(self.known):
            return False
        shouted = self.known[at + 1].line.text.isupper() or self._times[text] > 1
        return not shouted and not any(map(sung_weight, words))

    @cached_property
    def _times(self) -> Counter[str]:
        """How often each line stands in the sheet."""
        return Counter(one.line.text.strip() for one in self.known)

    def _ends_a_list(self, at: int) -> bool:
        """Whether the line above is chords behind a section's name, and no words stand under any
        other such line."""
        above = self.known[at - 1].kind if at else None
        if not isinstance(above, Chords) or not above.behind_name:
            return False
        return not any(
            isinstance(before.kind, Chords) and before.kind.behind_name and after.can_be_sung
            for before, after in pairwise(self.known[:at])
        )

    @cached_property
    def _ends_with_a_step(self) -> bool:
        """Whether the last section is a step of the form, so that no words are due below."""
        places = range(len(self.known) - 1, -1, -1)
        last = next((at for at in places if isinstance(self.known[at].kind, SectionStart)), -1)
        start = self.known[last].kind if last >= 0 else None
        step = isinstance(start, SectionStart) and start.guessed
        return step and not names_words_below(self.known, last)

    @cached_property
    def _sung_below(self) -> frozenset[int]:
        """The lines below all music that are sung."""
        return sung_below(self.known, self._music_at()[1])

    def _is_below_what_is_said(self, at: int) -> bool:
        """Whether nothing but remarks stands between a line and the blank one above it."""
        above = at - 1
        while above > 0 and isinstance(self.known[above].kind, Remark | Letter):
            above -= 1
        return 0 <= above < at - 1 and isinstance(self.known[above].kind, Blank)

    def _under_chords(self, at: int) -> bool:
        return at > 0 and isinstance(self.known[at - 1].kind, Chords)

    def _words_below(self, at: int) -> bool:
        return at + 1 < len(self.known) and self.known[at + 1].can_be_sung

    def _is_alone(self, at: int) -> bool:
        """Whether no other line of words without chords stands beside a line."""
        above = self.known[at - 1] if at else None
        below = self.known[at + 1] if at + 1 < len(self.known) else None
        sung_above = above is not None and isinstance(above.kind, Words)
        return not (sung_above and not self._under_chords(at - 1)) and not (
            below is not None and isinstance(below.kind, Words)
        )
