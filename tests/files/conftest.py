"""The boat of the kept version files, and its bare JSON to spoil."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import loads
from stringerlab.project import Project

KEPT = Path(__file__).parent / "versions" / "version_1.json"


@pytest.fixture
def boat() -> Project:
    return loads(KEPT.read_bytes(), KEPT.name)


@pytest.fixture
def bare() -> dict[str, Any]:
    return json.loads(KEPT.read_bytes())


@pytest.fixture
def refused() -> Callable[[Any], tuple[Problem, ...]]:
    """Read bytes, or bare JSON made into bytes, and return why that is refused."""

    def read(given: Any) -> tuple[Problem, ...]:
        data = given if isinstance(given, bytes) else json.dumps(given, ensure_ascii=False).encode()
        with pytest.raises(StringerlabError) as raised:
            loads(data, "boat.json")
        assert raised.value.problems
        assert "Input should" not in str(raised.value)
        assert "Traceback" not in str(raised.value)
        assert all("\n" not in str(problem) for problem in raised.value.problems)
        return raised.value.problems

    return read
