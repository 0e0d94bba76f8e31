"""Sections that are one level hat: of every design by the vectorised engine, never drawn. N, mm, MPa."""

from collections.abc import Mapping, Sequence

import numpy as np

from stringerlab.geometry.chords import CHORDS
from stringerlab.project.drafting_shapes import HatParameters
from stringerlab.section.batch import Hats, hats
from stringerlab.section.webs import CONTACT
from stringerlab.sizing.judging.bare import Bare, Exact
from stringerlab.sizing.judging.lookups import Lookup
from stringerlab.sizing.judging.pricing import Taking
from stringerlab.sizing.judging.stacks import Stacks
from stringerlab.sizing.judging.varied import Varied
from stringerlab.sizing.records import Genes
from stringerlab.workings import Array


class HatSource:
    """A section that is one level hat, of every design.

    Parameters
    ----------
    hat, bead
        As the boat has it [mm, deg].
    varied
        What changes, by field of the hat's parameters, or ``bead``.
    laminates
        Number of the hat's laminate among ``stacks``, of every design.
    stacks
        Laminates of this hat.
    adhesive, beads
        What a cubic millimetre of its adhesive takes; what a millimetre of one bead's bonding does.
    """

    def __init__(
        self,
        hat: HatParameters,
        bead: float,
        varied: Mapping[str, Varied],
        laminates: Lookup,
        stacks: Stacks,
        adhesive: Taking,
        beads: Taking,
    ) -> None:
        self._hat, self._bead, self._varied = hat, bead, varied
        self._laminates, self._stacks = laminates, stacks
        self._adhesive, self._beads = adhesive, beads
        self.columns = tuple(sorted({*laminates.of.columns, *(one.column for one in varied.values())}))

    def bare(self, genes: Genes) -> Bare:
        """Return the hat of every design, without plating."""
        n, stacks = len(genes), self._stacks
        numbers = self._laminates(genes)

        def ply(name: str) -> Array:
            return stacks.per_ply(name).take(numbers, axis=1)

        def whole(name: str) -> Array:
            return stacks.per_stack(name).take(numbers)

        size = {name: self._of(name, genes) for name in _SIZES}
        t, E, gel = ply("t"), ply("E"), whole("gel")
        found = hats(
            Hats(
                height=size["height"],
                crown_width=size["crown_width"],
                draft=np.asarray(np.radians(size["draft"])),
                flange_width=size["flange_width"],
                crown_radius=size["crown_radius"],
                root_radius=size["root_radius"],
                bead=size["bead"],
                gel=gel,
                t=t.T,
                E=E.T,
                plating_width=np.asarray(np.nan),
                plating_t=np.zeros((n, 0)),
                plating_E=np.zeros((n, 0)),
            ),
            workers=1,
        )
        area = found.area.T
        taken = [
            np.nansum(area * ply(name), axis=0) + found.gel_area * whole(f"gel_{name}")
            for name in ("mass", "cost", "hours")
        ]
        bonded = bonded_width(**size, thickness=gel + found.web_thickness)
        glued = size["bead"] > 0
        volume = np.where(glued, size["bead"] * bonded, 0.0)
        taken = [
            one + volume * adhesive + np.where(glued, 2 * beads, 0.0)
            for one, adhesive, beads in zip(taken, self._adhesive, self._beads, strict=True)
        ]
        carried = np.where(E > 0, E, np.nan)
        return Bare(
            sound=found.sound & (whole("sound") > 0),
            EA=found.EA,
            z_na=found.z_na,
            EI=found.EI_y,
            E=carried,
            z_top=found.z_top.T + found.z_na,
            z_bottom=found.z_bottom.T + found.z_na,
            tension=ply("tension"),
            compression=ply("compression"),
            base_width=found.base_width,
            height=np.broadcast_to(size["height"], n),
            web_area=found.web_area,
            web_tau=whole("tau"),
            web_depth=found.web_depth,
            web_thickness=found.web_thickness,
            crown_width=found.crown_width,
            crown_thickness=found.crown_thickness,
            free_edge=np.zeros(n, np.bool_),
            mass=taken[0],
            cost=taken[1],
            hours=taken[2],
        )

    def exactly(self, number: int, plating: int, width: float) -> Exact:
        """Never asked: a hat here is level."""
        del number, plating, width
        raise AssertionError("a hat here is level")

    def _of(self, name: str, genes: Genes) -> Array:
        varied = self._varied.get(name)
        if varied is None:
            return np.asarray(self._bead if name == "bead" else getattr(self._hat, name), float)
        return varied.values[genes[:, varied.column]]


_SIZES: Sequence[str] = (
    "height",
    "crown_width",
    "draft",
    "flange_width",
    "crown_radius",
    "root_radius",
    "bead",
)


def bonded_width(
    *,
    draft: Array,
    flange_width: Array,
    root_radius: Array,
    thickness: Array,
    height: Array,
    crown_width: Array,
    crown_radius: Array,
    bead: Array,
) -> Array:
    """Return how wide both flanges' shell-side faces lie on the bead or shell, as a section's facts have it.

    Chords of the root's fillet count while both their ends lie within 0.5 mm of it.

    Parameters
    ----------
    draft
        [deg].
    thickness
        Of the laminate, gel coat included [mm].
    """
    del height, crown_width, crown_radius, bead
    lean = np.radians(draft)
    half_chord = (0.5 * np.pi - lean) / (2 * CHORDS)
    sharp = (1 - np.sin(lean)) / np.cos(lean)
    flat = flange_width - root_radius * sharp
    far = root_radius + thickness / np.cos(half_chord)
    reach = flat + thickness * np.tan(half_chord / 2)
    gentle = np.floor(np.pi / 8 / half_chord + 0.5 + 1e-9)
    for chord in range(1, CHORDS + 1):
        turned = 2 * chord * half_chord
        rise = root_radius + thickness - far * np.cos(turned)
        reach = np.where((rise <= CONTACT) & (chord <= gentle), flat + far * np.sin(turned), reach)
    return 2 * np.where(root_radius > 0, reach, flange_width + thickness * sharp)


__all__ = ["HatSource", "bonded_width"]
