"""The group on flotation: what must be known of the boat, and how much foam the form asks for."""

from math import isfinite
from typing import Any

from PySide6.QtWidgets import QGroupBox, QLabel, QVBoxLayout, QWidget

from stringerlab.assess.cavities import flotation_reading
from stringerlab.desktop.models.subject_field import Choice, Field
from stringerlab.desktop.plan.panes.forms import FieldForm
from stringerlab.desktop.plan.panes.thing_fields import quantity, yes_or_no
from stringerlab.desktop.plan.panes.things import layout_shown
from stringerlab.desktop.session import Session
from stringerlab.layout.flotation import EDITION, Flotation
from stringerlab.layout.plan import Drive
from stringerlab.project import planning
from stringerlab.units import Kind, System, in_unit, unit_named

_NOT_KNOWN = "not known"
FIELDS: tuple[Field, ...] = (
    quantity("length", "length overall", "Of the boat", optional=True),
    Field(
        key="drive",
        title="drive",
        meaning="It decides which load a swamped boat must keep afloat",
        width=120,
        choices=lambda _: [
            Choice(value=None, words=_NOT_KNOWN),
            *(Choice(value=drive, words=drive.value) for drive in Drive),
        ],
    ),
    quantity("hull", "hull", "Of all that is under water when she is swamped", Kind.MASS, optional=True),
    quantity("hull_density", "hull's density", "Of that", Kind.DENSITY),
    quantity("deck", "deck", "Of what is above water then", Kind.MASS, optional=True),
    quantity("machinery", "machinery", "Engines, drives, batteries, tanks full", Kind.MASS, optional=True),
    quantity("machinery_part", "part under water", "Of the machinery's weight, left under water", Kind.RATIO),
    quantity("persons", "persons", "The weight of persons marked on the boat", Kind.MASS, optional=True),
    quantity("capacity", "capacity", "The greatest of persons and gear marked", Kind.MASS, optional=True),
    yes_or_no("monohull", "one hull", "Whether she has one hull"),
    Field(
        key="exempt",
        title="left out as",
        meaning="What she is that the regulation leaves out, as a sailboat; empty otherwise",
        width=120,
    ),
)


class FlotationGroup(QGroupBox):
    """Fields, and the answer in words."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(f"Flotation, in the form of {EDITION}", parent)
        self._session = session
        self.answer = QLabel()
        self.answer.setWordWrap(True)
        self.answer.setAccessibleName("Flotation")
        self.form = FieldForm(session, FIELDS, "flotation")
        self.form.put.connect(self._put)
        self.form.refused.connect(session.said)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 4)
        column.addWidget(self.answer)
        column.addWidget(self.form)

    def refresh(self) -> None:
        """Show the committed layout's."""
        session = self._session
        layout = layout_shown(session.project)
        self.form.show_record(layout.flotation if layout else None)
        self.answer.setText(
            flotation_words(flotation_reading(session.project, session.resolved), session.units)
        )

    def _put(self, field: Field, value: Any) -> None:
        layout = layout_shown(self._session.project)
        if layout is not None:
            self._session.edit(
                f"Change {field.title} for flotation",
                planning.with_layout_values,
                layout.id,
                flotation=field.put(layout.flotation, value),
            )


def flotation_words(found: Flotation | None, system: System) -> str:
    """Return the estimate in words: what is asked for, what is there, or why it is not told."""
    if found is None:
        return "No layout is in use."
    there = f"Foam in sealed voids: {_volume(found.present, system)}"
    if found.unsealed > 0:
        there += f"; other foam, not counted: {_volume(found.unsealed, system)}"
    if found.outside:
        return " ".join([*(f"{each.what} {each.remedy}".strip() for each in found.outside), f"{there}."])
    if found.missing:
        names = {field.key: field.title for field in FIELDS}
        missing = ", ".join(names.get(each, each) for each in found.missing)
        return f"It is not reckoned: not known is {missing}. {there}."
    answer = {True: "enough", False: "too little", None: "not told whether enough"}[found.enough]
    return (
        f"Asked for: {_volume(found.needed, system)} (hull and deck {_volume(found.hull, system)}, machinery "
        f"{_volume(found.machinery, system)}, load {_volume(found.load, system)}). {there}: {answer} "
        f"({found.known.value}). It is {', '.join(found.notes)}."
    )


def _volume(value: float, system: System) -> str:
    if not isfinite(value):
        return "—"
    return in_unit(value, unit_named("m³" if system is System.METRIC else "ft³"), digits=3)
