"""What can hurt a hand or an instrument, in the words in which every answer says it.

Common practice, no source.  Whoever advises defers to those who are qualified.
"""

IF_IT_HURTS = "If a shape hurts, stop; a teacher or doctor can help."
"""Stands under every list of shapes."""
TUNED_DOWN = (
    "Strings tuned down buzz more, and more than two half steps down they are slack; ask a "
    "qualified repairer about the neck."
)
"""Stands where a tuning below the usual one is among the places."""
