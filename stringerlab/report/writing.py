"""Documents on disk: each file is at any moment the former or the new one, whole."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files.store import write_whole
from stringerlab.files.trouble import trouble


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
    """Write several documents into a folder, which is made where it is missing: all of them or none.

    All are first written whole beside their places; only when the last is safe do they take the places of
    the former ones. Where one cannot, those that have taken theirs give them back.

    Raises
    ------
    StringerlabError
        When the system refuses: the folder is as it was.
    """
    into = Path(folder)
    made = _made(into)
    try:
        with TemporaryDirectory(prefix=".sheets-", dir=into) as waiting:
            fresh = Path(waiting) / "new"
            former = Path(waiting) / "former"
            fresh.mkdir()
            former.mkdir()
            for name, data in files.items():
                _refuse_no_file(into / name)
                written(fresh / name, data)
            _take_places(into, fresh, former, files)
    except BaseException as error:
        for each in made:
            with suppress(OSError):
                each.rmdir()
        if isinstance(error, OSError):
            raise trouble(error, "be written", into) from error
        raise
    return tuple(into / name for name in files)


def _made(into: Path) -> list[Path]:
    """Make a folder, and return those that were not there, the innermost first."""
    missing = [each for each in (into, *into.parents) if not each.exists()]
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
    return missing


def _refuse_no_file(file: Path) -> None:
    if file.exists() and not file.is_file():
        raise StringerlabError(
            Problem("Cannot be written: it is no ordinary file.", str(file), "Choose another folder.")
        )


def _take_places(into: Path, fresh: Path, former: Path, names: Iterable[str]) -> None:
    """Move new documents into their places; all former ones are put back when one cannot be moved."""
    moved: list[str] = []
    try:
        for name in names:
            moved.append(name)
            if (into / name).exists():
                (into / name).replace(former / name)
            (fresh / name).replace(into / name)
    except BaseException:
        for name in moved:
            if (former / name).exists():
                (former / name).replace(into / name)
            elif not (fresh / name).exists():
                (into / name).unlink(missing_ok=True)
        raise
