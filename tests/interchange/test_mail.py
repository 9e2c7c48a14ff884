"""Sheets out of mails: saved ones, and text that was copied from one with what clings to it."""

import re
from email.message import EmailMessage

import pytest

from chartkit.chart.model import Chart, Section, Segment, WordsRow
from chartkit.interchange.intake_result import IntakeResult, Refused
from chartkit.interchange.text.building.further_verses import stacked
from chartkit.syntax.write import chart_text
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import all_words, body, codes, reads_back, taken

SHEET = "Paper Boats\n\nC        G\nüber die Brücke\n"
BODY = "C G\n: über die / Brücke"


def mail(text: str, subtype: str = "plain", **more: str) -> EmailMessage:
    """A mail with a text."""
    made = EmailMessage()
    made["From"], made["Date"] = "Ines <ines@example.org>", "Mon, 3 Feb 2025 10:00:00 +0100"
    for name, value in more.items():
        made[name] = value
    made.set_content(text, subtype=subtype, cte="quoted-printable")
    return made


@each("coding", ["quoted-printable", "base64", "8bit"])
def test_a_saved_mail_gives_its_text(coding: str) -> None:
    """However the text is coded, it is the sheet; the subject, which is not its title, is
    reported."""
    made = EmailMessage()
    made["From"], made["Subject"] = "Ines <ines@example.org>", "Fwd: Über die Brücke"
    made.set_content(SHEET, cte=coding)
    result = taken(made.as_bytes())
    assert (result.format, body(result.chart)) == ("mail", BODY)
    assert result.chart.text("title") == "Paper Boats"
    assert "mail-subject" in codes(result)
    reads_back(result.chart)


def test_what_is_attached_is_reported() -> None:
    """The plain one of two texts is read; a file beside it is left out, by name."""
    made = mail(SHEET)
    made.add_alternative("<p>C G</p>", subtype="html")
    made.add_attachment(b"%PDF-1.4", maintype="application", subtype="pdf", filename="song.pdf")
    result = taken(made.as_bytes())
    assert body(result.chart) == BODY
    left = [f.message for f in result.findings if f.certainty == "left-out"]
    assert left == ["a file attached to the email: song.pdf"]


def test_a_mail_that_is_a_page_gives_its_lines() -> None:
    """Blanks that hold a chord over its word keep their columns; what is not shown is no text."""
    page = (
        "<html><head><title>Not the song</title></head><body><div>C&nbsp;&nbsp;&nbsp;&nbsp;G</div>"
        "<div>low tide</div><br><pre>Am   F\nand  away</pre>C<br>home<style>p {}</style></body>"
    )
    result = taken(mail(page, "html", Subject="Low Tide").as_bytes())
    assert body(result.chart) == "C G\n: low / tide\nAm F\n: and / away\nC\n: home"
    assert result.chart.text("title") == "Low Tide"


def test_mails_that_hold_no_sheet() -> None:
    """A mail without text, with a picture alone, or torn, is refused in a line."""
    empty = mail("")
    picture = EmailMessage()
    picture["From"], picture["Subject"] = "a@example.org", "x"
    picture.add_attachment(b"\x89PNG", maintype="image", subtype="png", filename="page.png")
    for data, reason in (
        (empty.as_bytes(), "holds no text"),
        (picture.as_bytes(), "holds no text, only page.png"),
        (mail("only words").as_bytes().replace(b"only words", b"\n"), "holds no text"),
    ):
        with pytest.raises(Refused, match=reason):
            taken(data)


COPIED = """\
From: Ines <ines@example.org>
To: me
Subject: Re: Paper &amp; Boats
Date: Mon, 3 Feb 2025 10:00:00 +0100

Hi!
Verse
C&nbsp; &nbsp; G
low&nbsp;ti&shy;de &amp; home
Am=20     F
it=E2=80=99s you&#39;re &quot;late&quot;

--\x20
Ines
The Tidewater Five
"""


def _left(result: IntakeResult) -> list[tuple[str, str]]:
    return [(f.code, f.place) for f in result.findings if f.certainty == "left-out"]


def test_a_mail_that_was_copied() -> None:
    """Codes are decoded, the head and the signature are left out and reported,
    and the subject is the title."""
    result = taken(COPIED)
    assert body(result.chart) == (
        '== Verse\nC G\n: low / tide & home\nAm F\n: it’s / you\'re "late"'
    )
    assert result.chart.text("title") == "Paper & Boats"
    assert _left(result) == [("mail-head", "1:1"), ("signature", "13:1"), ("letter", "6:1")]
    assert {"mail-codes", "page-codes"} <= codes(result)
    reads_back(result.chart)


