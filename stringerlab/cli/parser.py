"""What can be typed, and which command it goes to."""

import argparse
import json
import os
import sys
from collections.abc import Callable, Sequence
from importlib import import_module

from stringerlab import __version__
from stringerlab.errors import StringerlabError, shown

BAD_INPUT = 2
COMMANDS = ("check", "section", "laminate", "new", "proof", "schema")


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit status."""
    options = _parser().parse_args(arguments)
    if options.command is None:
        _parser().print_help()
        return 0
    try:
        command = import_module(f"stringerlab.cli.{options.command.replace('-', '_')}_command")
        status: int = command.run(options)
        sys.stdout.flush()
    except StringerlabError as error:
        _tell(error, as_json=getattr(options, "json", False))
        return BAD_INPUT
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return 130
    return status


def _tell(error: StringerlabError, *, as_json: bool) -> None:
    if as_json:
        problems = [{"what": p.what, "where": p.where, "remedy": p.remedy} for p in error.problems]
        print(json.dumps({"problems": problems}, indent=2, ensure_ascii=False))
        return
    for line in shown(error.problems):
        print(line, file=sys.stderr)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="stringerlab",
        description="Sections, panels and spans of moulded fibreglass boats, checked clause by clause.",
        epilog="Exit status: 2 bad input, 1 something short, 3 not judged and not allowed, 0 otherwise.",
    )
    parser.add_argument("--version", action="version", version=f"stringerlab {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")

    check = _command(commands.add_parser, "check", "judge every panel and span of a project")
    check.add_argument("file", metavar="FILE")
    check.add_argument("--method", metavar="M", help="id of the method, instead of the project's own")
    check.add_argument("--workings", action="store_true", help="print each finding's formulas with numbers")
    check.add_argument(
        "--allow-not-judged",
        metavar="ASPECT,…",
        default="",
        help="aspects that may stay not judged without changing the exit status, such as bond",
    )
    _units(check)

    section = _command(commands.add_parser, "section", "properties of one section on its reference plating")
    section.add_argument("file", metavar="FILE")
    section.add_argument("id", metavar="ID", help="id or unique name")
    _units(section)

    laminate = _command(
        commands.add_parser, "laminate", "plies, thickness, mass and constants of one laminate"
    )
    laminate.add_argument("file", metavar="FILE")
    laminate.add_argument("id", metavar="ID", help="id or unique name")
    _units(laminate)

    new = _command(commands.add_parser, "new", "begin a project from a sample")
    new.add_argument("file", metavar="FILE")
    new.add_argument("--from", dest="sample", metavar="SAMPLE", required=True)

    proof = _command(commands.add_parser, "proof", "computed values beside published ones")
    proof.add_argument(
        "--uncovered",
        action="store_true",
        help="list the methods' constants that no published value would catch if they were 1 %% off",
    )

    _command(commands.add_parser, "schema", "the project file's JSON schema, with each field's unit")
    return parser


def _command(
    add: Callable[..., argparse.ArgumentParser],
    name: str,
    does: str,
) -> argparse.ArgumentParser:
    command = add(name, help=does, description=does[0].upper() + does[1:] + ".")
    command.add_argument("--json", action="store_true", help="print JSON, always in the file's units")
    return command


def _units(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--units", choices=["metric", "us"], help="units shown, instead of the project's own"
    )
