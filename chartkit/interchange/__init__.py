"""Charts in forms that other programs read."""
