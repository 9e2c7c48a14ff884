"""Outlines of musical signs, in thousandths of an em, y upwards.

Taken from the glyphs U+1D10B, U+1D10C, U+1D10E, U+1D10F, U+1D110 and U+1D13B to U+1D140 of Noto
Music (SIL Open Font License 1.1).  They are drawn as paths, since they are no part of a text.
Quadratic curves, as SVG path data writes them.

Pasted rather than read from the font, since layout knows no font, and PDF and SVG draw the same path.
"""

import re
from functools import cache
from typing import Literal

from chartkit.chart.marks import MarkKind

GlyphName = Literal[
    "segno", "coda", "fermata", "simile", "simile2",
    "rest-1", "rest-2", "rest-4", "rest-8", "rest-16", "rest-32",
]  # fmt: skip
"""Signs by their names; rests by the note they last as long as."""

MARK_GLYPHS: dict[MarkKind, tuple[GlyphName, float]] = {
    "segno": ("segno", 1.5),
    "coda": ("coda", 1.5),
    "fermata": ("fermata", 0.82),
}
"""The outline of each mark that is drawn, and its height in sizes of a cue."""

SIGNS_BEHIND: dict[MarkKind, GlyphName] = {"to-coda": "coda"}
"""The sign that is drawn after the words of a mark."""

_PATHS: dict[GlyphName, str] = {
    "segno": (
        "M238 462Q147 507 99.5 560.5Q52 614 52 677Q52 718 72.5 755.0Q93 792 127.5 "
        "815.5Q162 839 204 839Q252 839 285.0 811.0Q318 783 318 739Q318 717 301.5 "
        "704.0Q285 691 265 691Q242 691 229.5 700.0Q217 709 212 724L203 752Q198 768 190.0 "
        "778.0Q182 788 165 788Q143 788 128.0 766.5Q113 745 113 720Q113 678 150 642Q187 "
        "607 300 560L482 833H536L343 540Q441 490 483.0 436.5Q525 383 525 323Q525 280 "
        "505.0 243.5Q485 207 450.0 185.0Q415 163 371 163Q320 163 290.5 191.5Q261 220 261 "
        "257Q261 280 275.0 294.0Q289 308 314 308Q343 308 354.5 293.5Q366 279 369 261Q372 "
        "243 380.0 228.5Q388 214 407 214Q434 214 450.0 233.0Q466 252 466 282Q466 345 384 "
        "388Q343 409 317.0 422.5Q291 436 280 442L103 167H50ZM516 636Q536 636 550.5 "
        "621.5Q565 607 565 587Q565 567 550.5 552.5Q536 538 516 538Q496 538 481.5 "
        "552.5Q467 567 467 587Q467 607 481.5 621.5Q496 636 516 636ZM103 462Q123 462 137.5 "
        "447.5Q152 433 152 413Q152 393 137.5 378.5Q123 364 103 364Q83 364 68.5 378.5Q54 "
        "393 54 413Q54 433 68.5 447.5Q83 462 103 462Z "
    ),
    "coda": (
        "M255 246V303Q194 311 155.5 358.0Q117 405 108 484H50V516H108Q117 594 154.0 "
        "641.0Q191 688 255 697V754H288V697Q353 688 389.5 640.5Q426 593 435 "
        "516H493V484H435Q426 405 388.0 358.0Q350 311 288 303V246ZM255 516V668Q228 667 212 "
        "646Q198 627 192.5 600.0Q187 573 187 516ZM288 516H356Q356 545 355.0 566.0Q354 587 "
        "351 600Q345 626 331.0 646.5Q317 667 288 668ZM288 484V332Q317 334 331 354Q345 374 "
        "350.5 400.5Q356 427 356 484ZM255 484H187Q187 456 188.0 435.5Q189 415 192 402Q198 "
        "376 212.0 354.5Q226 333 255 332Z "
    ),
    "fermata": (
        "M673 648Q671 698 646.0 743.0Q621 788 579.5 823.0Q538 858 486.0 878.0Q434 898 378 "
        "898Q324 898 272.5 879.0Q221 860 179.0 825.5Q137 791 111.0 746.0Q85 701 83 "
        "648H50Q57 720 83.0 783.5Q109 847 152.0 896.0Q195 945 252.0 972.5Q309 1000 378 "
        "1000Q447 1000 505.5 971.5Q564 943 607.5 894.0Q651 845 677.0 781.5Q703 718 708 "
        "648ZM378 648Q353 648 337.0 662.0Q321 676 321 699Q321 719 337.5 732.5Q354 746 378 "
        "746Q401 746 417.0 731.5Q433 717 433 699Q433 676 417.0 662.0Q401 648 378 648Z"
    ),
    "simile": (
        "M430 736H590L210 264H50ZM154 670Q180 670 199.0 651.0Q218 632 218 606Q218 580 "
        "199.0 561.5Q180 543 154 543Q128 543 109.5 561.5Q91 580 91 606Q91 632 109.5 "
        "651.0Q128 670 154 670ZM486 457Q512 457 531.0 438.0Q550 419 550 393Q550 367 531.0 "
        "348.5Q512 330 486 330Q460 330 441.5 348.5Q423 367 423 393Q423 419 441.5 "
        "438.0Q460 457 486 457Z "
    ),
    "simile2": (
        "M430 736H590L210 264H50ZM680 736H840L460 264H300ZM154 670Q180 670 199.0 "
        "651.0Q218 632 218 606Q218 580 199.0 561.5Q180 543 154 543Q128 543 109.5 561.5Q91 "
        "580 91 606Q91 632 109.5 651.0Q128 670 154 670ZM736 457Q762 457 781.0 438.0Q800 "
        "419 800 393Q800 367 781.0 348.5Q762 330 736 330Q710 330 691.5 348.5Q673 367 673 "
        "393Q673 419 691.5 438.0Q710 457 736 457Z "
    ),
    "rest-1": ("M50 488V512H733V488H573V378H210V488Z"),
    "rest-2": ("M50 244V268H210V378H573V268H733V244Z"),
    "rest-4": (
        "M147 878 307 683Q257 624 230.0 581.0Q203 538 203 494Q203 457 227.0 416.5Q251 376 "
        "303 314L287 292Q243 320 205 320Q177 320 163.0 301.5Q149 283 149 257Q149 225 162.5 "
        "196.5Q176 168 199 142L186 123Q117 173 84.0 214.0Q51 255 51 303Q51 346 78.0 "
        "366.0Q105 386 143 386Q173 386 221 363V365L67 570Q168 659 168 736Q168 797 104 878Z"
    ),
    "rest-8": (
        "M155 269 251 609Q230 590 203.5 582.0Q177 574 151 574Q108 574 79.0 597.0Q50 620 50 "
        "663Q50 691 70.0 710.5Q90 730 121 730Q150 730 168.5 711.5Q187 693 187 662Q187 640 "
        "177 623Q177 617 189 617Q244 617 294 703H312L191 269Z"
    ),
    "rest-16": (
        "M155 147 251 487Q230 468 203.5 460.0Q177 452 151 452Q108 452 79.0 475.0Q50 498 50 "
        "541Q50 569 69.5 588.5Q89 608 121 608Q150 608 168.5 589.5Q187 571 187 540Q187 518 "
        "177 501Q177 495 189 495Q230 495 267 541L319 731Q298 712 271.5 704.0Q245 696 219 "
        "696Q176 696 147.0 719.0Q118 742 118 785Q118 813 138.0 832.5Q158 852 189 852Q219 "
        "852 237.0 833.0Q255 814 255 784Q255 774 252.0 763.5Q249 753 245 745Q245 739 257 "
        "739Q312 739 362 825H380L191 147Z"
    ),
    "rest-32": (
        "M155 -4 251 336Q230 317 203.5 309.0Q177 301 151 301Q108 301 79.0 324.0Q50 347 50 "
        "390Q50 417 70.0 437.0Q90 457 121 457Q150 457 168.5 438.5Q187 420 187 389Q187 367 "
        "177 350Q177 344 189 344Q230 344 267 390L319 580Q298 561 271.5 553.0Q245 545 219 "
        "545Q176 545 147.0 568.0Q118 591 118 634Q118 663 138.0 682.0Q158 701 189 701Q219 "
        "701 237.0 682.0Q255 663 255 633Q255 623 252.0 612.5Q249 602 245 594Q245 588 257 "
        "588Q298 588 334 633L390 834Q369 815 342.5 807.0Q316 799 290 799Q247 799 218.0 "
        "822.0Q189 845 189 888Q189 917 209.0 936.0Q229 955 260 955Q290 955 308.0 936.0Q326 "
        "917 326 887Q326 877 323.0 866.5Q320 856 316 848Q316 842 328 842Q382 842 433 "
        "928H451L191 -4Z"
    ),
}


