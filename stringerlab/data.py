"""Where the shipped data lie: resources, shared and sample_projects, in a wheel or a checkout alike."""

from pathlib import Path

_PACKAGE = Path(__file__).parent
_ROOT = _PACKAGE / "_data" if (_PACKAGE / "_data").is_dir() else _PACKAGE.parent


def folder(name: str) -> Path:
    """Path of one data folder: ``resources``, ``shared`` or ``sample_projects``.

    Raises
    ------
    FileNotFoundError
        When the installation lacks the folder.
    """
    path = _ROOT / name
    if not path.is_dir():
        raise FileNotFoundError(
            f"The installation lacks its data folder '{name}'. Install stringerlab again."
        )
    return path
