"""Reads the clauses of a line of form into steps."""

import re

from chartkit.chart.section_words import SUNG_KINDS
from chartkit.interchange.text.rows.chord_a_line import times_a_line
from chartkit.interchange.text.song_form.steps import SAME, KnownNames, Step
from chartkit.interchange.text.song_form.steps_so_far import (
    OpenStep,
    StepsSoFar,
    leads_to_chord,
)
from chartkit.interchange.text.tokens import WORDS_TOO, IsChords
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction
from chartkit.interchange.text.vocabulary.ends_on import song_end
from chartkit.interchange.text.vocabulary.form_words import (
    ABOUT_WORDS,
    AGAIN_BEFORE,
    BAR_COUNT,
    CHORDS_OF,
    COUNT_FIRST,
    IN_A_KEY,
    ONCE_AGAIN,
    ONCE_MORE_BEFORE,
    ONLY,
    OVER_ANOTHER,
    OVER_OR_LIKE,
    PLAYED_AGAIN,
    PLAYED_ONCE_MORE,
    ROUNDS,
    STAYS,
    TAGGED,
    TIMES_FIRST,
    UNTIL_WHEN,
    VERBS_OF_ENDING,
    may_lead,
    rounds_of,
    section_meant,
    written_out,
)
from chartkit.interchange.text.vocabulary.key_words import says_how_much_higher
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key
from chartkit.interchange.text.vocabulary.sung_words import is_unsung, says_unsung
from chartkit.interchange.text.vocabulary.times_played import says_once, times_of

_BESIDE_CHORDS = frozenset({"intro", "outro", "end", "coda", "tag"})
"""Kinds of sections that no letter counts, so that an A behind the name is a chord."""
_FADES = frozenset({"outro", "end", "coda", "tag"})
_SOLOS = frozenset({"solo", "instrumental", "break"})
"""Kinds of sections to which an ending belongs that is said behind them."""
_KNOWN_ENOUGH, _FEW_WORDS = 0.5, 4
_TELLS_KEY = (":", "=", "-", ",", ";")
_CLOSED = re.compile(r"\)[\s,;:–-]*(?=\S)")


