"""Lines of form in a sheet: whether their steps are played there, planned for below, or remarks."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.chart.section_words import KIND_OF, SUNG_KINDS
from chartkit.interchange.text.kinds.line_kinds import (
    Chords,
    KnownLine,
    Remark,
    SectionStart,
    Words,
)
from chartkit.interchange.text.kinds.sheet_lines import (
    LONGEST,
    Row,
    SheetLines,
    is_music,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import Heading
from chartkit.interchange.text.names.section_keys import names_a_key
from chartkit.interchange.text.song_form.ending_rows import ending_row
from chartkit.interchange.text.song_form.form import steps_of
from chartkit.interchange.text.song_form.roadmap import label_end
from chartkit.interchange.text.song_form.said_of_times import is_called_so
from chartkit.interchange.text.song_form.steps import KnownNames, Step
from chartkit.interchange.text.song_form.steps_so_far import MANNERS_OF_ENDING, is_struck_last
from chartkit.interchange.text.tokens import WORDS_TOO
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.form_words import BAR_COUNT, PLAYED_AGAIN
from chartkit.interchange.text.vocabulary.order_words import which_time
from chartkit.interchange.text.vocabulary.references import says_whose
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.times_played import ONCE_MORE

_MAY_BEGIN_FORM = re.compile(
    r"\s*(?:[-–—*•>]+\s+)?[\[(<]?(?:\d{1,2}\s?(?:[x×]|(?:st|nd|rd|th|er|[eè]me|e|:?[ae]|[ªº.])\s)\s*)?"
    r"[^\W\d_][\w.’'-]*",
    re.IGNORECASE,
)
"""A name, with how often it is played or which of its kind it is before it."""
_COUNTS = BAR_COUNT
_INSTRUMENTAL = re.compile(r"instrument(?:al|ale|aal|alt|áln[íá]|alny|al tune)(?=[\s,;]|$)", re.I)
_LONGEST_HEAD = 12
"""So many lines a head has at most (ours)."""
_AGAIN_BEHIND = re.compile(rf"\s(?:{ONCE_MORE})(?!\w)", re.IGNORECASE)
_LETTER_NAME = re.compile(r"[A-Z]|[A-H]\d")
_CHORD_AND_WORDS = re.compile(r"(?P<name>[A-H][a-z]{1,3})(?:\s\([^()]*\))+")
_FADES = frozenset({"outro", "end", "coda", "tag"})
_IN_ROUND = re.compile(r"\([^()]*\)")
_FEWEST_SAID = 4
_SILENT = re.compile(r"n\.?\s?c\.?|tacet", re.IGNORECASE)
_BEHIND_NAME = re.compile(r"(?:[(\[]\s*|\s[-–—:]+\s|:\s+)(?P<said>[^()\[\]]*[^()\[\]\s])")
_MOST_WORDS_OF_STEPS = 5
_FEWEST_OF_A_SENTENCE = 8
_SURELY_SUNG = -1.0
"""At these odds the words of a line are those of a song (ours)."""
_FEWEST_OF_ITS_OWN = 3
"""At least this many chords are a section's own music, not its ending."""


