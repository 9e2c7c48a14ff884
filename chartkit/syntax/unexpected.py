"""Messages for a stretch of a music row that does not belong there."""

import re
from dataclasses import replace

from chartkit.chart.bar_lines import BAR_SIGNS
from chartkit.chart.marks import typed_names
from chartkit.chart.model import BarLineKind
from chartkit.syntax.chord_words import chords_in_words
from chartkit.syntax.elements import Element
from chartkit.syntax.grammar import UnexpectedText
from chartkit.syntax.holds import hold_without_space
from chartkit.syntax.report import Report
from chartkit.syntax.rests import ALONE
from chartkit.syntax.symbol import NotAChord, chord_or_none, likely_meaning


def report_unknown_words(
    elements: list[Element], report: Report, opening: BarLineKind = "none"
) -> None:
    """Reports the words of a music row that the language does not know; a sign that is repeated in
    a bar, such as a dash for each beat, once.

    ``opening`` is the bar line before the elements.
    """
    reported: set[str] = set()
    in_words = chords_in_words(elements, report)
    neighbours = zip([None, *elements], elements, [*elements[1:], None], strict=False)
    for before, element, after in neighbours:
        if element.kind == "unknown" and element.value == "]" and reported & _OPENED:
            continue
        if element.kind == "unclosed_cue":
            _report_unclosed_cue(element, report)
        elif element.kind == "played" and not _counts_a_rest(before, element, after):
            _report_times(element, report)
        elif element.kind == "played":
            _report_number_of_rest(element, report)
        elif (
            element.kind == "unknown"
            and element.value not in reported
            and element.start not in in_words
            and not _same_slip(before, element)
        ):
            _report_word(before, element, after, opening, report)
            if _meant(element.value):
                reported.add(element.value)
            if element.value.startswith("["):
                reported |= _OPENED


_OPENED = frozenset("[")


def _report_unclosed_cue(element: Element, report: Report) -> None:
    report.add(
        "unclosed-cue",
        element.start,
        element.end,
        "this cue has no closing quote",
        'put the cue between quotes: "half time"',
    )


def _report_word(
    before: Element | None,
    element: Element,
    after: Element | None,
    opening: BarLineKind,
    report: Report,
) -> None:
    """Reports a word by what stands around it."""
    if _counts_a_rest(before, element, after):
        _report_number_of_rest(element, report)
    elif element.value.isdecimal() and opening == "none" and before is None and after is None:
        message = f'"{element.value}" looks like the number of a bar'
        hint = "take it out: pages count their bars themselves"
        report.add("number-of-bar", element.start, element.end, message, hint)
    elif before is not None and before.kind == "mute" and element.value.isdecimal():
        _report_times(element._replace(start=before.start, value=f"x {element.value}"), report)
    elif before is not None and before.kind == "silence" and element.value.isdecimal():
        _report_rest_counted(before, element, report)
    elif _ENDING.fullmatch(element.value) and (
        (before is None and opening in BAR_SIGNS) or element.value.startswith("[")
    ):
        _report_ending(
            BAR_SIGNS.get(opening, "|") if before is None else "|", element, after, report
        )
    elif element.value.lower() == "no" and after is not None and _is_chord_word(after):
        _report_unknown("no chord", element.start, after.end, report)
    else:
        _report_unknown(element.value, element.start, element.end, report)


def _is_chord_word(element: Element) -> bool:
    return element.kind == "unknown" and element.value.lower() == "chord"


def _same_slip(before: Element | None, element: Element) -> bool:
    """Whether a word belongs to the slip that was reported with the element before it."""
    if before is None:
        return False
    if _is_chord_word(element) and before.kind == "unknown" and before.value.lower() == "no":
        return True
    if element.value == ",":
        return before.end == element.start and before.kind in ("unknown", "simile")
    return (
        before.kind == "unknown"
        and _RESTS.fullmatch(before.value) is not None
        and (element.value.isdecimal())
    )


def _counts_a_rest(before: Element | None, element: Element, after: Element | None) -> bool:
    if before is not None and before.kind == "rest":
        return True
    return after is not None and after.kind == "rest" and element.value.isdecimal()


def _report_number_of_rest(element: Element, report: Report) -> None:
    number = element.value.isdecimal()
    report.add(
        "bad-rest",
        element.start,
        element.end,
        "the number of bars comes after its rest"
        if number
        else f'"{element.value}" is not a number of bars to rest',
        "write it alone, in digits: | rest 4 |",
    )


def _report_times(element: Element, report: Report) -> None:
    """Reports a number of times that does not follow a repeat sign."""
    number = element.value.strip("xX× ")
    report.add(
        "times-without-repeat",
        element.start,
        element.end,
        f'"{element.value}" says how often a repeat is played, and belongs after the repeat sign',
        f'write it after ":|", like this: |: C | F :| x{number}; '
        f'for a section: "== Chorus x{number}"',
        "a muted stroke is a single x: C x x x",
    )


