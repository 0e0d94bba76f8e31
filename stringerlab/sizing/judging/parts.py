"""The boat in parts: sections, platings and panels, each with what it depends on, made once and shared."""

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import replace
from math import dist
from typing import Final

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.laminate import resolve as resolved_laminate
from stringerlab.laminate.records import Laminate, Ply, PlyNumbers, Stack
from stringerlab.layout import Panel, Span
from stringerlab.methods import Method
from stringerlab.project import Project
from stringerlab.project.bonding import adhesive_of
from stringerlab.project.drafting_shapes import HatParameters, hat_parameters, with_hat
from stringerlab.project.plating import named_laminate, plated, zones_under
from stringerlab.project.section_shapes import drawn_deadrise
from stringerlab.project.wishes import Change
from stringerlab.section import Section
from stringerlab.sizing.amounts import hull_plies, material_named
from stringerlab.sizing.changing.changes import Changes, changed
from stringerlab.sizing.changing.choices import HAT_FIELDS, NumberVariable
from stringerlab.sizing.judging.bare import Source
from stringerlab.sizing.judging.dear import LAMINATE, SECTION, Dear
from stringerlab.sizing.judging.drawn_rows import DrawnSource, alone
from stringerlab.sizing.judging.hat_rows import HatSource
from stringerlab.sizing.judging.lookups import Lookup
from stringerlab.sizing.judging.orders import Orders
from stringerlab.sizing.judging.panel_rows import Laid
from stringerlab.sizing.judging.pricing import Pricing, Taking
from stringerlab.sizing.judging.stacks import Stacks
from stringerlab.sizing.judging.touching import Touching
from stringerlab.sizing.judging.varied import Sizes, Varied
from stringerlab.units.ranges import range_problems

_DRAWN_SO: Final = 1e-8
"""A drawn hat within this of what its parameters draw is that hat [mm]."""
MANY: Final = 50_000
"""Laminates, or sections drawn, that are remembered at a time."""
_NOTHING: Final = Taking(0.0, 0.0, 0.0)


