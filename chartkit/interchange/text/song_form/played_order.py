"""The sections of a song in the order in which they are played, as a roadmap gives it."""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import CueRow, MusicRow, Row, Section
from chartkit.interchange.text.song_form.cues_taken import without_cues
from chartkit.interchange.text.song_form.roadmap import Stop, playing_order
from chartkit.interchange.text.vocabulary.order_words import time_behind, which_time
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.wording import cue_text

_MOST_EMPTY = 1
"""So many sections of an order may have nothing but a name: more show that it is misread (ours)."""


def in_playing_order(
    sections: Sequence[Section], stops: Sequence[Stop]
) -> tuple[Section, ...] | None:
    """The sections as a roadmap orders them, each with its rows where it is played first; None
    where the sections do not go by it."""
    if any(not one.name for one in sections) or sum(map(_is_empty, sections)) > _MOST_EMPTY:
        return None
    order = playing_order(stops, [section_key(one.name) for one in sections])
    played: list[Section] = []
    names: set[str] = set()
    order = order or []
    for place, (at, stop) in enumerate(order):
        section = sections[at]
        if section.same_as and section.same_as.casefold() not in names:
            section = _with_music_from(section, sections)
            if section.same_as:
                return None
        again = section.name.casefold() in names
        remark: tuple[Row, ...] = (CueRow(cue_text(stop.remark)),) if stop.remark else ()
        said = _said_of_times(section)
        section = replace(section, rows=without_cues(section.rows, sum(said.values(), ())))
        last = all(other != at for other, _ in order[place + 1 :])
        here = 1 + sum(other == at for other, _ in order[:place])
        beyond = (rows for which, rows in said.items() if which > here and last)
        remark = sum((said.get(here, ()), *beyond, said.get(-1, ()) if last else ()), remark)
        played.append(
            replace(
                section,
                times=stop.times if stop.times > 1 else section.times,
                same_as="" if again else section.same_as,
                rows=remark if again else (*remark, *section.rows),
            )
        )
        names.add(section.name.casefold())
    return tuple(played) if order else None


def _with_music_from(one: Section, sections: Sequence[Section]) -> Section:
    """A section that has the music of one that is played later, with that music; as it is where no
    section has the music."""
    home = next((o for o in sections if o.name.casefold() == one.same_as.casefold()), None)
    music = tuple(row for row in home.rows if isinstance(row, MusicRow)) if home else ()
    return replace(one, same_as="", rows=(*one.rows, *music)) if music else one


def _is_empty(section: Section) -> bool:
    """Whether nothing is known of a section but its name."""
    return not (section.rows or section.same_as)


def _said_of_times(section: Section) -> dict[int, tuple[Row, ...]]:
    """The cues of a section on one of the sections of its name, by which of them they mean: -1 for
    the last."""
    said: dict[int, tuple[Row, ...]] = {}
    for row in section.rows:
        if isinstance(row, CueRow) and (which := _time_meant(row.text, section.name)):
            said[which] = (*said.get(which, ()), row)
    return said


def _time_meant(text: str, name: str) -> int:
    """Which of the sections of a name a cue speaks of; 0 where it does not say so."""
    text = text.strip("()[] ")
    named = which_time(text)
    if named is not None and (named[0] < 0 or named[1].casefold().startswith(name.casefold())):
        return named[0]
    behind = time_behind(text[len(name) :]) if text.startswith(f"{name} ") else None
    return behind[0] if behind is not None else 0
