"""Ply stresses against strength of materials worked by hand, laminate theory, and equilibrium."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from math import pi

import numpy as np
import pytest
from numpy.typing import NDArray

from stringerlab import laminate
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Face, Moduli, PlyNumbers, Resultants, Stack
from stringerlab.laminate.modes import Mode
from stringerlab.section import FillShape, Plating, SectionShape, Side, WallShape, ply_polygons, properties
from stringerlab.section.loads import SectionLoads
from stringerlab.section.ply_failure import PlyStresses
from stringerlab.section.ply_points import Stations
from stringerlab.section.ply_stress import ply_stresses
from stringerlab.section.walls_flow import solved_flow

Lay = Callable[..., Stack]
Drawn = tuple[SectionShape, Plating | None]
Array = NDArray[np.float64]
Line = Iterable[tuple[float, float]]

E = 10_000.0
EVERY = [
    "hat",
    "wide hat with foam",
    "plate floor with tabs",
    "freehand",
    "hat on deadrise",
    "closed box",
]


def wall(points: Line, stack: Stack, *, id_: str = "w1", closed: bool = False) -> WallShape:
    return WallShape(id=id_, points=tuple(points), fillets=(), side=Side.LEFT, closed=closed, stack=stack)


def section(*walls: WallShape, fills: Iterable[FillShape] = ()) -> SectionShape:
    return SectionShape(name="test", walls=walls, fills=tuple(fills))


def at(found: PlyStresses, y: float, z: float) -> NDArray[np.intp]:
    """Points at a place."""
    return np.flatnonzero(np.hypot(found.y - y, found.z - z) < 1e-9)


def unidirectional(angle: float, thickness: float = 0.5) -> PlyNumbers:
    return PlyNumbers(
        name="glass",
        role=laminate.Role.REINFORCED,
        kind=None,
        angle=angle,
        thickness=thickness,
        mass=900.0,
        dry_weight=500.0,
        glass=0.5,
        E1=36_000.0,
        E2=9_000.0,
        G12=3_300.0,
        nu12=0.28,
        tension_1=800.0,
        compression_1=500.0,
        tension_2=40.0,
        compression_2=120.0,
        shear=60.0,
        flexural=None,
        interlaminar=45.0,
        marks=(),
    )


@pytest.fixture
def angled() -> Stack:
    """A balanced, symmetric laminate of unidirectional plies."""
    turns = (0.0, pi / 4, -pi / 4, pi / 2, pi / 2, -pi / 4, pi / 4, 0.0)
    return Stack(name="angled", plies=tuple(unidirectional(turn) for turn in turns))


class TestRectangle:
    b, h = 10.0, 120.0

    @pytest.fixture
    def upright(self, lay: Lay) -> SectionShape:
        return section(wall([(self.b / 2, -self.h / 2), (self.b / 2, self.h / 2)], lay((4.0, E), (6.0, E))))

    def test_axial_force_and_moments_about_both_axes_add(self, upright: SectionShape) -> None:
        N, M_y, M_z = 12e3, 0.6e6, -0.1e6
        found = ply_stresses(upright, None, [SectionLoads(N=N, M_y=M_y, M_z=M_z)])
        b, h = self.b, self.h
        for y, z in ((b / 2, h / 2), (b / 2, -h / 2), (-b / 2, h / 2), (-b / 2, -h / 2)):
            expected = N / (b * h) + M_y * z / (b * h**3 / 12) + M_z * y / (h * b**3 / 12)
            (point,) = at(found, y, z)
            assert found.axial_stress[0, point] == pytest.approx(expected, rel=1e-12)

    def test_shear_flow_peaks_at_three_halves_of_the_mean(self, upright: SectionShape) -> None:
        V = 9e3
        found = ply_stresses(upright, None, [SectionLoads(V_z=V)])
        assert found.flow.max() == pytest.approx(1.5 * V / self.h, rel=1e-12)
        place = found.z[np.isclose(found.flow[0], found.flow.max(), rtol=1e-12)]
        assert place == pytest.approx(0, abs=1e-9)
        for z in (-self.h / 2, self.h / 2):
            assert found.flow[0, at(found, self.b / 2, z)] == pytest.approx(0, abs=1e-9 * V)

    def test_flow_at_a_quarter_is_that_of_the_parabola(self, upright: SectionShape) -> None:
        found = ply_stresses(upright, None, [SectionLoads(V_z=1e3)])
        points = np.flatnonzero(np.isclose(found.z, self.h / 4))
        assert len(points) > 0
        assert found.flow[0, points] == pytest.approx(1.5 * 1e3 / self.h * 0.75, rel=1e-12)

    def test_torque_shears_the_faces_of_a_strip_by_three_T_over_b_t_squared(
        self, upright: SectionShape
    ) -> None:
        T = 5e4
        found = ply_stresses(upright, None, [SectionLoads(T=T)])
        outer = np.flatnonzero(np.isclose(np.abs(found.y), self.b / 2))
        shear = found.stress[0, outer, 2]
        assert np.abs(shear) == pytest.approx(3 * T / (self.h * self.b**2), rel=1e-12)
        # Opposite on the two faces, and none where the plies' own middle is.
        assert {-1.0, 1.0} == set(np.sign(shear).tolist())

    def test_factor_is_strength_over_stress(self, upright: SectionShape) -> None:
        found = ply_stresses(upright, None, [SectionLoads(N=12e3), SectionLoads(N=-6e3)])
        assert [one.factor for one in found.governing] == pytest.approx([10.0, 20.0], rel=1e-12)
        modes = [one.mode for one in found.governing]
        assert modes == [Mode.FIBRE_TENSION, Mode.FIBRE_COMPRESSION]


class TestFlatStrip:
    """A plank lying flat: plies one above another."""

    @pytest.mark.parametrize("moduli", list(Moduli))
    def test_interlaminar_shear_is_that_of_the_laminated_beam(self, lay: Lay, moduli: Moduli) -> None:
        stack, width, V = lay((1.5, 7_000.0), (3.0, 24_000.0), (0.5, 12_000.0), (2.0, 9_000.0)), 80.0, 2e3
        found = ply_stresses(section(wall([(0, 0), (width, 0)], stack)), None, [SectionLoads(V_z=V)], moduli)
        expected = laminate.interlaminar_shear(stack, V / width, moduli).peak
        for ply, peak in enumerate(expected.tolist()):
            assert found.interlaminar[0, found.region == ply] == pytest.approx(peak, rel=1e-9)

    def test_rectangle_peaks_inside_its_ply(self, lay: Lay) -> None:
        found = ply_stresses(section(wall([(0, 0), (50, 0)], lay((6.0, E)))), None, [SectionLoads(V_z=400)])
        assert found.interlaminar == pytest.approx(np.full_like(found.interlaminar, 1.5 * 400 / 300))
        assert found.governing[0].mode is Mode.INTERLAMINAR
        assert found.governing[0].factor == pytest.approx(100 / 2.0)

    def test_plies_under_axial_force_are_those_of_laminate_theory(self, angled: Stack) -> None:
        width, N = 60.0, 30e3
        found = ply_stresses(section(wall([(0, 0), (width, 0)], angled)), None, [SectionLoads(N=N)])
        expected = laminate.ply_states(angled, Resultants(N=(N / width, 0, 0)))
        for ply in range(len(angled.plies)):
            for stress in found.stress[0, found.region == ply]:
                assert stress == pytest.approx(expected.stress_12[ply, 0], rel=1e-9, abs=1e-9)
            for strain in found.strain[0, found.region == ply]:
                assert strain == pytest.approx(expected.strain_12[ply, 0], rel=1e-9, abs=1e-15)

    def test_first_failure_is_that_of_laminate_theory(self, angled: Stack) -> None:
        width, N = 60.0, 30e3
        found = ply_stresses(section(wall([(0, 0), (width, 0)], angled)), None, [SectionLoads(N=N)])
        for criterion, factors in (
            (laminate.Criterion.TSAI_WU, found.tsai_wu),
            (laminate.Criterion.MAXIMUM_STRAIN, found.maximum_strain),
        ):
            first = laminate.first_failure(angled, Resultants(N=(N / width, 0, 0)), criterion)[0]
            assert factors.min() == pytest.approx(first.factor, rel=1e-9)
        assert found.governing[0].mode is Mode.MATRIX_TENSION
        assert found.governing[0].ply in ("ply 4: glass", "ply 5: glass")

    def test_transverse_stresses_of_a_wall_balance(self, angled: Stack) -> None:
        """N_y = N_xy = 0: what ±45 plies pull across, the others push."""
        found = ply_stresses(section(wall([(0, 0), (60, 0)], angled)), None, [SectionLoads(N=1e4)])
        across, shear = 0.0, 0.0
        for ply, numbers in enumerate(angled.plies):
            s1, s2, s12 = found.stress[0, np.flatnonzero(found.region == ply)[0]]
            c, s = np.cos(numbers.angle), np.sin(numbers.angle)
            across += numbers.thickness * (s * s * s1 + c * c * s2 + 2 * s * c * s12)
            shear += numbers.thickness * (s * c * (s1 - s2) + (c * c - s * s) * s12)
        size = float(np.abs(found.stress).max())
        assert abs(across) < 1e-9 * size
        assert abs(shear) < 1e-9 * size


@dataclass(frozen=True)
class _Even:
    """The same flow everywhere: a provider of one's own."""

    size: float
    twist: float = 0.0

    @property
    def arms(self) -> Array:
        return np.zeros(2)

    def per_unit(self, stations: Stations) -> Array:
        return np.full((len(stations.stroke), 3), self.size)


