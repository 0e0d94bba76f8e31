"""A flat bottom of 6 m by 2 m with the lesson's hat along it: everything can be reckoned by hand."""

from dataclasses import replace

import pytest

from stringerlab.craft import Station
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.plan import GridRules, Hand, Layout, Member, MemberKind, Participation, PlanPoint
from stringerlab.project import Project


class Boats:
    """The lesson's boat with layouts drawn in few words."""

    def __init__(self) -> None:
        lesson = load(folder("sample_projects") / "first_hat_lesson.json")
        flat = tuple(Station(x=x, keel_z=0, chine_y=1000, chine_z=0) for x in (0, 6000))
        self.section = lesson.sections[0]
        under = lesson.panels[0].laminate or lesson.spans[0].plating
        self.under = next(one for one in lesson.laminates if one.id == under)
        self.bare = replace(
            lesson,
            craft=replace(lesson.craft, stations=flat),
            panels=(),
            spans=(),
            layouts=(),
            layout="",
        )

    def member(self, name: str, *points: PlanPoint, across: bool = False, **more: object) -> Member:
        given: dict[str, object] = {"hand": Hand.CENTRELINE, "section": self.section.id, **more}
        kind = MemberKind.TRANSVERSE if across else MemberKind.LONGITUDINAL
        return Member(id=name, name=name, kind=kind, points=points, **given)  # pyright: ignore

    def keelson(self) -> Member:
        """A girder from transom to forward edge on the centreline."""
        return self.member("k1", (0, 0), (6000, 0))

    def girders(self, y: float = 500, **more: object) -> Member:
        """A pair of them."""
        return replace(self.member("g1", (0, y), (6000, y), hand=Hand.PAIR), **more)  # pyright: ignore

    def floor(self, x: float = 3000, **more: object) -> Member:
        """A floor from chine to chine."""
        return replace(self.member("f1", (x, -1000), (x, 1000), across=True), **more)  # pyright: ignore

    def with_layout(self, *members: Member, **more: object) -> Project:
        rules = GridRules(participation=Participation.NONE, keel_bounds=False)
        layout = Layout(id="y1", name="Trial", members=members, rules=rules, **more)  # pyright: ignore
        return replace(self.bare, layouts=(layout,), layout="y1", counter=1000)


@pytest.fixture(scope="session")
def boats() -> Boats:
    return Boats()
