"""The starting shapes as a person is offered them: trade names, what each asks for, what it begins from.

The sizes begun from are ours: an ordinary small craft's, fit to be drawn with laminates to 7 mm and scaled up
for thicker ones.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from math import ceil, radians, tan

from stringerlab.section.shapes.brackets import chine_landing, knee
from stringerlab.section.shapes.floors import bulkhead_strip, flanged_floor
from stringerlab.section.shapes.girders import box_girder, engine_bed, keel_girder
from stringerlab.section.shapes.hats import low_profile_hat
from stringerlab.section.shapes.pans import grid_pan, pan_on_hull
from stringerlab.section.shapes.records import Drawn, Laid

ROOMY = 7.0
"""Thickest laminate that the sizes begun from have room for [mm]."""


class Asked(StrEnum):
    """What kind of thing a shape asks for."""

    LENGTH = "length"
    """mm."""
    ANGLE = "angle"
    """deg."""
    COUNT = "count"
    LAMINATE = "laminate"
    SOLID = "solid"


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """One thing that a shape asks for."""

    key: str
    """Argument of the shape's function."""
    name: str
    tip: str
    asked: Asked = Asked.LENGTH
    begins: float = 0.0
    material: str = ""
    """Of a solid, the shipped material it begins with."""
    rises: bool = False
    """Whether it must be more where the shell slopes, as a height over its middle must."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Starter:
    """A starting shape."""

    id: str
    name: str
    """As the trade calls it."""
    tip: str
    function: Callable[..., Drawn]
    parameters: tuple[Parameter, ...]
    on_bead: bool = True
    """Whether its flanges lie on the section's bead; else it stands on the shell."""
    on_slope: bool = False
    """Whether it is drawn on the section's deadrise; else square to the skin."""
    over_strip: bool = True
    """Whether the plating under the whole of its width is one straight strip."""
    reach: float = 0.0
    """How far its higher side lies from its middle [mm]: there the shell has risen by so much × its slope."""

    def asks(self, *kinds: Asked) -> tuple[Parameter, ...]:
        """Return what it asks for of some kinds."""
        return tuple(each for each in self.parameters if each.asked in kinds)

    def begins(self, thickest: float = ROOMY, deadrise: float = 0.0) -> dict[str, float]:
        """Return the sizes [mm, deg] that it begins from.

        Parameters
        ----------
        thickest
            Thickness of the thickest laminate it is to have room for [mm].
        deadrise
            Of the section [deg].
        """
        scale = max(thickest / ROOMY, 1.0)
        rise = self.reach * tan(radians(deadrise)) if self.on_slope else 0.0
        return {
            each.key: float(ceil(scale * (each.begins + (rise if each.rises else 0.0))))
            if each.asked is Asked.LENGTH
            else each.begins
            for each in self.asks(Asked.LENGTH, Asked.ANGLE, Asked.COUNT)
        }

    def solids(self) -> dict[str, str]:
        """Return the ids of the shipped materials that its fills begin with."""
        return {each.key: each.material for each in self.asks(Asked.SOLID)}

    def drawn(
        self,
        laid: Mapping[str, Laid],
        sizes: Mapping[str, float],
        solids: Mapping[str, str],
        *,
        bead: float = 0.0,
        deadrise: float = 0.0,
    ) -> Drawn:
        """Return its parts.

        Parameters
        ----------
        laid
            Laminate of each parameter that is one.
        sizes
            Lengths [mm], angles [deg] and counts.
        solids
            Material id of each parameter that is one.
        bead, deadrise
            The section's [mm, deg].

        Raises
        ------
        StringerlabError
            With every impossible parameter.
        """
        own: dict[str, float] = {"bead": bead} if self.on_bead else {}
        if self.on_slope:
            own["deadrise"] = deadrise
        return self.function(**laid, **sizes, **solids, **own)


def starter(id_: str) -> Starter | None:
    """Return a starting shape by its id; None when there is none."""
    return next((each for each in STARTERS if each.id == id_), None)


def _lamina(key: str, name: str, tip: str) -> Parameter:
    return Parameter(key=key, name=name, tip=tip, asked=Asked.LAMINATE)


def _solid(key: str, name: str, tip: str, material: str) -> Parameter:
    return Parameter(key=key, name=name, tip=tip, asked=Asked.SOLID, material=material)


def _mm(key: str, name: str, begins: float, tip: str, *, rises: bool = False) -> Parameter:
    return Parameter(key=key, name=name, tip=tip, begins=begins, rises=rises)


def _deg(key: str, name: str, begins: float, tip: str) -> Parameter:
    return Parameter(key=key, name=name, tip=tip, begins=begins, asked=Asked.ANGLE)


def _count(key: str, name: str, begins: int, tip: str) -> Parameter:
    return Parameter(key=key, name=name, tip=tip, begins=begins, asked=Asked.COUNT)


def _draft(begins: float) -> Parameter:
    return _deg("draft", "Draft", begins, "Of the webs from vertical, leaning inward going up")