class StepReader:
    """Reads clause after clause into steps, and weighs whether they are a line of form."""

    def __init__(self, text: str, reads_as_chords: IsChords, known: KnownNames) -> None:
        self.text = text
        self.reads_as_chords = reads_as_chords
        self.known = known
        self.doubtful = self.labelled = False
        self.vamps = self.asks = False
        """Whether the first section stays on a chord, as a word before it says; whether the line
        begins with a section asked for again ("repeat refrain, with choir")."""
        self.said_before, self.once_more = "", False
        self.so_far = StepsSoFar(text, reads_as_chords, known)
        self.steps = self.so_far.steps
        self.words = self.known_words = 0
        self.signs = 0
        """The number of signs that words never have: times, chords, bars counted, several names."""

    def read(self, at: int, clause: str, sign: str) -> None:
        """Reads a clause that stands behind a sign."""
        again = PLAYED_AGAIN.match(clause)
        bare = clause[again.end() :] if again is not None else clause
        count = COUNT_FIRST.match(bare)
        bare = bare[count.end() :] if count is not None else bare
        times = int(count[1]) if count is not None else 1
        rounds = ROUNDS.match(clause) if self.steps else None
        if rounds is not None and self.so_far.counts_rounds(rounds["name"]):
            self._like(rounds["name"], clause[rounds.end() :].strip(), at)
            self.steps[-1].times = max(self.steps[-1].times, rounds_of(rounds["count"]))
            return
        name, rest = self._name_or_end_in(bare, sign)
        inside = sign == "(" and bool(self.steps)
        if again is not None or self.steps:
            letter, _, more = bare.partition(" ")
            if self.so_far.is_step(letter, again is not None, sign):
                self._open(letter, at, times, again is not None, more.strip())
                return
        if (other := self.so_far.letter_in(bare, sign)) and again is None:
            self._like(other, bare[len(other) :].strip(), at)
        elif name and (again is None or inside) and self.so_far.means_another(name, rest, sign):
            self._like(name, rest, at)
            self.steps[-1].times = max(self.steps[-1].times, times)
            if sign == "," and self.steps[-1].remarks:  # a soloist wants to know over which form
                self.steps[-1].remarks[-1] += f", {clause}"
        elif name and self.so_far.is_played_by(self.said_before, sign, name, rest):
            self._open(self.said_before, self.text.find(self.said_before), 1, False, "")
            self.said_before = ""
            self._like(name, rest, at)
        elif name and (
            again is not None or not self.steps or self.so_far.goes_on(name, rest, sign)
        ):
            self.asks |= again is not None and not self.steps and not rest
            self._open(name, at, times, again is not None, rest)
            self.once_more |= count is not None and len(self.steps) == 1  # "2 x chorus - hushed"
        elif self.steps:
            self._say(clause, sign, at)
        else:
            self.said_before = clause if is_direction(clause) else ""

    def result(self, sure: bool) -> tuple[Step, ...]:
        """The steps, if what was read is a line of form."""
        if not self.steps:
            return ()
        share = self._known_share()
        lends = any(one.like for one in self.steps)
        if self.doubtful and not (self.signs and (share == 1.0 or lends)):
            return ()
        if not (sure or share == 1.0 or (self.signs and share >= _KNOWN_ENOUGH)):
            return ()
        self.steps[0].remarks += [self.said_before] if self.said_before else []
        steps = (one for at, one in enumerate(self.steps) if not self.so_far.only_leads(at))
        return tuple(one.closed() for one in steps)

    def _known_share(self) -> float:
        """How much of what is said of the steps is said to players, all of it where what they are
        is never sung."""
        first, last = self.steps[0], self.steps[-1]
        if first.like and not self.doubtful and self.words <= _FEW_WORDS:
            return 1.0  # "Verse 2 - same as verse 1, steel stays"
        if last.row and self.text.endswith(")"):
            kind = section_key(last.name)[0]
            if kind == "end" or (kind not in SUNG_KINDS and last.row[0] not in WORDS_TOO):
                return 1.0  # "end on D (all wave)"
        once_more = self.once_more and all(map(self.so_far.is_above, self.steps))
        if once_more or (self.asks and section_key(first.name) in self.known.keys):
            return 1.0  # "Chorus again, then the Prelude, dying away"
        kind = section_key(first.name)[0]
        if first.row and kind in _FADES:
            if first.led_on and self.words <= _FEW_WORDS:
                return 1.0  # "end on D, feedback"
            said = self.text.partition(first.row[0])[2]
            if kind == "end" and (count_words(said).strong or '"' in said):
                return 1.0
        if self.vamps and kind not in SUNG_KINDS:
            return 1.0  # "Vamp on Dm until Ezra nods"
        return self.known_words / self.words if self.words else 1.0

    def _name_in(self, clause: str, first: bool, bracketed: bool) -> tuple[str, str]:
        """The section's name with which a clause begins, and what stands behind it."""
        if not first or self.labelled:
            clause = self.so_far.without_article(clause)
        end = self.known.all.end_at(clause)
        if end:
            name, rest = clause[:end].strip(), clause[end:].lstrip(" !").rstrip()
            self.doubtful = self.doubtful or (first and not is_known_name(name))
            if not first and name.casefold() == "tag" and TAGGED.match(rest) is not None:
                return "", clause
            if name.casefold() in VERBS_OF_ENDING:
                return "End", rest
            bare, _, letter = name.rpartition(" ")
            if len(letter) == 1 and letter.isupper() and section_key(bare)[0] in _BESIDE_CHORDS:
                return bare, f"{letter} {rest}".strip()
            return name, rest
        word, _, rest = clause.partition(" ")
        number, _, behind = rest.partition(" ")
        if self.so_far.counts(number) and self.so_far.is_short(f"{word} {number}"):
            return f"{word} {number}", behind
        if self.so_far.is_short(word) and (first or not rest or times_of(rest)):
            return word, rest
        capitals = word.isupper() and len(word) > 1 and not self.reads_as_chords(word)
        if first and (bracketed or capitals) and word[:1].isalpha() and is_known_name(word):
            return word, rest
        if self.so_far.is_short(word) and self._name_in(rest, False, False)[0]:
            return word, rest
        if first and self.so_far.stands_before_chords(word, rest):
            return word, rest
        if first and len(word) > 2 and word[0].isupper() and is_known_name(word):
            self.doubtful = True
            return word, rest
        return "", clause

    def _name_or_end_in(self, clause: str, sign: str) -> tuple[str, str]:
        """The same, also where a clause behind another says on which chord the song ends."""
        name, rest = self._name_in(clause, not self.steps, sign in ("[", "("))
        end = song_end(clause, self.reads_as_chords) if self.steps and not name else None
        if end is None or not end.sure:
            return name, rest
        return end.name, f"{end.said} on {end.chord}".strip()

    def _like(self, name: str, rest: str, at: int) -> None:
        step = self.steps[-1]
        step.like = name
        self.signs += 1
        rest = CHORDS_OF.sub("", rest, count=1).strip()
        if rest and ONCE_AGAIN.fullmatch(rest) is None:
            self._say(rest, "", at)

    def _open(self, name: str, at: int, times: int, again: bool, rest: str) -> None:
        """Opens a step; an ending said behind an outro belongs to it."""
        if not self.steps and self.so_far.is_one_name(name, rest, self.text.find(name, at)):
            name, rest = f"{name} {rest}", ""
        before = self.steps[-1] if self.steps else None
        times = 2 if times == 1 and name.casefold().startswith("double ") else times
        chords = self.so_far.chords_behind(rest)
        kind = section_key(name)[0]
        self.signs += times > 1 or again or bool(self.steps)
        belongs = before is not None and not before.like and section_key(before.name)[0] in _FADES
        if before is not None and belongs and kind == "end" and chords:
            before.row += [f"({name} {chords[0]})".replace(" )", ")"), chords[1]]
            self.signs += 1
            return
        self.steps.append(OpenStep(name, at, times, led_to=again and before is not None))
        more = rest and not says_unsung(rest)  # "Chorus instrumental" is the chorus
        other = self._name_in(rest, False, False)[0] if more else ""
        if other and (section_key(other)[0] in self.known.kinds or self.known.all.is_full(rest)):
            self.read(self.text.find(rest, at), rest, ",")
        elif rest:
            self._say(rest, "", self.text.find(rest, at))

    def _say(self, clause: str, sign: str, at: int) -> None:
        """Adds to the last step what a clause says of it."""
        step = self.steps[-1]
        if step.row and times_a_line((clause,)):
            step.row.append(f"({clause})")  # "twice per line"
            self.signs += 1
            return
        bare = self._without_count_first(clause, step)
        at, clause = at + len(clause) - len(bare), bare
        if not clause:
            return
        for lead in (ONLY, AGAIN_BEFORE):
            clause = lead.sub("", clause) if times_of(lead.sub("", clause)) else clause
        if times := times_of(clause) or int(says_once(clause)):
            if times == 1:
                step.remarks.append(clause)  # where it is played twice elsewhere
            if step.row and step.times == 1:
                step.row.append(f"(x{times})")  # of its chords, or of all: its words decide
            else:
                step.times = max(step.times, times)
            self.signs += 1
            self.once_more |= times > 1 and len(self.steps) == 1 and not step.remarks
        elif self.so_far.plays_again(clause, step):
            self.once_more = self.once_more or PLAYED_ONCE_MORE.fullmatch(clause) is not None
            step.like = step.like or SAME
            self.signs += 1
        elif step.like and (chord := self.so_far.ends_on(clause)):
            self.steps.append(OpenStep("End", max(at, 0), row=[chord]))
            self.signs += 1
        elif self._is_key_of_remark(clause, sign, step):
            step.remarks[-1] += f" ({clause})" if sign == "(" else f"{sign} {clause}"
        elif self._takes_another(clause, step) or self._takes_chords(clause, step, sign, at):
            self.signs += 1
        else:
            self._remark(clause, step, at, inside=sign == "(")

    def _without_count_first(self, clause: str, step: OpenStep) -> str:
        """A clause without the count or the "again" that begins it, which the step takes."""
        counted = TIMES_FIRST.match(clause)
        if counted is not None and times_of(counted[0]) and not step.remarks:
            step.times = max(step.times, times_of(counted[0]))
            self.signs += 1
            self.once_more |= len(self.steps) == 1
            clause = clause[counted.end() :].strip()
        again = ONCE_MORE_BEFORE.match(clause)
        if again is None or step.row or step.led_to or not self.so_far.is_above(step):
            return clause
        self.once_more |= len(self.steps) == 1 and not step.remarks  # "Trio again 8va"
        return clause[again.end() :]

    def _is_key_of_remark(self, clause: str, sign: str, step: OpenStep) -> bool:
        """Whether a chord alone is the key that a remark speaks of ("up a step: G")."""
        if not step.remarks or " " in clause or not self.reads_as_chords(clause):
            return False
        return sign == "(" or (sign in _TELLS_KEY and says_how_much_higher(step.remarks[-1]))

    def _takes_another(self, clause: str, step: OpenStep) -> bool:
        """Takes words that name the section whose music is played."""
        other = section_meant(clause)
        if other in self.known.letters and not step.like and OVER_OR_LIKE.match(clause):
            step.like = other
            return True
        named = other and not self.reads_as_chords(other)
        heading = self.known.all.heading_of(other) if named else None
        if heading is None or heading.rest_at is not None or step.like:
            return False
        kind = section_key(heading.name)[0]
        if not self.known.all.is_known(heading.name) or kind not in self.known.kinds:
            return False
        step.like = heading.name
        step.times = max(step.times, heading.times)
        if not _SOLOS.isdisjoint(section_key(step.name)[0].split()):
            step.remarks.append(clause)  # a soloist wants to know over which form
        return True

    def _takes_chords(self, clause: str, step: OpenStep, sign: str, at: int) -> bool:
        """Takes chords, alone or behind a word that leads to them."""
        inside = sign == "(" or self.text.count("(", 0, max(at, 0)) > self.text.count(
            ")", 0, max(at, 0)
        )
        bare = written_out(clause.rstrip("."), self.reads_as_chords)
        alone = ONLY.sub("", bare) if section_key(step.name)[0] in _FADES else bare
        bare = alone if self.reads_as_chords(alone) else bare
        if self.reads_as_chords(bare) and (
            step.row or len(bare) > 1 or sign or section_key(step.name)[0] in _FADES
        ):
            step.row.append(bare)
            return True
        chords = self.so_far.chords_behind(bare)
        if chords is None:
            return self._takes_chords_before_words(bare, step)
        if section_key(step.name) in self.known.keys or step.led_to:
            return False  # its music is known: the words say how it ends
        said, row = chords
        words = said.split()
        if inside and " " not in row and not leads_to_chord(words):
            return False  # "(pedal on D)", "(key change to G)": the chord is part of the remark
        step.led_on = may_lead(words[-1])
        if may_lead(words[0]):
            words = words[1:]
        elif may_lead(words[-1]) and section_key(step.name)[0] == "end":
            words = words[:-1]  # "end cold on G"
        if words:
            step.remarks.append(" ".join(words))
        step.row.append(row)
        return True

    def _takes_chords_before_words(self, clause: str, step: OpenStep) -> bool:
        """Takes chords with which a clause begins, and the words behind them."""
        words = clause.split()
        fades = section_key(step.name)[0] in _FADES
        if (
            len(words) == 2
            and fades
            and STAYS.fullmatch(words[0])
            and self.reads_as_chords(words[1])
        ):
            step.led_on = True
            step.row += [f"({words[0]})", words[1]]  # "Ending: hold B"
            return True
        stays = words[0] if len(words) > 2 and STAYS.fullmatch(words[0]) else ""
        words = words[bool(stays) :]
        first = words[0].casefold() if words else ""
        leads = len(words) > 2 and may_lead(words[0])
        words = words[leads:]  # "Vamp on Dm until the nod"
        for end in range(len(words) - 1, 0, -1):
            row, said = " ".join(words[:end]), " ".join(words[end:])
            if (len(row) > 1 or leads) and self.reads_as_chords(row):
                until = UNTIL_WHEN.match(said) is not None
                if leads and (first in IN_A_KEY or first == "em") and not until:
                    return False
                sure = bool(stays) or row not in WORDS_TOO
                goes_on = (leads and sure) or until
                self.vamps |= goes_on and len(self.steps) == 1
                step.row.append(row)
                self._say(f"{stays} {said}".strip(), "", -1 if stays else self.text.find(said))
                return True
        return False

    def _remark(self, clause: str, step: OpenStep, at: int, inside: bool) -> None:
        """Adds a remark; what is said ``inside`` parentheses of what nobody sings is surely one."""
        if clause.casefold() in ABOUT_WORDS:
            return
        unsung = inside and section_key(step.name)[0] in _SOLOS and not self.doubtful
        count = count_words(clause if not unsung else "")
        self.words += count.all
        self.known_words += count.all if is_unsung(clause) or is_known_name(clause) else count.known
        self.signs += bool(BAR_COUNT.search(clause)) or (is_direction(clause) and count.all < 3)
        over = OVER_ANOTHER.search(clause)
        if over is not None and not step.like and not step.row:
            step.like = over["other"]
        if step.row:
            self._remark_in_row(clause, step, at)
        elif step.remarks and step.remark_from >= 0 and at >= 0:
            whole = self.text[step.remark_from : at + len(clause)]
            if whole.count(")") > whole.count("("):
                whole = _CLOSED.sub(", ", whole, count=1)  # "(4 bars) drums only"
            step.remarks[-1] = whole + ")" * (whole.count("(") - whole.count(")"))
        else:
            step.remarks.append(clause)
            step.remark_from = at

    def _remark_in_row(self, clause: str, step: OpenStep, at: int) -> None:
        """Puts what is said into a row of chords, with what stands before it in the same pair of
        parentheses as one remark."""
        whole = self.text[step.remark_from : at + len(clause)] if at >= 0 else ""
        if step.row[-1][:1] == "(" and 0 <= step.remark_from < at and not {*"()"} & {*whole}:
            step.row[-1] = f"({whole})"
        else:
            step.row.append(f"({clause})")
            step.remark_from = at
