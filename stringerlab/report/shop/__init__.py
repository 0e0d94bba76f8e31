"""What the lamination and bonding crews get: seven sheets to print, read at arm's length and fill in."""

from collections.abc import Callable, Mapping

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import PageSize, Project, Resolved
from stringerlab.report.paper import Watch, pages_png
from stringerlab.report.shop.bond_pages import bond_pages
from stringerlab.report.shop.fit_pages import fit_pages
from stringerlab.report.shop.fitting_pages import fitting_pages
from stringerlab.report.shop.foam_pages import foam_pages
from stringerlab.report.shop.laminate_pages import laminate_pages
from stringerlab.report.shop.material_pages import material_pages
from stringerlab.report.shop.members import runs_of
from stringerlab.report.shop.practice import Practice, practice_for
from stringerlab.report.shop.setting import document, whole
from stringerlab.report.shop.trim_pages import trim_pages

Parts = tuple[list[str], dict[str, bytes]]


def shop_sheets(
    project: Project,
    resolved: Resolved,
    *,
    size: PageSize | None = None,
    practice: Practice | None = None,
    watch: Watch | None = None,
) -> Mapping[str, bytes]:
    """Return every shop sheet as PDF, by the name of its file.

    Parameters
    ----------
    project
        The document.
    resolved
        The same with ids swapped for objects.
    size
        Of the paper; the project's own by default.
    practice
        How the shop works; what is usual where the project's units are in use by default.
    watch
        Told of progress, and asked to stop.

    Raises
    ------
    StringerlabError
        When the project has no member and no zone, so that there is nothing for a shop to make.
    """
    paper = size or project.paper.size
    found = _sheets(project, resolved, paper, practice)
    made: dict[str, bytes] = {}
    for number, (name, (title, parts)) in enumerate(found.items()):
        if watch is not None:
            watch(number / len(found), f"Setting the sheet: {title}")
        body, pictures = parts()
        made[name] = document(title, body, pictures, project=project, size=paper)
    if watch is not None:
        watch(1.0, "Done")
    return made


def shop_pages(
    project: Project,
    resolved: Resolved,
    *,
    size: PageSize | None = None,
    practice: Practice | None = None,
    ppi: float = 96.0,
    watch: Watch | None = None,
) -> Mapping[str, tuple[bytes, ...]]:
    """Return the pages of every shop sheet as PNG, by its title, for a preview; see `shop_sheets`."""
    paper = size or project.paper.size
    found = _sheets(project, resolved, paper, practice)
    made: dict[str, tuple[bytes, ...]] = {}
    for number, (title, parts) in enumerate(found.values()):
        if watch is not None:
            watch(number / len(found), f"Setting the sheet: {title}")
        body, pictures = parts()
        sheet = whole(title, body, pictures, project=project)
        made[title] = pages_png(
            sheet.markup, sheet.pictures, project=project, what=title, size=paper, ppi=ppi
        )
    return made


def _sheets(
    project: Project, resolved: Resolved, paper: PageSize, practice: Practice | None
) -> dict[str, tuple[str, Callable[[], Parts]]]:
    """Return title and parts of every sheet by the name of its file, each made when asked for."""
    if not runs_of(project) and not project.zones:
        raise StringerlabError(
            Problem(
                "There is nothing to make: no member with a section, and no zone of the hull.",
                f"project '{project.name}'",
                "Give a span its section, draw a layout, or lay a laminate zone.",
            )
        )
    works = practice or practice_for(project.units)
    return {
        "1-laminates.pdf": ("Laminates", lambda: (laminate_pages(project, resolved, works), {})),
        "2-materials.pdf": ("Materials", lambda: (material_pages(project, resolved, works), {})),
        "3-trim-lines.pdf": ("Trim lines", lambda: trim_pages(project, resolved)),
        "4-dry-fit.pdf": ("Dry fit", lambda: (fit_pages(project, resolved, works), {})),
        "5-bond-map.pdf": ("Bond map", lambda: bond_pages(project, resolved, works, paper)),
        "6-blocks-and-holes.pdf": ("Blocks and holes", lambda: (fitting_pages(project, resolved, works), {})),
        "7-foam.pdf": ("Foam", lambda: (foam_pages(project, resolved, works), {})),
    }


__all__ = ["Practice", "practice_for", "shop_pages", "shop_sheets"]
