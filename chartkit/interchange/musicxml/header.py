"""What stands at the top of a chart: title, writers, key, meter, tempo, sung range, capo."""

from xml.etree.ElementTree import Element

from chartkit.chart.model import SettingName, SettingRow, SettingValue
from chartkit.interchange.musicxml.build import tempo_of
from chartkit.interchange.musicxml.elements import text_of
from chartkit.interchange.musicxml.events import Part
from chartkit.interchange.musicxml.timed import Timed
from chartkit.interchange.taken import Findings
from chartkit.interchange.wording import setting_text
from chartkit.theory.pitch import PitchRange

_WRITERS = ("composer", "lyricist", "poet", "writer", "")


def title_of(root: Element) -> str:
    """The work's title, the movement's, or the first large words of the page."""
    for path in ("work/work-title", "movement-title"):
        if title := setting_text(text_of(root, path)):
            return title
    for credit in root.iterfind("credit"):
        if text_of(credit, "credit-type") in ("", "title"):
            return setting_text(text_of(credit, "credit-words"))
    return ""


def writers_of(root: Element) -> str:
    """Who wrote the words and the music, each once."""
    found = [
        setting_text(creator.text or "")
        for creator in root.iterfind("identification/creator")
        if (creator.get("type") or "") in _WRITERS
    ]
    return ", ".join(dict.fromkeys(filter(None, found)))


def top_rows(
    root: Element, first: Timed, melody: Part, capo: int, units: int, findings: Findings
) -> tuple[SettingRow, ...]:
    """The settings; ``first`` is the first full measure, ``melody`` the part that is sung."""
    measure = first.measure
    tempo = None if measure.tempo is None else tempo_of(measure.tempo, first, units)
    values: dict[SettingName, SettingValue | None] = {
        "title": title_of(root) or None,
        "writer": writers_of(root) or None,
        "key": measure.key,
        "meter": measure.meter,
        "tempo": tempo,
        "feel": setting_text(measure.feel) or None,
        "range": _sung_range(melody, findings),
        "capo": capo or None,
    }
    if measure.tempo is not None and tempo is None:
        findings.leave_out("tempo-out-of-reach", f"a tempo of {measure.tempo:g}")
    return tuple(SettingRow(name, v) for name, v in values.items() if v is not None)


def _sung_range(part: Part, findings: Findings) -> PitchRange | None:
    low, high = part.melody.lowest, part.melody.highest
    if low is None or high is None:
        return None
    sung = PitchRange(low, high)
    if not part.melody.sung and low == high:
        return None
    if part.melody.sung:
        findings.sure("range", f"the sung range is {sung}, from the notes that have words")
    else:
        findings.guess("range", f"nothing is sung: the range {sung} is that of all notes")
    return sung
