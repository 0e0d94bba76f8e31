"""How near strips are to buckling: isotropic limits and a hat by hand, and by Ritz."""

from collections.abc import Callable
from math import inf, pi, sqrt

import numpy as np
import pytest

from stringerlab.laminate import Moduli, Stack
from stringerlab.plate import strip as ritz
from stringerlab.section import Plating, SectionShape, Side, WallShape, local, properties, restraint
from stringerlab.section.loads import SectionLoads
from stringerlab.section.sheets import Sheet, sheet
from stringerlab.section.strips import Kind, Strip, strips
from stringerlab.workings import Known

Lay = Callable[..., Stack]
E, NU, T = 10_000.0, 0.3, 4.0
D = E * T**3 / 12 / (1 - NU**2)
B = 100.0
LONG = 1e7
SIGMA_E = pi**2 * E / (12 * (1 - NU**2)) * (T / B) ** 2
"""Euler's stress of a plate: buckling stresses are k times it."""


def strip(lay: Lay, kind: Kind = Kind.CROWN, *, free: bool = False, stack: Stack | None = None) -> Strip:
    """Edges at heights 0 and 100."""
    return Strip(
        kind=kind,
        place="strip",
        width=B,
        edges=((0.0, 0.0), (0.0, B)),
        free=free,
        sheet=sheet(stack or lay((T, E))),
        climb=B,
    )


def acting(C_1: float = 0.0, C_2: float = 0.0, q: float = 0.0) -> local.Acting:
    """Compression at both edges [N/mm] and shear flow, of a section with EA and EI of 1."""
    Et = E * T
    strain, bend = -(C_1 + C_2) / 2 / Et, -(C_2 - C_1) / Et / B
    return local.Acting(table=np.array([[strain, q * B, bend, 0.0, 1.0, 1.0, 1.0, 0.0, B / 2]]))


def part(
    one: Strip, at: local.Acting, *, length: float = LONG, webs: bool = False, graded: bool = False
) -> float:
    columns = local.Columns.of([one], length, graded=graded)
    return float(local.used(columns, at, webs=webs).part[0])


class TestIsotropicLimits:
    def test_simply_supported_in_compression_4_00(self, lay: Lay) -> None:
        critical = 4.0 * SIGMA_E * T
        assert part(strip(lay), acting(critical, critical)) == pytest.approx(1, rel=1e-6)

    def test_one_edge_free_0_425(self, lay: Lay) -> None:
        critical = 0.425 * SIGMA_E * T
        assert part(strip(lay, free=True), acting(critical, critical)) == pytest.approx(1, rel=2e-3)

    def test_web_in_shear_5_34(self, lay: Lay) -> None:
        critical = 5.34 * SIGMA_E * T
        assert part(strip(lay, Kind.WEB), acting(q=critical), webs=True) == pytest.approx(1, rel=1e-3)

    def test_web_in_bending_23_9(self, lay: Lay) -> None:
        critical = 23.9 * SIGMA_E * T
        assert part(strip(lay, Kind.WEB), acting(-critical, critical), webs=True) == pytest.approx(
            1, rel=5e-3
        )

    def test_compressed_at_one_edge_only_7_81(self, lay: Lay) -> None:
        critical = 7.81 * SIGMA_E * T
        assert part(strip(lay), acting(0.0, critical)) == pytest.approx(1, rel=5e-3)

    def test_free_edge_compressed_alone_0_57(self, lay: Lay) -> None:
        critical = 0.57 * SIGMA_E * T
        assert part(strip(lay, free=True), acting(0.0, critical)) == pytest.approx(1, rel=1.2e-2)

    def test_short_plate_of_one_half_wave(self, lay: Lay) -> None:
        """a/b 0.5: k = (0.5 + 1/0.5)² = 6.25."""
        critical = 6.25 * SIGMA_E * T
        assert part(strip(lay), acting(critical, critical), length=B / 2) == pytest.approx(1, rel=1e-6)


