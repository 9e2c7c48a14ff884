"""What must hold of any page, found out by geometry."""

from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise

from chartkit.layout.frames import Document, Dot, Glyph, Item, Page, Piece, Shape, Stroke, Text
from chartkit.layout.metrics import Typesetter

ASCENT, DESCENT = 0.74, 0.21
"""How far letters reach above and below their baseline, as parts of their size; figures
stand on it."""
TOUCH = 0.05
"""Points by which neighbours may seem to touch through rounding."""

Box = tuple[float, float, float, float]


class BoxMetrics:
    """A font of boxes half an em wide, so that widths can be worked out by hand."""

    def width(self, font: str, text: str) -> float:
        """Half an em for every character."""
        return len(text) / 2

    def has(self, font: str, character: str) -> bool:
        """Every character but one is there."""
        return character != "\u0e01"


def texts(document: Document, *roles: str) -> list[str]:
    """The texts of some roles in reading order."""
    return [
        item.plain
        for page in document.pages
        for item in page.items
        if isinstance(item, Text) and item.role in roles
    ]


def reach(piece: Piece) -> tuple[float, float]:
    """How far a piece reaches above and below its own baseline, as parts of its size.  Our own
    signs stand on it: accidentals as high as capitals, tall parentheses an em high."""
    if piece.font.endswith("-signs"):
        return (1.01, 0.01) if piece.text in "()" else (0.714, 0.0)
    return ASCENT, DESCENT * (not piece.text.isdigit())


def box_of(item: Item) -> Box:
    """Left, top, right, bottom of anything placed."""
    match item:
        case Text():
            top = max(p.rise + p.size * reach(p)[0] for p in item.pieces)
            low = max(p.size * reach(p)[1] - p.rise for p in item.pieces)
            return item.x, item.y - top, item.x + item.width, item.y + low
        case Stroke():
            return (
                min(item.x0, item.x1),
                min(item.y0, item.y1),
                max(item.x0, item.x1),
                max(item.y0, item.y1),
            )
        case Shape():
            xs, ys = [p[0] for p in item.points], [p[1] for p in item.points]
            return min(xs), min(ys), max(xs), max(ys)
        case Dot():
            r = item.radius
            return item.x - r, item.y - r, item.x + r, item.y + r
        case Glyph():
            return item.x, item.y - item.height, item.x + item.height, item.y


def columns_in(document: Document) -> list[Page]:
    """Every page, or every column of a document in two columns as a page of its own."""
    if document.choices is None or document.choices.columns == 1:
        return list(document.pages)
    halves = []
    for page in document.pages:
        middle = page.width / 2
        for right in (False, True):
            items = [i for i in page.items if (box_of(i)[0] + box_of(i)[2] > 2 * middle) == right]
            halves.append(replace(page, items=tuple(items)))
    return halves


def off_page(page: Page) -> list[Item]:
    """Everything that reaches beyond the paper."""
    return [
        item
        for item in page.items
        if (b := box_of(item))[0] < -TOUCH
        or b[1] < -TOUCH
        or b[2] > page.width + TOUCH
        or b[3] > page.height + TOUCH
    ]


def overlapping(page: Page) -> list[tuple[str, str]]:
    """Texts that run into one another, pair by pair."""
    boxes = sorted(
        (box_of(i), i.plain) for i in page.items if isinstance(i, Text) and i.plain.strip()
    )
    pairs = []
    for at, (one, name) in enumerate(boxes):
        for other, other_name in boxes[at + 1 :]:
            if other[0] >= one[2] - TOUCH:
                break
            if other[1] < one[3] - TOUCH and one[1] < other[3] - TOUCH:
                pairs.append((name, other_name))
    return pairs


def run_together(page: Page, space: Callable[[float], float]) -> list[tuple[str, str]]:
    """Words of one line that stand closer than a space, which is so wide at a size of type, and
    would be read as one word."""
    return [
        (one.plain, other.plain)
        for line in lines_of(page, "words", "verse")
        for one, other in pairwise(line)
        if other.x - one.x - one.width < 0.9 * space(one.pieces[0].size)
    ]


