"""The parent boat's file: where it lies, and the project in it."""

from pathlib import Path

from stringerlab.data import folder
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files.store import load, samples
from stringerlab.project.records import Project

WHERE = "parent, file"


def parent_path(project_path: Path | str | None, project: Project, file: str | None = None) -> Path:
    """Return where the parent boat's file lies.

    Parameters
    ----------
    project_path
        The project's own file, whose folder a relative name starts from; None before it has one.
    project
        The project, which names its parent boat.
    file
        Another file instead, as typed: it starts from the folder the program runs in.

    Returns
    -------
    Path
        Where a relative name finds nothing beside the project, a shipped sample of that name stands in.

    Raises
    ------
    StringerlabError
        When the project names no parent boat, has no folder yet, or is its own parent.
    """
    own = None if project_path is None else Path(project_path)
    if file is not None:
        return _not_itself(Path(file), own, "--parent")
    if project.parent is None or not project.parent.file.strip():
        raise StringerlabError(Problem("The project names no parent boat.", WHERE, "Name its project file."))
    named = Path(project.parent.file.strip().replace("\\", "/"))
    if own is not None and (named.is_absolute() or (own.parent / named).exists()):
        return _not_itself(own.parent / named, own, WHERE)
    if named.is_absolute():
        return named
    if named.name == str(named) and named.stem in samples():
        return _not_itself(folder("sample_projects") / named.name, own, WHERE)
    if own is None:
        what = f"The parent boat's file '{project.parent.file}' is looked for beside the project's."
        raise StringerlabError(Problem(what, WHERE, "Save the project first, or name the whole path."))
    return own.parent / named


def load_parent(project_path: Path | str | None, project: Project, file: str | None = None) -> Project:
    """Return the parent boat's project; its own parent is of no account.

    Parameters are those of ``parent_path``.

    Raises
    ------
    StringerlabError
        When there is none, or its file cannot be read: every fault, each said to be the parent's.
    """
    path = parent_path(project_path, project, file)
    try:
        return load(path)
    except StringerlabError as error:
        raise StringerlabError(
            Problem(problem.what, f"parent boat, {problem.where or path}", problem.remedy)
            for problem in error.problems
        ) from error


def _not_itself(path: Path, own: Path | None, where: str) -> Path:
    if own is not None and path.exists() and own.exists() and path.samefile(own):
        raise StringerlabError(
            Problem("A boat cannot be its own parent.", where, "Name another boat's project file.")
        )
    return path
