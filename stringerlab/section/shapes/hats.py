"""The top hat, and the low-profile hat: a wide low one with a cap under its crown. mm and degrees."""

from math import cos, radians, sin, tan

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.chords import CHORDS
from stringerlab.section.records import Point, Side, Wall
from stringerlab.section.shapes.fitting import (
    MAX_DEADRISE,
    MAX_DRAFT,
    misfits,
    negative,
    not_positive,
    outside,
)
from stringerlab.section.shapes.making import Making
from stringerlab.section.shapes.records import Drawn, Laid


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
        *not_positive(
            where,
            {
                "height": height,
                "crown width": crown_width,
                "flange width": flange_width,
                "thickness": thickness,
            },
        ),
        *negative(where, {"crown radius": crown_radius, "root radius": root_radius, "bead": bead}),
        *outside(where, "draft", draft, MAX_DRAFT, "A web that leans outward locks the part on its tool."),
        *outside(where, "deadrise", deadrise, MAX_DEADRISE, "Draw the hat on the port side's shell."),
    ]
    if problems:
        raise StringerlabError(problems)
    points = _hat_points(height, crown_width, flange_width, thickness, draft, bead, deadrise, where)
    fillets = (0.0, root_radius, crown_radius, crown_radius, root_radius, 0.0)
    legs = ("left flange", "left web", "crown", "right web", "right flange")
    problems = list(misfits(where, points, fillets, legs, Side.RIGHT, thickness))
    if problems:
        raise StringerlabError(problems)
    return (Wall(id=wall_id, points=points, laminate=laminate, side=Side.RIGHT, fillets=fillets, name=name),)


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


def low_profile_hat(
    *,
    laminate: Laid,
    cap: Laid,
    height: float,
    crown_width: float,
    flange_width: float,
    cap_width: float,
    cap_coats: int = 1,
    cap_step: float = 0.0,
    draft: float = 0.0,
    crown_radius: float = 0.0,
    root_radius: float = 0.0,
    bead: float = 0.0,
    deadrise: float = 0.0,
) -> Drawn:
    """Return a low, wide hat for under a sole, its crown thickened by a cap laid into it from behind.

    The cap's coats lie under the crown between its fillets, each narrower than the one before it: the crown's
    stiffness tapers off in steps of real plies.

    Parameters
    ----------
    laminate
        Of the hat.
    cap
        Of one coat of the cap.
    height, crown_width, flange_width, draft, crown_radius, root_radius, bead, deadrise
        As of `hat` [mm, deg].
    cap_width
        Of the first coat [mm].
    cap_coats
        How many, 0 for none.
    cap_step
        By how much each coat ends short of the one before it, at each edge [mm].

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("low-profile hat", bead, deadrise)
    made.lengths(cap_thickness=cap.thickness, cap_width=cap_width)
    made.none_below_0(cap_step=cap_step)
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
    made.coats("cap", cap_coats)
    made.refuse()
    made.caps(
        "crown cap",
        under="w1",
        level=height - laminate.thickness,
        room=flat_inside(crown_width, laminate.thickness, crown_radius, draft),
        coat=cap,
        width=cap_width,
        coats=cap_coats,
        step=cap_step,
    )
    return made.drawn()


def flat_inside(crown_width: float, thickness: float, radius: float, draft: float) -> float:
    """Return how wide a crown's inner face is flat, between two webs of a draft [deg]."""
    turn = radians(90 - draft)
    if radius <= 0:
        return crown_width - 2 * thickness * tan(turn / 2)
    return crown_width - 2 * (radius * tan(turn / 2) + thickness * tan(turn / 4 / CHORDS))


def foot(corner: Point, outward: float, *, draft: float, offset: float, deadrise: float, where: str) -> Point:
    """Return where a web that comes down from a corner meets a flange's tool face.

    Parameters
    ----------
    corner
        The web's upper end [mm].
    outward
        +1 where it leans to the right going down, −1 to the left.
    draft
        From vertical [deg].
    offset
        Of the flange's tool face from the shell: bead and laminate [mm].
    deadrise
        Of the shell [deg].
    where
        For a person: shape and web.

    Raises
    ------
    StringerlabError
        When it never meets the flange, or begins below it.
    """
    lean, slope = tan(radians(draft)), tan(radians(deadrise))
    if 1 + outward * lean * slope <= 0:
        raise StringerlabError(
            Problem(
                f"it never meets the shell: {draft:g}° of draft on {deadrise:g}° of deadrise.",
                where,
                "Make the draft or the deadrise smaller.",
            )
        )
    above = corner[1] - offset / cos(radians(deadrise)) - corner[0] * slope
    if above <= 0:
        raise StringerlabError(
            Problem(
                f"no web is left: its upper end lies {-above:.4g} mm below the flange's tool face.",
                where,
                "Make the shape higher, or its laminate, bead or deadrise less.",
            )
        )
    drop = above / (1 + outward * lean * slope)
    return corner[0] + outward * lean * drop, corner[1] - drop


def along_shell(point: Point, distance: float, deadrise: float) -> Point:
    """Return a point moved along the shell, to the right where the distance is above 0 [mm, deg]."""
    slope = radians(deadrise)
    return point[0] + distance * cos(slope), point[1] + distance * sin(slope)
