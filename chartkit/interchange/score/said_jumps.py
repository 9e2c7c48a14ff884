"""Jumps in plain words, in several languages: "Von vorn bis Ende", "back to the sign".

How musicians word them: common practice, no source.
"""

from collections.abc import Sequence

from chartkit.chart.marks import Mark, MarkKind, Until, printed_mark
from chartkit.interchange.compiled_later import CompiledLater
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.events import Measure

_TOP = (
    r"(?:(?:go|jump)\s+)?(?:back\s+|again\s+|return\s+|repeat\s+)?(?:to|from)\s+(?:the\s+)?"
    r"(?:very\s+)?(?:top|beginning|start)|"
    r"(?:noch\s*(?:ein)?mal\s+|wieder\s+|alles\s+|wiederholung\s+)?(?:von|ab)\s+"
    r"(?:vorne?|anfang|beginn)|(?:zurück\s+)?(?:zum|an\s+den)\s+anfang|"
    r"(?:reprise\s+|retour\s+|reprendre\s+)?(?:au|du|depuis\s+le)\s+début|"
    r"(?:volver\s+)?(?:desde\s+el|al)\s+(?:principio|comienzo|inicio)|"
    r"(?:voltar\s+)?(?:desde\s+o|do|ao)\s+(?:princípio|começo|início)|"
    r"(?:ripetere\s+)?(?:dall['’]\s?|all['’]\s?|dal\s+|al\s+)inizio|"
    r"(?:terug\s+)?(?:naar\s+het|van(?:af)?\s+het)\s+begin|van\s+voren\s+af(?:\s+aan)?|"
    r"från\s+början|fra\s+(?:begynnelsen|begyndelsen|starten)|od\s+początku|od\s+začátku"
)
_SIGN_NAME = r"(?:sign|segno|zeichen|signe|signo|señal|sinal|segnale|teken|tecknet|tegnet|𝄋|%)"
_SIGN = (
    r"(?:(?:go|jump)\s+)?(?:back\s+|again\s+|return\s+|repeat\s+|zurück\s+|noch\s*(?:ein)?mal\s+|"
    r"wiederholung\s+|retour\s+|reprise\s+|reprendre\s+|volver\s+|voltar\s+|terug\s+)?"
    r"(?:from|to|vom|ab|zum|beim|au|du|desde|hasta|al|a|la|do|da|dal|naar|van(?:af)?|från|fra)\s+"
    rf"(?:the\s+|dem\s+|la\s+|el\s+|o\s+|het\s+)?{_SIGN_NAME}"
)
_TO = (
    r"[\s,–-]*(?:then\s+|and\s+|und\s+|dann\s+)?"
    r"(?:to|until|till|bis|al|fino\s+(?:a|al)|hasta|jusqu['’]\s?(?:à|au)|até|tot|naar|till|til|a)\s+"
    r"(?:zum\s+|zur\s+|zu\s+|the\s+|el\s+|la\s+|le\s+|het\s+|o\s+|al\s+)?"
)
_JUMP = CompiledLater(
    rf"[(\[]?(?:(?P<top>{_TOP})|(?P<sign>{_SIGN}))"
    rf"(?:{_TO}(?:(?P<fine>fine|fin|fim|ende|end|schluss|final|einde|slut|koniec|konec)|"
    r"(?P<coda>coda|kopf|𝄌)))?[.!)\]\s]*"
)
_ENDS = CompiledLater(r"(?:al\s+)?(?:fine|fin|fim|ende|the\s+end|end|schluss|einde|slut)[.!]?")
"""What is typed where such a jump ends; over the last measure it says no more."""


def with_said_jumps(measures: Sequence[Measure], findings: Findings) -> list[Measure]:
    """The measures with jumps that are said in plain words, behind the first measure, in the place
    of these words, with a finding.

    A jump to the end leads to the Fine if one is marked before it, else to the end of the song.
    """
    made = list(measures)
    for at, measure in enumerate(measures):
        for said in measure.instructions if at else ():
            jump = _JUMP.fullmatch(said.text)
            if jump is None or any(one.until or one.kind == "D.C." for one in measure.marks):
                continue
            until: Until = "coda" if jump["coda"] else ""
            if jump["fine"] and any(map(_ends, measures[:at])):
                until = "fine"
            kind: MarkKind = "D.C." if jump["top"] else "D.S."
            mark = Mark(kind, until)
            others = tuple(one for one in made[at].instructions if one is not said)
            marks = (*(one for one in made[at].marks if one.kind != kind), mark)
            made[at] = made[at]._replace(instructions=others, marks=marks)
            findings.guess(
                "jump-in-words",
                f'the words "{said.text}" are read as {printed_mark(mark)}',
                f"measure {measure.number}",
            )
    return made


def _ends(measure: Measure) -> bool:
    return any(mark.kind == "fine" for mark in measure.marks) or any(
        _ENDS.fullmatch(said.text) for said in measure.instructions
    )
