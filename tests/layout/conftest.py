"""Plain bottoms to lay members out on, and members drawn in few words."""

from dataclasses import replace

import pytest

from stringerlab.craft import Category, Craft, Station
from stringerlab.layout.find import found
from stringerlab.layout.found import Found, FoundBay, FoundSpan, MemberSize
from stringerlab.layout.plan import Hand, Layout, Member, MemberKind, PlanPoint


def craft_of(*stations: tuple[float, float, float, float]) -> Craft:
    return Craft(
        name="Kelpwick",
        category=Category.C,
        waterline_length=6000,
        mass=2500,
        speed=28,
        stations=tuple(Station(x=x, keel_z=k, chine_y=y, chine_z=z) for x, k, y, z in stations),
    )


class Draw:
    """Members in few words, bottoms, and what is found on them."""

    sizes = {  # noqa: RUF012
        "s1": MemberSize(base_width=100, height=150),
        "s2": MemberSize(base_width=60, height=80),
        "thin": MemberSize(base_width=0, height=80),
    }
    flat = craft_of((0, 0, 1000, 0), (6000, 0, 1000, 0))
    """6 m by 2 m, flat."""
    vee = craft_of((0, 0, 800, 600), (6000, 0, 800, 600))
    """3-4-5 across: 1.25 in the skin for 1 in plan."""
    warped = craft_of((0, 0, 1320, 445), (2500, 0, 1380, 490), (5000, 10, 1330, 555), (8700, 430, 400, 890))

    def girder(self, name: str, *points: PlanPoint, hand: Hand = Hand.PAIR, section: str = "s1") -> Member:
        return Member(
            id=name, name=name, kind=MemberKind.LONGITUDINAL, hand=hand, points=points, section=section
        )

    def floor(self, name: str, *points: PlanPoint, hand: Hand = Hand.PAIR, section: str = "s2") -> Member:
        return replace(self.girder(name, *points, hand=hand, section=section), kind=MemberKind.TRANSVERSE)

    def plan(self, *members: Member) -> Layout:
        return Layout(id="l1", name="Trial", members=members)

    def found(self, craft: Craft, *members: Member) -> Found:
        return found(self.plan(*members), craft, self.sizes)

    def span(self, found: Found, member: str, *keys: str) -> FoundSpan:
        (span,) = [each for each in found.spans if each.member == member and set(each.key[1]) >= set(keys)]
        return span

    def bay(self, found: Found, x: float, y: float) -> FoundBay:
        """Of bays with upright sides, the one a place lies in."""
        (bay,) = [
            each
            for each in found.bays
            for ring in each.rings
            if ring[:, 0].min() < x < ring[:, 0].max() and ring[:, 1].min() < y < ring[:, 1].max()
        ]
        return bay

    def said(self, found: Found) -> str:
        return "\n".join(str(problem) for problem in found.problems)


@pytest.fixture
def draw() -> Draw:
    return Draw()
