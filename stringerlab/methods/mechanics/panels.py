"""Panels from first principles: first-ply failure, core shear and deflection of a laminated plate.

Edges count as clamped, for a panel goes on over its members; what simple edges would give is said beside it.
Camber counts as a shallow cylinder whose edges may draw in. Deflections are small, so all is linear in the
pressure: each panel is solved under a unit of pressure and kept by its laminate and sides.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Stack, mark_of, mass
from stringerlab.laminate.records import Role
from stringerlab.layout import Surface
from stringerlab.methods.mechanics.records import Allowances, LoadedPanel
from stringerlab.methods.records import Aspect, Governing, Judged, Marks, Mask, Remark
from stringerlab.plate.bending import bent, natural_frequency
from stringerlab.plate.records import CLAMPED, plates
from stringerlab.plate.stress import CRITERIA, PLACES, core_shear, first_ply
from stringerlab.units import Kind, KPa, Mm, Range, Ratio, format, rounded, unit_named
from stringerlab.workings import Array, Known, Source, formula, weakest

DEFLECTION_LIMIT = 0.02
"""Deflection allowed over the short side: our own limit."""
SHALLOW = 0.2
"""Rise over the short side above which a panel's camber counts as this much."""
_OWN = Source(
    title="stringerlab",
    clause="orthotropic plate by Rayleigh and Ritz",
    known=Known.COMPUTED,
    note="edges get the pressure within 0.5 %",
)
_LIMIT = Source(title="stringerlab", clause="own deflection limit", known=Known.STATED)
_UNIT = 1e-3
"""Pressure each panel is solved under [MPa]."""
_BOTH_WAYS = (Surface.BULKHEAD, Surface.TANK)
_STIFFNESS = ("thickness", "E1", "E2", "G12", "nu12")
_STRENGTHS = ("tension_1", "compression_1", "tension_2", "compression_2", "shear")
_CLAMPED = Remark(
    "edges clamped: the panel goes on over its members; by their own stiffness they give somewhat"
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


@dataclass(frozen=True, slots=True)
class _Key:
    """What decides how a panel bends."""

    stack: Stack
    b: float
    l: float
    rise: float
    both_ways: bool


@dataclass(frozen=True, slots=True, eq=False)
class _Responses:
    """Of each panel under the unit of pressure, edges clamped."""

    deflection: Array
    ply: Array
    """Multiple of the pressure at first-ply failure."""
    core: Array
    simple: Array
    """Multiple at first failure of ply or core with simple edges."""
    frequency: Array
    """Lowest natural frequency in air [Hz]."""
    governs: tuple[str, ...]
    wrong: tuple[str, ...]
    """Why a panel has no solution; empty where it has one."""


def judge(loaded: Sequence[LoadedPanel], allow: Allowances) -> tuple[Judged, ...]:
    """Return first-ply failure, core shear of sandwiches, and deflection, one row a panel."""
    if not loaded:
        return ()
    keys = tuple(_key(one) for one in loaded)
    stacks = [key.stack for key in keys]
    found = _responses(keys)
    P = np.array([one.P for one in loaded])
    b = np.array([key.b for key in keys])
    notes = (_CLAMPED, *_camber(loaded), *_coupled(stacks))
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
            capacity=allowed_pressure(allow.ply, found.ply * _UNIT),
            unit=unit_named("kN/m²"),
            power=1.0,
            source=_OWN,
            marks=_marks(stacks, (*_STIFFNESS, *_STRENGTHS)),
            remarks=(*notes, *_simple(found, allow, P)),
            missing="a strength of a ply is missing",
            lacking=(*wrong, *_lacking(stacks)),
            governing=Governing(
                index=np.zeros(len(keys), np.intp), names=tuple((text,) for text in found.governs)
            ),
        ),
        Judged(
            aspect=Aspect.CORE_SHEAR,
            demand=P,
            capacity=allowed_pressure(allow.local, found.core * _UNIT),
            unit=unit_named("kN/m²"),
            power=1.0,
            source=_OWN,
            marks=_marks(stacks, ("G12", "shear"), Role.CORE),
            remarks=notes,
            missing="the core's shear strength is missing",
            lacking=wrong,
            applies=cored,
        ),
        Judged(
            aspect=Aspect.DEFLECTION,
            demand=deflection(P, found.deflection),
            capacity=allowed_deflection(DEFLECTION_LIMIT, b),
            unit=unit_named("mm"),
            power=1.0,
            source=_OWN,
            marks=_marks(stacks, _STIFFNESS),
            remarks=(
                *notes,
                Remark(f"allowed: {DEFLECTION_LIMIT:g} of the short side, our own limit"),
                *_frequency(found),
            ),
            missing="a stiffness is missing",
            lacking=wrong,
        ),
    )


