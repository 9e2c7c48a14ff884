"""The structure of a document: what is a title, a heading, a line of text, in reading order.

Whoever has pages read aloud gets headings to go by, and no running lines (ISO 32000-1, 14.7
and 14.8).
"""

from collections.abc import Sequence

from chartkit.pdf.commands import FORM_LINE, NOTE, ReadLine
from chartkit.pdf.objects import PdfFile, text_string


def add_structure(
    pages: Sequence[int], read: Sequence[Sequence[ReadLine]], language: str, file: PdfFile
) -> int:
    """The root of the structure, added to a file: its number.

    ``read`` holds the marked lines of each page.
    """
    root, whole, parents = file.reserve(), file.reserve(), file.reserve()
    lines = [
        [
            file.add(
                f"<< /S /{line.tag} /P {whole} 0 R /Pg {page} 0 R /K {i}{_spoken(line)} >>".encode()
            )
            for i, line in enumerate(on_page)
        ]
        for page, on_page in zip(pages, read, strict=True)
    ]
    kids = " ".join(f"{number} 0 R" for on_page in lines for number in on_page)
    file.put(whole, f"<< /S /Document /P {root} 0 R /Lang {language} /K [{kids}] >>")
    numbers = " ".join(
        f"{i} [{' '.join(f'{number} 0 R' for number in on_page)}]"
        for i, on_page in enumerate(lines)
    )
    file.put(parents, f"<< /Nums [{numbers}] >>")
    file.put(
        root,
        f"<< /Type /StructTreeRoot /K [{whole} 0 R] /ParentTree {parents} 0 R "
        f"/ParentTreeNextKey {len(lines)} /RoleMap << /{FORM_LINE} /P /{NOTE} /P >> >>",
    )
    return root


def _spoken(line: ReadLine) -> str:
    return f" /ActualText {text_string(line.text)}" if line.text else ""
