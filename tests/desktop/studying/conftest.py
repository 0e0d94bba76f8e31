"""The sample workboat of which nothing is asked yet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project.wishes import Wishes

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from stringerlab.desktop.session import Session


@pytest.fixture
def session(qapp: QApplication) -> Iterator[Session]:
    """Open and unsaved, in metric units."""
    from stringerlab.desktop.session import Session

    workboat = load(folder("sample_projects") / "eelgrass_workboat.json")
    session = Session(replace(workboat, wishes=Wishes()))
    yield session
    session.close()
    session.deleteLater()
