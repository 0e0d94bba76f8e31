"""One row equals the same row in a batch, and the functions run on a million rows without recording."""

from collections.abc import Callable, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np
import pytest

from stringerlab.methods import CraftRow, Judged, PanelRows, SandwichRows, SpanRows, findings, method_named
from stringerlab.workings import workings

METHOD = method_named("iso_12215_5_2008")


def each(rows: Any, change: Callable[[np.ndarray], np.ndarray]) -> Any:
    """The rows with every array changed; names stay."""
    values = {field.name: getattr(rows, field.name) for field in fields(rows)}
    return replace(
        rows,
        **{
            name: change(value)
            if isinstance(value, np.ndarray)
            else each(value, change)
            if is_dataclass(value)
            else value
            for name, value in values.items()
        },
    )


def scattered(rows: Any, times: int) -> Any:
    """The one row so many times over, each number of it up to 30 % larger or smaller."""
    rng = np.random.default_rng(7)

    def change(value: np.ndarray) -> np.ndarray:
        many = np.repeat(value, times, axis=0)
        return many * rng.uniform(0.7, 1.3, many.shape) if value.dtype == float else many

    return each(rows, change)


def assert_same(batch: Sequence[Judged], alone: Sequence[Judged], row: int, count: int) -> None:
    for many, single in zip(batch, alone, strict=True):
        assert many.aspect is single.aspect
        for name in ("demand", "capacity", "utilisation"):
            expected = np.broadcast_to(getattr(single, name), (1,))[0]
            assert np.broadcast_to(getattr(many, name), (count,))[row] == pytest.approx(
                expected, rel=1e-12, nan_ok=True
            )
        if many.governing is not None and single.governing is not None:
            assert many.governing.name(row) == single.governing.name(0)


@pytest.mark.parametrize("kind", ["panel", "sandwich", "span"])
def test_one_row_equals_the_same_row_among_many(
    kind: str, craft: CraftRow, request: pytest.FixtureRequest
) -> None:
    judge: Callable[[CraftRow, Any], Sequence[Judged]] = {
        "panel": METHOD.judge_panels,
        "sandwich": METHOD.judge_sandwiches,
        "span": METHOD.judge_spans,
    }[kind]
    count = 40
    rows = scattered(request.getfixturevalue(kind), count)
    batch = judge(craft, rows)
    for row in range(count):
        alone = judge(craft, each(rows, lambda value, row=row: value[row : row + 1]))
        assert_same(batch, alone, row, count)


def test_recording_changes_no_number(
    craft: CraftRow, panel: PanelRows, sandwich: SandwichRows, span: SpanRows
) -> None:
    def judged() -> list[Judged]:
        return [
            *METHOD.judge_panels(craft, panel),
            *METHOD.judge_sandwiches(craft, sandwich),
            *METHOD.judge_spans(craft, span),
        ]

    with workings():
        recorded = judged()
    assert_same(recorded, judged(), 0, 1)


def test_a_million_spans_are_judged(craft: CraftRow, span: SpanRows) -> None:
    count = 1_000_000
    many = each(span, lambda value: np.broadcast_to(value, (count, *value.shape[1:])))
    lengths = np.linspace(500, 2000, count)
    judged = METHOD.judge_spans(craft, replace(many, lu=lengths))
    alone = METHOD.judge_spans(craft, replace(span, lu=lengths[-1:]))
    assert_same(judged, alone, count - 1, count)
    assert np.all(np.diff(judged[0].utilisation) > 0)  # the longer the span, the more is asked


def test_strengths_common_to_all_spans_need_one_row(craft: CraftRow, span: SpanRows) -> None:
    rows = scattered(span, 30)
    shared = {name: getattr(span, name) for name in ("fibre_E", "fibre_tension", "fibre_compression")}
    spread = {name: np.repeat(value, 30, axis=0) for name, value in shared.items()}
    for common, whole in zip(
        METHOD.judge_spans(craft, replace(rows, **shared)),
        METHOD.judge_spans(craft, replace(rows, **spread)),
        strict=True,
    ):
        assert np.array_equal(common.utilisation, whole.utilisation, equal_nan=True)


def test_three_hundred_subjects_become_findings_in_their_order(craft: CraftRow, span: SpanRows) -> None:
    subjects = [(f"s{number}", f"Span {number}") for number in range(300)]
    with workings() as recording:
        judged = METHOD.judge_spans(craft, replace(scattered(span, 300), moment_factor=np.ones(300)))
    found = findings(METHOD, judged, subjects, recording)
    assert list(dict.fromkeys(finding.subject for finding in found)) == [subject for subject, _ in subjects]
    assert len(found) == 300 * 6  # modulus, web area, stiffness, web, crown, bond: all ends held
