"""Reads an order that stands on several lines, with one step or several on each, into steps:

    Routine:                    V V P C
    Head A x2                   V P C
    Tpt solo over A             key change, up a half step
    Head A - last bars 3x       C C

What a line says that names no step is said of the next one, or of the last where none follows.
Source of the form: common practice, no source.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.interchange.text.song_form.clauses import clauses_in
from chartkit.interchange.text.song_form.said_of_times import LONGEST_SAID, said_of_one
from chartkit.interchange.text.song_form.sentence_reader import SentenceReader
from chartkit.interchange.text.song_form.steps import SAME, SaidStep
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction
from chartkit.interchange.text.vocabulary.order_words import ENDS
from chartkit.interchange.text.vocabulary.section_names import section_key

_ITEM = re.compile(r"^\s*(?:(?:[-–—•*·▪>]+|==)\s+|\(?\d{1,2}[.):]\s+)")
"""The number or the bullet of an item of a list, or our own sign of a section."""
_NUMBER = re.compile(r"\s*\(?(\d{1,2})[.):]\s+")
_SQUARED = re.compile(r"\[([^\[\]]+)\]")
_BEFORE_LETTER = re.compile(r"(?<=[^\W\d_]):(?=[A-H]\b)")
"""A colon that parts a name from a letter, which may be a part of that ("Head:A")."""
_BEHIND_A_NAME = re.compile(r"\s*[,;:(]\s*|\s+[-–—]+\s+|\s{2,}(?=\S)|\s+")
_FEWEST_OF_ONE_LINE = 3
"""So many steps on a line show that the lines are no list of one step each."""
_MOST_WORDS_OF_A_NAME = 4
_WORD, _WORDS = re.compile(r"[^\W\d_]+"), re.compile(r"[^\W_]+")


def bare_item(text: str) -> str:
    """An item of a list without its number or bullet and the signs around a section's name."""
    bare = _SQUARED.sub(r"\1", _ITEM.sub("", text).strip(" .!"))
    return _BEFORE_LETTER.sub(" ", bare)


def are_numbered(texts: Sequence[str]) -> bool:
    """Whether all items of a list have numbers that count on from one."""
    numbers = [match[1] if (match := _NUMBER.match(text)) else "" for text in texts]
    return numbers == [str(at) for at in range(1, len(texts) + 1)]


