"""What a plan's picture shows, and what it needs to know of sections to draw members at their true width."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from stringerlab.assess import section_facts
from stringerlab.layout.found import MemberSize
from stringerlab.layout.plan import Layout
from stringerlab.project import Resolved
from stringerlab.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class Width:
    """A section seen from above [mm]: at the shell, and of its crown; 0 for one web or no crown."""

    base: float = 0.0
    crown: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanOptions:
    """Switches of a plan's picture."""

    units: System = System.METRIC
    widths: Mapping[str, Width] = field(default_factory=dict[str, Width])
    """By section id; a section without one is drawn as a line."""
    stations: bool = True
    members: bool = True
    crowns: bool = True
    panels: bool = True
    nodes: bool = True
    lines: bool = True
    cavities: bool = True
    equipment: bool = True
    supports: bool = True
    member_names: bool = False
    span_names: bool = False
    panel_names: bool = False
    """Of panels and spans their ids, short enough to stand by each; their names are tips."""
    veil: bool = False
    """Whether results laid over a plan pale what is under them."""
    other_names: bool = True
    """Of equipment and cavities."""


def widths_of(resolved: Resolved, layout: Layout) -> dict[str, Width]:
    """Return how wide the sections of a layout's members are, by id; those with faults are left out."""
    found: dict[str, Width] = {}
    for member in layout.members:
        for section in (member.section, *(stretch.section for stretch in member.stretches)):
            shape = resolved.shapes.get(section)
            if shape is not None and section not in found:
                size = section_facts(shape)
                crown = size.crown_width if size.crown_width > 0 else 0.0
                found[section] = Width(base=size.base_width, crown=crown)
    return found


def widths_from(sizes: Mapping[str, MemberSize]) -> dict[str, Width]:
    """Return widths without crowns from what the plan knows of sections."""
    return {section: Width(base=size.base_width) for section, size in sizes.items()}
