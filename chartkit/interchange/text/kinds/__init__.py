"""What a line of a sheet can be, and the kinds of lines that show theirs alone."""
