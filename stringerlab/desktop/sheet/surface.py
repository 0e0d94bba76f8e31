"""What stands on the sheet, painted from back to front: drawing, handles, numbers, rulers, lens."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSizeF
from PySide6.QtGui import QColor, QPainter, QTransform

from stringerlab.desktop.legends import legend_size
from stringerlab.desktop.player import paint
from stringerlab.desktop.sheet import moulding, painting
from stringerlab.desktop.sheet.dimensions import Dimension, dimensions
from stringerlab.desktop.sheet.hits import Hit, handles, line_of
from stringerlab.desktop.sheet.layers import Layers, part
from stringerlab.desktop.sheet.moulding import Moulded
from stringerlab.desktop.sheet.ruler_picture import Rulers
from stringerlab.desktop.sheet.tool import Scene
from stringerlab.drawing import Picture, Theme, legend
from stringerlab.project import Project
from stringerlab.section import SectionShape

if TYPE_CHECKING:
    from stringerlab.desktop.sheet.canvas import Sheet

_LENS, _THIN = 74.0, 2.0
"""Radius of the lens; plies thinner than so many pixels are looked at through it."""


class Surface:
    """Paints a sheet, and knows where its numbers stand."""

    def __init__(self, sheet: "Sheet") -> None:
        self.sheet = sheet
        self.layers = Layers()
        self.rulers = Rulers()
        self.numbers: list[tuple[Dimension, QRectF]] = []
        """Numbers that can be clicked, as painted last."""
        self.over = ""
        """Name of the number under the pointer."""
        self.readings: list[tuple[Moulded, QRectF]] = []
        """Readings of mouldability, as painted last."""
        self._moulded_of: tuple[SectionShape, tuple[object, ...], tuple[Moulded, ...]] | None = None
        self._dimensions_of: tuple[Project, tuple[object, ...], tuple[Dimension, ...]] | None = None

    def paint(self, painter: QPainter) -> None:
        """Paint all of it."""
        sheet = self.sheet
        theme, system, size = sheet.theme, sheet.session.units, QSizeF(sheet.size())
        drawn = sheet.drawn()
        hand = self.sheet.hand
        if drawn is not None:
            self.layers.show(drawn)
        self.layers.paint(
            painter,
            sheet.view,
            sheet.size(),
            sheet.devicePixelRatioF(),
            theme,
            system,
            sheet.font(),
            hand.sight.underlay,
        )
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scene = hand.scene()
        self.numbers, self.readings = [], []
        if scene is not None and drawn is not None:
            parts = {part.id: part for part in (*drawn.section.walls, *drawn.section.fills)}
            if hand.hovered is not None and hand.hovered.id in parts and not hand.in_hand:
                painting.outlines(
                    painter, self.sheet.view, theme, [line_of(parts[hand.hovered.id])], hover=True
                )
            chosen = [line_of(parts[each]) for each in scene.selected if each in parts]
            painting.outlines(painter, self.sheet.view, theme, chosen)
            if hand.tool.name == "select" and not hand.in_hand:
                grips: list[Hit] = [grip for each in scene.selected for grip in handles(scene, each)]
                painting.handles(painter, self.sheet.view, theme, grips, hand.chosen_point)
            if sheet.switches.numbers:
                self._paint_numbers(painter, theme)
            if sheet.switches.is_on("mould"):
                self._paint_readings(painter, theme)
            painting.sketch(painter, self.sheet.view, theme, hand.sketch())
        if hand.touch is not None:
            painting.crosshair(painter, self.sheet.view, size, theme, hand.touch)
            painting.snap_mark(painter, self.sheet.view, theme, hand.touch)
        self.rulers.paint(painter, self.sheet.view, size, theme, system, hand.touch)
        if sheet.switches.legend and drawn is not None and not hand.in_hand:
            kept = self.layers.legend(drawn.options) + moulding.rows(tuple(each for each, _ in self.readings))
            painting.legend(painter, kept, size, theme, self.sheet.view, self.layers.ink())
        if sheet.switches.lens and not hand.in_hand:
            self._paint_lens(painter, theme)
        if sheet.hasFocus():
            painting.focus_rim(painter, size, theme)

    def moulded(self) -> tuple[Moulded, ...]:
        """Return the readings of the section shown; while something is in the hand, of that alone."""
        shape, held = self.sheet.hand.sight.shape, frozenset(self.sheet.hand.in_hand)
        if shape is None:
            return ()
        key = (held, self.sheet.session.units)
        if self._moulded_of is None or self._moulded_of[0] is not shape or self._moulded_of[1] != key:
            read = part(shape, held, inside=True) if held else shape
            self._moulded_of = (shape, key, moulding.moulded(read, self.sheet.session.units))
        return self._moulded_of[2]

    def legend_room(self, made: Picture) -> tuple[float, float]:
        """Return the pixels that the legend of a picture takes, with its margin; none while it is off."""
        sheet = self.sheet
        if not sheet.switches.legend:
            return 0.0, 0.0
        marks = moulding.rows(self.moulded()) if sheet.switches.is_on("mould") else ()
        size = legend_size(legend(sheet.options, made) + marks, sheet.font())
        return size.width() + 14, size.height() + 14

    def tip_at(self, at: QPointF) -> str:
        """Return what a tooltip says at a pixel."""
        if self.over:
            return f"{self.over}: click to type"
        return next((each.tip for each, patch in self.readings if patch.contains(at)), "")

    def _paint_readings(self, painter: QPainter, theme: Theme) -> None:
        found = self.moulded()
        view = self.sheet.view
        taken = [patch for _, patch in self.numbers]
        taken += [painting.mark_patch(view, each) for each in found]
        taken += [painting.label_patch(painter, view, each) for each in self.layers.labels()]
        for each in found:
            patch = painting.reading(painter, view, theme, each, taken)
            self.readings.append((each, painting.mark_patch(view, each)))
            if patch is not None:
                taken.append(patch)
                self.readings.append((each, patch))

    def _paint_numbers(self, painter: QPainter, theme: Theme) -> None:
        scene = self.sheet.hand.scene()
        if scene is None or self.sheet.hand.tool.name != "select":
            return
        words = [painting.label_patch(painter, self.sheet.view, each) for each in self.layers.labels()]
        for number in self._dimensions(scene):
            patch = painting.dimension(
                painter,
                self.sheet.view,
                theme,
                number,
                self.sheet.session.units,
                [patch for _, patch in self.numbers],
                words=words,
                hover=number.name == self.over,
            )
            if patch is not None:
                self.numbers.append((number, patch))

    def _dimensions(self, scene: Scene) -> tuple[Dimension, ...]:
        """The numbers of what is selected, made anew only for another project or another selection."""
        shown = self.sheet.session.shown
        key = (scene.selected, self.sheet.hand.bends_freely)
        if (
            self._dimensions_of is None
            or self._dimensions_of[0] is not shown
            or self._dimensions_of[1] != key
        ):
            found = dimensions(scene, shown, free=self.sheet.hand.bends_freely)
            self._dimensions_of = (shown, key, found)
        return self._dimensions_of[2]

    def _paint_lens(self, painter: QPainter, theme: Theme) -> None:
        factor = self.sheet.hand.lens(_THIN)
        if factor is None or self.sheet.hand.touch is None:
            return
        x, y = self.sheet.view.to_screen(self.sheet.hand.touch.raw)
        at = QPointF(
            x + (1.3 if x < self.sheet.width() - 2.5 * _LENS else -1.3) * _LENS,
            y + (-1.3 if y > 2.5 * _LENS else 1.3) * _LENS,
        )
        near = self.sheet.view.zoomed(factor, (x, y)).panned(at.x() - x, at.y() - y)
        painter.save()
        painter.setClipPath(painting.clip_circle(at, _LENS))
        painter.fillRect(
            QRectF(at.x() - _LENS, at.y() - _LENS, 2 * _LENS, 2 * _LENS), QColor(theme.background)
        )
        paint(
            painter,
            self.layers.still,
            QTransform(near.scale, 0.0, 0.0, -near.scale, near.left, near.down),
            theme,
        )
        painter.restore()
        painting.lens_rim(painter, theme, at, _LENS, f"×{factor:.0f}")
