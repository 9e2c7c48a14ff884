"""The head of a sheet: title, writer, settings and notes above the song."""
