"""Charts for tests, and the short way to read one."""

from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import PageLook, PaperName, Show, Sizes
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.diagnostics import Source, diagnostic_text
from chartkit.syntax.reader import read_chart

SMALL = """\
title: Small Song
key: Db major
capo: 1

== Verse
    | Db   | Gb Ab    |
: O | low  | lan- / tern |
"""

DENSE = """\
title: A Study in Long Titles That Will Hardly Fit on One Line of the Page, Whatever One Does
writer: Someone With a Rather Long Name and the Tidewater Five Orchestra
key: Eb major
capo: 1

== Head
| Ebmaj9 C7(b9,#11) | Fm9 Bb13(b9) | Gm7b5 C7alt Fm7 Bb7sus4 | Ebmaj7#11/G Gbdim7 Fm11 E7#9 |
: | a | b | c / d / e / f | extraordinarily / incomprehensible / syl- / lables |
| Ebmaj9 C7(b9,#11) | Fm9 Bb13(b9) | Gm7b5 C7alt Fm7 Bb7sus4 | Ab | Ab/C Bb | Cm | Fm7 | Eb |

== Verse
         | Eb | Ab | Bb7 | Eb |
1: One   | a first verse that is sung with a great | lot of words | in every | bar |
2: Two   | second | third words | hold | _ |
3: Three | sec- | ond words | un- | derstood |
4: Four  | second and more | third words | every | bar |
5: Five  | second | _ | _ | end |

== Long
| Eb! | (Ab) | <Bb7~ / <C / | %% |
: One | a single bar with far more words than any line of any page could ever hold, on and on
: One | an-ex-tra-or-di-na-ri-ly-long-word-that-nobody-could-sing-in-one-breath | b | c | d |

== Free
Eb Ab "slowly" Bb7sus4/F Cm
: la / la la / oh my / goodness

== Marks
key: C minor
"half time, and very softly, as if from far away across the water in the dark of the night"
|: @coda Cm "softly" | Ab @to-coda |1. G7 "rit." / / / @D.C. al Fine :|2. Cm,Bb/D Eb / Ab @fine ||
""".replace("on and on\n", "on and on | b | c | d |\n")


def chart_of(text: str) -> Chart:
    """The chart of a text that has no errors."""
    source = Source(text)
    reading = read_chart(source)
    errors = [diagnostic_text(d, source) for d in reading.diagnostics if d.severity == "error"]
    assert not errors, "\n".join(errors)
    return reading.chart


def arranged(text: str, view: View | None = None, look: PageLook | None = None) -> Arrangement:
    """The arrangement of a text for a view and a look."""
    return arrange(chart_of(text), view or View(), look)


def sized(size: float | None, paper: PaperName = "a4", show: Show = "both") -> PageLook:
    """The look of a page with its type at one size."""
    return PageLook(paper=paper, size=None if size is None else Sizes(size, size), show=show)


def bars(row: str, **settings: str) -> str:
    """A chart of one row of music."""
    top = "".join(f"{name}: {value}\n" for name, value in settings.items())
    return f"{top}\n{row}\n"
