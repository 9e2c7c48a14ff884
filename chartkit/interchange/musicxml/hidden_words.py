"""Words to be sung that are not printed, which nobody is to sing."""

from collections.abc import Sequence
from xml.etree.ElementTree import Element

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.musicxml.xml import text_of
from chartkit.interchange.wording import one_line

_LONGEST_TOLD = 60


def hides_words(note: Element, lyrics: Sequence[Element]) -> bool:
    """Whether some of the lyrics of a note may not be printed; a quick look."""
    hides = note.get("print-object")
    for one in lyrics:
        hides = hides or one.get("print-object")
    return hides is not None


class HiddenWords:
    """Tells the lyrics of a part that are printed from those that are not.

    A note that is not printed hides its lyrics with it, unless it says otherwise (MusicXML 4.0) or
    none of the part are printed: some programs write the words of a song on hidden notes.
    """

    def __init__(self, measures: Sequence[Element]) -> None:
        self.measures = measures
        self._prints: bool | None = None
        self._left_out: list[tuple[str, str]] = []

    def printed(self, note: Element, lyrics: Sequence[Element], place: str) -> list[Element]:
        """Those of the lyrics of a note that are printed; others are noted with their place."""
        hides_all = _hides(note)
        if hides_all and self._prints is None:
            notes = (one for measure in self.measures for one in measure.iterfind("note"))
            self._prints = any(not _hides(one) and one.find("lyric") is not None for one in notes)
        kept = [one for one in lyrics if not (_is_hidden(one) or (hides_all and self._prints))]
        said = (text_of(one, "text") for one in lyrics if one not in kept)
        self._left_out += [(place, text) for text in said if text]
        return kept

    def report(self, findings: Findings) -> None:
        """Reports what was left out, once."""
        if self._left_out:
            words = one_line(" ".join(text for _, text in self._left_out))[:_LONGEST_TOLD]
            place = self._left_out[0][0]
            findings.leave_out("hidden-words", f'words that are not printed: "{words}"', place)


def _hides(note: Element) -> bool:
    return note.get("print-object") == "no" and note.get("print-lyric") != "yes"


def _is_hidden(lyric: Element) -> bool:
    return lyric.get("print-object") == "no"
