"""``chartkit desk``: the whole job in a browser."""

from pathlib import Path
from typing import Annotated

import click

from chartkit.cli.command import argument, option
from chartkit.cli.reporting import say, say_unusable, wrong_usage
from chartkit.files import Unusable
from chartkit.typed_values import file_path, whole_number

_HIGHEST_PORT = 65535

FolderArgument = Annotated[
    Path,
    argument(
        metavar="[FOLDER]",
        read=file_path,
        help="The folder with charts and sets; the current one if none is given.",
    ),
]
Port = Annotated[
    int,
    option(
        "--port",
        metavar="N",
        read=whole_number(0, _HIGHEST_PORT),
        help="The port on this machine; 0 is the folder's usual one, or any free one.",
    ),
]
NoBrowser = Annotated[
    bool, option("--no-browser", help="Only prints the address; opens no browser.")
]
MakeStarter = Annotated[
    bool,
    option(
        "--make-starter",
        help="Only puts a file on your desktop that opens the desk with a double click.",
    ),
]


def desk(
    folder: FolderArgument = Path(),
    port: Port = 0,
    no_browser: NoBrowser = False,
    make_starter: MakeStarter = False,
) -> None:
    """Opens the desk in your browser: chart, page, capo, sets.

    It serves only this machine, at the address that it prints. Charts and sets are the files of
    the folder; they are written only when you save.
    """
    if folder.is_file():
        raise wrong_usage(f"{folder} is a file", f"name its folder: chartkit desk {folder.parent}")
    if not folder.is_dir():
        raise wrong_usage(
            f"{folder}: there is no such folder",
            f"name the folder with your charts, or make a new one: mkdir {folder}",
        )
    if make_starter:
        _make_starter(folder)
        return
    from chartkit.desk.serve import serve

    try:
        serve(folder, port, not no_browser, say)
    except OSError as reason:
        why = (reason.strerror or "unknown reason").lower()
        raise wrong_usage(f"--port {port}: {why}", "0 takes any free port") from None


def _make_starter(folder: Path) -> None:
    from chartkit.desk.starter import Platform, make_starter

    try:
        made = make_starter(folder, Platform.this())
    except Unusable as reason:
        say_unusable(reason)
        raise click.exceptions.Exit(1) from None
    for path in made:
        say(f"{path}: a double click opens the desk")
