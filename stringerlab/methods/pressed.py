"""Panels and spans as far as a design pressure asks of them. mm, rad; nan where not given."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.layout import PanelCase, SpanCase, Surface
from stringerlab.workings import Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PressureRows:
    """Panels or spans of one surface, n rows."""

    of_spans: bool
    sandwich: bool = False
    """Of panels: whether they are sandwich."""
    surface: Surface = Surface.BOTTOM
    width: Array
    """Short side of a panel, spacing of a span."""
    length: Array
    """Long side of a panel, length of a span."""
    x: Array
    deadrise: Array
    height: Array
    head: Array


def panel_pressure_rows(cases: Sequence[PanelCase], *, sandwich: bool) -> PressureRows:
    """Return panels of one surface, all of them sandwich or none, as a pressure asks of them."""
    panels = [case.panel for case in cases]
    return PressureRows(
        of_spans=False,
        sandwich=sandwich,
        surface=panels[0].surface,
        width=_array(panel.b for panel in panels),
        length=_array(panel.l for panel in panels),
        x=_array(panel.x for panel in panels),
        deadrise=np.radians(_array(panel.deadrise for panel in panels)),
        height=_array(_number(panel.height) for panel in panels),
        head=_array(_number(panel.head) for panel in panels),
    )


def span_pressure_rows(cases: Sequence[SpanCase]) -> PressureRows:
    """Return spans of one surface as a pressure asks of them."""
    spans = [case.span for case in cases]
    return PressureRows(
        of_spans=True,
        surface=spans[0].surface,
        width=_array(span.s for span in spans),
        length=_array(span.lu for span in spans),
        x=_array(span.x for span in spans),
        deadrise=np.radians(_array(span.deadrise for span in spans)),
        height=_array(_number(span.height) for span in spans),
        head=_array(_number(span.head) for span in spans),
    )


def _array(values: Iterable[float]) -> Array:
    return np.array(list(values), dtype=float)


def _number(value: float | None) -> float:
    return math.nan if value is None else value
