"""What must hold: a card for each demand, and a menu of more."""

from dataclasses import replace
from functools import partial

from PySide6.QtWidgets import QVBoxLayout, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.session import Session
from stringerlab.desktop.sizing.fields import Card, TypedField, group, line, menu_button, words
from stringerlab.desktop.sizing.of_what import OfWhat
from stringerlab.methods import Aspect
from stringerlab.project.wish_edits import with_demand, with_demand_values, without_demand
from stringerlab.project.wish_words import demand_words
from stringerlab.project.wishes import Demand, Holds
from stringerlab.units import Kind, System

_NONE = "None set: then every rule check holds at a utilisation of 1."
_KINDS = {Holds.USE: Kind.RATIO, Holds.DEFLECTION: Kind.RATIO, Holds.HEIGHT: Kind.LENGTH}
_TITLES = {
    Holds.USE: "Utilisation",
    Holds.DEFLECTION: "Deflection of spans",
    Holds.HEIGHT: "Height under the sole",
}
_MEANINGS = {
    Holds.USE: "Highest utilisation of rule findings; 1 is the whole of what is allowed",
    Holds.DEFLECTION: "Of a span as a single beam under the method's pressure, in parts of its length",
    Holds.HEIGHT: "Of sections above the shell: what is free under the sole",
}
_FIRST = {
    Holds.USE: Demand(id="", holds=Holds.USE, limit=0.9),
    Holds.DEFLECTION: Demand(id="", holds=Holds.DEFLECTION, limit=1 / 200),
    Holds.HEIGHT: Demand(id="", holds=Holds.HEIGHT, limit=200.0),
}
_EIGHT_INCHES = 203.2
"""The first limit of a height where inches are shown [mm]."""
_RULES = tuple(Aspect)[: tuple(Aspect).index(Aspect.CROWN_SLENDERNESS) + 1]
"""Aspects that rules judge."""


class DemandCard(Card):
    """One demand: of what, its limit."""

    def __init__(self, session: Session, id: str, holds: Holds) -> None:  # noqa: A002
        super().__init__(partial(_drop, session, id))
        self._session, self._id, self._holds = session, id, holds
        self.limit = TypedField(_KINDS[holds], "Limit", _MEANINGS[holds], 84)
        self.limit.committed.connect(self._typed)
        self.limit.refused.connect(session.said)
        self.aspect = Choice("Which check", "Every rule check, or those of one aspect", self)
        self.aspect.activated.connect(self._aspect)
        self.aspect.setMinimumContentsLength(14)
        self.of = OfWhat(session, holds, self)
        self.of.wanted.connect(self._of)
        if holds is Holds.USE:
            policy = self.aspect.sizePolicy()
            self.aspect.setSizePolicy(policy.Policy.Expanding, policy.Policy.Fixed)
            self.add(line(self.aspect, "at most", self.limit))
        else:
            self.aspect.hide()
            part = holds is Holds.DEFLECTION
            before, after = ("at most 1 /", "of a span's length") if part else ("at most", "above the shell")
            self.add(line(before, self.limit, after, None))
        self.add(self.of)
        self.done()

    def show_demand(self, demand: Demand) -> None:
        """Show what the plan says."""
        session = self._session
        name = _TITLES[self._holds]
        self.call(name)
        self.setAccessibleName(demand_words(session.project, demand, session.units))
        self.limit.setAccessibleName(f"{name}, limit")
        shown = 1.0 / demand.limit if self._holds is Holds.DEFLECTION else demand.limit
        self.limit.show_typed(float(f"{shown:.12g}"), session.units)
        if self._holds is Holds.USE:
            self.aspect.offer([("every rule check", ""), *((one.value, one.value) for one in _RULES)])
            self.aspect.show_value(demand.aspect)
        self.of.show_of(name, demand.of)

    def _edit(self, **values: object) -> None:
        label = f"Change limit of {_TITLES[self._holds].lower()}"
        if not self._session.edit(label, with_demand_values, self._id, **values):
            for demand in self._session.project.wishes.sizing.demands:
                if demand.id == self._id:
                    self.show_demand(demand)

    def _typed(self, value: float) -> None:
        if value <= 0:
            self.limit.refuse("A limit is above 0.")
            return
        limit = self.limit.typed(value)
        self._edit(limit=1.0 / limit if self._holds is Holds.DEFLECTION else limit)

    def _aspect(self) -> None:
        self._edit(aspect=self.aspect.value)

    def _of(self, of: tuple[str, ...]) -> None:
        label = f"Change what the limit of {_TITLES[self._holds].lower()} is of"
        self._session.edit(label, with_demand_values, self._id, of=of)


class Holding(QWidget):
    """The group."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.cards: dict[str, DemandCard] = {}
        box, column = group("2  What must hold")
        self.none = words(_NONE)
        self.none.setWordWrap(True)
        self._cards = QVBoxLayout()
        self._cards.setSpacing(4)
        self.add_button, menu = menu_button("Demand…", "Something more that must hold")
        self.actions_by: dict[Holds, object] = {}
        for holds, title in _TITLES.items():
            action = menu.addAction(title)
            action.setToolTip(_MEANINGS[holds])
            action.triggered.connect(partial(self._add, holds))
            self.actions_by[holds] = action
        self.menu = menu
        column.addWidget(self.none)
        column.addLayout(self._cards)
        column.addLayout(line(self.add_button, None))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(box)

    def refresh(self) -> None:
        """Show the plan's demands: cards that stay keep what is typed in them."""
        demands = self._session.project.wishes.sizing.demands
        ids = {demand.id for demand in demands}
        for gone in [one for one in self.cards if one not in ids]:
            card = self.cards.pop(gone)
            self._cards.removeWidget(card)
            card.hide()
            card.deleteLater()
        for place, demand in enumerate(demands):
            if demand.id not in self.cards:
                self.cards[demand.id] = DemandCard(self._session, demand.id, demand.holds)
                self._cards.insertWidget(place, self.cards[demand.id])
            self.cards[demand.id].show_demand(demand)
        self.none.setVisible(not demands)

    def say(self, problems: dict[str, list[str]]) -> None:
        """Say what is wrong, by the id of what it is wrong with."""
        for id, card in self.cards.items():  # noqa: A001
            card.say(tuple(problems.get(id, ())))

    def _add(self, holds: Holds) -> None:
        first = _FIRST[holds]
        if holds is Holds.HEIGHT and self._session.units is System.US:
            first = replace(first, limit=_EIGHT_INCHES)
        self._session.edit(f"Demand a limit of {_TITLES[holds].lower()}", with_demand, first)


def _drop(session: Session, id: str) -> None:  # noqa: A002
    demand = next((one for one in session.project.wishes.sizing.demands if one.id == id), None)
    if demand is not None:
        session.edit(f"Give up the limit of {_TITLES[demand.holds].lower()}", without_demand, id)
