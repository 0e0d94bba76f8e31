"""New ids: a kind letter and the project's counter, never used again."""

import re

from stringerlab.laminate.records import Laminate
from stringerlab.layout.plan import (
    BayMark,
    Cavity,
    Combination,
    Equipment,
    Layout,
    Member,
    PlanLine,
    SpanMark,
)
from stringerlab.layout.records import Panel, Span, Zone
from stringerlab.project.contents import things
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Section, Wall

LETTERS: dict[type, str] = {
    Laminate: "l",
    Zone: "z",
    Section: "s",
    Wall: "w",
    Fill: "f",
    Panel: "p",
    Span: "m",
    Layout: "y",
    Member: "b",
    PlanLine: "k",
    Cavity: "c",
    Equipment: "e",
    Combination: "o",
    BayMark: "p",
    SpanMark: "m",
}
"""By what the id is of; a material's is ``x``."""
MATERIAL_LETTER = "x"
_NUMBERED = re.compile(r"[a-z](\d{1,15})")


class Counter:
    """Hands out ids; begins above every number that stands in an id, so that none comes twice."""

    def __init__(self, project: Project) -> None:
        numbers = [
            int(match[1]) for thing in things(project) if (match := _NUMBERED.fullmatch(thing.record.id))
        ]
        self.next = max([project.counter, *(number + 1 for number in numbers)])

    def id(self, letter: str) -> str:
        """Return an id that was never given."""
        number, self.next = self.next, self.next + 1
        return f"{letter}{number}"
