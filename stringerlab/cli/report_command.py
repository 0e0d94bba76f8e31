"""``report``: the calculation report of a project as PDF."""

import argparse
from pathlib import Path

from stringerlab.assess import check
from stringerlab.cli.paper_output import told
from stringerlab.cli.progress import Watch, progress
from stringerlab.cli.relative_page import beside
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load

_CHECKED = 0.4
"""Part of the work that the check is."""


def run(options: argparse.Namespace) -> int:
    """Write the report; 2 when something in it is not judged for being wrong."""
    from stringerlab.report.calculation import calculation_report
    from stringerlab.report.exports import nothing_judged
    from stringerlab.report.writing import written

    out = Path(options.out)
    if out.suffix.lower() != ".pdf":
        raise StringerlabError(Problem("A report is a PDF.", str(out), "End its name in .pdf."))
    project = load(options.file)
    with progress() as watch:
        results = check(project, options.method, _part(watch, 0.0, _CHECKED))
        if not results.findings:
            raise StringerlabError([nothing_judged(project), *results.problems])
        of_parent, wrong = beside(results, options.file, None)
        made = calculation_report(
            results,
            workings=options.workings,
            parent=of_parent,
            second_opinion=options.second_opinion,
            watch=_part(watch, _CHECKED, 1.0),
        )
    return told([written(out, made)], (*results.problems, *wrong), as_json=options.json)


def _part(watch: Watch, begins: float, ends: float) -> Watch:
    return lambda done, what: watch(begins + (ends - begins) * done, what)
