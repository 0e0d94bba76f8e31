"""Sheet 3: every section drawn with its trim lines, how far round, flange by flange."""

from math import isnan

from stringerlab.drawing import PRINT, Mark, Options, Picture, Role, Shape, paper_scale, section_picture, svg
from stringerlab.project import Project, Resolved
from stringerlab.report.markup import drawing, heading, points, said
from stringerlab.report.shop.measures import bare, length_unit, size
from stringerlab.report.shop.setting import kept, shop_table
from stringerlab.report.shop.trims import Trim, trims
from stringerlab.units import System

_WIDE, _HIGH = 165.0, 95.0
"""Room for a section on the sheet [mm]."""


def trim_pages(project: Project, resolved: Resolved) -> tuple[list[str], dict[str, bytes]]:
    """Return the parts of the trim sheet, and its pictures."""
    found, left_out = trims(project, resolved)
    parts = [
        said(
            "Trim lines are measured on the tool surface, the face that lay on the mould, from edge to "
            "edge round "
            "every corner. Mark them before cutting; cut after cure, with dust extraction."
        )
    ]
    pictures: dict[str, bytes] = {}
    if not found:
        parts.append(said("No member has a section that can be measured."))
    for number, trim in enumerate(found, start=1):
        name = f"trim{number}.svg"
        picture = section_picture(
            trim.shape, None, options=Options(units=project.units, axes=False, ply_edges=False)
        )
        marks = [
            Mark(at=edge, shape=Shape.CROSS, role=Role.GOVERNING)
            for wall in trim.walls
            if not wall.closed
            for edge in wall.edges
        ]
        picture += Picture(items=tuple(marks))
        scale = paper_scale(picture, _WIDE, _HIGH)
        pictures[name] = svg(picture, PRINT, title=trim.section.name, scale=scale).encode()
        parts += [
            kept(
                heading(trim.section.name, 2),
                drawing(
                    name,
                    f"{trim.seen}, {_scale(scale)}; a cross marks each trim line",
                    alt=f"section {trim.section.name}",
                ),
                _walls(trim, project.units),
                "#v(1mm)",
                _flanges(trim, project.units),
            )
        ]
    if left_out:
        parts += [heading("Not measured", 2), points(left_out)]
    return parts, pictures


def _scale(scale: float) -> str:
    return "full size" if scale == 1 else f"1 : {round(1 / scale)}"


def _walls(trim: Trim, units: System) -> str:
    mm = length_unit(units)
    return shop_table(
        [
            "Wall",
            "Laminate",
            "Round, edge to edge",
            f"Left trim line, {mm}: across; up",
            f"Right trim line, {mm}: across; up",
            "Measured",
        ],
        [
            [
                wall.name,
                wall.laminate,
                size(wall.girth, units),
                *(
                    ("closed", "closed")
                    if wall.closed
                    else tuple(
                        f"{bare(across, units)}; {bare(up, units)}" for across, up in sorted(wall.edges)
                    )
                ),
                "",
            ]
            for wall in trim.walls
        ],
        ["1fr", "26mm", "26mm", "34mm", "34mm", "24mm"],
        right=[2],
        write=[5],
    )


def _flanges(trim: Trim, units: System) -> str:
    rows = [
        [f"Bonded width of flange {number}, from the left", size(width, units), ""]
        for number, width in enumerate(trim.flanges, start=1)
    ]
    if not isnan(trim.crown_width):
        rows.append(["Crown, clear between the webs", size(trim.crown_width, units), ""])
    rows.append(["Web, along its slope", size(trim.web_depth, units), ""])
    return shop_table(["What", "Target", "Measured"], rows, ["1fr", "34mm", "34mm"], right=[1], write=[2])
