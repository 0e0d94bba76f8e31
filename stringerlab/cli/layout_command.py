"""``layout``: what is found in a drawn plan, what its cavities hold, where water goes, what floats her."""

import argparse
import json
import sys
from collections.abc import Iterable
from math import isnan, radians
from typing import Any

from stringerlab.assess.cavities import cavity_readings, flotation_reading
from stringerlab.cli.layout_page import Plan, page, placed_words
from stringerlab.cli.named import with_layout_named
from stringerlab.cli.progress import progress
from stringerlab.cli.quantities import quantity, value
from stringerlab.errors import StringerlabError, shown
from stringerlab.files import load
from stringerlab.layout.cavities import Cavities, CavityReading
from stringerlab.layout.drains import Drain
from stringerlab.layout.flotation import Flotation
from stringerlab.layout.found import FoundBay, FoundSpan, Placed
from stringerlab.methods import NOTICE
from stringerlab.project import resolve
from stringerlab.units import Kind, System


def run(options: argparse.Namespace) -> int:
    """Print the layout; 2 when something is wrong with it, 1 when a cavity keeps water, 0 otherwise."""
    project = with_layout_named(load(options.file), options.layout)
    with progress() as watch:
        watch(0.0, "Finding panels and spans")
        resolved = resolve(project)
        if resolved.found is None:
            raise StringerlabError(resolved.problems)
        watch(0.8, "Reading cavities and flotation")
        plan = Plan(
            project=project,
            resolved=resolved,
            found=resolved.found,
            cavities=cavity_readings(project, resolved),
            flotation=flotation_reading(project, resolved),
        )
    if options.json:
        print(json.dumps(as_json(plan), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        system = System(options.units) if options.units else project.units
        print("\n".join(page(plan, system)))
    for line in shown(resolved.problems):
        print(line, file=sys.stderr)
    return status(plan)


def status(plan: Plan) -> int:
    """Return the exit status: bad input before water that stays."""
    readings = plan.cavities.readings
    if plan.resolved.problems or any(isnan(each.volume) for each in readings):
        return 2
    return 0 if all(each.drained for each in readings) else 1


def as_json(plan: Plan) -> dict[str, Any]:
    """Return the documented JSON of a layout, each number with its unit; null where there is none."""
    return {
        "notice": NOTICE,
        "project": plan.project.name,
        "layout": plan.layout.id,
        "name": plan.layout.name,
        "notes": plan.layout.notes,
        "panels": [_panel(plan, bay) for bay in plan.found.bays],
        "spans": [_span(plan, span) for span in plan.found.spans],
        "amiss": _placed(plan.resolved.amiss),
        "cavities": _cavities(plan.cavities),
        "flotation": None if plan.flotation is None else _flotation(plan.flotation),
        "problems": [str(problem) for problem in plan.resolved.problems],
    }


def _panel(plan: Plan, bay: FoundBay) -> dict[str, Any]:
    panel = bay.panel
    return {
        "id": bay.id,
        "name": panel.name if panel else "",
        "count": len(bay.rings),
        "b": quantity(panel and panel.b, Kind.LENGTH),
        "l": quantity(panel and panel.l, Kind.LENGTH),
        "x": quantity(panel and panel.x, Kind.LENGTH),
        "deadrise": quantity(panel and radians(panel.deadrise), Kind.ANGLE),
        "camber": quantity(panel and panel.camber, Kind.LENGTH),
        "area": quantity(bay.area, Kind.AREA),
        "laminate": plan.laminate(bay),
        "sides": [
            {"of": side.of, "name": plan.names.get(side.of, side.of), "span": side.span} for side in bay.sides
        ],
    }


def _span(plan: Plan, found: FoundSpan) -> dict[str, Any]:
    span = found.span
    return {
        "id": found.id,
        "name": span.name if span else "",
        "member": found.member,
        "section": found.section,
        "count": len(found.lines),
        "length": quantity(found.length, Kind.LENGTH),
        "lu": quantity(span and span.lu, Kind.LENGTH),
        "s": quantity(span and span.s, Kind.LENGTH),
        "x": quantity(span and span.x, Kind.LENGTH),
        "ends": [end.value for end in span.ends] if span else [],
        "nodes": list(found.key[1]),
        "contact": plan.contact(found),
    }


def _placed(placed: Iterable[Placed]) -> list[dict[str, Any]]:
    return [{"what": placed_words(each), "x": each.at[0], "y": each.at[1], "unit": "mm"} for each in placed]


def _cavities(cavities: Cavities) -> dict[str, Any]:
    return {
        "cavities": [_cavity(each) for each in cavities.readings],
        "foam_mass": quantity(cavities.foam_mass, Kind.MASS),
        "wet_mass": quantity(cavities.wet_mass, Kind.MASS),
        "buoyancy": quantity(cavities.buoyancy, Kind.MASS),
        "notes": list(cavities.notes),
        "amiss": _placed(cavities.amiss),
    }


def _cavity(each: CavityReading) -> dict[str, Any]:
    insulation = each.insulation
    return {
        "id": each.id,
        "name": each.name,
        "use": each.use.value,
        "count": each.count,
        "bays": list(each.bays),
        "sealed": each.sealed,
        "level": quantity(each.level, Kind.LENGTH),
        "depth": quantity(each.depth, Kind.LENGTH),
        "area": quantity(each.area, Kind.AREA),
        "volume": quantity(each.volume, Kind.VOLUME),
        "foam_volume": quantity(each.foam_volume, Kind.VOLUME),
        "foam_mass": quantity(each.foam_mass, Kind.MASS),
        "wet_mass": quantity(each.wet_mass, Kind.MASS),
        "buoyancy": quantity(each.buoyancy, Kind.MASS),
        "air_volume": quantity(each.air_volume, Kind.VOLUME),
        "contact": quantity(each.contact, Kind.LENGTH),
        "insulation": insulation
        and {
            "thickness": quantity(insulation.thickness, Kind.LENGTH),
            "area": quantity(insulation.area, Kind.AREA),
            "u": [value(one, "W/m²K") for one in insulation.u],
            "loss": [value(one, "W/K") for one in insulation.loss],
        },
        "drained": None if each.sealed else each.drained,
        "drains": [_drain(drain) for drain in each.drains],
        "access": each.access,
        "notes": list(each.notes),
    }


def _drain(drain: Drain) -> dict[str, Any]:
    return {
        "reaches": drain.reaches,
        "dry": drain.dry,
        "path": list(drain.path),
        "through": list(drain.through),
        "stands": quantity(drain.stands, Kind.LENGTH),
        "kept": quantity(drain.kept, Kind.VOLUME),
        "x": drain.at[0],
        "y": drain.at[1],
    }


def _flotation(found: Flotation) -> dict[str, Any]:
    return {
        "covered": None if "length" in found.missing else found.covered,
        "outside": [str(problem) for problem in found.outside],
        "missing": list(found.missing),
        "hull": quantity(found.hull, Kind.VOLUME),
        "machinery": quantity(found.machinery, Kind.VOLUME),
        "load": quantity(found.load, Kind.VOLUME),
        "needed": quantity(found.needed, Kind.VOLUME),
        "present": quantity(found.present, Kind.VOLUME),
        "unsealed": quantity(found.unsealed, Kind.VOLUME),
        "enough": found.enough,
        "density": quantity(found.density, Kind.DENSITY),
        "known": None if found.missing or found.outside else found.known.value,
        "notes": list(found.notes),
    }
