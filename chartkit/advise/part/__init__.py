"""A second guitar's part: its register, density and rhythm.

The steps: chord occurrences (what sounds when) → grips (one for each chord) → rhythm (one figure
for each section) → chart.  ``propose.py`` is the list of calls.
"""
