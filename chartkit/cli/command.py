"""Commands made from functions, on top of click.

A command's function says what each parameter is: ``key: Annotated[str | None, option("--key",
...)] = None``.  Each value is read by the option's own reader, which raises ValueError in plain
words, and all mistakes of a call are reported in one run: the option, what was given, a hint.

No library above click: those that make commands from functions stop at the first mistake, and
take longer to start than a chart takes to check.
"""

import inspect
from collections.abc import Callable, Sequence
from importlib import import_module
from pathlib import Path
from typing import Annotated, Any, Literal, get_args, get_origin

import click
from click.shell_completion import CompletionItem

from chartkit.cli.meant import instead, meant_command, meant_option
from chartkit.cli.streams import BROKEN_OFF, MISUSED, say_misuse
from chartkit.typed_values import Advised, one_of

Reader = Callable[[str], Any]
UsageMistake = tuple[str, str]
"""What is wrong, and a hint."""
_MISTAKES = "chartkit.mistakes"


class Value(click.ParamType[Any]):
    """Values read by a reader; mistakes are collected in the context."""

    name = "text"

    def __init__(self, read: Reader, choices: Sequence[str] = ()) -> None:
        self._read = read
        self._choices = choices

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The value of a text; a default is already a value."""
        if not isinstance(value, str) or param is None or ctx is None:
            return value
        try:
            if not value.strip():
                raise ValueError("nothing is given")
            return self._read(value)
        except ValueError as reason:
            hint = reason.hint if isinstance(reason, Advised) else ""
            mistake = f"{parameter_name(param)}: {reason}", hint or parameter_help(param)
            _mistakes(ctx).append(mistake)
            return None

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> list[CompletionItem]:
        """The choices that begin like this, else files."""
        if not self._choices:
            return [CompletionItem(incomplete, type="file")]
        return [CompletionItem(choice) for choice in self._choices if choice.startswith(incomplete)]


Maker = Callable[[str, Any, Any], click.Parameter]


def option(*flags: str, help: str, metavar: str | None = None, read: Reader | None = None) -> Maker:
    """An option, to stand beside the type of a command's parameter.

    Where that is a Literal, its values are the placeholder, and nothing else is read.
    """

    def made(name: str, kind: Any, default: Any) -> click.Parameter:
        switch = kind is bool
        two_sided = switch and "/" in flags[0]
        given = default is not inspect.Parameter.empty
        return click.Option(
            (*flags, name),
            type=bool if switch else _value(kind, read),
            is_flag=switch or None,
            multiple=_is_list(kind),
            metavar=metavar or "|".join(_choices(kind)) or None,
            help=help,
            required=not given,
            show_default=given and (two_sided or not switch) and default not in (None, ""),
            **({"default": default} if given else {}),
        )

    return made


class _Argument(click.Argument):
    """An argument whose usage line says that it may be given several times."""

    def get_usage_pieces(self, ctx: click.Context) -> list[str]:
        """Its name in the usage line: ``FILE``, ``FILES...``."""
        return [f"{piece}{'...' * (self.nargs == -1)}" for piece in super().get_usage_pieces(ctx)]


def argument(*, help: str, metavar: str, read: Reader | None = None) -> Maker:
    """An argument, to stand beside the type of a command's parameter."""

    def made(name: str, kind: Any, default: Any) -> click.Parameter:
        given = default is not inspect.Parameter.empty
        return _Argument(
            (name,),
            help=help,
            metavar=metavar,
            type=_value(kind, read),
            nargs=-1 if _is_list(kind) else 1,
            required=not given,
            **({"default": default} if given else {}),
        )

    return made


def _is_list(kind: Any) -> bool:
    return any(get_origin(part) is list for part in (kind, *get_args(kind)))


def _value(kind: Any, read: Reader | None) -> Value:
    """The reader of a parameter: its own, that of its choices, or none at all."""
    choices = _choices(kind)
    return Value(one_of(choices), choices) if choices else Value(read or str)


def _choices(kind: Any) -> tuple[str, ...]:
    """The values of a Literal; none for any other type."""
    literals = (part for part in (kind, *get_args(kind)) if get_origin(part) is Literal)
    return next(map(get_args, literals), ())


def command_of(function: Callable[..., None], name: str) -> "Command":
    """The command made from a function."""
    parameters: list[click.Parameter] = []
    for parameter in inspect.signature(function, eval_str=True).parameters.values():
        assert get_origin(parameter.annotation) is Annotated, (name, parameter)
        kind, maker = get_args(parameter.annotation)
        parameters.append(maker(parameter.name, kind, parameter.default))
    return Command(name, params=parameters, callback=function, help=inspect.getdoc(function))


