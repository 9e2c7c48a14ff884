"""What is said to the reader of a mail in a head: it is left out, but for its settings."""

import re

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.song_settings import take_facts_said, take_note
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.vocabulary.directions import is_greeting, is_talk

_SUBJECT = re.compile(
    r"\s*(?:subject|betreff|objet|asunto|oggetto|assunto|onderwerp|ämne|emne|temat)\s*:", re.I
)


def take_over_title(sheet: Sheet, line: Line) -> None:
    """Takes a line above the title: what is said to the reader of a mail, or a note."""
    text = line.text.strip()
    if _SUBJECT.match(text) is not None:
        sheet.findings.leave_out("mail-subject", f'the subject of a mail: "{text}"', line.place())
    elif is_greeting(text) or is_talk(text):
        take_from_letter(sheet, line)
    else:
        take_note(sheet, line)


def take_from_letter(sheet: Sheet, line: Line) -> None:
    """Leaves out what is said to the reader of a mail, but for the settings in it."""
    if take_facts_said(sheet, line):
        return  # the finding has the whole line
    sheet.findings.leave_out(
        "letter",
        f'a greeting or note, not part of the song: "{line.text.strip()}"',
        line.place(),
    )
