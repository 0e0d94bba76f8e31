"""What is asked of members, cavities, equipment, supports and combinations, field by field. No Qt."""

from collections.abc import Sequence
from dataclasses import replace
from enum import StrEnum
from typing import Any

from stringerlab.desktop.models.subject_field import Choice, Field
from stringerlab.layout.openings import Backed, Cut, LandsOn
from stringerlab.layout.plan import (
    Contact,
    Equipment,
    EquipmentKind,
    Hand,
    Held,
    Insert,
    Member,
    MemberKind,
    Participation,
    Use,
)
from stringerlab.layout.records import Duty
from stringerlab.materials import shipped
from stringerlab.project import Project
from stringerlab.units import Kind


def choice(key: str, title: str, meaning: str, kind: type[StrEnum], width: int = 96) -> Field:
    """Return a field that is one of a kind's values."""

    def offered(project: Project) -> Sequence[Choice]:
        del project
        return [Choice(value=one, words=one.value) for one in kind]

    return Field(key=key, title=title, meaning=meaning, width=width, choices=offered)


def yes_or_no(key: str, title: str, meaning: str, words: tuple[str, str] = ("no", "yes")) -> Field:
    """Return a field that is or is not so."""

    def offered(project: Project) -> Sequence[Choice]:
        del project
        return [Choice(value=False, words=words[0]), Choice(value=True, words=words[1])]

    return Field(key=key, title=title, meaning=meaning, width=76, choices=offered)


def quantity(
    key: str, title: str, meaning: str, kind: Kind = Kind.LENGTH, width: int = 82, *, optional: bool = False
) -> Field:
    """Return a field that is a number with a unit."""
    return Field(key=key, title=title, meaning=meaning, width=width, kind=kind, optional=optional)


def _sections(project: Project) -> Sequence[Choice]:
    return [
        Choice(value="", words="none"),
        *(Choice(value=s.id, words=s.name or s.id) for s in project.sections),
    ]


def _laminates(project: Project) -> Sequence[Choice]:
    return [
        Choice(value="", words="none"),
        *(Choice(value=each.id, words=each.name or each.id) for each in project.laminates),
    ]


def _solids(project: Project) -> Sequence[Choice]:
    held = {each.id: each.name or each.id for each in (*shipped().solids, *project.materials.solids)}
    return [Choice(value="", words="none"), *(Choice(value=id_, words=words) for id_, words in held.items())]


def _end(number: int, title: str) -> Field:
    def offered(project: Project) -> Sequence[Choice]:
        del project
        return [
            Choice(value=one, words="as drawn" if one is LandsOn.AS_END else one.value) for one in LandsOn
        ]

    def with_value(member: Member, on: LandsOn) -> Member:
        ends = (on, member.ends[1]) if number == 0 else (member.ends[0], on)
        return replace(member, ends=ends)

    def held(member: Member) -> LandsOn:
        return member.ends[number]

    meaning = "How it lands there: aft, of a transverse inboard" if number == 0 else "Forward, or outboard"
    return Field(
        key=f"end_{number}",
        title=title,
        meaning=meaning,
        width=104,
        choices=offered,
        held=held,
        with_value=with_value,
    )


def _taper(number: int, title: str) -> Field:
    def with_value(member: Member, length: float) -> Member:
        tapers = (length, member.tapers[1]) if number == 0 else (member.tapers[0], length)
        return replace(member, tapers=tapers)

    return Field(
        key=f"taper_{number}",
        title=title,
        meaning="Length over which its crown falls to the shell, where that end is tapered out",
        width=76,
        kind=Kind.LENGTH,
        held=lambda member: member.tapers[number],
        with_value=with_value,
    )


NAME = Field(key="name", title="name", meaning="What it is called", width=150)
HAND = choice("hand", "hand", "On which side of the centreline it stands; a pair is drawn once", Hand, 92)

MEMBER: tuple[Field, ...] = (
    NAME,
    choice("kind", "kind", "Which way it runs", MemberKind, 98),
    HAND,
    Field(
        key="section",
        title="section",
        meaning="Its section from its first point on; stretches of others are on the plan",
        width=118,
        choices=_sections,
    ),
    choice("crown", "crown", "Whether its crown goes through where an equal or higher one crosses", Cut, 94),
    choice("backed", "behind", "What takes a cut crown's force on from the web", Backed, 94),
    quantity("tab_thickness", "tab thick", "Of one tab's laminate, or of the diaphragm's", optional=True),
    quantity("tab_length", "tab bond", "Along what a tab, or the diaphragm, is bonded", optional=True),
    _end(0, "first end"),
    _taper(0, "first taper"),
    _end(1, "last end"),
    _taper(1, "last taper"),
    choice("contact", "contact", "Bonded to the bottom only, or up the hull's side too", Contact, 104),
    choice("duty", "duty", "What it carries besides the sea", Duty, 94),
    yes_or_no("attached", "attached", "Whether its flanges are bonded to the plating all along"),
)

CAVITY: tuple[Field, ...] = (
    NAME,
    choice("use", "use", "What it is for", Use),
    HAND,
    quantity("depth", "depth", "Of its level top over its lowest place; empty: to the crowns", optional=True),
    Field(key="foam", title="foam", meaning="The solid that fills it", width=110, choices=_solids),
    quantity("filled", "filled", "The part of it that the foam fills", Kind.RATIO, 66),
    yes_or_no("sealed", "sealed", "Sealed: no drain, and its foam stays dry", ("drained", "sealed")),
    quantity("wet", "wet foam", "Water the foam takes up, in parts of its volume", Kind.RATIO, 66),
    quantity("insulation", "insulation", "Thickness of the box's walls"),
    Field(
        key="access",
        title="access",
        meaning="How a tank comes out and is looked at; this reaches the report",
        width=220,
    ),
)

