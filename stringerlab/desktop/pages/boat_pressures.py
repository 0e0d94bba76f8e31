"""The boat page's pressures: design pressure along a surface for a design area, its subjects marked."""

from collections.abc import Sequence
from functools import partial

from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from stringerlab.assess.pressures import (
    ALONG,
    Along,
    DesignArea,
    Mode,
    Reach,
    SubjectPressure,
    pressure_along,
    subject_pressures,
)
from stringerlab.desktop.chart import Chart
from stringerlab.desktop.choice import Choice
from stringerlab.desktop.curves import Axis, ChartMark, Curve
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.session import Session
from stringerlab.drawing.display import Role, Shape
from stringerlab.errors import StringerlabError
from stringerlab.laminate import is_sandwich
from stringerlab.layout import Panel, Span, Surface
from stringerlab.project import Resolved
from stringerlab.units import Kind, System, display_unit, format

_SQUARE = "a square panel of"
_HINT = "Point at the chart, or move along it with the arrow keys, to read it."
_FIRST_AREA = 250_000.0
"""The design area first asked about [mm²]."""


class PressurePane(QWidget):
    """The chart, the choice of a design area, and what governs."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._area = _FIRST_AREA
        tip = "Whose design area the curve holds for: the pressure falls as the area grows"
        self.choice = Choice("Design area", tip, self)
        self.choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.setMinimumContentsLength(24)
        self.choice.activated.connect(self.refresh)
        self.area = QuantityField(Kind.AREA, "Area", self)
        self.area.setMaximumWidth(130)
        self.area.committed.connect(self._typed)
        self.area.refused.connect(session.said)
        self.chart = Chart("Bottom design pressure along the boat", self)
        self.chart.read.connect(self._read)
        self.chart.activated.connect(session.take_to)
        self.says = QLabel(self)
        self.says.setAccessibleName("What governs the pressure")
        self.says.setWordWrap(True)
        self.says.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.reading = QLabel(self)
        self.reading.setAccessibleName("Reading of the chart")
        self.reading.setProperty("faint", True)
        self.reading.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        head = QHBoxLayout()
        label = QLabel("Over the design area of", self)
        label.setBuddy(self.choice)
        head.addWidget(label)
        head.addWidget(self.choice, 1)
        head.addWidget(self.area)
        head.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(head)
        column.addWidget(self.chart, 1)
        column.addWidget(self.reading)
        column.addWidget(self.says)
        session.selection_changed.connect(self.chart.select)

    def refresh(self) -> None:
        """Show the session's boat."""
        self._offer()
        units = self._session.units
        chosen = self._subject()
        surface = Surface.BOTTOM if chosen is None else chosen.surface
        project = self._session.shown
        try:
            along = pressure_along(
                project.craft,
                self._design_area(chosen),
                project.method,
                surface=surface,
                height=None if chosen is None else chosen.height,
            )
            subjects = subject_pressures(self._session.resolved, project.method, surfaces=(surface,))
        except StringerlabError as error:
            self.chart.show_words("\n".join(problem.what for problem in error.problems[:4]))
            self.says.setText("")
            self.area.show_value(self._area, units)
            return
        typed = self.choice.currentIndex() == 0
        self.area.setReadOnly(not typed)
        self.area.setToolTip(
            "Area of the panel: 0.25 m², 400 in²" if typed else "As the method takes it for this subject"
        )
        if not self.area.isModified():
            self.area.show_value(along.area, units)
        length, pressure = display_unit(Kind.LENGTH, units), display_unit(Kind.PRESSURE, units)
        self.chart.show_curves(
            Axis(name="x from the transom", unit=length),
            Axis(name=f"{surface.value} pressure", unit=pressure),
            _curves(along),
            [_mark(subject, units) for subject in subjects if subject.mode is not Mode.NOT_GIVEN],
        )
        self.chart.select(self._session.selected)
        self.says.setText(said_of(along, units))

    def _offer(self) -> None:
        """Offer the subjects by name; the one chosen stays chosen."""
        subjects = _subjects(self._session.resolved)
        self.choice.offer(
            [(_SQUARE, ""), *((subject.name or subject.id, subject.id) for subject in subjects)]
        )

    def _subject(self) -> Panel | Span | None:
        chosen = self.choice.value
        return next((each for each in _subjects(self._session.resolved) if each.id == chosen), None)

    def _design_area(self, subject: Panel | Span | None) -> DesignArea:
        if subject is None:
            return DesignArea.square(self._area)
        stack = next(
            (case.stack for case in self._session.resolved.panels if case.panel.id == subject.id), None
        )
        return DesignArea.of(subject, sandwich=stack is not None and is_sandwich(stack))

    def _typed(self, area: float) -> None:
        if area > 0:
            self._area = area
        else:
            self._session.said.emit("A design area is above 0, such as 0.25 m².")
        self.refresh()

    def _read(self, words: str) -> None:
        self.reading.setText(words or (_HINT if self.chart.curves else ""))


def said_of(along: Along, units: System) -> str:
    """Return what governs where, and what must be said of it."""
    parts = [
        f"n_CG = {format(along.n_CG, Kind.ACCELERATION, units, digits=3)}",
        _governs(along.reaches, units),
    ]
    return ". ".join([*parts, *along.remarks, f"Clauses known: {along.known.value}."])


def _governs(reaches: Sequence[Reach], units: System) -> str:
    first = reaches[0].mode.value
    if len(reaches) == 1:
        return f"{first[0].upper()}{first[1:]} governs over the whole length"
    words = [
        f"{reach.mode.value} to x = {format(reach.fore, Kind.LENGTH, units, digits=3)}"
        for reach in reaches[:-1]
    ]
    return f"From aft governs {', then '.join(words)}, then {reaches[-1].mode.value}"


def _curves(along: Along) -> list[Curve]:
    curve = partial(Curve, x=along.x)
    return [
        curve(name="design pressure", y=along.P, role=Role.CURVE, width=6),
        curve(name="planing", y=along.planing, role=Role.TEXT, width=1.4),
        curve(name="displacement", y=along.displacement, role=Role.TEXT, width=1.4, dash=(6, 4)),
        curve(name="minimum", y=along.minimum, role=Role.TEXT, width=1.4, dash=(1.5, 3)),
    ]


def _mark(subject: SubjectPressure, units: System) -> ChartMark:
    area = format(subject.area, Kind.AREA, units, digits=3)
    pressure = format(subject.P, Kind.PRESSURE, units, digits=3)
    place = format(subject.x, Kind.LENGTH, units)
    return ChartMark(
        x=subject.x,
        y=subject.P,
        shape=Shape.TRIANGLE if subject.of_span else Shape.SQUARE,
        role=Role.TENSION if subject.of_span else Role.BONDED,
        words=f"{subject.name}: {pressure} over its own {area} at x = {place}, by {subject.mode.value}",
        subject=subject.id,
    )


def _subjects(resolved: Resolved) -> tuple[Panel | Span, ...]:
    """Return what a curve along the boat is offered for: not what holds a head of water wherever it is."""
    return tuple(each for each in resolved.subjects if each.surface in ALONG)
