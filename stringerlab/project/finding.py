"""What is found in a layout of a project, kept for as long as nothing it depends on changes."""

from collections.abc import Mapping
from dataclasses import replace

from stringerlab.craft import Craft
from stringerlab.layout.find import found
from stringerlab.layout.found import Found, MemberSize
from stringerlab.layout.plan import Layout
from stringerlab.project.found_names import named
from stringerlab.project.kept import Kept
from stringerlab.project.records import Project
from stringerlab.project.section_shapes import member_sizes

_FOUND: Kept[Found] = Kept(12)


def found_in(project: Project, layout: Layout) -> Found:
    """Return the nodes, spans and bays of a layout on the project's bottom, named in words."""
    sizes = member_sizes(project, layout)
    return _FOUND.get(
        (layout, project.craft), lambda: _found(layout, project.craft, sizes), tuple(sizes.items())
    )


def _found(layout: Layout, craft: Craft, sizes: Mapping[str, MemberSize]) -> Found:
    """Return what is found; a mark that stands for nothing is no fault of the drawing."""
    whole = found(layout, craft, sizes)
    ids = {each.id for each in (*whole.bays, *whole.spans)}
    bays = tuple(mark for mark in layout.bays if mark.id in ids)
    spans = tuple(mark for mark in layout.spans if mark.id in ids)
    if len(bays) < len(layout.bays) or len(spans) < len(layout.spans):
        whole = found(replace(layout, bays=bays, spans=spans), craft, sizes)
    return named(whole, layout)


def layout_in_use(project: Project) -> Layout | None:
    """Return the layout whose panels and spans are judged; None where none is chosen, or it is not there."""
    return next((layout for layout in project.layouts if layout.id == project.layout), None)
