"""The drawing's pictures: what stands still is painted once into a pixmap, only what moves is made anew.

While something is in the hand its own plies are shown as drawn, not cut by what they overlap; once it is let
go the whole section is drawn as it is counted.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import groupby, pairwise
from math import radians
from typing import TypeGuard

import numpy as np
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QFont, QPainter, QPen, QPixmap, QTransform

from stringerlab.desktop.player import FINE, Played, paint
from stringerlab.desktop.sheet import painting
from stringerlab.desktop.sheet.underlay import Array, Underlay
from stringerlab.desktop.sheet.view import View
from stringerlab.drawing import LegendRow, Options, Picture, Theme, legend, outline_picture, section_picture
from stringerlab.drawing.display import Area, Item, Label, Line, Role
from stringerlab.drawing.overlays import axes, diagrams
from stringerlab.drawing.palette import mixed
from stringerlab.errors import StringerlabError
from stringerlab.section import Plating, Properties, Section, SectionShape
from stringerlab.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Everything the drawing is made of; equal ones look equal."""

    section: Section
    shape: SectionShape | None
    """None where the section has a fault: then it is drawn as bare lines."""
    plating: Plating | None
    properties: Properties | None
    options: Options
    moving: frozenset[str]
    """Ids of what is in the hand."""


class Layers:
    """Keeps the pixmap of what stands still, and the picture of what moves."""

    def __init__(self) -> None:
        self._still_key: tuple[object, ...] = ()
        self._still = Played(Picture())
        self._moving = Played(Picture())
        self._lines = Picture()
        """Of what moves, all but its plies and fills."""
        self._pixmap: QPixmap | None = None
        self._pixmap_key: tuple[object, ...] = ()
        self._legend: tuple[LegendRow, ...] = ()
        self._legend_of: tuple[object, ...] = ()
        self._ink_of = Picture()
        self._ink: Array = np.zeros((0, 2))
        self.painted = 0
        """How many times what stands still was painted."""

    def bounds(self) -> tuple[float, float, float, float] | None:
        """Return the box around what is drawn [mm]."""
        return (self._still.picture + self._moving.picture).bounds()

    @property
    def still(self) -> Played:
        """What stands still; at rest all there is."""
        return self._still

    def legend(self, options: Options) -> tuple[LegendRow, ...]:
        """Return the rows of the legend of what stands still."""
        key = (self._still.picture, options)
        if self._legend_of != key:
            self._legend_of, self._legend = key, legend(options, self._still.picture)
        return self._legend

    def labels(self) -> tuple[Label, ...]:
        """Return the words that stand still."""
        return tuple(item for item in self._still.picture if isinstance(item, Label))

    def ink(self) -> Array:
        """Return points (n, 2) along everything that stands still: what a legend should not cover [mm]."""
        if self._ink_of is not self._still.picture:
            self._ink_of, self._ink = self._still.picture, _ink(self._still.picture)
        return self._ink

    def show(self, drawn: Drawn) -> None:
        """Make the pictures of a drawing, as far as they are not those already made."""
        moving = drawn.moving
        if shaded(drawn.options) or drawn.shape is None:
            moving = frozenset[str]()
        key = self._key(drawn, moving)
        if key != self._still_key:
            self._still_key = key
            self._still = self._still.updated(_still(drawn, moving))
        made = _moving(drawn, moving) if moving else Picture()
        self._moving = Played(made)
        self._lines = Picture(items=tuple(item for item in made if not _is_ply(item)))

    def paint(
        self,
        painter: QPainter,
        view: View,
        size: QSize,
        ratio: float,
        theme: Theme,
        system: System,
        font: QFont,
        underlay: Underlay | None = None,
    ) -> None:
        """Paint paper, grid, underlay and drawing."""
        shape = view, size.width(), size.height(), ratio
        key = (self._still.picture, underlay, *shape, theme.name, system, font)
        to_screen = QTransform(view.scale, 0.0, 0.0, -view.scale, view.left, view.down)
        if key != self._pixmap_key or self._pixmap is None:
            self._pixmap_key = key
            if self._pixmap is None or self._pixmap.size() != size * ratio:
                self._pixmap = QPixmap(size * ratio)
            self._pixmap.setDevicePixelRatio(ratio)
            under = QPainter(self._pixmap)
            under.setFont(font)
            painting.grid(under, view, self._pixmap.deviceIndependentSize(), theme, system)
            if underlay is not None:
                underlay.paint(under, to_screen, theme)
            paint(under, self._still, to_screen, theme)
            under.end()
            self.painted += 1
        painter.drawPixmap(0, 0, self._pixmap)
        if self._moving.items:
            _paint_areas(painter, self._moving, to_screen, theme)
            paint(painter, self._lines, to_screen, without_halo(theme))

    def _key(self, drawn: Drawn, moving: frozenset[str]) -> tuple[object, ...]:
        """What the still picture depends on; at rest on everything."""
        if not moving:
            return (drawn.section, drawn.shape, drawn.plating, drawn.properties, drawn.options, moving)
        section = drawn.section
        return (
            tuple(wall for wall in section.walls if wall.id not in moving),
            tuple(fill for fill in section.fills if fill.id not in moving),
            section.id,
            section.bead,
            drawn.plating,
            drawn.options,
            moving,
        )


