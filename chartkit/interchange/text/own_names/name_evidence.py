"""What speaks for and against a line being the name of a section: the line's own signs, the lines
around it, and how the sheet writes elsewhere.

Each piece of evidence is a short text; two tables have a weight for each, learnt from our own
invented sheets by ``tests/interchange/names_table.py``.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from functools import cached_property
from pathlib import Path

from chartkit.interchange.text.learnt_weights import weights_in
from chartkit.interchange.text.names.name_shapes import KNOWN, NameShape, shape_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import (
    count_words,
    is_direction,
    is_talk,
    is_term,
)
from chartkit.interchange.text.vocabulary.facts import facts_of, names_a_fact
from chartkit.interchange.text.vocabulary.form_words import AS_BEFORE, LONGEST_FORM
from chartkit.interchange.text.vocabulary.references import says_whose
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES

TABLES = ("name_evidence.txt", "name_evidence_within.txt")
"""The weights of evidence for lines anywhere, and for those within a block where one line too many
stands below a row of chords."""
_LONGEST_ROW = 200
_FEWEST = 2
"""So many lines make a habit."""
_SURE = 1.5
"""A text of such odds sounds as if said, or sung (ours)."""
_FEWEST_STEPS, _MOSTLY = 3, 0.6
"""A line of at least so many parts, most of them known names, is one of form (ours)."""
_CHORD = re.compile(r"\(?[A-Ha-h](?:#|b|♯|♭)?(?:m|maj|min|sus|dim|add|aug|[2-79])*\)?")
_NUMBERS = re.compile(r"\|(?:[\s|:.%/–-]*[b#♭♯]?[1-7](?:m|-|7|°|sus)*(?:/[1-7])?)+[\s|:.%/–-]*")
"""Bars of degrees of the scale."""
_STEPS = re.compile(r"[-–—,;/>→|\s]+")
_COUNT = re.compile(ANY_TIMES, re.IGNORECASE)


class NameEvidence:
    """The lines of a sheet and its habits."""

    def __init__(self, texts: Sequence[str], is_chords: IsChords) -> None:
        self.texts = [text.strip() for text in texts]
        self.shapes = [shape_of(text) for text in self.texts]
        self.rows = [bool(text) and _is_row(text, is_chords) for text in self.texts]

    def odds(self, at: int) -> float:
        """The logarithm of the odds that a line names a section; lines that could not have none:
        minus infinity."""
        if self.shapes[at] is None:
            return float("-inf")
        within = self.is_within(at)
        weights = weights_in(Path(__file__).with_name(TABLES[within]))
        found = self.evidence_within(at) if within else self.evidence(at)
        return weights[""] + sum(weights.get(one, 0.0) for one in found)

    def is_within(self, at: int) -> bool:
        """Whether a line stands in the block of a row of chords below as many lines as stand under
        most rows, where only a name or a remark is due; one in parentheses is rather a remark."""
        shape = self.shapes[at]
        plain = shape is not None and shape.around != "()"
        return plain and self._under[at] > self._usual > 0

    def evidence(self, at: int) -> list[str]:
        """The features that count for and against the line at ``at`` being a section's name, each
        once."""
        shape = self.shapes[at]
        if shape is None:
            return []
        found = {
            *self._by_place(at, shape),
            *self._by_habit(at, shape),
            *self._by_names(at, shape),
            *self._by_rest(shape),
            *self._by_words(at, shape),
        }
        return sorted(found)

    def evidence_within(self, at: int) -> list[str]:
        """The same for a line within a block, with how it departs from the pattern of others."""
        shape = self.shapes[at]
        return sorted({*self.evidence(at), *(self._by_pattern(at, shape) if shape else ())})

    def _empty(self, at: int) -> bool:
        return not 0 <= at < len(self.texts) or not self.texts[at]

    def _above(self, at: int) -> str:
        """What stands right above a line."""
        if at <= self._first:
            return "start"
        if self._empty(at - 1):
            return "empty"
        if self.rows[at - 1]:
            return "row"
        above = self.shapes[at - 1]
        return "name" if above is not None and above.likeness in {*KNOWN, "letter"} else "words"

    def _below(self, at: int) -> str:
        """What stands right below a line."""
        if self._empty(at + 1):
            return "empty"
        if self.rows[at + 1]:
            return "bars" if "|" in self.texts[at + 1] else "row"
        below = self.shapes[at + 1]
        return "name" if below is not None and below.likeness in KNOWN else "words"

    def _by_place(self, at: int, shape: NameShape) -> Iterator[str]:
        """The line by what stands around it."""
        above, below = self._above(at), self._below(at)
        like, sign = shape.likeness, shape.sign
        yield f"like:{like}"
        yield f"like:{like},above:{above}"
        yield f"like:{like},below:{below}"
        yield f"like:{like},sign:{sign}"
        yield f"like:{like},above:{above},sign:{sign}"
        yield f"like:{like},letters:{shape.letters}"
        yield f"like:{like},number:{shape.is_numbered}"
        yield f"above:{above}"
        yield f"below:{below}"
        yield f"above:{above},below:{below}"
        yield f"sign:{sign}"
        lines = next((i for i in range(at + 1, at + 5) if self._empty(i)), at + 6) - at - 1
        yield f"like:{like},lines:{lines}"
        if self.rows[at]:
            yield from ("row", f"row,above:{above},below:{below}", f"row,like:{like}")
        if _CHORD.fullmatch(shape.name):
            yield from ("chord", f"chord,above:{above},below:{below}", f"chord,sign:{sign}")
        if at < self._begun:
            yield "head"
        if at == self._first:
            yield "first"

    def _by_habit(self, at: int, shape: NameShape) -> Iterator[str]:
        """The line by how the names of the sheet that are known stand."""
        like, many = shape.likeness, len(self._known)
        if shape.around:
            yield from ("around", f"around:{shape.around[-1]}")
            if self._habits[f"around:{shape.around}"] > (like in KNOWN):
                yield "around,habit"
        elif many and self._habits["around:"] < many // 3:
            yield "around,none"
        if many >= _FEWEST:
            share = 3 * self._habits[f"letters:{shape.letters}"] // many
            yield from (f"letters,share:{share}", f"like:{like},letters,share:{share}")
        if len(self.tops) > _FEWEST:
            share = 4 * self._tops_known // len(self.tops)
            where = "top" if at in self.tops else "in"
            yield from (f"tops,share:{share}", f"tops,share:{share},like:{like},{where}")
        if shape.rest and self._habits[f"sign:{shape.sign}"] >= _FEWEST:
            yield "sign,habit"

    def _by_names(self, at: int, shape: NameShape) -> Iterator[str]:
        """The line by its name, here and elsewhere in the sheet."""
        like, bare, top = shape.likeness, shape.bare, at in self.tops
        words = min(4, len(shape.name.split()))
        yield from (f"words:{words}", f"words:{words},like:{like}")
        if top and self._bares[bare] >= _FEWEST:
            yield from ("again", f"again,like:{like}", f"again,sign:{shape.sign}")
        if top and shape.is_numbered and len(self._numbers[bare]) >= _FEWEST:
            yield "counts,on"
        if bare in self._alone and bare in self._over_rows:
            yield from ("over,chords,and,alone", f"over,chords,and,alone,like:{like}")
        if bare in self._listed:
            yield from ("listed", f"listed,like:{like}")
        if self._whole[self.texts[at].casefold()] > 1:
            yield "same,line"
        known = like in {*KNOWN, "letter"}
        if top and known and section_key(shape.name)[0] in self._kinds:
            yield "kind,known"

    def _by_pattern(self, at: int, shape: NameShape) -> Iterator[str]:
        """The line by how many lines stand under the rows of the sheet, and by others that begin
        as it does: a name that no empty line sets off is one line too many below the words."""
        like, bare = shape.likeness, shape.bare
        last = self._below(at) in ("row", "bars", "name")
        yield from (f"last:{last}", f"last:{last},like:{like}", f"last:{last},sign:{shape.sign}")
        yield from (f"over:{self._under[at] - self._usual}", f"letters:{shape.letters}")
        if self._begun_so[bare] >= _FEWEST:
            yield from ("again,within", f"again,within,like:{like}")

    def _by_rest(self, shape: NameShape) -> Iterator[str]:
        """The line by what stands behind the name."""
        rest, sign = shape.rest, shape.sign
        if not rest:
            return
        sound = _sound_of(rest)
        yield from (f"rest:{sound}", f"rest:{sound},sign:{sign}")
        yield f"rest,words:{min(6, len(rest.split()))},sign:{sign}"
        if says_whose(rest):
            yield from ("rest,whose", f"rest,whose,sign:{sign}")
        if AS_BEFORE.fullmatch(rest.strip("() ")):
            yield "rest,as,before"
        if _COUNT.search(rest):
            yield "rest,count"
        if rest[0].islower():
            yield from ("rest,small", f"rest,small,sign:{sign}")
        if is_direction(rest.strip("()")):
            yield "rest,direction"

    def _by_words(self, at: int, shape: NameShape) -> Iterator[str]:
        """The line by what its words tell."""
        text, like = self.texts[at], shape.likeness
        sound = _sound_of(text)
        yield from (f"sounds:{sound}", f"sounds:{sound},like:{like}")
        if like not in KNOWN:
            if is_direction(shape.name) or is_term(shape.name):
                yield "direction"
            if is_talk(text):
                yield "talk"
            if count_words(shape.name).strong:
                yield "trade"
        if facts_of(text) or names_a_fact(text):
            yield from ("fact", f"fact,like:{like}")
        if text[-1] in ",;!.":
            yield from (f"last:{text[-1]}", f"last:{text[-1]},like:{like}")

    # ---- the sheet
    @cached_property
    def _under(self) -> list[int]:
        """For each line, which one it is below a row that stands above it without an empty line or
        a known name between them; 0 where there is no such row."""
        result, under = [], 0
        for at, text in enumerate(self.texts):
            shape = self.shapes[at]
            named = shape is not None and shape.likeness in KNOWN and shape.sign != "word"
            under = 0 if not text or named else under + 1 if under else 0
            result.append(0 if self.rows[at] else under)
            under = 1 if self.rows[at] else under
        return [max(0, one - 1) for one in result]

    @cached_property
    def _usual(self) -> int:
        """How many lines stand under most rows; 0 where few rows have any."""
        counts = Counter[int]()
        for at, row in enumerate(self.rows):
            below = at + 1
            while row and below < len(self.rows) and self._under[below]:
                below += 1
            counts.update([below - at - 1] if below > at + 1 else [])
        (usual, often) = max(counts.items(), key=lambda one: one[1], default=(0, 0))
        return usual if often >= _FEWEST else 0

    @cached_property
    def _begun_so(self) -> Counter[str]:
        """How many lines begin with each name."""
        return Counter(shape.bare for shape in self.shapes if shape is not None)

    @cached_property
    def _first(self) -> int:
        """The first line with anything."""
        return next((at for at, text in enumerate(self.texts) if text), 0)

    @cached_property
    def _begun(self) -> int:
        """The line at which the song begins: the first known name or row of chords, with a line
        apart right over that."""
        for at, shape in enumerate(self.shapes):
            named = shape is not None and shape.likeness in KNOWN and shape.sign != "word"
            if named and at > self._first:
                return at
            if self.rows[at] and " " in self.texts[at]:
                over = not self._empty(at - 1) and self._empty(at - 2) and at - 1 > self._first
                return at - over
        return len(self.texts)

    @cached_property
    def _known(self) -> list[NameShape]:
        """The lines that begin with known names."""
        shapes = (one for one in self.shapes if one is not None and one.sign != "word")
        return [one for one in shapes if one.likeness in KNOWN]

    @cached_property
    def _habits(self) -> Counter[str]:
        """How many known names stand in which signs, in which letters, and before which sign."""
        habits = Counter(f"around:{one.around}" for one in self._known)
        habits.update(f"letters:{one.letters}" for one in self._known)
        habits.update(f"sign:{one.sign}" for one in self._known)
        return habits

    @cached_property
    def _tops_known(self) -> int:
        """How many lines that stand apart begin with a known name."""
        return sum(shape.likeness in KNOWN for _, shape in self._named_tops)

    @cached_property
    def _kinds(self) -> frozenset[str]:
        return frozenset(section_key(one.name)[0] for one in self._known)

    @cached_property
    def tops(self) -> frozenset[int]:
        """The lines of the song that stand apart, with nothing right above."""
        filled = (at for at, text in enumerate(self.texts) if text and at >= self._begun)
        return frozenset(at for at in filled if self._empty(at - 1))

    @cached_property
    def _named_tops(self) -> list[tuple[int, NameShape]]:
        tops = ((at, self.shapes[at]) for at in sorted(self.tops))
        return [(at, shape) for at, shape in tops if shape is not None]

    @cached_property
    def _bares(self) -> Counter[str]:
        return Counter(shape.bare for _, shape in self._named_tops)

    @cached_property
    def _numbers(self) -> dict[str, set[str]]:
        """The numbered names that stand apart, by their names without numbers."""
        found: dict[str, set[str]] = defaultdict(set)
        for _, shape in self._named_tops:
            if shape.is_numbered:
                found[shape.bare].add(shape.name.casefold())
        return found

    @cached_property
    def _alone(self) -> frozenset[str]:
        return frozenset(shape.bare for at, shape in self._named_tops if self._empty(at + 1))

    @cached_property
    def _over_rows(self) -> frozenset[str]:
        over = (one for one, row in zip(self.shapes, self.rows[1:], strict=False) if row)
        return frozenset(one.bare for one in over if one is not None)

    @cached_property
    def _whole(self) -> Counter[str]:
        return Counter(text.casefold() for text in self.texts if text)

    @cached_property
    def _listed(self) -> frozenset[str]:
        """What stands among known names in lines of form."""
        return frozenset(name for text in self.texts for name in _steps_in(text))


def is_of_form(text: str) -> bool:
    """Whether a line is several parts, most of them known names ("Verse 2 / Chorus / Solo")."""
    return bool(_steps_in(text))


def _steps_in(text: str) -> list[str]:
    """The parts of a line of form without their numbers; none for any other line."""
    if len(text) > LONGEST_FORM:
        return []
    parts = [one.strip(".").rstrip("0123456789").casefold() for one in _STEPS.split(text)]
    parts = [one for one in parts if one]
    of_form = len(parts) >= _FEWEST_STEPS and _MOSTLY * len(parts) <= sum(map(is_known_name, parts))
    return parts if of_form else []


def _is_row(text: str, is_chords: IsChords) -> bool:
    """Whether a line is a row of chords, or of bars with degrees of the scale."""
    return len(text) <= _LONGEST_ROW and (is_chords(text) or _NUMBERS.fullmatch(text) is not None)


def _sound_of(text: str) -> str:
    """Whether a text sounds as if said or sung."""
    odds = sounds_said(text)
    return "said" if odds > _SURE else "sung" if odds < -_SURE else "even"
