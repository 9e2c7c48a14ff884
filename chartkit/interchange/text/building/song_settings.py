"""Takes settings, notes and shapes into the chart, from its head and inside the song."""

import re
from collections.abc import Sequence

from chartkit.chart.model import GivenShape, Meter, SettingRow, SettingValue
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.head_words.head_facts import HeadFacts, head_facts
from chartkit.interchange.text.head_words.head_labels import writer_of
from chartkit.interchange.text.head_words.head_phrases import head_phrases
from chartkit.interchange.text.head_words.prose_facts import facts_in_prose
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.vocabulary.directions import count_words
from chartkit.interchange.text.vocabulary.facts import FactName, Pace, without_parentheses
from chartkit.interchange.text.vocabulary.feel_words import labelled_feel, plain_feel
from chartkit.interchange.text.vocabulary.manners import says_feel, says_style
from chartkit.interchange.text.vocabulary.reference_lines import legend_pairs
from chartkit.interchange.text.vocabulary.tunings import tuning_of
from chartkit.interchange.text.vocabulary.writer_names import (
    names_and_remark,
    names_people,
    undated,
)
from chartkit.interchange.wording import setting_text
from chartkit.phrases import listed
from chartkit.theory.capo import MOST_TUNED_DOWN, Capo
from chartkit.theory.key import Key, parse_key
from chartkit.theory.note import pitch_class_of
from chartkit.theory.shape_text import parse_shape

STRINGS = 6
_LONGEST_SAID, _FEWEST_SAID = 400, 2
_SENTENCES = re.compile(r"(?<=[.!?])\s+")
_MEANT_FOR = re.compile(
    r"(?<=\w)\s+(?:for|für|pour|para|per|voor|till?|för)\s+(?:the|our|my|his|her|die|das|den|unsere?n?|"
    r"notre|les|la|le|el|los|las|nuestra|il|de|het)\s+\S",
    re.IGNORECASE,
)
"""For what somebody wrote a song, behind the name."""
FOR_SOMEBODY = re.compile(r"(?:for|für|pour|para|per|voor|til|för|dla)\s+\S", re.IGNORECASE)
"""How words begin that say for whom a song or a key is; common practice, no source."""
SLOWEST, FASTEST = 10, 400
"""Beats a minute that the language can say."""


def take_note(sheet: Sheet, line: Line) -> None:
    """Keeps a line as a note on the song."""
    text = setting_text(without_parentheses(line.text.strip()))
    sheet.notes.append(text)
    sheet.findings.guess("kept-as-note", f'"{text}" is kept as a note', line.place())


def take_legend(sheet: Sheet, line: Line) -> None:
    """Takes chords with their frets as shapes of the song's own; a line with what is no shape
    of a known chord, or with a second shape of one, is kept as a note."""
    shapes = [_shape(sheet, *pair) for pair in legend_pairs(line.text)]
    chords = [shape.chord for shape in (*sheet.shapes, *shapes) if shape is not None]
    if None in shapes or len(set(chords)) < len(chords):
        take_note(sheet, line)
        return
    sheet.shapes += [shape for shape in shapes if shape is not None]
    sheet.findings.guess(
        "shapes",
        "chords with frets behind them are taken as shapes of the song's own, counted "
        "from the capo",
        line.place(),
    )


def _shape(sheet: Sheet, symbol: str, frets: str) -> GivenShape | None:
    chord = sheet.tokens.symbol(symbol)
    try:
        result = parse_shape(frets.replace(" ", "-"))
    except ValueError:
        return None
    return GivenShape(chord, result) if chord is not None and len(result) == STRINGS else None


def take_head_facts(sheet: Sheet, text: str, line: Line, head: HeadFacts | None = None) -> bool:
    """Takes words of a head that give settings; whether they do.  ``head`` is what they give, if
    they were read in another way than alone."""
    head = head_facts(text) if head is None else head
    if not head.facts:
        return False
    for fact in head.facts:
        take_fact(sheet, fact.name, fact.value, line)
    manner = [*head.manner, *filter(says_feel, head.rest)]
    manner = [part for part in manner if not take_tuning(sheet, part, line)]
    named = [part for part in manner if not (says_style(part) or labelled_feel(part))]
    manner = [part for part in manner if part not in named]
    if manner and "feel" not in sheet.top:
        sheet.top["feel"] = setting_text(", ".join(plain_feel(part) or part for part in manner))
    others = [*named, *(part for part in head.rest if not says_feel(part))]
    others = [part for part in others if any(map(str.isalnum, part))]
    others = [part for part in others if not take_tuning(sheet, part, line)]
    others = take_writer_among(sheet, others, text, line)
    others = without_small_talk(sheet, others, line)
    plain = " ".join(text.split())
    if any(part not in plain for part in others):
        others = [plain]  # words torn out of a sentence say nothing
    if others:
        sheet.notes.append(setting_text(", ".join(others)))
    sheet.findings.guess("head-settings", f'"{text}" is read as settings', line.place())
    return True


