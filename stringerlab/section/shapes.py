"""Starting shapes made of ordinary walls: the top hat and the laminated plate floor.

Arguments are as typed in a document: mm and degrees. y to the right, z from the shell's inboard face.
What a shape gives can be redrawn by hand like any other wall.
"""

from collections.abc import Iterable, Mapping
from itertools import pairwise
from math import atan2, cos, hypot, inf, isfinite, pi, radians, sin, tan

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.chords import CHORDS
from stringerlab.geometry.fillet import rounded
from stringerlab.geometry.lines import TOUCH
from stringerlab.section.records import Fill, Point, Side, Wall

MAX_DRAFT = 40.0
"""Degrees from vertical: a web at 45° to the shell is no web any more."""
MAX_DEADRISE = 60.0


def hat(
    *,
    height: float,
    crown_width: float,
    flange_width: float,
    laminate: str,
    thickness: float,
    draft: float = 0.0,
    crown_radius: float = 0.0,
    root_radius: float = 0.0,
    bead: float = 0.0,
    deadrise: float = 0.0,
    wall_id: str = "w1",
    name: str = "hat",
) -> tuple[Wall, ...]:
    """Return a top hat as one wall, drawn left to right, its laminate building towards the shell.

    Widths and radii are of the tool face, which is inboard; widths go to the corners as if sharp. The
    flange's shell-side face lies on the bead.

    Parameters
    ----------
    height
        From the shell at y = 0 to the crown's tool face [mm].
    crown_width
        Between the crown's two corners [mm].
    flange_width
        From each root's corner to the flange's free edge, along the shell [mm].
    laminate, thickness
        The laminate's id, and its thickness with any gel coat [mm].
    draft
        Of the webs from vertical, leaning inward going up [deg].
    crown_radius, root_radius
        Fillets, 0 for a sharp corner [mm].
    bead
        Adhesive between shell and flanges [mm].
    deadrise
        Slope of the shell under the member, rising to the right [deg]. The crown stays level.
    wall_id, name
        Of the wall.

    Raises
    ------
    StringerlabError
        With every impossible parameter: not a number, negative, webs that meet, a radius that does not fit.
    """
    where = f"hat {wall_id}"
    problems = [
        *_not_positive(
            where,
            {
                "height": height,
                "crown width": crown_width,
                "flange width": flange_width,
                "thickness": thickness,
            },
        ),
        *_negative(where, {"crown radius": crown_radius, "root radius": root_radius, "bead": bead}),
        *_outside(where, "draft", draft, MAX_DRAFT, "A web that leans outward locks the part on its tool."),
        *_outside(where, "deadrise", deadrise, MAX_DEADRISE, "Draw the hat on the port side's shell."),
    ]
    if problems:
        raise StringerlabError(problems)
    points = _hat_points(height, crown_width, flange_width, thickness, draft, bead, deadrise, where)
    fillets = (0.0, root_radius, crown_radius, crown_radius, root_radius, 0.0)
    legs = ("left flange", "left web", "crown", "right web", "right flange")
    problems = list(_misfits(where, points, fillets, legs, Side.RIGHT, thickness))
    if problems:
        raise StringerlabError(problems)
    return (Wall(id=wall_id, points=points, laminate=laminate, side=Side.RIGHT, fillets=fillets, name=name),)


