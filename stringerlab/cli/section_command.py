"""``section``: one section's exact stiffness on its reference plating, and what its drawing says."""

import argparse
import json
import sys
from math import degrees, isnan
from typing import Any

from stringerlab.assess import reference_plating, section_facts, section_properties, sound_shape
from stringerlab.cli.named import one_named
from stringerlab.cli.table import Column, pairs, paragraph, table
from stringerlab.errors import shown
from stringerlab.files import load
from stringerlab.laminate import Moduli
from stringerlab.methods import NOTICE
from stringerlab.project import resolve
from stringerlab.section import Facts, Properties, Section
from stringerlab.units import Kind, System, format

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
    resolved = resolve(project)
    shape = sound_shape(resolved, section)
    facts = section_facts(shape)
    properties = section_properties(shape, reference_plating(resolved, section), Moduli.CONTRACTED)
    if options.json:
        print(json.dumps(as_json(section, facts, properties), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        system = System(options.units) if options.units else project.units
        print("\n".join(_page(section, facts, properties, system)))
    for line in shown(properties.repairs):
        print(line, file=sys.stderr)
    return 0


def as_json(section: Section, facts: Facts, properties: Properties) -> dict[str, Any]:
    """Return a section's numbers in the file's units (N, mm, MPa; kg/m, m²/m and degrees where named so)."""
    fibres = properties.fibres
    return {
        "notice": NOTICE,
        "section": section.id,
        "name": section.name,
        "moduli": properties.moduli.value,
        "properties": {
            "EA": properties.EA,
            "y_na": properties.y_na,
            "z_na": properties.z_na,
            "EI_y": properties.EI_y,
            "EI_z": properties.EI_z,
            "EI_yz": properties.EI_yz,
            "EI_1": properties.EI_1,
            "EI_2": properties.EI_2,
            "principal_angle_deg": degrees(properties.principal_angle),
            "ES": properties.ES,
        },
        "facts": {name: (None if isnan(value) else value) for name, value, _, _ in _facts(facts)},
        "fibres": [
            {"name": name, "E": float(E), "z": float(z), "section_modulus": float(modulus)}
            for name, E, z, modulus in zip(
                fibres.names, fibres.E, fibres.z, properties.modulus(), strict=True
            )
        ],
    }


def _facts(facts: Facts) -> list[tuple[str, float, Kind, str]]:
    return [
        ("web_area", facts.web_area, Kind.AREA, "web area, thickness normal to the web × height"),
        ("web_depth", facts.web_depth, Kind.LENGTH, "web depth"),
        ("web_thickness", facts.web_thickness, Kind.LENGTH, "web thickness, the thinnest"),
        ("crown_width", facts.crown_width, Kind.LENGTH, "crown width"),
        ("crown_thickness", facts.crown_thickness, Kind.LENGTH, "crown thickness"),
        ("base_width", facts.base_width, Kind.LENGTH, "base width between outermost web roots"),
        ("bonded_width", facts.bonded_width, Kind.LENGTH, "bonded width"),
        ("enclosed_area", facts.enclosed_area, Kind.AREA, "enclosed area"),
        ("girth", facts.girth, Kind.LENGTH, "girth of the walls"),
        ("mass_per_length_kg_m", facts.mass_per_length, Kind.MASS_PER_LENGTH, "mass, hull plating left out"),
        ("fabric_area_m2_m", facts.fabric_area_per_length, Kind.AREA_PER_LENGTH, "fabric area, all plies"),
    ]


def _beside(value: float, size: float) -> float:
    """Return the value, or 0 where it is rounding beside what it stands with."""
    return value if abs(value) > 1e-12 * size else 0.0


def _page(section: Section, facts: Facts, properties: Properties, system: System) -> list[str]:
    def said(value: float, kind: Kind) -> str:
        return "none" if isnan(value) else format(value, kind, system)

    size, stiff = facts.girth, properties.EI_1
    stiffness = [
        ("axial stiffness EA", said(properties.EA, Kind.FORCE)),
        ("neutral point y", said(_beside(properties.y_na, size), Kind.LENGTH)),
        ("neutral point z, from the shell", said(properties.z_na, Kind.LENGTH)),
        ("EI about the horizontal axis", said(properties.EI_y, Kind.BENDING_STIFFNESS)),
        ("EI about the vertical axis", said(properties.EI_z, Kind.BENDING_STIFFNESS)),
        ("product EI_yz", said(_beside(properties.EI_yz, stiff), Kind.BENDING_STIFFNESS)),
        ("greatest principal EI", said(properties.EI_1, Kind.BENDING_STIFFNESS)),
        ("least principal EI", said(properties.EI_2, Kind.BENDING_STIFFNESS)),
        ("its axis, from horizontal", said(properties.principal_angle, Kind.ANGLE)),
        ("first moment ES at the neutral axis", said(properties.ES, Kind.MOMENT)),
    ]
    drawn = [
        (
            words,
            said(
                value
                * (1e-3 if kind is Kind.MASS_PER_LENGTH else 1e3 if kind is Kind.AREA_PER_LENGTH else 1),
                kind,
            ),
        )
        for _, value, kind, words in _facts(facts)
    ]
    reference = section.reference
    on = (
        f"on {format(reference.width, Kind.LENGTH, system)} of plating, laminate {reference.laminate}"
        if reference
        else "without plating: it names no reference"
    )
    fibres = properties.fibres
    rows = [
        (name, said(float(E), Kind.STRESS), said(float(z), Kind.LENGTH), said(float(m), Kind.SECTION_MODULUS))
        for name, E, z, m in zip(fibres.names, fibres.E, fibres.z, properties.modulus(), strict=True)
    ]
    return [
        *paragraph(NOTICE),
        "",
        *paragraph(f"Section {section.name} ({section.id}), {on}; {properties.moduli.value}."),
        "",
        *pairs(stiffness),
        "",
        *pairs(drawn),
        "",
        *table(_FIBRES, rows),
    ]
