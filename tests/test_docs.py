"""The documents tell what is true of the program."""

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import NamedTuple

import click
import pytest

import chartkit
from chartkit.advise.cautions import IF_IT_HURTS, TUNED_DOWN
from chartkit.advise.settings import AdviceSettings, CapoPrices, ScoreWeights
from chartkit.arrange.page_look import PAGE_OPTIONS, TRANSPOSING_INSTRUMENTS
from chartkit.book.set_model import GuitarModel, PlayerModel, SetModel, SongModel, StageModel
from chartkit.chart.marks import MARKS
from chartkit.chart.model import SETTING_NAMES
from chartkit.cli.main import COMMANDS, PROGRAM
from chartkit.fretboard.weights import Weights
from chartkit.phrases import listed

ROOT = Path(__file__).resolve().parent.parent
ROOMS = tuple(sorted((ROOT / "chartkit").rglob("README.md")))
DOCUMENTS = (
    ROOT / "README.md",
    ROOT / "DEVELOPERS.md",
    ROOT / "fonts" / "README.md",
    ROOT / "tests" / "README.md",
    *ROOMS,
    *sorted((ROOT / "examples").glob("*.md")),
)


def test_rooms_in_developers_match_the_folders() -> None:
    """Every room in the table exists, and every room is in the table."""
    table = (ROOT / "DEVELOPERS.md").read_text().split("## Rooms")[1].split("##")[0]
    rooms = set(re.findall(r"`(\w+)`", "".join(row.split("|")[1] for row in _rows(table))))
    package = Path(chartkit.__file__).parent
    there = {path.stem for path in package.iterdir() if path.suffix in (".py", "")}
    there = {name for name in there if name[0] not in "_."}
    assert rooms == there


def _rows(table: str) -> list[str]:
    return [row for row in table.splitlines() if row.startswith("| `")]


class Room(NamedTuple):
    """A row of the table of rooms: what it says it imports, and which libraries."""

    imports: frozenset[str]
    libraries: frozenset[str]


def _rooms() -> dict[str, Room]:
    """The rows of the table, each room with all that it may import."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = [
        [cell.strip() for cell in row.split("|")[1:-1]]
        for row in _rows(text.split("## Rooms")[1].split("##")[0])
    ]
    rooms: dict[str, Room] = {}
    shared = frozenset(row[0].strip("`") for row in rows if row[2] == "shared")
    for names, _, imports, libraries, _ in reversed(rows):
        listed_rooms = () if imports == "shared" else re.findall(r"\w+", imports)
        named = frozenset(rooms if imports == "all below" else listed_rooms)
        assert named <= rooms.keys(), f"{names} imports what stands above it"
        below = named.union(*(rooms[name].imports for name in named))
        row = Room(below | shared, frozenset(re.findall(r"\w+", libraries)))
        rooms |= dict.fromkeys(re.findall(r"`(\w+)`", names), row)
    return rooms


def _imports(path: Path) -> Iterator[tuple[str, str]]:
    """The rooms (as ``chartkit``) and the libraries that a module imports, anywhere in it."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        if isinstance(node, ast.ImportFrom):
            assert not node.level, f"{path}: a relative import"
            whole = node.module == "chartkit"
            names = [f"chartkit.{a.name}" for a in node.names] if whole else [node.module or ""]
        for name in names:
            package, _, rest = name.partition(".")
            yield package, rest.partition(".")[0]


@pytest.mark.parametrize("room", _rooms())
def test_a_room_imports_what_the_table_says(room: str) -> None:
    """Every import in the room's modules, and every library, is granted by its row; no row names
    a library that its modules do not use."""
    package, granted = ROOT / "chartkit", _rooms()[room]
    folder = package / room
    modules = list(folder.rglob("*.py")) if folder.is_dir() else [package / f"{room}.py"]
    rooms: set[str] = set()
    libraries: set[str] = set()
    for path in modules:
        for name, inside in _imports(path):
            if name == "chartkit":
                rooms |= {inside} - {room, "__version__"}
            elif name not in sys.stdlib_module_names:
                libraries.add(name)
            else:
                continue
            assert rooms <= granted.imports, f"{path.name} imports {inside}"
            assert libraries <= granted.libraries, f"{path.name} imports {name}"
    assert libraries == granted.libraries


def test_paths_in_documents_exist() -> None:
    """Every file a document names is there."""
    for document in DOCUMENTS:
        text = document.read_text(encoding="utf-8")
        name = document.relative_to(ROOT)
        for path in re.findall(r"\]\((\w[\w./-]*\.\w+)\)", text):
            assert (document.parent / path).exists(), f"{name} names {path}"
        for path in re.findall(r"`((?:chartkit|tests|grammar|fonts|examples)/[\w./]+\.\w+)`", text):
            assert (ROOT / path).exists(), f"{name} names {path}"


