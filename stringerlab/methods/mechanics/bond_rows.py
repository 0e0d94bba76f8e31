"""Spans with what bonds them, as arrays: (n,) a span, (n, k) a flange, and what is to be said of each."""

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import StringerlabError
from stringerlab.layout import Bonding
from stringerlab.materials.records import Adhesive
from stringerlab.methods.mechanics.records import LoadedSpan
from stringerlab.methods.records import Mask, Remark
from stringerlab.section import Plating, SectionShape
from stringerlab.section import bond_forms as forms
from stringerlab.section.bond_line import BondLine, Flange, bond_line
from stringerlab.section.torsion import thin_walls
from stringerlab.workings import Array, Known, weakest

THROUGH_MODULUS = 3500.0
"""Of laminates across their plies [MPa]: about the resin's, our own assumption."""
LEAST_BEAD = 0.5
"""Thickness that a bead keeps wherever part and hull come closest [mm]: our own assumption."""
RIGID = 1e15
"""A torsional stiffness far above any member's [N·mm²]."""
_NO_FLANGE = "nothing of the section lies on the hull: there is no bond"
_NO_BONDING = "the project's allowances of the bond are out of their ranges"


class Row(NamedTuple):
    """A span with what bonds it."""

    span: LoadedSpan
    bond: BondLine
    bonding: Bonding | None
    adhesive: Adhesive | None
    GJ: float
    """By thin walls, of the section on its plating; of a single foot, of what stands on the bond alone.

    ``RIGID`` where they give none [N·mm²].
    """
    why_not: str
    """Why nothing can be judged, empty where it can."""

    @property
    def bead(self) -> float:
        """Its thickness as drawn; 0 where the part is laminated in place [mm]."""
        return self.span.case.section.bead


def row_of_span(span: LoadedSpan) -> Row:
    """Return a span with what bonds it.

    Raises
    ------
    StringerlabError
        When a laminate has no stiffness across the member.
    """
    case = span.case
    bond = bond_line(case.section, span.facts, span.properties, span.plating)
    adhesive, bonding = case.adhesive, case.bonding
    why = ""
    if not bond.flanges:
        why = _NO_FLANGE
    elif bonding is None:
        why = _NO_BONDING
    elif case.section.bead > 0 and adhesive is None:
        why = "the adhesive that the section names is not there"
    elif adhesive is not None and adhesive.gap is not None:
        widest = case.section.bead + bonding.gap_tolerance.value
        if widest > adhesive.gap.value:
            why = (
                f"the gap may be {widest:g} mm; {adhesive.name} is known to hold to {adhesive.gap.value:g} mm"
            )
    on = None if bond.one_foot else span.plating
    return Row(span, bond, bonding, adhesive, _torsion(case.section, on), why)


@lru_cache(128)
def _torsion(shape: SectionShape, plating: Plating | None) -> float:
    """Return GJ; that of a rigid member, which takes the whole moment, where thin walls give none."""
    try:
        return thin_walls(shape, plating).GJ
    except StringerlabError:
        return RIGID


