"""A document on disk is whole or not there."""

import errno
import os
from pathlib import Path

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.report.writing import written, written_all


def test_former_document_is_replaced_whole(tmp_path: Path) -> None:
    file = tmp_path / "report.pdf"
    written(file, b"former")
    assert written(file, b"new one") == file
    assert file.read_bytes() == b"new one"
    assert [path.name for path in tmp_path.iterdir()] == ["report.pdf"]


def test_full_disk_leaves_the_former_and_no_half_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "report.pdf"
    written(file, b"former")
    real = os.write

    def full(handle: int, data: bytes) -> int:
        if len(data) > 1000:
            real(handle, bytes(data)[:1000])
            raise OSError(errno.ENOSPC, "No space left on device")
        return real(handle, data)

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(StringerlabError, match=r"disk is full.*Free some space"):
        written(file, b"x" * 5000)
    assert file.read_bytes() == b"former"
    assert [path.name for path in tmp_path.iterdir()] == ["report.pdf"]


@pytest.mark.parametrize("place", ["nowhere/report.pdf", "."])
def test_target_that_cannot_be_written_is_said(tmp_path: Path, place: str) -> None:
    with pytest.raises(StringerlabError, match=r"there is no folder|it is a folder"):
        written(tmp_path / place, b"x")
    assert list(tmp_path.iterdir()) == []


def test_several_documents_make_their_folder(tmp_path: Path) -> None:
    into = tmp_path / "shop" / "sheets"
    made = written_all(into, {"laminates.pdf": b"1", "bond.pdf": b"2"})
    assert [path.read_bytes() for path in made] == [b"1", b"2"]


def test_folder_that_is_a_file_is_said(tmp_path: Path) -> None:
    (tmp_path / "shop").write_text("a file")
    with pytest.raises(StringerlabError, match="The folder cannot be made"):
        written_all(tmp_path / "shop", {"a.pdf": b""})


def _sheets(of: str) -> dict[str, bytes]:
    return {name: of.encode() for name in ("1-laminates.pdf", "2-materials.pdf", "3-foam.pdf")}


def _there(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_new_sheets_take_the_places_of_the_former(tmp_path: Path) -> None:
    written_all(tmp_path, _sheets("former"))
    (tmp_path / "own notes.txt").write_bytes(b"kept")
    written_all(tmp_path, _sheets("new"))
    assert _there(tmp_path) == {**_sheets("new"), "own notes.txt": b"kept"}


@pytest.mark.parametrize("stop", [OSError(errno.ENOSPC, "No space left on device"), KeyboardInterrupt()])
@pytest.mark.parametrize("last", ["2-materials.pdf", "3-foam.pdf"])
def test_stopped_midway_no_new_sheet_lies_beside_a_former_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stop: BaseException, last: str
) -> None:
    written_all(tmp_path, _sheets("former"))
    real = Path.replace

    def failing(self: Path, target: Path) -> Path:
        if self.name == last and self.parent.name == "new" and target.parent == tmp_path:
            raise stop
        return real(self, target)

    monkeypatch.setattr(Path, "replace", failing)
    with pytest.raises((StringerlabError, KeyboardInterrupt)):
        written_all(tmp_path, _sheets("new"))
    assert _there(tmp_path) == _sheets("former")


def test_full_disk_leaves_no_folder_that_was_not_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(handle: int, data: bytes) -> int:
        raise OSError(errno.ENOSPC, f"No space left on device for {len(data)} of {handle}")

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(StringerlabError, match="disk is full"):
        written_all(tmp_path / "shop" / "sheets", _sheets("new"))
    assert list(tmp_path.iterdir()) == []
