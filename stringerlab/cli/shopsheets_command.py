"""``shopsheets``: sheets for the lamination and bonding crews as PDF, one file each in a folder."""

import argparse

from stringerlab.cli.named import with_layout_named
from stringerlab.cli.paper_output import told
from stringerlab.cli.progress import progress
from stringerlab.files import load
from stringerlab.project import PageSize, resolve


def run(options: argparse.Namespace) -> int:
    """Write the sheets; 2 when something is not on them for being wrong."""
    from stringerlab.report.shop import shop_sheets
    from stringerlab.report.writing import written_all

    project = load(options.file)
    if options.layout:
        project = with_layout_named(project, options.layout)
    resolved = resolve(project)
    size = next((size for size in PageSize if size.value.lower() == options.size), None)
    with progress() as watch:
        made = shop_sheets(project, resolved, size=size, watch=watch)
    return told(written_all(options.out, made), resolved.problems, as_json=options.json)
