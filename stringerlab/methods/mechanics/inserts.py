"""Bolts and blocks under machinery's feet: bearing, tearing out, pull-out, pull-through, the block's bond.

A block laminated in carries the bolts: it bears on them, its threads hold them, its bond hands their shear to
the laminate, and the laminate over it holds it down. Without a block the bolts bear in the laminate itself,
under washers. One row a foot; of its load cases the worst in each way. N, mm, MPa.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import nan

import numpy as np

from stringerlab.laminate import Stack, shear_strength, thickness, uniaxial_strengths
from stringerlab.laminate.records import Role
from stringerlab.layout import Bonding
from stringerlab.layout.plan import Insert
from stringerlab.materials.records import Adhesive, Solid
from stringerlab.methods.mechanics import insert_forms as forms
from stringerlab.methods.mechanics.choosing import column, governing
from stringerlab.methods.mechanics.records import Allowances
from stringerlab.methods.mechanics.webs import allowed_shear, allowed_stress
from stringerlab.methods.records import Aspect, Governing, Judged, Marks, Mask, Remark
from stringerlab.units import unit_named
from stringerlab.workings import Array, Formula, Known, weakest

EDGE_IN_LAMINATE, EDGE_IN_METAL = 3.0, 2.0
"""Bolt diameters from a bolt's middle to the edge: common practice."""
WAYS = (
    "bearing",
    "tearing out of the block",
    "tearing out of the laminate",
    "pull-out of the threads",
    "pull-through of the block",
    "pull-through of washers",
    "block's bond in shear",
    "block's bond in peel",
    "edge distance",
)
_SOFT = "the block's material is not structural, or its strength is missing"
_BOLTS = Remark("the bolts themselves are not judged")
_MEAN = Remark("even over the block's one bonded face: the peaks at its ends are left to the allowed part")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadedInsert:
    """A foot's bolts and block, and k load cases on them; acceleration is in the forces.

    ``block`` is None where the bolts go through the laminate alone; ``laminate`` is what the block lies under
    or the bolts go through.
    """

    name: str
    insert: Insert
    block: Solid | None
    laminate: Stack
    shear: Array
    """(k,) along the laminate, of both directions together [N]."""
    pull: Array
    """(k,) away from the laminate [N]; a push is below 0."""
    moment: Array
    """(k,) that lifts one edge of the block, about its longer side [N·mm]."""
    adhesive: Adhesive | None = None
    """Of the block's bond; None where it is laminated in."""
    bonding: Bonding = field(default_factory=Bonding)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strengths:
    """Of a laminate, the least of its plies; nan where one is missing."""

    bearing: float
    shear: float
    interlaminar: float
    known: Known


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FootCase:
    """One load case of a foot: forces by their size, a push as none."""

    row: int
    one: LoadedInsert
    number: int
    V: float
    T: float
    M: float
    laminate: _Strengths


def judge(feet: Sequence[LoadedInsert], allow: Allowances) -> tuple[Judged, ...]:
    """Return what governs of each foot's bolts and block.

    Parameters
    ----------
    feet
        n of them: one row each.
    allow
        What part of strengths is allowed.

    Raises
    ------
    ValueError
        When a foot's forces are not of one length, or there is no load case.
    """
    cases = [case for row, one in enumerate(feet) for case in cases_of(row, one)]
    return governing(len(feet), cases, lambda held: judge_ways(held, allow), WAYS)


def cases_of(row: int, one: LoadedInsert) -> list[FootCase]:
    """Return the cases of greatest shear, pull, moment and lift at the block's edge, each once."""
    forces = [np.atleast_1d(each).astype(float) for each in (one.shear, one.pull, one.moment)]
    if len({each.shape for each in forces}) != 1 or not forces[0].size:
        raise ValueError(f"{one.name}: shear, pull and moment need a number a load case each")
    V, T, M = np.abs(forces[0]), np.maximum(forces[1], 0.0), np.abs(forces[2])
    lift = T + 6 * M / min(one.insert.length, one.insert.width)
    strengths = _strengths(one.laminate)
    return [
        FootCase(
            row=row,
            one=one,
            number=index + 1,
            V=float(V[index]),
            T=float(T[index]),
            M=float(M[index]),
            laminate=strengths,
        )
        for index in dict.fromkeys(int(np.argmax(each)) for each in (V, T, M, lift))
    ]


def _strengths(stack: Stack) -> _Strengths:
    counted = np.array([ply.role is Role.REINFORCED for ply in stack.plies], bool)
    plies = uniaxial_strengths(stack)
    if not counted.any():
        return _Strengths(bearing=nan, shear=nan, interlaminar=nan, known=Known.ESTIMATE)
    shear, known = shear_strength(stack)
    rank = int(plies.marks[counted].max())
    return _Strengths(
        bearing=float(plies.compression[counted].min()),
        shear=shear,
        interlaminar=float(plies.interlaminar[counted].min()),
        known=weakest([known, Known.ranked(rank)]),
    )


