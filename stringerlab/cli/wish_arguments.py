"""What can be typed after ``size``, ``study``, ``scatter`` and ``sensitivity``."""

import argparse
from collections.abc import Callable

Add = Callable[..., argparse.ArgumentParser]

_VARY = (
    "a number that may change: height, crown, flange or bead of a SECTION; layers of LAMINATE:PLY; place of "
    "longitudinals, transverses (the first, the last); spacing or length of a SPAN; speed; displacement; "
    "then least, most, step: 'height Main stringer 100 160 10'"
)


def add_wishes(
    command: Callable[[Add, str, str], argparse.ArgumentParser],
    units: Callable[[argparse.ArgumentParser], None],
    add: Add,
) -> None:
    """Add ``size``, ``study``, ``scatter`` and ``sensitivity``.

    Parameters
    ----------
    command
        Makes a command of what every one takes.
    units
        Has a command take units.
    add
        Adds one to the parser.
    """
    _size(command(add, "size", "lighter designs within what may change, that hold what must hold"), units)
    _study(command(add, "study", "one or two numbers swept, and what is read off every step"), units)
    _scatter(
        command(add, "scatter", "how likely every finding is short where lay-up varies, and what drives it"),
        units,
    )
    helps = command(add, "sensitivity", "what would help most: one step in every number, ranked")
    helps.add_argument("file", metavar="FILE")
    helps.add_argument("subject", metavar="SUBJECT", nargs="?", help="id or unique name: one alone")
    helps.add_argument(
        "--no-mechanics", dest="mechanics", action="store_false", help="by the method's findings alone"
    )
    _run(helps)
    units(helps)


def _size(size: argparse.ArgumentParser, units: Callable[[argparse.ArgumentParser], None]) -> None:
    size.description = (
        f"{size.description} What the project says is asked; an option takes the place of what it says of "
        "the same. Found, or proven the best; the exit status is 1 where nothing holds."
    )
    size.add_argument("file", metavar="FILE")
    size.add_argument("--vary", metavar="WHAT", action="append", default=[], help=_VARY)
    size.add_argument(
        "--plies",
        metavar="WHAT",
        action="append",
        default=[],
        help="a laminate whose plies may change: 'Stringer: csm450 wr600, 3 to 7, keep 1, end 1, gauge 4'; "
        "no two fabrics face each other without mat, unless 'any order' is said",
    )
    size.add_argument(
        "--hold",
        metavar="WHAT",
        action="append",
        default=[],
        help="what must hold: 'utilisation 0.9', 'utilisation web area of Main stringer 0.8', "
        "'deflection 1/200', 'height 150'; every rule finding at 1 where no utilisation is said",
    )
    size.add_argument(
        "--lower",
        metavar="AIM",
        action="append",
        default=[],
        help="what to lower, as often as needed: mass, cost, labour, utilisation, mix; mass and "
        "utilisation where neither the project nor this says it",
    )
    size.add_argument(
        "--mix",
        metavar=("KG", "MONEY", "HOURS"),
        nargs=3,
        type=float,
        help="weights of the mix: of a kilogram, of a unit of money, of an hour",
    )
    size.add_argument("--seed", type=int, metavar="N", help="of what is drawn at random; usually 1")
    size.add_argument(
        "--designs", type=int, metavar="N", help="how many are judged at the most; usually 2 million"
    )
    size.add_argument(
        "--mechanics", action="store_true", help="ask mechanics and grid, too, of the designs shown"
    )
    size.add_argument("--apply", type=int, metavar="N", help="write the boat changed into design N to -o")
    size.add_argument(
        "--layout", type=int, metavar="N", help="write design N as a layout beside the present one to -o"
    )
    size.add_argument("-o", dest="out", metavar="OUT", help="project file to write")
    _run(size)
    units(size)


def _study(study: argparse.ArgumentParser, units: Callable[[argparse.ArgumentParser], None]) -> None:
    study.add_argument("file", metavar="FILE")
    study.add_argument("study", metavar="STUDY", nargs="?", help="id or unique name of one of the project's")
    study.add_argument("--along", metavar="WHAT", action="append", default=[], help=f"once or twice: {_VARY}")
    study.add_argument(
        "--show",
        metavar="WHAT",
        action="append",
        default=[],
        help="utilisation (highest), 'utilisation web area of Main stringer', mass, cost, labour",
    )
    study.add_argument("--csv", metavar="OUT.csv", help="write every step as a table")
    _run(study)
    units(study)


def _scatter(scatter: argparse.ArgumentParser, units: Callable[[argparse.ArgumentParser], None]) -> None:
    scatter.add_argument("file", metavar="FILE")
    scatter.add_argument("--method", metavar="M", help="id of the method, instead of the project's own")
    scatter.add_argument("--samples", type=int, metavar="N", help="how many boats are laid; usually 16384")
    scatter.add_argument("--seed", type=int, metavar="N", help="of what is drawn at random; usually 1")
    scatter.add_argument(
        "--usual",
        metavar="NAME",
        help="spreads by name: 'careful hand lay-up', 'usual hand lay-up', 'rough hand lay-up'",
    )
    scatter.add_argument(
        "--spread",
        metavar="WHAT",
        action="append",
        default=[],
        help="what scatters, instead: thickness, glass, modulus, strength, bead or speed, its spread and "
        "law: 'thickness 0.07 normal', 'strength 0.1 lognormal of Bottom'",
    )
    _run(scatter)
    units(scatter)


def _run(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--workers", type=int, default=0, metavar="N", help="processes; 0, which is usual: as many as help"
    )
    command.add_argument(
        "--scheduler", metavar="ADDRESS", help="run on a Dask cluster (needs stringerlab[cluster])"
    )
    command.add_argument(
        "--journal", metavar="FILE", help="keep what is done, so that a run stopped goes on from there"
    )
