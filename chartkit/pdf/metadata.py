"""The metadata of a file in XML: title, writer, language, and that it is accessible
(XMP, ISO 16684-1; PDF/UA-1, ISO 14289-1, clause 5)."""

from html import escape

from chartkit.pdf.objects import PdfFile

_PACKET = """\
<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{subject}</rdf:li></rdf:Alt></dc:description>
<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
<xmp:CreatorTool>chartkit</xmp:CreatorTool>{accessible}
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>"""
_ACCESSIBLE = "\n<pdfuaid:part>1</pdfuaid:part>"


def add_metadata(
    title: str, author: str, subject: str, language: str, accessible: bool, file: PdfFile
) -> int:
    """The metadata of a file, added to it: its number.

    ``accessible`` claims PDF/UA-1: everything is tagged or an artifact, in reading order.
    """
    packet = _PACKET.format(
        title=_plain(title),
        author=_plain(author),
        subject=_plain(subject),
        language=_plain(language),
        accessible=_ACCESSIBLE if accessible else "",
    ).encode("utf-8", "replace")
    head = f"<< /Type /Metadata /Subtype /XML /Length {len(packet)} >>\nstream\n".encode()
    return file.add(head + packet + b"\nendstream")


def _plain(text: str) -> str:
    """The text as XML may hold it: no control characters, no halves of surrogates."""
    plain = "".join(c for c in text if c.isprintable()).encode("utf-8", "ignore").decode()
    return escape(plain, quote=False)
