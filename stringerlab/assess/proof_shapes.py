"""Computations behind the published values of structural hollow sections; each in the unit its table states.

Cold formed, the corners are concentric: one closed wall, its eight chords a fillet. Hot finished, the inner
radius is t where a wall of one thickness has 0.5 t: two fills drawn point by point, 64 chords a corner.
"""

from collections.abc import Callable, Sequence

from stringerlab import section
from stringerlab.assess.proof_sections import plate_ply
from stringerlab.geometry.fillet import rounded
from stringerlab.laminate.records import Moduli, Stack
from stringerlab.section.records import FillShape, SectionShape, Side, WallShape

_CHORDS = 64
_UNITS = {"area": 1e2, "EI_y": 1e4, "EI_z": 1e4}
"""mm² and mm⁴ in cm² and cm⁴."""

Point = tuple[float, float]


def cold_formed(quantity: str, h: float, b: float, t: float) -> float:
    """Area [cm²] or second moment [cm⁴] of h × b × t mm, corners of 2 t outside, t inside."""
    stack = Stack(name="steel", plies=(plate_ply("steel", t, 1.0),))
    wall = WallShape(
        id="w1", points=_box(h, b), fillets=(2 * t,) * 4, side=Side.LEFT, closed=True, stack=stack
    )
    return _of(quantity, SectionShape(name="hollow section", walls=(wall,)))


def hot_finished(quantity: str, h: float, b: float, t: float) -> float:
    """Area [cm²] or second moment [cm⁴] of h × b × t mm, corners of 1.5 t outside, t inside."""
    outer = _right_half(_box(h, b), 1.5 * t)
    inner = _right_half(_box(h - 2 * t, b - 2 * t), t)
    half = (*outer, *reversed(inner))
    fills = tuple(
        FillShape(id=id_, points=points, name="steel", density=7850.0, modulus=1.0, strength=None)
        for id_, points in (("f1", half), ("f2", tuple((-y, z) for y, z in half)))
    )
    return _of(quantity, SectionShape(name="hollow section", walls=(), fills=fills))


def _box(h: float, b: float) -> tuple[Point, ...]:
    return ((-b / 2, -h / 2), (b / 2, -h / 2), (b / 2, h / 2), (-b / 2, h / 2))


def _right_half(box: Sequence[Point], radius: float) -> list[Point]:
    """The right half of a rounded box, from the middle of its lower side to that of its upper."""
    (_, low), corner, upper, (_, high) = box
    line = rounded(((0.0, low), corner, upper, (0.0, high)), (0.0, radius, radius, 0.0), chords=_CHORDS)
    return [(float(y), float(z)) for y, z in line]


def _of(quantity: str, shape: SectionShape) -> float:
    return float(getattr(section.properties(shape, None, Moduli.PLAIN), quantity)) / _UNITS[quantity]


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "hollow_sections.cold_formed": cold_formed,
    "hollow_sections.hot_finished": hot_finished,
}
