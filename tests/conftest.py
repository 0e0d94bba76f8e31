"""What every test stands on: repeatable random cases, no screen needed, no Qt where none is wanted."""

import os
import sys
from importlib.machinery import ModuleSpec

import pytest
from hypothesis import settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the workers share the cores already
settings.register_profile("repeatable", derandomize=True, deadline=None, max_examples=60)
settings.load_profile("repeatable")


class _NoQt:
    """Stands before every finder and finds that Qt is not installed."""

    @staticmethod
    def find_spec(name: str, *_: object) -> ModuleSpec | None:
        if name.split(".")[0] in ("PySide6", "shiboken6"):
            raise ModuleNotFoundError(f"No module named '{name}': this run does without", name=name)
        return None


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--without-qt", action="store_true", help="run as where Qt is not installed")


def pytest_configure(config: pytest.Config) -> None:
    if config.getoption("--without-qt"):
        sys.meta_path.insert(0, _NoQt)
