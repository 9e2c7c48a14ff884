"""Any bytes at all: a chart that reads back, or one clear line; never a traceback."""

import json
import random
import zipfile
from copy import deepcopy
from io import BytesIO
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from chartkit.interchange.intake_result import Refused
from tests.fuzz.readers import incoming
from tests.interchange.pages import SONG, draw_song, pages
from tests.interchange.reading import LEAD_SHEETS, SUITE, taken

SCORES = sorted(
    path
    for path in SUITE.glob("*.xml")
    if path.name[:2] in ("71", "61", "45", "46", "31", "72", "42", "11", "13")
)
PAGE = pages(lambda canvas: draw_song(canvas, SONG))
ODD_TEXTS = (
    "",
    "0",
    "-1",
    "999999999999",
    "1/0",
    "C",
    "x2",
    "as",
    "== A x2",
    '"',
    "\\",
    "#",
    "|",
    "yes",
    "\u2028",
    "𝄌",
    "\ufeff",
    "D.S. al Coda",
    "N.C.",
    "7(b9)",
    "_",
    "a-",
    ":",
    "4+3",
    "stop",
    "..",
)


def mutated(root: Element, chance: random.Random) -> None:
    """Drops, doubles, swaps and empties elements here and there, and writes odd texts."""
    parents = [element for element in root.iter() if len(element)]
    for _ in range(chance.randint(1, 12)):
        parent = chance.choice(parents)
        if not len(parent):
            continue
        at = chance.randrange(len(parent))
        child = parent[at]
        match chance.randint(0, 5):
            case 0:
                parent.remove(child)
            case 1:
                parent.insert(chance.randrange(len(parent) + 1), deepcopy(child))
            case 2:
                child.text = chance.choice(ODD_TEXTS)
            case 3:
                child.tag = chance.choice(parents).tag
            case 4:
                for name in child.attrib:
                    child.set(name, chance.choice(ODD_TEXTS))
            case _:
                parent.insert(0, deepcopy(chance.choice(chance.choice(parents)[:] or [child])))


def test_most_damaged_scores_are_taken() -> None:
    """Damage does not lead to a refusal of everything, which the tests below would let pass."""
    taken_ones = 0
    for seed, path in enumerate(SCORES):
        root = ElementTree.fromstring(path.read_bytes())
        mutated(root, random.Random(seed))
        taken_ones += incoming(ElementTree.tostring(root))
    assert taken_ones > len(SCORES) / 2


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(SCORES), st.integers(0, 2**32))
def test_damaged_scores(path: object, seed: int) -> None:
    """A score with elements dropped, doubled, moved and misspelt."""
    root = ElementTree.fromstring(path.read_bytes())  # type: ignore[attr-defined]
    mutated(root, random.Random(seed))
    incoming(ElementTree.tostring(root))


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=200), st.integers(0, 80_000), st.booleans())
def test_damaged_archives(noise: bytes, at: int, cut: bool) -> None:
    """An archive with bytes overwritten or cut off."""
    data = bytearray((LEAD_SHEETS / "fosterBrownHair.mxl").read_bytes())
    at %= len(data)
    data[at : at + len(noise)] = noise
    incoming(bytes(data[:at] if cut else data))


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=60), st.text(max_size=60))
def test_any_archive(path: str, content: str) -> None:
    """An archive whose container says anything."""
    out = BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("META-INF/container.xml", content.encode("utf-8", "replace"))
        packed.writestr("a.xml", path.encode("utf-8", "replace"))
    incoming(out.getvalue())


@pytest.mark.parametrize("start", [b"", b"<", b"<?xml ", b"PK\x03\x04", b"\xff\xfe<\x00"])
@settings(max_examples=60, deadline=None)
@given(noise=st.binary(max_size=300))
def test_any_bytes(start: bytes, noise: bytes) -> None:
    """Any bytes, also behind the beginnings of known formats."""
    incoming(start + noise)


LINES = st.one_of(
    st.text(max_size=40),
    st.lists(
        st.sampled_from(
            [
                "C",
                "G/B",
                "Am7",
                "|",
                "||",
                "|:",
                ":|",
                "/",
                "%",
                "x2",
                "(C7)",
                "N.C.",
                "-",
                "lan-",
                "tide",
                "_",
                "/E",
                "C,G",
                "<F",
                "A!",
                "(soft)",
                "|1.",
                "Verse",
                ":",
                "\t",
                "海",
            ]
        ),
        max_size=10,
    ).map(" ".join),
    st.sampled_from(
        [
            "",
            "[Verse]",
            "Chorus x2",
            "Capo 2",
            "[C] [G]",
            "[: C G :]",
            "G 320003",
            "Chords used: C G",
            "8 bars rest",
            "Intro chords C G",
            "[C]",
            "3/4",
            "Key: Q",
            "1. one",
            "(3/4)",
        ]
    ),
)


@settings(max_examples=200, deadline=None)
@given(st.lists(LINES, max_size=14))
@example(["C _ _ N.C. _ lan- :| :|", "tide"])
@example(["8 bars rest", "8 bars rest", "Song", "Song", "", "8 bars rest", "", "3/4"])
@example(
    [
        "[Verse]",
        "",
        "Am7 :| G/B | - C |: %",
        "3/4",
        "1. one",
        "[Verse]",
        "",
        "Chords used: C G",
        "tide",
    ]
)
def test_any_sheet(lines: list[str]) -> None:
    """Lines of chords, words, headings and anything else."""
    incoming("\n".join(lines).encode("utf-8", "replace"))


_MAIL_PARTS = (
    "From: a@example.org\n",
    "Subject: x\n",
    "MIME-Version: 1.0\n",
    "Content-Type: text/plain\n",
    'Content-Type: multipart/mixed; boundary="b"\n',
    "--b\n",
    "--b--\n",
    "\n",
    "\n\n",
    "C  G\n",
    "low tide\n",
    "Content-Transfer-Encoding: base64\n",
    "Content-Type: text/html\n",
    "<pre>",
    "<br>",
    "Content-Type: message/rfc822\n",
    "Content-Type: text/plain; charset=nowhere\n",
    "=C3=A9=\n",
    "Content-Disposition: attachment; filename*=utf-8''%ff\n",
    "&#0;",
    "&#xd800;",
    "&#10;",
    "-- \n",
    "> C  G\n",
    "<!--",
    "=3D",
    "From: Ines\n",
    "To: b\n",
    "[: C G :]\n",
    "G 320003\n",
    "x\x00y",
)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(_MAIL_PARTS), max_size=24))
def test_any_mail(parts: list[str]) -> None:
    """What mails are made of in any order, saved or copied."""
    text = "".join(parts)
    incoming(text.encode())
    incoming(f"From: a@example.org\nMIME-Version: 1.0\n{text}".encode())


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=60), st.integers(0, 4000), st.booleans())
def test_damaged_pdfs(noise: bytes, at: int, cut: bool) -> None:
    """A PDF with bytes overwritten or cut off."""
    data = bytearray(PAGE)
    at %= len(data)
    data[at : at + len(noise)] = noise
    incoming(bytes(data[:at] if cut else data))


@settings(max_examples=100, deadline=None)
@given(st.recursive(st.none() | st.integers() | st.text(max_size=5), st.lists, max_leaves=9))
def test_any_json(value: object) -> None:
    """JSON that is no chart is refused."""
    with pytest.raises(Refused):
        taken(json.dumps({"top": [], "sections": value}).encode())
