"""Rows for a method to judge, from resolved cases: deg to rad, plies side by side, padded with nan."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypedDict

import numpy as np

from stringerlab.craft import Craft, chine_beam_at, deadrise_at, reference_place, station_problems
from stringerlab.errors import StringerlabError
from stringerlab.laminate import (
    axial_moduli,
    dry_mass,
    engineering_constants,
    flexural_strength,
    is_sandwich,
    mark_of,
    part_of_weaker,
    shear_strength,
    skins,
    thickness,
    uniaxial_strengths,
)
from stringerlab.laminate.records import Moduli, Role, Stack
from stringerlab.layout import End, Panel, PanelCase, Span, SpanCase, Surface
from stringerlab.methods.ends import end_factors
from stringerlab.methods.evaluation import (
    AS_RESOLVED,
    Evaluation,
    Level,
    direct_levels,
    interlaminar_levels,
    shear_levels,
)
from stringerlab.methods.records import (
    CraftRow,
    Marks,
    PanelRows,
    PlatingRows,
    Plies,
    Remark,
    SandwichRows,
    SpanRows,
)
from stringerlab.section import Facts, Properties
from stringerlab.units import unit_named
from stringerlab.workings import Array, Known, weakest


class _Places(TypedDict):
    b: Array
    l: Array
    x: Array
    deadrise: Array
    camber: Array
    height: Array
    head: Array


def craft_row(craft: Craft) -> CraftRow:
    """Return the craft as numbers, chine beam and deadrise taken at 0.4 of its waterline length.

    Raises
    ------
    StringerlabError
        When something is wrong with its stations.
    """
    wrong = station_problems(craft)
    if wrong:
        raise StringerlabError(wrong)
    place = reference_place(craft)
    return CraftRow(
        category=craft.category.value,
        LWL=craft.waterline_length,
        BC=chine_beam_at(craft, place),
        beta_04=deadrise_at(craft, place),
        m_LDC=craft.mass,
        V=craft.speed * unit_named("kn").factor,
        waterline_aft=craft.waterline_aft,
        wave_height=_number(craft.wave_height),
        trim=math.radians(_number(craft.running_trim)),
        draught=_number(craft.draught),
        deck_height=_number(craft.deck_height),
        BC_transom=chine_beam_at(craft, 0.0),
    )


def panel_rows(cases: Sequence[PanelCase], evaluation: Evaluation = AS_RESOLVED) -> PanelRows:
    """Return single-skin panels of one surface as rows, strengths as a method's evaluation takes them."""
    stacks = [case.stack for case in cases]
    flexural = [evaluation.flexural(stack) for stack in stacks]
    return PanelRows(
        **_places([case.panel for case in cases]),
        surface=_surface([case.panel for case in cases]),
        t=_array(thickness(stack) for stack in stacks),
        dry_mass=_array(dry_mass(case.hull or case.stack) for case in cases),
        sigma_uf=_array(value for value, _ in flexural),
        sigma_uf_marks=_marks(known for _, known in flexural),
        sigma_uf_remarks=_remarks(evaluation, [evaluation.flexural_levels(stack) for stack in stacks]),
        sigma_uf_factor=None
        if evaluation.bare
        else _array(
            value / flexural_strength(stack)[0] for (value, _), stack in zip(flexural, stacks, strict=True)
        ),
        plies=_plies(stacks, evaluation),
    )


def sandwich_rows(cases: Sequence[PanelCase], evaluation: Evaluation = AS_RESOLVED) -> SandwichRows:
    """Return sandwich panels of one surface as rows; what lies between the skins counts as core.

    Several cores count as the weakest and softest of them, and as ductile only when each is. The skins'
    strengths are as a method's evaluation takes them.
    """
    parts = [skins(case.stack) for case in cases]
    outer = [_skin(evaluation.judged(part[0])) for part in parts]
    inner = [_skin(evaluation.judged(part[2])) for part in parts]
    cores = [part[1] for part in parts]
    t_o, t_i = _array(skin.t for skin in outer), _array(skin.t for skin in inner)
    return SandwichRows(
        **_places([case.panel for case in cases]),
        surface=_surface([case.panel for case in cases]),
        t_o=t_o,
        t_i=t_i,
        t_c=_array(thickness(case.stack) for case in cases) - t_o - t_i,
        E_o=_array(skin.E for skin in outer),
        E_i=_array(skin.E for skin in inner),
        dry_mass_o=_array(dry_mass(part[0]) for part in parts),
        dry_mass_i=_array(dry_mass(part[2]) for part in parts),
        sigma_ut_o=_array(skin.tension for skin in outer),
        sigma_uc_o=_array(skin.compression for skin in outer),
        sigma_ut_i=_array(skin.tension for skin in inner),
        sigma_uc_i=_array(skin.compression for skin in inner),
        E_c=_array(min(core.E1 for core in plies) for plies in cores),
        G_c=_array(min(core.G12 for core in plies) for plies in cores),
        tau_c=_array(min(_number(core.shear) for core in plies) for plies in cores),
        ductile=np.array([all(core.ductile for core in plies) for plies in cores], bool),
        skin_marks=_marks(weakest((o.known, i.known)) for o, i in zip(outer, inner, strict=True)),
        skin_remarks=_remarks(
            evaluation, [direct_levels(part[0]) | direct_levels(part[2]) for part in parts]
        ),
        factor_o=None if evaluation.bare else _array(map(_factor, outer, (_skin(part[0]) for part in parts))),
        factor_i=None if evaluation.bare else _array(map(_factor, inner, (_skin(part[2]) for part in parts))),
        core_marks=_marks(weakest(mark_of(core, "E1", "G12", "shear") for core in plies) for plies in cores),
    )


