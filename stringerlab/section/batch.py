"""Stiffness and sizes of very many parametric hats at once: the polygon engine's numbers, without polygons.

The same hat as `stringerlab.section.shapes.hat` (eight chords a fillet, mitred offsets) on level plating, its
properties about the horizontal axis through the neutral point. N, mm, MPa, rad; z from the shell's inboard
face. What cannot be built, or folds, is masked and nan throughout: never silently wrong.
"""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, fields
from os import cpu_count

import numpy as np
from numpy.typing import NDArray

from stringerlab.section.hat_strip import Mask, Strip, strip
from stringerlab.section.shapes import MAX_DRAFT
from stringerlab.workings import Array

CHUNK = 16_384
"""Hats worked on at a time: their arrays stay in a core's cache."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hats:
    """n hats and the plating counted under each; see `stringerlab.section.shapes.hat` for the sizes.

    Sizes are (n,) or one for all; plies (n, k) from the tool face on and (n, p) from the hull's mould on,
    padded with nan. A hat needs some flat on each leg: a crown wholly taken by its fillets is not sound here.
    """

    height: Array
    crown_width: Array
    draft: Array
    """rad."""
    flange_width: Array
    crown_radius: Array
    root_radius: Array
    bead: Array
    gel: Array
    """Gel coat on the tool face, 0 for none: thickness and mass, no stiffness."""
    t: Array
    E: Array
    """Axial modulus of each ply; 0 is a core's, which is in the way and in the mass but carries nothing."""
    plating_width: Array
    """Without meaning where there are no plating plies (p = 0): the hat alone."""
    plating_t: Array
    plating_E: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HatProperties:
    """What n hats are worth: (n,), plies (n, k), plating plies (n, p); heights from the neutral axis, up."""

    sound: Mask
    """False where the hat cannot be built or something in it is no number: every other value is nan."""
    EA: Array
    z_na: Array
    """Neutral axis above the shell's inboard face."""
    EI_y: Array
    z_top: Array
    z_bottom: Array
    plating_z_top: Array
    plating_z_bottom: Array
    area: Array
    """Of each ply, for its mass."""
    gel_area: Array
    web_area: Array
    """Of both webs, like all that follows as `stringerlab.section.facts` measures it."""
    web_depth: Array
    web_thickness: Array
    base_width: Array
    crown_width: Array
    crown_thickness: Array

    @property
    def fibre_z(self) -> Array:
        """(n, k + p) the height of each ply's furthest fibre: the hat's plies, then the plating's."""
        top = np.hstack([self.z_top, self.plating_z_top])
        bottom = np.hstack([self.z_bottom, self.plating_z_bottom])
        return np.where(top >= -bottom, top, bottom)


def base_width(height: Array, crown_width: Array, draft: Array) -> Array:
    """Return the width between the webs' roots on the shell, on which the counted plating depends.

    Parameters
    ----------
    height, crown_width
        [mm].
    draft
        [rad].
    """
    return crown_width + 2 * height * np.tan(draft)


def hats(given: Hats, *, workers: int | None = None) -> HatProperties:
    """Return the properties of n hats.

    Parameters
    ----------
    given
        The hats; sizes broadcast to (n,), n taken from the plies.
    workers
        Threads; None for one a core.

    Raises
    ------
    ValueError
        When the arrays' shapes do not go together.
    """
    n, k = len(given.t), given.t.shape[1]
    p = given.plating_t.shape[1]
    sizes = {
        name: np.broadcast_to(np.asarray(getattr(given, name), float), (n,))
        for name in (field.name for field in fields(Hats))
        if name not in _PLIES
    }
    plies = {
        name: np.broadcast_to(np.asarray(getattr(given, name), float), (n, p if "plating" in name else k))
        for name in _PLIES
    }
    # Plies lie row by row in memory, so that a ply of all hats is one run; turned at the end.
    result = _Result(
        {name: np.empty(n) for name in _PER_HAT}
        | {name: np.empty((k, n)) for name in _PER_PLY}
        | {name: np.empty((p, n)) for name in _PER_PLATING_PLY},
        np.zeros(n, np.bool_),
    )

    def work(start: int) -> None:
        part = slice(start, min(start + CHUNK, n))
        _fill(part, sizes, plies, result)

    _run(work, range(0, n, CHUNK), workers or cpu_count() or 1)
    arrays = {name: array.T for name, array in result.arrays.items()}
    return HatProperties(sound=result.sound, **arrays)


_PLIES = ("t", "E", "plating_t", "plating_E")
_PER_HAT = (
    "EA",
    "z_na",
    "EI_y",
    "gel_area",
    "web_area",
    "web_depth",
    "web_thickness",
    "base_width",
    "crown_width",
    "crown_thickness",
)
_PER_PLY = ("z_top", "z_bottom", "area")
_PER_PLATING_PLY = ("plating_z_top", "plating_z_bottom")


@dataclass(frozen=True, slots=True, eq=False)
class _Result:
    arrays: dict[str, Array]
    sound: NDArray[np.bool_]


