"""How near a section's plate strips are to buckling under what acts on the section. N, mm, MPa.

Compression is positive here. A strip's load varies linearly between its long edges by plane sections;
the webs share shear by their shear stiffness, each as its mean. Edges are simply supported, or held
against turning by the parts beside (``restraint``). Bending–twisting coupling is left out; see ``leaning``.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.plate import buckling
from stringerlab.section.loads import SectionLoads
from stringerlab.section.sheets import Sheet
from stringerlab.section.stiffness import Properties
from stringerlab.section.strips import Kind, Strip
from stringerlab.units import Mm, N, NMm, NMm2, NMm2PerMm, NPerMm, Ratio
from stringerlab.workings import Known, Source, formula, traced
from stringerlab.workings.maths import absolute, cbrt, clip, maximum, minimum, pi, sqrt, where

Array = NDArray[np.float64]
LEANING = 0.2
"""Bending–twisting coupling above this part of the bending stiffness is to be said."""

BEAM = Source("Beam theory", "plane sections", Known.MEMORY_H)
_EN = Source("EN 1993-1-5:2006", "Table 4.2", Known.MEMORY_H)
_PLATE = Source("Orthotropic plates", "simply supported, one half-wave", Known.MEMORY_H)
_SOFT = Source("Sandwich theory", "shear of the core, loads in series", Known.MEMORY_M)
_FIT = Source(
    "stringerlab",
    "fit to its own Ritz solution of a compressed edge",
    Known.COMPUTED,
    "held, propped and cantilever spans; on the safe side of each",
)
_LOOSE = Source(
    "stringerlab",
    "own Ritz solution of a web with a free top",
    Known.COMPUTED,
    "shear falling off to the top as a parabola; the least of plates with K_s 0.45 to 1.9",
)
_OWN = Source("stringerlab", "own rule on a plate's loads", Known.STATED)


@formula(symbol="C_e", source=BEAM)
def edge_compression(
    Et_p: NPerMm, N_a: N, EA: N, M_y: NMm, EI_y: NMm2, z_e: Mm, M_z: NMm, EI_z: NMm2, y_e: Mm
) -> NPerMm:
    """Compression per width at a strip's edge."""
    return -Et_p * (N_a / EA + M_y * z_e / EI_y + M_z * y_e / EI_z)


@formula(symbol="N_m", source=_OWN)
def mean_compression(C_1: NPerMm, C_2: NPerMm) -> NPerMm:
    """Mean compression of a strip, none where the mean is tension."""
    return maximum((C_1 + C_2) / 2, 0.0)


@formula(symbol="N_b", source=_OWN)
def bending_part(C_1: NPerMm, C_2: NPerMm) -> NPerMm:
    """Bending of a strip in its plane, no more than its greatest compression."""
    return minimum(absolute(C_1 - C_2) / 2, maximum(C_1, C_2, 0.0))


@formula(symbol="N_m", source=_EN)
def compression_to_free_edge(C_1: NPerMm, C_2: NPerMm) -> NPerMm:
    """Even compression that is as hard on a strip whose second edge is free."""
    psi = clip(C_1 / maximum(C_2, 1e-9), -3.0, 1.0)
    return where(
        C_2 >= C_1, maximum(C_2, 0.0) * 0.43 / (0.57 - 0.21 * psi + 0.07 * psi**2), maximum(C_1, 0.0)
    )


@formula(symbol="N_m", source=_OWN)
def compression_of(free: Ratio, N_m_f: NPerMm, N_m_h: NPerMm) -> NPerMm:
    """Even compression that a strip is judged by."""
    return where(free > 0, N_m_f, N_m_h)


@formula(symbol="N_x_s", source=_PLATE)
def short_compression(
    D_11: NMm2PerMm, D_22: NMm2PerMm, D_12: NMm2PerMm, D_66: NMm2PerMm, b_p: Mm, L_p: Mm
) -> NPerMm:
    """Buckling load in compression of a plate shorter than its own half-wave."""
    L = minimum(L_p, b_p * sqrt(sqrt(D_11 / D_22)))
    return pi**2 / b_p**2 * (D_11 * (b_p / L) ** 2 + 2 * (D_12 + 2 * D_66) + D_22 * (L / b_p) ** 2)


@formula(symbol="N_x_h", source=_OWN)
def held_compression(N_x_s: NPerMm, N_x_r: NPerMm) -> NPerMm:
    """Buckling load in compression of a plate short or held against turning: each only carries more."""
    return maximum(N_x_s, N_x_r)


