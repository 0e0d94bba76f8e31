"""Computations behind the published stresses of beams bent about both axes, of laminated beams and of a tube.

Every stress is read off a ply's corner, as a section's plies are judged. Lengths and stresses in the source's
own units: they need only agree.
"""

from collections.abc import Callable
from math import atan2, degrees

import numpy as np

from stringerlab.assess.proof_sections import plate_ply
from stringerlab.laminate.records import Moduli, Stack
from stringerlab.section import SectionShape, Side, WallShape, properties
from stringerlab.section import ply_stress as plies
from stringerlab.section.loads import SectionLoads

Points = tuple[tuple[float, float], ...]


def _wall(
    id_: str,
    points: Points,
    *layers: tuple[float, float],
    side: Side = Side.LEFT,
    closed: bool = False,
) -> WallShape:
    stack = Stack(name="layers", plies=tuple(plate_ply("layer", t, E) for t, E in layers))
    return WallShape(id=id_, points=points, fillets=(), side=side, closed=closed, stack=stack)


def _rectangle(b: float, h: float) -> tuple[WallShape, ...]:
    return (_wall("w1", ((-b / 2, -h / 2), (b / 2, -h / 2)), (h, 1.0)),)


SECTIONS: dict[str, tuple[WallShape, ...]] = {
    # Megson: a flange of 120 × 8 mm that overhangs a web of 80 × 8 mm by 36 mm to the left
    "uneven tee": (
        _wall("w1", ((8, 0), (8, 80)), (8.0, 1.0)),
        _wall("w2", ((-36, 80), (84, 80)), (8.0, 1.0)),
    ),
    # Megson: 300 mm high, flanges 200 × 20 mm, web 25 mm
    "I": (
        _wall("w1", ((-100, -150), (100, -150)), (20.0, 1.0)),
        _wall("w2", ((12.5, -130), (12.5, 130)), (25.0, 1.0)),
        _wall("w3", ((-100, 130), (100, 130)), (20.0, 1.0)),
    ),
    # Gere: a Z 200 mm high, flanges 90 mm wide over all, 15 mm throughout
    "Gere Z": (
        _wall("w1", ((7.5, -100), (7.5, 100)), (15.0, 1.0)),
        _wall("w2", ((-82.5, 85), (-7.5, 85)), (15.0, 1.0)),
        _wall("w3", ((7.5, -100), (82.5, -100)), (15.0, 1.0)),
    ),
    # Beer & Johnston: a Z 100 mm high, flanges 80 mm wide over all, 12 mm throughout, rising to the right
    "Beer Z": (
        _wall("w1", ((6, -50), (6, 50)), (12.0, 1.0)),
        _wall("w2", ((6, 38), (74, 38)), (12.0, 1.0)),
        _wall("w3", ((-74, -50), (-6, -50)), (12.0, 1.0)),
    ),
    # Beer & Johnston: a T of 40 × 30 mm with a 90 × 20 mm flange on top
    "tee": (
        _wall("w1", ((15, 0), (15, 40)), (30.0, 1.0)),
        _wall("w2", ((-45, 40), (45, 40)), (20.0, 1.0)),
    ),
    # Beer & Johnston: a timber of 1.5 × 3.5 in, a post of 120 × 80 mm
    "timber": _rectangle(1.5, 3.5),
    "post": _rectangle(120.0, 80.0),
    # Gere: a purlin of 100 × 150 mm; a plastic core of 150 mm between aluminium faces of 5 mm, 200 mm wide
    "purlin": _rectangle(100.0, 150.0),
    "sandwich": (_wall("w1", ((-100, -80), (100, -80)), (5.0, 72_000), (150.0, 800), (5.0, 72_000)),),
    # Beer & Johnston: a bar of 0.75 in steel between two of 0.4 in brass, 3 in high; moduli in ksi
    "steel and brass": (_wall("w1", ((0, 0), (0, 3)), (0.4, 15e3), (0.75, 29e3), (0.4, 15e3)),),
    # Beer & Johnston: an aluminium tube of 4 × 2.5 in, 0.160 in throughout
    "tube": (_wall("w1", ((0, 0), (4, 0), (4, 2.5), (0, 2.5)), (0.16, 1.0), closed=True),),
}


def value(section: str, name: str) -> float:
    """A property of a section by its name in ``Properties``; of a modulus 1."""
    return float(getattr(properties(_shape(section), None, Moduli.CONTRACTED), name))


def principal_angle(section: str) -> float:
    """Angle [deg] from the level axis to that of the greatest second moment, as a size."""
    return abs(degrees(properties(_shape(section), None, Moduli.CONTRACTED).principal_angle))


def at(
    section: str, y: float, z: float, *, ply: int = 1, N: float = 0.0, M_y: float = 0.0, M_z: float = 0.0
) -> float:
    """Stress along the member at a ply's corner, its place from the section's origin."""
    found = plies.ply_stresses(_shape(section), None, [SectionLoads(N=N, M_y=M_y, M_z=M_z)])
    mine = np.array([name.startswith(f"ply {ply}:") for name in found.names])[found.region]
    away = np.where(mine, np.hypot(found.y - y, found.z - z), np.inf)
    point = int(np.argmin(away))
    if not away[point] < 1e-6:
        raise ValueError(f"no corner of ply {ply} at {y}, {z}")
    return float(found.axial_stress[0, point])


def slope(section: str, along: str, *, M_y: float = 0.0, M_z: float = 0.0) -> float:
    """Rise of the stress along y or z, fitted to the plies' corners; of a modulus 1."""
    found = plies.ply_stresses(_shape(section), None, [SectionLoads(M_y=M_y, M_z=M_z)])
    places = np.stack([found.y, found.z, np.ones(len(found.y))], axis=1)
    rises = np.linalg.pinv(places) @ found.axial_stress[0]
    return float(rises["yz".index(along)])


def neutral_axis(section: str, *, M_y: float = 0.0, M_z: float = 0.0) -> float:
    """Inclination of the neutral axis to the level axis [deg], as a size below 90."""
    across = slope(section, "y", M_y=M_y, M_z=M_z)
    upright = slope(section, "z", M_y=M_y, M_z=M_z)
    return degrees(atan2(abs(across), abs(upright)))


def greatest_load(section: str, y: float, z: float, *, allowed: float, arm: float) -> float:
    """Load at which the stress at a corner is the one allowed, pressing ``arm`` above the neutral axis."""
    return allowed / at(section, y, z, N=-1.0, M_y=-arm)


def flow(section: str, T: float) -> float:
    """Shear flow in a tube under a torque."""
    found = plies.ply_stresses(_shape(section), None, [SectionLoads(T=T)])
    return float(found.flow.max())


def _shape(section: str) -> SectionShape:
    return SectionShape(name=section, walls=SECTIONS[section])


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "ply_stress.value": value,
    "ply_stress.principal_angle": principal_angle,
    "ply_stress.at": at,
    "ply_stress.slope": slope,
    "ply_stress.neutral_axis": neutral_axis,
    "ply_stress.greatest_load": greatest_load,
    "ply_stress.flow": flow,
}
