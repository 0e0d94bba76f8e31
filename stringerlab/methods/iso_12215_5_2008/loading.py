"""From craft, place and surface to the pressure of a row, and what must be said of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property, partial

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.records import Surface
from stringerlab.methods.iso_12215_5_2008 import pressures
from stringerlab.methods.iso_12215_5_2008 import surface_pressures as off_bottom
from stringerlab.methods.iso_12215_5_2008.form import FORM, SWITCH, Form, Switch
from stringerlab.methods.pressed import PressureRows
from stringerlab.methods.records import CraftRow, Remark
from stringerlab.workings import Array, Formula

_CATEGORIES = ("A", "B", "C", "D")
_NOT_GIVEN = np.nan
_FULL = 0.6
"""Place along the waterline from which on the factor along the length is 1."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loading:
    """Pressure row by row [MPa], nan where a number it takes is not given, and its remarks."""

    P: Array
    remarks: tuple[Remark, ...]
    lacking: tuple[Remark, ...] = ()
    """Why there is no pressure, row by row."""


def panel_loading(
    craft: CraftRow,
    *,
    x: Array,
    b: Array,
    l: Array,
    sandwich: bool,
    surface: Surface = Surface.BOTTOM,
    height: Array | float = _NOT_GIVEN,
    head: Array | float = _NOT_GIVEN,
    switch: Switch = SWITCH,
    form: Form = FORM,
) -> Loading:
    """Return the pressure on panels of a surface over their design areas.

    Parameters
    ----------
    craft
        The craft.
    x, b, l
        Place from the transom, short and long side (n,) [mm].
    sandwich
        Whether they are sandwich.
    surface
        What they are part of.
    height, head
        Of their middles above the waterline; of water they are to hold (n,) [mm].
    switch
        How the dynamic load factor is read above 3.
    form
        The edition's own formulas.
    """
    where = _Where(
        craft=craft,
        x=x,
        height=height,
        head=head,
        area=pressures.panel_design_area(l=l, b=b),
        displacement_reduction=pressures.displacement_panel_reduction(b=b),
        area_factor=form.sandwich_area_factor if sandwich else form.area_factor,
        switch=switch,
        form=form,
    )
    return _LOADINGS[surface](where)


def stiffener_loading(
    craft: CraftRow,
    *,
    x: Array,
    lu: Array,
    s: Array,
    surface: Surface = Surface.BOTTOM,
    height: Array | float = _NOT_GIVEN,
    head: Array | float = _NOT_GIVEN,
    switch: Switch = SWITCH,
    form: Form = FORM,
) -> Loading:
    """Return the pressure on stiffeners of a surface [mm], of span and spacing; else as of panels."""
    where = _Where(
        craft=craft,
        x=x,
        height=height,
        head=head,
        area=pressures.stiffener_design_area(l_u=lu, s=s),
        displacement_reduction=pressures.displacement_stiffener_reduction(l_u=lu),
        area_factor=form.area_factor,
        switch=switch,
        form=form,
    )
    return _LOADINGS[surface](where)


def pressure(craft: CraftRow, rows: PressureRows, switch: Switch = SWITCH, form: Form = FORM) -> Array:
    """Return the pressure on panels or spans over their design areas [MPa], nan where there is none."""
    if rows.of_spans:
        return stiffener_loading(
            craft,
            x=rows.x,
            lu=rows.length,
            s=rows.width,
            surface=rows.surface,
            height=rows.height,
            head=rows.head,
            switch=switch,
            form=form,
        ).P
    return panel_loading(
        craft,
        x=rows.x,
        b=rows.width,
        l=rows.length,
        sandwich=rows.sandwich,
        surface=rows.surface,
        height=rows.height,
        head=rows.head,
        switch=switch,
        form=form,
    ).P


def load_factor(craft: CraftRow, switch: Switch = SWITCH, form: Form = FORM) -> tuple[Array, np.bool_]:
    """Return the dynamic load factor [g], and whether the readings of the switch give different ones."""
    n_1 = form.first_load_factor(craft.LWL, form.beam(craft), craft.beta_04, craft.V, craft.m_LDC)
    n_2 = form.fast_load_factor(craft.V, craft.m_LDC)
    readings = [factor.clause(n_1, n_2) for factor in form.load_factor.values()]
    return form.load_factor[switch](n_1, n_2), np.ptp(readings) > 0


