"""What a call with a wrong command or option probably meant."""

from collections.abc import Collection, Sequence
from pathlib import Path

from chartkit.phrases import nearest

_COMMANDS = {
    "engrave": "pdf print render typeset draw make layout",
    "book": "books set setlist gig",
    "plan": "night order",
    "capo": "capos rank best",
    "part": "second-guitar arrange",
    "singer": "sing voice range key keys",
    "strings": "tuning tune tension",
    "check": "lint validate test",
    "tidy": "format fmt clean",
    "transpose": "move shift",
    "intake": "import read open load mail",
    "export": "convert save midi musicxml xml json text",
    "desk": "edit editor gui web browser serve start",
}
"""Other names that the commands are looked for under (common practice, no source)."""
_OPTIONS = {
    "--key": ("--transpose", "--to-key", "--in"),
    "--by": ("--transpose", "--steps", "--semitones", "--half-steps", "--up"),
    "--output": ("--out", "--to-file", "--file", "--folder"),
    "--highest": ("--max", "--max-capo", "--highest-capo", "--up-to"),
    "--tune-down": ("--tuned-down", "--tuning", "--down"),
    "--down": ("--tune-down", "--tuned-down"),
    "--to": ("--format", "--type"),
    "--size": ("--font-size", "--scale", "--zoom"),
    "--notes": ("--language", "--lang"),
    "--show": ("--reads", "--lines", "--only"),
    "--replace": ("--force", "--overwrite"),
    "--jobs": ("--workers", "--threads"),
    "--instrument": ("--tuning",),
    "--beside": ("--with",),
    "--version": ("--v", "--V"),
}
"""Other names that options are looked for under (common practice, no source)."""


def meant_command(name: str, names: Sequence[str]) -> str:
    """A hint for a word that is no command."""
    if name.endswith(".toml"):
        return f"for the books of a set: chartkit book {name} -o books/"
    if name.endswith(".chart") or Path(name).is_file():
        return f"a command comes first: chartkit engrave {name}"
    if name == "version":
        return "did you mean chartkit --version?"
    others = (command for command, words in _COMMANDS.items() if name.lower() in words.split())
    near = next(others, "") or nearest(name, names)
    return f"did you mean chartkit {near}?" if near else "chartkit --help lists them"


def meant_option(typed: str, options: Collection[str]) -> str:
    """The long option that a word which is no option probably meant; empty if none is likely."""
    word = "--" + typed.lstrip("-")
    others = (option for option, words in _OPTIONS.items() if option in options and word in words)
    return next(others, "") or nearest(word, options, 0.7)


def instead(command: str, typed: str, options: Collection[str]) -> str:
    """A hint for an option that a command does not have; empty if there is nothing to say."""
    if typed in ("-o", "--output") and "--output" not in options:
        if command.endswith("tidy"):
            return "tidy changes the chart's own file"
        return f"it prints its result: {command} ... > FILE"
    number = typed[1:]
    if number.isdecimal() and "--by" in options:
        return f"half steps: --by {typed}"
    return ""
