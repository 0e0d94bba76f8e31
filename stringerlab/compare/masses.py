"""What a layout's or boat's members weigh, part by part, and where their centre of gravity lies. kg, mm."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, cos

import numpy as np

from stringerlab.assess.takeoff import TakeOff, take_off
from stringerlab.compare.records import Measured, unknown
from stringerlab.compare.sections import KG, Weighed, weighed_sections
from stringerlab.craft import Bottom
from stringerlab.errors import Problem
from stringerlab.laminate import mass as areal_mass
from stringerlab.layout.lengths import Length, lengths_of
from stringerlab.layout.plan import Contact, Equipment, Hand, Layout, MemberKind
from stringerlab.layout.records import Span
from stringerlab.materials import Book
from stringerlab.project import Project, Resolved
from stringerlab.project.section_shapes import member_sizes

_LONGEST = 20_000.0
"""Of one span, as its record has it [mm]."""
_SPACING = 100.0
_LEAST_JUDGED = 0.02
"""Part of the bottom that may be taken at the mean of the rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """So much of a section at a place; ``z`` of the shell is None where the place across is not known."""

    section: str
    length: float
    x: float
    z: float | None
    lean: float
    """Cosine of the slope of what it stands on."""
    chine_ends: int | None
    """None where a drawing would have to say."""
    who: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pieces:
    """Everything that is weighed, and what could not be."""

    pieces: tuple[Piece, ...]
    weighed: Mapping[str, Weighed]
    missing: tuple[Problem, ...]
    """Why members are not counted; with any of them sums are not known."""
    notes: tuple[str, ...]
    members: int
    all_round: int
    """How many members are bonded up the hull's side."""


def pieces_of(
    project: Project, resolved: Resolved, layout: Layout | None, bottom: Bottom | None, book: Book
) -> Pieces:
    """Return what there is of every section: of a layout's members, or of the spans given by hand."""
    weighed, wrong = weighed_sections(project, resolved, book)
    if layout is not None and resolved.found is not None and bottom is not None:
        lengths = lengths_of(layout, resolved.found, bottom, member_sizes(project, layout))
        missing, kept = _sound_lengths(lengths, weighed, wrong, layout)
        return Pieces(
            pieces=tuple(_of_length(one, bottom) for one in kept),
            weighed=weighed,
            missing=missing,
            notes=tuple(_layout_notes(project, layout)),
            members=len(layout.members),
            all_round=sum(one.contact is Contact.ALL_ROUND for one in layout.members),
        )
    if layout is not None:
        where = f"layout '{layout.name}'"
        none = Problem(
            "Nothing is found in it: the hull bottom is not known.", where, "Give it two stations."
        )
        return Pieces(pieces=(), weighed=weighed, missing=(none,), notes=(), members=0, all_round=0)
    spans = project.spans
    unsound = [span for span in spans if span.section not in weighed]
    return Pieces(
        pieces=tuple(_of_span(span, bottom) for span in spans if span.section in weighed),
        weighed=weighed,
        missing=tuple(
            problem
            for span in unsound
            for problem in wrong.get(span.section)
            or (Problem(f"There is no section '{span.section}'.", f"span '{span.name}' ({span.id})"),)
        ),
        notes=("Members are the spans given by hand: what runs on through supports is not counted.",)
        if spans
        else (),
        members=len(spans),
        all_round=0,
    )


def _layout_notes(project: Project, layout: Layout) -> Iterator[str]:
    if project.spans:
        many = "1 span is" if len(project.spans) == 1 else f"{len(project.spans)} spans are"
        yield f"{many} given by hand beside the layout, and not counted."
    bare = [
        member.name for member in layout.members if member.kind is MemberKind.BULKHEAD and not member.section
    ]
    if bare:
        yield f"Bulkheads without a section are not weighed: {', '.join(bare)}."


def _sound_lengths(
    lengths: Sequence[Length],
    weighed: Mapping[str, Weighed],
    wrong: Mapping[str, tuple[Problem, ...]],
    layout: Layout,
) -> tuple[tuple[Problem, ...], list[Length]]:
    kept: list[Length] = []
    missing: dict[Problem, None] = {}
    for one in lengths:
        if one.section in weighed:
            kept.append(one)
        elif one.member.kind is not MemberKind.BULKHEAD or one.section:
            where = f"layout '{layout.name}', member '{one.member.name}' ({one.member.id})"
            what = f"There is no section '{one.section}'." if one.section else "It has no section."
            for problem in wrong.get(one.section) or (Problem(what, where, "Choose one."),):
                missing[problem] = None
    return tuple(missing), kept


def _of_length(one: Length, bottom: Bottom) -> Piece:
    x, _, z = one.at
    return Piece(
        section=one.section,
        length=one.length,
        x=x,
        z=z,
        lean=float(np.cos(bottom.deadrise(np.array([x]))[0])),
        chine_ends=one.chine_ends,
        who=one.member.id,
    )


