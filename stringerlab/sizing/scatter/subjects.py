"""Panels and spans as they are judged under scatter: n samples of one subject are n rows for its method.

What the method takes of a subject is taken of it without scatter first; what goes by the lay-up is then put
in its place, sample by sample. N, mm, MPa.
"""

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar, cast

import numpy as np

from stringerlab.assess.sections import section_properties
from stringerlab.laminate import Role, is_sandwich, reinforced
from stringerlab.layout import PanelCase, SpanCase
from stringerlab.methods import Method, panel_rows, plating_rows, sandwich_rows, span_rows
from stringerlab.methods.records import (
    CraftRow,
    Judged,
    PanelRows,
    PlatingRows,
    Plies,
    SandwichRows,
    SpanRows,
)
from stringerlab.section import Plating
from stringerlab.sizing.scatter.cloth import Sampled
from stringerlab.sizing.scatter.forms import Bedded, SectionForm, Standing, bedded, standing
from stringerlab.sizing.scatter.laid import Laid, Origin
from stringerlab.workings import Array

_Rows = TypeVar("_Rows", PanelRows, SandwichRows, SpanRows, PlatingRows)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PanelSubject:
    """A panel: its case, and where the plies of its laminate come from."""

    case: PanelCase
    come: tuple[Origin, ...]
    rows: PanelRows | SandwichRows
    """The one row of it without scatter."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SpanSubject:
    """A span: its case, where the plies of its plating come from, its section, its walls' laminates."""

    case: SpanCase
    come: tuple[Origin, ...]
    form: SectionForm
    walls: tuple[str, ...]
    rows: SpanRows
    plain: PlatingRows
    """The one row of each without scatter."""


def panel_subject(method: Method, case: PanelCase, come: tuple[Origin, ...]) -> PanelSubject:
    """Return a panel as a subject."""
    rows = sandwich_rows if is_sandwich(case.stack) else panel_rows
    return PanelSubject(case=case, come=come, rows=rows([case], method.evaluation))


def span_subject(
    method: Method, case: SpanCase, come: tuple[Origin, ...], form: SectionForm, walls: tuple[str, ...]
) -> SpanSubject:
    """Return a span as a subject.

    Raises
    ------
    StringerlabError
        When its section has no number to give.
    """
    plain = plating_rows([case], [form.facts])
    nominal = section_properties(
        case.section,
        Plating(stack=case.plating, width=float(method.plating(plain)[0]), deadrise=case.drawn_deadrise),
        method.moduli,
        None if method.evaluation.bare else method.evaluation,
    )
    rows = span_rows([case], [nominal], [form.facts], method.evaluation)
    return SpanSubject(case=case, come=come, form=form, walls=walls, rows=rows, plain=plain)


@dataclass(slots=True, kw_only=True, eq=False)
class Batch:
    """n samples of the laminates, and what is made of them once for all subjects."""

    method: Method
    cloths: Mapping[str, Sampled]
    count: int
    _laid: dict[tuple[Origin, ...], Laid] = field(default_factory=dict[tuple[Origin, ...], Laid])
    _stands: dict[int, Standing] = field(default_factory=dict[int, Standing])
    _beds: dict[tuple[int, tuple[Origin, ...]], Bedded] = field(
        default_factory=dict[tuple[int, tuple[Origin, ...]], Bedded]
    )
    _sizes: dict[int, tuple[Array, ...]] = field(default_factory=dict[int, tuple[Array, ...]])

    def laid(self, case: PanelCase | SpanCase, come: tuple[Origin, ...]) -> Laid:
        """Return samples of a subject's laminate."""
        if come not in self._laid:
            stack = case.stack if isinstance(case, PanelCase) else case.plating
            self._laid[come] = Laid.of(stack, come, self.cloths, self.method.evaluation)
        return self._laid[come]

    def walls(self, subject: SpanSubject) -> list[Laid]:
        """Return samples of the laminates of a section's walls."""
        found: list[Laid] = []
        for name, wall in zip(subject.walls, subject.form.shape.walls, strict=True):
            come = tuple(Origin(laminate=name, ply=ply, share=1.0) for ply in range(len(wall.stack.plies)))
            if come not in self._laid:
                self._laid[come] = Laid.of(wall.stack, come, self.cloths, self.method.evaluation)
            found.append(self._laid[come])
        return found

    def stands(self, subject: SpanSubject) -> Standing:
        """Return samples of a span's section without plating."""
        key = id(subject.form)
        if key not in self._stands:
            self._stands[key] = standing(subject.form, self.walls(subject), self.method.moduli)
        return self._stands[key]

    def beds(self, subject: SpanSubject) -> Bedded:
        """Return samples of a span's section on its plating."""
        key = id(subject.form), subject.come
        if key not in self._beds:
            under, slope = self.laid(subject.case, subject.come), subject.case.drawn_deadrise
            self._beds[key] = bedded(self.stands(subject), under, slope, self.method.moduli)
        return self._beds[key]

    def sizes(self, subject: SpanSubject) -> tuple[Array, ...]:
        """Return samples of what a span's section measures.

        Returns
        -------
        tuple
            Web area, crown width, crown thickness, thickness of the thinnest web, least shear strength of the
            webs; (n,) each, nan for the last two without webs.
        """
        key = id(subject.form)
        if key not in self._sizes:
            walls = self.walls(subject)
            parts = [of.fabric / sum(ply.thickness for ply in reinforced(of.stack)) for of in walls]
            webs = [walls[place] for place in subject.form.sizes.webs]
            none = np.full(self.count, np.nan)
            self._sizes[key] = (
                *subject.form.sizes.at(parts),
                np.min([of.thickness for of in webs], axis=0) if webs else none,
                np.min([of.shear for of in webs], axis=0) if webs else none,
            )
        return self._sizes[key]


