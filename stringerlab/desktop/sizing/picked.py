"""The design picked: what it changes of the present boat, what comes of it, and what may be done with it."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFileDialog,
    QGridLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from stringerlab.assess import Results, check
from stringerlab.desktop.jobs import Job
from stringerlab.desktop.session import Session
from stringerlab.desktop.sizing.designs import design_name
from stringerlab.desktop.sizing.fields import bold
from stringerlab.desktop.sizing.said import NEAREST, Look, boat_words, differences, holds, is_nearest
from stringerlab.errors import StringerlabError
from stringerlab.files import save
from stringerlab.methods import Finding, FindingKind, Verdict
from stringerlab.project import Project
from stringerlab.sizing.records import Design, Sized

_NONE = "Pick a design in the plot or the table: what it changes is said here."
_AS_SHE_IS = "This is the boat as she is, by the same count as the designs."
_NO_LAYOUT = "This boat has no layout drawn; save the design as a boat of its own instead."
_MOST_SAID = 4


class PickedPane(QWidget):
    """The pane."""

    opened_beside = Signal()
    """A design now stands as a layout beside the present one: the boat herself is as she was."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._sized: Sized | None = None
        self._number = -1
        self.found_of: Callable[[], Sequence[Project]] = tuple
        """The boats that the designs are of."""
        self._checked: dict[Design, str] = {}
        """What whole checks of designs found, in words, as long as these designs are shown."""
        self._checking: Design | None = None
        self._progressed = ""
        """How far the check of that one is, in words; empty while none is under way."""
        self._job = Job(self)
        self._job.finished.connect(self._take)
        self._job.failed.connect(self._failed)
        self._job.progress.connect(self._progress)
        self._job.busy_changed.connect(self._busy)
        self.heading = bold(QLabel())
        self.heading.setAccessibleName("Design picked")
        self.says = _wrapped("What the design changes")
        self.checked = _wrapped("The whole check of the design")
        self.layout_button = _button("Open as a layout beside", self.open_as_layout)
        self.change_button = _button("Change the boat to this", self.change_boat)
        self.save_button = _button("Save as a boat of its own…", self.ask_save)
        self.check_button = _button("Check it wholly", self.check_wholly)
        self._tips = {
            self.layout_button: "A new layout beside the present one, with sections and laminates of its own",
            self.change_button: "One step, which undo takes back",
            self.save_button: "A copy of the boat so changed, in a file of its own; this one stays",
            self.check_button: "Every rule, the mechanics and the grid, in the background.\n"
            "The search goes by the rules: the grid is judged only here, and may be short",
        }
        words = QWidget()
        column = QVBoxLayout(words)
        column.setContentsMargins(0, 0, 6, 0)
        column.setSpacing(6)
        column.addWidget(self.says)
        column.addWidget(self.checked)
        column.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidget(words)
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        deeds = QGridLayout()
        deeds.setContentsMargins(0, 0, 0, 0)
        deeds.setSpacing(6)
        deeds.addWidget(self.change_button, 0, 0)
        deeds.addWidget(self.layout_button, 0, 1)
        deeds.addWidget(self.save_button, 1, 0)
        deeds.addWidget(self.check_button, 1, 1)
        page = QVBoxLayout(self)
        page.setContentsMargins(10, 0, 0, 0)
        page.setSpacing(6)
        page.addWidget(self.heading)
        page.addWidget(scroll, 1)
        page.addLayout(deeds)
        self.refresh()

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def design(self) -> Design | None:
        """The design shown."""
        sized = self._sized
        if sized is None or self._number < 0:
            return None
        return sized.now if self._number == 0 else sized.front[self._number - 1]

    @property
    def busy(self) -> bool:
        """Whether a design is being checked."""
        return self._job.busy

    def first_deed(self) -> QPushButton:
        """Return the first button that can be pressed."""
        return self.change_button if self.change_button.isEnabled() else self.check_button

    def show_design(self, sized: Sized | None, number: int) -> None:
        """Show a design by its number, 0 for the present boat, −1 for none."""
        if sized is not self._sized:
            self._job.cancel()
            self._checked, self._checking = {}, None
        self._sized, self._number = sized, number
        self.refresh()

    def refresh(self) -> None:
        """Show the design in the project's units."""
        design, sized = self.design, self._sized
        for button, tip in self._tips.items():
            button.setEnabled(design is not None and self._number > 0)
            button.setToolTip(tip)
        if design is None or sized is None:
            self.heading.setText("No design is picked")
            self.says.setText(_NONE if sized is not None and sized.front else "")
            self.checked.hide()
            return
        look = Look(system=self._session.units, currency=self._session.project.rates.currency)
        name = boat_words(sized) if self._number == 0 else f"Design {design_name(self._number)}"
        self.heading.setText(name if holds(design) else f"{name}: not every demand holds")
        lines = [] if self._number == 0 else list(differences(sized, design, look))
        if self._number == 0:
            lines = [
                NEAREST if is_nearest(sized) else _AS_SHE_IS,
                f"Mass {look.mass(design.mass)}, highest utilisation {look.use(design.use)}",
            ]
        if design.governing:
            lines.append(f"Highest used: {design.governing}")
        if design.mechanics is not None:
            at = f" ({design.mechanics_governing})" if design.mechanics_governing else ""
            lines.append(f"Mechanics, no rule: highest {look.use(design.mechanics)}{at}")
        self.says.setText("\n".join(lines))
        if not self._session.project.layouts:
            self.layout_button.setEnabled(False)
            self.layout_button.setToolTip(_NO_LAYOUT)
        self.check_button.setEnabled(self._number >= 0)
        self._show_check()

    def change_boat(self) -> None:
        """Change the boat to the design picked, in one edit."""
        design, sized = self.design, self._sized
        if design is None or sized is None:
            return
        from stringerlab.sizing.changing.opening import applied

        label, of = f"Change the boat to {self._name()}", self.found_of()
        if self._session.edit(label, applied, sized.plan, design.genes, found_of=of):
            self._session.said.emit(f"The boat is now {self._name()}; undo takes it back.")

    def open_as_layout(self) -> None:
        """Open the design picked as a layout beside the present one, in one edit."""
        design, sized = self.design, self._sized
        if design is None or sized is None:
            return
        from stringerlab.sizing.changing.opening import as_layout, left_as_is

        before = self._session.project
        label = f"Open {self._name()} as a layout"
        called, of = self._name().capitalize(), self.found_of()
        if self._session.edit(label, as_layout, sized.plan, design.genes, called, found_of=of):
            name = self._session.project.layouts[-1].name
            said = f"{name} is a layout beside the present one: see Plan and Compare."
            if left := left_as_is(before, sized.plan, design.genes):
                said = f"{said} Given by hand and left as they are: {', '.join(left)}."
            self._session.said.emit(said)
            self.opened_beside.emit()

    def ask_save(self) -> None:
        """Ask for a file, and save the boat changed to the design there."""
        path = self._session.path
        start = path.with_name(f"{path.stem}_{self._name().replace(' ', '_')}.json") if path else Path.home()
        dialog = QFileDialog(self.window(), "Save the design as a boat", str(start.parent), "Boats (*.json)")
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix("json")
        if path:
            dialog.selectFile(start.name)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.fileSelected.connect(self._save_named)
        dialog.open()

    def save_as_boat(self, path: Path) -> None:
        """Save the boat changed to the design picked in a file; the project here stays as it is."""
        design, sized = self.design, self._sized
        if design is None or sized is None:
            return
        from stringerlab.sizing.changing.opening import as_boat

        try:
            project = self._session.project
            name = f"{project.name}, {self._name()}"
            save(as_boat(project, sized.plan, design.genes, name, found_of=self.found_of()), path)
        except StringerlabError as refused:
            self._session.problem.emit(refused)
            return
        self._session.said.emit(f"Saved {self._name()} as {path}.")

    def check_wholly(self) -> None:
        """Check the design picked by every rule, the mechanics and the grid, in the background."""
        design, sized = self.design, self._sized
        if design is None or sized is None:
            return
        if self._job.busy:
            self._job.cancel()
            return
        self._checking, self._progressed = design, "Being checked wholly …"
        project, of = self._session.project, self.found_of()
        boat = project if self._number == 0 else None
        self._job.start(lambda watch: check(boat or _designed(project, sized, design, of), watch=watch))
        self._show_check()

    def stop(self) -> None:
        """End a check under way."""
        self._job.stop()

    # -- inside ----------------------------------------------------------------------------------

    def _name(self) -> str:
        return f"design {design_name(self._number)}"

    def _save_named(self, name: str) -> None:
        self.save_as_boat(Path(name))

    def _take(self, results: Results) -> None:
        if self._checking is not None:
            self._checked[self._checking] = _summed(results)
        self._show_check()

    def _failed(self, error: StringerlabError) -> None:
        if self._checking is not None:
            self._checked[self._checking] = "\n".join(str(problem) for problem in error.problems)
        self._show_check()

    def _progress(self, fraction: float, what: str) -> None:
        self._progressed = f"Being checked wholly: {what}, {fraction:.0%}"
        self._show_check()

    def _busy(self, busy: bool) -> None:
        self.check_button.setText("Stop the check" if busy else "Check it wholly")
        if not busy:
            self._progressed = ""
        self._show_check()

    def _show_check(self) -> None:
        design = self.design
        said = self._checked.get(design, "") if design is not None else ""
        if design is not None and design is self._checking and self._progressed:
            said = self._progressed
        self.checked.setVisible(bool(said))
        self.checked.setText(said)


