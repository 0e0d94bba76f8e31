"""Girders: a box closed by the sole, a keel girder, an engine bed on its backing block. mm and degrees."""

from collections.abc import Sequence
from math import cos, radians, sin, tan

from stringerlab.errors import StringerlabError
from stringerlab.geometry.fillet import CHORDS, rounded
from stringerlab.section.records import Point, Side
from stringerlab.section.shapes.fitting import MAX_DEADRISE, MAX_DRAFT, outside
from stringerlab.section.shapes.hats import along_shell, flat_inside, foot, hat
from stringerlab.section.shapes.making import Making
from stringerlab.section.shapes.records import Drawn, Laid

LOCKS = "A web that leans outward locks the part on its tool."


def box_girder(
    *,
    laminate: Laid,
    sole: Laid,
    height: float,
    width: float,
    lip_width: float,
    flange_width: float,
    sole_width: float,
    sole_bead: float = 0.0,
    draft: float = 0.0,
    corner_radius: float = 0.0,
    root_radius: float = 0.0,
    bead: float = 0.0,
    deadrise: float = 0.0,
    putty: str = "putty",
) -> Drawn:
    """Return two webs with lips at their tops, closed to a box by the sole that is bonded onto the lips.

    There is no crown under the sole: with one it would be a hat with a sole on it, and the crown's plies
    would be counted on too. The webs are the stringer part's, tool face inboard; the sole is a moulding of
    its own, its face up, laid on a bead on each lip.

    Parameters
    ----------
    laminate
        Of webs, lips and bonding flanges.
    sole
        Of the sole.
    height
        From the shell at y = 0 to the lips' upper face [mm].
    width
        Between the webs' upper corners [mm].
    lip_width
        Of each lip, from its web's corner inward [mm].
    flange_width
        Of the bonding flanges, from the roots' corners outward along the shell [mm].
    sole_width
        Of the sole that is counted, centred [mm].
    sole_bead
        Adhesive between lips and sole, drawn as a fill on each lip's flat [mm].
    draft
        Of the webs from vertical [deg].
    corner_radius, root_radius
        At the webs' tops and roots [mm].
    bead
        Adhesive between shell and flanges [mm].
    deadrise
        Slope of the shell under the member, rising to the right [deg]. Lips and sole stay level.
    putty
        Material id of the beads on the lips.

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("box girder", bead, deadrise)
    made.lengths(
        height=height,
        width=width,
        lip_width=lip_width,
        flange_width=flange_width,
        sole_width=sole_width,
        thickness=laminate.thickness,
        sole_thickness=sole.thickness,
    )
    made.none_below_0(sole_bead=sole_bead, corner_radius=corner_radius, root_radius=root_radius, bead=bead)
    made.wrong += outside(made.where, "draft", draft, MAX_DRAFT, LOCKS)
    made.wrong += outside(made.where, "deadrise", deadrise, MAX_DEADRISE, "Draw it on the port side's shell.")
    made.refuse()
    half = width / 2
    if lip_width >= half:
        made.say(
            f"the lips ({lip_width:g} mm each) meet in the middle of {width:g} mm: that is a hat.",
            "lip width",
            "Make them narrower.",
        )
    if sole_width < width:
        made.say(
            f"the sole ({sole_width:g} mm) does not reach over both webs ({width:g} mm).",
            "sole width",
            "Make it wider.",
        )
    roots: list[Point] = []
    for sign, name in ((-1.0, "left web"), (1.0, "right web")):
        try:
            roots.append(
                foot(
                    (sign * half, height),
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
    made.wall(
        "left web",
        (
            along_shell(left, -flange_width, deadrise),
            left,
            (-half, height),
            (-half + lip_width, height),
        ),
        (0.0, root_radius, corner_radius, 0.0),
        Side.RIGHT,
        laminate,
        ("left flange", "left web", "left lip"),
    )
    made.wall(
        "right web",
        (
            (half - lip_width, height),
            (half, height),
            right,
            along_shell(right, flange_width, deadrise),
        ),
        (0.0, corner_radius, root_radius, 0.0),
        Side.RIGHT,
        laminate,
        ("right lip", "right web", "right flange"),
    )
    level = height + sole_bead + sole.thickness
    made.wall(
        "sole",
        ((-sole_width / 2, level), (sole_width / 2, level)),
        (0.0, 0.0),
        Side.RIGHT,
        sole,
        ("sole",),
    )
    made.refuse()
    if sole_bead > 0:
        outer = half - corner_radius * tan(radians(90 - draft) / 2)
        for name, y_0, y_1 in (
            ("left sole bead", -outer, lip_width - half),
            ("right sole bead", half - lip_width, outer),
        ):
            corners = ((y_0, height), (y_1, height), (y_1, height + sole_bead), (y_0, height + sole_bead))
            made.fill(name, corners, putty)
    return made.drawn()


def keel_girder(
    *,
    laminate: Laid,
    cap: Laid,
    height: float,
    crown_width: float,
    keel_flat: float,
    wing_width: float,
    vee: float,
    cap_width: float,
    cap_coats: int = 1,
    cap_step: float = 0.0,
    draft: float = 0.0,
    crown_radius: float = 0.0,
    root_radius: float = 0.0,
    bead: float = 0.0,
) -> Drawn:
    """Return a tall narrow hat over the keel: its flanges fill the keel's flat and turn up along the vee.

    The plating counted under a section is one straight strip: here it is the flat of the keel, level. The
    hull's own vee beside the flat is not drawn; the wings lie where they would be bonded to it, and the width
    counted as bonded is the flat's alone. A strip wider than the flat is counted lower than the vee lies.

    Parameters
    ----------
    laminate
        Of the hat.
    cap
        Of one coat of the cap under the crown.
    height
        From the flat of the keel to the crown's tool face [mm].
    crown_width
        Between the crown's corners [mm].
    keel_flat
        Width of the flat inside the keel, centred; with it the roots must be inside it [mm].
    wing_width
        Of the flanges beyond the flat, up along the vee; 0 for flanges that end at the flat's edges [mm].
    vee
        Deadrise of the hull at either side of the flat [deg].
    cap_width, cap_coats, cap_step
        As of `low_profile_hat` [mm].
    draft, crown_radius, root_radius, bead
        As of `hat` [mm, deg]; the root radius is that of the knuckles too.

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("keel girder", bead)
    made.lengths(
        height=height,
        crown_width=crown_width,
        keel_flat=keel_flat,
        thickness=laminate.thickness,
        cap_width=cap_width,
        cap_thickness=cap.thickness,
    )
    made.none_below_0(
        wing_width=wing_width,
        cap_step=cap_step,
        crown_radius=crown_radius,
        root_radius=root_radius,
        bead=bead,
    )
    made.coats("cap", cap_coats)
    made.wrong += outside(made.where, "draft", draft, MAX_DRAFT, LOCKS)
    made.wrong += outside(made.where, "vee", vee, MAX_DEADRISE, "Give the hull's deadrise beside the keel.")
    made.refuse()
    level, half, beta = bead + laminate.thickness, crown_width / 2, radians(vee)
    root = half + (height - level) * tan(radians(draft))
    if height <= level:
        made.say(f"the flanges' tool face reaches {level:.4g} mm.", "height", "Make it higher.")
    winged = wing_width > 0 and vee > 0
    edge = keel_flat / 2 - level * tan(beta / 2) if winged else keel_flat / 2 + (wing_width if not vee else 0)
    if root >= edge:
        made.say(
            f"its roots stand {2 * root:.4g} mm apart, wider than the flat leaves: {2 * edge:.4g} mm.",
            "keel flat",
            "Narrow the crown or the draft, or fair the keel to a wider flat.",
        )
    made.refuse()
    right: list[Point] = [(half, height), (root, level), (edge, level)]
    radii = [crown_radius, root_radius, 0.0]
    legs = ["right web", "right flange"]
    if winged:
        right.append((edge + wing_width * cos(beta), level + wing_width * sin(beta)))
        radii[-1:] = [root_radius, 0.0]
        legs.append("right wing")
    left = [leg.replace("right", "left") for leg in reversed(legs)]
    made.wall(
        "keel girder",
        (*((-y, z) for y, z in reversed(right)), *right),
        (*reversed(radii), *radii),
        Side.RIGHT,
        laminate,
        (*left, "crown", *legs),
    )
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


