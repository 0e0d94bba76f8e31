"""One member alone is the beam of the books; the grid's stiffness is that of the sections in it."""

from typing import TYPE_CHECKING

import numpy as np
import pytest

from stringerlab.assess.grid import analysed, case_field
from stringerlab.assess.grid.patches import pressures
from stringerlab.assess.grid.stiffness import stiffness
from stringerlab.laminate import Moduli
from stringerlab.layout.plan import Equipment, EquipmentKind, GridRules, Hand, Held, Participation, Supports
from stringerlab.methods import craft_row, method_named
from stringerlab.section import Plating, properties
from stringerlab.section.torsion import thin_walls

if TYPE_CHECKING:
    from tests.assess.grid.conftest import Laid

METHOD = method_named("iso_12215_5_2008")


def alone(laid: "Laid", **more: object):
    keel = laid.girder("k", (0, 0), (6000, 0), hand=Hand.CENTRELINE)
    return laid.ground(laid.flat, keel, **more)  # pyright: ignore


def test_one_span_alone_is_a_beam_under_a_trapezoid(laid: "Laid") -> None:
    ground = alone(laid)
    results = analysed(ground, METHOD)
    assert results.beams is not None
    (case,) = ground.spans.values()
    assert case.span.s == pytest.approx(1000)
    P = next(P for one, P in pressures(ground, METHOD, craft_row(ground.craft)) if one is case)
    # within 500 mm of the ends yield lines give the load to transom and forward edge
    w, L, a = P * 1000, 6000.0, 500.0
    of = results.spans[case.span.id]
    assert of.M_max.value == pytest.approx(w * (3 * L**2 - 4 * a**2) / 24, rel=3e-3)
    assert of.V.value == pytest.approx(w * (L - a) / 2, rel=5e-3)
    assert of.M_max.along == pytest.approx(0.5)
    EI, GA = results.beams.grid.EI[0], results.beams.grid.GA[0]
    bent = w * (5 * L**2 - 4 * a**2) ** 2 / (1920 * EI)
    sheared = w * (3 * L**2 - 4 * a**2) / 24 / GA
    assert of.sag.value == pytest.approx(bent + sheared, rel=1e-2)


def test_clamped_ends_halve_the_greatest_moment_within(laid: "Laid") -> None:
    held = Supports(transom=Held.CLAMPED, forward=Held.CLAMPED)
    (simple,), (clamped,) = (
        list(analysed(alone(laid, supports=each), METHOD).spans.values()) for each in (Supports(), held)
    )
    assert simple.M_min.value == pytest.approx(0, abs=1)
    # of a uniform load wl²/24 within, wl²/12 at the ends: of wl²/8
    assert clamped.M_max.value / simple.M_max.value == pytest.approx(1 / 3, rel=0.1)
    assert -clamped.M_min.value / simple.M_max.value == pytest.approx(2 / 3, rel=0.1)


def test_a_field_of_a_case_has_its_envelope_moment(laid: "Laid") -> None:
    results = analysed(alone(laid), METHOD)
    (of,) = results.spans.values()
    field = case_field(results, of.M_max.case)
    assert field.M.max() == pytest.approx(of.M_max.value, rel=1e-9)
    assert field.w.max() == pytest.approx(of.sag.value, rel=1e-6)
    assert field.at.shape == (*field.w.shape, 2)


@pytest.mark.parametrize("width", [130.0, 610.0, 1500.0])
@pytest.mark.parametrize("section", ["s26", "s37", "s31"])
def test_stiffness_on_any_width_is_the_sections_own(laid: "Laid", section: str, width: float) -> None:
    shape = laid.resolved.shapes[section]
    for slope in (0.0, 0.3):
        found = stiffness(shape, laid.stack, slope, np.array([width]))
        plating = Plating(stack=laid.stack, width=width, deadrise=slope)
        own = properties(shape, plating, Moduli.CONTRACTED)
        assert found.EI[0] == pytest.approx(own.EI_y, rel=1e-9)
    if width < 500:  # narrower than the flanges they stand on, walls do not hang together
        return
    thin = thin_walls(shape, Plating(stack=laid.stack, width=width, deadrise=0.0))
    flat = stiffness(shape, laid.stack, 0.0, np.array([width]))
    assert flat.GJ[0] == pytest.approx(thin.GJ, rel=5e-3)
    # thin walls' own GA jumps by a tenth as the strip's width brings its middle line to the webs' or not
    assert flat.GA[0] == pytest.approx(thin.GA_z, rel=0.12)


def test_a_mass_at_mid_span_swings_as_on_the_spring_of_its_beam(laid: "Laid") -> None:
    heavy = Equipment(
        id="e", name="It", kind=EquipmentKind.POINT, at=(3000.0, 0.0), mass=4000.0, acceleration=0.0
    )
    results = analysed(alone(laid, equipment=(heavy,)), METHOD)
    assert results.beams is not None
    L, EI, GA = 6000.0, results.beams.grid.EI[0], results.beams.grid.GA[0]
    stiffness_at = 1 / (L**3 / (48 * EI) + L / (4 * GA))
    # beam and plating weigh a hundredth of it: of that about half swings along
    assert results.frequencies[0] == pytest.approx(np.sqrt(1e3 * stiffness_at / 4000) / (2 * np.pi), rel=0.01)


def test_no_participation_leaves_the_section_alone(laid: "Laid") -> None:
    results = analysed(alone(laid, rules=GridRules(participation=Participation.NONE)), METHOD)
    assert results.beams is not None
    bare = properties(laid.resolved.shapes["s26"], None, Moduli.CONTRACTED)
    assert results.beams.grid.EI[0] == pytest.approx(bare.EI_y, rel=1e-9)
    lagged = analysed(alone(laid, rules=GridRules(participation=Participation.SHEAR_LAG)), METHOD)
    assert lagged.beams is not None
    assert lagged.beams.width[0] <= 1000
    assert lagged.beams.grid.EI[0] > bare.EI_y
