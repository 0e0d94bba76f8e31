"""The engines the pages ask, reached when they are first asked: they take a while to import."""

from collections.abc import Callable, Mapping

from stringerlab.desktop.jobs import Watch
from stringerlab.project import Project
from stringerlab.project.wishes import Scatter, ScatterPlan, Study
from stringerlab.sizing.records import Scattering, Sensitivity, Studied

AskHelp = Callable[[Project, Watch, bool], Sensitivity]
"""What would help a project most; the last says whether the mechanics are asked too."""
AskScatter = Callable[[Project, ScatterPlan, Watch], Scattering]
AskStudy = Callable[[Project, Study, Watch], Studied]


def ask_help(project: Project, watch: Watch, mechanics: bool) -> Sensitivity:
    """Return what would help a project most."""
    from stringerlab.sizing.running import Running
    from stringerlab.sizing.studying.sensitivity import sensitivity

    return sensitivity(project, running=Running(), watch=watch, mechanics=mechanics)


def ask_scatter(project: Project, plan: ScatterPlan, watch: Watch) -> Scattering:
    """Return what scatter does to a project."""
    from stringerlab.sizing.running import Running
    from stringerlab.sizing.scatter import scatter

    return scatter(project, plan, running=Running(), watch=watch)


def ask_study(project: Project, study: Study, watch: Watch) -> Studied:
    """Return a study worked through."""
    from stringerlab.sizing.running import Running
    from stringerlab.sizing.studying.studies import study as work_through

    return work_through(project, study, running=Running(), watch=watch)


def usual_inputs() -> Mapping[str, tuple[Scatter, ...]]:
    """Return the named defaults of what scatters."""
    from stringerlab.sizing.scatter.usual import USUAL

    return USUAL