def plating_rows(cases: Sequence[SpanCase], facts: Sequence[Facts]) -> PlatingRows:
    """Return what decides how wide plating counts under each span."""
    return PlatingRows(
        s=_array(case.span.s for case in cases),
        lu=_array(case.span.lu for case in cases),
        base_width=_array(fact.base_width for fact in facts),
        t=_array(_skin_thickness(case.plating) for case in cases),
        sandwich=np.array([is_sandwich(case.plating) for case in cases], bool),
        E_G=_array(_modulus_over_shear(case.plating) for case in cases),
    )


def span_rows(
    cases: Sequence[SpanCase],
    properties: Sequence[Properties],
    facts: Sequence[Facts],
    evaluation: Evaluation = AS_RESOLVED,
) -> SpanRows:
    """Return spans of one surface as rows.

    Parameters
    ----------
    cases
        The spans, n of them.
    properties
        Each section's properties under the method's own counted plating and moduli, its fibres' strengths
        as the evaluation takes them.
    facts
        Each section's sizes.
    evaluation
        The method's.
    """
    spans = [case.span for case in cases]
    factors = end_factors([span.ends for span in spans])
    fibres = [one.fibres for one in properties]
    webs = [_web_shear(fact, evaluation) for fact in facts]
    return SpanRows(
        lu=_array(span.lu for span in spans),
        s=_array(span.s for span in spans),
        x=_array(span.x for span in spans),
        deadrise=np.radians(_array(span.deadrise for span in spans)),
        camber=_array(span.camber for span in spans),
        surface=_surface(spans),
        height=_array(_number(span.height) for span in spans),
        head=_array(_number(span.head) for span in spans),
        moment_factor=factors.moment,
        shear_factor=factors.shear,
        deflection_factor=factors.deflection,
        end_factor=factors.end,
        middle_factor=factors.middle,
        attached=np.array([span.attached for span in spans], bool),
        EI=_array(one.EI_y for one in properties),
        fibre_E=_side_by_side([fibre.E for fibre in fibres]),
        fibre_z=_side_by_side([fibre.z for fibre in fibres]),
        fibre_tension=_side_by_side([fibre.tension for fibre in fibres]),
        fibre_compression=_side_by_side([fibre.compression for fibre in fibres]),
        fibre_marks=np.array([fibre.marks.max(initial=0) for fibre in fibres], np.int8),
        fibre_remarks=_remarks(evaluation, [_fibre_levels(case) for case in cases]),
        fibre_factor=None if evaluation.bare else _side_by_side([fibre.factor for fibre in fibres]),
        fibre_names=tuple(fibre.names for fibre in fibres),
        web_area=_array(fact.web_area for fact in facts),
        web_tau=_array(tau for tau, _ in webs),
        web_marks=_marks(known for _, known in webs),
        web_remarks=_remarks(evaluation, [_web_levels(fact) for fact in facts]),
        web_factor=None
        if evaluation.bare
        else _array(
            tau / _web_shear(fact, AS_RESOLVED)[0] for (tau, _), fact in zip(webs, facts, strict=True)
        ),
        web_depth=_array(fact.web_depth for fact in facts),
        web_thickness=_array(fact.web_thickness for fact in facts),
        crown_width=_array(fact.crown_width for fact in facts),
        crown_thickness=_array(fact.crown_thickness for fact in facts),
        free_edge=np.array([fact.free_edge for fact in facts], bool),
        duties=tuple(span.duty for span in spans),
        dies=np.array([_dies(span) for span in spans], bool),
    )


def _dies(span: Span) -> bool:
    """Whether an end that is not held may die on bare skin: it does not say that a support carries it."""
    return any(
        end is not End.HELD and not landing.on.supports
        for end, landing in zip(span.ends, span.landings, strict=True)
    )


def _places(panels: Sequence[Panel]) -> _Places:
    return {
        "b": _array(panel.b for panel in panels),
        "l": _array(panel.l for panel in panels),
        "x": _array(panel.x for panel in panels),
        "deadrise": np.radians(_array(panel.deadrise for panel in panels)),
        "camber": _array(panel.camber for panel in panels),
        "height": _array(_number(panel.height) for panel in panels),
        "head": _array(_number(panel.head) for panel in panels),
    }


def _surface(subjects: Sequence[Panel | Span]) -> Surface:
    surfaces = {subject.surface for subject in subjects}
    if len(surfaces) != 1:
        raise ValueError(f"rows are of one surface, not of {len(surfaces)}")
    return surfaces.pop()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Counted:
    """The reinforced plies of a stack along x: (k,) arrays, their weakest mark, their names."""

    t: Array
    E: Array
    tension: Array
    compression: Array
    interlaminar: Array
    known: Known
    names: tuple[str, ...]


