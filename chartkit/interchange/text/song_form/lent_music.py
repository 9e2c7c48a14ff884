"""Sections of any name with the music of another, by what stands behind the name: an equals sign,
"over", or a colon and "chords" ("Dialogue over verse chords (pp)", "Oboe: V1 chords, twice").

Source of the forms and words: common practice, no source.
"""

import re

from chartkit.interchange.text.song_form.steps import KnownNames, Step
from chartkit.interchange.text.vocabulary.form_words import WORDS_FOR_CHORDS
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.times_played import count_among, times_of

_OVER = r"over|över|über|sobre|sopra|sur|su|sul(?:l[aoe])?|over de|nad|przez|em cima d[aeo]"
_THE = r"(?:(?:the|an?|de[nrm]?|het|die|das|les?|la|el|il|lo|los|las|os?|gli)\s+|l['’])?"
_CHORDS = rf"(?:{WORDS_FOR_CHORDS}|akordy)"
_NAME = r"(?P<name>[^\W\d_][\w.’'-]*(?:[ -][^\W\d_][\w.’'-]*){0,3}?)"
_OTHER = r"(?P<other>[^\W\d_][^,;:=()|]{0,24}?)"
_SAID = r"(?:\s*[,;(]\s*(?P<said>.{1,60}?)\)?|\s+(?P<times>\S{1,6}(?:\s\S{1,6})?))?[.!]?"
_FORMS = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        rf"{_NAME}\s*=\s*{_THE}{_OTHER}(?:\s+{_CHORDS})?{_SAID}",
        rf"{_NAME}\s*(?::|\s[-–—])\s*{_THE}{_OTHER}\s+{_CHORDS}{_SAID}",
        rf"{_NAME}\s*(?::|\s[-–—])\s*{_CHORDS}\s+(?:of|from|der|des|vom|von|du|de|de la|del|"
        rf"della|da|do|van|från)\s+{_THE}{_OTHER}{_SAID}",
        rf"{_NAME}(?:\s+(?P<count>[x×]\s?\d|\d\s?[x×]))?\s*\({_THE}{_OTHER}\s+{_CHORDS}\){_SAID}",
        rf"{_NAME}\s+(?:{_OVER})\s+{_THE}{_OTHER}(?:\s+{_CHORDS})?{_SAID}",
    )
)
_LEADS_ON = re.compile(
    r"(?:and|then|next|und|dann|et|puis|y|luego|después|e|poi|depois|en|dan|daarna|och|sedan|og|så|"
    r"potem|the|a|an)\s",
    re.IGNORECASE,
)
_LONGEST = 100


def with_lent_music(text: str, known: KnownNames) -> Step | None:
    """The step of a section that no other line names, with the music of one above that a text says
    it has; None for any other text."""
    text = text.strip()
    if len(text) > _LONGEST:
        return None
    for form in _FORMS:
        match = form.fullmatch(text)
        other = known.meant_by(match["other"].strip()) if match is not None else ""
        if match is None or not _is_above(other, known):
            continue
        found = match.groupdict()
        name, counted = match["name"], match["times"] or found.get("count") or ""
        if (counted and not times_of(counted)) or any(map(times_of, name.split())):
            continue
        said = match["said"] or ""
        if _LEADS_ON.match(name) or _LEADS_ON.match(said):
            return None  # a sentence of several steps
        if section_key(name)[0] in known.kinds or known.all.end_at(name) > 0:
            return None  # it is one that is known by its name
        times, said = (times_of(said), "") if times_of(said) else count_among(said)
        times = max(1, times, times_of(counted))
        return Step(name, text.find(name), times, other, "", (said,) if said else ())
    return None


def _is_above(other: str, known: KnownNames) -> bool:
    """Whether a section of a name stands above."""
    return bool(other) and (other in known.letters or section_key(other)[0] in known.kinds)