def plate_floor(
    *,
    depth: float,
    plate_laminate: str,
    plate_thickness: float,
    tab_laminate: str,
    tab_thickness: float,
    tab_height: float,
    tab_width: float,
    putty: str,
    root_radius: float,
    bed: float = 0.0,
    wall_ids: tuple[str, str, str] = ("w1", "w2", "w3"),
    fill_ids: tuple[str, str, str] = ("f1", "f2", "f3"),
) -> tuple[tuple[Wall, ...], tuple[Fill, ...]]:
    """Return a plate floor bonded to the shell by a tab on each face: its walls and its putty fills.

    The plate stands upright on the shell, or on a bed of putty, centred on y = 0. The tabs are laminated in
    place over putty fillets: their drawn line is the face of shell, putty and plate; they build away from it.

    Parameters
    ----------
    depth
        From the shell to the plate's top edge [mm].
    plate_laminate, plate_thickness
        Id, and thickness with any gel coat [mm].
    tab_laminate, tab_thickness
        Likewise of both tabs.
    tab_height, tab_width
        Of each tab, up the plate and out along the shell, from the plate's foot [mm].
    putty
        Material id of the fills.
    root_radius
        Of the putty fillets, 0 for tabs in a sharp corner without putty [mm].
    bed
        Putty between shell and plate [mm].
    wall_ids
        Of the plate, the left and the right tab.
    fill_ids
        Of the left and the right fillet and the bed; those not needed stay unused.

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    where = f"plate floor {wall_ids[0]}"
    problems = [
        *_not_positive(
            where,
            {
                "depth": depth,
                "plate thickness": plate_thickness,
                "tab thickness": tab_thickness,
                "tab height": tab_height,
                "tab width": tab_width,
            },
        ),
        *_negative(where, {"root radius": root_radius, "bed": bed}),
    ]
    if problems:
        raise StringerlabError(problems)
    half = plate_thickness / 2
    tab = ((half, tab_height), (half, 0.0), (half + tab_width, 0.0))
    radii = (0.0, root_radius, 0.0)
    if tab_height > depth:
        problems.append(
            Problem(
                f"the tab ({tab_height:g} mm) is higher than the plate ({depth:g} mm).",
                f"{where}, tab height",
                "Make the tab lower or the plate deeper.",
            )
        )
    if bed > min(depth, tab_height):
        problems.append(
            Problem(
                f"the bed ({bed:g} mm) leaves no plate, or none beside the tab.",
                f"{where}, bed",
                "Make the bed thinner.",
            )
        )
    problems += _misfits(where, tab, radii, ("tab height", "tab width"), Side.LEFT, tab_thickness)
    if problems:
        raise StringerlabError(problems)

    plate = Wall(
        id=wall_ids[0],
        points=((-half, bed), (-half, depth)),
        laminate=plate_laminate,
        side=Side.RIGHT,
        fillets=(0.0, 0.0),
        name="plate",
    )
    right = Wall(
        id=wall_ids[2], points=tab, laminate=tab_laminate, side=Side.LEFT, fillets=radii, name="right tab"
    )
    left = Wall(
        id=wall_ids[1],
        points=_mirrored(tab),
        laminate=tab_laminate,
        side=Side.LEFT,
        fillets=radii,
        name="left tab",
    )
    fills: list[Fill] = []
    if root_radius > 0:
        outline = _putty(tab, root_radius)
        fills.append(Fill(id=fill_ids[0], points=_mirrored(outline), material=putty, name="left putty"))
        fills.append(Fill(id=fill_ids[1], points=outline, material=putty, name="right putty"))
    if bed > 0:
        under = ((-half, 0.0), (half, 0.0), (half, bed), (-half, bed))
        fills.append(Fill(id=fill_ids[2], points=under, material=putty, name="bed"))
    return (plate, left, right), tuple(fills)


def _hat_points(
    height: float,
    crown_width: float,
    flange_width: float,
    thickness: float,
    draft: float,
    bead: float,
    deadrise: float,
    where: str,
) -> tuple[Point, ...]:
    """Corners of the tool line: flange end, root, crown, crown, root, flange end."""
    lean, slope = tan(radians(draft)), tan(radians(deadrise))
    flange = (bead + thickness) / cos(radians(deadrise))
    half, rise = crown_width / 2, height - flange
    if lean * slope >= 1:
        raise StringerlabError(
            Problem(
                f"the left web never meets the shell: {draft:g}° of draft on {deadrise:g}° of deadrise.",
                f"{where}, draft",
                "Make the draft or the deadrise smaller.",
            )
        )
    left = -(half + rise * lean) / (1 - lean * slope)
    right = (half + rise * lean) / (1 + lean * slope)
    z_left, z_right = flange + left * slope, flange + right * slope
    if max(z_left, z_right) >= height:
        raise StringerlabError(
            Problem(
                f"no web is left: the flange's tool face reaches {max(z_left, z_right):.4g} mm, "
                f"the crown {height:g} mm.",
                f"{where}, height",
                "Make the hat higher, or its laminate, bead or deadrise less.",
            )
        )
    run, climb = flange_width * cos(radians(deadrise)), flange_width * sin(radians(deadrise))
    return (
        (left - run, z_left - climb),
        (left, z_left),
        (-half, height),
        (half, height),
        (right, z_right),
        (right + run, z_right + climb),
    )


def _putty(tab: tuple[Point, ...], radius: float) -> tuple[Point, ...]:
    """Outline of the putty between a tab's fillet and its corner, on the very chords of the tab."""
    line = rounded(tab, (0.0, radius, 0.0))
    arc = [(float(y), float(z)) for y, z in line[1:-1]]
    return (tab[1], *reversed(arc))


