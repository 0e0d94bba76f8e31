"""Design pressure along the boat, by the very functions that judge its panels and spans.

x from the transom, forward [mm]; pressures in MPa. A curve holds for one surface and one design area; each
subject stands in it at its own x under the pressure of its own.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from stringerlab.craft import Craft
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import is_sandwich
from stringerlab.layout import Panel, Span, Surface
from stringerlab.methods import CraftRow, craft_row, iso_12215_5_2019, method_named
from stringerlab.methods.iso_12215_5_2008.form import FORM, SWITCH, Form
from stringerlab.methods.iso_12215_5_2008.loading import Loading, panel_loading, stiffener_loading
from stringerlab.project import Resolved
from stringerlab.workings import Array, Known, weakest, workings

POINTS = 161
"""Places along the boat at which a curve is computed."""


class Mode(StrEnum):
    """What gives the pressure at a place."""

    PLANING = "planing mode"
    DISPLACEMENT = "displacement mode"
    MINIMUM = "the least bottom pressure"
    SIDE_MINIMUM = "the least side pressure"
    DECK_MINIMUM = "the least deck pressure"
    HEAD = "its head of water"
    NOT_GIVEN = "nothing: a number is not given"


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
    """Pressure on a surface along the boat over one design area: arrays (n,) over ``x``."""

    surface: Surface = Surface.BOTTOM
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
            Reach(aft=edges[n], fore=edges[n + 1], mode=_CURVES[self.surface].modes[int(modes[start])])
            for n, start in enumerate(starts[:-1])
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SubjectPressure:
    """A panel or span under the pressure of its own design area; nan where a number for it is not given."""

    id: str
    name: str
    of_span: bool
    surface: Surface = Surface.BOTTOM
    x: float
    P: float
    area: float
    mode: Mode


@dataclass(frozen=True, slots=True, kw_only=True)
class _Curve:
    """A surface whose pressure runs along the boat: symbols of its three pressures, what each is called."""

    symbols: tuple[str, str, str]
    modes: tuple[Mode, Mode, Mode]


_CURVES: Mapping[Surface, _Curve] = {
    Surface.BOTTOM: _Curve(
        symbols=("P_P", "P_D", "P_min"), modes=(Mode.PLANING, Mode.DISPLACEMENT, Mode.MINIMUM)
    ),
    Surface.SIDE: _Curve(
        symbols=("P_s_P", "P_s_D", "P_s_min"), modes=(Mode.PLANING, Mode.DISPLACEMENT, Mode.SIDE_MINIMUM)
    ),
    Surface.DECK: _Curve(
        symbols=("P_dk_P", "P_dk_D", "P_dk_min"), modes=(Mode.PLANING, Mode.DISPLACEMENT, Mode.DECK_MINIMUM)
    ),
}
ALONG = frozenset(_CURVES)
"""Surfaces whose pressure runs along the boat."""
_FORMS: Mapping[str, Form] = {"iso_12215_5_2008": FORM, "iso_12215_5_2019": iso_12215_5_2019.FORM}
"""Methods that state a pressure along the boat."""
_FIRST = "iso_12215_5_2008"
_BOTTOM = (Surface.BOTTOM,)


def pressure_along(
    craft: Craft,
    area: DesignArea,
    method: str = _FIRST,
    *,
    points: int = POINTS,
    surface: Surface = Surface.BOTTOM,
    height: float | None = None,
) -> Along:
    """Return the design pressure on bottom, side or deck along a boat.

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
    surface
        What the pressure is on.
    height
        Above the waterline, of a side [mm].

    Raises
    ------
    StringerlabError
        When something is wrong with the stations, the method states no pressure along the boat, the
        surface's pressure does not run along it, or a number for it is not given.
    """
    form = _form(method)
    if surface not in _CURVES:
        raise StringerlabError(
            Problem(
                f"The pressure on a {surface.value} is its head of water's, wherever it stands.",
                "surface",
                f"Ask for {', '.join(each.value for each in _CURVES)}.",
            )
        )
    aft, fore = ends(craft)
    place = _Place(surface=surface, height=np.nan if height is None else height)
    return _along(craft_row(craft), np.linspace(aft, fore, points), area, place, form)


def subject_pressures(
    resolved: Resolved, method: str = _FIRST, *, surfaces: Collection[Surface] = _BOTTOM
) -> tuple[SubjectPressure, ...]:
    """Return every sound panel and span of these surfaces under the pressure of its own design area.

    Raises
    ------
    StringerlabError
        When something is wrong with the stations, or the method states no pressure along the boat.
    """
    form = _form(method)
    row = craft_row(resolved.craft)
    asked: list[tuple[Panel | Span, DesignArea]] = [
        (case.panel, DesignArea.of(case.panel, sandwich=is_sandwich(case.stack))) for case in resolved.panels
    ]
    asked += [(case.span, DesignArea.of(case.span)) for case in resolved.spans]
    return tuple(
        _of_subject(row, subject, area, form) for subject, area in asked if subject.surface in surfaces
    )


def ends(craft: Craft) -> tuple[float, float]:
    """Return the x from which and to which a boat is looked at: stations and waterline within [mm]."""
    places = [station.x for station in craft.stations]
    aft, fore = craft.waterline_aft, craft.waterline_aft + craft.waterline_length
    return min([aft, *places]), max([fore, *places])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where the pressure is asked for, but for x: mm, nan where not given."""

    surface: Surface
    height: float = np.nan
    head: float = np.nan

    @classmethod
    def of(cls, subject: Panel | Span) -> "_Place":
        height, head = (np.nan if value is None else value for value in (subject.height, subject.head))
        return cls(surface=subject.surface, height=height, head=head)

    @property
    def governed_as(self) -> Surface:
        """The surface whose pressure counts: a side below the waterline is under the bottom's."""
        return Surface.BOTTOM if self.surface is Surface.SIDE and self.height < 0 else self.surface


