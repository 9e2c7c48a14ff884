"""The MusicXML 4.0 schema, as it ships in the package musicxml (W3C Community Group report)."""

from functools import cache
from importlib.util import find_spec
from pathlib import Path

from lxml import etree

_ATTRIBUTES = {
    "xml.xsd": ("http://www.w3.org/XML/1998/namespace", ("lang", "space", "base", "id")),
    "xlink.xsd": (
        "http://www.w3.org/1999/xlink",
        ("href", "type", "role", "title", "show", "actuate"),
    ),
}


def musicxml_schema_text() -> bytes:
    """The text of the schema."""
    spec = find_spec("musicxml")
    assert spec is not None
    assert spec.submodule_search_locations is not None
    folder = Path(spec.submodule_search_locations[0])
    return (folder / "generate_classes" / "musicxml_4_0.xsd").read_bytes()


class _Imports(etree.Resolver):  # type: ignore[misc]
    """Answers the schema's two imports, of ``xml:`` and ``xlink:`` attributes, with schemas
    that declare these attributes as plain text; nothing is fetched."""

    def resolve(self, url: str, public_id: str, context: object) -> object:
        namespace, names = _ATTRIBUTES[url.rpartition("/")[2]]
        attributes = "".join(f'<xs:attribute name="{name}" type="xs:string"/>' for name in names)
        text = (
            f'<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" '
            f'targetNamespace="{namespace}">{attributes}</xs:schema>'
        )
        return self.resolve_string(text, context)


@cache
def musicxml_schema() -> etree.XMLSchema:
    """The schema, ready to validate."""
    parser = etree.XMLParser(no_network=True)
    parser.resolvers.add(_Imports())
    return etree.XMLSchema(etree.fromstring(musicxml_schema_text(), parser))


def schema_errors(document: bytes) -> list[str]:
    """What the schema has against a document, one line each."""
    schema = musicxml_schema()
    schema.validate(etree.fromstring(document))
    return [f"{error.line}: {error.message}" for error in schema.error_log]
