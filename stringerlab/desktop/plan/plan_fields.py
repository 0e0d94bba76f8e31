"""Fields of what is selected on the plan: names, choices, points, quantities; each change is one edit."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QLabel, QLineEdit, QToolButton, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.plan.canvas import Plan
from stringerlab.desktop.plan.tool import Edit
from stringerlab.layout.openings import Backed, Cut, LandsOn
from stringerlab.layout.plan import (
    Contact,
    Equipment,
    Hand,
    LineKind,
    Member,
    PlanLine,
    Use,
)
from stringerlab.layout.records import Duty
from stringerlab.project import planning
from stringerlab.units import Kind, System


class PlanFields(QWidget):
    """Makes fields that edit the session's project."""

    def __init__(self, plan: Plan, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.plan = plan

    def name_field(self, id: str, name: str) -> QLineEdit:  # noqa: A002
        """Return a field for a thing's name."""
        field = QLineEdit(name)
        field.setAccessibleName("Name")
        field.editingFinished.connect(
            lambda: (
                field.text() != name
                and self.plan.session.edit("Rename", planning.with_part_values, (id,), name=field.text())
            )
        )
        return field

    def choice_field(
        self,
        name: str,
        tip: str,
        offered: Sequence[tuple[str, str]],
        value: str,
        edit: Callable[[str], Edit],
    ) -> Choice:
        """Return a list to choose from; a choice is one edit."""
        choice = Choice(name, tip)
        choice.offer(list(offered))
        choice.show_value(value)
        choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        choice.setMinimumContentsLength(8)
        choice.textActivated.connect(partial(self._chosen, choice, edit))
        return choice

    def _chosen(self, choice: Choice, edit: Callable[[str], Edit], _: str) -> None:
        self.plan.hand.do(edit(choice.value))

    def hand_field(self, ids: tuple[str, ...], hand: Hand) -> Choice:
        """Return the choice of a hand."""
        return self.choice_field(
            "Hand",
            "On which side of the centreline it stands; a pair is drawn once",
            [(each.value, each.value) for each in Hand],
            hand.value,
            lambda value: Edit(
                label=f"Hand: {value}",
                change=lambda project: planning.with_hand(project, ids, Hand(value)),
            ),
        )

    def values_field(
        self,
        form: QFormLayout,
        ids: tuple[str, ...],
        field: str,
        words: str,
        kinds: type[Cut] | type[Backed] | type[Contact] | type[Duty] | type[LineKind] | type[Use],
        value: str,
        tip: str,
    ) -> None:
        """Add a row to choose one of a kind's values."""
        choice = self.choice_field(
            words,
            tip,
            [(each.value, each.value) for each in kinds],
            str(value),
            lambda chosen: Edit(
                label=f"Change {words.lower()}",
                change=lambda project: planning.with_part_values(project, ids, **{field: kinds(chosen)}),
            ),
        )
        form.addRow(words, choice)

    def values_of_field(
        self,
        form: QFormLayout,
        ids: tuple[str, ...],
        field: str,
        words: str,
        offered: Sequence[tuple[str, bool]],
        value: bool,
    ) -> None:
        """Add a row to choose between two."""
        choice = self.choice_field(
            words,
            words,
            [(said, str(each)) for said, each in offered],
            str(value),
            lambda chosen: Edit(
                label=f"Change {words.lower()}",
                change=lambda project: planning.with_part_values(project, ids, **{field: chosen == "True"}),
            ),
        )
        form.addRow(words, choice)

    def end_field(self, member: Member, number: int, words: str) -> Choice:
        """Return the choice of what an end lands on."""

        def edit(value: str) -> Edit:
            ends = (LandsOn(value), member.ends[1]) if number == 0 else (member.ends[0], LandsOn(value))
            return Edit(
                label=f"Change {words.lower()}",
                change=lambda project: planning.with_part_values(project, (member.id,), ends=ends),
            )

        offered = [("as drawn" if each is LandsOn.AS_END else each.value, each.value) for each in LandsOn]
        return self.choice_field(words, "What it comes to rest on", offered, member.ends[number].value, edit)

    def point_field(self, form: QFormLayout, thing: Member | PlanLine | Equipment, number: int) -> None:
        """Add rows for a point's x and y."""
        system = self.plan.session.units
        points = (thing.at,) if isinstance(thing, Equipment) else thing.points
        for axis, letter in enumerate("xy"):
            words = f"Point {number + 1} {letter}" if len(points) > 1 else letter
            field = QuantityField(Kind.LENGTH, words)
            field.show_value(points[number][axis], system)

            def set_it(value: float, axis: int = axis) -> None:
                at = (value, points[number][1]) if axis == 0 else (points[number][0], value)
                self.plan.session.edit(
                    f"Move point {number + 1}", planning.with_plan_point_moved, thing.id, number, at
                )

            field.committed.connect(set_it)
            form.addRow(words, field)

    def quantity_field(
        self,
        id: str,  # noqa: A002
        field: str,
        words: str,
        kind: Kind,
        value: float,
        system: System,
    ) -> QuantityField:
        """Return a field for a quantity of a thing."""
        made = QuantityField(kind, words)
        made.show_value(value, system)

        def set_it(fresh: float) -> None:
            self.plan.session.edit(
                f"Change {words.lower()}", planning.with_part_values, (id,), **{field: fresh}
            )

        made.committed.connect(set_it)
        return made

    def optional_field(
        self,
        ids: tuple[str, ...],
        field: str,
        words: str,
        tip: str,
        value: float | None,
        system: System,
    ) -> QuantityField:
        """Return a field for a length that things may be without."""
        made = QuantityField(Kind.LENGTH, words, optional=True)
        made.show_value(value, system)
        made.setToolTip(tip)

        def set_it(fresh: float | None = None) -> None:
            self.plan.session.edit(
                f"Change {words.lower()}", planning.with_part_values, ids, **{field: fresh}
            )

        made.committed.connect(set_it)
        made.emptied.connect(set_it)
        return made

    def taper_field(self, member: Member, number: int, words: str, system: System) -> QuantityField:
        """Return a field for the length over which an end's crown falls."""
        made = QuantityField(Kind.LENGTH, words)
        made.show_value(member.tapers[number], system)
        made.setToolTip("Over which its crown falls to the shell")

        def set_it(fresh: float) -> None:
            tapers = (fresh, member.tapers[1]) if number == 0 else (member.tapers[0], fresh)
            self.plan.session.edit(
                f"Change {words.lower()}", planning.with_part_values, (member.id,), tapers=tapers
            )

        made.committed.connect(set_it)
        return made

    def remover_field(self, words: str, edit: Edit) -> QWidget:
        """Return words that wrap, with a button that does an edit."""
        button = QToolButton()
        button.setText("×")
        button.setToolTip(edit.label)
        button.setAccessibleName(f"{edit.label}: {words}")
        button.clicked.connect(lambda: self.plan.hand.do(edit))
        made = QWidget()
        row = QHBoxLayout(made)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(said(words), 1)
        return made


def heading(words: str) -> QLabel:
    """Return a heading."""
    label = QLabel(words)
    font = label.font()
    font.setBold(True)
    label.setFont(font)
    return label


def said(words: str) -> QLabel:
    """Return words that wrap."""
    label = QLabel(words)
    label.setWordWrap(True)
    return label
