"""Leaves out what those who copied a sheet say of the copy: the notes of a copyist, from whom the
sheet was copied, and to whom it belongs.

Source of the words, in the languages in which sheets are often written: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, has_no_words, is_empty
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.raw_text.song_lines import is_of_a_song
from chartkit.interchange.wording import one_line

_WHO = (
    r"(?:copyist|copier|typist|transcriber|editor|translator|arranger|compiler|scribe|librarian|"
    r"printer|publisher|collector|secretary|"
    r"kopist|abschreiber|schreiber|setzer|herausgeber|übersetzer|bearbeiter|redaktion|red\.|verf\.|"
    r"copiste|transcripteur|traducteur|rédacteur|arrangeur|éditeur|"
    r"copista|transcriptor|traductor|editor|arreglista|trascrittore|curatore|traduttore|redattore|"
    r"kopiist|overschrijver|redactie|vertaler|avskrivare|kopist|utgivare|oversetter|avskriver|"
    r"kopisty|redakcji|tłumacza)"
)
_NOTE = (
    r"(?:notes?|remarks?|comments?|anmerkung(?:en)?|anm\.|bemerkung(?:en)?|hinweis(?:e)?|notiz|"
    r"remarques?|nota|notas|noot|opmerking|opm\.|anmärkning|merknad|uwaga|przypis)"
)
_OF = r"(?:of|by|from|des|der|vom|von|d\.|du|de la|de l['’]|del|dell[ao]|do|da|van de|v\.\s?d\.|av)"
_BEGINS = re.compile(
    rf"[\s(\[*]*(?:(?:the\s+)?{_WHO}(?:[’'](?:s|n)?|(?:n?s)[’']?)?[\s-]+{_NOTE}|"
    rf"{_NOTE}\s+(?:{_OF}\s*(?:the\s+)?)?{_WHO}(?:e?[ns]|s)?|"
    r"n\.\s?d\.\s?(?:l\.?\s?r|[tcer])\.?|n\.\s?del?\s(?:[tce]\.))\s*[:.–—-]+\s*(?=\S)",
    re.IGNORECASE,
)
"""How somebody's note on the copy begins."""
_ORIGIN = re.compile(
    r"[\s(\[*]*(?:(?:(?:re-?)?(?:copied|typed)|transcribed|written out)"
    r"(?:\s(?:out|up|in full))?(?:\s+by hand)?\s+(?:by|from|off|after|for|on|in|\d)|"
    r"(?:abgeschrieben|abgetippt|kopiert|übertragen)\s+(?:von|aus|nach|vom|am)|"
    r"(?:recopié|copié|transcrit|tapé|dactylographié)e?\s+(?:par|de|d['’]après|à)|"
    r"(?:copiado|transcrito|pasado a máquina|mecanografiado)\s+(?:por|de|del)|"
    r"(?:copiato|ricopiato|trascritto|battuto a macchina)\s+(?:da|dal|dalla)|"
    r"(?:overgeschreven|overgetypt)\s+(?:door|van|uit)|"
    r"(?:avskrivet|renskrivet|avskrevet)\s+(?:av|från|fra)|"
    r"(?:the\s+)?(?:property|eigentum|propriété|propiedad|proprietà)\s+"
    r"(?:of|des|der|von|du|de|del|della)\b|"
    r"please return\s+(?:this\s.{0,30}|(?:it|flat|clean)\b.{0,20})?to\b|"
    r"(?:not to be|do not|please do not)\s+(?:copied|copy|photocopy|remove|removed|fold|folded)\b)"
    r"\s*\S.*",
    re.IGNORECASE,
)
"""From where a sheet was copied, by whom, and to whom it belongs."""
_NAMED = re.compile(r"(?<=\S\s)[^\W_a-z]")
"""A name or a number within a line, which right below a section's name no line of words has."""
_WHOLE = re.compile(r".*[.!?…][)\]*\s]*|.*\s{3,}\S.*")
_MOST_LINES = 4
"""The most lines that a note goes on over (ours)."""
_SIGNS = re.compile("[–—:.-]")
"""One of these stands wherever ``_BEGINS`` fits."""
_LONGEST = 300


def without_copy_notes(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines without notes on the copy, which are reported; a note goes on over the lines right
    below until its sentence ends."""
    result = list(lines)
    begun = False
    for at, line in enumerate(lines):
        text = line.text if len(line.text) <= _LONGEST else ""
        begun = begun or is_of_a_song(text)
        if not result[at].text.strip() or not _is_note(lines, result, at, begun):
            continue
        for gone in range(at, _end_of_note(lines, at)):
            findings.leave_out(
                "copy-note",
                f'a note on the copy: "{one_line(lines[gone].text)}"',
                lines[gone].place(),
            )
            result[gone] = replace(lines[gone], text="", columns=None)
    return result


def _is_note(lines: Sequence[Line], result: Sequence[Line], at: int, begun: bool) -> bool:
    """Whether a note begins on a line: by its name, or, in the song, by the words of one that stand
    apart from what is above."""
    text = lines[at].text
    if len(text) > _LONGEST:
        return False
    if _SIGNS.search(text) is not None and _BEGINS.match(text) is not None:
        return True
    if not begun or not has_no_words(result, at - 1) or _ORIGIN.fullmatch(text) is None:
        return False
    above = next((line.text for line in reversed(result[:at]) if line.text.strip()), "")
    return heading_of(above) is None or _NAMED.search(text) is not None


def _end_of_note(lines: Sequence[Line], at: int) -> int:
    """Behind the last line of a note that begins on a line: where its sentence ends, or its
    block, if that is the last one."""
    text = lines[at].text
    begins = _BEGINS.match(text)
    hangs = begins.end() if begins is not None else len(text)
    end = at + 1
    while end < len(lines) and not is_empty(lines, end):
        end += 1
    last = end - at <= _MOST_LINES and not any(line.text.strip() for line in lines[end:])
    if last and not any(is_of_a_song(line.text) for line in lines[at:end]):
        return end
    end = at + 1
    while end < len(lines) and end - at < _MOST_LINES and not is_empty(lines, end):
        below = lines[end].text
        hung = len(below) - len(below.lstrip()) >= hangs
        if is_of_a_song(below) or not (hung or _WHOLE.fullmatch(lines[end - 1].text) is None):
            break
        end += 1
    return end
