"""Parses untrusted XML into a tree of elements.

defusedxml refuses entity declarations and external entities, and accepts the DOCTYPE that
every MusicXML file carries.  It does not limit nesting, so depth is counted here.
"""

import re
from fractions import Fraction
from itertools import chain
from typing import Any
from xml.etree.ElementTree import Element, ParseError, TreeBuilder

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import DefusedXMLParser

from chartkit.interchange.intake_result import Refused
from chartkit.theory.note import LETTERS

_NUMBER = re.compile(r"\s*([+-]?\d{1,9})(?:\.(\d{0,9}))?\d*\s*")
_SHORT = 10
_MOST_ALTERATIONS = 2


def text_of(element: Element, path: str) -> str:
    """The text of a child, without white space around it; empty where there is none."""
    return (element.findtext(path) or "").strip()


def number(text: str | None, default: Fraction | int = 0) -> Fraction:
    """The number a text holds, exactly; the default for anything else, however long."""
    digits = _NUMBER.fullmatch(text or "")
    if digits is None:
        return Fraction(default)
    whole, part = digits[1], digits[2] or ""
    return Fraction(int(whole + part), 10 ** len(part)) if part else Fraction(int(whole))


def whole_number(text: str | None, default: int = 0) -> int:
    """The number rounded to a whole one."""
    if text is None:
        return default
    if len(text) < _SHORT and text.removeprefix("-").isdecimal():
        return int(text)
    return round(number(text, default))


def is_plain_alteration(text: str) -> bool:
    """Whether an alteration is a whole number of half steps that a chart can write."""
    half_steps = number(text, _MOST_ALTERATIONS + 1)
    return half_steps.denominator == 1 and abs(half_steps) <= _MOST_ALTERATIONS


def note_of(step: str, alter: str | None) -> int | None:
    """The place on the line of fifths of a step and its alteration in half steps.

    None for what is no step.  Quarter tones go to the nearest half step, and more than two
    alterations count as two.
    """
    if len(step) != 1 or step not in LETTERS:
        return None
    signs = max(-_MOST_ALTERATIONS, min(_MOST_ALTERATIONS, whole_number(alter)))
    return LETTERS.index(step) - 1 + 7 * signs


LARGEST_SCORE_BYTES = 16_000_000
"""A lead sheet has a tenth of a megabyte, an orchestral score ten; our limit."""
MOST_ELEMENTS = 1_500_000
"""Ours, so that the tree of any score stays within 400 MB; the largest real scores have half."""
_FEWEST_BYTES = 4
"""An element or an attribute takes no less: ``<a/>``."""
MOST_DEPTH = 64
"""A score nests some twelve elements deep; our limit, no source."""


def _refuse_depth(root: Element) -> None:
    """Raises Refused for a tree deeper than any score."""
    parents = [root]
    for _ in range(MOST_DEPTH - 1):
        parents = list(filter(len, chain.from_iterable(parents)))
    if parents:
        raise Refused(f"elements are nested more than {MOST_DEPTH} deep; a score's are not")


def _drop_namespaces(root: Element) -> None:
    """Makes the name of each element the one it has in its own namespace."""
    for element in root.iter():
        element.tag = element.tag.rpartition("}")[2]


def _most_elements(data: bytes) -> int:
    """The most elements and attributes that a document may have."""
    return data.count(b"<") - data.count(b"</") + data.count(b"=")


class NotWellFormed(Refused):
    """XML that breaks off or cannot be parsed."""


def parsed_tree(data: bytes) -> Element:
    """The root element.  Raises Refused, with the line, for what is not well-formed or unsafe."""
    if len(data) > _FEWEST_BYTES * MOST_ELEMENTS and _most_elements(data) > MOST_ELEMENTS:
        raise Refused(f"more than {MOST_ELEMENTS:,} elements and attributes; a score has fewer")
    builder = TreeBuilder()
    parser: Any = DefusedXMLParser(target=builder)
    expat = parser.parser
    expat.ordered_attributes = False
    # Elements go straight to the builder; the handlers that refuse entities are left alone.
    expat.StartElementHandler, expat.EndElementHandler = builder.start, builder.end
    try:
        parser.feed(data)
        root: Element = parser.close()
    except ParseError as reason:
        line, column = reason.position
        what = str(reason).partition(":")[0]
        raise NotWellFormed(f"{line}:{column + 1}: the XML is not well formed: {what}") from None
    except DefusedXmlException:
        raise Refused("the XML declares or uses its own entities, which no score needs") from None
    except (ValueError, LookupError, TypeError, AssertionError) as reason:
        raise Refused(f"the XML cannot be read: {' '.join(str(reason).split())[:80]}") from None
    _refuse_depth(root)
    if b"xmlns" in data or b"\0" in data:  # in UTF-16 it cannot be seen so simply
        _drop_namespaces(root)
    return root