def test_plies_under_a_given_flow_are_those_of_laminate_theory(angled: Stack) -> None:
    strip = section(wall([(0, 0), (60, 0)], angled))
    found = ply_stresses(strip, None, [SectionLoads(T=1.0)], flow=_Even(25.0))
    expected = laminate.ply_states(angled, Resultants(N=(0, 0, 25.0)))
    for ply in range(len(angled.plies)):
        for stress in found.stress[0, found.region == ply]:
            assert stress == pytest.approx(expected.stress_12[ply, 0], rel=1e-9, abs=1e-9)


def test_flow_turns_with_the_side_the_laminate_builds_on(angled: Stack) -> None:
    """Drawn the other way and built on the other side it is the same wall: its plies feel the same."""
    one = section(wall([(0, 0), (60, 0)], angled))
    other = section(replace(wall([(60, 0), (0, 0)], angled), side=Side.RIGHT))
    loads = [SectionLoads(N=1e4, T=1.0)]
    first, second = (
        ply_stresses(each, None, loads, flow=_Even(size)) for each, size in ((one, 25.0), (other, -25.0))
    )
    for ply in range(len(angled.plies)):
        mine, theirs = (found.stress[0, found.region == ply][0] for found in (first, second))
        assert mine == pytest.approx(theirs, rel=1e-9)


