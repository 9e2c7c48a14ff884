"""Pages that are no charts: the adviser's options as a picture."""
