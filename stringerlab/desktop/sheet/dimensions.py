"""Numbers that stand on the sheet for what is selected, and what typing another one does. No Qt; mm, deg."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import dist, radians

from stringerlab.desktop.sheet.hits import bends
from stringerlab.desktop.sheet.tool import Change, Place, Scene
from stringerlab.geometry.construct import polar
from stringerlab.project import Project, drafting
from stringerlab.project.drafting import Floor, HatParameters
from stringerlab.section import Section, Wall
from stringerlab.units import Kind, System
from stringerlab.units import format as shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A number on the sheet, between two places or at one."""

    name: str
    start: Place
    end: Place
    away: float
    """Pixels to the left of the way from start to end at which it stands."""
    kind: Kind
    value: float
    """In the program's unit of its kind."""
    prefix: str
    label: str
    """Of the edit that typing does."""
    change: Callable[[float], Change]
    """From the value typed."""

    @property
    def measured(self) -> bool:
        """Whether it is a distance, drawn with extension lines."""
        return self.start != self.end

    def text(self, system: System) -> str:
        """Return the number as a person reads it."""
        if self.kind is Kind.ANGLE:
            return f"{self.prefix}{shown(self.value, self.kind, system, digits=3)}".replace(" deg", "°")
        return f"{self.prefix}{shown(self.value, self.kind, system)}"


def dimensions(scene: Scene, shown_project: Project, *, free: bool = False) -> tuple[Dimension, ...]:
    """Return the numbers of the one wall that is selected, as it is shown; none for several.

    Of a hat or a floor its parameters; of another wall, and of a shape being drawn out of itself (``free``),
    its legs' lengths and slopes, and its fillets' radii.
    """
    if len(scene.selected) != 1:
        return ()
    section = next((each for each in shown_project.sections if each.id == scene.section.id), None)
    wall = next((each for each in section.walls if each.id == scene.selected[0]), None) if section else None
    if section is None or wall is None or len(wall.points) < 2:
        return ()
    if free:
        return wall_dimensions(section, wall)
    hat = drafting.hat_parameters(shown_project, section, wall.id)
    if hat is not None:
        return hat_dimensions(section, wall, hat)
    floor = drafting.floor_in(shown_project, section) if len(wall.points) < 4 else None
    if floor is not None and wall in floor.walls:
        return floor_dimensions(section, wall, floor)
    return wall_dimensions(section, wall)


def hat_dimensions(section: Section, wall: Wall, hat: HatParameters) -> tuple[Dimension, ...]:
    """Return a hat's parameters as numbers."""
    points = wall.points if wall.points[0][0] <= wall.points[-1][0] else wall.points[::-1]
    left_edge, left_root, left, right, root, edge = points
    foot = left[1] - hat.height

    def number(
        name: str, start: Place, end: Place, away: float, value: float, field: str, kind: Kind = Kind.LENGTH,
        prefix: str = "",
    ) -> Dimension:  # fmt: skip
        factor = 1.0 if kind is Kind.LENGTH else radians(1.0)

        def change(typed: float) -> Change:
            changed = replace(hat, **{field: typed / factor})
            return lambda project: drafting.with_hat(project, section.id, wall.id, changed)

        return Dimension(
            name=name,
            start=start,
            end=end,
            away=away,
            kind=kind,
            value=value * factor,
            prefix=prefix,
            label=f"Change {name}",
            change=change,
        )

    outer = min(left_edge[0], left[0])
    middle = (right[0] + root[0]) / 2, (right[1] + root[1]) / 2
    return (
        number("height", (outer, foot), (outer, left[1]), 26, hat.height, "height"),
        number("crown width", left, right, 24, hat.crown_width, "crown_width"),
        number("flange width", edge, root, 24, hat.flange_width, "flange_width"),
        number("draft", middle, middle, -30, hat.draft, "draft", Kind.ANGLE, "draft "),
        number("crown radius", right, right, 16, hat.crown_radius, "crown_radius", prefix="R "),
        number("root radius", left_root, left_root, 16, hat.root_radius, "root_radius", prefix="R "),
    )


