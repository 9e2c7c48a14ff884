"""Frames as SVG, for the screen."""
