"""A million hats, stiffness and full span check, against a loop over the polygon engine in the same run."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, fields, replace
from time import perf_counter
from typing import Any

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.laminate.records import Moduli, PlyNumbers, Role, Stack
from stringerlab.methods.iso_12215_5_2008 import METHOD
from stringerlab.methods.records import Aspect, CraftRow, PlatingRows, SpanRows
from stringerlab.section import facts, properties
from stringerlab.section.batch import Hats, base_width, hats
from stringerlab.section.records import Plating, SectionShape, WallShape
from stringerlab.section.shapes import hat
from stringerlab.workings import Known

MANY = 1_000_000
FEW = 300
CHUNK = 32_768
TENSION, COMPRESSION, SHEAR = 90.0, 120.0, 60.0

CRAFT = CraftRow(
    category="C", LWL=5_400.0, BC=1_900.0, beta_04=np.radians(18), m_LDC=1_900.0, V=14.4, waterline_aft=0.0
)


@dataclass(frozen=True, eq=False)
class Search:
    """Hats with the spans they are to carry."""

    hats: Hats
    lu: np.ndarray
    s: np.ndarray
    x: np.ndarray

    def part(self, start: int, end: int) -> "Search":
        rows = slice(start, end)
        return Search(
            Hats(**{field.name: getattr(self.hats, field.name)[rows] for field in fields(Hats)}),
            self.lu[rows],
            self.s[rows],
            self.x[rows],
        )


def search(n: int) -> Search:
    """Return n hats of six plies with four fillets on four plies of plating."""
    rng = np.random.default_rng(7)

    def between(low: float, high: float, *shape: int) -> np.ndarray:
        return rng.uniform(low, high, shape or (n,))

    return Search(
        hats=Hats(
            height=between(60, 200),
            crown_width=between(60, 160),
            draft=np.radians(between(0, 15)),
            flange_width=between(40, 90),
            crown_radius=between(10, 16),
            root_radius=between(3, 15),
            bead=between(0, 10),
            gel=np.zeros(n),
            t=between(0.5, 1.5, n, 6),
            E=between(6_000, 14_000, n, 6),
            plating_width=np.full(n, np.nan),
            plating_t=between(0.6, 1.6, n, 4),
            plating_E=between(6_000, 14_000, n, 4),
        ),
        lu=between(600, 2_000),
        s=between(300, 600),
        x=between(0, 5_400),
    )


def counted(given: Search) -> Hats:
    """The hats with the plating that the method counts under each."""
    rows = given.hats
    width = METHOD.plating(
        PlatingRows(
            s=given.s,
            lu=given.lu,
            base_width=base_width(rows.height, rows.crown_width, rows.draft),
            t=rows.plating_t.sum(axis=1),
            sandwich=np.zeros(len(given.s), np.bool_),
        )
    )
    return replace(rows, plating_width=width)


def checked(given: Search) -> dict[Aspect, np.ndarray]:
    """Utilisation of every aspect of every span, through the method's own formulas."""
    n = len(given.lu)
    rows = counted(given)
    section = hats(rows, workers=1)
    fibres = rows.t.shape[1] + rows.plating_t.shape[1]
    one, zero = np.ones(n), np.zeros(n)
    marks = np.full(n, Known.MEMORY_H.rank, np.int8)
    judged = METHOD.judge_spans(
        CRAFT,
        SpanRows(
            lu=given.lu,
            s=given.s,
            x=given.x,
            deadrise=zero,
            camber=zero,
            moment_factor=one,
            shear_factor=one,
            deflection_factor=one,
            end_factor=one,
            middle_factor=one / 2,
            attached=np.ones(n, np.bool_),
            EI=section.EI_y,
            fibre_E=np.hstack([rows.E, rows.plating_E]),
            fibre_z=section.fibre_z,
            fibre_tension=np.full((1, fibres), TENSION),
            fibre_compression=np.full((1, fibres), COMPRESSION),
            fibre_marks=marks,
            fibre_names=(),
            web_area=section.web_area,
            web_tau=np.full(n, SHEAR),
            web_marks=marks,
            web_depth=section.web_depth,
            web_thickness=section.web_thickness,
            crown_width=section.crown_width,
            crown_thickness=section.crown_thickness,
            free_edge=np.zeros(n, np.bool_),
        ),
    )
    return {one.aspect: one.utilisation for one in judged}


