"""The menu of what is selected on the plan."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from stringerlab.desktop.plan.tool import Edit
from stringerlab.layout.openings import Cut
from stringerlab.layout.plan import Hand, Member
from stringerlab.project import Project, planning

if TYPE_CHECKING:
    from stringerlab.desktop.plan.canvas import Plan


def menu(plan: "Plan") -> QMenu:
    """Return what can be done now."""
    made = QMenu(plan)
    made.setToolTipsVisible(True)
    hand, scene = plan.hand, plan.hand.scene()
    if scene is None:
        return made
    ids = tuple(each for each in hand.selected if each in scene.things)
    members = tuple(each for each in ids if isinstance(scene.things[each], Member))

    def offer(on: QMenu, words: str, label: str, change: Callable[[Project], Project]) -> None:
        on.addAction(words).triggered.connect(lambda: hand.do(Edit(label=label, change=change)))

    if members:
        sections = made.addMenu("Section")
        for section in scene.project.sections:
            offer(
                sections,
                section.name,
                f"Section {section.name}",
                lambda project, s=section.id: planning.with_section(project, members, s),
            )
        crowns = made.addMenu("At crossings")
        for cut in Cut:
            offer(
                crowns,
                f"Its crown is {cut.value}",
                f"Crown {cut.value}",
                lambda project, c=cut: planning.with_part_values(project, members, crown=c),
            )
    if ids:
        hands = made.addMenu("Hand")
        for side in Hand:
            offer(
                hands,
                side.value.capitalize(),
                f"Hand: {side}",
                lambda project, s=side: planning.with_hand(project, ids, s),
            )
        offer(made, "Mirror", "Mirror", lambda project: planning.mirrored(project, ids))
        made.addAction("Copy beside").triggered.connect(hand.duplicate)
        made.addAction("Delete").triggered.connect(hand.delete)
        made.addSeparator()
    if len(members) == 2:
        first, second = members
        offer(made, "Join", "Join", lambda project: planning.joined(project, first, second))
        made.addSeparator()
    if hand.selected:
        made.addAction("Show its findings").triggered.connect(plan.show_findings)
    made.addAction("Check now").triggered.connect(plan.check)
    made.addAction("Zoom to fit").triggered.connect(plan.fit)
    return made
