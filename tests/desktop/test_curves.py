import pytest

from stringerlab.desktop.curves import ticks


@pytest.mark.parametrize(
    ("low", "high", "most", "found"),
    [
        (0, 45, 5, [0, 10, 20, 30, 40]),
        (0, 5600, 8, [0, 1000, 2000, 3000, 4000, 5000]),
        (-350, 1200, 4, [0, 500, 1000]),
        (0, 0.0071, 4, [0, 0.002, 0.004, 0.006]),
        (0, 100, 5, [0, 20, 40, 60, 80, 100]),
    ],
)
def test_numbers_along_an_axis_are_round_and_within_it(
    low: float, high: float, most: float, found: list[float]
) -> None:
    assert ticks(low, high, most) == pytest.approx(found)


@pytest.mark.parametrize(("low", "high"), [(1, 1), (2, 1), (0, float("inf")), (0, float("nan"))])
def test_an_axis_without_a_span_has_none(low: float, high: float) -> None:
    assert ticks(low, high, 5) == []