def take_feel(sheet: Sheet, feel: str, line: Line) -> bool:
    """Takes how the song goes, where words say it and nothing else has; whether it is taken."""
    if not feel or "feel" in sheet.top:
        return False
    sheet.top["feel"] = setting_text(feel)
    sheet.findings.guess("feel", f'"{feel}" is taken as how the song goes', line.place())
    return True


_MOST_WORDS_OF_TALK = 3
_MOSTLY = 0.5
_LABEL_ALONE = re.compile(r"[^\W\d_]{2,12}\s?:")


def without_small_talk(sheet: Sheet, parts: Sequence[str], line: Line) -> list[str]:
    """What is said beside settings without the few words of a sentence that only led to them
    ("so we're", "sorry!!", "Song:"): these are reported, and printed nowhere."""
    kept = []
    for part in parts:
        if _tells_nothing(part):
            sheet.findings.leave_out(
                "small-talk", f'"{part}" tells the players nothing: it is no note', line.place()
            )
        else:
            kept.append(part)
    return kept


def _tells_nothing(text: str) -> bool:
    """Whether a few words beside settings name nobody, count nothing and say nothing of the
    trade; a label with nothing behind it does not either."""
    if _LABEL_ALONE.fullmatch(text.strip()) is not None:
        return True
    plain = text.replace("’", "'")
    words = plain.split()
    few = 0 < len(words) <= _MOST_WORDS_OF_TALK
    names = any(c.isdigit() or c.isupper() for c in plain.replace("I'", "i'"))
    count = count_words(plain)
    open_ended = any(word.strip(".,!").casefold() in _OPEN for word in words)
    broken = open_ended or plain.rstrip()[-1:] in "!?.…"
    return few and not names and broken and count.strong == 0 and count.share < _MOSTLY


_OPEN = frozenset(
    ["we're", "i'm", "it's", "that's", "is", "are", "so", "but", "because", "cos", "sorry"]
)
"""Words that leave a sentence open, of which the settings were the rest."""


def take_tuning(sheet: Sheet, text: str, line: Line) -> bool:
    """Takes a tuning as the song's instrument; whether a text gives one."""
    if not (tuning := tuning_of(text)) or "instrument" in sheet.top:
        return False
    sheet.top["instrument"] = tuning
    sheet.findings.guess("tuning", f'"{text}" is read as the guitar\'s tuning', line.place())
    return True


def take_writer(sheet: Sheet, name: str, text: str, line: Line) -> None:
    """Takes a name as the writer, out of a text that may say more; what is said behind the name
    is kept as a note."""
    if (meant := _MEANT_FOR.search(name)) is not None:
        sheet.notes.append(setting_text(name[meant.start() :].strip()))
        name = name[: meant.start()]
    dated, name = name, undated(name)
    if dated != name:
        sheet.notes.append(setting_text(dated.removeprefix(name).strip(" ,")))
    names, behind = names_and_remark(name)
    if behind:
        sheet.notes.append(setting_text(without_parentheses(behind)))
        name = names
    sheet.top["writer"] = setting_text(name)
    said = "" if name == text else f', from the line "{text}"'
    sheet.findings.guess("writer", f'the writer is "{name}"{said}', line.place())


def add_writer(sheet: Sheet, name: str, text: str, line: Line) -> None:
    """Takes one more name as a writer's, behind those that are known ("Words: …", "Music: …" on two
    lines)."""
    known = str(sheet.top.get("writer", ""))
    names = [one for one in name.split(", ") if one not in known]
    if names:
        sheet.top["writer"] = ", ".join(filter(None, [known, *names]))
        sheet.findings.guess("writer", f'"{name}" is a writer too, from "{text}"', line.place())


def take_writer_among(sheet: Sheet, parts: Sequence[str], text: str, line: Line) -> list[str]:
    """Takes who wrote the song from the part of a line that says it ("words by …") or that, below
    the title, can only be a name; what else is said there."""
    if "writer" in sheet.top:
        return list(parts)
    named = [without_parentheses(part) if "title" in sheet.top else "" for part in parts]
    by = [
        writer_of(part) or name * names_people(name)
        for part, name in zip(parts, named, strict=True)
    ]
    at = next((at for at, name in enumerate(by) if name), None)
    if at is None:
        return list(parts)
    take_writer(sheet, by[at], text, line)
    return [part for place, part in enumerate(parts) if place != at]