def judge_ways(cases: Sequence[FootCase], allow: Allowances) -> tuple[Judged, ...]:
    """Return every way of failing of every case, one row each, in the order of ``WAYS``."""
    of = _Columns(cases)
    return (
        *_in_plane(of, allow),
        *_pulled(of, allow),
        *_bonded(of, allow),
        Judged(
            aspect=Aspect.INSERT,
            demand=forms.edge_needed(k_e=np.where(of.block, EDGE_IN_METAL, EDGE_IN_LAMINATE), d_bt=of.d_bt),
            capacity=of.e_bt,
            unit=unit_named("mm"),
            power=1,
            source=forms.EDGES,
            remarks=(Remark("a proportion: it does not go with load"),),
            governing=of.named,
        ),
    )


class _Columns:
    """What the formulas take of cases, one row each."""

    def __init__(self, cases: Sequence[FootCase]) -> None:
        inserts = [case.one.insert for case in cases]
        blocks = [case.one.block for case in cases]
        self.cases = cases
        self.block: Mask = np.array([block is not None for block in blocks], bool)
        self.V, self.T, self.M = (column([getattr(case, name) for case in cases]) for name in "VTM")
        self.n_bt = column([insert.bolts for insert in inserts])
        self.d_bt = column([insert.diameter for insert in inserts])
        # a bolt on the very edge is short of everything, by a number that can be shown
        self.e_bt = np.maximum(column([insert.edge for insert in inserts]), self.d_bt / 100)
        self.t_bk = column([insert.thickness for insert in inserts])
        self.t_em = column([insert.embedded for insert in inserts])
        self.l_bk = column([max(insert.length, insert.width) for insert in inserts])
        self.w_bk = column([min(insert.length, insert.width) for insert in inserts])
        self.t_lam = column([thickness(case.one.laminate) for case in cases])
        self.t_br = np.where(self.block, self.t_bk, self.t_lam)
        self.sigma = column(
            [
                block.strength.value if block and block.structural and block.strength else nan
                for block in blocks
            ]
        )
        self.bearing = column([case.laminate.bearing for case in cases])
        self.shear = column([case.laminate.shear for case in cases])
        self.interlaminar = column([case.laminate.interlaminar for case in cases])
        self.block_marks = np.array(
            [(block.strength.known if block and block.strength else Known.STATED).rank for block in blocks],
            np.int8,
        )
        self.laminate_marks = np.array([case.laminate.known.rank for case in cases], np.int8)
        self.lacking = (Remark(_SOFT, self.block & np.isnan(self.sigma)),)
        glues = [case.one.adhesive for case in cases]
        self.glued: Mask = np.array([glue is not None for glue in glues], bool)
        self.tau_a = np.where(
            self.glued,
            column([glue.shear_strength.value if glue else nan for glue in glues]),
            self.interlaminar,
        )
        self.named = Governing(
            index=np.arange(len(cases)),
            names=(tuple(f"{case.one.name}, load case {case.number}" for case in cases),),
        )

    def bonding(self, name: str) -> Array:
        """Return one input of each case's bonding."""
        return column([getattr(case.one.bonding, name).value for case in self.cases])

    def bond_marks(self) -> Marks:
        """Return the weakest mark of what a block's bond rests on, case by case."""
        return np.array([_bond_mark(case).rank for case in self.cases], np.int8)


def _bond_mark(case: FootCase) -> Known:
    bonding, glue = case.one.bonding, case.one.adhesive
    given = [bonding.static, bonding.fatigue, bonding.environment, bonding.through_thickness, bonding.voids]
    if glue:
        given.append(glue.shear_strength)
    return weakest([case.laminate.known, *(each.known for each in given)])


def _stress(
    of: _Columns,
    demand: Array,
    capacity: Array,
    form: Formula,
    marks: Marks,
    remarks: tuple[Remark, ...],
    *,
    missing: str,
    lacking: tuple[Remark, ...] = (),
    applies: Mask | None = None,
) -> Judged:
    """Return a stress held against what is allowed of it."""
    return Judged(
        aspect=Aspect.INSERT,
        demand=demand,
        capacity=capacity,
        unit=unit_named("MPa"),
        power=1,
        source=form.source,
        marks=marks,
        remarks=remarks,
        missing=missing,
        lacking=lacking,
        governing=of.named,
        applies=applies,
    )


