"""Commands and the program as Typer runs them, which read their own values.

Typer would build a pydantic validator for every argument, which takes longer than reading a
song, and would report mistakes one at a time in its own words.  Here each value is read by the
option's own reader, and every mistake in a call is reported in one way: the option, what was
given, and a hint.
"""

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any, TypeGuard, get_args

import typer
from typer.core import TyperArgument, TyperCommand, TyperGroup, TyperOption

from chartkit.cli.streams import BROKEN_OFF, MISUSED, say, say_misuse
from chartkit.typed_values import one_of

Context = Any
"""The context of a call, for which Typer has no public name."""
Parameter = TyperOption | TyperArgument


class Command(TyperCommand):
    """A command of the program."""

    def parse_args(self, ctx: Context, args: list[str]) -> list[str]:
        """Reads every value; where some are wrong, reports all of them and ends the run."""
        if ctx.resilient_parsing:  # a shell asks how the call could go on
            return super().parse_args(ctx, args)
        parameters = [one for one in self.get_params(ctx) if _is_ours(one)]
        given, rest = self._sorted_out(ctx, args, parameters)
        ordered = sorted(parameters, key=lambda one: not one.is_eager)
        fine = [self._put(ctx, one, given) for one in ordered]
        for word in rest[:1]:
            hint = f"chartkit {self.name} --help lists what it takes"
            say_misuse(f'{self.name}: "{word}" is one argument too many', hint)
        if rest or not all(fine):
            raise typer.Exit(MISUSED)
        return rest

    def _sorted_out(
        self, ctx: Context, args: list[str], parameters: Sequence[Parameter]
    ) -> tuple[Mapping[str, Any], list[str]]:
        """The text given for each argument and option, and what is left over."""
        words = list(args)
        try:
            given, rest, _ = self.make_parser(ctx).parse_args(args=args)
        except typer.TyperException as reason:
            say_misuse(*wrong_option(ctx.command_path, reason, words, parameters))
            raise typer.Exit(MISUSED) from None
        return given, rest

    def _put(self, ctx: Context, parameter: Parameter, given: Mapping[str, Any]) -> bool:
        """Puts an argument's value where the command gets it; reports it if it is wrong."""
        texts = given.get(parameter.name)
        if parameter.required and not texts and texts != "":
            say_misuse(f"{self.name}: {named(parameter)} is missing", meaning(parameter))
            return False
        try:
            value = read_value(parameter, texts)
        except ValueError as reason:
            say_misuse(f"{named(parameter)}: {reason}", meaning(parameter))
            return False
        if parameter.callback is not None:
            value = parameter.callback(ctx, parameter, value)
        if parameter.expose_value:
            ctx.params[parameter.name] = value
        return True

    def invoke(self, ctx: Context) -> Any:
        """Runs the command; Ctrl-C ends it in one line."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            say("chartkit: stopped")
            raise typer.Exit(BROKEN_OFF) from None

    def collect_usage_pieces(self, ctx: Context) -> list[str]:
        """The usage line after the command's name."""
        arguments = [one for one in self.get_params(ctx) if isinstance(one, TyperArgument)]
        return [*(named(one) + "..." * (one.nargs < 0) for one in arguments), "[OPTIONS]"]

    def format_options(self, ctx: Context, formatter: Any) -> None:
        """Lists arguments and options by the names that the messages use."""
        rows: dict[str, list[tuple[str, str]]] = {"Arguments": [], "Options": []}
        for one in self.get_params(ctx):
            if isinstance(one, TyperArgument):
                rows["Arguments"].append((named(one), one.help or ""))
            elif (record := one.get_help_record(ctx)) is not None:
                rows["Options"].append(record)
        for title, listed in rows.items():
            if listed:
                with formatter.section(title):
                    formatter.write_dl(listed)


class Program(TyperGroup):
    """The program: finds the command that is called."""

    def parse_args(self, ctx: Context, args: list[str]) -> list[str]:
        """Reads the program's own options; the command's come later."""
        words = list(args)
        try:
            return super().parse_args(ctx, args)
        except typer.TyperException as reason:
            if ctx.resilient_parsing or not hasattr(reason, "option_name"):
                raise
            known = [one for one in self.get_params(ctx) if _is_ours(one)]
            say_misuse(*wrong_option(ctx.command_path, reason, words, known))
            raise typer.Exit(MISUSED) from None

    def resolve_command(self, ctx: Context, args: list[str]) -> Any:
        """The command called.  Ends the run when there is none of that name."""
        name = args[0]
        if ctx.resilient_parsing or name in self.commands:
            return super().resolve_command(ctx, args)
        near = get_close_matches(name.lower(), self.commands, 1, 0.5)
        hint = f"did you mean chartkit {near[0]}?" if near else "chartkit --help lists them"
        say_misuse(f'"{name}" is not a command', hint)
        raise typer.Exit(MISUSED)


def read_value(parameter: Parameter, given: Any) -> Any:
    """The value given for a parameter, or its default.

    Raises ValueError in plain words.
    """
    if given is None or given == ():
        return parameter.default
    if isinstance(given, str):
        return _read(parameter, given)
    return [_read(parameter, text) for text in given] if isinstance(given, list | tuple) else given


def _read(parameter: Parameter, text: str) -> Any:
    if not text.strip():
        raise ValueError("nothing is given")
    descriptor = parameter.type_descriptor
    reader = descriptor.parameter_info.parser
    if descriptor.choices is not None:
        reader = one_of(descriptor.choices)
    return text if reader is None else reader(text)


def named(parameter: Parameter) -> str:
    """The name of a parameter in messages: an option's long name, an argument's placeholder."""
    if isinstance(parameter, TyperOption):
        return max((name for name in parameter.opts), key=len)
    return parameter.metavar or parameter.name


def meaning(parameter: Parameter) -> str:
    """A hint from the first sentence of the help: ``--key KEY: The key to play in``."""
    name = named(parameter)
    if isinstance(parameter, TyperOption) and parameter.metavar is not None:
        name += f" {parameter.metavar}"
    sentence, _, more = str(parameter.help).partition(". ")
    return f"{name}: {sentence}{'.' if more else ''}"


def wrong_option(
    command: str, reason: typer.TyperException, words: Sequence[str], known: Sequence[Parameter]
) -> tuple[str, str]:
    """What is wrong with an option, and a hint.

    ``words`` is the call as it was typed, ``known`` what the command takes.
    """
    option = str(getattr(reason, "option_name", ""))
    names = {name: one for one in known for name in (*one.opts, *one.secondary_opts)}
    if (parameter := names.get(option)) is not None:
        takes = "takes no value" if getattr(parameter, "is_flag", False) else "a value is missing"
        return f"{option}: {takes}", meaning(parameter)
    typed = next((w for w in words if w.startswith(option)), option).partition("=")[0]
    long = [name for name in names if name.startswith("--")]
    near = get_close_matches("--" + typed.lstrip("-").lower(), long, 1, 0.7)
    own = f"{command} --help lists them"
    after = f"options stand after the command's name; {own}" if " " not in command else own
    hint = f"did you mean {near[0]}?" if near else after
    return f"{typed} is not an option of {command}", hint


def _is_ours(parameter: object) -> TypeGuard[Parameter]:
    return isinstance(parameter, get_args(Parameter))
