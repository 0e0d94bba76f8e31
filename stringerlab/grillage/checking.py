"""What is wrong with a grid and its loads before anything is solved: every problem at once."""

from collections.abc import Sequence
from typing import Any, cast

import numpy as np

from stringerlab.errors import Problem
from stringerlab.grillage.records import Array, Grid, Index, Loads

Names = Sequence[str] | None
"""A name for each node, as a person knows it."""


def node_name(grid: Grid, node: int, names: Names) -> str:
    """Return a node's name and its place on the plan."""
    x, y = grid.nodes[node]
    return f"{names[node] if names else f'node {node}'} at x {x:.0f}, y {y:.0f} mm"


def beam_name(grid: Grid, beam: int, names: Names) -> str:
    """Return a beam by its ends."""
    first, second = (int(node) for node in grid.beams[beam])
    return f"beam {beam}, {node_name(grid, first, names)} to {node_name(grid, second, names)}"


def problems(grid: Grid, names: Names = None) -> tuple[Problem, ...]:
    """Return everything wrong with a grid, whatever its loads."""
    shapes = _shapes(grid, names)
    if shapes:
        return tuple(shapes)
    n = len(grid.nodes)
    found: list[Problem] = [
        Problem(
            "This place of a node is no number.",
            names[node] if names else f"node {node}",
            "Give its x and y.",
        )
        for node in np.flatnonzero(~np.isfinite(grid.nodes).all(axis=1)).tolist()
    ]
    outside = ((grid.beams < 0) | (grid.beams >= n)).any(axis=1)
    found += [
        Problem(f"It ends at a node that is not there, of {n}.", f"beam {beam}", "Give it two nodes.")
        for beam in np.flatnonzero(outside).tolist()
    ]
    if found:
        return tuple(found)
    along = grid.nodes[grid.beams[:, 1]] - grid.nodes[grid.beams[:, 0]]
    size = max(float(np.ptp(grid.nodes, axis=0).max()), 1e-300)
    short = np.hypot(along[:, 0], along[:, 1]) <= 1e-9 * size
    for wrong, what, remedy in (
        (short, "It has no length.", "Move one of its ends, or leave it out."),
        (~_positive(grid.EI), "Its bending stiffness EI is not a number above 0.", "Give it a section."),
        (~(grid.GA > 0), "Its shear stiffness GA is not above 0.", "Give it a web, or inf for no shear."),
        (
            ~(np.isfinite(grid.GJ) & (grid.GJ >= 0)),
            "Its torsional stiffness GJ is not a number from 0 up.",
            "Give it a section.",
        ),
    ):
        found += [
            Problem(what, beam_name(grid, beam, names), remedy) for beam in np.flatnonzero(wrong).tolist()
        ]
    found += [
        Problem(
            "A spring to earth is below 0 or no number.",
            node_name(grid, node, names),
            "Give 0 to free it, inf to hold it.",
        )
        for node in np.flatnonzero(~(grid.springs >= 0).all(axis=1)).tolist()
    ]
    for label, mass in (("mass per length", grid.mass), ("mass at a node", grid.lumped)):
        if mass is not None and not (np.isfinite(mass) & (mass >= 0)).all():
            found.append(Problem(f"A {label} is below 0 or no number.", "grid", "Give kilograms from 0 up."))
    return tuple(found) or loose(grid, names)


