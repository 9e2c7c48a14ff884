"""How far letters advance in fonts of all kinds.

Source: ISO 32000-1, 9.6.2 and 9.6.5 (simple fonts and fonts of drawings), 9.7.4.3 (widths of
composite fonts), 9.10.3 (ToUnicode).
"""

from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    FloatObject,
    NameObject,
    NumberObject,
)

from chartkit.interchange.pdf_text.font_widths import FontWidths
from tests.each import each


def _stream(text: str) -> DecodedStreamObject:
    stream = DecodedStreamObject()
    stream.set_data(text.encode())
    return stream


def _array(*numbers: object) -> ArrayObject:
    return ArrayObject(
        _array(*one) if isinstance(one, list) else FloatObject(one)  # type: ignore[arg-type]
        for one in numbers
    )


def _font(kind: str, **values: object) -> DictionaryObject:
    font = DictionaryObject({NameObject("/Subtype"): NameObject(f"/{kind}")})
    font.update({NameObject(f"/{name}"): value for name, value in values.items()})
    return font


_TABLE = (
    "2 beginbfchar <0003> <0020> <0041> <266D> endbfchar "
    "1 beginbfrange <0005> <0006> <0041> endbfrange"
)
_LISTED = "1 beginbfrange <0005> <0006> [<0041> <0042>] endbfrange"


def _composite(table: str, widths: ArrayObject) -> DictionaryObject:
    inner = _font("CIDFontType2", DW=NumberObject(500), W=widths)
    return _font("Type0", DescendantFonts=ArrayObject([inner]), ToUnicode=_stream(table))


FONTS = {
    "composite": (_composite(_TABLE, _array(5, [600, 700], 65, 65, 250)), "AB♭ ", "6725"),
    "composite, letters listed": (_composite(_LISTED, _array(5, 6, 800)), "AB", "88"),
    "simple": (_font("TrueType", FirstChar=NumberObject(65), Widths=_array(600, 300)), "AB", "63"),
    "simple with a table": (
        _font(
            "TrueType",
            FirstChar=NumberObject(5),
            Widths=_array(600, 300),
            ToUnicode=_stream(_TABLE.replace("<00", "<")),
        ),
        "AB",
        "63",
    ),
    "drawings": (
        _font(
            "Type3",
            FirstChar=NumberObject(65),
            Widths=_array(1200, 600),
            FontMatrix=_array(0.0005, 0, 0, 0.0005, 0, 0),
        ),
        "AB",
        "63",
    ),
    "no widths": (_font("Type1", BaseFont=NameObject("/Helvetica")), "mi", "82"),
}


@each("name", sorted(FONTS))
def test_advances(name: str) -> None:
    """Tenths of an em, by the font's own widths, or those of a font that every viewer has."""
    font, letters, tenths = FONTS[name]
    widths = FontWidths()
    assert [int(10 * widths.advance_of(letter, font) + 0.01) for letter in letters] == [
        int(tenth) for tenth in tenths
    ]


def test_a_blank_by_its_code() -> None:
    """A text begins with a blank where its first code is one; any text may whose font is not
    known."""
    font, widths = FONTS["composite"][0], FontWidths()
    assert widths.is_blank(b"\x00\x03\x00\x05", font)
    assert not widths.is_blank(b"\x00\x05\x00\x03", font)
    assert widths.is_blank(b"", font)
    assert widths.is_blank(b"A", None)


@each(
    "table", ["", "beginbfchar <> endbfchar", "1 beginbfrange <1> <FFFFFF> <41> endbfrange", "<<<"]
)
def test_tables_that_do_not_read(table: str) -> None:
    """A table from elsewhere may be wrong in any way; letters are then measured by their kind."""
    font = _composite(table, _array(5, [600], 7))
    assert 0 < FontWidths().advance_of("m", font) < 3
