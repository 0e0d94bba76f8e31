"""The one table of tools: name, key, what for. The strip, tooltips, menus and help read it. No Qt."""

from dataclasses import dataclass

from stringerlab.desktop.sheet.align import Align
from stringerlab.desktop.sheet.block import DrawBlock
from stringerlab.desktop.sheet.corner import Corner
from stringerlab.desktop.sheet.draw_wall import DrawWall
from stringerlab.desktop.sheet.fill import PickRegion
from stringerlab.desktop.sheet.join import Join
from stringerlab.desktop.sheet.measure import Measure
from stringerlab.desktop.sheet.offset import Offset
from stringerlab.desktop.sheet.select import Select
from stringerlab.desktop.sheet.split import Split
from stringerlab.desktop.sheet.tool import Tool
from stringerlab.desktop.sheet.transform import Copy, Mirror, Move, Rotate


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A tool in the table: ``make`` gives it at rest."""

    id: str
    name: str
    key: str
    """The letter that takes it up."""
    tip: str
    make: type[Tool]

    def tool(self) -> Tool:
        """Return the tool at rest."""
        return self.make(name=self.id)

    @property
    def tooltip(self) -> str:
        """Name, key and meaning."""
        return f"{self.name} ({self.key})\n{self.tip}"


TOOLS: tuple[Listed, ...] = (
    Listed(
        id="select",
        name="Select",
        key="V",
        make=Select,
        tip="Pick walls and fills; drag them, their points, fillets and numbers.",
    ),
    Listed(
        id="wall",
        name="Wall",
        key="W",
        make=DrawWall,
        tip="Draw a wall point by point; type lengths, angles or coordinates.",
    ),
    Listed(
        id="corner",
        name="Fillet",
        key="R",
        make=Corner,
        tip="Round a corner: drag from it, or type a radius.",
    ),
    Listed(id="move", name="Move", key="G", make=Move, tip="Move the selection from one point to another."),
    Listed(id="copy", name="Copy", key="C", make=Copy, tip="Copy the selection from one point to others."),
    Listed(
        id="rotate",
        name="Rotate",
        key="T",
        make=Rotate,
        tip="Turn the selection about a point, by pointing or by a typed angle.",
    ),
    Listed(
        id="mirror",
        name="Mirror",
        key="M",
        make=Mirror,
        tip="Mirror the selection over a line through two points.",
    ),
    Listed(
        id="align", name="Align", key="A", make=Align, tip="Bring the selection's edge or middle to a point."
    ),
    Listed(
        id="offset",
        name="Offset",
        key="P",
        make=Offset,
        tip="Draw a wall parallel to another, at a distance.",
    ),
    Listed(id="split", name="Split", key="X", make=Split, tip="Cut a wall in two where you click."),
    Listed(id="join", name="Join", key="J", make=Join, tip="Make one wall of two that meet end to end."),
    Listed(
        id="fill",
        name="Fill",
        key="L",
        make=PickRegion,
        tip="Fill the closed region you click with foam, putty or another solid.",
    ),
    Listed(
        id="block", name="Block", key="B", make=DrawBlock, tip="Draw a backing block between two corners."
    ),
    Listed(
        id="measure",
        name="Measure",
        key="D",
        make=Measure,
        tip="Measure between two points; nothing is drawn.",
    ),
)


KEYS: tuple[tuple[str, str], ...] = (
    *((listed.key, f"{listed.name}: {listed.tip}") for listed in TOOLS),
    ("S", "Snaps on or off"),
    ("O", "Ortho lock on or off; Shift for one stroke"),
    ("F, Home", "Zoom to fit"),
    ("Wheel, pinch", "Zoom to the pointer"),
    ("Middle drag, Space+drag", "Pan; Shift+wheel pans sideways"),
    ("0–9, @", "Type a length, length<angle, @y;z or y;z while drawing"),
    ("Enter", "End what is being drawn"),
    ("Backspace", "Take the last point back"),
    ("Escape", "Cancel; again: select tool; again: select nothing"),
    ("Arrows", "Nudge the selection by a grid step, with Shift by a tenth of it"),
    ("Tab, Shift+Tab", "Select the next or the previous thing"),
    ("Ctrl+A", "Select all"),
    ("Ctrl+D", "Copy the selection beside itself"),
    ("Ctrl+C", "Copy the sheet as a picture"),
    ("Delete", "Remove the selected point, or the selection"),
)
"""Keys of the sheet and what they do, for the help page."""


def listed(id: str) -> Listed:  # noqa: A002
    """Return a tool of the table by its id."""
    return next(each for each in TOOLS if each.id == id)
