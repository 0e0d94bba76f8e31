"""Keys of the sheet: letters take up tools, digits open the field, arrows nudge. See ``tools.KEYS``."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QMouseEvent

from stringerlab.desktop.sheet.tools import TOOLS

if TYPE_CHECKING:
    from stringerlab.desktop.sheet.canvas import Sheet

ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}
_LETTERS = {listed.key: listed.id for listed in TOOLS}
STARTS = frozenset("0123456789.@-−+")
"""A key that begins typing."""
_CTRL = Qt.KeyboardModifier.ControlModifier
_SHIFT = Qt.KeyboardModifier.ShiftModifier
CLAIMED = {
    Qt.Key.Key_Delete,
    Qt.Key.Key_Backspace,
    Qt.Key.Key_Home,
    Qt.Key.Key_Escape,
    Qt.Key.Key_Return,
    Qt.Key.Key_Enter,
    *ARROWS,
}


def held(event: QMouseEvent) -> dict[str, bool]:
    """Return which of the keys that a tool knows are held with the mouse."""
    return {
        "shift": bool(event.modifiers() & _SHIFT),
        "ctrl": bool(event.modifiers() & _CTRL),
    }


def claims(event: QKeyEvent) -> bool:
    """Whether a key is the sheet's own while it has the focus, whatever the window's shortcuts are."""
    plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, _SHIFT, Qt.KeyboardModifier.KeypadModifier)
    if event.key() in CLAIMED and plain:
        return True
    if (
        plain
        and (event.text().upper() in {*_LETTERS, "S", "O", "F"} or event.text() in STARTS)
        and event.text()
    ):
        return True
    return event.modifiers() == _CTRL and event.key() in (Qt.Key.Key_A, Qt.Key.Key_D, Qt.Key.Key_C)


def pressed(sheet: "Sheet", event: QKeyEvent) -> bool:
    """Do what a key means; return whether it meant anything."""
    sheet.flush()
    hand = sheet.hand
    if event.matches(QKeySequence.StandardKey.Copy):
        sheet.copy_picture()
        return True
    if event.modifiers() & _CTRL:
        return _with_ctrl(sheet, event)
    if event.modifiers() & (Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier):
        return False
    if event.key() in ARROWS:
        hand.nudge(*ARROWS[Qt.Key(event.key())], part=0.1 if event.modifiers() & _SHIFT else 1.0)
        return True
    match event.key():
        case Qt.Key.Key_Escape:
            hand.escape()
        case Qt.Key.Key_Return | Qt.Key.Key_Enter:
            hand.enter()
        case Qt.Key.Key_Backspace:
            hand.back()
        case Qt.Key.Key_Delete:
            hand.delete()
        case Qt.Key.Key_Home:
            sheet.fit()
        case Qt.Key.Key_Plus if hand.tool.name == "select":
            sheet.zoom(1.25)
        case Qt.Key.Key_Minus if hand.tool.name == "select":
            sheet.zoom(0.8)
        case _:
            return _typed(sheet, event.text())
    return True


def tab(sheet: "Sheet", *, back: bool) -> bool:
    """Select the next thing; past the last one the focus goes on."""
    return sheet.hand.cycle(-1 if back else 1)


def _with_ctrl(sheet: "Sheet", event: QKeyEvent) -> bool:
    match event.key():
        case Qt.Key.Key_A:
            sheet.hand.select_all()
        case Qt.Key.Key_D:
            sheet.hand.duplicate()
        case _:
            return False
    return True


def _typed(sheet: "Sheet", text: str) -> bool:
    hand, letter = sheet.hand, text.upper()
    if not text or not text.isprintable():
        return False
    if hand.tool.takes_text and text in STARTS:
        sheet.type_line(text)
    elif hand.letter(letter):
        pass
    elif letter in _LETTERS:
        hand.take(_LETTERS[letter])
    elif letter == "S":
        hand.switch(snaps=not hand.snaps)
    elif letter == "O":
        hand.switch(ortho=not hand.ortho)
    elif letter == "F":
        sheet.fit()
    else:
        return False
    return True
