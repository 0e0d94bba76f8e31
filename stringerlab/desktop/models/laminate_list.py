"""A project's laminates as a list: name, thickness and mass."""

from collections.abc import Iterator

from PySide6.QtCore import QObject

from stringerlab.desktop.models.named_list import NamedList, NamedRow
from stringerlab.desktop.session import Session
from stringerlab.laminate import Laminate, Stack, mass, thickness
from stringerlab.units import Kind, System, format


class LaminateList(NamedList):
    """The laminates of the project shown, in its order."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(session, "laminate", _rows, parent)


def _rows(session: Session) -> Iterator[NamedRow]:
    stacks = session.resolved.stacks
    for laminate in session.shown.laminates:
        summary = _summary(laminate, stacks.get(laminate.id), session.units)
        yield NamedRow(laminate.id, laminate.name, summary)


def _summary(laminate: Laminate, stack: Stack | None, system: System) -> str:
    count = f"{len(laminate.plies)} {'ply' if len(laminate.plies) == 1 else 'plies'}"
    if stack is None:
        return f"{count}, not sound"
    laid = format(thickness(stack), Kind.LENGTH, system, digits=3)
    heavy = format(mass(stack), Kind.AREAL_MASS, system)
    return f"{count}, {laid}, {heavy}"
