"""Sections of which only the name was typed: earlier ones played again, or others that lend their
music.

Source of the words that ask for one: common practice, no source.
"""

import re
from dataclasses import replace

from chartkit.chart.model import CueRow, MusicRow, Section, SettingRow, WordsRow
from chartkit.chart.section_words import PLAYED, SUNG_KINDS
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.rewriting.lettered_parts import letters_in
from chartkit.interchange.text.song_form.steps import SAME
from chartkit.interchange.text.vocabulary.key_words import says_how_much_higher
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    remark_in_name,
    section_key,
)
from chartkit.interchange.text.vocabulary.sung_words import says_unsung
from chartkit.interchange.text.vocabulary.times_played import (
    ANY_TIMES,
    rounds_in,
    says_once,
    says_until,
    times_of,
)
from chartkit.interchange.wording import section_name

_SAME = re.compile(
    r"\(?(?:(?:the\s+)?same(?:\s+(?:chords|changes|music))?\s+(?:as|like)|(?:chords\s+)?(?:like|as))"
    r"(?:\s+in)?\s+(?:the\s+)?(?P<as>[^()]{2,30}?)\)?|"
    r"(?:over|on)\s+(?:the\s+)?(?P<over>.{2,30}?)\s(?:chords|changes)",
    re.IGNORECASE,
)
_REPEAT = re.compile(r"(?:repeat|rep\.?|rpt\.?|play)\s+(?:the\s+)?(?P<name>[^\W\d_].{1,20})", re.I)
_COUNT_BEHIND = re.compile(rf"\s+\(?{ANY_TIMES}\)?\s*$", re.IGNORECASE)


def other_section(remark: str) -> tuple[str, int]:
    """The section whose music another has by what is said behind its name, such as "same as
    intro" or "over verse chords x2", and how often; empty where nothing is."""
    other, times = "", 1
    for clause in remark.strip("() ").split(","):
        count = _COUNT_BEHIND.search(clause)
        bare = clause[: count.start()] if count is not None else clause
        times = max(times, times_of(count[0]) if count is not None else times_of(clause))
        match = _SAME.fullmatch(bare.strip())
        other = other or ((match["as"] or match["over"]).strip() if match is not None else "")
        other = other or _repeated(bare.strip())
    return other, times if other else 1


def _repeated(text: str) -> str:
    """The section that words ask for again ("repeat intro"); empty for any others."""
    match = _REPEAT.fullmatch(text)
    name = match["name"] if match is not None else ""
    return name if name and full_name_at(name, 0) == len(name) else ""


def play_again(sheet: Sheet) -> None:
    """Turns a section of which only the name was typed into an earlier one.

    One of its name, or a name that means the same, is played again as it was; one of its kind, or
    one that it is said to be like, lends its music alone, for the words are not known.
    """
    _take_higher_apart(sheet)
    if _play_parts(sheet):
        return
    again = sheet.named_again()
    if again is None and not sheet.like:
        again = _named_by_first_words(sheet)
    listed = sheet.earlier.home.get(again.casefold()) if again is not None else None
    if again is not None and listed is not None and listed in sheet.listed:
        sung = sheet.earlier.names.get(section_key(again), again)
        if sung.casefold() == again.casefold():
            _write_out(sheet, listed)
            return
        again = sung  # "Chorus (all voices)" has the words that the list has not
    higher = any(isinstance(row, CueRow) and says_how_much_higher(row.text) for row in sheet.rows)
    if again is not None and higher and again.casefold() != sheet.opened.name.casefold():
        return  # it has chords of its own, which are written out once all sections are read
    message = _lend_music(sheet) if again is None else _repeat(sheet, again)
    if not message and (given := sheet.given.get("")) is not None:
        _write_out(sheet, given)
        message = f'"{sheet.opened.name}" has the chords that stand once for the whole song'
    if not message:
        _report_empty(sheet)
        return
    sheet.opened_by = ""
    sheet.findings.guess(
        "section-again", message, f"{sheet.opened_on}:1" if sheet.opened_on else ""
    )


def _take_higher_apart(sheet: Sheet) -> None:
    """Makes a cue of what stands behind the open section's name where it says that the section
    goes up, so that its name is its own."""
    within = remark_in_name(sheet.opened.name)
    if within and says_how_much_higher(within):
        name = sheet.opened.name.partition(" (")[0]
        sheet.opened = replace(sheet.opened, name=name)
        sheet.add_remark(within)


def _named_by_first_words(sheet: Sheet) -> str | None:
    """The earlier section whose name is the first of the two words of the open one's, which means
    what a band plays there ("Intro riff"); the second becomes a cue.  None for others."""
    first, _, played = sheet.opened.name.partition(" ")
    again = sheet.earlier.name_like(first) if played.casefold() in PLAYED else None
    if again is None or again.partition(" (")[0].casefold() != first.casefold():
        return None
    sheet.opened = replace(sheet.opened, name=first)
    sheet.add_remark(played)
    return again


_MOST_ROWS = 200


