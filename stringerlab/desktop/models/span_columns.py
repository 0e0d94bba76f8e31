"""What is asked of a span's openings, crossings, landings and outboards, field by field. No Qt."""

from collections.abc import Sequence
from dataclasses import replace
from enum import StrEnum

from stringerlab.desktop.models.subject_field import Choice, Field
from stringerlab.layout import Backed, Crossing, Cut, Hole, Landing, LandsOn, Opening, TransomLoad
from stringerlab.project import Project
from stringerlab.units import Kind

Part = Opening | Crossing


def _all_of(kind: type[StrEnum]) -> Sequence[Choice]:
    return [Choice(value=one, words=one.value) for one in kind]


def _choice(key: str, title: str, meaning: str, kind: type[StrEnum], width: int) -> Field:
    def offered(project: Project) -> Sequence[Choice]:
        del project
        return _all_of(kind)

    return Field(key=key, title=title, meaning=meaning, width=width, choices=offered)


def _length(key: str, title: str, meaning: str, width: int = 72, *, optional: bool = False) -> Field:
    return Field(key=key, title=title, meaning=meaning, width=width, kind=Kind.LENGTH, optional=optional)


def _with_backing(crossing: Crossing, backed: Backed) -> Crossing:
    if backed is Backed.NONE:
        return replace(crossing, backed=backed, thickness=None, length=None)
    return replace(crossing, backed=backed)


PARTS: dict[type[Part], tuple[Field, ...]] = {
    Opening: (
        _choice("kind", "kind", "Limber: lets water pass. Lightening: saves weight", Hole, 92),
        _length("x", "x", "Of its middle, along the span from its aft end"),
        _length("width", "width", "Along the span"),
        _length("height", "height", "Up the web"),
        _length("bottom", "bottom", "Of its lower edge above the shell; 0 on it"),
        _length("radius", "radius", "Of its corners; half of its smaller side makes it round"),
    ),
    Crossing: (
        _length("x", "x", "Along the span, from its aft end"),
        _choice("crown", "crown", "Whether this member's crown is cut there or goes on", Cut, 94),
        _length("height", "height", "Of the other member's crown above the shell"),
        replace(
            _choice("backed", "behind", "What takes a cut crown's force on from the web", Backed, 94),
            with_value=_with_backing,
        ),
        _length("thickness", "thickness", "Of one tab, or of the diaphragm", optional=True),
        _length("length", "bonded", "Length along which a tab or the diaphragm is bonded", optional=True),
    ),
}
"""Columns of each table."""

LANDING: tuple[Field, ...] = (
    _choice("on", "lands on", "What it comes to rest on", LandsOn, 140),
    _length("taper", "taper", "Length over which its crown falls; 0 for none"),
    _length(
        "height", "to height", "Of its crown at the end; empty: as it is, or to the shell", optional=True
    ),
)

OUTBOARDS: tuple[Field, ...] = (
    Field(
        key="thrust",
        title="thrust",
        meaning="Of all outboards together, at full throttle",
        width=78,
        kind=Kind.FORCE,
    ),
    _length("depth", "depth", "Of the thrust's line below the shell there"),
    Field(key="weight", title="weight", meaning="Of all outboards together", width=78, kind=Kind.FORCE),
    _length("overhang", "overhang", "Of the weight's line behind the transom"),
    Field(
        key="times",
        title="times (g)",
        meaning="What acceleration makes of the weight: 1 at rest",
        width=48,
        kind=Kind.RATIO,
    ),
    Field(
        key="share",
        title="share",
        meaning="Part of both that this member takes: 0.5 for one of two",
        width=48,
        kind=Kind.RATIO,
    ),
)

WORDS: dict[type[Part], str] = {Opening: "opening", Crossing: "crossing"}


def summary(
    landings: tuple[Landing, Landing], openings: int, crossings: int, load: TransomLoad | None
) -> str:
    """Return in a few words what a span has of these; empty for nothing."""
    said = [
        f"{count} {word}{'s' if count > 1 else ''}"
        for count, word in ((openings, "opening"), (crossings, "crossing"))
        if count
    ]
    said += [
        f"{end} end {landing.on.value if landing.on is not LandsOn.AS_END else 'tapers'}"
        for end, landing in zip(("aft", "forward"), landings, strict=True)
        if landing != Landing()
    ]
    return ", ".join([*said, *(["outboards"] if load is not None else [])])
