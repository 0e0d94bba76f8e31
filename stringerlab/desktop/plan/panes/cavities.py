"""The pane of cavities: what each holds and how it drains; the selected one's fields under them."""

from math import isfinite

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QLabel, QScrollArea, QVBoxLayout, QWidget

from stringerlab.assess.cavities import cavity_readings
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.plan.panes.flotation import FlotationGroup
from stringerlab.desktop.plan.panes.forms import FieldForm
from stringerlab.desktop.plan.panes.readings import Column, ReadingsModel
from stringerlab.desktop.plan.panes.tables import PaneTable
from stringerlab.desktop.plan.panes.thing_fields import CAVITY
from stringerlab.desktop.plan.panes.things import changed, layout_shown
from stringerlab.desktop.session import Session
from stringerlab.layout.cavities import Cavities, CavityReading
from stringerlab.project import planning
from stringerlab.units import Kind, System, in_unit, unit_named
from stringerlab.units import format as shown


def _shown(value: float, kind: Kind, system: System) -> str:
    return shown(value, kind, system, digits=3) if isfinite(value) else "—"


def _volume(value: float, system: System) -> str:
    if not isfinite(value):
        return "—"
    return in_unit(value, unit_named("m³" if system is System.METRIC else "ft³"), digits=3)


def drain_words(reading: CavityReading) -> str:
    """Return in a few words where water in a cavity goes."""
    if reading.sealed:
        return "sealed"
    stuck = [drain for drain in reading.drains if not drain.reaches]
    if stuck:
        return f"no way out of {stuck[0].path[0]}"
    deepest = max(reading.drains, key=lambda drain: drain.stands or 0.0, default=None)
    if deepest is None:
        return "—"
    if not deepest.dry:
        return f"{deepest.stands:.0f} mm stay"
    return f"to {deepest.path[-1]}" if len(deepest.path) > 1 else "is a bilge"


COLUMNS: tuple[Column[CavityReading], ...] = (
    Column(title="name", meaning="What it is called", width=120, right=False, text=lambda one, _: one.name),
    Column(title="use", meaning="What it is for", width=92, right=False, text=lambda one, _: one.use.value),
    Column(title="alike", meaning="How many the boat has", width=56, text=lambda one, _: str(one.count)),
    Column(
        title="depth",
        meaning="At its deepest",
        width=78,
        text=lambda one, system: _shown(one.depth, Kind.LENGTH, system),
    ),
    Column(
        title="volume",
        meaning="Of one, over the clear bottom between web roots",
        width=84,
        text=lambda one, system: _volume(one.volume, system),
    ),
    Column(
        title="drains",
        meaning="Where its water goes through the limber holes",
        width=150,
        right=False,
        text=lambda one, _: drain_words(one),
    ),
    Column(
        title="foam",
        meaning="Mass of the foam in one, dry",
        width=78,
        text=lambda one, system: _shown(one.foam_mass, Kind.MASS, system) if one.foam_volume else "—",
    ),
    Column(
        title="wet",
        meaning="Water allowed for in the foam of one",
        width=78,
        text=lambda one, system: _shown(one.wet_mass, Kind.MASS, system) if one.foam_volume else "—",
    ),
    Column(
        title="bears",
        meaning="What the foam of one bears in fresh water, less its mass and the water in it",
        width=78,
        text=lambda one, system: _shown(one.buoyancy, Kind.MASS, system) if one.foam_volume else "—",
    ),
    Column(
        title="insulation",
        meaning="Heat through all its walls for a kelvin: with new foam, and old",
        width=104,
        text=lambda one, _: "{:.1f}–{:.1f} W/K".format(*one.insulation.loss) if one.insulation else "—",
    ),
    Column(
        title="access",
        meaning="How a tank comes out and is looked at",
        width=200,
        right=False,
        text=lambda one, _: one.access or "—",
    ),
)