def engine_bed(
    *,
    laminate: Laid,
    cover: Laid,
    height: float,
    crown_width: float,
    flange_width: float,
    block_width: float,
    block_depth: float,
    cover_lap: float,
    edge_radius: float = 0.0,
    cove_radius: float = 0.0,
    draft: float = 0.0,
    crown_radius: float = 0.0,
    root_radius: float = 0.0,
    bead: float = 0.0,
    deadrise: float = 0.0,
    block: str = "al5083",
    putty: str = "putty",
) -> Drawn:
    """Return an engine girder: a hat with a metal block laminated in under its crown, where the bolts go.

    The block lies against the crown from behind and is covered by a laminate of its own, which laps onto the
    crown at each side over a cove of putty. The crown stays level on a sloping shell.

    Parameters
    ----------
    laminate
        Of the hat.
    cover
        Of the laminate over the block.
    height, crown_width, flange_width, draft, crown_radius, root_radius, bead, deadrise
        As of `hat` [mm, deg].
    block_width, block_depth
        Of the block [mm].
    cover_lap
        Of its cover on the crown at each side, from the block's face [mm].
    edge_radius
        Of the block's lower edges [mm].
    cove_radius
        Of the putty between block and crown, 0 for none [mm].
    block, putty
        Material ids.

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("engine bed", bead, deadrise)
    made.lengths(
        block_width=block_width,
        block_depth=block_depth,
        cover_lap=cover_lap,
        cover_thickness=cover.thickness,
    )
    made.none_below_0(edge_radius=edge_radius, cove_radius=cove_radius)
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
    room = flat_inside(crown_width, laminate.thickness, crown_radius, draft)
    made.at_most("block width with its cover's laps", block_width + 2 * cover_lap, room, "the crown's inside")
    half, top = block_width / 2, height - laminate.thickness
    line: tuple[Point, ...] = (
        (-half - cover_lap, top),
        (-half, top),
        (-half, top - block_depth),
        (half, top - block_depth),
        (half, top),
        (half + cover_lap, top),
    )
    radii = (0.0, cove_radius, edge_radius, edge_radius, cove_radius, 0.0)
    legs = ("left lap", "left side of the block", "block", "right side of the block", "right lap")
    over = made.wall("block cover", line, radii, Side.RIGHT, cover, legs)
    made.laps.append(("w1", over))
    made.refuse()
    corners = _corners(line, radii)
    made.fill("backing block", ((-half, top), *corners[2], *corners[3], (half, top)), block)
    if cove_radius > 0:
        made.fill("left cove", (line[1], *reversed(corners[1])), putty)
        made.fill("right cove", (line[4], *reversed(corners[4])), putty)
    return made.drawn()


def _corners(line: Sequence[Point], radii: Sequence[float]) -> list[list[Point]]:
    """Return the vertices that each point of a line becomes."""
    vertices = [(float(y), float(z)) for y, z in rounded(line, radii)]
    found: list[list[Point]] = []
    at = 0
    for radius in radii:
        count = CHORDS + 1 if radius > 0 else 1
        found.append(vertices[at : at + count])
        at += count
    return found
