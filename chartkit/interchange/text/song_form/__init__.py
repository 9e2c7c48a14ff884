"""Lines of form: which sections come, in which order, how often."""
