"""What can hurt a hand or an instrument, in the words in which every answer says it.

Common practice, no source.  Whoever advises defers to those who are qualified.
"""

IF_IT_HURTS = "If a shape hurts, stop; a teacher or doctor can help."
"""Stands under every list of shapes."""
TUNED_DOWN = (
    "Tuned down, strings buzz more and past two half steps get floppy; a qualified repairer "
    "decides about the neck."
)
"""Stands where a tuning below the usual one is among the places."""
