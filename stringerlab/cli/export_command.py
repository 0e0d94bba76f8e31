"""``export``: sections and layout as SVG or DXF, findings, properties and take-off as CSV."""

import argparse
from pathlib import Path

from stringerlab.cli.named import one_named, with_layout_named
from stringerlab.cli.paper_output import told
from stringerlab.cli.progress import progress
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load
from stringerlab.project import Project
from stringerlab.units import System


def run(options: argparse.Namespace) -> int:
    """Write one file; 2 when something is not in it for being wrong."""
    from stringerlab.report.exports import What, exported, form_of
    from stringerlab.report.writing import written

    what, out = What(options.what), Path(options.out)
    form = form_of(out, what)
    _refuse_idle(options, what)
    project = load(options.file)
    if options.layout or what is What.LAYOUT:
        project = with_layout_named(project, options.layout)
    with progress() as watch:
        made = exported(
            project,
            what,
            form,
            section=_section(project, options.section),
            method=options.method,
            system=System(options.units) if options.units else None,
            watch=watch,
        )
    return told([written(out, made.data)], made.left_out, as_json=options.json)


def _section(project: Project, wanted: str | None) -> str:
    return "" if wanted is None else one_named(project.sections, wanted, "section").id


def _refuse_idle(options: argparse.Namespace, what: str) -> None:
    """Refuse what would change nothing in what is asked for."""
    goes_with = (
        ("--section", options.section, ("sections", "properties")),
        ("--layout", options.layout, ("layout", "findings", "takeoff")),
        ("--method", options.method, ("findings",)),
    )
    wrong = [
        Problem(f"It changes nothing in {what}.", name, f"It goes with {' and '.join(those)}.")
        for name, given, those in goes_with
        if given is not None and what not in those
    ]
    if wrong:
        raise StringerlabError(wrong)
