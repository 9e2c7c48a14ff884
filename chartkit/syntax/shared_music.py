"""Headings that say in their own words whose music a section has: Verse 2 like Verse 1."""

import re

_LIKE = re.compile(r"\s\(?(?:same as|like|as|wie)\s", re.IGNORECASE)
"""Words in a name that, like "as", say whose music a section has."""
_AROUND = " ()[].,:;-="


def said_like(name: str) -> tuple[str, str]:
    """The section's own name and the name it is said to be like, such as ``Verse 2`` and
    ``Verse 1`` for ``Verse 2 like Verse 1``; empty if there is none."""
    match = _LIKE.search(name)
    if match is None:
        return "", ""
    return name[: match.start()].strip(_AROUND), name[match.end() :].strip(_AROUND)


def heading_with_music(name: str) -> str:
    """A heading that gives a section the music of another: of the one that its name says it is
    like, else of an example."""
    own, whose = said_like(name)
    return f'"== {own} as {whose}"' if own and whose else '"== Verse 2 as Verse 1"'