def _run(work: Callable[[int], None], starts: range, workers: int) -> None:
    if workers == 1 or len(starts) == 1:
        for start in starts:
            work(start)
        return
    with ThreadPoolExecutor(workers) as pool:
        for _ in pool.map(work, starts):
            pass


def _fill(part: slice, sizes: dict[str, Array], plies: dict[str, Array], result: _Result) -> None:
    """Work out one chunk and write it to its place."""
    size = {name: array[part] for name, array in sizes.items()}
    ply = {name: np.ascontiguousarray(array[part].T) for name, array in plies.items()}
    out = {name: array[..., part] for name, array in result.arrays.items()}
    sound = result.sound[part]
    with np.errstate(all="ignore"):  # rows that are not sound may divide by zero: they are masked
        t, E = _padded(ply["t"], ply["E"])
        plating = _padded(ply["plating_t"], ply["plating_E"])
        laminate = t.sum(axis=0)
        hat = strip(
            height=size["height"],
            crown_width=size["crown_width"],
            draft=size["draft"],
            flange_width=size["flange_width"],
            crown_radius=size["crown_radius"],
            root_radius=size["root_radius"],
            bead=size["bead"],
            thickness=size["gel"] + laminate,
        )
        _stiffness(hat, size, (t, E), plating, out)
        out["base_width"][:] = base_width(size["height"], size["crown_width"], size["draft"])
        out["web_area"][:] = 2 * hat.web_height * np.where(E > 0, t, 0.0).sum(axis=0)
        out["web_depth"][:] = hat.web_length
        out["web_thickness"][:] = laminate
        out["crown_width"][:] = hat.clear_crown
        out["crown_thickness"][:] = laminate
        sound[:] = (
            hat.sound
            & _in_range(size, laminate, plated=len(ply["plating_t"]) > 0)
            & (out["EI_y"] > 0)
            & np.isfinite(out["EI_y"])
        )
    for plies_t, plies_E in ((ply["t"], ply["E"]), (ply["plating_t"], ply["plating_E"])):
        absent = np.isnan(plies_t)
        sound &= (absent | ((plies_t > 0) & (plies_E >= 0) & np.isfinite(plies_E))).all(axis=0)
    for name in (*_PER_PLY, *_PER_PLATING_PLY):
        out[name][np.isnan(ply["plating_t" if name in _PER_PLATING_PLY else "t"])] = np.nan
    if not sound.all():
        for array in out.values():
            array[..., ~sound] = np.nan


def _stiffness(
    hat: Strip,
    size: dict[str, Array],
    plies: tuple[Array, Array],
    plating: tuple[Array, Array],
    out: dict[str, Array],
) -> None:
    """Sum E dA, E z dA and E z² dA ply by ply, and move them to the neutral axis."""
    total = np.zeros((3, len(hat.flange_z)))  # about the shell
    d = size["gel"]
    reached = hat.upto(d)
    out["gel_area"][:] = reached[0]
    for j, (t, E) in enumerate(zip(*plies, strict=True)):
        out["z_top"][j] = size["height"] - d
        d = d + t
        out["z_bottom"][j] = hat.flange_z - d
        before, reached = reached, hat.upto(d)
        np.subtract(reached[0], before[0], out=out["area"][j])
        total[0] += E * out["area"][j]
        total[1] += E * (reached[1] - before[1])
        total[2] += E * (reached[2] - before[2])

    z = np.zeros_like(d)
    thicknesses, moduli = plating
    for j in reversed(range(len(thicknesses))):  # the last ply lies inboard, its face on the shell's
        t = thicknesses[j]
        out["plating_z_top"][j] = z
        middle = z - 0.5 * t
        z = z - t
        out["plating_z_bottom"][j] = z
        strength = moduli[j] * t * size["plating_width"]
        total[0] += strength
        total[1] += strength * middle
        total[2] += strength * (middle * middle + t * t / 12)

    z_na = total[1] / total[0]
    out["EA"][:] = total[0]
    out["z_na"][:] = z_na
    np.subtract(total[2], total[1] * z_na, out=out["EI_y"])
    for name in ("z_top", "z_bottom", "plating_z_top", "plating_z_bottom"):
        out[name] -= z_na


def _padded(t: Array, E: Array) -> tuple[Array, Array]:
    """Plies with absent ones (nan thickness) of no thickness and no stiffness."""
    absent = np.isnan(t)
    return np.where(absent, 0.0, t), np.where(absent, 0.0, E)


def _in_range(size: dict[str, Array], laminate: Array, *, plated: bool) -> Mask:
    """Whether every size is a number in the range that `stringerlab.section.shapes.hat` accepts."""
    sound = (laminate > 0) & np.isfinite(laminate)
    sound &= (size["draft"] >= 0) & (size["draft"] <= np.radians(MAX_DRAFT))
    for name in ("height", "crown_width", "flange_width", *(("plating_width",) if plated else ())):
        sound &= (size[name] > 0) & np.isfinite(size[name])
    for name in ("crown_radius", "root_radius", "bead", "gel"):
        sound &= (size[name] >= 0) & np.isfinite(size[name])
    return sound