def _mirrored(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """Points left for right, in an order that keeps the laminate on its side of the line."""
    return tuple((-y, z) for y, z in reversed(points))


def _misfits(
    where: str,
    points: tuple[Point, ...],
    fillets: tuple[float, ...],
    legs: tuple[str, ...],
    side: Side,
    thickness: float,
) -> Iterable[Problem]:
    """Problems of fillets that do not fit their legs, and of a laminate that folds on its inside."""
    headings = [atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(points)]
    turns = [0.0, *(_within_pi(b - a) for a, b in pairwise(headings)), 0.0]
    inward = [-turn if side is Side.RIGHT else turn for turn in turns]
    tangents = [radius * tan(abs(turn) / 2) for radius, turn in zip(fillets, turns, strict=True)]
    # How much of a leg's end the laminate's far face loses, per mm of thickness.
    losses = [
        tan(turn / 2 if radius == 0 else turn / 4 / CHORDS)
        for radius, turn in zip(fillets, inward, strict=True)
    ]
    for index, leg in enumerate(legs):
        start, end = points[index], points[index + 1]
        length = hypot(end[0] - start[0], end[1] - start[1])
        flat = length - tangents[index] - tangents[index + 1]
        if flat < -TOUCH:
            yield Problem(
                f"the fillets need {length - flat:.4g} mm of it, it has {length:.4g} mm.",
                f"{where}, {leg}",
                "Make the radius smaller or the leg longer.",
            )
        elif flat > TOUCH and flat - thickness * (losses[index] + losses[index + 1]) <= 0:
            yield Problem(
                f"the laminate ({thickness:.4g} mm) leaves nothing of its far face: its neighbours cross.",
                f"{where}, {leg}",
                "Make it wider, or the laminate thinner.",
            )
    for index, radius in enumerate(fillets):
        if radius > 0 and inward[index] > 0 and radius * cos(inward[index] / 2 / CHORDS) <= thickness:
            corner = f"{where}, fillet between {legs[index - 1]} and {legs[index]}"
            yield Problem(
                f"the laminate ({thickness:.4g} mm) is thicker than the radius ({radius:g} mm): it folds.",
                corner,
                "Make the radius more than the laminate's thickness, or 0 for a sharp corner.",
            )


def _within_pi(angle: float) -> float:
    return (angle + pi) % (2 * pi) - pi


def _not_positive(where: str, values: Mapping[str, float]) -> Iterable[Problem]:
    for name, value in values.items():
        if not 0 < value < inf:
            yield Problem(f"{value:g} mm is not above 0.", f"{where}, {name}", "Give a length above 0.")


def _negative(where: str, values: Mapping[str, float]) -> Iterable[Problem]:
    for name, value in values.items():
        if not 0 <= value < inf:
            yield Problem(
                f"{value:g} mm is not 0 or more.", f"{where}, {name}", "Give 0 or a length above 0."
            )


def _outside(where: str, name: str, value: float, most: float, why: str) -> Iterable[Problem]:
    if not (isfinite(value) and 0 <= value <= most):
        yield Problem(f"{value:g}° is not within 0° to {most:g}°.", f"{where}, {name}", why)