def _key(one: LoadedPanel) -> _Key:
    panel = one.case.panel
    rise = min(panel.camber, SHALLOW * panel.b)
    return _Key(one.case.stack, panel.b, panel.l, rise, panel.surface in _BOTH_WAYS)


@lru_cache(maxsize=32)
def _responses(keys: tuple[_Key, ...]) -> _Responses:
    """Return how panels respond to the unit of pressure; each alone where one of them has no solution."""
    try:
        return _solved(keys)
    except StringerlabError as error:
        if len(keys) != 1:
            return _joined([_responses((key,)) for key in keys])
        nothing = np.full(1, np.nan)
        what = " ".join(problem.what for problem in error.problems)
        text = f"laminate '{keys[0].stack.name}': {what}"
        return _Responses(nothing, nothing, nothing, nothing, nothing, ("",), (text,))


def _solved(keys: tuple[_Key, ...]) -> _Responses:
    stacks = [key.stack for key in keys]
    b, l, rise = (np.array([getattr(key, name) for key in keys]) for name in ("b", "l", "rise"))
    pressure = np.full(len(keys), _UNIT)
    reversing = np.array([key.both_ways for key in keys])
    fixed, hinged = (
        plates(stacks, b, l, spring_x=spring, spring_y=spring, rise=rise) for spring in (CLAMPED, 0.0)
    )
    held, simple = bent(fixed, pressure), bent(hinged, pressure)
    first, other = first_ply(stacks, held, reversing), first_ply(stacks, simple, reversing)
    return _Responses(
        deflection=held.w,
        ply=first.factor,
        core=core_shear(stacks, held),
        simple=np.minimum(other.factor, core_shear(stacks, simple)),
        frequency=natural_frequency(fixed, np.array([mass(stack) for stack in stacks])),
        governs=tuple(
            f"{stack.labels[ply]}: {CRITERIA[criterion]}, {PLACES[place]}"
            for stack, ply, place, criterion in zip(
                stacks, first.ply.tolist(), first.place.tolist(), first.criterion.tolist(), strict=True
            )
        ),
        wrong=("",) * len(keys),
    )


def _joined(parts: Sequence[_Responses]) -> _Responses:
    return _Responses(
        *(
            np.concatenate([getattr(part, name) for part in parts])
            for name in ("deflection", "ply", "core", "simple", "frequency")
        ),
        governs=tuple(part.governs[0] for part in parts),
        wrong=tuple(part.wrong[0] for part in parts),
    )


def _simple(found: _Responses, allow: Allowances, P: Array) -> tuple[Remark, ...]:
    """Return what edges free to turn would allow, panel by panel."""
    allowed = allow.ply * found.simple * _UNIT
    return tuple(
        Remark(
            f"with edges free to turn {format(float(value), Kind.PRESSURE)} would be allowed",
            np.arange(len(P)) == row,
        )
        for row, value in enumerate(allowed)
        if np.isfinite(value)
    )


def _frequency(found: _Responses) -> tuple[Remark, ...]:
    """Return the natural frequencies, for reading: nothing is asked of them."""
    rows = np.arange(len(found.frequency))
    return tuple(
        Remark(f"lowest natural frequency in air {rounded(float(value))} Hz, for reading alone", rows == row)
        for row, value in enumerate(found.frequency)
        if np.isfinite(value)
    )


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
