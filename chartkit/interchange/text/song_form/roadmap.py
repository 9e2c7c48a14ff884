"""Roadmaps: lines that list a song's sections in the order in which they are played.

"Form: Intro V1 C V2 C B C", "AABA" and "Verse - Chorus - Verse - Chorus x2" give the order of the
whole song where each section is written once.  Initials stand for the kinds of sections that the
sheet has.  Source of the labels and initials: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from chartkit.interchange.text.quick_looks import BeginsWithWord, kept
from chartkit.interchange.text.vocabulary.order_words import LEADS_ON
from chartkit.interchange.text.vocabulary.section_names import (
    IN_KEY,
    full_name_at,
    is_known_name,
    ordinal_at,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import times_of

Key = tuple[str, str]
"""The meaning of a section's name: its kind and its number."""

_OF_SONG = (
    r"\s+(?:of|for|da|do|de|del|della|du|des|vom|von|van|av|af|för|for|til)\s+"
    r"(?:(?:the|la|le|el|il|het|dem|der|o|a)\s+)?"
    r"(?:song|tune|piece|música|musica|tema|canción|canzone|brano|pezzo|canção|lied(?:es|s)?|"
    r"stück(?:e?s)?|titels|chanson|morceau|nummer|liedje|låten|sången|visan|sangen|visen)|"
    r"\s+(?:utworu|piosenki|písně|skladby)"
)
_LABEL = BeginsWithWord(
    r"\s*(?:the\s+)?(?:song\s+)?(?:form|(?:how|the way) (?:it|this(?: one)?) goes|how we play it|"
    r"so geht (?:es|['’]?s|das)|comment on (?:la )?joue|cómo va|come (?:si suona|va)|"
    r"(?:running |playing )?order(?: of play(?:ing)?)?|(?:we\s+)?(?:play|sing)(?: it| this)?|"
    r"structure|arrangement|routine|ablauf|aufbau|reihenfolge|verlauf|forma|"
    r"kolejność|przebieg|rækkefølge|rekkefølge|pořadí|järjestys|rakenne|roteiro|sequência|secuencia|"
    r"opbouw|déroulé|upplägg|giri|scaletta|esecuzione|percorso|schema|"
    r"orden|estructura|estrutura|forme|ordre|struttura|ordine|volgorde|vorm|ordning|roadmap|"
    r"ordem|spelordning|spilleplan|verloop|ablaufplan|road map|sequence|plan|layout)"
    rf"(?:{_OF_SONG})?"
    r"(?:(?:\s+[^\W\d_]{2,12}){1,3}(?=\s*[:=]))?"  # "running order for tonight:"
    r"(?:\s+is)?(?:\s*(?::|=|\s[-–—])\s*|\s+)",
)
_OWN_LABEL = re.compile(r"\s*(?P<label>[^\W\d_]{2,14}(?: [^\W\d_]{2,10})?)\s*[:=]\s*(?=\S)")
_BETWEEN = re.compile(
    r"(?:[\s,;/+>|·•.&=_–—→⇒-]|(?<!\w)(?:and|then|und|dann|et|puis|y|luego|e|poi|en|och|og)(?!\w))+"
)
_TIMES = re.compile(
    r"\s*[(\[]?\s*([x×]\s?\d{1,2}|\d{1,2}\s?[x×](?!\w)|twice)\s*[)\]]?", re.IGNORECASE
)
_GLUED_COUNT = re.compile(r"(?<!\w)([A-Z][a-z]{0,3}\d?)[x×](\d{1,2})(?!\w)")
"""A count right behind letters that are a name ("Cx2")."""
_TIMES_BEFORE = re.compile(r"(\d{1,2})\s?[x×]\s*(?=[^\W\d])", re.IGNORECASE)
_NUMBER = re.compile(r"(\d{1,2})\b\.?(?!\s?[x×])")
"""A verse that is called by its number alone."""
_WORD = re.compile(r"([^\W\d_][^\W\d_’'-]*)\.?(?:\s?(\d{1,2})(?!\s?[x×\d]))?")
_ROMAN_BEHIND = re.compile(r"(?<=[^\W\d_])\s+[IVXA-D]$")
_REMARK = re.compile(r"\s*[(\[]([^()\[\]]{1,60})[)\]]")
_COUNT_IN_REMARK = re.compile(
    r"(?:^|[\s,]+)(?P<times>[x×]\s?\d{1,2}|\d{1,2}\s?[x×]|twice)$", re.IGNORECASE
)
_INITIALS = {
    "i": "intro",
    "v": "verse",
    "p": "pre-chorus",
    "c": "chorus",
    "r": "chorus",
    "b": "bridge",
    "s": "solo",
    "o": "outro",
    "t": "tag",
}
_MIDDLE_EIGHT = frozenset({"m8", "mid8"})
_IN_KEY = re.compile(IN_KEY, re.IGNORECASE)
_LETTERED = re.compile(
    r"(?P<before>[a-h])[- ](?:part|section|teil|parte|partie|del)|"
    r"(?:part|section|teil|parte|partie|del) (?P<behind>[a-h])|(?P<alone>[a-h])"
)
_ENDING = re.compile(
    r"[,;.–—-]\s*(?:(?:and|then|und|dann|y|et|e)\s+)*(?P<said>(?:ends?|stops?|finish|hold|schluss|fin|"
    r"endet|slut)\s+(?:(?:on|with|auf|mit|en|em|sur|på)\s+)?(?:an?\s+)?[A-H][^\s,]{0,6})[.!]*\s*$",
    re.IGNORECASE,
)
"""How an order says on what chord the song ends."""
_LONGEST, _LONGEST_LABEL = 200, 60
FEWEST_STOPS = 3


