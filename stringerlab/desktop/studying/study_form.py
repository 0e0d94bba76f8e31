"""One study as a form: what is swept, from where to where, and what is read off every step."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from PySide6.QtWidgets import QLabel, QPushButton, QToolButton, QVBoxLayout, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.session import Session
from stringerlab.desktop.sizing.fields import TypedField, group, line
from stringerlab.desktop.studying.swept import found_by, key_of, sweeps
from stringerlab.methods import Aspect
from stringerlab.project.wish_edits_studies import with_study_replaced
from stringerlab.project.wish_words import kind_of, wish_name
from stringerlab.project.wishes import Number, Reading, Shown, Study
from stringerlab.units import Kind

_NONE = "nothing"
_ANY = ("of any panel or span", "any aspect")
MOST_READINGS = 4
_NUMBER = 76


class AlongForm(QWidget):
    """One number that is swept: which, from, to, by."""

    def __init__(
        self, session: Session, words: str, put: Callable[[Number | None], None], *, optional: bool
    ) -> None:
        super().__init__()
        self._session = session
        self._put = put
        self._optional = optional
        self._number: Number | None = None
        self.which = Choice(words, "The number that is swept; its range is offered about the present")
        self.which.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.which.setMinimumContentsLength(20)
        self.which.activated.connect(self._chosen)
        self.fields: dict[str, TypedField] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(3)
        self._column.addWidget(self.which)
        self._range: QWidget | None = None
        self._kind: Kind | None = None

    def show_number(self, number: Number | None) -> None:
        """Show the number swept; None for none."""
        self._number = number
        project = self._session.project
        rows = [(words, key) for key, (words, _) in sweeps(project).items()]
        if number is not None and key_of(number) not in {key for _, key in rows}:
            rows.append((wish_name(project, number), key_of(number)))
        if self._optional or number is None:
            rows.insert(0, (_NONE, ""))
        self.which.offer(rows)
        self.which.show_value("" if number is None else key_of(number))
        self._fit(None if number is None else kind_of(number.change))
        if number is not None:
            for name, field in self.fields.items():
                field.show_typed(getattr(number, name), project.units)

    def _fit(self, kind: Kind | None) -> None:
        """Have fields for a kind of quantity, none for None."""
        if kind is self._kind:
            return
        if self._range is not None:
            self._column.removeWidget(self._range)
            self._range.hide()
            self._range.deleteLater()
            self._range = None
        self._kind, self.fields = kind, {}
        if kind is None:
            return
        words = self.which.accessibleName()
        tips = {
            "least": ("from", "Where it begins"),
            "most": ("to", "Where it ends"),
            "step": ("by", "Steps between; 0: only the two ends"),
        }
        parts: list[QWidget | str | None] = []
        for name, (word, tip) in tips.items():
            field = TypedField(kind, f"{words}, {word}", tip, _NUMBER)
            field.committed.connect(partial(self._typed, name))
            field.refused.connect(self._session.said)
            self.fields[name] = field
            parts += [word, field]
        self._range = QWidget()
        self._range.setLayout(line(*parts, None))
        self._column.addWidget(self._range)

    def _typed(self, name: str, value: float) -> None:
        if self._number is not None:
            self._put(replace(self._number, **{name: self.fields[name].typed(value)}))

    def _chosen(self) -> None:
        key = self.which.value
        if not key:
            self._put(None)
        elif self._number is None or key != key_of(self._number):
            self._put(found_by(self._session.project, key))


class ReadingForm(QWidget):
    """One thing that is read off: what, of which panel or span, of which aspect."""

    def __init__(self, session: Session, put: Callable[[Reading], None], drop: Callable[[], None]) -> None:
        super().__init__()
        self._session = session
        self._put = put
        self._reading = Reading()
        self.shown = Choice("What is read", "What is read off every step")
        self.shown.offer([(one.value, one.value) for one in Shown])
        self.aspect = Choice("Aspect read", "The aspect it is of; any: the highest")
        self.drop = QToolButton()
        self.drop.setText("×")
        self.drop.setFixedSize(24, 22)
        self.drop.clicked.connect(drop)
        self.subject = Choice("Read of", "The panel or span it is of; any: the highest of all")
        for choice in (self.shown, self.subject, self.aspect):
            choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            choice.setMinimumContentsLength(5)
            choice.activated.connect(self._chosen)
        row = line()
        row.addWidget(self.shown, 2)
        row.addWidget(self.aspect, 3)
        row.addWidget(self.drop)
        both = QVBoxLayout(self)
        both.setContentsMargins(0, 0, 0, 4)
        both.setSpacing(4)
        both.addLayout(row)
        both.addWidget(self.subject)

    def show_reading(self, reading: Reading, number: int, *, only: bool) -> None:
        """Show a reading, the ``number``-th from 1; ``only``: there is no other."""
        self._reading = reading
        self.shown.show_value(reading.shown.value)
        used = reading.shown is Shown.USE
        subjects = [(one.name, one.id) for one in self._session.resolved.subjects]
        results = self._session.results
        judged = (
            {one.aspect for one in results.findings if reading.subject in ("", one.subject)}
            if results is not None
            else set(Aspect)
        )
        self.subject.offer(_with_now([(_ANY[0], ""), *subjects], reading.subject))
        self.aspect.offer(
            _with_now(
                [(_ANY[1], ""), *((one.value, one.value) for one in Aspect if one in judged)], reading.aspect
            )
        )
        self.subject.show_value(reading.subject)
        self.aspect.show_value(reading.aspect)
        self.subject.setVisible(used)
        self.aspect.setVisible(used)
        name = f"reading {number}"
        self.shown.setAccessibleName(f"What is read, {name}")
        self.subject.setAccessibleName(f"Read of, {name}")
        self.aspect.setAccessibleName(f"Aspect read, {name}")
        self.drop.setAccessibleName(f"Take out {name}")
        self.drop.setToolTip(f"Take out {name} (Ctrl+Z brings it back)")
        self.drop.setEnabled(not only)

    def _chosen(self) -> None:
        shown = Shown(self.shown.value)
        if shown is not Shown.USE:
            self._put(Reading(shown=shown))
        else:
            self._put(Reading(shown=shown, subject=self.subject.value, aspect=self.aspect.value))


class StudyForm(QWidget):
    """What a study asks for."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._study: Study | None = None
        self.along = (
            AlongForm(session, "First number", partial(self._put_along, 0), optional=False),
            AlongForm(session, "Second number", partial(self._put_along, 1), optional=True),
        )
        self.readings: list[ReadingForm] = []
        self.add = QPushButton("&Read more")
        self.add.setToolTip(f"One more reading; {MOST_READINGS} at the most")
        self.add.clicked.connect(self._add)
        swept, column = group("What is swept")
        column.addWidget(QLabel("Along"))
        column.addWidget(self.along[0])
        column.addWidget(QLabel("and along"))
        column.addWidget(self.along[1])
        read, self._rows = group("What is read off")
        self._rows.addLayout(line(self.add, None))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(swept)
        whole.addWidget(read)
        whole.addStretch(1)

    def show_study(self, study: Study | None) -> None:
        """Show a study; none for None."""
        self._study = study
        self.setVisible(study is not None)
        if study is None:
            return
        for place, form in enumerate(self.along):
            form.show_number(study.along[place] if place < len(study.along) else None)
        while len(self.readings) > len(study.readings):
            gone = self.readings.pop()
            self._rows.removeWidget(gone)
            gone.hide()
            gone.deleteLater()
        while len(self.readings) < len(study.readings):
            number = len(self.readings)
            form = ReadingForm(self._session, partial(self._put_reading, number), partial(self._drop, number))
            self._rows.insertWidget(number, form)
            self.readings.append(form)
        only = len(study.readings) < 2
        for number, (form, reading) in enumerate(zip(self.readings, study.readings, strict=True), 1):
            form.show_reading(reading, number, only=only)
        self.add.setEnabled(len(study.readings) < MOST_READINGS)

    def _edit(self, label: str, study: Study) -> None:
        self._session.edit(label, with_study_replaced, study)
        self.show_study(self._now() or self._study)

    def _now(self) -> Study | None:
        study = self._study
        held = self._session.project.wishes.studies
        return next((one for one in held if study is not None and one.id == study.id), None)

    def _put_along(self, place: int, number: Number | None) -> None:
        study = self._study
        if study is None:
            return
        if number is None:
            along = (*study.along[:place], *study.along[place + 1 :])
        else:
            along = (*study.along[:place], number, *study.along[place + 1 :])
        self._edit(f"Change what {study.name} sweeps", replace(study, along=along))

    def _put_reading(self, place: int, reading: Reading) -> None:
        study = self._study
        if study is not None:
            readings = (*study.readings[:place], reading, *study.readings[place + 1 :])
            self._edit(f"Change what {study.name} reads", replace(study, readings=readings))

    def _drop(self, place: int) -> None:
        study = self._study
        if study is not None:
            readings = (*study.readings[:place], *study.readings[place + 1 :])
            self._edit(f"Take a reading out of {study.name}", replace(study, readings=readings))

    def _add(self) -> None:
        study = self._study
        if study is not None:
            held = {one.shown for one in study.readings}
            shown = next((one for one in Shown if one not in held), Shown.USE)
            readings = (*study.readings, Reading(shown=shown))
            self._edit(f"Read more in {study.name}", replace(study, readings=readings))


def _with_now(rows: list[tuple[str, str]], now: str) -> list[tuple[str, str]]:
    return rows if now in {value for _, value in rows} else [*rows, (now, now)]