class TestAgainstRitz:
    """The closed forms and their interaction, which are judged by, on the strip's own solution."""

    stacks = (
        ((4.0, E),),
        ((1.0, 6000.0), (3.0, 25_000.0)),
        ((0.8, 25_000.0), (2.4, 6000.0), (0.8, 25_000.0)),
    )

    @pytest.mark.parametrize("plies", stacks)
    @pytest.mark.parametrize(
        "loads", [(1.0, 1.0, 0.0), (0.0, 1.0, 0.5), (-0.5, 1.0, 0.3), (-1.0, 1.0, 1.0), (0.4, 1.0, 2.0)]
    )
    def test_mixed_loads_are_judged_on_the_safe_side_by_a_sixth_at_most(
        self, lay: Lay, plies: tuple[tuple[float, float], ...], loads: tuple[float, float, float]
    ) -> None:
        one = strip(lay, Kind.WEB, stack=lay(*plies))
        C_1, C_2, q = (20 * load for load in loads)
        scale = one.sheet.Et / (E * T)
        at = acting(C_1 / scale, C_2 / scale, q)
        found = part(one, at, webs=True)
        exact = 1 / ritz.buckling_factor(
            _plate(one), ritz.EdgeLoads(compression=(C_1 + C_2) / 2, bending=(C_2 - C_1) / 2, shear=q)
        )
        assert exact * 0.985 <= found <= exact * 1.17

    @pytest.mark.parametrize("psi", [1.0, 0.5, 0.0, -0.5, -1.0])
    def test_free_edge_under_a_gradient(self, lay: Lay, psi: float) -> None:
        one = strip(lay, free=True)
        found = part(one, acting(5 * psi, 5.0))
        exact = 1 / ritz.buckling_factor(
            _plate(one), ritz.EdgeLoads(compression=5 * (1 + psi) / 2, bending=5 * (1 - psi) / 2)
        )
        assert found == pytest.approx(exact, rel=0.02)

    def test_plate_loaded_beside_one_edge_is_no_weaker_than_one_twice_as_wide_as_the_load(self) -> None:
        for loaded in (0.1, 0.2, 0.3, 0.4):
            assert _loaded_beside_edge(loaded) >= 4 / (2 * loaded) ** 2

    def test_shear_of_a_web_with_a_free_top_is_on_the_safe_side(self) -> None:
        """Shear of a mean of 1 that falls off as a parabola, K_s 0.45, 1 and 1.9."""
        for plate in ((1.0, 0.15, 1.0, 0.15), (1.0, 0.3, 1.0, 0.35), (1.0, 0.6, 1.0, 0.65)):
            held = ritz.buckling_factor(
                ritz.Strip(D_11=plate[0], D_12=plate[1], D_22=plate[2], D_66=plate[3], b=1.0),
                ritz.EdgeLoads(shear=1.0),
            )
            share = _parabola_on_free_top(plate) / held
            judged = float(local.shear_with_free_edge(free=1.0, N_xy_h=1.0))
            assert judged <= share <= 1.4 * judged


def test_moment_falling_off_from_an_end_is_easier_on_a_free_edge(lay: Lay) -> None:
    """The equivalent length against the edge as a bar of its own: held, propped and cantilever moments."""
    one = strip(lay, free=True).sheet
    for l_u in (200.0, 500.0, 2000.0):
        even = float(local.compressed_length(l_u=l_u, graded=1.0, D_11=one.D[0, 0], D_66=one.D[2, 2], b_p=B))
        tau = 12 * one.D[2, 2] / B**2 / (pi**2 * one.D[0, 0] / l_u**2)
        for moment in (
            lambda x: 1 - 6 * x + 6 * x**2,
            lambda x: 1 - 5 * x + 4 * x**2,
            lambda x: (1 - x) ** 2,
        ):
            exact = l_u / sqrt(_bar(moment, tau) - tau)
            assert exact <= even * 1.001
        assert even < l_u


def _bar(moment: Callable[[np.ndarray], np.ndarray], tau: float) -> float:
    """Least N l²/(π² D) of a hinged bar under N × moment, held by τ of its own Euler load against turning."""
    x, w = np.polynomial.legendre.leggauss(80)
    x, w = (x + 1) / 2, w / 2
    n = np.arange(1, 25)[:, None] * pi
    slope, bend = n * np.cos(n * x), n**2 * np.sin(n * x)
    stiff = (bend * w) @ bend.T + tau * pi**2 * (slope * w) @ slope.T
    push = (slope * w * moment(x)) @ slope.T
    return float(1 / np.linalg.eigvals(np.linalg.solve(stiff, push)).real.max() / pi**2)


