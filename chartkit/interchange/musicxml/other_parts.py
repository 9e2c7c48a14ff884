"""What only parts say whose notes are not read: tempos, the form, names of sections, fermatas.

Some programs write these into the last part, others over the part that plays first.  Common
practice, no source.
"""

from collections.abc import Callable, Iterator, Sequence

from chartkit.interchange.instructions import names_section
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.marks_in_words import mark_of
from chartkit.interchange.musicxml.directions import typed_tempo
from chartkit.interchange.musicxml.parts import RawPart, has_element
from chartkit.interchange.score.events import Measure, Part
from chartkit.interchange.wording import cue_text

_FORM = ("repeat", "ending", "segno", "coda")
_JUMPS = ("dacapo", "dalsegno", "fine", "tocoda", "segno", "coda")


def with_what_others_say(
    read: tuple[Part, ...],
    others: Sequence[RawPart],
    read_part: Callable[[RawPart], Part],
    findings: Findings,
) -> Part:
    """The last of the parts that are ``read``, with the tempos, the form, the names of sections or
    the fermatas of another one where none of them has any."""
    top = read[-1]
    measures = [measure for part in read for measure in part.measures] if others else []
    for says, has, take, told in _KINDS if others else ():
        other = None if any(map(says, measures)) else next(filter(has, others), None)
        if other is None:
            continue
        top = top._replace(measures=tuple(_taken(top, read_part(other), take)))
        if told:
            findings.guess("form-of-part", f'{told} are those of the part "{other.name}"')
    return top


_Take = Callable[[Measure, Measure], Measure]


def _taken(top: Part, other: Part, take: _Take) -> Iterator[Measure]:
    yield from (take(one, two) for one, two in zip(top.measures, other.measures, strict=False))
    yield from top.measures[len(other.measures) :]


def _says_tempo(measure: Measure) -> bool:
    return measure.tempo is not None or bool(measure.heard)


def _words(part: RawPart) -> Iterator[str]:
    """The texts of a part that are typed as words to the players."""
    typed = (words.text for measure in part.measures for words in measure.iter("words"))
    return (cue_text(text) for text in typed if text)


def _has_tempo(part: RawPart) -> bool:
    sounds = (sound for measure in part.measures for sound in measure.iter("sound"))
    return (
        has_element(part, "metronome")
        or any(sound.get("tempo") for sound in sounds)
        or any(typed_tempo(text) is not None for text in _words(part))
    )


def _take_tempo(one: Measure, two: Measure) -> Measure:
    return one._replace(tempo=two.tempo, heard=two.heard)


def _says_form(measure: Measure) -> bool:
    repeats = measure.left.repeat or measure.right.repeat or measure.left.endings
    return bool(repeats) or any(mark.kind != "fermata" for mark in measure.marks)


def _has_form(part: RawPart) -> bool:
    sounds = (sound for measure in part.measures for sound in measure.iter("sound"))
    return (
        any(has_element(part, tag) for tag in _FORM)
        or any(sound.get(jump) for sound in sounds for jump in _JUMPS)
        or any(mark_of(text) is not None for text in _words(part))
    )


def _take_form(one: Measure, two: Measure) -> Measure:
    return one._replace(left=two.left, right=two.right, marks=(*one.marks, *two.marks))


def _says_section(measure: Measure) -> bool:
    return bool(measure.section)


def _has_section(part: RawPart) -> bool:
    return has_element(part, "rehearsal") or any(map(names_section, _words(part)))


def _take_section(one: Measure, two: Measure) -> Measure:
    return one._replace(section=two.section)


def _says_fermata(measure: Measure) -> bool:
    return any(mark.kind == "fermata" for mark in measure.marks)


def _has_fermata(part: RawPart) -> bool:
    return has_element(part, "fermata")


def _take_fermata(one: Measure, two: Measure) -> Measure:
    held = (mark for mark in two.marks if mark.kind == "fermata")
    return one._replace(marks=(*one.marks, *held))


_KINDS: tuple[
    tuple[Callable[[Measure], bool], Callable[[RawPart], bool], _Take, str],
    ...,
] = (
    (_says_tempo, _has_tempo, _take_tempo, ""),
    (_says_form, _has_form, _take_form, "repeats, signs and jumps"),
    (_says_section, _has_section, _take_section, "names of sections"),
    (_says_fermata, _has_fermata, _take_fermata, ""),
)
"""What may be said by a part alone: whether a measure that is read says it, whether a part may, how
it is taken, and what is reported."""