def _in_plane(of: _Columns, allow: Allowances) -> tuple[Judged, ...]:
    """Bearing and tearing out: of the block where there is one, else of the laminate."""
    metal = Remark("the block takes all of it: the laminate over it is not counted on", of.block)
    bare = Remark(
        "the laminate's bearing strength is taken as the compressive strength of its weakest ply", ~of.block
    )
    weak = np.where(of.block, of.block_marks, np.maximum(of.laminate_marks, Known.MEMORY_L.rank))
    torn = forms.shear_out(V_ft=of.V, n_bt=of.n_bt, e_bt=of.e_bt, t_br=of.t_br)
    return (
        _stress(
            of,
            forms.bolt_bearing(V_ft=of.V, n_bt=of.n_bt, d_bt=of.d_bt, t_br=of.t_br),
            allowed_stress(n_A=allow.local, sigma_u=np.where(of.block, of.sigma, of.bearing)),
            forms.bolt_bearing,
            weak.astype(np.int8),
            (bare, metal, _BOLTS),
            missing="a compressive strength of the laminate is missing",
            lacking=of.lacking,
        ),
        _stress(
            of,
            torn,
            forms.allowed_block_shear(n_A=allow.local, sigma_u=of.sigma),
            forms.shear_out,
            of.block_marks,
            (metal, _BOLTS),
            missing=_SOFT,
            applies=of.block,
        ),
        _stress(
            of,
            torn,
            allowed_shear(n_A=allow.local, tau_u=of.shear),
            forms.shear_out,
            of.laminate_marks,
            (_BOLTS,),
            missing="a strength of the laminate is missing",
            applies=~of.block,
        ),
    )


def _pulled(of: _Columns, allow: Allowances) -> tuple[Judged, ...]:
    """Pull-out of the block's threads; pull of block or washers through the laminate."""
    covered = of.t_em > 0
    across = allowed_shear(n_A=allow.local, tau_u=of.interlaminar)
    return (
        _stress(
            of,
            forms.thread_shear(T_ft=of.T, n_bt=of.n_bt, d_bt=of.d_bt, t_bk=of.t_bk),
            forms.allowed_block_shear(n_A=allow.local, sigma_u=of.sigma),
            forms.thread_shear,
            of.block_marks,
            (Remark("bolts are taken as screwed through the block's whole thickness"), _BOLTS),
            missing=_SOFT,
            applies=of.block,
        ),
        _stress(
            of,
            forms.block_punch(T_ft=of.T, l_bk=of.l_bk, w_bk=of.w_bk, t_em=np.where(covered, of.t_em, np.nan)),
            across,
            forms.block_punch,
            of.laminate_marks,
            (Remark("the laminate over the block bends under the pull: that is not judged"),),
            missing="an interlaminar strength of the laminate is missing",
            applies=of.block & covered,
        ),
        _stress(
            of,
            forms.washer_punch(T_ft=of.T, n_bt=of.n_bt, d_bt=of.d_bt, t_br=of.t_lam),
            across,
            forms.washer_punch,
            of.laminate_marks,
            (Remark("washers are taken as two bolt diameters wide"), _BOLTS),
            missing="an interlaminar strength of the laminate is missing",
            applies=~of.block,
        ),
    )


def _bonded(of: _Columns, allow: Allowances) -> tuple[Judged, ...]:
    """The block's bond to the laminate: shear along it, tension across it at an edge."""
    size = {"l_bk": of.l_bk, "w_bk": of.w_bk, "f_v": of.bonding("voids")}
    knocked = {
        "f_f": of.bonding("fatigue"),
        "f_env": of.bonding("environment"),
        "f_a": np.full(len(of.cases), allow.bond),
    }
    joint = {"tau_a": of.tau_a, "f_J": of.bonding("static")}
    through = of.bonding("through_thickness")
    laminated = Remark(
        "no adhesive is named: the resin counts as one of the laminate's interlaminar strength; abrade and "
        "prime metal",
        ~of.glued,
    )
    shear = _stress(
        of,
        forms.block_shear(V_ft=of.V, **size),
        forms.allowed_bond_shear(tau_il=of.interlaminar, **joint, **knocked),
        forms.allowed_bond_shear,
        of.bond_marks(),
        (_MEAN, laminated),
        missing="an interlaminar strength of the laminate is missing",
        applies=of.block,
    )
    peel = _stress(
        of,
        forms.block_peel(
            T_b=forms.pull_on_bond(T_ft=of.T, covered=(of.t_em > 0).astype(float)), M_ft=of.M, **size
        ),
        forms.allowed_bond_tension(sigma_3=through, **joint, **knocked),
        forms.allowed_bond_tension,
        of.bond_marks(),
        (
            laminated,
            Remark("a pull is left to the laminate over the block; only the moment peels", of.t_em > 0),
        ),
        missing="the bond's strength is missing",
        applies=of.block,
    )
    return shear, peel


__all__ = [
    "EDGE_IN_LAMINATE",
    "EDGE_IN_METAL",
    "WAYS",
    "FootCase",
    "LoadedInsert",
    "cases_of",
    "judge",
    "judge_ways",
]