@formula(symbol="N_x_cr", source=_OWN)
def critical_of(free: Ratio, N_x_f: NPerMm, N_x_h: NPerMm) -> NPerMm:
    """Buckling load in compression by how the strip is held."""
    return where(free > 0, N_x_f, N_x_h)


@formula(symbol="L_p", source=_FIT)
def compressed_length(l_u: Mm, graded: Ratio, D_11: NMm2PerMm, D_66: NMm2PerMm, b_p: Mm) -> Mm:
    """Length of even compression that is as hard on a free edge as a moment falling off from an end."""
    tau = 12 * D_66 * l_u**2 / (pi**2 * D_11 * b_p**2)
    return l_u * where(graded > 0, 0.655 / cbrt(1 + 0.4 * tau), 1.0)


@formula(symbol="N_cr", source=_SOFT)
def softened(N_cr_0: NPerMm, S_c: NPerMm) -> NPerMm:
    """Buckling load with the core's shear."""
    return N_cr_0 / (1 + N_cr_0 / S_c)


@formula(symbol="N_xy_cr", source=_LOOSE)
def shear_with_free_edge(free: Ratio, N_xy_h: NPerMm) -> NPerMm:
    """Buckling load in shear by how the web is held."""
    return N_xy_h * (1 - 0.85 * free)


@formula(symbol="q_W", source=_OWN)
def web_flow(V_e: N, Gt_p: NPerMm, Gth: N) -> NPerMm:
    """Mean shear flow of a web."""
    return absolute(V_e) * Gt_p / Gth


@formula(symbol="R_c", source=_OWN)
def compression_part(N_m: NPerMm, N_x_cr: NPerMm) -> Ratio:
    """Compression over its buckling load."""
    return N_m / N_x_cr


@formula(symbol="R_b", source=_OWN)
def bending_ratio(N_b: NPerMm, N_b_cr: NPerMm, free: Ratio) -> Ratio:
    """Bending in the plane over its buckling load; of a free edge it is in the compression."""
    return N_b / N_b_cr * (1 - free)


