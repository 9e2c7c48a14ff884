"""The tests: each docstring is a claim about the program."""
