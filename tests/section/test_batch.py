"""Hats in a batch against the polygon engine, to 1e-10; impossible ones masked, never silently wrong.

The two share no integral: the engine sums boundary integrals over ply polygons, the batch polynomials in the
offset.
"""

from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.laminate.records import Moduli, PlyNumbers, Role, Stack
from stringerlab.section import facts, faults, properties
from stringerlab.section.batch import CHUNK, HatProperties, Hats, base_width, hats
from stringerlab.section.records import Plating, SectionShape, WallShape
from stringerlab.section.shapes import hat

RELATIVE = 1e-10
DENSITY = 1500.0


def ply(thickness: float, E: float, role: Role = Role.REINFORCED) -> PlyNumbers:
    return PlyNumbers(
        name=role.value,
        role=role,
        kind=None,
        angle=0.0,
        thickness=thickness,
        mass=DENSITY * thickness,
        dry_weight=500 * thickness,
        glass=0.35,
        E1=E,
        E2=E,
        G12=E / 2.6,
        nu12=0.3,
        tension_1=90.0,
        compression_1=120.0,
        tension_2=90.0,
        compression_2=120.0,
        shear=60.0,
        flexural=160.0,
        interlaminar=16.0,
        marks=(),
    )


def stack(t: Any, E: Any, gel: float = 0.0) -> Stack:
    plies = [ply(gel, 0.0, Role.GEL_COAT)] if gel > 0 else []
    plies += [
        ply(one, modulus) if modulus > 0 else ply(one, 100.0, Role.CORE)
        for one, modulus in zip(t, E, strict=True)
        if not np.isnan(one)
    ]
    return Stack(name="laminate", plies=tuple(plies))


def drawn(rows: Hats, i: int) -> tuple[SectionShape, Plating]:
    """Row i as the walls that anybody could have drawn, with its plating."""
    gel = float(rows.gel[i])
    laminate = stack(rows.t[i], rows.E[i], gel)
    (wall,) = hat(
        height=float(rows.height[i]),
        crown_width=float(rows.crown_width[i]),
        draft=float(np.degrees(rows.draft[i])),
        flange_width=float(rows.flange_width[i]),
        crown_radius=float(rows.crown_radius[i]),
        root_radius=float(rows.root_radius[i]),
        bead=float(rows.bead[i]),
        laminate="l1",
        thickness=sum(one.thickness for one in laminate.plies),
    )
    shape = WallShape(
        id=wall.id,
        points=wall.points,
        fillets=wall.fillets,
        side=wall.side,
        closed=wall.closed,
        stack=laminate,
    )
    section = SectionShape(name="hat", walls=(shape,), bead=float(rows.bead[i]))
    plating = Plating(
        stack=stack(rows.plating_t[i], rows.plating_E[i]), width=float(rows.plating_width[i]), deadrise=0.0
    )
    return section, plating