class ListReader:
    """Reads line after line of an order into ``steps``; ``labelled`` says that a label calls it
    one.

    ``written`` are the names of the sections on the sheet, each with how often it is played there.
    """

    def __init__(
        self, written: Sequence[tuple[str, int]], is_chords: IsChords, labelled: bool
    ) -> None:
        self.sentence = SentenceReader(written, is_chords)
        self.written = [name for name, _ in written]
        self.labelled = labelled
        self.lines_of_many = False
        self.first_line: tuple[SaidStep, ...] = ()
        """The steps of the first line that names any."""
        self._said = ""

    @property
    def steps(self) -> tuple[SaidStep, ...]:
        """The steps so far; what was said behind the last is said of it."""
        if not self._said or not self.sentence.steps:
            return tuple(self.sentence.steps)
        *before, last = self.sentence.steps
        return (*before, _with(last, f"{last.remark}, {self._said}".removeprefix(", ")))

    def read(self, text: str, told: Sequence[SaidStep]) -> bool:
        """Reads one line; whether it is a part of an order.

        ``told`` are the steps that the line would be were it no part of a list.
        """
        bare = bare_item(text)
        if not 0 < len(bare) <= LONGEST_SAID:
            return False
        kept = self.sentence.steps[:]
        if self._of_one_time(bare):
            return True
        lent = len(told) == 1 and told[0].at < 0 and told[0].like not in ("", SAME)
        if lent or not (self._sentence(bare) or self._name_and_remark(bare)):
            if not told or _says_how_it_ends(told):
                return self._hold(bare)
            self.sentence.steps += told
        self._begin(len(kept))
        return True

    def _begin(self, before: int) -> None:
        """Adds what was said on the line before to the first of the new steps."""
        steps = self.sentence.steps
        self.lines_of_many |= len(steps) - before >= _FEWEST_OF_ONE_LINE
        self.first_line = self.first_line or tuple(steps)
        if self._said:
            remark = ", ".join(filter(None, (self._said, steps[before].remark)))
            steps[before] = replace(steps[before], remark=remark)
            self._said = ""

    def _hold(self, text: str) -> bool:
        """Keeps what a line says of the next step."""
        first = _WORD.match(text)
        manner = first is not None and ENDS.fullmatch(first[0]) is not None
        if not self.sentence.steps or not (is_direction(text) or manner):
            return False
        if self.lines_of_many and self._names_one(text):
            return False  # it is said of that one
        self._said = ", ".join(filter(None, (self._said, text)))
        return True

    def _names_one(self, text: str) -> bool:
        """Whether the name of a section of the sheet stands in a text."""
        words = " ".join(_WORDS.findall(text.casefold()))
        return any(f" {name.casefold()} " in f" {words} " for name in self.written)

    def _sentence(self, text: str) -> bool:
        """Reads a line whose clauses are all steps, or say something of a step."""
        before = self.sentence.steps[:]
        clauses = clauses_in(text)
        read = all(map(self.sentence.read, clauses)) and len(self.sentence.steps) > len(before)
        if read and len(clauses) > 1 and len(self.sentence.steps) == len(before) + 1:
            last = self.sentence.steps[-1]
            read = last.at < 0 and bool(last.like or last.row)  # a remark has its words as typed
        if not read:
            self.sentence.steps[:] = before
        elif len(self.sentence.steps) == len(before) + 2:
            self._take_soloist(clauses[-1])
        return read

    def _take_soloist(self, clause: str) -> None:
        """Takes the second step of a line, a solo of which nothing is known, as said of the first
        ("A twice, trumpet solo")."""
        first, last = self.sentence.steps[-2:]
        alone = last.at < 0 and not (last.like or last.row or last.remark) and last.times == 1
        solo = section_key(last.name)[0] == "solo" or last.name.casefold().endswith("solo")
        if first.at >= 0 and alone and solo:
            self.sentence.steps[-2:] = [_with(first, clause.strip())]

    def _name_and_remark(self, text: str) -> bool:
        """Reads a section's name with anything that is said of it behind a sign."""
        before = self.sentence.steps[:]
        parted = sorted(_parted(text), key=lambda one: not one[1])  # by a sign, if there is one
        for name, sign, said in parted:
            sure = bool(sign) and (self.labelled or count_words(said).strong > 0)
            told = sure or is_direction(said)
            named = told and self.sentence.add_names(name)
            if named and len(self.sentence.steps) == len(before) + 1:
                self.sentence.steps[-1] = _with(self.sentence.steps[-1], said)
                return True
            self.sentence.steps[:] = before
            first = _WORD.match(said)
            ends = first is not None and ENDS.fullmatch(first[0]) is not None
            if ends and self.sentence.add_names(name) and self.sentence.read(said):
                return True  # "C   end on Gm"
            self.sentence.steps[:] = before
        return False

    def _of_one_time(self, text: str) -> bool:
        """Takes what a line says of one of the steps above ("last chorus slower"), in an order
        whose lines have several steps each."""
        steps = self.sentence.steps
        if not steps or not self.lines_of_many:
            return False
        names = [self.written[one.at] if one.at >= 0 else one.name for one in steps]
        at = said_of_one(text, names, sure=True)
        if at is not None:
            steps[at] = _with(steps[at], text)
        return at is not None


def _parted(text: str) -> Iterator[tuple[str, str, str]]:
    """A line cut into what may be a name, the sign behind it, and the rest, at every place."""
    for match in _BEHIND_A_NAME.finditer(text):
        name, said = text[: match.start()], text[match.end() :].strip()
        if len(name.split()) > _MOST_WORDS_OF_A_NAME:
            return
        said = said.removesuffix(")") if "(" in match[0] and said.count("(") == 0 else said
        if name and said:
            wide = len(match[0]) > 1  # blanks part a name from what is said of it as a sign does
            yield name, match[0].strip() or " " * wide, said


def _says_how_it_ends(told: Sequence[SaidStep]) -> bool:
    """Whether the one step of a line is an end of which nothing is known ("end on the one")."""
    one = told[0]
    bare = one.at < 0 and not (one.like or one.row)
    return len(told) == 1 and bare and section_key(one.name)[0] == "end"


def _with(step: SaidStep, said: str) -> SaidStep:
    """A step of which a list says so, alone or beside what was said of it before."""
    remark = f"{step.remark}, {said}" if step.remark and step.remark not in said else said
    return replace(step, remark=remark)
