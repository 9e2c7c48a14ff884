"""A whole song in sentences, as somebody tells it on the phone: "verse is Dm C Bb A, four times.
chorus is F C Gm A. then verse again. then there's a bridge which is Bb C Dm, really quiet."

Each sentence that says which chords a section has becomes its name, its count, what is said of it
and its chords; sentences that only name sections ask for these again, or are the order of the song.
In such a text nothing is sung: what else is said of the music is a remark, the rest is talk.
Source of the words: common practice in these languages, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.quick_looks import has_any, in_small_letters
from chartkit.interchange.text.raw_text.set_apart import as_said
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import count_words, is_talk
from chartkit.interchange.text.vocabulary.section_names import full_name_at
from chartkit.interchange.text.vocabulary.times_played import count_in_words, times_of
from chartkit.interchange.wording import one_line

_LONGEST, _MOST_LINES = 2_000, 60
_FEWEST, _FEWEST_CHORDS = 2, 2
_SAYS = re.compile(
    r",?\s+(?:(?:part|bit|section|teil|chords?|akkorde)\s+)?"
    r"(?:(?:which|that|der|die|das|welche[rs]?|qui|que|che|il quale|som|die|který)\s+)?"
    r"(?:is|are|goes|go|has|have|uses|ist|sind|geht|gehen|hat|lautet|est|sont|fait|c['’]est|va|es|son|"
    r"lleva|tiene|è|sono|fa|ha|é|são|faz|vai|tem|gaat|zijn|heeft|är|går|har|er|to|jest|idzie|je|jde|"
    r"on|menee)(?:\s+(?:just|only|so|like(?: this)?|nur|einfach|juste|solo|sólo|apenas|soltanto|"
    r"bara|bare|alleen))?\s*[:,–—-]?\s+|['’]s\s+|\s*[:=]\s*",
    re.IGNORECASE,
)
"""What stands between a section's name and its chords."""
_LEAD = re.compile(
    r"(?:(?:ok|okay|so|then|and|first|next|now|after (?:that|this)|finally|also|lastly|dann|danach|"
    r"und|zuerst|zum schluss|am ende|puis|ensuite|après|et|d['’]abord|enfin|luego|después|y|"
    r"primero|al final|poi|dopo|e|prima|infine|alla fine|então|depois|primeiro|no fim|daarna|dan|"
    r"en|eerst|sedan|sen|så|och|først|deretter|og|potem|i|pak|a|sitten|ja)[\s,:]+)*"
    r"(?:(?:after|before|nach|vor|après|avant|después de|antes de|dopo|prima di|depois d[eoa]|na|"
    r"efter|etter|po)\s+[^,:;.]{3,30}?,?\s+(?=there|comes|we have|kommt|gibt|il y a|vient|hay|"
    r"viene|c['’]è|tem|komt|is er|kommer|jest|je\s))?"
    r"(?:(?:there\s?['’]?s|there is|we have|you have|i have|es gibt|dann kommt|kommt|il y a|on a|"
    r"hay|tenemos|c['’]è|abbiamo|tem|há|er is|det finns|der er|jest|je tam)\s+)?"
    r"(?:(?:the|an?|der|die|das|eine?n?|le|la|les|une?|el|los|las|una?|il|lo|gli|uno|os?|as|um|uma|"
    r"de|het|een|den|det|ett?|to)\s+|l['’])?",
    re.IGNORECASE,
)
"""How a sentence begins before a section's name."""
_STARTS = re.compile(r"(?:^|[.!?;,:]\s+|\s(?:and|then|und|dann|et|puis|y|luego|e|poi|en|och)\s)\s*")
_TOKEN = re.compile(
    r"\s*(?P<chord>[^\s,;.!?()]+)(?P<end>[,;.!?)]*)"
    r"(?:\s+(?:[-–—]|to|(?:(?:and|und|et|y|e|en|och|og)\s+)?"
    r"(?:then|dann|puis|luego|poi|dan|sedan|depois|potem))(?=\s))?"
)
_SENTENCE = re.compile(r"(?<=[.!?])\s+")
_PIECE = re.compile(
    r"\s*(?:[,;:]|\b(?:then|and|dann|und|puis|ensuite|et|luego|después|poi|dopo|daarna|dan|och|sedan|"
    r"depois|potem)\b)\s*",
    re.IGNORECASE,
)
_ORDER_LEAD = re.compile(
    r"^(?:so|also|alors|entonces|allora|dus|så)?[\s,:]*(?:(?:we|i|you|it|wir|on|es|se|si)\s+"
    r"(?:do|play|go|goes|spielen|joue|fait|va|geht)|(?:the\s+)?(?:form|order|structure|ablauf|ordre|"
    r"orden|ordine|volgorde|ordning)(?:\s+(?:is|ist|est|es|è))?)?\s*:?\s*",
    re.IGNORECASE,
)
"""How a sentence begins that gives the order of the song."""
_OF_THE_LAST = re.compile(
    r"\b(?:last|final|letzte|dernier|dernière|últim|ultim|laatste|sista|siste)"
)
_AGAIN = re.compile(
    r"\s+(?:again|once more|one more time|nochmals?|noch ?mal|wieder|encore|de nouveau|otra vez|"
    r"de nuevo|ancora|di nuovo|nog een keer|opnieuw|igen|de novo|znowu|zase)$",
    re.IGNORECASE,
)
_FILLERS = (
    "is ",
    "are ",
    "goes ",
    "ist",
    "geht",
    "est",
    "va ",
    "es ",
    " è ",
    "gaat",
    "går",
    "jest",
)


