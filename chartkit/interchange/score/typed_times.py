"""What words over bars say of playing them: a part so many times ("4x"), a bar again ("%")."""

from collections.abc import Sequence

from chartkit.chart.model import MOST_TIMES
from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure

_IN_WORDS = {
    **dict.fromkeys(("three", "thrice", "drei", "tres", "trois", "tre", "três", "drie", "trzy"), 3),
    **dict.fromkeys(("four", "vier", "cuatro", "quatre", "quattro", "quatro", "fyra", "fire"), 4),
    **dict.fromkeys(("five", "fünf", "cinco", "cinq", "cinque", "vijf", "fem"), 5),
    **dict.fromkeys(("six", "sechs", "seis", "sei", "zes", "sex", "seks"), 6),
    **dict.fromkeys(("eight", "acht", "ocho", "huit", "otto", "oito", "åtta", "åtte", "otte"), 8),
    **dict.fromkeys(("kolme",), 3),
    **dict.fromkeys(("neljä", "cztery"), 4),
}
_TIMES = CompiledLater(
    r"\(?(?:(?:play(?:ed)?|spielen|jouer|tocar|suonare|spelen|spela|spill)\s+)?"
    rf"(?:(?P<before>\d{{1,2}}|{'|'.join(_IN_WORDS)})\s?(?:[x×]|times|mal|veces|fois|volte|vezes|"
    r"keer|maal|gånger|ggr|ganger|gange|razy|kertaa)(?:\s+in all|\s+in total|\s+spielen)?"
    r"|[x×]\s?(?P<behind>\d{1,2}))\.?\)?"
)
"""Common practice, no source. "Repeat 3 times" does not count, since it may mean three times in all
or three more."""


def with_typed_times(measures: Sequence[Measure], findings: Findings) -> tuple[Measure, ...]:
    """The measures with the number of times that is typed in the first or last measure of a
    repeat at its end; a number that the repeat or its numbered endings say already goes."""
    made = list(measures)
    start = 0
    endings: tuple[int, ...] = ()
    for at, measure in enumerate(measures):
        if measure.left.repeat:
            start, endings = at, ()
        endings = measure.left.endings or endings
        if not measure.right.repeat:
            continue
        if not endings:
            _take_times(made, start, at, findings)
        elif measure.right.times in (len(endings), len(endings) + 1):
            made[at] = measure._replace(right=measure.right._replace(times=0))
        start = at + 1
    return tuple(made)


def _take_times(made: list[Measure], start: int, end: int, findings: Findings) -> None:
    """Moves the number from the words of a repeat's outer measures to its end."""
    typed = {
        at: [
            instruction
            for instruction in made[at].instructions
            if _TIMES.fullmatch(instruction.text)
        ]
        for at in (start, end)
    }
    numbers = {_number(instruction.text) for texts in typed.values() for instruction in texts}
    if len(numbers) != 1 or not 2 < (times := numbers.pop()) <= MOST_TIMES:
        return
    said = made[end].right.times
    if said > 2 and said != times:
        return  # two numbers that differ: the words stay
    if said <= 2:
        place = f"measure {made[end].number}"
        findings.guess("typed-times", f"played {times} times, as the words over it say", place)
    for at, texts in typed.items():
        made[at] = made[at]._replace(
            instructions=tuple(s for s in made[at].instructions if s not in texts)
        )
    made[end] = made[end]._replace(right=made[end].right._replace(times=times))


def _number(text: str) -> int:
    match = _TIMES.fullmatch(text)
    said = "0" if match is None else match["before"] or match["behind"]
    return _IN_WORDS.get(said.lower()) or int(said)


# ---- the bar before once more
_SIMILES = ("%", "𝄎", "./.", "·/·", "•/•")
"""Common practice, no source."""


def with_typed_similes(measures: Sequence[Measure], findings: Findings) -> tuple[Measure, ...]:
    """Plays each measure that has the sign and no chord of its own as the one before; returns the
    measures."""
    made = list(measures[:1])
    for measure in measures[1:]:
        typed = [said for said in measure.instructions if said.text in _SIMILES]
        if typed and not (measure.struck or measure.simile):
            findings.guess(
                "typed-simile",
                f'the words "{typed[0].text}" mean the measure before once more',
                f"measure {measure.number}",
            )
            others = tuple(said for said in measure.instructions if said not in typed)
            measure = measure._replace(instructions=others, simile=1)
        made.append(measure)
    return tuple(made)
