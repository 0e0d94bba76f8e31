"""Properties of what is selected on the sheet: walls, a fill, or the section itself; every change an edit."""

from collections.abc import Callable
from dataclasses import replace
from math import degrees, radians

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.sheet import moulding
from stringerlab.desktop.sheet.canvas import Sheet
from stringerlab.desktop.sheet.choices import Choice, adhesives_of, solids_of
from stringerlab.desktop.sheet.lying_form import LyingRows
from stringerlab.desktop.sheet.starter_form import StarterForm
from stringerlab.desktop.sheet.tool import Change, Edit
from stringerlab.project import Project, drafting, edits
from stringerlab.project.drafting_regions import without_reference
from stringerlab.section import Fill, Section, Side, Wall
from stringerlab.units import Kind

_NONE = "none"
_SIDES = {Side.LEFT: "left of the line", Side.RIGHT: "right of the line"}


class Inspector(QWidget):
    """The form of what is selected."""

    def __init__(self, sheet: Sheet, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheet = sheet
        self.session = sheet.session
        self.setAccessibleName("Properties")
        self.heading = QLabel()
        self.heading.setProperty("faint", True)
        self.heading.setWordWrap(True)
        self.stack = QStackedWidget()
        self._build_section()
        self._build_wall()
        self._build_fill()
        self._build_nothing()
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 8)
        column.setSpacing(6)
        column.addWidget(self.heading)
        self.starter = StarterForm(sheet)
        column.addWidget(self.starter)
        column.addWidget(self.stack)
        self.mould = QLabel()
        self.mould.setWordWrap(True)
        self.mould.setAccessibleName("Mouldability")
        column.addWidget(self.mould)
        column.addStretch(1)
        hand = sheet.hand
        self.session.project_changed.connect(self.refresh)
        hand.selection_changed.connect(self.refresh)
        hand.section_changed.connect(self._another_section)
        self.refresh()

    # -- what is shown ---------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show the properties of what is selected now."""
        self._show_mould()
        scene = self.sheet.hand.scene()
        self.starter.show_section(scene.section if scene and not scene.selected else None)
        if scene is None:
            self.heading.setText("No section")
            self.stack.setCurrentIndex(3)
            return
        parts = [part for each in scene.selected if (part := scene.part(each))]
        walls = [part for part in parts if isinstance(part, Wall)]
        if walls and len(walls) == len(parts):
            self.heading.setText(f"{len(walls)} walls" if len(walls) > 1 else f"Wall {walls[0].id}")
            self.stack.setCurrentIndex(1)
            self._show_walls(walls)
        elif len(parts) == 1 and isinstance(parts[0], Fill):
            self.heading.setText(f"Fill {parts[0].id}")
            self.stack.setCurrentIndex(2)
            self._show_fill(parts[0])
        elif parts:
            self.heading.setText(f"{len(parts)} things selected")
            self.stack.setCurrentIndex(3)
        else:
            self.heading.setText(f"Section {scene.section.id}")
            self.stack.setCurrentIndex(0)
            self._show_section(scene.section)

    def _show_mould(self) -> None:
        """Say how the section, or the walls selected, come off their tool."""
        shape, hand = self.sheet.hand.sight.committed_shape, self.sheet.hand
        words, places = moulding.line(shape, hand.selected) if shape else ("", "")
        self.mould.setText(f"Mould: {words}" if words else "")
        self.mould.setToolTip(places or "Draft, undercuts and corners, as pulled off a tool above")
        self.mould.setVisible(bool(words))

    def _another_section(self, _: str) -> None:
        self.refresh()

    # -- the section -----------------------------------------------------------------------------

    def _build_section(self) -> None:
        form = self._form()
        self.bead = self._length(
            form, "Bead", "Adhesive between shell and flanges; 0 where laminated in place"
        )
        self.adhesive = self._choice(form, "Adhesive", "Of the bead; not named: the shipped methacrylate")
        self.plating = self._choice(form, "Plating", "Hull laminate the section is shown on by itself")
        self.plating_width = self._length(form, "Width", "Width of that plating which is counted")
        self.deadrise = QuantityField(Kind.ANGLE, "Deadrise")
        self.deadrise.setToolTip("Slope of the shell the section is drawn on")
        form.addRow("Deadrise", self.deadrise)
        self.new_laminate = self._choice(form, "New walls", "Laminate of walls drawn from now on")
        self.new_fill = self._choice(form, "New fills", "Material of regions filled from now on")
        self.new_block = self._choice(form, "New blocks", "Material of backing blocks drawn from now on")
        self.bead.committed.connect(self._bead_typed)
        self.adhesive.activated.connect(self._adhesive_chosen)
        self.plating.activated.connect(self._plating_chosen)
        self.plating_width.committed.connect(self._width_typed)
        self.deadrise.committed.connect(self._deadrise_typed)
        hand = self.sheet.hand
        for box, name in (
            (self.new_laminate, "laminate"),
            (self.new_fill, "material"),
            (self.new_block, "block"),
        ):
            box.activated.connect(_setter(hand, name, box))

    def _show_section(self, section: Section) -> None:
        units, project = self.session.units, self.session.project
        reference = section.reference
        self.bead.show_value(section.bead, units)
        self.adhesive.offer([("", "Not named"), *adhesives_of(project)], section.adhesive)
        self.adhesive.setEnabled(section.bead > 0)
        laminates = [(laminate.id, laminate.name) for laminate in project.laminates]
        self.plating.offer([("", _NONE), *laminates], reference.laminate if reference else "")
        self.plating_width.show_value(reference.width if reference else None, units)
        self.deadrise.show_value(radians(reference.deadrise) if reference else None, units)
        self.plating_width.setEnabled(reference is not None)
        self.deadrise.setEnabled(reference is not None)
        scene = self.sheet.hand.scene()
        self.new_laminate.offer(laminates, scene.laminate if scene else "")
        self.new_fill.offer(solids_of(project), self.sheet.hand.material)
        self.new_block.offer(solids_of(project), self.sheet.hand.block)

    def _plating_chosen(self) -> None:
        laminate, section = self.plating.chosen, self.sheet.hand.section_id
        if not laminate:
            self._do("Show no plating", lambda project: without_reference(project, section))
            return
        scene = self.sheet.hand.scene()
        fresh = scene is not None and scene.section.reference is None
        self._reference(
            "Change plating", laminate=laminate, width=_wide(scene.section) if fresh and scene else None
        )

    def _reference(
        self,
        label: str,
        *,
        laminate: str | None = None,
        width: float | None = None,
        deadrise: float | None = None,
    ) -> None:
        section = self.sheet.hand.section_id
        self._do(
            label,
            lambda project: drafting.with_reference(
                project, section, laminate=laminate, width=width, deadrise=deadrise
            ),
        )

    def _bead_typed(self, value: float) -> None:
        self._section("Change bead", lambda section: replace(section, bead=value))

    def _adhesive_chosen(self) -> None:
        self._section("Change adhesive", lambda section: replace(section, adhesive=self.adhesive.chosen))

    def _width_typed(self, value: float) -> None:
        self._reference("Change plating width", width=value)

    def _deadrise_typed(self, value: float) -> None:
        self._reference("Change deadrise", deadrise=round(degrees(value), 9))

    def _section(self, label: str, change: Callable[[Section], Section]) -> None:
        scene = self.sheet.hand.scene()
        if scene is not None:
            section = scene.section
            self._do(label, lambda project: edits.replaced(project, change(section)))

    # -- walls -----------------------------------------------------------------------------------

    def _build_wall(self) -> None:
        form = self._form()
        self.wall_name = self._text(form, "Name", "What the wall is called in findings and lists")
        self.laminate = self._choice(form, "Laminate", "What is laid up on the line")
        self.side = self._choice(
            form, "Builds", "Side of the line, the way it is drawn, on which the laminate lies"
        )
        self.closed = QCheckBox("Closed")
        self.closed.setToolTip("Whether the last point joins the first")
        self.closed.setAccessibleName("Closed")
        form.addRow("", self.closed)
        self.fillets = self._length(
            form, "Fillets", "Radius of every corner of the wall, or of the point last picked"
        )
        self.point_y = self._length(
            form, "Point y", "Place of the point last picked, to the right of the origin"
        )
        self.point_z = self._length(form, "Point z", "Its height above the shell at the origin")
        self.lying = LyingRows(form, self._do)
        self.wall_name.editingFinished.connect(lambda: self._rename(self.wall_name))
        self.laminate.activated.connect(self._laminate_chosen)
        self.side.activated.connect(self._side_chosen)
        self.closed.clicked.connect(self._closed_chosen)
        self.fillets.committed.connect(self._fillets_typed)
        self.point_y.committed.connect(self._y_typed)
        self.point_z.committed.connect(self._z_typed)
        self.sheet.hand.changed.connect(self._point_picked)
        self._picked: tuple[str, int] | None = None

    def _show_walls(self, walls: list[Wall]) -> None:
        units, one = self.session.units, walls[0] if len(walls) == 1 else None
        self.wall_name.setText(one.name if one else "")
        self.wall_name.setEnabled(one is not None)
        laminates = [(laminate.id, laminate.name) for laminate in self.session.project.laminates]
        self.laminate.offer(laminates, _common([wall.laminate for wall in walls]))
        sides = [(str(side), words) for side, words in _SIDES.items()]
        self.side.offer(sides, _common([str(wall.side) for wall in walls]))
        with QSignalBlocker(self.closed):
            self.closed.setChecked(all(wall.closed for wall in walls))
        self.closed.setEnabled(one is not None)
        self.lying.show(walls, units)
        point = self._point(one)
        radii = one.fillets if one else ()
        if one and point is not None:
            self.fillets.show_value(radii[point] if radii else 0.0, units)
        else:
            inner = set(radii if one and one.closed else radii[1:-1]) or {0.0}
            self.fillets.show_value(inner.pop() if len(inner) == 1 else None, units)
        for field, axis in ((self.point_y, 0), (self.point_z, 1)):
            field.show_value(one.points[point][axis] if one and point is not None else None, units)
            field.setEnabled(one is not None and point is not None)

    def _point(self, wall: Wall | None) -> int | None:
        chosen = self.sheet.hand.chosen_point
        if wall is None or chosen is None or chosen[0] != wall.id or chosen[1] >= len(wall.points):
            return None
        return chosen[1]

    def _point_picked(self) -> None:
        if self.sheet.hand.chosen_point != self._picked:
            self._picked = self.sheet.hand.chosen_point
            self.refresh()

    def _walls(self) -> list[Wall]:
        scene = self.sheet.hand.scene()
        return [wall for each in scene.selected if (wall := scene.wall(each))] if scene else []

    def _laminate_chosen(self) -> None:
        laminate, walls = self.laminate.chosen, self._walls()

        def change(project: Project) -> Project:
            for wall in walls:
                project = edits.replaced(project, replace(wall, laminate=laminate))
            return project

        self._do("Change laminate", change)

    def _side_chosen(self) -> None:
        section, wanted = self.sheet.hand.section_id, self.side.chosen
        ids = [wall.id for wall in self._walls() if str(wall.side) != wanted]
        if ids:
            self._do("Swap side", lambda project: drafting.side_swapped(project, section, ids))

    def _closed_chosen(self, on: bool) -> None:
        section, wall = self.sheet.hand.section_id, self._walls()[0].id
        if on:
            self._do("Close wall", lambda project: drafting.closed_up(project, section, wall))
        else:
            self._do("Open wall", lambda project: drafting.opened(project, section, wall))
        self.refresh()

    def _fillets_typed(self, radius: float) -> None:
        section, walls = self.sheet.hand.section_id, self._walls()
        point = self._point(walls[0]) if len(walls) == 1 else None
        corners = [
            (wall.id, index)
            for wall in walls
            for index in ([point] if point is not None else range(len(wall.points)))
            if wall.closed or 0 < index < len(wall.points) - 1
        ]
        self._do("Change fillets", lambda project: drafting.filleted(project, section, corners, radius))

    def _y_typed(self, value: float) -> None:
        self._point_typed(y=value)

    def _z_typed(self, value: float) -> None:
        self._point_typed(z=value)

    def _point_typed(self, *, y: float | None = None, z: float | None = None) -> None:
        section, chosen = self.sheet.hand.section_id, self.sheet.hand.chosen_point
        if chosen is not None:
            self._do(
                "Move point", lambda project: drafting.with_point_at(project, section, *chosen, y=y, z=z)
            )

    # -- fills -----------------------------------------------------------------------------------

    def _build_fill(self) -> None:
        form = self._form()
        self.fill_name = self._text(form, "Name", "What the fill is called")
        self.material = self._choice(
            form, "Material", "Foam counts as mass only; blocks and putty as they are"
        )
        self.fill_name.editingFinished.connect(lambda: self._rename(self.fill_name))
        self.material.activated.connect(self._material_chosen)

    def _show_fill(self, fill: Fill) -> None:
        self.fill_name.setText(fill.name)
        self.material.offer(solids_of(self.session.project), fill.material)

    def _material_chosen(self) -> None:
        scene = self.sheet.hand.scene()
        fill = scene.part(scene.selected[0]) if scene and scene.selected else None
        if isinstance(fill, Fill):
            changed = replace(fill, material=self.material.chosen)
            self._do("Change material", lambda project: edits.replaced(project, changed))

    # -- inside ----------------------------------------------------------------------------------

    def _build_nothing(self) -> None:
        words = QLabel("Drag to move them together, or choose one to see its properties.")
        words.setWordWrap(True)
        words.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.stack.addWidget(words)

    def _form(self) -> QFormLayout:
        page = QWidget()
        form = QFormLayout(page)
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(5)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self.stack.addWidget(page)
        return form

    def _length(self, form: QFormLayout, name: str, tip: str) -> QuantityField:
        field = QuantityField(Kind.LENGTH, name)
        field.setToolTip(tip)
        form.addRow(name, field)
        return field

    def _choice(self, form: QFormLayout, name: str, tip: str) -> Choice:
        box = Choice(name, tip)
        form.addRow(name, box)
        return box

    def _text(self, form: QFormLayout, name: str, tip: str) -> QLineEdit:
        field = QLineEdit()
        field.setAccessibleName(name)
        field.setToolTip(tip)
        form.addRow(name, field)
        return field

    def _rename(self, field: QLineEdit) -> None:
        scene = self.sheet.hand.scene()
        part = scene.part(scene.selected[0]) if scene and len(scene.selected) == 1 else None
        name = field.text().strip()
        if part is not None and name != part.name:
            self._do("Rename", lambda project: edits.renamed(project, part.id, name))

    def _do(self, label: str, change: Change) -> None:
        if not self.sheet.hand.do(Edit(label=label, change=change)):
            self.refresh()


def _setter(hand: object, name: str, box: Choice) -> Callable[[], None]:
    return lambda: setattr(hand, name, box.chosen)


def _common(values: list[str]) -> str:
    return values[0] if len(set(values)) == 1 else ""


def _wide(section: Section) -> float:
    """A width of plating to begin with: as wide as the section."""
    ys = [y for wall in section.walls for y, _ in wall.points]
    return max(max(ys) - min(ys), 50.0) if ys else 200.0