def random_hats(n: int, seed: int, *, plies: int = 5, plating_plies: int = 3) -> Hats:
    """Return hats that can be built: some with sharp corners, some with fewer plies, cores or no gel coat."""
    rng = np.random.default_rng(seed)

    def between(low: float, high: float, *shape: int) -> np.ndarray:
        return rng.uniform(low, high, shape or (n,))

    t, E = between(0.4, 1.6, n, plies), between(5_000, 30_000, n, plies)
    t[rng.random(n) < 0.3, plies - 1] = np.nan
    E[rng.random(n) < 0.3, plies // 2] = 0.0
    pt, pE = between(0.4, 2.0, n, plating_plies), between(5_000, 20_000, n, plating_plies)
    pt[rng.random(n) < 0.3, plating_plies - 1] = np.nan
    return Hats(
        height=between(60, 250),
        crown_width=between(50, 200),
        draft=between(0.0, np.radians(20)) * (rng.random(n) > 0.1),
        flange_width=between(40, 90),
        crown_radius=between(9, 18) * (rng.random(n) > 0.2),
        root_radius=between(2, 15) * (rng.random(n) > 0.2),
        bead=between(0, 12) * (rng.random(n) > 0.2),
        gel=between(0.3, 0.7) * (rng.random(n) > 0.5),
        t=t,
        E=E,
        plating_width=between(80, 500),
        plating_t=pt,
        plating_E=pE,
    )


def near(value: object) -> Any:
    return pytest.approx(value, rel=RELATIVE, abs=0.0)


def assert_equals_engine(rows: Hats, batch: HatProperties, i: int) -> None:
    section, plating = drawn(rows, i)
    engine = properties(section, plating, Moduli.PLAIN)
    known = facts(section)

    def height(value: object) -> Any:
        return pytest.approx(value, rel=RELATIVE, abs=RELATIVE * float(rows.height[i]))

    assert batch.EA[i] == near(engine.EA)
    assert batch.z_na[i] == height(engine.z_na)
    assert batch.EI_y[i] == near(engine.EI_y)

    counted = np.concatenate([rows.E[i] > 0, rows.plating_E[i] > 0])
    counted &= ~np.isnan(np.concatenate([rows.t[i], rows.plating_t[i]]))
    tops = np.concatenate([batch.z_top[i], batch.plating_z_top[i]])
    bottoms = np.concatenate([batch.z_bottom[i], batch.plating_z_bottom[i]])
    assert tops[counted] == height(engine.fibres.z_top)
    assert bottoms[counted] == height(engine.fibres.z_bottom)
    assert np.abs(batch.fibre_z[i][counted]) == height(np.abs(engine.fibres.z))

    assert batch.web_area[i] == near(known.web_area)
    assert batch.web_depth[i] == near(known.web_depth)
    assert batch.web_thickness[i] == near(known.web_thickness)
    assert batch.base_width[i] == near(known.base_width)
    assert batch.crown_width[i] == near(known.crown_width)
    assert batch.crown_thickness[i] == near(known.crown_thickness)
    assert not known.free_edge

    areas = np.append(batch.area[i][~np.isnan(rows.t[i])], batch.gel_area[i])
    mass = areas.sum() * DENSITY * 1e-6  # mm² × kg/m³ in kg/m
    assert mass == near(known.mass_per_length)


def values(batch: HatProperties) -> dict[str, np.ndarray]:
    return {field.name: getattr(batch, field.name) for field in fields(batch) if field.name != "sound"}


def test_random_hats_equal_the_polygon_engine() -> None:
    rows = random_hats(200, seed=20)
    batch = hats(rows)
    assert batch.sound.all()
    for i in range(200):
        assert_equals_engine(rows, batch, i)


@pytest.mark.parametrize("draft", [10.0, 45 * 6 / 11])
def test_drafts_that_lay_a_chord_at_just_45_degrees_equal_the_polygon_engine(draft: float) -> None:
    rows = replace(random_hats(20, seed=21), draft=np.full(20, np.radians(draft)))
    batch = hats(rows)
    assert batch.sound.all()
    for i in range(20):
        assert_equals_engine(rows, batch, i)


@pytest.mark.parametrize("draft", [0.0, 5.0, 15.0, 20.0, 40.0])
def test_round_drafts_equal_the_polygon_engine(draft: float) -> None:
    rows = replace(random_hats(20, seed=29), draft=np.full(20, np.radians(draft)))
    batch = hats(rows)
    assert batch.sound.all()
    for i in range(20):
        assert_equals_engine(rows, batch, i)


def test_hats_without_plating_equal_the_polygon_engine() -> None:
    rows = random_hats(20, seed=30, plating_plies=1)
    none = np.zeros((20, 0))
    batch = hats(replace(rows, plating_t=none, plating_E=none, plating_width=np.full(20, np.nan)))
    assert batch.sound.all()
    assert batch.fibre_z.shape == (20, 5)
    for i in range(20):
        engine = properties(drawn(rows, i)[0], None, Moduli.PLAIN)
        assert batch.EA[i] == near(engine.EA)
        assert batch.EI_y[i] == near(engine.EI_y)
        assert batch.z_na[i] == near(engine.z_na)


@settings(max_examples=150, deadline=None)
@given(
    height=st.floats(5, 400),
    crown_width=st.floats(5, 400),
    draft=st.floats(0, 40),
    flange_width=st.floats(1, 200),
    crown_radius=st.floats(0, 60),
    root_radius=st.floats(0, 60),
    bead=st.floats(0, 40),
    plies=st.lists(st.tuples(st.floats(0.1, 5), st.floats(1_000, 100_000)), min_size=1, max_size=4),
)
def test_any_hat_called_sound_equals_the_polygon_engine(
    height: float,
    crown_width: float,
    draft: float,
    flange_width: float,
    crown_radius: float,
    root_radius: float,
    bead: float,
    plies: list[tuple[float, float]],
) -> None:
    rows = Hats(
        height=np.array([height]),
        crown_width=np.array([crown_width]),
        draft=np.radians([draft]),
        flange_width=np.array([flange_width]),
        crown_radius=np.array([crown_radius]),
        root_radius=np.array([root_radius]),
        bead=np.array([bead]),
        gel=np.zeros(1),
        t=np.array([[t for t, _ in plies]]),
        E=np.array([[E for _, E in plies]]),
        plating_width=np.array([300.0]),
        plating_t=np.array([[3.0]]),
        plating_E=np.array([[9_000.0]]),
    )
    batch = hats(rows)
    if batch.sound[0]:
        assert_equals_engine(rows, batch, 0)
    else:
        assert all(np.isnan(value).all() for value in values(batch).values())


def test_sound_is_what_can_be_drawn_and_nothing_else() -> None:
    n = 1000
    rng = np.random.default_rng(22)
    rows = replace(
        random_hats(n, seed=22),
        height=rng.uniform(5, 60, n),
        crown_width=rng.uniform(10, 80, n),
        flange_width=rng.uniform(5, 40, n),
        crown_radius=rng.uniform(3, 20, n) * (rng.random(n) > 0.3),
        root_radius=rng.uniform(1, 15, n) * (rng.random(n) > 0.3),
    )
    batch = hats(rows)
    assert 200 < batch.sound.sum() < 800
    for i in range(n):
        try:
            section, _ = drawn(rows, i)
        except StringerlabError:
            assert not batch.sound[i]
        else:
            assert batch.sound[i]
            assert not faults(section, 0.0)


@pytest.mark.parametrize(
    "change",
    [
        {"height": -100.0},
        {"height": np.nan},
        {"crown_width": 0.0},
        {"crown_width": 20.0, "crown_radius": 0.0, "draft": 0.0},  # webs meet inside
        {"draft": -0.1},
        {"draft": np.radians(45)},
        {"flange_width": 5.0, "root_radius": 15.0},
        {"crown_radius": 4.0},  # folds on its inside
        {"crown_radius": np.inf},
        {"root_radius": 1e-12},
        {"bead": -1.0},
        {"gel": np.nan},
        {"plating_width": 0.0},
        {"t": 0.0},
        {"t": np.nan},  # no ply at all
        {"E": -1.0},
        {"E": np.nan},
        {"plating_t": -2.0},
        {"E": 0.0, "plating_E": 0.0},
    ],
)
def test_impossible_hat_is_masked_and_its_neighbours_are_not(change: dict[str, float]) -> None:
    rows = replace(
        random_hats(3, seed=23), t=np.full((3, 5), 2.2), gel=np.zeros(3), crown_radius=np.full(3, 14.0)
    )
    untouched = hats(rows)
    assert untouched.sound.all()
    changed = {name: np.array(getattr(rows, name)) for name in change}
    for name, value in change.items():
        changed[name][1] = value
    batch = hats(replace(rows, **changed))
    assert batch.sound.tolist() == [True, False, True]
    for name, value in values(batch).items():
        assert np.isnan(value[1]).all(), name
        assert np.array_equal(value[[0, 2]], values(untouched)[name][[0, 2]], equal_nan=True), name


def test_chunks_and_threads_change_nothing() -> None:
    rows = random_hats(2 * CHUNK + 7, seed=24)
    alone, together = hats(rows, workers=1), hats(rows, workers=3)
    tail = hats(Hats(**{field.name: getattr(rows, field.name)[-7:] for field in fields(rows)}))
    for name, value in values(alone).items():
        assert np.array_equal(value, values(together)[name], equal_nan=True), name
        assert value[-7:] == pytest.approx(values(tail)[name], rel=1e-13, nan_ok=True), name


def test_one_size_for_all_hats_is_spread_over_them() -> None:
    rows = random_hats(5, seed=25)
    one = replace(rows, height=np.array(150.0), bead=np.array(4.0))
    each = replace(rows, height=np.full(5, 150.0), bead=np.full(5, 4.0))
    assert np.array_equal(hats(one).EI_y, hats(each).EI_y)


def test_arrays_that_do_not_go_together_are_refused() -> None:
    rows = random_hats(5, seed=26)
    with pytest.raises(ValueError, match="shape"):
        hats(replace(rows, height=rows.height[:3]))
    with pytest.raises(ValueError, match="shape"):
        hats(replace(rows, E=rows.E[:, :3]))


def test_splitting_a_ply_in_two_changes_no_stiffness() -> None:
    rows = random_hats(50, seed=27)
    half = rows.t[:, :1] / 2
    split = replace(rows, t=np.hstack([half, half, rows.t[:, 1:]]), E=np.hstack([rows.E[:, :1], rows.E]))
    whole, parts = hats(rows), hats(split)
    for name in ("EA", "z_na", "EI_y", "web_area"):
        assert getattr(parts, name) == pytest.approx(getattr(whole, name), rel=1e-12), name


def test_base_width_is_where_the_webs_meet_the_shell() -> None:
    rows = random_hats(20, seed=28)
    assert base_width(rows.height, rows.crown_width, rows.draft) == pytest.approx(
        hats(rows).base_width, rel=1e-15
    )
    for i in range(20):
        section, _ = drawn(rows, i)
        (_, root, crown, *_) = section.walls[0].points
        slope = (crown[0] - root[0]) / (crown[1] - root[1])
        assert hats(rows).base_width[i] == pytest.approx(-2 * (root[0] - root[1] * slope), rel=1e-12)
