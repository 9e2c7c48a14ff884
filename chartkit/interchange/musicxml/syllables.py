"""``lyric`` elements to syllables of verses, with hyphens and held notes."""

from dataclasses import dataclass, field
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.events import Sung
from chartkit.interchange.wording import sung_text

_SOUNDS = {"laughing": "(laughing)", "humming": "(humming)"}


@dataclass(slots=True)
class Singing:
    """Follows the verses through a part.

    A verse is held from a syllable with an extender to its next syllable or to a rest.
    ``apart`` are voices that sing at the same time as another, so that their words are
    verses of their own; ``clashes`` gathers those that turn out to.
    """

    apart: frozenset[str] = frozenset()
    holding: dict[str, str] = field(default_factory=dict)
    clashes: set[str] = field(default_factory=set)
    singers: dict[str, str] = field(default_factory=dict)

    def begin_measure(self) -> None:
        """Forgets who sang in the measure before."""
        self.singers.clear()

    def sing(self, lyrics: list[Element], joins: bool, voice: str, onset: int) -> list[Sung]:
        """The syllables of a note, and held ones for the verses that have none on it.

        ``joins`` says that the note sounds with the one before, which holds them already.
        """
        found: list[Sung] = []
        taken: set[str] = set()
        for lyric in lyrics:
            verse = self._verse(lyric, voice, taken)
            taken.add(verse)
            text, goes_on, extend = _read_lyric(lyric)
            if text or extend:
                named = (lyric.get("name") or "").strip().lower() == "verse"
                ends_line = lyric.find("end-line") is not None
                found.append(Sung(onset, verse, text, goes_on, not text, named, ends_line))
            self.holding.pop(verse, None)
            if extend not in ("", "stop"):
                self.holding[verse] = voice
        if self.holding and not joins:
            for verse in self._held_by(voice):
                if verse not in taken:
                    found.append(Sung(onset, verse, "", False, True))
        return found

    def rest(self, voice: str) -> None:
        """A rest ends every held syllable of its voice."""
        for verse in self._held_by(voice):
            del self.holding[verse]

    def _held_by(self, voice: str) -> list[str]:
        return [verse for verse, holder in self.holding.items() if holder == voice]

    def _verse(self, lyric: Element, voice: str, taken: set[str]) -> str:
        verse = (lyric.get("number") or lyric.get("name") or "1").strip()[:20] or "1"
        if verse in taken:
            verse = f"{verse} {lyric.get('name') or ''}".strip()
            while verse in taken:
                verse += "+"
        if voice in self.apart:
            return f"{verse}, voice {voice}"
        first = self.singers.setdefault(verse, voice)
        if first != voice:
            self.clashes.add(max(first, voice))
        return verse


def _read_lyric(lyric: Element) -> tuple[str, bool, str]:
    """The text of a syllable, whether its word goes on, and the type of its extender: empty
    for none.

    Syllables elided on one note belong to one word where the first of them goes on, and to
    two words otherwise.
    """
    text, goes_on, extend = "", False, ""
    for child in lyric:
        match child.tag:
            case "syllabic":
                goes_on = (child.text or "").strip() in ("begin", "middle")
            case "text":
                text += sung_text(child.text or "")
            case "elision":
                text += "" if goes_on or not text else " "
                goes_on = False
            case "extend":
                extend = child.get("type") or "start"
            case "laughing" | "humming":
                text += _SOUNDS[child.tag]
    return " ".join(text.split()), goes_on, extend
