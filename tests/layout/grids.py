"""Hand-made grids on a vee or a flat bottom, and their cavities in few words."""

from dataclasses import replace
from itertools import pairwise
from math import cos, radians, tan

import numpy as np

from stringerlab.layout.cavities import Cavities, CavityReading, cavities
from stringerlab.layout.found import Found, FoundBay, FoundSpan, MemberSize, Side
from stringerlab.layout.hollows import Shell, plan_area
from stringerlab.layout.openings import Hole, Opening
from stringerlab.layout.plan import Cavity, Layout, Member, MemberKind, Use
from stringerlab.materials.records import Solid, Sourced
from stringerlab.workings import Known

BETA = radians(20)
HEIGHTS = {"floor": 150.0, "stringer": 200.0}


def vee(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    return np.abs(y) * tan(BETA) + 0 * x


def rising(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    return 0.02 * x + np.abs(y) * tan(BETA)


VEE = Shell(z=vee)
FLAT = Shell(z=lambda x, y: 0 * x + 0 * y)
FOAM = Solid(
    id="foam32",
    name="Foam",
    density=Sourced(value=32.0, source="nominal", known=Known.STATED),
)


def member(id_: str, kind: MemberKind, points: tuple[tuple[float, float], ...], *openings: Opening) -> Member:
    return Member(id=id_, name=id_.upper(), kind=kind, points=points, openings=openings)


def limber(x: float, bottom: float = 0.0) -> Opening:
    return Opening(kind=Hole.LIMBER, x=x, height=30.0, width=40.0, bottom=bottom)


def grid(
    xs: tuple[float, ...],
    ys: tuple[float, ...],
    *,
    root: float = 0.0,
    openings: dict[str, tuple[Opening, ...]] | None = None,
    sections: dict[str, str] | None = None,
) -> tuple[Layout, Found]:
    """A bottom to x = xs[-1], y = ±ys[-1], split by the keel, transverses and pairs of longitudinals."""
    openings = openings or {}
    transverses = {x: f"t{n}" for n, x in enumerate(xs[1:-1], 1)}
    longitudinals = {y: f"l{n}" for n, y in enumerate(ys[1:-1], 1)}
    members = [
        member(name, MemberKind.TRANSVERSE, ((x, 0.0), (x, ys[-1])), *openings.get(name, ()))
        for x, name in transverses.items()
    ] + [
        member(name, MemberKind.LONGITUDINAL, ((xs[0], y), (xs[-1], y)), *openings.get(name, ()))
        for y, name in longitudinals.items()
    ]
    kinds = {"t": "floor", "l": "stringer"}
    edges = {("x", xs[0]): "transom", ("x", xs[-1]): "forward", ("y", 0.0): "keel", ("y", ys[-1]): "chine"}

    def bay(n: int, x_1: float, x_2: float, y_1: float, y_2: float) -> FoundBay:
        names = [
            longitudinals.get(y_1, edges.get(("y", y_1), "")),
            transverses.get(x_2, edges.get(("x", x_2), "")),
            longitudinals.get(y_2, edges.get(("y", y_2), "")),
            transverses.get(x_1, edges.get(("x", x_1), "")),
        ]
        corners = ((x_1, y_1), (x_2, y_1), (x_2, y_2), (x_1, y_2))
        sides = tuple(
            Side(of=name, span=f"{name}.{n}" if name in by_id else "", start=start, end=end)
            for name, (start, end) in zip(names, pairwise((*corners, corners[0])), strict=True)
        )
        ring = np.array(corners, float)
        cuts = [root if name in by_id else 0.0 for name in names]
        clear = ring + np.array(
            [[cuts[3], cuts[0]], [-cuts[1], cuts[0]], [-cuts[1], -cuts[2]], [cuts[3], -cuts[2]]]
        )
        flip = np.array([1.0, -1.0])
        return FoundBay(
            id=f"p{n}",
            rings=(ring, (ring * flip)[::-1]),
            clear=(clear, (clear * flip)[::-1]),
            sides=sides,
            area=plan_area(ring) / cos(BETA),
            panel=None,
        )

    by_id = {one.id for one in members}
    bays = [
        bay(n, *x, *y) for n, (x, y) in enumerate(((x, y) for x in pairwise(xs) for y in pairwise(ys)), 1)
    ]
    spans = tuple(
        FoundSpan(
            id=side.span,
            key=(side.of, ("", "")),
            member=side.of,
            section=(sections or {}).get(side.of, kinds[side.of[0]]),
            nodes=(),
            lines=(),
            length=0.0,
            slope=0.0,
            span=None,
        )
        for one in bays
        for side in one.sides
        if side.span
    )
    outline = np.array([(xs[0], -ys[-1]), (xs[-1], -ys[-1]), (xs[-1], ys[-1]), (xs[0], ys[-1])])
    found = Found(layout="g1", nodes=(), spans=spans, bays=tuple(bays), outline=outline)
    return Layout(id="g1", name="Grid", members=tuple(members)), found


def cavity(id_: str, use: Use, *anchors: tuple[float, float], **more: object) -> Cavity:
    return replace(Cavity(id=id_, name=id_, use=use, anchors=anchors), **more)  # type: ignore[arg-type]


def read(
    layout: Layout, found: Found, *of: Cavity, shell: Shell = VEE, heights: dict[str, float] | None = None
) -> Cavities:
    return cavities(
        replace(layout, cavities=of),
        found,
        shell,
        {id_: MemberSize(base_width=0.0, height=each) for id_, each in (heights or HEIGHTS).items()},
        {FOAM.id: FOAM},
    )


def one(read_: Cavities, id_: str) -> CavityReading:
    return next(each for each in read_.readings if each.id == id_)


def said(read_: Cavities) -> str:
    return "\n".join(str(placed.problem) for placed in read_.amiss)


AT_KEEL = {"t1": (limber(0.0),), "t2": (limber(0.0),)}
SIX = ((0, 1000, 2000, 3000), (0, 400, 900))