def settle_pace(sheet: Sheet) -> None:
    """Takes the tempo from other notes than quarters in the beats of the song's meter, where they
    fit."""
    if sheet.pace is None or "tempo" in sheet.top:
        return
    pace, line = sheet.pace
    meter = sheet.top.get("meter", Meter(4, 4))
    assert isinstance(meter, Meter)
    beats = pace.count * pace.note / meter.beat
    if beats.denominator > 1 or not SLOWEST <= beats <= FASTEST:
        take_note(sheet, line)
        return
    sheet.top["tempo"] = int(beats)
    if pace.note != meter.beat:
        sheet.findings.guess(
            "tempo-in-beats",
            f"{pace.count} notes of {pace.note} a minute are {beats} beats of {meter}",
            line.place(),
        )


def take_fact(sheet: Sheet, name: FactName, value: SettingValue | Pace, line: Line) -> None:
    """Takes a setting of the whole song; the first of a name holds."""
    if isinstance(value, Pace) or name == "pace":
        sheet.pace = sheet.pace or ((value, line) if isinstance(value, Pace) else None)
        return
    if name == "shapes":
        sheet.shapes_key = value if isinstance(value, Key) else None
        return
    raised = value.raised if isinstance(value, Capo) else value
    if name == "capo" and isinstance(raised, int) and sheet.capo is None:
        sheet.capo = raised
    if name in sheet.top or (name == "capo" and not value):
        return
    sheet.top[name] = value
    if isinstance(value, Meter):
        sheet.bars.meter, sheet.bars.beats_are_counted = value, True
    if name == "capo":
        sheet.top["chords"] = "shapes"
        sheet.findings.guess(
            "chords-are-shapes",
            f"with capo {raised} in the heading the chords are taken as shapes",
            line.place(),
        )


def take_facts_said(sheet: Sheet, line: Line, without_meter: bool = False) -> bool:
    """Takes the settings that are said among other words, where nothing else gives them, with one
    finding for all of them; whether there are any."""
    names: list[str] = []
    text = line.text.strip()
    sentences = _SENTENCES.split(text) if len(text) <= _LONGEST_SAID else ()
    phrases = [head_phrases(part) for part in dict.fromkeys([text, *sentences])]
    phrases = [one for one in phrases if len({fact.name for fact in one.facts}) >= _FEWEST_SAID]
    several = [fact for one in phrases for fact in one.facts]
    manner = next((part for one in phrases for part in one.manner if says_feel(part)), "")
    take_feel(sheet, manner, line)
    for fact in (*facts_in_prose(text), *several):
        if fact.name in sheet.top or (without_meter and fact.name == "meter"):
            continue
        take_fact(sheet, fact.name, fact.value, line)
        names.append("the key of the shapes" if fact.name == "shapes" else f"the {fact.name}")
    if names:
        are = "is" if len(names) == 1 else "are"
        sheet.findings.guess(
            "head-settings", f'{listed(names)} {are} read out of "{text}"', line.place()
        )
    return bool(names)


def take_tuned_down(sheet: Sheet, shapes: str, line: Line) -> None:
    """How far the guitar is tuned down, by the keys of its shapes and of what sounds, where
    nothing says it otherwise."""
    key = sheet.top.get("key")
    try:
        steps = pitch_class_of(parse_key(shapes).tonic) if shapes else 0
    except ValueError:
        return
    if shapes and isinstance(key, Key):
        lower = (steps - pitch_class_of(key.tonic)) % 12
        if 0 < lower <= MOST_TUNED_DOWN:
            take_fact(sheet, "capo", -lower, line)


def take_late_fact(sheet: Sheet, name: FactName, value: SettingValue | Pace, line: Line) -> None:
    """Takes a setting after the song has begun: a change from here on.

    Before the first chords it is the song's own where the heading gives none.
    """
    if isinstance(value, Pace) or name == "pace":
        take_note(sheet, line)
        return
    begun = sheet.chord_rows or sheet.bars.bars_before
    if name == "capo" or name == "shapes":
        if begun and name == "capo" and isinstance(value, int) and value >= 0:
            _move_capo(sheet, value, line)
        elif begun:
            take_note(sheet, line)
        else:
            take_fact(sheet, name, value, line)
    elif not begun and sheet.top.get(name, value) == value:
        take_fact(sheet, name, value, line)
    else:
        sheet.add(SettingRow(name, value))
        if isinstance(value, Meter):
            sheet.bars.meter = value


def _move_capo(sheet: Sheet, fret: int, line: Line) -> None:
    """Moves the capo from here on.  Where none was named before, the chords are taken as shapes."""
    if "capo" not in sheet.top:
        sheet.top["capo"] = 0
        if not sheet.over_sounding:
            sheet.top["chords"] = "shapes"
            sheet.findings.guess(
                "chords-are-shapes",
                f"with capo {fret} in the song the chords are taken as shapes",
                line.place(),
            )
    sheet.capo = fret
    sheet.add(SettingRow("capo", fret))