def judged_panel(batch: Batch, craft: CraftRow, subject: PanelSubject) -> Sequence[Judged]:
    """Judge n samples of a panel."""
    of = batch.laid(subject.case, subject.come)
    if isinstance(subject.rows, SandwichRows):
        rows = _repeated(subject.rows, batch.count)
        places = [place for place, ply in enumerate(subject.case.stack.plies) if ply.role is Role.CORE]
        o, i = _skin(of.part(slice(0, places[0]))), _skin(of.part(slice(places[-1] + 1, None)))
        return batch.method.judge_sandwiches(
            craft,
            dataclasses.replace(
                rows,
                t_o=o.t,
                t_i=i.t,
                t_c=of.thickness - o.t - i.t,
                E_o=o.E,
                E_i=i.E,
                sigma_ut_o=o.tension,
                sigma_uc_o=o.compression,
                sigma_ut_i=i.tension,
                sigma_uc_i=i.compression,
            ),
        )
    rows = _repeated(subject.rows, batch.count)
    kept = of.reinforced
    tension, compression = of.direct
    return batch.method.judge_panels(
        craft,
        dataclasses.replace(
            rows,
            t=of.thickness,
            sigma_uf=of.flexural,
            plies=dataclasses.replace(
                rows.plies,
                t=of.t[:, kept],
                E=of.plain[:, kept],
                tension=tension[:, kept],
                compression=compression[:, kept],
                interlaminar=of.interlaminar[:, kept],
            ),
        ),
    )


def judged_span(batch: Batch, craft: CraftRow, subject: SpanSubject) -> Sequence[Judged]:
    """Judge n samples of a span."""
    return batch.method.judge_spans(craft, sampled_span(batch, subject))


def sampled_span(batch: Batch, subject: SpanSubject) -> SpanRows:
    """Return n samples of a span as rows."""
    method, case, form = batch.method, subject.case, subject.form
    under, stands = batch.laid(case, subject.come), batch.stands(subject)
    plain = subject.plain
    base = plain.base_width + form.sizes.spreading * stands.lift
    width = method.plating(
        dataclasses.replace(_platings(plain, under, batch.count), base_width=np.maximum(base, 0.0))
    )
    stiff = batch.beds(subject).counted(width)
    rows = _repeated(subject.rows, batch.count)
    web_area, crown_width, crown_thickness, web_thickness, web_tau = batch.sizes(subject)
    found = dataclasses.replace(
        rows,
        EI=stiff.EI,
        fibre_E=stiff.E,
        fibre_z=stiff.z,
        fibre_tension=stiff.tension,
        fibre_compression=stiff.compression,
        web_area=web_area,
        crown_width=crown_width,
        crown_thickness=crown_thickness,
    )
    if not form.sizes.webs:
        return found
    return dataclasses.replace(found, web_thickness=web_thickness, web_tau=web_tau)


def _platings(plain: PlatingRows, under: Laid, count: int) -> PlatingRows:
    t = under.thickness
    if plain.sandwich[0]:
        core = [ply.role is Role.CORE for ply in under.stack.plies]
        first, last = core.index(True), len(core) - 1 - core[::-1].index(True)
        t = under.part(slice(0, first)).thickness + under.part(slice(last + 1, None)).thickness
    return dataclasses.replace(_repeated(plain, count), t=t, E_G=under.over_shear)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Skin:
    t: Array
    E: Array
    tension: Array
    compression: Array


def _skin(of: Laid) -> _Skin:
    """Return a skin as one, as `methods.rows` does: its first ply fails at its own strain."""
    kept = of.reinforced
    t, E = of.t[:, kept], of.plain[:, kept]
    tension, compression = (each[:, kept] for each in of.direct)
    whole = t.sum(axis=1)
    mean = (E * t).sum(axis=1) / whole
    return _Skin(
        t=whole,
        E=mean,
        tension=mean * (tension / E).min(axis=1, initial=np.inf),
        compression=mean * (compression / E).min(axis=1, initial=np.inf),
    )


def _repeated(rows: _Rows, count: int) -> _Rows:
    """Return the one row there is so many times; what is only said of it is left out."""
    return cast(_Rows, _as_many(rows, count))


def _as_many(rows: Any, count: int) -> Any:
    changed: dict[str, Any] = {}
    for one in dataclasses.fields(rows):
        value: Any = getattr(rows, one.name)
        if isinstance(value, np.ndarray):
            known = cast("np.ndarray[Any, Any]", value)
            if len(known) == 1:
                changed[one.name] = np.broadcast_to(known, (count, *known.shape[1:]))
        elif isinstance(value, Plies):
            changed[one.name] = _as_many(value, count)
        elif one.name == "duties":
            changed[one.name] = cast(tuple[Any, ...], value) * count
        elif one.name.endswith("remarks"):
            changed[one.name] = ()
    return dataclasses.replace(rows, **changed)