def _designed(project: Project, sized: Sized, design: Design, of: Sequence[Project]) -> Project:
    from stringerlab.sizing.changing.opening import applied

    return applied(project, sized.plan, design.genes, found_of=of)


def _summed(results: Results) -> str:
    """Return what a whole check found, the shortest first."""
    judged = [one for one in results.findings if one.utilisation is not None]
    lines = ["Checked wholly, rules, mechanics and grid:"]
    for rules, word in ((True, "rules"), (False, "mechanics and grid, no rule")):
        of = [one for one in judged if (one.kind is FindingKind.RULE) is rules]
        if of:
            worst = max(of, key=lambda one: one.utilisation or 0.0)
            short = sum(one.verdict is Verdict.SHORT for one in of)
            said = f"{short} short of {len(of)}" if short else f"none short of {len(of)}"
            lines.append(f"{word}: {said}; highest {_of(worst)}")
    short = sorted(
        (one for one in judged if one.verdict is Verdict.SHORT), key=lambda one: -(one.utilisation or 0.0)
    )
    lines += [f"■ {_of(one)}" for one in short[:_MOST_SAID]]
    if len(short) > _MOST_SAID:
        lines.append(f"… and {len(short) - _MOST_SAID} more short")
    open_ones = sum(one.verdict is Verdict.NOT_JUDGED for one in results.findings)
    if open_ones:
        lines.append(f"{open_ones} not judged")
    return "\n".join(lines)


def _of(finding: Finding) -> str:
    return f"{finding.name}, {finding.aspect.value} at {finding.utilisation or 0.0:.3f}"


def _wrapped(name: str) -> QLabel:
    label = QLabel()
    label.setAccessibleName(name)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setAlignment(Qt.AlignmentFlag.AlignTop)
    label.setTextInteractionFlags(
        Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
    )
    return label


def _button(words: str, deed: Callable[[], object]) -> QPushButton:
    button = QPushButton(words)
    button.clicked.connect(deed)
    return button
