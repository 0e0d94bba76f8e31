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
"""Rows printed however unlikely it is that they are short; JSON has every finding."""
_SELDOM = 1e-3
"""Chance below which a row is printed only among so many."""
_LEAST_SHOWN = 1e-4
_READ = (
    "Used: utilisation without any scatter, and within what 90 % of the boats have it (5 … 95 %). Short: the "
    "part of the boats where it is above 1, and the interval that it lies in with 95 % certainty. Goes most "
    "with: the input whose rank goes most with it, from −1 (less used with more of it) to +1. All are the "
    "method's own findings, but bonds, which are mechanics and no rule."
)


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
    p, low, high = found.any_short
    text += [
        "",
        *paragraph(
            f"Of {found.samples} boats laid so, any finding is short in {_percent(p)} "
            f"(95 % sure: {_percent(low)} to {_percent(high)})."
        ),
        *paragraph(_READ),
    ]
    rows = _alike(found.chances)
    printed = [(row, count) for row, count, chance in rows if chance >= _SELDOM]
    printed += [(row, count) for row, count, chance in rows if chance < _SELDOM][
        : max(_PRINTED - len(printed), 0)
    ]
    text += ["", *table(_COLUMNS, [row for row, _ in printed]), ""]
    more = len(found.chances) - sum(count for _, count in printed)
    if more:
        seldom = f"short in less than {_percent(_SELDOM)} of the boats, or in none"
        text += [*paragraph(f"… and {more} more, {seldom}; --json has them all."), ""]
    if found.left_out:
        text += ["Not sampled", *bullets(found.left_out), ""]
    return [*text, *bullets(found.notes)]


def _alike(chances: Sequence[Chance]) -> list[tuple[Sequence[str], int, float]]:
    """Return rows, how many findings each stands for, and their chance: what reads the same is one row."""
    groups: dict[Sequence[str], list[Chance]] = {}
    for one in chances:
        groups.setdefault((one.aspect, *_numbers(one)), []).append(one)
    return [(_row(ones), len(ones), ones[0].short) for ones in groups.values()]


def _row(ones: Sequence[Chance]) -> Sequence[str]:
    first, *others = ones
    alike = f", and {len(others)} alike" if others else ""
    return (f"{first.name}, {first.aspect}{alike}", *_numbers(first))


def _numbers(one: Chance) -> Sequence[str]:
    low, _, high = one.percentiles
    driver = next(
        (f"{one.name} {one.correlation:+.2f}".replace("-", "−") for one in one.drivers), "nothing sampled"
    )
    return (
        utilisation_text(one.nominal),
        _percent(one.short),
        f"{_percent(one.low)} … {_percent(one.high)}",
        f"{low:.2f} … {high:.2f}",
        driver,
    )


def _percent(part: float) -> str:
    if 0 < part < _LEAST_SHOWN:
        return f"< {rounded(100 * _LEAST_SHOWN, 1)} %"
    return f"{rounded(100 * part, 1 if part < 10 * _LEAST_SHOWN else 2)} %"


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
                "kind": one.kind,
                "utilisation": finite(one.nominal),
                "chance": one.short,
                "low": one.low,
                "high": one.high,
                "mean": finite(one.mean),
                "percentiles": dict(zip(("5", "50", "95"), map(finite, one.percentiles), strict=True)),
                "curve": [{"percent": part, "utilisation": finite(use)} for part, use in one.curve],
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
