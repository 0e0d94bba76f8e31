"""A floor of a real layout dragged on the plan: from the pointer's movement to the painted frame.

Each frame has the panels and spans found anew and those that changed judged by the rule. Target on a quiet
machine, offscreen: 50 ms median for 6 longitudinals × 15 floors with equipment.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import cycle

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

pytest.importorskip("PySide6.QtWidgets", reason="the plan needs PySide6")

from PySide6.QtWidgets import QApplication

from stringerlab.data import folder
from stringerlab.desktop.plan.canvas import Plan
from stringerlab.desktop.session import Session
from stringerlab.files import load
from stringerlab.layout.plan import Layout, Member, MemberKind
from stringerlab.project import Project, planning

PAIRS, FLOORS = 3, 15


def real() -> Project:
    """The launch with six longitudinals and fifteen floors, its equipment and cavities as they are."""
    boat = load(folder("sample_projects") / "tidewrack_layout.json")
    drawn = boat.layouts[0]
    section = {member.kind: member.section for member in drawn.members}
    members = [
        Member(
            id="",
            name=f"Longitudinal {number}",
            kind=MemberKind.LONGITUDINAL,
            points=((0.0, 330.0 * number), (5000.0, 330.0 * number), (7300.0, 210.0 * number)),
            section=section[MemberKind.LONGITUDINAL],
        )
        for number in range(1, PAIRS + 1)
    ]
    members += [
        Member(
            id="",
            name=f"Floor {number}",
            kind=MemberKind.TRANSVERSE,
            points=((490.0 * number, 0.0), (490.0 * number, 700.0)),
            section=section[MemberKind.TRANSVERSE],
        )
        for number in range(1, FLOORS + 1)
    ]
    layout = Layout(id="", name="Real", members=tuple(members), equipment=drawn.equipment)
    boat = planning.with_layout(boat, layout)
    return planning.with_layout_in_use(boat, boat.layouts[-1].id)


@pytest.fixture
def plan(qapp: QApplication) -> Iterator[Plan]:
    """The plan, a floor in the hand."""
    session = Session(real(), held=True)
    made = Plan(session)
    made.resize(900, 600)
    made.show()
    qapp.processEvents()
    made.repaint()
    made.live.begin()
    made.hand.press((3920.0, 80.0))
    yield made
    made.hand.cancel()
    made.close()
    made.deleteLater()
    session.close()
    session.deleteLater()


@pytest.mark.benchmark(group="a floor of 6 × 15 dragged")
def test_frame_of_a_drag(benchmark: BenchmarkFixture, plan: Plan) -> None:
    places = cycle(3920.0 + 100 + 0.9 * step for step in range(200))

    moved: list[float] = []

    def frame() -> None:
        moved.append(next(places))
        plan.hand.move((moved[-1], 80.0))
        plan.repaint()

    before = plan.frames
    frame()
    benchmark.pedantic(frame, rounds=60)
    assert plan.frames >= before + len(moved)
    assert plan.session.shown is not plan.session.project
    found = plan.session.resolved.found
    assert found is not None
    assert len(found.spans) > FLOORS * PAIRS
