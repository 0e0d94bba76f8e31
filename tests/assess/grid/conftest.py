"""Grids laid out by hand on plain bottoms, with one sample's sections under them."""

from dataclasses import replace

import pytest

from stringerlab.assess.grid import Ground
from stringerlab.craft import Category, Craft, Station
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout import Cut, PanelCase, SpanCase
from stringerlab.layout.find import found
from stringerlab.layout.found import MemberSize
from stringerlab.layout.plan import (
    Equipment,
    GridRules,
    Hand,
    Layout,
    Member,
    MemberKind,
    PlanPoint,
    Supports,
)
from stringerlab.project import Resolved, resolve
from stringerlab.section import facts

BEDS, FLOORS = "s26", "s37"
"""A hat and a floor of the sample."""


class Laid:
    """Layouts in few words."""

    def __init__(self, resolved: Resolved) -> None:
        self.resolved = resolved
        self.stack = resolved.spans[0].plating
        sizes: dict[str, MemberSize] = {}
        for section in (BEDS, FLOORS):
            shape = resolved.shapes[section]
            sizes[section] = MemberSize(base_width=facts(shape).base_width, height=150.0)
        self.sizes = sizes
        self.flat = self.craft((0, 0, 1000, 0), (6000, 0, 1000, 0))
        self.vee = self.craft((0, 0, 1000, 350), (4000, 0, 1000, 400), (6000, 100, 800, 600))

    @staticmethod
    def craft(*stations: tuple[float, float, float, float]) -> Craft:
        return Craft(
            name="Kelpwick",
            category=Category.C,
            waterline_length=6000,
            mass=2500,
            speed=28,
            stations=tuple(Station(x=x, keel_z=k, chine_y=y, chine_z=z) for x, k, y, z in stations),
        )

    @staticmethod
    def girder(name: str, *points: PlanPoint, hand: Hand = Hand.PAIR, section: str = BEDS) -> Member:
        return Member(
            id=name,
            name=name,
            kind=MemberKind.LONGITUDINAL,
            hand=hand,
            points=points,
            section=section,
            crown=Cut.CONTINUOUS,
        )

    def floor(self, name: str, *points: PlanPoint, hand: Hand = Hand.PAIR, section: str = FLOORS) -> Member:
        return replace(self.girder(name, *points, hand=hand, section=section), kind=MemberKind.TRANSVERSE)

    def ground(
        self,
        craft: Craft,
        *members: Member,
        equipment: tuple[Equipment, ...] = (),
        supports: Supports | None = None,
        rules: GridRules | None = None,
    ) -> Ground:
        layout = Layout(
            id="l1",
            name="Trial",
            members=members,
            equipment=equipment,
            supports=supports or Supports(),
            rules=rules or GridRules(),
        )
        seen = found(layout, craft, self.sizes)
        return Ground(
            layout=layout,
            found=seen,
            craft=craft,
            panels={
                bay.id: PanelCase(panel=bay.panel, stack=self.stack)
                for bay in seen.bays
                if bay.panel is not None
            },
            spans={
                span.id: SpanCase(
                    span=span.span, section=self.resolved.shapes[span.section], plating=self.stack
                )
                for span in seen.spans
                if span.span is not None
            },
            shapes=self.resolved.shapes,
            stacks=self.resolved.stacks,
        )


@pytest.fixture(scope="session")
def laid() -> Laid:
    return Laid(resolve(load(folder("sample_projects") / "tidewrack_grid.json")))
