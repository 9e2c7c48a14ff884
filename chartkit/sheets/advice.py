"""The advice sheet: the options for a song on one page, best first."""

from collections.abc import Callable
from dataclasses import dataclass

from chartkit.advise.cautions import IF_IT_HURTS, TUNED_DOWN
from chartkit.advise.measures import Measures
from chartkit.advise.ranked import RankedOption
from chartkit.advise.ranking import Advice
from chartkit.arrange.page_look import PaperName
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Document, Item, Page, Shape, Stroke, Text, moved_item
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.place import SECOND_INK
from chartkit.layout.style import Style, style_for
from chartkit.sheets.neck import neck_picture
from chartkit.sheets.registers import RegisterRow, register_picture
from chartkit.theory.naming import key_words

_OPTIONS = 6
_ROW_HEIGHT = 86.0
_REASON = 71.0
"""How high an option is, and how far down in it the first line of its reason stands, in points
at scale 1."""
_BARS: tuple[tuple[str, Callable[[Measures], float], float], ...] = (
    ("open shapes", lambda measures: measures.open_share, 1.0),
    ("ringing", lambda measures: measures.ring, 0.6),
    ("kept ringing", lambda measures: measures.kept, 0.6),
    ("barres", lambda measures: measures.barres, 1.0),
    ("effort", lambda measures: measures.effort, 6.0),
)
"""What the bars measure and the value of a full bar; effort has no unit, six is hard."""
_WANTED = 3
"""How many of them are good when long; the others are bad."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The content of the sheet: the question, the verdict, the options with their ranks."""

    question: str
    verdict: str
    options: tuple[tuple[int, RankedOption], ...]


def advice_sheet(
    title: str,
    advice: Advice,
    answer: Answer,
    rows: tuple[RegisterRow, ...],
    metrics: Metrics,
    paper: PaperName = "a4",
) -> Document:
    """The first options of a song as one page: capo and ringing strings on a neck, bars for
    the measures, the reasons, and underneath the registers of the parts."""
    typesetter = Typesetter(metrics)
    style, fitter = style_for(paper), Fitter(typesetter)
    items, y = _head(title, advice, answer, fitter, style)
    picture, high = register_picture(rows, fitter, style) if rows else ([], 0.0)
    cautions, foot = _cautions(answer, fitter, style)
    gap = style.pt(10)
    shown = [(n, option, _option(n, option, advice, fitter, style)) for n, option in answer.options]
    step, before = style.small * _LEFT_OUT, 0
    for place, _, (drawn, height) in _fitting(
        shown[:_OPTIONS], advice, foot - y - high - 2 * gap - step
    ):
        if place > before + 1:
            items.append(fitter.text("…", 0, y + step * 0.4, "strong", style.cue, role="left out"))
            y += step
        items += [moved_item(item, 0, y) for item in drawn]
        y, before = y + height, place
    items += [moved_item(item, 0, y + gap) for item in picture]
    items += cautions
    placed = tuple(moved_item(item, style.paper.side, style.paper.top) for item in items)
    page = Page(style.paper.width, style.paper.height, placed)
    return Document(
        title=f"{answer.question}: {title}",
        author="",
        language="en",
        subject=answer.verdict,
        pages=(page,),
        missing=frozenset(typesetter.missing),
    )


_Block = tuple[int, RankedOption, tuple[list[Item], float]]
"""A drawn option with its place in the ranking, and its height."""


def _fitting(blocks: list[_Block], advice: Advice, room: float) -> list[_Block]:
    """As many of the first options as there is room for; the one without a capo goes last."""
    fitting = list(blocks)
    while len(fitting) > 1 and sum(height for _, _, (_, height) in fitting) > room:
        droppable = [i for i, (_, option, _) in enumerate(fitting) if option != advice.no_capo]
        del fitting[droppable[-1] if droppable and droppable[-1] else -1]
    return fitting


_LEFT_OUT = 1.6
"""How far down the dots for places left out push the next one, in sizes of small print."""

_STRINGS = f"{TUNED_DOWN} Never tune strings up: they can break and hurt."


def _cautions(answer: Answer, fitter: Fitter, style: Style) -> tuple[list[Item], float]:
    """The usual cautions at the foot of the page, and how far down they begin."""
    words = IF_IT_HURTS
    if any(option.option.tuned_down for _, option in answer.options[:_OPTIONS]):
        words = f"{_STRINGS} {IF_IT_HURTS}"
    lines = fitter.wrapped(words, "plain", style.small, style.line_width)
    foot = style.paper.height - style.paper.top - style.paper.bottom
    y = foot - (len(lines) - 1) * style.small * 1.3
    drawn: list[Item] = [
        fitter.text(
            line, 0, y + i * style.small * 1.3, "plain", style.small, role="caution", ink=SECOND_INK
        )
        for i, line in enumerate(lines)
    ]
    return drawn, y - style.small


