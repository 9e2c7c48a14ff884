"""``python -m chartkit``: the program, as ``chartkit`` runs it."""

from chartkit.cli.start import run

if __name__ == "__main__":
    run()
