"""Everything the window's menus can do, in one table: menus, shortcuts, tips and the help page read it."""

from dataclasses import dataclass
from enum import Enum, auto


class Needs(Enum):
    """What an action waits for."""

    NOTHING = auto()
    PROJECT = auto()
    UNDO = auto()
    REDO = auto()
    SELECTION = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Action:
    """One thing a person can do: ``&`` marks the letter that Alt reaches it by."""

    id: str
    menu: str
    name: str
    tip: str
    shortcuts: tuple[str, ...] = ()
    needs: Needs = Needs.NOTHING
    checked: bool = False
    """Whether it is a switch."""
    group: str = ""
    """Switches of one group exclude each other."""
    apart: bool = False
    """Whether a rule stands above it in its menu."""

    @property
    def words(self) -> str:
        """The name without the mark for Alt."""
        return self.name.replace("&", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page of the rail: made by ``module``'s class ``widget`` when it is first shown."""

    id: str
    name: str
    module: str
    widget: str
    tip: str
    of_project: bool = True
    """Whether it shows a project, and so waits for one."""


_PAGES = "stringerlab.desktop.pages"
PAGES = (
    Page(
        id="boat",
        name="Boat",
        module=f"{_PAGES}.boat",
        widget="BoatPage",
        tip="Particulars, hull bottom, method",
    ),
    Page(
        id="laminates",
        name="Laminates",
        module=f"{_PAGES}.laminates",
        widget="LaminatesPage",
        tip="Plies from the mould inward, and what they add up to",
    ),
    Page(
        id="materials",
        name="Materials",
        module=f"{_PAGES}.materials",
        widget="MaterialsPage",
        tip="Shipped and own materials, each value with its source",
    ),
    Page(
        id="sections",
        name="Sections",
        module=f"{_PAGES}.sections",
        widget="SectionsPage",
        tip="Draw a section and watch its numbers",
    ),
    Page(
        id="plan",
        name="Plan",
        module=f"{_PAGES}.plan",
        widget="PlanPage",
        tip="Draw the members on the hull bottom and see what they bound",
    ),
    Page(
        id="subjects",
        name="Panels and\nspans",
        module=f"{_PAGES}.subjects",
        widget="SubjectsPage",
        tip="What is judged: panels of the boat's surfaces, and members between supports",
    ),
    Page(
        id="findings",
        name="Findings",
        module=f"{_PAGES}.findings",
        widget="FindingsPage",
        tip="Every verdict with its workings and source",
    ),
    Page(
        id="takeoff",
        name="Take-off",
        module=f"{_PAGES}.takeoff",
        widget="TakeOffPage",
        tip="Materials, cost and labour of members and sections",
    ),
    Page(
        id="compare",
        name="Compare",
        module=f"{_PAGES}.compare",
        widget="ComparePage",
        tip="Layouts and boats side by side: mass, stiffness, use, bond, cost",
    ),
    Page(
        id="paper",
        name="Paper",
        module=f"{_PAGES}.paper",
        widget="PaperPage",
        tip="Calculation report, shop sheets, comparison: see the pages, write them, export drawings",
    ),
    Page(
        id="size",
        name="Size",
        module=f"{_PAGES}.size",
        widget="SizePage",
        tip="Mark what may change, what must hold, what to lower: the program proposes designs",
    ),
    Page(
        id="helps",
        name="What helps",
        module=f"{_PAGES}.helps",
        widget="HelpsPage",
        tip="One step in every number, and what it does to what is short or tight",
    ),
    Page(
        id="scatter",
        name="Scatter",
        module=f"{_PAGES}.scatter",
        widget="ScatterPage",
        tip="Hand lay-up varies: each finding’s chance to be short, and what drives it",
    ),
    Page(
        id="studies",
        name="Studies",
        module=f"{_PAGES}.studies",
        widget="StudiesPage",
        tip="Sweep one or two numbers: curves, contours, a table",
    ),
    Page(
        id="help",
        name="Help",
        module=f"{_PAGES}.help",
        widget="HelpPage",
        tip="First steps, shortcuts, what the words and marks mean",
        of_project=False,
    ),
)

_NUMBERED = 10
"""Pages that a digit shows."""

MENUS = {"file": "&File", "edit": "&Edit", "view": "&View", "go": "&Go", "help": "&Help"}

ACTIONS = (
    Action(
        id="new",
        menu="file",
        name="&New boat",
        shortcuts=("Ctrl+N",),
        tip="Begin a boat with start values to change",
    ),
    Action(
        id="open",
        menu="file",
        name="&Open…",
        shortcuts=("Ctrl+O",),
        tip="Open a project file; one can be dragged in",
    ),
    Action(
        id="save",
        menu="file",
        name="&Save",
        shortcuts=("Ctrl+S",),
        tip="Write the project to its file",
        needs=Needs.PROJECT,
        apart=True,
    ),
    Action(
        id="save_as",
        menu="file",
        name="Save &as…",
        shortcuts=("Ctrl+Shift+S",),
        tip="Write the project to another file and go on there",
        needs=Needs.PROJECT,
    ),
    Action(
        id="save_copy",
        menu="file",
        name="Save a cop&y…",
        tip="Write the project to another file and go on here",
        needs=Needs.PROJECT,
    ),
    Action(
        id="import_dxf",
        menu="file",
        name="&Import a DXF…",
        shortcuts=("Ctrl+I",),
        tip="Take a drawing in, as walls or laid under the sheet; one can be dragged in",
        needs=Needs.PROJECT,
        apart=True,
    ),
    Action(
        id="export",
        menu="file",
        name="&Export the sheet…",
        shortcuts=("Ctrl+E",),
        tip="Write the section or the plan drawn as SVG, PNG or DXF",
        needs=Needs.PROJECT,
    ),
    Action(
        id="write_report",
        menu="file",
        name="Write repor&t…",
        shortcuts=("Ctrl+P",),
        tip="Write the calculation report as PDF",
        needs=Needs.PROJECT,
        apart=True,
    ),
    Action(
        id="write_sheets",
        menu="file",
        name="Write s&hop sheets…",
        tip="Write the sheets for the lamination and bonding crews as PDF into a folder",
        needs=Needs.PROJECT,
    ),
    Action(
        id="export_data",
        menu="file",
        name="E&xport drawings and tables…",
        tip="Sections and layout as SVG or DXF; findings, properties and take-off as CSV",
        needs=Needs.PROJECT,
    ),
    Action(
        id="close",
        menu="file",
        name="&Close project",
        shortcuts=("Ctrl+W",),
        tip="Back to the first screen",
        needs=Needs.PROJECT,
        apart=True,
    ),
    Action(id="quit", menu="file", name="&Quit", shortcuts=("Ctrl+Q",), tip="End the program"),
    Action(
        id="undo",
        menu="edit",
        name="&Undo",
        shortcuts=("Ctrl+Z",),
        tip="Take the last edit back, forms too",
        needs=Needs.UNDO,
    ),
    Action(
        id="redo",
        menu="edit",
        name="&Redo",
        shortcuts=("Ctrl+Shift+Z", "Ctrl+Y"),
        tip="Do again what was taken back",
        needs=Needs.REDO,
    ),
    Action(
        id="metric",
        menu="view",
        name="&Metric units",
        tip="Show mm, kg, N/mm²; kept in the project",
        needs=Needs.PROJECT,
        checked=True,
        group="units",
    ),
    Action(
        id="us",
        menu="view",
        name="&US units",
        tip="Show in, lb, psi; kept in the project",
        needs=Needs.PROJECT,
        checked=True,
        group="units",
    ),
    Action(
        id="problems",
        menu="view",
        name="&Problems",
        shortcuts=("F8",),
        tip="What is wrong in the project, with the way to it",
        needs=Needs.PROJECT,
        checked=True,
        apart=True,
    ),
    Action(
        id="recheck",
        menu="view",
        name="&Check again",
        shortcuts=("F5",),
        tip="Judge everything anew, as after a check that was stopped",
        needs=Needs.PROJECT,
    ),
    Action(
        id="system",
        menu="view",
        name="Look of the s&ystem",
        tip="Light or dark as the system is",
        checked=True,
        group="look",
        apart=True,
    ),
    Action(id="paper", menu="view", name="Pape&r (light)", tip="Always light", checked=True, group="look"),
    Action(id="slate", menu="view", name="S&late (dark)", tip="Always dark", checked=True, group="look"),
    Action(
        id="full",
        menu="view",
        name="&Full screen",
        shortcuts=("F11",),
        tip="The window on the whole screen, and back",
        checked=True,
        apart=True,
    ),
    Action(
        id="next_part",
        menu="go",
        name="Ne&xt part of the window",
        shortcuts=("F6",),
        tip="From the rail to the page, the problems, the status line, and round",
    ),
    Action(id="tour", menu="help", name="&Tour", tip="Three steps through the window", needs=Needs.PROJECT),
    Action(id="about", menu="help", name="&About and notice", tip="Version, notice, licences"),
)


def page_keys(page: Page) -> tuple[str, ...]:
    """Return the shortcuts of a page: Ctrl+1 onwards, the tenth by Ctrl+0, none beyond; help by F1 too."""
    number = PAGES.index(page) + 1
    by_number = (f"Ctrl+{number % 10}",) if number <= _NUMBERED else ()
    return (*by_number, "F1") if page.id == "help" else by_number


def page_actions() -> tuple[Action, ...]:
    """Return the actions that show the pages."""
    return tuple(
        Action(
            id=f"page_{page.id}",
            menu="help" if page.id == "help" else "go",
            name=page.name.replace("\n", " "),
            tip=page.tip,
            shortcuts=page_keys(page),
            needs=Needs.PROJECT if page.of_project else Needs.NOTHING,
        )
        for page in PAGES
    )