@formula(symbol="R_s", source=_OWN)
def shear_part(q_W: NPerMm, N_xy_cr: NPerMm) -> Ratio:
    """Shear over its buckling load."""
    return q_W / N_xy_cr


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Columns:
    """n strips as arrays (n,)."""

    table: Array
    """(n, 16): D_11, D_22, D_12, D_66, width, length, free, S, Et, y z y z of edges, Gt, Σ Gt h, graded."""

    @classmethod
    def of(cls, strips: Sequence[Strip], length: float, *, graded: bool = False) -> "Columns":
        """Return strips of one section over a length [mm]; graded where the moment falls off from an end."""
        Gth = sum(strip.sheet.Gt * strip.climb for strip in strips if strip.kind is Kind.WEB)
        rows = [
            (
                *(float(strip.sheet.D[at]) for at in ((0, 0), (1, 1), (0, 1), (2, 2))),
                strip.width,
                length,
                float(strip.free),
                strip.sheet.S,
                strip.sheet.Et,
                *strip.edges[0],
                *strip.edges[1],
                strip.sheet.Gt if strip.kind is Kind.WEB else 0.0,
                Gth or 1.0,
                float(graded),
            )
            for strip in strips
        ]
        return cls(table=np.array(rows, float).reshape(len(rows), 16))

    def stiffness(self) -> dict[str, Array]:
        """Return what the closed forms of plates take."""
        return {name: self.table[:, at] for at, name in enumerate(("D_11", "D_22", "D_12", "D_66", "b_p"))}

    def column(self, at: int) -> Array:
        """Return one column (n,)."""
        return self.table[:, at]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Acting:
    """What acts on the section of each of n strips: arrays (n,), and the section's stiffness."""

    table: Array
    """(n, 9): N, V_z, M_y, M_z, EA, EI_y, EI_z, y_na, z_na."""

    @staticmethod
    def row(loads: SectionLoads, properties: Properties) -> tuple[float, ...]:
        """Return one section's row."""
        return (
            loads.N,
            loads.V_z,
            loads.M_y,
            loads.M_z,
            properties.EA,
            properties.EI_y,
            properties.EI_z,
            properties.y_na,
            properties.z_na,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Used:
    """How near n strips are to buckling: arrays (n,)."""

    part: Array
    """Of the buckling load: 1 buckles."""
    C_1: Array
    """Compression at the first edge [N/mm], tension negative."""
    C_2: Array
    compression: Array
    """Buckling load in even compression [N/mm]."""
    shear: Array | None
    """Buckling load in shear [N/mm]; None where no shear is judged."""


def used(strips: Columns, acting: Acting, *, webs: bool, k_theta: Array | None = None) -> Used:
    """Return what part of their buckling load strips carry.

    Parameters
    ----------
    strips
        n of them.
    acting
        n rows.
    webs
        Whether shear acts on them too.
    k_theta
        Springs of held edges against turning (n,) [N]; None for hinges.
    """
    D = strips.stiffness()
    free, S = strips.column(6), strips.column(7)
    C_1, C_2 = edges(strips, acting)
    some = bool(free.any())
    N_m = mean_compression(C_1, C_2)
    if some:
        N_m = compression_of(free, compression_to_free_edge(C_1, C_2), N_m)
    xi = None if k_theta is None else buckling.restraint(D["D_22"], D["b_p"], k_theta)
    critical = softened(_compression(strips, free if some else None, xi), S)
    R_c = compression_part(N_m, critical)
    bend = buckling.bending(**D)
    N_b_cr = softened(bend if xi is None else buckling.bending_restrained(bend, **D, xi_r=xi), S)
    R_b = bending_ratio(bending_part(C_1, C_2), N_b_cr, free)
    if not webs:
        return Used(
            part=buckling.interaction(R_c, R_b, 0.0), C_1=C_1, C_2=C_2, compression=critical, shear=None
        )
    shear = softened(_shear(D, free if some else None, xi), S)
    q = web_flow(acting.table[:, 1], strips.column(13), strips.column(14))
    part = buckling.interaction(R_c, R_b, shear_part(q, shear))
    return Used(part=part, C_1=C_1, C_2=C_2, compression=critical, shear=shear)


def edges(strips: Columns, acting: Acting) -> tuple[Array, Array]:
    """Return the compression at both edges of n strips, (n,) [N/mm]."""
    return _edge(strips, acting, 9), _edge(strips, acting, 11)


def _edge(strips: Columns, acting: Acting, at: int) -> Array:
    a = acting.table
    y, z = strips.table[:, at] - a[:, 7], strips.table[:, at + 1] - a[:, 8]
    return edge_compression(
        Et_p=strips.column(8),
        N_a=a[:, 0],
        EA=a[:, 4],
        M_y=a[:, 2],
        EI_y=a[:, 5],
        z_e=z,
        M_z=a[:, 3],
        EI_z=a[:, 6],
        y_e=y,
    )


def _compression(strips: Columns, free: Array | None, xi: Array | None) -> Array:
    D, l_u = strips.stiffness(), strips.column(5)
    along = {name: D[name] for name in ("D_11", "D_66", "b_p")}
    L = None if free is None else compressed_length(l_u=l_u, graded=strips.column(15), **along)
    loose = None if L is None else buckling.compression_one_free(**along, L_p=L)
    if loose is not None and free is not None and free.all():
        return loose
    held = short_compression(**D, L_p=l_u)
    if xi is not None:
        held = held_compression(N_x_s=held, N_x_r=buckling.compression_restrained(**D, xi_r=xi))
    return held if free is None or loose is None else critical_of(free, loose, held)


def _shear(D: dict[str, Array], free: Array | None, xi: Array | None) -> Array:
    K = buckling.shear_ratio(D["D_11"], D["D_22"], D["D_12"], D["D_66"])
    below, above = traced(np.minimum(K, 1.0), K), traced(np.maximum(K, 1.0), K)  # each in its own range
    stiff = buckling.shear_stiff(D["D_11"], D["D_22"], below, D["b_p"])
    twisty = buckling.shear_twisty(D["D_22"], D["D_12"], D["D_66"], above, D["b_p"])
    held = buckling.shear_of(K, stiff, twisty)
    if xi is not None:
        held = buckling.shear_restrained(held, D["D_11"], D["D_22"], K, D["b_p"], xi)
    return held if free is None else shear_with_free_edge(free, held)


def leaning(sheet: Sheet) -> float:
    """Return bending–twisting coupling over bending stiffness, the greater of both ways."""
    D = sheet.D
    along = abs(D[0, 2]) / (D[0, 0] ** 3 * D[1, 1]) ** 0.25
    return float(max(along, abs(D[1, 2]) / (D[0, 0] * D[1, 1] ** 3) ** 0.25))
