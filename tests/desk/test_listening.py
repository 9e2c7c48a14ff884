"""Listening at the desk: what sounds is what the MIDI file holds, in tune, from where asked."""

import json
from io import BytesIO
from typing import Any

import mido
import pytest
from playwright.sync_api import expect

from chartkit.arrange.view import View
from chartkit.desk.listen import midi_of, playback
from chartkit.desk.pages import song_of_text
from chartkit.desk.requests import PageRequest
from chartkit.files import Unusable
from chartkit.theory.capo import Capo
from tests.desk.conftest import ROOT, SONG

EXAMPLES = ("lantern-road", "winter-mooring", "salt-box-house", "paper-harbour")
CHANGES = (
    "title: T\nkey: C\nmeter: 6/8\ntempo: 60\n\n== A\n| C | F |\ntempo: 90\nmeter: 3/4\n| G | C |\n"
)


def heard_in(text: str, **request: Any) -> Any:
    """What the desk sounds."""
    return playback(PageRequest(text=text, **request))


def sounded_by_file(text: str, capo: int) -> list[tuple[float, int]]:
    """Seconds from the first bar and pitch of each note of the first guitar, as mido, an outside
    library, reads the file's tempo."""
    content, _ = midi_of(song_of_text(text).chart, View(Capo.from_number(capo)))
    at = 0.0
    notes: list[tuple[float, int]] = []
    clicks: list[tuple[float, int]] = []
    for message in mido.MidiFile(file=BytesIO(content)):
        at += message.time
        if message.type == "note_on" and message.velocity:
            (clicks if message.channel == 9 else notes).append((at, message.note))
    bar = heard_in(text, capo=capo)["bars"][0]
    counted = bar[1] * bar[2]
    assert clicks[0][0] == 0 and any(abs(when - counted) < 0.002 for when, _ in clicks)
    return sorted((round(when - counted, 2), pitch) for when, pitch in notes)


@pytest.mark.parametrize("capo", [0, 3])
@pytest.mark.parametrize("name", [*EXAMPLES, "changes"])
def test_what_is_heard_is_what_the_file_holds(name: str, capo: int) -> None:
    """Every string sounds at the second and pitch of the MIDI file, through changes of tempo and
    meter."""
    path = ROOT / "examples" / f"{name}.chart"
    text = path.read_text(encoding="utf-8") if path.exists() else CHANGES
    heard = heard_in(text, capo=capo)
    notes = sorted((start, pitch) for start, _, pitch, _ in heard["guitars"][0])
    wanted = sounded_by_file(text, capo)
    assert len(notes) == len(wanted) > 10
    for (start, pitch), (when, other) in zip(
        sorted((round(s, 2), p) for s, p in notes), wanted, strict=True
    ):
        assert pitch == other and abs(start - when) < 0.025, (name, start, when)


def test_sections_begin_with_their_bars() -> None:
    """Each section as it comes begins where a bar begins, in order, and within the song."""
    heard = heard_in(SONG)
    names, starts = zip(*heard["sections"], strict=True)
    assert names == ("Intro", "Verse 1", "Verse 2", "Chorus", "Bridge", "Chorus", "Coda")
    bars = [bar[0] for bar in heard["bars"]]
    assert set(starts) <= set(bars) and list(starts) == sorted(starts)
    # 4/4 at 92 beats a minute: the four bars of the intro last 16 beats.
    assert starts[1] == pytest.approx(16 * 60 / 92, abs=0.001)


def test_each_bar_that_sounds_is_known_on_the_page() -> None:
    """The place of every played bar holds its chords and no bar line, and names its section."""
    heard = heard_in(SONG)
    chart = song_of_text(SONG).chart
    assert len(heard["places"]) == len(heard["bars"])
    written = [SONG[start:end].strip() for start, end, _ in heard["places"]]
    assert written[:4] == ["Db", "Gb/Db", "Db", "Ab7sus4 Ab7"]
    assert all(bar and "|" not in bar for bar in written)
    names = {section.span.start: section.name for section in chart.sections}
    order = list(dict.fromkeys(names[at] for *_, at in heard["places"]))
    assert order == ["Intro", "Verse 1", "Verse 2", "Chorus", "Bridge", "Coda"]


