"""Sections drawn by hand, and laminates of stated moduli to draw them with."""

from cmath import exp
from collections.abc import Callable

import pytest

from stringerlab.geometry import fillet
from stringerlab.laminate import PlyNumbers, Role, Stack
from stringerlab.section import FillShape, Plating, SectionShape, Side, WallShape

Lay = Callable[..., Stack]
Drawn = tuple[SectionShape, Plating | None]


def _ply(thickness: float, E: float, role: Role = Role.REINFORCED) -> PlyNumbers:
    strength = 100.0 if role is Role.REINFORCED else None
    return PlyNumbers(
        name=role.value,
        role=role,
        kind=None,
        angle=0.0,
        thickness=thickness,
        mass=1500.0 * thickness,
        dry_weight=500.0 * thickness,
        glass=0.3,
        E1=E,
        E2=E,
        G12=E / 2.6,
        nu12=0.3,
        tension_1=strength,
        compression_1=strength,
        tension_2=strength,
        compression_2=strength,
        shear=strength,
        flexural=strength,
        interlaminar=strength,
        marks=(),
    )


@pytest.fixture(scope="session")
def lay() -> Lay:
    """Lay up plies given as (thickness, modulus): ``lay((1.0, 7000.0), …, gel=0.5, core=…)``; 1500 kg/m³."""

    def laid(
        *plies: tuple[float, float], gel: float = 0.0, core: float = 0.0, name: str = "laminate"
    ) -> Stack:
        made = [_ply(gel, 0.0, Role.GEL_COAT)] if gel else []
        made += [_ply(thickness, E) for thickness, E in plies]
        if core:
            made.insert(len(made) // 2 + 1, _ply(core, 80.0, Role.CORE))
        return Stack(name=name, plies=tuple(made))

    return laid


@pytest.fixture(scope="session")
def sections(lay: Lay) -> dict[str, Drawn]:
    """Six sections, each with the plating it stands on, or none."""
    hull = lay((1.0, 6400.0), (1.5, 13240.0), (1.0, 6400.0), (2.5, 9000.0), gel=0.6)
    web = lay((0.7, 6400.0), (0.65, 13240.0), (1.05, 6400.0), (1.04, 13240.0), gel=0.5)
    thick = sum(ply.thickness for ply in web.plies)
    plating = Plating(stack=hull, width=420.0)
    hat = WallShape(
        id="w1",
        points=((-150, thick), (-85, thick), (-60, 130), (60, 130), (85, thick), (150, thick)),
        fillets=(0, 18, 14, 14, 18, 0),
        side=Side.RIGHT,
        closed=False,
        stack=web,
    )
    return {
        "hat": (SectionShape(name="hat", walls=(hat,)), plating),
        "wide hat with foam": _wide_hat(web, plating),
        "plate floor with tabs": _plate_floor(lay, plating),
        "freehand": _freehand(lay, plating),
        "hat on deadrise": _turned(hat, plating, 0.3),
        "closed box": (
            SectionShape(
                name="closed box",
                walls=(
                    WallShape(
                        id="w1",
                        points=((-50, 0), (60, 10), (50, 120), (-50, 100)),
                        fillets=(12, 10, 9, 0),
                        side=Side.LEFT,
                        closed=True,
                        stack=lay((1.5, 7000.0), (2.0, 13000.0), (1.0, 25000.0)),
                    ),
                ),
            ),
            None,
        ),
    }


def _wide_hat(web: Stack, plating: Plating) -> Drawn:
    thick = sum(ply.thickness for ply in web.plies)
    wall = WallShape(
        id="w1",
        points=((-270, thick), (-200, thick), (-180, 90), (180, 90), (200, thick), (270, thick)),
        fillets=(0, 15, 12, 12, 15, 0),
        side=Side.RIGHT,
        closed=False,
        stack=web,
    )
    foam = FillShape(
        id="f1",
        points=((-199, 0), (199, 0), (179, 89), (-179, 89)),
        name="foam",
        density=60,
        modulus=15,
        strength=None,
    )
    return SectionShape(name="wide hat with foam", walls=(wall,), fills=(foam,)), plating


def _plate_floor(lay: Lay, plating: Plating) -> Drawn:
    plate = lay((2.0, 7000.0), (4.0, 12000.0), (2.0, 7000.0))
    tab = lay((1.0, 7000.0), (1.2, 12000.0))
    corner = ((4.0, 60.0), (4.0, 0.0), (74.0, 0.0))
    arc = [(float(y), float(z)) for y, z in fillet.rounded(corner, (0, 12, 0))[1:-1]]
    putty = (corner[1], *reversed(arc))
    walls = (
        WallShape(
            id="w1", points=((-4, 0), (-4, 160)), fillets=(), side=Side.RIGHT, closed=False, stack=plate
        ),
        WallShape(id="w2", points=corner, fillets=(0, 12, 0), side=Side.LEFT, closed=False, stack=tab),
        WallShape(
            id="w3",
            points=tuple((-y, z) for y, z in corner),
            fillets=(0, 12, 0),
            side=Side.RIGHT,
            closed=False,
            stack=tab,
        ),
    )
    fills = tuple(
        FillShape(id=id_, points=points, name="putty", density=1600, modulus=3000, strength=20)
        for id_, points in (("f1", putty), ("f2", tuple((-y, z) for y, z in putty)))
    )
    return SectionShape(name="plate floor with tabs", walls=walls, fills=fills), plating


def _freehand(lay: Lay, plating: Plating) -> Drawn:
    """Eleven points, three laminates and a block; the third wall is drawn into the second's foot."""
    walls = (
        WallShape(
            id="w1",
            points=((-150, 4), (-85, 4), (-75, 60), (-60, 120), (-20, 120)),
            fillets=(0, 9, 30, 8, 0),
            side=Side.RIGHT,
            closed=False,
            stack=lay((1.5, 7000.0), (2.5, 12000.0)),
        ),
        WallShape(
            id="w2",
            points=((-20, 120), (30, 120), (60, 90), (70.5, 1.5)),
            fillets=(0, 7, 0, 0),
            side=Side.RIGHT,
            closed=False,
            stack=lay((2.0, 7000.0), (2.0, 24000.0), (2.0, 7000.0)),
        ),
        WallShape(
            id="w3",
            points=((66, 3), (140, 3)),
            fillets=(),
            side=Side.RIGHT,
            closed=False,
            stack=lay((1.0, 9000.0), (2.0, 11000.0)),
        ),
    )
    block = FillShape(
        id="f1",
        points=((-15, 94), (25, 94), (25, 114), (-15, 114)),
        name="block",
        density=2700,
        modulus=70000,
        strength=150,
    )
    return SectionShape(name="freehand", walls=walls, fills=(block,)), plating


def _turned(wall: WallShape, plating: Plating, angle: float) -> Drawn:
    turned = [complex(*point) * exp(1j * angle) for point in wall.points]
    points = tuple((point.real, point.imag) for point in turned)
    there = WallShape(
        id=wall.id, points=points, fillets=wall.fillets, side=wall.side, closed=False, stack=wall.stack
    )
    return SectionShape(name="hat on deadrise", walls=(there,)), Plating(
        stack=plating.stack, width=plating.width, deadrise=angle
    )
