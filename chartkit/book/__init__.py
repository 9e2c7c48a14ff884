"""A whole set: the set file, the night's plan, and a book for every player."""
