"""Books of materials on disk: TOML read whole or not at all, with every problem, and written whole."""

from math import ceil
from pathlib import Path

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files.store import read_whole, write_whole
from stringerlab.materials import material_problems, shipped
from stringerlab.materials.reading import read_book
from stringerlab.materials.records import Materials
from stringerlab.materials.writing import book_text

LARGEST_BOOK = 5_000_000
"""Bytes; a larger file is refused unread: the shipped book is a hundredth of that."""


def load_book(path: Path | str) -> Materials:
    """Return the materials of a book; it may name fibres and resins of the shipped one.

    Raises
    ------
    StringerlabError
        When the file cannot be read, is too large, is no UTF-8 or TOML, or anything in it is wrong: every
        problem listed.
    """
    file = Path(path)
    data = read_whole(file, "book", LARGEST_BOOK, _refuse_too_large)
    _refuse_too_large(len(data), file.name)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", "replace")
        line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
        what = f"The file is not UTF-8 text: line {line}, column {column} does not read."
        raise StringerlabError(Problem(what, file.name, "Save it as UTF-8.")) from error
    if not text.strip():
        raise StringerlabError(Problem("The file is empty.", file.name, "Take it again from where it came."))
    return read_book(text, file.name, shipped())


def save_book(materials: Materials, path: Path | str, *, anew: bool = False) -> None:
    """Write materials as a book, so that the file is at any moment the former or the new one, whole.

    Parameters
    ----------
    materials
        What to write.
    path
        Its file.
    anew
        Refuse to replace a file that is there.

    Raises
    ------
    StringerlabError
        When a value is out of range or has no source, so that the book could not be read back; when
        another writer holds the file, or the system refuses. The former file is then as it was.
    """
    file = Path(path)
    if wrong := material_problems(materials, shipped()):
        raise StringerlabError(wrong)
    text = book_text(materials)
    read_book(text, file.name, shipped())
    write_whole(text.encode(), file, anew=anew)


def _refuse_too_large(size: int, where: str) -> None:
    if size > LARGEST_BOOK:
        what = f"The file has {ceil(size / 1e5) / 10:g} MB; above {LARGEST_BOOK / 1e6:g} MB no book is read."
        raise StringerlabError(Problem(what, where, "Is it a book of materials? Split it into several."))