class TestEquilibrium:
    LOADS = (
        SectionLoads(N=1e4),
        SectionLoads(M_y=1e6),
        SectionLoads(M_z=1e6),
        SectionLoads(N=-2e3, M_y=-3e6, M_z=0.7e6),
    )

    @pytest.mark.parametrize("name", EVERY)
    def test_axial_stresses_integrate_back_to_the_loads(self, sections: dict[str, Drawn], name: str) -> None:
        shape, plating = sections[name]
        found = ply_stresses(shape, plating, self.LOADS)
        known = properties(shape, plating, Moduli.CONTRACTED)
        for row, load in enumerate(self.LOADS):
            found_N, M_y, M_z = _resultants(shape, plating, found, row, known.y_na, known.z_na)
            size = abs(load.N) * 100 + abs(load.M_y) + abs(load.M_z)
            assert found_N == pytest.approx(load.N, rel=1e-9, abs=1e-9 * size / 100)
            assert M_y == pytest.approx(load.M_y, rel=1e-9, abs=1e-9 * size)
            assert M_z == pytest.approx(load.M_z, rel=1e-9, abs=1e-9 * size)

    @pytest.mark.parametrize("name", EVERY)
    def test_every_corner_of_every_ply_that_carries_is_there(
        self, sections: dict[str, Drawn], name: str
    ) -> None:
        shape, plating = sections[name]
        found = ply_stresses(shape, plating, self.LOADS[:1])
        outlines = ply_polygons(shape, plating)
        assert outlines.owners == found.owners
        for ply in np.unique(found.region).tolist():
            places = np.stack([found.y, found.z], axis=1)[found.region == ply]
            for corner in np.concatenate(outlines.rings(ply)):
                assert np.abs(places - corner).max(axis=1).min() < 1e-9


