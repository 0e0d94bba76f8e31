"""``section``: one section's exact stiffness on its reference plating, and what its drawing says."""

import argparse
import json
import sys
from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby
from math import isnan
from typing import Any

from stringerlab.assess import live_section, readings
from stringerlab.assess.effective import KNOWN, Width, effective_widths, width_sentences
from stringerlab.assess.live import Live, at_rest
from stringerlab.assess.readings import Reading
from stringerlab.cli.named import one_named
from stringerlab.cli.table import Column, pairs, paragraph, table
from stringerlab.errors import StringerlabError, shown
from stringerlab.files import load
from stringerlab.methods import NOTICE
from stringerlab.project import resolve
from stringerlab.section import Properties
from stringerlab.units import Kind, System, format, own_unit

_FIBRES = (
    Column("ply, at its extreme fibre", 50),
    Column("E", 11, right=True),
    Column("z from axis", 13, right=True),
    Column("section modulus", 17, right=True),
)


def run(options: argparse.Namespace) -> int:
    """Print one section, and what was put right in its drawing."""
    project = load(options.file)
    section = one_named(project.sections, options.id, "section")
    if options.second_opinion:
        from stringerlab.cli.second_opinion_page import page

        print(page(project, section, options))
        return 0
    resolved = resolve(project)
    live = live_section(project, resolved, section.id)
    widths = effective_widths([case for case in resolved.spans if case.span.section == section.id])
    properties = live.properties
    if properties is None:
        raise StringerlabError(live.problems)
    try:
        live = at_rest(live, resolved)
        said = [problem.what for problem in live.torsion.notes] if live.torsion else []
    except StringerlabError as error:
        said = [f"no torsion and shear in full: {problem.what}" for problem in error.problems]
    live = replace(live, notes=(*live.notes, *(note.removesuffix(".") for note in said)))
    if options.json:
        found = as_json(live, properties) | {"plating": widths_as_json(widths)}
        print(json.dumps(found, indent=2, ensure_ascii=False, allow_nan=False))
    else:
        system = System(options.units) if options.units else project.units
        print("\n".join([*_page(live, properties, system), *_plating(widths, system)]))
    for line in shown(properties.repairs):
        print(line, file=sys.stderr)
    return 0


def as_json(live: Live, properties: Properties) -> dict[str, Any]:
    """Return a section's numbers in the program's units, each with its unit; null where there is none."""
    fibres = properties.fibres
    return {
        "notice": NOTICE,
        "section": live.section.id,
        "name": live.section.name,
        "moduli": properties.moduli.value,
        "notes": list(live.notes),
        "readings": {
            reading.key: {
                "value": None if isnan(reading.value) else reading.value,
                "unit": own_unit(reading.kind).symbol,
                "name": reading.name,
            }
            for reading in readings(live)
        },
        "fibres": [
            {"name": name, "E": float(E), "z": float(z), "section_modulus": float(modulus)}
            for name, E, z, modulus in zip(
                fibres.names, fibres.E, fibres.z, properties.modulus(), strict=True
            )
        ],
    }


def widths_as_json(widths: Sequence[Width]) -> list[dict[str, Any]]:
    """Return the plating that works with spans, and what methods count of it [mm]."""
    return [
        {
            "subject": width.subject,
            "spacing": width.spacing,
            "within": width.within,
            "support": width.support,
            "counted": dict(width.counted),
            "known": KNOWN.value,
        }
        for width in widths
    ]


def _plating(widths: Sequence[Width], system: System) -> list[str]:
    text = ["", "Plating under its spans"] if widths else []
    for width in widths:
        text += paragraph(f"{width.name} ({width.subject})")
        text += [line for said in width_sentences(width, system) for line in paragraph(said, "  ")]
    return text


def _page(live: Live, properties: Properties, system: System) -> list[str]:
    section, reference = live.section, live.section.reference
    on = (
        f"on {format(reference.width, Kind.LENGTH, system)} of plating, laminate {reference.laminate}"
        if reference
        else "without plating: it names no reference"
    )
    text = [
        *paragraph(NOTICE),
        "",
        *paragraph(f"Section {section.name} ({section.id}), {on}; {properties.moduli.value}."),
        *(line for note in live.notes for line in paragraph(f"{note[0].upper()}{note[1:]}.")),
    ]
    found = readings(live)
    width = max(len(reading.name) for reading in found)
    for group, held in groupby(found, key=lambda reading: reading.group):
        text += ["", group, *pairs([(one.name.ljust(width), _said(one, system)) for one in held])]
    fibres = properties.fibres
    rows = [
        (
            name,
            format(float(E), Kind.STRESS, system),
            format(float(z), Kind.LENGTH, system),
            format(float(modulus), Kind.SECTION_MODULUS, system),
        )
        for name, E, z, modulus in zip(fibres.names, fibres.E, fibres.z, properties.modulus(), strict=True)
    ]
    return [*text, "", *table(_FIBRES, rows)]


def _said(reading: Reading, system: System) -> str:
    if isnan(reading.value):
        return "none"
    detail = f"  ({reading.detail})" if reading.detail else ""
    return f"{format(reading.value, reading.kind, system)}{detail}"
