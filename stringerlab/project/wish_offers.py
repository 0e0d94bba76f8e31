"""What of a boat may sensibly change, each with a range about the present; and the usual of it.

A range reaches a quarter of the present value down and up in whole steps, so that the present is one of its
choices. mm, kn, kg as typed.
"""

from collections import Counter as Tally
from dataclasses import dataclass
from itertools import pairwise

from stringerlab.laminate.records import Laminate
from stringerlab.layout.plan import Hand, Layout, MemberKind
from stringerlab.materials import Book
from stringerlab.materials.records import PlyKind
from stringerlab.project.drafting_shapes import HatParameters, hat_parameters
from stringerlab.project.problems import book_of
from stringerlab.project.records import Project
from stringerlab.project.wishes import Change, Number, Plies
from stringerlab.section.records import Section
from stringerlab.units import System

_OF_HATS = (
    (Change.HEIGHT, "height", "Hat heights"),
    (Change.CROWN_WIDTH, "crown_width", "Crown widths"),
    (Change.FLANGE_WIDTH, "flange_width", "Bonding flange widths"),
)
PLIES_GROUP = "Plies of laminates"
_STEPS = {System.METRIC: 5.0, System.US: 6.35}
"""Of heights and widths [mm]: 5 mm, 1/4 in."""
_PLACE_STEPS = {System.METRIC: 10.0, System.US: 12.7}
_BEAD_STEPS = {System.METRIC: 1.0, System.US: 1.5875}
"""1 mm, 1/16 in."""
_PART = 0.25
MORE_PLIES = 2
"""How many plies fewer and more than now are offered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """Something that may change: in what group of a menu, in what words, and the wish, still without id."""

    group: str
    words: str
    wish: Number | Plies


def offers(project: Project) -> tuple[Offer, ...]:
    """Return everything that may change and does not yet, group by group."""
    plan = project.wishes.sizing
    numbers = {(one.change, one.of, one.ply) for one in plan.numbers}
    laminates = {one.laminate for one in plan.laminates}
    return tuple(
        offer
        for offer in (*_of_hats(project), *_of_laminates(project), *_of_spans(project), *_of_layout(project))
        if (
            offer.wish.laminate not in laminates
            if isinstance(offer.wish, Plies)
            else (offer.wish.change, offer.wish.of, offer.wish.ply) not in numbers
        )
    )


def usual(project: Project) -> tuple[Number | Plies, ...]:
    """Return what is usually asked: heights of the hats that are used, and the plies they are laid of."""
    used = _used_sections(project)
    hats = {id: hat for id, hat in _hats(project).items() if id in used} or _hats(project)  # noqa: A001
    laid = {hat.laminate for hat in hats.values()}
    found: list[Number | Plies] = []
    for offer in offers(project):
        wish = offer.wish
        if isinstance(wish, Plies):
            found += [wish] if wish.laminate in laid else []
        elif wish.change is Change.HEIGHT and wish.of[0] in hats:
            found.append(wish)
    return tuple(found)


def _used_sections(project: Project) -> set[str]:
    used = {span.section for span in project.spans}
    layout = _layout(project)
    for member in layout.members if layout else ():
        used |= {member.section, *(stretch.section for stretch in member.stretches)}
    return used


def _layout(project: Project) -> Layout | None:
    return next((one for one in project.layouts if one.id == project.layout), None)


def _hats(project: Project) -> dict[str, HatParameters]:
    found = {one.id: hat_parameters(project, one) for one in project.sections}
    return {id: hat for id, hat in found.items() if hat}  # noqa: A001


def _of_hats(project: Project) -> list[Offer]:
    hats = _hats(project)
    found: list[Offer] = []
    for change, field, group in _OF_HATS:
        for section in project.sections:
            hat = hats.get(section.id)
            if hat is not None:
                wish = _about(change, (section.id,), getattr(hat, field), _STEPS[project.units])
                found.append(Offer(group=group, words=section.name, wish=wish))
    beads = [section for section in project.sections if section.bead > 0]
    return found + [
        Offer(group="Beads", words=section.name, wish=_bead(section, project.units)) for section in beads
    ]


def _about(change: Change, of: tuple[str, ...], now: float, step: float) -> Number:
    """Return a range about the present, of at least a step down and up, none of it at or below 0."""
    steps = max(round(_PART * now / step), 1)
    down = min(steps, max(int((now - 1e-6) / step), 0))
    least, most = round(now - down * step, 6), round(now + steps * step, 6)
    return Number(id="", change=change, of=of, least=least, most=most, step=step)


def _bead(section: Section, units: System) -> Number:
    return _about(Change.BEAD, (section.id,), section.bead, _BEAD_STEPS[units])


def _of_laminates(project: Project) -> list[Offer]:
    book = book_of(project)
    found: list[Offer] = []
    for laminate in project.laminates:
        plies = plies_of(laminate, book)
        if plies is not None:
            found.append(Offer(group=PLIES_GROUP, words=laminate.name, wish=plies))
    for laminate in project.laminates:
        for number, name in _layered(laminate, book).items():
            wish = Number(
                id="", change=Change.REPEATS, of=(laminate.id,), ply=number, least=1, most=4, step=1
            )
            found.append(Offer(group="Layers of one ply", words=f"{laminate.name}, {name}", wish=wish))
    return found


def _layered(laminate: Laminate, book: Book) -> dict[int, str]:
    """Return the first ply of each fabric but mat, by its number from 1, with its name."""
    found: dict[str, tuple[int, str]] = {}
    for number, ply in enumerate(laminate.plies, 1):
        material = book.reinforcement(ply.material)
        if material is not None and material.kind is not PlyKind.MAT:
            found.setdefault(ply.material, (number, f"ply {number}: {material.name}"))
    return dict(found.values())


def plies_of(laminate: Laminate, book: Book) -> Plies | None:
    """Return what may change of a laminate's plies: gel coat stays, and of a sandwich all as far as its core.

    A mat that lies first, next to the mould, and one that lies last, where things are bonded, stay too, as
    long as something else is left to change. The menu is the fabrics left now; mat lies between wherever it
    does now. None where nothing is laid.
    """
    kinds = [one.kind if (one := book.reinforcement(ply.material)) else None for ply in laminate.plies]
    kept = max((i for i, kind in enumerate(kinds, 1) if kind is None), default=0)
    ended = 0
    if not kinds[kept:]:
        return None
    if any(kind is not PlyKind.MAT for kind in kinds[kept:]):
        kept += kinds[kept] is PlyKind.MAT
        ended += kinds[-1] is PlyKind.MAT
    free = [ply.material for ply in laminate.plies[kept : len(kinds) - ended]]
    bare = [kind not in (PlyKind.MAT, PlyKind.MAT_STITCHED) for kind in kinds[kept:]]
    return Plies(
        id="",
        laminate=laminate.id,
        menu=tuple(dict.fromkeys(ply.material for ply in laminate.plies if ply.material in free)),
        least=max(len(free) - MORE_PLIES, 1),
        most=len(free) + MORE_PLIES,
        kept=kept,
        ended=ended,
        mat_between=not any(a and b for a, b in pairwise(bare)),
    )


def _of_spans(project: Project) -> list[Offer]:
    found: list[Offer] = []
    for section in project.sections:
        spans = [span for span in project.spans if span.section == section.id]
        if not spans:
            continue
        of = tuple(span.id for span in spans)
        words = f"{section.name}, {len(spans)} span{'s' if len(spans) > 1 else ''}"
        step = _PLACE_STEPS[project.units]
        for change, group, values in (
            (Change.SPACING, "Spacing", [span.s for span in spans]),
            (Change.LENGTH, "Span lengths", [span.lu for span in spans]),
        ):
            wish = _about(change, of, Tally(values).most_common(1)[0][0], step)
            found.append(Offer(group=group, words=words, wish=wish))
    return found


def _of_layout(project: Project) -> list[Offer]:
    layout = _layout(project)
    if layout is None:
        return []
    found: list[Offer] = []
    step = _PLACE_STEPS[project.units]
    for member in layout.members:
        if member.kind is MemberKind.LONGITUDINAL and member.hand is not Hand.CENTRELINE:
            now = abs(member.points[0][1])
            reach = 4 * step
            wish = Number(
                id="",
                change=Change.PLACE,
                of=(member.id,),
                least=round(max(now - reach, now % step), 6),
                most=round(now + reach, 6),
                step=step,
            )
            found.append(Offer(group="Distances from the centreline", words=member.name, wish=wish))
    names = {section.id: section.name for section in project.sections}
    across: dict[str, list[str]] = {}
    for member in layout.members:
        if member.kind is MemberKind.TRANSVERSE:
            across.setdefault(member.section, []).append(member.id)
    for section, ids in across.items():
        if len(ids) > 1:
            wish = Number(
                id="",
                change=Change.TRANSVERSES,
                of=tuple(ids),
                least=max(len(ids) - 2, 2),
                most=len(ids) + 2,
                step=1,
            )
            words = f"{names.get(section, section)}, {len(ids)} now"
            found.append(Offer(group="Number of transverses", words=words, wish=wish))
    return found