def test_developers_names_what_is_there() -> None:
    """Every file that the guide for developers names exists, and so does every name in its code."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    files = [path for top in ("chartkit", "tests") for path in (ROOT / top).rglob("*.*")]
    for name in re.findall(r"`([\w/]+\.(?:py|js))`", text):
        assert any(path.match(f"*/{name}") for path in files), name
    code = "".join(path.read_text(encoding="utf-8") for path in files if path.suffix == ".py")
    names = {*re.findall(r"`(_\w+|[A-Z]\w+[A-Z]\w*|[A-Z]\w*)`", text)}
    assert len(names) > 40
    for name in names:
        assert re.search(rf"(?<!\w){name}(?!\w)", code), name


SHEETS = ROOT / "chartkit" / "interchange" / "text"
"""The rooms in which a typed sheet is read."""


def _about_sheets() -> str:
    """What the README of interchange says of the way in which a typed sheet is read."""
    text = (SHEETS.parent / "README.md").read_text(encoding="utf-8")
    return text.split("## How a typed sheet is read")[1].split("\n## ")[0]


def test_rooms_of_typed_sheets_stand_in_the_order_that_is_held() -> None:
    """The table of rooms has the layers that ``import-linter`` holds: a row for each, the same
    first."""
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]
    (layers,) = (
        one["layers"]
        for one in contracts["contracts"]
        if one.get("containers") == ["chartkit.interchange.text"]
    )
    table = _about_sheets().split("| room | holds |")[1].split("\n\n")[0]
    rows = [re.findall(r"`(\w+)(?:\.py)?`", row.split("|")[1]) for row in _rows(table)]
    assert [sorted(row) for row in rows] == [sorted(layer.split(" | ")) for layer in layers]


@pytest.mark.parametrize("room", sorted(path.parent.name for path in SHEETS.glob("*/__init__.py")))
def test_tables_of_typed_sheets_name_every_module(room: str) -> None:
    """Each room has a table in which every module of it stands once, and no other."""
    (table,) = re.findall(rf"(?ms)^### [^\n]*`{room}`\n(.*?)(?=^#|\Z)", _about_sheets())
    cells = [row.split("|")[1] for row in _rows(table)]
    modules = [path.stem for path in (SHEETS / room).glob("*.py") if path.stem != "__init__"]
    assert sorted(re.findall(r"`(\w+)\.py`", "".join(cells))) == sorted(modules)


@pytest.mark.parametrize("document", ROOMS, ids=lambda document: document.parent.name)
def test_tables_in_a_rooms_readme_name_every_module(document: Path) -> None:
    """Each module of a room is in a table of its README; a command's module has its name."""
    room = document.parent
    elsewhere = [SHEETS, *(other.parent for other in ROOMS if room in other.parent.parents)]
    modules = {
        path.name
        for path in room.rglob("*.py")
        if path.stem != "__init__" and not any(one in path.parents for one in elsewhere)
    }
    assert modules
    if room.name == "cli":
        modules -= {f"{command}.py" for command in COMMANDS}
    rows = (row for row in document.read_text(encoding="utf-8").splitlines() if row[:1] == "|")
    named = set(re.findall(r"`(?:\w+/)*(\w+\.py)`", "".join(rows)))
    assert sorted(modules - named) == []


@pytest.mark.parametrize("document", ROOMS, ids=lambda document: document.parent.name)
def test_modules_in_a_rooms_readme_exist(document: Path) -> None:
    """Every module that a room's own README names is in that room, or in the one it says."""
    room, package = document.parent, document.parent.parent
    for name in re.findall(r"`([\w/]+\.py)`", document.read_text(encoding="utf-8")):
        inside = any(path.match(f"*/{name}") for path in room.rglob("*.py"))
        elsewhere = (package / name).exists() or (ROOT / name).exists()
        assert inside or elsewhere, f"{document.parent.name} names {name}"


