"""The boat's panels and spans, as plan and craft decide them: each setting resolved once, then shared."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from threading import RLock

import numpy as np

from stringerlab.assess.built import built_lengths
from stringerlab.errors import StringerlabError
from stringerlab.layout import Panel, Span
from stringerlab.methods import CraftRow, Method, craft_row
from stringerlab.project import Project, Resolved, resolve
from stringerlab.project.section_shapes import sections_of
from stringerlab.project.wishes import Holds, Wishes
from stringerlab.sizing.amounts import plating_areas
from stringerlab.sizing.changing.choices import NumberVariable
from stringerlab.sizing.judging.demands import Asked
from stringerlab.sizing.judging.lookups import DENSE, Combinations, Index, Lookup
from stringerlab.sizing.judging.panel_rows import PanelCell, PanelPart
from stringerlab.sizing.judging.parts import Parts
from stringerlab.sizing.judging.span_rows import SpanCell, SpanPart
from stringerlab.sizing.judging.tally import Tally
from stringerlab.sizing.judging.touching import Touching
from stringerlab.sizing.records import Genes
from stringerlab.sizing.running.pulse import beat
from stringerlab.units.ranges import range_problems

FEW = 2**16
"""Combinations of a cell that are remembered where the plan is always the same; else far fewer."""
_FRAMED = 2**10

Cell = PanelCell | SpanCell


@dataclass(frozen=True, slots=True, eq=False)
class Frame:
    """The panels and spans of a plan that can be, all of them as far as the boat's own can be judged."""

    spans: tuple[SpanPart, ...]
    panels: tuple[PanelPart, ...]


class Remembered:
    """Cells of one setting that depend on the same columns, remembered by combination where they are few."""

    def __init__(self, cells: Sequence[Cell], counts: Sequence[int], demands: int, most: int) -> None:
        self.cells, self._demands = tuple(cells), demands
        self.columns = cells[0].columns
        self._of = Combinations(self.columns, counts)
        self._lock = RLock()
        few = self._of.count <= min(most, DENSE)
        self._table = Tally.of(self._of.count, demands) if few else None
        self._filled = np.zeros(self._of.count if few else 0, np.bool_)

    def tally(self, genes: Genes) -> Tally:
        """Return what the cells come to, of every design."""
        beat()
        if self._table is None:
            return self.made(genes)
        codes = self._of.codes(genes)
        if not self._filled[codes].all():
            with self._lock:
                missing, first = np.unique(codes, return_index=True)
                new = ~self._filled[missing]
                if new.any():
                    self._table.put(missing[new], self.made(genes[first[new]]))
                    self._filled[missing[new]] = True
        return self._table.at(codes)

    def made(self, genes: Genes) -> Tally:
        """Return the same, judged anew."""
        whole = self.cells[0].tally(genes)
        for cell in self.cells[1:]:
            whole.add(cell.tally(genes))
        return whole


