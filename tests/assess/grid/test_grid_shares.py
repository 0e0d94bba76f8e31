"""A patch's load on members is that of its points, each given to the nearest side of its bay."""

from typing import TYPE_CHECKING

import numpy as np

from stringerlab.assess.grid import analysed
from stringerlab.assess.grid.combining import Combined
from stringerlab.methods import method_named

if TYPE_CHECKING:
    from tests.assess.grid.conftest import Laid

METHOD = method_named("iso_12215_5_2008")
MANY = 160


def inside(ring: np.ndarray, points: np.ndarray) -> np.ndarray:
    a, b = ring, np.roll(ring, -1, axis=0)
    x, y = points[:, :1], points[:, 1:]
    with np.errstate(divide="ignore", invalid="ignore"):
        at = a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
    return (((a[:, 1] > y) != (b[:, 1] > y)) & (x < at)).sum(axis=1) % 2 == 1


def by_points(ground, corners: np.ndarray, force: float) -> dict[str, float]:  # pyright: ignore
    """Return what each span carries of a patch on a flat port side, point by point."""
    part = (np.arange(MANY) + 0.5) / MANY
    u, v = (each.ravel()[:, None] for each in np.meshgrid(part, part))
    points = corners[0] + u * (corners[1] - corners[0]) + v * (corners[3] - corners[0])
    found: dict[str, float] = {}
    for bay in ground.found.bays:
        for image in range(len(bay.rings)):
            turn = (1, 1 - 2 * image)
            here = points[inside(bay.rings[image], points)]
            a = np.array([side.start for side in bay.sides]) * turn
            way = np.array([side.end for side in bay.sides]) * turn - a
            off = here[:, None] - a
            t = np.clip((off * way).sum(axis=2) / (way * way).sum(axis=1), 0, 1)
            nearest = np.hypot(*np.moveaxis(off - t[..., None] * way, 2, 0)).argmin(axis=1)
            for number, side in enumerate(bay.sides):
                share = force * float((nearest == number).sum()) / len(points)
                found[side.span] = found.get(side.span, 0.0) + share
    return found


def test_members_that_run_together_carry_what_lies_nearest_to_them(laid: "Laid") -> None:
    girders = [laid.girder(name, (0, y), (6000, 0.45 * y)) for name, y in (("g1", 330), ("g2", 680))]
    floors = [laid.floor(f"f{x}", (x, 0), (x, 1000)) for x in (1210, 2490, 3730, 4790)]
    ground = laid.ground(laid.flat, *girders, *floors)
    results = analysed(ground, METHOD)
    cases = results.cases
    assert isinstance(cases, Combined)
    assert results.beams is not None
    patches = cases.patches
    straight = [row for row in np.flatnonzero(patches.whole).tolist() if patches.slid[row] == 0]
    errors: list[float] = []
    for row in straight:
        force = float(cases.on_bottom[row])
        loads = cases.of([row])
        amount = np.asarray(loads.amount.todense()).ravel()  # pyright: ignore
        spans = [ground.found.spans[number].id for number in results.beams.span[loads.beam].tolist()]
        subject = patches.subjects[row][0]
        for id_, part in by_points(ground, patches.plan[row], force).items():
            if id_ == subject and part > 0.15 * force:
                errors.append(sum(amount[at] for at, each in enumerate(spans) if each == id_) / part - 1)
    assert len(errors) > 10
    assert np.abs(errors).max() < 0.012
    assert abs(np.mean(errors)) < 0.003