def _loaded_beside_edge(loaded: float) -> float:
    """Coefficient k of an isotropic plate compressed within a part of its width from each long edge."""
    y, w = _gauss(200)
    n = np.arange(1, 15)[:, None] * pi
    f = np.sin(n * y)
    on = ((y < loaded) | (y > 1 - loaded)).astype(float)
    mass, push = (f * w) @ f.T, (f * w * on) @ f.T
    least = inf
    for p in np.linspace(1, 40, 80):
        stiff = (p**2 + n**2) * mass * (p**2 + n.T**2)
        least = min(least, 1 / np.linalg.eigvals(np.linalg.solve(stiff, p**2 * push)).real.max())
    return least / pi**2


def _parabola_on_free_top(plate: tuple[float, float, float, float]) -> float:
    """Mean shear at which a plate buckles whose first edge is hinged, the second free and without shear."""
    D_11, D_12, D_22, D_66 = plate
    y, w = _gauss(40)
    q = 1.5 * (1 - y**2)
    powers = np.arange(1, 9)[:, None]
    f, g = y**powers, powers * y ** (powers - 1)
    h = powers * (powers - 1) * y ** np.maximum(powers - 2, 0)
    least = inf
    for p in np.linspace(0.1, 2, 20):
        cross = (f * w) @ h.T
        stiff = D_11 * p**4 * (f * w) @ f.T - D_12 * p**2 * (cross + cross.T) + D_22 * (h * w) @ h.T
        stiff += 4 * D_66 * p**2 * (g * w) @ g.T
        skew = p * (f * w * q) @ g.T
        none = np.zeros_like(stiff)
        push = np.block([[none, -skew - -skew.T], [skew - skew.T, none]])
        whole = np.block([[stiff, none], [none, stiff]])
        least = min(least, 1 / np.linalg.eigvals(np.linalg.solve(whole, push)).real.max())
    return least


def _gauss(count: int) -> tuple[np.ndarray, np.ndarray]:
    y, w = np.polynomial.legendre.leggauss(count)
    return (y + 1) / 2, w / 2


def _plate(one: Strip) -> ritz.Strip:
    d = one.sheet.D
    return ritz.Strip(D_11=d[0, 0], D_22=d[1, 1], D_12=d[0, 1], D_66=d[2, 2], b=one.width, free=one.free)


class TestHatByHand:
    """Isotropic, 5 mm, crown 110 clear, webs 95, on an 8 mm hull 400 wide."""

    def loaded(self, lay: Lay) -> tuple[tuple[Strip, ...], local.Acting, float, float]:
        t = 5.0
        points = ((-120.0, t), (-60.0, t), (-60.0, 100.0), (60.0, 100.0), (60.0, t), (120.0, t))
        stack = lay((t, E))
        hat = WallShape(id="w1", points=points, fillets=(), side=Side.RIGHT, closed=False, stack=stack)
        shape, hull = SectionShape(name="hat", walls=(hat,)), Plating(stack=lay((8.0, E)), width=400.0)
        whole = properties(shape, hull, Moduli.CONTRACTED)
        loads = SectionLoads(V_z=8000.0, M_y=-2e6)
        found = strips(shape, 0.0, hull)
        row = local.Acting(table=np.array([local.Acting.row(loads, whole)] * len(found)))
        return found, row, whole.z_na, whole.EI_y

    def test_crown_and_webs(self, lay: Lay) -> None:
        found, row, z_na, EI = self.loaded(lay)
        used = local.used(local.Columns.of(found, 2000.0), row, webs=True)
        crown = found.index(next(one for one in found if one.kind is Kind.CROWN))
        web = found.index(next(one for one in found if one.kind is Kind.WEB))
        stress = 2e6 * (97.5 - z_na) * E / EI
        euler = pi**2 * E / (12 * (1 - NU**2))
        assert used.C_1[crown] == pytest.approx(5 * stress, rel=1e-9)
        assert used.part[crown] == pytest.approx(stress / (4 * euler * (5 / 110) ** 2), rel=1e-6)
        tau = 8000 / (2 * 5 * 95)
        top, foot = (2e6 * (z - z_na) * E / EI for z in (97.5, 2.5))
        R_c = max((top + foot) / 2, 0.0) / (4 * euler * (5 / 95) ** 2)
        R_b = min((top - foot) / 2, top) / (23.8 * euler * (5 / 95) ** 2)
        R_s = tau / (5.34 * euler * (5 / 95) ** 2)
        by_hand = (R_c + sqrt(R_c**2 + 4 * (R_b**2 + R_s**2))) / 2
        assert used.part[web] == pytest.approx(by_hand, rel=5e-3)

    def test_webs_carry_half_the_shear_each(self, lay: Lay) -> None:
        found, row, _, _ = self.loaded(lay)
        flows = [
            float(
                local.web_flow(
                    V_e=row.table[0, 1], Gt_p=one.sheet.Gt, Gth=sum(o.sheet.Gt * o.climb for o in found)
                )
            )
            for one in found
            if one.kind is Kind.WEB
        ]
        assert flows == pytest.approx([8000 / 2 / 95] * 2, rel=1e-9)

    def test_plating_is_in_tension_where_the_crown_is_compressed(self, lay: Lay) -> None:
        found, row, _, _ = self.loaded(lay)
        used = local.used(local.Columns.of(found, 2000.0), row, webs=False)
        plates = [at for at, one in enumerate(found) if one.kind is Kind.PLATING]
        assert all(used.part[at] == 0 for at in plates)
        assert all(used.C_1[at] < 0 for at in plates)

    def test_crown_held_by_its_webs_buckles_later_but_not_later_than_clamped(self, lay: Lay) -> None:
        found, row, _, _ = self.loaded(lay)
        columns = local.Columns.of(found, 2000.0)
        springs = restraint.springs(found, local.used(columns, row, webs=True).part)
        hinged, held = (
            local.used(columns, row, webs=False, k_theta=k).compression
            for k in (np.zeros(len(found)), springs)
        )
        clamped = local.used(columns, row, webs=False, k_theta=np.full(len(found), 1e12)).compression
        crown = next(at for at, one in enumerate(found) if one.kind is Kind.CROWN)
        assert springs[crown] > 0
        assert hinged[crown] < held[crown] < clamped[crown]
        exact = ritz.buckling_factor(
            ritz.Strip(
                D_11=float(columns.column(0)[crown]),
                D_22=float(columns.column(1)[crown]),
                D_12=float(columns.column(2)[crown]),
                D_66=float(columns.column(3)[crown]),
                b=found[crown].width,
                spring_1=float(springs[crown]),
                spring_2=float(springs[crown]),
            ),
            ritz.EdgeLoads(compression=1.0),
        )
        assert held[crown] == pytest.approx(exact, rel=0.02)


