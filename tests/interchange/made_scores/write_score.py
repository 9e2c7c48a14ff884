"""A song in a style as the bytes of a file."""

import re
import zipfile
from io import BytesIO
from xml.sax.saxutils import escape

from tests.interchange.made_scores.song import Song
from tests.interchange.made_scores.style import Style
from tests.interchange.made_scores.write_part import PartWriter

_PARTS = {
    "lead": ("voice",), "lead in two voices": ("voice",), "voice over piano": ("voice", "piano"),
    "grand staff": ("voice",), "two parts": ("voice", "second"), "choir": ("voice", "second"),
    "with drums": ("drums", "voice"), "chords part": ("voice", "chords"),
    "lead below": ("piano", "voice"),
}  # fmt: skip
_NAMES = {
    "voice": "Voice", "piano": "Piano", "second": "Alto", "drums": "Drum Kit", "chords": "Guitar",
}  # fmt: skip
RIGHTS = "Copied by hand for the Tarn Hill band"
_CONTAINER = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<container><rootfiles>'
    '<rootfile full-path="{name}" media-type="application/vnd.recordare.musicxml+xml"/>{more}'
    "</rootfiles></container>"
)


def score_bytes(song: Song, style: Style) -> bytes:
    """The file of a song."""
    text = _document(song, style)
    if style.namespace == "prefix":
        text = re.sub(r"<(/?)([a-z])", r"<\1m:\2", text)
        text = text.replace("<m:score", '<m:score xmlns:m="http://scores.example/ns"', 1)
        text = re.sub(r"<m:score xmlns:m=(\S+)-(\w+)", r"<m:score-\2 xmlns:m=\1", text, count=1)
    head = f'<?xml version="1.0" encoding="{_declared(style)}"?>\n'
    if style.doctype and not style.namespace:
        kind = "timewise" if style.timewise else "partwise"
        head += (
            f'<!DOCTYPE score-{kind} PUBLIC "-//Recordare//DTD MusicXML {style.version} '
            f'{kind.capitalize()}//EN" "http://www.musicxml.org/dtds/{kind}.dtd">\n'
        )
    text = head + text
    if style.indent == "crlf":
        text = text.replace("\n", "\r\n")
    codec = "utf-8" if style.encoding == "said latin-1" else style.encoding
    data = text.encode(codec, "xmlcharrefreplace")
    return _packed(data, style) if style.packed else data


def _declared(style: Style) -> str:
    return {"latin-1": "ISO-8859-1", "said latin-1": "ISO-8859-1", "utf-16": "UTF-16"}.get(
        style.encoding, "UTF-8"
    )


def _document(song: Song, style: Style) -> str:
    roles = _PARTS[style.layout]
    ids = [f"P{i}" for i, _ in enumerate(roles, 1)]
    chorded = next((r for r in roles if r != "voice" and r != "drums"), "voice")
    with_symbols = chorded if style.symbols_at == "other" else "voice"
    written = [
        PartWriter(
            song,
            style,
            role,
            symbols=role == with_symbols or (style.symbols_at == "both" and role == chorded),
            form=role in ("voice", roles[0]),
        ).measures()
        for role in roles
    ]
    listed = "".join(
        f'<score-part id="{i}"><part-name>{_NAMES[role]}</part-name></score-part>'
        for i, role in zip(ids, roles, strict=True)
    )
    gap = "\n" if style.indent in ("", "crlf") else f"\n{style.indent}"
    body = _timewise(ids, written, gap) if style.timewise else _partwise(ids, written, gap)
    kind = "timewise" if style.timewise else "partwise"
    space = ' xmlns="http://scores.example/ns"' if style.namespace == "default" else ""
    return (
        f'<score-{kind}{space} version="{style.version}">{_head(song, style)}{gap}'
        f"<part-list>{listed}</part-list>{body}</score-{kind}>\n"
    )


def _partwise(ids: list[str], parts: list[list[tuple[str, str]]], gap: str) -> str:
    return "".join(
        f'{gap}<part id="{i}">'
        + "".join(f"{gap}<measure {name}>{body}</measure>" for name, body in measures)
        + "</part>"
        for i, measures in zip(ids, parts, strict=True)
    )


def _timewise(ids: list[str], parts: list[list[tuple[str, str]]], gap: str) -> str:
    return "".join(
        f"{gap}<measure {together[0][0]}>"
        + "".join(
            f'{gap}<part id="{i}">{body}</part>' for i, (_, body) in zip(ids, together, strict=True)
        )
        + "</measure>"
        for together in zip(*parts, strict=True)
    )


def _head(song: Song, style: Style) -> str:
    title = escape(song.title)
    top = {
        "work": f"<work><work-title>{title}</work-title></work>",
        "movement": f"<movement-title>{title}</movement-title>",
        "both": f"<work><work-title>{title}</work-title></work>"
        f"<movement-title>{title}</movement-title>",
        "credit": "",
    }[style.title_in]
    people = [("composer", song.composer), ("lyricist", song.lyricist)]
    if style.roles == "poet":
        people = [("composer", f"Music by {song.composer}"), ("poet", f"Words by {song.lyricist}")]
    elif style.roles == "said" and song.composer == song.lyricist:
        people = [("composer", f"Words and Music by {song.composer}")]
    elif style.roles == "credit" and style.credits:
        people = []
    creators = "".join(f'<creator type="{kind}">{name}</creator>' for kind, name in people)
    rights = f"<rights>{RIGHTS}</rights>" if style.rights else ""
    says = '<supports element="print" type="yes" attribute="new-system" value="yes"/>'
    made = f"<encoding><software>a program</software>{says * bool(style.systems)}</encoding>"
    credits = _credits(song, title, people) if style.credits or style.title_in == "credit" else ""
    return f"{top}<identification>{creators}{rights}{made}</identification>{credits}"


def _credits(song: Song, title: str, people: list[tuple[str, str]]) -> str:
    words, music = (
        (song.lyricist, song.composer)
        if people
        else (f"Words: {song.lyricist}", f"Music: {song.composer}")
    )
    return "".join(
        f'<credit page="1"><credit-type>{kind}</credit-type>'
        f'<credit-words font-size="{size}">{said}</credit-words></credit>'
        for kind, size, said in (
            ("title", 22, title), ("composer", 10, music), ("lyricist", 10, words)
        )
    )  # fmt: skip


def _packed(data: bytes, style: Style) -> bytes:
    file = BytesIO()
    more = ""
    if style.packed == "mxl more files":
        more = '<rootfile full-path="page.pdf" media-type="application/pdf"/>'
    container = _CONTAINER.format(name="score.xml", more=more)
    if style.packed == "mxl broken index":
        container = container.replace("</rootfiles>", "").replace("/>", ">")
    members: list[tuple[str, bytes, int]] = []
    if style.packed != "mxl more files":
        kind = b"application/vnd.recordare.musicxml"
        members.append(("mimetype", kind, zipfile.ZIP_STORED))
    members.append(("META-INF/container.xml", container.encode(), zipfile.ZIP_DEFLATED))
    members.append(("score.xml", data, zipfile.ZIP_DEFLATED))
    if more:
        members.append(("page.pdf", b"%PDF-1.4 nothing", zipfile.ZIP_DEFLATED))
        members.append(("Thumbnails/thumbnail.png", b"\x89PNG", zipfile.ZIP_STORED))
    with zipfile.ZipFile(file, "w") as archive:
        for name, content, how in members:  # a date of their own, so that a seed makes one file
            archive.writestr(zipfile.ZipInfo(name), content, how)
    return file.getvalue()
