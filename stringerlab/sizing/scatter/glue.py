"""Beads in shear under scatter of their width and of the speed; laminates as they are. N, mm, MPa."""

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.assess.sections import section_facts, section_properties
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Moduli
from stringerlab.layout import SpanCase
from stringerlab.methods import CraftRow, Method, plating_rows
from stringerlab.methods.ends import end_factors
from stringerlab.methods.mechanics import beams
from stringerlab.methods.mechanics.bond_beads import bead_shear, flanges_of
from stringerlab.methods.mechanics.bond_rows import Rows, row_of_span
from stringerlab.methods.mechanics.records import OURS, LoadedSpan
from stringerlab.methods.pressed import PressureRows, span_pressure_rows
from stringerlab.section import Plating
from stringerlab.section import bond_forms as forms
from stringerlab.section.loads import SectionLoads
from stringerlab.sizing.scatter.listed import by_reason
from stringerlab.workings import Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Glued:
    """A span bonded by a bead, its laminates without scatter."""

    subject: str
    section: str
    pressed: PressureRows
    P: float
    """Design pressure without scatter."""
    rows: Rows

    def used(self, method: Method, craft: CraftRow, wide: Array) -> Array:
        """Return the utilisation (n,) of the bead in shear at the flange that is the worst.

        Parameters
        ----------
        method, craft
            The method, and the craft at speeds of n samples or at one.
        wide
            (n,) factor on the bonded width.
        """
        assert method.pressure is not None
        count = len(wide)
        P = np.broadcast_to(method.pressure(craft, _repeated(self.pressed, count)), count)
        rows = self.rows
        flow = forms.shear_flow(V_e=rows.V_e, ES_b=rows.ES_b, EI=rows.EI) * P / self.P
        of = flanges_of(rows)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            demand, capacity = bead_shear(
                rows, OURS, {**of, "w_b": of["w_b"] * wide[:, None]}, flow, wide=True
            )
            return np.asarray(np.max(np.where(rows.absent, -np.inf, demand / capacity), axis=1), np.float64)


def _repeated(rows: PressureRows, count: int) -> PressureRows:
    return dataclasses.replace(
        rows,
        width=np.repeat(rows.width, count),
        length=np.repeat(rows.length, count),
        x=np.repeat(rows.x, count),
        deadrise=np.repeat(rows.deadrise, count),
        height=np.repeat(rows.height, count),
        head=np.repeat(rows.head, count),
    )


def glued(
    method: Method, craft: CraftRow, cases: Sequence[SpanCase]
) -> tuple[tuple[Glued, ...], tuple[str, ...]]:
    """Return the spans whose beads can be sampled, and in words what is left out."""
    if method.pressure is None:
        return (), (f"every bond: {method.name} states no pressure",) if cases else ()
    found: list[Glued] = []
    left: list[tuple[str, str]] = []
    for case in cases:
        if not case.section.bead:
            continue
        try:
            one = _glued(method, craft, case)
        except StringerlabError as error:
            left.append((f"{case.span.name}, bond", str(error.problems[0])))
            continue
        if one is None:
            left.append((f"{case.span.name}, bond", "not judged without scatter either"))
        else:
            found.append(one)
    return tuple(found), tuple(by_reason(left))


def _glued(method: Method, craft: CraftRow, case: SpanCase) -> Glued | None:
    assert method.pressure is not None
    pressed = span_pressure_rows([case])
    P = method.pressure(craft, pressed)
    of_ends = end_factors([case.span.ends])
    load = {"P": P, "s": pressed.width, "l_u": pressed.length}
    known = section_facts(case.section, case.drawn_deadrise)
    width = float(method.plating(plating_rows([case], [known]))[0])
    plating = Plating(stack=case.plating, width=width, deadrise=case.drawn_deadrise)
    loaded = LoadedSpan(
        case=case,
        plating=plating,
        properties=section_properties(case.section, plating, Moduli.CONTRACTED),
        facts=known,
        P=float(P[0]),
        end=SectionLoads(
            V_z=float(beams.end_shear(f_Q=of_ends.shear, **load)[0]),
            M_y=float(beams.end_moment(f_e=of_ends.end, **load)[0]),
        ),
        middle=SectionLoads(M_y=float(beams.middle_moment(f_m=of_ends.middle, **load)[0])),
    )
    row = row_of_span(loaded)
    if row.why_not or not np.isfinite(P[0]):
        return None
    found = Glued(
        subject=case.span.id, section=case.span.section, pressed=pressed, P=float(P[0]), rows=Rows([row])
    )
    return found if np.isfinite(found.used(method, craft, np.ones(1))[0]) else None