class Frames:
    """The settings of a boat: which plan, which craft; and their cells."""

    def __init__(
        self,
        project: Project,
        resolved: Resolved,
        touching: Touching,
        parts: Parts,
        method: Method,
        asked: Asked,
    ) -> None:
        self._project, self._touching, self._parts = _lean(project, touching), touching, parts
        self._by_hand = Frame((), ())
        self._shown = tuple(one.id for one in project.sections)
        self._method, self._asked = method, asked
        self._counts = touching.space.columns
        self._lock = RLock()
        self._frames: list[Frame | None] = [None]
        self._crafts: list[CraftRow | None] = [None]
        self._cells: dict[tuple[int, int], tuple[Remembered, ...] | None] = {}
        plan, craft = touching.of_plan, touching.of_craft
        self._plan = Lookup(touching.columns(plan), self._counts, lambda values: self._framed(plan, values))
        self._craft = Lookup(
            touching.columns(craft), self._counts, lambda values: self._crafted(craft, values)
        )
        frame = self._frame(project, resolved)
        own = {one.id for one in (*project.panels, *project.spans)}
        if frame is not None:
            self._by_hand = Frame(
                tuple(one for one in frame.spans if one.span.id in own),
                tuple(one for one in frame.panels if one.panel.id in own),
            )
        self._present = None if plan else self._add(frame)
        for section in self._looked_at():
            parts.source(section)

    @property
    def plan_columns(self) -> tuple[int, ...]:
        """The columns whose every combination is a setting that is resolved."""
        return self._plan.of.columns

    @property
    def setting_columns(self) -> tuple[int, ...]:
        """The columns of plan and craft: every combination is judged on its own."""
        return tuple(sorted({*self._plan.of.columns, *self._craft.of.columns}))

    def settings(self, genes: Genes) -> Iterator[tuple[tuple[Remembered, ...] | None, Index]]:
        """Yield every setting among designs: its cells, None where it cannot be, and which have it."""
        frames, crafts = self._plan(genes), self._craft(genes)
        codes = frames * len(self._crafts) + crafts
        if (codes == codes[0]).all():
            yield self.cells(int(frames[0]), int(crafts[0])), np.arange(len(genes))
            return
        order = np.argsort(codes, kind="stable")
        for some in np.split(order, np.flatnonzero(np.diff(codes[order])) + 1):
            yield self.cells(int(frames[some[0]]), int(crafts[some[0]])), some

    def cells(self, frame: int, craft: int) -> tuple[Remembered, ...] | None:
        """Return the cells of a setting; None where it cannot be."""
        with self._lock:
            key = (frame, craft)
            if key not in self._cells:
                held, row = self._frames[frame], self._crafts[craft]
                self._cells[key] = None if held is None or row is None else self._celled(held, row)
            return self._cells[key]

    # -- making ----------------------------------------------------------------------------------

    def _add(self, frame: Frame | None) -> int:
        if frame is None:
            return 0
        self._frames.append(frame)
        return len(self._frames) - 1

    def _framed(self, variables: Sequence[int], values: tuple[int, ...]) -> int:
        if not variables:
            return self._present or 0
        return self._add(self._tried(variables, values) or self._tried_thin(variables, values))

    def _tried(self, variables: Sequence[int], values: Sequence[int]) -> Frame | None:
        try:
            project = self._touching.applied(self._project, variables, values)
        except StringerlabError:
            return None
        found = self._frame(project, resolve(project))
        if found is None:
            return None
        own = self._by_hand
        return Frame((*own.spans, *found.spans), (*own.panels, *found.panels))

    def _tried_thin(self, variables: Sequence[int], values: tuple[int, ...]) -> Frame | None:
        """Return the same with every other laminate at its first choice: a plan does not depend on them.

        A hat that cannot be drawn of the boat's own laminate may well be of a thinner one.
        """
        touching, space = self._touching, self._touching.space
        thin = [
            number
            for number, touch in enumerate(touching.touches)
            if touch.laminates and number not in variables
        ]
        if not thin:
            return None
        row = space.genes_of([0] * len(space.variables))
        row[list(touching.columns(variables))] = values
        every = sorted({*variables, *thin})
        return self._tried(every, row[list(touching.columns(every))].tolist())

    def _crafted(self, variables: Sequence[int], values: tuple[int, ...]) -> int:
        try:
            self._crafts.append(craft_row(self._touching.applied(self._project, variables, values).craft))
        except StringerlabError:
            return 0
        return len(self._crafts) - 1

    def _frame(self, project: Project, resolved: Resolved) -> Frame | None:
        """Return the panels and spans of a project; None where one is blocked that was not before."""
        if any(one not in self._asked.blocked for one in resolved.blocked):
            return None
        built, areas = built_lengths(project, resolved), plating_areas(resolved)
        sections = {one.id for one in project.sections if one.id in resolved.shapes}
        found = {one.id for one in (() if resolved.found is None else resolved.found.bays)}
        parts = self._parts
        return Frame(
            spans=tuple(
                SpanPart(
                    one,
                    parts.sizes(one),
                    None if one.id in resolved.blocked else parts.under(one),
                    built.get(one.id),
                )
                for one in resolved.subjects
                if isinstance(one, Span) and one.section in sections and not range_problems(one)
            ),
            panels=tuple(
                PanelPart(one, parts.sizes(one), parts.at(one), areas[one.id] if one.id in found else None)
                for one in resolved.subjects
                if isinstance(one, Panel) and one.id not in resolved.blocked
            ),
        )

    def _celled(self, frame: Frame, craft: CraftRow) -> tuple[Remembered, ...]:
        method, asked, parts = self._method, self._asked, self._parts
        by_columns: dict[tuple[int, ...], list[PanelPart]] = {}
        for panel in frame.panels:
            by_columns.setdefault(panel.columns, []).append(panel)
        cells: list[Cell] = [
            PanelCell(some, method, craft, asked, parts.laid) for some in by_columns.values()
        ]
        by_section: dict[str, list[SpanPart]] = {one: [] for one in self._looked_at()}
        for span in frame.spans:
            by_section.setdefault(span.span.section, []).append(span)
        for section, spans in by_section.items():
            cells.append(
                SpanCell(parts.source(section), section, spans, method, craft, asked, parts.platings)
            )
        together: dict[tuple[int, ...], list[Cell]] = {}
        for cell in cells:
            together.setdefault(cell.columns, []).append(cell)
        most = FEW if self._present is not None else _FRAMED
        demands = len(asked.demands)
        return tuple(Remembered(held, self._counts, demands, most) for held in together.values())

    def _looked_at(self) -> list[str]:
        """Return the sections that are looked at though no span may be of them."""
        named = {one for demand in self._asked.demands if demand.holds is Holds.HEIGHT for one in demand.of}
        touched = {one for touch in self._touching.touches for one in touch.sections}
        return [one for one in self._shown if one in named | touched]


def _lean(project: Project, touching: Touching) -> Project:
    """Return a project with no more than decides its plan: quick to resolve anew.

    Panels and spans given by hand do not depend on it; other layouts stay where something of them changes.
    """
    named = {
        one
        for variable in touching.space.variables
        if isinstance(variable, NumberVariable)
        for one in variable.number.of
    }
    layouts = tuple(
        one
        for one in project.layouts
        if one.id == project.layout or not named.isdisjoint(member.id for member in one.members)
    )
    used = {section for layout in layouts for member in layout.members for section in sections_of(member)}
    used |= named
    return replace(
        project,
        layouts=layouts,
        sections=tuple(one for one in project.sections if one.id in used),
        panels=(),
        spans=(),
        as_built=None,
        parent=None,
        wishes=Wishes(),
    )


__all__ = ["Frame", "Frames", "Remembered"]
