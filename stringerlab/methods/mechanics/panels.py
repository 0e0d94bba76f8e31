"""Panels from first principles: first-ply failure, core shear and deflection of a laminated plate.

Edges are held by the panels beside, loaded alike or bare, whichever is worse (``panels_edges``); what clamped
and simple edges would give is said beside it.
Camber counts as a shallow cylinder whose edges may draw in. Deflections are small, so all is linear in the
pressure: each panel is solved under a unit of pressure and kept by its laminate and sides.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stringerlab.laminate import Stack, mark_of
from stringerlab.laminate.records import Role
from stringerlab.layout import Surface
from stringerlab.methods.first_principles.source import LIMITS
from stringerlab.methods.mechanics.local_edges import DIMPLING
from stringerlab.methods.mechanics.panels_edges import EDGES, UNIT, Key, Responses, responses
from stringerlab.methods.mechanics.plies import STRENGTHS_AS_RESOLVED
from stringerlab.methods.mechanics.records import Allowances, LoadedPanel
from stringerlab.methods.records import Aspect, Governing, Judged, Marks, Mask, Remark
from stringerlab.section.sheets import honeycomb
from stringerlab.units import Kind, KPa, Mm, Range, Ratio, format, rounded, unit_named
from stringerlab.workings import Array, Known, Source, formula, weakest

DEFLECTION_LIMIT = LIMITS.panel
"""Deflection allowed over the short side: our own limit, that of the method of first principles."""
SHALLOW = 0.2
"""Rise over the short side above which a panel's camber counts as this much."""
_OWN = Source(
    title="stringerlab",
    clause="orthotropic plate by Rayleigh and Ritz",
    known=Known.COMPUTED,
    note="edges get the pressure within 0.5 %",
)
_LIMIT = Source(title="stringerlab", clause="own deflection limit", known=Known.STATED)
STANDING = (Surface.BULKHEAD, Surface.TANK)
"""Where a head stands on every panel alike, from either side."""
_STIFFNESS = ("thickness", "E1", "E2", "G12", "nu12")
_STRENGTHS = ("tension_1", "compression_1", "tension_2", "compression_2", "shear")
_EDGES = Remark(
    "edges: clamped by neighbours under the same pressure, or turned against bare neighbours (3 D/b); the "
    "worse is judged, except where a head stands on all; the members' own hold on them lies between"
)
_CLAMPED = Remark(
    "edges clamped, by neighbours under the same pressure: our own limit is meant of these; deflections by "
    "other edges stand beside it, small ones taken for granted"
)


@formula(symbol="P_a", source=_OWN, valid={"n_A": Range(0, 1)})
def allowed_pressure(n_A: Ratio, P_f: KPa) -> KPa:
    """Pressure allowed of a panel, a part of that at which it fails."""
    return n_A * P_f


@formula(symbol="w_p", source=_OWN)
def deflection(P: KPa, w_1: Mm) -> Mm:
    """Deflection in the middle of a panel, from that under 1 kN/m²."""
    return P * w_1


@formula(symbol="w_max", source=_LIMIT)
def allowed_deflection(n_w: Ratio, b: Mm) -> Mm:
    """Deflection allowed in the middle of a panel: our own limit."""
    return n_w * b


def judge(loaded: Sequence[LoadedPanel], allow: Allowances) -> tuple[Judged, ...]:
    """Return first-ply failure, core shear of sandwiches, and deflection, one row a panel."""
    if not loaded:
        return ()
    keys = tuple(_key(one) for one in loaded)
    stacks = [key.stack for key in keys]
    found = responses(keys)
    P = np.array([one.P for one in loaded])
    b = np.array([key.b for key in keys])
    notes = (*_camber(loaded), *_coupled(stacks))
    ply, core = (_worse(loaded, values) for values in (found.ply, found.core))
    clamped = np.zeros_like(ply)
    allowed = allow.ply * found.ply * UNIT, allow.local * found.core * UNIT
    wrong = tuple(
        Remark(text, np.array([text == other for other in found.wrong]))
        for text in dict.fromkeys(found.wrong)
        if text
    )
    cored = np.array([_has_core(stack) for stack in stacks])
    return (
        Judged(
            aspect=Aspect.PLY_FAILURE,
            demand=P,
            capacity=allowed_pressure(allow.ply, _of(found.ply, ply) * UNIT),
            unit=unit_named("kN/m²"),
            power=1.0,
            source=_OWN,
            marks=_marks(stacks, (*_STIFFNESS, *_STRENGTHS)),
            remarks=(
                _EDGES,
                STRENGTHS_AS_RESOLVED,
                *notes,
                *_bounds(allowed[0], ply, Kind.PRESSURE, "allowed"),
            ),
            missing="a strength of a ply is missing",
            lacking=(*wrong, *_lacking(stacks)),
            governing=Governing(
                index=np.zeros(len(keys), np.intp),
                names=tuple(
                    (f"{found.governs[edge][row]}, {EDGES[edge]}",) for row, edge in enumerate(ply.tolist())
                ),
            ),
        ),
        Judged(
            aspect=Aspect.CORE_SHEAR,
            demand=P,
            capacity=allowed_pressure(allow.local, _of(found.core, core) * UNIT),
            unit=unit_named("kN/m²"),
            power=1.0,
            source=_OWN,
            marks=_marks(stacks, ("G12", "shear"), Role.CORE),
            remarks=(
                _EDGES,
                *notes,
                *_bounds(allowed[1], core, Kind.PRESSURE, "allowed"),
                *_dimpling(stacks),
            ),
            missing="the core's shear strength is missing",
            lacking=wrong,
            applies=cored,
        ),
        Judged(
            aspect=Aspect.DEFLECTION,
            demand=deflection(P, _of(found.deflection, clamped)),
            capacity=allowed_deflection(DEFLECTION_LIMIT, b),
            unit=unit_named("mm"),
            power=1.0,
            source=_OWN,
            marks=_marks(stacks, _STIFFNESS),
            remarks=(
                _CLAMPED,
                *notes,
                Remark(f"allowed: {DEFLECTION_LIMIT:g} of the short side, our own limit"),
                *_bounds(P / UNIT * found.deflection, clamped, Kind.LENGTH, "deflection"),
                *_frequency(found),
            ),
            missing="a stiffness is missing",
            lacking=wrong,
        ),
    )