class Rows:
    """Numbers of all spans: (n,) a span, (n, k) a flange, padded with nan."""

    def __init__(self, rows: Sequence[Row]) -> None:
        self.rows = rows
        self.beaded: Mask = np.array([row.bead > 0 for row in rows])
        self.open: Mask = np.array([bool(row.why_not) for row in rows])
        self.lacking = tuple(
            Remark(row.why_not, np.arange(len(rows)) == i) for i, row in enumerate(rows) if row.why_not
        )
        self.P = self.of(lambda row: row.span.P)
        self.s = self.of(lambda row: row.span.case.span.s)
        self.l_u = self.of(lambda row: row.span.case.span.lu)
        self.b_base = self.of(lambda row: row.span.facts.base_width)
        self.V_e = self.of(lambda row: row.span.end.V_z)
        self.ES_b = self.of(lambda row: row.bond.ES)
        self.EA_1 = self.of(lambda row: row.bond.EA)
        self.EI = self.of(lambda row: row.span.properties.EI_y)
        self.a_b = self.of(lambda row: row.bond.apart)
        self.n_b = self.of(lambda row: row.bond.lines or np.nan)
        self.t_2 = self.of(lambda row: row.bond.hull.thickness)
        self.D_2 = self.of(lambda row: row.bond.hull.D)
        self.S_2 = self.of(lambda row: row.bond.hull.S)
        self.R_i = self.of(lambda row: row.bond.bend[0])
        self.R_o = self.of(lambda row: row.bond.bend[1])
        self.GJ = self.of(lambda row: row.GJ)
        self.t_a = self.of(lambda row: row.bead)
        self.c_a = self.of(_throat_gap)
        self.E_a = self.of(lambda row: row.adhesive.modulus.value if row.adhesive else THROUGH_MODULUS)
        self.tau_a = self.of(lambda row: row.adhesive.shear_strength.value if row.adhesive else np.nan)
        self.f_J = self.allowed("static")
        self.f_f = self.allowed("fatigue")
        self.f_env = self.allowed("environment")
        self.f_v = self.allowed("voids")
        self.f_R = self.allowed("rebound")
        self.sigma_3 = self.allowed("through_thickness")
        most = max(1, *(len(row.bond.flanges) for row in rows))
        self.absent: Mask = np.array([[i >= len(row.bond.flanges) for i in range(most)] for row in rows])
        self.w_b = self.flanges(most, lambda one, _: one.width)
        self.e_r = self.flanges(most, lambda one, _: one.from_root) * self.beaded[:, None]
        self.f_q = self.flanges(most, lambda one, _: abs(one.share))
        self.t_1 = self.flanges(most, lambda one, _: one.laminate.thickness)
        self.D_1 = self.flanges(most, lambda one, _: one.laminate.D)
        self.S_1 = self.flanges(most, lambda one, _: one.laminate.S)
        self.tau_il = self.flanges(most, lambda one, of: float(_lesser(one, of)))
        self.f_in = self.flanges(most, lambda one, _: one.inner)
        self.f_out = self.flanges(most, lambda one, _: one.outer)
        self.f_u = self.flanges(most, _part)
        self.one_foot: Mask = np.array([row.bond.one_foot for row in rows])
        self.w_d = self.flanges(most, lambda one, _: one.laminate.dry_weight)
        self.names = tuple(
            tuple(f"flange {i + 1} of {len(row.bond.flanges)} from the left" for i in range(most))
            for row in rows
        )

    def of(self, value: Callable[[Row], float]) -> Array:
        """Return a number of every span (n,)."""
        return np.array([value(row) for row in self.rows], float)

    def allowed(self, name: str) -> Array:
        """Return one of the allowances of the bond (n,), by its field."""
        return self.of(lambda row: np.nan if row.bonding is None else getattr(row.bonding, name).value)

    def flanges(self, most: int, value: Callable[[Flange, BondLine], float]) -> Array:
        """Return a number of every flange (n, k)."""
        found = np.full((len(self.rows), most), np.nan)
        for i, row in enumerate(self.rows):
            for j, flange in enumerate(row.bond.flanges):
                found[i, j] = value(flange, row.bond)
        return found

    def marks(self, *fields: str, interlaminar: bool = False) -> NDArray[np.int8]:
        """Return the weakest mark of a bond's named inputs, its adhesive and, where asked, its laminates."""
        return np.array(
            [self._mark(row, fields, interlaminar=interlaminar).rank for row in self.rows], np.int8
        )

    def _mark(self, row: Row, fields: Sequence[str], *, interlaminar: bool) -> Known:
        found = [Known.STATED]
        if row.bonding is not None:
            found += [getattr(row.bonding, name).known for name in fields]
        if row.adhesive is not None:
            found += [row.adhesive.modulus.known, row.adhesive.shear_strength.known]
        if interlaminar:
            found += [row.bond.hull.known, *(one.laminate.known for one in row.bond.flanges)]
        return weakest(found)

    def said(self, text: Callable[[Row], str]) -> tuple[Remark, ...]:
        """Return what is to be said row by row, each text once."""
        texts = [text(row) for row in self.rows]
        return tuple(
            Remark(one, np.array([other == one for other in texts])) for one in dict.fromkeys(texts) if one
        )


def _throat_gap(row: Row) -> float:
    """Return how much wider than the bead the throat of a bend may be and still be filled."""
    if row.bead == 0:
        return 0.0
    return np.nan if row.bonding is None else row.bonding.gap_tolerance.value


def _part(flange: Flange, bond: BondLine) -> float:
    """Return the part that a flange takes of a foot's moment: half, or as a rigid strip's where wider."""
    return max(flange.width**3 / sum(one.width**3 for one in bond.flanges), 0.5)


def _lesser(flange: Flange, bond: BondLine) -> float:
    """Return the lesser interlaminar strength of flange and hull; nan where either is missing."""
    return float(np.minimum(flange.laminate.interlaminar, bond.hull.interlaminar))


def taken(row: Row) -> str:
    """Return which adhesive is taken where none is named."""
    if row.bead == 0 or row.adhesive is None or row.span.case.adhesive_named:
        return ""
    return f"the section names no adhesive: {row.adhesive.name} ({row.adhesive.id}) is taken"


def thinned(row: Row) -> str:
    """Return what a bead thinner than drawn does to its peak."""
    if row.bead == 0 or row.bonding is None:
        return ""
    least = max(row.bead - row.bonding.gap_tolerance.value, min(row.bead, LEAST_BEAD))
    higher = 100 * ((row.bead / least) ** 0.5 - 1)
    if higher < 1:
        return ""
    return (
        f"the bead counts as drawn; where the gap is but {least:g} mm the peak is up to {higher:.0f} % higher"
    )


def to_lay(row: Row) -> str:
    """Return what is laid under the flanges to fill the widest gap."""
    if row.bead == 0 or row.bonding is None:
        return ""
    bonding = row.bonding
    areas = [
        float(
            forms.laid_bead.function(
                flange.width, row.bead, bonding.gap_tolerance.value, bonding.squeeze_out.value
            )
        )
        for flange in row.bond.flanges
    ]
    return (
        f"to fill a gap of {row.bead + bonding.gap_tolerance.value:g} mm and press out along the edges, lay "
        f"{' + '.join(f'{area:.0f}' for area in areas)} mm² of adhesive, flange by flange"
    )