@dataclass(frozen=True, slots=True)
class Stop:
    """A section that a roadmap names: how often it is played, and what is said of it."""

    key: Key
    times: int = 1
    remark: str = ""


@dataclass(slots=True)
class _Reader:
    keys: frozenset[Key]
    kinds: frozenset[str]
    names: frozenset[str]
    """The names of the sheet's sections as they are typed, without case."""
    stops: list[Stop] = field(default_factory=list)

    def read(self, text: str) -> bool:
        """Reads a whole text; whether it names sections and nothing else."""
        at = self._behind(_BETWEEN, text, 0)
        while at < len(text):
            before = _TIMES_BEFORE.match(text, at)
            times = int(before[1]) if before is not None else 1
            at = before.end() if before is not None else at
            end = self._name(text, at)
            if end == at:
                return False
            at = self._said_of_last(text, end, times)
            at = self._behind(_BETWEEN, text, at)
        return True

    def _behind(self, pattern: re.Pattern[str], text: str, at: int) -> int:
        match = pattern.match(text, at)
        return match.end() if match is not None else at

    def _name(self, text: str, at: int) -> int:
        """Takes a name, or initials that run together; where it ends."""
        if own := self._own_name(text, at):
            self.stops.append(Stop(section_key(own)))
            return at + len(own)
        if (number := _NUMBER.match(text, at)) is not None and f"{number[1]}." in self.names:
            self.stops.append(Stop(section_key(f"{number[1]}.")))
            return number.end()
        end = full_name_at(text, at)
        if end == at and (behind := self._ordinal(text, at)):
            return behind
        word = _WORD.match(text, at)
        if word is None:
            return at
        if end > at and self._are_two_names(text[at:end]):
            end = at + len(word[0])
        in_key = _IN_KEY.match(text, end) if end > at else None
        if in_key is not None and section_key(text[at : in_key.end()]) in self.keys:
            self.stops.append(Stop(section_key(text[at : in_key.end()])))
            return in_key.end()
        if end > at:
            name = text[at:end]
            if section_key(name) not in self.keys:
                name = _ROMAN_BEHIND.sub("", name)  # "Intro V C": a V is a verse here
            if section_key(name) not in self.keys and section_key(word[0]) in self.keys:
                name = word[0]  # "Verse Chorus Riff": two sections here
            key = section_key(name)
            if key[0] in self.kinds:
                self.stops.append(Stop(key))
                return at + len(name)
        if (short := self._short(word[1], word[2] or "")) is not None:
            self.stops.append(Stop(short))
            return word.end()
        letters = [self._short(letter, "") for letter in word[1]]
        if word[1].isupper() and word[2] is None and None not in letters:
            counted = _TIMES.match(text, word.end(1)) if len(letters) > 1 else None
            times = times_of(counted[1]) if counted is not None else 1
            self.stops += [Stop(key) for key in letters if key is not None] * times
            return counted.end() if counted is not None else word.end(1)
        return at

    def _own_name(self, text: str, at: int) -> str:
        """One of the sheet's own names of several words that stands there; empty elsewhere."""
        rest = text[at:].casefold()
        own = (one for one in self.names if " " in one and rest.startswith(one))
        name = max((one for one in own if not rest[len(one) :][:1].isalnum()), key=len, default="")
        return text[at : at + len(name)]

    def _ordinal(self, text: str, at: int) -> int:
        """Takes an ordinal alone that only one section has ("1st" for the "1st Strain"), where the
        sheet calls its sections so; where it ends, 0 for none."""
        called = any(ordinal_at(name, 0)[0] not in (0, len(name)) for name in self.names)
        end, number = ordinal_at(text, at) if called else (at, "")
        meant = [key for key in self.keys if number and _has_number(key, number)]
        if len(meant) != 1:
            return 0
        self.stops.append(Stop(meant[0]))
        return end

    def _are_two_names(self, text: str) -> bool:
        """Whether a name of two words is two sections of this sheet ("pre chorus")."""
        words = text.casefold().split()
        return len(words) > 1 and {*words} <= self.names and text.casefold() not in self.names

    def _short(self, word: str, number: str) -> Key | None:
        """The meaning of an abbreviated name among the sections of this sheet."""
        if number and f"{word}{number}".casefold() in _MIDDLE_EIGHT and "bridge" in self.kinds:
            return "bridge", ""
        if (own := self._of_initial(word)) and (not number or (own, number) in self.keys):
            return own, number
        if number and (figured := self._of_figure(word, number)) is not None:
            return figured
        kind = section_key(word)[0]
        if kind in self.kinds and (len(word) > 1 or word.isupper() or (kind, number) in self.keys):
            return kind, number
        lettered = [key for key in self.keys if key[1] == f"{word}{number}".casefold()]
        if word.isupper() and len(lettered) == 1:
            return lettered[0]  # "A" for "Parte A"
        named = next((one for one in self.kinds if _of_letter(one) == word.casefold()), "")
        if named and not number:
            return named, ""
        kind = _INITIALS.get(word.casefold(), "")
        return (kind, number) if word.isupper() and kind in self.kinds else None

    def _of_initial(self, word: str) -> str:
        """The kind of the only sections of this sheet whose names begin with a large letter, or
        with letters of which the first is large, that are no name themselves ("C" for a "Couplet",
        "Out" for an "Outro"); empty for others."""
        letters = word.casefold()
        if not word[0].isupper() or letters in self.names:
            return ""
        kinds = {section_key(name)[0] for name in self.names if name.startswith(letters)}
        return kinds.pop() if len(kinds) == 1 else ""

    def _of_figure(self, word: str, number: str) -> Key | None:
        """The only section whose name begins with some letters and ends with a figure that counts
        nothing ("M8" for a "Middle 8")."""
        begins, ends = word.casefold(), f" {number}"
        named = (one for one in self.names if one.startswith(begins) and one.endswith(ends))
        keys = {key for key in map(section_key, named) if not key[1] and key in self.keys}
        return keys.pop() if len(keys) == 1 else None

    def _said_of_last(self, text: str, at: int, times: int) -> int:
        """Takes the count and the remark behind a name; where they end."""
        counted = _TIMES.match(text, at)
        if counted is not None:
            times, at = max(times, times_of(counted[1])), counted.end()
        remark = _REMARK.match(text, at)
        said = remark[1].strip() if remark is not None else ""
        if (within := _COUNT_IN_REMARK.search(said)) is not None:
            times = max(times, times_of(within["times"]))
            said = said[: within.start()].strip(" ,")
        self.stops[-1] = replace(self.stops[-1], times=times, remark=said)
        return remark.end() if remark is not None else at