def first_options(advice: Advice) -> tuple[tuple[int, RankedOption], ...]:
    """The first options with their places, the one without a capo always among them."""
    ranked = list(enumerate(advice.options, 1))
    first = ranked[:_OPTIONS]
    without = next((r for r in ranked if r[1] == advice.no_capo), None)
    if without is not None and without not in first:
        first = [*first[:-1], without]
    return tuple(first)


def _head(
    title: str, advice: Advice, answer: Answer, fitter: Fitter, style: Style
) -> tuple[list[Item], float]:
    size = fitter.fitting_size(title, "title", style.title, style.line_width)
    size = max(size, style.title * 0.5)
    shown = fitter.shortened(title, "title", size, style.line_width)
    keys = ", ".join(key_words(key) for key in advice.song.keys)
    items: list[Item] = [fitter.text(shown, 0, style.title, "title", size, role="title")]
    y = style.title + style.band * 1.6
    line_under = fitter.shortened(
        f"{answer.question}; sounding in {keys}; {advice.instrument.name}",
        "plain",
        style.band,
        style.line_width,
    )
    items.append(fitter.text(line_under, 0, y, "plain", style.band, role="band"))
    for line in fitter.wrapped(answer.verdict, "italic", style.cue, style.line_width):
        y += style.cue * 1.45
        items.append(fitter.text(line, 0, y, "italic", style.cue, role="verdict"))
    y += style.pt(8)
    items.append(Stroke(0, y, style.line_width, y, style.pt(0.9)))
    legend = "the thicker a string beyond the capo, the longer it rings open"
    y += style.small * 1.4
    items.append(fitter.text(legend, 0, y, "plain", style.small, role="legend", ink=SECOND_INK))
    return items, y + style.pt(8)


def _option(
    number: int, option: RankedOption, advice: Advice, fitter: Fitter, style: Style
) -> tuple[list[Item], float]:
    """An option with its reason in as many lines as it takes, two at most, and its height."""
    pt, width = style.pt, style.line_width
    items: list[Item] = [*_name(number, option, fitter, style)]
    beats = tuple(held.beats for held in advice.song.held_chords)
    neck = neck_picture(option, beats, width * 0.34, pt(34), fitter, style)
    items += [moved_item(item, width * 0.27, pt(10)) for item in neck]
    items += [
        moved_item(item, width * 0.66, 0) for item in _bars(option, width * 0.34, fitter, style)
    ]
    size, step = style.small, style.small * 1.25
    first, *more = fitter.wrapped(option.reason, "words", size, width)
    lines = [first, fitter.shortened(" ".join(more), "words", size, width)] if more else [first]
    for i, line in enumerate(lines):
        items.append(fitter.text(line, 0, pt(_REASON) + i * step, "words", size, role="reason"))
    extra = step * (len(lines) - 1)
    rule = pt(_REASON + 7) + extra
    items.append(Stroke(0, rule, width, rule, pt(0.4), 0.4))
    return items, pt(_ROW_HEIGHT) + extra


def _name(number: int, option: RankedOption, fitter: Fitter, style: Style) -> list[Text]:
    pt, room = style.pt, style.line_width * 0.25
    option_words = option.option.brief
    name = fitter.shortened(
        option_words[0].upper() + option_words[1:], "strong", style.strong, room - pt(18)
    )
    shapes = fitter.shortened(
        f"{key_words(option.shape_keys[0])} shapes", "plain", style.band, room - pt(18)
    )
    used = sum(1 for use in option.shapes if use.voicing is not None and use.voicing.open_strings)
    count = f"{used} of {len(option.shapes)} shapes ring open"
    return [
        fitter.text(str(number), 0, pt(20), "title", style.strong, role="place"),
        fitter.text(name, pt(18), pt(20), "strong", style.strong, role="option"),
        fitter.text(shapes, pt(18), pt(35), "plain", style.band, role="shapes"),
        fitter.text(count, pt(18), pt(48), "italic", style.small, role="count", ink=SECOND_INK),
    ]


def _bars(option: RankedOption, width: float, fitter: Fitter, style: Style) -> list[Item]:
    """The measures as bars: dark for what is wanted, outlined for what is not."""
    pt, size, items = style.pt, style.small * 0.94, list[Item]()
    start = max(fitter.width(name, "plain", size) for name, _, _ in _BARS) + pt(6)
    for i, (name, value, full) in enumerate(_BARS):
        y = pt(8) + i * pt(10.6)
        length = max(pt(0.8), (width - start) * min(1.0, max(0.0, value(option.measures)) / full))
        items.append(fitter.text(name, 0, y + pt(6), "plain", size, role="measure"))
        corners = (
            (start, y),
            (start + length, y),
            (start + length, y + pt(6.4)),
            (start, y + pt(6.4)),
        )
        items.append(Shape(corners, 0.0, 0.85) if i < _WANTED else Shape(corners, pt(0.8), 1.0))
    return items
