"""How long a DXF of 200 000 lines takes: within the time a person waits for it with a bar to watch."""

from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import pytest

from stringerlab.files.dxf_in import read_dxf

EZDXF: Any = ezdxf.filemanagement
LINES = 200_000


@pytest.fixture
def large(benchmark: Any, tmp_path: Path) -> Path:
    if benchmark.disabled:
        pytest.skip("times count with --benchmark-enable")
    document = EZDXF.new(units=4)
    space = document.modelspace()
    for i in range(LINES):
        space.add_line((i % 500, i // 500), (i % 500 + 0.7, i // 500 + 0.3))
    path = tmp_path / "large.dxf"
    document.saveas(path)
    return path


def test_two_hundred_thousand_lines_are_read_within_half_a_minute(benchmark: Any, large: Path) -> None:
    told: list[float] = []
    outlines = benchmark.pedantic(
        read_dxf, args=(large,), kwargs={"watch": lambda fraction, _: told.append(fraction)}, rounds=1
    )
    assert len(outlines.lines) == LINES
    assert len(told) > 100
    if benchmark.enabled:
        assert benchmark.stats.stats.max < 30
