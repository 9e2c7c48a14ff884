"""PDFs that are made to harm: small ones that swell, large ones of one thing."""

from collections.abc import Sequence

_FONT = b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>"
_USES_FONT = b"/Font<</F1 5 0 R>>"


def document(objects: Sequence[bytes]) -> bytes:
    """A PDF of objects, the catalog first."""
    out, places = b"%PDF-1.7\n", []
    for number, content in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, content)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    head = b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    tail = b"trailer\n<</Size %d /Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n"
    return out + head + table + tail % (len(objects) + 1, len(out))


def stream(content: bytes, entries: bytes = b"") -> bytes:
    """A stream with entries of its dictionary."""
    return b"<</Length %d %s>>\nstream\n%s\nendstream" % (len(content), entries, content)


def page(
    content: bytes, entries: bytes = b"", resources: bytes = _USES_FONT, more: Sequence[bytes] = ()
) -> bytes:
    """A PDF of one page with that content."""
    return document(
        [
            b"<</Type/Catalog/Pages 2 0 R>>",
            b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
            b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 600 800]/Contents 4 0 R/Resources<<%s>>>>"
            % resources,
            stream(content, entries),
            _FONT,
            *more,
        ]
    )


def shown(text: bytes) -> bytes:
    """The operators that show a text."""
    return b"BT /F1 12 Tf 10 700 Td (%s) Tj ET" % text


def nested_forms(levels: int = 9, each: int = 12) -> bytes:
    """Forms each of which shows the next one a dozen times."""
    forms = []
    for level in range(levels):
        last = level == levels - 1
        content = shown(b"C") if last else b"/X%d Do " % (level + 1) * each
        inner = b"/XObject<</X%d %d 0 R>>" % (level + 1, 7 + level)
        forms.append(
            stream(
                content,
                b"/Type/XObject/Subtype/Form/BBox[0 0 600 800]"
                b"/Resources<<%s%s>>" % (_USES_FONT, inner),
            )
        )
    return page(b"/X0 Do", resources=_USES_FONT + b"/XObject<</X0 6 0 R>>", more=forms)


HOSTILE = {
    "forms nested in forms": nested_forms,
    "one string": lambda: page(shown(b"C " * 30_000)),
    "one long string": lambda: page(shown(b"C " * 500_000)),
    "8 MB of ASCII85": lambda: page(b"z" * 8_000_000 + b"~>", b"/Filter/ASCII85Decode"),
    "arrays in arrays": lambda: page(b"[" * 2_000_000),
    "pieces on one line": lambda: page(b"BT /F1 9 Tf 1 700 Td " + b"(C) Tj 1 0 Td " * 39_000),
}
"""What each is, and how it is made."""
