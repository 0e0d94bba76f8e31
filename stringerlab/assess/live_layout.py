"""A layout under the hand: the rule findings of its panels and spans, for the same frame.

The same functions as in a whole check. What has the same sizes and laminates as in the frame before is not
judged again; what only a whole check brings, the mechanics and the grid, is left to it.
"""

from collections.abc import Callable, Hashable, Sequence
from typing import TypeVar

from stringerlab.assess.judging import judged_panels, judged_spans
from stringerlab.layout import PanelCase, SpanCase
from stringerlab.methods import Finding, craft_row, method_named
from stringerlab.project import Project, Resolved

_Case = TypeVar("_Case", PanelCase, SpanCase)
_Kept = tuple[tuple[object, ...], tuple[Finding, ...]]


class LiveLayout:
    """Judges what is found in the layout in use; remembers the frame before."""

    def __init__(self) -> None:
        self._kept: dict[Hashable, _Kept] = {}
        self.judged = 0
        """How many panels and spans the last frame judged anew."""

    def findings(self, project: Project, resolved: Resolved) -> tuple[Finding, ...]:
        """Return the rule findings of every sound panel and span found, panels first.

        Parameters
        ----------
        project
            The document, or a preview of it during a drag.
        resolved
            The same with ids swapped for objects.

        Raises
        ------
        StringerlabError
            When the project has no such method, or a section has no number to give.
        """
        if resolved.found is None:
            self._kept = {}
            return ()
        method, craft = method_named(project.method), craft_row(project.craft)
        how = (project.method, id(project.craft))
        now: dict[Hashable, _Kept] = {}
        self.judged = 0
        bays = {bay.id for bay in resolved.found.bays}
        spans = {span.id for span in resolved.found.spans}
        found = [
            *self._of(
                [case for case in resolved.panels if case.panel.id in bays],
                lambda case: (*how, case.panel, id(case.stack), id(case.hull), case.notes),
                lambda case: case.panel.id,
                lambda cases: judged_panels(method, craft, cases),
                now,
                project,
            ),
            *self._of(
                [case for case in resolved.spans if case.span.id in spans],
                lambda case: (*how, case.span, id(case.section), id(case.plating), case.notes),
                lambda case: case.span.id,
                lambda cases: judged_spans(method, craft, cases),
                now,
                project,
            ),
        ]
        self._kept = now
        return tuple(found)

    def _of(
        self,
        cases: Sequence[_Case],
        key: Callable[[_Case], Hashable],
        subject: Callable[[_Case], str],
        judge: Callable[[Sequence[_Case]], Sequence[Finding]],
        now: dict[Hashable, _Kept],
        project: Project,
    ) -> list[Finding]:
        keys = [key(case) for case in cases]
        fresh = [case for case, each in zip(cases, keys, strict=True) if each not in self._kept]
        self.judged += len(fresh)
        found: dict[str, list[Finding]] = {}
        for finding in judge(fresh) if fresh else ():
            found.setdefault(finding.subject, []).append(finding)
        every: list[Finding] = []
        for case, each in zip(cases, keys, strict=True):
            # the case and the craft are kept too: an id stands for one object only while that lives
            kept = self._kept.get(each) or ((case, project.craft), tuple(found.get(subject(case), ())))
            now[each] = kept
            every += kept[1]
        return every
