"""Thin-wall theory beside the finite elements, and a warning where they are far apart."""

from dataclasses import dataclass

from stringerlab.errors import Problem
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.torsion.thin_walls import thin_walls
from stringerlab.section.torsion.warping import warping

FAR = 0.10
"""Part by which the quick answer may be off before it is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Thin walls over finite elements."""

    GJ: float
    GA_y: float
    GA_z: float
    shear_centre: float
    """Distance between both shear centres [mm]."""
    warning: Problem | None
    """Where one of them is more than `FAR` off."""


def compared(shape: SectionShape, plating: Plating | None = None) -> Comparison:
    """Return how the quick answer on a section compares with the full one.

    Raises
    ------
    StringerlabError
        As `warping` and `thin_walls` do.
    """
    quick, full = thin_walls(shape, plating), warping(shape, plating)
    ratios = {name: getattr(quick, name) / getattr(full, name) for name in ("GJ", "GA_y", "GA_z")}
    far = [f"{name} {ratio - 1:+.0%}" for name, ratio in ratios.items() if abs(ratio - 1) > FAR]
    apart = ((quick.y_s - full.y_s) ** 2 + (quick.z_s - full.z_s) ** 2) ** 0.5
    warning = (
        Problem(
            f"Thin-wall theory is far from the full solution: {', '.join(far)}.",
            f"section '{shape.name}'",
            "Go by the full solution; the quick one leaves out fills and the thickness of walls.",
        )
        if far
        else None
    )
    return Comparison(
        GJ=ratios["GJ"], GA_y=ratios["GA_y"], GA_z=ratios["GA_z"], shear_centre=apart, warning=warning
    )