def _along(row: CraftRow, x: Array, area: DesignArea, place: _Place, form: Form) -> Along:
    """Return the pressures at places: each is the very result that the pressure judged by came from."""
    with workings() as recording:
        loaded = _loading(row, x, area, place, form)
    if np.isnan(loaded.P).any():
        raise StringerlabError([Problem(f"{why[0].upper()}{why[1:]}.", "craft") for why in _lacking(loaded)])
    steps = recording.behind(loaded.P)
    results = {step.formula.symbol: step.result for step in steps}
    P, planing, displacement, minimum = (
        np.broadcast_to(results[symbol], x.shape) for symbol in ("P", *_CURVES[place.governed_as].symbols)
    )
    return Along(
        surface=place.governed_as,
        x=x,
        P=P,
        planing=planing,
        displacement=displacement,
        minimum=minimum,
        n_CG=float(np.max(results[form.load_factor[SWITCH].symbol])),
        area=float(np.max(results["A_D"])),
        remarks=tuple(
            remark.text
            for remark in loaded.remarks
            if "governs the pressure" not in remark.text and (remark.where is None or np.any(remark.where))
        ),
        known=weakest(step.formula.source.known for step in steps),
    )


def _of_subject(row: CraftRow, subject: Panel | Span, area: DesignArea, form: Form) -> SubjectPressure:
    place = _Place.of(subject)
    x = np.array([subject.x])
    P, over, mode = float(_loading(row, x, area, place, form).P[0]), area.width * area.length, Mode.HEAD
    if np.isnan(P):
        mode = Mode.NOT_GIVEN
    elif place.surface in _CURVES:
        here = _along(row, x, area, place, form)
        over, mode = here.area, here.reaches[0].mode
    return SubjectPressure(
        id=subject.id,
        name=subject.name,
        of_span=area.of_span,
        surface=subject.surface,
        x=subject.x,
        P=P,
        area=over,
        mode=mode,
    )


def _loading(row: CraftRow, x: Array, area: DesignArea, place: _Place, form: Form) -> Loading:
    width, length = np.full(len(x), area.width), np.full(len(x), area.length)
    surface, height, head = place.surface, place.height, place.head
    if area.of_span:
        return stiffener_loading(
            row, x=x, lu=length, s=width, surface=surface, height=height, head=head, form=form
        )
    return panel_loading(
        row,
        x=x,
        b=width,
        l=length,
        sandwich=area.sandwich,
        surface=surface,
        height=height,
        head=head,
        form=form,
    )


def _lacking(loaded: Loading) -> list[str]:
    return [why.text for why in loaded.lacking if why.where is None or np.any(why.where)]


def _modes(P: Array, planing: Array, displacement: Array) -> NDArray[np.intp]:
    """Return the number of the mode in each row, planing first where two are alike."""
    return np.where(planing == P, 0, np.where(displacement == P, 1, 2))


def _form(method: str) -> Form:
    named = method_named(method)
    if method not in _FORMS:
        others = " or ".join(method_named(known).name for known in _FORMS)
        raise StringerlabError(
            Problem(f"{named.name} states no bottom pressure along the boat.", "method", f"Use {others}.")
        )
    return _FORMS[method]