def in_bar_lines(page: Page) -> list[str]:
    """Chord names that a bar line or a stem runs through.  Over the first third of its root a
    name is no higher than that, whatever is raised after it."""
    uprights = [i for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1]
    chords = [
        (box_of(i), box_of(i._replace(pieces=i.pieces[:1])), i)
        for i in page.items
        if isinstance(i, Text) and i.role in ("shape", "sounding", "number")
    ]
    return [
        chord.plain
        for box, root, chord in chords
        for line in uprights
        if box[0] + TOUCH < line.x0 < box[2] - TOUCH
        and line.y0 < box[3]
        and line.y1 > (root if line.x0 - box[0] < chord.pieces[0].size / 3 else box)[1]
    ]


def lines_of(page: Page, *roles: str) -> list[list[Text]]:
    """The texts of some roles, line by line from the top, each line from the left."""
    rows: dict[float, list[Text]] = defaultdict(list)
    for item in page.items:
        if isinstance(item, Text) and item.role in roles:
            rows[round(item.y, 2)].append(item)
    return [sorted(rows[y]) for y in sorted(rows)]


def unmatched_sounding(page: Page) -> list[str]:
    """Sounding chords that do not start just under a shape."""
    shapes = {(round(i.x, 2), round(i.y, 2)) for line in lines_of(page, "shape") for i in line}
    heights = sorted({y for _, y in shapes})
    wrong = []
    for line in lines_of(page, "sounding"):
        above = max((y for y in heights if y < line[0].y), default=None)
        wrong += [i.plain for i in line if above is None or (round(i.x, 2), above) not in shapes]
    return wrong


def out_of_order(document: Document) -> Iterator[str]:
    """Words of one line that do not follow one another from left to right."""
    for page in columns_in(document):
        for line in lines_of(page, "words"):
            in_text = [i for i in page.items if isinstance(i, Text) and i in line]
            for one, other in pairwise(in_text):
                if other.x <= one.x:
                    yield f"{one.plain} / {other.plain}"


def dump(document: Document) -> str:
    """A page as text: every line of type with the places of what stands on it."""
    out = []
    for number, page in enumerate(document.pages, 1):
        out.append(f"page {number}: {page.width:.0f} x {page.height:.0f}")
        rows: dict[float, list[Text]] = defaultdict(list)
        for item in page.items:
            if isinstance(item, Text):
                rows[item.y].append(item)
        for y in sorted(rows):
            placed = "  ".join(f"{i.x:.0f}:{i.plain}" for i in sorted(rows[y], key=lambda i: i.x))
            out.append(f"{y:5.0f} {rows[y][0].role:9s} {placed}")
    return "\n".join(out)


HANG = 4.0 * 1.5
"""Points by which opening quotes may stand out to the left, at the largest scale."""


def astray(page: Page, strong: str) -> list[str]:
    """Words that begin neither under a chord or slash, nor at a bar's start, nor as a pick-up.

    ``strong`` is the role of the line of chords that words are held against.
    """
    chords = lines_of(page, strong)
    slashes = [i for i in page.items if isinstance(i, Stroke) and i.x0 != i.x1 and i.y0 != i.y1]
    uprights = [i for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1]
    wrong = []
    for line in lines_of(page, "words"):
        above = max((row[0].y for row in chords if row[0].y < line[0].y), default=None)
        if above is None:
            continue
        starts = [i.x for i in page.items if isinstance(i, Text) and i.y == above]
        starts += [i.x0 for i in slashes if abs(i.y0 - above) < TOUCH]
        bars = [i.x0 for i in uprights if i.y0 < above < i.y1]
        first = min(bars, default=0.0)
        for word in line:
            fits = any(-TOUCH <= x - word.x <= HANG for x in starts)
            opens = any(0 < word.x - x < 30 for x in bars)
            if not fits and not opens and word.x > first:
                wrong.append(word.plain)
    return wrong


def uneven_baselines(page: Page, upper: str, lower: str) -> list[float]:
    """How far the lines of one role stand under those of another, where they do not all do
    so alike."""
    tops, feet = ({i.y for line in lines_of(page, role) for i in line} for role in (upper, lower))
    apart = sorted(foot - max(y for y in tops if y < foot) for foot in feet)
    return apart if apart and apart[-1] - apart[0] > TOUCH else []


def stretched(page: Page, typesetter: Typesetter) -> list[str]:
    """Texts that are not as wide as their letters."""
    return [
        i.plain
        for i in page.items
        if isinstance(i, Text) and abs(i.width - typesetter.width(i.pieces)) > TOUCH
    ]
