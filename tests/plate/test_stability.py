"""Buckling of whole panels against sine waves, the strip and one another."""

from collections.abc import Callable

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.plate.records import CLAMPED, Plates
from stringerlab.plate.stability import panel_buckling_factor
from stringerlab.plate.strip import EdgeLoads, Strip, buckling_factor

Make = Callable[..., Plates]
D = np.array([[1.0, 0.15, 0.0], [0.15, 0.5, 0.0], [0.0, 0.0, 0.2]])


@pytest.mark.parametrize("r", [1.0, 1.7, 2.6])
@pytest.mark.parametrize("pressed", [(1.0, 0.0), (0.0, 1.0), (0.6, 0.5)])
def test_simply_supported_panel_buckles_in_sine_waves(
    plate: Make, r: float, pressed: tuple[float, float]
) -> None:
    m, n = np.meshgrid(np.arange(1, 6) * np.pi, np.arange(1, 6) * np.pi / r)
    bend = D[0, 0] * m**4 + 2 * (D[0, 1] + 2 * D[2, 2]) * (m * n) ** 2 + D[1, 1] * n**4
    exact = float((bend / (pressed[0] * m**2 + pressed[1] * n**2)).min())
    assert panel_buckling_factor(plate(r, D), (*pressed, 0.0)) == pytest.approx(exact, rel=1e-4)


def test_long_panel_in_shear_comes_near_the_strip_from_above(plate: Make) -> None:
    strip = buckling_factor(
        Strip(D_11=D[1, 1], D_22=D[0, 0], D_12=D[0, 1], D_66=D[2, 2], b=1.0), EdgeLoads(shear=1.0)
    )
    shorter, longer = (panel_buckling_factor(plate(r, D), (0.0, 0.0, 1.0)) for r in (2.0, 3.5))
    assert strip < longer < shorter
    assert longer == pytest.approx(strip, rel=0.06)


def test_clamped_edges_raise_the_load_and_a_soft_core_lowers_it(plate: Make) -> None:
    load = (0.0, 1.0, 0.0)
    simple = panel_buckling_factor(plate(1.3, D), load)
    assert panel_buckling_factor(plate(1.3, D, spring=CLAMPED), load) > 1.5 * simple
    soft = 20.0
    m, n = np.meshgrid(np.arange(1, 4) * np.pi, np.arange(1, 6) * np.pi)
    waves = m**2 + n**2
    exact = float((1 / (1 / waves**2 + 1 / (soft * waves)) / n**2).min())
    assert panel_buckling_factor(plate(1.0, S=soft), load) == pytest.approx(exact, rel=1e-4)


def test_panels_pulled_never_buckle_and_strips_are_refused(plate: Make) -> None:
    assert panel_buckling_factor(plate(1.2, D), (-1.0, -1.0, 0.0)) == np.inf
    with pytest.raises(StringerlabError, match="strip"):
        panel_buckling_factor(plate(6.0, D), (1.0, 0.0, 0.0))
    with pytest.raises(StringerlabError, match="one panel"):
        panel_buckling_factor(plate([1.0, 2.0], D), (1.0, 0.0, 0.0))
