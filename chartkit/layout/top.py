"""The top of the first page: title, writer, the band with capo and keys, notes."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.view import LineName
from chartkit.layout.fit import Fitter
from chartkit.layout.folds import FormEntry
from chartkit.layout.form_line import form_lines
from chartkit.layout.frames import FontName, Item, Shape, Stroke, moved_item
from chartkit.layout.place import SECOND_INK, PlacedSystem
from chartkit.layout.strike_marks import MARK_WIDTH, MEANINGS, MarkName, mark_shape
from chartkit.layout.style import Style, page_room
from chartkit.layout.tempo import tempo_words
from chartkit.theory.capo import NO_CAPO, Capo, step_words
from chartkit.theory.naming import PLAIN, Naming, key_words, note_words

_SMALLEST_TITLE = 0.62
_BOXED = ("capo", "tuning")
"""The text in the dark box at the head: what to do to the guitar before the song."""
_LINE_WORDS = {
    "shape": "shapes to finger",
    "second": "shapes of the second guitar",
    "sounding": "what sounds",
    "number": "scale degrees",
}


def capo_words(capo: Capo) -> str:
    """The capo in words: ``Capo 2``, ``Tuned down a half step, capo 1``, ``No capo``."""
    down = capo.tuned_down
    tuning = f"tuned down {step_words(down)}" if down else ""
    words = ", ".join(filter(None, (tuning, f"capo {capo.place}" if capo.fret else "")))
    return (words or "no capo").capitalize()


def tuning_words(instrument: str, naming: Naming = PLAIN) -> str:
    """An instrument as the head of a page says it: ``Drop D: D A D G B E``, ``Ukulele``.  Empty for
    a guitar in standard tuning and for unknown instruments."""
    # Fretboards are loaded only where a chart names an instrument.
    from chartkit.fretboard.instruments import GUITAR, KNOWN, instrument_named

    try:
        known = instrument_named(instrument)
    except ValueError:
        return ""
    if known == GUITAR:
        return ""
    name = known.name[:1].upper() + known.name[1:] if known in KNOWN else "Tuning"
    pitches = [string.pitch for string in known.strings]
    if len(pitches) != len(GUITAR.strings) or pitches == [s.pitch for s in GUITAR.strings]:
        return name
    return f"{name}: {' '.join(note_words(pitch.note, naming) for pitch in pitches)}"


_MOST_MOVES = 8
"""How many moves of the capo the head of a page has room for; ours."""


def _capos_words(arrangement: Arrangement) -> str:
    """The capo and where it is moved to in the song: ``Capo 2, then 4, then off``.  Of many moves
    the first are named; each stands above its row besides."""
    moves = arrangement.capo_moves
    named = moves if len(moves) <= _MOST_MOVES else moves[: _MOST_MOVES - 1]
    more = f", and {len(moves) - len(named):,} more moves" if len(named) < len(moves) else ""
    return capo_words(arrangement.capo) + "".join(f", then {c.place}" for c in named) + more


def says_key(arrangement: Arrangement) -> bool:
    """Whether the page prints a key: the chart's own, or the guess that numbers are counted in."""
    return arrangement.key_given or "number" in arrangement.chord_lines


def keys_words(arrangement: Arrangement) -> str:
    """The key in which a reader of this page thinks: shapes and how they sound, or what sounds."""
    shapes = arrangement.uses_capo and "shape" in arrangement.chord_lines
    if not arrangement.key_given and says_key(arrangement):
        assumed = key_words(arrangement.keys.sounding, arrangement.naming)
        return f"Numbers in {assumed}, assumed from the chords"
    if not arrangement.key_given:
        return "shapes to finger, key not given" if shapes else "key not given"
    keys, naming, capos = arrangement.keys, arrangement.naming, arrangement.every_capo
    sounding = key_words(keys.sounding, naming)
    if arrangement.reads is not None and "sounding" in arrangement.chord_lines:
        pitch = arrangement.reads.replace(" flat", "♭")
        sounding = f"{sounding}, written in {key_words(keys.read, naming)} for {pitch} instruments"
    first = " at first" if shapes and capos[1:] and _changes_key(arrangement) else ""
    if not shapes or capos[0] == NO_CAPO or not any(c.raised or c.strings for c in capos):
        return f"Key of {sounding}{first}"
    return f"{key_words(keys.shape, naming)} shapes, sounds in {sounding}{first}"


