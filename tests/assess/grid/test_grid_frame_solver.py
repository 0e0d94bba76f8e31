"""A grid laid out, loaded by a slam patch and an engine, through a general frame solver, PyNiteFEA: 0.1 %."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from Pynite import FEModel3D

from stringerlab.assess.grid import GridResults, analysed
from stringerlab.grillage import Grid, Loads, solve
from stringerlab.layout import Cut
from stringerlab.layout.plan import Contact, Equipment, EquipmentKind
from stringerlab.methods import method_named

if TYPE_CHECKING:
    from tests.assess.grid.conftest import Laid

METHOD = method_named("iso_12215_5_2008")
CASE = "Combo 1"
E = 1e4


def boat(laid: "Laid") -> GridResults:
    """Two girders and three floors on a vee, one floor cut at the girders, one bonded up the side."""
    floors = [laid.floor(f"f{x}", (x, 0), (x, 1000)) for x in (1500, 2700)]
    last = laid.floor("f4000", (4000, 0), (4000, 1000))
    engine = Equipment(
        id="e1",
        name="Engine",
        kind=EquipmentKind.ENGINE,
        at=(2000, 400),
        mass=300,
        feet=((-300.0, 0.0), (300.0, 0.0)),
        acceleration=1.0,
    )
    return analysed(
        laid.ground(
            laid.vee,
            laid.girder("g", (0, 400), (6000, 350)),
            replace(floors[0], crown=Cut.CUT),
            floors[1],
            replace(last, contact=Contact.ALL_ROUND),
            equipment=(engine,),
        ),
        METHOD,
    )


def framed(g: Grid, loads: Loads) -> FEModel3D:
    """The grid as a frame: our x, y, z are its X, −Z, Y."""
    frame = FEModel3D()
    frame.add_material("m", E, E / 2, 0.0, 0.0)
    for node, (x, y) in enumerate(g.nodes.tolist()):
        frame.add_node(f"n{node}", x, 0.0, -y)
        held = np.isinf(g.springs[node]).tolist()
        frame.def_support(f"n{node}", True, held[0], True, held[1], True, held[2])
        for freedom, spring in zip(("DY", "RX", "RZ"), g.springs[node].tolist(), strict=True):
            if 0 < spring < np.inf:
                frame.def_support_spring(f"n{node}", freedom, spring)
    for beam, (first, last) in enumerate(g.beams.tolist()):
        frame.add_section(f"s{beam}", 1e4, 1e8, float(g.EI[beam] / E), float(g.GJ[beam] / (E / 2)))
        frame.add_member(f"b{beam}", f"n{first}", f"n{last}", "m", f"s{beam}")
        if g.pinned is not None and g.pinned[beam].any():
            frame.def_releases(f"b{beam}", Rzi=bool(g.pinned[beam, 0]), Rzj=bool(g.pinned[beam, 1]))
    amount = loads.amount.toarray()[:, 0]  # type: ignore[attr-defined]
    length = np.hypot(*(g.nodes[g.beams[:, 1]] - g.nodes[g.beams[:, 0]]).T)
    for point in np.flatnonzero(amount).tolist():
        beam = int(loads.beam[point])
        at = float(loads.along[point] * length[beam])
        frame.add_member_pt_load(f"b{beam}", "FY", float(amount[point]), at)
    frame.analyze_linear()
    return frame


@pytest.mark.parametrize("what", ["slam on", "Engine"])
def test_a_laid_out_grid_as_the_frame_solver_has_it(laid: "Laid", what: str) -> None:
    results = boat(laid)
    assert results.beams is not None
    assert results.loads is not None
    g = replace(results.beams.grid, GA=np.full(len(results.beams.span), np.inf))  # it knows no shear
    assert g.pinned is not None
    assert g.pinned.any()
    case = next(number for number, each in enumerate(results.cases) if each.name.startswith(what))
    loads = replace(results.loads.of([case]), nodal=None)
    found = solve(g, loads, places=3)
    frame = framed(g, loads)
    w = np.array([frame.nodes[f"n{node}"].DY[CASE] for node in range(len(g.nodes))])
    assert np.abs(w).max() > 0.01
    assert found.w[:, 0, 0] == pytest.approx(w, rel=1e-3, abs=1e-3 * np.abs(w).max())
    length = np.hypot(*(g.nodes[g.beams[:, 1]] - g.nodes[g.beams[:, 0]]).T)
    M = np.array(
        [
            [frame.members[f"b{beam}"].moment("Mz", float(part * long), CASE) for part in (0, 0.5, 1)]
            for beam, long in enumerate(length)
        ]
    )
    assert found.M[:, :, 0] == pytest.approx(M, rel=1e-3, abs=1e-3 * np.abs(M).max())
    up = np.array([frame.nodes[f"n{node}"].RxnFY[CASE] for node in range(len(g.nodes))])
    assert found.reactions[:, 0, 0] == pytest.approx(up, rel=1e-3, abs=1e-3 * np.abs(up).max())
