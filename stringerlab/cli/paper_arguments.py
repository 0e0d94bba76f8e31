"""What can be typed after the commands that write documents and drawings."""

import argparse
from collections.abc import Callable

Add = Callable[..., argparse.ArgumentParser]


def add_paper(
    command: Callable[[Add, str, str], argparse.ArgumentParser],
    units: Callable[[argparse.ArgumentParser], None],
    add: Add,
) -> None:
    """Add ``report``, ``shopsheets`` and ``export``.

    Parameters
    ----------
    command
        Makes a command of what every one takes.
    units
        Has a command take units.
    add
        Adds one to the parser.
    """
    report = command(add, "report", "the calculation report as PDF: inputs, findings, workings, sources")
    report.add_argument("file", metavar="FILE")
    report.add_argument("-o", dest="out", metavar="OUT.pdf", required=True, help="file to write")
    report.add_argument(
        "--workings",
        choices=["governing", "all"],
        default="governing",
        help="formula by formula for the governing subject of each kind, which is usual, or for all",
    )
    report.add_argument(
        "--second-opinion",
        action="store_true",
        help="hold every section against sectionproperties too, in a process of its own",
    )
    report.add_argument("--method", metavar="M", help="id of the method, instead of the project's own")

    sheets = command(
        add, "shopsheets", "sheets for the lamination and bonding crews as PDF, one file each in a folder"
    )
    sheets.add_argument("file", metavar="FILE")
    sheets.add_argument("-o", dest="out", metavar="DIR", required=True, help="folder to write to")
    sheets.add_argument("--layout", metavar="ID", help="id or unique name, instead of the one in use")
    sheets.add_argument(
        "--size", choices=["a4", "letter"], help="of the sheets, instead of the project's own"
    )

    export = command(add, "export", "drawings as SVG or DXF, tables as CSV, by the ending of the file's name")
    export.add_argument("file", metavar="FILE")
    export.add_argument(
        "--what",
        choices=["sections", "layout", "findings", "properties", "takeoff"],
        required=True,
        help="sections and layout are drawn (svg, dxf), the others are tables (csv)",
    )
    export.add_argument("-o", dest="out", metavar="OUT", required=True, help="file to write")
    export.add_argument(
        "--section", metavar="ID", help="id or unique name: one alone at its own origin, not all side by side"
    )
    export.add_argument("--layout", metavar="ID", help="id or unique name, instead of the one in use")
    export.add_argument("--method", metavar="M", help="of findings: id of the method, not the project's own")
    units(export)


__all__ = ["add_paper"]
