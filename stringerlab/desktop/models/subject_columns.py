"""What is shown and asked of panels, spans and zones, column by column. No Qt."""

from collections.abc import Sequence
from dataclasses import replace

from stringerlab.desktop.models.subject_field import Choice, Field, Subject, ends_words
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import Duty, End, LyingPan, Panel, Span, Surface, Zone
from stringerlab.project import Project
from stringerlab.units import Kind, trimmed, unit_named

_DEG = unit_named("deg").factor
_ENDS = [
    (End.HELD, End.HELD),
    (End.HELD, End.SIMPLE),
    (End.SIMPLE, End.HELD),
    (End.SIMPLE, End.SIMPLE),
    (End.HELD, End.FREE),
    (End.FREE, End.HELD),
]


def _laminates(project: Project) -> Sequence[Choice]:
    return [Choice(value=one.id, words=one.name or one.id) for one in project.laminates]


def _or_by_place(project: Project) -> Sequence[Choice]:
    return [*_laminates(project), Choice(value="", words="by place")]


def _or_none(project: Project) -> Sequence[Choice]:
    return [Choice(value="", words="none"), *_laminates(project)]


def _surfaces(project: Project) -> Sequence[Choice]:
    del project
    return [Choice(value=surface, words=surface.value) for surface in Surface]


def _pan_laminate(panel: Panel) -> str:
    return "" if panel.pan is None else panel.pan.laminate


def _with_pan_laminate(panel: Panel, laminate: str) -> Panel:
    if not laminate:
        return replace(panel, pan=None)
    held = panel.pan or LyingPan(laminate=laminate)
    return replace(panel, pan=replace(held, laminate=laminate))


def _pan_bonded(panel: Panel) -> bool:
    return panel.pan is not None and panel.pan.fully_bonded


def _with_pan_bonded(panel: Panel, bonded: bool) -> Panel:
    return panel if panel.pan is None else replace(panel, pan=replace(panel.pan, fully_bonded=bonded))


def _pan_voids(panel: Panel) -> float | None:
    return None if panel.pan is None else panel.pan.voids


def _with_pan_voids(panel: Panel, voids: float | None) -> Panel:
    if panel.pan is None or voids is None:
        return panel
    return replace(panel, pan=replace(panel.pan, voids=voids))


def _sections(project: Project) -> Sequence[Choice]:
    return [Choice(value=one.id, words=one.name or one.id) for one in project.sections]


def _ends(project: Project) -> Sequence[Choice]:
    del project
    return [Choice(value=pair, words=ends_words(pair)) for pair in _ENDS]


def _attached(project: Project) -> Sequence[Choice]:
    del project
    return [Choice(value=True, words="yes"), Choice(value=False, words="no")]


def _duties(project: Project) -> Sequence[Choice]:
    del project
    return [Choice(value=duty, words=duty.value) for duty in Duty]


def _length(key: str, title: str, meaning: str, width: int = 80) -> Field:
    return Field(key=key, title=title, meaning=meaning, width=width, kind=Kind.LENGTH)


def _places(width: int) -> tuple[Field, ...]:
    return (
        _length("x", "x", "From the transom forward to its middle", 74),
        Field(
            key="deadrise",
            title="deadrise (hull)",
            meaning="Slope of the bottom where it lies; in brackets the hull's own there, where they differ",
            width=width,
            kind=Kind.ANGLE,
            factor=_DEG,
        ),
        _length("camber", "camber", "Rise of the curve over the span; 0 where it is flat", 62),
    )


