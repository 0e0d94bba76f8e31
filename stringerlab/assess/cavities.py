"""What the cavities of the layout in use hold, and what a swamped boat would float on. mm, kg.

Heights come of the sections as drawn, the bottom of the craft's stations, foam of the book.
"""

from stringerlab.craft import bottom
from stringerlab.errors import StringerlabError
from stringerlab.layout.cavities import Cavities, cavities, shell_of
from stringerlab.layout.flotation import Flotation, estimate
from stringerlab.layout.found import Found, MemberSize, Placed
from stringerlab.layout.plan import Layout
from stringerlab.project import Project, Resolved
from stringerlab.project.finding import layout_in_use
from stringerlab.project.kept import Kept
from stringerlab.project.problems import book_of
from stringerlab.project.section_shapes import member_sizes

_READ: Kept[Cavities] = Kept(12)
_NONE = Cavities(readings=())


def cavity_readings(project: Project, resolved: Resolved) -> Cavities:
    """Return what every cavity of the layout in use holds, and how it drains.

    Parameters
    ----------
    project
        The project.
    resolved
        The same, with what is found in its layout.

    Returns
    -------
    Cavities
        In the order drawn; none where no layout is in use. Kept for as long as nothing it depends on changes.
    """
    layout = layout_in_use(project)
    if layout is None or resolved.found is None or not layout.cavities:
        return _NONE
    found = resolved.found
    # a section that is not there, or of no height, bounds no depth: it is said so
    sizes = {id_: size for id_, size in member_sizes(project, layout).items() if size.height > 0}
    return _READ.get(
        (layout, found, project.craft, project.materials),
        lambda: _read(project, layout, found, sizes),
        tuple(sizes.items()),
    )


def flotation_reading(project: Project, resolved: Resolved) -> Flotation | None:
    """Return the foam that the boat's flotation asks for beside what her sealed voids hold.

    Returns
    -------
    Flotation
        Without volumes where the form does not cover her, or while something it needs is ``missing``;
        None where no layout is in use.
    """
    layout = layout_in_use(project)
    if layout is None:
        return None
    return estimate(layout.flotation, cavity_readings(project, resolved).readings)


def _read(project: Project, layout: Layout, found: Found, sizes: dict[str, MemberSize]) -> Cavities:
    if not found.bays:
        return Cavities(readings=(), problems=found.amiss)
    try:
        shell = shell_of(bottom(project.craft))
    except StringerlabError as error:
        return Cavities(
            readings=(), problems=tuple(Placed(problem=each, at=(0.0, 0.0)) for each in error.problems)
        )
    book = book_of(project)
    named = {cavity.foam: book.solid(cavity.foam) for cavity in layout.cavities if cavity.foam}
    solids = {id_: solid for id_, solid in named.items() if solid is not None}
    return cavities(layout, found, shell, sizes, solids)


__all__ = ["cavity_readings", "flotation_reading"]