def in_threads(work: Callable[[Search], Any], given: Search) -> list[Any]:
    n = len(given.lu)
    parts = [given.part(start, min(start + CHUNK, n)) for start in range(0, n, CHUNK)]
    with ThreadPoolExecutor(2) as pool:
        return list(pool.map(work, parts))


def stack(t: np.ndarray, E: np.ndarray) -> Stack:
    return Stack(
        name="laminate",
        plies=tuple(
            PlyNumbers(
                name="mat",
                role=Role.REINFORCED,
                kind=None,
                angle=0.0,
                thickness=float(thickness),
                mass=1_500.0,
                dry_weight=450.0,
                glass=0.3,
                E1=float(modulus),
                E2=float(modulus),
                G12=float(modulus) / 2.6,
                nu12=0.3,
                tension_1=TENSION,
                compression_1=COMPRESSION,
                tension_2=TENSION,
                compression_2=COMPRESSION,
                shear=SHEAR,
                flexural=150.0,
                interlaminar=17.0,
                marks=(),
            )
            for thickness, modulus in zip(t, E, strict=True)
        ),
    )


def drawn(rows: Hats, i: int) -> tuple[SectionShape, Plating]:
    laminate = stack(rows.t[i], rows.E[i])
    (wall,) = hat(
        height=float(rows.height[i]),
        crown_width=float(rows.crown_width[i]),
        draft=float(np.degrees(rows.draft[i])),
        flange_width=float(rows.flange_width[i]),
        crown_radius=float(rows.crown_radius[i]),
        root_radius=float(rows.root_radius[i]),
        bead=float(rows.bead[i]),
        laminate="l1",
        thickness=float(rows.t[i].sum()),
    )
    shape = WallShape(
        id=wall.id, points=wall.points, fillets=wall.fillets, side=wall.side, closed=False, stack=laminate
    )
    return SectionShape(name="hat", walls=(shape,), bead=float(rows.bead[i])), Plating(
        stack=stack(rows.plating_t[i], rows.plating_E[i]), width=float(rows.plating_width[i])
    )


def engine_time(given: Search) -> float:
    """Seconds a hat by the polygon engine, one after another, from drawn section to stiffness and sizes."""
    rows = counted(given)
    sections = [drawn(rows, i) for i in range(FEW)]
    batch = hats(rows, workers=1)
    start = perf_counter()
    found = [(properties(*section, Moduli.PLAIN), facts(section[0])) for section in sections]
    taken = perf_counter() - start
    for i, (engine, known) in enumerate(found):
        assert abs(batch.EI_y[i] / engine.EI_y - 1) < 1e-10
        assert abs(batch.web_area[i] / known.web_area - 1) < 1e-10
    return taken / FEW


def test_million_hats_stiffness_alone(benchmark: BenchmarkFixture) -> None:
    n = MANY if benchmark.enabled else 20_000
    given = search(n)
    rows = counted(given)
    found = benchmark.pedantic(hats, args=(rows,), rounds=3, iterations=1)
    assert found.sound.all()
    start = perf_counter()
    hats(rows)
    batch = (perf_counter() - start) / n
    loop = engine_time(given.part(0, FEW))
    benchmark.extra_info["hats"] = n
    benchmark.extra_info["polygon engine, ms a hat"] = round(1e3 * loop, 3)
    benchmark.extra_info["batch, µs a hat"] = round(1e6 * batch, 3)
    benchmark.extra_info["polygon engine over batch"] = round(loop / batch)


def test_million_hats_stiffness_and_full_span_check(benchmark: BenchmarkFixture) -> None:
    n = MANY if benchmark.enabled else 20_000
    given = search(n)
    found = benchmark.pedantic(in_threads, args=(checked, given), rounds=3, iterations=1)
    benchmark.extra_info["hats"] = n
    judged = (
        Aspect.MODULUS,
        Aspect.WEB_AREA,
        Aspect.STIFFNESS,
        Aspect.WEB_SLENDERNESS,
        Aspect.CROWN_SLENDERNESS,
    )
    for aspect in judged:
        utilisation = np.concatenate([part[aspect] for part in found])
        assert len(utilisation) == n
        assert np.isfinite(utilisation).all(), aspect
        benchmark.extra_info[f"short of {aspect}"] = round(float((utilisation > 1).mean()), 3)
