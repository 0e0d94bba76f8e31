"""Drawings of a project's sections and of its layout, with what each is said under it. mm.

A section alone keeps its own origin: y = 0 at its middle, z = 0 at the shell's inboard face. Several stand
side by side, each with its name, at one scale.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from textwrap import wrap
from types import MappingProxyType

from stringerlab.assess import reference_plating, section_properties
from stringerlab.assess.sections import sound_shape
from stringerlab.drawing import Label, LegendRow, Options, Picture, Role, legend, paper_scale, section_picture
from stringerlab.drawing.as_svg import covered
from stringerlab.drawing.palette import TEXT
from stringerlab.drawing.placing import apart, side_by_side
from stringerlab.drawing.plan_options import PlanOptions, widths_of
from stringerlab.drawing.plans import plan_picture
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Moduli
from stringerlab.project import Project, Resolved
from stringerlab.section import Section
from stringerlab.units import Kind, System, format

PAPER = (390.0, 250.0)
"""What a drawing has room for on A3, margins and words under it left out [mm]."""
EACH = (250.0, 170.0)
"""What each of several has room for [mm]."""
IN_PLAN: Mapping[Role, str] = MappingProxyType(
    {
        Role.KEEL: "hull bottom",
        Role.TOOL: "transom and forward edge",
        Role.AXIS: "centreline",
        Role.GRID: "station",
        Role.UNDERLAY: "trace",
        Role.BONDED: "bonded up the side",
        Role.FOAM: "cavity with foam",
        Role.WATER: "bilge",
        Role.INSULATION: "insulated cavity",
        Role.BLOCK: "foot",
    }
)
"""What roles mean in a plan."""
_LINE = 1.5
"""From line to line of words under a drawing, over the height of their letters."""
_LONG = 120
"""Letters in a line of them."""
_GAP = 12.0
"""Between drawings side by side, on paper [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A picture that is to be written as a file."""

    picture: Picture
    title: str
    scale: float
    """Millimetres on paper of one drawn."""
    legend: tuple[LegendRow, ...]
    layers: Mapping[Role, str] = field(default_factory=dict[Role, str])
    """Names of layers by role, where the role's own would mislead."""
    fills: bool = True
    """Whether a DXF opens with its fills seen, or as lines alone."""
    left_out: tuple[Problem, ...] = ()
    """What is wrong with what is not in it."""


def sections_drawing(
    project: Project,
    resolved: Resolved,
    *,
    sections: Sequence[str] = (),
    said: Sequence[str] = (),
    system: System = System.METRIC,
) -> Drawing:
    """Return a drawing of sections, one alone or several side by side.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    sections
        Ids of those wanted; all by default.
    said
        What is written under the drawing besides its scale.
    system
        Units of the words.

    Raises
    ------
    StringerlabError
        When there is no section, or none that can be drawn; with what is wrong with each.
    """
    wanted = [one for one in project.sections if not sections or one.id in sections]
    if not wanted:
        what = "The project has no section to draw."
        raise StringerlabError(Problem(what, f"project '{project.name}'", "Draw one, or begin with a shape."))
    options = Options(units=system)
    pictures: list[Picture] = []
    drawn: list[Section] = []
    wrong: list[Problem] = []
    for section in wanted:
        try:
            pictures.append(_section(resolved, section, options))
            drawn.append(section)
        except StringerlabError as error:
            wrong += error.problems
    if not drawn:
        raise StringerlabError(wrong)
    rows = legend(options, Picture(items=tuple(item for picture in pictures for item in picture)))
    room = PAPER if len(drawn) == 1 else EACH
    scale = min(paper_scale(picture, *room) for picture in pictures)
    named = [
        _captioned(apart(picture, scale), (_of(resolved, section, system),), scale)
        for picture, section in zip(pictures, drawn, strict=True)
    ]
    if len(named) == 1:
        [picture] = named
    else:
        boxes = [_box(picture, scale) for picture in named]
        placed = side_by_side(named, boxes, _GAP / scale)
        picture = Picture(items=tuple(item for picture in placed for item in picture))
    title = f"{project.name}: " + (drawn[0].name if len(drawn) == 1 else f"{len(drawn)} sections")
    return Drawing(
        picture=_captioned(picture, (f"{_scale(scale)}. {_SEEN}", *said), scale),
        title=title,
        scale=scale,
        legend=rows,
        left_out=tuple(dict.fromkeys(wrong)),
    )


def layout_drawing(
    project: Project, resolved: Resolved, *, said: Sequence[str] = (), system: System = System.METRIC
) -> Drawing:
    """Return a drawing of the layout in use, spans and panels by their ids, members named under it.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    said
        What is written under the drawing besides its scale.
    system
        Units of the words.

    Raises
    ------
    StringerlabError
        When no layout is in use, or nothing can be found in it.
    """
    layout = next((one for one in project.layouts if one.id == project.layout), None)
    if layout is None:
        what = "No layout is in use, so there is none to draw."
        raise StringerlabError(Problem(what, f"project '{project.name}'", "Draw one on the Plan page."))
    if resolved.found is None:
        raise StringerlabError(
            resolved.problems or [Problem("Nothing is found in it.", f"layout '{layout.name}' ({layout.id})")]
        )
    options = PlanOptions(
        units=system,
        widths=widths_of(resolved, layout),
        span_names=True,
        panel_names=True,
    )
    picture = plan_picture(resolved.found, layout, project.craft, options=options)
    scale = paper_scale(picture, *PAPER)
    name = f"{project.name}: {layout.name} ({layout.id}), in plan; x forward, y to port"
    rows = tuple(
        replace(row, text=IN_PLAN.get(row.role, row.text)) for row in legend(Options(units=system), picture)
    )
    return Drawing(
        picture=_captioned(
            apart(picture, scale), (name, *_members(project, resolved), _scale(scale), *said), scale
        ),
        title=f"{project.name}: {layout.name}",
        scale=scale,
        legend=rows,
        layers=IN_PLAN,
        fills=False,
    )


def _members(project: Project, resolved: Resolved) -> Iterator[str]:
    """Yield the members with the spans they are parted in, as the drawing shows their ids."""
    layout = next(one for one in project.layouts if one.id == project.layout)
    spans = resolved.found.spans if resolved.found else ()
    for member in layout.members:
        own = [span.id for span in spans if span.member == member.id]
        yield f"{member.name} ({member.id}): {', '.join(own) or 'no span'}"


def _section(resolved: Resolved, section: Section, options: Options) -> Picture:
    shape, plating = sound_shape(resolved, section), reference_plating(resolved, section)
    properties = section_properties(shape, plating, Moduli.CONTRACTED)
    return section_picture(shape, plating, properties=properties, options=options)


def _of(resolved: Resolved, section: Section, system: System) -> str:
    """Return a section's name, and the strip of plating under it."""
    plating = reference_plating(resolved, section)
    on = f"\non {format(plating.width, Kind.LENGTH, system)} of {plating.stack.name}" if plating else ""
    return f"{section.name} ({section.id}){on}; neutral axis: {Moduli.CONTRACTED.value}"


def _scale(scale: float) -> str:
    return f"Drawn in mm; 1:{1 / scale:.0f} on paper"


_SEEN = "Sections of longitudinals are seen looking aft, of transverses looking to starboard"


def _box(picture: Picture, scale: float) -> tuple[float, float, float, float]:
    needed = covered(picture, scale)
    return needed.left, needed.bottom, needed.right, needed.top


def _captioned(picture: Picture, words: Sequence[str], scale: float) -> Picture:
    """Return a picture with lines of words under it, from its left edge."""
    left, bottom, _, _ = _box(picture, scale)
    step = _LINE * TEXT / scale
    lines = [part for said in words for line in said.split("\n") for part in wrap(line, _LONG) or [""]]
    labels = tuple(
        Label(at=(left, bottom - (number + 1.2) * step), text=line, align=1)
        for number, line in enumerate(lines)
    )
    return Picture(items=(*picture.items, *labels))


__all__ = ["Drawing", "layout_drawing", "sections_drawing"]