@dataclass(slots=True)
class _Said:
    """A section that a clause describes: its name, its chords, where it begins and ends, and
    whether a verb stands between name and chords, as only in sentences."""

    line: Line
    name: str
    chords: str
    start: int
    end: int
    verbal: bool


def with_songs_said(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, those of a song that is described in sentences as sections."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    clauses_at = {at: said for at, line in enumerate(lines) if (said := _clauses(line, is_chords))}
    verbal = sum(one.verbal for said in clauses_at.values() for one in said)
    if sum(map(len, clauses_at.values())) < _FEWEST or verbal < _FEWEST:
        return list(lines)
    if any(is_chords(line.text) for line in lines if line.text.strip()):
        return list(lines)
    first = min(clauses_at)
    findings.guess(
        "in-sentences",
        "the song is described in sentences: each that says which chords a section has is it",
        lines[first].place(),
    )
    song = _Song(findings, {one.name.casefold(): 1 for said in clauses_at.values() for one in said})
    result = list(lines[:first])
    if before := lines[first].text[: clauses_at[first][0].start].strip():
        result.append(replace(lines[first], text=before, columns=None))
        result.append(replace(lines[first], text="", columns=None))
        rest = lines[first].text[clauses_at[first][0].start :]
        clauses_at[first] = _clauses(replace(lines[first], text=rest, columns=None), is_chords)
        lines = [*lines[:first], clauses_at[first][0].line, *lines[first + 1 :]]
    for at in range(first, len(lines)):
        song.take(lines[at], clauses_at.get(at, []))
    return result + song.lines()


def _clauses(line: Line, is_chords: IsChords) -> list[_Said]:
    """What the sentences of a line say of sections and their chords."""
    text = line.text
    if len(text) > _LONGEST or not has_any(in_small_letters(text), _FILLERS):
        return []
    result: list[_Said] = []
    for start in _STARTS.finditer(text):
        if result and start.end() < result[-1].end:
            continue
        lead = _LEAD.match(text, start.end())
        name = lead.end() if lead is not None else start.end()
        end = full_name_at(text, name)
        says = _SAYS.match(text, end) if end > name else None
        chords, behind = _chords_at(text, says.end(), is_chords) if says is not None else ([], 0)
        if says is not None and len(chords) >= _FEWEST_CHORDS:
            row, verbal = " ".join(chords), says[0].strip() not in ("=", ":")
            result.append(_Said(line, text[name:end].strip(), row, start.start(), behind, verbal))
    return result


def _chords_at(text: str, start: int, is_chords: IsChords) -> tuple[list[str], int]:
    """The chords from a place of a text on, and where they end."""
    chords: list[str] = []
    end = at = start
    while (token := _TOKEN.match(text, at)) is not None and is_chords(token["chord"]):
        chords.append(token["chord"])
        end, at = token.end("chord"), token.end()
        if token["end"].strip(",)"):
            break
    return chords, end


class _Song:
    """The sections of a song as sentences tell of them, one after another."""

    def __init__(self, findings: Findings, names: dict[str, int]) -> None:
        self.findings = findings
        self.times = names
        self.sections: list[tuple[str, list[Line]]] = []
        """The sections in their order, each by its name, with its lines."""

    def lines(self) -> list[Line]:
        """All sections as lines."""
        return [line for _, lines in self.sections for line in lines]

    def take(self, line: Line, said: Sequence[_Said]) -> None:
        """Takes the sections of a line, with their chords, and those it asks for again."""
        text = line.text
        self._take_others(line, text[: said[0].start] if said else text)
        ends = [*(one.start for one in said[1:]), len(text)][: len(said)]
        for one, end in zip(said, ends, strict=True):
            own, *rest = _SENTENCE.split(text[one.end : end].lstrip(), maxsplit=1)
            times, remarks = _times_and_remarks(own)
            self.times[one.name.casefold()] = times
            texts = [*map(as_said, remarks), one.chords]
            below = [replace(line, text=one, columns=None) for one in texts]
            self.sections.append((one.name, [_as(line, f"[{one.name}]", times), *below]))
            self._take_others(line, " ".join(rest))

    def _take_others(self, line: Line, text: str) -> None:
        """Takes the sentences that give no chords: sections again, the order of the song, remarks;
        what is talk is reported and left out."""
        for sentence in filter(None, map(str.strip, _SENTENCE.split(text))):
            steps, rest = _steps(sentence, self.times)
            if len(steps) > 2 and len(steps) >= len(self.times):
                self._put_in_order(line, steps)
            else:
                self.sections += [self._again(line, *step) for step in steps]
            if rest and self.sections and (steps or _is_musical(rest, self.times)):
                self._remark(replace(line, text=as_said(rest.strip(" .")), columns=None))
            elif rest:
                self.findings.leave_out(
                    "letter", f'said to the reader: "{one_line(rest)}"', line.place()
                )

    def _remark(self, said: Line) -> None:
        """Puts a remark to the one section that it names, or else to the last one."""
        plain = said.text.casefold()
        meant = {name for name, _ in self.sections if name.casefold() in plain}
        at = len(self.sections) - 1
        if len(meant) == 1 and _OF_THE_LAST.search(plain) is None:
            at = next(at for at, (name, _) in enumerate(self.sections) if name in meant)
        self.sections[at][1].append(said)

    def _again(self, line: Line, name: str, times: int) -> tuple[str, list[Line]]:
        """A section asked for again: as often as before where no count is said."""
        again = times if times > 1 else self.times.get(name.casefold(), 1)
        return name, [_as(line, f"[{name}]", again)]

    def _put_in_order(self, line: Line, steps: Sequence[tuple[str, int]]) -> None:
        """Puts the sections so far in the order that a sentence gives."""
        known = {name.casefold(): lines for name, lines in reversed(self.sections)}
        asked = {name.casefold() for name, _ in steps}
        left = [(name, lines) for name, lines in self.sections if name.casefold() not in asked]
        self.sections = left
        for name, times in steps:
            lines = known.pop(name.casefold(), None)
            self.sections.append((name, lines) if lines else self._again(line, name, times))


def _as(line: Line, heading: str, times: int) -> Line:
    """A section's name in brackets with its count, as a line."""
    return replace(line, text=heading + (f" x{times}" if times > 1 else ""), columns=None)


def _times_and_remarks(said: str) -> tuple[int, list[str]]:
    """How often a section is played by what stands behind its chords, and what else is said."""
    times, remarks = 1, list[str]()
    for part in re.split(r"\s*[,;()]\s*", said.strip(" .!?,;")):
        counted = times_of(part) or (_AROUND.fullmatch(part) and 2)
        if counted:
            times = max(times, int(counted))
        elif part and _LEAD.fullmatch(f"{part} ") is None:
            remarks.append(part)
    return times, [", ".join(remarks)] if remarks else []


_AROUND = re.compile(r"(?:twice|two times|2x) (?:a)?round", re.IGNORECASE)


def _plain_count(text: str) -> tuple[int, int] | None:
    """Where a count such as "x2" begins with which a text ends, and how often it says; None where
    there is none."""
    match = _COUNT.search(text)
    return (match.start(), int(match[1] or match[2])) if match is not None else None


_COUNT = re.compile(r"\s*\b(?:[x×]\s?(\d)|(\d)\s?[x×])$", re.IGNORECASE)


def _is_musical(sentence: str, names: dict[str, int]) -> bool:
    """Whether a sentence speaks of how the song is played."""
    plain = sentence.casefold()
    known = count_words(sentence).strong > 0 or any(name in plain for name in names)
    return known and not is_talk(sentence)


def _steps(sentence: str, names: dict[str, int]) -> tuple[list[tuple[str, int]], str]:
    """The sections that a sentence names one after another, each with its count, and the rest of
    the sentence; no sections for a sentence that begins otherwise."""
    order = _ORDER_LEAD.sub("", sentence).strip(" .!")
    names_in_it = "|".join(sorted(map(re.escape, names), key=len, reverse=True))
    found = re.findall(rf"({names_in_it})(?:\s*x\s?(\d))?", order, re.IGNORECASE)
    left = re.sub(rf"(?:{names_in_it})(?:\s*x\s?\d)?", " ", order, flags=re.IGNORECASE)
    if len(found) > 2 and not _PIECE.sub(" ", left).strip(" ,>+-–—→/"):
        return [(name, int(times or 1)) for name, times in found], ""
    steps: list[tuple[str, int]] = []
    at = 0
    ends = [(one.start(), one.end()) for one in _PIECE.finditer(sentence)]
    for end, following in [*ends, (len(sentence), len(sentence))]:
        piece = sentence[at:end].strip(" .!?")
        lead = _LEAD.match(f"{piece} ")
        bare = _AGAIN.sub("", piece[lead.end() :] if lead is not None else piece).strip()
        counted = count_in_words(bare) or _plain_count(bare)
        name = bare[: counted[0]].strip() if counted is not None else bare
        if name and (name.casefold() in names or full_name_at(name, 0) == len(name)):
            steps.append((name, counted[1] if counted is not None else 1))
        elif name:
            break
        at = following
    return steps, sentence[at:].strip() if at < len(sentence) else ""
