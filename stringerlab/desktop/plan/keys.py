"""Keys of the plan: letters take up tools, digits open the field, arrows nudge. See ``tools.KEYS``."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from stringerlab.desktop.plan.tools import TOOLS
from stringerlab.desktop.sheet.keys import ARROWS, CLAIMED, STARTS

if TYPE_CHECKING:
    from stringerlab.desktop.plan.canvas import Plan

_LETTERS = {listed.key: listed.id for listed in TOOLS}
_OWN = frozenset("SOFRH")
_CTRL = Qt.KeyboardModifier.ControlModifier
_SHIFT = Qt.KeyboardModifier.ShiftModifier


def claims(event: QKeyEvent) -> bool:
    """Whether a key is the plan's own while it has the focus, whatever the window's shortcuts are."""
    plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, _SHIFT, Qt.KeyboardModifier.KeypadModifier)
    text = event.text()
    if plain and (event.key() in CLAIMED or text.upper() in {*_LETTERS, *_OWN} or text in STARTS):
        return True
    return event.modifiers() == _CTRL and event.key() in (Qt.Key.Key_A, Qt.Key.Key_D)


def pressed(plan: "Plan", event: QKeyEvent) -> bool:
    """Do what a key means; return whether it meant anything."""
    plan.flush()
    hand = plan.hand
    if event.modifiers() & _CTRL:
        return _with_ctrl(plan, event)
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
            plan.fit()
        case Qt.Key.Key_Plus if not hand.tool.takes_text:
            plan.zoom(1.25)
        case Qt.Key.Key_Minus if not hand.tool.takes_text:
            plan.zoom(0.8)
        case _:
            return _typed(plan, event.text())
    return True


def _with_ctrl(plan: "Plan", event: QKeyEvent) -> bool:
    match event.key():
        case Qt.Key.Key_A:
            plan.hand.select_all()
        case Qt.Key.Key_D:
            plan.hand.duplicate()
        case _:
            return False
    return True


def _typed(plan: "Plan", text: str) -> bool:
    hand, letter = plan.hand, text.upper()
    if not text or not text.isprintable():
        return False
    if hand.tool.takes_text and text in STARTS:
        plan.type_line(text)
    elif hand.letter(letter):
        pass
    elif letter in _LETTERS:
        hand.take(_LETTERS[letter])
    elif letter == "S":
        hand.switch(snaps=not hand.snaps)
    elif letter == "O":
        hand.switch(ortho=not hand.ortho)
    elif letter == "F":
        plan.fit()
    elif letter == "R":
        plan.check()
    else:
        return False
    return True
