"""``grid``: the load that a drawn plan's members share, span by span, with reactions and frequencies."""

import argparse
import json
import sys
from typing import Any

from stringerlab.assess.grid import GridResults, Most, SpanExtremes, analysed, ground_of
from stringerlab.assess.grid.bounds import with_uncut_said
from stringerlab.assess.grid.stepping import with_step_said
from stringerlab.cli.layout_page import placed_words
from stringerlab.cli.named import one_named
from stringerlab.cli.progress import part_of, progress
from stringerlab.cli.table import WIDTH, Column, paragraph, table
from stringerlab.errors import Problem, StringerlabError, shown
from stringerlab.files import load
from stringerlab.methods import NOTICE, Method, method_named
from stringerlab.project import Project, Resolved, resolve
from stringerlab.project.planning import with_layout_in_use
from stringerlab.units import Kind, System, format

_SPANS = (
    Column("span", 28),
    Column("crown pulled", 12, right=True),
    Column("crown pushed", 12, right=True),
    Column("shear", 9, right=True),
    Column("torque", 10, right=True),
    Column("bends", 8, right=True),
)
_REACTIONS = (Column("support", 58), Column("greatest", 12, right=True), Column("least", 12, right=True))


def run(options: argparse.Namespace) -> int:
    """Print the grid; 2 when it could not be analysed or something is wrong with the project, 0 otherwise."""
    project = _with_layout(load(options.file), options.layout)
    method = method_named(options.method or project.method)
    with progress() as watch:
        watch(0.0, "Finding panels and spans")
        resolved = resolve(project)
        ground = ground_of(project, resolved)
        if ground is None:
            raise StringerlabError(resolved.problems or [Problem("No layout is in use.", "project")])
        results = analysed(ground, method, part_of(watch, 0.1, 0.4))
        results = with_step_said(results, method, part_of(watch, 0.5, 0.3, ", half the step"))
        results = with_uncut_said(results, method, part_of(watch, 0.8, 0.2, ", crowns through"))
    if options.json:
        print(json.dumps(as_json(results, method), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        system = System(options.units) if options.units else project.units
        print("\n".join(page(results, method, project, system)))
    for line in [*shown(resolved.problems), *_grid_problems(results, resolved)]:
        print(line, file=sys.stderr)
    return 0 if results.is_solved and not resolved.problems and not results.problems else 2


def _grid_problems(results: GridResults, resolved: Resolved) -> list[str]:
    """Return what the grid adds to the project's own problems, each once and with its place on the plan."""
    known = {(one.where.rpartition("(")[2].partition(")")[0], one.what) for one in resolved.problems}
    if resolved.problems and not results.ground.found.spans:
        return []  # nothing is found for a reason that is said
    return [
        placed_words(placed)
        for placed in dict.fromkeys(results.problems)
        if (placed.problem.where.rpartition("(")[2].rstrip(")"), placed.problem.what) not in known
    ]


def _with_layout(project: Project, wanted: str | None) -> Project:
    if not project.layouts:
        raise StringerlabError(
            Problem("The project has no layout.", f"project '{project.name}'", "Draw one on its Plan page.")
        )
    if wanted:
        return with_layout_in_use(project, one_named(project.layouts, wanted, "layout").id)
    if project.layout or len(project.layouts) > 1:
        return project
    return with_layout_in_use(project, next(iter(project.layouts)).id)


def page(results: GridResults, method: Method, project: Project, system: System) -> list[str]:
    """Return the lines to print."""
    layout = results.ground.layout
    text = [
        *paragraph(f"{project.name}: grid of '{layout.name}' under {method.name}"),
        "",
        *(line for note in results.notes for line in paragraph(f"· {note}.")),
    ]
    if not results.is_solved:
        return [*text, "", *paragraph("It could not be analysed."), "", *paragraph(NOTICE)]
    text += ["", *paragraph("Moments that pull the span's crown, and that push it; shear; torque; sag.")]
    text += ["", *table(_SPANS, [_row(one, system) for one in results.spans.values()]), ""]
    text += _governing(results, system)
    text += ["", *table(_REACTIONS, _reactions(results, system)), ""]
    if results.frequencies:
        said = ", ".join(f"{each:.1f}" for each in results.frequencies[:8])
        text += paragraph(f"Natural frequencies in air: {said} Hz.")
    text += _checks(results)
    return [*text, "─" * WIDTH, *paragraph(NOTICE)]


def _row(one: SpanExtremes, system: System) -> tuple[str, ...]:
    def moment(value: float) -> str:
        return format(value if abs(value) > 1 else 0.0, Kind.MOMENT, system)

    return (
        f"{one.name} ({one.id})",
        moment(one.M_max.value),
        moment(one.M_min.value),
        format(one.V.value, Kind.FORCE, system),
        moment(one.T),
        format(one.sag.value, Kind.LENGTH, system),
    )


def _governing(results: GridResults, system: System) -> list[str]:
    """Return what governs the worst span of each kind."""
    spans = list(results.spans.values())
    found: list[str] = []
    for words, most in (
        ("crown in tension", max(spans, key=lambda one: one.M_max.value)),
        ("crown in compression", min(spans, key=lambda one: one.M_min.value)),
        ("shear", max(spans, key=lambda one: one.V.value)),
    ):
        of: Most = {"crown in tension": most.M_max, "crown in compression": most.M_min, "shear": most.V}[
            words
        ]
        case = results.cases[of.case]
        place = format(of.along * most.length, Kind.LENGTH, system)
        x, y = (format(round(each, 3) + 0.0, Kind.LENGTH, system) for each in case.at)
        found += paragraph(
            f"Greatest {words}: {most.name}, {place} from its first node, in: {case.name} (x {x}, y {y})."
        )
    return found


def _reactions(results: GridResults, system: System) -> list[tuple[str, ...]]:
    return [
        (
            ", ".join(
                [
                    one.key,
                    *(
                        f"{axis} {format(at, Kind.LENGTH, system)}"
                        for axis, at in zip("xy", one.at, strict=True)
                    ),
                ]
            ),
            format(one.most, Kind.FORCE, system),
            format(one.least, Kind.FORCE, system),
        )
        for one in results.reactions
    ]


def _checks(results: GridResults) -> list[str]:
    tally = results.tally
    text = [
        f"{len(results.cases)} load cases. Forces left unbalanced: {results.residual:.1e} of the load at "
        f"nodes, {results.imbalance:.1e} in all."
    ]
    if tally is not None and tally.total > 0:
        hull = ", ".join(f"{area / tally.total:.1%} to {name}" for name, area in tally.hull.items())
        text.append(f"Of the bottom {tally.beams / tally.total:.1%} is carried by members, {hull} directly.")
    return [line for each in text for line in paragraph(each)]


def as_json(results: GridResults, method: Method) -> dict[str, Any]:
    """Return the grid as JSON, in N and mm."""

    def most(of: Most) -> dict[str, Any]:
        case = results.cases[of.case]
        return {
            "value": of.value,
            "along": of.along,
            "case": case.name,
            "subject": case.subject,
            "at": list(case.at),
            "patch": [list(point) for point in case.patch],
            "pressure": case.pressure,
        }

    tally = results.tally
    return {
        "notice": NOTICE,
        "layout": results.ground.layout.id,
        "method": method.id,
        "solved": results.is_solved,
        "spans": [
            {
                "id": one.id,
                "name": one.name,
                "length": one.length,
                "M_max": most(one.M_max),
                "M_min": most(one.M_min),
                "V": most(one.V),
                "T": one.T,
                "w_max": one.w_max,
                "w_min": one.w_min,
                "sag": most(one.sag),
            }
            for one in results.spans.values()
        ],
        "reactions": [
            {"key": one.key, "at": list(one.at), "most": one.most, "least": one.least}
            for one in results.reactions
        ],
        "frequencies": list(results.frequencies),
        "cases": len(results.cases),
        "residual": results.residual if results.is_solved else None,
        "imbalance": results.imbalance if results.is_solved else None,
        "area": None
        if tally is None
        else {"members": tally.beams, "hull": dict(tally.hull), "total": tally.total},
        "notes": list(results.notes),
        "problems": [
            {
                "what": placed.problem.what,
                "where": placed.problem.where,
                "remedy": placed.problem.remedy,
                "at": list(placed.at),
            }
            for placed in results.problems
        ],
    }
