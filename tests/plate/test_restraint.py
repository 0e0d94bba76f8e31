"""Long plates with elastically held edges: the closed forms that are judged by, on the Ritz solution."""

import numpy as np
import pytest

from stringerlab.plate import buckling
from stringerlab.plate.strip import EdgeLoads, Strip, buckling_factor

PLATES = [
    (1.0, 1.0, 0.3),
    (3.0, 1.0, 0.5),
    (1.0, 3.0, 0.5),
    (1.0, 1.0, 1.0),
    (2.0, 1.0, 1.6),
    (1.0, 3.0, 2.2),
]
"""D_11, D_22 and twisting stiffness over the mean of both."""
SPRINGS = [0.0, 1.0, 5.0, 20.0, 1e9]
"""k b/D_22, hinged to clamped."""


def stiffness(D_11: float, D_22: float, K: float) -> dict[str, float]:
    mean = (D_11 * D_22) ** 0.5
    D_12 = 0.25 * min(K, 1.0) * mean
    return {"D_11": D_11, "D_22": D_22, "D_12": D_12, "D_66": (K * mean - D_12) / 2}


def exact(D: dict[str, float], kappa: float, loads: EdgeLoads) -> float:
    spring = kappa * D["D_22"]
    plate = Strip(
        D_11=D["D_11"],
        D_22=D["D_22"],
        D_12=D["D_12"],
        D_66=D["D_66"],
        b=1.0,
        spring_1=spring,
        spring_2=spring,
    )
    return buckling_factor(plate, loads)


@pytest.mark.parametrize("kappa", SPRINGS)
@pytest.mark.parametrize("plate", PLATES)
def test_shear_of_held_edges(plate: tuple[float, float, float], kappa: float) -> None:
    D = stiffness(*plate)
    hinged = exact(D, 0.0, EdgeLoads(shear=1.0))
    xi = buckling.restraint.clause(D["D_22"], 1.0, kappa * D["D_22"])
    found = float(buckling.shear_restrained.clause(hinged, plate[0], plate[1], plate[2], 1.0, xi))
    held = exact(D, kappa, EdgeLoads(shear=1.0))
    assert 0.965 * held <= found <= 1.005 * held


@pytest.mark.parametrize("kappa", SPRINGS)
@pytest.mark.parametrize("plate", PLATES)
def test_bending_of_held_edges(plate: tuple[float, float, float], kappa: float) -> None:
    D = stiffness(*plate)
    hinged = exact(D, 0.0, EdgeLoads(bending=1.0))
    xi = buckling.restraint.clause(D["D_22"], 1.0, kappa * D["D_22"])
    found = float(buckling.bending_restrained.clause(hinged, **D, b_p=1.0, xi_r=xi))
    held = exact(D, kappa, EdgeLoads(bending=1.0))
    assert 0.95 * held <= found <= 1.005 * held


def test_clamped_limits_of_isotropic_plates_8_98_and_39_6() -> None:
    """Shear and bending of long plates with clamped sides, as the handbooks print them."""
    D = stiffness(1.0, 1.0, 1.0)
    shear = buckling.shear_restrained.clause(5.34 * np.pi**2, 1.0, 1.0, 1.0, 1.0, 1.0)
    bend = buckling.bending_restrained.clause(23.9 * np.pi**2, **D, b_p=1.0, xi_r=1.0)
    assert float(shear) / np.pi**2 == pytest.approx(8.98, rel=0.005)
    assert float(bend) / np.pi**2 == pytest.approx(39.6, rel=0.01)


def test_hold_beyond_the_fit_never_takes_away() -> None:
    assert float(buckling.shear_restrained.clause(500.0, 1.0, 1.0, 6.0, 1.0, 1.0)) == 500.0
