"""What this room takes from ReportLab, loaded while Ctrl-C waits.

ReportLab looks for libraries that it can do without, and takes any exception, Ctrl-C too, for
their absence: the program would run on as if nobody had stopped it.
"""

from chartkit.interrupts import interrupts_held_back

with interrupts_held_back():
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import FF_NONSYMBOLIC, FF_SYMBOLIC, TTFError, TTFont

__all__ = [
    "FF_NONSYMBOLIC",
    "FF_SYMBOLIC",
    "TTFError",
    "TTFont",
    "pdfmetrics",
]