def _play_parts(sheet: Sheet) -> bool:
    """Gives a section of which only the name was typed the music of all parts that a remark lists
    by their letters ("Solos over A A B A"); whether it does."""
    home = sheet.earlier.home
    said = [row.text for row in sheet.rows if isinstance(row, CueRow)]
    for letters in map(letters_in, (remark_in_name(sheet.opened.name), *said)):
        places = [home.get(letter.casefold()) for letter in letters]
        if not places or None in places:
            continue
        rows = [one for at in places if at is not None for one in sheet.earlier.sections[at].rows]
        music = [one for one in rows if isinstance(one, MusicRow | SettingRow)]
        if not any(isinstance(one, MusicRow) for one in music) or len(music) > _MOST_ROWS:
            continue
        sheet.rows += music
        sheet.lines_under = [0] * sum(isinstance(one, MusicRow) for one in music)
        sheet.findings.guess(
            "parts-in-order",
            f'"{sheet.opened.name}" has the music of {", ".join(letters)}, one after another',
            f"{sheet.opened_on}:1" if sheet.opened_on else "",
        )
        return True
    return False


def _repeat(sheet: Sheet, again: str) -> str:
    """Makes the open section the earlier one of that name; the finding in words."""
    opened, earlier = sheet.opened, sheet.earlier
    times = opened.times if opened.times > 1 else earlier.row_times.get(again.casefold(), 1)
    said = [row.text for row in sheet.rows if isinstance(row, CueRow)]
    if any(says_until(one) or says_once(one) for one in said):
        times = opened.times
    if times > 1 and earlier.times_by_endings.get(again.casefold()) == times:
        times = 1
    remark = remark_in_name(opened.name)
    if unsung := _said_to_be_unsung(sheet, again, remark):
        _play_alone(sheet, again, unsung)
        return f'"{opened.name}" has the music of "{again}", without its words'
    source = next((one for one in reversed(earlier.sections) if one.name == again), Section(""))
    if remark and remark_in_name(again) not in ("", remark) and not _is_sung(source):
        sheet.opened = replace(opened, same_as=source.same_as or again, times=times)
        return f'"{opened.name}" has no lines under it: it has the music of "{again}"'
    sheet.opened = replace(opened, name=again, times=times)
    if remark and remark != remark_in_name(again):
        sheet.add_remark(remark)
    return f'"{opened.name}" has no lines under it: "{again}" is repeated'


def _said_to_be_unsung(sheet: Sheet, again: str, remark: str) -> str:
    """What says that the open section, which has words where it is written, is not sung here; empty
    where nothing does."""
    said = (remark, *(row.text for row in sheet.rows if isinstance(row, CueRow)))
    sung = any(isinstance(row, WordsRow) for row in sheet.earlier.rows_of(again))
    return next(filter(says_unsung, said), "") if sung else ""


def _play_alone(sheet: Sheet, again: str, said: str) -> None:
    """Gives the open section the music of an earlier one alone.  What is ``said`` of it stands in
    its name, which must not stand for a section without words further below."""
    base = again.partition(" (")[0]
    rows = [row for row in sheet.rows if not (isinstance(row, CueRow) and row.text == said)]
    sheet.rows = rows
    sheet.opened = replace(sheet.opened, name=section_name(f"{base} ({said})"), same_as=again)


def _is_sung(section: Section) -> bool:
    """Whether a section has words, or is of a kind that has."""
    words = any(isinstance(row, WordsRow) for row in section.rows)
    return words or section_key(section.name)[0] in SUNG_KINDS


def _lend_music(sheet: Sheet) -> str:
    """Gives the open section the music of an earlier one that it is like; the finding in words,
    empty if there is none."""
    opened = sheet.opened
    earlier = sheet.earlier_like_opened()
    if earlier is None:
        return ""
    other = sheet.earlier.sections[earlier]
    if earlier in sheet.listed or earlier in sheet.used:
        _write_out(sheet, earlier)
    elif other.name:
        times = opened.times if opened.times > 1 else _lent_times(sheet, other)
        rounds = sum(rounds_in(row.text) for row in sheet.rows if isinstance(row, CueRow))
        sheet.opened = replace(opened, same_as=other.name, times=max(times, rounds))
    else:
        sheet.rows += [row for row in other.rows if isinstance(row, MusicRow | SettingRow)]
    return f'"{opened.name}" has the music of "{other.name}"; its words are not known'


def _write_out(sheet: Sheet, listed: int) -> None:
    """Gives a section of which only the name was typed the music from a list above the words."""
    sheet.rows += [
        row for row in sheet.earlier.sections[listed].rows if not isinstance(row, WordsRow)
    ]
    sheet.lines_under = [0] * sum(isinstance(row, MusicRow) for row in sheet.rows)
    sheet.used.setdefault(listed, len(sheet.earlier.sections))


def _report_empty(sheet: Sheet) -> None:
    """Reports a section of which nobody knows what is played there."""
    played = any(isinstance(row, MusicRow | WordsRow) for row in sheet.rows)
    if sheet.opened.name and sheet.opened_on and not played:
        sheet.findings.guess(
            "section-empty",
            f'"{sheet.opened.name}" has no lines under it, and no earlier section has that name: '
            "what is played there is not known",
            f"{sheet.opened_on}:1",
        )


def _lent_times(sheet: Sheet, other: Section) -> int:
    """How often a section is played that is said to be like another without words: as often as
    that."""
    if not sheet.like:
        return 1
    solo = section_key(sheet.opened.name)[0] == "solo"  # the players settle how often it goes round
    if sheet.like != SAME and section_key(other.name)[0] not in SUNG_KINDS and not solo:
        return other.times
    sung = any(isinstance(row, WordsRow) for row in other.rows)
    return 1 if sung else sheet.earlier.row_times.get(other.name.casefold(), 1)
