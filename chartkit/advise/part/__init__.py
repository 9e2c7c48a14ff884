"""A second guitar's part: where it lies, how dense it is, and what rhythm it plays.

The way: occasions (what sounds when) → grips (one a chord) → rhythm (a figure a section) →
chart.  ``propose.py`` is the list of calls.
"""