def _report_rest_counted(rest: Element, number: Element, report: Report) -> None:
    report.add(
        "bad-rest",
        rest.start,
        number.end,
        'a number does not go with "r", a rest of one beat',
        *_rest_hints(number.value),
    )


def _rest_hints(number: str) -> tuple[str, ...]:
    count = int(number[:4])
    beats = f'; {count} beats of rest: "{" ".join("r" * count)}"' if 1 < count <= _MOST_R else ""
    return (f'{count} bar{"s" * (count != 1)} of rest: "rest {count}"{beats}',)


_TIMES = re.compile(r"[x×](\d{1,2})|(\d{1,2})[x×]", re.IGNORECASE)
_MOST_R = 12
"""The most beats of rest that are written out in a hint: a bar of 12/4."""


def _report_ending(sign: str, element: Element, after: Element | None, report: Report) -> None:
    """Reports a number after a bar line that lacks its dot or has something before it."""
    match = _ENDING.match(element.value)
    number, chord = (match[1], match[2] or "") if match is not None else ("", "")
    if not chord and after is not None and after.kind == "group":
        chord = after.value[0].text
    report.add(
        "ending-number",
        element.start,
        element.end,
        f'"{element.value}" looks like the number of an ending',
        "the number of an ending stands right after its bar line and has a dot: "
        f'"{sign}{number}.{" " * bool(chord)}{chord}"',
    )


_ENDING = re.compile(r"\[?([1-9])[.:)]*\]?([A-G].*)?")
_WAITING = {
    "<": ("stray-articulation", '"<" (pushed) has no chord after it', 'a pushed chord: "<C"'),
    ",": (
        "missing-chord",
        "nothing follows the comma in its beat",
        'two in one beat: "C,D" or "C,/", without a blank',
    ),
    "(": ("missing-chord", "there is no chord in this parenthesis", 'an optional chord: "(C7)"'),
}
_STRAY = {
    "!": ("stray-articulation", '"!" (stop) has no chord before it', 'a chord stopped short: "C!"'),
    "~": ("stray-articulation", '"~" (let ring) has no chord before it', 'let it ring: "C~"'),
    "<": ("stray-articulation", '"<" (pushed) has no chord after it', 'a pushed chord: "<C"'),
    "(": (
        "stray-parenthesis",
        "parentheses do not go around parentheses",
        'an optional chord: "(C7)"',
    ),
    ")": (
        "stray-parenthesis",
        "no parenthesis was opened before this one closes",
        'an optional chord: "(C7)"',
    ),
    ",": (
        "missing-chord",
        "a comma stands between the parts of one beat",
        'two in one beat: "C,D" or "C,/", without a blank',
    ),
    ">": ("stray-articulation", '">" is not a mark', 'a chord struck early, before its beat: "<C"'),
    "@": (
        "unknown-mark",
        'there is no mark after this "@"',
        f"the marks are {' '.join(typed_names())}",
    ),
    ":": (
        "stray-colon",
        "a colon belongs to a bar line or to the start of a row of words",
        'a repeat: "|: C | F :|"',
    ),
}
_COUNTED_REST = re.compile(r"r(?:est)?([0-9]{1,4})", re.IGNORECASE)
_RESTS = re.compile(r"rests|rest\.|r(?:est)?\d+|tacet", re.IGNORECASE)
_TYPED_ON = re.compile(r"[rRxX×][!~/<>].*")
_METER = re.compile(r"(\d+/\d+)(.*)")
_MEANT = (
    (
        re.compile(r"al(?: .*)?|al\.?(fine|coda)", re.IGNORECASE),
        'after @D.C. or @D.S.: "al fine" or "al coda"',
    ),
    (
        re.compile(r"[x×]\d+|\d+[x×]", re.IGNORECASE),
        'say how often bars are played after their repeat sign: "|: C | F :| x2"; '
        'how often a section is played, after its name: "== Chorus x2"',
    ),
    (re.compile(r"\d+\.?"), 'the number of an ending follows its bar line: "|1."'),
    (re.compile(r"no[- ]?chord", re.IGNORECASE), 'no chord is "N.C."'),
    (re.compile(r"r+e+s+t+|rset|rets|ret|res", re.IGNORECASE), 'did you mean "rest"?'),
    (_RESTS, 'a bar of rest is "rest", four of them are "rest 4"; a beat of rest is "r"'),
    (re.compile(r"rr+", re.IGNORECASE), 'a rest of one beat is "r", of two "r r"'),
    (re.compile(r"[xX×]+"), 'a muted stroke of one beat is "x"; of two, "x x"; two in one, "x,x"'),
    (
        re.compile(r"[-–—]+|\.+|…|\*|=+"),
        'a beat on which the chord goes on is a slash: "C / / /"',
    ),
    (re.compile(r"\[n\.?c\.?\]", re.IGNORECASE), 'no chord is "N.C."'),
    (re.compile("𝄐"), 'a fermata: "C @fermata"'),
    (re.compile("𝄋"), 'the sign that D.S. goes back to: "@segno"'),
    (re.compile("[𝄌⊕]"), 'at the coda "@coda", and where the song leaves for it "@to-coda"'),
    (re.compile("[↓↑]+"), 'a stroke on each beat is "/", two in one beat are "/,/"'),
    (re.compile(r"[\[{].*|.*[\]}]"), 'an optional chord stands in parentheses: "(C7)"'),
    (re.compile(r"stop|stopped|choke|cut", re.IGNORECASE), 'a chord stopped short: "C!"'),
    (
        re.compile(r"break", re.IGNORECASE),
        'a bar of silence is "rest"; a word to the players is a cue, in quotes: "break"',
    ),
    (re.compile(r"fermata|pause|hold", re.IGNORECASE), 'a fermata: "C @fermata"'),
    (re.compile(r"ring|l\.?v\.?", re.IGNORECASE), 'a chord left to ring: "C~"'),
    (re.compile(r"push|pushed", re.IGNORECASE), 'a pushed chord: "<C"'),
    (re.compile(r"muted?", re.IGNORECASE), 'a muted stroke of one beat: "x"'),
    (re.compile(r"repeat|simile|same|\.?//?\.|𝄎", re.IGNORECASE), 'the bar before again: "%"'),
)
"""What some words in a row of music were probably meant to be."""


