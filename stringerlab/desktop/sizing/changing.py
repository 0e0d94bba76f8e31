"""What may change: a card for each number and each laminate, and a menu of what else may."""

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from stringerlab.desktop.session import Session
from stringerlab.desktop.sizing.fields import Card, TypedField, group, line, menu_button, words
from stringerlab.materials import shipped
from stringerlab.project.wish_edits import (
    variables_in,
    with_variable_values,
    with_variables,
    without_variable,
)
from stringerlab.project.wish_offers import offers, usual
from stringerlab.project.wish_words import kind_of, wish_name
from stringerlab.project.wishes import Change, Number, Plies
from stringerlab.units import Kind

_NUMBER, _COUNT = 78, 40
_FABRIC_ROWS = 4
_ID = Qt.ItemDataRole.UserRole


class NumberCard(Card):
    """A number that may change: from, to, by."""

    def __init__(self, session: Session, id: str, change: Change) -> None:  # noqa: A002
        super().__init__(partial(_drop, session, id))
        self._session, self._id = session, id
        kind = kind_of(change)
        self.least = TypedField(kind, "From", "The least it may be", _NUMBER)
        self.most = TypedField(kind, "To", "The most it may be", _NUMBER)
        self.step = TypedField(kind, "By", "Steps between; 0: only the two ends", _NUMBER)
        self.fields = {"least": self.least, "most": self.most, "step": self.step}
        for name, field in self.fields.items():
            field.committed.connect(partial(self._typed, name))
            field.refused.connect(session.said)
        self.add(line("from", self.least, "to", self.most, "by", self.step, None))
        self.done()

    def show_wish(self, wish: Number | Plies) -> None:
        """Show what the plan says."""
        if not isinstance(wish, Number):
            return
        name = wish_name(self._session.project, wish)
        self.call(name)
        for field, widget in self.fields.items():
            widget.setAccessibleName(f"{name}, {field}")
            widget.show_typed(getattr(wish, field), self._session.units)

    def _typed(self, name: str, value: float) -> None:
        label = f"Change range of {self.heading.text()}"
        put = {name: self.fields[name].typed(value)}
        if not self._session.edit(label, with_variable_values, self._id, **put):
            _again(self._session, self._id, self)


class PliesCard(Card):
    """A laminate whose plies may change: fabrics, how many plies, what stays, mat between, least gauge."""

    def __init__(self, session: Session, id: str) -> None:  # noqa: A002
        super().__init__(partial(_drop, session, id))
        self._session, self._id = session, id
        self.fabrics = QListWidget()
        self.fabrics.setToolTip("Fabrics that may be laid here; space or a click takes one in or out")
        self.fabrics.itemChanged.connect(self._chosen)
        self.counts = {
            "least": TypedField(Kind.COUNT, "Fewest plies", "Fewest plies between those kept", _COUNT),
            "most": TypedField(Kind.COUNT, "Most plies", "Most plies between those kept", _COUNT),
            "kept": TypedField(
                Kind.COUNT, "First plies kept", "Plies from the mould that stay as they are", _COUNT
            ),
            "ended": TypedField(Kind.COUNT, "Last plies kept", "Last plies that stay as they are", _COUNT),
        }
        self.gauge = TypedField(
            Kind.LENGTH, "Least gauge", "Least thickness of the whole, without gel coat", 72, optional=True
        )
        self.gauge.setPlaceholderText("none")
        self.mat = QCheckBox("mat between")
        self.mat.setToolTip("No two fabrics without mat face each other")
        self.mat.clicked.connect(self._matted)
        for name, field in self.counts.items():
            field.committed.connect(partial(self._typed, name))
            field.refused.connect(session.said)
        self.gauge.committed.connect(self._gauged)
        self.gauge.emptied.connect(partial(self._edit, "least gauge", gauge=None))
        self.gauge.refused.connect(session.said)
        counts = self.counts
        self.add(self.fabrics)
        self.add(line(counts["least"], "to", counts["most"], "plies; keep first", counts["kept"], None))
        self.add(line("keep last", counts["ended"], self.mat, None, "gauge ≥", self.gauge))
        self.done()

    def show_wish(self, wish: Number | Plies) -> None:
        """Show what the plan says."""
        if not isinstance(wish, Plies):
            return
        name = wish_name(self._session.project, wish)
        self.call(name)
        self.fabrics.setAccessibleName(f"{name}, fabrics")
        self._offer(wish)
        for field, widget in self.counts.items():
            widget.show_typed(getattr(wish, field), self._session.units)
        self.gauge.show_typed(wish.gauge, self._session.units)
        self.mat.setChecked(wish.mat_between)

    def _offer(self, wish: Plies) -> None:
        """List the fabrics: those of the menu as first listed, then all others; ticks say which are in."""
        own = self._session.project.materials.reinforcements
        names = {one.id: one.name for one in (*shipped().reinforcements, *own)}
        held = [self.fabrics.item(row).data(_ID) for row in range(self.fabrics.count())]
        kept = [one for one in held if one in names or one in wish.menu]
        wanted = list(dict.fromkeys((*kept, *wish.menu, *names)))
        self.fabrics.blockSignals(True)
        if wanted != held:
            self.fabrics.clear()
            for one in wanted:
                item = QListWidgetItem(names.get(one, one))
                item.setData(_ID, one)
                item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
                self.fabrics.addItem(item)
            row = self.fabrics.sizeHintForRow(0)
            self.fabrics.setFixedHeight(row * min(_FABRIC_ROWS, len(wanted)) + 4)
        for row in range(self.fabrics.count()):
            item = self.fabrics.item(row)
            ticked = item.data(_ID) in wish.menu
            item.setCheckState(Qt.CheckState.Checked if ticked else Qt.CheckState.Unchecked)
        self.fabrics.blockSignals(False)

    def _edit(self, what: str, **values: object) -> None:
        label = f"Change {what} of {self.heading.text()}"
        if not self._session.edit(label, with_variable_values, self._id, **values):
            _again(self._session, self._id, self)

    def _typed(self, name: str, value: float) -> None:
        self._edit("number" if name in ("least", "most") else "plies kept", **{name: round(value)})

    def _gauged(self, value: float) -> None:
        self._edit("least gauge", gauge=self.gauge.typed(value))

    def _matted(self) -> None:
        self._edit("mat between", mat_between=self.mat.isChecked())

    def _chosen(self) -> None:
        items = [self.fabrics.item(row) for row in range(self.fabrics.count())]
        menu = tuple(item.data(_ID) for item in items if item.checkState() is Qt.CheckState.Checked)
        self._edit("fabrics", menu=menu)


