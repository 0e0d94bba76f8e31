"""``section --second-opinion``: our numbers beside those of another library, and why the two differ."""

import argparse
import json
from math import isfinite
from typing import Any

from stringerlab.assess.second_opinion import SecondOpinion, second_opinion
from stringerlab.assess.sections import reference_plating, sound_shape
from stringerlab.cli.table import Column, paragraph, table
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import NOTICE
from stringerlab.project import Project, resolve
from stringerlab.section import Section
from stringerlab.units import System, format, own_unit

_COLUMNS = (
    Column("number", 26),
    Column("ours", 20, right=True),
    Column("sectionproperties", 20, right=True),
    Column("difference", 12, right=True),
)


def page(project: Project, section: Section, options: argparse.Namespace) -> str:
    """Return what to print: a table, or JSON in the program's units.

    Raises
    ------
    StringerlabError
        When the section cannot be computed, or the other library's process crashes or takes too long.
    """
    limit = float(options.limit)
    if not (isfinite(limit) and limit > 0):
        raise StringerlabError(Problem(f"{options.limit} s is no time.", "--limit", "Give seconds above 0."))
    resolved = resolve(project)
    found = second_opinion(sound_shape(resolved, section), reference_plating(resolved, section), limit=limit)
    if options.json:
        return json.dumps(_as_json(found, section), indent=2, ensure_ascii=False, allow_nan=False)
    system = System(options.units) if options.units else project.units
    rows = [
        (row.name, format(row.ours, row.kind, system), format(row.theirs, row.kind, system), row.words)
        for row in found.rows
    ]
    text = [
        *paragraph(NOTICE),
        "",
        *paragraph(
            f"Section {section.name} ({section.id}) on its reference plating, first-principles moduli. "
            "Differences of places are in parts of √(EI/EA)."
        ),
        "",
        *table(_COLUMNS, rows),
    ]
    for note in found.notes:
        text += ["", *paragraph(note)]
    if found.shear is not None:
        count = len(found.shear.stresses.triangles)
        text += ["", f"Its mesh: {count} triangles; {found.shear.seconds:.1f} s of its own time."]
    return "\n".join(text)


def _as_json(found: SecondOpinion, section: Section) -> dict[str, Any]:
    return {
        "notice": NOTICE,
        "section": section.id,
        "name": section.name,
        "library": "sectionproperties",
        "rows": [
            {
                "key": row.key,
                "name": row.name,
                "unit": own_unit(row.kind).symbol,
                "ours": row.ours,
                "theirs": row.theirs,
                "difference": row.difference if isfinite(row.difference) else None,
                "why": row.why,
            }
            for row in found.rows
        ],
        "notes": list(found.notes),
        "triangles": len(found.shear.stresses.triangles) if found.shear else None,
    }
