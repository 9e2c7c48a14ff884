"""Reads the clauses of sentences that say in what order sections are played.

Each clause is a section or several, all of them, those from one to the end, a solo over one, or
the chord on which the song ends; what it says more is a count or a remark.  ``order_words.py`` has
the words.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.section_words import PLAYERS
from chartkit.interchange.text.song_form.clauses import count_apart, without_leads
from chartkit.interchange.text.song_form.form import steps_of
from chartkit.interchange.text.song_form.roadmap import Key, names_in, place_of
from chartkit.interchange.text.song_form.said_of_times import MOST_WORDS_OF_NAMES
from chartkit.interchange.text.song_form.solos import solo_over
from chartkit.interchange.text.song_form.steps import KnownNames, SaidStep, Step
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.ends_on import song_end
from chartkit.interchange.text.vocabulary.order_words import (
    AFTER_EACH,
    ALL,
    ENDS,
    LEAD,
    LEADS_BACK,
    LEADS_ON,
    OVER,
    RANGE,
    SAID_BEHIND,
    SOLO,
    SOLOS,
    TAKES,
    THE_END,
    VERSES,
    WITH_REFRAIN,
)
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key
from chartkit.interchange.text.vocabulary.sounds_said import may_be_said

_MOST_STEPS = 60
_MOST_WORDS_OF_A_REMARK = 6
_ROUND = re.compile(r"(?<!\w)(?:through|thru|around|round|in all|altogether)$", re.IGNORECASE)
"""How a count ends that is of the whole song."""
_OF_A_TIME = re.compile(r"(?:times?|mal|fois|vez|volta|keer|gång(?:en)?|gang)\b", re.IGNORECASE)
"""What stands behind an ordinal that is of one of the times ("second time slower")."""
_AND_ALONE = re.compile(r"\s*(?:[+&]|[^\W\d_]{1,3})\s+")
"""A word that stands alone between two remarks."""
_WITH = re.compile(r"(?<!\w)(?:with|mit|avec|con|met|med|com)\s", re.IGNORECASE)
_LETTER = re.compile(r"[A-H]\d?")


_SOLO_AMONG_NAMES = re.compile(
    rf"(?<=[\w)])\s+(?P<solo>(?:{SOLOS})(?:\s*\([^()]{{1,30}}\)?|\s+(?:{OVER})\s+(?:the\s+)?\w+)?)"
    r"(?=\s+\w|$)",
    re.IGNORECASE,
)
"""A solo, with what it goes over, in a list of names that no signs part ("V1 Ch Solo (V) Ch")."""


class SentenceReader:
    """Reads clause after clause into ``steps``; ``begins_again`` says that the first asks for a
    section again."""

    def __init__(self, written: Sequence[tuple[str, int]], is_chords: IsChords) -> None:
        self.written = [name for name, _ in written]
        self.counts = [times for _, times in written]
        self.is_chords = is_chords
        self.keys: list[Key] = [section_key(one) for one in self.written]
        self.steps: list[SaidStep] = []
        self.begins_again = self.asks_again = False
        self.whole = range(len(written))
        """The sections that are meant by all of the song."""
        self.by_count = False
        """Whether a count alone began the order ("three times, stop at the end")."""
        self.text = ""
        """The sentence, where it is known."""
        self.ordered = False
        """Whether a label before the sentence calls it an order."""
        self._led: tuple[int, int] | None = None
        """The steps of a range or of the whole song that the last clause named."""
        self.of_all = ""
        """What is said of the whole order ("three times round")."""

    def read(self, clause: str) -> bool:
        """Reads one clause; whether it is a part of an order."""
        if self.read_step(clause):
            return True
        bare, _ = [*without_leads(clause.strip(" .!"))][-1]
        times, text = count_apart(bare)
        return bool(text) and self._add_remark(text, times)

    def read_step(self, clause: str) -> bool:
        """Reads one clause; whether it is a step, or a count."""
        clause = clause.strip(" .!")
        before, led, self._led = len(self.steps), self._led, None
        if not self._read_step(clause):
            return False
        if led is not None and led[1] == before and LEADS_ON.match(clause) is None:
            self._take_back(led)
        return True

    def _take_back(self, led: tuple[int, int]) -> None:
        """Takes back all of a range whose sections are then named one by one ("from the top: verse,
        chorus")."""
        first, end = led
        if end < len(self.steps) and self.steps[first].at == self.steps[end].at:
            del self.steps[first:end]

    def _read_step(self, clause: str) -> bool:
        if self._ends_on(clause):
            return True
        first = not self.steps
        if LEADS_BACK.fullmatch(clause) is not None and self._add_all("all of it", 1):
            self.begins_again |= first
            return True
        shorter = [*without_leads(clause)]
        named = (again for bare, again in shorter if self.add_names(bare))
        again = next(named, None)
        if again is None:
            bare, again = shorter[-1]
            if not self._read_bare(bare, again):
                return False
        self.begins_again |= first and again and bool(self.steps)
        self.asks_again |= again
        return True

    def _read_bare(self, bare: str, again: bool) -> bool:
        """Reads a clause without what leads to it; ``again`` where that asked for more."""
        if not bare or (ENDS.fullmatch(bare) and self.steps):
            return True
        times, text = count_apart(bare)
        if not text:
            return self._add_count(bare, times)
        return (
            self._add_all(text, times, again)
            or self._add_range(text, times)
            or self._add_after_each(text)
            or self._add_verses(text)
            or self._add_solo(text, times)
            or self._add_solo_over(bare)
            or self._add_names_and_remark(bare)
            or self.add_by_form(bare)
            or self._add_missing(text, times)
        )

    def around_solo(self, clause: str) -> list[str]:
        """The names before a solo, the solo, and what stands behind it, in a list that no signs
        part; any other clause as it is."""
        match = _SOLO_AMONG_NAMES.search(clause)
        if match is None or not self._named(clause[: match.start()]):
            return [clause]
        rest = clause[match.end() :].strip()
        parts = [clause[: match.start()], match["solo"]]
        return [*parts, *self.around_solo(rest)] if rest else parts

    def _add_missing(self, text: str, times: int) -> bool:
        """Adds a section that the sheet does not have, in a text that a label calls an order."""
        missing = is_known_name(text) and section_key(text)[0] not in {
            kind for kind, _ in self.keys
        }
        if not (self.ordered and missing and self.steps):
            return False
        self.steps.append(SaidStep(name=text, times=times))
        return True

    def _named(self, text: str) -> list[SaidStep]:
        """The steps that a text names, each with what it says of it; none where it says anything
        else or one is not on the sheet.  Another verse than the only one, which has no number, has
        the music of that one."""
        if len(text.split()) > MOST_WORDS_OF_NAMES:
            return []
        order = [one.at for one in self.steps if one.at >= 0]
        found: list[SaidStep] = []
        for stop in names_in(text.strip(" ,"), self.keys, self.written):
            at = place_of(stop.key, self.keys, [*order, *(one.at for one in found if one.at >= 0)])
            step = SaidStep(-1 if at is None else at, times=stop.times, remark=stop.remark)
            if at is None:
                kind, number = stop.key
                if not number.isdecimal() or (kind, "") not in self.keys:
                    return []
                like = self.written[self.keys.index((kind, ""))]
                step = replace(step, name=f"{like} {number}", like=like)
            found.append(step)
        return found

    def add_names(self, text: str) -> bool:
        """Adds the sections that a text names and nothing else, with their counts; whether there
        are any.  A count behind several letters in one word is of them all together ("AABA x2")."""
        named, times = self._named(text), 1
        if not named:
            times, bare = count_apart(text)
            named = self._named(bare) or self._named(LEAD.sub("", bare))
        if times > 1 and len(named) > 1 and len(named) * times > _MOST_STEPS:
            return False
        each, rounds = (times, 1) if len(named) == 1 else (1, times)
        self.steps += [replace(one, times=max(each, one.times)) for one in named] * rounds
        return bool(named)

    def _add_names_and_remark(self, text: str) -> bool:
        """Adds a section with what is said of it ("A with only clapping")."""
        words = text.split()
        for end in range(len(words) - 1, 0, -1):
            said = " ".join(words[end:]).strip(" ()")
            if len(words) - end > _MOST_WORDS_OF_A_REMARK or _OF_A_TIME.match(said):
                return False
            if (SAID_BEHIND.match(said) or is_direction(said)) and self.add_names(
                " ".join(words[:end])
            ):
                self.steps[-1] = replace(self.steps[-1], remark=said)
                return True
        return False

    def _add_count(self, said: str, times: int) -> bool:
        """Adds a count alone: of the last step, or of the whole song where none is named or the
        words say so."""
        if not self.steps:
            self.by_count = True
            return self._add_all("all of it", times)
        if _ROUND.search(said) is not None:
            self.of_all = said
        elif self.steps[-1].times == 1:
            self.steps[-1] = replace(self.steps[-1], times=times)
        return True

    def _add_all(self, text: str, times: int, again: bool = False) -> bool:
        match = ALL.fullmatch(text)
        if match is None or len(self.whole) * times > _MOST_STEPS:
            return False
        if match["weak"] and not again and times == 1:
            return False
        self._add_played(self._as_before(self.whole) * times)
        return True

    def _add_played(self, steps: Sequence[SaidStep]) -> None:
        """Adds a range of the song as it is played."""
        self._led = (len(self.steps), len(self.steps) + len(steps))
        self.steps += steps

    def _add_range(self, text: str, times: int) -> bool:
        match = RANGE.fullmatch(text)
        first = self._one(match["first"]) if match is not None else None
        if match is None or first is None:
            return False
        to = match["last"] or "end"
        last = len(self.written) - 1 if THE_END.fullmatch(to) else self._one(to)
        if last is None or last < first:
            return False
        self._add_played(self._as_before(range(first, last + 1)) * times)
        return True

    def _as_before(self, places: Sequence[int]) -> list[SaidStep]:
        """Sections in a row, each as often as it is played where it stands or was named."""
        named = {one.at: one.times for one in reversed(self.steps)}
        return [SaidStep(at, times=named.get(at, self.counts[at])) for at in places]

    def _one(self, text: str) -> int | None:
        """The one section that a text names."""
        stops = names_in(text.strip(), self.keys, self.written)
        return place_of(stops[0].key, self.keys, ()) if len(stops) == 1 else None

    def _add_after_each(self, text: str) -> bool:
        """Adds all verses with the refrain behind each, which a text says of the refrain; the
        verses that were named before are the first of these."""
        match = AFTER_EACH.fullmatch(text)
        refrain = self._one(match["refrain"]) if match is not None else None
        places = [at for at, key in enumerate(self.keys) if key[0] == "verse"]
        named = [one.at for one in self.steps]
        if refrain is None or len(places) < 2 or named != places[: len(named)]:
            return False
        self.steps = [SaidStep(at) for place in places for at in (place, refrain)]
        return True

    def _add_verses(self, text: str) -> bool:
        """Adds all verses, with a refrain behind each where the text says so."""
        both = WITH_REFRAIN.fullmatch(text)
        verses = VERSES.fullmatch(both["verses"] if both is not None else text)
        refrain = self._one(both["refrain"]) if both is not None else None
        if verses is None or (both is not None and refrain is None):
            return False
        places = [at for at, key in enumerate(self.keys) if key[0] == "verse"]
        for at in places:
            self.steps.append(SaidStep(at))
            self.steps += [SaidStep(refrain)] if refrain is not None else []
        return len(places) > 1

    def _add_solo(self, text: str, times: int) -> bool:
        match = SOLO.fullmatch(text) or TAKES.fullmatch(text)
        if match is None:
            return False
        who, over = (match["who"] or "").strip(), match["over"] or ""
        what = match["what"] if match.re is SOLO else "Solo"
        words = who.casefold().split()
        plays = bool(words) and all(one.removesuffix("s") in PLAYERS for one in words)
        if match.re is TAKES and who and not (plays or who.istitle()):
            return False
        if not over and not plays and who:
            return False
        name = f"{who} {what}" if plays else what.removesuffix("s") if who else what
        solo = SaidStep(name=name[:1].upper() + name[1:], times=times)
        solo = replace(solo, remark="" if plays else who)
        return self._add_over(solo, over)

    def _add_solo_over(self, text: str) -> bool:
        """Adds a solo whose player stands behind its name ("Solo (Tenor) über A-Teil")."""
        one = solo_over(text, self._known())
        if one is None:
            return False
        self._add_step(one)
        return True

    def _known(self) -> KnownNames:
        known = KnownNames()
        for name in self.written:
            known.add(name)
        return known

    def _add_over(self, solo: SaidStep, over: str) -> bool:
        """Adds a solo over the sections that a text names, or over chords; or over nothing that
        is said."""
        times, bare = count_apart(over)
        solo = replace(solo, times=max(times, solo.times))
        if not bare:
            self.steps.append(solo)
            return True
        every = ALL.fullmatch(bare) is not None
        named = names_in(bare, self.keys, self.written)
        places = [place_of(one.key, self.keys, ()) for one in named]
        meant = [*self.written] if every else [self.written[at] for at in places if at is not None]
        if not meant or (not every and len(meant) < len(named)):
            row = bare if self.is_chords(bare) else ""
            self.steps += [replace(solo, row=row)] if row else []
            return bool(row)
        if len(meant) > 1 and all(map(_LETTER.fullmatch, meant)):
            said = f"over {' '.join(meant)}"  # one section with the music of all
            remark = f"{solo.remark}, {said}" if solo.remark else said
            self.steps.append(replace(solo, remark=remark))
        else:
            self.steps += [replace(solo, like=name) for name in meant]
        return True

    def add_by_form(self, text: str) -> bool:
        """Adds a section that the sheet does not have, with the music of one ("outro = intro") or
        chords of its own ("vamp C G until I cue")."""
        steps = steps_of(text, self.is_chords, True, self._known())
        if len(steps) != 1 or section_key(steps[0].name) in self.keys:
            return False
        one = steps[0]
        if one.like:
            self._add_step(one)
        elif one.row and section_key(one.name)[0] != "end":
            said = ", ".join(one.remarks)
            self.steps.append(SaidStep(name=one.name, times=one.times, row=one.row, remark=said))
        else:
            return False
        return True

    def _add_step(self, one: Step) -> None:
        """Adds a section that has the music of one on the sheet."""
        at = self._one(one.like)
        like = one.like if at is None else self.written[at]
        said = ", ".join(one.remarks)
        self.steps.append(SaidStep(name=one.name, times=one.times, like=like, remark=said))

    def _ends_on(self, clause: str) -> bool:
        """Adds the chord on which the song ends."""
        for bare, _ in (*without_leads(clause), (clause, False)):
            end = song_end(bare, self.is_chords) if self.steps else None
            if end is not None and end.chord in self.written and _WITH.search(bare) is not None:
                return False  # "finish with C" is a section where one has that name
            if end is not None:
                name = end.name[:1].upper() + end.name[1:]
                self.steps.append(SaidStep(name=name, row=end.chord, remark=end.said))
                return True
        return False

    def _as_typed(self, before: str, text: str) -> str:
        """Two remarks as one, with the word between them that is typed there ("kick and bass")."""
        between = self.text.partition(before)[2].partition(text)[0] if before in self.text else ""
        return f"{before}{between if _AND_ALONE.fullmatch(between) else ', '}{text}"

    def _add_remark(self, text: str, times: int) -> bool:
        """Adds what a clause says of the last step; behind the name of a step less sure words are
        said of it too, unless they are counted."""
        few = len(text.split()) <= _MOST_WORDS_OF_A_REMARK
        named = times == 1 and not self.by_count and may_be_said(text)
        if not self.steps or not few or not (named or is_direction(text)):
            return False
        last = self.steps[-1]
        said = self._as_typed(last.remark, text) if last.remark else text
        self.steps[-1] = replace(last, remark=said)
        return True
