"""A chart, a view and a look become an arrangement: shapes beside sounding chords."""
