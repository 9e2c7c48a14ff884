"""What frames the song: title and band on top, headings, the line at the foot."""

from dataclasses import dataclass

from chartkit.arrange.arrange import key_name
from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.boxes import SectionBox
from chartkit.layout.frames import FontName, Item, Shape, Stroke, Text, moved
from chartkit.layout.metrics import Typesetter
from chartkit.layout.place import SECOND_INK, PlacedSystem
from chartkit.layout.style import Style

_HALF_STEPS = {1: "a half step", 2: "a whole step", 3: "a step and a half", 4: "two whole steps"}


def capo_words(capo: int) -> str:
    """The capo in words: ``Capo 2``, ``Tuned down a half step``, ``No capo``."""
    if capo > 0:
        return f"Capo {capo}"
    if capo == 0:
        return "No capo"
    return f"Tuned down {_HALF_STEPS.get(-capo, f'{-capo} half steps')}"


def keys_words(arrangement: Arrangement) -> str:
    """The key a reader of this page thinks in: shapes and what they sound, or what sounds."""
    sounding = key_name(arrangement.sounding_key)
    if arrangement.capo == 0 or "shape" not in arrangement.lines:
        return f"Key of {sounding}"
    return f"{key_name(arrangement.shape_key)} shapes, sounds in {sounding}"


def told_in_full(arrangement: Arrangement) -> str:
    """Capo and keys in one phrase, for the foot line and the file's own description."""
    keys = keys_words(arrangement)
    if arrangement.capo == 0:
        return keys
    capo = capo_words(arrangement.capo)
    if "shape" in arrangement.lines:
        return f"{capo}, {keys}"
    return f"{keys} ({_for_guitar(arrangement)})"


def _for_guitar(arrangement: Arrangement) -> str:
    capo = capo_words(arrangement.capo)
    return f"guitar: {capo[0].lower()}{capo[1:]}, {key_name(arrangement.shape_key)} shapes"