def _flange(begins: float) -> Parameter:
    return _mm("flange_width", "Flange width", begins, "From the root's corner to the bonding flange's edge")


def _crown_radius(begins: float) -> Parameter:
    return _mm("crown_radius", "Crown radius", begins, "Fillets between crown and webs, on the tool face")


def _root_radius(begins: float) -> Parameter:
    return _mm("root_radius", "Root radius", begins, "Fillets between webs and flanges, on the tool face")


def _height(begins: float) -> Parameter:
    return _mm("height", "Height", begins, "From the shell at y = 0 to the crown's tool face", rises=True)


def _crown(begins: float) -> Parameter:
    return _mm("crown_width", "Crown width", begins, "Between the crown's corners")


_CAPS = (
    _count("cap_coats", "Cap coats", 2, "How many lie under one another; 0 for none"),
    _mm("cap_step", "Cap step", 15, "By how much each coat ends short of the one above it, at each edge"),
)
_TAB = _lamina("tab", "Tab coat", "Laminate of one coat of the tabs")
_PUTTY = _solid("putty", "Putty", "Material of fillets and beads that are drawn", "putty")


def _tabs(height: float, width: float, radius: float, step: float) -> tuple[Parameter, ...]:
    return (
        _mm("tab_height", "Tab height", height, "Of the first coat, from the shell up the plate"),
        _mm("tab_width", "Tab width", width, "Of the first coat, out along the shell"),
        _count("tab_coats", "Tab coats", 2, "How many lie on one another"),
        _mm("tab_step", "Tab step", step, "By how much each coat ends short of the one below it"),
        _mm("root_radius", "Tab radius", radius, "Of the tabs' corners, filled underneath"),
    )


