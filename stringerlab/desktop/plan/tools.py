"""The one table of the plan's tools: name, key, what for. Strip, tooltips, keys and help read it. No Qt."""

from collections.abc import Callable
from dataclasses import dataclass

from stringerlab.desktop.plan.draw import DrawLine, DrawMember
from stringerlab.desktop.plan.placing import Measure, NameCavity, PlaceEquipment
from stringerlab.desktop.plan.select import Select
from stringerlab.desktop.plan.shaping import Extend, Pierce, Restretch, Split, Trim
from stringerlab.desktop.plan.spacing import Between, Every
from stringerlab.desktop.plan.tool import Tool
from stringerlab.layout.plan import MemberKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A tool in the table: ``make`` gives it at rest."""

    id: str
    name: str
    key: str
    """The letter that takes it up."""
    tip: str
    make: Callable[[str], Tool]

    def tool(self) -> Tool:
        """Return the tool at rest."""
        return self.make(self.id)

    @property
    def tooltip(self) -> str:
        """Name, key and meaning."""
        return f"{self.name} ({self.key})\n{self.tip}"


TOOLS: tuple[Listed, ...] = (
    Listed(
        id="select",
        name="Select",
        key="V",
        make=lambda name: Select(name=name),
        tip="Pick members, panels and equipment; drag them and their points.",
    ),
    Listed(
        id="longitudinal",
        name="Longitudinal",
        key="L",
        make=lambda name: DrawMember(name=name, kind=MemberKind.LONGITUDINAL),
        tip="Draw a longitudinal point by point; type lengths or coordinates.",
    ),
    Listed(
        id="transverse",
        name="Transverse",
        key="T",
        make=lambda name: DrawMember(name=name, kind=MemberKind.TRANSVERSE),
        tip="Draw a transverse, from the keel out or from chine to chine.",
    ),
    Listed(
        id="bulkhead",
        name="Bulkhead",
        key="B",
        make=lambda name: DrawMember(name=name, kind=MemberKind.BULKHEAD),
        tip="Draw a bulkhead: it holds the grid and is no span itself.",
    ),
    Listed(
        id="line",
        name="Line",
        key="K",
        make=lambda name: DrawLine(name=name),
        tip="Draw a spray step, a hull step that bounds panels, or a trace to snap to.",
    ),
    Listed(
        id="between",
        name="Between",
        key="N",
        make=lambda name: Between(name=name, snaps=False),
        tip="Set so many members evenly between two.",
    ),
    Listed(
        id="every",
        name="Every",
        key="E",
        make=lambda name: Every(name=name, snaps=False),
        tip="Repeat a member at a pitch, to another or to the end of the bottom.",
    ),
    Listed(
        id="split",
        name="Split",
        key="X",
        make=lambda name: Split(name=name),
        tip="Part a member where you click, or at the crossing near it.",
    ),
    Listed(
        id="trim",
        name="Trim",
        key="W",
        make=lambda name: Trim(name=name, snaps=False),
        tip="Take away the piece of a member between what it meets.",
    ),
    Listed(
        id="extend",
        name="Extend",
        key="J",
        make=lambda name: Extend(name=name, snaps=False),
        tip="Carry a member's end on to what it next meets.",
    ),
    Listed(
        id="stretch",
        name="Stretch",
        key="G",
        make=lambda name: Restretch(name=name),
        tip="Begin another section along a member where you click.",
    ),
    Listed(
        id="opening",
        name="Opening",
        key="I",
        make=lambda name: Pierce(name=name),
        tip="Cut a limber hole or a rigging chase through a member.",
    ),
    Listed(
        id="equipment",
        name="Equipment",
        key="Q",
        make=lambda name: PlaceEquipment(name=name),
        tip="Place a tank, engine, outboard, gyro, load, knee, lifting or blocking point.",
    ),
    Listed(
        id="cavity",
        name="Cavity",
        key="C",
        make=lambda name: NameCavity(name=name),
        tip="Name the space of a bay: bilge, tank bay, locker, box, void.",
    ),
    Listed(
        id="measure",
        name="Measure",
        key="D",
        make=lambda name: Measure(name=name),
        tip="Measure between two points; nothing is drawn.",
    ),
)

KEYS: tuple[tuple[str, str], ...] = (
    *((listed.key, f"{listed.name}: {listed.tip}") for listed in TOOLS),
    ("H", "Change the hand of what is drawn or selected: pair, port, starboard, centreline"),
    ("R, F5", "Check everything now"),
    ("S", "Snaps on or off"),
    ("O", "Ortho lock on or off; Shift for one stroke"),
    ("F, Home", "Zoom to fit"),
    ("Wheel, pinch", "Zoom to the pointer"),
    ("Middle drag, Space+drag", "Pan; Shift+wheel pans sideways"),
    ("0–9, @", "Type a length, length<angle, @x;y or x;y while drawing or dragging; a count or a pitch"),
    ("Enter", "End what is being drawn, set what shows"),
    ("Backspace", "Take the last point back"),
    ("Escape", "Cancel; again: select tool; again: select nothing"),
    ("Arrows", "Nudge the selection by a grid step, with Shift by a tenth of it"),
    ("Tab, Shift+Tab", "Select the next or the previous thing"),
    ("Ctrl+A", "Select all members"),
    ("Ctrl+D", "Copy the selection beside itself"),
    ("Delete", "Remove the selected point, or the selection"),
)
"""Keys of the plan and what they do, for the help page."""


def listed(id: str) -> Listed:  # noqa: A002
    """Return a tool of the table by its id."""
    return next(each for each in TOOLS if each.id == id)
