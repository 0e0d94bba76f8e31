"""A second opinion on a section from sectionproperties: on its ply polygons, and on the regions of torsion.

Its mesher can crash, hang or leak, so it runs in a process of its own under a time limit: this module is that
process's program too. Polygons are noded and checked first; fills and plies without stiffness along the
member stay out of bending. The geometric analysis of six-node triangles is exact for straight edges.

Torsion and shear are asked of the regions of `stringerlab.section.torsion`. It knows one modulus a region
and one Poisson's ratio for all: given G for its E it finds GJ; its shear centre and shear stiffness are those
of the section only where E/G is the same in every region. Poisson's ratio is 0, as ours. N, mm, MPa.
"""

import json
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from time import perf_counter
from typing import TYPE_CHECKING, Any, cast

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry import planar
from stringerlab.geometry.areas import Area, Array
from stringerlab.geometry.noding import noded
from stringerlab.laminate.records import Moduli
from stringerlab.section.other_process import Watch, asked
from stringerlab.section.polygons import rings_of
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.stiffness import weighted

if TYPE_CHECKING:
    from stringerlab.section.torsion.regions import Region

Index = NDArray[np.intp]
Case = tuple[SectionShape, Plating | None, Moduli]

LIMIT = 60.0
"""Seconds the other process may take a section."""
OVERLAP = 1e-7
"""Part of the area by which polygons may overlap and still be meshed."""
EVEN = 0.01
"""Part by which E/G may differ between regions that the other library's one ratio stands for."""
FINENESS = 600
"""Triangles a section has at least, roughly: its area by this is the largest."""
MOST = 40_000
"""Triangles that are too many: it takes some two seconds a thousand."""
MODULE = "stringerlab.section.second_opinion"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opinion:
    """What the other library finds; axes and signs as in `stringerlab.section.Properties`."""

    area: float
    EA: float
    y_na: float
    z_na: float
    EI_y: float
    EI_z: float
    EI_yz: float
    meshing: float
    """Seconds it took to mesh."""
    analysis: float
    """Seconds of its geometric analysis alone."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Stresses:
    """The other library's mesh, and what it finds in each triangle."""

    points: Array
    """(n, 2)"""
    triangles: Index
    """(t, 3) corners."""
    region: Index
    """(t,) index of the region it lies in."""
    bending: Array
    """(t,) mean σ under a unit moment about y, the crown in tension [MPa per N·mm]."""
    shear: Array
    """(t,) mean shear stress under a unit vertical force, by its own weighting [MPa per N]."""
    torsion: Array
    """(t,) mean shear stress under a unit torque [MPa per N·mm]."""


@dataclass(frozen=True, kw_only=True, eq=False)
class ShearOpinion:
    """What the other library finds of torsion and shear, by the names of our own `Warping`."""

    GJ: float
    y_s: float
    z_s: float
    GA_y: float
    GA_z: float
    ratio: float
    """E/G it was given for all regions: their mean by G and area."""
    least_ratio: float
    greatest_ratio: float
    """Of the regions' own."""
    stresses: Stresses
    seconds: float

    @property
    def even(self) -> bool:
        """Whether its one ratio is that of every region, so that it finds the section's shear too."""
        return self.greatest_ratio - self.least_ratio <= EVEN * self.ratio


def second_opinion(
    shape: SectionShape, plating: Plating | None, moduli: Moduli, *, limit: float = LIMIT
) -> Opinion:
    """Return the other library's opinion on one section; see `second_opinions`."""
    return second_opinions([(shape, plating, moduli)], limit=limit)[0]


def shear_opinion(
    regions: Sequence["Region"],
    where: str,
    *,
    fineness: int = FINENESS,
    limit: float = LIMIT,
    watch: Watch | None = None,
) -> ShearOpinion:
    """Return the other library's opinion on torsion and transverse shear.

    Parameters
    ----------
    regions
        Of one E and one G each, that nowhere share a place.
    where
        What they are the regions of, for messages.
    fineness
        Triangles wanted at least, roughly; thin parts take what their thickness asks.
    limit, watch
        As for `asked`.

    Raises
    ------
    StringerlabError
        When regions overlap, a mesh would have more than `MOST` triangles, or the other process crashes,
        takes too long or gives no numbers.
    """
    areas = _noded_areas([region.area for region in regions], where)
    size = sum(planar.sizes([area])[0] for area in areas) / fineness
    expected = _triangles(areas, size)
    if expected > MOST:
        raise StringerlabError(
            Problem(
                f"The second opinion would need about {expected:.3g} triangles; {MOST} are too many.",
                where,
                "Ask for a coarser mesh, or leave its thinnest wall out.",
            )
        )
    E, G = np.array([region.E for region in regions]), np.array([region.G for region in regions])
    weight = G * [planar.sizes([area])[0] for area in areas]
    carries = E > 0
    ratios = E[carries] / G[carries]
    ratio = float(ratios @ weight[carries] / weight[carries].sum())
    rings = [[[ring.tolist() for ring in polygon] for polygon in area] for area in areas]
    given = {
        "size": size,
        "ratio": ratio,
        "torsion": [*zip(G.tolist(), rings, strict=True)],
        "shear": [*zip(np.where(carries, E, ratio * G).tolist(), rings, strict=True)],
    }
    answer = asked([sys.executable, "-m", MODULE], json.dumps(given), limit, where, watch)
    return _shear_read(answer, ratio, ratios, where)