class TestMonotony:
    def test_wider_thinner_and_more_loaded_is_nearer_to_buckling(self, lay: Lay) -> None:
        base = part(strip(lay), acting(10.0, 10.0))
        assert part(strip(lay), acting(11.0, 10.0)) > base
        thin = strip(lay, stack=lay((T * 0.9, E)))
        assert part(thin, acting(10.0, 10.0)) > base

    def test_tension_and_nothing_do_not_buckle(self, lay: Lay) -> None:
        assert part(strip(lay), acting(-10.0, -5.0)) == 0
        assert part(strip(lay), acting()) == 0
        assert part(strip(lay, free=True), acting(-10.0, -5.0)) == 0

    def test_bending_turns_continuously_into_tension(self, lay: Lay) -> None:
        shares = [part(strip(lay), acting(C_1, 1.0)) for C_1 in (-0.99, -1.0, -1.01, -50.0)]
        assert np.all(np.diff(shares) <= 1e-12)
        assert part(strip(lay), acting(-50.0, 1e-9)) == pytest.approx(0, abs=1e-9)

    def test_a_soft_core_takes_the_load_down_to_its_shear_stiffness(self, lay: Lay) -> None:
        stack = lay((1.0, E), (1.0, E), core=30.0)
        one = strip(lay, stack=stack)
        used = local.used(local.Columns.of([one], LONG), acting(1.0, 1.0), webs=False)
        assert float(used.compression[0]) < one.sheet.S
        alone = 2 * pi**2 / B**2 * (one.sheet.D[0, 0] + one.sheet.D[0, 1] + 2 * one.sheet.D[2, 2])
        assert float(used.compression[0]) == pytest.approx(1 / (1 / alone + 1 / one.sheet.S), rel=1e-9)


def test_leaning_of_an_off_axis_ply_is_seen() -> None:
    D = np.array([[10.0, 3.0, 4.0], [3.0, 8.0, 1.0], [4.0, 1.0, 4.0]])
    plate = Sheet(D=D, Et=1.0, Gt=1.0, t=1.0, S=inf, skin=None, known=Known.STATED)
    assert local.leaning(plate) == pytest.approx(4 / (1000 * 8) ** 0.25, rel=1e-12)
