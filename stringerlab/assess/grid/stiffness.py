"""EI, GA and GJ of a section on a strip of plating of any width, from a few sections computed and kept.

EA, first moment and second moment about the shell are exact polynomials of the strip's width, so that every
span of a section is had from three of its kind. GA and GJ are thin-wall theory's, straight between two
widths.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor, log

import numpy as np

from stringerlab.assess.grid.records import Array
from stringerlab.assess.sections import section_facts
from stringerlab.assess.torsion import quick_torsion
from stringerlab.laminate import Moduli, Stack, engineering_constants, thickness
from stringerlab.section import Plating, SectionShape, properties

_WIDTHS = (300.0, 500.0, 900.0)
_RATIO = 1.5
"""Between widths at which thin walls are computed."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stiffness:
    """Of a section on strips of plating, (k,)."""

    EI: Array
    GA: Array
    GJ: Array
    thin: bool
    """Whether thin-wall theory gave GA and GJ; else its webs in mean shear, and its walls as open strips."""


def stiffness(shape: SectionShape, stack: Stack, deadrise: float, widths: Array) -> Stiffness:
    """Return the stiffness of a section on strips of plating.

    Parameters
    ----------
    shape, stack
        The section, and the plating under it.
    deadrise
        Slope of the shell it is drawn on [rad].
    widths
        (k,) of the strips [mm]; 0 for the section alone.

    Raises
    ------
    StringerlabError
        With everything that forbids a number.
    """
    alone = widths <= 0
    EI = np.empty(len(widths))
    if alone.any():
        EI[alone] = properties(shape, None, Moduli.CONTRACTED).EI_y
    if not alone.all():
        w = widths[~alone]
        EA, ES, EI_0 = _polynomials(shape, stack, deadrise) @ np.stack([np.ones_like(w), w, w**3])
        EI[~alone] = EI_0 - ES**2 / EA
    shear = [_sheared(shape, stack, deadrise, float(width)) for width in widths]
    thin = all(one is not None for one in shear)
    known = [
        _open(shape, stack, deadrise, float(width)) if one is None else one
        for one, width in zip(shear, widths, strict=True)
    ]
    return Stiffness(
        EI=EI,
        GA=np.array([one[0] for one in known]),
        GJ=np.array([one[1] for one in known]),
        thin=thin,
    )


def _open(shape: SectionShape, stack: Stack, deadrise: float, width: float) -> tuple[float, float]:
    """Return GA of the webs in mean shear, and GJ of walls and plating as open strips: G t³/3 a length."""
    known = section_facts(shape, deadrise)
    G = min((_G(each) for each in known.web_stacks), default=0.0)
    strips = min((_G(wall.stack) * thickness(wall.stack) ** 3 / 3 for wall in shape.walls), default=0.0)
    under = _G(stack) * thickness(stack) ** 3 / 3 * width
    GA = G * known.web_area
    return (GA if GA > 0 else np.inf), strips * known.girth + under


def _G(stack: Stack) -> float:
    return float(engineering_constants(stack).Gxy)


@lru_cache(128)
def _polynomials(shape: SectionShape, stack: Stack, deadrise: float) -> Array:
    """Return EA, first and second moment about the shell, as coefficients (3, 3) of 1, w, w³."""
    rows: list[list[float]] = []
    for width in _WIDTHS:
        of = properties(shape, Plating(stack=stack, width=width, deadrise=deadrise), Moduli.CONTRACTED)
        rows.append([of.EA, of.EA * of.z_na, of.EI_y + of.EA * of.z_na**2])
    basis = np.array([[1.0, width, width**3] for width in _WIDTHS])
    return np.asarray(np.linalg.solve(basis, np.array(rows)).T)


def _sheared(shape: SectionShape, stack: Stack, deadrise: float, width: float) -> tuple[float, float] | None:
    """Return GA and GJ, straight between the two nearest of the widths that are computed."""
    if width <= 0:
        return _thin(shape, stack, deadrise, None)
    place = log(width) / log(_RATIO)
    low, high = floor(place + 1e-12), ceil(place - 1e-12)
    first = _thin(shape, stack, deadrise, low)
    second = first if high == low else _thin(shape, stack, deadrise, high)
    if first is None or second is None:
        return second if first is None else first
    part = 0.0 if high == low else (width - _RATIO**low) / (_RATIO**high - _RATIO**low)
    return first[0] + part * (second[0] - first[0]), first[1] + part * (second[1] - first[1])


@lru_cache(256)
def _thin(
    shape: SectionShape, stack: Stack, deadrise: float, power: int | None
) -> tuple[float, float] | None:
    plating = None if power is None else Plating(stack=stack, width=_RATIO**power, deadrise=deadrise)
    found = quick_torsion(shape, plating)
    return None if found is None else (found.GA_z, found.GJ)