def load_problems(grid: Grid, loads: Loads, names: Names = None) -> tuple[Problem, ...]:
    """Return everything wrong with loads on a grid that is right."""
    found: list[Problem] = []
    k = len(loads.beam)
    amount = cast(Any, loads.amount)
    shape = cast("tuple[int, ...]", amount.shape)
    if len(loads.along) != k or len(shape) != 2 or shape[0] != k or (k == 0 and loads.nodal is None):
        return (
            Problem(
                f"{k} points have {len(loads.along)} places and amounts of shape {tuple(shape)}.",
                "loads",
                "Give a beam, a place and a row of amounts for each point.",
            ),
        )
    if loads.nodal is not None and loads.nodal.shape != (len(grid.nodes), 3, shape[1]):
        found.append(
            Problem(
                f"Loads at nodes have the shape {loads.nodal.shape}.",
                "loads",
                f"Make it ({len(grid.nodes)}, 3, {shape[1]}).",
            )
        )
    elif loads.nodal is not None and not np.isfinite(loads.nodal).all():
        nodes = np.flatnonzero(~np.isfinite(loads.nodal).all(axis=(1, 2))).tolist()
        found += [
            Problem("A load is no number.", node_name(grid, node, names), "Give newtons.") for node in nodes
        ]
    rows = amount.tocoo() if hasattr(amount, "tocoo") else None
    wrong = np.zeros(k, np.bool_)
    if rows is None:
        wrong |= ~np.isfinite(amount).all(axis=1)
    else:
        wrong[rows.row[~np.isfinite(rows.data)]] = True
    found += [
        Problem("A load is no number.", f"load point {q}", "Give newtons.")
        for q in np.flatnonzero(wrong).tolist()
    ]
    if not shape[1]:
        found.append(Problem("There is no load case.", "loads", "Give one."))
    beams = (loads.beam < 0) | (loads.beam >= len(grid.beams))
    found += [
        Problem(f"A load stands on beam {loads.beam[q]}, which is not there.", f"load point {q}", "Move it.")
        for q in np.flatnonzero(beams).tolist()
    ]
    off = ~beams & ~((loads.along >= 0) & (loads.along <= 1))
    found += [
        Problem(
            f"A load stands at {loads.along[q]:.4g} of the length, off the beam.",
            beam_name(grid, int(loads.beam[q]), names),
            "Give 0 to 1.",
        )
        for q in np.flatnonzero(off).tolist()
    ]
    return tuple(found)


def groups(n: int, beams: Index) -> Index:
    """Return for each of n nodes the least node that beams connect it with, (n,)."""
    least = np.arange(n)
    first, second = beams[:, 0], beams[:, 1]
    while True:
        low = np.minimum(least[first], least[second])
        new = least.copy()
        np.minimum.at(new, least[first], low)
        np.minimum.at(new, least[second], low)
        new = new[new]
        if np.array_equal(new, least):
            return least
        least = new


def loose(grid: Grid, names: Names = None) -> tuple[Problem, ...]:
    """Return the parts of a grid that nothing holds, each with its nodes."""
    least = groups(len(grid.nodes), grid.beams)
    held = np.zeros(len(grid.nodes), np.bool_)
    np.logical_or.at(held, least, (grid.springs[:, 0] > 0))
    reached = np.zeros(len(grid.nodes), np.bool_)
    reached[grid.beams] = True
    found: list[Problem] = []
    for group in np.flatnonzero((least == np.arange(len(least))) & ~held).tolist():
        nodes = np.flatnonzero(least == group)
        if len(nodes) == 1 and not reached[nodes[0]]:
            what = "No beam reaches this node and nothing holds it."
        else:
            what = f"Nothing holds this part of the grid, of {len(nodes)} nodes, up or down."
        found.append(
            Problem(what, listed(grid, nodes, names), "Give it a support, or connect it with the rest.")
        )
    return tuple(found)


def listed(grid: Grid, nodes: Index, names: Names, first: int = 6) -> str:
    """Return the names of nodes, the first few whole and the rest counted."""
    said = "; ".join(node_name(grid, int(node), names) for node in nodes[:first])
    return said if len(nodes) <= first else f"{said}; and {len(nodes) - first} more"


def _positive(values: Array) -> np.ndarray:
    return np.isfinite(values) & (values > 0)


def _shapes(grid: Grid, names: Names) -> list[Problem]:
    n, m = len(grid.nodes), len(grid.beams)
    wanted: list[tuple[str, np.ndarray | None, tuple[int, ...]]] = [
        ("nodes", grid.nodes, (n, 2)),
        ("beams", grid.beams, (m, 2)),
        ("EI", grid.EI, (m,)),
        ("GA", grid.GA, (m,)),
        ("GJ", grid.GJ, (m,)),
        ("springs", grid.springs, (n, 3)),
        ("pinned", grid.pinned, (m, 2)),
        ("mass", grid.mass, (m,)),
        ("lumped", grid.lumped, (n,)),
    ]
    found = [
        Problem(f"'{name}' has the shape {values.shape}.", "grid", f"Make it {shape}.")
        for name, values, shape in wanted
        if values is not None and values.shape != shape
    ]
    if not n or not m:
        found.append(Problem("There is no beam.", "grid", "Draw a member."))
    if names is not None and len(names) != n:
        found.append(Problem(f"{len(names)} names are given for {n} nodes.", "grid", "Name each node."))
    return found
