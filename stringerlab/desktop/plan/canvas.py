"""The plan on paper: the hull bottom with rulers, on which a layout is drawn. mm; pixels on screen."""

from collections.abc import Sequence
from dataclasses import replace
from operator import is_
from pathlib import Path

import numpy as np
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
    QTransform,
)
from PySide6.QtWidgets import QMenu, QToolTip, QWidget

from stringerlab.desktop.plan import keys, menus, painting, telling
from stringerlab.desktop.plan.hand import PlanHand
from stringerlab.desktop.plan.hits import lines_of
from stringerlab.desktop.plan.live import Live
from stringerlab.desktop.plan.naming import in_room
from stringerlab.desktop.plan.scene import Array, Scene
from stringerlab.desktop.plan.select import Select
from stringerlab.desktop.played import Played
from stringerlab.desktop.player import measure_in, paint
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet import exporting
from stringerlab.desktop.sheet import painting as paper_painting
from stringerlab.desktop.sheet.inline import Inline
from stringerlab.desktop.sheet.paper import Paper
from stringerlab.desktop.sheet.ruler_picture import Rulers
from stringerlab.desktop.sheet.underlay import Underlay, both
from stringerlab.desktop.sheet.view import View
from stringerlab.drawing import Line, Picture
from stringerlab.drawing.display import Role
from stringerlab.drawing.fitting import fit
from stringerlab.drawing.plan_options import PlanOptions, Width, widths_of
from stringerlab.layout.found import Placed
from stringerlab.project.section_shapes import sections_of

_FREE = 10.0
"""Pixels round a plan fitted with what is laid over it."""
EMPTY = (
    "Draw the first longitudinal: L.",
    "Then transverses: T. Panels appear by themselves.",
)