def _resultants(
    shape: SectionShape, plating: Plating | None, found: PlyStresses, row: int, y: float, z: float
) -> tuple[float, float, float]:
    """Integrate the corners' stresses over the polygons, by Green's theorem on their outlines."""
    outlines = ply_polygons(shape, plating)
    total = np.zeros(3)
    for ply in np.unique(found.region).tolist():
        mine = found.region == ply
        here = np.stack([np.ones(mine.sum()), found.y[mine] - y, found.z[mine] - z], axis=1)
        stress = found.axial_stress[row, mine]
        plane, *_ = np.linalg.lstsq(here, stress, rcond=None)
        assert here @ plane == pytest.approx(stress, abs=1e-9 * np.abs(stress).max())
        total += _moments(outlines.rings(ply), y, z) @ plane
    return float(total[0]), float(total[2]), float(total[1])


def _moments(rings: list[Array], y: float, z: float) -> Array:
    """Return ∫ of (1, y, z) and of each times y and z (3, 3); a ring within another is a hole."""
    each = sorted((_ring(ring - [y, z]) for ring in rings), key=lambda one: -abs(one[0, 0]))
    signs = [np.sign(one[0, 0]) for one in each]
    if len(each) == 2 and signs[0] == signs[1] and _within(rings):
        return np.asarray(signs[0] * each[0] - signs[1] * each[1])
    total = np.sum(each, axis=0)
    return np.asarray(np.sign(total[0, 0]) * total)


def _within(rings: list[Array]) -> bool:
    small, large = sorted(rings, key=lambda ring: float(np.ptp(ring[:, 0])))
    return bool(
        (small.min(axis=0) > large.min(axis=0)).all() and (small.max(axis=0) < large.max(axis=0)).all()
    )


def _ring(ring: Array) -> Array:
    a, b = ring, np.roll(ring, -1, axis=0)
    cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    first = ((a + b) * cross[:, None]).sum(axis=0) / 6
    y2, z2 = ((a * a + a * b + b * b) * cross[:, None]).sum(axis=0) / 12
    yz = (
        (2 * a[:, 0] * a[:, 1] + a[:, 0] * b[:, 1] + b[:, 0] * a[:, 1] + 2 * b[:, 0] * b[:, 1]) * cross
    ).sum()
    return np.array([[cross.sum() / 2, *first], [first[0], y2, yz / 24], [first[1], yz / 24, z2]])


