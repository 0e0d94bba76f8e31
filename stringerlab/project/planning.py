"""Edits of layouts: what each gesture on the plan does to the project. Pure, whole or not at all.

Things go by id; points are x forward and y to port in plan [mm]. What is found in a layout keeps its ids, as
far as it is still itself; see `stringerlab.project.marking`.
"""

from stringerlab.project.marking import reconciled
from stringerlab.project.planning_along import (
    with_member_opening,
    with_section,
    with_stretch,
    without_member_openings,
    without_stretch,
)
from stringerlab.project.planning_parts import layout_of, member_of, part_of
from stringerlab.project.planning_shapes import (
    extended,
    joined,
    spaced_between,
    spaced_every,
    split,
    trimmed,
)
from stringerlab.project.planning_things import (
    copied,
    duplicated_layout,
    mirrored,
    moved,
    with_flotation,
    with_hand,
    with_layout,
    with_layout_in_use,
    with_layout_values,
    with_part,
    with_part_replaced,
    with_part_values,
    with_parts,
    with_parts_replaced,
    with_plan_point,
    with_plan_point_moved,
    with_rules,
    with_supports,
    without_layout,
    without_parts,
    without_plan_points,
)
from stringerlab.project.planning_traces import with_traces, without_traces

__all__ = [
    "copied",
    "duplicated_layout",
    "extended",
    "joined",
    "layout_of",
    "member_of",
    "mirrored",
    "moved",
    "part_of",
    "reconciled",
    "spaced_between",
    "spaced_every",
    "split",
    "trimmed",
    "with_flotation",
    "with_hand",
    "with_layout",
    "with_layout_in_use",
    "with_layout_values",
    "with_member_opening",
    "with_part",
    "with_part_replaced",
    "with_part_values",
    "with_parts",
    "with_parts_replaced",
    "with_plan_point",
    "with_plan_point_moved",
    "with_rules",
    "with_section",
    "with_stretch",
    "with_supports",
    "with_traces",
    "without_layout",
    "without_member_openings",
    "without_parts",
    "without_plan_points",
    "without_stretch",
    "without_traces",
]