def _of_span(span: Span, bottom: Bottom | None) -> Piece:
    z = None
    if bottom is not None and span.y is not None:
        z = float(bottom.height(np.array([[span.x, span.y]]))[0])
    return Piece(
        section=span.section,
        length=span.lu * span.count,
        x=span.x,
        z=z,
        lean=cos(np.radians(span.deadrise)),
        chine_ends=None,
        who=span.id,
    )


def taken_off(project: Project, resolved: Resolved, pieces: Pieces) -> TakeOff:
    """Return the take-off of pieces, section by section, with the project's rates."""
    lengths: dict[str, float] = defaultdict(float)
    for piece in pieces.pieces:
        lengths[piece.section] += piece.length
    spans: list[Span] = []
    for section, length in lengths.items():
        parts = max(ceil(length / _LONGEST), 1)
        # a span's record, of which a take-off asks only section, length and count
        spans.append(
            Span(
                id=section,
                name=section,
                section=section,
                lu=length / parts,
                s=_SPACING,
                x=0.0,
                deadrise=0.0,
                count=parts,
            )
        )
    whole = replace(project, spans=tuple(spans), panels=(), layouts=(), layout="")
    return take_off(whole, replace(resolved, subjects=tuple(spans), found=None))


def why_missing(pieces: Pieces, layout: Layout | None) -> str:
    """Return why sums over members are not known; empty where they are."""
    if pieces.missing:
        more = len(pieces.missing) - 1
        return f"{pieces.missing[0]}" + (f" And {more} more." if more else "")
    if not pieces.pieces:
        return "no member is drawn" if layout is not None else "no layout is drawn, and no span is given"
    return ""


def laminate_masses(pieces: Pieces) -> dict[str, float]:
    """Return what the members' laminates weigh, by name [kg]."""
    found: dict[str, float] = defaultdict(float)
    for piece in pieces.pieces:
        for name, per_mm in pieces.weighed[piece.section].laminates.items():
            found[name] += piece.length * per_mm
    return dict(found)


def centre_of(pieces: Pieces) -> tuple[Measured, Measured, float]:
    """Return x and z of the members' centre of gravity with their fills and beads [mm], and their mass [kg].

    The bead's mass is taken at the shell; ends, laps and what members take of one another are as in lengths.
    """
    x = z = total = 0.0
    lost = 0
    for piece in pieces.pieces:
        of = pieces.weighed[piece.section]
        part = piece.length * (sum(of.laminates.values()) + of.fills)
        bead = piece.length * of.bead
        total += part + bead
        x += (part + bead) * piece.x
        if piece.z is None:
            lost += 1
        else:
            z += part * (piece.z + of.height * piece.lean) + bead * piece.z
    if not total > 0:
        why = "nothing has mass"
        return unknown(why), unknown(why), total
    if lost:
        why = f"{lost} spans given by hand do not say how far from the centreline they lie"
        return Measured(value=x / total), unknown(why), total
    return Measured(value=x / total), Measured(value=z / total), total


def hull_mass(resolved: Resolved) -> Measured:
    """Return what the bottom's plating weighs, each place once [kg].

    Bays that are not judged, slivers mostly, are taken at the mean of the others where they are under 2 % of
    the bottom; with more of it not judged the mass is not known.
    """
    found = resolved.found
    if found is None or not found.bays:
        return unknown("no layout is drawn, so that the bottom is not parted in panels")
    stacks = {case.panel.id: case.hull or case.stack for case in resolved.panels}
    area = mass = left = 0.0
    for bay in found.bays:
        here = bay.area * len(bay.rings)
        stack = stacks.get(bay.id)
        if stack is None:
            left += here
        else:
            area += here
            mass += here * 1e-6 * areal_mass(stack) / 1000
    if left > _LEAST_JUDGED * (area + left) or not area > 0:
        return unknown(f"{left / (area + left):.0%} of the bottom has no plating that can be reckoned with")
    notes = (f"{left / (area + left):.1%} of it at the mean of the others",) if left > 0 else ()
    return Measured(value=mass * (area + left) / area, notes=notes)


def insert_mass(layout: Layout | None, book: Book) -> Measured:
    """Return what the blocks under machinery weigh, one at every foot [kg]."""
    held = [one for one in layout.equipment if one.insert is not None] if layout is not None else []
    if not held:
        return unknown("no insert is drawn")
    total = 0.0
    for one in held:
        assert one.insert is not None
        solid = book.solid(one.insert.material)
        if solid is None:
            return unknown(f"the insert of '{one.name}' names no material of the book")
        block = one.insert.length * one.insert.width * one.insert.thickness
        total += _feet(one) * block * solid.density.value * KG
    return Measured(value=total)


def _feet(equipment: Equipment) -> int:
    return max(len(equipment.feet), 1) * (2 if equipment.hand is Hand.PAIR else 1)


__all__ = [
    "Piece",
    "Pieces",
    "centre_of",
    "hull_mass",
    "insert_mass",
    "laminate_masses",
    "pieces_of",
    "taken_off",
    "why_missing",
]