def _paint_areas(painter: QPainter, played: Played, to_screen: QTransform, theme: Theme) -> None:
    """Paint what moves, a fifth as dear as at rest: only the edges are smoothed, not what they bound.

    Two neighbouring plies share an edge, so every second ply's outline shows them all.
    """
    line = theme.pen(Role.PLY_EDGE)
    # An opaque line a pixel wide is a quarter as dear as a see-through one: its faintness is mixed in.
    faint = line.opacity * min(FINE * to_screen.m11(), line.width)
    edge = QPen(QColor(), 1.0)
    edge.setCosmetic(True)
    painter.save()
    painter.setTransform(to_screen * painter.transform())
    areas = [(item, path) for item, path in played.items if _is_ply(item) and path is not None]
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
    for item, path in areas:
        painter.fillPath(path, QColor(theme.fill(item).colour))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for _, plies in groupby(areas, key=lambda pair: pair[0].subject.partition("/")[0]):
        edged = [(theme.fill(item).colour, path) for item, path in plies if item.edge is not None]
        between = [mixed(one, other, 0.5) for (one, _), (other, _) in pairwise([*edged, *edged[-1:]])]
        outlined = [(colour, path) for colour, (_, path) in zip(between, edged, strict=True)]
        for colour, path in (*outlined[::2], *(outlined[-1:] if len(outlined) % 2 == 0 else ())):
            edge.setColor(QColor(mixed(colour, line.colour, faint)))
            painter.strokePath(path, edge)
    painter.restore()


def _is_ply(item: Item) -> TypeGuard[Area]:
    """Whether an item is a ply or a fill; shear flow lies over these and lets them show through."""
    return isinstance(item, Area) and item.role is not Role.SHEAR


@lru_cache(8)
def without_halo(theme: Theme) -> Theme:
    """Return a theme whose words have no halo: for the frames of a drag."""
    return replace(theme, halo=False)


def shaded(options: Options) -> bool:
    """Whether plies are coloured by what they carry, so that every one changes with every movement."""
    return options.moment != 0 and (options.strain or options.stress)


def _ink(made: Picture) -> Array:
    """Return points along the lines and rings of a picture, eight to a leg, and its words' places."""
    steps = np.linspace(0.0, 1.0, 8, endpoint=False)[:, None, None]
    found: list[Array] = [np.zeros((0, 2))]
    for item in made:
        match item:
            case Area():
                runs = [np.concatenate((ring, ring[:1])) for ring in item.rings]
            case Line():
                runs = [item.points]
            case Label():
                found.append(np.repeat(np.array([item.at], float), 8, axis=0))
                continue
            case _:
                continue
        found += [(run[:-1] + steps * (run[1:] - run[:-1])).reshape(-1, 2) for run in runs if len(run) > 1]
    return np.concatenate(found)


def picture(drawn: Drawn) -> Picture:
    """Return a whole drawing, as at rest."""
    return _still(replace(drawn, moving=frozenset()), frozenset())


def _still(drawn: Drawn, moving: frozenset[str]) -> Picture:
    if drawn.shape is None:
        reference = drawn.section.reference
        return outline_picture(drawn.section, radians(reference.deadrise) if reference else 0.0)
    options, properties = drawn.options, drawn.properties
    shape = drawn.shape
    if moving:
        shape = part(shape, moving, inside=False)
        options = replace(
            options,
            axes=False,
            cavity=False,
            bonded=False,
            strain=False,
            stress=False,
            shear_flow=False,
            openings=(),
            findings=(),
        )
        properties = None
    try:
        return section_picture(shape, drawn.plating, properties=properties, options=options)
    except StringerlabError:  # nothing of it is left to draw
        return outline_picture(shape, drawn.plating.deadrise if drawn.plating else 0.0)


def _moving(drawn: Drawn, moving: frozenset[str]) -> Picture:
    if drawn.shape is None:
        return Picture()
    held = part(drawn.shape, moving, inside=True)
    plain = Options(
        units=drawn.options.units, ply_edges=drawn.options.ply_edges, mould_face=drawn.options.mould_face
    )
    try:
        made = section_picture(held, None, options=replace(plain, axes=False))
    except StringerlabError:
        made = outline_picture(held)
    made = Picture(items=tuple(item for item in made if item.subject))
    properties = drawn.properties
    if properties is None:
        return made
    points = np.array([point for wall in drawn.shape.walls for point in wall.points], float)
    low, high = points.min(axis=0), points.max(axis=0)
    items = list(axes(properties, low, high, drawn.options.units)) if drawn.options.axes else []
    items += diagrams(drawn.shape, drawn.plating, properties, low, high, drawn.options)
    return made + Picture(items=tuple(items))


def part(shape: SectionShape, ids: frozenset[str], *, inside: bool) -> SectionShape:
    """Return a section with only those of its walls and fills, or with all but those."""
    return replace(
        shape,
        walls=tuple(wall for wall in shape.walls if (wall.id in ids) is inside),
        fills=tuple(fill for fill in shape.fills if (fill.id in ids) is inside),
        laps=(),
    )
