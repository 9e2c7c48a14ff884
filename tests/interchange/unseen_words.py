"""Known sheets with words that no reader can know: how many survive.

Names of sections become invented names, and remarks to the players invented words, in the sheet and
in its expected chart alike.  What is still read rightly is read by its place and by the habits of
the sheet, as in a sheet of a hand that nobody has seen.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from tests.interchange.typed_sheets import TypedSheet, differences, sheets

_HEADING = re.compile(r"\[(?P<name>[^\]]*?)(?: x\d+)?\](?:=(?P<like>.*))?")
_BASE = re.compile(r"[^\W\d_]{4,}(?:[ -][^\W\d_]{4,})?")
_CUE = re.compile(r"^! (.+)$", re.MULTILINE)
_SUNG = re.compile(r"^: (.+)$", re.MULTILINE)
_NAMES = ("lantern", "pepper", "gondola", "velvet", "thimble", "harvest", "marble", "cinder")
_SYLLABLES = ("lo", "mi", "ra", "ten", "vu", "sor", "pel", "ka", "nim", "dos")
_WORD = re.compile(r"[^\W\d_]{3,}")

Mutation = Callable[[TypedSheet], TypedSheet | None]


def _like(word: str, model: str) -> str:
    """A word in the letters of a model: capitals, a first capital, or small."""
    if model.isupper():
        return word.upper()
    return word.title() if model[0].isupper() else word


def _bases(sheet: TypedSheet) -> list[str]:
    """The names of the sections without numbers, in order, each once."""
    names = (match["name"] for match in _HEADING.finditer(sheet.expected))
    found = (match[0].casefold() for name in names if (match := _BASE.fullmatch(_bare(name))))
    return list(dict.fromkeys(found))


def _bare(name: str) -> str:
    return re.sub(r"[ ]?\d+\.?$", "", name).strip()


def _with_names(sheet: TypedSheet, names: dict[str, str]) -> TypedSheet | None:
    """The sheet with other names of sections; None where the words to be sung have one."""
    text, expected = sheet.text, sheet.expected
    sung = " ".join(_SUNG.findall(expected)).casefold()
    for old, new in names.items():
        if re.search(rf"\b{re.escape(old)}", sung):
            return None
        other = re.compile(rf"(?<![^\W\d_]){re.escape(old)}(?![^\W\d_])", re.IGNORECASE)
        text, expected = (_swapped(other, new, one) for one in (text, expected))
    return replace(sheet, text=text, expected=expected) if text != sheet.text else None


def _swapped(other: re.Pattern[str], new: str, text: str) -> str:
    """A text with another word in the letters of each one that it replaces."""
    return other.sub(lambda match: _like(new, match[0]), text)


def one_name(sheet: TypedSheet) -> TypedSheet | None:
    """The sheet with another name for one of its sections: the last kind but one."""
    bases = _bases(sheet)
    return _with_names(sheet, {bases[len(bases) // 2]: _NAMES[0]}) if len(bases) > 2 else None


def all_names(sheet: TypedSheet) -> TypedSheet | None:
    """The sheet with other names for all of its sections."""
    bases = _bases(sheet)
    fits = 0 < len(bases) <= len(_NAMES)
    return _with_names(sheet, dict(zip(bases, _NAMES, strict=False))) if fits else None


def remarks(sheet: TypedSheet) -> TypedSheet | None:
    """The sheet with invented words for those of its remarks that stand alone on a line."""
    text, expected = sheet.text, sheet.expected
    for cue in _CUE.findall(expected):
        alone = re.compile(rf"^([^\w\n]*){re.escape(cue)}([^\w\n]*)$", re.MULTILINE | re.IGNORECASE)
        if (found := alone.search(text)) is None:
            continue
        said = found[0][len(found[1]) : len(found[0]) - len(found[2])]
        other = _WORD.sub(_invented, said)
        text = f"{text[: found.start()]}{found[1]}{other}{found[2]}{text[found.end() :]}"
        expected = expected.replace(f"! {cue}", f"! {other}", 1)
    return replace(sheet, text=text, expected=expected) if text != sheet.text else None


def _invented(match: re.Match[str]) -> str:
    """A word that nobody knows for each word, always the same."""
    word = match[0]
    seed = sum(at * ord(sign) for at, sign in enumerate(word.casefold(), 3))
    parts = (_SYLLABLES[(seed // 10**i) % 10] for i in range(2 + (len(word) > 6)))
    return _like("".join(parts), word if len(word) > 1 else "a")


MUTATIONS: dict[str, Mutation] = {"one name": one_name, "all names": all_names, "remarks": remarks}


def survivors(
    mutation: Mutation, first: int = 0, step: int = 1
) -> Iterator[tuple[TypedSheet, bool]]:
    """The sheets that a mutation changes, each with whether it is still right; of every second
    those from 0 are tuned on, those from 1 kept apart."""
    for sheet in sheets()[first::step]:
        if sheet.expected.strip() == "REFUSED":
            continue
        other = mutation(sheet)
        if other is not None and not differences(sheet):
            yield other, not differences(other)


if __name__ == "__main__":
    import sys

    for name, mutation in MUTATIONS.items():
        if sys.argv[1:] and sys.argv[1] not in name:
            continue
        for half in (0, 1):
            every = list(survivors(mutation, half, step=2))
            print(f"{name}, half {half}: {sum(right for _, right in every)} of {len(every)}")
            for sheet, right in every if "-v" in sys.argv and half == 0 else ():
                if not right:
                    print("##", sheet.name)
                    print(*(f"    {one}" for one in differences(sheet)), sep="\n")
