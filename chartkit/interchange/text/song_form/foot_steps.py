"""Reads a line below the last written-out section into steps: all that musicians say there of what
is played next ("Then the chorus again, very quiet. After that one more with the full band.").

Each clause is a step, which ``SentenceReader`` knows in most forms, or a remark on the step before,
which keeps its words as they are typed.  A line whose words tell too little of steps is none.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.song_form.clauses import (
    behind_lead,
    count_apart,
    placed_clauses,
    singular,
    without_leads,
)
from chartkit.interchange.text.song_form.listed_steps import bare_item
from chartkit.interchange.text.song_form.roadmap import label_end, names_in
from chartkit.interchange.text.song_form.said_of_times import LONGEST_SAID
from chartkit.interchange.text.song_form.sentence_reader import SentenceReader
from chartkit.interchange.text.song_form.steps import SaidStep
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction
from chartkit.interchange.text.vocabulary.foot_words import (
    AGAIN_FROM,
    AS_SOLO,
    BEHIND_ONE,
    COUNTED,
    COUNTS,
    FROM_TOP,
    HOW_PLAYED,
    IN_A_KEY,
    LAST_ONE,
    LIKE_ANOTHER,
    OF_A_LINE,
    OF_ONESELF,
    OVER_NEXT,
    PART_OF,
    REST_LABEL,
    SAID_FOR,
    TO_FOLLOW,
)
from chartkit.interchange.text.vocabulary.order_words import (
    ALL,
    ENDS,
    LEADS_BACK,
    LEADS_ON,
    RANGE,
    SAID_BEHIND,
)
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.sounds_said import may_be_said, sounds_said
from chartkit.interchange.text.vocabulary.times_played import says_once, times_of

_MOST_CLAUSES, _MOST_STEPS = 24, 40
_MOST_WORDS_OF_A_NAME, _MOST_WORDS_SAID = 4, 12
_IN_PARENTHESES = re.compile(r"(?P<name>[^()]+?)\s*\((?P<said>[^()]+)\)(?P<more>[^()]*)")
_BEFORE_CHORDS = re.compile(r"(?P<name>[^:()]{2,60}):\s+(?P<row>\S.*)")
_SOLO_KINDS = frozenset({"solo", "instrumental", "break"})


def foot_steps(
    text: str, written: Sequence[tuple[str, int]], is_chords: IsChords, sure: bool = False
) -> tuple[SaidStep, ...]:
    """The steps that a line below all sections names; none for any other line.

    ``written`` are the names of the sections above, each with how often it is played.  ``sure``
    says that the line asks for sections, whatever its words.
    """
    if not 0 < len(text) <= LONGEST_SAID or not written:
        return ()
    reader = FootReader(written, is_chords)
    return reader.result(sure) if reader.read(text) else ()


class FootReader:
    """Reads the clauses of one line into steps."""

    def __init__(self, written: Sequence[tuple[str, int]], is_chords: IsChords) -> None:
        self.sentence = SentenceReader(written, is_chords)
        self.is_chords = is_chords
        self._line, self._held, self._said_from, self._said_end = "", "", -1, -1
        self._signs = 0
        """How many signs there are that words of a song never have."""
        self._doubtful = False
        """Whether something was said that sounds sung."""

    @property
    def steps(self) -> list[SaidStep]:
        """The steps so far."""
        return self.sentence.steps

    def result(self, sure: bool) -> tuple[SaidStep, ...]:
        """The steps, if the line tells enough of them."""
        known = any(one.at >= 0 or one.like or one.row for one in self.steps)
        if not known or self.sentence.by_count or len(self.steps) > _MOST_STEPS:
            return ()
        signs = self._signs + len(self.steps) - 1
        return tuple(self.steps) if sure or signs > 0 or not self._doubtful else ()

    def read(self, text: str) -> bool:
        """Reads a line; whether all of it is read."""
        text = bare_item(text)
        if text[:1] + text[-1:] == "()" and text.count("(") == 1:
            text = text[1:-1]
        label = REST_LABEL.match(text)
        start = label.end() if label is not None else label_end(text)
        self._signs += 2 * (label is not None) + bool(LEADS_ON.match(text))
        self._line = text[start:].rstrip()
        clauses = [*placed_clauses(self._line)]
        if not 0 < len(clauses) <= _MOST_CLAUSES:
            return False
        if self._named_before_chords(self._line):
            return True
        if ":" in self._line and self.sentence.add_by_form(self._line):
            self._signs += 1
            return True
        return all(self._clause(at, clause) for at, clause in clauses) and not self._held

    def _clause(self, at: int, clause: str) -> bool:
        before = len(self.steps)
        if self._step(clause):
            self._said_from = -1
            if len(self.steps) > before:
                self.steps[before:] = map(_counted, self.steps[before:])
                self._take_held(before)
            return True
        return self._remark(at, clause)

    def _take_held(self, before: int) -> None:
        """Says of a new step what stood before it."""
        if self._held:
            self.steps[before] = _with(self.steps[before], self._held)
            self._held = ""

    def _step(self, clause: str) -> bool:
        """Reads a clause that is a step, or leads to one."""
        bare = self._without_place(clause.strip(" .!"))
        if not bare or TO_FOLLOW.fullmatch(bare) or (ENDS.fullmatch(bare) and self.steps):
            self._signs += 1
            return True
        if OF_ONESELF.match(bare):
            return False
        if OF_A_LINE.match(bare) and not PART_OF.fullmatch(bare):
            return False
        for one, _ in without_leads(bare):
            back = LEADS_BACK.match(one)
            if back is not None and (more := behind_lead(one[back.end() :])):
                self._signs += 1
                return self._step(more)
        if (ordinal := LAST_ONE.match(bare)) is not None and not self._names(bare):
            if self._held:
                return False  # "rit. last C" is said of that one
            self._signs += 1
            bare = bare[ordinal.end() :]
        return (
            self._counted_names(bare)
            or self._said_for(bare)
            or self._part(bare)
            or self._range_or_all(bare)
            or self._in_sentence(bare)
            or self._over_next(bare)
            or self._like_another(bare)
            or self._with_parentheses(bare)
            or self._name_and_said(bare)
        )

    def _counted_names(self, bare: str) -> bool:
        """Takes a section that is counted by a word before it ("two more choruses")."""
        for one, _ in without_leads(bare):
            match = COUNTED.match(one)
            times = COUNTS[match["count"].casefold()] if match is not None else 0
            rest = one[match.end() :] if match is not None else ""
            name = next((short for short in singular(rest) if self._names(short)), "")
            if times and name and self.sentence.add_names(name):
                self.steps[-1] = replace(self.steps[-1], times=times)
                self._signs += 1
                return True
        return False

    def _said_for(self, bare: str) -> bool:
        """Takes a section behind what is said of it ("up 2 semitones for the last chorus")."""
        for one, _ in without_leads(bare):
            match = SAID_FOR.fullmatch(one)
            if match is None or not (is_direction(match["said"]) or IN_A_KEY.match(match["said"])):
                continue
            if self._names(match["name"]) and self.sentence.add_names(match["name"]):
                self.steps[-1] = _with(self.steps[-1], match["said"])
                self._signs += 1
                return True
        return False

    def _without_place(self, clause: str) -> str:
        """A clause without what says behind which section it comes ("after the bridge its …")."""
        match = BEHIND_ONE.match(clause)
        if match is None:
            return clause
        words = match["more"].split()
        for end in range(min(_MOST_WORDS_OF_A_NAME, len(words)), 0, -1):
            if self._names(" ".join(words[:end])):
                self._signs += 1
                return " ".join(words[end:]).strip(" ,:")
        return clause

    def _names(self, text: str) -> bool:
        """Whether a text names one section of the sheet."""
        reader = self.sentence
        return len(names_in(text.strip(" ,"), reader.keys, reader.written)) == 1

    def _in_sentence(self, bare: str) -> bool:
        """Reads what the reader of sentences knows, but remarks without a sign before them."""
        before, again = self.steps[:], self.sentence.begins_again
        if any(ALL.fullmatch(count_apart(one)[1]) for one, _ in without_leads(bare) if one):
            return False
        solo = AS_SOLO.search(bare)
        text = AS_SOLO.sub("", bare) if solo is not None else bare
        read = self.sentence.read_step(text)
        if not read or (solo is not None and len(self.steps) == len(before)):
            self.steps[:] = before
            self.sentence.begins_again = again
            return False
        shorter = [one for one, _ in without_leads(text)]
        self._signs += len(shorter[-1]) < len(text.strip()) or solo is not None
        new = self.steps[len(before) :]
        if before and any(map(_is_who_is_alone, new)):
            self.steps[:] = before
            return False
        self._signs += any(one.times > 1 or one.like or one.row for one in new)
        self._signs += self.steps != before and not new
        return True

    def _part(self, bare: str) -> bool:
        """Takes a part of a section, which is said of that ("half a chorus")."""
        for one, _ in without_leads(bare):
            match = PART_OF.fullmatch(one)
            before = len(self.steps)
            if match is None or not self.sentence.add_names(match["name"]):
                continue
            self._signs += 1
            self.steps[before] = _with(self.steps[before], one)
            return True
        return False

    def _range_or_all(self, bare: str) -> bool:
        """Takes all sections, or those from one on."""
        before = len(self.steps)
        for one, _ in without_leads(AGAIN_FROM.sub("", bare)):
            if (RANGE.fullmatch(one) or FROM_TOP.fullmatch(one) or LEADS_BACK.fullmatch(one)) and (
                self.sentence.read_step(one) and len(self.steps) > before
            ):
                self._signs += 1
                return True
        return False

    def _over_next(self, bare: str) -> bool:
        """Takes the next section over which the solo before goes on ("then over bridge")."""
        last = self.steps[-1] if self.steps else None
        if last is None or not last.like or section_key(last.name)[0] not in _SOLO_KINDS:
            return False
        for one, _ in without_leads(bare):
            match = OVER_NEXT.fullmatch(one)
            stops = match is not None and self._names(match["name"])
            before = len(self.steps)
            if match is None or not stops or not self.sentence.add_names(match["name"]):
                continue
            other = self.sentence.written[self.steps[before].at]
            self.steps[before:] = [SaidStep(name=last.name, like=other)]
            return True
        return False

    def _like_another(self, bare: str) -> bool:
        """Takes a section that the sheet does not have, with the music of one that it has, and what
        is said of it ("Outro is the intro played once")."""
        for one, _ in without_leads(bare):
            match = LIKE_ANOTHER.match(one)
            if match is None or self._names(match["name"]):
                continue
            words = one[match.start("other") :].split()
            for end in range(min(_MOST_WORDS_OF_A_NAME, len(words)), 0, -1):
                name, said = " ".join(words[:end]), " ".join(words[end:])
                before = len(self.steps)
                if self._names(name) and self.sentence.add_names(name):
                    other = self.sentence.written[self.steps[before].at]
                    times, said = count_apart(said) if said else (1, "")
                    said = "" if says_once(said) or said in ("played", "gespielt") else said
                    step = SaidStep(name=match["name"], like=other, times=times, remark=said)
                    self.steps[before:] = [step]
                    self._signs += 1
                    return True
        return False

    def _with_parentheses(self, bare: str) -> bool:
        """Takes a step with what is said of it in parentheses."""
        match = _IN_PARENTHESES.fullmatch(bare)
        before = self.steps[:]
        if match is None or not self._step(match["name"]) or len(self.steps) == len(before):
            return False
        said = match["said"].strip()
        if self.is_chords(said) and not self.steps[-1].remark:
            self.steps[:] = before
            return False
        if times := times_of(said):
            self.steps[-1] = replace(self.steps[-1], times=max(times, self.steps[-1].times))
        else:
            self.steps[-1] = _with(self.steps[-1], said)
        more = match["more"].strip(" ,")
        if more and not self.sentence.read_step(more):
            self.steps[-1] = _with(self.steps[-1], more)
        return True

    def _name_and_said(self, bare: str) -> bool:
        """Takes a section with words behind it, without a sign between them, that tell how it is
        played ("verse 1 again super soft")."""
        for one, again in without_leads(bare):
            words = one.split()
            for end in range(min(_MOST_WORDS_OF_A_NAME + 1, len(words) - 1), 0, -1):
                name, said = " ".join(words[:end]), " ".join(words[end:])
                before = self.steps[:]
                if len(words) - end > _MOST_WORDS_SAID or not self._tells_how(said):
                    continue
                if len(words[end - 1]) == 1 and words[end - 1] not in self.sentence.written:
                    continue  # "I still know" speaks of no intro
                if self.sentence.read_step(name) and len(self.steps) == len(before) + 1:
                    if before and self.steps[-1].at < 0 and not self.steps[-1].like:
                        self.steps[:] = before
                        return False  # "solo voz" behind another is a remark
                    shorter = [short for short, _ in without_leads(name)]
                    self._signs += again or len(shorter[-1]) < len(name)
                    self.steps[-1] = _with(self.steps[-1], said)
                    return True
                self.steps[:] = before
        return False

    def _tells_how(self, said: str) -> bool:
        """Whether words right behind a name may tell how a section is played."""
        begins = HOW_PLAYED.match(said) or SAID_BEHIND.match(f"{said} ") or IN_A_KEY.match(said)
        return begins is not None or may_be_said(said) or count_words(said).strong > 0

    def _named_before_chords(self, text: str) -> bool:
        """Takes a section with chords of its own behind a colon, and what is said of it before
        that ("then outro just D and G back and forth: D G D G")."""
        match = _BEFORE_CHORDS.fullmatch(text)
        if match is None or not self.is_chords(match["row"]):
            return False
        for one, _ in without_leads(match["name"].strip()):
            name, _, said = one.partition(" ")
            titled = name.istitle() and len(name) > 2 and "," not in match["row"]
            if not said and titled and not is_direction(name):
                self.steps.append(SaidStep(name=name, row=match["row"]))
                self._signs += 1
                return True
            if section_key(name)[0] in ("outro", "vamp", "tag", "end", "coda", "interlude"):
                self.steps.append(SaidStep(name=name, row=match["row"], remark=said.strip()))
                self._signs += 1
                return True
        return False

    def _remark(self, at: int, clause: str) -> bool:
        """Adds what a clause says of the last step, in the words as they are typed, or keeps what
        the first one says of the next."""
        bare = clause.strip(" .!")
        if len(bare.split()) > _MOST_WORDS_SAID:
            return False
        said = is_direction(bare) or may_be_said(bare) or OF_A_LINE.match(bare) is not None
        said = said or count_words(bare).strong > 0
        if not self.steps:
            self._held = bare if not self._held else f"{self._held}, {bare}"
            return said
        self._doubtful |= not said and sounds_said(bare) < 0
        last = self.steps[-1]
        if self._said_from >= 0:
            whole = self._line[self._said_from : at + len(clause)].strip(" .!")
            said_before = self._line[self._said_from : self._said_end].strip(" .!")
            remark = last.remark.removesuffix(said_before) + whole
            self.steps[-1] = replace(last, remark=remark)
        else:
            self._said_from = at
            self.steps[-1] = _with(last, bare)
        self._said_end = at + len(clause)
        return True


def _counted(step: SaidStep) -> SaidStep:
    """A step, with the count that was taken for a remark ("[Refrain] (3 times)")."""
    times = times_of(step.remark) if step.times == 1 else 0
    return replace(step, times=times, remark="") if times > 1 else step


def _is_who_is_alone(step: SaidStep) -> bool:
    """Whether a step is who is alone, behind the word for that in Spanish, Italian or
    Portuguese ("solo voz"), which is a solo elsewhere."""
    bare = step.at < 0 and not (step.like or step.row)
    return bare and bool(step.remark) and step.name.casefold() in ("solo", "sólo")


def _with(step: SaidStep, said: str) -> SaidStep:
    """A step of which a line says so, beside what was said of it before."""
    return replace(step, remark=f"{step.remark}, {said}" if step.remark else said)
