"""Documents on disk: each file is at any moment the former or the new one, whole."""

from collections.abc import Mapping
from pathlib import Path

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files.store import write_whole


def written(path: Path | str, data: bytes) -> Path:
    """Write a document, in the place of a former one, and return its path.

    Raises
    ------
    StringerlabError
        When the folder is missing or may not be written, or the disk is full: what was there stays, nothing
        half written is left.
    """
    file = Path(path)
    write_whole(data, file)
    return file


def written_all(folder: Path | str, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write several documents into a folder, which is made where it is missing.

    Raises
    ------
    StringerlabError
        When the system refuses: the documents already written stay, each whole.
    """
    into = Path(folder)
    try:
        into.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StringerlabError(
            Problem(
                f"The folder cannot be made: {error.strerror}.",
                str(into),
                "Choose a folder you may write to.",
            )
        ) from error
    return tuple(written(into / name, data) for name, data in files.items())
