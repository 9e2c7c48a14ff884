"""A PDF file written object by object (ISO 32000-1, chapter 7).

Objects without a stream of their own are packed together and deflated (7.5.7), and so is the table
of where everything stands (7.5.8).  Written objects are freed, so that a file may have any number
of pages: only eight bytes are kept for each object.

No library: those at hand parse pages again to bind them.
"""

import sys
import zlib
from array import array
from hashlib import md5
from typing import BinaryIO

_IN_A_PACK = 200
"""How many objects are packed together: few enough to unpack at once."""
_FREE, _PLAIN, _PACKED = 0, 1, 2
_PLACE_BITS, _INDEX_BITS = 40, 16
_ROWS_AT_ONCE = 4096


def stream_object(content: bytes, more: str = "") -> bytes:
    """An object with a stream, deflated."""
    return deflated_object(zlib.compress(content), more)


def deflated_object(deflated: bytes, more: str = "") -> bytes:
    """An object with a stream that is deflated already."""
    head = f"<< /Filter /FlateDecode /Length {len(deflated)} {more}>>\nstream\n".encode()
    return head + deflated + b"\nendstream"


def text_string(text: str) -> str:
    """A text as PDF holds it outside pages: UTF-16 in hexadecimal digits."""
    return "<FEFF" + text.encode("utf-16-be", "replace").hex().upper() + ">"


class PdfFile:
    """Objects by number, written as they come.  The same calls give the same bytes."""

    def __init__(self, out: BinaryIO) -> None:
        self._out = out
        self._at = 0
        # It names the file and keeps no secret.
        self._digest = md5(usedforsecurity=False)
        self._places = array("Q")
        self._pack: list[tuple[int, bytes]] = []
        self._write(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n%chartkit\n")

    def reserve(self, count: int = 1) -> int:
        """The number kept for an object that comes later; the first of ``count`` such numbers."""
        first = len(self._places) + 1
        self._places.extend([_place(_FREE, 0, 0)] * count)
        return first

    def put(self, number: int, content: str) -> None:
        """Fills a reserved number."""
        self._packed(number, content.encode("ascii"))

    def add(self, content: bytes) -> int:
        """Adds an object and gives its number."""
        number = self.reserve()
        if content.endswith(b"endstream"):
            self._stream(number, content)
        else:
            self._packed(number, content)
        return number

    def finish(self, catalog: int, about: int) -> None:
        """Writes what is left, the table of places and the trailer."""
        self._write_pack()
        own, offset, before = self.reserve(), self._at, self._digest.hexdigest()
        self._places[own - 1] = _place(_PLAIN, offset, 0)
        more = (
            f"/Type /XRef /Size {own + 1} /W [1 5 2] /Root {catalog} 0 R /Info {about} 0 R "
            f"/ID [<{before}> <{before}>] "
        )
        content = deflated_object(self._table(), more)
        self._write(b"%d 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n" % (own, content, offset))

    def _table(self) -> bytes:
        """The table of places, deflated: a row of one byte, five and two for each object."""
        table = zlib.compressobj()
        out = [table.compress(_place(_FREE, 0, 0xFFFF).to_bytes(8, "big"))]
        for start in range(0, len(self._places), _ROWS_AT_ONCE):
            rows = self._places[start : start + _ROWS_AT_ONCE]
            if sys.byteorder == "little":
                rows.byteswap()
            out.append(table.compress(rows))
        return b"".join(out) + table.flush()

    def _packed(self, number: int, content: bytes) -> None:
        self._pack.append((number, content))
        if len(self._pack) == _IN_A_PACK:
            self._write_pack()

    def _write_pack(self) -> None:
        if not self._pack:
            return
        objects, self._pack = self._pack, []
        offsets, offset = list[str](), 0
        for number, content in objects:
            offsets.append(f"{number} {offset}")
            offset += len(content) + 1
        head = (" ".join(offsets) + "\n").encode()
        more = f"/Type /ObjStm /N {len(objects)} /First {len(head)} "
        pack = self.add(stream_object(head + b"\n".join(content for _, content in objects), more))
        for index, (number, _) in enumerate(objects):
            self._places[number - 1] = _place(_PACKED, pack, index)

    def _stream(self, number: int, content: bytes) -> None:
        self._places[number - 1] = _place(_PLAIN, self._at, 0)
        self._write(b"%d 0 obj\n%s\nendobj\n" % (number, content))

    def _write(self, content: bytes) -> None:
        self._out.write(content)
        self._digest.update(content)
        self._at += len(content)


def _place(kind: int, place: int, index: int) -> int:
    """A row of the table of places in one number."""
    return (kind << _PLACE_BITS | place) << _INDEX_BITS | index
