"""Where grammars, fonts and examples are: beside the package in a checkout, inside it once
installed from a wheel."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _folder(name: str) -> Path:
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name


def grammar_text(name: str) -> str:
    """The text of a grammar, such as ``chord.lark``."""
    return (_folder("grammar") / name).read_text(encoding="utf-8")


def font_path(name: str) -> Path:
    """The file of a font, such as ``NotoMusic-Regular.ttf``."""
    return _folder("fonts") / name


def example_paths() -> tuple[Path, ...]:
    """The example songs and sets, by name."""
    folder = _folder("examples")
    return tuple(sorted((*folder.glob("*.chart"), *folder.glob("*.toml"))))
