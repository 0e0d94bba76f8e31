"""Panels judged from first principles: what is asked, what is said, what is left unjudged."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.laminate import PlyNumbers, Role, Stack
from stringerlab.layout import Panel, PanelCase, Surface
from stringerlab.methods.first_principles.source import LIMITS
from stringerlab.methods.mechanics import OURS, LoadedPanel
from stringerlab.methods.mechanics.panels import DEFLECTION_LIMIT, judge
from stringerlab.methods.mechanics.panels_edges import EDGES, UNIT, Key, bare_neighbours, responses
from stringerlab.methods.mechanics.plies import STRENGTHS_AS_RESOLVED
from stringerlab.methods.records import Aspect, Judged
from stringerlab.plate.bending import bent
from stringerlab.plate.records import plates
from stringerlab.plate.stress import first_ply

SKIN = PlyNumbers(
    name="mat", role=Role.REINFORCED, kind=None, angle=0.0, thickness=6.0, mass=9000.0, dry_weight=2700.0,
    glass=0.3, E1=8000.0, E2=8000.0, G12=3000.0, nu12=0.3, tension_1=90.0, compression_1=150.0,
    tension_2=90.0, compression_2=150.0, shear=60.0, flexural=None, interlaminar=None, marks=(),
)  # fmt: skip
CORE = replace(SKIN, name="foam", role=Role.CORE, thickness=20.0, E1=60.0, E2=60.0, G12=20.0, shear=0.8)
SINGLE = Stack(name="hull bottom", plies=(SKIN,))
SANDWICH = Stack(name="deck", plies=(replace(SKIN, thickness=2.0), CORE, replace(SKIN, thickness=2.0)))


def loaded(stack: Stack, P: float = 0.03, **change: object) -> LoadedPanel:
    panel = Panel(id="p1", name="panel", b=350, l=600, x=2000, deadrise=18)
    return LoadedPanel(case=PanelCase(panel=replace(panel, **change), stack=stack), P=P)  # pyright: ignore[reportArgumentType]


def judged(*panels: LoadedPanel) -> dict[Aspect, Judged]:
    return {one.aspect: one for one in judge(panels, OURS)}


def use(judged: Judged) -> np.ndarray:
    return np.asarray(judged.utilisation)


def test_single_skin_and_sandwich_are_judged_alike_and_only_the_sandwich_for_its_core() -> None:
    found = judged(loaded(SINGLE), loaded(SANDWICH))
    assert np.all(use(found[Aspect.PLY_FAILURE]) > 0)
    assert np.all(use(found[Aspect.DEFLECTION]) > 0)
    core = found[Aspect.CORE_SHEAR]
    assert core.applies is not None
    assert core.applies.tolist() == [False, True]
    assert use(core)[1] > 0


def test_deflection_is_the_plates_over_our_own_limit() -> None:
    one = np.ones(1)
    w = bent(plates([SINGLE], 350 * one, 600 * one), 0.03 * one).w[0]
    assert use(judged(loaded(SINGLE))[Aspect.DEFLECTION])[0] == pytest.approx(w / (350 * DEFLECTION_LIMIT))


def test_bare_neighbours_hold_an_edge_by_3_D_over_b_less_by_their_cores_shear() -> None:
    """Against a propped beam: turned at one end by M, the other hinged, M b/(3 D) + M/(S b)."""
    D = 8000 / (1 - 0.3**2) * 6.0**3 / 12
    thin = plates([SINGLE], np.array([350.0]), np.array([600.0]))
    long_edge, short_edge = bare_neighbours(replace(thin, S=np.full((1, 2), 1e12)))
    assert long_edge[0] == pytest.approx(3 * D / 350, rel=1e-6)
    assert short_edge[0] == pytest.approx(3 * D / 600, rel=1e-6)
    cored = plates([SANDWICH], np.array([350.0]), np.array([600.0]))
    turned = 350 / (3 * cored.D[0, 0, 0]) + 1 / (cored.S[0, 0] * 350)
    assert bare_neighbours(cored)[0][0] == pytest.approx(1 / turned, rel=1e-12)


def test_long_panel_beside_bare_ones_is_a_beam_of_three_bays() -> None:
    """Middle bay of three under pressure, by three moments: 5 M = −q b²/4 at its supports, ends hinged."""
    b, q = 100.0, 1e-3
    strip = plates([SINGLE], np.array([b]), np.array([8.0 * b]))
    thin = replace(strip, S=np.full((1, 2), 1e12))
    bare_x, bare_y = bare_neighbours(thin)
    found = bent(replace(thin, spring_x=bare_x, spring_y=bare_y), np.array([q]))
    assert found.long_edge[0, 0] == pytest.approx(-q * b**2 / 20, rel=2e-3)
    assert found.middle[0, 0] == pytest.approx(q * b**2 * (1 / 8 - 1 / 20), rel=2e-3)


def test_worse_of_both_edges_is_judged_and_bounds_stand_beside_it() -> None:
    # an inner face that bears no tension fails in the middle, the sooner the more the edges turn
    brittle = Stack(
        name="brittle inside",
        plies=(
            replace(
                SKIN,
                thickness=5.0,
                compression_1=900.0,
                compression_2=900.0,
                tension_1=900.0,
                tension_2=900.0,
            ),
            replace(SKIN, thickness=1.0, tension_1=15.0, tension_2=15.0),
        ),
    )
    for stack, edges in ((SINGLE, "edges clamped"), (brittle, "neighbours bare")):
        ply = judged(loaded(stack))[Aspect.PLY_FAILURE]
        assert ply.governing is not None
        assert ply.governing.name(0).endswith(edges)
        (text,) = (remark.text for remark in ply.remarks if "governs" in remark.text)
        allowed = {words: float(text.split(f"{words} ")[-1].split(" kN")[0]) for words in EDGES}
        assert allowed[edges] == min(allowed["edges clamped"], allowed["neighbours bare"])
        assert ply.capacity[0] * 1e3 == pytest.approx(allowed[edges], rel=1e-3)


@pytest.mark.parametrize("kappa", [3.0, 6.0, 20.0, 100.0])
def test_any_hold_between_bare_neighbours_and_clamped_is_bounded_by_both(kappa: float) -> None:
    one = np.ones(1)
    fixed = plates([SINGLE], 350 * one, 600 * one)
    spring = kappa * fixed.D[:, 0, 0] / 350
    held = bent(replace(fixed, spring_x=spring, spring_y=spring), UNIT * one)
    factor = first_ply([SINGLE], held, np.zeros(1, bool)).factor[0]
    (found,) = responses((Key(SINGLE, 350.0, 600.0, 0.0, False),)).ply[:2].min(axis=0)
    assert factor >= found * (1 - 1e-6)


def test_bulkheads_and_tanks_are_clamped_by_panels_under_the_same_head() -> None:
    for surface in (Surface.BULKHEAD, Surface.TANK):
        ply = judged(loaded(SINGLE, surface=surface))[Aspect.PLY_FAILURE]
        assert ply.governing is not None
        assert "edges clamped" in ply.governing.name(0)


def test_only_a_honeycomb_core_leaves_dimpling_open() -> None:
    cells = replace(CORE, name="PP honeycomb")
    pair = judged(loaded(SANDWICH), loaded(replace(SANDWICH, plies=(SKIN, cells, SKIN))))
    told = [one for one in pair[Aspect.CORE_SHEAR].remarks if "cell size is not in the book" in one.text]
    assert [one.where.tolist() for one in told if one.where is not None] == [[False, True]]


def test_deflection_limit_has_one_home() -> None:
    assert DEFLECTION_LIMIT is LIMITS.panel


def test_strengths_are_said_to_be_as_resolved() -> None:
    assert STRENGTHS_AS_RESOLVED in judged(loaded(SINGLE))[Aspect.PLY_FAILURE].remarks


def test_utilisation_goes_with_the_pressure() -> None:
    found = judged(loaded(SINGLE, 0.01), loaded(SINGLE, 0.03))
    for aspect in (Aspect.PLY_FAILURE, Aspect.DEFLECTION):
        once, thrice = use(found[aspect])
        assert thrice == pytest.approx(3 * once)


def test_camber_eases_a_panel() -> None:
    flat, round_ = use(judged(loaded(SINGLE), loaded(SINGLE, camber=20.0))[Aspect.DEFLECTION])
    assert round_ < flat


def test_missing_strength_says_which_laminate_and_ply() -> None:
    lacking = Stack(name="deck edge", plies=(replace(SKIN, name="cloth", tension_2=None),))
    ply = judged(loaded(SINGLE), loaded(lacking))[Aspect.PLY_FAILURE]
    assert np.isnan(use(ply)).tolist() == [False, True]
    said = [remark for remark in ply.lacking if remark.where is not None and remark.where[1]]
    assert any("deck edge" in remark.text and "cloth" in remark.text for remark in said)


def test_panel_without_a_solution_is_not_judged_and_the_others_are() -> None:
    soft = Stack(name="hollow", plies=(SKIN, replace(CORE, G12=0.0), SKIN))
    found = judged(loaded(SINGLE), loaded(soft), loaded(SANDWICH))
    for aspect in (Aspect.PLY_FAILURE, Aspect.DEFLECTION):
        assert np.isnan(use(found[aspect])).tolist() == [False, True, False]
        assert any(
            "hollow" in remark.text and "shear stiffness" in remark.text for remark in found[aspect].lacking
        )


def test_no_pressure_is_not_judged() -> None:
    assert np.isnan(use(judged(loaded(SINGLE, np.nan))[Aspect.PLY_FAILURE])[0])


def test_bulkhead_is_held_from_both_sides() -> None:
    weak = Stack(
        name="one-sided", plies=(replace(SKIN, thickness=1.0, tension_1=30.0), replace(SKIN, thickness=5.0))
    )
    mirrored = Stack(name="other-sided", plies=weak.plies[::-1])
    bottom = use(judged(loaded(weak), loaded(mirrored))[Aspect.PLY_FAILURE])
    wall = use(
        judged(loaded(weak, surface=Surface.BULKHEAD), loaded(mirrored, surface=Surface.BULKHEAD))[
            Aspect.PLY_FAILURE
        ]
    )
    assert wall == pytest.approx([max(bottom)] * 2, rel=1e-6)
    assert bottom[0] != pytest.approx(bottom[1])


def test_simple_edges_are_told_beside_and_unsymmetric_laminates_named() -> None:
    pair = Stack(name="pair", plies=(SKIN, replace(SKIN, E1=12_000.0)))
    remarks = judged(loaded(SINGLE), loaded(pair))[Aspect.PLY_FAILURE].remarks
    assert sum("free to turn" in remark.text for remark in remarks) == 2
    coupled = [remark for remark in remarks if "not symmetric" in remark.text]
    assert [remark.where.tolist() for remark in coupled if remark.where is not None] == [[False, True]]


def test_no_panels_are_no_findings() -> None:
    assert judge((), OURS) == ()


def test_natural_frequency_is_told_and_not_judged() -> None:
    found = judged(loaded(SINGLE))
    assert Aspect.FREQUENCY not in found
    # clamped, l/b 600/350: ω b² √(ρh/D) lies between the square's 36.0 and the endless plate's 22.4
    D = 8000 / (1 - 0.3**2) * 6.0**3 / 12
    low, high = (k / 350**2 * np.sqrt(D / 9000e-12) / 2 / np.pi for k in (22.4, 36.0))
    text = next(remark.text for remark in found[Aspect.DEFLECTION].remarks if "frequency" in remark.text)
    assert low < float(text.split("air ")[1].split(" Hz")[0].replace(" ", "")) < high