def _meant(word: str) -> tuple[str, ...]:
    if (counted := _COUNTED_REST.fullmatch(word)) is not None:
        return _rest_hints(counted[1])
    if word.startswith("[") and chord_or_none(word.strip("[]")) is not None:
        chord = word.strip("[]")
        return (f'a chord has no brackets: "{chord}"; an optional one: "({chord})"',)
    return next(((hint,) for pattern, hint in _MEANT if pattern.fullmatch(word)), ())


def _report_unknown(word: str, start: int, end: int, report: Report) -> None:
    if word in _STRAY:
        code, message, hint = _STRAY[word]
        report.add(code, start, end, message, hint)
        return
    problem = likely_word_meaning(word)
    hints = problem.hints or (_SUNG,) * word.rstrip(".").isalpha()
    report.add(problem.code, start, end, problem.message, *hints)


_SUNG = 'words that are sung have a row of their own, ": | ... |", and a cue stands in quotes'


def likely_word_meaning(word: str) -> NotAChord:
    """The mistake in an unknown word in a row of music, with hints for what was probably meant."""
    problem = _part_of_the_language(word) or likely_meaning(word)
    return problem if problem.hints else replace(problem, hints=_meant(word))


def _part_of_the_language(word: str) -> NotAChord | None:
    """The message for a hold, a rest or a meter without a space beside it."""
    whole = (0, len(word))
    if word.lower() == "rest":
        return NotAChord(
            "rest-not-alone",
            *whole,
            "a rest is a whole bar, not a part of a beat",
            (ALONE,),
        )
    meter = _METER.fullmatch(word)
    if meter is not None:
        apart = f"{meter[1]} {meter[2].strip(',/.:')}".rstrip()
        return NotAChord(
            "meter-typed-on",
            *whole,
            f'the time signature in "{word}" does not stand alone',
            (f"put a blank after it: | {apart} ...",),
        )
    if word in ("r", "R", "x", "X", "×"):
        return NotAChord(
            "sign-not-alone",
            *whole,
            f'"{word}" strikes no chord, so it cannot be pushed, stopped or left to ring',
            ('it stands alone, between blanks or commas: "C r x /", "C,x"',),
        )
    if _TYPED_ON.fullmatch(word):
        return NotAChord(
            "sign-not-alone",
            *whole,
            f'the "{word[0]}" in "{word}" does not stand alone',
            ('a rest "r" and a muted stroke "x" stand between blanks or commas: "C r x /", "C,x"',),
        )
    return hold_without_space(word)


def report_unexpected(misfit: UnexpectedText, text: str, report: Report) -> None:
    """Reports a stretch of a row that the grammar has no place for."""
    start, end = misfit.start, misfit.end
    written = text[start:end]
    if misfit.kind == "unclosed":
        report.add(
            "unclosed-parenthesis",
            start,
            end,
            "this parenthesis is not closed after the chord",
            "parentheses go around one chord, (C7) (F), or around changes to it, C7(b9)",
        )
        return
    signs = _WAITING if misfit.kind == "no-chord" else _STRAY
    if written[:1] in signs:
        code, message, hint = signs[written[0]]
        report.add(code, start, end, message, hint)
        return
    if (times := _TIMES.fullmatch(written)) and text[start - 1 : start] == "(":
        closed = end + (text[end : end + 1] == ")")
        message = "how often a repeat is played is written without parentheses"
        report.add(
            "times-without-repeat", start - 1, closed, message, f'write "x{times[1] or times[2]}"'
        )
        return
    _report_unknown(written, start, end, report)