class TestUnsymmetricAngle:
    """An angle of 100 × 60 × 2 mm: bent in the upright plane it moves sideways too."""

    @pytest.fixture
    def angle(self, lay: Lay) -> SectionShape:
        return section(wall([(0, 100), (0, 0), (60, 0)], lay((2.0, E))))

    def test_stress_follows_the_two_moments_and_the_product(self, angle: SectionShape) -> None:
        M = 2e5
        found = ply_stresses(angle, None, [SectionLoads(M_y=M)])
        known = properties(angle, None, Moduli.CONTRACTED)
        I_y, I_z, I_yz = (value / E for value in (known.EI_y, known.EI_z, known.EI_yz))
        y, z = found.y - known.y_na, found.z - known.z_na
        expected = M * (I_z * z - I_yz * y) / (I_y * I_z - I_yz**2)
        assert found.axial_stress[0] == pytest.approx(expected, rel=1e-9, abs=1e-9)

    def test_shear_flow_adds_up_to_the_force_along_each_leg(self, angle: SectionShape) -> None:
        """All of V_z runs up the upright leg and none along the other, whose corner both share."""
        V = 500.0
        found = ply_stresses(angle, None, [SectionLoads(V_z=V)], turning=False)
        on_upright = np.flatnonzero(found.away & np.isclose(found.y, 2.0))
        on_level = np.flatnonzero(found.away & np.isclose(found.z, 2.0))
        upright = _integral(found.z[on_upright], found.flow[0, on_upright])
        level = _integral(found.y[on_level], found.flow[0, on_level])
        # Along the middle line the legs are 1 mm off the inner face: thin-wall statics within t/h.
        assert upright == pytest.approx(-V, rel=0.03)
        assert level == pytest.approx(0, abs=0.03 * V)


def _integral(places: Array, flow: Array) -> float:
    """Integrate a flow of parabolas by its least-squares parabola over its stations."""
    order = np.argsort(places)
    places, flow = places[order], flow[order]
    curve = np.polynomial.Polynomial.fit(places, flow, 2).integ()
    return float(curve(places[-1]) - curve(places[0]))


class TestClosedTube:
    b, h, t = 90.0, 60.0, 2.0

    @pytest.fixture
    def tube(self, lay: Lay) -> SectionShape:
        b, h, t = self.b, self.h, self.t
        line = [(-t / 2, -t / 2), (b + t / 2, -t / 2), (b + t / 2, h + t / 2), (-t / 2, h + t / 2)]
        return section(wall(line, lay((t, E)), closed=True))

    def test_torque_flows_evenly_around_by_bredt(self, tube: SectionShape) -> None:
        T = 1e5
        found = ply_stresses(tube, None, [SectionLoads(T=T)])
        assert found.flow == pytest.approx(np.full_like(found.flow, T / (2 * self.b * self.h)), rel=1e-9)
        mean = [found.stress[0, found.away == away, 2].mean() for away in (False, True)]
        assert np.mean(mean) == pytest.approx(T / (2 * self.b * self.h * self.t), rel=1e-9)

    def test_shear_splits_evenly_over_the_two_webs(self, tube: SectionShape) -> None:
        """By symmetry no flow crosses the middle of either flange, and each web has its own ES/2 over EI."""
        V = 1e3
        found = ply_stresses(tube, None, [SectionLoads(V_z=V)])
        known = properties(tube, None, Moduli.CONTRACTED)
        assert np.abs(found.flow).max() == pytest.approx(V * known.ES / known.EI_y / 2, rel=1e-3)
        middle = np.flatnonzero(np.isclose(found.y, self.b / 2) & ~found.away)
        assert len(middle) == 2
        assert found.flow[0, middle] == pytest.approx(0, abs=1e-9 * V)

    def test_bending_and_torque_meet_in_one_ply_by_tsai_wu(self, tube: SectionShape) -> None:
        M, T = 6e5, 4e5
        loads = [SectionLoads(M_y=M), SectionLoads(T=T), SectionLoads(M_y=M, T=T)]
        found = ply_stresses(tube, None, loads)
        bent, twisted, both = (one.factor for one in found.governing)
        assert both < min(bent, twisted)
        assert found.stress[2] == pytest.approx(found.stress[0] + found.stress[1], rel=1e-12, abs=1e-9)

    def test_thin_wall_flow_of_two_walls_is_that_of_one(self, tube: SectionShape, lay: Lay) -> None:
        """The same tube drawn as two channels, ends a hundredth apart: thin walls beside first moments."""
        b, h, t = self.b, self.h, self.t
        apart = b / 2 - 0.01
        halves = section(
            wall(
                [(b / 2, -t / 2), (b + t / 2, -t / 2), (b + t / 2, h + t / 2), (b / 2, h + t / 2)],
                lay((t, E)),
            ),
            wall(
                [(apart, h + t / 2), (-t / 2, h + t / 2), (-t / 2, -t / 2), (apart, -t / 2)],
                lay((t, E)),
                id_="w2",
            ),
        )
        loads = [SectionLoads(T=1e5), SectionLoads(V_z=1e3)]
        whole, split = (ply_stresses(each, None, loads) for each in (tube, halves))
        assert np.abs(split.flow).max(axis=1) == pytest.approx(np.abs(whole.flow).max(axis=1), rel=0.02)