def _has_number(key: Key, number: str) -> bool:
    """Whether a section has a number behind its name or, in German, before it ("1. Teil")."""
    return key[1] == number or key[0].startswith(f"{number}. ")


def _of_letter(kind: str) -> str:
    """The letter by which a section is called ("A part"); empty where it is not."""
    match = _LETTERED.fullmatch(kind)
    return (match["before"] or match["behind"] or match["alone"]) if match is not None else ""


def are_by_letters(keys: Sequence[Key]) -> bool:
    """Whether all sections are called by letters."""
    return all(_of_letter(kind) or kind == "bridge" for kind, _ in keys)


@kept
def label_end(text: str) -> int:
    """Where the label of a roadmap ends with which a text begins; 0 where none does."""
    match = _LABEL.match(text) if len(text) <= _LONGEST else None
    return match.end() if match is not None else 0


@kept
def is_label_alone(text: str) -> bool:
    """Whether a line says of itself alone that an order of sections follows ("Routine:")."""
    bare = text.strip(" :=-–")
    return 0 < len(bare) <= _LONGEST_LABEL and label_end(f"{bare}: ") == len(bare) + 2


@kept
def own_label_end(text: str) -> int:
    """Where a label of the sheet's own ends that could stand before a roadmap ("Flow: …"); 0 where
    none does."""
    match = _OWN_LABEL.match(text) if len(text) <= _LONGEST else None
    return match.end() if match is not None and not is_known_name(match["label"]) else 0


def stops_of(text: str, keys: Sequence[Key], names: Sequence[str] = ()) -> tuple[Stop, ...]:
    """The sections that a text without its label lists; none where it says anything else.

    ``keys`` are what the names of the sheet's sections mean.
    """
    if len(text) > _LONGEST:
        return ()
    ending = _ENDING.search(text)
    bare = text[: ending.start() if ending else len(text)].strip().rstrip(".!")
    stops = names_in(bare, keys, names)
    if any(LEADS_ON.match(stop.remark) for stop in stops):
        return ()  # what stands in parentheses are further steps
    if ending is not None and stops:
        stops = (*stops[:-1], replace(stops[-1], remark=ending["said"].strip()))
    return stops if len(stops) >= FEWEST_STOPS else ()


