"""Upright plates bonded to the shell by tabs: plate floor, flanged floor, bulkhead strip. mm and degrees."""

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.fillet import rounded
from stringerlab.section.records import Fill, Point, Side, Wall
from stringerlab.section.shapes.fitting import misfits, negative, not_positive
from stringerlab.section.shapes.making import Making, mirrored
from stringerlab.section.shapes.records import Drawn, Laid


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
        *not_positive(
            where,
            {
                "depth": depth,
                "plate thickness": plate_thickness,
                "tab thickness": tab_thickness,
                "tab height": tab_height,
                "tab width": tab_width,
            },
        ),
        *negative(where, {"root radius": root_radius, "bed": bed}),
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
    problems += misfits(where, tab, radii, ("tab height", "tab width"), Side.LEFT, tab_thickness)
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
        points=mirrored(tab),
        laminate=tab_laminate,
        side=Side.LEFT,
        fillets=radii,
        name="left tab",
    )
    fills: list[Fill] = []
    if root_radius > 0:
        outline = _putty(tab, root_radius)
        fills.append(Fill(id=fill_ids[0], points=mirrored(outline), material=putty, name="left putty"))
        fills.append(Fill(id=fill_ids[1], points=outline, material=putty, name="right putty"))
    if bed > 0:
        under = ((-half, 0.0), (half, 0.0), (half, bed), (-half, bed))
        fills.append(Fill(id=fill_ids[2], points=under, material=putty, name="bed"))
    return (plate, left, right), tuple(fills)


def _putty(tab: tuple[Point, ...], radius: float) -> tuple[Point, ...]:
    """Outline of the putty between a tab's fillet and its corner, on the very chords of the tab."""
    line = rounded(tab, (0.0, radius, 0.0))
    arc = [(float(y), float(z)) for y, z in line[1:-1]]
    return (tab[1], *reversed(arc))


def flanged_floor(
    *,
    laminate: Laid,
    tab: Laid,
    depth: float,
    flange_width: float,
    tab_height: float,
    tab_width: float,
    root_radius: float,
    tab_coats: int = 2,
    tab_step: float = 15.0,
    corner_radius: float = 0.0,
    bed: float = 0.0,
    putty: str = "putty",
) -> Drawn:
    """Return a floor bent over at its top to a free flange, on a bed of putty, bonded by stepped tabs.

    Plate and flange are one laminate off a tool of their own, its face on the left and above. The tabs are
    laid up in place over putty fillets, coat on coat, each coat ending short of the one below it.

    Parameters
    ----------
    laminate
        Of plate and flange.
    tab
        Of one coat of a tab.
    depth
        From the shell to the flange's upper face [mm].
    flange_width
        From the plate's left face to the free edge [mm].
    tab_height, tab_width
        Of the first coat, up the plate and out along the shell, from the plate's foot [mm].
    root_radius
        Of the putty fillets [mm].
    tab_coats
        How many, from 1.
    tab_step
        By how much each coat ends short of the one below it, at each edge [mm].
    corner_radius
        Between plate and flange, on the tool face [mm].
    bed
        Putty between shell and plate [mm].
    putty
        Material id of the fills.

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("flanged floor")
    made.lengths(
        depth=depth,
        flange_width=flange_width,
        tab_height=tab_height,
        tab_width=tab_width,
        thickness=laminate.thickness,
        tab_thickness=tab.thickness,
    )
    made.none_below_0(root_radius=root_radius, tab_step=tab_step, corner_radius=corner_radius, bed=bed)
    made.coats("tab", tab_coats, least=1)
    made.refuse()
    half = laminate.thickness / 2
    made.at_most("tab height", tab_height, depth - laminate.thickness, "the plate below its flange")
    made.at_most("bed", bed, tab_height, "the tab")
    made.wall(
        "plate",
        ((-half, bed), (-half, depth), (-half + flange_width, depth)),
        (0.0, corner_radius, 0.0),
        Side.RIGHT,
        laminate,
        ("plate", "flange"),
    )
    line = ((half, tab_height), (half, 0.0), (half + tab_width, 0.0))
    made.tabs(line, (0.0, root_radius, 0.0), tab, tab_coats, tab_step, ("tab height", "tab width"))
    made.refuse()
    made.putty_under(line, (0.0, root_radius, 0.0), putty)
    if bed > 0:
        made.fill("bed", ((-half, 0.0), (half, 0.0), (half, bed), (-half, bed)), putty)
    return made.drawn()


def bulkhead_strip(
    *,
    laminate: Laid,
    tab: Laid,
    height: float,
    tab_height: float,
    tab_width: float,
    root_radius: float,
    bed: float,
    bed_width: float,
    tab_coats: int = 2,
    tab_step: float = 20.0,
    bed_material: str = "pu_foam32",
) -> Drawn:
    """Return the strip of a bulkhead that works with the hull, on a wedge of foam, bonded by stepped tabs.

    The strip is as high as is counted on: its top is a cut, not an edge. The wedge keeps the bulkhead's edge
    from printing through, and the tabs run over its slopes instead of a sharp corner.

    Parameters
    ----------
    laminate
        Of the bulkhead.
    tab
        Of one coat of a tab.
    height
        From the shell to the strip's top [mm].
    tab_height, tab_width
        Of the first coat: from the shell up the bulkhead, and out along the shell from the wedge [mm].
    root_radius
        Of the tabs' line at the wedge's two corners, each filled to its chords [mm].
    bed
        Height of the wedge under the bulkhead [mm].
    bed_width
        How far its foot reaches beyond the bulkhead's face at each side [mm].
    tab_coats
        How many, from 1.
    tab_step
        By how much each coat ends short of the one below it, at each edge [mm].
    bed_material
        Material id of the wedge.

    Raises
    ------
    StringerlabError
        With every impossible parameter.
    """
    made = Making("bulkhead strip")
    made.lengths(
        height=height,
        tab_height=tab_height,
        tab_width=tab_width,
        bed=bed,
        bed_width=bed_width,
        thickness=laminate.thickness,
        tab_thickness=tab.thickness,
    )
    made.none_below_0(root_radius=root_radius, tab_step=tab_step)
    made.coats("tab", tab_coats, least=1)
    made.refuse()
    half = laminate.thickness / 2
    made.at_most("tab height", tab_height, height, "the strip")
    made.at_most("bed", bed, 0.9 * tab_height, "the tab beside it")
    made.wall("bulkhead", ((-half, bed), (-half, height)), (0.0, 0.0), Side.RIGHT, laminate, ("bulkhead",))
    line = ((half, tab_height), (half, bed), (half + bed_width, 0.0), (half + bed_width + tab_width, 0.0))
    radii = (0.0, root_radius, root_radius, 0.0)
    made.tabs(line, radii, tab, tab_coats, tab_step, ("tab height", "wedge", "tab width"))
    made.refuse()
    right = [(float(y), float(z)) for y, z in rounded(line, radii)[1:-1]]
    left = [(-y, z) for y, z in reversed(right)]
    edges = ((half, bed), *right, *left, (-half, bed))
    made.fill("wedge", tuple(dict.fromkeys(edges)), bed_material)
    return made.drawn()
