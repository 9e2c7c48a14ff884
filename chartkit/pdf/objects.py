"""A PDF file put together object by object (ISO 32000-1, chapter 7).

Objects without a stream of their own are packed together and deflated (7.5.7), and so is the
table of where everything stands (7.5.8).
"""

import zlib
from hashlib import md5

_IN_A_PACK = 200
"""How many objects are packed together: few enough to unpack at once."""
_FREE, _PLAIN, _PACKED = 0, 1, 2


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
    """Objects by number, and the file they make."""

    def __init__(self) -> None:
        self._objects: list[bytes] = []
        self._streams: set[int] = set()

    def reserve(self) -> int:
        """A number for an object that comes later."""
        self._objects.append(b"null")
        return len(self._objects)

    def put(self, number: int, content: str) -> None:
        """Fills a reserved number."""
        self._objects[number - 1] = content.encode("ascii")

    def add(self, content: bytes) -> int:
        """Adds an object and gives its number."""
        self._objects.append(content)
        if content.endswith(b"endstream"):
            self._streams.add(len(self._objects))
        return len(self._objects)

    def finished(self, catalog: int, about: int) -> bytes:
        """The whole file: head, objects, the table of their places, trailer."""
        plain = sorted(set(range(1, len(self._objects) + 1)) - self._streams)
        places: dict[int, tuple[int, int, int]] = {}
        for start in range(0, len(plain), _IN_A_PACK):
            numbers = plain[start : start + _IN_A_PACK]
            pack = self.add(self._packed(numbers))
            places.update((number, (_PACKED, pack, i)) for i, number in enumerate(numbers))
        out = [b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n%chartkit\n"]
        at = len(out[0])
        for number in sorted(self._streams):
            whole = b"%d 0 obj\n%s\nendobj\n" % (number, self._objects[number - 1])
            places[number] = (_PLAIN, at, 0)
            at += len(whole)
            out.append(whole)
        out.append(self._table(places, at, catalog, about, b"".join(out)))
        return b"".join(out)

    def _packed(self, numbers: list[int]) -> bytes:
        offsets, at = list[str](), 0
        contents = [self._objects[number - 1] for number in numbers]
        for number, content in zip(numbers, contents, strict=True):
            offsets.append(f"{number} {at}")
            at += len(content) + 1
        head = (" ".join(offsets) + "\n").encode()
        more = f"/Type /ObjStm /N {len(numbers)} /First {len(head)} "
        return stream_object(head + b"\n".join(contents), more)

    def _table(
        self,
        places: dict[int, tuple[int, int, int]],
        at: int,
        catalog: int,
        about: int,
        before: bytes,
    ) -> bytes:
        own = len(self._objects) + 1
        rows = [(_FREE, 0, 0xFFFF), *(places[number] for number in range(1, own)), (_PLAIN, at, 0)]
        table = b"".join(
            kind.to_bytes(1, "big") + place.to_bytes(5, "big") + index.to_bytes(2, "big")
            for kind, place, index in rows
        )
        name = md5(before, usedforsecurity=False).hexdigest()
        more = (
            f"/Type /XRef /Size {own + 1} /W [1 5 2] /Root {catalog} 0 R /Info {about} 0 R "
            f"/ID [<{name}> <{name}>] "
        )
        content = stream_object(table, more)
        return b"%d 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n" % (own, content, at)