@cache
def glyph_aspect(name: GlyphName) -> float:
    """Width over height of a sign's outline."""
    segments, left, _, height = outline(name)
    return (max(x for _, values in segments for x in values[::2]) - left) / height


PathSegment = tuple[str, tuple[float, ...]]
"""A path command of PDF: ``m`` and ``l`` with a point, ``c`` with three, ``h`` closing."""


@cache
def outline(name: GlyphName) -> tuple[tuple[PathSegment, ...], float, float, float]:
    """The sign as path segments, its left and lowest edge, and its height, in its own units."""
    segments: list[PathSegment] = []
    here = (0.0, 0.0)
    for letter, numbers in re.findall(r"([MLHVQZ])([^MLHVQZ]*)", _PATHS[name]):
        values = [float(number) for number in re.findall(r"-?[\d.]+", numbers)]
        for part in _parts(letter, values, here):
            segments.append(part)
            if part[1]:
                here = part[1][-2], part[1][-1]
    xs = [x for _, values in segments for x in values[::2]]
    ys = [y for _, values in segments for y in values[1::2]]
    return tuple(segments), min(xs), min(ys), max(ys) - min(ys)


def _parts(letter: str, values: list[float], here: tuple[float, float]) -> list[PathSegment]:
    match letter:
        case "M":
            return [("m", (values[0], values[1])), *_lines(values[2:])]
        case "L":
            return _lines(values)
        case "H":
            return [("l", (x, here[1])) for x in values]
        case "V":
            return [("l", (here[0], y)) for y in values]
        case "Q":
            return _curves(values, here)
    return [("h", ())]


def _lines(values: list[float]) -> list[PathSegment]:
    return [("l", (x, y)) for x, y in zip(values[::2], values[1::2], strict=True)]


def _curves(values: list[float], here: tuple[float, float]) -> list[PathSegment]:
    """Quadratic curves as the cubic ones that PDF knows."""
    made: list[PathSegment] = []
    x0, y0 = here
    for i in range(0, len(values), 4):
        cx, cy, x, y = values[i : i + 4]
        first = x0 + 2 / 3 * (cx - x0), y0 + 2 / 3 * (cy - y0)
        second = x + 2 / 3 * (cx - x), y + 2 / 3 * (cy - y)
        made.append(("c", (*first, *second, x, y)))
        x0, y0 = x, y
    return made
