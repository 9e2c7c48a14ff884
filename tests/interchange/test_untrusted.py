"""Files that are made to harm: one clear line each, in little time and memory."""

import io
import re
import subprocess
import sys
import zipfile
from collections.abc import Callable, Mapping

import pytest

from chartkit.interchange.intake_result import Refused
from tests.each import each
from tests.interchange.reading import body, taken

SCORE = (
    '<score-partwise><part-list><score-part id="P1"><part-name>Voice</part-name></score-part>'
    '</part-list><part id="P1"><measure number="1">{}</measure></part></score-partwise>'
)
CONTAINER = '<container><rootfiles><rootfile full-path="{}"/></rootfiles></container>'
LAUGHS = "<!DOCTYPE score-partwise [<!ENTITY a 'ha'>" + "".join(
    f"<!ENTITY {new} '{10 * f'&{old};'}'>" for old, new in zip("abcdefgh", "bcdefghi", strict=True)
)


def archive(entries: Mapping[str, bytes | str]) -> bytes:
    """A zip archive of entries."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in entries.items():
            packed.writestr(name, content)
    return out.getvalue()


def with_container(path: str, **entries: str) -> bytes:
    """An archive whose container names a path."""
    return archive({"META-INF/container.xml": CONTAINER.format(path), **entries})


def lying_archive() -> bytes:
    """An archive that declares a small entry where a large one is packed."""
    packed = bytearray(with_container("a.xml", **{"a.xml": "<a>" + " " * 30_000_000}))
    at = packed.rfind(b"a.xml", 0, packed.rfind(b"PK\x05\x06")) - 46
    packed[at + 24 : at + 28] = (1000).to_bytes(4, "little")
    return bytes(packed)


HARMFUL: dict[str, tuple[Callable[[], bytes | str], str]] = {
    "entity bomb": (lambda: f"{LAUGHS}]>{SCORE.format('&i;')}".encode(), "its own entities"),
    "external entity": (
        lambda: (
            b'<!DOCTYPE score-partwise [<!ENTITY x SYSTEM "file:///etc/passwd">]>'
            + SCORE.format("&x;").encode()
        ),
        "its own entities",
    ),
    "parameter entity": (
        lambda: b'<!DOCTYPE a [<!ENTITY % x SYSTEM "http://example.invalid/x"> %x;]><a/>',
        "its own entities",
    ),
    "deep nesting": (lambda: b"<a>" * 200_000 + b"</a>" * 200_000, "nested more than 64 deep"),
    "deep nesting, unclosed": (lambda: b"<a>" * 200_000, "not well formed"),
    "broken XML": (lambda: b"<score-partwise><part>", "1:23: the XML is not well formed"),
    "another XML": (lambda: b"<svg/>", 'its root element is "svg"'),
    "no measures": (lambda: b"<score-partwise/>", "has no measures"),
    "empty parts": (
        lambda: "<score-partwise>" + '<part id="a"><measure/></part>' * 2000 + "</score-partwise>",
        "more than 1,000 parts",
    ),
    "tiny elements": (lambda: SCORE.format("<a/>" * 1_600_000), "more than 1,500,000 elements"),
    "zip bomb": (
        lambda: with_container("a.xml", **{"a.xml": "<a>" + " " * 30_000_000}),
        "too large",
    ),
    "lying zip bomb": (lying_archive, "damaged"),
    "path out": (lambda: with_container("../../etc/passwd"), "not a path in the archive"),
    "absolute path": (lambda: with_container("/etc/passwd"), "not a path in the archive"),
    "drive path": (lambda: with_container("C:/score.xml"), "not a path in the archive"),
    "missing score": (lambda: with_container("score.xml"), "not in the archive"),
    "no container": (lambda: archive({"some/notes.xml": "<a/>"}), "not of a score"),
    "an office document": (lambda: archive({"word/document.xml": "<w/>"}), "office document"),
    "no rootfile": (lambda: archive({"META-INF/container.xml": "<container/>"}), "names no score"),
    "many entries": (lambda: archive({f"{i}": "" for i in range(2500)}), "more than 2000 entries"),
    "many measures": (
        lambda: SCORE.format('</measure><measure number="2">' * 20_000),
        "more than 20,000 measures",
    ),
    "a text of a library": (lambda: "C  G\n" * 500_000, "too large: more than 2,000,000 bytes"),
    "a text of blank lines": (lambda: "\n" * 300_000 + "C", "more than 200,000 lines"),
    "torn archive": (lambda: with_container("a.xml", **{"a.xml": "<a/>"})[:-30], "damaged"),
    "archive in archive": (
        lambda: with_container("a.mxl", **{"a.mxl": "PK\x03\x04 more"}),
        "not well formed",
    ),
    "unknown encoding": (lambda: b'<?xml version="1.0" encoding="x-none"?><a/>', "XML"),
}


@pytest.mark.parametrize("name", sorted(HARMFUL))
def test_harmful_files_are_refused_in_a_line(name: str) -> None:
    """Each is refused with one plain line that says why."""
    made, reason = HARMFUL[name]
    with pytest.raises(Refused, match=reason) as refused:
        taken(made())
    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 160


PLAIN = SCORE.format("<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>")


@each(
    "container", ["<container", "<container/>", CONTAINER.format("b.xml"), "\xff", "<!DOCTYPE a [<"]
)
def test_the_only_score_of_an_archive_is_read(container: str) -> None:
    """Where the container is not well-formed, or names nothing that is there, the one score in
    the archive is read, and that is reported; with two scores nothing is chosen."""
    entries = {"META-INF/container.xml": container, "song.xml": PLAIN, "a/notes.xml": "<a/>"}
    result = taken(archive(entries))
    assert len(result.chart.sections) == 1
    assert any(f.code == "container" and "song.xml" in f.message for f in result.findings)
    with pytest.raises(Refused):
        taken(archive({**entries, "other.xml": PLAIN}))


def test_a_score_with_a_prefix_is_found_in_an_archive() -> None:
    """The names of its elements may have a prefix, also where no container tells which entry is
    the score."""
    prefixed = re.sub(r"<(/?)(?=[a-z])", r"<\1m:", PLAIN)
    named = prefixed.replace("<m:score-partwise", '<m:score-partwise xmlns:m="urn:x"', 1)
    assert body(taken(archive({"song.xml": named})).chart) == body(taken(PLAIN).chart)


def test_a_broken_score_in_an_archive_is_named() -> None:
    """What is wrong with a score inside an archive is said with its name there."""
    with pytest.raises(Refused, match=r"deep/song\.xml in the archive: 1:17: the XML"):
        taken(with_container("deep/song.xml", **{"deep/song.xml": "<score-partwise><"}))


def test_the_standard_doctype_is_accepted() -> None:
    """The DOCTYPE that real files carry is no reason to refuse them."""
    doctype = (
        '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
        '"http://www.musicxml.org/dtds/partwise.dtd">'
    )
    assert taken(doctype + SCORE.format("")).chart.sections


@each(
    "inside",
    [
        f"<attributes><divisions>{'9' * 5000}</divisions></attributes>",
        "<attributes><divisions>-3</divisions></attributes>",
        "<attributes><time><beats>0</beats><beat-type>0</beat-type></time></attributes>",
        "<attributes><time><beats>999999999</beats><beat-type>4</beat-type></time></attributes>",
        "<attributes><key><fifths>99999</fifths></key></attributes>",
        "<note><pitch><step>Q</step><octave>99</octave></pitch><duration>1e99</duration></note>",
        f"<note><pitch><step>C</step><octave>4</octave></pitch><duration>{'9' * 900}</duration>"
        "</note><backup><duration>999999999</duration></backup>",
        "<harmony><root><root-step>C</root-step><root-alter>77</root-alter></root></harmony>",
        "<harmony><kind>major</kind></harmony>",
        "<harmony><root/><kind/><degree/></harmony>",
        "<harmony><root><root-step>C</root-step></root><kind>minor</kind><offset>-5</offset>"
        "</harmony>",
        '<barline><repeat direction="backward" times="99999999999999999999"/></barline>',
        '<barline location="left"><ending number="7777777777" type="start"/></barline>',
        "<sound tempo='-1'/><sound tempo='1e400'/>",
    ],
)
def test_senseless_numbers_do_no_harm(inside: str) -> None:
    """Numbers no music has are taken for something tame."""
    from tests.interchange.reading import reads_back

    reads_back(taken(SCORE.format(inside)).chart)


WORST = {
    "a score of chords": SCORE.format(
        "<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>" * 25_000
    ),
    "a tone raised out of reach": SCORE.format(
        "<harmony><root><root-step>C</root-step></root><kind>major</kind><degree><degree-value>9"
        "</degree-value><degree-alter>999999999</degree-alter><degree-type>add</degree-type>"
        "</degree></harmony>"
    ),
    "a score of notes": SCORE.format("<note/>" * 300_000),
    "a score of unknown elements": SCORE.format("<a/>" * 1_400_000),
    "a score of attributes": SCORE.format('<a b=""/>' * 740_000),
    "a text of chords": "C " * 100_000,
    "a text of short lines": "C\na\n" * 10_000,
}
MOST_MEGABYTES = 400
READER = """
import resource, sys
resource.setrlimit(resource.RLIMIT_AS, ({most} << 20,) * 2)
from chartkit.interchange.read_lead_sheet import read_lead_sheet
from chartkit.syntax.symbol import chord_or_none
print(len(read_lead_sheet(sys.stdin.buffer.read(), chord_or_none).chart.sections))
"""


@pytest.mark.skipif(sys.platform != "linux", reason="limits of memory are the system's")
@pytest.mark.parametrize("name", sorted(WORST))
def test_memory_is_bounded(name: str) -> None:
    """Files that hold nothing but the costliest thing are read in a process that may take no
    more than so much memory."""
    code = READER.format(most=MOST_MEGABYTES)
    done = subprocess.run(
        [sys.executable, "-c", code], input=WORST[name].encode(), capture_output=True, check=False
    )
    assert (done.returncode, done.stdout.strip()) == (0, b"1"), done.stderr.decode()[-300:]