def test_a_second_guitar_is_heard_beside_the_first() -> None:
    """Chosen beside, it plays the same moments with the shapes of its own capo."""
    heard = heard_in(SONG, capo=1, second=6)
    alone = heard_in(SONG, capo=6)
    assert heard["guitars"][1] == alone["guitars"][0] != heard["guitars"][0]


def test_what_cannot_be_played_says_why() -> None:
    """A chart with mistakes, and one without bars."""
    for text, words in (
        (SONG.replace("| Db |", "| Hb |"), "mistakes"),
        ("title: T\nkey: C\n", "mistakes"),
    ):
        with pytest.raises(Unusable, match=words):
            playback(PageRequest(text=text))


# The frequency at which a wave is most like itself, as the normalised autocorrelation has it.
_CENTS = """async (pitch) => {
  const main = document.querySelector("script[type=module]").src;
  const { plucked, frequencyOf } = await import(new URL("pluck.js", main));
  const wanted = frequencyOf(pitch), { wave, rate } = plucked(wanted, 48000);
  const period = 48000 * rate / wanted, alike = (lag) => {
    const whole = Math.floor(lag), part = lag - whole;
    let both = 0, one = 0, other = 0;
    for (let i = 3000; i < 15000; i++) {
      const a = wave[i], b = wave[i + whole] * (1 - part) + wave[i + whole + 1] * part;
      both += a * b; one += a * a; other += b * b;
    }
    return both / Math.sqrt(one * other);
  };
  let best = -1, at = 0;
  for (let lag = period * 0.98; lag < period * 1.02; lag += period / 2000) {
    if (alike(lag) > best) [best, at] = [alike(lag), lag];
  }
  return 1200 * Math.log2(period / at);
}"""


def test_the_strings_are_in_tune(page: Any) -> None:
    """From low E to the twelfth fret of the high one within five cents of equal temperament at
    A4 = 440 Hz (ISO 16); five cents is about what a trained ear just hears (from memory)."""
    for pitch in (40, 47, 55, 64, 76):
        assert abs(page.evaluate(_CENTS, pitch)) < 5, pitch


def test_playing_follows_the_capo_and_stops(page: Any) -> None:
    """Play sounds the song from a section on; a moved capo is heard from the same place; Stop and
    another song end it."""
    asked: list[Any] = []
    page.on(
        "request",
        lambda one: asked.append(json.loads(one.post_data)) if "/api/listen" in one.url else None,
    )
    expect(page.locator("#neck .capo")).to_have_text("1")
    page.click("#listen-door")
    strip = page.locator("#listening")
    strip.get_by_role("checkbox").uncheck()
    strip.get_by_role("combobox").select_option(label="Bridge")
    strip.get_by_role("button", name="Play").click()
    expect(strip).to_contain_text("Bridge · 2:2")
    page.locator("#neck .capo").focus()
    with page.expect_request("**/api/listen"):
        page.keyboard.press("ArrowRight")
    expect(page.locator("#pages text[data-role=capo]")).to_have_text("Capo 2")
    expect(strip.get_by_role("button", name="Stop")).to_be_visible()
    assert [one["capo"] for one in asked] == [None, 2]
    expect(strip).to_contain_text("Bridge · 2:2")
    expect(page.locator("#pages rect.sounds")).to_have_count(1)
    strip.get_by_role("button", name="Stop").click()
    expect(strip.get_by_role("button", name="Play")).to_be_visible()
    expect(page.locator("#pages rect.sounds")).to_have_count(0)
    expect(strip).not_to_contain_text("2:2")
