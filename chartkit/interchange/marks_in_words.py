"""Words that lead through a piece: "D.S. al Coda", "To Coda", "Fine"; what is said beside them.

How musicians word them, in several languages: common practice, no source.
"""

import re
from typing import NamedTuple

from chartkit.chart.marks import Mark, MarkKind, Until, kind_of_printed_mark
from chartkit.interchange.compiled_later import CompiledLater

_UNTIL: dict[str, Until] = {"fi": "fine", "cod": "coda", "𝄌": "coda"}
_ARROW = r"→|➔|➜|⟶|⇒|[-=–]{1,2}>"
_LINK = (
    r"(?:(?:alla|al|ad|a|ao|à|au|la|il|the|to|until|till?|bis|zu[mr]|hasta|até|tot|naar|"
    r"jusqu['’](?:à|au)|e|y|et|und|en|och|og|and|then|poi|puis|dann|luego|depois|go|jump|take)"
    rf"(?![^\W\d_])|al(?=coda|fine|cod\.)|{_ARROW}|[&+/,]|[–-]+(?![-–=>]))"
)
"""What stands between a jump and where it leads."""
_ENDS_ON = r"(?:fine|fin|fim|coda|cod\.)(?![^\W\d_])(?:\s*𝄌)?|𝄌"
_JUMP = CompiledLater(
    r"(?P<kind>d\.?\s?c\b\.?|d\.?\s?s\b\.?|d\.?\s?[cs]\.?(?=al)|da\s?capo|dal\s?segno|"
    r"dal\s?(?=[𝄋%§]))[\s.,𝄋%§]*"
    rf"(?:(?:{_LINK}[\s.]*)*(?P<until>{_ENDS_ON}))?"
    r"[.\s]*"
)
_LED_TO_CODA = (
    r"(?:(?:go|jump|skip|cut|take\s+it|then)\s+)*"
    rf"(?:alla|al|to|zur|a\s+la|à\s+la|au|ao|till|naar|{_ARROW})\s*(?:the\s+)?"
    r"(?:coda[.\s]*𝄌?|𝄌)[.\s]*"
)
_NAMED_MARKS: tuple[tuple[CompiledLater, MarkKind], ...] = (
    (CompiledLater(_LED_TO_CODA), "to-coda"),
    (CompiledLater(r"(?:il\s+|the\s+)?fine[.\s]*"), "fine"),
    (CompiledLater(r"(?:al\s+)?segno[.\s]*𝄋?|𝄋(?:\s*segno[.\s]*)?"), "segno"),
    (CompiledLater(r"𝄌"), "coda"),
    (CompiledLater(r"[𝄐𝄑]|fermat[ae][.\s]*[𝄐𝄑]?|[𝄐𝄑]\s*fermat[ae]"), "fermata"),
)
PART_OF_MARK = re.compile(
    r"d[.\s]{0,2}[cs]|dal|capo|segno|sign|top|beginning|start|cod|fine|fermat|[𝄋𝄌𝄐𝄑]",
    re.IGNORECASE,
)
"""What is in every mark that is worded otherwise than on our pages, so that other words need not be
compared with all of them."""
_LONGEST_WITH_MARK = 80
_TIME = (
    r"(?:(?:(?:on|for|at|after)\s+)?(?:the\s+)?"
    r"(?:\d{1,2}\s?x|\d{1,2}\s+times|(?:1st|2nd|3rd|[4-9]th|\d\.|\d[ªº°]|\d(?:da|ra|nd|e|ème|a))"
    r"(?:\s?(?:time|x|pass|vez|mal|volta|fois|keer))?|"
    r"(?:first|second|third|fourth|last|final|letztes|última|ultima|dernière)"
    r"(?:\s+(?:time|x|pass|vez|mal|volta|fois|keer))?|"
    r"(?:(?<=on\s)|(?<=after\s)|(?<=on\sthe\s))(?:cue|repeat|d\.?\s?[cs]\b\.?))"
    r"(?:\s+only)?|after\s+[\w\s]{1,20}?|when\s+\w{1,12})"
)
"""Which time, or after what."""
_BESIDE_A_MARK = CompiledLater(
    rf"(?P<before>{_TIME}(?:,?\s*then)?[,:–-]?\s+)?(?P<mark>.+?)"
    rf"(?P<behind>\s*\([^()]{{1,40}}\)|,?\s+(?:{_TIME}|senza\s+rep\w*\.?|con\s+rep\w*\.?|"
    r"no\s+rep(?:eats?|\.)?|with\s+rep(?:eats?|\.)?))?"
)
"""What may be said about a mark beside it: how often, which time, with repeats or without."""
_AND_MORE = CompiledLater(r"\s*(?:(?:and|then|al|to|for|no|without)\s|\d|[,&(–-]).{1,40}")
_NUMBERED_CODA = CompiledLater(r"(?P<mark>.{0,30}?(?:coda|𝄌))\s*(?P<number>[1-9]|i{1,3})\.?")
_OPEN_END = " -–—→➔…_"
"""What is drawn behind a mark and says no more."""
_LED = CompiledLater(
    r"(?:(?P<before>.{1,40}?)(?<![^\W_]))??"
    r"(?P<back>(?P<top>d\.?\s?c\b\.?|da\s?capo)|(?P<second>d\.?\s?s\.?\s?s\b\.?)|"
    r"(?P<sign>d\.?\s?s\b\.?|dal\s?segno)|"
    r"(?:(?:go|back|return|repeat)\s+)*(?:from|to)\s+(?:the\s+)?"
    r"(?:(?P<top_said>top|beginning|start)|(?P<sign_said>sign|segno|𝄋))(?!\w))"
    r"(?P<between>.{0,40}?)(?<![^\W_])"
    rf"(?P<until>{_ENDS_ON})[.\s]*(?P<behind>[(,–-].{{1,40}})?"
)
"""A jump that says where it ends, with anything before, between and behind."""
_LAST_LINK = CompiledLater(rf"(?P<rest>.*?(?<!\w))??{_LINK}(?!\w)[\s.]*")
_DENIES = CompiledLater(
    r".*(?<!\w)(?:no|not|non|without|w/o|skip|omit|don['’]t|sans|senza|ohne|sin|sem)(?:\s+the)?"
)
_WHEN_JUMPED = CompiledLater(r".*(?<!\w)(?:on|after|at|when|during|bei|beim|nach|dopo)(?:\s+the)?")
_EDGES = " ,;:&()-–—+/"


