"""The menu of what is selected on the sheet."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from stringerlab.desktop.sheet.tool import Change, Edit
from stringerlab.desktop.sheet.tools import TOOLS
from stringerlab.project import drafting
from stringerlab.project.drafting import Edge
from stringerlab.section import Wall

if TYPE_CHECKING:
    from stringerlab.desktop.sheet.canvas import Sheet

_EDGES = (
    ("Left edges", Edge.LEFT),
    ("Upright middles", Edge.CENTRE),
    ("Right edges", Edge.RIGHT),
    ("Top edges", Edge.TOP),
    ("Level middles", Edge.MIDDLE),
    ("Bottom edges", Edge.BOTTOM),
)


def menu(sheet: "Sheet") -> QMenu:
    """Return the menu; it goes when it is closed."""
    hand, scene = sheet.hand, sheet.hand.scene()
    made = QMenu(sheet)
    made.setToolTipsVisible(True)
    made.aboutToHide.connect(made.deleteLater)

    def entry(to: QMenu, name: str, do: Callable[[], object], tip: str = "") -> None:
        action = to.addAction(name)
        action.setToolTip(tip)
        action.triggered.connect(lambda: do())

    def edit(to: QMenu, name: str, label: str, change: Change, tip: str = "") -> None:
        entry(to, name, lambda: hand.do(Edit(label=label, change=change)), tip)

    if scene is not None and scene.selected:
        ids, section = scene.selected, scene.section.id
        parts = [part for each in ids if (part := scene.part(each))]
        walls = [part for part in parts if isinstance(part, Wall)]
        one = walls[0].id if len(parts) == 1 and walls else ""
        if walls:
            side = "Build on the other side"
            edit(
                made,
                side,
                "Swap side",
                lambda project: drafting.side_swapped(project, section, [wall.id for wall in walls]),
                "The laminate goes to the other face of the line; the mould with it",
            )
        if one:
            edit(
                made,
                "Draw the other way round",
                "Reverse wall",
                lambda project: drafting.direction_reversed(project, section, one),
                "Start becomes end; the laminate stays on its face",
            )
            if walls[0].closed:
                edit(made, "Open", "Open wall", lambda project: drafting.opened(project, section, one))
            else:
                edit(made, "Close", "Close wall", lambda project: drafting.closed_up(project, section, one))
        if len(parts) > 1:
            row = made.addMenu("Align")
            for name, edge in _EDGES:
                edit(row, name, "Align", _aligned(section, ids, edge))
        row = made.addMenu("Mirror")
        for name, keep in (("Over the centre plane", False), ("A copy over the centre plane", True)):
            edit(row, name, "Mirror", _mirrored(section, ids, keep=keep))
        made.addSeparator()
        entry(made, "Copy beside", hand.duplicate, "Ctrl+D")
        entry(made, "Delete", hand.delete, "Delete")
        made.addSeparator()
    entry(made, "Select all", hand.select_all, "Ctrl+A")
    entry(made, "Zoom to fit", sheet.fit, "F")
    tools = made.addMenu("Tools")
    for listed in TOOLS:
        entry(tools, f"{listed.name}\t{listed.key}", _taker(sheet, listed.id), listed.tip)
    made.addSeparator()
    if hand.sight.underlays.has(hand.section_id):
        entry(made, "Clear underlay", sheet.clear_underlay, "Take away the lines laid under this section")
    entry(made, "Copy as picture", sheet.copy_picture, "Ctrl+C: SVG and image")
    return made


def _taker(sheet: "Sheet", id: str) -> Callable[[], None]:  # noqa: A002
    return lambda: sheet.hand.take(id)


def _aligned(section: str, ids: tuple[str, ...], edge: Edge) -> Change:
    return lambda project: drafting.aligned(project, section, ids, edge)


def _mirrored(section: str, ids: tuple[str, ...], *, keep: bool) -> Change:
    return lambda project: drafting.mirrored(project, section, ids, keep=keep)