class Plan(Paper):
    """The layout in use on paper; ``hand`` holds the tools."""

    options_changed = Signal()
    """Other things of the plan are shown."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.hand = PlanHand(session)
        super().__init__(self.hand, parent)
        self.hand.setParent(self)
        self.session = session
        self.rulers = Rulers()
        self.inline = Inline(self)
        self._problems: list[tuple[str, QRectF]] = []
        self._played = Played(Picture())
        self._drawn: tuple[object, ...] = ()
        self._widths: tuple[tuple[object, ...], set[str], dict[str, Width]] | None = None
        self.live = Live(session)
        self.options = PlanOptions()
        self.over = Picture()
        """Laid over the plan: see ``lay_over``."""
        self._moving = Picture()
        self._asked, self._before = False, session.results
        self._named_at = 0.0
        """Scale at which the words of the plan were set apart."""
        self._still: tuple[int, QPixmap] | None = None
        self._ground: tuple[Underlay | None, tuple[object, ...], QPixmap] | None = None
        self.setAccessibleName("Plan")
        self.setAccessibleDescription(
            "The layout is drawn here, forward to the right, port up; the status line says what a click does."
        )
        self.hand.changed.connect(self.update)
        self.hand.layout_changed.connect(self._another_layout)
        self.hand.tool_changed.connect(self._another_tool)
        session.results_changed.connect(self.update)
        session.results_changed.connect(self._checked)

    # -- what is shown ---------------------------------------------------------------------------

    def picture(self) -> Picture:
        """Return the plan as drawn."""
        scene = self.hand.shown()
        if scene is None:
            return Picture()
        if scene.project is self.session.project:
            return painting.picture(scene, self.shows(scene)) + self.over
        return painting.picture(scene, replace(self.shows(scene), nodes=False))  # for the frames of a drag

    def _seen(self) -> Picture:
        """Return the plan as drawn with its words apart; those of what is laid over it come first."""
        over = self.over.items if self.session.shown is self.session.project else ()
        drawn = self.picture().items
        ground = Picture(items=drawn[: len(drawn) - len(over)])
        return in_room((ground, Picture(items=over)), measure_in(self.font()), self.view.scale)

    def shows(self, scene: Scene) -> PlanOptions:
        """Return what is shown of the plan, with the widths of its sections."""
        project = scene.project
        named = {section for member in scene.layout.members for section in sections_of(member)}
        of = (project.sections, project.laminates, project.materials)
        held = self._widths
        if held is None or held[1] != named or not all(map(is_, held[0], of)):
            self._widths = held = (of, named, widths_of(self.session.resolved, scene.layout))
        return replace(self.options, units=self.session.units, widths=held[2])

    def show_options(self, options: PlanOptions) -> None:
        """Show other things of the plan."""
        if options != self.options:
            self.options = options
            self.options_changed.emit()
            self.update()

    def lay_over(self, over: Picture) -> None:
        """Lay a picture over the plan, as of results; an empty one takes it away.

        A view that shows everything goes on doing so.
        """
        if over is self.over:
            return
        fitted = self._fitted and self.view == self._fit and self.isVisible()
        self.over = over
        if fitted and self.view != self.fitted_view():
            self.fit()
        self.update()

    def lay_moving(self, over: Picture) -> None:
        """Lay a picture over the frames of a drag, in place of the one before."""
        self._moving = over
        self.update()

    def lay_under(self, lines: Sequence[Array]) -> None:
        """Lay lines (n, 2) under the layout shown, to see and to snap to [mm]."""
        self.hand.lay_under(lines)
        self.fit()

    def amiss(self) -> tuple[Placed, ...]:
        """Return what is wrong, and where."""
        scene = self.hand.shown()
        if scene is None:
            return ()
        in_use = self.session.shown.layout == scene.layout.id
        return self.session.resolved.amiss if in_use else scene.found.amiss

    def fitted_view(self) -> View:
        """Return the view that shows the whole bottom."""
        scene = self.hand.shown()
        bounds = painting.bounds(scene) if scene else painting.NOWHERE
        bounds = both(bounds, self.hand.underlay) or bounds
        ruler = paper_painting.RULER
        room = max(self.width() - ruler, 1), max(self.height() - ruler, 1)
        fitted = View().fitted(bounds, room).zoomed(1.18, (room[0] / 2, room[1] / 2))
        if self.over.items:
            ring = np.array([bounds[:2], bounds[2:]])
            all_ = Picture(items=(*self.over.items, Line(points=ring, role=Role.KEEL)))
            scale, covered = fit(all_, measure_in(self.font()), room[0] - 2 * _FREE, room[1] - 2 * _FREE)
            if scale < fitted.scale:
                fitted = View(
                    scale=scale,
                    left=room[0] / 2 - scale * (covered.left + covered.right) / 2,
                    down=room[1] / 2 + scale * (covered.bottom + covered.top) / 2,
                )
        return fitted.panned(ruler, ruler)

    def export(self, path: Path) -> None:
        """Write the plan to a file: SVG, PNG or DXF by its ending.

        Raises
        ------
        StringerlabError
            When the ending is another, or the file cannot be written.
        """
        exporting.to_file(self.picture(), path, self.theme, self.size(), self.font())

    def check(self) -> None:
        """Check everything now."""
        self._asked, self._before = True, self.session.results
        self.session.assess()
        self.session.said.emit("Checking every panel and span…")

    def _checked(self) -> None:
        """Say so when the check that was asked for is done."""
        if self._asked and self.session.fresh and self.session.results is not self._before:
            self._asked = False
            self.session.said.emit("Checked: every verdict is of the plan as it is drawn.")

    def show_findings(self) -> None:
        """Ask for the findings of what is selected."""
        self.session.wanted.emit("findings")

    # -- for the paper ---------------------------------------------------------------------------

    def rest_cursor(self) -> Qt.CursorShape:
        """Return the pointer's shape of the tool in the hand."""
        select = self.hand.tool.name == "select"
        return Qt.CursorShape.ArrowCursor if select else Qt.CursorShape.CrossCursor

    def looked(self) -> None:
        """Close the field: what it stood at is elsewhere."""
        self.inline.leave()

    def claims(self, event: QKeyEvent) -> bool:
        """Whether a key is the plan's own while it has the focus."""
        return keys.claims(event)

    def tab(self, *, back: bool) -> bool:
        """Select the next thing; past the last one the focus goes on."""
        return self.hand.cycle(-1 if back else 1)

    def key(self, event: QKeyEvent) -> bool:
        """Do what the table of keys says."""
        return keys.pressed(self, event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Close the field, and hand the press on."""
        self.inline.leave()
        self.live.begin()
        super().mousePressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Tell what is under the pointer when it rests; the rest as paper does."""
        if event.type() is QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            QToolTip.showText(event.globalPos(), self.tip_at(QPointF(event.pos())), self)
            return True
        return super().event(event)

    def tip_at(self, at: QPointF) -> str:
        """Return what is to be told at a pixel: a problem, else what lies there."""
        told = next((told for told, patch in self._problems if patch.contains(at)), "")
        scene = self.hand.shown()
        return told or (telling.tip(scene, self._paper(at)) if scene else "")

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer what can be done with the thing under the pointer, or with what is selected."""
        at = QPointF(event.pos())
        if event.reason() is QContextMenuEvent.Reason.Keyboard:
            at = QPointF(self.width() / 2, self.height() / 2)
        else:
            self.hand.choose_at(self._paper(at))
        self.menu().popup(self.mapToGlobal(QPoint(round(at.x()), round(at.y()))))

    def menu(self) -> QMenu:
        """Return the menu of what is selected."""
        return menus.menu(self)

    def type_line(self, begun: str) -> None:
        """Open the field for what the tool asks, with what is typed already."""
        scene = self.hand.scene()
        touch = self.hand.touch
        at = self.view.to_screen(touch.at) if touch else (self.width() / 2, self.height() / 2)
        name = self.hand.tool.asks(scene) if scene else ""
        tip = self.hand.tool.hint(scene) if scene else ""
        self.inline.ask(QPointF(*at) + QPointF(14, 14), name, tip, begun, self.hand.typed)

    # -- painting --------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint paper, plan, handles, the tool's sketch, problems, rulers."""
        del event  # all of it is painted: what stands still is one pixmap
        if not self._fitted:
            self.fit()
        painter = QPainter(self)
        painter.setFont(self.font())
        self._paint(painter)
        painter.end()
        self.frames += 1

    def _paint(self, painter: QPainter) -> None:
        theme, size, view, hand = self.theme, QSizeF(self.size()), self.view, self.hand
        scene = hand.shown()
        painter.drawPixmap(QPointF(0, 0), self._still_picture(scene))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._problems = []
        if scene is not None:
            if hand.hovered is not None and not hand.tool.busy and hand.hovered.id not in scene.selected:
                lines = lines_of(scene, hand.hovered.id)
                paper_painting.outlines(painter, view, theme, lines, hover=True)
            chosen = [line for each in scene.selected for line in lines_of(scene, each)]
            paper_painting.outlines(painter, view, theme, chosen)
            if isinstance(hand.tool, Select) and not hand.tool.dragging:
                painting.grips(painter, view, theme, scene, hand.tool.point)
            self._problems = painting.problem_marks(painter, view, theme, size, self.amiss())
            if not scene.layout.members and not hand.tool.busy:
                painting.beginning(painter, theme, size, EMPTY)
            changed, summed = self.live.shown(scene.layout, self.shows(scene))
            moving = scene.project is not self.session.project and bool(self._moving.items)
            paint(painter, self._moving if moving else changed, self._to_screen(), theme)
            paper_painting.sketch(painter, view, theme, hand.sketch())
            if summed:
                at = QPointF(paper_painting.RULER + 8, size.height() - 16)
                paper_painting.note(painter, theme, at, summed, Role.TEXT)
        if hand.touch is not None:
            paper_painting.crosshair(painter, view, size, theme, hand.touch)
            paper_painting.snap_mark(painter, view, theme, hand.touch)
        self.rulers.paint(painter, view, size, theme, self.session.units, hand.touch)
        if self.hasFocus():
            paper_painting.focus_rim(painter, size, theme)

    def _paper_picture(self) -> QPixmap:
        """Return paper and underlay as one pixmap, made anew when the view or the look is another."""
        under, look = self.hand.underlay, self._look_key()
        if self._ground is None or self._ground[0] is not under or self._ground[1] != look:
            made = self._blank()
            painter = QPainter(made)
            units = self.session.units
            paper_painting.grid(painter, self.view, QSizeF(self.size()), self.theme, units)
            if under is not None:
                under.paint(painter, self._to_screen(), self.theme)
            painter.end()
            self._ground = (under, look, made)
        return self._ground[2]

    def _still_picture(self, scene: Scene | None) -> QPixmap:
        """Return paper, underlay and plan as one pixmap, made anew when anything of it is another."""
        ground = self._paper_picture()
        drawn = (scene.layout, scene.found, scene.project.craft, scene.project.sections) if scene else ()
        settled = scene is not None and scene.project is self.session.project
        drawn = (*drawn, self.options, self.over if settled else None, self.session.units)
        same = len(drawn) == len(self._drawn) and all(map(is_, drawn, self._drawn))
        if self._still is not None and same and self._still[0] == ground.cacheKey():
            return self._still[1]
        made = QPixmap(ground)
        painter = QPainter(made)
        painter.setFont(self.font())
        if scene is not None:
            if not same or self._named_at != self.view.scale:
                self._played = self._played.updated(self._seen())
                self._named_at = self.view.scale
            paint(painter, self._played, self._to_screen(), self.theme)
        painter.end()
        self._still, self._drawn = (ground.cacheKey(), made), drawn
        return made

    def _look_key(self) -> tuple[object, ...]:
        look = self.theme.name, self.session.units, self.font().toString()
        return self.view, self.size(), self.devicePixelRatioF(), *look

    def _blank(self) -> QPixmap:
        ratio = self.devicePixelRatioF()
        made = QPixmap(self.size() * ratio)
        made.setDevicePixelRatio(ratio)
        return made

    def _to_screen(self) -> QTransform:
        view = self.view
        return QTransform(view.scale, 0.0, 0.0, -view.scale, view.left, view.down)

    # -- inside ----------------------------------------------------------------------------------

    def _another_layout(self, _: str) -> None:
        self.fit()

    def _another_tool(self, _: str) -> None:
        self.inline.leave()
        self._show_cursor()
