"""Very many designs judged at once, as the plain path would judge each: to 1e-10, without drawing any hat.

A boat comes apart in cells: panels over the same laminates, spans of the same section. A cell depends on few
columns of genes; its members are judged by the method's own formulas over arrays, and where it has few
combinations each is judged once. Level hats come from the vectorised section engine, every other section is
drawn and measured once a combination. What decides the plan or the craft makes a setting, resolved once.

Rule findings alone: the mechanics and the grid are not asked. What the boat as she is leaves unjudged is left
out and said in ``notes``; a design that leaves more unjudged is not sound. The highest utilisation is of what
something in the space changes; demands read all. kg, h.
"""

from collections.abc import Callable, Mapping
from contextlib import nullcontext
from threading import Lock

import numpy as np

from stringerlab.methods import Method, method_named
from stringerlab.project import Project, resolve
from stringerlab.project.wishes import SizingPlan
from stringerlab.sizing.amounts import is_priced, is_timed
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import variables_of
from stringerlab.sizing.judging.dear import CRAFT, SETTING, Dear
from stringerlab.sizing.judging.demands import asked_of, demands_of
from stringerlab.sizing.judging.frames import Frames
from stringerlab.sizing.judging.parts import Parts
from stringerlab.sizing.judging.pricing import Pricing
from stringerlab.sizing.judging.standing import Fast, Key, standing_note, tried_designs
from stringerlab.sizing.judging.tally import Tally
from stringerlab.sizing.judging.touching import Touching
from stringerlab.sizing.records import Genes, Mask, Outcome
from stringerlab.sizing.running.pulse import beat

CHUNK = 4_096
"""Designs judged at a time: what bounds memory, and stays in a core's cache."""


class Judge:
    """Judges the designs of a plan.

    Parameters
    ----------
    project
        The boat.
    plan
        What may change, and what must hold; the boat's own when None.
    method
        A method or its id; the boat's own by default.
    tried
        Whether the ends of what may change are tried out and refused where they cannot be drawn; otherwise
        designs of them are not sound.

    Raises
    ------
    StringerlabError
        With every problem of the plan, and when there is no such method.
    """

    def __init__(
        self,
        project: Project,
        plan: SizingPlan | None = None,
        method: Method | str | None = None,
        *,
        tried: bool = True,
    ) -> None:
        asked_for = project.wishes.sizing if plan is None else plan
        self.project, self.plan = project, asked_for
        self.method = method if isinstance(method, Method) else method_named(method or project.method)
        self.space = Space(variables_of(project, asked_for, tried=tried))
        self.demands = demands_of(asked_for)
        """What must hold, in the order of an outcome's ratios."""
        beat()
        resolved = resolve(project)
        beat()
        touching, pricing = Touching(project, self.space), Pricing.of(project)
        asked = asked_of(project, resolved, asked_for, self.method)
        self._asked, self._tried = asked, Lock()
        self._known = False
        beat()
        self.outer, self.groups = touching.split(resolved.subjects)
        """Columns all stand on; columns private to the spans of one section, section by section."""
        self._group_of = {column: group for group, held in enumerate(self.groups) for column in held}
        self._parts = Parts(project, touching, self.method, pricing)
        self._frames = Frames(project, resolved, touching, self._parts, self.method, asked)
        a_setting = SETTING if self._frames.plan_columns else CRAFT
        made = [Dear(self._frames.setting_columns, a_setting), *self._parts.dear()]
        self.dear = tuple(one for one in dict.fromkeys(made) if one.columns)
        """What is made anew for combinations of some columns, and its cost in designs: of the boat as is."""
        self._alone = Lock() if len(self.space.columns) > len(self.space.variables) else nullcontext()
        """Where laminates are too many to be remembered they are forgotten at times: one thread at a time."""
        self._priced, self._timed = is_priced(pricing.rates), is_timed(pricing.rates)

    @property
    def notes(self) -> tuple[str, ...]:
        """What is left out, and what of all that nothing changes is highest used, in words."""
        self._try_out()
        said = standing_note(self._asked.standing.values, self._asked.names)
        return (*self._asked.notes, *([said] if said else []))

    @property
    def standing(self) -> Mapping[Key, float]:
        """What nothing in the space changes, by subject and aspect, span or section and what is asked of it.

        It is found by trial: utilisation, part of the length, or height [mm].
        """
        self._try_out()
        return self._asked.standing.values

    def fast(self, tell: Callable[[float], None] | None = None) -> tuple[Fast | None, ...]:
        """Return the most that each demand asks of what nothing changes; None where it reads nothing such.

        Parameters
        ----------
        tell
            Told the part done of finding that out; it may raise to end it.
        """
        self._try_out(tell)
        return self._asked.fast()

    def judge(self, genes: Genes) -> Outcome:
        """Return what whole designs (n, v) come to."""
        return self._judged(genes, None)

    def rest(self, genes: Genes) -> Outcome:
        """Return what all that depends on outer columns alone comes to: panels, other spans, plating."""
        return self._judged(genes, -1)

    def part(self, group: int, genes: Genes) -> Outcome:
        """Return what the spans and members of one group come to."""
        return self._judged(genes, group)

    def _judged(self, genes: Genes, group: int | None) -> Outcome:
        """Return what the cells of a group come to: −1 for those of none, None for all."""
        self._try_out()
        n = len(genes)
        whole = Tally.of(n, len(self.demands))
        for start in range(0, n, CHUNK):
            with self._alone:
                self._put(whole, genes[start : start + CHUNK], start, group)
        return whole.outcome(priced=self._priced, timed=self._timed)

    def _try_out(self, tell: Callable[[float], None] | None = None) -> None:
        """Find out, once, what nothing in the space changes."""
        if self._known:
            return
        with self._tried:
            if self._known:
                return
            standing = self._asked.standing
            present, _ = self.space.nearest(self.project)
            genes = tried_designs(self.space, present, self._frames.plan_columns)
            known = {*self._asked.known, *(one.id for one in self.project.sections)}
            try:
                with self._alone:
                    sound = self._heard(genes, tell)
                    standing.heard = {}
                    tried = self._heard(genes[sound], None)
                standing.values = standing.found(known, len(tried))
            finally:
                standing.heard = None
            self._known = True

    def _heard(self, genes: Genes, tell: Callable[[float], None] | None) -> Mask:
        """Judge designs without remembering them; whether each is sound."""
        sound, done = np.ones(len(genes), np.bool_), 0
        for cells, rows in self._frames.settings(genes) if len(genes) else ():
            beat()
            sound[rows] = cells is not None
            for cell in cells or ():
                sound[rows] &= cell.made(genes[rows]).sound
            done += len(rows)
            if tell is not None:
                tell(done / len(genes))
        return sound

    def _put(self, whole: Tally, genes: Genes, start: int, group: int | None) -> None:
        """Write what a chunk of designs comes to into its places."""
        if not isinstance(self._alone, nullcontext):
            self._parts.forget_many()
        for cells, rows in self._frames.settings(genes):
            here = genes if len(rows) == len(genes) else genes[rows]
            tally = Tally.of(len(here), len(self.demands))
            if cells is None:
                tally.sound[:] = False
            for cell in cells or ():
                if group is None or self._group(cell.columns) == group:
                    tally.add(cell.tally(here))
            whole.put(start + rows, tally)

    def _group(self, columns: tuple[int, ...]) -> int:
        return next((self._group_of[column] for column in columns if column in self._group_of), -1)


__all__ = ["CHUNK", "Judge", "demands_of"]