class FormLines:
    """Reads the steps of lines of form; ``names`` are those of the sections so far."""

    def __init__(self, sheet: SheetLines, names: KnownNames) -> None:
        self.sheet, self.names = sheet, names

    def steps(self, at: int, line: Line, sure: bool = False) -> tuple[Step, ...]:
        """The steps of the form that a line names."""
        text = line.text
        row = self.sheet.rows[at]
        if row is not None and not sure and is_music(row):
            return ()
        if ends := ending_row(text, self.sheet.is_chords):
            return ends if sure or not self._stands_under_words_of_chords(at, ends) else ()
        named = len(text) <= LONGEST and self.names.all.may_name(text)
        if len(text) > LONGEST or not (named or self._asks_for_letter(text)):
            return ()
        if _MAY_BEGIN_FORM.match(text) is None:
            return ()
        under = self._is_under_row(at)
        sure = sure or (under and self._is_of_a_run(at, text))
        steps = steps_of(text, self.sheet.is_chords, sure, self.names)
        sure_sign = _COUNTS.search(text) or any(
            one.row or one.like or one.times > 1 for one in steps
        )
        sure_sign = sure_sign or self._asks_for_one_above(at, text)
        if under and not sure and not sure_sign:
            return ()
        counted = text.lstrip()[:1].isdecimal() and not sure_sign
        return () if counted and says_whose(text) else steps  # "2nd verse same as first"

    def _stands_under_words_of_chords(self, at: int, ends: Sequence[Step]) -> bool:
        """Whether an ending with one chord stands where words do, right under a row."""
        under = self.sheet.is_row(at - 1) and self.sheet.headings[at - 1] is None
        return under and " " not in ends[0].row

    def names_kind_of_song(self, at: int) -> bool:
        """Whether a line under the title, above all chords and over a section's name, says that
        the song is instrumental ("(instrumental, medium, 2/4)")."""
        if not 0 < at < _LONGEST_HEAD:
            return False
        text = self.sheet.lines[at].text.strip(" ()[]")
        if _INSTRUMENTAL.match(text) is None or self.names.kinds:
            return False
        lines = self.sheet.lines
        below = next((i for i in range(at + 1, len(lines)) if lines[i].text.strip()), at)
        above = any(row is not None for row in self.sheet.rows[:at])
        named = below > at + 1 and self.sheet.headings[below] is not None
        return named and not above and len(text) <= LONGEST

    def _is_under_row(self, at: int) -> bool:
        """Whether a line stands right under a row of chords that no words begin, or under an order
        of letters: what a name begins ("Solo guitar (Em D C B7) x4") has no words below it."""
        row = self.sheet.rows[at - 1] if at > 0 else None
        ordered = row is not None and label_end(self.sheet.lines[at - 1].text) > 0
        return row is not None and (ordered or row[0].kind != "word")

    def _asks_for_one_above(self, at: int, text: str) -> bool:
        """Whether a text begins with the name of a section above, as it is typed there, and "again"
        ("Trio again 8va"), or what is said of it under a row that nobody sings ("Ch quiet")."""
        again = _AGAIN_BEHIND.search(text)
        if again is not None and text[: again.start()].strip() in self.names.called:
            return True
        behind_name = at > 0 and self.sheet.headings[at - 1] is not None
        words = text.split()
        named = (end for end in (1, 2) if " ".join(words[:end]) in self.names.called)
        end = next(named, 0)
        return behind_name and bool(end) and is_direction(" ".join(words[end:]))

    def _is_of_a_run(self, at: int, text: str) -> bool:
        """Whether a text is the name of a section above as it is typed there and, behind a comma,
        what is said of it, right over another line that begins with such a name ("Chorus,
        pizzicato" over "Chorus, arco")."""
        name, comma, said = text.strip().partition(", ")
        if not comma or name not in self.names.called or not said[:1].islower():
            return False
        below = self.sheet.lines[at + 1].text.strip() if at + 1 < len(self.sheet.lines) else ""
        called = (one for one in self.names.called if below.startswith(one))
        return any(not below[len(one) :][:1].isalnum() for one in called)

    def _asks_for_letter(self, text: str) -> bool:
        """Whether a text asks for a section again that is called by a letter ("Back to B")."""
        again = PLAYED_AGAIN.match(text.strip()) if self.names.letters else None
        return again is not None and text.strip()[again.end() :][:1].isupper()

    def are_remarks(self, text: str, steps: Sequence[Step]) -> bool:
        """Whether sentences speak of steps of which one is not in the sheet ("Solos on AABA. Out
        head, then intro as ending."): which are remarks to the players."""
        new = steps and section_key(steps[0].name)[0] not in self.names.kinds
        if new and text[:1] + text[-1:] == "()" and names_a_key(text):
            return True  # "(drum fill, up to A)"
        if new and len(steps) == 1 and is_struck_last(steps[0].name):
            one = steps[0]
            return bool(one.remarks) and not (one.row or one.like or ":" in text)
        if len(steps) > 1 and len(self.names.letters) > 1:
            words = text.strip(" .!").split()
            unknown = all(section_key(one.name)[0] not in self.names.kinds for one in steps)
            if unknown and not text.endswith(":") and words[-1] in self.names.letters:
                return True  # "head twice, solos on the form, out on the last A"
        if len(steps) > 1 and text[:1].islower() and len(text.split()) >= _FEWEST_OF_A_SENTENCE:
            played = any(one.row or one.like for one in steps)
            strange = all(section_key(one.name)[0] not in self.names.kinds for one in steps)
            if strange and not played:
                return True  # "solos after the head, trade fours with drums, you know the drill"
        if len(steps) < 2 or ". " not in text or not text.endswith("."):
            return False
        bare = (one for one in steps if not (one.row or one.like))
        return any(section_key(one.name)[0] not in self.names.kinds for one in bare)

    def are_sung(self, at: int, known: Sequence[KnownLine], steps: Sequence[Step]) -> bool:
        """Whether steps are words of the section right above them, over more of its words or below
        these: what they say is nothing that a band is told ("Bridge over the river, bridge …").
        ``known`` are the lines above."""
        plain = all(one.remarks and not (one.row or one.like or one.times > 1) for one in steps)
        if not plain or sounds_said(self.sheet.lines[at].text) > _SURELY_SUNG:
            return False
        above = known[-1].kind if known else None
        if self.sheet.is_empty(at + 1):
            return isinstance(above, Words)
        if self.sheet.is_row(at + 1) or self.sheet.headings[at + 1] is not None:
            return False
        named = isinstance(above, SectionStart) and not (above.guessed or above.with_chords)
        return named or isinstance(above, Words)

    def tells_how_it_ends(self, at: int, heading: Heading) -> bool:
        """Whether a name alone below the whole song tells in what manner it ends ("big finish")."""
        name = heading.name.casefold()
        ends = name.startswith(MANNERS_OF_ENDING) and KIND_OF.get(name) == "end"
        ends = ends and heading.rest_at is None
        last = self.sheet.last_of_song <= at and self.sheet.is_empty(at + 1)
        return ends and last and bool(self.names.kinds)

    def end_within(self, at: int, steps: Sequence[Step]) -> bool:
        """Whether a line says on which chord something ends and more of the song stands below, so
        that it is no end of the song."""
        one = steps[0]
        ends = len(steps) == 1 and section_key(one.name)[0] == "end" and not one.like
        single = len(one.row.partition("(")[0].split()) == 1
        return ends and single and self.sheet.last_of_song > at

    def is_sentence(self, text: str, steps: Sequence[Step]) -> bool:
        """Whether a line in parentheses of many words tells how a section goes that the sheet does
        not have ("(solos on the whole form, piano first)")."""
        whole = text[:1] + text[-1:] == "()" and text.count("(") == 1
        if not steps or not whole or len(text.split()) <= _MOST_WORDS_OF_STEPS:
            return False
        bare = not any(one.row or one.like or one.times > 1 for one in steps)
        return bare and section_key(steps[0].name)[0] not in self.names.kinds

    def are_played(self, at: int, steps: Sequence[Step]) -> bool:
        """Whether steps are played here: a list of sections that come below is a plan."""
        if len(steps) < 2 or any(one.row or one.like for one in steps):
            return True
        steps = self._without_next(at, steps)
        return all(self.sheet.later.get(section_key(one.name), -1) <= at for one in steps)

    def _without_next(self, at: int, steps: Sequence[Step]) -> Sequence[Step]:
        """The steps without a last one that is the section right below ("…, then Coda")."""
        lines = self.sheet.lines
        below = next((i for i in range(at + 1, len(lines)) if lines[i].text.strip()), None)
        following = self.sheet.headings[below] if below is not None else None
        if len(steps) < 2 or following is None or self.sheet.is_row(at + 1):
            return steps
        return steps[:-1] if section_key(following.name) == section_key(steps[-1].name) else steps

    def played(self, at: int, line: Line, steps: Sequence[Step]) -> Iterator[KnownLine]:
        """The sections that a line of form names; a remark on one of them is no step."""
        first = steps[0]
        if (start := self._over_its_chords(at, line, steps)) is not None:
            self.names.add(start.name)
            yield KnownLine(line, start)
            return
        played = len(first.row.split()) >= _FEWEST_OF_ITS_OWN
        said_of = first.remarks and not (first.like or played or first.times > 1)
        over_chords = self.sheet.is_row(at + 1) and names_a_key(line.text)
        over_row = self.sheet.is_row(at + 1) and not self.sheet.is_row(at - 1)
        over_row = over_row and "  " in line.text.strip()  # "2nd Chorus  Slowly"
        said_of = said_of and not (over_chords or over_row or self.sheet.stands_over_chords(at))
        bare = line.text.strip(" ([])")
        said_of = said_of and not is_called_so(bare, self.names.called)
        if said_of and len(steps) == 1 and which_time(bare):
            yield KnownLine(line, Remark(line.text.strip(" ()[]")))
            return
        for step in self._without_next(at, steps):
            step = self._with_person(at, line, step)
            self.names.add(step.name)
            if _LETTER_NAME.fullmatch(step.name):
                self.names.letters.add(step.name)
            row = self._row_of(step, line)
            yield KnownLine(
                line,
                SectionStart(
                    name=step.name,
                    times=step.times,
                    like=step.like,
                    remarks=step.remarks,
                    guessed=True,
                    with_chords=row is not None,
                ),
            )
            if row is not None:
                yield KnownLine(line, Chords(row, behind_name=True))

    def _over_its_chords(self, at: int, line: Line, steps: Sequence[Step]) -> SectionStart | None:
        """The one section of a line of form that has its chords below, with what is said of it."""
        if self._leads_to_last(at, line, steps):
            return SectionStart(steps[-1].name, remarks=(line.text.strip(" :"),), guessed=True)
        said = self._said_over_chords(at, line, steps)
        return SectionStart(steps[0].name, remarks=(said,), guessed=True) if said else None

    def _said_over_chords(self, at: int, line: Line, steps: Sequence[Step]) -> str:
        """What a line says of its section that has its own chords right below: on which of them it
        ends, also whose music they are like ("Outro - as intro, but end on Bb"); else nothing."""
        text = line.text.strip()
        end = self.names.all.end_at(text)
        ends = section_key(steps[-1].name)[0] in _FADES and steps[-1].row
        chords = [word for one in steps for word in _IN_ROUND.sub("", one.row).split()]
        if not (end and ends and self.sheet.is_row(at + 1)) or len(chords) > 1:
            return ""
        said = text[end:].strip(" ,;:/()[]–—-")
        return said if len(said.split()) >= _FEWEST_SAID else ""

    def _leads_to_last(self, at: int, line: Line, steps: Sequence[Step]) -> bool:
        """Whether a line names sections that are not in the sheet and then, with a colon, the one
        whose chords stand below ("Head - solos - head, then tag:")."""
        if len(steps) < 2 or not line.text.rstrip().endswith(":") or not self.sheet.is_row(at + 1):
            return False
        plain = not any(one.row or one.like for one in steps)
        return plain and not any(section_key(one.name)[0] in self.names.kinds for one in steps[:-1])

    def _with_person(self, at: int, line: Line, step: Step) -> Step:
        """A step without the chord in brackets or behind a dash that is rather a name, since words
        follow it and the section has other chords, below or above ("Verse 2 (Em out)"); nor with a
        silence of some of its bars ("Bridge (tacet for the first line, voice alone)")."""
        match = _CHORD_AND_WORDS.fullmatch(step.row)
        person = match is not None and match["name"] in WORDS_TOO
        silent = step.row and _SILENT.fullmatch(step.row.partition("(")[0].strip()) is not None
        if not (person or silent) or step.like:
            return step
        kind = section_key(step.name)[0]
        known = kind in self.names.kinds or self.sheet.is_row(at + 1)
        said = _BEHIND_NAME.search(line.text)
        if not known or said is None or not (silent or kind in SUNG_KINDS):
            return step
        return replace(step, row="", remarks=(said["said"],))

    def _row_of(self, step: Step, line: Line) -> Row | None:
        return (
            self.sheet.tokens.row(Line(line.number, step.row, where=line.where))
            if step.row
            else None
        )