class Command(click.Command):
    """A command of the program."""

    allow_extra_args = True

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Reads every value; where some are wrong, reports all of them and ends the run."""
        if args == ["help"] and not Path("help").exists():
            args = ["--help"]
        words, rest = list(args), list[str]()
        try:
            rest = super().parse_args(ctx, args)
        except click.UsageError as reason:
            if ctx.resilient_parsing:  # a shell asks for completions
                raise
            _mistakes(ctx).append(_in_our_words(reason, words, self, ctx))
        for word in rest[:1]:
            hint = f"chartkit {self.name} --help lists what it takes"
            _mistakes(ctx).append((f'{self.name}: "{word}" is one argument too many', hint))
        if not ctx.resilient_parsing:
            _report(ctx)
        return rest


class Program(click.Group):
    """The program.  It loads only the command that is called, from the module of its name."""

    def __init__(self, names: Sequence[str], **settings: Any) -> None:
        super().__init__(**settings)
        self._names = names

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The name of every command."""
        return list(self._names)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, loaded now; None if there is none."""
        if cmd_name not in self._names:
            return None
        module = import_module(f"chartkit.cli.{cmd_name}")
        return command_of(getattr(module, cmd_name), cmd_name)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Reads the program's own options; the command's come later."""
        if args[:1] == ["help"]:
            args = [*args[1:2], "--help"]
        words = list(args)
        try:
            return super().parse_args(ctx, args)
        except (click.NoSuchOption, click.BadOptionUsage) as reason:
            if ctx.resilient_parsing:
                raise
            _mistakes(ctx).append(_in_our_words(reason, words, self, ctx))
            _report(ctx)
            raise

    def invoke(self, ctx: click.Context) -> Any:
        """Loads and runs the command; Ctrl-C ends it in one line."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            click.echo("chartkit: stopped", err=True)
            raise click.exceptions.Exit(BROKEN_OFF) from None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that is called. Ends the run if none has that name."""
        name = args[0]
        if not ctx.resilient_parsing and name not in self._names:
            say_misuse(f'"{name}" is not a command', meant_command(name, self._names))
            raise click.exceptions.Exit(MISUSED)
        return super().resolve_command(ctx, args)


def _mistakes(ctx: click.Context) -> list[UsageMistake]:
    """The mistakes of the call so far."""
    mistakes: list[UsageMistake] = ctx.meta.setdefault(_MISTAKES, [])
    return mistakes


def _report(ctx: click.Context) -> None:
    """Reports every mistake of the call and ends the run; does nothing if there is none."""
    for message, hint in _mistakes(ctx):
        say_misuse(message, hint)
    if _mistakes(ctx):
        raise click.exceptions.Exit(MISUSED)


def parameter_name(parameter: click.Parameter) -> str:
    """The name of a parameter in messages: an option's long name, an argument's placeholder."""
    if isinstance(parameter, click.Option):
        return max(parameter.opts, key=len)
    return parameter.metavar or str(parameter.name)


def parameter_help(parameter: click.Parameter) -> str:
    """A hint from the first sentence of the help: ``--key KEY: The key to play in``."""
    name = parameter_name(parameter)
    if isinstance(parameter, click.Option) and parameter.metavar is not None:
        name += f" {parameter.metavar}"
    sentence, _, more = str(getattr(parameter, "help", "")).partition(". ")
    return f"{name}: {sentence}{'.' if more else ''}"


def _in_our_words(
    reason: click.UsageError, words: Sequence[str], command: click.Command, ctx: click.Context
) -> UsageMistake:
    """A mistake that click reports, and a hint.  ``words`` is the call as it was typed."""
    if isinstance(reason, click.MissingParameter) and reason.param is not None:
        return f"{command.name}: {parameter_name(reason.param)} is missing", parameter_help(
            reason.param
        )
    if isinstance(reason, click.NoSuchOption | click.BadOptionUsage):
        return wrong_option(ctx.command_path, reason.option_name, words, command.get_params(ctx))
    return f"{command.name}: {reason.message}", f"{ctx.command_path} --help lists what it takes"


def wrong_option(
    command: str, option_name: str, words: Sequence[str], parameters: Sequence[click.Parameter]
) -> UsageMistake:
    """The message for an option that does not exist, and a hint.

    ``words`` is the call as it was typed, ``parameters`` what the command takes.
    """
    names = {
        name: parameter
        for parameter in parameters
        for name in (*parameter.opts, *parameter.secondary_opts)
    }
    if (parameter := names.get(option_name)) is not None:
        takes = "takes no value" if getattr(parameter, "is_flag", False) else "a value is missing"
        return f"{option_name}: {takes}", parameter_help(parameter)
    typed = next((w for w in words if w.startswith(option_name)), option_name).partition("=")[0]
    long = [name for name in names if name.startswith("--")]
    near = meant_option(typed, long)
    own = f"{command} --help lists them"
    after = f"options come after the command's name; {own}" if " " not in command else own
    hint = f"did you mean {near}?" if near else instead(command, typed, names) or after
    return f"{typed} is not an option of {command}", hint
