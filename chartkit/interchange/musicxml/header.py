"""What stands at the top of a chart: title, writers, key, meter, tempo, sung range, capo."""

import re
from contextlib import suppress
from xml.etree.ElementTree import Element

from chartkit.chart.model import SettingName, SettingRow, SettingValue
from chartkit.interchange.musicxml.build import tempo_of
from chartkit.interchange.musicxml.elements import text_of
from chartkit.interchange.musicxml.events import Part
from chartkit.interchange.musicxml.timed import Timed
from chartkit.interchange.taken import Findings
from chartkit.interchange.wording import one_line, setting_text
from chartkit.theory.pitch import PitchRange, parse_range

_LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
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
    carried = carried_settings(root)
    values: dict[SettingName, SettingValue | None] = {
        "title": title_of(root) or None,
        "writer": writers_of(root) or None,
        "key": measure.key,
        "meter": measure.meter,
        "tempo": tempo,
        "feel": setting_text(measure.feel) or carried.get("feel"),
        "range": carried.get("range") or _sung_range(melody, findings),
        "capo": capo or None,
        "instrument": carried.get("instrument"),
        "language": _language(root),
    }
    if measure.tempo is not None and tempo is None:
        findings.leave_out("tempo-out-of-reach", f"a tempo of {measure.tempo:g}")
    rows = [SettingRow(name, v) for name, v in values.items() if v is not None]
    return (*rows, *(SettingRow("note", text) for text in _notes(root)))


def carried_settings(root: Element) -> dict[str, SettingValue]:
    """The settings that our own writer put into miscellaneous fields: range, instrument and
    feel, as far as they make sense."""
    found: dict[str, SettingValue] = {}
    for name, text in _fields(root):
        if name in ("instrument", "feel") and text:
            found[name] = text
        elif name == "range":
            with suppress(ValueError):
                found[name] = parse_range(text)
    return found


def _fields(root: Element) -> list[tuple[str, str]]:
    software = {one_line(e.text) for e in root.iterfind("identification/encoding/software")}
    if "chartkit" not in software:
        return []
    fields = root.iterfind("identification/miscellaneous/miscellaneous-field")
    return [(field.get("name", ""), setting_text(field.text or "")) for field in fields]


def _notes(root: Element) -> list[str]:
    return [text for name, text in _fields(root) if name == "note" and text]


def _language(root: Element) -> str | None:
    element = root.find("defaults/lyric-language")
    tag = "" if element is None else element.get(_LANGUAGE, "")
    return tag if re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", tag) else None


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