def test_hats_web_carries_what_first_moments_say(sections: dict[str, Drawn]) -> None:
    """Both webs of a hat on plating, by horizontal cuts: V ES / EI, half in each."""
    shape, plating = sections["hat"]
    V = 1e4
    found = ply_stresses(shape, plating, [SectionLoads(V_z=V)])
    known = properties(shape, plating, Moduli.CONTRACTED)
    webs = np.isclose(found.z, known.z_na, atol=8.0) & (found.z > 10)
    assert np.abs(found.flow[0, webs]).max() == pytest.approx(V * known.ES / known.EI_y / 2, rel=0.005)


@pytest.mark.parametrize(("name", "within"), [("hat", 0.01), ("plate floor with tabs", 0.02)])
def test_thin_walls_and_finite_elements_fail_the_same_ply_at_the_same_shear(
    sections: dict[str, Drawn], name: str, within: float
) -> None:
    shape, plating = sections[name]
    loads = [SectionLoads(V_z=1e4)]
    quick = ply_stresses(shape, plating, loads, turning=False).governing[0]
    full = ply_stresses(shape, plating, loads, flow=solved_flow(shape, plating), turning=False).governing[0]
    assert quick.factor == pytest.approx(full.factor, rel=within)
    assert (quick.owner, quick.ply) == (full.owner, full.ply)


def test_strip_narrower_than_the_flanges_takes_the_flow_of_one_that_reaches_them(lay: Lay) -> None:
    thick = 2.0
    line = [(-150, thick), (-100, thick), (-80, 90), (80, 90), (100, thick), (150, thick)]
    hat = section(replace(wall(line, lay((thick, E))), side=Side.RIGHT))
    narrow, wide = (Plating(stack=lay((6.0, E)), width=width) for width in (120.0, 300.0))
    loads = [SectionLoads(V_z=5e3)]
    flows = [np.abs(ply_stresses(hat, strip, loads).flow).max() for strip in (narrow, wide)]
    assert flows[0] == pytest.approx(flows[1], rel=0.05)