@dataclass(slots=True)
class Framer:
    """Sets title, band, headings and foot lines for one style."""

    typesetter: Typesetter
    style: Style

    def _text(
        self, text: str, x: float, y: float, font: FontName, size: float, role: str, ink: float = 1
    ) -> Text:
        pieces = self.typesetter.pieces(text, font, size)
        return Text(x, y, self.typesetter.width(pieces), pieces, role, ink)

    def _wrapped(self, text: str, font: FontName, size: float, room: float) -> list[str]:
        """The text in lines that fit, broken at spaces; a word too long is cut."""
        lines: list[str] = []
        for word in text.split():
            joined = f"{lines[-1]} {word}" if lines else word
            if lines and self._width(joined, font, size) <= room:
                lines[-1] = joined
                continue
            lines += self._cut(word, font, size, room)
        return lines or [""]

    def _cut(self, word: str, font: FontName, size: float, room: float) -> list[str]:
        if self._width(word, font, size) <= room:
            return [word]
        parts, used = [""], 0.0
        for character in word:
            width = self._width(character, font, size)
            if used + width > room:
                parts.append("")
                used = 0.0
            parts[-1] += character
            used += width
        return parts

    def _width(self, text: str, font: FontName, size: float) -> float:
        return self.typesetter.width(self.typesetter.pieces(text, font, size))

    # ---- the top of the first page
    def top(self, arrangement: Arrangement) -> PlacedSystem:
        """Title, writer, the band with capo and keys, and notes."""
        style, items = self.style, list[Item]()
        y = 0.0
        size = self._title_size(arrangement.title)
        writer = self._short(arrangement.writer, "italic", style.band, style.line_width * 0.5)
        writer_width = self._width(writer, "italic", style.band)
        lines = self._wrapped(arrangement.title, "title", size, style.line_width)
        for line in lines:
            y += size * 1.08
            items.append(self._text(line, 0, y, "title", size, "title"))
        title_end = self._width(lines[-1], "title", size)
        if writer:
            if title_end + writer_width + style.pt(20) > style.line_width:
                y += style.band * 1.5
            items.append(
                self._text(
                    writer, style.line_width - writer_width, y, "italic", style.band, "writer"
                )
            )
        y += style.pt(9)
        band, height = self._band(arrangement)
        items += [moved(item, 0, y) for item in band]
        y += height
        for note in arrangement.notes:
            for line in self._wrapped(note, "italic", style.cue, style.line_width):
                y += style.cue * 1.35
                items.append(self._text(line, 0, y, "italic", style.cue, "note"))
        return PlacedSystem(tuple(items), y + style.pt(4))

    def _title_size(self, title: str) -> float:
        """The title's size: smaller when it is long, so that it takes fewer lines."""
        width = self._width(title, "title", self.style.title)
        room = self.style.line_width
        return self.style.title * (1 if width <= room else max(0.62, room / width))

    def _short(self, text: str, font: FontName, size: float, room: float) -> str:
        if self._width(text, font, size) <= room:
            return text
        low, high = 0, len(text)
        while low < high:
            middle = (low + high + 1) // 2
            fits = self._width(text[:middle].rstrip() + "…", font, size) <= room
            low, high = (middle, high) if fits else (low, middle - 1)
        return text[:low].rstrip() + "…"

    def _band(self, arrangement: Arrangement) -> tuple[list[Item], float]:
        """Capo in a dark box, keys beside it, meter, tempo and feel at the right."""
        style, size = self.style, self.style.band
        height = size * 1.75
        baseline = height / 2 + size * 0.36
        items: list[Item] = []
        x = 0.0
        if arrangement.capo != 0 and "shape" in arrangement.lines:
            words = capo_words(arrangement.capo)
            width = self._width(words, "strong", size) + style.pt(14)
            items.append(Shape(((0, 0), (width, 0), (width, height), (0, height))))
            items.append(self._text(words, style.pt(7), baseline, "strong", size, "capo", 0.0))
            x = width + style.pt(9)
        keys = self._text(keys_words(arrangement), x, baseline, "strong", size, "keys")
        items.append(keys)
        end = keys.x + keys.width
        if arrangement.capo != 0 and "shape" not in arrangement.lines:
            guitar = self._text(
                _for_guitar(arrangement), end + style.pt(12), baseline, "plain", size, "capo"
            )
            items.append(guitar)
            end = guitar.x + guitar.width
        right = self._right_side(arrangement)
        room = style.line_width - end - style.pt(16)
        right_width = self._width(right, "plain", size)
        rule = height + style.pt(3)
        if right_width <= room:
            place = style.line_width - right_width
            items.append(self._text(right, place, baseline, "plain", size, "band"))
        else:
            right = self._short(right, "plain", size, style.line_width)
            rule += size * 1.5
            items.append(self._text(right, 0, baseline + size * 1.65, "plain", size, "band"))
        items.append(Stroke(0, rule, style.line_width, rule, style.pt(0.9)))
        legend, below = self._legend(arrangement)
        items += [moved(item, 0, rule) for item in legend]
        return items, rule + below

    def _right_side(self, arrangement: Arrangement) -> str:
        parts = [str(arrangement.meter)]
        if arrangement.tempo is not None:
            beat = "♩." if arrangement.meter.compound else "♩"
            parts.append(f"{beat} = {arrangement.tempo}")
        parts += filter(None, (arrangement.feel, arrangement.instrument))
        return "   ".join(parts)

    def _legend(self, arrangement: Arrangement) -> tuple[list[Item], float]:
        """Which line of chords is which, where there are two."""
        style, size = self.style, self.style.small
        if len(arrangement.lines) < 2:
            return [], style.pt(2)
        y = size * 1.5
        bold = self._text("bold: shapes to finger", 0, y, "strong", size, "legend")
        light = self._text(
            "light, below: what sounds", bold.width + style.pt(12), y, "plain", size, "legend",
            SECOND_INK,
        )  # fmt: skip
        return [bold, light], y + style.pt(3)

    # ---- headings and feet
    def heading(self, section: SectionBox) -> PlacedSystem | None:
        """A section's name, how often it is played, and a hairline to the margin."""
        if not section.name and section.times == 1:
            return None
        style, size = self.style, self.style.heading
        times = f"  × {section.times}" if section.times > 1 else ""
        room = style.line_width * 0.8 - self._width(times, "strong", size)
        name = self._text(
            self._short(section.name, "strong", size, room) + times,
            0,
            size,
            "strong",
            size,
            "heading",
        )
        start = name.width + style.pt(8)
        y = size * 0.66
        rule = Stroke(start, y, style.line_width, y, style.pt(0.5), 0.45)
        return PlacedSystem((name, rule), size * 1.3)

    def foot(self, arrangement: Arrangement, number: int, count: int, y: float) -> list[Item]:
        """Title, capo and keys at the left, the page number at the right."""
        style, size = self.style, self.style.small
        page = f"page {number} of {count}"
        width = self._width(page, "plain", size)
        told = told_in_full(arrangement)
        room = style.line_width - width - style.pt(20)
        left = self._short(f"{arrangement.title} — {told}", "plain", size, room)
        if left.endswith("…"):
            title = self._short(
                arrangement.title, "plain", size, room - self._width(f" — {told}", "plain", size)
            )
            left = self._short(f"{title} — {told}", "plain", size, room)
        return [
            self._text(left, 0, y, "plain", size, "foot", SECOND_INK),
            self._text(page, style.line_width - width, y, "plain", size, "foot", SECOND_INK),
        ]
