"""What is selected on the plan, in fields: a member's section, hand, ends, points; sizes found."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFormLayout, QLineEdit, QToolButton, QVBoxLayout, QWidget

from stringerlab.desktop.plan.canvas import Plan
from stringerlab.desktop.plan.panes.thing_fields import BY_KIND
from stringerlab.desktop.plan.plan_fields import PlanFields, heading, said
from stringerlab.desktop.plan.scene import Scene
from stringerlab.desktop.plan.tool import Edit
from stringerlab.layout.openings import Backed, Cut, LandsOn
from stringerlab.layout.plan import (
    Cavity,
    Contact,
    Equipment,
    LineKind,
    Member,
    MemberKind,
    PlanLine,
    Use,
)
from stringerlab.layout.records import Duty
from stringerlab.methods import Verdict
from stringerlab.project import planning
from stringerlab.project.planning_lines import length
from stringerlab.units import Kind
from stringerlab.units import format as shown


class PlanInspector(PlanFields):
    """Fields of the first thing selected; of the layout where nothing is."""

    def __init__(self, plan: Plan, parent: QWidget | None = None) -> None:
        super().__init__(plan, parent)
        self.setAccessibleName("Selected")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(8, 8, 8, 8)
        self._form: QWidget | None = None
        self._of: tuple[object, ...] = ()
        plan.hand.selection_changed.connect(self.show_selected)
        plan.hand.layout_changed.connect(self.show_selected)
        plan.session.project_changed.connect(self.show_selected)
        plan.session.results_changed.connect(self.show_selected)
        self.show_selected()

    def show_selected(self) -> None:
        """Show what is selected now."""
        scene = self.plan.hand.scene()
        results = self.plan.session.results if self.plan.session.fresh else None
        key = (scene.selected, scene.project, results) if scene else ()
        if key == self._of and self._form is not None:
            return
        self._of = key
        focused = QApplication.focusWidget()
        inside = self._form is not None and focused is not None and self._form.isAncestorOf(focused)
        named = focused.accessibleName() if inside and focused is not None else ""
        if self._form is not None:
            self._column.removeWidget(self._form)
            self._form.hide()
            self._form.setParent(None)
            self._form.deleteLater()
            while self._column.count():
                self._column.takeAt(0)
        self._form = QWidget()
        form = QFormLayout(self._form)
        form.setContentsMargins(0, 0, 0, 0)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.DontWrapRows)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        if scene is not None:
            self._fill(form, scene)
        self._column.addWidget(self._form)
        self._column.addStretch(1)
        if named:  # the keyboard stays where it was, in the field made anew
            same = (each for each in self._form.findChildren(QWidget) if each.accessibleName() == named)
            if (field := next(same, None)) is not None:
                field.setFocus(Qt.FocusReason.OtherFocusReason)

    # -- what there is ---------------------------------------------------------------------------

    def _fill(self, form: QFormLayout, scene: Scene) -> None:
        thing = scene.things.get(scene.selected[0]) if scene.selected else None
        if thing is None and scene.selected and scene.selected[0] in scene.spans:
            self._span(form, scene, scene.selected[0])
        elif thing is None and scene.selected and scene.selected[0] in scene.bays:
            self._bay(form, scene, scene.selected[0])
        elif isinstance(thing, Member):
            self._member(form, scene, thing)
        elif isinstance(thing, PlanLine):
            self._line(form, thing)
        elif isinstance(thing, Equipment):
            self._equipment(form, scene, thing)
        elif isinstance(thing, Cavity):
            self._cavity(form, thing)
        else:
            self._layout(form, scene)
        if len(scene.selected) > 1:
            count = len(scene.selected)
            form.addRow(said(f"{count} are selected; section, hand and crossings change all."))

    def _layout(self, form: QFormLayout, scene: Scene) -> None:
        layout, found = scene.layout, scene.found
        form.addRow(heading("Layout"))
        name = QLineEdit(layout.name)
        name.setAccessibleName("Name of the layout")
        name.editingFinished.connect(
            lambda: (
                name.text() != layout.name
                and self.plan.session.edit(
                    "Rename layout", planning.with_layout_values, layout.id, name=name.text()
                )
            )
        )
        form.addRow("Name", name)
        judged = sum(span.span is not None for span in found.spans)
        panels = sum(bay.panel is not None for bay in found.bays)
        form.addRow("Members", said(str(len(layout.members))))
        form.addRow("Panels found", said(str(panels)))
        form.addRow("Spans found", said(str(judged)))
        form.addRow("Equipment", said(str(len(layout.equipment))))
        form.addRow("Cavities", said(str(len(layout.cavities))))
        amiss = self.plan.amiss()
        form.addRow("Amiss", said(str(len(amiss)) if amiss else "nothing"))
        for placed in amiss[:6]:
            form.addRow(said(f"▲ {placed.problem.what} {placed.problem.remedy}"))
        if not layout.members:
            form.addRow(said("Draw the first longitudinal: L. Then transverses: T."))

    def _member(self, form: QFormLayout, scene: Scene, member: Member) -> None:
        ids = tuple(each.id for each in scene.members)
        form.addRow(heading(f"{member.kind.value.capitalize()} {member.id}"))
        form.addRow("Name", self.name_field(member.id, member.name))
        sections = [("no section", ""), *((each.name, each.id) for each in scene.project.sections)]
        form.addRow(
            "Section",
            self.choice_field(
                "Section",
                "Of the member from its first point on",
                sections,
                member.section,
                lambda value: Edit(
                    label="Change section", change=lambda project: planning.with_section(project, ids, value)
                ),
            ),
        )
        for number, stretch in enumerate(member.stretches):
            self._stretch(form, scene, member, number, sections)
            del stretch
        form.addRow("Hand", self.hand_field(ids, member.hand))
        self.values_field(
            form, ids, "crown", "At crossings", Cut, member.crown, "Whether its crown goes through"
        )
        tip = "What takes a cut crown's force on"
        self.values_field(form, ids, "backed", "Cut crown", Backed, member.backed, tip)
        if member.backed is not Backed.NONE:
            for field, words, tip in (
                ("tab_thickness", "Tab thickness", "Of one tab's laminate, or of the diaphragm's"),
                ("tab_length", "Tab bonded", "Along what a tab, or the diaphragm, is bonded"),
            ):
                value = getattr(member, field)
                form.addRow(words, self.optional_field(ids, field, words, tip, value, scene.system))
        self.values_field(
            form, ids, "contact", "Bonded", Contact, member.contact, "Which of its edges are bonded"
        )
        self.values_field(form, ids, "duty", "Duty", Duty, member.duty, "What it carries besides the sea")
        lengthwise = member.kind is MemberKind.LONGITUDINAL
        ends = ("Aft end", "Forward end") if lengthwise else ("Inboard end", "Outboard end")
        for number, words in enumerate(ends):
            form.addRow(words, self.end_field(member, number, words))
            if member.ends[number] is LandsOn.TAPERED:
                taper = f"{words.split()[0]} taper"
                form.addRow(taper, self.taper_field(member, number, taper, scene.system))
        form.addRow("Length", said(scene.length(length(member.points)) + " in plan"))
        for number, _ in enumerate(member.points):
            self.point_field(form, member, number)
        for number, hole in enumerate(member.openings):
            size = f"{scene.length(hole.width)} × {scene.length(hole.height)}"
            words = f"{hole.kind.value} {size} at {scene.length(hole.x)}"
            form.addRow(
                "Opening",
                self.remover_field(
                    words,
                    Edit(
                        label="Remove opening",
                        change=lambda project, n=number: planning.without_member_openings(
                            project, member.id, [n]
                        ),
                    ),
                ),
            )

    def _stretch(
        self,
        form: QFormLayout,
        scene: Scene,
        member: Member,
        number: int,
        sections: Sequence[tuple[str, str]],
    ) -> None:
        stretch = member.stretches[number]
        form.addRow(
            f"From {scene.length(stretch.start)}",
            self.choice_field(
                f"Section from stretch {number + 1}",
                "Of the member from there on",
                sections,
                stretch.section,
                lambda value: Edit(
                    label="Change section of a stretch",
                    change=lambda project: planning.with_section(project, [member.id], value, number),
                ),
            ),
        )
        form.addRow(
            "",
            self.remover_field(
                "Let the section before run on",
                Edit(
                    label="Remove stretch",
                    change=lambda project: planning.without_stretch(project, member.id, number),
                ),
            ),
        )

    def _line(self, form: QFormLayout, line: PlanLine) -> None:
        form.addRow(heading(f"Line {line.id}"))
        form.addRow("Name", self.name_field(line.id, line.name))
        self.values_field(form, (line.id,), "kind", "Kind", LineKind, line.kind, "What it is")
        form.addRow("Hand", self.hand_field((line.id,), line.hand))
        self.values_of_field(
            form, (line.id,), "bounds", "Panels", [("run across it", False), ("end at it", True)], line.bounds
        )
        for number, _ in enumerate(line.points):
            self.point_field(form, line, number)

    def _equipment(self, form: QFormLayout, scene: Scene, thing: Equipment) -> None:
        form.addRow(heading(f"{thing.kind.value.capitalize()} {thing.id}"))
        form.addRow("Name", self.name_field(thing.id, thing.name))
        form.addRow("Hand", self.hand_field((thing.id,), thing.hand))
        self.point_field(form, thing, 0)
        system = scene.system
        form.addRow("Mass", self.quantity_field(thing.id, "mass", "Mass", Kind.MASS, thing.mass, system))
        for field in BY_KIND[thing.kind]:
            if field.kind is None or field.optional:
                continue  # with its feet, its block and its acceleration it stands in the pane of loads
            words = field.title[:1].upper() + field.title[1:]
            value = getattr(thing, field.key)
            form.addRow(words, self.quantity_field(thing.id, field.key, words, field.kind, value, system))
        form.addRow(said("Feet, blocks and bolts, acceleration: pane Loads."))

    def _cavity(self, form: QFormLayout, cavity: Cavity) -> None:
        form.addRow(heading(f"Cavity {cavity.id}"))
        form.addRow("Name", self.name_field(cavity.id, cavity.name))
        self.values_field(form, (cavity.id,), "use", "Use", Use, cavity.use, "What it is for")
        form.addRow("Hand", self.hand_field((cavity.id,), cavity.hand))
        self.values_of_field(
            form, (cavity.id,), "sealed", "Drain", [("open to it", False), ("sealed", True)], cavity.sealed
        )

    def _span(self, form: QFormLayout, scene: Scene, id: str) -> None:  # noqa: A002
        found = scene.spans[id]
        span = found.span
        form.addRow(heading(f"Span {id}"))
        if span is None:
            form.addRow(said("Not judged: a bulkhead, or a member without a section."))
            return
        system = scene.system
        form.addRow("Name", said(span.name))
        form.addRow("Unsupported", said(shown(span.lu, Kind.LENGTH, system)))
        form.addRow("Spacing", said(shown(span.s, Kind.LENGTH, system)))
        form.addRow("Middle at x", said(shown(span.x, Kind.LENGTH, system)))
        form.addRow("Ends", said(" and ".join(end.value for end in span.ends)))
        form.addRow("Alike", said(str(span.count)))
        self._findings(form, id)

    def _bay(self, form: QFormLayout, scene: Scene, id: str) -> None:  # noqa: A002
        bay = scene.bays[id]
        panel = bay.panel
        form.addRow(heading(f"Panel {id}"))
        if panel is None:
            form.addRow(said("Too small to be judged, or nothing of it is clear."))
            return
        system = scene.system
        form.addRow("Name", said(panel.name))
        form.addRow("Short side", said(shown(panel.b, Kind.LENGTH, system)))
        form.addRow("Long side", said(shown(panel.l, Kind.LENGTH, system)))
        form.addRow("Middle at x", said(shown(panel.x, Kind.LENGTH, system)))
        form.addRow("Deadrise", said(f"{panel.deadrise:.1f}°"))
        form.addRow("Alike", said(str(len(bay.rings))))
        self._findings(form, id)

    def _findings(self, form: QFormLayout, id: str) -> None:  # noqa: A002
        session = self.plan.session
        to = QToolButton()
        to.setText("Show its findings")
        to.clicked.connect(self.plan.show_findings)
        form.addRow("", to)
        if not session.fresh or session.results is None:
            form.addRow(said("Being checked…"))
            return
        mine = [each for each in session.results.findings if each.subject == id]
        judged = [each for each in mine if each.utilisation is not None]
        worst = max(judged, key=lambda each: each.utilisation or 0.0, default=None)
        if worst is not None:
            words = f"{worst.verdict.value}, {worst.utilisation:.2f}: {worst.aspect.value}"
            form.addRow("Worst", said(words))
        missing = sum(each.verdict is Verdict.NOT_JUDGED for each in mine)
        form.addRow("Findings", said(f"{len(mine)}, {missing} of them not judged" if mine else "none"))