def category_factor(craft: CraftRow) -> Array:
    """Return the design category factor.

    Raises
    ------
    StringerlabError
        When the category is none of A to D.
    """
    if craft.category not in _CATEGORIES:
        raise StringerlabError(
            Problem(f"There is no design category '{craft.category}'.", "craft", "Use A, B, C or D.")
        )
    return pressures.design_category_factor(
        **{letter: float(craft.category == letter) for letter in _CATEGORIES}
    )


@dataclass(frozen=True, kw_only=True, eq=False)
class _Where:
    """Rows of one surface, and the factors that bottom, side and deck share, reckoned when asked for."""

    craft: CraftRow
    x: Array
    height: Array | float
    head: Array | float
    area: Array
    displacement_reduction: Array
    area_factor: Formula
    switch: Switch
    form: Form

    @cached_property
    def k_DC(self) -> Array:
        return category_factor(self.craft)

    @cached_property
    def dynamic(self) -> tuple[Array, np.bool_]:
        return load_factor(self.craft, self.switch, self.form)

    @cached_property
    def x_L(self) -> Array:
        craft = self.craft
        return pressures.place_along_waterline(x=self.x, x_aft=craft.waterline_aft, L_WL=craft.LWL)

    @cached_property
    def k_L(self) -> Array:
        return self.form.length_factor(self.x_L, self.dynamic[0])

    @cached_property
    def k_AR_D(self) -> Array:
        """Area factor in displacement mode."""
        return self.area_factor(self.displacement_reduction, self.craft.m_LDC, self.area)

    @cached_property
    def k_AR_P(self) -> Array:
        """Area factor in planing mode."""
        return self.area_factor(pressures.planing_reduction(), self.craft.m_LDC, self.area)

    @cached_property
    def bottom(self) -> tuple[Array, Array, Array]:
        """Bottom pressure in displacement and planing mode, and its least."""
        craft, form = self.craft, self.form
        k_DC, (n, _), k_L, k_AR_D, k_AR_P = self.k_DC, self.dynamic, self.k_L, self.k_AR_D, self.k_AR_P
        return (
            pressures.displacement_pressure(m_LDC=craft.m_LDC, k_AR=k_AR_D, k_DC=k_DC, k_L=k_L),
            form.planing_pressure(craft.m_LDC, craft.LWL, form.beam(craft), k_DC, n, k_AR_P, k_L),
            pressures.minimum_pressure(m_LDC=craft.m_LDC, L_WL=craft.LWL, k_DC=k_DC),
        )

    def remarks(self, surface: Surface, P: Array, P_P: Array, P_D: Array) -> tuple[Remark, ...]:
        """Return what must be said of a surface's pressure, the greatest of both modes' and the least."""
        planing = P == P_P
        displacement = (P == P_D) & ~planing
        least = ~planing & ~displacement & ~np.isnan(P)
        n, split = self.dynamic
        form, factor = self.form, self.form.load_factor[self.switch]
        floor = float(self.area_factor.clause(0.0, self.craft.m_LDC, np.inf))
        also = "" if surface is Surface.BOTTOM else ", taken as for the bottom"
        floored = (planing & (self.k_AR_P <= floor)) | (displacement & (self.k_AR_D <= floor))
        cap = factor.clause(np.inf, np.inf)
        return (
            Remark("planing mode governs the pressure", planing),
            Remark("displacement mode governs the pressure", displacement),
            Remark(f"the least {surface.value} pressure governs", least),
            Remark(
                f"{factor.symbol} is {self.switch.value}: a choice, the edition's wording is not sure here",
                planing & split,
            ),
            Remark(f"{factor.symbol} is capped at {cap:g}", planing & (n >= cap)),
            Remark(f"k_AR is at its floor of {floor:g}{also}", floored),
            *form.said.pressure,
            *(Remark(text, self.x_L < _FULL) for text in form.said.aft),
        )

    @property
    def lacking(self) -> tuple[Remark, ...]:
        """Return what the load factor lacks."""
        return (
            Remark(
                "the chine beam this edition takes is not known",
                np.broadcast_to(np.isnan(self.form.beam(self.craft)), np.shape(self.x)),
            ),
        )