def says_last_chord(text: str) -> bool:
    """Whether an order says at its end on what chord the song ends, which is a section then."""
    ending = _ENDING.search(text) if len(text) <= _LONGEST else None
    return ending is not None and ending["said"][:4].casefold() not in ("hold", "stop")


def names_in(text: str, keys: Sequence[Key], names: Sequence[str] = ()) -> tuple[Stop, ...]:
    """The sections that a text names one after another, were it one alone; none where it says
    anything else."""
    text = _GLUED_COUNT.sub(r"\1 x\2", text)
    called = frozenset(name.casefold() for name in names)
    reader = _Reader(frozenset(keys), frozenset(kind for kind, _ in keys), called)
    if not reader.read(text):
        return ()
    return tuple(_without_number(stop, keys, names) for stop in reader.stops)


_OF_SEVERAL = re.compile(
    r"(?:all |the )?(?:verses|stanzas|choruses|refrains|bridges|strophen|couplets|strophes|"
    r"estrofas|estribillos|coplas|versos|estrofes|refrões|strofe|ritornelli|coupletten|refreinen|verser|"
    r"refränger|refrenger|zwrotki|refreny|sloky|refrény|säkeistöt|kertosäkeet)",
    re.IGNORECASE,
)
"""Names of which each stands for all sections of its kind."""


def _without_number(stop: Stop, keys: Sequence[Key], names: Sequence[str]) -> Stop:
    """A stop without its number ("V2") where the sheet has all of its kind as one ("Verses")."""
    kind, number = stop.key
    if not number or stop.key in keys:
        return stop
    of_kind = [name for name in names if section_key(name)[0] == kind]
    several = len(of_kind) == 1 and _OF_SEVERAL.fullmatch(of_kind[0].strip(" :")) is not None
    return replace(stop, key=(kind, "")) if several else stop


def playing_order(stops: Sequence[Stop], keys: Sequence[Key]) -> list[tuple[int, Stop]] | None:
    """The sections in the order in which they are played, each with its stop, where sections with
    these keys are written once each; None where the stops are no order of the whole song.

    A name without its number is the next of its kind, and then the last again.  A first or last
    section may go without saying.
    """
    if len(set(keys)) < len(keys):
        return None
    order: list[int] = []
    for stop in stops:
        at = place_of(stop.key, keys, order)
        if at is None:
            return None
        order.append(at)
    missing = set(range(len(keys))) - set(order)
    last = _last_missing(keys, missing)
    edges = {0, *last} if len(keys) > 2 else set()
    if not missing <= edges or order == [*range(len(keys))]:
        return None
    first, behind = ([(at, Stop(keys[at])) for at in some] for some in ({0} & missing, last))
    return [*first, *zip(order, stops, strict=True), *behind]


def go_on(places: Sequence[int | None], count: int) -> bool:
    """Whether a list below all of so many sections begins with another than the first and does not
    have the last, so that it goes on from there ("Ch > V1 > Ch > Ch" below the second verse)."""
    return places[0] != 0 and 0 in places and count - 1 not in places


_BEHIND_A_FORM = frozenset(["solo", "head", "end", "outro", "coda", "tag", "vamp", "instrumental"])
"""What is played behind the form that a line gives, though the line does not name it."""


def _last_missing(keys: Sequence[Key], missing: set[int]) -> list[int]:
    """The last sections that an order does not name: one of any kind, or several that are played
    behind the form."""
    at = len(keys)
    while at - 1 in missing and keys[at - 1][0] in _BEHIND_A_FORM:
        at -= 1
    one_more = at == len(keys) and at - 1 in missing
    return list(range(at - one_more, len(keys)))


def place_of(key: Key, keys: Sequence[Key], order: Sequence[int]) -> int | None:
    """Which section a stop plays, after those in the order so far."""
    kind = [at for at, one in enumerate(keys) if one[0] == key[0]]
    if key in keys and (key[1] or len(kind) == 1):
        return keys.index(key)
    if key[1]:
        plain = [at for at in kind if not keys[at][1]]  # the first, where the next is "Verse 2"
        return plain[0] if len(plain) == 1 and key[1] == "1" else None
    fresh = [at for at in kind if at not in order]
    return fresh[0] if fresh else kind[-1] if kind else None


def read_as(text: str, stops: Sequence[Stop]) -> str:
    """What a finding says of a line that orders the sections, or says how they are played."""
    what = "the order in which" if stops else "how"
    return f'"{text}" is read as {what} the sections are played'
