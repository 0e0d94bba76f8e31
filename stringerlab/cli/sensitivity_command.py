"""``sensitivity``: what would help most: for every short or tight finding, one step in every number."""

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import isfinite
from typing import Any

from stringerlab.cli.long_run import long_run
from stringerlab.cli.named import one_named
from stringerlab.cli.quantities import finite, quantity
from stringerlab.cli.table import Column, bullets, letter, paragraph, table
from stringerlab.errors import Problem, StringerlabError, shown
from stringerlab.files import load
from stringerlab.methods import NOTICE, Verdict, utilisation_text, verdict_of
from stringerlab.project import Project, resolve
from stringerlab.sizing.records import Helped, Sensitivity, Step
from stringerlab.sizing.studying.sensitivity import sensitivity
from stringerlab.units import Kind, System, format

_COLUMNS = (
    Column("step", 48),
    Column("used then", 9, right=True),
    Column("change", 6, right=True),
    Column("mass", 11, right=True),
    Column("any, then", 9, right=True),
    Column("spoils", 6),
)
_READ = (
    "Under each short or tight finding the steps that take most off its utilisation. Used then: its "
    "utilisation with that step alone, and the change. Mass: of members and of the plating of the panels "
    "judged, more (+) or less (−). Any, then: the highest utilisation of all findings with that step. "
    "Spoils: what is short then and was not before."
)
_PRINTED = 6
"""Steps of a finding; JSON has all."""


def run(options: argparse.Namespace) -> int:
    """Print what would help; 1 where something followed is short, 0 otherwise."""
    project = load(options.file)
    subject = (
        one_named(resolve(project).subjects, options.subject, "panel or span") if options.subject else None
    )
    system = System(options.units) if options.units else project.units
    with long_run(options) as (running, watch):
        found = sensitivity(project, running=running, watch=watch, mechanics=options.mechanics)
    if subject is not None:
        found = replace(found, helped=tuple(one for one in found.helped if one.subject == subject.id))
        if not found.helped:
            raise StringerlabError(
                Problem(
                    "None of its findings is short or tight.",
                    f"'{subject.name}' ({subject.id})",
                    "Name another, or none for all.",
                )
            )
    if options.json:
        print(json.dumps(as_json(found, project), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(page(found, project, system)))
    for line in shown(found.problems):
        print(line, file=sys.stderr)
    return 1 if any(verdict_of(one.use) is Verdict.SHORT for one in found.helped) else 0


def page(found: Sensitivity, project: Project, system: System) -> list[str]:
    """Return the lines of what would help for a terminal."""
    text = [*paragraph(NOTICE), "", *paragraph(f"Project  {project.name}: {found.tried} steps tried.")]
    if found.helped:
        text += paragraph(_READ)
    for ones in _alike(found.helped, system):
        text += ["", *_helped(ones, system)]
    return [*text, "", *bullets(found.notes)]


def _alike(helped: Sequence[Helped], system: System) -> list[list[Helped]]:
    """Return findings together of which all reads the same but the name."""
    groups: dict[object, list[Helped]] = {}
    for one in helped:
        rows = tuple(_row(step, system) for step in _helping(one)[:_PRINTED])
        groups.setdefault((one.aspect, one.kind, utilisation_text(one.use), rows), []).append(one)
    return list(groups.values())


def _helped(ones: Sequence[Helped], system: System) -> Iterator[str]:
    one, *others = ones
    yield from paragraph(f"{one.name}, {one.aspect} ({one.kind}): {utilisation_text(one.use)}")
    if others:
        yield from paragraph(f"and the same of {', '.join(other.name for other in others)}", "  ")
    yield from paragraph(one.words, "  ")
    helping = _helping(one)[:_PRINTED]
    if not helping:
        return
    spoilt = list(dict.fromkeys(step.spoils for step in helping if step.spoils))
    marks = {spoils: letter(number) for number, spoils in enumerate(spoilt)}
    yield ""
    yield from table(_COLUMNS, [(*_row(step, system)[:-1], marks.get(step.spoils, "—")) for step in helping])
    for spoils, mark in marks.items():
        yield from paragraph(f"{mark}  {spoils}", "  ")


def _helping(one: Helped) -> list[Step]:
    return [step for step in one.steps if step.use_change < 0]


def _row(step: Step, system: System) -> Sequence[str]:
    mass = format(abs(step.mass_change), Kind.MASS, system, digits=3) if isfinite(step.mass_change) else "—"
    sign = (
        "" if not isfinite(step.mass_change) or abs(step.mass_change) < _NO_MASS else _sign(step.mass_change)
    )
    return (
        step.name,
        utilisation_text(step.use),
        f"{_sign(step.use_change)}{abs(step.use_change):.2f}",
        f"{sign}{mass}",
        utilisation_text(step.worst_after),
        step.spoils or "—",
    )


_NO_MASS = 1e-6
"""[kg]: the rounding of a computation."""


def _sign(number: float) -> str:
    return "+" if number > 0 else "−"


def as_json(found: Sensitivity, project: Project) -> dict[str, Any]:
    """Return the documented JSON of what would help: kg, parts of one; null where it is not known."""
    return {
        "notice": NOTICE,
        "project": project.name,
        "tried": found.tried,
        "findings": [
            {
                "subject": one.subject,
                "name": one.name,
                "aspect": one.aspect,
                "kind": one.kind,
                "utilisation": finite(one.use),
                "words": one.words,
                "steps": [
                    {
                        "name": step.name,
                        "variable": step.variable,
                        "before": step.before,
                        "after": step.after,
                        "utilisation": finite(step.use),
                        "change": finite(step.use_change),
                        "mass": quantity(finite(step.mass_change), Kind.MASS),
                        "highest_after": finite(step.worst_after),
                        "makes_short": step.spoils,
                    }
                    for step in one.steps
                ],
            }
            for one in found.helped
        ],
        "problems": [str(problem) for problem in found.problems],
        "notes": list(found.notes),
    }


__all__ = ["as_json", "page", "run"]