class TestFailure:
    def test_at_the_factor_the_governing_ply_just_fails(self, sections: dict[str, Drawn]) -> None:
        shape, plating = sections["hat"]
        load = SectionLoads(V_z=8e3, M_y=-4e6)
        first = ply_stresses(shape, plating, [load]).governing[0]
        times = first.factor
        grown = SectionLoads(V_z=times * load.V_z, M_y=times * load.M_y)
        again = ply_stresses(shape, plating, [grown]).governing[0]
        assert again.factor == pytest.approx(1.0, rel=1e-9)
        assert (again.owner, again.ply) == (first.owner, first.ply)

    def test_turned_moment_fails_by_the_other_strength(self, lay: Lay) -> None:
        weak = replace(lay((4.0, E)).plies[0], compression_1=50.0)
        flat = section(wall([(0, 0), (0, 80)], Stack(name="weak", plies=(weak,))))
        found = ply_stresses(flat, None, [SectionLoads(N=1e3), SectionLoads(N=-1e3)])
        tension, compression = (one.factor for one in found.governing)
        assert tension == pytest.approx(100 / (1e3 / 320), rel=1e-9)
        assert compression == pytest.approx(50 / (1e3 / 320), rel=1e-9)

    def test_place_is_named(self, sections: dict[str, Drawn]) -> None:
        shape, plating = sections["hat"]
        first = ply_stresses(shape, plating, [SectionLoads(M_y=1e6)]).governing[0]
        assert (first.owner, first.face) == ("w1", Face.MOULD)
        assert first.z > 100
        assert first.name.startswith("w1 ply ")

    def test_fill_that_carries_fails_at_its_strength(self, lay: Lay) -> None:
        block = FillShape(
            id="f1", points=((20, 0), (60, 0), (60, 40), (20, 40)), name="block", density=2700, modulus=70e3,
            strength=30.0,
        )  # fmt: skip
        shape = section(wall([(0, 0), (0, 40)], lay((4.0, E))), fills=(block,))
        found = ply_stresses(shape, None, [SectionLoads(N=1e4)])
        stress = 1e4 * 70e3 / (70e3 * 1600 + E * 160)
        assert found.governing[0].factor == pytest.approx(30 / stress, rel=1e-9)
        assert (found.governing[0].owner, found.governing[0].face) == ("f1", None)

    def test_nothing_loaded_never_fails(self, lay: Lay) -> None:
        flat = section(wall([(0, 0), (0, 80)], lay((4.0, E))))
        assert ply_stresses(flat, None, [SectionLoads()]).governing[0].factor == np.inf


class TestBadInput:
    def test_missing_strength_is_not_a_number_and_says_which(self, lay: Lay) -> None:
        good = lay((2.0, E), (2.0, E))
        bad = Stack(name="untested", plies=(good.plies[0], replace(good.plies[1], tension_2=None)))
        found = ply_stresses(section(wall([(0, 0), (0, 80)], bad)), None, [SectionLoads(N=1e3)])
        assert np.isnan(found.governing[0].factor)
        assert found.missing == ("w1 ply 2: reinforced",)

    def test_missing_strength_of_a_fill_says_which(self, lay: Lay) -> None:
        block = FillShape(
            id="f1",
            points=((20, 0), (60, 0), (60, 40)),
            name="block",
            density=2700,
            modulus=70e3,
            strength=None,
        )
        shape = section(wall([(0, 0), (0, 40)], lay((4.0, E))), fills=(block,))
        found = ply_stresses(shape, None, [SectionLoads(N=1e4)])
        assert np.isnan(found.governing[0].factor)
        assert found.missing == ("f1 block",)

    @pytest.mark.parametrize("modulus", [0.0, -100.0])
    def test_stiffness_that_is_none_or_negative_is_refused(self, lay: Lay, modulus: float) -> None:
        empty = section(wall([(0, 0), (0, 80)], lay((4.0, modulus))))
        with pytest.raises(StringerlabError, match=r"stiffness|carries load"):
            ply_stresses(empty, None, [SectionLoads(N=1e3)])

    @pytest.mark.parametrize("load", [SectionLoads(N=np.nan), SectionLoads(M_y=np.inf)])
    def test_load_that_is_no_number_is_refused(self, sections: dict[str, Drawn], load: SectionLoads) -> None:
        with pytest.raises(StringerlabError, match="not a number"):
            ply_stresses(*sections["hat"], [load])

    def test_no_load_is_refused(self, sections: dict[str, Drawn]) -> None:
        with pytest.raises(StringerlabError, match="no load"):
            ply_stresses(*sections["hat"], [])

    def test_gel_coat_and_core_carry_nothing(self, sections: dict[str, Drawn]) -> None:
        found = ply_stresses(*sections["hat"], [SectionLoads(N=1e3)])
        carrying = {found.names[region] for region in np.unique(found.region)}
        assert carrying
        assert not any("gel" in name for name in carrying)
