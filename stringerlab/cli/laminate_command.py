"""``laminate``: plies, thickness, mass and constants of one laminate."""

import argparse
import json
from dataclasses import asdict
from math import degrees
from typing import Any

from stringerlab.cli.coupon_table import coupon_json, coupon_lines
from stringerlab.cli.named import one_named
from stringerlab.cli.table import Column, pairs, paragraph, table
from stringerlab.files import load
from stringerlab.laminate import (
    Constants,
    Stack,
    dry_mass,
    engineering_constants,
    flexural_constants,
    glass_content,
    is_sandwich,
    mass,
    reinforced,
    resolve,
    thickness,
    thickness_with_gel,
)
from stringerlab.methods import NOTICE, Method, method_named
from stringerlab.project import book_of
from stringerlab.units import Kind, System, format, rounded

_COLUMNS = (
    Column("ply", 3, right=True),
    Column("material", 29),
    Column("angle", 7, right=True),
    Column("glass", 5, right=True),
    Column("thickness", 10, right=True),
    Column("mass", 12, right=True),
    Column("E1", 11, right=True),
    Column("known", 9),
)


def run(options: argparse.Namespace) -> int:
    """Print one laminate; 2 when it is wrong."""
    project = load(options.file)
    laminate = one_named(project.laminates, options.id, "laminate")
    book = book_of(project)
    stack = resolve(laminate, book)
    method = method_named(project.method)
    if options.json:
        print(json.dumps(as_json(laminate.id, stack, method), indent=2, ensure_ascii=False, allow_nan=False))
        return 0
    system = System(options.units) if options.units else project.units
    page = _page(laminate.id, stack, system)
    tested = list(coupon_lines(laminate, stack, book, method, system))
    print("\n".join([*page, *(["", *tested] if tested else [])]))
    return 0


def as_json(id: str, stack: Stack, method: Method) -> dict[str, Any]:  # noqa: A002
    """Return a laminate's numbers in the file's units (mm, MPa, g/m², degrees for ply angles)."""
    return {
        "notice": NOTICE,
        "laminate": id,
        "name": stack.name,
        "thickness": thickness(stack),
        "thickness_with_gel_coat": thickness_with_gel(stack),
        "dry_mass": dry_mass(stack),
        "mass": mass(stack),
        "glass_content": glass_content(stack) if reinforced(stack) else None,
        "in_plane": asdict(engineering_constants(stack)),
        "bending": asdict(flexural_constants(stack)),
        "plies": [
            {
                "number": number,
                "name": ply.name,
                "role": ply.role.value,
                "angle": degrees(ply.angle),
                "thickness": ply.thickness,
                "mass": ply.mass,
                "glass_content": ply.glass if ply.glass > 0 else None,
                "E1": ply.E1,
                "E2": ply.E2,
                "G12": ply.G12,
                "nu12": ply.nu12,
                "known": {name: mark.value for name, mark in ply.marks},
                "coupons": coupon_json(ply, method),
            }
            for number, ply in zip(stack.numbers, stack.plies, strict=True)
        ],
    }


def _page(id: str, stack: Stack, system: System) -> list[str]:  # noqa: A002
    def shown(value: float, kind: Kind) -> str:
        return format(value, kind, system)

    rows = [
        (
            str(number),
            ply.name,
            shown(ply.angle, Kind.ANGLE),
            f"{ply.glass:.2f}" if ply.glass > 0 else "—",
            shown(ply.thickness, Kind.LENGTH),
            shown(ply.mass, Kind.AREAL_MASS),
            shown(ply.E1, Kind.STRESS) if ply.E1 > 0 else "—",
            dict(ply.marks)["E1"].value if "E1" in dict(ply.marks) else "—",
        )
        for number, ply in zip(stack.numbers, stack.plies, strict=True)
    ]
    totals = [
        ("thickness without gel coat", shown(thickness(stack), Kind.LENGTH)),
        ("thickness with gel coat", shown(thickness_with_gel(stack), Kind.LENGTH)),
        ("dry fibre mass", shown(dry_mass(stack), Kind.AREAL_MASS)),
        ("mass of everything", shown(mass(stack), Kind.AREAL_MASS)),
    ]
    if reinforced(stack):
        totals.append(("glass content by mass", f"{glass_content(stack):.3f}"))
    return [
        *paragraph(NOTICE),
        "",
        f"Laminate {stack.name} ({id}), plies counted away from the mould",
        "",
        *table(_COLUMNS, rows),
        "",
        *pairs(totals),
        "",
        "In plane, held flat" + (", core included" if is_sandwich(stack) else ""),
        *pairs(_constants(engineering_constants(stack), system)),
        "In bending, free to bend under moments alone",
        *pairs(_constants(flexural_constants(stack), system)),
    ]


def _constants(constants: Constants, system: System) -> list[tuple[str, str]]:
    return [
        (name, rounded(value) if name.startswith("nu") else format(value, Kind.STRESS, system))
        for name, value in asdict(constants).items()
    ]
