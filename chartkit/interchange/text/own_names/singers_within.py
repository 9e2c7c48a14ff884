"""Lines within a block that say who sings there and name no section, though they stand as names do:
"Everyone:" between two rows of a refrain, "M: Who left a lamp" over "F: I left it".
"""

import re
from collections.abc import Sequence

from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.name_shapes import KNOWN, NameShape
from chartkit.interchange.text.own_names.name_evidence import NameEvidence
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.singer_words import is_doubtful_singer, is_singer

_INITIAL = re.compile(r"[^\W\d_]:\s+\S")
_MOST_ABOVE = 40
"""In so many lines above the name of a block is looked for; few blocks are longer (ours)."""


def is_singer_alone(shape: NameShape) -> bool:
    """Whether a name alone says who sings, and hardly anything else."""
    if shape.rest.strip(" :"):
        return False
    return is_singer(shape.name) and not is_doubtful_singer(shape.name)


def labels_within(lines: Sequence[Line], evidence: NameEvidence) -> set[int]:
    """The numbers of the lines within blocks that are typed as others that stand right under the
    names of sections and say who sings there ("PIET:" under "Verse 1", and "NUALA:" further
    below)."""
    found = set[str]()
    for at in range(1, len(evidence.shapes)):
        if _is_name_alone(evidence, at - 1):
            found.add(_label_of(evidence, at))
    found.discard("")
    within = (at for at in range(len(lines) if found else 0) if evidence.is_within(at))
    return {lines[at].number for at in within if _label_of(evidence, at) in found}


def says_who_sings(evidence: NameEvidence, at: int, is_chords: IsChords) -> bool:
    """Whether a line below others in its block says who sings: before words behind a colon, by a
    word for singers or by an initial below a line with another; or alone, in the block of a section
    that has its name."""
    shape = evidence.shapes[at]
    if shape is None or shape.likeness in KNOWN or at == 0 or not evidence.texts[at - 1]:
        return False
    if shape.sign == ":" and shape.rest and not is_chords(shape.rest):
        beside = _INITIAL.match(evidence.texts[at - 1])
        return is_singer(shape.name) or (len(shape.name) == 1 and beside is not None)
    return not shape.rest and _sings_alone(evidence, at, shape)


def _sings_alone(evidence: NameEvidence, at: int, shape: NameShape) -> bool:
    """Whether a name alone within a block is that of a singer: by its words, or as the first line
    of the block has such a name too."""
    top = at - 1
    while top and evidence.texts[top - 1] and at - top < _MOST_ABOVE:
        top -= 1
    first = top + 1
    if first >= at or not _is_name_alone(evidence, top):
        return False
    if is_singer_alone(shape):
        return True
    one = evidence.shapes[first]
    if one is None or one.rest or one.likeness in KNOWN or evidence.rows[first]:
        return False
    return one.letters == shape.letters and evidence.rows[first + 1]


def _is_name_alone(evidence: NameEvidence, at: int) -> bool:
    """Whether a line is a name that musicians use, alone."""
    shape = evidence.shapes[at]
    return shape is not None and shape.likeness in KNOWN and not shape.rest


def _label_of(evidence: NameEvidence, at: int) -> str:
    """How a name alone before a colon is typed that nobody uses for a section; empty for others."""
    shape = evidence.shapes[at]
    alone = shape is not None and not shape.rest and evidence.texts[at].endswith(":")
    return shape.letters if shape is not None and alone and shape.likeness not in KNOWN else ""
