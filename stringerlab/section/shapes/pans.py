"""Pans: two hats joined by a raised pan, and a pan that lies on the hull beside its hat. mm and degrees."""

from math import cos, radians, sin, tan

from stringerlab.errors import StringerlabError
from stringerlab.section.records import OnHull, Point, Side
from stringerlab.section.shapes.fitting import MAX_DEADRISE, MAX_DRAFT, outside
from stringerlab.section.shapes.hats import along_shell, foot, hat
from stringerlab.section.shapes.making import Making
from stringerlab.section.shapes.records import Drawn, Laid

CLEAR = 1.0
"""Between a raised pan and the hull: one that lies on the hull is a shape of its own [mm]."""


def grid_pan(
    *,
    laminate: Laid,
    height: float,
    crown_width: float,
    spacing: float,
    pan_height: float,
    flange_width: float,
    draft: float = 0.0,
    crown_radius: float = 0.0,
    root_radius: float = 0.0,
    bead: float = 0.0,
    deadrise: float = 0.0,
) -> Drawn:
    """Return two hats joined by a raised pan between them, one moulding drawn left to right as one wall.

    The tool face is inboard, so crowns, webs and pan are the faces seen in the boat; the pan clears the hull,
    and only the outer flanges are bonded. Both crowns are level and at one height, and so is the pan.

    Parameters
    ----------
    laminate
        Of all of it.
    height
        From the shell at y = 0, midway between the hats, to the crowns' tool face [mm].
    crown_width
        Of each crown, between its corners [mm].
    spacing
        Between the middles of the two crowns [mm].
    pan_height
        From the shell at y = 0 to the pan's tool face [mm].
    flange_width, draft, crown_radius, root_radius, bead, deadrise
        As of `hat` [mm, deg]; the root radius is that of the pan's corners too.

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("grid pan", bead, deadrise)
    made.lengths(
        height=height,
        crown_width=crown_width,
        spacing=spacing,
        pan_height=pan_height,
        flange_width=flange_width,
        thickness=laminate.thickness,
    )
    made.none_below_0(crown_radius=crown_radius, root_radius=root_radius, bead=bead)
    made.wrong += outside(
        made.where, "draft", draft, MAX_DRAFT, "A web that leans outward locks the part on its tool."
    )
    made.wrong += outside(made.where, "deadrise", deadrise, MAX_DEADRISE, "Draw it on the port side's shell.")
    made.refuse()

    half, middle = crown_width / 2, spacing / 2
    lean, slope = tan(radians(draft)), tan(radians(deadrise))
    inner = middle - half - (height - pan_height) * lean
    if pan_height >= height:
        made.say(f"the pan ({pan_height:g} mm) is not below the crowns.", "pan height", "Lower the pan.")
    elif inner <= 0:
        made.say("the inner webs meet before they reach the pan.", "spacing", "Set the hats further apart.")
    clear = pan_height - laminate.thickness - max(inner, 0.0) * slope
    if clear < bead / cos(radians(deadrise)) + CLEAR:
        made.say(
            f"the pan's underside is {clear:.4g} mm above the hull where it is nearest: it lies on it.",
            "pan height",
            "Raise the pan, or take the pan on hull: that counts only where it is fully bonded.",
        )
    roots: list[Point] = []
    for sign, name in ((-1.0, "left web"), (1.0, "right web")):
        try:
            roots.append(
                foot(
                    (sign * (middle + half), height),
                    sign,
                    draft=draft,
                    offset=bead + laminate.thickness,
                    deadrise=deadrise,
                    where=f"{made.where}, {name}",
                )
            )
        except StringerlabError as error:
            made.wrong += error.problems
    made.refuse()
    left, right = roots
    hat_radii = (root_radius, crown_radius, crown_radius, root_radius)
    made.wall(
        "grid pan",
        (
            along_shell(left, -flange_width, deadrise),
            left,
            (-middle - half, height),
            (-middle + half, height),
            (-inner, pan_height),
            (inner, pan_height),
            (middle - half, height),
            (middle + half, height),
            right,
            along_shell(right, flange_width, deadrise),
        ),
        (0.0, *hat_radii, *hat_radii, 0.0),
        Side.RIGHT,
        laminate,
        (
            "left flange",
            "left web",
            "left crown",
            "left inner web",
            "pan",
            "right inner web",
            "right crown",
            "right web",
            "right flange",
        ),
    )
    return made.drawn()


def pan_on_hull(
    *,
    laminate: Laid,
    pan: Laid,
    height: float,
    crown_width: float,
    flange_width: float,
    pan_width: float,
    draft: float = 0.0,
    crown_radius: float = 0.0,
    root_radius: float = 0.0,
    bead: float = 0.0,
    deadrise: float = 0.0,
    fully_bonded: bool = False,
    voids: float = 0.1,
) -> Drawn:
    """Return a hat whose flanges go on, at each side, as a pan that lies on the hull.

    The pans are walls of their own, marked as lying on the hull: their stiffness counts only where they are
    marked fully bonded, less the voids; their mass always. The hat's own flanges are bonded as any hat's.

    Parameters
    ----------
    laminate
        Of the hat.
    pan
        Of the pans.
    height, crown_width, flange_width, draft, crown_radius, root_radius, bead, deadrise
        As of `hat` [mm, deg].
    pan_width
        Of the pan at each side, from the flange's edge along the shell [mm].
    fully_bonded
        Whether the adhesive was laid, and looked at, over the pans' whole face.
    voids
        Part of that face allowed to be without bond.

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("pan on hull", bead, deadrise)
    made.lengths(pan_width=pan_width, pan_thickness=pan.thickness)
    if not 0 <= voids < 1:
        made.say(f"{voids:g} is not from 0 to below 1.", "voids", "Give the part without bond.")
    with made.gathering():
        (wall,) = hat(
            height=height,
            crown_width=crown_width,
            flange_width=flange_width,
            laminate=laminate.laminate,
            thickness=laminate.thickness,
            draft=draft,
            crown_radius=crown_radius,
            root_radius=root_radius,
            bead=bead,
            deadrise=deadrise,
        )
        made.put(wall, laminate)
    made.refuse()
    edges = made.walls[0].points[0], made.walls[0].points[-1]
    begun = [y * cos(radians(deadrise)) + z * sin(radians(deadrise)) for y, z in edges]
    for name, start, end in (
        ("left pan", begun[0] - pan_width, begun[0]),
        ("right pan", begun[1], begun[1] + pan_width),
    ):
        made.wall(
            name,
            [_on_shell(along, bead + pan.thickness, deadrise) for along in (start, end)],
            (0.0, 0.0),
            Side.RIGHT,
            pan,
            (name,),
            on_hull=OnHull(fully_bonded=fully_bonded, voids=voids),
        )
    return made.drawn()


def _on_shell(along: float, above: float, deadrise: float) -> Point:
    """Return a point by its place along the shell and its height above it."""
    c, s = cos(radians(deadrise)), sin(radians(deadrise))
    return along * c - above * s, along * s + above * c
