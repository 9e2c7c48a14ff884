"""XML to a tree of elements, for input that is not trusted.

defusedxml refuses entity declarations and external entities, and accepts the DOCTYPE that
every MusicXML file carries.  It does not mind nesting, so depth is counted here.
"""

from typing import Any
from xml.etree.ElementTree import Element, ParseError, TreeBuilder

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import DefusedXMLParser

from chartkit.interchange.taken import Refused

LARGEST_SCORE_BYTES = 16_000_000
"""A lead sheet has a tenth of a megabyte, an orchestral score ten; our limit."""
MOST_DEPTH = 64
"""A score nests some twelve elements deep; our limit, no source."""


def _capped(expat: Any, builder: TreeBuilder) -> None:
    """Lets the parser hand elements straight to the builder, up to a depth no score has.

    Namespaces are dropped.  Entities stay refused: those handlers are left alone.
    """
    depth = 0
    open_one, close_one = builder.start, builder.end

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > MOST_DEPTH:
            raise Refused(f"elements are nested more than {MOST_DEPTH} deep; a score's are not")
        open_one(tag.rpartition("}")[2] if "}" in tag else tag, attributes)

    def end(tag: str) -> None:
        nonlocal depth
        depth -= 1
        close_one(tag.rpartition("}")[2] if "}" in tag else tag)

    expat.ordered_attributes = False
    expat.StartElementHandler, expat.EndElementHandler = start, end


def parsed_tree(data: bytes) -> Element:
    """The root element.  Raises Refused, with the line, for what is not well-formed or unsafe."""
    builder = TreeBuilder()
    parser: Any = DefusedXMLParser(target=builder)
    _capped(parser.parser, builder)
    try:
        parser.feed(data)
        root: Element = parser.close()
    except ParseError as reason:
        line, column = reason.position
        what = str(reason).partition(":")[0]
        raise Refused(f"{line}:{column + 1}: the XML is not well formed: {what}") from None
    except DefusedXmlException:
        raise Refused("the XML declares or uses its own entities, which no score needs") from None
    except (ValueError, LookupError, TypeError, AssertionError) as reason:
        raise Refused(f"the XML cannot be read: {' '.join(str(reason).split())[:80]}") from None
    return root
