"""A section's torsion and transverse shear: by thin walls under the hand, in full when it rests.

The solvers are read when they are first asked: a check by a method alone needs none.
"""

from dataclasses import dataclass

from stringerlab.errors import Problem, StringerlabError
from stringerlab.section import Plating, SectionShape


@dataclass(frozen=True, slots=True, kw_only=True)
class Torsional:
    """What a section is worth in torsion and transverse shear; places from its origin. N, mm."""

    GJ: float
    y_s: float
    z_s: float
    GA_y: float
    GA_z: float
    error: float | None = None
    """Part by which the full solution may be too stiff; None where it is thin-wall theory's quick answer."""
    notes: tuple[Problem, ...] = ()
    """What was left out, or taken for want of better."""
    warning: Problem | None = None
    """Where thin-wall theory is more than 10 % from the full solution, which this is."""

    @property
    def quick(self) -> bool:
        """Whether it is thin-wall theory's."""
        return self.error is None

    @property
    def basis(self) -> str:
        """What the numbers are by."""
        if self.error is None:
            return "thin-wall theory, the quick answer"
        return f"finite elements, within {100 * self.error:.1g} %"


def quick_torsion(shape: SectionShape, plating: Plating | None) -> Torsional | None:
    """Return thin-wall theory's answer; None where its walls do not hang together or carry nothing."""
    from stringerlab.section.torsion import thin_walls

    try:
        found = thin_walls(shape, plating)
    except StringerlabError:
        return None
    return Torsional(
        GJ=found.GJ, y_s=found.y_s, z_s=found.z_s, GA_y=found.GA_y, GA_z=found.GA_z, notes=found.remarks
    )


def full_torsion(shape: SectionShape, plating: Plating | None) -> Torsional:
    """Return the finite elements' answer, with a warning where thin walls are more than 10 % off.

    Raises
    ------
    StringerlabError
        As `stringerlab.section.torsion.warping` does.
    """
    from stringerlab.section.torsion import warping

    found = warping(shape, plating)
    return Torsional(
        GJ=found.GJ,
        y_s=found.y_s,
        z_s=found.z_s,
        GA_y=found.GA_y,
        GA_z=found.GA_z,
        error=found.error,
        notes=found.notes,
        warning=_far(shape, plating),
    )


def _far(shape: SectionShape, plating: Plating | None) -> Problem | None:
    """Return the warning where the quick answer is far off; None where there is none to compare."""
    from stringerlab.section.torsion import compared

    try:
        return compared(shape, plating).warning
    except StringerlabError:
        return None
