"""One palette: what every role looks like on paper-coloured light, on slate, and in print.

Colours are ``#rrggbb``; a pen's width is in screen units, `PAPER` mm each on a page. Kinds of ply differ in
lightness first and in hue second, so that they stay apart in black and white and for every eye; tension and
compression are orange and blue.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache
from types import MappingProxyType

from stringerlab.drawing.display import Area, Role, Shade

PAPER = 0.21
"""Millimetres on a page of one unit of pen width."""
TEXT = 2.7
"""Height of the letters on a page [mm]; small ones are `SMALL` of it."""
SMALL = 0.86
MARK = 4.2
"""Half the size of a mark in screen units."""


class Hatch(StrEnum):
    """Strokes over a fill."""

    DIAGONAL = "diagonal"
    CROSS = "cross"
    DOTS = "dots"


@dataclass(frozen=True, slots=True)
class Pen:
    """A line: colour, width in screen units, dash and gap lengths in screen units."""

    colour: str
    width: float = 1.0
    dash: tuple[float, ...] = ()
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Brush:
    """A fill, and the strokes over it."""

    colour: str
    opacity: float = 1.0
    hatch: Hatch | None = None
    hatch_colour: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Theme:
    """Pens and brushes by role. What has none of its own takes the ink."""

    name: str
    background: str
    ink: str
    zero: str
    """Colour of a shaded value of 0."""
    pens: Mapping[Role, Pen] = field(repr=False)
    brushes: Mapping[Role, Brush] = field(repr=False)
    halo: bool = True
    """Whether words stand on a halo of the background."""

    def pen(self, role: Role) -> Pen:
        """Return the pen of a role."""
        return self.pens.get(role) or Pen(self.ink)

    def brush(self, role: Role, tint: Role | None = None) -> Brush:
        """Return the brush of a role, with a second role's colour showing through."""
        brush = self.brushes.get(role) or Brush(self.pen(role).colour)
        if tint is None:
            return brush
        through = self.brush(tint).colour
        return Brush(mixed(brush.colour, through, 0.28), brush.opacity, brush.hatch, brush.hatch_colour)

    def fill(self, area: Area) -> Brush:
        """Return the brush of an area, shading aside."""
        return self.brush(area.role, area.tint)

    def stops(self, shade: Shade) -> tuple[tuple[float, str], ...]:
        """Return the colours of a shaded value from its lower height (0) to its upper (1)."""
        low, high = (value / shade.limit for value in shade.values)
        found = [(0.0, self.value_colour(low))]
        if low * high < 0:
            found.append((low / (low - high), self.zero))
        return (*found, (1.0, self.value_colour(high)))

    def value_colour(self, part: float) -> str:
        """Return the colour of a value as a part of the full one: tension above 0, compression below."""
        full = self.brush(Role.TENSION if part > 0 else Role.COMPRESSION).colour
        return mixed(self.zero, full, min(abs(part), 1.0))


@lru_cache(1024)
def mixed(one: str, other: str, part: float) -> str:
    """Return a colour with so much of another mixed in."""
    pairs = [(int(one[i : i + 2], 16), int(other[i : i + 2], 16)) for i in (1, 3, 5)]
    return "#" + "".join(f"{round(a + (b - a) * part):02x}" for a, b in pairs)


