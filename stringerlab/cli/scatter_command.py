"""``scatter``: how likely every finding is short where the lay-up varies, and what drives it."""

import argparse
import json
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from stringerlab.cli.long_run import long_run
from stringerlab.cli.quantities import finite
from stringerlab.cli.table import Column, bullets, paragraph, table
from stringerlab.cli.typed_wishes import each, scatter_read
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.methods import NOTICE, Verdict, utilisation_text, verdict_of
from stringerlab.project import Project
from stringerlab.project.wishes import ScatterPlan
from stringerlab.sizing.records import Chance, Scattering
from stringerlab.sizing.scatter import scatter
from stringerlab.units import rounded
from stringerlab.units.ranges import range_problems

_COLUMNS = (
    Column("finding", 30),
    Column("used", 5, right=True),
    Column("short", 7, right=True),
    Column("95 % sure", 17, right=True),
    Column("used, 5 … 95 %", 14, right=True),
    Column("goes most with", 17),
)
_PRINTED = 12
"""Findings printed however unlikely they are to be short; JSON has all."""


def run(options: argparse.Namespace) -> int:
    """Print the chances; 1 where a finding is short without any scatter, 0 otherwise."""
    project = load(options.file)
    plan = plan_of(project, options)
    with long_run(options) as (running, watch):
        found = scatter(project, plan, running=running, watch=watch, method=options.method)
    if options.json:
        print(json.dumps(as_json(found, project), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(page(found, project)))
    return 1 if any(verdict_of(one.nominal) is Verdict.SHORT for one in found.chances) else 0


def plan_of(project: Project, options: argparse.Namespace) -> ScatterPlan:
    """Return what scatters: what the project says, with what is typed in the place of the same.

    Raises
    ------
    StringerlabError
        With everything that is wrong with what is typed.
    """
    plan = project.wishes.scatter
    if options.usual is not None:
        plan = replace(plan, usual=options.usual, inputs=())
    if options.spread:
        inputs = each("--spread", options.spread, lambda text, id: scatter_read(project, text, id))  # noqa: A006
        plan = replace(plan, inputs=inputs)
    if options.samples is not None:
        plan = replace(plan, samples=options.samples)
    if options.seed is not None:
        plan = replace(plan, seed=options.seed)
    wrong = range_problems(plan, "scatter")
    if wrong:
        raise StringerlabError(wrong)
    return plan


def page(found: Scattering, project: Project) -> list[str]:
    """Return the lines of a scatter study for a terminal."""
    text = [*paragraph(NOTICE), "", *paragraph(f"Project  {project.name}"), "", "What scatters"]
    text += [line for one in found.inputs for line in paragraph(one, "  ")]
    likely = [number for number, one in enumerate(found.chances) if one.short > 0]
    printed = found.chances[: max(_PRINTED, len(likely))]
    text += ["", *table(_COLUMNS, [_row(one) for one in printed]), ""]
    if len(found.chances) > len(printed):
        text += [*paragraph(f"… and {len(found.chances) - len(printed)} more, short in no sample."), ""]
    p, low, high = found.any_short
    text += paragraph(
        f"Of {found.samples} boats laid so, any finding is short in {_percent(p)} "
        f"(95 % sure: {_percent(low)} to {_percent(high)})."
    )
    if found.left_out:
        text += ["", "Not sampled", *bullets(found.left_out)]
    return [*text, "", *bullets(found.notes)]


def _row(one: Chance) -> Sequence[str]:
    low, _, high = one.percentiles
    driver = next(
        (f"{one.name} {one.correlation:+.2f}".replace("-", "−") for one in one.drivers), "nothing sampled"
    )
    return (
        f"{one.name}, {one.aspect}",
        utilisation_text(one.nominal),
        _percent(one.short),
        f"{_percent(one.low)} … {_percent(one.high)}",
        f"{low:.2f} … {high:.2f}",
        driver,
    )


def _percent(part: float) -> str:
    return f"{rounded(100 * part, 2)} %"


def as_json(found: Scattering, project: Project) -> dict[str, Any]:
    """Return the documented JSON of a scatter study: parts of one."""
    p, low, high = found.any_short
    return {
        "notice": NOTICE,
        "project": project.name,
        "inputs": list(found.inputs),
        "samples": found.samples,
        "seed": found.plan.seed,
        "any_short": {"chance": p, "low": low, "high": high},
        "findings": [
            {
                "subject": one.subject,
                "name": one.name,
                "aspect": one.aspect,
                "utilisation": finite(one.nominal),
                "chance": one.short,
                "low": one.low,
                "high": one.high,
                "mean": finite(one.mean),
                "percentiles": dict(zip(("5", "50", "95"), map(finite, one.percentiles), strict=True)),
                "drivers": [
                    {"name": driver.name, "rank_correlation": finite(driver.correlation)}
                    for driver in one.drivers
                ],
            }
            for one in found.chances
        ],
        "left_out": list(found.left_out),
        "notes": list(found.notes),
    }


__all__ = ["as_json", "page", "plan_of", "run"]
