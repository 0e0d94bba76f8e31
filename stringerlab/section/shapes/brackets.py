"""Where a member meets the hull's side: a knee at a side opening, the landing at the chine. mm, degrees."""

from math import cos, radians, sin, tan

from stringerlab.errors import StringerlabError
from stringerlab.section.records import Side
from stringerlab.section.shapes.fitting import MAX_DEADRISE, MAX_DRAFT, outside
from stringerlab.section.shapes.girders import LOCKS
from stringerlab.section.shapes.hats import along_shell, foot
from stringerlab.section.shapes.making import Making, mirrored
from stringerlab.section.shapes.records import Drawn, Laid

LEAST_CHINE = 90.0
MOST_CHINE = 170.0


def knee(
    *,
    laminate: Laid,
    depth: float,
    flange_width: float,
    foot_width: float,
    corner_radius: float = 0.0,
    bead: float = 0.0,
) -> Drawn:
    """Return the section of a knee beside a side opening: two flanged halves bonded back to back.

    Each half is a channel off a tool of its own, its tool face in the channel, where it is seen: the foot
    lies on the skin, the free flange runs along the opening's edge. Together they are a web of twice the
    laminate with a flange at each side. It is drawn square to the skin it stands on.

    Parameters
    ----------
    laminate
        Of each half.
    depth
        From the skin to the free flange's outer face [mm].
    flange_width
        Of the free flange, from the web's face to its edge, at each side [mm].
    foot_width
        Of the foot likewise [mm].
    corner_radius
        Inside the channels, on the tool face [mm].
    bead
        Adhesive between skin and feet [mm].

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("knee", bead)
    made.lengths(depth=depth, flange_width=flange_width, foot_width=foot_width, thickness=laminate.thickness)
    made.none_below_0(corner_radius=corner_radius, bead=bead)
    made.refuse()
    t = laminate.thickness
    low, high = bead + t, depth - t
    if high <= low:
        made.say(f"no web is left between flange and foot: {high - low:.4g} mm.", "depth", "Make it deeper.")
    made.refuse()
    left = ((-t - flange_width, high), (-t, high), (-t, low), (-t - foot_width, low))
    radii = (0.0, corner_radius, corner_radius, 0.0)
    legs = ("flange", "web", "foot")
    made.wall("left half", left, radii, Side.LEFT, laminate, legs)
    made.wall("right half", mirrored(left), radii, Side.LEFT, laminate, legs[::-1])
    return made.drawn()


def chine_landing(
    *,
    laminate: Laid,
    height: float,
    landing_width: float,
    flange_width: float,
    side_width: float,
    chine_angle: float,
    draft: float = 0.0,
    landing_radius: float = 0.0,
    side_radius: float = 0.0,
    root_radius: float = 0.0,
    bead: float = 0.0,
    deadrise: float = 0.0,
) -> Drawn:
    """Return the landing along the chine: a web, a level shelf out to the hull's side, a flange up along it.

    The hull rises to the right: bottom to the chine, then the side at the chine's angle. The web's flange is
    bonded to the bottom, the upper one to the side; the shelf carries the sole's edge. The hull's side is not
    drawn and none of its stiffness counts; the plating shown is the bottom's.

    Parameters
    ----------
    laminate
        Of all of it.
    height
        From the shell at y = 0, under the shelf's middle, to the shelf's tool face [mm].
    landing_width
        Of the shelf, between its corners [mm].
    flange_width
        On the bottom, from the web's root inboard [mm].
    side_width
        Up the hull's side, from the shelf's corner [mm].
    chine_angle
        Between bottom and side, inside the hull [deg].
    draft
        Of the web from vertical [deg].
    landing_radius, side_radius, root_radius
        Between web and shelf, shelf and side flange, web and bottom flange [mm].
    bead
        Adhesive on bottom and side [mm].
    deadrise
        Of the bottom [deg].

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("chine landing", bead, deadrise)
    made.lengths(
        height=height,
        landing_width=landing_width,
        flange_width=flange_width,
        side_width=side_width,
        thickness=laminate.thickness,
    )
    made.none_below_0(
        landing_radius=landing_radius, side_radius=side_radius, root_radius=root_radius, bead=bead
    )
    made.wrong += outside(made.where, "draft", draft, MAX_DRAFT, LOCKS)
    made.wrong += outside(made.where, "deadrise", deadrise, MAX_DEADRISE, "Draw it on the port side's hull.")
    made.wrong += outside(
        made.where, "chine angle", chine_angle, MOST_CHINE, "Give the angle inside the hull.", LEAST_CHINE
    )
    made.refuse()
    half, rise = landing_width / 2, radians(deadrise + 180 - chine_angle)
    try:
        root = foot(
            (-half, height),
            -1.0,
            draft=draft,
            offset=bead + laminate.thickness,
            deadrise=deadrise,
            where=f"{made.where}, web",
        )
    except StringerlabError as error:
        raise StringerlabError([*made.wrong, *error.problems]) from None
    # The hull's side passes bead and laminate outboard of the flange; where it meets the bottom is the chine.
    out = bead + laminate.thickness
    y, z = half + out * sin(rise), height - out * cos(rise)
    slope = tan(radians(deadrise))
    above = z - y * slope
    chine = y - above * cos(rise) / (sin(rise) - cos(rise) * slope)
    if above <= 0:
        made.say("the bottom rises above the shelf before the hull's side.", "height", "Make it higher.")
    elif chine <= root[0]:
        made.say(
            f"the chine lies {root[0] - chine:.4g} mm inboard of the web's root: the web is outside.",
            "landing width",
            "Make the landing wider or lower.",
        )
    made.wall(
        "chine landing",
        (
            along_shell(root, -flange_width, deadrise),
            root,
            (-half, height),
            (half, height),
            (half + side_width * cos(rise), height + side_width * sin(rise)),
        ),
        (0.0, root_radius, landing_radius, side_radius, 0.0),
        Side.RIGHT,
        laminate,
        ("bottom flange", "web", "shelf", "side flange"),
    )
    return made.drawn()