def lightness(colour: str) -> float:
    """Return how light a colour is, CIE L* from 0 black to 100 white."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    Y = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    return 116 * Y ** (1 / 3) - 16 if Y > 216 / 24389 else Y * 24389 / 27


def _theme(name: str, c: Mapping[str, str], brushes: Mapping[Role, Brush], *, halo: bool = True) -> Theme:
    dashed: tuple[float, ...] = (5.0, 2.5) if "words" in c else ()
    pens = {
        Role.PLY_EDGE: Pen(c["edge"], 0.6, opacity=0.55),
        Role.TOOL: Pen(c["ink"], 1.9),
        Role.MOULD_FACE: Pen(c["ink"], 0.9, opacity=0.8),
        Role.UNCOUNTED: Pen(c["ink"], 1.3, (5, 4)),
        Role.SHELL: Pen(c["shell"], 1.5),
        Role.PLATING: Pen(c["shell"], 0.8),
        Role.AXIS: Pen(c["axis"], 1.2, (11, 3, 2, 3)),
        Role.CENTROID: Pen(c["axis"], 1.5),
        Role.TENSION: Pen(c.get("words", c["tension"]), 1.3),
        Role.COMPRESSION: Pen(c.get("words", c["compression"]), 1.3),
        Role.SHEAR: Pen(c.get("words", c["shear"]), 1.3),
        Role.CAVITY: Pen(c["cavity_line"], 0.9, (3, 3)),
        Role.BONDED: Pen(c["bonded"], 2.6),
        Role.OPENING: Pen(c["ink"], 1.2, (5, 3)),
        Role.GOVERNING: Pen(c["short"], 1.6),
        Role.WARNING: Pen(c["short"], 1.6),
        Role.DIMENSION: Pen(c["dimension"], 0.9),
        Role.UNDERLAY: Pen(c["dimension"], 0.8, opacity=0.6),
        Role.TEXT: Pen(c["ink"], 1.0),
        Role.KEEL: Pen(c["ink"], 1.5),
        Role.CHINE: Pen(c["shell"], 1.3),
        Role.WATER: Pen(c["water"], 1.3),
        Role.FIBRE: Pen(c["fibre"], 0.9, opacity=0.75),
        Role.CURVE: Pen(c.get("words", c["compression"]), 1.8),
        Role.GRID: Pen(c["dimension"], 0.7, opacity=0.45),
        Role.HOLDS: Pen(c["holds"], 1.7),
        Role.TIGHT: Pen(c["tight"], 1.7),
        Role.SHORT: Pen(c["short"], 1.9),
        Role.NOT_JUDGED: Pen(c["dimension"], 1.3),
        Role.SELECTED: Pen(c["selected"], 2.2),
        Role.PANEL: Pen(c["dimension"], 0.7, opacity=0.6),
        Role.MEMBER: Pen(c["shell"], 1.1),
        Role.CROWN: Pen(c["shell"], 0.7, opacity=0.8),
        Role.BULKHEAD: Pen(c["ink"], 2.2),
        Role.SPRAY_STEP: Pen(c["cavity_line"], 1.0, (6, 2, 1.5, 2)),
        Role.HULL_STEP: Pen(c["cavity_line"], 1.5),
        Role.NODE: Pen(c["dimension"], 0.9, opacity=0.8),
        Role.SUPPORT: Pen(c["axis"], 1.3),
        Role.EQUIPMENT: Pen(c["fitting"], 1.2),
        Role.INSULATION: Pen(c["edge"], 0.8),
        Role.MOMENT_UP: Pen(c.get("words", c["tension"]), 1.3),
        Role.MOMENT_DOWN: Pen(c.get("words", c["compression"]), 1.3, dashed),
        Role.SHEAR_FORCE: Pen(c.get("words", c["shear"]), 1.3),
        Role.DEFLECTED: Pen(c["bonded"], 1.8),
        Role.REACTION: Pen(c["axis"], 1.7),
        Role.PATCH: Pen(c["short"], 1.8, (7, 3)),
        **{role: Pen(c["edge"], 0.8) for role in (Role.FOAM, Role.BLOCK, Role.PUTTY)},
    }
    fills = {
        Role.TENSION: Brush(c["tension"], 0.85),
        Role.COMPRESSION: Brush(c["compression"], 0.85),
        Role.SHEAR: Brush(c["shear"], 0.45),
        Role.CAVITY: Brush(c["cavity"], 0.55),
        Role.BONDED: Brush(c["bonded"], 0.45),
        Role.OPENING: Brush(c["background"], 0.88),
        Role.WATER: Brush(c["water"], 0.15),
        Role.KEEL: Brush(c["shell"], 0.14),
        Role.CURVE: Brush(c["compression"], 0.16),
        Role.SELECTED: Brush(c["selected"], 0.25),
        Role.HOLDS: Brush(c["holds"], 0.28),
        Role.TIGHT: Brush(c["tight"], 0.34, Hatch.DIAGONAL, c["tight"]),
        Role.SHORT: Brush(c["short"], 0.36, Hatch.CROSS, c["short"]),
        Role.NOT_JUDGED: Brush(c["background"], 0.7, Hatch.DOTS, c["dimension"]),
        Role.MEMBER: Brush(mixed(c["background"], c["shell"], 0.3)),
        Role.CROWN: Brush(mixed(c["background"], c["shell"], 0.45)),
        Role.BULKHEAD: Brush(c["ink"], 0.85),
        Role.EQUIPMENT: Brush(c["fitting"], 0.14),
        Role.INSULATION: Brush(c["background"], 0.8, Hatch.DOTS, c["cavity_line"]),
        Role.MOMENT_UP: Brush(c["tension"], 0.3),
        Role.MOMENT_DOWN: Brush(c["compression"], 0.3),
        Role.SHEAR_FORCE: Brush(c["shear"], 0.3),
        Role.PATCH: Brush(c["short"], 0.16),
        Role.VEIL: Brush(c["background"], 0.72),
        **brushes,
    }
    return Theme(
        name=name,
        background=c["background"],
        ink=c["ink"],
        zero=c["zero"],
        pens=MappingProxyType(pens),
        brushes=MappingProxyType(fills),
        halo=halo,
    )


LIGHT = _theme(
    "light",
    {
        "background": "#fbf9f4",
        "ink": "#1f2a33",
        "edge": "#3b3a36",
        "shell": "#4a5a66",
        "axis": "#a02c5a",
        "tension": "#c9571f",
        "compression": "#1f6fb0",
        "shear": "#3f8a5f",
        "zero": "#f1eee6",
        "cavity": "#d6e6ea",
        "cavity_line": "#3f6774",
        "bonded": "#8a3f87",
        "dimension": "#586570",
        "water": "#2f7fa8",
        "fibre": "#23292e",
        "holds": "#1d7680",
        "tight": "#a8690a",
        "short": "#b0242a",
        "selected": "#d9822b",
        "fitting": "#5a3f8f",
    },
    {
        Role.MAT: Brush("#eddcba"),
        Role.ROVING: Brush("#93b7d3"),
        Role.STITCHED: Brush("#4f9a94"),
        Role.UNIDIRECTIONAL: Brush("#62589a"),
        Role.CORE: Brush("#f5eaa9", hatch=Hatch.DOTS, hatch_colour="#b3a25a"),
        Role.GEL_COAT: Brush("#dd8f86"),
        Role.FOAM: Brush("#f6f2e8", hatch=Hatch.DIAGONAL, hatch_colour="#d3c8ae"),
        Role.BLOCK: Brush("#a5aeb5", hatch=Hatch.CROSS, hatch_colour="#75808a"),
        Role.PUTTY: Brush("#c8aa95", hatch=Hatch.DOTS, hatch_colour="#8f7059"),
        Role.PLATING: Brush("#ccd3d8"),
        Role.UNCOUNTED: Brush("#fdfcf9", hatch=Hatch.DIAGONAL, hatch_colour="#8a8f94"),
    },
)
DARK = _theme(
    "dark",
    {
        "background": "#1b2229",
        "ink": "#e6e9ea",
        "edge": "#0d1216",
        "shell": "#a9b8c3",
        "axis": "#f083b0",
        "tension": "#ef8a4c",
        "compression": "#5aa9ea",
        "shear": "#6cc294",
        "zero": "#2e373f",
        "cavity": "#2b4650",
        "cavity_line": "#86b3c0",
        "bonded": "#d38ad0",
        "dimension": "#a3b0ba",
        "water": "#68b7de",
        "fibre": "#0f1519",
        "holds": "#5fc6cf",
        "tight": "#eeb64a",
        "short": "#ff7b76",
        "selected": "#f3b05f",
        "fitting": "#b9a2ec",
    },
    {
        Role.MAT: Brush("#d9c69f"),
        Role.ROVING: Brush("#7fa9ca"),
        Role.STITCHED: Brush("#43918b"),
        Role.UNIDIRECTIONAL: Brush("#5c529a"),
        Role.CORE: Brush("#d8c97f", hatch=Hatch.DOTS, hatch_colour="#8f813f"),
        Role.GEL_COAT: Brush("#cf7d74"),
        Role.FOAM: Brush("#333c42", hatch=Hatch.DIAGONAL, hatch_colour="#56626a"),
        Role.BLOCK: Brush("#76828b", hatch=Hatch.CROSS, hatch_colour="#47525a"),
        Role.PUTTY: Brush("#a68570", hatch=Hatch.DOTS, hatch_colour="#5f4736"),
        Role.PLATING: Brush("#5a6873"),
        Role.UNCOUNTED: Brush("#232b33", hatch=Hatch.DIAGONAL, hatch_colour="#8794a0"),
    },
)
PRINT = _theme(
    "print",
    {
        "background": "#ffffff",
        "ink": "#000000",
        "edge": "#000000",
        "shell": "#000000",
        "axis": "#000000",
        "tension": "#4a4a4a",
        "compression": "#a8a8a8",
        "shear": "#8a8a8a",
        "words": "#000000",
        "zero": "#ffffff",
        "cavity": "#f0f0f0",
        "cavity_line": "#606060",
        "bonded": "#000000",
        "dimension": "#303030",
        "water": "#404040",
        "fibre": "#000000",
        "holds": "#000000",
        "tight": "#000000",
        "short": "#000000",
        "selected": "#000000",
        "fitting": "#202020",
    },
    {
        Role.MAT: Brush("#f4f4f4"),
        Role.ROVING: Brush("#c4c4c4"),
        Role.STITCHED: Brush("#969696"),
        Role.UNIDIRECTIONAL: Brush("#626262"),
        Role.CORE: Brush("#ffffff", hatch=Hatch.DOTS, hatch_colour="#606060"),
        Role.GEL_COAT: Brush("#2a2a2a"),
        Role.FOAM: Brush("#ffffff", hatch=Hatch.DIAGONAL, hatch_colour="#b0b0b0"),
        Role.BLOCK: Brush("#dddddd", hatch=Hatch.CROSS, hatch_colour="#606060"),
        Role.PUTTY: Brush("#e8e8e8", hatch=Hatch.DOTS, hatch_colour="#404040"),
        Role.PLATING: Brush("#e6e6e6"),
        Role.UNCOUNTED: Brush("#ffffff", hatch=Hatch.DIAGONAL, hatch_colour="#606060"),
        Role.COMPRESSION: Brush("#a8a8a8", hatch=Hatch.DIAGONAL, hatch_colour="#000000"),
    },
)
THEMES: Mapping[str, Theme] = MappingProxyType({theme.name: theme for theme in (LIGHT, DARK, PRINT)})
"""By name."""
