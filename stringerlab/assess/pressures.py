"""Bottom design pressure along the boat, by the very functions that judge its panels and spans.

x from the transom, forward [mm]; pressures in MPa. A curve holds for one design area; each subject stands in
it at its own x under the pressure of its own.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from stringerlab.craft import Craft
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import is_sandwich
from stringerlab.layout import Panel, Span
from stringerlab.methods import CraftRow, craft_row, method_named
from stringerlab.methods.iso_12215_5_2008.loading import Loading, panel_loading, stiffener_loading
from stringerlab.project import Resolved
from stringerlab.workings import Array, Known, weakest, workings

POINTS = 161
"""Places along the boat at which a curve is computed."""


class Mode(StrEnum):
    """What gives the bottom pressure at a place."""

    PLANING = "planing mode"
    DISPLACEMENT = "displacement mode"
    MINIMUM = "the least bottom pressure"


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignArea:
    """What the pressure is asked for: a panel's short and long side, or a span's length and spacing [mm]."""

    width: float
    length: float
    of_span: bool = False
    sandwich: bool = False

    @classmethod
    def square(cls, area: float) -> "DesignArea":
        """Return a square single-skin panel of so many mm².

        Raises
        ------
        StringerlabError
            When the area is not above 0.
        """
        if not (np.isfinite(area) and area > 0):
            raise StringerlabError(
                Problem("The design area is not above 0.", "design area", "Type an area, such as 0.25 m².")
            )
        return cls(width=area**0.5, length=area**0.5)

    @classmethod
    def of(cls, subject: Panel | Span, *, sandwich: bool = False) -> "DesignArea":
        """Return what a panel or span is judged over."""
        if isinstance(subject, Panel):
            return cls(width=subject.b, length=subject.l, sandwich=sandwich)
        return cls(width=subject.s, length=subject.lu, of_span=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """A stretch of the boat in which one mode governs [mm]."""

    aft: float
    fore: float
    mode: Mode


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Along:
    """Bottom pressure along the boat over one design area: arrays (n,) over ``x``."""

    x: Array
    P: Array
    """The greatest of the three below [MPa]."""
    planing: Array
    displacement: Array
    minimum: Array
    n_CG: float
    """Dynamic load factor [g]."""
    area: float
    """Design area [mm²]."""
    remarks: tuple[str, ...]
    """What must be said of the load factor and its caps."""
    known: Known
    """The weakest mark of the formulas used."""

    @property
    def reaches(self) -> tuple[Reach, ...]:
        """Which mode governs where, from aft forward."""
        modes = _modes(self.P, self.planing, self.displacement)
        starts = [0, *(np.flatnonzero(modes[1:] != modes[:-1]) + 1), len(modes)]
        edges = [
            float(self.x[0]),
            *(float(self.x[i - 1] + self.x[i]) / 2 for i in starts[1:-1]),
            float(self.x[-1]),
        ]
        return tuple(
            Reach(aft=edges[n], fore=edges[n + 1], mode=_MODES[int(modes[start])])
            for n, start in enumerate(starts[:-1])
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SubjectPressure:
    """A panel or span under the pressure of its own design area."""

    id: str
    name: str
    of_span: bool
    x: float
    P: float
    area: float
    mode: Mode


_MODES = (Mode.PLANING, Mode.DISPLACEMENT, Mode.MINIMUM)
_KNOW_PRESSURES = ("iso_12215_5_2008",)
"""Methods that state a bottom pressure along the boat."""


def pressure_along(
    craft: Craft, area: DesignArea, method: str = _KNOW_PRESSURES[0], *, points: int = POINTS
) -> Along:
    """Return the bottom design pressure along a boat.

    Parameters
    ----------
    craft
        The craft.
    area
        The design area asked about.
    method
        Id of the method.
    points
        Places, evenly from the aft end to the bow.

    Raises
    ------
    StringerlabError
        When something is wrong with the stations, or the method states no pressure along the boat.
    """
    _refuse_unknown(method)
    aft, fore = ends(craft)
    return _along(craft_row(craft), np.linspace(aft, fore, points), area)


def subject_pressures(resolved: Resolved, method: str = _KNOW_PRESSURES[0]) -> tuple[SubjectPressure, ...]:
    """Return every sound panel and span under the pressure of its own design area.

    Raises
    ------
    StringerlabError
        When something is wrong with the stations, or the method states no pressure along the boat.
    """
    _refuse_unknown(method)
    row = craft_row(resolved.craft)
    asked: list[tuple[Panel | Span, DesignArea]] = [
        (case.panel, DesignArea.of(case.panel, sandwich=is_sandwich(case.stack))) for case in resolved.panels
    ]
    asked += [(case.span, DesignArea.of(case.span)) for case in resolved.spans]
    return tuple(_of_subject(row, subject, area) for subject, area in asked)


def ends(craft: Craft) -> tuple[float, float]:
    """Return the x from which and to which a boat is looked at: stations and waterline within [mm]."""
    places = [station.x for station in craft.stations]
    aft, fore = craft.waterline_aft, craft.waterline_aft + craft.waterline_length
    return min([aft, *places]), max([fore, *places])


def _along(row: CraftRow, x: Array, area: DesignArea) -> Along:
    """Return the pressures at places: each is the very result that the pressure judged by came from."""
    with workings() as recording:
        loaded = _loading(row, x, area)
    steps = recording.behind(loaded.P)
    results = {step.formula.symbol: step.result for step in steps}
    P, planing, displacement, minimum = (
        np.broadcast_to(results[symbol], x.shape) for symbol in ("P", "P_P", "P_D", "P_min")
    )
    return Along(
        x=x,
        P=P,
        planing=planing,
        displacement=displacement,
        minimum=minimum,
        n_CG=float(np.max(results["n_CG"])),
        area=float(np.max(results["A_D"])),
        remarks=tuple(
            remark.text
            for remark in loaded.remarks
            if "governs the pressure" not in remark.text and (remark.where is None or np.any(remark.where))
        ),
        known=weakest(step.formula.source.known for step in steps),
    )


def _of_subject(row: CraftRow, subject: Panel | Span, area: DesignArea) -> SubjectPressure:
    here = _along(row, np.array([subject.x]), area)
    return SubjectPressure(
        id=subject.id,
        name=subject.name,
        of_span=area.of_span,
        x=subject.x,
        P=float(here.P[0]),
        area=here.area,
        mode=here.reaches[0].mode,
    )


def _loading(row: CraftRow, x: Array, area: DesignArea) -> Loading:
    width, length = np.full(len(x), area.width), np.full(len(x), area.length)
    if area.of_span:
        return stiffener_loading(row, x=x, lu=length, s=width)
    return panel_loading(row, x=x, b=width, l=length, sandwich=area.sandwich)


def _modes(P: Array, planing: Array, displacement: Array) -> NDArray[np.intp]:
    """Return the number of the mode in each row, planing first where two are alike."""
    return np.where(planing == P, 0, np.where(displacement == P, 1, 2))


def _refuse_unknown(method: str) -> None:
    named = method_named(method)
    if method not in _KNOW_PRESSURES:
        others = " or ".join(method_named(known).name for known in _KNOW_PRESSURES)
        raise StringerlabError(
            Problem(f"{named.name} states no bottom pressure along the boat.", "method", f"Use {others}.")
        )
