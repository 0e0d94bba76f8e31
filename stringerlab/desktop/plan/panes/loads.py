"""The pane of loads: equipment in a table, what its kind asks for under it, and combinations."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QScrollArea, QSplitter, QVBoxLayout, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.plan.panes.combining import WITHOUT, combination_fields
from stringerlab.desktop.plan.panes.equipment import EquipmentForms
from stringerlab.desktop.plan.panes.tables import PaneTable
from stringerlab.desktop.plan.panes.thing_fields import EQUIPMENT
from stringerlab.desktop.plan.panes.things import ThingsModel, layout_shown
from stringerlab.desktop.session import Session
from stringerlab.layout.plan import Combination, Equipment, EquipmentKind, Hand, Part, Source
from stringerlab.project import planning


class LoadsPane(QWidget):
    """What stands on the grid and pushes at it, and which of it acts together."""

    title = "Loads"
    under = False
    """Whether it stands below the plan rather than beside it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.equipment = ThingsModel(session, "equipment", EQUIPMENT, lambda layout: layout.equipment)
        self.table = PaneTable(session, "Equipment", self.equipment, self._id, rows=4)
        self.adding = self.table.add_key(
            "Add", "Ins", "Add equipment of the kind chosen, amidships", self.add
        )
        self.table.add_deed("Duplicate", "Ctrl+D", "Add a copy of each, a little forward", self.duplicate)
        self.table.add_deed(
            "Delete", "Del", "Delete the selected equipment; undo brings it back", self.delete
        )
        self.kind = Choice("Kind of equipment to add", "What Add puts on the plan")
        self.kind.offer([(kind.value, kind.value) for kind in EquipmentKind])
        self.forms = EquipmentForms(session)
        self.forms.refused.connect(self.table.refuse)
        self.combinations = ThingsModel(
            session,
            "combination",
            combination_fields(lambda: layout_shown(session.project)),
            lambda layout: layout.combinations,
        )
        self.combined = PaneTable(
            session, "Combinations", self.combinations, lambda row: self.combinations.records[row].id, rows=3
        )
        self.combined.add_deed("Add", "Ins", "Add a combination: slam, to begin with", self.add_combination)
        self.combined.add_deed("Delete", "Del", "Delete the selected combinations", self.delete_combinations)
        self.usual = QLabel(WITHOUT)
        self.usual.setWordWrap(True)
        self.usual.setProperty("faint", True)
        self._lay_out()
        self.table.chosen.connect(self._show)
        session.project_changed.connect(self._refresh)
        self._refresh()

    def _lay_out(self) -> None:
        kinds = QHBoxLayout()
        label = QLabel("New")
        label.setBuddy(self.kind)
        kinds.addWidget(label)
        kinds.addWidget(self.kind, 1)
        kinds.addWidget(self.table.button_of(self.adding))
        upper = QWidget()
        above = QVBoxLayout(upper)
        above.setContentsMargins(0, 0, 4, 0)
        above.addLayout(kinds)
        above.addWidget(self.table, 1)
        above.addWidget(self.forms)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(upper)
        scroll.setMinimumWidth(upper.minimumSizeHint().width() + _BAR)
        lower = QWidget()
        below = QVBoxLayout(lower)
        below.setContentsMargins(0, 6, 0, 0)
        below.addWidget(self.combined, 1)
        below.addWidget(self.usual)
        halves = QSplitter(Qt.Orientation.Vertical)
        halves.addWidget(scroll)
        halves.addWidget(lower)
        halves.setStretchFactor(0, 2)
        halves.setStretchFactor(1, 1)
        halves.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 8)
        column.addWidget(halves)

    # -- deeds -----------------------------------------------------------------------------------

    def add(self) -> None:
        """Add equipment of the kind chosen, in the middle of the bottom."""
        layout = layout_shown(self._session.project)
        if layout is None:
            self.table.refuse("There is no layout yet. Begin one over the plan.")
            return
        kind = EquipmentKind(self.kind.value)
        places = [station.x for station in self._session.project.craft.stations] or [0.0]
        x = min(places) if kind is EquipmentKind.OUTBOARD else round((min(places) + max(places)) / 2, -1)
        fresh = Equipment(id="", name="", kind=kind, hand=Hand.CENTRELINE, at=(x, 0.0))
        if self._session.edit(f"Add {kind}", planning.with_part, layout.id, fresh):
            last = len(self.equipment.records) - 1
            self.table.table.setFocus(Qt.FocusReason.OtherFocusReason)
            self.table.table.setCurrentIndex(self.equipment.index(last, 0))

    def duplicate(self) -> None:
        """Add a copy of each selected equipment 300 mm forward of it."""
        if ids := self.table.ids:
            self._session.edit("Duplicate equipment", planning.copied, ids, _FORWARD, 0.0)

    def delete(self) -> None:
        """Delete the selected equipment."""
        if ids := self.table.ids:
            names = [one.name for one in self.equipment.records if one.id in ids]
            what = names[0] if len(names) == 1 else f"{len(names)} pieces of equipment"
            self._session.edit(f"Delete {what}", planning.without_parts, ids)

    def add_combination(self) -> None:
        """Add a combination of slam alone, to be written on."""
        layout = layout_shown(self._session.project)
        if layout is not None:
            fresh = Combination(id="", name="", parts=(Part(of=Source.SLAM),))
            self._session.edit("Add combination", planning.with_part, layout.id, fresh)

    def delete_combinations(self) -> None:
        """Delete the selected combinations."""
        if ids := self.combined.ids:
            self._session.edit("Delete combinations", planning.without_parts, ids)

    # -- inside ----------------------------------------------------------------------------------

    def _id(self, row: int) -> str:
        return self.equipment.records[row].id

    def _refresh(self) -> None:
        self._show(self.table.table.currentIndex().row())
        self.usual.setVisible(not self.combinations.records)

    def _show(self, row: int) -> None:
        held = self.equipment.records
        thing = held[row] if 0 <= row < len(held) else None
        self.forms.show_thing(thing if isinstance(thing, Equipment) else None)


_BAR = 14
"""Room for a scroll bar."""
_FORWARD = 300.0
"""How far forward a copy is put [mm]."""