def test_developers_is_read_in_ten_minutes() -> None:
    """The guide for developers stays short; details are in the rooms' own READMEs."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 200
    for room in ROOMS:
        assert str(room.relative_to(ROOT)) in text


def test_the_weights_in_the_advisers_readme_are_the_programs() -> None:
    """Each weight of the table has the value that the program uses, and no number of the score or
    of the prices is missing there."""
    text = (ROOT / "chartkit" / "advise" / "README.md").read_text(encoding="utf-8")
    settings = AdviceSettings()
    tables: dict[str, ScoreWeights | CapoPrices | Weights] = {
        "score": settings.score,
        "prices": settings.prices,
        "voicing": Weights(),
    }
    rows = re.findall(r"(?m)^\| (score|prices|voicing)\.(\w+) \| (\S+) \|", text)
    assert len(rows) > 20
    for table, name, value in rows:
        assert getattr(tables[table], name) == float(value.replace("−", "-")), (table, name)
    there = {(table, name) for table, name, _ in rows}
    for table in ("score", "prices"):
        for field in fields(tables[table]):
            whole = isinstance(getattr(tables[table], field.name), int)
            assert whole or (table, field.name) in there, (
                f"{table}.{field.name} is not in the table"
            )


def test_readme_begins_with_the_job() -> None:
    """One paragraph under the title states the job."""
    first = (ROOT / "README.md").read_text().split("\n\n")[1]
    assert {"capo", "shapes", "sounding", "PDF"} <= set(re.findall(r"\w+", first))


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda one: str(one.relative_to(ROOT)))
def test_no_document_holds_two_versions_of_a_text(document: Path) -> None:
    """A merge that was not finished leaves its markers."""
    lines = document.read_text().splitlines()
    assert not [line for line in lines if line.startswith(("<<<<<<<", ">>>>>>>", "======="))]


def test_nothing_else_at_the_top() -> None:
    """The top level holds the files and folders that belong there."""
    allowed = {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "chartkit",
        "grammar",
        "tests",
        "examples",
        "fonts",
        ".ci",
        ".git",
        ".gitignore",
    }
    ignored = (ROOT / ".gitignore").read_text().split()
    names = {p.name for p in ROOT.iterdir()}
    extra = {n for n in names - allowed if f"{n}/" not in ignored and not n.endswith(".pdf")}
    assert extra <= {n for n in extra if n.endswith(".egg-info")}


@pytest.mark.parametrize("name", ["README.md", "examples/COMMANDS.md", "examples/PAGES.md"])
def test_tables_can_be_scanned(name: str) -> None:
    """No cell of a table for players has more than 25 words."""
    for row in (ROOT / name).read_text(encoding="utf-8").splitlines():
        for cell in row.split("|") if row.startswith("|") else ():
            assert len(cell.split()) <= 25, cell


def test_every_page_option_is_in_the_guide() -> None:
    """The guide to pages shows each option of a page, and each of its choices in its own rows."""
    text = (ROOT / "examples" / "PAGES.md").read_text(encoding="utf-8")
    for option in PAGE_OPTIONS:
        name = option.name.replace("_", "-")
        rows = re.findall(rf"(?m)^\| `--(?:no-)?{name}[ `].*", text)
        assert rows or (not option.choices and f"`--{name}" in text), name
        for choice in option.choices:
            shown = choice == option.default or re.search(
                rf"(?<!\w){re.escape(choice)}`", "".join(rows)
            )
            assert shown, f"--{name} {choice}"


def test_every_transposing_instrument_is_in_the_guide() -> None:
    """The guide to pages names each pitch that sounding chords are written for."""
    text = (ROOT / "examples" / "PAGES.md").read_text(encoding="utf-8")
    (row,) = re.findall(r"(?m)^\| `--reads.*", text)
    assert listed(TRANSPOSING_INSTRUMENTS, "or") in row


def test_every_setting_is_in_the_guide() -> None:
    """The guide to the chart language has each setting in its table."""
    text = (ROOT / "examples" / "LANGUAGE.md").read_text(encoding="utf-8")
    named = re.findall(r"`(\w+)`", "".join(row.split("|")[1] for row in _rows(text)))
    assert set(SETTING_NAMES) <= set(named)


def test_every_key_of_a_set_file_is_in_the_guide() -> None:
    """The guide to set files names each key but the options of a page, which have their own."""
    text = (ROOT / "examples" / "SETS.md").read_text(encoding="utf-8")
    page_options = {option.name for option in PAGE_OPTIONS}
    models = (SetModel, StageModel, GuitarModel, PlayerModel, SongModel)
    keys = {field.alias or name for model in models for name, field in model.model_fields.items()}
    assert len(keys) > 20
    for key in keys - page_options:
        assert re.search(rf"\b{key}\b", text), key


def test_every_option_of_a_command_is_in_a_guide() -> None:
    """A guide or the README names each option, by one of its flags."""
    guides = [ROOT / "README.md", *(ROOT / "examples").glob("*.md")]
    text = "".join(guide.read_text(encoding="utf-8") for guide in guides)
    context = click.Context(PROGRAM)
    for name in PROGRAM.list_commands(context):
        command = PROGRAM.get_command(context, name)
        assert command is not None
        for option in command.params:
            flags = [flag for flag in (*option.opts, *option.secondary_opts) if flag[0] == "-"]
            there = any(re.search(rf"(?<![\w-]){flag}(?![\w-])", text) for flag in flags)
            assert there or not flags, f"{name} {flags}"


def test_every_mark_is_in_the_guide() -> None:
    """The guide to the chart language shows how each mark is typed."""
    text = (ROOT / "examples" / "LANGUAGE.md").read_text(encoding="utf-8")
    for sign in MARKS.values():
        assert f"@{sign.typed[0]}" in text, sign.kind


def test_cautions_have_one_wording() -> None:
    """The desk's page and the commands warn in the same words."""
    page = (ROOT / "chartkit" / "desk" / "page" / "advice.js").read_text(encoding="utf-8")
    assert f'"{IF_IT_HURTS}"' in page
    assert f'"{TUNED_DOWN}"' in page
