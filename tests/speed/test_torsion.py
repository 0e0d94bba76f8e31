"""How long torsion and shear take in full at half a percent, beside sectionproperties' warping analysis."""

from dataclasses import replace
from itertools import count
from time import perf_counter
from typing import Any, cast

import pytest
from pytest_benchmark.fixture import BenchmarkFixture
from sectionproperties.analysis.section import Section as Theirs
from sectionproperties.pre.geometry import CompoundGeometry, Geometry
from sectionproperties.pre.pre import Material

from stringerlab.geometry import planar
from stringerlab.geometry.noding import noded
from stringerlab.laminate import PlyNumbers, Role, Stack
from stringerlab.section import Plating, SectionShape, Wall, WallShape
from stringerlab.section.bodies import bodies
from stringerlab.section.shapes import Laid, grid_pan, hat
from stringerlab.section.torsion import Warping, regions, thin_walls, warping, warping_of_regions

Case = tuple[SectionShape, Plating]
ERROR = 0.005
E = 9000.0
_steps = count(1)


def laminate(thickness: float) -> Stack:
    ply = PlyNumbers(
        name="ply",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=thickness / 6,
        mass=0.0,
        dry_weight=0.0,
        glass=0.3,
        E1=E,
        E2=E,
        G12=E / 2,
        nu12=0.0,
        tension_1=None,
        compression_1=None,
        tension_2=None,
        compression_2=None,
        shear=None,
        flexural=None,
        interlaminar=None,
        marks=(),
    )
    return Stack(name="laminate", plies=(ply,) * 6)


def on_plating(name: str, drawn: tuple[Wall, ...], width: float) -> Case:
    walls = tuple(
        WallShape(
            id=wall.id,
            points=wall.points,
            fillets=wall.fillets,
            side=wall.side,
            closed=wall.closed,
            stack=laminate(6.0),
        )
        for wall in drawn
    )
    return SectionShape(name=name, walls=walls), Plating(stack=laminate(9.0), width=width)


def a_hat() -> Case:
    drawn = hat(
        laminate="l",
        thickness=6.0,
        height=150,
        crown_width=110,
        draft=6,
        flange_width=70,
        crown_radius=20,
        root_radius=20,
    )
    return on_plating("hat", drawn, 600.0)


def a_pan() -> Case:
    """Two hats joined by a raised pan that stands on two plates: three cells with the plating."""
    drawn = grid_pan(
        laminate=Laid("l", 6.0),
        height=150,
        crown_width=110,
        spacing=500,
        pan_height=50,
        flange_width=70,
        draft=6,
        crown_radius=20,
        root_radius=20,
    )
    shape, plating = on_plating("pan", drawn.walls, 1100.0)
    plates = tuple(
        replace(shape.walls[0], id=id_, points=((y, 0.0), (y, 44.0)), fillets=())
        for id_, y in (("w8", -140.0), ("w9", 134.0))
    )
    return replace(shape, walls=(*shape.walls, *plates)), plating


def moved(case: Case) -> tuple[tuple[SectionShape, Plating], dict[str, Any]]:
    """Return the section as it never was: nothing of it is remembered."""
    shape, plating = case
    step = 1e-6 * next(_steps)
    first = shape.walls[0]
    points = tuple((y, z + step if z > 100 else z) for y, z in first.points)
    return (
        replace(shape, walls=(replace(first, points=points), *shape.walls[1:])),
        replace(plating, width=plating.width + step),
    ), {}


def theirs(case: Case, size: float) -> tuple[float, float]:
    """GJ over G and the seconds of the other library's warping analysis alone."""
    polygons = [(each, polygon) for each in regions(*case) for polygon in each.area]
    rings = noded([ring for _, polygon in polygons for ring in polygon], 0.01)
    shapes: list[Any] = []
    for _, polygon in polygons:
        mine, rings = rings[: len(polygon)], rings[len(polygon) :]
        shapes.append(Geometry(planar.shape_of([mine]), Material("laminate", E, 0.0, 1.0, 1.0, "w")))
    compound: Any = CompoundGeometry(shapes)
    compound.create_mesh(mesh_sizes=[size])
    section: Any = Theirs(compound)
    section.calculate_geometric_properties()
    begun = perf_counter()
    section.calculate_warping_properties()
    return float(section.get_ej()) / 2, perf_counter() - begun


@pytest.mark.parametrize(
    ("case", "limit"), [(a_hat(), 15e-3), (a_pan(), 30e-3)], ids=["hat", "three-cell pan"]
)
def test_torsion_and_shear_at_half_a_percent(
    benchmark: BenchmarkFixture, case: Case, limit: float, capsys: pytest.CaptureFixture[str]
) -> None:
    def fresh() -> tuple[tuple[SectionShape, Plating], dict[str, Any]]:
        return moved(case)

    found = cast(Warping, benchmark.pedantic(warping, setup=fresh, rounds=60, warmup_rounds=5))
    assert found.error <= ERROR
    if not benchmark.enabled:
        return
    fine = warping_of_regions(regions(*case), error=1e-3)
    off = max(abs(getattr(found, name) / getattr(fine, name) - 1) for name in ("GJ", "GA_y", "GA_z"))
    seconds = float(cast(Any, benchmark.stats).stats.median)
    # The coarsest of the other library's meshes that is as near to the fine answer.
    other, its_off = 0.0, 1.0
    for size in (200.0, 50.0, 12.0):
        GJ, other = theirs(case, size)
        its_off = abs(GJ / fine.GJ - 1)
        if its_off <= ERROR:
            break
    benchmark.extra_info["ours_ms"] = 1e3 * seconds
    benchmark.extra_info["sectionproperties_warping_ms"] = 1e3 * other
    benchmark.extra_info["ratio"] = other / seconds
    with capsys.disabled():
        print(
            f"\n{case[0].name}: torsion and shear {1e3 * seconds:.1f} ms, {100 * off:.2f} % off; "
            f"sectionproperties' warping analysis {1e3 * other:.0f} ms, {100 * its_off:.2f} % off: "
            f"{other / seconds:.0f} times as long"
        )
    assert off <= ERROR
    assert seconds < limit


@pytest.mark.parametrize(("case", "limit"), [(a_hat(), 1e-3), (a_pan(), 3e-3)], ids=["hat", "three-cell pan"])
def test_thin_walls_while_dragging(benchmark: BenchmarkFixture, case: Case, limit: float) -> None:
    """What torsion adds to a frame, whose bodies are known from bending."""

    def fresh() -> tuple[tuple[SectionShape, Plating], dict[str, Any]]:
        drawn, named = moved(case)
        bodies(*drawn)
        return drawn, named

    found = benchmark.pedantic(thin_walls, setup=fresh, rounds=200, warmup_rounds=10)
    assert found.GJ > 0
    if benchmark.enabled:
        assert float(cast(Any, benchmark.stats).stats.min) < limit
