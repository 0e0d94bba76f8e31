"""What scatters, as a form: a named default to begin from, then each input with its law, middle and spread.

A default is shown as it is; the first change of it makes the inputs the project's own.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial

from PySide6.QtWidgets import QFormLayout, QGridLayout, QLabel, QPushButton, QToolButton, QVBoxLayout, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.session import Session
from stringerlab.desktop.sizing.fields import TypedField, group, line
from stringerlab.project import Project
from stringerlab.project.wish_edits_studies import (
    with_inputs,
    with_samples,
    with_scatter_seed,
    with_usual_scatter,
)
from stringerlab.project.wish_words import names_of
from stringerlab.project.wishes import Law, Scatter, Scattered
from stringerlab.units import Kind

OWN = "its own"
"""In place of a default's name."""
_OWN_WORDS = "this project’s own"
_ALL = "all"
_PRACTICE = (
    "The defaults are common practice and have no source: weigh your own laminates, test coupons, and enter "
    "what they show. Normal and lognormal: spread is the deviation; uniform and triangular: half the width."
)
_HEADS = ("scatters", "of", "law", "middle", "spread")


class InputRow:
    """The widgets of one input, which lie in the form's grid."""

    def __init__(
        self, put: Callable[[Scatter, str], None], drop: Callable[[], None], said: Callable[[str], None]
    ):
        self._put = put
        self._input: Scatter | None = None
        self.what = Choice("What scatters", "What scatters")
        self.what.offer([(one.value, one.value) for one in Scattered])
        self.of = Choice("Of what it scatters", "All of them, or one: each scatters on its own")
        self.law = Choice("Law", "How the value lies about its middle")
        self.law.offer([(one.value, one.value) for one in Law])
        self.mean = TypedField(Kind.RATIO, "Middle", "Middle, as a factor on the nominal value", 50)
        self.spread = TypedField(Kind.RATIO, "Spread", "Spread as a part of the nominal: 0.07 or 7 %", 50)
        self.drop = QToolButton()
        self.drop.setText("×")
        self.drop.setFixedSize(24, 22)
        self.drop.clicked.connect(drop)
        for choice in (self.what, self.of, self.law):
            choice.setMinimumContentsLength(8 if choice is self.what else 6)
            choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.what.activated.connect(self._what)
        self.of.activated.connect(self._of)
        self.law.activated.connect(self._law)
        self.mean.committed.connect(self._mean)
        self.spread.committed.connect(self._spread)
        for field in (self.mean, self.spread):
            field.refused.connect(said)

    @property
    def widgets(self) -> tuple[QWidget, ...]:
        """From left to right."""
        return (self.what, self.of, self.law, self.mean, self.spread, self.drop)

    def show_input(self, one: Scatter, project: Project) -> None:
        """Show an input."""
        self._input = one
        self.what.show_value(one.what.value)
        offered = _offered(project, one)
        self.of.offer(offered)
        self.of.show_value(",".join(one.of))
        self.of.setEnabled(len(offered) > 1)
        self.law.show_value(one.law.value)
        self.mean.show_typed(one.mean, project.units)
        self.spread.show_typed(one.spread, project.units)
        name = f"{one.what.value} of {names_of(project, one.of) or _ALL}"
        self.drop.setAccessibleName(f"Take out: {name}")
        self.drop.setToolTip(f"Take out: {name} (Ctrl+Z brings it back)")
        for widget, head in zip(self.widgets, _HEADS, strict=False):
            widget.setAccessibleName(f"{name}: {head}")

    def _what(self) -> None:
        if self._input is not None:
            self._put(replace(self._input, what=Scattered(self.what.value), of=()), "what scatters")

    def _of(self) -> None:
        if self._input is not None:
            of = tuple(self.of.value.split(",")) if self.of.value else ()
            self._put(replace(self._input, of=of), f"of what the {self._input.what.value} scatters")

    def _law(self) -> None:
        if self._input is not None:
            self._put(replace(self._input, law=Law(self.law.value)), f"law of {self._input.what.value}")

    def _mean(self, value: float) -> None:
        if self._input is not None:
            self._put(replace(self._input, mean=value), f"middle of {self._input.what.value}")

    def _spread(self, value: float) -> None:
        if self._input is not None:
            self._put(replace(self._input, spread=value), f"spread of {self._input.what.value}")


