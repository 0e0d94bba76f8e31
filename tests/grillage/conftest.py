"""Grids that tests are made of."""

from collections.abc import Mapping, Sequence

import numpy as np

from stringerlab.grillage import Grid, Loads

INF = np.inf
PIN, TWISTLESS, CLAMP = (INF, 0.0, 0.0), (INF, INF, 0.0), (INF, INF, INF)
"""Supports on w, θx, θy; ``TWISTLESS`` is a simple support of a beam along x."""


def grid(
    nodes: Sequence[Sequence[float]],
    beams: Sequence[tuple[int, int]],
    springs: Mapping[int, Sequence[float]],
    *,
    EI: float | Sequence[float] = 1.0,
    GA: float | Sequence[float] = INF,
    GJ: float | Sequence[float] = 1.0,
    pinned: Sequence[tuple[bool, bool]] | None = None,
    mass: float | None = None,
) -> Grid:
    m = len(beams)
    held = np.zeros((len(nodes), 3))
    for node, spring in springs.items():
        held[node] = spring
    return Grid(
        nodes=np.array(nodes, dtype=np.float64),
        beams=np.array(beams, dtype=np.intp),
        EI=np.broadcast_to(np.asarray(EI, dtype=np.float64), (m,)).copy(),
        GA=np.broadcast_to(np.asarray(GA, dtype=np.float64), (m,)).copy(),
        GJ=np.broadcast_to(np.asarray(GJ, dtype=np.float64), (m,)).copy(),
        springs=held,
        pinned=None if pinned is None else np.array(pinned),
        mass=None if mass is None else np.full(m, mass),
    )


def line(
    lengths: Sequence[float],
    supports: Sequence[Sequence[float]],
    *,
    EI: float | Sequence[float] = 1.0,
    GA: float | Sequence[float] = INF,
    pinned: Sequence[tuple[bool, bool]] | None = None,
    mass: float | None = None,
    turned: float = 0.0,
) -> Grid:
    """A beam of several spans along x (or turned), a support at each node."""
    x = np.concatenate([[0.0], np.cumsum(lengths)])
    return grid(
        [(each * np.cos(turned), each * np.sin(turned)) for each in x],
        [(i, i + 1) for i in range(len(lengths))],
        dict(enumerate(supports)),
        EI=EI,
        GA=GA,
        pinned=pinned,
        mass=mass,
    )


def lattice(
    x: Sequence[float],
    y: Sequence[float],
    *,
    EI: float = 1.0,
    GA: float = INF,
    GJ: float = 1.0,
    edge: Sequence[float] = PIN,
) -> Grid:
    """Beams along x and y through all crossings, held at all edges; node number = i·len(y) + j."""
    nx, ny = len(x), len(y)
    number = np.arange(nx * ny).reshape(nx, ny)
    beams = np.concatenate(
        [
            np.stack([number[:-1].ravel(), number[1:].ravel()], axis=1),
            np.stack([number[:, :-1].ravel(), number[:, 1:].ravel()], axis=1),
        ]
    )
    outer = {int(k) for k in np.concatenate([number[0], number[-1], number[:, 0], number[:, -1]])}
    return grid(
        [(a, b) for a in x for b in y],
        [(int(a), int(b)) for a, b in beams],
        dict.fromkeys(outer, edge),
        EI=EI,
        GA=GA,
        GJ=GJ,
    )


def points(*forces: tuple[int, float, float], nodal: np.ndarray | None = None) -> Loads:
    """Forces: beam, place 0 to 1, newtons up; one case, or as many as at nodes."""
    cases = 1 if nodal is None else nodal.shape[2]
    return Loads(
        beam=np.array([force[0] for force in forces], dtype=np.intp),
        along=np.array([force[1] for force in forces], dtype=np.float64),
        amount=np.array([[force[2]] * cases for force in forces]).reshape(len(forces), cases),
        nodal=nodal,
    )


def spread(g: Grid, load: float | Sequence[float], beams: Sequence[int] | None = None, n: int = 40) -> Loads:
    """A uniform load per length as Gauss points: its moments over a beam are exact."""
    chosen = np.arange(len(g.beams)) if beams is None else np.asarray(beams, dtype=np.intp)
    at, weight = np.polynomial.legendre.leggauss(n)
    L = np.hypot(*(g.nodes[g.beams[chosen, 1]] - g.nodes[g.beams[chosen, 0]]).T)
    per = np.broadcast_to(np.asarray(load, dtype=np.float64), L.shape)
    return Loads(
        beam=np.repeat(chosen, n),
        along=np.tile((1 + at) / 2, len(chosen)),
        amount=((per * L)[:, None] * weight / 2).reshape(-1, 1),
    )


def on_node(g: Grid, node: int, freedom: int, amount: float) -> Loads:
    nodal = np.zeros((len(g.nodes), 3, 1))
    nodal[node, freedom] = amount
    return points(nodal=nodal)