STARTERS: tuple[Starter, ...] = (
    Starter(
        id="low_profile_hat",
        name="Low-profile hat",
        tip="A wide low hat for under a sole, its crown stiffened by a stepped cap",
        function=low_profile_hat,
        on_slope=True,
        reach=150,
        parameters=(
            _lamina("laminate", "Laminate", "Of the hat"),
            _lamina("cap", "Cap coat", "Laminate of one coat of the cap under the crown"),
            _height(65),
            _crown(220),
            _flange(60),
            _mm("cap_width", "Cap width", 150, "Of the first coat under the crown"),
            *_CAPS,
            _draft(15),
            _crown_radius(20),
            _root_radius(15),
        ),
    ),
    Starter(
        id="box_girder",
        name="Box girder under the sole",
        tip="Two webs with lips, closed to a box by the sole bonded onto them",
        function=box_girder,
        on_slope=True,
        reach=110,
        parameters=(
            _lamina("laminate", "Laminate", "Of webs, lips and flanges"),
            _lamina("sole", "Sole", "Laminate of the sole"),
            _mm("height", "Height", 150, "From the shell at y = 0 to the lips' upper face", rises=True),
            _mm("width", "Width", 180, "Between the webs' upper corners"),
            _mm("lip_width", "Lip width", 60, "From each web's corner inward"),
            _flange(60),
            _mm("sole_width", "Sole width", 300, "Of the sole that is counted"),
            _mm("sole_bead", "Sole bead", 0, "Adhesive drawn between lips and sole; it closes no cell"),
            _draft(4),
            _mm("corner_radius", "Corner radius", 15, "Between web and lip, on the tool face"),
            _root_radius(12),
            _solid("putty", "Sole bead of", "Material of the beads on the lips", "putty"),
        ),
    ),
    Starter(
        id="grid_pan",
        name="Grid pan of two hats",
        tip="Two hats joined by a raised pan, one moulding",
        function=grid_pan,
        on_slope=True,
        reach=260,
        parameters=(
            _lamina("laminate", "Laminate", "Of all of it"),
            _mm(
                "height",
                "Height",
                120,
                "From the shell midway between the hats to the crowns' tool face",
                rises=True,
            ),
            _mm("crown_width", "Crown width", 80, "Of each crown, between its corners"),
            _mm("spacing", "Spacing", 420, "Between the middles of the two crowns"),
            _mm(
                "pan_height",
                "Pan height",
                45,
                "From the shell to the pan's tool face; it clears the hull",
                rises=True,
            ),
            _flange(60),
            _draft(6),
            _crown_radius(15),
            _root_radius(12),
        ),
    ),
    Starter(
        id="pan_on_hull",
        name="Pan lying on the hull",
        tip="A hat whose flanges go on as a pan on the hull, counted only where marked fully bonded",
        function=pan_on_hull,
        on_slope=True,
        reach=60,
        parameters=(
            _lamina("laminate", "Laminate", "Of the hat"),
            _lamina("pan", "Pan", "Laminate of the pan at each side"),
            _height(110),
            _crown(80),
            _flange(55),
            _mm("pan_width", "Pan width", 120, "Of the pan at each side, from the flange's edge"),
            _draft(6),
            _crown_radius(15),
            _root_radius(12),
        ),
    ),
    Starter(
        id="flanged_floor",
        name="Flanged floor",
        tip="A floor bent over to a free flange, bonded by stepped tabs over putty",
        function=flanged_floor,
        on_bead=False,
        parameters=(
            _lamina("laminate", "Laminate", "Of plate and flange"),
            _TAB,
            _mm("depth", "Depth", 180, "From the shell to the flange's upper face"),
            _mm("flange_width", "Flange width", 65, "From the plate's left face to the free edge"),
            _mm("corner_radius", "Corner radius", 15, "Between plate and flange, on the tool face"),
            *_tabs(75, 85, 20, 15),
            _mm("bed", "Bed", 3, "Putty between shell and plate"),
            _PUTTY,
        ),
    ),
    Starter(
        id="knee",
        name="Knee at a side opening",
        tip="Two flanged halves back to back, beside an opening in the side",
        function=knee,
        parameters=(
            _lamina("laminate", "Laminate", "Of each half"),
            _mm("depth", "Depth", 140, "From the skin to the free flange's outer face"),
            _mm("flange_width", "Flange width", 50, "Of the free flange at each side, from the web"),
            _mm("foot_width", "Foot width", 45, "Of the foot at each side, from the web"),
            _mm("corner_radius", "Corner radius", 12, "Inside the channels, on the tool face"),
        ),
    ),
    Starter(
        id="chine_landing",
        name="Chine landing",
        tip="A web and a level shelf out to the hull's side, with a flange up along it",
        function=chine_landing,
        over_strip=False,
        on_slope=True,
        reach=80,
        parameters=(
            _lamina("laminate", "Laminate", "Of all of it"),
            _mm(
                "height",
                "Height",
                110,
                "From the shell under the shelf's middle to its tool face",
                rises=True,
            ),
            _mm("landing_width", "Shelf width", 160, "Of the shelf, between its corners"),
            _flange(60),
            _mm("side_width", "Side flange", 70, "Up the hull's side, from the shelf's corner"),
            _deg("chine_angle", "Chine angle", 115, "Between bottom and side, inside the hull"),
            _draft(5),
            _mm("landing_radius", "Shelf radius", 15, "Between web and shelf, on the tool face"),
            _mm("side_radius", "Side radius", 15, "Between shelf and side flange, on the tool face"),
            _root_radius(12),
        ),
    ),
    Starter(
        id="keel_girder",
        name="Keel girder",
        tip="A tall narrow hat on the keel's flat, its flanges turned up along the vee",
        function=keel_girder,
        over_strip=False,
        parameters=(
            _lamina("laminate", "Laminate", "Of the girder"),
            _lamina("cap", "Cap coat", "Laminate of one coat of the cap under the crown"),
            _mm("height", "Height", 220, "From the flat of the keel to the crown's tool face"),
            _crown(90),
            _mm("keel_flat", "Keel flat", 190, "Width of the flat inside the keel"),
            _mm("wing_width", "Wing width", 60, "Of the flanges beyond the flat, up along the vee"),
            _deg("vee", "Vee", 18, "Deadrise of the hull beside the flat"),
            _mm("cap_width", "Cap width", 55, "Of the first coat under the crown"),
            _CAPS[0],
            _mm("cap_step", "Cap step", 10, _CAPS[1].tip),
            _draft(4),
            _crown_radius(15),
            _root_radius(12),
        ),
    ),
    Starter(
        id="engine_bed",
        name="Engine bed with block",
        tip="An engine girder with a metal block laminated in under its crown",
        function=engine_bed,
        on_slope=True,
        reach=80,
        parameters=(
            _lamina("laminate", "Laminate", "Of the girder"),
            _lamina("cover", "Cover", "Laminate over the block, lapped onto the crown"),
            _height(180),
            _crown(145),
            _flange(70),
            _mm("block_width", "Block width", 44, "Of the backing block"),
            _mm("block_depth", "Block depth", 28, "Of the backing block, down from the crown"),
            _mm("cover_lap", "Cover lap", 27, "Of the cover on the crown at each side of the block"),
            _mm("edge_radius", "Edge radius", 10, "Of the block's lower edges"),
            _mm("cove_radius", "Cove radius", 16, "Of the putty between block and crown"),
            _draft(4),
            _crown_radius(20),
            _root_radius(15),
            _solid("block", "Block", "Material of the backing block", "al5083"),
            _PUTTY,
        ),
    ),
    Starter(
        id="bulkhead_strip",
        name="Bulkhead strip",
        tip="The strip of a bulkhead that works with the hull, on a foam wedge, with stepped tabs",
        function=bulkhead_strip,
        on_bead=False,
        parameters=(
            _lamina("laminate", "Laminate", "Of the bulkhead"),
            _TAB,
            _mm("height", "Height", 250, "From the shell to the top of the strip that is counted on"),
            _mm("bed", "Wedge height", 15, "Of the wedge under the bulkhead"),
            _mm("bed_width", "Wedge width", 20, "Of its foot beyond the bulkhead's face, at each side"),
            *_tabs(110, 90, 25, 20),
            _solid("bed_material", "Wedge of", "Material of the wedge", "pu_foam32"),
        ),
    ),
)
"""In the order in which they are offered."""
