"""The steps of a line of form so far, and what the next clause is to them."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from chartkit.chart.section_words import PLAYERS, SUNG_KINDS
from chartkit.interchange.text.song_form.steps import KnownNames, Step
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.ends_on import by_letter, song_end
from chartkit.interchange.text.vocabulary.form_words import (
    ARTICLE,
    AS_BEFORE,
    BAR_COUNT,
    CHORDS_OF,
    IN_A_KEY,
    LEADS_TO_CHORDS,
    ONCE_AGAIN,
    PLAYED_ONCE_MORE,
    THE,
    VERBS_OF_ENDING,
    may_lead,
)
from chartkit.interchange.text.vocabulary.section_names import is_known_name, section_key
from chartkit.interchange.text.vocabulary.times_played import times_of

_TWO_LINES = re.compile(r"\|\s+\|")
_LENT_MUSIC = frozenset({"solo", "instrumental", "interlude", "break", "outro"})
"""Kinds of sections that often have the music of another."""
_OVER_ANOTHER = frozenset({"solo", "instrumental"})
_ALONE = frozenset({"solo", "sólo", "só"})
_VOICES = frozenset(
    [
        "voces",
        "voz",
        "vozes",
        "voce",
        "voci",
        "coro",
        "coros",
        "palmas",
        "mani",
        "percusión",
        "percussão",
        "percussioni",
    ]
)
"""Who is alone behind the word in Spanish, Italian and Portuguese."""
_PLAYED = frozenset({"riff", "lick", "groove", "motif", "theme", "hook"})
"""What a band plays in a section, where no section has that name."""
_FILLED_IN = frozenset(
    ["fill", "fills", "hit", "hits", "stab", "stabs", "run", "relleno", "wirbel", "roffel", "rulle"]
)
"""What one player adds to a section, behind who it is ("drums fill")."""
_FEWEST_LETTERS = 2
"""In a sheet with so many sections called by letters a letter may stand for one."""
_BEHIND_A_VERB = frozenset(["it", "them", "that", "this", "us", "everything", "all"])
"""Words behind what is a verb there, and no name of a section."""
_PLACES = frozenset({"intro", "outro", "end", "coda", "interlude"})
"""Kinds of sections whose names say where in a song they stand."""
_NO_SECTIONS = frozenset({"riff", "vamp", "lick", "groove"})
"""What is played, and seldom a section by itself beside others."""
MANNERS_OF_ENDING = ("big ", "slow ", "tag ", "cold ", "quiet ")
"""How names of endings begin that say how another section ends ("Chorus x2 - big finish")."""
_NUMBERS, _LONGEST_NUMBER = frozenset({"one", "two", "three", "four", "five", "six"}), 2


@dataclass(slots=True)
class OpenStep:
    """A step while it is read: as ``Step``, with ``remark_from`` where its last remark stands, and
    whether words such as "back to" led to it, and one such as "on" to its chord."""

    name: str
    at: int
    times: int = 1
    like: str = ""
    row: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    remark_from: int = -1
    led_to: bool = False
    led_on: bool = False

    def closed(self) -> Step:
        """The step as it is once its line was read."""
        row = _TWO_LINES.sub("|", " ".join(self.row))
        return Step(self.name, self.at, self.times, self.like, row, tuple(self.remarks))


class StepsSoFar:
    """The steps that were read of a line, and the names that it may use."""

    def __init__(self, text: str, reads_as_chords: IsChords, known: KnownNames) -> None:
        self.text, self.reads_as_chords, self.known = text, reads_as_chords, known
        self.steps: list[OpenStep] = []

    def is_short(self, word: str) -> bool:
        """Whether a word is a name cut short: of a section of this sheet, or of any where no
        chord can be meant."""
        if not word[:1].isalpha() or not is_known_name(word) or self.reads_as_chords(word):
            return False
        return section_key(word)[0] in self.known.kinds

    def counts(self, word: str) -> bool:
        """Whether a word behind a name is the number of its section, also in letters."""
        return word.casefold() in _NUMBERS or (word.isdecimal() and len(word) <= _LONGEST_NUMBER)

    def without_article(self, clause: str) -> str:
        """A clause without the article that begins it; a definite one only before the name of a
        section above ("the Prelude")."""
        if (article := ARTICLE.match(clause)) is not None:
            return clause[article.end() :]
        article = THE.match(clause)
        bare = clause[article.end() :] if article is not None else clause
        end = self.known.all.end_at(bare) if article is not None else 0
        known = end > 0 and section_key(bare[:end].strip())[0] in self.known.kinds
        return bare if known else clause

    def is_above(self, step: OpenStep) -> bool:
        """Whether a section of the kind of a step stands above, which the step then asks for."""
        known = section_key(step.name)[0] in self.known.kinds or step.name in self.known.letters
        return known and not step.row

    def plays_again(self, clause: str, step: OpenStep) -> bool:
        """Whether a clause says no more than that a step is played as before."""
        again = PLAYED_ONCE_MORE.fullmatch(clause) is not None and self.is_above(step)
        return not step.row and (again or AS_BEFORE.fullmatch(clause) is not None)

    def means_another(self, name: str, rest: str, sign: str) -> bool:
        """Whether a name behind another is the section whose music that has."""
        if not self.steps or self.steps[-1].row or self.steps[-1].like:
            return False
        kind, own = section_key(name)[0], section_key(self.steps[-1].name)[0]
        numbered = section_key(self.steps[-1].name)
        other = sign == "=" and numbered[1] != "" and section_key(name) != numbered
        if (kind == own and not other) or kind not in self.known.kinds:
            return False
        chords_of = CHORDS_OF.match(rest) is not None
        more = times_of(rest) > 0 or ONCE_AGAIN.fullmatch(rest) is not None
        if sign == "(" and (not rest or more) and own in _LENT_MUSIC:
            return True
        alone = sign == "-" and not rest and self.text.count(" - ") == 1 == len(self.steps)
        if alone and (own in _OVER_ANOTHER or section_key(self.steps[-1].name)[1]):
            return own in _LENT_MUSIC
        lends = own in _LENT_MUSIC and sign == ","
        return ((sign in ("(", "-") or lends) and chords_of) or (
            sign in (":", "=") and (chords_of or not rest or more)
        )

    def counts_rounds(self, name: str) -> bool:
        """Whether a counted name behind that of a solo is the section that it goes over
        ("Instrumental, one verse")."""
        one = self.steps[-1] if len(self.steps) == 1 else None
        if one is None or one.row or one.like or section_key(one.name)[0] not in _LENT_MUSIC:
            return False
        return section_key(name)[0] in self.known.kinds

    def is_played_by(self, said_before: str, sign: str, name: str, rest: str) -> bool:
        """Whether a name stands behind the instrument that plays that section's music, whose own
        name is the step's ("Banjo (verse)", "Fiddle - chorus chords")."""
        words = said_before.casefold().split()
        plays = bool(words) and all(word.removesuffix("s") in PLAYERS for word in words)
        known = section_key(name)[0] in self.known.kinds
        lends = sign in ("(", ":", "=") or CHORDS_OF.match(rest) is not None
        return plays and known and lends and not self.steps

    def is_step(self, letter: str, again: bool, sign: str) -> bool:
        """Whether a letter is a section that is played next: one that is asked for again, or that
        stands behind another ("Back to B, then A3")."""
        if letter not in self.known.letters or len(self.known.letters) < _FEWEST_LETTERS:
            return False
        last = self.steps[-1] if self.steps else None
        behind = last is not None and not {last.name, last.like}.isdisjoint(self.known.letters)
        return again or (behind and sign not in ("(", "[", ":", "="))

    def letter_in(self, clause: str, sign: str) -> str:
        """The letter of an earlier section that a solo is played over ("Solo: A twice"); empty
        for any other clause."""
        letter, _, rest = clause.partition(" ")
        if letter not in self.known.letters or len(self.known.letters) < _FEWEST_LETTERS:
            return ""
        step = self.steps[-1] if len(self.steps) == 1 else None
        if step is None or step.like or step.row or sign not in (":", "=", "(", "-"):
            return ""
        lent = section_key(step.name)[0] in _LENT_MUSIC
        return letter if lent and (not rest or times_of(rest) > 0) else ""

    def goes_on(self, name: str, rest: str, sign: str) -> bool:
        """Whether a name behind others is the next step, not a remark on the one before."""
        if sign in ("(", "[", ":", "=") or section_key(name)[0] == "vamp":
            return False
        if self._is_played_within(name, rest, sign):
            return False
        plays = section_key(name)[0] == "kazoo" and "kazoo" not in self.known.kinds
        if plays and not (times_of(rest) or self.chords_behind(rest)):
            return False  # who plays
        known = section_key(name)[0] in self.known.kinds
        if not known and is_struck_last(name) and not self.chords_behind(rest):
            return False  # "Tag, button with the drum"
        if not known and rest.split(" ")[0].casefold() in _BEHIND_A_VERB:
            return False  # "Ch, dub it out"
        if section_key(name)[0] == "trading" and section_key(self.steps[-1].name)[0] == "solo":
            return False  # "Solos: tenor, then trade fours"
        if name.casefold() in _ALONE and rest.partition(" ")[0].casefold() in _VOICES:
            return False  # "solo voces" is voices alone
        if name.casefold().startswith(MANNERS_OF_ENDING) and not self.chords_behind(rest):
            return False
        said = bool(self.steps[-1].remarks)
        if said and section_key(name)[0] not in self.known.kinds and is_direction(name):
            return False  # "Bridge - half volume, build up"
        return not (sign == "-" and said)

    def _is_played_within(self, name: str, rest: str, sign: str) -> bool:
        """Whether a name behind another section, which the sheet does not have, says what is
        played there: a riff, a fill, or how the last chord of the song is struck."""
        if section_key(name)[0] in self.known.kinds:
            return False
        *who, what = name.casefold().split()
        by_player = bool(who) and " ".join(who) in PLAYERS
        if what in _PLAYED and (by_player or not who):
            return True  # "Outro - riff again", "Intro - gtr riff alone, drums in bar 3"
        if times_of(rest) or self.chords_behind(rest) or self.reads_as_chords(rest):
            return False
        last = self.steps[-1]
        if section_key(last.name)[0] == "end" and last.row:
            return True  # "End on Bb, button"
        opens = section_key(last.name)[0] in _PLACES and sign == "-" and self.text.count(" - ") == 1
        if opens and by_player and what == "solo" and len(self.steps) == 1:
            return True  # "Intro - sax solo, all in at bar 5"
        fills = bool(who) and what in _FILLED_IN and is_direction(" ".join(who))
        return fills and not is_known_name(name)  # "Bridge, no vocal, drums fill"

    def chords_behind(self, rest: str) -> tuple[str, str] | None:
        """What leads to chords ("on"), and the chords; None where there are none."""
        lead = LEADS_TO_CHORDS.match(rest)
        if lead is not None and self.reads_as_chords(rest[lead.end() :]):
            said = f"{lead['said'] or ''} {lead['on']}".strip()
            keyed = lead["on"].strip().casefold() in IN_A_KEY and BAR_COUNT.search(said)
            if keyed:
                return None  # "12 bar in E" is a blues in that key
            return said, by_letter(rest[lead.end() :], self.reads_as_chords)
        return None

    def is_one_name(self, name: str, rest: str, at: int) -> bool:
        """Whether a name at a place of the line and one behind it are one: what is played and
        where in the song ("Riff intro: E A")."""
        kind, place = section_key(name)[0], section_key(rest)[0]
        if kind in SUNG_KINDS or kind in _PLACES or place not in _PLACES:
            return False
        if not self.known.all.is_full(rest) or self.text[at : at + len(name)] != name:
            return False
        behind = self.text[at + len(f"{name} {rest}") :].lstrip()
        if behind[:1] in (":", "("):
            return bool(behind.strip(" :("))
        return not behind and kind in _NO_SECTIONS and kind not in self.known.kinds

    def ends_on(self, clause: str) -> str:
        """The chord that a clause behind another section's music ends on; empty for others."""
        end = song_end(clause, self.reads_as_chords)
        bare = clause.rstrip(".!")
        if end is not None and end.sure:
            return end.chord
        return bare if self.reads_as_chords(bare) else ""

    def stands_before_chords(self, word: str, rest: str) -> bool:
        """Whether a known name cut short, which is no chord, has several chords behind it."""
        short = word[:1].isalpha() and len(word) > 1 and is_known_name(word)
        plain = short and " " in rest and not self.reads_as_chords(word)
        return plain and self.reads_as_chords(rest)

    def only_leads(self, at: int) -> bool:
        """Whether a step says no more than that another follows ("Ending: repeat chorus")."""
        one = self.steps[at]
        bare = one.times == 1 and not (one.like or one.row or one.remarks or self.is_above(one))
        following = self.steps[at + 1] if at + 1 < len(self.steps) else None
        return bare and following is not None and following.led_to


def is_struck_last(name: str) -> bool:
    """Whether a name is that of a single hit with which a song ends."""
    return name.casefold() in ("button", "sting")


def leads_to_chord(words: Sequence[str]) -> bool:
    """Whether words lead to a chord that is played, the last one of a song ("(on G)", "(ends on
    G)"), and are no remark that names a note or a key."""
    first = words[0].casefold() if words else ""
    alone = len(words) == 1 and may_lead(first) and first not in IN_A_KEY
    return not words or alone or first in VERBS_OF_ENDING or section_key(first)[0] == "end"
