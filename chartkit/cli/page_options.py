"""The options of a page on the command line, made from the one table of them."""

import inspect
from collections.abc import Callable
from typing import Annotated, Any, Literal

import typer

from chartkit.arrange.page_look import PAGE_OPTIONS, PageLook, PageOption, conflicts
from chartkit.cli.reporting import wrong_usage


def with_page_options(command: Callable[..., None]) -> Callable[..., None]:
    """The command with every page option in place of its parameter ``look``."""

    def called(**values: Any) -> None:
        look = PageLook(**{one.name: values.pop(one.name) for one in PAGE_OPTIONS})
        for message, hint in conflicts(look, values.get("second_capo") is not None):
            raise wrong_usage(message, hint)
        if look.font is not None and not look.font.is_file():
            raise wrong_usage(
                f"--font: there is no file {look.font}", "give a TrueType font file, *.ttf"
            )
        command(look=look, **values)

    parameters: list[inspect.Parameter] = []
    for parameter in inspect.signature(command, eval_str=True).parameters.values():
        parameters += map(_parameter, PAGE_OPTIONS) if parameter.name == "look" else [parameter]
    called.__name__, called.__doc__ = command.__name__, command.__doc__
    # Typer reads a command's parameters from its signature.
    called.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    called.__annotations__ = {one.name: one.annotation for one in parameters}
    return called


def _parameter(option: PageOption) -> inspect.Parameter:
    """One page option as a parameter for Typer."""
    kind: Any = Literal[option.choices] if option.choices else type(option.default)
    kind = str if option.read and not option.choices else kind
    name = option.name.replace("_", "-")
    setting = typer.Option(
        f"--{name}/--no-{name}" if option.default is True else f"--{name}",
        metavar=option.placeholder or None,
        show_default=option.default is not None,
        parser=None if option.choices else option.read,
        help=option.help,
    )
    return inspect.Parameter(
        option.name,
        inspect.Parameter.KEYWORD_ONLY,
        default=option.default,
        annotation=Annotated[kind, setting],
    )
