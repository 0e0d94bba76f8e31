"""A sound boat to spoil and to edit: the one of the kept version files."""

from pathlib import Path

import pytest

from stringerlab.files import load
from stringerlab.project import Project

KEPT = Path(__file__).parents[1] / "files" / "versions" / "version_1.json"


@pytest.fixture
def boat() -> Project:
    return load(KEPT)
