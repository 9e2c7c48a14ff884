"""Decides once what each line is, also by the lines around it."""
