"""The bar over the plan: which layout is drawn, what new members are made of, snaps, fit, check."""

from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QLabel, QMenu, QToolButton, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.plan.canvas import Plan
from stringerlab.desktop.plan.draw import section_for
from stringerlab.layout.plan import Hand, MemberKind
from stringerlab.project import planning

SHOWS = (
    ("stations", "Stations"),
    ("members", "Members"),
    ("crowns", "Crowns"),
    ("panels", "Panels"),
    ("nodes", "Nodes"),
    ("supports", "Supports"),
    ("lines", "Lines of the hull"),
    ("cavities", "Cavities"),
    ("equipment", "Equipment"),
    ("member_names", "Names of members"),
    ("span_names", "Names of spans"),
    ("panel_names", "Names of panels"),
    ("other_names", "Names of equipment and cavities"),
)
"""Options of the plan's picture, and what they are called."""


class LayoutBar(QWidget):
    """Chooses and makes layouts."""

    def __init__(self, plan: Plan, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.plan = plan
        self.shows: dict[str, QAction] = {}
        """What can be shown of the plan, by its option."""
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 3, 6, 3)
        row.setSpacing(4)
        self.layouts = Choice("Layout", "The layout drawn and judged")
        self.layouts.setMinimumContentsLength(14)
        self.new = button("New layout", "Begin an empty layout")
        self.more = button("More", "Copy or delete the layout shown")
        self.more.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self.more)
        menu.addAction("Duplicate layout").triggered.connect(self.duplicate)
        menu.addAction("Delete layout").triggered.connect(self.delete)
        self.more.setMenu(menu)
        self.snaps = button("Snap", "Snaps (S)\nStations, members, chine, keel and grid catch the pointer")
        self.ortho = button("Ortho", "Ortho lock (O)\nLines run fore and aft or athwart")
        self.show_button = button("Show", "What is shown of the plan")
        self.show_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.show_button.setMenu(self._shows_menu())
        self.fit = button("Fit", "Zoom to fit (F, Home)\nShow the whole bottom")
        self.export = button(
            "Export…", "Export the plan (Ctrl+E)\nWith what is laid over it, as SVG, PNG or DXF"
        )
        self.check = button("Check", "Check now (R, F5)\nJudge every panel and span by rule and as a grid")
        for switch in (self.snaps, self.ortho):
            switch.setCheckable(True)
        for widget in (
            self.layouts,
            self.new,
            self.more,
            self.snaps,
            self.ortho,
            self.show_button,
            self.fit,
            self.export,
            self.check,
        ):
            row.addWidget(widget)
        row.addStretch(1)
        self.layouts.activated.connect(self._layout_chosen)
        self.new.clicked.connect(self.begin)
        self.snaps.clicked.connect(self._snaps_clicked)
        self.ortho.clicked.connect(self._ortho_clicked)
        self.fit.clicked.connect(plan.fit)
        self.export.clicked.connect(plan.session.export_wanted)
        self.check.clicked.connect(plan.check)
        plan.hand.switches_changed.connect(self._show_switches)
        plan.options_changed.connect(self._show_options)
        plan.session.project_changed.connect(self._show)
        self._show()
        self._show_switches()

    def begin(self) -> None:
        """Add an empty layout and show it."""
        session = self.plan.session
        if session.edit("New layout", planning.with_layout):
            self.plan.hand.show_layout(session.project.layouts[-1].id)
            self.plan.setFocus(Qt.FocusReason.OtherFocusReason)

    def duplicate(self) -> None:
        """Add a copy of the layout shown, and show it."""
        session = self.plan.session
        if session.edit("Duplicate layout", planning.duplicated_layout, self.plan.hand.layout_id):
            self.plan.hand.show_layout(session.project.layouts[-1].id)

    def delete(self) -> None:
        """Delete the layout shown; undo brings it back."""
        session, id_ = self.plan.session, self.plan.hand.layout_id
        name = next((each.name for each in session.project.layouts if each.id == id_), "")
        session.edit(f"Delete layout {name}", planning.without_layout, id_)

    def _show(self) -> None:
        project, shown = self.plan.session.project, self.plan.hand.layout_id
        self.layouts.offer([(layout.name, layout.id) for layout in project.layouts])
        self.layouts.show_value(shown)
        for widget in (self.layouts, self.more, self.export, self.check):
            widget.setEnabled(bool(shown))

    def _shows_menu(self) -> QMenu:
        menu = QMenu(self.show_button)
        for field, words in SHOWS:
            action = menu.addAction(words)
            action.setCheckable(True)
            action.setChecked(getattr(self.plan.options, field))
            action.toggled.connect(partial(self._shown, field))
            self.shows[field] = action
        menu.addSeparator()
        clear = menu.addAction("Clear underlay")
        clear.triggered.connect(partial(self.plan.hand.lay_under, ()))
        menu.aboutToShow.connect(lambda: clear.setEnabled(self.plan.hand.underlay is not None))
        return menu

    def _shown(self, field: str, on: bool) -> None:
        self.plan.show_options(replace(self.plan.options, **{field: on}))

    def _show_options(self) -> None:
        for field, action in self.shows.items():
            action.setChecked(getattr(self.plan.options, field))

    def _layout_chosen(self, _: int) -> None:
        self.plan.hand.show_layout(self.layouts.value)

    def _snaps_clicked(self, on: bool) -> None:
        self.plan.hand.switch(snaps=on)

    def _ortho_clicked(self, on: bool) -> None:
        self.plan.hand.switch(ortho=on)

    def _show_switches(self) -> None:
        self.snaps.setChecked(self.plan.hand.snaps)
        self.ortho.setChecked(self.plan.hand.ortho)