FIELDS: dict[type[Subject], tuple[Field, ...]] = {
    Panel: (
        Field(
            key="name",
            title="panel",
            meaning="A piece of a surface between its supports: of hull bottom, between web roots",
            width=200,
        ),
        _length("b", "b", "Short side, in the skin, from web root to web root"),
        _length("l", "l", "Long side, in the skin"),
        *_places(114),
        Field(
            key="laminate",
            title="laminate",
            meaning="The hull's laminate there; by place: that of the zones",
            width=130,
            choices=_or_by_place,
        ),
    ),
    Span: (
        Field(key="name", title="span", meaning="A member between two supports", width=164),
        Field(key="section", title="section", meaning="The member's section", width=94, choices=_sections),
        Field(
            key="plating",
            title="plating",
            meaning="The hull's laminate under it; by place: that of the zones",
            width=66,
            choices=_or_by_place,
        ),
        _length("lu", "lu", "Unsupported length between the supports", 78),
        _length("s", "s", "Spacing of the members, centre to centre, in the skin", 78),
        *_places(108),
        Field(
            key="ends",
            title="ends",
            meaning="How each end is held: held (goes on or clamped), simple (dies there), free",
            width=76,
            choices=_ends,
        ),
        Field(
            key="attached",
            title="attached",
            meaning="Whether its flanges are bonded to the plating all along",
            width=70,
            choices=_attached,
        ),
    ),
    Zone: (
        Field(key="name", title="zone", meaning="Where a laminate of the hull lies", width=200),
        Field(
            key="surface",
            title="surface",
            meaning="The part of the boat it lies on",
            width=140,
            choices=_surfaces,
        ),
        Field(
            key="laminate",
            title="laminate",
            meaning="What is laid there, over the zones above it in this table",
            width=150,
            choices=_laminates,
        ),
        _length("aft", "aft x", "Its aft end, from the transom forward"),
        _length("forward", "forward x", "Its forward end"),
        replace(_length("inboard", "inboard y", "From the centreline; empty: to it"), optional=True),
        replace(_length("outboard", "outboard y", "From the centreline; empty: to the edge"), optional=True),
        _length("taper", "taper", "Length over which its plies drop off at either end", 70),
    ),
}
"""The columns of each kind, in the order in which they are shown, copied and pasted."""


def _optional(key: str, title: str, meaning: str, width: int = 80) -> Field:
    return replace(_length(key, title, meaning, width), optional=True)


_WHERE = (
    Field(
        key="surface",
        title="surface",
        meaning="What it is part of: it decides which pressure is asked of it",
        width=150,
        choices=_surfaces,
    ),
    _optional("y", "y", "Its middle's distance from the centreline, for zones bounded in breadth"),
    _optional("height", "height", "Its middle's height above the waterline, for a side"),
    _optional("head", "head", "Head of water it is to hold, for a bulkhead or a tank"),
)


def _with_count(span: Span, count: float) -> Span:
    if not count.is_integer() or count < 1:
        raise StringerlabError(
            Problem(f"{trimmed(count)} alike is no count.", remedy="Give a whole number from 1.")
        )
    return replace(span, count=int(count))


MORE: dict[type[Subject], tuple[Field, ...]] = {
    Panel: (
        *_WHERE,
        Field(
            key="pan",
            title="pan on it",
            meaning="Laminate of a pan lying on the hull over the panel",
            width=130,
            choices=_or_none,
            held=_pan_laminate,
            with_value=_with_pan_laminate,
        ),
        Field(
            key="pan.fully_bonded",
            title="fully bonded",
            meaning="A pan counts toward thickness only where it is bonded all over",
            width=60,
            choices=_attached,
            held=_pan_bonded,
            with_value=_with_pan_bonded,
        ),
        Field(
            key="pan.voids",
            title="voids",
            meaning="Part of the bond that is void: taken from what a bonded pan counts",
            width=60,
            kind=Kind.RATIO,
            optional=True,
            held=_pan_voids,
            with_value=_with_pan_voids,
        ),
    ),
    Span: (
        *_WHERE,
        Field(
            key="count",
            title="alike",
            meaning="How many like it the boat has, for the take-off",
            width=60,
            kind=Kind.RATIO,
            with_value=_with_count,
        ),
        Field(
            key="duty",
            title="duty",
            meaning="What it carries besides the sea: under an engine or a gyro, whose load comes again and "
            "again, the method first principles allows less strain",
            width=110,
            choices=_duties,
        ),
    ),
    Zone: (),
}
"""What is asked of the selected rows beside the table; copied and pasted behind its columns."""


def columns(kind: type[Subject]) -> tuple[Field, ...]:
    """Return the columns of a kind as they are copied and pasted."""
    return (*FIELDS[kind], *MORE[kind])