def floor_dimensions(section: Section, wall: Wall, floor: Floor) -> tuple[Dimension, ...]:
    """Return a floor's parameters as numbers, the tabs' on the tab that is selected."""
    parameters = floor.parameters
    tab = floor.left if wall.id == floor.left.id else floor.right
    _, corner, edge = sorted(tab.points, key=lambda point: (-point[1], abs(point[0])))
    side = 1.0 if edge[0] > corner[0] else -1.0

    def number(
        name: str, start: Place, end: Place, away: float, value: float, field: str, prefix: str = ""
    ) -> Dimension:
        def change(typed: float) -> Change:
            changed = replace(parameters, **{field: typed})
            return lambda project: drafting.with_floor(project, section.id, changed)

        return Dimension(
            name=name,
            start=start,
            end=end,
            away=away,
            kind=Kind.LENGTH,
            value=value,
            prefix=prefix,
            label=f"Change {name}",
            change=change,
        )

    far, depth, height = -edge[0], parameters.depth, parameters.tab_height
    return (
        number("depth", (far, 0.0), (far, depth), 40 * side, depth, "depth"),
        number("tab height", (edge[0], 0.0), (edge[0], height), -26 * side, height, "tab_height"),
        number("tab width", corner, edge, -34 * side, parameters.tab_width, "tab_width"),
        number("root radius", corner, corner, 22 * side, parameters.root_radius, "root_radius", prefix="R "),
    )


def wall_dimensions(section: Section, wall: Wall) -> tuple[Dimension, ...]:
    """Return the lengths and slopes of a wall's legs and its radii as numbers."""
    found: list[Dimension] = []
    count = len(wall.points)
    away = 22.0 if wall.side == "right" else -22.0
    for leg in range(count if wall.closed else count - 1):
        start, end = wall.points[leg], wall.points[(leg + 1) % count]
        if dist(start, end) < 1e-9:
            continue
        length, angle = polar(start, end)
        middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        found += [
            Dimension(
                name=f"length of leg {leg + 1}",
                start=start,
                end=end,
                away=away,
                kind=Kind.LENGTH,
                value=length,
                prefix="",
                label="Change length",
                change=_length(section.id, wall, leg),
            ),
            Dimension(
                name=f"slope of leg {leg + 1}",
                start=middle,
                end=middle,
                away=away,
                kind=Kind.ANGLE,
                value=radians(angle),
                prefix="∠ ",
                label="Change slope",
                change=_slope(section.id, wall, leg),
            ),
        ]
    for index, bend in enumerate(bends(wall)):
        radius = wall.fillets[index] if wall.fillets else 0.0
        if radius > 0 and abs(bend) > 1e-6:
            found.append(
                Dimension(
                    name=f"radius at point {index + 1}",
                    start=wall.points[index],
                    end=wall.points[index],
                    away=16,
                    kind=Kind.LENGTH,
                    value=radius,
                    prefix="R ",
                    label="Change fillet",
                    change=_radius(section.id, wall, index),
                )
            )
    return tuple(found)


def _length(section: str, wall: Wall, leg: int) -> Callable[[float], Change]:
    return lambda value: (
        lambda project: drafting.with_segment_length(
            project, section, wall.id, leg, value, carry=not wall.closed
        )
    )


def _slope(section: str, wall: Wall, leg: int) -> Callable[[float], Change]:
    return lambda value: (
        lambda project: drafting.with_segment_angle(
            project, section, wall.id, leg, value / radians(1.0), carry=not wall.closed
        )
    )


def _radius(section: str, wall: Wall, index: int) -> Callable[[float], Change]:
    return lambda value: lambda project: drafting.filleted(project, section, [(wall.id, index)], value)