class InputsForm(QWidget):
    """Default, inputs, samples, seed."""

    def __init__(
        self,
        session: Session,
        usual: Callable[[], Mapping[str, tuple[Scatter, ...]]],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._usual = usual
        self.rows: list[InputRow] = []
        self.usual = Choice("Default", "A named set of what scatters and how far; each can then be changed")
        self.usual.activated.connect(self._chosen)
        self.samples = TypedField(Kind.COUNT, "Samples", "More of them narrow the intervals", 84)
        self.samples.committed.connect(self._edit_samples)
        self.seed = TypedField(Kind.COUNT, "Seed", "The same seed gives the same answer", 62)
        self.seed.committed.connect(self._edit_seed)
        self.samples.refused.connect(session.said)
        self.seed.refused.connect(session.said)
        self.add = QPushButton("&Add an input")
        self.add.setToolTip("One more thing that scatters")
        self.add.clicked.connect(self._add)
        self.says = QLabel(_PRACTICE)
        self.says.setAccessibleName("Where the defaults come from")
        self.says.setWordWrap(True)
        self.says.setProperty("faint", True)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(4)
        self._grid.setVerticalSpacing(3)
        for column, head in enumerate(_HEADS):
            label = QLabel(head)
            label.setProperty("faint", True)
            self._grid.addWidget(label, 0, column)
        for column, part in enumerate((4, 5, 3)):
            self._grid.setColumnStretch(column, part)
        box, column = group("What scatters")
        form = QFormLayout()
        form.setContentsMargins(0, 0, 0, 0)
        form.addRow("Default", self.usual)
        column.addLayout(form)
        column.addLayout(self._grid)
        column.addLayout(line(self.add, None, "samples", self.samples, "seed", self.seed))
        column.addWidget(self.says)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(box)

    @property
    def inputs(self) -> tuple[Scatter, ...]:
        """What scatters now: the project's own, else of the default it names."""
        plan = self._session.project.wishes.scatter
        return plan.inputs or self._usual().get(plan.usual, ())

    def refresh(self) -> None:
        """Show the project's plan; what is being typed stays."""
        project = self._session.project
        plan = project.wishes.scatter
        own = [(_OWN_WORDS, OWN)] if plan.inputs else []
        names = list(self._usual())
        unknown = [] if plan.usual in names else [(f"{plan.usual} (not known)", plan.usual)]
        self.usual.offer([*own, *((name, name) for name in names), *unknown])
        self.usual.show_value(OWN if plan.inputs else plan.usual)
        inputs = self.inputs
        while len(self.rows) > len(inputs):
            self._drop_row()
        while len(self.rows) < len(inputs):
            self._add_row()
        for row, one in zip(self.rows, inputs, strict=True):
            row.show_input(one, project)
        self.samples.show_typed(plan.samples, project.units)
        self.seed.show_typed(plan.seed, project.units)

    def _add_row(self) -> None:
        number = len(self.rows)
        row = InputRow(partial(self._put, number), partial(self._drop, number), self._session.said.emit)
        self.rows.append(row)
        for column, widget in enumerate(row.widgets):
            self._grid.addWidget(widget, number + 1, column)

    def _drop_row(self) -> None:
        for widget in self.rows.pop().widgets:
            self._grid.removeWidget(widget)
            widget.hide()
            widget.deleteLater()

    def _put(self, number: int, one: Scatter, what: str) -> None:
        inputs = self.inputs
        self._session.edit(f"Change {what}", with_inputs, (*inputs[:number], one, *inputs[number + 1 :]))
        self.refresh()

    def _drop(self, number: int) -> None:
        inputs = self.inputs
        if len(inputs) < 2:
            self._session.said.emit("One thing at least must scatter.")
            return
        label = f"Let {inputs[number].what.value} not scatter"
        self._session.edit(label, with_inputs, (*inputs[:number], *inputs[number + 1 :]))

    def _add(self) -> None:
        inputs = self.inputs
        held = {one.what for one in inputs}
        what = next((one for one in Scattered if one not in held), Scattered.THICKNESS)
        self._session.edit(f"Let {what.value} scatter", with_inputs, (*inputs, Scatter(id="", what=what)))

    def _chosen(self) -> None:
        if self.usual.value != OWN:
            self._session.edit(f"Take {self.usual.value}", with_usual_scatter, self.usual.value)
            self.refresh()

    def _edit_samples(self, samples: float) -> None:
        self._session.edit("Change number of samples", with_samples, round(samples))
        self.refresh()

    def _edit_seed(self, seed: float) -> None:
        self._session.edit("Change seed of samples", with_scatter_seed, round(seed))
        self.refresh()


def _offered(project: Project, one: Scatter) -> list[tuple[str, str]]:
    """Return what an input may be of: all, each, and what it is of now."""
    if one.what is Scattered.SPEED:
        held = ()
    elif one.what is Scattered.BEAD:
        held = tuple((each.name, each.id) for each in project.sections if each.bead > 0)
    else:
        held = tuple((each.name, each.id) for each in project.laminates)
    now = ",".join(one.of)
    offered = [("the boat" if one.what is Scattered.SPEED else _ALL, ""), *held]
    if now not in [value for _, value in offered]:
        offered.append((names_of(project, one.of), now))
    return offered
