"""Edits on a material's tested coupons; sets of coupons are numbered from 0.

Pure functions from a project to a new one, which fail as a whole or not at all. A shipped material is read
only: only the project's own take coupons.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.materials.records import CouponSet, Property, Reinforcement
from stringerlab.project import edits
from stringerlab.project.records import Project

MOST = 200
"""Sets of coupons that one material may have; no test programme of a boat's has as many."""
ENTERED = "as entered"
"""Source of coupons of which nothing was said."""
FIRST = (Property.TENSION_1, Property.COMPRESSION_1, Property.FLEXURAL, Property.INTERLAMINAR, Property.SHEAR)
"""Properties in the order in which a person is likely to have tested them."""


def fresh_coupons(material: Reinforcement, estimate: Callable[[Property], float | None]) -> CouponSet:
    """Return a set of coupons to begin from, of a property that is not tested yet.

    One coupon, so that nothing is used before its numbers are typed; the mean is the estimate.

    Parameters
    ----------
    material
        The material.
    estimate
        The estimate of a property [MPa], None where there is none.
    """
    taken = {coupons.property for coupons in material.coupons}
    free = [each for each in (*FIRST, *Property) if each not in taken]
    chosen = next((each for each in free if estimate(each) is not None), Property.TENSION_1)
    return CouponSet(
        property=chosen,
        mean=float(f"{estimate(chosen) or 100.0:.4g}"),
        deviation=0.0,
        count=1,
        glass=material.glass,
        source=ENTERED,
    )


def with_coupons(project: Project, material: str, coupons: Iterable[CouponSet]) -> Project:
    """Return the project with sets of coupons at the end of an own material's.

    Raises
    ------
    StringerlabError
        When the project has no such reinforcement of its own, or it would have more than ``MOST`` sets.
    """
    record = _own(project, material)
    return _with(project, record, (*record.coupons, *coupons))


def without_coupons(project: Project, material: str, numbers: Iterable[int]) -> Project:
    """Return the project without these sets of an own material's coupons.

    Raises
    ------
    StringerlabError
        When the project has no such reinforcement of its own, or it has no such set.
    """
    record = _own(project, material)
    gone = _chosen(record, numbers)
    return _with(project, record, tuple(each for i, each in enumerate(record.coupons) if i not in gone))


def coupons_changed(
    project: Project, material: str, numbers: Iterable[int], change: Callable[[CouponSet], CouponSet]
) -> Project:
    """Return the project with each of these sets of an own material's coupons changed.

    Raises
    ------
    StringerlabError
        When the project has no such reinforcement of its own, or it has no such set.
    """
    record = _own(project, material)
    chosen = _chosen(record, numbers)
    fresh = tuple(change(each) if i in chosen else each for i, each in enumerate(record.coupons))
    return project if fresh == record.coupons else _with(project, record, fresh)


def _own(project: Project, material: str) -> Reinforcement:
    found = next((one for one in project.materials.reinforcements if one.id == material), None)
    if found is None:
        what = f"The project has no reinforcement '{material}' of its own."
        raise StringerlabError(Problem(what, "materials", "Copy the shipped one to its own materials."))
    return found


def _chosen(record: Reinforcement, numbers: Iterable[int]) -> set[int]:
    chosen = set(numbers)
    absent = sorted(number for number in chosen if not 0 <= number < len(record.coupons))
    if absent:
        where = f"reinforcement '{record.name}' ({record.id})"
        what = f"There are no coupons {absent[0] + 1}."
        raise StringerlabError(Problem(what, where, f"It has {len(record.coupons)}."))
    return chosen


def _with(project: Project, record: Reinforcement, coupons: tuple[CouponSet, ...]) -> Project:
    _refuse_many(record, coupons)
    return edits.replaced(project, replace(record, coupons=coupons))


def _refuse_many(record: Reinforcement, coupons: tuple[CouponSet, ...]) -> None:
    if len(coupons) > MOST:
        where = f"reinforcement '{record.name}' ({record.id})"
        what = f"It would have {len(coupons)} sets of coupons; {MOST} are the most."
        raise StringerlabError(Problem(what, where, "Pool sets of the same laminate."))
