"""Pages as SVG, for the screen."""