class Parts:
    """Sections, platings and panels of a boat, as its variables decide them."""

    def __init__(self, project: Project, touching: Touching, method: Method, pricing: Pricing) -> None:
        self.project, self.touching, self.method, self.pricing = project, touching, method, pricing
        self.platings = Stacks(method.moduli, method.evaluation, pricing)
        self.laid = Laid(method)
        self._counts = touching.space.columns
        self._lean = alone(project, set())
        self._laid_as_is = {one.id: one for one in project.laminates}
        self._stacks: dict[Laminate, Stack | None] = {}
        self._by_material: dict[Laminate, Stack] = {}
        self._plies: dict[tuple[Ply, int], tuple[PlyNumbers, ...]] = {}
        self._sources: dict[str, Source] = {}
        self._under: dict[Hashable, Lookup] = {}
        self._at: dict[Hashable, Lookup] = {}
        self._plating_stacks: dict[int, Stack] = {}
        self._orders = Orders(self._stack)
        self._lookups: list[Lookup] = []
        self._hat_stacks: list[Stacks] = []

    def _levels(self) -> bool:
        """Whether no section is drawn with its plating: then nobody asks for a plating as it is."""
        return all(drawn_deadrise(one) == 0 for one in self.project.sections)

    def forget_many(self) -> None:
        """Forget laminates met, where there are so many that they would fill memory."""
        held = [self.platings, self.laid, *self._hat_stacks, *self._lookups]
        drawn = [one for one in self._sources.values() if isinstance(one, DrawnSource)]
        if max(len(self._stacks), *(len(one) for one in held), *(len(one) for one in drawn), 0) < MANY:
            return
        for one in (*held, *drawn):
            one.forget()
        for kept in (self._stacks, self._by_material, self._plating_stacks):
            kept.clear()
        self._orders = Orders(self._stack)

    def dear(self) -> Iterator[Dear]:
        """Yield what is drawn or made anew for combinations of columns, as far as it was asked for."""
        for source in self._sources.values():
            if isinstance(source, DrawnSource):
                yield Dear(source.columns, SECTION)
        for lookup in self._lookups:
            yield Dear(lookup.of.columns, LAMINATE)

    # -- laminates -------------------------------------------------------------------------------

    def _laminates(self, variables: Sequence[int], values: Sequence[int]) -> dict[str, Laminate] | None:
        """Return all laminates with some variables' columns at these values; None where they spell none."""
        try:
            changes = self.touching.gathered(self._lean, variables, values)
            if changes.runs:
                return {one.id: one for one in changed(self._lean, changes).laminates}
        except StringerlabError:
            return None
        found = dict(self._laid_as_is)
        for one, (first, stop, plies) in changes.plies.items():
            held = found[one].plies
            found[one] = replace(found[one], plies=(*held[:first], *plies, *held[stop:]))
        return found

    def _stack(self, laminate: Laminate) -> Stack | None:
        if laminate not in self._stacks:
            try:
                self._stacks[laminate] = resolved_laminate(laminate, self.pricing.book, self._plies)
            except StringerlabError:
                self._stacks[laminate] = None
        return self._stacks[laminate]

    def _named(self, laminate: Laminate, stack: Stack) -> Stack:
        """Return a resolved laminate, every ply named by its material's id."""
        known = self._by_material.get(laminate)
        if known is None:
            known = self._by_material[laminate] = material_named(laminate, stack)
        return known

    # -- sections --------------------------------------------------------------------------------

    def source(self, section_id: str) -> Source:
        """Return what gives a section of every design."""
        known = self._sources.get(section_id)
        if known is None:
            known = self._sources[section_id] = self._source(section_id)
        return known

    def _source(self, section_id: str) -> Source:
        section = next(one for one in self.project.sections if one.id == section_id)
        variables = self.touching.of_section(section_id)
        hat = self._level_hat(section) if variables else None
        if hat is not None:
            return self._hat_source(section, hat, variables)
        named = {
            one
            for number in variables
            if isinstance(variable := self.touching.space.variables[number], NumberVariable)
            and variable.number.change is not Change.REPEATS
            for one in variable.number.of
        }
        lean = alone(self.project, {section_id, *named})
        return DrawnSource(
            section_id,
            self.touching.columns(variables),
            self._counts,
            lambda values: self.touching.applied(lean, variables, values),
            self.method,
            self.pricing,
            lambda number: self._plating_stacks[number],
        )

    def _level_hat(self, section: Section) -> HatParameters | None:
        """Return the hat that is all of a section on a level shell, drawn as its parameters draw it."""
        if len(section.walls) != 1 or section.fills or drawn_deadrise(section) != 0:
            return None
        [wall] = section.walls
        hat = None if wall.on_hull is not None else hat_parameters(self.project, section)
        if hat is None:
            return None
        redrawn = with_hat(self.project, section.id, wall.id, hat)
        [fresh] = next(one for one in redrawn.sections if one.id == section.id).walls
        ends = wall.points if wall.points[0][0] <= wall.points[-1][0] else wall.points[::-1]
        apart = max(dist(one, other) for one, other in zip(ends, fresh.points, strict=True))
        return hat if apart <= _DRAWN_SO else None

    def _hat_source(self, section: Section, hat: HatParameters, variables: Sequence[int]) -> HatSource:
        varied: dict[str, Varied] = {}
        for number in variables:
            variable = self.touching.space.variables[number]
            if not isinstance(variable, NumberVariable) or variable.number.change is Change.REPEATS:
                continue
            change = variable.number.change
            name = "bead" if change is Change.BEAD else HAT_FIELDS[change]
            values = np.array(variable.values, float)
            choice, exact = variable.nearest(self.project)
            if exact:
                values[choice] = section.bead if change is Change.BEAD else getattr(hat, name)
            [column] = self.touching.columns([number])
            varied[name] = Varied(column, values, values >= 0)
        stacks = Stacks(self.method.moduli, self.method.evaluation, self.pricing)
        self._hat_stacks.append(stacks)
        adhesive = adhesive_of(replace(section, bead=max(section.bead, 1.0)), self.pricing.book)
        glued = adhesive is not None
        return HatSource(
            hat,
            section.bead,
            varied,
            self._lookup([hat.laminate], lambda laminates: self._hat_number(laminates[hat.laminate], stacks)),
            stacks,
            _NOTHING if adhesive is None else self.pricing.of_adhesive(adhesive),
            self.pricing.of_beads() if glued else _NOTHING,
        )

    def _hat_number(self, laminate: Laminate, stacks: Stacks) -> int:
        found = self._orders.sorted(laminate)
        if found is not None:
            named = self._named(found.laminate, found.stack)
            number = stacks.number(found.stack, [ply.name for ply in named.plies])
            return stacks.reordered(number, found.back)
        stack = self._stack(laminate)
        materials = () if stack is None else [ply.name for ply in self._named(laminate, stack).plies]
        return stacks.number(stack, materials)

    def _lookup(self, laminates: Sequence[str], number: Callable[[dict[str, Laminate]], int]) -> Lookup:
        variables = self.touching.of_laminates(laminates)

        def make(values: tuple[int, ...]) -> int:
            found = self._laminates(variables, values)
            return 0 if found is None else number(found)

        found = Lookup(self.touching.columns(variables), self._counts, make)
        self._lookups.append(found)
        return found

    # -- plating ---------------------------------------------------------------------------------

    def under(self, span: Span) -> Lookup:
        """Return the number of the plating under a span, of every design."""
        key = self._place(span)
        known = self._under.get(key)
        if known is None:
            lies = self._lies(span)
            level = self._levels()

            def number(laminates: dict[str, Laminate]) -> int:
                if level and named_laminate(span):
                    of = self._orders.sorted(laminates[lies[0]])
                    if of is not None:
                        found = self.platings.number(of.stack, [""] * len(of.stack.plies))
                        return self.platings.reordered(found, of.back)
                stacks = self._those(laminates, lies)
                if stacks is None:
                    return 0
                hull = plated(self.project, stacks, span).hull
                found = self.platings.number(hull, [""] * len(hull.plies))
                self._plating_stacks[found] = hull
                return found

            known = self._under[key] = self._lookup(lies, number)
        return known

    def at(self, panel: Panel) -> Lookup:
        """Return the number of what lies at a panel, of every design."""
        key = (*self._place(panel), panel.pan)
        known = self._at.get(key)
        if known is None:
            lies = self._lies(panel)

            def number(laminates: dict[str, Laminate]) -> int:
                of = self._orders.sorted(laminates[lies[0]]) if len(key) == 2 and panel.pan is None else None
                if of is not None and named_laminate(panel):
                    plies = self._named(of.laminate, of.stack).plies
                    taking = self.pricing.of_stack([(ply, ply.name) for ply in plies])
                    return self.laid.reordered(self.laid.number(of.stack, None, taking), of.back)
                stacks = self._those(laminates, lies)
                if stacks is None:
                    return 0
                found = plated(self.project, stacks, panel)
                known = {one: self._named(laminates[one], stacks[one]) for one in lies}
                plies = hull_plies(self.project, known, panel)
                taking = self.pricing.of_stack([(ply, ply.name) for ply in plies])
                hull = None if found.hull is found.counted else found.hull
                return self.laid.number(found.counted, hull, taking)

            known = self._at[key] = self._lookup(lies, number)
        return known

    def _those(self, laminates: dict[str, Laminate], lies: Sequence[str]) -> dict[str, Stack] | None:
        stacks = {one: self._stack(laminates[one]) for one in lies}
        found = {one: stack for one, stack in stacks.items() if stack is not None}
        return found if len(found) == len(stacks) else None

    def _lies(self, subject: Panel | Span) -> list[str]:
        """Return the laminates that lie at a subject, by id."""
        named = named_laminate(subject)
        found = [named] if named else [zone.laminate for zone in zones_under(self.project, subject)]
        if isinstance(subject, Panel) and subject.pan is not None:
            found.append(subject.pan.laminate)
        return list(dict.fromkeys(found))

    def _place(self, subject: Panel | Span) -> tuple[Hashable, ...]:
        """Return what decides the plating at a subject: equal for subjects with the same."""
        if named := named_laminate(subject):
            return (named,)
        zones = zones_under(self.project, subject)
        return (*(zone.id for zone in zones), subject.x if any(zone.taper for zone in zones) else 0.0)

    # -- sizes -----------------------------------------------------------------------------------

    def sizes(self, subject: Panel | Span) -> Sizes:
        """Return a subject's own sizes, of every design."""
        varied: dict[str, Varied] = {}
        for number, touch in enumerate(self.touching.touches):
            variable = self.touching.space.variables[number]
            if subject.id not in touch.subjects or not isinstance(variable, NumberVariable):
                continue
            [column] = self.touching.columns([number])
            for name, values in self._sized(subject, variable).items():
                sound = [not range_problems(replace(subject, **{name: value})) for value in values]
                varied[name] = Varied(column, np.array(values, float), np.array(sound, np.bool_))
        return Sizes(subject, varied)

    def _sized(self, subject: Panel | Span, variable: NumberVariable) -> dict[str, list[float]]:
        found: dict[str, list[float]] = {}
        for choice in range(variable.count):
            changes = Changes()
            variable.gather(changes, self.project, choice)
            for name in ("s", "lu") if isinstance(subject, Span) else ("b", "l"):
                of = variable.number.change is Change.SPACING
                if (name in ("s", "b")) is of:
                    value = changes.subjects.get(subject.id, {}).get(name, getattr(subject, name))
                    found.setdefault(name, []).append(value)
        return found


__all__ = ["Parts"]
