"""What can be typed, and which command it goes to."""

import argparse
import errno
import json
import os
import sys
from collections.abc import Callable, Sequence
from importlib import import_module

from stringerlab import __version__
from stringerlab.cli.paper_arguments import add_paper
from stringerlab.cli.wish_arguments import add_wishes
from stringerlab.errors import Problem, StringerlabError, shown

BAD_INPUT = 2
COMMANDS = (
    "check",
    "methods",
    "section",
    "laminate",
    "layout",
    "grid",
    "takeoff",
    "compare",
    "size",
    "sensitivity",
    "scatter",
    "study",
    "report",
    "shopsheets",
    "export",
    "new",
    "proof",
    "schema",
    "book",
)


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
        _print_no_more()
        return 0
    except OSError as error:
        if error.errno not in _NO_ROOM:
            raise
        _print_no_more()
        remedy = "Send it elsewhere: its disk is full."
        what = f"What is to be printed cannot be written: {error.strerror}."
        _tell(StringerlabError(Problem(what, "standard output", remedy)), as_json=False)
        return BAD_INPUT
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return 130
    return status


_NO_ROOM = {errno.ENOSPC, errno.EFBIG, errno.EDQUOT, errno.EIO}


def _print_no_more() -> None:
    """Let what is still to be printed go nowhere."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


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
        epilog="Exit status: 2 bad input, 1 something short, 3 not judged and not allowed, 0 otherwise; "
        "of a check, the method's own findings and those of the mechanics both count.",
    )
    parser.add_argument("--version", action="version", version=f"stringerlab {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")

    check = _command(commands.add_parser, "check", "judge every panel and span of a project")
    check.add_argument("file", metavar="FILE")
    check.add_argument(
        "--method", metavar="M", help="id of the method, instead of the project's own; all: every one"
    )
    check.add_argument(
        "--parent",
        metavar="FILE",
        help="a boat to hold the findings against, instead of the parent the project names",
    )
    check.add_argument(
        "--no-mechanics",
        dest="mechanics",
        action="store_false",
        help="judge by the method alone, without the mechanics under its pressure",
    )
    check.add_argument(
        "--as-built",
        action="store_true",
        help="judge the boat as the shop measured it, and print what changed, verdicts first",
    )
    check.add_argument("--workings", action="store_true", help="print each finding's formulas with numbers")
    check.add_argument(
        "--allow-not-judged",
        metavar="ASPECT,…",
        default="",
        help="aspects that may stay not judged without changing the exit status, such as bond",
    )
    _units(check)

    methods = _command(
        commands.add_parser, "methods", "panels and spans by several methods, and why these differ"
    )
    methods.add_argument("file", metavar="FILE")
    methods.add_argument(
        "subject", metavar="SUBJECT", nargs="?", help="id or unique name: one alone, in words"
    )
    methods.add_argument(
        "--against",
        metavar="A,B",
        default="",
        help="ids of the methods, all by default; others are held against the project's own, or the first",
    )
    _units(methods)

    section = _command(commands.add_parser, "section", "properties of one section on its reference plating")
    section.add_argument("file", metavar="FILE")
    section.add_argument("id", metavar="ID", help="id or unique name")
    section.add_argument(
        "--second-opinion",
        action="store_true",
        help="hold stiffness, torsion and shear against sectionproperties, in a process of its own",
    )
    section.add_argument(
        "--limit", metavar="SECONDS", type=float, default=60.0, help="time each of its two runs may take; 60"
    )
    _units(section)

    laminate = _command(
        commands.add_parser, "laminate", "plies, thickness, mass and constants of one laminate"
    )
    laminate.add_argument("file", metavar="FILE")
    laminate.add_argument("id", metavar="ID", help="id or unique name")
    _units(laminate)

    layout = _command(
        commands.add_parser,
        "layout",
        "panels and spans found in a drawn plan, its cavities, their drains and foam, flotation",
    )
    layout.add_argument("file", metavar="FILE")
    layout.add_argument("--layout", metavar="ID", help="id or unique name, instead of the one in use")
    _units(layout)

    grid = _command(
        commands.add_parser,
        "grid",
        "the load a drawn plan's members share: worst moments, shear and deflection of spans, reactions",
    )
    grid.add_argument("file", metavar="FILE")
    grid.add_argument("--layout", metavar="ID", help="id or unique name, instead of the one in use")
    grid.add_argument("--method", metavar="M", help="id of the method, instead of the project's own")
    _units(grid)

    takeoff = _command(
        commands.add_parser, "takeoff", "materials, cost and labour of every member and section"
    )
    takeoff.add_argument("file", metavar="FILE")
    takeoff.add_argument(
        "id", metavar="SECTION|SPAN", nargs="?", help="id or unique name: one alone, by material"
    )
    _units(takeoff)

    _compare(commands.add_parser)
    add_wishes(_command, _units, commands.add_parser)
    add_paper(_command, _units, commands.add_parser)
    new = _command(commands.add_parser, "new", "begin a project from a sample")
    new.add_argument("file", metavar="FILE")
    new.add_argument("--from", dest="sample", metavar="SAMPLE", required=True)

    proof = _command(commands.add_parser, "proof", "computed values beside published ones")
    proof.add_argument(
        "--uncovered",
        action="store_true",
        help="list the methods' constants that no published value would catch if they were 1 %% off",
    )

    _book(commands.add_parser)
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


def _compare(add: Callable[..., argparse.ArgumentParser]) -> None:
    compare = _command(add, "compare", "two to six layouts or boats side by side, a parent boat among them")
    compare.add_argument(
        "of", metavar="FILE|FILE#LAYOUT", nargs="+", help="one file alone stands for its layouts"
    )
    compare.add_argument(
        "--layout", metavar="ID", action="append", help="a layout of the one file, as often as needed"
    )
    compare.add_argument(
        "--parent", action="store_true", help="the parent boat that the first file names stands last"
    )
    compare.add_argument("--svg", metavar="FILE", help="write the one-page plot")
    compare.add_argument(
        "--pdf", metavar="FILE", help="write the comparison sheet, plot and words on one page"
    )
    _units(compare)


def _book(add: Callable[..., argparse.ArgumentParser]) -> None:
    does = "own books of materials: check, write from a project, merge into one, hold against another"
    book = add("book", help=does, description=does[0].upper() + does[1:] + ".")
    parts = book.add_subparsers(dest="does", metavar="WHAT", required=True)

    check = _command(parts.add_parser, "check", "say everything that is wrong with a book, or asked about it")
    check.add_argument("book", metavar="BOOK")

    export = _command(parts.add_parser, "export", "write a project's own materials as a book")
    export.add_argument("project", metavar="PROJECT")
    export.add_argument("-o", dest="out", metavar="BOOK", required=True, help="file to write")
    which = export.add_mutually_exclusive_group()
    which.add_argument("--ids", metavar="ID,…", action="append", help="these materials, shipped ones too")
    which.add_argument("--in-use", action="store_true", help="only own materials that something names")
    export.add_argument("--all", action="store_true", help="the shipped materials as well")
    export.add_argument("--replace", action="store_true", help="write over a file that is there")

    take = _command(parts.add_parser, "import", "merge a book into a project's own materials")
    take.add_argument("project", metavar="PROJECT")
    take.add_argument("book", metavar="BOOK")
    take.add_argument(
        "--take",
        metavar="CHOICE",
        action="append",
        help="where the two differ keep mine, theirs or both; ID=theirs for one material, as often as needed",
    )
    take.add_argument("-o", dest="out", metavar="OUT", help="write another project file, leave this one")
    _units(take)

    diff = _command(parts.add_parser, "diff", "where two books disagree, field by field")
    diff.add_argument("first", metavar="A")
    diff.add_argument("second", metavar="B")
    _units(diff)


def _units(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--units", choices=["metric", "us"], help="units shown, instead of the project's own"
    )
