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
