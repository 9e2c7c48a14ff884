"""The chart as it grows while the lines are read, and what only the whole sheet settles."""
