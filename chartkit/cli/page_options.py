"""The options of a page on the command line, made from the one table of them."""

import inspect
from collections.abc import Callable
from typing import Annotated, Any, Literal

from chartkit.arrange.page_look import PAGE_OPTIONS, PageLook, PageOption, conflicts
from chartkit.cli.command import option
from chartkit.cli.reporting import wrong_usage


def with_page_options(command: Callable[..., None]) -> Callable[..., None]:
    """The command with every page option in place of its parameter ``look``."""

    def called(**values: Any) -> None:
        look = PageLook(
            **{page_option.name: values.pop(page_option.name) for page_option in PAGE_OPTIONS}
        )
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
    # The command is made from its function's signature.
    called.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    called.__annotations__ = {parameter.name: parameter.annotation for parameter in parameters}
    return called


def _parameter(page_option: PageOption) -> inspect.Parameter:
    """One page option as a parameter of a command."""
    name, choices = page_option.name.replace("_", "-"), page_option.choices
    kind: Any = Literal[choices] if choices else type(page_option.default)
    made = option(
        f"--{name}/--no-{name}" if page_option.default is True else f"--{name}",
        metavar=page_option.placeholder or None,
        read=page_option.read,
        help=page_option.help,
    )
    return inspect.Parameter(
        page_option.name,
        inspect.Parameter.KEYWORD_ONLY,
        default=page_option.default,
        annotation=Annotated[kind, made],
    )
