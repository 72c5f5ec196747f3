"""The command line: parse, call a service, print, exit. Heavy imports wait for their command."""

import os
import sys
from collections.abc import Callable

# rich help doubles the time of --help and adds nothing to a timetable
os.environ.setdefault("TYPER_USE_RICH", "0")

import typer

from floorcare import __version__
from floorcare.errors import FloorcareError
from floorcare.faces.cli import (
    backtest_command,
    commands,
    compare_command,
    learn_command,
    order_command,
    rounds_command,
    shut_command,
    visit_commands,
    week_commands,
)
from floorcare.faces.cli.record_commands import record
from floorcare.faces.cli.telling import say_trouble

EXIT_BUG = 70
EXIT_INTERRUPTED = 130

app = typer.Typer(
    name="floorcare",
    help="Plan the upkeep of hard floors from measured wear.",
    no_args_is_help=True,
    add_completion=True,
    pretty_exceptions_enable=False,
)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"floorcare {__version__}")
        raise typer.Exit


@app.callback()
def main(
    version: bool = typer.Option(
        False, "--version", callback=_version, is_eager=True, help="Print the version and stop."
    ),
) -> None:
    """Plan the upkeep of hard floors from measured wear."""


PLAIN: tuple[Callable[..., None], ...] = (
    *commands.COMMANDS,
    learn_command.learn,
    rounds_command.rounds,
    backtest_command.backtest,
    compare_command.compare,
    shut_command.shut,
    order_command.order,
)
"""The commands that are one verb."""

for command in PLAIN:
    app.command(command.__name__.rstrip("_"))(command)
app.add_typer(visit_commands.group)
app.add_typer(week_commands.group)
app.add_typer(record)

COMMANDS: tuple[Callable[..., None], ...] = (*PLAIN, visit_commands.visits, week_commands.week)
"""Every command that may stand alone, in the order --help names them."""


def run() -> None:
    """Run the command line and leave with the exit code of what happened."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        code = app(standalone_mode=False)
    except FloorcareError as error:
        say_trouble(error)
        code = error.exit_code
    except (KeyboardInterrupt, typer.Abort):
        code = EXIT_INTERRUPTED
    except typer.Exit as leaving:
        code = leaving.exit_code
    except SystemExit as leaving:
        # so the parser leaves when whoever read our output has gone; that is their choice
        code = 0 if isinstance(leaving.__context__, BrokenPipeError) else leaving.code
    except Exception as error:
        code = _left_by(error)
    if code == EXIT_INTERRUPTED:  # the parser answers Ctrl-C with this code and says nothing
        typer.echo("Stopped; nothing was half-written.", err=True)
    sys.exit(code if isinstance(code, int) else 0)


def _left_by(error: Exception) -> int:
    """Exit code of what the parser raises for wrong arguments; anything else is our bug."""
    show = getattr(error, "show", None)
    code = getattr(error, "exit_code", None)
    if callable(show) and isinstance(code, int):
        show()  # a wrong argument, told in the parser's own words
        return code
    import traceback

    traceback.print_exception(error)
    typer.echo("This is a fault in floorcare; please report the lines above.", err=True)
    return EXIT_BUG
