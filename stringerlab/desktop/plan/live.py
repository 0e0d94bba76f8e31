"""What a drag does to the rule's verdicts: panels and spans whose worst finding changes, as a picture."""

from collections.abc import Mapping

from stringerlab.assess.live_layout import LiveLayout
from stringerlab.desktop.session import Session
from stringerlab.drawing import Picture
from stringerlab.drawing.plan_options import PlanOptions
from stringerlab.drawing.plan_results import Overlay, plan_results, worst_of
from stringerlab.errors import StringerlabError
from stringerlab.layout.plan import Layout
from stringerlab.methods import Finding, Verdict
from stringerlab.project import Project

_SAME = 0.005
"""Utilisations nearer than this are one."""


class Live:
    """Judges the preview by the rule, frame by frame, against the committed project."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._judge = LiveLayout()
        self._base: tuple[Project, Mapping[str, Finding]] | None = None
        self._frame: tuple[Project, Picture, str] | None = None

    def begin(self) -> None:
        """Judge the committed project, so that the first frame of a drag has little left to do."""
        session = self._session
        if session.shown is not session.project or (self._base and self._base[0] is session.project):
            return
        self._base = (session.project, self._worst())

    def shown(self, layout: Layout, options: PlanOptions) -> tuple[Picture, str]:
        """Return the changed verdicts of the preview, and a line that sums up all; nothing without one."""
        session = self._session
        project, resolved = session.shown, session.resolved
        if project is session.project or project.layout != layout.id or resolved.found is None:
            self._frame = None
            return Picture(), ""
        if self._frame is None or self._frame[0] is not project:
            now = self._worst()
            before: Mapping[str, Finding] = {}
            if self._base is not None and self._base[0] is session.project:
                before = self._base[1]
            changed = [each for each in now.values() if _differs(each, before.get(each.subject))]
            over = plan_results(Overlay.USE, resolved.found, findings=changed, options=options)
            self._frame = (project, over.picture, _summed(now))
        return self._frame[1], self._frame[2]

    def _worst(self) -> Mapping[str, Finding]:
        try:
            return worst_of(self._judge.findings(self._session.shown, self._session.resolved))
        except StringerlabError:
            return {}  # the check says why


def _differs(now: Finding, before: Finding | None) -> bool:
    if before is None or now.verdict is not before.verdict:
        return True
    return abs((now.utilisation or 0.0) - (before.utilisation or 0.0)) > _SAME


def _summed(worst: Mapping[str, Finding]) -> str:
    """Return how many hold, and the worst, in words."""
    if not worst:
        return ""
    count = {verdict: sum(each.verdict is verdict for each in worst.values()) for verdict in Verdict}
    words = ", ".join(f"{number} {verdict.value}" for verdict, number in count.items() if number)
    most = max(worst.values(), key=lambda each: each.utilisation or 0.0)
    if most.utilisation is None:
        return f"By the rule: {words}."
    return f"By the rule: {words}; worst {most.utilisation:.2f}, {most.name}, {most.aspect.value}."