def _changes_key(arrangement: Arrangement) -> bool:
    systems = (system for section in arrangement.sections for system in section.systems)
    return any(one.kind == "key" for system in systems for one in system.above)


def second_words(arrangement: Arrangement) -> str:
    """The second guitar's capo and shapes; empty if there is none on the page."""
    if arrangement.second_capo is None or "second" not in arrangement.chord_lines:
        return ""
    shapes = key_words(arrangement.keys.second, arrangement.naming)
    return f"Second guitar: {_lowered(capo_words(arrangement.second_capo))}, {shapes} shapes"


def capo_and_keys(arrangement: Arrangement) -> str:
    """Capo and keys in one phrase, for the foot line and the file's own description.  A road
    map has neither, since its reader plays in no key; it is named as what it is."""
    if arrangement.counts_bars:
        return "Road map"
    keys = keys_words(arrangement)
    if not arrangement.uses_capo or not arrangement.chord_lines:
        return keys
    if "shape" in arrangement.chord_lines:
        return f"{_capos_words(arrangement)}, {keys}"
    return f"{keys} ({_for_guitar(arrangement)})"


def _shows_meter(arrangement: Arrangement) -> bool:
    """Whether there is a meter to show: one that the chart names, by which a player strums and a
    singer counts in, or a bar in time."""
    return arrangement.meter_given or any(
        system.bar_lines for section in arrangement.sections for system in section.systems
    )


def _lowered(words: str) -> str:
    return words[0].lower() + words[1:]


def _for_guitar(arrangement: Arrangement) -> str:
    capo = _lowered(_capos_words(arrangement))
    shapes = f", {key_words(arrangement.keys.shape, arrangement.naming)} shapes"
    return f"guitar: {capo}{shapes if arrangement.key_given else ''}"


_MOST_TOP = 0.6
"""The largest part of the first page that title and notes may take."""
_MOST_NARROW_TOP = 0.95
"""The same on a phone, where the music may begin on the next."""
_TOP_STEP = 0.85
"""By how much they are set smaller where they would take more."""
_TOP_STEPS = 6
"""How often that is done."""


def fitting_top(
    arrangement: Arrangement,
    fitter: Fitter,
    style: Style,
    form: Sequence[FormEntry] = (),
    shapes: tuple[PlacedSystem, ...] = (),
    marks: tuple[MarkName, ...] = (),
) -> PlacedSystem:
    """The top in the style's own size, or so much smaller that music fits under it.  Rows of
    ``shapes`` stand at its foot, and are not counted; ``marks`` are explained in the legend."""
    setter = TopSetter(fitter, style, form, marks)
    top = setter.top(arrangement)
    most = page_room(style) * (_MOST_NARROW_TOP if style.is_narrow else _MOST_TOP)
    for _ in range(_TOP_STEPS):
        if top.height <= most:
            break
        smaller = replace(setter.style, scale=setter.style.scale * _TOP_STEP)
        setter = TopSetter(fitter, smaller, form, marks)
        top = setter.top(arrangement)
    return setter.top(arrangement, shapes) if shapes else top


@dataclass(slots=True)
class _Flow:
    """The place for the next part of the band."""

    x: float = 0.0
    y: float = 0.0


class _Entry(NamedTuple):
    """A part of the legend around its own baseline, and how wide it is."""

    items: tuple[Item, ...]
    width: float


