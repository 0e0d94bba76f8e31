"""What to lower: what runs across and up, weights of a mix, the seed and how many designs are judged."""

from collections.abc import Sequence
from functools import partial

from PySide6.QtWidgets import QFormLayout, QLabel, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.session import Session
from stringerlab.desktop.sizing.fields import TypedField, group, line, say_wrong, wrong_label
from stringerlab.desktop.sizing.said import AIM_WORDS
from stringerlab.project.wish_edits import with_aims, with_plan, with_weights
from stringerlab.project.wishes import Aim
from stringerlab.units import Kind

_PLACES = ("First", "Then", "And")
_TIPS = (
    "What is lowered first: it runs across the plot",
    "What is lowered beside it: it runs up the plot",
    "A third thing to lower; designs that are best in it too are kept",
)


class Lowering(QWidget):
    """The group."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        box, column = group("3  What to lower")
        self.aims = [Choice(name, tip) for name, tip in zip(_PLACES, _TIPS, strict=True)]
        form = QFormLayout()
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(4)
        form.setHorizontalSpacing(8)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        for name, choice in zip(_PLACES, self.aims, strict=True):
            choice.activated.connect(self._aimed)
            form.addRow(name, choice)
        self.weights = {
            "mass": TypedField(Kind.RATIO, "Weight of a kilogram", "What a kilogram counts in the mix", 52),
            "cost": TypedField(Kind.RATIO, "Weight of money", "What a unit of money counts in the mix", 52),
            "labour": TypedField(Kind.RATIO, "Weight of an hour", "What an hour counts in the mix", 52),
        }
        for name, field in self.weights.items():
            field.committed.connect(partial(self._weighed, name))
            field.refused.connect(session.said)
        self.money = QLabel()
        self.money.setProperty("faint", True)
        self.mix = QWidget()
        row = line("kg", self.weights["mass"], self.money, self.weights["cost"], "h", self.weights["labour"])
        row.addStretch(1)
        self.mix.setLayout(row)
        self._form = form
        form.addRow("Mix of", self.mix)
        self.seed = TypedField(Kind.COUNT, "Seed", "The same seed gives the same answer", 62)
        self.budget = TypedField(
            Kind.COUNT,
            "Designs at most",
            "How many designs are judged at the most; what is dear to make, as a plan, counts as several",
            92,
        )
        self.seed.committed.connect(self._seeded)
        self.budget.committed.connect(self._budgeted)
        self.seed.refused.connect(session.said)
        self.budget.refused.connect(session.said)
        form.addRow("Judge", line("at most", self.budget, "designs; seed", self.seed, None))
        column.addLayout(form)
        self.wrong = wrong_label()
        self.wrong.setAccessibleName("Wrong with what to lower")
        column.addWidget(self.wrong)
        whole = QFormLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addRow(box)

    def refresh(self) -> None:
        """Show what the plan says."""
        project, system = self._session.project, self._session.units
        plan = project.wishes.sizing
        for place, choice in enumerate(self.aims):
            rows = [(AIM_WORDS[aim], aim.value) for aim in Aim]
            choice.offer(rows if place == 0 else [("nothing else", ""), *rows])
            choice.show_value(plan.aims[place].value if place < len(plan.aims) else "")
        self._form.setRowVisible(self.mix, Aim.MIX in plan.aims)
        self.money.setText(project.rates.currency or "money")
        for name, field in self.weights.items():
            field.show_typed(getattr(plan.weights, name), system)
        self.seed.show_typed(plan.seed, system)
        self.budget.show_typed(plan.budget, system)

    def say(self, problems: Sequence[str]) -> None:
        """Say what is wrong with what is to be lowered."""
        say_wrong(self.wrong, problems)

    def _aimed(self) -> None:
        aims = tuple(Aim(choice.value) for choice in self.aims if choice.value)
        rest = self._session.project.wishes.sizing.aims[len(self.aims) :]
        self._session.edit("Change what to lower", with_aims, (*aims, *rest))
        self.refresh()

    def _weighed(self, name: str, value: float) -> None:
        self._session.edit("Change weights of the mix", with_weights, **{name: value})
        self.refresh()

    def _seeded(self, value: float) -> None:
        self._session.edit("Change seed", with_plan, seed=round(value))
        self.refresh()

    def _budgeted(self, value: float) -> None:
        self._session.edit("Change how many designs are judged", with_plan, budget=round(value))
        self.refresh()


__all__ = ["Lowering"]