class MarkAndWords(NamedTuple):
    """A mark, and what is said beside it."""

    mark: Mark
    words: str


def may_be_mark(text: str) -> bool:
    """Whether a text without signs that stand in for others may be a mark; a quick look."""
    printed = kind_of_printed_mark(text.rstrip(". ")) is not None
    return printed or PART_OF_MARK.search(text) is not None


def mark_of(text: str) -> Mark | None:
    """The mark that words are, and nothing else."""
    if (printed := kind_of_printed_mark(text.rstrip(". "))) is not None:
        return Mark(printed)
    if PART_OF_MARK.search(text) is None:
        return None
    text = text.rstrip(_OPEN_END) or text
    if (jump := _JUMP.fullmatch(text)) is not None:
        kind: MarkKind = "D.C." if "c" in jump["kind"].lower() else "D.S."
        return Mark(kind, _until(jump["until"]))
    named = next((kind for pattern, kind in _NAMED_MARKS if pattern.fullmatch(text)), None)
    return None if named is None else Mark(named)


def _until(said: str | None) -> Until:
    """Where a jump ends, by the word for it."""
    word = (said or "").lower()
    return next((end for name, end in _UNTIL.items() if word.startswith(name)), "")


def mark_and_words(text: str) -> MarkAndWords | None:
    """The mark that words say with something beside it, which stays words; None for others."""
    if PART_OF_MARK.search(text) is None:
        return None
    return (
        _one_of_codas(text)
        or _with_mark(text)
        or _led_jump(text)
        or _jump_and_more(text)
        or _with_drawn_fermata(text)
    )


_FERMATA = re.compile(r"\s*[𝄐𝄑]\s*")


def _with_drawn_fermata(text: str) -> MarkAndWords | None:
    """The sign of a fermata among words ("rit. 𝄐"), which pages draw."""
    words = _FERMATA.sub(" ", text)
    return None if words == text else MarkAndWords(Mark("fermata"), words.strip(_EDGES))


def _jump_and_more(text: str) -> MarkAndWords | None:
    """A jump and where it leads in other words ("D.S. and fade"), or what is said behind it ("D.C.
    al Fine w/o repeats"): these stay words."""
    jump = _JUMP.match(text)
    mark = None if jump is None else mark_of(jump[0])
    if jump is None or mark is None:
        return None
    more = text[jump.end() :]
    leads = jump["until"] and len(text) <= _LONGEST_WITH_MARK
    whole = not (jump[0][-1:].isalnum() and more[:1].isalnum())
    if not (leads and whole) and _AND_MORE.fullmatch(more) is None:
        return None
    return MarkAndWords(mark, more.strip(" ,&()-–"))


def _led_jump(text: str) -> MarkAndWords | None:
    """A jump that says where it ends behind other words ("D.C. senza rep. al Fine", "From the top,
    then Coda"), or after some ("On cue: D.S. al Coda").  What else is said stays words, and which
    of two signs is meant."""
    led = _LED.fullmatch(text) if len(text) <= _LONGEST_WITH_MARK else None
    if led is None:
        return None
    before, between = (led["before"] or "").strip(_EDGES), led["between"].strip()
    rest = between
    while rest and (link := _LAST_LINK.fullmatch(rest)) is not None:
        rest = (link["rest"] or "").rstrip()
    linked = rest != between
    if (rest and not linked) or _DENIES.fullmatch(rest.strip(_EDGES)):
        return None
    spelled = led["top_said"] or led["sign_said"]
    if (spelled and not linked) or (before and _WHEN_JUMPED.fullmatch(before)):
        return None
    kind: MarkKind = "D.C." if led["top"] or led["top_said"] else "D.S."
    said = (before, led["second"], rest, led["behind"])
    words = ", ".join(filter(None, ((one or "").strip(_EDGES) for one in said)))
    return MarkAndWords(Mark(kind, _until(led["until"])), words)


def _one_of_codas(text: str) -> MarkAndWords | None:
    """A mark that leads to one of several codas, whose number stays as words."""
    numbered = _NUMBERED_CODA.fullmatch(text)
    mark = None if numbered is None else mark_of(numbered["mark"])
    if numbered is None or mark is None:
        return None
    return MarkAndWords(mark, f"Coda {numbered['number']}")


def _with_mark(text: str) -> MarkAndWords | None:
    """A mark and the words said about it."""
    parts = _BESIDE_A_MARK.fullmatch(text) if len(text) <= _LONGEST_WITH_MARK else None
    if parts is None or not (parts["before"] or parts["behind"]):
        return None
    mark = mark_of(parts["mark"])
    words = " ".join(filter(None, (parts["before"], parts["behind"]))).strip(" ,():–-")
    return None if mark is None else MarkAndWords(mark, words)
