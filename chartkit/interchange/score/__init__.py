"""A score as measures in time, and the chart made from it; no file format is known here."""
