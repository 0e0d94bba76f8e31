"""A member of a real layout moved: the edit with its marks, and the project resolved again, against anew."""

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.plan import Layout, Member, MemberKind
from stringerlab.project import Project, Resolved, planning, resolve
from stringerlab.project.again import resolved_again

LONGITUDINALS, TRANSVERSES = 6, 15


@pytest.fixture(scope="module")
def real() -> tuple[Project, Resolved, str]:
    """The launch with 6 longitudinals a side and 15 floors, and one of the floors."""
    boat = load(folder("sample_projects") / "tidewrack_layout.json")
    keel, floor = boat.layouts[0].members[0].section, boat.sections[4].id
    members = [
        Member(
            id="",
            name=f"Longitudinal {number}",
            kind=MemberKind.LONGITUDINAL,
            points=((0.0, 150.0 + 170 * number), (6420.0, 120.0 + 140 * number)),
            section=keel,
        )
        for number in range(LONGITUDINALS)
    ]
    members += [
        Member(
            id="",
            name=f"Floor {number}",
            kind=MemberKind.TRANSVERSE,
            points=((400.0 + 430 * number, 0.0), (400.0 + 430 * number, 1000.0)),
            section=floor,
        )
        for number in range(TRANSVERSES)
    ]
    boat = planning.with_layout(boat, Layout(id="", name="Real", members=tuple(members)))
    boat = planning.with_layout_in_use(boat, boat.layouts[-1].id)
    return boat, resolve(boat), boat.layouts[-1].members[LONGITUDINALS + 7].id


@pytest.mark.benchmark(group="a floor of 6 × 15 moved")
def test_edit_with_its_marks(benchmark: BenchmarkFixture, real: tuple[Project, Resolved, str]) -> None:
    boat, _, floor = real
    by = iter(range(1, 10**9))
    moved = benchmark(lambda: planning.moved(boat, [floor], 0.01 * next(by), 0))
    assert moved.counter == boat.counter


@pytest.mark.benchmark(group="a floor of 6 × 15 moved")
def test_edit_and_resolved_again(benchmark: BenchmarkFixture, real: tuple[Project, Resolved, str]) -> None:
    boat, resolved, floor = real
    by = iter(range(1, 10**9))

    def move() -> Resolved:
        return resolved_again(planning.moved(boat, [floor], 0.013 * next(by), 0), boat, resolved)

    assert len(benchmark(move).subjects) == len(resolved.subjects)


@pytest.mark.benchmark(group="a floor of 6 × 15 moved")
def test_edit_and_resolved_anew(benchmark: BenchmarkFixture, real: tuple[Project, Resolved, str]) -> None:
    boat, resolved, floor = real
    by = iter(range(1, 10**9))
    anew = benchmark(lambda: resolve(planning.moved(boat, [floor], 0.017 * next(by), 0)))
    assert len(anew.subjects) == len(resolved.subjects)
