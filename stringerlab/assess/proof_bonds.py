"""Computations behind the published values of bonds: shear flow across a joint, an overlap.

A joint of a built-up beam is a bond line: its lower plank is the plating, what stands on it the section.
"""

from collections.abc import Callable

from stringerlab import section
from stringerlab.assess.proof_sections import plate_ply
from stringerlab.laminate.records import Moduli, Stack
from stringerlab.section import bond_forms as forms
from stringerlab.section.bond_line import bond_line
from stringerlab.section.records import Plating, SectionShape, Side, WallShape

_E = 1000.0
"""Modulus of every plank: any, as all are alike."""


def joint_flow(planks: list[list[float]], V: float) -> float:
    """Shear flow [N/mm] under V [N] across the joint above the lowest of planks, [width, height] each."""
    width, height = planks[0]
    plating = Plating(stack=_plank(height), width=width)
    walls: list[WallShape] = []
    z = 0.0
    for number, (b, h) in enumerate(planks[1:], 1):
        walls.append(
            WallShape(
                id=f"w{number}",
                points=((-b / 2, z), (b / 2, z)),
                fillets=(),
                side=Side.LEFT,
                closed=False,
                stack=_plank(h),
            )
        )
        z += h
    shape = SectionShape(name="planks", walls=tuple(walls))
    found = section.properties(shape, plating, Moduli.PLAIN)
    bond = bond_line(shape, section.facts(shape), found, plating)
    return float(forms.shear_flow(V_e=V, ES_b=bond.ES, EI=found.EI_y))


def nail_force(planks: list[list[float]], V: float, spacing: float) -> float:
    """Force [N] in a nail of a row at a spacing [mm] that carries the flow across that joint."""
    return spacing * joint_flow(planks, V)


def nail_spacing(planks: list[list[float]], V: float, force: float) -> float:
    """Spacing [mm] of nails, or of pairs, that carry so much force [N] across that joint."""
    return force / joint_flow(planks, V)


def overlap(dry_weight: float, further: float) -> float:
    """Least overlap [mm] of a laminate of a dry weight [g/m²] and so many further units, bonded on."""
    unit = forms.FURTHER_UNIT
    return float(forms.overlap(w_d=dry_weight + further * unit, w_u=unit))


def _plank(thickness: float) -> Stack:
    return Stack(name="plank", plies=(plate_ply("plank", thickness, _E),))


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "bonds.joint_flow": joint_flow,
    "bonds.nail_force": nail_force,
    "bonds.nail_spacing": nail_spacing,
    "bonds.overlap": overlap,
}