def second_opinions(
    cases: Sequence[Case], *, limit: float = LIMIT, watch: Watch | None = None
) -> list[Opinion]:
    """Return the other library's opinion on sections, all in one process.

    Parameters
    ----------
    cases
        Section, plating and moduli of each.
    limit
        Seconds allowed a section; the process is killed after that many for all of them.
    watch
        Told of the time used; ends it by raising.

    Raises
    ------
    StringerlabError
        When a section cannot be drawn, its polygons overlap (a declared lap), or the other process crashes,
        takes too long or gives no numbers.
    """
    where = ", ".join(f"section '{shape.name}'" for shape, _, _ in cases)
    given = json.dumps([_polygons(*case) for case in cases])
    answer = asked([sys.executable, "-m", MODULE], given, limit * len(cases), where, watch)
    return opinions(answer, len(cases), where)


def opinions(answer: str, count: int, where: str) -> list[Opinion]:
    """Return the opinions that an answer holds.

    Raises
    ------
    StringerlabError
        When it does not hold ``count`` of them, or a value that is no number.
    """
    garbage = _garbage(where)
    try:
        found = [Opinion(**values) for values in json.loads(answer)]
        sound = all(np.isfinite(getattr(one, name)) for one in found for name in Opinion.__slots__)
    except (ValueError, TypeError):
        raise StringerlabError(garbage) from None
    if len(found) != count or not sound:
        raise StringerlabError(garbage)
    return found


def _shear_read(answer: str, ratio: float, ratios: Array, where: str) -> ShearOpinion:
    try:
        found: dict[str, Any] = json.loads(answer)
        stresses = Stresses(
            points=np.array(found.pop("points"), np.float64).reshape(-1, 2),
            triangles=np.array(found.pop("triangles"), np.intp).reshape(-1, 3),
            region=np.array(found.pop("region"), np.intp),
            **{name: np.array(found.pop(name), np.float64) for name in ("bending", "shear", "torsion")},
        )
        opinion = ShearOpinion(
            **found,
            ratio=ratio,
            least_ratio=float(ratios.min()),
            greatest_ratio=float(ratios.max()),
            stresses=stresses,
        )
        sound = all(np.isfinite(getattr(opinion, name)) for name in _SHEAR) and all(
            np.isfinite(each).all() for each in (stresses.bending, stresses.shear, stresses.torsion)
        )
    except (ValueError, TypeError, KeyError, AttributeError):
        raise StringerlabError(_garbage(where)) from None
    if not sound:
        raise StringerlabError(_garbage(where))
    return opinion


_SHEAR = ("GJ", "y_s", "z_s", "GA_y", "GA_z", "seconds")


def _garbage(where: str) -> Problem:
    return Problem(
        "The second opinion's answer is not a list of numbers.", where, "Install sectionproperties again."
    )


def _polygons(shape: SectionShape, plating: Plating | None, moduli: Moduli) -> list[tuple[float, list[Any]]]:
    """Return modulus and rings (outer, holes …) of every polygon, noded and checked."""
    built, E = weighted(shape, plating, moduli)
    carrying = [index for index in range(len(E)) if E[index] > 0]
    rings = list(rings_of(built))
    areas = _noded([rings[index] for index in carrying], f"section '{shape.name}'")
    return [
        (float(E[index]), [ring.tolist() for ring in polygon])
        for index, area in zip(carrying, areas, strict=True)
        for polygon in area
    ]


def _noded(regions: Sequence[Sequence[Array]], where: str) -> list[Area]:
    """Return the areas of regions given by their rings, sharing vertices; refuse what overlaps."""
    owner = [index for index, rings in enumerate(regions) for _ in rings]
    rings = noded([ring for rings in regions for ring in rings])
    areas = [
        planar.area_of_rings([ring for ring, mine in zip(rings, owner, strict=True) if mine == index])
        for index in range(len(regions))
    ]
    whole, together = planar.sizes(areas)
    if abs(whole - together) > OVERLAP * together:
        raise StringerlabError(
            Problem(
                f"Its polygons overlap by {whole - together:.3g} mm², which a mesh would count once.",
                where,
                "There is no second opinion on laps that share their place.",
            )
        )
    return areas


