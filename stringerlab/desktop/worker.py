"""Assess a project off the window's thread; a run that another overtakes stops, and its end is dropped."""

from contextlib import suppress

from stringerlab.assess import check
from stringerlab.desktop.jobs import Job
from stringerlab.errors import StringerlabError
from stringerlab.methods import method_named
from stringerlab.project import Project


class Assessor(Job):
    """Runs checks, only the latest to its end; ``finished`` brings its ``Results``."""

    def assess(self, project: Project) -> None:
        """Assess a project; a run under way is told to stop and its results are dropped.

        Its method is loaded here first: pages import of the same package, and two threads that do so at
        once may find it half made.
        """
        with suppress(StringerlabError):  # the run says which method there is not
            method_named(project.method)
        self.start(lambda watch: check(project, watch=watch))