class CavitiesPane(QWidget):
    """Every cavity read, the sums of the boat, and the fields of the one selected."""

    title = "Cavities"
    under = False
    """Whether it stands below the plan rather than beside it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._found = Cavities(readings=())
        self.model = ReadingsModel[CavityReading](COLUMNS, lambda one: one.id, tip=_tip)
        self.sums = QLabel()
        self.sums.setWordWrap(True)
        self.sums.setAccessibleName("Sums of the cavities")
        self.strip = ProblemStrip("Problems of the cavities")
        self.form = FieldForm(session, CAVITY, "cavity")
        self.form.put.connect(self._put)
        self.form.refused.connect(session.said)
        self.table = PaneTable(session, "Cavities", self.model, lambda row: self.model.rows[row].id, rows=5)
        self.table.add_deed(
            "Delete", "Del", "Delete the selected cavities; undo brings them back", self.delete
        )
        self.table.chosen.connect(self._show_chosen)
        self.flotation = FlotationGroup(session)
        hint = QLabel("A cavity is put into bays on the plan with the tool Cavity.")
        hint.setProperty("faint", True)
        hint.setWordWrap(True)
        below = QWidget()
        fields = QVBoxLayout(below)
        fields.setContentsMargins(0, 0, 4, 0)
        for widget in (self.sums, self.strip, self.form, hint, self.flotation):
            fields.addWidget(widget)
        fields.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(below)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 8)
        column.addWidget(self.table, 2)
        column.addWidget(scroll, 3)
        session.shown_changed.connect(self.refresh)

    def refresh(self) -> None:
        """Show what the cavities of the committed project hold, where this is seen."""
        session = self._session
        if session.shown is not session.project or not self.isVisible():
            return
        self._found = found = cavity_readings(session.project, session.resolved)
        self.model.show_all(found.readings, session.units)
        self.sums.setText("\n".join(self._said(found)))
        self._show_chosen(self.table.table.currentIndex().row())
        self.flotation.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        """Read the cavities as they are now."""
        super().showEvent(event)
        self.refresh()
        self.table.follow(self._session.selected)

    def delete(self) -> None:
        """Delete the selected cavities."""
        if ids := self.table.ids:
            names = [one.name for one in self.model.rows if one.id in ids]
            label = names[0] if len(ids) == 1 else f"{len(ids)} cavities"
            self._session.edit(f"Delete {label}", planning.without_parts, ids)

    # -- inside ----------------------------------------------------------------------------------

    def _said(self, found: Cavities) -> list[str]:
        units = self._session.units
        if not found.readings:
            return ["No cavity yet."]
        lines: list[str] = []
        if any(one.foam_volume > 0 for one in found.readings):
            lines.append(
                f"Foam in the boat {_shown(found.foam_mass, Kind.MASS, units)}, "
                f"water allowed in it {_shown(found.wet_mass, Kind.MASS, units)}, "
                f"it bears {_shown(found.buoyancy, Kind.MASS, units)}."
            )
        return lines

    def _cavity(self, row: int) -> object:
        layout = layout_shown(self._session.project)
        if layout is None or not 0 <= row < len(self.model.rows):
            return None
        wanted = self.model.rows[row].id
        return next((cavity for cavity in layout.cavities if cavity.id == wanted), None)

    def _show_chosen(self, row: int) -> None:
        """Show the fields of a row, and what is wrong with it and with no single one."""
        self.form.show_record(self._cavity(row))
        mine = self.model.rows[row].problems if 0 <= row < len(self.model.rows) else ()
        wrong = dict.fromkeys(str(placed.problem) for placed in (*self._found.problems, *mine))
        self.strip.show_problems([(words, "") for words in wrong])

    def _put(self, field: object, value: object) -> None:
        cavity = self._cavity(self.table.table.currentIndex().row())
        if cavity is not None:
            changed(self._session, cavity, field, value)  # pyright: ignore


def _tip(one: CavityReading, system: System) -> str:
    del system
    said = [f"{one.name}, {one.use}", *one.notes]
    said += [
        f"{' → '.join(drain.path)} by {', '.join(drain.through)}" for drain in one.drains if drain.through
    ]
    return "\n".join(said)