def test_an_answer_with_the_song_under_it() -> None:
    """What is quoted is read in its columns; who wrote it when is left out."""
    result = taken(
        "Hi Tobias, here it is\n\nOn Mon, Feb 3, 2025 Ines <ines@example.org> wrote:\n\n"
        "> Paper Boats\n>\n> G      D\n> low=\n tide is =3D here<br>\n> C\n> home =E9t&eacute;\n"
        "> -- \n> Ines\n"
    )
    assert body(result.chart) == "G D\n: low / tide is = here\nC\n: home été"
    assert result.chart.text("title") == "Paper Boats"
    assert _left(result) == [
        ("around-the-quote", "1:1"),
        ("mail-head", "3:1"),
        ("signature", "12:1"),
    ]


def test_what_only_looks_like_a_mail() -> None:
    """Two dashes between stanzas, an equals sign between chords, a word with an ampersand and
    one line that begins like a head's are the song's own."""
    result = taken(
        "Song\n\nC  G\nlow tide\n--\nF  C\nrock & roll AT&T;\nTo: the sea\nC => G7\nhome\n"
    )
    assert body(result.chart) == (
        "C G\n: low / tide\nF C\n: rock / & roll AT&T; To: the sea\nC G7\n: home /"
    )
    assert not codes(result) & {"mail-head", "signature", "mail-codes", "page-codes"}


@each("sign", ["\u200b", "\u00ad", "\u2060", "\ufeff", "\u200e"])
def test_signs_without_width_take_no_column(sign: str) -> None:
    """Soft hyphens and the like neither move a chord nor part a word."""
    result = taken(f"C{sign}    G\nlow {sign}ti{sign}de\n")
    assert body(result.chart) == "C G\n: low / tide"


_SONG = "Loam and Lumber\nby Pit Askew\n\nVerse\nC       G\nLoam and lumber\n"
_READ = "== Verse\nC G\n: Loam and / lumber"


@pytest.mark.parametrize("subject", ["Fwd: Chords for tonight", "Loam"])
def test_the_subject_is_a_title_only_where_the_text_has_none(subject: str) -> None:
    """A title in the text holds, and the subject is reported; without one the subject is it, not
    what is said to the reader."""
    result = taken(mail(_SONG, Subject=subject).as_bytes())
    assert (result.chart.text("title"), result.chart.text("writer")) == (
        "Loam and Lumber",
        "Pit Askew",
    )
    assert ("mail-subject", "the email's subject") in _left(result)
    bare = taken(mail(_SONG.partition("\n\n")[2], Subject="Re: Loam").as_bytes())
    assert bare.chart.text("title") == "Loam"
    said = mail("Here are the chords.\n\nVerse\nC       G\nLoam and lumber\n", Subject="Re: Loam")
    assert taken(said.as_bytes()).chart.text("title") == "Loam"


@each("leave", ["Best,\nPit", "Cheers,\nJoss", "love, Kit", "Thanks!"])
def test_taking_leave_is_not_sung(leave: str) -> None:
    """A sign-off at the end of a mail is left out, and reported in its own words."""
    result = taken(mail(f"{_SONG}\n{leave}\n").as_bytes())
    assert body(result.chart) == _READ
    (message,) = [f.message for f in result.findings if f.code == "sign-off"]
    assert message == f'the end of an email: "{leave.replace(chr(10), " / ")}"'


def test_words_that_take_leave_are_sung() -> None:
    """The same words under chords, or in a text that shows no sign of a mail, are the song's."""
    for text in ("Song\n\nC   G\nlow tide\nF\nlove, Kit\n", "Song\n\nC   G\nlow tide\nCheers\n"):
        result = taken(text)
        assert "sign-off" not in codes(result)
        assert text.split()[-1] in body(result.chart)


def test_what_is_said_around_a_quoted_song_is_not_the_song() -> None:
    """Lines quoted less deeply than the song are left out, and reported word by word."""
    quoted = "".join(f"> > {line}\n" for line in _SONG.splitlines())
    result = taken(f"Hi Ona, here\n\n{quoted}>\n> Is that an Am7?\n\nYes, Am7.\n\nOna\n")
    assert body(result.chart) == _READ
    assert result.chart.text("title") == "Loam and Lumber"
    messages = [f.message for f in result.findings if f.code == "around-the-quote"]
    assert messages == [
        'remarks around the quoted song: "Hi Ona, here"',
        'remarks around the quoted song: "Is that an Am7? / Yes, Am7. / Ona"',
    ]


def test_a_song_attached_as_text_is_read() -> None:
    """Where the mail itself has no chords, the text attached to it is the song; the mail's own
    words are reported."""
    made = mail("See attached. A", Subject="the song")
    made.add_attachment(_SONG, filename="song.txt")
    result = taken(made.as_bytes())
    assert (body(result.chart), result.chart.text("title")) == (_READ, "Loam and Lumber")
    assert 'the text of the email: "See attached. A"' in [f.message for f in result.findings]