def _key(one: LoadedPanel) -> Key:
    panel = one.case.panel
    rise = min(panel.camber, SHALLOW * panel.b)
    return Key(one.case.stack, panel.b, panel.l, rise, panel.surface in STANDING)


def _worse(loaded: Sequence[LoadedPanel], least: Array) -> NDArray[np.intp]:
    """Return which of clamped (0) and bare neighbours (1) is worse (n,), from what grows with safety (3, n).

    A head of water stands on all panels alike: there they are clamped.
    """
    bare = least[1] < least[0]
    standing = np.array([one.case.panel.surface in STANDING for one in loaded])
    return np.where(bare & ~standing, 1, 0)


def _of(values: Array, worse: NDArray[np.intp]) -> Array:
    return np.asarray(np.take_along_axis(values, worse[None], axis=0)[0], np.float64)


def _bounds(values: Array, worse: NDArray[np.intp], kind: Kind, what: str) -> tuple[Remark, ...]:
    """Return which edges govern and what each would give, panel by panel."""
    rows: NDArray[np.intp] = np.arange(len(values.T))
    return tuple(
        Remark(
            f"{EDGES[worse[row]]} governs; {what}: "
            + ", ".join(
                f"{words} {format(float(value), kind)}"
                for words, value in zip(EDGES, values[:, row], strict=True)
            ),
            rows == row,
        )
        for row in rows.tolist()
        if np.isfinite(values[:, row]).all()
    )


def _frequency(found: Responses) -> tuple[Remark, ...]:
    """Return the natural frequencies, for reading: no excitation is entered to hold them against."""
    rows: NDArray[np.intp] = np.arange(len(found.wrong))
    return tuple(
        Remark(
            f"lowest natural frequency in air {rounded(float(clamped))} Hz with edges clamped, "
            f"{rounded(float(free))} Hz with edges free to turn; not judged: no excitation is entered",
            rows == row,
        )
        for row, (clamped, free) in enumerate(zip(found.frequency[0], found.frequency[2], strict=True))
        if np.isfinite(clamped) and np.isfinite(free)
    )


def _dimpling(stacks: Sequence[Stack]) -> tuple[Remark, ...]:
    mask = np.array([honeycomb(stack) for stack in stacks])
    return (Remark(DIMPLING, mask),) if mask.any() else ()


def _camber(loaded: Sequence[LoadedPanel]) -> tuple[Remark, ...]:
    rise = np.array([one.case.panel.camber / one.case.panel.b for one in loaded])
    told = (
        ("its camber counts as a shallow cylinder whose edges may draw in", rise > 0),
        (f"its camber is above {SHALLOW:g} of the short side and counts as that", rise > SHALLOW),
    )
    return tuple(Remark(text, mask) for text, mask in told if mask.any())


def _coupled(stacks: Sequence[Stack]) -> tuple[Remark, ...]:
    mask = np.array([not _mirrored(stack) for stack in stacks])
    if not mask.any():
        return ()
    text = "the laminate is not symmetric: it bends by D* = D − B A⁻¹ B, as if its edges were free to draw in"
    return (Remark(text, mask),)


def _mirrored(stack: Stack) -> bool:
    plies = [
        (ply.thickness, ply.E1, ply.E2, ply.G12, ply.nu12, ply.angle)
        for ply in stack.plies
        if ply.role is not Role.GEL_COAT
    ]
    return plies == plies[::-1]


def _lacking(stacks: Sequence[Stack]) -> tuple[Remark, ...]:
    said: dict[str, Mask] = {}
    for row, stack in enumerate(stacks):
        names = [
            ply.name
            for ply in stack.plies
            if ply.role is Role.REINFORCED and any(getattr(ply, name) is None for name in _STRENGTHS)
        ]
        if names or not any(ply.role is Role.REINFORCED for ply in stack.plies):
            what = (
                f"a strength of {', '.join(dict.fromkeys(names))} is missing"
                if names
                else "no reinforced ply"
            )
            text = f"laminate '{stack.name}': {what}"
            said.setdefault(text, np.zeros(len(stacks), dtype=np.bool_))[row] = True
    return tuple(Remark(text, mask) for text, mask in said.items())


def _has_core(stack: Stack) -> bool:
    return any(ply.role is Role.CORE for ply in stack.plies)


def _marks(stacks: Sequence[Stack], names: Sequence[str], role: Role = Role.REINFORCED) -> Marks:
    return np.array(
        [weakest(mark_of(ply, *names) for ply in stack.plies if ply.role is role).rank for stack in stacks],
        np.int8,
    )
