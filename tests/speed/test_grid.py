"""A real layout, 6 longitudinals and 15 floors with all equipment: coarse while dragged, then in full.

Asked for: 50 ms coarse, 300 ms whole. Times are printed, never asserted.
"""

import sys
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import Any

import pytest

from stringerlab.assess.grid import Ground, analysed
from stringerlab.assess.grid.judged import grid_findings
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.plan import Equipment, EquipmentKind, Hand
from stringerlab.methods import method_named
from stringerlab.project import resolve

METHOD = method_named("iso_12215_5_2008")
EQUIPMENT = (
    Equipment(
        id="e1",
        name="Tank",
        kind=EquipmentKind.TANK,
        at=(3000, 0),
        mass=300,
        length=1200,
        breadth=700,
        head=400,
    ),
    Equipment(
        id="e2",
        name="Engine",
        kind=EquipmentKind.ENGINE,
        hand=Hand.PAIR,
        at=(1200, 400),
        mass=350,
        feet=((-300, -100), (300, -100), (-300, 100), (300, 100)),
        height=300,
        thrust=6000,
        torque=400_000,
        speed=3000,
    ),
    Equipment(
        id="e3",
        name="Gyro",
        kind=EquipmentKind.GYRO,
        at=(2200, 0),
        mass=150,
        feet=((-200, -200), (200, -200), (-200, 200), (200, 200)),
        torque=2e6,
    ),
    Equipment(
        id="e4",
        name="Outboards",
        kind=EquipmentKind.OUTBOARD,
        hand=Hand.PAIR,
        at=(-100, 350),
        mass=250,
        height=-200,
        thrust=7000,
        overhang=400,
    ),
    Equipment(id="e5", name="Deck", kind=EquipmentKind.DECK, at=(4500, 0), mass=200, length=800, breadth=500),
)


def _laid() -> Any:
    path = Path(__file__).parents[1] / "assess" / "grid" / "conftest.py"
    spec = spec_from_file_location("grid_conftest", path)
    assert spec is not None
    assert spec.loader is not None
    module = module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module.Laid(resolve(load(folder("sample_projects") / "tidewrack_grid.json")))


@pytest.fixture(scope="module")
def layout() -> Ground:
    laid = _laid()
    girders = [laid.girder(f"g{y}", (0, y), (6000, 0.9 * y)) for y in (250, 500, 750)]
    floors = [laid.floor(f"f{k}", (375.0 * k, 0), (375.0 * k, 1000)) for k in range(1, 16)]
    return laid.ground(laid.vee, *girders, *floors, equipment=EQUIPMENT)


def test_coarse_envelope_of_six_by_fifteen(benchmark: Any, layout: Ground) -> None:
    results = benchmark(analysed, layout, METHOD, coarse=True)
    assert results.is_solved


def test_whole_envelope_of_six_by_fifteen(benchmark: Any, layout: Ground) -> None:
    results = benchmark(analysed, layout, METHOD)
    assert len(results.spans) > 90
    assert results.residual < 1e-9


def test_findings_of_six_by_fifteen(benchmark: Any, layout: Ground) -> None:
    results = analysed(layout, METHOD)
    found = benchmark.pedantic(grid_findings, (results, METHOD), rounds=2)
    assert found
