"""The walls between rooms, and what importing the program may load."""

import subprocess
import sys
from pathlib import Path

import pytest
from importlinter import cli

ROOT = Path(__file__).parents[2]


def test_rooms_use_only_rooms_below_and_libraries_only_by_their_doors(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(ROOT)
    assert cli.lint_imports(config_filename="pyproject.toml", no_cache=True) == cli.EXIT_STATUS_SUCCESS


@pytest.mark.parametrize(
    ("statement", "absent"),
    [
        (
            "import stringerlab",
            ["numpy", "shapely", "pydantic", "matplotlib", "PySide6", "sectionproperties"],
        ),
        ("import stringerlab.assess", ["matplotlib", "PySide6", "sectionproperties", "pydantic"]),
        ("import stringerlab.files", ["matplotlib", "PySide6", "sectionproperties"]),
        (
            "import stringerlab.cli",
            ["numpy", "shapely", "pydantic", "matplotlib", "PySide6", "sectionproperties"],
        ),
    ],
)
def test_importing_loads_no_more_than_it_needs(statement: str, absent: list[str]) -> None:
    code = f"import sys; {statement}; print(*sorted(m for m in {absent!r} if m in sys.modules))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert loaded.stdout.split() == []
