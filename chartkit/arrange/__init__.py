"""A chart and a player's view of it make an arrangement: shape and sounding side by side."""