EQUIPMENT: tuple[Field, ...] = (
    NAME,
    choice("kind", "kind", "What it is", EquipmentKind, 116),
    HAND,
    Field(
        key="x",
        title="x",
        meaning="From the transom forward to the middle of its feet or footprint",
        width=82,
        kind=Kind.LENGTH,
        held=lambda thing: thing.at[0],
        with_value=lambda thing, x: replace(thing, at=(x, thing.at[1])),
    ),
    Field(
        key="y",
        title="y",
        meaning="From the centreline to port",
        width=82,
        kind=Kind.LENGTH,
        held=lambda thing: thing.at[1],
        with_value=lambda thing, y: replace(thing, at=(thing.at[0], y)),
    ),
    quantity("mass", "mass", "Of one of it, full", Kind.MASS, 78),
)
"""Columns of the table of equipment."""

_LENGTH = quantity("length", "length", "Fore and aft, of its footprint")
_BREADTH = quantity("breadth", "breadth", "Athwart, of its footprint")
_HEIGHT = quantity("height", "height", "Of its centre of mass above the shell there")
_G = quantity(
    "acceleration",
    "acceleration, g",
    "What multiplies its weight; empty: the method's vertical acceleration there",
    Kind.RATIO,
    optional=True,
)
_THRUST = quantity("thrust", "thrust", "Forward, of one of it", Kind.FORCE)
_TORQUE = quantity("torque", "torque about x", "Of the shaft, or of a gyro rolling", Kind.MOMENT)
_SPEED = Field(
    key="speed",
    title="speed, rpm",
    meaning="Of its shaft or rotor, in turns a minute",
    width=82,
    kind=Kind.RATIO,
)
_K = EquipmentKind
BY_KIND: dict[EquipmentKind, tuple[Field, ...]] = {
    _K.TANK: (
        _LENGTH,
        _BREADTH,
        quantity("head", "head of water", "Over its bottom, to the top of its vent"),
        _HEIGHT,
        _G,
    ),
    _K.ENGINE: (_HEIGHT, _THRUST, _TORQUE, _SPEED, _G),
    _K.OUTBOARD: (
        _THRUST,
        quantity("height", "propeller height", "Of the thrust's line above the shell; below it negative"),
        quantity("overhang", "overhang", "Of its weight behind the transom"),
        _G,
    ),
    _K.GYRO: (
        _HEIGHT,
        _TORQUE,
        quantity("pitching", "torque about y", "Of its frame when it leans", Kind.MOMENT),
        _SPEED,
        _G,
    ),
    _K.DECK: (_LENGTH, _BREADTH, _G),
    _K.POINT: (_HEIGHT, _THRUST, _G),
    _K.KNEE: (quantity("overhang", "arm", "Of its load out from the member"), _HEIGHT, _G),
    _K.LIFTING: (_G,),
    _K.BLOCKING: (_LENGTH, _BREADTH, _G),
}
"""What is asked of each kind of equipment besides the columns of the table."""
FOOTED = (_K.ENGINE, _K.OUTBOARD, _K.GYRO, _K.TANK, _K.POINT)
"""Kinds with feet of their own, which may be bolted to blocks."""

INSERT: tuple[Field, ...] = (
    Field(
        key="material", title="block", meaning="What the block laminated in is of", width=110, choices=_solids
    ),
    quantity("bolts", "bolts at a foot", "How many", Kind.RATIO),
    quantity("diameter", "bolt diameter", "Of the shank"),
    quantity("edge", "edge distance", "From a bolt's middle to the nearest edge of block or laminate"),
    quantity("thickness", "block thickness", "Along the bolt"),
    quantity("embedded", "laminate over it", "Thickness of the laminate over the block"),
    quantity("length", "block length", "Fore and aft"),
    quantity("width", "block width", "Athwart"),
)


def with_insert_value(thing: Equipment, field: Field, value: Any) -> Equipment:
    """Return an equipment with another value of its insert; bolts are whole."""
    changed = field.put(thing.insert or Insert(), value)
    return replace(thing, insert=replace(changed, bolts=round(changed.bolts)))


SUPPORTS: tuple[Field, ...] = (
    choice("transom", "transom", "How it holds the members that end at it", Held),
    choice("chine", "chine", "How the hull's side holds the members that end at it", Held),
    choice("forward", "forward edge", "How it holds the members that end at it", Held),
    choice("keel", "keel", "How it holds members that end there without meeting another", Held),
    Field(
        key="side_laminate",
        title="side laminate",
        meaning="Of the hull's side: the spring of elastic chines",
        width=110,
        choices=_laminates,
    ),
    quantity("side_height", "side height", "Chine to deck edge, over which the side bends"),
)
RULES: tuple[Field, ...] = (
    choice("participation", "plating with members", "How much plating a member takes along", Participation),
    quantity("step", "patch step", "Of a slam patch along its subject, in parts of its length", Kind.RATIO),
    yes_or_no("keel_bounds", "panels end at the keel", "Whether the keel's knuckle ends a panel"),
    quantity("deflection", "deflection allowed", "In parts of a span's length", Kind.RATIO),
)
