"""The application: its commands, and what becomes of an error."""

import io
import os
import shlex
import sys
import traceback
from collections.abc import Sequence
from typing import Annotated, Any

import typer

from nesting.cli.catalogue_command import catalogue_command
from nesting.cli.chart_command import chart_command
from nesting.cli.check_command import check_command
from nesting.cli.compare_command import compare_command
from nesting.cli.draw_command import draw_command
from nesting.cli.export_command import export_command
from nesting.cli.fits_command import fits_command
from nesting.cli.import_command import import_command
from nesting.cli.lay_command import lay_command
from nesting.cli.options import OptionError
from nesting.cli.order_command import order_command
from nesting.cli.serve_command import serve_command
from nesting.cli.shop_command import shop_command
from nesting.cli.terminal import echo
from nesting.errors import LayStoppedError, NestingError
from nesting.version import __version__
from pieces.errors import PiecesError

DONE, ANSWER_IS_NO, BAD_INPUT, OUR_FAULT = 0, 1, 2, 3
INTERRUPTED = 130

# typer keeps the root of its usage errors to itself: click's in old versions, its own in new ones.
_USAGE_ERROR: type[Exception] = typer.BadParameter.__mro__[2]

app = typer.Typer(add_completion=False, pretty_exceptions_enable=False)
app.command("lay")(lay_command)
app.command("compare")(compare_command)
app.command("chart")(chart_command)
app.command("catalogue")(catalogue_command)
app.command("fits")(fits_command)
app.command("order")(order_command)
app.command("shop")(shop_command)
app.command("check")(check_command)
app.command("draw")(draw_command)
app.command("import")(import_command)
app.command("export")(export_command)
app.command("serve")(serve_command)


def _show_version(asked: bool) -> None:
    if asked:
        echo(f"nesting {__version__}")
        raise typer.Exit


@app.callback(invoke_without_command=True)
def _nesting(
    context: typer.Context,
    _version: Annotated[
        bool,
        typer.Option(
            "--version", help="Print the version and stop.", callback=_show_version, is_eager=True
        ),
    ] = False,
) -> None:
    """How much cloth to buy, from the pattern pieces themselves.

    Exit codes: 0 done, 1 the answer is no, 2 the input is bad, 3 our fault.
    """
    if context.invoked_subcommand is None:
        typer.echo(context.get_help())  # in colours, and without a name of anybody


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code.

    Parameters
    ----------
    arguments
        What was typed after ``nesting``; taken from the process if not given.
    """
    typed = list(sys.argv[1:] if arguments is None else arguments)
    _write_every_letter()
    try:
        command = typer.main.get_command(app)
        _refuse_repeats(command, typed)
        code = command.main(args=typed, prog_name="nesting", standalone_mode=False)
    except _USAGE_ERROR as problem:
        return _refuse(_usage_words(problem))
    except LayStoppedError as problem:
        _say(str(problem))
        return INTERRUPTED
    except (PiecesError, NestingError, OptionError) as problem:
        return _refuse(str(problem))
    except OSError as problem:
        place = f"{problem.filename}: " if problem.filename else ""
        return _refuse(f"{place}{problem.strerror or problem}")
    except (KeyboardInterrupt, typer.Abort):
        code = INTERRUPTED
    except Exception as problem:
        return _own_up(problem, typed)
    if code == INTERRUPTED:
        _say("stopped before there was a marker; nothing was written")
    return int(code or DONE)


def _refuse_repeats(command: Any, typed: list[str]) -> None:
    """Refuse an option given twice where only the last would count.

    Raises
    ------
    OptionError
        With the option, and the command that takes several of it if there is one.
    """
    known = command.commands
    for name, is_single in _singles(known[typed[0]] if typed and typed[0] in known else None):
        times = sum(word == name or word.startswith(f"{name}=") for word in typed)
        if is_single and times > 1:
            several = "".join(
                f"; nesting {other} takes several"
                for other in known
                if (name, False) in _singles(known[other])
            )
            raise OptionError(f"{name} is given {times} times; give it once{several}")


def _singles(command: Any) -> list[tuple[str, bool]]:
    """Return each option of a command that has a value, and whether it takes only one."""
    params = [] if command is None else command.params
    return [
        (param.opts[0], not param.multiple)
        for param in params
        if param.opts[0].startswith("--") and not param.is_flag
    ]


def _refuse(sentence: str) -> int:
    _say(sentence)
    return BAD_INPUT


def _own_up(problem: Exception, typed: list[str]) -> int:
    """Ask for a report, with the traceback if the person wants to see it."""
    if os.environ.get("NESTING_DEBUG"):
        echo(traceback.format_exc(), err=True)
    _say(
        f"this is our fault, not yours: {type(problem).__name__}: {problem}. Please report it with "
        f"the command: nesting {shlex.join(typed)} (NESTING_DEBUG=1 before it shows the traceback)"
    )
    return OUR_FAULT


def _usage_words(problem: Exception) -> str:
    """Return typer's own sentence, and where to read more."""
    words = getattr(problem, "format_message", lambda: str(problem))()
    context = getattr(problem, "ctx", None)
    path = "nesting" if context is None else context.command_path
    words = words.replace("Value error, ", "").rstrip(".")
    return f"{words}{'' if words.endswith('?') else '.'} See {path} --help"


def _say(sentence: str) -> None:
    """Write one line on standard error, whatever letters the sentence holds."""
    from pieces.sheet.pattern_sheet import one_line  # noqa: PLC0415 - only needed when something failed

    echo(f"nesting: {one_line(sentence)}", err=True)


def _write_every_letter() -> None:
    """Let a terminal without some letters show their codes, where Python would give up."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
