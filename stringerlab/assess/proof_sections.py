"""Computations behind the published values of whole sections; each returns the unit its table states."""

from collections.abc import Callable

from stringerlab import section
from stringerlab.laminate.records import Moduli, PlyNumbers, Role, Stack
from stringerlab.section.records import SectionShape, Side, WallShape

_MOMENT = 60_000.0
"""lbf·in on the wood and steel beam."""


def tee(quantity: str) -> float:
    """A property [mm, mm⁴] of a T of 40 × 30 mm with a 90 × 20 mm flange on top."""
    stem = _plate((-15, 0), (-15, 40), 30.0)
    flange = _plate((-45, 60), (45, 60), 20.0, id_="w2")
    return _of(quantity, stem, flange)


def zed(quantity: str) -> float:
    """A property [mm⁴] of a Z 100 mm high with flanges 80 mm wide, 12 mm thick throughout."""
    line = ((-74.0, 88.0), (-6.0, 88.0), (-6.0, 0.0), (74.0, 0.0))
    upper = _plate(line[0], (6.0, line[1][1]), 12.0, side=Side.LEFT)
    web = _plate((-6.0, 88.0), (-6.0, 12.0), 12.0, id_="w2", side=Side.LEFT)
    lower = _plate(line[2], line[3], 12.0, id_="w3", side=Side.LEFT)
    # The book's Z rises to the right, so its product moment is positive.
    return -_of(quantity, upper, web, lower) if quantity == "EI_yz" else _of(quantity, upper, web, lower)


def wood_and_steel_axis() -> float:
    """Neutral axis [in] below the top of a 4 × 6 in wood beam on a 4 × 0.5 in steel plate."""
    return 6.5 - section.properties(_wood_and_steel(), None, Moduli.PLAIN).z_na


def wood_and_steel_stress(part: str, top: bool) -> float:
    """Stress [psi] at the top or bottom of the wood or the steel under 60 kip·in that bends it downward."""
    found = section.properties(_wood_and_steel(), None, Moduli.PLAIN)
    fibres = found.fibres
    ply = next(index for index, name in enumerate(fibres.names) if name.endswith(part))
    z = float((fibres.z_top if top else fibres.z_bottom)[ply])
    return -_MOMENT * float(fibres.E[ply]) * z / found.EI_y


def _wood_and_steel() -> SectionShape:
    """The beam in inches and psi: lengths and moduli need only agree."""
    stack = Stack(name="beam", plies=(plate_ply("steel", 0.5, 30e6), plate_ply("wood", 6.0, 1.5e6)))
    beam = WallShape(id="w1", points=((-2, 0), (2, 0)), fillets=(), side=Side.LEFT, closed=False, stack=stack)
    return SectionShape(name="wood and steel", walls=(beam,))


def _of(quantity: str, *walls: WallShape) -> float:
    shape = SectionShape(name="published", walls=walls)
    return float(getattr(section.properties(shape, None, Moduli.PLAIN), quantity))


def _plate(
    start: tuple[float, float],
    end: tuple[float, float],
    thickness: float,
    *,
    id_: str = "w1",
    side: Side = Side.RIGHT,
) -> WallShape:
    stack = Stack(name="plate", plies=(plate_ply("plate", thickness, 1.0),))
    return WallShape(id=id_, points=(start, end), fillets=(), side=side, closed=False, stack=stack)


def plate_ply(name: str, thickness: float, E: float) -> PlyNumbers:
    """A ply of which only thickness and modulus matter."""
    return PlyNumbers(
        name=name,
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=thickness,
        mass=0.0,
        dry_weight=0.0,
        glass=0.0,
        E1=E,
        E2=E,
        G12=E / 2.6,
        nu12=0.3,
        tension_1=None,
        compression_1=None,
        tension_2=None,
        compression_2=None,
        shear=None,
        flexural=None,
        interlaminar=None,
        marks=(),
    )


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "sections.tee": tee,
    "sections.zed": zed,
    "sections.wood_and_steel_axis": wood_and_steel_axis,
    "sections.wood_and_steel_stress": wood_and_steel_stress,
}
