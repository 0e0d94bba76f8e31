"""Assess a project off the window's thread; a run that another overtakes stops, and its end is dropped."""

from stringerlab.assess import check
from stringerlab.desktop.jobs import Job
from stringerlab.project import Project


class Assessor(Job):
    """Runs checks, only the latest to its end; ``finished`` brings its ``Results``."""

    def assess(self, project: Project) -> None:
        """Assess a project; a run under way is told to stop and its results are dropped."""
        self.start(lambda watch: check(project, watch=watch))