class FreshBar(QWidget):
    """What the next member is made like: its hand and, by kind, its section."""

    def __init__(self, plan: Plan, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.plan = plan
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 0, 6, 3)
        row.setSpacing(4)
        row.addWidget(QLabel("New:"))
        self.hand_choice = Choice("Hand of new members", "Where the next member stands (H while drawing)")
        self.hand_choice.offer([(hand.value, hand.value) for hand in (Hand.PAIR, Hand.PORT, Hand.STARBOARD)])
        self.hand_choice.activated.connect(self._hand_chosen)
        row.addWidget(self.hand_choice)
        self.sections: dict[MemberKind, Choice] = {}
        for kind in MemberKind:
            choice = Choice(f"Section of a new {kind}", f"Section of the next {kind}")
            choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            choice.setMinimumContentsLength(9)
            choice.activated.connect(partial(self._section_chosen, kind))
            row.addWidget(QLabel(f"{kind.value.capitalize()}"))
            row.addWidget(choice, 1)
            self.sections[kind] = choice
        plan.hand.fresh_changed.connect(self._show)
        plan.session.project_changed.connect(self._show)
        self._show()

    def _show(self) -> None:
        scene = self.plan.hand.scene()
        self.setEnabled(scene is not None)
        self.hand_choice.show_value(self.plan.hand.fresh.hand.value)
        offered = [(section.name, section.id) for section in self.plan.session.project.sections]
        for kind, choice in self.sections.items():
            choice.offer(offered)
            if scene is not None:
                choice.show_value(section_for(scene, kind))

    def _hand_chosen(self, _: int) -> None:
        hand = self.plan.hand
        hand.make_like(replace(hand.fresh, hand=Hand(self.hand_choice.value)))

    def _section_chosen(self, kind: MemberKind, _: int) -> None:
        hand = self.plan.hand
        sections = {**hand.fresh.sections, kind: self.sections[kind].value}
        hand.make_like(replace(hand.fresh, sections=sections))


def button(name: str, tip: str) -> QToolButton:
    """Return a button of a bar."""
    made = QToolButton()
    made.setText(name)
    made.setToolTip(tip)
    made.setAccessibleName(name)
    made.setObjectName(name.lower().replace(" ", "_"))
    return made