def _bottom(where: _Where) -> Loading:
    P_D, P_P, P_min = where.bottom
    P = pressures.bottom_pressure(P_D=P_D, P_P=P_P, P_min=P_min)
    return Loading(P=P, remarks=where.remarks(Surface.BOTTOM, P, P_P, P_D), lacking=where.lacking)


def _side(where: _Where) -> Loading:
    craft, form = where.craft, where.form
    P_D, P_P, P_min = where.bottom
    z, h = craft.deck_height, np.broadcast_to(where.height, np.shape(where.x))
    k_Z = off_bottom.height_factor(z_dk=z, h_m=h)
    P_dk = off_bottom.deck_base(L_WL=craft.LWL)
    P_D_base = off_bottom.displacement_base(m_LDC=craft.m_LDC)
    P_P_base = form.planing_base(craft.m_LDC, craft.LWL, form.beam(craft), where.k_DC, where.dynamic[0])
    P_s_D = off_bottom.side_displacement_pressure(
        P_dk_base=P_dk, P_D_base=P_D_base, k_Z=k_Z, k_AR=where.k_AR_D, k_DC=where.k_DC, k_L=where.k_L
    )
    P_s_P = off_bottom.side_planing_pressure(
        P_dk_base=P_dk, P_P_base=P_P_base, k_Z=k_Z, k_AR=where.k_AR_P, k_DC=where.k_DC, k_L=where.k_L
    )
    P_s_min = off_bottom.least_side_pressure(L_WL=craft.LWL, k_DC=where.k_DC)
    P = off_bottom.side_pressure(
        h_m=h, P_s_D=P_s_D, P_s_P=P_s_P, P_s_min=P_s_min, P_D=P_D, P_P=P_P, P_min=P_min
    )
    wet = h < 0
    return Loading(
        P=P,
        remarks=(
            *where.remarks(Surface.SIDE, P, np.where(wet, P_P, P_s_P), np.where(wet, P_D, P_s_D)),
            Remark("its middle lies below the waterline: the bottom's pressure counts", wet),
            Remark("its middle lies above the deck's edge: k_Z is held at 0", h > z),
        ),
        lacking=(
            *where.lacking,
            Remark(
                "the craft's deck height is not given: a side's pressure falls towards the deck's edge",
                np.isnan(z) & ~wet,
            ),
            Remark("the height of its middle above the waterline is not given", np.isnan(h)),
        ),
    )


def _deck(where: _Where) -> Loading:
    k_DC, k_L, k_AR_D, k_AR_P = where.k_DC, where.k_L, where.k_AR_D, where.k_AR_P
    P_dk = off_bottom.deck_base(L_WL=where.craft.LWL)
    P_dk_D = off_bottom.deck_displacement_pressure(P_dk_base=P_dk, k_AR=k_AR_D, k_DC=k_DC, k_L=k_L)
    P_dk_P = off_bottom.deck_planing_pressure(P_dk_base=P_dk, k_AR=k_AR_P, k_DC=k_DC, k_L=k_L)
    P = off_bottom.deck_pressure(P_dk_D=P_dk_D, P_dk_P=P_dk_P, P_dk_min=off_bottom.least_deck_pressure())
    return Loading(
        P=P,
        remarks=(
            *where.remarks(Surface.DECK, P, P_dk_P, P_dk_D),
            Remark("the deck's one form is taken with k_R of both modes: our conservative reading"),
        ),
        lacking=where.lacking,
    )


def _under_head(pressure: Formula, where: _Where) -> Loading:
    h_B = np.broadcast_to(where.head, np.shape(where.x))
    return Loading(
        P=pressure(h_B=h_B),
        remarks=(
            Remark(
                "the head is as declared; the clause says from which point it is measured", ~np.isnan(h_B)
            ),
            *where.form.said.head,
        ),
        lacking=(Remark("the head of water it is to hold is not given", np.isnan(h_B)),),
    )


_LOADINGS: Mapping[Surface, Callable[[_Where], Loading]] = {
    Surface.BOTTOM: _bottom,
    Surface.SIDE: _side,
    Surface.DECK: _deck,
    Surface.BULKHEAD: partial(_under_head, off_bottom.bulkhead_pressure),
    Surface.TANK: partial(_under_head, off_bottom.tank_pressure),
}
