"""Takes what stands on a title's line before or behind it, whatever parts them: its settings, and
who plays or wrote the song."""

import re

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import (
    take_fact,
    take_head_facts,
    take_writer,
)
from chartkit.interchange.text.head_words.beside_titles import parted_by_signs
from chartkit.interchange.text.head_words.settings_at_end import (
    key_before,
    settings_at_end,
    settings_behind_comma,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.song_head.sung_titles import band_and_title, is_a_band
from chartkit.interchange.text.vocabulary.writer_names import names_people
from chartkit.interchange.wording import setting_text


def without_band_before(sheet: Sheet, text: str, line: Line) -> str:
    """A title without who plays it before a dash or a colon, taken as the writer; what names nobody
    there is a note."""
    parted = band_and_title(sheet, text) if "writer" not in sheet.top else None
    if parted is None:
        return text
    before, title = parted
    if is_a_band(before) or names_people(before.title()):
        take_writer(sheet, before, text, line)
    else:
        sheet.notes.append(setting_text(before))
    return title


def without_settings(sheet: Sheet, text: str, line: Line) -> str:
    """A title without the settings that its line ends with and the key that begins it, which are
    taken."""
    before = key_before(text, sheet.first_root) if "key" not in sheet.top else None
    if before is not None:
        take_fact(sheet, "key", before[0], line)
        text = before[1]
    parted = parted_by_signs(text) is not None  # all of it is read at these signs
    ended = settings_at_end(text, sheet.first_root, before is not None) if not parted else None
    if ended is not None and take_head_facts(sheet, text, line, ended.head):
        return _without_name_apart(sheet, ended.title, line)
    behind = settings_behind_comma(text)
    if behind is not None and take_head_facts(sheet, behind[1], line):
        return behind[0]
    return text


def _without_name_apart(sheet: Sheet, title: str, line: Line) -> str:
    """A title without the writer who stands in a column of its own between it and its settings."""
    first, *more = _COLUMNS.split(line.text.strip())
    name = title.removeprefix(setting_text(first)).strip()
    apart = bool(more) and name != title and more[0].startswith(name)
    if "writer" in sheet.top or not apart or not names_people(name):
        return title
    take_writer(sheet, name, line.text.strip(), line)
    return setting_text(first)


_COLUMNS = re.compile(r"\s{2,}|\t")