class Changing(QWidget):
    """The group."""

    usual_wanted = Signal()
    """A person asks for what is usually let change."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.cards: dict[str, NumberCard | PliesCard] = {}
        box, column = group("1  What may change")
        self.none = words("Nothing yet.")
        self.none.setWordWrap(True)
        self._cards = QVBoxLayout()
        self._cards.setSpacing(4)
        self.add_button, self.menu = menu_button(
            "Mark what may change…", "Heights, widths, plies, spacing, transverses of this boat"
        )
        self.menu.aboutToShow.connect(self._fill_menu)
        column.addWidget(self.none)
        column.addLayout(self._cards)
        column.addLayout(line(self.add_button, None))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(box)

    def refresh(self) -> None:
        """Show the plan's variables: cards that stay keep what is typed in them."""
        wished = variables_in(self._session.project.wishes.sizing)
        ids = {wish.id for wish in wished}
        for gone in [one for one in self.cards if one not in ids]:
            card = self.cards.pop(gone)
            self._cards.removeWidget(card)
            card.hide()
            card.deleteLater()
        for place, wish in enumerate(wished):
            card = self.cards.get(wish.id)
            if card is None or (isinstance(card, PliesCard) != isinstance(wish, Plies)):
                card = self._card(wish)
                self._cards.insertWidget(place, card)
            card.show_wish(wish)
        self.none.setVisible(not wished)

    def say(self, problems: dict[str, list[str]]) -> None:
        """Say what is wrong, by the id of what it is wrong with."""
        for id, card in self.cards.items():  # noqa: A001
            card.say(tuple(problems.get(id, ())))

    def _card(self, wish: Number | Plies) -> NumberCard | PliesCard:
        if isinstance(wish, Plies):
            card = PliesCard(self._session, wish.id)
        else:
            card = NumberCard(self._session, wish.id, wish.change)
        self.cards[wish.id] = card
        return card

    def _fill_menu(self) -> None:
        self.menu.clear()
        found = offers(self._session.project)
        if usual(self._session.project):
            self.menu.addAction("The usual: heights of hats and their plies").triggered.connect(
                self.usual_wanted
            )
            self.menu.addSeparator()
        for name in dict.fromkeys(offer.group for offer in found):
            under = self.menu.addMenu(name)
            for offer in found:
                if offer.group == name:
                    action = under.addAction(offer.words)
                    action.triggered.connect(partial(self._add, offer.wish))
        if not found:
            self.menu.addAction("Everything that may change is marked").setEnabled(False)

    def _add(self, wish: Number | Plies) -> None:
        label = f"Let {wish_name(self._session.project, wish)} change"
        self._session.edit(label, with_variables, wish)


def _drop(session: Session, id: str) -> None:  # noqa: A002
    wish = next((one for one in variables_in(session.project.wishes.sizing) if one.id == id), None)
    if wish is not None:
        session.edit(f"Let {wish_name(session.project, wish)} stay", without_variable, id)


def _again(session: Session, id: str, card: NumberCard | PliesCard) -> None:  # noqa: A002
    """Show again what the plan says: what was typed is refused."""
    for wish in variables_in(session.project.wishes.sizing):
        if wish.id == id:
            card.show_wish(wish)
