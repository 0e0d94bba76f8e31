"""Problems of a run as they are shown: with names in place of what only a file knows, and where to go."""

from collections.abc import Iterable

from stringerlab.errors import Problem
from stringerlab.project import Project
from stringerlab.project.pointing import pointed_at
from stringerlab.project.wish_words import wish_name
from stringerlab.project.wishes import Study


def placed(
    problems: Iterable[Problem], project: Project, study: Study | None = None
) -> list[tuple[str, str]]:
    """Return problems in words, each with the id of the thing it is of, empty for none.

    Parameters
    ----------
    problems
        What is wrong.
    project
        The boat.
    study
        Whose numbers are called by what they change.
    """
    shown: list[tuple[str, str]] = []
    for problem in problems:
        words = str(problem)
        for number in study.along if study else ():
            words = words.replace(f"what may change, '{number.id}'", wish_name(project, number))
        shown.append((words, pointed_at(project, problem.where)))
    return shown