def _counted(stack: Stack) -> _Counted:
    kept = [index for index, ply in enumerate(stack.plies) if ply.role is Role.REINFORCED]
    strengths, labels = uniaxial_strengths(stack), stack.labels
    return _Counted(
        t=_array(stack.plies[index].thickness for index in kept),
        E=axial_moduli(stack, Moduli.PLAIN)[kept],
        tension=strengths.tension[kept],
        compression=strengths.compression[kept],
        interlaminar=strengths.interlaminar[kept],
        known=weakest(Known.ranked(int(rank)) for rank in strengths.marks[kept]),
        names=tuple(labels[index] for index in kept),
    )


def _plies(stacks: Sequence[Stack], evaluation: Evaluation) -> Plies:
    counted = [_counted(evaluation.judged(stack)) for stack in stacks]
    resolved = counted if evaluation.bare else [_counted(stack) for stack in stacks]
    pairs = list(zip(counted, resolved, strict=True))
    return Plies(
        t=_side_by_side([one.t for one in counted]),
        E=_side_by_side([one.E for one in counted]),
        tension=_side_by_side([one.tension for one in counted]),
        compression=_side_by_side([one.compression for one in counted]),
        interlaminar=_side_by_side([one.interlaminar for one in counted]),
        marks=_marks(one.known for one in counted),
        names=tuple(one.names for one in counted),
        remarks=_remarks(evaluation, [direct_levels(stack) for stack in stacks]),
        interlaminar_remarks=_remarks(evaluation, [interlaminar_levels(stack) for stack in stacks]),
        factor=None
        if evaluation.bare
        else _side_by_side(
            [part_of_weaker(one.tension, one.compression, of.tension, of.compression) for one, of in pairs]
        ),
        interlaminar_factor=None
        if evaluation.bare
        else _side_by_side([one.interlaminar / of.interlaminar for one, of in pairs]),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Skin:
    """A skin as one: thickness, mean modulus, mean stress at which its first ply fails, weakest mark."""

    t: float
    E: float
    tension: float
    compression: float
    known: Known


def _skin(stack: Stack) -> _Skin:
    plies = _counted(stack)
    t = float(plies.t.sum())
    E = float((plies.E * plies.t).sum()) / t if t else math.nan
    return _Skin(
        t=t,
        E=E,
        tension=E * float((plies.tension / plies.E).min(initial=math.inf)),
        compression=E * float((plies.compression / plies.E).min(initial=math.inf)),
        known=plies.known,
    )


def _factor(taken: _Skin, resolved: _Skin) -> float:
    """Return what the evaluation made of the weaker of a skin's strengths."""
    if taken.compression < taken.tension:
        return taken.compression / resolved.compression
    return taken.tension / resolved.tension


@lru_cache(maxsize=256)
def _modulus_over_shear(stack: Stack) -> float:
    try:
        of = engineering_constants(stack)
    except StringerlabError:
        return math.nan
    return of.Ex / of.Gxy


def _skin_thickness(stack: Stack) -> float:
    if not is_sandwich(stack):
        return thickness(stack)
    outer, _, inner = skins(stack)
    return thickness(outer) + thickness(inner)


def _remarks(evaluation: Evaluation, levels: Sequence[frozenset[Level]]) -> tuple[Remark, ...]:
    """Return what is to be said of what the rows' strengths rest on, each level where it occurs."""
    return tuple(
        Remark(words, np.array([level in each for each in levels], bool))
        for level in Level
        if (words := evaluation.words(level)) and any(level in each for each in levels)
    )


def _fibre_levels(case: SpanCase) -> frozenset[Level]:
    stacks = [case.plating, *(wall.stack for wall in case.section.walls)]
    return frozenset[Level]().union(*(direct_levels(stack) for stack in stacks))


def _web_levels(facts: Facts) -> frozenset[Level]:
    return frozenset[Level]().union(*(shear_levels(stack) for stack in facts.web_stacks))


def _web_shear(facts: Facts, evaluation: Evaluation) -> tuple[float, Known]:
    """Return the least shear strength of the webs and the weakest of their marks; nan without a web."""
    found = [shear_strength(evaluation.judged(stack)) for stack in facts.web_stacks]
    if not found:
        return math.nan, Known.ESTIMATE
    return float(np.min([value for value, _ in found])), weakest(known for _, known in found)


def _number(value: float | None) -> float:
    return math.nan if value is None else value


def _array(values: Iterable[float]) -> Array:
    return np.array(list(values), dtype=float)


def _marks(values: Iterable[Known]) -> Marks:
    return np.array([known.rank for known in values], np.int8)


def _side_by_side(rows: Sequence[Array]) -> Array:
    """Return rows of different lengths as one array (n, k), the shorter padded with nan."""
    width = max((len(row) for row in rows), default=0)
    padded = np.full((len(rows), max(width, 1)), math.nan)
    for place, row in zip(padded, rows, strict=True):
        place[: len(row)] = row
    return padded