def _noded_areas(areas: Sequence[Area], where: str) -> list[Area]:
    return _noded([[ring for polygon in area for ring in polygon] for area in areas], where)


def _triangles(areas: Sequence[Area], size: float) -> float:
    """Return about how many triangles no larger than ``size`` and no more pointed than 30° areas take."""
    count = 0.0
    for area in areas:
        rings = [ring for polygon in area for ring in polygon]
        around = sum(float(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum()) for ring in rings)
        inside = planar.sizes([area])[0]
        thick = 2 * inside / around
        count += inside / min(size, thick**2 / 2)
    return count


def _section(polygons: Sequence[tuple[float, list[Any]]], **mesh: Any) -> Any:
    """Return the other library's section, meshed, in its own process; region i is of material ``i``."""
    from sectionproperties.analysis.section import Section
    from sectionproperties.pre.geometry import CompoundGeometry, Geometry
    from sectionproperties.pre.pre import Material

    compound: Any = CompoundGeometry(
        [
            Geometry(
                planar.shape_of([[np.array(ring) for ring in polygon] for polygon in rings]),
                Material(str(index), E, 0.0, 1.0, 1.0, "w"),
            )
            for index, (E, rings) in enumerate(polygons)
        ]
    )
    compound.create_mesh(**mesh)
    return Section(compound)


def _analysed(polygons: list[tuple[float, list[Any]]]) -> dict[str, float]:
    """Return one section's numbers, in the process of its own."""
    begun = perf_counter()
    section = _section([(E, [rings]) for E, rings in polygons], mesh_sizes=[0], coarse=True)
    meshed = perf_counter()
    section.calculate_geometric_properties()
    ended = perf_counter()
    y_na, z_na = section.get_c()
    EI_y, EI_z, EI_yz = section.get_eic()
    values = (
        section.get_area(),
        section.get_ea(),
        y_na,
        z_na,
        EI_y,
        EI_z,
        EI_yz,
        meshed - begun,
        ended - meshed,
    )
    return dict(zip(Opinion.__slots__, map(float, values), strict=True))


def _sheared(given: dict[str, Any]) -> dict[str, Any]:
    """Return one section's torsion and shear with its mesh, in the process of its own."""
    begun = perf_counter()
    twisted, bent = (_section(given[name], mesh_sizes=[given["size"]]) for name in ("torsion", "shear"))
    if not np.array_equal(twisted.mesh_elements, bent.mesh_elements):
        raise RuntimeError("its two meshes of the same regions differ")
    _refuse_apart(bent.mesh_elements, len(bent.mesh_nodes))
    for section in (twisted, bent):
        section.calculate_geometric_properties()
        section.calculate_warping_properties()
    y_s, z_s = bent.get_sc()
    stiff_y, stiff_z = bent.get_eas()
    by_torque = _means(twisted, twisted.calculate_stress(mzz=1.0).get_stress(), "sig_zxy_mzz")
    stress = bent.calculate_stress(mxx=1.0, vy=1.0).get_stress()
    return {
        "GJ": float(twisted.get_ej()),
        "y_s": float(y_s),
        "z_s": float(z_s),
        "GA_y": float(stiff_y) / given["ratio"],
        "GA_z": float(stiff_z) / given["ratio"],
        "points": bent.mesh_nodes.tolist(),
        "triangles": bent.mesh_elements[:, :3].tolist(),
        "region": [int(element.material.name) for element in bent.elements],
        "bending": _means(bent, stress, "sig_zz_mxx"),
        "shear": _means(bent, stress, "sig_zxy_vy"),
        "torsion": by_torque,
        "seconds": perf_counter() - begun,
    }


def _refuse_apart(elements: NDArray[np.int_], count: int) -> None:
    """Refuse a mesh in several parts: the library would solve it to nothing."""
    from scipy.sparse import coo_matrix, csgraph

    first, rest = np.repeat(elements[:, :1], 5, axis=1), elements[:, 1:]
    links: Any = coo_matrix((np.ones(rest.size), (first.ravel(), rest.ravel())), shape=(count, count))
    label = cast(Any, csgraph).connected_components(links, directed=False)[1]
    if len(np.unique(label[elements])) > 1:
        raise RuntimeError("its parts do not touch")


def _means(section: Any, stress: Any, name: str) -> list[float]:
    """Return each element's mean over its nodes."""
    of = {found["material"]: np.asarray(found[name]) for found in stress}
    return [float(of[element.material.name][element.node_ids].mean()) for element in section.elements]


def _answer() -> None:
    given: Any = json.load(sys.stdin)
    if isinstance(given, dict):
        print(json.dumps(_sheared(cast(dict[str, Any], given))))
    else:
        print(json.dumps([_analysed(polygons) for polygons in given]))


if __name__ == "__main__":
    _answer()
