"""Tells the lines of a song from those around it, before anything else is known of a sheet."""

import re

from chartkit.interchange.text.names.headings import heading_of

_LIKE_MUSIC = re.compile(
    r"[|:(\[]*(?:[A-H](?:maj|min|[#b♭♯\dmsaugdi+()/A-G]){0,8}[*:|)\],.]*|[|/%:x-]\S{0,8}|N\.?C\.?)"
)


def is_of_a_song(line: str) -> bool:
    """Whether a line is a section's name or could be a row of chords."""
    words = line.split()
    return bool(words) and (
        heading_of(line) is not None or all(_LIKE_MUSIC.fullmatch(word) for word in words)
    )
