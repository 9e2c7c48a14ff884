"""A neck seen from above: the capo on it, and which strings ring how much."""

from chartkit.advise.ranked import RankedOption
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Dot, Item, Shape, Stroke
from chartkit.layout.style import Style

_FRETS = 12
_INLAYS = (3, 5, 7, 9, 12)


def ringing_shares(option: RankedOption, beats: tuple[float, ...]) -> tuple[float, ...]:
    """The share of time each string rings open, bass side first, 0 to 1."""
    strings = max((len(v.frets) for v in option.voicings if v is not None), default=0)
    total = sum(beats) or 1.0
    shares = [0.0] * strings
    for voicing, lasting in zip(option.voicings, beats, strict=True):
        for string in voicing.open_strings if voicing is not None else ():
            shares[string] += lasting / total
    return tuple(shares)


def neck_picture(
    option: RankedOption,
    beats: tuple[float, ...],
    width: float,
    height: float,
    fitter: Fitter,
    style: Style,
) -> list[Item]:
    """The neck in a box of that size in points, nut at the left, bass side below.

    Frets lie by equal temperament.  Beyond the capo each string is drawn the darker and
    thicker the longer it rings open.
    """
    places = [width * (1 - 2 ** (-fret / 12)) / (1 - 2 ** (-_FRETS / 12)) for fret in range(13)]
    items = _frets(places, height, style) + _strings(option, beats, places, height, style)
    if option.option.tuned_down:
        words = f"every string {option.option.tuned_down} lower"
        items.append(
            fitter.text(words, style.pt(4), -style.pt(4), "italic", style.small, role="tuning")
        )
    return items


def _frets(places: list[float], height: float, style: Style) -> list[Item]:
    """The nut, the frets and the inlays below the neck."""
    pt = style.pt
    items: list[Item] = [
        Stroke(x, -pt(2), x, height + pt(2), pt(2.0 if i == 0 else 0.6), 1.0 if i == 0 else 0.5)
        for i, x in enumerate(places)
    ]
    for fret in _INLAYS:
        middle = (places[fret - 1] + places[fret]) / 2
        items.append(Dot(middle, height + pt(6.5), pt(1.2), 0.6))
    return items


def _strings(
    option: RankedOption,
    beats: tuple[float, ...],
    places: list[float],
    height: float,
    style: Style,
) -> list[Item]:
    """The strings, as dark as they ring, and the capo over them."""
    rings = ringing_shares(option, beats)
    space = height / max(1, len(rings) - 1)
    pt, width, items = style.pt, places[-1], list[Item]()
    capo = option.option.fret
    start = 0.0 if capo == 0 else places[min(capo, _FRETS)] - pt(2)
    covered = [i for i in range(len(rings)) if option.option.covers(len(rings) - i)]
    for i, share in enumerate(rings):
        y = height - i * space
        items.append(Stroke(0, y, width, y, pt(0.35), 0.45))
        if share > 0:
            nut = start if i in covered or not capo else 0.0
            items.append(Stroke(nut, y, width, y, pt(0.5 + 2.2 * share), 0.5 + 0.5 * share))
    if covered:
        left, right = start - pt(3.2), start + pt(1.2)
        above, below = height - covered[-1] * space - pt(4), height - covered[0] * space + pt(4)
        items.append(Shape(((left, above), (right, above), (right, below), (left, below))))
    return items
