"""Plates against an independent library: scikit-fem's Argyris element for thin plates, skew ones too."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from skfem import Basis, BilinearForm, ElementTriArgyris, LinearForm, MeshTri, condense, solve
from skfem.helpers import dd

from stringerlab.plate.bending import bent
from stringerlab.plate.records import CLAMPED, Plates

PLATES = {
    "orthotropic": np.array([[1.0, 0.15, 0.0], [0.15, 0.5, 0.0], [0.0, 0.0, 0.2]]),
    "skew": np.array([[1.0, 0.15, 0.15], [0.15, 0.5, 0.08], [0.15, 0.08, 0.2]]),
}


def argyris(D: np.ndarray, r: float, *, clamped: bool, divisions: int = 6) -> dict[str, Any]:
    """Return deflection and moments under unit pressure, from a mesh of the plate with b = 1."""
    across, along = np.linspace(-0.5, 0.5, divisions + 1), np.linspace(-r / 2, r / 2, divisions + 1)
    basis = Basis(MeshTri.init_tensor(across, along), ElementTriArgyris())

    def curvatures(w: Any) -> np.ndarray:
        second: Any = dd(w)
        return np.stack([-second[0, 0], -second[1, 1], -2 * second[0, 1]])

    @BilinearForm
    def stiffness(u: Any, v: Any, _: Any) -> Any:
        return np.einsum("i...,ij,j...->...", curvatures(v), D, curvatures(u))

    @LinearForm
    def pressure(v: Any, _: Any) -> Any:
        return 1.0 * v

    edges = basis.get_dofs()
    # along an edge w is 0, and with it its slope and bend along the edge; clamped, its slope across too
    held = set(edges.all(["u"]).tolist())
    for facets, own in ((lambda x: np.abs(np.abs(x[0]) - 0.5) < 1e-9, ("u_y", "u_yy")),
                        (lambda x: np.abs(np.abs(x[1]) - r / 2) < 1e-9, ("u_x", "u_xx"))):  # fmt: skip
        dofs = basis.get_dofs(facets)
        held |= set(dofs.all(list(own)).tolist())
        if clamped:
            held |= set(dofs.all(["u_x", "u_y", "u_xy", "u_n"]).tolist())
    found = solve(*condense(stiffness.assemble(basis), pressure.assemble(basis), D=np.array(sorted(held))))

    def at(name: str, x: float, y: float) -> float:
        node = int(np.argmin(np.hypot(basis.mesh.p[0] - x, basis.mesh.p[1] - y)))
        return float(found[basis.get_dofs(nodes=np.array([node])).nodal[name][0]])

    def moment(x: float, y: float) -> np.ndarray:
        return D @ np.array([-at("u_xx", x, y), -at("u_yy", x, y), -2 * at("u_xy", x, y)])

    return {
        "w": at("u", 0.0, 0.0),
        "middle": moment(0.0, 0.0),
        "long_edge": moment(0.5, 0.0),
        "short_edge": moment(0.0, r / 2),
    }


@pytest.mark.parametrize("clamped", [False, True])
@pytest.mark.parametrize("r", [1.0, 1.7])
@pytest.mark.parametrize("name", PLATES)
def test_plate_matches_argyris_elements(
    plate: Callable[..., Plates], name: str, r: float, clamped: bool
) -> None:
    D = PLATES[name]
    ours = bent(plate(r, D, spring=CLAMPED if clamped else 0.0), np.ones(1))
    theirs = argyris(D, r, clamped=clamped)
    assert ours.w[0] == pytest.approx(theirs["w"], rel=2e-3)
    for place in ("middle", "long_edge", "short_edge"):
        found = getattr(ours, place)[0]
        assert found == pytest.approx(theirs[place], abs=0.01 * np.abs(theirs["middle"]).max()), place
