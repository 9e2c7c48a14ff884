"""The written rhythm of a measure: notes with slashes or crosses for heads, and its rests."""

from dataclasses import dataclass, field
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.elements import text_of
from chartkit.interchange.musicxml.events import Strum, StrumSign

_HEADS: dict[str, StrumSign] = {"slash": "slash", "x": "mute"}


@dataclass(slots=True)
class Rhythm:
    """Gathers the rhythm of one measure.

    Rests and crosses are those of whoever plays the chords only in a voice that has slashes, or
    where the measure is one of slashes and ``pitched`` notes do not tell another story: a singer
    rests too, and drummers write crosses.
    """

    pitched: bool = False
    _found: list[tuple[Strum, str]] = field(default_factory=list)

    def strike(self, note: Element, onset: int, voice: str) -> None:
        """Takes a note that has a head of its own kind."""
        sign = _HEADS.get(text_of(note, "notehead"))
        if sign is not None:
            held = any(tie.get("type") == "stop" for tie in note.iterfind("tie"))
            self._found.append((Strum(onset, held and sign == "slash", sign), voice))

    def rest(self, rest: Element, onset: int, length: int, voice: str) -> None:
        """Takes a rest that is a part of the measure."""
        if length and rest.get("measure") != "yes":
            self._found.append((Strum(onset, False, "silence", length), voice))

    def strums(self, slashes: bool) -> list[Strum]:
        """The rhythm of the chords; ``slashes`` says that the measure is one of slashes."""
        if not self._found:
            return []
        with_slashes = {voice for strum, voice in self._found if strum.sign == "slash"}
        whole = slashes and not self.pitched
        return [
            strum
            for strum, voice in self._found
            if strum.sign == "slash" or whole or voice in with_slashes
        ]