def _raw(kind: bytes, body: bytes, more: bytes = b"") -> bytes:
    head = b"From: a@example.org\nSubject: x\nMIME-Version: 1.0\n"
    return head + more + b"Content-Type: " + kind + b"\n\n" + body


_SONG_IN_HTML = b"<pre>C    G\nlow  tide</pre>"


@pytest.mark.parametrize("sign", [b"<a ", b"<!--", b"<![", b"<", b"</a ", b"<?", b'<a "'])
def test_pages_whose_tags_never_end(sign: bytes) -> None:
    """What opens and is never closed is letters, found in one pass; the song before it
    is read."""
    result = taken(_raw(b"text/html; charset=utf-8", _SONG_IN_HTML + b"\n" + sign * 60_000))
    assert "C G\n: low / tide" in body(result.chart)


@pytest.mark.parametrize(
    "data",
    [
        _raw(b"text/plain" + b"; a=b" * 20_000, b"C    G\nlow  tide\n"),
        _raw(b"text/plain", b"C    G\nlow  tide\n", b"To: " + b"a@b.c, " * 20_000 + b"\n"),
    ],
)
def test_headers_without_end(data: bytes) -> None:
    """A header of thousands of parameters is cut, and the song is read."""
    assert body(taken(data).chart) == "C G\n: low / tide"


def test_a_mail_of_too_many_parts() -> None:
    """It is refused at once."""
    data = _raw(b"multipart/mixed; boundary=b", b"--b\n\nC G\n" * 200_000)
    with pytest.raises(Refused, match="more than 2,000 parts"):
        taken(data)


def test_words_alone_stay_alone_beside_further_verses() -> None:
    """Another verse goes right under its music, and not under words that stand before any music or
    are parted from it."""
    text = "== A\n: alone\n\n| C |\n: | one |\n\n: apart\n\n| F |\n: | two |\n"
    rows = chart_of(text).sections[0].rows
    again = [WordsRow(((Segment(),), (Segment(word),))) for word in ("three", "four")]
    text = chart_text(Chart((), (Section("A", tuple(stacked(rows, again))),)))
    assert [line.split() for line in text.splitlines() if ":" in line] == [
        [":", "alone"],
        ["1:", "|", "one", "|"],
        ["2:", "|", "three", "|"],
        [":", "apart"],
        ["1:", "|", "two", "|"],
        ["2:", "|", "four", "|"],
    ]


def test_a_signature_alone_is_refused() -> None:
    """A text of which nothing is left holds no music, and is refused in words."""
    with pytest.raises(Refused, match="no chords"):
        taken("-- \n")


def test_a_chat_without_times() -> None:
    """The names before what is said in a chat are no words to be sung, with or without times."""
    song = "C  G  Am  F\nFrost on the gander and frost on the grass\n"
    says = (
        f"Jo: send it then\nMick: ok this is Hot Water, tempo 88\n\nMick: INTRO\nC  G\n\n"
        f"Mick: VERSE 1\n{song}\nMick: CHORUS\n{song}Jo: lovely\n"
    )
    for text in (says, re.sub(r"^(?=Jo:|Mick:)", "19:02 ", says, flags=re.MULTILINE)):
        chart = taken(text).chart
        assert [section.name for section in chart.sections] == ["INTRO", "VERSE 1", "CHORUS"]
        assert (chart.text("title"), chart.text("tempo")) == ("Hot Water", "88")


def test_an_older_mail_quoted_below_is_left_out() -> None:
    """It goes with the line that says who wrote it, and the leave taken above it is found."""
    song = "Verse\nC   G\nMoth in the lamp\n\nChorus\nF   C\nLamp, lamp\n\nChorus\n"
    mail = f"Hi Deb,\n\nhere it is.\n\nThe Moth\n\n{song}\nSee you Thursday,\nWalt\n\n"
    result = taken(f"{mail}On Monday Deb wrote:\n> Walt, send us that one!!\n> D.\n")
    words = all_words(result.chart)
    assert not any("Walt" in one or "send" in one for one in words)
    assert {"quoted-mail", "sign-off"} <= codes(result)


@each(
    "head",
    [
        "Van: Wim\nAan: Gerda\nOnderwerp: akkoorden",
        "Da: Piero\nOggetto: accordi\nInviato: ieri",
        "De: Rui\nPara: Ana\nAssunto: a canção nova",
        "Från: Ola\nTill: Siv\nÄmne: nya låten",
    ],
)
def test_heads_of_mails_in_other_languages(head: str) -> None:
    """What programs write at the head of a mail is no title."""
    text = f"{head}\n\nMoth Song\nKey: G\n\nVerse\nG     C\nThere is a moth\n"
    assert taken(text).chart.text("title") == "Moth Song"
