"""A project's sections as a list: name, and what is drawn in it."""

from collections.abc import Iterator

from PySide6.QtCore import QObject

from stringerlab.desktop.models.named_list import NamedList, NamedRow
from stringerlab.desktop.session import Session
from stringerlab.layout import Span
from stringerlab.section import Section


class SectionList(NamedList):
    """The sections of the project, in its order."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(session, "section", _rows, parent)
        self.refresh()
        session.project_changed.connect(self.refresh)


def _rows(session: Session) -> Iterator[NamedRow]:
    project = session.project
    spans = [each.section for each in session.resolved.subjects if isinstance(each, Span)]
    for section in project.sections:
        yield NamedRow(section.id, section.name, _summary(section, spans.count(section.id)))


def _summary(section: Section, spans: int) -> str:
    parts = [_counted(len(section.walls), "wall")]
    if section.fills:
        parts.append(_counted(len(section.fills), "fill"))
    parts.append(f"in {_counted(spans, 'span')}" if spans else "in no span")
    return ", ".join(parts)


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
