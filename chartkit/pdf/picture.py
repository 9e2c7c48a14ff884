"""Pages as pictures: the PDF's own pages drawn by pdfium."""

from io import BytesIO

_POINTS_PER_INCH = 72


def page_pictures(pdf: bytes, dots_per_inch: int = 220) -> list[bytes]:
    """Every page of a PDF as a PNG file, sharp on a tablet of today (a 3:4 page is 1760 dots
    wide).  The same PDF gives the same bytes."""
    import pypdfium2
    from PIL.PngImagePlugin import PngInfo

    document = pypdfium2.PdfDocument(pdf)
    pictures = []
    about = PngInfo()
    about.add_text("Software", "chartkit")
    try:
        for page in document:
            drawn = page.render(scale=dots_per_inch / _POINTS_PER_INCH, grayscale=True)
            out = BytesIO()
            drawn.to_pil().save(out, "PNG", optimize=True, pnginfo=about)
            pictures.append(out.getvalue())
    finally:
        document.close()
    return pictures