class TopSetter:
    """Sets the top of the first page for one style."""

    def __init__(
        self,
        fitter: Fitter,
        style: Style,
        form: Sequence[FormEntry] = (),
        marks: tuple[MarkName, ...] = (),
    ) -> None:
        self._fitter = fitter
        self._form = form
        self._marks = marks
        self.style = style

    def top(self, arrangement: Arrangement, shapes: tuple[PlacedSystem, ...] = ()) -> PlacedSystem:
        """Everything above the first section, with rows of chord diagrams at its foot."""
        items, y = self._title(arrangement)
        band, height = self._band(arrangement)
        y += self.style.pt(6)
        items += [moved_item(item, 0, y) for item in band]
        y += height
        for line in self._note_lines(arrangement.notes):
            y += self.style.cue * 1.35
            items.append(self._fitter.text(line, 0, y, "italic", self.style.cue, role="note"))
        y += self.style.pt(2)
        for row in shapes:
            y += self.style.pt(6)
            items += [moved_item(item, 0, y) for item in row.items]
            y += row.height
        return PlacedSystem(tuple(items), y)

    def _note_lines(self, notes: Sequence[str]) -> list[str]:
        """The notes in lines. Short ones that are no sentences share a line, to leave room for the
        music."""
        fitter, size, room = self._fitter, self.style.cue, self.style.line_width
        lines: list[str] = []
        for note in notes:
            beside = f"{lines[-1]} · {note}" if lines else note
            sentence = bool(lines) and lines[-1].endswith((".", "!", "?", "…"))
            if lines and not sentence and fitter.width(beside, "italic", size) <= room:
                lines[-1] = beside
            else:
                lines += fitter.wrapped(note, "italic", size, room)
        return lines

    def _title(self, arrangement: Arrangement) -> tuple[list[Item], float]:
        """Title and writer as items, and the baseline of the last of them."""
        fitter, style, items, y = self._fitter, self.style, list[Item](), 0.0
        fitting = fitter.fitting_size(arrangement.title, "title", style.title, style.line_width)
        size = max(fitting, style.title * _SMALLEST_TITLE)
        lines = fitter.balanced(arrangement.title, "title", size, style.line_width)
        for line in lines:
            y += size * (1.08 if items else 1.0)
            items.append(fitter.text(line, 0, y, "title", size, role="title"))
        end = fitter.width(lines[-1], "title", size)
        if not arrangement.writer:
            return items, y
        width = fitter.width(arrangement.writer, "italic", style.band)
        beside = end + width + style.pt(20) <= style.line_width
        for line in fitter.balanced(arrangement.writer, "italic", style.band, style.line_width):
            y += 0 if beside else style.band * 1.5
            x = style.line_width - fitter.width(line, "italic", style.band)
            items.append(fitter.text(line, x, y, "italic", style.band, role="writer"))
        return items, y

    # ---- the band
    def _band(self, arrangement: Arrangement) -> tuple[list[Item], float]:
        """Capo in a dark box, keys beside it, meter, tempo and feel at the right; their height."""
        style, flow = self.style, _Flow()
        items: list[Item] = []
        for words, font, role in self._parts(arrangement):
            items += self._part(words, font, role, flow)
        items += self._right_side(arrangement, flow)
        rule = flow.y + (self._row_height if items else 0.0) + style.pt(3)
        items.append(Stroke(0, rule, style.line_width, rule, style.pt(0.9)))
        under, height = self._under_rule(arrangement)
        items += [moved_item(item, 0, rule) for item in under]
        return items, rule + height

    @property
    def _row_height(self) -> float:
        return self.style.band * 1.75

    @property
    def _baseline(self) -> float:
        return self._row_height / 2 + self.style.band * 0.36

    def _parts(self, arrangement: Arrangement) -> list[tuple[str, FontName, str]]:
        """The texts at the left of the band: words, font, role."""
        parts: list[tuple[str, FontName, str]] = []
        if says_key(arrangement) and not arrangement.counts_bars:
            parts.append((keys_words(arrangement), "strong", "keys"))
        if tuning := self._tuning(arrangement):
            parts.insert(0, (tuning, "strong", "tuning"))
        if arrangement.uses_capo and "shape" in arrangement.chord_lines:
            parts.insert(0, (_capos_words(arrangement), "strong", "capo"))
        elif arrangement.says_no_capo and not arrangement.uses_capo:
            parts.insert(0, (capo_words(NO_CAPO), "strong", "capo"))
        elif arrangement.uses_capo and arrangement.reads is None and arrangement.chord_lines:
            parts.append((_for_guitar(arrangement), "plain", "guitar"))
        if second := second_words(arrangement):
            parts.append((second, "strong", "second"))
        return parts

    def _tuning(self, arrangement: Arrangement) -> str:
        """The instrument, if a player who fingers the page has to know it first: any but a guitar
        in standard tuning."""
        fingers = {"shape", "second", "sounding"} & set(arrangement.chord_lines)
        if not arrangement.instrument or not fingers or arrangement.reads is not None:
            return ""
        return tuning_words(arrangement.instrument, arrangement.naming)

    def _part(self, words: str, font: FontName, role: str, flow: _Flow) -> list[Item]:
        """One text of the band, on the next row where this one is full."""
        fitter, style = self._fitter, self.style
        boxed = role in _BOXED
        pad = style.pt(7) * boxed
        size = fitter.fitting_size(words, font, style.band, style.line_width - 2 * pad)
        width = fitter.width(words, font, size) + 2 * pad
        self._make_room(flow, width)
        ink = 0.0 if boxed else 1.0
        items: list[Item] = []
        if boxed:
            left, right, top = flow.x, flow.x + width, flow.y
            foot = top + self._row_height
            items.append(Shape(((left, top), (right, top), (right, foot), (left, foot))))
        text = fitter.text(
            words, flow.x + pad, flow.y + self._baseline, font, size, role=role, ink=ink
        )
        flow.x += width + style.pt(9)
        return [*items, text]

    def _make_room(self, flow: _Flow, width: float) -> None:
        if flow.x and flow.x + width > self.style.line_width:
            flow.x, flow.y = 0.0, flow.y + self._row_height

    def _right_side(self, arrangement: Arrangement, flow: _Flow) -> list[Item]:
        """Meter, tempo, feel and instrument: at the right, or on several rows of their own."""
        fitter, style = self._fitter, self.style
        parts = [str(arrangement.meter)] if _shows_meter(arrangement) else []
        if arrangement.tempo is not None:
            parts.append(tempo_words(arrangement.tempo, arrangement.meter.beat))
        instrument = "" if self._tuning(arrangement) else arrangement.instrument
        parts += filter(None, (arrangement.feel, instrument))
        if not parts:
            return []
        words = " · ".join(parts)
        width = fitter.width(words, "plain", style.band)
        if flow.x + width <= style.line_width:
            x, y = style.line_width - width, flow.y + self._baseline
            return [fitter.text(words, x, y, "plain", style.band, role="band")]
        items: list[Item] = []
        lines = fitter.wrapped(words, "plain", style.band, style.line_width)
        for line in lines:
            flow.y += style.band * 1.5
            text = fitter.text(line, 0, flow.y + self._baseline, "plain", style.band, role="band")
            x = style.line_width - text.width if len(lines) == 1 else 0.0
            items.append(text._replace(x=x))
        return items

    def _under_rule(self, arrangement: Arrangement) -> tuple[list[Item], float]:
        """The form line, and what lines and signs mean: at its end where that has room."""
        style = self.style
        form = form_lines(self._form, self._fitter, style, style.line_width)
        entries = [*self._line_legend(arrangement), *self._mark_legend()]
        if not form and not entries:
            return [], style.pt(4)
        end = style.cue * 1.45 + (form[-1].y if form else 0.0)
        items: list[Item] = [moved_item(line, 0, style.cue * 1.45) for line in form]
        gap = style.pt(9)
        wide = sum(entry.width for entry in entries) + gap * (len(entries) - 1)
        x = style.line_width - wide
        if not form or form[-1].width + style.pt(16) > x:
            x, end = 0.0, end + style.small * 1.5 * bool(form and entries)
        for entry in entries:
            if x and x + entry.width > style.line_width + 0.01:
                x, end = 0.0, end + style.small * 1.4
            items += [moved_item(item, x, end) for item in entry.items]
            x += entry.width + gap
        return items, end + style.pt(2.5)

    def _line_legend(self, arrangement: Arrangement) -> list[_Entry]:
        """Which line of chords is which, from the top, where there are several."""
        entries = []
        for line in arrangement.chord_lines if len(arrangement.chord_lines) > 1 else ():
            strong = line == arrangement.strong
            weight = "bold" if strong else "bold, small" if line == "second" else "light"
            words = f"{weight}: {self._line_words(line, arrangement)}"
            font: FontName = "strong" if strong or line == "second" else "plain"
            entries.append(self._entry(words, font, 1.0 if strong else SECOND_INK))
        return entries

    def _mark_legend(self) -> list[_Entry]:
        """What the signs over beats mean that the song uses."""
        style, entries = self.style, []
        for name in self._marks:
            words = self._entry(MEANINGS[name], "plain", SECOND_INK)
            room = style.pt(MARK_WIDTH + 3)
            sign = mark_shape(name, 0.0, style.pt(0.3), style)
            entries.append(
                _Entry(
                    (sign, *(moved_item(item, room, 0) for item in words.items)), room + words.width
                )
            )
        return entries

    def _entry(self, words: str, font: FontName, ink: float) -> _Entry:
        text = self._fitter.text(words, 0, 0, font, self.style.small, role="legend", ink=ink)
        return _Entry((text,), text.width)

    def _line_words(self, line: LineName, arrangement: Arrangement) -> str:
        if line == "sounding" and arrangement.reads is not None:
            return f"written for {arrangement.reads.replace(' flat', '♭')} instruments"
        return _LINE_WORDS[line]
